//! The one test binary. Modules in reading order.

mod support;

mod render;
