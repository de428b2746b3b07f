//! The rows, in the order of a design file.

use super::{
    BearsOn::{
        self, BraceScrews, Clips, CornerScrews, Cutting, Forces, Ground, Layout, Loads, Money, Movement, Print,
        Purlins, Search, Strength, Sun,
    },
    Field,
    Kind::{
        Angle, Angles, Block, Bolt, BoltGrade, Choices, Contact, Count, Counts, Currency, Flag, Force, GoodsSize,
        Grade, Latitude, Length, Longitude, Mass, Number, Pressure, Price, Rows, Screw, Section, Slope, Species, Speed,
        Subgrade, Text, Words,
    },
    Ladder,
    LeftOut::{Asked, Chosen, Default, Else, Required},
    Mend,
    kind::{
        PressureUnit::{Pa, Psf},
        SpeedUnit::{Mph, Mps},
    },
};
use crate::quantities::MM_PER_INCH;

/// The sections of a design file, each with its rows.
pub(super) static SECTIONS: [&[Field]; 13] =
    [&TOP, &SITE, &PANEL, &ARRAY, &FRAME, &SUPPORT, &POSTS, &RUNNERS, &GROUND, &JOINTS, &LOADS, &MOVEMENT, &SHOP];

/// The highest latitude of a design (deg): nearer to a pole a bearing says nothing, and noon is no time of day.
pub const MOST_LATITUDE_DEG: f64 = 89.0;

const fn row(
    path: &'static str,
    kind: super::Kind,
    left_out: super::LeftOut,
    example: &'static str,
    bears_on: BearsOn,
    about: &'static str,
) -> Field {
    Field::new(path, kind, left_out, example, bears_on, about)
}

/// Characters of a name: it has to fit a title block.
const NAME: super::Kind = Text(120);

/// Bearings from true north.
const BEARING: super::Kind = Angle([0.0, 360.0]);

/// The lowest and the highest ground that people build on, and then some.
const HEIGHT: super::Kind = Length([-500e3, 6096e3]);

/// Whole numbers from 1 on.
const fn up_to(most: u32) -> super::Kind {
    Count([1, most])
}

/// Bolts that yards stock.
const BOLTS: [&[&str]; 2] = [&["3/8 in", "1/2 in", "5/8 in", "3/4 in"], &["M10", "M12", "M16"]];

static TOP: [Field; 11] = [
    row("tiltwright", up_to(1), Required, "1", Print, "Version of this format."),
    row("name", NAME, Required, "Fallow Ridge garden frame", Print, "Name of the design, for title blocks."),
    row(
        "units",
        Words(&["us", "metric"]),
        Else("those that most lengths of the file are written in"),
        "metric",
        Print,
        "Units that results are printed in, and marks of the tape; each value is read in the unit written with it.",
    ),
    row(
        "size",
        Choices,
        Else("the usual steps round what is written"),
        "{frame.rail: [2x6, 2x8]}",
        Search,
        "Fields that `size` may choose, each with the values it may take, as a list or as `{from: …, to: …, step: …}`.",
    ),
    row("site", Block, Required, "{place: Fallow Ridge, latitude: 40 deg}", Sun, "Where the frame stands."),
    row(
        "panel",
        Block,
        Required,
        "{long_side: 1722 mm, short_side: 1134 mm, thickness: 30 mm, mass: 21.5 kg}",
        Layout,
        "One panel, from its data sheet.",
    ),
    row(
        "array",
        Block,
        Required,
        "{rows: 1, columns: 2, orientation: portrait}",
        Layout,
        "How many panels, and how they stand.",
    ),
    row(
        "frame",
        Block,
        Required,
        "{rail: 2x8, stile: 2x8, seating: {kind: inset}}",
        Layout,
        "The frame round the panels.",
    ),
    row(
        "tilts",
        Angles([1, 24]),
        Else("`seasons` chooses them"),
        "[15 deg, 35 deg, 60 deg]",
        Layout,
        "Tilts from horizontal that the frame is held at, in the order of the year; spring and autumn may share one.",
    ),
    row(
        "seasons",
        Count([1, 12]),
        Else("`tilts` gives them"),
        "4",
        Layout,
        "How many tilts the sun of the place chooses, in the place of `tilts`.",
    ),
    row(
        "for",
        Words(&["year", "winter", "evenest"]),
        Default("year"),
        "winter",
        Sun,
        "What tilts and the days to change them are chosen for: the year's sum, the darkest months, the least month.",
    ),
];

static SITE: [Field; 5] = [
    row("site.place", NAME, Required, "Fallow Ridge", Print, "Name of the place."),
    row(
        "site.latitude",
        Latitude([-MOST_LATITUDE_DEG, MOST_LATITUDE_DEG]),
        Required,
        "40 N",
        Sun,
        "Degrees north or south of the equator.",
    ),
    row(
        "site.longitude",
        Longitude([-180.0, 180.0]),
        Else("the clock is taken as the sun's"),
        "105 W",
        Sun,
        "Degrees east or west of Greenwich.",
    ),
    row(
        "site.elevation",
        HEIGHT,
        Else("as `loads.elevation`, else the sea's"),
        "5200 ft",
        Sun,
        "Height of the ground above the sea.",
    ),
    row(
        "site.facing",
        BEARING,
        Else("towards the equator"),
        "180 deg",
        Sun,
        "True bearing that the frame faces, clockwise from north.",
    ),
];

