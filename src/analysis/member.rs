//! One member made ready for assembly: its six deformation modes, their stiffness, its end forces.

use super::axes::{self, Axes, Vector};
use super::bending::{Plane, PlaneLoad};
use super::error::AnalysisError;
use super::load::{LoadAxes, MemberLoad};
use super::model::{EndJoint, Joint, Member, Model, Way};

/// Components `Fx Fy Fz Mx My Mz` at end i, then at end j, on the member in its own axes.
pub(super) type EndForces = [f64; 12];

/// End forces of loaded members while their nodes are held, in member order.
pub(super) type Held = Vec<(usize, EndForces)>;

/// `P L²/EI` at which a member with none, one or both ends held against turning buckles: π², (4.4934)², 4π².
const BUCKLES: [f64; 3] = [9.869_604_401_089_358, 20.190_728_556_426_63, 39.478_417_604_357_43];

/// Two by two, ends i and j.
type Square = [[f64; 2]; 2];

/// Geometry and section of a member, with the rows that turn node movements into deformations.
///
/// The modes are elongation, twist, then for plane x-y and plane x-z the rotation of end i and of end j from the chord.
/// In plane x-z rotations and moments are counted with the slope `dw/dx`, so they are minus those about y.
#[derive(Debug, Clone)]
pub(super) struct Prepared {
    pub(super) nodes: [usize; 2],
    pub(super) length: f64,
    pub(super) axes: Axes,
    pub(super) offsets: [Vector; 2],
    pub(super) axial_only: bool,
    pub(super) way: Way,
    joints: [EndJoint; 2],
    ea_l: f64,
    gj_l: f64,
    pub(super) ei: [f64; 2],
    /// Six modes per unit movement of the twelve node components (in node axes).
    pub(super) modes: [[f64; 12]; 6],
    /// Rotation of the chord in both planes per unit movement.
    pub(super) chord: [[f64; 12]; 2],
}

/// Stiffness of the six modes, after the joints are taken in.
#[derive(Debug, Clone, Copy)]
pub(super) struct Natural {
    pub(super) axial: f64,
    pub(super) torsion: f64,
    /// Per plane: moments of ends i, j per rotation of ends i, j from the chord.
    pub(super) bend: [Square; 2],
    /// Per plane: what the joints leave of moments at fixed ends.
    pub(super) carry: [Square; 2],
    /// Compression that shaped it (N).
    pub(super) compression: f64,
}

/// A member load in local axes with its place settled.
#[derive(Debug, Clone, Copy)]
pub(super) enum LocalLoad {
    Line { a: f64, b: f64, w_a: Vector, w_b: Vector },
    Point { at: f64, force: Vector, moment: Vector },
}

impl LocalLoad {
    /// The part that acts in plane 0 (x-y) or 1 (x-z), times a factor.
    pub(super) fn in_plane(&self, plane: usize, factor: f64) -> PlaneLoad {
        match *self {
            Self::Line { a, b, w_a, w_b } => {
                PlaneLoad::Line { a, b, w_a: factor * w_a[plane + 1], w_b: factor * w_b[plane + 1] }
            }
            Self::Point { at, force, moment } => {
                let about = if plane == 0 { moment[2] } else { -moment[1] };
                PlaneLoad::Point { at, force: factor * force[plane + 1], moment: factor * about }
            }
        }
    }

    /// Shares of the load along the member, and of its torque, that belong to each end of a bar.
    fn along(&self, length: f64) -> ([f64; 2], [f64; 2]) {
        match *self {
            Self::Line { a, b, w_a, w_b } => {
                let [i, j] = Plane::simple_ends(length, PlaneLoad::Line { a, b, w_a: w_a[0], w_b: w_b[0] });
                ([-i, -j], [0.0; 2])
            }
            Self::Point { at, force, moment } => {
                let share = at / length;
                ([force[0] * (1.0 - share), force[0] * share], [moment[0] * (1.0 - share), moment[0] * share])
            }
        }
    }

    /// Sum of force (and torque) along the axis from end i to x.
    pub(super) fn before(&self, x: f64) -> (Vector, f64) {
        match *self {
            Self::Line { a, b, w_a, w_b } => {
                let t = (x.min(b) - a).max(0.0);
                let rise = axes::scaled(axes::minus(w_b, w_a), 0.5 * t * t / (b - a));
                (axes::plus(axes::scaled(w_a, t), rise), 0.0)
            }
            Self::Point { at, force, moment } if x >= at => (force, moment[0]),
            Self::Point { .. } => ([0.0; 3], 0.0),
        }
    }

