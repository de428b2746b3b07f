"""The built-in design at all tilts under all combinations, solved here and by two open libraries: equal results first,
then time.

    python -m venv venv && venv/bin/pip install PyNiteFEA==3.2.0 openseespy==3.7.1.2 scipy==1.17.1 numpy==2.4.6
    venv/bin/python tests/bench/frame_side_by_side.py

Every tilt is a model with all stays pinned and one with a stay loose, each with its combinations, to first order.

PyNiteFEA: its linear analysis with the sparse solver and without its own checks, the model built beforehand. It knows no
rigid arms, so they are stiff members here, which cost it digits; `resolve_models.py` compares its members exactly.
OpenSeesPy: one linear analysis that keeps its factors, the combinations as steps of the cases' load factors, the model
built beforehand; the fastest of its equation solvers counts. Nothing is read back from either library in the timed part;
the time of this program holds displacements, reactions and member end forces of every combination.
"""

import ctypes
import importlib.util
import json
import math
import pathlib
import subprocess
import sys
import tempfile
import time

HERE = pathlib.Path(__file__).resolve().parent
# Largest difference over the largest value of its kind: of the matrix's digits, and of stiff members in place of arms.
AGREE_OPENSEES, AGREE_PYNITE = 1e-7, 2e-2
# Stiffness of such members, times the stiffest section: softer ones bend, stiffer ones cost digits.
ARM_TIMES = 1e2
# Combinations that are read back from PyNiteFEA, which takes longer than solving: every one of so many.
READ_PYNITE = 25
SYSTEMS = ("ProfileSPD", "BandSPD", "BandGeneral", "UmfPack", "SparseSYM")
KINDS = ("displacements", "reactions", "end_forces")
PYNITE_TIMES, OPENSEES_TIMES = 500, 10
DOFS = ("DX", "DY", "DZ", "RX", "RY", "RZ")


def dot(a, b):
    return sum(x * y for x, y in zip(a, b))


def cross(a, b):
    return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]


def arm(member, end):
    return list(map(float, member.get(f"offset_{end}", (0.0, 0.0, 0.0))))


def is_axial(member):
    return member.get("axial_only") or (len(member["releases"]["i"]) == 3 and len(member["releases"]["j"]) == 2)


# --- PyNiteFEA -------------------------------------------------------------------------------------------------------


def build_pynite(frame, combinations):
    from Pynite import FEModel3D

    model = FEModel3D()
    for node in frame["nodes"]:
        model.add_node(node["id"], *map(float, node["xyz"]))
    for s in frame["sections"]:
        model.add_material(s["id"], s["E"], s["G"], 0.3, 1.0)
        model.add_section(s["id"], s["A"], s["Iy"], s["Iz"], s["J"])
    for m in frame["members"]:
        model.add_member(m["id"], m["i"], m["j"], m["section"], m["section"])
        own = model.members[m["id"]]
        level = own.T()[:3, :3]
        own.rotation = math.degrees(math.atan2(dot(m["y_axis"], level[2]), dot(m["y_axis"], level[1])))
        free = {f"R{c[1]}{end}": True for end in "ij" for c in m["releases"][end]}
        if free:
            model.def_releases(m["id"], **free)
    for s in frame["supports"]:
        model.def_support(s["node"], *map(bool, s["fix"]))
    for s in frame.get("springs", []):
        for dof, k in zip(DOFS, s["k"]):
            if k:
                model.def_support_spring(s["node"], dof, k)
    for name, case in frame["load_cases"].items():
        for load in case["nodal"]:
            for direction, value in zip(("FX", "FY", "FZ", "MX", "MY", "MZ"), load["F"] + load["M"]):
                if value:
                    model.add_node_load(load["node"], direction, value, name)
        for load in case["member_udl"]:
            for direction, w in zip(("FX", "FY", "FZ"), load["w_global"]):
                if w:
                    model.add_member_dist_load(load["member"], direction, w, w, case=name)
    for name, parts in combinations:
        model.add_load_combo(name, dict(parts))
    return model


