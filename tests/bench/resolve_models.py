"""Solves the exported models of all designs again with two open libraries and compares.

    python -m venv venv && venv/bin/pip install PyNiteFEA==3.2.0 openseespy==3.7.1.2 scipy==1.17.1 numpy==2.4.6
    cargo build --release && venv/bin/python tests/bench/resolve_models.py [design.yaml ...]

Every load case and combination of every tilt that is solved to first order is compared: displacements, reactions and
member end forces. Where contacts are open, their supports are taken away first.

OpenSeesPy solves the whole model: beams with rigid ends, springs as elements to ground, one factorisation for all cases
and one step of refinement. PyNiteFEA knows no rigid arms, and stiff members in their place cost six digits; so it gives
the stiffness of its members (axes and releases in it) and their fixed-end forces under unit loads, arms are put between
as exact links, and SciPy's sparse factors solve all cases at once. Its own loop over cases works the same matrices out
again for each member and case, which takes half a minute a model.
"""

import importlib.util
import json
import multiprocessing
import os
import pathlib
import subprocess
import sys
import tempfile

# One process a model: threads inside them would only wait for each other.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parent.parent
spec = importlib.util.spec_from_file_location("side_by_side", HERE / "frame_side_by_side.py")
side_by_side = importlib.util.module_from_spec(spec)
spec.loader.exec_module(side_by_side)
arm, dot, worst = side_by_side.arm, side_by_side.dot, side_by_side.worst

# Largest difference over the largest value of its kind; where a stiffness matrix leaves fewer digits, what it leaves:
# its condition number (scaled to a diagonal of ones) times the rounding of a double. The frame on runners needs it: a stile
# is cut 2.5 mm beside its hinge, so its matrix spans 3.7e9 and the two libraries differ from each other by 1e-7 too.
AGREE, AGREE_AT_MOST, ROUNDING = 1e-7, 1e-6, 2.0**-53
ROW = "{:24} {:>9} {:>6} {:>6} {:>10} {:>11} {:>9}  {}"


# --- OpenSeesPy ------------------------------------------------------------------------------------------------------


def opensees(frame, cases):
    ops, tags, grounds = side_by_side.build_opensees(frame, [(name, [(name, 1.0)]) for name in cases])
    side_by_side.start_opensees(ops, "UmfPack", refined=True)
    found = {}
    for name in cases:
        if ops.analyze(1) != 0:
            raise SystemExit(f"{frame['name']}: OpenSeesPy does not solve {name}")
        found[name] = side_by_side.read_opensees(ops, tags, grounds, frame)
    return found


# --- PyNiteFEA -------------------------------------------------------------------------------------------------------


def pynite(frame, cases):
    import numpy as np
    from scipy.sparse import coo_matrix
    from scipy.sparse.linalg import splu

    index = {n["id"]: 6 * k for k, n in enumerate(frame["nodes"])}
    size = 6 * len(index)
    parts = [pynite_member(m) for m in pynite_members(frame)]
    rows, columns, values = [], [], []
    for m, part in zip(frame["members"], parts):
        part["dofs"] = np.r_[index[m["i"]] + np.arange(6), index[m["j"]] + np.arange(6)]
        part["link"] = link(np, m)
        rows.append(np.repeat(part["dofs"], 12))
        columns.append(np.tile(part["dofs"], 12))
        ends = part["turn"] @ part["link"]
        values.append((ends.T @ part["local"] @ ends).ravel())
    springs = np.zeros(size)
    for s in frame.get("springs", []):
        springs[index[s["node"]] : index[s["node"]] + 6] += s["k"]
    held = np.zeros(size, dtype=bool)
    for s in frame["supports"]:
        held[index[s["node"]] : index[s["node"]] + 6] |= np.array(s["fix"], dtype=bool)
    diagonal = np.arange(size)
    places = np.concatenate(rows + [diagonal]), np.concatenate(columns + [diagonal])
    k = coo_matrix((np.concatenate(values + [springs]), places), shape=(size, size)).tocsc()
    loads = np.zeros((size, len(cases)))
    ends = {m["id"]: np.zeros((12, len(cases))) for m in frame["members"]}
    member = {m["id"]: part for m, part in zip(frame["members"], parts)}
    for c, name in enumerate(cases):
        case = frame["load_cases"][name]
        for load in case["nodal"]:
            loads[index[load["node"]] : index[load["node"]] + 6, c] += load["F"] + load["M"]
        for load in case["member_udl"]:
            part = member[load["member"]]
            fixed = part["fixed"] @ load["w_global"]
            ends[load["member"]][:, c] += fixed
            loads[part["dofs"], c] -= part["link"].T @ part["turn"].T @ fixed
    free = ~held
    factors = splu(k[free][:, free])
    moved = np.zeros_like(loads)
    moved[free] = factors.solve(loads[free])
    moved[free] += factors.solve(loads[free] - (k @ moved)[free])
    reactions = np.where(held[:, None], k @ moved - loads, 0.0) - springs[:, None] * moved
    for name, part in member.items():
        ends[name] += part["local"] @ (part["turn"] @ (part["link"] @ moved[part["dofs"]]))
    stand = {s["node"] for s in frame["supports"]} | {s["node"] for s in frame.get("springs", [])}
    return k[free][:, free], {
        name: {
            "displacements": {n: moved[i : i + 6, c].tolist() for n, i in index.items()},
            "reactions": {n: reactions[index[n] : index[n] + 6, c].tolist() for n in stand},
            "end_forces": {m: f[:, c].tolist() for m, f in ends.items()},
        }
        for c, name in enumerate(cases)
    }


