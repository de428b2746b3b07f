//! `cutplan` end to end.

use crate::common::{Run, tiltwright_in, with};
use serde_json::Value;
use std::fs;
use tempfile::TempDir;

const LIST: &str = "\
name: woodshed rails
unit: 1/16 in
kerf: 2
stock:
  - {length: 8 ft, price: 879}
  - {length: 1920, price: 1099, available: 2}
parts:
  - {mark: rail, length: 5 ft 3-1/2 in, qty: 4}
  - {mark: stay, length: 600, qty: 2}
";

/// A folder of its own with `list.yaml` in it.
struct Bench(TempDir);

impl Bench {
    fn with(list: &str) -> Self {
        let bench = Self(TempDir::new().expect("a folder"));
        bench.put("list.yaml", list);
        bench
    }

    fn put(&self, name: &str, text: &str) {
        fs::write(self.0.path().join(name), text).expect("written");
    }

    fn run(&self, arguments: &[&str]) -> Run {
        tiltwright_in(self.0.path(), &[&["cutplan"], arguments].concat())
    }

    fn json(&self, arguments: &[&str]) -> Value {
        let run = self.run(&[&["list.yaml", "--format", "json"], arguments].concat());
        assert_eq!((run.code, run.stderr.as_str()), (0, ""));
        serde_json::from_str(&run.stdout).expect("JSON")
    }

    fn files(&self) -> Vec<String> {
        let entries = fs::read_dir(self.0.path()).expect("listed");
        let mut names: Vec<String> =
            entries.map(|entry| entry.expect("a file").file_name().to_string_lossy().into_owned()).collect();
        names.sort();
        names
    }
}

#[test]
fn a_plan_is_printed_board_by_board_with_running_marks() {
    let run = Bench::with(LIST).run(&["list.yaml"]);
    assert_eq!((run.code, run.stderr.as_str()), (0, ""));
    assert_eq!(
        run.stdout,
        "\
Cut plan woodshed rails: 6 parts from 4 boards, 2 set-ups
Cost 39.56, proven: the lower bound is 39.56 too, no set of these boards costs less.

  Number  Length   Each  Together
       2  8 ft     8.79     17.58
       2  10 ft   10.99     21.98

Marks run from one end of the board.
A part lies between its two marks; the saw, 1/8 in wide, goes beyond the second one.

Boards 1 to 2, 2 alike: 10 ft, 10.99
  Part         Length           From             To  Note
  rail  5 ft 3-1/2 in           0 in  5 ft 3-1/2 in
  stay  3 ft 1-1/2 in  5 ft 3-5/8 in  8 ft 5-1/8 in

Offcut 1 ft 6-3/4 in.

Boards 3 to 4, 2 alike: 8 ft, 8.79
  Part         Length  From             To  Note
  rail  5 ft 3-1/2 in  0 in  5 ft 3-1/2 in

Offcut 2 ft 8-3/8 in.
"
    );
}

#[test]
fn json_keeps_its_contract() {
    let answer = Bench::with(LIST).json(&[]);
    assert_eq!((&answer["cost"], &answer["bound"], &answer["proven"]), (&3956.into(), &3956.into(), &true.into()));
    let first = &answer["bars"][0];
    assert_eq!(first["stock_length"], 1920);
    assert_eq!(first["cuts"], serde_json::json!([1016, 600]));
    assert_eq!(first["offcut"], 300);
    assert_eq!(first["from"], serde_json::json!([0, 1018]));
    assert_eq!(first["marks"], serde_json::json!(["rail", "stay"]));
}

#[test]
fn a_json_list_is_read_as_well() {
    let bench = Bench::with(
        "{\"unit\": \"mm\", \"money\": \"cent\", \"kerf\": 3, \"kerf_rule\": \"between\", \"end_trim\": 0,\n \"stock\": [{\"length\": 2400, \"price\": 900, \"available\": null}],\n \"parts\": [{\"length\": 800, \"qty\": 3}]}",
    );
    // Three parts and two cuts need 2406 mm.
    assert_eq!(bench.json(&[])["bars"].as_array().map(Vec::len), Some(2));
}

