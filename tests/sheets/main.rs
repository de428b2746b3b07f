//! One thing per drawing, measured back from what was written.

mod base;
mod cut_plan;
mod measure;
mod setting_out;
mod shop_drawings;
mod sun;
