//! The same computation in other open libraries, values stored with library and version.
mod cutting;
mod frames;
mod square;
mod sun_data;
mod sun_goals;
mod sun_position;
mod sun_rules;
mod sun_site;
mod sun_tilts;