#[test]
fn the_far_end_is_cut_only_where_the_rule_says_so() {
    let list = |rule: &str| {
        format!(
            "unit: mm\nkerf: 3\nkerf_rule: {rule}\nstock: [{{length: 2406, price: 900}}]\nparts: [{{length: 800, qty: 3}}]\n"
        )
    };
    assert_eq!(Bench::with(&list("between")).json(&[])["cost"], 900);
    assert_eq!(Bench::with(&list("every")).json(&[])["cost"], 1800);
}

#[test]
fn what_is_in_the_shed_is_used_first_however_it_is_written() {
    let bench = Bench::with(LIST);
    let expected = bench.json(&["--have", "8ft x3", "--have", "4 ft 1 in"]);
    assert_eq!(expected["cost"], 1099);
    assert_eq!(bench.json(&["--have", "8ft", "x3", "--have", "4 ft 1 in"]), expected);
    assert_eq!(bench.json(&["--have", "1536 x 3", "--have", "784"]), expected);
    let run = bench.run(&["--have", "8ft", "list.yaml"]);
    assert_eq!(run.code, 0, "the file after --have is the list: {}", run.stderr);
}

#[test]
fn groups_are_cut_from_their_own_stock() {
    let bench = Bench::with(
        "unit: mm\nkerf: 3\nstock:\n  - {length: 3000, price: 500, group: 2x4}\n  - {length: 3000, price: 100, group: 2x6}\nparts:\n  - {length: 1000, qty: 1, group: 2x4}\n  - {length: 1500, qty: 1, group: 2x6}\n",
    );
    let answer = bench.json(&[]);
    assert_eq!(answer["cost"], 600);
    assert_eq!(answer["bars"][0]["group"], "2x4");
    assert_eq!(bench.json(&["--have", "2x4: 1000 x1"])["cost"], 100);
    let run = bench.run(&["list.yaml", "--have", "1000"]);
    assert_eq!(run.code, 2);
    assert!(run.stderr.starts_with("error[bad-have]: --have 1000 does not say its group\n"), "{}", run.stderr);
}

/// Two parts mitred at both ends, 45° on a 38 mm board with a 3 mm saw: s = 38 − 0.4142·3, rounded down to 36.
#[test]
fn mitred_ends_nest_and_the_plan_says_which_part_to_turn_over() {
    let list = |more: &str| {
        format!(
            "unit: mm\nkerf: 3\nboard_width: 38\nmitre_angle_deg: 45\n{more}stock: [{{length: 1000, price: 500}}]\nparts: [{{mark: brace, length: 516, qty: 2, mitred_ends: 2}}]\n"
        )
    };
    let answer = Bench::with(&list("")).json(&[]);
    assert_eq!(answer["cost"], 500, "516 + 516 + 3 − 36 = 999 fits");
    let bar = &answer["bars"][0];
    assert_eq!(bar["turned_over"], serde_json::json!([false, true]));
    assert_eq!(bar["shares_cut"], serde_json::json!([false, true]));
    assert_eq!(bar["from"], serde_json::json!([0, 483]));
    assert_eq!(bar["offcut"], 0, "1 mm is left, less than the saw takes");
    assert_eq!(Bench::with(&list("nest_mitres: false\n")).json(&[])["cost"], 1000);
}

