"""Random small days at the sink, as recipes, and what is true of them whatever plans them."""

import random

FORMATS = {"135": {"big": 8, "small": 4}, "120": {"big": 4, "small": 2}}
LITRES = {"big": 2.5, "small": 1.0}
TEST_ROLLS = 0.1  # of a roll: a strip; common practice, no source

# Of each bath: whether film goes through it more than once, rolls a litre (None: nothing is declared), lengthening in
# per cent per roll and litre, and whether it develops.
BATHS = {
    "colour-developer": (True, 8, 2, True),
    "blix": (True, 12, 0, False),
    "last-bath": (True, None, 0, False),
    "soup": (False, None, 0, True),
    "fixer": (True, 10, 0, False),
    "stock-soup": (False, None, 0, True),
}
# Of each process: its push in stops, its baths, its steps as (name, declared seconds, bath).
PROCESSES = {
    "colour": (0, [("prewet", 60, None), ("develop", 210, "colour-developer"), ("blix", 390, "blix"),
                   ("wash", 195, None), ("last", 60, "last-bath")]),
    "pushed": (1, [("prewet", 60, None), ("develop", 255, "colour-developer"), ("blix", 390, "blix"),
                   ("wash", 195, None), ("last", 60, "last-bath")]),
    "grey": (0, [("develop", 480, "soup"), ("fix", 300, "fixer"), ("wash", 600, None)]),
    "grey-stock": (0, [("develop", 420, "stock-soup"), ("fix", 300, "fixer"), ("wash", 300, None)]),
}

RECIPE = """wetside 1
tank big {{ holds 2.5 L; takes 8 x 135 or 4 x 120; fill 20 s; drain 15 s }}
tank small {{ holds 1 L; takes 4 x 135 or 2 x 120; fill 8 s; drain 8 s }}
graduate jug {{ holds 5 L; cools 45 °C to 43 °C within 10:00 in a room at 20 °C }}
dryer cabinet {{ takes {places} rolls; for {drying} min; up to 35 °C; length 1.8 m }}
allow no-hazards-declared "test"
allow never-used "test"
allow no-wash-before-final-rinse "test"
allow capacity-exceeded "test"
allow kit-split "test"
allow mixes-not-blended "test"
solution colour-developer {{ role developer; kit makes 1 L, powder; {pooled} reuse
  mix {{ water 700 mL at 43 °C; add "part A" stirring 1:00; top up }}
  capacity 8 rolls per 1 L; lengthen 2 % per roll per 1 L; hazards none; waste developer }}
solution blix {{ role bleach-fix; kit makes 2.5 L, liquid; reuse; mix {{ water 2 L; add "blix" 300 mL; top up }}
  capacity 12 rolls per 1 L; hazards none; waste silver }}
solution last-bath {{ role final-rinse; dilute 1+99; reuse; hazards none; waste developer }}
solution soup {{ role developer; dilute 1+9; one-shot; at least 20 mL stock per roll; hazards none; waste developer }}
solution stock {{ role developer; kit makes 1 L, powder; mix {{ water 700 mL at 24 °C; add "powder"; top up }}
  hazards none; waste developer }}
solution stock-soup {{ role developer; dilute 1+1 from stock; one-shot; hazards none; waste developer }}
solution fixer {{ role fix; dilute 1+4; reuse; capacity 10 rolls per 1 L; hazards none; waste silver }}
process colour {{
  develops C-41; tank {colour_tank}; graduate jug; room 20 °C; load 1 rolls
  step prewet as pre-wet in water at 38 °C for 1:00 {{ agitate first 10 s }}
  step develop in colour-developer at 38 ± 0.5 °C for 3:30 {{ agitate first 30 s, then 5 s every 30 s }}
  step blix in blix at 38 ± 3 °C for at least 6:30 {{ agitate first 30 s, then 5 s every 30 s }}
  step wash in running water at 38 ± 3 °C for at least 3:15
  step last in last-bath at 30 ± 8 °C for at least 1:00 {{ agitate first 10 s }}
  step dry in air for {drying} min
}}
process pushed from colour {{ push 1; step develop for 4:15 }}
process grey {{
  develops black-and-white-negative; tank {grey_tank}; graduate jug; room 20 °C; load 1 rolls
  step develop in soup at 20 ± 0.5 °C for 8:00 {{ agitate first 30 s, then 5 s every 30 s }}
  step fix in fixer at 20 ± 2 °C for at least 5:00 {{ agitate first 15 s, then 5 s every 30 s }}
  step wash in running water at 20 ± 2 °C for at least 10:00
  step dry in air for {drying} min
}}
process grey-stock from grey {{
  pull 1
  step develop in stock-soup at 20 ± 0.5 °C for 7:00
  step wash for at least 5:00
}}
"""


