//! Three-component vectors and the local axes of a member.

use super::model::Orientation;
pub(super) use crate::quantities::vector::{cross, dot, length, minus, plus, scaled};

pub(super) type Vector = [f64; 3];
/// Rows are the local axes x, y, z in global components, so `local = axes · global`.
pub(super) type Axes = [Vector; 3];

pub(super) const GLOBAL: Axes = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]];

/// A member counts as vertical when its axis leaves Z by less than this sine.
const VERTICAL: f64 = 1e-9;

/// Global components to local ones.
pub(super) fn into(axes: &Axes, v: Vector) -> Vector {
    [dot(axes[0], v), dot(axes[1], v), dot(axes[2], v)]
}

/// Local components to global ones.
pub(super) fn out_of(axes: &Axes, v: Vector) -> Vector {
    plus(plus(scaled(axes[0], v[0]), scaled(axes[1], v[1])), scaled(axes[2], v[2]))
}

/// Local axes of a member whose unit axis is `x`; `None` when the given cross-section axis runs along it.
pub(super) fn of_member(x: Vector, orientation: Orientation) -> Option<Axes> {
    match orientation {
        Orientation::Roll(roll_deg) => Some(rolled(x, roll_deg)),
        Orientation::YAxis(y) => {
            let z = unit(cross(x, y))?;
            Some([x, cross(z, x), z])
        }
        Orientation::ZAxis(z) => {
            let y = unit(cross(z, x))?;
            Some([x, y, cross(x, y)])
        }
    }
}

fn rolled(x: Vector, roll_deg: f64) -> Axes {
    let level = [-x[1], x[0], 0.0];
    let y = if length(level) < VERTICAL { [0.0, 1.0, 0.0] } else { scaled(level, 1.0 / length(level)) };
    let z = cross(x, y);
    let (sin, cos) = roll_deg.to_radians().sin_cos();
    [x, plus(scaled(y, cos), scaled(z, sin)), plus(scaled(y, -sin), scaled(z, cos))]
}

fn unit(v: Vector) -> Option<Vector> {
    let size = length(v);
    (size > 1e-9).then(|| scaled(v, 1.0 / size))
}

/// Whether the rows are perpendicular unit vectors that follow the right hand.
pub(super) fn are_square(axes: &Axes) -> bool {
    let off = |a: f64| a.abs() > 1e-6;
    !(off(length(axes[0]) - 1.0)
        || off(length(axes[1]) - 1.0)
        || off(dot(axes[0], axes[1]))
        || off(length(minus(cross(axes[0], axes[1]), axes[2]))))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(a: Vector, b: Vector) -> bool {
        length(minus(a, b)) < 1e-12
    }

    #[test]
    fn a_level_member_has_z_up_and_y_level() {
        let [_, y, z] = rolled([1.0, 0.0, 0.0], 0.0);
        assert!(near(y, [0.0, 1.0, 0.0]) && near(z, [0.0, 0.0, 1.0]));
    }

    #[test]
    fn a_post_has_y_along_global_y() {
        let [_, y, z] = rolled([0.0, 0.0, 1.0], 0.0);
        assert!(near(y, [0.0, 1.0, 0.0]) && near(z, [-1.0, 0.0, 0.0]));
    }

    #[test]
    fn roll_turns_y_towards_z() {
        let [_, y, _] = rolled([1.0, 0.0, 0.0], 90.0);
        assert!(near(y, [0.0, 0.0, 1.0]));
    }

    #[test]
    fn both_ways_of_giving_an_axis_agree_with_the_roll() {
        let x = [0.6, 0.0, 0.8];
        let by_roll = rolled(x, 25.0);
        for other in [Orientation::YAxis(by_roll[1]), Orientation::ZAxis(by_roll[2])] {
            let axes = of_member(x, other).expect("the axis is square to the member");
            assert!((0..3).all(|k| near(axes[k], by_roll[k])));
        }
    }
}
