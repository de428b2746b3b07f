//! The cut plan as drawings: every board that is sawn differently, its parts in place, and running marks from one end.

use super::{
    Feature, Fill, Group, Mark, Page, Pen, Point, Rect, Sheet, Side, Text, TextSize, fit, number_sheets, running,
    tables::boards, width, wrap,
};
use crate::shop::cut_plan::{Bar, Cut, Job, Plan, Shown, verdict};

/// Height of a board on the paper (mm): boards are drawn to scale along their length only.
const BOARD: f64 = 10.0;
/// Room for the name of a board, left of it, when nothing asks for more, and at most (mm).
const NAME: [f64; 2] = [34.0, 80.0];
/// Between the marks of one board and the next board (mm).
const GAP: f64 = 4.0;

/// The sheets of a plan, all boards at one scale along their length.
///
/// Parts that are turned over have their long edge, and their marks, on the upper side.
#[must_use]
pub fn cut_plan_sheets(name: &str, job: &Job, plan: &Plan, shown: Shown, page: Page) -> Vec<Sheet> {
    let title = if name.is_empty() { "unnamed list" } else { name };
    let longest = plan.bars.iter().map(|bar| bar.stock_length).max().unwrap_or(1);
    let window = page.window();
    let name_room = name_room(job, plan, shown);
    let scale = (window.width() - name_room - 6.0) / longest as f64;
    let blank = || Sheet::new("cut-plan", "Cut plan", title, page, shown.units);
    let mut sheets = Vec::new();
    let (head, mut top) = heading(job, plan, shown, window);
    let mut marks = head;
    let mut number = 1;
    for (bar, copies) in plan.batches() {
        let drawn = board(job, bar, (number, copies), shown, scale, (window.left, name_room));
        let height = drawn.above + BOARD + drawn.below + GAP;
        if top + height > window.bottom && !marks.is_empty() {
            sheets.push(blank().with(std::mem::take(&mut marks)));
            top = window.top;
        }
        marks.extend(drawn.marks.iter().map(|mark| mark.moved(0.0, top + drawn.above)));
        top += height;
        number += copies;
    }
    sheets.push(blank().with(marks));
    number_sheets(&mut sheets);
    sheets
}

/// Verdict, boards to take, and how to read the marks. Returns the marks and where the first board may begin.
fn heading(job: &Job, plan: &Plan, shown: Shown, window: Rect) -> (Vec<Mark>, f64) {
    let mut marks = Vec::new();
    let mut top = window.top;
    let mut lines = wrap(&verdict(job, plan, shown), TextSize::Small, true, window.width());
    let trim = match job.end_trim {
        0 => String::new(),
        trim => format!("Trim every board by {} first. ", shown.length(job, trim)),
    };
    let rule = format!(
        "{trim}Marks run from the left end; the saw, {} wide, goes beyond the mark. Long edges and their marks lie on the side where the figures stand. \
         Boards are drawn to scale along their length only. {}",
        shown.length(job, job.kerf),
        shown.caveat(job).unwrap_or_default()
    );
    lines.extend(wrap(&rule, TextSize::Small, false, window.width()));
    lines.extend(job.told_apart().iter().flat_map(|said| wrap(said, TextSize::Small, false, window.width())));
    for (at, line) in lines.iter().enumerate() {
        let text = Text::new(line, Point::new(window.left, top + TextSize::Small.above()), TextSize::Small);
        marks.push(if at == 0 { text.bold() } else { text }.into());
        top += TextSize::Small.line_pitch();
    }
    let room = Rect { top: top + 2.0, right: window.left + 0.6 * window.width(), ..window };
    // A list of boards longer than a page is left to the text: the drawing shows each board anyway.
    if let Some(part) = boards(job, plan, shown).lay_out(TextSize::Small, room, room).into_iter().next() {
        marks.extend(part.marks);
        top = part.bottom;
    }
    (marks, top + GAP)
}

/// A board with its upper edge at y = 0, and how far its marks reach beyond it.
struct Drawn {
    marks: Vec<Mark>,
    above: f64,
    below: f64,
}

fn board(
    job: &Job,
    bar: &Bar,
    (number, copies): (usize, usize),
    shown: Shown,
    scale: f64,
    (left, name_room): (f64, f64),
) -> Drawn {
    let x = |units: i64| left + name_room + units as f64 * scale;
    let usable = bar.stock_length - job.end_trim;
    // Parts too narrow for their mark are read from a list, left to right.
    let listed = bar.cuts.iter().any(|cut| mark_size(cut, &x).is_none()).then(|| marks_in_order(bar));
    let mut marks = label(label_lines(job, bar, (number, copies), shown), listed, (left, name_room));
    let outline = Rect { left: x(0), top: 0.0, right: x(usable), bottom: BOARD };
    marks.push(Mark::filled(outline.corners(), Pen::Visible, Fill::Hatch(45.0)));
    for (at, cut) in bar.cuts.iter().enumerate() {
        let shared_after = bar.cuts.get(at + 1).is_some_and(|next| next.shares_cut);
        marks.push(part(job, cut, shared_after, &x, shown).into());
    }
    let mut reach = [1.0, 1.0];
    for (side, over) in [(Side::Below, false), (Side::Above, true)] {
        let base = if over { 0.0 } else { BOARD };
        let features = features(job, bar, over, &x, base, shown);
        if !features.is_empty() {
            let datum = Feature { at: Point::new(x(0), base), text: "0".to_string() };
            let (drawn, far) = running(side, base, &datum, &features);
            marks.extend(drawn);
            reach[usize::from(over)] = far + 1.0;
        }
    }
    let copied = Group::new("board").fact("number", number).fact("copies", copies).fact("length", bar.stock_length);
    Drawn { marks: vec![copied.with(marks).into()], above: reach[1], below: reach[0] }
}

