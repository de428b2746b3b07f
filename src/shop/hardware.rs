//! Every fastener that has a place, counted there, and everything else that is forgotten at the yard.

use super::{
    holding::{Holding, holding},
    pricing::{Bought, price},
};
use crate::{
    catalogue::{Family, bolt_length},
    design::{Design, Goods, PricedGoods, Screws},
    frame::{
        Fastener, FastenerKind, Foot, Frame, HeldBy, Hold, HoleUse, Joint, JointUse, Laid, Part, Role, Stack, Stands,
        washer_mm,
    },
    quantities::{KG_PER_LB, MM_PER_INCH, Units, kg, length, length_both, length_exact, mass, mm, number, to_mm},
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
    /// Kind, size and length (mm) of fasteners that stand at places of the frame.
    pub fastener: Option<(FastenerKind, &'static str, f64)>,
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

/// Clips that hold one panel, and their screws: size, length (mm), count; common practice, no source.
const CLIPS_PER_PANEL: usize = 4;
const CLIP_SCREWS: (&str, f64, usize) = ("#12", 1.5 * MM_PER_INCH, 2);
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
    feet(design, frame, units, &mut lines);
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

/// Equal fasteners of joints of one use.
struct Equal<'a> {
    use_: JointUse,
    first: &'a Fastener,
    count: usize,
}

impl Equal<'_> {
    fn line(&self, item: String, size: String, note: String, sold: Option<Sold>) -> HardwareLine {
        let f = self.first;
        let fastener = Some((f.kind, f.size, f.length_mm));
        HardwareLine { item, size, quantity: self.count, note, sold, bought: None, fastener }
    }
}

/// Fasteners of joints, equal ones together, in the order in which they are met first.
fn equal(frame: &Frame, wanted: impl Fn(JointUse, &Fastener) -> bool) -> Vec<Equal<'_>> {
    const SAME_MM: f64 = 0.01;
    let mut all: Vec<Equal> = Vec::new();
    for joint in &frame.joints {
        for f in joint.fasteners.iter().filter(|f| wanted(joint.use_, f)) {
            let same = |e: &&mut Equal| {
                let g = e.first;
                let near = (g.length_mm - f.length_mm).abs() < SAME_MM;
                e.use_ == joint.use_ && g.kind == f.kind && g.size == f.size && near
            };
            match all.iter_mut().find(same) {
                Some(equal) => equal.count += frame.count,
                None => all.push(Equal { use_: joint.use_, first: f, count: frame.count }),
            }
        }
    }
    all
}

/// Bolts of stacks, head to nut, with the spacers between; then washers and nuts of all of them.
fn bolts(design: &Design, frame: &Frame, units: Units, lines: &mut Vec<HardwareLine>) {
    for bolts in equal(frame, |use_, _| matches!(use_, JointUse::Bolt(_))) {
        let JointUse::Bolt(hole) = bolts.use_ else { continue };
        let f = bolts.first;
        let size = format!("{} x {}", f.size, length(mm(f.length_mm), units));
        if f.kind == FastenerKind::LagScrew {
            let note =
                "from the cleat's side, never through: the stay swings past the other face; bore the lead hole first";
            let sold = Sold::sized(Goods::LagScrew, f.size, f.length_mm);
            lines.push(bolts.line(format!("lag screw, galvanised: {}", hole.word()), size, note.to_string(), sold));
            continue;
        }
        let item = bolt_item(design, hole.word());
        // Left and right may pass different members on bolts of one length.
        let stacks = frame.stacks.iter().filter(|stack| stack.use_ == hole && long_as(stack, f));
        let mut notes: Vec<String> = stacks.map(|stack| layers(frame, stack, units)).collect();
        notes.dedup();
        let sold = Sold::sized(Goods::Bolt, f.size, f.length_mm);
        lines.push(bolts.line(item, size, notes.join("; or "), sold));
        for stack in frame.stacks.iter().filter(|stack| stack.use_ == hole && long_as(stack, f)) {
            lines.extend(stack.spacers_mm().into_iter().map(|spacer| HardwareLine {
                item: format!("spacer tube on the {}", hole.word()),
                size: format!("{} long, for a {} bolt", length_both(mm(spacer), units), stack.bolt.name),
                quantity: stack.quantity * frame.count,
                note: "cut from steel tube that slips over the bolt".to_string(),
                sold: Sold::cut(Goods::SpacerTube, spacer),
                bought: None,
                fastener: None,
            }));
        }
    }
    washers_and_nuts(design, frame, units, lines);
}

