//! Bolts, nuts and washers, and the length that a stack of members asks for.

use super::source::{Certainty, Source};
use crate::quantities::{INCH_NAMES, MM_PER_INCH};
use serde::Serialize;

/// A flat washer.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Washer {
    /// Hole (mm).
    pub inner_mm: f64,
    /// Outside diameter (mm).
    pub outer_mm: f64,
    /// Thickness; of metric washers the largest allowed one (mm).
    pub thickness_mm: f64,
    /// Where the figures come from.
    pub source: Source,
}

impl Washer {
    /// Area that presses on the wood when the hole through the wood is `hole_mm` wide (mm²).
    #[must_use]
    pub fn bearing_area_mm2(self, hole_mm: f64) -> f64 {
        std::f64::consts::FRAC_PI_4 * (self.outer_mm.powi(2) - hole_mm.max(self.inner_mm).powi(2))
    }
}

/// Which thread series and stock rules a bolt belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum BoltSeries {
    /// Inch hex bolts, coarse thread.
    Unc,
    /// ISO metric hex bolts.
    Metric,
}

/// A hexagon bolt with its nut and washers.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Bolt {
    /// `1/2 in` or `M12`.
    pub name: &'static str,
    /// Thread series.
    pub series: BoltSeries,
    /// Nominal diameter (mm).
    pub diameter_mm: f64,
    /// Distance between two threads (mm).
    pub pitch_mm: f64,
    /// Width across the flats of the head (mm).
    pub flats_mm: f64,
    /// Height of the head, nominal (mm).
    pub head_mm: f64,
    /// Height of the nut (metric: largest) (mm).
    pub nut_mm: f64,
    /// Small flat washer: SAE or ISO 7089.
    pub washer: Washer,
    /// Wide flat washer (USS), inch sizes only.
    pub wide_washer: Option<Washer>,
    /// Hole for a close fit: 1/16 in over, or ISO 273 normal (mm).
    pub hole_mm: f64,
    /// Tightest standard clearance hole (mm).
    pub close_hole_mm: f64,
    /// Tensile stress area (mm²).
    pub stress_area_mm2: f64,
    /// Root diameter of the thread for the yield equations of wood joints (mm).
    pub root_mm: f64,
    /// Where diameter, head, nut and thread come from.
    pub source: Source,
    /// Where the root diameter comes from.
    pub root_source: Source,
}

impl Bolt {
    /// Area of the unthreaded body (mm²).
    #[must_use]
    pub fn body_area_mm2(&self) -> f64 {
        std::f64::consts::FRAC_PI_4 * self.diameter_mm.powi(2)
    }

    /// Threaded length of a bolt `length_mm` long; a short bolt is threaded to the head (mm).
    ///
    /// # Source
    /// ASME B18.2.1: 2 d + 1/4 in up to 6 in, 2 d + 1/2 in above. ISO 4014: 2 d + 6 mm up to 125 mm, 2 d + 12 mm
    /// up to 200 mm, 2 d + 25 mm above (from memory).
    #[must_use]
    pub fn thread_length_mm(&self, length_mm: f64) -> f64 {
        const INCH_BORDER_MM: f64 = 6.0 * MM_PER_INCH + 0.01;
        let thread = match self.series {
            BoltSeries::Unc if length_mm <= INCH_BORDER_MM => 2.0 * self.diameter_mm + MM_PER_INCH / 4.0,
            BoltSeries::Unc => 2.0 * self.diameter_mm + MM_PER_INCH / 2.0,
            BoltSeries::Metric if length_mm <= 125.0 => 2.0 * self.diameter_mm + 6.0,
            BoltSeries::Metric if length_mm <= 200.0 => 2.0 * self.diameter_mm + 12.0,
            BoltSeries::Metric => 2.0 * self.diameter_mm + 25.0,
        };
        thread.min(length_mm)
    }

    /// Lengths that shops keep, shortest first (mm).
    #[must_use]
    pub fn stocked_lengths_mm(&self) -> Vec<f64> {
        match self.series {
            BoltSeries::Unc => inch_lengths(),
            BoltSeries::Metric => METRIC_LENGTHS_MM.into_iter().filter(|l| *l >= 2.0 * self.diameter_mm).collect(),
        }
    }

