"""Second timelines that are wrong in one rule each: what finds no difference with them compares nothing."""

from dataclasses import replace
from fractions import Fraction

from processes import Window
from reckoning import ORDER, Agitation, Moments, Reckoning


class CountsFromTheStart(Reckoning):
    """The interval after an opening phase counts from the phase's start."""

    def next_phase(self, phase, at, time):
        return at if phase.kind == "first" else super().next_phase(phase, at, time)


class ClosedIntervals(Reckoning):
    """An agitation on the very end of the time is there."""

    def is_there(self, start, time):
        return start <= time


class LastOfPhaseLost(Reckoning):
    """An agitation on the very end of a phase is not there."""

    def phase_agitations(self, phase, at, index, time, drains):
        found = super().phase_agitations(phase, at, index, time, drains)
        return [one for one in found if phase.kind != "every" or phase.length is None or one.start < at + phase.length]


class AgitatesThroughTheDrain(Reckoning):
    """`continuously` lasts until the time is over."""

    def phase_agitations(self, phase, at, index, time, drains):
        return super().phase_agitations(phase, at, index, time, time)


class RoundsDown(Reckoning):
    def rounded(self, exact, to):
        return super().rounded(exact - Fraction(to, 2), to)


class RoundsHalfDown(Reckoning):
    def rounded(self, exact, to):
        units = Fraction(exact) / to
        return super().rounded(exact - (to if units.denominator == 2 else 0), to)


class RoundsToSeconds(Reckoning):
    def rounded(self, exact, to):
        return super().rounded(exact, 1000)


class DrainsAlwaysIncluded(Reckoning):
    def includes_draining(self, step):
        return True


class DrainsExcludedUnsaid(Reckoning):
    def includes_draining(self, step):
        return (step.draining or self.process.draining) == "includes"


class ProcessBeforeStep(Reckoning):
    """What the process says of time goes before what the step says."""

    def starts_when_full(self, step):
        return (self.process.starts or step.starts) == "full"


class StartsAtThePour(Reckoning):
    def starts_when_full(self, step):
        return False


class PouredOnDraining(Reckoning):
    """The next bath is poured when the one before begins to drain."""

    def lay(self):
        moments, pour = [], 0
        for number in range(len(self.steps)):
            moments.append(self.place(number, pour))
            pour = moments[-1].drain
        return moments


class ShortBathDrainsEarlier(Reckoning):
    """A bath shorter than its drain begins to drain before its time starts."""

    def place(self, number, pour):
        found = super().place(number, pour)
        _, drain = self.fill_and_drain(number)
        early = found.time_end - drain if self.includes_draining(self.steps[number]) else found.drain
        return Moments(found.pour, found.full, found.start, found.time_end, early, found.end, found.latest_end)


class LatestEndUndrained(Reckoning):
    def place(self, number, pour):
        found = super().place(number, pour)
        if found.latest_end is not None:
            found.latest_end = found.start + self.times[number][2]
        return found


class NothingIsDipped(Reckoning):
    def fill_and_drain(self, number):
        if self.is_poured(number) and self.tank.emptied != "reels lowered":
            return self.tank.fill or 0, self.tank.drain or 0
        return 0, 0


class LoweredReelsPoured(Reckoning):
    def fill_and_drain(self, number):
        found = super().fill_and_drain(number)
        return (self.tank.fill or 0, self.tank.drain or 0) if self.tank.emptied == "reels lowered" else found


class TapsAtTwoSeconds(Reckoning):
    def tapping(self, step):
        return 2000 * step.taps[0] if step.taps else 0


class WarnsTooLate(Reckoning):
    """The warning is left out where just 10 s have passed."""

    def drain_soon(self, moments):
        soon = moments.drain - 10_000
        return soon if soon - moments.start > 10_000 else None


class AssumesItself(Reckoning):
    def assumes_before(self, number):
        return super().assumes_before(number + 1)


class AgitatesBeforeItStops(Reckoning):
    """Where one agitation follows another at once, its beginning stands first."""

    def all_cues(self):
        order = [kind for kind in ORDER if kind != "agitation-start"]
        order.insert(order.index("agitation-end"), "agitation-start")
        return sorted(super().all_cues(), key=lambda cue: (cue.at, cue.step, order.index(cue.kind)))


