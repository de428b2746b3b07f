//! Pressures on panels become forces where the panels rest; weights and bare wind act along the sticks.
//!
//! Each panel is cut into patches. The force on a patch goes to the members it rests on by the lever rule, so that force
//! and moment of the whole stay exactly those of the pressures. Between panels, the nearer panel takes the pressure.

use super::{
    builder::Builder,
    skeleton::{PanelSeats, SEATS, SeatKind, Skeleton},
};
use crate::{
    analysis::{LoadCase, NodeId},
    design::{Orientation, Seating},
    frame::{
        Body, PanelPlace, Role,
        vector::{At, cross, dot, length, minus, plus, scaled},
    },
    loads::{BareWind, Case, Load, Surface, SurfaceLoad, WindFrom, handling::PanelsOn},
    quantities::{GRAVITY, to_kg, to_mm},
};

impl Builder<'_> {
    /// Finds or makes the nodes every panel rests on.
    pub(super) fn seat_panels(&mut self) -> Vec<PanelSeats> {
        let panels = self.frame.panels.clone();
        let lines = |axis: fn(&PanelPlace) -> [f64; 2]| {
            let mut all: Vec<[f64; 2]> = panels.iter().map(axis).collect();
            all.sort_by(|a, b| a[0].total_cmp(&b[0]));
            all.dedup_by(|a, b| (a[0] - b[0]).abs() < 1.0);
            all
        };
        let (columns, rows) = (lines(|p| p.x_mm), lines(|p| p.u_mm));
        panels
            .iter()
            .map(|panel| {
                let column = columns.iter().position(|c| (c[0] - panel.x_mm[0]).abs() < 1.0).unwrap_or(0);
                let row = rows.iter().position(|c| (c[0] - panel.u_mm[0]).abs() < 1.0).unwrap_or(0);
                let reach = [reach(&columns, column), reach(&rows, row)];
                let (l_x, l_u) = (panel.x_mm[1] - panel.x_mm[0], panel.u_mm[1] - panel.u_mm[0]);
                let kind = match self.design.frame.seating {
                    Seating::OnPurlins { .. } => self.seat_on_purlins(panel),
                    _ => self.seat_on_edges(panel),
                };
                PanelSeats {
                    panel: *panel,
                    reach,
                    column: (column, columns.len()),
                    // Strips of both directions that deflect alike in the middle (Grashof, Rankine).
                    across_share: l_u.powi(4) / (l_x.powi(4) + l_u.powi(4)),
                    kind,
                }
            })
            .collect()
    }

    fn seat_on_edges(&mut self, panel: &PanelPlace) -> SeatKind {
        let sides = [0, 1].map(|side| {
            let rod = self.member_beside(panel, side);
            stations(panel.u_mm)
                .map(|u| {
                    let point = self.frame_point([panel.x_mm[side], u, 0.0]);
                    let at = self.rods[rod].foot(point);
                    (u, self.node(rod, at))
                })
                .to_vec()
        });
        let ends = [0, 1].map(|end| {
            stations(panel.x_mm)
                .map(|x| {
                    let rod = self.member_below(panel, end, x);
                    let at = self.rods[rod].foot(self.frame_point([x, panel.u_mm[end], 0.0]));
                    (x, self.node(rod, at))
                })
                .to_vec()
        });
        SeatKind::Edges { sides, ends }
    }

    /// The upright nearest to the left (0) or right (1) edge of a panel, outside its middle, along its whole length.
    fn member_beside(&self, panel: &PanelPlace, side: usize) -> usize {
        let middle = (panel.x_mm[0] + panel.x_mm[1]) / 2.0;
        let sign = if side == 0 { -1.0 } else { 1.0 };
        self.nearest(panel.x_mm[side], |rod| {
            (rod.is_upright() && (rod.start[0] - middle) * sign > 0.0).then_some(rod.start[0])
        })
    }

    /// The rail nearest to the low (0) or high (1) edge of a panel, where it passes `x`.
    fn member_below(&self, panel: &PanelPlace, end: usize, x: f64) -> usize {
        let middle = (panel.u_mm[0] + panel.u_mm[1]) / 2.0;
        let sign = if end == 0 { -1.0 } else { 1.0 };
        let up = self.up_slope();
        self.nearest(panel.u_mm[end], |rod| {
            let u = dot(rod.start, up);
            let passes = (rod.start[0] - 1.0..=rod.start[0] + rod.length_mm + 1.0).contains(&x);
            (rod.is_rail() && passes && (u - middle) * sign > 0.0).then_some(u)
        })
    }

    fn nearest(&self, at: f64, place: impl Fn(&super::Rod) -> Option<f64>) -> usize {
        self.rods
            .iter()
            .enumerate()
            .filter_map(|(i, rod)| place(rod).map(|p| ((p - at).abs(), i)))
            .min_by(|a, b| a.0.total_cmp(&b.0))
            .map_or(0, |(_, i)| i)
    }

    fn seat_on_purlins(&mut self, panel: &PanelPlace) -> SeatKind {
        let spread = self.design.panel.mounting_holes.map_or(0.0, |h| {
            to_mm(match self.design.array.orientation {
                Orientation::Portrait => h.across,
                Orientation::Landscape => h.along_long_side,
            })
        });
        let middle = (panel.x_mm[0] + panel.x_mm[1]) / 2.0;
        let x = [middle - spread / 2.0, middle + spread / 2.0];
        let up = self.up_slope();
        let mut rows: Vec<(f64, usize)> = self
            .rods
            .iter()
            .enumerate()
            .filter(|(_, r)| r.role == Role::Purlin)
            .map(|(i, r)| (dot(r.start, up), i))
            .filter(|(u, _)| (panel.u_mm[0]..=panel.u_mm[1]).contains(u))
            .collect();
        rows.sort_by(|a, b| a.0.total_cmp(&b.0));
        let (low, high) = (rows[0], rows[rows.len() - 1]);
        let nodes = [low, high].map(|(u, rod)| {
            x.map(|x| {
                let at = self.rods[rod].foot(self.frame_point([x, u, 0.0]));
                self.node(rod, at)
            })
        });
        SeatKind::Holes { nodes, u: [low.0, high.0], x }
    }

    fn frame_point(&self, [x, u, w]: At) -> At {
        plus([x, 0.0, 0.0], plus(scaled(self.up_slope(), u), scaled(self.out_of_face(), w)))
    }
}

