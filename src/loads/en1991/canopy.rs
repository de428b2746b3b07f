//! Wind on a monopitch canopy by EN 1991-1-4 §7.3, and steeper by the signboard coefficient as a stated judgement.

use crate::catalogue::{Certainty, Silent, Source, Step, Trace, term};
use crate::design::Below;
use crate::loads::asce7::wind_components::{ComponentPressure, Zone};
use crate::loads::{Across, Action, BareWind, Case, Envelope, Load, RangeState, Surface, SurfaceLoad, WindFrom};

/// Overall force coefficients.
pub const TABLE: Source = Source::new("EN 1991-1-4", "Table 7.6, c_f", Certainty::Agreed);
/// Local net pressure coefficients.
pub const LOCAL: Source = Source::new("EN 1991-1-4", "Table 7.6, c_p,net", Certainty::Transcribed);
/// Place of the resultant and borders of the zones.
pub const PLACES: Source =
    Source::new("EN 1991-1-4", "Fig. 7.16 (centre at d/4), zones of d/10 and b/10", Certainty::Memory);
/// Signboards.
pub const SIGNBOARD: Source = Source::new("EN 1991-1-4", "§7.4.3, c_f = 1.80", Certainty::Transcribed);
/// Their eccentricity.
pub const SIGNBOARD_MOVE: Source = Source::new("EN 1991-1-4", "§7.4.3, e = 0.25 b", Certainty::Memory);
/// Above 30°.
pub const STEEP: Source = Source::new(
    "judgement J2",
    "above 30°: the larger of the 30° canopy and the signboard coefficient, both ways",
    Certainty::Judgement,
);

/// Force coefficient of a signboard.
pub const SIGNBOARD_C_F: f64 = 1.80;
/// Sideways move of its force, share of the width.
pub const SIGNBOARD_ECCENTRICITY: f64 = 0.25;

/// Angles of the columns (°).
pub const COLUMNS_DEG: [f64; 7] = [0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0];

/// One row of the table for loads downwards, upwards at φ = 0, upwards at φ = 1.
type Rows = [[f64; 7]; 3];

const OVERALL: Rows = [
    [0.2, 0.4, 0.5, 0.7, 0.8, 1.0, 1.2],
    [-0.5, -0.7, -0.9, -1.1, -1.3, -1.6, -1.8],
    [-1.3, -1.4, -1.4, -1.4, -1.4, -1.4, -1.4],
];
const ZONE_A: Rows = [
    [0.5, 0.8, 1.2, 1.4, 1.7, 2.0, 2.2],
    [-0.6, -1.1, -1.5, -1.8, -2.2, -2.6, -3.0],
    [-1.5, -1.6, -1.6, -1.6, -1.6, -1.5, -1.5],
];
const ZONE_B: Rows = [
    [1.8, 2.1, 2.4, 2.7, 2.9, 3.1, 3.2],
    [-1.3, -1.7, -2.0, -2.4, -2.8, -3.2, -3.8],
    [-1.8, -2.2, -2.6, -2.9, -2.9, -2.5, -2.2],
];
const ZONE_C: Rows = [
    [1.1, 1.3, 1.6, 1.8, 2.1, 2.3, 2.4],
    [-1.4, -1.8, -2.1, -2.5, -2.9, -3.2, -3.6],
    [-2.2, -2.5, -2.7, -3.0, -3.0, -2.8, -2.7],
];

/// A zone of the canopy: A inside, B the strips at the two ends, C the strips at the low and high edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CanopyZone {
    /// The whole canopy: c_f.
    Overall,
    /// Inside.
    A,
    /// End strips.
    B,
    /// Strips along the low and the high edge.
    C,
}

/// Coefficients `[down, up]`, linear in the angle and in the blockage φ.
///
/// # Units
/// `tilt_deg` from 0 to 30 (°), held outside; `blockage` φ from 0 clear to 1 blocked at the leeward side.
///
/// # Source
/// EN 1991-1-4 Table 7.6 and §7.3(3).
#[must_use]
pub fn coefficients(zone: CanopyZone, tilt_deg: f64, blockage: f64) -> [f64; 2] {
    coefficients_recorded(zone, tilt_deg, blockage, &mut Silent)
}

