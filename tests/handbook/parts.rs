//! Printed values once more through the parts that a whole design is checked by: newtons and millimetres go in.
//!
//! NDS-2018 Tables 12A and 12L; HUD *Residential Structural Design Guide* Ex. 5.6; AISC *Design Examples* F.6; one printout of
//! the AWC connection calculator.

use crate::evaluate::recorded;
use tiltwright::{
    catalogue::{Grade, Species, design_values, metal, screw, section},
    checks::{
        Refusal,
        nds::Duration,
        verify::{Calc, DowelJoint, Forces, Layer, ScrewJoint, SteelMember, WoodMember},
    },
    quantities::{MM_PER_INCH, N_PER_LBF},
};

const IN: f64 = MM_PER_INCH;
const LB: f64 = N_PER_LBF;

fn near(what: &str, value: f64, printed: f64, share: f64) {
    assert!((value / printed - 1.0).abs() <= share, "{what}: {value} against {printed}");
}

#[test]
fn rsdg_5_6_post() {
    // SPF No.2 4x4, 7.3 ft, 4800 lb, ten years: 0.67671.
    let section = section("4x4").expect("a listed size");
    let values = design_values(Species::SprucePineFir, Grade::No2, section).expect("held");
    let free = 7.3 * 12.0 * IN;
    let post = WoodMember { section, values, wet: false, incised: false, free_strong_mm: free, free_weak_mm: free };
    let forces = Forces { axial_n: -4800.0 * LB, ..Forces::default() };
    let u = recorded(|t| Calc::Wood(post, Duration::TenYears, forces, None).utilisation(t)).expect("holds");
    near("use", u, 0.67671, 2e-5);
    // A span of 36 in with 700 lb of shear in a 4x4: 1.5 V/A over 135 psi.
    let forces = Forces { shear_n: -700.0 * LB, ..Forces::default() };
    let u = recorded(|t| Calc::WoodShear(post, Duration::TenYears, forces).utilisation(t)).expect("holds");
    near("shear", u, 1.5 * 700.0 / 12.25 / 135.0, 1e-9);
}

fn layer(thickness_in: f64, depth_in: f64, angle_deg: f64) -> Layer {
    Layer {
        specific_gravity: Some(0.50),
        thickness_mm: thickness_in * IN,
        angle_deg,
        end_mm: 5.25 * IN,
        edges_mm: [depth_in / 2.0 * IN; 2],
    }
}

#[test]
fn table_12a_half_inch_bolt() {
    // 3.5 and 1.5 in, G 0.50: along the grain 610 lb printed, 614.84 computed; 12F computed 1229.7; times 1.6 for wind.
    let single = DowelJoint {
        diameter_mm: 0.5 * IN,
        main: layer(3.5, 3.5, 0.0),
        side: layer(1.5, 3.5, 0.0),
        gap_mm: 0.0,
        double: false,
        wet: false,
        made_wet: true,
        duration: Duration::TenMinutes,
        force_n: 614.84 * 1.6 * LB,
        reversing: true,
    };
    near("single", recorded(|t| single.utilisation(t)).expect("allowed"), 1.0, 1e-5);
    let double = DowelJoint { double: true, force_n: 1229.7 * 1.6 * LB, ..single };
    near("double", recorded(|t| double.utilisation(t)).expect("allowed"), 1.0, 1e-4);
    let wet = DowelJoint { wet: true, ..single };
    near("wet", recorded(|t| wet.utilisation(t)).expect("allowed"), 1.0 / 0.7, 1e-5);
    // A force across the grain that turns round needs four diameters to either edge.
    let across = DowelJoint { side: layer(1.5, 3.5, 90.0), ..single };
    assert!(matches!(across.utilisation(&mut tiltwright::catalogue::Silent), Err(Refusal::TooClose(_))));
}

#[test]
fn screws_pull_and_push() {
    let lag = ScrewJoint {
        screw: screw("lag 3/8 in").expect("a listed lag"),
        length_mm: 7.0 * IN,
        count: 1,
        side_mm: 0.25 * IN,
        steel_side: true,
        specific_gravity: 0.50,
        end_grain: false,
        wet: false,
        duration: Duration::TenYears,
        lateral_n: 0.0,
        pull_n: 1153.0 * LB,
    };
    // The calculator prints 1153 lb.
    near("pull", recorded(|t| lag.utilisation(t)).expect("in range"), 1.0, 5e-4);
    // NDS-2018 §12.2.1.3: in end grain 0.75 of it; §12.2.2.3: wood screws may not be pulled out of end grain at all.
    let end = ScrewJoint { end_grain: true, ..lag };
    near("end grain", recorded(|t| end.utilisation(t)).expect("in range"), 1.0 / 0.75, 5e-4);
    let wood_screw = ScrewJoint { screw: screw("#14").expect("a listed screw"), length_mm: 4.0 * IN, ..end };
    let refused = wood_screw.utilisation(&mut tiltwright::catalogue::Silent).expect_err("forbidden");
    assert!(matches!(refused, Refusal::Forbidden(_)), "{refused}");
    assert!(refused.to_string().contains("§12.2.2.3"));
    // Table 12L: #10 through 1-1/2 in, ten diameters deep, 117 lb; eight of them share eight times the force.
    let number_10 = ScrewJoint {
        screw: screw("#10").expect("a listed screw"),
        length_mm: 3.4 * IN,
        count: 8,
        side_mm: 1.5 * IN,
        steel_side: false,
        lateral_n: 8.0 * 117.0 * LB,
        pull_n: 0.0,
        ..lag
    };
    near("push", recorded(|t| number_10.utilisation(t)).expect("in range"), 1.0, 1e-3);
}

#[test]
fn design_example_f6_tube() {
    // HSS3-1/2x3-1/2x1/8, 50 ksi: 4.79 ft-kip.
    let member = SteelMember {
        section: section("HSS3-1/2x3-1/2x1/8").expect("listed"),
        metal: metal("A500 Gr C").expect("listed"),
        free_mm: 1000.0,
    };
    let forces = Forces { strong_nmm: 4790.0 * 12.0 * LB * IN, ..Forces::default() };
    near("use", recorded(|t| Calc::Steel(member, forces).utilisation(t)).expect("holds"), 1.0, 0.003);
}
