//! Net pressures on components of an open monoslope roof: clamps, clips, purlins, single panels.

use super::{GUST_FACTOR, VelocityPressure, wind_open::Flow};
use crate::catalogue::{Certainty, Source, Step, Trace, term};
use crate::loads::{Envelope, RangeState, Surface};
use crate::quantities::MM_PER_INCH;
use serde::Serialize;

/// The figure, clear flow: a national code that reprints it and the table of an open repository agree in every cell.
pub const FIGURE: Source = Source::new("ASCE 7-16", "Fig. 30.7-1 (7-10 Fig. 30.8-1), clear flow", Certainty::Agreed);
/// Its obstructed columns, from the table of that open repository alone: the national code misprints them.
pub const FIGURE_OBSTRUCTED: Source =
    Source::new("ASCE 7-16", "Fig. 30.7-1 (7-10 Fig. 30.8-1), obstructed flow", Certainty::Transcribed);
/// Least net component pressure either way: 16 psf in the code of two open repositories.
pub const MINIMUM_SOURCE: Source = Source::new("ASCE 7-16", "§30.2.2", Certainty::Agreed);
/// Above 45°.
pub const HELD: Source = Source::new(
    "judgement J2",
    "components above 45°: 45° coefficients held, which stay above the sign coefficient",
    Certainty::Judgement,
);

/// Zones of the figure: corners, edge strips and the inside, by distances of `a` from the edges.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub enum Zone {
    /// Zone 1, inside.
    Inside,
    /// Zone 2, within `a` of one edge.
    Edge,
    /// Zone 3, within `a` of two edges.
    Corner,
}

impl Zone {
    /// All three, from the inside out.
    pub const ALL: [Self; 3] = [Self::Inside, Self::Edge, Self::Corner];
}

/// Tilts of the rows (°).
pub const ROWS_DEG: [f64; 5] = [0.0, 7.5, 15.0, 30.0, 45.0];
/// `[onto the face, off the face]` for zones 1, 2, 3 at areas up to `a²`, clear flow. Larger areas use zone 2 and zone 1
/// values.
const CELLS: [[[f64; 2]; 3]; 5] = [
    [[1.2, -1.1], [1.8, -1.7], [2.4, -3.3]],
    [[1.6, -1.4], [2.4, -2.1], [3.2, -4.2]],
    [[1.8, -1.9], [2.7, -2.9], [3.6, -3.8]],
    [[2.6, -2.5], [3.9, -3.8], [5.2, -5.0]],
    [[2.6, -2.3], [3.9, -3.5], [5.2, -4.6]],
];
/// The same, obstructed flow.
const CELLS_OBSTRUCTED: [[[f64; 2]; 3]; 5] = [
    [[0.5, -1.2], [0.8, -1.8], [1.0, -3.6]],
    [[0.8, -1.7], [1.2, -2.6], [1.6, -5.1]],
    [[1.2, -2.1], [1.8, -3.2], [2.4, -4.2]],
    [[1.6, -2.3], [2.4, -3.5], [3.2, -4.6]],
    [[2.1, -1.9], [3.2, -2.9], [4.2, -3.8]],
];

fn figure(flow: Flow) -> (&'static [[[f64; 2]; 3]; 5], Source) {
    match flow {
        Flow::Clear => (&CELLS, FIGURE),
        Flow::Obstructed => (&CELLS_OBSTRUCTED, FIGURE_OBSTRUCTED),
    }
}

/// Width `a` of the edge strips \[mm\]: a tenth of the least plan dimension or 0.4 h, whichever is smaller, but at least
/// 4 % of the least dimension and 3 ft.
///
/// # Source
/// ASCE 7-16 Fig. 30.7-1 notation.
pub fn strip_width_mm<T: Trace>(surface: &Surface, trace: &mut T) -> f64 {
    const LEAST_MM: f64 = 36.0 * MM_PER_INCH;
    let (least, h) = (surface.run_mm().min(surface.width_mm), surface.mean_height_mm());
    let a = (0.1 * least).min(0.4 * h).max(0.04 * least).max(LEAST_MM);
    trace.step(|| Step {
        what: "width of the edge strips",
        symbol: "a",
        formula: "max(max(min(0.1*B_least, 0.4*h), 0.04*B_least), a_least)",
        terms: vec![term("B_least", least, "mm"), term("h", h, "mm"), term("a_least", LEAST_MM, "mm")],
        value: a,
        unit: "mm",
        source: FIGURE,
    });
    a
}

/// Worst zone touched by a patch of the surface.
///
/// # Units
/// `a_mm` from [`strip_width_mm`]; `u`, `x` from 0 to 1. Distances are taken along the slope.
#[must_use]
pub fn zone_of(surface: &Surface, a_mm: f64, u: [f64; 2], x: [f64; 2]) -> Zone {
    let near = |[from, to]: [f64; 2], length: f64| from * length < a_mm || (1.0 - to) * length < a_mm;
    match (near(u, surface.slope_mm), near(x, surface.width_mm)) {
        (true, true) => Zone::Corner,
        (false, false) => Zone::Inside,
        _ => Zone::Edge,
    }
}

