//! What holds runners where they lie: ballast, stakes, ties to a roof or deck; and the building under a roof.

use super::{
    Ground,
    fault::Fault,
    judge::Judge,
    model::{Base, Support},
};
use crate::{
    catalogue::{Bolt, Screw, ScrewKind, Species, soils, soils::Interface},
    quantities::{Force, Length, MM_PER_INCH, Mass, Units, kg, length, mm, to_kg, to_mm},
};
use serde::Deserialize;

/// Least depth of a stake below loose soil (mm): a quarter of a foot, where the equation for its force begins.
const LEAST_STAKE_MM: f64 = 76.2;

/// Where ballast stands on a runner.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Placed {
    /// In the middle of each quarter.
    #[default]
    Spread,
    /// In the middle of the first and of the last quarter.
    Ends,
    /// In the middle of the quarter below the hinge.
    Front,
    /// In the middle of the quarter away from the hinge.
    Back,
}

impl Placed {
    /// Shares of the runner's length from its front end where pieces stand.
    #[must_use]
    pub fn shares(self) -> &'static [f64] {
        match self {
            Self::Spread => &[0.125, 0.375, 0.625, 0.875],
            Self::Ends => &[0.125, 0.875],
            Self::Front => &[0.125],
            Self::Back => &[0.875],
        }
    }

    /// The place in words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Spread => "spread over the runner, in the middle of each quarter",
            Self::Ends => "in the middle of the first and the last quarter of the runner",
            Self::Front => "in the middle of the quarter below the hinge",
            Self::Back => "in the middle of the quarter away from the hinge",
        }
    }
}

/// Shares of a length where `count` things stand evenly, each in the middle of its part.
#[must_use]
pub fn evenly(count: u32) -> Vec<f64> {
    (0..count).map(|i| (f64::from(i) + 0.5) / f64::from(count)).collect()
}

/// Weight that holds runners down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BallastSpec {
    /// Mass fixed to each runner: whole blocks, where the design names one.
    pub per_runner: Mass,
    /// Mass of one block, and how many stand on each runner.
    pub blocks: Option<(Mass, u32)>,
    /// Where it stands.
    pub placed: Placed,
    /// What slides on what.
    pub contact: &'static Interface,
}

impl BallastSpec {
    /// Places along a runner: share of its length from the front end, and mass (kg). Blocks that cannot be shared
    /// evenly stand at the back.
    #[must_use]
    pub fn places(&self) -> Vec<(f64, f64)> {
        let shares = self.placed.shares();
        let places = shares.len();
        let each = |i: usize| match self.blocks {
            None => to_kg(self.per_runner) / places as f64,
            Some((block, count)) => {
                let (even, left) = (count as usize / places, count as usize % places);
                to_kg(block) * (even + usize::from(i >= places - left)) as f64
            }
        };
        shares.iter().enumerate().map(|(i, share)| (*share, each(i))).filter(|(_, kg)| *kg > 0.0).collect()
    }
}

/// Stakes driven beside the runners.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StakeSpec {
    /// On each runner, evenly spaced.
    pub per_runner: u32,
    /// Width that bears on the soil.
    pub width: Length,
    /// Below the ground.
    pub depth: Length,
    /// Soil at the top that is not counted.
    pub loose_soil: Length,
    /// Force that a stake of this kind held when it was pulled on the spot.
    pub pull_test: Option<Force>,
}

/// Brackets that tie the runners to a roof or deck.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ties {
    /// On each runner, evenly spaced.
    pub per_runner: u32,
    /// Rated uplift of a bracket, from its data sheet.
    pub uplift: Force,
    /// Rated force of a bracket along the surface, from its data sheet.
    pub lateral: Force,
    /// Lag screws that hold a bracket.
    pub lag: Option<LagSpec>,
}

/// Lag screws through a bracket's foot into the wood under it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LagSpec {
    /// Size.
    pub screw: &'static Screw,
    /// Length under the head.
    pub length: Length,
    /// In each bracket.
    pub count: u32,
    /// Thickness of the bracket's foot.
    pub plate: Length,
    /// The wood they stand in.
    pub species: Species,
}

/// Bolts through the foot of a post that key it into its concrete, one above the other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PostTie {
    /// Size.
    pub bolt: &'static Bolt,
    /// In each post.
    pub count: u32,
}

