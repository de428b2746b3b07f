//! A design as later rooms take it: its tilts decided, its frame laid out, every refusal at its place in the file.

use super::{
    Frame, Refusal, Remedy, lay_out, remedies,
    tilts::{Seasons, swing},
};
use crate::{
    design::{Design, Fault, Places, Read, Tilts},
    quantities::{Angle, Tape, Units},
    sun::seasons::Study,
};

/// A design, the tilts it is drilled for, and the frame that holds them.
#[derive(Debug, Clone)]
pub struct LaidOut {
    /// The design.
    pub design: Design,
    /// Where its fields stand.
    pub places: Places,
    /// Each tilt as the frame was asked for it.
    pub tilts: Vec<Angle>,
    /// Laid out on the tape of the design's own units: what is computed from it is the same in any other.
    pub frame: Frame,
    /// What results are shown in.
    pub units: Units,
    /// The plan the tilts come from; nothing where the design gives its tilts.
    chosen: Option<Seasons>,
}

impl LaidOut {
    /// Decides the tilts and lays the frame out, to be shown in some units; those of the design where none are named.
    ///
    /// # Errors
    /// Every refusal, each with its place, and after the last one the changes that work.
    pub fn of(read: Read, units: Option<Units>) -> Result<Self, Vec<Fault>> {
        let Read { design, places } = read;
        let (units, tape) = (units.unwrap_or(design.units), Tape::of(design.units));
        let (tilts, chosen) = match &design.tilts {
            Tilts::Given(tilts) => (tilts.clone(), None),
            Tilts::Seasons(_) => {
                let seasons = Seasons::of(&design).map_err(|fault| vec![fault])?;
                (seasons.tilts(), Some(seasons))
            }
        };
        match lay_out(&design, &tilts, tape) {
            Ok(frame) => Ok(Self { design, places, tilts, frame, units, chosen }),
            Err(refusals) => {
                let mut ways_out = remedies(&design, &tilts, tape, &refusals);
                if let (Tilts::Seasons(count), Some(chosen)) = (&design.tilts, &chosen) {
                    ways_out.extend(fewer_seasons(&design, &chosen.study, *count, tape));
                }
                let mut faults: Vec<Fault> = Refusal::faults(&refusals, units)
                    .into_iter()
                    .map(|(refusal, fault)| placed(refusal, fault, &places))
                    .collect();
                // A way out mends all of them, so it is told once, after the last.
                if let Some(last) = faults.last_mut() {
                    last.hints.extend(ways_out.iter().map(Remedy::words));
                    if ways_out.is_empty() {
                        last.hints.push(NO_WAY_OUT.to_string());
                    }
                }
                Err(faults)
            }
        }
    }

    /// When to change between the tilts that are drilled.
    ///
    /// # Errors
    /// A latitude that no plan is made for.
    pub fn seasons(&self) -> Result<Seasons, Fault> {
        self.chosen.clone().map_or_else(|| Seasons::of(&self.design), Ok)
    }

    /// The frame as it is marked with the tape of the units that are shown.
    #[must_use]
    pub fn marked(&self) -> Frame {
        self.frame.marked_on(&self.design, Tape::of(self.units))
    }
}

/// What is left to try when neither one field nor two help.
const NO_WAY_OUT: &str =
    "no change of one or two fields was found that works; `tiltwright new --list` names ready designs to start from";

/// The most seasons below those asked for whose tilts one frame can hold.
fn fewer_seasons(design: &Design, study: &Study, count: usize, tape: Tape) -> Option<Remedy> {
    let holds = |count: &usize| {
        let plan = study.plan_for_frame(*count, design.goal, swing());
        let tilts = plan.map(|plan| plan.seasons.iter().map(|season| season.tilt).collect::<Vec<_>>());
        tilts.is_ok_and(|tilts| lay_out(design, &tilts, tape).is_ok())
    };
    let fewer = (1..count).rev().find(holds)?;
    Some(Remedy::one(design, "seasons", Some(fewer.to_string())))
}

fn placed(refusal: &Refusal, mut fault: Fault, places: &Places) -> Fault {
    if fault.field == "tilts" && places.of("tilts").is_none() {
        fault.field = "seasons".to_string();
    }
    let mut fault = places.point_out(fault);
    if refusal.tilt_deg().is_some()
        && !["tilts", "seasons"].contains(&fault.field.as_str())
        && let Some(tilts) = places.of("tilts").or_else(|| places.of("seasons"))
    {
        fault.also.push((tilts, "asked for here".to_string()));
    }
    fault
}
