//! Every field of a design file, once: what it is, what it takes, what stands where it is left out, and what reads it.
//!
//! The reader, its faults and hints, `size`, the ways out of a refusal, `new`, the field reference and the schema are
//! views of this table; no range and no default is written anywhere else.

mod annotated;
mod kind;
mod reference;
mod schema;
mod table;

pub use annotated::annotated;
pub use kind::Kind;
pub(crate) use kind::Measured;
pub use reference::{Entry, reference};
pub use schema::schema;
pub use table::MOST_LATITUDE_DEG;

use std::{collections::BTreeMap, sync::OnceLock};

/// A field of a design file.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Field {
    /// Its path in a design file; a row of a list is written `[]`: `shop.stock[].price`.
    pub path: &'static str,
    /// What its values are.
    pub kind: Kind,
    /// What stands where it is not written.
    pub left_out: LeftOut,
    /// A value as one might write it.
    pub example: &'static str,
    /// What it is, in a sentence.
    pub about: &'static str,
    /// What reads it.
    pub bears_on: BearsOn,
    /// What `size` tries where nobody names values; nothing for what the world, the sun or the panel gives.
    pub sized: Option<Ladder>,
    /// Which way it is changed to mend a refusal, where that may be tried.
    pub mended: Option<Mend>,
}

/// What stands where a field is not written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LeftOut {
    /// Nothing: it must be written wherever the block around it is.
    Required,
    /// Nothing, and it is never guessed: whoever needs it asks for it.
    Asked,
    /// This value.
    Default(&'static str),
    /// What the layout finds.
    Chosen,
    /// What these words say.
    Else(&'static str),
}

impl LeftOut {
    /// In words, behind "left out:".
    #[must_use]
    pub fn words(self) -> String {
        match self {
            Self::Required => "it must be written".to_string(),
            Self::Asked => "asked for where strength needs it, never guessed".to_string(),
            Self::Default(value) => value.to_string(),
            Self::Chosen => "chosen by the layout".to_string(),
            Self::Else(words) => words.to_string(),
        }
    }
}

/// What reads a field: what is computed anew when it changes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BearsOn {
    /// How the file is read, and what is printed.
    Print,
    /// The sun: tilts and the days to change them.
    Sun,
    /// Where every piece lies, and so everything after.
    Layout,
    /// The forces, not the pieces.
    Forces,
    /// Wind and snow.
    Loads,
    /// What the material or the soil carries.
    Strength,
    /// The checks of posts in the ground alone.
    Ground,
    /// The checks of the screws between rail and stile alone.
    CornerScrews,
    /// The checks of the screws of corner braces alone.
    BraceScrews,
    /// The checks of clips and of what holds panels alone.
    Clips,
    /// The checks of purlins on the frame alone.
    Purlins,
    /// The limits that movement is held against.
    Movement,
    /// The cut plan.
    Cutting,
    /// What things cost.
    Money,
    /// The search for sizes.
    Search,
}

impl BearsOn {
    /// In words, behind "bears on".
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Print => "how the file is read and printed",
            Self::Sun => "tilts and the days to change them",
            Self::Layout => "where every piece lies, and so holes, lists and strength",
            Self::Forces => "forces and strength",
            Self::Loads => "wind and snow, and so strength",
            Self::Strength => "strength",
            Self::Ground => "strength in the ground",
            Self::CornerScrews => "strength of the corner screws",
            Self::BraceScrews => "strength of the brace screws",
            Self::Clips => "strength of clips and panels",
            Self::Purlins => "strength of the purlins' screws",
            Self::Movement => "limits of movement",
            Self::Cutting => "the cut plan",
            Self::Money => "prices and the cheapest sizes",
            Self::Search => "what `size` tries",
        }
    }
}

/// Values that `size` tries.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ladder {
    /// Only those that somebody names.
    Named,
    /// Sections next to the one that is written.
    Sections,
    /// All of these, in customary and in metric units.
    All([&'static [&'static str]; 2]),
    /// Of these, in customary and in metric units, one less than what is written and so many more.
    Next([&'static [&'static str]; 2], usize),
}

/// How a field is changed to mend a refusal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mend {
    /// Longer or shorter, nearest first.
    Near,
    /// Every other number in its range.
    Count,
    /// Smaller numbers, the greatest first.
    Fewer,
    /// Deeper sections of the same width.
    Deeper,
    /// Sections as wide and less thick.
    Flatter,
    /// Thinner bolts of these, in customary and in metric units, the thickest first.
    Thinner([&'static [&'static str]; 2]),
    /// Angles and channels with more room for a bolt.
    Larger,
    /// Thinner screws.
    ThinnerScrew,
    /// Panels on purlins of the rail's section.
    OnPurlins,
    /// One slot at each side of all columns.
    SlotsRound,
    /// `true`.
    Yes,
    /// As the frame faces.
    FacesFrame,
}

