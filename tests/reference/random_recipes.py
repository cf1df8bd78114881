"""Random recipes for timeline_twice.py: vessels, baths, steps and agitation of all kinds, in words and as values."""

from collections import namedtuple
from decimal import Decimal
from fractions import Fraction

from second_timeline import FAMILIES, ROLES, UNPOURED, Phase, Process, Solution, Step, Tank, agitations, decimal, \
    findings_of, tapping_of

PROCESSES_PER_FILE = 4
# Whatever may be departed from is: what is compared is the timeline.
ALLOWED = ("window-outside-usable jump-between-baths drift-leaves-window prewet-eats-window thermometer-unchecked "
           "colour-compensated total-over-limit development-too-short uneven-pour no-agitation fix-too-short "
           "no-developer no-fix fix-before-developer light-too-early no-wash-before-final-rinse wash-after-final-rinse carry-over "
           "stop-blisters wash-after-reversal-bath no-reversal first-wash-not-exact no-clearing no-neutraliser "
           "stabiliser-missing capacity-exceeded one-shot-reused too-little-developer never-used").split()


def seconds_text(chance, time):
    """A time in ms, spelt in one of the ways that mean it."""
    ways = [f"{Decimal(time) / 1000:f} s", f"{time} ms"]
    if time % 1000 == 0:
        whole = time // 1000
        ways += [f"{whole // 60}:{whole % 60:02}", f"{whole // 3600}:{whole // 60 % 60:02}:{whole % 60:02}",
                 f"{whole}sec"]
    if time % 60000 == 0:
        ways += [f"{time // 60000} min", f"{time // 60000}minutes"]
    return chance.choice(ways)


def decimal_text(fraction):
    """A decimal fraction in digits."""
    return f"{decimal(fraction):f}"


