//! Values put in the place of others in the text of a design file, with everything round them kept.

use super::{
    Fault, Places,
    choices::{Offer, OpenDesign},
    fields::Field,
};

impl OpenDesign {
    /// The text with some fields given other values; comments, order and spacing stay.
    ///
    /// # Errors
    /// A text that does not read back as the same design: one whose layout of lines this cannot follow.
    pub fn rewritten<'a>(
        &self,
        values: impl IntoIterator<Item = (&'a Field, &'a Offer)>,
    ) -> Result<String, Vec<Fault>> {
        let values: Vec<(&Field, &Offer)> = values.into_iter().collect();
        let mut text = self.text().to_string();
        for (field, offer) in &values {
            if self.written(field) != **offer {
                // Places move with every change: they are found anew.
                let places = Places::scan("", &text);
                text = put(&text, &places, field, offer).ok_or_else(|| vec![not_followed(field)])?;
            }
        }
        let wanted = self.with(values.iter().map(|(field, offer)| (*field, *offer)))?;
        let again = OpenDesign::read_text("the rewritten design", &text);
        if again.is_ok_and(|again| *again.design() == wanted) {
            return Ok(text);
        }
        let field = values.first().map_or("", |(field, _)| field.path);
        Err(vec![
            Fault::new(
                "not-rewritten",
                field,
                "with other values put in, the text does not read back as the same design",
            )
            .hint("write the fields that vary as plain `field: value` lines, without anchors and not left empty")
            .hint("or leave out `--write`, and type the values in by hand"),
        ])
    }
}

fn not_followed(field: &Field) -> Fault {
    Fault::new("not-rewritten", field.path, format!("no place was found in the text for `{}`", field.path))
        .hint(format!("add a line for `{}` to the design, and run again", field.path))
}

/// The text with one value put in.
fn put(text: &str, places: &Places, field: &Field, offer: &Offer) -> Option<String> {
    let (parent, name) = field.path.rsplit_once('.').unwrap_or(("", field.path));
    let block = places.value(parent)?;
    let start = offset(text, block.line, block.column)?;
    let flow = text[start..].starts_with('{');
    let value = scalar(offer);
    if let Some(place) = places.value(field.path) {
        let from = offset(text, place.line, place.column)?;
        let width: usize = text[from..].chars().take(place.width).map(char::len_utf8).sum();
        return Some(format!("{}{value}{}", &text[..from], &text[from + width..]));
    }
    if flow {
        let inside = &text[start + 1..];
        let quoted = inside.trim_start().starts_with('"');
        let key = if quoted { format!("\"{name}\"") } else { name.to_string() };
        let comma = if inside.trim_start().starts_with('}') { "" } else { ", " };
        return Some(format!("{}{{{key}: {value}{comma}{inside}", &text[..start]));
    }
    // Before the first line of the block, as far in as that line.
    let line = text[..start].rfind('\n').map_or(0, |at| at + 1);
    let indent = &text[line..start];
    indent.trim().is_empty().then(|| format!("{}{indent}{name}: {value}\n{}", &text[..line], &text[line..]))
}

/// The byte where a place begins.
fn offset(text: &str, line: usize, column: usize) -> Option<usize> {
    let start: usize = text.split_inclusive('\n').take(line - 1).map(str::len).sum();
    let rest = text.get(start..)?;
    let within: usize = rest.chars().take(column - 1).map(char::len_utf8).sum();
    Some(start + within)
}

/// A value as it is written; in quotes where the format asks for them.
fn scalar(offer: &Offer) -> String {
    match offer.text() {
        None => "null".to_string(),
        Some(text) => {
            let plain = text.chars().all(|c| c.is_alphanumeric() || matches!(c, ' ' | '/' | '.' | '-' | '_'));
            let starts = text.starts_with(|c: char| c.is_alphanumeric() || c == '.');
            let is_word = plain && starts && !matches!(text.as_str(), "null" | "true" | "false" | "yes" | "no");
            if is_word { text } else { format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\"")) }
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::design::{BUILTIN_TEXT, OpenDesign};

    fn rewritten(text: &str, changes: &[(&str, &str)]) -> String {
        let open = OpenDesign::read_text("test.yaml", text).expect("it reads");
        let offers: Vec<_> = changes
            .iter()
            .map(|(field, text)| open.offer(field, &[text]).unwrap_or_else(|f| panic!("{f:?}")))
            .collect();
        open.rewritten(offers.iter().map(|c| (c.field, &c.offers[0]))).unwrap_or_else(|faults| panic!("{faults:?}"))
    }

    #[test]
    fn a_value_takes_the_place_of_another_and_nothing_else_moves() {
        let text = rewritten(
            BUILTIN_TEXT,
            &[("frame.rail", "2x10"), ("joints.corner.screw", "#12"), ("support.bolt", "3/4 in")],
        );
        let expected = BUILTIN_TEXT
            .replace("  rail: 2x8", "  rail: 2x10")
            .replace("corner: {screw: \"lag 1/4 in\"", "corner: {screw: \"#12\"")
            .replace("  bolt: 5/8 in", "  bolt: 3/4 in");
        assert_eq!(text, expected);
    }

    #[test]
    fn a_field_that_was_left_out_gets_a_line_in_its_block() {
        let left_out = BUILTIN_TEXT.replace("pin_along: 28 in, ", "").replace("    pin_below_axle: 30 in\n", "");
        let changes = [("support.stay.pin_along", "24 in"), ("support.posts.pin_below_axle", "25 in")];
        let text = rewritten(&left_out, &changes);
        assert!(text.contains("  stay: {pin_along: 24 in, section: 2x4, pin_behind: 0 in}\n"), "{text}");
        assert!(text.contains("  posts:\n    pin_below_axle: 25 in\n    placement: inside\n"), "{text}");
        assert_eq!(text.lines().count(), left_out.lines().count() + 1);
    }

    #[test]
    fn a_field_given_back_to_the_layout_is_null() {
        let text = rewritten(BUILTIN_TEXT, &[("support.bolt", "null")]);
        assert!(text.contains("  bolt: null\n"), "{text}");
    }
}
