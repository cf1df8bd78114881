#!/usr/bin/env python3
# builds: plain
# lasts: 35
"""Rolls are packed into the fewest loads, on the fewest fills, with the fewest splits: compared with an integer model
that another program solves (glpsol of GLPK), and with every way there is where there are few rolls. Whether an answer
keeps the rules, and what it costs, is worked out here."""

import concurrent.futures
import itertools
import math
import os
import random
import re
import shutil
import subprocess
import sys
import tempfile
from fractions import Fraction

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))

import harness  # noqa: E402
from harness import check, end, skip  # noqa: E402

DRIVER = os.path.join(os.path.dirname(harness.WETSIDE), "unit", "compute", "driver_packing")
INSTANCES = harness.cases(300)
TINY = harness.cases(400)
# Seconds for one model; what is not solved by then is compared with the bound that was proven by then.
LIMIT_S = 1
# So many models may end at that limit.
UNSOLVED_MOST = {"loads": 12, "fills": 12, "splits": 80}
# Of the large problems, so many may be given up by the program itself; glpsol gives these up too.
UNPROVEN_MOST = 8
# Steps of the search for one problem, as measured and about a fifth more: a mistake in what cuts the search short leaves the
# answers right and shows here alone.
STEPS_MOST = {"half of the problems": 310, "nine in ten, on average": 550, "small ones, on average": 40, "hard shapes but one": 13000}


