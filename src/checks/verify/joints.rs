//! Bolts, stays, corner braces and screws.

use super::{
    kind::Kind,
    row::State,
    survey::{Loading, Survey, across_bolt},
};
use crate::{
    catalogue::{Bolt, Family, ScrewKind, bolt},
    checks::model::{Link, LinkRow, Rod, StayRow, TiltRun},
    codes::{
        Ask, Calc, DowelJoint, Forces, Free, Joint, Layer, Member, PinPlace, Refusal, ScrewJoint, Strut,
        grade_of_bolts, head_mm,
    },
    design::Screws,
    frame::{
        self, Fastener, Hole, HoleUse, JointUse, Part, Role, Stick,
        vector::{cross, dot, length, minus, plus},
        washer_mm,
    },
    loads::Duration,
    quantities::to_mm,
};

impl Survey<'_> {
    /// Axle, hinge, and what holds cheeks and cleats.
    pub(super) fn bolts(&mut self) {
        let (frame, runs) = (self.frame, self.runs);
        for joint in &frame.joints {
            let JointUse::Bolt(use_) = joint.use_ else { continue };
            let kind = match use_ {
                HoleUse::Axle | HoleUse::Hinge => Kind::Axle,
                HoleUse::CheekBolt | HoleUse::CleatScrew => Kind::FramePin,
                // They hold stays and feet, which have surveys of their own.
                HoleUse::FramePin | HoleUse::FixedPin | HoleUse::Row | HoleUse::FootBolt => continue,
            };
            let Some(bolt) = joint.fasteners.first().and_then(|fastener| bolt(fastener.size).ok()) else { continue };
            for run in runs {
                let joined =
                    |link: &&LinkRow| link.link == Link::Bolt(use_) && link.rods.iter().all(|r| holds(joint, *r));
                for link in run.skeleton.links.iter().filter(joined) {
                    self.bolt(
                        run,
                        link,
                        (kind, use_),
                        bolt,
                        self.thread_in_last(joint).filter(|last| link.rods.contains(last)),
                    );
                }
            }
        }
    }

    /// One bolt between two layers under every combination; the stick that its thread bears on, where it does.
    fn bolt(
        &mut self,
        run: &TiltRun,
        link: &LinkRow,
        (kind, use_): (Kind, HoleUse),
        bolt: &Bolt,
        threaded: Option<usize>,
    ) {
        let part = format!("{} {}", use_.word(), pair(run, link.rods));
        for loading in Self::each(std::slice::from_ref(run)) {
            let [y, z] = across_bolt(&loading.response, link.member);
            let force_n = y.hypot(z);
            let Some(joint) = self.joint(run, link, bolt, [y, z], &loading) else { continue };
            let pull_n = loading.response.axial(link.member).max(0.0);
            let joint = DowelJoint { force_n, pull_n, threads_bear: threaded.is_some(), ..joint };
            self.take(&loading, &part, kind, self.on_bolt(run, link.rods, joint));
        }
    }

    /// What the code of two rods says of the bolt between them.
    fn on_bolt(&self, run: &TiltRun, rods: [usize; 2], joint: DowelJoint) -> Result<Calc, Refusal> {
        self.codes.of_joint(rods.map(|r| run.skeleton.rods[r].section.family)).joint(Joint::Bolted(joint))
    }

    fn joint(
        &self,
        run: &TiltRun,
        link: &LinkRow,
        bolt: &Bolt,
        [y, z]: [f64; 2],
        loading: &Loading<'_>,
    ) -> Option<DowelJoint> {
        let force = y.hypot(z);
        let direction = if force > 0.0 { [0.0, y / force, z / force] } else { [0.0, 0.0, 1.0] };
        let [a, b] = link.rods.map(|r| &run.skeleton.rods[r]);
        let holes = [near(a, link.at_mm[0])?, near(b, link.at_mm[1])?];
        let layers = [self.layer(a, holes[0], direction, None), self.layer(b, holes[1], direction, None)];
        let gap =
            (a.hole_at(holes[0])[0] - b.hole_at(holes[1])[0]).abs() - (a.section.ply_mm() + b.section.ply_mm()) / 2.0;
        Some(self.dowel(bolt, layers, gap, loading, force))
    }

    fn layer(&self, rod: &Rod, hole: &Hole, direction: [f64; 3], clear_mm: Option<f64>) -> Layer {
        let gauge = hole.gauge_mm;
        let end = hole.from_end_mm.min(rod.length_mm - hole.from_end_mm);
        Layer {
            material: self.codes.layer_material(rod.section, hole.diameter_mm),
            thickness_mm: rod.section.ply_mm(),
            angle_deg: dot(rod.along, direction).abs().min(1.0).acos().to_degrees(),
            end_mm: clear_mm.map_or(end, |c| c.min(end)),
            edges_mm: [gauge.min(rod.section.depth_mm - gauge), gauge.max(rod.section.depth_mm - gauge)],
        }
    }

    fn dowel(&self, bolt: &Bolt, layers: [Layer; 2], gap_mm: f64, loading: &Loading<'_>, force_n: f64) -> DowelJoint {
        let [a, b] = layers;
        let (main, side) = if a.thickness_mm >= b.thickness_mm { (a, b) } else { (b, a) };
        DowelJoint {
            diameter_mm: bolt.diameter_mm,
            root_mm: bolt.root_mm,
            grade: grade_of_bolts(self.design),
            threads_bear: false,
            main,
            side,
            gap_mm: gap_mm.max(0.0),
            double: false,
            wet: self.basis.wet_service,
            made_wet: self.design.frame.treated == Some(true),
            duration: loading.duration(),
            force_n,
            pull_n: 0.0,
            reversing: true,
        }
    }

    /// The last stick on a bolt, where its thread reaches farther than a quarter into it: then the root diameter counts
    /// (NDS §12.3.7).
    fn thread_in_last(&self, joint: &frame::Joint) -> Option<usize> {
        let fastener = joint.fasteners.first()?;
        let nut = fastener.nut?;
        // Washers lie between the nut and the last stick.
        let mut face_mm = nut.at_mm;
        let mut washers = fastener.washers.clone();
        washers.sort_by(|a, b| b.at_mm.total_cmp(&a.at_mm));
        for washer in washers {
            if (washer.at_mm + washer.thickness_mm - face_mm).abs() < 1e-6 {
                face_mm = washer.at_mm;
            }
        }
        let plain_mm = fastener.length_mm - bolt(fastener.size).ok()?.thread_length_mm(fastener.length_mm);
        let last = sticks(joint).last()?;
        (face_mm - plain_mm > 0.25 * self.frame.sticks[last].section.ply_mm()).then_some(last)
    }

    /// Does the thread of the bolt of that use through a stay bear?
    fn threads_bear(&self, use_: HoleUse, stay: usize) -> bool {
        let through = self.frame.joints.iter().filter(|j| j.use_ == JointUse::Bolt(use_) && holds(j, stay));
        through.filter_map(|joint| self.thread_in_last(joint)).next().is_some()
    }

    /// Stays and the bolts at their ends.
    pub(super) fn stays(&mut self) {
        let runs = self.runs;
        for run in runs {
            for stay in &run.skeleton.stays {
                let threads_bear =
                    [HoleUse::FramePin, HoleUse::FixedPin].map(|use_| self.threads_bear(use_, stay.stay));
                let rod = &run.skeleton.rods[stay.stay];
                // A stay without design values still bears on its pins.
                let member = match self.ready(rod, Free::pinned(stay.length_mm)) {
                    Ok(member) => Some(member),
                    Err(state) => {
                        self.not_checked(&rod.mark, Kind::Stay, state.clone());
                        self.not_checked(&rod.mark, Kind::TearOut, state);
                        None
                    }
                };
                let mut seen = Seen::default();
                for loading in Self::each(std::slice::from_ref(run)) {
                    let axial = loading.response.axial(stay.member);
                    if let Some(member) = &member {
                        self.stay(&loading, rod, stay, &**member, axial);
                    }
                    if !seen.covers(&loading, axial) {
                        self.stay_pins(&loading, rod, stay, member.as_deref(), axial, threads_bear);
                    }
                }
            }
        }
    }

    fn stay(&mut self, loading: &Loading<'_>, rod: &Rod, stay: &StayRow, member: &dyn Member, axial_n: f64) {
        let asked = member.strut(&Strut {
            axial_n,
            length_mm: stay.length_mm,
            level: stay.direction[0].hypot(stay.direction[1]).min(1.0),
            hole_mm: self.frame.pin.hole_mm,
            gauge_mm: rod.holes.first().map_or(rod.section.depth_mm / 2.0, |hole| hole.gauge_mm),
            washer_mm: washer_mm(self.frame.pin),
        });
        match asked {
            Ok(asked) => asked.into_iter().for_each(|ask| self.ask(loading, &rod.mark, Kind::Stay, member, ask)),
            Err(refusal) => self.not_checked(&rod.mark, Kind::Stay, State::of_refusal(&refusal)),
        }
    }

    fn stay_pins(
        &mut self,
        loading: &Loading<'_>,
        rod: &Rod,
        stay: &StayRow,
        member: Option<&dyn Member>,
        axial: f64,
        threads_bear: [bool; 2],
    ) {
        let run = loading.run;
        let row = &self.frame.row[run.row];
        let in_stay = rod.holes.iter().any(|h| h.use_ == HoleUse::Row);
        let used = |use_: HoleUse| rod.holes.iter().find(move |h| h.use_ == use_);
        let in_row =
            || rod.holes.iter().find(|h| h.use_ == HoleUse::Row && h.tilts_deg.first() == row.tilts_deg.first());
        let fixed = if in_stay { in_row() } else { used(HoleUse::FixedPin) };
        for (kind, (other, at), mine) in
            [(Kind::FramePin, stay.upper, used(HoleUse::FramePin)), (Kind::FixedPin, stay.lower, fixed)]
        {
            let other_rod = &run.skeleton.rods[other];
            let Some(other_hole) = near(other_rod, at) else { continue };
            let Some(mine) = mine else { continue };
            let clear = row.clear_mm;
            let at_row = kind == Kind::FixedPin;
            let mut stay_layer = self.layer(rod, mine, stay.direction, clear.filter(|_| at_row && in_stay));
            stay_layer.angle_deg = 0.0;
            let other_layer = self.layer(other_rod, other_hole, stay.direction, clear.filter(|_| at_row && !in_stay));
            let gap = (other_rod.hole_at(other_hole)[0] - plus(rod.start, rod.to_ply())[0]).abs()
                - (other_rod.section.ply_mm() + rod.section.ply_mm()) / 2.0;
            let joint = self.dowel(self.frame.pin, [stay_layer, other_layer], gap, loading, axial.abs());
            let joint = DowelJoint { threads_bear: threads_bear[usize::from(at_row)], ..joint };
            let part = format!("{} to {}", rod.mark, other_rod.mark);
            self.take(loading, &part, kind, self.on_bolt(run, [stay.stay, other], joint));
            // Only a pull tears what stands between the pin and the end or the next hole.
            if let Some(member) = member.filter(|_| axial > 0.0) {
                let [edge_mm, _] = stay_layer.edges_mm;
                let pin = PinPlace { end_mm: stay_layer.end_mm, edge_mm, hole_mm: mine.diameter_mm };
                self.ask(loading, &part, Kind::TearOut, member, Ask::TornOut(axial, pin));
            }
        }
    }

    /// Corner braces.
    pub(super) fn braces(&mut self) {
        let runs = self.runs;
        for run in runs {
            for &(member_id, r) in &run.skeleton.braces {
                let rod = &run.skeleton.rods[r];
                match self.ready(rod, Free::pinned(rod.length_mm)) {
                    Ok(member) => {
                        for loading in Self::each(std::slice::from_ref(run)) {
                            let axial_n = loading.response.axial(member_id);
                            let ask = Ask::Bent(Forces { axial_n, ..Forces::default() }, None);
                            self.ask(&loading, &rod.mark, Kind::Brace, &*member, ask);
                        }
                    }
                    Err(state) => self.not_checked(&rod.mark, Kind::Brace, state),
                }
            }
        }
    }

    /// Screws at both ends of the corner braces, each with what it goes through first.
    pub(super) fn brace_screws(&mut self) {
        let (frame, runs) = (self.frame, self.runs);
        let braces = runs.iter().flat_map(|run| run.skeleton.braces.iter().map(move |(member, r)| (run, *member, *r)));
        for (run, member, r) in braces {
            let mark = frame.mark(r);
            let ends: Vec<_> = frame.joints.iter().filter(|j| j.use_ == JointUse::Brace && holds(j, r)).collect();
            if ends.iter().any(|joint| joint.fasteners.is_empty()) {
                let why = "screws or bolts of metal braces are not part of a design";
                self.not_checked(mark, Kind::BraceScrews, State::NotChecked(why.to_string()));
                continue;
            }
            let Some(screws) = self.basis.joints.brace else { continue };
            let mut sides: Vec<(usize, f64)> = Vec::new();
            for joint in ends {
                sides
                    .extend(joint.fasteners.iter().map(|screw| (joint.fasteners.len(), self.through_mm(joint, screw))));
            }
            sides.dedup_by(|a, b| a.0 == b.0 && (a.1 - b.1).abs() < 1e-6);
            let mut seen = Seen::default();
            for loading in Self::each(std::slice::from_ref(run)) {
                let axial = loading.response.axial(member);
                if seen.covers(&loading, axial.abs()) {
                    continue;
                }
                for (count, side_mm) in &sides {
                    let joint = self.screws((screws, *count), *side_mm, false, &loading, [axial, 0.0]);
                    self.screwed(&loading, mark, Kind::BraceScrews, joint);
                }
            }
        }
    }

    /// What a screw goes through before it enters the last piece (mm): the first one where it is cut square, else all that
    /// lies before the face of the last.
    fn through_mm(&self, joint: &frame::Joint, screw: &Fastener) -> f64 {
        let mut sticks = sticks(joint).map(|stick| &self.frame.sticks[stick]);
        let (Some(first), Some(last)) = (sticks.next(), sticks.last()) else { return 0.0 };
        let square = first.ends_deg.iter().all(|end| end.abs() < 1e-9);
        if square { inside_mm(first, screw)[1] } else { inside_mm(last, screw)[0] }
    }

    fn screws(
        &self,
        (screws, count): (Screws, usize),
        side_mm: f64,
        end_grain: bool,
        loading: &Loading<'_>,
        [lateral, pull]: [f64; 2],
    ) -> Option<ScrewJoint> {
        let wood = self.basis.wood?;
        Some(ScrewJoint {
            screw: screws.screw,
            length_mm: to_mm(screws.length),
            count: count as u32,
            side_mm,
            steel_side: false,
            head_mm: head_mm(screws.screw),
            specific_gravity: wood.species.specific_gravity(),
            end_grain,
            wet: self.basis.wet_service,
            duration: loading.duration(),
            lateral_n: lateral,
            pull_n: pull,
        })
    }

    /// What the code of wood says of screws, where there is wood.
    fn screwed(&mut self, loading: &Loading<'_>, part: &str, kind: Kind, joint: Option<ScrewJoint>) {
        if let Some(joint) = joint {
            let calc = self.codes.of_family(Family::Wood).joint(Joint::Screwed(joint));
            self.take(loading, part, kind, calc);
        }
    }

    /// Screws through a rail into the end of an upright, or through a stile into the end of a rail.
    pub(super) fn corners(&mut self) {
        let (frame, runs) = (self.frame, self.runs);
        let corners: Vec<_> = frame.joints.iter().filter(|joint| joint.use_ == JointUse::Corner).collect();
        if corners.iter().any(|joint| joint.fasteners.is_empty()) {
            let why = "how rails and stiles of metal are joined, by welds or bolts, is not part of a design";
            self.not_checked("corners", Kind::CornerScrews, State::NotChecked(why.to_string()));
            return;
        }
        let Some(screws) = self.basis.joints.corner else { return };
        // Only lag screws may be pulled out of end grain; of others the pull is noted and refused as a whole.
        let lag = screws.screw.kind == ScrewKind::Lag;
        let mut pulled: f64 = 0.0;
        for run in runs {
            for corner in &corners {
                let Some((against, (r, end))) = butt(run, corner) else { continue };
                let rod = &run.skeleton.rods[r];
                let Some(segment) = (if end == 0 { rod.segments.first() } else { rod.segments.last() }) else {
                    continue;
                };
                let (side_mm, count) = (frame.sticks[against].section.width_mm, corner.fasteners.len());
                let mut seen = Seen::default();
                for loading in Self::each(std::slice::from_ref(run)) {
                    let f = loading.response.end_forces(segment.member);
                    let (axial, lateral) = if end == 0 { (-f[0], f[1].hypot(f[2])) } else { (f[6], f[7].hypot(f[8])) };
                    pulled = if lag { 0.0 } else { pulled.max(axial) };
                    let pull = if lag { axial.max(0.0) } else { 0.0 };
                    if pull == 0.0 && seen.covers(&loading, lateral) {
                        continue;
                    }
                    let joint = self.screws((screws, count), side_mm, true, &loading, [lateral, pull]);
                    self.screwed(&loading, &rod.mark, Kind::CornerScrews, joint);
                }
            }
        }
        self.corner_pull_n = pulled;
    }

    /// Purlins pressed on the members they cross, and their screws when they are pulled off.
    pub(super) fn seats(&mut self) {
        let (frame, runs) = (self.frame, self.runs);
        for run in runs {
            for link in run.skeleton.links.iter().filter(|l| l.link == Link::PurlinSeat) {
                let [stile, purlin] = link.rods.map(|r| &run.skeleton.rods[r]);
                let member = self.ready(purlin, Free::pinned(purlin.length_mm));
                let both = |j: &&frame::Joint| j.use_ == JointUse::Purlin && link.rods.iter().all(|r| holds(j, *r));
                let part = format!("{} screws", purlin.mark);
                let not = |why: &str| Err(State::NotChecked(why.to_string()));
                let Some(joint) = frame.joints.iter().find(both) else { continue };
                let screws = match self.basis.joints.purlin {
                    _ if joint.fasteners.is_empty() => {
                        not("screws or bolts between metal members are not part of a design")
                    }
                    None => not("the design names no screws: `joints.purlin`"),
                    Some(screws) => Ok((screws, joint.fasteners.len())),
                };
                for loading in Self::each(std::slice::from_ref(run)) {
                    let pull = loading.response.axial(link.member);
                    if let Ok(member) = &member
                        && pull < 0.0
                    {
                        let area = [stile.section.width_mm, purlin.section.depth_mm];
                        self.ask(&loading, &purlin.mark, Kind::Bearing, &**member, Ask::Pressed(-pull, area));
                    }
                    match &screws {
                        Ok(screws) => {
                            let [y, z] = across_bolt(&loading.response, link.member);
                            let forces = [y.hypot(z), pull.max(0.0)];
                            let joint = self.screws(*screws, purlin.section.width_mm, false, &loading, forces);
                            self.screwed(&loading, &part, Kind::Purlins, joint);
                        }
                        Err(state) => self.not_checked(&part, Kind::Purlins, state.clone()),
                    }
                }
            }
        }
    }
}

