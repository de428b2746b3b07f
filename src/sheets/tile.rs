//! Cuts a long 1:1 drawing into pages that are printed, checked with a ruler, and taped together.

use super::{
    geometry::{Point, Rect},
    mark::{Fill, Group, Mark},
    page::Page,
    pen::Pen,
    sheet::{Sheet, SheetScale},
    text::{Anchor, Text, TextSize, wrap},
    view::Scale,
};
use crate::quantities::{MM_PER_INCH, Units, number};

/// How much of the drawing two neighbouring tiles both show (mm). Labels no wider than this are whole on at least one tile.
pub const TILE_OVERLAP: f64 = 20.0;
/// Band above the drawing for the page label (mm).
const HEAD: f64 = 10.0;
/// Band below the drawing for the check bars (mm).
const FOOT: f64 = 17.0;
/// Room before the drawing on the first tile, when there is some to spare (mm).
const START: f64 = 6.0;
/// Reach of a registration cross (mm).
const CROSS: f64 = 4.0;

/// Cuts an area of a long drawing into tiles of one page size.
///
/// The long drawing has its own paper coordinates ((mm), y down, true size); a tile's page shows the part of it that starts at
/// the tile's origin.
#[derive(Debug, Clone, PartialEq)]
pub struct Tiling {
    page: Page,
    start: Point,
    columns: usize,
    rows: usize,
    letter: usize,
}

/// One page of a tiling.
#[derive(Debug, Clone, PartialEq)]
pub struct Tile {
    /// Row from 0.
    pub row: usize,
    /// Column from 0.
    pub column: usize,
    /// `A-1 of 4`: row letter, column number.
    pub label: String,
    /// Point of the long drawing that lies on the page's top left corner: long = page + origin.
    pub origin: Point,
    /// What the tile shows, in the long drawing's coordinates.
    pub covers: Rect,
}

impl Tiling {
    /// Plans the fewest tiles of a page that cover an area of a long drawing.
    #[must_use]
    pub fn plan(area: Rect, page: Page) -> Self {
        let page = page.with_strip();
        let window = Self::window(page);
        let count = |length: f64, tile: f64| {
            let more = (length - tile) / (tile - TILE_OVERLAP);
            // A micrometre too much is rounding, not a reason for another page.
            1 + (more - 1e-6).ceil().max(0.0) as usize
        };
        let (columns, rows) = (count(area.width(), window.width()), count(area.height(), window.height()));
        let covered = |n: usize, tile: f64| tile + (tile - TILE_OVERLAP) * (n - 1) as f64;
        // Spare length goes to the last tile, spare height to both sides.
        let spare = covered(columns, window.width()) - area.width();
        let start =
            Point::new(area.left - START.min(0.5 * spare), area.centre().y - 0.5 * covered(rows, window.height()));
        Self { page, start, columns, rows, letter: 0 }
    }

    /// The tiling of the page that takes fewer sheets, upright or on its side; on its side when both take as many.
    #[must_use]
    pub fn fewest(area: Rect, page: Page) -> Self {
        let (upright, side) = (Page { landscape: false, ..page }, Page { landscape: true, ..page });
        let (upright, side) = (Self::plan(area, upright), Self::plan(area, side));
        if upright.count() < side.count() { upright } else { side }
    }

    /// The same tiling with its first row called by the letter number `letter`, from 0 for A.
    #[must_use]
    pub fn lettered(mut self, letter: usize) -> Self {
        self.letter = letter;
        self
    }

    /// Number of tiles.
    #[must_use]
    pub fn count(&self) -> usize {
        self.columns * self.rows
    }

    /// Number of rows: how many letters are used.
    #[must_use]
    pub fn rows(&self) -> usize {
        self.rows
    }

    /// The room on a page, between label and check bars.
    fn window(page: Page) -> Rect {
        let window = page.window();
        Rect { top: window.top + HEAD, bottom: window.bottom - FOOT, ..window }
    }

    /// The tiles, row by row.
    #[must_use]
    pub fn tiles(&self) -> Vec<Tile> {
        let window = Self::window(self.page);
        let step = |tile: f64, n: usize| (tile - TILE_OVERLAP) * n as f64;
        let places = (0..self.rows).flat_map(|row| (0..self.columns).map(move |column| (row, column)));
        let tile = |(row, column)| {
            let (dx, dy) = (step(window.width(), column), step(window.height(), row));
            let origin = Point::new(self.start.x + dx - window.left, self.start.y + dy - window.top);
            Tile {
                row,
                column,
                label: format!("{}-{} of {}", letters(self.letter + row), column + 1, self.count()),
                origin,
                covers: window.moved(origin.x, origin.y),
            }
        };
        places.map(tile).collect()
    }

    /// The seams: middle lines of the strips that two tiles share, in the long drawing's coordinates: upright ones, level ones.
    #[must_use]
    pub fn seams(&self) -> (Vec<f64>, Vec<f64>) {
        let window = Self::window(self.page);
        let seams = |start: f64, tile: f64, count: usize| {
            (1..count).map(|n| start + (tile - TILE_OVERLAP) * n as f64 + 0.5 * TILE_OVERLAP).collect()
        };
        (seams(self.start.x, window.width(), self.columns), seams(self.start.y, window.height(), self.rows))
    }

