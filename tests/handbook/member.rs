//! Worked examples once more, through the doors that take newtons and millimetres: the conversions are in them.

use crate::evaluate::recorded;
use tiltwright::{
    catalogue::{BoltGrade, Grade, Silent, Species, bolt, bolt_grade, design_values, metal, screw, section},
    checks::{
        Refusal,
        aisc360::Steel,
        joint::{self, PinJoint, Ply, Screwed},
        member::{self, Forces, Held, HoleAcross, SteelMember, WoodMember},
        nds::{BeamLoading, Conditions, Duration, Temperature, connection::Moisture, geometry::GrainLoad},
    },
    quantities::{MM_PER_INCH, N_PER_LBF},
};

const IN: f64 = MM_PER_INCH;
const LB: f64 = N_PER_LBF;
const FREE: Held =
    Held { strong_mm: 0.0, weak_mm: 0.0, lateral_mm: 0.0, loading: BeamLoading::SimpleCentre, gradient: 1.0 };

fn near(what: &str, value: f64, printed: f64, share: f64) {
    assert!((value / printed - 1.0).abs() <= share, "{what}: {value} against {printed}");
}

fn wood_use(
    name: &str,
    species: Species,
    grade: Grade,
    duration: Duration,
    held: Held,
    hole: Option<HoleAcross>,
    forces: Forces,
) -> Result<member::MemberUse, Refusal> {
    let section = section(name).expect("a listed size");
    let values = design_values(species, grade, section).expect("held");
    let member = WoodMember { section, values: &values, conditions: Conditions::dry(duration), held, hole };
    recorded(|t| member::wood(t, &member, &forces))
}

#[test]
fn rsdg_5_6_post_in_newtons() {
    // SPF No.2 4x4, 7.3 ft, 4800 lb: 0.67671.
    let length = 7.3 * 12.0 * IN;
    let held = Held { strong_mm: length, weak_mm: length, ..FREE };
    let forces = Forces { axial_n: -4800.0 * LB, ..Forces::default() };
    let u = wood_use("4x4", Species::SprucePineFir, Grade::No2, Duration::TenYears, held, None, forces).expect("holds");
    near("use", u.strength, 0.67671, 2e-5);
}

#[test]
fn swd_e1_8_in_newtons() {
    // S. Pine No.2 2x4, 36 in: strong 120 lb, weak 150 lb at midspan, 900 lb along it: 0.98 printed, 0.9757 computed.
    let length = 36.0 * IN;
    let held = Held { strong_mm: length, weak_mm: length, lateral_mm: length, ..FREE };
    let forces = Forces {
        axial_n: -900.0 * LB,
        moment_strong_n_mm: 120.0 * 36.0 / 4.0 * LB * IN,
        moment_weak_n_mm: -150.0 * 36.0 / 4.0 * LB * IN,
        shear_depth_n: 60.0 * LB,
        shear_width_n: 75.0 * LB,
        torsion_n_mm: 0.0,
    };
    let u =
        wood_use("2x4", Species::SouthernPine, Grade::No2, Duration::TenMinutes, held, None, forces).expect("holds");
    near("use", u.strength, 0.9757, 1e-4);
    near("shear", u.shear, 1.5 * 60.0_f64.hypot(75.0) / 5.25 / 280.0, 1e-9);
}

#[test]
fn swd_e1_6_in_newtons() {
    // Hem-Fir No.2 2x8 in tension with bending, wind case: 0.6124 on the tension edge.
    let held = Held { lateral_mm: 144.0 * IN, loading: BeamLoading::SimpleUniform, ..FREE };
    let forces = Forces { axial_n: 3180.0 * LB, moment_strong_n_mm: 6912.0 * LB * IN, ..Forces::default() };
    let u = wood_use("2x8", Species::HemFir, Grade::No2, Duration::TenMinutes, held, None, forces).expect("holds");
    near("use", u.strength, 0.6124, 1e-4);
}

#[test]
fn a_hole_costs_strength_and_the_twist_costs_shear() {
    let forces = Forces { axial_n: 2000.0, moment_strong_n_mm: 200e3, shear_depth_n: 900.0, ..Forces::default() };
    let at = |hole, forces| {
        wood_use("2x6", Species::DouglasFirLarch, Grade::No2, Duration::TenMinutes, FREE, hole, forces).expect("holds")
    };
    let whole = at(None, forces);
    let holed = at(Some(HoleAcross { diameter_mm: 14.3, centre_mm: 69.85 }), forces);
    assert!(holed.strength > whole.strength && holed.shear > whole.shear);
    let twisted = at(None, Forces { torsion_n_mm: 20e3, ..forces });
    // Roark's closed form: T (3 + 1.8 b/d)/(b² d) = 20 000 (3 + 1.8 × 0.2727)/(38.1² × 139.7) = 0.3443 MPa.
    let tau_mpa = 20e3 * (3.0 + 1.8 * 1.5 / 5.5) / (38.1_f64.powi(2) * 139.7);
    near("torsion", twisted.shear - whole.shear, tau_mpa / (288.0 * 0.006_894_757), 1e-6);
    let pressed = at(Some(HoleAcross { diameter_mm: 14.3, centre_mm: 69.85 }), Forces { axial_n: -2000.0, ..forces });
    assert!(pressed.strength > 0.0);
}

