//! Pages as bytes in memory.
