//! How far a bolt must stand from edges, ends and its neighbours.
//!
//! Wood, D ≥ 1/4 in: NDS-2018 Tables 12.5.1A–E (one transcription). Load along the grain of softwood towards an end:
//! 7D for full strength, 3.5D at the least. Load across the grain: 4D to the loaded edge; a load that reverses has
//! two loaded edges. The next empty hole of a row counts as an end: wood between pin and hole can shear out.
//! Steel and aluminium: 1.5d to edges, 3d between centres (AISC 360-16 §J3.3 preferred spacing; edges above
//! Table J3.4, which starts at 1/2 in).

use crate::catalogue::{Bolt, Family, Screw, ScrewKind, Section};

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
