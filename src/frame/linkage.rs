//! The pin-to-pin triangle that turns a tilt into a hole, and a hole back into a tilt.
//!
//! Side view: X level, from the low edge towards the high edge; Z up; origin on the axle or hinge. A frame point
//! (u, w) stands at (u cos b − w sin b, u sin b + w cos b) at tilt b; a pin behind the frame has w < 0.
//!
//! ```text
//!   hole row in the stay              hole row in the runner
//!
//!          axle O                          A (a, e)
//!         /    \                          /   \ stay s
//!   A (−q, e)    \                       /     \
//!        \  r(b)  |                 O hinge     \
//!         \       |                 |d           \
//!          `----- B (f, −d)         F ==== h ==== B ===  runner at angle p
//! ```

/// A point or direction in the side view (mm) or [–]: X, Z for what stands on the ground, u, w on the frame.
pub type Point = [f64; 2];

/// Where the frame point (u, w) stands at a tilt (rad).
#[must_use]
pub fn at_tilt([u, w]: Point, tilt_rad: f64) -> Point {
    let (sin, cos) = tilt_rad.sin_cos();
    [u * cos - w * sin, u * sin + w * cos]
}

fn distance(a: Point, b: Point) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

fn dot(a: Point, b: Point) -> f64 {
    a[0] * b[0] + a[1] * b[1]
}

/// The triangle of one stay.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Linkage {
    /// Hole row in the stay, fixed pin in the post.
    InStay {
        /// Frame pin A (u, w) (mm).
        frame_pin: Point,
        /// Fixed pin B (X, Z) (mm).
        fixed_pin: Point,
    },
    /// Hole row in the runner, stay of fixed length.
    InRunner {
        /// Frame pin A (u, w) (mm).
        frame_pin: Point,
        /// Foot of the hinge on the hole line (X, Z) (mm).
        row_origin: Point,
        /// Unit vector along the hole line, away from the hinge (X, Z).
        row_direction: Point,
        /// Stay, pin to pin (mm).
        stay_mm: f64,
    },
}

/// A tilt that no hole can hold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OutOfReach {
    /// Distance from the frame pin to the hole line at that tilt (mm).
    pub needed_mm: f64,
    /// Length of the stay (mm).
    pub stay_mm: f64,
}

impl Linkage {
    /// A hole row in the runner, from the builder's measures: runner at `slope_rad` to level, its hole line
    /// `hinge_above_mm` below the hinge, measured square to the runner.
    #[must_use]
    pub fn in_runner(frame_pin: Point, slope_rad: f64, hinge_above_mm: f64, stay_mm: f64) -> Self {
        let (sin, cos) = slope_rad.sin_cos();
        Self::InRunner {
            frame_pin,
            row_origin: [hinge_above_mm * sin, -hinge_above_mm * cos],
            row_direction: [cos, sin],
            stay_mm,
        }
    }

    /// The frame pin A (u, w) (mm).
    #[must_use]
    pub fn frame_pin(&self) -> Point {
        match *self {
            Self::InStay { frame_pin, .. } | Self::InRunner { frame_pin, .. } => frame_pin,
        }
    }

    /// Offset of the hole that holds a tilt (rad), from the stay's frame pin or from the foot of the hinge (mm).
    ///
    /// Of the two holes a runner offers, the one behind the frame pin is meant: from there the stay props.
    ///
    /// # Errors
    /// [`OutOfReach`] when the stay is shorter than the frame pin is high above the hole line.
    pub fn offset_mm(&self, tilt_rad: f64) -> Result<f64, OutOfReach> {
        match *self {
            Self::InStay { frame_pin, fixed_pin } => Ok(distance(at_tilt(frame_pin, tilt_rad), fixed_pin)),
            Self::InRunner { frame_pin, row_origin, row_direction, stay_mm } => {
                let pin = at_tilt(frame_pin, tilt_rad);
                let from_foot = [pin[0] - row_origin[0], pin[1] - row_origin[1]];
                let along = dot(from_foot, row_direction);
                let height = dot(from_foot, [-row_direction[1], row_direction[0]]);
                if stay_mm < height.abs() {
                    return Err(OutOfReach { needed_mm: height.abs(), stay_mm });
                }
                Ok(along + (stay_mm * stay_mm - height * height).sqrt())
            }
        }
    }

    /// The fixed end of the stay (X, Z) when the hole at `offset_mm` is used (mm).
    #[must_use]
    pub fn fixed_end(&self, offset_mm: f64) -> Point {
        match *self {
            Self::InStay { fixed_pin, .. } => fixed_pin,
            Self::InRunner { row_origin, row_direction, .. } => {
                [row_origin[0] + offset_mm * row_direction[0], row_origin[1] + offset_mm * row_direction[1]]
            }
        }
    }

    /// Stay, pin to pin, when the hole at `offset_mm` is used (mm).
    #[must_use]
    pub fn stay_mm(&self, offset_mm: f64) -> f64 {
        match *self {
            Self::InStay { .. } => offset_mm,
            Self::InRunner { stay_mm, .. } => stay_mm,
        }
    }

