//! Distances of bolts and lag screws from ends, edges and each other.

use crate::{
    catalogue::{Certainty, Source, Trace},
    codes::{Refusal, TooClose, within},
};

/// End distance.
pub const END: Source = Source::new("NDS-2018", "Table 12.5.1A", Certainty::Transcribed);
/// Spacing in a row.
pub const SPACING: Source = Source::new("NDS-2018", "Table 12.5.1B", Certainty::Transcribed);
/// Edge distance.
pub const EDGE: Source = Source::new("NDS-2018", "Table 12.5.1C", Certainty::Transcribed);
/// Spacing between rows.
pub const ROWS: Source = Source::new("NDS-2018", "Table 12.5.1D", Certainty::Transcribed);

/// How the fastener presses on a member.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GrainLoad {
    /// Angle between force and grain, 0 to 90 (deg).
    pub angle_deg: f64,
    /// Does the force ever press the fastener towards the nearer end?
    pub towards_end: bool,
    /// Does the force ever turn round (wind up, weight down)? Then either edge is a loaded edge.
    pub reversing: bool,
    /// Is the member a hardwood? Its end distances are shorter.
    pub hardwood: bool,
}

/// Where a fastener sits in a member (in).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Placing {
    /// Nominal diameter.
    pub diameter_in: f64,
    /// To the nearer end along the grain; in a hole row the next empty hole counts as the end.
    pub end_in: f64,
    /// To the edge the force presses towards.
    pub loaded_edge_in: f64,
    /// To the other edge.
    pub unloaded_edge_in: f64,
    /// To the next fastener of the row that carries load at the same time, if any.
    pub spacing_in: Option<f64>,
    /// To the next row that carries load at the same time, if any.
    pub row_spacing_in: Option<f64>,
    /// Lesser of l_m/D and total l_s/D.
    pub length_to_diameter: f64,
}

/// Full and least end distance (in).
///
/// ```text
/// towards the end, softwood 7 D … 4 D across the grain, by angle; hardwood 5 D … 4 D; away from the end 4 D
/// least: half of it
/// ```
///
/// # Source
/// NDS-2018 Table 12.5.1A; between along and across by angle as its commentary allows.
#[must_use]
pub fn end_distance_in(diameter_in: f64, load: &GrainLoad) -> [f64; 2] {
    let across = 4.0 * diameter_in;
    let along = match (load.towards_end || load.reversing, load.hardwood) {
        (false, _) => 4.0 * diameter_in,
        (true, true) => 5.0 * diameter_in,
        (true, false) => 7.0 * diameter_in,
    };
    let full = along + (across - along) * load.angle_deg / 90.0;
    [full, full / 2.0]
}

/// Least distances (in) to the loaded and to the unloaded edge.
///
/// Any force across the grain needs 4 D to the edge it presses towards, 1.5 D to the other; a force that turns round
/// has two loaded edges. Along the grain 1.5 D, and from l/D = 6 on half the row spacing if that is more.
#[must_use]
pub fn edge_distance_in(placing: &Placing, load: &GrainLoad) -> [f64; 2] {
    let d = placing.diameter_in;
    let plain = match placing.row_spacing_in {
        Some(rows) if placing.length_to_diameter > 6.0 => (1.5 * d).max(rows / 2.0),
        _ => 1.5 * d,
    };
    match (across_grain(load), load.reversing) {
        (false, _) => [plain, plain],
        (true, false) => [4.0 * d, plain],
        (true, true) => [4.0 * d, 4.0 * d],
    }
}

fn across_grain(load: &GrainLoad) -> bool {
    const ALONG_DEG: f64 = 0.01;
    load.angle_deg > ALONG_DEG
}

/// Least spacing between rows (in).
#[must_use]
pub fn row_spacing_in(diameter_in: f64, length_to_diameter: f64, across: bool) -> f64 {
    let (d, ratio) = (diameter_in, length_to_diameter);
    match () {
        () if !across => 1.5 * d,
        () if ratio <= 2.0 => 2.5 * d,
        () if ratio < 6.0 => (5.0 * ratio * d + 10.0 * d) / 8.0,
        () => 5.0 * d,
    }
}

