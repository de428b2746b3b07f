//! Frames held down by weight: sliding, overturning about each edge, and uplift.

use crate::{
    catalogue::{Certainty, Source, Trace},
    codes::{Refusal, within},
};

/// Weight at 0.6, wind at 0.6.
pub const REDUCED_WEIGHT: Source = Source::new("ASCE 7-16", "§2.4.1, 0.6 D + 0.6 W", Certainty::Agreed);
/// A load combination as it stands.
pub const COMBINATION: Source = Source::new("ASCE 7-16", "§2.4.1", Certainty::Agreed);
/// Factor of 1.5 with the full weight.
pub const FACTOR: Source = Source::new("IBC 2018", "§1807.2.3, factor 1.5", Certainty::Transcribed);

/// A frame on its feet under the allowable wind (0.6 W).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ballasted {
    /// Dead weight of frame and panels (lb).
    pub frame_lb: f64,
    /// Distance of the frame's weight from the edge it tips over (ft).
    pub frame_arm_ft: f64,
    /// Horizontal wind force, 0.6 W (lb).
    pub slide_lb: f64,
    /// Vertical wind force, upwards positive, 0.6 W (lb).
    pub lift_lb: f64,
    /// Overturning moment of the wind about the edge, lift and slide together, 0.6 W (ft·lb); negative where it holds.
    pub tip_ft_lb: f64,
    /// Friction coefficient between feet and ground, not reduced.
    pub friction: f64,
    /// Where it comes from.
    pub friction_source: Source,
    /// Weight of one piece of ballast (lb).
    pub piece_lb: f64,
    /// Distance of the ballast from the edge (ft).
    pub ballast_arm_ft: f64,
}

/// Utilisations of a ballasted frame; 1 or less holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stability {
    /// Sliding.
    pub sliding: f64,
    /// Overturning.
    pub overturning: f64,
    /// Uplift of the whole frame.
    pub uplift: f64,
}

impl Stability {
    /// The largest of the three.
    #[must_use]
    pub fn governing(&self) -> f64 {
        self.sliding.max(self.overturning).max(self.uplift)
    }
}

/// How a margin is kept. The two published rules are not stacked: either the weight is reduced or the factor is asked for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rule {
    /// Share of the weight that counts.
    pub weight_share: f64,
    /// Factor on what acts.
    pub factor: f64,
    /// Where it stands.
    pub source: Source,
}

impl Rule {
    /// 0.6 of the weight.
    pub const REDUCED: Self = Self { weight_share: 0.6, factor: 1.0, source: REDUCED_WEIGHT };
    /// The whole weight with a factor of 1.5.
    pub const FACTORED: Self = Self { weight_share: 1.0, factor: 1.5, source: FACTOR };

    /// A load combination as it stands, with its factor on the weight.
    #[must_use]
    pub fn of_combination(weight_share: f64) -> Self {
        Self { weight_share, factor: 1.0, source: COMBINATION }
    }
}