    /// Whether it stays the same from its start to its end.
    pub(super) fn is_even(&self) -> bool {
        match self {
            Self::Line { w_a, w_b, .. } => w_a == w_b,
            Self::Point { .. } => true,
        }
    }

    /// Where its description changes.
    pub(super) fn breaks(&self) -> [f64; 2] {
        match *self {
            Self::Line { a, b, .. } => [a, b],
            Self::Point { at, .. } => [at, at],
        }
    }
}

impl Prepared {
    /// `node_axes` are the support axes of its two nodes.
    pub(super) fn new(model: &Model, member: &Member, node_axes: [&Axes; 2]) -> Result<Self, AnalysisError> {
        let name = || member.name.clone();
        let ends = [(member.i, member.offsets[0]), (member.j, member.offsets[1])];
        let [at_i, at_j] = ends.map(|(node, offset)| axes::plus(model.nodes[node.0].at, offset));
        let along = axes::minus(at_j, at_i);
        let length = axes::length(along);
        if length <= 1e-9 {
            return Err(AnalysisError::NoLength { member: name() });
        }
        let local = axes::of_member(axes::scaled(along, 1.0 / length), member.orientation)
            .ok_or_else(|| AnalysisError::AxisAlongMember { member: name() })?;
        if !member.axial_only && member.joints.iter().all(|j| j.mx == Joint::Free) {
            return Err(AnalysisError::Spins { member: name() });
        }
        if member.joints.iter().all(|j| j.fx == Joint::Free) {
            return Err(AnalysisError::SlidesOut { member: name() });
        }
        let section = &model.sections[member.section.0];
        let mut prepared = Self {
            nodes: [member.i.0, member.j.0],
            length,
            axes: local,
            offsets: member.offsets,
            axial_only: member.axial_only,
            way: member.way,
            joints: member.joints,
            ea_l: section.e * section.area / length,
            gj_l: section.g * section.j / length,
            ei: [section.e * section.i_z, section.e * section.i_y],
            modes: [[0.0; 12]; 6],
            chord: [[0.0; 12]; 2],
        };
        prepared.fill_modes(node_axes);
        Ok(prepared)
    }

    fn fill_modes(&mut self, node_axes: [&Axes; 2]) {
        let [x, y, z] = self.axes;
        for (end, node) in node_axes.into_iter().enumerate() {
            let sign = if end == 0 { -1.0 } else { 1.0 };
            let o = self.offsets[end];
            let shift = |along: Vector| {
                let (move_, turn) = (axes::into(node, along), axes::into(node, axes::cross(o, along)));
                [move_[0], move_[1], move_[2], turn[0], turn[1], turn[2]]
            };
            let turn = |about: Vector| {
                let t = axes::into(node, about);
                [0.0, 0.0, 0.0, t[0], t[1], t[2]]
            };
            let (along, across_y, across_z) = (shift(x), shift(y), shift(z));
            let (about_x, about_y, about_z) = (turn(x), turn(y), turn(z));
            for k in 0..6 {
                let c = 6 * end + k;
                self.modes[0][c] = sign * along[k];
                self.modes[1][c] = sign * about_x[k];
                self.chord[0][c] = sign * across_y[k] / self.length;
                self.chord[1][c] = sign * across_z[k] / self.length;
                for (row, own) in [(2, 0), (3, 1)] {
                    let own_turn = if own == end { 1.0 } else { 0.0 };
                    self.modes[row][c] = own_turn * about_z[k] - self.chord[0][c];
                    self.modes[row + 2][c] = -own_turn * about_y[k] - self.chord[1][c];
                }
            }
        }
    }

