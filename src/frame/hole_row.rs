//! The holes that hold the tilts: exact, as taped, and the tilt each really gives.

use super::{distance, linkage::Linkage, refusal::Refusal};
use crate::{
    catalogue::{Bolt, Section},
    design::SAME_TILT_DEG,
    quantities::Tape,
};

/// One hole of the row.
#[derive(Debug, Clone, PartialEq)]
pub struct Setting {
    /// Tilts asked for that share this hole (deg).
    pub tilts_deg: Vec<f64>,
    /// Offset that would hold the first of them exactly (mm).
    pub exact_mm: f64,
    /// Offset on the tape (mm).
    pub offset_mm: f64,
    /// From the marked cut end of the drilled piece, on the tape (mm).
    pub from_end_mm: f64,
    /// Tilt really reached (deg).
    pub reached_deg: f64,
    /// Turn of the tilt for one millimetre of error in the hole (deg/mm).
    pub deg_per_mm: f64,
    /// Lever arm of the stay as a share of the pin radius (–).
    pub lever_share: f64,
    /// Wood left to the next hole, edge to pin (mm); none for a single hole.
    pub clear_mm: Option<f64>,
    /// Share of the pin's full strength that this distance leaves (–).
    pub factor: f64,
}

/// The least lever arm of a stay about the turning bolt, as a share of the pin's radius. Judgement: at a quarter the
/// stay carries four times the force it would carry square to the radius.
pub const LEAST_LEVER_SHARE: f64 = 0.25;

/// Tilts lower than this are no holes of a row: flat is held by a lock bolt. Judgement.
pub const LEAST_TILT_DEG: f64 = 3.0;

/// The highest tilt of any row (deg).
pub const MOST_TILT_DEG: f64 = 85.0;

/// Finds the row for all tilts; `datum_mm` is the place of the row's origin from the marked cut end.
pub(super) fn find(
    linkage: &Linkage,
    tilts_deg: &[f64],
    datum_mm: f64,
    tape: Tape,
    piece: &Section,
    pin: &'static Bolt,
) -> Result<Vec<Setting>, Vec<Refusal>> {
    let mut refusals = Vec::new();
    let mut holes: Vec<Setting> = Vec::new();
    for &tilt_deg in tilts_deg {
        if !(0.0..=MOST_TILT_DEG).contains(&tilt_deg) {
            refusals.push(Refusal::TiltOutsideSwing { tilt_deg, least_deg: LEAST_TILT_DEG, most_deg: MOST_TILT_DEG });
            continue;
        }
        if tilt_deg < LEAST_TILT_DEG {
            refusals.push(Refusal::FlatIsALock { tilt_deg, least_deg: LEAST_TILT_DEG });
            continue;
        }
        match hole(linkage, tilt_deg, datum_mm, tape) {
            Err(refusal) => refusals.push(refusal),
            // What a step of the tape cannot tell apart is one hole.
            Ok(hole) => match holes.iter_mut().find(|h| (h.exact_mm - hole.exact_mm).abs() <= tape.mark_mm()) {
                Some(shared) => {
                    if shared.tilts_deg.iter().all(|other| (other - tilt_deg).abs() >= SAME_TILT_DEG) {
                        shared.tilts_deg.push(tilt_deg);
                    }
                }
                None => holes.push(hole),
            },
        }
    }
    holes.sort_by(|a, b| a.offset_mm.total_cmp(&b.offset_mm));
    for i in 0..holes.len() {
        let tilt_deg = holes[i].tilts_deg[0];
        if let Some((clear, other)) = nearest(&holes, i, pin) {
            let needed_mm = distance::row_least_mm(piece, pin);
            if clear < needed_mm && other > i {
                let other_deg = holes[other].tilts_deg[0];
                refusals.push(Refusal::HolesTooClose {
                    tilt_deg,
                    other_deg,
                    found_mm: clear,
                    needed_mm,
                    bolt: pin.name,
                });
            }
            holes[i].clear_mm = Some(clear);
            holes[i].factor = distance::row_factor(piece, pin, clear);
        }
        if holes[i].lever_share < LEAST_LEVER_SHARE {
            refusals.push(Refusal::LeverTooSmall { tilt_deg, share: holes[i].lever_share, needed: LEAST_LEVER_SHARE });
        }
    }
    if refusals.is_empty() { Ok(holes) } else { Err(refusals) }
}

fn hole(linkage: &Linkage, tilt_deg: f64, datum_mm: f64, tape: Tape) -> Result<Setting, Refusal> {
    let tilt_rad = tilt_deg.to_radians();
    let exact_mm = linkage.offset_mm(tilt_rad).map_err(|out| Refusal::StayTooShort {
        tilt_deg,
        stay_mm: out.stay_mm,
        needed_mm: out.needed_mm,
    })?;
    let marked = mark(linkage, tilt_deg, exact_mm, datum_mm, tape);
    if !marked.reached_deg.is_finite() {
        return Err(Refusal::StayTooShort {
            tilt_deg,
            stay_mm: linkage.stay_mm(marked.offset_mm),
            needed_mm: linkage.stay_mm(marked.offset_mm) + tape.mark_mm(),
        });
    }
    Ok(marked)
}

/// The hole at the mark next to its exact place.
fn mark(linkage: &Linkage, tilt_deg: f64, exact_mm: f64, datum_mm: f64, tape: Tape) -> Setting {
    // The datum stands on a mark, so what is measured from the cut end is on the tape as well.
    let from_end_mm = tape.nearest_mm(datum_mm + exact_mm);
    let offset_mm = from_end_mm - datum_mm;
    let reached = linkage.reached_rad(offset_mm, tilt_deg.to_radians()).unwrap_or(f64::NAN);
    Setting {
        tilts_deg: vec![tilt_deg],
        exact_mm,
        offset_mm,
        from_end_mm,
        reached_deg: reached.to_degrees(),
        deg_per_mm: linkage.degrees_per_mm(offset_mm, reached),
        lever_share: linkage.lever_share(reached, offset_mm),
        clear_mm: None,
        factor: 1.0,
    }
}

/// Wood between a hole and the one next to it (mm), and which that is.
fn nearest(holes: &[Setting], i: usize, pin: &Bolt) -> Option<(f64, usize)> {
    [i.checked_sub(1), Some(i + 1).filter(|j| *j < holes.len())]
        .into_iter()
        .flatten()
        .map(|j| ((holes[j].offset_mm - holes[i].offset_mm).abs() - pin.hole_mm / 2.0, j))
        .min_by(|a, b| a.0.total_cmp(&b.0))
}

/// The same holes marked with another tape: what is drilled moves by half a mark at most, and the tilts it gives with it.
///
/// The strength of the pin stays what the layout found, for the frame is the same.
pub(super) fn marked_on(row: &[Setting], linkage: &Linkage, datum_mm: f64, tape: Tape, pin: &Bolt) -> Vec<Setting> {
    let mut holes: Vec<Setting> = row
        .iter()
        .map(|hole| Setting {
            tilts_deg: hole.tilts_deg.clone(),
            factor: hole.factor,
            ..mark(linkage, hole.tilts_deg[0], hole.exact_mm, datum_mm, tape)
        })
        .collect();
    for i in 0..holes.len() {
        holes[i].clear_mm = nearest(&holes, i, pin).map(|(clear, _)| clear);
    }
    holes
}