/// What is written left of a board, a line each.
fn label_lines(job: &Job, bar: &Bar, (number, copies): (usize, usize), shown: Shown) -> Vec<String> {
    let which =
        if copies == 1 { format!("Board {number}") } else { format!("Boards {number}–{}", number + copies - 1) };
    let rest =
        if bar.offcut == 0 { "no offcut".to_string() } else { format!("offcut {}", shown.length(job, bar.offcut)) };
    let stock = format!("{} {}", bar.group, shown.length(job, bar.stock_length));
    [which, stock, shown.price(bar.price), rest].into_iter().filter(|line| !line.is_empty()).collect()
}

/// Room that the longest of those lines needs: the lengths on it are read at the saw and must be whole.
fn name_room(job: &Job, plan: &Plan, shown: Shown) -> f64 {
    const GAP: f64 = 3.0;
    let count = plan.bars.len();
    let lines = plan.bars.iter().flat_map(|bar| label_lines(job, bar, (count, 2), shown));
    let widest = lines.map(|line| width(&line, TextSize::Small, true)).fold(0.0, f64::max);
    (widest + GAP).clamp(NAME[0], NAME[1])
}

fn label(lines: Vec<String>, listed: Option<String>, (left, name_room): (f64, f64)) -> Vec<Mark> {
    let pitch = TextSize::Small.line_pitch();
    let parts = listed.map(|parts| wrap(&parts, TextSize::Small, false, name_room - 2.0)).unwrap_or_default();
    let line = |(at, content): (usize, String)| {
        let place = Point::new(left, at as f64 * pitch + 1.0);
        let content = fit(&content, TextSize::Small, at == 0, name_room - 2.0);
        let text = Text::new(&content, place, TextSize::Small);
        Mark::from(if at == 0 { text.bold() } else { text })
    };
    lines.into_iter().chain(parts).enumerate().map(line).collect()
}

/// Marks of the parts as they lie, equal neighbours together.
fn marks_in_order(bar: &Bar) -> String {
    let mut runs: Vec<(&str, usize)> = Vec::new();
    for cut in &bar.cuts {
        match runs.last_mut() {
            Some((mark, count)) if *mark == cut.mark => *count += 1,
            _ => runs.push((&cut.mark, 1)),
        }
    }
    let word =
        |(mark, count): &(&str, usize)| if *count == 1 { mark.to_string() } else { format!("{count} × {mark}") };
    format!("parts: {}", runs.iter().map(word).collect::<Vec<_>>().join(", "))
}

/// Size at which a mark fits into its part, the larger first.
fn mark_size(cut: &Cut, x: &impl Fn(i64) -> f64) -> Option<TextSize> {
    let room = x(cut.to) - x(cut.from) - 1.0;
    [TextSize::Small, TextSize::Fine].into_iter().find(|size| width(&cut.mark, *size, true) <= room)
}

/// Ends of parts on one edge, each once.
fn features(job: &Job, bar: &Bar, over: bool, x: &impl Fn(i64) -> f64, base: f64, shown: Shown) -> Vec<Feature> {
    let mut at: Vec<i64> = Vec::new();
    for cut in bar.cuts.iter().filter(|cut| cut.turned_over == over) {
        // Behind a plain saw cut the next part begins one kerf on: that mark follows from the cut itself.
        at.extend((cut.shares_cut && cut.from > 0).then_some(cut.from));
        at.push(cut.to);
    }
    at.sort_unstable();
    at.dedup();
    at.into_iter().map(|units| Feature { at: Point::new(x(units), base), text: shown.length(job, units) }).collect()
}

fn part(job: &Job, cut: &Cut, shared_after: bool, x: &impl Fn(i64) -> f64, shown: Shown) -> Group {
    // The joint saving is what a mitre leans by, less a share of the kerf: near enough for a drawing that is not to scale across.
    let lean = job.mitre_joint_saving.unwrap_or(0);
    let first = cut.mitred_ends == 2 || (cut.mitred_ends == 1 && cut.shares_cut && !shared_after);
    let last = cut.mitred_ends == 2 || (cut.mitred_ends == 1 && !first);
    let short = (x(cut.from + if first { lean } else { 0 }), x(cut.to - if last { lean } else { 0 }));
    let (long_y, short_y) = if cut.turned_over { (0.0, BOARD) } else { (BOARD, 0.0) };
    let corners = vec![
        Point::new(x(cut.from), long_y),
        Point::new(x(cut.to), long_y),
        Point::new(short.1, short_y),
        Point::new(short.0, short_y),
    ];
    let middle = 0.5 * (short.0 + short.1);
    let room = short.1 - short.0 - 1.0;
    let mark_size = mark_size(cut, x).unwrap_or(TextSize::Fine);
    let words = [(cut.mark.clone(), mark_size, true), (shown.length(job, cut.length), TextSize::Fine, false)];
    let text = words.into_iter().zip([0.32, 0.76]).filter_map(|((content, size, bold), share)| {
        // Half a figure misleads; the marks below the board and the text of the plan have them whole.
        let text = Text::new(&content, Point::new(middle, share * BOARD), size).centred();
        (!content.is_empty() && width(&content, size, bold) <= room)
            .then(|| Mark::from(if bold { text.bold() } else { text }))
    });
    let text: Vec<Mark> = text.collect();
    Group::new("part")
        .fact("mark", &cut.mark)
        .fact("from", cut.from)
        .fact("to", cut.to)
        .with([Mark::filled(corners, Pen::Visible, Fill::Paper)])
        .with(text)
}
