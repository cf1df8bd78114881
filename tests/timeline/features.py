"""What a case is made of: the mix of cases has to be broad."""

from reckoning import COLOUR, DEVELOPERS, DIPPED


def of_time(whole, step):
    yield "for " + step.time.form if step.time else "without for"
    yield {"pour": "step starts at first pour", "full": "step starts when full", None: "start unsaid"}[
        step.starts or whole.starts]
    yield f"time {step.draining or whole.draining or 'unsaid of'} draining"
    if step.starts and whole.starts and step.starts != whole.starts:
        yield "step says another start than its process"
    if step.draining and whole.draining and step.draining != whole.draining:
        yield "step says another drain than its process"


def of_agitation(step):
    if step.phases is not None:
        yield "agitate none" if not step.phases else f"{min(len(step.phases), 3)} phases or more"
    for phase in step.phases or []:
        yield phase.kind + (" for" if phase.length is not None and phase.kind != "first" else "")
    if step.taps:
        yield "taps with a time" if step.taps[1] else "taps"


def of_step(recipe, step):
    for name in ("role", "measure", "expose", "round_to", "pour_at", "mean", "changes", "flow", "lights"):
        if getattr(step, name):
            yield "step: " + name
    if step.rate:
        yield "rate: " + step.rate.kind + (" by maker" if step.rate.by_maker else "")
    if step.window:
        kind = "range" if step.window.high else "tolerance" if step.window.tolerance else "point"
        yield f"window: {kind}"
        yield f"temperatures in °{step.window.point.unit}"
    yield "bath: " + (step.bath if step.bath in ("water", "running water", "light", "air") else
                      "solution" if recipe.solution(step.bath) else "dryer")
    times = [step.time.low, step.time.high or 0] if step.time else []
    if any(time % 1000 for time in times):
        yield "fraction of a second"


def of_process(recipe, process, whole):
    if process.parent:
        yield "variant of a variant" if recipe.process(process.parent).parent else "variant"
        for name in ("without", "changed", "steps"):
            if getattr(process, name):
                yield "variant: " + name
    for name in ("push", "rescue", "wet_limit", "load", "thermometer"):
        if getattr(whole, name):
            yield "process: " + name
    yield "family: " + whole.family if whole.family not in COLOUR or whole.family == "E-6" else "family: other colour"
    tank = recipe.tank(whole.tank)
    yield "tank: " + (tank.emptied or "emptying unsaid")
    said = [name for name in ("fill", "drain") if getattr(tank, name)]
    yield "tank: " + (" and ".join(said) or "neither fill nor drain")
    yield "volumes: " + (tank.holds.unit[:2] if tank.holds.unit[:2] in ("US", "UK") else "metric")


def of_run(case, whole):
    if case.run.done_all is not None:
        yield "--done for all"
    for step in whole.steps:
        solution = case.recipe.solution(step.bath)
        if step.name in case.run.at:
            yield "--at with " + (step.rate.kind if step.rate else "no rule")
            if case.recipe.correction(whole.thermometer):
                yield "--at corrected"
            if step.pour_at:
                yield "--at of a pour"
        if solution and solution.lengthen and (solution.name in case.run.done or solution.on_hand):
            yield "tired bath, " + ("compounded" if solution.lengthen[2] else "added up")
            yield "tired bath, " + ("on hand" if solution.on_hand else "powder" if solution.kit and solution.is_powder
                                    else "liquid" if solution.kit else "as the tank holds")


def of_timeline(wanted):
    found = wanted.reckoning
    for number, moments in enumerate(found.moments):
        fill, drain = found.fill_and_drain(number)
        if drain and moments.drain == moments.start and found.includes_draining(found.steps[number]):
            yield "bath shorter than its drain"
        if found.roles[number] in DIPPED:
            yield "dipped"
        if found.roles[number] in DEVELOPERS and number in found.used and fill:
            yield "development of another time"
        if moments.latest_end is not None and any(later.pour < moments.latest_end < later.end
                                                  for later in found.moments[number + 2:]):
            yield "latest end after the next step"
        bursts = found.bursts[number]
        if any(one.end == other.start for one, other in zip(bursts, bursts[1:])):
            yield "agitations that meet"
    if found.light:
        role = found.roles[found.light[0]]
        borne, (lit, at) = found.light_borne(), found.light
        if found.light != borne:
            yield "light waits for the recipe"
        if at > found.moments[lit].end:
            yield "light behind the earliest end"
        yield "light at " + (role if role in ("exposing", "reversal-bath", "fogging", "fix") else "another bath")
    if any(number and found.roles[number - 1] == "drying" for number in range(len(found.steps))):
        yield "drying between baths"


def features(case, wanted):
    """The names of all that a case has."""
    whole = case.recipe.resolved(case.recipe.process(case.process))
    found = {*of_process(case.recipe, case.recipe.process(case.process), whole), *of_run(case, whole)}
    for step in whole.steps:
        found |= {*of_time(whole, step), *of_agitation(step), *of_step(case.recipe, step)}
    found |= {"finds " + name for name, _ in wanted.findings} | {"refused for " + name for name in wanted.refusals}
    if not wanted.refusals:
        found |= set(of_timeline(wanted))
    return found
