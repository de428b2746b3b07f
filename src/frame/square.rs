//! Squareness on the bench: what four sides and two diagonals say, in the order in which it matters.
//!
//! ```text
//! d high left ──── c high right     sides: low a–b, right b–c, high c–d, left d–a
//! │            ╳            │     diagonals: a–c, then b–d
//! a low left  ──── b low right
//! ```
//!
//! Six lengths between four points in a plane are one more than the points need, so they can be judged: whether they fit
//! at all comes before anything that is read from them.

use super::model::Frame;
use crate::{
    design::{Design, Seating},
    quantities::{MM_PER_INCH, to_mm},
};
use nalgebra::{SMatrix, SVector};

/// What one reading of a tape may be off (mm), taken as twice its standard deviation. Judgement: hook, sag and parallax
/// make it the same on tapes marked in millimetres.
pub const READING_MM: f64 = MM_PER_INCH / 16.0;

/// The diagonals and, where they were taped as well, the sides of a frame, all (mm).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measured {
    /// Width and height the frame should have.
    pub nominal_mm: [f64; 2],
    /// Low, right, high and left side; taken as nominal when they were not measured.
    pub sides_mm: Option<[f64; 4]>,
    /// From the low left to the high right corner, and from the low right to the high left one.
    pub diagonals_mm: [f64; 2],
}

impl Measured {
    /// All six: low, right, high, left, then the diagonals.
    #[must_use]
    pub fn lengths_mm(&self) -> [f64; 6] {
        let [width, height] = self.nominal_mm;
        let [low, right, high, left] = self.sides_mm.unwrap_or([width, height, width, height]);
        let [up_right, up_left] = self.diagonals_mm;
        [low, right, high, left, up_right, up_left]
    }
}

/// How far a frame may be off before it is called so, all (mm).
///
/// ```text
/// misfit   2 t              4.5 % false alarms where a reading is off by t once in twenty
/// pair     play + √2 t      each hole gives half the play at either end of a side; two readings
/// size     play + t/√2      mean of two readings
/// rack     2 play h/w       the high edge's middle against the low edge's
/// ```
///
/// A frame racked by the angle g shifts the turning holes of its two sides against each other by g w. Each hole lets its
/// bolt move by half its play either way, in the frame and in the post (or cheek), on both sides: 2 play in all.
///
/// # Source
/// Derived; small angles. The misfit limit was tried on 20 000 drawn frames.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    /// Misfit of six lengths to one flat figure.
    pub misfit_mm: f64,
    /// Difference of two opposite sides.
    pub pair_mm: f64,
    /// Mean of two opposite sides, less what it should be.
    pub size_mm: f64,
    /// Slide of the high edge against the low one.
    pub rack_mm: f64,
    /// Difference of the diagonals of a true-sided frame that is racked as far as that.
    pub difference_mm: f64,
}

impl Limits {
    /// Limits of a frame of a width and height whose bolts have `play_mm` in their holes, hole less bolt.
    #[must_use]
    pub fn of(nominal_mm: [f64; 2], play_mm: f64) -> Self {
        let [width, height] = nominal_mm;
        let free = Self {
            misfit_mm: 2.0 * READING_MM,
            pair_mm: play_mm + READING_MM * 2f64.sqrt(),
            size_mm: play_mm + READING_MM / 2f64.sqrt(),
            rack_mm: f64::INFINITY,
            difference_mm: f64::INFINITY,
        };
        free.racked_at_most(nominal_mm, 2.0 * play_mm * height / width)
    }

    /// The same where something else leaves less room to rack.
    ///
    /// A rack of s makes the diagonals differ by 2 w s / diagonal.
    #[must_use]
    pub fn racked_at_most(self, [width, height]: [f64; 2], rack_mm: f64) -> Self {
        let rack_mm = rack_mm.min(self.rack_mm);
        Self { rack_mm, difference_mm: 2.0 * width * rack_mm / width.hypot(height), ..self }
    }

    /// True when two readings of a tape can tell the diagonals of a frame within the limit from one beyond it.
    #[must_use]
    pub fn tape_can_prove(&self) -> bool {
        self.difference_mm >= READING_MM * 2f64.sqrt()
    }
}

/// What a laid-out frame allows on the bench.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BenchLimits {
    /// Play of the turning bolt, hole less bolt (mm).
    pub play_mm: f64,
    /// The most that inset panels let the high edge slide (mm); nothing for panels that lie on their members.
    pub panel_rack_mm: Option<f64>,
    /// The limits that follow from both.
    pub limits: Limits,
}

