//! Lays tables out on paper: ruled, they wrap their cells and continue on the next page, and never run over.

use super::{
    geometry::{Point, Rect},
    mark::Mark,
    pen::Pen,
    table::{Column, Row, Table},
    text::{Anchor, Text, TextSize, width, wrap},
};

/// Room between a rule and the text beside it (mm).
const PAD: f64 = 1.4;
/// Room above the first and below the last line of a row (mm).
const PAD_ROW: f64 = 0.3;
/// No column is squeezed below this (mm).
const NARROWEST: f64 = 9.0;

/// The part of a table on one page.
#[derive(Debug, Clone, PartialEq)]
pub struct TablePart {
    /// Rules and texts.
    pub marks: Vec<Mark>,
    /// Lowest rule (mm, paper).
    pub bottom: f64,
}

/// A row broken into lines: a list of lines for each column, or one list across all of them.
#[derive(Clone)]
struct Lines {
    cells: Vec<Vec<String>>,
    is_across: bool,
}

/// A table that is laid out in one text size.
struct Ruled<'a> {
    table: &'a Table,
    size: TextSize,
    widths: Vec<f64>,
}

impl Table {
    /// Lays the table out from the top of `first`, going on in windows like `next`.
    #[must_use]
    pub fn lay_out(&self, size: TextSize, first: Rect, next: Rect) -> Vec<TablePart> {
        let widths = self.widths(size, first.width().min(next.width()));
        let ruled = Ruled { table: self, size, widths };
        let mut parts = Vec::new();
        let mut rows: Vec<Lines> = self.rows.iter().rev().map(|row| ruled.break_row(row)).collect();
        let mut window = first;
        loop {
            parts.push(ruled.lay_part(&mut rows, window, parts.is_empty() && first != next, next));
            if rows.is_empty() {
                return parts;
            }
            window = next;
        }
    }

    /// Column widths (mm) that add up to at most `room`: what each needs when there is room, else narrow columns keep what they need
    /// and the wide ones share the rest.
    fn widths(&self, size: TextSize, room: f64) -> Vec<f64> {
        let natural = |(n, column): (usize, &Column)| {
            let rows =
                self.rows.iter().filter_map(|row| if let Row::Cells(cells) = row { Some(&cells[n]) } else { None });
            let cells = rows.flat_map(|cell| cell.lines()).map(|line| width(line, size, false));
            let heading = width(&column.heading, size, true);
            cells.fold(heading, f64::max).max(NARROWEST - 2.0 * PAD) + 2.0 * PAD + 0.01
        };
        let mut widths: Vec<f64> = self.columns.iter().enumerate().map(natural).collect();
        if widths.iter().sum::<f64>() <= room {
            return widths;
        }
        let mut order: Vec<usize> = (0..widths.len()).collect();
        order.sort_by(|a, b| widths[*a].total_cmp(&widths[*b]));
        let mut left = room;
        for (done, n) in order.iter().enumerate() {
            let share = left / (widths.len() - done) as f64;
            widths[*n] = widths[*n].min(share);
            left -= widths[*n];
        }
        widths
    }
}

