//! Text: the size ladder, what may be written, and how much room it takes.

use super::geometry::{Point, Rect};

/// Font families named in every drawing, in order of preference.
pub(crate) const FONT_FAMILIES: &str = "'DejaVu Sans', 'Liberation Sans', Arial, Helvetica, sans-serif";

/// Height of a capital over the font size in DejaVu Sans 2.37 (1493 of 2048 units); Liberation Sans has 0.688.
const CAPITAL_OVER_SIZE: f64 = 0.729;
/// Room above the baseline over the font size: capitals with accents in the common sans fonts reach about 0.95.
const ABOVE: f64 = 0.95;
/// Room below the baseline over the font size: descenders reach 0.24.
const BELOW: f64 = 0.25;
/// Widths are raised by this, so that a font a little wider than the table still fits (judgement).
const WIDTH_ALLOWANCE: f64 = 1.03;
/// Width of a character that is not in the tables, over the font size: covers Latin, Greek, Cyrillic, Hebrew, Arabic, and CJK (1.0).
const WIDTH_OTHER: f64 = 1.2;
/// Width of a pictograph over the font size: colour emoji fonts advance up to about 1.3.
const WIDTH_PICTOGRAPH: f64 = 1.45;

/// Steps of the text-size ladder, named by height of capitals.
///
/// # Source
/// Ladder of ISO 3098-1 (1.8, 2.5, 3.5, 5, 7 mm), from memory. 1.8 mm is kept for small print in title blocks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum TextSize {
    /// 1.8 mm: labels inside the title block, cautions, chart ticks.
    Fine,
    /// 2.5 mm: dimensions, tables, notes.
    #[default]
    Small,
    /// 3.5 mm: part marks, headings of views.
    Normal,
    /// 5 mm: sheet titles.
    Large,
    /// 7 mm: page labels.
    Huge,
}

impl TextSize {
    /// Height of capitals (mm).
    #[must_use]
    pub fn capital(self) -> f64 {
        match self {
            Self::Fine => 1.8,
            Self::Small => 2.5,
            Self::Normal => 3.5,
            Self::Large => 5.0,
            Self::Huge => 7.0,
        }
    }

    /// Font size (mm), the em square.
    #[must_use]
    pub fn font_size(self) -> f64 {
        self.capital() / CAPITAL_OVER_SIZE
    }

    /// Distance between baselines of a paragraph (mm), at which lines never touch.
    #[must_use]
    pub fn line_pitch(self) -> f64 {
        (ABOVE + BELOW + 0.02) * self.font_size()
    }

    /// Room above the baseline (mm).
    #[must_use]
    pub fn above(self) -> f64 {
        ABOVE * self.font_size()
    }

    /// Room below the baseline (mm).
    #[must_use]
    pub fn below(self) -> f64 {
        BELOW * self.font_size()
    }
}

/// Which point of a text stands at its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Anchor {
    /// Left end of the baseline.
    #[default]
    Start,
    /// Middle of the baseline.
    Middle,
    /// Right end of the baseline.
    End,
}

/// A line of text on the paper. The content is made safe on the way in, see [`safe`].
#[derive(Debug, Clone, PartialEq)]
pub struct Text {
    content: String,
    /// Place of the anchor, on the baseline.
    pub at: Point,
    /// Step of the ladder.
    pub size: TextSize,
    /// Which end stands at `at`.
    pub anchor: Anchor,
    /// Direction of the baseline (deg), counterclockwise from the right as seen on the paper.
    pub rotation_deg: f64,
    /// Bold face.
    pub bold: bool,
}

impl Text {
    /// A level text starting at a point.
    #[must_use]
    pub fn new(content: &str, at: Point, size: TextSize) -> Self {
        Self { content: safe(content), at, size, anchor: Anchor::Start, rotation_deg: 0.0, bold: false }
    }

    /// The same text with another anchor.
    #[must_use]
    pub fn anchored(mut self, anchor: Anchor) -> Self {
        self.anchor = anchor;
        self
    }

