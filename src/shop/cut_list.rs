//! The cut list of a design: every piece, and the cheapest sticks to cut them from.

use super::cut_plan::{self, Job, JobError, KerfRule, Money, Plan, Shown, Unit};
use crate::{
    catalogue::{self, Family, Section, stock::Market},
    design::{Design, Fault},
    frame::{Frame, Piece},
    quantities::{Tape, Units, length, mm, to_mm},
};
use std::time::Duration;

/// One line of the cut list.
#[derive(Debug, Clone)]
pub struct CutLine {
    /// The piece: mark, section, length, ends, holes.
    pub piece: Piece,
    /// What it is made of, in words.
    pub material: String,
    /// Length between long points, on the tape (mm).
    pub taped_mm: f64,
    /// Pieces in all frames.
    pub quantity: usize,
}

/// Every piece of a design, and how to saw them from stock.
#[derive(Debug, Clone)]
pub struct CutList {
    /// Pieces, by mark.
    pub lines: Vec<CutLine>,
    /// The cutting job made of them.
    pub job: Job,
    /// The cheapest plan, and its proof.
    pub plan: Plan,
    /// Sections without a price in the design: there the least length is bought.
    pub unpriced: Vec<Unpriced>,
    /// Money and tape it is shown in.
    pub shown: Shown,
}

/// A section that nobody gave a price for.
#[derive(Debug, Clone, PartialEq)]
pub struct Unpriced {
    /// Its name.
    pub section: String,
    /// Where its lengths are the ones yards usually keep: which, and by what source. Nothing where the design lists its own.
    pub usual: Option<catalogue::YardLengths>,
}

/// A design that cannot be cut.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum CutListError {
    /// The cutting job is refused.
    #[error("{0}")]
    Job(#[from] JobError),
    /// A piece is longer than every stick of its section.
    #[error("piece {mark} ({section}) is {length} long, and the longest stick of that section is {longest}")]
    TooLong {
        /// Mark of the piece.
        mark: String,
        /// Its section.
        section: String,
        /// Its length, in the units of the job.
        length: String,
        /// The longest stick.
        longest: String,
        /// The lengths yards usually keep, where the design lists none of that section.
        usual: Vec<String>,
    },
}

impl CutListError {
    /// A piece that no stick holds is bad input: the field to change, and how.
    #[must_use]
    pub fn fault(&self) -> Fault {
        let hint = match self {
            Self::TooLong { section, usual, .. } => {
                // A section that is listed once is sawn from what is listed and nothing else.
                let beside = match usual.as_slice() {
                    [] => String::new(),
                    usual => format!(
                        ", and beside it the usual ones you can buy ({}), which a list replaces",
                        usual.join(", ")
                    ),
                };
                format!(
                    "list a longer stick of {section} in `shop.stock`{beside}; or shorten what the design fixes, or split the array into more frames with `array.frames`"
                )
            }
            Self::Job(_) => "change `shop.stock` or `shop.kerf`".to_string(),
        };
        Fault::new("cannot-be-cut", "shop.stock", self.to_string()).hint(hint)
    }
}

/// Time given to the proof.
const TIME_LIMIT: Duration = Duration::from_secs(5);

/// Gathers the pieces of all frames and plans their cuts, to be shown in some units.
///
/// The plan is made on the tape of the design's own units: the same boards are bought whatever they are shown in.
///
/// # Errors
/// [`CutListError::TooLong`] names the first piece that no stick holds; a lawful splice is never invented.
pub fn make(design: &Design, frame: &Frame, units: Units) -> Result<CutList, CutListError> {
    let Sawing { lines, job, unpriced } = sawing(design, frame)?;
    let plan = cut_plan::plan(&job, TIME_LIMIT)?;
    let shown = Shown { money: design.shop.currency.map_or(Money::Cent, Money::Named), units };
    Ok(CutList { lines, job, plan, unpriced, shown })
}

