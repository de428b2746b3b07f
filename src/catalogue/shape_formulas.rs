//! Properties of thin shapes from their outside sizes; in any unit of length.

/// What the formulas give, in powers of the unit that went in.
#[derive(Debug, Clone, Copy)]
pub(super) struct Properties {
    pub(super) area: f64,
    pub(super) i_x: f64,
    pub(super) i_y: f64,
    pub(super) z_x: f64,
    pub(super) z_y: f64,
    pub(super) r_z: f64,
    /// Centroid from the back of the leg, angles only.
    pub(super) centroid: f64,
    /// Torsion constant: thin closed wall for tubes, open wall for angles; the printed steel tubes are tested against it.
    #[cfg_attr(not(test), expect(dead_code, reason = "steel tubes carry printed values, aluminium the EN form"))]
    pub(super) j_bredt: f64,
    /// Torsion constant with the open-wall term added (EN 10210-2); the same as `j_bredt` for angles.
    pub(super) j_en: f64,
}

/// Rectangle with four corners rounded off by radius `r`: area, second moment and half plastic modulus about mid depth.
fn rounded(width: f64, depth: f64, r: f64) -> [f64; 3] {
    let full = [width * depth, width * depth.powi(3) / 12.0, width * depth.powi(2) / 4.0];
    if r <= 0.0 {
        return full;
    }
    // One corner: what a quarter circle leaves of the square r × r, and its centroid from the edge.
    let quarter = std::f64::consts::PI / 4.0;
    let a = (1.0 - quarter) * r.powi(2);
    let c = (r.powi(3) / 2.0 - quarter * r.powi(2) * (r - 4.0 * r / (3.0 * std::f64::consts::PI))) / a;
    // Second moment of a square corner about the edge less that of the quarter circle, moved to the corner's centroid.
    let quarter_about_centre = std::f64::consts::PI * r.powi(4) / 16.0;
    let to_circle = 4.0 * r / (3.0 * std::f64::consts::PI);
    let quarter_own = quarter_about_centre - quarter * r.powi(2) * to_circle.powi(2);
    let about_edge = r.powi(4) / 3.0 - (quarter_own + quarter * r.powi(2) * (r - to_circle).powi(2));
    let own = about_edge - a * c.powi(2);
    let arm = depth / 2.0 - c;
    [full[0] - 4.0 * a, full[1] - 4.0 * (own + a * arm.powi(2)), full[2] - 4.0 * a * arm]
}

/// Square or rectangular tube, corners sharp or rounded with 2 t outside and t inside.
///
/// # Source
/// Outer less inner rectangle; torsion by Bredt, J = 4 A_m² t / p, and by EN 10210-2, J = t³ p/3 + 2 K A_m with
/// K = 2 A_m t / p. The round-corner convention reproduces the printed AISC tubes.
pub(super) fn tube(depth: f64, width: f64, t: f64, corners_round: bool) -> Properties {
    let (outer, inner) = if corners_round { (2.0 * t, t) } else { (0.0, 0.0) };
    let about = |d: f64, w: f64| {
        let (o, i) = (rounded(w, d, outer), rounded(w - 2.0 * t, d - 2.0 * t, inner));
        [o[0] - i[0], o[1] - i[1], o[2] - i[2]]
    };
    let (x, y) = (about(depth, width), about(width, depth));
    let r_mid = if corners_round { 1.5 * t } else { 0.0 };
    let corner = 4.0 - std::f64::consts::PI;
    let path = 2.0 * ((depth - t) + (width - t)) - 2.0 * r_mid * corner;
    let enclosed = (depth - t) * (width - t) - r_mid.powi(2) * corner;
    let j_bredt = 4.0 * enclosed.powi(2) * t / path;
    let (area, i_x, i_y) = (x[0], x[1], y[1]);
    let j_en = t.powi(3) * path / 3.0 + j_bredt;
    Properties { area, i_x, i_y, z_x: x[2], z_y: y[2], r_z: (i_y / area).sqrt(), centroid: 0.0, j_bredt, j_en }
}

/// Round tube of outside diameter `od`: what the printed pipes are tested against.
#[cfg(test)]
pub(super) fn ring(od: f64, t: f64) -> Properties {
    let id = od - 2.0 * t;
    let area = std::f64::consts::PI / 4.0 * (od.powi(2) - id.powi(2));
    let i = std::f64::consts::PI / 64.0 * (od.powi(4) - id.powi(4));
    let z = (od.powi(3) - id.powi(3)) / 6.0;
    let j = 2.0 * i;
    Properties { area, i_x: i, i_y: i, z_x: z, z_y: z, r_z: (i / area).sqrt(), centroid: 0.0, j_bredt: j, j_en: j }
}

/// Equal angle with sharp corners, leg `b`, thickness `t`.
pub(super) fn angle(b: f64, t: f64) -> Properties {
    let area = t * (2.0 * b - t);
    let y = (b * b * t / 2.0 + (b - t) * t * t / 2.0) / area;
    let i = t * b.powi(3) / 12.0
        + b * t * (b / 2.0 - y).powi(2)
        + (b - t) * t.powi(3) / 12.0
        + (b - t) * t * (t / 2.0 - y).powi(2);
    let product = b * t * (t / 2.0 - y) * (b / 2.0 - y) + (b - t) * t * ((b + t) / 2.0 - y) * (t / 2.0 - y);
    let minor = i - product.abs();
    // Plastic axis parallel to a leg: half the area lies on each side. With A/2 ≤ b t it cuts the flat leg.
    let plastic = area / (2.0 * b);
    let z = b * plastic.powi(2) / 2.0 + b * (t - plastic).powi(2) / 2.0 + (b - t) * t * ((b + t) / 2.0 - plastic);
    let j = t.powi(3) * (2.0 * b - t) / 3.0;
    Properties { area, i_x: i, i_y: i, z_x: z, z_y: z, r_z: (minor / area).sqrt(), centroid: y, j_bredt: j, j_en: j }
}