    /// The same text turned about its anchor (deg), counterclockwise.
    #[must_use]
    pub fn rotated(mut self, rotation_deg: f64) -> Self {
        self.rotation_deg = rotation_deg;
        self
    }

    /// The same text in the bold face.
    #[must_use]
    pub fn bold(mut self) -> Self {
        self.bold = true;
        self
    }

    /// The same text with the middle of its capitals at `at`, whatever its rotation.
    #[must_use]
    pub fn centred(mut self) -> Self {
        self.anchor = Anchor::Middle;
        self.on_middle()
    }

    /// The same text with the mid height of its capitals, not the baseline, on `at`.
    #[must_use]
    pub fn on_middle(mut self) -> Self {
        self.at = self.at.towards(self.rotation_deg - 90.0, 0.5 * self.size.capital());
        self
    }

    /// The same text moved (mm).
    #[must_use]
    pub fn moved(mut self, dx: f64, dy: f64) -> Self {
        self.at = self.at.moved(dx, dy);
        self
    }

    /// What is written.
    #[must_use]
    pub fn content(&self) -> &str {
        &self.content
    }

    /// Length of the text along its baseline (mm), never less than what a common sans font takes.
    #[must_use]
    pub fn length(&self) -> f64 {
        width(&self.content, self.size, self.bold)
    }

    /// Corners of the room taken, in order around it.
    #[must_use]
    pub fn corners(&self) -> [Point; 4] {
        self.room(0.0)
    }

    /// Corners of the room taken with `around` (mm) added on all sides.
    #[must_use]
    pub fn room(&self, around: f64) -> [Point; 4] {
        let length = self.length();
        let back = match self.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => 0.5 * length,
            Anchor::End => length,
        };
        // Along the line of the text, and up from it. Labels ask for thousands of rooms: one sine serves all corners.
        let along = Point::new(0.0, 0.0).towards(self.rotation_deg, 1.0);
        let up = Point::new(along.y, -along.x);
        let at = |far: f64, high: f64| self.at.moved(along.x * far + up.x * high, along.y * far + up.y * high);
        let (start, end) = (-back - around, length - back + around);
        let (above, below) = (self.size.above() + around, self.size.below() + around);
        [at(start, -below), at(end, -below), at(end, above), at(start, above)]
    }

    /// Upright box around the room taken.
    #[must_use]
    pub fn bounds(&self) -> Rect {
        let [a, b, c, d] = self.corners();
        Rect::between(a, b).with(Rect::between(c, d))
    }
}

/// Width of a line of text (mm), from the table of advance widths.
#[must_use]
pub fn width(content: &str, size: TextSize, bold: bool) -> f64 {
    let ems: f64 = content.chars().map(|c| advance(c, bold)).sum();
    ems * WIDTH_ALLOWANCE * size.font_size()
}

/// The text made safe to draw: on one line, without control, direction-changing or zero-width characters (they would put
/// the computed width in doubt), without stacks of accents, and without the few characters wider than two capitals.
#[must_use]
pub fn safe(content: &str) -> String {
    let mut result = String::with_capacity(content.len());
    let mut accents = 0;
    for c in content.chars() {
        let c = if c.is_whitespace() || c.is_control() { ' ' } else { c };
        if is_accent(c) {
            accents += 1;
            if accents <= MOST_ACCENTS && !result.is_empty() {
                result.push(c);
            }
            continue;
        }
        accents = 0;
        match c {
            ' ' if result.is_empty() || result.ends_with(' ') => {}
            _ if is_invisible(c) => {}
            _ if is_too_wide(c) => result.push('?'),
            _ => result.push(c),
        }
    }
    result.truncate(result.trim_end().len());
    result
}

