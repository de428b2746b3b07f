//! `square`: whether the lengths fit, what they say of the frame, which corner to push, and how far.

mod text;

use super::{
    args::{Common, Format},
    exit::{Failure, Outcome},
    figures::rounded,
    output,
};
use crate::{
    design::Fault,
    frame::{Finding, Limits, Measured, Squareness, judge},
    quantities::{Length, QuantityError, Units, read, to_mm},
};
use serde::Serialize;

/// What was measured.
#[derive(Debug, clap::Args)]
pub(super) struct SquareArgs {
    /// Nominal width, over the low or high edge, for instance 5ft
    #[arg(long, value_name = "LENGTH", value_parser = positive)]
    width: Taped,
    /// Nominal height, over the left or right edge
    #[arg(long, value_name = "LENGTH", value_parser = positive)]
    height: Taped,
    /// Both diagonals: low left to high right, then low right to high left
    #[arg(long, value_name = "LENGTH,LENGTH", value_delimiter = ',', value_parser = positive, num_args = 1)]
    diagonals: Vec<Taped>,
    /// All four sides as measured: low, right, high, left; without them a frame is square only if its sides are true
    #[arg(long, value_name = "LENGTH,LENGTH,LENGTH,LENGTH", value_delimiter = ',', value_parser = positive, num_args = 1)]
    sides: Vec<Taped>,
    /// Play of the bolts in their holes, hole less bolt
    #[arg(long, value_name = "LENGTH", value_parser = positive, default_value = "1/16 in")]
    play: Taped,
    /// The most that the high edge may slide, where inset panels leave less room than the bolts (from the bench card)
    #[arg(long, value_name = "LENGTH", value_parser = not_negative)]
    most_rack: Option<Taped>,
}

/// Longest side taken (mm).
const LONGEST_MM: f64 = 100_000.0;
const WANTED: &str = "a length above zero and up to 100 m is wanted";

/// A length as measured, and whether it was given in metric units.
#[derive(Debug, Clone, Copy)]
struct Taped {
    mm: f64,
    metric: bool,
}

fn positive(text: &str) -> Result<Taped, String> {
    let taped = not_negative(text)?;
    if taped.mm > 0.0 { Ok(taped) } else { Err(WANTED.to_string()) }
}

fn not_negative(text: &str) -> Result<Taped, String> {
    let value: Length = read(text).map_err(|error: QuantityError| error.to_string())?;
    let (size, metric) = (to_mm(value), text.trim_end().ends_with('m'));
    if (0.0..=LONGEST_MM).contains(&size) { Ok(Taped { mm: size, metric }) } else { Err(WANTED.to_string()) }
}

/// What is printed; field names are part of the contract with scripts.
#[derive(Debug, Serialize)]
struct Answer {
    verdict: &'static str,
    findings: Vec<&'static str>,
    ok: bool,
    sides_measured: bool,
    misfit_mm: Option<f64>,
    misfit_allowed_mm: f64,
    off_flat_mm: Option<f64>,
    each_length_if_it_alone_is_wrong_mm: Option<[Option<f64>; 6]>,
    odd_parts: Vec<OddPart>,
    size_error_mm: [f64; 2],
    difference_mm: f64,
    allowed_mm: f64,
    rack_mm: Option<f64>,
    rack_allowed_mm: f64,
    tape_can_prove: bool,
    push: Push,
    tape_error_mm: Option<f64>,
    corner_angles_deg: Option<[f64; 4]>,
    true_diagonal_mm: f64,
}

#[derive(Debug, Serialize)]
struct OddPart {
    part: &'static str,
    than: &'static str,
    longer_mm: f64,
}

#[derive(Debug, Serialize)]
struct Push {
    corner: Option<&'static str>,
    distance_mm: f64,
    shorten_long_diagonal_mm: f64,
}

