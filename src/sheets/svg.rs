//! Writes a sheet as SVG. Nothing is decided here: marks are walked and put into elements.

use super::{
    geometry::{Point, Rect},
    mark::{Fill, Group, Mark},
    pen::Pen,
    sheet::{Sheet, slug_of},
    text::{Anchor, FONT_FAMILIES, Text, safe},
};
use crate::quantities::number;
use std::collections::BTreeMap;
use svg::node::{Node, element as tag};

/// Decimals of a millimetre kept in the file: a micrometre.
const DECIMALS: usize = 3;
/// The sheet as a file of its own: printed alone it asks for its own paper.
pub(super) fn file(sheet: &Sheet) -> String {
    // Without a margin a browser has nothing to fit the sheet into, and prints it true.
    let style = tag::Style::new(format!("@page{{{};margin:0}}", sheet.page.style_size()));
    format!("{}\n", document(sheet, Some(style)))
}

/// The sheet as a part of a page that says itself on what paper it prints.
pub(super) fn inline(sheet: &Sheet) -> String {
    document(sheet, None).to_string()
}

/// A picture as a part of a page: a room of paper with marks in it.
pub(super) fn picture(caption: &str, marks: &[Mark], room: Rect) -> String {
    drawn(&slug_of(caption), &safe(caption), (room.width(), room.height()), None, marks).to_string()
}

fn document(sheet: &Sheet, style: Option<tag::Style>) -> svg::Document {
    let title = safe(&format!("{}: {}", sheet.design, sheet.title));
    let size = (sheet.page.width(), sheet.page.height());
    drawn(&format!("{}-{}", sheet.slug, sheet.number), &title, size, style, &sheet.all_marks())
        .set("data-sheet", sheet.number)
        .set("data-scale", sheet.scale.to_string())
}

fn drawn(
    prefix: &str,
    title: &str,
    (width, height): (f64, f64),
    style: Option<tag::Style>,
    marks: &[Mark],
) -> svg::Document {
    let (width, height) = (mm(width), mm(height));
    let mut writer = Writer { prefix: prefix.to_string(), used: BTreeMap::new() };
    let paper =
        tag::Rectangle::new().set("width", width.as_str()).set("height", height.as_str()).set("fill", "#ffffff");
    let root = tag::Group::new().set("font-family", FONT_FAMILIES).set("fill", "none").set("stroke-linejoin", "round");
    let root = marks.iter().fold(root, |root, mark| writer.add(root, mark));
    let mut document = svg::Document::new()
        .set("width", format!("{width}mm"))
        .set("height", format!("{height}mm"))
        .set("viewBox", format!("0 0 {width} {height}"))
        .add(tag::Title::new(title));
    if let Some(style) = style {
        document = document.add(style);
    }
    document.add(paper).add(root)
}

struct Writer {
    /// Starts every id, so that several sheets can stand in one page.
    prefix: String,
    used: BTreeMap<String, usize>,
}

impl Writer {
    fn id(&mut self, name: &str) -> String {
        let count = self.used.entry(name.to_string()).or_default();
        *count += 1;
        if *count == 1 { format!("{}-{name}", self.prefix) } else { format!("{}-{name}-{count}", self.prefix) }
    }

    fn add(&mut self, parent: tag::Group, mark: &Mark) -> tag::Group {
        match mark {
            Mark::Line { from, to, pen } => parent.add(line(*from, *to, *pen)),
            Mark::Polyline { points, pen } => {
                parent.add(pen_attributes(tag::Polyline::new().set("points", chain(points)).into(), *pen))
            }
            Mark::Polygon { points, pen, fill } => {
                parent.add(closed(tag::Polygon::new().set("points", chain(points)).into(), *pen, *fill))
            }
            Mark::Circle { centre, radius, pen, fill } => {
                let shape = tag::Circle::new().set("cx", mm(centre.x)).set("cy", mm(centre.y)).set("r", mm(*radius));
                parent.add(closed(shape.into(), Some(*pen), *fill))
            }
            Mark::Arc { centre, radius, from_deg, to_deg, pen } => {
                let path = tag::Path::new().set("d", arc(*centre, *radius, *from_deg, *to_deg));
                parent.add(pen_attributes(path.into(), *pen))
            }
            Mark::Strokes { lines, pen } => {
                let path = |[a, b]: &[Point; 2]| format!("M{} {}L{} {}", mm(a.x), mm(a.y), mm(b.x), mm(b.y));
                let path = tag::Path::new().set("d", lines.iter().map(path).collect::<String>());
                parent.add(pen_attributes(path.into(), *pen))
            }
            Mark::Text(text) if text.content().is_empty() => parent,
            Mark::Text(text) => parent.add(text_element(text)),
            Mark::Group(group) => self.add_group(parent, group),
        }
    }

