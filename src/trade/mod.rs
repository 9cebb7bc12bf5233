//! The trade's own arithmetic: what a technician works out at the bench, each sum defined once.
//!
//! A sum is data (`sums/*.yaml`, read by [`sum`]): its readings with their ranges and the slip each range catches, its formulas in the language of
//! [`crate::formula`], and its source. The browser gets the very same formulas. What takes more than an expression is a [`work`], written here and
//! in the browser, and held to the same vectors by the tests.

pub mod charge;
pub mod colour;
pub mod count;
pub mod number;
pub mod order;
pub mod paper;
pub mod roller;
pub mod sum;
pub mod work;
