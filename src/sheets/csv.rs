//! Writes a table as comma-separated values: the only place that writes any.

use super::table::{Row, Table};

/// The table, its headings first; words across all columns stand in the first one.
#[must_use]
pub(crate) fn csv(table: &Table) -> String {
    let mut writer = csv::WriterBuilder::new().flexible(true).from_writer(Vec::new());
    let mut write = |cells: &[String]| {
        writer.write_record(cells.iter().map(|cell| harmless(cell))).expect("writing to memory cannot fail");
    };
    write(&table.columns.iter().map(|column| column.heading.clone()).collect::<Vec<_>>());
    for row in &table.rows {
        match row {
            Row::Cells(cells) => write(cells),
            Row::Heading(words) => write(std::slice::from_ref(words)),
        }
    }
    String::from_utf8(writer.into_inner().expect("writing to memory cannot fail")).expect("the cells are UTF-8")
}

/// A cell that a spreadsheet would take for a formula gets a quote before it.
fn harmless(cell: &str) -> String {
    if cell.starts_with(['=', '+', '-', '@']) && cell.parse::<f64>().is_err() {
        format!("'{cell}")
    } else {
        cell.to_string()
    }
}
