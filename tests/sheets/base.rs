//! The drawing tree itself: sizes, scales, dimensions, tiles, names that try to break the file.

use crate::sheet_tests::measure::{circles, groups, lines, number, parse, words};
use tiltwright::{
    quantities::Units,
    sheets::{
        self, Axis, Block, Bounds, Chart, Curve, Document, Feature, Figure, Fill, Group, Labels, Mark, Page, Paper,
        Pen, Point, Rect, Scale, Section, Sheet, SheetScale, Side, Stack, Table, Text, TextSize, Tiling, View, Warning,
        World, aligned, angular, figures, leader, number_sheets, page, running,
    },
};

/// Coordinates are written to a thousandth of a millimetre; half of that may be lost.
const WRITTEN_MM: f64 = 0.000_51;
/// A template may be off by this at most [mm].
const TEMPLATE_MM: f64 = 0.01;

const PAGES: [Page; 4] = [
    Page { paper: Paper::Letter, landscape: false, block: tiltwright::sheets::TitleBlock::Full },
    Page { paper: Paper::Letter, landscape: true, block: tiltwright::sheets::TitleBlock::Full },
    Page { paper: Paper::A4, landscape: false, block: tiltwright::sheets::TitleBlock::Full },
    Page { paper: Paper::A4, landscape: true, block: tiltwright::sheets::TitleBlock::Full },
];

/// A sheet with every kind of mark, as a stand-in for a real one.
fn sample(page: Page, units: Units, name: &str) -> Sheet {
    let window = page.window();
    let bounds = Bounds { left: 0.0, low: 0.0, right: 1200.0, high: 800.0 };
    let view = View::fit(bounds, Rect { bottom: window.centre().y + 10.0, ..window }.inset(28.0));
    let corner = |x: f64, y: f64| view.at(World::new(x, y));
    let outline = [corner(0.0, 0.0), corner(1200.0, 0.0), corner(1200.0, 800.0), corner(0.0, 800.0)];
    let rail = [corner(0.0, 0.0), corner(1200.0, 0.0), corner(1200.0, 89.0), corner(0.0, 89.0)];
    let mut marks = vec![Mark::outline(outline, Pen::Visible), Mark::filled(rail, Pen::Visible, Fill::Hatch(45.0))];
    let holes = [150.0, 190.0, 600.0, 1040.0].map(|x| World::new(x, 400.0));
    for hole in holes {
        let group = Group::new("hole")
            .fact("x", hole.x)
            .with([Mark::circle(view.at(hole), view.length(60.0), Pen::Visible)])
            .with(Mark::cross(view.at(hole), 4.0, Pen::Centre));
        marks.push(group.into());
    }
    let mut below = Stack::new(Side::Below, outline[0].y);
    for pair in holes.windows(2) {
        let (a, b) = (World::new(pair[0].x, 0.0), World::new(pair[1].x, 0.0));
        below.add(view.at(a), view.at(b), &format!("{} mm", pair[1].x - pair[0].x));
    }
    below.add(outline[0], outline[1], "1200 mm");
    marks.extend(below.draw().0);
    let feature = |x: f64| Feature { at: corner(x, 800.0), text: format!("{x} mm") };
    let features: Vec<_> = holes.iter().map(|hole| feature(hole.x)).collect();
    marks.extend(running(Side::Above, outline[2].y, &feature(0.0), &features).0);
    let mut left = Stack::new(Side::Left, outline[0].x);
    left.add(outline[3], outline[0], "800 mm");
    marks.extend(left.draw().0);
    marks.extend(aligned(outline[0], outline[2], 0.0, "1442 mm"));
    marks.extend(angular(outline[0], 26.0, 0.0, (800.0_f64 / 1200.0).atan().to_degrees(), "33.7°"));
    let mut labels = Labels::new();
    labels.avoid(&marks);
    let reach = |dx: f64, dy: f64| leader(view.at(holes[3]), view.at(holes[3]).moved(dx, dy), name);
    let ways = [(10.0, -14.0), (-10.0, -14.0), (10.0, 14.0), (-10.0, 16.0)].map(|(dx, dy)| reach(dx, dy));
    marks.extend(labels.place(window, ways).unwrap_or_default());
    let lower = Rect { top: window.centre().y + 30.0, ..window };
    let half = Rect { right: lower.centre().x - 3.0, ..lower };
    let mut table = Table::new([sheets::words("Mark"), sheets::words("What it is"), figures("Length")]);
    table.row(["R1", "bottom rail, on the low side", "1200 mm"]);
    table.row(["S1", name, "800 mm"]);
    let part = table.lay_out(TextSize::Small, half, half).swap_remove(0);
    marks.extend(part.marks);
    let sine =
        |shift: f64| (0..=60).map(|n| f64::from(n) * 6.0).map(move |x| (x, 40.0 + shift + 30.0 * x.to_radians().sin()));
    let curve = |name: &str, shift: f64, pen| Curve { name: name.to_string(), points: sine(shift).collect(), pen };
    let chart = Chart {
        x: Axis::even("Azimuth [°]", 0.0, 360.0, 30.0),
        y: Axis::even("Altitude [°]", 0.0, 90.0, 10.0),
        curves: vec![
            curve("June", 15.0, Pen::Curve),
            curve("March", 0.0, Pen::Hidden),
            curve("December", -15.0, Pen::Centre),
        ],
    };
    if page.landscape {
        marks.retain(|mark| mark.bounds().is_some());
    }
    marks.extend(chart.draw(Rect { left: lower.centre().x + 3.0, ..lower }));
    Sheet::new("sample", "Sample of all marks", name, page, units).at_scale(SheetScale::One(view.scale())).with(marks)
}

