//! One design for each check of the fixed list in which it governs: a committed design of which some lines are replaced,
//! and what then doubles the demand or halves what resists.

/// One check.
pub(super) struct Row {
    pub(super) check: &'static str,
    pub(super) base: &'static str,
    pub(super) changes: &'static [Changes],
    pub(super) twice: Twice,
}

pub(super) type Changes = &'static [(&'static str, &'static str)];

/// How the check is seen to double.
pub(super) enum Twice {
    /// This replacement doubles the demand, or halves what resists.
    Doubled(&'static str, &'static str),
    /// The design governs with the doubled demand; this replacement halves it.
    Halved(&'static str, &'static str),
    /// Equal steps of wind: first gust (mph), and how often its pressure the second and third have.
    Gust(f64, [f64; 2]),
    /// Equal steps of ground snow (psf).
    Snow([f64; 3]),
    /// Equal steps of a panel's mass (kg).
    PanelKg([f64; 3]),
    /// Equal steps of a panel's mass (lb).
    PanelLb([f64; 3]),
    /// Not in a straight line: see `hand.rs`.
    ByHand,
    /// Never has a value, so that it can not govern.
    NoValue { state: &'static str, why: &'static str },
}

use Twice::{ByHand, Doubled, Gust, Halved, NoValue, PanelKg, PanelLb, Snow};

pub(super) const SMALL: &str = "tests/commands/small_frame.yaml";
const SAMPLE: &str = "designs/sample.yaml";
const PURLINS: &str = "designs/landscape-purlins.yaml";
const RUNNERS: &str = "designs/runners-ground.yaml";
const STEEL: &str = "designs/steel-frame.yaml";

/// Checks that never come first, and the one that is always before them. The shear of a wooden member counts in full beside
/// its twist (the stresses are added), and where a bolt brings the force the member hangs from it by half its depth.
pub(super) const BEHIND: [(&str, &str); 1] = [("member-shear", "member-torsion")];

const LOW: Changes = &[("tilts: [12 deg, 37 deg, 61 deg, 37 deg]", "tilts: [12 deg]")];
const MIDDLE: Changes = &[("tilts: [12 deg, 37 deg, 61 deg, 37 deg]", "tilts: [37 deg]")];
const STEEP: Changes = &[("tilts: [12 deg, 37 deg, 61 deg, 37 deg]", "tilts: [61 deg]")];
/// The loosest limits a design may write.
const LOOSE: Changes =
    &[("shop:", "serviceability: {deflection: 20, deflection_total: 20, twist: 20, sway: 20}\nshop:")];

const PURLINS_LOW: Changes = &[("tilts: [10 deg, 33 deg, 58 deg]", "tilts: [10 deg]")];
const PURLINS_MIDDLE: Changes = &[("tilts: [10 deg, 33 deg, 58 deg]", "tilts: [33 deg]")];
/// Narrow flat bars under short wooden purlins: they press hard on little wood, and all else is strong.
const NARROW_STILES: Changes = &[
    ("rail: 2x8", "rail: HSS3x1-1/2x1/4"),
    ("stile: 4x8", "stile: bar 3x1/4"),
    ("{section: 2x4, leg: 16 in", "{section: bar 2x1/4, leg: 9 in"),
    ("section: 6x8", "section: HSS4x4x3/8"),
    ("stay: {section: 2x4, pin_along: 36 in", "stay: {section: HSS2x1x1/8, pin_along: 14 in"),
    ("pin_below_axle: 36 in", "pin_below_axle: 14 in"),
    ("  bolt: 3/4 in\n", "  bolt: 3/4 in\n  bolt_grade: A325\n"),
    ("class: 3", "class: 1"),
    ("face: 3600 Pa, back: 1600 Pa", "face: 20000 Pa, back: 9000 Pa"),
    ("ground: 20 psf", "ground: 200 psf"),
    ("long_side: 2094 mm\n  short_side: 1038 mm", "long_side: 1000 mm\n  short_side: 500 mm"),
    ("mass: 52 lb", "mass: 48 lb"),
    ("{along_long_side: 1100 mm, across: 790 mm", "{along_long_side: 600 mm, across: 400 mm"),
    ("rows: 2", "rows: 1"),
    ("orientation: landscape", "orientation: portrait"),
    ("leg: 9 in", "leg: 4 in"),
];

