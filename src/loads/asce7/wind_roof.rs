//! Wind on panels on runners upon a low-slope roof: the rooftop-panel clause of 7-16.
//!
//! Scope, factors and nominal coefficients stand in an open library of the standard's equations; a step-by-step report of
//! another open repository has the same factors and the normalised area. A frame tilted off a pitched roof fits no clause
//! held here.

use crate::catalogue::{Certainty, Source, Step, Trace, term};
use crate::design::Edition;
use crate::loads::RangeState;
use crate::quantities::MM_PER_FT;
use serde::Serialize;

/// Nominal coefficients.
pub const FIGURE: Source = Source::new("ASCE 7-16", "Fig. 29.4-7", Certainty::Transcribed);
/// Its factors.
pub const FACTORS: Source = Source::new("ASCE 7-16", "§29.4.3: scope, γ_p, γ_c, γ_E", Certainty::Agreed);
/// Normalised wind area, from the edition after: the figure and its axis are the same.
pub const AREA: Source = Source::new("ASCE 7-22", "§29.4.3: normalised wind area", Certainty::Transcribed);

/// Zones of the roof.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub enum RoofZone {
    /// Zone 1, inside.
    Inside,
    /// Zone 2, along the edges.
    Edge,
    /// Zone 3, at the corners.
    Corner,
}

/// The building and the place of the panels on it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Roof {
    /// Mean roof height h of the building \[mm\].
    pub height_mm: f64,
    /// Longer plan dimension W_L \[mm\].
    pub longer_mm: f64,
    /// Shorter plan dimension W_S \[mm\].
    pub shorter_mm: f64,
    /// Parapet height above the roof h_pt \[mm\].
    pub parapet_mm: f64,
    /// Slope of the roof (°).
    pub slope_deg: f64,
    /// Slope along the frame, rising away from its low edge (°).
    pub along_deg: f64,
    /// Zone the panels stand in.
    pub zone: RoofZone,
    /// Is the row exposed: far from the next row and the roof edge? A lone frame is.
    pub exposed: bool,
}

/// One row of panels on it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RoofPanels {
    /// Tilt of the panels to the roof ω (°).
    pub tilt_deg: f64,
    /// Length of the slope L_p \[mm\].
    pub chord_mm: f64,
    /// Low edge above the roof h_1 \[mm\].
    pub low_edge_mm: f64,
    /// Effective wind area A \[mm²\].
    pub area_mm2: f64,
}

/// Does the clause apply?
///
/// # Source
/// ASCE 7-16 §29.4.3: roof at most 7°, chord at most 6.7 ft, tilt at most 35°, low edge at most 2 ft and high edge at
/// most 4 ft above the roof. The clause is new in 7-16.
#[must_use]
pub fn scope(edition: Edition, roof: &Roof, panels: &RoofPanels) -> RangeState {
    let ft = |mm: f64| crate::quantities::number(mm / MM_PER_FT, 2);
    let high_edge = panels.low_edge_mm + panels.chord_mm * panels.tilt_deg.to_radians().sin();
    let reason = if !matches!(edition, Edition::Asce716 | Edition::Asce722) {
        format!("{} has no rooftop-panel clause", edition.document())
    } else if !(0.0..=7.0).contains(&roof.slope_deg) {
        format!(
            "the roof slopes {}°, more than 7°: no clause held covers panels tilted off a pitched roof",
            roof.slope_deg
        )
    } else if panels.chord_mm > 6.7 * MM_PER_FT {
        format!("the slope length is {} ft, more than 6.7 ft", ft(panels.chord_mm))
    } else if !(0.0..=35.0).contains(&panels.tilt_deg) {
        format!("the tilt is {}°, more than 35°", panels.tilt_deg)
    } else if panels.low_edge_mm > 2.0 * MM_PER_FT {
        format!("the low edge stands {} ft above the roof, more than 2 ft", ft(panels.low_edge_mm))
    } else if high_edge > 4.0 * MM_PER_FT {
        format!("the high edge stands {} ft above the roof, more than 4 ft", ft(high_edge))
    } else {
        return RangeState::Published;
    };
    RangeState::Refused(format!("ASCE 7-16 §29.4.3 does not apply: {reason}"))
}