/// Saves a sheet for the eye when the variable `SAVE_SHEETS` names a folder.
fn save(name: &str, svg: &str) {
    if let Ok(folder) = std::env::var("SAVE_SHEETS") {
        std::fs::write(std::path::Path::new(&folder).join(name), svg)
            .expect("the folder in SAVE_SHEETS can be written");
    }
}

#[test]
fn a_sheet_has_the_size_of_its_paper_in_millimetres() {
    for page in PAGES {
        let svg = Sheet::new("empty", "Empty", "None", page, Units::Us).to_svg();
        let document = parse(&svg);
        let root = document.root_element();
        assert_eq!(root.attribute("width"), Some(format!("{}mm", page.width()).as_str()));
        assert_eq!(root.attribute("height"), Some(format!("{}mm", page.height()).as_str()));
        assert_eq!(root.attribute("viewBox"), Some(format!("0 0 {} {}", page.width(), page.height()).as_str()));
        // Printed alone, a browser takes the paper from here and shrinks nothing into its own margins.
        let style = root.children().find(|node| node.has_tag_name("style")).expect("a style");
        let asks = format!("@page{{size:{}mm {}mm;margin:0}}", page.width(), page.height());
        assert_eq!(style.text().map(str::trim), Some(asks.as_str()));
    }
}

#[test]
fn no_text_overlaps_or_leaves_the_border_of_a_full_sheet() {
    for (n, page) in PAGES.into_iter().enumerate() {
        for units in [Units::Us, Units::Metric] {
            let sheet = sample(page, units, "Meadow frame");
            save(&format!("sample-{n}-{units:?}.svg"), &sheet.to_svg());
            assert!(sheet.clashes().is_empty(), "{page:?}: {:?}", sheet.clashes());
        }
    }
}

#[test]
fn a_warning_finds_room_beside_a_caution_on_every_page() {
    for page in PAGES.into_iter().flat_map(|page| [page, page.with_strip()]) {
        for warning in
            ["12 checks FAIL, see the calculation sheet", "no verdict can be given, see the calculation sheet"]
        {
            let mut sheet = Sheet::new("empty", "Empty", "None", page, Units::Us);
            sheet.warning = Some(Warning { what: format!("Strength: {warning}"), why: "The reason".repeat(40) });
            let said = words(&parse(&sheet.to_svg())).join(" ");
            assert!(said.contains(&format!("Strength: {warning}. CAUTION.")), "{page:?}: {said}");
            assert!(sheet.clashes().is_empty(), "{page:?}: {:?}", sheet.clashes());
        }
    }
}

