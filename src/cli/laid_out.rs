//! What most commands begin with: read the design, choose its tilts, lay out its frame.

use super::{args::Common, exit::Failure};
use crate::{
    design::{self, Design, Fault, Tilts},
    frame::{self, Frame, Refusal},
    quantities::{Angle, Tape, Units, deg, to_deg},
    sun::{
        Place,
        seasons::{MOST_SEASONS, SeasonPlan, Study},
    },
};
use std::path::{Path, PathBuf};

/// The design file a command works on.
#[derive(Debug, clap::Args)]
pub(super) struct DesignArg {
    /// Design file; the built-in design when not given
    #[arg(value_name = "DESIGN")]
    pub(super) design: Option<PathBuf>,
}

/// A design, read and laid out.
pub(super) struct LaidOut {
    pub(super) design: Design,
    /// Laid out on the tape of the design's own units: what is computed from it is the same in any other.
    pub(super) frame: Frame,
    /// What results are shown in.
    pub(super) units: Units,
    /// Where the design's fields stand.
    pub(super) places: design::Places,
    /// The plan the tilts come from; nothing where the design gives its tilts.
    chosen: Option<Seasons>,
}

impl LaidOut {
    /// Reads and lays out; every refusal becomes a fault with its place and the changes that work.
    pub(super) fn set_up(file: Option<&Path>, common: &Common) -> Result<Self, Failure> {
        Self::of(design::read(file)?, common)
    }

    /// When to change between the tilts that are drilled.
    pub(super) fn seasons(&self) -> Result<Seasons, Fault> {
        self.chosen.clone().map_or_else(|| Seasons::of(&self.design), Ok)
    }

    /// The frame as it is marked with the tape of the units that are shown.
    pub(super) fn marked(&self) -> Frame {
        self.frame.marked_on(&self.design, Tape::of(self.units))
    }

    /// The same for a design that is read already.
    pub(super) fn of(read: design::Read, common: &Common) -> Result<Self, Failure> {
        let design::Read { design, places } = read;
        let faults: Vec<Fault> = design
            .load_faults()
            .into_iter()
            .map(|f| {
                let place = places.of(&f.field);
                f.at(place)
            })
            .collect();
        if !faults.is_empty() {
            return Err(Failure::Input(faults));
        }
        let units = common.units_or(design.units);
        let tape = Tape::of(design.units);
        let (tilts, chosen) = match &design.tilts {
            Tilts::Given(tilts) => (tilts.clone(), None),
            Tilts::Seasons(_) => {
                let seasons = Seasons::of(&design)?;
                (seasons.tilts(), Some(seasons))
            }
        };
        match frame::lay_out(&design, &tilts, tape) {
            Ok(frame) => Ok(Self { design, frame, units, places, chosen }),
            Err(refusals) => {
                let mut remedies = frame::remedies(&design, &tilts, tape, &refusals);
                if let (Tilts::Seasons(count), Some(chosen)) = (&design.tilts, &chosen) {
                    remedies.extend(fewer_seasons(&design, &chosen.study, *count, tape));
                }
                let mut faults: Vec<Fault> = Refusal::faults(&refusals, units)
                    .into_iter()
                    .map(|(refusal, fault)| placed(refusal, fault, &places))
                    .collect();
                // A way out mends all of them, so it is told once, after the last.
                if let Some(last) = faults.last_mut() {
                    last.hints.extend(remedies.iter().map(frame::Remedy::words));
                    if remedies.is_empty() {
                        last.hints.push(NO_WAY_OUT.to_string());
                    }
                }
                Err(Failure::Input(faults))
            }
        }
    }
}

/// What is left to try when neither one field nor two help.
const NO_WAY_OUT: &str =
    "no change of one or two fields was found that works; `tiltwright new --list` names ready designs to start from";

/// The most seasons below those asked for whose tilts one frame can hold.
fn fewer_seasons(design: &Design, study: &Study, count: usize, tape: Tape) -> Option<frame::Remedy> {
    let holds = |count: &usize| {
        let plan = study.plan_for_frame(*count, design.goal, swing());
        let tilts = plan.map(|plan| plan.seasons.iter().map(|season| season.tilt).collect::<Vec<_>>());
        tilts.is_ok_and(|tilts| frame::lay_out(design, &tilts, tape).is_ok())
    };
    let fewer = (1..count).rev().find(holds)?;
    Some(frame::Remedy::one(design, "seasons", Some(fewer.to_string())))
}

fn placed(refusal: &Refusal, mut fault: Fault, places: &design::Places) -> Fault {
    if fault.field == "tilts" && places.of("tilts").is_none() {
        fault.field = "seasons".to_string();
    }
    let place = places.of(&fault.field);
    let mut fault = fault.at(place);
    if refusal.tilt_deg().is_some()
        && !["tilts", "seasons"].contains(&fault.field.as_str())
        && let Some(tilts) = places.of("tilts").or_else(|| places.of("seasons"))
    {
        fault.also.push((tilts, "asked for here".to_string()));
    }
    fault
}

/// The tilts of a design: as given, or those of the best plan of so many seasons at its place.
pub(super) fn tilts(design: &Design) -> Result<Vec<Angle>, Failure> {
    match &design.tilts {
        Tilts::Given(tilts) => Ok(tilts.clone()),
        Tilts::Seasons(_) => Ok(Seasons::of(design)?.tilts()),
    }
}

/// The sun over a design, and when to change between the tilts it is drilled for: the one plan that holes, card, page,
/// calendar and `tilts` are made from.
#[derive(Debug, Clone)]
pub(super) struct Seasons {
    pub(super) study: Study,
    pub(super) plan: SeasonPlan,
}

impl Seasons {
    /// At the place of the design. Tilts depend on the latitude: the longitude moves a date by half a day, the height of the
    /// ground a tilt by one degree. So both are left out, here and in `tilts --latitude`.
    pub(super) fn of(design: &Design) -> Result<Self, Fault> {
        let place = Place::on_latitude(design.site.latitude).map_err(Fault::from)?;
        let study = Study::of(&place).map_err(Fault::from)?;
        let plan = season_plan(&study, design, None)?;
        Ok(Self { study, plan })
    }

    /// The tilt of each season.
    fn tilts(&self) -> Vec<Angle> {
        self.plan.seasons.iter().map(|season| season.tilt).collect()
    }
}

/// What whole degrees a frame is drilled for: flatter ones do not drain, steeper ones have no hole.
pub(super) fn swing() -> [Angle; 2] {
    const LEAST_DEG: f64 = 5.0;
    [deg(LEAST_DEG), deg(frame::MOST_TILT_DEG)]
}

/// The plan of a design: as many seasons as it asks for, or its own tilts on their best days. The year runs down the
/// tilts and up again, so k tilts serve 2 k − 2 seasons unless `most` says otherwise.
pub(super) fn season_plan(study: &Study, design: &Design, most: Option<usize>) -> Result<SeasonPlan, Fault> {
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
pub(super) fn distinct(tilts: &[Angle]) -> Vec<Angle> {
    let mut kinds: Vec<f64> = tilts.iter().map(|tilt| to_deg(*tilt)).collect();
    kinds.sort_by(f64::total_cmp);
    kinds.dedup();
    kinds.into_iter().map(deg).collect()
}
