//! The pages of a packet: all of it on one, and the templates on the other paper.

use super::{SHEETS, path_of};
use crate::{
    design::Design,
    frame::{Chosen, Frame},
    quantities::{Units, facing, inches, latitude, length, length_both, length_exact, limit, mass, mm, number, to_deg},
    sheets::{
        Paper, Sheet, Warning,
        html::{Item, Section, page},
    },
    shop::{BenchCheck, CutList, HardwareLine, Total, assembly, cut_plan, turning_mass, unused_prices},
    sun::seasons::SeasonPlan,
};

/// Everything the pages of a packet are made of.
#[derive(Debug)]
pub(super) struct Index<'a> {
    pub(super) design: &'a Design,
    pub(super) frame: &'a Frame,
    pub(super) cut_list: &'a CutList,
    pub(super) hardware: &'a [HardwareLine],
    /// When to change the tilts it is drilled for.
    pub(super) season_plan: &'a SeasonPlan,
    /// Drawings on the first paper, shown on the page as well.
    pub(super) sheets: &'a [Sheet],
    /// The templates on the other paper: folder name, which is also that of their page, and sheets.
    pub(super) other_paper: (&'a str, &'a [Sheet]),
    /// What must be known before anything of it is built: on top of the page and in every table.
    pub(super) warning: Option<&'a Warning>,
    /// What may be said of the strength, in one sentence.
    pub(super) strength: &'a str,
    /// Units of everything that is read.
    pub(super) units: Units,
}

