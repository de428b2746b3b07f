//! Lays out, cuts, drills and checks frames for solar panels that are re-tilted by hand a few times a year.
//!
//! The rooms follow the flow of the work, and each looks only back: [`quantities`] → [`catalogue`] → [`design`] →
//! [`sun`] → [`frame`] → [`loads`] → [`analysis`] → [`codes`] → [`checks`] → [`shop`] → [`sizing`] → [`sheets`] →
//! [`cli`].
//!
//! # A packet
//!
//! A design goes in, every file that a builder prints goes out; nothing is written.
//!
//! ```
//! use tiltwright::{PacketOptions, packet, read_text};
//!
//! let design = read_text(
//!     "mill-lane.yaml",
//!     "
//! tiltwright: 1
//! name: Mill Lane frame
//! units: metric
//! site: {place: Mill Lane, latitude: 47 deg}
//! panel: {long_side: 1722 mm, short_side: 1134 mm, thickness: 30 mm, mass: 21.5 kg}
//! array: {rows: 1, columns: 2, orientation: portrait}
//! frame: {rail: 2x6, stile: 2x8, seating: {kind: inset}}
//! support:
//!   kind: posts
//!   stay: {section: 2x4}
//!   posts: {placement: inside, section: 4x8, axle_height: 1100 mm, embedment: 1600 mm}
//! tilts: [15 deg, 37 deg, 60 deg]
//! ",
//! )?;
//! let packet = packet(design, &PacketOptions::default())?;
//! let page = packet.files.iter().find(|file| file.path == "index.html").expect("a packet has a page");
//! assert!(String::from_utf8_lossy(&page.bytes).contains("Cut list"));
//! // Without wind and snow nothing is said of its strength.
//! assert!(!packet.holds);
//! # Ok::<(), Vec<tiltwright::Fault>>(())
//! ```
//!
//! # A verdict
//!
//! What may be said of a design's strength, at every tilt it is drilled for. What is wrong with a design comes back as
//! faults, each with its line and a way out.
//!
//! ```
//! use tiltwright::{BUILTIN_TEXT, Verdict, read_text, verdict};
//!
//! let verdict_of = |text: &str| verdict(read_text("design.yaml", text)?);
//! assert!(verdict_of(BUILTIN_TEXT)?.holds());
//!
//! let windier = BUILTIN_TEXT.replace("gust: 100 mph", "gust: 160 mph");
//! assert!(matches!(verdict_of(&windier)?, Verdict::Fails { .. }));
//!
//! let shallow = BUILTIN_TEXT.replace("pin_along: 28 in", "pin_along: 2 in");
//! let faults = verdict_of(&shallow).expect_err("no row holds these tilts");
//! assert!(faults.iter().all(|fault| fault.place.is_some()));
//! # Ok::<(), Vec<tiltwright::Fault>>(())
//! ```
//!
//! Results are aids to a builder. Local codes and a licensed engineer govern.

// First, for the macro that its equations record themselves with is used by rooms after it.
#[macro_use]
pub mod codes;

pub mod analysis;
pub mod catalogue;
pub mod checks;
pub mod cli;
pub mod design;
pub mod frame;
pub mod loads;
pub mod quantities;
pub mod sheets;
pub mod shop;
pub mod sizing;
pub mod sun;

pub use checks::{verdict, verify::Verdict};
pub use design::{BUILTIN_TEXT, Design, Fault, Read, read, read_text};
pub use quantities::Units;
pub use sheets::{Packet, PacketFile, PacketOptions, Paper, packet};

// Tests of what is inside stand in `tests` with the others and are built with the library, which shows them its rooms.
#[cfg(test)]
extern crate self as tiltwright;
#[cfg(test)]
#[path = "../tests/handbook/main.rs"]
mod handbook_tests;
#[cfg(test)]
#[path = "../tests/library/main.rs"]
mod library_tests;
#[cfg(test)]
#[path = "../tests/properties/main.rs"]
mod properties_tests;
#[cfg(test)]
#[path = "../tests/sheets/main.rs"]
mod sheet_tests;
