"""Evaluates every equation of the calculation sheet again from its printed numbers: loads, combinations and checks.

    cargo build --release && python tests/bench/recheck_equations.py [design.yaml ...]

Each step is computed with Python's own arithmetic, from the terms at full precision and from the five digits that are
printed, and compared with the printed result.
"""

import json
import math
import pathlib
import re
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
EXACT, PRINTED = 1e-9, 2e-3
NAMES = {
    "sqrt": math.sqrt, "min": min, "max": max, "exp": math.exp, "ln": math.log, "sin": math.sin, "cos": math.cos,
    "tan": math.tan, "asin": math.asin, "acos": math.acos, "atan": math.atan, "abs": abs,
    # Half away from zero, as the tables round.
    "round": lambda x: math.floor(abs(x) + 0.5) * (1 if x >= 0 else -1),
}


def evaluate(text, terms):
    return eval(text.replace("^", "**"), {"__builtins__": {}}, {**NAMES, **terms})


def close(a, b, share):
    return a == b or abs(a - b) <= share * max(abs(a), abs(b), 1e-9)


def main():
    designs = [pathlib.Path(a) for a in sys.argv[1:]] or sorted((ROOT / "designs").glob("*.yaml"))
    program = ROOT / "target" / "release" / "tiltwright"
    if not program.exists():
        program = ROOT / "target" / "debug" / "tiltwright"
    steps, wrong, loose, loads = 0, 0, 0, 0
    for design in designs:
        listing = subprocess.run([program, "explain", "everything", design, "--format", "json"], capture_output=True, text=True)
        if listing.returncode != 0:
            print(f"{design.name}: nothing to explain")
            continue
        entries = json.loads(listing.stdout)["entries"]
        for topic in ("wind", "snow", "combinations"):
            if topic not in (entry["check"] for entry in entries):
                wrong += 1
                print(f"{design.name}: the {topic} is not written out")
        for entry in entries:
            for line in entry["lines"]:
                step = line["step"]
                terms = {t["symbol"]: t["value"] for t in step["terms"]}
                steps += 1
                loads += entry["check"] in ("wind", "snow", "combinations")
                value = evaluate(step["formula"], terms)
                if not close(value, step["value"], EXACT):
                    wrong += 1
                    print(f"{design.name} {entry['part']} {entry['check']}: {line['equation']} gives {value}, not {step['value']}")
                printed = evaluate(line["numbers"], {})
                result = float(line["result"].split()[0])
                # A small difference of large numbers loses printed digits.
                if not close(printed, result, PRINTED):
                    loose += 1
                if not re.search(r"[A-Za-z]", line["source"]):
                    wrong += 1
                    print(f"{line['equation']} has no source")
    print(f"{steps} equations evaluated again ({loads} of them of loads), {wrong} wrong, {loose} lose more than {PRINTED} to printed digits")
    sys.exit(1 if wrong or steps == 0 else 0)


if __name__ == "__main__":
    main()
