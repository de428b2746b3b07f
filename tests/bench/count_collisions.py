"""Counts what stands in what, from `assembly.json` alone, with arithmetic of its own.

Round things (shanks, heads, nuts, washers) are sampled by points on and inside them; a point that lies inside a box it has
no business in, deeper than a skin, is a collision. Two round things collide when points of one lie inside the other.
Mitred ends are cut off their boxes by the planes of `ends_deg`. Boxes of sticks against boxes of other sticks and panels
are sampled the same way, by a grid of points. Open sections (angles, channels) and tubes are hollow: only shanks of
foreign joints may not pass them, and their boxes are left out for heads, nuts and washers of their own joints.

usage: count_collisions.py PACKET_FOLDER...     ends with 1 when anything collides
"""

import json
import math
import pathlib
import subprocess
import sys

VENV = pathlib.Path(__file__).resolve().parents[2] / "target" / "venv"
try:
    import numpy as np
except ImportError:
    python = VENV / "bin" / "python"
    if not python.exists():
        subprocess.run([sys.executable, "-m", "venv", VENV], check=True)
    subprocess.run([python, "-m", "pip", "install", "--quiet", "numpy"], check=True)
    sys.exit(subprocess.run([python, *sys.argv]).returncode)

SKIN = 0.15  # mm: touching faces are no collision, nor is a prism's or a sample's rounding
STEP_DEG = 0.5


def turning(deg):
    c, s = math.cos(math.radians(deg)), math.sin(math.radians(deg))
    return np.array([[1.0, 0.0, 0.0], [0.0, c, -s], [0.0, s, c]])


class Solid:
    """Points in and on a solid, and how deep points of another lie in it."""

    def near(self, other):
        return np.linalg.norm(self.centre - other.centre) < self.reach + other.reach

    def measure(self):
        self.centre = (self.points.min(axis=0) + self.points.max(axis=0)) / 2.0
        self.reach = np.linalg.norm(self.points - self.centre, axis=1).max()
        return self


class Box(Solid):
    def __init__(self, name, row, ends=(0.0, 0.0)):
        self.name, self.ends = name, [math.radians(e) for e in ends]
        self.origin, self.axes, self.size = np.array(row["origin"]), np.array(row["axes"]), row["size"]
        l, d, w = np.meshgrid(np.linspace(0, 1, 61), np.linspace(0, 1, 9), np.linspace(0, 1, 5))
        d, w = d.ravel() * self.size[1], w.ravel() * self.size[2]
        start, end = d * math.tan(self.ends[0]), self.size[0] - d * math.tan(self.ends[1])
        l = start + (end - start) * l.ravel()
        self.points = self.origin + np.stack([l, d, w], axis=1) @ self.axes
        self.measure()

    def turned(self, deg):
        other = object.__new__(Box)
        r = turning(deg)
        other.name, other.ends, other.size = self.name, self.ends, self.size
        other.origin, other.axes, other.points = r @ self.origin, self.axes @ r.T, self.points @ r.T
        return other.measure()

    def depth_of(self, points):
        l, d, w = ((points - self.origin) @ self.axes.T).T
        start = (l - d * math.tan(self.ends[0])) * math.cos(self.ends[0])
        end = (self.size[0] - d * math.tan(self.ends[1]) - l) * math.cos(self.ends[1])
        return np.minimum.reduce([start, end, d, self.size[1] - d, w, self.size[2] - w]).max()


class Round(Solid):
    def __init__(self, name, start, axis, length, diameter):
        self.name, self.start, self.axis = name, np.array(start), np.array(axis)
        self.length, self.radius = length, diameter / 2.0
        other = np.array((0.0, 1.0, 0.0) if abs(axis[1]) < 0.9 else (1.0, 0.0, 0.0))
        one = np.cross(self.axis, other)
        one /= np.linalg.norm(one)
        two = np.cross(self.axis, one)
        l = np.linspace(0, length, max(3, math.ceil(length / 1.5)))
        angle = np.linspace(0, math.tau, 16, endpoint=False)
        ring = np.outer(np.cos(angle), one) + np.outer(np.sin(angle), two)
        disc = np.concatenate([ring * self.radius, ring * self.radius / 2, np.zeros((1, 3))])
        self.points = (self.start + np.outer(l, self.axis))[:, None, :] + disc[None, :, :]
        self.points = self.points.reshape(-1, 3)
        self.measure()

    def turned(self, deg):
        other = object.__new__(Round)
        r = turning(deg)
        other.name, other.length, other.radius = self.name, self.length, self.radius
        other.start, other.axis, other.points = r @ self.start, r @ self.axis, self.points @ r.T
        return other.measure()

    def depth_of(self, points):
        v = points - self.start
        along = v @ self.axis
        away = np.linalg.norm(v - np.outer(along, self.axis), axis=1)
        return np.minimum.reduce([along, self.length - along, self.radius - away]).max()


class Thing:
    """A solid, the body it moves with, and what it may pass."""

    def __init__(self, solid, body, joint=None, may=(), part=None, round_part=None):
        self.solid, self.body, self.joint, self.may, self.part, self.round_part = solid, body, joint, may, part, round_part
        self.x = None

    def reach(self):
        if self.x is None:
            self.x = (self.solid.points[:, 0].min(), self.solid.points[:, 0].max())
        return self.x


