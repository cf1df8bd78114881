#!/usr/bin/env python3
# builds: plain asan
# timeout: 600
"""A thousand random cases of a bath in a tank, worked out by SciPy and by the program's own functions
(tests/unit/compute/driver_forecast.c), agree to 1e-6: temperatures, effective development, the pour temperature, start
and water bath that make it exact, and where there is none.

SciPy has the definitions only. Newton's law is an equation, dT/dt = -k (T - Ts), whose k is found as the root that gives
the heat-loss test back; the heat balance is a sum of heats that is zero; effective development is quad() of the rate over
time; what is exact is a root of that by brentq(). In a part of the cases the equation itself is integrated, by solve_ivp().
"""

import bisect
import math
import os
import random
import subprocess
import sys
import warnings

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))

import harness  # noqa: E402

try:
    from scipy.integrate import IntegrationWarning, quad, solve_ivp
    from scipy.optimize import brentq
except ImportError:
    harness.retry_with_system_python("SciPy")

CASES, SEED = 1000, 20260314
INTEGRATED = 40  # of them, by the equation itself
DRIVER = os.path.join(os.path.dirname(harness.WETSIDE), "unit", "compute", "driver_forecast")
KELVIN, ML, PERCENT = 9000, 10**10, 10**6
GAS_CONSTANT = 8.314462618  # J/(mol K), SI 2019
REACH_K = 2  # a water bath farther from the working point is no remedy
NEAR = 1e-6


def kelvin_units(celsius):
    return round(celsius * KELVIN)


def random_rule(chance, nominal):
    """The words for the driver, and what the rate is made from."""
    kind = chance.choice(["table", "table", "coefficient", "energy"])
    if kind == "coefficient":
        value = chance.randint(2 * PERCENT, 15 * PERCENT)
        return f"coefficient {value}", (kind, value)
    if kind == "energy":
        value = chance.randint(20_000, 110_000)
        return f"energy {value}", (kind, value)
    count = chance.randint(2, 7)
    temperatures = [nominal - kelvin_units(chance.uniform(0.2, 5))]
    while len(temperatures) < count or temperatures[-1] < nominal:
        temperatures.append(temperatures[-1] + kelvin_units(chance.uniform(0.3, 3)))
    times = [chance.randint(300_000, 1_200_000)]
    for low, high in zip(temperatures, temperatures[1:]):
        times.append(round(times[-1] * math.exp(-chance.uniform(0, 0.15) * (high - low) / KELVIN)))
    rows = list(zip(temperatures, times))
    return f"table {len(rows)} " + " ".join(f"{row[0]} {row[1]}" for row in rows), (kind, rows)


def random_case(chance):
    nominal = kelvin_units(chance.uniform(16, 42))
    width = chance.choice([kelvin_units(chance.uniform(0.1, 0.5)), kelvin_units(chance.uniform(0.5, 6))])
    time_ms = chance.randint(20_000, 3_600_000)
    pour = nominal + kelvin_units(chance.choice([0, chance.uniform(-0.5, 0.5), chance.uniform(-3, 3)]))
    tested = chance.uniform(15, 40)
    test_room = tested + chance.choice([-1, 1]) * chance.uniform(2, 20)
    fallen = tested + (test_room - tested) * chance.uniform(0.002, 0.4)
    case = {
        "nominal": nominal, "low": nominal - width, "high": nominal + width, "time_ms": time_ms,
        "lengthened": chance.choice([0, 0, chance.randint(0, 30 * PERCENT), chance.randint(-8 * PERCENT, 0)]),
        "pour": pour, "from": kelvin_units(tested), "to": kelvin_units(fallen),
        "within_ms": chance.randint(60_000, 1_800_000), "test_room": kelvin_units(test_room),
        "room": chance.choice([nominal, kelvin_units(chance.uniform(5, 35)),
                               nominal + kelvin_units(chance.uniform(-3, 3))]),
        "holds": chance.randint(200, 3000) * ML, "absorbs": chance.choice([0, chance.randint(1, 300)]) * ML,
        "carries": chance.randint(1, 150) * ML, "has_before": chance.choice([0, 1, 1]),
        "met": nominal + kelvin_units(chance.choice([0, chance.uniform(-4, 4)])),
    }
    if not case["has_before"] and case["absorbs"] == 0:
        case["absorbs"] = 50 * ML
    words, case["rule"] = random_rule(chance, nominal)
    return case, " ".join(str(case[key]) for key in case if key != "rule") + " " + words


