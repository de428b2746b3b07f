//! The file a builder writes: parts and stock, read from YAML, JSON or CSV tables.

use super::job::{Job, JobError, KerfRule, Part, Stock, Unit};
use crate::design::{Currency, Fault, Place, Places, read_yaml};
use crate::quantities::{Length, Price, one_line, read, to_mm};
use serde::{Deserialize, Deserializer, de};
use std::{collections::BTreeMap, fmt};

/// A cutting job as it stands in a file. Every field not named here is refused.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CutFile {
    /// A title; free text.
    #[serde(default)]
    pub name: String,
    /// Free text.
    #[serde(default)]
    pub description: String,
    /// What plain numbers are counted in.
    pub unit: WrittenUnit,
    /// What prices are counted in.
    #[serde(default)]
    pub money: Money,
    /// What the saw removes per cut. Never guessed: a list without it is refused.
    #[serde(default)]
    pub kerf: Option<Given>,
    /// `between` (default) or `every`.
    #[serde(default)]
    pub kerf_rule: WrittenRule,
    /// Taken off every board.
    #[serde(default)]
    pub end_trim: Given,
    /// Shortest rest worth keeping.
    #[serde(default)]
    pub minimum_offcut: Given,
    /// Width of the boards, for mitres.
    #[serde(default)]
    pub board_width: Option<Given>,
    /// Angle of all mitres from a square cut (deg).
    #[serde(default)]
    pub mitre_angle_deg: Option<f64>,
    /// Length saved per shared cut; worked out from width and angle when left out.
    #[serde(default)]
    pub mitre_joint_saving: Option<Given>,
    /// `false` cuts every end for itself: for a saw that cannot nest, or stock whose faces differ.
    #[serde(default = "yes")]
    pub nest_mitres: bool,
    /// Boards.
    pub stock: Vec<WrittenStock>,
    /// Parts.
    pub parts: Vec<WrittenPart>,
}

fn yes() -> bool {
    true
}

/// A row of boards as written.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WrittenStock {
    /// Length.
    pub length: Given,
    /// Price of one: a plain number of the file's money, or with its sign. Of one group every board has a price or none has.
    #[serde(default)]
    pub price: Option<Price>,
    /// How many; `null` or left out for as many as wanted.
    #[serde(default)]
    pub available: Option<i64>,
    /// Section and grain.
    #[serde(default)]
    pub group: String,
}

/// A row of parts as written.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WrittenPart {
    /// The name to write on the piece; `P1`, `P2` … by row when left out.
    #[serde(default)]
    pub mark: Option<String>,
    /// Long-point length.
    pub length: Given,
    /// How many.
    pub qty: i64,
    /// Ends cut at the mitre angle.
    #[serde(default)]
    pub mitred_ends: i64,
    /// Section and grain.
    #[serde(default)]
    pub group: String,
}

/// The unit of plain numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
pub enum WrittenUnit {
    /// 1 mm.
    #[serde(rename = "mm")]
    Millimetre,
    /// 1/16 in.
    #[serde(rename = "1/16 in")]
    Sixteenth,
    /// 1/32 in.
    #[serde(rename = "1/32 in")]
    ThirtySecond,
    /// A plain count.
    #[serde(rename = "abstract")]
    Abstract,
}

/// What prices are counted in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Money {
    /// Whole cents.
    #[default]
    Cent,
    /// Dollars with at most two decimals.
    Dollar,
    /// Euros with at most two decimals.
    Euro,
    /// Whole boards: every price is a number of boards.
    Board,
    /// What the prices of a design are in.
    #[serde(skip)]
    Named(Currency),
}

impl Money {
    /// How it is written in files.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Cent | Self::Named(_) => "cent",
            Self::Dollar => "dollar",
            Self::Euro => "euro",
            Self::Board => "board",
        }
    }

    /// May a price in this money stand beside a currency sign?
    fn goes_with(self, sign: char) -> bool {
        match self {
            Self::Cent | Self::Named(_) => true,
            Self::Dollar => sign == '$',
            Self::Euro => sign == '€',
            Self::Board => false,
        }
    }
}

/// The rule as written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum WrittenRule {
    /// Good board ends.
    #[default]
    Between,
    /// The far end is always cut.
    Every,
}

/// A length: a plain number of the file's unit, or text with a unit.
#[derive(Debug, Clone, PartialEq)]
pub enum Given {
    /// A plain number.
    Number(f64),
    /// Text as written.
    Text(String),
}

