//! Sections by the name a builder gives them.

use super::{aluminium, lumber, section::Section, steel};
use crate::quantities::INCH_NAMES;
use std::sync::LazyLock;

static SECTIONS: LazyLock<Vec<Section>> = LazyLock::new(|| {
    let mut all = lumber::build();
    all.extend(steel::build());
    all.extend(aluminium::build());
    all
});

static KEYS: LazyLock<Vec<String>> = LazyLock::new(|| SECTIONS.iter().map(|section| key(&section.name)).collect());

/// A section name that stands in no table.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("no section is called {given}; the nearest names are {}{}", nearest.join(", "), pipes_held(given))]
pub struct UnknownSection {
    /// What was asked for.
    pub given: String,
    /// The nearest names, best first.
    pub nearest: Vec<String>,
}

/// What a yard's name for a pipe may be, said to who wrote one that is not held.
fn pipes_held(given: &str) -> String {
    let given = given.to_lowercase();
    if !["sch", "pipe"].iter().any(|word| given.contains(word)) {
        return String::new();
    }
    let sizes: Vec<&str> =
        sections().iter().filter_map(|s| s.name.strip_prefix("Pipe ")?.strip_suffix(" STD")).collect();
    format!("; pipe is held in schedule 40, `2 in sch 40`, by nominal size: {} in", sizes.join(", "))
}

/// Every section, in the order of the tables.
#[must_use]
pub fn sections() -> &'static [Section] {
    &SECTIONS
}

/// The section of that name; case, spaces and the way of writing fractions do not matter.
///
/// # Errors
/// [`UnknownSection`] with the three nearest names.
///
/// # Example
/// ```
/// use tiltwright::catalogue::section;
/// assert_eq!(section("hss 2 x 2 x 0.125")?.name, "HSS2x2x1/8");
/// assert!((section("2X4")?.depth_mm - 88.9).abs() < 1e-9);
/// assert_eq!(section("2x44").unwrap_err().nearest[0], "2x4");
/// # Ok::<(), tiltwright::catalogue::UnknownSection>(())
/// ```
pub fn section(name: &str) -> Result<&'static Section, UnknownSection> {
    let wanted = pipe_key(name).unwrap_or_else(|| key(name));
    let pipe = wanted.clone() + "std";
    let dry = wanted.strip_suffix("dry").unwrap_or(&wanted);
    if let Some(at) = KEYS.iter().position(|k| *k == wanted || *k == pipe || k == dry) {
        return Ok(&SECTIONS[at]);
    }
    let typed: String = name.to_lowercase().chars().filter(|c| !c.is_whitespace()).collect();
    let distance = |at: usize| {
        let as_typed = strsim::damerau_levenshtein(&SECTIONS[at].name.to_lowercase().replace(' ', ""), &typed);
        as_typed + strsim::damerau_levenshtein(&KEYS[at], &wanted)
    };
    let mut ranked: Vec<(usize, usize)> = (0..KEYS.len()).map(|at| (distance(at), at)).collect();
    ranked.sort_unstable();
    const SHOWN: usize = 3;
    let nearest = ranked.iter().take(SHOWN).map(|&(_, at)| SECTIONS[at].name.clone()).collect();
    Err(UnknownSection { given: name.chars().take(60).collect(), nearest })
}

/// The key of a pipe named by nominal size and schedule, as a yard does: `2 in sch 40`, `schedule 40 pipe, 1-1/2"`.
///
/// # Source
/// Standard weight is schedule 40 up to nominal 10 in (ASME B36.10M, from memory).
fn pipe_key(name: &str) -> Option<String> {
    let text = name.to_lowercase();
    let (before, after) = ["schedule", "sch.", "sch"].iter().find_map(|word| text.split_once(word))?;
    let after = after
        .trim_start()
        .strip_prefix("40")
        .filter(|rest| !rest.starts_with(|c: char| c.is_ascii_digit() || c == '.'))?;
    let words = format!("{before} {after}");
    let size: String = words
        .split(|c: char| c.is_whitespace() || c == ',')
        .filter(|word| !matches!(*word, "" | "in" | "in." | "inch" | "nps" | "nominal" | "steel" | "pipe"))
        .collect();
    let size = INCH_NAMES.iter().find_map(|mark| size.strip_suffix(mark)).unwrap_or(&size);
    mixed_number(size).map(|size| format!("pipe{}std", crate::quantities::number(size, 3)))
}

/// Lower case, no spaces or inch marks, fractions as decimals, one spelling of the words.
fn key(name: &str) -> String {
    let mut text: String = name
        .to_lowercase()
        .replace('×', "x")
        .chars()
        .filter(|c| {
            !c.is_whitespace() && !matches!(c, '"' | '\'' | '″' | '”' | '“' | '′' | '’' | '_' | ',' | '(' | ')')
        })
        .collect();
    for (from, to) in [
        ("aluminium", "al"),
        ("aluminum", "al"),
        ("alu", "al"),
        ("std.", "std"),
        ("standard", "std"),
        ("schedule40", "std"),
        ("sch40", "std"),
        ("flatbar", "bar"),
        ("squaretube", "tube"),
        ("recttube", "tube"),
        ("angle", "l"),
    ] {
        text = text.replace(from, to);
    }
    // A decimal point without its zero: `x.125`.
    decimals(&text.replace("x.", "x0."))
}

