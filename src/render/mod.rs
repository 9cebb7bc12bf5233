//! Pages as bytes in memory.

pub mod flow_data;
