//! The frame as numbers for other programs: every part, panel, joint and fastener at its place (mm, deg).
//!
//! World axes as in the side view: x across to the right seen from the front, X level from the low towards the high edge,
//! Z up, origin on the axle or hinge. What moves with the frame is given at tilt 0 and turned by each tilt's `turn`; stays
//! and what is pinned to them stand in each tilt.

use crate::{
    catalogue::Family,
    frame::{Body, Disc, Fastener, Foot, Frame, HeldBy, Hold, Joint, Part, Stands, Stick, at_tilt, vector::cross},
};
use serde::Serialize;

#[derive(Serialize)]
struct AssemblyFile<'a> {
    parts: Vec<PartRow<'a>>,
    panels: Vec<PanelRow>,
    joints: Vec<JointRow>,
    feet: Vec<FootRow>,
    tilts: Vec<TiltRow>,
}

#[derive(Serialize)]
struct PartRow<'a> {
    mark: &'a str,
    index: usize,
    role: &'static str,
    section: &'a str,
    material: &'static str,
    moves: bool,
    hollow: bool,
    /// Each end from a square cut; the box holds the long points.
    ends_deg: [f64; 2],
    /// Nothing for a stay: its box stands in every tilt.
    #[serde(rename = "box")]
    place: Option<BoxRow>,
}

#[derive(Serialize)]
struct PanelRow {
    index: usize,
    moves: bool,
    #[serde(rename = "box")]
    place: BoxRow,
}

/// A box: one corner, unit vectors along length, depth and width, and its size along them.
#[derive(Serialize)]
struct BoxRow {
    origin: [f64; 3],
    axes: [[f64; 3]; 3],
    size: [f64; 3],
}

#[derive(Serialize)]
struct JointRow {
    #[serde(rename = "use")]
    use_: &'static str,
    parts: Vec<String>,
    /// `frame`, `ground` or `stay`.
    moves_with: &'static str,
    turned_from: &'static str,
    fasteners: Vec<FastenerRow>,
    plates: Vec<BoxRow>,
}

#[derive(Serialize)]
struct FastenerRow {
    kind: &'static str,
    size: &'static str,
    from: [f64; 3],
    axis: [f64; 3],
    length_mm: f64,
    diameter_mm: f64,
    head: Option<DiscRow>,
    nut: Option<DiscRow>,
    washers: Vec<WasherRow>,
    lead_hole_mm: Option<f64>,
    clearance_hole_mm: Option<f64>,
}

#[derive(Serialize)]
struct DiscRow {
    diameter_mm: f64,
    height_mm: f64,
    at_mm: f64,
}

#[derive(Serialize)]
struct WasherRow {
    diameter_mm: f64,
    thickness_mm: f64,
    at_mm: f64,
}

#[derive(Serialize)]
struct FootRow {
    part: String,
    /// `soil`, `ground`, `roof` or `deck`.
    kind: &'static str,
    stands: &'static str,
    depth_mm: Option<f64>,
    hole_diameter_mm: Option<f64>,
    shim_mm: f64,
    held_by: Vec<HoldRow>,
    /// Of all that holds it.
    fasteners: Vec<FastenerRow>,
}

#[derive(Serialize)]
struct HoldRow {
    by: &'static str,
    from_end_mm: f64,
    kg: Option<f64>,
    /// The design names it; else it is what is usual.
    named: bool,
    /// How many of the foot's fasteners are its own, in their order.
    fasteners: usize,
    turned_from: &'static str,
}

#[derive(Serialize)]
struct TiltRow {
    tilt_deg: f64,
    turn: Turn,
    stays: Vec<StayRow>,
    /// Fasteners that stand with a stay.
    pins: Vec<PinRow>,
}

#[derive(Serialize)]
struct Turn {
    origin: [f64; 3],
    axis: [f64; 3],
    angle_deg: f64,
}

#[derive(Serialize)]
struct StayRow {
    mark: String,
    index: usize,
    #[serde(rename = "box")]
    place: BoxRow,
}

#[derive(Serialize)]
struct PinRow {
    joint: usize,
    fastener: usize,
    from: [f64; 3],
    axis: [f64; 3],
}

