//! What the frame stands in or on, and what holds it there, every fastener at its place.
//!
//! ```text
//! in concrete, from the front     stake, along the runner      bracket, along the runner       bolted to a deck
//!      │post│                       ┌──┐                          ┌──┐                              ╤
//!   ░░░│    │░░░                    │  │▌← screws, from outside   │  │▌← lag screws, from outside  ┌─┼┐
//!   ░┠─┼────┼─┨░ tie bolt           │  │▌                         │  │▙▄ ← lag screws, down       ─┴─┼┴─ deck
//!   ░┠─┼────┼─┨░                  ──┴──┴▌──                     ──┴──┴─┼─ roof                      ─╧─
//! ```

use super::{
    bolted,
    distance::{end_mm, screw_apart_mm},
    joint::{Disc, Fastener, FastenerKind},
    piece::{HoleUse, Role, Stick, hole},
    screwed::turned_in,
};
use crate::{
    catalogue::{Bolt, Family, Screw, bolt, bolt_length, screw},
    design::{Base, Design, Ground, PostTie, Ties, evenly},
    quantities::{MM_PER_INCH, Tape, Units, to_mm},
};

/// What a frame stands on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum StandsOn {
    /// Two posts.
    Posts {
        /// Posts in slots inside the frame.
        inside: bool,
        /// Axle above grade (mm).
        axle_height_mm: f64,
        /// Post below grade (mm).
        embedment_mm: f64,
        /// Hole in the ground (mm).
        hole_diameter_mm: f64,
        /// Post above the axle (mm).
        above_axle_mm: f64,
    },
    /// Two runners.
    Runners {
        /// Slope of the runners, rising away from the low edge (deg).
        slope_deg: f64,
        /// Fall of the ground along the hinge line, rising to the right (deg).
        cross_deg: f64,
        /// Shim under the lower runner that levels the hinge line (mm).
        shim_mm: f64,
        /// Hinge above the hole line, square to the runner (mm).
        hinge_above_mm: f64,
        /// Hinge above the underside of the runner, square to it (mm).
        hinge_above_surface_mm: f64,
        /// Front end of the runner before the foot of the hinge (mm).
        front_mm: f64,
        /// On a roof.
        roof: bool,
    },
}

/// A part that stands in soil, on ground, on a roof or on a deck.
#[derive(Debug, Clone, PartialEq)]
pub struct Foot {
    /// Its stick.
    pub stick: usize,
    /// What it stands in or on.
    pub stands: Stands,
    /// Shim under it that levels what it carries (mm).
    pub shim_mm: f64,
    /// What holds it there.
    pub holds: Vec<Hold>,
}

/// What a foot stands in or on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Stands {
    /// In a hole filled with concrete: depth and diameter (mm).
    InConcrete {
        /// Below grade (mm).
        depth_mm: f64,
        /// Of the hole (mm).
        hole_diameter_mm: f64,
    },
    /// On the ground.
    OnGround,
    /// On a roof.
    OnRoof,
    /// On a deck or trailer.
    OnDeck,
}

/// One thing that holds a foot, at its place along the stick.
#[derive(Debug, Clone, PartialEq)]
pub struct Hold {
    /// What it is.
    pub by: HeldBy,
    /// From the marked end (mm).
    pub from_end_mm: f64,
    /// The design names it. What is only usual is drawn and bought, and nothing is proved by it.
    pub named: bool,
    /// Its bolts and screws, in the coordinates of what stands still. Metal that screws do not enter has none.
    pub fasteners: Vec<Fastener>,
}

/// What holds a foot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HeldBy {
    /// Bolts through the foot of a post, which concrete closes round.
    Tie,
    /// A stake.
    Stake,
    /// A bracket to roof or deck.
    Bracket,
    /// A bolt through a deck's framing.
    DeckBolt,
    /// Weight (kg).
    Ballast(f64),
}

