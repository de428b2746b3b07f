//! Sawn wood: dressed sizes of North American lumber, finished sizes of Europe.

use super::{
    section::{Family, SawnClass, Seasoning, Section, Shape, rectangle},
    source::{Certainty, Source},
};
use crate::quantities::MM_PER_INCH;

/// Dressed size of one side of a piece of lumber.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dressed {
    /// Nominal size (in).
    pub nominal_in: f64,
    /// Surfaced dry (in).
    pub dry_in: f64,
    /// Surfaced green (in).
    pub green_in: f64,
}

const fn side(nominal_in: f64, dry_in: f64, green_in: f64) -> Dressed {
    Dressed { nominal_in, dry_in, green_in }
}

/// Dressed thickness of dimension lumber.
pub const THICKNESSES: [Dressed; 6] = [
    side(2.0, 1.5, 1.5625),
    side(2.5, 2.0, 2.0625),
    side(3.0, 2.5, 2.5625),
    side(3.5, 3.0, 3.0625),
    side(4.0, 3.5, 3.5625),
    side(4.5, 4.0, 4.0625),
];

/// Dressed width of dimension lumber.
pub const WIDTHS: [Dressed; 9] = [
    side(2.0, 1.5, 1.5625),
    side(3.0, 2.5, 2.5625),
    side(4.0, 3.5, 3.5625),
    side(5.0, 4.5, 4.625),
    side(6.0, 5.5, 5.625),
    side(8.0, 7.25, 7.5),
    side(10.0, 9.25, 9.5),
    side(12.0, 11.25, 11.5),
    side(14.0, 13.25, 13.5),
];

/// Source of the dry column, which further transcriptions repeat.
pub const DRESSED_DRY: Source = Source::new("PS 20, NDS Supplement 2018", "Table 1A", Certainty::Agreed);
/// Source of the green column.
pub const DRESSED_GREEN: Source = Source::new("PS 20, NDS Supplement 2018", "Table 1A", Certainty::Transcribed);
/// Source of the timber sizes: nominal less half an inch, surfaced green.
pub const TIMBER_SIZES: Source = Source::new("NDS Supplement 2018", "Table 1A, timbers", Certainty::Transcribed);

const CANADIAN: Source = Source::new("Canadian Wood Council bolt tables", "metric sizes", Certainty::Read);
const UK_TRADE: Source = Source::new("UK merchants' size lists", "regularised C16/C24", Certainty::Transcribed);
const EUROPEAN: Source = Source::new("European trade sizes", "planed C24 and posts", Certainty::Memory);

/// Dimension lumber that yards keep: nominal thickness and width (in).
const DIMENSION: [[f64; 2]; 13] = [
    [2.0, 2.0],
    [2.0, 3.0],
    [2.0, 4.0],
    [2.0, 6.0],
    [2.0, 8.0],
    [2.0, 10.0],
    [2.0, 12.0],
    [3.0, 4.0],
    [3.0, 6.0],
    [4.0, 4.0],
    [4.0, 6.0],
    [4.0, 8.0],
    [4.0, 10.0],
];

/// Timbers: nominal thickness and width (in).
const TIMBERS: [[f64; 2]; 5] = [[5.0, 5.0], [6.0, 6.0], [6.0, 8.0], [8.0, 8.0], [6.0, 10.0]];

/// Canadian and British CLS and posts: finished sizes (mm) and the nominal sizes they are sold as (in).
const CLS: [([f64; 2], [f64; 2]); 11] = [
    ([38.0, 38.0], [2.0, 2.0]),
    ([38.0, 64.0], [2.0, 3.0]),
    ([38.0, 89.0], [2.0, 4.0]),
    ([38.0, 140.0], [2.0, 6.0]),
    ([38.0, 184.0], [2.0, 8.0]),
    ([38.0, 235.0], [2.0, 10.0]),
    ([38.0, 286.0], [2.0, 12.0]),
    ([89.0, 89.0], [4.0, 4.0]),
    ([89.0, 140.0], [4.0, 6.0]),
    ([89.0, 184.0], [4.0, 8.0]),
    ([140.0, 140.0], [6.0, 6.0]),
];

