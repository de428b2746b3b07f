//! Load cases on the panel surface: pressures over the slope and across the width, with their state and sources.

use super::{state::RangeState, surface::Surface};
use crate::catalogue::Source;
use serde::Serialize;

/// What kind of load a case is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Action {
    /// Self weight.
    Dead,
    /// Snow, at the level of its own edition.
    Snow,
    /// Wind, strength level (ASCE 7) or characteristic (EN 1991).
    Wind,
    /// People and work on the frame.
    Handling,
}

/// How a pressure is spread across the width.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Across {
    /// The same everywhere.
    Even,
    /// Linear, with the resultant moved by this share of the width; positive to the right.
    ///
    /// The pressure is multiplied by `1 + 12·e·(x − 1/2)`: same total, resultant at `1/2 + e`.
    Leaning(f64),
    /// Strips from left to right; outside every strip the pressure is zero.
    Strips(Vec<Strip>),
}

/// One strip of the width.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Strip {
    /// Left border, share of the width.
    pub from: f64,
    /// Right border, share of the width.
    pub to: f64,
    /// Share of the case's pressure that acts here.
    pub share: f64,
}

/// Pressures on the surface.
///
/// `normal_pa` presses on the top face when positive (towards `−w`, down on a flat panel) and lifts when negative.
/// `up_slope_pa` acts along the surface, positive towards the high edge. Both are given for the lower half of the
/// slope (`u` below 1/2) and for the upper half, in that order, per unit of sloping area \[Pa\].
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SurfaceLoad {
    /// Normal pressure on the lower half, on the upper half \[Pa\].
    pub normal_pa: [f64; 2],
    /// Traction up the slope on the lower half, on the upper half \[Pa\].
    pub up_slope_pa: [f64; 2],
    /// Spread across the width.
    pub across: Across,
}

/// Resultant of a surface load on the surface or a part of it.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize)]
pub struct Resultant {
    /// Force pressing on the top face \[N\].
    pub normal_n: f64,
    /// Force up the slope \[N\].
    pub up_slope_n: f64,
    /// First moment of the normal force about the low edge, `∫ p·u·slope dA` (N·mm).
    pub normal_about_low_edge_nmm: f64,
    /// First moment of the normal force about the left end, `∫ p·x·width dA` (N·mm).
    pub normal_about_left_nmm: f64,
}

impl SurfaceLoad {
    /// An even pressure normal to the surface.
    #[must_use]
    pub fn normal(lower_pa: f64, upper_pa: f64) -> Self {
        Self { normal_pa: [lower_pa, upper_pa], up_slope_pa: [0.0, 0.0], across: Across::Even }
    }

    /// A vertical load given per unit of *plan* area, positive downwards: its normal and its sliding part.
    #[must_use]
    pub fn vertical_on_plan(lower_pa: f64, upper_pa: f64, tilt_deg: f64) -> Self {
        let (sin, cos) = tilt_deg.to_radians().sin_cos();
        let each = |p: f64, part: f64| p * cos * part;
        Self {
            normal_pa: [each(lower_pa, cos), each(upper_pa, cos)],
            up_slope_pa: [each(lower_pa, -sin), each(upper_pa, -sin)],
            across: Across::Even,
        }
    }

    /// A horizontal load given per unit of area projected on a vertical plane, positive from the low edge towards
    /// the high edge.
    #[must_use]
    pub fn horizontal_on_elevation(pressure_pa: f64, tilt_deg: f64) -> Self {
        let (sin, cos) = tilt_deg.to_radians().sin_cos();
        // One unit of sloping area shows `sin` to the wind; horizontal = sin·(into the face) + cos·(up the slope).
        let (normal, along) = (pressure_pa * sin * sin, pressure_pa * sin * cos);
        Self { normal_pa: [normal; 2], up_slope_pa: [along; 2], across: Across::Even }
    }

    /// The same load spread otherwise across the width.
    #[must_use]
    pub fn across(mut self, across: Across) -> Self {
        self.across = across;
        self
    }

    /// Resultant on the patch from `u[0]` to `u[1]` and `x[0]` to `x[1]`, all shares from 0 to 1. Exact.
    #[must_use]
    pub fn resultant_on(&self, surface: &Surface, u: [f64; 2], x: [f64; 2]) -> Resultant {
        let (share, share_x) = self.across.integrals(x[0], x[1]);
        let mut sum = Resultant::default();
        for (half, [from, to]) in [[0.0, 0.5], [0.5, 1.0]].into_iter().enumerate() {
            let (from, to) = (u[0].max(from), u[1].min(to));
            if to <= from {
                continue;
            }
            let area = surface.area_mm2() * 1e-6 * (to - from);
            let normal = self.normal_pa[half] * area;
            sum.normal_n += normal * share;
            sum.up_slope_n += self.up_slope_pa[half] * area * share;
            sum.normal_about_low_edge_nmm += normal * share * surface.slope_mm * (from + to) / 2.0;
            sum.normal_about_left_nmm += normal * share_x * surface.width_mm;
        }
        sum
    }

