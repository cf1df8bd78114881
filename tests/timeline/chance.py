"""Cases by chance: recipes with vessels, baths, steps and agitation of all kinds, and the conditions of their runs."""

from fractions import Fraction

from processes import (Case, Conditions, Difference, Phase, Process, Rate, Recipe, Solution, Step, Tank, Temperature,
                       Thermometer, Time, Volume, Window)
from reckoning import COLOUR, DEVELOPERS

FAMILIES = ("black-and-white-negative",) * 12 + ("black-and-white-reversal",) * 3 + ("E-6",) * 3 + COLOUR
SLIDES = ("black-and-white-reversal", "E-1", "E-2", "E-3")
ROLES = ("developer", "developer", "first-developer", "colour-developer", "fix", "fix", "fix", "bleach", "bleach-fix",
         "stop", "monobath", "reversal-bath", "fogging", "stabiliser", "final-rinse", "wetting-agent", "pre-bath",
         "conditioner", "toner", "clearing", "hardener", "wash-aid")
NAMES = ("soak", "develop", "stop", "fix", "wash", "step", "Bad-für-Film", "tank", "first", "E-6", "second-fix",
         "clear", "rinse", "pour", "no-2", "every")
SOLUTION_NAMES = ("soup", "hypo", "stock", "bath-3", "dev", "Fixierbad", "tone", "light-bath", "kit", "time")