#[test]
fn tables_of_parts_and_stock_are_read() {
    let bench = Bench::with("");
    bench.put("parts.csv", "mark,length,qty\nrail,5 ft 3-1/2 in,4\nstay,600,2\n");
    bench.put("stock.csv", "length,price,available\n8 ft,8.79,\n1920,10.99,2\n");
    let tables = [
        "parts.csv",
        "--stock",
        "stock.csv",
        "--unit",
        "1/16in",
        "--money",
        "dollar",
        "--kerf",
        "1/8 in",
        "--format",
        "json",
    ];
    let run = bench.run(&tables);
    assert_eq!((run.code, run.stderr.as_str()), (0, ""));
    let answer: Value = serde_json::from_str(&run.stdout).expect("JSON");
    assert_eq!(answer["cost"], 39.56);
    bench.put("parts.csv", "mark,length,qty\nrail,5 ft 3-1/2 in,4\nstay,600,none\n");
    let run = bench.run(&tables);
    assert_eq!((run.code, run.stdout.as_str()), (2, ""));
    assert_eq!(
        run.stderr,
        "error[bad-value]: qty is `none`, and must be a whole number\n  ┌─ parts.csv:3:1\n3 │ stay,600,none\n  │ ^^^^^^^^^^^^^\n"
    );
}

/// What the hint says works when it is written.
#[test]
fn a_kerf_left_out_is_asked_for_and_never_taken_as_nothing() {
    for (unit, kerf) in [("mm", "3"), ("1/16 in", "2"), ("1/32 in", "4"), ("abstract", "0")] {
        let list = format!("unit: {unit}\nstock: [{{length: 2400, price: 900}}]\nparts: [{{length: 800, qty: 3}}]\n");
        let run = Bench::with(&list).run(&["list.yaml"]);
        assert_eq!((run.code, run.stdout.as_str()), (2, ""), "{unit}");
        let asked = "error[missing-field]: the list does not say what a cut takes, `kerf`\n  ┌─ list.yaml:1:1\n";
        assert!(run.stderr.starts_with(asked), "{}", run.stderr);
        assert!(run.stderr.contains(&format!("write `kerf: {kerf}` for")), "{}", run.stderr);
        assert_eq!(Bench::with(&(list + &format!("kerf: {kerf}\n"))).run(&["list.yaml"]).code, 0, "{unit}");
    }
    let bench = Bench::with("");
    bench.put("parts.csv", "length,qty\n800,3\n");
    bench.put("stock.csv", "length,price\n2400,900\n");
    let tables = ["parts.csv", "--stock", "stock.csv"];
    let run = bench.run(&tables);
    assert_eq!((run.code, run.stdout.as_str()), (2, ""));
    assert!(run.stderr.contains("`--kerf 3`"), "{}", run.stderr);
    assert_eq!(bench.run(&[&tables[..], &["--kerf", "3"]].concat()).code, 0);
}

#[test]
fn a_kerf_beside_a_list_that_holds_its_own_is_refused() {
    let run = Bench::with(LIST).run(&["list.yaml", "--kerf", "3"]);
    assert_eq!((run.code, run.stdout.as_str()), (2, ""));
    assert!(run.stderr.starts_with("error[kerf-twice]"), "{}", run.stderr);
}

#[test]
fn a_list_takes_a_name_and_a_description_and_no_field_of_a_test() {
    assert_eq!(Bench::with(&format!("{LIST}description: rails for the barn\n")).run(&["list.yaml"]).code, 0);
    for field in ["generator_seed: 42", "published: {best: 3}", "optimum: 3956"] {
        let run = Bench::with(&format!("{LIST}{field}\n")).run(&["list.yaml"]);
        let name = field.split(':').next().unwrap_or_default();
        assert_eq!((run.code, run.stdout.as_str()), (2, ""), "{field}");
        let refused = format!("error[unknown-field]: `{name}` is no field that is known here");
        assert!(run.stderr.starts_with(&refused), "{}", run.stderr);
    }
}

