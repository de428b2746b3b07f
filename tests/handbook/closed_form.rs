//! Beams, portals, trusses, shafts and vibrating beams with closed-form answers.
//!
//! Beam cases: AISC *Steel Construction Manual* Table 3-23 and Roark's *Formulas for Stress and Strain*, beam tables;
//! portal frames: Kleinlogel, *Rahmenformeln*; frequencies: Blevins, *Formulas for Natural Frequency and Mode Shape*,
//! single-span beams. The formulas are quoted from memory (M); each was verified with PyNiteFEA 3.2.0, OpenSeesPy
//! 3.7.1.2 and a separate stiffness script. Models and values, SI units, 9 digits:
//! `tests/library/data/frames/closed_form_cases.json`.

use serde_json::Value;
use tiltwright::analysis::{
    self, EndJoint, Factored, LoadCase, MassKind, Member, MemberId, Model, NodeId, Options, Results, SecondOrder,
    Section, Structure, Support,
};

/// Printed digits of the stored values.
const STORED_DIGITS: f64 = 5e-9;
/// The portal formulas leave out axial strain; the models have 1e6 times the area, which leaves 1e-8.
const PORTAL: f64 = 2e-8;
const METRE: f64 = 1000.0;

fn stored() -> Value {
    serde_json::from_str(include_str!("../library/data/frames/closed_form_cases.json")).expect("the data file is JSON")
}

fn number(value: &Value) -> f64 {
    value.as_f64().expect("the data file holds a number here")
}

fn word(value: &Value) -> &str {
    value.as_str().expect("the data file holds a word here")
}

/// Value of one stored quantity, SI, and the greatest of its kind in the model.
fn computed(results: &Results, place: &Value) -> (f64, f64) {
    let answer = results.response(0);
    let model = results.structure().model();
    let (kind, name) = (word(&place[0]), word(&place[1]));
    let component = place[2].as_u64().expect("the data file holds a component here") as usize;
    let turning = component % 6 > 2;
    let nodes = (0..model.nodes().len()).map(NodeId);
    let members = (0..model.members().len()).map(MemberId);
    let (value, all): (f64, Vec<Vec<f64>>) = match kind {
        "disp" => {
            let node = model.find_node(name).expect("the node is in the model");
            (answer.displacement(node)[component], nodes.map(|n| answer.displacement(n).to_vec()).collect())
        }
        "react" => {
            let node = model.find_node(name).expect("the node is in the model");
            (answer.reaction(node)[component], nodes.map(|n| answer.reaction(n).to_vec()).collect())
        }
        "end" => {
            let member = model.find_member(name).expect("the member is in the model");
            (answer.end_forces(member)[component], members.map(|m| answer.end_forces(m).to_vec()).collect())
        }
        other => panic!("unknown kind {other}"),
    };
    let same_kind = all.iter().flat_map(|v| v.iter().enumerate()).filter(|(c, _)| (c % 6 > 2) == turning);
    let greatest = same_kind.fold(0.0_f64, |a, (_, v)| a.max(v.abs()));
    let unit = match (kind, turning) {
        ("disp", false) | ("react" | "end", true) => METRE,
        _ => 1.0,
    };
    (value / unit, greatest / unit)
}

fn check(name: &str, tolerance: f64) {
    let data = stored();
    let cases = data["cases"].as_array().expect("the data file lists its cases");
    let case = cases.iter().find(|c| c["name"] == name).expect("the case is in the data file");
    let (model, loads) = Model::from_reference_json(&case.to_string()).expect("the case follows the exchange format");
    let results = analysis::run(model, &loads, &[], &Options::default()).expect("the case is sound");
    let expected = case["expected"].as_array().expect("the case lists its values");
    assert!(!expected.is_empty());
    for row in expected {
        let quantity = word(&row["quantity"]);
        let (value, greatest) = computed(&results, &row["where"]);
        let value = if quantity.starts_with('|') { value.abs() } else { value };
        let off = (value - number(&row["value"])).abs() / greatest;
        assert!(off <= tolerance, "{name} {quantity}: {value} against {}, off by {off:.1e}", row["value"]);
    }
}

