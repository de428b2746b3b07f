//! Comes in: results of all rooms before. Goes out: drawings, templates, the packet.
//! This room never computes a result of its own.
//!
//! What a page, a text or a table says is built once as a [`Document`] and written by `html`, `plain`, `csv` or, on sheets of
//! paper, `flow`. Every drawing is built once as a tree of [`Mark`]s in paper millimetres (x right, y **down**) and only then written:
//! [`Sheet::to_svg`] walks the tree. [`View`] takes the work to the paper, [`Sheet::clashes`] looks for texts that overlap.

mod assembly_json;
mod calculation;
mod chart;
mod csv;
mod cut_plan;
mod cutting;
mod dimension;
mod document;
mod flow;
mod geometry;
mod hatch;
mod html;
mod mark;
mod overlap;
mod packet;
mod page;
mod pen;
mod plain;
mod ruled;
mod sheet;
mod shop_drawings;
mod siting;
pub mod sun_charts;
pub mod sun_path;
mod svg;
mod table;
pub(crate) mod tables;
mod text;
mod tile;
pub mod tilt_card;
mod title_block;
mod view;
mod warning;

pub use calculation::Calculation;
pub use chart::{Axis, Chart, Curve};
pub(crate) use csv::csv;
pub use cut_plan::cut_plan_sheets;
pub(crate) use cutting::cut_plan_document;
pub use dimension::{
    FIRST_TIER, Feature, Labels, Side, Stack, TIER, aligned, aligned_beyond, angular, arrow, leader, readable_deg,
    running, spread,
};
pub use document::{Block, Document, Figure, Section};
pub use geometry::{Bounds, Point, Rect, World};
pub use html::page;
pub use mark::{Fill, Group, HATCH_PITCH, Mark, bounds, texts};
pub use overlap::{Clashes, line_crosses, rooms_overlap};
pub use packet::{PACKET_MARK, Packet, PacketFile, PacketOptions, packet};
pub use page::{Page, Paper, TitleBlock};
pub use pen::Pen;
pub(crate) use plain::text;
pub use ruled::TablePart;
pub use sheet::{Projection, Sheet, SheetScale, number_sheets, slug_of};
pub use shop_drawings::{Drafter, Ray};
pub use siting::{SITE_CAUTIONS, SITING, SitingItem, siting_sheet};
pub use table::{Column, Row, Table, figures, words};
pub use text::{Anchor, Text, TextSize, fit, safe, width, wrap};
pub use tile::{TILE_OVERLAP, Tile, Tiling};
pub use title_block::{CAUTION, CAUTION_SHORT};
pub use view::{Scale, View};
pub use warning::Warning;
