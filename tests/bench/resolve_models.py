"""Solves the exported models of all designs again with two open libraries and compares.

    python -m venv venv && venv/bin/pip install PyNiteFEA==3.2.0 openseespy==3.7.1.2 scipy
    cargo build --release && venv/bin/python tests/bench/resolve_models.py [design.yaml ...]

Every basic load case of every tilt is compared: displacements, reactions, member end forces; and in OpenSeesPy every
exported combination in which contacts open, with their supports taken away. Rigid arms are rigid links in OpenSeesPy and
very stiff members in PyNiteFEA, which knows no arms; that, and the digits of a stiff matrix, set how closely the two can
agree.
"""

import importlib.util
import json
import math
import pathlib
import subprocess
import sys
import tempfile

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parent.parent
spec = importlib.util.spec_from_file_location("side_by_side", HERE / "frame_side_by_side.py")
side_by_side = importlib.util.module_from_spec(spec)
spec.loader.exec_module(side_by_side)

# Largest difference over the largest value of its kind.
AGREE_OPENSEES, AGREE_PYNITE = 1e-7, 1e-2
# Arms in PyNiteFEA, times the stiffest section: soft ones err by bending, stiff short ones by the digits of the matrix, so
# the best of four counts. Short arms, as those of cleats, agree to a few thousandths only; OpenSeesPy has true links.
ARM_TIMES = (1e1, 2e1, 1e2, 1e3)


def has_arm(member, end):
    return f"offset_{end}" in member


def tip(frame, member, end):
    node = next(n for n in frame["nodes"] if n["id"] == member[end])
    return [a + b for a, b in zip(node["xyz"], member.get(f"offset_{end}", [0.0, 0.0, 0.0]))]


def opensees(frame, cases):
    ops = side_by_side.import_opensees()
    ops.wipe()
    ops.model("basic", "-ndm", 3, "-ndf", 6)
    tags = {n["id"]: k + 1 for k, n in enumerate(frame["nodes"])}
    for n in frame["nodes"]:
        ops.node(tags[n["id"]], *map(float, n["xyz"]))
    fixed = {s["node"]: list(s["fix"]) for s in frame["supports"]}
    sections = {s["id"]: s for s in frame["sections"]}
    for k, s in enumerate(frame["sections"]):
        ops.uniaxialMaterial("Elastic", k + 1, s["E"])
    materials = {s["id"]: k + 1 for k, s in enumerate(frame["sections"])}
    next_node, next_material, next_element = len(tags) + 1, len(materials) + 1, len(frame["members"]) + 1
    bent = set()
    member_tags = {}
    for k, m in enumerate(frame["members"]):
        member_tags[m["id"]] = k + 1
        ends = []
        for end in "ij":
            if has_arm(m, end):
                ops.node(next_node, *tip(frame, m, end))
                ops.rigidLink("beam", tags[m[end]], next_node)
                ends.append(next_node)
                next_node += 1
            else:
                ends.append(tags[m[end]])
        s = sections[m["section"]]
        if side_by_side.is_axial(m):
            ops.element("Truss", k + 1, *ends, s["A"], materials[m["section"]])
            continue
        bent.update((m["i"], m["j"]))
        code = lambda c: (c in m["releases"]["i"]) + 2 * (c in m["releases"]["j"])
        # No torsion passes a member that is released about its axis.
        j = s["J"] * (1e-9 if code("Mx") else 1.0)
        extra = []
        for flag, c in (("-releasez", "Mz"), ("-releasey", "My")):
            if code(c):
                extra += [flag, code(c)]
        ops.geomTransf("Linear", k + 1, *m["z_axis"])
        ops.element("elasticBeamColumn", k + 1, *ends, s["A"], s["E"], s["G"], j, s["Iy"], s["Iz"], k + 1, *extra)
    grounds = {}
    for spring in frame.get("springs", []):
        ground = next_node
        next_node += 1
        node = next(n for n in frame["nodes"] if n["id"] == spring["node"])
        ops.node(ground, *map(float, node["xyz"]))
        ops.fix(ground, 1, 1, 1, 1, 1, 1)
        numbers, directions = [], []
        for d, k in enumerate(spring["k"]):
            if k:
                ops.uniaxialMaterial("Elastic", next_material, k)
                numbers.append(next_material)
                directions.append(d + 1)
                next_material += 1
        ops.element("zeroLength", next_element, ground, tags[spring["node"]], "-mat", *numbers, "-dir", *directions)
        next_element += 1
        grounds[spring["node"]] = ground
    for node, fix in fixed.items():
        ops.fix(tags[node], *[int(f) for f in fix])
    found = {}
    members = {m["id"]: m for m in frame["members"]}
    for c, name in enumerate(cases):
        case = frame["load_cases"][name]
        ops.timeSeries("Constant", c + 1)
        ops.pattern("Plain", c + 1, c + 1)
        for load in case["nodal"]:
            ops.load(tags[load["node"]], *map(float, load["F"] + load["M"]))
        for load in case["member_udl"]:
            m, w = members[load["member"]], load["w_global"]
            ends = [tip(frame, m, e) for e in "ij"]
            length = math.dist(*ends)
            along = [(b - a) / length for a, b in zip(*ends)]
            if side_by_side.is_axial(m):
                # A truss takes no load between its ends: half goes to each, with the arm's moment.
                for end, at in zip("ij", ends):
                    node = next(n["xyz"] for n in frame["nodes"] if n["id"] == m[end])
                    force = [v * length / 2 for v in w]
                    r = [a - b for a, b in zip(at, node)]
                    moment = [
                        r[1] * force[2] - r[2] * force[1],
                        r[2] * force[0] - r[0] * force[2],
                        r[0] * force[1] - r[1] * force[0],
                    ]
                    ops.load(tags[m[end]], *force, *moment)
                continue
            dot = side_by_side.dot
            ops.eleLoad(
                "-ele", member_tags[m["id"]], "-type", "-beamUniform",
                dot(w, m["y_axis"]), dot(w, m["z_axis"]), dot(w, along),
            )
        ops.wipeAnalysis()
        ops.constraints("Transformation")
        ops.numberer("RCM")
        ops.system("UmfPack")
        ops.integrator("LoadControl", 0.0)
        ops.algorithm("Linear")
        ops.analysis("Static", "-noWarnings")
        if ops.analyze(1) != 0:
            raise SystemExit(f"OpenSeesPy does not solve {name}")
        ends_found = {}
        for m in frame["members"]:
            tag = member_tags[m["id"]]
            if side_by_side.is_axial(m):
                pull = ops.eleResponse(tag, "axialForce")[0]
                ends_found[m["id"]] = [-pull, 0, 0, 0, 0, 0, pull, 0, 0, 0, 0, 0]
            else:
                ends_found[m["id"]] = ops.eleResponse(tag, "localForce")
        found[name] = {
            "displacements": {n: ops.nodeDisp(tag) for n, tag in tags.items()},
            "end_forces": ends_found,
        }
        ops.remove("loadPattern", c + 1)
        ops.setTime(0.0)
        ops.reset()
    return found