/// A bolt by its finish and what it is for.
fn bolt_item(design: &Design, what: &str) -> String {
    match design.support.bolt_grade {
        Some(grade) => format!("hex bolt, {}, corrosion-proof, for the {what}", grade.name),
        None => format!("hex bolt, galvanised, for the {what}"),
    }
}

/// Is this the bolt of the stack?
fn long_as(stack: &Stack, f: &Fastener) -> bool {
    let found = bolt_length(stack.bolt, stack.grip_mm(), stack.washers() as u32, washer_mm(stack.bolt));
    stack.bolt.name == f.size && found.is_ok_and(|found| (found.length_mm - f.length_mm).abs() < 0.01)
}

fn layers(frame: &Frame, stack: &Stack, units: Units) -> String {
    let layers = stack.layers.iter().map(|layer| {
        let tube = if layer.wall_mm.is_some() { "tube " } else { "" };
        // A washer is bought, never measured: a tape would make two thicknesses of three.
        let show = if layer.what == Laid::Washer { length_exact } else { length_both };
        format!("{} {tube}{}", frame.laid(stack, layer), show(mm(layer.thickness_mm), units))
    });
    let total = length_both(mm(stack.grip_mm() + stack.washers_mm()), units);
    format!("{total} from head to nut: {}", layers.collect::<Vec<_>>().join(" + "))
}

/// Of bolts that stand in stacks and feet; those of panels are bought as sets.
fn washers_and_nuts(design: &Design, frame: &Frame, units: Units, lines: &mut Vec<HardwareLine>) {
    let stacked = frame.joints.iter().filter(|joint| matches!(joint.use_, JointUse::Bolt(_)));
    let all: Vec<&Fastener> =
        stacked.flat_map(|joint| &joint.fasteners).chain(frame.feet.iter().flat_map(Foot::fasteners)).collect();
    // Bolts of a named grade may be stainless, so their washers and nuts follow them.
    let finish = if design.support.bolt_grade.is_some() { "finish of its bolt" } else { "galvanised" };
    let wooden = frame.sticks.iter().any(|s| s.section.family == Family::Wood);
    let sizes = all.iter().map(|f| f.size).fold(Vec::new(), |mut sizes, size| {
        if !sizes.contains(&size) {
            sizes.push(size);
        }
        sizes
    });
    let of = |size: &'static str| all.iter().filter(move |f| f.size == size);
    let line = |item: String, size: &str, quantity: usize, note: String| HardwareLine {
        item,
        size: size.to_string(),
        quantity,
        note,
        sold: None,
        bought: None,
        fastener: None,
    };
    for size in &sizes {
        let Some(washer) = of(size).flat_map(|f| &f.washers).next() else { continue };
        let count = of(size).map(|f| f.washers.len()).sum::<usize>() * frame.count;
        let thick = format!("{} thick", length_exact(mm(washer.thickness_mm), units));
        lines.push(line(format!("washer, {finish}"), size, count, thick));
    }
    for size in &sizes {
        let count = of(size).filter(|f| f.nut.is_some()).count() * frame.count;
        let again = match wooden {
            true => "wood shrinks and the stack gets loose: re-tighten after the first season",
            false => "look whether it is still tight after the first season",
        };
        if count > 0 {
            lines.push(line(format!("lock nut, {finish}"), size, count, again.to_string()));
        }
    }
}

/// What stands on the gravel: lumber takes water up its end grain, a metal post rusts or fills.
#[must_use]
pub fn foot_of_post(frame: &Frame) -> &'static str {
    let post = frame.sticks.iter().find(|stick| stick.role == Role::Post);
    if post.is_some_and(|post| post.section.family == Family::Wood) { "end grain" } else { "foot" }
}

