//! Every check of the fixed list governs in some design, and answers to its demand: what doubles the demand doubles the
//! utilisation. `designs.rs` has the designs, `hand.rs` the values of the checks that do not grow in a straight line.

mod designs;
mod hand;

use crate::common::{project, tiltwright_in};
use designs::{BEHIND, Row, TABLE, Twice};
use rayon::prelude::*;
use serde_json::Value;
use std::{
    collections::HashMap,
    fs,
    sync::{Arc, LazyLock, Mutex, OnceLock},
};

/// Rounding of a ratio of two: statics of the whole model stand between input and result.
const ROUNDING: f64 = 1e-6;
/// Departure from a straight line over the rise of three equal steps: twist adds two shears by their resultant, and one
/// of them has a small part that does not grow.
const SUPERPOSED: f64 = 1e-5;

type Answers = Mutex<HashMap<String, Arc<OnceLock<Value>>>>;

/// What the binary answers to arguments after which the design stands; each text runs once in this test program.
fn answer(arguments: &[&str], text: &str) -> Value {
    static ANSWERS: LazyLock<Answers> = LazyLock::new(Answers::default);
    let key = format!("{arguments:?}\n{text}");
    let cell = Arc::clone(ANSWERS.lock().expect("no test panics while it holds the list").entry(key).or_default());
    cell.get_or_init(|| {
        let folder = tempfile::tempdir().expect("a folder");
        fs::write(folder.path().join("design.yaml"), text).expect("the design is written");
        let run = tiltwright_in(folder.path(), &[arguments, &["design.yaml", "--format", "json"]].concat());
        assert_eq!(run.stderr, "", "{text}");
        serde_json::from_str(&run.stdout).expect("JSON")
    })
    .clone()
}

/// A committed design with parts of its text replaced.
fn changed(base: &str, changes: &[(&str, &str)]) -> String {
    let text = fs::read_to_string(project().join(base)).expect("a committed design");
    changes.iter().fold(text, |text, (from, to)| {
        assert!(text.contains(from), "{base} has no `{from}`");
        text.replace(from, to)
    })
}

/// The text with another number behind the first `field` that has this unit.
fn with(text: &str, field: &str, unit: &str, number: f64) -> String {
    let from = text.find(field).unwrap_or_else(|| panic!("`{field}` is written")) + field.len();
    let to = from + text[from..].find(unit).unwrap_or_else(|| panic!("`{field}` is in {unit}"));
    format!("{}{number} {}", &text[..from], &text[to..])
}

/// Rows of an answer that have a value, worst first. Those before them were not checked, and none may be refused: what
/// is out of range could hide a worse one.
fn rows(answer: &Value) -> Vec<&Value> {
    let all = answer["rows"].as_array().expect("rows");
    let valued = |row: &&Value| row["utilisation"].is_f64();
    assert!(all.iter().all(|row| valued(&row) || row["state"] == "not checked"), "{:?}", all.first());
    all.iter().filter(valued).collect()
}

fn worst<'a>(answer: &'a Value, check: &str) -> &'a Value {
    let of_check = rows(answer).into_iter().find(|row| row["check"] == check);
    of_check.unwrap_or_else(|| panic!("{check} has a row"))
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is a number"))
}

fn utilisation(text: &str, check: &str) -> f64 {
    number(&worst(&answer(&["strength"], text), check)["utilisation"])
}

/// The same check of the same part at the same tilt and combination in every one of these texts.
fn of_one_row(texts: &[String], check: &str) -> Vec<f64> {
    let answers: Vec<Value> = texts.iter().map(|text| answer(&["strength"], text)).collect();
    let name = |row: &Value| (row["part"].clone(), row["case"].clone());
    let found: Vec<&Value> = answers.iter().map(|answer| worst(answer, check)).collect();
    assert!(found.iter().all(|row| name(row) == name(found[0])), "{check} changes its row: {found:?}");
    found.iter().map(|row| number(&row["utilisation"])).collect()
}

/// The names of the fixed list, as the binary prints them.
fn printed() -> Vec<String> {
    let answer = answer(&["strength"], &changed(designs::SMALL, &[]));
    let checks = answer["checks"].as_array().expect("a list").iter();
    checks.map(|check| check["check"].as_str().expect("a name").to_string()).collect()
}

