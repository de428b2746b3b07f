"""Prints packets with a browser at its default settings and measures what comes out, as a ruler would.

    python3 tests/bench/measure_print.py [PACKET ...]

Without a folder, the built-in design is planned on Letter and on A4.

Every page of `index.html` and `templates-*.html`, and a drawing of each kind alone, is printed to PDF by chromium and
rasterised by pdftoppm (poppler). Measured on each sheet: the border across and up, the foot line, and the check bars where there are any; on
the text pages: that none holds a heading alone or nothing. Says NOT RUN, and ends with 0, where one of the two is missing.
"""

import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as xml

ROOT = pathlib.Path(__file__).resolve().parents[2]
DPI = 300
MM = DPI / 25.4
# Two raster points, and the hundredths of a millimetre by which A4 is no whole number of printer's points.
LENGTH_MM = 0.25
# A page whose ink ends above this is a heading alone.
HEADING_MM = 30.0
# What common home printers leave white at every edge (common practice, no source).
UNPRINTABLE_MM = 6.0
DARK = 128
SVG = "{http://www.w3.org/2000/svg}"


class Raster:
    """A page in grey, 8 bit, read from a PGM."""

    def __init__(self, path):
        data = path.read_bytes()
        head = re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", data)
        self.width, self.height = int(head[1]), int(head[2])
        self.rows = data[head.end():]

    def row(self, y):
        return self.rows[y * self.width:(y + 1) * self.width]

    def column(self, x):
        return self.rows[x::self.width]

    def ink(self):
        """First and last row and column with any ink, in mm; nothing on an empty page."""
        dark = [bool(min(self.row(y)) < DARK) for y in range(self.height)]
        if not any(dark):
            return None
        across = [bool(min(self.column(x)) < DARK) for x in range(self.width)]
        ends = [dark.index(True), self.height - dark[::-1].index(True)]
        ends += [across.index(True), self.width - across[::-1].index(True)]
        return [end / MM for end in ends]


def longest_run(line):
    """Length of the longest dark run of a row or column, in raster points."""
    return max((len(run) for run in re.findall(rb"[\x00-\x7f]+", line)), default=0)


def run_near(raster, at_mm, upright=False):
    """The longest dark line within 1 mm of a place, less what the raster adds at its ends, in mm."""
    middle, reach = round(at_mm * MM), round(MM)
    take, limit = (raster.column, raster.width) if upright else (raster.row, raster.height)
    lines = range(max(0, middle - reach), min(limit, middle + reach + 1))
    return max((longest_run(take(n)) for n in lines), default=0) / MM


def lines_of(sheet):
    """What is measured on a drawing: name, length across or up, its line's place, the pen that adds to its length."""
    root = xml.parse(sheet).getroot()
    border = next(root.iter(f"{SVG}polygon"))
    points = [tuple(map(float, pair.split(","))) for pair in border.get("points").split()]
    (left, top), (right, foot) = points[0], points[2]
    pen = float(border.get("stroke-width"))
    found = [("border across", right - left, top, pen, False), ("border up", foot - top, left, pen, True)]
    for group in root.iter(f"{SVG}g"):
        name = group.get("class") or ""
        if name.startswith("check-bar"):
            bar = group.find(f"{SVG}line")
            length = float(bar.get("x2")) - float(bar.get("x1"))
            if abs(length - float(group.get("data-length-mm"))) > 0.002:
                sys.exit(f"{sheet}: {name} is {length} mm long in the drawing")
            found.append((name, length, float(bar.get("y1")), float(bar.get("stroke-width")), False))
    return found, [float(root.get(side).removesuffix("mm")) for side in ("width", "height")]


def printed(source, folder):
    """The pages of a file as chromium prints it when nothing is set."""
    pdf = folder / "printed.pdf"
    for old in folder.iterdir():
        old.unlink()
    browser = ["chromium", "--headless", "--no-sandbox", "--disable-gpu", f"--print-to-pdf={pdf}", source.resolve().as_uri()]
    subprocess.run(browser, check=True, capture_output=True)
    subprocess.run(["pdftoppm", "-gray", "-r", str(DPI), pdf, folder / "page"], check=True)
    return [Raster(path) for path in sorted(folder.glob("page-*.pgm"))]


