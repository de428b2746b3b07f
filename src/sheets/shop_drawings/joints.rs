//! Every bolt with what lies on it, cut along the bolt: grip, spacers to cut, bolt to buy.

use super::drafter::{Drafter, draw_to_fit};
use crate::{
    catalogue::bolt_length,
    frame::{Laid, Stack, washer_mm},
    quantities::{length_exact, mm},
    sheets::{
        dimension::{Side, Stack as Dimensions, spread},
        geometry::{Bounds, Point, Rect, World},
        mark::{Fill, Group, Mark, bounds},
        page::Page,
        pen::Pen,
        sheet::{Sheet, SheetScale},
        table::{Table, figures, words},
        text::{Anchor, Text, TextSize},
        view::{Scale, View},
    },
};

/// Height that a member is drawn with: only its thickness is true (mm).
const MEMBER_HEIGHT_MM: f64 = 70.0;
/// Height that one section may take on the paper (mm).
const HIGHEST: f64 = 68.0;
/// Width that the tables beside the sections need (mm).
const TABLE_WIDTH: f64 = 84.0;
const SIZE: TextSize = TextSize::Small;

impl Drafter<'_> {
    /// All stacks, as many on a sheet as there is room for, all at one scale.
    pub(super) fn joints(&self) -> Vec<Sheet> {
        let stacks = &self.frame.stacks;
        let room = |page: Page| Rect { right: split(page) - 4.0, bottom: page.window().top + HIGHEST, ..page.window() };
        let scale = |page| stacks.iter().map(|stack| draw_to_fit(room(page), |view| self.section(stack, view)).0).max();
        let [upright, side] = self.pages();
        let (Some(on_upright), Some(on_side)) = (scale(upright), scale(side)) else { return vec![] };
        let (page, scale) = if on_side < on_upright { (side, on_side) } else { (upright, on_upright) };
        let (window, split) = (page.window(), split(page));
        let mut pages: Vec<Vec<Mark>> = vec![vec![]];
        let mut top = window.top;
        for stack in stacks {
            let (block, foot) = self.block(stack, scale, Rect { top, ..window }, split);
            let needs_page = foot > window.bottom && top > window.top;
            if needs_page {
                pages.push(vec![]);
                let (block, foot) = self.block(stack, scale, window, split);
                pages.last_mut().into_iter().for_each(|marks| marks.extend(block.clone()));
                top = foot + 6.0;
                continue;
            }
            pages.last_mut().into_iter().for_each(|marks| marks.extend(block.clone()));
            top = foot + 6.0;
        }
        let count = pages.len();
        let sheet = |(n, marks): (usize, Vec<Mark>)| {
            let (slug, title) = match count {
                1 => ("joints".to_string(), "Bolted joints, cut along the bolt".to_string()),
                _ => (format!("joints-{}", n + 1), format!("Bolted joints, cut along the bolt ({} of {count})", n + 1)),
            };
            self.sheet(&slug, &title, page).at_scale(SheetScale::One(scale)).with(marks)
        };
        pages.into_iter().enumerate().map(sheet).collect()
    }

    /// Heading, section and table of one stack; returns the marks and their foot.
    fn block(&self, stack: &Stack, scale: Scale, window: Rect, split: f64) -> (Vec<Mark>, f64) {
        let heading = format!("{}: bolt {}, {} per frame", stack.use_.word(), stack.bolt.name, stack.quantity);
        let at = Point::new(window.left, window.top + TextSize::Normal.above());
        let mut marks: Vec<Mark> = vec![Text::new(&heading, at, TextSize::Normal).into()];
        let top = window.top + TextSize::Normal.line_pitch() + 1.0;
        let section = self.section(stack, &View::new(scale, World::default(), Point::default()));
        let size = bounds(&section).unwrap_or(window);
        let (dx, dy) = (window.left - size.left, top - size.top);
        marks.extend(section.iter().map(|mark| mark.moved(dx, dy)));
        let room = Rect { left: split, top, bottom: f64::MAX, ..window };
        let table = self.layers(stack).lay_out(SIZE, room, room).swap_remove(0);
        marks.extend(table.marks);
        (marks, table.bottom.max(size.bottom + dy))
    }

    fn layers(&self, stack: &Stack) -> Table {
        let mut table = Table::new([figures("No."), words("Layer from the head"), figures("Thick")]);
        for (n, layer) in stack.layers.iter().enumerate() {
            let what = self.frame.laid(stack, layer);
            let words = match (layer.what, layer.wall_mm) {
                (Laid::Spacer, _) => format!("{what}, cut to length"),
                (_, Some(wall)) => format!("{what}, a tube of wall {}", self.fine(wall)),
                _ => what.to_string(),
            };
            // A washer is bought, never taped.
            let thick = match layer.what {
                Laid::Washer => length_exact(mm(layer.thickness_mm), self.units),
                _ => self.fine(layer.thickness_mm),
            };
            table.row([(n + 1).to_string(), words, thick]);
        }
        table.row([String::new(), "grip without washers".to_string(), self.fine(stack.grip_mm())]);
        let bolt = bolt_length(stack.bolt, stack.grip_mm(), stack.washers() as u32, washer_mm(stack.bolt));
        match bolt {
            Ok(bolt) => {
                table.row([String::new(), format!("bolt {}, under head", stack.bolt.name), self.show(bolt.length_mm)]);
                if bolt.extra_washers > 0 {
                    table.row([
                        String::new(),
                        "washers more under the nut".to_string(),
                        bolt.extra_washers.to_string(),
                    ]);
                }
            }
            Err(none) => table.row([
                String::new(),
                "no stocked bolt is long enough, needs".to_string(),
                self.show(none.needed_mm),
            ]),
        }
        if stack.pulled_by_hand {
            table.row([
                "",
                "pulled to change the tilt: hex bolt, washers, lock nut; a new lock nut when it turns on by hand",
                "",
            ]);
        }
        table
    }

    /// The section: head at the left, bolt along x, layers at their true thickness, numbered above.
    fn section(&self, stack: &Stack, view: &View) -> Vec<Mark> {
        let bolt = stack.bolt;
        let half = |diameter: f64| 0.5 * diameter;
        let block = |left: f64, right: f64, half: f64| {
            view.rect(Bounds { left, right, low: -half, high: half }).corners().to_vec()
        };
        let mut group = Group::new("stack").fact("name", stack.use_.word());
        let total: f64 = stack.layers.iter().map(|layer| layer.thickness_mm).sum();
        let mut x = 0.0;
        let mut middles = Vec::new();
        let mut members = 0;
        for layer in &stack.layers {
            if !matches!(layer.what, Laid::Washer | Laid::Spacer) {
                members += 1;
            }
            let (height, fill) = match layer.what {
                Laid::Washer => (bolt.washer.outer_mm, Fill::Ink),
                Laid::Spacer => (bolt.diameter_mm * 2.2, Fill::Hatch(135.0)),
                _ => (MEMBER_HEIGHT_MM, Fill::Hatch(if members % 2 == 0 { 45.0 } else { 135.0 })),
            };
            let end = x + layer.thickness_mm;
            // A tube is cut through its two walls.
            let cuts = layer.wall_mm.map_or(vec![[x, end]], |wall| vec![[x, x + wall], [end - wall, end]]);
            for [left, right] in cuts {
                group.marks.push(Mark::filled(block(left, right, half(height)), Pen::Visible, fill));
            }
            middles.push((x + 0.5 * layer.thickness_mm, half(height)));
            x += layer.thickness_mm;
        }
        let past = bolt.nut_mm + 2.0 * bolt.pitch_mm;
        for (left, right, width) in [
            (0.0, total + past, bolt.diameter_mm),
            (-bolt.head_mm, 0.0, bolt.flats_mm),
            (total, total + bolt.nut_mm, bolt.flats_mm),
        ] {
            group.marks.push(Mark::filled(block(left, right, half(width)), Pen::Visible, Fill::Paper));
        }
        let axis = [
            view.at(World::new(-bolt.head_mm, 0.0)).moved(-3.0, 0.0),
            view.at(World::new(total + past, 0.0)).moved(3.0, 0.0),
        ];
        group.marks.push(Mark::line(axis[0], axis[1], Pen::Centre));
        let top = view.at(World::new(0.0, 0.5 * MEMBER_HEIGHT_MM)).y - 6.0;
        let mut marks = vec![group.into()];
        marks.extend(numbers(view, &middles, top));
        let mut below = Dimensions::new(Side::Below, view.at(World::new(0.0, -0.5 * MEMBER_HEIGHT_MM)).y);
        below.add(
            view.at(World::new(0.0, 0.0)),
            view.at(World::new(total, 0.0)),
            &format!("{} head to nut", self.fine(total)),
        );
        marks.extend(below.draw().0);
        marks
    }
}

/// Where tables start on a page (mm).
fn split(page: Page) -> f64 {
    page.window().right - TABLE_WIDTH
}

/// A number over every layer, crowded ones spread and joined by thin lines.
fn numbers(view: &View, middles: &[(f64, f64)], top: f64) -> Vec<Mark> {
    const PITCH: f64 = 5.5;
    let wanted: Vec<f64> = middles.iter().map(|(x, _)| view.at(World::new(*x, 0.0)).x).collect();
    let places = spread(&wanted, PITCH);
    let mut marks = Vec::new();
    for (n, ((x, half), place)) in middles.iter().zip(places).enumerate() {
        // Into the upper part of the layer, clear of bolt and head.
        let foot = view.at(World::new(*x, 0.8 * half));
        marks.push(Mark::line(foot, Point::new(place, top), Pen::Dimension));
        let at = Point::new(place, top - 0.8 - SIZE.below());
        marks.push(Text::new(&(n + 1).to_string(), at, SIZE).anchored(Anchor::Middle).into());
    }
    marks
}
