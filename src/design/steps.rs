//! Values at equal steps between two ends.

use super::{
    Fault,
    choices::Offer,
    fields::{Field, Kind},
};
use crate::quantities::{Units, kg, length, mass, mm, number};

/// Most values one range may give.
const MOST: usize = 1000;

/// Every value from the first end on, step by step, not beyond the other end, as a design file would hold it.
pub(super) fn between(
    own: &str,
    field: &Field,
    [from, to, step]: [&str; 3],
    units: Units,
) -> Result<Vec<String>, Fault> {
    let kind = field.kind;
    if !kind.has_steps() {
        return Err(Fault::new("no-steps", own, format!("`{}` has no steps to count off", field.path))
            .hint("list the values one by one"));
    }
    let number_of = |name: &str, text: &str| {
        value_of(kind, text).map_err(|why| Fault::new("bad-value", format!("{own}.{name}"), why))
    };
    let (from, to, step) = (number_of("from", from)?, number_of("to", to)?, number_of("step", step)?);
    if step <= 0.0 || step.is_nan() {
        return Err(Fault::new("out-of-range", format!("{own}.step"), "the step is not above zero")
            .hint("write how far the values lie apart"));
    }
    if to < from || to.is_nan() || from.is_nan() {
        return Err(Fault::new("out-of-range", format!("{own}.to"), "the range ends before it begins")
            .hint("swap `from` and `to`"));
    }
    // The last value stands although the division falls a rounding short of a whole number.
    const ROUNDING: f64 = 1e-9;
    let steps = ((to - from) / step + ROUNDING).floor();
    if steps >= MOST as f64 {
        return Err(Fault::new("too-many-values", own, format!("the range gives {} values", steps + 1.0))
            .hint(format!("a range gives at most {MOST}: widen the step")));
    }
    Ok((0..=steps as usize).map(|i| text_of(kind, from + step * i as f64, units)).collect())
}

/// A value in the base unit of its kind: mm, kg, degrees, or a count.
fn value_of(kind: Kind, text: &str) -> Result<f64, String> {
    match kind.number(&Offer::from_text(text).0) {
        Ok(Some(value)) => Ok(value),
        Err(why) if !matches!(kind, Kind::Count(_)) => Err(why),
        _ => Err(format!("`{text}` is no whole number")),
    }
}

/// The shortest text that reads back as the value: in the design's units, in the other, else in plain numbers.
fn text_of(kind: Kind, value: f64, units: Units) -> String {
    const SAME: f64 = 1e-9;
    let other = match units {
        Units::Us => Units::Metric,
        Units::Metric => Units::Us,
    };
    let (texts, plain) = match kind {
        Kind::Length(_) => ([units, other].map(|u| length(mm(value), u)), format!("{value} mm")),
        Kind::Mass(_) => ([units, other].map(|u| mass(kg(value), u)), format!("{value} kg")),
        Kind::Angle(_) => {
            let text = format!("{} deg", number(value, 2));
            ([text.clone(), text], format!("{value} deg"))
        }
        _ => return number(value, 0),
    };
    let reads_back =
        |text: &String| value_of(kind, text).is_ok_and(|v| (v - value).abs() <= SAME * value.abs().max(1.0));
    texts.into_iter().find(reads_back).unwrap_or(plain)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        design::choices::named,
        quantities::{Length, read, to_mm},
    };

    fn range(path: &str, ends: [&str; 3], units: Units) -> Vec<String> {
        between("size", named(path).expect("a field"), ends, units).unwrap_or_else(|fault| panic!("{fault}"))
    }

    #[test]
    fn a_range_counts_off_and_never_runs_over() {
        let embedment = "support.posts.embedment";
        assert_eq!(range(embedment, ["36 in", "4 ft", "6 in"], Units::Us), ["3 ft", "3 ft 6 in", "4 ft"]);
        assert_eq!(range(embedment, ["36 in", "47 in", "6 in"], Units::Us), ["3 ft", "3 ft 6 in"]);
        assert_eq!(range(embedment, ["900 mm", "1.2 m", "150 mm"], Units::Metric), ["900 mm", "1050 mm", "1200 mm"]);
        assert_eq!(range("joints.corner.count", ["2", "4", "1"], Units::Us), ["2", "3", "4"]);
        assert_eq!(
            range("ballast.per_runner", ["100 lb", "150 lb", "25 lb"], Units::Us),
            ["100 lb", "125 lb", "150 lb"]
        );
    }

    #[test]
    fn a_value_off_the_tape_is_kept_exactly() {
        let third = range("support.posts.embedment", ["1000 mm", "1001 mm", "0.3 mm"], Units::Us);
        let read: Vec<f64> = third.iter().map(|t| to_mm(read::<Length>(t).expect("a length"))).collect();
        assert!((read[1] - 1000.3).abs() < 1e-6, "{third:?}");
    }
}
