//! The folder of a packet: at every instant it holds the old packet or the new one, whole, and what its owner put there.

use super::{aside::Aside, exit::Failure};
use crate::{
    design::file_text,
    sheets::{PACKET_MARK, PacketFile},
};
use std::{
    collections::BTreeSet,
    fs,
    io::{self, ErrorKind},
    path::{Path, PathBuf},
};

/// Writes all files aside, swaps them in and says so: where nothing can be said, the old packet comes back. What somebody
/// put into the old packet's folder stands in the new one as well.
pub(super) fn write(
    folder: &Path,
    files: &[PacketFile],
    design: &str,
    say: impl FnOnce() -> Result<(), Failure>,
) -> Result<(), Failure> {
    // A link stays one: what it leads to is swapped.
    let led_to = if folder.is_symlink() { folder.canonicalize().ok() } else { None };
    let folder = led_to.as_deref().unwrap_or(folder);
    let failed = |error: io::Error| Failure::CannotWrite(folder.to_path_buf(), error);
    let out = folder.parent().filter(|out| !out.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let had_out = out.exists();
    fs::create_dir_all(out).map_err(failed)?;
    let written = Aside::make(out).map_err(failed).and_then(|aside| {
        // Only now: a packet that a killed run left half-way stands in its place again.
        let packet = earlier_files(folder, design).map_err(failed)?;
        let new = aside.path("new");
        write_all(&new, files).map_err(failed)?;
        let Some(packet) = packet else {
            fs::rename(&new, folder).map_err(failed)?;
            return say().inspect_err(|_| drop(fs::rename(folder, &new)));
        };
        let others = others(folder, &packet).map_err(failed)?;
        others.iter().try_for_each(|name| keep(folder, &new, name)).map_err(failed)?;
        fs::set_permissions(&new, fs::metadata(folder).map_err(failed)?.permissions()).map_err(failed)?;
        let old = swap(&aside, &new, folder).map_err(failed)?;
        let said = keep_late(&old, folder, &packet).map_err(failed).and_then(|()| say());
        // Best effort: what gets reported is why.
        said.inspect_err(|_| drop(swap_back(&aside, &old, folder)))
    });
    if written.is_err() && !had_out {
        // Best effort: the run has failed already and that is what gets reported. What holds something stays.
        let _ = fs::remove_dir(out);
    }
    written
}

/// Puts a folder in the place of another, and says where the other is now.
fn swap(aside: &Aside, new: &Path, folder: &Path) -> io::Result<PathBuf> {
    match exchange(new, folder) {
        Ok(()) => Ok(new.to_path_buf()),
        // A file system without that step: for an instant there is no packet. Who is killed in it leaves the old one to
        // the next run, which puts it back before it looks at anything.
        Err(_) => swap_in_two_steps(aside, new, folder),
    }
}

fn swap_in_two_steps(aside: &Aside, new: &Path, folder: &Path) -> io::Result<PathBuf> {
    let old = aside.take_in(folder)?;
    fs::rename(new, folder)?;
    Ok(old)
}

fn swap_back(aside: &Aside, old: &Path, folder: &Path) -> io::Result<()> {
    exchange(old, folder).or_else(|_| {
        fs::rename(folder, aside.path("unheard"))?;
        fs::rename(old, folder)
    })
}

/// Two folders change places in one step.
#[cfg(any(target_os = "linux", target_vendor = "apple"))]
fn exchange(one: &Path, other: &Path) -> io::Result<()> {
    use rustix::fs::{CWD, RenameFlags, renameat_with};
    Ok(renameat_with(CWD, one, CWD, other, RenameFlags::EXCHANGE)?)
}

#[cfg(not(any(target_os = "linux", target_vendor = "apple")))]
fn exchange(_one: &Path, _other: &Path) -> io::Result<()> {
    Err(ErrorKind::Unsupported.into())
}

/// Names of all that is in a folder and not of the packet; links are not followed, nothing is opened.
fn others(folder: &Path, packet: &BTreeSet<PathBuf>) -> io::Result<Vec<PathBuf>> {
    let mut found = Vec::new();
    let mut waiting = vec![PathBuf::new()];
    while let Some(within) = waiting.pop() {
        for entry in fs::read_dir(folder.join(&within))? {
            let entry = entry?;
            let name = within.join(entry.file_name());
            if entry.file_type()?.is_dir() {
                waiting.push(name.clone());
            }
            if !packet.contains(&name) {
                found.push(name);
            }
        }
    }
    Ok(found)
}

/// Lets one thing stand in a second folder as well: the same file, whatever it is, where the file system can do that.
fn keep(folder: &Path, second: &Path, name: &Path) -> io::Result<()> {
    let (from, to) = (folder.join(name), second.join(name));
    let kind = from.symlink_metadata()?.file_type();
    if kind.is_dir() {
        return fs::create_dir_all(&to);
    }
    if to.symlink_metadata().is_ok() {
        let why = format!("its {} is not of this packet and would be replaced; move it away", name.display());
        return Err(io::Error::new(ErrorKind::AlreadyExists, why));
    }
    if let Some(parent) = to.parent() {
        fs::create_dir_all(parent)?;
    }
    if fs::hard_link(&from, &to).is_ok() {
        return Ok(());
    }
    if kind.is_symlink() {
        return link_again(&from, &to);
    }
    if kind.is_file() {
        return fs::copy(&from, &to).map(drop);
    }
    Err(io::Error::new(ErrorKind::Unsupported, format!("its {} cannot be copied; move it away", name.display())))
}

#[cfg(unix)]
fn link_again(from: &Path, to: &Path) -> io::Result<()> {
    std::os::unix::fs::symlink(fs::read_link(from)?, to)
}

#[cfg(not(unix))]
fn link_again(from: &Path, _to: &Path) -> io::Result<()> {
    Err(io::Error::new(ErrorKind::Unsupported, format!("its link {} cannot be copied; move it away", from.display())))
}

/// What came into the old folder while the new one was filled.
fn keep_late(old: &Path, folder: &Path, packet: &BTreeSet<PathBuf>) -> io::Result<()> {
    for name in others(old, packet)? {
        if folder.join(&name).symlink_metadata().is_err() {
            keep(old, folder, &name)?;
        }
    }
    Ok(())
}

/// What an earlier run says about its packet.
#[derive(serde::Deserialize)]
struct Earlier {
    made_by: String,
    design: String,
    files: Vec<PathBuf>,
}

/// Files and folders of the packet that stands in the folder; nothing where there is no folder. A folder of somebody
/// else's, or of another design, is left alone.
fn earlier_files(folder: &Path, design: &str) -> io::Result<Option<BTreeSet<PathBuf>>> {
    if !folder.exists() {
        return Ok(None);
    }
    let occupied = |why: String| io::Error::new(ErrorKind::AlreadyExists, why);
    if !folder.is_dir() {
        return Err(occupied("it is no folder; choose another --out or --name".to_string()));
    }
    let mut files = vec![PathBuf::from(PACKET_MARK)];
    if fs::read_dir(folder)?.next().is_some() {
        let mark = folder.join(PACKET_MARK);
        let text = if mark.is_symlink() { None } else { file_text(&mark).ok() };
        match serde_json::from_str::<Earlier>(&text.unwrap_or_default()) {
            Ok(earlier) if !earlier.made_by.starts_with("tiltwright ") => return Err(occupied(not_ours())),
            Ok(earlier) if earlier.design == design => files.extend(earlier.files),
            Ok(earlier) => {
                let why = format!("it holds the packet of another design, `{}`; choose another --name", earlier.design);
                return Err(occupied(why));
            }
            Err(_) => return Err(occupied(not_ours())),
        }
    }
    let with_folders = files.iter().flat_map(|file| file.ancestors()).map(Path::to_path_buf);
    Ok(Some(with_folders.collect()))
}

fn not_ours() -> String {
    format!("it holds no {PACKET_MARK} of this program, so it is left alone; choose another --out or --name")
}

fn write_all(folder: &Path, files: &[PacketFile]) -> io::Result<()> {
    for file in files {
        let path = folder.join(&file.path);
        fs::create_dir_all(path.parent().unwrap_or(folder))?;
        fs::write(&path, &file.bytes)?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn packet(words: &str) -> [PacketFile; 2] {
        let mark = r#"{"made_by": "tiltwright 0", "design": "Barn", "files": ["index.html"]}"#;
        [("index.html", words), (PACKET_MARK, mark)]
            .map(|(path, text)| PacketFile { path: path.to_string(), bytes: text.as_bytes().to_vec() })
    }

    #[test]
    fn success_is_said_when_the_packet_stands_and_a_packet_nobody_hears_of_is_taken_back() {
        let place = tempfile::tempdir().expect("a folder");
        let folder = place.path().join("barn");
        let read = || fs::read_to_string(folder.join("index.html")).ok();
        let unheard = || Err(Failure::CannotWrite("standard output".into(), io::ErrorKind::StorageFull.into()));
        assert!(write(&folder, &packet("first"), "Barn", unheard).is_err());
        assert_eq!(fs::read_dir(place.path()).expect("a folder").count(), 0);
        for words in ["first", "second"] {
            let say = || {
                assert_eq!(read().as_deref(), Some(words));
                Ok(())
            };
            assert!(write(&folder, &packet(words), "Barn", say).is_ok());
        }
        assert!(write(&folder, &packet("third"), "Barn", unheard).is_err());
        assert_eq!(read().as_deref(), Some("second"));
        assert_eq!(fs::read_dir(place.path()).expect("a folder").count(), 1);
    }

    /// A file system without an exchange, and a run that is killed after each of its steps.
    #[test]
    fn a_swap_in_two_steps_that_is_cut_short_is_mended_by_the_next_run() {
        for steps in 0..=2 {
            let place = tempfile::tempdir().expect("a folder");
            let folder = place.path().join("barn");
            assert!(write(&folder, &packet("first"), "Barn", || Ok(())).is_ok());
            fs::write(folder.join("notes.txt"), "mine").expect("written");
            let aside = Aside::make(place.path()).expect("made");
            let new = aside.path("new");
            write_all(&new, &packet("second")).expect("written");
            keep(&folder, &new, Path::new("notes.txt")).expect("kept");
            match steps {
                0 => {}
                1 => drop(aside.take_in(&folder).expect("moved")),
                _ => drop(swap_in_two_steps(&aside, &new, &folder).expect("swapped")),
            }
            aside.abandon();
            assert_eq!(folder.exists(), steps != 1);
            drop(Aside::make(place.path()).expect("the next run"));
            let page = fs::read_to_string(folder.join("index.html")).expect("a packet");
            assert_eq!(page, if steps == 2 { "second" } else { "first" });
            assert_eq!(fs::read_to_string(folder.join("notes.txt")).expect("notes"), "mine");
            assert_eq!(fs::read_dir(place.path()).expect("listed").count(), 1);
        }
    }

    #[test]
    fn a_packet_swapped_in_two_steps_goes_back_where_nobody_hears_of_it() {
        let place = tempfile::tempdir().expect("a folder");
        let folder = place.path().join("barn");
        assert!(write(&folder, &packet("first"), "Barn", || Ok(())).is_ok());
        let aside = Aside::make(place.path()).expect("made");
        let new = aside.path("new");
        write_all(&new, &packet("second")).expect("written");
        let old = swap_in_two_steps(&aside, &new, &folder).expect("swapped");
        swap_back(&aside, &old, &folder).expect("swapped back");
        drop(aside);
        assert_eq!(fs::read_to_string(folder.join("index.html")).expect("a packet"), "first");
        assert_eq!(fs::read_dir(place.path()).expect("listed").count(), 1);
    }

    /// What came into the old folder while the new one was filled, with the folder it stands in.
    #[test]
    fn late_files_are_kept_too() {
        let place = tempfile::tempdir().expect("a folder");
        let folder = place.path().join("barn");
        let late = || {
            assert_eq!(fs::read_to_string(folder.join("late/one.txt")).ok().as_deref(), Some("mine"));
            Ok(())
        };
        assert!(write(&folder, &packet("first"), "Barn", || Ok(())).is_ok());
        let old = place.path().join("old");
        fs::create_dir_all(old.join("late")).expect("a folder");
        fs::write(old.join("late/one.txt"), "mine").expect("written");
        keep_late(&old, &folder, &BTreeSet::new()).expect("kept");
        assert!(late().is_ok() && write(&folder, &packet("second"), "Barn", late).is_ok());
    }
}