impl HeldBy {
    /// The trade word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Tie => "foot bolt",
            Self::Stake => "stake",
            Self::Bracket => "bracket",
            Self::DeckBolt => "deck bolt",
            Self::Ballast(_) => "ballast",
        }
    }

    /// Where its fasteners are turned from.
    #[must_use]
    pub fn turned_from(self) -> &'static str {
        match self {
            Self::Tie => "both sides, before the post is set",
            Self::Stake => "the outer side of the runner, through the stake",
            Self::Bracket => "the outer side of the runner, and from above into what it stands on",
            Self::DeckBolt => "above, the nut from below the deck",
            Self::Ballast(_) => "",
        }
    }
}

impl Stands {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::InConcrete { .. } => "in concrete in the soil",
            Self::OnGround => "on the ground",
            Self::OnRoof => "on a roof",
            Self::OnDeck => "on a deck",
        }
    }

    /// In one word.
    #[must_use]
    pub fn kind(self) -> &'static str {
        match self {
            Self::InConcrete { .. } => "soil",
            Self::OnGround => "ground",
            Self::OnRoof => "roof",
            Self::OnDeck => "deck",
        }
    }
}

impl Foot {
    /// Every bolt and screw of it.
    pub fn fasteners(&self) -> impl Iterator<Item = &Fastener> {
        self.holds.iter().flat_map(|hold| &hold.fasteners)
    }
}

/// Farthest that two things that hold a runner stand apart (mm), 4 ft; common practice, no source.
const PITCH_MM: f64 = 48.0 * MM_PER_INCH;
/// From the ends of a runner to the first of them, at least (mm); common practice, no source.
const FROM_END_MM: f64 = 75.0;
/// Tie bolts of a post that names none; common practice, no source.
const USUAL_TIES: u32 = 2;
/// How far head and nut of a tie bolt stand off the post, where the hole has room for it, and at the least (mm): 1-1/2 in
/// and 3/4 in; common practice, no source.
const KEY_MM: [f64; 2] = [0.75 * MM_PER_INCH, 1.5 * MM_PER_INCH];
/// Concrete left between the end of a tie bolt and the soil (mm). Judgement: under the 3 in that codes ask over
/// reinforcement, for the bolt is no part of the footing's strength.
const TIE_COVER_MM: f64 = 40.0;
/// Width of a stake that the design does not describe (mm): 1-1/2 in; common practice, no source.
const STAKE_MM: f64 = 1.5 * MM_PER_INCH;
/// Thickness of a bracket whose data the design does not give (mm); common practice, no source.
const PLATE_MM: f64 = 5.0;
/// From the face of a runner to the screws in a bracket's foot (mm); common practice, no source.
const BRACKET_FOOT_MM: f64 = 30.0;
/// Lag screws of a bracket into what it stands on where the design names none: size, length (mm), count; common practice,
/// no source, and the bracket's own data sheet goes before.
const USUAL_LAGS: (&str, f64, u32) = ("lag 3/8 in", 4.0 * MM_PER_INCH, 2);
/// Thickness of a deck with its framing that a bolt passes (mm): 2 in and 5-1/2 in of lumber, dressed; common practice, no
/// source.
const DECK_MM: f64 = 7.0 * MM_PER_INCH;
/// Kept between the tip of a screw and the far face (mm). Judgement.
const BEHIND_TIP_MM: f64 = 3.0;
/// How far a stake or bracket gives way to a hole of the runner (mm), and the steps of the search. Judgement.
const GIVES_WAY_MM: f64 = 300.0;
const STEP_MM: f64 = 5.0;