impl PostTie {
    /// From the foot of a post to its first tie bolt, and from one to the next: 6 in or 150 mm, more than the seven and
    /// four diameters that the thickest bolt asks for at an end and to its neighbour (NDS-2018 Tables 12.5.1A, B). Common
    /// practice, no source.
    #[must_use]
    pub fn step_mm(units: Units) -> f64 {
        match units {
            Units::Us => 6.0 * MM_PER_INCH,
            Units::Metric => 150.0,
        }
    }

    /// How many stand below grade with half a step of concrete over the highest.
    #[must_use]
    pub fn most(embedment_mm: f64, units: Units) -> u32 {
        let step = Self::step_mm(units);
        ((embedment_mm - step / 2.0) / step + 1e-9).floor().max(0.0) as u32
    }
}

/// Place of the frame on a low-slope roof, as its wind clause divides it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum RoofPlace {
    /// Zone 1.
    Inside,
    /// Zone 2.
    Edge,
    /// Zone 3.
    Corner,
}

/// The building under a low-slope roof.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Building {
    /// Mean height of the roof.
    pub height: Length,
    /// Longer side in plan.
    pub longer_side: Length,
    /// Shorter side in plan.
    pub shorter_side: Length,
    /// Parapet above the roof.
    pub parapet: Length,
    /// Where the frame stands on it.
    pub zone: RoofPlace,
}