class LaterStepFirst(Reckoning):
    """At one instant the latest end of a step stands behind the cues of later ones."""

    def all_cues(self):
        return sorted(super().all_cues(), key=lambda cue: (cue.at, cue.kind == "latest-end"))


class NumbersFromZero(Reckoning):
    def agitation_cues(self, number, cue):
        found = super().agitation_cues(number, cue)
        return [replace(one, count=one.count - (one.kind == "agitation-start")) for one in found]


class DryingIsWet(Reckoning):
    def totals(self):
        return super().totals()[2:] * 2


class CompoundedIsAdded(Reckoning):
    def lengthening(self, solution):
        if solution and solution.lengthen:
            percent, per, _ = solution.lengthen
            return 1 + percent / 100 * self.done_by(solution) * per.millilitres / self.volume_of(solution)
        return Fraction(1)


class PowderDivided(Reckoning):
    def volume_of(self, solution):
        return solution.on_hand[0].millilitres if solution.on_hand else self.tank.holds.millilitres


class NothingOnHand(Reckoning):
    def done_by(self, solution):
        return self.run.done.get(solution.name, Fraction(0))


class CorrectionTakenOff(Reckoning):
    def true_temperature(self, step):
        return super().true_temperature(step) - 2 * self.recipe.correction(self.process.thermometer)


class PourCountsAsWorking(Reckoning):
    """A reading counts as it is where the step has a pour of its own."""

    def true_temperature(self, step):
        return self.run.at[step.name].celsius + self.recipe.correction(self.process.thermometer)


class MeanOverlooked(Reckoning):
    def works_at(self, step):
        return step.window


class LinearTable(Reckoning):
    """Times between two rows lie on a straight line."""

    def log_time(self, rows, celsius):
        super().log_time(rows, celsius)
        for (low, long), (high, short) in zip(rows, rows[1:]):
            if low <= celsius <= high:
                exact = long + (short - long) * (celsius - low) / (high - low)
        return exact, 0

    def slowness(self, rate, working, celsius):
        if rate.kind != "table":
            return super().slowness(rate, working, celsius)
        rows = [(temperature.celsius, time) for temperature, time in rate.rows]
        return Fraction(self.log_time(rows, celsius)[0]) / self.log_time(rows, working)[0]


class WarmerIsSlower(Reckoning):
    def slowness(self, rate, working, celsius):
        return 1 / super().slowness(rate, working, celsius)


class FixesAlone(Reckoning):
    """The minutes of several fixes do not add up."""

    def lasts(self, number):
        found = super().lasts(number)
        return found if found >= 120_000 or self.roles[number] != "fix" else 0


class LightForgetsTheRecipe(Reckoning):
    """Light comes on where it is borne, whatever the recipe waits for."""

    def light_of(self):
        return self.light_borne() or super().light_of()


class LightEndsWithTheStep(Reckoning):
    """Light comes on at the earliest end, at the latest."""

    def lit_at(self, number):
        return min(super().lit_at(number), self.moments[number].end)


class WaterAlwaysWashes(Reckoning):
    def role_of(self, number):
        role = super().role_of(number)
        return "wash" if role == "pre-wet" else role


class RangeWorksAtItsLow(Reckoning):
    """A range's working point is its lower end."""

    def works_at(self, step):
        found = super().works_at(step)
        return Window(found.point, found.tolerance) if found.high else found


class AnswersNothingToOverlaps(Reckoning):
    def agitation_finding(self, number):
        found = super().agitation_finding(number)
        return None if found == "agitation-overlaps" else found


class CutsInSilence(Reckoning):
    """What would run past the end is cut."""

    def agitations_of(self, number):
        time = self.times[number][1]
        return [Agitation(one.start, min(one.end, time), one.phase, one.open) for one in super().agitations_of(number)]


WRONG = [kind for kind in list(globals().values())
         if isinstance(kind, type) and issubclass(kind, Reckoning) and kind is not Reckoning]