    /// Stiffness under a compression (N); an inactive member keeps only the loads it hands to its nodes.
    /// `None` when it buckles between its nodes.
    pub(super) fn natural(&self, active: bool, compression: f64) -> Option<Natural> {
        let none = [[[0.0; 2]; 2]; 2];
        if !active {
            return Some(Natural { axial: 0.0, torsion: 0.0, bend: none, carry: none, compression: 0.0 });
        }
        let (axial, torsion) = (self.chain(self.ea_l, |j| j.fx).0, self.chain(self.gj_l, |j| j.mx).0);
        if self.axial_only {
            return Some(Natural { axial, torsion: 0.0, bend: none, carry: none, compression });
        }
        let (mut bend, mut carry) = (none, none);
        for plane in 0..2 {
            let [near, far] = self.plane(plane, compression).stiffness()?;
            let joints = self.joints.map(|j| if plane == 0 { j.mz } else { j.my });
            (bend[plane], carry[plane]) = take_in([[near, far], [far, near]], joints)?;
        }
        Some(Natural { axial, torsion, bend, carry, compression })
    }

    pub(super) fn plane(&self, plane: usize, compression: f64) -> Plane {
        Plane::new(self.ei[plane], self.length, compression)
    }

    /// A bar between two joints: stiffness between the nodes, and for a load at inner end i and j the share that goes
    /// to node i.
    fn chain(&self, bar: f64, joint: impl Fn(&EndJoint) -> Joint) -> (f64, [f64; 2]) {
        let give = |end: usize| match joint(&self.joints[end]) {
            Joint::Rigid => Some(0.0),
            Joint::Free => None,
            Joint::Spring(k) => Some(1.0 / k),
        };
        match (give(0), give(1)) {
            (Some(i), Some(j)) => {
                let total = i + 1.0 / bar + j;
                (1.0 / total, [(1.0 / bar + j) / total, j / total])
            }
            (None, _) => (0.0, [0.0; 2]),
            (_, None) => (0.0, [1.0; 2]),
        }
    }

    /// Forces on the member at its ends, in local axes, when its nodes stay where they are.
    pub(super) fn held(&self, natural: &Natural, active: bool, loads: &[(f64, LocalLoad)]) -> EndForces {
        let mut out = [0.0; 12];
        let (axial_to_i, torque_to_i) = if active {
            (self.chain(self.ea_l, |j| j.fx).1, self.chain(self.gj_l, |j| j.mx).1)
        } else {
            ([1.0, 0.0], [1.0, 0.0])
        };
        for (factor, load) in loads {
            let (axial, torque) = load.along(self.length);
            for end in 0..2 {
                out[0] -= factor * axial[end] * axial_to_i[end];
                out[6] -= factor * axial[end] * (1.0 - axial_to_i[end]);
                out[3] -= factor * torque[end] * torque_to_i[end];
                out[9] -= factor * torque[end] * (1.0 - torque_to_i[end]);
            }
        }
        let bends = active && !self.axial_only;
        for plane in 0..2 {
            let in_plane: Vec<PlaneLoad> = loads.iter().map(|(f, l)| l.in_plane(plane, *f)).collect();
            for &load in &in_plane {
                let [i, j] = Plane::simple_ends(self.length, load);
                out[1 + plane] += i;
                out[7 + plane] += j;
            }
            if bends {
                let fixed = self.plane(plane, natural.compression).fixed_end(&in_plane);
                let [row_i, row_j] = natural.carry[plane];
                let moments = [row_i[0] * fixed[0] + row_i[1] * fixed[1], row_j[0] * fixed[0] + row_j[1] * fixed[1]];
                self.add_moments(plane, moments, &mut out);
            }
        }
        out
    }

    /// End moments of one plane with the pair of forces that balances them.
    fn add_moments(&self, plane: usize, [i, j]: [f64; 2], out: &mut EndForces) {
        let force = (i + j) / self.length;
        out[1 + plane] += force;
        out[7 + plane] -= force;
        let (component, sign) = if plane == 0 { (5, 1.0) } else { (4, -1.0) };
        out[component] += sign * i;
        out[6 + component] += sign * j;
    }

    /// Adds the end forces caused by the movements `u` of its nodes (node axes).
    pub(super) fn add_moved(&self, natural: &Natural, u: &[f64; 12], out: &mut EndForces) {
        let stretch = |row: &[f64; 12]| -> f64 { row.iter().zip(u).map(|(a, b)| a * b).sum() };
        let (pull, twist) = (natural.axial * stretch(&self.modes[0]), natural.torsion * stretch(&self.modes[1]));
        out[0] -= pull;
        out[6] += pull;
        out[3] -= twist;
        out[9] += twist;
        for plane in 0..2 {
            if !self.axial_only {
                let a = [stretch(&self.modes[2 + 2 * plane]), stretch(&self.modes[3 + 2 * plane])];
                let k = natural.bend[plane];
                let moments = [k[0][0] * a[0] + k[0][1] * a[1], k[1][0] * a[0] + k[1][1] * a[1]];
                self.add_moments(plane, moments, out);
            }
            if natural.compression != 0.0 {
                let lean = natural.compression * stretch(&self.chord[plane]);
                out[1 + plane] += lean;
                out[7 + plane] -= lean;
            }
        }
    }

