//! What is searched when the design does not say: the sizes next to those written, and the usual steps.

use super::bill::Goal;
use crate::{
    catalogue::{self, Section, sections},
    design::{
        Choice, Design, Fault, Field, Goods, Kind, Offer, OpenDesign,
        fields::{self, Ladder},
    },
    quantities::{Length, Units, read, to_mm},
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
    for field in fields::all() {
        let offers = match field.sized {
            Some(Ladder::All(values)) if has_block(open, field) => all(open, field, values, goal),
            Some(Ladder::Next(values, longer)) => match length_of(design, field.path) {
                Some(now) => next(of_units(values, design.units), now, longer),
                None => continue,
            },
            _ => continue,
        };
        steps.push((field.path, offers));
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

/// Is there a block that the field stands in?
fn has_block(open: &OpenDesign, field: &Field) -> bool {
    fields::field(field.parent()).is_some_and(|block| open.written(block) != Offer::from_text("null"))
}

/// Of the values of the table, those for these units.
fn of_units([us, metric]: [&'static [&'static str]; 2], units: Units) -> &'static [&'static str] {
    match units {
        Units::Us => us,
        Units::Metric => metric,
    }
}

/// Every value of the table; of bolts the one that is written among them, and for the cheapest only what has a price. What
/// is left to the layout stays an offer.
fn all(open: &OpenDesign, field: &Field, values: [&'static [&'static str]; 2], goal: Goal) -> Vec<String> {
    let design = open.design();
    let is_priced = |name: &str| {
        let rows = &design.shop.hardware;
        goal == Goal::Lightest || rows.iter().any(|p| p.goods == Goods::Bolt && p.size == Some(name))
    };
    let is_offered = |name: &&&str| field.kind != Kind::Bolt || is_priced(name);
    let mut offers: Vec<String> =
        of_units(values, design.units).iter().filter(is_offered).map(|name| (*name).to_string()).collect();
    if field.kind == Kind::Bolt {
        let given = open.written(field).text().and_then(|name| catalogue::bolt(&name).ok());
        let first = given.map_or("null", |bolt| bolt.name);
        if !offers.iter().any(|offer| offer == first) {
            offers.insert(0, first.to_string());
        }
    }
    offers
}

/// The length that stands for a field in the ground, also where the design leaves it out.
fn length_of(design: &Design, path: &str) -> Option<Length> {
    let soil = design.support.in_soil()?;
    [soil.depth, soil.hole_diameter].into_iter().find(|(field, _)| *field == path).map(|(_, length)| length)
}

/// The steps next to a length, from one shorter to so many longer: all of them for every field would be far more
/// candidates than anyone waits for.
fn next(steps: &[&str], now: Length, longer: usize) -> Vec<String> {
    let is_as_long = |step: &&str| read::<Length>(step).is_ok_and(|step| to_mm(step) >= to_mm(now) - 0.5);
    let at = steps.iter().position(is_as_long).unwrap_or(steps.len());
    let from = at.saturating_sub(1);
    steps.iter().skip(from).take(at - from + 1 + longer).map(|step| (*step).to_string()).collect()
}