/// Geometry factor C_Δ of one fastener in one member: the smallest of its distances over the full one.
///
/// # Errors
/// [`Refusal::TooClose`] below a least distance: there the joint is not allowed at all.
/// [`Refusal::OutsideRange`] for D below 1/4 in, where the tables do not apply.
///
/// # Source
/// NDS-2018 §12.5.1, Tables 12.5.1A to D.
pub fn geometry_factor<T: Trace>(trace: &mut T, placing: &Placing, load: &GrainLoad) -> Result<f64, Refusal> {
    let d = within("fastener diameter (in)", placing.diameter_in, [0.25, 1.0], END)?;
    within("load-to-grain angle (deg)", load.angle_deg, [0.0, 90.0], END)?;
    let [full, least] = end_distance_in(d, load);
    at_least("end distance", placing.end_in, least, END)?;
    let [loaded, unloaded] = edge_distance_in(placing, load);
    at_least("distance to the loaded edge", placing.loaded_edge_in, loaded, EDGE)?;
    at_least("distance to the unloaded edge", placing.unloaded_edge_in, unloaded, EDGE)?;
    let end = placing.end_in;
    let mut c_delta = (end / full).min(1.0);
    step!(trace, "geometry factor of the end distance", c_delta [""] = "min(end/full, 1)", { end ["in"], full ["in"] }, END);
    if let Some(spacing) = placing.spacing_in {
        at_least("spacing in the row", spacing, 3.0 * d, SPACING)?;
        let c_end = c_delta;
        c_delta = c_end.min(if across_grain(load) && load.angle_deg > 45.0 { 1.0 } else { spacing / (4.0 * d) });
        if load.angle_deg <= 45.0 {
            step!(trace, "geometry factor of the spacing", c_delta [""] = "min(c_end, spacing/(4*d))", { c_end [""], spacing ["in"], d ["in"] }, SPACING);
        }
    }
    if let Some(rows) = placing.row_spacing_in {
        let least = row_spacing_in(d, placing.length_to_diameter, across_grain(load));
        at_least("spacing between rows", rows, least, ROWS)?;
    }
    Ok(c_delta)
}

/// Tolerance on distances that come from sixteenths and millimetres (in).
const ROUNDING_IN: f64 = 1e-6;

fn at_least(what: &'static str, given_in: f64, least_in: f64, source_of: Source) -> Result<(), TooClose> {
    if given_in >= least_in - ROUNDING_IN { Ok(()) } else { Err(TooClose { what, given_in, least_in, source_of }) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Silent;

    fn centred(d: f64, depth: f64) -> Placing {
        Placing {
            diameter_in: d,
            end_in: 7.0 * d,
            loaded_edge_in: depth / 2.0,
            unloaded_edge_in: depth / 2.0,
            spacing_in: None,
            row_spacing_in: None,
            length_to_diameter: 3.0,
        }
    }

    const WIND_ACROSS: GrainLoad = GrainLoad { angle_deg: 90.0, towards_end: true, reversing: true, hardwood: false };

    #[test]
    fn a_load_that_turns_round_needs_eight_diameters_of_depth() {
        // 3/8 in needs 3.0 in of depth, 1/2 in 4.0, 5/8 in 5.0, 3/4 in 6.0.
        for (d, passes, fails) in [(0.375, 3.5, 2.5), (0.5, 5.5, 3.5), (0.625, 5.5, 3.5), (0.75, 7.25, 5.5)] {
            assert_eq!(geometry_factor(&mut Silent, &centred(d, passes), &WIND_ACROSS), Ok(1.0), "{d}");
            let refused = geometry_factor(&mut Silent, &centred(d, fails), &WIND_ACROSS).expect_err("two loaded edges");
            assert!(matches!(refused, Refusal::TooClose(t) if t.least_in == 4.0 * d), "{refused}");
        }
    }

    #[test]
    fn distances_are_those_of_the_printed_table() {
        // D: 1.5D, 2D, 3D, 3.5D, 4D, 7D (in), rounded to 0.01.
        let along = GrainLoad { angle_deg: 0.0, towards_end: true, reversing: false, hardwood: false };
        for (d, least_edge, least_end, full_end) in
            [(0.375, 0.56, 1.31, 2.63), (0.5, 0.75, 1.75, 3.5), (0.75, 1.13, 2.63, 5.25)]
        {
            let [full, least] = end_distance_in(d, &along);
            assert!((full - full_end).abs() < 0.0051 && (least - least_end).abs() < 0.0051);
            assert!((edge_distance_in(&centred(d, 3.5), &along)[0] - least_edge).abs() < 0.0051);
        }
        let away = GrainLoad { towards_end: false, ..along };
        assert_eq!(end_distance_in(0.5, &away), [2.0, 1.0]);
        let oblique = GrainLoad { angle_deg: 45.0, ..along };
        assert_eq!(end_distance_in(0.5, &oblique)[0], 2.75);
    }

    #[test]
    fn a_short_end_lowers_the_value_down_to_one_half() {
        let along = GrainLoad { angle_deg: 0.0, towards_end: true, reversing: false, hardwood: false };
        let at = |end_in| geometry_factor(&mut Silent, &Placing { end_in, ..centred(0.5, 3.5) }, &along);
        assert_eq!(at(2.625), Ok(0.75));
        assert_eq!(at(1.75), Ok(0.5));
        assert!(matches!(at(1.7), Err(Refusal::TooClose(_))));
        let spaced = Placing { spacing_in: Some(1.5), ..centred(0.5, 3.5) };
        assert_eq!(geometry_factor(&mut Silent, &spaced, &along), Ok(0.75));
    }

    #[test]
    fn row_spacing_grows_with_slender_bolts() {
        assert_eq!(row_spacing_in(0.5, 2.0, true), 1.25);
        assert_eq!(row_spacing_in(0.5, 4.0, true), 1.875);
        assert_eq!(row_spacing_in(0.5, 6.0, true), 2.5);
        assert_eq!(row_spacing_in(0.5, 6.0, false), 0.75);
    }
}
