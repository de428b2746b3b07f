//! Remarks for the builder: nothing here stops a layout, all of it is worth a look.

use super::{
    foot::StandsOn,
    linkage::at_tilt,
    model::Frame,
    piece::{Body, Role},
};
use crate::{
    catalogue::Family,
    design::{Design, Seating},
    quantities::{Units, angle, deg, length, mm, number, to_deg, to_mm},
};

/// Air wanted behind panels on a roof [mm]: 4 in, of the 4 to 6 in that are common practice, no source.
const ROOF_AIR_MM: f64 = 101.6;
/// Thickness that lumber loses across the grain from green to 12 % moisture: 5.062 − 0.181 · 12 = 2.89 %
/// (USDA FPL-RP-489).
const SHRINKAGE: f64 = 0.0289;

pub(super) fn of(design: &Design, frame: &Frame) -> Vec<String> {
    let mut notes = Vec::new();
    units(design, &mut notes);
    facing(design, &mut notes);
    seating(design, frame, &mut notes);
    cable_box(design, frame, &mut notes);
    roof(frame, &mut notes);
    row(frame, &mut notes);
    shrinkage(frame, &mut notes);
    notes
}

/// Units that the file does not name are told: tape, bolts and boards follow them.
fn units(design: &Design, notes: &mut Vec<String>) {
    if design.units_taken {
        let (taken, word, other) = match design.units {
            Units::Us => ("feet and inches", "us", "metric"),
            Units::Metric => ("metric units", "metric", "us"),
        };
        notes.push(format!(
            "The design does not name its units: {taken} are taken, as in the lengths of frame, support and shop. Write \
             `units: {word}` to keep them, `units: {other}` for the other."
        ));
    }
}

/// A frame that looks away from the equator gets little sun; more often the bearing is a slip.
fn facing(design: &Design, notes: &mut Vec<String>) {
    let equator_deg = if to_deg(design.site.latitude) >= 0.0 { 180.0 } else { 0.0 };
    let off_deg = (to_deg(design.site.facing) - equator_deg + 540.0).rem_euclid(360.0) - 180.0;
    if off_deg.abs() > 60.0 {
        notes.push(format!(
            "warning: the frame faces {}, {} away from the equator; is `site.facing` right?",
            angle(design.site.facing),
            angle(deg(off_deg.abs()))
        ));
    }
}

fn seating(design: &Design, frame: &Frame, notes: &mut Vec<String>) {
    let l = |value| length(value, frame.tape.units());
    let tolerance = design.panel.size_tolerance;
    if let Seating::Inset { side_clearance, end_clearance, proud } = design.frame.seating {
        if to_mm(proud) < 1.0 {
            notes.push(
                "warning: the panels do not stand proud of the frame, so water and leaves stay on their low edge"
                    .to_string(),
            );
        }
        let least = side_clearance.min(end_clearance);
        if least < tolerance {
            notes.push(format!(
                "warning: a panel may be {} oversize and has only {} of room on a side",
                l(tolerance),
                l(least)
            ));
        }
    }
    if to_mm(design.array.gap) < to_mm(tolerance) {
        notes.push(format!(
            "warning: the gap between panels, {}, is smaller than their size tolerance",
            l(design.array.gap)
        ));
    }
}