def with_stiff_arms(frame):
    """Rigid arms as very stiff members; loads on axial members go to their ends."""
    frame = json.loads(json.dumps(frame))
    at = {n["id"]: n["xyz"] for n in frame["nodes"]}
    tip = lambda m, end: [a + b for a, b in zip(at[m[end]], arm(m, end))]
    stiffest = max(frame["sections"], key=lambda s: s["E"] * s["Iz"])
    sized = {k: stiffest[k] * ARM_TIMES for k in ("A", "Iy", "Iz", "J")}
    frame["sections"].append({"id": "arm", "E": stiffest["E"], "G": stiffest["G"], **sized})
    axial = {m["id"]: math.dist(tip(m, "i"), tip(m, "j")) for m in frame["members"] if is_axial(m)}
    arms = {}
    for m in list(frame["members"]):
        for end in "ij":
            if f"offset_{end}" not in m:
                continue
            start, point = at[m[end]], tip(m, end)
            # Members that reach the same point from the same node share one arm: two points in one place would cut the
            # members that run through them.
            name = f"{m['id']} arm {end}"
            shared = arms.setdefault((m[end], *(round(c, 7) for c in point)), name)
            if shared == name:
                x = [(b - a) / math.dist(start, point) for a, b in zip(start, point)]
                level = math.hypot(x[0], x[1])
                y = [-x[1] / level, x[0] / level, 0.0] if level > 0.05 else [0.0, 1.0, 0.0]
                frame["nodes"].append({"id": name, "xyz": point})
                frame["members"].append(
                    {"id": name, "i": m[end], "j": name, "section": "arm", "y_axis": y, "releases": {"i": [], "j": []}}
                )
            m[end] = shared
    ends = {m["id"]: (m["i"], m["j"]) for m in frame["members"]}
    for case in frame["load_cases"].values():
        for load in case["member_udl"]:
            if load["member"] in axial:
                half = [v * axial[load["member"]] / 2 for v in load["w_global"]]
                case["nodal"] += [{"node": n, "F": half, "M": [0.0] * 3} for n in ends[load["member"]]]
        case["member_udl"] = [load for load in case["member_udl"] if load["member"] not in axial]
    return frame


def solve_pynite(model):
    model.analyze_linear(log=False, check_stability=False, check_statics=False, sparse=True)


def read_pynite(model, frame, combination):
    """Of the frame without stiff arms: movements of its nodes, end forces of its members."""
    nodes, members = model.nodes, model.members
    return {
        "displacements": {n["id"]: [getattr(nodes[n["id"]], d)[combination] for d in DOFS] for n in frame["nodes"]},
        "reactions": {},
        "end_forces": {m["id"]: members[m["id"]].f(combination).flatten().tolist() for m in frame["members"]},
    }


# --- OpenSeesPy ------------------------------------------------------------------------------------------------------


def import_opensees():
    """OpenSeesPy ships the libraries it needs but does not look for them beside itself."""
    found = importlib.util.find_spec("openseespylinux")
    if found:
        folder = pathlib.Path(found.submodule_search_locations[0], "lib")
        for name in ("libquadmath.so.0", "libgfortran.so.4", "libgomp.so.1", "libblas.so.3", "liblapack.so.3"):
            if (folder / name).exists():
                ctypes.CDLL(str(folder / name), mode=ctypes.RTLD_GLOBAL)
    import openseespy.opensees as ops

    return ops


def build_opensees(frame, combinations):
    """The whole model, with a pattern for each case that follows the factors of the combinations, one step for each."""
    ops = import_opensees()
    ops.wipe()
    ops.model("basic", "-ndm", 3, "-ndf", 6)
    tags = {n["id"]: k + 1 for k, n in enumerate(frame["nodes"])}
    for n in frame["nodes"]:
        ops.node(tags[n["id"]], *map(float, n["xyz"]))
    for s in frame["supports"]:
        ops.fix(tags[s["node"]], *s["fix"])
    sections = {s["id"]: s for s in frame["sections"]}
    members = {m["id"]: (k + 1, m) for k, m in enumerate(frame["members"])}
    for tag, m in members.values():
        s, free = sections[m["section"]], m["releases"]
        code = lambda c: 3 if is_axial(m) else (c in free["i"]) + 2 * (c in free["j"])
        # Its beams know no release about their own axis.
        twist = s["J"] * (1e-12 if code("Mx") else 1.0)
        released = [v for flag, c in (("-releasez", "Mz"), ("-releasey", "My")) if code(c) for v in (flag, code(c))]
        ops.geomTransf("Linear", tag, *m["z_axis"], "-jntOffset", *arm(m, "i"), *arm(m, "j"))
        size = s["A"], s["E"], s["G"], twist, s["Iy"], s["Iz"]
        ops.element("elasticBeamColumn", tag, tags[m["i"]], tags[m["j"]], *size, tag, *released)
    grounds = opensees_springs(ops, frame, tags)
    for c, (name, case) in enumerate(frame["load_cases"].items()):
        factors = [0.0] + [dict(parts).get(name, 0.0) for _, parts in combinations]
        ops.timeSeries("Path", c + 1, "-dt", 1.0, "-values", *factors, "-useLast")
        ops.pattern("Plain", c + 1, c + 1)
        for load in case["nodal"]:
            ops.load(tags[load["node"]], *map(float, load["F"] + load["M"]))
        for load in case["member_udl"]:
            (tag, m), w = members[load["member"]], load["w_global"]
            x = cross(m["y_axis"], m["z_axis"])
            ops.eleLoad("-ele", tag, "-type", "-beamUniform", dot(w, m["y_axis"]), dot(w, m["z_axis"]), dot(w, x))
    return ops, tags, grounds


