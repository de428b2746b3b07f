//! A hidden folder beside the place where results will stand. What is written there is nobody's yet; what a killed run
//! left there is found by the next run that writes to the same place.

use std::{
    fs::{self, File, OpenOptions},
    io::{self, ErrorKind},
    path::{Path, PathBuf},
    process,
};

/// Such a folder. Its lock dies with the run that holds it, however that ends.
#[derive(Debug)]
pub(super) struct Aside {
    folder: PathBuf,
    /// Nothing where the file system knows no locks: what a killed run leaves there stays.
    lock: Option<File>,
}

const STARTS: &str = ".tiltwright-";
const ENDS: &str = ".part";
const LOCK: &str = "lock";
/// Holds what was moved out of its place by its name, until something else stands there.
const MOVED: &str = "moved";

impl Aside {
    /// Makes one in `place`, after those that killed runs left there are put away.
    pub(super) fn make(place: &Path) -> io::Result<Self> {
        put_away_left_ones(place)?;
        let mut number = 0;
        loop {
            let folder = place.join(format!("{STARTS}{}-{number}{ENDS}", process::id()));
            number += 1;
            match fs::create_dir(&folder) {
                Err(error) if error.kind() == ErrorKind::AlreadyExists => continue,
                made => made?,
            }
            // Before it is locked, another run may take it for a left one and remove it.
            let lock = match File::create_new(folder.join(LOCK)) {
                Err(error) if error.kind() == ErrorKind::NotFound => continue,
                lock => lock?,
            };
            let lock = lock.try_lock().is_ok().then_some(lock);
            if folder.join(LOCK).exists() {
                return Ok(Self { folder, lock });
            }
        }
    }

    /// The path of a file or folder in it.
    pub(super) fn path(&self, name: &str) -> PathBuf {
        self.folder.join(name)
    }

    /// Moves a file or folder of the place in here. Killed before something else stands where it stood, or dropped, it
    /// goes back.
    pub(super) fn take_in(&self, path: &Path) -> io::Result<PathBuf> {
        let moved = self.folder.join(MOVED);
        fs::create_dir_all(&moved)?;
        let moved = moved.join(path.file_name().unwrap_or_default());
        fs::rename(path, &moved)?;
        Ok(moved)
    }
}

#[cfg(test)]
impl Aside {
    /// What a killed run leaves: its lock is gone, its folder is not.
    pub(super) fn abandon(mut self) -> PathBuf {
        drop(self.lock.take());
        let folder = self.folder.clone();
        std::mem::forget(self);
        folder
    }
}

impl Drop for Aside {
    /// Best effort: what cannot be put away now is tried again by the next run.
    fn drop(&mut self) {
        let _ = put_away(&self.folder, self.lock.take());
    }
}

/// Puts away what runs left in `place` that are no more.
fn put_away_left_ones(place: &Path) -> io::Result<()> {
    // A place that cannot be listed may still be written to.
    let Ok(entries) = fs::read_dir(place) else { return Ok(()) };
    for entry in entries.flatten() {
        let name = entry.file_name();
        let ours = name.to_str().is_some_and(|name| name.starts_with(STARTS) && name.ends_with(ENDS));
        if !ours || !entry.file_type().is_ok_and(|kind| kind.is_dir()) {
            continue;
        }
        match OpenOptions::new().read(true).write(true).open(entry.path().join(LOCK)) {
            Ok(lock) if lock.try_lock().is_ok() => put_away(&entry.path(), Some(lock))?,
            // Its run was killed before it wrote anything, and the folder is empty; or somebody else's, and stays.
            Err(error) if error.kind() == ErrorKind::NotFound => drop(fs::remove_dir(entry.path())),
            // Its run goes on.
            _ => {}
        }
    }
    Ok(())
}

/// Gives back what was moved in and has nothing in its place, then removes the folder.
fn put_away(folder: &Path, lock: Option<File>) -> io::Result<()> {
    let place = folder.parent().unwrap_or(Path::new("."));
    if let Ok(moved) = fs::read_dir(folder.join(MOVED)) {
        for entry in moved {
            let entry = entry?;
            let stood = place.join(entry.file_name());
            if stood.symlink_metadata().is_err() {
                fs::rename(entry.path(), stood)?;
            }
        }
    }
    // The lock goes last, so that a run killed in here is found as well.
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        match entry.file_type()? {
            kind if kind.is_dir() => fs::remove_dir_all(entry.path())?,
            _ if entry.file_name() != LOCK => fs::remove_file(entry.path())?,
            _ => {}
        }
    }
    drop(lock);
    fs::remove_dir_all(folder)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_killed_run_is_put_away_and_a_living_one_left_alone() {
        let place = tempfile::tempdir().expect("a folder");
        let living = Aside::make(place.path()).expect("made");
        fs::write(living.path("new"), "half").expect("written");
        let killed = Aside::make(place.path()).expect("made");
        fs::write(killed.path("new"), "half").expect("written");
        let killed = killed.abandon();
        let bare = place.path().join(".tiltwright-1-0.part");
        fs::create_dir(&bare).expect("killed before it was locked");
        let next = Aside::make(place.path()).expect("made");
        // Its number is free again.
        assert_eq!(next.folder, killed);
        assert!(!bare.exists());
        assert!(!next.path("new").exists());
        assert_eq!(fs::read_to_string(living.path("new")).expect("left alone"), "half");
        drop((living, next));
        assert_eq!(fs::read_dir(place.path()).expect("listed").count(), 0, "nothing stays behind");
    }

    #[test]
    fn what_a_killed_run_moved_goes_back_unless_something_took_its_place() {
        for taken in [false, true] {
            let place = tempfile::tempdir().expect("a folder");
            let packet = place.path().join("packet");
            fs::create_dir(&packet).expect("a folder");
            fs::write(packet.join("file"), "old").expect("written");
            let aside = Aside::make(place.path()).expect("made");
            aside.take_in(&packet).expect("moved");
            assert!(!packet.exists());
            if taken {
                fs::create_dir(&packet).expect("a folder");
                fs::write(packet.join("file"), "new").expect("written");
            }
            aside.abandon();
            drop(Aside::make(place.path()).expect("made"));
            let stands = fs::read_to_string(packet.join("file")).expect("it stands");
            assert_eq!(stands, if taken { "new" } else { "old" });
            assert_eq!(fs::read_dir(place.path()).expect("listed").count(), 1, "nothing stays behind");
        }
    }
}