/// Every foot of a frame. Bores the sticks where bolts pass them.
pub(super) fn stand(design: &Design, stands_on: StandsOn, tape: Tape, sticks: &mut [Stick]) -> Vec<Foot> {
    let of = |role: Role, sticks: &[Stick]| -> Vec<usize> {
        (0..sticks.len()).filter(|i| sticks[*i].role == role).collect()
    };
    let work = Work { design, tape };
    for stick in &mut *sticks {
        stick.holes.retain(|hole| hole.use_ != HoleUse::FootBolt);
    }
    match (&design.support.base, stands_on) {
        (Base::Posts(posts), StandsOn::Posts { embedment_mm: depth_mm, hole_diameter_mm, .. }) => {
            of(Role::Post, sticks)
                .into_iter()
                .map(|stick| Foot {
                    stick,
                    stands: Stands::InConcrete { depth_mm, hole_diameter_mm },
                    shim_mm: 0.0,
                    holds: work.ties(posts.tie, &mut sticks[stick], [depth_mm, hole_diameter_mm]),
                })
                .collect()
        }
        (Base::Runners(runners), StandsOn::Runners { shim_mm, cross_deg, .. }) => of(Role::Runner, sticks)
            .into_iter()
            .map(|stick| {
                let lower = sticks[stick].start[0] * cross_deg < 0.0;
                let shim_mm = if lower { shim_mm } else { 0.0 };
                let stands = match runners.on {
                    Ground::Ground => Stands::OnGround,
                    Ground::Roof => Stands::OnRoof,
                    Ground::Deck => Stands::OnDeck,
                };
                Foot { stick, stands, shim_mm, holds: work.holds(stands, shim_mm, &mut sticks[stick]) }
            })
            .collect(),
        (Base::Posts(_), StandsOn::Runners { .. }) | (Base::Runners(_), StandsOn::Posts { .. }) => {
            unreachable!("a frame stands on what its design says")
        }
    }
}

struct Work<'a> {
    design: &'a Design,
    tape: Tape,
}

