//! Parts and stock from CSV tables with a heading row.

use super::file::{CutFile, CutList, FieldPlaces, Given, Money, WrittenPart, WrittenRule, WrittenStock, WrittenUnit};
use crate::{
    design::{Fault, Place, not_too_large},
    quantities::{NoPrice, Price},
};

/// What a table cannot say about the saw.
#[derive(Debug, Clone)]
pub struct TableSettings {
    /// What plain numbers are counted in.
    pub unit: WrittenUnit,
    /// What prices are counted in.
    pub money: Money,
    /// What the saw removes; a list without it is refused.
    pub kerf: Option<Given>,
}

const PART_COLUMNS: [&str; 5] = ["mark", "length", "qty", "mitred_ends", "group"];
const STOCK_COLUMNS: [&str; 4] = ["length", "price", "available", "group"];

impl CutList {
    /// Reads a table of parts (`mark, length, qty, group`; only length and qty are needed) and one of stock (`length, price, available, group`).
    /// Each is given as its file name and text.
    ///
    /// # Errors
    /// Every row that cannot be read, with its line.
    pub fn read_tables(
        parts: (&str, &str),
        stock: Option<(&str, &str)>,
        settings: &TableSettings,
    ) -> Result<Self, Vec<Fault>> {
        let mut places = FieldPlaces::default();
        let mut faults = Vec::new();
        let mut table = |list, file: (&str, &str), known: &[&str]| {
            Table::read(list, file, known, &mut places).unwrap_or_else(|fault| {
                faults.extend(fault);
                Table::default()
            })
        };
        let part_rows = table("parts", parts, &PART_COLUMNS);
        let stock_rows = stock.map(|file| table("stock", file, &STOCK_COLUMNS)).unwrap_or_default();
        let parts =
            part_rows.rows.iter().filter_map(|row| row.part().map_err(|fault| faults.push(fault)).ok()).collect();
        let stock =
            stock_rows.rows.iter().filter_map(|row| row.stock().map_err(|fault| faults.push(fault)).ok()).collect();
        if !faults.is_empty() {
            let placed = |fault: Fault| {
                let place = fault.place.clone().or_else(|| places.of(&fault.field));
                fault.at(place)
            };
            return Err(faults.into_iter().map(placed).collect());
        }
        let written = CutFile {
            name: String::new(),
            description: String::new(),
            unit: settings.unit,
            money: settings.money,
            kerf: settings.kerf.clone(),
            kerf_rule: WrittenRule::Between,
            end_trim: Given::default(),
            minimum_offcut: Given::default(),
            board_width: None,
            mitre_angle_deg: None,
            mitre_joint_saving: None,
            nest_mitres: true,
            stock,
            parts,
        };
        Self::from_written(written, places)
    }
}

#[derive(Default)]
struct Table {
    rows: Vec<Row>,
}

struct Row {
    path: String,
    cells: Vec<(String, String)>,
}

impl Table {
    fn read(
        list: &str,
        (file, text): (&str, &str),
        known: &[&str],
        places: &mut FieldPlaces,
    ) -> Result<Self, Vec<Fault>> {
        not_too_large(file, text.len()).map_err(|fault| vec![fault])?;
        let lines: Vec<&str> = text.lines().collect();
        let place = |line: usize| {
            let source = lines.get(line.saturating_sub(1)).unwrap_or(&"");
            Place::new(file, line, 1, source.chars().count().max(1), source)
        };
        let mut reader =
            csv::ReaderBuilder::new().trim(csv::Trim::All).comment(Some(b'#')).from_reader(text.as_bytes());
        let broken = |error: csv::Error| {
            let line = error.position().map_or(1, |p| p.line() as usize);
            vec![Fault::new("bad-table", "", format!("{file} is no table: {error}")).at(Some(place(line)))]
        };
        let heading = reader.headers().map_err(broken)?.clone();
        if heading.iter().all(str::is_empty) {
            let fault = Fault::new("empty-file", "", format!("{file} is empty"));
            return Err(vec![fault.hint(format!("its first line names the columns: {}", known.join(", ")))]);
        }
        let strange = heading.iter().find(|name| !known.contains(name));
        if let Some(name) = strange {
            let fault = Fault::new("unknown-field", "", format!("`{name}` is no column that is known here"));
            return Err(vec![fault.at(Some(place(1))).hint(format!("known here: {}", known.join(", ")))]);
        }
        let mut rows = Vec::new();
        for record in reader.records() {
            let record = record.map_err(broken)?;
            let path = format!("{list}.{}", rows.len());
            places.note(path.clone(), place(record.position().map_or(1, |p| p.line() as usize)));
            let cells = heading.iter().zip(&record).map(|(name, cell)| (name.to_string(), cell.to_string())).collect();
            rows.push(Row { path, cells });
        }
        Ok(Self { rows })
    }
}

impl Row {
    fn cell(&self, name: &str) -> Option<&str> {
        self.cells
            .iter()
            .find(|(column, _)| column == name)
            .map(|(_, cell)| cell.as_str())
            .filter(|cell| !cell.is_empty())
    }

    fn field(&self, name: &str) -> String {
        format!("{}.{name}", self.path)
    }

    fn needed(&self, name: &str) -> Result<&str, Fault> {
        let missing =
            || Fault::new("missing-field", self.field(name), format!("`{name}` is missing in `{}`", self.path));
        self.cell(name).ok_or_else(missing)
    }

    fn length(&self) -> Result<Given, Fault> {
        let cell = self.needed("length")?;
        Ok(cell.parse().map_or_else(|_| Given::Text(cell.to_string()), Given::Number))
    }

    fn whole(&self, name: &str, cell: &str) -> Result<i64, Fault> {
        cell.parse().map_err(|_| {
            Fault::new("bad-value", self.field(name), format!("{name} is `{cell}`, and must be a whole number"))
        })
    }

    fn part(&self) -> Result<WrittenPart, Fault> {
        Ok(WrittenPart {
            mark: self.cell("mark").map(str::to_string),
            length: self.length()?,
            qty: self.whole("qty", self.needed("qty")?)?,
            mitred_ends: self.cell("mitred_ends").map_or(Ok(0), |cell| self.whole("mitred_ends", cell))?,
            group: self.cell("group").unwrap_or("").to_string(),
        })
    }

    fn stock(&self) -> Result<WrittenStock, Fault> {
        let price = self.cell("price").map(str::parse::<Price>).transpose();
        let price = price.map_err(|none: NoPrice| Fault::new("bad-value", self.field("price"), none.to_string()))?;
        Ok(WrittenStock {
            length: self.length()?,
            price,
            available: self.cell("available").map(|cell| self.whole("available", cell)).transpose()?,
            group: self.cell("group").unwrap_or("").to_string(),
        })
    }
}
