//! The one test binary. Modules in reading order.
mod flow_rules;
mod flow_data;
