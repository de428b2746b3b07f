//! What is to be cut from what, in whole units and whole cents.

use super::problem::LONGEST;
use crate::quantities::{Length, Units, inches, length, mm};
use std::collections::BTreeMap;
use thiserror::Error;

/// Most parts one job may hold, copies counted.
pub const MOST_PARTS: i64 = 20_000;
/// Highest price of one board: a million in whole money.
pub const HIGHEST_PRICE: i64 = 100_000_000;

/// The step all lengths of a job are counted in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Unit {
    /// 1 mm.
    #[default]
    Millimetre,
    /// 1/16 in.
    Sixteenth,
    /// 1/32 in.
    ThirtySecond,
    /// A plain count, for packing lists that measure nothing.
    Abstract,
}

impl Unit {
    /// How the unit is written in files.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Millimetre => "mm",
            Self::Sixteenth => "1/16 in",
            Self::ThirtySecond => "1/32 in",
            Self::Abstract => "abstract",
        }
    }

    /// A number of units as a length.
    #[must_use]
    pub fn length(self, count: i64) -> Length {
        match self {
            // A count has no length; a drawing shows one unit as a millimetre.
            Self::Millimetre | Self::Abstract => mm(count as f64),
            Self::Sixteenth => inches(count as f64 / 16.0),
            Self::ThirtySecond => inches(count as f64 / 32.0),
        }
    }

    /// The system of units it belongs to.
    #[must_use]
    pub fn units(self) -> Units {
        match self {
            Self::Millimetre | Self::Abstract => Units::Metric,
            Self::Sixteenth | Self::ThirtySecond => Units::Us,
        }
    }

    /// A number of units as text, exact: `5 ft 3-1/2 in`, `1613 mm`.
    #[must_use]
    pub fn show(self, count: i64) -> String {
        self.show_on(count, self.units())
    }

    /// A number of units as a tape of that system shows it: exact on the job's own, to the nearest mark on the other.
    #[must_use]
    pub fn show_on(self, count: i64, units: Units) -> String {
        match self {
            Self::Abstract => count.to_string(),
            // The tape of the printer stops at sixteenths; an odd thirty-second is added by hand.
            Self::ThirtySecond if units == Units::Us && count % 2 != 0 => {
                format!("{} + 1/32 in", length(self.length(count - 1), units))
            }
            _ => length(self.length(count), units),
        }
    }
}

/// Where the saw cuts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum KerfRule {
    /// The far end of a board is good: a part that ends there needs no last cut, and a rest shorter than the kerf is simply sawn away.
    #[default]
    Between,
    /// The far end is always cut.
    Every,
}

/// Parts that are alike.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Part {
    /// The name written on the piece.
    pub mark: String,
    /// Long-point length (units).
    pub length: i64,
    /// How many are wanted.
    pub quantity: i64,
    /// Ends cut at the job's mitre angle: 0, 1 or 2. Ends at other angles count as square.
    pub mitred_ends: u8,
    /// Section and grain: a part is cut only from stock of its own group.
    pub group: String,
}

/// Boards that are alike.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stock {
    /// Length as bought or measured (units).
    pub length: i64,
    /// Price of one (cents); 0 for what is already in the shed. Where a group's stock has none, the least length is bought.
    pub price: Option<i64>,
    /// How many there are; `None` for as many as wanted.
    pub available: Option<i64>,
    /// Section and grain.
    pub group: String,
}

/// One cutting job.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Job {
    /// What every length is counted in.
    pub unit: Unit,
    /// What the saw removes per cut (units).
    pub kerf: i64,
    /// Whether the far end is always cut.
    pub kerf_rule: KerfRule,
    /// Taken off every board before anything else (units).
    pub end_trim: i64,
    /// Boards, row by row.
    pub stock: Vec<Stock>,
    /// Parts, row by row.
    pub parts: Vec<Part>,
    /// Length saved when two mitred ends share one cut (units), `w·tan a − K·(1/cos a − 1)` rounded down; `None` to cut every end for itself.
    pub mitre_joint_saving: Option<i64>,
    /// The shortest rest that is worth keeping (units).
    pub minimum_offcut: i64,
}

