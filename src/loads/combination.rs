//! Load combinations: the rule of each standard, spread over every case of a kind.

use super::{Action, Case};
use crate::catalogue::{Certainty, Source};
use crate::design::Edition;
use serde::Serialize;

/// The way factors are shared between load and resistance.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Method {
    /// Allowable stress design, ASCE 7 §2.4.
    Asd,
    /// Strength design, ASCE 7 §2.3.
    Lrfd,
    /// EN 1990 ultimate limit states.
    Limit,
}

/// How long the shortest load of a combination lasts: the strength of wood depends on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Duration {
    /// Dead load.
    Permanent,
    /// Ten years: occupancy.
    TenYears,
    /// Snow, two months.
    TwoMonths,
    /// People at work, seven days: judgement for a person leaning, who stays for minutes only.
    SevenDays,
    /// Wind, ten minutes.
    TenMinutes,
    /// Impact; not for connections.
    Impact,
}

impl Duration {
    /// That of the shortest load a rule names.
    #[must_use]
    pub fn of_rule(rule: &Rule) -> Self {
        const ACTIONS: [Action; 4] = [Action::Dead, Action::Snow, Action::Wind, Action::Handling];
        let named = ACTIONS.into_iter().filter(|action| rule.factor(*action) != 0.0).map(Self::of);
        named.max().unwrap_or(Self::Permanent)
    }

    fn of(action: Action) -> Self {
        match action {
            Action::Dead => Self::Permanent,
            Action::Snow => Self::TwoMonths,
            Action::Handling => Self::SevenDays,
            Action::Wind => Self::TenMinutes,
        }
    }
}

/// One printed combination.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Rule {
    /// Short name: `2.4.1-7`.
    pub id: &'static str,
    /// Factor on self weight.
    pub dead: f64,
    /// Factor on snow.
    pub snow: f64,
    /// Factor on wind.
    pub wind: f64,
    /// Factor on people and work.
    pub handling: f64,
    /// Where it is printed.
    pub source: Source,
}

impl Rule {
    const fn new(id: &'static str, [dead, snow, wind, handling]: [f64; 4], source: Source) -> Self {
        Self { id, dead, snow, wind, handling, source }
    }

    /// Factor on a kind of load.
    #[must_use]
    pub fn factor(&self, action: Action) -> f64 {
        match action {
            Action::Dead => self.dead,
            Action::Snow => self.snow,
            Action::Wind => self.wind,
            Action::Handling => self.handling,
        }
    }
}

const ASD_OLD: Source = Source::new("ASCE 7-16", "§2.4.1", Certainty::Agreed);
const ASD_NEW: Source = Source::new("ASCE 7-22", "§2.4.1", Certainty::Transcribed);
const LRFD_OLD: Source = Source::new("ASCE 7-16", "§2.3.1", Certainty::Agreed);
const LRFD_NEW: Source = Source::new("ASCE 7-22", "§2.3.1", Certainty::Transcribed);
const LRFD_NEW_COMPANION: Source = Source::new("ASCE 7-22", "§2.3.1, companion 0.3 S", Certainty::Transcribed);
// Recommended values, as several open repositories tabulate them: γ 1.35 and 1.5, 0.90 stabilising; ψ_0 0.5 and 0.6.
const EN: Source = Source::new("EN 1990", "Eq. 6.10, Tables A1.1, A1.2(A), A1.2(B)", Certainty::Agreed);

