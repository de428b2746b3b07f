//! What holds runners where they lie: ballast, stakes, ties to a roof or deck; and the building under a roof.

use super::{Ground, conditions, fault::Fault, read::nearest, resolve::Judge};
use crate::{
    catalogue::{self, Screw, ScrewKind, Species, soils, soils::Interface},
    quantities::{Force, Length, Mass, Written, kg, mm, to_kg, to_mm, to_n},
};
use serde::Deserialize;

/// Soil beside a stake that driving has loosened and that is not counted, where the design names no depth (mm).
/// Judgement: half a foot.
const LOOSE_SOIL_MM: f64 = 152.4;
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

/// Ballast as written.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WrittenBallast {
    pub(super) per_runner: Written<Mass>,
    pub(super) contact: String,
    #[serde(default)]
    pub(super) block: Option<Written<Mass>>,
    #[serde(default)]
    pub(super) placed: Placed,
}

/// Stakes as written.
#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WrittenStakes {
    pub(super) per_runner: u32,
    pub(super) width: Written<Length>,
    pub(super) depth: Written<Length>,
    #[serde(default)]
    pub(super) loose_soil: Option<Written<Length>>,
    #[serde(default)]
    pub(super) pull_test: Option<Written<Force>>,
}

/// Ties as written.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WrittenTies {
    pub(super) per_runner: u32,
    pub(super) bracket: WrittenBracket,
    #[serde(default)]
    pub(super) lag: Option<WrittenLag>,
}

#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WrittenBracket {
    pub(super) uplift: Written<Force>,
    pub(super) lateral: Written<Force>,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WrittenLag {
    pub(super) screw: String,
    pub(super) length: Written<Length>,
    pub(super) count: u32,
    pub(super) plate: Written<Length>,
    pub(super) species: String,
}

/// A building as written.
#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WrittenBuilding {
    pub(super) height: Written<Length>,
    pub(super) longer_side: Written<Length>,
    pub(super) shorter_side: Written<Length>,
    pub(super) parapet: Written<Length>,
    pub(super) zone: RoofPlace,
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

impl Judge {
    fn count(&mut self, field: &str, given: u32, [least, most]: [u32; 2]) -> u32 {
        if !(least..=most).contains(&given) {
            self.out_of_range(field, &given.to_string(), &format!("between {least} and {most}"));
        }
        given
    }

    fn force(&mut self, field: &str, given: Force) -> Force {
        const LEAST_N: f64 = 10.0;
        const MOST_N: f64 = 1e6;
        if !(LEAST_N..=MOST_N).contains(&to_n(given)) {
            self.out_of_range(field, &format!("{} N", to_n(given)), "between 10 N and 1000 kN");
        }
        given
    }

    pub(super) fn ballast(&mut self, ballast: Option<&WrittenBallast>) -> Option<BallastSpec> {
        const MOST_KG: f64 = 5000.0;
        let written = ballast?;
        let wanted = to_kg(written.per_runner.0);
        if !(0.0..=MOST_KG).contains(&wanted) {
            self.out_of_range("ballast.per_runner", &format!("{wanted} kg"), "between 0 and 5000 kg");
            return None;
        }
        let mut spec = BallastSpec {
            per_runner: written.per_runner.0,
            blocks: None,
            placed: written.placed,
            contact: self.contact(&written.contact)?,
        };
        if let Some(block) = written.block {
            let block = to_kg(block.0);
            if !(1.0..=500.0).contains(&block) {
                self.out_of_range("ballast.block", &format!("{block} kg"), "between 1 and 500 kg");
                return None;
            }
            // A millionth of a block is rounding of units, not another block.
            let count = (wanted / block - 1e-6).ceil().max(0.0);
            spec.blocks = Some((kg(block), count as u32));
            spec.per_runner = kg(count * block);
        }
        Some(spec)
    }