/// Nominal coefficient by zone, tilt and normalised area; log-linear in the area, linear from 5° to 15°.
pub fn nominal_coefficient<T: Trace>(zone: RoofZone, tilt_deg: f64, normalised_area: f64, trace: &mut T) -> f64 {
    const AREAS: [f64; 3] = [1.0, 500.0, 5000.0];
    const FLAT: [[f64; 3]; 3] = [[1.5, 0.35, 0.10], [2.0, 0.45, 0.15], [2.3, 0.50, 0.15]];
    const STEEP: [[f64; 3]; 3] = [[2.0, 0.56, 0.30], [2.9, 0.65, 0.40], [3.5, 0.80, 0.50]];
    let area = normalised_area.clamp(AREAS[0], AREAS[2]);
    let i = usize::from(area > AREAS[1]);
    let share = (area / AREAS[i]).ln() / (AREAS[i + 1] / AREAS[i]).ln();
    let along = |row: &[f64; 3]| row[i] + (row[i + 1] - row[i]) * share;
    let (flat, steep) = (&FLAT[zone as usize], &STEEP[zone as usize]);
    let tilted = ((tilt_deg - 5.0) / 10.0).clamp(0.0, 1.0);
    let value = along(flat) + (along(steep) - along(flat)) * tilted;
    trace.step(|| Step {
        what: "nominal net coefficient of rooftop panels",
        symbol: "GC_rn",
        formula: "(C_11 + (C_12 - C_11)*ln(A_n/A_1)/ln(A_2/A_1))*(1 - t) + (C_21 + (C_22 - C_21)*ln(A_n/A_1)/ln(A_2/A_1))*t",
        terms: vec![
            term("C_11", flat[i], ""),
            term("C_12", flat[i + 1], ""),
            term("C_21", steep[i], ""),
            term("C_22", steep[i + 1], ""),
            term("A_n", area, ""),
            term("A_1", AREAS[i], ""),
            term("A_2", AREAS[i + 1], ""),
            term("t", tilted, ""),
        ],
        value,
        unit: "",
        source: FIGURE,
    });
    value
}

