//! Reads one typed value from a YAML or JSON text, and turns whatever goes wrong into placed faults.

use super::{
    fault::Fault,
    place::{Places, Scan},
};
use crate::quantities::shorten;
use serde::de::DeserializeOwned;
use serde_yaml::Value;
use std::{fs, io::Read as _, path::Path};

/// Largest input read (bytes); a design or a list of parts is far smaller.
const LARGEST_INPUT: usize = 1 << 20;

/// The text of an input file: a regular one, or what comes through `/dev/stdin`.
///
/// # Errors
/// A file that is missing, is a folder, a device or a pipe, is too large or is not UTF-8.
pub fn file_text(path: &Path) -> Result<String, Fault> {
    let name = path.display();
    let unreadable = |why: String| {
        Fault::new("cannot-read", "", format!("cannot read {name}: {why}")).hint("name an existing text file")
    };
    let failed = |error: std::io::Error| unreadable(error.to_string());
    if path != Path::new("/dev/stdin") {
        // Asked before it is opened: opening a pipe waits for somebody who writes into it.
        let kind = fs::metadata(path).map_err(failed)?.file_type();
        if kind.is_dir() {
            return Err(unreadable("it is a folder".to_string()));
        }
        if !kind.is_file() {
            return Err(unreadable("it is a device or a pipe, which may never end".to_string())
                .hint("or send the text through `/dev/stdin`"));
        }
    }
    let mut bytes = Vec::new();
    // One byte more than is taken: what never ends is told from a file that just fits.
    let file = fs::File::open(path).map_err(failed)?;
    file.take(LARGEST_INPUT as u64 + 1).read_to_end(&mut bytes).map_err(failed)?;
    not_too_large(&name.to_string(), bytes.len())?;
    String::from_utf8(bytes).map_err(|_| unreadable("it is not UTF-8 text".to_string()))
}

/// A text that is no larger than any input needs to be.
///
/// # Errors
/// A larger one.
pub(crate) fn not_too_large(file: &str, bytes: usize) -> Result<(), Fault> {
    if bytes <= LARGEST_INPUT {
        return Ok(());
    }
    Err(Fault::new("file-too-large", "", format!("{file} holds more than {LARGEST_INPUT} bytes"))
        .hint("a design or a list of parts is far smaller: take out what is not one"))
}

/// A text that can be scanned in bounded time and memory, and the most values its aliases may stand for.
fn bounded(file: &str, text: &str) -> Result<usize, Fault> {
    not_too_large(file, text.len())?;
    if let Some((line, depth)) = too_deep(text) {
        return Err(Fault::new("too-deep", "", format!("{file} nests {depth} levels deep at line {line}"))
            .hint(format!("no input needs more than {DEEPEST} levels")));
    }
    Ok((MOST_PER_BYTE * text.len()).min(MOST_VALUES))
}

/// A text that holds something, and no more than it may.
fn sensible(file: &str, text: &str, places: &Places, most: usize) -> Result<(), Fault> {
    if places.with_aliases() > most {
        let sentence = format!("the aliases of {file} stand for more than {most} values");
        return Err(Fault::new("too-many-aliases", "", sentence)
            .hint("write values out where they are used; no input needs as many"));
    }
    if text.trim().is_empty() {
        return Err(Fault::new("empty-file", "", format!("{file} is empty"))
            .hint("`tiltwright new` writes a design to start from"));
    }
    Ok(())
}