/// Boxes that touch in three dimensions: a cable box against every frame member.
fn cable_box(design: &Design, frame: &Frame, notes: &mut Vec<String>) {
    let Some(cable_box) = design.panel.cable_box else { return };
    let portrait = design.array.orientation == crate::design::Orientation::Portrait;
    for (number, panel) in frame.panels.iter().enumerate() {
        let middle = (panel.x_mm[0] + panel.x_mm[1]) / 2.0;
        let half = to_mm(cable_box.width) / 2.0;
        let (from_top, height) = (to_mm(cable_box.from_top), to_mm(cable_box.height));
        let w = [panel.w_mm[0] - to_mm(cable_box.depth), panel.w_mm[0]];
        let (x, u) = if portrait {
            ([middle - half, middle + half], [panel.u_mm[1] - from_top - height, panel.u_mm[1] - from_top])
        } else {
            let across = (panel.u_mm[0] + panel.u_mm[1]) / 2.0;
            ([panel.x_mm[1] - from_top - height, panel.x_mm[1] - from_top], [across - half, across + half])
        };
        for (stick, place) in frame.sticks_of(Body::Frame) {
            let corners = place.corners();
            let range = |axis: usize| {
                corners.iter().fold([f64::MAX, f64::MIN], |[low, high], c| [low.min(c[axis]), high.max(c[axis])])
            };
            let meets = |a: [f64; 2], b: [f64; 2]| a[0] < b[1] - 0.1 && b[0] < a[1] - 0.1;
            if meets(range(0), x) && meets(range(1), u) && meets(range(2), w) {
                notes.push(format!(
                    "warning: the cable box of panel {} meets {} {}; turn the panel or move the member",
                    number + 1,
                    place.role.word(),
                    frame.mark(stick)
                ));
            }
        }
    }
}

/// Least distance from the roof to the back of a panel, over all tilts.
fn roof(frame: &Frame, notes: &mut Vec<String>) {
    let StandsOn::Runners { roof: true, slope_deg, shim_mm, cross_deg, .. } = frame.stands_on else { return };
    let l = |value| length(mm(value), frame.tape.units());
    let ([x, z], slope) = frame.surface();
    let (sin, cos) = slope.sin_cos();
    let mut least = (f64::INFINITY, 0.0);
    for (tilt, _) in frame.reached() {
        for panel in &frame.panels {
            let middle = (panel.u_mm[0] + panel.u_mm[1]) / 2.0;
            let p = at_tilt([middle, panel.w_mm[0]], tilt.to_radians());
            let air = (p[1] - z) * cos - (p[0] - x) * sin;
            if air < least.0 {
                least = (air, tilt);
            }
        }
    }
    if least.0 < ROOF_AIR_MM {
        notes.push(format!(
            "warning: at {} only {} of air is left behind the middle of a panel; {} to {} keeps panels cool (common practice, no source)",
            angle(deg(least.1)),
            l(least.0),
            l(ROOF_AIR_MM),
            l(1.5 * ROOF_AIR_MM)
        ));
    }
    let shims = if shim_mm > frame.tape.mark_mm() / 2.0 {
        format!(", and shims of {} level the hinge line across a fall of {}", l(shim_mm), angle(deg(cross_deg.abs())))
    } else {
        String::new()
    };
    notes.push(format!(
        "the runners slope {} along the roof{shims}; with the hinge line level, true tilt and facing are the ones asked for",
        angle(deg(slope_deg))
    ));
}

fn row(frame: &Frame, notes: &mut Vec<String>) {
    let factor = frame.row.iter().map(|h| h.factor).fold(1.0, f64::min);
    if factor < 1.0 {
        notes.push(format!(
            "holes stand nearer than seven bolt diameters: the pin keeps {} of its strength (NDS-2018 Table 12.5.1A; the next empty hole counts as an end)",
            number(factor, 2)
        ));
    }
}

fn shrinkage(frame: &Frame, notes: &mut Vec<String>) {
    let wood: f64 = frame
        .sticks
        .iter()
        .find(|s| matches!(s.role, Role::Post | Role::Runner))
        .filter(|s| s.section.family == Family::Wood)
        .map_or(0.0, |s| s.section.width_mm + frame.sticks[0].section.width_mm);
    if wood > 0.0 {
        notes.push(format!(
            "bought green, a bolt's stack of {} loses about {} as it dries to 12 % (USDA FPL-RP-489): re-tighten after the first season",
            length(mm(wood), frame.tape.units()),
            length(mm(wood * SHRINKAGE), frame.tape.units())
        ));
    }
}
