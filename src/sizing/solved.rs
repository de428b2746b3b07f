//! One solved model, with the checks of all candidates that share it.
//!
//! Screws, clips and the hole in the ground are no part of the model: candidates that differ in nothing else share its
//! forces, and those that also share the screws of a joint share its checks. What is shared is looked at once; the rows
//! of a candidate are the same as in a report of its own.

use super::{
    judged::{Judged, LeftOpen},
    refused::{SizeError, basis_of, nothing_known},
    space::{Axis, Space},
};
use crate::{
    checks::{
        model::run_tilts,
        verify::{Backing, CheckGroup, Findings, look, report},
    },
    design::Design,
    frame::Frame,
};
use std::collections::BTreeMap;

/// Values of one group that are looked at before any candidate asks for them.
const MOST_AHEAD: usize = 48;

/// Checks of one model.
pub(super) struct Solved {
    frame: Frame,
    backing: Backing,
    /// By group, and by the number of a candidate with all other fields at their first value.
    found: BTreeMap<(CheckGroup, usize), Findings>,
}

/// What a candidate shares with those that a group cannot tell apart.
fn key(space: &Space, group: CheckGroup, candidate: usize) -> usize {
    space.shared(candidate, |axis| axis.group() == Some(group))
}

impl Solved {
    /// Solves the model of a design and looks at every group for these candidates, and for others where there are few.
    pub(super) fn of(
        space: &Space,
        design: &Design,
        frame: Frame,
        candidates: impl Iterator<Item = usize>,
    ) -> Result<Self, SizeError> {
        let basis = basis_of(design)?;
        let runs = run_tilts(design, &frame, &basis).map_err(SizeError::Structure)?;
        let candidates: Vec<usize> = candidates.collect();
        let mut found = BTreeMap::new();
        for group in CheckGroup::ALL {
            let varies = |axis: &Axis| axis.group() == Some(group) && !space.moves_the_model(axis);
            let ahead = candidates.first().into_iter().flat_map(|&first| space.others(first, varies, MOST_AHEAD));
            for candidate in candidates.iter().copied().chain(ahead) {
                let key = key(space, group, candidate);
                if found.contains_key(&(group, key)) {
                    continue;
                }
                // Values that do not go together, and screws that find no room, make no candidate.
                let Ok(design) = space.design(candidate) else { continue };
                let mut frame = frame.clone();
                if frame.stand_as(&design).is_err() {
                    continue;
                }
                let basis = basis_of(&design)?;
                found.insert((group, key), look(group, &design, &frame, &basis, &runs));
            }
        }
        Ok(Self { backing: Backing::of(&runs), frame, found })
    }

    fn findings(&self, space: &Space, candidate: usize) -> Option<Vec<&Findings>> {
        CheckGroup::ALL.into_iter().map(|group| self.found.get(&(group, key(space, group, candidate)))).collect()
    }

    /// Was everything looked at that this candidate needs?
    pub(super) fn covers(&self, space: &Space, candidate: usize) -> bool {
        self.findings(space, candidate).is_some()
    }

    /// Judges a candidate by every check.
    pub(super) fn judge(&self, space: &Space, left_open: &LeftOpen, candidate: usize, amount: i64) -> Judged {
        let known = self.findings(space, candidate).and_then(|found| found.try_into().ok());
        let (Some(found), Ok(design)) = (known, space.design(candidate)) else {
            return nothing_known(candidate, amount, "its values do not go together".to_string());
        };
        match basis_of(&design) {
            Ok(basis) => {
                left_open.judge(candidate, amount, &report(&design, &self.frame, &basis, &self.backing, found))
            }
            Err(error) => nothing_known(candidate, amount, error.why()),
        }
    }

    /// The number of a tilt, lowest first.
    pub(super) fn tilt(&self, tilt_deg: f64) -> Option<usize> {
        self.frame.reached().iter().position(|(t, _)| (t - tilt_deg).abs() < 1e-6)
    }
}
