//! Fields of a design that may be changed to mend a refusal: what the table of fields says of them, with the values worth
//! trying in this design, nearest first.

use crate::{
    catalogue::{self, Bolt, Screw, ScrewKind, Section, screws::SCREWS},
    design::{
        Base, Brace, Design, Field, Ground, Placement, Posts, Runners, Seating,
        fields::{self, LeftOut, Mend},
    },
    quantities::{Length, MM_PER_INCH, Units, length, mm, number, to_deg, to_mm},
};

/// Values tried of one field, each way.
const REACH: usize = 40;

/// Every field that may be changed, for a refusal that no field of its own mends.
pub(super) fn all() -> impl Iterator<Item = &'static Field> {
    fields::all().filter(|field| field.mended.is_some())
}

/// Those that the layout finds by itself where they are left out. A slot that is left out is no other slot.
pub(super) fn left_to_the_layout() -> impl Iterator<Item = &'static Field> {
    all().filter(|field| field.left_out == LeftOut::Chosen && field.mended != Some(Mend::SlotsRound))
}

/// One field that may be changed in a design.
pub(super) struct Adjustment {
    pub(super) field: &'static str,
    pub(super) values: Vec<Value>,
    pub(super) set: Set,
}

/// Writes a value into a design.
type Set = fn(&mut Design, Value);