/// Sticks of a joint, from head to tip.
fn sticks(joint: &frame::Joint) -> impl Iterator<Item = usize> {
    joint.parts.iter().filter_map(|part| match part {
        Part::Stick(stick) => Some(*stick),
        Part::Panel(_) => None,
    })
}

/// Is a stick one of those that a joint holds?
fn holds(joint: &frame::Joint, stick: usize) -> bool {
    sticks(joint).any(|of| of == stick)
}

/// Of a corner: the stick that runs past, and the stick and end (0 the marked one) that butt against it.
fn butt(run: &TiltRun, joint: &frame::Joint) -> Option<(usize, (usize, usize))> {
    let mut of = sticks(joint);
    let (against, butted) = (of.next()?, of.next()?);
    let [past, rod] = [against, butted].map(|r| &run.skeleton.rods[r]);
    let away = [0.0, rod.length_mm].map(|end| {
        let point = rod.at(end);
        length(minus(point, past.at(past.foot(point))))
    });
    Some((against, (butted, usize::from(away[1] < away[0]))))
}

/// Where a screw enters a stick's box and where it leaves it, from under its head (mm).
fn inside_mm(stick: &Stick, screw: &Fastener) -> [f64; 2] {
    let from = minus(screw.from, stick.start);
    let half = stick.section.width_mm / 2.0;
    let slabs = [
        (stick.along, [0.0, stick.length_mm]),
        (stick.across, [0.0, stick.section.depth_mm]),
        (cross(stick.along, stick.across), [-half, half]),
    ];
    slabs.into_iter().fold([f64::NEG_INFINITY, f64::INFINITY], |[enters, leaves], (way, faces)| {
        let (at, slope) = (dot(from, way), dot(screw.axis, way));
        if slope.abs() < 1e-9 {
            return [enters, leaves];
        }
        let crossed = faces.map(|face| (face - at) / slope);
        [enters.max(crossed[0].min(crossed[1])), leaves.min(crossed[0].max(crossed[1]))]
    })
}

/// The hole of a rod at a place (mm).
fn near(rod: &Rod, at_mm: f64) -> Option<&Hole> {
    rod.holes.iter().find(|h| (h.from_end_mm - at_mm).abs() < 1.0)
}

/// Greatest forces that were looked at, by duration, sign and whether a stay is loose. Where every check grows with one
/// force, a smaller one of the same kind cannot be worse.
#[derive(Default)]
struct Seen(Vec<((Duration, bool, bool), f64)>);

impl Seen {
    /// Was a force as great looked at already? If not, it is from now on.
    fn covers(&mut self, loading: &Loading<'_>, force_n: f64) -> bool {
        let kind = (loading.duration(), loading.answered.loose, force_n > 0.0);
        let size = force_n.abs();
        let Some((_, most)) = self.0.iter_mut().find(|(k, _)| *k == kind) else {
            self.0.push((kind, size));
            return false;
        };
        let covered = size <= *most;
        *most = most.max(size);
        covered
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
