#!/usr/bin/env python3
"""The best plan of a place and a year of sun over a horizon, side by side with pvlib.

Run from the project folder: python3 tests/bench/sun_side_by_side.py
It makes a virtual environment in a temporary folder, installs pvlib there, computes the same two things with pvlib and numpy
(5-minute SPA positions of 2025, Ineichen sky with Linke turbidity 3, Hay-Davies, the exact circular dynamic programme), checks that
both say the same, times both (library calls, start of the process left out) and prints the ratios. Exit code 1 when results differ
or a ratio is below 10.
"""

import json
import os
import subprocess
import sys
import tempfile
import time
import venv
from pathlib import Path

PROJECT = Path(__file__).resolve().parents[2]
PVLIB = "pvlib==0.16.1"
LEAST_RATIO = 10.0
LATITUDE, SEASONS = 40.0, 4
SURVEY_LATITUDE = 42.0
HORIZON = [(0, 8), (60, 10), (95, 12), (110, 28), (135, 30), (150, 6), (200, 5), (225, 8), (240, 22), (270, 25), (300, 15), (340, 8)]


def sun_and_sky(latitude):
    import numpy as np
    import pandas as pd
    import pvlib

    times = pd.date_range("2025-01-01", "2026-01-01", freq="5min", inclusive="left", tz="UTC")
    position = pvlib.solarposition.get_solarposition(times, latitude, 0.0, altitude=0.0, pressure=101325.0, temperature=12.0)
    up = position["apparent_elevation"].to_numpy() > 0
    zenith = position["apparent_zenith"].to_numpy()[up]
    azimuth = position["azimuth"].to_numpy()[up]
    outside_air = pvlib.irradiance.get_extra_radiation(times[up], method="spencer").to_numpy()
    mass = pvlib.atmosphere.get_relative_airmass(zenith, model="kastenyoung1989")
    sky = pvlib.clearsky.ineichen(zenith, mass, linke_turbidity=3.0, altitude=0.0, dni_extra=outside_air)
    day = times[up].day_of_year.to_numpy() - 1
    return np, pvlib, day, zenith, azimuth, outside_air, sky


def pvlib_plan(latitude, count):
    np, pvlib, day, zenith, azimuth, outside_air, sky = sun_and_sky(latitude)
    table = np.zeros((365, 91))
    for tilt in range(91):
        plane = pvlib.irradiance.get_total_irradiance(
            tilt, 180.0, zenith, azimuth, sky["dni"], sky["ghi"], sky["dhi"], dni_extra=outside_air, albedo=0.2, model="haydavies"
        )
        table[:, tilt] = np.bincount(day, plane["poa_global"], minlength=365) / 12000.0
    sums = np.concatenate([np.zeros((1, 91)), np.cumsum(np.concatenate([table, table]), axis=0)])
    # best[start, days]: the best tilt of every stretch.
    best = np.full((365, 366), -np.inf)
    for days in range(1, 366):
        best[:, days] = (sums[days : days + 365] - sums[:365]).max(axis=1)
    starts = np.arange(365)

    def joined(first, second):
        result = np.full((365, 366), -np.inf)
        for cut in range(1, 365):
            rest = second[(starts + cut) % 365, 1 : 366 - cut]
            np.maximum(result[:, cut + 1 :], first[:, cut : cut + 1] + rest, out=result[:, cut + 1 :])
        return result

    arcs = {1: best}
    for n in range(2, count):
        arcs[n] = joined(arcs[n - 1], best)
    total, start, left = -np.inf, 0, 0
    for cut in range(1, 365):
        sum_ = arcs[count - 1][:, cut] + best[(starts + cut) % 365, 365 - cut]
        if sum_.max() > total:
            total, start, left = sum_.max(), int(sum_.argmax()), cut
    pieces, begin, length, n = [((start + left) % 365, 365 - left)], start, left, count - 1
    while n > 1:
        cuts = np.arange(1, length)
        value = arcs[n - 1][begin, cuts] + best[(begin + cuts) % 365, length - cuts]
        cut = int(cuts[value.argmax()])
        pieces.append(((begin + cut) % 365, length - cut))
        length, n = cut, n - 1
    pieces.append((begin, length))
    import datetime

    first = datetime.date(2025, 1, 1)
    return sorted(
        ((first + datetime.timedelta(days=s)).strftime("%m-%d"), int((sums[s + d] - sums[s]).argmax())) for s, d in pieces
    )


