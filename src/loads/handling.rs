//! People and work: a person leaning on the frame, panels partly on, one stay loose while re-tilting.
//!
//! No standard gives these for a hand-tilted frame: every value is a stated judgement.

use super::{Envelope, RangeState};
use crate::catalogue::{Certainty, Source};
use crate::quantities::{MPS_PER_MPH, N_PER_LBF};
use serde::Serialize;

/// Push or pull of a person who leans on an edge or hangs on to it [N]: 200 lbf, the single guard-rail load.
pub const LEANING_N: f64 = 200.0 * N_PER_LBF;
/// Gust up to which the frame may be worked on [m/s]: 20 mph. Above it nobody lifts a panel or draws a pin.
pub const WORKING_GUST_MPS: f64 = 20.0 * MPS_PER_MPH;

/// Source of the leaning load.
pub const LEANING: Source = Source::new(
    "judgement",
    "a person leaning: 200 lbf, the guard-rail load of ASCE 7-16 §4.5.1 (from memory)",
    Certainty::Judgement,
);
/// Source of the working gust.
pub const WORKING: Source =
    Source::new("judgement", "no panel is lifted and no pin drawn in gusts above 20 mph", Certainty::Judgement);

/// A force at a point of the surface.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct PointLoad {
    /// Short name.
    pub id: &'static str,
    /// In words.
    pub name: &'static str,
    /// Place up the slope, 0 at the low edge, 1 at the high edge.
    pub u: f64,
    /// Place across, 0 at the left, 1 at the right.
    pub x: f64,
    /// Onto the face, positive as pressures are [N].
    pub normal_n: f64,
    /// Up the slope [N].
    pub up_slope_n: f64,
    /// To the right [N].
    pub across_n: f64,
}

/// Where a person may lean, one at a time. Right-hand twins are mirror images and are run too, as frames need not be
/// symmetric.
#[must_use]
pub fn leaning() -> Vec<PointLoad> {
    let at = |id, name, u, x, normal_n, across_n| PointLoad { id, name, u, x, normal_n, up_slope_n: 0.0, across_n };
    vec![
        at("lean-high-middle", "a person leans on the middle of the high edge", 1.0, 0.5, LEANING_N, 0.0),
        at("lean-high-left", "a person leans on the left end of the high edge", 1.0, 0.0, LEANING_N, 0.0),
        at("lean-high-right", "a person leans on the right end of the high edge", 1.0, 1.0, LEANING_N, 0.0),
        at("lift-high-middle", "a person hangs back from the middle of the high edge", 1.0, 0.5, -LEANING_N, 0.0),
        at("lean-low-middle", "a person leans on the middle of the low edge", 0.0, 0.5, LEANING_N, 0.0),
        at("push-left", "a person pushes the frame sideways from the left", 0.5, 0.0, 0.0, LEANING_N),
        at("push-right", "a person pushes the frame sideways from the right", 0.5, 1.0, 0.0, -LEANING_N),
    ]
}

/// Which panels are on the frame.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum PanelsOn {
    /// All of them.
    All,
    /// None: bare members take the wind.
    None,
    /// The left half of them, rounded up.
    LeftHalf,
    /// The right half of them, rounded up.
    RightHalf,
}

impl PanelsOn {
    /// Is panel `index` of a row of `count`, counted from the left, on the frame?
    #[must_use]
    pub fn has(self, index: usize, count: usize) -> bool {
        let half = count.div_ceil(2);
        index < count
            && match self {
                Self::All => true,
                Self::None => false,
                Self::LeftHalf => index < half,
                Self::RightHalf => index >= count - half,
            }
    }
}

/// Which wind a situation meets.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum WindLevel {
    /// The full design wind: nobody has to stand by.
    Design,
    /// Gusts up to [`WORKING_GUST_MPS`]: people are at the frame.
    Working,
}

impl WindLevel {
    /// Factor on the design wind pressures for a design gust [m/s].
    #[must_use]
    pub fn factor(self, design_gust_mps: f64) -> f64 {
        match self {
            Self::Design => 1.0,
            Self::Working => (WORKING_GUST_MPS / design_gust_mps).powi(2).min(1.0),
        }
    }
}

/// A state of the frame that the loads have to be run in.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Situation {
    /// Short name.
    pub id: &'static str,
    /// In words.
    pub name: &'static str,
    /// Panels.
    pub panels: PanelsOn,
    /// Is one stay loose, the others in their pins?
    pub one_stay_loose: bool,
    /// Wind.
    pub wind: WindLevel,
    /// May snow lie on it?
    pub snow: bool,
    /// May a person lean on it?
    pub person: bool,
    /// State of the situation itself.
    pub state: RangeState,
}

/// Every situation, the frame in service first.
#[must_use]
pub fn situations() -> Vec<Situation> {
    let added = |why| RangeState::Judgement(Envelope::Added, why);
    let partly = "a half-built frame may stand overnight: full wind on the panels that are on";
    let base = Situation {
        id: "in-service",
        name: "all panels on, all stays pinned",
        panels: PanelsOn::All,
        one_stay_loose: false,
        wind: WindLevel::Design,
        snow: true,
        person: true,
        state: RangeState::Published,
    };
    vec![
        base.clone(),
        Situation {
            id: "panels-off",
            name: "no panels, wind on the bare members",
            panels: PanelsOn::None,
            snow: false,
            ..base.clone()
        },
        Situation {
            id: "left-half-on",
            name: "panels on the left half only",
            panels: PanelsOn::LeftHalf,
            snow: false,
            state: added(partly),
            ..base.clone()
        },
        Situation {
            id: "right-half-on",
            name: "panels on the right half only",
            panels: PanelsOn::RightHalf,
            snow: false,
            state: added(partly),
            ..base.clone()
        },
        Situation {
            id: "one-stay-loose",
            name: "one stay loose while re-tilting, in gusts up to 20 mph",
            one_stay_loose: true,
            wind: WindLevel::Working,
            snow: false,
            state: added("re-tilting is done by two people in gusts up to 20 mph with no snow on the panels"),
            ..base
        },
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn halves_of_an_odd_row_share_the_middle_panel() {
        let on = |p: PanelsOn| (0..3).map(|i| p.has(i, 3)).collect::<Vec<_>>();
        assert_eq!(on(PanelsOn::LeftHalf), [true, true, false]);
        assert_eq!(on(PanelsOn::RightHalf), [false, true, true]);
        assert_eq!(on(PanelsOn::None), [false; 3]);
        assert!(!PanelsOn::All.has(3, 3));
    }

    #[test]
    fn the_working_wind_goes_with_the_square_of_the_gust() {
        let design = 115.0 * MPS_PER_MPH;
        assert!((WindLevel::Working.factor(design) - (20.0f64 / 115.0).powi(2)).abs() < 1e-12);
        assert_eq!(WindLevel::Design.factor(design), 1.0);
    }
}
