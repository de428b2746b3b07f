//! From a frame at a tilt to nodes, members and supports.

use super::{builder::Builder, skeleton::Skeleton};
use crate::{
    analysis::Model,
    catalogue::NotHeld,
    design::{Design, StrengthBasis},
    frame::{Frame, Stands},
};
use std::collections::BTreeMap;

/// The model of a frame in the hole `row` of its row.
///
/// # Errors
/// Species and grade that no table holds for a section of the frame.
pub fn build(design: &Design, frame: &Frame, basis: &StrengthBasis, row: usize) -> Result<Skeleton, NotHeld> {
    let tilt_deg = frame.row[row].reached_deg;
    let mut builder = Builder {
        frame,
        design,
        basis,
        tilt_rad: tilt_deg.to_radians(),
        row,
        model: Model::new(format!("{} at {tilt_deg:.2} deg", design.name)),
        rods: Vec::new(),
        links: Vec::new(),
        stays: Vec::new(),
        braces: Vec::new(),
        places: Vec::new(),
        sections: BTreeMap::new(),
        names: BTreeMap::new(),
        grounded: Vec::new(),
        at_grade: Vec::new(),
        holds: Vec::new(),
        ballast: Vec::new(),
    };
    builder.take_sticks();
    builder.take_sections()?;
    builder.join();
    let seats = builder.seat_panels();
    builder.stays();
    builder.stand();
    builder.members();
    Ok(Skeleton {
        tilt_deg,
        model: builder.model,
        rods: builder.rods,
        links: builder.links,
        stays: builder.stays,
        braces: builder.braces,
        seats,
        places: builder.places,
        grounded: builder.grounded,
        at_grade: builder.at_grade,
        holds: builder.holds,
        ballast: builder.ballast,
    })
}

impl Builder<'_> {
    fn stand(&mut self) {
        for foot in &self.frame.feet {
            match foot.stands {
                Stands::InConcrete { depth_mm, hole_diameter_mm } => {
                    self.stand_in_soil(foot.stick, depth_mm, hole_diameter_mm);
                }
                Stands::OnGround | Stands::OnRoof | Stands::OnDeck => self.lie_on_surface(foot),
            }
        }
    }
}
