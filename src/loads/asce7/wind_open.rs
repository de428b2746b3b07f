//! Wind on an open building with a monoslope free roof, and beyond its figure by the two judgement envelopes.
//!
//! The printed figure tells its columns by the wind angle γ. Here they are told by what the wind strikes:
//!
//! ```text
//!            wind on the face                     wind on the back
//!   (the low edge is to windward)          (the high edge is to windward)
//!
//!     ──►        ╱                                   ╱       ◄──
//!     ──►      ╱    pressed onto the face          ╱         ◄──   lifted off the face
//!     ──►    ╱      coefficients above zero      ╱           ◄──   coefficients below zero
//!          ╱                                   ╱
//!   windward half = lower half             windward half = upper half
//!   (columns γ = 180°)                     (columns γ = 0°)
//! ```
//!
//! A thin plate is pressed on the side the wind strikes, and its resultant moves towards the edge that meets the wind
//! first: so the columns with positive coefficients belong to wind on the face. The sketch of the figure itself was
//! not seen; one transcription words it the other way round.

use super::between;
use crate::catalogue::{Certainty, Source, Step, Trace, term};
use crate::loads::{Across, Envelope, RangeState, Strip, Surface};
use serde::Serialize;

/// The figure of net pressure coefficients.
pub const FIGURE: Source =
    Source::new("ASCE 7-16", "Fig. 27.3-4 (7-10 Fig. 27.4-4, 7-22 Fig. 27.3-4)", Certainty::Agreed);
/// The figure for wind along the low edge.
pub const FIGURE_ALONG: Source = Source::new("ASCE 7-16", "Fig. 27.3-7 (wind at 90° and 270°)", Certainty::Agreed);
/// Envelope J1.
pub const J1: Source = Source::new(
    "judgement J1",
    "tilt to 45°, any height over length: the figure's coefficients, all cases",
    Certainty::Judgement,
);
/// Envelope J2.
pub const J2: Source = Source::new(
    "judgement J2",
    "tilt above 45°: 45° coefficients to 60°, then linear to the sign coefficient at 90°, never below it",
    Certainty::Judgement,
);

/// Wind along the low edge above 45°.
pub const ALONG_HELD: Source = Source::new(
    "judgement J2",
    "wind along the low edge, tilt above 45°: the figure's coefficients held",
    Certainty::Judgement,
);

/// Which side of the surface the wind strikes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum WindOn {
    /// The top face: the low edge is to windward.
    Face,
    /// The underside: the high edge is to windward.
    Back,
}

impl WindOn {
    /// +1 for a wind that presses on the face, −1 for one that lifts.
    #[must_use]
    pub fn sign(self) -> f64 {
        match self {
            Self::Face => 1.0,
            Self::Back => -1.0,
        }
    }

    /// Coefficients of the windward and the leeward half as those of the lower and the upper half.
    #[must_use]
    pub fn lower_upper(self, [windward, leeward]: [f64; 2]) -> [f64; 2] {
        match self {
            Self::Face => [windward, leeward],
            Self::Back => [leeward, windward],
        }
    }
}

/// Blockage below the surface.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Flow {
    /// At most half blocked.
    Clear,
    /// More than half blocked.
    Obstructed,
}

/// The two load cases of the figure: A gives the largest force, B the largest turning about the middle of the slope.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum FigureCase {
    /// Case A.
    A,
    /// Case B.
    B,
}

/// Tilts of the rows of the figure (°).
pub const ROWS_DEG: [f64; 7] = [0.0, 7.5, 15.0, 22.5, 30.0, 37.5, 45.0];

/// Windward and leeward coefficient of one row.
type Row = [f64; 2];