def rounds(fastener, use):
    start, axis = np.array(fastener["from"]), np.array(fastener["axis"])
    yield "shank", Round(f"{fastener['kind']} of the {use}", start, axis, fastener["length_mm"], fastener["diameter_mm"])
    for name in ("head", "nut"):
        disc = fastener[name]
        if disc and disc["height_mm"] > 0:
            yield name, Round(f"{name} of the {use}", start + axis * disc["at_mm"], axis, disc["height_mm"], disc["diameter_mm"])
    for washer in fastener["washers"]:
        yield "washer", Round(f"washer of the {use}", start + axis * washer["at_mm"], axis, washer["thickness_mm"], washer["diameter_mm"])


def things_of(data):
    things = []
    for part in data["parts"]:
        if part["box"]:
            name = f"{part['mark']}/{part['index']}"
            solid = Box(f"{part['role']} {name}", part["box"], part["ends_deg"])
            things.append(Thing(solid, "frame" if part["moves"] else "ground", part=name))
    for panel in data["panels"]:
        name = f"panel/{panel['index']}"
        things.append(Thing(Box(name, panel["box"]), "frame", part=name))
    for j, joint in enumerate(data["joints"]):
        for fastener in joint["fasteners"]:
            if joint["moves_with"] == "stay":
                continue
            for kind, solid in rounds(fastener, joint["use"]):
                things.append(Thing(solid, joint["moves_with"], j, set(joint["parts"]), round_part=kind))
        for plate in joint["plates"]:
            things.append(Thing(Box(f"plate of the {joint['use']}", plate), joint["moves_with"], j, set(joint["parts"]), round_part="plate"))
    return things


def may_touch(a, b, hollow):
    if a.joint is not None and a.joint == b.joint:
        return True
    for one, other in ((a, b), (b, a)):
        if one.joint is not None and other.part is not None and other.part in one.may:
            # The panel's own frame is hollow, a shank passes what it holds, and open sections hold heads in their hollow.
            if one.round_part == "shank" or other.part.startswith("panel") or other.part in hollow:
                return True
    return False


def worst(a, b):
    if not a.near(b):
        return 0.0
    return max(a.depth_of(b.points), b.depth_of(a.points))


def count(path):
    data = json.loads((pathlib.Path(path) / "assembly.json").read_text())
    hollow = {f"{p['mark']}/{p['index']}" for p in data["parts"] if p["hollow"]}
    things = things_of(data)
    tilts = sorted(t["tilt_deg"] for t in data["tilts"])
    steps = max(1, math.ceil((tilts[-1] - tilts[0]) / STEP_DEG))
    swept = sorted({tilts[0] + (tilts[-1] - tilts[0]) * i / steps for i in range(steps + 1)} | set(tilts))
    found = {}

    def look(a, b, places):
        (low, high), (start, end) = a.reach(), b.reach()
        if low > end - SKIN or start > high - SKIN or may_touch(a, b, hollow):
            return
        for tilt, one, other in places(a, b):
            depth = worst(one, other)
            if depth > SKIN:
                key = (one.name, other.name)
                if depth > found.get(key, (0.0, 0))[0]:
                    found[key] = (depth, tilt)

    still = lambda a, b: [(None, a.solid, b.solid)]
    at = lambda thing, tilt: thing.solid.turned(tilt) if thing.body == "frame" else thing.solid
    moving = lambda a, b: ((t, at(a, t), at(b, t)) for t in swept)
    for i, a in enumerate(things):
        for b in things[i + 1 :]:
            look(a, b, still if a.body == b.body else moving)
    for tilt in data["tilts"]:
        hung = []
        for stay in tilt["stays"]:
            name = f"{stay['mark']}/{stay['index']}"
            part = next(p for p in data["parts"] if p["mark"] == stay["mark"])
            hung.append(Thing(Box(f"stay {name}", stay["box"], part["ends_deg"]), "ground", part=name))
        for pin in tilt["pins"]:
            joint = data["joints"][pin["joint"]]
            fastener = {**joint["fasteners"][pin["fastener"]], "from": pin["from"], "axis": pin["axis"]}
            for kind, solid in rounds(fastener, joint["use"]):
                hung.append(Thing(solid, "ground", pin["joint"], set(joint["parts"]), round_part=kind))
        for i, a in enumerate(hung):
            for b in things + hung[i + 1 :]:
                look(a, b, lambda a, b: [(tilt["tilt_deg"], at(a, tilt["tilt_deg"]), at(b, tilt["tilt_deg"]))])
    return len(things), found


def main():
    total = 0
    for path in sys.argv[1:]:
        solids, found = count(path)
        total += len(found)
        print(f"{path}: {solids} solids, {len(found)} collisions")
        for (one, other), (depth, tilt) in sorted(found.items()):
            print(f"  {one} in {other}: {depth:.2f} mm" + (f" at {tilt:.1f} deg" if tilt is not None else ""))
    return 1 if total else 0


if __name__ == "__main__":
    sys.exit(main())
