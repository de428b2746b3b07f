//! What a risk category means.

use crate::design::RiskCategory;

/// Importance factor on 50-year snow, I_s.
///
/// # Source
/// ASCE 7-16 Table 1.5-2. 7-22 has none: its maps are read by risk category.
#[must_use]
pub fn snow_importance(risk: RiskCategory) -> f64 {
    match risk {
        RiskCategory::I => 0.8,
        RiskCategory::II => 1.0,
        RiskCategory::III => 1.1,
        RiskCategory::IV => 1.2,
    }
}

/// A plain sentence on what the category covers.
#[must_use]
pub fn meaning(risk: RiskCategory) -> &'static str {
    match risk {
        RiskCategory::I => "low hazard to people: farm, temporary, small storage",
        RiskCategory::II => "everything not in another category",
        RiskCategory::III => "substantial hazard to people if it fails",
        RiskCategory::IV => "essential: must work after the storm",
    }
}