/// `C_NW, C_NL` by row. Every cell stands so in two independent transcriptions.
const BACK_CLEAR: [[Row; 7]; 2] = [
    [[1.2, 0.3], [-0.6, -1.0], [-0.9, -1.3], [-1.5, -1.6], [-1.8, -1.8], [-1.8, -1.8], [-1.6, -1.8]],
    [[-1.1, -0.1], [-1.4, 0.0], [-1.9, 0.0], [-2.4, -0.3], [-2.5, -0.5], [-2.4, -0.6], [-2.3, -0.7]],
];
const BACK_OBSTRUCTED: [[Row; 7]; 2] = [
    [[-0.5, -1.2], [-1.0, -1.5], [-1.1, -1.5], [-1.5, -1.7], [-1.5, -1.8], [-1.5, -1.8], [-1.3, -1.8]],
    [[-1.1, -0.6], [-1.7, -0.8], [-2.1, -0.6], [-2.3, -0.9], [-2.3, -1.1], [-2.2, -1.1], [-1.9, -1.2]],
];
const FACE_CLEAR: [[Row; 7]; 2] = [
    [[1.2, 0.3], [0.9, 1.5], [1.3, 1.6], [1.7, 1.8], [2.1, 2.1], [2.1, 2.2], [2.2, 2.5]],
    [[-1.1, -0.1], [1.6, 0.3], [1.8, 0.6], [2.2, 0.7], [2.6, 1.0], [2.7, 1.1], [2.6, 1.4]],
];
const FACE_OBSTRUCTED: [[Row; 7]; 2] = [
    [[-0.5, -1.2], [-0.2, -1.2], [0.4, -1.1], [0.5, -1.0], [0.6, -1.0], [0.7, -0.9], [0.8, -0.9]],
    [[-1.1, -0.6], [0.8, -0.3], [1.2, -0.3], [1.3, 0.0], [1.6, 0.1], [1.9, 0.3], [2.1, 0.4]],
];

fn table(on: WindOn, flow: Flow, case: FigureCase) -> &'static [Row; 7] {
    let both = match (on, flow) {
        (WindOn::Back, Flow::Clear) => &BACK_CLEAR,
        (WindOn::Back, Flow::Obstructed) => &BACK_OBSTRUCTED,
        (WindOn::Face, Flow::Clear) => &FACE_CLEAR,
        (WindOn::Face, Flow::Obstructed) => &FACE_OBSTRUCTED,
    };
    &both[usize::from(case == FigureCase::B)]
}

/// State of a main-frame row at a tilt and a height over length.
///
/// # Units
/// `tilt_deg` (°); `height_over_length` = mean roof height over the plan length along the wind (–).
///
/// # Source
/// Range of ASCE 7-16 Fig. 27.3-4: 0.25 ≤ h/L ≤ 1, θ ≤ 45°.
#[must_use]
pub fn range_state(tilt_deg: f64, height_over_length: f64) -> RangeState {
    if !(0.0..=90.0).contains(&tilt_deg) {
        RangeState::Refused(format!("a tilt of {tilt_deg}° lies outside 0° to 90°"))
    } else if tilt_deg > 45.0 {
        RangeState::Judgement(Envelope::J2, "the figure ends at 45°")
    } else if !(0.25..=1.0).contains(&height_over_length) {
        RangeState::Judgement(Envelope::J1, "the figure covers heights of 0.25 to 1 times the length along the wind")
    } else {
        RangeState::Published
    }
}

/// Net pressure coefficients `[C_NW, C_NL]` of the windward and the leeward half; above 45° by J2.
///
/// Between 7.5° and 45° linear in the tilt; below 7.5° the row of 0° without change (a step, as printed).
/// Above 45° each half is held to 60° and then goes linearly to the sign coefficient at 90°. Where the mean of the two
/// halves would fall below the sign coefficient, both are raised alike, so the turning about mid slope stays.
///
/// # Units
/// `tilt_deg` (°) from 0 to 90; `c_f` is the sign coefficient for this surface standing at this tilt, used above 45° only (–).
/// Result (–), positive onto the face.
pub fn net_coefficients<T: Trace>(
    tilt_deg: f64,
    on: WindOn,
    flow: Flow,
    case: FigureCase,
    c_f: f64,
    trace: &mut T,
) -> [f64; 2] {
    const NAMES: [&str; 2] = ["net coefficient, windward half", "net coefficient, leeward half"];
    let rows = table(on, flow, case);
    if tilt_deg > 45.0 {
        return beyond_figure(tilt_deg, rows[6], on.sign() * c_f, trace);
    }
    let lower = if tilt_deg < 7.5 { 0 } else { ROWS_DEG.iter().rposition(|row| *row <= tilt_deg).unwrap_or(1) };
    let mut result = [0.0; 2];
    for (half, value) in result.iter_mut().enumerate() {
        *value = if ROWS_DEG[lower] == tilt_deg || lower == 0 {
            let cell = rows[lower][half];
            trace.step(|| Step {
                what: NAMES[half],
                symbol: "CN",
                formula: "CN_table",
                terms: vec![term("CN_table", cell, "")],
                value: cell,
                unit: "",
                source: FIGURE,
            });
            cell
        } else {
            let (a, b) = (lower, lower + 1);
            between(NAMES[half], tilt_deg, (ROWS_DEG[a], rows[a][half]), (ROWS_DEG[b], rows[b][half]), FIGURE, trace)
        };
    }
    result
}

