//! Panels, clips and purlins under component pressures.

use super::{
    kind::Kind,
    row::{Row, State},
    survey::Survey,
};
use crate::{
    catalogue::{Family, Silent, Trace, bolt},
    checks::model::TiltRun,
    codes::{Ask, Calc, Joint, Limit, Member, Refusal, ScrewJoint, head_mm},
    design::Seating,
    frame::{self, JointUse, PanelPlace, Part, Role},
    loads::{Action, Duration, asce7::wind_components::ComponentPressure},
    quantities::{to_mm, to_pa},
};

/// Thickness of a clip's plate (mm): 12 gauge sheet. Common practice, no source.
const CLIP_PLATE_MM: f64 = 2.7;

impl Survey<'_> {
    /// Every panel at every tilt.
    pub(super) fn panels(&mut self) {
        let runs = self.runs;
        for run in runs {
            for (index, panel) in self.frame.panels.iter().enumerate() {
                let name = format!("panel {}", index + 1);
                match component(run, panel, None, &mut Silent) {
                    None => {
                        let why = run.loads.refused.first().map_or("no wind clause applies", |r| r.why.as_str());
                        for kind in [Kind::PanelLoad, Kind::Clips] {
                            self.not_checked(&name, kind, State::Refused(why.to_string()));
                        }
                    }
                    Some(pressure) => {
                        self.rated(run, panel, &name, &pressure);
                        self.clip(run, (index, panel), &name, &pressure);
                    }
                }
            }
            self.purlins(run);
        }
    }

    /// Heaviest snow on a panel, square to it (Pa), with its case.
    fn snow_pa(run: &TiltRun, panel: &PanelPlace) -> (f64, String) {
        let [x, u] = shares(run, panel);
        let area = run.loads.surface.area_mm2() * 1e-6 * (x[1] - x[0]) * (u[1] - u[0]);
        run.loads
            .cases
            .iter()
            .filter(|c| c.action == Action::Snow)
            .filter_map(|c| {
                c.surface().map(|s| (s.resultant_on(&run.loads.surface, u, x).normal_n / area, c.id.clone()))
            })
            .fold((0.0, String::new()), |best, next| if next.0 > best.0 { next } else { best })
    }

    fn rated(&mut self, run: &TiltRun, panel: &PanelPlace, name: &str, wind: &ComponentPressure) {
        let [face, back] = self.basis.loads.panel_design_load.map(to_pa);
        let (snow, snow_case) = Self::snow_pa(run, panel);
        let (s, w) = (self.rules.snow(&self.basis.loads.snow), self.rules.wind);
        let [both_s, both_w] = self.rules.snow_and_wind;
        let candidates = [
            (w * wind.onto_face_pa, face, "component wind onto the face, 0.6 W".to_string()),
            (w * wind.off_face_pa, back, "component wind off the face, 0.6 W".to_string()),
            (s * snow, face, format!("{snow_case}, S")),
            (
                both_s * s * snow + both_w * wind.onto_face_pa,
                face,
                format!("{snow_case} with component wind, 0.75 S + 0.45 W"),
            ),
        ];
        for (pressure, rated, case) in candidates {
            self.keep_plain(
                run,
                name,
                Kind::PanelLoad,
                case,
                &State::of_load(&wind.state),
                Ok(Calc::Limit(Limit::Rated(pressure, rated))),
            );
        }
    }

    fn clip(&mut self, run: &TiltRun, (index, panel): (usize, &PanelPlace), name: &str, wind: &ComponentPressure) {
        let joints = &self.basis.joints;
        if self.metal_frame() {
            let why = "clips on metal members: their screws or bolts are not part of a design";
            self.not_checked(name, Kind::Clips, State::NotChecked(why.to_string()));
            return;
        }
        let (Some(screws), Some(clips), Some(wood)) = (joints.clip, joints.clips_per_panel, self.basis.wood) else {
            self.bolted(run, (index, panel), name, wind);
            return;
        };
        let area = (panel.x_mm[1] - panel.x_mm[0]) * (panel.u_mm[1] - panel.u_mm[0]) * 1e-6;
        // As many as the design says, and no more than find a hole of the panel where its holes are told.
        let placed = self.joints_of(index, JointUse::Clip).count();
        let clips = f64::from(clips).min(if placed > 0 { placed as f64 } else { f64::MAX });
        let lift = self.rules.wind * wind.off_face_pa * area / clips;
        // A clip inside a bay is screwed to the side of its member; one on top is pulled off it.
        let inset = matches!(self.design.frame.seating, Seating::Inset { .. });
        let (lateral_n, pull_n) = if inset { (lift, 0.0) } else { (0.0, lift) };
        let joint = Joint::Screwed(ScrewJoint {
            screw: screws.screw,
            length_mm: to_mm(screws.length),
            count: screws.count,
            side_mm: CLIP_PLATE_MM,
            steel_side: true,
            head_mm: head_mm(screws.screw),
            specific_gravity: wood.species.specific_gravity(),
            end_grain: false,
            wet: self.basis.wet_service,
            duration: Duration::TenMinutes,
            lateral_n,
            pull_n,
        });
        let calc = self.codes.of_family(Family::Wood).joint(joint);
        let case = "component wind off the face, 0.6 W, weight not counted".to_string();
        self.keep_plain(run, name, Kind::Clips, case, &State::of_load(&wind.state), calc);
    }

    /// Is any outer member of the frame of metal?
    fn metal_frame(&self) -> bool {
        let outer = |role: Role| matches!(role, Role::Rail | Role::Stile | Role::Mullion);
        self.frame.sticks.iter().any(|stick| outer(stick.role) && stick.section.family != Family::Wood)
    }

    /// The joints of a panel that do one thing.
    fn joints_of(&self, panel: usize, use_: JointUse) -> impl Iterator<Item = &frame::Joint> {
        self.frame.joints.iter().filter(move |joint| joint.use_ == use_ && joint.parts.contains(&Part::Panel(panel)))
    }

    /// A panel bolted to its purlins at its four mounting holes: the washer below each purlin presses across the grain.
    /// The bolt itself is not asked: its root holds many times what wood holds under a washer of its size.
    fn bolted(&mut self, run: &TiltRun, (index, panel): (usize, &PanelPlace), name: &str, wind: &ComponentPressure) {
        let joints: Vec<_> = self.joints_of(index, JointUse::PanelBolt).collect();
        let Some((purlin, fastener)) = joints.first().and_then(|joint| match joint.parts.first()? {
            Part::Stick(purlin) => Some((*purlin, joint.fasteners.first()?)),
            Part::Panel(_) => None,
        }) else {
            return;
        };
        let Ok(member) = self.ready(&run.skeleton.rods[purlin], self.free(run, purlin)) else { return };
        let Ok(bolt) = bolt(fastener.size) else { return };
        let area = (panel.x_mm[1] - panel.x_mm[0]) * (panel.u_mm[1] - panel.u_mm[0]) * 1e-6;
        let lift = self.rules.wind * wind.off_face_pa * area / joints.len() as f64;
        let side = bolt.washer.bearing_area_mm2(bolt.hole_mm).sqrt();
        let case = "component wind off the face, 0.6 W, weight not counted".to_string();
        self.ask_gust(run, (name, Kind::Clips, case), wind, &*member, Ask::Pressed(lift, [side, side]));
    }

    fn purlins(&mut self, run: &TiltRun) {
        let purlins: Vec<usize> =
            (0..run.skeleton.rods.len()).filter(|r| run.skeleton.rods[*r].role == Role::Purlin).collect();
        for r in purlins {
            let rod = &run.skeleton.rods[r];
            let member = match self.ready(rod, self.free(run, r)) {
                Ok(member) => member,
                Err(state) => {
                    self.not_checked(&rod.mark, Kind::Purlins, state);
                    continue;
                }
            };
            let mut seats: Vec<f64> =
                run.skeleton.links.iter().filter(|l| l.rods[1] == r).map(|l| l.at_mm[1]).collect();
            seats.sort_by(f64::total_cmp);
            let span = seats.windows(2).map(|w| w[1] - w[0]).fold(0.0, f64::max);
            for panel in &self.frame.panels {
                let strip = (panel.u_mm[1] - panel.u_mm[0]) / 2.0;
                // The effective area of a member is its span times at least a third of it.
                let area = span * strip.max(span / 3.0);
                let Some(wind) = component(run, panel, Some(area), &mut Silent) else { continue };
                let pressure = self.rules.wind * wind.onto_face_pa.max(wind.off_face_pa);
                let case = "component wind, 0.6 W, simple spans".to_string();
                let ask = Ask::Spanning([pressure, strip, span]);
                self.ask_gust(run, (&rod.mark, Kind::Purlins, case), &wind, &*member, ask);
            }
        }
    }

    /// Asks a member under a gust as a component meets it.
    fn ask_gust(
        &mut self,
        run: &TiltRun,
        (part, kind, case): (&str, Kind, String),
        wind: &ComponentPressure,
        member: &dyn Member,
        ask: Ask,
    ) {
        let duration = Duration::TenMinutes;
        match member.answer(duration, &ask) {
            None => {}
            Some(Err(refusal @ Refusal::NotHeld(_))) => self.not_checked(part, kind, State::of_refusal(&refusal)),
            Some(_) => {
                let calc = Ok(member.calc(duration, ask));
                self.keep_plain(run, part, kind, case, &State::of_load(&wind.state), calc);
            }
        }
    }

    /// Keeps a row that belongs to no combination of the analysis.
    pub(super) fn keep_plain(
        &mut self,
        run: &TiltRun,
        part: &str,
        kind: Kind,
        case: String,
        state: &State,
        calc: Result<Calc, Refusal>,
    ) {
        let calc = match calc {
            Ok(calc) => calc,
            Err(refusal) => return self.not_checked(part, kind, State::of_refusal(&refusal)),
        };
        let (utilisation, state) = match calc.utilisation(&mut Silent) {
            Ok(u) => (Some(u), state.clone()),
            Err(refusal) => (None, State::of_refusal(&refusal)),
        };
        let tilt_deg = Some(run.skeleton.tilt_deg);
        self.worst.push(Row {
            part: part.to_string(),
            kind,
            tilt_deg,
            case,
            answer: None,
            utilisation,
            state,
            calc: Some(calc),
        });
    }
}

/// The part of the surface a panel covers, as shares across and up the slope.
fn shares(run: &TiltRun, panel: &PanelPlace) -> [[f64; 2]; 2] {
    let (x, u, _) = run.skeleton.panel_field();
    let share = |v: f64, [from, to]: [f64; 2]| ((v - from) / (to - from)).clamp(0.0, 1.0);
    [panel.x_mm.map(|v| share(v, x)), panel.u_mm.map(|v| share(v, u))]
}

/// Component pressures on a panel, or on the part of it that an effective wind area gives \[mm²\].
pub(in crate::checks) fn component<T: Trace>(
    run: &TiltRun,
    panel: &PanelPlace,
    area_mm2: Option<f64>,
    trace: &mut T,
) -> Option<ComponentPressure> {
    let [x, u] = shares(run, panel);
    let area = area_mm2.unwrap_or((panel.x_mm[1] - panel.x_mm[0]) * (panel.u_mm[1] - panel.u_mm[0]));
    run.loads.component(u, x, area, trace)
}
