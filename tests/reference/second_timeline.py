"""A second timeline, written from docs/language.md (sections 8 to 11) and docs/cues.md alone, in whole milliseconds and
fractions: for timeline_twice.py."""

from collections import namedtuple
from decimal import Decimal, getcontext
from fractions import Fraction

getcontext().prec = 50

# --- what the documents say of a role, a family and a bath -----------------------------------------------------------

ROLES = ["pre-wet", "pre-bath", "backing-removal", "pre-hardener", "neutraliser", "developer", "first-developer",
         "colour-developer", "monobath", "reversal-bath", "fogging", "exposing", "stop", "hardener", "pre-bleach",
         "conditioner", "bleach", "bleach-fix", "clearing", "fix", "wash-aid", "rinse", "wash", "stabiliser",
         "final-rinse", "wetting-agent", "toner", "drying"]
DIPPED = ("stabiliser", "final-rinse", "wetting-agent")
FIXES = ("monobath", "bleach-fix", "fix")
DRIES = ("air", "cabinet")
UNPOURED = ("light", *DRIES)
FAMILIES = ("black-and-white-negative", "black-and-white-reversal", "C-22", "C-41", "C-41RA", "ECN-2", "ECP-2E", "E-1",
            "E-2", "E-3", "E-4", "E-6", "K-11", "K-12", "K-14", "RA-4")
ABOUT_AGITATION = ("agitation-overlaps", "agitation-past-end", "agitation-in-drain")
# Families that bear light elsewhere than at the end of the fix: in the first step of which roles, and how long after
# its start (None: at its end).
LIGHT = {family: (("exposing", "fogging"), None) for family in ("black-and-white-reversal", "E-1", "E-2", "E-3")}
LIGHT.update({family: (("bleach", "bleach-fix"), None) for family in ("C-41", "C-41RA", "RA-4")})
LIGHT["E-6"] = ("reversal-bath", "exposing"), 60000
FIX_BEFORE_LIGHT = 120000  # black-and-white negative

Tank = namedtuple("Tank", "name fill drain lowered")
Solution = namedtuple("Solution", "name role percent per compounded volume done")
# A phase of agitation: "first", "continuously" or "every"; times in ms, None where not said.
Phase = namedtuple("Phase", "kind length every lasts")
Moments = namedtuple("Moments", "pour full start time_end drain end latest_end light")
Cue = namedtuple("Cue", "at step kind until count rings assumes_earliest")
Timeline = namedtuple("Timeline", "moments cues totals findings")


class Process:
    """One process, resolved: every step with all that holds for it."""

    def __init__(self, name, family, tank, parent=None):
        self.name, self.family, self.tank, self.parent = name, family, tank, parent
        self.starts = self.draining = None  # as said for all steps
        self.steps, self.lines = [], []

    def as_declared(self):
        """The process without what was measured."""
        other = Process(self.name, self.family, self.tank, self.parent)
        other.starts, other.draining = self.starts, self.draining
        other.steps = [step.copy() for step in self.steps]
        for step in other.steps:
            step.at = None
        return other


class Step:
    """One step as declared: times in ms, a clause that is not said is None."""

    def __init__(self, name, bath, role):
        self.name, self.bath, self.role, self.as_role = name, bath, role, None
        self.time = None  # form, low, high
        self.phases = self.taps = self.expose = self.starts = self.draining = self.round_to = None
        self.window = None  # text, working point in °C as a fraction
        self.table = self.coefficient = self.energy = None
        self.at = None  # the thermometer read this
        self.measure = False
        self.agitated_in = None  # process and step whose sentence says the agitation

    def copy(self):
        other = Step(self.name, self.bath, self.role)
        other.__dict__.update(self.__dict__)
        return other

    def acts_as(self):
        return self.as_role or self.role


# --- the time that is used -------------------------------------------------------------------------------------------


def decimal(fraction):
    return Decimal(fraction.numerator) / Decimal(fraction.denominator)


def half_up(time, to):
    """A time in ms, a fraction, rounded to a multiple of `to`, half up."""
    return (time / to + Fraction(1, 2)) // 1 * to