/// The values of a text with the places of its fields, found in one walk.
///
/// # Errors
/// Empty text, text that is not YAML, and every key that is written twice.
pub(super) fn read_tree(file: &str, text: &str) -> Result<(Value, Places), Vec<Fault>> {
    let most = bounded(file, text).map_err(|fault| vec![fault])?;
    let scan = Scan::of(file, text, most);
    sensible(file, text, &scan.places, most).map_err(|fault| vec![fault])?;
    if let Some((line, column, why)) = scan.stopped {
        let place = scan.places.at(line, column);
        return Err(vec![Fault::new("not-yaml", "", format!("{file} is not YAML: {why}")).at(place)]);
    }
    if scan.documents > 1 {
        return Err(vec![
            Fault::new("not-yaml", "", format!("{file} holds {} documents", scan.documents))
                .hint("keep one, without `---` lines between"),
        ]);
    }
    let twice = scan.twice.into_iter().take(MOST_FAULTS);
    let faults: Vec<Fault> = twice
        .map(|(path, place)| written_twice(&path, path.rsplit('.').next().unwrap_or_default()).at(Some(place)))
        .collect();
    if faults.is_empty() { Ok((scan.root, scan.places)) } else { Err(faults) }
}

fn written_twice(key: &str, name: &str) -> Fault {
    Fault::new("duplicate-field", key, format!("`{}` is written twice", shorten(name)))
        .hint("keep one of the two lines")
}

/// A value of type `T` from a text, with the places of its fields.
///
/// # Errors
/// One fault with its place: empty text, not YAML, unknown or missing field (with the nearest valid name), wrong
/// type, text that is no quantity.
pub fn read_yaml<T: DeserializeOwned>(file: &str, text: &str) -> Result<(T, Places), Fault> {
    let most = bounded(file, text)?;
    let places = Places::scan(file, text);
    sensible(file, text, &places, most)?;
    let value = serde_path_to_error::deserialize(serde_yaml::Deserializer::from_str(text))
        .map_err(|error| explain(file, &places, &error))?;
    Ok((value, places))
}

/// Values that a text may hold with its aliases written out, for each of its bytes; without aliases it is less than one.
const MOST_PER_BYTE: usize = 8;
/// The same for a large text.
const MOST_VALUES: usize = LARGEST_INPUT;

/// Faults told at the most: a file with more of them is none of ours.
pub(super) const MOST_FAULTS: usize = 50;

/// Levels of lists and mappings that any input needs at the most.
const DEEPEST: usize = 40;

/// The first line that nests too deep, told from the text alone: scanners of the format take memory with the square of
/// the depth, so this is looked at before they see it. Brackets and dashes inside quoted text count as well, which no
/// honest file notices.
fn too_deep(text: &str) -> Option<(usize, usize)> {
    let mut brackets: usize = 0;
    let mut indents: Vec<usize> = vec![];
    for (number, line) in text.lines().enumerate() {
        let mut rest = line.trim_start();
        let indent = line.len() - rest.len();
        let mut markers = 0;
        while let Some(after) =
            rest.strip_prefix(['-', '?', ':']).filter(|after| after.starts_with([' ', '\t']) || after.is_empty())
        {
            markers += 1;
            rest = after.trim_start();
        }
        if !rest.is_empty() || markers > 0 {
            while indents.last().is_some_and(|last| *last >= indent) {
                indents.pop();
            }
            indents.push(indent);
        }
        for c in rest.chars() {
            match c {
                '[' | '{' => brackets += 1,
                ']' | '}' => brackets = brackets.saturating_sub(1),
                '#' => break,
                _ => {}
            }
            let depth = brackets + markers + indents.len();
            if depth > DEEPEST {
                return Some((number + 1, depth));
            }
        }
        if markers + indents.len() > DEEPEST {
            return Some((number + 1, markers + indents.len()));
        }
    }
    None
}

