//! The frame around every sheet: border, title block with the caution, and the scale bar.

use super::{
    geometry::{Point, Rect},
    mark::{Fill, Group, Mark},
    page::TitleBlock,
    pen::Pen,
    sheet::{Projection, Sheet, SheetScale},
    text::{Anchor, Text, TextSize, fit, safe, width, wrap},
    view::Scale,
};
use crate::quantities::{MM_PER_INCH, Units, number};

/// The caution on every sheet.
pub const CAUTION: &str = "CAUTION. An aid to the builder, not a permit and not a sealed design. Wind can lift or overturn a frame; \
    panels give live DC in any light; falls, heavy lifts and pinched hands injure. Local codes govern. Have a licensed engineer \
    review structure and footings, and a licensed electrician the wiring, before you build.";

/// The caution where room is short.
pub const CAUTION_SHORT: &str = "CAUTION. An aid to the builder only; local codes govern. Have a licensed engineer review the \
    structure before you build. Mind wind, falls, heavy lifts and live DC.";

/// The caution beside a warning, where there is no room for more.
const CAUTION_SHORTEST: &str = "CAUTION. Local codes and a licensed engineer govern. Mind wind and live DC.";

/// Border, title block and scale bar of a sheet.
pub(crate) fn frame(sheet: &Sheet) -> Vec<Mark> {
    let block = sheet.page.block_rect();
    let mut marks = vec![Mark::rect(sheet.page.border(), Pen::Border)];
    marks.push(
        Group::new("title-block")
            .with([Mark::line(block.corners()[0], block.corners()[1], Pen::Border)])
            .with(match sheet.page.block {
                TitleBlock::Full => full(sheet, block),
                TitleBlock::Strip => strip(sheet, block),
            })
            .into(),
    );
    if let (SheetScale::One(scale), TitleBlock::Full) = (sheet.scale, sheet.page.block) {
        marks.push(scale_bar(scale, sheet.units, sheet.page.scale_bar_at()).into());
    }
    marks
}

fn full(sheet: &Sheet, block: Rect) -> Vec<Mark> {
    let split = block.left + (0.36 * block.width()).clamp(66.0, 86.0);
    let (first, second) = (block.top + 10.0, block.top + 18.5);
    let mut marks = caution(sheet, &[CAUTION, CAUTION_SHORT, CAUTION_SHORTEST], Rect { right: split, ..block });
    let right = Rect { left: split, ..block };
    marks.push(Mark::line(Point::new(split, block.top), Point::new(split, block.bottom), Pen::Rule));
    for y in [first, second] {
        marks.push(Mark::line(Point::new(split, y), Point::new(block.right, y), Pen::Rule));
    }
    let room = right.width() - 4.0;
    // A long title is written smaller before it is cut.
    let fits = |size: &TextSize| width(&safe(&sheet.title), *size, false) <= room;
    let size = [TextSize::Large, TextSize::Normal].into_iter().find(fits).unwrap_or(TextSize::Small);
    let title = fit(&sheet.title, size, false, room);
    marks.push(Text::new(&title, Point::new(split + 2.0, first - 2.4), size).into());
    let design = fit(&sheet.design, TextSize::Normal, false, room);
    marks.push(Text::new(&design, Point::new(split + 2.0, second - 2.2), TextSize::Normal).into());
    marks.extend(cells(sheet, Rect { top: second, ..right }));
    marks
}

fn strip(sheet: &Sheet, block: Rect) -> Vec<Mark> {
    let split = block.left + (0.33 * block.width()).clamp(60.0, 86.0);
    let middle = block.top + 0.5 * block.height();
    let mut marks = caution(sheet, &[CAUTION_SHORT, CAUTION_SHORTEST], Rect { right: split, ..block });
    marks.push(Mark::line(Point::new(split, block.top), Point::new(split, block.bottom), Pen::Rule));
    marks.push(Mark::line(Point::new(split, middle), Point::new(block.right, middle), Pen::Rule));
    let half = 0.5 * (block.right - split);
    for (text, x) in [(&sheet.title, split), (&sheet.design, split + half)] {
        let text = fit(text, TextSize::Small, false, half - 4.0);
        marks.push(Text::new(&text, Point::new(x + 2.0, middle - 2.0), TextSize::Small).into());
    }
    marks.extend(cells(sheet, Rect { left: split, top: middle, ..block }));
    marks
}

/// The warning of a sheet in bold, then the longest of these cautions that fits below it.
fn caution(sheet: &Sheet, cautions: &[&str], room: Rect) -> Vec<Mark> {
    const ABOVE_FIRST: f64 = 0.4;
    let size = TextSize::Fine;
    let wrapped = |words: &str, bold| wrap(words, size, bold, room.width() - 4.0);
    let warning = sheet.warning.as_ref().map_or_else(Vec::new, |warning| wrapped(&warning.short(), true));
    let lines = ((room.height() - ABOVE_FIRST) / size.line_pitch()).floor() as usize;
    let mut ways = cautions.iter().map(|words| wrapped(words, false));
    let caution = ways.find(|way| warning.len() + way.len() <= lines).unwrap_or_default();
    let at =
        |n: usize| Point::new(room.left + 2.0, room.top + ABOVE_FIRST + size.above() + n as f64 * size.line_pitch());
    let bold = warning.iter().map(|line| (line, true));
    let all = bold.chain(caution.iter().map(|line| (line, false))).enumerate();
    all.map(|(n, (line, bold))| {
        let text = Text::new(line, at(n), size);
        if bold { text.bold().into() } else { text.into() }
    })
    .collect()
}