    /// Where the stocked lengths come from.
    #[must_use]
    pub fn lengths_source(&self) -> Source {
        match self.series {
            BoltSeries::Unc => INCH_LENGTHS,
            BoltSeries::Metric => METRIC_LENGTHS,
        }
    }
}

/// ASME B18.2.1 hex cap screw, B18.2.2 nut, seen in four reprints.
pub const INCH_HARDWARE: Source = Source::new("ASME B18.2.1, B18.2.2", "hex bolt and nut", Certainty::Agreed);
/// Small flat washer.
pub const SAE_WASHER: Source = Source::new("ASME B18.21.1", "SAE washer", Certainty::Transcribed);
/// Wide flat washer, as reprinted by a bolt maker and tabulated in an open repository; 7/16 in stands in neither.
pub const USS_WASHER: Source = Source::new("ASME B18.21.1", "type A wide washer", Certainty::Agreed);
/// The one size of it not seen.
pub const USS_WASHER_7_16: Source = Source::new("ASME B18.21.1", "type A wide washer, 7/16 in", Certainty::Memory);
/// Metric bolt, nut, washer and hole, from open data of a CAD package.
pub const METRIC_HARDWARE: Source =
    Source::new("ISO 4014, 4032, 7089, 273", "via bd_warehouse 0.4.0", Certainty::Transcribed);
/// Root diameter of inch bolts.
pub const ROOT_INCH: Source = Source::new("NDS-2018", "Table L1", Certainty::Agreed);
/// Root diameter of metric bolts: ISO 68-1 minor diameter of the external thread, d − 1.22687 p, which several open
/// repositories of thread tables have, one of them as the standard's Japanese twin JIS B 0205-4.
pub const ROOT_METRIC: Source = Source::new("ISO 68-1", "d − 1.22687 p", Certainty::Agreed);
/// Inch lengths in shops.
pub const INCH_LENGTHS: Source =
    Source::new("trade", "quarter inches to 6 in, half inches to 12 in", Certainty::Memory);
/// Metric lengths.
pub const METRIC_LENGTHS: Source =
    Source::new("ISO 4014", "standard lengths; above 200 mm from memory", Certainty::Memory);

/// Lengths above 200 mm, kept for timber work, are from memory.
const METRIC_LENGTHS_MM: [f64; 29] = [
    12.0, 16.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 55.0, 60.0, 65.0, 70.0, 80.0, 90.0, 100.0, 110.0, 120.0,
    130.0, 140.0, 150.0, 160.0, 180.0, 200.0, 220.0, 240.0, 260.0, 280.0, 300.0,
];

fn inch_lengths() -> Vec<f64> {
    let quarters = (2..=24).map(|q| f64::from(q) / 4.0);
    let halves = (13..=24).map(|h| f64::from(h) / 2.0);
    quarters.chain(halves).map(|inch| inch * MM_PER_INCH).collect()
}

/// One row of the inch table: all in inches but the threads per inch.
struct InchRow {
    name: &'static str,
    diameter: f64,
    threads: f64,
    flats: f64,
    head: f64,
    nut: f64,
    sae: [f64; 3],
    uss: [f64; 3],
    close: f64,
    root: f64,
}