/// The part of the surface that column or row `i` takes: to the middle of the gap to the next one.
fn reach(lines: &[[f64; 2]], i: usize) -> [f64; 2] {
    let from = if i == 0 { lines[0][0] } else { (lines[i - 1][1] + lines[i][0]) / 2.0 };
    let to = if i + 1 == lines.len() { lines[i][1] } else { (lines[i][1] + lines[i + 1][0]) / 2.0 };
    [from, to]
}

fn stations([from, to]: [f64; 2]) -> [f64; SEATS] {
    std::array::from_fn(|k| from + (to - from) * (k as f64 + 0.5) / SEATS as f64)
}

/// Forces gathered at nodes.
struct Gathered<'a> {
    skeleton: &'a Skeleton,
    at: Vec<[f64; 6]>,
}

impl Gathered<'_> {
    /// A force at a point, taken by a node with its moment.
    fn push(&mut self, node: NodeId, point: At, force: At) {
        let moment = cross(minus(point, self.skeleton.places[node.0]), force);
        let sum = &mut self.at[node.0];
        for i in 0..3 {
            sum[i] += force[i];
            sum[3 + i] += moment[i];
        }
    }
}

impl Skeleton {
    /// Unit vectors up the slope and out of the face.
    #[must_use]
    pub fn slope_axes(&self) -> (At, At) {
        let (sin, cos) = self.tilt_deg.to_radians().sin_cos();
        ([0.0, cos, sin], [0.0, -sin, cos])
    }

