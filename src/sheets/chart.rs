//! Plain charts: two axes, curves, and a name beside each curve.

use super::{
    dimension::Labels,
    geometry::{Point, Rect},
    mark::{Group, Mark, bounds},
    pen::Pen,
    text::{Anchor, Text, TextSize, width},
};
use crate::quantities::number;

const TICK: f64 = 1.5;
const SIZE: TextSize = TextSize::Fine;

/// One axis: its name, its range, and where it is marked.
#[derive(Debug, Clone, PartialEq)]
pub struct Axis {
    /// Name with unit.
    pub name: String,
    /// Value at the left or the foot.
    pub from: f64,
    /// Value at the right or the top; differs from `from`.
    pub to: f64,
    /// Values marked, with what is written there.
    pub ticks: Vec<(f64, String)>,
}

impl Axis {
    /// An axis marked every `step` with plain numbers of at most three decimals.
    #[must_use]
    pub fn even(name: &str, from: f64, to: f64, step: f64) -> Self {
        let count = ((to - from) / step + 1e-9).floor().clamp(0.0, 200.0) as i32;
        let ticks = (0..=count).map(|n| from + step * f64::from(n)).map(|value| (value, number(value, 3))).collect();
        Self { name: name.to_string(), from, to, ticks }
    }

    fn share(&self, value: f64) -> f64 {
        (value - self.from) / (self.to - self.from)
    }
}

/// A curve through points.
#[derive(Debug, Clone, PartialEq)]
pub struct Curve {
    /// Name written beside it; may be empty.
    pub name: String,
    /// Points in axis values.
    pub points: Vec<(f64, f64)>,
    /// Line it is drawn with.
    pub pen: Pen,
}

/// A chart in a window.
#[derive(Debug, Clone, PartialEq)]
pub struct Chart {
    /// Axis across.
    pub x: Axis,
    /// Axis up.
    pub y: Axis,
    /// Curves, drawn in order.
    pub curves: Vec<Curve>,
}

impl Chart {
    /// The marks of the chart. Names that find no place at their curve stand in a list at the right, joined by a thin line.
    #[must_use]
    pub fn draw(&self, window: Rect) -> Vec<Mark> {
        const NO_LIST: f64 = 6.0;
        let names = self.curves.iter().map(|curve| width(&curve.name, SIZE, false)).fold(0.0, f64::max);
        let (marks, all_placed) = self.draw_beside(window, NO_LIST);
        if all_placed { marks } else { self.draw_beside(window, names.min(0.4 * window.width()) + NO_LIST).0 }
    }

    /// The chart with some room (mm) kept for a list at the right, and whether it needed no list.
    fn draw_beside(&self, window: Rect, list: f64) -> (Vec<Mark>, bool) {
        let ticks = self.y.ticks.iter().map(|tick| width(&tick.1, SIZE, false)).fold(0.0, f64::max);
        let plot = Rect {
            left: window.left + SIZE.line_pitch() + 1.0 + ticks + TICK + 1.0,
            right: window.right - list,
            top: window.top + SIZE.above(),
            bottom: window.bottom - 2.0 * SIZE.line_pitch() - TICK - 1.5,
        };
        let mut marks = self.axes(plot, window);
        let mut curves = Group { clip: Some(plot), ..Group::new("curves") };
        for curve in &self.curves {
            let points = curve.points.iter().map(|(x, y)| self.at(plot, *x, *y)).collect();
            curves.marks.push(
                Group::new("curve").fact("name", &curve.name).with([Mark::Polyline { points, pen: curve.pen }]).into(),
            );
        }
        marks.push(curves.into());
        let (names, homeless) = self.names(plot, &marks);
        marks.extend(names);
        let all_placed = homeless.is_empty();
        marks.extend(listed(homeless, plot, window));
        (marks, all_placed)
    }

    /// Where a pair of values lies on the paper.
    fn at(&self, plot: Rect, x: f64, y: f64) -> Point {
        Point::new(plot.left + plot.width() * self.x.share(x), plot.bottom - plot.height() * self.y.share(y))
    }

