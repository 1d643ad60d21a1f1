"""Ratio of an independent solver to this project's, in one run on one machine.

Solves the 40 feasible programmes of `programmes.json` with HiGHS, called directly, after
the benchmark of this project has solved the same ones, and prints the ratio.

    pip install highspy numpy
    python tests/reference/compare_solvers.py
"""

import json
import pathlib
import statistics
import subprocess
import time

import highspy
import numpy as np

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parent.parent
NAME = "reference programmes, 40 in a row"


def ours() -> float:
    """Median time of the benchmark of this project, in seconds."""
    command = ["cargo", "bench", "-p", "formulation", "--bench", "solve", "--", NAME]
    subprocess.run(command, cwd=ROOT, check=True)
    target = json.loads(
        subprocess.run(
            ["cargo", "metadata", "--no-deps", "--format-version", "1"],
            cwd=ROOT, check=True, capture_output=True, text=True,
        ).stdout
    )["target_directory"]
    folder = pathlib.Path(target) / "criterion" / NAME.replace(" ", "_") / "new"
    if not folder.exists():
        folder = pathlib.Path(target) / "criterion" / NAME / "new"
    estimates = json.loads((folder / "estimates.json").read_text())
    return estimates["median"]["point_estimate"] * 1e-9


def problems():
    for case in json.loads((HERE / "programmes.json").read_text())["least"]:
        if case["best"] is None:
            continue
        n = len(case["bounds"])
        rows, low, high = [np.ones(n)], [100.0], [100.0]
        for demand in case["demands"]:
            row = np.zeros(n)
            for place, weight in demand["of"].items():
                row[int(place)] = weight
            rows.append(row)
            low.append(-highspy.kHighsInf if demand["from"] is None else demand["from"])
            high.append(highspy.kHighsInf if demand["to"] is None else demand["to"])
        yield np.array(case["price"]), np.array(case["bounds"]), np.vstack(rows), low, high, case["best"]


def highs(price, bounds, rows, low, high):
    m, n = rows.shape
    solver = highspy.Highs()
    solver.setOptionValue("output_flag", False)
    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = n, m
    lp.col_cost_ = price
    lp.col_lower_, lp.col_upper_ = bounds[:, 0], bounds[:, 1]
    lp.row_lower_, lp.row_upper_ = np.array(low), np.array(high)
    lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    lp.a_matrix_.start_ = np.arange(0, n * m + 1, n)
    lp.a_matrix_.index_ = np.tile(np.arange(n), m)
    lp.a_matrix_.value_ = rows.ravel()
    solver.passModel(lp)
    solver.run()
    return solver.getInfo().objective_function_value


def main():
    cases = list(problems())
    for *problem, best in cases:
        assert abs(highs(*problem) - best) < 1e-6 * max(1.0, abs(best))
    times = []
    for _ in range(50):
        start = time.perf_counter()
        for *problem, _ in cases:
            highs(*problem)
        times.append(time.perf_counter() - start)
    theirs = statistics.median(times)
    mine = ours()
    print(f"HiGHS directly, {len(cases)} programmes: {theirs * 1e3:.3f} ms")
    print(f"this project, the same programmes: {mine * 1e3:.3f} ms")
    print(f"ratio: {theirs / mine:.1f}")


main()
