"""Makes a case that differs smaller, as long as it still differs."""

from copy import deepcopy
from dataclasses import fields
from fractions import Fraction

from processes import Conditions, Process, Step, Volume

TRIALS = 400
OPTIONAL = [one.name for one in fields(Step) if one.name not in ("name", "bath", "window", "time")]


def ancestors(recipe, name):
    found = []
    while name:
        found.append(name)
        name = recipe.process(name).parent
    return found


def changed(case, change):
    """A copy of a case with something done to it."""
    copy = deepcopy(case)
    change(copy, copy.recipe, copy.recipe.process(copy.process))
    return copy


def without_others(_, recipe, process):
    keep = ancestors(recipe, process.name)
    recipe.processes = [one for one in recipe.processes if one.name in keep]


def flattened(_, recipe, process):
    whole = recipe.resolved(process)
    whole.name, whole.parent = process.name, None
    recipe.processes = [whole]


def another(name):
    """A change to what is found in another process, as it is declared."""
    def change(case, _, __):
        case.process, case.run = name, Conditions()
    return change


def without_baths(_, recipe, __):
    used = {step.bath for process in recipe.processes for step in process.steps}
    recipe.solutions = [one for one in recipe.solutions if one.name in used]


def without_tanks(_, recipe, __):
    used = {process.tank for process in recipe.processes}
    recipe.tanks = [one for one in recipe.tanks if one.name in used]
    if not any(process.thermometer for process in recipe.processes):
        recipe.thermometers = []
    if not any(step.bath == recipe.dryer for process in recipe.processes for step in process.steps):
        recipe.dryer = None


def set_to(part, name, value):
    """A change of one field; `part` finds whose."""
    return lambda case, recipe, process: setattr(part(case, recipe, process), name, value)


def step_changes(number, step):
    def part(_, __, process):
        return process.steps[number]

    for name in OPTIONAL:
        if getattr(step, name):
            yield set_to(part, name, None)
    for index in range(len(step.phases or [])):
        yield lambda _, __, process, at=index: process.steps[number].phases.pop(at)
    if step.time:
        for to in (60_000, 10_000, 1000):
            if step.time.low % to:
                yield lambda _, __, process, to=to: setattr(process.steps[number].time, "low",
                                                            max(to, step.time.low // to * to))


def changes(case):
    """Everything that might be left out."""
    process, recipe = case.recipe.process(case.process), case.recipe
    if len(recipe.processes) > len(ancestors(recipe, case.process)):
        yield without_others
        yield from (another(one.name) for one in recipe.processes if one.name != case.process)
    if process.parent:
        yield flattened
    yield without_baths
    yield without_tanks
    for name in case.run.at:
        yield lambda case, _, __, name=name: case.run.at.pop(name)
    for name in case.run.done:
        yield lambda case, _, __, name=name: case.run.done.pop(name)
    if case.run.done_all is not None:
        yield lambda case, _, __: setattr(case.run, "done_all", None)
    if not process.parent:
        for number in range(len(process.steps)):
            yield lambda case, _, process, at=number: case.run.at.pop(process.steps.pop(at).name, None)
        for number, step in enumerate(process.steps):
            yield from step_changes(number, step)
    for one in fields(Process):
        if one.name not in ("name", "family", "tank", "steps", "parent") and getattr(process, one.name):
            yield set_to(lambda _, __, process: process, one.name, one.default if one.default is None else type(
                getattr(process, one.name))())
    for index, tank in enumerate(recipe.tanks):
        for name in ("fill", "drain", "emptied"):
            if getattr(tank, name) is not None:
                yield set_to(lambda _, recipe, __, at=index: recipe.tanks[at], name, None)
        if (tank.holds.number, tank.holds.unit) != (1, "L"):
            yield set_to(lambda _, recipe, __, at=index: recipe.tanks[at], "holds", Volume(Fraction(1), "L"))
    for index, solution in enumerate(recipe.solutions):
        for name in ("use", "usable", "lengthen", "kit", "on_hand"):
            if getattr(solution, name) is not None:
                yield set_to(lambda _, recipe, __, at=index: recipe.solutions[at], name, None)


def shrunk(case, still_differs):
    """The smallest case found that still differs."""
    trials, goes_on = 0, True
    while goes_on:
        goes_on = False
        for change in changes(case):
            smaller = changed(case, change)
            if vars(smaller) == vars(case):
                continue
            trials += 1
            if trials > TRIALS:
                return case
            if still_differs(smaller):
                case, goes_on = smaller, True
                break
    return case