/// Zone whose coefficients a component of this effective area takes: large areas smooth the corner peaks.
#[must_use]
pub fn zone_for_area(zone: Zone, area_mm2: f64, a_mm: f64) -> Zone {
    let square = a_mm * a_mm;
    if area_mm2 > 4.0 * square {
        Zone::Inside
    } else if area_mm2 > square {
        zone.min(Zone::Edge)
    } else {
        zone
    }
}

/// Net coefficients `[onto the face, off the face]`, linear in the tilt; above 45° the 45° row is held.
///
/// Between 0° and 7.5° the line is followed too: whether this figure has the main frame's step there was not seen, and
/// the line never gives less.
///
/// # Units
/// `tilt_deg` (°) from 0 to 90. Result (–).
pub fn net_coefficients<T: Trace>(tilt_deg: f64, flow: Flow, zone: Zone, trace: &mut T) -> [f64; 2] {
    const NAMES: [&str; 2] = ["component coefficient onto the face", "component coefficient off the face"];
    let tilt = tilt_deg.clamp(0.0, 45.0);
    let above = ROWS_DEG.iter().position(|row| tilt <= *row).unwrap_or(4).max(1);
    let (cells, printed) = figure(flow);
    let source = if tilt_deg > 45.0 { HELD } else { printed };
    let point = |row: usize, side: usize| (ROWS_DEG[row], cells[row][zone as usize][side]);
    [0, 1].map(|side| super::between(NAMES[side], tilt, point(above - 1, side), point(above, side), source, trace))
}

/// Net pressure on a component, both ways.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ComponentPressure {
    /// Zone it lies in.
    pub zone: Zone,
    /// Effective wind area \[mm²\].
    pub area_mm2: f64,
    /// Pressing onto the face \[Pa\], at least the minimum.
    pub onto_face_pa: f64,
    /// Lifting off the face \[Pa\], a magnitude, at least the minimum.
    pub off_face_pa: f64,
    /// State.
    pub state: RangeState,
    /// Sources.
    pub sources: Vec<Source>,
}

/// Pressures on a component: the larger of each direction over the `flows` that the space below may have.
///
/// # Units
/// `area_mm2` effective wind area \[mm²\]; for a long member not less than span times a third of the span.
///
/// # Source
/// ASCE 7-16 Eq. 30.7-1, `p = q_h G C_N`, and §30.2.2 (16 psf at least).
pub fn component_pressure<T: Trace>(
    surface: &Surface,
    q: VelocityPressure,
    flows: &[Flow],
    zone: Zone,
    area_mm2: f64,
    trace: &mut T,
) -> ComponentPressure {
    let a = strip_width_mm(surface, trace);
    let mut pressure = ComponentPressure {
        zone,
        area_mm2,
        onto_face_pa: 0.0,
        off_face_pa: 0.0,
        state: state(surface),
        sources: vec![],
    };
    for flow in flows {
        let coefficients = net_coefficients(surface.tilt_deg, *flow, zone_for_area(zone, area_mm2, a), trace);
        let source = figure(*flow).1;
        let ([onto, off], minimum_governs) = pressures(q, coefficients, source, trace);
        pressure.onto_face_pa = pressure.onto_face_pa.max(onto);
        pressure.off_face_pa = pressure.off_face_pa.max(off);
        pressure.sources.push(source);
        if minimum_governs && !pressure.sources.contains(&MINIMUM_SOURCE) {
            pressure.sources.push(MINIMUM_SOURCE);
        }
    }
    if surface.tilt_deg > 45.0 {
        pressure.sources.push(HELD);
    }
    pressure
}

/// Both ways \[Pa\], and whether the minimum governs one of them.
fn pressures<T: Trace>(q: VelocityPressure, coefficients: [f64; 2], source: Source, trace: &mut T) -> ([f64; 2], bool) {
    let mut minimum_governs = false;
    let both = coefficients.map(|cn| {
        let raw = q.directed_pa() * GUST_FACTOR * cn.abs();
        let value = raw.max(super::MINIMUM_PA);
        minimum_governs |= value > raw;
        trace.step(|| Step {
            what: if cn > 0.0 { "component pressure onto the face" } else { "component pressure off the face" },
            symbol: "p",
            formula: q.formula("max(q_h*K_d*G*CN, p_min)", "max(q_h*G*CN, p_min)"),
            terms: q.terms([
                term("G", GUST_FACTOR, ""),
                term("CN", cn.abs(), ""),
                term("p_min", q.shown(super::MINIMUM_PA), q.unit()),
            ]),
            value: q.shown(value),
            unit: q.unit(),
            source,
        });
        value
    });
    (both, minimum_governs)
}

fn state(surface: &Surface) -> RangeState {
    let ratio = surface.mean_height_mm() / surface.run_mm().min(surface.width_mm);
    if surface.tilt_deg > 45.0 {
        RangeState::Judgement(Envelope::J2, "the component figure ends at 45°; its 45° coefficients are held")
    } else if (0.25..=1.0).contains(&ratio) {
        RangeState::Published
    } else {
        RangeState::Judgement(Envelope::J1, "the component figure covers heights of 0.25 to 1 times the length")
    }
}
