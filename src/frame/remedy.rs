//! Ways out of a refusal that were tried: with each, the design stands.

use super::{
    adjustment::{self, Adjustment, Value, adjustment},
    lay_out,
    refusal::Refusal,
};
use crate::{
    design::{Design, Tilts},
    quantities::{Angle, Tape, Units, deg, number, to_deg},
};

/// Changes that make the design stand, made together: one where one is enough.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Remedy {
    /// The changes.
    pub changes: Vec<Change>,
    /// The field that strength then still asks for; nothing where the design can be judged as a whole.
    pub wants: Option<String>,
}

/// A field that is written otherwise.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Change {
    /// Path of the field.
    pub field: String,
    /// What to write there; nothing where the line is to be left out.
    pub value: Option<String>,
}

impl Change {
    fn new(field: &str, value: Option<String>) -> Self {
        Self { field: field.to_string(), value }
    }
}

impl Remedy {
    /// Changes that were made in a design, with which it can be laid out.
    fn of(changed: &Design, changes: Vec<Change>) -> Self {
        let wants = changed.strength_basis().err().and_then(|faults| faults.into_iter().next());
        Self { changes, wants: wants.map(|fault| fault.field) }
    }

    /// One field written otherwise, or left out.
    pub(crate) fn one(changed: &Design, field: &str, value: Option<String>) -> Self {
        Self::of(changed, vec![Change::new(field, value)])
    }

    /// What to do, in words.
    #[must_use]
    pub fn words(&self) -> String {
        let words: Vec<String> = self
            .changes
            .iter()
            .map(|change| match &change.value {
                Some(value) => format!("`{}: {value}`", change.field),
                None => format!("leave out `{}`", change.field),
            })
            .collect();
        let together = if words.len() > 1 { ", done together" } else { "" };
        let words = words.join(", ");
        match &self.wants {
            None => format!("this works{together}: {words}"),
            Some(field) => {
                format!(
                    "to look at{together}: {words}; the frame can be laid out so, and strength then asks for `{field}`"
                )
            }
        }
    }
}

/// Remedies given at most: enough to choose from, few enough to read.
const MOST: usize = 3;
/// Layouts tried in all; a layout with open choices searches, so this keeps the answer under a second or two.
const BUDGET: usize = 300;
/// Layouts of one field at least, however many share the budget.
const LEAST_SHARE: usize = 4;
/// Values of a field from which a second change is looked for.
const FIRST_STEPS: usize = 8;
/// Layouts tried for other tilts.
const TILT_BUDGET: usize = 90;
/// How far a tilt is moved before it is given up (deg).
const TILT_REACH: i32 = 40;
/// Two tilts nearer than this catch the same sun: one of them is given up rather than moved (deg). Judgement.
const SAME_SUN_DEG: f64 = 1.0;

/// A large frame takes longer to lay out, so fewer layouts are tried: the answer takes about as long for any size.
fn budget(design: &Design, layouts: usize) -> usize {
    const USUAL_PANELS: usize = 4;
    let panels = design.array.rows * design.array.columns;
    (layouts * USUAL_PANELS / panels.max(USUAL_PANELS)).max(LEAST_SHARE)
}

/// Tries the fields that mend such refusals, nearest values first, and keeps what works: a change of one field, else
/// fields left out for the layout to find, else two changes together.
///
/// `tilts` are the tilts that were refused; they are themselves a field that may change.
#[must_use]
pub fn remedies(design: &Design, tilts: &[Angle], tape: Tape, refusals: &[Refusal]) -> Vec<Remedy> {
    let trial = Trial { tilts, tape, left: std::cell::Cell::new(0) };
    let fields = fields_of(refusals);
    let mut found = trial.changed(design, refusals, &fields, budget(design, BUDGET));
    if found.is_empty() {
        found.extend(trial.left_out(design));
    }
    if found.is_empty() {
        found.extend(trial.two_changes(design, refusals, &fields));
    }
    if found.is_empty() {
        let all = adjustment::all().map(|field| field.path);
        let others: Vec<&'static str> = all.filter(|field| !fields.contains(field)).collect();
        found = trial.changed(design, refusals, &others, budget(design, BUDGET));
    }
    found.truncate(MOST);
    found
}

