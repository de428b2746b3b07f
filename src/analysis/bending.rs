//! Exact bending of one member in one plane, with or without an axial force.
//!
//! Deflection `v` along x, slope `v′`, compression `p`, load `q` across the member:
//!
//! ```text
//! EI v⁗ + p v″ = q      v(x) = v₀ + v₀′ x + v₀″ F₂(x) + v₀‴ F₃(x) + particular(x) / EI      Fₙ(t) = tⁿ cₙ(p t²/EI)
//! ```
//!
//! The `cₙ` join the polynomials (p = 0), sines (compression) and hyperbolic sines (tension) in one formula, so a linear
//! and a second-order member are the same code.

/// `cₙ(z) = Σ (−z)ᵐ / (n + 2m)!` for n = 0…5.
///
/// # Source
/// K. Stumpff, Himmelsmechanik I (1959); the recurrence `cₙ = 1/n! − z cₙ₊₂` follows from the series.
fn stumpff(z: f64) -> [f64; 6] {
    const INVERSE_FACTORIAL: [f64; 6] = [1.0, 1.0, 0.5, 1.0 / 6.0, 1.0 / 24.0, 1.0 / 120.0];
    if z == 0.0 {
        return INVERSE_FACTORIAL;
    }
    let series = |n: f64, first: f64| {
        let (mut term, mut sum, mut k) = (first, first, n);
        while term.abs() > 1e-18 * sum.abs() {
            term *= -z / ((k + 1.0) * (k + 2.0));
            sum += term;
            k += 2.0;
        }
        sum
    };
    let c5 = series(5.0, INVERSE_FACTORIAL[5]);
    let c4 = series(4.0, INVERSE_FACTORIAL[4]);
    let (c3, c2) = (INVERSE_FACTORIAL[3] - z * c5, 0.5 - z * c4);
    [1.0 - z * c2, 1.0 - z * c3, c2, c3, c4, c5]
}

/// Above this `p L²/EI` a member with fixed ends buckles between its nodes (4π²).
const FIXED_ENDS_BUCKLE: f64 = 4.0 * std::f64::consts::PI * std::f64::consts::PI;
/// Tension stiffening of the bent shape is counted up to this `−p L²/EI`; beyond it the exponentials drown the digits.
/// The chord's own stiffness counts in full.
const MOST_TENSION: f64 = 400.0;

/// A load on one plane of a member.
#[derive(Debug, Clone, Copy)]
pub(super) enum PlaneLoad {
    Line { a: f64, b: f64, w_a: f64, w_b: f64 },
    Point { at: f64, force: f64, moment: f64 },
}

/// One bending plane of a member: stiffness (N·mm²), length (mm), compression (N).
#[derive(Debug, Clone, Copy)]
pub(super) struct Plane {
    pub(super) ei: f64,
    pub(super) length: f64,
    p: f64,
    c: [f64; 6],
}

impl Plane {
    pub(super) fn new(ei: f64, length: f64, compression: f64) -> Self {
        let z = (compression * length * length / ei).max(-MOST_TENSION);
        Self { ei, length, p: z * ei / (length * length), c: stumpff(z) }
    }

    /// Functions `F₋₁ … F₅` at `t`; index 0 is `F₋₁`, the derivative of `F₀`.
    fn functions(&self, t: f64) -> [f64; 7] {
        let c = if t == self.length { self.c } else { stumpff(self.p * t * t / self.ei) };
        let (t2, t3) = (t * t, t * t * t);
        [-self.p / self.ei * t * c[1], c[0], t * c[1], t2 * c[2], t3 * c[3], t2 * t2 * c[4], t2 * t3 * c[5]]
    }

    /// `EI` times the particular solution that starts from rest at x = 0, with its first three derivatives.
    fn particular(&self, load: PlaneLoad, x: f64) -> [f64; 4] {
        let mut out = [0.0; 4];
        match load {
            PlaneLoad::Line { a, b, w_a, w_b } => {
                let rise = (w_b - w_a) / (b - a);
                for (start, w, sign) in [(a, w_a, 1.0), (b, w_b, -1.0)] {
                    if x > start {
                        let f = self.functions(x - start);
                        for (d, o) in out.iter_mut().enumerate() {
                            *o += sign * (w * f[5 - d] + rise * f[6 - d]);
                        }
                    }
                }
            }
            PlaneLoad::Point { at, force, moment } => {
                if x >= at {
                    let f = self.functions(x - at);
                    for (d, o) in out.iter_mut().enumerate() {
                        *o += force * f[4 - d] - moment * f[3 - d];
                    }
                }
            }
        }
        out
    }

    fn particular_sum(&self, loads: &[PlaneLoad], x: f64) -> [f64; 4] {
        let mut sum = [0.0; 4];
        for &load in loads {
            let part = self.particular(load, x);
            (0..4).for_each(|d| sum[d] += part[d]);
        }
        sum
    }

    /// End moments per end rotation, near and far (N·mm/rad); `None` when the member buckles between fixed ends.
    pub(super) fn stiffness(&self) -> Option<[f64; 2]> {
        let [_, c1, c2, c3, ..] = self.c;
        let det = c2 * c2 - c1 * c3;
        if self.p * self.length * self.length / self.ei >= FIXED_ENDS_BUCKLE || det <= 0.0 {
            return None;
        }
        let unit = self.ei / self.length / det;
        Some([unit * (c2 - c3), unit * c3])
    }

