//! Frames of steel and aluminium, made from the ready ones by changing their text: each is laid out and checked, and one
//! row of each is worked out by hand from AISC 360-16.

use crate::common::{project, tiltwright_in};
use serde_json::Value;
use std::fs;

/// The sheet prints its numbers at full precision in JSON; a hand value uses the same section properties.
const SAME: f64 = 1e-9;

fn ready(name: &str, changes: &[(&str, &str)]) -> String {
    let mut text = fs::read_to_string(project().join("designs").join(name)).expect("a ready design");
    for (from, to) in changes {
        assert!(text.contains(from), "`{from}` stands in {name}");
        text = text.replace(from, to);
    }
    text
}

fn json(text: &str, arguments: &[&str]) -> Value {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("design.yaml"), text).expect("the design is written");
    let run = tiltwright_in(folder.path(), &[arguments, &["design.yaml", "--format", "json"]].concat());
    assert_eq!(run.stderr, "", "{arguments:?}");
    serde_json::from_str(&run.stdout).expect("JSON")
}

/// One calculation: its utilisation and the value of every term and result, by equation and symbol.
struct Sheet(Value);

impl Sheet {
    fn of(text: &str, check: &str, part: &str) -> Self {
        let answer = json(text, &["explain", check]);
        let entries = answer["entries"].as_array().expect("entries");
        let found = entries.iter().find(|e| e["part"] == part).unwrap_or_else(|| panic!("{check} of {part}"));
        Self(found.clone())
    }

    fn utilisation(&self) -> f64 {
        self.0["utilisation"].as_f64().expect("a number")
    }

    fn line(&self, equation: &str) -> &Value {
        let lines = self.0["lines"].as_array().expect("lines");
        lines.iter().find(|l| l["what"].as_str().is_some_and(|e| e.contains(equation))).unwrap_or_else(|| {
            panic!("`{equation}` is not in {:?}", lines.iter().map(|l| &l["what"]).collect::<Vec<_>>())
        })
    }

    fn value(&self, equation: &str) -> f64 {
        self.line(equation)["step"]["value"].as_f64().expect("a result")
    }

    fn term(&self, equation: &str, symbol: &str) -> f64 {
        let terms = self.line(equation)["step"]["terms"].as_array().expect("terms").clone();
        let term = terms.iter().find(|t| t["symbol"] == symbol).unwrap_or_else(|| panic!("{symbol} in {equation}"));
        term["value"].as_f64().expect("a value")
    }
}

fn close(a: f64, b: f64) {
    assert!((a - b).abs() <= SAME * b.abs().max(1e-12), "{a} is not {b}");
}

/// Steel for the aluminium of the deck design; the stay's tube is thick enough for a pin.
fn steel_runners() -> String {
    ready(
        "aluminium-deck.yaml",
        &[
            ("aluminium tube 3x1.5x0.125", "HSS3x1-1/2x1/8"),
            ("aluminium tube 4x2x0.125", "HSS4x2x1/8"),
            ("aluminium tube 2x2x0.125", "HSS2x2x1/8"),
            ("aluminium L1.5x1.5x0.125", "L1-1/2x1-1/2x1/8"),
        ],
    )
}

#[test]
fn a_steel_tube_runner_shears_in_its_two_webs() {
    let text = steel_runners();
    let sheet = Sheet::of(&text, "member-shear", "N1");
    // G4: A_w = 2 (d − 3t) t of HSS4x2x1/8, t 0.116 in; C_v2 = 1; A500 Gr B, 46 ksi; Ω 1.67.
    let v_n = 0.6 * 46.0 * 2.0 * (4.0 - 3.0 * 0.116) * 0.116;
    close(sheet.value("nominal shear"), v_n);
    close(sheet.utilisation(), sheet.term("shear over its available value", "v") / (v_n / 1.67));
    assert!(sheet.line("nominal shear")["source"].as_str().is_some_and(|s| s.contains("AISC 360-16 G")));
}