    /// End forces as forces and moments on the *member*, at its nodes, in global axes.
    pub(super) fn at_nodes(&self, local: &EndForces) -> [[f64; 6]; 2] {
        [0, 1].map(|end| {
            let k = 6 * end;
            let force = axes::out_of(&self.axes, [local[k], local[k + 1], local[k + 2]]);
            let own = axes::out_of(&self.axes, [local[k + 3], local[k + 4], local[k + 5]]);
            let moment = axes::plus(own, axes::cross(self.offsets[end], force));
            [force[0], force[1], force[2], moment[0], moment[1], moment[2]]
        })
    }

    /// Stiffness between the twelve node components, upper triangle; second order when `natural` holds a compression.
    pub(super) fn stiffness(&self, natural: &Natural) -> [[f64; 12]; 12] {
        let mut k = [[0.0; 12]; 12];
        add_pair(&mut k, natural.axial, &self.modes[0], &self.modes[0]);
        if !self.axial_only {
            add_pair(&mut k, natural.torsion, &self.modes[1], &self.modes[1]);
        }
        for plane in 0..2 {
            if !self.axial_only {
                let (i, j) = (&self.modes[2 + 2 * plane], &self.modes[3 + 2 * plane]);
                let bend = natural.bend[plane];
                add_pair(&mut k, bend[0][0], i, i);
                add_pair(&mut k, bend[0][1], i, j);
                add_pair(&mut k, bend[1][0], j, i);
                add_pair(&mut k, bend[1][1], j, j);
            }
            add_pair(&mut k, -natural.compression * self.length, &self.chord[plane], &self.chord[plane]);
        }
        k
    }

    /// Strain energy, doubled, of the movement `u` (N·mm).
    pub(super) fn energy(&self, natural: &Natural, u: &[f64; 12]) -> f64 {
        let stretch = |row: &[f64; 12]| -> f64 { row.iter().zip(u).map(|(a, b)| a * b).sum() };
        let d = self.modes.map(|row| stretch(&row));
        let mut sum = natural.axial * d[0] * d[0] + natural.torsion * d[1] * d[1];
        for plane in 0..2 {
            let ([i, j], k) = ([d[2 + 2 * plane], d[3 + 2 * plane]], natural.bend[plane]);
            sum += k[0][0] * i * i + (k[0][1] + k[1][0]) * i * j + k[1][1] * j * j;
            let chord = stretch(&self.chord[plane]);
            sum -= natural.compression * self.length * chord * chord;
        }
        sum
    }

    /// Work that one newton of compression does when the member bends by `u`, as a product with the movement `w`, for
    /// `W` movements at once: adds `scale · S u` to `w`, where S is positive (chord rotation plus bent shape).
    pub(super) fn add_shortening<const W: usize>(
        &self,
        natural: &Natural,
        scale: f64,
        u: &[[f64; W]; 12],
        w: &mut [[f64; W]; 12],
    ) {
        for plane in 0..2 {
            let mut chord = stretch(&self.chord[plane], u);
            chord.iter_mut().for_each(|c| *c *= scale * self.length);
            add_back(&self.chord[plane], &chord, w);
            if self.axial_only {
                continue;
            }
            // Cubic shapes: ∫v'² dx = L (2/15 a_i² − a_i a_j/15 + 2/15 a_j²), with the joints' share of the rotations.
            let rows = [&self.modes[2 + 2 * plane], &self.modes[3 + 2 * plane]];
            let outer = rows.map(|row| stretch(row, u));
            let (c, s) = (natural.carry[plane], scale * self.length / 30.0);
            let mut back = [[0.0; W]; 2];
            for l in 0..W {
                let o = [outer[0][l], outer[1][l]];
                let inner = [c[0][0] * o[0] + c[1][0] * o[1], c[0][1] * o[0] + c[1][1] * o[1]];
                let g = [s * (4.0 * inner[0] - inner[1]), s * (4.0 * inner[1] - inner[0])];
                back[0][l] = c[0][0] * g[0] + c[0][1] * g[1];
                back[1][l] = c[1][0] * g[0] + c[1][1] * g[1];
            }
            add_back(rows[0], &back[0], w);
            add_back(rows[1], &back[1], w);
        }
    }

