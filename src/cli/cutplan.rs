//! `cutplan`: the cheapest boards for any list of parts, and where to saw them.

use super::{
    args::{Common, Format},
    exit::{Failure, Outcome},
    output::{self, Pending},
};
use crate::{
    design::{Fault, file_text},
    sheets::{Page, Paper, csv, cut_plan_document, cut_plan_sheets, tables::cut_records, text},
    shop::cut_plan::{
        CutList, Given, Job, JobError, Money, Plan, Shown, Stock, TableSettings, WrittenUnit, plan, verdict,
        whole_units,
    },
};
use clap::{Args, ValueEnum};
use serde::Serialize;
use std::{
    path::{Path, PathBuf},
    time::Duration,
};

/// What to cut, what is at hand, and what to write.
#[derive(Debug, Args)]
pub(super) struct CutplanArgs {
    /// List of parts and stock, YAML or JSON; or a CSV table of parts (mark, length, qty)
    #[arg(value_name = "FILE")]
    file: Option<PathBuf>,
    /// CSV table of stock (length, price, available) that goes with a CSV table of parts
    #[arg(long, value_name = "FILE")]
    stock: Option<PathBuf>,
    /// What is already in the shed, at no cost: a length and how many, as `8ft x3`, or `2x4: 8ft x3` for one group; may be given again
    #[arg(long, value_name = "LENGTH [xN]", num_args = 1..=2, action = clap::ArgAction::Append)]
    have: Vec<String>,
    /// Seconds to search; a plan that is not proven by then is printed with its gap
    #[arg(long, value_name = "SECONDS", default_value_t = 5.0)]
    time_limit: f64,
    /// What plain numbers of CSV tables are counted in
    #[arg(long, value_enum, default_value_t = UnitChoice::Mm)]
    unit: UnitChoice,
    /// What prices of CSV tables are counted in
    #[arg(long, value_enum, default_value_t = MoneyChoice::Cent)]
    money: MoneyChoice,
    /// Kerf for CSV tables, which cannot do without: a number of units or a length
    #[arg(long, value_name = "LENGTH")]
    kerf: Option<String>,
    /// Also write the plan as CSV; each column of lengths names its unit
    #[arg(long, value_name = "FILE")]
    csv: Option<PathBuf>,
    /// Also draw the plan; a plan of several sheets is written as FILE-1.svg, FILE-2.svg …
    #[arg(long, value_name = "FILE")]
    svg: Option<PathBuf>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum UnitChoice {
    Mm,
    #[value(name = "1/16in")]
    Sixteenth,
    #[value(name = "1/32in")]
    ThirtySecond,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum MoneyChoice {
    Cent,
    Dollar,
    Euro,
}

pub(super) fn run(args: &CutplanArgs, common: &Common) -> Result<Outcome, Failure> {
    let (file, have) = sort_out(args);
    for (option, target) in [("--csv", &args.csv), ("--svg", &args.svg)] {
        if let Some(path) = target {
            output::refuse_input(option, path, file.as_deref())?;
        }
    }
    let mut list = read(args, file)?;
    put_on_hand(&mut list, &have)?;
    let faults = list.job.faults();
    if !faults.is_empty() {
        return Err(faults.iter().map(|fault| list.fault(fault)).collect::<Vec<_>>().into());
    }
    let plan = match plan(&list.job, time_limit(args)?) {
        Ok(plan) => plan,
        Err(error @ JobError::Undecided) => {
            output::print(&format!("No verdict: {error}.\nhint: {}\n", error.hints().join("; ")))?;
            return Ok(Outcome::CheckFails);
        }
        Err(error) => return Err(list.fault(&error).into()),
    };
    let shown = Shown { money: list.money, units: common.units_or(list.job.unit.units()) };
    let mut pending = Pending::default();
    if let Some(path) = &args.csv {
        pending.add(path, csv(&cut_records(&list.job, &plan, shown)).as_bytes())?;
    }
    if let Some(path) = &args.svg {
        draw(path, &list, &plan, shown, &mut pending)?;
    }
    match common.format {
        Format::Json => output::print_json(&Answer::gather(&list, &plan, shown))?,
        Format::Text => output::print(&text(&cut_plan_document(&list.name, None, (&list.job, &plan), shown)))?,
    }
    pending.put_in_place()?;
    Ok(Outcome::Done)
}

/// Metric lists on A4, the others on Letter.
fn draw(path: &Path, list: &CutList, plan: &Plan, shown: Shown, pending: &mut Pending) -> Result<(), Failure> {
    let page = Page::landscape(Paper::of(shown.units));
    let sheets = cut_plan_sheets(&list.name, &list.job, plan, shown, page);
    for (at, sheet) in sheets.iter().enumerate() {
        let mut name = path.file_stem().unwrap_or_default().to_os_string();
        if sheets.len() > 1 {
            name.push(format!("-{}", at + 1));
        }
        name.push(".");
        name.push(path.extension().unwrap_or("svg".as_ref()));
        pending.add(&path.with_file_name(name), sheet.to_svg().as_bytes())?;
    }
    Ok(())
}

/// `--have 8ft x3` takes its count along, and `--have 8ft FILE` must not take the file.
fn sort_out(args: &CutplanArgs) -> (Option<PathBuf>, Vec<String>) {
    let mut file = args.file.clone();
    let mut have: Vec<String> = Vec::new();
    for word in &args.have {
        let is_count =
            word.trim_start_matches(['x', '×']).trim().parse::<i64>().is_ok() && word.starts_with(['x', '×']);
        match have.last_mut() {
            Some(last) if is_count => {
                last.push(' ');
                last.push_str(word);
            }
            _ if file.is_none() && PathBuf::from(word).extension().is_some_and(|e| e.len() >= 3) => {
                file = Some(word.into());
            }
            _ => have.push(word.clone()),
        }
    }
    (file, have)
}

fn time_limit(args: &CutplanArgs) -> Result<Duration, Fault> {
    const LONGEST_SECONDS: f64 = 86_400.0;
    if args.time_limit.is_finite() && args.time_limit > 0.0 && args.time_limit <= LONGEST_SECONDS {
        return Ok(Duration::from_secs_f64(args.time_limit));
    }
    let sentence = format!("--time-limit is {}, and must be above 0, up to a day", args.time_limit);
    Err(Fault::new("out-of-range", "--time-limit", sentence))
}

fn read(args: &CutplanArgs, file: Option<PathBuf>) -> Result<CutList, Vec<Fault>> {
    let Some(file) = file else {
        let fault = Fault::new("no-file", "FILE", "no list of parts was given");
        return Err(vec![fault.hint("name one: tiltwright cutplan parts.yaml")]);
    };
    let (name, text) = contents(&file)?;
    let is_table = file.extension().is_some_and(|extension| extension.eq_ignore_ascii_case("csv"));
    if !is_table {
        if args.stock.is_some() {
            let fault = Fault::new("stock-twice", "--stock", "--stock goes with a CSV table of parts");
            return Err(vec![fault.hint(format!("{name} holds its own stock"))]);
        }
        if args.kerf.is_some() {
            let fault = Fault::new("kerf-twice", "--kerf", "--kerf goes with a CSV table of parts");
            return Err(vec![fault.hint(format!("write `kerf` in {name} and leave the option out"))]);
        }
        return CutList::read(&name, &text);
    }
    let stock = args.stock.as_deref().map(contents).transpose()?;
    let settings = TableSettings {
        unit: match args.unit {
            UnitChoice::Mm => WrittenUnit::Millimetre,
            UnitChoice::Sixteenth => WrittenUnit::Sixteenth,
            UnitChoice::ThirtySecond => WrittenUnit::ThirtySecond,
        },
        money: match args.money {
            MoneyChoice::Cent => Money::Cent,
            MoneyChoice::Dollar => Money::Dollar,
            MoneyChoice::Euro => Money::Euro,
        },
        kerf: args
            .kerf
            .as_ref()
            .map(|kerf| kerf.trim().parse().map_or_else(|_| Given::Text(kerf.clone()), Given::Number)),
    };
    let stock = stock.as_ref().map(|(name, text)| (name.as_str(), text.as_str()));
    CutList::read_tables((&name, &text), stock, &settings)
}

fn contents(path: &Path) -> Result<(String, String), Vec<Fault>> {
    let text = file_text(path).map_err(|fault| vec![fault])?;
    Ok((path.display().to_string(), text))
}

/// Adds what is in the shed: stock without a price.
fn put_on_hand(list: &mut CutList, have: &[String]) -> Result<(), Vec<Fault>> {
    let mut faults = Vec::new();
    for given in have {
        match on_hand(given, &list.job) {
            Ok(stock) => list.job.stock.push(stock),
            Err(fault) => faults.push(fault),
        }
    }
    if faults.is_empty() { Ok(()) } else { Err(faults) }
}

fn on_hand(given: &str, job: &Job) -> Result<Stock, Fault> {
    let refuse = |sentence: String| Fault::new("bad-have", "--have", sentence).hint("write for instance --have 8ft x3");
    let (group, piece) = match given.split_once(':') {
        Some((group, piece)) => (group.trim().to_string(), piece),
        None => (
            only_group(job).ok_or_else(|| {
                refuse(format!("--have {given} does not say its group"))
                    .hint("put the group before it: --have \"2x4: 8ft x3\"")
            })?,
            given,
        ),
    };
    let (length, count) = match piece.rsplit_once(['x', '×']) {
        Some((length, count)) => (
            length.trim(),
            count
                .trim()
                .parse()
                .ok()
                .filter(|count| *count >= 1)
                .ok_or_else(|| refuse(format!("`x{}` in --have {given} is no number of boards", count.trim())))?,
        ),
        None => (piece.trim(), 1),
    };
    let given_length = length.parse().map_or_else(|_| Given::Text(length.to_string()), Given::Number);
    let length = whole_units(job.unit, &given_length).map_err(|fault| Fault {
        field: "--have".to_string(),
        sentence: format!("--have {given}: {}", fault.sentence),
        ..fault
    })?;
    if length <= 0 {
        return Err(refuse(format!("--have {given} is not above zero")));
    }
    Ok(Stock { length, price: Some(0), available: Some(count), group })
}

/// The group of all parts, if they share one.
fn only_group(job: &Job) -> Option<String> {
    let first = job.parts.first().map_or("", |part| part.group.as_str());
    job.parts.iter().all(|part| part.group == first).then(|| first.to_string())
}

/// What is printed; field names are part of the contract with scripts. Lengths in the list's unit, money in the list's money.
#[derive(Debug, Serialize)]
struct Answer<'a> {
    name: &'a str,
    unit: &'static str,
    money: &'static str,
    /// `null` where no board has a price.
    cost: Option<serde_json::Number>,
    bound: Option<serde_json::Number>,
    /// Length of the boards bought without a price, and no plan buys less; `null` where all have one.
    length: Option<i64>,
    length_bound: Option<i64>,
    proven: bool,
    verdict: String,
    boards: usize,
    set_ups: usize,
    buy: Vec<BuyRow<'a>>,
    bars: Vec<BarRow<'a>>,
}

#[derive(Debug, Serialize)]
struct BuyRow<'a> {
    stock_length: i64,
    group: &'a str,
    count: usize,
    price: Option<serde_json::Number>,
    total: Option<serde_json::Number>,
}