const INCH: [InchRow; 7] = [
    InchRow {
        name: "1/4 in",
        diameter: 0.25,
        threads: 20.0,
        flats: 0.4375,
        head: 0.156_25,
        nut: 0.218_75,
        sae: [0.281_25, 0.625, 0.0625],
        uss: [0.3125, 0.734_375, 0.065],
        close: 0.265_625,
        root: 0.189,
    },
    InchRow {
        name: "5/16 in",
        diameter: 0.3125,
        threads: 18.0,
        flats: 0.5,
        head: 0.203_125,
        nut: 0.265_625,
        sae: [0.343_75, 0.6875, 0.0625],
        uss: [0.375, 0.875, 0.083],
        close: 0.328_125,
        root: 0.245,
    },
    InchRow {
        name: "3/8 in",
        diameter: 0.375,
        threads: 16.0,
        flats: 0.5625,
        head: 0.234_375,
        nut: 0.328_125,
        sae: [0.406_25, 0.8125, 0.0625],
        uss: [0.4375, 1.0, 0.083],
        close: 0.390_625,
        root: 0.298,
    },
    InchRow {
        name: "7/16 in",
        diameter: 0.4375,
        threads: 14.0,
        flats: 0.625,
        head: 0.281_25,
        nut: 0.375,
        sae: [0.468_75, 0.921_875, 0.0625],
        uss: [0.5, 1.25, 0.083],
        close: 0.468_75,
        // Not in the printed list: minor diameter d − 1.226869/n.
        root: 0.3499,
    },
    InchRow {
        name: "1/2 in",
        diameter: 0.5,
        threads: 13.0,
        flats: 0.75,
        head: 0.3125,
        nut: 0.4375,
        sae: [0.531_25, 1.0625, 0.093_75],
        uss: [0.5625, 1.375, 0.109],
        close: 0.531_25,
        root: 0.406,
    },
    InchRow {
        name: "5/8 in",
        diameter: 0.625,
        threads: 11.0,
        flats: 0.9375,
        head: 0.390_625,
        nut: 0.546_875,
        sae: [0.656_25, 1.3125, 0.093_75],
        uss: [0.6875, 1.75, 0.134],
        close: 0.656_25,
        root: 0.514,
    },
    InchRow {
        name: "3/4 in",
        diameter: 0.75,
        threads: 10.0,
        flats: 1.125,
        head: 0.468_75,
        nut: 0.640_625,
        sae: [0.8125, 1.5, 0.140_625],
        uss: [0.8125, 2.0, 0.148],
        close: 0.781_25,
        root: 0.627,
    },
];

/// Name, diameter, pitch, flats, head, nut, washer hole, outside and thickness, close and normal hole, stress area (mm).
const METRIC: [(&str, [f64; 11]); 5] = [
    ("M6", [6.0, 1.0, 10.0, 4.0, 5.2, 6.4, 12.0, 1.8, 6.4, 6.6, 20.1]),
    ("M8", [8.0, 1.25, 13.0, 5.3, 6.8, 8.4, 16.0, 1.8, 8.4, 9.0, 36.6]),
    ("M10", [10.0, 1.5, 16.0, 6.4, 8.4, 10.5, 20.0, 2.2, 10.5, 11.0, 58.0]),
    ("M12", [12.0, 1.75, 18.0, 7.5, 10.8, 13.0, 24.0, 2.7, 13.0, 14.0, 84.3]),
    ("M16", [16.0, 2.0, 24.0, 10.0, 14.8, 17.0, 30.0, 3.3, 17.0, 18.0, 156.7]),
];

fn washer([inner_mm, outer_mm, thickness_mm]: [f64; 3], source: Source) -> Washer {
    Washer { inner_mm, outer_mm, thickness_mm, source }
}

fn inch_bolt(row: &InchRow) -> Bolt {
    let mm = |inch: f64| inch * MM_PER_INCH;
    let stress = std::f64::consts::FRAC_PI_4 * (row.diameter - 0.9743 / row.threads).powi(2);
    Bolt {
        name: row.name,
        series: BoltSeries::Unc,
        diameter_mm: mm(row.diameter),
        pitch_mm: MM_PER_INCH / row.threads,
        flats_mm: mm(row.flats),
        head_mm: mm(row.head),
        nut_mm: mm(row.nut),
        washer: washer(row.sae.map(mm), SAE_WASHER),
        wide_washer: Some(washer(row.uss.map(mm), if row.name == "7/16 in" { USS_WASHER_7_16 } else { USS_WASHER })),
        hole_mm: mm(row.diameter + 0.0625),
        close_hole_mm: mm(row.close),
        stress_area_mm2: stress * MM_PER_INCH.powi(2),
        root_mm: mm(row.root),
        source: INCH_HARDWARE,
        root_source: ROOT_INCH,
    }
}