def pvlib_survey(latitude, tilt):
    np, pvlib, day, zenith, azimuth, _, sky = sun_and_sky(latitude)
    bearings = [b - 360 for b, _ in HORIZON[-1:]] + [b for b, _ in HORIZON] + [360 + HORIZON[0][0]]
    heights = [HORIZON[-1][1]] + [h for _, h in HORIZON] + [HORIZON[0][1]]
    clear = 90.0 - zenith > np.maximum(0.0, np.interp(azimuth, bearings, heights))
    incidence = np.maximum(0.0, np.cos(np.radians(pvlib.irradiance.aoi(tilt, 180.0, zenith, azimuth))))
    beam = np.asarray(sky["dni"]) * incidence
    hours = np.bincount(day, clear / 12.0, minlength=365)
    return beam[clear].sum() / beam.sum(), hours[:31].mean(), hours[334:].mean()


def best_of(function, repeats):
    result, seconds = None, float("inf")
    for _ in range(repeats):
        start = time.perf_counter()
        result = function()
        seconds = min(seconds, time.perf_counter() - start)
    return result, seconds


def ours(arguments):
    binary = PROJECT / "target" / "release" / "tiltwright"
    run = subprocess.run([binary, *arguments, "--format", "json"], capture_output=True, text=True)
    if run.returncode not in (0, 1):
        sys.exit(run.stderr)
    return json.loads(run.stdout)


def measured(*names):
    path = PROJECT.joinpath("target", "criterion", *names, "new", "estimates.json")
    return json.loads(path.read_text())["median"]["point_estimate"] / 1e9


def compare():
    failures = []
    subprocess.run(["cargo", "build", "--release", "--quiet"], cwd=PROJECT, check=True)
    bench = ["cargo", "bench", "--quiet", "--bench", "sun", "--", "--warm-up-time", "1", "--measurement-time", "3"]
    subprocess.run(bench, cwd=PROJECT, check=True, capture_output=True)

    theirs, their_seconds = best_of(lambda: pvlib_plan(LATITUDE, SEASONS), 2)
    answer = ours(["tilts", "--latitude", str(LATITUDE), "--seasons", str(SEASONS)])
    plan = [(season["from"], round(season["tilt_deg"])) for season in answer["seasons"]]
    print(f"plan, {SEASONS} seasons at {LATITUDE}: ours {plan}\n{'':26}pvlib {theirs}")
    if plan != [tuple(pair) for pair in theirs]:
        failures.append("plans differ")
    failures += report("plan", their_seconds, measured("plan", f"{SEASONS} seasons"))

    with tempfile.TemporaryDirectory() as folder:
        survey = Path(folder) / "survey.yaml"
        points = "".join(f"  - {{bearing: {b} deg, elevation: {h} deg}}\n" for b, h in HORIZON)
        survey.write_text(f"latitude: {SURVEY_LATITUDE} deg\nlongitude: 0 deg\nbearings: true\npoints:\n{points}")
        answer = ours(["site", str(survey), "--seasons", "1"])
    tilt = answer["tilts"][0]["tilt_deg"]
    (kept, january, december), their_seconds = best_of(lambda: pvlib_survey(SURVEY_LATITUDE, tilt), 3)
    mine = (1 - answer["beam_lost_percent"] / 100, answer["months"][0]["full_sun_hours"], answer["months"][11]["full_sun_hours"])
    print(f"survey at {SURVEY_LATITUDE}, tilt {tilt}: beam kept {mine[0]:.4f} / {kept:.4f}, "
          f"hours a day in January {mine[1]:.2f} / {january:.2f}, in December {mine[2]:.2f} / {december:.2f} (ours / pvlib)")
    if abs(mine[0] - kept) > 0.001 or abs(mine[1] - january) > 0.02 or abs(mine[2] - december) > 0.02:
        failures.append("surveys differ")
    failures += report("survey", their_seconds, measured("survey_year at five minutes"))
    for failure in failures:
        print("FAIL:", failure)
    sys.exit(1 if failures else 0)


def report(name, theirs, mine):
    ratio = theirs / mine
    print(f"{name}: pvlib {1000 * theirs:.0f} ms, ours {1000 * mine:.1f} ms, ratio {ratio:.0f}")
    return [] if ratio >= LEAST_RATIO else [f"{name} is only {ratio:.1f} times faster"]


if __name__ == "__main__":
    if os.environ.get("SIDE_BY_SIDE"):
        compare()
    with tempfile.TemporaryDirectory() as folder:
        venv.create(folder, with_pip=True)
        python = Path(folder) / "bin" / "python"
        subprocess.run([python, "-m", "pip", "install", "--quiet", PVLIB], check=True)
        sys.exit(subprocess.run([python, __file__], env={**os.environ, "SIDE_BY_SIDE": "1"}).returncode)
