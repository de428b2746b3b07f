//! The best tilts whose holes a design's row can hold side by side.

use crate::{
    design::Fault,
    frame::{LEAST_LEVER_SHARE, LEAST_TILT_DEG, LaidOut, MOST_TILT_DEG, row_least_mm},
    quantities::{Angle, deg, length, mm, number, to_deg},
    sun::{
        DrillablePlan,
        seasons::{SeasonPlan, Study},
    },
};

/// The plan, and a sentence on how it was found. Pins and lengths stand where the layout of the design put them.
pub(super) fn plan(study: &Study, laid: &LaidOut, count: usize) -> Result<(SeasonPlan, String), Fault> {
    let frame = &laid.frame;
    let section = frame.pieces[frame.row_piece].section;
    // Both holes move to a mark of the tape, each by half a mark at most.
    let apart_mm = row_least_mm(section, frame.pin) + frame.pin.hole_mm / 2.0 + frame.tape.mark_mm();
    let offset_mm = |tilt: Angle| frame.linkage.offset_mm(to_deg(tilt).to_radians()).ok();
    let holds = |tilt: &Angle| {
        let lever = |offset| frame.linkage.lever_share(to_deg(*tilt).to_radians(), offset);
        offset_mm(*tilt).is_some_and(|offset| lever(offset) >= LEAST_LEVER_SHARE)
    };
    let whole_degrees = LEAST_TILT_DEG.ceil() as u32..=MOST_TILT_DEG as u32;
    let candidates: Vec<Angle> = whole_degrees.map(|tilt| deg(f64::from(tilt))).filter(holds).collect();
    let together = |a: Angle, b: Angle| match (offset_mm(a), offset_mm(b)) {
        (Some(a), Some(b)) => (a - b).abs() >= apart_mm,
        _ => false,
    };
    let DrillablePlan { plan, bound_kwh } = study.plan_drillable(&candidates, count, together).map_err(Fault::from)?;
    let short = if bound_kwh > 0.0 { 100.0 * (1.0 - plan.year_kwh / bound_kwh) } else { 0.0 };
    let note = format!(
        "These are whole degrees that the hole row of {} can hold together: holes at least {} apart, pins where the layout put them. \
         No such plan gives more than {} % of the year beyond this one.",
        laid.design.name,
        length(mm(apart_mm), laid.units),
        number(short.max(0.001), 3)
    );
    Ok((plan, note))
}
