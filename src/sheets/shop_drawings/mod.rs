//! Shop drawings of one frame: everything that is measured, cut, drilled and put together.
//!
//! One sheet per drawing; what does not fit goes on to the next sheet, never over the border.

mod bench_card;
mod brace_template;
mod drafter;
mod drilling;
mod elevation;
mod faces;
mod from_above;
mod joint_details;
mod joints;
mod part_drawings;
mod parts;
mod seating;
mod setting_out;
mod side_view;
mod template;

pub use drafter::Drafter;
pub use side_view::Ray;

use super::sheet::{Sheet, number_sheets};

impl Drafter<'_> {
    /// All shop drawings of the frame in the order a builder uses them, numbered from 1. `rays` gives the sun rays to show at a tilt (deg).
    #[must_use]
    pub fn shop_drawings(&self, rays: &dyn Fn(f64) -> Vec<Ray>) -> Vec<Sheet> {
        let mut sheets = self.elevation();
        sheets.extend(self.parts());
        sheets.extend(self.drilling());
        sheets.extend(self.part_drawings());
        sheets.extend(self.plan_from_above());
        sheets.extend(self.setting_out());
        sheets.extend(self.side_views(rays));
        sheets.extend(self.joints());
        sheets.extend(self.joint_details());
        sheets.extend(self.seating());
        sheets.extend(self.bench_card());
        sheets.extend(self.row_template());
        sheets.extend(self.brace_template());
        number_sheets(&mut sheets);
        sheets
    }

    /// The full-size templates alone, numbered from 1: for paper of another size.
    #[must_use]
    pub fn templates(&self) -> Vec<Sheet> {
        let mut sheets = self.row_template();
        sheets.extend(self.brace_template());
        number_sheets(&mut sheets);
        sheets
    }
}
