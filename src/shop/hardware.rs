//! Bolts by their stacks, and everything else that is forgotten at the yard.

use super::{
    holding::holding,
    pricing::{Bought, price},
};
use crate::{
    catalogue::{Bolt, Family, ScrewKind, Section, bolt_length},
    design::{Design, Goods, Ground, PricedGoods, Screws, Seating},
    frame::{Body, Frame, Laid, Role, Stack, StandsOn, screws_per_end, washer_mm},
    quantities::{
        KG_PER_LB, MM_PER_INCH, Units, inches, kg, length, length_both, length_exact, mass, mm, number, to_mm,
    },
};

/// What a price is looked up by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sold {
    /// Kind of goods.
    pub goods: Goods,
    /// Bolt or screw size.
    pub size: Option<&'static str>,
    /// Length of one; of copper of the whole (mm).
    pub length_mm: Option<f64>,
    /// Mass of one, for what is sold by weight (kg).
    pub mass_kg: Option<f64>,
}

impl Sold {
    pub(super) fn plain(goods: Goods) -> Option<Self> {
        Some(Self { goods, size: None, length_mm: None, mass_kg: None })
    }

    pub(super) fn sized(goods: Goods, size: &'static str, length_mm: f64) -> Option<Self> {
        Some(Self { goods, size: Some(size), length_mm: Some(length_mm), mass_kg: None })
    }

    fn cut(goods: Goods, length_mm: f64) -> Option<Self> {
        Some(Self { goods, size: None, length_mm: Some(length_mm), mass_kg: None })
    }

    pub(super) fn weighed(goods: Goods, mass_kg: f64) -> Option<Self> {
        Some(Self { goods, size: None, length_mm: None, mass_kg: Some(mass_kg) })
    }
}

/// One line of the hardware list.
#[derive(Debug, Clone, PartialEq)]
pub struct HardwareLine {
    /// What to ask for.
    pub item: String,
    /// Size.
    pub size: String,
    /// How many.
    pub quantity: usize,
    /// Where it goes, and how the number was come by.
    pub note: String,
    /// How its price is found; nothing for washers and nuts, which come with their bolt.
    pub sold: Option<Sold>,
    /// How it is bought, where the design gives a price.
    pub bought: Option<Bought>,
}

impl HardwareLine {
    /// Price of all of them (cents), where the design gives one.
    #[must_use]
    pub fn cents(&self) -> Option<i64> {
        self.bought.map(Bought::cents)
    }
}

/// Leg, which is its length too, and thickness of the usual angle clip (mm); common practice, no source.
#[must_use]
pub fn clip_mm(units: Units) -> [f64; 2] {
    match units {
        Units::Us => [1.5 * MM_PER_INCH, 0.125 * MM_PER_INCH],
        Units::Metric => [40.0, 3.0],
    }
}

/// Said of the usual frame joints, which are screwed through one piece into the end of the next.
const END_GRAIN: &str = "; wood screws may not be pulled out of end grain (NDS-2018 §12.2.2.3): where the load does that, `strength` \
                         asks for lag screws in `joints.corner`, and those are bought then";

/// Clips that hold one panel; common practice, no source.
const CLIPS_PER_PANEL: usize = 4;
/// Driven rod and slack added to the bare copper (mm); 8 ft rod (NEC 250.53, from memory, unverified).
const ROD_AND_SLACK_MM: f64 = 3000.0;
/// Yield of a bag of dry concrete mix: 80 lb gives 0.60 ft³, 25 kg gives 12.5 l, as most labels and
/// builders' calculators have it (some print less).
const BAG_US_MM3: f64 = 0.60 * 28_316_846.6;
const BAG_METRIC_MM3: f64 = 12.5e6;
/// Mass of those bags (kg).
const BAG_US_KG: f64 = 80.0 * KG_PER_LB;
const BAG_METRIC_KG: f64 = 25.0;
/// Gravel under a post (mm), by the units of its design: 6 in or 150 mm, common practice, no source.
#[must_use]
pub fn gravel_mm(units: Units) -> f64 {
    match units {
        Units::Us => 6.0 * MM_PER_INCH,
        Units::Metric => 150.0,
    }
}

