//! Depth of an embedded post or pole that carries sideways load.

use crate::{
    catalogue::{Certainty, Source, Trace},
    codes::{Refusal, within},
};

/// Free at the ground line.
pub const NON_CONSTRAINED: Source = Source::new("IBC 2018", "Eq. 18-1", Certainty::Agreed);
/// Doubled pressure for isolated poles.
pub const ISOLATED: Source = Source::new("IBC 2018", "§1806.3.4", Certainty::Agreed);
/// Cap on the depth that counts.
pub const CAP: Source = Source::new("IBC 2018", "§1807.3.2.1, 12 ft", Certainty::Transcribed);

/// Depth beyond which lateral pressure grows no further (ft).
const CAP_FT: f64 = 12.0;
/// Deepest hole looked at (ft).
const DEEPEST_FT: f64 = 60.0;

/// An embedded post and its load at the ground line, allowable level (0.6 W).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Post {
    /// Sideways force (lb); its sign only matters beside that of the moment.
    pub force_lb: f64,
    /// Moment at the ground line (ft·lb); of a force at height h it is P h, of the same sign.
    pub moment_ft_lb: f64,
    /// Diameter of a round post or footing, diagonal of a square one (ft).
    pub width_ft: f64,
    /// Lateral bearing of the soil per foot of depth (psf/ft).
    pub lateral_psf_per_ft: f64,
    /// Doubled for isolated poles that half an inch at the ground line does not harm: 2, else 1.
    pub pressure_factor: f64,
}

impl Post {
    /// A horizontal force at a height above the ground.
    #[must_use]
    pub fn with_force_at(force_lb: f64, height_ft: f64, width_ft: f64, lateral_psf_per_ft: f64) -> Self {
        Self { force_lb, moment_ft_lb: force_lb * height_ft, width_ft, lateral_psf_per_ft, pressure_factor: 1.0 }
    }

    fn check(&self) -> Result<(), Refusal> {
        within("width of the post (ft)", self.width_ft, [1e-3, 1e3], NON_CONSTRAINED)?;
        within("lateral bearing (psf/ft)", self.lateral_psf_per_ft, [1e-3, 1e6], NON_CONSTRAINED)?;
        within("factor on the lateral bearing", self.pressure_factor, [0.1, 2.0], ISOLATED)?;
        within("force (lb)", self.force_lb, [-1e9, 1e9], NON_CONSTRAINED)?;
        within("moment (ft lb)", self.moment_ft_lb, [-1e9, 1e9], NON_CONSTRAINED)?;
        Ok(())
    }

    /// Allowable lateral pressure at a depth (psf), the 12 ft cap in.
    #[must_use]
    pub fn pressure_psf(&self, depth_ft: f64) -> f64 {
        self.pressure_factor * self.lateral_psf_per_ft * depth_ft.min(CAP_FT)
    }
}

/// Depth by the equation for a given pressure S1 (psf), as a check at a chosen depth takes it.
///
/// ```text
/// A = 2.34 P/(S1 b)    d = A/2 (1 + √(1 + 4.36 h/A))
/// ```
///
/// With M = P h this is d² = A d + 1.09 A h, so that S1 b d² = 2.34 (P d + 1.09 M), which also holds for P = 0: a pure
/// moment. When P and M turn opposite ways their relief is not counted; that is on the safe side, because the soil
/// pressure of the sum is nowhere above the sum of the pressures.
///
/// # Errors
/// [`Refusal::OutsideRange`] for a width, soil or pressure that is not above zero.
pub fn depth_at_pressure<T: Trace>(trace: &mut T, post: &Post, s1_psf: f64) -> Result<f64, Refusal> {
    post.check()?;
    let s1 = within("S1 (psf)", s1_psf, [1e-6, 1e9], NON_CONSTRAINED)?;
    let (p, m, b) = (post.force_lb.abs(), post.moment_ft_lb.abs(), post.width_ft);
    let a = 2.34 * p / (s1 * b);
    step!(trace, "A of the embedment equation", a ["ft"] = "2.34*p/(s1*b)", { p ["lb"], s1 ["psf"], b ["ft"] }, NON_CONSTRAINED);
    let g = 2.34 * 1.09 * m / (s1 * b);
    step!(trace, "moment term, 1.09 A h with M = P h", g ["ft^2"] = "2.34*1.09*m/(s1*b)", { m ["ft lb"], s1 ["psf"], b ["ft"] }, NON_CONSTRAINED);
    let d = a / 2.0 + (a * a / 4.0 + g).sqrt();
    step!(trace, "embedment, free at the ground line", d ["ft"] = "a/2 + sqrt(a^2/4 + g)", { a ["ft"], g ["ft^2"] }, NON_CONSTRAINED);
    Ok(d)
}

/// Embedment (ft) of a post free at the ground line, S1 at a third of that very depth.
///
/// # Errors
/// [`Refusal::OutsideRange`] for inputs that are not above zero, or when 60 ft are not enough.
///
/// # Source
/// IBC 2018 Eq. 18-1 with the 12 ft cap taken literally. Ten worked examples in `tests/handbook/embedment.rs`.
pub fn required_depth<T: Trace>(trace: &mut T, post: &Post) -> Result<f64, Refusal> {
    post.check()?;
    let excess = |d: f64| {
        post.pressure_psf(d / 3.0) * post.width_ft * d * d
            - 2.34 * (post.force_lb.abs() * d + 1.09 * post.moment_ft_lb.abs())
    };
    let d = root(excess).ok_or_else(|| {
        Refusal::from(crate::codes::OutsideRange {
            what: "embedment (ft)",
            value: f64::INFINITY,
            low: 0.0,
            high: DEEPEST_FT,
            source_of: NON_CONSTRAINED,
        })
    })?;
    if d == 0.0 {
        return Ok(0.0);
    }
    let (f, rate, third) = (post.pressure_factor, post.lateral_psf_per_ft, (d / 3.0).min(CAP_FT));
    let s1 = f * rate * third;
    step!(trace, "allowable lateral pressure at a third of the depth that is needed", s1 ["psf"] = "f*rate*third",
        { f [""], rate ["psf/ft"], third ["ft"] }, NON_CONSTRAINED);
    depth_at_pressure(trace, post, s1)
}

/// Where an excess that starts negative and ends positive changes sign; 0 when nothing is asked.
fn root(excess: impl Fn(f64) -> f64) -> Option<f64> {
    const HALVINGS: u32 = 80;
    if excess(1e-9) >= 0.0 {
        return Some(0.0);
    }
    if excess(DEEPEST_FT) < 0.0 {
        return None;
    }
    let (mut low, mut high) = (0.0, DEEPEST_FT);
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if excess(middle) < 0.0 { low = middle } else { high = middle }
    }
    Some(high)
}
