//! Shop drawings of every ready design: nothing overlaps, and what is measured off them is the model.

use crate::sheet_tests::measure::{circles, groups, number, parse, words};
use std::path::{Path, PathBuf};
use tiltwright::{
    design::{self, Design, Tilts},
    frame::{self, Frame},
    quantities::{Tape, Units, deg, mm},
    sheets::{Drafter, Paper, Ray, Sheet},
};

/// What a template may be off by [mm].
const TEMPLATE_MM: f64 = 0.01;

/// The ready designs, and frames of other kinds that only these tests draw.
fn design_files() -> Vec<PathBuf> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut files = Vec::new();
    for folder in ["designs", "tests/sheets/data"] {
        let entries = std::fs::read_dir(root.join(folder)).expect("the folder of designs is there");
        files.extend(entries.map(|entry| entry.expect("a readable folder").path()));
    }
    files.retain(|file| file.extension().is_some_and(|end| end == "yaml"));
    files.sort();
    files
}

fn laid_out(file: &Path) -> (Design, Frame) {
    let read = design::read(Some(file)).unwrap_or_else(|faults| panic!("{}: {faults:?}", file.display()));
    let design = read.design;
    let tilts = match &design.tilts {
        Tilts::Given(tilts) => tilts.clone(),
        // Any plausible set will do: these tests are about drawing, not about the sun.
        Tilts::Seasons(_) => [15.0, 35.0, 58.0].map(deg).to_vec(),
    };
    let tape = Tape::of(design.units);
    let frame =
        frame::lay_out(&design, &tilts, tape).unwrap_or_else(|refusals| panic!("{}: {refusals:?}", file.display()));
    (design, frame)
}

/// All sheets of all ready designs, on both papers and in both units.
fn all_sheets() -> Vec<(String, Vec<Sheet>)> {
    let mut all = Vec::new();
    for file in design_files() {
        let (design, frame) = laid_out(&file);
        for units in [Units::Us, Units::Metric] {
            for paper in [Paper::Letter, Paper::A4] {
                let drafter = Drafter { design: &design, frame: &frame, paper, units, depth_asked_mm: None };
                let rays = |tilt: f64| vec![Ray { name: "noon".to_string(), altitude_deg: 90.0 - tilt }];
                let stem = file.file_stem().unwrap_or_default().to_string_lossy();
                all.push((format!("{stem}-{}-{units:?}", paper.name()), drafter.shop_drawings(&rays)));
            }
        }
    }
    all
}

#[test]
fn no_text_overlaps_or_leaves_the_border_on_any_sheet_of_any_design() {
    let mut bad = Vec::new();
    for (name, sheets) in all_sheets() {
        for sheet in sheets {
            if let Ok(folder) = std::env::var("SAVE_SHEETS") {
                let path = Path::new(&folder).join(format!("{name}-{}", sheet.file_name()));
                std::fs::write(path, sheet.to_svg()).expect("the folder in SAVE_SHEETS can be written");
            }
            let clashes = sheet.clashes();
            if !clashes.is_empty() {
                bad.push(format!("{name} {}: {clashes:?}", sheet.file_name()));
            }
        }
    }
    assert!(bad.is_empty(), "{bad:#?}");
}

#[test]
fn all_that_is_drawn_lies_inside_the_border() {
    for (name, sheets) in all_sheets() {
        for sheet in sheets {
            let size = tiltwright::sheets::bounds(&sheet.marks).expect("every sheet has something on it");
            assert!(sheet.page.border().inset(-0.01).holds(size), "{name} {}: {size:?}", sheet.file_name());
        }
    }
}

