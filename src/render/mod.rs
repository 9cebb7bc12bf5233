//! Pages as bytes in memory.

pub mod chart_svg;