/// Utilisations with `pieces` of ballast under one rule. Sliding is the weight needed over the weight there, so that it
/// stays a number where nothing presses at all; it is 1 exactly where friction is used up.
///
/// # Errors
/// [`Refusal::OutsideRange`] for negative friction or weight.
pub fn under_rule<T: Trace>(trace: &mut T, frame: &Ballasted, pieces: u32, rule: Rule) -> Result<Stability, Refusal> {
    for (what, value, least) in [
        ("friction coefficient", frame.friction, 0.0),
        ("weight of the frame (lb)", frame.frame_lb, 0.0),
        ("arm of the frame's weight (ft)", frame.frame_arm_ft, -1e12),
        ("weight of a piece of ballast (lb)", frame.piece_lb, 0.0),
        ("arm of the ballast (ft)", frame.ballast_arm_ft, -1e12),
    ] {
        within(what, value, [least, 1e12], REDUCED_WEIGHT)?;
    }
    let (k, fs, source) = (rule.weight_share, rule.factor, rule.source);
    let (n, w_f, w_b) = (f64::from(pieces), frame.frame_lb, frame.piece_lb);
    let w = w_f + n * w_b;
    step!(trace, "weight with ballast", w ["lb"] = "w_f + n*w_b", { w_f ["lb"], n [""], w_b ["lb"] }, source);
    let (h, v, m) = (frame.slide_lb.abs(), frame.lift_lb, frame.tip_ft_lb);
    let sliding = sliding(trace, frame, [h, v, w], rule);
    let (x_f, x_b) = (frame.frame_arm_ft, frame.ballast_arm_ft);
    let m_r = w_f * x_f + n * w_b * x_b;
    step!(trace, "moment that holds the frame down", m_r ["ft lb"] = "w_f*x_f + n*w_b*x_b",
        { w_f ["lb"], x_f ["ft"], n [""], w_b ["lb"], x_b ["ft"] }, source);
    let overturning = if m > 0.0 && m_r > 0.0 {
        let overturning = fs * m / (k * m_r);
        step!(trace, "overturning", overturning [""] = "fs*m/(k*m_r)", { fs [""], m ["ft lb"], k [""], m_r ["ft lb"] }, source);
        overturning
    } else if m <= 0.0 && m_r >= 0.0 {
        0.0
    } else if m < 0.0 {
        // The weight itself tips the frame and the loads hold it.
        let overturning = k * m_r / m;
        step!(trace, "overturning by its own weight", overturning [""] = "k*m_r/m", { k [""], m_r ["ft lb"], m ["ft lb"] }, source);
        overturning
    } else {
        f64::INFINITY
    };
    let lift = v.max(0.0);
    let uplift = if lift == 0.0 { 0.0 } else { fs * lift / (k * w) };
    if lift > 0.0 && w > 0.0 {
        step!(trace, "uplift", uplift [""] = "fs*lift/(k*w)", { fs [""], lift ["lb"], k [""], w ["lb"] }, source);
    }
    Ok(Stability { sliding, overturning, uplift })
}

fn sliding<T: Trace>(trace: &mut T, frame: &Ballasted, [h, v, w]: [f64; 3], rule: Rule) -> f64 {
    let (k, fs, mu_low) = (rule.weight_share, rule.factor, frame.friction);
    if h == 0.0 {
        return 0.0;
    }
    if mu_low == 0.0 || w == 0.0 {
        return f64::INFINITY;
    }
    let mu = mu_low;
    step!(
        trace,
        "friction coefficient, lower end of its range",
        mu[""] = "mu_low",
        { mu_low[""] },
        frame.friction_source
    );
    let sliding = (fs * h / mu + v).max(0.0) / (k * w);
    step!(trace, "weight needed against sliding over the weight there", sliding [""] = "max(fs*h/mu + v, 0)/(k*w)",
        { fs [""], h ["lb"], mu [""], v ["lb"], k [""], w ["lb"] }, rule.source);
    sliding
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Silent;

    const FRAME: Ballasted = Ballasted {
        frame_lb: 200.0,
        frame_arm_ft: 3.0,
        slide_lb: 150.0,
        lift_lb: 180.0,
        tip_ft_lb: 1200.0,
        friction: 0.5,
        friction_source: FACTOR,
        piece_lb: 34.0,
        ballast_arm_ft: 4.0,
    };

    #[test]
    fn friction_below_zero_is_refused() {
        assert!(under_rule(&mut Silent, &Ballasted { friction: -0.1, ..FRAME }, 1, Rule::REDUCED).is_err());
    }

    #[test]
    fn each_utilisation_is_one_where_its_statics_balance() {
        // 20 pieces: W = 880 lb. Friction: 0.5 (0.6 · 880 − 180) = 174 lb; moment: 0.6 (200 · 3 + 680 · 4) = 1992 ft·lb.
        let at = |frame: Ballasted| under_rule(&mut Silent, &frame, 20, Rule::REDUCED).expect("in range");
        assert!((at(Ballasted { slide_lb: 174.0, ..FRAME }).sliding - 1.0).abs() < 1e-12);
        assert!((at(Ballasted { tip_ft_lb: 1992.0, ..FRAME }).overturning - 1.0).abs() < 1e-12);
        assert!((at(Ballasted { lift_lb: 528.0, ..FRAME }).uplift - 1.0).abs() < 1e-12);
        // A frame whose weight stands outside its base is held by the loads alone.
        let leaning = Ballasted { frame_arm_ft: -20.0, ballast_arm_ft: 0.0, tip_ft_lb: -2400.0, ..FRAME };
        assert!((at(leaning).overturning - 1.0).abs() < 1e-12);
        assert_eq!(at(Ballasted { tip_ft_lb: 1.0, ..leaning }).overturning, f64::INFINITY);
    }
}
