//! Fields of a design that may be changed to mend a refusal, each with the values worth trying, nearest first.

use crate::{
    catalogue::{self, Bolt, Section},
    design::{Base, Brace, Design, Ground, Placement, Posts, Runners, Seating, fields},
    quantities::{Length, MM_PER_INCH, Units, length, mm, number, to_deg, to_mm},
};

/// Values tried of one field, each way.
const REACH: usize = 40;

/// Every field that may be changed, for a refusal that no field of its own mends.
pub(super) const FIELDS: [&str; 27] = [
    "frame.outside_width",
    "frame.outside_length",
    "frame.mullion_plies",
    "frame.seating.lap",
    "array.gap",
    "frame.corner_brace.leg",
    "frame.corner_brace.section",
    "frame.rail",
    "frame.stile",
    "frame.mullion",
    "support.posts.axle_height",
    "support.posts.pin_below_axle",
    "support.posts.section",
    "support.posts.slots_after_columns",
    "support.stay.length",
    "support.stay.pin_along",
    "support.stay.pin_behind",
    "support.stay.cleat",
    "support.runners.length",
    "support.runners.hinge_above_holes",
    "support.runners.hinge_from_low_edge",
    "support.runners.section",
    "support.runners.shims",
    "support.runners.roof_facing",
    "support.runners.ground_facing",
    "support.pin",
    "support.low_edge_clearance",
];

/// Fields that the layout finds by itself where they are left out.
pub(super) const OPEN: [&str; 9] = [
    "support.bolt",
    "support.pin",
    "support.stay.pin_along",
    "support.stay.pin_behind",
    "support.stay.length",
    "support.posts.pin_below_axle",
    "support.runners.length",
    "support.runners.hinge_above_holes",
    "support.runners.hinge_from_low_edge",
];

/// One field that may be changed.
pub(super) struct Knob {
    pub(super) field: &'static str,
    pub(super) values: Vec<Value>,
    pub(super) set: fn(&mut Design, Value),
}