/// British regularised sizes (mm).
const REGULARISED: [[f64; 2]; 8] = [
    [47.0, 97.0],
    [47.0, 147.0],
    [47.0, 170.0],
    [47.0, 195.0],
    [47.0, 220.0],
    [75.0, 147.0],
    [75.0, 195.0],
    [75.0, 220.0],
];

/// Nordic planed sizes and European posts (mm).
const PLANED: [[f64; 2]; 15] = [
    [45.0, 45.0],
    [45.0, 70.0],
    [45.0, 95.0],
    [45.0, 120.0],
    [45.0, 145.0],
    [45.0, 170.0],
    [45.0, 195.0],
    [45.0, 220.0],
    [70.0, 70.0],
    [90.0, 90.0],
    [95.0, 95.0],
    [100.0, 100.0],
    [115.0, 115.0],
    [120.0, 120.0],
    [140.0, 145.0],
];

/// Size class by nominal sizes (in).
///
/// # Source
/// NDS Supplement 2018, headings of Tables 4A and 4D: 4x4 to 4x8 are dimension lumber; from 5 in thickness on a width of
/// at most thickness + 2 in makes a post or timber, a larger one a beam or stringer.
#[must_use]
pub fn class_of(thickness_in: f64, width_in: f64) -> SawnClass {
    let (thin, wide) = (thickness_in.min(width_in), thickness_in.max(width_in));
    match () {
        () if thin < 5.0 => SawnClass::Dimension,
        () if wide <= thin + 2.0 => SawnClass::PostsAndTimbers,
        () => SawnClass::BeamsAndStringers,
    }
}

fn dressed(table: &[Dressed], nominal_in: f64) -> Dressed {
    *table.iter().find(|row| row.nominal_in == nominal_in).expect("the size lists name rows of the table")
}

fn whole(name: [f64; 2]) -> String {
    format!("{}x{}", name[0], name[1])
}

fn north_american(nominal: [f64; 2], seasoning: Seasoning) -> Section {
    let class = class_of(nominal[0], nominal[1]);
    let (sizes_in, source) = if class == SawnClass::Dimension {
        // Thickness and width are two columns of the table; a square piece has the thickness both ways.
        let (thin, wide) = (dressed(&THICKNESSES, nominal[0]), dressed(&WIDTHS, nominal[1]));
        match seasoning {
            Seasoning::Green => ([thin.green_in, wide.green_in], DRESSED_GREEN),
            _ => ([thin.dry_in, wide.dry_in], DRESSED_DRY),
        }
    } else {
        ([nominal[0] - 0.5, nominal[1] - 0.5], TIMBER_SIZES)
    };
    let suffix = if class == SawnClass::Dimension && seasoning == Seasoning::Green { " green" } else { "" };
    rectangle(
        whole(nominal) + suffix,
        Shape::Sawn { class, nominal_in: Some(nominal), seasoning },
        Family::Wood,
        sizes_in.map(|side| side * MM_PER_INCH),
        source,
    )
}

fn european(size: [f64; 2], source: Source) -> Section {
    // The inch classes are a matter of the American tables; five inches decide here too.
    let class = class_of(size[0] / MM_PER_INCH + 0.5, size[1] / MM_PER_INCH + 0.5);
    let shape = Shape::Sawn { class, nominal_in: None, seasoning: Seasoning::Reference20 };
    rectangle(whole(size), shape, Family::Wood, size, source)
}