//                                                    D     S      W     L
const ASD_716: [Rule; 6] = [
    Rule::new("2.4.1-1", [1.0, 0.0, 0.0, 0.0], ASD_OLD),
    Rule::new("2.4.1-2", [1.0, 0.0, 0.0, 1.0], ASD_OLD),
    Rule::new("2.4.1-3", [1.0, 1.0, 0.0, 0.0], ASD_OLD),
    Rule::new("2.4.1-5", [1.0, 0.0, 0.6, 0.0], ASD_OLD),
    Rule::new("2.4.1-6", [1.0, 0.75, 0.45, 0.0], ASD_OLD),
    Rule::new("2.4.1-7", [0.6, 0.0, 0.6, 0.0], ASD_OLD),
];
const ASD_722: [Rule; 6] = [
    Rule::new("2.4.1-1", [1.0, 0.0, 0.0, 0.0], ASD_NEW),
    Rule::new("2.4.1-2", [1.0, 0.0, 0.0, 1.0], ASD_NEW),
    Rule::new("2.4.1-3a", [1.0, 0.7, 0.0, 0.0], ASD_NEW),
    Rule::new("2.4.1-5", [1.0, 0.0, 0.6, 0.0], ASD_NEW),
    Rule::new("2.4.1-6a", [1.0, 0.525, 0.45, 0.0], ASD_NEW),
    Rule::new("2.4.1-7", [0.6, 0.0, 0.6, 0.0], ASD_NEW),
];
const LRFD_716: [Rule; 6] = [
    Rule::new("2.3.1-1", [1.4, 0.0, 0.0, 0.0], LRFD_OLD),
    Rule::new("2.3.1-2", [1.2, 0.5, 0.0, 1.6], LRFD_OLD),
    Rule::new("2.3.1-3", [1.2, 1.6, 0.5, 0.0], LRFD_OLD),
    Rule::new("2.3.1-4", [1.2, 0.5, 1.0, 0.0], LRFD_OLD),
    Rule::new("2.3.1-5", [0.9, 0.0, 1.0, 0.0], LRFD_OLD),
    // Equation 3 with its live part instead of the wind, and with neither.
    Rule::new("2.3.1-3s", [1.2, 1.6, 0.0, 0.0], LRFD_OLD),
];
const LRFD_722: [Rule; 6] = [
    Rule::new("2.3.1-1", [1.4, 0.0, 0.0, 0.0], LRFD_NEW),
    Rule::new("2.3.1-2", [1.2, 0.3, 0.0, 1.6], LRFD_NEW_COMPANION),
    Rule::new("2.3.1-3", [1.2, 1.0, 0.5, 0.0], LRFD_NEW),
    Rule::new("2.3.1-4", [1.2, 0.3, 1.0, 0.0], LRFD_NEW_COMPANION),
    Rule::new("2.3.1-5", [0.9, 0.0, 1.0, 0.0], LRFD_NEW),
    Rule::new("2.3.1-3s", [1.2, 1.0, 0.0, 0.0], LRFD_NEW),
];
/// ψ_0 = 0.5 for snow up to 1000 m, 0.6 for wind.
const LIMIT: [Rule; 7] = [
    Rule::new("6.10-G", [1.35, 0.0, 0.0, 0.0], EN),
    Rule::new("6.10-Q", [1.35, 0.0, 0.0, 1.5], EN),
    Rule::new("6.10-S", [1.35, 1.5, 0.0, 0.0], EN),
    Rule::new("6.10-SW", [1.35, 1.5, 0.9, 0.0], EN),
    Rule::new("6.10-WS", [1.35, 0.75, 1.5, 0.0], EN),
    Rule::new("6.10-W", [1.0, 0.0, 1.5, 0.0], EN),
    Rule::new("6.10-EQU", [0.9, 0.0, 1.5, 0.0], EN),
];

/// The combinations of an edition and method; none where the two do not belong together.
///
/// Roof live load is taken as zero, as nobody walks on the panels (judgement); a person leaning stands in the place of
/// the live load of equation 2 and is not put together with design wind.
#[must_use]
pub fn rules(edition: Edition, method: Method) -> &'static [Rule] {
    match (edition, method) {
        (Edition::Asce710 | Edition::Asce716, Method::Asd) => &ASD_716,
        (Edition::Asce722, Method::Asd) => &ASD_722,
        (Edition::Asce710 | Edition::Asce716, Method::Lrfd) => &LRFD_716,
        (Edition::Asce722, Method::Lrfd) => &LRFD_722,
        (Edition::En1991, Method::Limit) => &LIMIT,
        _ => &[],
    }
}

/// Factored cases that act together.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Combination {
    /// `2.4.1-7 wind-back-clear-b`.
    pub name: String,
    /// The rule.
    pub rule: Rule,
    /// Index into the list of cases, and factor; the order is that of the list.
    pub factors: Vec<(usize, f64)>,
    /// Shortest load in it.
    pub duration: Duration,
}

/// Every combination of the cases: one case of each kind at a time, and each kind a rule names must be there.
///
/// A rule with a kind that has no case (no snow) is left out: it would repeat another one, as `D + 0.75 (0.6 W)` repeats
/// `D + 0.6 W` at less. All dead cases act together.
///
/// Wind on bare members is a case like the others here; [`Situation::combinations`](super::handling::Situation::combinations)
/// keeps it to the frame without panels. Combinations name cases, not pressures: a search need not make them again for
/// every size.
#[must_use]
pub fn combine(rules: &[Rule], cases: &[Case]) -> Vec<Combination> {
    combine_where(rules, cases, |_| true)
}