static PANEL: [Field; 15] = [
    row("panel.long_side", Length([150.0, 3000.0]), Required, "1722 mm", Layout, "Its longer side."),
    row("panel.short_side", Length([100.0, 2000.0]), Required, "1134 mm", Layout, "Its shorter side."),
    row("panel.thickness", Length([3.0, 80.0]), Required, "30 mm", Layout, "Thickness of the panel's own frame."),
    // Lightest and heaviest panel: common practice, no source.
    row("panel.mass", Mass([0.3, 80.0]), Required, "21.5 kg", Forces, "What one weighs."),
    row(
        "panel.size_tolerance",
        Length([0.0, 10.0]),
        Default("2 mm"),
        "1 mm",
        Layout,
        "The most that a side may miss its size.",
    ),
    row(
        "panel.edge_support",
        Words(&["allowed", "forbidden"]),
        Default("allowed"),
        "forbidden",
        Layout,
        "Whether the panel's data allow holding it by its edges alone.",
    ),
    row(
        "panel.mounting_holes",
        Block,
        Else("panels are held by clips or edges"),
        "{along_long_side: 1400 mm, across: 1090 mm, diameter: 9 mm}",
        Layout,
        "The four holes in the panel's flange, symmetric about its middle.",
    ),
    row(
        "panel.mounting_holes.along_long_side",
        Length([50.0, 3000.0]),
        Required,
        "1400 mm",
        Layout,
        "Between the middles of two holes, along the long side.",
    ),
    row(
        "panel.mounting_holes.across",
        Length([50.0, 2000.0]),
        Required,
        "1090 mm",
        Layout,
        "The same across the panel.",
    ),
    row("panel.mounting_holes.diameter", Length([4.0, 16.0]), Required, "9 mm", Layout, "Width of a hole."),
    row(
        "panel.cable_box",
        Block,
        Else("nothing stands out of the back"),
        "{from_top: 80 mm, height: 90 mm, width: 300 mm, depth: 18 mm}",
        Layout,
        "The box on the panel's back, in the middle of its short side, that no member may meet.",
    ),
    row(
        "panel.cable_box.from_top",
        Length([0.0, 3000.0]),
        Required,
        "80 mm",
        Layout,
        "From the upper short side to the box.",
    ),
    row("panel.cable_box.height", Length([5.0, 3000.0]), Required, "90 mm", Layout, "Its size along the long side."),
    row("panel.cable_box.width", Length([5.0, 2000.0]), Required, "300 mm", Layout, "Its size along the short side."),
    row("panel.cable_box.depth", Length([5.0, 60.0]), Required, "18 mm", Layout, "How far it stands out of the back."),
];

static ARRAY: [Field; 6] = [
    row("array.rows", up_to(6), Required, "1", Layout, "Panels up the slope."),
    row("array.columns", up_to(64), Required, "2", Layout, "Panels across, in all frames together."),
    row(
        "array.orientation",
        Words(&["portrait", "landscape"]),
        Required,
        "portrait",
        Layout,
        "How a panel stands: its long side up the slope, or across.",
    ),
    row(
        "array.gap",
        Length([2.0, 150.0]),
        Default("20 mm"),
        "3/4 in",
        Layout,
        "Between neighbouring panels that share a member.",
    )
    .mended(Mend::Near),
    row("array.frames", up_to(32), Default("1"), "2", Layout, "Equal frames side by side that share the columns."),
    // Nobody passes through less than 24 in (common practice, no source), and frames never touch.
    row("array.frame_gap", Length([600.0, 30e3]), Chosen, "30 in", Layout, "Clear between neighbouring frames."),
];