def condition(matrix):
    """How far a stiffness matrix stretches, scaled to a diagonal of ones."""
    import numpy as np

    scale = 1.0 / np.sqrt(matrix.diagonal())
    stretch = np.linalg.eigvalsh(matrix.toarray() * scale[:, None] * scale)
    return float(stretch[-1] / stretch[0])


def pynite_members(frame):
    """Each member of the frame as one of PyNiteFEA's, between points of its own, under three unit loads."""
    at = {n["id"]: n["xyz"] for n in frame["nodes"]}
    apart = {"nodes": [], "members": [], "sections": frame["sections"], "supports": [], "load_cases": {}}
    for m in frame["members"]:
        for end in "ij":
            apart["nodes"].append({"id": f"{m['id']} {end}", "xyz": [a + b for a, b in zip(at[m[end]], arm(m, end))]})
        apart["members"].append({**m, "i": f"{m['id']} i", "j": f"{m['id']} j"})
    for axis, unit in zip("XYZ", ([1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0])):
        udl = [{"member": m["id"], "w_global": unit} for m in frame["members"]]
        apart["load_cases"][axis] = {"nodal": [], "member_udl": udl}
    model = side_by_side.build_pynite(apart, [(axis, [(axis, 1.0)]) for axis in "XYZ"])
    return model.members.values()


def pynite_member(own):
    import numpy as np

    return {
        "turn": own.T(),
        "local": own.ke(),
        "fixed": np.hstack([own.fer(axis) for axis in "XYZ"]),
    }


def link(np, member):
    """Movements of a member's ends from those of its nodes, through its rigid arms."""
    whole = np.eye(12)
    for start, end in ((0, "i"), (6, "j")):
        x, y, z = arm(member, end)
        whole[start : start + 3, start + 3 : start + 6] = [[0, z, -y], [-z, 0, x], [y, -x, 0]]
    return whole


# --- comparison ------------------------------------------------------------------------------------------------------


def turned(frame):
    """The frame in the axes of its inclined supports, which all share them; other programs know global ones alone."""
    axes = next((s["axes"] for s in frame["supports"] if "axes" in s), None)
    if axes is None:
        return frame
    if any(s.get("axes") != axes for s in frame["supports"]):
        raise SystemExit(f"{frame['name']}: supports in several axes")
    three = lambda v: [dot(row, v) for row in axes]
    each = lambda v: [c for start in range(0, len(v), 3) for c in three(v[start : start + 3])]
    vectors = ("y_axis", "z_axis", "offset_i", "offset_j")
    case = lambda c: {
        "nodal": [{**n, "F": three(n["F"]), "M": three(n["M"])} for n in c["nodal"]],
        "member_udl": [{**u, "w_global": three(u["w_global"])} for u in c["member_udl"]],
        **{k: v for k, v in c.items() if k in ("member_line", "member_point")},
    }
    result = lambda r: {
        **r,
        **{kind: {n: each(v) for n, v in r[kind].items()} for kind in ("displacements", "reactions")},
    }
    return {
        **frame,
        "nodes": [{**n, "xyz": three(n["xyz"])} for n in frame["nodes"]],
        "members": [{**m, **{k: three(m[k]) for k in vectors if k in m}} for m in frame["members"]],
        "load_cases": {name: case(c) for name, c in frame["load_cases"].items()},
        "results": {name: result(r) for name, r in frame["results"].items()},
    }


