"""Tober beside general solvers: the same cases, answers compared first, times of one run.

Packing: HiGHS on the real-plane form, two stages (least greatest lift, then fewest boards), one thread, gap 0.
Support loads: PyNite on a star of very stiff beams, with an outer loop that lets springs go and come back.
Frames of beams: PyNite on the same beams, with the same outer loop.
"""

import datetime
import json
import math
import os
import pathlib
import platform
import statistics
import subprocess
import sys
import time
from importlib.metadata import version

import highspy
import numpy as np
from Pynite import FEModel3D

ROOT = pathlib.Path(__file__).resolve().parents[2]
DATA = ROOT / "crates" / "tober-calc" / "tests" / "data"
# As often as Tober's own benchmark of the packing solves each case.
ROUNDS = 5


def cases(name):
    return json.loads((DATA / name).read_text(encoding="utf-8"))["cases"]


def quickest(rounds, job):
    """The answer, and the least of the seconds that the job says it took: the others tell of the machine."""
    answers = [job() for _ in range(rounds)]
    return answers[0][0], min(seconds for _, seconds in answers)


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


def highs_run(model):
    """The optimum rounded to whole units, or None where there is none, and the seconds of the run alone."""
    start = time.perf_counter()
    model.run()
    seconds = time.perf_counter() - start
    status = model.getModelStatus()
    # Both objectives are bounded below by nothing at all, so "unbounded or infeasible" is infeasible.
    if status in (highspy.HighsModelStatus.kInfeasible, highspy.HighsModelStatus.kUnboundedOrInfeasible):
        return None, seconds
    if status != highspy.HighsModelStatus.kOptimal:
        sys.exit(f"HiGHS stopped without an answer: {status}")
    return round(model.getInfo().objective_function_value), seconds


def highs_packing(case):
    """(feasible, lift, boards), and the seconds of both stages without building the models."""
    lift, first = highs_run(packing_model(case))
    if lift is None:
        return (False, None, None), first
    boards, second = highs_run(packing_model(case, lift))
    return (True, lift, boards), first + second


def pynite_linear(case, touching, raise_by):
    """How far the frame presses each spring when those touching are all that hold it, and the seconds of the solve.

    All supports stand `raise_by` higher than in the case: a rigid shift, which changes no reaction.
    """
    supports = case["supports"]
    load = {key: float(value) for key, value in case["load"].items()}
    gaps = [float(s["gap_m"]) - raise_by for s in supports]
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
        model.add_node_load(f"s{i}", "FY", -k * gaps[i], "Case 1")
    model.add_node_load("load", "FY", -load["W_N"], "Case 1")
    model.add_node_load("load", "MX", load["Mx_Nm"], "Case 1")
    model.add_node_load("load", "MZ", -load["My_Nm"], "Case 1")
    model.add_load_combo("all", {"Case 1": 1.0})
    start = time.perf_counter()
    model.analyze_linear(check_stability=False, sparse=False)
    seconds = time.perf_counter() - start
    return [-model.nodes[f"s{i}"].DY["all"] - gap for i, gap in enumerate(gaps)], seconds


