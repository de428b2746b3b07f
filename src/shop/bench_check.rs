//! What to tape on the bench before corners are fixed, and how to judge it: one order for the card, the page and `square`.

use crate::{
    design::Design,
    frame::{BenchLimits, Frame, READING_MM},
    quantities::{Units, length, length_exact, length_kept, limit, mm, number},
};

/// One pair of lengths to tape.
#[derive(Debug, Clone, PartialEq)]
pub struct Taping {
    /// What is measured; corners A, B, C, D run from the low left round by the low right.
    pub what: String,
    /// What both should read (mm).
    pub reads_mm: f64,
    /// What the two may differ by (mm).
    pub may_differ_mm: f64,
}

/// The bench check of a frame.
#[derive(Debug, Clone, PartialEq)]
pub struct BenchCheck {
    /// What to tape, outside first.
    pub tapings: Vec<Taping>,
    /// How to judge it, in order: the first that fails is the one to mend.
    pub steps: Vec<String>,
    /// The command that judges the same.
    pub command: String,
}

impl BenchCheck {
    /// The check of a frame of a design.
    #[must_use]
    pub fn of(design: &Design, frame: &Frame, units: Units) -> Self {
        let bench = BenchLimits::of(design, frame);
        Self {
            tapings: tapings(frame, &bench, units),
            steps: steps(frame, &bench, units),
            command: command(frame, &bench, units),
        }
    }
}

fn tapings(frame: &Frame, bench: &BenchLimits, units: Units) -> Vec<Taping> {
    let (width, height, limits) = (frame.width_mm, frame.length_mm, bench.limits);
    let taping = |what: String, reads_mm, may_differ_mm| Taping { what, reads_mm, may_differ_mm };
    let mut rows = vec![
        taping("low and high rail, A–B and D–C".to_string(), width, limits.pair_mm),
        taping("left and right stile, A–D and B–C".to_string(), height, limits.pair_mm),
        taping("outside diagonals, A–C and B–D".to_string(), width.hypot(height), limits.difference_mm),
    ];
    for (n, bay) in frame.bays.iter().enumerate() {
        let (w, h) = (bay.x_mm[1] - bay.x_mm[0], bay.u_mm[1] - bay.u_mm[0]);
        let sides = format!("{} by {}", length(mm(w), units), length(mm(h), units));
        // A bay leans by the angle of the whole frame.
        let rack_mm = limits.rack_mm * h / height;
        rows.push(taping(
            format!("diagonals of bay {}, inside, {sides}", n + 1),
            w.hypot(h),
            2.0 * w * rack_mm / w.hypot(h),
        ));
    }
    rows
}

fn steps(frame: &Frame, bench: &BenchLimits, units: Units) -> Vec<String> {
    let (width, height, limits) = (frame.width_mm, frame.length_mm, bench.limits);
    let most = |value_mm| limit(mm(value_mm), units);
    let mut steps = vec![
        "Lay the frame face up on a flat bench, one screw in each corner. Tape the four sides and both diagonals over the outside and write all six down.".to_string(),
        format!(
            "Do they fit? Take √(w² + h²) of the rails' mean and the stiles' mean ({} when they read true): the mean of the two diagonals is within {} of it. If not, measure again: a reading is wrong and none of them tells which, or, where the diagonals come out short, a corner does not lie flat.",
            length(mm(width.hypot(height)), units),
            most(limits.misfit_mm / 2.0)
        ),
        format!(
            "Are opposite sides equal? They may differ by {}. If they differ more it is not a rectangle, however equal the diagonals are, and no push mends it: cut the odd part anew.",
            most(limits.pair_mm)
        ),
        format!(
            "Is it the right size? The mean of two sides may be {} off. If it is more, check the panels' room before anything is fixed.",
            most(limits.size_mm)
        ),
        format!(
            "Is it racked? The diagonals may differ by {}: that is a slide of {}, {}. If they differ more, clamp the low rail to the bench and push the high corner of the longer diagonal along the high rail, by {} times the difference, and measure again.",
            most(limits.difference_mm),
            most(limits.rack_mm),
            taken_up_by(bench, units),
            number(width.hypot(height) / (2.0 * width), 2)
        ),
    ];
    if !limits.tape_can_prove() {
        steps.push(format!(
            "Two readings of a tape tell no less than {} apart, so a tape cannot prove this frame square: push until both diagonals read the same.",
            length_exact(mm(READING_MM * 2f64.sqrt()), units)
        ));
    }
    steps.push("Is it in wind (twisted)? A tape does not show it: stretch one string from A to C and one from B to D. They just touch where they cross; a gap there is half of what one corner stands off. Shim the bench until they touch.".to_string());
    steps.push("Then fix corners and braces, and tape the diagonals once more.".to_string());
    steps
}

fn taken_up_by(bench: &BenchLimits, units: Units) -> String {
    let most = |value_mm| limit(mm(value_mm), units);
    match bench.panel_rack_mm {
        Some(room_mm) if bench.panels_govern() => {
            format!("all the room that the inset panels leave ({}; the bolt holes would take up more)", most(room_mm))
        }
        Some(room_mm) => {
            format!("what the bolt holes take up (the inset panels leave room for {})", most(room_mm))
        }
        None => "what the bolt holes take up".to_string(),
    }
}

/// Sizes as they are taped, which is what is compared with readings; the play as the bolt and its hole have it.
fn command(frame: &Frame, bench: &BenchLimits, units: Units) -> String {
    let option = |name: &str, text: String| format!(" --{name} {}", text.replace(' ', ""));
    let mut command = "tiltwright square".to_string();
    command += &option("width", length(mm(frame.width_mm), units));
    command += &option("height", length(mm(frame.length_mm), units));
    command += " --sides LOW,RIGHT,HIGH,LEFT --diagonals A–C,B–D";
    command += &option("play", length_kept(mm(bench.play_mm), units));
    if let Some(room_mm) = bench.panel_rack_mm.filter(|_| bench.panels_govern()) {
        command += &option("most-rack", length_kept(mm(room_mm), units));
    }
    command
}
