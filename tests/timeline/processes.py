"""What a recipe says, as values: the cases of twice.py. Times are whole milliseconds; a temperature, a difference or a
volume is an exact number with the unit that it is written in; a clause that is not said is None."""

from copy import copy
from dataclasses import dataclass, field, fields
from fractions import Fraction

# Litres and gallons are exact (NIST Handbook 44, appendix C; UK Weights and Measures Act 1985, schedule 1).
MILLILITRES = {"mL": Fraction(1), "cL": Fraction(10), "L": Fraction(1000), "US fl oz": Fraction("29.5735295625"),
               "US pt": Fraction("473.176473"), "UK fl oz": Fraction("28.4130625"), "UK pt": Fraction("568.26125")}


@dataclass
class Temperature:
    number: Fraction
    unit: str  # C or F

    @property
    def celsius(self):
        return self.number if self.unit == "C" else (self.number - 32) * Fraction(5, 9)


@dataclass
class Difference:
    number: Fraction
    unit: str  # K, C or F

    @property
    def kelvin(self):
        return self.number * Fraction(5, 9) if self.unit == "F" else self.number


@dataclass
class Volume:
    number: Fraction
    unit: str

    @property
    def millilitres(self):
        return self.number * MILLILITRES[self.unit]


@dataclass
class Window:
    """A working point, one with a tolerance, or a range from `point` to `high`."""

    point: Temperature
    tolerance: Difference = None
    high: Temperature = None

    @property
    def working(self):
        return (self.point.celsius + self.high.celsius) / 2 if self.high else self.point.celsius

    @property
    def ends(self):
        if self.high:
            return self.point.celsius, self.high.celsius
        reach = self.tolerance.kelvin if self.tolerance else 0
        return self.working - reach, self.working + reach


@dataclass
class Time:
    form: str  # exact, at-least or range
    low: int
    high: int = None  # of a range


@dataclass
class Phase:
    """`first` or `continuously` for `length`, or `burst` every `every` for `length`."""

    kind: str  # first, continuously or every
    length: int = None
    burst: int = None
    every: int = None


@dataclass
class Rate:
    """How a step's time follows its temperature."""

    kind: str  # table, coefficient or energy
    rows: list = None  # of (Temperature, ms)
    by_maker: bool = False
    number: Fraction = None  # per cent per kelvin, or J/mol


@dataclass
class Step:
    name: str
    bath: str
    role: str = None
    window: Window = None
    time: Time = None
    starts: str = None  # pour or full
    draining: str = None  # includes or excludes
    phases: list = None  # an empty list is `agitate none`
    taps: tuple = None  # how many, and for how long
    measure: bool = False
    expose: int = None  # ms for each side
    round_to: int = None
    rate: Rate = None
    pour_at: Window = None
    mean: Window = None
    changes: int = None
    flow: Volume = None  # a minute
    lights: tuple = None  # after how many ms; None within: at once


@dataclass
class Tank:
    name: str
    holds: Volume
    fill: int = None
    drain: int = None
    emptied: str = None  # through lid, from bottom or reels lowered


@dataclass
class Solution:
    name: str
    role: str
    use: str = None  # one-shot, reuse or replenish
    usable: Window = None
    lengthen: tuple = None  # per cent, Volume, whether compounded
    kit: Volume = None  # of a pooled stock
    is_powder: bool = False
    on_hand: tuple = None  # Volume, rolls done


@dataclass
class Thermometer:
    name: str
    correction: Difference = None


@dataclass
class Process:
    """What one process says; of a variant (`parent`) only what it changes: `steps` are those that come in, with
    ("after" or "before", name) in `places`; `changed` holds the fields that are said again of those that stay."""

    name: str
    family: str = None
    tank: str = None
    thermometer: str = None
    starts: str = None
    draining: str = None
    push: int = None
    rescue: bool = False
    wet_limit: int = None
    load: int = None
    steps: list = field(default_factory=list)
    parent: str = None
    places: dict = field(default_factory=dict)
    changed: dict = field(default_factory=dict)
    without: list = field(default_factory=list)


@dataclass
class Conditions:
    """Of one run: readings by step, rolls by solution, rolls of all reused baths."""

    at: dict = field(default_factory=dict)
    done: dict = field(default_factory=dict)
    done_all: Fraction = None


@dataclass
class Recipe:
    tanks: list
    solutions: list
    thermometers: list
    processes: list
    dryer: str = None

    def tank(self, name):
        return next(tank for tank in self.tanks if tank.name == name)

    def solution(self, name):
        return next((solution for solution in self.solutions if solution.name == name), None)

    def correction(self, name):
        found = next((one for one in self.thermometers if one.name == name), None)
        return found.correction.kelvin if found and found.correction else Fraction(0)

    def process(self, name):
        return next(process for process in self.processes if process.name == name)

    def resolved(self, process):
        """A process with all that it takes over from those it varies (docs/language.md, section 11)."""
        if process.parent is None:
            whole = copy(process)
            whole.steps = [copy(step) for step in process.steps]
            return whole
        whole = self.resolved(self.process(process.parent))
        for one in fields(Process):
            said = getattr(process, one.name)
            if said and one.name not in ("steps", "places", "changed", "without"):
                setattr(whole, one.name, said)
        whole.steps = [step for step in whole.steps if step.name not in process.without]
        for step in whole.steps:
            for name, value in process.changed.get(step.name, {}).items():
                setattr(step, name, value)
        for step in process.steps:
            where, anchor = process.places[step.name]
            at = [one.name for one in whole.steps].index(anchor) + (where == "after")
            whole.steps.insert(at, copy(step))
        return whole


@dataclass
class Case:
    recipe: Recipe
    process: str  # its name
    run: Conditions
    seed: str