#[test]
fn hole_centres_read_back_at_the_scale_of_the_sheet() {
    let sheet = sample(PAGES[2], Units::Metric, "Meadow frame");
    let SheetScale::One(scale) = sheet.scale else { panic!("the sheet has one scale") };
    let svg = sheet.to_svg();
    let document = parse(&svg);
    let holes: Vec<_> =
        groups(&document, "hole").into_iter().map(|hole| (number(hole, "data-x"), circles(hole)[0])).collect();
    assert_eq!(holes.len(), 4);
    for pair in holes.windows(2) {
        let (world, paper) = (pair[1].0 - pair[0].0, pair[1].1.0.0 - pair[0].1.0.0);
        assert!((scale.length(world) - paper).abs() < 2.0 * WRITTEN_MM, "{world} at {scale} is {paper}");
    }
}

#[test]
fn the_scale_bar_has_the_length_it_names() {
    for units in [Units::Us, Units::Metric] {
        for scale in Scale::preferred().take(9) {
            let sheet = Sheet::new("bar", "Bar", "Bar", PAGES[0], units).at_scale(SheetScale::One(scale));
            let svg = sheet.to_svg();
            let document = parse(&svg);
            let bar = groups(&document, "scale-bar")[0];
            let corners: Vec<f64> = bar
                .descendants()
                .filter_map(|node| node.attribute("points"))
                .flat_map(|points| {
                    points.split(' ').map(|pair| pair.split(',').next().expect("x").parse().expect("number"))
                })
                .collect();
            let length =
                corners.iter().fold(0.0, |a: f64, b| a.max(*b)) - corners.iter().fold(1e9, |a: f64, b| a.min(*b));
            let named = scale.length(number(bar, "data-length-mm"));
            assert!((length - named).abs() < 2.0 * WRITTEN_MM, "{scale}: {length} for {named}");
            assert!(sheet.clashes().is_empty(), "{scale} {units:?}: {:?}", sheet.clashes());
        }
    }
}

#[test]
fn names_that_try_to_break_the_file_are_made_safe() {
    let long = "A very long name ".repeat(60);
    for name in [
        "<script>alert('x')</script>",
        "Tom & \"Quote\" 'n' <b>",
        "two\nlines\r\n\tand a tab",
        "🌞🌞 sun 👩‍🌾",
        &long,
        "",
        "\u{0}\u{1b}[31m\u{202e}evil",
        "]]>",
        "日本語の架台",
        "Z̸̧̢̛̤͕̱̲̺̺̘̭̗̭͐̈́̓ͅ",
    ] {
        let sheet = sample(PAGES[0], Units::Us, name);
        let svg = sheet.to_svg();
        let document = parse(&svg);
        assert!(sheet.clashes().is_empty(), "{name:?}: {:?}", sheet.clashes());
        assert!(document.descendants().all(|node| !node.has_tag_name("script") && !node.has_tag_name("b")), "{name:?}");
        assert!(words(&document).iter().all(|word| !word.chars().any(char::is_control)), "{name:?}");
    }
    let svg = sample(PAGES[0], Units::Us, "🌞🌞 sun 👩‍🌾 <&>").to_svg();
    save("hostile.svg", &svg);
}

#[test]
fn the_same_sheet_gives_the_same_bytes() {
    assert_eq!(sample(PAGES[1], Units::Us, "Twice").to_svg(), sample(PAGES[1], Units::Us, "Twice").to_svg());
}

#[test]
fn ids_are_unique_on_a_sheet_and_between_sheets() {
    let mut sheets = vec![sample(PAGES[0], Units::Us, "One"), sample(PAGES[0], Units::Us, "Two")];
    number_sheets(&mut sheets);
    let svgs: Vec<_> = sheets.iter().map(Sheet::to_svg).collect();
    let documents: Vec<_> = svgs.iter().map(|svg| parse(svg)).collect();
    let mut ids: Vec<_> = documents.iter().flat_map(|d| d.descendants().filter_map(|n| n.attribute("id"))).collect();
    let count = ids.len();
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), count);
    assert!(words(&documents[1]).contains(&"2 of 2".to_string()));
}

