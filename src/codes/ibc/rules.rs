//! Rules beside strength, for allowable stress design on ASCE 7 loads.

use super::{
    ballast,
    serviceability::{DeflectionCase, Divisor},
};
use crate::{
    catalogue::{Certainty, Source},
    codes::nds::withdrawal::END_GRAIN,
    design::SnowBasis,
};

/// Posts in earth or in concrete that touches it, and what else touches the ground; seen in adopted texts of older editions,
/// where the clause was 2304.11.4.1.
const TREATED: Source = Source::new("IBC", "2304.12", Certainty::Transcribed);

/// What a code says beside strengths.
#[derive(Debug)]
pub(crate) struct Rules {
    /// Factor on wind.
    pub(crate) wind: f64,
    /// Factors of snow and wind together.
    pub(crate) snow_and_wind: [f64; 2],
    /// What wood that touches the ground must be.
    pub(crate) treated: Source,
    /// Fasteners pulled out of end grain.
    pub(crate) end_grain: Source,
}

/// ASCE 7 §2.4.1, combinations 5 and 6.
pub(super) static ALLOWABLE_STRESS: Rules =
    Rules { wind: 0.6, snow_and_wind: [0.75, 0.45], treated: TREATED, end_grain: END_GRAIN };

impl Rules {
    /// Factor on snow: 1, and 0.7 where it is given at strength level (ASCE 7-22).
    pub(crate) fn snow(&self, basis: &SnowBasis) -> f64 {
        match basis {
            SnowBasis::Strength(_) => 0.7,
            _ => 1.0,
        }
    }

    /// What weight is held against in a combination: as it stands; with the whole weight and wind alone also the factor of 1.5.
    pub(crate) fn weight(&self, dead_factor: f64, wind_alone: bool) -> Vec<ballast::Rule> {
        let mut rules = vec![ballast::Rule::of_combination(dead_factor)];
        if wind_alone && dead_factor == 1.0 {
            rules.push(ballast::Rule::FACTORED);
        }
        rules
    }

    /// Limit of deflection, the owner's where there is one.
    pub(crate) fn deflection(&self, written: Option<f64>, case: DeflectionCase) -> Divisor {
        Divisor::deflection(written, case)
    }

    /// Limit of the twist across a panel likewise.
    pub(crate) fn twist(&self, written: Option<f64>) -> Divisor {
        Divisor::twist(written)
    }

    /// Limit of sway likewise.
    pub(crate) fn sway(&self, written: Option<f64>) -> Divisor {
        Divisor::sway(written)
    }
}