/// Screws of the frame itself.
fn screws(design: &Design, frame: &Frame, units: Units, lines: &mut Vec<HardwareLine>) {
    let joints = &design.joints;
    let uses: [(JointUse, Option<Screws>, &str, &str); 4] = [
        (JointUse::Corner, joints.corner, "frame joints", END_GRAIN),
        (JointUse::Brace, joints.brace, "both ends of each corner brace", ""),
        (JointUse::Plies, None, "plies of built-up members, to each other", ""),
        (JointUse::Purlin, joints.purlin, "each crossing of a purlin", ""),
    ];
    for (use_, given, what, caution) in uses {
        for screws in equal(frame, |of, _| of == use_) {
            let f = screws.first;
            let by = match given {
                Some(g) if g.screw.name == f.size && (to_mm(g.length) - f.length_mm).abs() < 0.01 => {
                    "as the design asks".to_string()
                }
                Some(_) => {
                    "in place of those the design asks for, on a slant where another piece stands behind".to_string()
                }
                None => format!("number and size by common practice, no source{caution}"),
            };
            let size = format!("{} x {}", f.size, length(mm(f.length_mm), units));
            let sold = Sold::sized(Goods::Screw, f.size, f.length_mm);
            lines.push(screws.line(screw_item(f).to_string(), size, format!("{what}; {by}"), sold));
        }
        if frame.joints.iter().any(|joint| joint.use_ == use_ && joint.fasteners.is_empty()) {
            lines.push(not_counted(
                format!("welds or bolts of metal: {what}"),
                "not part of a design, not counted and not priced: a fabricator or an engineer chooses them",
            ));
        }
    }
}

fn screw_item(f: &Fastener) -> &'static str {
    match f.kind {
        FastenerKind::LagScrew => "lag screw, galvanised",
        FastenerKind::WoodScrew | FastenerKind::Bolt => "structural wood screw, outdoor coating",
    }
}

fn not_counted(item: String, note: &str) -> HardwareLine {
    let size = String::new();
    HardwareLine { item, size, quantity: 1, note: note.to_string(), sold: None, bought: None, fastener: None }
}

/// What seats the panels: clips with their screws and bolts, or bolts through purlins.
fn panels(design: &Design, frame: &Frame, units: Units, lines: &mut Vec<HardwareLine>) {
    let legs =
        frame.joints.iter().filter(|joint| joint.use_ == JointUse::Clip).filter_map(|joint| joint.plates.first());
    let mut clips: Vec<([f64; 2], usize)> = Vec::new();
    for plate in legs {
        let size = [plate.size[0], plate.size[2]];
        match clips.iter_mut().find(|(same, _)| (same[0] - size[0]).abs() < 0.01) {
            Some((_, count)) => *count += frame.count,
            None => clips.push((size, frame.count)),
        }
    }
    for ([leg, thick], count) in clips {
        lines.push(clip(
            count,
            [leg, thick],
            "one at each of the panel maker's holes, where its data sheet allows",
            units,
        ));
    }
    for screws in equal(frame, |use_, f| use_ == JointUse::Clip && f.kind != FastenerKind::Bolt) {
        let f = screws.first;
        let each = design.joints.clip.map_or(CLIP_SCREWS.2, |s| s.count as usize);
        let by = if design.joints.clip.is_some() { "as the design asks" } else { "common practice, no source" };
        let size = format!("{} x {}", f.size, length(mm(f.length_mm), units));
        let sold = Sold::sized(Goods::Screw, f.size, f.length_mm);
        lines.push(screws.line(
            "wood screw for clips, stainless".to_string(),
            size,
            format!("{each} to a clip; {by}"),
            sold,
        ));
    }
    let by_bolt_alone = |joint: &Joint| joint.use_ == JointUse::Clip && joint.fasteners.len() < 2;
    if frame.joints.iter().any(by_bolt_alone) {
        lines.push(into_metal());
    }
    for bolts in
        equal(frame, |use_, f| matches!(use_, JointUse::Clip | JointUse::PanelBolt) && f.kind == FastenerKind::Bolt)
    {
        let f = bolts.first;
        let size = format!("{} x {} mm", f.size, number(f.length_mm, 0));
        let (item, note) = match bolts.use_ {
            JointUse::PanelBolt => (
                "stainless bolt with washers and lock nut, panel to purlin",
                "through the panel's mounting holes".to_string(),
            ),
            _ => (
                "stainless bolt with washers and lock nut, clip to panel",
                "only through holes the panel maker has drilled: never drill a panel".to_string(),
            ),
        };
        lines.push(bolts.line(item.to_string(), size, note, Sold::plain(Goods::PanelBolt)));
    }
    let held = |panel: usize| frame.joints.iter().any(|joint| joint.parts.contains(&Part::Panel(panel)));
    let without = (0..frame.panels.len()).filter(|panel| !held(*panel)).count() * frame.count;
    if without > 0 {
        unplaced_clips(design, without, units, lines);
    }
}