/// What may be written for a field.
#[derive(Clone, Copy)]
pub(super) enum Value {
    /// Nothing: the layout finds it.
    Open,
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

fn posts(design: &mut Design) -> Option<&mut Posts> {
    match &mut design.support.base {
        Base::Posts(posts) => Some(posts),
        Base::Runners(_) => None,
    }
}

fn runners(design: &mut Design) -> Option<&mut Runners> {
    match &mut design.support.base {
        Base::Runners(runners) => Some(runners),
        Base::Posts(_) => None,
    }
}

/// The field of that name with its values; nothing where the design does not write it or cannot have it.
pub(super) fn knob(design: &Design, field: &'static str) -> Option<Knob> {
    let units = design.units;
    let (frame, support, stay) = (&design.frame, &design.support, &design.support.stay);
    let (on_posts, on_runners) = match &support.base {
        Base::Posts(posts) => (Some(posts), None),
        Base::Runners(runners) => (None, Some(runners)),
    };
    let knob = |values: Vec<Value>, set: fn(&mut Design, Value)| Some(Knob { field, values, set });
    let near = |value: Length| around(field, value, units);
    match field {
        "frame.outside_width" => knob(near(frame.outside_width?), |d, v| d.frame.outside_width = v.length()),
        "frame.outside_length" => knob(near(frame.outside_length?), |d, v| d.frame.outside_length = v.length()),
        "frame.mullion_plies" => {
            let more = (1..=3).filter(|plies| *plies != frame.mullion_plies).map(Value::Count).collect();
            knob(more, |d, v| {
                if let Value::Count(count) = v {
                    d.frame.mullion_plies = count;
                }
            })
        }
        "frame.seating.lap" => {
            let Seating::Lapped { lap } = frame.seating else { return None };
            knob(near(lap), |d, v| {
                if let Seating::Lapped { lap } = &mut d.frame.seating {
                    put(lap, v.length());
                }
            })
        }
        "array.gap" => {
            let keeps_gap = !matches!(frame.seating, Seating::Inset { .. });
            keeps_gap.then(|| knob(near(design.array.gap), |d, v| put(&mut d.array.gap, v.length())))?
        }
        "frame.corner_brace.leg" => knob(near(frame.brace?.leg), |d, v| {
            brace(d, |brace| put(&mut brace.leg, v.length()));
        }),
        "frame.corner_brace.section" => knob(flatter(frame.brace?.section), |d, v| {
            brace(d, |brace| put(&mut brace.section, v.section()));
        }),
        "frame.rail" => knob(deeper(frame.rail), |d, v| {
            brace(d, |brace| put(&mut brace.section, v.section().filter(|_| brace.follows_rail)));
            put(&mut d.frame.rail, v.section());
        }),
        "frame.stile" => knob(deeper(frame.stile), |d, v| {
            put(&mut d.frame.mullion, v.section().filter(|_| d.frame.mullion_follows));
            put(&mut d.frame.stile, v.section());
        }),
        "frame.mullion" => knob(deeper(frame.mullion), |d, v| put(&mut d.frame.mullion, v.section())),
        "support.bolt" => knob(thinner(support.bolt?, units, LEAST_TURNING_MM), |d, v| d.support.bolt = v.bolt()),
        "support.pin" => knob(thinner(support.pin?, units, 0.0), |d, v| d.support.pin = v.bolt()),
        "support.low_edge_clearance" => {
            knob(near(support.low_edge_clearance?), |d, v| d.support.low_edge_clearance = v.length())
        }
        "support.stay.length" => knob(near(stay.length?), |d, v| d.support.stay.length = v.length()),
        "support.stay.pin_along" => knob(near(stay.pin_along?), |d, v| d.support.stay.pin_along = v.length()),
        "support.stay.pin_behind" => knob(near(stay.pin_behind?), |d, v| d.support.stay.pin_behind = v.length()),
        "support.stay.cleat" => knob(deeper(stay.cleat?), |d, v| d.support.stay.cleat = v.section()),
        "support.posts.axle_height" => knob(near(on_posts?.axle_height), |d, v| {
            if let Some(posts) = posts(d) {
                put(&mut posts.axle_height, v.length());
            }
        }),
        "support.posts.pin_below_axle" => knob(near(on_posts?.pin_below_axle?), |d, v| {
            if let Some(posts) = posts(d) {
                posts.pin_below_axle = v.length();
            }
        }),
        "support.posts.section" => knob(deeper(on_posts?.section), |d, v| {
            if let Some(posts) = posts(d) {
                put(&mut posts.section, v.section());
            }
        }),
        "support.posts.slots_after_columns" => {
            let inside = on_posts?.placement == Placement::Inside;
            inside.then(|| {
                knob(vec![Value::SlotsRound(design.array.columns)], |d, v| {
                    if let (Some(posts), Value::SlotsRound(columns)) = (posts(d), v) {
                        posts.slots_after_columns = Some(vec![0, columns]);
                    }
                })
            })?
        }
        "support.runners.length" => knob(near(on_runners?.length?), |d, v| {
            if let Some(runners) = runners(d) {
                runners.length = v.length();
            }
        }),
        "support.runners.hinge_above_holes" => knob(near(on_runners?.hinge_above_holes?), |d, v| {
            if let Some(runners) = runners(d) {
                runners.hinge_above_holes = v.length();
            }
        }),
        "support.runners.hinge_from_low_edge" => knob(near(on_runners?.hinge_from_low_edge?), |d, v| {
            if let Some(runners) = runners(d) {
                runners.hinge_from_low_edge = v.length();
            }
        }),
        "support.runners.section" => knob(deeper(on_runners?.section), |d, v| {
            if let Some(runners) = runners(d) {
                put(&mut runners.section, v.section());
            }
        }),
        "support.runners.shims" => (!on_runners?.shims).then(|| {
            knob(vec![Value::Yes], |d, _| {
                if let Some(runners) = runners(d) {
                    runners.shims = true;
                }
            })
        })?,
        "support.runners.roof_facing" | "support.runners.ground_facing" => {
            let runners_ = on_runners?;
            let on_roof = field == "support.runners.roof_facing";
            (runners_.roof_facing.is_some() && on_roof == (runners_.on == Ground::Roof)).then(|| {
                knob(vec![Value::Angle(to_deg(design.site.facing))], |d, _| {
                    let facing = d.site.facing;
                    if let Some(runners) = runners(d) {
                        runners.roof_facing = Some(facing);
                    }
                })
            })?
        }
        _ => None,
    }
}

fn brace(design: &mut Design, change: impl FnOnce(&mut Brace)) {
    if let Some(brace) = &mut design.frame.brace {
        change(brace);
    }
}

/// Values round a length, nearest first, on marks that are easy to read and within what the field takes.
fn around(field: &str, value: Length, units: Units) -> Vec<Value> {
    let step = match units {
        Units::Us => MM_PER_INCH / 4.0,
        Units::Metric => 5.0,
    };
    let middle = to_mm(value) / step;
    let [least, most] = fields::field(field).and_then(|row| row.kind.range()).unwrap_or([0.0, f64::INFINITY]);
    (0..=REACH)
        .flat_map(|i| {
            // Coarser and coarser: forty steps reach from a quarter inch to two yards.
            let away = (i as f64 * (1.0 + i as f64 / 6.0)).round();
            [(middle.ceil() + away) * step, (middle.floor() - away) * step]
        })
        .filter(|v| (*v - to_mm(value)).abs() > 1e-6 && (least..=most).contains(v))
        .map(Value::Length)
        .collect()
}

/// No thinner bolt is offered for a frame to turn on (mm). Common practice, no source: half an inch or M12.
const LEAST_TURNING_MM: f64 = 12.0;

fn thinner(bolt: &Bolt, units: Units, least_mm: f64) -> Vec<Value> {
    let names = match units {
        Units::Us => ["1/2 in", "3/8 in", "5/16 in", "1/4 in"],
        Units::Metric => ["M12", "M10", "M8", "M6"],
    };
    let bolts = names.iter().filter_map(|name| catalogue::bolt(name).ok());
    let thinner = bolts.filter(|b| b.diameter_mm < bolt.diameter_mm - 0.1 && b.diameter_mm >= least_mm);
    thinner.map(Value::Bolt).collect()
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
