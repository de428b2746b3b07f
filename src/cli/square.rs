//! `square`: how far from square, which corner to push, and how far.

use super::{
    args::{Common, Format},
    exit::{Failure, Outcome},
    output,
};
use crate::{
    design::Fault,
    frame::{Measured, Squareness, allowed_difference_mm, judge},
    quantities::{Length, QuantityError, Units, length, length_exact, mm, number, read, to_mm},
};
use serde::Serialize;
use std::fmt::Write as _;

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
    /// All four sides as measured: low, right, high, left; nominal when not given
    #[arg(long, value_name = "LENGTH,LENGTH,LENGTH,LENGTH", value_delimiter = ',', value_parser = positive, num_args = 1)]
    sides: Vec<Taped>,
    /// Play of the bolts in their holes, hole less bolt
    #[arg(long, value_name = "LENGTH", value_parser = positive, default_value = "1/16 in")]
    play: Taped,
}

/// Longest side taken (mm).
const LONGEST_MM: f64 = 100_000.0;

/// A length as measured, and whether it was given in metric units.
#[derive(Debug, Clone, Copy)]
struct Taped {
    mm: f64,
    metric: bool,
}

fn positive(text: &str) -> Result<Taped, String> {
    let value: Length = read(text).map_err(|error: QuantityError| error.to_string())?;
    let size = to_mm(value);
    let metric = text.trim_end().ends_with('m');
    if size > 0.0 && size <= LONGEST_MM {
        Ok(Taped { mm: size, metric })
    } else {
        Err("a length above zero and up to 100 m is wanted".to_string())
    }
}

/// What is printed; field names are part of the contract with scripts.
#[derive(Debug, Serialize)]
struct Answer {
    difference_mm: f64,
    allowed_mm: f64,
    ok: bool,
    rack_mm: f64,
    push: Push,
    tape_error_mm: f64,
    corner_angles_deg: [f64; 4],
    true_diagonal_mm: f64,
}

#[derive(Debug, Serialize)]
struct Push {
    corner: Option<&'static str>,
    distance_mm: f64,
}

pub(super) fn run(args: &SquareArgs, common: &Common) -> Result<Outcome, Failure> {
    let [one, other] = exactly::<2>("--diagonals", &args.diagonals, "two diagonals, for instance --diagonals 5ft,5ft")?;
    let (width, height) = (args.width.mm, args.height.mm);
    let sides_mm = if args.sides.is_empty() {
        [width, height, width, height]
    } else {
        exactly::<4>("--sides", &args.sides, "four sides: low, right, high, left")?
    };
    let measured = Measured { sides_mm, diagonals_mm: [one, other] };
    let judged = judge(&measured).map_err(|error| {
        Fault::new("no-figure", "--diagonals", error.to_string())
            .hint("measure again from the same corners, over the outside, and check the units of each length")
    })?;
    const MOST_PLAY_MM: f64 = 25.4;
    if args.play.mm > MOST_PLAY_MM {
        return Err(Fault::new("out-of-range", "--play", "more than an inch is no play of a bolt in its hole")
            .hint("measure hole less bolt, usually 1/16 in or 2 mm")
            .into());
    }
    let allowed_mm = allowed_difference_mm(width, height, args.play.mm);
    let ok = judged.difference_mm <= allowed_mm;
    match common.format {
        Format::Json => output::print_json(&answer(&judged, allowed_mm, ok, width.hypot(height)))?,
        Format::Text => {
            // Whoever measures in millimetres wants the answer in millimetres.
            let units = common.units_or(if args.width.metric { Units::Metric } else { Units::Us });
            output::print(&text(&judged, allowed_mm, ok, width.hypot(height), units))?;
        }
    }
    Ok(if ok { Outcome::Done } else { Outcome::CheckFails })
}

fn exactly<const N: usize>(option: &str, lengths: &[Taped], wanted: &str) -> Result<[f64; N], Fault> {
    let values: Vec<f64> = lengths.iter().map(|l| l.mm).collect();
    <[f64; N]>::try_from(values).map_err(|values| {
        Fault::new("wrong-count", option, format!("{option} lists {} lengths", values.len()))
            .hint(format!("give {wanted}"))
    })
}

fn answer(judged: &Squareness, allowed_mm: f64, ok: bool, true_diagonal_mm: f64) -> Answer {
    Answer {
        difference_mm: judged.difference_mm,
        allowed_mm,
        ok,
        rack_mm: judged.rack_mm,
        push: Push { corner: judged.push.map(|c| c.words()), distance_mm: judged.push_mm },
        tape_error_mm: judged.tape_error_mm,
        corner_angles_deg: judged.corner_angles_deg,
        true_diagonal_mm,
    }
}

fn text(judged: &Squareness, allowed_mm: f64, ok: bool, true_diagonal_mm: f64, units: Units) -> String {
    let l = |value: f64| length(mm(value), units);
    let mut out = String::new();
    let verdict = if ok { "within what the bolt holes take up" } else { "not square enough for its bolts" };
    let _ = writeln!(
        out,
        "diagonals differ by {} ({}), {} allowed: {verdict}",
        l(judged.difference_mm),
        length_exact(mm(judged.difference_mm), units),
        l(allowed_mm)
    );
    match judged.push {
        Some(corner) => {
            let _ = writeln!(
                out,
                "clamp the low edge and push the {} corner {} along the high edge",
                corner.words(),
                l(judged.push_mm)
            );
        }
        None => {
            let _ = writeln!(out, "the diagonals are equal: the frame is true");
        }
    }
    let angles: Vec<String> = judged.corner_angles_deg.iter().map(|a| format!("{}°", number(*a, 2))).collect();
    let _ = writeln!(out, "corners, from the low left round by the low right: {}", angles.join("  "));
    let _ = writeln!(
        out,
        "both diagonals of a true frame of this size: {} ({})",
        l(true_diagonal_mm),
        length_exact(mm(true_diagonal_mm), units)
    );
    let _ = writeln!(
        out,
        "the six lengths miss a flat figure by {} at the most: that much the tape is out",
        length_exact(mm(judged.tape_error_mm), units)
    );
    out
}