/// Net pressure on rooftop panels, both signs \[Pa\]: `p = q_h γ_p γ_c γ_E (GC_rn)_nom`.
///
/// # Units
/// `q` at the roof's mean height; result `[onto the face, off the face]`, both magnitudes.
///
/// # Errors
/// The refused state of [`scope`].
///
/// # Source
/// ASCE 7-16 Eq. 29.4-5 and 29.4-6.
pub fn pressure<T: Trace>(
    edition: Edition,
    roof: &Roof,
    panels: &RoofPanels,
    q: super::VelocityPressure,
    trace: &mut T,
) -> Result<[f64; 2], RangeState> {
    match scope(edition, roof, panels) {
        RangeState::Published => {}
        refused => return Err(refused),
    }
    let ft = |mm: f64| mm / MM_PER_FT;
    let (h, wide, narrow) = (ft(roof.height_mm), ft(roof.longer_mm), ft(roof.shorter_mm));
    let length = (0.4 * (h * wide).sqrt()).min(h).min(narrow);
    let area_ft2 = panels.area_mm2 / (MM_PER_FT * MM_PER_FT);
    let normalised = 1000.0 / length.max(15.0).powi(2) * area_ft2;
    trace.step(|| Step {
        what: "normalised wind area",
        symbol: "A_n",
        formula: "1000/max(min(min(0.4*sqrt(h*W_L), h), W_S), 15)^2*A",
        terms: vec![term("h", h, "ft"), term("W_L", wide, "ft"), term("W_S", narrow, "ft"), term("A", area_ft2, "ft2")],
        value: normalised,
        unit: "",
        source: AREA,
    });
    let nominal = nominal_coefficient(roof.zone, panels.tilt_deg, normalised, trace);
    let (h_pt, chord) = (ft(roof.parapet_mm), ft(panels.chord_mm));
    let gamma_p = (0.9 + h_pt / h).min(1.2);
    let gamma_c = (0.6 + 0.06 * chord).max(0.8);
    Ok([false, true].map(|uplift| {
        let gamma_e = if uplift && roof.exposed { 1.5 } else { 1.0 };
        let value = q.directed_pa() * gamma_p * gamma_c * gamma_e * nominal;
        trace.step(|| Step {
            what: if uplift { "rooftop panel pressure off the face" } else { "rooftop panel pressure onto the face" },
            symbol: "p",
            formula: q.formula(
                "q_h*K_d*min(0.9 + h_pt/h, 1.2)*max(0.6 + 0.06*L_p, 0.8)*gamma_E*GC_rn",
                "q_h*min(0.9 + h_pt/h, 1.2)*max(0.6 + 0.06*L_p, 0.8)*gamma_E*GC_rn",
            ),
            terms: q.terms([
                term("h_pt", h_pt, "ft"),
                term("h", h, "ft"),
                term("L_p", chord, "ft"),
                term("gamma_E", gamma_e, ""),
                term("GC_rn", nominal, ""),
            ]),
            value: q.shown(value),
            unit: q.unit(),
            source: FACTORS,
        });
        value
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Silent;

    const ROOF: Roof = Roof {
        height_mm: 6000.0,
        longer_mm: 20_000.0,
        shorter_mm: 12_000.0,
        parapet_mm: 0.0,
        slope_deg: 2.0,
        along_deg: 2.0,
        zone: RoofZone::Corner,
        exposed: true,
    };
    const PANELS: RoofPanels = RoofPanels { tilt_deg: 30.0, chord_mm: 1722.0, low_edge_mm: 200.0, area_mm2: 1.95e6 };

    #[test]
    fn each_limit_of_the_scope_is_named() {
        assert!(scope(Edition::Asce716, &ROOF, &PANELS).is_published());
        let reason = |edition, roof: &Roof, panels: &RoofPanels| scope(edition, roof, panels).to_string();
        assert!(reason(Edition::Asce710, &ROOF, &PANELS).contains("no rooftop-panel clause"));
        assert!(reason(Edition::Asce716, &Roof { slope_deg: 20.0, ..ROOF }, &PANELS).contains("pitched roof"));
        assert!(reason(Edition::Asce716, &ROOF, &RoofPanels { tilt_deg: 45.0, ..PANELS }).contains("tilt is 45°"));
        assert!(reason(Edition::Asce716, &ROOF, &RoofPanels { chord_mm: 2278.0, ..PANELS }).contains("7.47 ft"));
        assert!(reason(Edition::Asce716, &ROOF, &RoofPanels { low_edge_mm: 700.0, ..PANELS }).contains("low edge"));
        assert!(reason(Edition::Asce716, &ROOF, &RoofPanels { low_edge_mm: 500.0, ..PANELS }).contains("high edge"));
    }

    #[test]
    fn the_printed_points_are_met() {
        for (tilt, zone, row) in [
            (5.0, RoofZone::Inside, [1.5, 0.35, 0.10]),
            (15.0, RoofZone::Edge, [2.9, 0.65, 0.40]),
            (35.0, RoofZone::Corner, [3.5, 0.80, 0.50]),
        ] {
            for (area, value) in [1.0, 500.0, 5000.0].into_iter().zip(row) {
                assert!((nominal_coefficient(zone, tilt, area, &mut Silent) - value).abs() < 1e-12);
            }
        }
        // Half way in the tilt, half way in the logarithm.
        let half = nominal_coefficient(RoofZone::Inside, 10.0, 500f64.sqrt(), &mut Silent);
        assert!((half - ((1.5 + 0.35) / 2.0 + (2.0 + 0.56) / 2.0) / 2.0).abs() < 1e-12);
    }
}
