//! The one kind of table: what a page, a drawing, a text and a file of comma-separated values all hold.

/// A column: its heading, and which way its cells are read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Column {
    /// Heading.
    pub heading: String,
    /// Numbers, set flush right so that their places stand below each other.
    pub is_figures: bool,
}

/// A column of words.
pub fn words(heading: impl Into<String>) -> Column {
    Column { heading: heading.into(), is_figures: false }
}

/// A column of figures.
pub fn figures(heading: impl Into<String>) -> Column {
    Column { heading: heading.into(), is_figures: true }
}

/// A row of a table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Row {
    /// A cell for each column.
    Cells(Vec<String>),
    /// Words across all columns, over the rows below them.
    Heading(String),
}

/// Columns, and rows of text below them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    /// Columns, from the left.
    pub columns: Vec<Column>,
    /// Rows, from the top.
    pub rows: Vec<Row>,
}

impl Table {
    /// A table without rows yet.
    #[must_use]
    pub fn new(columns: impl IntoIterator<Item = Column>) -> Self {
        Self { columns: columns.into_iter().collect(), rows: Vec::new() }
    }

    /// Adds a row.
    ///
    /// # Panics
    /// When the row has not as many cells as there are columns: whoever makes a table fills all of it.
    pub fn row(&mut self, cells: impl IntoIterator<Item = impl ToString>) {
        let cells: Vec<String> = cells.into_iter().map(|cell| cell.to_string()).collect();
        assert_eq!(cells.len(), self.columns.len(), "a row has a cell for each column: {cells:?}");
        self.rows.push(Row::Cells(cells));
    }

    /// Adds words across all columns.
    pub fn heading(&mut self, words: impl Into<String>) {
        self.rows.push(Row::Heading(words.into()));
    }

    /// The table with rows added.
    ///
    /// # Panics
    /// As [`row`](Self::row).
    #[must_use]
    pub fn with(mut self, rows: impl IntoIterator<Item = impl IntoIterator<Item = impl ToString>>) -> Self {
        for row in rows {
            self.row(row);
        }
        self
    }

    /// The table with one more column at its left, the same in every row: it stays a table, and each row says it.
    #[must_use]
    pub(super) fn led_by(mut self, column: Column, cell: &str) -> Self {
        self.columns.insert(0, column);
        for row in &mut self.rows {
            if let Row::Cells(cells) = row {
                cells.insert(0, cell.to_string());
            }
        }
        self
    }
}