/// Clips of panels whose holes the design does not tell: counted, and placed by who holds the data sheet.
fn unplaced_clips(design: &Design, panels: usize, units: Units, lines: &mut Vec<HardwareLine>) {
    const WHERE: &str = "NOT PLACED on any drawing: `panel.mounting_holes` tells where, from the panel's data sheet";
    let joints = &design.joints;
    let each = joints.clips_per_panel.map_or(CLIPS_PER_PANEL, |n| n as usize);
    let by = |given: bool| if given { "as the design asks" } else { "common practice, no source" };
    let note = format!("{each} to a panel, {}; {WHERE}", by(joints.clips_per_panel.is_some()));
    lines.push(clip(each * panels, clip_mm(design.units), &note, units));
    if joints.clip.is_none() && design.frame.rail.family != Family::Wood {
        lines.push(into_metal());
    } else {
        let (name, long_mm, count) =
            joints.clip.map_or(CLIP_SCREWS, |s| (s.screw.name, to_mm(s.length), s.count as usize));
        lines.push(HardwareLine {
            item: "wood screw for clips, stainless".to_string(),
            size: format!("{name} x {}", length(mm(long_mm), units)),
            quantity: count * each * panels,
            note: format!("{count} to a clip; {}; {WHERE}", by(joints.clip.is_some())),
            sold: Sold::sized(Goods::Screw, name, long_mm),
            bought: None,
            fastener: None,
        });
    }
    lines.push(HardwareLine {
        item: "stainless bolt with lock nut, clip to panel".to_string(),
        size: "M6 x 20 mm".to_string(),
        quantity: each * panels,
        note: format!("only through holes the panel maker has drilled: never drill a panel; {WHERE}"),
        sold: Sold::plain(Goods::PanelBolt),
        bought: None,
        fastener: None,
    });
}

fn clip(quantity: usize, [leg, thick]: [f64; 2], note: &str, units: Units) -> HardwareLine {
    let [leg, thick] = [leg, thick].map(|size| length(mm(size), units));
    HardwareLine {
        item: "angle clip, stainless or galvanised".to_string(),
        size: format!("about {leg} x {leg} x {thick}, {leg} long"),
        quantity,
        note: note.to_string(),
        sold: Sold::plain(Goods::Clip),
        bought: None,
        fastener: None,
    }
}

fn into_metal() -> HardwareLine {
    let note = "not part of a design, not counted and not priced: clips of metal frames are not checked";
    not_counted("screws or bolts of the clips, into metal, stainless".to_string(), note)
}

/// What holds the feet: concrete and gravel, or ballast, stakes, brackets and bolts; and their fasteners.
fn feet(design: &Design, frame: &Frame, units: Units, lines: &mut Vec<HardwareLine>) {
    let in_concrete = |foot: &Foot| match foot.stands {
        Stands::InConcrete { depth_mm, hole_diameter_mm } => {
            let hole = std::f64::consts::FRAC_PI_4 * hole_diameter_mm * hole_diameter_mm;
            Some((hole - frame.sticks[foot.stick].section.area_mm2).max(0.0) * depth_mm)
        }
        Stands::OnGround | Stands::OnRoof | Stands::OnDeck => None,
    };
    let plugs: Vec<f64> = frame.feet.iter().filter_map(in_concrete).collect();
    let plain = |item: String, size: String, quantity: usize, note: String, goods: Goods| HardwareLine {
        item,
        size,
        quantity,
        note,
        sold: Sold::plain(goods),
        bought: None,
        fastener: None,
    };
    if !plugs.is_empty() {
        let buried = plugs.iter().sum::<f64>() * frame.count as f64;
        let bag = match design.units {
            Units::Us => BAG_US_MM3,
            Units::Metric => BAG_METRIC_MM3,
        };
        let volume = match units {
            Units::Us => format!("{} cubic feet", number(buried / 28_316_846.6, 1)),
            Units::Metric => format!("{} m³", number(buried / 1e9, 3)),
        };
        lines.push(plain(
            "concrete mix".to_string(),
            format!("{} bag", mass(kg(bag_kg(design.units)), units)),
            (buried / bag).ceil() as usize,
            format!("{volume} round the posts, by the usual yield of a bag: read the label"),
            Goods::ConcreteBag,
        ));
        lines.push(plain(
            "gravel under each post".to_string(),
            length(mm(gravel_mm(design.units)), units),
            plugs.len() * frame.count,
            format!("drains the {}; dig that much deeper; common practice, no source", foot_of_post(frame)),
            Goods::Gravel,
        ));
    }
    for held in holding(design, frame, units) {
        if held.sold.is_some() {
            let quantity = held.per_foot * frame.feet.len() * frame.count;
            let Holding { item, size, note, sold, .. } = held;
            lines.push(HardwareLine { item, size, quantity, note, sold, bought: None, fastener: None });
        }
    }
    foot_fasteners(design, frame, units, lines);
    let shims = frame.feet.iter().filter(|foot| foot.shim_mm > frame.tape.mark_mm() / 2.0);
    for shim in shims {
        lines.push(plain(
            "shim under the lower runner, full length".to_string(),
            format!("{} high", length(mm(shim.shim_mm), units)),
            frame.count,
            "levels the hinge line; pressure-treated or metal, fixed against sliding".to_string(),
            Goods::Shim,
        ));
    }
}

