//! Words and tables go through one tree: no file but its writers sets a cell.

use crate::sources::sources;

/// What only a writer does, the one file that may, and why anybody else would.
const WRITERS: [(&str, &str); 4] = [
    ("csv::Writer", "sheets/csv.rs"),
    ("maud::", "sheets/html.rs"),
    ("<td", "sheets/html.rs"),
    ("svg::Document", "sheets/svg.rs"),
];
/// The text writer, and those that set no cells of a table: a source line beside its number, an equation beside its own; the
/// comments of a design file and the list of its fields, in a room before the tree.
const PADS: [&str; 5] =
    ["sheets/plain.rs", "cli/report.rs", "cli/explain.rs", "design/fields/annotated.rs", "design/fields/reference.rs"];

/// Does a format of the line fill a text up to a width: `{:>6}`, `{name:<20}`, `{:^wide$}`?
fn pads(line: &str) -> bool {
    line.split('{').skip(1).any(|rest| {
        let inside = rest.split('}').next().unwrap_or_default();
        let Some((name, how)) = inside.split_once(':') else { return false };
        name.chars().all(|c| c.is_alphanumeric() || c == '_') && how.starts_with(['<', '>', '^'])
    })
}

#[test]
fn a_format_that_pads_is_told_from_one_that_does_not() {
    for (line, is) in [
        ("format!(\"{:>6}\", a)", true),
        ("format!(\"{name:<20} {b}\")", true),
        ("format!(\"{text:>width$}\")", true),
        ("format!(\"{u:.2} at {t:02}\")", false),
        ("use a::{B, c::<D>};", false),
        ("let x: Vec<u8> = iter.collect::<Vec<_>>();", false),
    ] {
        assert_eq!(pads(line), is, "{line}");
    }
}

#[test]
fn no_file_but_the_writers_formats_the_cells_of_a_table() {
    let mut wrong = Vec::new();
    let mut seen = [0; WRITERS.len()];
    for (file, text) in sources() {
        for (n, (what, writer)) in WRITERS.iter().enumerate() {
            let found = text.contains(what);
            seen[n] += usize::from(found);
            if found && file != *writer {
                wrong.push(format!("{file} has {what}, which is for {writer}"));
            }
        }
        let padded = text.lines().find(|line| pads(line)).filter(|_| !PADS.contains(&file.as_str()));
        wrong.extend(padded.map(|line| format!("{file} fills a cell up: {}", line.trim())));
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    // Each of them is somewhere, or the test looks for the wrong words.
    assert!(seen[0] == 1 && seen[3] == 1, "{seen:?}");
}

/// Whoever adds another writer finds nothing of the page or of the drawing in the tree.
#[test]
fn the_tree_knows_no_file_format() {
    let sources = sources();
    for name in ["sheets/document.rs", "sheets/table.rs"] {
        let code = sources[name].to_lowercase();
        for word in ["html", "svg", "csv", "pdf", "css", "px", "href", "colspan"] {
            assert!(!code.contains(word), "{name} says {word}");
        }
    }
}