impl BenchLimits {
    /// Limits of a frame of a design.
    ///
    /// An inset panel stays parallel to the rails while its bay leans, so over its length up the slope the bay may lean
    /// by both side clearances less what the panel may be oversize. Derived.
    #[must_use]
    pub fn of(design: &Design, frame: &Frame) -> Self {
        let nominal_mm = [frame.width_mm, frame.length_mm];
        let play_mm = frame.bolt.hole_mm - frame.bolt.diameter_mm;
        let longest_mm = frame.panels.iter().map(|p| p.u_mm[1] - p.u_mm[0]).fold(0.0, f64::max);
        let panel_rack_mm = match design.frame.seating {
            Seating::Inset { side_clearance, .. } if longest_mm > 0.0 => {
                let room_mm = 2.0 * to_mm(side_clearance) - to_mm(design.panel.size_tolerance);
                Some(room_mm.max(0.0) * frame.length_mm / longest_mm)
            }
            _ => None,
        };
        let bolts = Limits::of(nominal_mm, play_mm);
        let limits = panel_rack_mm.map_or(bolts, |rack_mm| bolts.racked_at_most(nominal_mm, rack_mm));
        Self { play_mm, panel_rack_mm, limits }
    }

    /// True when the panels leave less room than the bolt holes take up.
    #[must_use]
    pub fn panels_govern(&self) -> bool {
        self.panel_rack_mm.is_some_and(|rack_mm| rack_mm <= self.limits.rack_mm)
    }
}

/// One thing that the lengths say. In the order of judging: the first that holds is the verdict.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Finding {
    /// The lengths fit no flat figure: one of them is wrong, or the frame does not lie flat.
    MeasureAgain,
    /// Two opposite sides differ.
    NotARectangle,
    /// Opposite sides agree with each other, and not with the size.
    WrongSize,
    /// Racked beyond what is taken up.
    Push,
    /// None of these.
    Square,
}

impl Finding {
    /// As one word for scripts.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::MeasureAgain => "measure-again",
            Self::NotARectangle => "not-a-rectangle",
            Self::WrongSize => "wrong-size",
            Self::Push => "push",
            Self::Square => "square",
        }
    }
}

/// A side of the frame, seen from the front, named for the member that makes it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Low edge.
    LowRail,
    /// Right edge.
    RightStile,
    /// High edge.
    HighRail,
    /// Left edge.
    LeftStile,
}

impl Side {
    /// Low, right, high, left: the order in which sides are measured.
    pub const ALL: [Self; 4] = [Self::LowRail, Self::RightStile, Self::HighRail, Self::LeftStile];

    /// The side in words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::LowRail => "low rail",
            Self::RightStile => "right stile",
            Self::HighRail => "high rail",
            Self::LeftStile => "left stile",
        }
    }
}

/// A corner of the frame, seen from the front.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Corner {
    /// High edge, right.
    HighRight,
    /// High edge, left.
    HighLeft,
}

impl Corner {
    /// The corner in words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::HighRight => "high right",
            Self::HighLeft => "high left",
        }
    }
}

/// A side that is not as long as the one across from it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OddPart {
    /// Of the two the one that is further from its size.
    pub part: Side,
    /// The one across from it.
    pub than: Side,
    /// How much longer the odd part is; below zero when it is shorter (mm).
    pub longer_mm: f64,
}

/// The flat figure that comes closest to the lengths.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figure {
    /// How far the middle of the high edge has slid along the low edge (mm); to the right is positive.
    pub rack_mm: f64,
    /// The largest correction of a length (mm).
    pub correction_mm: f64,
    /// Angles at the low left, low right, high right and high left corner (deg).
    pub corner_angles_deg: [f64; 4],
}

impl Figure {
    /// The high corner to push along the high edge towards the other one; none when nothing has slid.
    #[must_use]
    pub fn push(&self) -> Option<Corner> {
        // Well under what any tape shows, well over what the fit leaves.
        const NOTHING_MM: f64 = 1e-4;
        match self.rack_mm {
            rack if rack > NOTHING_MM => Some(Corner::HighRight),
            rack if rack < -NOTHING_MM => Some(Corner::HighLeft),
            _ => None,
        }
    }
}

