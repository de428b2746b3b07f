//! The pages of a packet: all of it on one, and the templates on the other paper.

use super::{SHEETS, path_of};
use crate::{
    design::Design,
    frame::{Chosen, Clearance, Frame},
    quantities::{Units, facing, inches, latitude, length, length_both, limit, mass, mm, number},
    sheets::{
        Paper, Sheet, Warning,
        document::{Block, Document, Section},
        table::{Table, figures, words},
        tables::{boards, hardware, hole_row, pieces, seasons},
    },
    shop::{BenchCheck, CutList, HardwareLine, Total, assembly, cut_plan::Bar, turning_mass, unused_prices},
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
    pub(super) fn page(&self) -> Document<'_> {
        let (folder, templates) = self.other_paper;
        let words = format!("Templates on {}", paper(templates));
        Document::new(&self.design.name, self.warning)
            .with(self.summary())
            .with(self.tilts())
            .with(self.cut_list_section())
            .with(self.cutting())
            .with(self.hardware_section())
            .with(Section::new("Assembly sequence").steps(assembly(self.design, self.frame, self.units)))
            .with(self.bench_check())
            .with(self.clearances())
            .with(Section::new("Strength").paragraph(self.strength))
            .with(cautions(self.units))
            .with(printing(self.sheets).with(Block::Link { words, path: format!("{folder}.html") }))
            .with(drawings("Drawings", SHEETS, self.sheets))
    }

    /// The page of the templates on the other paper.
    pub(super) fn templates(&self) -> Document<'_> {
        let (folder, sheets) = self.other_paper;
        let document = Document::new(&self.design.name, self.warning);
        document.with(printing(sheets)).with(drawings("Full-size templates", folder, sheets))
    }

    fn l(&self, value_mm: f64) -> String {
        length(mm(value_mm), self.units)
    }

    fn summary(&self) -> Section<'static> {
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
        let rows = rows.into_iter().map(|(what, value)| [what.to_string(), value]);
        let mut section = Section::new("Summary").table(Table::new(["What", "Value"].map(words)).with(rows));
        if !frame.chosen.is_empty() {
            let rows = frame.chosen.iter().map(|(field, value)| [field.to_string(), self.chosen(*value)]);
            section = section
                .paragraph("The layout chose what the design leaves open:")
                .table(Table::new(["Field", "Chosen"].map(words)).with(rows));
        }
        for note in &frame.notes {
            section = section.paragraph(note);
        }
        section
    }

    fn chosen(&self, value: Chosen) -> String {
        match value {
            Chosen::Length(value) => self.l(value),
            Chosen::Bolt(name) => name.to_string(),
        }
    }

    fn tilts(&self) -> Section<'static> {
        let piece = &self.frame.pieces[self.frame.row_piece];
        let plan = self.season_plan;
        Section::new("Tilts and their holes")
            .paragraph(format!(
                "Holes of {} {}: measure each from the marked end, never from hole to hole.",
                piece.role.word(),
                piece.mark
            ))
            .table(hole_row(self.frame, self.units))
            .paragraph(format!(
                "Best days to change{}, from clear-sky energy: {} % {} in a year than the best tilt never changed.",
                plan.special_goal().map_or(String::new(), |goal| format!(" for {goal}")),
                number(100.0 * plan.gain_over_fixed.abs(), 1),
                if plan.gain_over_fixed < 0.0 { "less" } else { "more" }
            ))
            .table(seasons(plan))
    }

    fn cut_list_section(&self) -> Section<'static> {
        let section = Section::new("Cut list");
        let section = match self.warning {
            Some(warning) => section.with(Block::Warning(warning.sentence())),
            None => section,
        };
        section
            .paragraph("Lengths run between long points; angles are measured from a square cut.")
            .table(pieces(self.cut_list, self.units))
    }

    fn cutting(&self) -> Section<'static> {
        let list = self.cut_list;
        let section =
            Section::new("Sticks to buy and how to saw them").table(boards(&list.job, &list.plan, list.shown));
        let section = list.verdict().into_iter().fold(section, Section::paragraph);
        let row = |(bar, copies): (&Bar, usize)| {
            let cuts: Vec<String> = bar.cuts.iter().map(|c| format!("{} to {}", c.mark, list.show(c.to))).collect();
            [
                copies.to_string(),
                format!("{} {}", bar.group, list.show(bar.stock_length)),
                cuts.join("; "),
                list.show(bar.offcut),
            ]
        };
        let how = "Running marks from one end of the stick; the saw goes beyond each mark.".to_string();
        let how: Vec<String> = std::iter::once(how).chain(list.job.told_apart()).collect();
        let columns = [figures("Alike"), words("Stick"), words("Marks"), figures("Offcut")];
        section.paragraph(how.join(" ")).table(Table::new(columns).with(list.plan.batches().into_iter().map(row)))
    }

    fn hardware_section(&self) -> Section<'static> {
        let money = self.cut_list.shown.money;
        let section = Section::new("Hardware").table(hardware(self.hardware, money));
        let total = Total::of(self.cut_list, self.hardware).map(|total| total.sentence(money));
        let unused = unused_prices(&self.design.shop.hardware, self.hardware, self.units);
        total.into_iter().chain(unused).fold(section, Section::paragraph)
    }

    fn bench_check(&self) -> Section<'static> {
        let check = BenchCheck::of(self.design, self.frame, self.units);
        let taped = |value_mm: f64| length_both(mm(value_mm), self.units);
        let most = |value_mm: f64| limit(mm(value_mm), self.units);
        let rows = check.tapings.iter().map(|t| [t.what.clone(), taped(t.reads_mm), most(t.may_differ_mm)]);
        let columns = [words("Measure"), figures("Both should read"), figures("May differ by")];
        Section::new("Squareness on the bench")
            .table(Table::new(columns).with(rows))
            .steps(check.steps)
            .paragraph(format!("`{}` judges what you taped in the same order.", check.command))
    }

    fn clearances(&self) -> Section<'static> {
        let row = |c: &Clearance| {
            [c.what.clone(), self.l(c.room_mm), self.l(c.wanted_mm), format!("{}°", number(c.tilt_deg, 1))]
        };
        let columns = [words("Between"), figures("Room"), figures("Wanted"), figures("At tilt")];
        Section::new("Closest approaches through the whole swing")
            .table(Table::new(columns).with(self.frame.clearances.iter().map(row)))
    }
}

fn drawings<'a>(title: &str, folder: &str, sheets: &'a [Sheet]) -> Section<'a> {
    sheets
        .iter()
        .fold(Section::new(title), |section, sheet| section.with(Block::Drawing(sheet, path_of(folder, sheet))))
}

/// Paper of the sheets.
fn paper(sheets: &[Sheet]) -> &'static str {
    sheets.first().map_or(Paper::default(), |sheet| sheet.page.paper).name()
}

fn printing(sheets: &[Sheet]) -> Section<'static> {
    let paper = paper(sheets);
    Section::new("Printing").steps([
        format!("Put {paper} paper in the printer: every drawing is one page of it, upright or on its side."),
        "Print at 100 % (actual size), never fitted to the page. A drawing alone prints in the same way.".to_string(),
        "Where the browser turns or shrinks drawings, save a PDF first and print that.".to_string(),
        "Measure the check bars of each template with a ruler. A template whose bars are off is not used.".to_string(),
    ])
}

fn cautions(units: Units) -> Section<'static> {
    let clear = length(inches(120.0), units);
    Section::new("Cautions").steps(
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
        .map(|caution| caution.replace("{}", &clear)),
    )
}