/// Everything but sticks and panels, for all frames.
///
/// What is bought follows the units of the design, as its prices do; `units` are those it is shown in.
#[must_use]
pub fn list(design: &Design, frame: &Frame, units: Units) -> Vec<HardwareLine> {
    let mut lines = Vec::new();
    bolts(design, frame, units, &mut lines);
    screws(design, frame, units, &mut lines);
    panels(design, frame, units, &mut lines);
    ground(design, frame, units, &mut lines);
    bonding(frame, units, &mut lines);
    for line in &mut lines {
        line.bought = line.sold.and_then(|sold| price(&design.shop.hardware, &sold, line.quantity));
        if let Some(Bought { row, count, .. }) = line.bought
            && count != line.quantity as i64
        {
            let PricedGoods { length: long, mass: heavy, .. } = &design.shop.hardware[row];
            let of = long.map(|long| length(long, units)).or_else(|| heavy.map(|heavy| mass(heavy, units)));
            line.note += &format!("; priced as {count} of {}", of.unwrap_or_default());
        }
    }
    lines
}

/// Mass of one bag of concrete mix, as the list counts them (kg).
#[must_use]
pub fn bag_kg(units: Units) -> f64 {
    match units {
        Units::Us => BAG_US_KG,
        Units::Metric => BAG_METRIC_KG,
    }
}

fn bolts(design: &Design, frame: &Frame, units: Units, lines: &mut Vec<HardwareLine>) {
    let mut washers: Vec<(&Bolt, usize)> = Vec::new();
    let mut nuts: Vec<(&Bolt, usize)> = Vec::new();
    let add = |list: &mut Vec<(&'static Bolt, usize)>, bolt: &'static Bolt, count: usize| match list
        .iter_mut()
        .find(|(b, _)| b.name == bolt.name)
    {
        Some((_, n)) => *n += count,
        None => list.push((bolt, count)),
    };
    for stack in &frame.stacks {
        let quantity = stack.quantity * frame.count;
        if stack.lag {
            lines.push(lag(design, stack, quantity, units));
            add(&mut washers, stack.bolt, quantity * stack.washers());
            continue;
        }
        // The layout refuses a stack without a bolt, so every stack here has one.
        let Ok(found) = bolt_length(stack.bolt, stack.grip_mm(), stack.washers() as u32, washer_mm(stack.bolt)) else {
            continue;
        };
        let layers: Vec<String> = stack
            .layers
            .iter()
            .map(|layer| {
                let tube = if layer.wall_mm.is_some() { "tube " } else { "" };
                // A washer is bought, never measured: a tape would make two thicknesses of three.
                let show = if layer.what == Laid::Washer { length_exact } else { length_both };
                format!("{} {tube}{}", frame.laid(stack, layer), show(mm(layer.thickness_mm), units))
            })
            .collect();
        lines.push(HardwareLine {
            item: match design.support.bolt_grade {
                Some(grade) => format!("hex bolt, {}, corrosion-proof, for the {}", grade.name, stack.use_.word()),
                None => format!("hex bolt, galvanised, for the {}", stack.use_.word()),
            },
            size: format!("{} x {}", stack.bolt.name, length(mm(found.length_mm), units)),
            quantity,
            note: format!(
                "{} from head to nut: {}",
                length_both(mm(stack.grip_mm() + stack.washers_mm()), units),
                layers.join(" + ")
            ),
            sold: Sold::sized(Goods::Bolt, stack.bolt.name, found.length_mm),
            bought: None,
        });
        for spacer in stack.spacers_mm() {
            lines.push(HardwareLine {
                item: format!("spacer tube on the {}", stack.use_.word()),
                size: format!("{} long, for a {} bolt", length_both(mm(spacer), units), stack.bolt.name),
                quantity,
                note: "cut from steel tube that slips over the bolt".to_string(),
                sold: Sold::cut(Goods::SpacerTube, spacer),
                bought: None,
            });
        }
        add(&mut washers, stack.bolt, quantity * (stack.washers() + found.extra_washers as usize));
        add(&mut nuts, stack.bolt, quantity);
    }
    // Bolts of a named grade may be stainless, so their washers and nuts follow them.
    let finish = if design.support.bolt_grade.is_some() { "finish of its bolt" } else { "galvanised" };
    let wooden = frame.sticks.iter().any(|s| s.section.family == Family::Wood);
    for (bolt, count) in washers {
        lines.push(HardwareLine {
            item: format!("washer, {finish}"),
            size: bolt.name.to_string(),
            quantity: count,
            note: format!("{} thick", length_exact(mm(washer_mm(bolt)), units)),
            sold: None,
            bought: None,
        });
    }
    for (bolt, count) in nuts {
        lines.push(HardwareLine {
            item: format!("lock nut, {finish}"),
            size: bolt.name.to_string(),
            quantity: count,
            note: match wooden {
                true => "wood shrinks and the stack gets loose: re-tighten after the first season".to_string(),
                false => "look whether it is still tight after the first season".to_string(),
            },
            sold: None,
            bought: None,
        });
    }
}

/// What stands on the gravel: lumber takes water up its end grain, a metal post rusts or fills.
#[must_use]
pub fn foot_of_post(frame: &Frame) -> &'static str {
    let post = frame.sticks.iter().find(|stick| stick.role == Role::Post);
    if post.is_some_and(|post| post.section.family == Family::Wood) { "end grain" } else { "foot" }
}