impl Work<'_> {
    fn tie_downs(&self) -> Option<Ties> {
        self.design.support.lies_on().and_then(|surface| surface.tie_downs)
    }

    /// A bolt of the usual size.
    fn usual_bolt(&self, us: &str, metric: &str) -> &'static Bolt {
        let name = if self.design.units == Units::Us { us } else { metric };
        bolt(name).unwrap_or_else(|_| unreachable!("{name} stands in the table"))
    }

    /// Through bolts near the foot, one above the other on the line of the post's other holes.
    fn ties(&self, given: Option<PostTie>, post: &mut Stick, [depth_mm, hole_diameter_mm]: [f64; 2]) -> Vec<Hold> {
        let units = self.design.units;
        let usual = || PostTie {
            bolt: self.usual_bolt("1/2 in", "M12"),
            count: PostTie::most(depth_mm, units).clamp(1, USUAL_TIES),
        };
        let tie = given.unwrap_or_else(usual);
        // A post that hardly stands in the soil is tied in the middle of what does.
        let step = PostTie::step_mm(units).min(depth_mm / 2.0);
        let gauge = post.holes.first().map_or(post.section.depth_mm / 2.0, |hole| hole.gauge_mm);
        let thick = post.section.ply_mm();
        let key = (hole_diameter_mm / 2.0 - thick / 2.0 - TIE_COVER_MM).clamp(KEY_MM[0], KEY_MM[1]);
        let stocked = tie.bolt.stocked_lengths_mm();
        let longest = stocked.last().copied().unwrap_or_default();
        let length_mm = stocked.into_iter().find(|l| *l >= thick + 2.0 * key).unwrap_or(longest);
        let washer = tie.bolt.washer;
        let disc = |at_mm| Disc { diameter_mm: washer.outer_mm, thickness_mm: washer.thickness_mm, at_mm };
        let nut_at = length_mm - tie.bolt.nut_mm - 2.0 * tie.bolt.pitch_mm;
        (1..=tie.count)
            .map(|n| {
                let from_end_mm = self.tape.nearest_mm(post.length_mm - f64::from(n) * step);
                let bored = hole(HoleUse::FootBolt, from_end_mm, gauge, tie.bolt);
                let [x, y, z] = post.hole_place(&bored);
                post.holes.push(bored);
                let fastener = Fastener {
                    kind: FastenerKind::Bolt,
                    size: tie.bolt.name,
                    from: [x - length_mm / 2.0, y, z],
                    axis: [1.0, 0.0, 0.0],
                    length_mm,
                    diameter_mm: tie.bolt.diameter_mm,
                    head: Some(bolted::head(tie.bolt)),
                    nut: Some(bolted::nut(tie.bolt, nut_at)),
                    washers: vec![disc(0.0), disc(nut_at - washer.thickness_mm)],
                    lead_hole_mm: None,
                    clearance_hole_mm: Some(tie.bolt.hole_mm),
                };
                Hold { by: HeldBy::Tie, from_end_mm, named: given.is_some(), fasteners: vec![fastener] }
            })
            .collect()
    }

    /// What the design names for a runner; where it names nothing, what is usual there.
    fn holds(&self, stands: Stands, shim_mm: f64, runner: &mut Stick) -> Vec<Hold> {
        let length_mm = runner.length_mm;
        let shares = |count: u32| evenly(count).into_iter().map(|share| share * length_mm).collect::<Vec<_>>();
        let stakes = self.design.stakes.map_or_else(Vec::new, |s| shares(s.per_runner));
        let brackets = self.tie_downs().map_or_else(Vec::new, |t| shares(t.per_runner));
        let weights = self.design.ballast.map(|b| b.places()).unwrap_or_default();
        let named = !(stakes.is_empty() && brackets.is_empty() && weights.is_empty());
        let mut holds: Vec<Hold> = Vec::new();
        let mut put = |by: HeldBy, at: f64| holds.push(self.hold(by, at, named, shim_mm, runner));
        stakes.into_iter().for_each(|at| put(HeldBy::Stake, at));
        brackets.into_iter().for_each(|at| put(HeldBy::Bracket, at));
        weights.into_iter().for_each(|(share, kg)| put(HeldBy::Ballast(kg), share * length_mm));
        if !named {
            let by = match stands {
                Stands::OnRoof => HeldBy::Bracket,
                Stands::OnDeck => HeldBy::DeckBolt,
                Stands::OnGround | Stands::InConcrete { .. } => HeldBy::Stake,
            };
            usual_places(length_mm).for_each(|at| put(by, at));
        }
        holds
    }

    fn hold(&self, by: HeldBy, wanted_mm: f64, named: bool, shim_mm: f64, runner: &mut Stick) -> Hold {
        let side = Side::of(runner);
        let (from_end_mm, fasteners) = match by {
            HeldBy::Ballast(_) | HeldBy::Tie => (self.tape.nearest_mm(wanted_mm), vec![]),
            HeldBy::Stake => {
                let wide = self.design.stakes.map_or(STAKE_MM, |stake| to_mm(stake.width));
                let at = self.clear_of_holes(runner, wanted_mm, wide / 2.0);
                (at, self.stake_screws(&side, runner, at, wide))
            }
            HeldBy::Bracket => {
                let at = self.clear_of_holes(runner, wanted_mm, 2.0 * BRACKET_FOOT_MM);
                (at, self.bracket(&side, runner, at, shim_mm))
            }
            HeldBy::DeckBolt => {
                let bolt = self.usual_bolt("3/8 in", "M10");
                let at = self.clear_of_holes(runner, wanted_mm, 2.0 * bolt.diameter_mm);
                (at, self.deck_bolt(&side, runner, bolt, at))
            }
        };
        Hold { by, from_end_mm, named, fasteners }
    }

    /// The nearest place along a runner whose half width lies clear of every hole and of the washers round it.
    fn clear_of_holes(&self, runner: &Stick, wanted_mm: f64, half_mm: f64) -> f64 {
        let is_clear = |at: f64| {
            let inside = at >= half_mm.min(FROM_END_MM) && at <= runner.length_mm - half_mm.min(FROM_END_MM);
            // A washer is about as wide again as its bolt on either side.
            inside && runner.holes.iter().all(|h| (h.from_end_mm - at).abs() >= half_mm + 1.2 * h.bolt_mm)
        };
        let steps = (GIVES_WAY_MM / STEP_MM) as i32;
        let near = (0..=steps).flat_map(|n| [1.0, -1.0].map(|sign| wanted_mm + sign * f64::from(n) * STEP_MM));
        let clear = near.map(|at| self.tape.nearest_mm(at)).find(|at| is_clear(*at));
        clear.unwrap_or_else(|| self.tape.nearest_mm(wanted_mm))
    }

    /// Two screws, one above the other, through the stake into the outer face.
    fn stake_screws(&self, side: &Side, runner: &Stick, at: f64, wide_mm: f64) -> Vec<Fastener> {
        let Some(screw) = wood_screw("#14", runner) else { return vec![] };
        let half_inch = MM_PER_INCH / 2.0;
        let usual = (wide_mm / half_inch).ceil() * half_inch + 1.5 * MM_PER_INCH;
        let most = wide_mm + runner.section.width_mm - BEHIND_TIP_MM;
        let length_mm = usual.min((most / half_inch).floor() * half_inch);
        let gauges = [1.0, 2.0].map(|third| runner.section.depth_mm * third / 3.0);
        let from = |gauge: f64| side.point(at, gauge, runner.section.width_mm / 2.0 + wide_mm);
        gauges.map(|gauge| self.screw(screw, length_mm, from(gauge), side.inward())).to_vec()
    }

    /// Into the runner from its outer side, and down into the rafter or the deck's framing.
    fn bracket(&self, side: &Side, runner: &mut Stick, at: f64, shim_mm: f64) -> Vec<Fastener> {
        let (width, depth) = (runner.section.width_mm, runner.section.depth_mm);
        let named = self.tie_downs().and_then(|ties| ties.lag);
        let plate = named.map_or(PLATE_MM, |lag| to_mm(lag.plate));
        let thin = width < 2.0 * MM_PER_INCH;
        let mut all = match wood_screw(if thin { "lag 1/4 in" } else { "lag 3/8 in" }, runner) {
            Some(screw) => {
                let half_inch = MM_PER_INCH / 2.0;
                let most = (width + plate - BEHIND_TIP_MM).min(3.0 * MM_PER_INCH);
                let length_mm = (most / half_inch).floor() * half_inch;
                // In the lower half, clear of the hole line.
                let gauge = depth - (4.0 * screw.diameter_mm).min(depth / 3.0);
                let from = |along: f64| side.point(at + along, gauge, width / 2.0 + plate);
                [-1.0, 1.0]
                    .map(|sign| self.screw(screw, length_mm, from(sign * BRACKET_FOOT_MM), side.inward()))
                    .to_vec()
            }
            None => self.bracket_bolt(side, runner, at, plate).into_iter().collect(),
        };
        let usual = || screw(USUAL_LAGS.0).ok().map(|screw| (screw, USUAL_LAGS.1, USUAL_LAGS.2));
        let Some((lag, length_mm, count)) = named.map(|lag| (lag.screw, to_mm(lag.length), lag.count)).or_else(usual)
        else {
            return all;
        };
        let wood = named.map(|lag| lag.species.specific_gravity());
        let apart = screw_apart_mm(lag).max(2.0 * BRACKET_FOOT_MM / f64::from(count));
        let down = runner.across;
        all.extend((0..count).map(|i| {
            let along = at + apart * (f64::from(i) - f64::from(count - 1) / 2.0);
            let from = side.point(along, depth + shim_mm - plate, width / 2.0 + BRACKET_FOOT_MM);
            turned_in(lag, length_mm, wood, from, down)
        }));
        all
    }

    /// Through the wall or walls of a metal runner: the head inside, where stays swing, the nut outside.
    fn bracket_bolt(&self, side: &Side, runner: &mut Stick, at: f64, plate_mm: f64) -> Option<Fastener> {
        let bolt = self.usual_bolt("3/8 in", "M10");
        let washer = bolt.washer.thickness_mm;
        let ply = runner.section.ply_mm();
        let edge = self.tape.at_least_mm(end_mm(runner.section, bolt).max(bolt.washer.outer_mm));
        let bored = hole(HoleUse::FootBolt, at, self.tape.nearest_mm(runner.section.depth_mm) - edge, bolt);
        let [x, y, z] = runner.hole_place(&bored);
        runner.holes.push(bored);
        let from = [x - side.outward * (ply / 2.0 + washer), y, z];
        through(bolt, [ply, plate_mm], from, [side.outward, 0.0, 0.0])
    }

    /// Down through runner and deck.
    fn deck_bolt(&self, side: &Side, runner: &Stick, bolt: &'static Bolt, at: f64) -> Vec<Fastener> {
        let from = side.point(at, -bolt.washer.thickness_mm, 0.0);
        through(bolt, [runner.section.depth_mm, DECK_MM], from, runner.across).into_iter().collect()
    }

    fn screw(&self, screw: &'static Screw, length_mm: f64, from: [f64; 3], axis: [f64; 3]) -> Fastener {
        let wood = self.design.frame.wood_species.map(|s| s.specific_gravity());
        turned_in(screw, length_mm, wood, from, axis)
    }
}

