//! What is searched when the design does not say: the sizes next to those written, and the usual steps.

use super::bill::Goal;
use crate::{
    catalogue::{Section, sections},
    design::{Choice, Design, Fault, Goods, OpenDesign},
    quantities::{Length, MM_PER_INCH, Units, to_mm},
};
use std::mem::discriminant;

/// Choices for a design of this support kind. For the cheapest only what the design prices is offered.
///
/// # Errors
/// A value that the design does not take, which would be a fault of the ladder.
pub fn ladder(open: &OpenDesign, goal: Goal) -> Result<Vec<Choice>, Vec<Fault>> {
    let design = open.design();
    let mut steps: Vec<(&str, Vec<String>)> = Vec::new();
    // A mullion that is not named follows the stile and has no value of its own.
    let named = |field: &str| !(field == "frame.mullion" && design.frame.mullion_follows);
    for (field, section) in design.sections().into_iter().filter(|(field, _)| named(field)) {
        steps.push((field, neighbours(design, section, goal)));
    }
    for (field, given) in [("support.bolt", design.support.bolt), ("support.pin", design.support.pin)] {
        let mut offers = bolts(design, goal);
        match given {
            Some(bolt) if !offers.iter().any(|o| o == bolt.name) => offers.insert(0, bolt.name.to_string()),
            Some(_) => {}
            // What is left to the layout stays an offer.
            None => offers.insert(0, "null".to_string()),
        }
        steps.push((field, offers));
    }
    match design.support.in_soil() {
        Some(soil) => {
            steps.push((soil.depth.0, around(design.units, soil.depth.1, DEPTHS, 4)));
            steps.push((soil.hole_diameter.0, around(design.units, soil.hole_diameter.1, HOLES, 2)));
        }
        None if design.ballast.is_some() => steps.push(("ballast.per_runner", ballasts(design.units))),
        None => {}
    }
    steps
        .into_iter()
        .filter(|(_, offers)| offers.len() > 1)
        .map(|(field, offers)| {
            // A size next to the one written need not go with the rest: a thicker post may need a wider hole.
            let texts: Vec<&str> =
                offers.iter().map(String::as_str).filter(|t| open.offer(field, &[t]).is_ok()).collect();
            open.offer(field, &texts)
        })
        .collect()
}

/// Sections of the same material, form and way of naming, of the same thickness or of the same depth, from one size
/// smaller to two larger; the one written among them.
fn neighbours(design: &Design, section: &Section, goal: Goal) -> Vec<String> {
    const SMALLER: usize = 1;
    const LARGER: usize = 2;
    let inches = |s: &Section| matches!(s.shape, crate::catalogue::Shape::Sawn { nominal_in: Some(_), .. });
    let alike = |s: &&Section| {
        s.family == section.family
            && discriminant(&s.shape) == discriminant(&section.shape)
            && inches(s) == inches(section)
            && s.name.contains("green") == section.name.contains("green")
            && ((s.width_mm - section.width_mm).abs() < 0.5 || (s.depth_mm - section.depth_mm).abs() < 0.5)
    };
    let priced = |s: &&Section| {
        goal == Goal::Lightest
            || s.name == section.name
            || design.shop.stock.iter().any(|row| row.section.name == s.name)
    };
    let mut all: Vec<&Section> = sections().iter().filter(alike).filter(priced).collect();
    all.sort_by(|a, b| a.area_mm2.total_cmp(&b.area_mm2).then(a.name.cmp(&b.name)));
    let own = all.iter().position(|s| s.name == section.name).unwrap_or(0);
    let from = own.saturating_sub(SMALLER);
    all.into_iter().skip(from).take(own - from + 1 + LARGER).map(|s| s.name.clone()).collect()
}

/// Bolts that yards stock.
fn bolts(design: &Design, goal: Goal) -> Vec<String> {
    let all: &[&str] = match design.units {
        Units::Us => &["3/8 in", "1/2 in", "5/8 in", "3/4 in"],
        Units::Metric => &["M10", "M12", "M16"],
    };
    let priced = |name: &&&str| {
        let rows = &design.shop.hardware;
        goal == Goal::Lightest || rows.iter().any(|p| p.goods == Goods::Bolt && p.size == Some(**name))
    };
    all.iter().filter(priced).map(|name| (*name).to_string()).collect()
}

/// The steps next to a length, from one shorter to so many longer: all of them for every field would be far more
/// candidates than anyone waits for.
fn around(units: Units, given: Length, [inches, mm]: [&[u32]; 2], longer: usize) -> Vec<String> {
    let (steps, each_mm, unit) = match units {
        Units::Us => (inches, MM_PER_INCH, "in"),
        Units::Metric => (mm, 1.0, "mm"),
    };
    let is_as_long = |step: &u32| f64::from(*step) * each_mm >= to_mm(given) - 0.5;
    let at = steps.iter().position(is_as_long).unwrap_or(steps.len());
    let from = at.saturating_sub(1);
    steps.iter().skip(from).take(at - from + 1 + longer).map(|step| format!("{step} {unit}")).collect()
}

/// Depths of holes for posts: every half foot, or 150 mm.
const DEPTHS: [&[u32]; 2] = [
    &[24, 30, 36, 42, 48, 54, 60, 66, 72, 78, 84, 90, 96],
    &[600, 750, 900, 1050, 1200, 1350, 1500, 1650, 1800, 1950, 2100, 2250, 2400],
];

/// Augers that are hired out; common practice, no source.
const HOLES: [&[u32]; 2] = [&[10, 12, 14, 16, 18, 24], &[250, 300, 350, 400, 450, 600]];

fn ballasts(units: Units) -> Vec<String> {
    match units {
        Units::Us => (1..=16).map(|n| format!("{} lb", n * 100)).collect(),
        Units::Metric => (1..=16).map(|n| format!("{} kg", n * 50)).collect(),
    }
}