static FRAME: [Field; 22] = [
    row("frame.species", Species, Asked, "southern-pine", Strength, "Species of the lumber, as its grade stamp says."),
    row("frame.grade", Grade, Asked, "no2", Strength, "Grade of the lumber, as its stamp says."),
    row(
        "frame.treated",
        Flag,
        Else("taken as untreated"),
        "true",
        Strength,
        "Preservative-treated, as the end tag says; wood in or on the ground counts only so.",
    ),
    row("frame.wet_service", Flag, Asked, "false", Strength, "The wood stays above 19 % moisture for long."),
    row("frame.incised", Flag, Asked, "false", Strength, "Its faces show rows of small slits from pressure treatment."),
    row("frame.rail", Section, Required, "2x8", Layout, "Section of the low and the high member.")
        .sized(Ladder::Sections)
        .mended(Mend::Deeper),
    row("frame.stile", Section, Required, "2x8", Layout, "Section of the outer members up the slope.")
        .sized(Ladder::Sections)
        .mended(Mend::Deeper),
    row("frame.mullion", Section, Else("as `frame.stile`"), "2x6", Layout, "Section of the members between panels.")
        .sized(Ladder::Sections)
        .mended(Mend::Deeper),
    row("frame.mullion_plies", up_to(3), Default("1"), "2", Layout, "Plies that a mullion is built up of.")
        .sized(Ladder::Named)
        .mended(Mend::Count),
    row("frame.outside_width", Length([200.0, 60_000.0]), Chosen, "8 ft", Layout, "Width that the frame must have.")
        .sized(Ladder::Named)
        .mended(Mend::Near),
    row(
        "frame.outside_length",
        Length([200.0, 12_000.0]),
        Chosen,
        "6 ft",
        Layout,
        "Length up the slope that the frame must have.",
    )
    .sized(Ladder::Named)
    .mended(Mend::Near),
    row("frame.seating", Block, Required, "{kind: inset}", Layout, "How panels sit on the frame.")
        .mended(Mend::OnPurlins),
    row(
        "frame.seating.kind",
        Words(&["lapped", "inset", "on-purlins"]),
        Required,
        "inset",
        Layout,
        "Edges on the members, inside bays on clips, or held at their holes on members across.",
    ),
    // Common practice, no source: 1/4 in at the sides where clips set the panel, 3/4 in of room at the ends.
    row(
        "frame.seating.side_clearance",
        Length([2.0, 60.0]),
        Default("1/4 in"),
        "7 mm",
        Layout,
        "Inset panels: room on each side.",
    )
    .mended(Mend::Near),
    row(
        "frame.seating.end_clearance",
        Length([2.0, 60.0]),
        Default("3/4 in"),
        "19 mm",
        Layout,
        "Inset panels: room at each end, where water and leaves leave.",
    ),
    row(
        "frame.seating.proud",
        Length([0.0, 60.0]),
        Else("1/2 in, or half a thin panel"),
        "1/2 in",
        Layout,
        "Inset panels: how far they stand out of the frame's face.",
    ),
    row(
        "frame.seating.lap",
        Length([8.0, 60.0]),
        Default("18 mm"),
        "3/4 in",
        Layout,
        "Lapped panels: width of the edge that lies on a member.",
    )
    .mended(Mend::Near),
    row(
        "frame.seating.purlin",
        Section,
        Else("needed by `kind: on-purlins`"),
        "2x4",
        Layout,
        "Panels on purlins: section of a purlin, laid flat.",
    )
    .sized(Ladder::Sections),
    row(
        "frame.corner_brace",
        Block,
        Else("no braces"),
        "{leg: 12 in}",
        Layout,
        "A brace across each corner of the frame.",
    ),
    row("frame.corner_brace.section", Section, Else("as `frame.rail`"), "2x4", Layout, "Its section, laid flat.")
        .sized(Ladder::Sections)
        .mended(Mend::Flatter),
    row(
        "frame.corner_brace.leg",
        Length([4.0 * MM_PER_INCH, 60.0 * MM_PER_INCH]),
        Required,
        "12 in",
        Layout,
        "From the inner corner to its long point on the rail.",
    )
    .sized(Ladder::Named)
    .mended(Mend::Near),
    row(
        "frame.corner_brace.angle",
        Angle([20.0, 70.0]),
        Default("45 deg"),
        "45 deg",
        Layout,
        "Between brace and rail.",
    )
    .sized(Ladder::Named),
];

static SUPPORT: [Field; 12] = [
    row("support", Block, Required, "{kind: posts, stay: {section: 2x4}}", Layout, "What holds the frame."),
    row(
        "support.kind",
        Words(&["posts", "runners", "pole"]),
        Required,
        "posts",
        Layout,
        "Two posts with an axle at mid height, or two runners with a hinge near the low edge; a pole is not laid out yet.",
    ),
    row("support.bolt", Bolt, Chosen, "5/8 in", Layout, "Bolt that the frame turns on: axle or hinge.")
        .sized(Ladder::All(BOLTS))
        // No thinner bolt is offered for a frame to turn on: common practice, no source.
        .mended(Mend::Thinner([&["1/2 in"], &["M12"]])),
    row("support.pin", Bolt, Chosen, "1/2 in", Layout, "Bolt through the stay.")
        .sized(Ladder::All(BOLTS))
        .mended(Mend::Thinner([&["1/2 in", "3/8 in", "5/16 in", "1/4 in"], &["M12", "M10", "M8", "M6"]])),
    row(
        "support.bolt_grade",
        BoltGrade,
        Else("the weakest that shops keep"),
        "A307 Gr A",
        Strength,
        "Steel of all bolts.",
    ),
    row(
        "support.low_edge_clearance",
        Length([0.0, 3000.0]),
        Else("what the kind of support needs"),
        "6 in",
        Layout,
        "Room wanted under the low edge at every tilt.",
    )
    .sized(Ladder::Named)
    .mended(Mend::Near),
    row("support.stay", Block, Required, "{section: 2x4}", Layout, "The two arms that hold the frame at a tilt."),
    row("support.stay.section", Section, Required, "2x4", Layout, "Section of a stay.")
        .sized(Ladder::Sections)
        .mended(Mend::Larger),
    row(
        "support.stay.pin_along",
        Length([50.0, 10_000.0]),
        Chosen,
        "28 in",
        Layout,
        "Along the stile from axle or hinge to the frame pin.",
    )
    .sized(Ladder::Named)
    .mended(Mend::Near),
    row(
        "support.stay.pin_behind",
        Length([-60.0, 400.0]),
        Chosen,
        "0 in",
        Layout,
        "How far the frame pin stands behind axle or hinge.",
    )
    .sized(Ladder::Named)
    .mended(Mend::Near),
    row(
        "support.stay.cleat",
        Section,
        Else("the frame pin goes through the stile itself"),
        "2x6",
        Layout,
        "On posts: section of a cleat that carries the frame pin behind the stile.",
    )
    .sized(Ladder::Sections)
    .mended(Mend::Deeper),
    row(
        "support.stay.length",
        Length([50.0, 10_000.0]),
        Chosen,
        "44 in",
        Layout,
        "On runners: pin to pin, as the hole row stands in the runner.",
    )
    .sized(Ladder::Named)
    .mended(Mend::Near),
];