/// A board of this length with a hole every 37.3 mm, drawn at full size around (0, 0).
fn long_board(length: f64) -> (Rect, Vec<Mark>, Vec<f64>) {
    let view = View::new(Scale::FULL, World::new(0.0, 0.0), Point::new(0.0, 0.0));
    let board = Bounds { left: 0.0, low: -44.45, right: length, high: 44.45 };
    let holes: Vec<f64> = (1..).map(|n| 37.3 * f64::from(n)).take_while(|x| *x < length - 30.0).collect();
    let mut marks = vec![Mark::rect(view.rect(board), Pen::Visible)];
    for x in &holes {
        let at = view.at(World::new(*x, 0.0));
        let text = Text::new(&format!("{x:.1} mm"), at.moved(0.0, -14.0), TextSize::Small).rotated(90.0).on_middle();
        let group = Group::new("hole").fact("x", format!("{x:.4}")).with([Mark::circle(at, 6.5, Pen::Template)]);
        marks.push(group.with(Mark::cross(at, 9.0, Pen::Template)).with([text.into()]).into());
    }
    let label = "This long sentence runs along the board and is wider than any overlap between two pages of it";
    marks.push(Text::new(label, view.at(World::new(120.0, -30.0)), TextSize::Small).into());
    (view.rect(board), marks, holes)
}

#[test]
fn check_bars_are_true_on_every_tile() {
    for page in PAGES {
        let (area, marks, _) = long_board(900.0);
        let like = Sheet::new("stay", "Stay template", "Meadow frame", page, Units::Us);
        for sheet in Tiling::plan(area, page).sheets(&like, &marks) {
            let svg = sheet.to_svg();
            let document = parse(&svg);
            for (class, length) in [("check-bar-100-mm", 100.0), ("check-bar-4-in", 101.6)] {
                let bar = lines(groups(&document, class)[0]);
                let ((x1, y1), (x2, y2)) = bar[0];
                assert!((x2 - x1 - length).abs() < 2.0 * WRITTEN_MM && y1 == y2, "{class}: {bar:?}");
            }
            assert!(
                words(&document)
                    .iter()
                    .any(|word| word.ends_with(&format!(" of {}", Tiling::plan(area, page).count())))
            );
        }
    }
}

#[test]
fn holes_stand_at_one_place_on_all_tiles_that_show_them() {
    for page in PAGES {
        let (area, marks, holes) = long_board(1400.0);
        let like = Sheet::new("stay", "Stay template", "Meadow frame", page, Units::Us);
        let mut seen = vec![0; holes.len()];
        for sheet in Tiling::plan(area, page).sheets(&like, &marks) {
            save(&format!("{}-{}-{}.svg", sheet.slug, page.paper.name(), page.landscape), &sheet.to_svg());
            assert!(sheet.clashes().is_empty(), "{page:?} {}: {:?}", sheet.slug, sheet.clashes());
            let svg = sheet.to_svg();
            let document = parse(&svg);
            let tile = groups(&document, "tile")[0];
            let origin = (number(tile, "data-origin-x"), number(tile, "data-origin-y"));
            for hole in groups(&document, "hole") {
                let Some(((x, y), _)) = circles(hole).first().copied() else { continue };
                let n = holes
                    .iter()
                    .position(|at| (at - number(hole, "data-x")).abs() < 1e-3)
                    .expect("a hole of the board");
                assert!(
                    (x + origin.0 - holes[n]).abs() < TEMPLATE_MM && (y + origin.1).abs() < TEMPLATE_MM,
                    "hole {n}"
                );
                seen[n] += 1;
            }
        }
        assert!(seen.iter().all(|count| *count >= 1) && seen.iter().any(|count| *count > 1), "{seen:?}");
    }
}

#[test]
fn registration_crosses_of_a_seam_meet() {
    let (area, marks, _) = long_board(1400.0);
    let like = Sheet::new("stay", "Stay template", "Meadow frame", PAGES[2], Units::Metric);
    let sheets = Tiling::plan(area, PAGES[2]).sheets(&like, &marks);
    let crosses: Vec<Vec<(f64, f64)>> = sheets
        .iter()
        .map(|sheet| {
            let svg = sheet.to_svg();
            let document = parse(&svg);
            let tile = groups(&document, "tile")[0];
            let origin = (number(tile, "data-origin-x"), number(tile, "data-origin-y"));
            let centres = groups(&document, "registration-cross").into_iter().map(|cross| circles(cross)[0].0);
            centres.map(|(x, y)| (x + origin.0, y + origin.1)).collect()
        })
        .collect();
    for pair in crosses.windows(2) {
        let meets = |a: &(f64, f64)| pair[1].iter().any(|b| (a.0 - b.0).hypot(a.1 - b.1) < TEMPLATE_MM);
        assert_eq!(pair[0].iter().filter(|a| meets(a)).count(), 2, "{pair:?}");
    }
}