def some_time(chance, low, high):
    """A time in ms from `low` to `high` s: mostly round, sometimes to the millisecond."""
    kind = chance.random()
    if kind < 0.45:
        return max(low, chance.randint(low, high) // 5 * 5) * 1000 or 1000
    if kind < 0.85:
        return chance.randint(low, high) * 1000
    return chance.randint(low * 1000, high * 1000)


def random_tank(chance, number):
    fill, drain = ((0, 0) if chance.random() < 0.15 else
                   (some_time(chance, 1, 40), some_time(chance, 1, 40)))
    return Tank(f"tank-{number}", fill, drain, chance.random() < 0.15)


def random_solution(chance, number):
    tired = chance.random() < 0.4
    return Solution(f"bath-{number}", chance.choice([role for role in ROLES if role not in ("exposing", "drying")]),
                    Fraction(chance.randint(1, 120), 10) if tired else None, Fraction(chance.choice([1, 1, 2, 5])),
                    chance.random() < 0.3, Fraction(chance.randint(10, 40), 10),
                    chance.randint(0, 20) if tired else 0)


def random_phases(chance, low, tapping=0):
    """Phases of agitation that a step of `low` ms may have. Few of them overlap: such files are refused."""
    step, keep_any = Step(None, None, None), chance.random() < 0.01
    while True:
        step.phases = any_phases(chance, low)
        if keep_any or "agitation-overlaps" not in findings_of(step, agitations(step, low, low), tapping, low, low):
            return step.phases


def any_phases(chance, low):
    shortest = max(1, low // 1000)
    phases = []
    for number in range(chance.choice([0, 1, 1, 2, 2, 2, 3, 4])):
        kinds = ["continuously", "every", "every", "every"] + (["first"] * 4 if number == 0 else [])
        kind = chance.choice(kinds)
        if kind == "every":
            every = some_time(chance, max(2, low // 400000), min(180, shortest) + 3)
            lasts = min(chance.choice([1000, 5000, 10000, some_time(chance, 1, 15)]), every - 1)
            phases.append([kind, None, every, lasts])
        else:
            phases.append([kind, None, None, None])
        phases[-1][1] = some_time(chance, 1, max(2, shortest // 2) + 4)
    if phases and phases[-1][0] != "first" and chance.random() < 0.7:
        phases[-1][1] = None
    return [Phase(*phase) for phase in phases]


def random_step(chance, name, baths, family):
    """A step in a bath of {name: role}."""
    bath = chance.choice(list(baths))
    step = Step(name, bath, baths[bath])
    if chance.random() < 0.12:
        step.as_role = chance.choice(ROLES[:-1])
    if bath not in UNPOURED or chance.random() < 0.5:
        low = some_time(chance, 1, chance.choice([20, 120, 600, 1500]))
        form = chance.choice(["exact", "exact", "at-least", "range"])
        step.time = form, low, {"exact": low, "at-least": None, "range": low + some_time(chance, 1, 300)}[form]
    if bath == "light":
        step.expose = some_time(chance, 1, 60) if chance.random() < 0.8 else None
    if bath not in UNPOURED:
        working = Fraction(chance.randint(180, 400), 10)
        step.window = f"{decimal_text(working)} °C", working
        step.measure = chance.random() < 0.2
        if chance.random() < 0.85:
            taps = chance.randint(1, 6), chance.choice([None, some_time(chance, 1, 8)])
            taps = taps if chance.random() < 0.3 else None
            step.phases = random_phases(chance, step.time[1], tapping_of(taps))
            step.taps = taps if step.phases else None
        if chance.random() < 0.3:
            step.starts = chance.choice(["at first pour", "when full"])
        if chance.random() < 0.3:
            step.draining = chance.choice(["includes draining", "excludes draining"])
        if chance.random() < 0.4:
            step.round_to = chance.choice([to for to in (250, 500, 1000, 5000, 10000, 15000, 30000, 60000)
                                           if 2 * to <= max(500, step.time[1])])
        random_rate(chance, step, working, family)
    return step


def random_rate(chance, step, working, family):
    """How the time of a black-and-white developer follows its temperature, and sometimes what was measured."""
    has_rule = (family.startswith("black") and step.bath.startswith("bath-") and
                step.acts_as() in ("developer", "first-developer"))
    if not has_rule or chance.random() < 0.4:
        return
    rule = chance.choice(["table", "coefficient", "energy"])
    if rule == "table":
        low = working - Fraction(chance.randint(10, 50), 10)
        rows = [low, working + Fraction(chance.randint(1, 20), 10), working + Fraction(chance.randint(21, 60), 10)]
        times = sorted((some_time(chance, 60, 900) for _ in rows), reverse=True)
        if len(set(times)) == len(times):
            step.table = list(zip(rows, times))
    elif rule == "coefficient":
        step.coefficient = Fraction(chance.randint(10, 150), 10)
    else:
        step.energy = chance.randint(40, 110) * 1000
    if (step.table or step.coefficient or step.energy) and chance.random() < 0.6:
        step.at = working + Fraction(chance.randint(-9, 9), 10)


def poured_of(baths):
    return {bath: role for bath, role in baths.items() if bath not in UNPOURED}


def random_process(chance, name, tank, baths):
    process = Process(name, chance.choice(FAMILIES), tank)
    process.starts = chance.choice([None, None, "at first pour", "when full"])
    process.draining = chance.choice([None, None, "includes draining", "excludes draining"])
    for number in range(1, chance.randint(2, 10)):
        process.steps.append(random_step(chance, f"s-{number}", baths, process.family))
    process.steps.append(random_step(chance, f"s-{len(process.steps) + 1}", poured_of(baths), process.family))
    place_water(process)
    for step in process.steps:
        step.agitated_in = name, step.name
    process.lines = header_lines(process) + [line for step in process.steps for line in step_lines(chance, step)]
    return process


def place_water(process):
    """Water is a pre-wet before the first solution and a wash after it."""
    before = True
    for step in process.steps:
        if step.bath in ("water", "running water"):
            step.role = "pre-wet" if before else "wash"
        elif step.bath not in UNPOURED:
            before = False


def header_lines(process):
    lines = [f"develops {process.family}", f"tank {process.tank}", "rescue"]
    return lines + [f"time {said}" for said in
                    (process.starts and f"starts {process.starts}", process.draining) if said]


def time_words(chance, time):
    form, low, high = time
    low = seconds_text(chance, low)
    return {"exact": f"for {low}", "at-least": f"for at least {low}",
            "range": f"for {low} .. {seconds_text(chance, high) if high is not None else ''}"}[form]


def phase_words(chance, phases):
    parts = []
    for number, phase in enumerate(phases):
        lasts = "" if phase.length is None else seconds_text(chance, phase.length)
        if phase.kind == "first":
            parts.append(f"first {lasts}")
        elif phase.kind == "continuously":
            parts.append("continuously" + (lasts and f" for {lasts}"))
        else:
            then = "then " if number and chance.random() < 0.7 else ""
            parts.append(f"{then}{seconds_text(chance, phase.lasts)} every {seconds_text(chance, phase.every)}" +
                         (lasts and f" for {lasts}"))
    return "agitate " + ", ".join(parts) if parts else "agitate none"


def step_clauses(chance, step):
    clauses = []
    if step.phases is not None:
        clauses.append(phase_words(chance, step.phases))
    if step.taps:
        clauses.append(f"tap {step.taps[0]}{f' for {seconds_text(chance, step.taps[1])}' if step.taps[1] else ''} "
                       "after agitation")
    if step.starts:
        clauses.append(f"time starts {step.starts}")
    if step.draining:
        clauses.append(f"time {step.draining}")
    if step.expose is not None:
        clauses.append(f"expose {seconds_text(chance, step.expose)} each side")
    if step.measure:
        clauses.append("measure")
    if step.round_to:
        clauses.append(f"round to {seconds_text(chance, step.round_to)}")
    if step.table:
        rows = ", ".join(f"{decimal_text(row)} °C {seconds_text(chance, time)}" for row, time in step.table)
        clauses.append(f"time by maker {{ {rows} }}")
    if step.coefficient is not None:
        clauses.append(f"coefficient {decimal_text(step.coefficient)} % per K")
    if step.energy is not None:
        clauses.append(f"activation energy {step.energy // 1000} kJ/mol")
    chance.shuffle(clauses)
    return clauses


def step_lines(chance, step, where=""):
    """A whole step in words, its parts and clauses in any order."""
    parts = [f"in {step.bath}"]
    if step.as_role:
        parts.append(f"as {step.as_role}")
    if step.window:
        parts.append(f"at {step.window[0]}")
    if step.time:
        parts.append(time_words(chance, step.time))
    if where:
        parts.append(where)
    chance.shuffle(parts)
    clauses = step_clauses(chance, step)
    opening = f"step {step.name} {' '.join(parts)}"
    if not clauses:
        return [opening]
    if chance.random() < 0.5:
        return [f"{opening} {{ {'; '.join(clauses)} }}"]
    return [opening + " {", *("  " + clause for clause in clauses), "}"]


def random_variant(chance, name, parent, baths):
    """A process that takes everything of `parent` and names what changes."""
    process = Process(name, parent.family, parent.tank, parent)
    process.starts, process.draining = parent.starts, parent.draining
    process.steps = [step.copy() for step in parent.steps]
    if chance.random() < 0.4:
        process.starts = chance.choice(["at first pour", "when full"])
        process.lines.append(f"time starts {process.starts}")
    touched = set()
    for step in chance.sample(process.steps, min(2, len(process.steps))):
        if step.bath in UNPOURED or step.taps:
            continue
        touched.add(step.name)
        if chance.random() < 0.6:
            step.time = "exact", *[max(some_time(chance, 5, 900), 2 * (step.round_to or 0))] * 2
            process.lines.append(f"step {step.name} {time_words(chance, step.time)}")
        else:
            step.phases, step.agitated_in = random_phases(chance, step.time[1]), (name, step.name)
            process.lines.append(f"step {step.name} {{ {phase_words(chance, step.phases)} }}")
    rest = [step for step in process.steps[:-1] if step.name not in touched]
    if rest and chance.random() < 0.5:
        gone = chance.choice(rest)
        process.steps.remove(gone)
        process.lines.append(f"without step {gone.name}")
    if chance.random() < 0.5:
        place = chance.randrange(len(process.steps))
        after = chance.random() < 0.5
        new = random_step(chance, f"new-{name}", poured_of(baths), process.family)
        new.agitated_in = name, new.name
        where = f"{'after' if after else 'before'} {process.steps[place].name}"
        process.lines += step_lines(chance, new, where)
        process.steps.insert(place + (1 if after else 0), new)
    place_water(process)
    return process


Case = namedtuple("Case", "source processes tanks solutions correction")


def tank_line(chance, tank):
    clauses = ["holds 1 L", "takes 4 x 135"]
    if tank.fill:
        clauses += [f"fill {seconds_text(chance, tank.fill)}", f"drain {seconds_text(chance, tank.drain)}"]
    if tank.lowered:
        clauses.append("reels lowered")
    return f"tank {tank.name} {{ {'; '.join(clauses)} }}"


def solution_lines(solution):
    clauses = [f"role {solution.role}", "reuse", "hazards none", "waste none", "usable 5 .. 50 °C"]
    if solution.percent is not None:
        clauses.append(f"lengthen {decimal_text(solution.percent)} % per roll per {solution.per} L, "
                       f"{'compounded' if solution.compounded else 'added up'}")
    lines = [f"solution {solution.name} {{ {'; '.join(clauses)} }}"]
    if solution.done:
        lines.append(f"on hand {solution.name} {decimal_text(solution.volume)} L done {solution.done} rolls")
    return lines


def random_case(chance):
    """One file with its tanks, baths and processes."""
    tanks = {tank.name: tank for tank in (random_tank(chance, number) for number in range(1, 4))}
    solutions = {some.name: some for some in (random_solution(chance, number) for number in range(1, 9))}
    baths = {some.name: some.role for some in solutions.values()}
    baths.update({"water": "wash", "running water": "wash", "light": "exposing", "air": "drying", "cabinet": "drying"})
    correction = Fraction(chance.randint(-8, 8), 10)
    processes = []
    for number in range(PROCESSES_PER_FILE):
        if processes and chance.random() < 0.4:
            processes.append(random_variant(chance, f"p-{number}", chance.choice(processes), baths))
        else:
            processes.append(random_process(chance, f"p-{number}", chance.choice(list(tanks)), baths))
    lines = ["wetside 1", "dryer cabinet { takes 40 rolls; for 2 h }",
             f"thermometer glass {{ reads 0.1 °C; correction {decimal_text(correction)} °C }}"]
    lines += [f'allow {name} "compared with another timeline"' for name in ALLOWED]
    lines += [tank_line(chance, tank) for tank in tanks.values()]
    lines += [line for some in solutions.values() for line in solution_lines(some)]
    for process in processes:
        lines.append(f"process {process.name}{f' from {process.parent.name}' if process.parent else ''} {{")
        said = process.lines + ([] if process.parent else ["thermometer glass"])
        lines += ["  " + line for line in said] + ["}"]
    return Case("\n".join(lines) + "\n", processes, tanks, solutions, correction)