/// Depths of holes for posts: every half foot, or 150 mm.
const EMBEDMENTS: [&[&str]; 2] = [
    &[
        "24 in", "30 in", "36 in", "42 in", "48 in", "54 in", "60 in", "66 in", "72 in", "78 in", "84 in", "90 in",
        "96 in",
    ],
    &[
        "600 mm", "750 mm", "900 mm", "1050 mm", "1200 mm", "1350 mm", "1500 mm", "1650 mm", "1800 mm", "1950 mm",
        "2100 mm", "2250 mm", "2400 mm",
    ],
];

/// Augers that are hired out; common practice, no source.
const HOLES: [&[&str]; 2] = [
    &["10 in", "12 in", "14 in", "16 in", "18 in", "24 in"],
    &["250 mm", "300 mm", "350 mm", "400 mm", "450 mm", "600 mm"],
];

static POSTS: [Field; 12] = [
    row(
        "support.posts",
        Block,
        Else("needed by `kind: posts`"),
        "{placement: inside, section: 4x8, axle_height: 44 in, embedment: 66 in}",
        Layout,
        "The two posts.",
    ),
    row(
        "support.posts.placement",
        Words(&["inside", "outside"]),
        Required,
        "inside",
        Layout,
        "In slots between built-up mullions, or outboard of the stiles.",
    ),
    row(
        "support.posts.section",
        Section,
        Required,
        "4x8",
        Layout,
        "Section of a post; its depth stands along the frame's swing.",
    )
    .sized(Ladder::Sections)
    .mended(Mend::Deeper),
    row("support.posts.axle_height", Length([200.0, 5000.0]), Required, "44 in", Layout, "Axle above the ground.")
        .sized(Ladder::Named)
        .mended(Mend::Near),
    row(
        "support.posts.pin_below_axle",
        Length([50.0, 5000.0]),
        Chosen,
        "30 in",
        Layout,
        "From the axle down to the pin that a stay's holes go over.",
    )
    .sized(Ladder::Named)
    .mended(Mend::Near),
    row(
        "support.posts.pin_offset",
        Length([-300.0, 300.0]),
        Default("0 in"),
        "0 in",
        Layout,
        "From the post's middle to that pin, away from the low edge.",
    )
    .sized(Ladder::Named),
    row(
        "support.posts.embedment",
        Length([150.0, 4000.0]),
        Required,
        "66 in",
        Layout,
        "Length of a post below the ground.",
    )
    .sized(Ladder::Next(EMBEDMENTS, 4)),
    row(
        "support.posts.hole_diameter",
        Length([100.0, 1500.0]),
        Else("12 in, or what the post and its concrete need"),
        "14 in",
        Ground,
        "Width of the hole that is filled with concrete.",
    )
    .sized(Ladder::Next(HOLES, 2)),
    row(
        "support.posts.tie",
        Block,
        Else("two bolts of 1/2 in or M12: common practice, no source"),
        "{bolt: 5/8 in, count: 2}",
        Layout,
        "Bolts through the foot of a post, one above the other, that its concrete closes round.",
    ),
    row("support.posts.tie.bolt", Bolt, Required, "5/8 in", Layout, "Size of such a bolt."),
    row("support.posts.tie.count", up_to(6), Required, "2", Layout, "Such bolts in each post."),
    row(
        "support.posts.slots_after_columns",
        Counts,
        Chosen,
        "[0, 2]",
        Layout,
        "Posts inside: after which column each slot comes, counted from the left; 0 is at the left stile.",
    )
    .mended(Mend::SlotsRound),
];

