//! Squareness on the bench: what measured diagonals say, which corner to push, and how far.

use nalgebra::{SMatrix, SVector};

/// Sides and diagonals of a frame as measured, all (mm).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measured {
    /// Low, right, high and left side.
    pub sides_mm: [f64; 4],
    /// From the low left to the high right corner, and from the low right to the high left one.
    pub diagonals_mm: [f64; 2],
}

/// A corner of the frame, seen from the front.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Corner {
    /// Low edge, left.
    LowLeft,
    /// Low edge, right.
    LowRight,
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
            Self::LowLeft => "low left",
            Self::LowRight => "low right",
            Self::HighRight => "high right",
            Self::HighLeft => "high left",
        }
    }
}

/// What the measurements say.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Squareness {
    /// Difference of the diagonals, without sign (mm).
    pub difference_mm: f64,
    /// How far the high edge has slid along itself against the low edge (mm); to the right is positive.
    pub rack_mm: f64,
    /// The high corner at the end of the longer diagonal: push it along the high edge towards the other one.
    pub push: Option<Corner>,
    /// How far to push (mm).
    pub push_mm: f64,
    /// Misfit of the six lengths to any flat four-sided figure: what the tape got wrong, at the least (mm).
    pub tape_error_mm: f64,
    /// Angles at the low left, low right, high right and high left corner (deg).
    pub corner_angles_deg: [f64; 4],
}

/// Measurements that fit no figure.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[error("no four-sided figure has these sides and diagonals")]
pub struct NoFigure;

/// Difference of the diagonals that the bolt holes can take up (mm).
///
/// A frame racked by the angle g shifts the turning holes of its two sides against each other by g · width. Each hole
/// lets its bolt move by half its play either way, in the frame and in the post (or cheek), on both sides: 2 · play in
/// all. A rack of g makes the diagonals differ by 2 · width · length · g / diagonal, so the difference allowed is
/// 4 · play · length / diagonal. Derived; small angles.
///
/// # Units
/// All (mm); `play_mm` is hole less bolt.
#[must_use]
pub fn allowed_difference_mm(width_mm: f64, length_mm: f64, play_mm: f64) -> f64 {
    4.0 * play_mm * length_mm / width_mm.hypot(length_mm)
}

/// Judges measured sides and diagonals.
///
/// The four corners are fitted to the six lengths by least squares (Gauss–Newton on five free coordinates); what is
/// left over is tape error.
///
/// # Errors
/// [`NoFigure`] when a length is not positive or the lengths cannot close.
pub fn judge(measured: &Measured) -> Result<Squareness, NoFigure> {
    let [low, right, high, left] = measured.sides_mm;
    let [up_right, up_left] = measured.diagonals_mm;
    let all = [low, right, high, left, up_right, up_left];
    if all.iter().any(|l| !(l.is_finite() && *l > 0.0)) {
        return Err(NoFigure);
    }
    let corners = fit(measured)?;
    let [a, b, c, d] = corners;
    let lengths = [dist(a, b), dist(b, c), dist(c, d), dist(d, a), dist(a, c), dist(b, d)];
    let tape_error_mm = lengths.iter().zip(all).map(|(fit, tape)| (fit - tape).abs()).fold(0.0, f64::max);
    // A fit that is off by a tenth of the shortest side is no frame with a sloppy tape, it is a wrong number.
    if tape_error_mm > 0.1 * all.iter().copied().fold(f64::INFINITY, f64::min) {
        return Err(NoFigure);
    }
    let angle = |at: P, one: P, other: P| {
        let (u, v) = ([one[0] - at[0], one[1] - at[1]], [other[0] - at[0], other[1] - at[1]]);
        ((u[0] * v[0] + u[1] * v[1]) / (u[0].hypot(u[1]) * v[0].hypot(v[1]))).clamp(-1.0, 1.0).acos().to_degrees()
    };
    // Slide of the high edge's middle against the low edge's, along the low edge.
    let rack_mm = (c[0] + d[0] - a[0] - b[0]) / 2.0;
    let difference = up_right - up_left;
    let push = match difference {
        d if d > 0.0 => Some(Corner::HighRight),
        d if d < 0.0 => Some(Corner::HighLeft),
        _ => None,
    };
    Ok(Squareness {
        difference_mm: difference.abs(),
        rack_mm,
        push,
        push_mm: if push.is_some() { rack_mm.abs() } else { 0.0 },
        tape_error_mm,
        corner_angles_deg: [angle(a, b, d), angle(b, c, a), angle(c, d, b), angle(d, a, c)],
    })
}

