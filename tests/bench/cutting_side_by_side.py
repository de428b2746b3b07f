#!/usr/bin/env python3
"""Cut plans of this program beside those of general solvers, in one run on one machine.

    cargo build --release
    python3 tests/bench/cutting_side_by_side.py [--limit 10] [--only s0,b] [--published FOLDER] [--growth] [--binary FILE]

The first run makes a virtual environment under target/ and installs OR-Tools and HiGHS from the package index.

Models, each on one thread:
  ours          the release binary, whole process
  cp-sat assign part-to-board counts, boards of a kind ordered (OR-Tools CP-SAT)
  highs pattern one variable per maximal load (HiGHS MILP)
  cp-sat pattern the same in CP-SAT
  highs arcflow positions on the board as nodes, parts as arcs (Valerio de Carvalho 1999; HiGHS MILP)

A dash means that the model was not built: more loads than MOST_PATTERNS, or mitres that the model cannot say.
Times are CPU milliseconds of building and solving, so that other work on the machine does not count; ours includes the start of the process.
Limits are wall-clock seconds: on a busy machine every solver gets less than that, and `open` then says little.
"""

import argparse
import json
import os
import pathlib
import resource
import subprocess
import sys
import tempfile
import time

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parent.parent
VENV = ROOT / "target" / "cutting-venv"
DATA = ROOT / "tests" / "library" / "data" / "cutting"
BINARY = ROOT / "target" / "release" / "tiltwright"
PACKAGES = ["ortools==9.15.6755", "highspy==1.16.0", "numpy==2.4.6"]
MOST_PATTERNS = 20_000
MOST_ARCS = 400_000


def into_the_environment():
    python = VENV / "bin" / "python"
    if pathlib.Path(sys.prefix) == VENV:
        return
    if not python.exists():
        subprocess.run([sys.executable, "-m", "venv", str(VENV)], check=True)
        subprocess.run([str(python), "-m", "pip", "install", "--quiet", *PACKAGES], check=True)
    os.execv(python, [str(python), *sys.argv])


class Job:
    """A job as plain packing: items (weight, demand), boards (capacity, price, limit), and the rule for mixed mitres."""

    def __init__(self, data):
        kerf, trim = data["kerf"], data["end_trim"]
        saving = data.get("mitre_joint_saving", 0)
        ends = [part.get("mitred_ends", 0) for part in data["parts"]]
        self.mixed = len(set(ends)) > 1
        self.kerf, self.saving = kerf, saving
        less = saving if ends and all(e == 2 for e in ends) else 0
        merged = {}
        for part, end in zip(data["parts"], ends):
            key = (part["length"], end)
            merged[key] = merged.get(key, 0) + part["qty"]
        keys = sorted(merged, reverse=True)
        self.lengths = [length for length, _ in keys]
        self.ends = [end for _, end in keys]
        self.demands = [merged[key] for key in keys]
        self.weights = [length + kerf - less for length in self.lengths]
        most = sum(self.demands)
        self.boards = []
        for stock in data["stock"]:
            usable = stock["length"] - trim
            capacity = usable + (kerf if data["kerf_rule"] == "between" else 0) - less
            limit = most if stock["available"] is None else min(most, stock["available"])
            if limit > 0 and capacity >= min(self.weights):
                self.boards.append((capacity, stock["price"], limit))

    def fits(self, counts, capacity):
        if not self.mixed:
            return sum(n * w for n, w in zip(counts, self.weights)) <= capacity
        p = sum(n for n, e in zip(counts, self.ends) if e == 2)
        q = sum(n for n, e in zip(counts, self.ends) if e == 1)
        shared = p + q // 2 if q else max(p - 1, 0)
        return sum(n * (l + self.kerf) for n, l in zip(counts, self.lengths)) - shared * self.saving <= capacity

    def patterns(self, capacity):
        """Maximal loads of a board, or None when there are too many."""
        found, counts = [], [0] * len(self.weights)

        def descend(i):
            if len(found) > MOST_PATTERNS:
                return
            if i == len(counts):
                for j in range(len(counts)):
                    if counts[j] < self.demands[j]:
                        counts[j] += 1
                        more = self.fits(counts, capacity)
                        counts[j] -= 1
                        if more:
                            return
                found.append(tuple(counts))
                return
            most = 0
            while most < self.demands[i]:
                counts[i] = most + 1
                lightest = sum(n * (w - (self.saving if self.mixed else 0)) for n, w in zip(counts, self.weights))
                if lightest > capacity:
                    break
                most += 1
            for n in range(most, -1, -1):
                counts[i] = n
                if self.mixed or self.fits(counts, capacity):
                    descend(i + 1)
            counts[i] = 0

        descend(0)
        if self.mixed:
            found[:] = [c for c in found if self.fits(c, capacity)]
        return None if len(found) > MOST_PATTERNS else found