/// The text cut to a width (mm), ending in `…` when something was left out.
#[must_use]
pub fn fit(content: &str, size: TextSize, bold: bool, room: f64) -> String {
    let content = safe(content);
    if width(&content, size, bold) <= room {
        return content;
    }
    let mut kept = String::new();
    for c in content.chars() {
        kept.push(c);
        if width(&format!("{kept}…"), size, bold) > room {
            kept.pop();
            break;
        }
    }
    format!("{}…", kept.trim_end())
}

/// The text broken into lines no wider than `room` (mm); line ends in the text are kept, and a word too long for a line is split.
#[must_use]
pub fn wrap(content: &str, size: TextSize, bold: bool, room: f64) -> Vec<String> {
    content.lines().flat_map(|line| wrap_line(&safe(line), size, bold, room)).collect()
}

fn wrap_line(content: &str, size: TextSize, bold: bool, room: f64) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in content.split(' ') {
        let joined = if line.is_empty() { word.to_string() } else { format!("{line} {word}") };
        if width(&joined, size, bold) <= room {
            line = joined;
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        for c in word.chars() {
            line.push(c);
            // A single character always goes through, however narrow the room, or this would never end.
            if width(&line, size, bold) > room && line.chars().count() > 1 {
                line.pop();
                lines.push(std::mem::replace(&mut line, c.to_string()));
            }
        }
    }
    lines.push(line);
    lines
}

/// More accents than this on one letter would climb out of the line.
const MOST_ACCENTS: usize = 2;

fn is_accent(c: char) -> bool {
    matches!(u32::from(c), 0x300..=0x36f | 0x483..=0x489 | 0x1ab0..=0x1aff | 0x1dc0..=0x1dff | 0x20d0..=0x20ff | 0xfe20..=0xfe2f)
}

fn is_invisible(c: char) -> bool {
    matches!(u32::from(c), 0xad | 0x61c | 0x180e | 0x200b..=0x200f | 0x202a..=0x202e | 0x2060..=0x206f | 0xfe00..=0xfe0f
        | 0xfeff | 0xfff0..=0xfffb | 0xfffe | 0xffff | 0xe0000..=0xe0fff | 0xe000..=0xf8ff | 0xf0000..=0x10ffff)
}

fn is_too_wide(c: char) -> bool {
    matches!(u32::from(c), 0x2e3a | 0x2e3b | 0x2031 | 0xfdf0..=0xfdfd | 0x102a | 0x12000..=0x1254f)
}

/// Advance width over the font size, the wider of DejaVu Sans 2.37 and Liberation Sans 2.1 (read from their `hmtx` tables).
fn advance(c: char, bold: bool) -> f64 {
    let code = u32::from(c);
    if (0x20..0x7f).contains(&code) {
        let table = if bold { &WIDTHS_BOLD } else { &WIDTHS };
        return f64::from(table[(code - 0x20) as usize]) / 1000.0;
    }
    if let Some((_, plain, heavy)) = WIDTHS_SIGNS.iter().find(|(sign, ..)| *sign == c) {
        return f64::from(if bold { *heavy } else { *plain }) / 1000.0;
    }
    match code {
        _ if is_accent(c) => 0.0,
        0x1c4..=0x1cc | 0x1f1..=0x1f3 => 1.56,
        // Latin with accents, Greek and Cyrillic: the widest letters in the bold face.
        0xa0..=0x24f | 0x370..=0x3ff | 0x1e00..=0x1eff => {
            if bold {
                1.1
            } else {
                1.0
            }
        }
        0x400..=0x52f | 0x600..=0x6ff | 0x2200..=0x22ff => {
            if bold {
                1.43
            } else {
                WIDTH_OTHER.max(1.43)
            }
        }
        0x2600..=0x27bf | 0x1f000..=0x1ffff => WIDTH_PICTOGRAPH,
        _ => WIDTH_OTHER,
    }
}

