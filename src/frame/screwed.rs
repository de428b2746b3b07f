//! Screwed joints: where each screw stands, through what, and the lead hole it asks for.
//!
//! ```text
//! corner                     brace, through the rail        brace, through its edge      mid rail on slant screws
//!   │ upright                  ╲  brace                        ╲←── from here             ──────────┐
//!   │                           ╲                                ╲↓                        rail    ╲│ upright
//!  ═╪═ rail                  ════╪╪═══ rail                   ═════╪═══ rail               ─────────╲
//!   ↑ from here                  ↑↑ from here                                              30°, L/3 from the end
//! ```

use super::{
    distance,
    joint::{Asked, Fastener, FastenerKind, Joint, JointUse, Part},
    piece::{Body, Role, Stick},
    placing::Placing,
    rectangle::{Braced, Butt, Seams},
    refusal::Refusal,
    vector::{cross, dot, length as length_of, minus, plus, scaled},
};
use crate::{
    catalogue::{Family, Screw, ScrewKind, bolt, screw},
    design::{Design, Screws},
    quantities::{MM_PER_INCH, mm, to_mm},
};

/// Wood kept beyond the tip of a screw (mm). Judgement: swollen threads and crooked holes must not come through.
const BEHIND_TIP_MM: f64 = 3.0;
/// Slope of a slant screw to the face it enters, and the share of its length from the end where it enters.
///
/// # Source
/// NDS-2018 §12.1.6.3 for toe-nails: about 30°, one third of the length (one transcription).
const SLANT_DEG: f64 = 30.0;
const SLANT_START: f64 = 1.0 / 3.0;
/// Between screws that hold plies together, along the piece (mm); common practice, no source.
const PLY_PITCH_MM: f64 = 304.8;

/// Screws through one end-grain joint of a member this deep; common practice, no source.
fn screws_per_end(depth_mm: f64) -> usize {
    if depth_mm < 100.0 { 2 } else { 3 }
}

/// The screws the design names, or the usual ones: through one piece and at least 1-1/2 in into the next, as many as are
/// usual and find room; common practice, no source.
fn asked(given: Option<Screws>, through_mm: f64, count: usize, most: impl Fn(&Screw, f64) -> usize) -> Option<Asked> {
    match given {
        Some(screws) => Some(Asked { screw: screws.screw, length: screws.length, count: screws.count as usize }),
        None => {
            let inches = (through_mm / MM_PER_INCH * 2.0).ceil() / 2.0 + 1.5;
            let screw = screw("#14").ok()?;
            Some(Asked {
                screw,
                length: mm(inches * MM_PER_INCH),
                count: count.min(most(screw, inches * MM_PER_INCH)).max(1),
            })
        }
    }
}

/// Screws in a row over a depth that keep edges and spacing.
fn most_over(depth_mm: f64, screw: &Screw) -> usize {
    (depth_mm / (2.0 * distance::screw_edge_mm(screw)).max(distance::screw_apart_mm(screw))).floor() as usize
}

/// Every screwed joint of the frame itself, each clear of those before it.
///
/// # Errors
/// Screws that cannot be placed.
pub(super) fn joints(
    design: &Design,
    seams: &Seams,
    sticks: &[Stick],
    slots: &[[f64; 2]],
    origin: [f64; 2],
    placing: &mut Placing,
) -> Result<Vec<Joint>, Vec<Refusal>> {
    let work = Work { design, sticks, slots, origin };
    let mut found = Vec::new();
    let mut refusals = Vec::new();
    let mut keep = |placing: &mut Placing, joint: Result<Joint, Refusal>| match joint {
        Ok(joint) => {
            placing.add(&joint);
            found.push(joint);
        }
        Err(refusal) if refusals.contains(&refusal) => {}
        Err(refusal) => refusals.push(refusal),
    };
    for butt in &seams.butts {
        let joint = work.corner(butt);
        keep(placing, joint);
    }
    for braced in &seams.braced {
        for end in [0, 1] {
            let joint = work.brace_end(braced, end, placing);
            keep(placing, joint);
        }
    }
    for pair in &seams.plies {
        keep(placing, Ok(work.plies(*pair)));
    }
    for joint in work.purlins() {
        keep(placing, joint);
    }
    if refusals.is_empty() { Ok(found) } else { Err(refusals) }
}

