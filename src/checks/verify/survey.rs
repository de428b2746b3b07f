//! Goes through every tilt and combination and keeps the worst of each part and check.

use super::{
    bound::Bound,
    calc::Calc,
    kind::Kind,
    row::{Row, State, Worst},
    steel_member::SteelMember,
    wood_member::{Forces, HoleHere, Strengths, WoodMember},
};
use crate::{
    analysis::{MemberId, Order, Response},
    catalogue::{Family, Metal, Section, Silent, design_values},
    checks::model::{Answered, Rod, Segment, TiltRun, metal_of},
    codes::{
        Refusal,
        nds::{Duration, column::EndFixity},
    },
    design::{Design, StrengthBasis},
    frame::{Frame, Hole, HoleUse, Role, StandsOn},
};

/// What every survey works with.
pub(super) struct Survey<'a> {
    pub(super) design: &'a Design,
    pub(super) frame: &'a Frame,
    pub(super) basis: &'a StrengthBasis,
    pub(super) runs: &'a [TiltRun],
    pub(super) worst: Worst,
    /// Largest pull at the end of a butted stick (N).
    pub(super) corner_pull_n: f64,
}

/// One combination at one tilt.
#[derive(Clone, Copy)]
pub(super) struct Loading<'a> {
    pub(super) run: &'a TiltRun,
    pub(super) answered: &'a Answered,
    pub(super) response: Response<'a>,
}

impl Loading<'_> {
    pub(super) fn duration(&self) -> Duration {
        self.answered.combination.duration
    }

    /// What the loads of the combination rest on.
    pub(super) fn state(&self) -> State {
        let own = State::of_load(&self.answered.state);
        let cases = self.answered.combination.factors.iter().map(|(case, _)| &self.run.loads.cases[*case]);
        match cases.flat_map(|case| &case.sources).find(|source| source.is_unverified()) {
            Some(source) => {
                own.and(State::UnverifiedSource(format!("{} {} is from memory", source.document, source.place)))
            }
            None => own,
        }
    }
}

/// A rod with its strengths for the four durations.
pub(super) enum Ready {
    Wood(WoodMember, Box<[(Duration, Result<Strengths, Refusal>); 4]>),
    Steel(SteelMember),
    Aluminium(&'static Section, &'static Metal),
    Not(State),
}

/// Lengths over which a rod is free.
#[derive(Clone, Copy)]
pub(super) struct Free {
    /// Over the depth (mm).
    pub(super) strong_mm: f64,
    /// Over the thickness (mm).
    pub(super) weak_mm: f64,
    /// Effective length coefficient.
    pub(super) k_e: f64,
}

impl Free {
    /// Held at both ends only.
    pub(super) fn pinned(length_mm: f64) -> Self {
        Self { strong_mm: length_mm, weak_mm: length_mm, k_e: 1.0 }
    }
}

/// A place of a rod: with a hole or without, and what its utilisation is at most, by duration.
struct Place {
    hole: Option<HoleHere>,
    bounds: Option<[Bound; 4]>,
}

/// The utilisations that a member's checks must exceed to matter.
struct Floors {
    bending: f64,
    net: f64,
    shear: f64,
    torsion: f64,
    loose: f64,
}

impl Floors {
    fn of(worst: &Worst, part: &str) -> Self {
        Self {
            bending: worst.floor(part, Kind::MemberBending),
            net: worst.floor(part, Kind::NetSection),
            shear: worst.floor(part, Kind::MemberShear),
            torsion: worst.floor(part, Kind::MemberTorsion),
            loose: worst.floor("frame", Kind::OneStayLoose),
        }
    }

    fn either(&self, own: f64, loose: bool) -> f64 {
        if loose { own.min(self.loose) } else { own }
    }

    fn bending(&self, at_hole: bool, loose: bool) -> f64 {
        self.either(if at_hole { self.net } else { self.bending }, loose)
    }

    fn shear(&self, loose: bool) -> f64 {
        self.either(self.shear, loose)
    }

    fn torsion(&self, loose: bool) -> f64 {
        self.either(self.torsion, loose)
    }
}

