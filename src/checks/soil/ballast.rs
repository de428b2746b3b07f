//! Frames held down by weight: sliding, overturning about each edge, and uplift.

use crate::{
    catalogue::{Certainty, Source, Trace},
    checks::{Refusal, within},
};

/// Weight at 0.6, wind at 0.6.
pub const REDUCED_WEIGHT: Source = Source::new("ASCE 7-16", "§2.4.1, 0.6 D + 0.6 W", Certainty::Agreed);
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
    /// Overturning moment of the wind about the edge, lift and slide together, 0.6 W (ft·lb).
    pub tip_ft_lb: f64,
    /// Friction coefficient between feet and ground, not reduced.
    pub friction: f64,
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

/// Utilisations with `pieces` of ballast: the worse of 0.6 D + 0.6 W, and D + 0.6 W with a factor of 1.5.
///
/// The two rules are not stacked: either the weight is reduced or the factor is asked for.
///
/// # Errors
/// [`Refusal::OutsideRange`] for negative friction, weight or arms.
pub fn stability<T: Trace>(trace: &mut T, frame: &Ballasted, pieces: u32) -> Result<Stability, Refusal> {
    for (what, value) in [
        ("friction coefficient", frame.friction),
        ("weight of the frame (lb)", frame.frame_lb),
        ("arm of the frame's weight (ft)", frame.frame_arm_ft),
        ("weight of a piece of ballast (lb)", frame.piece_lb),
        ("arm of the ballast (ft)", frame.ballast_arm_ft),
    ] {
        within(what, value, [0.0, 1e12], REDUCED_WEIGHT)?;
    }
    let (n, w_f, w_b) = (f64::from(pieces), frame.frame_lb, frame.piece_lb);
    let w = w_f + n * w_b;
    step!(trace, "weight with ballast", w ["lb"] = "w_f + n*w_b", { w_f ["lb"], n [""], w_b ["lb"] }, REDUCED_WEIGHT);
    let (x_f, x_b) = (frame.frame_arm_ft, frame.ballast_arm_ft);
    let m_r = w_f * x_f + n * w_b * x_b;
    step!(trace, "moment that holds the frame down", m_r ["ft lb"] = "w_f*x_f + n*w_b*x_b",
        { w_f ["lb"], x_f ["ft"], n [""], w_b ["lb"], x_b ["ft"] }, REDUCED_WEIGHT);
    let mut worst = Stability { sliding: 0.0, overturning: 0.0, uplift: 0.0 };
    for (k, fs, source) in [(0.6, 1.0, REDUCED_WEIGHT), (1.0, 1.5, FACTOR)] {
        let (h, v, m, mu) = (frame.slide_lb.abs(), frame.lift_lb, frame.tip_ft_lb.max(0.0), frame.friction);
        let press = mu * (k * w - v);
        // What presses down less than nothing cannot hold by friction at all.
        let sliding = if h == 0.0 {
            0.0
        } else if press > 0.0 {
            fs * h / press
        } else {
            f64::INFINITY
        };
        if press > 0.0 && h > 0.0 {
            step!(trace, "sliding", sliding [""] = "fs*h/(mu*(k*w - v))", { fs [""], h ["lb"], mu [""], k [""], w ["lb"], v ["lb"] }, source);
        }
        let overturning = if m == 0.0 { 0.0 } else { fs * m / (k * m_r) };
        if m > 0.0 && m_r > 0.0 {
            step!(trace, "overturning", overturning [""] = "fs*m/(k*m_r)", { fs [""], m ["ft lb"], k [""], m_r ["ft lb"] }, source);
        }
        let lift = v.max(0.0);
        let uplift = if lift == 0.0 { 0.0 } else { fs * lift / (k * w) };
        if lift > 0.0 && w > 0.0 {
            step!(trace, "uplift", uplift [""] = "fs*lift/(k*w)", { fs [""], lift ["lb"], k [""], w ["lb"] }, source);
        }
        worst.sliding = worst.sliding.max(sliding);
        worst.overturning = worst.overturning.max(overturning);
        worst.uplift = worst.uplift.max(uplift);
    }
    Ok(worst)
}

/// Fewest pieces of ballast that hold the frame.
///
/// # Errors
/// [`Refusal::OutsideRange`] for inputs out of range, or when 1000 pieces do not hold it.
pub fn pieces_needed<T: Trace>(trace: &mut T, frame: &Ballasted) -> Result<u32, Refusal> {
    const MOST: u32 = 1000;
    let holds = |n| stability(&mut crate::catalogue::Silent, frame, n).map(|s| s.governing() <= 1.0);
    let (mut low, mut high) = (0, MOST);
    if !holds(MOST)? {
        within("pieces of ballast", f64::from(MOST) + 1.0, [0.0, f64::from(MOST)], REDUCED_WEIGHT)?;
    }
    while low < high {
        let middle = u32::midpoint(low, high);
        if holds(middle)? { high = middle } else { low = middle + 1 }
    }
    stability(trace, frame, low)?;
    Ok(low)
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
        piece_lb: 34.0,
        ballast_arm_ft: 4.0,
    };

    #[test]
    fn the_counted_pieces_hold_and_one_less_does_not() {
        let n = pieces_needed(&mut Silent, &FRAME).expect("holds");
        assert!(stability(&mut Silent, &FRAME, n).expect("in range").governing() <= 1.0);
        assert!(stability(&mut Silent, &FRAME, n - 1).expect("in range").governing() > 1.0);
        // By hand, 0.6 D: 0.5 (0.6 W − 180) ≥ 150 needs 800 lb, 18 pieces; factor 1.5: 0.5 (W − 180) ≥ 225 needs 630 lb.
        assert_eq!(n, 18);
    }

    #[test]
    fn a_frame_without_wind_needs_nothing() {
        let calm = Ballasted { slide_lb: 0.0, lift_lb: -50.0, tip_ft_lb: 0.0, ..FRAME };
        assert_eq!(pieces_needed(&mut Silent, &calm), Ok(0));
        let slippery = Ballasted { friction: 0.0, ..FRAME };
        assert!(pieces_needed(&mut Silent, &slippery).is_err());
        assert!(stability(&mut Silent, &Ballasted { friction: -0.1, ..FRAME }, 1).is_err());
    }
}