#[test]
fn the_plan_is_written_as_a_table() {
    let bench = Bench::with(LIST);
    assert_eq!(bench.run(&["list.yaml", "--csv", "plan.csv"]).code, 0);
    let table = fs::read_to_string(bench.0.path().join("plan.csv")).expect("written");
    assert_eq!(
        table,
        "\
board,group,stock_length_tape,stock_length_in,part,length_tape,length_in,from_tape,from_in,to_tape,to_in,mitred_ends,shared_cut,turn_over,offcut_tape,offcut_in
1,,10 ft,120,rail,5 ft 3-1/2 in,63.5,0 in,0,5 ft 3-1/2 in,63.5,0,no,no,,
1,,10 ft,120,stay,3 ft 1-1/2 in,37.5,5 ft 3-5/8 in,63.625,8 ft 5-1/8 in,101.125,0,no,no,1 ft 6-3/4 in,18.75
2,,10 ft,120,rail,5 ft 3-1/2 in,63.5,0 in,0,5 ft 3-1/2 in,63.5,0,no,no,,
2,,10 ft,120,stay,3 ft 1-1/2 in,37.5,5 ft 3-5/8 in,63.625,8 ft 5-1/8 in,101.125,0,no,no,1 ft 6-3/4 in,18.75
3,,8 ft,96,rail,5 ft 3-1/2 in,63.5,0 in,0,5 ft 3-1/2 in,63.5,0,no,no,2 ft 8-3/8 in,32.375
4,,8 ft,96,rail,5 ft 3-1/2 in,63.5,0 in,0,5 ft 3-1/2 in,63.5,0,no,no,2 ft 8-3/8 in,32.375
"
    );
}

#[test]
fn a_table_that_cannot_be_written_is_exit_code_3() {
    let run = Bench::with(LIST).run(&["list.yaml", "--csv", "no/such/folder/plan.csv"]);
    assert_eq!((run.code, run.stdout.as_str()), (3, ""));
}

/// `(what is written instead of what, first line on stderr, line of the file that is shown)`
const BAD: [(&str, &str, &str, usize); 22] = [
    (
        "length: 600",
        "length: 0",
        "error[out-of-range]: parts row 2: length is 0 in, and must be above 0, up to 520 ft 10 in",
        9,
    ),
    (
        "length: 600",
        "length: -16",
        "error[out-of-range]: parts row 2: length is -1 in, and must be above 0, up to 520 ft 10 in",
        9,
    ),
    (
        "length: 8 ft",
        "length: -1",
        "error[out-of-range]: stock row 1: length is -1/16 in, and must be above 0, up to 520 ft 10 in",
        5,
    ),
    (
        "kerf: 2",
        "kerf: 1600",
        "error[kerf-too-wide]: the kerf, 8 ft 4 in, is not shorter than the board of stock row 1, 8 ft",
        3,
    ),
    ("kerf: 2", "kerf: -2", "error[out-of-range]: kerf is -1/8 in, and must be 0 to 520 ft 10 in", 3),
    (
        "kerf: 2",
        "kerf: 2\nend_trim: 8 ft",
        "error[trim-too-long]: the end trim, 8 ft, leaves nothing of the board of stock row 1, 8 ft",
        4,
    ),
    (
        "qty: 2",
        "qty: 1000000000",
        "error[too-many-parts]: parts row 2: with quantity 1000000000 the job holds more than 20000 parts",
        9,
    ),
    ("qty: 2", "qty: 0", "error[out-of-range]: parts row 2: qty is 0, and must be 1 or more", 9),
    ("mark: stay", "mark: rail", "error[duplicate-mark]: parts rows 1 and 2 both have the mark `rail`", 9),
    (
        ", price: 879",
        "",
        "error[out-of-range]: stock row 1: price is missing, and must be given, as other boards of its group have one",
        5,
    ),
    ("price: 879", "price: -1", "error[out-of-range]: stock row 1: price is -1, and must be 0 to 100000000 cents", 5),
    ("price: 879", "price: 8.79", "error[not-whole]: stock row 1: the price 8.79 is no whole number of cents", 5),
    ("length: 600", "length: 900 mm", "error[mixed-units]: parts row 2: 900 mm is not in the file's unit, 1/16 in", 9),
    ("length: 600", "length: 600.5", "error[not-whole]: parts row 2: 600.5 is no whole number of 1/16 in", 9),
    ("length: 600", "long: 600", "error[unknown-field]: `long` is no field that is known here", 9),
    ("kerf: 2", "kerf: 2\noptimum: 3956", "error[unknown-field]: `optimum` is no field that is known here", 4),
    (
        "length: 600",
        "length: 2000",
        "error[part-too-long]: parts row 2: part stay is 10 ft 5 in long, and the longest board it could come from holds 10 ft",
        9,
    ),
    (
        "price: 879}",
        "price: 879, available: 1}",
        "error[stock-short]: the stock on hand runs short: parts row 1: 4 parts of 5 ft 3-1/2 in or longer are wanted, and the boards that are long enough hold 3",
        8,
    ),
    (
        "mark: stay",
        "group: 2x6, mark: stay",
        "error[no-stock-in-group]: parts row 2: there is no stock of group `2x6`",
        9,
    ),
    (
        "mark: stay",
        "mitred_ends: 2, mark: stay",
        "error[missing-field]: parts row 2 has mitred ends, and the file does not say how they nest",
        9,
    ),
    (
        "mark: stay",
        "mitred_ends: 3, mark: stay",
        "error[out-of-range]: parts row 2: mitred_ends is 3, and must be 0, 1 or 2",
        9,
    ),
    ("unit: 1/16 in", "unit: furlong", "error[unknown-value]: `furlong` is no value that is known here", 2),
];