/// What is wrong with a job. `row` counts from 0.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum JobError {
    /// No parts.
    #[error("there are no parts to cut")]
    NoParts,
    /// No stock.
    #[error("there is no stock to cut from")]
    NoStock,
    /// A number that must be above zero, or not below it, is.
    #[error("{list} row {}: {field} is {given}, and must be {wanted}", row + 1)]
    #[allow(missing_docs, reason = "the sentence says what each holds")]
    OutOfRange { list: &'static str, row: usize, field: &'static str, given: String, wanted: String },
    /// A number of the whole job is out of its range.
    #[error("{field} is {given}, and must be {wanted}")]
    #[allow(missing_docs, reason = "the sentence says what each holds")]
    JobOutOfRange { field: &'static str, given: String, wanted: String },
    /// The saw would take the whole board.
    #[error("the kerf, {kerf}, is not shorter than the board of stock row {}, {board}", row + 1)]
    #[allow(missing_docs, reason = "the sentence says what each holds")]
    KerfTooWide { row: usize, kerf: String, board: String },
    /// The end trim takes the whole board.
    #[error("the end trim, {trim}, leaves nothing of the board of stock row {}, {board}", row + 1)]
    #[allow(missing_docs, reason = "the sentence says what each holds")]
    TrimTooLong { row: usize, trim: String, board: String },
    /// More parts than one job may hold.
    #[error("parts row {}: with quantity {given} the job holds more than {MOST_PARTS} parts", row + 1)]
    #[allow(missing_docs, reason = "the sentence says what each holds")]
    TooMany { row: usize, given: i64 },
    /// Two rows with one mark.
    #[error("parts rows {} and {} both have the mark `{mark}`", first + 1, row + 1)]
    #[allow(missing_docs, reason = "the sentence says what each holds")]
    DuplicateMark { first: usize, row: usize, mark: String },
    /// A mitred part that would have no wood left between its mitres.
    #[error("parts row {}: the part is {given} long, too short to nest its mitred ends, which save {saving} a joint", row + 1)]
    #[allow(missing_docs, reason = "the sentence says what each holds")]
    TooShortToNest { row: usize, given: String, saving: String },
    /// No stock of that group.
    #[error("parts row {}: there is no stock of group `{group}`", row + 1)]
    #[allow(missing_docs, reason = "the sentence says what each holds")]
    NoStockInGroup { row: usize, group: String },
    /// Longer than every board.
    #[error("parts row {}: part {mark} is {given} long, and the longest board it could come from holds {longest}", row + 1)]
    #[allow(missing_docs, reason = "the sentence says what each holds")]
    TooLong { row: usize, mark: String, given: String, longest: String },
    /// Limited stock runs short.
    #[error("the stock on hand runs short: {reason}")]
    #[allow(missing_docs, reason = "the sentence says what each holds")]
    StockShort { row: usize, reason: String },
    /// Neither a plan nor a proof that there is none.
    #[error("no plan was found in the time given, and none was ruled out: the limited stock is nearly used up")]
    Undecided,
}