fn steel_use(name: &str, metal_name: &str, held: Held, forces: Forces) -> Result<member::MemberUse, Refusal> {
    let section = section(name).expect("a listed section");
    let metal = metal(metal_name).expect("a listed steel");
    recorded(|t| member::steel(t, &SteelMember { section, metal, held, length_mm: 2000.0 }, &forces))
}

#[test]
fn steel_members_in_newtons() {
    // Computed: HSS2x2x1/8 at 96 in carries 7.9339 kip; r from I and A differs from the printed r by 0.05 %.
    let held = Held { strong_mm: 96.0 * IN, weak_mm: 96.0 * IN, ..FREE };
    let forces = Forces { axial_n: -7933.9 * LB, ..Forces::default() };
    near("tube", steel_use("HSS2x2x1/8", "A500 Gr C", held, forces).expect("holds").strength, 1.0, 0.002);
    // AISC Design Examples F.6: 4.79 ft-kip.
    let forces = Forces { moment_strong_n_mm: 4790.0 * 12.0 * LB * IN, ..Forces::default() };
    near("tube", steel_use("HSS3-1/2x3-1/2x1/8", "A500 Gr C", FREE, forces).expect("holds").strength, 1.0, 0.003);
    let twisted = Forces { torsion_n_mm: 500e3, shear_depth_n: 2000.0, axial_n: 5000.0, ..Forces::default() };
    assert!(steel_use("Pipe 3 STD", "A53 Gr B", FREE, twisted).is_ok());
    assert!(matches!(steel_use("L2x2x1/4", "A36", FREE, twisted), Err(Refusal::NotHeld(_))));
    for other in ["2x4", "aluminium tube 2x2x0.125"] {
        let section = section(other).expect("listed");
        let member = SteelMember { section, metal: metal("A36").expect("listed"), held: FREE, length_mm: 2000.0 };
        assert!(matches!(member::steel(&mut Silent, &member, &twisted), Err(Refusal::NotHeld(_))));
    }
    let tube = section("aluminium tube 2x2x0.125").expect("listed");
    let alloy = metal("6061-T6").expect("listed");
    let forces = Forces { axial_n: -1000.0 * LB, moment_weak_n_mm: 1000.0 * LB * IN, ..Forces::default() };
    let u = recorded(|t| member::aluminium_yield(t, tube, alloy, &forces)).expect("aluminium");
    near("first yield", u, (1.0 / 0.9375 + 1.0 / 0.5518) / (35.0 / 1.65), 1e-4);
}

fn wood_ply(thickness_in: f64, depth_in: f64, angle_deg: f64, reversing: bool) -> Ply {
    Ply::Wood {
        thickness_mm: thickness_in * IN,
        gravity: 0.50,
        load: GrainLoad { angle_deg, towards_end: true, reversing, hardwood: false },
        end_mm: 5.25 * IN,
        loaded_edge_mm: depth_in / 2.0 * IN,
        unloaded_edge_mm: depth_in / 2.0 * IN,
    }
}

fn pin<'a>(size: &str, grade: &'a BoltGrade, main: Ply, side: Ply) -> PinJoint<'a> {
    PinJoint {
        bolt: bolt(size).expect("a listed size"),
        grade,
        main,
        side,
        double: false,
        gap_mm: 0.0,
        threads_bear: false,
        duration: Duration::TenMinutes,
        moisture: Moisture::DRY,
        temperature: Temperature::Usual,
    }
}

#[test]
fn a_two_by_on_a_four_by_carries_the_printed_value() {
    // NDS-2018 Table 12A: 1/2 in, 3.5 and 1.5 in, G 0.50, along the grain 614.84 lb; times 1.6.
    let grade = bolt_grade("A307 Gr A").expect("a listed grade");
    let joint = pin("1/2 in", grade, wood_ply(3.5, 3.5, 0.0, true), wood_ply(1.5, 3.5, 0.0, true));
    near("along", recorded(|t| joint::pin_joint(t, &joint, 614.84 * 1.6 * LB)).expect("allowed"), 1.0, 1e-5);
    // Wet in service 0.7; threads in the shear plane make it weaker still; so does a gap.
    let wet = PinJoint { moisture: Moisture { wet_when_made: true, wet_in_service: true }, ..joint };
    near("wet", recorded(|t| joint::pin_joint(t, &wet, 614.84 * 1.6 * 0.7 * LB)).expect("allowed"), 1.0, 1e-5);
    for weaker in [PinJoint { threads_bear: true, ..joint }, PinJoint { gap_mm: 6.0, ..joint }] {
        assert!(recorded(|t| joint::pin_joint(t, &weaker, 614.84 * 1.6 * LB)).expect("allowed") > 1.05);
    }
    let double = PinJoint { double: true, ..joint };
    near("double", recorded(|t| joint::pin_joint(t, &double, 1229.7 * 1.6 * LB)).expect("allowed"), 1.0, 1e-4);
}