/// What is to be sawn, before anything is planned.
#[derive(Debug, Clone)]
pub struct Sawing {
    /// Pieces, by mark.
    pub lines: Vec<CutLine>,
    /// The cutting job made of them.
    pub job: Job,
    /// Sections without a price in the design.
    pub unpriced: Vec<Unpriced>,
}

/// Gathers the pieces of all frames into one cutting job.
///
/// # Errors
/// [`CutListError::TooLong`] names the first piece that no stick holds.
pub fn sawing(design: &Design, frame: &Frame) -> Result<Sawing, CutListError> {
    let tape = Tape::of(design.units);
    let unit = match design.units {
        Units::Us => Unit::Sixteenth,
        Units::Metric => Unit::Millimetre,
    };
    let marks = |length_mm: f64| (length_mm / tape.mark_mm()).round() as i64;
    let lines: Vec<CutLine> = frame
        .pieces
        .iter()
        .map(|piece| CutLine {
            material: material(design, piece.section),
            taped_mm: tape.nearest_mm(piece.length_mm),
            quantity: piece.quantity * frame.count,
            piece: piece.clone(),
        })
        .collect();
    let mut unpriced = Vec::new();
    let mut sections: Vec<&'static Section> = frame.pieces.iter().map(|p| p.section).collect();
    sections.sort_by(|a, b| a.name.cmp(&b.name));
    sections.dedup_by(|a, b| a.name == b.name);
    let stock: Vec<cut_plan::Stock> =
        sections.iter().flat_map(|section| stock_of(design, section, tape, &mut unpriced)).collect();
    let job = Job {
        unit,
        // A blade takes at least its kerf: rounded up, a plan never runs short.
        kerf: marks(tape.at_least_mm(to_mm(design.shop.kerf))),
        kerf_rule: KerfRule::Between,
        end_trim: marks(tape.at_least_mm(to_mm(design.shop.end_trim))),
        stock,
        parts: lines
            .iter()
            .map(|line| cut_plan::Part {
                mark: line.piece.mark.clone(),
                length: marks(line.taped_mm),
                quantity: line.quantity as i64,
                mitred_ends: if nests(design, &line.piece) { 2 } else { 0 },
                group: line.piece.section.name.clone(),
            })
            .collect(),
        mitre_joint_saving: nest_saving(design, frame, tape),
        minimum_offcut: marks(300.0),
    };
    for line in &lines {
        let section = &line.piece.section.name;
        let longest = job.stock.iter().filter(|s| s.group == *section).map(|s| s.length - job.end_trim).max();
        if longest.is_none_or(|longest| longest < marks(line.taped_mm)) {
            let usual = unpriced.iter().find(|u| u.section == *section).and_then(|u| u.usual.as_ref());
            let usual = usual.map_or(vec![], |stock| stock.lengths_mm.clone());
            return Err(CutListError::TooLong {
                mark: line.piece.mark.clone(),
                section: section.clone(),
                length: unit.show(marks(line.taped_mm)),
                longest: longest.map_or("missing".to_string(), |l| unit.show(l)),
                usual: usual.into_iter().map(|length_mm| length(mm(length_mm), tape.units())).collect(),
            });
        }
    }
    Ok(Sawing { lines, job, unpriced })
}

fn nests(design: &Design, piece: &Piece) -> bool {
    design.shop.nest_mitres && piece.ends_deg.iter().all(|a| (a - 45.0).abs() < 0.01)
}

/// What a shared 45 degree cut saves, `w tan a − K (1/cos a − 1)`, rounded down.
fn nest_saving(design: &Design, frame: &Frame, tape: Tape) -> Option<i64> {
    let mitred = frame.pieces.iter().find(|p| nests(design, p))?;
    let angle = 45f64.to_radians();
    let saved = mitred.section.depth_mm * angle.tan() - to_mm(design.shop.kerf) * (1.0 / angle.cos() - 1.0);
    Some((saved / tape.mark_mm()).floor() as i64).filter(|s| *s > 0)
}

