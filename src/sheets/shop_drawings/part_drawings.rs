//! Every drilled part by itself: marked end and gauge face, and each hole and screw measured from them.
//!
//! ```text
//!      0   a 8 in    b 2 ft 3 in    far end 4 ft 6 in
//!      │     │           │               │
//!    ▶ ┌─────────────────────────────────┐▼ gauge face
//!      │     o           o               │
//!      └─────────────────────────────────┘     a table below: what, drill, from end, from face; left and right hand
//! ```

use super::drafter::{Drafter, paragraph};
use crate::{
    catalogue::Shape,
    frame::{Fastener, HeldBy, HoleUse, JointUse, Part, Piece, Stick, vector::cross},
    quantities::{drill_size, number},
    sheets::{
        dimension::{Feature, Side, running},
        geometry::{Bounds, Point, Rect, World},
        mark::{Fill, Group, Mark, bounds},
        page::Page,
        pen::Pen,
        sheet::{Sheet, SheetScale},
        table::{Table, figures, words},
        tables::tilts,
        text::{Anchor, Text, TextSize},
        view::{Scale, View},
    },
};

/// Room at the right for distances from the gauge face (mm).
const GAUGES_WIDE: f64 = 26.0;
/// Room at the left of the marked end (mm).
const END_WIDE: f64 = 5.0;
/// A hand seen from the marked end: room for one (mm).
const HAND_WIDE: f64 = 40.0;
const HAND_HIGH: f64 = 18.0;
/// Between two parts (mm).
const GAP: f64 = 7.0;
/// Places nearer than this share a letter's line (mm).
const SAME_MM: f64 = 0.3;
const SIZE: TextSize = TextSize::Small;

/// Something bored or turned into a part.
struct Spot {
    from_end_mm: f64,
    gauge_mm: f64,
    drill_mm: f64,
    what: String,
    /// Seen from the side of the part: a bolt or screw that goes down beside it or through it (mm, its length).
    down_mm: Option<f64>,
    /// `hole`, or `screw` of a joint or foot.
    name: &'static str,
}