#[test]
fn a_reversing_half_inch_bolt_in_a_two_by_four_is_refused() {
    let grade = bolt_grade("A307 Gr A").expect("a listed grade");
    let joint = pin("1/2 in", grade, wood_ply(3.5, 5.5, 0.0, true), wood_ply(1.5, 3.5, 90.0, true));
    let refused = joint::pin_joint(&mut Silent, &joint, 1000.0).expect_err("two loaded edges");
    assert!(matches!(refused, Refusal::TooClose(_)));
    let reason = refused.to_string();
    assert!(reason.contains("loaded edge is 1.750 in and must be at least 2.000 in"), "{reason}");
    // A 3/8 in bolt meets the rule.
    let thinner = pin("3/8 in", grade, wood_ply(3.5, 5.5, 0.0, true), wood_ply(1.5, 3.5, 90.0, true));
    let u = recorded(|t| joint::pin_joint(t, &thinner, 1000.0)).expect("allowed");
    // Independent computation: 3/8 in, 3.5/1.5, G 0.50, side across the grain 249.2 lb.
    near("3/8 in", u, 1000.0 / LB / (249.2 * 1.6), 2e-4);
}

#[test]
fn a_steel_side_plate_bears_tears_and_shears() {
    let grade = bolt_grade("A307 Gr A").expect("a listed grade");
    let plate =
        Ply::Steel { thickness_mm: 0.25 * IN, steel: Steel::new(36.0, 58.0), edge_mm: 1.0 * IN, hole_mm: 0.5625 * IN };
    // Table 12B computed: 3.5 in main, G 0.50, along 825.7 lb.
    let joint = pin("1/2 in", grade, wood_ply(3.5, 3.5, 0.0, true), plate);
    near("wood governs", recorded(|t| joint::pin_joint(t, &joint, 825.7 * 1.6 * LB)).expect("allowed"), 1.0, 1e-4);
    let thin = Ply::Steel {
        thickness_mm: 0.036 * IN,
        steel: Steel::new(33.0, 45.0),
        edge_mm: 0.75 * IN,
        hole_mm: 0.5625 * IN,
    };
    let steel_only = pin("1/2 in", grade, thin, plate);
    // 1.2 (0.75 − 0.28125) 0.036 × 45 / 2 = 0.4556 kip.
    near("tear-out", recorded(|t| joint::pin_joint(t, &steel_only, 455.625 * LB)).expect("allowed"), 1.0, 1e-9);
}

#[test]
fn screws_pull_push_and_do_both() {
    let lag = Screwed {
        screw: screw("lag 3/8 in").expect("a listed lag"),
        length_mm: 7.0 * IN,
        count: 1,
        side_mm: 0.25 * IN,
        side_gravity: None,
        main_gravity: 0.50,
        angle_deg: 0.0,
        head_mm: 20.0,
        duration: Duration::TenYears,
        moisture: Moisture::DRY,
        temperature: Temperature::Usual,
    };
    // AWC connection calculator printout: 3/8 x 7 in lag in Douglas Fir-Larch, 1/4 in steel side: 1153 lb.
    near("pull", recorded(|t| joint::screwed(t, &lag, 1153.0 * LB, 0.0)).expect("in range"), 1.0, 5e-4);
    // NDS-2018 Table 12L: #10, 1-1/2 in side member, penetration 10 D: 117 lb, computed 116.94.
    let number_10 = Screwed {
        screw: screw("#10").expect("a listed screw"),
        length_mm: (1.5 + 1.9) * IN,
        side_mm: 1.5 * IN,
        side_gravity: Some(0.50),
        head_mm: 0.373 * IN,
        ..lag
    };
    near("push", recorded(|t| joint::screwed(t, &number_10, 0.0, 116.94 * LB)).expect("in range"), 1.0, 1e-4);
    let four = Screwed { count: 4, ..number_10 };
    near("shared", recorded(|t| joint::screwed(t, &four, 0.0, 4.0 * 116.94 * LB)).expect("in range"), 1.0, 1e-4);
    let both = recorded(|t| joint::screwed(t, &number_10, 50.0 * LB, 100.0 * LB)).expect("in range");
    assert!(both > 100.0 / 116.94 && both < 2.0);
    assert_eq!(joint::screwed(&mut Silent, &number_10, 0.0, 0.0), Ok(0.0));
    let short = Screwed { length_mm: 2.0 * IN, ..number_10 };
    assert!(matches!(joint::screwed(&mut Silent, &short, 10.0, 10.0), Err(Refusal::OutsideRange(_))));
}
