//! Boards, money and units: what nobody gave is not printed, and what is shown changes nothing that is bought.

use crate::{
    common::{Run, project, tiltwright, tiltwright_in},
    strength::sample,
};
use serde_json::Value;
use std::{fs, path::Path};
use tempfile::TempDir;

fn without_prices() -> String {
    let text = sample();
    text.split("\nshop:").next().expect("a design before its shop").to_string() + "\n"
}

fn folder_with(text: &str) -> TempDir {
    let folder = TempDir::new().expect("a folder");
    fs::write(folder.path().join("frame.yaml"), text).expect("written");
    folder
}

fn good(run: Run) -> String {
    assert_eq!((run.code, run.stderr.as_str()), (0, ""));
    run.stdout
}

fn json_in(folder: &Path, arguments: &[&str]) -> Value {
    let text = good(tiltwright_in(folder, &[arguments, &["--format", "json"]].concat()));
    serde_json::from_str(&text).expect("JSON")
}

/// What stands between tags, a line each.
fn words_of(file: &Path) -> Vec<String> {
    let text = fs::read_to_string(file).unwrap_or_else(|error| panic!("{}: {error}", file.display()));
    let words = text.split('<').filter_map(|tag| tag.split_once('>')).map(|(_, words)| words.trim().to_string());
    words.filter(|words| !words.is_empty()).collect()
}

/// Does an amount of money stand here: digits, a point, two digits and no more?
fn names_money(word: &str) -> bool {
    let word = word.trim_matches(|c: char| !c.is_ascii_digit());
    word.split_once('.').is_some_and(|(whole, cents)| {
        cents.len() == 2 && !whole.is_empty() && (whole.to_string() + cents).chars().all(|c| c.is_ascii_digit())
    })
}

#[test]
fn where_nobody_gave_a_price_the_least_length_is_bought_and_no_price_stands_anywhere() {
    let folder = folder_with(&without_prices());
    good(tiltwright_in(folder.path(), &["plan", "frame.yaml", "--name", "p"]));
    let packet = folder.path().join("out/p");
    let text = fs::read_to_string(packet.join("cut-plan.txt")).expect("a plan");
    assert!(text.contains("No price is given, so the least length is bought: 84 ft, proven"), "{text}");
    let shown = good(tiltwright_in(folder.path(), &["cutlist", "frame.yaml"]));
    for words in [&text, &shown] {
        assert!(!words.contains("Cost") && !words.contains("together\n"), "{words}");
        assert!(!words.split_whitespace().any(names_money), "{words}");
    }
    assert!(shown.contains("are those a yard usually keeps: 8 ft, 10 ft, 12 ft, 14 ft, 16 ft ("), "{shown}");
    let hardware = fs::read_to_string(packet.join("hardware.csv")).expect("a table");
    assert!(hardware.starts_with("item,size,quantity,note\n") && !hardware.contains("together"), "{hardware}");
    let sheets = fs::read_dir(packet.join("sheets")).expect("sheets").map(|entry| entry.expect("a file").path());
    let plans: Vec<_> = sheets.filter(|path| path.display().to_string().contains("cut-plan")).collect();
    assert!(!plans.is_empty());
    for plan in plans {
        let words = words_of(&plan).join(" ");
        assert!(!words.contains("Cost") && !words.split_whitespace().any(names_money), "{words}");
    }
    let answer = json_in(folder.path(), &["cutlist", "frame.yaml"]);
    for none in ["cost", "bound", "total_cost", "hardware_cost", "currency"] {
        assert_eq!(answer[none], Value::Null, "{none}");
    }
    let bought: f64 = answer["bars"]
        .as_array()
        .expect("bars")
        .iter()
        .map(|bar| bar["stock_length_mm"].as_f64().expect("a length"))
        .sum();
    assert_eq!([&answer["length_mm"], &answer["length_bound_mm"]].map(Value::as_f64), [Some(bought); 2]);
}

#[test]
fn prices_are_summed_in_the_currency_of_the_design() {
    let folder = folder_with(&sample().replace("  stock:\n", "  currency: EUR\n  stock:\n"));
    let answer = json_in(folder.path(), &["cutlist", "frame.yaml"]);
    let sum = |rows: &str| {
        let prices = answer[rows].as_array().expect("rows").iter().filter_map(|row| row["price"].as_f64());
        prices.sum::<f64>()
    };
    let total = answer["total_cost"].as_f64().expect("a sum");
    assert!((answer["cost"].as_f64().expect("a cost") + sum("hardware") - total).abs() < 1e-9, "{answer}");
    assert_eq!(answer["currency"], "EUR");
    let said = format!("together {total:.2} EUR");
    let shown = good(tiltwright_in(folder.path(), &["cutlist", "frame.yaml"]));
    assert!(shown.contains(&said) && shown.contains(" EUR, proven: the lower bound is"), "{shown}");
    good(tiltwright_in(folder.path(), &["plan", "frame.yaml", "--name", "p"]));
    let page = fs::read_to_string(folder.path().join("out/p/index.html")).expect("a page");
    assert!(page.contains(&said));
    let hardware = fs::read_to_string(folder.path().join("out/p/hardware.csv")).expect("a table");
    assert!(hardware.starts_with("item,size,quantity,price_each_EUR,price_EUR,note\n"), "{hardware}");
    assert!(hardware.contains(&format!("hardware together,,,,{:.2},", sum("hardware"))), "{hardware}");
}