    fn axes(&self, plot: Rect, window: Rect) -> Vec<Mark> {
        let mut marks = vec![Mark::rect(plot, Pen::Rule)];
        // Ticks are thinned when their texts would touch.
        let widest = self.x.ticks.iter().map(|tick| width(&tick.1, SIZE, false)).fold(0.0, f64::max);
        let mut free_from = f64::NEG_INFINITY;
        for (value, label) in &self.x.ticks {
            let foot = Point::new(self.at(plot, *value, self.y.from).x, plot.bottom);
            marks.push(Mark::line(foot, foot.moved(0.0, TICK), Pen::Rule));
            if foot.x - 0.5 * widest >= free_from {
                let at = foot.moved(0.0, TICK + SIZE.above());
                marks.push(Text::new(label, at, SIZE).anchored(Anchor::Middle).into());
                free_from = foot.x + 0.5 * widest + 1.0;
            }
        }
        let mut free_below = f64::INFINITY;
        let mut ticks: Vec<_> =
            self.y.ticks.iter().map(|(value, label)| (self.at(plot, self.x.from, *value), label)).collect();
        ticks.sort_by(|a, b| b.0.y.total_cmp(&a.0.y));
        for (left, label) in ticks {
            marks.push(Mark::line(left, left.moved(-TICK, 0.0), Pen::Rule));
            if left.y <= free_below {
                let text = Text::new(label, left.moved(-TICK - 1.0, 0.0), SIZE).anchored(Anchor::End).on_middle();
                free_below = left.y - SIZE.line_pitch();
                marks.push(text.into());
            }
        }
        let below = Point::new(plot.centre().x, window.bottom - SIZE.below());
        marks.push(Text::new(&self.x.name, below, SIZE).anchored(Anchor::Middle).into());
        let beside = Point::new(window.left + SIZE.above(), plot.centre().y);
        marks.push(Text::new(&self.y.name, beside, SIZE).anchored(Anchor::Middle).rotated(90.0).into());
        marks
    }

    /// Names beside their curves, and those that find no place there with the ends of their curves.
    fn names(&self, plot: Rect, drawn: &[Mark]) -> (Vec<Mark>, Vec<(Point, &str)>) {
        const PLACES: usize = 24;
        let mut labels = Labels::new();
        labels.avoid(drawn);
        let mut marks = Vec::new();
        let mut homeless = Vec::new();
        for curve in self.curves.iter().filter(|curve| !curve.name.is_empty()) {
            let points: Vec<Point> = curve.points.iter().map(|(x, y)| self.at(plot, *x, *y)).collect();
            let Some(room) = bounds(&[Mark::Polyline { points: points.clone(), pen: curve.pen }]) else { continue };
            if !room.meets(plot) {
                continue;
            }
            let picked = (0..PLACES).map(|n| points[(n * 7 % PLACES) * (points.len() - 1) / (PLACES - 1)]);
            let ways = picked.filter(|at| plot.holds(Rect::between(*at, *at))).flat_map(|at| {
                // Over or under a level stretch, beside a sloping one.
                let text = |dx: f64, dy: f64, anchor| Text::new(&curve.name, at.moved(dx, dy), SIZE).anchored(anchor);
                let (up, down) = (-SIZE.below() - 0.8, SIZE.above() + 0.8);
                [
                    text(0.0, up, Anchor::Middle),
                    text(0.0, down, Anchor::Middle),
                    text(1.2, up, Anchor::Start),
                    text(-1.2, up, Anchor::End),
                    text(1.2, down, Anchor::Start),
                    text(-1.2, down, Anchor::End),
                ]
                .map(|text| vec![text.into()])
            });
            let ways: Vec<Vec<Mark>> = ways.collect();
            let clear = ways
                .into_iter()
                .filter(|way: &Vec<Mark>| super::mark::texts(way).iter().all(|text| labels.lines_near(text, 0.6) == 0));
            let clear: Vec<_> = clear.collect();
            match labels.place(plot, clear) {
                Some(way) => marks.extend(way),
                None => homeless.push((points.last().copied().unwrap_or_default(), curve.name.as_str())),
            }
        }
        (marks, homeless)
    }
}

/// Names in a list right of the plot, each at the height of its curve's end as far as there is room.
fn listed(mut names: Vec<(Point, &str)>, plot: Rect, window: Rect) -> Vec<Mark> {
    names.sort_by(|a, b| a.0.y.total_cmp(&b.0.y));
    let wanted: Vec<f64> = names.iter().map(|(end, _)| end.y.clamp(plot.top, plot.bottom)).collect();
    let mut places = super::dimension::spread(&wanted, SIZE.line_pitch());
    // A list pushed past the foot of the plot moves up as a whole.
    let past = places.last().map_or(0.0, |last| (last - plot.bottom).max(0.0));
    places.iter_mut().for_each(|place| *place -= past);
    let left = plot.right + 5.0;
    let mut marks = Vec::new();
    for ((end, name), y) in names.into_iter().zip(places) {
        let end = Point::new(end.x.min(plot.right), end.y.clamp(plot.top, plot.bottom));
        // The line starts with an arrowhead on the curve, so that it does not read as more of the curve.
        let foot = Point::new(left - 0.8, y);
        marks.extend([Mark::line(end, foot, Pen::Dimension), super::dimension::arrow(end, foot.angle_to_deg(end))]);
        let name = super::text::fit(name, SIZE, false, window.right - left);
        marks.push(Text::new(&name, Point::new(left, y), SIZE).on_middle().into());
    }
    marks
}