class Problem:
    """One problem; rolls are (format, party, film, urgent)."""

    def __init__(self, takes, rolls, together, reels=None, load_area=0, fill_area=0, first=0, untried=1, work=0):
        self.takes, self.rolls, self.together = takes, rolls, together
        self.reels = reels or [-1] * len(takes)
        self.load_area, self.fill_area, self.first = load_area, fill_area, first
        self.untried, self.work = untried, work
        areas = [area for area in (load_area, fill_area) if area > 0]
        self.area_most = min(areas) if areas else 0
        self.packed = [index for index, roll in enumerate(rolls) if not self.is_too_large(roll)]
        self.has_fills = fill_area > 0 and self.film(self.packed) > (first or fill_area)

    def is_too_large(self, roll):
        return (self.takes[roll[0]] == 0 or self.reels[roll[0]] == 0
                or 0 < self.area_most < roll[2])

    def film(self, rolls):
        return sum(self.rolls[roll][2] for roll in rolls)

    def text(self):
        figures = [len(self.takes), *self.takes, *self.reels, self.load_area, self.fill_area, self.first, self.untried,
                   self.work, len(self.together), *map(int, self.together), len(self.rolls)]
        lines = [" ".join(map(str, figures))]
        lines += [f"{kind} {party} {area} {int(urgent)}" for kind, party, area, urgent in self.rolls]
        return "\n".join(lines) + "\n"

    def half(self, party):
        """Most rolls of a party in an untried load."""
        count = sum(self.rolls[roll][1] == party for roll in self.packed)
        return count if self.together[party] else max(1, count // 2)

    def fits(self, rolls):
        """Whether rolls go into one load."""
        if sum(Fraction(1, self.takes[self.rolls[roll][0]]) for roll in rolls) > 1:
            return False
        for kind, reels in enumerate(self.reels):
            if 0 <= reels < sum(self.rolls[roll][0] == kind for roll in rolls):
                return False
        return self.area_most == 0 or self.film(rolls) <= self.area_most

    def is_spread(self, rolls):
        return all(sum(self.rolls[roll][1] == party for roll in rolls) <= self.half(party)
                   for party in {self.rolls[roll][1] for roll in rolls})

    def fills(self, loads):
        """The fill of each load, done in order."""
        found, fill, room = [], 0, self.first or self.fill_area
        for load in loads:
            if self.has_fills and self.film(load) > room:
                fill, room = fill + 1, self.fill_area
            room -= self.film(load)
            found.append(fill)
        return found

    def splits(self, loads):
        return sum(len({self.rolls[roll][1] for roll in load}) for load in loads) - len(
            {self.rolls[roll][1] for roll in self.packed})

    def lateness(self, loads):
        return sum(place * sum(self.rolls[roll][3] for roll in load) for place, load in enumerate(loads))


class Answer:
    """What the program says of a problem."""

    def __init__(self, lines):
        first = lines[0].split()
        (self.load_count, self.fill_count, self.split_count, self.loads_least, self.fills_least,
         self.splits_least) = map(int, first[:6])
        self.proven = [word == "1" for word in first[6:9]]
        self.bound = first[9]
        self.bound_format, self.numerator, self.denominator, self.work = map(int, first[10:])
        self.too_large = list(map(int, lines[1].split()[1:]))
        rows = [list(map(int, line.split()[1:])) for line in lines[2:]]
        self.fills = [row[0] for row in rows]
        self.films = [row[1] for row in rows]
        self.loads = [row[2:] for row in rows]


def answers(problems):
    """All problems through one run of the driver; also its bytes."""
    text = "".join(problem.text() for problem in problems)
    done = subprocess.run([DRIVER], input=text.encode(), stdout=subprocess.PIPE, check=True, timeout=300)
    found, lines = [], done.stdout.decode().splitlines()
    while lines:
        count = 2 + int(lines[0].split()[0])
        found.append(Answer(lines[:count]))
        lines = lines[count:]
    return found, done.stdout


def wrong_with(problem, answer):
    """What is wrong with an answer by itself, or ""."""
    loads = answer.loads
    if sorted(itertools.chain(*loads)) != problem.packed:
        return "not every roll that fits is in one load"
    if answer.too_large != [roll for roll in range(len(problem.rolls)) if roll not in set(problem.packed)]:
        return "too large: " + str(answer.too_large)
    for place, load in enumerate(loads):
        if not load or not problem.fits(load):
            return f"load {place} does not fit or is empty"
        if place < problem.untried and not problem.is_spread(load):
            return f"load {place} is untried and not spread"
        parties = [problem.rolls[roll][1] for roll in load]
        if len(list(itertools.groupby(parties))) != len(set(parties)):
            return f"in load {place} a party does not lie together"
    if answer.films != [problem.film(load) for load in loads]:
        return "film of the loads"
    if answer.fills != problem.fills(loads) or answer.fill_count != (answer.fills[-1] + 1 if loads else 0):
        return "fills of the loads"
    if answer.load_count != len(loads) or answer.split_count != problem.splits(loads):
        return "loads or splits counted wrong"
    figures = (answer.load_count, answer.fill_count, answer.split_count)
    least = (answer.loads_least, answer.fills_least, answer.splits_least)
    if answer.proven != [figure == bound for figure, bound in zip(figures, least)]:
        return "proven is not what the bounds say"
    if any(figure < bound for figure, bound in zip(figures, least)):
        return "better than the bound"
    if answer.bound != "none" and -(-answer.numerator // answer.denominator) != answer.loads_least:
        return "the bound's fraction"
    return ""


# --- every way there is ---------------------------------------------------------------------------------------------


def partitions(rolls):
    """All ways to put rolls into loads, in no order."""
    if not rolls:
        yield []
        return
    for rest in partitions(rolls[1:]):
        for place in range(len(rest)):
            yield rest[:place] + [[rolls[0]] + rest[place]] + rest[place + 1:]
        yield [[rolls[0]]] + rest


def best_of_all(problem):
    """Loads, fills, splits and lateness of the best way, by trying every way."""
    best = (len(problem.packed) + 1,)
    for loads in partitions(problem.packed):
        if len(loads) > best[0] or not all(map(problem.fits, loads)):
            continue
        for order in itertools.permutations(loads):
            if all(map(problem.is_spread, order[:problem.untried])):
                fills = problem.fills(order)
                best = min(best, (len(order), fills[-1] + 1 if fills else 0, problem.splits(order),
                                  problem.lateness(order)))
    return best


# --- the integer model ----------------------------------------------------------------------------------------------


class Model:
    """An integer model in the words of CPLEX's LP format, which glpsol reads."""

    def __init__(self):
        self.costs, self.rows, self.bounds, self.integers = [], [], [], []

    def add(self, terms, sign, right):
        """A row: terms are (factor, name)."""
        text = " ".join(f"{'+' if factor >= 0 else '-'} {abs(factor)} {name}" for factor, name in terms)
        if text:
            self.rows.append(f"{text} {sign} {right}")

    def solve(self):
        """(kind, figure): "optimum", "impossible", or "bound" where the limit came first."""
        with tempfile.TemporaryDirectory() as folder:
            path = os.path.join(folder, "model.lp")
            with open(path, "w", encoding="utf-8") as file:
                file.write("Minimize\n cost: " + ("\n ".join(f"+ {c} {n}" for c, n in self.costs) or "0 nothing"))
                file.write("\nSubject To\n" + "\n".join(f" r{i}: {row}" for i, row in enumerate(self.rows)))
                file.write("\nBounds\n" + "\n".join(self.bounds))
                file.write("\nGeneral\n" + "\n".join(self.integers) + "\nEnd\n")
            out = os.path.join(folder, "out")
            done = subprocess.run(["glpsol", "--lp", path, "--tmlim", str(LIMIT_S), "--cuts", "--write", out],
                                  stdout=subprocess.PIPE, check=False)
            log = done.stdout.decode()
            with open(out, encoding="utf-8") as file:
                status = re.search(r"^s mip \d+ \d+ (\w) (\S+)", file.read(), re.M)
        if "NO INTEGER FEASIBLE" in log or "NO PRIMAL FEASIBLE" in log or "INFEASIBLE" in log:
            return "impossible", 0
        if status.group(1) == "o":
            return "optimum", round(float(status.group(2)))
        if status.group(1) == "n":
            return "impossible", 0
        bounds = re.findall(r">=\s+(-?[\d.e+]+)", log)
        return "bound", math.ceil(float(bounds[-1]) - 1e-6) if bounds else 0


class Counts:
    """A problem by kinds."""

    def __init__(self, problem):
        self.problem = problem
        self.kinds = sorted({(problem.rolls[roll][0], problem.rolls[roll][2]) for roll in problem.packed})
        self.parties = sorted({problem.rolls[roll][1] for roll in problem.packed})
        self.counts = {(party, kind): 0 for party in self.parties for kind in self.kinds}
        for roll in problem.packed:
            self.counts[problem.rolls[roll][1], (problem.rolls[roll][0], problem.rolls[roll][2])] += 1
        # large parties first: a load is named after its first
        self.parties.sort(key=lambda party: -sum(self.counts[party, kind] for kind in self.kinds))
        takes = {kind: problem.takes[kind[0]] for kind in self.kinds}
        space = math.lcm(*takes.values()) if takes else 1
        self.limits = [({kind: space // takes[kind] for kind in self.kinds}, space)]
        if problem.area_most:
            self.limits.append(({kind: kind[1] for kind in self.kinds}, problem.area_most))
        for number, reels in enumerate(problem.reels):
            if reels >= 0:
                self.limits.append(({kind: int(kind[0] == number) for kind in self.kinds}, reels))

    def total(self, kind):
        return sum(self.counts[party, kind] for party in self.parties)

    def patterns(self):
        """Every load to which no roll of any kind can be added."""
        def fits(pattern):
            return all(sum(weights[kind] * count for kind, count in zip(self.kinds, pattern)) <= most
                       for weights, most in self.limits)

        def extend(pattern):
            if len(pattern) == len(self.kinds):
                if not any(fits(pattern[:i] + (count + 1,) + pattern[i + 1:]) for i, count in enumerate(pattern)
                           if count < self.total(self.kinds[i])):
                    yield pattern
                return
            for count in range(self.total(self.kinds[len(pattern)]) + 1):
                longer = pattern + (count,)
                if not fits(longer + (0,) * (len(self.kinds) - len(longer))):
                    break
                yield from extend(longer)
        return list(extend(()))


def put_parties(model, counts, load, is_untried, with_where):
    """Rolls x of each party and kind in a load, within its limits; y: whether the party is in it."""
    problem = counts.problem
    for party in counts.parties:
        has = [kind for kind in counts.kinds if counts.counts[party, kind]]
        for kind in has:
            name = f"x{party}_{counts.kinds.index(kind)}_{load}"
            model.integers.append(name)
            model.bounds.append(f"0 <= {name} <= {counts.counts[party, kind]}")
            if with_where:
                model.add([(1, name), (-counts.counts[party, kind], f"y{party}_{load}")], "<=", 0)
        if is_untried:
            model.add([(1, f"x{party}_{counts.kinds.index(kind)}_{load}") for kind in has], "<=", problem.half(party))
        if with_where:
            model.integers.append(f"y{party}_{load}")
            model.bounds.append(f"0 <= y{party}_{load} <= 1")
    for weights, most in counts.limits:
        model.add([(weights[kind], f"x{party}_{number}_{load}") for party in counts.parties
                   for number, kind in enumerate(counts.kinds) if counts.counts[party, kind] and weights[kind]],
                  "<=", most)


def loads_model(problem, explicit, with_others):
    """The fewest loads: the first ones party by party, the others by how often each pattern is used."""
    counts, model = Counts(problem), Model()
    patterns = counts.patterns() if with_others else []
    for load in range(explicit):
        put_parties(model, counts, load, True, False)
        if load:
            model.add([(1 if where == load - 1 else -1, f"x{party}_{number}_{where}") for where in (load - 1, load)
                       for party in counts.parties for number, kind in enumerate(counts.kinds)
                       if counts.counts[party, kind]], ">=", 0)
    for party in counts.parties:
        for number, kind in enumerate(counts.kinds):
            if counts.counts[party, kind] and explicit:
                model.add([(1, f"x{party}_{number}_{load}") for load in range(explicit)],
                          "<=" if with_others else "=", counts.counts[party, kind])
    for index in range(len(patterns)):
        model.costs.append((1, f"z{index}"))
        model.integers.append(f"z{index}")
    for number, kind in enumerate(counts.kinds):
        if with_others:
            model.add([(pattern[number], f"z{index}") for index, pattern in enumerate(patterns) if pattern[number]]
                      + [(1, f"x{party}_{number}_{load}") for load in range(explicit) for party in counts.parties
                         if counts.counts[party, kind]], ">=", counts.total(kind))
    return model


def fewest_loads(problem):
    """As Model.solve."""
    for explicit in range(1, problem.untried):
        kind, _ = loads_model(problem, explicit, False).solve()
        if kind == "optimum":
            return "optimum", explicit
        if kind == "bound":
            return "bound", explicit
    kind, figure = loads_model(problem, problem.untried, True).solve()
    return kind, figure + problem.untried


def put_fills(model, counts, load_count, fill_count):
    """Each load is on one fill, the untried ones not after others."""
    problem = counts.problem
    for load in range(load_count):
        for fill in range(fill_count):
            model.integers.append(f"f{load}_{fill}")
            model.bounds.append(f"0 <= f{load}_{fill} <= 1")
            model.add([(1, f"w{load}_{fill}"), (-problem.area_most, f"f{load}_{fill}")], "<=", 0)
        model.add([(1, f"f{load}_{fill}") for fill in range(fill_count)], "=", 1)
        model.add([(1, f"w{load}_{fill}") for fill in range(fill_count)]
                  + [(-kind[1], f"x{party}_{number}_{load}") for party in counts.parties
                     for number, kind in enumerate(counts.kinds) if counts.counts[party, kind]], "=", 0)
        for later in range(load + 1, load_count if load < problem.untried else 0):
            model.add([((1 if where == later else -1) * fill, f"f{where}_{fill}") for where in (later, load)
                       for fill in range(1, fill_count)], ">=", 0)
    for fill in range(fill_count):
        model.add([(1, f"w{load}_{fill}") for load in range(load_count)], "<=",
                  problem.first if fill == 0 and problem.first else problem.fill_area)


def splits_model(problem, load_count, fill_count):
    """With so many loads and fills, parties in as few loads as may be."""
    counts, model = Counts(problem), Model()
    for load in range(load_count):
        put_parties(model, counts, load, load < problem.untried, True)
        model.add([(1, f"y{party}_{load}") for party in counts.parties], ">=", 1)
        # loads that are alike come in the order of their first parties
        for index, party in enumerate(counts.parties if load > problem.untried else []):
            model.add([(1, f"y{party}_{load}")]
                      + [(-1, f"y{other}_{load - 1}") for other in counts.parties[:index + 1]], "<=", 0)
    for party in counts.parties:
        for number, kind in enumerate(counts.kinds):
            if counts.counts[party, kind]:
                model.add([(1, f"x{party}_{number}_{load}") for load in range(load_count)], "=",
                          counts.counts[party, kind])
        least = max(-(-sum(weights[kind] * counts.counts[party, kind] for kind in counts.kinds) // most)
                    for weights, most in counts.limits)
        model.add([(1, f"y{party}_{load}") for load in range(load_count)], ">=", max(1, least))
        model.costs += [(1, f"y{party}_{load}") for load in range(load_count)]
    if problem.has_fills:
        put_fills(model, counts, load_count, fill_count)
    return model


def fewer_splits(problem, answer):
    """A model of one split less; impossible where the answer's splits are the best."""
    model = splits_model(problem, answer.load_count, answer.fill_count)
    most = answer.split_count + len({problem.rolls[roll][1] for roll in problem.packed}) - 1
    model.add(model.costs, "<=", most)
    return model


def fewer_fills(problem, load_count, fill_count):
    """A model of one fill less; impossible where fill_count is the best."""
    model = splits_model(problem, load_count, fill_count - 1)
    model.costs = []
    return model


def compare(problem, answer):
    """What glpsol says: a list of (what, verdict, words), verdict "same", "unsolved" or "different"."""
    found = []
    kind, figure = fewest_loads(problem)
    agrees = answer.load_count >= figure if kind == "bound" else (kind, figure) == ("optimum", answer.load_count)
    found.append(("loads", "different" if not agrees else "unsolved" if kind == "bound" else "same",
                  f"{answer.load_count} loads, glpsol: {kind} {figure}"))
    film = problem.film(problem.packed) - (problem.first or problem.fill_area)
    if problem.has_fills and answer.fill_count > 1 + -(-film // problem.fill_area):
        kind, _ = fewer_fills(problem, answer.load_count, answer.fill_count).solve()
        verdict = {"impossible": "same", "bound": "unsolved"}.get(kind, "different")
        found.append(("fills", verdict, f"{answer.fill_count} fills, glpsol: one less is {kind}"))
    if answer.split_count:
        kind, _ = fewer_splits(problem, answer).solve()
        verdict = {"impossible": "same", "bound": "unsolved"}.get(kind, "different")
        found.append(("splits", verdict, f"{answer.split_count} splits, glpsol: one less is {kind}"))
    return found


# --- problems -------------------------------------------------------------------------------------------------------

RULES = ("spread", "together", "mixed")
TANKS = ([8, 4, 3], [8, 4, 4], [4, 2, 2], [5, 3, 2], [8, 4], [6, 3, 2], [5], [4, 3])


def made(random_one, rolls_most, parties_most, rule):
    """A random problem."""
    takes = random_one.choice(TANKS)
    party_count = random_one.randint(1, parties_most)
    count = random_one.randint(1, rolls_most)
    films = [random_one.choice((1000, 1000, 1100, 600)) for _ in takes]
    mix = [random_one.randint(1, 4) for _ in takes]
    sizes = [random_one.randint(1, 5) for _ in range(party_count)]
    rolls = []
    for _ in range(count):
        kind = random_one.choices(range(len(takes)), mix)[0]
        film = films[kind] if random_one.random() < 0.9 else 500
        rolls.append((kind, random_one.choices(range(party_count), sizes)[0], film, random_one.random() < 0.1))
    together = [rule == "together" or (rule == "mixed" and random_one.random() < 0.5) for _ in range(party_count)]
    options = {"untried": random_one.choice((0, 1, 1, 1, 2, 3))}
    if random_one.random() < 0.35:
        options["reels"] = [random_one.choice((-1, max(1, most // 2), most - 1 or 1)) for most in takes]
    if random_one.random() < 0.35:
        options["load_area"] = random_one.randint(2, 7) * 1000
    if random_one.random() < 0.35:
        options["fill_area"] = max(random_one.randint(4, 20) * 1000, options.get("load_area", 0))
        if random_one.random() < 0.4:
            options["first"] = random_one.randint(1, 9) * 1000
    return Problem(takes, rolls, together, **options)


def hard_shapes():
    """(name, problem, loads): shapes on which filling the largest first fails; loads known by arithmetic, or None."""
    def lone(takes, counts, **options):
        rolls = [(kind, 0, 1000, False) for kind, count in enumerate(counts) for _ in range(count)]
        return Problem(takes, rolls, [True], **options)

    # Film 0.51 + 0.27 + 0.22, four times, beside 0.51 + 0.26 + 0.23 and 0.27 + 0.27 + 0.23 + 0.23: the classic kind of
    # list in which each load must be exactly full (arithmetic in the loads below).
    full = [(510, 270, 220)] * 6 + [(510, 260, 230)] * 6 + [(260, 260, 250, 230)] * 3
    film = [(0, number % 4, area, False) for number, area in enumerate(itertools.chain(*full))]
    yield "halves and quarters, exactly full", Problem([99], film, [True] * 4, load_area=1000, untried=0), len(full)
    # 1/2 + 1/3 + 1/6 and 1/4 + 1/4 + 1/2: sums of Egyptian fractions that are exactly one load
    yield "halves, thirds and sixths", lone([2, 3, 6], [5, 5, 5], untried=0), 5
    yield "halves, thirds, quarters, sixths", lone([2, 3, 4, 6], [6, 4, 4, 4], untried=0), 6
    yield "thirds and quarters", lone([3, 4], [7, 9], untried=0), None
    yield "eighths, quarters and thirds", lone([8, 4, 3], [13, 7, 8], untried=0), None
    yield "fifths, thirds and halves", lone([5, 3, 2], [9, 7, 5], untried=0), None
    yield "sevenths, fifths, thirds and halves", lone([7, 5, 3, 2], [9, 5, 5, 4], untried=0), None
    yield "sevenths and fifths with few reels", lone([7, 5, 3], [9, 8, 7], reels=[3, 2, -1], untried=0), None
    # Triplets: each load takes exactly three (film 1000 = 380 + 350 + 270 ...)
    triplets = [(380, 350, 270), (410, 330, 260), (450, 290, 260), (490, 255, 256 - 1), (430, 310, 260)]
    film = [(0, number % 5, area, False) for number, area in enumerate(itertools.chain(*triplets))]
    yield "triplets", Problem([99], film, [False] * 5, load_area=1000, untried=1), len(triplets)
    # Groups that fill loads exactly, but not largest first: 5 + 3, 4 + 4, 6 + 2, 3 + 3 + 2
    groups = [5, 3, 4, 4, 6, 2, 3, 3, 2]
    rolls = [(0, party, 1000, False) for party, size in enumerate(groups) for _ in range(size)]
    # A load may hold six rolls of film, a fill does four: it holds four.
    yield "a fill that does less than a load holds", lone([8], [16], load_area=6000, fill_area=4000, untried=0), 4
    yield "groups that fill loads", Problem([8], rolls, [True] * len(groups), untried=0), 4


def judge_steps(problems, shapes, small):
    """How long the search takes, in its own steps. The first hard shape takes all that it may."""
    often = sorted(problems)[:len(problems) * 9 // 10]
    measured = {"half of the problems": sorted(problems)[len(problems) // 2], "nine in ten, on average": sum(often) / len(often),
                "small ones, on average": sum(small) / len(small), "hard shapes but one": sum(shapes[1:])}
    for name, most in STEPS_MOST.items():
        check(measured[name] <= most, f"steps of the search: {name} at most {most}", f"{measured[name]:.0f}")


def main():
    if not os.path.exists(DRIVER):
        skip("packing", "driver_packing is not built")
        end()
    random_one = random.Random(20260314)
    problems = [made(random_one, 40, 12, RULES[number % 3]) for number in range(INSTANCES)]
    shapes = list(hard_shapes())
    tiny = [made(random_one, 7, 4, RULES[number % 3]) for number in range(TINY)]
    everything = problems + [problem for _, problem, _ in shapes] + tiny
    found, written = answers(everything)
    wrong = [f"{number}: {why}\n{problem.text()}" for number, (problem, answer) in enumerate(zip(everything, found))
             if (why := wrong_with(problem, answer))]
    check(not wrong, f"{len(everything)} answers keep every rule and are counted right", "\n".join(wrong[:3]))
    check(written == answers(everything)[1], "the same bytes twice")
    unproven = sum(not all(answer.proven) for answer in found[:INSTANCES])
    check(unproven <= UNPROVEN_MOST, f"answers are proven to be the best, but for {unproven} of {INSTANCES}")
    check(all(answer.proven[0] for answer in found), "every number of loads is proven")
    check(all(map(lambda answer: all(answer.proven), found[-TINY:])), "small problems are all proven")

    steps = [answer.work for answer in found]
    judge_steps(steps[:INSTANCES], steps[INSTANCES:-TINY], steps[-TINY:])

    different = []
    for problem, answer in zip(tiny, found[-TINY:]):
        best = best_of_all(problem)
        mine = (answer.load_count, answer.fill_count, answer.split_count)
        if mine != best[:3]:
            different.append(f"{mine}, not {best[:3]}\n{problem.text()}")
    check(not different, f"{TINY} small problems against every way there is", "\n".join(different[:3]))
    for (name, problem, loads), answer in zip(shapes, found[INSTANCES:]):
        if loads is not None:
            check(answer.load_count == loads, f"{name}: {loads} loads", f"{answer.load_count}")

    small = next(answer for (name, *_), answer in zip(shapes, found[INSTANCES:]) if name.startswith("a fill that does less"))
    check((small.bound, small.numerator, small.denominator) == ("area", 16000, 4000),
          "where a fill does less than a load holds, it is what bounds the loads", (small.bound, small.numerator, small.denominator))

    if shutil.which("glpsol") is None:
        skip("packing against an integer model", "glpsol is missing")
        end()
    compared = [(problem, answer) for problem, answer in zip(everything, found)][:INSTANCES + len(shapes)]
    compared = [(problem, answer) for problem, answer in compared if problem.packed]
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count() or 2) as pool:
        results = list(pool.map(lambda pair: compare(*pair), compared))
    for what in ("loads", "fills", "splits"):
        rows = [(verdict, words, number) for number, result in enumerate(results)
                for name, verdict, words in result if name == what]
        bad = [f"{words}\n{compared[number][0].text()}" for verdict, words, number in rows if verdict == "different"]
        unsolved = sum(verdict == "unsolved" for verdict, _, _ in rows)
        check(not bad, f"{what} of {len(rows)} problems are glpsol's ({unsolved} within its bound)",
              f"{len(bad)} are not\n" + "\n".join(bad[:3]))
        check(unsolved <= UNSOLVED_MOST[what], f"glpsol ends in time for {what}", f"{unsolved} times it did not")
    end()


if __name__ == "__main__":
    main()
