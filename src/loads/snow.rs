//! Snow on the panels by ASCE 7: balanced, minimum, rain on snow, partial, and slid to the low edge.
//!
//! Ground snow of 7-10 and 7-16 is a 50-year load with an importance factor; that of 7-22 is at strength level for the
//! risk category. The two are types of their own, and each brings its own factors.

use super::{
    Across, Action, Case, Envelope, Load, RangeState, Strip, Surface, SurfaceLoad, asce7::tabulated,
    risk::snow_importance,
};
use crate::catalogue::{Certainty, Source, Step, Trace, term};
use crate::design::{Around, Exposure, RiskCategory, ServiceSnow, SnowSite, StrengthSnow};
use crate::quantities::{MM_PER_INCH, PA_PER_PSF, to_pa};

/// Thermal factor of unheated and open-air surfaces, ASCE 7-16 Table 7.3-2.
pub const OPEN_AIR: f64 = 1.2;
/// Tilt below which the minimum load of low-slope monoslope roofs applies (°), ASCE 7-16 §7.3.4.
const LOW_SLOPE_DEG: f64 = 15.0;

const EXPOSURE: Source = Source::new("ASCE 7-16", "Table 7.3-1", Certainty::Transcribed);
const THERMAL: Source = Source::new("ASCE 7-16", "Table 7.3-2, unheated and open air", Certainty::Transcribed);
const PARTS: Source = Source::new("statics", "a load on plan, square to the slope", Certainty::Derived);

