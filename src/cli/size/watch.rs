//! How far a search is, on a terminal, when it takes over a second.

use crate::sizing::{Found, Watch};
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use std::io::Write as _;
use std::{
    io::IsTerminal,
    time::{Duration, Instant},
};

/// A line on the terminal that the search keeps up.
pub(super) struct Progress {
    began: Instant,
    bar: ProgressBar,
}

/// What is over sooner shows nothing.
const PATIENCE: Duration = Duration::from_secs(1);

impl Progress {
    pub(super) fn new(candidates: usize) -> Self {
        let bar = ProgressBar::with_draw_target(Some(candidates as u64), ProgressDrawTarget::hidden());
        if let Ok(style) = ProgressStyle::with_template("{msg} {bar:30} {pos} of {len}, {per_sec}, {eta} left") {
            bar.set_style(style);
        }
        Self { began: Instant::now(), bar }
    }

    fn tell(&self, what: &'static str, done: usize, of: usize) {
        if self.began.elapsed() < PATIENCE || !std::io::stderr().is_terminal() {
            return;
        }
        if self.bar.is_hidden() {
            self.bar.set_draw_target(ProgressDrawTarget::stderr());
        }
        self.bar.set_message(what);
        self.bar.set_length(of as u64);
        self.bar.set_position(done as u64);
    }

    /// Takes the line away and says how fast it went: on stderr, for a result must not depend on the machine.
    pub(super) fn finish(&self, found: &Found) {
        self.bar.finish_and_clear();
        let seconds = found.judging.as_secs_f64();
        if self.began.elapsed() >= PATIENCE && seconds > 0.0 {
            let counts = &found.counts;
            let each = |n: usize| n as f64 / seconds;
            let _ = writeln!(
                std::io::stderr(),
                "judged in {seconds:.1} s: {} completely ({:.0} a second), {} on a part of the checks ({:.0} a second)",
                counts.complete,
                each(counts.complete),
                counts.on_part,
                each(counts.on_part)
            );
        }
    }
}

impl Watch for Progress {
    fn laying_out(&self, done: usize, of: usize) {
        self.tell("laying out", done, of);
    }

    fn judging(&self, done: usize, of: usize) {
        self.tell("checking, the least first", done, of);
    }
}
