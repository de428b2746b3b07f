//! Rows of several bolts: the outer ones carry more.

use crate::{
    catalogue::{Certainty, Source, Trace},
    codes::{Refusal, within},
};

/// Group action.
pub const GROUP_ACTION: Source = Source::new("NDS-2018", "Eq. 11.3-1", Certainty::Transcribed);

/// What a row of bolts joins.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Row {
    /// Bolts in the row.
    pub bolts: u32,
    /// Diameter (in).
    pub diameter_in: f64,
    /// Spacing in the row (in).
    pub spacing_in: f64,
    /// E_m A_m of the main member, gross (lb).
    pub main_lb: f64,
    /// E_s A_s of the side members together, gross (lb).
    pub side_lb: f64,
    /// Are the side members metal?
    pub metal_sides: bool,
}

/// Group action factor C_g.
///
/// ```text
/// C_g = m(1 − m²ⁿ)/(n((1 + R mⁿ)(1 + m) − 1 + m²ⁿ)) · (1 + R)/(1 − m)
/// u = 1 + γ s/2 (1/(E_m A_m) + 1/(E_s A_s))    m = u − √(u² − 1)    γ = 180 000 D^1.5, metal sides 270 000 D^1.5
/// ```
///
/// # Errors
/// [`Refusal::OutsideRange`] for D above 1 in.
///
/// # Source
/// NDS-2018 Eq. 11.3-1. Printed cells of Tables 11.3.6A and C in `tests/handbook/nds_group.rs`.
pub fn group_factor<T: Trace>(trace: &mut T, row: &Row) -> Result<f64, Refusal> {
    let d = within("diameter (in)", row.diameter_in, [0.0, 1.0], GROUP_ACTION)?;
    within("E A of the members (lb)", row.main_lb.min(row.side_lb), [1e-6, f64::MAX], GROUP_ACTION)?;
    if row.bolts <= 1 || d < 0.25 {
        return Ok(1.0);
    }
    let (ea_m, ea_s, s, n) = (row.main_lb, row.side_lb, row.spacing_in, f64::from(row.bolts));
    let k = if row.metal_sides { 270_000.0 } else { 180_000.0 };
    let gamma = k * d.powf(1.5);
    step!(trace, "slip stiffness of a bolt", gamma ["lb/in"] = "k*d^1.5", { k ["lb/in"], d ["in"] }, GROUP_ACTION);
    let u = 1.0 + gamma * s / 2.0 * (1.0 / ea_m + 1.0 / ea_s);
    step!(trace, "load transfer", u [""] = "1 + gamma*s/2*(1/ea_m + 1/ea_s)", { gamma ["lb/in"], s ["in"], ea_m ["lb"], ea_s ["lb"] }, GROUP_ACTION);
    let m = u - (u * u - 1.0).sqrt();
    step!(trace, "decay from bolt to bolt", m[""] = "u - sqrt(u^2 - 1)", { u[""] }, GROUP_ACTION);
    let r = (ea_s / ea_m).min(ea_m / ea_s);
    step!(trace, "ratio of stiffness", r [""] = "min(ea_s/ea_m, ea_m/ea_s)", { ea_s ["lb"], ea_m ["lb"] }, GROUP_ACTION);
    let m_n = m.powf(n);
    let c_g = m * (1.0 - m_n * m_n) / (n * ((1.0 + r * m_n) * (1.0 + m) - 1.0 + m_n * m_n)) * (1.0 + r) / (1.0 - m);
    step!(trace, "group action factor", c_g [""] = "m*(1 - m^(2*n))/(n*((1 + r*m^n)*(1 + m) - 1 + m^(2*n)))*(1 + r)/(1 - m)",
        { m [""], n [""], r [""] }, GROUP_ACTION);
    Ok(c_g)
}
