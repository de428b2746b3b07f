//! Three frames solved by other libraries: PyNiteFEA 3.2.0 and OpenSeesPy 3.7.1.2, which agree with each other to 5e-12.
//!
//! Models and results, SI units, 9 digits: `tests/library/data/frames/*.json`. Stored values below 1e-9 of the greatest
//! are 0. The second-order post has a closed form beside the libraries.

use serde_json::Value;
use tiltwright::analysis::{
    self, EndJoint, Factored, Joint, LoadAxes, LoadCase, Member, MemberId, MemberLoad, Model, NodeId, OneWay, Options,
    Order, Response, Results, SecondOrder, Section, Structure, Support, Way,
};

/// Printed digits of the stored values.
const STORED_DIGITS: f64 = 5e-9;
const METRE: f64 = 1000.0;

const AXLE: &str = include_str!("data/frames/tilted_axle_frame.json");
const POST: &str = include_str!("data/frames/fixed_base_post.json");
const HINGED: &str = include_str!("data/frames/hinged_ground_frame.json");

fn solve(text: &str, options: &Options) -> (Value, Results) {
    let stored: Value = serde_json::from_str(text).expect("the data file is JSON");
    let (model, cases) = Model::from_reference_json(text).expect("the data file follows the exchange format");
    let sums: Vec<Factored> =
        cases.iter().enumerate().map(|(k, c)| Factored::new(format!("sum {}", c.name)).with(k, 1.0)).collect();
    (stored, analysis::run(model, &cases, &sums, options).expect("the frame is sound"))
}

/// One kind of result of one case: name of the part, and its six or twelve numbers in SI units.
type Kind = Vec<(String, Vec<f64>)>;

fn kinds(results: &Results, answer: &Response<'_>) -> [(&'static str, Kind); 3] {
    let model = results.structure().model();
    let nodes = || model.nodes().enumerate().map(|(n, (name, _))| (name.to_owned(), NodeId(n)));
    let forces = |v: &[f64]| v.iter().enumerate().map(|(c, v)| if c % 6 > 2 { v / METRE } else { *v }).collect();
    let moved = |v: [f64; 6]| v.iter().enumerate().map(|(c, v)| if c > 2 { *v } else { v / METRE }).collect();
    let members = model.members().iter().enumerate();
    [
        ("displacements", nodes().map(|(name, n)| (name, moved(answer.displacement(n)))).collect()),
        ("reactions", nodes().map(|(name, n)| (name, forces(&answer.reaction(n)))).collect()),
        ("end_forces", members.map(|(m, own)| (own.name.clone(), forces(&answer.end_forces(MemberId(m))))).collect()),
    ]
}

/// Greatest difference over the greatest stored value of its kind (forces and moments, shifts and turns apart).
fn worst(stored: &Value, results: &Results, answer: &Response<'_>) -> f64 {
    let mut worst = 0.0_f64;
    for (kind, rows) in kinds(results, answer) {
        let stored = stored[kind].as_object().expect("the data file holds this kind");
        assert!(kind == "reactions" || stored.len() == rows.len(), "{kind} of every part are compared");
        let (mut off, mut greatest) = ([0.0_f64; 2], [0.0_f64; 2]);
        for (name, values) in &rows {
            let Some(own) = stored.get(name) else { continue };
            for (c, value) in values.iter().enumerate() {
                let truth = own[c].as_f64().expect("the data file holds a number");
                let side = c % 6 / 3;
                off[side] = off[side].max((value - truth).abs());
                greatest[side] = greatest[side].max(truth.abs());
            }
        }
        for side in 0..2 {
            if greatest[side] > 0.0 {
                worst = worst.max(off[side] / greatest[side]);
            }
        }
    }
    worst
}

#[test]
fn three_frames_agree_with_two_other_libraries() {
    for text in [AXLE, POST, HINGED] {
        let (stored, results) = solve(text, &Options::first_order());
        for answer in results.responses().take(results.cases()) {
            let off = worst(&stored["results"][answer.name()], &results, &answer);
            assert!(off <= STORED_DIGITS, "{} {}: off by {off:.1e}", stored["name"], answer.name());
        }
    }
}

#[test]
fn a_written_model_reads_back_and_gives_the_same_bytes() {
    for text in [AXLE, POST, HINGED] {
        let (_, results) = solve(text, &Options::first_order());
        let written = results.to_reference_json_of("as written", 0..results.cases());
        let (_, again) = solve(&written, &Options::first_order());
        let stored: Value = serde_json::from_str(&written).expect("what was written is JSON");
        for answer in again.responses().take(again.cases()) {
            let off = worst(&stored["results"][answer.name()], &again, &answer);
            assert!(off < 1e-10, "{} {off:.1e}", answer.name());
        }
        let (_, twice) = solve(text, &Options::first_order());
        assert_eq!(written, twice.to_reference_json_of("as written", 0..twice.cases()));
    }
}

