//! Every table that is printed, made once: pages, drawings, texts and comma-separated files hold the same rows.

mod checks;
mod cuts;
mod goods;
mod holes;
mod pieces;
mod seasons;

pub(crate) use checks::{listed, utilisations};
pub(crate) use cuts::{boards, cut_records, cuts};
pub(crate) use goods::{hardware, hardware_records};
pub(crate) use holes::{drill, hole_row, holes, tilts};
pub(crate) use pieces::{parts, piece_records, pieces};
pub(crate) use seasons::{season_card, seasons};