#[derive(Debug, Serialize)]
struct BarRow<'a> {
    stock_length: i64,
    group: &'a str,
    price: Option<serde_json::Number>,
    cuts: Vec<i64>,
    offcut: i64,
    keep_offcut: bool,
    marks: Vec<&'a str>,
    from: Vec<i64>,
    to: Vec<i64>,
    shares_cut: Vec<bool>,
    turned_over: Vec<bool>,
}

impl<'a> Answer<'a> {
    fn gather(list: &'a CutList, plan: &'a Plan, shown: Shown) -> Self {
        let money = |cents: Option<i64>| cents.map(|cents| in_money(cents, list.money));
        let unpriced = list.job.stock.iter().any(|stock| stock.price.is_none());
        // What is on hand costs nothing, which is no price beside boards that have none.
        let priced = !unpriced || list.job.stock.iter().any(|stock| stock.price.is_some_and(|price| price > 0));
        let buy = plan.boards_used().into_iter().map(|(row, count, total)| {
            let stock = &list.job.stock[row];
            BuyRow {
                stock_length: stock.length,
                group: &stock.group,
                count,
                price: money(stock.price),
                total: money(total),
            }
        });
        let bars = plan.bars.iter().map(|bar| BarRow {
            stock_length: bar.stock_length,
            group: &bar.group,
            price: money(bar.price),
            cuts: bar.cuts.iter().map(|cut| cut.length).collect(),
            offcut: bar.offcut,
            keep_offcut: bar.keep_offcut,
            marks: bar.cuts.iter().map(|cut| cut.mark.as_str()).collect(),
            from: bar.cuts.iter().map(|cut| cut.from).collect(),
            to: bar.cuts.iter().map(|cut| cut.to).collect(),
            shares_cut: bar.cuts.iter().map(|cut| cut.shares_cut).collect(),
            turned_over: bar.cuts.iter().map(|cut| cut.turned_over).collect(),
        });
        Self {
            name: &list.name,
            unit: list.job.unit.name(),
            money: list.money.name(),
            cost: money(priced.then_some(plan.cost)),
            bound: money(priced.then_some(plan.bound)),
            length: unpriced.then_some(plan.length),
            length_bound: unpriced.then_some(plan.length_bound),
            proven: plan.proven,
            verdict: verdict(&list.job, plan, shown),
            boards: plan.boards(),
            set_ups: plan.set_ups(),
            buy: buy.collect(),
            bars: bars.collect(),
        }
    }
}

fn in_money(cents: i64, money: Money) -> serde_json::Number {
    match money {
        Money::Cent | Money::Board => cents.into(),
        _ => serde_json::Number::from_f64(cents as f64 / 100.0).unwrap_or_else(|| 0.into()),
    }
}