#[test]
fn hole_centres_of_the_template_are_those_of_the_frame() {
    for file in design_files() {
        let (design, frame) = laid_out(&file);
        let piece = &frame.pieces[frame.row_piece];
        for paper in [Paper::Letter, Paper::A4] {
            let drafter = Drafter { design: &design, frame: &frame, paper, units: design.units, depth_asked_mm: None };
            let sheets = drafter.shop_drawings(&|_| vec![]);
            let templates = sheets
                .iter()
                .filter(|sheet| sheet.slug.starts_with(&format!("template-{}", piece.mark.to_lowercase())));
            let mut seen = vec![0; piece.holes.len()];
            for sheet in templates {
                let svg = sheet.to_svg();
                let document = parse(&svg);
                let tile = groups(&document, "tile")[0];
                let origin = (number(tile, "data-origin-x"), number(tile, "data-origin-y"));
                for hole in groups(&document, "row-hole").into_iter().chain(groups(&document, "hole")) {
                    let Some(((x, y), radius)) = circles(hole).first().copied() else { continue };
                    // The long drawing has the marked end at 0 and the gauge face along y = 0, down the page.
                    let (from_end, gauge) = (x + origin.0, y + origin.1);
                    let near = |h: &&frame::Hole| {
                        (h.from_end_mm - from_end).hypot(h.gauge_mm - gauge) < TEMPLATE_MM
                            && (h.diameter_mm / 2.0 - radius).abs() < TEMPLATE_MM
                    };
                    let n = piece
                        .holes
                        .iter()
                        .position(|h| near(&h))
                        .unwrap_or_else(|| panic!("no hole at {from_end}, {gauge}"));
                    seen[n] += 1;
                }
            }
            let row = piece.holes.iter().zip(&seen).filter(|(hole, _)| hole.use_ == frame::HoleUse::Row);
            assert!(
                row.clone().count() > 0 && row.clone().all(|(_, count)| *count > 0),
                "{} on {}: {seen:?}",
                file.display(),
                paper.name()
            );
        }
    }
}

#[test]
fn the_same_design_gives_the_same_bytes() {
    let file = &design_files()[0];
    let draw = || {
        let (design, frame) = laid_out(file);
        let drafter =
            Drafter { design: &design, frame: &frame, paper: Paper::A4, units: design.units, depth_asked_mm: None };
        drafter.shop_drawings(&|_| vec![]).iter().map(Sheet::to_svg).collect::<Vec<_>>()
    };
    assert_eq!(draw(), draw());
}

#[test]
fn every_part_is_named_on_some_drawing_and_every_hole_has_its_view() {
    for file in design_files() {
        let (design, frame) = laid_out(&file);
        let drafter =
            Drafter { design: &design, frame: &frame, paper: Paper::A4, units: design.units, depth_asked_mm: None };
        let sheets = drafter.shop_drawings(&|_| vec![]);
        let svgs: Vec<(String, String)> = sheets.iter().map(|sheet| (sheet.slug.clone(), sheet.to_svg())).collect();
        let words_of = |start: &str| -> Vec<String> {
            let chosen = svgs.iter().filter(|(slug, _)| slug.starts_with(start));
            chosen
                .flat_map(|(_, svg)| words(&parse(svg)))
                .flat_map(|line| line.split(", ").map(String::from).collect::<Vec<_>>())
                .collect()
        };
        let mut drawn = words_of("elevation");
        drawn.extend(words_of("side-view"));
        for piece in &frame.pieces {
            assert!(drawn.contains(&piece.mark), "{}: {} is on no drawing", file.display(), piece.mark);
        }
        assert!(sheets.iter().any(|sheet| sheet.slug.starts_with("seating")), "{}: no seating", file.display());
        let views: Vec<_> = svgs.iter().filter(|(slug, _)| slug.starts_with("side-view")).collect();
        assert_eq!(views.len(), frame.row.len(), "{}", file.display());
        for hole in &frame.row {
            let stay = tiltwright::quantities::length(mm(frame.linkage.stay_mm(hole.offset_mm)), design.units);
            let offset = tiltwright::quantities::length(mm(hole.offset_mm), design.units);
            let shown = |text: &String| views.iter().filter(|(_, svg)| words(&parse(svg)).contains(text)).count();
            assert!(
                shown(&stay) > 0 && shown(&offset) > 0,
                "{}: stay {stay} or hole {offset} is not dimensioned",
                file.display()
            );
        }
    }
}

/// What the words of a face must mean on the standing frame: its outward direction in the side view, seen from the right.
fn faces_out(word: &str) -> [f64; 2] {
    match word {
        "top" => [0.0, 1.0],
        "low-edge side" => [-1.0, 0.0],
        "sun face (front of the frame)" => [0.0, 1.0],
        other => panic!("no test knows `{other}`"),
    }
}