#[test]
fn a_channel_runner_is_checked_with_channel_equations() {
    let text = steel_runners().replace("section: HSS4x2x1/8\n", "section: C4x5.4\n").replace(
        "    - {section: HSS2x2x1/8, length: 2440 mm",
        "    - {section: C4x5.4, length: 6100 mm, price: 130.00}\n    - {section: HSS2x2x1/8, length: 2440 mm",
    );
    let sheet = Sheet::of(&text, "member-bending", "N1");
    // F2.1 with C4x5.4: Z_x 2.29 in³, A36.
    close(sheet.value("plastic moment"), 36.0 * 2.29);
    // F6.1: F_y Z_y but 1.6 F_y S_y at most; Z_y 0.565, S_y 0.277 in³.
    close(sheet.value("nominal moment about the weak axis"), 36.0 * 0.565_f64.min(1.6 * 0.277));
    // Twist of an open section: T t/J against 0.6 F_y/1.67, t 0.296 in of the flange, J 0.0399 in⁴.
    let twist = Sheet::of(&text, "member-torsion", "N1");
    let t = twist.term("twist of an open section", "t");
    close(twist.utilisation(), t * 0.296 / 0.0399 / (0.6 * 36.0 / 1.67));
}

/// Rails and stiles of channel; one channel is too narrow between two panels, and the hint that is given works.
#[test]
fn channel_rails_need_two_channels_between_panels() {
    let one = ready(
        "steel-frame.yaml",
        &[
            ("  rail: HSS3x2x1/8", "  rail: C3x4.1"),
            ("  stile: HSS3x2x1/8", "  stile: C4x5.4"),
            ("{section: HSS3x2x1/8, length: 20 ft", "{section: C3x4.1, length: 20 ft"),
            ("{section: HSS3x2x1/8, length: 24 ft", "{section: C4x5.4, length: 20 ft"),
        ],
    );
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("design.yaml"), &one).expect("written");
    let run = tiltwright_in(folder.path(), &["strength", "design.yaml"]);
    assert_eq!((run.code, run.stdout.as_str()), (2, ""));
    assert!(run.stderr.contains("error[mullion-too-thin]"), "{}", run.stderr);
    assert!(run.stderr.contains("hint: this works: `frame.mullion_plies: 2`"), "{}", run.stderr);

    let two = one.replace("  stile: C4x5.4", "  stile: C4x5.4\n  mullion_plies: 2");
    let rail = Sheet::of(&two, "member-bending", "R1");
    // F2.1, F2.2 of C3x4.1, A36: Z_x 1.32, S_x 1.10 in³; I_y 0.191 in⁴, C_w 0.307 in⁶, J 0.0269 in⁴, h_0 = 3 − 0.273 in.
    let (m_p, s_x, h_0, j) = (36.0 * 1.32, 1.1, 3.0 - 0.273, 0.0269);
    let r_ts = ((0.191_f64 * 0.307).sqrt() / s_x).sqrt();
    let c = h_0 / 2.0 * (0.191_f64 / 0.307).sqrt();
    let (yielding, g) = (0.7 * 36.0 / 29_000.0, j * c / (s_x * h_0));
    // r_y = √(I_y/A), A 1.20 in².
    let l_p = 1.76 * (0.191_f64 / 1.2).sqrt() * (29_000.0_f64 / 36.0).sqrt();
    let l_r = 1.95 * r_ts / yielding * (g + (g * g + 6.76 * yielding * yielding).sqrt()).sqrt();
    let l_b = rail.term("moment at lateral buckling", "l_b");
    assert!(l_p < l_b && l_b < l_r, "inelastic lateral buckling: {l_p} {l_b} {l_r}");
    let m_nx = m_p - (m_p - 0.7 * 36.0 * s_x) * (l_b - l_p) / (l_r - l_p);
    let m_ny = 36.0 * 0.399_f64.min(1.6 * 0.196);
    let m = |way: &str| rail.term(&format!("moment over the {way} by"), if way == "depth" { "m_rx" } else { "m_ry" });
    // H1-1b: little axial force.
    let axial = rail.term("axial force with bending", "p");
    assert!(axial < 0.2);
    close(rail.utilisation(), axial / 2.0 + m("depth") / (m_nx / 1.67) + m("width") / (m_ny / 1.67));
}

