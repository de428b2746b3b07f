//! Writing: to stdout once, and to files never by halves.

use super::exit::Failure;
use crate::design::Fault;
use std::{
    fs,
    io::{self, Write},
    path::{Path, PathBuf},
};

/// Prints a finished text. A closed pipe (`| head`) is no failure.
///
/// Control characters out of a hostile name do not reach the terminal.
pub(super) fn print(text: &str) -> Result<(), Failure> {
    let clean: String = text.chars().map(|c| if c.is_control() && c != '\n' { ' ' } else { c }).collect();
    match io::stdout().lock().write_all(clean.as_bytes()) {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => {
            Err(Failure::CannotWrite("standard output".into(), error))
        }
        _ => Ok(()),
    }
}

/// Prints a value as JSON with a final line end.
pub(super) fn print_json(value: &impl serde::Serialize) -> Result<(), Failure> {
    let text = serde_json::to_string_pretty(value).expect("results hold only finite numbers and text keys");
    print(&(text + "\n"))
}

/// Writes a file under a temporary name beside it, then renames: readers see the old file or the new one.
///
/// A link is followed, so that it stays a link. What is no regular file (a device, a pipe, a folder) is left alone.
pub(super) fn write_file(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let failed = |error| Failure::CannotWrite(path.to_path_buf(), error);
    let target = if path.exists() { path.canonicalize().map_err(failed)? } else { path.to_path_buf() };
    if target.exists() && !target.is_file() {
        let why = "it is no regular file and is left alone; name a file";
        return Err(failed(io::Error::new(io::ErrorKind::AlreadyExists, why)));
    }
    let temporary = beside(&target, "part");
    let written = fs::OpenOptions::new()
        .write(true)
        .create_new(true)
        .open(&temporary)
        .and_then(|mut file| file.write_all(bytes))
        .and_then(|()| fs::rename(&temporary, &target));
    if written.is_err() {
        // Best effort: the write has failed already and that is what gets reported.
        let _ = fs::remove_file(&temporary);
    }
    written.map_err(failed)
}

/// A name beside a path that nobody else uses: hidden, and with the number of this process.
pub(super) fn beside(path: &Path, ending: &str) -> PathBuf {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    path.with_file_name(format!(".{name}.{}.{ending}", std::process::id()))
}

/// A result must not replace the file it was made from.
pub(super) fn refuse_input(option: &str, output: &Path, input: Option<&Path>) -> Result<(), Failure> {
    let same = |input: &Path| matches!((input.canonicalize(), output.canonicalize()), (Ok(a), Ok(b)) if a == b);
    if input.is_some_and(same) {
        let sentence = format!("{option} names {}, which is the input", output.display());
        return Err(Fault::new("output-is-input", option, sentence).hint("name another file").into());
    }
    Ok(())
}

/// Writes several files into a folder, which is made when it is not there.
pub(super) fn write_into(folder: &Path, files: &[(&str, String)]) -> Result<(), Failure> {
    fs::create_dir_all(folder).map_err(|error| Failure::CannotWrite(folder.to_path_buf(), error))?;
    files.iter().try_for_each(|(name, text)| write_file(&folder.join(name), text.as_bytes()))
}
