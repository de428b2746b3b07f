//! Snow on the panels by ASCE 7: balanced, minimum, rain on snow, partial, and slid to the low edge.
//!
//! Ground snow of 7-10 and 7-16 is a 50-year load with an importance factor; that of 7-22 is at strength level for the
//! risk category. The two are types of their own, and each brings its own factors.

use super::{Across, Action, Case, Envelope, Load, RangeState, Strip, Surface, SurfaceLoad, risk::snow_importance};
use crate::catalogue::{Certainty, Source, Step, Trace, term};
use crate::design::{Around, Exposure, RiskCategory, ServiceSnow, SnowSite, StrengthSnow};
use crate::quantities::{MM_PER_INCH, PA_PER_PSF, to_pa};

/// Thermal factor of unheated and open-air surfaces, ASCE 7-16 Table 7.3-2.
pub const OPEN_AIR: f64 = 1.2;
/// Tilt below which the minimum load of low-slope monoslope roofs applies (°), ASCE 7-16 §7.3.4.
const LOW_SLOPE_DEG: f64 = 15.0;

/// Why the snow cases beyond the balanced one are judgement.
const PARTIAL: Source =
    Source::new("ASCE 7-16", "§7.5 partial loading, carried over to halves of one surface", Certainty::Memory);
const SLID: Source = Source::new(
    "judgement",
    "snow slid to the low edge: the whole balanced load of a rough surface lies on the lower half",
    Certainty::Judgement,
);

/// A ground snow load with the factors of its own edition.
pub trait GroundSnow {
    /// Ground snow load p_g \[psf\].
    fn ground_psf(&self) -> f64;
    /// Surroundings.
    fn site(&self) -> SnowSite;
    /// Importance factor; 1 where the edition has none.
    fn importance(&self) -> f64;
    /// Equation of the flat-roof load.
    fn flat_source(&self) -> Source;
    /// Least load of low-slope roofs, p_m \[psf\], with its source.
    fn minimum_psf(&self) -> (f64, Source);
    /// Rain-on-snow surcharge of flat roofs \[psf\], the ground load up to which it is added \[psf\], and its source.
    fn rain(&self) -> (f64, f64, Source);
}

impl GroundSnow for ServiceSnow {
    fn ground_psf(&self) -> f64 {
        to_pa(self.ground) / PA_PER_PSF
    }

    fn site(&self) -> SnowSite {
        self.site
    }

    fn importance(&self) -> f64 {
        snow_importance(self.risk)
    }

    fn flat_source(&self) -> Source {
        Source::new("ASCE 7-16", "Eq. 7.3-1", Certainty::Agreed)
    }

    fn minimum_psf(&self) -> (f64, Source) {
        let source = Source::new("ASCE 7-16", "§7.3.4", Certainty::Transcribed);
        (self.importance() * self.ground_psf().min(20.0), source)
    }

    fn rain(&self) -> (f64, f64, Source) {
        (5.0, 20.0, Source::new("ASCE 7-16", "§7.10", Certainty::Transcribed))
    }
}

impl GroundSnow for StrengthSnow {
    fn ground_psf(&self) -> f64 {
        to_pa(self.ground) / PA_PER_PSF
    }

    fn site(&self) -> SnowSite {
        self.site
    }

    fn importance(&self) -> f64 {
        1.0
    }

    fn flat_source(&self) -> Source {
        Source::new("ASCE 7-22", "Eq. 7.3-1", Certainty::Transcribed)
    }

    fn minimum_psf(&self) -> (f64, Source) {
        let source = Source::new("ASCE 7-22", "§7.3.3, p_m,max by risk category", Certainty::Memory);
        (self.ground_psf().min(largest_minimum_psf(self.risk)), source)
    }

    fn rain(&self) -> (f64, f64, Source) {
        // Which ground loads it applies to in this edition was not seen: taken as those below p_m,max.
        (8.0, largest_minimum_psf(self.risk), Source::new("ASCE 7-22", "§7.10, range of p_g", Certainty::Memory))
    }
}

