//! People and work: a person leaning on the frame, panels partly on, one stay loose while re-tilting.
//!
//! No standard gives these for a hand-tilted frame: every value is a stated judgement.

use super::combination::{Combination, Rule, combine_where};
use super::{Action, Case, Envelope, Load, PointLoad, RangeState};
use crate::catalogue::{Certainty, Source};
use crate::quantities::{MPS_PER_MPH, N_PER_LBF};
use serde::Serialize;

/// Push or pull of a person who leans on an edge or hangs on to it \[N\]: 200 lbf, the single guard-rail load.
pub const LEANING_N: f64 = 200.0 * N_PER_LBF;
/// Gust up to which the frame may be worked on [m/s]: 20 mph. Above it nobody lifts a panel or draws a pin.
pub const WORKING_GUST_MPS: f64 = 20.0 * MPS_PER_MPH;

/// Source of the leaning load.
pub const LEANING: Source = Source::new(
    "judgement",
    "a person leaning: 200 lbf (890 N), the guard-rail load of ASCE 7-16 §4.5.1 (from memory)",
    Certainty::Judgement,
);
/// Source of the working gust.
pub const WORKING: Source = Source::new(
    "judgement",
    "no panel is lifted and no pin drawn in gusts above 20 mph (8.9 m/s)",
    Certainty::Judgement,
);

/// Where a person may lean, one at a time.
#[must_use]
pub fn leaning_cases() -> Vec<Case> {
    let why = "a person leaning, 200 lbf (890 N)";
    let n = LEANING_N;
    [
        ("lean-high-middle", "a person leans on the middle of the high edge", 1.0, 0.5, n, 0.0),
        ("lean-high-left", "a person leans on the left end of the high edge", 1.0, 0.0, n, 0.0),
        ("lean-high-right", "a person leans on the right end of the high edge", 1.0, 1.0, n, 0.0),
        ("pull-high-middle", "a person pulls back the middle of the high edge", 1.0, 0.5, -n, 0.0),
        ("lean-low-middle", "a person leans on the middle of the low edge", 0.0, 0.5, n, 0.0),
        ("push-left", "a person pushes the frame sideways from the left", 0.5, 0.0, 0.0, n),
        ("push-right", "a person pushes the frame sideways from the right", 0.5, 1.0, 0.0, -n),
    ]
    .into_iter()
    .map(|(id, name, u, x, normal_n, across_n)| Case {
        id: id.to_string(),
        name: name.to_string(),
        action: Action::Handling,
        wind_from: None,
        state: RangeState::Judgement(Envelope::Added, why),
        sources: vec![LEANING],
        load: Load::Point(PointLoad { u, x, normal_n, up_slope_n: 0.0, across_n }),
    })
    .collect()
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
    /// Factor on the design wind.
    ///
    /// The working gust is a real one, not a strength-level one: it is divided by 0.6, so that allowable stress design
    /// comes back to it. It is taken without reduction for height or terrain.
    ///
    /// # Units
    /// `design_q_pa` velocity pressure of the design wind \[Pa\]; result (–), at most 1.
    #[must_use]
    pub fn factor(self, design_q_pa: f64) -> f64 {
        match self {
            Self::Design => 1.0,
            Self::Working => (0.613 * WORKING_GUST_MPS * WORKING_GUST_MPS / 0.6 / design_q_pa).min(1.0),
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

impl Situation {
    /// May this case act in this situation? Wind on bare members stands alone only where no panels are on; otherwise it
    /// goes along with the wind on the panels.
    #[must_use]
    pub fn admits(&self, case: &Case) -> bool {
        match case.action {
            Action::Dead => true,
            Action::Snow => self.snow,
            Action::Handling => self.person,
            Action::Wind => matches!(case.load, Load::Bare(_)) == (self.panels == PanelsOn::None),
        }
    }

    /// The combinations of this situation.
    ///
    /// # Units
    /// `design_q_pa` velocity pressure the wind cases rest on \[Pa\].
    #[must_use]
    pub fn combinations(&self, rules: &[Rule], cases: &[Case], design_q_pa: f64) -> Vec<Combination> {
        let wind = self.wind.factor(design_q_pa);
        let mut all = combine_where(rules, cases, |case| self.admits(case));
        for combination in &mut all {
            for (index, factor) in &mut combination.factors {
                if cases[*index].action == Action::Wind {
                    *factor *= wind;
                }
            }
        }
        all
    }
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
            name: "one stay loose while re-tilting, in gusts up to 20 mph (8.9 m/s)",
            one_stay_loose: true,
            wind: WindLevel::Working,
            snow: false,
            state: added("re-tilting is done by two people in gusts up to 20 mph (8.9 m/s) with no snow on the panels"),
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
    fn the_working_wind_comes_back_to_its_gust() {
        // 20 mph: 0.613 · 8.94² = 49 Pa in allowable stress design, where the design wind has the factor 0.6.
        let design_q = 1170.0;
        assert!((0.6 * WindLevel::Working.factor(design_q) * design_q - 49.0).abs() < 0.05);
        assert_eq!(WindLevel::Working.factor(10.0), 1.0, "never above the design wind");
        assert_eq!(WindLevel::Design.factor(design_q), 1.0);
    }
}