class Maker:
    """Makes one recipe and its cases."""

    def __init__(self, chance, seed):
        self.chance, self.seed = chance, seed
        self.base = chance.choice((20, 20, 24, 38))

    def happens(self, share):
        return self.chance.random() < share

    def some_time(self, low, high):
        """In ms, from `low` to `high` seconds, short ones as often as long: mostly round."""
        seconds = low * (high / low) ** self.chance.random()
        draw = self.chance.random()
        if draw < 0.06:
            return max(1, round(seconds * 1000))
        if draw < 0.12:
            return max(1, round(seconds * 2)) * 500
        if draw < 0.6 or seconds < 15:
            return max(1, round(seconds)) * 1000
        return max(1, round(seconds / 15)) * 15_000

    def some_volume(self, litres):
        """One near so many litres, in some unit."""
        unit = self.chance.choice(("mL", "L", "L", "cL", "US fl oz", "UK fl oz", "US pt", "UK pt"))
        each = {"mL": 1000, "L": 1, "cL": 100, "US fl oz": 34, "UK fl oz": 35, "US pt": 2.1, "UK pt": 1.8}[unit]
        number = litres * each
        whole = Fraction(round(number * 4), 4) if unit == "L" else Fraction(round(number))
        return Volume(max(whole, Fraction(1, 4) if unit == "L" else Fraction(1)), unit)

    def temperature(self, celsius):
        """One near so many degrees Celsius."""
        if self.happens(0.3):
            return Temperature(Fraction(round((celsius * 1.8 + 32) * 2), 2), "F")
        return Temperature(Fraction(round(celsius * 4), 4), "C")

    def window(self, near):
        point, draw = self.temperature(near), self.chance.random()
        if draw < 0.4:
            return Window(point)
        if draw < 0.8:
            reach = Fraction(self.chance.randint(1, 12), 4)
            return Window(point, Difference(reach, self.chance.choice(("K", point.unit))))
        return Window(point, high=Temperature(point.number + self.chance.randint(1, 8), point.unit))

    def tank(self, name):
        tank = Tank(name, self.some_volume(self.chance.choice((0.5, 1, 2, 2.5))))
        tank.fill = self.some_time(3, 25) if self.happens(0.8) else None
        tank.drain = self.some_time(3, 25) if self.happens(0.8) else None
        tank.emptied = self.chance.choice((None, None, "through lid", "from bottom", "reels lowered"))
        return tank

    def solution(self, name, role):
        one = Solution(name, role, self.chance.choice(("one-shot", "reuse", "reuse", "reuse", "replenish", None)))
        if self.happens(0.4):
            one.usable = Window(Temperature(Fraction(self.base - self.chance.randint(3, 6)), "C"),
                                high=Temperature(Fraction(self.base + self.chance.randint(3, 6)), "C"))
        if one.use == "reuse" and self.happens(0.7):
            compounded = self.happens(0.4)
            percent = Fraction(self.chance.randint(1, 12 if compounded else 30), self.chance.choice((2, 4, 1, 1)))
            one.lengthen = (percent / (2 if compounded else 1), self.some_volume(1), compounded)
            if self.happens(0.6):
                one.kit, one.is_powder = self.some_volume(self.chance.choice((0.5, 1))), self.happens(0.55)
            if self.happens(0.4):
                one.on_hand = (self.some_volume(3), self.rolls())
        return one

    def rolls(self):
        return Fraction(self.chance.randint(0, 24), self.chance.choice((1, 1, 1, 2)))

    def agitation(self, taps):
        """Phases that a step may have. Few of them overlap."""
        phases, tail = [], 0  # by how much the last agitation of a phase, its taps included, outlasts it
        if self.happens(0.75):
            phases.append(Phase("first", self.some_time(3, 40)))
            tail = taps
        while self.happens(0.5) and len(phases) < 4:
            if self.happens(0.3):
                if tail <= 0:
                    phases.append(Phase("continuously", self.some_time(5, 40)))
                    tail = taps
                continue
            phases.append(self.every(taps))
            phases[-1].length = phases[-1].every * self.chance.randint(1, 5)
            if self.happens(0.5):
                phases[-1].length += min(phases[-1].burst + taps + 1000, phases[-1].every - 1)
            tail = phases[-1].burst + taps - phases[-1].length % phases[-1].every
        if self.happens(0.6):
            phases.append(self.every(taps))
        elif tail <= 0 or self.happens(0.02):
            phases.append(Phase("continuously"))
        if phases and phases[-1].kind == "every" and self.happens(0.01):
            phases[-1].burst = phases[-1].every
        return phases or None

    def every(self, taps):
        every = self.chance.choice((30_000, 60_000, self.some_time(12, 90)))
        burst = min(self.some_time(2, 12), every - taps - 500)
        return Phase("every", None, max(burst, 500), max(every, taps + 1500))

    def rate(self, window, time):
        draw, working = self.chance.random(), window.working
        if draw < 0.25:
            return Rate("coefficient", number=Fraction(self.chance.randint(2, 50), self.chance.choice((1, 2, 4))))
        if draw < 0.45:
            return Rate("energy", number=Fraction(self.chance.randint(20, 110) * 1000))
        celsius, rows = Fraction(round(working)) - self.chance.randint(2, 4), []
        length = max(1, time.low * 3 // 2000) * 1000
        if self.happens(0.01):
            celsius += 6
        while len(rows) < 2 or celsius < working + 2 and len(rows) < 6:
            at = window.point if self.happens(0.3) and not window.high else self.temperature(float(celsius))
            if len(rows) == 5:
                at = Temperature(Fraction(round(working) + 3), "C")
            if not rows or at.celsius > rows[-1][0].celsius:
                rows.append((at, length))
                length = max(1000, round(length * self.chance.uniform(0.6, 1) / 1000) * 1000)
                length = min(length, rows[-1][1])
            celsius = max(celsius, at.celsius) + self.chance.randint(1, 3)
        return Rate("table", rows, by_maker=self.happens(0.5))

    def step(self, name, bath):
        """A step in a bath that is poured."""
        step = Step(name, bath)
        low = self.some_time(5, 480)
        draw = self.chance.random()
        step.time = Time("exact", low)
        if draw < 0.3:
            step.time = Time("at-least", low)
        elif draw < 0.5:
            step.time = Time("range", low, low + self.some_time(2, 120))
            if self.happens(0.03):
                step.time.high = low
        step.window = self.window(self.base)
        if self.happens(0.3):
            step.starts = self.chance.choice(("pour", "full", "full"))
        if self.happens(0.3):
            step.draining = self.chance.choice(("includes", "excludes", "excludes"))
        if self.happens(0.3):
            step.taps = (self.chance.randint(1, 4), self.some_time(1, 5) if self.happens(0.4) else None)
        taps = 0 if step.taps is None else step.taps[1] or 1000 * step.taps[0]
        if self.happens(0.85):
            step.phases = self.agitation(taps) if self.happens(0.95) else []
        if not step.phases:
            step.taps = None
        step.measure = self.happens(0.2)
        step.pour_at = self.window(self.base) if self.happens(0.1) else None
        if self.happens(0.08):
            step.mean = self.window(self.base)
        if bath in ("water", "running water"):
            step.role = self.chance.choice((None, None, "wash", "rinse"))
            step.changes = self.chance.randint(2, 8) if bath == "water" and self.happens(0.3) else None
            step.flow = self.some_volume(3) if bath == "running water" and self.happens(0.3) else None
        elif self.happens(0.06):
            step.role = self.chance.choice(ROLES)
        return step

    def any_step(self, name, baths):
        draw = self.chance.random()
        if draw < 0.09:
            return self.light_step(name)
        if draw < 0.22:
            return self.step(name, self.chance.choice(("water", "running water")))
        return self.step(name, self.chance.choice(baths))

    def light_step(self, name):
        step = Step(name, "light")
        step.expose = self.some_time(5, 60) if self.happens(0.7) else None
        if step.expose is None or self.happens(0.3):
            step.time = Time(self.chance.choice(("exact", "exact", "at-least")), self.some_time(10, 120))
        return step

    def drying(self, name, dryer):
        time = Time(self.chance.choice(("exact", "exact", "at-least")), self.some_time(1200, 9000))
        return Step(name, dryer or "air", time=time if self.happens(0.8) else None)

    def process(self, name, recipe):
        one = Process(name, self.chance.choice(FAMILIES), self.chance.choice(recipe.tanks).name)
        one.starts = self.chance.choice((None, None, "pour", "full"))
        one.draining = self.chance.choice((None, None, "includes", "excludes"))
        one.push = self.chance.choice((None, None, None, 1, 2))
        one.rescue = self.happens(0.05)
        one.load = self.chance.choice((None, None, 2, 4))
        one.thermometer = self.chance.choice((None, *(each.name for each in recipe.thermometers)))
        names = self.chance.sample(NAMES, len(NAMES))
        baths = [each.name for each in recipe.solutions]
        one.steps = [self.any_step(names.pop(), baths) for _ in range(self.chance.randint(1, 6))]
        if self.happens(0.25):
            one.steps.append(self.drying(names.pop(), recipe.dryer))
            if self.happens(0.25):
                one.steps.append(self.any_step(names.pop(), baths))
        if all(step.bath == "light" for step in one.steps):
            one.steps[0] = self.step(one.steps[0].name, baths[0])
        if self.happens(0.2):
            one.wet_limit = self.some_time(240, 20_000)
        self.give_light(one, recipe)
        self.put_light_on(one)
        for step in one.steps:
            self.give_rate(step, recipe)
        return one

    def give_light(self, process, recipe):
        """Some slide processes get the bath that decides when light may come on."""
        poured = [step for step in process.steps if recipe.solution(step.bath)]
        role = "reversal-bath" if process.family == "E-6" else "fogging" if process.family in SLIDES else None
        if role and poured and self.happens(0.6):
            poured[0].role = role
        elif role is None and self.happens(0.15):
            for step in poured:
                step.role = "fix"

    def put_light_on(self, process):
        """Mostly late, and where it may go on, behind what is sure."""
        lit = [step for step in process.steps if step.time and step.bath != "air"]
        for step in self.chance.sample(lit, min(len(lit), self.chance.choice((0, 0, 1, 1, 2)))):
            last = step.time.high or step.time.low
            reach = Fraction(self.chance.choice((1, 2, 3, 4, 4)), 4) if step.time.form != "at-least" else (
                self.chance.choice((1, 2, 4)))
            step.lights = (None if self.happens(0.2) else max(1, int(last * reach) // 1000) * 1000 if last >= 1000
                           else last,)

    def give_rate(self, step, recipe):
        if step.window and recipe.solution(step.bath) and self.happens(0.45):
            step.rate = self.rate(step.mean or step.window, step.time)
        if recipe.solution(step.bath) and self.happens(0.4):
            step.round_to = self.chance.choice((500, 1000, 5000, 10_000, 15_000, 30_000, 60_000))

    def changes_of(self, step):
        """What a variant may say again of a step."""
        other = self.step(step.name, step.bath)
        names = ["time", "starts", "draining", "measure", "pour_at"] + (["window"] if not step.rate else [])
        names += [] if step.taps else ["phases"]
        said = {name: getattr(other, name) for name in self.chance.sample(names, 2)}
        return {name: value for name, value in said.items() if value}

    def variant(self, name, parent, recipe):
        whole = recipe.resolved(parent)
        one = Process(name, parent=parent.name)
        one.push = self.chance.choice((None, 1, 3))
        one.tank = self.chance.choice((None, None, *(tank.name for tank in recipe.tanks)))
        one.starts = self.chance.choice((None, None, "pour", "full"))
        one.draining = self.chance.choice((None, None, "includes", "excludes"))
        for step in whole.steps:
            if step.window and self.happens(0.4):
                said = self.changes_of(step)
                if said:
                    one.changed[step.name] = said
        stay = [step.name for step in whole.steps if step.name not in one.changed]
        if len(whole.steps) > 2 and stay and self.happens(0.4):
            one.without = [self.chance.choice(stay)]
        free = [each for each in NAMES if each not in [step.name for step in whole.steps]]
        anchors = [step.name for step in whole.steps if step.name not in one.without]
        if self.happens(0.5) and free:
            step = self.any_step(self.chance.choice(free), [each.name for each in recipe.solutions])
            where = self.chance.choice(("after", "before"))
            one.steps, one.places = [step], {step.name: (where, self.chance.choice(anchors))}
        return one

    def reading(self, recipe, process, step):
        """Of a step: mostly one for which it has a time."""
        works_at = step.mean or step.window
        rows = step.rate.rows if step.rate and step.rate.kind == "table" else None
        usable = recipe.solution(step.bath).usable
        low, high = (rows[0][0].celsius, rows[-1][0].celsius) if rows else (usable or works_at).ends
        if step.rate is None:
            low, high = works_at.ends
        shift = -recipe.correction(process.thermometer)
        if step.pour_at:
            shift += step.pour_at.working - works_at.working
        if rows and not shift and self.happens(0.4):
            return self.chance.choice(rows)[0]
        if self.happens(0.05):
            low, high = high, high + 1
        return self.within(low + shift, high + shift)

    def within(self, low, high):
        """A temperature from `low` to `high`, where there is one in quarters of °C or halves of °F."""
        first, last = -(-low * 4 // 1), high * 4 // 1
        if first <= last and self.happens(0.7):
            return Temperature(Fraction(self.chance.randint(int(first), int(last)), 4), "C")
        first, last = -(-(low * 9 / 5 + 32) * 2 // 1), (high * 9 / 5 + 32) * 2 // 1
        if first <= last:
            return Temperature(Fraction(self.chance.randint(int(first), int(last)), 2), "F")
        return self.temperature(float(low + high) / 2)

    def run(self, recipe, process):
        """Conditions of one run: readings where a rule is declared, mostly within it."""
        run, whole = Conditions(), recipe.resolved(process)
        for step in whole.steps:
            if not (step.window and recipe.solution(step.bath)):
                continue
            if not self.happens(0.3 if step.rate else 0.08):
                continue
            run.at[step.name] = self.reading(recipe, whole, step)
        tired = [one for one in recipe.solutions if one.lengthen]
        for one in tired:
            if self.happens(0.3):
                run.done[one.name] = self.rolls()
        if tired and self.happens(0.06):
            run.done_all = self.rolls()
        return run

    def cases(self):
        """A recipe, and one case of each of its processes."""
        dryer = "cabinet" if self.happens(0.5) else None
        names = self.chance.sample(SOLUTION_NAMES, 5)
        recipe = Recipe([self.tank(name) for name in ("jar", "tank")], [], [Thermometer("no-2")], [], dryer)
        recipe.solutions = [self.solution(name, self.chance.choice(ROLES)) for name in names]
        if self.happens(0.7):
            correction = Fraction(self.chance.choice((-4, -3, -2, -1, 1, 2, 3, 4)), 4)
            recipe.thermometers[0].correction = Difference(correction, self.chance.choice("KCF"))
        recipe.processes.append(self.process("plain", recipe))
        recipe.processes.append(self.process("other", recipe))
        recipe.processes.append(self.variant("plain-push", recipe.processes[0], recipe))
        if self.happens(0.5):
            recipe.processes.append(self.variant("twice-varied", recipe.processes[2], recipe))
        return [Case(recipe, one.name, self.run(recipe, one), self.seed) for one in recipe.processes]
