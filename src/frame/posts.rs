//! Axle through mid height and two posts; the hole row is in the stay.
//!
//! ```text
//! across one post, posts outside          posts inside: a slot between two members
//!
//!  bay │stile│w│stay│w│ post │             │member│w│stay│w│ post │w│member│
//!      └─────┴─┴────┴─┴──────┘             └──────┴─┴────┴─┴──────┴─┴──────┘   w = washer
//! ```

use super::{
    bolted::Bolted,
    clearance::LEAST_ROOM_MM,
    distance,
    foot::StandsOn,
    hole_row::{self, Setting},
    linkage::{Linkage, Point, at_tilt},
    model::{Chosen, Frame},
    piece::{Body, HoleUse, Role, Stick, hole},
    rectangle::{self, Rectangle},
    refusal::Refusal,
    search::{self, Candidate},
    stack::{Laid, Stack, washer_mm},
    turning::{self, Placed, Tail, check_edges, fits_middle, given_or, search_step_mm},
};
use crate::{
    catalogue::{Bolt, Section},
    design::{Design, Placement, Posts},
    quantities::{Tape, to_mm},
};

/// Room under the low edge where the design names none (mm). Judgement: grass, splash, a mower's deck; snow asks more.
const LOW_EDGE_MM: f64 = 150.0;
/// The fixed pin stays this far above grade (mm). Judgement: out of splash and reach of a shovel.
const PIN_ABOVE_GRADE_MM: f64 = 100.0;
/// Length of a cleat [mm]: two bolts and the pin between them, each with its end distance.
const CLEAT_MM: f64 = 304.8;

/// Choices that make one layout.
#[derive(Debug, Clone, Copy)]
struct Choice {
    bolt: &'static Bolt,
    pin: &'static Bolt,
    along_mm: f64,
    behind_mm: f64,
    below_mm: f64,
}

/// Lays out a frame on posts.
pub(super) fn lay_out(design: &Design, posts: &Posts, tilts_deg: &[f64], tape: Tape) -> Result<Frame, Vec<Refusal>> {
    let job = Job { design, posts, tilts_deg, tape };
    let (bolt, pins) = job.bolts();
    let rectangle = |pin| rectangle::build(design, tape, job.slot_mm(bolt, pin));
    let found = job.candidates(&rectangle(pins[0]).map_err(|r| vec![r])?, bolt, &pins);
    search::first_that_stands(found, |choice| job.build(rectangle(choice.pin).map_err(|r| vec![r])?, choice))
}

struct Job<'a> {
    design: &'a Design,
    posts: &'a Posts,
    tilts_deg: &'a [f64],
    tape: Tape,
}

