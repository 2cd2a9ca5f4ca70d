"""Tober beside general solvers: the same cases, answers compared first, times of one run.

Packing: HiGHS on the real-plane form, two stages (least greatest lift, then fewest boards), one thread, gap 0.
Support loads: PyNite on a star of very stiff beams, with an outer loop that lets springs go and come back.
"""

import datetime
import json
import math
import os
import platform
import statistics
import subprocess
import sys
import time

import highspy
import numpy as np

HERE = os.path.dirname(os.path.abspath(__file__))
ROOT = os.path.join(HERE, "..", "..")
DATA = os.path.join(ROOT, "crates", "tober-calc", "tests", "data")


def cases(name):
    with open(os.path.join(DATA, name), encoding="utf-8") as file:
        return json.load(file)["cases"]


def ours(tober, name, questions):
    run = subprocess.run([tober, "calc", name], input=json.dumps(questions), capture_output=True, text=True)
    return [answer["result"] for answer in json.loads(run.stdout)]


def packing_model(case, lift_most=None):
    """The model of the reference, section C, with the plane in real numbers. Lengths in 0.1 mm."""
    model = highspy.Highs()
    model.setOptionValue("output_flag", False)
    model.setOptionValue("threads", 1)
    model.setOptionValue("mip_rel_gap", 0.0)
    model.setOptionValue("mip_abs_gap", 0.0)
    inf = highspy.kHighsInf
    costs, lows, highs, whole = [], [], [], []

    def variable(low, high, integer=False, cost=0.0):
        lows.append(low), highs.append(high), whole.append(integer), costs.append(cost)
        return len(lows) - 1

    rows = []
    plane = variable(-inf, inf)
    a = variable(-case["level_tol_x_01mm_per_m"], case["level_tol_x_01mm_per_m"])
    b = variable(-case["level_tol_y_01mm_per_m"], case["level_tol_y_01mm_per_m"])
    first_stage = lift_most is None
    lift = variable(0, inf, cost=1.0 if first_stage else 0.0)
    kinds = case["boards"]
    used = [[] for _ in kinds]
    for support in case["supports"]:
        hole = variable(0, support["pin_count"] - 1, True)
        boards = [variable(0, min(kind["count"], case["max_boards_per_stack"]), True, 0.0 if first_stage else 1.0) for kind in kinds]
        for kind, board in enumerate(boards):
            used[kind].append(board)
        stack = [(board, kind["thickness_01mm"]) for board, kind in zip(boards, kinds)]
        rows.append((-inf, case["max_stack_01mm"], stack))
        rows.append((case["min_boards_per_stack"], case["max_boards_per_stack"], [(board, 1) for board in boards]))
        raised = stack + [(hole, support["pin_pitch_01mm"])]
        rows.append((case["min_lift_01mm"], inf if lift_most is None else lift_most, raised))
        rows.append((-inf, 0, raised + [(lift, -1)]))
        off = support["ground_01mm"] + support["pin_first_01mm"]
        tolerance = case["planarity_tol_01mm"]
        seat = raised + [(plane, -1), (a, -support["x_mm"] / 1000), (b, -support["y_mm"] / 1000)]
        rows.append((-tolerance - off, tolerance - off, seat))
    for kind, boards in zip(kinds, used):
        rows.append((-inf, kind["count"], [(board, 1) for board in boards]))
    for low, high, integer, cost in zip(lows, highs, whole, costs):
        model.addVar(low, high)
    for column, (integer, cost) in enumerate(zip(whole, costs)):
        model.changeColCost(column, cost)
        if integer:
            model.changeColIntegrality(column, highspy.HighsVarType.kInteger)
    for low, high, terms in rows:
        model.addRow(low, high, len(terms), np.array([t[0] for t in terms], dtype=np.int32), np.array([float(t[1]) for t in terms]))
    return model


def highs_packing(case):
    """(feasible, lift, boards), and the seconds of both stages with their building."""
    start = time.perf_counter()
    model = packing_model(case)
    model.run()
    if model.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        return (False, None, None), time.perf_counter() - start
    lift = round(model.getInfo().objective_function_value)
    model = packing_model(case, lift)
    model.run()
    boards = round(model.getInfo().objective_function_value)
    return (True, lift, boards), time.perf_counter() - start


def pynite_reactions(case):
    """Reactions by PyNite, and the seconds. Springs that pull are let go; those the frame presses on come back."""
    from Pynite import FEModel3D

    start = time.perf_counter()
    supports = case["supports"]
    load = {key: float(value) for key, value in case["load"].items()}
    gaps = [float(s["gap_m"]) for s in supports]
    raise_by = max(gaps)
    touching = set(range(len(supports)))
    for _ in range(60):
        model = FEModel3D()
        model.add_material("stiff", 3e12, 1.2e12, 0.25, 0.0)
        model.add_section("stiff", 1.0, 1e3, 1e3, 1e3)
        model.add_node("load", load["x_m"], 0.0, -load["y_m"])
        for i, s in enumerate(supports):
            x, y = float(s["x_m"]), float(s["y_m"])
            model.add_node(f"s{i}", x, 0.0, -y)
            if math.hypot(x - load["x_m"], y - load["y_m"]) > 1e-9:
                model.add_member(f"m{i}", "load", f"s{i}", "stiff", "stiff")
        # PyNite's vertical axis is Y; its Z is our y turned round, which keeps its axes right-handed.
        model.def_support("load", True, False, True, False, True, False)
        for i in touching:
            k = float(supports[i]["k_N_per_m"])
            model.def_support_spring(f"s{i}", "DY", k)
            model.add_node_load(f"s{i}", "FY", -k * (gaps[i] - raise_by), "Case 1")
        model.add_node_load("load", "FY", -load["W_N"], "Case 1")
        model.add_node_load("load", "MX", load.get("Mx_Nm", 0.0), "Case 1")
        model.add_node_load("load", "MZ", load.get("My_Nm", 0.0) * -1.0, "Case 1")
        model.add_load_combo("all", {"Case 1": 1.0})
        model.analyze_linear(check_stability=False, sparse=False)
        up = [model.nodes[f"s{i}"].DY["all"] for i in range(len(supports))]
        press = [-up[i] - (gaps[i] - raise_by) for i in range(len(supports))]
        now = {i for i in range(len(supports)) if press[i] > 0}
        if now == touching:
            return [float(supports[i]["k_N_per_m"]) * press[i] if i in touching else 0.0 for i in range(len(supports))], time.perf_counter() - start
        touching = now
        if len(touching) < 3:
            break
    return None, time.perf_counter() - start