const DURATIONS: [Duration; 4] = [Duration::Permanent, Duration::TwoMonths, Duration::SevenDays, Duration::TenMinutes];

fn number(duration: Duration) -> usize {
    DURATIONS.iter().position(|d| *d == duration).unwrap_or(0)
}

impl Ready {
    /// Bounds of a wood member by duration; none where the strength itself is refused.
    fn bounds(&self, hole: Option<HoleHere>) -> Option<[Bound; 4]> {
        let Self::Wood(member, all) = self else { return None };
        let each: Vec<Bound> =
            all.iter().filter_map(|(_, s)| s.as_ref().ok().map(|s| Bound::of(member, s, hole))).collect();
        each.try_into().ok()
    }

    pub(super) fn strengths(&self, wanted: Duration) -> Option<(&WoodMember, &Result<Strengths, Refusal>)> {
        match self {
            Self::Wood(member, all) => {
                all.iter().find(|(duration, _)| *duration == wanted).map(|(_, strengths)| (member, strengths))
            }
            _ => None,
        }
    }
}

impl Survey<'_> {
    /// Every combination of every tilt.
    pub(super) fn each(runs: &[TiltRun]) -> impl Iterator<Item = Loading<'_>> {
        runs.iter().flat_map(|run| {
            run.answered.iter().map(move |answered| {
                let response = run.results_of(answered).response(answered.answer);
                Loading { run, answered, response }
            })
        })
    }

    /// A row of a combination.
    pub(super) fn row(
        loading: &Loading<'_>,
        part: &str,
        kind: Kind,
        calc: Calc,
        utilisation: Result<f64, Refusal>,
    ) -> Row {
        let (utilisation, state) = match utilisation {
            Ok(u) => (Some(u), loading.state()),
            Err(refusal) => (None, State::of_refusal(&refusal)),
        };
        let state = calc.caveat().map_or(state.clone(), |why| state.and(State::NotChecked(why.to_string())));
        Row {
            part: part.to_string(),
            kind,
            tilt_deg: Some(loading.run.skeleton.tilt_deg),
            case: loading.run.name_of(loading.answered),
            utilisation,
            state,
            calc,
        }
    }

    /// Keeps a calculation when it is the worst of its part and check.
    pub(super) fn keep(
        &mut self,
        loading: &Loading<'_>,
        part: &str,
        kind: Kind,
        u: Result<f64, Refusal>,
        calc: impl FnOnce() -> Calc,
    ) {
        let worth = match &u {
            Ok(value) => {
                self.worst.beats(part, kind, *value)
                    || (loading.answered.loose && self.worst.beats("frame", Kind::OneStayLoose, *value))
            }
            Err(_) => self.worst.beats(part, kind, f64::INFINITY),
        };
        if !worth {
            return;
        }
        let calc = calc();
        if loading.answered.loose && u.is_ok() {
            let mut row = Self::row(loading, "frame", Kind::OneStayLoose, calc.clone(), u.clone());
            row.case = format!("{part} {}, {}", kind.name(), row.case);
            self.worst.push(row);
        }
        self.worst.push(Self::row(loading, part, kind, calc, u));
    }

    /// Strengths of a rod.
    pub(super) fn ready(&self, rod: &Rod, free: Free) -> Ready {
        let Free { strong_mm: free_strong_mm, weak_mm: free_weak_mm, k_e } = free;
        match (rod.section.family, self.basis.wood) {
            (Family::Wood, Some(wood)) => match design_values(wood.species, wood.grade, rod.section) {
                Err(not_held) => Ready::Not(State::NotChecked(not_held.to_string())),
                Ok(values) => {
                    let member = WoodMember {
                        section: rod.section,
                        values,
                        wet: rod.wet,
                        incised: self.basis.incised,
                        free_strong_mm,
                        free_weak_mm,
                        k_e,
                    };
                    Ready::Wood(member, Box::new(DURATIONS.map(|d| (d, member.strengths(&mut Silent, d)))))
                }
            },
            (Family::Steel, _) => match metal_of(rod.section) {
                Some(metal) => {
                    let section = rod.section;
                    Ready::Steel(SteelMember { section, metal, free_strong_mm, free_weak_mm, k_e })
                }
                None => Ready::Not(State::NotChecked(format!("no steel is held for {}", rod.section.name))),
            },
            (Family::Aluminium, _) => match metal_of(rod.section) {
                Some(alloy) => Ready::Aluminium(rod.section, alloy),
                None => Ready::Not(State::NotChecked(format!("no alloy is held for {}", rod.section.name))),
            },
            (Family::Wood, None) => Ready::Not(State::NotChecked("no species is given".to_string())),
        }
    }

    /// Lengths over which a rod is free: over the depth its whole length, over the thickness between what it is joined to.
    pub(super) fn free(&self, run: &TiltRun, r: usize) -> Free {
        let rod = &run.skeleton.rods[r];
        if let (Role::Post, StandsOn::Posts { axle_height_mm, embedment_mm, .. }) = (rod.role, self.frame.stands_on) {
            // A cantilever from a third of the way down its hole. Judgement on the depth.
            let free = axle_height_mm + embedment_mm / 3.0;
            return Free { strong_mm: free, weak_mm: free, k_e: EndFixity::FixedFree.k_e() };
        }
        let mut joined = vec![0.0, rod.length_mm];
        for link in &run.skeleton.links {
            for (end, at) in link.rods.iter().zip(link.at_mm) {
                if *end == r {
                    joined.push(at);
                }
            }
        }
        joined.extend(run.skeleton.joined_at(r));
        joined.sort_by(f64::total_cmp);
        let gap = joined.windows(2).map(|w| w[1] - w[0]).fold(0.0, f64::max);
        Free { strong_mm: rod.length_mm, weak_mm: gap, k_e: 1.0 }
    }

    /// Combinations that the frame does not stand up under.
    pub(super) fn fallen(&mut self) {
        let runs = self.runs;
        for loading in Self::each(runs) {
            let Order::Fails { why } = loading.response.order() else { continue };
            let why = format!("at {:.0}°, {why}", loading.run.skeleton.tilt_deg);
            self.not_checked("frame", Kind::MemberBending, State::Refused(why));
        }
    }

    /// Members that bend.
    pub(super) fn members(&mut self) {
        let runs = self.runs;
        for run in runs {
            for r in 0..run.skeleton.rods.len() {
                let rod = &run.skeleton.rods[r];
                if matches!(rod.role, Role::Stay | Role::CornerBrace) {
                    continue;
                }
                let ready = self.ready(rod, self.free(run, r));
                self.member(run, rod, &ready);
            }
        }
    }

    fn member(&mut self, run: &TiltRun, rod: &Rod, ready: &Ready) {
        match ready {
            Ready::Not(state) => {
                for kind in [Kind::MemberBending, Kind::MemberShear, Kind::MemberTorsion] {
                    self.not_checked(&rod.mark, kind, state.clone());
                }
                return;
            }
            Ready::Aluminium(section, _) => {
                for (kind, what) in [
                    (Kind::MemberShear, "shear"),
                    (Kind::MemberTorsion, "torsion"),
                    (Kind::NetSection, "the section left at a hole"),
                ] {
                    let why = format!("{}: equations for {what} of aluminium are not held", section.name);
                    self.not_checked(&rod.mark, kind, State::NotChecked(why));
                }
            }
            _ => {}
        }
        // Below grade the post has a check of its own.
        let above = |s: &&Segment| rod.role != Role::Post || !self.is_below(run, rod, s.to_mm);
        let segments: Vec<&Segment> = rod.segments.iter().filter(above).collect();
        let whole = Place { hole: None, bounds: ready.bounds(None) };
        let holes: Vec<(&Hole, &Segment, Place)> = rod.holes.iter().filter_map(|h| at_hole(rod, h, ready)).collect();
        let mut floors = Floors::of(&self.worst, &rod.mark);
        for loading in Self::each(std::slice::from_ref(run)) {
            for segment in &segments {
                let ends = loading.response.end_forces(segment.member);
                for forces in [at_i(&ends), at_j(&ends)] {
                    self.at_place(&loading, rod, ready, &forces, &whole, &mut floors);
                }
            }
            for (hole, segment, place) in &holes {
                let forces = between(&loading.response.end_forces(segment.member), segment, hole.from_end_mm);
                self.at_place(&loading, rod, ready, &forces, place, &mut floors);
                if matches!(hole.use_, HoleUse::Axle | HoleUse::Hinge | HoleUse::FramePin) {
                    self.hung(&loading, rod, ready, hole);
                }
            }
        }
    }

    fn is_below(&self, run: &TiltRun, rod: &Rod, to_mm: f64) -> bool {
        let grade = run.skeleton.at_grade.iter().map(|(n, _)| run.skeleton.places[n.0][2]).fold(f64::MIN, f64::max);
        rod.at(to_mm)[2] < grade - 1.0
    }

    fn at_place(
        &mut self,
        loading: &Loading<'_>,
        rod: &Rod,
        ready: &Ready,
        forces: &Forces,
        place: &Place,
        floors: &mut Floors,
    ) {
        let duration = loading.duration();
        let (hole, loose) = (place.hole, loading.answered.loose);
        let bending = if hole.is_some() { Kind::NetSection } else { Kind::MemberBending };
        match ready {
            Ready::Wood(..) => {
                let Some((member, strengths)) = ready.strengths(duration) else { return };
                let strengths = match strengths {
                    Ok(strengths) => strengths,
                    Err(refusal) => {
                        let refused = || Err(refusal.clone());
                        let calc = || Calc::Wood(*member, duration, *forces, hole);
                        self.keep(loading, &rod.mark, bending, refused(), calc);
                        let calc = || Calc::WoodShear(*member, duration, *forces, hole);
                        self.keep(loading, &rod.mark, Kind::MemberShear, refused(), calc);
                        if hole.is_none() {
                            let calc = || Calc::WoodTwist(*member, duration, *forces);
                            self.keep(loading, &rod.mark, Kind::MemberTorsion, refused(), calc);
                        }
                        return;
                    }
                };
                let bound = place.bounds.as_ref().map(|b| &b[number(duration)]);
                let most = |of: fn(&Bound, &Forces) -> f64| bound.map_or(f64::INFINITY, |b| of(b, forces));
                if most(Bound::at) > floors.bending(hole.is_some(), loose) {
                    let u = member.combined(&mut Silent, strengths, forces, hole);
                    self.keep(loading, &rod.mark, bending, u, || Calc::Wood(*member, duration, *forces, hole));
                    *floors = Floors::of(&self.worst, &rod.mark);
                }
                if most(Bound::sheared) > floors.shear(loose) {
                    let u = member.sheared(&mut Silent, strengths, forces, hole);
                    let calc = || Calc::WoodShear(*member, duration, *forces, hole);
                    self.keep(loading, &rod.mark, Kind::MemberShear, Ok(u), calc);
                    *floors = Floors::of(&self.worst, &rod.mark);
                }
                if hole.is_none() && most(Bound::twisted) > floors.torsion(loose) {
                    let u = member.twisted(&mut Silent, strengths, forces);
                    let calc = || Calc::WoodTwist(*member, duration, *forces);
                    self.keep(loading, &rod.mark, Kind::MemberTorsion, Ok(u), calc);
                    *floors = Floors::of(&self.worst, &rod.mark);
                }
            }
            Ready::Steel(member) => {
                let u = member.combined(&mut Silent, forces, hole);
                self.keep(loading, &rod.mark, bending, u, || Calc::Steel(*member, *forces, hole));
                if hole.is_none() {
                    let u = member.sheared(&mut Silent, forces);
                    self.keep(loading, &rod.mark, Kind::MemberShear, u, || Calc::SteelShear(*member, *forces));
                    let u = member.twisted(&mut Silent, forces);
                    self.keep(loading, &rod.mark, Kind::MemberTorsion, u, || Calc::SteelTwist(*member, *forces));
                }
            }
            Ready::Aluminium(section, alloy) if hole.is_none() => {
                let calc = Calc::Aluminium(section, alloy, *forces);
                let u = calc.utilisation(&mut Silent);
                self.keep(loading, &rod.mark, bending, u, || calc);
            }
            Ready::Aluminium(..) | Ready::Not(_) => {}
        }
    }

    /// Shear beside a bolt that the member hangs from.
    fn hung(&mut self, loading: &Loading<'_>, rod: &Rod, ready: &Ready, hole: &Hole) {
        let duration = loading.duration();
        let Some((member, Ok(strengths))) = ready.strengths(duration) else { return };
        let beside = rod
            .segments
            .iter()
            .filter(|s| (s.from_mm - hole.from_end_mm).abs() < 1.0 || (s.to_mm - hole.from_end_mm).abs() < 1.0);
        let shear_n = beside
            .map(|s| {
                let ends = loading.response.end_forces(s.member);
                let near_i = (s.from_mm - hole.from_end_mm).abs() < 1.0;
                if near_i { ends[1].abs() } else { ends[7].abs() }
            })
            .fold(0.0, f64::max);
        let effective = hole.gauge_mm.min(rod.section.depth_mm - hole.gauge_mm);
        let from_end = hole.from_end_mm.min(rod.length_mm - hole.from_end_mm);
        let u = member.hung(&mut Silent, strengths, shear_n, effective, from_end);
        self.keep(loading, &rod.mark, Kind::HungShear, u, || {
            Calc::WoodHung(*member, duration, shear_n, [effective, from_end])
        });
    }

    /// A check that was not made for a part.
    pub(super) fn not_checked(&mut self, part: &str, kind: Kind, state: State) {
        self.worst.push(Row {
            part: part.to_string(),
            kind,
            tilt_deg: None,
            case: String::new(),
            utilisation: None,
            state,
            calc: Calc::Rigid(f64::INFINITY),
        });
    }
}

