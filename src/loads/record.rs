//! Steps of the wind's derivation that no load case needs as a number of its own: written for whoever listens.

use super::{
    Surface,
    asce7::{
        MINIMUM_PA, MINIMUM_SOURCE, VelocityPressure,
        wind_sign::{CASE_B_ECCENTRICITY, FIGURE, Sign},
    },
};
use crate::{
    catalogue::{Certainty, Source, Step, Trace, term},
    design::Form,
    quantities::MM_PER_INCH,
};

/// The parts of the surface that wind along the low edge tells apart, from the windward end.
pub(super) const ALONG_STRIPS: [&str; 3] = [
    "net design pressure, first h from the windward end",
    "net design pressure, second h from it",
    "net design pressure, beyond two h",
];

const HEIGHTS: Source = Source::new("geometry", "low edge, slope length and tilt", Certainty::Derived);
const LEANING: Source = Source::new(
    "judgement",
    "resultant moved 0.2 of the width at every tilt, linear over the width",
    Certainty::Judgement,
);

/// The height the velocity pressure is taken at: half way up the slope, beyond the figure of open roofs its top.
pub(super) fn record_height<T: Trace>(form: Form, surface: &Surface, trace: &mut T) {
    let (mm_per_unit, unit) = match form {
        Form::Us => (12.0 * MM_PER_INCH, "ft"),
        Form::Si => (1000.0, "m"),
    };
    let steep = surface.is_steep();
    trace.step(|| Step {
        what: if steep { "height of the high edge" } else { "mean roof height" },
        symbol: "z",
        formula: if steep { "h_low + L_s*sin(theta)" } else { "h_low + L_s*sin(theta)/2" },
        terms: vec![
            term("h_low", surface.low_edge_mm / mm_per_unit, unit),
            term("L_s", surface.slope_mm / mm_per_unit, unit),
            term("theta", surface.tilt_deg.to_radians(), "rad"),
        ],
        value: surface.pressure_height_mm() / mm_per_unit,
        unit,
        source: HEIGHTS,
    });
}

/// The two ratios that the figure of signs is entered with.
pub(super) fn record_sign<T: Trace>(sign: &Sign, trace: &mut T) {
    trace.step(|| Step {
        what: "width over height of the upright projection",
        symbol: "r_B",
        formula: "B/s",
        terms: vec![term("B", sign.width_mm, "mm"), term("s", sign.plate_mm, "mm")],
        value: sign.aspect(),
        unit: "",
        source: FIGURE,
    });
    trace.step(|| Step {
        what: "height of the upright projection over that of its top",
        symbol: "r_s",
        formula: "s/h_top",
        terms: vec![term("s", sign.plate_mm, "mm"), term("h_top", sign.top_mm, "mm")],
        value: sign.clearance(),
        unit: "",
        source: FIGURE,
    });
}

/// Pressures at the end that the resultant is moved to, on the lower and the upper half.
pub(super) fn record_lean<T: Trace>(q: VelocityPressure, halves_pa: [f64; 2], trace: &mut T) {
    const NAMES: [&str; 2] =
        ["moved to one end: pressure at that end, lower half", "moved to one end: pressure at that end, upper half"];
    let e = CASE_B_ECCENTRICITY;
    for (what, pressure_pa) in NAMES.into_iter().zip(halves_pa) {
        trace.step(|| Step {
            what,
            symbol: "p_end",
            formula: "p*(1 + 12*e*(1 - 1/2))",
            terms: vec![term("p", q.shown(pressure_pa), q.unit()), term("e", e, "")],
            value: q.shown(pressure_pa * (1.0 + 6.0 * e)),
            unit: q.unit(),
            source: LEANING,
        });
    }
}

/// The least wind, which acts level on the upright projection, as its parts square to the surface and along it.
pub(super) fn record_least<T: Trace>(q: VelocityPressure, surface: &Surface, trace: &mut T) {
    let (sin, cos) = surface.sin_cos();
    for (what, symbol, formula, other) in [
        ("least pressure, square to the panels", "p_n", "p_min*sin(theta)*sin(theta)", sin),
        ("least pressure, along the slope", "p_t", "p_min*sin(theta)*cos(theta)", cos),
    ] {
        trace.step(|| Step {
            what,
            symbol,
            formula,
            terms: vec![
                term("p_min", q.shown(MINIMUM_PA), q.unit()),
                term("theta", surface.tilt_deg.to_radians(), "rad"),
            ],
            value: q.shown(MINIMUM_PA * sin * other),
            unit: q.unit(),
            source: MINIMUM_SOURCE,
        });
    }
}