    fn contact(&mut self, given: &str) -> Option<&'static Interface> {
        let names: Vec<String> = soils::INTERFACES.iter().map(|i| i.name.to_string()).collect();
        let found = soils::INTERFACES.iter().find(|i| i.name == given);
        if found.is_none() {
            let mut fault =
                Fault::new("unknown-contact", "ballast.contact", format!("`{given}` is no contact that is known here"));
            if let Some(near) = nearest(given, &names) {
                fault = fault.hint(format!("did you mean `{near}`?"));
            }
            self.fault(fault.hint(format!("known here: {}", names.join(", "))));
        }
        found
    }

    pub(super) fn stakes(&mut self, stakes: Option<&WrittenStakes>, on: Option<Ground>) -> Option<StakeSpec> {
        let written = stakes?;
        if on != Some(Ground::Ground) {
            self.fault(
                Fault::new("field-without-meaning", "stakes", "stakes hold runners that lie on the ground")
                    .hint("remove the block, or use `kind: runners` with `on: ground`"),
            );
        }
        let spec = StakeSpec {
            per_runner: self.count("stakes.per_runner", written.per_runner, [1, 20]),
            width: self.range("stakes.width", written.width.0, mm(6.0), mm(200.0)),
            depth: self.range("stakes.depth", written.depth.0, mm(150.0), mm(3000.0)),
            loose_soil: self
                .optional("stakes.loose_soil", written.loose_soil, mm(0.0), mm(600.0))
                .unwrap_or(mm(LOOSE_SOIL_MM)),
            pull_test: written.pull_test.map(|p| self.force("stakes.pull_test", p.0)),
        };
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

    pub(super) fn ties(&mut self, ties: Option<&WrittenTies>, on: Ground) -> Option<Ties> {
        const FIELD: &str = "support.runners.tie_downs";
        let written = ties?;
        if on == Ground::Ground {
            self.fault(
                Fault::new("field-without-meaning", FIELD, "ties hold runners on a roof or deck")
                    .hint("use `stakes` or `ballast` on the ground, or `on: roof` or `on: deck`"),
            );
        }
        let lag = written.lag.as_ref().map(|lag| self.lag(lag));
        Some(Ties {
            per_runner: self.count(&format!("{FIELD}.per_runner"), written.per_runner, [2, 40]),
            uplift: self.force(&format!("{FIELD}.bracket.uplift"), written.bracket.uplift.0),
            lateral: self.force(&format!("{FIELD}.bracket.lateral"), written.bracket.lateral.0),
            lag: match lag {
                Some(None) => return None,
                Some(lag) => lag,
                None => None,
            },
        })
    }

    fn lag(&mut self, written: &WrittenLag) -> Option<LagSpec> {
        const FIELD: &str = "support.runners.tie_downs.lag";
        let length = self.range(&format!("{FIELD}.length"), written.length.0, mm(25.0), mm(400.0));
        let plate = self.range(&format!("{FIELD}.plate"), written.plate.0, mm(1.0), mm(13.0));
        let count = self.count(&format!("{FIELD}.count"), written.count, [1, 8]);
        let field = format!("{FIELD}.screw");
        let screw = match catalogue::screw(&written.screw) {
            Ok(screw) if screw.kind == ScrewKind::Lag => Some(screw),
            Ok(screw) => {
                self.fault(
                    Fault::new("unknown-screw", field, format!("{} is no lag screw", screw.name))
                        .hint("for instance `lag 3/8 in`"),
                );
                None
            }
            Err(error) => {
                self.fault(Fault::new("unknown-screw", field, error.to_string()));
                None
            }
        };
        let species = conditions::species(&written.species);
        if species.is_none() {
            let names = conditions::names().0.join(", ");
            let sentence = format!("`{}` is no species that is known here", written.species);
            self.fault(
                Fault::new("unknown-species", format!("{FIELD}.species"), sentence)
                    .hint(format!("known here: {names}")),
            );
        }
        Some(LagSpec { screw: screw?, length, count, plate, species: species? })
    }

    pub(super) fn building(&mut self, building: Option<&WrittenBuilding>, on: Ground) -> Option<Building> {
        const FIELD: &str = "support.runners.building";
        let written = building?;
        if on != Ground::Roof {
            self.fault(
                Fault::new("field-without-meaning", FIELD, "a building matters to a frame on its roof only")
                    .hint("remove the block, or use `on: roof`"),
            );
        }
        let spec = Building {
            height: self.range(&format!("{FIELD}.height"), written.height.0, mm(1500.0), mm(100e3)),
            longer_side: self.range(&format!("{FIELD}.longer_side"), written.longer_side.0, mm(1000.0), mm(500e3)),
            shorter_side: self.range(&format!("{FIELD}.shorter_side"), written.shorter_side.0, mm(1000.0), mm(500e3)),
            parapet: self.range(&format!("{FIELD}.parapet"), written.parapet.0, mm(0.0), mm(10e3)),
            zone: written.zone,
        };
        if spec.shorter_side > spec.longer_side {
            self.fault(
                Fault::new(
                    "sides-swapped",
                    format!("{FIELD}.shorter_side"),
                    "the shorter side is longer than the longer side",
                )
                .hint("swap the two"),
            );
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
