//! What most commands begin with: read the design, choose its tilts, lay out its frame.

use super::{args::Common, exit::Failure};
use crate::{
    design::{self, Design, Fault, Tilts},
    frame::{self, Frame, Refusal},
    quantities::{Angle, Tape, Units, deg, to_deg},
    sun::{Place, seasons::Study},
};
use std::path::{Path, PathBuf};

/// The design file a command works on.
#[derive(Debug, clap::Args)]
pub(super) struct DesignArg {
    /// Design file; the built-in design when not given
    #[arg(value_name = "DESIGN")]
    pub(super) design: Option<PathBuf>,
}

/// A design on the bench.
pub(super) struct Bench {
    pub(super) design: Design,
    pub(super) frame: Frame,
    pub(super) units: Units,
    /// Where the design's fields stand.
    pub(super) places: design::Places,
    /// The sun the tilts were chosen by; nothing where the design gives its tilts.
    pub(super) study: Option<Study>,
}

impl Bench {
    /// Reads and lays out; every refusal becomes a fault with its place and the changes that work.
    pub(super) fn set_up(file: Option<&Path>, common: &Common) -> Result<Self, Failure> {
        Self::of(design::read(file)?, common)
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
        let tape = Tape::of(units);
        let (tilts, study) = chosen(&design)?;
        match frame::lay_out(&design, &tilts, tape) {
            Ok(frame) => Ok(Self { design, frame, units, places, study }),
            Err(refusals) => {
                let remedies = frame::remedies(&design, &tilts, tape, &refusals);
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

fn placed(refusal: &Refusal, fault: Fault, places: &design::Places) -> Fault {
    let place = places.of(&fault.field);
    let mut fault = fault.at(place);
    if refusal.tilt_deg().is_some()
        && fault.field != "tilts"
        && let Some(tilts) = places.of("tilts")
    {
        fault.also.push((tilts, "asked for here".to_string()));
    }
    fault
}

/// The tilts of a design: as given, or the best of so many seasons at its place.
pub(super) fn tilts(design: &Design) -> Result<Vec<Angle>, Failure> {
    Ok(chosen(design)?.0)
}

/// The tilts, and the sun they were chosen by where they were chosen.
fn chosen(design: &Design) -> Result<(Vec<Angle>, Option<Study>), Failure> {
    match &design.tilts {
        Tilts::Given(tilts) => Ok((tilts.clone(), None)),
        Tilts::Seasons(count) => {
            let place = Place::on_latitude(design.site.latitude).map_err(Fault::from)?;
            let study = Study::of(&place).map_err(Fault::from)?;
            let plan = study.plan(*count).map_err(Fault::from)?;
            // A flat season is drilled at the least tilt that still drains and has a hole.
            const LEAST_DEG: f64 = 5.0;
            Ok((plan.seasons.iter().map(|s| deg(to_deg(s.tilt).max(LEAST_DEG))).collect(), Some(study)))
        }
    }
}
