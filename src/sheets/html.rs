//! Writes a document as one page that holds all of it: works offline on a phone, prints from any browser, fetches nothing.

use super::{
    document::{Block, Document, Figure, Section},
    geometry::{Point, Rect},
    page::Page,
    sheet::{Sheet, slug_of},
    svg,
    table::{Row, Table},
    text::safe,
    title_block::CAUTION,
};
use crate::quantities::UNIT_WORDS;
use maud::{DOCTYPE, Markup, PreEscaped, html};
use std::collections::BTreeMap;

/// Plain page style: black on white, wide things scroll inside their own box. On paper text has wide margins, no heading ends a
/// page, and drawings stand at true size each on a page of their own.
const STYLE: &str = "\
:root{color-scheme:light}\
body{font:1rem/1.45 'DejaVu Sans','Liberation Sans',Arial,sans-serif;color:#000;background:#fff}\
h1{font-size:1.5rem;overflow-wrap:anywhere}h2{font-size:1.2rem;border-top:2px solid #000;padding-top:.6rem;margin-top:2.4rem}\
.caution,.warning{border:2px solid #000;padding:.6rem .8rem}\
.warning{border-width:5px;font-weight:bold}\
nav ol{padding-left:1.9rem}a{color:#000}\
nav a{display:block}summary,.size,.alone{display:inline-block}nav a,.size,.alone{min-height:2.2rem;line-height:2.2rem}\
.alone{margin-left:1.4rem}.quantity{white-space:nowrap}\
table{border-collapse:collapse;margin:.6rem 0}\
th,td{border:1px solid #000;padding:.2rem .5rem;text-align:left;vertical-align:top}\
td.number,th.number{text-align:right}\
td .long{display:block;min-width:13rem}\
figcaption{font-weight:bold}figure svg{display:block}\
@media screen{body{margin:0 auto;padding:0 4vw 4rem;max-width:70rem}\
.wide{overflow-x:auto}figure{margin:1rem 0}figure .wide{border:1px solid #000}\
figure svg{width:100%;height:auto}figure input:checked~.wide svg{width:300%}}\
@media print{body{margin:0;font-size:9.5pt}td .long{min-width:0}h1,h2,.leads{break-after:avoid}h2{margin-top:1.4rem}tr,.warning{break-inside:avoid}\
nav,figcaption,figure input,.size,.alone,h2:has(+figure),body:has(figure) footer{display:none}\
figure{margin:0;overflow:hidden;break-before:page}}";

/// Margin of pages of text (mm): clear of what home printers leave white, with room to punch.
const TEXT_MARGIN_MM: u32 = 15;

/// The rules of print: each kind of drawing on a page of its own size, text on the same paper upright.
fn page_rules(document: &Document<'_>) -> String {
    let sheets = document.blocks().filter_map(|block| match block {
        Block::Drawing(sheet, _) => Some(sheet.page),
        _ => None,
    });
    let pages: BTreeMap<String, Page> = sheets.map(|page| (page.style_name(), page)).collect();
    let text = pages.values().next().map_or_else(String::new, |page| Page::portrait(page.paper).style_size() + ";");
    let mut rules = format!("@page{{{text}margin:{TEXT_MARGIN_MM}mm}}");
    for (name, page) in &pages {
        // A figure is a hair lower than its page, so that rounding to the screen's dots starts no empty page after it.
        let (width, height) = (page.width(), page.height() - 0.2);
        rules += &format!("@page {name}{{{};margin:0}}", page.style_size());
        rules += &format!("@media print{{.{name}{{page:{name};width:{width}mm;height:{height:.1}mm}}}}");
    }
    rules
}

/// Writes the page; a warning stands on top of it.
#[must_use]
pub fn page(document: &Document<'_>) -> String {
    let (title, sections) = (safe(&document.title), &document.sections);
    let ids = ids(sections);
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) }
                style { (PreEscaped(STYLE)) (PreEscaped(page_rules(document))) }
            }
            body {
                h1 { (title) }
                @if let Some(warning) = document.warning { p.warning { (write_words(&warning.sentence())) } }
                p.caution { (CAUTION) }
                nav aria-label="Contents" {
                    ol { @for (section, id) in sections.iter().zip(&ids) { li { a href={ "#" (id) } { (safe(&section.heading)) } } } }
                }
                main { @for (section, id) in sections.iter().zip(&ids) { (write_section(section, id)) } }
                footer { p { "Made by tiltwright " (env!("CARGO_PKG_VERSION")) ". This page needs no network." } }
            }
        }
    };
    page.into_string() + "\n"
}

fn write_section(section: &Section<'_>, id: &str) -> Markup {
    let leads = |n: usize| matches!(section.blocks.get(n + 1), Some(Block::Table(_) | Block::Steps(_)));
    html! {
        section id=(id) {
            h2 { (safe(&section.heading)) }
            @for (n, block) in section.blocks.iter().enumerate() { (write_block(block, leads(n))) }
        }
    }
}