/// Widths of `' '` to `'~'` in thousandths of the font size.
#[rustfmt::skip]
const WIDTHS: [u16; 95] = [
    318, 401, 460, 838, 637, 951, 780, 275, 391, 391, 500, 838, 318, 361, 318, 337,
    637, 637, 637, 637, 637, 637, 637, 637, 637, 637, 337, 337, 838, 838, 838, 557,
    1016, 685, 687, 723, 771, 667, 611, 778, 752, 295, 500, 667, 558, 863, 749, 788,
    667, 788, 723, 667, 611, 732, 685, 989, 686, 667, 686, 391, 337, 391, 838, 557,
    500, 613, 635, 550, 635, 616, 353, 635, 634, 278, 278, 580, 278, 975, 634, 612,
    635, 635, 412, 521, 393, 634, 592, 818, 592, 592, 525, 637, 337, 637, 838,
];

/// The same for the bold face.
#[rustfmt::skip]
const WIDTHS_BOLD: [u16; 95] = [
    349, 457, 521, 838, 696, 1002, 873, 307, 458, 458, 523, 838, 380, 416, 380, 366,
    696, 696, 696, 696, 696, 696, 696, 696, 696, 696, 400, 400, 838, 838, 838, 611,
    1000, 774, 763, 734, 831, 684, 684, 821, 837, 373, 557, 775, 638, 996, 837, 851,
    733, 851, 771, 721, 683, 813, 774, 1104, 771, 725, 726, 458, 366, 458, 838, 557,
    500, 675, 716, 593, 716, 679, 436, 716, 712, 343, 343, 666, 343, 1042, 712, 688,
    716, 716, 494, 596, 479, 712, 652, 924, 646, 652, 583, 712, 366, 712, 838,
];

/// Signs that drawings use often, plain and bold.
#[rustfmt::skip]
const WIDTHS_SIGNS: [(char, u16, u16); 34] = [
    ('°', 500, 500), ('×', 838, 838), ('·', 318, 380), ('–', 557, 557), ('—', 1000, 1000), ('…', 1000, 1000),
    ('½', 970, 1036), ('¼', 970, 1036), ('¾', 970, 1036), ('²', 401, 438), ('³', 401, 438), ('±', 838, 838),
    ('≤', 838, 838), ('≥', 838, 838), ('Δ', 685, 774), ('φ', 660, 783), ('Ø', 788, 851), ('ø', 612, 688),
    ('β', 639, 716), ('µ', 637, 736), ('→', 1000, 1000), ('←', 1000, 1000), ('√', 638, 667), ('≈', 838, 838),
    ('″', 374, 480), ('′', 228, 264), ('“', 519, 658), ('”', 519, 658), ('‘', 318, 380), ('’', 318, 380),
    ('•', 590, 640), ('−', 838, 838), ('⌀', 603, 603), ('∠', 897, 897),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hostile_text_becomes_one_safe_line() {
        assert_eq!(safe("a\nb\t c\u{202e}d\u{0}e"), "a b cd e");
        assert_eq!(safe(&format!("e{}", "\u{301}".repeat(50))), "e\u{301}\u{301}");
        assert_eq!(safe("\u{fdfd}"), "?");
    }

    #[test]
    fn a_long_name_ends_in_an_ellipsis_and_fits() {
        let long = "Frame ".repeat(100);
        let cut = fit(&long, TextSize::Normal, true, 60.0);
        assert!(cut.ends_with('…') && width(&cut, TextSize::Normal, true) <= 60.0, "{cut}");
        assert_eq!(fit("Short", TextSize::Normal, false, 60.0), "Short");
    }

    #[test]
    fn no_line_is_wider_than_its_room() {
        let words = "a rather long sentence with averyveryveryverylongwordthatmustbesplit inside";
        for room in [8.0, 15.0, 40.0] {
            for line in wrap(words, TextSize::Small, false, room) {
                assert!(width(&line, TextSize::Small, false) <= room, "{line} in {room}");
            }
        }
        assert_eq!(wrap(words, TextSize::Small, false, 1000.0).len(), 1);
    }
}