/// What stands, or may be written, for a field.
#[derive(Clone, Copy)]
pub(super) enum Value {
    /// Nothing: the layout finds it.
    Open,
    Length(f64),
    Bolt(&'static Bolt),
    Screw(&'static Screw),
    /// Panels on purlins of this section.
    OnPurlins(&'static Section),
    Section(&'static Section),
    Count(usize),
    /// One slot at each side of so many columns.
    SlotsRound(usize),
    Yes,
    Angle(f64),
}

impl Value {
    fn length(self) -> Option<Length> {
        match self {
            Self::Length(value) => Some(mm(value)),
            _ => None,
        }
    }

    fn bolt(self) -> Option<&'static Bolt> {
        match self {
            Self::Bolt(bolt) => Some(bolt),
            _ => None,
        }
    }

    fn section(self) -> Option<&'static Section> {
        match self {
            Self::Section(section) => Some(section),
            _ => None,
        }
    }

    /// As it is written; nothing where the field is left out.
    pub(super) fn text(self, units: Units) -> Option<String> {
        Some(match self {
            Self::Open => return None,
            Self::Length(value) => length(mm(value), units),
            Self::Bolt(bolt) => bolt.name.to_string(),
            Self::Screw(screw) => format!("\"{}\"", screw.name),
            Self::OnPurlins(purlin) => format!("{{kind: on-purlins, purlin: {}}}", purlin.name),
            Self::Section(section) => section.name.clone(),
            Self::Count(count) => count.to_string(),
            Self::SlotsRound(columns) => format!("[0, {columns}]"),
            Self::Yes => "true".to_string(),
            Self::Angle(value) => format!("{} deg", number(value, 2)),
        })
    }
}

/// Writes a value that is there; a field that cannot be left out stays as it is.
fn put<T>(place: &mut T, value: Option<T>) {
    if let Some(value) = value {
        *place = value;
    }
}

fn posts(design: &mut Design, change: impl FnOnce(&mut Posts)) {
    if let Base::Posts(posts) = &mut design.support.base {
        change(posts);
    }
}

fn runners(design: &mut Design, change: impl FnOnce(&mut Runners)) {
    if let Base::Runners(runners) = &mut design.support.base {
        change(runners);
    }
}

/// The field of that path with its values; nothing where the design does not write it or cannot have it.
pub(super) fn adjustment(design: &Design, path: &str) -> Option<Adjustment> {
    let field = fields::field(path)?;
    let mend = field.mended?;
    let (now, set) = place(design, field.path)?;
    Some(Adjustment { field: field.path, values: values(design, field, mend, now), set })
}

/// Values worth trying in the place of the one that stands, in the direction that the table gives.
fn values(design: &Design, field: &Field, mend: Mend, now: Value) -> Vec<Value> {
    match (mend, now) {
        (Mend::Near, Value::Length(now)) => around(field, now, design.units),
        (Mend::Count, Value::Count(now)) => {
            let [least, most] = field.kind.range().unwrap_or_default();
            (least as usize..=most as usize).filter(|count| *count != now).map(Value::Count).collect()
        }
        (Mend::Fewer, Value::Count(now)) => (1..now).rev().map(Value::Count).collect(),
        (Mend::Deeper, Value::Section(now)) => deeper(now),
        (Mend::Larger, Value::Section(now)) => larger(now),
        (Mend::ThinnerScrew, Value::Screw(now)) => thinner_screws(now),
        // Purlins carry panels at their own holes, so the maker must have made some.
        (Mend::OnPurlins, _) if design.panel.mounting_holes.is_none() => vec![],
        (Mend::OnPurlins, _) => vec![Value::OnPurlins(design.frame.rail)],
        (Mend::Flatter, Value::Section(now)) => flatter(now),
        (Mend::Thinner(names), Value::Bolt(now)) => thinner(now, names, design.units),
        (Mend::SlotsRound, _) => vec![Value::SlotsRound(design.array.columns)],
        (Mend::Yes, _) => vec![Value::Yes],
        (Mend::FacesFrame, _) => vec![Value::Angle(to_deg(design.site.facing))],
        _ => unreachable!("`{}` is changed as its kind is", field.path),
    }
}

/// Size, length or number of the screws of a joint.
macro_rules! screws {
    ($design:ident, $path:ident, $joint:ident) => {{
        let screws = $design.joints.$joint?;
        let place: (Value, Set) = if $path.ends_with(".screw") {
            (Value::Screw(screws.screw), |d, v| {
                if let (Some(screws), Value::Screw(screw)) = (&mut d.joints.$joint, v) {
                    screws.screw = screw;
                }
            })
        } else if $path.ends_with(".length") {
            (Value::Length(to_mm(screws.length)), |d, v| {
                if let Some(screws) = &mut d.joints.$joint {
                    put(&mut screws.length, v.length());
                }
            })
        } else {
            (Value::Count(screws.count as usize), |d, v| {
                if let (Some(screws), Value::Count(count)) = (&mut d.joints.$joint, v) {
                    screws.count = count as u32;
                }
            })
        };
        place
    }};
}

/// What stands for a field in a design, and how another value is put there.
fn place(design: &Design, path: &str) -> Option<(Value, Set)> {
    let (frame, support, stay) = (&design.frame, &design.support, &design.support.stay);
    let (on_posts, on_runners) = match &support.base {
        Base::Posts(posts) => (Some(posts), None),
        Base::Runners(runners) => (None, Some(runners)),
    };
    let length = |value: Length| Value::Length(to_mm(value));
    let place: (Value, Set) = match path {
        "frame.outside_width" => (length(frame.outside_width?), |d, v| d.frame.outside_width = v.length()),
        "frame.outside_length" => (length(frame.outside_length?), |d, v| d.frame.outside_length = v.length()),
        "frame.mullion_plies" => (Value::Count(frame.mullion_plies), |d, v| {
            if let Value::Count(count) = v {
                d.frame.mullion_plies = count;
            }
        }),
        "frame.seating.lap" => {
            let Seating::Lapped { lap } = frame.seating else { return None };
            (length(lap), |d, v| {
                if let Seating::Lapped { lap } = &mut d.frame.seating {
                    put(lap, v.length());
                }
            })
        }
        "frame.seating.side_clearance" => {
            let Seating::Inset { side_clearance, .. } = frame.seating else { return None };
            (length(side_clearance), |d, v| {
                if let Seating::Inset { side_clearance, .. } = &mut d.frame.seating {
                    put(side_clearance, v.length());
                }
            })
        }
        "frame.seating" if !matches!(frame.seating, Seating::OnPurlins { .. }) => (Value::Open, |d, v| {
            if let Value::OnPurlins(purlin) = v {
                d.frame.seating = Seating::OnPurlins { purlin };
            }
        }),
        "array.gap" if !matches!(frame.seating, Seating::Inset { .. }) => {
            (length(design.array.gap), |d, v| put(&mut d.array.gap, v.length()))
        }
        "frame.corner_brace.leg" => (length(frame.brace?.leg), |d, v| {
            brace(d, |brace| put(&mut brace.leg, v.length()));
        }),
        "frame.corner_brace.section" => (Value::Section(frame.brace?.section), |d, v| {
            brace(d, |brace| put(&mut brace.section, v.section()));
        }),
        "frame.rail" => (Value::Section(frame.rail), |d, v| {
            brace(d, |brace| put(&mut brace.section, v.section().filter(|_| brace.follows_rail)));
            put(&mut d.frame.rail, v.section());
        }),
        "frame.stile" => (Value::Section(frame.stile), |d, v| {
            put(&mut d.frame.mullion, v.section().filter(|_| d.frame.mullion_follows));
            put(&mut d.frame.stile, v.section());
        }),
        "frame.mullion" => (Value::Section(frame.mullion), |d, v| put(&mut d.frame.mullion, v.section())),
        "support.bolt" => (Value::Bolt(support.bolt?), |d, v| d.support.bolt = v.bolt()),
        "support.pin" => (Value::Bolt(support.pin?), |d, v| d.support.pin = v.bolt()),
        "support.low_edge_clearance" => {
            (length(support.low_edge_clearance?), |d, v| d.support.low_edge_clearance = v.length())
        }
        "support.stay.length" => (length(stay.length?), |d, v| d.support.stay.length = v.length()),
        "support.stay.pin_along" => (length(stay.pin_along?), |d, v| d.support.stay.pin_along = v.length()),
        "support.stay.pin_behind" => (length(stay.pin_behind?), |d, v| d.support.stay.pin_behind = v.length()),
        "support.stay.cleat" => (Value::Section(stay.cleat?), |d, v| d.support.stay.cleat = v.section()),
        "support.stay.section" => (Value::Section(stay.section), |d, v| put(&mut d.support.stay.section, v.section())),
        "joints.clips_per_panel" => (Value::Count(design.joints.clips_per_panel? as usize), |d, v| {
            if let Value::Count(count) = v {
                d.joints.clips_per_panel = Some(count as u32);
            }
        }),
        "joints.corner.screw" | "joints.corner.length" | "joints.corner.count" => screws!(design, path, corner),
        "joints.brace.screw" | "joints.brace.length" | "joints.brace.count" => screws!(design, path, brace),
        "joints.clip.screw" | "joints.clip.length" | "joints.clip.count" => screws!(design, path, clip),
        "joints.purlin.screw" | "joints.purlin.length" | "joints.purlin.count" => screws!(design, path, purlin),
        "support.posts.axle_height" => (length(on_posts?.axle_height), |d, v| {
            posts(d, |posts| put(&mut posts.axle_height, v.length()));
        }),
        "support.posts.pin_below_axle" => (length(on_posts?.pin_below_axle?), |d, v| {
            posts(d, |posts| posts.pin_below_axle = v.length());
        }),
        "support.posts.section" => (Value::Section(on_posts?.section), |d, v| {
            posts(d, |posts| put(&mut posts.section, v.section()));
        }),
        "support.posts.slots_after_columns" if on_posts?.placement == Placement::Inside => (Value::Open, |d, v| {
            if let Value::SlotsRound(columns) = v {
                posts(d, |posts| posts.slots_after_columns = Some(vec![0, columns]));
            }
        }),
        "support.runners.length" => (length(on_runners?.length?), |d, v| {
            runners(d, |runners| runners.length = v.length());
        }),
        "support.runners.hinge_above_holes" => (length(on_runners?.hinge_above_holes?), |d, v| {
            runners(d, |runners| runners.hinge_above_holes = v.length());
        }),
        "support.runners.hinge_from_low_edge" => (length(on_runners?.hinge_from_low_edge?), |d, v| {
            runners(d, |runners| runners.hinge_from_low_edge = v.length());
        }),
        "support.runners.section" => (Value::Section(on_runners?.section), |d, v| {
            runners(d, |runners| put(&mut runners.section, v.section()));
        }),
        "support.runners.shims" if !on_runners?.shims => {
            (Value::Open, |d, _| runners(d, |runners| runners.shims = true))
        }
        "support.runners.roof_facing" | "support.runners.ground_facing" => {
            let runners_ = on_runners?;
            let is_roof = path == "support.runners.roof_facing";
            let is_written = runners_.roof_facing.is_some() && is_roof == (runners_.on == Ground::Roof);
            is_written.then_some(())?;
            (Value::Open, |d, _| {
                let facing = d.site.facing;
                runners(d, |runners| runners.roof_facing = Some(facing));
            })
        }
        _ => return None,
    };
    Some(place)
}

fn brace(design: &mut Design, change: impl FnOnce(&mut Brace)) {
    if let Some(brace) = &mut design.frame.brace {
        change(brace);
    }
}

/// Values round a length (mm), nearest first, on marks that are easy to read and within what the field takes.
fn around(field: &Field, now_mm: f64, units: Units) -> Vec<Value> {
    let step = match units {
        Units::Us => MM_PER_INCH / 4.0,
        Units::Metric => 5.0,
    };
    let middle = now_mm / step;
    (0..=REACH)
        .flat_map(|i| {
            // Coarser and coarser: forty steps reach from a quarter inch to two yards.
            let away = (i as f64 * (1.0 + i as f64 / 6.0)).round();
            [(middle.ceil() + away) * step, (middle.floor() - away) * step]
        })
        .filter(|v| (*v - now_mm).abs() > 1e-6 && field.kind.takes(*v))
        .map(Value::Length)
        .collect()
}

fn thinner(bolt: &Bolt, [us, metric]: [&[&str]; 2], units: Units) -> Vec<Value> {
    let names = match units {
        Units::Us => us,
        Units::Metric => metric,
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

/// Angles and channels with more room for a bolt, the lightest first; of other sections none is wider across its bolt.
fn larger(section: &Section) -> Vec<Value> {
    let kind = |of: &Section| (of.family, std::mem::discriminant(&of.shape));
    let mut found: Vec<&'static Section> = catalogue::sections()
        .iter()
        .filter(|s| section.is_open() && kind(s) == kind(section) && s.depth_mm >= section.depth_mm)
        .filter(|s| s.name != section.name)
        .collect();
    found.sort_by(|a, b| a.area_mm2.total_cmp(&b.area_mm2));
    found.into_iter().map(Value::Section).collect()
}

/// Thinner screws of the same kind, then of the other, the thickest first.
fn thinner_screws(screw: &Screw) -> Vec<Value> {
    let thinner = SCREWS.iter().filter(|s| s.kind != ScrewKind::CommonNail && s.diameter_mm < screw.diameter_mm);
    let mut found: Vec<&'static Screw> = thinner.filter_map(|s| catalogue::screw(s.name).ok()).collect();
    let other_kind = |s: &Screw| s.kind != screw.kind;
    found.sort_by(|a, b| other_kind(a).cmp(&other_kind(b)).then(b.diameter_mm.total_cmp(&a.diameter_mm)));
    found.into_iter().map(Value::Screw).collect()
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{READY, read_text};

    /// What the table says may be changed can be changed in some design, and every value offered lies in the field's range.
    #[test]
    fn every_field_that_may_be_changed_is_known_here() {
        let lapped = "seating: {kind: lapped, lap: 18 mm}";
        let written = "support:\n  low_edge_clearance: 6 in";
        let texts = READY.iter().flat_map(|(_, text)| {
            let lapped = text
                .lines()
                .map(|l| if l.contains("seating: {kind: inset") { format!("  {lapped}") } else { l.to_string() });
            let wide = text
                .replace("support:", written)
                .replace("  rail:", "  outside_width: 9 ft\n  outside_length: 7 ft\n  rail:");
            let runners = text
                .replace("    on: ground\n", "    shims: false\n    ground_slope: 3 deg\n    ground_facing: 170 deg\n");
            let stay = wide
                .replace("stay: {", "stay: {length: 40 in, ")
                .replace("    placement", "    pin_below_axle: 30 in\n    placement");
            let cleat = text.replace("stay: {", "stay: {cleat: 2x6, ");
            [(*text).to_string(), lapped.collect::<Vec<_>>().join("\n"), wide, runners, stay, cleat]
        });
        let designs: Vec<Design> = texts.filter_map(|text| read_text("x.yaml", &text).ok()).map(|r| r.design).collect();
        for field in all() {
            let found =
                designs.iter().find_map(|design| adjustment(design, field.path).filter(|a| !a.values.is_empty()));
            let Some(found) = found else { panic!("`{}` is changed nowhere", field.path) };
            for value in &found.values {
                let text = value.text(Units::Metric).expect("a value is written");
                field.kind.judge_text(&text, Units::Metric).unwrap_or_else(|why| panic!("{}: {why}", field.path));
            }
        }
    }
}