/// Bolts and screws of the feet, equal ones that do the same together.
fn foot_fasteners(design: &Design, frame: &Frame, units: Units, lines: &mut Vec<HardwareLine>) {
    let mut all: Vec<(&Foot, &Hold, &Fastener, usize)> = Vec::new();
    let holds = frame.feet.iter().flat_map(|foot| foot.holds.iter().map(move |hold| (foot, hold)));
    for (foot, hold) in holds {
        for f in &hold.fasteners {
            let same = all.iter_mut().find(|(_, other, g, _)| {
                let like = fixes(other.by, g) == fixes(hold.by, f) && g.kind == f.kind && g.size == f.size;
                like && (g.length_mm - f.length_mm).abs() < 0.01
            });
            match same {
                Some((.., count)) => *count += frame.count,
                None => all.push((foot, hold, f, frame.count)),
            }
        }
    }
    for (foot, hold, f, quantity) in all {
        // A price names the lag screw by its diameter.
        let size = f.size.trim_start_matches("lag ");
        let (item, goods) = match f.kind {
            FastenerKind::Bolt if hold.by == HeldBy::DeckBolt => (bolt_item(design, hold.by.word()), Goods::Bolt),
            FastenerKind::Bolt => (bolt_item(design, HoleUse::FootBolt.word()), Goods::Bolt),
            FastenerKind::LagScrew => (format!("lag screw, galvanised, for the {}", hold.by.word()), Goods::LagScrew),
            FastenerKind::WoodScrew => (format!("{}, for the {}", screw_item(f), hold.by.word()), Goods::Screw),
        };
        let usual = if hold.named { "" } else { "; common practice, no source" };
        lines.push(HardwareLine {
            item,
            size: format!("{size} x {}", length(mm(f.length_mm), units)),
            quantity,
            note: format!(
                "{} {}: {}{usual}",
                frame.sticks[foot.stick].role.word(),
                frame.mark(foot.stick),
                fixes(hold.by, f)
            ),
            sold: Sold::sized(goods, size, f.length_mm),
            bought: None,
            fastener: Some((f.kind, f.size, f.length_mm)),
        });
    }
}

/// What a fastener of a foot does.
fn fixes(by: HeldBy, f: &Fastener) -> &'static str {
    let level = f.axis[0].abs() > 0.5;
    match by {
        HeldBy::Tie => "through its foot, standing out on both sides, where the concrete closes round head and nut",
        HeldBy::Stake => "stake to runner, turned in from the outer side",
        HeldBy::Bracket if level => "bracket to runner, from the outer side",
        HeldBy::Bracket => "bracket into the rafter or the deck's framing, in drilled lead holes",
        HeldBy::DeckBolt => "down through runner and deck framing; measure the deck before buying",
        HeldBy::Ballast(_) => "ballast",
    }
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
        fastener: None,
    });
    let ([x, z], _) = frame.surface();
    let drop = x.hypot(z) + frame.length_mm / 2.0;
    let between = frame.gap_mm * (frame.count - 1) as f64;
    let copper = (frame.width_mm + drop + ROD_AND_SLACK_MM) * frame.count as f64 + between;
    lines.push(HardwareLine {
        item: "bare copper wire, at least 6 AWG (16 mm²)".to_string(),
        size: length(mm((copper / 100.0).ceil() * 100.0), units),
        quantity: 1,
        note: "along the panels and down to the ground rod; never bare copper on aluminium or galvanised steel; size from memory, unverified".to_string(),
        sold: Sold::cut(Goods::Copper, (copper / 100.0).ceil() * 100.0),
        bought: None,
        fastener: None,
    });
}