pub(super) fn build() -> Vec<Section> {
    let dry = DIMENSION.iter().map(|&size| north_american(size, Seasoning::Dry));
    let timbers = TIMBERS.iter().map(|&size| north_american(size, Seasoning::Green));
    let green = DIMENSION.iter().map(|&size| north_american(size, Seasoning::Green));
    let cls = CLS.iter().map(|&(size, nominal)| {
        let shape = Shape::Sawn {
            class: class_of(nominal[0], nominal[1]),
            nominal_in: Some(nominal),
            seasoning: Seasoning::Dry,
        };
        rectangle(whole(size), shape, Family::Wood, size, CANADIAN)
    });
    let regularised = REGULARISED.iter().map(|&size| european(size, UK_TRADE));
    let planed = PLANED.iter().map(|&size| european(size, EUROPEAN));
    dry.chain(timbers).chain(green).chain(cls).chain(regularised).chain(planed).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::section;

    #[test]
    fn wood_sizes_and_properties_are_those_of_the_printed_table() {
        // b, d [in], A, Sx, Ix, Sy, Iy: NDS Supplement 2018 Table 1B digits, by b·d, b·d²/6, b·d³/12.
        for (name, b, d, area, s_x, i_x, s_y, i_y) in [
            ("2x2", 1.5, 1.5, 2.25, 0.5625, 0.4219, 0.5625, 0.4219),
            ("2x3", 1.5, 2.5, 3.75, 1.5625, 1.953, 0.9375, 0.7031),
            ("2x4", 1.5, 3.5, 5.25, 3.0625, 5.359, 1.3125, 0.9844),
            ("2x6", 1.5, 5.5, 8.25, 7.5625, 20.80, 2.0625, 1.547),
            ("2x8", 1.5, 7.25, 10.875, 13.141, 47.63, 2.719, 2.039),
            ("2x10", 1.5, 9.25, 13.875, 21.391, 98.93, 3.469, 2.602),
            ("2x12", 1.5, 11.25, 16.875, 31.641, 177.98, 4.219, 3.164),
            ("4x4", 3.5, 3.5, 12.25, 7.146, 12.505, 7.146, 12.505),
            ("4x6", 3.5, 5.5, 19.25, 17.646, 48.53, 11.229, 19.651),
            ("4x8", 3.5, 7.25, 25.375, 30.661, 111.15, 14.802, 25.904),
            ("6x6", 5.5, 5.5, 30.25, 27.729, 76.26, 27.729, 76.26),
            ("6x8", 5.5, 7.5, 41.25, 51.563, 193.36, 37.813, 103.98),
            ("8x8", 7.5, 7.5, 56.25, 70.313, 263.67, 70.313, 263.67),
        ] {
            let s = section(name).expect("a yard size");
            let printed = |value: f64, printed: f64, power: i32| {
                assert!((value / MM_PER_INCH.powi(power) / printed - 1.0).abs() < 3e-4, "{name} {printed}");
            };
            printed(s.width_mm, b, 1);
            printed(s.depth_mm, d, 1);
            printed(s.area_mm2, area, 2);
            printed(s.s_x_mm3, s_x, 3);
            printed(s.i_x_mm4, i_x, 4);
            printed(s.s_y_mm3, s_y, 3);
            printed(s.i_y_mm4, i_y, 4);
        }
    }

    #[test]
    fn a_four_by_six_is_dimension_lumber_and_a_six_by_six_a_post() {
        assert_eq!(class_of(4.0, 6.0), SawnClass::Dimension);
        assert_eq!(class_of(6.0, 8.0), SawnClass::PostsAndTimbers);
        assert_eq!(class_of(6.0, 10.0), SawnClass::BeamsAndStringers);
    }

    #[test]
    fn rectangle_torsion_agrees_with_a_finite_element_run() {
        // sectionproperties 3.10.2 [in⁴].
        for (b, d, j) in [(1.5, 3.5, 2.87536), (1.5, 1.5, 0.71167), (3.5, 5.5, 47.5260), (0.25, 2.0, 0.009_597_1)] {
            assert!((crate::catalogue::rectangle_torsion(b, d) / j - 1.0).abs() < 0.002, "{b}x{d}");
        }
    }
}
