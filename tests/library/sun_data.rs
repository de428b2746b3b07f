//! Reads the comma-separated tables beside this file.

use std::collections::BTreeMap;

/// One line of a table, by column name.
pub(crate) struct Row(BTreeMap<String, String>);

impl Row {
    pub(crate) fn text(&self, column: &str) -> &str {
        self.0.get(column).unwrap_or_else(|| panic!("no column {column}"))
    }

    pub(crate) fn number(&self, column: &str) -> f64 {
        self.text(column).parse().unwrap_or_else(|_| panic!("{column}: {} is no number", self.text(column)))
    }
}

pub(crate) fn rows(text: &str) -> Vec<Row> {
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let names: Vec<String> = reader.headers().expect("headers").iter().map(str::to_string).collect();
    reader
        .records()
        .map(|record| {
            let record = record.expect("a line");
            Row(names.iter().cloned().zip(record.iter().map(str::to_string)).collect())
        })
        .collect()
}