def pynite(frame, cases, times):
    """Arms become very stiff members; loads on axial members go to their ends."""
    frame = json.loads(json.dumps(frame))
    stiff = max(frame["sections"], key=lambda s: s["E"] * s["Iz"])
    frame["sections"].append(
        {"id": "arm", **{k: stiff[k] * (times if k != "E" and k != "G" else 1.0) for k in ("A", "Iy", "Iz", "J", "E", "G")}}
    )
    members = {m["id"]: m for m in frame["members"]}
    ends = {m["id"]: [tip(frame, m, e) for e in "ij"] for m in frame["members"]}
    arms = {}
    for m in list(frame["members"]):
        for end in "ij":
            if not has_arm(m, end):
                continue
            at = tip(frame, m, end)
            # Members that reach the same point from the same node share one arm: two points in one place would cut the
            # members that run through them.
            name = arms.setdefault((m[end], *(round(c, 7) for c in at)), f"{m['id']} arm {end}")
            if name != f"{m['id']} arm {end}":
                m[end] = name
                continue
            node = next(n["xyz"] for n in frame["nodes"] if n["id"] == m[end])
            x = [(b - a) / math.dist(node, at) for a, b in zip(node, at)]
            y = [0.0, 1.0, 0.0] if abs(x[2]) > 0.999 else None
            if y is None:
                n = math.hypot(x[0], x[1])
                y = [-x[1] / n, x[0] / n, 0.0]
            frame["nodes"].append({"id": name, "xyz": at})
            frame["members"].append(
                {"id": name, "i": m[end], "j": name, "section": "arm", "y_axis": y, "releases": {"i": [], "j": []}}
            )
            m[end] = name
    for case in frame["load_cases"].values():
        plain = []
        for load in case["member_udl"]:
            m = members[load["member"]]
            if not side_by_side.is_axial(m):
                plain.append(load)
                continue
            length = math.dist(*ends[m["id"]])
            for end in "ij":
                case["nodal"].append({"node": m[end], "F": [v * length / 2 for v in load["w_global"]], "M": [0.0] * 3})
        case["member_udl"] = plain
    model = side_by_side.build_pynite(frame, [(name, [(name, 1.0)]) for name in cases])
    side_by_side.solve_pynite(model)
    return {name: side_by_side.read_pynite(model, frame, name) for name in cases}


