//! Dressed sizes and section properties of sawn lumber.
//!
//! Source: PS 20, printed as NDS Supplement 2018, Table 1A (p. 13) and Table 1B; inches, dry sizes, timbers nominal less
//! half an inch. The metric sizes 38, 89, 140, 184, 235 and 286 mm: bolt tables of the Canadian Wood Council.

use tiltwright::catalogue::{Family, section};

/// Area and moments are printed to four or five digits.
const PRINTED_DIGITS: f64 = 5e-4;
const MM_PER_INCH: f64 = 25.4;

/// Nominal size; thickness, width (in); A (in²), S_x (in³), I_x (in⁴), S_y (in³), I_y (in⁴).
const TABLE: [(&str, [f64; 7]); 13] = [
    ("2x2", [1.5, 1.5, 2.25, 0.5625, 0.4219, 0.5625, 0.4219]),
    ("2x3", [1.5, 2.5, 3.75, 1.5625, 1.953, 0.9375, 0.7031]),
    ("2x4", [1.5, 3.5, 5.25, 3.0625, 5.359, 1.3125, 0.9844]),
    ("2x6", [1.5, 5.5, 8.25, 7.5625, 20.80, 2.0625, 1.547]),
    ("2x8", [1.5, 7.25, 10.875, 13.141, 47.63, 2.719, 2.039]),
    ("2x10", [1.5, 9.25, 13.875, 21.391, 98.93, 3.469, 2.602]),
    ("2x12", [1.5, 11.25, 16.875, 31.641, 177.98, 4.219, 3.164]),
    ("4x4", [3.5, 3.5, 12.25, 7.146, 12.505, 7.146, 12.505]),
    ("4x6", [3.5, 5.5, 19.25, 17.646, 48.53, 11.229, 19.651]),
    ("4x8", [3.5, 7.25, 25.375, 30.661, 111.15, 14.802, 25.904]),
    ("6x6", [5.5, 5.5, 30.25, 27.729, 76.26, 27.729, 76.26]),
    ("6x8", [5.5, 7.5, 41.25, 51.563, 193.36, 37.813, 103.98]),
    ("8x8", [7.5, 7.5, 56.25, 70.313, 263.67, 70.313, 263.67]),
];

#[test]
fn sawn_sections_have_the_dressed_sizes_of_table_1a() {
    for (name, [thickness, width, ..]) in TABLE {
        let found = section(name).unwrap_or_else(|e| panic!("{name}: {e}"));
        assert_eq!(found.family, Family::Wood, "{name}");
        assert!((found.width_mm - thickness * MM_PER_INCH).abs() < 1e-9, "{name}: {} mm thick", found.width_mm);
        assert!((found.depth_mm - width * MM_PER_INCH).abs() < 1e-9, "{name}: {} mm wide", found.depth_mm);
    }
}

#[test]
fn sawn_sections_have_the_properties_of_table_1b() {
    for (name, [_, _, area, s_x, i_x, s_y, i_y]) in TABLE {
        let found = section(name).unwrap_or_else(|e| panic!("{name}: {e}"));
        let pairs = [
            (found.area_mm2, area, 2),
            (found.s_x_mm3, s_x, 3),
            (found.i_x_mm4, i_x, 4),
            (found.s_y_mm3, s_y, 3),
            (found.i_y_mm4, i_y, 4),
        ];
        for (value, printed, power) in pairs {
            let inches = value / MM_PER_INCH.powi(power);
            assert!((inches / printed - 1.0).abs() < PRINTED_DIGITS, "{name}: {inches} printed as {printed}");
        }
    }
}

#[test]
fn canadian_sizes_are_the_dressed_sizes_to_the_millimetre() {
    for (metric, nominal) in [
        ("38x89", "2x4"),
        ("38x140", "2x6"),
        ("38x184", "2x8"),
        ("38x235", "2x10"),
        ("38x286", "2x12"),
        ("89x184", "4x8"),
    ] {
        let (metric, inch) = (section(metric).expect("a metric size"), section(nominal).expect("an inch size"));
        assert_eq!(metric.depth_mm, inch.depth_mm.round(), "{nominal}");
        assert_eq!(metric.width_mm, inch.width_mm.round(), "{nominal}");
    }
}