    /// Resultant on the whole surface.
    #[must_use]
    pub fn resultant(&self, surface: &Surface) -> Resultant {
        self.resultant_on(surface, [0.0, 1.0], [0.0, 1.0])
    }
}

impl Across {
    /// Share of the case's pressure at `x`, from 0 at the left to 1 at the right.
    #[must_use]
    pub fn share_at(&self, x: f64) -> f64 {
        match self {
            Self::Even => 1.0,
            Self::Leaning(e) => 1.0 + 12.0 * e * (x - 0.5),
            Self::Strips(strips) => strips
                .iter()
                .find(|s| (s.from..s.to).contains(&x) || (x >= 1.0 && s.to >= 1.0))
                .map_or(0.0, |s| s.share),
        }
    }

    /// `∫ share dx` and `∫ share·x dx` from `a` to `b`.
    fn integrals(&self, a: f64, b: f64) -> (f64, f64) {
        let even = |a: f64, b: f64| (b - a, (b * b - a * a) / 2.0);
        match self {
            Self::Even => even(a, b),
            Self::Leaning(e) => {
                let (zeroth, first) = even(a, b);
                let second = (b.powi(3) - a.powi(3)) / 3.0;
                (zeroth + 12.0 * e * (first - zeroth / 2.0), first + 12.0 * e * (second - first / 2.0))
            }
            Self::Strips(strips) => strips.iter().fold((0.0, 0.0), |sum, s| {
                let (from, to) = (a.max(s.from), b.min(s.to));
                let part = if to > from { even(from, to) } else { (0.0, 0.0) };
                (sum.0 + s.share * part.0, sum.1 + s.share * part.1)
            }),
        }
    }

    /// The same spread seen from the other end.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        match self {
            Self::Even => Self::Even,
            Self::Leaning(e) => Self::Leaning(-e),
            Self::Strips(strips) => Self::Strips(
                strips.iter().rev().map(|s| Strip { from: 1.0 - s.to, to: 1.0 - s.from, share: s.share }).collect(),
            ),
        }
    }
}

/// Where the wind comes from, seen by someone standing before the low edge and looking at the face.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum WindFrom {
    /// Over the low edge, onto the face; it blows towards the high edge (+X).
    Front,
    /// Over the high edge, onto the back; it blows towards the low edge (−X).
    Back,
    /// From the left end, along the low edge.
    Left,
    /// From the right end, along the low edge.
    Right,
}

/// A force at a point of the surface.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct PointLoad {
    /// Place up the slope, 0 at the low edge, 1 at the high edge.
    pub u: f64,
    /// Place across, 0 at the left, 1 at the right.
    pub x: f64,
    /// Onto the face, positive as pressures are \[N\].
    pub normal_n: f64,
    /// Up the slope \[N\].
    pub up_slope_n: f64,
    /// To the right \[N\].
    pub across_n: f64,
}

/// Wind on members that no panel covers, level and in the direction of the wind, per unit of the area they show to it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct BareWind {
    /// On members with flat sides \[Pa\].
    pub flat_pa: f64,
    /// On round members \[Pa\].
    pub round_pa: f64,
}

/// The forces of a case.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Load {
    /// Pressures on the panel surface.
    Surface(SurfaceLoad),
    /// One force at a point of it.
    Point(PointLoad),
    /// Wind on the bare members, no panels on.
    Bare(BareWind),
}

/// One load case.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Case {
    /// Short name used in combinations: `wind-back-clear-b`.
    pub id: String,
    /// The case in words.
    pub name: String,
    /// Kind of load.
    pub action: Action,
    /// Where a wind case comes from: members outside the panels take wind from there too.
    pub wind_from: Option<WindFrom>,
    /// How far it may be trusted; never refused (refused rows carry no load and stand in their own list).
    pub state: RangeState,
    /// Where its values come from.
    pub sources: Vec<Source>,
    /// The forces.
    pub load: Load,
}

impl Case {
    /// The pressures on the surface, if it is such a case.
    #[must_use]
    pub fn surface(&self) -> Option<&SurfaceLoad> {
        match &self.load {
            Load::Surface(load) => Some(load),
            _ => None,
        }
    }

    /// The force at a point, if it is such a case.
    #[must_use]
    pub fn point(&self) -> Option<&PointLoad> {
        match &self.load {
            Load::Point(load) => Some(load),
            _ => None,
        }
    }
}

/// A row for which no load is given.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Refusal {
    /// Short name of the row.
    pub id: String,
    /// What was asked, in words.
    pub name: String,
    /// Why there is no value.
    pub why: String,
    /// What can be done.
    pub way_out: String,
}