#[test]
fn pipe_posts_bend_to_their_plastic_moment() {
    let text = ready("steel-frame.yaml", &[("HSS4x4x1/4", "Pipe 4 STD")]);
    let post = Sheet::of(&text, "post-below-grade", "P1");
    // F8.1 of Pipe 4 STD: D/t 20.4 is below 0.07 E/F_y = 58, so M_n = F_y Z; A53 Gr B, 35 ksi; Z 4.05 in³.
    let m_n = 35.0 * 4.05;
    close(post.value("plastic moment"), m_n);
    // E3: K 2.1, r = √(I/A) = √(6.82/2.96) in; F_e = π² E/(K L/r)², F_cr = 0.658^(F_y/F_e) F_y.
    let l = post.term("slenderness of the column", "l");
    let f_e = (std::f64::consts::PI / (2.1 * l / (6.82_f64 / 2.96).sqrt())).powi(2) * 29_000.0;
    let p_n = 0.658_f64.powf(35.0 / f_e) * 35.0 * 2.96;
    let axial = post.term("push over its available value", "p_r") / (p_n / 1.67);
    let m = |way: &str| {
        post.term(&format!("moment over the {way} by"), if way == "depth" { "m_rx" } else { "m_ry" }) / (m_n / 1.67)
    };
    assert!(axial < 0.2);
    close(post.utilisation(), axial / 2.0 + m("depth") + m("width"));
}

#[test]
fn aluminium_gives_first_yield_alone_and_no_verdict_with_every_reason() {
    let text = ready("aluminium-deck.yaml", &[]);
    let answer = json(&text, &["strength"]);
    assert_eq!(answer["holds"], false);
    let state = |check: &str| {
        let checks = answer["checks"].as_array().expect("checks");
        checks.iter().find(|c| c["check"] == check).unwrap_or_else(|| panic!("{check}")).clone()
    };
    for (check, why) in [
        ("member-bending", "first yield alone: buckling of aluminium is not held"),
        ("member-shear", "shear of aluminium"),
        ("member-torsion", "torsion of aluminium"),
        ("net-section", "the section left at a hole of aluminium"),
        ("fixed-pin", "bolts bearing on aluminium"),
        ("stay", "first yield alone"),
        ("roof-structure", "for an engineer to say"),
    ] {
        assert_eq!(state(check)["state"], "not checked", "{check}");
        assert!(state(check)["why"].as_str().is_some_and(|w| w.contains(why)), "{}", state(check));
    }
    // First yield of the rail, taken as 6063-T5, the weakest common extrusion: (f_a + f_b)/(16 ksi/1.65).
    let rail = Sheet::of(&text, "member-bending", "R1");
    let stress = rail.term("first yield of aluminium", "f_a") + rail.term("first yield of aluminium", "f_b");
    close(rail.utilisation(), stress / (16.0 / 1.65));
    // A metal frame is not joined by wood screws, and the list says who chooses.
    let list = json(&text, &["cutlist"]);
    let hardware = list["hardware"].as_array().expect("hardware");
    assert!(hardware.iter().all(|h| !h["item"].as_str().is_some_and(|i| i.contains("wood screw"))), "{hardware:?}");
    assert!(hardware.iter().any(|h| h["item"] == "welds or bolts of metal: frame joints"));
}

/// Where a bracket stands beside a contact, a moment of the runner found no arm and pulled without end.
#[test]
fn a_bracket_near_a_contact_is_not_pried_without_end() {
    let of = |length: &str, count: &str| {
        let changes = [("length: 1400 mm", length), ("per_runner: 3", count)];
        let answer = json(&ready("aluminium-deck.yaml", &changes), &["strength"]);
        let rows = answer["rows"].as_array().expect("rows").clone();
        rows.iter().find(|r| r["part"] == "brackets").and_then(|r| r["utilisation"].as_f64()).expect("a number")
    };
    // At 1400 mm the second of four brackets stands 5 mm from the stay of the middle tilt.
    let (near, clear) = (of("length: 1400 mm", "per_runner: 4"), of("length: 1500 mm", "per_runner: 4"));
    assert!(near / clear < 2.0 && clear / near < 2.0, "{near} {clear}");
}
