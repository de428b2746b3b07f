//! The only place that prints faults.

use super::{
    exit::{BAD_INPUT, CANNOT_WRITE, CHECK_FAILS, Failure, Outcome},
    output,
};
use crate::{
    design::{Fault, Place},
    quantities::one_line,
};
use std::{fmt::Write as _, process::ExitCode};

/// Prints what went wrong, if anything, and gives the exit code.
pub(super) fn finish(result: Result<Outcome, Failure>) -> ExitCode {
    match result {
        Ok(Outcome::Done) => ExitCode::SUCCESS,
        Ok(Outcome::CheckFails) => ExitCode::from(CHECK_FAILS),
        Err(Failure::Input(faults)) => {
            let texts: Vec<String> = faults.iter().map(render).collect();
            tell(&texts.join("\n"));
            ExitCode::from(BAD_INPUT)
        }
        Err(Failure::CannotWrite(path, error)) => {
            let sentence = format!("error[cannot-write]: cannot write {}: {error}", path.display());
            tell(&(one_line(&sentence) + "\n"));
            ExitCode::from(CANNOT_WRITE)
        }
    }
}

/// Says it on stderr. Where that cannot be written either, the exit code is all there is.
fn tell(text: &str) {
    let _ = std::io::Write::write_all(&mut std::io::stderr(), text.as_bytes());
}

/// Help and version go to stdout with code 0, a wrong command line to stderr with code 2.
pub(super) fn usage(error: &clap::Error) -> ExitCode {
    if error.use_stderr() {
        // It quotes what was typed, or what a shell put in its place: colours are not worth obeying that.
        tell(&output::lines(&error.to_string()));
        return ExitCode::from(BAD_INPUT);
    }
    // The stream may be closed already; there is nothing left to tell anyone then.
    let _ = error.print();
    ExitCode::SUCCESS
}

/// A fault as text: sentence, source line with carets, further places, hints.
pub(crate) fn render(fault: &Fault) -> String {
    let mut text = one_line(&fault.to_string()) + "\n";
    let gutter = fault
        .place
        .iter()
        .chain(fault.also.iter().map(|(place, _)| place))
        .map(|place| place.line.to_string().len())
        .max()
        .unwrap_or(1);
    if let Some(place) = &fault.place {
        let file = one_line(&place.file);
        let _ = writeln!(text, "{:gutter$} ┌─ {file}:{}:{}", "", place.line, place.column);
        quote(&mut text, gutter, place, '^', &fault.label);
    }
    for (place, words) in &fault.also {
        quote(&mut text, gutter, place, '─', words);
    }
    for hint in &fault.hints {
        let _ = writeln!(text, "{:gutter$} = hint: {}", "", one_line(hint));
    }
    text
}

fn quote(text: &mut String, gutter: usize, place: &Place, mark: char, words: &str) {
    let source = one_line(&place.source);
    let _ = writeln!(text, "{:>gutter$} │ {source}", place.line);
    let indent = place.column - place.shown_from;
    let room = source.chars().count().saturating_sub(indent).max(1);
    let marks: String = std::iter::repeat_n(mark, place.width.clamp(1, room)).collect();
    let line = format!("{:gutter$} │ {:indent$}{marks} {}", "", "", one_line(words));
    let _ = writeln!(text, "{}", line.trim_end());
}