impl Ruled<'_> {
    /// Fills one window with rows taken from the end of the list.
    fn lay_part(&self, rows: &mut Vec<Lines>, window: Rect, may_be_short: bool, next: Rect) -> TablePart {
        let mut part = TablePart { marks: Vec::new(), bottom: window.top };
        let mut rules = vec![window.top];
        // Where rules stand between columns: nowhere beside words across all of them.
        let mut ruled = vec![[window.top, window.top]];
        let head = self.headings();
        self.draw_row(&head, window, true, &mut part);
        rules.push(part.bottom);
        let mut drawn = 0;
        while let Some(mut row) = rows.pop() {
            let room = window.bottom - part.bottom;
            if self.height(&row) > room + 1e-9 {
                let fits = ((room - 2.0 * PAD_ROW) / self.size.line_pitch() + 1e-9).floor().max(0.0) as usize;
                let whole_page = next.height() - self.height(&head);
                if (drawn > 0 || may_be_short) && self.height(&row) <= whole_page {
                    rows.push(row);
                    break;
                }
                // Taller than a whole page: split it. One line always goes through, or this would never end.
                let rest = row.cells.iter_mut().map(|cell| cell.split_off(fits.max(1).min(cell.len())));
                let rest = Lines { cells: rest.collect(), is_across: row.is_across };
                if rest.cells.iter().any(|cell| !cell.is_empty()) {
                    rows.push(rest);
                }
                self.draw_row(&row, window, false, &mut part);
                rules.push(part.bottom);
                break;
            }
            let top = part.bottom;
            self.draw_row(&row, window, row.is_across, &mut part);
            if row.is_across {
                ruled.iter_mut().last().into_iter().for_each(|span| span[1] = top);
                ruled.push([part.bottom; 2]);
            }
            rules.push(part.bottom);
            drawn += 1;
        }
        let right = window.left + self.widths.iter().sum::<f64>();
        for (n, y) in rules.iter().enumerate() {
            let pen = if n < 2 { Pen::Rule } else { Pen::Dimension };
            part.marks.push(Mark::line(Point::new(window.left, *y), Point::new(right, *y), pen));
        }
        ruled.iter_mut().last().into_iter().for_each(|span| span[1] = part.bottom);
        let outer = [[window.top, part.bottom]];
        let mut x = window.left;
        for (n, edge) in std::iter::once(0.0).chain(self.widths.iter().copied()).enumerate() {
            x += edge;
            let spans = if n == 0 || n == self.widths.len() { outer.as_slice() } else { &ruled };
            let lines = spans.iter().filter(|[top, bottom]| bottom > top);
            part.marks
                .extend(lines.map(|[top, bottom]| Mark::line(Point::new(x, *top), Point::new(x, *bottom), Pen::Rule)));
        }
        part
    }

    fn draw_row(&self, row: &Lines, window: Rect, is_bold: bool, part: &mut TablePart) {
        let mut left = window.left;
        for ((cell, width), column) in row.cells.iter().zip(&self.widths).zip(&self.table.columns) {
            let is_right = column.is_figures && !row.is_across;
            let (x, anchor) = if is_right { (left + width - PAD, Anchor::End) } else { (left + PAD, Anchor::Start) };
            for (n, line) in cell.iter().enumerate() {
                let y = part.bottom + PAD_ROW + self.size.above() + n as f64 * self.size.line_pitch();
                let text = Text::new(line, Point::new(x, y), self.size).anchored(anchor);
                part.marks.push(if is_bold { text.bold() } else { text }.into());
            }
            left += width;
        }
        part.bottom += self.height(row);
    }

    fn height(&self, row: &Lines) -> f64 {
        let lines = row.cells.iter().map(Vec::len).max().unwrap_or(0).max(1);
        lines as f64 * self.size.line_pitch() + 2.0 * PAD_ROW
    }

    fn headings(&self) -> Lines {
        let columns = self.table.columns.iter().zip(&self.widths);
        let cells = columns.map(|(column, width)| wrap(&column.heading, self.size, true, width - 2.0 * PAD)).collect();
        Lines { cells, is_across: false }
    }

    fn break_row(&self, row: &Row) -> Lines {
        match row {
            Row::Cells(cells) => {
                let cells = cells.iter().zip(&self.widths);
                let cells = cells.map(|(cell, width)| wrap(cell, self.size, false, width - 2.0 * PAD)).collect();
                Lines { cells, is_across: false }
            }
            Row::Heading(words) => {
                let room = self.widths.iter().sum::<f64>() - 2.0 * PAD;
                Lines { cells: vec![wrap(words, self.size, true, room)], is_across: true }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheets::{
        Clashes,
        table::{figures, words},
        texts,
    };

    fn window(height: f64) -> Rect {
        Rect { left: 15.0, top: 15.0, right: 195.0, bottom: 15.0 + height }
    }

    #[test]
    fn a_long_table_continues_and_loses_no_row() {
        let mut table = Table::new([words("Mark"), words("What"), figures("Length")]);
        for n in 0..120 {
            table.row([format!("R{n}"), "rail, top and bottom, ".repeat(1 + n % 9), format!("{n} mm")]);
        }
        let parts = table.lay_out(TextSize::Small, window(60.0), window(200.0));
        let mut marks = Vec::new();
        for (n, part) in parts.iter().enumerate() {
            let room = window(if n == 0 { 60.0 } else { 200.0 });
            assert!(part.bottom <= room.bottom + 1e-9, "part {n}");
            let clashes = Clashes::of(&part.marks, room);
            assert!(clashes.is_empty(), "part {n}: {clashes:?}");
            marks.extend(texts(&part.marks).into_iter().map(|text| text.content().to_string()));
        }
        for n in 0..120 {
            assert!(marks.contains(&format!("R{n}")) && marks.contains(&format!("{n} mm")), "row {n}");
        }
    }

    #[test]
    fn words_across_a_table_are_crossed_by_no_rule() {
        let mut table = Table::new([words("Mark"), words("What")]);
        table.row(["R1", "a rail with a long name"]);
        table.heading("words that reach from the left edge over the rule between the columns");
        table.row(["S1", "a stile"]);
        let part = table.lay_out(TextSize::Small, window(200.0), window(200.0)).swap_remove(0);
        let across = texts(&part.marks).into_iter().find(|text| text.content().starts_with("words")).map(Text::bounds);
        let across = across.expect("the words are drawn");
        let crosses = |mark: &&Mark| {
            matches!(mark, Mark::Line { from, to, .. } if from.x > across.left && from.x < across.right
                && from.x == to.x && from.y < across.bottom && to.y > across.top)
        };
        assert_eq!(part.marks.iter().filter(crosses).count(), 0);
        assert!(Clashes::of(&part.marks, window(200.0)).is_empty());
    }

    #[test]
    fn a_row_taller_than_a_page_is_split() {
        let mut table = Table::new([words("Mark"), words("Note")]);
        table.row(["N1".to_string(), "word ".repeat(3000)]);
        let parts = table.lay_out(TextSize::Small, window(200.0), window(200.0));
        assert!(parts.len() > 1);
        let words: usize = parts
            .iter()
            .flat_map(|part| {
                texts(&part.marks).into_iter().map(|t| t.content().matches("word").count()).collect::<Vec<_>>()
            })
            .sum();
        assert_eq!(words, 3000);
        assert!(parts.iter().all(|part| Clashes::of(&part.marks, window(200.0)).is_empty()));
    }
}