def opensees_springs(ops, frame, tags):
    grounds, at = {}, {n["id"]: n["xyz"] for n in frame["nodes"]}
    node, element, material = len(tags) + 1, len(frame["members"]) + 1, 1
    for spring in frame.get("springs", []):
        ops.node(node, *map(float, at[spring["node"]]))
        ops.fix(node, 1, 1, 1, 1, 1, 1)
        directions = [d + 1 for d, k in enumerate(spring["k"]) if k]
        numbers = range(material, material + len(directions))
        for number, d in zip(numbers, directions):
            ops.uniaxialMaterial("Elastic", number, spring["k"][d - 1])
        ops.element("zeroLength", element, node, tags[spring["node"]], "-mat", *numbers, "-dir", *directions)
        grounds[spring["node"]] = node
        node, element, material = node + 1, element + 1, material + len(directions)
    return grounds


def start_opensees(ops, system, refined=False):
    ops.wipeAnalysis()
    ops.reset()
    ops.setTime(0.0)
    ops.constraints("Plain")
    ops.numberer("RCM")
    ops.system(system)
    ops.integrator("LoadControl", 1.0)
    if refined:
        # The second pass of a step takes out what the first lost to rounding.
        ops.test("FixedNumIter", 2)
        ops.algorithm("ModifiedNewton", "-factorOnce")
    else:
        ops.algorithm("Linear", "-factorOnce")
    ops.analysis("Static", "-noWarnings")


def read_opensees(ops, tags, grounds, frame):
    ops.reactions()
    reactions = {s["node"]: ops.nodeReaction(tags[s["node"]]) for s in frame["supports"]}
    for n, ground in grounds.items():
        reactions[n] = [a + b for a, b in zip(reactions.get(n, [0.0] * 6), ops.nodeReaction(ground))]
    return {
        "displacements": {n: ops.nodeDisp(tag) for n, tag in tags.items()},
        "reactions": reactions,
        "end_forces": {m["id"]: ops.eleResponse(k + 1, "localForce") for k, m in enumerate(frame["members"])},
    }


# --- comparison ------------------------------------------------------------------------------------------------------