    /// The tilt (rad) that the hole at `offset_mm` really holds, the one next to `near_rad`; `None` when the stay
    /// cannot close the triangle.
    ///
    /// The frame pin lies on a circle round the axle and on a circle round the fixed end, so the triangle is solved
    /// exactly: cos(angle between OB and OA) = (OA² + OB² − s²) / (2 OA OB).
    #[must_use]
    pub fn reached_rad(&self, offset_mm: f64, near_rad: f64) -> Option<f64> {
        let [u, w] = self.frame_pin();
        let fixed = self.fixed_end(offset_mm);
        let stay = self.stay_mm(offset_mm);
        let (radius, reach) = (u.hypot(w), fixed[0].hypot(fixed[1]));
        let cos = (radius * radius + reach * reach - stay * stay) / (2.0 * radius * reach);
        // A stay at full stretch is exact in arithmetic only; a hair past it is still the stretched stay.
        const STRETCHED: f64 = 1.0 + 1e-12;
        if cos.is_nan() || cos.abs() > STRETCHED {
            return None;
        }
        let opening = cos.clamp(-1.0, 1.0).acos();
        let to_fixed = fixed[1].atan2(fixed[0]);
        let pin_angle = w.atan2(u);
        [to_fixed + opening, to_fixed - opening]
            .map(|direction| nearest_turn(direction - pin_angle, near_rad))
            .into_iter()
            .min_by(|a, b| (a - near_rad).abs().total_cmp(&(b - near_rad).abs()))
    }

    /// Lever arm of the stay about the axle or hinge at a tilt, as a share of the frame pin's radius (–).
    ///
    /// A small share means that the stay pushes nearly through the axle: small loads on the frame become large
    /// forces in stay and pins, and small errors of the hole become large errors of the tilt.
    #[must_use]
    pub fn lever_share(&self, tilt_rad: f64, offset_mm: f64) -> f64 {
        let pin = at_tilt(self.frame_pin(), tilt_rad);
        let fixed = self.fixed_end(offset_mm);
        let stay = distance(pin, fixed);
        let cross = pin[0] * (fixed[1] - pin[1]) - pin[1] * (fixed[0] - pin[0]);
        (cross / stay).abs() / pin[0].hypot(pin[1])
    }

    /// How far the tilt turns for one millimetre of error in the hole's place (deg/mm).
    #[must_use]
    pub fn degrees_per_mm(&self, offset_mm: f64, tilt_rad: f64) -> f64 {
        const STEP_MM: f64 = 1e-3;
        let side = |step: f64| self.reached_rad(offset_mm + step, tilt_rad);
        match (side(STEP_MM), side(-STEP_MM)) {
            (Some(more), Some(less)) => ((more - less) / (2.0 * STEP_MM)).to_degrees().abs(),
            // At full stretch only one side closes; the rate is without bound there.
            _ => f64::INFINITY,
        }
    }
}

fn nearest_turn(angle: f64, near: f64) -> f64 {
    use std::f64::consts::TAU;
    angle - ((angle - near) / TAU).round() * TAU
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hole_row_in_the_stay_stands_at_the_worked_offsets() {
        let linkage = Linkage::InStay { frame_pin: [-600.0, -45.0], fixed_pin: [0.0, -600.0] };
        for (tilt, r) in [(15.0, 695.35), (35.0, 514.60), (50.0, 368.46), (60.0, 267.37)] {
            let found = linkage.offset_mm(f64::to_radians(tilt)).expect("always reached");
            assert!((found - r).abs() < 0.01, "{tilt}: {found}");
        }
    }

    #[test]
    fn a_hole_row_in_the_runner_stands_at_the_worked_offsets() {
        let linkage = Linkage::in_runner([700.0, -45.0], 0.0, 70.0, 750.0);
        for (tilt, h) in [(15.0, 1408.46), (35.0, 1210.43), (50.0, 963.19), (60.0, 756.60)] {
            let found = linkage.offset_mm(f64::to_radians(tilt)).expect("reached");
            assert!((found - h).abs() < 0.01, "{tilt}: {found}");
        }
    }

    #[test]
    fn a_runner_turned_with_its_frame_keeps_its_holes() {
        let level = Linkage::in_runner([700.0, -45.0], 0.0, 70.0, 750.0);
        let sloped = Linkage::in_runner([700.0, -45.0], 0.3, 70.0, 750.0);
        let (a, b) = (level.offset_mm(0.5), sloped.offset_mm(0.8));
        assert!((a.expect("reached") - b.expect("reached")).abs() < 1e-9);
    }

    #[test]
    fn the_wrong_sign_of_the_offset_moves_the_hole_far() {
        let behind = Linkage::InStay { frame_pin: [-600.0, -45.0], fixed_pin: [0.0, -600.0] };
        let before = Linkage::InStay { frame_pin: [-600.0, 45.0], fixed_pin: [0.0, -600.0] };
        let tilt = 35f64.to_radians();
        let moved = before.offset_mm(tilt).expect("reached") - behind.offset_mm(tilt).expect("reached");
        assert!((moved.abs() - 80.0).abs() < 10.0, "{moved}");
    }
}