/// What the measurements say.
#[derive(Debug, Clone, PartialEq)]
pub struct Squareness {
    /// Everything that was found, in the order of judging; never empty.
    pub findings: Vec<Finding>,
    /// The second diagonal less the one that a flat figure of the other five lengths has (mm); none when these close no
    /// figure.
    pub misfit_mm: Option<f64>,
    /// How far one corner would stand off the plane of the other three if every reading were right (mm); none when no
    /// figure in space has these lengths.
    pub off_flat_mm: Option<f64>,
    /// What each length would have to be if it alone were wrong: low, right, high, left, diagonals (mm).
    pub alone_mm: [Option<f64>; 6],
    /// The figure that was fitted.
    pub figure: Option<Figure>,
    /// Sides that differ from the ones across, where the lengths fit.
    pub odd_parts: Vec<OddPart>,
    /// Mean of the rails and of the stiles, less width and height (mm).
    pub size_error_mm: [f64; 2],
    /// For each of them, whether it is a finding.
    pub wrong_size: [bool; 2],
    /// First diagonal less second (mm).
    pub difference_mm: f64,
}

impl Squareness {
    /// The finding that counts.
    #[must_use]
    pub fn verdict(&self) -> Finding {
        self.findings.first().copied().unwrap_or(Finding::Square)
    }
}

/// Judges what was measured.
///
/// The corners are fitted to the six lengths by least squares. One length too many shows *that* the lengths do not fit
/// and never *which* is wrong: all six normalised corrections are equal. Lengths that are no positive numbers fit
/// nothing.
///
/// # Source
/// Derived. Thirty frames, measured and misread, are in `tests/library/square.rs`.
#[must_use]
pub fn judge(measured: &Measured, limits: &Limits) -> Squareness {
    let lengths = measured.lengths_mm();
    let [low, right, high, left, up_right, up_left] = lengths;
    let [width, height] = measured.nominal_mm;
    let misfit_mm = asked_mm(&lengths, 5).map(|asked| up_left - asked);
    let figure = fit(&lengths);
    // Limits hold to first order: what the curve adds must not refuse a reading that stands on the limit.
    const CURVE_MM: f64 = 0.01;
    let within = |value_mm: f64, most_mm: f64| value_mm.abs() <= most_mm + CURVE_MM;
    let mut judged = Squareness {
        findings: Vec::new(),
        misfit_mm,
        off_flat_mm: misfit_mm.and_then(|misfit| off_flat_mm(misfit, width.hypot(height))),
        alone_mm: std::array::from_fn(|one| asked_mm(&lengths, one)),
        figure,
        odd_parts: Vec::new(),
        size_error_mm: [(low + high) / 2.0 - width, (left + right) / 2.0 - height],
        wrong_size: [false; 2],
        difference_mm: up_right - up_left,
    };
    let Some(figure) = figure.filter(|_| misfit_mm.is_some_and(|misfit| within(misfit, limits.misfit_mm))) else {
        judged.findings.push(Finding::MeasureAgain);
        return judged;
    };
    for (pair, [one, other]) in [[0, 2], [1, 3]].into_iter().enumerate() {
        if !within(lengths[one] - lengths[other], limits.pair_mm) {
            judged.odd_parts.push(odd_part(&lengths, one, other, measured.nominal_mm[pair]));
        } else {
            judged.wrong_size[pair] = !within(judged.size_error_mm[pair], limits.size_mm);
        }
    }
    let found = [
        (Finding::NotARectangle, !judged.odd_parts.is_empty()),
        (Finding::WrongSize, judged.wrong_size.contains(&true)),
        (Finding::Push, !within(figure.rack_mm, limits.rack_mm)),
    ];
    judged.findings.extend(found.into_iter().filter(|(_, holds)| *holds).map(|(finding, _)| finding));
    if judged.findings.is_empty() {
        judged.findings.push(Finding::Square);
    }
    judged
}

/// Of two opposite sides the one further from its size, and how much longer it is than the other.
fn odd_part(lengths: &[f64; 6], one: usize, other: usize, nominal_mm: f64) -> OddPart {
    let off = |side: usize| (lengths[side] - nominal_mm).abs();
    let (odd, true_one) = if off(one) > off(other) { (one, other) } else { (other, one) };
    OddPart { part: Side::ALL[odd], than: Side::ALL[true_one], longer_mm: lengths[odd] - lengths[true_one] }
}