def pulls_only(frame, result):
    """A truss knows its pull alone: of an axial member under load, the mean pull is compared."""
    axial = {m["id"] for m in frame["members"] if side_by_side.is_axial(m)}
    rows = dict(result["end_forces"])
    for name in axial & rows.keys():
        pull = (rows[name][6] - rows[name][0]) / 2
        rows[name] = [-pull, 0, 0, 0, 0, 0, pull, 0, 0, 0, 0, 0]
    return {**result, "end_forces": rows}


def worst(ours, theirs, kinds):
    """Largest difference over the largest value of its kind: shifts, turns, forces and moments apart."""
    found = 0.0
    for kind in kinds:
        for side in (0, 1):
            pick = lambda row: [v for c, v in enumerate(row) if c % 6 // 3 == side]
            rows = [(ours[kind][k], theirs[kind][k]) for k in ours[kind] if k in theirs[kind]]
            largest = max((abs(v) for a, _ in rows for v in pick(a)), default=0.0)
            if largest == 0.0:
                continue
            off = max(abs(a - b) for mine, other in rows for a, b in zip(pick(mine), pick(other)))
            found = max(found, off / largest)
    return found


def without(frame, open_parts):
    """The frame with the one-way supports that gave no force taken away."""
    nodes = {part.removeprefix("node ") for part in open_parts}
    free = lambda s: [0 if c < 3 and s["one_way"][c] else f for c, f in enumerate(s["fix"])]
    supports = [{**s, "fix": free(s)} if s["node"] in nodes else s for s in frame["supports"]]
    return {**frame, "supports": supports}


def on_fewer_contacts(frame):
    """First-order combinations that rest on fewer contacts, by the contacts that are open."""
    groups = {}
    for name, result in frame["results"].items():
        if result.get("order") == "first" and result.get("open"):
            groups.setdefault(tuple(result["open"]), []).append(name)
    return groups


def main():
    designs = [pathlib.Path(a) for a in sys.argv[1:]] or sorted((ROOT / "designs").glob("*.yaml"))
    program = ROOT / "target" / "release" / "tiltwright"
    if not program.exists():
        program = ROOT / "target" / "debug" / "tiltwright"
    failed = False
    for design in designs:
        with tempfile.TemporaryDirectory() as folder:
            target = pathlib.Path(folder, "model.json")
            run = subprocess.run([program, "strength", design, "--model", target], capture_output=True, text=True)
            if run.returncode not in (0, 1) or not target.exists():
                raise SystemExit(f"{design.name}: {run.stdout}{run.stderr}")
            for file in sorted(pathlib.Path(folder).glob("*.json")):
                frame = json.loads(file.read_text())
                if any("axes" in s for s in frame["supports"]):
                    print(f"{design.name:24} {frame['name'].split(' at ')[-1]:>12}  inclined supports: not compared here")
                    continue
                cases = [n for n, r in frame["results"].items() if r.get("order", "first") == "first" and not n[:2].isdigit()]
                cases = [n for n in cases if not any(n.startswith(s) for s in SITUATIONS)]
                ops = opensees(frame, cases)
                nites = [pynite(frame, cases, times) for times in ARM_TIMES]
                kinds = ("displacements", "end_forces")
                own = {n: pulls_only(frame, frame["results"][n]) for n in cases}
                a = max(worst(own[n], pulls_only(frame, ops[n]), kinds) for n in cases)
                b = min(max(worst(own[n], pulls_only(frame, nite[n]), kinds) for n in cases) for nite in nites)
                # Opened contacts: no digits but those of the pushes that were taken away.
                fewer = on_fewer_contacts(frame)
                for open_parts, names in fewer.items():
                    found = opensees(without(frame, open_parts), names)
                    own |= {n: pulls_only(frame, frame["results"][n]) for n in names}
                    a = max(a, *(worst(own[n], pulls_only(frame, found[n]), kinds) for n in names))
                ok = a <= AGREE_OPENSEES and b <= AGREE_PYNITE
                failed |= not ok
                print(
                    f"{design.name:24} {frame['name'].split(' at ')[-1]:>12}  {len(cases):3} cases"
                    f" {sum(map(len, fewer.values())):3} on fewer contacts"
                    f"  OpenSeesPy {a:.1e}  PyNiteFEA {b:.1e}  {'ok' if ok else 'DIFFERS'}"
                )
    sys.exit(1 if failed else 0)


# Names of combinations begin with their situation.
SITUATIONS = ("in-service ", "panels-off ", "left-half-on ", "right-half-on ", "one-stay-loose ")

if __name__ == "__main__":
    main()