/// Fields that mend any of the refusals, what mends the first of them first.
fn fields_of(refusals: &[Refusal]) -> Vec<&'static str> {
    let mut fields: Vec<&'static str> = Vec::new();
    for field in refusals.iter().flat_map(Refusal::mended_by) {
        if !fields.contains(&field) {
            fields.push(field);
        }
    }
    fields
}

/// The very sizes that refusals ask of a field, on the marks its author writes: the next one that is no less.
fn needed(refusals: &[Refusal], field: &str, units: Units) -> Vec<Value> {
    let asked = refusals.iter().filter(|refusal| refusal.field() == field).filter_map(|refusal| match refusal {
        Refusal::PanelsDoNotFit { needed_mm, .. }
        | Refusal::FrameTooLarge { needed_mm, .. }
        | Refusal::StayTooShort { needed_mm, .. } => Some(*needed_mm),
        _ => None,
    });
    let mark = Tape::of(units).mark_mm();
    asked.flat_map(|mm| [(mm / mark - 1e-9).ceil(), (mm / mark).round()]).map(|m| Value::Length(m * mark)).collect()
}

struct Trial<'a> {
    tilts: &'a [Angle],
    tape: Tape,
    /// Layouts that may still be tried.
    left: std::cell::Cell<usize>,
}

