//! What is wrong with a joint as it would be placed: said to the builder, with the numbers, beside the layout.

use crate::quantities::{Units, angle, deg, length, mm};

/// One thing that keeps a fastener from its place, or lets it stand in another. Lengths in mm.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum JointFault {
    TooManyScrews { field: &'static str, count: usize, most: usize },
    ScrewTooShort { field: &'static str, screw: &'static str, found_mm: f64, needed_mm: f64 },
    ScrewTooLong { field: &'static str, screw: &'static str, found_mm: f64, most_mm: f64 },
    LagSplitsEnd { what: &'static str, screw: &'static str, found_mm: f64, needed_mm: f64 },
    ClipsWithoutHoles { given: usize, holes: usize },
    ClipOutOfReach { from_face_mm: f64, least_mm: f64, most_mm: f64 },
    Fouls { tilt_deg: Option<f64>, one: String, other: String, overlap_mm: f64 },
}

impl JointFault {
    /// One lower-case line in the reader's units.
    pub(super) fn sentence(&self, units: Units) -> String {
        let l = |value: f64| length(mm(value), units);
        match self {
            Self::TooManyScrews { field, count, most } => {
                format!("`{field}.count`: {count} screws do not find room in one joint, {most} at the most")
            }
            Self::ScrewTooShort { field, screw, found_mm, needed_mm } => format!(
                "`{field}.length`: a {screw} screw of {} does not reach far enough into the second piece, {} is the least",
                l(*found_mm),
                l(*needed_mm)
            ),
            Self::ScrewTooLong { field, screw, found_mm, most_mm } => format!(
                "`{field}.length`: a {screw} screw of {} comes out at the far side, {} is the most",
                l(*found_mm),
                l(*most_mm)
            ),
            Self::LagSplitsEnd { what, screw, found_mm, needed_mm } => format!(
                "`joints.corner.screw`: the {screw} screw stands {} from the end of the {what} and splits it, {} is the least: take a thinner one",
                l(*found_mm),
                l(*needed_mm)
            ),
            Self::ClipsWithoutHoles { given, holes } => format!(
                "`joints.clips_per_panel`: {given} clips to a panel, but `panel.mounting_holes` tells {holes} holes for their bolts; {holes} clips are placed"
            ),
            Self::ClipOutOfReach { from_face_mm, least_mm, most_mm } => format!(
                "the panel's mounting hole lies {} from the face of the member, where a clip reaches holes from {} to {}",
                l(*from_face_mm),
                l(*least_mm),
                l(*most_mm)
            ),
            Self::Fouls { tilt_deg, one, other, overlap_mm } => {
                let at = tilt_deg.map_or_else(String::new, |tilt| format!("at {} ", angle(deg(tilt))));
                format!("{at}the {one} stands {} into the {other}", l(*overlap_mm))
            }
        }
    }
}
