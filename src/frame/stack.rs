//! What a bolt passes through, head to nut: it gives the grip, the spacers to cut, and the bolt to buy.

use super::piece::{HoleUse, Role};
use crate::{
    catalogue::{Bolt, Section},
    quantities::{MM_PER_INCH, Units},
};

/// One thing on a bolt.
#[derive(Debug, Clone, PartialEq)]
pub struct Layer {
    /// What it is.
    pub what: Laid,
    /// Thickness along the bolt (mm).
    pub thickness_mm: f64,
    /// Of a tube or pipe, the thickness of each of its two walls (mm).
    pub wall_mm: Option<f64>,
}

/// What lies on a bolt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Laid {
    /// Washer.
    Washer,
    /// A piece of the cut list, by what it does.
    Piece(Role),
    /// A tube or block cut to fill a gap.
    Spacer,
}

impl Laid {
    /// The trade word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Washer => "washer",
            Self::Piece(role) => role.word(),
            Self::Spacer => "spacer",
        }
    }
}

/// All layers of one bolt, between head and nut.
#[derive(Debug, Clone, PartialEq)]
pub struct Stack {
    /// What the bolt is for; never [`HoleUse::Row`], whose bolt is the fixed pin.
    pub use_: HoleUse,
    /// Its size.
    pub bolt: &'static Bolt,
    /// From head to nut.
    pub layers: Vec<Layer>,
    /// Bolts of this kind in one frame.
    pub quantity: usize,
    /// Taken out by hand when the tilt is changed.
    pub pulled_by_hand: bool,
    /// A lag screw: turned in from the first layer, it does not come through the last.
    pub lag: bool,
}

impl Stack {
    pub(super) fn new(use_: HoleUse, bolt: &'static Bolt, quantity: usize) -> Self {
        Self { use_, bolt, layers: Vec::new(), quantity, pulled_by_hand: false, lag: false }
    }

    pub(super) fn lay(mut self, what: Laid, thickness_mm: f64) -> Self {
        if thickness_mm > 1e-6 {
            self.layers.push(Layer { what, thickness_mm, wall_mm: None });
        }
        self
    }

    /// What the bolt holds of a piece: its whole width, one leg or web, or a tube with its walls.
    pub(super) fn lay_piece(mut self, role: Role, section: &Section) -> Self {
        let wall_mm = section.is_hollow().then_some(section.wall_mm);
        self.layers.push(Layer { what: Laid::Piece(role), thickness_mm: section.ply_mm(), wall_mm });
        self
    }

    pub(super) fn washer(self) -> Self {
        let thickness = washer_mm(self.bolt);
        self.lay(Laid::Washer, thickness)
    }

    pub(super) fn screwed_in(mut self) -> Self {
        self.lag = true;
        self
    }

    pub(super) fn by_hand(mut self) -> Self {
        self.pulled_by_hand = true;
        self
    }

    /// Everything between head and nut but the washers (mm).
    #[must_use]
    pub fn grip_mm(&self) -> f64 {
        self.layers.iter().filter(|l| l.what != Laid::Washer).map(|l| l.thickness_mm).sum()
    }

    /// Length of a lag screw that stops short of the far face (mm), in the steps that shops keep.
    #[must_use]
    pub fn lag_length_mm(&self, units: Units) -> f64 {
        const SHORT_OF_FACE_MM: f64 = 6.0;
        let step = match units {
            Units::Us => MM_PER_INCH / 2.0,
            Units::Metric => 10.0,
        };
        ((self.grip_mm() - SHORT_OF_FACE_MM) / step).floor() * step
    }

    /// Thickness of all washers (mm).
    #[must_use]
    pub fn washers_mm(&self) -> f64 {
        self.layers.iter().filter(|l| l.what == Laid::Washer).map(|l| l.thickness_mm).sum()
    }

    /// Number of washers.
    #[must_use]
    pub fn washers(&self) -> usize {
        self.layers.iter().filter(|l| l.what == Laid::Washer).count()
    }

    /// Spacers to cut (mm).
    #[must_use]
    pub fn spacers_mm(&self) -> Vec<f64> {
        self.layers.iter().filter(|l| l.what == Laid::Spacer).map(|l| l.thickness_mm).collect()
    }
}

/// Thickness of the washer used everywhere in a stack of this bolt (mm).
#[must_use]
pub fn washer_mm(bolt: &Bolt) -> f64 {
    bolt.washer.thickness_mm
}
