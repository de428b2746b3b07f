//! A cross-section: what can be bought by the length, with its properties.

use super::source::Source;
use serde::Serialize;

/// Size class of sawn wood: it decides the table of design values.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum SawnClass {
    /// Nominal 2 to 4 in thick (NDS Supplement Tables 4A and 4B); 4x4 and 4x6 belong here.
    Dimension,
    /// 5 in and thicker, width at most 2 in above the thickness (Table 4D).
    PostsAndTimbers,
    /// 5 in and thicker, wider than that (Table 4D).
    BeamsAndStringers,
}

/// Moisture state in which the size was surfaced.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Seasoning {
    /// At most 19 % moisture when surfaced.
    Dry,
    /// Above 19 % moisture when surfaced.
    Green,
    /// European finished size, referred to 20 % moisture (EN 336).
    Reference20,
}

/// Form of a cross-section, with what only that form has.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case", tag = "form")]
pub enum Shape {
    /// Rectangle of sawn wood.
    Sawn {
        /// Size class.
        class: SawnClass,
        /// Nominal thickness and width (in); none for European sizes, which have no nominal size of that kind.
        nominal_in: Option<[f64; 2]>,
        /// Moisture state of the size.
        seasoning: Seasoning,
    },
    /// Equal-leg angle.
    Angle,
    /// Square tube; `corners_round` for hot-formed or cold-formed steel tube, false for sharp extrusions.
    SquareTube {
        /// Outside corner radius of twice the wall (the convention of the steel tables), else sharp.
        corners_round: bool,
    },
    /// Rectangular tube.
    RectTube {
        /// Outside corner radius of twice the wall (the convention of the steel tables), else sharp.
        corners_round: bool,
    },
    /// Round pipe or tube.
    Pipe,
    /// Channel with sloping flanges.
    Channel {
        /// Mean thickness of the flanges (mm).
        flange_mm: f64,
        /// Shear centre beyond the web back (mm).
        shear_centre_mm: f64,
        /// Warping constant (mm⁶).
        warping_mm6: f64,
        /// Flat depth of the web over its thickness (–).
        web_slenderness: f64,
    },
    /// Flat bar.
    Bar,
}

/// What a section is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Family {
    /// Sawn lumber and timbers.
    Wood,
    /// Structural steel.
    Steel,
    /// Aluminium extrusions.
    Aluminium,
}

/// A cross-section with its properties about the geometric axes.
///
/// ```text
///        y                 x–x is the strong geometric axis: bending about it works over `depth_mm`.
///        │                 For an equal angle x–x and y–y are alike and parallel to the legs; its weak
///   ┌────┼────┐            axis is the minor principal one, see `r_z_mm`.
///   │    │    │
/// x─┼────┼────┼─x  depth
///   │    │    │
///   └────┼────┘
///      width
/// ```
///
/// # Units
/// Everything in millimetres and powers of it; mass in kg/m.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Section {
    /// Trade name: `2x4`, `L2x2x1/4`, `Pipe 2 STD`.
    pub name: String,
    /// Form.
    pub shape: Shape,
    /// Material.
    pub family: Family,
    /// Larger outside size (mm).
    pub depth_mm: f64,
    /// Smaller outside size (mm).
    pub width_mm: f64,
    /// Design thickness of the wall, leg, web or bar; of wood the whole width (mm).
    pub wall_mm: f64,
    /// Area (mm²).
    pub area_mm2: f64,
    /// Second moment about the strong geometric axis (mm⁴).
    pub i_x_mm4: f64,
    /// Second moment about the other geometric axis (mm⁴).
    pub i_y_mm4: f64,
    /// Elastic modulus about the strong axis (mm³).
    pub s_x_mm3: f64,
    /// Elastic modulus about the weak axis (mm³).
    pub s_y_mm3: f64,
    /// Plastic modulus about the strong axis (mm³).
    pub z_x_mm3: f64,
    /// Plastic modulus about the weak axis (mm³).
    pub z_y_mm3: f64,
    /// Least radius of gyration; of an angle about its minor principal axis (mm).
    pub r_z_mm: f64,
    /// Torsion constant (mm⁴).
    pub j_mm4: f64,
    /// Centroid behind the back of the leg (angle) or of the web (channel) (mm).
    pub centroid_mm: Option<f64>,
    /// Mass per metre (kg/m); none for wood, whose mass hangs on species and moisture (see `species::density`).
    pub mass_kg_per_m: Option<f64>,
    /// Where the figures come from.
    pub source: Source,
}

