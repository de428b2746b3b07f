//! JSON with numbers a reader can bear: what binary fractions leave behind the fourteenth digit is dropped, once, here.

use serde::Serialize;
use serde_json::ser::{Formatter, PrettyFormatter, Serializer};
use std::io::{self, Write};

/// A value as indented JSON with a final line end. A computed number keeps fourteen significant digits: a length of a metre
/// is good to 1e-10 mm, which a tilt worked out from it again does not feel.
///
/// # Panics
/// Never for our results: they hold only finite numbers and text keys.
///
/// # Example
/// ```
/// use tiltwright::quantities::json;
/// assert_eq!(json(&[38.099999999999994, 0.1 + 0.2]), "[\n  38.1,\n  0.3\n]\n");
/// ```
#[must_use]
pub fn json(value: &impl Serialize) -> String {
    let mut bytes = Vec::new();
    let mut serializer = Serializer::with_formatter(&mut bytes, Rounding(PrettyFormatter::new()));
    value.serialize(&mut serializer).expect("results hold only finite numbers and text keys");
    bytes.push(b'\n');
    String::from_utf8(bytes).expect("JSON is UTF-8")
}

/// Fourteen significant digits: a double holds between fifteen and seventeen, and the last of them are noise of arithmetic.
fn rounded(value: f64) -> f64 {
    format!("{value:.13e}").parse().unwrap_or(value)
}

struct Rounding(PrettyFormatter<'static>);

/// All but the numbers is left to the usual way of indenting.
impl Formatter for Rounding {
    fn write_f64<W: ?Sized + Write>(&mut self, writer: &mut W, value: f64) -> io::Result<()> {
        self.0.write_f64(writer, rounded(value))
    }

    fn begin_array<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.0.begin_array(writer)
    }

    fn end_array<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.0.end_array(writer)
    }

    fn begin_array_value<W: ?Sized + Write>(&mut self, writer: &mut W, first: bool) -> io::Result<()> {
        self.0.begin_array_value(writer, first)
    }

    fn end_array_value<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.0.end_array_value(writer)
    }

    fn begin_object<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.0.begin_object(writer)
    }

    fn end_object<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.0.end_object(writer)
    }

    fn begin_object_key<W: ?Sized + Write>(&mut self, writer: &mut W, first: bool) -> io::Result<()> {
        self.0.begin_object_key(writer, first)
    }

    fn begin_object_value<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.0.begin_object_value(writer)
    }

    fn end_object_value<W: ?Sized + Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.0.end_object_value(writer)
    }
}
