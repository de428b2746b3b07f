//! A validated design: what the later rooms read.

use super::{
    BallastSpec, Building, Currency, Ground, Joints, Orientation, Placement, PostTie, PricedGoods, Serviceability,
    SoilSpec, StakeSpec, Ties, WrittenBasis,
};
use crate::{
    catalogue::{Bolt, BoltGrade, Grade, Section, Species},
    quantities::{Angle, Length, Mass, Units},
};
use serde::Deserialize;

/// A design that can be laid out.
#[derive(Debug, Clone, PartialEq)]
pub struct Design {
    /// Name of the design, as its author wrote it.
    pub name: String,
    /// Units its author works in.
    pub units: Units,
    /// Are they those its lengths are written in, as the file does not name them?
    pub units_taken: bool,
    /// Where it stands.
    pub site: Site,
    /// The panel.
    pub panel: Panel,
    /// How many, and how they stand.
    pub array: Array,
    /// The frame round them.
    pub frame: FrameSpec,
    /// What holds the frame.
    pub support: Support,
    /// The tilts wanted.
    pub tilts: Tilts,
    /// What tilts and dates are chosen for.
    pub goal: Goal,
    /// Saw and stock.
    pub shop: Shop,
    /// The loads block as written; judged when strength is asked for.
    pub loads: Option<WrittenBasis>,
    /// The ground, when the design tells it.
    pub soil: Option<SoilSpec>,
    /// Ballast on runners, when there is some.
    pub ballast: Option<BallastSpec>,
    /// Stakes beside runners, when there are some.
    pub stakes: Option<StakeSpec>,
    /// Screwed joints.
    pub joints: Joints,
    /// Limits of movement.
    pub serviceability: Serviceability,
}

/// Where the frame stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Site {
    /// Name of the place.
    pub place: String,
    /// Latitude, north positive.
    pub latitude: Angle,
    /// Longitude, east positive.
    pub longitude: Option<Angle>,
    /// Height above sea.
    pub elevation: Length,
    /// True bearing the frame faces, clockwise from north.
    pub facing: Angle,
}

/// One panel.
#[derive(Debug, Clone, PartialEq)]
pub struct Panel {
    /// Long side.
    pub long_side: Length,
    /// Short side.
    pub short_side: Length,
    /// Thickness of the panel's own frame.
    pub thickness: Length,
    /// Mass.
    pub mass: Mass,
    /// Largest deviation of either side from its size.
    pub size_tolerance: Length,
    /// The panel data forbid holding it by its edges alone.
    pub edge_support_forbidden: bool,
    /// Hole pattern from the data sheet.
    pub mounting_holes: Option<MountingHoles>,
    /// Cable box on the back.
    pub cable_box: Option<CableBox>,
}

/// Four holes, symmetric about the panel's centre.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MountingHoles {
    /// Distance between holes along the long side.
    pub along_long_side: Length,
    /// Distance between holes across.
    pub across: Length,
    /// Hole diameter.
    pub diameter: Length,
}

/// A box on the panel's back, centred on its short side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CableBox {
    /// From the upper short side to the box's upper edge.
    pub from_top: Length,
    /// Along the long side.
    pub height: Length,
    /// Along the short side.
    pub width: Length,
    /// Out of the panel's back.
    pub depth: Length,
}

/// Panels of one frame, and the number of equal frames.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Array {
    /// Rows up the slope.
    pub rows: usize,
    /// Columns across, in each frame.
    pub columns: usize,
    /// Equal frames side by side.
    pub frames: usize,
    /// How a panel stands.
    pub orientation: Orientation,
    /// Between neighbouring panels that share a member.
    pub gap: Length,
    /// Clear between neighbouring frames; found by the layout when not given.
    pub frame_gap: Option<Length>,
}

