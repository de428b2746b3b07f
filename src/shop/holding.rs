//! What holds a foot where it lies: counted, placed, and bought.

use super::hardware::Sold;
use crate::{
    design::{Design, Goods},
    frame::{Frame, HeldBy, Hold},
    quantities::{Units, force, inches, length, length_both, mass, mm, to_kg},
};

/// One kind of thing that holds a foot.
#[derive(Debug, Clone, PartialEq)]
pub struct Holding {
    /// What to ask for.
    pub item: String,
    /// Its size.
    pub size: String,
    /// How many on one foot.
    pub per_foot: usize,
    /// Distances from the foot's marked end (mm).
    pub places_mm: Vec<f64>,
    /// What else must be said.
    pub note: String,
    /// What its price is looked up by; nothing where it is its fasteners that are bought.
    pub sold: Option<Sold>,
}

/// Length of a ground stake that the design does not describe (in); common practice, no source.
const STAKE_IN: f64 = 24.0;
/// Said of what the design does not name.
const USUAL: &str = "common practice, no source, and counted for nothing by the strength sheet";

/// Everything that holds one foot; all feet of a frame are held alike.
#[must_use]
pub fn holding(design: &Design, frame: &Frame, units: Units) -> Vec<Holding> {
    let Some(foot) = frame.feet.first() else { return vec![] };
    let of = |is: fn(HeldBy) -> bool| foot.holds.iter().filter(move |hold| is(hold.by)).collect::<Vec<_>>();
    [
        of(|by| matches!(by, HeldBy::Ballast(_))),
        of(|by| by == HeldBy::Stake),
        of(|by| by == HeldBy::Bracket),
        of(|by| by == HeldBy::DeckBolt),
        of(|by| by == HeldBy::Tie),
    ]
    .into_iter()
    .filter_map(|holds| one_kind(design, &holds, units))
    .collect()
}

fn one_kind(design: &Design, holds: &[&Hold], units: Units) -> Option<Holding> {
    let first = holds.first()?;
    let places_mm = holds.iter().map(|hold| hold.from_end_mm).collect();
    let size_of_fastener = || {
        let bolt = first.fasteners.first();
        bolt.map_or_else(String::new, |f| format!("{} x {}", f.size, length(mm(f.length_mm), units)))
    };
    let (item, size, per_foot, note, sold) = match first.by {
        HeldBy::Ballast(_) => {
            let ballast = design.ballast?;
            let (item, size, per_foot) = match ballast.blocks {
                Some((block, count)) => ("ballast block", mass(block, units), count as usize),
                None => ("ballast", mass(ballast.per_runner, units), 1),
            };
            let note = format!(
                "{} on each runner, {}; fixed so that it cannot slide or be lifted off",
                mass(ballast.per_runner, units),
                ballast.placed.words()
            );
            let each_kg = to_kg(ballast.per_runner) / per_foot.max(1) as f64;
            (item, size, per_foot, note, Sold::weighed(Goods::Ballast, each_kg))
        }
        HeldBy::Stake => {
            let (size, note) = match design.stakes {
                Some(stakes) => (
                    format!("{} wide, {} in the ground", length_both(stakes.width, units), length(stakes.depth, units)),
                    match stakes.pull_test {
                        Some(test) => format!("pull one on the spot first: it must hold {}", force(test, units)),
                        None => "against sliding; counted for nothing against lifting".to_string(),
                    },
                ),
                None => (
                    format!("{} long", length(inches(STAKE_IN), units)),
                    format!("or ballast as the strength sheet asks; {USUAL}"),
                ),
            };
            ("ground stake, screwed to the runner", size, holds.len(), note, Sold::plain(Goods::Stake))
        }
        HeldBy::Bracket => {
            let (size, usual) = match design.support.lies_on().and_then(|surface| surface.tie_downs) {
                Some(ties) => (
                    format!("rated {} up, {} along", force(ties.uplift, units), force(ties.lateral, units)),
                    String::new(),
                ),
                None => (String::new(), format!("; {USUAL}")),
            };
            let note = format!(
                "each over a rafter or the deck's framing, flashed on a roof; what it stands on is not checked{usual}"
            );
            ("bracket, fixed to the runner", size, holds.len(), note, Sold::plain(Goods::RoofBracket))
        }
        HeldBy::DeckBolt => {
            let note = format!("each into the deck's framing; {USUAL}");
            ("bolt down through the runner", size_of_fastener(), holds.len(), note, None)
        }
        HeldBy::Tie => {
            let usual = if first.named { "" } else { "; common practice, no source: `support.posts.tie` names others" };
            let note = format!("head and nut stand out on both sides and the concrete closes round them{usual}");
            ("bolt through the post", size_of_fastener(), holds.len(), note, None)
        }
    };
    Some(Holding { item: item.to_string(), size, per_foot, places_mm, note, sold })
}
