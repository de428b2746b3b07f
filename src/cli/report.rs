//! The only place that prints faults.

use super::exit::{BAD_INPUT, CANNOT_WRITE, CHECK_FAILS, Failure, Outcome};
use crate::design::{Fault, Place};
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
            tell(&format!("error[cannot-write]: cannot write {}: {error}\n", path.display()));
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
    // The stream may be closed already; there is nothing left to tell anyone then.
    let _ = error.print();
    if error.use_stderr() { ExitCode::from(BAD_INPUT) } else { ExitCode::SUCCESS }
}

/// A fault as text: sentence, source line with carets, further places, hints.
pub(crate) fn render(fault: &Fault) -> String {
    let mut text = format!("{fault}\n");
    let gutter = fault
        .place
        .iter()
        .chain(fault.also.iter().map(|(place, _)| place))
        .map(|place| place.line.to_string().len())
        .max()
        .unwrap_or(1);
    if let Some(place) = &fault.place {
        let _ = writeln!(text, "{:gutter$} ┌─ {}:{}:{}", "", place.file, place.line, place.column);
        quote(&mut text, gutter, place, '^', &fault.label);
    }
    for (place, words) in &fault.also {
        quote(&mut text, gutter, place, '─', words);
    }
    for hint in &fault.hints {
        let _ = writeln!(text, "{:gutter$} = hint: {hint}", "");
    }
    text
}

fn quote(text: &mut String, gutter: usize, place: &Place, mark: char, words: &str) {
    const WIDEST: usize = 120;
    let source: String = place.source.chars().map(|c| if c.is_control() { ' ' } else { c }).take(WIDEST).collect();
    let _ = writeln!(text, "{:>gutter$} │ {source}", place.line);
    let room = WIDEST.saturating_sub(place.column - 1).max(1);
    let marks: String = std::iter::repeat_n(mark, place.width.clamp(1, room)).collect();
    let line = format!("{:gutter$} │ {:indent$}{marks} {words}", "", "", indent = (place.column - 1).min(WIDEST));
    let _ = writeln!(text, "{}", line.trim_end());
}