static RUNNERS: [Field; 28] = [
    row("support.runners", Block, Else("needed by `kind: runners`"), "{section: 4x6}", Layout, "The two runners."),
    row("support.runners.section", Section, Required, "4x6", Layout, "Section of a runner, on edge.")
        .sized(Ladder::Sections)
        .mended(Mend::Deeper),
    row("support.runners.length", Length([300.0, 15_000.0]), Chosen, "9 ft", Layout, "Length of a runner.")
        .sized(Ladder::Named)
        .mended(Mend::Near),
    row(
        "support.runners.hinge_above_holes",
        Length([20.0, 2000.0]),
        Chosen,
        "10 in",
        Layout,
        "Hinge above the line of holes, square to the runner.",
    )
    .sized(Ladder::Named)
    .mended(Mend::Near),
    row(
        "support.runners.hinge_from_low_edge",
        Length([20.0, 2000.0]),
        Chosen,
        "8 in",
        Layout,
        "From the frame's low edge to the hinge, along the stile.",
    )
    .sized(Ladder::Named)
    .mended(Mend::Near),
    row(
        "support.runners.on",
        Words(&["ground", "roof", "deck"]),
        Default("ground"),
        "roof",
        Layout,
        "What the runners lie on; a deck may be a trailer's bed.",
    ),
    row(
        "support.runners.roof_pitch",
        Slope([0.0, 60.0]),
        Default("0 deg"),
        "5:12",
        Layout,
        "Pitch of the roof under them.",
    ),
    row(
        "support.runners.roof_facing",
        BEARING,
        Else("as the frame faces"),
        "215 deg",
        Layout,
        "True bearing that the roof falls to.",
    )
    .mended(Mend::FacesFrame),
    row(
        "support.runners.ground_slope",
        Slope([0.0, 20.0]),
        Default("0 deg"),
        "1:12",
        Layout,
        "Slope of ground or deck under them.",
    ),
    row(
        "support.runners.ground_facing",
        BEARING,
        Else("as the frame faces"),
        "180 deg",
        Layout,
        "True bearing that the ground falls to.",
    )
    .mended(Mend::FacesFrame),
    row(
        "support.runners.shims",
        Flag,
        Default("true"),
        "false",
        Layout,
        "The hinge line may be shimmed level where the slope runs along it.",
    )
    .mended(Mend::Yes),
    row(
        "support.runners.tie_downs",
        Block,
        Else("no ties"),
        "{per_runner: 4, bracket: {uplift: 600 lb, lateral: 400 lb}}",
        Forces,
        "Brackets that tie the runners to a roof or deck.",
    ),
    row(
        "support.runners.tie_downs.per_runner",
        Count([2, 40]),
        Required,
        "4",
        Forces,
        "Brackets on each runner, evenly spaced.",
    ),
    row(
        "support.runners.tie_downs.bracket",
        Block,
        Required,
        "{uplift: 600 lb, lateral: 400 lb}",
        Strength,
        "Rated forces of one bracket, from its data sheet.",
    ),
    row("support.runners.tie_downs.bracket.uplift", FORCE, Required, "600 lb", Strength, "Square to the surface."),
    row("support.runners.tie_downs.bracket.lateral", FORCE, Required, "400 lb", Strength, "Along the surface."),
    row(
        "support.runners.tie_downs.lag",
        Block,
        Else("what holds a bracket is not checked"),
        "{screw: lag 3/8 in, length: 4 in, count: 2, plate: 3/16 in, species: southern-pine}",
        Strength,
        "Lag screws through a bracket's foot into the wood under it.",
    ),
    row("support.runners.tie_downs.lag.screw", Screw, Required, "lag 3/8 in", Strength, "Size of a lag screw."),
    row(
        "support.runners.tie_downs.lag.length",
        Length([25.0, 400.0]),
        Required,
        "4 in",
        Strength,
        "Its length under the head.",
    ),
    row("support.runners.tie_downs.lag.count", up_to(8), Required, "2", Strength, "Lag screws in each bracket."),
    row(
        "support.runners.tie_downs.lag.plate",
        Length([1.0, 13.0]),
        Required,
        "3/16 in",
        Strength,
        "Thickness of the bracket's foot.",
    ),
    row(
        "support.runners.tie_downs.lag.species",
        Species,
        Required,
        "southern-pine",
        Strength,
        "The wood that they stand in.",
    ),
    row(
        "support.runners.building",
        Block,
        Else("wind on a low roof is not judged"),
        "{height: 10 ft, longer_side: 40 ft, shorter_side: 24 ft, parapet: 0 ft, zone: inside}",
        Loads,
        "The building under a low-slope roof.",
    ),
    row(
        "support.runners.building.height",
        Length([1500.0, 100e3]),
        Required,
        "10 ft",
        Loads,
        "Mean height of its roof.",
    ),
    row("support.runners.building.longer_side", SIDE, Required, "40 ft", Loads, "Its longer side in plan."),
    row("support.runners.building.shorter_side", SIDE, Required, "24 ft", Loads, "Its shorter side in plan."),
    row("support.runners.building.parapet", Length([0.0, 10e3]), Required, "0 ft", Loads, "Parapet above the roof."),
    row(
        "support.runners.building.zone",
        Words(&["inside", "edge", "corner"]),
        Required,
        "inside",
        Loads,
        "Where the frame stands on the roof: zone 1, 2 or 3 of its wind clause.",
    ),
];