/// Every field, in the order of a design file.
pub fn all() -> impl Iterator<Item = &'static Field> {
    table::SECTIONS.iter().flat_map(|rows| rows.iter())
}

struct Index {
    by_path: BTreeMap<&'static str, &'static Field>,
    below: BTreeMap<&'static str, Vec<&'static Field>>,
}

fn index() -> &'static Index {
    static INDEX: OnceLock<Index> = OnceLock::new();
    INDEX.get_or_init(|| {
        let mut below: BTreeMap<&str, Vec<&Field>> = BTreeMap::new();
        for field in all() {
            below.entry(field.parent()).or_default().push(field);
        }
        Index { by_path: all().map(|field| (field.path, field)).collect(), below }
    })
}

/// The field of a path as the table writes it, or as a text does: `shop.stock.3.price` is `shop.stock[].price`.
#[must_use]
pub fn field(path: &str) -> Option<&'static Field> {
    let by_path = &index().by_path;
    by_path.get(path).copied().or_else(|| {
        let rows = path.split('.').fold(String::new(), |path, part| match part.parse::<usize>() {
            Ok(_) => path + "[]",
            Err(_) if path.is_empty() => part.to_string(),
            Err(_) => path + "." + part,
        });
        by_path.get(rows.as_str()).copied()
    })
}

/// The fields of a block, of a row of a list (`shop.stock[]`), or of the whole file (an empty path).
pub(super) fn below(path: &str) -> &'static [&'static Field] {
    index().below.get(path).map_or(&[], Vec::as_slice)
}

impl Field {
    /// The block it stands in.
    #[must_use]
    pub fn parent(&self) -> &'static str {
        self.path.rsplit_once('.').map_or("", |(parent, _)| parent)
    }

    /// Its name within the block.
    #[must_use]
    pub fn name(&self) -> &'static str {
        self.path.rsplit_once('.').map_or(self.path, |(_, name)| name)
    }

    const fn new(
        path: &'static str,
        kind: Kind,
        left_out: LeftOut,
        example: &'static str,
        bears_on: BearsOn,
        about: &'static str,
    ) -> Self {
        Self { path, kind, left_out, example, about, bears_on, sized: None, mended: None }
    }

    /// May be chosen by `size`.
    const fn sized(mut self, ladder: Ladder) -> Self {
        self.sized = Some(ladder);
        self
    }

    /// May be changed to mend a refusal.
    const fn mended(mut self, mend: Mend) -> Self {
        self.mended = Some(mend);
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantities::Units;

    #[test]
    fn every_path_stands_once_and_in_a_block_of_its_own() {
        assert_eq!(index().by_path.len(), all().count(), "a path stands twice");
        for row in all() {
            let parent = row.parent();
            let block = field(parent.strip_suffix("[]").unwrap_or(parent));
            let kind = if parent.ends_with("[]") { Kind::Rows } else { Kind::Block };
            assert!(parent.is_empty() || block.is_some_and(|block| block.kind == kind), "{}", row.path);
            let is_sentence = row.about.ends_with('.') && row.about.starts_with(|c: char| c.is_uppercase());
            assert!(is_sentence, "{}: {}", row.path, row.about);
        }
    }

    #[test]
    fn every_example_and_every_default_reads_and_lies_in_its_range() {
        for row in all() {
            row.kind.judge_text(row.example, Units::Us).unwrap_or_else(|why| panic!("{}: {why}", row.path));
            if let LeftOut::Default(value) = row.left_out {
                row.kind.judge_text(value, Units::Us).unwrap_or_else(|why| panic!("{}: {why}", row.path));
            }
            for value in row.sized.iter().flat_map(|ladder| match ladder {
                Ladder::All(steps) | Ladder::Next(steps, _) => steps.concat(),
                Ladder::Named | Ladder::Sections => vec![],
            }) {
                row.kind.judge_text(value, Units::Us).unwrap_or_else(|why| panic!("{}: {why}", row.path));
            }
            for value in row.mended.iter().flat_map(|mend| match mend {
                Mend::Thinner(bolts) => bolts.concat(),
                _ => vec![],
            }) {
                row.kind.judge_text(value, Units::Us).unwrap_or_else(|why| panic!("{}: {why}", row.path));
            }
        }
    }

    #[test]
    fn a_row_of_a_list_is_found_by_its_number() {
        assert_eq!(field("shop.stock.12.price").map(|row| row.path), Some("shop.stock[].price"));
        assert_eq!(field("tilts.2"), None);
        assert!(field("support.posts.embedment").is_some() && field("support.post").is_none());
    }
}
