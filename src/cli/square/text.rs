//! What the lengths say, in words.

use crate::{
    frame::{Corner, Finding, Limits, Measured, READING_MM, Side, Squareness},
    quantities::{Units, length, length_exact, limit, mm, number},
};

/// Everything the text is made of.
pub(super) struct Said<'a> {
    pub(super) measured: &'a Measured,
    pub(super) limits: &'a Limits,
    pub(super) judged: &'a Squareness,
    /// What sets the limit of the rack, before its length.
    pub(super) limited_by: &'static str,
    pub(super) units: Units,
}

impl Said<'_> {
    pub(super) fn all(&self) -> String {
        let mut lines = Vec::new();
        for (n, finding) in self.judged.findings.iter().enumerate() {
            let found = self.finding(*finding);
            lines.extend(found.into_iter().map(|line| if n == 0 { line } else { format!("also {line}") }));
        }
        lines.extend(self.figures());
        if !self.limits.tape_can_prove() {
            lines.push(format!(
                "a tape cannot prove this frame square: {} {} between the diagonals, and two readings tell no less than {} apart; push until both read the same",
                self.limited_by,
                self.most(self.limits.difference_mm),
                self.exact(READING_MM * 2f64.sqrt())
            ));
        }
        lines.push(
            "a tape does not show wind: stretch strings across both pairs of corners; they just touch where they cross, or one corner stands off by twice the gap"
                .to_string(),
        );
        lines.join("\n") + "\n"
    }

    fn finding(&self, finding: Finding) -> Vec<String> {
        match finding {
            Finding::MeasureAgain => self.measure_again(),
            Finding::NotARectangle => self.not_a_rectangle(),
            Finding::WrongSize => self.wrong_size(),
            Finding::Push => self.push(),
            Finding::Square => self.square(),
        }
    }

    fn measure_again(&self) -> Vec<String> {
        let mut lines = vec![match self.judged.misfit_mm {
            Some(misfit) => format!(
                "measure again: these lengths fit no flat frame, they miss one by {}, and {} is the most a tape explains",
                self.exact(misfit.abs()),
                self.most(self.limits.misfit_mm)
            ),
            None => "measure again: no four-sided frame has these lengths; check the units of each".to_string(),
        }];
        lines.push("six lengths never tell which of them is wrong; if it were one alone:".to_string());
        let names = Side::ALL.map(Side::words).into_iter().chain(["low left to high right", "low right to high left"]);
        let read = self.measured.lengths_mm();
        for (n, ((name, read), alone)) in names.zip(read).zip(self.judged.alone_mm).enumerate() {
            let read_or_taken =
                if n < Side::ALL.len() && self.measured.sides_mm.is_none() { "taken as" } else { "read" };
            let would =
                alone.map_or("no length makes it fit".to_string(), |alone| format!("it would be {}", self.tape(alone)));
            lines.push(format!("  {name}: {read_or_taken} {}, {would}", self.tape(read)));
        }
        if self.measured.sides_mm.is_none() {
            lines.push(
                "the sides were not measured: the frame may as well be of another size; measure all four".to_string(),
            );
        }
        if let Some(off) = self.judged.off_flat_mm.filter(|off| *off <= self.seen_by_eye_mm()) {
            lines.push(format!(
                "or no reading is wrong and one corner stands {} off the plane of the others: lay the frame flat first",
                self.tape(off)
            ));
        }
        lines
    }

    /// A corner farther off its plane is seen without a tape. Judgement: an eighth of the short side.
    fn seen_by_eye_mm(&self) -> f64 {
        let [width, height] = self.measured.nominal_mm;
        width.min(height) / 8.0
    }

    fn not_a_rectangle(&self) -> Vec<String> {
        let said = self.judged.odd_parts.iter().map(|odd| {
            let (part, than, by) = (odd.part.words(), odd.than.words(), self.tape(odd.longer_mm.abs()));
            let mend = match (odd.longer_mm > 0.0, odd.part) {
                (true, _) => format!("cut the {part} back to the {than}"),
                (false, _) => format!("cut a new {part}"),
            };
            let word = if odd.longer_mm > 0.0 { "longer" } else { "shorter" };
            format!("not a rectangle: the {part} is {by} {word} than the {than}; pushing does not mend it, {mend}")
        });
        said.collect()
    }

    fn wrong_size(&self) -> Vec<String> {
        let pairs = ["rails", "stiles"].into_iter().zip(self.measured.nominal_mm).zip(self.judged.size_error_mm);
        let wrong = pairs.zip(self.judged.wrong_size).filter(|(_, wrong)| *wrong);
        let said = wrong.map(|(((pair, nominal), off), _)| {
            let word = if off > 0.0 { "longer" } else { "shorter" };
            format!(
                "wrong size: both {pair} are {} {word} than {}; check the panels' room before anything is fixed",
                self.tape(off.abs()),
                self.tape(nominal)
            )
        });
        said.collect()
    }

    fn push(&self) -> Vec<String> {
        let Some((figure, corner)) = self.judged.figure.and_then(|f| Some((f, f.push()?))) else { return Vec::new() };
        let (to, ends) = match corner {
            Corner::HighRight => ("left", "low left to high right"),
            Corner::HighLeft => ("right", "low right to high left"),
        };
        let slid = self.tape(figure.rack_mm.abs());
        let long =
            self.judged.difference_mm != 0.0 && (self.judged.difference_mm > 0.0) == (corner == Corner::HighRight);
        let squeeze = match long {
            true => {
                format!(", or squeeze that diagonal, {ends}, by {}", self.tape(self.judged.difference_mm.abs() / 2.0))
            }
            false => String::new(),
        };
        vec![format!(
            "push: clamp the low rail to the bench and push the {} corner {slid} to the {to}, along the high rail{squeeze}; {} {}",
            corner.words(),
            self.limited_by,
            self.most(self.limits.rack_mm)
        )]
    }

    fn square(&self) -> Vec<String> {
        let sides = if self.measured.sides_mm.is_some() { "square" } else { "square, if the sides are true" };
        let rack = self.judged.figure.map_or(0.0, |figure| figure.rack_mm.abs());
        let mut lines = vec![format!(
            "{sides}: the high edge has slid {} against the low one, and {} {}",
            self.exact(rack),
            self.limited_by,
            self.most(self.limits.rack_mm)
        )];
        if self.measured.sides_mm.is_none() {
            lines.push(
                "the sides were not measured: a frame with a short rail can have equal diagonals; give --sides"
                    .to_string(),
            );
        }
        lines
    }

    /// Diagonals, and the angles of a figure that can be believed.
    fn figures(&self) -> Vec<String> {
        let [width, height] = self.measured.nominal_mm;
        let mut lines = vec![format!(
            "diagonals differ by {} ({}); both of a true frame of this size are {} ({})",
            self.tape(self.judged.difference_mm.abs()),
            self.exact(self.judged.difference_mm.abs()),
            self.tape(width.hypot(height)),
            self.exact(width.hypot(height))
        )];
        if let (Some(figure), Some(misfit)) = (self.judged.figure, self.judged.misfit_mm)
            && self.judged.verdict() != Finding::MeasureAgain
        {
            let angles: Vec<String> = figure.corner_angles_deg.iter().map(|a| format!("{}°", number(*a, 2))).collect();
            lines.push(format!("corners, from the low left round by the low right: {}", angles.join("  ")));
            if self.measured.sides_mm.is_some() {
                lines.push(format!(
                    "the six lengths miss a flat figure by {}, and a tape explains {}",
                    self.exact(misfit.abs()),
                    self.most(self.limits.misfit_mm)
                ));
            }
        }
        lines
    }

    fn tape(&self, value_mm: f64) -> String {
        length(mm(value_mm), self.units)
    }

    fn most(&self, value_mm: f64) -> String {
        limit(mm(value_mm), self.units)
    }

    fn exact(&self, value_mm: f64) -> String {
        length_exact(mm(value_mm), self.units)
    }
}