const RUNNERS_LOW: Changes = &[("tilts: [20 deg, 35 deg, 50 deg]", "tilts: [20 deg]")];
const RUNNERS_STEEP: Changes = &[("tilts: [20 deg, 35 deg, 50 deg]", "tilts: [50 deg]")];
const BALLAST: &str = "ballast: {per_runner: 450 lb, contact: timber on concrete, block: 34 lb, placed: ends}\n";
const TWICE_THE_PANEL: Changes = &[("mass: 47 lb", "mass: 100 lb")];
const FEW_BRACKETS: Changes = &[
    (BALLAST, ""),
    (
        "on: ground",
        "on: deck
    tie_downs:
      per_runner: 4
      bracket: {uplift: 250 lbf, lateral: 180 lbf}
      lag: {screw: lag 3/8 in, length: 4 in, count: 2, plate: 3/16 in, species: southern-pine}",
    ),
];

const STEEL_LOW: Changes = &[("tilts: [12 deg, 32 deg, 54 deg]", "tilts: [12 deg]")];
/// A frame of steel on posts that stand deep in rock: little is asked of anything.
const IN_ROCK: Changes = &[
    ("embedment: 64 in\n    hole_diameter: 16 in", "embedment: 96 in\n    hole_diameter: 30 in"),
    ("face: 3600 Pa, back: 1600 Pa", "face: 9000 Pa, back: 9000 Pa"),
    ("class: 4", "class: 1"),
    ("frost_depth: 18 in", "frost_depth: 6 in"),
];
const THICK_AXLE: Changes = &[("bolt: 5/8 in", "bolt: 3/4 in")];

