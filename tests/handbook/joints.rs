//! Bolts and screws as the checks call them, in newtons and millimetres: the conversions are in them.
//!
//! NDS-2018 Tables 12A, 12B, 12L and a printout of the AWC connection calculator; AISC 360-16 J3 by hand.

use super::{
    evaluate::recorded,
    printed::{IN, LB, near},
};
use tiltwright::{
    catalogue::{Silent, bolt, bolt_grade, metal, screw},
    codes::{DowelJoint, Layer, LayerMaterial, Plate, Refusal, ScrewJoint, head_mm, nds::Duration},
};

fn wood(thickness_in: f64, depth_in: f64, angle_deg: f64) -> Layer {
    Layer {
        material: LayerMaterial::Wood(0.50),
        thickness_mm: thickness_in * IN,
        angle_deg,
        end_mm: 5.25 * IN,
        edges_mm: [depth_in / 2.0 * IN; 2],
    }
}

fn plate(metal_name: &str, wall_in: f64, edge_in: f64) -> Layer {
    let metal = metal(metal_name).expect("a listed steel");
    Layer {
        material: LayerMaterial::Steel(Plate { metal, wall_mm: wall_in * IN, hollow: false, hole_mm: 0.5625 * IN }),
        thickness_mm: wall_in * IN,
        angle_deg: 0.0,
        end_mm: edge_in * IN,
        edges_mm: [edge_in * IN; 2],
    }
}

fn tube(side_in: f64, wall_in: f64) -> Layer {
    let Layer { material: LayerMaterial::Steel(one), .. } = plate("A500 Gr B", wall_in, 1.0) else { panic!("steel") };
    Layer {
        material: LayerMaterial::Steel(Plate { hollow: true, ..one }),
        thickness_mm: side_in * IN,
        angle_deg: 0.0,
        end_mm: 6.0 * IN,
        edges_mm: [side_in / 2.0 * IN; 2],
    }
}

fn joint(size: &str, main: Layer, side: Layer, force_lb: f64) -> DowelJoint {
    let bolt = bolt(size).expect("a listed size");
    DowelJoint {
        diameter_mm: bolt.diameter_mm,
        root_mm: bolt.root_mm,
        grade: bolt_grade("A307 Gr A").expect("a listed grade"),
        threads_bear: false,
        main,
        side,
        gap_mm: 0.0,
        double: false,
        wet: false,
        made_wet: false,
        duration: Duration::TenMinutes,
        force_n: force_lb * LB,
        pull_n: 0.0,
        reversing: true,
    }
}

fn used(joint: &DowelJoint) -> f64 {
    recorded(|t| joint.utilisation(t)).expect("allowed")
}

#[test]
fn a_two_by_on_a_four_by_carries_the_printed_value() {
    // NDS-2018 Table 12A: 1/2 in, 3.5 and 1.5 in, G 0.50, along the grain 614.84 lb; times 1.6.
    let one = joint("1/2 in", wood(3.5, 3.5, 0.0), wood(1.5, 3.5, 0.0), 614.84 * 1.6);
    near("along", used(&one), 1.0, 1e-5);
    // Wet in service 0.7; threads in the wood make it weaker still; so does a gap.
    let wet = DowelJoint { wet: true, made_wet: true, force_n: one.force_n * 0.7, ..one };
    near("wet", used(&wet), 1.0, 1e-5);
    for weaker in [DowelJoint { threads_bear: true, ..one }, DowelJoint { gap_mm: 6.0, ..one }] {
        assert!(used(&weaker) > 1.05);
    }
    let double = DowelJoint { double: true, force_n: 1229.7 * 1.6 * LB, ..one };
    near("double", used(&double), 1.0, 1e-4);
}

#[test]
fn a_reversing_half_inch_bolt_in_a_two_by_four_is_refused() {
    let one = joint("1/2 in", wood(3.5, 5.5, 0.0), wood(1.5, 3.5, 90.0), 224.8);
    let refused = one.utilisation(&mut Silent).expect_err("two loaded edges");
    assert!(matches!(refused, Refusal::TooClose(_)));
    let reason = refused.to_string();
    assert!(reason.contains("loaded edge is 1.750 in and must be at least 2.000 in"), "{reason}");
    // A 3/8 in bolt meets the rule. Independent computation: 3.5/1.5, G 0.50, side across the grain 249.2 lb.
    let thinner = joint("3/8 in", wood(3.5, 5.5, 0.0), wood(1.5, 3.5, 90.0), 249.2 * 1.6);
    near("3/8 in", used(&thinner), 1.0, 2e-4);
}

