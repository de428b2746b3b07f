//! One page that holds a whole packet: works offline on a phone, prints from any browser, fetches nothing.

use super::{
    sheet::{Sheet, slug_of},
    text::safe,
    title_block::CAUTION,
};
use maud::{DOCTYPE, Markup, PreEscaped, html};
use std::collections::BTreeMap;

/// A heading with what stands under it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Section {
    /// Heading, also in the list of contents.
    pub title: String,
    /// What stands under it.
    pub items: Vec<Item>,
}

impl Section {
    /// A heading with nothing under it yet.
    #[must_use]
    pub fn new(title: &str) -> Self {
        Self { title: title.to_string(), items: Vec::new() }
    }

    /// The section with an item added.
    #[must_use]
    pub fn with(mut self, item: Item) -> Self {
        self.items.push(item);
        self
    }
}

/// One thing under a heading.
#[derive(Debug, Clone, PartialEq)]
pub enum Item {
    /// Running text.
    Paragraph(String),
    /// Numbered steps.
    Steps(Vec<String>),
    /// A table: headings, rows. A heading that starts with `>` sets its column flush right; a row of one cell stands across
    /// all columns and heads those below it.
    Table(Vec<String>, Vec<Vec<String>>),
    /// A drawing.
    Drawing(Box<Sheet>),
}

/// Plain page style: black on white, wide things scroll inside their own box, drawings start each on a fresh sheet when printed.
const STYLE: &str = "\
:root{color-scheme:light}\
body{margin:0 auto;padding:0 4vw 4rem;max-width:70rem;font:1rem/1.45 'DejaVu Sans','Liberation Sans',Arial,sans-serif;\
color:#000;background:#fff}\
h1{font-size:1.5rem;overflow-wrap:anywhere}h2{font-size:1.2rem;border-top:2px solid #000;padding-top:.6rem;margin-top:2.4rem}\
.caution{border:2px solid #000;padding:.6rem .8rem}\
nav ol{padding-left:1.4rem}a{color:#000}\
nav a,summary,.size{display:inline-block;min-height:2.2rem;line-height:2.2rem}\
.wide{overflow-x:auto}\
table{border-collapse:collapse;margin:.6rem 0}\
th,td{border:1px solid #000;padding:.2rem .5rem;text-align:left;vertical-align:top}\
td.number,th.number{text-align:right}\
figure{margin:1rem 0}figcaption{font-weight:bold}\
figure .wide{border:1px solid #000}\
figure svg{display:block;width:100%;height:auto}\
figure input:checked~.wide svg{width:300%}\
@media print{body{max-width:none;padding:0}nav,figure input,.size{display:none}figure{break-before:page}\
figure .wide{border:0;overflow:visible}tr{break-inside:avoid}}";

/// Writes the page.
#[must_use]
pub fn page(design: &str, sections: &[Section]) -> String {
    let ids = ids(sections);
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (safe(design)) }
                style { (PreEscaped(STYLE)) }
            }
            body {
                h1 { (safe(design)) }
                p.caution { (CAUTION) }
                nav aria-label="Contents" {
                    ol { @for (section, id) in sections.iter().zip(&ids) { li { a href={ "#" (id) } { (safe(&section.title)) } } } }
                }
                main { @for (section, id) in sections.iter().zip(&ids) { (write_section(section, id)) } }
                footer { p { "Made by tiltwright " (env!("CARGO_PKG_VERSION")) ". This page needs no network." } }
            }
        }
    };
    page.into_string() + "\n"
}

fn write_section(section: &Section, id: &str) -> Markup {
    html! {
        section id=(id) {
            h2 { (safe(&section.title)) }
            @for item in &section.items { (write_item(item)) }
        }
    }
}

fn write_item(item: &Item) -> Markup {
    match item {
        Item::Paragraph(text) => html! { p { (safe(text)) } },
        Item::Steps(steps) => html! { ol { @for step in steps { li { (safe(step)) } } } },
        Item::Table(headings, rows) => write_table(headings, rows),
        Item::Drawing(sheet) => write_drawing(sheet),
    }
}

fn write_table(headings: &[String], rows: &[Vec<String>]) -> Markup {
    let class = |n: usize| headings.get(n).is_some_and(|heading| heading.starts_with('>')).then_some("number");
    html! {
        div.wide {
            table {
                thead { tr { @for (n, heading) in headings.iter().enumerate() {
                    th class=[class(n)] scope="col" { (safe(heading.trim_start_matches('>'))) }
                } } }
                tbody { @for row in rows { tr {
                    @if let ([head], true) = (row.as_slice(), headings.len() > 1) {
                        th colspan=(headings.len()) { (safe(head)) }
                    } @else {
                        @for (n, cell) in row.iter().enumerate() { td class=[class(n)] { (safe(cell)) } }
                    }
                } } }
            }
        }
    }
}

fn write_drawing(sheet: &Sheet) -> Markup {
    let zoom = format!("zoom-{}-{}", sheet.slug, sheet.number);
    html! {
        figure {
            figcaption { (safe(&sheet.title)) }
            input type="checkbox" id=(zoom);
            label.size for=(zoom) { " three times as large, scroll to look round" }
            div.wide { (PreEscaped(sheet.to_svg())) }
        }
    }
}

/// One id for each section, no two alike.
fn ids(sections: &[Section]) -> Vec<String> {
    let mut used: BTreeMap<String, usize> = BTreeMap::new();
    let id = |section: &Section| {
        let slug = slug_of(&section.title);
        let count = used.entry(slug.clone()).or_default();
        *count += 1;
        if *count == 1 { format!("part-{slug}") } else { format!("part-{slug}-{count}") }
    };
    sections.iter().map(id).collect()
}
