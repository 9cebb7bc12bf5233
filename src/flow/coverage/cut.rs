//! The smallest set of nodes that parts two others (stub).
