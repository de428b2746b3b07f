//! One result as JSON shows it, the same in every command.

use crate::checks::verify::Row;
use serde::Serialize;

#[derive(Debug, Serialize)]
pub(super) struct RowAnswer {
    part: String,
    check: &'static str,
    tilt_deg: Option<f64>,
    case: String,
    utilisation: Option<f64>,
    state: &'static str,
    why: String,
}

impl RowAnswer {
    pub(super) fn of<C>(row: &Row<C>) -> Self {
        Self {
            part: row.part.clone(),
            check: row.kind.name(),
            tilt_deg: row.tilt_deg,
            case: row.case.clone(),
            utilisation: row.utilisation,
            state: row.state.word(),
            why: row.state.why().to_string(),
        }
    }
}
