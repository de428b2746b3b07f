//! Why a design cannot be laid out: facts first, words after.

use super::{joint::JointUse, piece::HoleUse};
use crate::{
    catalogue::Section,
    design::Fault,
    quantities::{Tape, Units, angle, deg, length, mm, number},
};

/// One thing that stops a design, with its facts. Lengths in mm, angles in degrees.
#[derive(Debug, Clone, PartialEq)]
#[allow(missing_docs, reason = "the words of each variant are its documentation")]
pub enum Refusal {
    PanelsDoNotFit {
        field: &'static str,
        given_mm: f64,
        needed_mm: f64,
    },
    FrameTooLarge {
        field: &'static str,
        given_mm: f64,
        needed_mm: f64,
    },
    MullionTooThin {
        found_mm: f64,
        needed_mm: f64,
    },
    BraceTooLong {
        needed_mm: f64,
        room_mm: f64,
    },
    BraceTooShort {
        needed_mm: f64,
        leg_mm: f64,
    },
    BraceFoulsPanel {
        overlap_mm: f64,
    },
    BadSlots {
        panels: usize,
    },
    TiltOutsideSwing {
        tilt_deg: f64,
        least_deg: f64,
        most_deg: f64,
    },
    FlatIsALock {
        tilt_deg: f64,
        least_deg: f64,
    },
    StayTooShort {
        tilt_deg: f64,
        stay_mm: f64,
        needed_mm: f64,
    },
    HoleOffRunner {
        tilt_deg: f64,
        offset_mm: f64,
        end_mm: f64,
        room_mm: f64,
    },
    HoleNotBehindHinge {
        tilt_deg: f64,
        offset_mm: f64,
        needed_mm: f64,
    },
    LeverTooSmall {
        tilt_deg: f64,
        share: f64,
        needed: f64,
    },
    HolesTooClose {
        tilt_deg: f64,
        other_deg: f64,
        found_mm: f64,
        needed_mm: f64,
        bolt: &'static str,
    },
    EdgeTooNear {
        field: &'static str,
        what: String,
        bolt: &'static str,
        found_mm: f64,
        needed_mm: f64,
    },
    OutsidePiece {
        field: &'static str,
        what: String,
        found_mm: f64,
        needed_mm: f64,
    },
    LowEdgeTooLow {
        tilt_deg: f64,
        found_mm: f64,
        needed_mm: f64,
    },
    PiecesOverlap {
        one: &'static str,
        other: &'static str,
        overlap_mm: f64,
    },
    Fouls {
        tilt_deg: f64,
        one: String,
        other: String,
        overlap_mm: f64,
    },
    FastenerFouls {
        /// Nothing where both turn together.
        tilt_deg: Option<f64>,
        one: String,
        other: String,
        uses: Vec<JointUse>,
        overlap_mm: f64,
    },
    TooManyScrews {
        joint: JointUse,
        count: usize,
        most: usize,
    },
    ScrewTooShort {
        joint: JointUse,
        screw: &'static str,
        found_mm: f64,
        needed_mm: f64,
    },
    ScrewTooLong {
        joint: JointUse,
        screw: &'static str,
        found_mm: f64,
        most_mm: f64,
    },
    LagSplitsEnd {
        what: &'static str,
        screw: &'static str,
        found_mm: f64,
        needed_mm: f64,
    },
    ClipsAndHoles {
        given: usize,
        holes: usize,
    },
    ClipOutOfReach {
        field: &'static str,
        from_face_mm: f64,
        least_mm: f64,
        most_mm: f64,
    },
    LegTooSmall {
        field: &'static str,
        what: String,
        section: &'static Section,
        bolt: &'static str,
        /// From the heel, and from the toe.
        found_mm: [f64; 2],
        needed_mm: [f64; 2],
        smallest: Option<&'static Section>,
    },
    CrossSlope {
        roof: bool,
        slope_deg: f64,
        shim_mm: f64,
        most_mm: f64,
        true_tilt_deg: f64,
        true_facing_deg: f64,
        shims: bool,
    },
    NoBoltLongEnough {
        what: &'static str,
        needed_mm: f64,
        longest_mm: f64,
    },
    NoLayout {
        tried: usize,
    },
}