def log_time(table, temperature):
    """Read on a straight line of the logarithm of time."""
    for (low, time_low), (high, time_high) in zip(table, table[1:]):
        if low <= temperature <= high:
            share = decimal((temperature - low) / (high - low))
            return Decimal(time_low).ln() * (1 - share) + Decimal(time_high).ln() * share
    raise ValueError("outside the table")


def slower(step, correction):
    """1/r(T): what the measured temperature does to the time."""
    working, measured = step.window[1], step.at + correction
    if step.table:
        return Fraction((log_time(step.table, measured) - log_time(step.table, working)).exp())
    if step.coefficient is not None:
        return Fraction(decimal(-step.coefficient / 100 * (measured - working)).exp())
    zero, gas_constant = Fraction("273.15"), Fraction("8.31446261815324")  # kelvin; J/(mol K), exact since 2019
    return Fraction(decimal(step.energy / gas_constant * (1 / (measured + zero) - 1 / (working + zero))).exp())


def lengthened(solution):
    """What the film that the bath has done does to the time."""
    share, film = solution.percent / 100, solution.done * solution.per / solution.volume
    return Fraction((1 + decimal(share)) ** decimal(film)) if solution.compounded else 1 + share * film


def used_time(step, solutions, correction):
    """The step's time in this run: form, low, high. A step without one takes none, an exposing one both its sides."""
    if step.time is None:
        both = 2 * step.expose if step.expose is not None else 0
        return "exact", both, both
    form, low, high = step.time
    solution = solutions.get(step.bath)
    is_tired = solution is not None and solution.done > 0 and solution.percent is not None
    if not is_tired and step.at is None:
        return step.time
    factor = (lengthened(solution) if is_tired else 1) * (slower(step, correction) if step.at is not None else 1)
    to = step.round_to or 1000
    return form, half_up(low * factor, to), None if high is None else half_up(high * factor, to)


# --- the timeline ----------------------------------------------------------------------------------------------------


def place(process, step, tank, time, pour):
    """The moments of a step that is poured at `pour`."""
    form, low, high = time
    is_filled = step.bath not in UNPOURED and step.acts_as() not in DIPPED and not tank.lowered
    fill, drain = (tank.fill, tank.drain) if is_filled else (0, 0)
    start = pour if (step.starts or process.starts or "at first pour") == "at first pour" else pour + fill
    time_end = start + low
    if (step.draining or process.draining or "includes draining") == "includes draining":
        drain_at, over = max(start, time_end - drain), time_end
    else:
        drain_at, over = time_end, time_end + drain
    latest = over + high - low if form == "range" and high > low else None
    return Moments(pour, pour + fill, start, time_end, drain_at, over, latest, None)


def agitations(step, time, drain_after):
    """Starts and ends of the agitations, in ms after the step's time started."""
    found, begun = [], 0
    for phase in step.phases or []:
        if phase.kind == "every":
            number = 1
            while begun + number * phase.every < time and (
                    phase.length is None or number * phase.every <= phase.length):
                found.append((begun + number * phase.every, begun + number * phase.every + phase.lasts))
                number += 1
        else:
            ends = drain_after if phase.length is None else begun + phase.length
            if begun < min(time, ends):
                found.append((begun, ends))
        begun += phase.length or 0
    return found


def tapping_of(taps):
    """How long taps take: a number and a time, None where not said."""
    if not taps:
        return 0
    return taps[0] * 1000 if taps[1] is None else taps[1]


def findings_of(step, bursts, tapping, time, drain_after):
    """The first of the findings about agitation that fits: each silences those after it."""
    ends = [burst_end + tapping for _, burst_end in bursts]
    for phase in step.phases or []:
        if phase.kind == "every" and (phase.lasts >= phase.every or bursts and phase.lasts + tapping > phase.every):
            return {"agitation-overlaps"}
    if any(burst_end > begins for burst_end, (begins, _) in zip(ends, bursts[1:])):
        return {"agitation-overlaps"}
    # What goes on until the tank drains meets neither, whenever that is; taps after it do.
    is_open = bool(bursts) and step.phases[-1].kind == "continuously" and step.phases[-1].length is None
    if is_open and not tapping and bursts[-1][0] == sum(phase.length or 0 for phase in step.phases):
        ends.pop()
    if any(burst_end > time for burst_end in ends):
        return {"agitation-past-end"}
    return {"agitation-in-drain"} if any(burst_end > drain_after for burst_end in ends) else set()


