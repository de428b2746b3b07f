//! What frames stand on: embedded posts, footings, ballast and stakes.
//!
//! Feet, pounds and pounds per square foot throughout, as the building code prints them.

pub mod ballast;
pub mod bearing;
pub mod below_grade;
pub mod concrete;
pub mod embedment;
mod foot;
mod limit;
mod rules;
pub mod serviceability;
pub mod stakes;
pub mod ties;
pub mod uplift;

pub use embedment::{Post, required_depth};
pub use foot::{Foot, Stability, Staked};
pub use limit::Limit;
pub(crate) use rules::Rules;

use super::{Calc, Code, Refusal};

/// The building code: feet, weight, and what moves.
pub(super) struct Ibc;

impl Code for Ibc {
    fn document(&self) -> &'static str {
        "IBC 2018"
    }

    fn foot(&self, foot: Foot) -> Result<Calc, Refusal> {
        match foot {
            Foot::StakePulled(_, None) => Err(stakes::not_tested()),
            foot => Ok(Calc::Foot(foot)),
        }
    }

    fn rules(&self) -> Result<&'static Rules, Refusal> {
        Ok(&rules::ALLOWABLE_STRESS)
    }
}
