//! Hinge at the low edge on two runners; the stay has a fixed length and the hole row is in the runner.
//!
//! ```text
//! across one runner                         side view
//!                                             cheek
//!  bay │stile│w│ stay, or cheek │w│ runner      │o hinge
//!      └─────┴─┴────────────────┴─┴────────     │|   hinge_above
//!                                            ───┼┼──o────o──o─── hole line
//! ```

use super::{
    bolted::Bolted,
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
    vector::dot,
};
use crate::{
    catalogue::{Bolt, Section, Shape},
    design::{Design, Ground, Runners},
    quantities::{Tape, to_deg, to_mm},
};

/// Room under the low edge where the design names none (mm). Judgement: grass and splash; on a roof or deck, water
/// and leaves.
const LOW_EDGE_GROUND_MM: f64 = 100.0;
const LOW_EDGE_DECK_MM: f64 = 50.0;
/// The thickest shim that still makes a sound bearing under a runner (mm). Judgement.
const MOST_SHIM_MM: f64 = 150.0;
/// The hinge keeps at least this from the end of the stile (mm). Judgement: a hand's room for washer and nut.
const LEAST_FROM_LOW_EDGE_MM: f64 = 60.0;

/// How a roof lies under the runners.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Lie {
    /// Slope along the runners, rising away from the low edge (deg).
    pub(super) along_deg: f64,
    /// Slope along the hinge line, rising to the right seen from the front (deg).
    pub(super) cross_deg: f64,
}

impl Lie {
    /// A roof of a pitch that faces one bearing under an array that faces another (deg).
    ///
    /// The roof rises towards its facing + 180°; the runners run towards the array's facing + 180°; the right-hand
    /// side, seen from the front, lies at the array's facing − 90°.
    pub(super) fn of_roof(pitch_deg: f64, roof_facing_deg: f64, facing_deg: f64) -> Self {
        let rise = pitch_deg.to_radians().tan();
        let turn = (roof_facing_deg - facing_deg).to_radians();
        // An exact zero for a roof that faces the array, whatever the bearing.
        let across = if (roof_facing_deg - facing_deg) % 180.0 == 0.0 { 0.0 } else { turn.sin() };
        Self { along_deg: (rise * turn.cos()).atan().to_degrees(), cross_deg: (rise * across).atan().to_degrees() }
    }

    /// Tilt and facing a frame would really have if its hinge line were not levelled (deg).
    ///
    /// In three dimensions: e1 along the hinge line, e2 along the runner made square to it, e3 out of the roof; the
    /// frame stands at (tilt − slope) above e2. Its normal, turned into east, north, up, gives both angles.
    pub(super) fn true_tilt_and_facing(self, tilt_deg: f64, facing_deg: f64) -> (f64, f64) {
        let (cross, along) = (self.cross_deg.to_radians(), self.along_deg.to_radians());
        let back = (facing_deg + 180.0).to_radians();
        let right = (facing_deg - 90.0).to_radians();
        let e1 = [right.sin() * cross.cos(), right.cos() * cross.cos(), cross.sin()];
        let run = [back.sin() * along.cos(), back.cos() * along.cos(), along.sin()];
        let lean = dot(run, e1);
        let e2 = unit(std::array::from_fn(|i| run[i] - lean * e1[i]));
        let e3 = [e1[1] * e2[2] - e1[2] * e2[1], e1[2] * e2[0] - e1[0] * e2[2], e1[0] * e2[1] - e1[1] * e2[0]];
        let above = tilt_deg.to_radians() - along;
        let normal: [f64; 3] = std::array::from_fn(|i| e3[i] * above.cos() - e2[i] * above.sin());
        let tilt = normal[2].clamp(-1.0, 1.0).acos().to_degrees();
        let facing = normal[0].atan2(normal[1]).to_degrees().rem_euclid(360.0);
        (tilt, facing)
    }
}

fn unit(a: [f64; 3]) -> [f64; 3] {
    let length = dot(a, a).sqrt();
    a.map(|v| v / length)
}

/// Choices that make one layout.
#[derive(Debug, Clone, Copy)]
struct Choice {
    bolt: &'static Bolt,
    pin: &'static Bolt,
    along_mm: f64,
    behind_mm: f64,
    stay_mm: f64,
    hinge_above_mm: f64,
    from_low_edge_mm: f64,
}