#[test]
fn a_sign_names_the_currency_and_never_contradicts_one() {
    let priced = |currency: &str, first: &str| {
        let stock = format!("{currency}  stock:\n    - {{section: 2x4, length: 7 ft, price: {first}}}\n");
        let text =
            sample().replace("  stock:\n", &stock).replace("item: clip, price: 1.10", "item: clip, price: $1.10");
        let run = tiltwright_in(folder_with(&text).path(), &["cutlist", "frame.yaml", "--format", "json"]);
        (run.code, run.stdout + &run.stderr)
    };
    for (currency, name) in [("", "USD"), ("  currency: CAD\n", "CAD")] {
        let (code, said) = priced(currency, "$31");
        assert!(code == 0 && said.contains(&format!("\"currency\": \"{name}\"")), "{said}");
    }
    let (code, said) = priced("", "€31");
    assert!(code == 2 && said.contains("error[other-money]") && said.contains("`price: €1.1`"), "{said}");
    let (code, said) = priced("  currency: USD\n", "€31");
    assert!(code == 2 && said.contains("the price €31 is not in the currency of the design, USD"), "{said}");
    assert!(said.contains("`price: 31`") && !said.contains("`currency: EUR`"), "{said}");
    // What the hint asks for works.
    assert_eq!(priced("  currency: USD\n", "31").0, 0);
    let (code, said) = priced("  currency: EUR\n", "31");
    assert!(code == 2 && said.contains("`currency: USD`"), "{said}");
}

#[test]
fn hardware_without_a_price_is_never_counted_as_nothing_and_unused_prices_are_said() {
    let text = sample();
    let (sticks, goods) = text.split_once("  hardware:\n").expect("priced hardware");
    let after: String =
        goods.lines().skip_while(|line| line.starts_with("    ")).map(|line| line.to_string() + "\n").collect();
    let with = |row: &str| folder_with(&format!("{sticks}  hardware:\n    - {row}\n{after}"));
    let folder = with("{item: bolt, size: 3/4 in, price: 3.80}");
    let shown = good(tiltwright_in(folder.path(), &["cutlist", "frame.yaml"]));
    assert!(
        shown.contains("; no hardware has a price, so there is no total.") && !shown.contains(", together "),
        "{shown}"
    );
    assert!(shown.contains("The price of bolt 3/4 in is not used: the design buys 1/2 in x "), "{shown}");
    let answer = json_in(folder.path(), &["cutlist", "frame.yaml"]);
    assert!(answer["hardware_cost"].is_null() && answer["total_cost"].is_null() && answer["cost"].is_number());
    let folder = with("{item: bolt, size: 5/8 in, price: 3.80}");
    let answer = json_in(folder.path(), &["cutlist", "frame.yaml"]);
    assert_eq!(answer["prices_not_used"], serde_json::json!([]));
    let bolts = answer["hardware"].as_array().expect("rows").iter().filter(|row| row["price"].is_number());
    for row in bolts {
        assert_eq!(row["price_each"], 3.8);
        let all = row["quantity"].as_f64().expect("a number") * 3.8;
        assert!((row["price"].as_f64().expect("a price") - all).abs() < 1e-9, "{row}");
    }
}

#[test]
fn units_left_out_are_those_that_the_design_is_written_in() {
    for entry in fs::read_dir(project().join("designs")).expect("the ready designs") {
        let text = fs::read_to_string(entry.expect("a file").path()).expect("a design");
        let without: String =
            text.lines().filter(|line| !line.starts_with("units:")).map(|line| line.to_string() + "\n").collect();
        let [named, taken] =
            [&text, &without].map(|text| json_in(folder_with(text).path(), &["cutlist", "frame.yaml"]));
        assert_eq!(named, taken, "{text}");
        let folder = folder_with(&without);
        if text.contains("place: Fallow Ridge") {
            let said = good(tiltwright_in(folder.path(), &["plan", "frame.yaml", "--name", "p"]));
            assert!(said.contains("does not name its units"), "{said}");
        }
    }
}

