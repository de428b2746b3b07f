//! Writing: to stdout once, and to files never by halves.

use super::{aside::Aside, exit::Failure};
use crate::{
    design::Fault,
    quantities::{json, one_line},
};
use std::{
    collections::{BTreeMap, btree_map::Entry},
    fs,
    io::{self, Write},
    path::{Path, PathBuf},
};

/// Prints a finished text. A closed pipe (`| head`) is no failure.
///
/// The program says nothing but lines: what else a terminal would obey is left out.
pub(super) fn print(text: &str) -> Result<(), Failure> {
    let clean = lines(text);
    match io::stdout().lock().write_all(clean.as_bytes()) {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => {
            Err(Failure::CannotWrite("standard output".into(), error))
        }
        _ => Ok(()),
    }
}

/// A text in which nothing but line ends moves a cursor.
pub(super) fn lines(text: &str) -> String {
    text.split('\n').map(one_line).collect::<Vec<_>>().join("\n")
}

/// Prints a value as JSON with a final line end.
pub(super) fn print_json(value: &impl serde::Serialize) -> Result<(), Failure> {
    print(&json(value))
}

/// Files that are written aside, and put in their places together at the end: readers see the old files or the new ones, and
/// a run that fails before leaves none.
#[derive(Debug, Default)]
pub(super) struct Pending {
    /// Where each is written, and its place.
    files: Vec<(PathBuf, PathBuf)>,
    /// Beside the places, by their folder.
    asides: BTreeMap<PathBuf, Aside>,
    /// Folders made for them, outermost first.
    folders: Vec<PathBuf>,
}

impl Pending {
    /// Writes a file that is to stand at `path`.
    ///
    /// A link is followed, so that it stays a link. What is no regular file (a device, a pipe, a folder) is left alone.
    pub(super) fn add(&mut self, path: &Path, bytes: &[u8]) -> Result<(), Failure> {
        let failed = |error| Failure::CannotWrite(path.to_path_buf(), error);
        let target = if path.exists() { path.canonicalize().map_err(failed)? } else { path.to_path_buf() };
        let refused = |why| failed(io::Error::new(io::ErrorKind::AlreadyExists, why));
        if target.exists() && !target.is_file() {
            return Err(refused("it is no regular file and is left alone; name a file"));
        }
        let place = target.parent().filter(|place| !place.as_os_str().is_empty()).unwrap_or(Path::new("."));
        let target = place.canonicalize().map_err(failed)?.join(target.file_name().unwrap_or_default());
        if self.files.iter().any(|(_, other)| *other == target) {
            let sentence = format!("two results of this run would go into {}", path.display());
            return Err(Fault::new("output-twice", "", sentence).hint("name a file for each").into());
        }
        let aside = match self.asides.entry(place.to_path_buf()) {
            Entry::Occupied(made) => made.into_mut(),
            Entry::Vacant(none) => none.insert(Aside::make(place).map_err(failed)?),
        };
        let written = aside.path(&self.files.len().to_string());
        fs::write(&written, bytes).map_err(failed)?;
        self.files.push((written, target));
        Ok(())
    }

    /// Writes several files that are to stand in a folder, which is made when it is not there.
    pub(super) fn add_into(&mut self, folder: &Path, files: &[(&str, String)]) -> Result<(), Failure> {
        let missing = folder.ancestors().take_while(|path| !path.as_os_str().is_empty() && !path.exists());
        let missing: Vec<PathBuf> = missing.map(Path::to_path_buf).collect();
        fs::create_dir_all(folder).map_err(|error| Failure::CannotWrite(folder.to_path_buf(), error))?;
        self.folders.extend(missing.into_iter().rev());
        files.iter().try_for_each(|(name, text)| self.add(&folder.join(name), text.as_bytes()))
    }

    /// Puts every file in its place.
    pub(super) fn put_in_place(mut self) -> Result<(), Failure> {
        for (written, target) in &self.files {
            fs::rename(written, target).map_err(|error| Failure::CannotWrite(target.clone(), error))?;
        }
        self.folders.clear();
        Ok(())
    }
}

impl Drop for Pending {
    /// Best effort: the run has failed already and that is what gets reported. A folder that holds something stays.
    fn drop(&mut self) {
        self.asides.clear();
        for folder in self.folders.iter().rev() {
            let _ = fs::remove_dir(folder);
        }
    }
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