class Scipy:
    """One case, worked out anew."""

    def __init__(self, case):
        self.case = case
        self.nominal, self.room = case["nominal"] / KELVIN, case["room"] / KELVIN
        self.time_s, self.wanted_s = case["time_ms"] / 1000, case["time_ms"] / 1000 * (1 + case["lengthened"] / 100 / PERCENT)
        start, end, room = case["from"] / KELVIN, case["to"] / KELVIN, case["test_room"] / KELVIN
        within = case["within_ms"] / 1000
        self.k = brentq(lambda k: newton(start, room, k, within) - end, 0, 1, xtol=1e-300, rtol=1e-14, maxiter=1000)
        self.start = self.mix(case["pour"] / KELVIN, self.room)

    def mix(self, pour, tank):
        """The temperature at which no heat is left to flow; a first bath meets the dry tank only."""
        case = self.case
        met = case["met"] / KELVIN if case["has_before"] else tank
        waters = [(case["holds"] / ML, pour), (case["absorbs"] / ML, met)]
        if case["has_before"]:
            waters.append((case["carries"] / ML, met))
        temperatures = [at for _, at in waters]
        if min(temperatures) == max(temperatures):
            return temperatures[0]
        return brentq(lambda t: sum(ml * (at - t) for ml, at in waters), min(temperatures), max(temperatures),
                      xtol=1e-13, rtol=1e-15)

    def rate(self, temperature):
        kind, figures = self.case["rule"]
        if kind == "coefficient":
            return math.exp(figures / 100 / PERCENT * (temperature - self.nominal))
        if kind == "energy":
            return math.exp(figures / GAS_CONSTANT * (1 / (self.nominal + 273.15) - 1 / (temperature + 273.15)))
        return self.table_time(self.nominal) / self.table_time(temperature)

    def table_time(self, temperature):
        """Along a straight line of the logarithm of time, between the two rows around it."""
        rows = [(at / KELVIN, ms) for at, ms in self.case["rule"][1]]
        above = min(max(bisect.bisect_left([at for at, _ in rows], temperature), 1), len(rows) - 1)
        (low, long), (high, short) = rows[above - 1], rows[above]
        return long ** ((high - temperature) / (high - low)) * short ** ((temperature - low) / (high - low))

    def range(self):
        kind, figures = self.case["rule"]
        return (figures[0][0] / KELVIN, figures[-1][0] / KELVIN) if kind == "table" else (0.0, 100.0)

    def effective(self, start, surroundings):
        """Seconds at the working point; None where the rule does not hold all along."""
        low, high = self.range()
        end = newton(start, surroundings, self.k, self.time_s)
        if self.case["rule"][0] == "table" and not (low <= min(start, end) and max(start, end) <= high):
            return None
        kinks = []
        if self.case["rule"][0] == "table":
            for at, _ in self.case["rule"][1]:
                if min(start, end) < at / KELVIN < max(start, end):
                    kinks.append(brentq(lambda t, at=at: newton(start, surroundings, self.k, t) - at / KELVIN, 0, self.time_s))
        total = 0
        for begin, stop in zip([0, *kinks], [*kinks, self.time_s]):
            total += quad(lambda t: self.rate(newton(start, surroundings, self.k, t)), begin, stop, epsabs=1e-9,
                          epsrel=1e-10, limit=200)[0]
        return total

    def root(self, course_of, low, high):
        """x for which the course (start, surroundings) develops as wanted; None where there is none between."""
        def off(x):
            found = self.effective(*course_of(x))
            return math.log((found or 1e-300) / self.wanted_s)
        if not low < high:
            return None
        inside = 1e-9 * (1 + abs(low) + abs(high))
        low, high = low + inside, high - inside
        if not low < high or off(low) > 0 or off(high) < 0:
            return None
        return brentq(off, low, high, xtol=1e-12, rtol=1e-14)

    def exact_start(self):
        """From each end of the rule's range back in time: the start whose end is there."""
        low, high = self.range()
        back = [self.room + (edge - self.room) * math.exp(self.k * self.time_s) for edge in (low, high)]
        return self.root(lambda x: (x, self.room), max(low, back[0]), min(high, back[1]))

    def exact_surroundings(self, start_of):
        """`start_of(surroundings)` is a straight line, so that start and end are in the range over one stretch."""
        low, high = self.range()
        left = math.exp(-self.k * self.time_s)
        bounds = [(0.0, 100.0)]
        for line in (start_of, lambda x: x + (start_of(x) - x) * left):
            base, slope = line(0.0), line(1.0) - line(0.0)
            if abs(slope) > 1e-12:
                bounds.append(((low - base) / slope, (high - base) / slope))
            elif not low <= base <= high:
                return None
        return self.root(lambda x: (start_of(x), x), max(b[0] for b in bounds), min(b[1] for b in bounds))

    def exact_pour(self, start):
        """What must be poured to come out at the start."""
        return None if start is None else brentq(lambda pour: self.mix(pour, self.room) - start, -2000, 2000, xtol=1e-12)


def newton(start, surroundings, k, time_s):
    """The solution of dT/dt = -k (T - Ts), compared below with the equation."""
    return surroundings + (start - surroundings) * math.exp(-k * time_s)


def near(figure, wanted, scale=1.0):
    if wanted is None:
        return math.isnan(figure)
    return not math.isnan(figure) and abs(figure - wanted) <= NEAR * max(scale, 1)