/// The row of small cells: a label above its value.
fn cells(sheet: &Sheet, row: Rect) -> Vec<Mark> {
    let units = match sheet.units {
        Units::Us => "ft, in",
        Units::Metric => "mm",
    };
    let projection = match sheet.projection {
        Projection::Third => "Third angle",
        Projection::First => "First angle",
    };
    let cells = [
        ("Sheet", format!("{} of {}", sheet.number, sheet.of), 19.0),
        ("Scale", sheet.scale.to_string(), 22.0),
        ("Units", units.to_string(), 15.0),
        ("Projection", projection.to_string(), 36.0),
        ("Drawn by", format!("tiltwright {}", env!("CARGO_PKG_VERSION")), 27.0),
    ];
    let total: f64 = cells.iter().map(|cell| cell.2).sum();
    let mut marks = Vec::new();
    let mut left = row.left;
    for (n, (label, value, share)) in cells.iter().enumerate() {
        let width = row.width() * share / total;
        if n > 0 {
            marks.push(Mark::line(Point::new(left, row.top), Point::new(left, row.bottom), Pen::Rule));
        }
        marks.push(
            Text::new(label, Point::new(left + 1.2, row.top + 0.2 + TextSize::Fine.above()), TextSize::Fine).into(),
        );
        let value = fit(value, TextSize::Fine, true, width - 2.0);
        marks.push(Text::new(&value, Point::new(left + 1.2, row.bottom - 1.0), TextSize::Fine).bold().into());
        if *label == "Projection" {
            let symbol = Point::new(left + width - 13.0, 0.5 * (row.top + row.bottom));
            marks.push(projection_symbol(sheet.projection, symbol).into());
        }
        left += width;
    }
    marks
}

/// The truncated cone of ISO 5456-2, 11 mm wide from `left`: its narrow end points left, its end view lies left of it in third
/// angle and right of it in first angle.
fn projection_symbol(projection: Projection, left: Point) -> Group {
    const SMALL: f64 = 1.1;
    const LARGE: f64 = 2.2;
    let (cone, circles) = match projection {
        Projection::Third => (left.moved(6.0, 0.0), left.moved(2.5, 0.0)),
        Projection::First => (left, left.moved(8.5, 0.0)),
    };
    let outline =
        vec![cone.moved(0.0, -SMALL), cone.moved(5.0, -LARGE), cone.moved(5.0, LARGE), cone.moved(0.0, SMALL)];
    Group::new("projection-symbol")
        .with([Mark::outline(outline, Pen::Rule)])
        .with([SMALL, LARGE].map(|radius| Mark::circle(circles, radius, Pen::Rule)))
}

/// A bar of a round length, between about 30 and 80 mm on the paper, in four parts.
pub(crate) fn scale_bar(scale: Scale, units: Units, at: Point) -> Group {
    let (length, label) = bar_length(scale, units);
    let end = at.moved(scale.length(length), 0.0);
    let part = 0.25 * (end.x - at.x);
    let mut group = Group::new("scale-bar").fact("length-mm", number(length, 3));
    for n in 0..4 {
        let left = at.x + part * f64::from(n);
        let half = Rect { left, right: left + part, top: at.y - 1.2, bottom: at.y };
        let fill = if n % 2 == 0 { Fill::Ink } else { Fill::Paper };
        group.marks.push(Mark::filled(half.corners(), Pen::Rule, fill));
    }
    let size = TextSize::Fine;
    group.marks.push(Text::new("0", at.moved(0.0, -2.0), size).anchored(Anchor::Middle).into());
    group.marks.push(Text::new(&label, end.moved(0.0, -2.0), size).anchored(Anchor::Middle).into());
    group.marks.push(Text::new(&scale.to_string(), end.moved(16.0, 0.0), TextSize::Small).into());
    group
}

fn bar_length(scale: Scale, units: Units) -> (f64, String) {
    const SHORTEST: f64 = 30.0;
    let lengths: Vec<(f64, String)> = match units {
        Units::Metric => (0..8)
            .flat_map(|power| [1.0, 2.0, 5.0].map(|n| n * 10_f64.powi(power)))
            .map(|mm| {
                (
                    mm,
                    if mm < 1000.0 { format!("{} mm", number(mm, 0)) } else { format!("{} m", number(mm / 1000.0, 0)) },
                )
            })
            .collect(),
        Units::Us => {
            let inches = [1.0, 2.0, 3.0, 6.0].map(|n| (n * MM_PER_INCH, format!("{} in", number(n, 0))));
            let feet = (0..6).flat_map(|power| [1.0, 2.0, 5.0].map(|n| n * 10_f64.powi(power)));
            inches
                .into_iter()
                .chain(feet.map(|ft| (12.0 * ft * MM_PER_INCH, format!("{} ft", number(ft, 0)))))
                .collect()
        }
    };
    let long_enough = |(mm, _): &&(f64, String)| scale.length(*mm) >= SHORTEST;
    // Beyond the last length no drawing exists; the last one still gives a true bar.
    lengths.iter().find(long_enough).or(lengths.last()).cloned().unwrap_or((1.0, "1 mm".to_string()))
}