pub(super) fn run(args: &SquareArgs, common: &Common) -> Result<Outcome, Failure> {
    let diagonals_mm = exactly::<2>("--diagonals", &args.diagonals, "two diagonals, for instance --diagonals 5ft,5ft")?;
    let sides_mm = match args.sides.as_slice() {
        [] => None,
        sides => Some(exactly::<4>("--sides", sides, "four sides: low, right, high, left")?),
    };
    const MOST_PLAY_MM: f64 = 25.4;
    if args.play.mm > MOST_PLAY_MM {
        return Err(Fault::new("out-of-range", "--play", "more than an inch is no play of a bolt in its hole")
            .hint("measure hole less bolt, usually 1/16 in or 2 mm")
            .into());
    }
    let measured = Measured { nominal_mm: [args.width.mm, args.height.mm], sides_mm, diagonals_mm };
    let bolts = Limits::of(measured.nominal_mm, args.play.mm);
    let limits = args.most_rack.map_or(bolts, |most| bolts.racked_at_most(measured.nominal_mm, most.mm));
    let judged = judge(&measured, &limits);
    match common.format {
        Format::Json => output::print_json(&answer(&measured, &limits, &judged))?,
        Format::Text => {
            // Whoever measures in millimetres wants the answer in millimetres.
            let units = common.units_or(if args.width.metric { Units::Metric } else { Units::Us });
            let limited_by = match args.most_rack {
                Some(_) if limits.rack_mm < bolts.rack_mm => "the panels leave room for",
                _ => "the bolt holes take up",
            };
            output::print(
                &text::Said { measured: &measured, limits: &limits, judged: &judged, limited_by, units }.all(),
            )?;
        }
    }
    Ok(if judged.verdict() == Finding::Square { Outcome::Done } else { Outcome::CheckFails })
}

fn exactly<const N: usize>(option: &str, lengths: &[Taped], wanted: &str) -> Result<[f64; N], Fault> {
    let values: Vec<f64> = lengths.iter().map(|l| l.mm).collect();
    <[f64; N]>::try_from(values).map_err(|values| {
        Fault::new("wrong-count", option, format!("{option} lists {} lengths", values.len()))
            .hint(format!("give {wanted}"))
    })
}

fn answer(measured: &Measured, limits: &Limits, judged: &Squareness) -> Answer {
    // Finer than any tape, so that scripts may compare; no noise of the last digits.
    let fine = |value: f64| rounded(value, 9);
    let verdict = judged.verdict();
    let fits = verdict != Finding::MeasureAgain;
    let figure = judged.figure;
    let pushed = figure.filter(|_| fits).and_then(|figure| Some((figure.push()?, figure.rack_mm.abs())));
    Answer {
        verdict: verdict.word(),
        findings: judged.findings.iter().map(|finding| finding.word()).collect(),
        ok: verdict == Finding::Square,
        sides_measured: measured.sides_mm.is_some(),
        misfit_mm: judged.misfit_mm.map(fine),
        misfit_allowed_mm: fine(limits.misfit_mm),
        off_flat_mm: judged.off_flat_mm.map(fine),
        each_length_if_it_alone_is_wrong_mm: (!fits).then(|| judged.alone_mm.map(|alone| alone.map(fine))),
        odd_parts: judged
            .odd_parts
            .iter()
            .map(|odd| OddPart { part: odd.part.words(), than: odd.than.words(), longer_mm: fine(odd.longer_mm) })
            .collect(),
        size_error_mm: judged.size_error_mm.map(fine),
        difference_mm: fine(judged.difference_mm.abs()),
        allowed_mm: fine(limits.difference_mm),
        rack_mm: figure.map(|figure| fine(figure.rack_mm)),
        rack_allowed_mm: fine(limits.rack_mm),
        tape_can_prove: limits.tape_can_prove(),
        push: Push {
            corner: pushed.map(|(corner, _)| corner.words()),
            distance_mm: pushed.map_or(0.0, |(_, by_mm)| fine(by_mm)),
            shorten_long_diagonal_mm: if pushed.is_some() { fine(judged.difference_mm.abs() / 2.0) } else { 0.0 },
        },
        tape_error_mm: figure.map(|figure| fine(figure.correction_mm)),
        corner_angles_deg: figure.map(|figure| figure.corner_angles_deg.map(fine)),
        true_diagonal_mm: fine(measured.nominal_mm[0].hypot(measured.nominal_mm[1])),
    }
}
