//! What stands on the ground before the frame comes: posts with their holes, or runners with their hinges.

use super::drafter::{Drafter, draw_to_fit, paragraph, part};
use super::elevation::EVERYWHERE;
use crate::{
    frame::{Body, InSoil, Stick},
    quantities::{number, sentence_case},
    sheets::{
        dimension::{Feature, Labels, Side, Stack, leader, running},
        geometry::{Bounds, Point, Rect, World},
        mark::{self, Fill, Mark},
        page::Page,
        pen::Pen,
        sheet::{Sheet, SheetScale},
        text::{Anchor, Text, TextSize},
        view::View,
    },
    shop::{Holding, foot_of_post, gravel_mm, holding},
};

impl Drafter<'_> {
    /// Posts seen from the front, or runners seen square to what they lie on.
    pub(super) fn setting_out(&self) -> Vec<Sheet> {
        let stands_on = self.frame.stands_on_word();
        let soil = self.frame.in_soil();
        let (seen, words) = match &soil {
            Some(soil) => (
                "seen from the front",
                format!("Have buried lines located before you dig. {} The local frost depth counts where it is more. Dig deeper \
                 than the post goes by the gravel, which lets the {} drain ({}: common practice, no source). Set both posts plumb both ways with their axle holes level with each other; run a straight bar \
                 through both axle holes while the concrete sets. Slope the top of the concrete away from the post.", self.depth_in_words(soil), foot_of_post(self.frame), self.show(gravel_mm(self.design.units))),
            ),
            None => (
                "seen square on",
                "Set the runners parallel: both diagonals between their ends agree. Set the hinge line level. Whether ballast \
                 or fixings hold the runners down is judged on the strength sheet (`tiltwright strength`); on a roof, fixings and the roof itself need a licensed engineer. Fall protection on any roof.".to_string(),
            ),
        };
        let page = Page::portrait(self.paper);
        let window = page.window();
        let shim = self.frame.shim_mm().map_or_else(String::new, |shim_mm| {
            format!(" Shim the lower runner by {} so that the hinge line is level.", self.show(shim_mm))
        });
        let held = self.held();
        let (heading, foot) = paragraph(&format!("{words}{shim}{held}"), window, TextSize::Small);
        let room = Rect { top: foot + 3.0, ..window };
        let (scale, marks) = draw_to_fit(room, |view| match &soil {
            Some(soil) => self.seen_from_front(view, soil),
            None => self.square_on(view),
        });
        let title = format!("{}, {seen}", sentence_case(stands_on));
        vec![self.sheet(stands_on, &title, page).at_scale(SheetScale::One(scale)).with(heading).with(marks)]
    }

    /// How deep a post must go, beside how deep it is drawn.
    fn depth_in_words(&self, soil: &InSoil) -> String {
        let drawn = self.show(soil.depth_mm);
        let Some(asked_mm) = self.depth_asked_mm else {
            return format!(
                "The post is drawn {drawn} below grade; no strength sheet says yet what wind and soil ask for."
            );
        };
        // The next mark of the tape: a depth is never rounded to less than is asked for.
        let nearest = self.frame.tape.nearest_mm(asked_mm);
        let taped = if nearest < asked_mm { nearest + self.frame.tape.mark_mm() } else { nearest };
        if !asked_mm.is_finite() {
            format!(
                "DO NOT BUILD AS DRAWN: {drawn} below grade are drawn, and the strength sheet finds no depth that is enough."
            )
        } else if asked_mm > soil.depth_mm * (1.0 + 1e-9) {
            format!(
                "DO NOT BUILD AS DRAWN: the post is drawn {drawn} below grade, the strength sheet asks for {} at least. \
                 Give `support.posts.embedment` that depth and plan again.",
                self.show(taped)
            )
        } else {
            format!("The post goes {drawn} below grade; the strength sheet asks for {} at least.", self.show(taped))
        }
    }

    /// Count and places of everything that holds a foot.
    fn held(&self) -> String {
        let one = |held: &Holding| {
            let places: Vec<String> = held.places_mm.iter().map(|at| self.show(*at)).collect();
            format!(
                " Each has {} × {} ({}) at {} from its marked end: {}.",
                held.per_foot,
                held.item,
                held.size,
                places.join(", "),
                held.note
            )
        };
        holding(self.design, self.frame, self.units).iter().map(one).collect()
    }

    /// Across and up: x and Z.
    fn seen_from_front(&self, view: &View, soil: &InSoil) -> Vec<Mark> {
        let InSoil { depth_mm, hole_diameter_mm } = *soil;
        let grade = -self.frame.axis_above_surface_mm();
        let tops = self.frame.standing().flat_map(|(_, post)| post.corners().map(|corner| corner[2]));
        let (foot, top) = (grade - depth_mm, tops.fold(grade, f64::max));
        let mut marks = Vec::new();
        let mut middles = Vec::new();
        for (n, post) in self.frame.standing() {
            let x = 0.5 * (post.x_range()[0] + post.x_range()[1]);
            middles.push(x);
            let half = 0.5 * hole_diameter_mm;
            if half > 0.0 {
                let concrete = view.rect(Bounds { left: x - half, right: x + half, low: foot, high: grade });
                marks.push(
                    part("footing", "footing")
                        .with([Mark::filled(concrete.corners(), Pen::Hidden, Fill::Hatch(45.0))])
                        .into(),
                );
            }
            let half = half.max(0.5 * (post.x_range()[1] - post.x_range()[0]));
            let gravel = view.rect(Bounds {
                left: x - half,
                right: x + half,
                low: foot - gravel_mm(self.design.units),
                high: foot,
            });
            let fill = Mark::filled(gravel.corners(), Pen::Hidden, Fill::Paper);
            let stones = part("gravel", "gravel")
                .fact("depth-mm", number(gravel_mm(self.design.units), 3))
                .with([fill])
                .with(stones(gravel));
            marks.push(stones.into());
            let body = view.rect(Bounds { left: post.x_range()[0], right: post.x_range()[1], low: foot, high: top });
            marks.push(
                part(self.frame.mark(n), post.role.word())
                    .with([Mark::filled(body.corners(), Pen::Visible, Fill::Paper)])
                    .into(),
            );
            for hole in &post.holes {
                let z = post.hole_place(hole)[2];
                let ends = post.x_range().map(|x| view.at(World::new(x, z)));
                marks.push(Mark::line(ends[0].moved(-4.0, 0.0), ends[1].moved(4.0, 0.0), Pen::Centre));
            }
        }
        let (Some(first), Some(last)) =
            (middles.iter().copied().reduce(f64::min), middles.iter().copied().reduce(f64::max))
        else {
            return marks;
        };
        let half = (0.5 * hole_diameter_mm).max(100.0);
        let edges = [first - 1.8 * half, last + 1.8 * half];
        let ground = edges.map(|x| view.at(World::new(x, grade)));
        marks.push(Mark::line(ground[0], ground[1], Pen::Ground));
        marks.extend(middles.iter().map(|x| {
            let ends = [foot, top].map(|z| view.at(World::new(*x, z)));
            Mark::line(ends[0].moved(0.0, 1.5), ends[1].moved(0.0, -3.0), Pen::Centre)
        }));
        let bottom = foot - gravel_mm(self.design.units);
        let mut left = Stack::new(Side::Left, view.at(World::new(first - half, foot)).x);
        let beside = |z: f64| view.at(World::new(first - half, z));
        left.add(beside(foot), beside(bottom), &format!("{} gravel", self.show(gravel_mm(self.design.units))));
        left.add(beside(grade), beside(bottom), &format!("{} dig", self.show(depth_mm + gravel_mm(self.design.units))));
        marks.extend(left.draw().0);
        let mut below = Stack::new(Side::Below, view.at(World::new(0.0, bottom)).y + 2.0);
        let at = |x: f64| view.at(World::new(x, bottom));
        below.add(at(first), at(last), &format!("{} middle to middle", self.show(last - first)));
        if hole_diameter_mm > 0.0 {
            below.add(
                at(first - 0.5 * hole_diameter_mm),
                at(first + 0.5 * hole_diameter_mm),
                &self.show(hole_diameter_mm),
            );
        }
        marks.extend(below.draw().0);
        marks.extend(self.post_heights(view, edges[1], [top, grade, foot]));
        self.name_ground(view, &mut marks, |stick| {
            let [left, right] = stick.x_range();
            World::new(0.5 * (left + right), 0.4 * grade)
        });
        marks
    }

    /// Running from the top of the post, which is its marked end.
    fn post_heights(&self, view: &View, right: f64, [top, grade, foot]: [f64; 3]) -> Vec<Mark> {
        let base = view.at(World::new(right, 0.0)).x;
        let feature = |z: f64, word: &str| Feature {
            at: view.at(World::new(right, z)),
            text: format!("{} {word}", self.show(top - z)),
        };
        let datum = Feature { at: view.at(World::new(right, top)), text: "0 top".to_string() };
        let mut features = vec![
            feature(grade, "grade"),
            feature(foot, "foot"),
            feature(foot - gravel_mm(self.design.units), "bottom of the hole"),
        ];
        if let Some((_, post)) = self.frame.standing().next() {
            for hole in &post.holes {
                features.push(feature(post.hole_place(hole)[2], hole.use_.word()));
            }
        }
        running(Side::Right, base, &datum, &features).0
    }

    /// Across and along the runner, whatever its slope: x and the distance from the foot of the hinge. The front end is at the foot.
    fn square_on(&self, view: &View) -> Vec<Mark> {
        let (sin, cos) = self.frame.slope_deg().to_radians().sin_cos();
        let mut marks = Vec::new();
        let mut bounds: Option<Bounds> = None;
        let ranges = |stick: &Stick| {
            let [left, right] = stick.x_range();
            let along = stick.corners().map(|corner| corner[1] * cos + corner[2] * sin);
            let (low, high) =
                (along.iter().copied().fold(f64::MAX, f64::min), along.iter().copied().fold(f64::MIN, f64::max));
            Bounds { left, right, low, high }
        };
        let on_ground: Vec<_> = self.frame.sticks_of(Body::Ground).collect();
        for (n, stick) in &on_ground {
            let box_ = ranges(stick);
            bounds = Some(bounds.map_or(box_, |all: Bounds| all.with(box_)));
            let outline = Mark::filled(view.rect(box_).corners(), Pen::Visible, Fill::Paper);
            marks.push(part(self.frame.mark(*n), stick.role.word()).with([outline]).into());
        }
        let Some(all) = bounds else { return marks };
        let hinge = [all.left, all.right].map(|x| view.at(World::new(x, 0.0)));
        marks.push(Mark::line(hinge[0].moved(-4.0, 0.0), hinge[1].moved(4.0, 0.0), Pen::Centre));
        let runners: Vec<Bounds> = self.frame.standing().map(|(_, stick)| ranges(stick)).collect();
        let paper = view.rect(all);
        let mut below = Stack::new(Side::Below, paper.bottom);
        let mut left = Stack::new(Side::Left, paper.left);
        if let [a, b] = runners[..] {
            let at = |x: f64| view.at(World::new(x, all.low));
            let (a, b) = if a.left < b.left { (a, b) } else { (b, a) };
            below.add(at(a.right), at(b.left), &format!("{} between", self.show(b.left - a.right)));
            below.add(at(0.5 * (a.left + a.right)), at(0.5 * (b.left + b.right)), &self.show(self.frame.span_mm));
            let corners = [(a.left, a.low, b.right, b.high), (b.right, b.low, a.left, a.high)];
            for (x1, y1, x2, y2) in corners {
                marks.push(Mark::line(view.at(World::new(x1, y1)), view.at(World::new(x2, y2)), Pen::Ray));
            }
            let diagonal = (b.right - a.left).hypot(b.high - b.low);
            below.add(
                at(a.left),
                at(b.right),
                &format!("{} outside; diagonals {}", self.show(b.right - a.left), self.show(diagonal)),
            );
        }
        let carries_axis = |stick: &Stick| stick.holes.iter().any(|hole| hole.use_ == self.frame.turns_on());
        let cheeks: Vec<_> = on_ground.iter().filter(|(_, stick)| carries_axis(stick)).collect();
        let mark = cheeks.first().map_or("", |(n, _)| self.frame.mark(*n));
        let cheeks: Vec<Bounds> = cheeks.into_iter().map(|(_, stick)| ranges(stick)).collect();
        let at = |y: f64| view.at(World::new(all.left, y));
        if let Some(cheek) = cheeks.iter().min_by(|a, b| a.left.total_cmp(&b.left)) {
            left.add(at(all.low), at(cheek.low), &format!("{} to {mark}", self.show(cheek.low - all.low)));
            left.add(at(cheek.low), at(cheek.high), &format!("{} {mark}", self.show(cheek.high - cheek.low)));
            if let Some(other) = cheeks.iter().max_by(|a, b| a.left.total_cmp(&b.left)) {
                let at = |x: f64| view.at(World::new(x, all.low));
                let between = other.left - cheek.right;
                below.add(at(cheek.right), at(other.left), &format!("{} between {mark}", self.show(between)));
            }
        }
        left.add(at(all.low), at(0.0), &format!("{} to hinge", self.show(-all.low)));
        left.add(at(all.low), at(all.high), &self.show(all.high - all.low));
        marks.extend(below.draw().0);
        marks.extend(left.draw().0);
        let low_edge = mark::bounds(&marks).map_or(paper.bottom, |size| size.bottom) + 4.0 + TextSize::Small.above();
        let middle = Point::new(paper.centre().x, low_edge);
        let words = "low edge, towards the sun";
        marks.push(Text::new(words, middle, TextSize::Small).bold().anchored(Anchor::Middle).into());
        self.name_ground(view, &mut marks, |stick| {
            let box_ = ranges(stick);
            World::new(0.5 * (box_.left + box_.right), 0.7 * box_.high + 0.3 * box_.low)
        });
        marks
    }

    /// Writes the mark of every part on the ground beside it.
    fn name_ground(&self, view: &View, marks: &mut Vec<Mark>, place: impl Fn(&Stick) -> World) {
        let mut labels = Labels::new();
        labels.avoid(marks);
        for (n, stick) in self.frame.sticks_of(Body::Ground) {
            let at = view.at(place(stick));
            let ways = [7.0, 11.0, 16.0, 22.0].into_iter().flat_map(|reach| {
                [(1.0, -1.0), (-1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)].map(|(x, y)| at.moved(x * reach, 0.6 * y * reach))
            });
            let ways: Vec<_> = ways.map(|shelf| leader(at, shelf, self.frame.mark(n))).collect();
            marks.extend(labels.place(EVERYWHERE, ways).unwrap_or_default());
        }
    }
}

/// Rings in rows, as gravel is drawn.
fn stones(room: Rect) -> Vec<Mark> {
    const PITCH: f64 = 2.4;
    let (columns, rows) = ((room.width() / PITCH).floor() as i32, (room.height() / PITCH).floor() as i32);
    let at = |row: i32, column: i32| {
        let shift = if row % 2 == 0 { 0.25 } else { 0.75 };
        Point::new(
            room.left + (f64::from(column) + shift) * room.width() / f64::from(columns.max(1)),
            room.top + (f64::from(row) + 0.5) * room.height() / f64::from(rows.max(1)),
        )
    };
    let all = (0..rows.max(1)).flat_map(|row| (0..columns).map(move |column| (row, column)));
    all.map(|(row, column)| Mark::circle(at(row, column), 0.25 * PITCH, Pen::Hatch)).collect()
}