fn metric_bolt((name, row): &(&'static str, [f64; 11])) -> Bolt {
    let [d, pitch, flats, head, nut, inner, outer, thick, close, normal, stress] = *row;
    Bolt {
        name,
        series: BoltSeries::Metric,
        diameter_mm: d,
        pitch_mm: pitch,
        flats_mm: flats,
        head_mm: head,
        nut_mm: nut,
        washer: washer([inner, outer, thick], METRIC_HARDWARE),
        wide_washer: None,
        hole_mm: normal,
        close_hole_mm: close,
        stress_area_mm2: stress,
        root_mm: d - 1.226_87 * pitch,
        source: METRIC_HARDWARE,
        root_source: ROOT_METRIC,
    }
}

static BOLTS: std::sync::LazyLock<Vec<Bolt>> =
    std::sync::LazyLock::new(|| INCH.iter().map(inch_bolt).chain(METRIC.iter().map(metric_bolt)).collect());

/// A bolt size that stands in no table.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("no bolt is called {given}; the sizes are {}", bolts().iter().map(|b| b.name).collect::<Vec<_>>().join(", "))]
pub struct UnknownBolt {
    /// What was asked for.
    pub given: String,
}

/// Every bolt size: inch sizes first, each series from thin to thick.
#[must_use]
pub fn bolts() -> &'static [Bolt] {
    &BOLTS
}

/// The bolt of that size: `1/2 in`, `1/2`, `0.5 in`, `M12`, `12 mm`.
///
/// # Errors
/// [`UnknownBolt`], which lists the sizes.
///
/// # Example
/// ```
/// use tiltwright::catalogue::bolt;
/// assert_eq!(bolt("1/2\"")?.diameter_mm, 12.7);
/// assert_eq!(bolt("m12")?.diameter_mm, 12.0);
/// # Ok::<(), tiltwright::catalogue::UnknownBolt>(())
/// ```
pub fn bolt(name: &str) -> Result<&'static Bolt, UnknownBolt> {
    let text: String = name.to_lowercase().chars().filter(|c| !c.is_whitespace()).collect();
    let unknown = || UnknownBolt { given: name.chars().take(40).collect() };
    let metric = text.starts_with('m') || text.ends_with("mm");
    let units: &[&str] = if metric { &["mm"] } else { INCH_NAMES };
    let plain = units.iter().find_map(|unit| text.strip_suffix(unit)).unwrap_or(&text);
    let number = plain.strip_prefix('m').unwrap_or(plain);
    let value = match number.split_once('/') {
        Some((above, below)) => above.parse::<f64>().ok().zip(below.parse::<f64>().ok()).map(|(a, b)| a / b),
        None => number.parse().ok(),
    }
    .ok_or_else(unknown)?;
    let diameter_mm = if metric { value } else { value * MM_PER_INCH };
    let series = if metric { BoltSeries::Metric } else { BoltSeries::Unc };
    bolts().iter().find(|b| b.series == series && (b.diameter_mm - diameter_mm).abs() < 0.02).ok_or_else(unknown)
}

/// A bolt length chosen for a stack.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct BoltLength {
    /// Length under the head, next stocked one (mm).
    pub length_mm: f64,
    /// Least length by the grip rule (mm).
    pub needed_mm: f64,
    /// Threaded part of it (mm).
    pub thread_mm: f64,
    /// Threaded part that lies inside the grip (members and washers) (mm).
    pub thread_in_grip_mm: f64,
    /// Washers of the same thickness to add under the nut, so that it does not run onto the unthreaded shank.
    pub extra_washers: u32,
}

/// No stocked bolt is long enough.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("a {bolt} bolt of at least {needed_mm:.0} mm is needed and the longest stocked one is {longest_mm:.0} mm")]
pub struct NoStockedLength {
    /// Bolt size.
    pub bolt: &'static str,
    /// Least length by the grip rule (mm).
    pub needed_mm: f64,
    /// Longest stocked length (mm).
    pub longest_mm: f64,
}

