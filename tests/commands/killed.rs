//! A packet's folder under hard hands: runs that are killed, and things in it that nobody should open.
#![cfg(unix)]

use crate::common::{project, tiltwright_in};
use std::{
    collections::BTreeMap,
    fs,
    os::unix::fs::symlink,
    path::{Path, PathBuf},
    process::{Command, Stdio},
    time::Duration,
};

/// Every regular file below a folder with its bytes; links are not followed.
fn contents(folder: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    let mut found = BTreeMap::new();
    let mut waiting = vec![folder.to_path_buf()];
    while let Some(within) = waiting.pop() {
        for entry in fs::read_dir(within).expect("a folder") {
            let entry = entry.expect("an entry");
            let kind = entry.file_type().expect("a kind");
            if kind.is_dir() {
                waiting.push(entry.path());
            } else if kind.is_file() {
                found.insert(entry.path(), fs::read(entry.path()).expect("readable"));
            }
        }
    }
    found
}

fn hidden_in(folder: &Path) -> usize {
    let names = fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry").file_name());
    names.filter(|name| name.to_string_lossy().starts_with('.')).count()
}

/// Old and new packet differ in nearly every file; a run is killed at a moment of its own each time.
#[test]
fn a_run_that_is_killed_leaves_the_old_packet_or_the_new_one_whole() {
    const KILLS: u64 = 12;
    let folder = tempfile::tempdir().expect("a folder");
    let out = folder.path().join("out");
    let packet = out.join("packet");
    let design = project().join("designs/sample.yaml");
    let arguments = |units| ["plan", design.to_str().expect("text"), "--name", "packet", "--units", units];
    let whole = |units| {
        assert_eq!(tiltwright_in(folder.path(), &arguments(units)).code, 0);
        contents(&packet)
    };
    whole("us");
    fs::create_dir(packet.join("photos")).expect("a folder");
    fs::write(packet.join("photos/site.jpg"), "mine").expect("written");
    let packets = [whole("us"), whole("metric")];
    assert_ne!(packets[0], packets[1]);
    let mut died = 0;
    for kill in 0..KILLS {
        let mut run = Command::new(assert_cmd::cargo::cargo_bin("tiltwright"))
            .current_dir(folder.path())
            .args(arguments(["us", "metric"][kill as usize % 2]))
            .stdout(Stdio::null())
            .spawn()
            .expect("it starts");
        // From the first file on, all is written within some hundredths of a second.
        while hidden_in(&out) == 0 && run.try_wait().expect("asked").is_none() {
            std::thread::sleep(Duration::from_micros(200));
        }
        std::thread::sleep(Duration::from_millis(kill * 3));
        run.kill().expect("killed, or over");
        died += usize::from(run.wait().expect("waited").code().is_none());
        let stands = contents(&packet);
        assert!(packets.contains(&stands), "kill {kill}: {:?}", stands.keys());
    }
    assert!(died > 0, "no run was killed while it wrote");
    assert_eq!(whole("us"), packets[0]);
    assert_eq!(hidden_in(&out), 0, "what killed runs left is put away");
}

#[test]
fn what_somebody_put_into_a_packet_stays_and_is_never_opened() {
    let folder = tempfile::tempdir().expect("a folder");
    let packet = folder.path().join("out/packet");
    let plan = || tiltwright_in(folder.path(), &["plan", "--name", "packet"]);
    assert_eq!(plan().code, 0);
    fs::create_dir_all(packet.join("sheets/mine/empty")).expect("a folder");
    fs::write(packet.join("sheets/mine/notes.txt"), "mine").expect("written");
    symlink("..", packet.join("loop")).expect("a link");
    symlink("/dev/zero", packet.join("zero")).expect("a link");
    symlink("nowhere", packet.join("dangling")).expect("a link");
    assert!(Command::new("mkfifo").arg(packet.join("pipe")).status().expect("mkfifo").success());
    for _ in 0..2 {
        let run = plan();
        assert_eq!((run.code, run.stderr.as_str()), (0, ""));
        assert_eq!(fs::read_to_string(packet.join("sheets/mine/notes.txt")).expect("notes"), "mine");
        assert!(packet.join("sheets/mine/empty").is_dir());
        for (name, to) in [("loop", ".."), ("zero", "/dev/zero"), ("dangling", "nowhere")] {
            assert_eq!(fs::read_link(packet.join(name)).expect("a link"), Path::new(to));
        }
        let pipe = packet.join("pipe").symlink_metadata().expect("it is there").file_type();
        assert!(!pipe.is_file() && !pipe.is_dir() && !pipe.is_symlink());
    }
    // A packet reached by a link is written where the link leads, and the link stays.
    fs::rename(&packet, folder.path().join("elsewhere")).expect("moved");
    symlink("../elsewhere", &packet).expect("a link");
    assert_eq!(plan().code, 0);
    assert!(packet.is_symlink() && folder.path().join("elsewhere/loop").is_symlink());
    // Marks that are pipes or links mark nothing.
    let mark = folder.path().join("elsewhere/packet.json");
    fs::rename(&mark, folder.path().join("mark")).expect("moved");
    for name in ["pipe", "link"] {
        if name == "pipe" {
            assert!(Command::new("mkfifo").arg(&mark).status().expect("mkfifo").success());
        } else {
            fs::remove_file(&mark).expect("removed");
            symlink("../mark", &mark).expect("a link");
        }
        let run = plan();
        assert!(run.code == 3 && run.stderr.contains("holds no packet.json of this program"), "{run:?}");
    }
}

/// A file of somebody's own where the new packet has one is not replaced, and nothing else is either.
#[test]
fn a_file_that_the_old_packet_did_not_hold_is_not_replaced() {
    let folder = tempfile::tempdir().expect("a folder");
    let packet = folder.path().join("out/packet");
    let design = project().join("designs/sample.yaml");
    let with = fs::read_to_string(&design).expect("the sample");
    let from = with.find("\nloads:").expect("loads") + 1;
    let to = with.find("\ntilts:").expect("tilts") + 1;
    let put = |text: &str| fs::write(folder.path().join("design.yaml"), text).expect("written");
    let plan = || tiltwright_in(folder.path(), &["plan", "design.yaml", "--name", "packet"]);
    put(&format!("{}{}", &with[..from], &with[to..]));
    let run = plan();
    assert_eq!(run.code, 0, "{run:?}");
    assert!(!packet.join("calculation.html").exists());
    fs::write(packet.join("calculation.html"), "mine").expect("written");
    let before = contents(&packet);
    put(&with);
    let run = plan();
    assert_eq!((run.code, run.stdout.as_str()), (3, ""));
    assert!(run.stderr.contains("its calculation.html is not of this packet"), "{}", run.stderr);
    assert_eq!(contents(&packet), before);
    assert_eq!(hidden_in(&folder.path().join("out")), 0);
}

/// What a killed run left beside a file that it was to write is gone after the next run that writes there.
#[test]
fn leftovers_beside_single_files_are_put_away() {
    let folder = tempfile::tempdir().expect("a folder");
    let left = folder.path().join(".tiltwright-1-0.part");
    fs::create_dir(&left).expect("a folder");
    for name in ["lock", "0"] {
        fs::write(left.join(name), "half").expect("written");
    }
    let run = tiltwright_in(folder.path(), &["new", "mine.yaml"]);
    assert_eq!((run.code, run.stderr.as_str()), (0, ""));
    assert_eq!(fs::read_dir(folder.path()).expect("listed").count(), 1);
}
