"""Works out total force and moment of the load cases from a design file's numbers alone and compares with the exports.

    python -m venv venv && venv/bin/pip install PyYAML==6.0.2
    cargo build --release && venv/bin/python tests/bench/recheck_totals.py [design.yaml ...]

The surface is the panels with the gaps between them; one gap, found from the least wind at the first tilt, must serve
every other case and tilt and be one that a hand would leave. Nothing here reads the program's own tables: velocity pressure (ASCE 7-16 §26.10), net pressure coefficients of open
monoslope roofs (Fig. 27.3-4, clear), sloped-roof snow and the panels' weight are typed in again. Panels alone carry the
loads, so totals need their area, their mass and the tilt only. Moments are taken about the middle of the panels in the
slope, where uniform loads have none and each case has what its two halves differ by. Reactions must close the sums.
Designs on EN 1991, and wind cases beyond 45 deg or refused ones, are named and left out.
"""

import json
import math
import pathlib
import re
import subprocess
import sys
import tempfile

import yaml

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
PSF, FT, LBF, MPH = 47.880258980335840, 0.3048, 4.4482216152605, 0.44704
# The export names its tilt (the taped one) to 0.001 degree, which is up to 5e-5 of the sine of ten degrees; reactions know no
# tilt.
AGREE, BALANCED = 1e-4, 1e-6
G = 9.80665

# theta: (back W, back L), (face W, face L) for case A, then for case B; clear below. ASCE 7-16 Fig. 27.3-4.
CN = {
    7.5: (((-0.6, -1.0), (0.9, 1.5)), ((-1.4, 0.0), (1.6, 0.3))),
    15.0: (((-0.9, -1.3), (1.3, 1.6)), ((-1.9, 0.0), (1.8, 0.6))),
    22.5: (((-1.5, -1.6), (1.7, 1.8)), ((-2.4, -0.3), (2.2, 0.7))),
    30.0: (((-1.8, -1.8), (2.1, 2.1)), ((-2.5, -0.5), (2.6, 1.0))),
    37.5: (((-1.8, -1.8), (2.1, 2.2)), ((-2.4, -0.6), (2.7, 1.1))),
    45.0: (((-1.6, -1.8), (2.2, 2.5)), ((-2.3, -0.7), (2.6, 1.4))),
}
# K_z = c (z/z_g)^(2/alpha) with z of 15 ft at least: c and, for each exposure, alpha and z_g (ft). ASCE 7-16 and 7-22 §26.10.
KZ = {
    "asce7-16": (2.01, {"B": (7.0, 1200.0), "C": (9.5, 900.0), "D": (11.5, 700.0)}),
    "asce7-22": (2.41, {"B": (7.5, 3280.0), "C": (9.8, 2460.0), "D": (11.5, 1935.0)}),
}
KD, GUST_FACTOR, LEAST_PSF = 0.85, 0.85, 16.0

UNITS = {"mm": 1e-3, "m": 1.0, "in": 0.0254, "ft": FT, "mph": MPH, "m/s": 1.0, "psf": PSF, "kPa": 1e3, "Pa": 1.0,
         "kg": 1.0, "lb": 0.45359237, "deg": 1.0}


def amount(text):
    """The value of `5 ft 3-1/2 in` and its like in SI (degrees for angles)."""
    total = 0.0
    for number, unit in re.findall(r"([\d.]+(?:-\d+/\d+)?|\d+/\d+)\s*([A-Za-z/]+)", str(text)):
        parts = number.split("-")
        value = sum(eval_fraction(p) for p in parts)
        total += value * UNITS[unit]
    return total


def eval_fraction(text):
    top, _, bottom = text.partition("/")
    return float(top) / float(bottom or 1)


def coefficients(tilt, case, side):
    """C_NW and C_NL at a tilt between 7.5 and 45 degrees, straight between the rows."""
    rows = sorted(CN)
    below = max(r for r in rows if r <= tilt)
    above = min(r for r in rows if r >= tilt)
    share = 0.0 if above == below else (tilt - below) / (above - below)
    a, b = CN[below][case][side], CN[above][case][side]
    return [x + (y - x) * share for x, y in zip(a, b)]


class Design:
    def __init__(self, path):
        d = yaml.safe_load(path.read_text())
        panel, array = d["panel"], d["array"]
        self.long, self.short = amount(panel["long_side"]), amount(panel["short_side"])
        # Equal frames side by side share the columns; one of them is analysed.
        self.count = array.get("rows", 1) * array["columns"] // array.get("frames", 1)
        self.rows = array.get("rows", 1)
        self.mass = amount(panel["mass"])
        self.portrait = array["orientation"] == "portrait"
        self.panels = self.count * self.long * self.short
        self.area = None
        self.loads = d["loads"]
        self.support = d["support"]