#[test]
fn every_text_of_a_long_drawing_is_whole_on_some_tile() {
    let (area, marks, _) = long_board(1400.0);
    let wanted: Vec<String> =
        tiltwright::sheets::texts(&marks).into_iter().map(|text| text.content().to_string()).collect();
    for page in PAGES {
        let like = Sheet::new("stay", "Stay template", "Meadow frame", page, Units::Us);
        let found: Vec<String> = Tiling::plan(area, page)
            .sheets(&like, &marks)
            .iter()
            .flat_map(|sheet| words(&parse(&sheet.to_svg())))
            .collect();
        for text in &wanted {
            assert!(found.contains(text), "{text} on {page:?}");
        }
    }
}

#[test]
fn the_page_prints_each_drawing_on_paper_of_its_own_size() {
    let way = |page: Page| {
        let way = if page.landscape { "side" } else { "upright" };
        format!("{}-{way}", page.paper.name().to_lowercase())
    };
    for paper in PAGES.chunks(2) {
        let sheets: Vec<Sheet> = paper.iter().map(|at| sample(*at, Units::Us, "Two")).collect();
        let drawings = sheets.iter().fold(Section::new("Drawings"), |section, sheet| {
            section.with(Block::Drawing(sheet, "sheets/01.svg".into()))
        });
        let text = Section::new("Text").paragraph("Read me.");
        let written = page(&Document::new("Two", None).with(text).with(drawings));
        let (head, body) = written.split_once("</style>").expect("one style");
        assert!(!body.contains("<style"), "a drawing's own rule would count for the whole page");
        for at in paper {
            let (name, width, height) = (way(*at), at.width(), at.height());
            assert!(head.contains(&format!("@page {name}{{size:{width}mm {height}mm;margin:0}}")), "{head}");
            assert!(head.contains(&format!(".{name}{{page:{name};width:{width}mm;height:")), "{head}");
            let figure = body.split_once(&format!("<figure class=\"{name}\">")).expect("a figure of its kind").1;
            let svg = figure.split_once("<svg ").expect("a drawing").1.split('>').next().expect("a tag");
            assert!(svg.contains(&format!("width=\"{width}mm\"")) && svg.contains(&format!("height=\"{height}mm\"")));
        }
        let upright = paper[0];
        assert!(head.contains(&format!("@page{{size:{}mm {}mm;margin:15mm}}", upright.width(), upright.height())));
        // Only on the screen is a drawing fitted to anything.
        let (screen, print) = head.split_once("@media print").expect("rules of print");
        assert!(screen.contains("@media screen") && !print.contains("svg"), "{print}");
        // Home printers leave about 6 mm white.
        assert!(upright.border().left >= 6.0 && upright.border().top >= 6.0);
    }
}

#[test]
fn the_page_for_phones_needs_no_network_and_escapes_names() {
    let hostile = "<img src=x onerror=alert(1)> & \"more\"";
    let drawn = sample(PAGES[0], Units::Us, hostile);
    let table = Table::new([sheets::words("Mark"), figures("Length")]).with([[hostile, "3 in"]]);
    let figure = Figure::new(hostile, |room| {
        let text = Text::new(hostile, room.centre(), TextSize::Small);
        (SheetScale::None, vec![text.into()])
    });
    let document = Document::new(hostile, None)
        .with(Section::new("Drawings").with(Block::Drawing(&drawn, "sheets/01.svg".into())))
        .with(
            Section::new("Drawings")
                .paragraph(hostile)
                .steps(["Cut.", hostile])
                .table(table)
                .with(Block::Figure(figure)),
        );
    let page = page(&document);
    save("packet.html", &page);
    assert!(!page.contains("<img") && !page.contains("<script"));
    // The only addresses in the page are the names of XML namespaces.
    let addresses = page.matches("http").count();
    assert_eq!(addresses, page.matches("xmlns=\"http://www.w3.org/2000/svg\"").count(), "{addresses}");
    assert!(page.contains("href=\"#part-drawings\"") && page.contains("id=\"part-drawings-2\""));
}
