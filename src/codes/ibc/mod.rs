//! What frames stand on: embedded posts, footings, ballast and stakes.
//!
//! Feet, pounds and pounds per square foot throughout, as the building code prints them.

pub mod ballast;
pub mod bearing;
pub mod below_grade;
pub mod concrete;
pub mod embedment;
pub mod serviceability;
pub mod stakes;
pub mod ties;
pub mod uplift;

pub use embedment::{Post, required_depth};
