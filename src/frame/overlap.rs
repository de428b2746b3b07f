//! No two pieces of the frame, and no piece and panel, may take the same room. Exact for boxes and mitred pieces.

use super::{
    piece::{Body, Stick},
    rectangle::PanelPlace,
    refusal::Refusal,
};

/// Pieces that touch share a face; only what goes deeper than this is an overlap (mm).
const TOUCH_MM: f64 = 0.05;

/// A convex solid with flat faces, as far as the separating-axis test needs it.
struct Block {
    name: &'static str,
    corners: Vec<[f64; 3]>,
    /// Normals of the faces.
    normals: Vec<[f64; 3]>,
    /// Directions of the edges.
    edges: Vec<[f64; 3]>,
}

impl Block {
    /// A stick between its end cuts, the long points on the gauge face.
    fn of_stick(stick: &Stick) -> Self {
        let (a, c) = (stick.along, stick.across);
        let [start, end] = stick.ends_deg.map(|deg| deg.to_radians().tan());
        let mix = |one: f64, other: f64| std::array::from_fn(|i| a[i] * one + c[i] * other);
        let third = cross(a, c);
        Self {
            name: stick.role.word(),
            corners: stick.corners().to_vec(),
            normals: vec![c, third, mix(1.0, -start), mix(1.0, end)],
            edges: vec![a, third, mix(start, 1.0), mix(-end, 1.0)],
        }
    }

    fn of_panel(panel: &PanelPlace) -> Self {
        let axes = vec![[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]];
        let corners = (0..8).map(|k| [panel.x_mm[k & 1], panel.u_mm[k >> 1 & 1], panel.w_mm[k >> 2]]).collect();
        Self { name: "panel", corners, normals: axes.clone(), edges: axes }
    }

    fn range(&self, axis: [f64; 3]) -> [f64; 2] {
        self.corners
            .iter()
            .map(|p| dot(*p, axis))
            .fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], at| [low.min(at), high.max(at)])
    }

    /// How deep two solids stand in each other (mm); not above zero when some axis separates them.
    fn depth_into(&self, other: &Self) -> f64 {
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

fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn cross(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}
