//! What clears what, and by how much: at every tilt, and swept between the lowest and the highest.

use super::{
    linkage::{Linkage, Point, at_tilt},
    panel::PanelPlace,
    piece::{Body, Stick, convex_hull},
    refusal::Refusal,
};

/// Step of the sweep (deg).
pub const SWEEP_STEP_DEG: f64 = 0.5;

/// Something solid in the side view of its body.
#[derive(Debug, Clone)]
pub(super) struct Solid {
    pub(super) name: String,
    pub(super) x_mm: [f64; 2],
    pub(super) outline: Vec<Point>,
}

/// The closest any two bodies come.
#[derive(Debug, Clone, PartialEq)]
pub struct Clearance {
    /// What is measured, in words.
    pub what: String,
    /// At this tilt (deg).
    pub tilt_deg: f64,
    /// Room left (mm).
    pub room_mm: f64,
    /// Room wanted (mm).
    pub wanted_mm: f64,
}

/// What the sweep looks at.
pub(super) struct Scene<'a> {
    pub(super) frame: &'a [Solid],
    pub(super) ground: &'a [Solid],
    /// Outline of the stay in its own coordinates, and the range across it takes.
    pub(super) stay: &'a Solid,
    pub(super) linkage: &'a Linkage,
    /// Tilt really reached (deg) and offset of its hole (mm).
    pub(super) tilts: &'a [(f64, f64)],
    /// A point of the ground surface and its slope (mm), (rad).
    pub(super) surface: (Point, f64),
    /// Room wanted under the low edge (mm).
    pub(super) low_edge_mm: f64,
}

/// Room that solids keep from each other (mm). Judgement: a few millimetres for swollen wood and crooked sticks.
pub(super) const LEAST_ROOM_MM: f64 = 5.0;

impl Solid {
    pub(super) fn of_stick(stick: &Stick, name: String) -> Self {
        Self { name, x_mm: stick.x_range(), outline: stick.side_outline() }
    }

    pub(super) fn of_panel(panel: &PanelPlace) -> Self {
        let corners = panel.u_mm.iter().flat_map(|u| panel.w_mm.iter().map(move |w| [*u, *w])).collect();
        Self { name: "panel".to_string(), x_mm: panel.x_mm, outline: convex_hull(corners) }
    }

    fn shares_x(&self, other: &Self) -> bool {
        const TOUCH_MM: f64 = 0.05;
        self.x_mm[0] < other.x_mm[1] - TOUCH_MM && other.x_mm[0] < self.x_mm[1] - TOUCH_MM
    }

    fn turned(&self, tilt_rad: f64) -> Vec<Point> {
        self.outline.iter().map(|p| at_tilt(*p, tilt_rad)).collect()
    }
}

impl Scene<'_> {
    /// The closest approaches, and a refusal for each that is too close.
    pub(super) fn sweep(&self) -> (Vec<Clearance>, Vec<Refusal>) {
        let mut closest = Closest::default();
        let (low, high) = self
            .tilts
            .iter()
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), (t, _)| (low.min(*t), high.max(*t)));
        let steps = ((high - low) / SWEEP_STEP_DEG).ceil().max(0.0) as usize;
        let between = (0..=steps).map(|i| low + (high - low) * i as f64 / steps.max(1) as f64);
        let swept: Vec<f64> = between.chain(self.tilts.iter().map(|(tilt_deg, _)| *tilt_deg)).collect();
        for solid in self.frame {
            self.swing(solid, &swept, &mut closest);
        }
        for &(tilt_deg, offset_mm) in self.tilts {
            self.stay_against_all(tilt_deg, offset_mm, &mut closest);
        }
        closest.judge()
    }

    /// One solid of the frame through the whole swing, against the ground and all that stands there.
    fn swing(&self, solid: &Solid, swept: &[f64], closest: &mut Closest) {
        let least = |room: &dyn Fn(&[Point]) -> f64| {
            let rooms = swept.iter().map(|tilt_deg| (*tilt_deg, room(&solid.turned(tilt_deg.to_radians()))));
            rooms.min_by(|a, b| a.1.total_cmp(&b.1))
        };
        if let Some((tilt_deg, above)) = least(&|turned| self.above_surface(turned)) {
            closest.note("low edge", "ground", tilt_deg, above, self.low_edge_mm);
        }
        for other in self.ground.iter().filter(|g| solid.shares_x(g)) {
            if let Some((tilt_deg, room)) = least(&|turned| separation(turned, &other.outline)) {
                closest.note(&solid.name, &other.name, tilt_deg, room, LEAST_ROOM_MM);
            }
        }
    }

    fn stay_against_all(&self, tilt_deg: f64, offset_mm: f64, closest: &mut Closest) {
        let tilt = tilt_deg.to_radians();
        let pin = at_tilt(self.linkage.frame_pin(), tilt);
        let fixed = self.linkage.fixed_end(offset_mm);
        let length = (fixed[0] - pin[0]).hypot(fixed[1] - pin[1]);
        let along = [(fixed[0] - pin[0]) / length, (fixed[1] - pin[1]) / length];
        let stay: Vec<Point> = self
            .stay
            .outline
            .iter()
            .map(|[t, v]| [pin[0] + t * along[0] - v * along[1], pin[1] + t * along[1] + v * along[0]])
            .collect();
        closest.note("stay", "ground", tilt_deg, self.above_surface(&stay), LEAST_ROOM_MM);
        for solid in self.frame.iter().filter(|s| self.stay.shares_x(s)) {
            closest.note("stay", &solid.name, tilt_deg, separation(&stay, &solid.turned(tilt)), LEAST_ROOM_MM);
        }
        for solid in self.ground.iter().filter(|s| self.stay.shares_x(s)) {
            closest.note("stay", &solid.name, tilt_deg, separation(&stay, &solid.outline), LEAST_ROOM_MM);
        }
    }

    fn above_surface(&self, outline: &[Point]) -> f64 {
        let ([x, z], slope) = self.surface;
        let (sin, cos) = slope.sin_cos();
        outline.iter().map(|p| (p[1] - z) * cos - (p[0] - x) * sin).fold(f64::INFINITY, f64::min)
    }
}