    /// A point of the frame in the axes of the model.
    #[must_use]
    pub fn frame_point(&self, [x, u, w]: At) -> At {
        let (up, out) = self.slope_axes();
        plus([x, 0.0, 0.0], plus(scaled(up, u), scaled(out, w)))
    }

    /// The outer rectangle of the panels: x and u (mm), and the middle of their thickness, w (mm).
    #[must_use]
    pub fn panel_field(&self) -> ([f64; 2], [f64; 2], f64) {
        let ends = |axis: fn(&PanelSeats) -> [f64; 2]| {
            let low = self.seats.iter().map(|s| axis(s)[0]).fold(f64::INFINITY, f64::min);
            let high = self.seats.iter().map(|s| axis(s)[1]).fold(f64::NEG_INFINITY, f64::max);
            [low, high]
        };
        let w = self.seats.first().map_or(0.0, |s| (s.panel.w_mm[0] + s.panel.w_mm[1]) / 2.0);
        (ends(|s| s.panel.x_mm), ends(|s| s.panel.u_mm), w)
    }

    /// The load case of a case of the loads room, with the panels that are on.
    pub(super) fn case(
        &self,
        name: String,
        case: &Case,
        surface: &Surface,
        on: PanelsOn,
        bare: Option<BareWind>,
    ) -> LoadCase {
        let mut sums = Gathered { skeleton: self, at: vec![[0.0; 6]; self.places.len()] };
        let mut lines = LoadCase::new(name);
        match &case.load {
            Load::Surface(load) => {
                for seats in self.seats.iter().filter(|s| on.has(s.column.0, s.column.1)) {
                    self.spread(seats, load, surface, &mut sums);
                }
                if let (Some(bare), Some(from)) = (bare, case.wind_from) {
                    self.blow(bare, from, on == PanelsOn::None, &mut lines);
                }
            }
            Load::Point(point) => {
                let (x, u, w) = self.panel_field();
                let (up, out) = self.slope_axes();
                let at = self.frame_point([x[0] + (x[1] - x[0]) * point.x, u[0] + (u[1] - u[0]) * point.u, w]);
                let force =
                    plus(plus(scaled(out, -point.normal_n), scaled(up, point.up_slope_n)), [point.across_n, 0.0, 0.0]);
                sums.push(self.nearest_frame_node(at), at, force);
            }
            Load::Bare(bare) => {
                if let Some(from) = case.wind_from {
                    self.blow(*bare, from, true, &mut lines);
                }
            }
        }
        self.finish(sums, lines)
    }

    fn finish(&self, sums: Gathered<'_>, mut case: LoadCase) -> LoadCase {
        for (node, load) in sums.at.into_iter().enumerate() {
            if load.iter().any(|v| *v != 0.0) {
                case = case.nodal(NodeId(node), load);
            }
        }
        case
    }

    fn nearest_frame_node(&self, at: At) -> NodeId {
        let mut best = (f64::INFINITY, NodeId(0));
        for rod in self.rods.iter().filter(|r| r.body == Body::Frame) {
            for (_, node) in &rod.nodes {
                let away = length(minus(self.places[node.0], at));
                if away < best.0 {
                    best = (away, *node);
                }
            }
        }
        best.1
    }