/// How far a corner off the plane of the other three shortens a diagonal by the misfit: z² = −2 D E, to first order.
fn off_flat_mm(misfit_mm: f64, diagonal_mm: f64) -> Option<f64> {
    const NOTHING_MM: f64 = 1e-6;
    (misfit_mm < -NOTHING_MM).then(|| (-2.0 * diagonal_mm * misfit_mm).sqrt())
}

type P = [f64; 2];

/// Corners that each length runs between, in the order of [`Measured::lengths_mm`].
const ENDS: [(usize, usize); 6] = [(0, 1), (1, 2), (2, 3), (3, 0), (0, 2), (1, 3)];

fn dist(a: P, b: P) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

/// The point to the left of the way from `a` to `b` that lies `from_a` and `from_b` from them; none when they do not
/// close a triangle.
fn third(a: P, b: P, from_a: f64, from_b: f64) -> Option<P> {
    let base = dist(a, b);
    let along = (from_a * from_a - from_b * from_b + base * base) / (2.0 * base);
    let up_squared = from_a * from_a - along * along;
    if !(up_squared > 0.0 && base > 0.0 && from_a > 0.0 && from_b > 0.0) {
        return None;
    }
    let (u, up) = ([(b[0] - a[0]) / base, (b[1] - a[1]) / base], up_squared.sqrt());
    Some([a[0] + u[0] * along - u[1] * up, a[1] + u[1] * along + u[0] * up])
}

/// What one of the six lengths is in the flat convex figure that the other five make; none when these close none.
fn asked_mm(lengths: &[f64; 6], one: usize) -> Option<f64> {
    let between = |i: usize, j: usize| {
        let at = ENDS.iter().position(|ends| *ends == (i, j) || *ends == (j, i));
        at.map(|at| lengths[at])
    };
    let (i, j) = ENDS[one];
    let (k, l) = ENDS.into_iter().find(|(k, l)| ![i, j].contains(k) && ![i, j].contains(l))?;
    let (at_k, at_l) = ([0.0, 0.0], [between(k, l)?, 0.0]);
    let at_i = third(at_k, at_l, between(i, k)?, between(i, l)?)?;
    // The ends of a side lie on one side of the side across; those of a diagonal on either side of the other diagonal.
    let at_j = match one {
        0..4 => third(at_k, at_l, between(j, k)?, between(j, l)?)?,
        _ => third(at_l, at_k, between(j, l)?, between(j, k)?)?,
    };
    Some(dist(at_i, at_j))
}

/// The flat figure closest to the lengths; none when they are so far from one that the fit does not settle.
fn fit(lengths: &[f64; 6]) -> Option<Figure> {
    let corners = fitted_corners(lengths)?;
    let [a, b, c, d] = corners;
    let corrections = ENDS.iter().zip(lengths).map(|((i, j), taped)| (dist(corners[*i], corners[*j]) - taped).abs());
    let angle = |at: P, one: P, other: P| {
        let (u, v) = ([one[0] - at[0], one[1] - at[1]], [other[0] - at[0], other[1] - at[1]]);
        ((u[0] * v[0] + u[1] * v[1]) / (u[0].hypot(u[1]) * v[0].hypot(v[1]))).clamp(-1.0, 1.0).acos().to_degrees()
    };
    Some(Figure {
        rack_mm: (c[0] + d[0] - a[0] - b[0]) / 2.0,
        correction_mm: corrections.fold(0.0, f64::max),
        corner_angles_deg: [angle(a, b, d), angle(b, c, a), angle(c, d, b), angle(d, a, c)],
    })
}

