//! How far a bolt must stand from edges, ends and its neighbours.
//!
//! Wood, D ≥ 1/4 in: NDS-2018 Tables 12.5.1A–E (one transcription). Load along the grain of softwood towards an end:
//! 7D for full strength, 3.5D at the least. Load across the grain: 4D to the loaded edge; a load that reverses has
//! two loaded edges. The next empty hole of a row counts as an end: wood between pin and hole can shear out.
//! Steel and aluminium: 1.5d to edges, 3d between centres (AISC 360-16 §J3.3 preferred spacing; edges above
//! Table J3.4, which starts at 1/2 in).

use crate::{
    catalogue::{Bolt, Family, Screw, ScrewKind, Section, Shape, sections},
    quantities::MM_PER_INCH,
};

/// Share of the full distance that a row hole keeps at the least: 3.5D of 7D.
const HARD_SHARE: f64 = 0.5;

fn is_wood(section: &Section) -> bool {
    section.family == Family::Wood
}

/// From a bolt to an end it bears towards, for full strength (mm).
#[must_use]
pub fn end_mm(section: &Section, bolt: &Bolt) -> f64 {
    if is_wood(section) { 7.0 * bolt.diameter_mm } else { 1.5 * bolt.diameter_mm }
}

/// From a bolt to an edge, when its load crosses the piece and reverses (mm).
#[must_use]
pub fn reversing_edge_mm(section: &Section, bolt: &Bolt) -> f64 {
    if is_wood(section) { 4.0 * bolt.diameter_mm } else { 1.5 * bolt.diameter_mm }
}

/// From a bolt to an edge, when its load runs along the piece (mm).
#[must_use]
pub fn side_edge_mm(bolt: &Bolt) -> f64 {
    1.5 * bolt.diameter_mm
}

/// Workable gauges of steel angles: leg, and from its heel to the line of bolts (in).
///
/// # Source
/// AISC Manual Table 1-7A (three transcriptions agree; 1-3/8 in from one of them).
const GAUGES_IN: [[f64; 2]; 13] = [
    [1.0, 0.625],
    [1.25, 0.75],
    [1.375, 0.875],
    [1.5, 0.875],
    [1.75, 1.0],
    [2.0, 1.125],
    [2.5, 1.375],
    [3.0, 1.75],
    [3.5, 2.0],
    [4.0, 2.5],
    [5.0, 3.0],
    [6.0, 3.5],
    [8.0, 4.5],
];
/// Share of a leg that stands in no table; common practice, no source.
const GAUGE_SHARE: f64 = 0.57;

/// From the gauge face to the line where bolts stand (mm): the workable gauge of an angle, else the middle.
pub(super) fn gauge_mm(section: &Section) -> f64 {
    const SAME_IN: f64 = 0.02;
    if section.shape != Shape::Angle {
        return section.depth_mm / 2.0;
    }
    let leg_in = section.depth_mm / MM_PER_INCH;
    let tabled = GAUGES_IN.iter().find(|[leg, _]| (leg - leg_in).abs() < SAME_IN);
    MM_PER_INCH * tabled.map_or(GAUGE_SHARE * leg_in, |[_, gauge]| *gauge)
}

/// From the heel of an angle, or the outer face of a channel's flange, to where leg or web is flat (mm).
///
/// # Source
/// Angles: thickness and a fillet, of rolled steel an eighth of the leg (from memory), of aluminium none, as the
/// catalogue has them. Channels: half of what the table's flat depth of the web leaves.
fn heel_mm(section: &Section) -> f64 {
    match section.shape {
        Shape::Angle if section.family == Family::Steel => section.wall_mm + section.depth_mm / 8.0,
        Shape::Channel { web_slenderness, .. } => (section.depth_mm - web_slenderness * section.wall_mm) / 2.0,
        _ => section.wall_mm,
    }
}

/// Radius round a bolt's axis that its head, nut and washers take (mm).
pub(super) fn round_mm(bolt: &Bolt) -> f64 {
    bolt.washer.outer_mm.max(bolt.flats_mm * 2.0 / 3f64.sqrt()) / 2.0
}

/// From the heel or flange of an open section to a bolt whose head, nut and washers lie flat (mm); nothing where a
/// section has none.
pub(super) fn flat_mm(section: &Section, bolt: &Bolt) -> Option<f64> {
    section.is_open().then(|| heel_mm(section) + round_mm(bolt))
}

/// The smallest section of the same kind on whose gauge line the bolt lies flat and keeps its edge.
pub(super) fn smallest_that_takes(section: &Section, bolt: &Bolt) -> Option<&'static Section> {
    let kind = |of: &Section| (of.family, std::mem::discriminant(&of.shape));
    let takes = |of: &&Section| {
        let gauge = gauge_mm(of);
        let flat = flat_mm(of, bolt).is_none_or(|needed| gauge >= needed);
        kind(of) == kind(section) && flat && of.depth_mm - gauge >= side_edge_mm(bolt)
    };
    sections().iter().filter(takes).min_by(|a, b| a.area_mm2.total_cmp(&b.area_mm2))
}

/// From a screw to an edge (mm): lags like bolts along the grain; of thinner screws the advice for prebored holes.
///
/// # Source
/// NDS-2018 Table 12.5.1C, and its commentary's advice for nails and wood screws (one transcription each).
pub(super) fn screw_edge_mm(screw: &Screw) -> f64 {
    match screw.kind {
        ScrewKind::Lag => 1.5 * screw.diameter_mm,
        ScrewKind::WoodScrew | ScrewKind::CommonNail => 2.5 * screw.diameter_mm,
    }
}

/// From screw to screw, centre to centre, across the grain (mm); sources as for the edge.
pub(super) fn screw_apart_mm(screw: &Screw) -> f64 {
    3.0 * screw.diameter_mm
}

/// From bolt to bolt, centre to centre, for full strength (mm): 4D in wood, whichever way the load runs.
pub(super) fn spacing_mm(section: &Section, bolt: &Bolt) -> f64 {
    if is_wood(section) { 4.0 * bolt.diameter_mm } else { 3.0 * bolt.diameter_mm }
}

/// Wood (or steel) between a pin and the near edge of the next hole of its row, at the least (mm).
#[must_use]
pub fn row_least_mm(section: &Section, bolt: &Bolt) -> f64 {
    if is_wood(section) { HARD_SHARE * 7.0 * bolt.diameter_mm } else { 3.0 * bolt.diameter_mm - bolt.hole_mm / 2.0 }
}

/// Share of the pin's full strength that the distance to the next hole leaves [–]: the geometry factor.
#[must_use]
pub fn row_factor(section: &Section, bolt: &Bolt, clear_mm: f64) -> f64 {
    if is_wood(section) { (clear_mm / (7.0 * bolt.diameter_mm)).min(1.0) } else { 1.0 }
}