def cues_of(number, step, at, assumes, findings):
    """The cues of one step, but for its light."""
    cues = []

    def add(moment, kind, rings, until=None, count=None):
        cues.append(Cue(moment, number, kind, until, count, rings, assumes))

    is_poured = step.bath not in UNPOURED
    if step.measure:
        add(at.pour, "measure", False)
    if is_poured:
        add(at.pour, "pour", True)
    if at.full > at.pour:
        add(at.full, "full", False)
    if not is_poured or at.start > at.pour:
        add(at.start, "start", False)
    if step.bath == "light":
        add(at.start, "expose", True, at.time_end if at.time_end > at.start else None)
    tapping = tapping_of(step.taps)
    bursts = agitations(step, at.time_end - at.start, at.drain - at.start)
    for count, (begins, ends) in enumerate(bursts, 1):
        add(at.start + begins, "agitation-start", True, at.start + ends, count)
        add(at.start + ends, "agitation-end", True, None, count)
        if step.taps:
            add(at.start + ends, "taps", False, at.start + ends + tapping, step.taps[0])
    if is_poured:
        if at.drain - at.start >= 20000:
            add(at.drain - 10000, "drain-soon", True, at.drain)
        add(at.drain, "drain", True, at.end if at.end > at.drain else None)
    add(at.end, "end", True)
    if at.latest_end is not None:
        add(at.latest_end, "latest-end", True)
    findings |= {(number, name)
                 for name in findings_of(step, bursts, tapping, at.time_end - at.start, at.drain - at.start)}
    return cues


def light_of(family, steps, moments):
    """The number of the step and the moment from which white light is borne; None where the process has none."""
    def among(roles):
        return [number for number, step in enumerate(steps) if step.acts_as() in roles]

    fixes = among(FIXES)
    if family == "black-and-white-negative":
        still = FIX_BEFORE_LIGHT
        for number in fixes:
            at = moments[number]
            if steps[number].acts_as() != "fix":
                return number, at.end
            if at.end - at.start >= still:
                return number, at.start + still
            still -= at.end - at.start
        return (fixes[-1], moments[fixes[-1]].end) if fixes else None
    roles, wait = LIGHT.get(family, ((), None))
    for number in among(roles)[:1]:
        at = moments[number]
        if steps[number].acts_as() == "exposing":
            return number, at.start
        return number, at.end if wait is None else min(at.start + wait, at.end)
    return (fixes[0], moments[fixes[0]].end) if fixes else None


def totals_of(process, times, moments):
    """Shortest and longest wet time and time in all, in ms; the longest None where a step has no upper end. The wet
    time runs from the first pour to the last drain and leaves drying out."""
    poured = [number for number, step in enumerate(process.steps) if step.bath not in UNPOURED]
    wet = [number for number in range(poured[0], poured[-1] + 1) if process.steps[number].bath not in DRIES]
    totals = {}
    for key, numbers in (("wet", wet), ("total", range(len(process.steps)))):
        shortest = sum(moments[number].end - moments[number].pour for number in numbers)
        open_ended = any(times[number][2] is None for number in numbers)
        totals[f"{key}_min_s"] = shortest
        totals[f"{key}_max_s"] = None if open_ended else shortest + sum(
            times[number][2] - times[number][1] for number in numbers)
    return totals


def timeline(process, tank, solutions, correction):
    """The moments of each step, the cues, the totals and what is to be found about agitation, as (step, id)."""
    moments, cues, findings, moment = [], [], set(), 0
    times = [used_time(step, solutions, correction) for step in process.steps]
    for number, (step, time) in enumerate(zip(process.steps, times), 1):
        at = place(process, step, tank, time, moment)
        assumes = any(form != "exact" for form, _, _ in times[:number - 1])
        cues += cues_of(number, step, at, assumes, findings)
        moments.append(at)
        moment = at.end
    light = light_of(process.family, process.steps, moments)
    if light:
        number, moment = light
        moments[number] = moments[number]._replace(light=moment)
        assumes = any(form != "exact" for form, _, _ in times[:number])
        cues.append(Cue(moment, number + 1, "light", None, None, False, assumes))
    return Timeline(moments, cues, totals_of(process, times, moments), findings)
