//! The committed packet of the built-in design is what `plan` writes today, byte for byte.

use std::{
    collections::BTreeMap,
    fs,
    path::{Path, PathBuf},
};

fn files_below(folder: &Path, root: &Path, found: &mut BTreeMap<PathBuf, Vec<u8>>) {
    for entry in fs::read_dir(folder).expect("the folder can be read") {
        let path = entry.expect("the entry can be read").path();
        if path.is_dir() {
            files_below(&path, root, found);
        } else {
            let name = path.strip_prefix(root).expect("below the root").to_path_buf();
            found.insert(name, fs::read(&path).expect("the file can be read"));
        }
    }
}

fn packet(folder: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    let mut found = BTreeMap::new();
    files_below(folder, folder, &mut found);
    found
}

#[test]
fn the_committed_sample_is_what_plan_writes() {
    let out = tempfile::tempdir().expect("a temporary folder");
    let run = assert_cmd::Command::cargo_bin("tiltwright")
        .expect("the binary is built with the tests")
        .args(["plan", "--name", "sample", "--out"])
        .arg(out.path())
        .output()
        .expect("the binary starts");
    assert!(run.status.success(), "{}", String::from_utf8_lossy(&run.stderr));
    let written = packet(&out.path().join("sample"));
    let committed = packet(&Path::new(env!("CARGO_MANIFEST_DIR")).join("out/sample"));
    let names = |packet: &BTreeMap<PathBuf, Vec<u8>>| packet.keys().cloned().collect::<Vec<_>>();
    assert_eq!(names(&written), names(&committed), "run `cargo run -- plan --name sample`, look, commit");
    for (name, bytes) in &written {
        assert!(
            committed[name] == *bytes,
            "{} changed: run `cargo run -- plan --name sample`, look, commit",
            name.display()
        );
    }
}
