//! Wood screws, lag screws and nails, with the bending yield strength of dowels.

use super::source::{Certainty, Source};
use crate::quantities::MM_PER_INCH;
use serde::Serialize;

/// Kind of a driven or turned fastener.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum ScrewKind {
    /// Wood screw with rolled or cut thread.
    WoodScrew,
    /// Lag screw.
    Lag,
    /// Common wire nail, smooth.
    CommonNail,
}

/// A screw or nail size.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Screw {
    /// `#10`, `lag 3/8 in`, `10d`.
    pub name: &'static str,
    /// Kind.
    pub kind: ScrewKind,
    /// Nominal (shank) diameter (mm).
    pub diameter_mm: f64,
    /// Root diameter of the thread; of a nail the shank (mm).
    pub root_mm: f64,
    /// Length of the tapered tip (mm).
    pub tip_mm: f64,
    /// Where the figures come from.
    pub source: Source,
}

impl Screw {
    /// Threaded length of a screw `length_mm` long, tip included; zero for a nail (mm).
    ///
    /// # Source
    /// NDS-2018 Tables L2, L3: lag min(6 in, L/2 + 1/2 in), wood screw about 2 L/3.
    #[must_use]
    pub fn thread_length_mm(&self, length_mm: f64) -> f64 {
        match self.kind {
            ScrewKind::Lag => (length_mm / 2.0 + 0.5 * MM_PER_INCH).min(6.0 * MM_PER_INCH).min(length_mm),
            ScrewKind::WoodScrew => 2.0 * length_mm / 3.0,
            ScrewKind::CommonNail => 0.0,
        }
    }
}

/// Wood screws.
pub const WOOD_SCREWS: Source = Source::new("NDS-2018", "Table L3", Certainty::Transcribed);
/// Lag screws.
pub const LAG_SCREWS: Source = Source::new("NDS-2018", "Table L2", Certainty::Agreed);
/// Nails.
pub const NAILS: Source = Source::new("NDS-2018", "Tables 12N, L4", Certainty::Transcribed);
/// Bending yield strength.
pub const BENDING_YIELD: Source = Source::new("NDS-2018", "Table I1", Certainty::Agreed);

const fn inch(name: &'static str, kind: ScrewKind, d: f64, root: f64, tip: f64, source: Source) -> Screw {
    Screw { name, kind, diameter_mm: d * MM_PER_INCH, root_mm: root * MM_PER_INCH, tip_mm: tip * MM_PER_INCH, source }
}

/// Every screw and nail size, wood screws first. The tip of a nail or wood screw is twice its diameter.
pub const SCREWS: [Screw; 16] = [
    inch("#6", ScrewKind::WoodScrew, 0.138, 0.113, 0.276, WOOD_SCREWS),
    inch("#8", ScrewKind::WoodScrew, 0.164, 0.131, 0.328, WOOD_SCREWS),
    inch("#9", ScrewKind::WoodScrew, 0.177, 0.142, 0.354, WOOD_SCREWS),
    inch("#10", ScrewKind::WoodScrew, 0.190, 0.152, 0.380, WOOD_SCREWS),
    inch("#12", ScrewKind::WoodScrew, 0.216, 0.171, 0.432, WOOD_SCREWS),
    inch("#14", ScrewKind::WoodScrew, 0.242, 0.196, 0.484, WOOD_SCREWS),
    inch("lag 1/4 in", ScrewKind::Lag, 0.25, 0.173, 0.156_25, LAG_SCREWS),
    inch("lag 5/16 in", ScrewKind::Lag, 0.3125, 0.227, 0.1875, LAG_SCREWS),
    inch("lag 3/8 in", ScrewKind::Lag, 0.375, 0.265, 0.218_75, LAG_SCREWS),
    inch("lag 1/2 in", ScrewKind::Lag, 0.5, 0.371, 0.3125, LAG_SCREWS),
    inch("lag 5/8 in", ScrewKind::Lag, 0.625, 0.471, 0.406_25, LAG_SCREWS),
    inch("lag 3/4 in", ScrewKind::Lag, 0.75, 0.579, 0.5, LAG_SCREWS),
    inch("6d", ScrewKind::CommonNail, 0.113, 0.113, 0.226, NAILS),
    inch("8d", ScrewKind::CommonNail, 0.131, 0.131, 0.262, NAILS),
    inch("10d", ScrewKind::CommonNail, 0.148, 0.148, 0.296, NAILS),
    inch("16d", ScrewKind::CommonNail, 0.162, 0.162, 0.324, NAILS),
];