/// Every sheet text of a design joined, for looking up sentences that are broken into lines.
fn all_words(sheets: &[Sheet], start: &str) -> String {
    let chosen = sheets.iter().filter(|sheet| sheet.slug.starts_with(start));
    chosen.flat_map(|sheet| words(&parse(&sheet.to_svg()))).collect::<Vec<_>>().join(" ")
}

#[test]
fn every_drilled_part_is_told_its_gauge_face_and_marked_end() {
    let by_role = |role: frame::Role| match role {
        frame::Role::Stile | frame::Role::Mullion | frame::Role::Cleat => ("sun face (front of the frame)", "low end"),
        frame::Role::Post => ("low-edge side", "top end"),
        frame::Role::Runner => ("top", "hinge end"),
        frame::Role::Cheek => ("low-edge side", "bottom end"),
        frame::Role::Stay => ("upper face when hung", "frame-pin end"),
        other => panic!("{other:?} is not drilled in any ready design"),
    };
    for file in design_files() {
        let (design, frame) = laid_out(&file);
        let drafter =
            Drafter { design: &design, frame: &frame, paper: Paper::A4, units: design.units, depth_asked_mm: None };
        let sheets = drafter.shop_drawings(&|_| vec![]);
        let (schedule, side) = (all_words(&sheets, "drilling"), all_words(&sheets, "side-view"));
        for (n, piece) in frame.pieces.iter().enumerate().filter(|(_, piece)| !piece.holes.is_empty()) {
            let (face, end) = by_role(piece.role);
            let row = format!("{} {} {face} {end}", piece.mark, piece.role.word());
            assert!(schedule.contains(&row), "{}: `{row}` is not in {schedule}", file.display());
            let short = format!("{} {face}, {end}", piece.mark);
            assert!(side.contains(&short), "{}: `{short}` is not in {side}", file.display());
            // The model is the judge: the outside of the gauge face looks the way the words say.
            let stick = &frame.sticks[frame.piece_of.iter().position(|of| *of == n).expect("a piece has a stick")];
            if stick.body == frame::Body::Stay {
                for hole in &frame.row {
                    let pin = frame::at_tilt(frame.linkage.frame_pin(), hole.reached_deg.to_radians());
                    let fixed = frame.linkage.fixed_end(hole.offset_mm);
                    let up = (fixed[0] - pin[0]) * -stick.across[2];
                    assert!(up > 0.0, "{}: at {} the face looks down", file.display(), hole.reached_deg);
                }
            } else {
                let out = faces_out(face);
                let dot = -(stick.across[1] * out[0] + stick.across[2] * out[1]);
                assert!(dot > 0.7, "{}: {} looks {:?}", file.display(), piece.mark, stick.across);
            }
        }
        let row = &frame.pieces[frame.row_piece];
        let template = all_words(&sheets, &format!("template-{}", row.mark.to_lowercase()));
        let (face, end) = by_role(row.role);
        assert!(template.contains(&format!("gauge face = {face}")), "{template}");
        assert!(template.contains(&format!("marked end = {end}")), "{template}");
        for hole in &row.holes {
            let at = tiltwright::quantities::length(mm(hole.from_end_mm), design.units);
            let gauge = tiltwright::quantities::length(mm(hole.gauge_mm), design.units);
            let missing = format!("{at} from the marked end, {gauge} from the gauge face");
            assert!(
                template.contains(&format!("{at} from end")) && hole.gauge_mm < 100.0 || template.contains(&missing),
                "{}: a hole is left out without a word",
                file.display()
            );
        }
    }
}