type P = [f64; 2];

fn dist(a: P, b: P) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

/// Corners a (origin), b (on the low edge), c, d.
fn fit(measured: &Measured) -> Result<[P; 4], NoFigure> {
    const MOST_STEPS: usize = 60;
    const CLOSE_MM: f64 = 1e-10;
    let [low, right, high, left] = measured.sides_mm;
    let [up_right, up_left] = measured.diagonals_mm;
    let wanted = SVector::<f64, 6>::from([low, right, high, left, up_right, up_left]);
    let mut x = SVector::<f64, 5>::from([low, (low + high) / 2.0, (left + right) / 2.0, 0.0, (left + right) / 2.0]);
    let corners = |x: &SVector<f64, 5>| [[0.0, 0.0], [x[0], 0.0], [x[1], x[2]], [x[3], x[4]]];
    const PAIRS: [(usize, usize); 6] = [(0, 1), (1, 2), (2, 3), (3, 0), (0, 2), (1, 3)];
    // Which unknown holds each coordinate; the first corner is the origin and the second lies on the low edge.
    const UNKNOWN: [[Option<usize>; 2]; 4] = [[None, None], [Some(0), None], [Some(1), Some(2)], [Some(3), Some(4)]];
    for _ in 0..MOST_STEPS {
        let p = corners(&x);
        let mut jacobian = SMatrix::<f64, 6, 5>::zeros();
        let mut residual = SVector::<f64, 6>::zeros();
        for (row, (i, j)) in PAIRS.into_iter().enumerate() {
            let length = dist(p[i], p[j]);
            residual[row] = wanted[row] - length;
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
        let step = normal.cholesky().ok_or(NoFigure)?.solve(&(jacobian.transpose() * residual));
        x += step;
        if !x.iter().all(|v| v.is_finite()) {
            return Err(NoFigure);
        }
        if step.amax() < CLOSE_MM {
            return Ok(corners(&x));
        }
    }
    Err(NoFigure)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn three_four_five_is_square() {
        let measured = Measured { sides_mm: [4000.0, 3000.0, 4000.0, 3000.0], diagonals_mm: [5000.0, 5000.0] };
        let judged = judge(&measured).expect("a rectangle");
        assert!(judged.difference_mm < 1e-9 && judged.tape_error_mm < 1e-9 && judged.rack_mm.abs() < 1e-9);
        assert!(judged.corner_angles_deg.iter().all(|a| (a - 90.0).abs() < 1e-9));
        assert_eq!(judged.push, None);
    }

    #[test]
    fn a_racked_frame_says_which_corner_and_how_far() {
        // Parallelogram 4 m by 3 m, leaning 20 mm to the right: diagonals by Pythagoras.
        let rise = (3000f64 * 3000.0 - 400.0).sqrt();
        let (long, short) = ((4020f64).hypot(rise), (3980f64).hypot(rise));
        let measured = Measured { sides_mm: [4000.0, 3000.0, 4000.0, 3000.0], diagonals_mm: [long, short] };
        let judged = judge(&measured).expect("a parallelogram");
        assert!((judged.rack_mm - 20.0).abs() < 1e-6, "{}", judged.rack_mm);
        assert_eq!(judged.push, Some(Corner::HighRight));
        assert!(judged.tape_error_mm < 1e-6);
    }

    #[test]
    fn lengths_that_cannot_close_are_refused() {
        let measured = Measured { sides_mm: [4000.0, 3000.0, 4000.0, 3000.0], diagonals_mm: [9000.0, 100.0] };
        assert!(judge(&measured).is_err());
    }
}
