//! Arithmetic of measurements: parse, check, evaluate.
