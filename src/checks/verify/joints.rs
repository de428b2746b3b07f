//! Bolts, stays, corner braces and screws.

use super::{
    kind::Kind,
    row::State,
    survey::{Loading, Survey, across_bolt},
};
use crate::{
    catalogue::{Bolt, Family, ScrewKind, bolt_length},
    checks::model::{Link, LinkRow, Rod, StayRow, TiltRun},
    codes::{
        Ask, Calc, DowelJoint, Forces, Free, Joint, Layer, Member, PinPlace, Refusal, ScrewJoint, Strut,
        grade_of_bolts, head_mm,
    },
    design::Screws,
    frame::{
        Hole, HoleUse, Laid, Role, Stack,
        vector::{dot, plus},
        washer_mm,
    },
    loads::Duration,
    quantities::to_mm,
};

impl Survey<'_> {
    /// Axle, hinge, and what holds cheeks and cleats.
    pub(super) fn bolts(&mut self) {
        let runs = self.runs;
        for run in runs {
            for link in &run.skeleton.links {
                let Link::Bolt(use_) = link.link else { continue };
                let kind = match use_ {
                    HoleUse::Axle | HoleUse::Hinge => Kind::Axle,
                    HoleUse::CheekBolt | HoleUse::CleatScrew => Kind::FramePin,
                    HoleUse::FramePin | HoleUse::FixedPin | HoleUse::Row => continue,
                };
                let Some(bolt) = self.stacks(use_).next().map(|stack| stack.bolt) else { continue };
                let part = format!("{} {}", use_.word(), pair(run, link.rods));
                let threads_bear = is_at_nut(run, link) && self.threads_bear(use_);
                for loading in Self::each(std::slice::from_ref(run)) {
                    let [y, z] = across_bolt(&loading.response, link.member);
                    let force = y.hypot(z);
                    let Some(joint) = self.joint(run, link, bolt, [y, z], &loading) else { continue };
                    let pull_n = loading.response.axial(link.member).max(0.0);
                    let joint = DowelJoint { force_n: force, pull_n, threads_bear, ..joint };
                    self.take(&loading, &part, kind, self.on_bolt(run, link.rods, joint));
                }
            }
        }
    }

    /// What the code of two rods says of the bolt between them.
    fn on_bolt(&self, run: &TiltRun, rods: [usize; 2], joint: DowelJoint) -> Result<Calc, Refusal> {
        self.codes.of_joint(rods.map(|r| run.skeleton.rods[r].section.family)).joint(Joint::Bolted(joint))
    }

    /// The bolts of one use; left and right may differ.
    fn stacks(&self, use_: HoleUse) -> impl Iterator<Item = &Stack> {
        self.frame.stacks.iter().filter(move |stack| stack.use_ == use_)
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

    /// Does the thread of a bolt of that use reach farther than a quarter into the last piece under its nut?
    fn threads_bear(&self, use_: HoleUse) -> bool {
        self.stacks(use_).filter(|stack| !stack.lag).any(threads_bear)
    }

    /// Stays and the bolts at their ends.
    pub(super) fn stays(&mut self) {
        let runs = self.runs;
        let threads_bear = [HoleUse::FramePin, HoleUse::FixedPin].map(|use_| self.threads_bear(use_));
        for run in runs {
            for stay in &run.skeleton.stays {
                let rod = &run.skeleton.rods[stay.stay];
                let member = match self.ready(rod, Free::pinned(stay.length_mm)) {
                    Ok(member) => member,
                    Err(state) => {
                        self.not_checked(&rod.mark, Kind::Stay, state);
                        continue;
                    }
                };
                let mut seen = Seen::default();
                for loading in Self::each(std::slice::from_ref(run)) {
                    let axial = loading.response.axial(stay.member);
                    self.stay(&loading, rod, stay, &*member, axial);
                    if !seen.covers(&loading, axial) {
                        self.stay_pins(&loading, rod, stay, &*member, axial, threads_bear);
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
        member: &dyn Member,
        axial: f64,
        threads_bear: [bool; 2],
    ) {
        let run = loading.run;
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
            let gap = (other_rod.hole_at(other_hole)[0] - plus(rod.start, rod.to_ply())[0]).abs()
                - (other_rod.section.ply_mm() + rod.section.ply_mm()) / 2.0;
            let joint = self.dowel(self.frame.pin, [stay_layer, other_layer], gap, loading, axial.abs());
            let joint = DowelJoint { threads_bear: threads_bear[usize::from(at_row)], ..joint };
            let part = format!("{} to {}", rod.mark, other_rod.mark);
            self.take(loading, &part, kind, self.on_bolt(run, [stay.stay, other], joint));
            // Only a pull tears what stands between the pin and the end or the next hole.
            if axial > 0.0 {
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

    /// Screws of the corner braces.
    pub(super) fn brace_screws(&mut self) {
        let runs = self.runs;
        for run in runs {
            for &(member_id, r) in &run.skeleton.braces {
                let rod = &run.skeleton.rods[r];
                if self.metal_frame() || rod.section.family != Family::Wood {
                    let why = "screws or bolts of metal braces are not part of a design";
                    self.not_checked(&rod.mark, Kind::BraceScrews, State::NotChecked(why.to_string()));
                    continue;
                }
                let Some(screws) = self.basis.joints.brace.map(with_head) else { continue };
                let mut seen = Seen::default();
                for loading in Self::each(std::slice::from_ref(run)) {
                    let axial = loading.response.axial(member_id);
                    if !seen.covers(&loading, axial.abs()) {
                        let joint = self.screws(screws, rod.section.width_mm, false, &loading, [axial, 0.0]);
                        self.screwed(&loading, &rod.mark, Kind::BraceScrews, joint);
                    }
                }
            }
        }
    }

    fn screws(
        &self,
        (screws, head_mm): (Screws, f64),
        side_mm: f64,
        end_grain: bool,
        loading: &Loading<'_>,
        [lateral, pull]: [f64; 2],
    ) -> Option<ScrewJoint> {
        let wood = self.basis.wood?;
        Some(ScrewJoint {
            screw: screws.screw,
            length_mm: to_mm(screws.length),
            count: screws.count,
            side_mm,
            steel_side: false,
            head_mm,
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
        if self.metal_frame() {
            let why = "how rails and stiles of metal are joined, by welds or bolts, is not part of a design";
            self.not_checked("corners", Kind::CornerScrews, State::NotChecked(why.to_string()));
            return;
        }
        let Some(screws) = self.basis.joints.corner.map(with_head) else { return };
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
                    let mut seen = Seen::default();
                    for loading in Self::each(std::slice::from_ref(run)) {
                        let f = loading.response.end_forces(segment.member);
                        let (axial, lateral) =
                            if end == 0 { (-f[0], f[1].hypot(f[2])) } else { (f[6], f[7].hypot(f[8])) };
                        // Only lag screws may be pulled out of end grain; of others the pull is noted and refused as a whole.
                        let lag = screws.0.screw.kind == ScrewKind::Lag;
                        pulled = if lag { 0.0 } else { pulled.max(axial) };
                        let pull = if lag { axial.max(0.0) } else { 0.0 };
                        if pull == 0.0 && seen.covers(&loading, lateral) {
                            continue;
                        }
                        let joint = self.screws(screws, through.width_mm, true, &loading, [lateral, pull]);
                        self.screwed(&loading, &rod.mark, Kind::CornerScrews, joint);
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
            for link in run.skeleton.links.iter().filter(|l| l.link == Link::PurlinSeat) {
                let [stile, purlin] = link.rods.map(|r| &run.skeleton.rods[r]);
                let member = self.ready(purlin, Free::pinned(purlin.length_mm));
                let named = self.basis.joints.purlin.map(with_head);
                let metal = self.metal_frame() || purlin.section.family != Family::Wood;
                for loading in Self::each(std::slice::from_ref(run)) {
                    let pull = loading.response.axial(link.member);
                    if let Ok(member) = &member
                        && pull < 0.0
                    {
                        let area = [stile.section.width_mm, purlin.section.depth_mm];
                        self.ask(&loading, &purlin.mark, Kind::Bearing, &**member, Ask::Pressed(-pull, area));
                    }
                    let screws = named.filter(|_| !metal);
                    if let Some(screws) = screws {
                        let [y, z] = across_bolt(&loading.response, link.member);
                        let joint =
                            self.screws(screws, purlin.section.width_mm, false, &loading, [y.hypot(z), pull.max(0.0)]);
                        self.screwed(&loading, &format!("{} screws", purlin.mark), Kind::Purlins, joint);
                    } else {
                        let why = if metal {
                            "screws or bolts between metal members are not part of a design"
                        } else {
                            "the design names no screws: `joints.purlin`"
                        };
                        let part = format!("{} screws", purlin.mark);
                        self.not_checked(&part, Kind::Purlins, State::NotChecked(why.to_string()));
                    }
                }
            }
        }
    }
}

impl Survey<'_> {
    /// Is any outer member of the frame of metal?
    pub(super) fn metal_frame(&self) -> bool {
        let frame = &self.design.frame;
        [frame.rail, frame.stile, frame.mullion].iter().any(|section| section.family != Family::Wood)
    }
}

/// Screws with the breadth of their head (mm).
fn with_head(screws: Screws) -> (Screws, f64) {
    (screws, head_mm(screws.screw))
}

/// Is this the joint under the nut? Bolts through three members have it on the side of the frame's middle.
fn is_at_nut(run: &TiltRun, link: &LinkRow) -> bool {
    let [x, ..] = link.place;
    let same = run.skeleton.links.iter().filter(|l| l.link == link.link && (l.place[0] > 0.0) == (x > 0.0));
    same.map(|l| l.place[0].abs()).fold(f64::INFINITY, f64::min) >= x.abs() - 1e-6
}

/// The hole of a rod at a place (mm).
fn near(rod: &Rod, at_mm: f64) -> Option<&Hole> {
    rod.holes.iter().find(|h| (h.from_end_mm - at_mm).abs() < 1.0)
}

/// NDS §12.3.7: where threads bear on more than a quarter of a member, the root diameter counts.
fn threads_bear(stack: &Stack) -> bool {
    let washer = washer_mm(stack.bolt);
    let Ok(found) = bolt_length(stack.bolt, stack.grip_mm(), stack.washers() as u32, washer) else { return false };
    let last = stack.layers.iter().rev().find(|l| !matches!(l.what, Laid::Washer | Laid::Spacer));
    let under_nut = f64::from(1 + found.extra_washers) * washer;
    last.is_some_and(|last| found.thread_in_grip_mm - under_nut > 0.25 * last.thickness_mm)
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