/// `leads`: the block speaks of the next one, so no page ends between them.
fn write_block(block: &Block<'_>, leads: bool) -> Markup {
    match block {
        Block::Paragraph(text) => html! { p.leads[leads] { (write_words(text)) } },
        Block::Steps(steps) => html! { ol { @for step in steps { li { (write_words(step)) } } } },
        Block::Table(table) => write_table(table),
        Block::Warning(text) => html! { p.warning.leads[leads] { (write_words(text)) } },
        Block::Link { words, path } => html! { p { a href=(path) { (safe(words)) } } },
        Block::Figure(figure) => write_figure(figure),
        Block::Drawing(sheet, path) => write_drawing(sheet, path),
    }
}

fn write_table(table: &Table) -> Markup {
    let class = |n: usize| table.columns.get(n).is_some_and(|column| column.is_figures).then_some("number");
    html! {
        div.wide {
            table {
                thead { tr { @for (n, column) in table.columns.iter().enumerate() {
                    th class=[class(n)] scope="col" { (safe(&column.heading)) }
                } } }
                tbody { @for row in &table.rows { tr { @match row {
                    Row::Heading(words) => { th colspan=(table.columns.len()) { (write_words(words)) } }
                    Row::Cells(cells) => {
                        @for (n, cell) in cells.iter().enumerate() { td class=[class(n)] { (write_cell(cell)) } }
                    }
                } } } }
            }
        }
    }
}

/// A picture among the words: as wide as they are on paper, and half as high.
fn write_figure(figure: &Figure<'_>) -> Markup {
    const WIDE_MM: f64 = 180.0;
    let room = Rect::between(Point::new(0.0, 0.0), Point::new(WIDE_MM, WIDE_MM / 2.0));
    let (_, marks) = figure.within(room);
    html! {
        div.wide { (PreEscaped(svg::picture(&figure.caption, &marks, room))) }
        p { (write_words(&figure.caption)) }
    }
}

/// Words of a cell; many of them keep a width that can be read where the table is wider than the screen.
fn write_cell(text: &str) -> Markup {
    const MANY: usize = 60;
    let words = write_words(text);
    if text.chars().count() > MANY {
        html! { span.long { (words) } }
    } else {
        words
    }
}

fn write_drawing(sheet: &Sheet, path: &str) -> Markup {
    let zoom = format!("zoom-{}-{}", sheet.slug, sheet.number);
    html! {
        figure class=(sheet.page.style_name()) {
            figcaption { (safe(&sheet.title)) }
            input type="checkbox" id=(zoom);
            label.size for=(zoom) { " three times as large, scroll to look round" }
            a.alone href=(path) { "this sheet alone" }
            div.wide { (PreEscaped(sheet.to_inline_svg())) }
        }
    }
}

/// Running text in which no line ends inside a quantity.
fn write_words(text: &str) -> Markup {
    let text = safe(text);
    let words: Vec<&str> = text.split(' ').collect();
    let mut parts = Vec::new();
    let mut rest = words.as_slice();
    while !rest.is_empty() {
        let (part, after) = rest.split_at(quantity(rest));
        parts.push(part);
        rest = after;
    }
    html! {
        @for (n, part) in parts.iter().enumerate() {
            @if n > 0 { " " }
            @if let [word] = part { (word) } @else { span.quantity { (part.join(" ")) } }
        }
    }
}

/// How many of the words, from the first, are one quantity: `5 ft 3-1/2 in` is four; one where they begin with none.
fn quantity(words: &[&str]) -> usize {
    let number = |word: &str| {
        let word = word.trim_start_matches(['(', '-', '±', '+']);
        word.starts_with(|c: char| c.is_ascii_digit()) && word.ends_with(|c: char| c.is_ascii_digit())
    };
    // A unit may have a power or a divisor, and may end a clause.
    let unit = |word: &str| {
        word.split(|c: char| !c.is_alphabetic() && c != '%').next().is_some_and(|first| UNIT_WORDS.contains(&first))
    };
    match words {
        [value, "ft", inches, last, ..] if number(value) && number(inches) && unit(last) => 4,
        [value, "sq", last, ..] if number(value) && unit(last) => 3,
        [value, last, ..] if number(value) && unit(last) => 2,
        _ => 1,
    }
}

/// One id for each section, no two alike.
fn ids(sections: &[Section<'_>]) -> Vec<String> {
    let mut used: BTreeMap<String, usize> = BTreeMap::new();
    let id = |section: &Section<'_>| {
        let slug = slug_of(&section.heading);
        let count = used.entry(slug.clone()).or_default();
        *count += 1;
        if *count == 1 { format!("part-{slug}") } else { format!("part-{slug}-{count}") }
    };
    sections.iter().map(id).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_line_ends_inside_a_quantity() {
        let page = write_words(
            "Cut 2 of 5 ft 3-1/2 in, then (8 ft) and 12 more; 42 sq ft, 1613 mm. 100 % of it, 3 ft 4 boards, 2 lb/in³",
        );
        let bound: Vec<&str> =
            page.0.split("<span class=\"quantity\">").skip(1).filter_map(|part| part.split('<').next()).collect();
        assert_eq!(bound, ["5 ft 3-1/2 in,", "(8 ft)", "42 sq ft,", "1613 mm.", "100 %", "3 ft", "2 lb/in³"]);
    }
}