impl Default for Given {
    fn default() -> Self {
        Self::Number(0.0)
    }
}

impl<'de> Deserialize<'de> for Given {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Visitor;
        impl de::Visitor<'_> for Visitor {
            type Value = Given;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a number of the file's unit, or a length with its unit")
            }
            fn visit_f64<E: de::Error>(self, value: f64) -> Result<Given, E> {
                Ok(Given::Number(value))
            }
            fn visit_i64<E: de::Error>(self, value: i64) -> Result<Given, E> {
                Ok(Given::Number(value as f64))
            }
            fn visit_u64<E: de::Error>(self, value: u64) -> Result<Given, E> {
                Ok(Given::Number(value as f64))
            }
            fn visit_str<E: de::Error>(self, text: &str) -> Result<Given, E> {
                Ok(Given::Text(text.to_string()))
            }
        }
        deserializer.deserialize_any(Visitor)
    }
}

/// Where the fields of a list stand, whatever kind of file they came from.
#[derive(Debug, Clone, Default)]
pub struct FieldPlaces {
    yaml: Option<Places>,
    table: BTreeMap<String, Place>,
}

impl FieldPlaces {
    /// Where a field stands; for one that is not there, its row.
    #[must_use]
    pub fn of(&self, field: &str) -> Option<Place> {
        if let Some(places) = &self.yaml {
            return places.of(field);
        }
        let row = field.rsplit_once('.').map(|(row, _)| row);
        self.table.get(field).or_else(|| self.table.get(row?)).cloned()
    }

    /// Where a field that is not there could be written: the first line of a list that holds all of its fields.
    fn beginning(&self) -> Option<Place> {
        self.yaml.as_ref()?.at(1, 1)
    }

    pub(super) fn note(&mut self, field: String, place: Place) {
        self.table.insert(field, place);
    }
}

/// A list read and turned into whole units.
#[derive(Debug, Clone)]
pub struct CutList {
    /// Its title.
    pub name: String,
    /// What prices were counted in.
    pub money: Money,
    /// The job.
    pub job: Job,
    /// Where its fields stand.
    pub places: FieldPlaces,
}

impl CutList {
    /// Reads YAML or JSON.
    ///
    /// # Errors
    /// Every fault that the text alone shows, each with its place; the job itself is checked by [`Job::faults`].
    pub fn read(file: &str, text: &str) -> Result<Self, Vec<Fault>> {
        let (written, places) = read_yaml::<CutFile>(file, text).map_err(|fault| vec![without_design(fault)])?;
        Self::from_written(written, FieldPlaces { yaml: Some(places), ..FieldPlaces::default() })
    }

    /// Turns what was written into whole units.
    pub(super) fn from_written(written: CutFile, places: FieldPlaces) -> Result<Self, Vec<Fault>> {
        // What a list says in a field, the command says for a table.
        let money_said = if places.yaml.is_some() { "money:" } else { "--money" };
        let mut reader = Reader { unit: written.unit.into(), money: written.money, money_said, faults: Vec::new() };
        let job = reader.job(&written);
        if reader.faults.is_empty() {
            return Ok(Self { name: one_line(&written.name), money: written.money, job, places });
        }
        let placed = |fault: Fault| {
            let place = places.of(&fault.field).or_else(|| places.beginning());
            fault.at(place)
        };
        Err(reader.faults.into_iter().map(placed).collect())
    }

    /// A fault of the job, with its place in the file.
    #[must_use]
    pub fn fault(&self, error: &JobError) -> Fault {
        let fault = Fault::new(error.code(), error.field(), error.to_string()).at(self.places.of(&error.field()));
        error.hints().into_iter().fold(fault, Fault::hint)
    }
}

/// The reader's hint about a new design does not fit a list of parts.
fn without_design(mut fault: Fault) -> Fault {
    if fault.code == "empty-file" {
        fault.hints = vec!["a list names unit, kerf, stock (length, price) and parts (length, qty)".to_string()];
    }
    fault
}

impl From<WrittenUnit> for Unit {
    fn from(unit: WrittenUnit) -> Self {
        match unit {
            WrittenUnit::Millimetre => Self::Millimetre,
            WrittenUnit::Sixteenth => Self::Sixteenth,
            WrittenUnit::ThirtySecond => Self::ThirtySecond,
            WrittenUnit::Abstract => Self::Abstract,
        }
    }
}

