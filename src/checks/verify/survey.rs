//! Goes through every tilt and combination and keeps the worst of each part and check.

use super::{
    kind::Kind,
    row::{Row, State, Worst},
};
use crate::{
    analysis::{MemberId, Order, Response},
    catalogue::Silent,
    checks::model::{AnswerId, Answered, Rod, Segment, TiltRun},
    codes::{Ask, Bound, Calc, Codes, Forces, Free, HoleHere, Member, Refusal, Rules},
    design::{Design, StrengthBasis},
    frame::{Frame, Hole, HoleUse, InSoil, Role, Stands},
    loads::Duration,
};
use std::collections::BTreeSet;

/// What every survey works with.
pub(super) struct Survey<'a> {
    pub(super) design: &'a Design,
    pub(super) frame: &'a Frame,
    pub(super) basis: &'a StrengthBasis,
    pub(super) codes: &'a Codes,
    pub(super) rules: &'static Rules,
    pub(super) runs: &'a [TiltRun],
    pub(super) worst: Worst,
    /// Largest pull at the end of a butted stick (N).
    pub(super) corner_pull_n: f64,
}

/// One combination at one tilt.
#[derive(Clone, Copy)]
pub(super) struct Loading<'a> {
    pub(super) run: &'a TiltRun,
    pub(super) id: AnswerId,
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

/// A place of a rod with a hole.
struct Place<'r> {
    hole: &'r Hole,
    segment: &'r Segment,
    here: HoleHere,
}

/// What the answers of a member can reach at most at one place, by duration.
struct Bounds(Vec<(Duration, Bound)>);

impl Bounds {
    fn of(member: &dyn Member, hole: Option<HoleHere>, run: &TiltRun) -> Self {
        let durations: BTreeSet<Duration> = run.answered.iter().map(|a| a.combination.duration).collect();
        Self(durations.into_iter().filter_map(|d| Some((d, member.bound(d, hole)?))).collect())
    }

    /// Infinite where nothing bounds it.
    fn most(&self, duration: Duration, ask: &Ask) -> f64 {
        self.0.iter().find(|(of, _)| *of == duration).map_or(f64::INFINITY, |(_, bound)| bound.most(ask))
    }
}

/// The utilisations that a member's checks must exceed to matter.
struct Floors {
    own: [(Kind, f64); 4],
    loose: f64,
}

impl Floors {
    fn of(worst: &Worst, part: &str) -> Self {
        let kinds = [Kind::MemberBending, Kind::NetSection, Kind::MemberShear, Kind::MemberTorsion];
        Self { own: kinds.map(|kind| (kind, worst.floor(part, kind))), loose: worst.floor("frame", Kind::OneStayLoose) }
    }

    fn at(&self, kind: Kind, loose: bool) -> f64 {
        let own = self.own.iter().find(|(of, _)| *of == kind).map_or(f64::NEG_INFINITY, |(_, floor)| *floor);
        if loose { own.min(self.loose) } else { own }
    }
}