impl Job<'_> {
    fn carrier(&self) -> &'static Section {
        match self.posts.placement {
            Placement::Outside => self.design.frame.stile,
            Placement::Inside => self.design.frame.mullion,
        }
    }

    /// The thickest axle that keeps its edges, and every pin worth trying.
    fn bolts(&self) -> (&'static Bolt, Vec<&'static Bolt>) {
        let (stay, post, tape) = (&self.design.support.stay, self.posts.section, self.tape);
        let offset = to_mm(self.posts.pin_offset);
        let (pinned, behind) = match stay.cleat {
            Some(cleat) => (cleat, 0.0),
            None => (self.carrier(), stay.pin_behind.map_or(0.0, to_mm)),
        };
        turning::bolts(
            self.design,
            &|axle| fits_middle(self.carrier(), axle, tape, 0.0) && fits_middle(post, axle, tape, 0.0),
            &|pin| fits_middle(pinned, pin, tape, behind) && fits_middle(post, pin, tape, offset),
        )
    }

    /// Between the carrying member and the post: washer, stay, washer.
    fn gap_mm(&self, pin: &Bolt) -> f64 {
        self.design.support.stay.section.width_mm + 2.0 * washer_mm(pin)
    }

    fn slot_mm(&self, bolt: &Bolt, pin: &Bolt) -> f64 {
        self.gap_mm(pin) + self.posts.section.width_mm + washer_mm(bolt)
    }

    /// Marked end of the carriers, and the axle from it, in s (mm): at mid height, or as near below as a mid rail lets it.
    fn axle_from_end(&self, rectangle: &Rectangle, bolt: &Bolt) -> (f64, f64) {
        let start = rectangle.carriers.first().map_or(0.0, |(i, _)| rectangle.sticks[*i].start[1]);
        let middle = start + self.tape.nearest_mm(rectangle.length_mm / 2.0 - start);
        let axle = turning::beside_sticks(rectangle, [middle, -self.axle_gauge()], bolt, -self.tape.mark_mm());
        (start, axle - start)
    }

    fn axle_gauge(&self) -> f64 {
        self.tape.nearest_mm(distance::gauge_mm(self.carrier()))
    }

    /// How far behind the axle the pin stands: as given; on a cleat clear of the stile's back; else level with it.
    fn behind_mm(&self, pin: &Bolt) -> f64 {
        let stay = &self.design.support.stay;
        let on_cleat = || {
            const AIR_MM: f64 = 6.0;
            self.tape.at_least_mm(self.carrier().depth_mm + pin.hole_mm / 2.0 + AIR_MM - self.axle_gauge())
        };
        given_or(stay.pin_behind, if stay.cleat.is_some() { on_cleat() } else { 0.0 })
    }

    fn linkage(&self, choice: &Choice) -> Linkage {
        let t = self.tape;
        Linkage::InStay {
            frame_pin: [-t.nearest_mm(choice.along_mm), -t.nearest_mm(choice.behind_mm)],
            fixed_pin: [t.nearest_mm(to_mm(self.posts.pin_offset)), -t.nearest_mm(choice.below_mm)],
        }
    }

    fn stay_end_mm(&self, pin: &Bolt) -> f64 {
        self.tape.at_least_mm(distance::end_mm(self.design.support.stay.section, pin))
    }

    fn row(&self, choice: &Choice) -> Result<Vec<Setting>, Vec<Refusal>> {
        let stay = self.design.support.stay.section;
        let (linkage, end) = (self.linkage(choice), self.stay_end_mm(choice.pin));
        let row = hole_row::find(&linkage, self.tilts_deg, end, self.tape, stay, choice.pin)?;
        let tail = Tail {
            linkage: &linkage,
            from_pin_mm: self.stay_length_mm(choice.pin, &row) - end,
            section: stay,
            surface: ([0.0, -self.axle_height_mm()], 0.0),
        };
        let mut refusals = tail.check(&row);
        refusals.extend(self.heads_and_nuts(choice, &linkage, &row));
        if refusals.is_empty() { Ok(row) } else { Err(refusals) }
    }

    /// Between stile, stay and post there is room for washers only: the frame pin's nut must stand clear of the post,
    /// and the fixed pin's head of the stile, at every hole. Nearest at the steepest; the stile is taken as endless. In
    /// the hollow of a stay of angle or channel the frame pin has room enough.
    fn heads_and_nuts(&self, choice: &Choice, linkage: &Linkage, row: &[Setting]) -> Vec<Refusal> {
        let Linkage::InStay { frame_pin, fixed_pin } = *linkage else { return vec![] };
        let (post, stile) = (self.posts.section, self.carrier());
        let (post_gauge, axle_gauge) = (self.post_gauge(), self.axle_gauge());
        let post_at = [[-post_gauge, post.depth_mm - post_gauge], [f64::NEG_INFINITY, self.above_axle_mm(choice.bolt)]];
        let stile_at = [[f64::NEG_INFINITY, f64::INFINITY], [axle_gauge - stile.depth_mm, axle_gauge]];
        let needed_mm = choice.pin.flats_mm / 3f64.sqrt() + LEAST_ROOM_MM;
        let stay = self.design.support.stay.section;
        let roomy = stay.width_mm - stay.ply_mm() >= choice.pin.head_mm + LEAST_ROOM_MM;
        let mut refusals = Vec::new();
        for hole in row {
            let tilt = hole.reached_deg.to_radians();
            for (one, other, place, solid) in [
                ("nut of the frame pin", "post", at_tilt(frame_pin, tilt), post_at),
                ("head of the fixed pin", "stile", at_tilt(fixed_pin, -tilt), stile_at),
            ] {
                let overlap_mm = needed_mm - outside_mm(place, solid);
                if overlap_mm > 0.0 && !(roomy && other == "post") {
                    let (one, other) = (one.to_string(), other.to_string());
                    refusals.push(Refusal::Fouls { tilt_deg: hole.reached_deg, one, other, overlap_mm });
                }
            }
        }
        refusals
    }

    /// All open choices on a grid, best first by stick length, lever arm and hole distance.
    fn candidates(&self, rectangle: &Rectangle, bolt: &'static Bolt, pins: &[&'static Bolt]) -> Vec<Candidate<Choice>> {
        let step = search_step_mm(self.tape);
        let stay = &self.design.support.stay;
        let (_, axle) = self.axle_from_end(rectangle, bolt);
        let height = to_mm(self.posts.axle_height);
        let mut choices = Vec::new();
        for &pin in pins {
            let reach = axle - self.tape.at_least_mm(distance::end_mm(self.carrier(), pin));
            let alongs = search::grid(stay.pin_along.map(to_mm), 0.3 * axle, reach, step);
            let belows = search::grid(self.posts.pin_below_axle.map(to_mm), 200.0, height - PIN_ABOVE_GRADE_MM, step);
            let behind_mm = self.behind_mm(pin);
            for &along_mm in &alongs {
                choices.extend(belows.iter().map(|&below_mm| Choice { bolt, pin, along_mm, behind_mm, below_mm }));
            }
        }
        let sticks = |choice: &Choice, row: &[Setting]| {
            self.stay_length_mm(choice.pin, row) + turning::thin_pin_cost_mm(pins, choice.pin)
        };
        search::ranked(choices.into_iter(), |choice| self.row(choice), sticks)
    }

    fn stay_length_mm(&self, pin: &Bolt, row: &[Setting]) -> f64 {
        let longest = row.iter().map(|h| h.offset_mm).fold(0.0, f64::max);
        let end = self.stay_end_mm(pin);
        self.tape.at_least_mm(2.0 * end + longest)
    }

    fn build(&self, mut rectangle: Rectangle, choice: &Choice) -> Result<Frame, Vec<Refusal>> {
        let Choice { bolt, pin, .. } = *choice;
        let mut refusals = Vec::new();
        let row = self.row(choice).unwrap_or_else(|r| {
            refusals = r;
            vec![]
        });
        if row.is_empty() {
            return Err(refusals);
        }
        let linkage = self.linkage(choice);
        let Linkage::InStay { frame_pin, fixed_pin } = linkage else {
            unreachable!("posts have their holes in the stay")
        };
        let (cut_s, axle_end) = self.axle_from_end(&rectangle, bolt);
        let axle_gauge = self.axle_gauge();
        let pin_end = axle_end + frame_pin[0];
        let pin_gauge = axle_gauge - frame_pin[1];
        self.check(&mut refusals, choice, pin_end, pin_gauge, fixed_pin);

        let sides = self.sides(&rectangle, pin);
        let mut support = Vec::new();
        let mut cleats = Vec::new();
        for side in &sides {
            for &stick in side.outer.iter().chain(&side.inner) {
                rectangle.sticks[stick].holes.push(hole(HoleUse::Axle, axle_end, axle_gauge, bolt));
            }
            match self.design.support.stay.cleat {
                None => {
                    for &stick in &side.outer {
                        rectangle.sticks[stick].holes.push(hole(HoleUse::FramePin, pin_end, pin_gauge, pin));
                    }
                }
                Some(cleat) => {
                    let stick = self.cleat(cleat, &rectangle, side, pin, [pin_end, pin_gauge], &mut refusals);
                    // The cleat hangs on the same marks as the stile it is bolted to.
                    for screw in
                        stick.holes.iter().filter(|h| h.use_ == HoleUse::CleatScrew).cloned().collect::<Vec<_>>()
                    {
                        let on_stile = hole(
                            HoleUse::CleatScrew,
                            stick.start[1] - cut_s + screw.from_end_mm,
                            -stick.start[2] + screw.gauge_mm,
                            pin,
                        );
                        for &outer in &side.outer {
                            rectangle.sticks[outer].holes.push(on_stile.clone());
                        }
                    }
                    cleats.push(rectangle.sticks.len());
                    rectangle.sticks.push(stick);
                }
            }
            support.push(self.post(side, bolt, pin, fixed_pin));
            support.push(self.stay(side, pin, &row));
        }
        // Posts and stays follow the sticks of the frame, side by side.
        let first = rectangle.sticks.len();
        let bolts = sides
            .iter()
            .enumerate()
            .flat_map(|(i, side)| {
                let at = Sticks { post: first + 2 * i, stay: first + 2 * i + 1, cleat: cleats.get(i).copied() };
                self.bolts_of(&rectangle, side, &at, choice)
            })
            .collect();
        let span_mm = sides.iter().map(|s| s.post_x.abs()).sum();
        let stands_on = StandsOn::Posts {
            inside: self.posts.placement == Placement::Inside,
            axle_height_mm: self.axle_height_mm(),
            embedment_mm: to_mm(self.posts.embedment),
            hole_diameter_mm: to_mm(self.posts.hole_diameter),
            above_axle_mm: self.above_axle_mm(bolt),
        };
        Placed {
            design: self.design,
            tape: self.tape,
            rectangle,
            turn_at: [cut_s + axle_end, -axle_gauge],
            support,
            bolts,
            linkage,
            row,
            row_datum_mm: self.stay_end_mm(pin),
            row_role: Role::Stay,
            bolt,
            pin,
            span_mm,
            stands_on,
            low_edge_mm: given_or(self.design.support.low_edge_clearance, LOW_EDGE_MM),
            chosen: self.chosen(choice),
            refusals,
        }
        .finish()
    }

    fn chosen(&self, choice: &Choice) -> Vec<(&'static str, Chosen)> {
        let support = &self.design.support;
        let length =
            |open: bool, field, value: f64| open.then_some((field, Chosen::Length(self.tape.nearest_mm(value))));
        let named = |open: bool, field, bolt: &'static Bolt| open.then_some((field, Chosen::Bolt(bolt.name)));
        [
            named(support.bolt.is_none(), "support.bolt", choice.bolt),
            named(support.pin.is_none(), "support.pin", choice.pin),
            length(support.stay.pin_along.is_none(), "support.stay.pin_along", choice.along_mm),
            length(support.stay.pin_behind.is_none(), "support.stay.pin_behind", choice.behind_mm),
            length(self.posts.pin_below_axle.is_none(), "support.posts.pin_below_axle", choice.below_mm),
        ]
        .into_iter()
        .flatten()
        .collect()
    }

    fn axle_height_mm(&self) -> f64 {
        self.tape.nearest_mm(to_mm(self.posts.axle_height))
    }

    fn above_axle_mm(&self, bolt: &Bolt) -> f64 {
        self.tape.at_least_mm(distance::end_mm(self.posts.section, bolt))
    }

    fn post_gauge(&self) -> f64 {
        self.tape.nearest_mm(distance::gauge_mm(self.posts.section))
    }

    fn check(&self, refusals: &mut Vec<Refusal>, choice: &Choice, pin_end: f64, pin_gauge: f64, fixed: [f64; 2]) {
        let Choice { bolt, pin, .. } = *choice;
        let (carrier, word) = match self.posts.placement {
            Placement::Outside => (self.design.frame.stile, "stile"),
            Placement::Inside => (self.design.frame.mullion, "mullion"),
        };
        let post = self.posts.section;
        let (post_gauge, axle_gauge) = (self.post_gauge(), self.axle_gauge());
        check_edges(refusals, "support.bolt", word, carrier, axle_gauge, bolt);
        check_edges(refusals, "support.bolt", "post", post, post_gauge, bolt);
        check_edges(refusals, "support.pin", "post", post, post_gauge + fixed[0], pin);
        if self.design.support.stay.cleat.is_none() {
            check_edges(refusals, "support.stay.pin_behind", word, carrier, pin_gauge, pin);
        } else {
            let needed_mm = carrier.depth_mm - axle_gauge + pin.hole_mm / 2.0;
            let found_mm = pin_gauge - axle_gauge;
            if found_mm < needed_mm {
                refusals.push(Refusal::OutsidePiece {
                    field: "support.stay.pin_behind",
                    what: "frame pin on its cleat behind the axle".to_string(),
                    found_mm,
                    needed_mm,
                });
            }
        }
        turning::check_stay_leg(refusals, self.design.support.stay.section, self.tape, pin);
        let needed_mm = distance::end_mm(carrier, pin);
        if pin_end < needed_mm - 1e-6 {
            refusals.push(Refusal::OutsidePiece {
                field: "support.stay.pin_along",
                what: format!("frame pin from the end of the {word}"),
                found_mm: pin_end,
                needed_mm,
            });
        }
        let above = self.axle_height_mm() + fixed[1];
        if above < PIN_ABOVE_GRADE_MM - 1e-6 {
            refusals.push(Refusal::OutsidePiece {
                field: "support.posts.pin_below_axle",
                what: "fixed pin above grade".to_string(),
                found_mm: above,
                needed_mm: PIN_ABOVE_GRADE_MM,
            });
        }
    }

    fn sides(&self, rectangle: &Rectangle, pin: &Bolt) -> Vec<Side> {
        let gap = self.gap_mm(pin);
        let (post, stay) = (self.posts.section.width_mm, self.design.support.stay.section.width_mm);
        let middle = |stick: usize| rectangle.sticks[stick].start[0];
        ["left", "right"]
            .into_iter()
            .enumerate()
            .map(|(index, name)| {
                let sign = if index == 0 { -1.0 } else { 1.0 };
                let mut members: Vec<usize> = match self.posts.placement {
                    Placement::Outside => rectangle
                        .carriers
                        .iter()
                        .map(|(stick, _)| *stick)
                        .filter(|stick| middle(*stick) * sign > 0.0)
                        .collect(),
                    Placement::Inside => {
                        rectangle.carriers.iter().filter(|(_, slot)| *slot == Some(index)).map(|(s, _)| *s).collect()
                    }
                };
                members.sort_by(|a, b| (middle(*b) * sign).total_cmp(&(middle(*a) * sign)));
                // Outer face of the frame, or the slot face that is farther from the middle.
                let face = match self.posts.placement {
                    Placement::Outside => rectangle.width_mm / 2.0,
                    Placement::Inside => rectangle.slots[index].map(|x| x * sign).into_iter().fold(f64::MIN, f64::max),
                };
                // Outside, the stack grows outward from the frame; inside, inward from the outer member.
                let outward = if self.posts.placement == Placement::Outside { 1.0 } else { -1.0 };
                let at = |from_face: f64| sign * (face + outward * from_face);
                let (outer, inner): (Vec<usize>, Vec<usize>) = members.into_iter().partition(|stick| {
                    self.posts.placement == Placement::Outside || middle(*stick) * sign > face - 1e-6
                });
                // Thickness of the members the frame pin hangs on.
                let plies_mm: f64 = outer.iter().map(|stick| rectangle.sticks[*stick].section.width_mm).sum();
                Side {
                    name,
                    outer,
                    inner,
                    towards_stile: -outward * sign,
                    face_x: at(0.0),
                    stay_x: at(washer_mm(pin) + stay / 2.0),
                    post_x: at(gap + post / 2.0),
                    cleat_x: at(-(plies_mm + self.cleat_mm() / 2.0)),
                }
            })
            .collect()
    }

    fn cleat_mm(&self) -> f64 {
        self.design.support.stay.cleat.map_or(0.0, |c| c.width_mm)
    }

    fn post(&self, side: &Side, bolt: &Bolt, pin: &Bolt, fixed: [f64; 2]) -> Stick {
        let (gauge, top) = (self.post_gauge(), self.above_axle_mm(bolt));
        Stick {
            role: Role::Post,
            section: self.posts.section,
            length_mm: top + self.axle_height_mm() + to_mm(self.posts.embedment),
            ends_deg: [0.0; 2],
            holes: vec![
                hole(HoleUse::Axle, top, gauge, bolt),
                hole(HoleUse::FixedPin, top - fixed[1], gauge + fixed[0], pin),
            ],
            body: Body::Ground,
            start: [side.post_x, -gauge, top],
            along: [0.0, 0.0, -1.0],
            across: [0.0, 1.0, 0.0],
            back: [0.0; 3],
            side: side.name,
        }
        .backed([side.towards_stile, 0.0, 0.0])
    }

    fn stay(&self, side: &Side, pin: &Bolt, row: &[Setting]) -> Stick {
        let section = self.design.support.stay.section;
        let end = self.stay_end_mm(pin);
        let gauge = self.tape.nearest_mm(distance::gauge_mm(section));
        let mut stick =
            turning::stay_stick(section, side.stay_x, side.name, self.stay_length_mm(pin, row), end, self.tape)
                .backed([side.towards_stile, 0.0, 0.0]);
        stick.holes.push(hole(HoleUse::FramePin, end, gauge, pin));
        stick.holes.extend(turning::row_holes(row, end, gauge, pin));
        stick
    }

    /// A block on the far side of the stile that carries the pin behind the stile's back.
    fn cleat(
        &self,
        section: &'static Section,
        rectangle: &Rectangle,
        side: &Side,
        pin: &'static Bolt,
        [pin_end, pin_gauge]: [f64; 2],
        refusals: &mut Vec<Refusal>,
    ) -> Stick {
        let tape = self.tape;
        let cut_s = side.outer.first().map_or(0.0, |i| rectangle.sticks[*i].start[1]);
        let back = tape.at_least_mm(distance::reversing_edge_mm(section, pin));
        let gauge = tape.nearest_mm(section.depth_mm) - back;
        check_edges(refusals, "support.stay.cleat", "cleat", section, gauge, pin);
        let length = tape.nearest_mm(CLEAT_MM);
        let end = tape.nearest_mm(length / 2.0);
        let top = gauge - pin_gauge;
        // The lag screws go through the wood that cleat and stile share.
        let shared = self.carrier().depth_mm + top.min(0.0);
        let screw_gauge = tape.nearest_mm(shared / 2.0 + top.max(0.0));
        let needed_mm = 2.0 * distance::side_edge_mm(pin);
        if shared < needed_mm {
            refusals.push(Refusal::OutsidePiece {
                field: "support.stay.cleat",
                what: "lap of cleat and stile".to_string(),
                found_mm: shared,
                needed_mm,
            });
        }
        let near = tape.at_least_mm(distance::reversing_edge_mm(section, pin));
        Stick {
            role: Role::Cleat,
            section,
            length_mm: length,
            ends_deg: [0.0; 2],
            holes: vec![
                hole(HoleUse::CleatScrew, near, screw_gauge, pin),
                hole(HoleUse::FramePin, end, gauge, pin),
                hole(HoleUse::CleatScrew, length - near, screw_gauge, pin),
            ],
            body: Body::Frame,
            start: [side.cleat_x, cut_s + pin_end - end, top],
            along: [0.0, 1.0, 0.0],
            across: [0.0, 0.0, -1.0],
            back: [0.0; 3],
            side: side.name,
        }
        .backed([-side.towards_stile, 0.0, 0.0])
    }

    /// Every bolt of one side. The stay's side of the frame, where its members end, is what all of them are placed from.
    fn bolts_of(&self, rectangle: &Rectangle, side: &Side, at: &Sticks, choice: &Choice) -> Vec<Bolted> {
        let Choice { bolt, pin, .. } = *choice;
        let gap = self.gap_mm(pin);
        let members = |sticks: &[usize]| sticks.iter().map(|s| &rectangle.sticks[*s]).collect::<Vec<_>>();
        let (post, stay) = (self.posts.section, self.design.support.stay.section);
        let linkage = self.linkage(choice);
        let Linkage::InStay { fixed_pin, .. } = linkage else { unreachable!("posts have their holes in the stay") };
        let (face_x, to_post) = (side.face_x, -side.towards_stile);
        let mut axle = lay_members(Stack::new(HoleUse::Axle, bolt, 1).washer(), &members(&side.outer), true);
        let axle_anchor = (axle.layers.len(), face_x);
        axle =
            axle.washer().lay(Laid::Spacer, gap - 2.0 * washer_mm(bolt)).washer().lay_piece(Role::Post, post).washer();
        if !side.inner.is_empty() {
            // The hollow of an open post is filled up to the washer on the other member.
            axle = match hollow_mm(post) - washer_mm(bolt) {
                hollow if hollow > 0.0 => axle.lay(Laid::Spacer, hollow).washer(),
                _ => axle,
            };
            axle = lay_members(axle, &members(&side.inner), false).washer();
        }
        let mut bolts = vec![Bolted {
            stack: axle,
            sticks: side.outer.iter().copied().chain([at.post]).chain(side.inner.iter().copied()).collect(),
            body: Body::Frame,
            anchor: axle_anchor,
            towards: to_post,
            at: vec![[0.0, 0.0]],
        }];
        // The head faces the post: it stands out less than a nut.
        let mut frame_pin = Stack::new(HoleUse::FramePin, pin, 1).washer().lay_piece(Role::Stay, stay).washer();
        let pin_anchor = (frame_pin.layers.len(), face_x);
        let mut pinned = vec![at.stay];
        match (self.design.support.stay.cleat, at.cleat) {
            (Some(section), Some(cleat)) => {
                let outer = members(&side.outer);
                let past_mm: f64 = outer.iter().map(|s| s.section.width_mm).sum();
                frame_pin = frame_pin.lay(Laid::Spacer, past_mm).lay_piece(Role::Cleat, section);
                pinned.push(cleat);
                // Nothing may stand out on the stay's side, so the cleat is held by lag screws from its own.
                let lag = Stack::new(HoleUse::CleatScrew, pin, 2).screwed_in().washer().lay_piece(Role::Cleat, section);
                let lag = outer.iter().fold(lag, |lag, s| lag.lay(Laid::Piece(s.role), s.section.width_mm));
                let cleat_stick = &rectangle.sticks[cleat];
                // The cleat still stands in the frame's own (s, n).
                let (cut_s, axle_end) = self.axle_from_end(rectangle, bolt);
                let gauge = self.axle_gauge();
                let fixings = cleat_stick.holes.iter().filter(|h| h.use_ == HoleUse::CleatScrew);
                bolts.push(Bolted {
                    anchor: (lag.layers.len(), face_x),
                    stack: lag,
                    sticks: [cleat].into_iter().chain(side.outer.iter().copied()).collect(),
                    body: Body::Frame,
                    towards: to_post,
                    at: fixings
                        .map(|h| cleat_stick.hole_place(h))
                        .map(|[_, s, n]| [s - cut_s - axle_end, n + gauge])
                        .collect(),
                });
            }
            _ => {
                let outward: Vec<usize> = side.outer.iter().rev().copied().collect();
                frame_pin = lay_members(frame_pin, &members(&outward), false);
                pinned.extend(outward);
            }
        }
        let frame_pin = frame_pin.washer();
        let fixed_pin_stack = Stack::new(HoleUse::FixedPin, pin, 1)
            .washer()
            .lay_piece(Role::Stay, stay)
            .lay(Laid::Spacer, hollow_mm(stay))
            .washer()
            .lay_piece(Role::Post, post)
            .washer()
            .by_hand();
        bolts.push(Bolted {
            stack: frame_pin,
            sticks: pinned,
            body: Body::Frame,
            anchor: pin_anchor,
            towards: side.towards_stile,
            at: vec![linkage.frame_pin()],
        });
        bolts.push(Bolted {
            stack: fixed_pin_stack,
            sticks: vec![at.stay, at.post],
            body: Body::Ground,
            anchor: (0, face_x),
            towards: to_post,
            at: vec![fixed_pin],
        });
        bolts
    }
}

