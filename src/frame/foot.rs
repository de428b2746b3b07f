//! What the frame stands in or on, and what holds it there.

use super::{
    model::{Frame, StandsOn},
    piece::Role,
};
use crate::design::{Base, Design, Ground, evenly};

/// A part that stands in soil, on ground, on a roof or on a deck.
#[derive(Debug, Clone, PartialEq)]
pub struct Foot {
    /// Its stick.
    pub stick: usize,
    /// What it stands in or on.
    pub stands: Stands,
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
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hold {
    /// What it is.
    pub by: HeldBy,
    /// From the marked end (mm).
    pub from_end_mm: f64,
}

/// What holds a foot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HeldBy {
    /// A stake.
    Stake,
    /// A bracket to roof or deck.
    Bracket,
    /// Weight (kg).
    Ballast(f64),
}

impl HeldBy {
    /// The trade word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Stake => "stake",
            Self::Bracket => "bracket",
            Self::Ballast(_) => "ballast",
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
}

/// Every foot of a frame.
pub(super) fn feet(design: &Design, frame: &Frame) -> Vec<Foot> {
    let of = |role: Role| frame.sticks.iter().enumerate().filter(move |(_, stick)| stick.role == role);
    match (&design.support.base, frame.stands_on) {
        (_, StandsOn::Posts { embedment_mm: depth_mm, hole_diameter_mm, .. }) => of(Role::Post)
            .map(|(stick, _)| Foot { stick, stands: Stands::InConcrete { depth_mm, hole_diameter_mm }, holds: vec![] })
            .collect(),
        (Base::Runners(runners), StandsOn::Runners { .. }) => {
            let stands = match runners.on {
                Ground::Ground => Stands::OnGround,
                Ground::Roof => Stands::OnRoof,
                Ground::Deck => Stands::OnDeck,
            };
            let spaced = |count: u32, by: HeldBy| evenly(count).into_iter().map(move |share| (share, by));
            let stakes = design.stakes.map_or(0, |s| s.per_runner);
            let brackets = runners.tie_downs.map_or(0, |t| t.per_runner);
            let weights = design.ballast.map(|b| b.places()).unwrap_or_default();
            let held: Vec<(f64, HeldBy)> = spaced(stakes, HeldBy::Stake)
                .chain(spaced(brackets, HeldBy::Bracket))
                .chain(weights.into_iter().map(|(share, kg)| (share, HeldBy::Ballast(kg))))
                .collect();
            let hold = |length_mm: f64| {
                held.iter().map(move |(share, by)| Hold { by: *by, from_end_mm: share * length_mm }).collect()
            };
            of(Role::Runner).map(|(stick, runner)| Foot { stick, stands, holds: hold(runner.length_mm) }).collect()
        }
        (Base::Posts(_), StandsOn::Runners { .. }) => unreachable!("a frame stands on what its design says"),
    }
}
