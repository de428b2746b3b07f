//! Frames that can move without resistance are refused by name; soft frames that cannot are not.

use proptest::prelude::*;
use tiltwright::analysis::{
    self, AnalysisError, EndJoint, Factored, Joint, LoadCase, Member, MemberId, Model, Motion, NodeId, OneWay, Options,
    Section, Structure, Support, Way,
};

fn tube(model: &mut Model) -> analysis::SectionId {
    model.section(Section::new("tube", 200e3, 77.2e3, 690.0, 5.41e5, 2.88e5, 6.12e5))
}

fn refusal(model: Model) -> AnalysisError {
    Structure::build(model).expect_err("the frame moves")
}

fn moves(error: &AnalysisError) -> (&str, Motion, String) {
    match error {
        AnalysisError::Mechanism { node, motion, direction, .. } => (node, *motion, direction.to_string()),
        other => panic!("expected a mechanism, got: {other}"),
    }
}

/// Four corners of an upright frame in the X-Z plane, 2 m by 1 m, held out of plane.
fn upright(joints: EndJoint, feet: Support) -> (Model, [NodeId; 4]) {
    let mut model = Model::new("upright");
    let section = tube(&mut model);
    let at = [("a", 0.0, 0.0), ("b", 0.0, 1000.0), ("c", 2000.0, 1000.0), ("d", 2000.0, 0.0)];
    let nodes = at.map(|(name, x, z)| model.node(name, [x, 0.0, z]));
    for (k, name) in ["left", "top", "right"].iter().enumerate() {
        model.member(Member::new(*name, nodes[k], nodes[k + 1], section).joint_i(joints).joint_j(joints));
    }
    let out_of_plane = Support::holding([false, true, false, true, false, true]);
    for (k, &node) in nodes.iter().enumerate() {
        model.support(node, if k % 3 == 0 { feet.clone() } else { out_of_plane.clone() });
    }
    (model, nodes)
}

#[test]
fn a_frame_without_supports_slides() {
    let mut model = Model::new("free");
    let section = tube(&mut model);
    let (a, b) = (model.node("a", [0.0; 3]), model.node("b", [1000.0, 0.0, 0.0]));
    model.member(Member::new("rail", a, b, section));
    assert!(matches!(refusal(model), AnalysisError::Mechanism { nodes_moving: 1..=2, .. }));
}

#[test]
fn a_beam_on_two_rollers_slides_along_itself() {
    let mut model = Model::new("rollers");
    let section = tube(&mut model);
    let (a, b) = (model.node("a", [0.0; 3]), model.node("b", [1000.0, 0.0, 0.0]));
    model.member(Member::new("rail", a, b, section));
    model.support(a, Support::holding([false, true, true, true, false, false]));
    model.support(b, Support::holding([false, true, true, false, false, false]));
    let error = refusal(model);
    assert_eq!(moves(&error), ("a", Motion::Slides, "X".to_owned()));
    assert_eq!(error.to_string(), "node a (and 1 more with it) can slide along X without resistance");
}

#[test]
fn a_frame_hinged_at_every_corner_leans_over() {
    let hinge = EndJoint { my: Joint::Free, ..EndJoint::default() };
    // The right foot turns with its post, so that no node is left without any member.
    let (mut model, [a, b, c, d]) = upright(EndJoint::default(), Support::fixed());
    for (m, ends) in [(0, [true, true]), (1, [false, false]), (2, [true, true])] {
        let joint = |free: bool| if free { hinge } else { EndJoint::default() };
        model.members_mut()[m].joints = ends.map(joint);
    }
    let _ = (a, d);
    let error = refusal(model);
    let (node, motion, direction) = moves(&error);
    assert!([b, c].contains(&NodeId(["a", "b", "c", "d"].iter().position(|n| *n == node).expect("a corner"))));
    assert_eq!((motion, direction.as_str()), (Motion::Slides, "X"));
}

#[test]
fn three_hinges_in_a_line_give_way_across_it() {
    let mut model = Model::new("three hinges");
    let section = tube(&mut model);
    let nodes = [0.0, 700.0, 1500.0].map(|x| model.node(format!("at {x}"), [x, 0.0, 0.0]));
    model.member(Member::new("first", nodes[0], nodes[1], section).joint_j(EndJoint::pinned()));
    model.member(Member::new("second", nodes[1], nodes[2], section));
    model.support(nodes[0], Support::holding([true, true, true, true, false, true]));
    model.support(nodes[2], Support::holding([true, true, true, true, false, true]));
    let error = refusal(model);
    assert_eq!(moves(&error), ("at 700", Motion::Slides, "Z".to_owned()));
}

