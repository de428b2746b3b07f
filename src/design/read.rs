//! Reads one typed value from a YAML or JSON text, and turns whatever goes wrong into placed faults.

use super::{fault::Fault, place::Places};
use crate::quantities::shorten;
use serde::de::DeserializeOwned;
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

/// A value of type `T` from a text, with the places of its fields.
///
/// # Errors
/// One fault with its place: empty text, not YAML, unknown or missing field (with the nearest valid name), wrong
/// type, text that is no quantity.
pub fn read_yaml<T: DeserializeOwned>(file: &str, text: &str) -> Result<(T, Places), Fault> {
    not_too_large(file, text.len())?;
    if let Some((line, depth)) = too_deep(text) {
        return Err(Fault::new("too-deep", "", format!("{file} nests {depth} levels deep at line {line}"))
            .hint(format!("no input needs more than {DEEPEST} levels")));
    }
    let places = Places::scan(file, text);
    let most = (MOST_PER_BYTE * text.len()).min(MOST_VALUES);
    if places.with_aliases() > most {
        let sentence = format!("the aliases of {file} stand for more than {most} values");
        return Err(Fault::new("too-many-aliases", "", sentence)
            .hint("write values out where they are used; no input needs as many"));
    }
    if text.trim().is_empty() {
        return Err(Fault::new("empty-file", "", format!("{file} is empty"))
            .hint("`tiltwright new` writes a design to start from"));
    }
    let value = serde_path_to_error::deserialize(serde_yaml::Deserializer::from_str(text))
        .map_err(|error| explain(file, &places, &error))?;
    Ok((value, places))
}

/// Values that a text may hold with its aliases written out, for each of its bytes; without aliases it is less than one.
const MOST_PER_BYTE: usize = 8;
/// The same for a large text.
const MOST_VALUES: usize = LARGEST_INPUT;

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
        return Fault::new("duplicate-field", key.clone(), format!("`{name}` is written twice"))
            .at(places.key(&key).or_else(by_mark))
            .hint("keep one of the two lines");
    }
    if let Some(name) = message.strip_prefix("duplicate entry with key ") {
        let name = name.trim_matches('"');
        let key = if path.is_empty() { name.to_string() } else { format!("{path}.{name}") };
        return Fault::new("duplicate-field", key.clone(), format!("`{}` is written twice", shorten(name)))
            .at(by_mark().or_else(|| places.key(&key)))
            .hint("keep one of the two lines");
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
}