impl Judge<'_> {
    pub(super) fn ballast(&mut self) -> Option<BallastSpec> {
        let wanted: Option<Mass> = self.quantity("ballast.per_runner");
        let contact = self.contact();
        let block: Option<Mass> = self.quantity("ballast.block");
        let placed = self.choice_or_default("ballast.placed");
        let wanted = wanted?;
        let blocks = block.filter(|_| self.is_fit("ballast")).map(|block| {
            // A millionth of a block is rounding of units, not another block.
            (block, (to_kg(wanted) / to_kg(block) - 1e-6).ceil().max(0.0) as u32)
        });
        let per_runner = blocks.map_or(wanted, |(block, count)| kg(f64::from(count) * to_kg(block)));
        Some(BallastSpec { per_runner, blocks, placed, contact: contact? })
    }

    fn contact(&mut self) -> Option<&'static Interface> {
        const FIELD: &str = "ballast.contact";
        let given: String = self.get(FIELD)?;
        let found = soils::INTERFACES.iter().find(|i| i.name == given);
        if found.is_none() {
            let names: Vec<String> = soils::INTERFACES.iter().map(|i| i.name.to_string()).collect();
            self.unknown("unknown-contact", FIELD, &given, "contact", &names);
        }
        found
    }

    pub(super) fn stakes(&mut self, support: Option<&Support>) -> Option<StakeSpec> {
        if !self.is_written("stakes") {
            return None;
        }
        let is_on_ground = |support: &Support| match &support.base {
            Base::Runners(runners) => runners.on == Ground::Ground,
            Base::Posts(_) => false,
        };
        if support.is_some_and(|support| !is_on_ground(support)) {
            self.fault(
                Fault::new("field-without-meaning", "stakes", "stakes hold runners that lie on the ground")
                    .hint("remove the block, or use `kind: runners` with `on: ground`"),
            );
        }
        let per_runner = self.count("stakes.per_runner");
        let [width, depth] = ["stakes.width", "stakes.depth"].map(|field| self.length(field));
        let loose_soil: Length = self.quantity_or_default("stakes.loose_soil");
        let pull_test = self.quantity("stakes.pull_test");
        let spec = StakeSpec { per_runner: per_runner?, width: width?, depth: depth?, loose_soil, pull_test };
        if to_mm(spec.depth - spec.loose_soil) < LEAST_STAKE_MM {
            self.fault(
                Fault::new("stake-too-short", "stakes.depth", "the stakes end in loose soil, which holds nothing")
                    .hint(
                        "drive them at least 3 in below `stakes.loose_soil`, which is 6 in where the design names none",
                    ),
            );
        }
        Some(spec)
    }

    pub(super) fn ties(&mut self, on: Ground) -> Option<Ties> {
        const FIELD: &str = "support.runners.tie_downs";
        if !self.is_written(FIELD) {
            return None;
        }
        if on == Ground::Ground {
            self.fault(
                Fault::new("field-without-meaning", FIELD, "ties hold runners on a roof or deck")
                    .hint("use `stakes` or `ballast` on the ground, or `on: roof` or `on: deck`"),
            );
        }
        let lag = self.lag();
        let per_runner = self.count(&format!("{FIELD}.per_runner"));
        let [uplift, lateral] = ["uplift", "lateral"].map(|name| self.quantity(&format!("{FIELD}.bracket.{name}")));
        Some(Ties { per_runner: per_runner?, uplift: uplift?, lateral: lateral?, lag })
    }

    pub(super) fn post_tie(&mut self, embedment: Option<Length>) -> Option<PostTie> {
        const FIELD: &str = "support.posts.tie";
        if !self.is_written(FIELD) {
            return None;
        }
        let bolt = self.bolt(&format!("{FIELD}.bolt"));
        let count = self.count(&format!("{FIELD}.count"))?;
        let most = embedment.map_or(count, |depth| PostTie::most(to_mm(depth), self.units()));
        if count > most {
            let step = length(mm(PostTie::step_mm(self.units())), self.units());
            let sentence = format!(
                "{count} bolts {step} apart, the first {step} from the foot, do not all stand in the concrete of this post"
            );
            let hint = match most {
                0 => "remove `support.posts.tie`, or give `support.posts.embedment` more depth".to_string(),
                most => format!("this works: `{FIELD}.count: {most}`"),
            };
            self.fault(Fault::new("tie-above-grade", format!("{FIELD}.count"), sentence).hint(hint));
        }
        Some(PostTie { bolt: bolt?, count })
    }

    fn lag(&mut self) -> Option<LagSpec> {
        let field = |name: &str| format!("support.runners.tie_downs.lag.{name}");
        let screw = self.screw(&field("screw"));
        if let Some(other) = screw.filter(|screw| screw.kind != ScrewKind::Lag) {
            let sentence = format!("{} is no lag screw", other.name);
            self.fault(Fault::new("unknown-screw", field("screw"), sentence).hint("for instance `lag 3/8 in`"));
        }
        let [length, plate] = ["length", "plate"].map(|name| self.length(&field(name)));
        let count = self.count(&field("count"));
        let species = self.species(&field("species"));
        Some(LagSpec { screw: screw?, length: length?, count: count?, plate: plate?, species: species? })
    }

    pub(super) fn building(&mut self, on: Ground) -> Option<Building> {
        const FIELD: &str = "support.runners.building";
        if !self.is_written(FIELD) {
            return None;
        }
        if on != Ground::Roof {
            self.fault(
                Fault::new("field-without-meaning", FIELD, "a building matters to a frame on its roof only")
                    .hint("remove the block, or use `on: roof`"),
            );
        }
        let [height, longer, shorter, parapet] =
            ["height", "longer_side", "shorter_side", "parapet"].map(|name| self.length(&format!("{FIELD}.{name}")));
        let zone = self.choice(&format!("{FIELD}.zone"));
        let spec =
            Building { height: height?, longer_side: longer?, shorter_side: shorter?, parapet: parapet?, zone: zone? };
        if spec.shorter_side > spec.longer_side {
            let sentence = "the shorter side is longer than the longer side";
            self.fault(Fault::new("sides-swapped", format!("{FIELD}.shorter_side"), sentence).hint("swap the two"));
        }
        Some(spec)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn spec(blocks: u32, placed: Placed) -> BallastSpec {
        let contact = &soils::INTERFACES[0];
        BallastSpec { per_runner: kg(15.0 * f64::from(blocks)), blocks: Some((kg(15.0), blocks)), placed, contact }
    }

    #[test]
    fn blocks_are_whole_and_the_odd_ones_stand_at_the_back() {
        assert_eq!(spec(6, Placed::Spread).places(), [(0.125, 15.0), (0.375, 15.0), (0.625, 30.0), (0.875, 30.0)]);
        assert_eq!(spec(3, Placed::Ends).places(), [(0.125, 15.0), (0.875, 30.0)]);
        assert_eq!(spec(2, Placed::Spread).places(), [(0.625, 15.0), (0.875, 15.0)]);
        for placed in [Placed::Spread, Placed::Ends, Placed::Front, Placed::Back] {
            for blocks in 0..9 {
                let sum: f64 = spec(blocks, placed).places().iter().map(|(_, kg)| kg).sum();
                assert!((sum - 15.0 * f64::from(blocks)).abs() < 1e-9);
            }
        }
    }
}