/// The next stocked length for a grip: members, then `washers` washers of `washer_mm`, one nut and two threads.
///
/// ```text
/// L ≥ grip + washers + nut + 2 threads        L − thread ≤ grip + washers
/// ```
///
/// The second line keeps the nut off the unthreaded shank; when the stocked bolt breaks it, washers are added under
/// the nut until it holds, and the length is chosen again.
///
/// # Errors
/// [`NoStockedLength`] when the grip is longer than any stocked bolt.
///
/// # Source
/// Grip rule: common practice, no source. Lengths: [`Bolt::lengths_source`].
pub fn bolt_length(bolt: &Bolt, grip_mm: f64, washers: u32, washer_mm: f64) -> Result<BoltLength, NoStockedLength> {
    let stocked = bolt.stocked_lengths_mm();
    let longest_mm = stocked.last().copied().unwrap_or_default();
    const MOST_EXTRA: u32 = 12;
    let mut first_needed_mm = None;
    for extra in 0..=MOST_EXTRA {
        let stack_mm = grip_mm + f64::from(washers + extra) * washer_mm;
        let needed_mm = stack_mm + bolt.nut_mm + 2.0 * bolt.pitch_mm;
        first_needed_mm.get_or_insert(needed_mm);
        let Some(length_mm) = stocked.iter().copied().find(|l| *l >= needed_mm - 1e-9) else { break };
        let thread_mm = bolt.thread_length_mm(length_mm);
        if length_mm - thread_mm <= stack_mm + 1e-9 {
            let thread_in_grip_mm = (stack_mm - (length_mm - thread_mm)).max(0.0);
            return Ok(BoltLength { length_mm, needed_mm, thread_mm, thread_in_grip_mm, extra_washers: extra });
        }
        if washer_mm <= 0.0 {
            break;
        }
    }
    Err(NoStockedLength { bolt: bolt.name, needed_mm: first_needed_mm.unwrap_or(grip_mm), longest_mm })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stress_areas_are_the_printed_ones() {
        // Table of strengths per bolt, computed from ASME B1.1 threads [in²]; ISO 898-1 stress areas [mm²].
        for (name, area) in [
            ("1/4", 0.0318),
            ("5/16", 0.0524),
            ("3/8", 0.0775),
            ("7/16", 0.1063),
            ("1/2", 0.1419),
            ("5/8", 0.2260),
            ("3/4", 0.3345),
        ] {
            let got = bolt(name).expect("a size").stress_area_mm2 / MM_PER_INCH.powi(2);
            assert!((got - area).abs() < 6e-5, "{name}: {got}");
        }
        for b in bolts().iter().filter(|b| b.series == BoltSeries::Metric) {
            let iso = std::f64::consts::FRAC_PI_4 * (b.diameter_mm - 0.9382 * b.pitch_mm).powi(2);
            assert!((iso / b.stress_area_mm2 - 1.0).abs() < 2e-3, "{}", b.name);
        }
    }

    #[test]
    fn thread_lengths_are_the_printed_column() {
        for (name, thread_in) in
            [("1/4", 0.75), ("3/8", 1.0), ("7/16", 1.125), ("1/2", 1.25), ("5/8", 1.5), ("3/4", 1.75)]
        {
            let b = bolt(name).expect("a size");
            assert!((b.thread_length_mm(101.6) / MM_PER_INCH - thread_in).abs() < 1e-9, "{name}");
        }
    }

    #[test]
    fn two_by_on_four_by_takes_a_six_inch_half_inch_bolt() {
        // 1-1/2 + 3-1/2 + 2 × 3/32 + 7/16 + 2/13 = 5.779 in.
        let b = bolt("1/2 in").expect("a size");
        let chosen = bolt_length(b, 127.0, 2, b.washer.thickness_mm).expect("stocked");
        assert!((chosen.needed_mm / MM_PER_INCH - 5.778_8).abs() < 1e-3);
        assert_eq!(chosen.length_mm, 6.0 * MM_PER_INCH);
        assert_eq!(chosen.extra_washers, 0);
        assert!((chosen.thread_in_grip_mm / MM_PER_INCH - (5.1875 - 4.75)).abs() < 1e-9);
    }

    #[test]
    fn the_nut_never_runs_onto_the_shank() {
        for b in bolts() {
            for grip in (10..180).map(f64::from) {
                let Ok(chosen) = bolt_length(b, grip, 2, b.washer.thickness_mm) else { continue };
                let stack = grip + f64::from(2 + chosen.extra_washers) * b.washer.thickness_mm;
                assert!(chosen.length_mm >= stack + b.nut_mm + 2.0 * b.pitch_mm - 1e-6, "{} {grip}", b.name);
                assert!(chosen.length_mm - chosen.thread_mm <= stack + 1e-6, "{} {grip}", b.name);
            }
        }
    }

    #[test]
    fn a_grip_beyond_the_shelf_is_refused() {
        let b = bolt("M16").expect("a size");
        let error = bolt_length(b, 340.0, 2, 3.0).expect_err("no such bolt");
        assert_eq!(error.to_string(), "a M16 bolt of at least 365 mm is needed and the longest stocked one is 300 mm");
        assert!(bolt("9/16").is_err() && bolt("M7").is_err() && bolt("").is_err());
    }
}