/// `assembly.json`.
#[must_use]
pub(crate) fn assembly_json(frame: &Frame) -> String {
    let file = AssemblyFile {
        parts: frame.sticks.iter().enumerate().map(|(i, stick)| part(frame, i, stick)).collect(),
        panels: panels(frame),
        joints: frame.joints.iter().map(|joint| joint_row(frame, joint)).collect(),
        feet: frame.feet.iter().map(|f| foot(frame, f)).collect(),
        tilts: frame.reached().into_iter().map(|(tilt_deg, hole)| tilt(frame, tilt_deg, hole)).collect(),
    };
    serde_json::to_string_pretty(&file).expect("numbers and text") + "\n"
}

fn part<'a>(frame: &'a Frame, i: usize, stick: &'a Stick) -> PartRow<'a> {
    let open_or_tube = stick.section.is_open() || stick.section.is_hollow();
    PartRow {
        mark: frame.mark(i),
        index: nth(frame, i),
        role: stick.role.word(),
        section: &stick.section.name,
        material: match stick.section.family {
            Family::Wood => "wood",
            Family::Steel => "steel",
            Family::Aluminium => "aluminium",
        },
        moves: stick.body == Body::Frame,
        hollow: open_or_tube,
        ends_deg: stick.ends_deg,
        place: (stick.body != Body::Stay).then(|| box_of(stick)),
    }
}

/// Which of the equal pieces under its mark, from 1.
fn nth(frame: &Frame, stick: usize) -> usize {
    frame.piece_of[..=stick].iter().filter(|piece| **piece == frame.piece_of[stick]).count()
}

fn box_of(stick: &Stick) -> BoxRow {
    let third = cross(stick.along, stick.across);
    let half = stick.section.width_mm / 2.0;
    BoxRow {
        origin: rounded(std::array::from_fn(|i| stick.start[i] - third[i] * half)),
        axes: [stick.along, stick.across, third].map(unit),
        size: rounded([stick.length_mm, stick.section.depth_mm, stick.section.width_mm]),
    }
}

fn panels(frame: &Frame) -> Vec<PanelRow> {
    let upright = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]];
    let row = |(i, panel): (usize, &crate::frame::PanelPlace)| {
        let ranges = [panel.x_mm, panel.u_mm, panel.w_mm];
        let place =
            BoxRow { origin: rounded(ranges.map(|r| r[0])), axes: upright, size: rounded(ranges.map(|r| r[1] - r[0])) };
        PanelRow { index: i + 1, moves: true, place }
    };
    frame.panels.iter().enumerate().map(row).collect()
}

fn joint_row(frame: &Frame, joint: &Joint) -> JointRow {
    JointRow {
        use_: joint.use_.word(),
        parts: joint.parts.iter().map(|part| part_name(frame, *part)).collect(),
        moves_with: match joint.body {
            Body::Frame => "frame",
            Body::Ground => "ground",
            Body::Stay => "stay",
        },
        turned_from: joint.turned_from,
        fasteners: joint.fasteners.iter().map(|f| fastener(frame, joint, f)).collect(),
        plates: joint
            .plates
            .iter()
            .map(|plate| BoxRow {
                origin: rounded(plate.origin),
                axes: [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]],
                size: rounded(plate.size),
            })
            .collect(),
    }
}

fn part_name(frame: &Frame, part: Part) -> String {
    match part {
        Part::Stick(i) => format!("{}/{}", frame.mark(i), nth(frame, i)),
        Part::Panel(i) => format!("panel/{}", i + 1),
    }
}

fn fastener(frame: &Frame, joint: &Joint, f: &Fastener) -> FastenerRow {
    let place = match joint.body {
        Body::Stay => first_place(frame, f),
        Body::Frame | Body::Ground => (f.from, f.axis),
    };
    fastener_row(f, place)
}

fn fastener_row(f: &Fastener, (from, axis): ([f64; 3], [f64; 3])) -> FastenerRow {
    let disc = |d: Disc| DiscRow {
        diameter_mm: round(d.diameter_mm),
        height_mm: round(d.thickness_mm),
        at_mm: round(d.at_mm),
    };
    FastenerRow {
        kind: f.kind.word(),
        size: f.size,
        from: rounded(from),
        axis: unit(axis),
        length_mm: round(f.length_mm),
        diameter_mm: round(f.diameter_mm),
        head: f.head.map(disc),
        nut: f.nut.map(disc),
        washers: f
            .washers
            .iter()
            .map(|w| WasherRow {
                diameter_mm: round(w.diameter_mm),
                thickness_mm: round(w.thickness_mm),
                at_mm: round(w.at_mm),
            })
            .collect(),
        lead_hole_mm: f.lead_hole_mm.map(round),
        clearance_hole_mm: f.clearance_hole_mm.map(round),
    }
}