def highs(costs, uppers, columns, lower, upper, limit):
    """Minimise integer columns; each column is a list of (row, value)."""
    import highspy
    import numpy

    solver = highspy.Highs()
    solver.setOptionValue("output_flag", False)
    solver.setOptionValue("threads", 1)
    solver.setOptionValue("time_limit", float(limit))
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.setOptionValue("mip_abs_gap", 0.999)
    model = highspy.HighsLp()
    model.num_col_, model.num_row_ = len(costs), len(lower)
    model.col_cost_ = numpy.array(costs, dtype=float)
    model.col_lower_ = numpy.zeros(len(costs))
    model.col_upper_ = numpy.array(uppers, dtype=float)
    model.row_lower_ = numpy.array(lower, dtype=float)
    model.row_upper_ = numpy.array(upper, dtype=float)
    model.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    starts, rows, values = [0], [], []
    for column in columns:
        for row, value in column:
            rows.append(row)
            values.append(value)
        starts.append(len(rows))
    model.a_matrix_.start_ = numpy.array(starts)
    model.a_matrix_.index_ = numpy.array(rows)
    model.a_matrix_.value_ = numpy.array(values, dtype=float)
    model.integrality_ = [highspy.HighsVarType.kInteger] * len(costs)
    solver.passModel(model)
    solver.run()
    information = solver.getInfo()
    if information.primal_solution_status != 2:
        return None, False
    return round(information.objective_function_value), solver.getModelStatus() == highspy.HighsModelStatus.kOptimal


def all_patterns(job):
    loads = []
    for t, (capacity, _, _) in enumerate(job.boards):
        found = job.patterns(capacity)
        if found is None:
            return None
        loads += [(t, counts) for counts in found]
    return loads if len(loads) <= MOST_PATTERNS else None


def highs_pattern(job, limit):
    loads = all_patterns(job)
    if loads is None:
        return None
    items, kinds = len(job.demands), len(job.boards)
    # One integer column per kind of board counts its boards: a good thing to branch on.
    columns = [[(i, n) for i, n in enumerate(counts) if n] + [(items + t, 1)] for t, counts in loads]
    columns += [[(items + t, -1)] for t in range(kinds)]
    costs = [0] * len(loads) + [price for _, price, _ in job.boards]
    uppers = [job.boards[t][2] for t, _ in loads] + [limit for _, _, limit in job.boards]
    lower = job.demands + [0] * kinds
    upper = [float("inf")] * items + [0] * kinds
    return highs(costs, uppers, columns, lower, upper, limit)


def cp_sat_pattern(job, limit):
    loads = all_patterns(job)
    if loads is None:
        return None
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    times = [model.new_int_var(0, job.boards[t][2], "") for t, _ in loads]
    for i, demand in enumerate(job.demands):
        model.add(sum(counts[i] * x for x, (_, counts) in zip(times, loads) if counts[i]) >= demand)
    for t, (_, _, most) in enumerate(job.boards):
        model.add(sum(x for x, (kind, _) in zip(times, loads) if kind == t) <= most)
    model.minimize(sum(job.boards[t][1] * x for x, (t, _) in zip(times, loads)))
    return cp_sat(model, limit)