    /// Moments on the member at ends that neither move nor turn (N·mm).
    pub(super) fn fixed_end(&self, loads: &[PlaneLoad]) -> [f64; 2] {
        let [c0, c1, c2, c3, ..] = self.c;
        let l = self.length;
        let det = c2 * c2 - c1 * c3;
        let end = self.particular_sum(loads, l);
        let (v, slope) = (-end[0], -end[1]);
        let curvature = (c2 * v / (l * l) - c3 * slope / l) / det;
        let third = (c2 * slope / (l * l) - c1 * v / (l * l * l)) / det;
        [-curvature, curvature * c0 + third * l * c1 + end[2]]
    }

    /// Forces across the member at its ends when it rests on them like a simple beam (N).
    pub(super) fn simple_ends(length: f64, load: PlaneLoad) -> [f64; 2] {
        match load {
            PlaneLoad::Line { a, b, w_a, w_b } => {
                let total = (w_a + w_b) / 2.0 * (b - a);
                let about_a = (b - a) * (b - a) * (w_a + 2.0 * w_b) / 6.0;
                let at_j = (total * a + about_a) / length;
                [at_j - total, -at_j]
            }
            PlaneLoad::Point { at, force, moment } => {
                let at_j = (force * at + moment) / length;
                [at_j - force, -at_j]
            }
        }
    }

    /// Bent line that starts with slope `slope` (or, if not known, the one that ends on the chord), end moment
    /// `moment` and force `force` at x = 0, all measured from the chord.
    pub(super) fn bent(&self, slope: Option<f64>, moment: f64, force: f64, loads: Vec<PlaneLoad>) -> BentLine {
        let l = self.length;
        let [_, c1, c2, c3, ..] = self.c;
        let slope = slope.unwrap_or_else(|| {
            let end = self.particular_sum(&loads, l)[0];
            let without = -moment * l * l * c2 + force * l * l * l * c3 + end;
            -without / (self.ei * l * c1)
        });
        BentLine { plane: *self, slope, curvature: -moment, third: force - self.p * slope, loads }
    }
}

/// A member's deflection from its chord; `curvature` and `third` are `EI v₀″` and `EI v₀‴`.
#[derive(Debug, Clone)]
pub(super) struct BentLine {
    plane: Plane,
    slope: f64,
    curvature: f64,
    third: f64,
    loads: Vec<PlaneLoad>,
}

impl BentLine {
    /// Deflection from the chord (mm), moment `EI v″` (N·mm) and its slope `EI v‴` (N) at x.
    pub(super) fn at(&self, x: f64) -> [f64; 3] {
        let f = self.plane.functions(x);
        let own = self.plane.particular_sum(&self.loads, x);
        let shape = |d: usize| self.curvature * f[3 - d] + self.third * f[4 - d] + own[d];
        [self.slope * x + shape(0) / self.plane.ei, shape(2), shape(3)]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn close(a: f64, b: f64) -> bool {
        (a - b).abs() <= 1e-12 * b.abs().max(1.0)
    }

    #[test]
    fn stumpff_functions_are_sines_and_hyperbolic_sines() {
        for z in [0.01_f64, 1.0, 9.0, 30.0] {
            let k = z.sqrt();
            let c = stumpff(z);
            assert!(close(c[0], k.cos()) && close(c[1], k.sin() / k) && close(c[3], (k - k.sin()) / (k * z)));
            let h = stumpff(-z);
            assert!(close(h[0], k.cosh()) && close(h[2], (k.cosh() - 1.0) / z));
        }
    }

    /// Slope-deflection coefficients of a straight prismatic member, any text on elastic stability.
    #[test]
    fn end_stiffness_is_the_stability_function() {
        let phi = 2.0_f64;
        let plane = Plane::new(1.0, 1.0, phi * phi);
        let [near, far] = plane.stiffness().expect("below the buckling load");
        let (sin, cos) = phi.sin_cos();
        let det = 2.0 - 2.0 * cos - phi * sin;
        assert!(close(near, phi * (sin - phi * cos) / det) && close(far, phi * (phi - sin) / det));
        assert_eq!(Plane::new(3.0, 2.0, 0.0).stiffness().map(|k| k.map(f64::round)), Some([6.0, 3.0]));
    }

    #[test]
    fn fixed_ends_without_compression_are_the_beam_table() {
        let plane = Plane::new(5.0, 4.0, 0.0);
        let line = [PlaneLoad::Line { a: 0.0, b: 4.0, w_a: 3.0, w_b: 3.0 }];
        let [i, j] = plane.fixed_end(&line);
        assert!(close(i, -4.0) && close(j, 4.0)); // w L²/12
        let [i, j] = plane.fixed_end(&[PlaneLoad::Point { at: 1.0, force: 16.0, moment: 0.0 }]);
        assert!(close(i, -9.0) && close(j, 3.0)); // P a b²/L², P a² b/L²
        let [i, j] = plane.fixed_end(&[PlaneLoad::Point { at: 2.0, force: 0.0, moment: 8.0 }]);
        assert!(close(i, 2.0) && close(j, 2.0)); // M/4 each, turning the same way
        let [i, j] = plane.fixed_end(&[PlaneLoad::Line { a: 0.0, b: 4.0, w_a: 0.0, w_b: 15.0 }]);
        assert!(close(i, -8.0) && close(j, 12.0)); // w L²/30, w L²/20
    }
}
