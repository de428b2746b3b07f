//! The loads as they are written.

use super::super::{WrittenBasis, WrittenPanelLoad, WrittenSnow, judge::Judge};

impl Judge<'_> {
    /// Each entry as it is written. What is missing, mixed or out of its range is told by [`WrittenBasis::resolve`].
    pub(in crate::design) fn loads(&mut self) -> Option<WrittenBasis> {
        if !self.is_written("loads") {
            return None;
        }
        Some(WrittenBasis {
            edition: self.choice("loads.edition"),
            gust: self.get("loads.gust"),
            basic_wind: self.get("loads.basic_wind"),
            exposure: self.choice("loads.exposure"),
            terrain: self.choice("loads.terrain"),
            risk_category: self.choice("loads.risk_category"),
            elevation: self.get("loads.elevation"),
            topography: self.get("loads.topography"),
            snow: self.is_written("loads.snow").then(|| self.snow()),
            panel_design_load: self.is_written("loads.panel_design_load").then(|| WrittenPanelLoad {
                face: self.get("loads.panel_design_load.face"),
                back: self.get("loads.panel_design_load.back"),
            }),
            below: self.choice_or_default("loads.below"),
            form: self.choice_or_default("loads.form"),
        })
    }

    fn snow(&mut self) -> WrittenSnow {
        WrittenSnow {
            edition: self.choice("loads.snow.edition"),
            ground: self.get("loads.snow.ground"),
            around: self.choice("loads.snow.around"),
            slides_off: self.get_or_default("loads.snow.slides_off"),
        }
    }
}