#[test]
fn a_member_between_ball_joints_spins() {
    let mut model = Model::new("spin");
    let section = tube(&mut model);
    let (a, b) = (model.node("a", [0.0; 3]), model.node("b", [1000.0, 0.0, 300.0]));
    model.member(Member::new("rail", a, b, section));
    model.support(a, Support::pinned());
    model.support(b, Support::pinned());
    let error = refusal(model);
    assert_eq!(error, AnalysisError::Spins { member: "rail".to_owned() });
    assert_eq!(error.hints(), ["hold the torsion of member rail at one end, or make it axial only"]);
}

#[test]
fn torsion_released_at_both_ends_spins() {
    let mut model = Model::new("spin");
    let section = tube(&mut model);
    let (a, b) = (model.node("a", [0.0; 3]), model.node("b", [1000.0, 0.0, 300.0]));
    let loose = EndJoint { mx: Joint::Free, ..EndJoint::default() };
    model.member(Member::new("rail", a, b, section).joint_i(loose).joint_j(loose));
    model.support(a, Support::fixed());
    model.support(b, Support::fixed());
    assert_eq!(refusal(model), AnalysisError::Spins { member: "rail".to_owned() });
}

#[test]
fn a_node_released_by_every_member_turns() {
    let (mut model, _) = upright(EndJoint::default(), Support::fixed());
    let hinge = EndJoint { my: Joint::Free, ..EndJoint::default() };
    model.members_mut()[0].joints[1] = hinge;
    model.members_mut()[1].joints[0] = hinge;
    assert_eq!(moves(&refusal(model)), ("b", Motion::Turns, "Y".to_owned()));
}

#[test]
fn a_sloping_direction_is_named_by_its_vector() {
    let mut model = Model::new("slope");
    let section = tube(&mut model);
    let (a, b) = (model.node("a", [0.0; 3]), model.node("b", [800.0, 0.0, 600.0]));
    model.member(Member::new("rail", a, b, section));
    let slope = [[0.8, 0.0, 0.6], [0.0, 1.0, 0.0], [-0.6, 0.0, 0.8]];
    for node in [a, b] {
        model.support(node, Support::holding([false, true, true, true, true, true]).along(slope));
    }
    assert_eq!(moves(&refusal(model)), ("a", Motion::Slides, "(0.8, 0, 0.6)".to_owned()));
}

#[test]
fn a_released_bar_slides_out_and_a_loose_node_is_named() {
    let (mut model, _) = upright(EndJoint::default(), Support::fixed());
    let sliding = EndJoint { fx: Joint::Free, ..EndJoint::default() };
    model.members_mut()[1].joints = [sliding; 2];
    assert_eq!(refusal(model), AnalysisError::SlidesOut { member: "top".to_owned() });
    let (mut model, _) = upright(EndJoint::default(), Support::fixed());
    model.node("nowhere", [5.0; 3]);
    assert_eq!(refusal(model), AnalysisError::LooseNode { node: "nowhere".to_owned() });
}

/// One diagonal tie: the frame stands while it is pulled and has no hold when it is pressed.
#[test]
fn a_tie_that_goes_slack_leaves_a_named_mechanism() {
    let (mut model, [a, b, c, _]) = upright(EndJoint::default(), Support::fixed());
    let hinge = EndJoint { my: Joint::Free, ..EndJoint::default() };
    model.members_mut()[0].joints = [hinge; 2];
    model.members_mut()[2].joints = [hinge; 2];
    let section = analysis::SectionId(0);
    let tie = model.member(Member::new("tie", a, c, section).way(Way::TensionOnly));
    let case = LoadCase::new("push").force(b, [1000.0, 0.0, 0.0]);
    let run = |factor: f64| {
        let sum = Factored::new("sum").with(0, factor);
        analysis::run(model.clone(), std::slice::from_ref(&case), &[sum], &Options::default())
    };
    let pulled = run(1.0).expect("the tie is pulled");
    let expected = 1000.0 * 5f64.sqrt() / 2.0; // N = H / cos
    assert!((pulled.response(1).axial(tie) - expected).abs() < 1e-3 * expected);
    match run(-1.0).expect_err("the tie is pressed") {
        AnalysisError::NotHeld { combination, open, source } => {
            assert_eq!((combination.as_str(), open.as_slice()), ("sum", ["member tie".to_owned()].as_slice()));
            assert_eq!((moves(&source).1, moves(&source).2.as_str()), (Motion::Slides, "X"));
        }
        other => panic!("expected a mechanism after the tie, got {other}"),
    }
}

