"""The timeline of a process, a second time: written from docs/language.md (sections 9 to 11), docs/formulas.md and
docs/cues.md alone. Times are whole milliseconds, all other sums exact fractions; exponentials and logarithms have forty
digits. Each rule of the documents is one method of Reckoning, so that a test can replace it by a wrong one."""

from dataclasses import dataclass
from decimal import Decimal, localcontext
from fractions import Fraction

DIPPED = ("stabiliser", "final-rinse", "wetting-agent")
DEVELOPERS = ("developer", "first-developer", "colour-developer")
FIXES = ("fix", "bleach-fix", "monobath")
COLOUR = ("C-22", "C-41", "C-41RA", "ECN-2", "ECP-2E", "E-1", "E-2", "E-3", "E-4", "E-6", "K-11", "K-12", "K-14",
          "RA-4")
SILENT = ("measure", "full", "start", "taps", "light")
DIGITS = 40
GAS_CONSTANT = Fraction("8.314462618")
ANY_MEANT = 10 ** 12  # the denominator of a fraction beyond it is of an exponential
MOST_AGITATIONS = 5000
LONGEST = 3650 * 24 * 3600 * 1000
# At one instant of one step: what is over goes before what begins.
ORDER = ("measure", "pour", "full", "start", "expose", "agitation-end", "taps", "agitation-start", "light",
         "drain-soon", "drain", "end", "latest-end")


class TooNear(Exception):
    """A sum that lies so near a half that double precision may round it either way, or a step without all measure."""


class Refused(Exception):
    """A run that may not be: the argument is the id of the check that says so."""


@dataclass
class Moments:
    """Of one step, in ms since the run's start."""

    pour: int
    full: int
    start: int
    time_end: int
    drain: int
    end: int
    latest_end: int = None


@dataclass
class Agitation:
    """In ms since the step's time started; `open` is one that lasts until the tank drains."""

    start: int
    end: int
    phase: int
    open: bool = False


@dataclass(frozen=True)
class Cue:
    at: int
    step: int
    kind: str
    until: int = None
    count: int = None
    assumes: bool = False

    @property
    def rings(self):
        return self.kind not in SILENT


def decimal(fraction):
    return Decimal(fraction.numerator) / Decimal(fraction.denominator)