/// Writes every `1-1/2`, `1/2` and `1.50` of a key as a plain decimal.
fn decimals(text: &str) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some(start) = rest.find(|c: char| c.is_ascii_digit()) {
        out.push_str(&rest[..start]);
        let tail = &rest[start..];
        let end = tail.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | '/' | '-'))).unwrap_or(tail.len());
        let token = tail[..end].trim_end_matches(['-', '/', '.']);
        match mixed_number(token) {
            // Three decimals bring 0.1875 and the rounded 0.188 together.
            Some(value) => out.push_str(&crate::quantities::number(value, 3)),
            None => out.push_str(token),
        }
        rest = &tail[token.len()..];
        if token.is_empty() {
            break;
        }
    }
    out.push_str(rest);
    out
}

fn mixed_number(token: &str) -> Option<f64> {
    let fraction = |text: &str| -> Option<f64> {
        let (above, below) = text.split_once('/')?;
        let (above, below): (f64, f64) = (above.parse().ok()?, below.parse().ok()?);
        (below > 0.0).then_some(above / below)
    };
    match token.split_once('-') {
        Some((whole, part)) => Some(whole.parse::<f64>().ok()? + fraction(part)?),
        None => fraction(token).or_else(|| token.parse().ok()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_found_however_they_are_written() {
        for (given, name) in [
            ("2x4", "2x4"),
            (" 4 X 4 ", "4x4"),
            ("38x89", "38x89"),
            ("L2x2x1/4", "L2x2x1/4"),
            ("l 2 x 2 x 0.25", "L2x2x1/4"),
            ("angle 1.5x1.5x.125", "L1-1/2x1-1/2x1/8"),
            ("HSS2x2x1/8", "HSS2x2x1/8"),
            ("hss 1-1/2 x 1-1/2 x 3/16", "HSS1-1/2x1-1/2x3/16"),
            ("Pipe 2 STD", "Pipe 2 STD"),
            ("pipe 2-1/2", "Pipe 2-1/2 STD"),
            ("C3x4.1", "C3x4.1"),
            ("2 in sch 40", "Pipe 2 STD"),
            ("2” sch 40", "Pipe 2 STD"),
            ("sch 40 1-1/2 in", "Pipe 1-1/2 STD"),
            ("schedule 40 pipe, 2-1/2 in", "Pipe 2-1/2 STD"),
            ("3\" Sch. 40 pipe", "Pipe 3 STD"),
            ("Pipe 4 sch40", "Pipe 4 STD"),
            ("aluminium tube 2x2x0.125", "aluminium tube 2x2x0.125"),
            ("Aluminum tube 2x2x1/8", "aluminium tube 2x2x0.125"),
            ("aluminium angle 2x2x1/4", "aluminium L2x2x0.25"),
            ("bar 2 x 1/4", "bar 2x1/4"),
            ("2x4 green", "2x4 green"),
            ("2x4 dry", "2x4"),
        ] {
            let found = section(given).unwrap_or_else(|error| panic!("{error}"));
            assert_eq!(found.name, name, "{given}");
        }
    }

    #[test]
    fn no_two_sections_share_a_key() {
        let mut keys = KEYS.clone();
        keys.sort();
        let before = keys.len();
        keys.dedup();
        assert_eq!(before, keys.len());
    }

    #[test]
    fn an_unknown_name_brings_the_nearest() {
        let error = section("L2x2x1/16").expect_err("there is none");
        assert!(error.nearest.iter().all(|name| name.starts_with("L2x2x")), "{error}");
        for given in ["2 in sch 80", "7 in sch 40", "sch 40", "2 in sch 405", "2 in sch"] {
            let error = section(given).expect_err(given).to_string();
            assert!(error.contains("schedule 40, `2 in sch 40`, by nominal size: 1-1/4, 1-1/2, 2,"), "{error}");
        }
        assert!(!section("2x44").expect_err("there is none").to_string().contains("schedule"));
        assert!(section("").is_err());
        assert!(section("//--..").is_err());
    }

    #[test]
    fn every_section_is_whole() {
        for s in sections() {
            for value in [s.depth_mm, s.width_mm, s.wall_mm, s.area_mm2, s.i_x_mm4, s.i_y_mm4, s.s_x_mm3, s.s_y_mm3] {
                assert!(value > 0.0 && value.is_finite(), "{}", s.name);
            }
            assert!(s.z_x_mm3 >= s.s_x_mm3 && s.z_y_mm3 >= s.s_y_mm3 && s.r_z_mm > 0.0 && s.j_mm4 > 0.0, "{}", s.name);
            assert!(s.depth_mm >= s.width_mm && s.i_x_mm4 >= s.i_y_mm4 * 0.999, "{}", s.name);
            assert!(s.r_z_mm <= s.r_y_mm() * 1.01, "{}", s.name);
        }
    }
}
