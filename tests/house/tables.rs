//! Words and tables go through one tree: no file but its writers sets a cell.

use std::path::{Path, PathBuf};

/// What only a writer does, the one file that may, and why anybody else would.
const WRITERS: [(&str, &str); 4] = [
    ("csv::Writer", "sheets/csv.rs"),
    ("maud::", "sheets/html.rs"),
    ("<td", "sheets/html.rs"),
    ("svg::Document", "sheets/svg.rs"),
];
/// The text writer, and two that set no cells: a source line beside its number, and an equation beside its own.
const PADS: [&str; 3] = ["sheets/plain.rs", "cli/report.rs", "cli/explain.rs"];

fn sources(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).expect("a folder of sources") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            sources(&path, found);
        } else if path.extension().is_some_and(|e| e == "rs") {
            found.push(path);
        }
    }
}

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
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut files = Vec::new();
    sources(&src, &mut files);
    let mut wrong = Vec::new();
    let mut seen = [0; WRITERS.len()];
    for file in &files {
        let within = file.strip_prefix(&src).expect("below src").display().to_string().replace('\\', "/");
        let text = std::fs::read_to_string(file).expect("a source is text");
        // What tests compare with is no output.
        let text = text.split("#[cfg(test)]").next().unwrap_or_default();
        for (n, (what, writer)) in WRITERS.iter().enumerate() {
            let found = text.contains(what);
            seen[n] += usize::from(found);
            if found && within != *writer {
                wrong.push(format!("{within} has {what}, which is for {writer}"));
            }
        }
        let padded = text.lines().find(|line| pads(line)).filter(|_| !PADS.contains(&within.as_str()));
        wrong.extend(padded.map(|line| format!("{within} fills a cell up: {}", line.trim())));
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    // Each of them is somewhere, or the test looks for the wrong words.
    assert!(seen[0] == 1 && seen[3] == 1, "{seen:?}");
}

/// Whoever adds another writer finds nothing of the page or of the drawing in the tree.
#[test]
fn the_tree_knows_no_file_format() {
    for name in ["document.rs", "table.rs"] {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/sheets").join(name);
        let text = std::fs::read_to_string(path).expect("a source");
        let code =
            text.lines().map(|line| line.split("//").next().unwrap_or_default()).collect::<String>().to_lowercase();
        for word in ["html", "svg", "csv", "pdf", "css", "px", "href", "colspan"] {
            assert!(!code.contains(word), "{name} says {word}");
        }
    }
}