/// Members of the frame.
#[derive(Debug, Clone, PartialEq)]
pub struct FrameSpec {
    /// Species of lumber, when the design gives one.
    pub species: Option<String>,
    /// Grade of lumber, when the design gives one.
    pub grade: Option<String>,
    /// Species, looked up.
    pub wood_species: Option<Species>,
    /// Grade, looked up.
    pub wood_grade: Option<Grade>,
    /// Above 19 % moisture for an extended time, when the design says.
    pub wet_service: Option<bool>,
    /// Faces incised for treatment, when the design says.
    pub incised: Option<bool>,
    /// Preservative-treated lumber, when the design says.
    pub treated: Option<bool>,
    /// Section of rails.
    pub rail: &'static Section,
    /// Section of stiles.
    pub stile: &'static Section,
    /// Section of mullions.
    pub mullion: &'static Section,
    /// The design names no mullion: it is as the stiles are.
    pub mullion_follows: bool,
    /// Plies of a mullion.
    pub mullion_plies: usize,
    /// How panels sit.
    pub seating: Seating,
    /// Corner braces.
    pub brace: Option<Brace>,
    /// Width the frame must have, when the design fixes it.
    pub outside_width: Option<Length>,
    /// Length up the slope the frame must have, when the design fixes it.
    pub outside_length: Option<Length>,
}

/// How panels sit on the frame.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Seating {
    /// Panel edges lie on the members.
    Lapped {
        /// Width of the panel edge that lies on a member.
        lap: Length,
    },
    /// The panel drops into a bay on clips.
    Inset {
        /// Room on each side.
        side_clearance: Length,
        /// Room at each end.
        end_clearance: Length,
        /// How far the panel stands out of the frame's face.
        proud: Length,
    },
    /// Panels are held at their mounting holes on members across.
    OnPurlins {
        /// Section of a purlin, laid flat.
        purlin: &'static Section,
    },
}

/// A brace across each corner of the frame.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Brace {
    /// Section, laid flat.
    pub section: &'static Section,
    /// The design names none: it is as the rails are.
    pub follows_rail: bool,
    /// From the inner corner to the long point on the rail.
    pub leg: Length,
    /// Angle between brace and rail.
    pub angle: Angle,
}

/// What holds the frame.
#[derive(Debug, Clone, PartialEq)]
pub struct Support {
    /// Axle or hinge bolt; found by the layout when not given.
    pub bolt: Option<&'static Bolt>,
    /// Bolt through the stay; found by the layout when not given.
    pub pin: Option<&'static Bolt>,
    /// Steel of all bolts; A307 Gr A, the weakest that shops keep, when not given.
    pub bolt_grade: Option<&'static BoltGrade>,
    /// Room wanted under the low edge at every tilt.
    pub low_edge_clearance: Option<Length>,
    /// The stays.
    pub stay: StaySpec,
    /// Posts or runners.
    pub base: Base,
}

/// The arm that holds the frame at a tilt.
#[derive(Debug, Clone, PartialEq)]
pub struct StaySpec {
    /// Section.
    pub section: &'static Section,
    /// Along the stile from the axle (or hinge) to the frame pin; found by the layout when not given.
    pub pin_along: Option<Length>,
    /// How far the frame pin stands behind the axle (or hinge); found by the layout when not given.
    pub pin_behind: Option<Length>,
    /// Section of a cleat that carries the frame pin behind the stile.
    pub cleat: Option<&'static Section>,
    /// Pin to pin, for a stay without a hole row; found by the layout when not given.
    pub length: Option<Length>,
}

/// What the frame stands on.
#[derive(Debug, Clone, PartialEq)]
pub enum Base {
    /// Axle through mid height and two posts.
    Posts(Posts),
    /// Hinge at the low edge on two runners.
    Runners(Runners),
}

/// Two posts.
#[derive(Debug, Clone, PartialEq)]
pub struct Posts {
    /// Inside or outside the frame.
    pub placement: Placement,
    /// Section; its depth stands along the frame's swing.
    pub section: &'static Section,
    /// Axle above grade.
    pub axle_height: Length,
    /// From the axle down to the fixed pin; found by the layout when not given.
    pub pin_below_axle: Option<Length>,
    /// From the post's centre to the fixed pin, away from the low edge.
    pub pin_offset: Length,
    /// Post below grade.
    pub embedment: Length,
    /// Diameter of the hole that is filled with concrete.
    pub hole_diameter: Length,
    /// Bolts that key a post into its concrete; the usual ones when not given.
    pub tie: Option<PostTie>,
    /// Posts inside: after which column each slot comes, counted from the left (0 is the left stile).
    pub slots_after_columns: Option<Vec<usize>>,
}