class Reckoning:
    """The timeline of one process in one run."""

    def __init__(self, recipe, process, run):
        self.recipe, self.run = recipe, run
        self.process = recipe.resolved(process)
        self.steps = self.process.steps
        self.tank = recipe.tank(self.process.tank)
        self.findings, self.used = set(), {}
        self.roles = [self.role_of(number) for number in range(len(self.steps))]
        for number in range(len(self.steps)):
            self.check_light(number)
        self.times = [self.time_of(number) for number in range(len(self.steps))]
        self.moments = self.lay()
        self.light = self.light_of()
        self.bursts = [self.agitations_of(number) for number in range(len(self.steps))]
        self.judge()
        self.cues = self.all_cues()

    # --- steps (section 9) ---

    def role_of(self, number):
        step = self.steps[number]
        if step.role:
            return step.role
        if step.bath in ("water", "running water"):
            before = any(self.recipe.solution(one.bath) for one in self.steps[:number])
            return "wash" if before else "pre-wet"
        if step.bath == "light":
            return "exposing"
        solution = self.recipe.solution(step.bath)
        return solution.role if solution else "drying"

    def is_poured(self, number):
        bath = self.steps[number].bath
        return bath in ("water", "running water") or self.recipe.solution(bath) is not None

    def bottle_of(self, number):
        baths = [step.bath for step in self.steps[:number + 1] if self.recipe.solution(step.bath)]
        if not self.recipe.solution(self.steps[number].bath):
            return None
        return list(dict.fromkeys(baths)).index(self.steps[number].bath) + 1

    # --- the time that is used (section 10) ---

    def declared_time(self, number):
        """Form, low, high; high is None where there is no upper end."""
        step = self.steps[number]
        if step.time is None:
            low = 2 * step.expose if step.expose else 0
            return "exact", low, low
        if step.time.form == "range":
            if step.time.high <= step.time.low:
                raise Refused("window-empty")
            return "range", step.time.low, step.time.high
        return step.time.form, step.time.low, step.time.low if step.time.form == "exact" else None

    def volume_of(self, solution):
        """Of the bath in hand, in mL. Of a pooled powder there are whole kits; a liquid is divided by measure."""
        if solution.on_hand:
            return solution.on_hand[0].millilitres
        holds = self.tank.holds.millilitres
        if solution.kit and solution.is_powder:
            kit = solution.kit.millilitres
            return -(-holds // kit) * kit
        return holds

    def done_by(self, solution):
        if solution.name in self.run.done:
            return self.run.done[solution.name]
        if self.run.done_all is not None and solution.use == "reuse":
            return self.run.done_all
        return solution.on_hand[1] if solution.on_hand else Fraction(0)

    def lengthening(self, solution):
        """What the film that the bath has done does to the time."""
        if solution is None or solution.lengthen is None:
            return Fraction(1)
        percent, per, compounded = solution.lengthen
        often = self.done_by(solution) * per.millilitres / self.volume_of(solution)
        if not compounded:
            return 1 + percent / 100 * often
        if often.denominator == 1:
            return (1 + percent / 100) ** often.numerator
        with localcontext() as context:
            context.prec = DIGITS
            return Fraction((decimal(1 + percent / 100).ln() * decimal(often)).exp())

    def log_time(self, rows, celsius):
        """By a table: an exact time in ms at a row, else None; and its logarithm."""
        for (low, long), (high, short) in zip(rows, rows[1:]):
            if low <= celsius <= high:
                exact = long if celsius == low else short if celsius == high else None
                share = decimal((celsius - low) / (high - low))
                return exact, Decimal(long).ln() + (Decimal(short).ln() - Decimal(long).ln()) * share
        raise Refused("outside-time-table")

    def slowness(self, rate, working, celsius):
        """1/r(T)."""
        if celsius == working:
            return Fraction(1)
        with localcontext() as context:
            context.prec = DIGITS
            if rate.kind == "coefficient":
                return Fraction(decimal(-rate.number / 100 * (celsius - working)).exp())
            if rate.kind == "energy":
                kelvin = [temperature + Fraction("273.15") for temperature in (working, celsius)]
                return Fraction(decimal(rate.number / GAS_CONSTANT * (1 / kelvin[1] - 1 / kelvin[0])).exp())
            rows = [(temperature.celsius, time) for temperature, time in rate.rows]
            (exact, log), (exact_working, log_working) = self.log_time(rows, celsius), self.log_time(rows, working)
            if exact is not None and exact_working is not None:
                return Fraction(exact, exact_working)
            return Fraction((log - log_working).exp())

    def true_temperature(self, step):
        """At which the step is taken to work, by its reading."""
        celsius = self.run.at[step.name].celsius + self.recipe.correction(self.process.thermometer)
        if step.pour_at:
            celsius += self.works_at(step).working - step.pour_at.working
        return celsius

    def works_at(self, step):
        return step.mean or step.window

    def needs_no_rule(self, step):
        """Whether the measured temperature lies in the window of the pour."""
        low, high = (step.pour_at or step.window).ends
        return low <= self.run.at[step.name].celsius + self.recipe.correction(self.process.thermometer) <= high

    def slower(self, number):
        """What the measured temperature does to the time: None where there is none or it needs no rule."""
        step, role = self.steps[number], self.roles[number]
        if step.name not in self.run.at:
            return None
        celsius, rate = self.true_temperature(step), step.rate
        solution = self.recipe.solution(step.bath)
        low, high = self.works_at(step).ends
        is_colour = self.process.family in COLOUR and role in (*DEVELOPERS, "monobath")
        if rate is None or is_colour and not rate.by_maker:
            if self.needs_no_rule(step):
                return None
            raise Refused("outside-time-table")
        if rate.kind != "table":
            usable = solution.usable if solution and solution.usable else None
            low, high = usable.ends if usable else (low, high)
            if not low <= celsius <= high:
                raise Refused("outside-time-table")
        return self.slowness(rate, self.works_at(step).working, celsius)

    def rounded(self, exact, to):
        """Half up to a multiple of `to`."""
        units = exact / to + Fraction(1, 2)
        whole = units.__floor__()
        if units.denominator > ANY_MEANT and abs(units - round(units)) < Fraction(1, 10 ** 9):
            raise TooNear
        if not 0 < whole * to <= LONGEST:
            raise Refused("figure-out-of-range")
        return whole * to

    def check_table(self, step):
        if step.rate and step.rate.kind == "table":
            rows = [temperature.celsius for temperature, _ in step.rate.rows]
            if not rows[0] <= self.works_at(step).working <= rows[-1]:
                raise Refused("outside-time-table")

    def time_of(self, number):
        step = self.steps[number]
        form, low, high = self.declared_time(number)
        self.check_table(step)
        slower = self.slower(number)
        longer = self.lengthening(self.recipe.solution(step.bath))
        if slower is None and longer == 1:
            return form, low, high
        to, factor = step.round_to or 1000, longer * (1 if slower is None else slower)
        low, high = (None if time is None else self.rounded(time * factor, to) for time in (low, high))
        self.used[number] = low, high
        return "exact" if low == high else form, low, high

    # --- from one bath to the next ---

    def fill_and_drain(self, number):
        if not self.is_poured(number) or self.roles[number] in DIPPED or self.tank.emptied == "reels lowered":
            return 0, 0
        return self.tank.fill or 0, self.tank.drain or 0

    def starts_when_full(self, step):
        return (step.starts or self.process.starts) == "full"

    def includes_draining(self, step):
        return (step.draining or self.process.draining) != "excludes"

    def end_of(self, number, start, time):
        """When the step is over and drained, where it lasts so long."""
        _, drain = self.fill_and_drain(number)
        return start + time + (0 if self.includes_draining(self.steps[number]) else drain)

    def place(self, number, pour):
        step, (form, low, high) = self.steps[number], self.times[number]
        fill, drain = self.fill_and_drain(number)
        start = pour + (fill if self.starts_when_full(step) else 0)
        drains = start + low
        if self.includes_draining(step):
            drains = max(start, drains - drain)
        return Moments(pour, pour + fill, start, start + low, drains, self.end_of(number, start, low),
                       self.end_of(number, start, high) if form == "range" else None)

    def lay(self):
        moments, pour = [], 0
        for number in range(len(self.steps)):
            moments.append(self.place(number, pour))
            pour = moments[-1].end
        return moments

    def assumes_before(self, number):
        return any(form != "exact" for form, _, _ in self.times[:number])

    def totals(self):
        """Shortest and longest bath time, shortest and longest time in all, in ms; None where there is no upper end."""
        poured = [number for number in range(len(self.steps)) if self.is_poured(number)]
        wet = range(poured[0], poured[-1] + 1) if poured else range(0)
        wet = [number for number in wet if self.roles[number] != "drying"]

        def total(numbers):
            low = sum(self.moments[number].end - self.moments[number].pour for number in numbers)
            if any(self.times[number][2] is None for number in numbers):
                return low, None
            return low, low + sum(self.times[number][2] - self.times[number][1] for number in numbers)

        return total(wet) + total(range(len(self.steps)))

    # --- agitation ---

    def is_there(self, start, time):
        return start < time

    def phase_agitations(self, phase, at, index, time, drains):
        """Those of one phase that begins `at`."""
        if phase.kind == "first" or phase.kind == "continuously" and phase.length is not None:
            return [Agitation(at, at + phase.length, index)] if self.is_there(at, time) else []
        if phase.kind == "continuously":
            return [Agitation(at, drains, index, True)] if at < drains else []
        found, start = [], at + phase.every
        while self.is_there(start, time) and (phase.length is None or start - at <= phase.length):
            found.append(Agitation(start, start + phase.burst, index))
            start += phase.every
        return found

    def next_phase(self, phase, at, time):
        return time if phase.length is None else at + phase.length

    def agitations_of(self, number):
        found, at, time = [], 0, self.times[number][1]
        drains = self.moments[number].drain - self.moments[number].start
        for index, phase in enumerate(self.steps[number].phases or []):
            if phase.kind == "every" and time > MOST_AGITATIONS * phase.every:
                raise TooNear  # what would be refused for its number alone is not compared
            found += self.phase_agitations(phase, at, index, time, drains)
            at = self.next_phase(phase, at, time)
        return found

    def tapping(self, step):
        if step.taps is None:
            return 0
        return step.taps[1] or 1000 * step.taps[0]

    # --- what is found ---

    def agitation_finding(self, number):
        step, bursts, time = self.steps[number], self.bursts[number], self.times[number][1]
        taps, moments = self.tapping(step), self.moments[number]
        if any(phase.kind == "every" and phase.burst + taps >= phase.every for phase in step.phases or []):
            return "agitation-overlaps"
        if any(one.end + taps > other.start for one, other in zip(bursts, bursts[1:])):
            return "agitation-overlaps"
        if any(one.end + taps > time for one in bursts):
            return "agitation-past-end"
        if moments.drain < moments.end and self.includes_draining(step):
            drains = moments.drain - moments.start
            if any(one.end + taps > drains for one in bursts):
                return "agitation-in-drain"
        return None

    def judge(self):
        """The findings about time; the first error is a refusal."""
        for number in range(len(self.steps)):
            finding = self.agitation_finding(number)
            if finding == "agitation-overlaps":
                raise Refused(finding)
            if finding:
                self.findings.add((finding, self.steps[number].name))
        if self.process.wet_limit is not None and self.totals()[0] > self.process.wet_limit:
            raise Refused("total-over-limit")

    # --- light ---

    def check_light(self, number):
        """Light that comes when a bath is over is out of place in it: what has a minimum may go on."""
        step = self.steps[number]
        if not step.lights or not self.is_poured(number) or step.time.form == "at-least":
            return
        last = step.time.high if step.time.form == "range" else step.time.low
        if (step.lights[0] or 0) > last + (self.tank.drain or 0):
            raise Refused("out-of-place")

    def first(self, *roles):
        return next((number for number, role in enumerate(self.roles) if role in roles), None)

    def lasts(self, number):
        """How long the film is in a bath after its time has started, its draining included."""
        return self.moments[number].end - self.moments[number].start

    def fixed(self):
        """The end of the first fix."""
        number = self.first(*FIXES)
        return None if number is None else (number, self.moments[number].end)

    def light_in_fix(self):
        """After two minutes of one or several fixes, or at the end of what does more than fix; else of the last."""
        numbers, left = [number for number, role in enumerate(self.roles) if role in FIXES], 120_000
        for number in numbers:
            if self.roles[number] != "fix":
                return number, self.moments[number].end
            if self.lasts(number) >= left:
                return number, self.moments[number].start + left
            left -= self.lasts(number)
        return (numbers[-1], self.moments[numbers[-1]].end) if numbers else None

    def light_at_exposing(self):
        """At the exposing step; a fogging bath, at its end, counts as one."""
        number = self.first("exposing", "fogging")
        if number is None:
            return self.fixed()
        return number, self.moments[number].start if self.roles[number] == "exposing" else self.moments[number].end

    def light_in_reversal_bath(self):
        """A minute into it; an exposing step counts as one, at its start."""
        number = self.first("exposing", "reversal-bath")
        if number is None:
            return self.fixed()
        wait = 0 if self.roles[number] == "exposing" else min(60_000, self.lasts(number))
        return number, self.moments[number].start + wait

    def lit_at(self, number):
        """When a step puts light on: no later than it is over, where that is known."""
        moments, after = self.moments[number], self.steps[number].lights[0]
        if after is None:
            return moments.pour
        last = moments.end if moments.latest_end is None else moments.latest_end
        return moments.start + (after if self.times[number][2] is None else min(after, last - moments.start))

    def light_of(self):
        """The number of the step and the moment from which white light may come on: where it is borne, or where the
        recipe first puts it on, if that is later and no step exposes the film before."""
        borne = self.light_borne()
        lit = next((number for number, step in enumerate(self.steps)
                    if step.lights or self.roles[number] == "exposing"), None)
        if lit is None or not self.steps[lit].lights:
            return borne
        return max(borne or (lit, self.lit_at(lit)), (lit, self.lit_at(lit)))

    def light_borne(self):
        """The number of the step and the moment from which white light is borne; None where the process has none."""
        family = self.process.family
        if family == "black-and-white-negative":
            return self.light_in_fix()
        if family in ("black-and-white-reversal", "E-1", "E-2", "E-3"):
            return self.light_at_exposing()
        if family == "E-6":
            return self.light_in_reversal_bath()
        if family in ("C-41", "C-41RA", "RA-4"):
            number = self.first("bleach", "bleach-fix")
            return self.fixed() if number is None else (number, self.moments[number].end)
        return self.fixed()

    # --- cues (docs/cues.md) ---

    def drain_soon(self, moments):
        """The moment of the warning, None where it is left out."""
        soon = moments.drain - 10_000
        return soon if soon - moments.start >= 10_000 else None

    def pour_cues(self, number, cue):
        step, moments = self.steps[number], self.moments[number]
        found = [cue(moments.pour, "measure")] if step.measure else []
        if not self.is_poured(number):
            return found + [cue(moments.start, "start")]
        found += [cue(moments.pour, "pour")]
        if moments.full > moments.pour:
            found += [cue(moments.full, "full")]
        return found + ([cue(moments.start, "start")] if moments.start > moments.pour else [])

    def agitation_cues(self, number, cue):
        found, start, taps = [], self.moments[number].start, self.steps[number].taps
        for index, one in enumerate(self.bursts[number], 1):
            found += [cue(start + one.start, "agitation-start", start + one.end, index)]
            found += [cue(start + one.end, "agitation-end", None, index)]
            if taps:
                found += [cue(start + one.end, "taps", start + one.end + self.tapping(self.steps[number]), taps[0])]
        return found

    def drain_cues(self, moments, cue):
        soon = self.drain_soon(moments)
        found = [] if soon is None else [cue(soon, "drain-soon", moments.drain)]
        return found + [cue(moments.drain, "drain", moments.end if moments.end > moments.drain else None)]

    def cues_of(self, number):
        moments, assumes = self.moments[number], self.assumes_before(number)

        def cue(at, kind, until=None, count=None):
            return Cue(at, number + 1, kind, until, count, assumes)

        found = self.pour_cues(number, cue) + self.agitation_cues(number, cue)
        if self.steps[number].bath == "light":
            found += [cue(moments.start, "expose", moments.time_end)]
        if self.light and self.light[0] == number:
            found += [cue(self.light[1], "light")]
        if self.is_poured(number):
            found += self.drain_cues(moments, cue)
        found += [cue(moments.end, "end")]
        return found + ([cue(moments.latest_end, "latest-end")] if moments.latest_end is not None else [])

    def all_cues(self):
        found = [cue for number in range(len(self.steps)) for cue in self.cues_of(number)]
        return sorted(found, key=lambda cue: (cue.at, cue.step, ORDER.index(cue.kind)))