def without(frame, open_parts):
    """The frame with the one-way supports that gave no force taken away."""
    nodes = {part.removeprefix("node ") for part in open_parts}
    free = lambda s: [0 if c < 3 and s["one_way"][c] else f for c, f in enumerate(s["fix"])]
    supports = [{**s, "fix": free(s)} if s["node"] in nodes else s for s in frame["supports"]]
    return {**frame, "supports": supports}


def solve_again(file):
    """One model: how many answers were compared and the worst of each library."""
    frame = turned(json.loads(pathlib.Path(file).read_text()))
    if any(m.get("one_way") or m.get("end_springs") for m in frame["members"]):
        raise SystemExit(f"{frame['name']}: one-way members and springs at member ends are not put into other programs here")
    groups, passed = {}, []
    for name, result in frame["results"].items():
        case = frame["load_cases"][name]
        if result.get("order", "first") == "second" or case.get("member_line") or case.get("member_point"):
            passed.append(name)
        else:
            groups.setdefault(tuple(result.get("open", ())), []).append(name)
    off, allowed = [0.0, 0.0], AGREE
    for open_parts, names in groups.items():
        part = without(frame, open_parts)
        matrix, by_pynite = pynite(part, names)
        for k, found in enumerate((opensees(part, names), by_pynite)):
            off[k] = max(off[k], *(worst(part, frame["results"][n], found[n]) for n in names))
        if max(off) > allowed:
            allowed = max(allowed, min(condition(matrix) * ROUNDING, AGREE_AT_MOST))
    fewer = sum(len(names) for open_parts, names in groups.items() if open_parts)
    tilt = frame["name"].split(" at ")[-1]
    return file, tilt, sum(map(len, groups.values())), fewer, *off, allowed, passed


def export(program, design, folder):
    target = pathlib.Path(folder, design.stem, "model.json")
    target.parent.mkdir()
    run = subprocess.run([program, "strength", design, "--model", target], capture_output=True, text=True)
    if run.returncode not in (0, 1) or not target.exists():
        raise SystemExit(f"{design.name}: {run.stdout}{run.stderr}")
    return sorted(map(str, target.parent.glob("*.json")))


def main():
    designs = [pathlib.Path(a) for a in sys.argv[1:]] or sorted((ROOT / "designs").glob("*.yaml"))
    program = ROOT / "target" / "release" / "tiltwright"
    if not program.exists():
        program = ROOT / "target" / "debug" / "tiltwright"
    failed, passed_over = False, []
    print("worst difference over all answers, as a share of the largest value of its kind\n")
    print(ROW.format("design", "tilt", "cases", "opened", "OpenSeesPy", "PyNiteFEA", "allowed", ""))
    with tempfile.TemporaryDirectory() as folder, multiprocessing.Pool(os.cpu_count()) as pool:
        files = [file for design in designs for file in export(program, design, folder)]
        for file, tilt, cases, fewer, a, b, allowed, passed in pool.imap(solve_again, files):
            design = pathlib.Path(file).parent.name
            ok = cases > 0 and all(off <= allowed for off in (a, b))
            failed |= not ok
            digits = (f"{v:.1e}" for v in (a, b, allowed))
            print(ROW.format(design, tilt, cases, fewer, *digits, "ok" if ok else "DIFFERS"), flush=True)
            passed_over += [f"{design} {tilt}: {name}" for name in passed]
    print("\nopened: answers on fewer contacts, their open ones taken away")
    print(f"not compared: {len(passed_over)}" + "".join(f"\n  {name}" for name in passed_over))
    sys.exit(1 if failed else 0)


if __name__ == "__main__":
    main()
