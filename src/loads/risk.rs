//! What a risk category means in years and factors.

use crate::catalogue::{Certainty, Source};
use crate::design::{Edition, RiskCategory};

/// Mean recurrence interval of the mapped ultimate gust \[years\]; nothing for EN 1991, which has no risk category.
///
/// # Source
/// 7-16 and 7-22: McAllister, Wang, Ellingwood 2018, J. Struct. Eng. 7-10: categories III and IV share one map.
#[must_use]
pub fn gust_interval_years(edition: Edition, risk: RiskCategory) -> Option<u32> {
    let years = match (edition, risk) {
        (Edition::En1991, _) => return None,
        (_, RiskCategory::I) => 300,
        (_, RiskCategory::II) => 700,
        (Edition::Asce710, RiskCategory::IV) | (_, RiskCategory::III) => 1700,
        (_, RiskCategory::IV) => 3000,
    };
    Some(years)
}

/// Source of the intervals.
pub const INTERVALS: Source = Source::new("ASCE 7-16", "§26.5.1 (intervals of the wind maps)", Certainty::Transcribed);

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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn essential_frames_share_a_map_in_the_oldest_edition_only() {
        assert_eq!(gust_interval_years(Edition::Asce710, RiskCategory::IV), Some(1700));
        assert_eq!(gust_interval_years(Edition::Asce716, RiskCategory::IV), Some(3000));
        assert_eq!(gust_interval_years(Edition::Asce722, RiskCategory::II), Some(700));
        assert_eq!(gust_interval_years(Edition::En1991, RiskCategory::II), None);
    }
}