/// [`combine`] over the admitted cases only; indices stay those of the whole list.
pub(crate) fn combine_where(rules: &[Rule], cases: &[Case], admits: impl Fn(&Case) -> bool) -> Vec<Combination> {
    let of = |action: Action| -> Vec<usize> {
        let wanted = |case: &Case| case.action == action && admits(case);
        cases.iter().enumerate().filter(|(_, c)| wanted(c)).map(|(i, _)| i).collect()
    };
    let dead = of(Action::Dead);
    let (snows, winds, people) = (of(Action::Snow), of(Action::Wind), of(Action::Handling));
    let mut all = Vec::new();
    for rule in rules {
        for snow in choices(rule, Action::Snow, &snows) {
            for wind in choices(rule, Action::Wind, &winds) {
                for person in choices(rule, Action::Handling, &people) {
                    all.push(join(rule, &dead, [snow, wind, person], cases));
                }
            }
        }
    }
    all
}

/// The cases of a kind that a rule goes through, or once nothing where it has none of the kind.
fn choices(rule: &Rule, action: Action, some: &[usize]) -> impl Iterator<Item = Option<usize>> {
    // A companion may be missing, a principal load may not: then the rule says nothing new.
    let without = rule.factor(action) == 0.0 || (some.is_empty() && is_companion(rule, action));
    let list = if without { &[] } else { some };
    list.iter().copied().map(Some).chain(without.then_some(None))
}

/// A load kind that goes along with another of the same rule at no more than its full companion factor.
fn is_companion(rule: &Rule, action: Action) -> bool {
    match action {
        Action::Snow => (rule.wind >= 1.0 || rule.handling >= 1.0) && rule.snow < 1.0,
        _ => false,
    }
}

fn join(rule: &Rule, dead: &[usize], chosen: [Option<usize>; 3], cases: &[Case]) -> Combination {
    let mut factors = Vec::with_capacity(dead.len() + chosen.len());
    let mut name = String::with_capacity(48);
    name.push_str(rule.id);
    let mut duration = Duration::Permanent;
    factors.extend(dead.iter().map(|i| (*i, rule.dead)));
    for (before, index) in [" ", " + ", " + "].into_iter().zip(chosen.into_iter().flatten()) {
        let case = &cases[index];
        name.push_str(before);
        name.push_str(&case.id);
        factors.push((index, rule.factor(case.action)));
        duration = duration.max(Duration::of(case.action));
    }
    factors.sort_by_key(|(i, _)| *i);
    Combination { name, rule: *rule, factors, duration }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::loads::{Load, RangeState, SurfaceLoad};

    fn case(id: &str, action: Action) -> Case {
        Case {
            id: id.to_string(),
            name: id.to_string(),
            action,
            wind_from: None,
            state: RangeState::Published,
            sources: Vec::new(),
            load: Load::Surface(SurfaceLoad::normal(1.0, 1.0)),
        }
    }

    #[test]
    fn every_wind_meets_every_snow() {
        let cases = [
            case("dead", Action::Dead),
            case("w1", Action::Wind),
            case("w2", Action::Wind),
            case("s1", Action::Snow),
            case("s2", Action::Snow),
            case("s3", Action::Snow),
        ];
        let all = combine(rules(Edition::Asce716, Method::Asd), &cases);
        // 1: one; 2: nobody leans; 3: three snows; 5 and 7: two winds each; 6: six pairs.
        assert_eq!(all.len(), 1 + 3 + 2 + 6 + 2);
        let pair = all.iter().find(|c| c.name == "2.4.1-6 s2 + w1").expect("pair");
        assert_eq!(pair.factors, [(0, 1.0), (1, 0.45), (4, 0.75)]);
        assert_eq!(pair.duration, Duration::TenMinutes);
        let snow = all.iter().find(|c| c.name == "2.4.1-3 s1").expect("snow");
        assert_eq!(snow.duration, Duration::TwoMonths);
    }

    #[test]
    fn strength_design_without_snow_keeps_its_wind() {
        let cases = [case("dead", Action::Dead), case("w1", Action::Wind)];
        let all = combine(rules(Edition::Asce716, Method::Lrfd), &cases);
        let names: Vec<&str> = all.iter().map(|c| c.name.as_str()).collect();
        assert_eq!(names, ["2.3.1-1", "2.3.1-4 w1", "2.3.1-5 w1"]);
    }

    #[test]
    fn a_method_of_another_standard_has_no_rules() {
        assert!(rules(Edition::En1991, Method::Asd).is_empty());
        assert!(rules(Edition::Asce716, Method::Limit).is_empty());
    }
}