/// Internal forces at end i: the member's own face looks back, so signs turn.
fn at_i(ends: &[f64; 12]) -> Forces {
    Forces {
        axial_n: -ends[0],
        strong_nmm: -ends[5],
        weak_nmm: -ends[4],
        shear_n: ends[1],
        cross_shear_n: ends[2],
        torsion_nmm: -ends[3],
    }
}

fn at_j(ends: &[f64; 12]) -> Forces {
    Forces {
        axial_n: ends[6],
        strong_nmm: ends[11],
        weak_nmm: ends[10],
        shear_n: ends[7],
        cross_shear_n: ends[8],
        torsion_nmm: ends[9],
    }
}

/// The segment a hole stands in, and what it leaves of the section.
fn at_hole<'r>(rod: &'r Rod, hole: &'r Hole, ready: &Ready) -> Option<(&'r Hole, &'r Segment, Place)> {
    let segment = rod.segments.iter().find(|s| (s.from_mm..=s.to_mm).contains(&hole.from_end_mm))?;
    let from_edge_mm = hole.gauge_mm.min(rod.section.depth_mm - hole.gauge_mm);
    let here = Some(HoleHere { diameter_mm: hole.diameter_mm, from_edge_mm });
    Some((hole, segment, Place { hole: here, bounds: ready.bounds(here) }))
}

/// Internal forces between the ends of a segment, along which they run straight.
fn between(ends: &[f64; 12], segment: &Segment, at_mm: f64) -> Forces {
    let (i, j) = (at_i(ends), at_j(ends));
    let share = (at_mm - segment.from_mm) / (segment.to_mm - segment.from_mm);
    let mix = |a: f64, b: f64| a + (b - a) * share;
    Forces {
        axial_n: mix(i.axial_n, j.axial_n),
        strong_nmm: mix(i.strong_nmm, j.strong_nmm),
        weak_nmm: mix(i.weak_nmm, j.weak_nmm),
        shear_n: mix(i.shear_n, j.shear_n),
        cross_shear_n: mix(i.cross_shear_n, j.cross_shear_n),
        torsion_nmm: mix(i.torsion_nmm, j.torsion_nmm),
    }
}

/// Forces of a bolt across its axis, global Y and Z (N).
pub(super) fn across_bolt(response: &Response<'_>, member: MemberId) -> [f64; 2] {
    let ends = response.end_forces(member);
    [ends[7], ends[8]]
}