/// Rated forces of what is bought.
const FORCE: super::Kind = Force([10.0, 1e6]);

/// Sides of buildings.
const SIDE: super::Kind = Length([1000.0, 500e3]);

/// From a movement that anybody sees to one that nobody can measure.
const DIVISOR: super::Kind = Number([20.0, 1000.0]);

/// Weights that are hired, poured or stacked.
const BALLASTS: [&[&str]; 2] = [
    &[
        "100 lb", "200 lb", "300 lb", "400 lb", "500 lb", "600 lb", "700 lb", "800 lb", "900 lb", "1000 lb", "1100 lb",
        "1200 lb", "1300 lb", "1400 lb", "1500 lb", "1600 lb",
    ],
    &[
        "50 kg", "100 kg", "150 kg", "200 kg", "250 kg", "300 kg", "350 kg", "400 kg", "450 kg", "500 kg", "550 kg",
        "600 kg", "650 kg", "700 kg", "750 kg", "800 kg",
    ],
];

static MOVEMENT: [Field; 5] = [
    row(
        "serviceability",
        Block,
        Else("the loosest limits of the building code"),
        "{deflection: 180, sway: 60}",
        Movement,
        "How far things may move: span, side or height over these numbers.",
    ),
    row(
        "serviceability.deflection",
        DIVISOR,
        Else("by the building code"),
        "180",
        Movement,
        "Members under snow or wind.",
    ),
    row(
        "serviceability.deflection_total",
        DIVISOR,
        Else("by the building code"),
        "120",
        Movement,
        "Members under everything, with creep.",
    ),
    row(
        "serviceability.twist",
        DIVISOR,
        Else("by the building code"),
        "100",
        Movement,
        "One corner of a panel out of the plane of the others, over its shorter side.",
    ),
    row(
        "serviceability.sway",
        DIVISOR,
        Else("by the building code"),
        "60",
        Movement,
        "Sway of the axle, over its height.",
    ),
];

static GROUND: [Field; 16] = [
    row("soil", Block, Asked, "{class: 4}", Ground, "The ground at posts or stakes."),
    row(
        "soil.class",
        Count([1, 5]),
        Asked,
        "4",
        Ground,
        "Class of IBC Table 1806.2, from bedrock to clay; peat, mud and fill have none.",
    ),
    row(
        "soil.movement_harmless",
        Flag,
        Default("false"),
        "true",
        Ground,
        "Half an inch of movement at the ground harms nothing, so the soil may count twice (IBC 1806.3.4).",
    ),
    row(
        "soil.frost_depth",
        Length([0.0, 3000.0]),
        Else("frost is not judged"),
        "36 in",
        Ground,
        "Depth of frost at the place.",
    ),
    // From very soft to very dense soil.
    row(
        "soil.subgrade",
        Subgrade([100.0, 60_000.0]),
        Else("a point of the building code stands in"),
        "25 lb/in3",
        Ground,
        "Constant of horizontal subgrade reaction n_h, from a soils report.",
    ),
    row(
        "ballast",
        Block,
        Else("no ballast"),
        "{per_runner: 450 lb, contact: timber on concrete}",
        Forces,
        "Weight that holds runners down.",
    ),
    row("ballast.per_runner", Mass([0.0, 5000.0]), Required, "450 lb", Forces, "Mass fixed to each runner.")
        .sized(Ladder::All(BALLASTS)),
    row("ballast.contact", Contact, Required, "timber on concrete", Strength, "What slides on what."),
    row(
        "ballast.block",
        Mass([1.0, 500.0]),
        Else("any mass can be had"),
        "34 lb",
        Forces,
        "Mass of one block; whole blocks are counted.",
    ),
    row(
        "ballast.placed",
        Words(&["spread", "ends", "front", "back"]),
        Default("spread"),
        "ends",
        Forces,
        "Where blocks stand on a runner, by its quarters.",
    ),
    row(
        "stakes",
        Block,
        Else("no stakes"),
        "{per_runner: 4, width: 1-1/2 in, depth: 36 in}",
        Strength,
        "Stakes driven beside runners on the ground.",
    ),
    row("stakes.per_runner", up_to(20), Required, "4", Strength, "Stakes on each runner, evenly spaced."),
    row("stakes.width", Length([6.0, 200.0]), Required, "1-1/2 in", Strength, "Width that bears on the soil."),
    row("stakes.depth", Length([150.0, 3000.0]), Required, "36 in", Strength, "Their length below the ground."),
    // Judgement: half a foot.
    row(
        "stakes.loose_soil",
        Length([0.0, 600.0]),
        Default("6 in"),
        "6 in",
        Strength,
        "Soil that driving has loosened and that is not counted.",
    ),
    row(
        "stakes.pull_test",
        FORCE,
        Else("their pull is not counted"),
        "300 lb",
        Strength,
        "Force that such a stake held when it was pulled on the spot.",
    ),
];