impl Survey<'_> {
    /// Every combination of every tilt.
    pub(super) fn each(runs: &[TiltRun]) -> impl Iterator<Item = Loading<'_>> {
        runs.iter().flat_map(|run| {
            run.answers().map(move |(id, answered)| {
                let response = run.results_of(answered).response(answered.answer);
                Loading { run, id, answered, response }
            })
        })
    }

    /// A row of a combination.
    fn row(loading: &Loading<'_>, part: &str, kind: Kind, calc: Calc, utilisation: Result<f64, Refusal>) -> Row {
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
            answer: Some(loading.id),
            utilisation,
            state,
            calc: Some(calc),
        }
    }

    /// Keeps an answer when it is the worst of its part and check. What a code does not hold is no calculation.
    fn keep(
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
            Err(refusal @ Refusal::NotHeld(_)) => return self.not_checked(part, kind, State::of_refusal(refusal)),
            Err(_) => !self.worst.is_open(part, kind),
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

    /// Asks a member, where the question arises in its material.
    pub(super) fn ask(&mut self, loading: &Loading<'_>, part: &str, kind: Kind, member: &dyn Member, ask: Ask) {
        let duration = loading.duration();
        if let Some(u) = member.answer(duration, &ask) {
            self.keep(loading, part, kind, u, || member.calc(duration, ask));
        }
    }

    /// Takes what a code answered for a joint, a foot or a limit; its utilisation, where it has one.
    pub(super) fn take(
        &mut self,
        loading: &Loading<'_>,
        part: &str,
        kind: Kind,
        calc: Result<Calc, Refusal>,
    ) -> Option<f64> {
        match calc {
            Ok(calc) => {
                let u = calc.utilisation(&mut Silent);
                self.keep(loading, part, kind, u.clone(), || calc);
                u.ok()
            }
            Err(refusal) => {
                self.not_checked(part, kind, State::of_refusal(&refusal));
                None
            }
        }
    }

    /// A rod as the code of its material knows it.
    pub(super) fn ready(&self, rod: &Rod, free: Free) -> Result<Box<dyn Member>, State> {
        let code = self.codes.of_family(rod.section.family);
        code.member(rod.section, free, rod.wet).map_err(|refusal| State::of_refusal(&refusal))
    }

    /// Lengths over which a rod is free: over the depth its whole length, over the thickness between what it is joined to.
    pub(super) fn free(&self, run: &TiltRun, r: usize) -> Free {
        let rod = &run.skeleton.rods[r];
        if let Some(soil) = self.in_soil(r) {
            // A cantilever from a third of the way down its hole. Judgement on the depth.
            let free = self.frame.axis_above_surface_mm() + soil.depth_mm / 3.0;
            return Free { strong_mm: free, weak_mm: free, cantilever: true };
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
        Free { strong_mm: rod.length_mm, weak_mm: gap, cantilever: false }
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
                match self.ready(rod, self.free(run, r)) {
                    Ok(member) => self.member(run, r, &*member),
                    Err(state) => {
                        for kind in [Kind::MemberBending, Kind::MemberShear, Kind::MemberTorsion] {
                            self.not_checked(&rod.mark, kind, state.clone());
                        }
                    }
                }
            }
        }
    }

    fn member(&mut self, run: &TiltRun, r: usize, member: &dyn Member) {
        let rod = &run.skeleton.rods[r];
        // Below grade the post has a check of its own.
        let above = |s: &&Segment| self.in_soil(r).is_none() || !self.is_below(run, rod, s.to_mm);
        let segments: Vec<&Segment> = rod.segments.iter().filter(above).collect();
        let whole = Bounds::of(member, None, run);
        let holes: Vec<(Bounds, Place<'_>)> = rod
            .holes
            .iter()
            .filter_map(|hole| Place::of(rod, hole))
            .map(|place| (Bounds::of(member, Some(place.here), run), place))
            .collect();
        let mut floors = Floors::of(&self.worst, &rod.mark);
        for loading in Self::each(std::slice::from_ref(run)) {
            for segment in &segments {
                let ends = loading.response.end_forces(segment.member);
                for forces in [at_i(&ends), at_j(&ends)] {
                    for (kind, ask) in [
                        (Kind::MemberBending, Ask::Bent(forces, None)),
                        (Kind::MemberShear, Ask::Sheared(forces, None)),
                        (Kind::MemberTorsion, Ask::Twisted(forces)),
                    ] {
                        self.ask_above(&loading, rod, member, (kind, ask), &whole, &mut floors);
                    }
                }
            }
            for (bounds, place) in &holes {
                let ends = loading.response.end_forces(place.segment.member);
                let forces = between(&ends, place.segment, place.hole.from_end_mm);
                for (kind, ask) in [
                    (Kind::NetSection, Ask::Bent(forces, Some(place.here))),
                    (Kind::MemberShear, Ask::Sheared(forces, Some(place.here))),
                ] {
                    self.ask_above(&loading, rod, member, (kind, ask), bounds, &mut floors);
                }
                if hangs(place.hole.use_) {
                    self.hung(&loading, rod, member, place.hole);
                }
            }
        }
    }

    /// Asks where the answer may be worse than what is kept.
    fn ask_above(
        &mut self,
        loading: &Loading<'_>,
        rod: &Rod,
        member: &dyn Member,
        (kind, ask): (Kind, Ask),
        bounds: &Bounds,
        floors: &mut Floors,
    ) {
        if bounds.most(loading.duration(), &ask) > floors.at(kind, loading.answered.loose) {
            self.ask(loading, &rod.mark, kind, member, ask);
            *floors = Floors::of(&self.worst, &rod.mark);
        }
    }

    /// How a stick stands in the soil, where it does.
    pub(super) fn in_soil(&self, stick: usize) -> Option<InSoil> {
        let foot = self.frame.feet.iter().find(|foot| foot.stick == stick)?;
        match foot.stands {
            Stands::InConcrete { depth_mm, hole_diameter_mm } => Some(InSoil { depth_mm, hole_diameter_mm }),
            Stands::OnGround | Stands::OnRoof | Stands::OnDeck => None,
        }
    }

    fn is_below(&self, run: &TiltRun, rod: &Rod, to_mm: f64) -> bool {
        let grade = run.skeleton.at_grade.iter().map(|(n, _)| run.skeleton.places[n.0][2]).fold(f64::MIN, f64::max);
        rod.at(to_mm)[2] < grade - 1.0
    }

    /// Shear beside a bolt that the member hangs from.
    fn hung(&mut self, loading: &Loading<'_>, rod: &Rod, member: &dyn Member, hole: &Hole) {
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
        self.ask(loading, &rod.mark, Kind::HungShear, member, Ask::Hung(shear_n, [effective, from_end]));
    }

    /// A check that was not made for a part.
    pub(super) fn not_checked(&mut self, part: &str, kind: Kind, state: State) {
        self.worst.push(Row {
            part: part.to_string(),
            kind,
            tilt_deg: None,
            answer: None,
            case: String::new(),
            utilisation: None,
            state,
            calc: None,
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

impl<'r> Place<'r> {
    /// The segment a hole stands in, and what it leaves of the section.
    fn of(rod: &'r Rod, hole: &'r Hole) -> Option<Self> {
        let segment = rod.segments.iter().find(|s| (s.from_mm..=s.to_mm).contains(&hole.from_end_mm))?;
        let from_edge_mm = hole.gauge_mm.min(rod.section.depth_mm - hole.gauge_mm);
        Some(Self { hole, segment, here: HoleHere { diameter_mm: hole.diameter_mm, from_edge_mm } })
    }
}

/// Does a member hang from the bolt in a hole of this use?
fn hangs(use_: HoleUse) -> bool {
    match use_ {
        HoleUse::Axle | HoleUse::Hinge | HoleUse::FramePin => true,
        HoleUse::CheekBolt | HoleUse::CleatScrew | HoleUse::FixedPin | HoleUse::Row | HoleUse::FootBolt => false,
    }
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