#[test]
fn a_steel_side_plate_bears_tears_and_shears() {
    // Table 12B computed: 3.5 in main, 1/4 in A36, G 0.50, along 825.7 lb.
    let one = joint("1/2 in", wood(3.5, 3.5, 0.0), plate("A36", 0.25, 1.0), 825.7 * 1.6);
    near("wood governs", used(&one), 1.0, 1e-4);
    // Steel on steel: 1.2 (0.75 − 0.28125) 0.05 × 58 / 2 = 0.815625 kip tears out the thinner sheet.
    let sheets = joint("1/2 in", plate("A36", 0.05, 0.75), plate("A36", 0.05, 0.75), 815.625);
    near("tear-out", used(&sheets), 1.0, 1e-9);
    // Thick plates: A307 in shear, Table J3.2: 2.651 kip.
    let thick = joint("1/2 in", plate("A36", 0.125, 2.0), plate("A36", 0.125, 2.0), 2651.0);
    let moment = 2.651 * 0.125;
    // F11: 1.6 F_y S of the root, less than F_y Z.
    let bends = moment / (1.6 * 36.0 * std::f64::consts::PI * 0.406_f64.powi(3) / 32.0 / 1.67);
    near("the bolt bends before it shears", used(&thick), bends.max(1.0), 1e-3);
    let too_near = joint("1/2 in", plate("A36", 0.25, 0.7), plate("A36", 0.25, 1.0), 100.0);
    assert!(matches!(too_near.utilisation(&mut Silent), Err(Refusal::TooClose(_))));
}

#[test]
fn a_bolt_bends_across_the_gap_to_a_steel_post() {
    // L1-1/2x1-1/2x1/4 on a tube post of wall 0.233 in, 1.344 in apart: 300 lb × (1.344 + 0.125 + 0.1165) = 475.65 lb·in
    // on the root of a 1/2 in bolt, 1.6 F_y π d³/32 = 1.6 × 36 000 × 0.00657 = 378.44, over 1.67.
    let post = tube(4.0, 0.233);
    let one = DowelJoint { gap_mm: 1.344 * IN, ..joint("1/2 in", post, plate("A36", 0.25, 0.75), 300.0) };
    near("A307", used(&one), 475.65 / (378.44 / 1.67), 1e-3);
    // The same of A325 steel, 92 ksi.
    let strong = DowelJoint { grade: bolt_grade("A325").expect("listed"), ..one };
    near("A325", used(&strong), used(&one) * 36.0 / 92.0, 1e-9);
}

#[test]
fn the_near_wall_of_a_tube_carries_more_than_the_force() {
    // 1000 lb on a tube whose walls stand 2 − 0.116 in apart, 0.5 in from a plate of 1/8 in: lever 0.6205 in, so
    // 1000 (1 + 0.6205/1.884) = 1329.4 lb bear on the near wall, 2.4 d t F_u/2 = 4036.8 lb.
    let post = Layer {
        material: LayerMaterial::Steel(Plate { hole_mm: 0.5625 * IN, ..as_plate(tube(2.0, 0.116)) }),
        ..tube(2.0, 0.116)
    };
    let one = DowelJoint {
        gap_mm: 0.5 * IN,
        grade: bolt_grade("A325").expect("listed"),
        ..joint("1/2 in", post, plate("A36", 0.125, 2.0), 1000.0)
    };
    let mut record = tiltwright::catalogue::Record::default();
    one.utilisation(&mut record).expect("allowed");
    let near_wall = record.steps.iter().find(|s| s.symbol == "v_near").expect("a step");
    near("near wall", near_wall.value, 1.3294, 1e-3);
    // In wood, the two walls count spread over the tube, never more than one wall of their thickness at its face.
    let wooden = joint("1/2 in", wood(3.5, 5.5, 0.0), tube(2.0, 0.116), 100.0);
    let solid = joint("1/2 in", wood(3.5, 5.5, 0.0), plate("A36", 0.25, 1.0), 100.0);
    let (walls, leg) = (used(&wooden), used(&solid));
    assert!(walls > 0.5 * leg && walls < 2.0 * leg, "{walls} {leg}");
}

fn as_plate(layer: Layer) -> Plate {
    match layer.material {
        LayerMaterial::Steel(plate) => plate,
        _ => panic!("steel"),
    }
}

#[test]
fn tension_joins_shear_in_a_steel_bolt() {
    // J3-3b, A307: F_nt′ = 1.3 × 45 − 2 × 45/27 f_rv; at f_rv = 8 ksi (1.5708 kip): 31.83 ksi, 3.125 kip available.
    let one =
        DowelJoint { pull_n: 3125.0 * LB, ..joint("1/2 in", plate("A36", 0.375, 2.0), wood(3.5, 3.5, 0.0), 1570.8) };
    let mut record = tiltwright::catalogue::Record::default();
    one.utilisation(&mut record).expect("allowed");
    let tension = record.steps.iter().find(|s| s.symbol == "u_t").expect("a step");
    near("J3-3b", tension.value, 1.0, 1e-3);
}