#[test]
fn a_currency_that_is_none_and_a_section_half_priced_are_faults_of_their_line() {
    let euro = sample().replace("  stock:\n", "  currency: euros\n  stock:\n");
    let half = sample().replace("{section: 2x8, length: 10 ft, price: 13.90}", "{section: 2x8, length: 10 ft}");
    for (text, code, field) in [(euro, "bad-value", "currency: euros"), (half, "missing-field", "length: 10 ft}")] {
        let folder = folder_with(&text);
        let run = tiltwright_in(folder.path(), &["cutlist", "frame.yaml"]);
        assert_eq!(run.code, 2, "{}", run.stdout);
        assert!(run.stderr.contains(&format!("error[{code}]")) && run.stderr.contains(field), "{}", run.stderr);
    }
    // What the hint asks for works: a price for none of them.
    let none: String = sample()
        .lines()
        .map(|line| match line.trim_start().starts_with("- {section:") {
            true => line.split(", price").next().expect("a row").to_string() + "}\n",
            false => line.to_string() + "\n",
        })
        .collect();
    let folder = folder_with(&none);
    let shown = good(tiltwright_in(folder.path(), &["cutlist", "frame.yaml"]));
    assert!(shown.contains("the least length is bought") && !shown.contains("usually keeps"), "{shown}");
}

#[test]
fn gravel_is_six_inches_or_150_mm_and_words_of_loads_name_both_units() {
    let gravel = |design: &str| {
        let answer = json_in(&project(), &["cutlist", design]);
        let rows = answer["hardware"].as_array().expect("rows").iter();
        rows.filter(|row| row["item"] == "gravel under each post").map(|row| row["size"].clone()).collect::<Vec<_>>()
    };
    assert_eq!(gravel("designs/sample.yaml"), ["6 in"]);
    assert_eq!(gravel("designs/posts-outside.yaml"), ["150 mm"]);
    let run = tiltwright_in(&project(), &["strength", "designs/runners-ground.yaml", "--format", "json"]);
    for (alone, both) in [("200 lbf", "200 lbf (890 N)"), ("20 mph", "20 mph (8.9 m/s)")] {
        assert!(run.stdout.contains(both), "{both}");
        assert_eq!(run.stdout.matches(alone).count(), run.stdout.matches(both).count(), "{alone}");
    }
}

#[test]
fn the_usual_frame_screws_say_where_strength_wants_others() {
    let shown = |text: &str| good(tiltwright_in(folder_with(text).path(), &["cutlist", "frame.yaml"]));
    let (corner, said) = ("  corner: {", "asks for lag screws in `joints.corner`");
    let text = sample();
    let without: String =
        text.lines().filter(|line| !line.starts_with(corner)).map(|line| line.to_string() + "\n").collect();
    assert_ne!(text, without, "the sample names its corner screws");
    assert!(!shown(&text).contains(said));
    assert_eq!(shown(&without).matches(said).count(), 1, "{}", shown(&without));
}

#[test]
fn the_same_boards_and_bolts_are_bought_in_both_units() {
    for entry in fs::read_dir(project().join("designs")).expect("the ready designs") {
        let path = entry.expect("a file").path();
        let design = path.to_str().expect("a name");
        let [us, metric] = ["us", "metric"].map(|units| json_in(&project(), &["cutlist", design, "--units", units]));
        let boards = |answer: &Value| answer["buy"].to_string();
        assert_eq!(boards(&us), boards(&metric), "{design}");
        for field in ["cost", "bound", "total_cost", "not_in_the_total"] {
            assert_eq!(us[field], metric[field], "{design}: {field}");
        }
        let goods = |answer: &Value| {
            let rows = answer["hardware"].as_array().expect("rows").iter();
            rows.map(|row| (row["item"].clone(), row["quantity"].clone(), row["price"].clone())).collect::<Vec<_>>()
        };
        assert_eq!(goods(&us), goods(&metric), "{design}");
    }
}

#[test]
fn a_metric_tape_marks_whole_millimetres_on_a_frame_laid_out_in_inches() {
    let [us, metric] = ["us", "metric"].map(|units| json_in(&project(), &["drill", "--units", units]));
    let holes = |answer: &Value| answer["rows"][0]["holes"].as_array().expect("holes").clone();
    for (us, metric) in holes(&us).iter().zip(&holes(&metric)) {
        let number = |hole: &Value, field: &str| hole[field].as_f64().expect("a number");
        assert_eq!(us["exact_mm"], metric["exact_mm"], "what is computed is the same");
        for field in ["offset_mm", "from_end_mm"] {
            assert_eq!(number(metric, field).fract(), 0.0, "{metric}");
        }
        assert!((number(us, "offset_mm") / 1.5875).fract().abs() < 1e-6, "{us}");
        let off = (number(metric, "offset_mm") - number(metric, "exact_mm")).abs();
        assert!(off <= 0.5 + 1e-9, "half a mark at most: {metric}");
    }
}