    /// Adds the stiffness times the movements `u` to `out`, for `W` movements with a stiffness each. As
    /// [`Prepared::stiffness`] multiplied out, without the matrix.
    pub(super) fn add_stiff<const W: usize>(
        &self,
        naturals: [&Natural; W],
        u: &[[f64; W]; 12],
        out: &mut [[f64; W]; 12],
    ) {
        let mut pull = stretch(&self.modes[0], u);
        (0..W).for_each(|l| pull[l] *= naturals[l].axial);
        add_back(&self.modes[0], &pull, out);
        for plane in 0..2 {
            let mut lean = stretch(&self.chord[plane], u);
            (0..W).for_each(|l| lean[l] *= -naturals[l].compression * self.length);
            add_back(&self.chord[plane], &lean, out);
        }
        if self.axial_only {
            return;
        }
        let mut twist = stretch(&self.modes[1], u);
        (0..W).for_each(|l| twist[l] *= naturals[l].torsion);
        add_back(&self.modes[1], &twist, out);
        for plane in 0..2 {
            let rows = [&self.modes[2 + 2 * plane], &self.modes[3 + 2 * plane]];
            let turned = rows.map(|row| stretch(row, u));
            let mut moments = [[0.0; W]; 2];
            for l in 0..W {
                let (k, a) = (naturals[l].bend[plane], [turned[0][l], turned[1][l]]);
                moments[0][l] = k[0][0] * a[0] + k[0][1] * a[1];
                moments[1][l] = k[1][0] * a[0] + k[1][1] * a[1];
            }
            add_back(rows[0], &moments[0], out);
            add_back(rows[1], &moments[1], out);
        }
    }

    /// Second-order stiffness between the rotations of a node (global axes) from the end force on its rigid arm `o`.
    ///
    /// As for members, only the force along the arm counts: `(f·o)(ô ôᵀ − I)` with `f` the force on the member, so an arm
    /// acts like a very stiff member in its place.
    pub(super) fn arm_stiffness(&self, end: usize, forces: &EndForces) -> [Vector; 3] {
        let (o, k) = (self.offsets[end], 6 * end);
        let f = axes::out_of(&self.axes, [forces[k], forces[k + 1], forces[k + 2]]);
        let (along, square) = (axes::dot(f, o), axes::dot(o, o));
        std::array::from_fn(|a| {
            std::array::from_fn(|b| along * (o[a] * o[b] / square - if a == b { 1.0 } else { 0.0 }))
        })
    }

    /// Movement of both ends in local axes, and slopes `dv/dx`, `dw/dx` there behind the joints, per unit movement of
    /// the nodes: for each end `x y z`, twist, slope in x-y, slope in x-z.
    pub(super) fn end_rows(&self, natural: &Natural, node_axes: [&Axes; 2]) -> [[[f64; 12]; 6]; 2] {
        let mut rows = [[[0.0; 12]; 6]; 2];
        for (end, rows) in rows.iter_mut().enumerate() {
            let (o, node) = (self.offsets[end], node_axes[end]);
            for (axis, row) in self.axes.into_iter().zip(rows.iter_mut()) {
                row[6 * end..6 * end + 3].copy_from_slice(&axes::into(node, axis));
                row[6 * end + 3..6 * end + 6].copy_from_slice(&axes::into(node, axes::cross(o, axis)));
            }
            rows[3][6 * end + 3..6 * end + 6].copy_from_slice(&axes::into(node, self.axes[0]));
            for plane in 0..2 {
                let (carry, chord) = (natural.carry[plane], self.chord[plane]);
                let (i, j) = (self.modes[2 + 2 * plane], self.modes[3 + 2 * plane]);
                rows[4 + plane] = std::array::from_fn(|c| chord[c] + carry[0][end] * i[c] + carry[1][end] * j[c]);
            }
        }
        rows
    }