/// Why the snow cases beyond the balanced one are judgement.
const PARTIAL: Source = Source::new(
    "ASCE 7-16",
    "§7.5.1: the balanced load on one span and half of it on the others, carried over to halves of one surface",
    Certainty::Judgement,
);
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
    /// Table of the importance factor; none where the edition has none.
    fn importance_source(&self) -> Option<Source>;
    /// Equation of the flat-roof load.
    fn flat_source(&self) -> Source;
    /// Ground load beyond which the least load of low-slope roofs grows no more \[psf\], with its source.
    fn largest_minimum_psf(&self) -> (f64, Source);
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

    fn importance_source(&self) -> Option<Source> {
        Some(Source::new("ASCE 7-16", "Table 1.5-2", Certainty::Agreed))
    }

    fn flat_source(&self) -> Source {
        Source::new("ASCE 7-16", "Eq. 7.3-1", Certainty::Agreed)
    }

    fn largest_minimum_psf(&self) -> (f64, Source) {
        (20.0, Source::new("ASCE 7-16", "§7.3.4", Certainty::Transcribed))
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

    fn importance_source(&self) -> Option<Source> {
        None
    }

    fn flat_source(&self) -> Source {
        Source::new("ASCE 7-22", "Eq. 7.3-1", Certainty::Transcribed)
    }

    fn largest_minimum_psf(&self) -> (f64, Source) {
        (
            largest_minimum_psf(self.risk),
            Source::new("ASCE 7-22", "§7.3.3, p_m,max by risk category", Certainty::Memory),
        )
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
    tabulated("snow exposure factor", ("C_e", "C_e_table"), c_e, EXPOSURE, trace);
    tabulated("thermal factor, open air", ("C_t", "C_t_table"), c_t, THERMAL, trace);
    if let Some(source) = snow.importance_source() {
        tabulated("importance factor", ("I_s", "I_s_table"), snow.importance(), source, trace);
    }
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
    open(["snow", "sloped-roof snow load on plan, the same for every snow case"], trace);
    let flat = flat_roof_psf(snow, OPEN_AIR, trace);
    let balanced = sloped(flat, slope_factor(surface.tilt_deg, OPEN_AIR, snow.site().slides_off, trace), snow, trace);
    let printed = || RangeState::Published;
    let sources = vec![snow.flat_source()];
    let named = ["snow-balanced", "balanced snow"];
    open(named, trace);
    let mut cases = vec![case(surface, named, printed(), &sources, (balanced, [1.0; 2]), trace)];
    if surface.tilt_deg < LOW_SLOPE_DEG {
        let named = ["snow-minimum", "least snow of a low slope"];
        open(named, trace);
        let least = least(snow, trace);
        cases.push(case(surface, named, printed(), &[snow.largest_minimum_psf().1], (least, [1.0; 2]), trace));
    }
    let (surcharge, up_to, source) = snow.rain();
    let run_ft = surface.run_mm() / (12.0 * MM_PER_INCH);
    if snow.ground_psf() <= up_to && surface.tilt_deg < run_ft / 50.0 {
        let named = ["snow-rain", "rain on balanced snow"];
        open(named, trace);
        let both = with_rain(balanced, surcharge, source, trace);
        cases.push(case(surface, named, printed(), &[sources[0], source], (both, [1.0; 2]), trace));
    }
    cases.extend(partial_cases(surface, balanced, sources[0], trace));
    if surface.tilt_deg > 0.0 {
        // Snow that a lip or ice holds at the low edge has not slid off: the rough surface's factor, all of it below.
        let named = ["snow-slid", "snow slid to the low edge"];
        open(named, trace);
        let held = sloped(flat, slope_factor(surface.tilt_deg, OPEN_AIR, false, trace), snow, trace);
        let why = "the balanced snow of a rough surface, all slid onto the lower half";
        let state = RangeState::Judgement(Envelope::Added, why);
        cases.push(case(surface, named, state, &[sources[0], SLID], (held, [2.0, 0.0]), trace));
    }
    cases
}

/// Half of the balanced snow gone from one half: above, below, left or right.
fn partial_cases<T: Trace>(surface: &Surface, balanced: f64, flat: Source, trace: &mut T) -> Vec<Case> {
    let why = "half of the balanced snow gone from one half of the surface";
    let half = || RangeState::Judgement(Envelope::Added, why);
    let partial = [flat, PARTIAL];
    let mut cases = Vec::new();
    for (named, halves) in [
        (["snow-partial-lower", "balanced snow below, half of it above"], [1.0, 0.5]),
        (["snow-partial-upper", "balanced snow above, half of it below"], [0.5, 1.0]),
    ] {
        open(named, trace);
        cases.push(case(surface, named, half(), &partial, (balanced, halves), trace));
    }
    for (named, [left, right]) in [
        (["snow-partial-left", "balanced snow on the left, half of it on the right"], [1.0, 0.5]),
        (["snow-partial-right", "balanced snow on the right, half of it on the left"], [0.5, 1.0]),
    ] {
        open(named, trace);
        record_halves(surface, SIDES, balanced, [left, right], trace);
        let across =
            Across::Strips(vec![Strip { from: 0.0, to: 0.5, share: left }, Strip { from: 0.5, to: 1.0, share: right }]);
        let pressure = balanced * PA_PER_PSF;
        let load = SurfaceLoad::vertical_on_plan(pressure, pressure, surface.tilt_deg).across(across);
        cases.push(of_load(named, half(), &partial, load));
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

/// Least load of a low slope, p_m \[psf\].
fn least<S: GroundSnow, T: Trace>(snow: &S, trace: &mut T) -> f64 {
    let (most, source) = snow.largest_minimum_psf();
    let value = snow.importance() * snow.ground_psf().min(most);
    trace.step(|| Step {
        what: "least snow load of a low slope, on plan",
        symbol: "p_m",
        formula: "I_s*min(p_g, p_max)",
        terms: vec![
            term("I_s", snow.importance(), ""),
            term("p_g", snow.ground_psf(), "psf"),
            term("p_max", most, "psf"),
        ],
        value,
        unit: "psf",
        source,
    });
    value
}

fn with_rain<T: Trace>(balanced: f64, surcharge: f64, source: Source, trace: &mut T) -> f64 {
    let value = balanced + surcharge;
    trace.step(|| Step {
        what: "snow with rain on it, on plan",
        symbol: "p_r",
        formula: "p_s + p_rain",
        terms: vec![term("p_s", balanced, "psf"), term("p_rain", surcharge, "psf")],
        value,
        unit: "psf",
        source,
    });
    value
}

const HALVES: [&str; 2] = ["square to the panels, lower half", "square to the panels, upper half"];
const SIDES: [&str; 2] = ["square to the panels, left half", "square to the panels, right half"];

/// What a load on plan presses square to the panels, by its share on each of two halves.
fn record_halves<T: Trace>(
    surface: &Surface,
    names: [&'static str; 2],
    plan_psf: f64,
    shares: [f64; 2],
    trace: &mut T,
) {
    let cos = surface.sin_cos().1;
    for (what, share) in names.into_iter().zip(shares) {
        trace.step(|| Step {
            what,
            symbol: "p_n",
            formula: "k*p*cos(theta)^2",
            terms: vec![
                term("k", share, ""),
                term("p", plan_psf, "psf"),
                term("theta", surface.tilt_deg.to_radians(), "rad"),
            ],
            value: share * plan_psf * cos * cos,
            unit: "psf",
            source: PARTS,
        });
    }
}

/// One case: a load on plan \[psf\] and its shares on the lower and the upper half.
fn case<T: Trace>(
    surface: &Surface,
    named: [&str; 2],
    state: RangeState,
    sources: &[Source],
    (plan_psf, shares): (f64, [f64; 2]),
    trace: &mut T,
) -> Case {
    record_halves(surface, HALVES, plan_psf, shares, trace);
    let [lower, upper] = shares.map(|share| share * plan_psf * PA_PER_PSF);
    of_load(named, state, sources, SurfaceLoad::vertical_on_plan(lower, upper, surface.tilt_deg))
}

fn of_load([id, name]: [&str; 2], state: RangeState, sources: &[Source], load: SurfaceLoad) -> Case {
    Case {
        id: id.to_string(),
        name: name.to_string(),
        action: Action::Snow,
        state,
        sources: sources.to_vec(),
        wind_from: None,
        load: Load::Surface(load),
    }
}

fn open<T: Trace>([id, words]: [&str; 2], trace: &mut T) {
    trace.chapter(|| (id.to_string(), words.to_string()));
}