#[test]
fn every_printed_check_has_a_design_in_which_it_governs() {
    let named: Vec<&str> = TABLE.iter().map(|row| row.check).collect();
    assert_eq!(printed(), named, "the table follows the printed list");
    TABLE.par_iter().for_each(|row| {
        let answer = answer(&["strength"], &row.text());
        match row.twice {
            Twice::NoValue { state, why } => {
                let listed = answer["checks"].as_array().expect("a list").iter().find(|c| c["check"] == row.check);
                let listed = listed.expect("printed");
                assert_eq!((listed["state"].as_str(), &listed["utilisation"]), (Some(state), &Value::Null));
                assert!(listed["why"].as_str().expect("a reason").contains(why), "{listed}");
            }
            // It repeats the row of another check under the combination with a stay out, so that both come first.
            _ if row.check == "one-stay-loose" => {
                let (first, loose) = (rows(&answer)[0], worst(&answer, row.check));
                assert_eq!(loose["utilisation"], first["utilisation"]);
                let named = format!("{} {}, {}", first["part"], first["check"], first["case"]).replace('"', "");
                assert_eq!(loose["case"], named.as_str());
            }
            _ => match BEHIND.iter().find(|(check, _)| *check == row.check) {
                Some((check, before)) => {
                    let (own, before) = (worst(&answer, check), worst(&answer, before));
                    assert_eq!(own["part"], before["part"]);
                    assert!(number(&own["utilisation"]) <= number(&before["utilisation"]), "{own} {before}");
                }
                None => assert_eq!(rows(&answer)[0]["check"], row.check, "{}", rows(&answer)[0]),
            },
        }
    });
}

/// What the table says of these would be wrong if one came first in any of its designs.
#[test]
fn a_check_that_stands_behind_another_never_comes_first() {
    TABLE.par_iter().for_each(|row| {
        let answer = answer(&["strength"], &row.text());
        let first = rows(&answer)[0]["check"].as_str().expect("a name");
        assert!(BEHIND.iter().all(|(check, _)| *check != first), "{} has {first} first", row.check);
    });
}

#[test]
fn doubled_demand_doubles_the_utilisation() {
    TABLE.par_iter().for_each(|row| {
        let (from, to, most) = match row.twice {
            Twice::Doubled(from, to) => (from, to, 2.0),
            Twice::Halved(from, to) => (from, to, 0.5),
            _ => return,
        };
        let text = row.text();
        assert!(text.contains(from), "{}: no `{from}`", row.check);
        let u = of_one_row(&[text.clone(), text.replace(from, to)], row.check);
        assert!((u[1] / u[0] / most - 1.0).abs() < ROUNDING, "{}: {u:?}", row.check);
    });
}

/// Where weight, or a person, acts beside the load that is doubled, superposition holds: equal steps of the load add
/// equal steps of utilisation, so that doubling its part of the demand doubles its part of the utilisation.
#[test]
fn equal_steps_of_a_load_add_equal_utilisation() {
    TABLE.par_iter().for_each(|row| {
        let Some(texts) = row.steps() else { return };
        let u = of_one_row(&texts, row.check);
        let (rise, bend) = (u[2] - u[0], u[2] - 2.0 * u[1] + u[0]);
        assert!(rise > 0.1 * u[0], "{} hardly answers: {u:?}", row.check);
        assert!(bend.abs() < SUPERPOSED * rise, "{}: {u:?}", row.check);
    });
}

#[test]
fn a_table_row_says_how_its_check_doubles() {
    let by_hand: Vec<&str> = TABLE.iter().filter(|r| matches!(r.twice, Twice::ByHand)).map(|r| r.check).collect();
    assert_eq!(by_hand, hand::CHECKS);
}

impl Row {
    fn text(&self) -> String {
        changed(self.base, &self.changes.concat())
    }

    fn steps(&self) -> Option<Vec<String>> {
        let text = self.text();
        let (field, unit, numbers) = match self.twice {
            // ASCE 7-16 Eq. 26.10-1: pressure grows with the square of the gust.
            Twice::Gust(first, [a, b]) => ("gust: ", "mph", [1.0, a, b].map(|times: f64| first * times.sqrt())),
            Twice::Snow(numbers) => ("ground: ", "psf", numbers),
            Twice::PanelKg(numbers) => ("mass: ", "kg", numbers),
            Twice::PanelLb(numbers) => ("mass: ", "lb", numbers),
            _ => return None,
        };
        Some(numbers.map(|number| with(&text, field, unit, number)).to_vec())
    }
}