/// Screws of one joint: the block, and its three fields.
macro_rules! screws {
    ($path:literal, $bears:expr, $left_out:literal, $example:literal, $about:literal) => {
        [
            row($path, Block, Else($left_out), $example, $bears, $about),
            row(concat!($path, ".screw"), Screw, Required, "\"#10\"", $bears, "Size of a screw.")
                .sized(Ladder::Named)
                .mended(Mend::ThinnerScrew),
            row(concat!($path, ".length"), Length([12.0, 400.0]), Required, "2 in", $bears, "Length of a screw.")
                .sized(Ladder::Named)
                .mended(Mend::Near),
            row(concat!($path, ".count"), up_to(20), Required, "2", $bears, "Screws that share the joint's force.")
                .sized(Ladder::Named)
                .mended(Mend::Fewer),
        ]
    };
}

const CORNER: [Field; 4] = screws!(
    "joints.corner",
    CornerScrews,
    "not checked",
    "{screw: lag 1/4 in, length: 4 in, count: 3}",
    "Screws through a stile into the end of a rail."
);
const BRACE: [Field; 4] = screws!(
    "joints.brace",
    BraceScrews,
    "not checked",
    "{screw: \"#12\", length: 3 in, count: 2}",
    "Screws at each end of a corner brace."
);
const CLIP: [Field; 4] = screws!(
    "joints.clip",
    Clips,
    "not checked",
    "{screw: \"#10\", length: 1-1/2 in, count: 2}",
    "Screws of each clip that holds a panel."
);
const PURLIN: [Field; 4] = screws!(
    "joints.purlin",
    Purlins,
    "not checked",
    "{screw: lag 1/4 in, length: 4 in, count: 2}",
    "Screws of a purlin on each member it crosses."
);

static JOINTS: [Field; 18] = [
    row(
        "joints",
        Block,
        Else("screws are not checked"),
        "{corner: {screw: lag 1/4 in, length: 4 in, count: 3}}",
        Strength,
        "Screwed joints.",
    ),
    CORNER[0],
    CORNER[1],
    CORNER[2],
    CORNER[3],
    BRACE[0],
    BRACE[1],
    BRACE[2],
    BRACE[3],
    CLIP[0],
    CLIP[1],
    CLIP[2],
    CLIP[3],
    row(
        "joints.clips_per_panel",
        Count([2, 16]),
        Else("clips are not checked"),
        "6",
        Clips,
        "Clips that hold one panel.",
    )
    .sized(Ladder::Named)
    .mended(Mend::Count),
    PURLIN[0],
    PURLIN[1],
    PURLIN[2],
    PURLIN[3],
];

/// Documents that loads are taken from.
const EDITIONS: super::Kind = Words(&["asce7-10", "asce7-16", "asce7-22", "en1991"]);

/// Rated loads of panels.
const RATED: super::Kind = Pressure([200.0, 20_000.0], Pa);