#[test]
fn side_views_dimension_the_farthest_reach_in_front_and_behind() {
    for file in design_files() {
        let (design, frame) = laid_out(&file);
        let drafter =
            Drafter { design: &design, frame: &frame, paper: Paper::A4, units: design.units, depth_asked_mm: None };
        let sheets = drafter.shop_drawings(&|_| vec![]);
        let views: Vec<&Sheet> = sheets.iter().filter(|sheet| sheet.slug.starts_with("side-view")).collect();
        let mut order: Vec<&frame::Setting> = frame.row.iter().collect();
        order.sort_by(|a, b| a.reached_deg.total_cmp(&b.reached_deg));
        for (hole, sheet) in order.iter().zip(views) {
            let rad = hole.reached_deg.to_radians();
            let (pin, fixed) =
                (frame::at_tilt(frame.linkage.frame_pin(), rad), frame.linkage.fixed_end(hole.offset_mm));
            let length = (fixed[0] - pin[0]).hypot(fixed[1] - pin[1]);
            // The tail of the stay beyond its pins, from its corners alone.
            let stays = frame.sticks.iter().filter(|stick| stick.body == frame::Body::Stay);
            let stay_x: Vec<f64> = stays
                .flat_map(|stick| stick.corners())
                .map(|corner| pin[0] + (corner[1] * (fixed[0] - pin[0]) - corner[2] * (fixed[1] - pin[1])) / length)
                .collect();
            let panels = frame.panels.iter().flat_map(|panel| {
                panel.u_mm.into_iter().flat_map(move |u| panel.w_mm.map(move |w| frame::at_tilt([u, w], rad)[0]))
            });
            let members = frame
                .sticks
                .iter()
                .filter(|stick| stick.body == frame::Body::Frame && stick.ends_deg == [0.0; 2])
                .flat_map(|stick| stick.corners())
                .map(|corner| frame::at_tilt([corner[1], corner[2]], rad)[0]);
            let frame_x: Vec<f64> = panels.chain(members).collect();
            let all = words(&parse(&sheet.to_svg()));
            for sign in [-1.0, 1.0] {
                let reach = |places: &[f64]| places.iter().map(|x| sign * x).fold(0.0, f64::max);
                let (of_frame, of_stay) = (reach(&frame_x), reach(&stay_x));
                let show = |value: f64, word: &str| {
                    format!("{} {word}", tiltwright::quantities::length(mm(value), design.units))
                };
                if of_frame > 0.5 {
                    assert!(all.contains(&show(of_frame, "frame")), "{} {}: {all:?}", file.display(), sheet.slug);
                }
                if of_stay > of_frame.max(0.0) + 0.5 {
                    assert!(all.contains(&show(of_stay, "stay")), "{} {}: {all:?}", file.display(), sheet.slug);
                }
            }
        }
    }
}

/// ISO 129-1: no line runs through the figures of a dimension.
#[test]
fn no_dimension_is_crossed_by_a_line_on_a_side_view() {
    let mut bad = Vec::new();
    for (name, sheets) in all_sheets() {
        for sheet in sheets.iter().filter(|sheet| sheet.slug.starts_with("side-view")) {
            let mut labels = tiltwright::sheets::Labels::new();
            labels.avoid(&sheet.marks);
            for text in tiltwright::sheets::texts(&sheet.marks) {
                let figure = text.content().ends_with(" in") || text.content().ends_with(" mm");
                if figure && labels.lines_through(text) > 0 {
                    bad.push(format!("{name} {}: {:?}", sheet.file_name(), text.content()));
                }
            }
        }
    }
    assert!(bad.is_empty(), "lines run through {bad:#?}");
}

#[test]
fn panels_are_held_by_drawn_clips_or_by_their_own_holes() {
    use tiltwright::design::Seating;
    for file in design_files() {
        let (design, frame) = laid_out(&file);
        let drafter =
            Drafter { design: &design, frame: &frame, paper: Paper::Letter, units: design.units, depth_asked_mm: None };
        let sheets = drafter.shop_drawings(&|_| vec![]);
        let said = all_words(&sheets, "seating");
        assert!(said.contains("never drill a panel's own frame"), "{said}");
        let seating = sheets.iter().filter(|sheet| sheet.slug.starts_with("seating"));
        let drawn: usize = seating.map(|sheet| groups(&parse(&sheet.to_svg()), "clip").len()).sum();
        if matches!(design.frame.seating, Seating::OnPurlins { .. }) {
            assert!(drawn == 0 && said.contains("bolted to the purlins at their own mounting holes"), "{said}");
        } else {
            assert!(drawn > 0, "{}: the panels hang in the air", file.display());
            assert!(said.contains("hole that the maker has put there"), "{said}");
        }
    }
}