fn largest_minimum_psf(risk: RiskCategory) -> f64 {
    match risk {
        RiskCategory::I => 25.0,
        RiskCategory::II => 30.0,
        RiskCategory::III => 35.0,
        RiskCategory::IV => 40.0,
    }
}

/// Exposure factor C_e.
///
/// # Source
/// ASCE 7-16 Table 7.3-1, below the tree line.
#[must_use]
pub fn exposure_factor(exposure: Exposure, around: Around) -> f64 {
    let row = match exposure {
        Exposure::B => [0.9, 1.0, 1.2],
        Exposure::C => [0.9, 1.0, 1.1],
        Exposure::D => [0.8, 0.9, 1.0],
    };
    row[around as usize]
}

/// Flat-roof snow load `p_f = 0.7 C_e C_t I_s p_g` \[psf\]; 7-22 without `I_s`.
///
/// # Source
/// ASCE 7-16 Eq. 7.3-1; 7-22 Eq. 7.3-1. Worked canopy: 15.12 psf in `tests/handbook/snow.rs`.
pub fn flat_roof_psf<S: GroundSnow, T: Trace>(snow: &S, c_t: f64, trace: &mut T) -> f64 {
    let site = snow.site();
    let c_e = exposure_factor(site.exposure, site.around);
    let value = 0.7 * c_e * c_t * snow.importance() * snow.ground_psf();
    trace.step(|| Step {
        what: "flat-roof snow load",
        symbol: "p_f",
        formula: "0.7*C_e*C_t*I_s*p_g",
        terms: vec![
            term("C_e", c_e, ""),
            term("C_t", c_t, ""),
            term("I_s", snow.importance(), ""),
            term("p_g", snow.ground_psf(), "psf"),
        ],
        value,
        unit: "psf",
        source: snow.flat_source(),
    });
    value
}

/// Slope factor C_s: 1 up to a limit, then straight down to 0 at 70°.
///
/// # Units
/// `tilt_deg` (°); `c_t` (–); result from 0 to 1.
///
/// # Source
/// ASCE 7-16 Fig. 7.4-1: (a) warm, (b) C_t = 1.1, (c) cold roofs; dashed line unobstructed slippery, solid line all
/// other surfaces.
pub fn slope_factor<T: Trace>(tilt_deg: f64, c_t: f64, slippery: bool, trace: &mut T) -> f64 {
    let full_to_deg = match (slippery, c_t) {
        (true, c) if c <= 1.0 => 5.0,
        (true, c) if c < 1.2 => 10.0,
        (true, _) => 15.0,
        (false, c) if c <= 1.0 => 30.0,
        (false, c) if c < 1.2 => 37.5,
        (false, _) => 45.0,
    };
    let value = ((70.0 - tilt_deg) / (70.0 - full_to_deg)).clamp(0.0, 1.0);
    trace.step(|| Step {
        what: "slope factor",
        symbol: "C_s",
        formula: "min(max((70 - theta)/(70 - theta_1), 0), 1)",
        terms: vec![term("theta", tilt_deg, "deg"), term("theta_1", full_to_deg, "deg")],
        value,
        unit: "",
        source: Source::new("ASCE 7-16", "Fig. 7.4-1", Certainty::Transcribed),
    });
    value
}

