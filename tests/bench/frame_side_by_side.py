"""The tilted axle frame under 60 combinations, solved here and by two open libraries: equal results first, then time.

    python -m venv venv && venv/bin/pip install PyNiteFEA==3.2.0 openseespy==3.7.1.2 scipy
    venv/bin/python tests/bench/frame_side_by_side.py

PyNiteFEA: its linear analysis with the sparse solver and without its own checks, the model built beforehand.
OpenSeesPy: one linear analysis that keeps its factors, the combinations as 60 steps of the cases' load factors, the model
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
FRAME = HERE.parent / "library" / "data" / "frames" / "tilted_axle_frame.json"
# Largest difference over the largest value of its kind. The file rounds to 12 digits.
AGREE = 1e-9
PYNITE_TIMES, OPENSEES_TIMES = 500, 10
DOFS = ("DX", "DY", "DZ", "RX", "RY", "RZ")


def sixty(cases):
    """Sixty sums with factors between -1 and 2, always the same."""
    factor = lambda k, c: ((k * 7 + c * 13) % 31) / 10.0 - 1.0
    return [(f"sum {k}", [(name, factor(k, c)) for c, name in enumerate(cases)]) for k in range(60)]


def dot(a, b):
    return sum(x * y for x, y in zip(a, b))


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


def solve_pynite(model):
    model.analyze_linear(log=False, check_stability=False, check_statics=False, sparse=True)


def read_pynite(model, frame, combination):
    nodes, members = model.nodes, model.members
    return {
        "displacements": {n: [getattr(nodes[n], d)[combination] for d in DOFS] for n in nodes},
        "reactions": {
            s["node"]: [
                getattr(nodes[s["node"]], f"Rxn{k}")[combination] for k in ("FX", "FY", "FZ", "MX", "MY", "MZ")
            ]
            for s in frame["supports"]
        },
        "end_forces": {m: [float(v) for v in members[m].f(combination).flatten()] for m in members},
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
    ops = import_opensees()

    ops.wipe()
    ops.model("basic", "-ndm", 3, "-ndf", 6)
    node_tags = {n["id"]: k + 1 for k, n in enumerate(frame["nodes"])}
    member_tags = {m["id"]: k + 1 for k, m in enumerate(frame["members"])}
    sections = {s["id"]: s for s in frame["sections"]}
    for n in frame["nodes"]:
        ops.node(node_tags[n["id"]], *map(float, n["xyz"]))
    for s in frame["supports"]:
        ops.fix(node_tags[s["node"]], *s["fix"])
    for k, s in enumerate(frame["sections"]):
        ops.uniaxialMaterial("Elastic", k + 1, s["E"])
    materials = {s["id"]: k + 1 for k, s in enumerate(frame["sections"])}
    for m in frame["members"]:
        s, tag = sections[m["section"]], member_tags[m["id"]]
        ends = node_tags[m["i"]], node_tags[m["j"]]
        if is_axial(m):
            ops.element("Truss", tag, *ends, s["A"], materials[m["section"]])
            continue
        ops.geomTransf("Linear", tag, *m["z_axis"])
        code = lambda c: (c in m["releases"]["i"]) + 2 * (c in m["releases"]["j"])
        extra = []
        for flag, c in (("-releasez", "Mz"), ("-releasey", "My")):
            if code(c):
                extra += [flag, code(c)]
        ops.element(
            "elasticBeamColumn", tag, *ends, s["A"], s["E"], s["G"], s["J"], s["Iy"], s["Iz"], tag, *extra
        )
    members = {m["id"]: m for m in frame["members"]}
    for c, (name, case) in enumerate(frame["load_cases"].items()):
        values = [0.0] + [dict(parts).get(name, 0.0) for _, parts in combinations]
        ops.timeSeries("Path", c + 1, "-dt", 1.0, "-values", *values, "-useLast")
        ops.pattern("Plain", c + 1, c + 1)
        for load in case["nodal"]:
            ops.load(node_tags[load["node"]], *map(float, load["F"] + load["M"]))
        for load in case["member_udl"]:
            m, w = members[load["member"]], load["w_global"]
            ends = [next(n["xyz"] for n in frame["nodes"] if n["id"] == m[e]) for e in "ij"]
            along = [(b - a) / math.dist(*ends) for a, b in zip(*ends)]
            wy, wz, wx = dot(w, m["y_axis"]), dot(w, m["z_axis"]), dot(w, along)
            ops.eleLoad("-ele", member_tags[m["id"]], "-type", "-beamUniform", wy, wz, wx)
    return ops, node_tags, member_tags


def start_opensees(ops, system):
    ops.wipeAnalysis()
    ops.reset()
    ops.setTime(0.0)
    ops.constraints("Plain")
    ops.numberer("RCM")
    ops.system(system)
    ops.integrator("LoadControl", 1.0)
    ops.algorithm("Linear", "-factorOnce")
    ops.analysis("Static", "-noWarnings")


def read_opensees(ops, node_tags, member_tags, frame):
    ops.reactions()
    ends = {}
    for m in frame["members"]:
        tag = member_tags[m["id"]]
        if is_axial(m):
            pull = ops.eleResponse(tag, "axialForce")[0]
            ends[m["id"]] = [-pull, 0, 0, 0, 0, 0, pull, 0, 0, 0, 0, 0]
        else:
            ends[m["id"]] = ops.eleResponse(tag, "localForce")
    return {
        "displacements": {n: ops.nodeDisp(tag) for n, tag in node_tags.items()},
        "reactions": {s["node"]: ops.nodeReaction(node_tags[s["node"]]) for s in frame["supports"]},
        "end_forces": ends,
    }


# --- comparison ------------------------------------------------------------------------------------------------------


def worst(ours, theirs):
    """Largest difference over the largest value of its kind: shifts, turns, forces and moments apart."""
    pick = lambda row, side: [v for c, v in enumerate(row) if c % 6 // 3 == side]
    largest = lambda kind, side: max(abs(v) for row in theirs[kind].values() for v in pick(row, side))
    found = 0.0
    for kind, rows in theirs.items():
        # Supports without a moment hold rounding only, so reactions are measured by the member forces.
        size = [largest("displacements" if kind == "displacements" else "end_forces", side) for side in (0, 1)]
        for name, row in rows.items():
            for c, (a, b) in enumerate(zip(ours[kind][name], row)):
                found = max(found, abs(a - b) / size[c % 6 // 3])
    return found


def best(work, times):
    spent = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        spent.append(time.perf_counter() - start)
    return min(spent)


def ask_ours(frame, combinations):
    with tempfile.TemporaryDirectory() as folder:
        question, answer = pathlib.Path(folder, "in.json"), pathlib.Path(folder, "out.json")
        question.write_text(json.dumps({"model": frame, "combinations": combinations}))
        command = ["cargo", "bench", "--quiet", "--bench", "analysis", "--", "side-by-side", question, answer]
        done = subprocess.run(command, cwd=HERE.parent.parent, check=True, capture_output=True, text=True)
        return json.loads(answer.read_text()), json.loads(done.stdout.strip().splitlines()[-1])


def main():
    frame = json.loads(FRAME.read_text())
    combinations = sixty(frame["load_cases"])
    solved, ours = ask_ours(frame, combinations)
    # The libraries get the axes as this program uses them; the stored ones have nine digits.
    for mine, theirs in zip(solved["members"], frame["members"]):
        theirs["y_axis"], theirs["z_axis"] = mine["y_axis"], mine["z_axis"]

    model = build_pynite(frame, combinations)
    solve_pynite(model)
    off_pynite = max(worst(solved["results"][n], read_pynite(model, frame, n)) for n, _ in combinations)

    ops, nodes, members = build_opensees(frame, combinations)
    start_opensees(ops, "ProfileSPD")
    off_opensees = 0.0
    for name, _ in combinations:
        if ops.analyze(1) != 0:
            sys.exit("OpenSeesPy could not solve a step")
        off_opensees = max(off_opensees, worst(solved["results"][name], read_opensees(ops, nodes, members, frame)))

    print(f"worst difference over {len(combinations)} combinations (share of the largest of its kind)")
    print(f"  PyNiteFEA  {off_pynite:.1e}\n  OpenSeesPy {off_opensees:.1e}")
    if max(off_pynite, off_opensees) > AGREE:
        sys.exit(f"results differ by more than {AGREE}: no times are compared")

    pynite = best(lambda: solve_pynite(model), 3)
    first, again = math.inf, math.inf
    fastest = ""
    for system in ("ProfileSPD", "BandSPD", "BandGeneral", "UmfPack", "SparseSYM"):
        for _ in range(20):
            start_opensees(ops, system)
            spent = best(lambda: ops.analyze(len(combinations)), 1)
            if spent < first:
                first, fastest = spent, system
            # The factors are there: steps beyond the last keep its load factors.
            again = min(again, best(lambda: ops.analyze(len(combinations)), 1))
    whole, solve = ours["build_and_solve_us"] * 1e-6, ours["solve_us"] * 1e-6
    print(f"{'':44}time        this program is faster by")
    print(f"this program, build and solve        {whole * 1e3:10.3f} ms")
    print(f"this program, solve                  {solve * 1e3:10.3f} ms")
    print(f"PyNiteFEA, sparse solver             {pynite * 1e3:10.3f} ms   {pynite / whole:8.0f} (asked: {PYNITE_TIMES})")
    print(f"OpenSeesPy, solve ({fastest})".ljust(37) + f"{first * 1e3:10.3f} ms   {first / whole:8.1f} (asked: {OPENSEES_TIMES})")
    print(f"OpenSeesPy, solve again, factors kept{again * 1e3:10.3f} ms   {again / solve:8.1f}")
    if pynite / whole < PYNITE_TIMES or first / whole < OPENSEES_TIMES:
        sys.exit("slower than asked")


if __name__ == "__main__":
    main()
