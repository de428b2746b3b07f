//! Ruled tables that wrap their cells and continue on the next page, and never run over.

use super::{
    geometry::{Point, Rect},
    mark::Mark,
    pen::Pen,
    text::{Anchor, Text, TextSize, width, wrap},
};

/// Room between a rule and the text beside it (mm).
const PAD: f64 = 1.4;
/// Room above the first and below the last line of a row (mm).
const PAD_ROW: f64 = 0.3;
/// No column is squeezed below this (mm).
const NARROWEST: f64 = 9.0;

/// A table: headings, and rows of text.
#[derive(Debug, Clone)]
pub struct Table {
    columns: Vec<(String, Anchor)>,
    rows: Vec<Vec<String>>,
    size: TextSize,
}

/// The part of a table on one page.
#[derive(Debug, Clone, PartialEq)]
pub struct TablePart {
    /// Rules and texts.
    pub marks: Vec<Mark>,
    /// Lowest rule (mm, paper).
    pub bottom: f64,
}

/// A row broken into lines, one list of lines for each column.
type Lines = Vec<Vec<String>>;

impl Table {
    /// A table with these headings; a heading that starts with `>` sets its column flush right (numbers).
    #[must_use]
    pub fn new(headings: &[&str]) -> Self {
        let column = |heading: &&str| match heading.strip_prefix('>') {
            Some(heading) => (heading.to_string(), Anchor::End),
            None => ((*heading).to_string(), Anchor::Start),
        };
        Self { columns: headings.iter().map(column).collect(), rows: Vec::new(), size: TextSize::Small }
    }

    /// The same table in another text size.
    #[must_use]
    pub fn sized(mut self, size: TextSize) -> Self {
        self.size = size;
        self
    }

    /// Adds a row. Missing cells stay empty; cells beyond the last column are written into it.
    pub fn row(&mut self, cells: impl IntoIterator<Item = impl ToString>) {
        let mut cells: Vec<String> = cells.into_iter().map(|cell| cell.to_string()).collect();
        let count = self.columns.len().max(1);
        if cells.len() > count {
            let rest = cells.split_off(count - 1).join(" ");
            cells.push(rest);
        }
        cells.resize(count, String::new());
        self.rows.push(cells);
    }

    /// Lays the table out from the top of `first`, going on in windows like `next`.
    #[must_use]
    pub fn lay_out(&self, first: Rect, next: Rect) -> Vec<TablePart> {
        let mut parts = Vec::new();
        let widths = self.widths(first.width().min(next.width()));
        let mut rows: Vec<Lines> = self.rows.iter().map(|row| self.break_row(row, &widths, false)).collect();
        rows.reverse();
        let mut window = first;
        loop {
            parts.push(self.lay_part(&mut rows, &widths, window, parts.is_empty() && first != next, next));
            if rows.is_empty() {
                return parts;
            }
            window = next;
        }
    }

    /// Fills one window with rows taken from the end of the list.
    fn lay_part(
        &self,
        rows: &mut Vec<Lines>,
        widths: &[f64],
        window: Rect,
        may_be_short: bool,
        next: Rect,
    ) -> TablePart {
        let headings: Vec<String> = self.columns.iter().map(|column| column.0.clone()).collect();
        let mut part = TablePart { marks: Vec::new(), bottom: window.top };
        let mut rules = vec![window.top];
        let head = self.break_row(&headings, widths, true);
        self.draw_row(&head, widths, window, true, &mut part);
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
                let rest: Lines = row.iter_mut().map(|cell| cell.split_off(fits.max(1).min(cell.len()))).collect();
                if rest.iter().any(|cell| !cell.is_empty()) {
                    rows.push(rest);
                }
                self.draw_row(&row, widths, window, false, &mut part);
                rules.push(part.bottom);
                break;
            }
            self.draw_row(&row, widths, window, false, &mut part);
            rules.push(part.bottom);
            drawn += 1;
        }
        let right = window.left + widths.iter().sum::<f64>();
        for (n, y) in rules.iter().enumerate() {
            let pen = if n < 2 { Pen::Rule } else { Pen::Dimension };
            part.marks.push(Mark::line(Point::new(window.left, *y), Point::new(right, *y), pen));
        }
        let mut x = window.left;
        for edge in std::iter::once(0.0).chain(widths.iter().copied()) {
            x += edge;
            part.marks.push(Mark::line(Point::new(x, window.top), Point::new(x, part.bottom), Pen::Rule));
        }
        part
    }

    fn draw_row(&self, row: &Lines, widths: &[f64], window: Rect, bold: bool, part: &mut TablePart) {
        let mut left = window.left;
        for ((cell, width), (_, anchor)) in row.iter().zip(widths).zip(&self.columns) {
            let x = if *anchor == Anchor::End { left + width - PAD } else { left + PAD };
            for (n, line) in cell.iter().enumerate() {
                let y = part.bottom + PAD_ROW + self.size.above() + n as f64 * self.size.line_pitch();
                let text = Text::new(line, Point::new(x, y), self.size).anchored(*anchor);
                part.marks.push(if bold { text.bold() } else { text }.into());
            }
            left += width;
        }
        part.bottom += self.height(row);
    }

    fn height(&self, row: &Lines) -> f64 {
        let lines = row.iter().map(Vec::len).max().unwrap_or(0).max(1);
        lines as f64 * self.size.line_pitch() + 2.0 * PAD_ROW
    }

    fn break_row(&self, row: &[String], widths: &[f64], bold: bool) -> Lines {
        row.iter().zip(widths).map(|(cell, width)| wrap(cell, self.size, bold, width - 2.0 * PAD)).collect()
    }

    /// Column widths (mm) that add up to at most `room`: what each needs when there is room, else narrow columns keep what they need
    /// and the wide ones share the rest.
    fn widths(&self, room: f64) -> Vec<f64> {
        let natural = |n: usize| {
            let cells = self.rows.iter().flat_map(|row| row[n].lines()).map(|line| width(line, self.size, false));
            let heading = width(&self.columns[n].0, self.size, true);
            cells.fold(heading, f64::max).max(NARROWEST - 2.0 * PAD) + 2.0 * PAD + 0.01
        };
        let mut widths: Vec<f64> = (0..self.columns.len()).map(natural).collect();
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheets::{Clashes, texts};

    fn window(height: f64) -> Rect {
        Rect { left: 15.0, top: 15.0, right: 195.0, bottom: 15.0 + height }
    }

    #[test]
    fn a_long_table_continues_and_loses_no_row() {
        let mut table = Table::new(&["Mark", "What", ">Length"]);
        for n in 0..120 {
            table.row([format!("R{n}"), "rail, top and bottom, ".repeat(1 + n % 9), format!("{n} mm")]);
        }
        let parts = table.lay_out(window(60.0), window(200.0));
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
    fn a_row_taller_than_a_page_is_split() {
        let mut table = Table::new(&["Mark", "Note"]);
        table.row(["N1".to_string(), "word ".repeat(3000)]);
        let parts = table.lay_out(window(200.0), window(200.0));
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