    /// Draws the tiles as sheets like the given one (title, design, units); `marks` are the long drawing.
    #[must_use]
    pub fn sheets(&self, like: &Sheet, marks: &[Mark]) -> Vec<Sheet> {
        let tiles = self.tiles();
        let places = text_places(marks, &tiles);
        let draw = |(n, tile): (usize, &Tile)| {
            let mut next = 0;
            let shown = shown(marks, tile, &mut |text| {
                next += 1;
                places[next - 1].iter().find(|(at, _)| *at == n).map(|(_, by)| text.clone().moved(by.x, by.y))
            });
            let mut group = Group::new("tile")
                .fact("label", &tile.label)
                .fact("origin-x", number(tile.origin.x, 3))
                .fact("origin-y", number(tile.origin.y, 3))
                .with(shown);
            group.clip = Some(Self::window(self.page));
            let mut sheet =
                Sheet { page: self.page, scale: SheetScale::One(Scale::FULL), marks: Vec::new(), ..like.clone() };
            if self.count() > 1 {
                let place = format!("{}-{}", letters(self.letter + tile.row), tile.column + 1).to_lowercase();
                sheet.slug = format!("{}-{place}", like.slug);
            }
            sheet.marks.push(group.into());
            sheet.marks.extend(self.joins(tile));
            sheet.marks.extend(self.head(tile));
            sheet.marks.extend(check_bars(self.page, like.units));
            sheet
        };
        tiles.iter().enumerate().map(draw).collect()
    }

    /// Seams of a tile with their crosses, on the page.
    fn joins(&self, tile: &Tile) -> Vec<Mark> {
        let window = Self::window(self.page);
        let (upright, level) = self.seams();
        let (dx, dy) = (-tile.origin.x, -tile.origin.y);
        let mut marks = Vec::new();
        let inset = CROSS + 1.0;
        for x in upright.iter().map(|x| x + dx).filter(|x| (window.left..=window.right).contains(x)) {
            marks.push(Mark::line(Point::new(x, window.top), Point::new(x, window.bottom), Pen::Phantom));
            marks.extend([window.top + inset, window.bottom - inset].map(|y| cross(Point::new(x, y), tile)));
        }
        for y in level.iter().map(|y| y + dy).filter(|y| (window.top..=window.bottom).contains(y)) {
            marks.push(Mark::line(Point::new(window.left, y), Point::new(window.right, y), Pen::Phantom));
            marks.extend([window.left + inset, window.right - inset].map(|x| cross(Point::new(x, y), tile)));
        }
        marks
    }

    fn head(&self, tile: &Tile) -> Vec<Mark> {
        let window = self.page.window();
        let at = Point::new(window.left, window.top + TextSize::Large.above() + 0.2);
        let label = Text::new(&tile.label, at, TextSize::Large).bold();
        let room = Rect { left: window.left + label.length() + 6.0, ..window };
        let words = if self.count() == 1 {
            "One page. Cut out along the outline, or prick the centres through the paper.".to_string()
        } else {
            "Trim one page along the chain line, lay it over its neighbour, cross on cross, and tape. Then check the whole length \
             with a steel tape."
                .to_string()
        };
        let mut marks = vec![label.into()];
        marks.extend(lines(&words, Point::new(room.left, window.top), room.width()));
        marks
    }
}

/// For each text of the long drawing, in order: the tiles that show it and how far it is moved there. A text that fits on no tile
/// is shown on the one holding most of it, moved just inside.
fn text_places(marks: &[Mark], tiles: &[Tile]) -> Vec<Vec<(usize, Point)>> {
    let place = |text: &Text| {
        let room = text.bounds();
        let whole: Vec<_> = tiles.iter().enumerate().filter(|(_, tile)| tile.covers.holds(room)).collect();
        if !whole.is_empty() {
            return whole.into_iter().map(|(n, _)| (n, Point::default())).collect();
        }
        let shared = |tile: &Tile| {
            let width = tile.covers.right.min(room.right) - tile.covers.left.max(room.left);
            let height = tile.covers.bottom.min(room.bottom) - tile.covers.top.max(room.top);
            width.max(0.0) * height.max(0.0)
        };
        let most = tiles.iter().enumerate().max_by(|a, b| shared(a.1).total_cmp(&shared(b.1)).then(b.0.cmp(&a.0)));
        most.map(|(n, tile)| (n, move_inside(room, tile.covers))).into_iter().collect()
    };
    super::mark::texts(marks).into_iter().map(place).collect()
}

fn move_inside(room: Rect, window: Rect) -> Point {
    let inside = |low: f64, high: f64, least: f64, most: f64| (least - low).max(0.0) - (high - most).max(0.0);
    Point::new(
        inside(room.left, room.right, window.left, window.right),
        inside(room.top, room.bottom, window.top, window.bottom),
    )
}