impl Trial<'_> {
    /// What stops a design, nothing when it stands; nothing is known once the budget is used up.
    fn refusals(&self, design: &Design, tilts: &[Angle]) -> Option<Vec<Refusal>> {
        let left = self.left.get();
        self.left.set(left.saturating_sub(1));
        (left > 0).then(|| lay_out(design, tilts, self.tape).err().unwrap_or_default())
    }

    fn stands(&self, design: &Design, tilts: &[Angle]) -> bool {
        self.refusals(design, tilts).is_some_and(|refusals| refusals.is_empty())
    }

    /// Each field changed alone, with an equal share of the layouts.
    fn changed(&self, design: &Design, refusals: &[Refusal], fields: &[&'static str], layouts: usize) -> Vec<Remedy> {
        let share = (layouts / fields.len().max(1)).max(LEAST_SHARE);
        let mut found = Vec::new();
        for &field in fields {
            if found.len() >= MOST {
                break;
            }
            if field == "tilts" {
                found.extend(self.other_tilts(design, refusals));
                continue;
            }
            let Some(mut change) = adjustment(design, field) else { continue };
            change.values.splice(0..0, needed(refusals, field, design.units));
            self.left.set(share);
            found.extend(self.try_values(&change, design));
        }
        found
    }

    fn try_values(&self, change: &Adjustment, design: &Design) -> Option<Remedy> {
        change.values.iter().find_map(|value| {
            let mut changed = design.clone();
            (change.set)(&mut changed, *value);
            self.stands(&changed, self.tilts).then(|| Remedy::one(&changed, change.field, value.text(design.units)))
        })
    }

    /// Fields that are written and need not be: one of them left out, else all.
    fn left_out(&self, design: &Design) -> Option<Remedy> {
        let written: Vec<Adjustment> =
            adjustment::left_to_the_layout().filter_map(|field| adjustment(design, field.path)).collect();
        self.left.set(written.len() + 1);
        let open = |fields: &[Adjustment]| {
            let mut changed = design.clone();
            fields.iter().for_each(|field| (field.set)(&mut changed, Value::Open));
            let changes = fields.iter().map(|field| Change::new(field.field, None)).collect();
            self.stands(&changed, self.tilts).then(|| Remedy::of(&changed, changes))
        };
        written.chunks(1).find_map(open).or_else(|| if written.len() > 1 { open(&written) } else { None })
    }

    /// A change that leaves other trouble than before, and one more that mends that.
    fn two_changes(&self, design: &Design, refusals: &[Refusal], fields: &[&'static str]) -> Option<Remedy> {
        fields.iter().filter_map(|field| adjustment(design, field)).find_map(|first| {
            first.values.iter().take(FIRST_STEPS).find_map(|value| {
                let mut changed = design.clone();
                (first.set)(&mut changed, *value);
                self.left.set(1);
                let then = self.refusals(&changed, self.tilts).filter(|then| then != refusals)?;
                let others: Vec<&'static str> =
                    fields_of(&then).into_iter().filter(|field| *field != first.field && *field != "tilts").collect();
                let second = self.changed(&changed, &then, &others, budget(design, BUDGET)).into_iter().next()?;
                let mut changes = vec![Change::new(first.field, value.text(design.units))];
                changes.extend(second.changes);
                Some(Remedy { changes, wants: second.wants })
            })
        })
    }

    /// Every tilt that is refused moved as little as whole degrees allow, or given up where no other holds.
    fn other_tilts(&self, design: &Design, refusals: &[Refusal]) -> Option<Remedy> {
        let all: Vec<f64> = self.tilts.iter().map(|t| to_deg(*t)).collect();
        let refused = refused_tilts(&all, refusals);
        let is_refused = |tilt: f64| refused.iter().any(|bad| (bad - tilt).abs() < SAME_DEG);
        if refused.is_empty() {
            return None;
        }
        let stands = |tilts: &[f64]| {
            let angles: Vec<Angle> = tilts.iter().map(|t| deg(*t)).collect();
            self.stands(design, &angles)
        };
        let mut kept: Vec<f64> = all.iter().copied().filter(|t| !is_refused(*t)).collect();
        let mut places: Vec<(f64, f64)> = Vec::new();
        for &bad in &refused {
            let others = |t: f64| kept.iter().map(move |other| (other - t).abs());
            if others(bad).any(|apart| apart < SAME_SUN_DEG) {
                continue;
            }
            self.left.set(budget(design, TILT_BUDGET));
            let near =
                (1..=TILT_REACH).flat_map(|step| [f64::from(step), -f64::from(step)]).map(|by| (bad + by).round());
            // A tilt moved onto another is a tilt given up.
            let free: Vec<f64> = near.filter(|t| others(*t).all(|apart| apart >= SAME_SUN_DEG)).collect();
            let place = free.into_iter().find(|t| stands(&[kept.as_slice(), &[*t]].concat()));
            if let Some(place) = place {
                kept.push(place);
                places.push((bad, place));
            }
        }
        let moved: Vec<f64> = all
            .iter()
            .filter_map(|tilt| match places.iter().find(|(bad, _)| (bad - tilt).abs() < SAME_DEG) {
                Some((_, place)) => Some(*place),
                None => (!is_refused(*tilt)).then_some(*tilt),
            })
            .collect();
        self.left.set(1);
        if moved.is_empty() || !stands(&moved) {
            return None;
        }
        let texts: Vec<String> = moved.iter().map(|t| format!("{} deg", number(*t, 2))).collect();
        let mut changes = vec![Change::new("tilts", Some(format!("[{}]", texts.join(", "))))];
        if matches!(design.tilts, Tilts::Seasons(_)) {
            changes.push(Change::new("seasons", None));
        }
        Some(Remedy::of(design, changes))
    }
}

/// Tilts this near are one and the same, written twice (deg).
const SAME_DEG: f64 = 1e-6;

/// The tilts asked for that the refusals mean, each once. A refusal tells the tilt that its hole really gives, so each
/// means the nearest.
fn refused_tilts(asked: &[f64], refusals: &[Refusal]) -> Vec<f64> {
    let mut found: Vec<f64> = Vec::new();
    for given in refusals.iter().filter_map(Refusal::tilt_deg) {
        let nearest = asked.iter().copied().min_by(|a, b| (a - given).abs().total_cmp(&(b - given).abs()));
        if let Some(tilt) = nearest
            && (tilt - given).abs() < SAME_SUN_DEG
            && !found.iter().any(|other| (other - tilt).abs() < SAME_DEG)
        {
            found.push(tilt);
        }
    }
    found
}
