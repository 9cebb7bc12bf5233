//! Geometry of flowcharts: coordinates, no markup.
