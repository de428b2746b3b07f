//! Checks ask a code, and name none; what no code answers is absent.

use crate::sources::sources;
use tiltwright::{
    checks::verify::{State, verify},
    design::{self, Tilts},
    frame,
    quantities::Tape,
};

/// Documents by the names of their folders and as they are printed.
const FOLDERS: [&str; 6] = ["nds", "aisc360", "aisc", "adm", "ibc", "aluminium"];
const PRINTED: [&str; 5] = ["NDS", "AISC", "ADM", "EN 1993", "EN 1995"];

/// A text without what stands between quotes.
fn without_strings(text: &str) -> String {
    text.replace("\\\"", "").split('"').step_by(2).collect()
}

#[test]
fn no_check_names_a_code() {
    let mut named = Vec::new();
    let mut seen = 0;
    for (file, text) in sources().iter().filter(|(file, _)| file.starts_with("checks/")) {
        seen += 1;
        let bare = without_strings(text);
        let words = bare.split(|c: char| !c.is_alphanumeric() && c != '_');
        named.extend(words.filter(|word| FOLDERS.contains(word)).map(|word| format!("{file}: {word}")));
        named.extend(PRINTED.iter().filter(|word| text.contains(**word)).map(|word| format!("{file}: {word}")));
    }
    assert!(seen > 15, "the checks were found: {seen}");
    assert!(named.is_empty(), "checks ask the code that the basis names: {named:#?}");
}

#[test]
fn what_is_not_checked_has_no_calculation() {
    let mut open = 0;
    for name in ["aluminium-deck", "steel-frame"] {
        let text = design::READY.iter().find(|(of, _)| *of == name).expect("a ready design").1;
        let design = design::read_text(name, text).unwrap_or_else(|f| panic!("{f:?}")).design;
        let basis = design.strength_basis().unwrap_or_else(|f| panic!("{f:?}")).expect("loads are given");
        let Tilts::Given(tilts) = &design.tilts else { panic!("{name} gives its tilts") };
        let frame = frame::lay_out(&design, tilts, Tape::of(design.units)).unwrap_or_else(|r| panic!("{r:?}"));
        let report = verify(&design, &frame, &basis).unwrap_or_else(|e| panic!("{name}: {e}"));
        for row in &report.rows {
            let (part, kind, why) = (&row.part, row.kind.name(), row.state.why());
            assert!(row.utilisation.is_none_or(f64::is_finite), "{name}: {part} {kind} is infinite");
            if row.calc.is_some() {
                continue;
            }
            open += 1;
            assert!(row.utilisation.is_none() && row.steps().is_empty(), "{name}: {part} {kind}");
            assert!(!why.is_empty() && !matches!(row.state, State::Value), "{name}: {part} {kind} says why");
        }
    }
    assert!(open > 10, "ready designs of metal have checks that no code answers: {open}");
}