impl Index<'_> {
    /// The page that holds all of it.
    pub(super) fn page(&self) -> String {
        page(&self.design.name, self.warning, &self.sections())
    }

    /// The page of the templates on the other paper.
    pub(super) fn templates(&self) -> String {
        let (folder, sheets) = self.other_paper;
        let sections = [printing(sheets), drawings("Full-size templates", folder, sheets)];
        page(&self.design.name, self.warning, &sections)
    }

    fn total(&self) -> Option<Total> {
        Total::of(self.cut_list, self.hardware)
    }

    fn l(&self, value_mm: f64) -> String {
        length(mm(value_mm), self.units)
    }

    fn sections(&self) -> Vec<Section> {
        let mut sections =
            vec![self.summary(), self.tilts(), self.cut_list_section(), self.cutting(), self.hardware_section()];
        let steps = Section::new("Assembly sequence").with(Item::Steps(assembly(self.design, self.frame, self.units)));
        sections.push(steps);
        sections.push(self.bench_check());
        sections.push(self.clearances());
        sections.push(Section::new("Strength").with(Item::Paragraph(self.strength.to_string())));
        sections.push(cautions(self.units));
        let (folder, templates) = self.other_paper;
        let words = format!("Templates on {}", paper(templates));
        sections.push(printing(self.sheets).with(Item::Link(words, format!("{folder}.html"))));
        sections.push(drawings("Drawings", SHEETS, self.sheets));
        sections
    }

    /// A text with the warning above it.
    pub(super) fn warned_text(&self, text: String) -> String {
        match self.warning {
            Some(warning) => format!("{}\n\n{text}", warning.sentence()),
            None => text,
        }
    }

    /// A comma-separated table with the warning in a first column of its own: it stays a table, and each row says it.
    pub(super) fn warned_table(&self, table: String) -> Vec<u8> {
        let Some(warning) = self.warning else { return table.into_bytes() };
        let mut writer = csv::Writer::from_writer(Vec::new());
        for (n, row) in
            csv::ReaderBuilder::new().has_headers(false).from_reader(table.as_bytes()).byte_records().enumerate()
        {
            let row = row.expect("a table of ours");
            let first = if n == 0 { "warning".to_string() } else { warning.sentence() };
            writer.write_record([first.as_bytes()].into_iter().chain(&row)).expect("writing to memory cannot fail");
        }
        writer.into_inner().expect("writing to memory cannot fail")
    }

    fn summary(&self) -> Section {
        let (design, frame) = (self.design, self.frame);
        let panels = frame.panels.len() * frame.count;
        let stands = frame.stands_on_in_words(self.units);
        let turns_on = frame.turns_on().word();
        let rows: Vec<(&str, String)> = vec![
            (
                "Place",
                format!(
                    "{}, latitude {}, facing {}",
                    design.site.place,
                    latitude(design.site.latitude),
                    facing(design.site.facing)
                ),
            ),
            (
                "Panels",
                format!(
                    "{panels} of {} x {} x {}, {} each",
                    length(design.panel.long_side, self.units),
                    length(design.panel.short_side, self.units),
                    length(design.panel.thickness, self.units),
                    mass(design.panel.mass, self.units)
                ),
            ),
            (
                "Frames",
                format!(
                    "{}, each {} wide and {} up the slope",
                    frame.count,
                    self.l(frame.width_mm),
                    self.l(frame.length_mm)
                ),
            ),
            ("Weight", format!("about {} each, frame with panels", mass(turning_mass(design, frame), self.units))),
            ("Stands on", stands),
            ("Bolts", format!("{turns_on} {}, pins {}", frame.bolt.name, frame.pin.name)),
        ];
        let rows = rows.into_iter().map(|(k, v)| vec![k.to_string(), v]).collect();
        let mut section = Section::new("Summary").with(Item::Table(vec!["What".into(), "Value".into()], rows));
        if !frame.chosen.is_empty() {
            let rows = frame.chosen.iter().map(|(field, value)| vec![field.to_string(), self.chosen(*value)]).collect();
            section = section
                .with(Item::Paragraph("The layout chose what the design leaves open:".to_string()))
                .with(Item::Table(vec!["Field".into(), "Chosen".into()], rows));
        }
        for note in &frame.notes {
            section = section.with(Item::Paragraph(note.clone()));
        }
        section
    }

    fn chosen(&self, value: Chosen) -> String {
        match value {
            Chosen::Length(value) => self.l(value),
            Chosen::Bolt(name) => name.to_string(),
        }
    }

    fn tilts(&self) -> Section {
        let frame = self.frame;
        let headings = ["Tilt", ">From the marked end", ">Exact", ">Reached", ">Turn per mark", ">Lever share"]
            .map(str::to_string);
        let rows = frame
            .row
            .iter()
            .map(|hole| {
                let tilts: Vec<String> = hole.tilts_deg.iter().map(|t| format!("{}°", number(*t, 2))).collect();
                vec![
                    tilts.join(", "),
                    self.l(hole.from_end_mm),
                    length_exact(mm(frame.row_datum_mm + hole.exact_mm), self.units),
                    format!("{:.2}°", hole.reached_deg),
                    format!("{:.2}°", hole.deg_per_mm * frame.tape.mark_mm()),
                    format!("{:.2}", hole.lever_share),
                ]
            })
            .collect();
        let piece = &frame.pieces[frame.row_piece];
        let section = Section::new("Tilts and their holes")
            .with(Item::Paragraph(format!(
                "Holes of {} {}: measure each from the marked end, never from hole to hole.",
                piece.role.word(),
                piece.mark
            )))
            .with(Item::Table(headings.to_vec(), rows));
        let plan = self.season_plan;
        let rows = plan
            .seasons
            .iter()
            .map(|s| vec![s.from.in_words(), format!("{}°", number(to_deg(s.tilt), 1)), s.days.to_string()])
            .collect();
        section
            .with(Item::Paragraph(format!(
                "Best days to change{}, from clear-sky energy: {} % {} in a year than the best tilt never changed.",
                plan.special_goal().map_or(String::new(), |goal| format!(" for {goal}")),
                number(100.0 * plan.gain_over_fixed.abs(), 1),
                if plan.gain_over_fixed < 0.0 { "less" } else { "more" }
            )))
            .with(Item::Table(vec!["From".into(), ">Tilt".into(), ">Days".into()], rows))
    }

    fn cut_list_section(&self) -> Section {
        let headings = ["Mark", "Piece", "Section", ">Pieces", ">Length", "Ends", "Material"].map(str::to_string);
        let rows = self
            .cut_list
            .lines
            .iter()
            .map(|line| {
                let piece = &line.piece;
                let ends = if piece.ends_deg == [0.0; 2] {
                    "square".to_string()
                } else {
                    format!("{}° / {}°", number(piece.ends_deg[0], 2), number(piece.ends_deg[1], 2))
                };
                vec![
                    piece.mark.clone(),
                    piece.role.word().to_string(),
                    piece.section.name.clone(),
                    line.quantity.to_string(),
                    self.l(line.taped_mm),
                    ends,
                    line.material.clone(),
                ]
            })
            .collect();
        let section = Section::new("Cut list");
        let section = match self.warning {
            Some(warning) => section.with(Item::Warning(warning.sentence())),
            None => section,
        };
        section
            .with(Item::Paragraph(
                "Lengths run between long points; angles are measured from a square cut.".to_string(),
            ))
            .with(Item::Table(headings.to_vec(), rows))
    }

    fn cutting(&self) -> Section {
        let list = self.cut_list;
        let rows = list
            .to_buy()
            .into_iter()
            .map(|(section, length, count)| vec![count.to_string(), section, list.show(length)])
            .collect();
        let mut section = Section::new("Sticks to buy and how to saw them")
            .with(Item::Table(vec![">Number".into(), "Section".into(), ">Length".into()], rows));
        for said in list.verdict() {
            section = section.with(Item::Paragraph(said));
        }
        let rows = list
            .plan
            .batches()
            .into_iter()
            .map(|(bar, copies)| {
                let cuts: Vec<String> = bar.cuts.iter().map(|c| format!("{} to {}", c.mark, list.show(c.to))).collect();
                vec![
                    copies.to_string(),
                    format!("{} {}", bar.group, list.show(bar.stock_length)),
                    cuts.join("; "),
                    list.show(bar.offcut),
                ]
            })
            .collect();
        section
            .with(Item::Paragraph(
                std::iter::once("Running marks from one end of the stick; the saw goes beyond each mark.".to_string())
                    .chain(list.job.told_apart())
                    .collect::<Vec<_>>()
                    .join(" "),
            ))
            .with(Item::Table(vec![">Alike".into(), "Stick".into(), "Marks".into(), ">Offcut".into()], rows))
    }

    fn hardware_section(&self) -> Section {
        let (total, money) = (self.total(), self.cut_list.shown.money);
        let priced = total.as_ref().is_some_and(|total| total.hardware.is_some());
        let row = |h: &HardwareLine| {
            let show = |cents: i64| cut_plan::amount(cents, money);
            let prices = h.bought.map_or_else(Default::default, |bought| [bought.each, bought.cents()].map(show));
            let prices = priced.then_some(prices).into_iter().flatten();
            let cells = [h.quantity.to_string(), h.item.clone(), h.size.clone()].into_iter();
            cells.chain(prices).chain([h.note.clone()]).collect()
        };
        let rows = self.hardware.iter().map(row).collect();
        let prices = priced.then_some([">Price of one", ">Together"]).into_iter().flatten();
        let heads = [">Number", "Item", "Size"].into_iter().chain(prices).chain(["Note"]).map(str::to_string).collect();
        let section = Section::new("Hardware").with(Item::Table(heads, rows));
        let unused = unused_prices(&self.design.shop.hardware, self.hardware, self.units);
        let said = total.map(|total| total.sentence(money)).into_iter().chain(unused);
        said.fold(section, |section, words| section.with(Item::Paragraph(words)))
    }

    fn bench_check(&self) -> Section {
        let check = BenchCheck::of(self.design, self.frame, self.units);
        let taped = |value_mm: f64| length_both(mm(value_mm), self.units);
        let most = |value_mm: f64| limit(mm(value_mm), self.units);
        let rows = check.tapings.iter().map(|t| vec![t.what.clone(), taped(t.reads_mm), most(t.may_differ_mm)]);
        let headings = vec!["Measure".into(), ">Both should read".into(), ">May differ by".into()];
        Section::new("Squareness on the bench")
            .with(Item::Table(headings, rows.collect()))
            .with(Item::Steps(check.steps))
            .with(Item::Paragraph(format!("`{}` judges what you taped in the same order.", check.command)))
    }

    fn clearances(&self) -> Section {
        let rows = self
            .frame
            .clearances
            .iter()
            .map(|c| {
                vec![c.what.clone(), self.l(c.room_mm), self.l(c.wanted_mm), format!("{}°", number(c.tilt_deg, 1))]
            })
            .collect();
        Section::new("Closest approaches through the whole swing")
            .with(Item::Table(vec!["Between".into(), ">Room".into(), ">Wanted".into(), ">At tilt".into()], rows))
    }
}