#[test]
fn bad_input_names_its_row_and_writes_nothing() {
    for (good, bad, first_line, line) in BAD {
        assert!(LIST.contains(good), "{good}");
        // The first fault is what counts; a mitred row without a joint is refused before its number of ends is.
        let list = LIST.replacen(good, bad, 1);
        let list = if bad.starts_with("mitred_ends: 3") { format!("nest_mitres: false\n{list}") } else { list };
        let shown = if bad.starts_with("mitred_ends: 3") { line + 1 } else { line };
        let bench = Bench::with(&list);
        let run = bench.run(&["list.yaml", "--csv", "plan.csv"]);
        assert_eq!((run.code, run.stdout.as_str()), (2, ""), "{bad}: {}", run.stderr);
        assert_eq!(run.stderr.lines().next(), Some(first_line), "{bad}");
        assert!(run.stderr.contains(&format!("┌─ list.yaml:{shown}:")), "{bad}: {}", run.stderr);
        assert_eq!(bench.files(), ["list.yaml"], "{bad}");
    }
}

#[test]
fn lists_without_parts_stock_or_anything_are_refused() {
    let saw = "unit: mm\nkerf: 3\n";
    for (list, code) in [
        (String::new(), "empty-file"),
        (format!("{saw}stock: []\nparts: [{{length: 800, qty: 1}}]\n"), "no-stock"),
        (format!("{saw}stock: [{{length: 2400, price: 5}}]\nparts: []\n"), "no-parts"),
        (format!("{saw}parts: [{{length: 800, qty: 1}}]\n"), "missing-field"),
    ] {
        let run = Bench::with(&list).run(&["list.yaml"]);
        assert_eq!((run.code, run.stdout.as_str()), (2, ""), "{list}");
        assert!(run.stderr.starts_with(&format!("error[{code}]: ")), "{list}: {}", run.stderr);
    }
}

#[test]
fn a_saving_larger_than_the_saw_allows_is_refused() {
    let list = "unit: mm\nkerf: 3\nboard_width: 38\nmitre_angle_deg: 45\nmitre_joint_saving: 37\nstock: [{length: 1000, price: 500}]\nparts: [{length: 516, qty: 2, mitred_ends: 2}]\n";
    let run = Bench::with(list).run(&["list.yaml"]);
    assert_eq!(run.code, 2);
    assert!(
        run.stderr.starts_with("error[out-of-range]: mitre_joint_saving is 37, and board_width, mitre_angle_deg and kerf allow 36 at most\n"),
        "{}",
        run.stderr
    );
}