#[test]
fn a_bolt_on_aluminium_is_not_checked() {
    let one = joint(
        "1/2 in",
        wood(1.5, 5.5, 0.0),
        Layer { material: LayerMaterial::Aluminium, ..wood(0.25, 3.0, 0.0) },
        100.0,
    );
    assert!(matches!(one.utilisation(&mut Silent), Err(Refusal::NotHeld(_))));
}

#[test]
fn screws_pull_push_and_do_both() {
    let lag = ScrewJoint {
        screw: screw("lag 3/8 in").expect("a listed lag"),
        length_mm: 7.0 * IN,
        count: 1,
        side_mm: 0.25 * IN,
        steel_side: true,
        head_mm: 20.0,
        specific_gravity: 0.50,
        end_grain: false,
        wet: false,
        duration: Duration::TenYears,
        lateral_n: 0.0,
        pull_n: 1153.0 * LB,
    };
    let used = |joint: &ScrewJoint| recorded(|t| joint.utilisation(t)).expect("in range");
    // AWC connection calculator printout: 3/8 x 7 in lag in Douglas Fir-Larch, 1/4 in steel side: 1153 lb.
    near("pull", used(&lag), 1.0, 5e-4);
    // NDS-2018 §12.2.1.3: in end grain 0.75 of it; §12.2.2.3: wood screws may not be pulled out of end grain at all.
    // NDS-2018 Eq. 11.3-1 for two in a row 1-1/2 in apart, wood of 0.6e6 psi and 1.5 x 3.5 in, plate 1/4 x 1.5 in by hand:
    // γ 62 003 lb/in, u 1.01904, m 0.82298, R 0.28966, C_g 0.98981.
    let pushed = ScrewJoint { pull_n: 0.0, lateral_n: 100.0 * LB, ..lag };
    let two = ScrewJoint { count: 2, lateral_n: 200.0 * LB, ..pushed };
    near("two in a row", used(&two) / used(&pushed), 1.0 / 0.98981, 1e-5);
    near("end grain", used(&ScrewJoint { end_grain: true, ..lag }), 1.0 / 0.75, 5e-4);
    let wood_screw =
        ScrewJoint { screw: screw("#14").expect("a listed screw"), length_mm: 4.0 * IN, end_grain: true, ..lag };
    let refused = wood_screw.utilisation(&mut Silent).expect_err("forbidden");
    assert!(matches!(refused, Refusal::Forbidden(_)), "{refused}");
    assert!(refused.to_string().contains("§12.2.2.3"));
    // NDS-2018 Table 12L: #10, 1-1/2 in side member, penetration 10 D: 117 lb, computed 116.94.
    let number_10 = ScrewJoint {
        screw: screw("#10").expect("a listed screw"),
        length_mm: (1.5 + 1.9) * IN,
        side_mm: 1.5 * IN,
        steel_side: false,
        head_mm: 0.373 * IN,
        lateral_n: 116.94 * LB,
        pull_n: 0.0,
        ..lag
    };
    near("push", used(&number_10), 1.0, 1e-4);
    let four = ScrewJoint { count: 4, lateral_n: 4.0 * 116.94 * LB, ..number_10 };
    near("shared", used(&four), 1.0, 1e-4);
    let both = used(&ScrewJoint { lateral_n: 100.0 * LB, pull_n: 50.0 * LB, ..number_10 });
    assert!(both > 100.0 / 116.94 && both < 2.0);
    // NDS §12.2.5: a head of 0.373 in through 1/2 in of G 0.50: 690 π 0.373 × 0.25 × 0.5 = 101.07 lb, less than the
    // thread holds.
    let thin = ScrewJoint { side_mm: 0.5 * IN, lateral_n: 0.0, pull_n: 101.07 * LB, ..number_10 };
    near("head through", used(&thin), 1.0, 1e-4);
    assert_eq!(ScrewJoint { lateral_n: 0.0, ..number_10 }.utilisation(&mut Silent), Ok(0.0));
    // ASME B18.2.1: the hex head of a 1/4 in lag is 7/16 in across its flats, and it pulls through before the flat head would.
    let hex = head_mm(screw("lag 1/4 in").expect("a listed lag"));
    assert!((hex / IN - 0.4375).abs() < 1e-12, "{hex}");
    let short = ScrewJoint { length_mm: 2.0 * IN, ..number_10 };
    assert!(matches!(short.utilisation(&mut Silent), Err(Refusal::OutsideRange(_))));
}
