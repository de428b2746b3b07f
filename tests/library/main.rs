//! The same computation in other open libraries, values stored with library and version.
mod sun_tilts;
