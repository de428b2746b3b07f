//! Velocity pressure by height, terrain and edition.

use super::K_D;
use crate::catalogue::{Certainty, Source, Step, Term, Trace, term};
use crate::design::{AsceWind, Edition, Exposure, Form};
use crate::quantities::{MM_PER_FT, MPS_PER_MPH, PA_PER_PSF, to_mm, to_mps};

/// Velocity pressure at one height, and what of the directionality factor is still to be put into the load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct VelocityPressure {
    /// q_z \[Pa\]; holds K_d in 7-10 and 7-16.
    pub q_pa: f64,
    /// K_d to be multiplied into the load: 0.85 in 7-22, 1 in 7-10 and 7-16 where `q` has it already.
    pub k_d_in_load: f64,
    /// Units in which the steps built on it are recorded.
    pub form: Form,
}

impl VelocityPressure {
    /// Velocity pressure at a height.
    ///
    /// ```text
    /// 7-10          q = 0.00256 Kz Kzt Kd V²       [psf, mph]     0.613 … [Pa, m/s]
    /// 7-16          q = 0.00256 Kz Kzt Kd Ke V²
    /// 7-22          q = 0.00256 Kz Kzt Ke V²       Kd goes into the load
    /// ```
    ///
    /// # Units
    /// `height_mm` above ground \[mm\]. The steps are recorded in the units of the printed form.
    ///
    /// # Source
    /// ASCE 7-10 Eq. 27.3-1, 7-16 Eq. 26.10-1, 7-22 Eq. 26.10-1 and 27.3-2.
    pub fn at<T: Trace>(wind: &AsceWind, height_mm: f64, trace: &mut T) -> Self {
        let k_z = exposure_coefficient(wind.edition, wind.exposure, wind.form, height_mm, trace);
        let k_e = elevation_factor(wind, trace);
        super::tabulated("directionality factor", ("K_d", "K_d_table"), K_D, super::DIRECTIONALITY, trace);
        let k_d_in_load = if wind.edition == Edition::Asce722 { K_D } else { 1.0 };
        let k_d = K_D / k_d_in_load;
        let (constant, speed, pa_per_unit, speed_unit, unit) = match wind.form {
            Form::Us => (0.00256, to_mps(wind.gust) / MPS_PER_MPH, PA_PER_PSF, "mph", "psf"),
            Form::Si => (0.613, to_mps(wind.gust), 1.0, "m/s", "Pa"),
        };
        let q = constant * k_z * wind.k_zt * k_e * k_d * speed * speed;
        let k_zt = wind.k_zt;
        trace.step(|| Step {
            what: "velocity pressure",
            symbol: "q",
            formula: match wind.edition {
                Edition::Asce710 => "c_q*K_z*K_zt*K_d*V^2",
                Edition::Asce722 => "c_q*K_z*K_zt*K_e*V^2",
                _ => "c_q*K_z*K_zt*K_d*K_e*V^2",
            },
            terms: [
                Some(term("c_q", constant, "")),
                Some(term("K_z", k_z, "")),
                Some(term("K_zt", k_zt, "")),
                (wind.edition != Edition::Asce722).then(|| term("K_d", k_d, "")),
                (wind.edition != Edition::Asce710).then(|| term("K_e", k_e, "")),
                Some(term("V", speed, speed_unit)),
            ]
            .into_iter()
            .flatten()
            .collect(),
            value: q,
            unit,
            source: pressure_source(wind.edition),
        });
        Self { q_pa: q * pa_per_unit, k_d_in_load, form: wind.form }
    }

    /// The pressure with the directionality factor in it, whichever edition \[Pa\].
    pub(super) fn directed_pa(&self) -> f64 {
        self.q_pa * self.k_d_in_load
    }

    /// A pressure in the units of the record.
    pub(in crate::loads) fn shown(&self, pressure_pa: f64) -> f64 {
        match self.form {
            Form::Us => pressure_pa / PA_PER_PSF,
            Form::Si => pressure_pa,
        }
    }

