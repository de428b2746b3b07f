//! Forces and deflections along a member.

use super::axes::{self, Axes, Vector};
use super::bending::BentLine;
use super::member::{EndForces, LocalLoad, Prepared};

/// Internal forces at one place, as they act on the face that looks towards end j.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct SectionForces {
    /// Axial force, tension positive (N).
    pub n: f64,
    /// Shear along local y (N).
    pub v_y: f64,
    /// Shear along local z (N).
    pub v_z: f64,
    /// Torsion (N·mm).
    pub t: f64,
    /// Bending moment about local y (N·mm).
    pub m_y: f64,
    /// Bending moment about local z (N·mm).
    pub m_z: f64,
}

impl SectionForces {
    /// `n v_y v_z t m_y m_z`.
    #[must_use]
    pub fn components(&self) -> [f64; 6] {
        [self.n, self.v_y, self.v_z, self.t, self.m_y, self.m_z]
    }
}

/// One member under one case or combination, to be asked at any place.
#[derive(Debug, Clone)]
pub struct MemberLine {
    axes: Axes,
    length: f64,
    ends: EndForces,
    moves: [(Vector, Vector); 2],
    loads: Vec<(f64, LocalLoad)>,
    bent: [BentLine; 2],
    second_order: bool,
}

/// Even stations of a member whose forces are not polynomials of low order between the breaks of its loads.
const STATIONS: usize = 10;
/// A slope of the moment below this share of the greatest around it is its zero.
const LEVEL: f64 = 1e-12;
const MOST_ROUNDS: usize = 60;

impl MemberLine {
    pub(super) fn new(
        member: &Prepared,
        compression: f64,
        ends: EndForces,
        moves: [(Vector, Vector); 2],
        loads: Vec<(f64, LocalLoad)>,
    ) -> Self {
        // The weight of an axial member bends it between its pins to first order only: its buckling is a check of its
        // own.
        let bending = if member.axial_only { 0.0 } else { compression };
        let bent = [0, 1].map(|plane| {
            let in_plane = loads.iter().map(|(f, l)| l.in_plane(plane, *f)).collect();
            let (sign, moment, turn) =
                if plane == 0 { (1.0, ends[5], moves[0].1[2]) } else { (-1.0, ends[4], moves[0].1[1]) };
            let chord = (moves[1].0[plane + 1] - moves[0].0[plane + 1]) / member.length;
            let slope = member.is_rigid(0, plane).then_some(sign * turn - chord);
            // The part of the end force that leans with the chord is not seen from the chord.
            let force = ends[1 + plane] - compression * chord;
            member.plane(plane, bending).bent(slope, sign * moment, force, in_plane)
        });
        Self { axes: member.axes, length: member.length, ends, moves, loads, bent, second_order: bending != 0.0 }
    }

    /// Clear length (mm).
    #[must_use]
    pub fn length(&self) -> f64 {
        self.length
    }

    /// Internal forces at `x` (mm) from end i; at a point load, just behind it.
    #[must_use]
    pub fn at(&self, x: f64) -> SectionForces {
        let x = x.clamp(0.0, self.length);
        let (mut force, mut torque) = ([self.ends[0], self.ends[1], self.ends[2]], self.ends[3]);
        for (factor, load) in &self.loads {
            let (f, t) = load.before(x);
            force = axes::plus(force, axes::scaled(f, *factor));
            torque += factor * t;
        }
        let (m_z, m_y) = (self.bent[0].at(x)[1], -self.bent[1].at(x)[1]);
        SectionForces { n: -force[0], v_y: -force[1], v_z: -force[2], t: -torque, m_y, m_z }
    }

    /// Displacement at `x` (mm) from end i, global axes (mm).
    #[must_use]
    pub fn displacement(&self, x: f64) -> [f64; 3] {
        let share = x / self.length;
        let [i, j] = [self.moves[0].0, self.moves[1].0];
        let chord = axes::plus(axes::scaled(i, 1.0 - share), axes::scaled(j, share));
        axes::out_of(&self.axes, axes::plus(chord, [0.0, self.bent[0].at(x)[0], self.bent[1].at(x)[0]]))
    }

    /// Deflection from the straight line between the member's ends, along local y and z (mm).
    #[must_use]
    pub fn sag(&self, x: f64) -> [f64; 2] {
        [self.bent[0].at(x)[0], self.bent[1].at(x)[0]]
    }

    /// Places where an internal force can be greatest, in order: both ends, breaks of the loads, peaks of the bending
    /// moments; even stations between them where a load changes along the member or compression bends it.
    #[must_use]
    pub fn stations(&self) -> Vec<f64> {
        let mut places = vec![0.0, self.length];
        if self.loads.is_empty() && !self.second_order {
            return places;
        }
        places.extend(self.loads.iter().flat_map(|(_, load)| load.breaks()));
        if self.second_order || self.loads.iter().any(|(_, load)| !load.is_even()) {
            places.extend((1..STATIONS).map(|k| self.length * k as f64 / STATIONS as f64));
        }
        places.sort_by(f64::total_cmp);
        places.dedup();
        for k in 1..places.len() {
            let (from, to) = (places[k - 1], places[k]);
            places.extend(self.bent.iter().filter_map(|bent| peak(bent, from, to)));
        }
        places.sort_by(f64::total_cmp);
        places.dedup();
        places
    }
}

/// Where the moment's slope changes sign between two places: false position with the Illinois weights.
///
/// # Source
/// M. Dowell, P. Jarratt, BIT 11 (1971) 168–174.
fn peak(bent: &BentLine, mut a: f64, mut b: f64) -> Option<f64> {
    // Slopes are read inside the interval: at its ends a point load jumps.
    let slope = |x: f64| bent.at(x)[2];
    let (mut at_a, mut at_b) = (slope(a), slope(b - 1e-9 * (b - a)));
    if at_a * at_b >= 0.0 {
        return None;
    }
    let level = LEVEL * at_a.abs().max(at_b.abs());
    let mut x = a;
    for _ in 0..MOST_ROUNDS {
        x = (a * at_b - b * at_a) / (at_b - at_a);
        let at_x = slope(x);
        if at_x.abs() <= level {
            break;
        }
        if at_x * at_b < 0.0 {
            (a, at_a) = (b, at_b);
        } else {
            at_a /= 2.0;
        }
        (b, at_b) = (x, at_x);
    }
    Some(x)
}