def pynite_beams_linear(case, touching, raise_by):
    """As pynite_linear, on the beams of the case: its own sections, loads at nodes."""
    gaps = [float(s["gap_m"]) - raise_by for s in case["supports"]]
    model = FEModel3D()
    model.add_material("given", case["E_Pa"], case["G_Pa"], 0.3, 0.0)
    for name, s in case["sections"].items():
        # Its local y is upright for a level member, so bending up and down is about its z.
        model.add_section(name, s["A_m2"], s["I_lateral_m4"], s["I_vertical_m4"], s["J_m4"])
    for node in case["nodes"]:
        model.add_node(node["id"], node["x_m"], 0.0, -node["y_m"])
        # Only up and down, and the two turns of a grillage.
        model.def_support(node["id"], True, False, True, False, True, False)
    for e in case["elements"]:
        model.add_member(e["id"], e["i"], e["j"], "given", e["section"])
    for load in case["loads"]:
        for direction, value in (("FY", load["Fz_N"]), ("MX", load["Mx_Nm"]), ("MZ", -load["My_Nm"])):
            model.add_node_load(load["node"], direction, value, "Case 1")
    for i in touching:
        s = case["supports"][i]
        model.def_support_spring(s["node"], "DY", float(s["k_N_per_m"]))
        model.add_node_load(s["node"], "FY", -float(s["k_N_per_m"]) * gaps[i], "Case 1")
    model.add_load_combo("all", {"Case 1": 1.0})
    start = time.perf_counter()
    model.analyze_linear(check_stability=False, sparse=False)
    seconds = time.perf_counter() - start
    return [-model.nodes[s["node"]].DY["all"] - gap for s, gap in zip(case["supports"], gaps)], seconds


def pynite_reactions(case, linear=pynite_linear):
    """Reactions by PyNite, None where the loop finds none, and the seconds of its linear solves.

    Round the linear solve, one spring at a time: the one that pulls most is let go; where none pulls, the one
    that is pressed most while let go comes back.
    """
    supports = case["supports"]
    stiffness = [float(s["k_N_per_m"]) for s in supports]
    raise_by = max(float(s["gap_m"]) for s in supports)
    touching, total = set(range(len(supports))), 0.0
    for _ in range(60):
        press, seconds = linear(case, touching, raise_by)
        total += seconds
        pulls = [i for i in touching if press[i] < 0]
        comes_back = [i for i in range(len(supports)) if i not in touching and press[i] > 0]
        if pulls and len(touching) > 3:
            touching.remove(min(pulls, key=lambda i: stiffness[i] * press[i]))
        elif comes_back:
            touching.add(max(comes_back, key=lambda i: stiffness[i] * press[i]))
        elif pulls:
            break
        else:
            return [stiffness[i] * press[i] if i in touching else 0.0 for i in range(len(supports))], total
    return None, total


def met(ok):
    return "met" if ok else "NOT met"


def heading():
    cpu = platform.machine()
    if os.path.exists("/proc/cpuinfo"):
        with open("/proc/cpuinfo", encoding="utf-8") as info:
            models = [line.split(":", 1)[1].strip() for line in info if line.startswith("model name")]
        cpu = models[0] if models else cpu
    rustc = subprocess.run(["rustc", "--version"], capture_output=True, text=True, check=True).stdout.split()[1]
    return [
        "# Results", "", "Written by `bench/peers/run.sh`; do not edit.", "",
        f"{datetime.date.today().isoformat()} · {os.cpu_count()} cores, {cpu} · load {os.getloadavg()[0]:.1f} when this began",
        f"· Rust {rustc} · Python {platform.python_version()} · HiGHS {highspy.Highs().version()} · PyNite {version('PyNiteFEA')}.", "",
        "Other work may share the machine, and the compiler ran just before: times are rough, and only ratios, all from",
        f"this one run, can be compared. Every time is the least of {ROUNDS} on either side, unless it says otherwise.",
    ]