def worst(frame, ours, theirs):
    """Largest difference over the largest value of its kind: shifts, turns, forces and moments apart."""
    axial = {m["id"] for m in frame["members"] if is_axial(m)}
    pull = lambda row: [(row[6] - row[0]) / 2] + [0.0] * 11
    pairs = {kind: [] for kind in KINDS}
    for kind in KINDS:
        for name, row in theirs[kind].items():
            mine = ours[kind].get(name, [0.0] * 6)
            # Of an axial member under load the mean pull is compared: this program knows no ends of it.
            loaded = kind == "end_forces" and name in axial
            pairs[kind].append((pull(mine), pull(row)) if loaded else (mine, row))
    found = 0.0
    for side in (0, 1):
        pick = lambda row: [v for c, v in enumerate(row) if c % 6 // 3 == side]
        rows = pairs
        largest = {kind: max((abs(v) for a, _ in rows[kind] for v in pick(a)), default=0.0) for kind in KINDS}
        # Feet that turn freely hold no moment but rounding, so reactions are measured by the member forces too.
        largest["reactions"] = max(largest["reactions"], largest["end_forces"])
        for kind in KINDS:
            if not all(math.isfinite(v) for _, other in rows[kind] for v in other):
                return math.inf
            off = max((abs(a - b) for mine, other in rows[kind] for a, b in zip(pick(mine), pick(other))), default=0.0)
            found = max(found, off / largest[kind] if largest[kind] else off)
    return found


def best(work, times):
    spent = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        spent.append(time.perf_counter() - start)
    return min(spent)


def bench(*arguments):
    command = ["cargo", "bench", "--quiet", "--bench", "analysis", "--", *map(str, arguments)]
    done = subprocess.run(command, cwd=HERE.parent.parent, check=True, capture_output=True, text=True)
    return done.stdout.strip().splitlines()


def without_slack(frame):
    """A loose stay carries its own weight to its ends and nothing else: its loads are left there and it goes."""
    slack = {m["id"]: m for m in frame["members"] if m.get("one_way") == "slack"}
    cases = {}
    for name, case in frame["load_cases"].items():
        nodal = list(case["nodal"])
        for load in case["member_udl"]:
            m = slack.get(load["member"])
            for end in "ij" if m else "":
                half = [w * m["length"] / 2 for w in load["w_global"]]
                nodal.append({"node": m[end], "F": half, "M": cross(arm(m, end), half)})
        left = [load for load in case["member_udl"] if load["member"] not in slack]
        cases[name] = {**case, "nodal": nodal, "member_udl": left}
    return {**frame, "members": [m for m in frame["members"] if m["id"] not in slack], "load_cases": cases}


def time_opensees(frame, combinations, results):
    """Worst difference, and the best time of every equation solver."""
    ops, tags, grounds = build_opensees(frame, combinations)
    start_opensees(ops, "UmfPack", refined=True)
    off = 0.0
    for name, _ in combinations:
        if ops.analyze(1) != 0:
            sys.exit("OpenSeesPy could not solve a step")
        off = max(off, worst(frame, results[name], read_opensees(ops, tags, grounds, frame)))
    spent = {}
    for system in SYSTEMS:
        for _ in range(5):
            start_opensees(ops, system)
            spent[system] = min(spent.get(system, math.inf), best(lambda: ops.analyze(len(combinations)), 1))
    return off, spent


def time_pynite(frame, combinations, results):
    """Worst difference, and the time of one analysis."""
    model = build_pynite(with_stiff_arms(frame), combinations)
    spent = best(lambda: solve_pynite(model), 1)
    read = [name for name, _ in combinations][::READ_PYNITE]
    off = max(worst(frame, results[name], read_pynite(model, frame, name)) for name in read)
    return off, spent


def main():
    whole, answers, off_opensees, off_pynite, pynite = 0.0, 0, 0.0, 0.0, 0.0
    opensees = dict.fromkeys(SYSTEMS, 0.0)
    with tempfile.TemporaryDirectory() as folder:
        for question in bench("questions", folder):
            asked, answer = json.loads(pathlib.Path(question).read_text()), pathlib.Path(folder, "answer.json")
            combinations = asked["combinations"]
            times = json.loads(bench("side-by-side", question, answer)[-1])
            solved = json.loads(answer.read_text())
            frame, results = without_slack(asked["model"]), solved["results"]
            whole += times["build_and_solve_us"] * 1e-6
            answers += len(combinations)
            off, spent = time_opensees(frame, combinations, results)
            off_opensees = max(off_opensees, off)
            opensees = {system: opensees[system] + spent[system] for system in SYSTEMS}
            off, spent = time_pynite(frame, combinations, results)
            off_pynite, pynite = max(off_pynite, off), pynite + spent
            print(f"{pathlib.Path(question).stem}: {len(combinations)} combinations", flush=True)

    if off_opensees > AGREE_OPENSEES or off_pynite > AGREE_PYNITE:
        sys.exit(f"results differ (OpenSeesPy {off_opensees:.1e}, PyNiteFEA {off_pynite:.1e}): no times are compared")
    fastest = min(opensees, key=opensees.get)
    print(f"this program, build and solve {answers} combinations: {whole * 1e3:.2f} ms")
    row = "{}: {:.2f} ms, {:.0f} times this program's (asked: {}), worst difference {:.1e}"
    print(row.format("PyNiteFEA, sparse solver", pynite * 1e3, pynite / whole, PYNITE_TIMES, off_pynite))
    name = f"OpenSeesPy, solve alone ({fastest})"
    print(row.format(name, opensees[fastest] * 1e3, opensees[fastest] / whole, OPENSEES_TIMES, off_opensees))
    if pynite / whole < PYNITE_TIMES or opensees[fastest] / whole < OPENSEES_TIMES:
        sys.exit("slower than asked")


if __name__ == "__main__":
    main()