def main():
    tober, figures_file = sys.argv[1], sys.argv[2]
    with open(figures_file, encoding="utf-8") as file:
        figures = json.load(file)
    out = ["# Results", "", "Written by `bench/peers/run.sh`; do not edit.", ""]
    cpu = platform.processor() or platform.machine()
    with open("/proc/cpuinfo", encoding="utf-8") as info:
        for line in info:
            if line.startswith("model name"):
                cpu = line.split(":", 1)[1].strip()
                break
    out += [
        f"Date {datetime.date.today().isoformat()} · {os.cpu_count()} cores, {cpu} · Python {platform.python_version()}",
        f"· HiGHS {highspy.Highs().version()} · PyNite 3.2.0. The machine was shared while this ran: ratios count, times do not.",
        "",
    ]

    # Packing: agree first, then compare.
    packing = cases("c_packing.json")
    answers = ours(tober, "packing", packing)
    ratios, rows = [], []
    for case, answer, figure in zip(packing, answers, figures["packing"]):
        (feasible, lift, boards), seconds = highs_packing(case)
        found = (answer["feasible"], answer.get("max_lift_01mm"), answer.get("boards"))
        if found != (feasible, lift, boards):
            sys.exit(f"{case['id']}: HiGHS says {(feasible, lift, boards)} and Tober {found}: not comparable")
        ratios.append(seconds / figure["seconds"])
        rows.append((case["id"], len(case["supports"]), len(case["boards"]), figure["seconds"] * 1e3, seconds * 1e3, ratios[-1]))
    mine = [row[3] for row in rows]
    met = lambda ok: "met" if ok else "NOT met"
    median, worst, ratio = statistics.median(mine), max(mine), statistics.median(ratios)
    out += [
        "## Packing (C2), 24 shared cases", "",
        "All answers agree with HiGHS on feasibility, least lift and fewest boards.", "",
        "| figure | measured | goal | |", "|---|---|---|---|",
        f"| median | {median:.3f} ms | 0.5 ms | {met(median <= 0.5)} |",
        f"| worst | {worst:.1f} ms | 50 ms | {met(worst <= 50)} |",
        f"| HiGHS over Tober, median of the ratios | {ratio:.0f} | 200 | {met(ratio >= 200)} |", "",
        "| case | legs | kinds | Tober, ms | HiGHS, ms | ratio |", "|---|---|---|---|---|---|",
    ]
    out += [f"| {r[0]} | {r[1]} | {r[2]} | {r[3]:.3f} | {r[4]:.1f} | {r[5]:.0f} |" for r in rows]

    # Support loads.
    rigid = cases("a_rigid.json")
    answers = ours(tober, "supports", rigid)
    worst_exact, compared, apart, ratios = 0.0, 0, 0.0, []
    for case, answer, figure in zip(rigid, answers, figures["supports"]):
        if not case["expected"]["equilibrium"]:
            continue
        weight = float(case["load"]["W_N"])
        worst_exact = max([worst_exact] + [abs(x - y) / weight for x, y in zip(answer["reactions_N"], case["expected"]["reactions_N"])])
        reactions, seconds = pynite_reactions(case)
        if reactions is None or not case["expected"]["displacement_unique"]:
            continue
        difference = max(abs(x - y) / weight for x, y in zip(answer["reactions_N"], reactions))
        if difference > 1e-5:
            sys.exit(f"{case['id']}: PyNite differs by {difference:.1e} of the load: not comparable")
        compared += 1
        apart = max(apart, difference)
        ratios.append(seconds / figure["seconds"])
    six = min(1 / f["seconds"] for f in figures["supports"] if f["supports"] == 6)
    out += [
        "", "## Support loads (C3), 24 shared cases", "",
        f"PyNite, with an outer loop of ours round its linear solve, agrees on {compared} of the standing cases to {apart:.0e} of the load",
        "(its frame is a star of stiff beams, not a rigid one).", "",
        "| figure | measured | goal | |", "|---|---|---|---|",
        f"| solves a second at six supports, the slowest case | {six:,.0f} | 1,000,000 | {met(six >= 1e6)} |",
        f"| worst error against exact arithmetic, of the load | {worst_exact:.1e} | 1e-9 | {met(worst_exact <= 1e-9)} |",
        f"| PyNite over Tober, median of the ratios | {statistics.median(ratios):,.0f} | | |",
    ]
    out += ["", "## A whole plan, from the text of the files", "", "| visit | median, ms | worst, ms | goal | |", "|---|---|---|---|---|"]
    for plan in figures["plans"]:
        out.append(f"| {plan['visit']} | {plan['median_s'] * 1e3:.1f} | {plan['worst_s'] * 1e3:.1f} | 50 ms | {met(plan['worst_s'] <= 0.05)} |")
    text = "\n".join(out) + "\n"
    with open(os.path.join(ROOT, "bench", "RESULTS.md"), "w", encoding="utf-8") as file:
        file.write(text)
    print(text)


main()