def packing_section(figures):
    rows = []
    for case, ours in zip(cases("c_packing.json"), figures, strict=True):
        theirs, seconds = quickest(ROUNDS, lambda: highs_packing(case))
        found = (ours["feasible"], ours["max_lift_01mm"], ours["boards"])
        if case["id"] != ours["id"] or not ours["proved"] or found != theirs:
            sys.exit(f"{case['id']}: HiGHS says {theirs} and Tober {found}: not comparable")
        sizes = (case["id"], len(case["supports"]), len(case["boards"]))
        rows.append((*sizes, ours["seconds"] * 1e3, ours["seconds_tidied"] * 1e3, seconds * 1e3, seconds / ours["seconds"]))
    bare, tidied, ratios = ([row[i] for row in rows] for i in (3, 4, 6))
    below = [row[0] for row in rows if row[6] < 200]
    out = [
        "", f"## Packing (C2), {len(rows)} shared cases", "",
        "All answers agree with HiGHS on feasibility, least lift and fewest boards, and Tober says each is proved.",
        "HiGHS: one thread, gap 0, plane in real numbers, both stages, building the models left out.",
        "*Tidied* goes on to fewest different stacks and lowest holes, as a plan does; the ratio is without it.", "",
        "| figure | measured | goal | |", "|---|---|---|---|",
        f"| median | {statistics.median(bare):.3f} ms | 0.5 ms | {met(statistics.median(bare) <= 0.5)} |",
        f"| worst | {max(bare):.1f} ms | 50 ms | {met(max(bare) <= 50)} |",
        f"| median, tidied | {statistics.median(tidied):.3f} ms | 0.5 ms | {met(statistics.median(tidied) <= 0.5)} |",
        f"| worst, tidied | {max(tidied):.1f} ms | 50 ms | {met(max(tidied) <= 50)} |",
        f"| HiGHS over Tober, median of the ratios | {statistics.median(ratios):.0f} | 200 | {met(statistics.median(ratios) >= 200)} |",
        f"| HiGHS over Tober, least ratio | {min(ratios):.0f} | | {len(below)} of {len(rows)} below 200: {', '.join(below) or 'none'} |", "",
        "| case | legs | kinds | Tober, ms | tidied, ms | HiGHS, ms | ratio |", "|---|---|---|---|---|---|---|",
    ]
    return out + [f"| {r[0]} | {r[1]} | {r[2]} | {r[3]:.3f} | {r[4]:.3f} | {r[5]:.1f} | {r[6]:.0f} |" for r in rows]


def supports_section(figures, rates):
    exact, apart, ratios, left_out, tips = 0.0, 0.0, [], [], 0
    for case, ours in zip(cases("a_rigid.json"), figures, strict=True):
        expected = case["expected"]
        if case["id"] != ours["id"] or expected["equilibrium"] != (ours["reactions_N"] is not None):
            sys.exit(f"{case['id']}: Tober and exact arithmetic differ on whether it stands")
        if not expected["equilibrium"]:
            tips += 1
            continue
        weight = float(case["load"]["W_N"])

        def off(reactions):
            return max(abs(x - y) / weight for x, y in zip(ours["reactions_N"], reactions, strict=True))

        exact = max(exact, off(expected["reactions_N"]))
        reactions, seconds = quickest(ROUNDS, lambda: pynite_reactions(case))
        if reactions is None:
            left_out.append(case["id"])
            continue
        if off(reactions) > 1e-6:
            sys.exit(f"{case['id']}: PyNite differs by {off(reactions):.1e} of the load: not comparable")
        apart = max(apart, off(reactions))
        ratios.append(seconds / ours["seconds"])
    if exact > 1e-9:
        sys.exit(f"Tober is off by {exact:.1e} of the load: times of wrong answers say nothing")
    six = next(rate["solves_a_second"] for rate in rates["solves"] if rate["supports"] == 6)
    others = ", ".join(f"{r['solves_a_second']:,.0f} at {r['supports']}" for r in rates["solves"] if r["supports"] != 6)
    return [
        "", f"## Support loads (C3), {len(figures)} shared cases", "",
        f"{tips} cases tip, and Tober says so. PyNite, with a loop of ours round its linear solve that lets springs go and takes",
        f"them back, agrees with Tober on {len(ratios)} of {len(ratios) + len(left_out)} that stand, to {apart:.0e} of the load (its frame is a star of",
        f"stiff beams, not a rigid one); the loop finds no answer to: {', '.join(left_out) or 'none'}. Only its linear solves are",
        "timed, not the building of its models; it is written in Python. Tober's time for a case is the mean over 0.3 s.", "",
        "| figure | measured | goal | |", "|---|---|---|---|",
        f"| solves a second, six supports, one core, 1000 frames none alike | {six:,.0f} | 1,000,000 | {met(six >= 1e6)} |",
        f"| the same at other counts of supports | {others} | | |",
        f"| worst error against exact arithmetic, of the load | {exact:.1e} | 1e-9 | {met(exact <= 1e-9)} |",
        f"| PyNite over Tober for each case, median of the ratios | {statistics.median(ratios):,.0f} | | |",
        f"| PyNite over Tober, least ratio | {min(ratios):,.0f} | | |",
    ]