/// The marks of a long drawing that a tile shows, moved to its page. `text` answers with the text to show, or nothing; it is asked for
/// every text in order.
fn shown(marks: &[Mark], tile: &Tile, text: &mut impl FnMut(&Text) -> Option<Text>) -> Vec<Mark> {
    let (dx, dy) = (-tile.origin.x, -tile.origin.y);
    let mut kept = Vec::new();
    for mark in marks {
        match mark {
            Mark::Text(one) => kept.extend(text(one).map(|one| Mark::from(one.moved(dx, dy)))),
            Mark::Group(group) => {
                let marks = shown(&group.marks, tile, text);
                if !marks.is_empty() {
                    let clip = group.clip.map(|window| window.moved(dx, dy));
                    kept.push(Group { marks, clip, ..group.clone() }.into());
                }
            }
            _ => kept.extend(mark.bounds().filter(|room| room.meets(tile.covers)).map(|_| mark.moved(dx, dy))),
        }
    }
    kept
}

fn cross(at: Point, tile: &Tile) -> Mark {
    Group::new("registration-cross")
        .fact("long-x", number(at.x + tile.origin.x, 3))
        .fact("long-y", number(at.y + tile.origin.y, 3))
        .with(Mark::cross(at, CROSS, Pen::Template))
        .with([Mark::circle(at, 0.5 * CROSS, Pen::Template)])
        .into()
}

/// A 100 mm bar, on inch sheets a 4 in one too, with what to do about them.
fn check_bars(page: Page, units: Units) -> Vec<Mark> {
    let window = page.window();
    let metric = Point::new(window.left + 1.0, window.bottom - 10.3);
    let inch = Point::new(window.left + 1.0, window.bottom - 2.3);
    let mut marks = vec![check_bar("check-bar-100-mm", metric, 100.0, 10, "100 mm").into()];
    if units == Units::Us {
        marks.push(check_bar("check-bar-4-in", inch, 4.0 * MM_PER_INCH, 4, "4 in").into());
    }
    let left = window.left + 126.0;
    let words = format!(
        "Print on {} paper, {}, at 100 % (actual size), not fitted to the page. Measure what is drawn as a bar: if it is off, do \
         not use the page.",
        page.paper.name(),
        if page.landscape { "on its side" } else { "upright" }
    );
    marks.extend(lines(&words, Point::new(left, window.bottom - FOOT + 2.0), window.right - left));
    marks
}

fn check_bar(name: &str, left: Point, length: f64, parts: u32, label: &str) -> Group {
    let end = left.moved(length, 0.0);
    let mut group = Group::new(name)
        .fact("length-mm", number(length, 3))
        .with([Mark::line(left, end, Pen::Template)])
        .with([left, end].map(|p| Mark::line(p.moved(0.0, -3.5), p.moved(0.0, 1.0), Pen::Template)));
    for n in 0..parts {
        let part = length / f64::from(parts);
        let from = left.moved(part * f64::from(n), 0.0);
        let half = Rect { left: from.x, right: from.x + part, top: from.y - 1.5, bottom: from.y };
        let fill = if n % 2 == 0 { Fill::Ink } else { Fill::None };
        group.marks.push(Mark::filled(half.corners(), Pen::Template, fill));
    }
    group.with([Text::new(label, end.moved(2.0, 0.0), TextSize::Small).anchored(Anchor::Start).into()])
}

fn lines(words: &str, top: Point, room: f64) -> Vec<Mark> {
    let size = TextSize::Fine;
    let at = |n: usize| top.moved(0.0, size.above() + 0.2 + n as f64 * size.line_pitch());
    wrap(words, size, false, room).iter().enumerate().map(|(n, line)| Text::new(line, at(n), size).into()).collect()
}

/// Row letters: A to Z, then AA, AB and so on.
fn letters(number: usize) -> String {
    let last = char::from(b'A' + (number % 26) as u8);
    if number < 26 { last.to_string() } else { format!("{}{last}", letters(number / 26 - 1)) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheets::Paper;

    #[test]
    fn tiles_cover_the_area_and_share_the_overlap() {
        for page in [Page::portrait(Paper::Letter), Page::landscape(Paper::A4)] {
            for (width, height) in [(50.0, 50.0), (700.0, 90.0), (2400.0, 500.0)] {
                let area = Rect { left: -30.0, top: 10.0, right: width - 30.0, bottom: height + 10.0 };
                let tiles = Tiling::plan(area, page).tiles();
                let all = tiles.iter().map(|tile| tile.covers).reduce(Rect::with).expect("there is a tile");
                assert!(all.holds(area));
                for pair in tiles.windows(2).filter(|pair| pair[0].row == pair[1].row) {
                    assert!((pair[0].covers.right - pair[1].covers.left - TILE_OVERLAP).abs() < 1e-9);
                }
            }
        }
    }

    #[test]
    fn rows_have_letters_without_end() {
        assert_eq!([0, 25, 26, 27, 701, 702].map(letters), ["A", "Z", "AA", "AB", "ZZ", "AAA"]);
    }
}