/// Lays out a frame on runners.
pub(super) fn lay_out(
    design: &Design,
    runners: &Runners,
    tilts_deg: &[f64],
    tape: Tape,
) -> Result<Frame, Vec<Refusal>> {
    let facing = to_deg(design.site.facing);
    let roof_facing = runners.roof_facing.map_or(facing, to_deg);
    let lie = Lie::of_roof(to_deg(runners.roof_pitch), roof_facing, facing);
    let job = Job { design, runners, tilts_deg, tape, lie };
    let (bolt, pins) = job.bolts();
    let rectangle = rectangle::build(design, tape, 0.0).map_err(|r| vec![r])?;
    job.check_cross_slope(&rectangle, pins[0])?;
    let found = job.candidates(&rectangle, bolt, &pins);
    search::first_that_stands(found, |choice| job.build(rectangle.clone(), choice))
}

struct Job<'a> {
    design: &'a Design,
    runners: &'a Runners,
    tilts_deg: &'a [f64],
    tape: Tape,
    lie: Lie,
}

impl Job<'_> {
    fn stile(&self) -> &'static Section {
        self.design.frame.stile
    }

    /// The cheek is cut from the stile's section.
    fn cheek(&self) -> &'static Section {
        self.stile()
    }

    fn runner(&self) -> &'static Section {
        self.runners.section
    }

    fn slope_rad(&self) -> f64 {
        self.lie.along_deg.to_radians()
    }

    /// The thickest hinge bolt that keeps its edges, and every pin worth trying.
    fn bolts(&self) -> (&'static Bolt, Vec<&'static Bolt>) {
        let (stile, tape) = (self.stile(), self.tape);
        let behind = self.design.support.stay.pin_behind.map_or(0.0, to_mm);
        turning::bolts(self.design, &|hinge| fits_middle(stile, hinge, tape, 0.0), &|pin| {
            fits_middle(stile, pin, tape, behind) && fits_middle(self.runner(), pin, tape, 0.0)
        })
    }

    /// Stay and cheek share a layer between stile and runner. The stile swings past the heads of the cheek bolts, which
    /// stand in that layer beside the cheek.
    fn layer_mm(&self, pin: &Bolt) -> f64 {
        let room_for_heads = pin.head_mm + washer_mm(pin);
        self.design.support.stay.section.width_mm.max(self.cheek().width_mm + room_for_heads)
    }

    /// The cheek is drawn up to the runner over its own bolt's washer, which may be thinner than the pin's.
    fn past_layer_mm(&self, pin: &'static Bolt) -> f64 {
        washer_mm(pin) - washer_mm(self.cheek_bolt(pin))
    }

    fn gap_mm(&self, pin: &Bolt) -> f64 {
        self.layer_mm(pin) + 2.0 * washer_mm(pin)
    }

    fn runner_x(&self, rectangle: &Rectangle, pin: &Bolt) -> f64 {
        rectangle.width_mm / 2.0 + self.gap_mm(pin) + self.runner().width_mm / 2.0
    }

    fn shim_mm(&self, rectangle: &Rectangle, pin: &Bolt) -> f64 {
        2.0 * self.runner_x(rectangle, pin) * self.lie.cross_deg.to_radians().tan().abs()
    }

    fn check_cross_slope(&self, rectangle: &Rectangle, pin: &Bolt) -> Result<(), Vec<Refusal>> {
        let shim_mm = self.shim_mm(rectangle, pin);
        let level = shim_mm < self.tape.mark_mm() / 2.0;
        if level || (self.runners.shims && shim_mm <= MOST_SHIM_MM) {
            return Ok(());
        }
        let first = self.tilts_deg.first().copied().unwrap_or(0.0);
        let (true_tilt_deg, true_facing_deg) = self.lie.true_tilt_and_facing(first, to_deg(self.design.site.facing));
        Err(vec![Refusal::CrossSlope {
            roof: self.runners.on == crate::design::Ground::Roof,
            slope_deg: self.lie.cross_deg.abs(),
            shim_mm,
            most_mm: MOST_SHIM_MM,
            true_tilt_deg,
            true_facing_deg,
            shims: self.runners.shims,
        }])
    }

    fn hinge_gauge(&self) -> f64 {
        self.tape.nearest_mm(distance::gauge_mm(self.stile()))
    }

    /// The hole line stands as high in the runner as the pin's edge distance allows: the stay's tail needs the room
    /// below it.
    fn hole_line_gauge(&self, pin: &Bolt) -> f64 {
        let flat = distance::flat_mm(self.runner(), pin).unwrap_or(0.0);
        let least = self.tape.at_least_mm(distance::reversing_edge_mm(self.runner(), pin).max(flat));
        least.min(self.tape.nearest_mm(distance::gauge_mm(self.runner())))
    }

    /// Wood of the runner under the hole line (mm).
    fn under_holes_mm(&self, pin: &Bolt) -> f64 {
        self.runner().depth_mm - self.hole_line_gauge(pin)
    }

    /// The hinge hole in the cheek stands on a mark, so the height above the hole line follows from it.
    fn hinge_above_mm(&self, wanted_mm: f64, pin: &Bolt) -> f64 {
        self.tape.nearest_mm(self.under_holes_mm(pin) + wanted_mm) - self.under_holes_mm(pin)
    }

    fn linkage(&self, choice: &Choice) -> Linkage {
        let t = self.tape;
        Linkage::in_runner(
            [t.nearest_mm(choice.along_mm), -t.nearest_mm(choice.behind_mm)],
            self.slope_rad(),
            self.hinge_above_mm(choice.hinge_above_mm, choice.pin),
            t.nearest_mm(choice.stay_mm),
        )
    }

    fn row(&self, choice: &Choice) -> Result<Vec<Setting>, Vec<Refusal>> {
        hole_row::find(
            &self.linkage(choice),
            self.tilts_deg,
            self.front_mm(choice),
            self.tape,
            self.runner(),
            choice.pin,
        )
    }

    /// Runner before the foot of the hinge: half a cheek and its bolts' distance to the end.
    fn front_mm(&self, choice: &Choice) -> f64 {
        let ahead = distance::end_mm(self.runner(), choice.pin);
        self.tape.at_least_mm(ahead.max(distance::gauge_mm(self.cheek()) + distance::side_edge_mm(choice.pin)))
    }

    fn stay_end_mm(&self, pin: &Bolt) -> f64 {
        self.tape.at_least_mm(distance::end_mm(self.design.support.stay.section, pin))
    }

    fn low_edge_mm(&self) -> f64 {
        let usual = if self.runners.on == Ground::Ground { LOW_EDGE_GROUND_MM } else { LOW_EDGE_DECK_MM };
        given_or(self.design.support.low_edge_clearance, usual)
    }

    /// The least height of the hinge above the hole line that keeps the low edge clear through the whole swing (mm).
    fn least_hinge_above_mm(&self, rectangle: &Rectangle, from_low_edge_mm: f64, pin: &Bolt) -> f64 {
        let gauge = self.hinge_gauge();
        let (low, high) = self.tilts_deg.iter().fold((f64::MAX, f64::MIN), |(l, h), t| (l.min(*t), h.max(*t)));
        let (sin, cos) = self.slope_rad().sin_cos();
        let mut deepest: f64 = 0.0;
        for i in 0..=60 {
            let tilt = (low + (high - low) * f64::from(i) / 60.0).to_radians();
            for corner in [[-from_low_edge_mm, gauge - rectangle.depth_mm], [-from_low_edge_mm, gauge]] {
                let [x, z] = at_tilt(corner, tilt);
                deepest = deepest.max(-(z * cos - x * sin));
            }
        }
        deepest + self.low_edge_mm() + 1.0 - self.under_holes_mm(pin)
    }

    fn candidates(&self, rectangle: &Rectangle, bolt: &'static Bolt, pins: &[&'static Bolt]) -> Vec<Candidate<Choice>> {
        let step = search_step_mm(self.tape);
        let stay = &self.design.support.stay;
        let end = distance::end_mm(self.stile(), bolt);
        // The bolt clears the low rail and what else stands beside the stile there.
        let least = self.tape.at_least_mm(end.max(LEAST_FROM_LOW_EDGE_MM));
        let clear = || turning::beside_sticks(rectangle, [least, -self.hinge_gauge()], bolt, self.tape.mark_mm());
        let from_low_edge_mm = self.runners.hinge_from_low_edge.map_or_else(clear, to_mm);
        let behind_mm = given_or(stay.pin_behind, 0.0);
        let span = rectangle.length_mm - from_low_edge_mm;
        let coarse = 2.0 * step;
        let alongs = search::grid(stay.pin_along.map(to_mm), 0.25 * span, 0.75 * span, coarse);
        let stays = search::grid(stay.length.map(to_mm), 0.25 * span, 1.3 * span, coarse);
        let mut choices = Vec::new();
        for &pin in pins {
            for hinge_above_mm in self.hinge_heights(rectangle, from_low_edge_mm, bolt, pin) {
                for &along_mm in &alongs {
                    choices.extend(stays.iter().map(|&stay_mm| Choice {
                        bolt,
                        pin,
                        along_mm,
                        behind_mm,
                        stay_mm,
                        hinge_above_mm,
                        from_low_edge_mm,
                    }));
                }
            }
        }
        let sticks = |choice: &Choice, row: &[Setting]| {
            let cheek = choice.hinge_above_mm + self.under_holes_mm(choice.pin);
            choice.stay_mm + self.runner_length_mm(choice, row) + cheek + turning::thin_pin_cost_mm(pins, choice.pin)
        };
        search::ranked(choices.into_iter(), |choice| self.sound_row(choice), sticks)
    }

    /// Heights of the hinge worth trying: as low as the swing allows, and a few hands higher, which gives the stay a
    /// better lever where the lowest tilt lies near the runner.
    fn hinge_heights(&self, rectangle: &Rectangle, from_low_edge_mm: f64, bolt: &Bolt, pin: &Bolt) -> Vec<f64> {
        if let Some(given) = self.runners.hinge_above_holes {
            return vec![to_mm(given)];
        }
        let least = self.least_hinge_above_mm(rectangle, from_low_edge_mm, pin);
        // The cheek must at least rise above the runner by the hinge bolt's edge distance.
        let usual = least.max(self.hole_line_gauge(pin) + distance::reversing_edge_mm(self.cheek(), bolt));
        let step = 3.0 * search_step_mm(self.tape);
        (0..4).map(|i| self.tape.at_least_mm(usual) + f64::from(i) * step).collect()
    }

    /// The row, refused as well where a hole leaves the runner or comes under the cheek.
    fn sound_row(&self, choice: &Choice) -> Result<Vec<Setting>, Vec<Refusal>> {
        let row = self.row(choice)?;
        let mut refusals = Vec::new();
        let room_mm = self.tape.at_least_mm(distance::end_mm(self.runner(), choice.pin));
        let behind_mm = self.cheek().depth_mm - distance::gauge_mm(self.cheek());
        let needed_mm = behind_mm + distance::reversing_edge_mm(self.runner(), choice.pin);
        for hole in &row {
            let tilt_deg = hole.tilts_deg[0];
            if let Some(length) = self.runners.length {
                let end_mm = to_mm(length) - room_mm - self.front_mm(choice);
                if hole.offset_mm > end_mm + 1e-6 {
                    refusals.push(Refusal::HoleOffRunner { tilt_deg, offset_mm: hole.offset_mm, end_mm, room_mm });
                }
            }
            if hole.offset_mm < needed_mm {
                refusals.push(Refusal::HoleNotBehindHinge { tilt_deg, offset_mm: hole.offset_mm, needed_mm });
            }
        }
        let above = self.hinge_above_mm(choice.hinge_above_mm, choice.pin) + self.under_holes_mm(choice.pin);
        let (sin, cos) = self.slope_rad().sin_cos();
        let tail = Tail {
            linkage: &self.linkage(choice),
            from_pin_mm: self.tape.nearest_mm(choice.stay_mm) + self.stay_end_mm(choice.pin),
            section: self.design.support.stay.section,
            surface: ([above * sin, -above * cos], self.slope_rad()),
        };
        refusals.extend(tail.check(&row));
        if refusals.is_empty() { Ok(row) } else { Err(refusals) }
    }

    fn runner_length_mm(&self, choice: &Choice, row: &[Setting]) -> f64 {
        let farthest = row.iter().map(|h| h.offset_mm).fold(0.0, f64::max);
        let end = distance::end_mm(self.runner(), choice.pin);
        given_or(self.runners.length, self.tape.at_least_mm(self.front_mm(choice) + farthest + end))
    }

    fn build(&self, mut rectangle: Rectangle, choice: &Choice) -> Result<Frame, Vec<Refusal>> {
        let Choice { bolt, pin, .. } = *choice;
        let tape = self.tape;
        let row = self.sound_row(choice)?;
        let mut refusals = Vec::new();
        let linkage = self.linkage(choice);
        let frame_pin = linkage.frame_pin();
        let (gauge, hinge_end) = (self.hinge_gauge(), tape.nearest_mm(choice.from_low_edge_mm));
        let pin_end = hinge_end + frame_pin[0];
        let pin_gauge = gauge - frame_pin[1];
        let stile_mm = rectangle.length_mm;
        self.check(&mut refusals, choice, [hinge_end, pin_end, pin_gauge, stile_mm]);

        let runner_x = self.runner_x(&rectangle, pin);
        let layer_x = rectangle.width_mm / 2.0 + washer_mm(pin);
        let mut support = Vec::new();
        let carriers: Vec<usize> = rectangle.carriers.iter().map(|(stick, _)| *stick).collect();
        for (stick, (side, sign)) in carriers.into_iter().zip([("left", -1.0), ("right", 1.0)]) {
            let holes = &mut rectangle.sticks[stick].holes;
            holes.push(hole(HoleUse::Hinge, hinge_end, gauge, bolt));
            holes.push(hole(HoleUse::FramePin, pin_end, pin_gauge, pin));
            let stay_x = layer_x + self.design.support.stay.section.width_mm / 2.0;
            // Stay and runner turn their backs to the stile, the cheek its own to the runner.
            let (inward, outward) = ([-sign, 0.0, 0.0], [sign, 0.0, 0.0]);
            let cheek_x = layer_x + self.layer_mm(pin) + self.past_layer_mm(pin) - self.cheek().width_mm / 2.0;
            support.push(self.runner_stick(choice, &row, sign * runner_x, side).backed(inward));
            support.push(self.cheek_stick(choice, sign * cheek_x, side).backed(outward));
            support.push(self.stay_stick(choice, sign * stay_x, side).backed(inward));
        }
        // Runner, cheek and stay of a side follow the sticks of the frame, in this order.
        let first = rectangle.sticks.len();
        let sides = rectangle.carriers.iter().zip([-1.0, 1.0]).enumerate();
        let bolts = sides
            .flat_map(|(i, ((stile, _), sign))| {
                let [runner, cheek, stay] = [0, 1, 2].map(|k| first + 3 * i + k);
                self.bolts_of(&rectangle, choice, &support, Sticks { stile: *stile, runner, cheek, stay, sign })
            })
            .collect();
        let hinge_above_mm = self.hinge_above_mm(choice.hinge_above_mm, choice.pin);
        let stands_on = StandsOn::Runners {
            slope_deg: self.lie.along_deg,
            cross_deg: self.lie.cross_deg,
            shim_mm: self.shim_mm(&rectangle, pin),
            hinge_above_mm,
            hinge_above_surface_mm: hinge_above_mm + self.under_holes_mm(choice.pin),
            front_mm: self.front_mm(choice),
            roof: self.runners.on == Ground::Roof,
        };
        Placed {
            design: self.design,
            tape,
            rectangle,
            turn_at: [hinge_end, -gauge],
            support,
            bolts,
            linkage,
            row,
            row_datum_mm: self.front_mm(choice),
            row_role: Role::Runner,
            bolt,
            pin,
            span_mm: 2.0 * runner_x,
            stands_on,
            low_edge_mm: self.low_edge_mm(),
            chosen: self.chosen(choice),
            refusals,
        }
        .finish()
    }

    fn chosen(&self, choice: &Choice) -> Vec<(&'static str, Chosen)> {
        let support = &self.design.support;
        let length = |open: bool, field, value: f64| open.then_some((field, Chosen::Length(value)));
        let named = |open: bool, field, bolt: &'static Bolt| open.then_some((field, Chosen::Bolt(bolt.name)));
        let t = self.tape;
        [
            named(support.bolt.is_none(), "support.bolt", choice.bolt),
            named(support.pin.is_none(), "support.pin", choice.pin),
            length(support.stay.pin_along.is_none(), "support.stay.pin_along", t.nearest_mm(choice.along_mm)),
            length(support.stay.pin_behind.is_none(), "support.stay.pin_behind", t.nearest_mm(choice.behind_mm)),
            length(support.stay.length.is_none(), "support.stay.length", t.nearest_mm(choice.stay_mm)),
            length(
                self.runners.hinge_above_holes.is_none(),
                "support.runners.hinge_above_holes",
                self.hinge_above_mm(choice.hinge_above_mm, choice.pin),
            ),
            length(
                self.runners.hinge_from_low_edge.is_none(),
                "support.runners.hinge_from_low_edge",
                t.nearest_mm(choice.from_low_edge_mm),
            ),
        ]
        .into_iter()
        .flatten()
        .collect()
    }

    fn check(&self, refusals: &mut Vec<Refusal>, choice: &Choice, places: [f64; 4]) {
        // Stiles run through, so their length is the frame's.
        let [hinge_end, pin_end, pin_gauge, stile_mm] = places;
        let Choice { bolt, pin, .. } = *choice;
        let stile = self.stile();
        check_edges(refusals, "support.bolt", "stile", stile, self.hinge_gauge(), bolt);
        check_edges(
            refusals,
            "support.bolt",
            "hinge cheek",
            self.cheek(),
            self.tape.nearest_mm(distance::gauge_mm(self.cheek())),
            bolt,
        );
        check_edges(refusals, "support.stay.pin_behind", "stile", stile, pin_gauge, pin);
        check_edges(refusals, "support.pin", "runner", self.runner(), self.hole_line_gauge(choice.pin), pin);
        turning::check_stay_leg(refusals, self.design.support.stay.section, self.tape, pin);
        let needed_mm = distance::reversing_edge_mm(stile, bolt);
        if hinge_end < needed_mm - 1e-6 {
            refusals.push(Refusal::OutsidePiece {
                field: "support.runners.hinge_from_low_edge",
                what: "hinge from the end of the stile".to_string(),
                found_mm: hinge_end,
                needed_mm,
            });
        }
        let (to_end, needed_mm) = (stile_mm - pin_end, distance::end_mm(stile, pin));
        if to_end < needed_mm - 1e-6 {
            refusals.push(Refusal::OutsidePiece {
                field: "support.stay.pin_along",
                what: "frame pin from the far end of the stile".to_string(),
                found_mm: to_end,
                needed_mm,
            });
        }
        let cheek_bolt = self.cheek_bolt(pin);
        let [low, high] = self.cheek_bolts_at(cheek_bolt);
        let needed_mm = distance::spacing_mm(self.runner(), cheek_bolt);
        if !self.cheek_bolts_fit(cheek_bolt) {
            refusals.push(Refusal::OutsidePiece {
                field: "support.runners.section",
                what: "cheek bolts from each other in the runner".to_string(),
                found_mm: high - low,
                needed_mm,
            });
        }
        let rises = self.hinge_above_mm(choice.hinge_above_mm, choice.pin) - self.hole_line_gauge(choice.pin);
        let needed_mm = distance::reversing_edge_mm(self.cheek(), bolt);
        if rises < needed_mm - self.tape.mark_mm() {
            refusals.push(Refusal::OutsidePiece {
                field: "support.runners.hinge_above_holes",
                what: "hinge above the top of the runner".to_string(),
                found_mm: rises,
                needed_mm,
            });
        }
    }

    /// Foot of the hinge on the hole line, and the unit vectors along the runner and out of it.
    fn axes(&self, choice: &Choice) -> (Point, Point, Point) {
        let (sin, cos) = self.slope_rad().sin_cos();
        let above = self.hinge_above_mm(choice.hinge_above_mm, choice.pin);
        ([above * sin, -above * cos], [cos, sin], [-sin, cos])
    }

    /// Two bolts, one above the other, cross the grain of the runner: each keeps its distance from both edges, for the
    /// hinge pushes and pulls, and its spacing from the other.
    fn cheek_bolts_fit(&self, bolt: &Bolt) -> bool {
        let [low, high] = self.cheek_bolts_at(bolt);
        high - low >= distance::spacing_mm(self.runner(), bolt) - self.tape.mark_mm() / 2.0
    }

    fn cheek_bolts_at(&self, bolt: &Bolt) -> [f64; 2] {
        // An angle's heel lies at its top, a channel has a flange on both sides.
        let edge = distance::reversing_edge_mm(self.runner(), bolt);
        let flat = edge.max(distance::flat_mm(self.runner(), bolt).unwrap_or(0.0));
        let below = if self.runner().shape == Shape::Angle { edge } else { flat };
        let [below, above] = [below, flat].map(|mm| self.tape.at_least_mm(mm));
        [below, self.tape.nearest_mm(self.runner().depth_mm) - above]
    }

    /// The pin's size, or the thickest thinner bolt of which two stand above each other in the runner.
    fn cheek_bolt(&self, pin: &'static Bolt) -> &'static Bolt {
        if self.cheek_bolts_fit(pin) {
            return pin;
        }
        turning::thickest(None, self.design.units, &|b| b.diameter_mm <= pin.diameter_mm && self.cheek_bolts_fit(b))
    }

    fn cheek_bolt_ends(&self, pin: &'static Bolt) -> [f64; 2] {
        self.cheek_bolts_at(self.cheek_bolt(pin))
    }

    fn runner_stick(&self, choice: &Choice, row: &[Setting], x: f64, side: &'static str) -> Stick {
        let (foot, along, out) = self.axes(choice);
        let (gauge, front) = (self.hole_line_gauge(choice.pin), self.front_mm(choice));
        let start: Point = std::array::from_fn(|i| foot[i] + out[i] * gauge - along[i] * front);
        let depth = self.runner().depth_mm;
        let mut holes: Vec<_> = self
            .cheek_bolt_ends(choice.pin)
            .iter()
            .map(|from_below| hole(HoleUse::CheekBolt, front, depth - from_below, self.cheek_bolt(choice.pin)))
            .collect();
        holes.extend(turning::row_holes(row, front, gauge, choice.pin));
        Stick {
            role: Role::Runner,
            section: self.runner(),
            length_mm: self.runner_length_mm(choice, row),
            ends_deg: [0.0; 2],
            holes,
            body: Body::Ground,
            start: [x, start[0], start[1]],
            along: [0.0, along[0], along[1]],
            across: [0.0, -out[0], -out[1]],
            back: [0.0; 3],
            side,
        }
    }

    /// Stands on the runner's underside against its inner face and carries the hinge.
    fn cheek_stick(&self, choice: &Choice, x: f64, side: &'static str) -> Stick {
        let section = self.cheek();
        let (foot, along, out) = self.axes(choice);
        let under = self.under_holes_mm(choice.pin);
        let hinge_end = under + self.hinge_above_mm(choice.hinge_above_mm, choice.pin);
        let gauge = self.tape.nearest_mm(distance::gauge_mm(section));
        let start: Point = std::array::from_fn(|i| foot[i] - out[i] * under - along[i] * gauge);
        let mut holes: Vec<_> = self
            .cheek_bolt_ends(choice.pin)
            .iter()
            .map(|from_below| hole(HoleUse::CheekBolt, *from_below, gauge, self.cheek_bolt(choice.pin)))
            .collect();
        holes.push(hole(HoleUse::Hinge, hinge_end, gauge, choice.bolt));
        Stick {
            role: Role::Cheek,
            section,
            length_mm: self.tape.at_least_mm(hinge_end + distance::end_mm(section, choice.bolt)),
            ends_deg: [0.0; 2],
            holes,
            body: Body::Ground,
            start: [x, start[0], start[1]],
            along: [0.0, out[0], out[1]],
            across: [0.0, along[0], along[1]],
            back: [0.0; 3],
            side,
        }
    }

    fn stay_stick(&self, choice: &Choice, x: f64, side: &'static str) -> Stick {
        let section = self.design.support.stay.section;
        let end = self.stay_end_mm(choice.pin);
        let gauge = self.tape.nearest_mm(distance::gauge_mm(section));
        let pin_to_pin = self.tape.nearest_mm(choice.stay_mm);
        let mut stick = turning::stay_stick(section, x, side, 2.0 * end + pin_to_pin, end, self.tape);
        stick.holes.push(hole(HoleUse::FramePin, end, gauge, choice.pin));
        stick.holes.push(hole(HoleUse::FixedPin, end + pin_to_pin, gauge, choice.pin));
        stick
    }

    fn bolts_of(&self, rectangle: &Rectangle, choice: &Choice, support: &[Stick], at: Sticks) -> Vec<Bolted> {
        let Choice { bolt, pin, .. } = *choice;
        let (stile, stay, cheek) = (self.stile(), self.design.support.stay.section, self.cheek());
        let (layer, runner) = (self.layer_mm(pin), self.runner());
        let face_x = at.sign * rectangle.width_mm / 2.0;
        let linkage = self.linkage(choice);
        // The turning bolt's washers may be thicker than the pin's, which set the gap.
        let to_cheek = washer_mm(pin) + layer + self.past_layer_mm(pin) - cheek.ply_mm();
        let hinge = Stack::new(HoleUse::Hinge, bolt, 1)
            .washer()
            .lay_piece(Role::Stile, stile)
            .washer()
            .lay(Laid::Spacer, (to_cheek - washer_mm(bolt)).max(0.0))
            .lay_piece(Role::Cheek, cheek)
            .washer();
        // The head faces the runner: it stands out less than a nut.
        let frame_pin = Stack::new(HoleUse::FramePin, pin, 1)
            .washer()
            .lay_piece(Role::Stay, stay)
            .washer()
            .lay_piece(Role::Stile, stile)
            .washer();
        let fixed_pin = Stack::new(HoleUse::FixedPin, pin, 1)
            .washer()
            .lay_piece(Role::Stay, stay)
            .lay(Laid::Spacer, layer - stay.ply_mm())
            .washer()
            .lay_piece(Role::Runner, runner)
            .washer()
            .by_hand();
        let cheek_bolt = Stack::new(HoleUse::CheekBolt, self.cheek_bolt(pin), 2)
            .washer()
            .lay_piece(Role::Cheek, cheek)
            .washer()
            .lay_piece(Role::Runner, runner)
            .washer();
        let cheek_stick = &support[at.cheek - rectangle.sticks.len()];
        let cheek_holes = cheek_stick.holes.iter().filter(|h| h.use_ == HoleUse::CheekBolt);
        let at_holes = cheek_holes.map(|h| cheek_stick.hole_place(h)).map(|[_, x, z]| [x, z]).collect();
        let outward = |stack, sticks, body, anchor, at_: Vec<Point>| Bolted {
            stack,
            sticks,
            body,
            anchor,
            towards: at.sign,
            at: at_,
        };
        let in_runner_x = face_x + at.sign * self.gap_mm(pin);
        // Pinned at the stay's own length from its frame pin.
        let low_pin = vec![[self.tape.nearest_mm(choice.stay_mm), 0.0]];
        let sticks = vec![at.stile, at.cheek];
        let hinge = outward(hinge, sticks, Body::Frame, (2, face_x), vec![[0.0, 0.0]]);
        let sticks = vec![at.stay, at.runner];
        let fixed_pin = outward(fixed_pin, sticks, Body::Stay, (0, face_x), low_pin);
        let sticks = vec![at.cheek, at.runner];
        let cheek_bolt = outward(cheek_bolt, sticks, Body::Ground, (3, in_runner_x), at_holes);
        let frame_pin = Bolted {
            towards: -at.sign,
            ..outward(frame_pin, vec![at.stay, at.stile], Body::Frame, (3, face_x), vec![linkage.frame_pin()])
        };
        vec![hinge, frame_pin, fixed_pin, cheek_bolt]
    }
}