static LOADS: [Field; 19] = [
    row(
        "loads",
        Block,
        Asked,
        "{edition: asce7-16, gust: 100 mph, exposure: C, risk_category: I}",
        Loads,
        "Wind and snow, as the maps that your building office has adopted give them.",
    ),
    row("loads.edition", EDITIONS, Asked, "asce7-16", Loads, "The document that loads are taken from."),
    // No mapped ultimate gust lies outside.
    row(
        "loads.gust",
        Speed([60.0, 300.0], Mph),
        Asked,
        "100 mph",
        Loads,
        "ASCE 7: ultimate 3-second gust at 33 ft, exposure C, for the risk category.",
    ),
    row(
        "loads.basic_wind",
        Speed([10.0, 60.0], Mps),
        Asked,
        "26 m/s",
        Loads,
        "EN 1991: fundamental basic wind velocity, the 10-minute mean at 10 m, terrain II, 50 years.",
    ),
    row(
        "loads.exposure",
        Words(&["B", "C", "D"]),
        Asked,
        "C",
        Loads,
        "ASCE 7: B suburban, C open country, D open water.",
    ),
    row(
        "loads.terrain",
        Words(&["sea", "I", "II", "III", "IV"]),
        Asked,
        "II",
        Loads,
        "EN 1991: sea, I lake or flat, II low cover, III villages and forest, IV town.",
    ),
    row(
        "loads.risk_category",
        Words(&["I", "II", "III", "IV"]),
        Asked,
        "I",
        Loads,
        "ASCE 7: I low hazard, II everything else, III substantial, IV essential.",
    ),
    row(
        "loads.elevation",
        HEIGHT,
        Else("as `site.elevation`, else asked for"),
        "5200 ft",
        Loads,
        "Height of the ground above the sea.",
    ),
    row(
        "loads.topography",
        Number([1.0, 5.0]),
        Asked,
        "1",
        Loads,
        "Speed-up over hills: K_zt of ASCE 7 on the pressure, c_0 of EN 1991 on the velocity; 1 on flat ground.",
    ),
    row(
        "loads.below",
        Words(&["clear", "obstructed", "undeclared"]),
        Default("undeclared"),
        "clear",
        Loads,
        "Whether more than half of the wind's way below the frame is blocked; both are run where it is not declared.",
    ),
    row("loads.form", Words(&["us", "si"]), Default("us"), "si", Loads, "Printed form of the ASCE equations."),
    row(
        "loads.snow",
        Block,
        Asked,
        "{edition: asce7-16, ground: 20 psf, around: partially-exposed}",
        Loads,
        "Snow on the ground.",
    ),
    row("loads.snow.edition", EDITIONS, Asked, "asce7-16", Loads, "The document whose map gave it."),
    row(
        "loads.snow.ground",
        Pressure([0.0, 1000.0], Psf),
        Asked,
        "20 psf",
        Loads,
        "Ground snow load; `0 psf` where it never snows.",
    ),
    row(
        "loads.snow.around",
        Words(&["fully-exposed", "partially-exposed", "sheltered"]),
        Asked,
        "partially-exposed",
        Loads,
        "ASCE 7: what shelters the frame from wind that would blow the snow away.",
    ),
    row(
        "loads.snow.slides_off",
        Flag,
        Default("false"),
        "true",
        Loads,
        "Snow slides off the low edge freely: no lip, no clamp in the way, the edge clear of the ground.",
    ),
    row(
        "loads.panel_design_load",
        Block,
        Asked,
        "{face: 3600 Pa, back: 1600 Pa}",
        Strength,
        "The panel maker's design loads; a test load is 1.5 times as much.",
    ),
    row("loads.panel_design_load.face", RATED, Asked, "3600 Pa", Strength, "Pressing on the face."),
    row("loads.panel_design_load.back", RATED, Asked, "1600 Pa", Strength, "Lifting from the back."),
];

/// Prices of one piece.
const PRICE: super::Kind = Price([0.0, 1e6]);

/// What can be priced.
const GOODS: super::Kind = Words(&[
    "bolt",
    "lag-screw",
    "spacer-tube",
    "screw",
    "clip",
    "panel-bolt",
    "concrete-bag",
    "gravel",
    "stake",
    "roof-bracket",
    "deck-bolt",
    "shim",
    "lug",
    "copper",
    "ballast",
]);

static SHOP: [Field; 16] = [
    row("shop", Block, Else("nothing is bought"), "{kerf: 1/8 in}", Cutting, "Saw, stock and prices."),
    row("shop.kerf", Length([0.0, 10.0]), Default("1/8 in"), "3 mm", Cutting, "What the saw takes away in a cut."),
    row("shop.end_trim", Length([0.0, 300.0]), Default("0 mm"), "1/2 in", Cutting, "Cut away from every stick first."),
    row("shop.nest_mitres", Flag, Default("false"), "true", Cutting, "Two mitred ends may share one cut."),
    row(
        "shop.currency",
        Currency,
        Else("as the sign of the prices says"),
        "EUR",
        Money,
        "What prices are in, by its three letters (ISO 4217).",
    ),
    row(
        "shop.stock",
        Rows,
        Else("no stick is known"),
        "[{section: 2x4, length: 8 ft, price: 4.60}]",
        Cutting,
        "Sticks that can be bought or are at hand.",
    ),
    row("shop.stock[].section", Section, Required, "2x4", Cutting, "Section of a stick."),
    row("shop.stock[].length", Length([100.0, 15_000.0]), Required, "8 ft", Cutting, "Length of a stick."),
    row(
        "shop.stock[].price",
        PRICE,
        Else("the least length is bought"),
        "4.60",
        Money,
        "Price of one; 0 for what is at hand.",
    ),
    row("shop.stock[].available", Count([0, u32::MAX]), Else("as many as wanted"), "6", Cutting, "How many there are."),
    row(
        "shop.hardware",
        Rows,
        Else("hardware has no price"),
        "[{item: clip, price: 1.10}]",
        Money,
        "Prices of everything but sticks.",
    ),
    row("shop.hardware[].item", GOODS, Required, "bolt", Money, "What it is."),
    row(
        "shop.hardware[].size",
        GoodsSize,
        Else("needed by bolts and screws"),
        "1/2 in",
        Money,
        "Size of a bolt or screw.",
    ),
    row(
        "shop.hardware[].length",
        Length([10.0, 100_000.0]),
        Else("a bolt's or screw's price holds for every length"),
        "10 ft",
        Money,
        "Length of one; needed by what is cut, spacer tube and copper.",
    ),
    row(
        "shop.hardware[].mass",
        Mass([0.5, 2000.0]),
        Else("needed by ballast"),
        "40 lb",
        Money,
        "Mass of one block of ballast.",
    ),
    row("shop.hardware[].price", PRICE, Required, "2.10", Money, "Price of one."),
];