def times_of(chance):
    """Clauses of the day's times, some of them."""
    clauses = {
        "load": f"load 1:{chance.randrange(60):02} per roll",
        "hang": f"hang {chance.randrange(20, 90)} s per roll",
        "take down": f"take down {chance.randrange(5, 60)} s per roll",
        "temper": f"temper {chance.randrange(1, 30)} min",
        "ready": f"ready {chance.randrange(1, 6)} min",
        "clean": f"clean {chance.randrange(1, 12)} min",
        "mix": f"mix {chance.randrange(2, 25)} min",
        "test": f"test {chance.randrange(1, 9)} min",
        "reels dry": f"reels dry for {chance.randrange(1, 80)} min",
    }
    return [clause for clause in clauses.values() if chance.random() < 0.5]


def rolls_of(chance, runs):
    """Roll declarations, of a few origins and groups."""
    origins = [f"Origin {i}" for i in range(chance.randrange(1, 5))]
    lines = []
    for number in range(chance.randrange(0, 11)):
        run = chance.choice(runs)
        push = PROCESSES[run][0]
        needs = "C-41" if run in ("colour", "pushed") else "black-and-white-negative"
        clauses = [f"format {chance.choice(['135', '135', '120'])}", f"needs {needs}"]
        if run == "grey-stock":
            push = -1
        clauses += [f"push {push}"] if push > 0 else [f"pull {-push}"] if push < 0 else []
        if chance.random() < 0.8:
            clauses.append(f'origin "{chance.choice(origins)}"')
        if chance.random() < 0.15:
            clauses.append(f"together album-{chance.randrange(2)}-{run}")
        if chance.random() < 0.1:
            clauses.append("urgent")
        if chance.random() < 0.05:
            clauses.append('set aside "ask first"')
        lines.append(f"  roll R-{number:02} {{ {'; '.join(clauses)} }}")
    return lines


def day(seed):
    """A recipe with one day, from a seed."""
    chance = random.Random(seed)
    runs = chance.sample(list(PROCESSES), chance.randrange(1, 5))
    tanks = {"colour_tank": chance.choice(["big", "small"]), "grey_tank": chance.choice(["big", "small"])}
    start = chance.randrange(6, 12)
    clauses = [f"start {start:02}:00", f"runs {', '.join(runs)}"]
    finish = 24 * 60
    if chance.random() < 0.7:
        finish = chance.randrange(start + 2, 24) * 60 + 30
        clauses.append(f"finish by {finish // 60:02}:30")
    at = start * 60
    for _ in range(chance.randrange(0, 3)):
        at += chance.randrange(60, 240)
        lasts = chance.randrange(10, 60)
        if at + lasts < finish:
            clauses.append(f"break {at // 60:02}:{at % 60:02} for {lasts} min")
        at += lasts
    if chance.random() < 0.6:
        named = [tank for tank in ("big", "small") if tank in tanks.values()]
        clauses.append("tanks " + ", ".join(named + chance.choices(named, k=chance.randrange(0, 2))))
    if chance.random() < 0.6:
        clauses.append(f"reels {chance.randrange(4, 17)} x 135, {chance.randrange(2, 9)} x 120")
    if chance.random() < 0.6:
        clauses.append("dryer cabinet")
    if chance.random() < 0.3:
        tested = chance.choice(["", ", tested"])
        clauses.append(f"on hand colour-developer 3 L mixed 2026-03-12 done {chance.randrange(0, 20)} rolls{tested}")
    clauses += times_of(chance)
    recipe = RECIPE.format(places=chance.randrange(4, 20), drying=chance.randrange(20, 180),
                           pooled=chance.choice(["stock pooled;", ""]), **tanks)
    if seed % 2:  # a stock that lasts the day is mixed for all of it
        recipe = recipe.replace("solution stock { ", "solution stock { keeps 6 weeks full; ")
    lines = ["day 2026-03-14 {", *(f"  {clause}" for clause in clauses), *rolls_of(chance, runs), "}"]
    return recipe + "\n".join(lines) + "\n"