fn stock_of(
    design: &Design,
    section: &'static Section,
    tape: Tape,
    unpriced: &mut Vec<Unpriced>,
) -> Vec<cut_plan::Stock> {
    // A stick a hair short of its name must not be planned as longer than it is.
    let whole = |length_mm: f64| (length_mm / tape.mark_mm() + 1e-6).floor() as i64;
    let given: Vec<cut_plan::Stock> = design
        .shop
        .stock
        .iter()
        .filter(|s| s.section.name == section.name)
        .map(|s| cut_plan::Stock {
            length: whole(to_mm(s.length)),
            price: s.price.map(|price| (price * 100.0).round() as i64),
            available: s.available.map(i64::from),
            group: section.name.clone(),
        })
        .collect();
    if given.iter().any(|stock| stock.price.is_none()) {
        unpriced.push(Unpriced { section: section.name.clone(), usual: None });
    }
    if !given.is_empty() {
        return given;
    }
    let market = match tape.units() {
        Units::Us => Market::NorthAmerica,
        Units::Metric => Market::Nordic,
    };
    let usual = catalogue::stock_lengths(section, market, design.frame.treated == Some(true));
    let rows = usual.lengths_mm.iter().map(|length_mm| cut_plan::Stock {
        length: whole(*length_mm),
        price: None,
        available: None,
        group: section.name.clone(),
    });
    let rows = rows.collect();
    unpriced.push(Unpriced { section: section.name.clone(), usual: Some(usual) });
    rows
}

/// Species, grade and treatment of lumber; the family of a metal section.
fn material(design: &Design, section: &Section) -> String {
    match section.family {
        Family::Wood => {
            let spec = &design.frame;
            let words =
                [spec.species.as_deref(), spec.grade.as_deref(), (spec.treated == Some(true)).then_some("treated")];
            let words: Vec<&str> = words.into_iter().flatten().collect();
            if words.is_empty() { "lumber, species and grade not given".to_string() } else { words.join(" ") }
        }
        Family::Steel => "steel".to_string(),
        Family::Aluminium => "aluminium".to_string(),
    }
}

impl CutList {
    /// A number of the job's units as text.
    #[must_use]
    pub fn show(&self, count: i64) -> String {
        self.shown.length(&self.job, count)
    }

    /// What the plan makes least, with its proof, and the lengths it took for granted: a sentence each.
    #[must_use]
    pub fn verdict(&self) -> Vec<String> {
        let mut said = vec![cut_plan::verdict(&self.job, &self.plan, self.shown)];
        let usual = self.unpriced.iter().filter_map(|without| Some((&without.section, without.usual.as_ref()?)));
        let mut same: Vec<(Vec<&str>, &catalogue::YardLengths)> = Vec::new();
        for (section, stock) in usual {
            match same.iter_mut().find(|(_, other)| *other == stock) {
                Some((sections, _)) => sections.push(section),
                None => same.push((vec![section], stock)),
            }
        }
        said.extend(same.into_iter().map(|(sections, stock)| {
            let lengths: Vec<String> = stock.lengths_mm.iter().map(|l| length(mm(*l), self.shown.units)).collect();
            format!(
                "Lengths of {} are those a yard usually keeps: {} ({}). List yours under `shop.stock`, with prices to plan by money.",
                sections.join(", "),
                lengths.join(", "),
                stock.source
            )
        }));
        said
    }

    /// What to buy: section, length in the job's units, number; equal items are one line.
    #[must_use]
    pub fn to_buy(&self) -> Vec<(String, i64, usize)> {
        let mut rows: Vec<(String, i64, usize)> = Vec::new();
        for (row, count, _) in self.plan.boards_used() {
            let stock = &self.job.stock[row];
            match rows.iter_mut().find(|(group, length, _)| *group == stock.group && *length == stock.length) {
                Some(line) => line.2 += count,
                None => rows.push((stock.group.clone(), stock.length, count)),
            }
        }
        rows.sort();
        rows
    }
}