/// A lag screw that stops short of the far face.
fn lag(design: &Design, stack: &Stack, quantity: usize, units: Units) -> HardwareLine {
    let length_mm = stack.lag_length_mm(design.units);
    HardwareLine {
        item: format!("lag screw, galvanised: {}", stack.use_.word()),
        size: format!("{} x {}", stack.bolt.name, length(mm(length_mm), units)),
        quantity,
        note: "from the cleat's side, never through: the stay swings past the other face; bore the lead hole first"
            .to_string(),
        sold: Sold::sized(Goods::LagScrew, stack.bolt.name, length_mm),
        bought: None,
    }
}

fn screws(design: &Design, frame: &Frame, units: Units, lines: &mut Vec<HardwareLine>) {
    let joints = &design.joints;
    let per_end = |given: Option<Screws>, depth_mm: f64| given.map_or(screws_per_end(depth_mm), |s| s.count as usize);
    let mut framing = 0;
    let mut brace = 0;
    let mut purlin = 0;
    let uprights = frame.sticks.iter().filter(|s| matches!(s.role, Role::Stile | Role::Mullion)).count();
    for stick in &frame.sticks {
        let corner = 2 * per_end(joints.corner, stick.section.depth_mm);
        match stick.role {
            // Each end of a piece that butts against another is screwed through its neighbour.
            Role::Mullion | Role::MidRail => framing += corner,
            Role::Stile if !frame.slots_mm.is_empty() => framing += corner,
            Role::Rail if frame.slots_mm.is_empty() => framing += corner,
            Role::CornerBrace => brace += 2 * per_end(joints.brace, 0.0),
            Role::Purlin => purlin += uprights * per_end(joints.purlin, 0.0),
            _ => {}
        }
    }
    let mut add = |count: usize, given: Option<Screws>, through: &Section, what: &str, caution: &str| {
        if count == 0 {
            return;
        }
        if given.is_none() && [through, design.frame.rail].iter().any(|s| s.family != Family::Wood) {
            lines.push(HardwareLine {
                item: format!("welds or bolts of metal: {what}"),
                size: String::new(),
                quantity: 1,
                note: "not part of a design, not counted and not priced: a fabricator or an engineer chooses them"
                    .to_string(),
                sold: None,
                bought: None,
            });
            return;
        }
        let through_mm = through.width_mm;
        let (name, long_mm, by) = match given {
            Some(screws) => (screws.screw.name, to_mm(screws.length), "as the design asks".to_string()),
            // Through one piece and at least 1-1/2 in into the next.
            None => {
                let long_mm = ((through_mm / MM_PER_INCH * 2.0).ceil() / 2.0 + 1.5) * MM_PER_INCH;
                ("#14", long_mm, format!("number and size by common practice, no source{caution}"))
            }
        };
        let item = match given {
            Some(screws) if screws.screw.kind == ScrewKind::Lag => "lag screw, galvanised",
            _ => "structural wood screw, outdoor coating",
        };
        lines.push(HardwareLine {
            item: item.to_string(),
            size: format!("{name} x {}", length(mm(long_mm), units)),
            quantity: count * frame.count,
            note: format!("{what}; {by}"),
            sold: Sold::sized(Goods::Screw, name, long_mm),
            bought: None,
        });
    };
    add(framing, joints.corner, design.frame.rail, "frame joints", END_GRAIN);
    if let Some(spec) = design.frame.brace {
        add(brace, joints.brace, spec.section, "both ends of each corner brace", "");
    }
    if let Seating::OnPurlins { purlin: section } = design.frame.seating {
        add(purlin, joints.purlin, section, "each crossing of a purlin", "");
    }
}

