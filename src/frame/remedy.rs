//! Ways out of a refusal that were tried: each changes one field, and the design then stands.

use super::{lay_out, refusal::Refusal};
use crate::{
    catalogue::{self, Bolt, Section},
    design::{Base, Design, Ground, Placement},
    quantities::{Angle, Length, MM_PER_INCH, Tape, Units, deg, length, mm, number, to_deg, to_mm},
};

/// A change that makes the design stand.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Remedy {
    /// Path of the field.
    pub field: String,
    /// What to write there.
    pub value: String,
}

/// Remedies given at most: enough to choose from, few enough to read.
const MOST: usize = 3;
/// Values tried of one field, each way.
const REACH: usize = 40;
/// Layouts tried in all; a layout with open choices searches, so this keeps the answer under a second or two.
const BUDGET: usize = 300;
/// Layouts kept for other tilts, when the fields have used up the budget.
const TILT_BUDGET: usize = 90;

/// A large frame takes longer to lay out, so fewer layouts are tried: the answer takes about as long for any size.
fn budget(design: &Design, layouts: usize) -> usize {
    const USUAL_PANELS: usize = 4;
    let panels = design.array.rows * design.array.columns;
    (layouts * USUAL_PANELS / panels.max(USUAL_PANELS)).max(4)
}

/// Tries changes of single fields, nearest first, and keeps those that work.
///
/// `tilts` are the tilts that were refused; they are themselves a field that may change.
#[must_use]
pub fn remedies(design: &Design, tilts: &[Angle], tape: Tape, refusals: &[Refusal]) -> Vec<Remedy> {
    let trial = Trial { tilts, tape, left: std::cell::Cell::new(budget(design, BUDGET)) };
    let mut found: Vec<Remedy> = Vec::new();
    let mut knobs = knobs(design);
    // What the refusal points at comes first.
    let pointed: Vec<&str> = refusals.iter().map(Refusal::field).collect();
    knobs.sort_by_key(|knob| !pointed.iter().any(|field| knob.field.starts_with(field)));
    // A fault of the tilts alone is mended by other tilts.
    let tilts_first = pointed.contains(&"tilts");
    if tilts_first {
        found.extend(trial.other_tilts(design, refusals));
    }
    for knob in &mut knobs {
        knob.values.splice(0..0, needed(refusals, knob.field, design.units));
    }
    for knob in &knobs {
        if found.len() >= MOST {
            break;
        }
        found.extend(knob.turn(&trial, design));
    }
    if found.len() < MOST && !tilts_first {
        found.extend(trial.other_tilts(design, refusals));
    }
    found
}