impl JobError {
    /// The fault's name.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::NoParts => "no-parts",
            Self::NoStock => "no-stock",
            Self::OutOfRange { .. } | Self::JobOutOfRange { .. } => "out-of-range",
            Self::KerfTooWide { .. } => "kerf-too-wide",
            Self::TrimTooLong { .. } => "trim-too-long",
            Self::TooMany { .. } => "too-many-parts",
            Self::DuplicateMark { .. } => "duplicate-mark",
            Self::TooShortToNest { .. } => "too-short-to-nest",
            Self::NoStockInGroup { .. } => "no-stock-in-group",
            Self::TooLong { .. } => "part-too-long",
            Self::StockShort { .. } => "stock-short",
            Self::Undecided => "undecided",
        }
    }

    /// Path of the field that is wrong.
    #[must_use]
    pub fn field(&self) -> String {
        match self {
            Self::NoParts => "parts".to_string(),
            Self::NoStock => "stock".to_string(),
            Self::OutOfRange { list, row, field, .. } => format!("{list}.{row}.{field}"),
            Self::JobOutOfRange { field, .. } => (*field).to_string(),
            Self::KerfTooWide { .. } => "kerf".to_string(),
            Self::TrimTooLong { .. } => "end_trim".to_string(),
            Self::TooMany { row, .. } => format!("parts.{row}.qty"),
            Self::DuplicateMark { row, .. } => format!("parts.{row}.mark"),
            Self::TooShortToNest { row, .. } | Self::TooLong { row, .. } => format!("parts.{row}.length"),
            Self::NoStockInGroup { row, .. } => format!("parts.{row}.group"),
            Self::StockShort { row, .. } => format!("parts.{row}"),
            Self::Undecided => String::new(),
        }
    }

    /// Ways out.
    #[must_use]
    pub fn hints(&self) -> Vec<String> {
        let hint = match self {
            Self::NoParts => "list at least one part with its length and qty",
            Self::NoStock => "list at least one board with its length, or name one with --have",
            Self::OutOfRange { .. } | Self::JobOutOfRange { .. } => return Vec::new(),
            Self::KerfTooWide { .. } => "the kerf is what the saw blade removes, about 1/8 in or 3 mm",
            Self::TrimTooLong { .. } => "shorten the trim, or leave boards as short as this one off the list",
            Self::TooMany { .. } => "check the quantity, or split the job",
            Self::DuplicateMark { .. } => "give each row its own mark, or one row with a larger qty",
            Self::TooShortToNest { .. } => "set nest_mitres: false to cut every end for itself",
            Self::NoStockInGroup { .. } => "name stock of that group, or correct the group",
            Self::TooLong { .. } => {
                "name a longer board; a splice is never made up here, as its strength must be designed"
            }
            Self::StockShort { .. } => "add a board that can be bought: price it and leave `available` out",
            Self::Undecided => "give more time with --time-limit, or add a board that can be bought",
        };
        vec![hint.to_string()]
    }
}

impl Job {
    /// A sentence for every set of marks with one section, length and ends: sawn alike, they may still be drilled differently.
    #[must_use]
    pub fn told_apart(&self) -> Vec<String> {
        let mut alike: BTreeMap<(&str, i64, u8), Vec<&str>> = BTreeMap::new();
        for part in self.parts.iter().filter(|part| !part.mark.is_empty()) {
            alike.entry((&part.group, part.length, part.mitred_ends)).or_default().push(&part.mark);
        }
        let sets = alike.into_values().filter(|marks| marks.len() > 1);
        sets.map(|marks| {
            let all = marks.join(", ");
            format!("{all} are sawn alike and are different parts: write its mark on each as it comes off the saw.")
        })
        .collect()
    }

    /// Usable length of a stock row (units).
    pub(super) fn usable(&self, row: usize) -> i64 {
        self.stock[row].length - self.end_trim
    }

    /// The longest part that can come from a stock row (units).
    pub(super) fn longest_from(&self, row: usize) -> i64 {
        match self.kerf_rule {
            KerfRule::Between => self.usable(row),
            KerfRule::Every => self.usable(row) - self.kerf,
        }
    }

    /// Does stock of a group have prices, but for what is on hand?
    #[must_use]
    pub fn is_priced(&self, group: &str) -> bool {
        self.stock.iter().any(|stock| stock.group == group && stock.price.is_some_and(|price| price > 0))
    }

    /// What a board adds to what is made least: its price, or its length where it is bought without one.
    pub(super) fn burden(&self, row: usize) -> i64 {
        self.stock[row].price.unwrap_or(self.stock[row].length)
    }

    /// Everything that is wrong, in the order of the job.
    #[must_use]
    pub fn faults(&self) -> Vec<JobError> {
        let mut faults = Vec::new();
        self.check_whole(&mut faults);
        self.check_stock(&mut faults);
        self.check_parts(&mut faults);
        if faults.is_empty() {
            self.check_reach(&mut faults);
        }
        faults
    }

    fn check_whole(&self, faults: &mut Vec<JobError>) {
        if self.parts.is_empty() {
            faults.push(JobError::NoParts);
        }
        if self.stock.is_empty() {
            faults.push(JobError::NoStock);
        }
        let lengths = [
            ("kerf", self.kerf),
            ("end_trim", self.end_trim),
            ("minimum_offcut", self.minimum_offcut),
            ("mitre_joint_saving", self.mitre_joint_saving.unwrap_or(0)),
        ];
        for (field, value) in lengths {
            if !(0..=LONGEST).contains(&value) {
                let wanted = format!("0 to {}", self.unit.show(LONGEST));
                faults.push(JobError::JobOutOfRange { field, given: self.unit.show(value), wanted });
            }
        }
    }

