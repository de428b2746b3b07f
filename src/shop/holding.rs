//! What holds runners where they lie, as the design names it: counted, placed, and bought.

use super::hardware::Sold;
use crate::{
    design::{Base, Design, Goods, evenly},
    frame::{Frame, Role},
    quantities::{Units, force, length, length_both, mass, mm, to_kg, to_mm},
};

/// One kind of thing that holds a runner.
#[derive(Debug, Clone, PartialEq)]
pub struct Holding {
    /// What to ask for.
    pub item: String,
    /// Its size.
    pub size: String,
    /// How many on one runner.
    pub per_runner: usize,
    /// Distances from the runner's front end (mm).
    pub places_mm: Vec<f64>,
    /// What else must be said.
    pub note: String,
    /// What its price is looked up by.
    pub sold: Option<Sold>,
}

/// Everything that holds one runner; empty where the design names nothing.
#[must_use]
pub fn holding(design: &Design, frame: &Frame, units: Units) -> Vec<Holding> {
    let Base::Runners(runners) = &design.support.base else { return vec![] };
    let Some(runner) = frame.sticks.iter().find(|s| s.role == Role::Runner) else { return vec![] };
    let along = |shares: Vec<f64>| shares.into_iter().map(|s| frame.tape.nearest_mm(s * runner.length_mm)).collect();
    let mut all = Vec::new();
    if let Some(ballast) = design.ballast.filter(|b| !b.places().is_empty()) {
        let places: Vec<f64> = along(ballast.places().iter().map(|(share, _)| *share).collect());
        let (item, size, per_runner) = match ballast.blocks {
            Some((block, count)) => ("ballast block", mass(block, units), count as usize),
            None => ("ballast", mass(ballast.per_runner, units), 1),
        };
        all.push(Holding {
            item: item.to_string(),
            size,
            per_runner,
            places_mm: places,
            note: format!(
                "{} on each runner, {}; fixed so that it cannot slide or be lifted off",
                mass(ballast.per_runner, units),
                ballast.placed.words()
            ),
            sold: Sold::weighed(Goods::Ballast, to_kg(ballast.per_runner) / per_runner.max(1) as f64),
        });
    }
    if let Some(stakes) = design.stakes {
        all.push(Holding {
            item: "ground stake, screwed to the runner".to_string(),
            size: format!("{} wide, {} in the ground", length_both(stakes.width, units), length(stakes.depth, units)),
            per_runner: stakes.per_runner as usize,
            places_mm: along(evenly(stakes.per_runner)),
            note: match stakes.pull_test {
                Some(test) => format!("pull one on the spot first: it must hold {}", force(test, units)),
                None => "against sliding; counted for nothing against lifting".to_string(),
            },
            sold: Sold::plain(Goods::Stake),
        });
    }
    if let Some(ties) = runners.tie_downs {
        let rated = format!("rated {} up, {} along", force(ties.uplift, units), force(ties.lateral, units));
        all.push(Holding {
            item: "bracket, bolted through the runner".to_string(),
            size: rated,
            per_runner: ties.per_runner as usize,
            places_mm: along(evenly(ties.per_runner)),
            note: "each over a rafter or the deck's framing, flashed on a roof; what it stands on is not checked"
                .to_string(),
            sold: Sold::plain(Goods::RoofBracket),
        });
        if let Some(lag) = ties.lag {
            all.push(Holding {
                item: lag.screw.name.replacen("lag", "lag screw", 1),
                size: length(mm(to_mm(lag.length)), units),
                per_runner: (ties.per_runner * lag.count) as usize,
                places_mm: Vec::new(),
                note: format!("{} to a bracket, in drilled lead holes", lag.count),
                sold: Sold::sized(Goods::LagScrew, lag.screw.name, to_mm(lag.length)),
            });
        }
    }
    all
}
