//! What posts and runners share: bolts through the carrying members, the stay, the clearances, the finished frame.

use super::{
    bolted::{self, Bolted},
    clearance::{self, Scene, Solid},
    distance,
    foot::{self, StandsOn},
    hole_row::Setting,
    linkage::{Linkage, Point, at_tilt},
    model::{Chosen, Frame},
    overlap::{self, Block},
    panel::PanelPlace,
    piece::{self, Body, Hole, HoleUse, Role, Stick, hole},
    rectangle::{Bay, Rectangle},
    refusal::Refusal,
    stack::{Stack, washer_mm},
};
use crate::{
    catalogue::{Bolt, Section, Shape, bolt, bolt_length},
    design::Design,
    quantities::{MM_PER_INCH, Tape, Units, to_mm},
};

/// Bolts tried where the design names none, in this order. Half an inch for the turning bolt is common practice, no
/// source; a thinner one is taken when its load, which reverses across the grain, leaves too little wood beside it.
pub(super) fn bolts_to_try(given: Option<&'static Bolt>, units: Units) -> Vec<&'static Bolt> {
    if let Some(given) = given {
        return vec![given];
    }
    let names = match units {
        Units::Us => ["1/2 in", "3/8 in", "5/16 in"],
        Units::Metric => ["M12", "M10", "M8"],
    };
    names.iter().filter_map(|name| bolt(name).ok()).collect()
}

/// The thickest turning bolt that keeps its edges, and every pin worth trying: no thicker, and keeping its own.
pub(super) fn bolts(
    design: &Design,
    turns: &dyn Fn(&Bolt) -> bool,
    pins: &dyn Fn(&Bolt) -> bool,
) -> (&'static Bolt, Vec<&'static Bolt>) {
    let support = &design.support;
    let bolt = thickest(support.bolt, design.units, turns);
    let fits = |pin: &Bolt| pin.diameter_mm <= bolt.diameter_mm && pins(pin);
    (bolt, all_that_fit(support.pin, design.units, &fits))
}

/// The thickest bolt of the list that fits, or the thinnest when none does.
pub(super) fn thickest(given: Option<&'static Bolt>, units: Units, fits: &dyn Fn(&Bolt) -> bool) -> &'static Bolt {
    all_that_fit(given, units, fits)[0]
}

/// Every bolt of the list that fits, thickest first; the thinnest when none does.
fn all_that_fit(given: Option<&'static Bolt>, units: Units, fits: &dyn Fn(&Bolt) -> bool) -> Vec<&'static Bolt> {
    let all = bolts_to_try(given, units);
    let fit: Vec<&'static Bolt> = all.iter().copied().filter(|b| fits(b)).collect();
    if fit.is_empty() { all[all.len() - 1..].to_vec() } else { fit }
}

/// What a thinner pin costs in the layout search, as metres of stick: it is weaker. Judgement.
pub(super) fn thin_pin_cost_mm(pins: &[&'static Bolt], pin: &Bolt) -> f64 {
    const PER_SIZE_MM: f64 = 400.0;
    pins.iter().position(|p| p.name == pin.name).unwrap_or(0) as f64 * PER_SIZE_MM
}

/// Step of the layout search: quarter inches would be finer than anyone cares (mm).
pub(super) fn search_step_mm(tape: Tape) -> f64 {
    (25.0 / tape.mark_mm()).round() * tape.mark_mm()
}

/// The holes of the row, for the piece that carries it.
pub(super) fn row_holes(row: &[Setting], datum_mm: f64, gauge_mm: f64, pin: &Bolt) -> Vec<Hole> {
    row.iter()
        .map(|h| Hole {
            exact_from_end_mm: datum_mm + h.exact_mm,
            tilts_deg: h.tilts_deg.clone(),
            ..hole(HoleUse::Row, h.from_end_mm, gauge_mm, pin)
        })
        .collect()
}

/// Less than this is no shortfall (mm). Judgement: a pencil line is wider, and a gauge rounded to the other tape's mark
/// must not refuse a hole that stood right on its own.
pub(super) const PENCIL_LINE_MM: f64 = 0.5;

/// A bolt whose load reverses across a piece keeps 4D to both edges.
pub(super) fn check_edges(
    refusals: &mut Vec<Refusal>,
    field: &'static str,
    what: &str,
    section: &'static Section,
    gauge_mm: f64,
    bolt: &'static Bolt,
) {
    check_leg(refusals, field, what, section, gauge_mm, bolt);
    let found_mm = gauge_mm.min(section.depth_mm - gauge_mm);
    let needed_mm = distance::reversing_edge_mm(section, bolt);
    if found_mm < needed_mm - PENCIL_LINE_MM {
        refusals.push(Refusal::EdgeTooNear { field, what: what.to_string(), bolt: bolt.name, found_mm, needed_mm });
    }
}

/// On the leg or web of an open piece, head, nut and washers must lie flat beside heel and fillets, and leave the toe its edge.
fn check_leg(
    refusals: &mut Vec<Refusal>,
    field: &'static str,
    what: &str,
    section: &'static Section,
    gauge_mm: f64,
    bolt: &'static Bolt,
) {
    let Some(needed_mm) = distance::flat_mm(section, bolt) else { return };
    let found_mm = [from_heel_mm(section, gauge_mm), section.depth_mm - gauge_mm];
    let needed_mm = [needed_mm, distance::side_edge_mm(bolt)];
    if found_mm.iter().zip(needed_mm).any(|(found_mm, needed_mm)| *found_mm < needed_mm - PENCIL_LINE_MM) {
        let smallest = distance::smallest_that_takes(section, bolt);
        let what = what.to_string();
        refusals.push(Refusal::LegTooSmall { field, what, section, bolt: bolt.name, found_mm, needed_mm, smallest });
    }
}

/// A stay is drilled on its gauge line.
pub(super) fn check_stay_leg(refusals: &mut Vec<Refusal>, stay: &'static Section, tape: Tape, pin: &'static Bolt) {
    let gauge_mm = tape.nearest_mm(distance::gauge_mm(stay));
    check_leg(refusals, "support.stay.section", "stay", stay, gauge_mm, pin);
}

/// An angle has its heel on the gauge face only, a channel a flange on both sides.
fn from_heel_mm(section: &Section, gauge_mm: f64) -> f64 {
    if section.shape == Shape::Angle { gauge_mm } else { gauge_mm.min(section.depth_mm - gauge_mm) }
}

/// Can this bolt stand in the middle of the piece, or on its gauge line, at all?
pub(super) fn fits_middle(section: &Section, bolt: &Bolt, tape: Tape, off_mm: f64) -> bool {
    let gauge = tape.nearest_mm(distance::gauge_mm(section)) + off_mm;
    let flat = distance::flat_mm(section, bolt)
        .is_none_or(|needed_mm| from_heel_mm(section, gauge) >= needed_mm - PENCIL_LINE_MM);
    flat && gauge.min(section.depth_mm - gauge) >= distance::reversing_edge_mm(section, bolt) - PENCIL_LINE_MM
}

/// The place in (s, n) nearest to `at` where head, nut and washers of a bolt through the carriers clear every other piece
/// of the frame, found mark by mark along the carriers (mm).
pub(super) fn beside_sticks(rectangle: &Rectangle, at: Point, bolt: &Bolt, step_mm: f64) -> f64 {
    let carriers: Vec<usize> = rectangle.carriers.iter().map(|(stick, _)| *stick).collect();
    let others: Vec<Block> = (0..rectangle.sticks.len())
        .filter(|i| !carriers.contains(i))
        .map(|i| Block::of_stick(&rectangle.sticks[i]))
        .collect();
    // Bolt ends stand out by washer, nut and a few threads.
    let out_mm = bolt.washer.thickness_mm + 2.0 * bolt.nut_mm;
    let diameter_mm = 2.0 * (distance::round_mm(bolt) + clearance::LEAST_ROOM_MM);
    let is_clear = |s: f64| {
        carriers.iter().map(|i| rectangle.sticks[*i].x_range()).all(|[left, right]| {
            let ends = [[left - out_mm, s, at[1]], [right + out_mm, s, at[1]]];
            let round = Block::of_round("bolt", ends, diameter_mm);
            others.iter().all(|other| round.depth_into(other) <= 0.0)
        })
    };
    let steps = (rectangle.length_mm / step_mm.abs()) as usize;
    let places = (0..steps).map(|i| at[0] + step_mm * i as f64);
    // Where no place is clear, what stands in the way is told by name.
    places.take_while(|s| (0.0..=rectangle.length_mm).contains(s)).find(|s| is_clear(*s)).unwrap_or(at[0])
}

/// Every stack must find its bolt.
pub(super) fn check_bolts(refusals: &mut Vec<Refusal>, stacks: &[Stack]) {
    for stack in stacks.iter().filter(|s| !s.lag) {
        let found = bolt_length(stack.bolt, stack.grip_mm(), stack.washers() as u32, washer_mm(stack.bolt));
        if let Err(none) = found {
            refusals.push(Refusal::NoBoltLongEnough {
                what: stack.use_.word(),
                needed_mm: none.needed_mm,
                longest_mm: none.longest_mm,
            });
        }
    }
}

/// What is known of a frame once its support has placed everything.
pub(super) struct Placed<'a> {
    pub(super) design: &'a Design,
    pub(super) tape: Tape,
    pub(super) rectangle: Rectangle,
    /// Place of the axle or hinge in (s, n) (mm).
    pub(super) turn_at: Point,
    /// Sticks of the support, in their own coordinates.
    pub(super) support: Vec<Stick>,
    pub(super) bolts: Vec<Bolted>,
    pub(super) linkage: Linkage,
    pub(super) row: Vec<Setting>,
    pub(super) row_datum_mm: f64,
    pub(super) row_role: Role,
    pub(super) bolt: &'static Bolt,
    pub(super) pin: &'static Bolt,
    pub(super) span_mm: f64,
    pub(super) stands_on: StandsOn,
    pub(super) low_edge_mm: f64,
    pub(super) chosen: Vec<(&'static str, Chosen)>,
    pub(super) refusals: Vec<Refusal>,
}

impl Placed<'_> {
    /// Moves the frame onto its axle, sweeps it, and gathers the pieces.
    pub(super) fn finish(mut self) -> Result<Frame, Vec<Refusal>> {
        let [s, n] = self.turn_at;
        let mut sticks = std::mem::take(&mut self.rectangle.sticks);
        for stick in &mut sticks {
            stick.shift([0.0, -s, -n]);
        }
        sticks.append(&mut self.support);
        let move_u = |u: [f64; 2]| u.map(|u| u - s);
        let panels: Vec<_> = self
            .rectangle
            .panels
            .iter()
            .map(|p| PanelPlace { x_mm: p.x_mm, u_mm: move_u(p.u_mm), w_mm: p.w_mm.map(|w| w - n) })
            .collect();
        let bays = self.rectangle.bays.iter().map(|b| Bay { x_mm: b.x_mm, u_mm: move_u(b.u_mm) }).collect();
        let stacks = bolted::stacks(&self.bolts);
        check_bolts(&mut self.refusals, &stacks);
        self.refusals.append(&mut overlap::find(&sticks, &panels));
        if !self.refusals.is_empty() {
            // A frame that cannot be put together need not be swept. Left and right are refused alike: once is enough.
            let mut told: Vec<Refusal> = Vec::new();
            for refusal in self.refusals {
                if !told.contains(&refusal) {
                    told.push(refusal);
                }
            }
            return Err(told);
        }
        let bolted = self.bolts.iter().map(|bolted| bolted.joint(self.design.units)).collect();
        let feet = foot::stand(self.design, self.stands_on, self.tape, &mut sticks);
        let (pieces, piece_of) = piece::gather(&sticks);
        let row_piece = pieces.iter().position(|p| p.role == self.row_role).unwrap_or(0);
        let mut frame = Frame {
            count: self.design.array.frames,
            gap_mm: given_or(self.design.array.frame_gap, passage_mm(self.design.units)),
            pitch_mm: 0.0,
            tape: self.tape,
            width_mm: self.rectangle.width_mm,
            length_mm: self.rectangle.length_mm,
            depth_mm: self.rectangle.depth_mm,
            low_edge_u_mm: -s,
            face_w_mm: -n,
            sticks,
            piece_of,
            pieces,
            panels,
            bays,
            slots_mm: self.rectangle.slots,
            seams: self.rectangle.seams,
            turn_at: self.turn_at,
            brace: self.rectangle.brace,
            joints: bolted,
            feet,
            stacks,
            linkage: self.linkage,
            row_piece,
            row_datum_mm: self.row_datum_mm,
            row: self.row,
            bolt: self.bolt,
            pin: self.pin,
            span_mm: self.span_mm,
            stands_on: self.stands_on,
            clearances: vec![],
            notes: vec![],
            chosen: self.chosen,
        };
        frame.screw(self.design)?;
        // A frame turns in its own place across, so that what keeps two apart at one tilt keeps them apart at all.
        let [left, right] = frame.extent_mm();
        frame.pitch_mm = frame.tape.at_least_mm(right - left + frame.gap_mm);
        let (clearances, fouls) = sweep(&frame, self.low_edge_mm);
        frame.clearances = clearances;
        let refusals = if fouls.is_empty() { frame.fouls() } else { fouls };
        if refusals.is_empty() { Ok(frame) } else { Err(refusals) }
    }
}

fn sweep(frame: &Frame, low_edge_mm: f64) -> (Vec<clearance::Clearance>, Vec<Refusal>) {
    let mut turning = clearance::solids(&frame.sticks, Body::Frame);
    turning.extend(frame.panels.iter().map(Solid::of_panel));
    let ground = clearance::solids(&frame.sticks, Body::Ground);
    let tilts: Vec<(f64, f64)> = frame.row.iter().map(|h| (h.reached_deg, h.offset_mm)).collect();
    let mut all = (Vec::new(), Vec::new());
    // Left and right are mirror images; one side is swept.
    let stay = frame.sticks_of(Body::Stay).next().map(|(_, s)| Solid::of_stick(s, "stay".to_string()));
    if let Some(stay) = stay {
        let scene = Scene {
            frame: &turning,
            ground: &ground,
            stay: &stay,
            linkage: &frame.linkage,
            tilts: &tilts,
            surface: frame.surface(),
            low_edge_mm,
        };
        all = scene.sweep();
    }
    all
}

/// What of a stay decides whether its spare length, running on past the pin, meets the ground.
pub(super) struct Tail<'a> {
    pub(super) linkage: &'a Linkage,
    /// From the frame pin to the far end of the stay (mm).
    pub(super) from_pin_mm: f64,
    pub(super) section: &'a Section,
    /// A point of the ground surface and its slope (mm), (rad).
    pub(super) surface: (Point, f64),
}

impl Tail<'_> {
    /// A refusal for every hole at which the stay's far end stands too near the ground: known before anything is built.
    pub(super) fn check(&self, row: &[Setting]) -> Vec<Refusal> {
        let ([x, z], slope) = self.surface;
        let (sin, cos) = slope.sin_cos();
        let above = |p: Point| (p[1] - z) * cos - (p[0] - x) * sin;
        let refused = row.iter().filter_map(|hole| {
            let pin = at_tilt(self.linkage.frame_pin(), hole.reached_deg.to_radians());
            let fixed = self.linkage.fixed_end(hole.offset_mm);
            let length = (fixed[0] - pin[0]).hypot(fixed[1] - pin[1]);
            // Height gained along one millimetre of stay; across the stay it is the other leg of that triangle.
            let climb = (above(fixed) - above(pin)) / length;
            let across = (1.0 - climb * climb).max(0.0).sqrt() * self.section.depth_mm / 2.0;
            let room = above(pin) + climb * self.from_pin_mm - across;
            let short = clearance::LEAST_ROOM_MM - room;
            (short > 0.0).then(|| Refusal::Fouls {
                tilt_deg: hole.reached_deg,
                one: "stay".to_string(),
                other: "ground".to_string(),
                overlap_mm: short,
            })
        });
        refused.collect()
    }
}

/// A stay: its frame pin `end` from the marked end, the rest by its caller.
pub(super) fn stay_stick(
    section: &'static Section,
    x: f64,
    side: &'static str,
    length_mm: f64,
    end_mm: f64,
    tape: Tape,
) -> Stick {
    Stick {
        role: Role::Stay,
        section,
        length_mm,
        ends_deg: [0.0; 2],
        holes: vec![],
        body: Body::Stay,
        start: [x, -end_mm, tape.nearest_mm(distance::gauge_mm(section))],
        along: [0.0, 1.0, 0.0],
        across: [0.0, 0.0, -1.0],
        back: [0.0; 3],
        side,
    }
}

/// Room between two frames for a person to pass and to reach the pins: 3 ft or 900 mm, common practice, no source.
fn passage_mm(units: Units) -> f64 {
    match units {
        Units::Us => 36.0 * MM_PER_INCH,
        Units::Metric => 900.0,
    }
}

/// A length the design gives, or the search's.
pub(super) fn given_or(given: Option<crate::quantities::Length>, found: f64) -> f64 {
    given.map_or(found, to_mm)
}