fn coefficients_recorded<T: Trace>(zone: CanopyZone, tilt_deg: f64, blockage: f64, trace: &mut T) -> [f64; 2] {
    let rows = match zone {
        CanopyZone::Overall => &OVERALL,
        CanopyZone::A => &ZONE_A,
        CanopyZone::B => &ZONE_B,
        CanopyZone::C => &ZONE_C,
    };
    let tilt = tilt_deg.clamp(0.0, 30.0);
    let i = ((tilt / 5.0) as usize).min(5);
    let share = (tilt - COLUMNS_DEG[i]) / 5.0;
    let at = |row: &[f64; 7]| row[i] + (row[i + 1] - row[i]) * share;
    let (clear, blocked, phi) = (at(&rows[1]), at(&rows[2]), blockage.clamp(0.0, 1.0));
    let result = [at(&rows[0]), clear + (blocked - clear) * phi];
    let source = if matches!(zone, CanopyZone::Overall) { TABLE } else { LOCAL };
    let angles = || [term("alpha", tilt, "deg"), term("alpha_1", COLUMNS_DEG[i], "deg")];
    let cells =
        |row: usize, names: [&'static str; 2]| [term(names[0], rows[row][i], ""), term(names[1], rows[row][i + 1], "")];
    trace.step(|| Step {
        what: "coefficient pressing",
        symbol: "c_f",
        formula: "c_1 + (c_2 - c_1)*(alpha - alpha_1)/5",
        terms: [cells(0, ["c_1", "c_2"]), angles()].concat(),
        value: result[0],
        unit: "",
        source,
    });
    trace.step(|| Step {
        what: "coefficient lifting",
        symbol: "c_f",
        formula: "(c_1 + (c_2 - c_1)*(alpha - alpha_1)/5)*(1 - phi) + (b_1 + (b_2 - b_1)*(alpha - alpha_1)/5)*phi",
        terms: [&cells(1, ["c_1", "c_2"])[..], &cells(2, ["b_1", "b_2"]), &angles(), &[term("phi", phi, "")]].concat(),
        value: result[1],
        unit: "",
        source,
    });
    result
}

/// Wind cases of the canopy. The resultant stands a quarter of the slope from the edge to windward, which may be either.
///
/// # Units
/// `q_pa` peak velocity pressure at the top \[Pa\].
pub fn wind_cases<T: Trace>(surface: &Surface, q_pa: f64, below: Below, trace: &mut T) -> Vec<Case> {
    if surface.tilt_deg > 30.0 {
        return steep_cases(surface, q_pa, trace);
    }
    let mut cases = Vec::new();
    for (blockage, flow_id, flow_name) in flows(below) {
        trace.chapter(|| (format!("wind-{flow_id}"), format!("wind on the canopy, {flow_name}")));
        let c_f = coefficients_recorded(CanopyZone::Overall, surface.tilt_deg, blockage, trace);
        for (coefficient, side, words) in [(c_f[0], "face", "wind pressing"), (c_f[1], "back", "wind lifting")] {
            let pressure = force_pressure(coefficient, q_pa, TABLE, trace);
            for (edge, [lower, upper]) in [("low", [2.0, 0.0]), ("high", [0.0, 2.0])] {
                cases.push(Case {
                    id: format!("wind-{side}-{flow_id}-{edge}"),
                    name: format!("{words}, {flow_name}, {edge} edge to windward"),
                    action: Action::Wind,
                    state: RangeState::Published,
                    sources: vec![TABLE, PLACES],
                    wind_from: Some(if edge == "low" { WindFrom::Front } else { WindFrom::Back }),
                    load: Load::Surface(SurfaceLoad::normal(lower * pressure, upper * pressure)),
                });
            }
        }
    }
    cases
}

fn steep_cases<T: Trace>(surface: &Surface, q_pa: f64, trace: &mut T) -> Vec<Case> {
    trace.chapter(|| ("wind-steep".to_string(), "wind above the canopy table's 30°".to_string()));
    let [down, up] = coefficients_recorded(CanopyZone::Overall, surface.tilt_deg, 0.0, trace);
    let state = RangeState::Judgement(Envelope::J2, "the canopy table ends at 30°; signboards stand upright");
    let mut cases = Vec::new();
    for (canopy, sign, side) in [(down, 1.0, "face"), (up, -1.0, "back")] {
        let coefficient = sign * SIGNBOARD_C_F.max(canopy.abs());
        let pressure = force_pressure(coefficient, q_pa, STEEP, trace);
        // The edge that meets the wind: the low one for wind on the face.
        let windward = if sign > 0.0 { [2.0, 0.0] } else { [0.0, 2.0] };
        let e = SIGNBOARD_ECCENTRICITY;
        for (place, words, halves, across) in [
            ("even", "even", [1.0, 1.0], Across::Even),
            ("left", "moved a quarter of the width to the left", [1.0, 1.0], Across::Leaning(-e)),
            ("right", "moved a quarter of the width to the right", [1.0, 1.0], Across::Leaning(e)),
            ("edge", "a quarter of the slope from the windward edge", windward, Across::Even),
        ] {
            cases.push(Case {
                id: format!("wind-{side}-steep-{place}"),
                name: format!("wind on the {side}, signboard coefficient, {words}"),
                action: Action::Wind,
                state: state.clone(),
                sources: vec![SIGNBOARD, SIGNBOARD_MOVE, PLACES, STEEP],
                wind_from: Some(if sign > 0.0 { WindFrom::Front } else { WindFrom::Back }),
                load: Load::Surface(SurfaceLoad::normal(halves[0] * pressure, halves[1] * pressure).across(across)),
            });
        }
    }
    cases
}

fn flows(below: Below) -> Vec<(f64, &'static str, &'static str)> {
    let clear = (0.0, "clear", "nothing below");
    let blocked = (1.0, "obstructed", "blocked below");
    match below {
        Below::Clear => vec![clear],
        Below::Obstructed => vec![blocked],
        Below::Undeclared => vec![clear, blocked],
    }
}

fn force_pressure<T: Trace>(c_f: f64, q_pa: f64, source: Source, trace: &mut T) -> f64 {
    let value = super::wind::STRUCTURAL_FACTOR * c_f * q_pa;
    trace.step(|| Step {
        what: "net wind pressure",
        symbol: "p",
        formula: "c_sc_d*c_f*q_p",
        terms: vec![term("c_sc_d", super::wind::STRUCTURAL_FACTOR, ""), term("c_f", c_f, ""), term("q_p", q_pa, "Pa")],
        value,
        unit: "Pa",
        source,
    });
    value
}

/// Members that no panel covers.
pub const MEMBERS: Source = Source::new(
    "EN 1991-1-4",
    "§7.6, §7.7, §7.9: largest c_f of rectangular, sharp-edged and round members",
    Certainty::Memory,
);

/// Wind on bare members: 2.4 on flat sides (the peak of Fig. 7.23), 1.2 on round ones, no end effect.
pub fn bare_members<T: Trace>(q_pa: f64, trace: &mut T) -> BareWind {
    let [flat_pa, round_pa] = [2.4, 1.2].map(|c_f| force_pressure(c_f, q_pa, MEMBERS, trace));
    BareWind { flat_pa, round_pa }
}

/// Net pressure on a component: the worst of the zones its patch touches. Above 30° the 30° values are held.
///
/// # Units
/// `u`, `x` shares of slope and width; `area_mm2` is kept for the record only, as the table has no area effect.
pub fn component_pressure<T: Trace>(
    surface: &Surface,
    q_pa: f64,
    below: Below,
    u: [f64; 2],
    x: [f64; 2],
    area_mm2: f64,
    trace: &mut T,
) -> ComponentPressure {
    let near = |[from, to]: [f64; 2]| from < 0.1 || to > 0.9;
    let (at_edge, at_end) = (near(u), near(x));
    let mut zones = vec![CanopyZone::A];
    zones.extend(at_end.then_some(CanopyZone::B));
    zones.extend(at_edge.then_some(CanopyZone::C));
    let (mut onto, mut off) = (0.0f64, 0.0f64);
    for zone in zones {
        for (blockage, ..) in flows(below) {
            let [down, up] = coefficients(zone, surface.tilt_deg, blockage);
            onto = onto.max(down);
            off = off.min(up);
        }
    }
    if surface.tilt_deg > 30.0 {
        onto = onto.max(SIGNBOARD_C_F);
        off = off.min(-SIGNBOARD_C_F);
    }
    let [onto, off] = [onto, off].map(|c| force_pressure(c, q_pa, LOCAL, trace).abs());
    let zone = match (at_edge, at_end) {
        (true, true) => Zone::Corner,
        (false, false) => Zone::Inside,
        _ => Zone::Edge,
    };
    let steep = surface.tilt_deg > 30.0;
    ComponentPressure {
        zone,
        area_mm2,
        onto_face_pa: onto,
        off_face_pa: off,
        state: if steep {
            RangeState::Judgement(Envelope::J2, "the canopy table ends at 30°; its 30° values are held")
        } else {
            RangeState::Published
        },
        sources: if steep { vec![LOCAL, PLACES, STEEP] } else { vec![LOCAL, PLACES] },
    }
}