fn panels(design: &Design, frame: &Frame, units: Units, lines: &mut Vec<HardwareLine>) {
    let panels = frame.panels.len() * frame.count;
    match (design.frame.seating, design.panel.mounting_holes) {
        (Seating::OnPurlins { purlin }, Some(holes)) => {
            // The largest metric bolt that passes the hole with a little air.
            let hole_mm = to_mm(holes.diameter);
            let size = [10.0, 8.0, 6.0, 5.0].into_iter().find(|d| d + 0.5 <= hole_mm).unwrap_or(4.0);
            let grip = purlin.width_mm + 3.0;
            lines.push(HardwareLine {
                item: "stainless bolt with washers and lock nut, panel to purlin".to_string(),
                size: format!("M{} x {} mm", number(size, 0), number(((grip + 20.0) / 5.0).ceil() * 5.0, 0)),
                quantity: 4 * panels,
                note: format!("through the panel's mounting holes, {} wide", length(holes.diameter, units)),
                sold: Sold::plain(Goods::PanelBolt),
                bought: None,
            });
        }
        _ => {
            let joints = &design.joints;
            let clips = joints.clips_per_panel.map_or(CLIPS_PER_PANEL, |n| n as usize);
            let by = |given: bool| if given { "as the design asks" } else { "common practice, no source" };
            let [leg, thick] = clip_mm(design.units).map(|size| length(mm(size), units));
            lines.push(HardwareLine {
                item: "angle clip, stainless or galvanised".to_string(),
                size: format!("about {leg} x {leg} x {thick}, {leg} long"),
                quantity: clips * panels,
                note: format!(
                    "{clips} to a panel, where its data sheet allows; {}",
                    by(joints.clips_per_panel.is_some())
                ),
                sold: Sold::plain(Goods::Clip),
                bought: None,
            });
            let (name, long_mm, each) = match joints.clip {
                Some(screws) => (screws.screw.name, to_mm(screws.length), screws.count as usize),
                None => ("#12", 1.5 * MM_PER_INCH, 2),
            };
            if joints.clip.is_none() && design.frame.rail.family != Family::Wood {
                lines.push(HardwareLine {
                    item: "screws or bolts of the clips, into metal, stainless".to_string(),
                    size: String::new(),
                    quantity: 1,
                    note: "not part of a design, not counted and not priced: clips of metal frames are not checked"
                        .to_string(),
                    sold: None,
                    bought: None,
                });
            } else {
                lines.push(HardwareLine {
                    item: "wood screw for clips, stainless".to_string(),
                    size: format!("{name} x {}", length(mm(long_mm), units)),
                    quantity: each * clips * panels,
                    note: format!("{each} to a clip; {}", by(joints.clip.is_some())),
                    sold: Sold::sized(Goods::Screw, name, long_mm),
                    bought: None,
                });
            }
            lines.push(HardwareLine {
                item: "stainless bolt with lock nut, clip to panel".to_string(),
                size: "M6 x 20 mm".to_string(),
                quantity: clips * panels,
                note: "only through holes the panel maker has drilled: never drill a panel".to_string(),
                sold: Sold::plain(Goods::PanelBolt),
                bought: None,
            });
        }
    }
}

fn ground(design: &Design, frame: &Frame, units: Units, lines: &mut Vec<HardwareLine>) {
    match frame.stands_on {
        StandsOn::Posts { embedment_mm, hole_diameter_mm, .. } => {
            let posts = frame.sticks.iter().filter(|s| s.role == Role::Post);
            let buried: f64 = posts
                .map(|post| {
                    let hole = std::f64::consts::FRAC_PI_4 * hole_diameter_mm * hole_diameter_mm;
                    (hole - post.section.area_mm2).max(0.0) * embedment_mm
                })
                .sum::<f64>()
                * frame.count as f64;
            let bag = match design.units {
                Units::Us => BAG_US_MM3,
                Units::Metric => BAG_METRIC_MM3,
            };
            let volume = match units {
                Units::Us => format!("{} cubic feet", number(buried / 28_316_846.6, 1)),
                Units::Metric => format!("{} m³", number(buried / 1e9, 3)),
            };
            lines.push(HardwareLine {
                item: "concrete mix".to_string(),
                size: format!("{} bag", mass(kg(bag_kg(design.units)), units)),
                quantity: (buried / bag).ceil() as usize,
                note: format!("{volume} round the posts, by the usual yield of a bag: read the label"),
                sold: Sold::plain(Goods::ConcreteBag),
                bought: None,
            });
            let holes = frame.sticks_of(Body::Ground).filter(|(_, s)| s.role == Role::Post).count() * frame.count;
            lines.push(HardwareLine {
                item: "gravel under each post".to_string(),
                size: length(mm(gravel_mm(design.units)), units),
                quantity: holes,
                note: format!("drains the {}; dig that much deeper; common practice, no source", foot_of_post(frame)),
                sold: Sold::plain(Goods::Gravel),
                bought: None,
            });
        }
        StandsOn::Runners { roof, shim_mm, .. } => {
            runners(design, frame, roof, units, lines);
            if shim_mm > frame.tape.mark_mm() / 2.0 {
                lines.push(HardwareLine {
                    item: "shim under the lower runner, full length".to_string(),
                    size: format!("{} high", length(mm(shim_mm), units)),
                    quantity: frame.count,
                    note: "levels the hinge line; pressure-treated or metal, fixed against sliding".to_string(),
                    sold: Sold::plain(Goods::Shim),
                    bought: None,
                });
            }
        }
    }
}