impl Section {
    /// Radius of gyration about the strong geometric axis (mm).
    #[must_use]
    pub fn r_x_mm(&self) -> f64 {
        (self.i_x_mm4 / self.area_mm2).sqrt()
    }

    /// Radius of gyration about the weak geometric axis (mm).
    #[must_use]
    pub fn r_y_mm(&self) -> f64 {
        (self.i_y_mm4 / self.area_mm2).sqrt()
    }

    /// Second moments about the minor and the major principal axis (mm⁴).
    #[must_use]
    pub fn principal_mm4(&self) -> [f64; 2] {
        match self.shape {
            Shape::Angle => {
                let minor = self.area_mm2 * self.r_z_mm.powi(2);
                [minor, self.i_x_mm4 + self.i_y_mm4 - minor]
            }
            _ => [self.i_y_mm4.min(self.i_x_mm4), self.i_y_mm4.max(self.i_x_mm4)],
        }
    }

    /// Is it an angle or a channel, bolted through one leg or through its web?
    #[must_use]
    pub fn is_open(&self) -> bool {
        matches!(self.shape, Shape::Angle | Shape::Channel { .. })
    }

    /// Is it a tube or pipe, so that a bolt across it passes two walls?
    #[must_use]
    pub fn is_hollow(&self) -> bool {
        matches!(self.shape, Shape::SquareTube { .. } | Shape::RectTube { .. } | Shape::Pipe)
    }

    /// What a bolt across the width holds between head and nut: the whole width, of an angle or channel one wall (mm).
    #[must_use]
    pub fn ply_mm(&self) -> f64 {
        if self.is_open() { self.wall_mm } else { self.width_mm }
    }

    /// Centroid from the gauge face over the depth, and from the back of leg or web over the width (mm). An angle is
    /// gauged from its heel.
    #[must_use]
    pub fn centroid_at_mm(&self) -> [f64; 2] {
        match (self.shape, self.centroid_mm) {
            (Shape::Angle, Some(c)) => [c, c],
            (Shape::Channel { .. }, Some(c)) => [self.depth_mm / 2.0, c],
            _ => [self.depth_mm / 2.0, self.width_mm / 2.0],
        }
    }

    /// Size class, for wood.
    #[must_use]
    pub fn sawn_class(&self) -> Option<SawnClass> {
        match self.shape {
            Shape::Sawn { class, .. } => Some(class),
            _ => None,
        }
    }
}

/// Torsion constant of a solid rectangle, in the power of the unit given.
///
/// ```text
/// J = a b³ (1/3 − 0.21 (b/a) (1 − b⁴/(12 a⁴)))      a ≥ b, full sides
/// ```
///
/// # Source
/// Roark, *Formulas for Stress and Strain* (table number from memory); within 0.2 % of the exact series.
#[must_use]
pub fn rectangle_torsion(side: f64, other: f64) -> f64 {
    let (a, b) = (side.max(other), side.min(other));
    a * b.powi(3) * (1.0 / 3.0 - 0.21 * (b / a) * (1.0 - b.powi(4) / (12.0 * a.powi(4))))
}

/// Properties of a rectangle `width` wide and `depth` deep (depth the larger) (mm).
pub(super) fn rectangle(
    name: String,
    shape: Shape,
    family: Family,
    [width, depth]: [f64; 2],
    source: Source,
) -> Section {
    let area = width * depth;
    Section {
        name,
        shape,
        family,
        depth_mm: depth,
        width_mm: width,
        wall_mm: width,
        area_mm2: area,
        i_x_mm4: width * depth.powi(3) / 12.0,
        i_y_mm4: depth * width.powi(3) / 12.0,
        s_x_mm3: width * depth.powi(2) / 6.0,
        s_y_mm3: depth * width.powi(2) / 6.0,
        z_x_mm3: width * depth.powi(2) / 4.0,
        z_y_mm3: depth * width.powi(2) / 4.0,
        r_z_mm: width / 12_f64.sqrt(),
        j_mm4: rectangle_torsion(width, depth),
        centroid_mm: None,
        mass_kg_per_m: None,
        source,
    }
}