#[test]
fn a_search_without_time_says_that_nothing_is_proven() {
    let rows: Vec<String> = (0..60).map(|row| format!("  - {{length: {}, qty: 7}}\n", 301 + 37 * row)).collect();
    let list = format!(
        "unit: mm\nkerf: 3\nstock:\n  - {{length: 2703, price: 611}}\n  - {{length: 3600, price: 829}}\n  - {{length: 4211, price: 947}}\nparts:\n{}",
        rows.concat()
    );
    let run = Bench::with(&list).run(&["list.yaml", "--time-limit", "0.000001"]);
    assert_eq!((run.code, run.stderr.as_str()), (0, ""));
    let verdict = run.stdout.lines().nth(1).expect("a second line");
    assert!(verdict.contains("NOT proven: the lower bound is ") && verdict.contains(" may exist."), "{verdict}");
    assert!(!run.stdout.contains(", proven"));
}

#[test]
fn a_time_limit_must_be_a_time() {
    for limit in ["0", "-1", "nan", "1e9"] {
        let run = Bench::with(LIST).run(&["list.yaml", &format!("--time-limit={limit}")]);
        assert_eq!((run.code, run.stdout.as_str()), (2, ""), "{limit}");
        assert!(run.stderr.starts_with("error[out-of-range]: --time-limit is "), "{}", run.stderr);
    }
}

#[test]
fn the_same_list_gives_the_same_bytes() {
    let bench = Bench::with(LIST);
    assert_eq!(bench.run(&["list.yaml"]).stdout, bench.run(&["list.yaml"]).stdout);
}

#[test]
fn the_plan_is_drawn_on_one_sheet_or_several() {
    let bench = Bench::with(LIST);
    assert_eq!(bench.run(&["list.yaml", "--svg", "plan.svg"]).code, 0);
    assert_eq!(bench.files(), ["list.yaml", "plan.svg"]);
    let rows: Vec<String> = (0..9).map(|row| format!("  - {{length: {}, qty: 1}}\n", 901 + 13 * row)).collect();
    let long = format!(
        "unit: 1/16 in\nkerf: 2\nstock: [{{length: 1000, price: 500}}, {{length: 1010, price: 501}}]\nparts:\n{}",
        rows.concat()
    );
    let bench = Bench::with(&long);
    assert_eq!(bench.run(&["list.yaml", "--svg", "plan.svg"]).code, 0);
    assert_eq!(bench.files(), ["list.yaml", "plan-1.svg", "plan-2.svg", "plan-3.svg", "plan-4.svg"]);
}

#[test]
fn a_packing_list_without_units_is_counted_in_boards() {
    let list = "unit: abstract\nmoney: board\nkerf: 0\nstock: [{length: 150, price: 1}]\nparts: [{length: 80, qty: 3}, {length: 70, qty: 3}]\n";
    let run = Bench::with(list).run(&["list.yaml"]);
    assert_eq!((run.code, run.stderr.as_str()), (0, ""));
    assert_eq!(
        run.stdout.lines().nth(1),
        Some("Cost 3, proven: the lower bound is 3 too, no set of these boards costs less.")
    );
}

/// Six panels side by side: rails that no usual stick holds.
const WIDE: &str = "
tiltwright: 1
name: six in a row
units: us
site: {place: Nowhere, latitude: 44 deg}
panel: {long_side: 2000 mm, short_side: 1000 mm, thickness: 35 mm, mass: 22 kg}
array: {rows: 1, columns: 6, orientation: portrait}
frame: {rail: 2x8, stile: 2x8, seating: {kind: inset}, corner_brace: {section: 2x4, leg: 12 in}}
support:
  kind: posts
  stay: {section: 2x4}
  posts: {placement: inside, section: 4x8, axle_height: 48 in, embedment: 66 in}
seasons: 4
";

