//! Snow on a monopitch surface by EN 1991-1-3.

use crate::catalogue::{Certainty, Source, Step, Trace, term};
use crate::loads::{Action, Case, Envelope, Load, RangeState, Surface, SurfaceLoad};
use crate::quantities::{Pressure, to_pa};

/// The load and its shape coefficient, which the code of several open repositories has alike.
pub const SHAPE: Source = Source::new("EN 1991-1-3", "Eq. 5.1, Table 5.2, C_e = C_t = 1", Certainty::Agreed);
const SLID: Source = Source::new(
    "judgement",
    "snow slid to the low edge: the load of a surface of 30° lies on the lower half",
    Certainty::Judgement,
);

/// Shape coefficient μ_1: 0.8 to 30°, then straight to 0 at 60°.
///
/// # Source
/// EN 1991-1-3 Table 5.2.
#[must_use]
pub fn shape_coefficient(tilt_deg: f64) -> f64 {
    0.8 * ((60.0 - tilt_deg) / 30.0).clamp(0.0, 1.0)
}

/// Snow cases; none where the ground snow is zero.
pub fn snow_cases<T: Trace>(ground: Pressure, surface: &Surface, trace: &mut T) -> Vec<Case> {
    let ground_pa = to_pa(ground);
    if ground_pa <= 0.0 {
        return Vec::new();
    }
    trace.chapter(|| ("snow".to_string(), "snow load on plan, the same for every snow case".to_string()));
    let load = shape_coefficient(surface.tilt_deg) * ground_pa;
    trace.step(|| Step {
        what: "snow load, on plan",
        symbol: "s",
        formula: "0.8*min(max((60 - alpha)/30, 0), 1)*C_e*C_t*s_k",
        terms: vec![
            term("alpha", surface.tilt_deg, "deg"),
            term("C_e", 1.0, ""),
            term("C_t", 1.0, ""),
            term("s_k", ground_pa, "Pa"),
        ],
        value: load,
        unit: "Pa",
        source: SHAPE,
    });
    let slid = 2.0 * 0.8 * ground_pa;
    trace.chapter(|| ("snow-slid".to_string(), "snow slid to the low edge".to_string()));
    trace.step(|| Step {
        what: "all of it on the lower half, on plan",
        symbol: "s_slid",
        formula: "2*0.8*s_k",
        terms: vec![term("s_k", ground_pa, "Pa")],
        value: slid,
        unit: "Pa",
        source: SLID,
    });
    let case = |id: &str, name: &str, state, sources: &[Source], [lower, upper]: [f64; 2]| Case {
        id: id.to_string(),
        name: name.to_string(),
        action: Action::Snow,
        state,
        sources: sources.to_vec(),
        wind_from: None,
        load: Load::Surface(SurfaceLoad::vertical_on_plan(lower, upper, surface.tilt_deg)),
    };
    let why = |why| RangeState::Judgement(Envelope::Added, why);
    vec![
        case("snow-balanced", "balanced snow", RangeState::Published, &[SHAPE], [load; 2]),
        case(
            "snow-slid",
            "snow slid to the low edge",
            why("held snow, all on the lower half"),
            &[SHAPE, SLID],
            [slid, 0.0],
        ),
    ]
}