fn explain(file: &str, places: &Places, error: &serde_path_to_error::Error<serde_yaml::Error>) -> Fault {
    let path = match error.path().to_string() {
        path if path == "." => String::new(),
        path => path.replace('[', ".").replace(']', "").trim_start_matches('.').to_string(),
    };
    let location = error.inner().location();
    let message = without_place(&error.inner().to_string(), &path);
    let by_mark = || location.as_ref().and_then(|l| places.at(l.line(), l.column()));
    if let Some((given, names)) = unknown_name(&message) {
        let is_field = message.starts_with("unknown field");
        // The path may end in the parent or in the field itself, as the error was raised for key or value.
        let parent = path.strip_suffix(given.as_str()).map_or(path.as_str(), |p| p.trim_end_matches('.'));
        let key = if parent.is_empty() { given.clone() } else { format!("{parent}.{given}") };
        let code = if is_field { "unknown-field" } else { "unknown-value" };
        let what = if is_field { "field" } else { "value" };
        let mut fault = Fault::new(code, key.clone(), format!("`{}` is no {what} that is known here", shorten(&given)))
            .at(if is_field { places.key(&key).or_else(by_mark) } else { places.of(&path).or_else(by_mark) });
        if let Some(near) = nearest(&given, &names) {
            fault = fault.hint(format!("did you mean `{near}`?"));
        }
        return fault.hint(format!("known here: {}", names.join(", ")));
    }
    if let Some(name) = message.strip_prefix("missing field `").and_then(|rest| rest.split('`').next()) {
        let place = if path.is_empty() { places.at(1, 1) } else { places.key(&path).or_else(|| places.of(&path)) };
        let within = if path.is_empty() { file.to_string() } else { format!("`{path}`") };
        return Fault::new("missing-field", path, format!("`{name}` is missing in {within}"))
            .at(place.or_else(by_mark))
            .hint(format!("add a line `{name}: …`"));
    }
    if let Some(name) = message.strip_prefix("duplicate field `").and_then(|rest| rest.split('`').next()) {
        let key = if path.is_empty() { name.to_string() } else { format!("{path}.{name}") };
        return written_twice(&key, name).at(places.key(&key).or_else(by_mark));
    }
    // What the scanner cannot read is no value of a field, wherever it gave up.
    let unread = [" while scanning ", " while parsing "].iter().any(|words| message.contains(words));
    let syntax = unread || path.is_empty() && !message.starts_with("invalid type");
    let code = if syntax { "not-yaml" } else { "bad-value" };
    let sentence = if syntax { format!("{file} is not YAML: {message}") } else { in_words(&path, message) };
    Fault::new(code, path.clone(), sentence).at(if syntax { by_mark() } else { places.of(&path).or_else(by_mark) })
}

/// The library names types of the program; a reader wants to know what to write.
pub(super) fn in_words(path: &str, message: String) -> String {
    let parts = message.strip_prefix("invalid type: ").or_else(|| message.strip_prefix("invalid value: "));
    let Some((given, expected)) = parts.and_then(|rest| rest.rsplit_once(", expected ")) else { return message };
    let given = match given.split_once(' ') {
        Some(("string", text)) => format!("the text \"{}\"", shorten(text.trim_matches('"'))),
        Some(("integer" | "boolean", number)) => number.to_string(),
        Some(("floating", point)) => point.trim_start_matches("point ").to_string(),
        _ if given == "unit value" => "empty".to_string(),
        _ => given.to_string(),
    };
    let wanted = match expected {
        "f64" => "a number".to_string(),
        "u8" | "u16" | "u32" | "u64" | "usize" | "i32" | "i64" => "a whole number".to_string(),
        "a boolean" => "`true` or `false`".to_string(),
        "a sequence" => "a list, `[…, …]`,".to_string(),
        _ if expected.starts_with("struct ") => "a block of fields, `name: value`,".to_string(),
        _ => expected.to_string(),
    };
    let what = if path.is_empty() { "the design".to_string() } else { format!("`{path}`") };
    format!("{what} is {given}; {wanted} is wanted here")
}