def measure(page, sheet, tally):
    """Compares one printed page with its drawing; gives the faults."""
    lines, (width, height) = lines_of(sheet)
    faults = []
    if abs(page.width / MM - width) > 0.5 or abs(page.height / MM - height) > 0.5:
        faults.append(f"page {page.width / MM:.1f} x {page.height / MM:.1f} mm for {width} x {height}")
    for name, wanted, at, pen, upright in lines:
        found = run_near(page, at, upright) - pen
        low, high = tally.get(name, (0.0, 0.0))
        tally[name] = (min(low, found - wanted), max(high, found - wanted))
        if abs(found - wanted) > LENGTH_MM:
            faults.append(f"{name} {found:.2f} mm for {wanted:.2f}")
    top, foot, left, right = page.ink() or (0.0,) * 4
    if min(top, height - foot, left, width - right) < UNPRINTABLE_MM:
        faults.append("ink where home printers print nothing")
    return faults


def check(packet, folder):
    faults, tally = [], {}
    sheets = sorted((packet / "sheets").glob("*.svg"))
    books = [(packet / "index.html", sheets)]
    for other in sorted(packet.glob("templates-*/")):
        books.append((packet / f"{other.name}.html", sorted(other.glob("*.svg"))))
        sheets = sheets + books[-1][1]
    for book, drawn in books:
        pages = printed(book, folder)
        text = len(pages) - len(drawn)
        for n, page in enumerate(pages[:text]):
            ink = page.ink()
            if ink is None or (n + 1 < text and ink[1] < HEADING_MM):
                faults.append(f"{book.name} page {n + 1}: a heading alone, or nothing")
        if text < 0:
            faults.append(f"{book.name}: {len(pages)} pages for {len(drawn)} drawings")
            continue
        for page, sheet in zip(pages[text:], drawn):
            faults += [f"{book.name}, {sheet.name}: {fault}" for fault in measure(page, sheet, tally)]
        print(f"{packet.name}/{book.name}: {len(pages)} pages, {text} of text")
    # Alone, one of each paper, way up and with or without check bars: the browser reads nothing else of a drawing's page.
    kinds = {}
    for sheet in sheets:
        lines, size = lines_of(sheet)
        kinds.setdefault((*size, len(lines)), sheet)
    for sheet in kinds.values():
        pages = printed(sheet, folder)
        if len(pages) != 1:
            faults.append(f"{sheet.name} alone: {len(pages)} pages")
        faults += [f"{sheet.name} alone: {fault}" for fault in measure(pages[0], sheet, tally)]
    print(f"{packet.name}: {len(kinds)} kinds of drawing alone")
    for name, (low, high) in tally.items():
        print(f"  {name}: {low:+.2f} to {high:+.2f} mm off")
    return faults


def main():
    missing = [program for program in ("chromium", "pdftoppm") if shutil.which(program) is None]
    if missing:
        print(f"NOT RUN: {' and '.join(missing)} not found; nothing was printed or measured")
        return 0
    with tempfile.TemporaryDirectory() as place:
        packets, work = [pathlib.Path(folder) for folder in sys.argv[1:]], pathlib.Path(place)
        if not packets:
            program = ["cargo", "run", "--quiet", "--", "plan", "--out", place]
            for paper in ("letter", "a4"):
                subprocess.run(program + ["--paper", paper, "--name", f"on-{paper}"], cwd=ROOT, check=True, stdout=subprocess.DEVNULL)
                packets.append(work / f"on-{paper}")
        (work / "print").mkdir()
        faults = [f"{packet}: {fault}" for packet in packets for fault in check(packet, work / "print")]
    for fault in faults:
        print(f"FAULT {fault}")
    print(f"{len(faults)} faults")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