/// A list in the design replaces the usual lengths, so whoever adds the long stick alone saws short pieces from it too.
#[test]
fn a_piece_that_no_usual_stick_holds_names_the_sticks_to_list_beside_the_long_one() {
    let folder = tempfile::tempdir().expect("a folder");
    let cut = |text: &str| {
        fs::write(folder.path().join("wide.yaml"), text).expect("written");
        tiltwright_in(folder.path(), &["cutlist", "wide.yaml"])
    };
    let refused = cut(WIDE);
    assert_eq!((refused.code, refused.stdout.as_str()), (2, ""), "{refused:?}");
    let (_, hint) = refused.stderr.split_once("the usual ones you can buy (").unwrap_or_else(|| panic!("{refused:?}"));
    let (lengths, rest) = hint.split_once("), which a list replaces").expect("what a list does");
    assert!(rest.contains("`array.frames`"), "{rest}");
    let rows = lengths.split(", ").chain(["26 ft"]).map(|length| format!("{{section: 2x8, length: {length}}}"));
    let stock = format!("[{}]", rows.collect::<Vec<_>>().join(", "));
    let listed = cut(&with(WIDE, &[("shop.stock", &stock)]));
    assert_eq!((listed.code, listed.stderr.as_str()), (0, ""));
    let alone = cut(&with(WIDE, &[("shop.stock", "[{section: 2x8, length: 26 ft}]")]));
    assert!(alone.code == 0 && alone.stdout.matches("26 ft").count() != listed.stdout.matches("26 ft").count());
}

#[test]
fn a_list_without_prices_buys_the_least_length_as_a_design_does() {
    let bench =
        Bench::with("unit: mm\nkerf: 3\nstock: [{length: 2400}, {length: 3600}]\nparts: [{length: 1180, qty: 4}]\n");
    bench.put("parts.csv", "length,qty\n1180,4\n");
    bench.put("stock.csv", "length\n2400\n3600\n");
    let yaml = bench.run(&["list.yaml"]);
    assert_eq!(yaml.code, 0, "{}", yaml.stderr);
    assert!(yaml.stdout.contains("the least length is bought: 4800 mm, proven"), "{}", yaml.stdout);
    assert_eq!(bench.run(&["parts.csv", "--stock", "stock.csv", "--kerf", "3"]).stdout, yaml.stdout);
    let json = bench.run(&["list.yaml", "--format", "json"]).stdout;
    let answer: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    assert!(answer["cost"].is_null() && answer["buy"][0]["price"].is_null(), "{json}");
    assert_eq!((&answer["length"], &answer["length_bound"]), (&4800.into(), &4800.into()));
    bench.put("stock.csv", "length,price\n2400,4.60\n");
    let table = ["parts.csv", "--stock", "stock.csv", "--kerf", "3"];
    let refused = bench.run(&table);
    assert!(refused.code == 2 && refused.stderr.contains("say `--money dollar`"), "{}", refused.stderr);
    assert_eq!(bench.run(&[&table[..], &["--money", "dollar"]].concat()).code, 0);
}

/// A kerf wider than every board is one fault, whether or not it is a length that a job takes.
#[test]
fn a_kerf_too_wide_is_told_once() {
    for (kerf, code) in [("2000", "kerf-too-wide"), ("999999", "out-of-range")] {
        let run = Bench::with(&LIST.replace("kerf: 2", &format!("kerf: {kerf}"))).run(&["list.yaml"]);
        assert_eq!((run.code, run.stderr.matches("error[").count()), (2, 1), "{}", run.stderr);
        assert!(run.stderr.contains(&format!("error[{code}]")), "{}", run.stderr);
    }
    let half = Bench::with(&LIST.replace("qty: 4", "qty: 6.5")).run(&["list.yaml"]);
    assert!(half.code == 2 && half.stderr.contains("is `6.5`; a whole number is wanted here"), "{}", half.stderr);
}

#[test]
fn two_results_never_go_into_one_file() {
    for (svg, csv) in [("same.svg", "same.svg"), ("./same.svg", "same.svg")] {
        let bench = Bench::with(LIST);
        let run = bench.run(&["list.yaml", "--svg", svg, "--csv", csv]);
        assert_eq!((run.code, run.stdout.as_str()), (2, ""), "{}", run.stderr);
        assert!(run.stderr.contains("error[output-twice]"), "{}", run.stderr);
        assert_eq!(fs::read_dir(bench.0.path()).expect("the folder").count(), 1, "nothing is written");
    }
}