#[test]
fn a_frame_that_lifts_off_the_ground_is_not_held() {
    let (mut model, [a, _, c, d]) = upright(EndJoint::default(), Support::fixed());
    for foot in [a, d] {
        model.support(foot, Support::pinned().one_way(2, OneWay::Positive));
    }
    let lift = LoadCase::new("lift").force(c, [0.0, 0.0, 500.0]);
    let error = analysis::run(model, &[lift], &[Factored::new("up").with(0, 1.0)], &Options::default());
    assert!(matches!(error, Err(AnalysisError::NotHeld { .. })), "{error:?}");
}

/// Sway of 43 mm under 40 N and a bare 3 m whip of 4 mm wire beside a 300 mm column: soft, but held.
#[test]
fn soft_but_sound_frames_are_not_flagged() {
    let text = include_str!("../library/data/frames/hinged_ground_frame.json");
    let (model, _) = Model::from_reference_json(text).expect("the data file follows the exchange format");
    assert!(Structure::build(model).is_ok());
    for (thin, thick) in [(4.0_f64, 300.0_f64), (1.0, 1000.0)] {
        let mut model = Model::new("whip");
        let round = |name: &str, d: f64| {
            let (area, i) = (std::f64::consts::PI * d * d / 4.0, std::f64::consts::PI * d.powi(4) / 64.0);
            Section::new(name, 200e3, 77e3, area, i, i, 2.0 * i)
        };
        let (wire, column) = (model.section(round("wire", thin)), model.section(round("column", thick)));
        let nodes: Vec<NodeId> =
            (0..=4).map(|k| model.node(format!("n{k}"), [0.0, 0.0, 750.0 * f64::from(k)])).collect();
        model.member(Member::new("column", nodes[0], nodes[1], column));
        for k in 1..4 {
            model.member(Member::new(format!("wire {k}"), nodes[k], nodes[k + 1], wire));
        }
        let heavy = model.node("heavy", [0.0, 750.0, 3000.0]);
        model.member(Member::new("yard", nodes[4], heavy, column));
        model.support(nodes[0], Support::fixed());
        let case = LoadCase::new("breeze").force(nodes[4], [1e-3, 0.0, 0.0]);
        let results = analysis::run(model, &[case], &[], &Options::default()).expect("soft but sound");
        // 2.25 m of wire: P L³/3EI, and the column hardly gives.
        let expected = 1e-3 * 2250_f64.powi(3) / (3.0 * 200e3 * std::f64::consts::PI * thin.powi(4) / 64.0);
        let sway = results.response(0).displacement(nodes[4])[0];
        assert!((sway / expected - 1.0).abs() < 1e-4, "{sway} against {expected}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// A hinge in any of the ways to stand it up: pinned feet sway, one rigid corner does not.
    #[test]
    fn one_rigid_corner_is_enough(turn in 0.0..360.0_f64, height in 0.2..5.0_f64, thin in 0.01..1.0_f64) {
        for rigid in [false, true] {
            let mut model = Model::new("portal");
            let section = Section::new("bar", 200e3, 77e3, 100.0 * thin, 1e4 * thin, 2e4 * thin, 1e4 * thin);
            let section = model.section(section);
            let (sin, cos) = turn.to_radians().sin_cos();
            let at = [("a", 0.0, 0.0), ("b", 0.0, 1.0), ("c", 1.5, 1.0), ("d", 1.5, 0.0)];
            let nodes = at.map(|(name, x, z)| {
                model.node(name, [1000.0 * x * cos, 1000.0 * x * sin, 1000.0 * z * height])
            });
            let across = [[cos, sin, 0.0], [-sin, cos, 0.0], [0.0, 0.0, 1.0]];
            let hinge = EndJoint { my: Joint::Free, mz: Joint::Free, ..EndJoint::default() };
            let keep = EndJoint::default();
            model.member(Member::new("left", nodes[0], nodes[1], section).joint_j(if rigid { keep } else { hinge }));
            model.member(Member::new("top", nodes[1], nodes[2], section));
            model.member(Member::new("right", nodes[3], nodes[2], section).joint_j(hinge));
            for (k, &node) in nodes.iter().enumerate() {
                let foot = k % 3 == 0;
                model.support(node, Support::holding([foot, true, foot, true, false, true]).along(across));
            }
            let built = Structure::build(model);
            if rigid {
                prop_assert!(built.is_ok(), "{:?}", built.err());
            } else {
                let slides = matches!(built, Err(AnalysisError::Mechanism { motion: Motion::Slides, .. }));
                prop_assert!(slides);
            }
        }
    }

    /// Wrong numbers are refused, never solved.
    #[test]
    fn bad_numbers_are_refused(which in 0..4_usize, bad in prop_oneof![Just(f64::NAN), Just(-1.0), Just(0.0)]) {
        let mut model = Model::new("bad");
        let mut numbers = [200e3, 690.0, 5e5, 6e5];
        numbers[which] = bad;
        let [e, area, i, j] = numbers;
        let section = model.section(Section::new("tube", e, 77e3, area, i, i, j));
        let (a, b) = (model.node("a", [0.0; 3]), model.node("b", [1000.0, 0.0, 0.0]));
        model.member(Member::new("rail", a, b, section));
        model.support(a, Support::fixed());
        let refused = matches!(Structure::build(model), Err(AnalysisError::BadNumber { .. }));
        prop_assert!(refused);
    }
}

#[test]
fn a_load_outside_its_member_and_a_wrong_number_are_refused() {
    let (model, [_, b, ..]) = upright(EndJoint::default(), Support::fixed());
    let run = |case: LoadCase, sum: Factored| analysis::run(model.clone(), &[case], &[sum], &Options::default());
    let point = analysis::MemberLoad::Point {
        at: 1000.5,
        force: [0.0, 0.0, 1.0],
        moment: [0.0; 3],
        axes: analysis::LoadAxes::Global,
    };
    let error = run(LoadCase::new("p").on(MemberId(0), point), Factored::new("c")).expect_err("outside");
    assert_eq!(error.to_string(), "load case p: a load on member left stands at 1000.5 mm, the member is 1000 mm long");
    let error = run(LoadCase::new("p").force(b, [1.0; 3]), Factored::new("c").with(1, 1.0)).expect_err("no such case");
    assert_eq!(error.to_string(), "combination c names load case #1, which does not exist");
}

#[test]
fn every_refusal_names_its_part() {
    let portal = || upright(EndJoint::default(), Support::fixed());
    let said = |change: &dyn Fn(&mut Model, [NodeId; 4])| {
        let (mut model, nodes) = portal();
        change(&mut model, nodes);
        refusal(model).to_string()
    };
    assert_eq!(
        said(&|m, _| {
            m.node("b", [7.0; 3]);
        }),
        "two nodes are named b"
    );
    assert_eq!(said(&|m, _| m.members_mut()[1].j = NodeId(99)), "top names node #99, which does not exist");
    assert_eq!(said(&|m, _| m.members_mut()[1].j = NodeId(1)), "member top has no length between its ends");
    assert_eq!(
        said(&|m, _| m.members_mut()[1].orientation = analysis::Orientation::ZAxis([1.0, 0.0, 0.0])),
        "member top: the axis given for its cross-section runs along the member"
    );
    assert_eq!(
        said(&|m, [a, ..]| m.support(a, Support::fixed().along([[1.0, 0.0, 0.0]; 3]))),
        "support at node a: its axes are not three perpendicular unit vectors, right-handed"
    );
    assert_eq!(
        said(&|m, _| m.members_mut()[0].way = Way::TensionOnly),
        "member left works one way only, so it must be an axial member"
    );
    let (model, [a, b, ..]) = portal();
    let built = Structure::build(model.clone()).expect("sound");
    assert_eq!(built.natural_frequencies(1, analysis::MassKind::Lumped), Err(AnalysisError::NoMass));
    let mut model = model;
    let peg = model.node("peg", [0.0, 500.0, 0.0]);
    model.member(Member::new("stay", peg, b, analysis::SectionId(0)).axial());
    model.support(peg, Support::pinned());
    let twist = LoadCase::new("twist").nodal(peg, [0.0, 0.0, 0.0, 1.0, 0.0, 0.0]);
    let error = analysis::run(model.clone(), &[twist], &[], &Options::default()).expect_err("a hinge");
    assert_eq!(error.to_string(), "load case twist: the moment on node peg meets only axial members, which take none");
    let bad = LoadCase::new("bad").force(a, [f64::NAN, 0.0, 0.0]);
    let error = analysis::run(model, &[bad], &[], &Options::default()).expect_err("not a number");
    assert_eq!(error.to_string(), "load case bad, node a: load is NaN, it must be a finite number");
}