/// Everything the format holds beyond plain frames, written and read back.
#[test]
fn springs_arms_joints_contacts_and_partial_loads_read_back() {
    let mut model = Model::new("all fields");
    let tube = model.section(Section::new("tube", 200e3, 77e3, 800.0, 5e5, 3e5, 6e5).mass(6.3));
    let rod = model.section(Section::new("rod", 200e3, 77e3, 80.0, 500.0, 500.0, 1e3));
    let foot = model.node("foot", [0.0; 3]);
    let head = model.node("head", [100.0, 50.0, 1800.0]);
    let far = model.node("far", [900.0, 0.0, 1900.0]);
    let peg = model.node("peg", [-700.0, 300.0, 0.0]);
    model.mass(far, 12.5);
    let post = model.member(Member::new("post", foot, head, tube).offset([0.0, 20.0, 150.0], [0.0; 3]));
    let slip = EndJoint { fx: Joint::Spring(900.0), my: Joint::Spring(2e7), ..EndJoint::default() };
    let hinge = EndJoint { mz: Joint::Free, ..EndJoint::default() };
    let rail = model.member(Member::new("rail", head, far, tube).z_axis([0.1, 0.2, 1.0]).joint_i(hinge).joint_j(slip));
    model.member(Member::new("stay", peg, head, rod).way(Way::TensionOnly));
    model.member(Member::new("undone", peg, far, rod).way(Way::Slack));
    let slope = [[0.8, 0.0, 0.6], [0.0, 1.0, 0.0], [-0.6, 0.0, 0.8]];
    model.support(foot, Support::pinned().springs([0.0, 0.0, 0.0, 3e8, 2e8, 1e8]));
    model.support(peg, Support::pinned());
    model.support(
        far,
        Support::default().springs([0.0, 40.0, 55.0, 0.0, 0.0, 0.0]).one_way(2, OneWay::Positive).along(slope),
    );
    let line = MemberLoad::Line {
        a: 100.0,
        b: Some(600.0),
        w_a: [0.0, 0.2, -0.5],
        w_b: [0.1, 0.0, -1.5],
        axes: LoadAxes::Local,
    };
    let point =
        MemberLoad::Point { at: 400.0, force: [30.0, 200.0, -100.0], moment: [2e4, 1e4, -3e4], axes: LoadAxes::Local };
    let case = LoadCase::new("load").force(head, [300.0, 200.0, -4000.0]).on(rail, line).on(post, point);
    let lift = LoadCase::new("lift").force(far, [0.0, 0.0, 900.0]).uniform(post, [0.1, 0.0, 0.0]);
    let sums = [Factored::new("both").with(0, 1.2).with(1, -0.5), Factored::new("up").with(0, 0.3).with(1, 2.0)];
    let options = Options { second_order: SecondOrder::Always, ..Options::default() };
    let first = analysis::run(model, &[case.clone(), lift.clone()], &sums, &options).expect("sound");
    let text = first.to_reference_json("every field");
    let (read, cases) = Model::from_reference_json(&text).expect("what was written can be read");
    assert_eq!(read.members()[1].joints[0].mz, Joint::Free);
    assert_eq!(cases.len(), 4, "combinations are written with their loads multiplied out");
    let again = analysis::run(
        read,
        &cases,
        &[Factored::new("both again").with(2, 1.0), Factored::new("up again").with(3, 1.0)],
        &options,
    )
    .expect("still sound");
    for (was, now) in [(0, 0), (1, 1), (2, 4), (3, 5)] {
        let (was, now) = (first.response(was), again.response(now));
        for n in 0..4 {
            let (a, b) = (was.displacement(NodeId(n)), now.displacement(NodeId(n)));
            (0..6).for_each(|c| assert!((a[c] - b[c]).abs() < 1e-9 * 100.0, "{} {n} {c} {a:?} {b:?}", was.name()));
        }
        for m in 0..4 {
            let (a, b) = (was.end_forces(MemberId(m)), now.end_forces(MemberId(m)));
            (0..12).for_each(|c| assert!((a[c] - b[c]).abs() < 1e-9 * 1e6, "{} {m} {c} {a:?} {b:?}", was.name()));
        }
    }
    let stored: Value = serde_json::from_str(&text).expect("JSON");
    assert_eq!(stored["results"]["up"]["order"], "second");
    assert!(
        stored["results"]["up"]["open"].as_array().is_some_and(|open| !open.is_empty()),
        "{}",
        stored["results"]["up"]
    );
    let wrong = text.replace("\"i\": \"head\"", "\"i\": \"haed\"");
    let error = Model::from_reference_json(&wrong).expect_err("no such node");
    assert!(error.to_string().contains("node haed"), "{error}");
    let error = Model::from_reference_json("{").expect_err("not JSON");
    assert!(error.to_string().contains("line 1"), "{error}");
}

