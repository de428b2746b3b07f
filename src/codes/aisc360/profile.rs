//! A steel section in inches, as the equations want it.

use crate::{
    catalogue::{Section, Shape},
    quantities::MM_PER_INCH,
};

/// Form of a steel section.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Form {
    /// Equal-leg angle.
    Angle,
    /// Square tube.
    SquareTube,
    /// Rectangular tube.
    RectTube,
    /// Round pipe.
    Pipe,
    /// Channel: flange thickness (in), warping constant (in⁶), flat web slenderness.
    Channel {
        /// Flange thickness (in).
        flange_in: f64,
        /// Warping constant (in⁶).
        warping_in6: f64,
        /// Flat web depth over thickness.
        web_slenderness: f64,
    },
    /// Flat bar.
    Bar,
}

/// Properties in inches.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Profile {
    /// Form.
    pub form: Form,
    /// Larger outside size H, diameter D or leg (in).
    pub depth_in: f64,
    /// Smaller outside size B (in).
    pub width_in: f64,
    /// Design wall t (in).
    pub wall_in: f64,
    /// Area (in²).
    pub area_in2: f64,
    /// Second moment about x (in⁴).
    pub i_x_in4: f64,
    /// Second moment about y (in⁴).
    pub i_y_in4: f64,
    /// Elastic modulus about x (in³).
    pub s_x_in3: f64,
    /// Elastic modulus about y (in³).
    pub s_y_in3: f64,
    /// Plastic modulus about x (in³).
    pub z_x_in3: f64,
    /// Plastic modulus about y (in³).
    pub z_y_in3: f64,
    /// Least radius of gyration (in).
    pub r_min_in: f64,
    /// Torsion constant (in⁴).
    pub j_in4: f64,
    /// Centroid behind the back of leg or web (in).
    pub centroid_in: f64,
}

impl Profile {
    /// A section of the catalogue; none for wood.
    #[must_use]
    pub fn of(section: &Section) -> Option<Self> {
        let inch = |value: f64, power: i32| value / MM_PER_INCH.powi(power);
        let form = match section.shape {
            Shape::Sawn { .. } => return None,
            Shape::Angle => Form::Angle,
            Shape::SquareTube { .. } => Form::SquareTube,
            Shape::RectTube { .. } => Form::RectTube,
            Shape::Pipe => Form::Pipe,
            Shape::Bar => Form::Bar,
            Shape::Channel { flange_mm, warping_mm6, web_slenderness, .. } => {
                Form::Channel { flange_in: inch(flange_mm, 1), warping_in6: inch(warping_mm6, 6), web_slenderness }
            }
        };
        Some(Self {
            form,
            depth_in: inch(section.depth_mm, 1),
            width_in: inch(section.width_mm, 1),
            wall_in: inch(section.wall_mm, 1),
            area_in2: inch(section.area_mm2, 2),
            i_x_in4: inch(section.i_x_mm4, 4),
            i_y_in4: inch(section.i_y_mm4, 4),
            s_x_in3: inch(section.s_x_mm3, 3),
            s_y_in3: inch(section.s_y_mm3, 3),
            z_x_in3: inch(section.z_x_mm3, 3),
            z_y_in3: inch(section.z_y_mm3, 3),
            r_min_in: inch(section.r_z_mm, 1),
            j_in4: inch(section.j_mm4, 4),
            centroid_in: inch(section.centroid_mm.unwrap_or_default(), 1),
        })
    }

    /// Radius of gyration about x (in).
    #[must_use]
    pub fn r_x_in(&self) -> f64 {
        (self.i_x_in4 / self.area_in2).sqrt()
    }

    /// Radius of gyration about y (in).
    #[must_use]
    pub fn r_y_in(&self) -> f64 {
        (self.i_y_in4 / self.area_in2).sqrt()
    }

    /// Flat depth over wall of a tube: (H − 3t)/t.
    #[must_use]
    pub fn h_over_t(&self) -> f64 {
        (self.depth_in - 3.0 * self.wall_in) / self.wall_in
    }

    /// Flat width over wall of a tube: (B − 3t)/t.
    #[must_use]
    pub fn b_over_t(&self) -> f64 {
        (self.width_in - 3.0 * self.wall_in) / self.wall_in
    }

    /// The same profile turned by a quarter: what bends about y bends about x.
    #[must_use]
    pub fn turned(&self) -> Self {
        Self {
            depth_in: self.width_in,
            width_in: self.depth_in,
            i_x_in4: self.i_y_in4,
            i_y_in4: self.i_x_in4,
            s_x_in3: self.s_y_in3,
            s_y_in3: self.s_x_in3,
            z_x_in3: self.z_y_in3,
            z_y_in3: self.z_x_in3,
            ..*self
        }
    }
}