/// All snow cases on the surface; none where the ground snow is zero.
///
/// # Source
/// ASCE 7-16 and 7-22 Chapter 7. Unbalanced snow (§7.6) is for hip, gable and curved roofs, not for one monoslope;
/// drifts against a taller wall (§7.7 to 7.9) are not encoded.
pub fn snow_cases<S: GroundSnow, T: Trace>(snow: &S, surface: &Surface, trace: &mut T) -> Vec<Case> {
    if snow.ground_psf() <= 0.0 {
        return Vec::new();
    }
    let flat = flat_roof_psf(snow, OPEN_AIR, trace);
    let balanced = sloped(flat, slope_factor(surface.tilt_deg, OPEN_AIR, snow.site().slides_off, trace), snow, trace);
    let sources = vec![snow.flat_source()];
    let mut cases =
        vec![case(surface, "snow-balanced", "balanced snow", RangeState::Published, &sources, [balanced; 2])];
    if surface.tilt_deg < LOW_SLOPE_DEG {
        let (minimum, source) = snow.minimum_psf();
        cases.push(case(
            surface,
            "snow-minimum",
            "least snow of a low slope",
            RangeState::Published,
            &[source],
            [minimum; 2],
        ));
    }
    let (surcharge, up_to, source) = snow.rain();
    let run_ft = surface.run_mm() / (12.0 * MM_PER_INCH);
    if snow.ground_psf() <= up_to && surface.tilt_deg < run_ft / 50.0 {
        let both = [balanced + surcharge; 2];
        cases.push(case(
            surface,
            "snow-rain",
            "rain on balanced snow",
            RangeState::Published,
            &[sources[0], source],
            both,
        ));
    }
    let added = |why| RangeState::Judgement(Envelope::Added, why);
    let half = added("half of the balanced snow gone from one half of the surface");
    let partial = [sources[0], PARTIAL];
    for (id, name, [lower, upper]) in [
        ("snow-partial-lower", "balanced snow below, half of it above", [1.0, 0.5]),
        ("snow-partial-upper", "balanced snow above, half of it below", [0.5, 1.0]),
    ] {
        cases.push(case(surface, id, name, half.clone(), &partial, [lower * balanced, upper * balanced]));
    }
    for (id, name, [left, right]) in [
        ("snow-partial-left", "balanced snow on the left, half of it on the right", [1.0, 0.5]),
        ("snow-partial-right", "balanced snow on the right, half of it on the left", [0.5, 1.0]),
    ] {
        let across =
            Across::Strips(vec![Strip { from: 0.0, to: 0.5, share: left }, Strip { from: 0.5, to: 1.0, share: right }]);
        let mut one = case(surface, id, name, half.clone(), &partial, [balanced; 2]);
        one.load = Load::Surface(SurfaceLoad {
            across,
            ..SurfaceLoad::vertical_on_plan(balanced * PA_PER_PSF, balanced * PA_PER_PSF, surface.tilt_deg)
        });
        cases.push(one);
    }
    if surface.tilt_deg > 0.0 {
        // Snow that a lip or ice holds at the low edge has not slid off: the rough surface's factor, all of it below.
        let held = sloped(flat, slope_factor(surface.tilt_deg, OPEN_AIR, false, trace), snow, trace);
        let why = added("the balanced snow of a rough surface, all slid onto the lower half");
        cases.push(case(
            surface,
            "snow-slid",
            "snow slid to the low edge",
            why,
            &[sources[0], SLID],
            [2.0 * held, 0.0],
        ));
    }
    cases
}

fn sloped<S: GroundSnow, T: Trace>(flat: f64, c_s: f64, snow: &S, trace: &mut T) -> f64 {
    let value = c_s * flat;
    trace.step(|| Step {
        what: "sloped-roof snow load, on plan",
        symbol: "p_s",
        formula: "C_s*p_f",
        terms: vec![term("C_s", c_s, ""), term("p_f", flat, "psf")],
        value,
        unit: "psf",
        source: Source { place: "Eq. 7.4-1", ..snow.flat_source() },
    });
    value
}

fn case(surface: &Surface, id: &str, name: &str, state: RangeState, sources: &[Source], plan_psf: [f64; 2]) -> Case {
    let [lower, upper] = plan_psf.map(|p| p * PA_PER_PSF);
    Case {
        id: id.to_string(),
        name: name.to_string(),
        action: Action::Snow,
        state,
        sources: sources.to_vec(),
        wind_from: None,
        load: Load::Surface(SurfaceLoad::vertical_on_plan(lower, upper, surface.tilt_deg)),
    }
}