impl Refusal {
    /// The fault's name.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::PanelsDoNotFit { .. } => "panels-do-not-fit",
            Self::FrameTooLarge { .. } => "frame-too-large",
            Self::MullionTooThin { .. } => "mullion-too-thin",
            Self::BraceTooLong { .. } => "brace-too-long",
            Self::BraceTooShort { .. } => "brace-too-short",
            Self::BraceFoulsPanel { .. } => "brace-fouls-panel",
            Self::BadSlots { .. } => "bad-slots",
            Self::TiltOutsideSwing { .. } => "tilt-outside-swing",
            Self::FlatIsALock { .. } => "flat-is-a-lock",
            Self::StayTooShort { .. } => "stay-too-short",
            Self::HoleOffRunner { .. } => "hole-off-runner",
            Self::HoleNotBehindHinge { .. } => "hole-not-behind-hinge",
            Self::LeverTooSmall { .. } => "lever-too-small",
            Self::HolesTooClose { .. } => "holes-too-close",
            Self::EdgeTooNear { .. } => "edge-too-near",
            Self::OutsidePiece { .. } => "outside-piece",
            Self::LowEdgeTooLow { .. } => "low-edge-too-low",
            Self::PiecesOverlap { .. } => "pieces-overlap",
            Self::Fouls { .. } => "fouls",
            Self::FastenerFouls { .. } => "fastener-fouls",
            Self::TooManyScrews { .. } => "too-many-screws",
            Self::ScrewTooShort { .. } => "screw-too-short",
            Self::ScrewTooLong { .. } => "screw-too-long",
            Self::LagSplitsEnd { .. } => "lag-splits-end",
            Self::ClipsAndHoles { .. } => "clips-and-holes",
            Self::ClipOutOfReach { .. } => "clip-out-of-reach",
            Self::LegTooSmall { .. } => "leg-too-small",
            Self::CrossSlope { .. } => "cross-slope",
            Self::NoBoltLongEnough { .. } => "no-bolt-long-enough",
            Self::NoLayout { .. } => "no-layout",
        }
    }

    /// The field it points at.
    #[must_use]
    pub fn field(&self) -> &'static str {
        match self {
            Self::PanelsDoNotFit { field, .. }
            | Self::FrameTooLarge { field, .. }
            | Self::EdgeTooNear { field, .. }
            | Self::OutsidePiece { field, .. }
            | Self::ClipOutOfReach { field, .. }
            | Self::LegTooSmall { field, .. } => field,
            Self::FastenerFouls { uses, .. } => uses.iter().flat_map(|use_| fields_of(*use_)).next().unwrap_or("frame"),
            Self::TooManyScrews { joint, .. } => screw_fields(*joint)[0],
            Self::ScrewTooShort { joint, .. } | Self::ScrewTooLong { joint, .. } => screw_fields(*joint)[1],
            Self::LagSplitsEnd { .. } => "joints.corner.screw",
            Self::ClipsAndHoles { .. } => "joints.clips_per_panel",
            Self::MullionTooThin { .. } => "frame.mullion_plies",
            Self::BraceTooLong { .. } | Self::BraceTooShort { .. } | Self::BraceFoulsPanel { .. } => {
                "frame.corner_brace"
            }
            Self::BadSlots { .. } => "support.posts.slots_after_columns",
            Self::TiltOutsideSwing { .. } | Self::FlatIsALock { .. } | Self::HolesTooClose { .. } => "tilts",
            Self::StayTooShort { .. } => "support.stay.length",
            Self::HoleOffRunner { .. } => "support.runners.length",
            Self::HoleNotBehindHinge { .. } | Self::LeverTooSmall { .. } => "support.stay",
            Self::LowEdgeTooLow { .. } => "support.low_edge_clearance",
            Self::PiecesOverlap { one, other, .. } if [*one, *other].contains(&"cleat") => "support.stay",
            Self::PiecesOverlap { .. } => "frame",
            Self::Fouls { .. } | Self::NoBoltLongEnough { .. } | Self::NoLayout { .. } => "support",
            Self::CrossSlope { roof: true, .. } => "support.runners.roof_facing",
            Self::CrossSlope { .. } => "support.runners.ground_facing",
        }
    }

    /// Fields that one would change to mend it, the likeliest first.
    pub(super) fn mended_by(&self) -> Vec<&'static str> {
        const AXLE: [&str; 2] = ["support.posts.axle_height", "support.posts.pin_below_axle"];
        const PINS: [&str; 4] = [
            "support.stay.pin_along",
            "support.posts.pin_below_axle",
            "support.stay.length",
            "support.runners.hinge_above_holes",
        ];
        let list = |groups: &[&[&'static str]]| groups.concat();
        match self {
            Self::PanelsDoNotFit { field, .. } | Self::FrameTooLarge { field, .. } => vec![field],
            Self::MullionTooThin { .. } => vec!["frame.mullion_plies", "frame.seating.lap", "array.gap"],
            Self::BraceTooLong { .. } => vec!["frame.corner_brace.leg"],
            Self::BraceTooShort { .. } => vec!["frame.corner_brace.leg", "frame.corner_brace.section"],
            Self::BraceFoulsPanel { .. } => vec!["frame.corner_brace.section", "frame.rail"],
            Self::BadSlots { .. } => vec!["support.posts.slots_after_columns"],
            Self::TiltOutsideSwing { .. } | Self::FlatIsALock { .. } => vec!["tilts"],
            Self::StayTooShort { .. } => list(&[&["support.stay.length"], &PINS, &["tilts"]]),
            Self::HoleOffRunner { .. } => list(&[&["support.runners.length"], &PINS, &["tilts"]]),
            Self::HoleNotBehindHinge { .. } | Self::LeverTooSmall { .. } => {
                list(&[&PINS, &["support.stay.pin_behind", "tilts"]])
            }
            Self::HolesTooClose { .. } => list(&[&["tilts"], &PINS, &["support.pin"]]),
            Self::EdgeTooNear { field, what, .. } => {
                let piece = match what.as_str() {
                    "post" => "support.posts.section",
                    "runner" => "support.runners.section",
                    "mullion" => "frame.mullion",
                    "cleat" => "support.stay.cleat",
                    "hinge cheek" => "support.runners.hinge_above_holes",
                    _ => "frame.stile",
                };
                // A mullion that is not named is as deep as the stile.
                let stile: &[&str] = if piece == "frame.mullion" { &["frame.stile"] } else { &[] };
                list(&[&[*field], stile, &[piece], &["support.pin"]])
            }
            Self::OutsidePiece { field, .. } => {
                list(&[&[*field], &PINS, &["support.posts.axle_height", "frame.stile"]])
            }
            Self::LowEdgeTooLow { .. } => {
                list(&[&AXLE[..1], &["support.runners.hinge_above_holes", "tilts", "support.low_edge_clearance"]])
            }
            Self::PiecesOverlap { .. } => vec![
                "frame.corner_brace.leg",
                "support.stay.pin_along",
                "support.stay.pin_behind",
                "frame.corner_brace.section",
                "frame.stile",
                "support.stay.cleat",
            ],
            Self::Fouls { .. } => list(&[&AXLE, &PINS, &["support.stay.pin_behind", "tilts"]]),
            Self::FastenerFouls { uses, .. } => uses.iter().flat_map(|use_| fields_of(*use_)).collect(),
            Self::TooManyScrews { joint, .. } => {
                let [count, _, screw] = screw_fields(*joint);
                vec![count, screw]
            }
            Self::ScrewTooShort { joint, .. } | Self::ScrewTooLong { joint, .. } => {
                let [_, length, screw] = screw_fields(*joint);
                vec![length, screw]
            }
            Self::LagSplitsEnd { .. } => vec!["joints.corner.screw"],
            Self::ClipsAndHoles { .. } => vec!["joints.clips_per_panel"],
            Self::ClipOutOfReach { field, .. } => vec![field, "frame.seating"],
            Self::LegTooSmall { field, .. } => {
                let section = match *field {
                    "support.bolt" | "support.pin" | "support.stay.pin_behind" => "frame.stile",
                    other => other,
                };
                vec![section, "support.posts.section", "support.runners.section", "support.pin", "support.bolt"]
            }
            Self::CrossSlope { .. } => {
                vec!["support.runners.shims", "support.runners.roof_facing", "support.runners.ground_facing"]
            }
            Self::NoBoltLongEnough { .. } => {
                vec!["support.posts.slots_after_columns", "frame.mullion_plies"]
            }
            Self::NoLayout { .. } => list(&[&["tilts"], &AXLE]),
        }
    }

    /// The tilt it happens at (deg), when it hangs on one.
    #[must_use]
    pub fn tilt_deg(&self) -> Option<f64> {
        match self {
            Self::TiltOutsideSwing { tilt_deg, .. }
            | Self::FlatIsALock { tilt_deg, .. }
            | Self::StayTooShort { tilt_deg, .. }
            | Self::HoleOffRunner { tilt_deg, .. }
            | Self::HoleNotBehindHinge { tilt_deg, .. }
            | Self::LeverTooSmall { tilt_deg, .. }
            | Self::HolesTooClose { tilt_deg, .. }
            | Self::LowEdgeTooLow { tilt_deg, .. }
            | Self::Fouls { tilt_deg, .. }
            | Self::FastenerFouls { tilt_deg: Some(tilt_deg), .. } => Some(*tilt_deg),
            _ => None,
        }
    }

    /// How bad it is, so that the candidate with the smallest trouble can be shown; larger is worse.
    pub(super) fn weight(&self) -> f64 {
        let short = |found: f64, needed: f64| ((needed - found) / needed.abs().max(1.0)).abs();
        match self {
            Self::StayTooShort { stay_mm, needed_mm, .. } => 10.0 + short(*stay_mm, *needed_mm),
            Self::LeverTooSmall { share, needed, .. } => 5.0 + short(*share, *needed),
            Self::HolesTooClose { found_mm, needed_mm, .. } => 2.0 + short(*found_mm, *needed_mm),
            Self::LowEdgeTooLow { found_mm, needed_mm, .. } => 1.0 + short(*found_mm, *needed_mm),
            Self::Fouls { overlap_mm, .. } | Self::FastenerFouls { overlap_mm, .. } => 3.0 + overlap_mm / 100.0,
            _ => 4.0,
        }
    }

    /// Does it hang on the design alone, so that no choice of pin positions can mend it?
    pub(super) fn is_settled(&self) -> bool {
        // Where the pins stand is the layout's choice; screws, clips and the axle stay where they are.
        let is_chosen =
            |use_: &JointUse| matches!(use_, JointUse::Bolt(hole) if !matches!(hole, HoleUse::Axle | HoleUse::Hinge));
        matches!(self, Self::FastenerFouls { tilt_deg: None, uses, .. } if !uses.iter().any(is_chosen))
            || matches!(
                self,
                Self::TiltOutsideSwing { .. }
                    | Self::FlatIsALock { .. }
                    | Self::EdgeTooNear { field: "support.bolt", .. }
                    | Self::LowEdgeTooLow { .. }
                    | Self::NoBoltLongEnough { what: "axle" | "hinge", .. }
                    | Self::TooManyScrews { .. }
                    | Self::ScrewTooShort { .. }
                    | Self::ScrewTooLong { .. }
                    | Self::LagSplitsEnd { .. }
                    | Self::ClipsAndHoles { .. }
                    | Self::ClipOutOfReach { .. }
                    | Self::LegTooSmall { .. }
            )
    }

    /// Does it hang on screws, which other designs may place otherwise in the same frame?
    pub(crate) fn is_of_fasteners(&self) -> bool {
        matches!(
            self,
            Self::FastenerFouls { .. }
                | Self::TooManyScrews { .. }
                | Self::ScrewTooShort { .. }
                | Self::ScrewTooLong { .. }
                | Self::LagSplitsEnd { .. }
                | Self::ClipsAndHoles { .. }
        )
    }

    /// Is it the same trouble at another tilt? Holes too close or out of the swing are each a trouble of their own.
    fn repeats(&self, other: &Self) -> bool {
        let of_tilt = |refusal: &Self| match refusal {
            Self::StayTooShort { .. }
            | Self::HoleOffRunner { .. }
            | Self::HoleNotBehindHinge { .. }
            | Self::LeverTooSmall { .. }
            | Self::LowEdgeTooLow { .. }
            | Self::LagSplitsEnd { .. }
            | Self::ClipOutOfReach { .. } => Some(String::new()),
            Self::Fouls { one, other, .. } | Self::FastenerFouls { one, other, .. } => Some(format!("{one} {other}")),
            _ => None,
        };
        self == other || self.code() == other.code() && of_tilt(self).is_some() && of_tilt(self) == of_tilt(other)
    }

    /// Every trouble once, at the tilt where it is worst, as a fault that tells the other tilts.
    #[must_use]
    pub fn faults(refusals: &[Self], units: Units) -> Vec<(&Self, Fault)> {
        let mut told: Vec<(&Self, Vec<String>)> = Vec::new();
        for refusal in refusals {
            let Some((worst, others)) = told.iter_mut().find(|(first, _)| first.repeats(refusal)) else {
                told.push((refusal, vec![]));
                continue;
            };
            let lesser = if refusal.weight() > worst.weight() { std::mem::replace(worst, refusal) } else { refusal };
            let other = lesser.tilt_deg().filter(|tilt| Some(*tilt) != worst.tilt_deg());
            others.extend(other.map(|tilt| angle(deg(tilt))));
        }
        let faults = told.into_iter().map(|(refusal, others)| {
            let mut fault = refusal.fault(units);
            if !others.is_empty() {
                fault.sentence = format!("{}; also at {}", fault.sentence, others.join(" and at "));
            }
            (refusal, fault)
        });
        faults.collect()
    }

    /// One lower-case line in the reader's units: what was found and what was needed.
    #[must_use]
    pub fn sentence(&self, units: Units) -> String {
        let l = |value: f64| length(mm(value), units);
        let a = |value: f64| angle(deg(value));
        // What is missing is rounded up, so that it is enough: the difference of what is needed, rounded up, and what is
        // there, rounded down, so that the sentence adds up.
        let tape = Tape::of(units);
        let (up, down) = (|value: f64| l(tape.at_least_mm(value)), |value: f64| l(tape.at_most_mm(value)));
        let less = |more: f64, less: f64| l(tape.at_least_mm(more) - tape.at_most_mm(less));
        match self {
            Self::PanelsDoNotFit { field, given_mm, needed_mm } => format!(
                "the panels do not fit: `{field}` is {}, panels and members need {}, {} more",
                down(*given_mm),
                up(*needed_mm),
                less(*needed_mm, *given_mm)
            ),
            Self::FrameTooLarge { field, given_mm, needed_mm } => format!(
                "`{field}` is {}, but panels that rest on the members set it to {}",
                l(*given_mm),
                l(*needed_mm)
            ),
            Self::MullionTooThin { found_mm, needed_mm } => format!(
                "a mullion {} thick cannot carry the edges of two panels and the gap between them: {} is needed",
                l(*found_mm),
                l(*needed_mm)
            ),
            Self::BraceTooLong { needed_mm, room_mm } => {
                format!("the corner brace reaches {} along a bay that has {} for it", l(*needed_mm), l(*room_mm))
            }
            Self::BraceTooShort { needed_mm, leg_mm } => format!(
                "a corner brace with a leg of {} has no length left at its short points; {} is the least",
                l(*leg_mm),
                l(*needed_mm)
            ),
            Self::BraceFoulsPanel { overlap_mm } => {
                format!("the corner brace stands {} into the panel or its clip", l(*overlap_mm))
            }
            Self::BadSlots { panels } => {
                format!("posts inside the frame need two different slots, each after 0 to {panels} columns")
            }
            Self::TiltOutsideSwing { tilt_deg, least_deg, most_deg } => format!(
                "{} is outside the swing of the frame, which goes from {} to {}",
                a(*tilt_deg),
                a(*least_deg),
                a(*most_deg)
            ),
            Self::FlatIsALock { tilt_deg, least_deg } => format!(
                "{} is no tilt for a hole row: flat, for towing or storage, is held by a lock bolt of its own; tilts begin at {}",
                a(*tilt_deg),
                a(*least_deg)
            ),
            Self::StayTooShort { tilt_deg, stay_mm, needed_mm } => format!(
                "the stay is too short at {}: it is {} from pin to pin, and the frame pin stands {} above the hole line, {} more",
                a(*tilt_deg),
                down(*stay_mm),
                up(*needed_mm),
                less(*needed_mm, *stay_mm)
            ),
            Self::HoleOffRunner { tilt_deg, offset_mm, end_mm, room_mm } => format!(
                "the hole for {} lies {} behind the hinge, but the runner holds a hole only up to {} ({} are kept to its end): {} short",
                a(*tilt_deg),
                up(*offset_mm),
                down(*end_mm),
                l(*room_mm),
                less(*offset_mm, *end_mm)
            ),
            Self::HoleNotBehindHinge { tilt_deg, offset_mm, needed_mm } => format!(
                "the hole for {} lies {} behind the hinge, where {} are needed to clear the hinge cheek: {} short",
                a(*tilt_deg),
                down(*offset_mm),
                up(*needed_mm),
                less(*needed_mm, *offset_mm)
            ),
            Self::LeverTooSmall { tilt_deg, share, needed } => format!(
                "at {} the stay pushes nearly through the axle or hinge: its lever arm is {} of the pin's radius, and {} is the least",
                a(*tilt_deg),
                number(*share, 3),
                number(*needed, 2)
            ),
            Self::HolesTooClose { tilt_deg, other_deg, found_mm, needed_mm, bolt } => format!(
                "the holes for {} and {} leave {} between pin and hole; the {bolt} bolt needs {}, {} more (the next empty hole counts as an end)",
                a(*tilt_deg),
                a(*other_deg),
                down(*found_mm),
                up(*needed_mm),
                less(*needed_mm, *found_mm)
            ),
            Self::EdgeTooNear { field, what, bolt, found_mm, needed_mm } => format!(
                "the {bolt} {} stands {} from the edge of the {what}; its load reverses, so {} are needed on both sides, {} more",
                if *field == "support.bolt" { "axle or hinge" } else { "pin" },
                down(*found_mm),
                up(*needed_mm),
                less(*needed_mm, *found_mm)
            ),
            Self::OutsidePiece { what, found_mm, needed_mm, .. } => {
                format!(
                    "{what}: {} where {} are needed, {} more",
                    down(*found_mm),
                    up(*needed_mm),
                    less(*needed_mm, *found_mm)
                )
            }
            Self::LowEdgeTooLow { tilt_deg, found_mm, needed_mm } => format!(
                "at {} the low edge stands {} {} the ground; {} are wanted, {} more",
                a(*tilt_deg),
                l(tape.at_most_mm(*found_mm).abs()),
                if tape.at_most_mm(*found_mm) < 0.0 { "under" } else { "above" },
                up(*needed_mm),
                less(*needed_mm, *found_mm)
            ),
            Self::PiecesOverlap { one, other, overlap_mm } => {
                format!("the {one} and the {other} take the same room, {} deep", l(*overlap_mm))
            }
            Self::Fouls { tilt_deg, one, other, overlap_mm } => {
                // What is too little to be marked is still too much.
                let overlap_mm = tape.at_least_mm(*overlap_mm);
                format!("at {} the {one} fouls the {other} by {}", a(*tilt_deg), l(overlap_mm))
            }
            Self::FastenerFouls { tilt_deg, one, other, overlap_mm, .. } => {
                let at = tilt_deg.map_or_else(String::new, |tilt| format!("at {} ", a(tilt)));
                format!("{at}the {one} stands {} into the {other}", l(tape.at_least_mm(*overlap_mm)))
            }
            Self::TooManyScrews { joint, count, most } => {
                format!("{count} screws do not find room in one {} joint, {most} at the most", joint.word())
            }
            Self::ScrewTooShort { joint, screw, found_mm, needed_mm } => format!(
                "a {screw} screw of {} in a {} joint does not reach far enough into the second piece, {} is the least",
                l(*found_mm),
                joint.word(),
                up(*needed_mm)
            ),
            Self::ScrewTooLong { joint, screw, found_mm, most_mm } => format!(
                "a {screw} screw of {} in a {} joint comes out at the far side, {} is the most",
                l(*found_mm),
                joint.word(),
                down(*most_mm)
            ),
            Self::LagSplitsEnd { what, screw, found_mm, needed_mm } => format!(
                "a {screw} screw would stand {} from the end of the {what} and split it, {} is the least",
                down(*found_mm),
                up(*needed_mm)
            ),
            Self::ClipsAndHoles { given, holes } => format!(
                "{given} clips to a panel, but `panel.mounting_holes` tells {holes} holes, and a clip is bolted through each"
            ),
            Self::ClipOutOfReach { from_face_mm, least_mm, most_mm, .. } => format!(
                "a mounting hole of the panel lies {} {} the face of the member beside it, where a clip reaches holes from {} to {}",
                l(from_face_mm.abs()),
                if *from_face_mm < 0.0 { "behind" } else { "from" },
                up(*least_mm),
                down(*most_mm)
            ),
            Self::LegTooSmall { what, section, bolt, found_mm, needed_mm, smallest, .. } => {
                let smallest = smallest.map_or_else(
                    || "no section of its kind in the catalogue is large enough".to_string(),
                    |section| format!("{} is the smallest that takes it", section.name),
                );
                format!(
                    "the {bolt} bolt stands {} from the heel and {} from the toe of the {what}, {}; its washers lie flat from {} on, the \
                     toe takes {}, and {smallest}",
                    down(found_mm[0]),
                    down(found_mm[1]),
                    section.name,
                    up(needed_mm[0]),
                    up(needed_mm[1])
                )
            }
            Self::CrossSlope { roof, slope_deg, shim_mm, most_mm, true_tilt_deg, true_facing_deg, shims } => {
                let why = if *shims {
                    format!("levelling the hinge line takes a shim of {}, and {} is the most", l(*shim_mm), l(*most_mm))
                } else {
                    "shims are not allowed here".to_string()
                };
                format!(
                    "the {} falls {} along the hinge line: {why}; unshimmed, the first tilt would really stand at {} facing {}",
                    if *roof { "roof" } else { "ground" },
                    a(*slope_deg),
                    a(*true_tilt_deg),
                    a(*true_facing_deg)
                )
            }
            Self::NoBoltLongEnough { what, needed_mm, longest_mm } => format!(
                "the {what} needs a bolt of {}, and the longest kept in stock is {}",
                l(*needed_mm),
                l(*longest_mm)
            ),
            Self::NoLayout { tried } => format!("none of {tried} layouts holds all tilts"),
        }
    }

    /// The refusal as a fault, without its place.
    #[must_use]
    pub fn fault(&self, units: Units) -> Fault {
        Fault::new(self.code(), self.field(), self.sentence(units))
    }
}

