//! Writing: to stdout once, and to files never by halves.

use super::exit::Failure;
use std::{
    fs,
    io::{self, Write},
    path::Path,
};

/// Prints a finished text. A closed pipe (`| head`) is no failure.
pub(super) fn print(text: &str) -> Result<(), Failure> {
    match io::stdout().lock().write_all(text.as_bytes()) {
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
pub(super) fn write_file(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let failed = |error| Failure::CannotWrite(path.to_path_buf(), error);
    let mut temporary = path.as_os_str().to_owned();
    temporary.push(".part");
    let temporary = Path::new(&temporary);
    let written = fs::write(temporary, bytes).and_then(|()| fs::rename(temporary, path));
    if written.is_err() {
        // Best effort: the write has failed already and that is what gets reported.
        let _ = fs::remove_file(temporary);
    }
    written.map_err(failed)
}

/// Writes several files into a folder, which is made when it is not there.
pub(super) fn write_into(folder: &Path, files: &[(&str, String)]) -> Result<(), Failure> {
    fs::create_dir_all(folder).map_err(|error| Failure::CannotWrite(folder.to_path_buf(), error))?;
    files.iter().try_for_each(|(name, text)| write_file(&folder.join(name), text.as_bytes()))
}
