//! Aluminium extrusions with sharp corners: equal angles and tubes.

use super::{
    section::{Family, Section, Shape},
    shape_formulas::{self, Properties},
    source::{Certainty, Source},
};
use crate::quantities::MM_PER_INCH;

/// Sharp-corner formulas; the torsion constant of tubes by EN 10210-2, 2 to 3 % below a finite-element run.
pub const SHARP_CORNERS: Source =
    Source::new("sharp-corner formulas", "EN 10210-2 torsion for tubes", Certainty::Derived);

/// Density, 0.098 lb/in³ (6061; from memory, unverified).
const KG_PER_MM3: f64 = 2.712_6e-6;

/// Leg and thickness (in).
const ANGLES: [(&str, [f64; 2]); 4] = [
    ("aluminium L1.5x1.5x0.125", [1.5, 0.125]),
    ("aluminium L2x2x0.125", [2.0, 0.125]),
    ("aluminium L2x2x0.25", [2.0, 0.25]),
    ("aluminium L3x3x0.25", [3.0, 0.25]),
];

/// Depth, width and wall (in).
const TUBES: [(&str, [f64; 3]); 6] = [
    ("aluminium tube 1.5x1.5x0.125", [1.5, 1.5, 0.125]),
    ("aluminium tube 2x2x0.125", [2.0, 2.0, 0.125]),
    ("aluminium tube 2x2x0.25", [2.0, 2.0, 0.25]),
    ("aluminium tube 3x3x0.125", [3.0, 3.0, 0.125]),
    ("aluminium tube 3x1.5x0.125", [3.0, 1.5, 0.125]),
    ("aluminium tube 4x2x0.125", [4.0, 2.0, 0.125]),
];

fn extrusion(name: &str, shape: Shape, [depth, width, wall]: [f64; 3], f: Properties) -> Section {
    let (far_x, far_y) = match shape {
        Shape::Angle => (depth - f.centroid, depth - f.centroid),
        _ => (depth / 2.0, width / 2.0),
    };
    Section {
        name: name.to_string(),
        shape,
        family: Family::Aluminium,
        depth_mm: depth,
        width_mm: width,
        wall_mm: wall,
        area_mm2: f.area,
        i_x_mm4: f.i_x,
        i_y_mm4: f.i_y,
        s_x_mm3: f.i_x / far_x,
        s_y_mm3: f.i_y / far_y,
        z_x_mm3: f.z_x,
        z_y_mm3: f.z_y,
        r_z_mm: f.r_z,
        j_mm4: f.j_en,
        centroid_mm: (shape == Shape::Angle).then_some(f.centroid),
        mass_kg_per_m: Some(f.area * 1000.0 * KG_PER_MM3),
        source: SHARP_CORNERS,
    }
}

pub(super) fn build() -> Vec<Section> {
    let angles = ANGLES.into_iter().map(|(name, sizes)| {
        let [leg, t] = sizes.map(|side| side * MM_PER_INCH);
        extrusion(name, Shape::Angle, [leg, leg, t], shape_formulas::angle(leg, t))
    });
    let tubes = TUBES.into_iter().map(|(name, sizes)| {
        let [depth, width, t] = sizes.map(|side| side * MM_PER_INCH);
        let corners_round = false;
        let shape =
            if depth == width { Shape::SquareTube { corners_round } } else { Shape::RectTube { corners_round } };
        extrusion(name, shape, [depth, width, t], shape_formulas::tube(depth, width, t, corners_round))
    });
    angles.chain(tubes).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn extrusions_agree_with_an_independent_computation() {
        // A, I_x, S_x, Z_x, I_y, r_min, J [in], lb/ft.
        let rows: [[f64; 8]; 10] = [
            [0.3594, 0.0778, 0.0721, 0.1298, 0.0778, 0.2962, 0.00187, 0.423],
            [0.4844, 0.1900, 0.1307, 0.2353, 0.1900, 0.3975, 0.00252, 0.570],
            [0.9375, 0.3476, 0.2468, 0.4448, 0.3476, 0.3911, 0.01953, 1.103],
            [1.4375, 1.2442, 0.5767, 1.0387, 1.2442, 0.5924, 0.02995, 1.691],
            [0.6875, 0.2184, 0.2912, 0.3555, 0.2184, 0.5637, 0.3285, 0.808],
            [0.9375, 0.5518, 0.5518, 0.6602, 0.5518, 0.7672, 0.8289, 1.103],
            [1.7500, 0.9115, 0.9115, 1.1562, 0.9115, 0.7217, 1.3763, 2.058],
            [1.4375, 1.9840, 1.3227, 1.5508, 1.9840, 1.1748, 2.9779, 1.691],
            [1.0625, 1.2087, 0.8058, 1.0117, 0.3962, 0.6106, 0.9248, 1.250],
            [1.4375, 2.9762, 1.4881, 1.8477, 0.9919, 0.8307, 2.3027, 1.691],
        ];
        for (s, row) in build().iter().zip(rows) {
            let mass_lb_ft = s.mass_kg_per_m.expect("metal") / 1.488_164;
            for (value, power, printed) in [
                (s.area_mm2, 2, row[0]),
                (s.i_x_mm4, 4, row[1]),
                (s.s_x_mm3, 3, row[2]),
                (s.z_x_mm3, 3, row[3]),
                (s.i_y_mm4, 4, row[4]),
                (s.r_z_mm, 1, row[5]),
                (s.j_mm4, 4, row[6]),
                (mass_lb_ft, 0, row[7]),
            ] {
                let got = value / MM_PER_INCH.powi(power);
                assert!((got / printed - 1.0).abs() < 0.003, "{}: {got} against {printed}", s.name);
            }
        }
    }
}