impl Drafter<'_> {
    /// One drawing for every part that is drilled, as many on a sheet as there is room for.
    pub(super) fn part_drawings(&self) -> Vec<Sheet> {
        let page = Page::portrait(self.paper);
        let window = page.window();
        let mut pages: Vec<Vec<Mark>> = vec![vec![]];
        let mut top = window.top;
        for (index, piece) in self.frame.pieces.iter().enumerate() {
            let spots = self.spots(index);
            if spots.is_empty() {
                continue;
            }
            let drawn = self.part_drawing(index, piece, &spots, window);
            let Some(size) = bounds(&drawn) else { continue };
            if top > window.top && top + size.height() > window.bottom {
                pages.push(vec![]);
                top = window.top;
            }
            let (dx, dy) = (0.0, top - size.top);
            pages.last_mut().into_iter().for_each(|page| page.extend(drawn.iter().map(|mark| mark.moved(dx, dy))));
            top += size.height() + GAP;
        }
        pages.retain(|marks| !marks.is_empty());
        let count = pages.len();
        let sheet = |(n, marks): (usize, Vec<Mark>)| {
            let (slug, title) = match count {
                1 => ("drilled-parts".to_string(), "Drilled parts".to_string()),
                _ => (format!("drilled-parts-{}", n + 1), format!("Drilled parts ({} of {count})", n + 1)),
            };
            self.sheet(&slug, &title, page).at_scale(SheetScale::AsNoted).with(marks)
        };
        pages.into_iter().enumerate().map(sheet).collect()
    }

    /// Holes of a piece, screws between its plies, and what holds it as a foot; from the marked end on.
    fn spots(&self, index: usize) -> Vec<Spot> {
        let frame = self.frame;
        let piece = &frame.pieces[index];
        let mut spots: Vec<Spot> = piece
            .holes
            .iter()
            .map(|hole| Spot {
                from_end_mm: hole.from_end_mm,
                gauge_mm: hole.gauge_mm,
                drill_mm: hole.diameter_mm,
                what: match hole.use_ {
                    HoleUse::Row => format!("tilt {}", tilts(&hole.tilts_deg)),
                    other => other.word().to_string(),
                },
                down_mm: None,
                name: "hole",
            })
            .collect();
        let is_own = |stick: usize| frame.piece_of[stick] == index;
        // Left and right, or several equal ones, are screwed alike: the first is drawn.
        let plies = frame.joints.iter().find_map(|joint| match (joint.use_, joint.parts.first()) {
            (JointUse::Plies, Some(Part::Stick(i))) if is_own(*i) => Some((joint, &frame.sticks[*i])),
            _ => None,
        });
        if let Some((joint, stick)) = plies {
            spots.extend(joint.fasteners.iter().map(|f| self.screw_spot(f, stick, "plies")));
        }
        if let Some(foot) = frame.feet.iter().find(|foot| is_own(foot.stick)) {
            let stick = &frame.sticks[foot.stick];
            for hold in &foot.holds {
                // A bolt through the part stands in a hole of its own.
                let bored = |f: &&Fastener| {
                    let at = self.screw_spot(f, stick, "");
                    let same = |hole: &crate::frame::Hole| {
                        hole.use_ == HoleUse::FootBolt && (hole.from_end_mm - at.from_end_mm).abs() < SAME_MM
                    };
                    !piece.holes.iter().any(same) || at.down_mm.is_some()
                };
                let word = match hold.by {
                    HeldBy::Tie => "",
                    HeldBy::Stake => "stake, from the outer side",
                    HeldBy::Bracket => "bracket",
                    HeldBy::DeckBolt => "deck bolt",
                    HeldBy::Ballast(_) => "ballast",
                };
                spots.extend(hold.fasteners.iter().filter(bored).map(|f| self.screw_spot(f, stick, word)));
            }
        }
        spots.sort_by(|a, b| a.from_end_mm.total_cmp(&b.from_end_mm).then(a.gauge_mm.total_cmp(&b.gauge_mm)));
        spots
    }

    /// A fastener in the axes of the stick it holds.
    fn screw_spot(&self, f: &Fastener, stick: &Stick, word: &str) -> Spot {
        let from: [f64; 3] = std::array::from_fn(|i| f.from[i] - stick.start[i]);
        let along = |axis: [f64; 3]| (0..3).map(|i| from[i] * axis[i]).sum::<f64>();
        let goes_down = (0..3).map(|i| f.axis[i] * stick.across[i]).sum::<f64>() > 0.5;
        let way = match (goes_down, word) {
            (true, "bracket") => ", down beside the part",
            (true, _) => ", down through the part",
            (false, "bracket") => ", from the outer side",
            _ => "",
        };
        Spot {
            from_end_mm: along(stick.along),
            gauge_mm: along(stick.across),
            drill_mm: f.lead_hole_mm.or(f.clearance_hole_mm).unwrap_or(f.diameter_mm),
            what: format!("{word}{way}: {}", f.words(self.units)),
            down_mm: goes_down.then_some(f.length_mm),
            name: "screw",
        }
    }

    fn part_drawing(&self, index: usize, piece: &Piece, spots: &[Spot], window: Rect) -> Vec<Mark> {
        let room = window.width() - GAUGES_WIDE - END_WIDE;
        // A part must be wide enough on the paper for its holes to be told apart, and as long as there is room for.
        let scale =
            Scale::for_frames().find(|s| s.length(piece.length_mm) <= room && s.length(piece.section.depth_mm) <= 60.0);
        let scale = scale.unwrap_or(Scale::FULL);
        let view = View::new(scale, World::default(), Point::new(window.left + END_WIDE, 0.0));
        let lettered = letters(spots);
        let mut group = Group::new("part-drawing").fact("part", &piece.mark);
        group.marks.extend(self.face_of_part(piece, spots, &view));
        group.marks.extend(self.measured(piece, &lettered, &view));
        let Some(size) = bounds(&group.marks) else { return vec![] };
        let heading = self.part_heading(piece, scale);
        let at = Point::new(window.left, size.top - 1.5 - SIZE.below());
        group.marks.push(Text::new(&heading, at, SIZE).bold().into());
        let hands = match self.hand(index, "left").and(self.hand(index, "right")) {
            Some(_) => {
                " Left and right are drilled as a pair; they are seen here from the marked end, gauge face up, “out” away from the \
                 frame."
            }
            None => "",
        };
        let faces = format!(
            "Left: marked end = {}. Top edge: gauge face = {}. Holes go square through.{hands}",
            self.marked_end(piece),
            self.gauge_face(piece)
        );
        let (said, top) = paragraph(&faces, Rect { top: size.bottom + 1.5, ..window }, SIZE);
        group.marks.extend(said);
        let top = top + 1.0;
        let hands = self.hands(index, Point::new(window.right, top));
        let wide = if hands.is_empty() { window.width() } else { window.width() - 2.0 * HAND_WIDE - 4.0 };
        let place = Rect { left: window.left, right: window.left + wide, top, bottom: f64::MAX };
        if let Some(table) = self.spot_table(&lettered).lay_out(SIZE, place, place).into_iter().next() {
            group.marks.extend(table.marks);
        }
        group.marks.extend(hands);
        vec![group.into()]
    }

    fn part_heading(&self, piece: &Piece, scale: Scale) -> String {
        format!(
            "{} {}, {}, {} long, {} per frame, {scale}",
            piece.mark,
            piece.role.word(),
            piece.section.name,
            self.show(piece.length_mm),
            piece.quantity
        )
    }

    /// The drilled face, marked end at the left, gauge face at the top.
    fn face_of_part(&self, piece: &Piece, spots: &[Spot], view: &View) -> Vec<Mark> {
        let depth = piece.section.depth_mm;
        let box_ = view.rect(Bounds { left: 0.0, right: piece.length_mm, low: -depth, high: 0.0 });
        let mut marks = vec![Mark::rect(box_, Pen::Visible)];
        for spot in spots {
            let at = view.at(World::new(spot.from_end_mm, -spot.gauge_mm));
            let group = Group::new(spot.name)
                .fact("from-end-mm", number(spot.from_end_mm, 4))
                .fact("gauge-mm", number(spot.gauge_mm, 4));
            let drawn: Vec<Mark> = match spot.down_mm {
                Some(long) => {
                    let foot = view.at(World::new(spot.from_end_mm, -spot.gauge_mm - long));
                    vec![Mark::line(at.moved(0.0, -2.0), foot, Pen::Hidden)]
                }
                None => {
                    let radius = view.length(spot.drill_mm / 2.0).max(0.35);
                    let cross = Mark::cross(at, radius + 1.2, Pen::Dimension);
                    std::iter::once(Mark::circle(at, radius, Pen::Visible)).chain(cross).collect()
                }
            };
            marks.push(group.with(drawn).into());
        }
        // Datum triangles: on the marked end, and on the gauge face.
        let end = Point::new(box_.left, 0.5 * (box_.top + box_.bottom));
        let triangle = |points: [Point; 3]| Mark::Polygon { points: points.to_vec(), pen: None, fill: Fill::Ink };
        marks.push(triangle([end, end.moved(-2.6, -1.5), end.moved(-2.6, 1.5)]));
        let face = Point::new(box_.right - 3.0, box_.top);
        marks.push(triangle([face, face.moved(-1.5, -2.6), face.moved(1.5, -2.6)]));
        marks
    }

    /// Running dimensions: along the part from its marked end, across it from its gauge face.
    fn measured(&self, piece: &Piece, lettered: &[(String, &Spot)], view: &View) -> Vec<Mark> {
        let top = |x: f64| view.at(World::new(x, 0.0));
        let mut features: Vec<Feature> = Vec::new();
        let mut n = 0;
        while n < lettered.len() {
            let at = lettered[n].1.from_end_mm;
            let same = lettered[n..].iter().take_while(|(_, spot)| (spot.from_end_mm - at).abs() < SAME_MM).count();
            let mut names: Vec<&str> = lettered[n..n + same].iter().map(|(letter, _)| letter.as_str()).collect();
            names.dedup();
            features.push(Feature { at: top(at), text: format!("{} {}", names.join(","), self.show(at)) });
            n += same;
        }
        features.push(Feature { at: top(piece.length_mm), text: format!("end {}", self.show(piece.length_mm)) });
        let datum = Feature { at: top(0.0), text: "0".to_string() };
        let mut marks = running(Side::Above, top(0.0).y, &datum, &features).0;
        let mut gauges: Vec<f64> = lettered.iter().map(|(_, spot)| spot.gauge_mm).collect();
        let depth = piece.section.depth_mm;
        gauges.retain(|gauge| (0.5..=depth).contains(gauge));
        gauges.push(depth);
        gauges.sort_by(f64::total_cmp);
        gauges.dedup_by(|a, b| (*a - *b).abs() < SAME_MM);
        let right = |gauge: f64| view.at(World::new(piece.length_mm, -gauge));
        let features: Vec<Feature> =
            gauges.iter().map(|gauge| Feature { at: right(*gauge), text: self.show(*gauge) }).collect();
        let datum = Feature { at: right(0.0), text: "0 face".to_string() };
        marks.extend(running(Side::Right, right(0.0).x, &datum, &features).0);
        marks
    }

    fn spot_table(&self, lettered: &[(String, &Spot)]) -> Table {
        let mut table = Table::new([
            words("Hole"),
            words("For"),
            figures("Drill"),
            figures("From marked end"),
            figures("From gauge face"),
        ]);
        let mut told: Vec<&str> = Vec::new();
        for (letter, spot) in lettered {
            if told.contains(&letter.as_str()) {
                continue;
            }
            told.push(letter);
            let alike = || lettered.iter().filter(|(other, _)| other == letter).map(|(_, spot)| spot);
            let every = |value: fn(&Spot) -> f64| {
                let mut values: Vec<String> = alike().map(|spot| self.show(value(spot))).collect();
                values.dedup();
                // A column of figures has no room for a whole run; each stands at its line above.
                if values.len() > 3 { "as drawn".to_string() } else { values.join(", ") }
            };
            table.row([
                letter.clone(),
                match alike().count() {
                    1 => spot.what.clone(),
                    count => format!("{count} × {}", spot.what),
                },
                drill_size(spot.drill_mm, self.units),
                every(|spot| spot.from_end_mm),
                every(|spot| spot.gauge_mm),
            ]);
        }
        table
    }

    /// The first stick of a piece on a side.
    fn hand(&self, index: usize, side: &str) -> Option<&Stick> {
        let own = self.frame.sticks.iter().zip(&self.frame.piece_of).filter(|(_, piece)| **piece == index);
        own.map(|(stick, _)| stick).find(|stick| stick.side == side)
    }

    /// Left and right part seen from their marked ends, gauge face up: which side is outside, and where an open section has
    /// its back.
    fn hands(&self, index: usize, right_top: Point) -> Vec<Mark> {
        let (Some(left), Some(right)) = (self.hand(index, "left"), self.hand(index, "right")) else { return vec![] };
        let place = |n: f64| Point::new(right_top.x - (1.5 - n) * HAND_WIDE, right_top.y + 2.0);
        [(left, "left", place(0.0)), (right, "right", place(1.0))]
            .into_iter()
            .flat_map(|(stick, word, at)| end_view(stick, word, at))
            .collect()
    }
}