    fn check_stock(&self, faults: &mut Vec<JobError>) {
        for (row, stock) in self.stock.iter().enumerate() {
            let mut refuse = |field, given: String, wanted: String| {
                faults.push(JobError::OutOfRange { list: "stock", row, field, given, wanted });
            };
            if !(1..=LONGEST).contains(&stock.length) {
                refuse("length", self.unit.show(stock.length), format!("above 0, up to {}", self.unit.show(LONGEST)));
                continue;
            }
            if let Some(price) = stock.price.filter(|price| !(0..=HIGHEST_PRICE).contains(price)) {
                refuse("price", price.to_string(), format!("0 to {HIGHEST_PRICE} cents"));
            }
            if stock.price.is_none() && self.is_priced(&stock.group) {
                refuse("price", "missing".to_string(), "given, as other boards of its group have one".to_string());
            }
            if stock.available.is_some_and(|count| count < 0) {
                let given = stock.available.unwrap_or(0).to_string();
                refuse("available", given, "0 or more, or null for as many as wanted".to_string());
            }
        }
        self.check_saw(faults);
    }

    /// What the saw takes and what is trimmed leave something of every board if they do of the shortest.
    fn check_saw(&self, faults: &mut Vec<JobError>) {
        let boards = self.stock.iter().enumerate().filter(|(_, stock)| (1..=LONGEST).contains(&stock.length));
        let Some((row, shortest)) = boards.min_by_key(|(_, stock)| stock.length) else { return };
        let too_long = |length: i64| (shortest.length..=LONGEST).contains(&length);
        let board = self.unit.show(shortest.length);
        if too_long(self.kerf) {
            faults.push(JobError::KerfTooWide { row, kerf: self.unit.show(self.kerf), board });
        } else if too_long(self.end_trim) {
            faults.push(JobError::TrimTooLong { row, trim: self.unit.show(self.end_trim), board });
        }
    }

    fn check_parts(&self, faults: &mut Vec<JobError>) {
        let mut marks: BTreeMap<&str, usize> = BTreeMap::new();
        let mut total: i64 = 0;
        for (row, part) in self.parts.iter().enumerate() {
            let mut refuse = |field, given: String, wanted: String| {
                faults.push(JobError::OutOfRange { list: "parts", row, field, given, wanted });
            };
            if !(1..=LONGEST).contains(&part.length) {
                refuse("length", self.unit.show(part.length), format!("above 0, up to {}", self.unit.show(LONGEST)));
            }
            if part.quantity < 1 {
                refuse("qty", part.quantity.to_string(), "1 or more".to_string());
            }
            if part.mitred_ends > 2 {
                refuse("mitred_ends", part.mitred_ends.to_string(), "0, 1 or 2".to_string());
            }
            let saving = self.mitre_joint_saving.unwrap_or(0);
            if part.mitred_ends > 0 && part.length >= 1 && part.length < saving {
                let (given, saving) = (self.unit.show(part.length), self.unit.show(saving));
                faults.push(JobError::TooShortToNest { row, given, saving });
            }
            total = total.saturating_add(part.quantity.max(0));
            if total > MOST_PARTS {
                faults.push(JobError::TooMany { row, given: part.quantity });
                total = 0;
            }
            if let Some(first) = marks.insert(&part.mark, row) {
                faults.push(JobError::DuplicateMark { first, row, mark: part.mark.clone() });
            }
        }
    }

    fn check_reach(&self, faults: &mut Vec<JobError>) {
        for (row, part) in self.parts.iter().enumerate() {
            let rows = (0..self.stock.len()).filter(|s| self.stock[*s].group == part.group);
            let usable = rows.filter(|s| self.stock[*s].available != Some(0)).map(|s| self.longest_from(s)).max();
            match usable {
                None => faults.push(JobError::NoStockInGroup { row, group: part.group.clone() }),
                Some(longest) if part.length > longest => faults.push(JobError::TooLong {
                    row,
                    mark: part.mark.clone(),
                    given: self.unit.show(part.length),
                    longest: self.unit.show(longest.max(0)),
                }),
                Some(_) => {}
            }
        }
    }
}