fn beyond_figure<T: Trace>(tilt_deg: f64, held: Row, sign_c_f: f64, trace: &mut T) -> [f64; 2] {
    let share = ((tilt_deg - 60.0) / 30.0).clamp(0.0, 1.0);
    let faded = held.map(|cn| cn + (sign_c_f - cn) * share);
    let mean = (faded[0] + faded[1]) / 2.0;
    let side = sign_c_f.signum();
    let lift = side * (side * (sign_c_f - mean)).max(0.0);
    let result = faded.map(|cn| cn + lift);
    trace.step(|| Step {
        what: "share of the way from 60° to upright",
        symbol: "t",
        formula: "min(max((theta - 60)/30, 0), 1)",
        terms: vec![term("theta", tilt_deg, "deg")],
        value: share,
        unit: "",
        source: J2,
    });
    const NAMES: [&str; 2] = ["net coefficient above 45°, windward half", "net coefficient above 45°, leeward half"];
    for half in 0..2 {
        trace.step(|| Step {
            what: NAMES[half],
            symbol: "CN",
            formula: "CN_45 + (s*C_f - CN_45)*t + s*max(0, C_f - s*((CN_45 + CN_45_other)/2*(1 - t) + s*C_f*t))",
            terms: vec![
                term("CN_45", held[half], ""),
                term("CN_45_other", held[1 - half], ""),
                term("s", side, ""),
                term("C_f", sign_c_f.abs(), ""),
                term("t", share, ""),
            ],
            value: result[half],
            unit: "",
            source: J2,
        });
    }
    result
}

/// Net coefficients for wind along the low edge, in strips counted from the windward end.
///
/// # Shape
/// Border of each strip as a multiple of the mean roof height h, and its coefficient; the last runs to the far end.
///
/// # Source
/// ASCE 7-16 Fig. 27.3-7. Held unchanged above 45° (judgement J2).
#[must_use]
pub fn along_coefficients(flow: Flow, case: FigureCase) -> [(f64, f64); 3] {
    let [first, second, rest] = match (case, flow) {
        (FigureCase::A, Flow::Clear) => [-0.8, -0.6, -0.3],
        (FigureCase::A, Flow::Obstructed) => [-1.2, -0.9, -0.6],
        (FigureCase::B, Flow::Clear) => [0.8, 0.5, 0.3],
        (FigureCase::B, Flow::Obstructed) => [0.5, 0.5, 0.3],
    };
    [(1.0, first), (2.0, second), (f64::INFINITY, rest)]
}

/// Largest coefficient and the strips of a surface for wind along the low edge, the left end to windward.
#[must_use]
pub fn along_strips(surface: &Surface, flow: Flow, case: FigureCase) -> (f64, Across) {
    let all = along_coefficients(flow, case);
    let peak = all[0].1;
    let h_share = surface.mean_height_mm() / surface.width_mm;
    let mut from = 0.0;
    let mut strips = Vec::with_capacity(3);
    for (border, cn) in all {
        let to = (border * h_share).min(1.0);
        if to > from {
            strips.push(Strip { from, to, share: cn / peak });
            from = to;
        }
    }
    (peak, if strips.len() == 1 { Across::Even } else { Across::Strips(strips) })
}

/// Design pressure of a coefficient, `p = q_h G C_N` (7-22: `q_h K_d G C_N`) \[Pa\].
///
/// # Source
/// ASCE 7-16 Eq. 27.3-2.
pub fn pressure<T: Trace>(q: super::VelocityPressure, cn: f64, trace: &mut T) -> f64 {
    pressure_on("net design pressure", q, cn, trace)
}

/// [`pressure`] on a part of the surface, which the record names.
pub(in crate::loads) fn pressure_on<T: Trace>(
    what: &'static str,
    q: super::VelocityPressure,
    cn: f64,
    trace: &mut T,
) -> f64 {
    let value = q.directed_pa() * super::GUST_FACTOR * cn;
    trace.step(|| Step {
        what,
        symbol: "p",
        formula: q.formula("q_h*K_d*G*CN", "q_h*G*CN"),
        terms: q.terms([term("G", super::GUST_FACTOR, ""), term("CN", cn, "")]),
        value: q.shown(value),
        unit: q.unit(),
        source: Source::new("ASCE 7", "Eq. 27.3-2 (7-16, 7-22), Eq. 27.4-3 (7-10)", Certainty::Agreed),
    });
    value
}