/// What holds the runners: as the design names it, or what is common where it names nothing.
fn runners(design: &Design, frame: &Frame, roof: bool, units: Units, lines: &mut Vec<HardwareLine>) {
    let runners: Vec<_> = frame.sticks.iter().filter(|s| s.role == Role::Runner).collect();
    let named = holding(design, frame, units);
    if !named.is_empty() {
        lines.extend(named.into_iter().map(|held| HardwareLine {
            item: held.item,
            size: held.size,
            quantity: held.per_runner * runners.len() * frame.count,
            note: held.note,
            sold: held.sold,
            bought: None,
        }));
        return;
    }
    let count: usize = runners.iter().map(|r| fixings_of_runner(r.length_mm)).sum();
    let on_deck = matches!(&design.support.base, crate::design::Base::Runners(r) if r.on == Ground::Deck);
    let (goods, item, note) = match (roof, on_deck) {
        (true, _) => (
            Goods::RoofBracket,
            "roof bracket, bolted into a rafter and flashed",
            "; the roof structure is not checked",
        ),
        (_, true) => (Goods::DeckBolt, "through bolt to the deck's framing", ""),
        _ => (Goods::Stake, "ground stake with two screws", ", or ballast as the strength sheet asks"),
    };
    let size = if goods == Goods::Stake { length(inches(STAKE_IN), units) } else { String::new() };
    let apart = length(mm(FIXING_PITCH_MM), units);
    lines.push(HardwareLine {
        item: item.to_string(),
        size,
        quantity: count * frame.count,
        note: format!("at most {apart} apart{note}; common practice, no source"),
        sold: Sold::plain(goods),
        bought: None,
    });
}

/// Farthest that two fixings of a runner stand apart (mm), 4 ft; common practice, no source.
const FIXING_PITCH_MM: f64 = 48.0 * MM_PER_INCH;
/// Length of a ground stake (in); common practice, no source.
const STAKE_IN: f64 = 24.0;

/// Stakes, brackets or bolts of one runner: three at least; common practice, no source.
#[must_use]
pub fn fixings_of_runner(length_mm: f64) -> usize {
    ((length_mm / FIXING_PITCH_MM).ceil() as usize + 1).max(3)
}

fn bonding(frame: &Frame, units: Units, lines: &mut Vec<HardwareLine>) {
    let panels = frame.panels.len() * frame.count;
    lines.push(HardwareLine {
        item: "listed bonding lug, tinned copper, stainless screw".to_string(),
        size: String::new(),
        quantity: panels,
        note: "one to each panel frame; local electrical code governs".to_string(),
        sold: Sold::plain(Goods::Lug),
        bought: None,
    });
    let drop = match frame.stands_on {
        StandsOn::Posts { axle_height_mm, .. } => axle_height_mm + frame.length_mm / 2.0,
        StandsOn::Runners { hinge_above_surface_mm, .. } => hinge_above_surface_mm + frame.length_mm / 2.0,
    };
    let between = frame.gap_mm * (frame.count - 1) as f64;
    let copper = (frame.width_mm + drop + ROD_AND_SLACK_MM) * frame.count as f64 + between;
    lines.push(HardwareLine {
        item: "bare copper wire, at least 6 AWG (16 mm²)".to_string(),
        size: length(mm((copper / 100.0).ceil() * 100.0), units),
        quantity: 1,
        note: "along the panels and down to the ground rod; never bare copper on aluminium or galvanised steel; size from memory, unverified".to_string(),
        sold: Sold::cut(Goods::Copper, (copper / 100.0).ceil() * 100.0),
        bought: None,
    });
}