struct Work<'a> {
    design: &'a Design,
    sticks: &'a [Stick],
    /// Faces of the slots in which posts stand (mm).
    slots: &'a [[f64; 2]],
    /// Axle or hinge in the rectangle's own (s, n) (mm).
    origin: [f64; 2],
}

impl Work<'_> {
    fn is_wood(&self, sticks: &[usize]) -> bool {
        sticks.iter().all(|s| self.sticks[*s].section.family == Family::Wood)
    }

    /// A joint that metal makes otherwise: who welds or bolts it chooses how.
    fn empty(use_: JointUse, parts: Vec<Part>) -> Joint {
        Joint { use_, body: Body::Frame, parts, fasteners: vec![], plates: vec![], turned_from: "" }
    }

    fn screw(&self, asked: Asked, from: [f64; 3], axis: [f64; 3]) -> Fastener {
        let wood = self.design.frame.wood_species.map(|s| s.specific_gravity());
        turned_in(asked.screw, to_mm(asked.length), wood, from, axis)
    }

    /// Through the side of one member into the end of another, in a row over their common depth.
    fn corner(&self, butt: &Butt) -> Result<Joint, Refusal> {
        let (end, side) = (&self.sticks[butt.stick], &self.sticks[butt.against]);
        let parts = vec![Part::Stick(butt.against), Part::Stick(butt.stick)];
        if !self.is_wood(&[butt.stick, butt.against]) {
            return Ok(Self::empty(JointUse::Corner, parts));
        }
        let count = screws_per_end(end.section.depth_mm);
        let through_mm = side.section.width_mm;
        let depth_mm = end.section.depth_mm.min(side.section.depth_mm);
        let Some(asked) = asked(self.design.joints.corner, through_mm, count, |s, _| most_over(depth_mm, s)) else {
            return Ok(Self::empty(JointUse::Corner, parts));
        };
        let (point, into) = match butt.end {
            0 => (end.start, end.along),
            _ => (plus(end.start, scaled(end.along, end.length_mm)), scaled(end.along, -1.0)),
        };
        let step_mm = depth_mm / asked.count as f64;
        let most = most_over(depth_mm, asked.screw);
        if asked.count > most.max(1) {
            return Err(Refusal::TooManyScrews { joint: JointUse::Corner, count: asked.count, most: most.max(1) });
        }
        let gauges = (0..asked.count).map(|i| step_mm * (i as f64 + 0.5));
        let outside = plus(point, scaled(into, -through_mm));
        if self.is_open_through(plus(outside, scaled(into, -BEHIND_TIP_MM)), end, depth_mm) {
            let needed_mm = through_mm + least_into_mm(asked.screw);
            let most_mm = through_mm + end.length_mm - BEHIND_TIP_MM;
            check_length(JointUse::Corner, &asked, needed_mm, most_mm)?;
            let to_end_mm = {
                let at = dot(minus(point, side.start), side.along);
                at.min(side.length_mm - at)
            };
            let least_mm = 2.0 * asked.screw.diameter_mm;
            if asked.screw.kind == ScrewKind::Lag && to_end_mm < least_mm - 1e-6 {
                return Err(Refusal::LagSplitsEnd {
                    what: side.role.word(),
                    screw: asked.screw.name,
                    found_mm: to_end_mm,
                    needed_mm: least_mm,
                });
            }
            let fasteners = gauges.map(|g| self.screw(asked, plus(outside, scaled(end.across, g)), into)).collect();
            return Ok(Joint {
                use_: JointUse::Corner,
                body: Body::Frame,
                parts,
                fasteners,
                plates: vec![],
                turned_from: outer_face(side.role),
            });
        }
        // Another piece stands where the screw would be turned in: slant screws from the faces of the ending piece.
        let slant = self.slant(&asked, side);
        // Two of them may meet in one upright from both sides: each keeps its own thirds of the depth.
        let third = cross(end.along, end.across);
        let (sin, cos) = SLANT_DEG.to_radians().sin_cos();
        let share = if butt.end == 0 { 1.0 / 3.0 } else { 2.0 / 3.0 };
        let enters = plus(point, scaled(into, to_mm(slant.length) * SLANT_START));
        let out = |face: [f64; 3], mm: f64| plus(enters, scaled(face, end.section.width_mm / 2.0 + mm));
        // From both wide faces in turn; the face that lies against another ply cannot be reached.
        let middle = scaled(end.across, depth_mm / 2.0);
        let faces: Vec<[f64; 3]> = [third, scaled(third, -1.0)]
            .into_iter()
            .filter(|face| self.is_open(plus(out(*face, BEHIND_TIP_MM), middle)))
            .collect();
        let fasteners = (0..asked.count)
            .zip(faces.iter().cycle())
            .map(|(i, face)| {
                let g = step_mm * (i as f64 + share);
                let on_face = plus(out(*face, 0.0), scaled(end.across, g));
                self.screw(slant, on_face, plus(scaled(into, -cos), scaled(*face, -sin)))
            })
            .collect();
        Ok(Joint {
            use_: JointUse::Corner,
            body: Body::Frame,
            parts,
            fasteners,
            plates: vec![],
            turned_from: "the wide faces of the mid rail, on a slant",
        })
    }

    /// The longest wood screw that a slant leaves inside the side member, no longer than asked.
    fn slant(&self, asked: &Asked, side: &Stick) -> Asked {
        const QUARTER_MM: f64 = MM_PER_INCH / 4.0;
        let reach = SLANT_DEG.to_radians().cos() - SLANT_START;
        let most_mm = ((side.section.width_mm - BEHIND_TIP_MM) / reach / QUARTER_MM).floor() * QUARTER_MM;
        let wood = match asked.screw.kind {
            ScrewKind::WoodScrew => asked.screw,
            _ => screw("#14").unwrap_or(asked.screw),
        };
        Asked { screw: wood, length: mm(most_mm.min(to_mm(asked.length))), ..*asked }
    }

    /// Does nothing stand at this place, over the depth of a stick? In a slot a post does, and a stay swings.
    fn is_open_through(&self, place: [f64; 3], end: &Stick, depth_mm: f64) -> bool {
        let middle = plus(place, scaled(end.across, depth_mm / 2.0));
        // The rails that cross a slot are screwed from their own outer faces, beyond its ends.
        if end.role == Role::MidRail && self.slots.iter().any(|slot| (slot[0]..=slot[1]).contains(&middle[0])) {
            return false;
        }
        self.is_open(middle)
    }

    /// Does no piece of the frame stand at this point?
    fn is_open(&self, middle: [f64; 3]) -> bool {
        !self.sticks.iter().filter(|s| s.body == Body::Frame).any(|s| {
            let from = minus(middle, s.start);
            let third = cross(s.along, s.across);
            (0.0..=s.length_mm).contains(&dot(from, s.along))
                && (0.0..=s.section.depth_mm).contains(&dot(from, s.across))
                && dot(from, third).abs() <= s.section.width_mm / 2.0
        })
    }

    /// One end of a corner brace: square through the rail or upright into the mitre, or where that is too thick, through
    /// the long edge of the brace.
    fn brace_end(&self, braced: &Braced, end: usize, placing: &Placing) -> Result<Joint, Refusal> {
        let brace = &self.sticks[braced.brace];
        let member_at = [braced.rail, braced.upright][end];
        let member = &self.sticks[member_at];
        let parts = vec![Part::Stick(member_at), Part::Stick(braced.brace)];
        if !self.is_wood(&[braced.brace, member_at]) {
            return Ok(Self::empty(JointUse::Brace, parts));
        }
        // In the plane of the frame, from the inner corner: `run` along this member, `rise` square to it into the bay.
        let [to_x, to_s] = braced.towards;
        let (x_axis, s_axis) = ([to_x, 0.0, 0.0], [0.0, to_s, 0.0]);
        let (run, rise) = if end == 0 { (x_axis, s_axis) } else { (s_axis, x_axis) };
        let legs = [brace.length_mm * dot(brace.along, x_axis).abs(), brace.length_mm * dot(brace.along, s_axis).abs()];
        let (leg, height) = (legs[end], legs[1 - end]);
        let corner = [braced.corner[0], braced.corner[1] - self.origin[0], brace.start[2]];
        let on_face = |along: f64| plus(corner, scaled(run, along));
        // Height of the long edge over the face, and the contact of the mitre with it.
        let edge_over = |along: f64| height * (1.0 - along / leg);
        let contact = brace.section.depth_mm * (leg.hypot(height)) / height;
        // Through the member into the mitre, where the brace is at least as deep over the face as the screw reaches.
        let thick = member.section.width_mm;
        let into_mitre = |length_mm: f64, screw: &Screw| {
            let far = leg * (1.0 - (length_mm - thick + BEHIND_TIP_MM) / height);
            let edge_mm = distance::screw_edge_mm(screw);
            [leg - contact + edge_mm, far.min(leg - edge_mm)]
        };
        let through_mm = brace.section.width_mm;
        let most_usual = |screw: &Screw, length_mm: f64| match length_mm - thick >= least_into_mm(screw) {
            true => most_along(into_mitre(length_mm, screw), distance::screw_apart_mm(screw)),
            false => usize::MAX,
        };
        let Some(asked) = asked(self.design.joints.brace, through_mm, 2, most_usual) else {
            return Ok(Self::empty(JointUse::Brace, parts));
        };
        let length = to_mm(asked.length);
        let (edge_mm, least_into) = (distance::screw_edge_mm(asked.screw), least_into_mm(asked.screw));
        let too_many =
            |most: usize| Refusal::TooManyScrews { joint: JointUse::Brace, count: asked.count, most: most.max(1) };
        // Out of the middle of the brace's thickness, as far as its edges let them: screws of the other end, or of the
        // corner, may cross there.
        let off = (brace.section.width_mm / 2.0 - edge_mm).max(0.0);
        if length - thick >= least_into {
            let (range, apart) = (into_mitre(length, asked.screw), distance::screw_apart_mm(asked.screw));
            let places = spreads(range, asked.count, apart);
            if places.is_empty() {
                return Err(too_many(most_along(range, apart)));
            }
            let screw_at = |along: f64, out: f64| {
                let from = plus(plus(on_face(along), scaled(rise, -thick)), [0.0, 0.0, out]);
                self.screw(asked, from, rise)
            };
            let arrangements =
                [[0.0, 0.0], [-off, -off], [off, off], [-off, off], [off, -off]].into_iter().flat_map(|outs| {
                    places.iter().map(move |places| {
                        places.iter().enumerate().map(|(i, along)| screw_at(*along, outs[i % 2])).collect()
                    })
                });
            return Ok(Joint {
                use_: JointUse::Brace,
                body: Body::Frame,
                parts,
                fasteners: placing.first_clear(arrangements),
                plates: vec![],
                turned_from: outer_face(member.role),
            });
        }
        let most_over = length - least_into;
        let least_over = (length - thick + BEHIND_TIP_MM).max(2.0 * asked.screw.diameter_mm);
        if most_over < least_over {
            return Err(Refusal::ScrewTooShort {
                joint: JointUse::Brace,
                screw: asked.screw.name,
                found_mm: length,
                needed_mm: least_into + 2.0 * asked.screw.diameter_mm,
            });
        }
        let range = [most_over, least_over].map(|over| leg * (1.0 - over / height));
        let places = spreads(range, asked.count, 0.0);
        if places.is_empty() {
            return Err(too_many(1));
        }
        // Side by side over the thickness of the brace, so that two screws do not follow one grain line.
        let share = |i: usize| if asked.count == 1 { 0.0 } else { 2.0 * i as f64 / (asked.count - 1) as f64 - 1.0 };
        let screw_at = |i: usize, along: f64, out: f64| {
            let from = plus(plus(on_face(along), scaled(rise, edge_over(along))), [0.0, 0.0, out * share(i)]);
            self.screw(asked, from, scaled(rise, -1.0))
        };
        let arrangements = [off, -off].into_iter().flat_map(|out| {
            places
                .iter()
                .map(move |places| places.iter().enumerate().map(|(i, along)| screw_at(i, *along, out)).collect())
        });
        Ok(Joint {
            use_: JointUse::Brace,
            body: Body::Frame,
            parts: parts.into_iter().rev().collect(),
            fasteners: placing.first_clear(arrangements),
            plates: vec![],
            turned_from: "the long edge of the brace",
        })
    }

    /// Two rows of screws that hold the plies of a built-up member together, staggered, clear of its bolts.
    fn plies(&self, [one, other]: [usize; 2]) -> Joint {
        let (first, second) = (&self.sticks[one], &self.sticks[other]);
        let parts = vec![Part::Stick(one), Part::Stick(other)];
        let Some(screw) = screw("#12").ok().filter(|_| self.is_wood(&[one, other])) else {
            return Self::empty(JointUse::Plies, parts);
        };
        // Through one ply and most of the next.
        const QUARTER_MM: f64 = MM_PER_INCH / 4.0;
        let thick = first.section.width_mm + second.section.width_mm;
        let length = mm(((thick - BEHIND_TIP_MM) / QUARTER_MM).floor() * QUARTER_MM);
        let pitches = (first.length_mm / PLY_PITCH_MM).ceil().max(2.0);
        let asked = Asked { screw, length, count: pitches as usize };
        let depth = first.section.depth_mm.min(second.section.depth_mm);
        let clear = |at: f64, gauge: f64| {
            first.holes.iter().all(|hole| {
                (hole.from_end_mm - at).hypot(hole.gauge_mm - gauge) >= hole.diameter_mm + 4.0 * screw.diameter_mm
            })
        };
        let between = minus(second.start, first.start);
        let axis = scaled(between, 1.0 / length_of(between));
        let fasteners = (0..asked.count)
            .filter_map(|i| {
                let at = first.length_mm * (i as f64 + 0.5) / pitches;
                let gauges = [depth / 4.0, 3.0 * depth / 4.0];
                let gauge = if i % 2 == 0 { gauges } else { [gauges[1], gauges[0]] };
                let gauge = gauge.into_iter().find(|g| clear(at, *g))?;
                let from = plus(plus(first.start, scaled(first.along, at)), scaled(first.across, gauge));
                Some(self.screw(asked, plus(from, scaled(axis, -first.section.width_mm / 2.0)), axis))
            })
            .collect();
        Joint {
            use_: JointUse::Plies,
            body: Body::Frame,
            parts,
            fasteners,
            plates: vec![],
            turned_from: "the face of the first ply, before it is put in",
        }
    }

    /// Screws down through each purlin into every upright it crosses.
    fn purlins(&self) -> impl Iterator<Item = Result<Joint, Refusal>> {
        let of = move |role: fn(Role) -> bool| (0..self.sticks.len()).filter(move |i| role(self.sticks[*i].role));
        of(|r| r == Role::Purlin)
            .flat_map(move |p| of(|r| matches!(r, Role::Stile | Role::Mullion)).filter_map(move |u| self.purlin(p, u)))
    }

    fn purlin(&self, purlin_at: usize, upright_at: usize) -> Option<Result<Joint, Refusal>> {
        let (purlin, upright) = (&self.sticks[purlin_at], &self.sticks[upright_at]);
        let middle = plus(purlin.start, scaled(purlin.across, purlin.section.depth_mm / 2.0));
        let along = dot(minus(middle, upright.start), upright.along);
        if !(0.0..=upright.length_mm).contains(&along) {
            return None;
        }
        let parts = vec![Part::Stick(purlin_at), Part::Stick(upright_at)];
        if !self.is_wood(&[purlin_at, upright_at]) {
            return Some(Ok(Self::empty(JointUse::Purlin, parts)));
        }
        let depth = purlin.section.depth_mm;
        let asked = asked(self.design.joints.purlin, purlin.section.width_mm, 2, |s, _| most_over(depth, s))?;
        let needed_mm = purlin.section.width_mm + least_into_mm(asked.screw);
        let most_mm = purlin.section.width_mm + upright.section.depth_mm - BEHIND_TIP_MM;
        if let Err(refusal) = check_length(JointUse::Purlin, &asked, needed_mm, most_mm) {
            return Some(Err(refusal));
        }
        if asked.count > most_over(depth, asked.screw).max(1) {
            let most = most_over(depth, asked.screw).max(1);
            return Some(Err(Refusal::TooManyScrews { joint: JointUse::Purlin, count: asked.count, most }));
        }
        let axis = [0.0, 0.0, -1.0];
        let fasteners = (0..asked.count)
            .map(|i| {
                let s = purlin.start[1] + depth * (i as f64 + 0.5) / asked.count as f64;
                let w = purlin.start[2] + purlin.section.width_mm / 2.0;
                self.screw(asked, [upright.start[0], s, w], axis)
            })
            .collect();
        Some(Ok(Joint {
            use_: JointUse::Purlin,
            body: Body::Frame,
            parts,
            fasteners,
            plates: vec![],
            turned_from: "the sun side, before the panels are on",
        }))
    }
}