/// Indices of one side's sticks in the finished frame.
struct Sticks {
    post: usize,
    stay: usize,
    cleat: Option<usize>,
}

/// Room behind the leg or web that a bolt passes (mm); none in whole sections and tubes.
fn hollow_mm(section: &Section) -> f64 {
    section.width_mm - section.ply_mm()
}

/// Lays members side by side. Open ones turn their backs to the stay, which comes `last` or first: only the hollows
/// between two members are filled, head and nut stand in the outer ones.
fn lay_members(mut stack: Stack, members: &[&Stick], stay_comes_last: bool) -> Stack {
    for (i, member) in members.iter().enumerate() {
        if i > 0 {
            stack = stack.lay(Laid::Spacer, hollow_mm(if stay_comes_last { member } else { members[i - 1] }.section));
        }
        stack = stack.lay_piece(member.role, member.section);
    }
    stack
}

/// How far a point stands outside a rectangle (mm); below zero inside it.
fn outside_mm(point: Point, sides: [[f64; 2]; 2]) -> f64 {
    let [a, b]: [f64; 2] = std::array::from_fn(|i| (sides[i][0] - point[i]).max(point[i] - sides[i][1]));
    if a > 0.0 && b > 0.0 { a.hypot(b) } else { a.max(b) }
}

/// One post and what stands round it.
struct Side {
    name: &'static str,
    /// Members on the stay's side of the post.
    outer: Vec<usize>,
    /// Members on the other side of a post inside the frame.
    inner: Vec<usize>,
    /// Across the frame from the post to the stay's member, as a sign.
    towards_stile: f64,
    /// Where the members on the stay's side end, and the stay's washer begins.
    face_x: f64,
    stay_x: f64,
    post_x: f64,
    cleat_x: f64,
}