/// The library puts the path before and the position after its message; both are shown elsewhere.
fn without_place(message: &str, path: &str) -> String {
    let mut message = message;
    if let Some(at) = message.rfind(" at line ") {
        message = &message[..at];
    }
    let dotted: String = path.to_string();
    for prefix in [format!("{dotted}: "), format!("{}: ", dotted.split('.').next().unwrap_or(""))] {
        if prefix.len() > 2
            && let Some(rest) = message.strip_prefix(prefix.as_str())
        {
            return rest.to_string();
        }
    }
    // `stock[2].price: text` keeps its brackets in the message.
    match message.split_once(": ") {
        Some((head, rest)) if !head.contains(' ') && !head.is_empty() => rest.to_string(),
        _ => message.to_string(),
    }
}

/// The name and the accepted names of an `unknown field` or `unknown variant` message.
fn unknown_name(message: &str) -> Option<(String, Vec<String>)> {
    let rest = message.strip_prefix("unknown field `").or_else(|| message.strip_prefix("unknown variant `"))?;
    let (given, rest) = rest.split_once('`')?;
    let names = rest.split('`').skip(1).step_by(2).map(str::to_string).collect();
    Some((given.to_string(), names))
}

/// The known name that is closest to what was typed, if any is close.
#[must_use]
pub fn nearest<'a>(given: &str, names: &'a [String]) -> Option<&'a str> {
    const CLOSE: f64 = 0.72;
    names
        .iter()
        .map(|name| (strsim::jaro_winkler(given, name), name))
        .filter(|(score, _)| *score >= CLOSE)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, name)| name.as_str())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hostile_depth_is_refused_before_it_is_parsed() {
        for text in ["- ".repeat(100_000), "[1,".repeat(100_000), "a: {".repeat(50_000), "? ".repeat(10_000)] {
            let fault = read_yaml::<serde_yaml::Value>("x.yaml", &text).expect_err("too deep");
            assert_eq!(fault.code, "too-deep");
        }
        let stairs: String = (0..60).map(|n| format!("{}a:\n", " ".repeat(n))).collect();
        assert!(too_deep(&stairs).is_some());
        assert!(too_deep("a:\n  b: [1, 2, {c: 3}]\n  d:\n    - e: 1\n").is_none());
    }

    /// The one walk gives the values that the library's own reader gives.
    #[test]
    fn values_are_those_of_the_library() {
        let odd = "a: 0x1F\nb: 007\nc: +4\nd: 1e3\ne: .nan\nf: '12'\ng: ~\nh:\ni: yes\nj: |\n  two\n  lines\nk: &k {l: [1, -2]}\nm: *k\nn: 5 ft 3-1/2 in\n\"o p\": \"q\\tr\"\n1: 0o17\ns: on\nt: 1_000\nu: \"\"\nv: >-\n  folded\n  text\n";
        let json = "{\"a\": [1, 2.5, null, true, \"x\"], \"b\": {}}";
        for text in crate::design::READY.iter().map(|(_, text)| *text).chain([odd, json, "- a\n- list", "just words"]) {
            let (tree, _) = read_tree("x.yaml", text).expect("it reads");
            let library: Value = serde_yaml::from_str(text).expect("YAML");
            assert_eq!(format!("{tree:?}"), format!("{library:?}"));
        }
    }

    #[test]
    fn every_key_that_stands_twice_is_told_at_its_second_place() {
        let faults = read_tree("x.yaml", "a: 1\nb: {c: 1, c: 2}\na: 2\n").expect_err("two keys stand twice");
        let told: Vec<_> =
            faults.iter().map(|f| (f.code, f.field.as_str(), f.place.as_ref().map(|p| p.line))).collect();
        assert_eq!(told, [("duplicate-field", "b.c", Some(2)), ("duplicate-field", "a", Some(3))]);
        let two = read_tree("x.yaml", "a: 1\n---\nb: 2\n").expect_err("two documents");
        assert_eq!(two[0].code, "not-yaml");
        let broken = read_tree("x.yaml", "a: 1\nb: [1, 2\nc: 3\n").expect_err("no YAML");
        assert!(broken[0].code == "not-yaml" && broken[0].place.is_some(), "{broken:?}");
    }
}