struct Reader {
    unit: Unit,
    money: Money,
    /// Where it is said what prices count.
    money_said: &'static str,
    faults: Vec<Fault>,
}

impl Reader {
    fn job(&mut self, written: &CutFile) -> Job {
        let kerf = match &written.kerf {
            Some(kerf) => self.length("kerf", kerf),
            None => {
                self.faults.push(no_kerf(self.unit));
                0
            }
        };
        Job {
            unit: self.unit,
            kerf,
            kerf_rule: if written.kerf_rule == WrittenRule::Every { KerfRule::Every } else { KerfRule::Between },
            end_trim: self.length("end_trim", &written.end_trim),
            stock: written.stock.iter().enumerate().map(|(row, stock)| self.stock(row, stock)).collect(),
            parts: written.parts.iter().enumerate().map(|(row, part)| self.part(row, part)).collect(),
            mitre_joint_saving: self.saving(written, kerf),
            minimum_offcut: self.length("minimum_offcut", &written.minimum_offcut),
        }
    }

    fn stock(&mut self, row: usize, stock: &WrittenStock) -> Stock {
        Stock {
            length: self.length(&format!("stock.{row}.length"), &stock.length),
            price: stock.price.map(|price| self.price(&format!("stock.{row}.price"), price)),
            available: stock.available,
            group: one_line(&stock.group),
        }
    }

    fn part(&mut self, row: usize, part: &WrittenPart) -> Part {
        Part {
            mark: part.mark.as_deref().map_or_else(|| format!("P{}", row + 1), one_line),
            length: self.length(&format!("parts.{row}.length"), &part.length),
            quantity: part.qty,
            mitred_ends: u8::try_from(part.mitred_ends).unwrap_or(u8::MAX),
            group: one_line(&part.group),
        }
    }

    fn length(&mut self, field: &str, given: &Given) -> i64 {
        whole_units(self.unit, given).unwrap_or_else(|fault| {
            let sentence = format!("{}{}", row_of(field), fault.sentence);
            self.faults.push(Fault { field: field.to_string(), sentence, ..fault });
            0
        })
    }

    fn price(&mut self, field: &str, Price { amount: price, sign }: Price) -> i64 {
        if let Some(sign) = sign
            && !self.money.goes_with(sign)
        {
            let money = self.money.name();
            let sentence =
                format!("{}the price {sign}{price} is not counted in the list's money, {money}", row_of(field));
            self.faults.push(
                Fault::new("other-money", field, sentence)
                    .hint(format!("leave out the {sign}, or change `{} {money}`", self.money_said)),
            );
            return 0;
        }
        // A sign says that whole dollars or euros are meant, whatever plain numbers count.
        let whole = sign.is_none() && matches!(self.money, Money::Cent | Money::Board);
        let cents = if whole { price } else { price * 100.0 };
        // A price in dollars is a decimal fraction, so its hundredfold may miss the whole number by a rounding.
        if cents.is_finite() && (cents - cents.round()).abs() < 1e-6 {
            return clamp(cents);
        }
        let sentence = format!("{}the price {price} is no whole number of cents", row_of(field));
        let hint = if whole {
            format!("prices count whole cents; for 8.58 write 858, or say `{} dollar`", self.money_said)
        } else {
            "write at most two decimals".to_string()
        };
        self.faults.push(Fault::new("not-whole", field, sentence).hint(hint));
        0
    }

    /// The saving per shared cut, from the file or from width, angle and kerf.
    fn saving(&mut self, written: &CutFile, kerf: i64) -> Option<i64> {
        let width = written.board_width.as_ref().map(|width| self.length("board_width", width));
        let angle = written.mitre_angle_deg;
        if let Some(angle) = angle
            && !(angle > 0.0 && angle < 80.0)
        {
            let sentence =
                format!("mitre_angle_deg is {angle}, and must be above 0 and below 80, measured from a square cut");
            self.faults.push(Fault::new("out-of-range", "mitre_angle_deg", sentence));
            return None;
        }
        let worked_out = width.zip(angle).map(|(width, angle)| joint_saving(width, kerf, angle));
        let given = written.mitre_joint_saving.as_ref().map(|saving| self.length("mitre_joint_saving", saving));
        if let (Some(given), Some(most)) = (given, worked_out)
            && given > most.max(0)
        {
            let sentence = format!(
                "mitre_joint_saving is {given}, and board_width, mitre_angle_deg and kerf allow {} at most",
                most.max(0)
            );
            self.faults.push(
                Fault::new("out-of-range", "mitre_joint_saving", sentence).hint("leave it out: it is worked out"),
            );
        }
        let mitred = written.parts.iter().position(|part| part.mitred_ends > 0);
        if let Some(row) = mitred
            && written.nest_mitres
            && given.is_none()
            && worked_out.is_none()
        {
            let sentence = format!("parts row {} has mitred ends, and the file does not say how they nest", row + 1);
            let fault = Fault::new("missing-field", format!("parts.{row}.mitred_ends"), sentence);
            self.faults.push(fault.hint("give board_width and mitre_angle_deg, or nest_mitres: false"));
        }
        let saving = given.or(worked_out).filter(|_| written.nest_mitres && mitred.is_some())?;
        (saving > 0).then_some(saving)
    }
}