/// The very sizes that refusals ask of a field, on the marks its author writes: the next one that is no less.
fn needed(refusals: &[Refusal], knob: &str, units: Units) -> Vec<Value> {
    let asked = refusals.iter().filter(|refusal| refusal.field() == knob).filter_map(|refusal| match refusal {
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
    fn stands(&self, design: &Design) -> bool {
        self.stands_at(design, self.tilts)
    }

    fn stands_at(&self, design: &Design, tilts: &[Angle]) -> bool {
        let left = self.left.get();
        self.left.set(left.saturating_sub(1));
        left > 0 && lay_out(design, tilts, self.tape).is_ok()
    }

    /// The tilts that are refused, moved as little as whole degrees allow, or left out.
    fn other_tilts(&self, design: &Design, refusals: &[Refusal]) -> Option<Remedy> {
        self.left.set(self.left.get().max(budget(design, TILT_BUDGET)));
        let bad: Vec<f64> = refusals.iter().filter_map(Refusal::tilt_deg).collect();
        let all: Vec<f64> = self.tilts.iter().map(|t| to_deg(*t)).collect();
        let is_bad = |t: f64| bad.iter().any(|b| (b - t).abs() < 0.75);
        let list = |tilts: &[f64]| {
            let texts: Vec<String> = tilts.iter().map(|t| format!("{} deg", number(*t, 2))).collect();
            Remedy { field: "tilts".to_string(), value: format!("[{}]", texts.join(", ")) }
        };
        let stands = |tilts: &[f64]| {
            let angles: Vec<Angle> = tilts.iter().map(|t| deg(*t)).collect();
            !tilts.is_empty() && self.stands_at(design, &angles)
        };
        if !all.iter().any(|t| is_bad(*t)) {
            return None;
        }
        for step in 1..=40 {
            for sign in [1.0, -1.0] {
                let moved: Vec<f64> =
                    all.iter().map(|t| if is_bad(*t) { (t + sign * f64::from(step)).round() } else { *t }).collect();
                // A tilt moved onto another is a tilt given up.
                let apart = |t: &f64| !all.iter().any(|other| (other - t).abs() < 0.5);
                let is_new = all.iter().zip(&moved).all(|(old, new)| !is_bad(*old) || apart(new));
                if is_new && stands(&moved) {
                    return Some(list(&moved));
                }
            }
        }
        let kept: Vec<f64> = all.iter().copied().filter(|t| !is_bad(*t)).collect();
        stands(&kept).then(|| list(&kept))
    }
}

/// One field that may be changed, and the values worth trying, nearest first.
struct Knob {
    field: &'static str,
    values: Vec<Value>,
    set: fn(&mut Design, Value),
}

#[derive(Clone, Copy)]
enum Value {
    Length(f64),
    Bolt(&'static Bolt),
    Section(&'static Section),
    Count(usize),
    /// One slot at each side of so many columns.
    SlotsRound(usize),
    Yes,
    Angle(f64),
}

impl Value {
    fn length(self) -> Length {
        match self {
            Self::Length(value) => mm(value),
            _ => mm(f64::NAN),
        }
    }

    fn text(self, units: Units) -> String {
        match self {
            Self::Length(value) => length(mm(value), units),
            Self::Bolt(bolt) => bolt.name.to_string(),
            Self::Section(section) => section.name.clone(),
            Self::Count(count) => count.to_string(),
            Self::SlotsRound(columns) => format!("[0, {columns}]"),
            Self::Yes => "true".to_string(),
            Self::Angle(value) => format!("{} deg", number(value, 2)),
        }
    }
}

impl Knob {
    fn turn(&self, trial: &Trial<'_>, design: &Design) -> Option<Remedy> {
        self.values.iter().find_map(|value| {
            let mut changed = design.clone();
            (self.set)(&mut changed, *value);
            let text = value.text(design.units);
            trial.stands(&changed).then(|| Remedy { field: self.field.to_string(), value: text })
        })
    }
}

/// Values round a length, nearest first, on marks that are easy to read.
fn around(value: Length, units: Units) -> Vec<Value> {
    let step = match units {
        Units::Us => MM_PER_INCH / 4.0,
        Units::Metric => 5.0,
    };
    let middle = to_mm(value) / step;
    (0..=REACH)
        .flat_map(|i| {
            // Coarser and coarser: forty steps reach from a quarter inch to two yards.
            let away = (i as f64 * (1.0 + i as f64 / 6.0)).round();
            [(middle.ceil() + away) * step, (middle.floor() - away) * step]
        })
        .filter(|v| *v > 0.0 || to_mm(value) <= 0.0)
        .map(Value::Length)
        .collect()
}

fn thinner(bolt: &Bolt, units: Units) -> Vec<Value> {
    let names = match units {
        Units::Us => ["1/2 in", "3/8 in", "5/16 in", "1/4 in"],
        Units::Metric => ["M12", "M10", "M8", "M6"],
    };
    let bolts = names.iter().filter_map(|name| catalogue::bolt(name).ok());
    bolts.filter(|b| b.diameter_mm < bolt.diameter_mm - 0.1).map(Value::Bolt).collect()
}

fn deeper(section: &Section) -> Vec<Value> {
    let mut found: Vec<&'static Section> = catalogue::sections()
        .iter()
        .filter(|s| {
            s.family == section.family && (s.width_mm - section.width_mm).abs() < 0.5 && s.depth_mm > section.depth_mm
        })
        .filter(|s| s.name.contains('x') == section.name.contains('x') && s.name.len() <= section.name.len() + 1)
        .collect();
    found.sort_by(|a, b| a.depth_mm.total_cmp(&b.depth_mm));
    found.into_iter().take(3).map(Value::Section).collect()
}

/// Sections as wide and less thick, the thickest first; a brace lies flat.
fn flatter(section: &Section) -> Vec<Value> {
    let mut found: Vec<&'static Section> = catalogue::sections()
        .iter()
        .filter(|s| s.family == section.family && s.name.contains('x') == section.name.contains('x'))
        .filter(|s| (s.depth_mm - section.depth_mm).abs() < 0.5 && s.width_mm < section.width_mm)
        .collect();
    found.sort_by(|a, b| b.width_mm.total_cmp(&a.width_mm));
    found.into_iter().take(3).map(Value::Section).collect()
}

fn knobs(design: &Design) -> Vec<Knob> {
    let units = design.units;
    let (support, frame) = (&design.support, &design.frame);
    let mut knobs: Vec<Knob> = Vec::new();
    let mut add = |field, values: Vec<Value>, set: fn(&mut Design, Value)| knobs.push(Knob { field, values, set });
    if let Some(length) = frame.outside_width {
        add("frame.outside_width", around(length, units), |d, v| d.frame.outside_width = Some(v.length()));
    }
    if let Some(length) = frame.outside_length {
        add("frame.outside_length", around(length, units), |d, v| d.frame.outside_length = Some(v.length()));
    }
    add("frame.mullion_plies", (1..=3).map(Value::Count).collect(), |d, v| {
        if let Value::Count(count) = v {
            d.frame.mullion_plies = count;
        }
    });
    if let Some(brace) = frame.brace {
        add("frame.corner_brace.leg", around(brace.leg, units), |d, v| {
            if let Some(brace) = &mut d.frame.brace {
                brace.leg = v.length();
            }
        });
    }
    if let Some(brace) = frame.brace {
        add("frame.corner_brace.section", flatter(brace.section), |d, v| {
            if let (Some(brace), Value::Section(section)) = (&mut d.frame.brace, v) {
                brace.section = section;
            }
        });
    }
    add("frame.rail", deeper(frame.rail), |d, v| {
        if let Value::Section(section) = v {
            d.frame.rail = section;
        }
    });
    if let Some(bolt) = support.bolt {
        add("support.bolt", thinner(bolt, units), |d, v| {
            if let Value::Bolt(bolt) = v {
                d.support.bolt = Some(bolt);
            }
        });
    }
    if let Some(pin) = support.pin {
        add("support.pin", thinner(pin, units), |d, v| {
            if let Value::Bolt(bolt) = v {
                d.support.pin = Some(bolt);
            }
        });
    }
    if let Some(length) = support.stay.length {
        add("support.stay.length", around(length, units), |d, v| d.support.stay.length = Some(v.length()));
    }
    if let Some(length) = support.stay.pin_along {
        add("support.stay.pin_along", around(length, units), |d, v| d.support.stay.pin_along = Some(v.length()));
    }
    if let Some(length) = support.stay.pin_behind {
        add("support.stay.pin_behind", around(length, units), |d, v| d.support.stay.pin_behind = Some(v.length()));
    }
    if let Some(cleat) = support.stay.cleat {
        add("support.stay.cleat", deeper(cleat), |d, v| {
            if let Value::Section(section) = v {
                d.support.stay.cleat = Some(section);
            }
        });
    }
    add("frame.stile", deeper(frame.stile), |d, v| {
        if let Value::Section(section) = v {
            // A mullion that was not named follows the stile.
            if std::ptr::eq(d.frame.mullion, d.frame.stile) {
                d.frame.mullion = section;
            }
            d.frame.stile = section;
        }
    });
    match &support.base {
        Base::Posts(posts) => {
            if let Some(length) = posts.pin_below_axle {
                add("support.posts.pin_below_axle", around(length, units), |d, v| {
                    if let Base::Posts(posts) = &mut d.support.base {
                        posts.pin_below_axle = Some(v.length());
                    }
                });
            }
            add("support.posts.axle_height", around(posts.axle_height, units), |d, v| {
                if let Base::Posts(posts) = &mut d.support.base {
                    posts.axle_height = v.length();
                }
            });
            add("support.posts.section", deeper(posts.section), |d, v| {
                if let (Base::Posts(posts), Value::Section(section)) = (&mut d.support.base, v) {
                    posts.section = section;
                }
            });
            if posts.placement == Placement::Inside {
                let columns = design.array.columns;
                add("support.posts.slots_after_columns", vec![Value::SlotsRound(columns)], |d, v| {
                    if let (Base::Posts(posts), Value::SlotsRound(columns)) = (&mut d.support.base, v) {
                        posts.slots_after_columns = Some(vec![0, columns]);
                    }
                });
            }
        }
        Base::Runners(runners) => {
            if let Some(length) = runners.length {
                add("support.runners.length", around(length, units), |d, v| {
                    if let Base::Runners(runners) = &mut d.support.base {
                        runners.length = Some(v.length());
                    }
                });
            }
            if let Some(length) = runners.hinge_above_holes {
                add("support.runners.hinge_above_holes", around(length, units), |d, v| {
                    if let Base::Runners(runners) = &mut d.support.base {
                        runners.hinge_above_holes = Some(v.length());
                    }
                });
            }
            if let Some(length) = runners.hinge_from_low_edge {
                add("support.runners.hinge_from_low_edge", around(length, units), |d, v| {
                    if let Base::Runners(runners) = &mut d.support.base {
                        runners.hinge_from_low_edge = Some(v.length());
                    }
                });
            }
            if !runners.shims {
                add("support.runners.shims", vec![Value::Yes], |d, _| {
                    if let Base::Runners(runners) = &mut d.support.base {
                        runners.shims = true;
                    }
                });
            }
            if runners.roof_facing.is_some() {
                let field = match runners.on {
                    Ground::Roof => "support.runners.roof_facing",
                    _ => "support.runners.ground_facing",
                };
                add(field, vec![Value::Angle(to_deg(design.site.facing))], |d, _| {
                    let facing = d.site.facing;
                    if let Base::Runners(runners) = &mut d.support.base {
                        runners.roof_facing = Some(facing);
                    }
                });
            }
            add("support.runners.section", deeper(runners.section), |d, v| {
                if let (Base::Runners(runners), Value::Section(section)) = (&mut d.support.base, v) {
                    runners.section = section;
                }
            });
        }
    }
    knobs
}