def totals(case, nodes, about):
    """Force and moment about the level line through `about`, of one load case."""
    force, moment = [0.0] * 3, 0.0
    place = {n["id"]: n["xyz"] for n in nodes}

    def add(at, f, m=(0.0, 0.0, 0.0)):
        nonlocal moment
        for i in range(3):
            force[i] += f[i]
        arm = [a - b for a, b in zip(at, about)]
        moment += arm[1] * f[2] - arm[2] * f[1] + m[0]

    for load in case.get("nodal", []):
        add(place[load["node"]], load["F"], load.get("M", (0.0, 0.0, 0.0)))
    return force, moment


def middle_of_panels(model):
    """Where the panels' own weight acts: the dead case's nodal loads are the panels."""
    place = {n["id"]: n["xyz"] for n in model["nodes"]}
    weight, first = 0.0, [0.0, 0.0]
    # Ballast stands on nodes that the ground holds; panels never do.
    held = {s["node"] for s in model["supports"]}
    for load in (n for n in model["load_cases"]["dead"]["nodal"] if n["node"] not in held):
        f, at, m = load["F"], place[load["node"]], load.get("M", [0.0] * 3)
        weight += f[2]
        # Mx = y Fz - z Fy, My = z Fx - x Fz; only Fz acts.
        first[1] += at[1] * f[2] + m[0]
        first[0] += at[0] * f[2] - m[1]
    return weight, [first[0] / weight, first[1] / weight]


def close(name, ours, theirs, scale, faults, agree=AGREE):
    if not abs(ours - theirs) <= agree * scale:
        faults.append(f"{name}: {ours:.6g} here, {theirs:.6g} exported")


# Sum of the gaps between panels over the width of the panels: none to a twelfth.
GAP_SHARE = (0.0, 1.0 / 12.0)


def surface(design, model, b, faults):
    """The area with its gaps, from 16 psf on the upright projection (ASCE 7-16 §27.1.5), once for a design."""
    if design.area is None:
        design.area = total_force(model["load_cases"]["wind-face-least"])[1] / (LEAST_PSF * PSF * math.sin(b))
        if not GAP_SHARE[0] <= design.area / design.panels - 1.0 <= GAP_SHARE[1]:
            faults.append(f"surface of {design.area:.4g} m2 round panels of {design.panels:.4g} m2")


def check(design, model, faults):
    tilt = float(re.search(r"tilt ([\d.]+) deg", model["desc"]).group(1))
    b = math.radians(tilt)
    out = (0.0, -math.sin(b), math.cos(b))
    cases = model["load_cases"]
    weight, middle = middle_of_panels(model)
    done = []
    close("weight of the panels", -design.count * design.mass * G, weight, abs(weight), faults)
    done.append("dead")
    if design.loads["edition"] not in KZ:
        return done, [f"all wind and snow: {design.loads['edition']}"]
    surface(design, model, b, faults)
    snow(design, b, cases, faults, done)
    skipped = wind(design, tilt, b, out, model, middle, faults, done)
    return done, skipped


def snow(design, b, cases, faults, done):
    written = design.loads.get("snow")
    if not written:
        return
    # Balanced load on the level projection; partial cases: half the balanced load on one half, all of it on the other.
    level = design.area * math.cos(b)
    found = total_force(cases["snow-balanced"])
    for name, case in cases.items():
        if name.startswith("snow-partial"):
            close(name, 0.75 * found[2], total_force(case)[2], abs(found[2]), faults)
            done.append(name)
    ground = amount(written["ground"])
    # p_s = 0.7 C_e C_t I_s C_s p_g lies between these for every exposure, category and slope of the tables.
    greatest = 0.7 * 1.2 * 1.2 * 1.2 * ground * level
    if not 0.0 <= -found[2] <= greatest * (1 + AGREE):
        faults.append(f"snow-balanced: {-found[2]:.6g} N is more than any factor of the clause gives ({greatest:.6g} N)")
    done.append("snow-balanced")


def total_force(case):
    return [sum(load["F"][i] for load in case.get("nodal", [])) for i in range(3)]


def pressure(design, model):
    loads = design.loads
    c, exposures = KZ[loads["edition"]]
    alpha, z_g = exposures[loads["exposure"]]
    # Frames stand far below 15 ft, where K_z stops falling.
    k_z = c * (15.0 / z_g) ** (2.0 / alpha)
    k_e = math.exp(-0.0000362 * amount(loads["elevation"]) / FT)
    v = amount(loads["gust"]) / MPH
    return 0.00256 * k_z * loads.get("topography", 1) * KD * k_e * v * v * PSF