fn drawings(title: &str, folder: &str, sheets: &[Sheet]) -> Section {
    let items = sheets.iter().map(|sheet| Item::Drawing(Box::new(sheet.clone()), path_of(folder, sheet))).collect();
    Section { title: title.to_string(), items }
}

/// Paper of the sheets.
fn paper(sheets: &[Sheet]) -> &'static str {
    sheets.first().map_or(Paper::default(), |sheet| sheet.page.paper).name()
}

fn printing(sheets: &[Sheet]) -> Section {
    let paper = paper(sheets);
    Section::new("Printing").with(Item::Steps(vec![
        format!("Put {paper} paper in the printer: every drawing is one page of it, upright or on its side."),
        "Print at 100 % (actual size), never fitted to the page. A drawing alone prints in the same way.".to_string(),
        "Where the browser turns or shrinks drawings, save a PDF first and print that.".to_string(),
        "Measure the check bars of each template with a ruler. A template whose bars are off is not used.".to_string(),
    ]))
}

fn cautions(units: Units) -> Section {
    let clear = length(inches(120.0), units);
    Section::new("Cautions").with(Item::Steps(
        [
            "Wind: a frame with panels is a sail at every tilt. No strength is claimed here without the strength sheet and a licensed engineer's review.",
            "Snow: keep the ground clear below the low edge, and choose the steep tilt before snow.",
            "Falls: on a roof use fall protection; a ladder stands on firm ground, tied, one in four.",
            "Lifting: two people to a panel, more to a frame; no lifting in gusty wind; keep {} from overhead lines (from memory, unverified).",
            "Live DC: a panel cannot be switched off while light falls on it. Never part a connector under load.",
            "Digging: have buried lines marked first.",
            "Lightning: bonding is no lightning protection; stop work at thunder and wait half an hour.",
            "Re-tilting: prop the frame before a pin is pulled; keep hands out of the gap between frame and post.",
        ]
        .map(|caution| caution.replace("{}", &clear))
        .to_vec(),
    ))
}