/// Equal spots at one place over the depth share a letter: the holes of a row have one each, screws of one kind too.
fn letters(spots: &[Spot]) -> Vec<(String, &Spot)> {
    let mut kinds: Vec<&str> = Vec::new();
    spots
        .iter()
        .map(|spot| {
            let n = kinds.iter().position(|kind| *kind == spot.what).unwrap_or_else(|| {
                kinds.push(&spot.what);
                kinds.len() - 1
            });
            (letter(n), spot)
        })
        .collect()
}

/// a … z, aa, ab …
fn letter(n: usize) -> String {
    let one = |n: usize| char::from(b'a' + (n % 26) as u8);
    if n < 26 { one(n).to_string() } else { format!("{}{}", one(n / 26 - 1), one(n)) }
}

/// A part seen from its marked end, gauge face up.
fn end_view(stick: &Stick, word: &str, top: Point) -> Vec<Mark> {
    let section = stick.section;
    let (width, depth, wall) = (section.width_mm, section.depth_mm, section.wall_mm);
    let scale = Scale::to_fit(width, depth, HAND_WIDE - 16.0, HAND_HIGH);
    let view = View::new(scale, World::default(), top);
    // Looking into the part with the gauge face up, this points to the right.
    let right = -cross(stick.along, stick.across)[0];
    let rect =
        |left: f64, right: f64, low: f64, high: f64| view.rect(Bounds { left, right, low, high }).corners().to_vec();
    let half = width / 2.0;
    let cut = |points: Vec<Point>| Mark::filled(points, Pen::Visible, Fill::Hatch(45.0));
    let mut group = Group::new("hand").fact("side", word);
    match section.shape {
        Shape::Angle | Shape::Channel { .. } => {
            let back = if stick.back[0] * right > 0.0 { 1.0 } else { -1.0 };
            let web = [back * half, back * (half - wall)];
            group.marks.push(cut(rect(web[0].min(web[1]), web[0].max(web[1]), -depth, 0.0)));
            group.marks.push(cut(rect(-half, half, -wall, 0.0)));
            if matches!(section.shape, Shape::Channel { .. }) {
                group.marks.push(cut(rect(-half, half, -depth, wall - depth)));
            }
        }
        _ => {
            group.marks.push(cut(rect(-half, half, -depth, 0.0)));
            if section.is_hollow() {
                let inner = rect(wall - half, half - wall, wall - depth, -wall);
                group.marks.push(Mark::filled(inner, Pen::Visible, Fill::Paper));
            }
        }
    }
    let outer = stick.start[0] * right > 0.0;
    let middle = view.at(World::new(if outer { half } else { -half }, -depth / 2.0));
    let (way, anchor) = if outer { (1.0, Anchor::Start) } else { (-1.0, Anchor::End) };
    group.marks.push(Mark::line(middle, middle.moved(way * 3.0, 0.0), Pen::Dimension));
    group.marks.push(Text::new("out", middle.moved(way * 3.6, 0.0), SIZE).anchored(anchor).on_middle().into());
    let foot = view.at(World::new(0.0, -depth)).moved(0.0, 1.2 + SIZE.above());
    group.marks.push(Text::new(&format!("{word} part"), foot, SIZE).anchored(Anchor::Middle).into());
    vec![group.into()]
}