    /// Those units.
    pub(in crate::loads) fn unit(&self) -> &'static str {
        match self.form {
            Form::Us => "psf",
            Form::Si => "Pa",
        }
    }

    /// The formula with `K_d`, or the one without where `q` has it already.
    pub(super) fn formula(&self, with: &'static str, without: &'static str) -> &'static str {
        if self.k_d_in_load == 1.0 { without } else { with }
    }

    /// Terms `q_h`, `K_d` where it is still to come, and the rest.
    pub(super) fn terms<const N: usize>(&self, rest: [Term; N]) -> Vec<Term> {
        let k_d = (self.k_d_in_load != 1.0).then(|| term("K_d", self.k_d_in_load, ""));
        std::iter::once(term("q_h", self.shown(self.q_pa), self.unit())).chain(k_d).chain(rest).collect()
    }
}

/// The equation of each edition.
#[must_use]
pub fn pressure_source(edition: Edition) -> Source {
    match edition {
        Edition::Asce710 => Source::new("ASCE 7-10", "Eq. 27.3-1", Certainty::Transcribed),
        Edition::Asce722 => {
            Source::new("ASCE 7-22", "Eq. 26.10-1 (K_d in the load, Eq. 27.3-2)", Certainty::Transcribed)
        }
        _ => Source::new("ASCE 7-16", "Eq. 26.10-1", Certainty::Agreed),
    }
}

/// Velocity pressure exposure coefficient, `K_z = c (max(z, 15 ft) / z_g)^(2/α)`, at most `c`.
///
/// # Units
/// `height_mm` \[mm\]; result (–).
///
/// # Source
/// ASCE 7-16 Table 26.10-1 note 1; 7-22 Table 26.10-1 (one transcription of its constants). The printed table is
/// rounded to two digits and differs by up to 0.9 %.
pub fn exposure_coefficient<T: Trace>(
    edition: Edition,
    exposure: Exposure,
    form: Form,
    height_mm: f64,
    trace: &mut T,
) -> f64 {
    let new = edition == Edition::Asce722;
    let c = if new { 2.41 } else { 2.01 };
    let (alpha, gradient_ft) = match (new, exposure) {
        (false, Exposure::B) => (7.0, 1200.0),
        (false, Exposure::C) => (9.5, 900.0),
        (false, Exposure::D) => (11.5, 700.0),
        (true, Exposure::B) => (7.5, 3280.0),
        (true, Exposure::C) => (9.8, 2460.0),
        (true, Exposure::D) => (11.5, 1935.0),
    };
    let (mm_per_unit, unit) = match form {
        Form::Us => (MM_PER_FT, "ft"),
        Form::Si => (1000.0, "m"),
    };
    let (z, z_g, z_min) =
        (height_mm / mm_per_unit, gradient_ft * MM_PER_FT / mm_per_unit, 15.0 * MM_PER_FT / mm_per_unit);
    let k_z = c * (z.max(z_min).min(z_g) / z_g).powf(2.0 / alpha);
    let source = if new {
        Source::new("ASCE 7-22", "Table 26.10-1", Certainty::Transcribed)
    } else {
        Source::new(edition.document(), "velocity pressure exposure coefficients, note 1", Certainty::Agreed)
    };
    trace.step(|| Step {
        what: "exposure coefficient",
        symbol: "K_z",
        formula: "c*(min(max(z, z_min), z_g)/z_g)^(2/alpha)",
        terms: vec![
            term("c", c, ""),
            term("z", z, unit),
            term("z_min", z_min, unit),
            term("z_g", z_g, unit),
            term("alpha", alpha, ""),
        ],
        value: k_z,
        unit: "",
        source,
    });
    k_z
}

/// Ground elevation factor, `K_e = exp(−0.0000362 z_e)` in feet; 1 in 7-10, which has none.
fn elevation_factor<T: Trace>(wind: &AsceWind, trace: &mut T) -> f64 {
    if wind.edition == Edition::Asce710 {
        return 1.0;
    }
    let (rate, z_e, unit) = match wind.form {
        Form::Us => (0.000_036_2, to_mm(wind.elevation) / MM_PER_FT, "ft"),
        Form::Si => (0.000_119, to_mm(wind.elevation) / 1000.0, "m"),
    };
    let k_e = (-rate * z_e).exp();
    trace.step(|| Step {
        what: "ground elevation factor",
        symbol: "K_e",
        formula: "exp(-r*z_e)",
        terms: vec![term("r", rate, ""), term("z_e", z_e, unit)],
        value: k_e,
        unit: "",
        source: Source::new(wind.edition.document(), "Table 26.9-1 note 2", Certainty::Agreed),
    });
    k_e
}
