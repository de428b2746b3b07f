//! All candidates: every combination of what is offered, numbered.

use crate::{
    checks::verify::CheckGroup,
    design::{Choice, Design, Fault, Field, Offer, OpenDesign, fields::BearsOn},
};

/// Most candidates one search may have.
pub const MOST_CANDIDATES: usize = 1_000_000;

/// One field with what is offered for it.
#[derive(Debug, Clone)]
pub struct Axis {
    /// The field.
    pub field: &'static Field,
    /// Values in the order offered; of two equal designs the one offered earlier wins.
    pub offers: Vec<Offer>,
    /// The value as the design is written.
    pub old: Offer,
}

impl Axis {
    /// Is it read before the frame is laid out? Joints and ballast are not, and the hole in the ground only later.
    pub(super) fn moves_the_frame(&self) -> bool {
        self.field.bears_on == BearsOn::Layout
    }

    /// The checks that read the field, where the model does not.
    pub(super) fn group(&self) -> Option<CheckGroup> {
        match self.field.bears_on {
            BearsOn::Ground => Some(CheckGroup::Ground),
            BearsOn::CornerScrews => Some(CheckGroup::CornerScrews),
            BearsOn::BraceScrews => Some(CheckGroup::BraceScrews),
            BearsOn::Clips => Some(CheckGroup::Panels),
            BearsOn::Purlins => Some(CheckGroup::Purlins),
            _ => None,
        }
    }

    /// Screws and clips: checked by themselves, no part of the model that is analysed. Ballast is part of it: it presses
    /// the runners on the ground.
    pub(super) fn is_joint(&self) -> bool {
        self.group().is_some_and(|group| group != CheckGroup::Ground)
    }
}

/// A design and what may vary in it. Candidates are numbered; the last field changes fastest.
#[derive(Debug, Clone)]
pub struct Space {
    open: OpenDesign,
    axes: Vec<Axis>,
    /// The soil's stiffness is given for any width.
    knows_soil: bool,
}

impl Space {
    /// Every combination of these choices.
    ///
    /// # Errors
    /// More than [`MOST_CANDIDATES`] combinations.
    pub fn new(open: OpenDesign, choices: Vec<Choice>) -> Result<Self, Fault> {
        let axes: Vec<Axis> = choices
            .into_iter()
            .map(|choice| Axis { old: open.written(choice.field), field: choice.field, offers: choice.offers })
            .collect();
        let count = axes.iter().fold(1.0, |n, axis| n * axis.offers.len() as f64);
        if count > MOST_CANDIDATES as f64 {
            let each: Vec<String> = axes.iter().map(|a| format!("{} {}", a.offers.len(), a.field.path)).collect();
            return Err(Fault::new(
                "too-many-candidates",
                "size",
                format!("the choices make {count:.0} candidates: {}", each.join(" x ")),
            )
            .hint(format!("offer fewer values: a search takes at most {MOST_CANDIDATES}")));
        }
        let soil = open.design().strength_basis().ok().flatten().and_then(|basis| basis.soil);
        let knows_soil = soil.is_some_and(|soil| soil.subgrade.is_some());
        Ok(Self { open, axes, knows_soil })
    }

    /// Does the field change the model that is analysed? The hole in the ground does unless the soil's stiffness is given
    /// for any width.
    pub(super) fn moves_the_model(&self, axis: &Axis) -> bool {
        match axis.group() {
            Some(CheckGroup::Ground) => !self.knows_soil,
            Some(_) => false,
            None => true,
        }
    }

    /// The design as it is written.
    #[must_use]
    pub fn open(&self) -> &OpenDesign {
        &self.open
    }

    /// The fields that vary.
    #[must_use]
    pub fn axes(&self) -> &[Axis] {
        &self.axes
    }

    /// How many candidates there are.
    #[must_use]
    pub fn count(&self) -> usize {
        self.axes.iter().map(|axis| axis.offers.len()).product()
    }

    /// Which offer of every axis a candidate takes.
    #[must_use]
    pub fn digits(&self, candidate: usize) -> Vec<usize> {
        let mut rest = candidate;
        let mut digits = vec![0; self.axes.len()];
        for (digit, axis) in digits.iter_mut().zip(&self.axes).rev() {
            *digit = rest % axis.offers.len();
            rest /= axis.offers.len();
        }
        digits
    }

    /// The fields of a candidate with their values.
    pub fn values(&self, candidate: usize) -> impl Iterator<Item = (&Axis, &Offer)> {
        let digits = self.digits(candidate);
        self.axes.iter().zip(digits).map(|(axis, digit)| (axis, &axis.offers[digit]))
    }

    /// The design of a candidate.
    ///
    /// # Errors
    /// Values that do not go together.
    pub fn design(&self, candidate: usize) -> Result<Design, Vec<Fault>> {
        self.open.with(self.values(candidate).map(|(axis, offer)| (axis.field, offer)))
    }

    /// All candidates that differ from one in these axes only, itself among them; none when they are more than `most`.
    pub(super) fn others(
        &self,
        candidate: usize,
        varies: impl Fn(&Axis) -> bool,
        most: usize,
    ) -> impl Iterator<Item = usize> {
        let free: Vec<bool> = self.axes.iter().map(varies).collect();
        let sizes = self.axes.iter().zip(&free).filter(|(_, free)| **free).map(|(axis, _)| axis.offers.len());
        let count: usize = sizes.product();
        let fixed = self.digits(candidate);
        (0..if count <= most { count } else { 0 }).map(move |number| {
            let mut rest = number;
            self.axes.iter().enumerate().fold(0, |n, (k, axis)| {
                let size = axis.offers.len();
                let digit = if free[k] { rest % size } else { fixed[k] };
                if free[k] {
                    rest /= size;
                }
                n * size + digit
            })
        })
    }

    /// What a candidate shares with others that differ only in axes left aside: its number with those axes at zero.
    pub(super) fn shared(&self, candidate: usize, counts: impl Fn(&Axis) -> bool) -> usize {
        let digits = self.digits(candidate);
        self.axes
            .iter()
            .zip(digits)
            .fold(0, |n, (axis, digit)| n * axis.offers.len() + if counts(axis) { digit } else { 0 })
    }
}