/// A runner's own axes, and which way is out.
struct Side {
    start: [f64; 3],
    along: [f64; 3],
    across: [f64; 3],
    outward: f64,
}

impl Side {
    fn of(runner: &Stick) -> Self {
        Self { start: runner.start, along: runner.along, across: runner.across, outward: runner.start[0].signum() }
    }

    /// So far from the marked end, from the gauge face, and outwards from the middle (mm).
    fn point(&self, along: f64, gauge: f64, out: f64) -> [f64; 3] {
        let [x, y, z]: [f64; 3] =
            std::array::from_fn(|i| self.start[i] + self.along[i] * along + self.across[i] * gauge);
        [x + self.outward * out, y, z]
    }

    fn inward(&self) -> [f64; 3] {
        [-self.outward, 0.0, 0.0]
    }
}

/// A screw for a wooden piece; metal is not screwed.
fn wood_screw(name: &str, piece: &Stick) -> Option<&'static Screw> {
    screw(name).ok().filter(|_| piece.section.family == Family::Wood)
}

/// A bolt with a washer under head and nut through two layers; nothing where no stocked one is long enough.
fn through(bolt: &'static Bolt, layers_mm: [f64; 2], from: [f64; 3], axis: [f64; 3]) -> Option<Fastener> {
    let (washer, grip) = (bolt.washer, layers_mm[0] + layers_mm[1]);
    let found = bolt_length(bolt, grip, 2, washer.thickness_mm).ok()?;
    let disc = |at_mm| Disc { diameter_mm: washer.outer_mm, thickness_mm: washer.thickness_mm, at_mm };
    let under_nut = (0..=found.extra_washers).map(|n| disc(washer.thickness_mm * f64::from(n + 1) + grip));
    let washers: Vec<Disc> = std::iter::once(disc(0.0)).chain(under_nut).collect();
    let nut_at = grip + washers.len() as f64 * washer.thickness_mm;
    Some(Fastener {
        kind: FastenerKind::Bolt,
        size: bolt.name,
        from,
        axis,
        length_mm: found.length_mm,
        diameter_mm: bolt.diameter_mm,
        head: Some(bolted::head(bolt)),
        nut: Some(bolted::nut(bolt, nut_at)),
        washers,
        lead_hole_mm: None,
        clearance_hole_mm: Some(bolt.hole_mm),
    })
}

/// Three at least, at most the pitch apart, the first and last near the ends (mm).
fn usual_places(length_mm: f64) -> impl Iterator<Item = f64> {
    let count = ((length_mm / PITCH_MM).ceil() as usize + 1).max(3);
    let end = (0.05 * length_mm).max(FROM_END_MM);
    let pitch = (length_mm - 2.0 * end) / (count - 1) as f64;
    (0..count).map(move |i| end + pitch * i as f64)
}