/// Corners a (origin), b (on the low edge), c, d by Gauss–Newton on five free coordinates, from the figure that all
/// lengths but the second diagonal make.
fn fitted_corners(lengths: &[f64; 6]) -> Option<[P; 4]> {
    const MOST_STEPS: usize = 60;
    const CLOSE_MM: f64 = 1e-10;
    let [low, right, high, left, up_right, _] = *lengths;
    let (a, b) = ([0.0, 0.0], [low, 0.0]);
    let c = third(a, b, up_right, right)?;
    let d = third(a, c, left, high)?;
    let mut x = SVector::<f64, 5>::from([low, c[0], c[1], d[0], d[1]]);
    let corners = |x: &SVector<f64, 5>| [[0.0, 0.0], [x[0], 0.0], [x[1], x[2]], [x[3], x[4]]];
    // Which unknown holds each coordinate; the first corner is the origin and the second lies on the low edge.
    const UNKNOWN: [[Option<usize>; 2]; 4] = [[None, None], [Some(0), None], [Some(1), Some(2)], [Some(3), Some(4)]];
    for _ in 0..MOST_STEPS {
        let p = corners(&x);
        let mut jacobian = SMatrix::<f64, 6, 5>::zeros();
        let mut residual = SVector::<f64, 6>::zeros();
        for (row, (i, j)) in ENDS.into_iter().enumerate() {
            let length = dist(p[i], p[j]);
            residual[row] = lengths[row] - length;
            for axis in 0..2 {
                let slope = (p[i][axis] - p[j][axis]) / length;
                if let Some(column) = UNKNOWN[i][axis] {
                    jacobian[(row, column)] += slope;
                }
                if let Some(column) = UNKNOWN[j][axis] {
                    jacobian[(row, column)] -= slope;
                }
            }
        }
        let normal = jacobian.transpose() * jacobian;
        let step = normal.cholesky()?.solve(&(jacobian.transpose() * residual));
        x += step;
        if !x.iter().all(|v| v.is_finite()) {
            return None;
        }
        if step.amax() < CLOSE_MM {
            return Some(corners(&x));
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    const NOMINAL: [f64; 2] = [4000.0, 3000.0];
    const TRUE_SIDES: [f64; 4] = [4000.0, 3000.0, 4000.0, 3000.0];

    fn judged(sides_mm: [f64; 4], diagonals_mm: [f64; 2]) -> Squareness {
        let measured = Measured { nominal_mm: NOMINAL, sides_mm: Some(sides_mm), diagonals_mm };
        judge(&measured, &Limits::of(NOMINAL, READING_MM))
    }

    #[test]
    fn three_four_five_is_square() {
        let judged = judged(TRUE_SIDES, [5000.0; 2]);
        let figure = judged.figure.expect("a rectangle");
        assert_eq!((judged.verdict(), figure.push(), judged.off_flat_mm), (Finding::Square, None, None));
        assert!(figure.rack_mm.abs() < 1e-9 && figure.correction_mm < 1e-9);
        assert!(figure.corner_angles_deg.iter().all(|a| (a - 90.0).abs() < 1e-9));
        for (alone, taped) in judged.alone_mm.iter().zip([4e3, 3e3, 4e3, 3e3, 5e3, 5e3]) {
            assert!(alone.is_some_and(|alone| (alone - taped).abs() < 1e-9));
        }
    }

    /// Parallelograms from a hair to half a right angle: diagonals by Pythagoras, rack by construction.
    #[test]
    fn a_racked_frame_says_which_corner_and_how_far() {
        for slid in [0.001, 5.0, 20.0, 400.0, 2100.0] {
            let rise = (3000f64 * 3000.0 - slid * slid).sqrt();
            let (long, short) = ((4000.0 + slid).hypot(rise), (4000.0 - slid).hypot(rise));
            for (diagonals, rack, corner) in
                [([long, short], slid, Corner::HighRight), ([short, long], -slid, Corner::HighLeft)]
            {
                let judged = judged(TRUE_SIDES, diagonals);
                let figure = judged.figure.expect("a parallelogram");
                assert!((figure.rack_mm - rack).abs() < 1e-6, "{slid}: {figure:?}");
                assert_eq!(figure.push(), Some(corner), "{slid}");
                let beyond = slid > 2.0 * READING_MM * 0.75;
                assert_eq!(judged.verdict(), if beyond { Finding::Push } else { Finding::Square }, "{slid}");
            }
        }
    }

    #[test]
    fn lengths_that_close_no_triangle_are_measured_again() {
        for diagonals in [[9000.0, 100.0], [7000.0, 5000.0], [f64::NAN, 5000.0], [0.0, 5000.0]] {
            let judged = judged(TRUE_SIDES, diagonals);
            assert_eq!((judged.findings.as_slice(), judged.misfit_mm), (&[Finding::MeasureAgain][..], None));
        }
    }

    /// The worst case of two readings that are each off by their limit lies on the limit of the diagonals.
    #[test]
    fn a_tape_proves_a_frame_only_when_the_limit_is_wide_enough() {
        assert!(Limits::of(NOMINAL, READING_MM).tape_can_prove());
        assert!(!Limits::of([4800.0, 1000.0], READING_MM).tape_can_prove());
        assert!(!Limits::of(NOMINAL, READING_MM).racked_at_most(NOMINAL, 1.0).tape_can_prove());
    }
}
