//! Bolts, stays, corner braces and screws.

use super::{
    calc::{Calc, SteelMember},
    dowel_joint::{DowelJoint, Layer},
    kind::Kind,
    row::State,
    screw_joint::ScrewJoint,
    survey::{Moment, Ready, Survey, across_bolt},
    wood_member::{Forces, HoleHere},
};
use crate::{
    catalogue::{Bolt, Family, ScrewKind, Shape, Silent},
    checks::{
        aisc360::angle_stay::AngleStay,
        model::{LinkRow, Rod, StayRow, TiltRun, dot},
    },
    design::Screws,
    frame::{Hole, HoleUse, Role},
    quantities::{GRAVITY, MM_PER_INCH, to_mm},
};

impl Survey<'_> {
    /// Axle, hinge and fixing bolts.
    pub(super) fn bolts(&mut self) {
        let runs = self.runs;
        for run in runs {
            for link in &run.skeleton.links {
                let (kind, bolt) = match link.kind {
                    "axle" | "hinge" => (Kind::Axle, self.frame.bolt),
                    "fixing bolt" => (Kind::FramePin, self.frame.pin),
                    _ => continue,
                };
                for moment in Self::each(std::slice::from_ref(run)) {
                    let [y, z] = across_bolt(&moment.response, link.member);
                    let force = y.hypot(z);
                    let Some(joint) = self.joint(run, link, bolt, [y, z], &moment) else { continue };
                    let calc = Calc::Dowel(DowelJoint { force_n: force, ..joint });
                    let part = format!("{} {}", link.kind, pair(run, link.rods));
                    let u = calc.utilisation(&mut Silent);
                    self.keep(&moment, &part, kind, u, || calc);
                }
            }
        }
    }

    fn joint(
        &self,
        run: &TiltRun,
        link: &LinkRow,
        bolt: &Bolt,
        [y, z]: [f64; 2],
        moment: &Moment<'_>,
    ) -> Option<DowelJoint> {
        let force = y.hypot(z);
        let direction = if force > 0.0 { [0.0, y / force, z / force] } else { [0.0, 0.0, 1.0] };
        let [a, b] = link.rods.map(|r| &run.skeleton.rods[r]);
        let near = |rod: &Rod, at: f64| rod.holes.iter().find(|h| (h.from_end_mm - at).abs() < 1.0).cloned();
        let holes = [near(a, link.at_mm[0])?, near(b, link.at_mm[1])?];
        let layers = [self.layer(a, &holes[0], direction, None), self.layer(b, &holes[1], direction, None)];
        let gap =
            (a.hole_at(&holes[0])[0] - b.hole_at(&holes[1])[0]).abs() - (a.section.width_mm + b.section.width_mm) / 2.0;
        Some(self.dowel(bolt, layers, gap, moment, force))
    }

    fn layer(&self, rod: &Rod, hole: &Hole, direction: [f64; 3], clear_mm: Option<f64>) -> Layer {
        let gauge = hole.gauge_mm;
        let end = hole.from_end_mm.min(rod.length_mm - hole.from_end_mm);
        Layer {
            specific_gravity: (rod.section.family == Family::Wood)
                .then(|| self.basis.wood.map(|w| w.species.specific_gravity()))
                .flatten(),
            thickness_mm: if rod.section.family == Family::Wood { rod.section.width_mm } else { rod.section.wall_mm },
            angle_deg: dot(rod.along, direction).abs().min(1.0).acos().to_degrees(),
            end_mm: clear_mm.map_or(end, |c| c.min(end)),
            edges_mm: [gauge.min(rod.section.depth_mm - gauge), gauge.max(rod.section.depth_mm - gauge)],
        }
    }

    fn dowel(&self, bolt: &Bolt, layers: [Layer; 2], gap_mm: f64, moment: &Moment<'_>, force_n: f64) -> DowelJoint {
        let [a, b] = layers;
        let (main, side) = if a.thickness_mm >= b.thickness_mm { (a, b) } else { (b, a) };
        DowelJoint {
            diameter_mm: bolt.diameter_mm,
            main,
            side,
            gap_mm: gap_mm.max(0.0),
            double: false,
            wet: self.basis.wet_service,
            made_wet: self.design.frame.treated,
            duration: moment.duration(),
            force_n,
            reversing: true,
        }
    }

    /// Stays and the bolts at their ends.
    pub(super) fn stays(&mut self) {
        let runs = self.runs;
        for run in runs {
            for stay in &run.skeleton.stays {
                let rod = &run.skeleton.rods[stay.stay];
                let ready = self.ready(rod, [stay.length_mm; 2]);
                for moment in Self::each(std::slice::from_ref(run)) {
                    let axial = moment.response.axial(stay.member);
                    self.stay(&moment, rod, stay, &ready, axial);
                    self.stay_pins(&moment, run, rod, stay, &ready, axial);
                }
            }
        }
    }

    fn stay(&mut self, moment: &Moment<'_>, rod: &Rod, stay: &StayRow, ready: &Ready, axial: f64) {
        let duration = moment.duration();
        match ready {
            Ready::Not(state) => self.not_checked(&rod.mark, Kind::Stay, state.clone()),
            Ready::Steel(member) if rod.section.shape == Shape::Angle => {
                let inch = |mm: f64| mm / MM_PER_INCH;
                let gauge = rod.holes.first().map_or(rod.section.depth_mm / 2.0, |h| h.gauge_mm);
                let shape = AngleStay {
                    length_in: inch(stay.length_mm),
                    gauge_in: inch(gauge),
                    beyond_in: 0.0,
                    hole_in: inch(self.frame.pin.hole_mm),
                };
                let calc = Calc::AngleStay(*member, shape, -axial);
                let u = calc.utilisation(&mut Silent);
                self.keep(moment, &rod.mark, Kind::Stay, u, || calc);
            }
            Ready::Steel(member) => self.steel_strut(moment, &rod.mark, *member, axial),
            Ready::Wood(..) => {
                let Some((member, strengths)) = ready.strengths(duration) else { return };
                let level = (stay.direction[0].hypot(stay.direction[1])).min(1.0);
                let kg_per_mm = member.section.area_mm2
                    * 1e-9
                    * crate::catalogue::density(member.values.g, if member.wet { 28.0 } else { 19.0 });
                let own = kg_per_mm * GRAVITY * level * stay.length_mm.powi(2) / 8.0;
                let forces = Forces { axial_n: axial, strong_nmm: own, ..Forces::default() };
                // Compression runs between holes through the bolt-filled section; tension is looked at in the net one.
                let hole = (axial > 0.0).then_some(HoleHere {
                    diameter_mm: self.frame.pin.hole_mm,
                    from_edge_mm: rod.section.depth_mm / 2.0,
                });
                let u = strengths.clone().and_then(|s| member.combined(&mut Silent, &s, &forces, hole));
                self.keep(moment, &rod.mark, Kind::Stay, u, || Calc::Wood(*member, duration, forces, hole));
            }
        }
    }

    fn steel_strut(&mut self, moment: &Moment<'_>, part: &str, member: SteelMember, axial: f64) {
        let calc = Calc::Steel(member, Forces { axial_n: axial, ..Forces::default() });
        let u = calc.utilisation(&mut Silent);
        self.keep(moment, part, Kind::Stay, u, || calc);
    }

    fn stay_pins(&mut self, moment: &Moment<'_>, run: &TiltRun, rod: &Rod, stay: &StayRow, ready: &Ready, axial: f64) {
        let row = &self.frame.row[run.row];
        let in_stay = rod.holes.iter().any(|h| h.use_ == HoleUse::Row);
        for (kind, (other, at)) in [(Kind::FramePin, stay.upper), (Kind::FixedPin, stay.lower)] {
            let other_rod = &run.skeleton.rods[other];
            let Some(other_hole) = other_rod.holes.iter().find(|h| (h.from_end_mm - at).abs() < 1.0) else { continue };
            let mine = match kind {
                Kind::FramePin => rod.holes.iter().find(|h| h.use_ == HoleUse::FramePin),
                _ if in_stay => {
                    rod.holes.iter().find(|h| h.use_ == HoleUse::Row && h.tilts_deg.first() == row.tilts_deg.first())
                }
                _ => rod.holes.iter().find(|h| h.use_ == HoleUse::FixedPin),
            };
            let Some(mine) = mine else { continue };
            let clear = row.clear_mm;
            let at_row = kind == Kind::FixedPin;
            let mut stay_layer = self.layer(rod, mine, stay.direction, clear.filter(|_| at_row && in_stay));
            stay_layer.angle_deg = 0.0;
            let other_layer = self.layer(other_rod, other_hole, stay.direction, clear.filter(|_| at_row && !in_stay));
            let gap = (other_rod.hole_at(other_hole)[0] - rod.start[0]).abs()
                - (other_rod.section.width_mm + rod.section.width_mm) / 2.0;
            let joint = self.dowel(self.frame.pin, [stay_layer, other_layer], gap, moment, axial.abs());
            if stay_layer.specific_gravity.is_none() && other_layer.specific_gravity.is_none() {
                self.not_checked(&rod.mark, kind, State::NotChecked("bolts between steel parts".to_string()));
                continue;
            }
            let calc = Calc::Dowel(joint);
            let part = format!("{} to {}", rod.mark, other_rod.mark);
            let u = calc.utilisation(&mut Silent);
            self.keep(moment, &part, kind, u, || calc);
            // Only a pull tears the wood between the pin and the end or the next hole.
            if axial > 0.0
                && let Some((member, Ok(_))) = ready.strengths(moment.duration())
            {
                let calc = Calc::TearOut(*member, moment.duration(), axial, stay_layer.end_mm);
                let u = calc.utilisation(&mut Silent);
                self.keep(moment, &part, Kind::TearOut, u, || calc);
            }
        }
    }

    /// Corner braces and their screws.
    pub(super) fn braces(&mut self) {
        let runs = self.runs;
        for run in runs {
            for &(member_id, r) in &run.skeleton.braces {
                let rod = &run.skeleton.rods[r];
                let ready = self.ready(rod, [rod.length_mm; 2]);
                for moment in Self::each(std::slice::from_ref(run)) {
                    let axial = moment.response.axial(member_id);
                    let duration = moment.duration();
                    match &ready {
                        Ready::Wood(..) => {
                            let Some((member, strengths)) = ready.strengths(duration) else { continue };
                            let forces = Forces { axial_n: axial, ..Forces::default() };
                            let u = strengths.clone().and_then(|s| member.combined(&mut Silent, &s, &forces, None));
                            self.keep(&moment, &rod.mark, Kind::Brace, u, || {
                                Calc::Wood(*member, duration, forces, None)
                            });
                        }
                        Ready::Steel(member) => {
                            let calc = Calc::Steel(*member, Forces { axial_n: axial, ..Forces::default() });
                            let u = calc.utilisation(&mut Silent);
                            self.keep(&moment, &rod.mark, Kind::Brace, u, || calc);
                        }
                        Ready::Not(state) => self.not_checked(&rod.mark, Kind::Brace, state.clone()),
                    }
                    if let Some(screws) = self.basis.joints.brace {
                        let calc = self.screws(screws, rod.section.width_mm, false, &moment, [axial, 0.0]);
                        self.keep_screws(&moment, &rod.mark, Kind::BraceScrews, calc);
                    }
                }
            }
        }
    }

    fn screws(
        &self,
        screws: Screws,
        side_mm: f64,
        end_grain: bool,
        moment: &Moment<'_>,
        [lateral, pull]: [f64; 2],
    ) -> Option<Calc> {
        let wood = self.basis.wood?;
        Some(Calc::Screws(ScrewJoint {
            screw: screws.screw,
            length_mm: to_mm(screws.length),
            count: screws.count,
            side_mm,
            steel_side: false,
            specific_gravity: wood.species.specific_gravity(),
            end_grain,
            wet: self.basis.wet_service,
            duration: moment.duration(),
            lateral_n: lateral,
            pull_n: pull,
        }))
    }

    fn keep_screws(&mut self, moment: &Moment<'_>, part: &str, kind: Kind, calc: Option<Calc>) {
        let Some(calc) = calc else { return };
        let u = calc.utilisation(&mut Silent);
        self.keep(moment, part, kind, u, || calc);
    }

    /// Screws through a rail into the end of an upright, or through a stile into the end of a rail.
    pub(super) fn corners(&mut self) {
        let Some(screws) = self.basis.joints.corner else { return };
        let runs = self.runs;
        let mut pulled: f64 = 0.0;
        for run in runs {
            for rod in run.skeleton.rods.iter().filter(|r| r.is_rail() || r.is_upright()) {
                for end in 0..2 {
                    if !rod.is_tied(end) {
                        continue;
                    }
                    let Some(segment) = (if end == 0 { rod.segments.first() } else { rod.segments.last() }) else {
                        continue;
                    };
                    let through = if rod.is_rail() { self.design.frame.stile } else { self.design.frame.rail };
                    for moment in Self::each(std::slice::from_ref(run)) {
                        let f = moment.response.end_forces(segment.member);
                        let (axial, lateral) =
                            if end == 0 { (-f[0], f[1].hypot(f[2])) } else { (f[6], f[7].hypot(f[8])) };
                        // Only lag screws may be pulled out of end grain; of others the pull is noted and refused as a whole.
                        let lag = screws.screw.kind == ScrewKind::Lag;
                        pulled = if lag { 0.0 } else { pulled.max(axial) };
                        let pull = if lag { axial.max(0.0) } else { 0.0 };
                        let calc = self.screws(screws, through.width_mm, true, &moment, [lateral, pull]);
                        self.keep_screws(&moment, &rod.mark, Kind::CornerScrews, calc);
                    }
                }
            }
        }
        self.corner_pull_n = pulled;
    }

    /// Purlins pressed on the members they cross, and their screws when they are pulled off.
    pub(super) fn seats(&mut self) {
        let runs = self.runs;
        for run in runs {
            for link in run.skeleton.links.iter().filter(|l| l.kind == "purlin seat") {
                let [stile, purlin] = link.rods.map(|r| &run.skeleton.rods[r]);
                let ready = self.ready(purlin, [purlin.length_mm; 2]);
                for moment in Self::each(std::slice::from_ref(run)) {
                    let pull = moment.response.axial(link.member);
                    let duration = moment.duration();
                    if let Some((member, _)) = ready.strengths(duration)
                        && pull < 0.0
                    {
                        let area = [stile.section.width_mm, purlin.section.depth_mm];
                        let calc = Calc::Across(*member, duration, -pull, area);
                        let u = calc.utilisation(&mut Silent);
                        self.keep(&moment, &purlin.mark, Kind::Bearing, u, || calc);
                    }
                    if let Some(screws) = self.basis.joints.purlin {
                        let [y, z] = across_bolt(&moment.response, link.member);
                        let calc =
                            self.screws(screws, purlin.section.width_mm, false, &moment, [y.hypot(z), pull.max(0.0)]);
                        self.keep_screws(&moment, &format!("{} screws", purlin.mark), Kind::Purlins, calc);
                    } else {
                        let why = "the design names no screws: `joints.purlin`".to_string();
                        let part = format!("{} screws", purlin.mark);
                        if self.worst.beats(&part, Kind::Purlins, f64::INFINITY) {
                            self.not_checked(&part, Kind::Purlins, State::NotChecked(why));
                        }
                    }
                }
            }
        }
    }
}

fn pair(run: &TiltRun, rods: [usize; 2]) -> String {
    // The same two marks in the same order, whichever stands left.
    let mut marks = rods.map(|r| run.skeleton.rods[r].mark.clone());
    marks.sort();
    format!("{}-{}", marks[0], marks[1])
}

/// Is this role a member that holds panels?
pub(super) fn holds_panels(role: Role) -> bool {
    matches!(role, Role::Rail | Role::MidRail | Role::Stile | Role::Mullion | Role::Purlin)
}