/// A screw name that stands in no table.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("no screw is called {given}; the sizes are {}", SCREWS.iter().map(|s| s.name).collect::<Vec<_>>().join(", "))]
pub struct UnknownScrew {
    /// What was asked for.
    pub given: String,
}

/// The screw or nail of that name; case and spaces do not matter.
///
/// # Errors
/// [`UnknownScrew`], which lists the sizes.
pub fn screw(name: &str) -> Result<&'static Screw, UnknownScrew> {
    let plain =
        |text: &str| text.to_lowercase().replace([' ', '"', '”', '“', '″'], "").trim_end_matches("in").to_string();
    static ALL: [Screw; 16] = SCREWS;
    ALL.iter()
        .find(|screw| plain(screw.name) == plain(name))
        .ok_or_else(|| UnknownScrew { given: name.chars().take(40).collect() })
}

/// Bending yield strength of nails and wood screws (psi) by the diameter listed in the table, `None` outside it.
///
/// # Source
/// NDS-2018 Table I1 p. 175 (two transcriptions).
#[must_use]
pub fn nail_yield_psi(diameter_in: f64) -> Option<f64> {
    const BANDS: [(f64, f64); 6] = [
        (0.142, 100_000.0),
        (0.177, 90_000.0),
        (0.236, 80_000.0),
        (0.273, 70_000.0),
        (0.344, 60_000.0),
        (0.375, 45_000.0),
    ];
    const THINNEST: f64 = 0.099;
    (diameter_in >= THINNEST - 1e-9)
        .then(|| BANDS.iter().find(|(upto, _)| diameter_in <= upto + 1e-9).map(|(_, psi)| *psi))
        .flatten()
}

/// Bending yield strength of bolts and lag screws (psi) by nominal diameter.
///
/// # Source
/// NDS-2018 Table I1: 45 000 psi from 3/8 in on and for bolts; lags of 1/4 in 70 000 and 5/16 in 60 000.
#[must_use]
pub fn dowel_yield_psi(is_lag: bool, diameter_in: f64) -> f64 {
    match is_lag {
        true if diameter_in < 0.28 => 70_000.0,
        true if diameter_in < 0.37 => 60_000.0,
        _ => 45_000.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lag_threads_are_the_printed_ones() {
        // NDS-2018 Table L2, length and thread [in].
        let lag = screw("lag 1/2").expect("a size");
        for (length, thread) in [(3.0, 2.0), (4.0, 2.5), (5.0, 3.0), (6.0, 3.5), (7.0, 4.0), (8.0, 4.5), (14.0, 6.0)] {
            assert!((lag.thread_length_mm(length * MM_PER_INCH) / MM_PER_INCH - thread).abs() < 1e-9, "{length}");
        }
    }

    #[test]
    fn yield_strength_falls_with_the_diameter() {
        assert_eq!(nail_yield_psi(0.131), Some(100_000.0));
        assert_eq!(nail_yield_psi(0.148), Some(90_000.0));
        assert_eq!(nail_yield_psi(0.190), Some(80_000.0));
        assert_eq!(nail_yield_psi(0.242), Some(70_000.0));
        assert_eq!(nail_yield_psi(0.09), None);
        assert_eq!(nail_yield_psi(0.5), None);
        assert_eq!(dowel_yield_psi(true, 0.25), 70_000.0);
        assert_eq!(dowel_yield_psi(false, 0.25), 45_000.0);
    }
}
