//! Which tilts a design is drilled for, and when to change between them.

use super::hole_row::MOST_TILT_DEG;
use crate::{
    design::{Design, Fault, Tilts},
    quantities::{Angle, deg, to_deg},
    sun::{
        Place,
        seasons::{MOST_SEASONS, SeasonPlan, Study},
    },
};

/// The sun over a design, and when to change between the tilts it is drilled for: the one plan that holes, card, page,
/// calendar and `tilts` are made from.
#[derive(Debug, Clone)]
pub struct Seasons {
    /// The sun at the design's latitude.
    pub study: Study,
    /// The tilts and their dates.
    pub plan: SeasonPlan,
}

impl Seasons {
    /// At the place of the design. Tilts depend on the latitude: the longitude moves a date by half a day, the height of the
    /// ground a tilt by one degree. So both are left out, here and in `tilts --latitude`.
    ///
    /// # Errors
    /// A latitude or a number of seasons that no plan is made for.
    pub(super) fn of(design: &Design) -> Result<Self, Fault> {
        let place = Place::on_latitude(design.site.latitude).map_err(Fault::from)?;
        let study = Study::of(&place).map_err(Fault::from)?;
        let plan = season_plan(&study, design, None)?;
        Ok(Self { study, plan })
    }

    /// The tilt of each season.
    pub(super) fn tilts(&self) -> Vec<Angle> {
        self.plan.seasons.iter().map(|season| season.tilt).collect()
    }
}

/// What whole degrees a frame is drilled for: flatter ones do not drain, steeper ones have no hole.
pub(crate) fn swing() -> [Angle; 2] {
    const LEAST_DEG: f64 = 5.0;
    [deg(LEAST_DEG), deg(MOST_TILT_DEG)]
}

/// The plan of a design: as many seasons as it asks for, or its own tilts on their best days. The year runs down the
/// tilts and up again, so k tilts serve 2 k − 2 seasons unless `most` says otherwise.
pub(crate) fn season_plan(study: &Study, design: &Design, most: Option<usize>) -> Result<SeasonPlan, Fault> {
    match &design.tilts {
        Tilts::Seasons(count) => study.plan_for_frame(*count, design.goal, swing()),
        Tilts::Given(tilts) => {
            let serves = (2 * distinct(tilts).len()).saturating_sub(2).clamp(1, MOST_SEASONS);
            study.plan_from(tilts, most.unwrap_or(serves), design.goal)
        }
    }
    .map_err(Fault::from)
}

/// Each tilt once, flattest first.
pub(crate) fn distinct(tilts: &[Angle]) -> Vec<Angle> {
    let mut kinds: Vec<f64> = tilts.iter().map(|tilt| to_deg(*tilt)).collect();
    kinds.sort_by(f64::total_cmp);
    kinds.dedup();
    kinds.into_iter().map(deg).collect()
}