def wind(design, tilt, b, out, model, middle, faults, done):
    cases, skipped = model["load_cases"], []
    q = pressure(design, model)
    length = (design.long if design.portrait else design.short)
    for side, word in enumerate(("back", "face")):
        for case, letter in enumerate("ab"):
            name = f"wind-{word}-clear-{letter}"
            if name not in cases:
                continue
            if not 7.5 <= tilt <= 45.0:
                skipped.append(name)
                continue
            windward, leeward = coefficients(tilt, case, side)
            mean = (windward + leeward) / 2.0
            normal = -q * GUST_FACTOR * mean * design.area
            force, _ = totals(cases[name], model["nodes"], (0.0, 0.0, 0.0))
            for axis in range(3):
                close(f"{name} axis {axis}", normal * out[axis], force[axis], abs(normal), faults)
            if design.rows == 1:
                moment_of(name, side, windward, leeward, q, design, length, b, model, middle, faults)
            # A sideways eccentricity moves the force and keeps its size.
            for suffix in ("-left", "-right"):
                if name + suffix in cases:
                    close(name + suffix, normal * out[2], total_force(cases[name + suffix])[2], abs(normal), faults)
                    done.append(name + suffix)
            done.append(name)
        name = f"wind-{word}-least"
        if name in cases:
            force = total_force(cases[name])
            upright = LEAST_PSF * PSF * design.area * math.sin(b)
            close(name, upright * (1 if word == "face" else -1), force[1], upright, faults)
            done.append(name)
    return skipped


def moment_of(name, side, windward, leeward, q, design, length, b, model, middle, faults):
    """Moment about the level line through the middle of the panels: each half's force a quarter of the slope away."""
    half = q * GUST_FACTOR * design.area / 2.0
    # Wind on the back comes from the high edge, wind on the face from the low one; u runs up the slope.
    toward = 1.0 if side == 0 else -1.0
    normals = [(-windward * half, toward * length / 4.0), (-leeward * half, -toward * length / 4.0)]
    # A force n along `out` at u up the slope turns the frame about x by u n (y = u cos b, z = u sin b).
    ours = sum(n * u for n, u in normals)
    _, about_middle = totals(model["load_cases"][name], model["nodes"], plane_point(model, middle))
    close(f"{name} moment", ours, about_middle, half * length, faults)


def plane_point(model, middle):
    """A point of the level line in the panels' plane under the middle: force is square to the plane, so its height counts."""
    return (middle[0], middle[1], height_of_middle(model))


def height_of_middle(model):
    # The uniform weight acts at the middle too; a load along y at the panels' height gives the other coordinate. The
    # least wind pushes level on the same panels.
    case = model["load_cases"]["wind-face-least"]
    place = {n["id"]: n["xyz"] for n in model["nodes"]}
    push = sum(load["F"][1] for load in case["nodal"])
    turn = sum(place[l["node"]][1] * l["F"][2] - place[l["node"]][2] * l["F"][1] + l.get("M", [0.0] * 3)[0] for l in case["nodal"])
    return -turn / push


def reactions(model, faults):
    """Loads of a case and the reactions at its supports and springs add up to nothing."""
    place = {n["id"]: n["xyz"] for n in model["nodes"]}
    members = {m["id"]: m for m in model["members"]}
    checked = 0
    for name, case in model["load_cases"].items():
        result = model["results"].get(name)
        # Combinations hold second-order answers, whose sums stand on the moved frame.
        if not result or "desc" in case:
            continue
        assert set(case) <= {"nodal", "member_udl"}, f"{name}: loads that are not known here: {sorted(case)}"
        total, size = [0.0] * 3, 0.0
        for load in case.get("nodal", []):
            for i in range(3):
                total[i] += load["F"][i]
                size += abs(load["F"][i])
        for load in case.get("member_udl", []):
            w = load["w_global"]
            m = members[load["member"]]
            for i in range(3):
                total[i] += w[i] * m["length"]
                size += abs(w[i] * m["length"])
        for r in result["reactions"].values():
            for i in range(3):
                total[i] += r[i]
        for i in range(3):
            close(f"{name} balance {i}", 0.0, total[i], max(size, 1.0), faults, BALANCED)
        checked += 1
    return checked


def main():
    program = ROOT / "target" / "release" / "tiltwright"
    if not program.exists():
        program = ROOT / "target" / "debug" / "tiltwright"
    designs = [pathlib.Path(p) for p in sys.argv[1:]] or sorted((ROOT / "designs").glob("*.yaml"))
    wrong = 0
    for path in designs:
        with tempfile.TemporaryDirectory() as folder:
            first = pathlib.Path(folder) / "model.json"
            subprocess.run([program, "strength", path, "--model", first, "--format", "json"], capture_output=True, check=False)
            models = sorted(pathlib.Path(folder).glob("*.json"))
            if not models:
                print(f"{path.name}: exports no model")
                wrong += 1
            design = Design(path)
            for file in models:
                model = json.loads(file.read_text())
                faults = []
                done, skipped = check(design, model, faults)
                balanced = reactions(model, faults)
                print(f"{model['desc']}: {len(done)} cases from the design, {balanced} balanced, {len(faults)} wrong"
                      + (f"; left out: {', '.join(skipped)}" if skipped else ""))
                for fault in faults[:12]:
                    print(f"    {fault}")
                wrong += len(faults)
    sys.exit(1 if wrong else 0)


if __name__ == "__main__":
    main()
