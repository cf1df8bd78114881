"""Prints the values of processes.py as a recipe, in any of the spellings that docs/language.md gives for each."""

from fractions import Fraction

ALLOWED = ("no-developer", "no-fix", "fix-before-developer", "light-too-early", "carry-over", "no-reversal",
           "wash-after-reversal-bath", "no-clearing", "no-neutraliser", "one-shot-reused", "drift-leaves-window",
           "colour-compensated")


# No length is a clock time.
LENGTHS = [(None, None), (None, None), (1000, ("s", "s", "sec", "second", "seconds")),
           (60_000, ("min", "minute", "minutes")), (3_600_000, ("h", "hour", "hours")), (1, ("ms",))]
NAMED = ("tank", "thermometer", "push")


class Plain:
    """Takes the first of all spellings, and leaves everything in its order."""

    def choice(self, options):
        return options[0]

    def random(self):
        return 1.0

    def shuffle(self, items):
        pass


def digits(number):
    """An exact decimal number in digits: ten of its powers make it whole."""
    if number == int(number):
        return str(int(number))
    places = next(places for places in range(1, 20) if (number * 10 ** places).denominator == 1)
    text = str(abs(number.numerator) * 10 ** places // number.denominator).rjust(places + 1, "0")
    return ("-" if number < 0 else "") + text[:-places] + "." + text[-places:]


def clock(milliseconds):
    """m:ss or h:mm:ss, with a fraction where there is one."""
    minutes, rest = divmod(milliseconds, 60_000)
    seconds = digits(Fraction(rest, 1000)) if rest % 1000 else str(rest // 1000)
    seconds = ("0" if rest < 10_000 else "") + seconds
    if minutes < 60:
        return f"{minutes}:{seconds}"
    return f"{minutes // 60}:{minutes % 60:02}:{seconds}"


class Wording:
    """Words for values; `chance` chooses among spellings."""

    def __init__(self, chance=None):
        self.chance = chance or Plain()

    def unit(self, number, *units):
        gap = self.chance.choice([" ", " ", ""])
        return f"{digits(number)}{gap}{self.chance.choice(units)}"

    def duration(self, ms):
        length, units = self.chance.choice(LENGTHS)
        if length and ms * 10_000 % length == 0 and (length > 1 or ms % 1000):
            return self.unit(Fraction(ms, length), *units)
        return clock(ms)

    def temperature(self, one):
        if one.unit == "C":
            return self.unit(one.number, "°C", "C", "℃", "degC")
        return self.unit(one.number, "°F", "F", "℉", "degF")

    def difference(self, one):
        return self.unit(one.number, one.unit if one.unit == "K" else f"°{one.unit}")

    def window(self, one):
        if one.tolerance:
            sign = self.chance.choice([" ± ", " +- ", "±"])
            if one.tolerance.unit == one.point.unit and self.chance.random() < 0.5:
                return digits(one.point.number) + sign + self.temperature(one.tolerance)
            return self.temperature(one.point) + sign + self.difference(one.tolerance)
        if one.high:
            dots = self.chance.choice([" .. ", " – "])
            if one.point.unit == one.high.unit and self.chance.random() < 0.5:
                return digits(one.point.number) + dots + self.temperature(one.high)
            return self.temperature(one.point) + dots + self.temperature(one.high)
        return self.temperature(one.point)

    def volume(self, one):
        units = {"mL": ("mL", "ml", "cc"), "L": ("L", "l", "litres", "liter"), "cL": ("cL", "cl")}.get(one.unit)
        if units:
            return self.unit(one.number, *units)
        spelt = one.unit.replace("fl oz", self.chance.choice(["fl oz", "floz"]))
        if spelt.startswith("UK"):
            spelt = self.chance.choice(["UK", "imp"]) + spelt[2:]
        return f"{digits(one.number)} {spelt}"

    def time(self, one):
        if one.form == "at-least":
            return "at least " + self.duration(one.low)
        if one.form == "range":
            return self.duration(one.low) + self.chance.choice([" .. ", " – "]) + self.duration(one.high)
        return self.duration(one.low)

    def phases(self, phases):
        if not phases:
            return "none"
        words = []
        for phase in phases:
            if phase.kind == "every":
                then = "then " if words and self.chance.random() < 0.7 else ""
                text = f"{then}{self.duration(phase.burst)} every {self.duration(phase.every)}"
            else:
                text = "first " + self.duration(phase.length) if phase.kind == "first" else "continuously"
            if phase.kind != "first" and phase.length is not None:
                text += " for " + self.duration(phase.length)
            words.append(text)
        return self.chance.choice([", ", ",\n      "]).join(words)

    def rate(self, rate):
        if rate.kind == "coefficient":
            return f"coefficient {self.unit(rate.number, '%', 'percent')} per K"
        if rate.kind == "energy":
            return "activation energy " + self.chance.choice([self.unit(rate.number / 1000, "kJ/mol"),
                                                              self.unit(rate.number, "J/mol")])
        rows = [f"{self.temperature(temperature)} {self.duration(time)}" for temperature, time in rate.rows]
        joined = self.chance.choice([", ", "\n        "]).join(rows)
        return f"time {'by maker ' if rate.by_maker else ''}{{ {joined} }}"

    def timing(self, starts, draining):
        words = {"pour": ["time starts at first pour"], "full": ["time starts when full"], None: []}[starts]
        return words + ([f"time {draining} draining"] if draining else [])

    def step_clauses(self, said):
        """The clauses of a step, of those fields that are said."""
        words = self.timing(said.get("starts"), said.get("draining"))
        if said.get("phases") is not None:
            words.append("agitate " + self.phases(said["phases"]))
        if said.get("taps"):
            number, time = said["taps"]
            words.append(f"tap {number} {'for ' + self.duration(time) + ' ' if time else ''}after agitation")
        if said.get("measure"):
            words.append("measure")
        if said.get("expose"):
            words.append(f"expose {self.duration(said['expose'])} each side")
        if said.get("lights"):
            after = said["lights"][0]
            words.append("lights on" + ("" if after is None else f" after {self.duration(after)}"))
        if said.get("round_to"):
            words.append("round to " + self.duration(said["round_to"]))
        if said.get("rate"):
            words.append(self.rate(said["rate"]))
        for name, word in (("pour_at", "pour at"), ("mean", "mean")):
            if said.get(name):
                words.append(f"{word} {self.window(said[name])}")
        if said.get("changes"):
            words.append(f"changes {said['changes']}")
        if said.get("flow"):
            words.append(f"flow {self.volume(said['flow'])} per min")
        return words

    def block(self, clauses, indent):
        """Clauses in braces, in any order."""
        self.chance.shuffle(clauses)
        if len(clauses) < 4 and not any("\n" in clause for clause in clauses) and self.chance.random() < 0.5:
            return "{ " + "; ".join(clauses) + " }"
        lines = []
        for clause in clauses:
            remark = self.chance.choice(["", "", "", "   # as the log says", ";"])
            lines.append(f"{indent}  {clause}{remark}")
        return "\n".join(["{", *lines, indent + "}"])

    def step(self, name, said, place=""):
        parts = [f"as {said['role']}"] if said.get("role") else []
        if said.get("bath"):
            parts.append("in " + said["bath"])
        if said.get("window"):
            parts.append("at " + self.window(said["window"]))
        if said.get("time"):
            parts.append("for " + self.time(said["time"]))
        self.chance.shuffle(parts)
        clauses = self.step_clauses(said)
        words = ["step", name, *([place] if place else []), *parts]
        return " ".join(words + ([self.block(clauses, "  ")] if clauses else []))

    def tank(self, tank):
        clauses = ["holds " + self.volume(tank.holds), "takes 4 x 135"]
        for word, time in (("fill", tank.fill), ("drain", tank.drain)):
            if time is not None:
                clauses.append(f"{word} {self.duration(time)}")
        if tank.emptied:
            clauses.append(tank.emptied if tank.emptied == "reels lowered" else "emptied " + tank.emptied)
        return f"tank {tank.name} " + self.block(clauses, "")

    def solution(self, one):
        clauses = ["role " + one.role, "hazards none"]
        if one.use:
            clauses.append({"replenish": "replenish 60 mL per roll"}.get(one.use, one.use))
        if one.kit:
            clauses += [f"kit makes {self.volume(one.kit)}{'' if one.is_powder else ', liquid'}", "stock pooled"]
        if one.usable:
            clauses.append("usable " + self.window(one.usable))
        if one.lengthen:
            percent, per, compounded = one.lengthen
            rule = ", compounded" if compounded else self.chance.choice(["", ", added up"])
            clauses.append(f"lengthen {self.unit(percent, '%')} per roll per {self.volume(per)}{rule}")
        return f"solution {one.name} " + self.block(clauses, "")

    def process(self, one):
        clauses = self.timing(one.starts, one.draining)
        for word, said in (("develops", one.family), *((word, getattr(one, word)) for word in NAMED)):
            if said:
                clauses.append(f"{word} {said}")
        clauses += ["rescue"] if one.rescue else []
        clauses += [f"load {one.load} rolls"] if one.load else []
        clauses += ["wet time under " + self.duration(one.wet_limit)] if one.wet_limit else []
        clauses += ["without step " + name for name in one.without]
        clauses += [self.step(name, said) for name, said in one.changed.items()]
        self.chance.shuffle(clauses)
        for step in one.steps:
            place = " ".join(one.places[step.name]) if one.parent else ""
            clauses.append(self.step(step.name, vars(step), place))
        origin = f"from {one.parent} " if one.parent else ""
        return "\n".join([f"process {one.name} {origin}{{", *(f"  {clause}" for clause in clauses), "}"])

    def recipe(self, recipe):
        parts = [f'allow {name} "random"' for name in ALLOWED]
        parts += [self.tank(tank) for tank in recipe.tanks] + [self.solution(one) for one in recipe.solutions]
        for one in recipe.thermometers:
            clauses = ["reads 0.1 °C within 0.1 °C"]
            if one.correction:
                clauses.append("correction " + self.difference(one.correction))
            parts.append(f"thermometer {one.name} " + self.block(clauses, ""))
        for one in recipe.solutions:
            if one.on_hand:
                parts.append(f"on hand {one.name} {self.volume(one.on_hand[0])} done {digits(one.on_hand[1])} rolls")
        if recipe.dryer:
            parts.append(f"dryer {recipe.dryer} {{ takes 16 rolls; for 2 h }}")
        parts += [self.process(one) for one in recipe.processes]
        self.chance.shuffle(parts)
        return "wetside 1\n" + "\n".join(parts) + "\n"


def options(case):
    """The options of a run, as words."""
    words = Wording()
    said = [("--process", case.process)]
    said += [("--at", f"{step}={words.temperature(reading)}") for step, reading in case.run.at.items()]
    said += [("--done", f"{name}={digits(rolls)}") for name, rolls in case.run.done.items()]
    if case.run.done_all is not None:
        said.append(("--done", digits(case.run.done_all)))
    return [word for pair in said for word in pair]