def cp_sat(model, limit):
    from ortools.sat.python import cp_model

    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = limit
    solver.parameters.num_workers = 1
    status = solver.solve(model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None, False
    return round(solver.objective_value), status == cp_model.OPTIMAL


def cp_sat_assign(job, limit):
    from ortools.sat.python import cp_model

    parts = sum(job.demands)
    if job.mixed or parts > 60:
        return None
    model = cp_model.CpModel()
    terms, laid = [], [[] for _ in job.demands]
    for capacity, price, most in job.boards:
        before = None
        for _ in range(most):
            used = model.new_bool_var("")
            load = [model.new_int_var(0, min(d, capacity // w), "") for d, w in zip(job.demands, job.weights)]
            model.add(sum(w * n for w, n in zip(job.weights, load)) <= capacity * used)
            for i, n in enumerate(load):
                laid[i].append(n)
            if before is not None:
                model.add_implication(used, before)
            before = used
            terms.append(price * used)
    for demand, counts in zip(job.demands, laid):
        model.add(sum(counts) == demand)
    model.minimize(sum(terms))
    return cp_sat(model, limit)


def highs_arcflow(job, limit):
    if job.mixed:
        return None
    top = max(capacity for capacity, _, _ in job.boards)
    reached, arcs = {0}, set()
    for i, (weight, demand) in enumerate(zip(job.weights, job.demands)):
        level = set(reached)
        for _ in range(min(demand, top // weight)):
            after = {u + weight for u in level if u + weight <= top}
            arcs |= {(u, u + weight, i) for u in level if u + weight <= top}
            reached |= after
            level = after
            if len(arcs) > MOST_ARCS:
                return None
    nodes = sorted(reached | {capacity for capacity, _, _ in job.boards})
    row = {node: len(job.demands) + at for at, node in enumerate(nodes)}
    columns, costs, uppers = [], [], []
    for u, v, i in sorted(arcs):
        columns.append([(i, 1), (row[u], -1), (row[v], 1)])
        costs.append(0)
        uppers.append(job.demands[i])
    for u, v in zip(nodes, nodes[1:]):
        columns.append([(row[u], -1), (row[v], 1)])
        costs.append(0)
        uppers.append(sum(job.demands))
    for capacity, price, most in job.boards:
        columns.append([(row[capacity], -1), (row[0], 1)])
        costs.append(price)
        uppers.append(most)
    lower = job.demands + [0] * len(nodes)
    upper = [float("inf")] * len(job.demands) + [0] * len(nodes)
    return highs(costs, uppers, columns, lower, upper, limit)


def ours(data, limit):
    fields = {key: value for key, value in data.items() if key not in ("optimum", "generator_seed", "published")}
    with tempfile.TemporaryDirectory() as folder:
        file = pathlib.Path(folder) / "list.json"
        file.write_text(json.dumps(fields))
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        begun = time.perf_counter()
        run = subprocess.run(
            [BINARY, "cutplan", file, "--format", "json", "--time-limit", str(limit)], capture_output=True, text=True
        )
        wall = time.perf_counter() - begun
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
    cpu = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    if run.returncode != 0:
        sys.exit(run.stderr)
    answer = json.loads(run.stdout)
    return answer["cost"], answer["proven"], cpu, wall


def timed(model, job, limit):
    begun = time.process_time()
    answer = model(job, limit)
    return None if answer is None else (*answer, time.process_time() - begun)


def show(answer):
    if answer is None:
        return f"{'-':>26}"
    cost, proven, seconds = answer[:3]
    word = "proven" if proven else "open"
    return f"{cost if cost is not None else 'none':>8} {word:>6} {seconds * 1e3:10.1f}"


MODELS = [
    ("cp-sat assign", cp_sat_assign),
    ("cp-sat pattern", cp_sat_pattern),
    ("highs pattern", highs_pattern),
    ("highs arcflow", highs_arcflow),
]


def growth(limit):
    """Time and memory of our binary with the number of parts: lengths in steps of 5 mm, and any length."""
    import random

    print("\ngrowth: parts, kinds, lengths, cost, proven, CPU ms, wall ms")
    for step, name in ((5, "steps of 5 mm"), (1, "any length")):
        for parts in (50, 100, 200, 500, 1000, 2000, 5000):
            draw, rows, left = random.Random(parts), {}, parts
            while left > 0:
                quantity = min(left, draw.randint(1, max(1, parts // 25) if step == 5 else 4))
                length = draw.randint(180 // step, 2300 // step) * step
                rows[length] = rows.get(length, 0) + quantity
                left -= quantity
            stock = [(2400, 619), (3000, 745), (3600, 969), (4200, 1049), (4800, 1345)]
            data = {
                "unit": "mm", "kerf": 3,
                "stock": [{"length": length, "price": price} for length, price in stock],
                "parts": [{"length": length, "qty": quantity} for length, quantity in rows.items()],
            }
            cost, proven, cpu, wall = ours(data, limit)
            print(f"{parts:5} {len(rows):5} {name:14} {cost:9} {'proven' if proven else 'open':>6} {cpu * 1e3:9.1f} {wall * 1e3:9.1f}", flush=True)
    peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
    print(f"largest memory of any run of our binary: {peak:.0f} MB")


def main():
    global BINARY
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--limit", type=float, default=10.0, help="seconds per job and model")
    parser.add_argument("--only", default="s,m,b", help="beginnings of the names to run")
    parser.add_argument("--published", type=pathlib.Path, help="folder of published bin-packing files p-*.json: our binary alone, 10 s each")
    parser.add_argument("--growth", action="store_true", help="also time our binary with growing numbers of parts")
    parser.add_argument("--binary", type=pathlib.Path, default=BINARY)
    arguments = parser.parse_args()
    BINARY = arguments.binary
    if not BINARY.exists():
        sys.exit("build it first: cargo build --release")
    # Loading the solvers is no part of any time.
    import highspy  # noqa: F401
    from ortools.sat.python import cp_model  # noqa: F401

    files = sorted(file for file in DATA.glob("*.json") if file.name.startswith(tuple(arguments.only.split(","))))
    heads = ["ours (whole process)"] + [name for name, _ in MODELS]
    print(f"{'job':24} {'known':>8}" + "".join(f" | {head:>26}" for head in heads) + " | ours wall ms")
    for file in files:
        data = json.loads(file.read_text())
        job = Job(data)
        mine = ours(data, arguments.limit)
        others = [timed(model, job, arguments.limit) for _, model in MODELS]
        cells = "".join(f" | {show(answer)}" for answer in [mine, *others])
        print(f"{file.stem:24} {data['optimum']['cost']:8}{cells} | {mine[3] * 1e3:8.1f}", flush=True)
    if arguments.published:
        proven = 0
        files = sorted(arguments.published.glob("p-*.json"))
        print("\npublished sets: name, published optimum, ours, proven, CPU ms")
        for file in files:
            data = json.loads(file.read_text())
            cost, settled, cpu, _ = ours(data, 10.0)
            proven += settled
            print(f"{file.stem:26} {data['optimum']['cost']:5} {cost:5} {'proven' if settled else 'open':>6} {cpu * 1e3:9.1f}", flush=True)
        print(f"proven within 10 s: {proven} of {len(files)}")
    if arguments.growth:
        growth(arguments.limit)


if __name__ == "__main__":
    into_the_environment()
    main()