#[test]
fn explanations_obey_the_units_and_keep_their_numbers() {
    let shown = |units| good(tiltwright(&["explain", "embedment", "--units", units]));
    let (us, metric) = (shown("us"), shown("metric"));
    assert!(us.contains("psf\n") && !us.contains("kPa"), "{us}");
    assert!(metric.contains("psf = ") && metric.contains(" kPa\n"), "{metric}");
    let utilisation = |text: &str| text.lines().find(|line| line.contains("utilisation")).map(str::to_string);
    assert_eq!(utilisation(&us), utilisation(&metric));
    let pressed = metric.lines().find(|line| line.contains("psf = ")).expect("a pressure");
    let figures: Vec<f64> = pressed.split_whitespace().filter_map(|word| word.parse().ok()).collect();
    assert!((figures[0] * 0.047_880_26 - figures[1]).abs() < 1e-3, "{pressed}");
}

#[test]
fn metric_sheets_carry_no_inch_but_in_names_of_bolts() {
    let folder = TempDir::new().expect("a folder");
    for design in ["sample", "runners-roof"] {
        let file = project().join(format!("designs/{design}.yaml"));
        let file = file.to_str().expect("a name");
        tiltwright_in(folder.path(), &["plan", file, "--units", "metric", "--name", design]);
        for entry in fs::read_dir(folder.path().join("out").join(design).join("sheets")).expect("sheets") {
            let path = entry.expect("a file").path();
            for words in words_of(&path) {
                let mut before = "";
                for word in words.split_whitespace() {
                    // `3 in Y1` counts holes: a unit ends its clause.
                    let unit = word.trim_end_matches(['.', ',', ';', ':', ')']);
                    let ends = unit.len() < word.len() || words.ends_with(word);
                    let measured = before.chars().last().is_some_and(|c| c.is_ascii_digit());
                    let named = ["bolt", "lag", "pin", "axle"].iter().any(|name| words.contains(name));
                    assert!(
                        !(["in", "ft"].contains(&unit) && ends && measured) || named,
                        "{}: {words}",
                        path.display()
                    );
                    before = word;
                }
            }
        }
    }
}

#[test]
fn lengths_between_two_marks_stand_as_taped_with_the_exact_value_beside() {
    let folder = TempDir::new().expect("a folder");
    tiltwright_in(folder.path(), &["plan", "--name", "p"]);
    let page = words_of(&folder.path().join("out/p/index.html"));
    let at = page.iter().position(|words| words == "Both should read").expect("the bench check");
    let check = page[at..].iter().take(40).map(String::as_str).collect::<Vec<_>>().join(" ");
    assert!(check.contains("10 ft 10-5/16 in (130.3"), "{check}");
}

#[test]
fn numbers_in_json_end_before_the_noise_of_arithmetic() {
    for arguments in [["cutlist", "designs/runners-ground.yaml"], ["drill", "designs/posts-outside.yaml"]] {
        let text = good(tiltwright(&[&arguments[..], &["--format", "json"]].concat()));
        let numbers = text.split(|c: char| !(c.is_ascii_digit() || c == '.')).filter(|word| word.contains('.'));
        for number in numbers {
            let digits = number.chars().filter(char::is_ascii_digit).collect::<String>();
            assert!(digits.trim_start_matches('0').len() <= 15, "{number} in {arguments:?}");
        }
    }
}

#[test]
fn tables_name_their_unit_and_give_inches_in_decimals_beside_the_tape() {
    let folder = TempDir::new().expect("a folder");
    let list =
        "unit: 1/16 in\nkerf: 2\nstock: [{length: 8 ft, price: 879}]\nparts: [{mark: rail, length: 1016, qty: 1}]\n";
    fs::write(folder.path().join("list.yaml"), list).expect("written");
    let table = |units: &[&str]| {
        let arguments = [&["cutplan", "list.yaml", "--csv", "plan.csv"], units].concat();
        good(tiltwright_in(folder.path(), &arguments));
        fs::read_to_string(folder.path().join("plan.csv")).expect("a table")
    };
    assert_eq!(
        table(&[]),
        "board,group,stock_length_tape,stock_length_in,part,length_tape,length_in,from_tape,from_in,to_tape,to_in,\
         mitred_ends,shared_cut,turn_over,offcut_tape,offcut_in\n\
         1,,8 ft,96,rail,5 ft 3-1/2 in,63.5,0 in,0,5 ft 3-1/2 in,63.5,0,no,no,2 ft 8-3/8 in,32.375\n"
    );
    assert_eq!(
        table(&["--units", "metric"]),
        "board,group,stock_length_mm,part,length_mm,from_mm,to_mm,mitred_ends,shared_cut,turn_over,offcut_mm\n\
         1,,2438,rail,1613,0,1613,0,no,no,822\n"
    );
}