def judged_pour(scipy, pour):
    """The driver's word; None where the figure is too near a limit to tell."""
    case = scipy.case
    if pour is None or not 0 < pour < 100:
        return "none"
    low, high = case["low"] / KELVIN, case["high"] / KELVIN
    if min(abs(pour - low), abs(pour - high)) < 0.006:
        return None
    return "inside" if low <= pour <= high else "outside-window"


def compare(case, line):
    """What is wrong with the driver's answer, in words; empty where all agree. And which remedies exist."""
    scipy = Scipy(case)
    words = line.split()
    start, mid, end, mean, effective, pour = map(float, words[:6])
    bath, exact_start, surroundings = map(float, words[7:])
    wrong = []

    def expect(name, figure, wanted, scale=1.0):
        if not near(figure, wanted, scale):
            wrong.append(f"{name}: {figure!r}, by SciPy {wanted!r}")

    expect("start", start, scipy.start)
    expect("half way", mid, newton(scipy.start, scipy.room, scipy.k, scipy.time_s / 2))
    expect("end", end, newton(scipy.start, scipy.room, scipy.k, scipy.time_s))
    expect("mean", mean, quad(lambda t: newton(scipy.start, scipy.room, scipy.k, t), 0, scipy.time_s, epsabs=1e-10,
                              epsrel=1e-12)[0] / scipy.time_s)
    found = scipy.effective(scipy.start, scipy.room)
    expect("effective development", effective, found, found or 1)
    found = scipy.exact_start()
    expect("exact start", exact_start, found)
    exact_pour = scipy.exact_pour(found)
    is_pour = exact_pour is not None and 0 < exact_pour < 100
    expect("exact pour", pour, exact_pour if is_pour else None)
    word = judged_pour(scipy, exact_pour)
    if word and words[6] != word:
        wrong.append(f"the exact pour is {words[6]}, by SciPy {word}")
    found = scipy.exact_surroundings(lambda x: scipy.start)
    expect("exact surroundings", surroundings, found)
    if not case["has_before"]:  # a first bath: the tank stands in them before
        base, slope = scipy.mix(case["pour"] / KELVIN, 0.0), None
        slope = scipy.mix(case["pour"] / KELVIN, 1.0) - base
        found = scipy.exact_surroundings(lambda x: base + slope * x)
    reach = None if found is None else abs(found - scipy.nominal)
    if reach is None or abs(reach - REACH_K) > 1e-3:
        expect("water bath", bath, found if reach is not None and reach <= REACH_K else None)
    return wrong, is_pour, reach is not None and reach <= REACH_K, not math.isnan(effective), words[6]


def integrate(case):
    """The largest difference between the solution of Newton's law and its equation, over the step."""
    scipy = Scipy(case)
    times = [scipy.time_s * i / 8 for i in range(9)]
    solved = solve_ivp(lambda _, y: [-scipy.k * (y[0] - scipy.room)], (0, scipy.time_s), [scipy.start], t_eval=times,
                       rtol=1e-11, atol=1e-11)
    return max(abs(y - newton(scipy.start, scipy.room, scipy.k, t)) for t, y in zip(solved.t, solved.y[0]))


def main():
    if not os.access(DRIVER, os.X_OK):
        print(f"{DRIVER} is not built")
        sys.exit(77)
    warnings.simplefilter("ignore", IntegrationWarning)  # of the last digits, which are not compared
    chance = random.Random(SEED)
    cases = [random_case(chance) for _ in range(CASES)]
    text = "\n".join(line for _, line in cases) + "\n"
    done = subprocess.run([DRIVER], input=text.encode(), stdout=subprocess.PIPE, stderr=subprocess.PIPE, check=False)
    answers = done.stdout.decode().splitlines()
    if not harness.check(done.returncode == 0 and len(answers) == CASES, "the driver answers every case",
                         done.stderr.decode() + f"{len(answers)} answers"):
        harness.end()
    told = [compare(case, line) for (case, _), line in zip(cases, answers)]
    bad = [f"{cases[i][1]}\n  " + "\n  ".join(wrong) for i, (wrong, *_) in enumerate(told) if wrong]
    harness.check(not bad, f"{CASES} forecasts agree with SciPy to {NEAR}", "\n".join(bad[:5]) + f"\n{len(bad)} cases")
    worst = max(integrate(case) for case, _ in cases[:INTEGRATED])
    harness.check(worst < NEAR, "Newton's law solves its equation", worst)
    counts = {"pour": 0, "bath": 0, "effective": 0}
    for _, has_pour, has_bath, has_effective, _ in told:
        counts["pour"] += has_pour
        counts["bath"] += has_bath
        counts["effective"] += has_effective
    kinds = {word: sum(row[4] == word for row in told) for word in ("inside", "outside-window", "none")}
    print(f"    {counts}, {kinds}")
    for what, count in [*counts.items(), *kinds.items()]:
        harness.check(50 <= count <= CASES - 50 or (what == "effective" and count >= 50),
                      f"the cases are of both kinds: {what}", count)
    harness.end()


if __name__ == "__main__":
    main()
