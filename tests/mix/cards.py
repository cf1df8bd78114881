"""What the tests of the mixing card share: cards of all example processes under several conditions, and recipes of their
own. Not a test by itself."""

import json
import os
import sys

TESTS = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
sys.path[:0] = [TESTS, os.path.join(TESTS, "sheet")]
import harness  # noqa: E402
import sheets  # noqa: E402

# Conditions of a run that change what is on the card.
CONDITIONS = {
    "plain": (),
    "taps": ("--hot", "60C", "--cold", "12C"),
    "bath": ("--water-bath", "10C", "--room", "18C", "--on", "2026-03-14", "--avoirdupois"),
    "more": ("--volume", "7.3 L", "--cold", "8C"),
}

FRAME = """wetside 1
tank upright "Upright tank" {{ holds 2.5 L; takes 8 x 135; fill 20 s; drain 15 s }}
{}
process mixing {{
  develops black-and-white-negative
  tank upright
  load 1 rolls
{}
  step wash in running water at 20 ± 2 °C for at least 20:00
}}
"""


def frame(declarations, clauses):
    """A recipe around declarations and clauses of its process."""
    return FRAME.format(declarations, clauses)


def data(recipe, *options, process=None):
    """The card of a recipe (its text, or the path of a file) as data; ends the script where there is none."""
    is_path = "\n" not in recipe
    chosen = ["--process", process] if process else []
    done = harness.run("mix", "--to", "json", *chosen, *options, recipe if is_path else "-",
                       stdin=b"" if is_path else recipe.encode())
    if done.returncode != 0:
        harness.not_ok(f"mix {options} of a recipe", done.stderr.decode("utf-8", "replace") + recipe)
        harness.end()
    return json.loads(done.stdout)


def baths(value):
    """The baths by name."""
    return {bath["name"]: bath for bath in value["baths"]}


def every_act(value):
    """All acts as (bath, times, act)."""
    return [(bath, mix["times"], act) for bath in value["baths"] for stage in bath["stages"] for mix in stage["mixes"]
            for act in mix["acts"]]


# Every text that a recipe may have and the card shows is the payload.
HOSTILE = """wetside 1
allow no-waste-route {0}
allow mixes-not-blended {0}
tank small {0} {{ holds 1 L; takes 4 x 135; fill 8 s; drain 8 s }}
graduate jug {0} {{ holds 1.5 L; cools 45 °C to 43 °C within 10:00 in a room at 20 °C }}
graduate cup {0} {{ holds 600 mL }}
thermometer no-2 {0} {{ reads 0.1 °C; correction -0.2 °C }}
solution stock {0} {{ role developer; hazards H302; note {0}
  formula makes 1 L {{ water 800 mL at 40 °C; add {0} 10 g; add potassium-bromide 0.5 g; top up; note {0} }} }}
solution soup {0} {{ role developer; one-shot; dilute 1+1 from stock; hazards H317; graduate cup; note {0} }}
solution hypo {0} {{ role fix; reuse; hazards none; kit makes 1 L, powder; mix {{ water 800 mL; add {0}; top up }} }}
solution last {0} {{ role final-rinse; reuse; hazards none; note {0} }}
on hand last 1 L
process hostile {0} {{
  develops black-and-white-negative
  tank small
  graduate jug, cup
  thermometer no-2
  room 20 °C
  step develop in soup at 20 ± 0.5 °C for 6:00 {{ agitate first 30 s, then 10 s every 1:00 }}
  step fix in hypo at 18 .. 24 °C for at least 5:00 {{ agitate first 30 s, then 10 s every 1:00 }}
  step wash in running water at 18 .. 24 °C for at least 10:00
  step end in last at 18 .. 24 °C for 1:00 {{ agitate none }}
}}
"""


def hostile(folder, number, payload):
    """The path of a recipe in which every text is the payload."""
    path = os.path.join(folder, f"hostile-{number}.wet")
    with open(path, "w", encoding="utf-8", newline="") as file:
        file.write(HOSTILE.format(sheets.quoted(payload)))
    return path


def emit(form, path, process=None, options=()):
    """A card as text."""
    return sheets.emit("mix", form, path, process, options)