    fn add_group(&mut self, mut parent: tag::Group, group: &Group) -> tag::Group {
        let name = slug_of(&group.name);
        let mut element = tag::Group::new().set("id", self.id(&name)).set("class", name);
        for (key, value) in &group.facts {
            element = element.set(format!("data-{}", slug_of(key)), safe(value));
        }
        if let Some(window) = group.clip {
            let id = self.id("window");
            element = element.set("clip-path", format!("url(#{id})"));
            parent = parent.add(tag::ClipPath::new().set("id", id).add(rectangle(window)));
        }
        for mark in &group.marks {
            element = self.add(element, mark);
        }
        parent.add(element)
    }
}

/// A closed shape; a hatching was drawn out as lines before.
fn closed(mut shape: tag::Element, pen: Option<Pen>, fill: Fill) -> tag::Element {
    let ink = match fill {
        Fill::None => None,
        Fill::Ink => Some("#000000"),
        Fill::Paper | Fill::Hatch(_) => Some("#ffffff"),
    };
    if let Some(ink) = ink {
        shape.get_attributes_mut().insert("fill".into(), ink.into());
    }
    match pen {
        Some(pen) => pen_attributes(shape, pen),
        None => shape,
    }
}

fn line(from: Point, to: Point, pen: Pen) -> tag::Element {
    let line = tag::Line::new().set("x1", mm(from.x)).set("y1", mm(from.y)).set("x2", mm(to.x)).set("y2", mm(to.y));
    pen_attributes(line.into(), pen)
}

fn rectangle(rect: Rect) -> tag::Rectangle {
    tag::Rectangle::new()
        .set("x", mm(rect.left))
        .set("y", mm(rect.top))
        .set("width", mm(rect.width()))
        .set("height", mm(rect.height()))
}

fn pen_attributes(mut element: tag::Element, pen: Pen) -> tag::Element {
    let attributes = element.get_attributes_mut();
    attributes.insert("stroke".into(), pen.ink().into());
    attributes.insert("stroke-width".into(), mm(pen.width()).into());
    let dashes = pen.dashes();
    if !dashes.is_empty() {
        let dashes: Vec<_> = dashes.into_iter().map(mm).collect();
        attributes.insert("stroke-dasharray".into(), dashes.join(" ").into());
    }
    element
}

fn text_element(text: &Text) -> tag::Element {
    // A plain element keeps the words on the tag's own line; `tag::Text` would put line ends around them.
    let mut element = tag::Element::new("text");
    element.append(svg::node::Text::new(text.content()));
    let mut set = |name: &str, value: String| _ = element.get_attributes_mut().insert(name.into(), value.into());
    set("x", mm(text.at.x));
    set("y", mm(text.at.y));
    set("font-size", mm(text.size.font_size()));
    set("fill", "#000000".into());
    match text.anchor {
        Anchor::Start => {}
        Anchor::Middle => set("text-anchor", "middle".into()),
        Anchor::End => set("text-anchor", "end".into()),
    }
    if text.bold {
        set("font-weight", "bold".into());
    }
    if text.rotation_deg != 0.0 {
        // SVG turns clockwise because its y axis points down.
        set(
            "transform",
            format!("rotate({} {} {})", number(-text.rotation_deg, DECIMALS), mm(text.at.x), mm(text.at.y)),
        );
    }
    element
}

fn chain(points: &[Point]) -> String {
    points.iter().map(|p| format!("{},{}", mm(p.x), mm(p.y))).collect::<Vec<_>>().join(" ")
}

fn arc(centre: Point, radius: f64, from_deg: f64, to_deg: f64) -> String {
    let (start, end) = (centre.towards(from_deg, radius), centre.towards(to_deg, radius));
    let large = u8::from(to_deg - from_deg > 180.0);
    // Sweep flag 0: counterclockwise as seen.
    format!("M{} {}A{r} {r} 0 {large} 0 {} {}", mm(start.x), mm(start.y), mm(end.x), mm(end.y), r = mm(radius))
}

/// The one rounding of every length in the file.
fn mm(value: f64) -> String {
    number(value, DECIMALS)
}