/// Count, length and size of the screws of a joint.
fn screw_fields(joint: JointUse) -> [&'static str; 3] {
    match joint {
        JointUse::Brace => ["joints.brace.count", "joints.brace.length", "joints.brace.screw"],
        JointUse::Purlin => ["joints.purlin.count", "joints.purlin.length", "joints.purlin.screw"],
        JointUse::Clip => ["joints.clip.count", "joints.clip.length", "joints.clip.screw"],
        _ => ["joints.corner.count", "joints.corner.length", "joints.corner.screw"],
    }
}

/// Fields that move or change the fasteners of a joint, the likeliest first.
fn fields_of(joint: JointUse) -> Vec<&'static str> {
    let screws = screw_fields(joint);
    let others: &[&'static str] = match joint {
        JointUse::Corner | JointUse::Purlin => &[],
        JointUse::Brace => &["frame.corner_brace.leg"],
        JointUse::Clip => &["frame.seating.side_clearance", "frame.seating.lap"],
        JointUse::Plies => return vec!["frame.mullion_plies"],
        JointUse::PanelBolt => return vec!["frame.stile", "frame.seating"],
        JointUse::Bolt(HoleUse::Axle) => return vec!["support.bolt", "frame.stile", "frame.corner_brace.leg"],
        JointUse::Bolt(HoleUse::Hinge) => {
            return vec!["support.runners.hinge_from_low_edge", "support.bolt", "frame.corner_brace.leg"];
        }
        JointUse::Bolt(HoleUse::FramePin) => {
            return vec![
                "support.stay.pin_along",
                "support.stay.pin_behind",
                "frame.corner_brace.leg",
                "support.posts.axle_height",
                "support.posts.pin_below_axle",
            ];
        }
        JointUse::Bolt(HoleUse::FixedPin | HoleUse::Row) => {
            return vec![
                "support.posts.pin_below_axle",
                "support.stay.pin_along",
                "support.stay.pin_behind",
                "support.stay.length",
            ];
        }
        JointUse::Bolt(HoleUse::FootBolt) => return vec!["support.posts.tie.bolt"],
        JointUse::Bolt(HoleUse::CheekBolt) => {
            return vec!["support.runners.hinge_above_holes", "support.runners.section"];
        }
        JointUse::Bolt(HoleUse::CleatScrew) => return vec!["support.stay.cleat", "support.stay.pin_along"],
    };
    screws.iter().chain(others).copied().collect()
}