#[test]
fn a_washer_is_drawn_as_thick_as_it_is_and_never_taped() {
    for file in design_files() {
        let (design, frame) = laid_out(&file);
        let drafter =
            Drafter { design: &design, frame: &frame, paper: Paper::Letter, units: Units::Us, depth_asked_mm: None };
        let joints = all_words(&drafter.shop_drawings(&|_| vec![]), "joints");
        let thick = frame.stacks.iter().flat_map(|stack| &stack.layers).filter(|l| l.what == frame::Laid::Washer);
        for washer in thick {
            let exact = tiltwright::quantities::length_exact(mm(washer.thickness_mm), Units::Us);
            assert!(joints.contains(&exact) && !joints.contains(&format!("({exact})")), "{exact}: {joints}");
        }
    }
}

#[test]
fn holes_for_posts_are_dug_for_the_gravel_too_and_pins_get_lock_nuts() {
    for file in design_files() {
        let (design, frame) = laid_out(&file);
        let drafter =
            Drafter { design: &design, frame: &frame, paper: Paper::Letter, units: design.units, depth_asked_mm: None };
        let sheets = drafter.shop_drawings(&|_| vec![]);
        let joints = all_words(&sheets, "joints");
        assert!(joints.contains("lock nut") && !joints.contains("lynch") && !joints.contains("wing nut"), "{joints}");
        assert!(all_words(&sheets, "side-view").contains("before either pin is pulled"));
        let show = |value: f64| tiltwright::quantities::length(mm(value), design.units);
        match frame.stands_on {
            frame::StandsOn::Posts { embedment_mm, .. } => {
                let posts = all_words(&sheets, "posts");
                // Common practice, no source.
                let gravel_mm = if design.units == Units::Us { 152.4 } else { 150.0 };
                assert!(posts.contains(&format!("{} dig", show(embedment_mm + gravel_mm))), "{posts}");
                assert!(posts.contains(&format!("{} gravel", show(gravel_mm))), "{posts}");
                assert!(posts.contains("strength sheet"), "{posts}");
            }
            frame::StandsOn::Runners { .. } => {
                let runners = all_words(&sheets, "runners");
                for words in ["low edge, towards the sun", "to K1", "between K1", "strength sheet"] {
                    assert!(runners.contains(words), "{words}: {runners}");
                }
            }
        }
    }
}

/// Lumber drains its end grain; a steel tube has none. The drilling sheet names a hole as the cut list does.
#[test]
fn sheets_speak_of_the_material_and_of_holes_as_the_lists_do() {
    for (name, grain) in [("sample", true), ("steel-stays", false), ("steel-frame", false)] {
        let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("designs").join(name).with_extension("yaml");
        let (design, frame) = laid_out(&file);
        let drafter =
            Drafter { design: &design, frame: &frame, paper: Paper::Letter, units: Units::Us, depth_asked_mm: None };
        let drawn = drafter.shop_drawings(&|_| vec![]);
        let of = |slug: &str| -> String {
            let sheets: String = drawn.iter().filter(|sheet| sheet.slug == slug).map(Sheet::to_svg).collect();
            assert!(!sheets.is_empty(), "{name} has a sheet {slug}");
            sheets
        };
        let posts = of("posts");
        assert_eq!(posts.contains("end grain"), grain, "{name}");
        assert!(posts.contains("fixed pin") && of("drilling").contains("fixed pin"), "{name}");
        assert!(drawn.iter().all(|sheet| !sheet.to_svg().contains("stay pin")), "{name}");
    }
}