def frames_section(figures):
    exact, apart, ratios, left_out = 0.0, 0.0, [], []
    for case, ours in zip(cases("b_flexible.json"), figures, strict=True):
        if case["id"] != ours["id"]:
            sys.exit(f"{case['id']}: Tober answers {ours['id']}")

        def off(reactions):
            return max(abs(x - y) / case["total_load_N"] for x, y in zip(ours["reactions_N"], reactions, strict=True))

        exact = max(exact, off(case["expected"]["reactions_N"]))
        reactions, seconds = quickest(ROUNDS, lambda: pynite_reactions(case, pynite_beams_linear))
        if reactions is None:
            left_out.append(case["id"])
            continue
        if off(reactions) > 1e-6:
            sys.exit(f"{case['id']}: PyNite differs by {off(reactions):.1e} of the load: not comparable")
        apart = max(apart, off(reactions))
        # All that Tober does for one load, against the linear solves alone.
        ratios.append(seconds * 1e6 / (ours["condense_us"] + ours["load_us"] + ours["solve_us"]))
    if exact > 1e-8:
        sys.exit(f"Tober is off by {exact:.1e} of the load: times of wrong answers say nothing")
    condense, solve = max(f["condense_us"] for f in figures), max(f["solve_us"] for f in figures)
    return [
        "", f"## Frames of beams (C3), {len(figures)} shared cases", "",
        f"PyNite, with the loop above, agrees with Tober on {len(ratios)} of {len(figures)}, to {apart:.0e} of the load; the loop finds no answer to: {', '.join(left_out) or 'none'}.",
        "Its linear solves alone are timed; Tober's condensing, load and solve with proof are taken together in the ratio.", "",
        "| figure | measured | goal | |", "|---|---|---|---|",
        f"| condense, worst case | {condense:.1f} µs | 100 µs | {met(condense <= 100)} |",
        f"| solve with proof, worst case | {solve:.2f} µs | 5 µs | {met(solve <= 5)} |",
        f"| worst error against the reference, of the load | {exact:.1e} | 1e-8 | {met(exact <= 1e-8)} |",
        f"| PyNite over Tober for each case, median of the ratios | {statistics.median(ratios):,.0f} | | |",
        f"| PyNite over Tober, least ratio | {min(ratios):,.0f} | | |",
    ]


def plans_section(figures):
    out = ["", "## A whole plan of a demo visit, from the text of its files", "", "| visit | plans | median, ms | worst, ms | goal | |", "|---|---|---|---|---|---|"]
    for plan in figures:
        ms = plan["median_s"] * 1e3, plan["worst_s"] * 1e3
        out.append(f"| {plan['visit']} | {plan['rounds']} | {ms[0]:.1f} | {ms[1]:.1f} | 50 ms, worst | {met(ms[1] <= 50)} |")
    return out


def main():
    figures, rates = (json.loads(pathlib.Path(file).read_text(encoding="utf-8")) for file in sys.argv[1:3])
    out = heading() + packing_section(figures["packing"]) + supports_section(figures["supports"], rates)
    out += frames_section(figures["frames"])
    text = "\n".join(out + plans_section(figures["plans"])) + "\n"
    (ROOT / "bench" / "RESULTS.md").write_text(text, encoding="utf-8")
    print(text)


main()
