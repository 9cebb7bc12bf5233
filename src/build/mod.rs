//! A build from end to end. All reading and writing of a build goes through [`world::World`]; nothing below this layer touches a disk or a clock.

pub mod draft;
pub mod pipeline;

pub mod failure;
pub mod world;

pub mod disk;
pub mod git;
pub mod memory;

pub mod again;
pub mod approve;
pub mod manifest;
pub mod publish;
pub mod sheet;
pub mod stop;