/// Two runners.
#[derive(Debug, Clone, PartialEq)]
pub struct Runners {
    /// Section, on edge.
    pub section: &'static Section,
    /// Length; found by the layout when not given.
    pub length: Option<Length>,
    /// Hinge above the hole line, square to the runner; found by the layout when not given.
    pub hinge_above_holes: Option<Length>,
    /// From the frame's low edge to the hinge, along the stile; found by the layout when not given.
    pub hinge_from_low_edge: Option<Length>,
    /// What they lie on.
    pub on: Ground,
    /// Pitch of the roof, or slope of the ground or deck.
    pub roof_pitch: Angle,
    /// True bearing that the roof or slope faces; the frame's when not given.
    pub roof_facing: Option<Angle>,
    /// The hinge line may be shimmed level where the roof slopes along it.
    pub shims: bool,
    /// Brackets that tie them to a roof or deck.
    pub tie_downs: Option<Ties>,
    /// The building under a roof.
    pub building: Option<Building>,
}

/// How a support stands in the soil, each size with the field that gives it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InSoil {
    /// From grade to the foot.
    pub depth: (&'static str, Length),
    /// Of the hole that is filled with concrete.
    pub hole_diameter: (&'static str, Length),
}

/// The surface that a support lies on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LiesOn {
    /// What it is.
    pub on: Ground,
    /// Pitch of the roof, or slope of the ground or deck.
    pub pitch: Angle,
    /// Brackets that tie the support to a roof or deck.
    pub tie_downs: Option<Ties>,
    /// The building under a roof.
    pub building: Option<Building>,
}

impl Support {
    /// How it stands in the soil, where it does.
    #[must_use]
    pub fn in_soil(&self) -> Option<InSoil> {
        match &self.base {
            Base::Posts(posts) => Some(InSoil {
                depth: ("support.posts.embedment", posts.embedment),
                hole_diameter: ("support.posts.hole_diameter", posts.hole_diameter),
            }),
            Base::Runners(_) => None,
        }
    }

    /// What it lies on, where it lies on a surface.
    #[must_use]
    pub fn lies_on(&self) -> Option<LiesOn> {
        match &self.base {
            Base::Posts(_) => None,
            Base::Runners(runners) => Some(LiesOn {
                on: runners.on,
                pitch: runners.roof_pitch,
                tie_downs: runners.tie_downs,
                building: runners.building,
            }),
        }
    }
}

/// The tilts wanted.
#[derive(Debug, Clone, PartialEq)]
pub enum Tilts {
    /// These, from horizontal.
    Given(Vec<Angle>),
    /// As many as seasons, chosen from the sun.
    Seasons(usize),
}

/// What tilts and the days to change them are chosen for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Goal {
    /// The most energy in a year.
    #[default]
    Year,
    /// The most energy in the three darkest months.
    Winter,
    /// The most energy in the month that gets least.
    Evenest,
}

impl Goal {
    /// As a design file names it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Year => "year",
            Self::Winter => "winter",
            Self::Evenest => "evenest",
        }
    }

    /// In words, after "planned for".
    #[must_use]
    pub fn in_words(self) -> &'static str {
        match self {
            Self::Year => "the year's sum",
            Self::Winter => "the three darkest months",
            Self::Evenest => "the largest least month",
        }
    }
}

/// Saw and stock.
#[derive(Debug, Clone, PartialEq)]
pub struct Shop {
    /// What the saw removes in a cut.
    pub kerf: Length,
    /// Cut away from every stick first.
    pub end_trim: Length,
    /// May two mitred ends share one cut?
    pub nest_mitres: bool,
    /// What prices are in; nothing where neither a name nor a sign says so: they are plain numbers then.
    pub currency: Option<Currency>,
    /// What can be bought or is at hand.
    pub stock: Vec<PricedStick>,
    /// Prices of everything but sticks.
    pub hardware: Vec<PricedGoods>,
}

/// One kind of stick.
#[derive(Debug, Clone, PartialEq)]
pub struct PricedStick {
    /// Section.
    pub section: &'static Section,
    /// Length.
    pub length: Length,
    /// Price of one, in the design's money; a section's sticks all have one, or none has and the least length is bought.
    pub price: Option<f64>,
    /// How many there are; `None` is as many as wanted.
    pub available: Option<u32>,
}
