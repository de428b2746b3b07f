//! What a code is asked of a member, in N and mm.

use super::{Calc, Refusal, ibc::below_grade, nds::Bound};
use crate::{
    catalogue::{Certainty, Source, Trace},
    loads::Duration,
    quantities::{MM_PER_FT, MM_PER_INCH, N_PER_LBF, PA_PER_PSF},
};

/// Pounds in one newton.
pub(crate) const LBF_PER_N: f64 = 1.0 / N_PER_LBF;
/// Inch-pounds in one newton millimetre.
pub(super) const INLB_PER_NMM: f64 = LBF_PER_N / MM_PER_INCH;
/// Kips in one newton.
pub(super) const KIP_PER_N: f64 = LBF_PER_N / 1000.0;
/// Kip-inches in one newton millimetre.
pub(super) const KIPIN_PER_NMM: f64 = INLB_PER_NMM / 1000.0;
/// Foot-pounds in one newton millimetre.
pub(crate) const FTLB_PER_NMM: f64 = INLB_PER_NMM / 12.0;

/// Simple beam.
const STATICS: Source = Source::new("statics", "simple span, uniform load", Certainty::Derived);

/// Forces at one place.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Forces {
    /// Axial, tension positive (N).
    pub axial_n: f64,
    /// Moment over the depth (N·mm).
    pub strong_nmm: f64,
    /// Moment over the thickness (N·mm).
    pub weak_nmm: f64,
    /// Shear along the depth (N).
    pub shear_n: f64,
    /// Shear along the thickness (N).
    pub cross_shear_n: f64,
    /// Torsion (N·mm).
    pub torsion_nmm: f64,
}

/// A hole through the thickness at the place looked at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HoleHere {
    /// Diameter (mm).
    pub diameter_mm: f64,
    /// Centre from the nearer edge (mm).
    pub from_edge_mm: f64,
}

/// Where a pin stands that is pulled towards an end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PinPlace {
    /// Centre to the end, or to the next hole (mm).
    pub end_mm: f64,
    /// Centre to the nearer edge (mm).
    pub edge_mm: f64,
    /// Diameter of the hole (mm).
    pub hole_mm: f64,
}

/// Lengths over which a member is free.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Free {
    /// Over the depth (mm).
    pub(crate) strong_mm: f64,
    /// Over the thickness, and of the compression edge in bending (mm).
    pub(crate) weak_mm: f64,
    /// A post that nothing holds at its top.
    pub(crate) cantilever: bool,
}

impl Free {
    /// Held at both ends only.
    pub(crate) fn pinned(length_mm: f64) -> Self {
        Self { strong_mm: length_mm, weak_mm: length_mm, cantilever: false }
    }
}

/// Forces of a post at the ground.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct GradeForces {
    /// Along the swing: force and moment (N, N·mm), of one sign when a force above ground makes the moment.
    pub swing: [f64; 2],
    /// Across: force and moment.
    pub across: [f64; 2],
    /// Axial, tension positive (N).
    pub axial_n: f64,
}

impl GradeForces {
    /// Force (N) and moment (N·mm) of both directions together: the hole is round, so the resultant counts.
    pub(crate) fn resultant(&self) -> [f64; 2] {
        [0, 1].map(|k| self.swing[k].hypot(self.across[k]))
    }

    /// Forces where the post bends most below the ground.
    pub(super) fn below<T: Trace>(&self, trace: &mut T, depth_mm: f64) -> Result<Forces, Refusal> {
        let d = depth_mm / MM_PER_FT;
        let swing = below_grade::peak(trace, self.swing[0] * LBF_PER_N, self.swing[1] * FTLB_PER_NMM, d)?;
        let across = below_grade::peak(trace, self.across[0] * LBF_PER_N, self.across[1] * FTLB_PER_NMM, d)?;
        Ok(Forces {
            axial_n: self.axial_n,
            strong_nmm: swing.moment_ft_lb / FTLB_PER_NMM,
            weak_nmm: across.moment_ft_lb / FTLB_PER_NMM,
            ..Forces::default()
        })
    }
}

/// A strut or tie between two pins, with its own weight across it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Strut {
    /// Along it, tension positive (N).
    pub(crate) axial_n: f64,
    /// Pin to pin (mm).
    pub(crate) length_mm: f64,
    /// How level it lies: the share of its weight that bends it.
    pub(crate) level: f64,
    /// Holes of its pins (mm).
    pub(crate) hole_mm: f64,
    /// Their line from the edge or heel (mm).
    pub(crate) gauge_mm: f64,
    /// Washer between it and what it is pinned to (mm).
    pub(crate) washer_mm: f64,
}

impl Strut {
    /// Its forces, with the moment of its own weight \[kg/mm\].
    pub(super) fn forces(&self, kg_per_mm: f64) -> Forces {
        let own = kg_per_mm * crate::quantities::GRAVITY * self.level * self.length_mm.powi(2) / 8.0;
        Forces { axial_n: self.axial_n, strong_nmm: own, ..Forces::default() }
    }
}

/// A question about one member.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Ask {
    /// Bending both ways with axial force, at a hole or not.
    Bent(Forces, Option<HoleHere>),
    /// Shear, at a hole or not.
    Sheared(Forces, Option<HoleHere>),
    /// Twist with shear.
    Twisted(Forces),
    /// Shear (N) beside a bolt that the member hangs from: effective depth and distance from the end (mm).
    Hung(f64, [f64; 2]),
    /// What a pin tears out under a pull (N).
    TornOut(f64, PinPlace),
    /// A strut on one bolt at each end through one leg: force, compression positive (N); length, bolt line from the heel,
    /// room under the leg, hole (mm).
    OneBolt(f64, [f64; 4]),
    /// Pressed across its length: force (N), length and width of the area (mm).
    Pressed(f64, [f64; 2]),
    /// Lying flat on simple spans under an even pressure: pressure (Pa), strip (mm), span (mm).
    Spanning([f64; 3]),
    /// Standing in the ground: forces at grade, depth (mm).
    Below(GradeForces, f64),
}

/// Forces under an even pressure on simple spans: pressure (Pa), strip (mm), span (mm).
pub(super) fn simple_span<T: Trace>(trace: &mut T, [pressure, strip, span]: [f64; 3]) -> Forces {
    let (p, b, l) = (pressure / PA_PER_PSF / 144.0, strip / MM_PER_INCH, span / MM_PER_INCH);
    let m = p * b * l * l / 8.0;
    step!(trace, "moment of a simple span", m ["in lb"] = "p*b*l^2/8", { p ["psi"], b ["in"], l ["in"] }, STATICS);
    Forces { weak_nmm: m / INLB_PER_NMM, ..Forces::default() }
}

/// A member ready to be asked at many places under many loads.
pub(crate) trait Member {
    /// Its utilisation; none where the question does not arise in its material.
    fn answer(&self, duration: Duration, ask: &Ask) -> Option<Result<f64, Refusal>>;

    /// The same as a calculation that can be run again and written out.
    fn calc(&self, duration: Duration, ask: Ask) -> Calc;

    /// What is asked of it as a strut, the worst of which counts.
    ///
    /// # Errors
    /// A form that is not held.
    fn strut(&self, strut: &Strut) -> Result<Vec<Ask>, Refusal>;

    /// What its utilisation can reach at most, at a hole or not; none where nothing cheaper than the answer is known.
    fn bound(&self, _duration: Duration, _hole: Option<HoleHere>) -> Option<Bound> {
        None
    }
}