    /// Share of the load at which it buckles between nodes that do not move, for the weaker plane; and whether a bow of
    /// the member turns its nodes. A sprung joint counts as free. An axial member's buckling is a check of its own.
    pub(super) fn bow(&self, compression: f64) -> (f64, bool) {
        if self.axial_only || compression <= 0.0 {
            return (0.0, false);
        }
        let mut worst = (0.0, false);
        for plane in 0..2 {
            let rigid = (0..2).filter(|&end| self.is_rigid(end, plane)).count();
            let share = compression * self.length * self.length / (self.ei[plane] * BUCKLES[rigid]);
            if share > worst.0 {
                worst = (share, rigid > 0);
            }
        }
        worst
    }

    /// Compression averaged over the length (N).
    pub(super) fn compression(forces: &EndForces) -> f64 {
        (forces[0] - forces[6]) / 2.0
    }

    /// Whether end `end` turns with its node in the plane.
    pub(super) fn is_rigid(&self, end: usize, plane: usize) -> bool {
        let joint = if plane == 0 { self.joints[end].mz } else { self.joints[end].my };
        !self.axial_only && joint == Joint::Rigid
    }

    /// A load in local axes, with its place checked.
    pub(super) fn localise(&self, load: &MemberLoad) -> Result<LocalLoad, f64> {
        let turn = |v: Vector, given: LoadAxes| match given {
            LoadAxes::Local => v,
            LoadAxes::Global => axes::into(&self.axes, v),
        };
        // Places come from sums of lengths; a hair over the end is the end.
        let slack = 1e-9 * self.length;
        let place =
            |at: f64| (at >= -slack && at <= self.length + slack).then_some(at.clamp(0.0, self.length)).ok_or(at);
        match *load {
            MemberLoad::Line { a, b, w_a, w_b, axes } => {
                let (a, b) = (place(a)?, place(b.unwrap_or(self.length))?);
                if b <= a {
                    return Err(b);
                }
                Ok(LocalLoad::Line { a, b, w_a: turn(w_a, axes), w_b: turn(w_b, axes) })
            }
            MemberLoad::Point { at, force, moment, axes } => {
                Ok(LocalLoad::Point { at: place(at)?, force: turn(force, axes), moment: turn(moment, axes) })
            }
        }
    }
}

/// A deformation for `W` movements.
#[inline]
fn stretch<const W: usize>(row: &[f64; 12], u: &[[f64; W]; 12]) -> [f64; W] {
    let mut sum = [0.0; W];
    for (a, sides) in row.iter().zip(u) {
        (0..W).for_each(|l| sum[l] += a * sides[l]);
    }
    sum
}

/// The forces at the nodes that a force on a deformation makes, for `W` of them.
#[inline]
fn add_back<const W: usize>(row: &[f64; 12], force: &[f64; W], out: &mut [[f64; W]; 12]) {
    for (a, sides) in row.iter().zip(out) {
        (0..W).for_each(|l| sides[l] += a * force[l]);
    }
}

#[inline]
fn add_pair(k: &mut [[f64; 12]; 12], by: f64, a: &[f64; 12], b: &[f64; 12]) {
    if by == 0.0 {
        return;
    }
    for (row, &a) in k.iter_mut().zip(a) {
        let scaled = by * a;
        for (entry, &b) in row.iter_mut().zip(b) {
            *entry += scaled * b;
        }
    }
}

/// Takes the joints into the bending stiffness of one plane, one end after the other; also gives the matrix that turns
/// moments at fixed inner ends into moments at the nodes. `None` when an end buckles against its joint.
fn take_in(mut k: Square, joints: [Joint; 2]) -> Option<(Square, Square)> {
    let mut carry = [[1.0, 0.0], [0.0, 1.0]];
    for (end, joint) in joints.into_iter().enumerate() {
        let spring = match joint {
            Joint::Rigid => continue,
            Joint::Free => 0.0,
            Joint::Spring(k) => k,
        };
        let other = 1 - end;
        let (own, far) = (k[end][end], k[end][other]);
        let sum = own + spring;
        if sum <= 0.0 || own <= 0.0 {
            return None;
        }
        carry[other] = [0, 1].map(|c| carry[other][c] - far / sum * carry[end][c]);
        carry[end] = carry[end].map(|c| c * spring / sum);
        k[other][other] -= far * far / sum;
        (k[end][other], k[other][end]) = (spring * far / sum, spring * far / sum);
        k[end][end] = spring * own / sum;
    }
    Some((k, carry))
}