#[test]
fn every_fastener_and_every_hole_stands_on_a_drawing_and_the_reverse() {
    use frame::{HoleUse, JointUse, Part};
    use std::collections::BTreeSet;
    for file in design_files() {
        let (design, frame) = laid_out(&file);
        let drafter =
            Drafter { design: &design, frame: &frame, paper: Paper::A4, units: design.units, depth_asked_mm: None };
        let sheets = drafter.shop_drawings(&|_| vec![]);
        let svgs: Vec<String> = sheets.iter().map(Sheet::to_svg).collect();
        let documents: Vec<_> = svgs.iter().map(|svg| parse(svg)).collect();
        let all = |class: &str| -> Vec<_> { documents.iter().flat_map(|document| groups(document, class)).collect() };
        let inside = |node: roxmltree::Node, class: &str| {
            node.descendants().filter(|inner| inner.attribute("class") == Some(class)).count()
        };
        let name = file.display();
        // Parts: each hole once, nothing else.
        let parts = all("part-drawing");
        for (n, piece) in frame.pieces.iter().enumerate() {
            let own: Vec<_> = parts.iter().filter(|part| part.attribute("data-part") == Some(&piece.mark)).collect();
            let is_own = |stick: usize| frame.piece_of[stick] == n;
            let plies = frame.joints.iter().find(|joint| {
                joint.use_ == JointUse::Plies && matches!(joint.parts.first(), Some(Part::Stick(i)) if is_own(*i))
            });
            let foot = frame.feet.iter().find(|foot| is_own(foot.stick));
            let bored = piece.holes.iter().filter(|hole| hole.use_ == HoleUse::FootBolt).count();
            let of_foot = foot.map_or(0, |foot| foot.fasteners().count());
            let screws = plies.map_or(0, |joint| joint.fasteners.len()) + of_foot - bored;
            if piece.holes.is_empty() && screws == 0 {
                assert!(own.is_empty(), "{name}: {} has nothing to drill", piece.mark);
                continue;
            }
            let [drawing] = own[..] else { panic!("{name}: {} has {} drawings", piece.mark, own.len()) };
            let holes: Vec<_> = drawing.descendants().filter(|node| node.attribute("class") == Some("hole")).collect();
            assert_eq!(holes.len(), piece.holes.len(), "{name}: {}", piece.mark);
            assert_eq!(inside(*drawing, "screw"), screws, "{name}: {}", piece.mark);
            for hole in holes {
                let (at, gauge) = (number(hole, "data-from-end-mm"), number(hole, "data-gauge-mm"));
                let same = |h: &frame::Hole| (h.from_end_mm - at).hypot(h.gauge_mm - gauge) < 1e-3;
                assert!(piece.holes.iter().any(same), "{name}: {} at {at}, {gauge}", piece.mark);
                let said = words(drawing.document()).join(" ");
                let tape = tiltwright::quantities::length(mm(at), design.units);
                assert!(said.contains(&tape), "{name}: {tape} is not dimensioned on {}", piece.mark);
            }
            // Hands are told apart where there are two.
            let sides: BTreeSet<&str> = frame
                .sticks
                .iter()
                .zip(&frame.piece_of)
                .filter_map(|(stick, of)| (*of == n && !stick.side.is_empty()).then_some(stick.side))
                .collect();
            let hands = if sides.len() == 2 { 2 } else { 0 };
            assert_eq!(inside(*drawing, "hand"), hands, "{name}: {}", piece.mark);
        }
        // Screwed joints: each in one detail, with its own number of fasteners.
        let screwed = |use_: JointUse| !matches!(use_, JointUse::Plies | JointUse::Bolt(_));
        let wanted: BTreeSet<usize> = (0..frame.joints.len())
            .filter(|n| screwed(frame.joints[*n].use_) && !frame.joints[*n].fasteners.is_empty())
            .collect();
        let mut drawn: Vec<usize> = Vec::new();
        for detail in all("joint-detail") {
            let joints = detail.attribute("data-joints").expect("the joints it stands for").split(' ');
            let joints: Vec<usize> = joints.map(|n| n.parse().expect("a number")).collect();
            for joint in &joints {
                // Two views of each.
                assert_eq!(inside(detail, "screw"), 2 * frame.joints[*joint].fasteners.len(), "{name}: {joint}");
            }
            drawn.extend(joints);
        }
        drawn.sort_unstable();
        assert_eq!(drawn, wanted.into_iter().collect::<Vec<_>>(), "{name}");
        // Bolts through layers: one section for every use.
        let stacks: BTreeSet<&str> = all("stack").iter().filter_map(|stack| stack.attribute("data-name")).collect();
        let bolts: BTreeSet<&str> = frame
            .joints
            .iter()
            .filter(|joint| matches!(joint.use_, JointUse::Bolt(_)))
            .map(|joint| joint.use_.word())
            .collect();
        assert_eq!(stacks, bolts, "{name}");
    }
}