    /// Weight of the panels that are on and of every stick.
    pub(super) fn weight(&self, name: String, panel_kg: f64, on: PanelsOn) -> LoadCase {
        let mut sums = Gathered { skeleton: self, at: vec![[0.0; 6]; self.places.len()] };
        for seats in self.seats.iter().filter(|s| on.has(s.column.0, s.column.1)) {
            let p = &seats.panel;
            let middle = [(p.x_mm[0] + p.x_mm[1]) / 2.0, (p.u_mm[0] + p.u_mm[1]) / 2.0, (p.w_mm[0] + p.w_mm[1]) / 2.0];
            let share = 1.0 / (SEATS * SEATS) as f64;
            for x in stations(p.x_mm) {
                for u in stations(p.u_mm) {
                    self.lever(seats, [x, u, middle[2]], [0.0, 0.0, -panel_kg * GRAVITY * share], &mut sums);
                }
            }
        }
        let mut case = LoadCase::new(name);
        for rod in &self.rods {
            for segment in &rod.segments {
                let member = &self.model.members()[segment.member.0];
                let kg_per_m = self.model.sections()[member.section.0].mass_kg_per_m;
                case = case.uniform(segment.member, [0.0, 0.0, -kg_per_m * GRAVITY * 1e-3]);
            }
        }
        for &(node, r, kg) in &self.ballast {
            // On top of the runner.
            let rod = &self.rods[r];
            let top = plus(self.places[node.0], scaled(rod.across, -rod.section.depth_mm));
            sums.push(node, top, [0.0, 0.0, -kg * GRAVITY]);
        }
        self.finish(sums, case)
    }

    /// Mass of the panels at the nodes they rest on (kg).
    pub(super) fn add_masses(&mut self, panel_kg: f64) {
        let weight = {
            let mut sums = Gathered { skeleton: self, at: vec![[0.0; 6]; self.places.len()] };
            for seats in &self.seats {
                let share = panel_kg / (SEATS * SEATS) as f64;
                for x in stations(seats.panel.x_mm) {
                    for u in stations(seats.panel.u_mm) {
                        self.lever(seats, [x, u, 0.0], [0.0, 0.0, share], &mut sums);
                    }
                }
            }
            sums.at
        };
        for (node, load) in weight.into_iter().enumerate() {
            if load[2] > 0.0 {
                self.model.mass(NodeId(node), load[2]);
            }
        }
    }

    fn spread(&self, seats: &PanelSeats, load: &SurfaceLoad, surface: &Surface, sums: &mut Gathered<'_>) {
        let ([x0, _], [u0, _], w) = self.panel_field();
        let (up, out) = self.slope_axes();
        let [xs, us] = seats.reach;
        let cut = |[from, to]: [f64; 2], k: usize| from + (to - from) * k as f64 / SEATS as f64;
        for i in 0..SEATS {
            for j in 0..SEATS {
                let x = [cut(xs, i), cut(xs, i + 1)];
                let u = [cut(us, j), cut(us, j + 1)];
                let part = load.resultant_on(
                    surface,
                    u.map(|v| ((v - u0) / surface.slope_mm).clamp(0.0, 1.0)),
                    x.map(|v| ((v - x0) / surface.width_mm).clamp(0.0, 1.0)),
                );
                if part.normal_n != 0.0 {
                    let at = [
                        x0 + part.normal_about_left_nmm / part.normal_n,
                        u0 + part.normal_about_low_edge_nmm / part.normal_n,
                        w,
                    ];
                    self.lever(seats, at, scaled(out, -part.normal_n), sums);
                }
                if part.up_slope_n != 0.0 {
                    let at = [(x[0] + x[1]) / 2.0, (u[0] + u[1]) / 2.0, w];
                    self.lever(seats, at, scaled(up, part.up_slope_n), sums);
                }
            }
        }
    }

    /// A force at (x, u, w) of a panel to the places it rests on.
    fn lever(&self, seats: &PanelSeats, [x, u, w]: At, force: At, sums: &mut Gathered<'_>) {
        let share = |at: f64, [from, to]: [f64; 2]| (at - from) / (to - from);
        match &seats.kind {
            SeatKind::Edges { sides, ends } => {
                let (xs, us) = (seats.panel.x_mm, seats.panel.u_mm);
                let (right, high) = (share(x, xs), share(u, us));
                for (side, part) in [(0, 1.0 - right), (1, right)] {
                    let point = self.frame_point([xs[side], u, w]);
                    let f = scaled(force, part * seats.across_share);
                    sums.push(nearest_station(&sides[side], u), point, f);
                }
                for (end, part) in [(0, 1.0 - high), (1, high)] {
                    let point = self.frame_point([x, us[end], w]);
                    let f = scaled(force, part * (1.0 - seats.across_share));
                    sums.push(nearest_station(&ends[end], x), point, f);
                }
            }
            SeatKind::Holes { nodes, u: us, x: xs } => {
                let (right, high) = (share(x, *xs), share(u, *us));
                for (row, up) in [(0, 1.0 - high), (1, high)] {
                    for (column, side) in [(0, 1.0 - right), (1, right)] {
                        let point = self.frame_point([xs[column], us[row], w]);
                        sums.push(nodes[row][column], point, scaled(force, up * side));
                    }
                }
            }
        }
    }