#[test]
fn the_second_order_post_meets_its_closed_form() {
    let (stored, results) = solve(POST, &Options { second_order: SecondOrder::Always, ..Options::default() });
    let answer = results.find("sum lateral_axial").expect("the combination was asked for");
    assert!(matches!(answer.order(), Order::Iterated { compression, .. } if !compression.is_empty()));
    let model = results.structure().model();
    let tip = answer.displacement(model.find_node("N4").expect("the tip"));
    let base = answer.reaction(model.find_node("N0").expect("the base"));
    let truth = &stored["second_order"];
    let number = |field: &str, k: usize| truth[field][k].as_f64().expect("the data file holds a number");
    for k in 0..2 {
        let (shift, moment) = (number("tip_disp_closed_form", k), number("base_moment_Mx_My_closed_form", k));
        assert!((tip[k] / METRE / shift - 1.0).abs() < STORED_DIGITS, "{} against {shift}", tip[k] / METRE);
        assert!((base[3 + k] / METRE / moment - 1.0).abs() < STORED_DIGITS, "{} against {moment}", base[3 + k] / METRE);
    }
}

/// The members' own shape is exact, so one member does as well as four.
#[test]
fn one_member_gives_the_same_second_order_post_and_the_moment_along_it() {
    let (_, four) = solve(POST, &Options { second_order: SecondOrder::Always, ..Options::default() });
    let mut model = Model::new("one");
    let section = model.section(Section::new("post", 200e3, 77.2e3, 1445.0, 1.315e6, 2.052e6, 2.606e6));
    let (foot, head) = (model.node("N0", [0.0; 3]), model.node("N4", [0.0, 0.0, 2400.0]));
    let post = model.member(Member::new("post", foot, head, section).roll(30.0));
    model.support(foot, Support::fixed());
    let case =
        LoadCase::new("push").nodal(head, [1200.0, -500.0, -8000.0, 0.0, 0.0, 150e3]).uniform(post, [0.15, 0.0, 0.0]);
    let options = Options { second_order: SecondOrder::Always, ..Options::default() };
    let one = analysis::run(model, &[case], &[Factored::new("sum").with(0, 1.0)], &options).expect("sound");
    let (answer, by_four) = (one.response(1), four.find("sum lateral_axial").expect("asked for"));
    let near = |a: f64, b: f64, of: f64| assert!((a - b).abs() < 1e-9 * of, "{a} against {b}");
    (0..6).for_each(|c| near(answer.reaction(foot)[c], by_four.reaction(NodeId(0))[c], 3.5e6));
    (0..3).for_each(|c| near(answer.displacement(head)[c], by_four.displacement(NodeId(4))[c], 21.0));
    let (line, second) = (answer.line(post), by_four.line(MemberId(1)));
    for x in [0.0, 200.0, 600.0] {
        near(line.at(600.0 + x).m_z, second.at(x).m_z, 2.7e6);
        near(line.at(600.0 + x).m_y, second.at(x).m_y, 2.7e6);
        (0..3).for_each(|c| near(line.displacement(600.0 + x)[c], second.displacement(x)[c], 21.0));
    }
}

#[test]
fn rigid_arms_are_what_very_stiff_members_become() {
    let model = |with_arms: bool| {
        let mut model = Model::new("bracket");
        let tube = model.section(Section::new("tube", 200e3, 77e3, 800.0, 5e5, 3e5, 6e5));
        let foot = model.node("foot", [0.0; 3]);
        let head = model.node("head", [100.0, 50.0, 1800.0]);
        let far = model.node("far", [900.0, 0.0, 1900.0]);
        model.member(Member::new("post", foot, head, tube).offset([0.0, 20.0, 150.0], [30.0, -40.0, -200.0]));
        let mut rail = Member::new("rail", head, far, tube).roll(20.0).offset([0.0, 60.0, 0.0], [0.0; 3]);
        rail.joints[1].my = Joint::Spring(2e7);
        model.member(rail);
        model.support(foot, Support::fixed());
        model.support(far, Support::holding([false, false, false, true, true, true]));
        if with_arms { model.with_arms_as_members(1e5) } else { model }
    };
    let far = NodeId(2);
    let case = LoadCase::new("load")
        .force(far, [300.0, 200.0, -4000.0])
        .uniform(MemberId(1), [0.0, 0.1, -0.5])
        .uniform(MemberId(0), [0.2, 0.0, -0.1]);
    let sum = [Factored::new("sum").with(0, 1.0)];
    for second_order in [SecondOrder::Never, SecondOrder::Always] {
        let options = Options { second_order, ..Options::default() };
        let arms = analysis::run(model(false), std::slice::from_ref(&case), &sum, &options).expect("sound");
        let stiff = analysis::run(model(true), std::slice::from_ref(&case), &sum, &options).expect("sound");
        let (a, b) = (arms.response(1), stiff.response(1));
        for n in [NodeId(1), far] {
            for c in 0..3 {
                let (x, y) = (a.displacement(n)[c], b.displacement(n)[c]);
                assert!((x - y).abs() < 2e-5 * 30.0, "{second_order:?} node {n:?} component {c}: {x} against {y}");
            }
        }
        for c in 0..12 {
            let (x, y) = (a.end_forces(MemberId(0))[c], b.end_forces(MemberId(0))[c]);
            assert!((x - y).abs() < 1e-4 * 4e3 * if c % 6 > 2 { 1e3 } else { 1.0 }, "{second_order:?} {c}: {x} {y}");
        }
    }
    let structure = Structure::build(model(false)).expect("sound");
    assert_eq!(structure.unknowns(), 9);
}
