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