pub(super) const TABLE: &[Row] = &[
    Row {
        check: "member-bending",
        base: SAMPLE,
        changes: &[LOW, &[("grade: no2", "grade: no3")]],
        twice: Snow([20.0, 40.0, 60.0]),
    },
    Row {
        check: "member-shear",
        base: PURLINS,
        changes: &[PURLINS_LOW, LOOSE, NARROW_STILES],
        twice: Snow([200.0, 300.0, 400.0]),
    },
    Row {
        check: "member-torsion",
        base: RUNNERS,
        changes: &[RUNNERS_LOW, TWICE_THE_PANEL],
        twice: PanelLb([100.0, 130.0, 160.0]),
    },
    Row {
        check: "net-section",
        base: STEEL,
        changes: &[
            STEEL_LOW,
            LOOSE,
            IN_ROCK,
            THICK_AXLE,
            &[("pin_behind", "pin_along: 30 in, pin_behind"), ("HSS4x4x1/4\n    axle", "HSS4x4x1/8\n    axle")],
        ],
        twice: PanelKg([21.5, 50.5, 79.5]),
    },
    Row {
        check: "hung-shear",
        base: SAMPLE,
        changes: &[LOW, &[("ground: 20 psf", "ground: 40 psf")]],
        twice: Snow([40.0, 50.0, 60.0]),
    },
    Row {
        check: "tear-out",
        base: STEEL,
        changes: &[
            LOOSE,
            IN_ROCK,
            THICK_AXLE,
            &[
                ("tilts: [12 deg, 32 deg, 54 deg]", "tilts: [12 deg, 26 deg]"),
                (
                    "  rail: HSS",
                    "  species: spruce-pine-fir
  grade: no3
  treated: true
  wet_service: false
  incised: true
  rail: HSS",
                ),
                ("stay: {section: HSS2x1x1/8, ", "stay: {section: 2x4, pin_along: 15 in, "),
                ("pin: 1/2 in", "pin: 3/4 in"),
            ],
        ],
        twice: ByHand,
    },
    Row {
        check: "stay",
        base: STEEL,
        changes: &[
            STEEL_LOW,
            LOOSE,
            IN_ROCK,
            THICK_AXLE,
            &[
                (
                    "  rail: HSS",
                    "  species: southern-pine
  grade: no3
  treated: true
  wet_service: false
  incised: true
  rail: HSS",
                ),
                ("stay: {section: HSS2x1x1/8, ", "stay: {section: 2x2, pin_along: 55 in, "),
                ("  rows: 1", "  rows: 2"),
                ("axle_height: 44 in", "axle_height: 80 in"),
            ],
        ],
        twice: ByHand,
    },
    Row {
        check: "axle",
        base: STEEL,
        changes: &[STEEL_LOW, LOOSE, IN_ROCK, &[("ground: 10 psf", "ground: 120 psf")]],
        twice: Snow([120.0, 180.0, 240.0]),
    },
    Row {
        check: "frame-pin",
        base: SAMPLE,
        changes: &[LOW, &[("pin: 5/8 in", "pin: 1/4 in"), ("ground: 20 psf", "ground: 40 psf")]],
        twice: Snow([40.0, 50.0, 60.0]),
    },
    Row {
        check: "fixed-pin",
        base: RUNNERS,
        changes: &[
            RUNNERS_STEEP,
            FEW_BRACKETS,
            &[
                ("uplift: 250 lbf, lateral: 180 lbf", "uplift: 25000 lbf, lateral: 18000 lbf"),
                ("length: 4 in, count: 2", "length: 4 in, count: 8"),
                ("gust: 95 mph", "gust: 130 mph"),
                ("section: 4x4, pin", "section: 2x4, pin"),
            ],
        ],
        // In much more wind the compression of the thin stays begins to count in second order.
        twice: Gust(130.0, [1.1, 1.2]),
    },
    Row {
        check: "brace",
        base: STEEL,
        changes: &[STEEL_LOW, LOOSE, IN_ROCK, THICK_AXLE, &[("bar 2x1/4, leg: 9 in", "bar 1x1/8, leg: 5 in")]],
        // Below such a gust a person who pushes the frame sideways asks more of it.
        twice: Gust(240.0, [1.25, 1.5]),
    },
    Row {
        check: "brace-screws",
        base: SAMPLE,
        changes: &[
            MIDDLE,
            &[("{screw: \"#12\", length: 3 in, count: 2}", "{screw: \"#8\", length: 2-1/2 in, count: 1}")],
        ],
        twice: Halved("length: 2-1/2 in, count: 1", "length: 2-1/2 in, count: 2"),
    },
    Row {
        check: "corner-screws",
        base: SAMPLE,
        changes: &[LOW, &[("length: 4 in, count: 3", "length: 4 in, count: 2")]],
        twice: Doubled("length: 4 in, count: 2", "length: 4 in, count: 1"),
    },
    Row {
        check: "bearing",
        base: PURLINS,
        changes: &[PURLINS_LOW, LOOSE, NARROW_STILES],
        twice: Snow([200.0, 300.0, 400.0]),
    },
    Row {
        check: "panel-load",
        base: SAMPLE,
        changes: &[MIDDLE, &[("face: 3600 Pa, back: 1600 Pa", "face: 2400 Pa, back: 1000 Pa")]],
        twice: Doubled("face: 2400 Pa, back: 1000 Pa", "face: 1200 Pa, back: 500 Pa"),
    },
    Row {
        check: "clips",
        base: SAMPLE,
        changes: &[
            MIDDLE,
            &[
                // Where the maker's holes are told, a clip is bolted through each of the four.
                ("  mounting_holes: {along_long_side: 1400 mm, across: 1090 mm, diameter: 9 mm}\n", ""),
                ("length: 1-1/2 in, count: 2", "length: 1-1/2 in, count: 1"),
                ("clips_per_panel: 4", "clips_per_panel: 2"),
            ],
        ],
        twice: Halved("clips_per_panel: 2", "clips_per_panel: 4"),
    },
    Row {
        check: "purlins",
        base: PURLINS,
        changes: &[
            PURLINS_MIDDLE,
            &[("{screw: \"#14\", length: 5 in, count: 2}", "{screw: \"#8\", length: 5 in, count: 1}")],
        ],
        twice: Halved("length: 5 in, count: 1", "length: 5 in, count: 2"),
    },
    Row {
        check: "post-below-grade",
        base: SAMPLE,
        changes: &[
            STEEP,
            LOOSE,
            &[
                ("section: 4x8", "section: HSS2x2x1/8"),
                ("embedment: 66 in", "embedment: 84 in"),
                ("subgrade: 25 lb/in3", "subgrade: 100 lb/in3"),
            ],
        ],
        twice: ByHand,
    },
    Row {
        check: "embedment",
        base: SAMPLE,
        changes: &[STEEP, LOOSE, &[("embedment: 66 in", "embedment: 54 in")]],
        twice: ByHand,
    },
    Row {
        check: "base-bearing",
        base: STEEL,
        changes: &[
            STEEL_LOW,
            LOOSE,
            THICK_AXLE,
            &[
                ("embedment: 64 in\n    hole_diameter: 16 in", "embedment: 96 in\n    hole_diameter: 10 in"),
                ("face: 3600 Pa, back: 1600 Pa", "face: 9000 Pa, back: 9000 Pa"),
                ("class: 4", "class: 5"),
                ("ground: 10 psf", "ground: 40 psf"),
                ("gust: 95 mph", "gust: 60 mph"),
            ],
        ],
        twice: Snow([40.0, 50.0, 60.0]),
    },
    Row {
        check: "uplift",
        base: SAMPLE,
        changes: &[
            MIDDLE,
            LOOSE,
            &[
                ("class: 4", "class: 1"),
                ("gust: 100 mph", "gust: 140 mph"),
                ("embedment: 66 in", "embedment: 30 in"),
                ("frost_depth: 36 in", "frost_depth: 12 in"),
                ("ground: 20 psf", "ground: 5 psf"),
            ],
        ],
        twice: Gust(140.0, [2.0, 3.0]),
    },
    Row {
        check: "frost",
        base: SAMPLE,
        changes: &[LOW, &[("frost_depth: 36 in", "frost_depth: 100 in")]],
        twice: Halved("frost_depth: 100 in", "frost_depth: 50 in"),
    },
    Row {
        check: "ground-contact",
        base: SAMPLE,
        changes: &[LOW, &[("  treated: true\n", "")]],
        // Treated is treated: there is no more or less of it. Untreated wood is refused, see `strength.rs`.
        twice: NoValue { state: "not checked", why: "the design does not say whether the post 4x8" },
    },
    Row {
        check: "ballast",
        base: RUNNERS,
        changes: &[RUNNERS_STEEP, &[("per_runner: 450 lb", "per_runner: 306 lb")]],
        // ASCE 7-16 Eq. 26.10-1: √2 times the gust is twice the pressure. Sliding is the weight needed over the weight
        // there, and wind alone needs it.
        twice: Doubled("gust: 95 mph", "gust: 134.35028842544403 mph"),
    },
    Row {
        check: "stakes",
        base: RUNNERS,
        changes: &[
            RUNNERS_STEEP,
            &[
                ("soil: {class: 4}", "soil: {class: 3}"),
                (BALLAST, "stakes: {per_runner: 10, width: 3 in, depth: 48 in, pull_test: 600 lbf}\n"),
            ],
        ],
        twice: Doubled("pull_test: 600 lbf", "pull_test: 300 lbf"),
    },
    Row {
        check: "roof-brackets",
        base: RUNNERS,
        changes: &[RUNNERS_STEEP, FEW_BRACKETS],
        twice: Doubled("uplift: 250 lbf, lateral: 180 lbf", "uplift: 125 lbf, lateral: 90 lbf"),
    },
    Row {
        check: "roof-structure",
        base: RUNNERS,
        changes: &[RUNNERS_STEEP, FEW_BRACKETS],
        // Nothing of the building is known but its size: no number could be given, and the verdict stays open.
        twice: NoValue { state: "not checked", why: "is for an engineer to say" },
    },
    Row {
        check: "deflection",
        base: SAMPLE,
        changes: &[LOW, &[("shop:", "serviceability: {deflection: 1000, deflection_total: 1000}\nshop:")]],
        twice: Halved("deflection: 1000, deflection_total: 1000", "deflection: 500, deflection_total: 500"),
    },
    Row {
        check: "twist",
        base: SAMPLE,
        changes: &[STEEP, &[("shop:", "serviceability: {twist: 400}\nshop:")]],
        twice: Doubled("twist: 400", "twist: 800"),
    },
    Row {
        check: "sway",
        base: SAMPLE,
        changes: &[LOW, &[("shop:", "serviceability: {sway: 120}\nshop:")]],
        twice: Doubled("sway: 120", "sway: 240"),
    },
    Row {
        check: "frequency",
        base: STEEL,
        changes: &[
            STEEL_LOW,
            LOOSE,
            IN_ROCK,
            THICK_AXLE,
            &[("subgrade: 25 lb/in3", "subgrade: 0.5 lb/in3"), ("mass: 21.5 kg", "mass: 20 kg")],
        ],
        twice: ByHand,
    },
    Row {
        check: "one-stay-loose",
        base: RUNNERS,
        changes: &[RUNNERS_LOW, TWICE_THE_PANEL],
        twice: PanelLb([100.0, 130.0, 160.0]),
    },
];