/// A screw at its place, with the lead hole that its wood asks for (NDS-2018 §§12.1.4, 12.1.5).
pub(super) fn turned_in(
    screw: &'static Screw,
    length_mm: f64,
    specific_gravity: Option<f64>,
    from: [f64; 3],
    axis: [f64; 3],
) -> Fastener {
    let hex = match screw.kind {
        ScrewKind::Lag => bolt(screw.name.trim_start_matches("lag ")).ok(),
        _ => None,
    };
    let kind = if hex.is_some() { FastenerKind::LagScrew } else { FastenerKind::WoodScrew };
    let [lead, clearance] = lead_holes_mm(screw, specific_gravity);
    Fastener {
        kind,
        size: screw.name,
        from,
        axis,
        length_mm,
        diameter_mm: screw.diameter_mm,
        head: hex.map(super::bolted::head),
        nut: None,
        washers: vec![],
        lead_hole_mm: Some(lead),
        clearance_hole_mm: Some(clearance),
    }
}

/// Lead hole for the thread, and clearance hole for the shank (mm).
///
/// Lag: 40 to 70 % of the shank for G ≤ 0.5, 60 to 75 % to 0.6, 65 to 85 % above; the middle of the range, and the shank's
/// own size. Wood screw: 7/8 of root and of shank for G ≤ 0.6, their own size above. Wood of unknown species is taken as
/// the lightest class, whose thread holds least in a wide hole.
///
/// # Source
/// NDS-2018 §§12.1.4.2, 12.1.5.3 (transcribed; the limits of G from memory).
fn lead_holes_mm(screw: &Screw, specific_gravity: Option<f64>) -> [f64; 2] {
    let g = specific_gravity.unwrap_or(0.42);
    match screw.kind {
        ScrewKind::Lag => {
            let share = if g > 0.6 {
                0.75
            } else if g > 0.5 {
                0.675
            } else {
                0.55
            };
            [share * screw.diameter_mm, screw.diameter_mm]
        }
        ScrewKind::WoodScrew | ScrewKind::CommonNail => {
            let share = if g > 0.6 { 1.0 } else { 7.0 / 8.0 };
            [share * screw.root_mm, share * screw.diameter_mm]
        }
    }
}

