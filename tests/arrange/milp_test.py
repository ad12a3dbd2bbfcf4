#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""milp_test.py SOLVE: holds our arranger against cbc, a general solver, on random problems.

SOLVE is the program solve_problem. The rules are those of docs/arranging.md, written here once more
as a mixed-integer program without any code of ours. All times lie on a grid of 10 ms, and so does
an optimum: with assignment and order fixed, the limits are differences of times of whole ticks, and
such a system has a solution in whole ticks if it has one at all. The motor's window, which is
closed, is made shorter than whole ticks by a trifle, so that plucks whole ticks apart may stand; 40
trifles are less than a tick, hence the argument holds for it too.
Exits 77 (skipped) if cbc is missing.
"""
import concurrent.futures
import json
import random
import shutil
import subprocess
import sys
import tempfile

from milp_model import Model, solve_by_cbc

SKIPPED = 77
TICKS_PER_S = 100
MOVE_TICKS = 3
TRIFLE_S = 1e-5
SAME_VALUE = 1e-6
SAME_TIME_S = 4e-9  # what the solver may be off by at a limit that is met exactly
SHARE = {"kept": 1.0, "moved": 0.9, "octave": 0.6, "dropped": 0.0}
SHARE_OCTAVE_MELODY = 0.3


def seconds(ticks):
    return ticks / TICKS_PER_S


def ticks(time_s):
    return round(time_s * TICKS_PER_S)


def share(demand, fate):
    return SHARE_OCTAVE_MELODY if fate == "octave" and demand["melody"] else SHARE[fate]


def random_problem(seed, crowded, motor, neighbours):
    pick = random.Random(seed)
    pitches = sorted(pick.sample([60, 62, 65, 69], pick.randint(1, 3) if crowded else 4))
    longest_pause = 9 if crowded else 16
    teeth = sorted(pick.choice(pitches) + 12 * pick.randint(-1, 1)
                   for _ in range(pick.randint(6, 14)))
    demands, onset = {}, 50
    wanted = pick.randint(20, 40)
    while len(demands) < wanted:
        midi = pick.choice(teeth) + pick.choice([0, 0, 0, 0, 12, -12, 24, -24])
        demands[onset, midi] = {"onset_s": seconds(onset), "midi": midi,
                                "weight": pick.randint(300, 1200) / 1000,
                                "melody": pick.random() < 0.4}
        if pick.random() < 0.6:
            onset += pick.randint(1, longest_pause)
    last = max(onset for onset, _ in demands)
    return {
        "teeth": [{"midi": midi, "interval_s": seconds(pick.randint(8, 40))} for midi in teeth],
        "neighbours": [{"shift_s": seconds(pick.randint(-2, 2)),
                        "reach_s": seconds(pick.choice([0, *range(3, 13)]))}
                       for _ in teeth[1:]] if neighbours else [],
        "demands": [demands[key] for key in sorted(demands)],
        "most_plucks": pick.randint(2, 4) if motor else 1000,
        "pluck_window_s": seconds(pick.randint(3, 12)) - TRIFLE_S,
        "earliest_s": seconds(50),
        "latest_s": seconds(last + pick.choice([0, 2, 50])),
    }


def locked_problem(seed, folder, **binding):
    """A problem some of whose notes are held to a fate, all of which can be met at once: they are
    taken from the best arrangement of the same notes with other weights. As in ours, each is worth
    more than all other notes together."""
    problem = random_problem(seed, **binding)
    pick = random.Random(~seed)
    other = dict(problem, demands=[dict(demand, weight=pick.randint(300, 1200) / 1000)
                                   for demand in problem["demands"]])
    played = [(index, choice["fate"]) for index, choice
              in enumerate(optimum(other, folder, f"{seed}-other"))
              if choice["fate"] in ("kept", "octave")]
    octaves = [one for one in played if one[1] == "octave"]
    wanted = {*pick.sample(octaves, min(2, len(octaves))), *pick.sample(played, min(4, len(played)))}
    premium = 1 + sum(demand["weight"] for demand in problem["demands"])
    for index, fate in wanted:
        demand = problem["demands"][index]
        demand["hold"] = fate
        demand["premium"] = premium
        demand["weight"] += premium / share(demand, fate)
    return problem


def ways(problem, demand):
    """(fate, tooth, tick) of every way to play a note as it is held to be played."""
    for fate, tooth, time in free_ways(problem, demand):
        if demand.get("hold", fate) == fate:
            yield fate, tooth, time


def free_ways(problem, demand):
    onset = ticks(demand["onset_s"])
    for tooth, data in enumerate(problem["teeth"]):
        away = abs(data["midi"] - demand["midi"])
        if away in (12, 24):
            yield "octave", tooth, onset
        if away:
            continue
        yield "kept", tooth, onset
        for time in range(onset - MOVE_TICKS, onset + MOVE_TICKS + 1):
            if time != onset and problem["earliest_s"] <= seconds(time) <= problem["latest_s"]:
                yield "moved", tooth, time


def time_indexed(problem):
    """The model with one binary for each note, tooth and tick, and what each of them means."""
    model, meaning = Model(), []
    plucks = {}  # by tooth and tick
    for index, demand in enumerate(problem["demands"]):
        own = []
        for fate, tooth, time in ways(problem, demand):
            own.append(model.binary(share(demand, fate) * demand["weight"]))
            meaning.append((index, fate, tooth, time))
            plucks.setdefault((tooth, time), []).append(own[-1])
        model.at_most_one_of(own)
        if "hold" in demand:
            model.at_most([(-1, v) for v in own], -1)

    def plucked(tooth, first, count):
        return [v for time in range(first, first + count) for v in plucks.get((tooth, time), [])]

    every_tooth = range(len(problem["teeth"]))
    start = min(time for _, time in plucks)
    moments = range(start - 50, max(time for _, time in plucks) + 51)
    rows = set()
    intervals = [ticks(tooth["interval_s"]) for tooth in problem["teeth"]]
    for time in moments:
        for tooth in every_tooth:
            rows.add((1, *plucked(tooth, time, intervals[tooth])))
        window = ticks(problem["pluck_window_s"])
        within = [v for tooth in every_tooth for v in plucked(tooth, time, window)]
        rows.add((problem["most_plucks"], *within))
        for tooth, limit in enumerate(problem["neighbours"]):
            # Spans short enough that any two plucks in the pair of them are in conflict; all
            # offsets together cover every conflict.
            reach, shift = ticks(limit["reach_s"]), ticks(limit["shift_s"])
            span = min(reach, intervals[tooth], intervals[tooth + 1])
            for offset in range(span - reach, reach - span + 1):
                rows.add((1, *plucked(tooth, time, span),
                          *plucked(tooth + 1, time + shift + offset, span)))
    for most, *variables in sorted(rows):
        if len(variables) > most:
            model.at_most([(1, v) for v in variables], most)
    return model, meaning


def optimum(problem, folder, name):
    model, meaning = time_indexed(problem)
    values = solve_by_cbc(model, folder, name, 60)
    choices = [{"fate": "dropped", "tooth": -1, "time_s": 0.0} for _ in problem["demands"]]
    for value, (index, fate, tooth, time) in zip(values, meaning):
        if value > 0.5:
            choices[index] = {"fate": fate, "tooth": tooth, "time_s": seconds(time)}
    return choices


def earned(problem, choices):
    """The weight of what is played; nothing for a held note that is played otherwise."""
    return sum(share(demand, choice["fate"]) * demand["weight"]
               for demand, choice in zip(problem["demands"], choices)
               if demand.get("hold", choice["fate"]) == choice["fate"])


def premiums(problem):
    return sum(demand.get("premium", 0) for demand in problem["demands"])


def broken_rules(problem, choices):
    broken, plucks = [], []
    for index, (demand, choice) in enumerate(zip(problem["demands"], choices)):
        if choice["fate"] == "dropped":
            continue
        time, tooth = choice["time_s"], choice["tooth"]
        away = abs(problem["teeth"][tooth]["midi"] - demand["midi"])
        off = abs(time - demand["onset_s"])
        allowed = {"kept": away == 0 and off == 0, "octave": away in (12, 24) and off == 0,
                   "moved": away == 0 and off <= seconds(MOVE_TICKS) + 1e-12}
        if not allowed[choice["fate"]]:
            broken.append(f"note {index} is not {choice['fate']}")
        if not problem["earliest_s"] <= time <= problem["latest_s"]:
            broken.append(f"note {index} lies outside the turn")
        plucks.append((time, tooth, index))
    plucks.sort()
    for time, tooth, index in plucks:
        for later, other, name in plucks:
            if other == tooth and index != name and later >= time and (
                    later - time < problem["teeth"][tooth]["interval_s"] - SAME_TIME_S):
                broken.append(f"notes {index} and {name} are too close on tooth {tooth}")
            if problem["neighbours"] and other == tooth + 1:
                limit = problem["neighbours"][tooth]
                if abs(later - time - limit["shift_s"]) < limit["reach_s"] - SAME_TIME_S:
                    broken.append(f"notes {index} and {name} are too close on neighbouring teeth")
    most = problem["most_plucks"]
    for (first, _, index), (last, _, name) in zip(plucks, plucks[most:]):
        if last - first <= problem["pluck_window_s"]:
            broken.append(f"the motor can't take notes {index} to {name}")
    return broken


def complaints(problem, ours, best, exact):
    """What is wrong with our solution, beside the optimum."""
    wrong = [f"ours: {rule}" for rule in broken_rules(problem, ours["choices"])]
    wrong += [f"cbc's: {rule}" for rule in broken_rules(problem, best)]
    most, least = earned(problem, best), earned(problem, ours["choices"])
    wrong += [f"note {index} is not {demand['hold']}" for index, (demand, choice)
              in enumerate(zip(problem["demands"], ours["choices"]))
              if demand.get("hold", choice["fate"]) != choice["fate"]]
    if abs(ours["earned"] - least) > SAME_VALUE:
        wrong.append(f"said to earn {ours['earned']}, earns {least}")
    if least > most + SAME_VALUE:
        wrong.append(f"earns {least}, more than the optimum {most}")
    if ours["bound"] < most - SAME_VALUE:
        wrong.append(f"bound {ours['bound']} lies below the optimum {most}")
    if exact and least < most - SAME_VALUE:
        wrong.append(f"earns {least}, less than the optimum {most}")
    if exact and ours["bound"] > most + SAME_VALUE:
        wrong.append(f"bound {ours['bound']} lies above the optimum {most}")
    return wrong


# Name, problems, whether notes are held, what binds, least earned / optimum, greatest bound / optimum. Where many notes
# crowd on the teeth of one pitch class, or more than the teeth binds, we claim no optimum.
FAMILIES = [
    ("teeth", 40, False, {"crowded": False, "motor": False, "neighbours": False}, 1.0, 1.0),
    ("crowded teeth", 12, False, {"crowded": True, "motor": False, "neighbours": False}, 0.99, 1.02),
    ("motor", 20, False, {"crowded": False, "motor": True, "neighbours": False}, 0.99, 1.05),
    ("neighbours", 20, False, {"crowded": False, "motor": False, "neighbours": True}, 0.96, 1.10),
    ("all", 12, False, {"crowded": True, "motor": True, "neighbours": True}, 0.96, 1.10),
    ("locks on teeth", 20, True, {"crowded": False, "motor": False, "neighbours": False}, 1.0, 1.0),
    ("locks and all", 12, True, {"crowded": True, "motor": True, "neighbours": True}, 0.96, 1.10),
]


def hold(solve, family, first_seed, folder, pool):
    """Prints how the family's problems went; true if nothing is wrong."""
    name, count, held, binding, least_earned, greatest_bound = family
    seeds = range(first_seed, first_seed + count)
    if held:
        problems = list(pool.map(lambda seed: locked_problem(seed, folder, **binding), seeds))
    else:
        problems = [random_problem(seed, **binding) for seed in seeds]
    optima = pool.map(optimum, problems, [folder] * count, map(str, seeds))
    run = subprocess.run([solve], input=json.dumps(problems), text=True, stdout=subprocess.PIPE,
                         check=True)
    exact = least_earned == greatest_bound == 1.0
    shares, bounds, right = [], [], True
    for seed, problem, ours, best in zip(seeds, problems, json.loads(run.stdout), optima):
        for wrong in complaints(problem, ours, best, exact):
            print(f"{name}, seed {seed}: {wrong}\n{json.dumps(problem)}")
            right = False
        own_worth = earned(problem, best) - premiums(problem)
        shares.append((ours["earned"] - premiums(problem)) / own_worth)
        bounds.append((ours["bound"] - premiums(problem)) / own_worth)
    print(f"{name}: {count} problems, earned / optimum at least {min(shares):.6f}, "
          f"bound / optimum at most {max(bounds):.6f}")
    if min(shares) < least_earned - SAME_VALUE or max(bounds) > greatest_bound + SAME_VALUE:
        print(f"{name}: should be at least {least_earned} and at most {greatest_bound}")
        right = False
    return right


def main():
    if not shutil.which("cbc"):
        sys.exit(SKIPPED)
    with tempfile.TemporaryDirectory() as folder, concurrent.futures.ThreadPoolExecutor() as pool:
        results = [hold(sys.argv[1], family, 1000 * number, folder, pool)
                   for number, family in enumerate(FAMILIES)]
    sys.exit(not all(results))


if __name__ == "__main__":
    main()
