//! What makes a frame feel firm: deflection, twist, sway, frequency.
//!
//! Movement counts under dead load, snow and wind, as the rows of IBC Table 1604.3 have it, at the service level of the
//! combinations (0.6 W). A person who leans on the frame is a case for strength only.

use super::{
    joints::holds_panels,
    kind::Kind,
    row::State,
    survey::{Loading, Survey},
};
use crate::{
    analysis::{NodeId, Response},
    checks::model::{Rod, TiltRun},
    codes::{Calc, DeflectionCase, Limit},
    frame::{
        PanelPlace,
        vector::{dot, minus, plus, scaled},
    },
    loads::Action,
};

impl Survey<'_> {
    /// Everything that is not strength.
    pub(super) fn service(&mut self) {
        let runs = self.runs;
        for run in runs {
            self.frequency(run);
            let sticks: Vec<(&Rod, f64)> = run
                .skeleton
                .rods
                .iter()
                .filter(|r| holds_panels(r.role))
                .map(|rod| (rod, run.results.find("dead").map_or(0.0, |dead| sag_mm(&dead, rod))))
                .collect();
            let panels: Vec<(String, &PanelPlace, [NodeId; 4])> = self
                .frame
                .panels
                .iter()
                .zip(run.skeleton.panel_corners())
                .enumerate()
                .map(|(index, (panel, corners))| (format!("panel {}", index + 1), panel, corners))
                .collect();
            for loading in Self::each(std::slice::from_ref(run)) {
                if loading.answered.loose || leans(&loading) {
                    continue;
                }
                for (rod, dead_mm) in &sticks {
                    self.sag(&loading, rod, *dead_mm);
                }
                for (part, panel, corners) in &panels {
                    self.twist(&loading, part, panel, corners);
                }
                self.sway(&loading);
            }
        }
    }

    fn frequency(&mut self, run: &TiltRun) {
        let state = match self.basis.soil.and_then(|soil| soil.subgrade) {
            Some(_) => State::Value,
            None => State::Judgement("soil springs by judgement".to_string()),
        };
        let state = if self.frame.in_soil().is_some() { state } else { State::Value };
        self.keep_plain(
            run,
            "frame",
            Kind::Frequency,
            "own weight and panels".to_string(),
            &state,
            Ok(Calc::Limit(Limit::Rigid(run.frequency_hz))),
        );
    }

    /// Largest departure of a stick's nodes from the line between its ends.
    fn sag(&mut self, loading: &Loading<'_>, rod: &Rod, dead_mm: f64) {
        let now = sag_mm(&loading.response, rod);
        let dead_case = loading
            .answered
            .combination
            .factors
            .iter()
            .find(|(c, _)| loading.run.loads.cases[*c].action == Action::Dead);
        let dead = dead_case.map_or(0.0, |(_, factor)| factor * dead_mm);
        let short = (now - dead).abs();
        let wet = self.basis.wet_service;
        let own = self.basis.serviceability;
        for (long, limit) in [
            (dead.abs(), self.rules.deflection(own.deflection_total, DeflectionCase::Total)),
            (0.0, self.rules.deflection(own.deflection, DeflectionCase::SnowOrWind)),
        ] {
            let limit = Limit::Sag([long, short, rod.length_mm], wet, limit);
            self.take(loading, &rod.mark, Kind::Deflection, Ok(Calc::Limit(limit)));
        }
    }

    fn twist(&mut self, loading: &Loading<'_>, part: &str, panel: &PanelPlace, corners: &[NodeId; 4]) {
        let (_, out) = loading.run.skeleton.slope_axes();
        let corners = corners.map(|node| {
            let d = loading.response.displacement(node);
            dot([d[0], d[1], d[2]], out)
        });
        let side = (panel.x_mm[1] - panel.x_mm[0]).min(panel.u_mm[1] - panel.u_mm[0]);
        let limit = Limit::Twisted(corners, side, self.rules.twist(self.basis.serviceability.twist));
        self.take(loading, part, Kind::Twist, Ok(Calc::Limit(limit)));
    }

    fn sway(&mut self, loading: &Loading<'_>) {
        for (r, rod) in loading.run.skeleton.rods.iter().enumerate() {
            if self.in_soil(r).is_none() {
                continue;
            }
            let Some((_, top)) = rod.nodes.first() else { continue };
            let d = loading.response.displacement(*top);
            let limit = self.rules.sway(self.basis.serviceability.sway);
            let limit = Limit::Swayed(d[0].hypot(d[1]), self.frame.axis_above_surface_mm(), limit);
            self.take(loading, &rod.mark, Kind::Sway, Ok(Calc::Limit(limit)));
        }
    }
}

fn leans(loading: &Loading<'_>) -> bool {
    loading.answered.combination.factors.iter().any(|(c, _)| loading.run.loads.cases[*c].action == Action::Handling)
}

fn sag_mm(response: &Response<'_>, rod: &Rod) -> f64 {
    let moved = |node| {
        let d = response.displacement(node);
        [d[0], d[1], d[2]]
    };
    let (Some(&(a, first)), Some(&(b, last))) = (rod.nodes.first(), rod.nodes.last()) else { return 0.0 };
    if b - a < 1.0 {
        return 0.0;
    }
    let ends = [moved(first), moved(last)];
    let (mut most, third): (f64, _) = (0.0, rod.third());
    for &(t, node) in &rod.nodes {
        let share = (t - a) / (b - a);
        let chord = plus(scaled(ends[0], 1.0 - share), scaled(ends[1], share));
        let away = minus(moved(node), chord);
        let (y, z) = (dot(away, rod.across), dot(away, third));
        most = most.max(y * y + z * z);
    }
    most.sqrt()
}
