//! Feet in the soil.

use super::{
    kind::Kind,
    row::State,
    survey::{Loading, Survey},
};
use crate::{
    catalogue::soils::CONCRETE_PCF,
    checks::model::{Rod, TiltRun},
    codes::{Ask, FTLB_PER_NMM, Foot, GradeForces, LBF_PER_N, Post},
    frame::InSoil,
    quantities::{MM_PER_FT, N_PER_LBF, to_mm},
};

/// Force and moment at grade that were looked at, and whether a stay is loose. The depth a post needs grows with both, so
/// that smaller ones of both need not be looked at.
#[derive(Default)]
struct Pushes(Vec<(bool, [f64; 2])>);

impl Pushes {
    /// Was a push at least as great looked at already? If not, it is from now on.
    fn cover(&mut self, loose: bool, grade: &GradeForces) -> bool {
        let [force, moment] = grade.resultant();
        if self.0.iter().any(|(l, [f, m])| *l == loose && *f >= force && *m >= moment) {
            return true;
        }
        self.0.retain(|(l, [f, m])| *l != loose || *f > force || *m > moment);
        self.0.push((loose, [force, moment]));
        false
    }
}

impl Survey<'_> {
    /// What stands in the soil: at the ground, in it, and under its foot.
    pub(super) fn feet_in_soil(&mut self) {
        let runs = self.runs;
        for run in runs {
            for &(node, r) in &run.skeleton.at_grade {
                let Some(InSoil { depth_mm, hole_diameter_mm }) = self.in_soil(r) else { continue };
                let rod = &run.skeleton.rods[r];
                let member = self.ready(rod, self.free(run, r));
                let at = rod.nodes.iter().find(|(_, n)| *n == node).map_or(0.0, |(t, _)| *t);
                let Some(segment) = rod.segments.iter().find(|s| (s.from_mm - at).abs() < 1.0) else { continue };
                let foot = rod.nodes.last().map(|(_, n)| *n);
                let mut seen = Pushes::default();
                for loading in Self::each(std::slice::from_ref(run)) {
                    let f = loading.response.end_forces(segment.member);
                    // Local y runs along the swing, local z across; see `GradeForces` for the signs.
                    let grade = GradeForces { swing: [f[1], -f[5]], across: [f[2], f[4]], axial_n: -f[0] };
                    match &member {
                        Ok(member) => {
                            let ask = Ask::Below(grade, depth_mm);
                            self.ask(&loading, &rod.mark, Kind::PostBelowGrade, &**member, ask);
                        }
                        Err(state) => self.not_checked(&rod.mark, Kind::PostBelowGrade, state.clone()),
                    }
                    if !seen.cover(loading.answered.loose, &grade) {
                        self.embedment(&loading, &rod.mark, &grade, [depth_mm, hole_diameter_mm]);
                    }
                    if let Some(foot) = foot {
                        let up = loading.response.reaction(foot)[2];
                        self.foot(&loading, rod, up, [depth_mm, hole_diameter_mm]);
                    }
                }
                self.frost(run, &rod.mark, depth_mm);
            }
        }
    }

    fn embedment(&mut self, loading: &Loading<'_>, part: &str, grade: &GradeForces, [depth, width]: [f64; 2]) {
        let Some(soil) = self.basis.soil else { return };
        let [force, bending] = grade.resultant();
        let post = Post {
            force_lb: force * LBF_PER_N,
            moment_ft_lb: bending * FTLB_PER_NMM,
            width_ft: width / MM_PER_FT,
            lateral_psf_per_ft: soil.soil.lateral_psf_per_ft,
            pressure_factor: if soil.movement_harmless { 2.0 } else { 1.0 },
        };
        self.take(loading, part, Kind::Embedment, self.codes.site().foot(Foot::Embedded(post, depth)));
    }

    fn foot(&mut self, loading: &Loading<'_>, rod: &Rod, up_n: f64, [depth, width]: [f64; 2]) {
        let Some(soil) = self.basis.soil else { return };
        let area = rod.section.area_mm2;
        let volume_ft3 = (std::f64::consts::FRAC_PI_4 * width * width - area) * depth / MM_PER_FT.powi(3);
        let concrete_n = volume_ft3 * CONCRETE_PCF * N_PER_LBF;
        let pressed = Foot::Round((up_n + concrete_n).max(0.0), width, soil.soil.bearing_psf);
        let lifted = Foot::Lifted((-up_n).max(0.0), [width, depth, area]);
        for (kind, foot) in [(Kind::BaseBearing, pressed), (Kind::Uplift, lifted)] {
            self.take(loading, &rod.mark, kind, self.codes.site().foot(foot));
        }
    }

    fn frost(&mut self, run: &TiltRun, part: &str, depth: f64) {
        let Some(frost) = self.basis.soil.and_then(|s| s.frost_depth) else { return };
        let calc = self.codes.site().foot(Foot::Frost(to_mm(frost), depth));
        self.keep_plain(run, part, Kind::Frost, "any season".to_string(), &State::Value, calc);
    }
}