/// Indices of one side's sticks in the finished frame, and the side's sign across it.
#[derive(Clone, Copy)]
struct Sticks {
    stile: usize,
    runner: usize,
    cheek: usize,
    stay: usize,
    sign: f64,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_roof_that_faces_the_array_slopes_along_the_runners_only() {
        let lie = Lie::of_roof(18.0, 180.0, 180.0);
        assert!((lie.along_deg - 18.0).abs() < 1e-12 && lie.cross_deg == 0.0);
        let away = Lie::of_roof(18.0, 0.0, 180.0);
        assert!((away.along_deg + 18.0).abs() < 1e-12 && away.cross_deg == 0.0);
    }

    #[test]
    fn a_level_hinge_line_keeps_tilt_and_facing() {
        let lie = Lie { along_deg: 18.0, cross_deg: 0.0 };
        let (tilt, facing) = lie.true_tilt_and_facing(40.0, 180.0);
        assert!((tilt - 40.0).abs() < 1e-9 && (facing - 180.0).abs() < 1e-9, "{tilt} {facing}");
    }

    #[test]
    fn a_frame_flat_on_a_side_roof_faces_as_the_roof() {
        // Roof of 20° facing east under an array meant to face south: unshimmed and flat it just lies on the roof.
        let lie = Lie::of_roof(20.0, 90.0, 180.0);
        assert!(lie.along_deg.abs() < 1e-9);
        let (tilt, facing) = lie.true_tilt_and_facing(0.0, 180.0);
        assert!((tilt - 20.0).abs() < 1e-9 && (facing - 90.0).abs() < 1e-9, "{tilt} {facing}");
    }
}
