//! Writes a document as plain text: what a terminal shows, what an editor opens, and the card by the frame.

use super::{
    document::{Block, Document},
    table::{Row, Table},
};

/// Between two columns of a table, and before the first of a text (characters).
const GAP: &str = "  ";

/// The document as a text: a heading stands on what it heads, all else is a line apart.
#[must_use]
pub(crate) fn text(document: &Document<'_>) -> String {
    let mut parts: Vec<String> = document.warning.iter().map(|warning| warning.sentence()).collect();
    let mut head = document.title.clone();
    for section in &document.sections {
        if !section.heading.is_empty() {
            parts.extend(Some(std::mem::take(&mut head)).filter(|title| !title.is_empty()));
            head.clone_from(&section.heading);
        }
        for block in &section.blocks {
            let words = lines(block).join("\n");
            parts.push(if head.is_empty() { words } else { format!("{}\n{words}", std::mem::take(&mut head)) });
        }
    }
    parts.extend(Some(head).filter(|title| !title.is_empty()));
    parts.join("\n\n") + "\n"
}

fn lines(block: &Block<'_>) -> Vec<String> {
    match block {
        Block::Paragraph(words) | Block::Warning(words) => vec![words.clone()],
        Block::Steps(steps) => steps.iter().enumerate().map(|(n, step)| format!("{:>3}. {step}", n + 1)).collect(),
        Block::Table(table) => aligned(table).iter().map(|line| format!("{GAP}{line}")).collect(),
        Block::Link { words, path } => vec![format!("{words}: {path}")],
        Block::Figure(figure) => vec![figure.caption.clone()],
        Block::Drawing(sheet, path) => vec![format!("{}: {path}", sheet.title)],
    }
}

/// The document as a card of lines as wide as `width` characters, ruled all round and between its parts.
#[must_use]
pub(crate) fn card(document: &Document<'_>, width: usize) -> String {
    let within = width - 4;
    let rule = format!("+{}+\n", "-".repeat(width - 2));
    let boxed = |line: &str| format!("| {} |\n", padded(line, within, false));
    let said = |words: &str| broken(words, within).iter().map(|line| boxed(line)).collect::<String>();
    let mut card = rule.clone() + &said(&document.title);
    if let Some(warning) = document.warning {
        card += &(rule.clone() + &said(&warning.sentence()) + &rule);
    }
    for (n, section) in document.sections.iter().enumerate() {
        if n > 0 {
            card += &rule;
        }
        if !section.heading.is_empty() {
            card += &said(&section.heading);
        }
        for block in &section.blocks {
            card += &match block {
                Block::Table(table) => aligned(table).iter().map(|line| boxed(line)).collect(),
                _ => lines(block).iter().map(|line| said(line)).collect::<String>(),
            };
        }
    }
    card + &rule
}

/// The lines of a table, its columns below each other; figures flush right.
fn aligned(table: &Table) -> Vec<String> {
    let headings: Vec<String> = table.columns.iter().map(|column| column.heading.clone()).collect();
    let cells = || table.rows.iter().filter_map(|row| if let Row::Cells(cells) = row { Some(cells) } else { None });
    let wide = |n: usize| cells().chain([&headings]).map(|row| row[n].chars().count()).max().unwrap_or(0);
    let widths: Vec<usize> = (0..headings.len()).map(wide).collect();
    let line = |row: &[String]| {
        let cells = row.iter().zip(&table.columns).zip(&widths);
        let cells: Vec<String> = cells.map(|((cell, column), width)| padded(cell, *width, column.is_figures)).collect();
        cells.join(GAP).trim_end().to_string()
    };
    let rows = table.rows.iter().map(|row| match row {
        Row::Cells(cells) => line(cells),
        Row::Heading(words) => words.clone(),
    });
    std::iter::once(line(&headings)).chain(rows).collect()
}

fn padded(text: &str, width: usize, is_flush_right: bool) -> String {
    if is_flush_right { format!("{text:>width$}") } else { format!("{text:<width$}") }
}

/// Words in lines of at most `width` characters; a longer word is cut.
fn broken(text: &str, width: usize) -> Vec<String> {
    let mut lines: Vec<String> = vec![String::new()];
    for word in text.split_whitespace() {
        let mut word: Vec<char> = word.chars().filter(|c| !c.is_control()).collect();
        loop {
            let used = lines.last().map_or(0, |line| line.chars().count());
            let gap = usize::from(used > 0);
            if used + gap + word.len() <= width {
                if let Some(line) = lines.last_mut() {
                    line.extend(std::iter::repeat_n(' ', gap));
                    line.extend(&word);
                }
                break;
            }
            if used == 0 {
                let rest = word.split_off(width);
                lines.pop();
                lines.push(word.iter().collect());
                word = rest;
            }
            lines.push(String::new());
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheets::{
        document::Section,
        table::{figures, words},
    };

    fn sample() -> Document<'static> {
        let mut table = Table::new([words("Mark"), figures("Length"), words("Note")]);
        table.row(["R1", "5 ft", ""]);
        table.heading("Stays");
        table.row(["Y1", "12 ft", "in pairs"]);
        let first = Section::new("").paragraph("Measure twice.").table(table);
        Document::new("Pieces", None).with(first).with(Section::new("Order").steps(["Cut.", "Drill."]))
    }

    #[test]
    fn columns_of_a_text_stand_below_each_other() {
        let wanted = "Pieces\nMeasure twice.\n\n  Mark  Length  Note\n  R1      5 ft\n  Stays\n  Y1     12 ft  in pairs\n\nOrder\n  1. Cut.\n  2. Drill.\n";
        assert_eq!(text(&sample()), wanted);
    }

    #[test]
    fn every_line_of_a_card_is_as_wide_as_the_card() {
        let card = card(&sample(), 30);
        assert!(card.lines().all(|line| line.chars().count() == 30), "{card}");
        assert_eq!(card.matches("+----").count(), 3, "{card}");
    }
}