#[derive(Default)]
struct Closest {
    pairs: Vec<(String, String, f64, f64, f64)>,
}

impl Closest {
    fn note(&mut self, one: &str, other: &str, tilt_deg: f64, room: f64, wanted: f64) {
        match self.pairs.iter_mut().find(|p| p.0 == one && p.1 == other) {
            Some(pair) if room < pair.3 => (pair.2, pair.3) = (tilt_deg, room),
            Some(_) => {}
            None => self.pairs.push((one.to_string(), other.to_string(), tilt_deg, room, wanted)),
        }
    }

    fn judge(self) -> (Vec<Clearance>, Vec<Refusal>) {
        let refusals = self.pairs.iter().filter(|p| p.3 < p.4 - 1e-6).map(|(one, other, tilt_deg, room, wanted)| {
            if one == "low edge" {
                Refusal::LowEdgeTooLow { tilt_deg: *tilt_deg, found_mm: *room, needed_mm: *wanted }
            } else {
                Refusal::Fouls {
                    tilt_deg: *tilt_deg,
                    one: one.clone(),
                    other: other.clone(),
                    overlap_mm: wanted - room,
                }
            }
        });
        let refusals = refusals.collect();
        let rooms = self
            .pairs
            .into_iter()
            .map(|(one, other, tilt_deg, room_mm, wanted_mm)| Clearance {
                what: format!("{one} to {other}"),
                tilt_deg,
                room_mm,
                wanted_mm,
            })
            .collect();
        (rooms, refusals)
    }
}

/// Largest gap between two convex outlines along any of their edge normals (mm); negative when they overlap.
/// Never more than the true distance.
fn separation(a: &[Point], b: &[Point]) -> f64 {
    gap_along_edges(a, b).max(gap_along_edges(b, a))
}

fn gap_along_edges(a: &[Point], b: &[Point]) -> f64 {
    let mut widest = f64::NEG_INFINITY;
    for i in 0..a.len() {
        let (p, q) = (a[i], a[(i + 1) % a.len()]);
        let edge = [q[0] - p[0], q[1] - p[1]];
        let length = edge[0].hypot(edge[1]);
        if length < 1e-9 {
            continue;
        }
        // Outward normal of a counter-clockwise outline.
        let normal = [edge[1] / length, -edge[0] / length];
        let gap = b.iter().map(|v| (v[0] - p[0]) * normal[0] + (v[1] - p[1]) * normal[1]).fold(f64::INFINITY, f64::min);
        widest = widest.max(gap);
    }
    widest
}

/// Sticks of one body as solids.
pub(super) fn solids(sticks: &[Stick], body: Body) -> Vec<Solid> {
    sticks.iter().filter(|s| s.body == body).map(|s| Solid::of_stick(s, s.role.word().to_string())).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn separation_is_the_gap_between_squares() {
        let square = |x: f64| vec![[x, 0.0], [x + 1.0, 0.0], [x + 1.0, 1.0], [x, 1.0]];
        assert!((separation(&square(0.0), &square(3.0)) - 2.0).abs() < 1e-12);
        assert!((separation(&square(0.0), &square(0.5)) + 0.5).abs() < 1e-12);
    }
}