macro_rules! closed_forms {
    ($($test:ident $case:literal $tolerance:expr;)*) => {
        $(#[test] fn $test() { check($case, $tolerance); })*
        #[test]
        fn every_stored_case_is_checked() {
            let data = stored();
            let names: Vec<&str> = data["cases"].as_array().expect("a list").iter().map(|c| word(&c["name"])).collect();
            assert_eq!(names, [$($case),*]);
        }
    };
}

closed_forms! {
    cf1_cantilever_with_tip_load "CF1" STORED_DIGITS;
    cf2_cantilever_with_uniform_load "CF2" STORED_DIGITS;
    cf3_simple_beam_with_mid_load "CF3" STORED_DIGITS;
    cf4_simple_beam_with_uniform_load "CF4" STORED_DIGITS;
    cf5_fixed_beam_with_uniform_load "CF5" STORED_DIGITS;
    cf6_fixed_beam_with_mid_load "CF6" STORED_DIGITS;
    cf7_propped_cantilever "CF7" STORED_DIGITS;
    cf8_two_spans "CF8" STORED_DIGITS;
    cf9_portal_on_pins "CF9" PORTAL;
    cf10_portal_with_fixed_feet "CF10" PORTAL;
    cf11_bracket_truss "CF11" STORED_DIGITS;
    cf12_shaft_with_torque "CF12" STORED_DIGITS;
    cf13_beam_with_a_hinge "CF13" STORED_DIGITS;
    cf14_cantilever_on_a_spring "CF14" STORED_DIGITS;
    cf15_beam_on_two_springs "CF15" STORED_DIGITS;
    cf16_bend_in_space "CF16" STORED_DIGITS;
    cf17_skew_bending "CF17" STORED_DIGITS;
    cf18_sloping_cantilever "CF18" STORED_DIGITS;
}

/// 20 members of one span, `EI` = 2e5 N·m², 3 m, 7.85 kg/m, bending in the x-z plane only.
fn vibrating_beam(ends: &str) -> Structure {
    let mut model = Model::new(ends);
    let (ei, length, pieces) = (2e5 * 1e6, 3000.0, 20);
    let section = Section::new("beam", 200e3, 77e3, 1000.0, ei / 200e3, 2e6, 5e5).mass(7.85);
    let section = model.section(section);
    let nodes: Vec<NodeId> = (0..=pieces)
        .map(|k| model.node(format!("n{k}"), [length * f64::from(k) / f64::from(pieces), 0.0, 0.0]))
        .collect();
    for (k, pair) in nodes.windows(2).enumerate() {
        model.member(Member::new(format!("m{k}"), pair[0], pair[1], section));
    }
    // Only uz and ry move; ux is held everywhere so that no mode along the beam comes between.
    let (free, resting, clamped) = ([false, false], [true, false], [true, true]);
    let (first, last) = match ends {
        "simple-simple" => (resting, resting),
        "cantilever" => (clamped, free),
        "fixed-fixed" => (clamped, clamped),
        "fixed-simple" => (clamped, resting),
        other => panic!("unknown ends {other}"),
    };
    for (k, &node) in nodes.iter().enumerate() {
        let [uz, ry] = if k == 0 {
            first
        } else if k == nodes.len() - 1 {
            last
        } else {
            free
        };
        model.support(node, Support::holding([true, true, uz, true, ry, true]));
    }
    Structure::build(model).expect("the beam is held")
}

#[test]
fn natural_frequencies_of_four_beams_meet_theory_and_other_elements() {
    let data = stored();
    for row in data["frequencies"]["cases"].as_array().expect("the data file lists the beams") {
        let modes = vibrating_beam(word(&row["ends"])).natural_frequencies(2, MassKind::Consistent);
        let modes = modes.expect("the beam has mass");
        let off = |k: usize, field: &str| (modes[k].frequency_hz / number(&row[field]) - 1.0).abs();
        // Same elements, 6 decimals printed.
        assert!(
            off(0, "f1_fe_20_elements_consistent_mass") < 5e-8,
            "{row} {:.3e}",
            off(0, "f1_fe_20_elements_consistent_mass")
        );
        assert!(off(1, "f2_fe") < 5e-8, "{row}");
        // 20 consistent elements are a little stiff.
        assert!(off(0, "f1_closed_form") < 5e-6, "{row}");
        let lumped = vibrating_beam(word(&row["ends"])).natural_frequencies(1, MassKind::Lumped).expect("mass");
        assert!((lumped[0].frequency_hz / number(&row["f1_closed_form"]) - 1.0).abs() < 5e-3, "{row}");
    }
}

#[test]
fn a_mass_on_a_spring_swings_at_root_k_over_m() {
    let mut model = Model::new("mast");
    let section = model.section(Section::new("tube", 200e3, 77e3, 1000.0, 1e6, 1e6, 2e6));
    let (foot, head) = (model.node("foot", [0.0; 3]), model.node("head", [0.0, 0.0, 2000.0]));
    model.member(Member::new("mast", foot, head, section));
    model.support(foot, Support::fixed());
    model.mass(head, 50.0);
    let modes = Structure::build(model).expect("sound").natural_frequencies(2, MassKind::Lumped).expect("a mass");
    let stiffness = 3.0 * 200e3 * 1e6 / 2000_f64.powi(3) * 1000.0; // 3EI/L³ [N/m]
    let expected = (stiffness / 50.0).sqrt() / (2.0 * std::f64::consts::PI);
    assert!(modes.iter().all(|m| (m.frequency_hz / expected - 1.0).abs() < 1e-10));
}

/// Euler's columns: the critical factor of the linear estimate and of the exact second-order iteration.
#[test]
fn columns_buckle_at_the_euler_load() {
    let pi2 = std::f64::consts::PI * std::f64::consts::PI;
    // Held ends, buckling load over EI/L².
    let columns = [("cantilever", false, pi2 / 4.0), ("pinned head", true, 20.190_728_556)];
    for (name, held, times) in columns {
        let column = |load: f64, second: SecondOrder| {
            let mut model = Model::new(name);
            let section = model.section(Section::new("tube", 200e3, 77e3, 1000.0, 1e6, 1e6, 2e6));
            let nodes: Vec<NodeId> =
                (0..=8).map(|k| model.node(format!("n{k}"), [0.0, 0.0, 500.0 * f64::from(k)])).collect();
            for (k, pair) in nodes.windows(2).enumerate() {
                model.member(Member::new(format!("m{k}"), pair[0], pair[1], section));
            }
            model.support(nodes[0], Support::fixed());
            if held {
                model.support(nodes[8], Support::holding([true, true, false, false, false, true]));
            }
            let case = LoadCase::new("press").force(nodes[8], [0.0, 0.0, -load]);
            let sum = Factored::new("sum").with(0, 1.0);
            analysis::run(model, &[case], &[sum], &Options { second_order: second, ..Options::default() })
        };
        let euler = times * 200e3 * 1e6 / 4000_f64.powi(2);
        let linear = column(euler, SecondOrder::Never).expect("a linear sum never buckles");
        // On the safe side by the members' own bows (1/64 of the length) and the iteration's 2e-3.
        let factor = linear.critical_factor(0);
        assert!(factor > 0.985 && factor < 1.0, "{name}: {factor}");
        assert!(column(0.9999 * euler, SecondOrder::Always).is_ok(), "{name}");
        let error = column(1.0001 * euler, SecondOrder::Always).expect_err("above the buckling load");
        assert!(matches!(error, analysis::AnalysisError::Buckles { .. }), "{name}: {error}");
    }
}

#[test]
fn forces_and_sag_along_a_simple_beam_follow_the_table() {
    let (w, l, ei) = (0.8, 3000.0, 2e11);
    let mut model = Model::new("beam");
    let section = model.section(Section::new("beam", 200e3, 77e3, 1000.0, 1e6, 2e6, 5e5));
    let (a, b) = (model.node("a", [0.0; 3]), model.node("b", [l, 0.0, 0.0]));
    let beam = model.member(Member::new("beam", a, b, section));
    model.support(a, Support::holding([true, true, true, true, false, false]));
    model.support(b, Support::holding([false, true, true, false, false, false]));
    let case = LoadCase::new("w").uniform(beam, [0.0, 0.0, -w]);
    let results = analysis::run(model, &[case], &[], &Options::default()).expect("sound");
    let line = results.response(0).line(beam);
    for x in [0.0, 400.0, 1500.0, 2700.0] {
        let moment = w * x * (l - x) / 2.0;
        let sag = w * x * (l.powi(3) - 2.0 * l * x * x + x.powi(3)) / (24.0 * ei);
        let at = line.at(x);
        assert!((at.m_y.abs() - moment).abs() < 1e-8 * 9e5, "{at:?}");
        assert!((at.v_z.abs() - (w * (l / 2.0 - x)).abs()).abs() < 1e-9 * 1200.0, "{at:?}");
        assert!((line.sag(x)[1] + sag).abs() < 1e-10 && (line.displacement(x)[2] + sag).abs() < 1e-10);
    }
    let most = results.envelope([0]).members[0].greatest(4);
    assert!((most.value.abs() - w * l * l / 8.0).abs() < 1e-6 && (most.at_mm - l / 2.0).abs() < 1e-3);
}

/// One member per column: its own bow decides, which the nodes know nothing of.
#[test]
fn the_critical_factor_of_single_members_stays_below_euler() {
    let pi2 = std::f64::consts::PI * std::f64::consts::PI;
    let held = |turn: bool| Support::holding([true, true, true, turn, turn, true]);
    let columns =
        [("pinned", false, false, pi2), ("one end", true, false, 20.190_728_556), ("both", true, true, 4.0 * pi2)];
    for released in [false, true] {
        for (name, foot_held, head_held, times) in columns {
            let mut model = Model::new(name);
            let section = model.section(Section::new("tube", 200e3, 77e3, 1000.0, 1e6, 1e6, 2e6));
            let (foot, head) = (model.node("foot", [0.0; 3]), model.node("head", [0.0, 0.0, 4000.0]));
            let joint = |held: bool| if released && !held { EndJoint::pinned() } else { EndJoint::default() };
            model
                .member(Member::new("column", foot, head, section).joint_i(joint(foot_held)).joint_j(joint(head_held)));
            // Hinges stand either in the member's joints or in the supports.
            model.support(foot, held(foot_held || released));
            let Support { fixed: [.., rx, ry, rz], .. } = held(head_held || released);
            model.support(head, Support::holding([true, true, false, rx, ry, rz]));
            let euler = times * 200e3 * 1e6 / 4000_f64.powi(2);
            let press = |share: f64| LoadCase::new("press").force(head, [0.0, 0.0, -share * euler]);
            let sum = [Factored::new("sum").with(0, 1.0)];
            let linear = analysis::run(model.clone(), &[press(1.0)], &sum, &Options::first_order()).expect("linear");
            let factor = linear.critical_factor(0);
            // The sum of both parts is at most 1.21 times the greater one for these three.
            assert!(factor <= 1.0 + 1e-9 && factor > 0.75, "{name} {released}: {factor}");
            assert!(analysis::run(model.clone(), &[press(0.99)], &sum, &Options::default()).is_ok(), "{name}");
            let error = analysis::run(model, &[press(1.01)], &sum, &Options::default()).expect_err("above Euler");
            assert!(matches!(error, analysis::AnalysisError::Buckles { .. }), "{name} {released}: {error}");
        }
    }
}