    /// Wind on the sticks themselves, level, as wide as they show; with panels on, what stands outside them.
    fn blow(&self, bare: BareWind, from: WindFrom, all: bool, case: &mut LoadCase) {
        let direction: At = match from {
            WindFrom::Front => [0.0, 1.0, 0.0],
            WindFrom::Back => [0.0, -1.0, 0.0],
            WindFrom::Left => [1.0, 0.0, 0.0],
            WindFrom::Right => [-1.0, 0.0, 0.0],
        };
        let windward = self.windward_stile(from);
        for (r, rod) in self.rods.iter().enumerate() {
            if !(all || rod.body != Body::Frame || windward == Some(r)) {
                continue;
            }
            let pressure =
                if rod.section.shape == crate::catalogue::Shape::Pipe { bare.round_pa } else { bare.flat_pa };
            let n_per_mm = pressure * 1e-6 * rod.shown_mm(direction);
            for segment in rod.segments.iter().filter(|s| self.above_ground(rod, s)) {
                case.push(segment.member, crate::analysis::MemberLoad::uniform(scaled(direction, n_per_mm)));
            }
        }
    }

    fn above_ground(&self, rod: &super::Rod, segment: &super::Segment) -> bool {
        let grade = self.at_grade.iter().map(|(n, _)| self.places[n.0][2]).fold(f64::NEG_INFINITY, f64::max);
        let middle = rod.at((segment.from_mm + segment.to_mm) / 2.0);
        self.at_grade.is_empty() || middle[2] > grade
    }

    fn windward_stile(&self, from: WindFrom) -> Option<usize> {
        let sign = match from {
            WindFrom::Left => -1.0,
            WindFrom::Right => 1.0,
            _ => return None,
        };
        let uprights = self.rods.iter().enumerate().filter(|(_, r)| r.is_upright());
        uprights.max_by(|a, b| (a.1.start[0] * sign).total_cmp(&(b.1.start[0] * sign))).map(|(i, _)| i)
    }
}

fn nearest_station(stations: &[(f64, NodeId)], at: f64) -> NodeId {
    let mut best = (f64::INFINITY, NodeId(0));
    for (place, node) in stations {
        let away = (place - at).abs();
        if away < best.0 {
            best = (away, *node);
        }
    }
    best.1
}

/// Mass of one panel (kg).
pub(super) fn panel_kg(design: &crate::design::Design) -> f64 {
    to_kg(design.panel.mass)
}

impl Skeleton {
    /// For every panel, the nodes nearest to its corners: low left, low right, high right, high left.
    #[must_use]
    pub fn panel_corners(&self) -> Vec<[NodeId; 4]> {
        self.seats
            .iter()
            .map(|s| {
                let [x0, x1] = s.panel.x_mm;
                let [u0, u1] = s.panel.u_mm;
                let corners = [[x0, u0], [x1, u0], [x1, u1], [x0, u1]];
                match &s.kind {
                    SeatKind::Holes { nodes, .. } => [nodes[0][0], nodes[0][1], nodes[1][1], nodes[1][0]],
                    SeatKind::Edges { sides, .. } => std::array::from_fn(|k| {
                        let side = usize::from(k == 1 || k == 2);
                        nearest_station(&sides[side], corners[k][1])
                    }),
                }
            })
            .collect()
    }
}