/// A kerf of nothing buys boards that turn out short, so it is asked for and never taken as 0.
fn no_kerf(unit: Unit) -> Fault {
    let (kerf, words) = match unit {
        Unit::Millimetre => ("3", "a blade that takes 3 mm"),
        Unit::Sixteenth => ("2", "a blade that takes 1/8 in"),
        Unit::ThirtySecond => ("4", "a blade that takes 1/8 in"),
        Unit::Abstract => ("0", "cuts that take nothing"),
    };
    Fault::new("missing-field", "kerf", "the list does not say what a cut takes, `kerf`")
        .hint(format!("write `kerf: {kerf}` for {words}; a CSV table takes `--kerf {kerf}`"))
        .hint("measure it on a cut of your own saw")
}

/// Length saved when two mitred ends share a cut, `w·tan a − K·(1/cos a − 1)`, rounded down. All in the same unit.
fn joint_saving(width: i64, kerf: i64, angle_deg: f64) -> i64 {
    let angle = angle_deg.to_radians();
    let saving = width as f64 * angle.tan() - kerf as f64 * (1.0 / angle.cos() - 1.0);
    // The tangent of 45 degrees comes out a hair below 1.
    (saving + 1e-9).floor() as i64
}

/// `parts row 2: ` for a field within a row, nothing for one of the whole list.
fn row_of(field: &str) -> String {
    let mut steps = field.split('.');
    match (steps.next(), steps.next().and_then(|row| row.parse::<usize>().ok())) {
        (Some(list), Some(row)) => format!("{list} row {}: ", row + 1),
        _ => String::new(),
    }
}

fn clamp(value: f64) -> i64 {
    const FAR: f64 = 1e15;
    value.round().clamp(-FAR, FAR) as i64
}

/// A length in whole units.
///
/// # Errors
/// A fault without field or place: no whole number, no length, or a length of the other system of units.
pub fn whole_units(unit: Unit, given: &Given) -> Result<i64, Fault> {
    let units = match given {
        Given::Number(value) => *value,
        Given::Text(text) => {
            let length: Length =
                read(text).map_err(|error| Fault::new("bad-length", "", error.to_string()).hint(number_hint(unit)))?;
            // Every metric unit has an m in its name, no customary one has.
            let metric = text.contains(['m', 'M']);
            let other = metric != (unit == Unit::Millimetre) && to_mm(length) != 0.0;
            if other || unit == Unit::Abstract {
                let sentence = format!("{} is not in the file's unit, {}", text.trim(), unit.name());
                return Err(Fault::new("mixed-units", "", sentence).hint(number_hint(unit)));
            }
            to_mm(length) / to_mm(unit.length(1))
        }
    };
    if units.is_finite() && (units - units.round()).abs() < 1e-6 {
        return Ok(clamp(units));
    }
    let shown = match given {
        Given::Number(value) => value.to_string(),
        Given::Text(text) => text.trim().to_string(),
    };
    let fault = Fault::new("not-whole", "", format!("{shown} is no whole number of {}", unit.name()));
    Err(if units.is_finite() {
        fault.hint(format!("the nearest mark is {} ({})", clamp(units), unit.show(clamp(units))))
    } else {
        fault
    })
}

fn number_hint(unit: Unit) -> String {
    let example = match unit {
        Unit::Millimetre => "`1613` or `1613 mm`",
        Unit::Sixteenth => "`1016` or `5 ft 3-1/2 in`",
        Unit::ThirtySecond => "`2032` or `5 ft 3-1/2 in`",
        Unit::Abstract => "`1613`",
    };
    format!("in a list counted in {} write for instance {example}", unit.name())
}
