//! What is compared with a limit: pressure on a panel, movement, frequency.

use super::serviceability::{self, Divisor};
use crate::{
    catalogue::{Certainty, Source, Trace},
    codes::Refusal,
    quantities::MM_PER_INCH,
};

/// Rated load of a panel.
const RATED: Source = Source::new("panel data sheet", "design load", Certainty::Read);

/// A value and its limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Limit {
    /// Pressure on a panel (Pa) against its rated value (Pa).
    Rated(f64, f64),
    /// Deflection: long-term, short-term, span (mm), wet, limit.
    Sag([f64; 3], bool, Divisor),
    /// Twist: corner movements, shorter side (mm), limit.
    Twisted([f64; 4], f64, Divisor),
    /// Sway, height (mm), limit.
    Swayed(f64, f64, Divisor),
    /// Frequency (Hz).
    Rigid(f64),
}

impl Limit {
    /// Its utilisation.
    ///
    /// # Errors
    /// A value outside the range that its limit is published for.
    pub(in crate::codes) fn utilisation<T: Trace>(&self, trace: &mut T) -> Result<f64, Refusal> {
        match self {
            Self::Rated(pressure, rated) => {
                let (p, p_rated) = (*pressure, *rated);
                let u = p / p_rated;
                step!(trace, "pressure over the panel's design load", u [""] = "p/p_rated", { p ["Pa"], p_rated ["Pa"] }, RATED);
                Ok(u)
            }
            Self::Sag([long, short, span], wet, limit) => {
                let inch = |mm: f64| mm / MM_PER_INCH;
                let total = serviceability::total_deflection(trace, inch(*long), inch(*short), *wet);
                serviceability::deflection_utilisation(trace, total, inch(*span), false, *limit)
            }
            Self::Twisted(corners, side, limit) => {
                serviceability::panel_twist(trace, corners.map(|c| c / MM_PER_INCH), side / MM_PER_INCH, *limit)
            }
            Self::Swayed(sway, height, limit) => {
                serviceability::sway_utilisation(trace, sway / MM_PER_INCH, height / MM_PER_INCH, *limit)
            }
            Self::Rigid(frequency) => {
                let f = serviceability::rigid_enough(*frequency)?;
                let u = 1.0 / f;
                step!(trace, "1 Hz over the lowest frequency", u[""] = "1/f", { f["Hz"] }, serviceability::RIGID);
                Ok(u)
            }
        }
    }
}