/// Least length in the main piece: four diameters of a lag without its tip, six of a screw (NDS-2018 §§12.1.4.6,
/// 12.1.5.6) (mm).
fn least_into_mm(screw: &Screw) -> f64 {
    match screw.kind {
        ScrewKind::Lag => 4.0 * screw.diameter_mm + screw.tip_mm,
        ScrewKind::WoodScrew | ScrewKind::CommonNail => 6.0 * screw.diameter_mm,
    }
}

/// Long enough to hold, and not through what it goes into.
fn check_length(joint: JointUse, asked: &Asked, needed_mm: f64, most_mm: f64) -> Result<(), Refusal> {
    let (found_mm, screw) = (to_mm(asked.length), asked.screw.name);
    if found_mm < needed_mm - 1e-6 {
        return Err(Refusal::ScrewTooShort { joint, screw, found_mm, needed_mm });
    }
    if found_mm > most_mm + 1e-6 {
        return Err(Refusal::ScrewTooLong { joint, screw, found_mm, most_mm });
    }
    Ok(())
}

/// Places in a range: even, then close together at either end; none when there is no room.
fn spreads([from, to]: [f64; 2], count: usize, apart_mm: f64) -> Vec<Vec<f64>> {
    if count > most_along([from, to], apart_mm) {
        return vec![];
    }
    let gaps = count.saturating_sub(1) as f64;
    let (even_mm, close_mm) =
        ((to - from) / gaps.max(1.0), apart_mm.max(MM_PER_INCH / 2.0).min((to - from) / gaps.max(1.0)));
    let run = |first: f64, step_mm: f64| (0..count).map(|i| first + step_mm * i as f64).collect();
    let middle = run(if count > 1 { from } else { (from + to) / 2.0 }, even_mm);
    vec![middle, run(from, close_mm), run(to - gaps * close_mm, close_mm)]
}

/// Screws that find room in a range.
fn most_along([from, to]: [f64; 2], apart_mm: f64) -> usize {
    match to - from {
        room if room < -1e-6 => 0,
        room if apart_mm > 0.0 => ((room + 1e-6) / apart_mm) as usize + 1,
        _ => usize::MAX,
    }
}

fn outer_face(role: Role) -> &'static str {
    match role {
        Role::Stile | Role::Mullion => "the far face of the upright",
        _ => "the outer face of the rail",
    }
}
