//! No two pieces of the frame, and no piece and panel, may take the same room. Exact for boxes and mitred pieces.

use super::{
    joint::Plate,
    linkage::Point,
    panel::PanelPlace,
    piece::{Body, Stick},
    refusal::Refusal,
    vector::{cross, dot, length, plus, scaled},
};

/// Pieces that touch share a face; only what goes deeper than this is an overlap (mm).
const TOUCH_MM: f64 = 0.05;

/// A convex solid with flat faces, as far as the separating-axis test needs it.
#[derive(Debug, Clone)]
pub(super) struct Block {
    pub(super) name: &'static str,
    corners: Vec<[f64; 3]>,
    /// The box round it along the three axes.
    round: [[f64; 2]; 3],
    /// Normals of the faces.
    normals: Vec<[f64; 3]>,
    /// Directions of the edges.
    edges: Vec<[f64; 3]>,
}

impl Block {
    fn new(name: &'static str, corners: Vec<[f64; 3]>, normals: Vec<[f64; 3]>, edges: Vec<[f64; 3]>) -> Self {
        let round = std::array::from_fn(|i| {
            let along = corners.iter().map(|p| p[i]);
            along.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], at| [low.min(at), high.max(at)])
        });
        Self { name, corners, round, normals, edges }
    }

    /// A stick between its end cuts, the long points on the gauge face.
    pub(super) fn of_stick(stick: &Stick) -> Self {
        Self::between(stick, stick.corners())
    }

    /// What of a stick a bolt cannot pass: its walls, where it is open.
    pub(super) fn walls(stick: &Stick) -> impl Iterator<Item = Self> {
        stick.walls().into_iter().map(|corners| Self::between(stick, corners))
    }

    fn between(stick: &Stick, corners: [[f64; 3]; 8]) -> Self {
        let (a, c) = (stick.along, stick.across);
        let [start, end] = stick.ends_deg.map(|deg| deg.to_radians().tan());
        let mix = |one: f64, other: f64| std::array::from_fn(|i| a[i] * one + c[i] * other);
        let third = cross(a, c);
        let normals = vec![c, third, mix(1.0, -start), mix(1.0, end)];
        let edges = vec![a, third, mix(start, 1.0), mix(-end, 1.0)];
        Self::new(stick.role.word(), corners.to_vec(), normals, edges)
    }

    pub(super) fn of_panel(panel: &PanelPlace) -> Self {
        let axes = vec![[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]];
        let corners = (0..8).map(|k| [panel.x_mm[k & 1], panel.u_mm[k >> 1 & 1], panel.w_mm[k >> 2]]).collect();
        Self::new("panel", corners, axes.clone(), axes)
    }

    pub(super) fn of_plate(plate: &Plate) -> Self {
        let axes = vec![[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]];
        let at = |i: usize, far: usize| plate.origin[i] + if far == 1 { plate.size[i] } else { 0.0 };
        let corners = (0..8).map(|k| [at(0, k & 1), at(1, k >> 1 & 1), at(2, k >> 2)]).collect();
        Self::new("clip", corners, axes.clone(), axes)
    }

    /// A round solid as a prism that holds it, between two points of its axis.
    pub(super) fn of_round(name: &'static str, [from, to]: [[f64; 3]; 2], diameter_mm: f64) -> Self {
        const SIDES: usize = 12;
        let run: [f64; 3] = std::array::from_fn(|i| to[i] - from[i]);
        let axis = scaled(run, 1.0 / length(run));
        // Any direction that is not along the axis makes the first of two square to it.
        let other = if axis[0].abs() < 0.9 { [1.0, 0.0, 0.0] } else { [0.0, 1.0, 0.0] };
        let one = cross(axis, other);
        let one = scaled(one, 1.0 / length(one));
        let two = cross(axis, one);
        let step = std::f64::consts::TAU / SIDES as f64;
        let out = |angle: f64| plus(scaled(one, angle.cos()), scaled(two, angle.sin()));
        let radius = diameter_mm / 2.0 / (step / 2.0).cos();
        let ring = |centre: [f64; 3]| (0..SIDES).map(move |k| (centre, (k as f64 + 0.5) * step));
        let corners =
            ring(from).chain(ring(to)).map(|(centre, angle)| plus(centre, scaled(out(angle), radius))).collect();
        let sides: Vec<[f64; 3]> = (0..SIDES / 2).map(|k| out(k as f64 * step)).collect();
        let edges = sides.iter().map(|side| cross(axis, *side)).chain([axis]).collect();
        Self::new(name, corners, sides.into_iter().chain([axis]).collect(), edges)
    }

    /// The same solid turned about the x axis through the origin, then moved in the side view.
    pub(super) fn turned(&self, angle_rad: f64, by: Point) -> Self {
        let (sin, cos) = angle_rad.sin_cos();
        let turn = |[x, u, w]: [f64; 3], [dy, dz]: Point| [x, u * cos - w * sin + dy, u * sin + w * cos + dz];
        let all = |points: &[[f64; 3]], by| points.iter().map(|p| turn(*p, by)).collect();
        let still = [0.0, 0.0];
        let (normals, edges) = (all(&self.normals, still), all(&self.edges, still));
        Self::new(self.name, all(&self.corners, by), normals, edges)
    }

    /// Do the boxes round two solids meet?
    fn is_near(&self, other: &Self) -> bool {
        self.round.iter().zip(&other.round).all(|([low, high], [from, to])| low < to && from < high)
    }

    /// Range across the frame (mm).
    pub(super) fn across(&self) -> [f64; 2] {
        self.round[0]
    }

    /// Range of distances from the x axis that holds the solid (mm): turning about the axis keeps it.
    pub(super) fn axis_distance(&self) -> [f64; 2] {
        let middle = [1, 2].map(|i| (self.round[i][0] + self.round[i][1]) / 2.0);
        let reach = self.corners.iter().map(|p| (p[1] - middle[0]).hypot(p[2] - middle[1])).fold(0.0, f64::max);
        let away = middle[0].hypot(middle[1]);
        [away - reach, away + reach]
    }

    fn range(&self, axis: [f64; 3]) -> [f64; 2] {
        self.corners
            .iter()
            .map(|p| dot(*p, axis))
            .fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], at| [low.min(at), high.max(at)])
    }

    /// How deep two solids stand in each other (mm); not above zero when some axis separates them.
    pub(super) fn depth_into(&self, other: &Self) -> f64 {
        if !self.is_near(other) {
            return 0.0;
        }
        let crossed = self.edges.iter().flat_map(|a| other.edges.iter().map(|b| cross(*a, *b)));
        let axes = self.normals.iter().chain(&other.normals).copied().chain(crossed);
        let mut depth = f64::INFINITY;
        for axis in axes {
            let size = dot(axis, axis).sqrt();
            if size < 1e-9 {
                continue;
            }
            let ([low, high], [from, to]) = (self.range(axis), other.range(axis));
            depth = depth.min((high.min(to) - low.max(from)) / size);
            if depth <= TOUCH_MM {
                return 0.0;
            }
        }
        depth
    }
}

/// Every pair of pieces of the turning frame, and of piece and panel, that take the same room.
pub(super) fn find(sticks: &[Stick], panels: &[PanelPlace]) -> Vec<Refusal> {
    let mut blocks: Vec<Block> = sticks.iter().filter(|s| s.body == Body::Frame).map(Block::of_stick).collect();
    let pieces = blocks.len();
    blocks.extend(panels.iter().map(Block::of_panel));
    let mut found: Vec<Refusal> = Vec::new();
    for i in 0..pieces {
        for j in i + 1..blocks.len() {
            let overlap_mm = blocks[i].depth_into(&blocks[j]);
            let (one, other) = (blocks[i].name, blocks[j].name);
            let told =
                |r: &Refusal| matches!(r, Refusal::PiecesOverlap { one: a, other: b, .. } if *a == one && *b == other);
            if overlap_mm > TOUCH_MM && !found.iter().any(told) {
                found.push(Refusal::PiecesOverlap { one, other, overlap_mm });
            }
        }
    }
    found
}