fn first_place(frame: &Frame, f: &Fastener) -> ([f64; 3], [f64; 3]) {
    match frame.reached().first() {
        Some((tilt_deg, hole)) => {
            let stay = StayAt::of(frame, *tilt_deg, *hole);
            (stay.point(f.from), stay.turned(f.axis))
        }
        None => (f.from, f.axis),
    }
}

fn foot(frame: &Frame, foot: &Foot) -> FootRow {
    let soil = match foot.stands {
        Stands::InConcrete { depth_mm, hole_diameter_mm } => Some((depth_mm, hole_diameter_mm)),
        Stands::OnGround | Stands::OnRoof | Stands::OnDeck => None,
    };
    let hold = |hold: &Hold| HoldRow {
        by: hold.by.word(),
        from_end_mm: round(hold.from_end_mm),
        kg: match hold.by {
            HeldBy::Ballast(kg) => Some(round(kg)),
            HeldBy::Tie | HeldBy::Stake | HeldBy::Bracket | HeldBy::DeckBolt => None,
        },
        named: hold.named,
        fasteners: hold.fasteners.len(),
        turned_from: hold.by.turned_from(),
    };
    FootRow {
        part: part_name(frame, Part::Stick(foot.stick)),
        kind: foot.stands.kind(),
        stands: foot.stands.words(),
        depth_mm: soil.map(|s| round(s.0)),
        hole_diameter_mm: soil.map(|s| round(s.1)),
        shim_mm: round(foot.shim_mm),
        held_by: foot.holds.iter().map(hold).collect(),
        fasteners: foot.fasteners().map(|f| fastener_row(f, (f.from, f.axis))).collect(),
    }
}

/// Where a stay hangs at a tilt: from its frame pin to the hole.
struct StayAt {
    pin: [f64; 2],
    along: [f64; 2],
}

impl StayAt {
    fn of(frame: &Frame, tilt_deg: f64, hole: usize) -> Self {
        let pin = at_tilt(frame.linkage.frame_pin(), tilt_deg.to_radians());
        let fixed = frame.linkage.fixed_end(frame.row[hole].offset_mm);
        let run = [fixed[0] - pin[0], fixed[1] - pin[1]];
        let length = run[0].hypot(run[1]);
        Self { pin, along: run.map(|v| v / length) }
    }

    fn turned(&self, [x, t, v]: [f64; 3]) -> [f64; 3] {
        let [c, s] = self.along;
        [x, t * c - v * s, t * s + v * c]
    }

    fn point(&self, p: [f64; 3]) -> [f64; 3] {
        let [x, y, z] = self.turned(p);
        [x, y + self.pin[0], z + self.pin[1]]
    }
}

fn tilt(frame: &Frame, tilt_deg: f64, hole: usize) -> TiltRow {
    let stay = StayAt::of(frame, tilt_deg, hole);
    let stays = frame.sticks_of(Body::Stay).map(|(i, stick)| {
        let hung = Stick {
            start: stay.point(stick.start),
            along: stay.turned(stick.along),
            across: stay.turned(stick.across),
            ..stick.clone()
        };
        StayRow { mark: frame.mark(i).to_string(), index: nth(frame, i), place: box_of(&hung) }
    });
    let with_stay = frame.joints.iter().enumerate().filter(|(_, joint)| joint.body == Body::Stay);
    let pins = with_stay.flat_map(|(j, joint)| {
        let stay = &stay;
        joint.fasteners.iter().enumerate().map(move |(k, f)| PinRow {
            joint: j,
            fastener: k,
            from: rounded(stay.point(f.from)),
            axis: unit(stay.turned(f.axis)),
        })
    });
    TiltRow {
        tilt_deg: round(tilt_deg),
        turn: Turn { origin: [0.0; 3], axis: [1.0, 0.0, 0.0], angle_deg: round(tilt_deg) },
        stays: stays.collect(),
        pins: pins.collect(),
    }
}

/// The nearest decimal of five places; adding zero turns a negative zero into a plain one.
fn round(value: f64) -> f64 {
    (value * 1e5).round() / 1e5 + 0.0
}

fn rounded(values: [f64; 3]) -> [f64; 3] {
    values.map(round)
}

/// A unit vector needs more digits: it is multiplied by lengths.
fn unit(values: [f64; 3]) -> [f64; 3] {
    values.map(|v| (v * 1e12).round() / 1e12 + 0.0)
}
