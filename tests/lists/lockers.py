"""What the tests of a day's products share: a recipe with a day, rolls files honest and hostile, and the program's answers.
Not a test by itself."""

import csv
import io
import json
import os
import random
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "sheet"))
sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "hostile"))
import harness  # noqa: E402
import strings  # noqa: E402

# Checks of a day that are not what these tests are about.
ALLOWED = [name for name in ("no-roll-mark", "all-in-one-load", "untested-bath", "past-finish", "dryer-full", "reels-wet")
           if f"CHECK({name.replace('-', '_')}," in harness.read("src/support/checks.def")]

RECIPE = """wetside 1
{allowed}
tank upright "Upright tank" {{ holds 2.5 L; takes 8 x 135 or 4 x 120; fill 20 s; drain 15 s }}
tank small {{ holds 1 L; takes 4 x 135 or 2 x 120; fill 8 s; drain 8 s }}
dryer cabinet "Drying cabinet" {{ takes 24 rolls; for 1 h; up to 35 °C; length 1.8 m }}
solution colour-developer {title} {{
  role developer; reuse; stock pooled; kit makes 1 L, liquid; mix {{ water 700 mL; add "concentrate" 300 mL }}
  capacity 16 rolls per 1 L; lengthen 2 % per roll per 1 L, added up; hazards H317; waste developer
}}
solution bleach-fix {{
  role bleach-fix; reuse; kit makes 1 L, liquid; mix {{ water 700 mL; add "concentrate" 300 mL }}
  capacity 16 rolls per 1 L; hazards H319; waste silver
}}
solution soup {{ role developer; dilute 1+9; one-shot; hazards none; waste developer }}
solution fixer {{ role fix; dilute 1+4; reuse; capacity 20 rolls per 1 L; hazards EUH031; waste silver }}
process colour {title} {{
  develops C-41; tank upright; washless
  step develop in colour-developer at 38 ± 0.5 °C for 3:30 {{ agitate first 30 s, then 5 s every 30 s }}
  step bleach-fix in bleach-fix at 38 ± 3 °C for at least 6:30 {{ agitate first 30 s, then 5 s every 30 s }}
  step wash in running water at 38 ± 3 °C for at least 3:00
  step dry in cabinet for 1 h
}}
process grey {{
  develops black-and-white-negative; tank small
  step develop in soup at 20 ± 0.5 °C for 8:00 {{ agitate first 30 s, then 5 s every 60 s }}
  step fix in fixer at 20 ± 2 °C for at least 5:00 {{ agitate first 15 s, then 5 s every 30 s }}
  step wash in running water at 20 ± 2 °C for at least 10:00
  step dry in cabinet for 1 h
}}
day {date} {title} {{
  start {start}
  {clauses}
  runs colour, grey
  tanks upright, small
  reels 24 x 135, 12 x 120
  dryer cabinet
  rolls from "rolls.csv"
}}
"""

COLUMNS = ["label", "format", "needs", "origin", "together", "urgent", "precious", "condition", "note", "shelf"]

# Cells that would do something, or break something, where they are not made harmless.
HOSTILE = [*strings.some("formula", "formula with plus", "formula with minus", "formula with at", "separators", "newlines", "event",
                         "caption", "property", "script", "references", "end of a title", "command substitution", "quotes",
                         "direction", "many wide", "combining", "heading", "emphasis", "bad links", "format", "end of CDATA").values(),
           "two\r\nlines", "w" * 300]
SCRIPT = strings.STRINGS["script"]
quoted = strings.quoted


def write_csv(path, rows, columns=None, line_end="\r\n", mark=False):
    """Rows (dictionaries) as a rolls file."""
    columns = columns or COLUMNS
    text = io.StringIO()
    writer = csv.DictWriter(text, columns, lineterminator=line_end, extrasaction="ignore", restval="")
    writer.writeheader()
    writer.writerows(rows)
    with open(path, "wb") as file:
        file.write(("\ufeff" if mark else "").encode("utf-8") + text.getvalue().encode("utf-8"))


def write(folder, rows, title="Locker", clauses="", date="2026-03-14", start="09:00", **how):
    """A recipe and its rolls file in a folder of their own; the recipe's path."""
    os.makedirs(folder, exist_ok=True)
    write_csv(os.path.join(folder, "rolls.csv"), rows, **how)
    path = os.path.join(folder, "day.wet")
    with open(path, "w", encoding="utf-8", newline="") as file:
        allowed = "\n".join(f'allow {name} "invented rolls"' for name in ALLOWED)
        file.write(RECIPE.format(allowed=allowed, title=quoted(title), clauses=clauses, date=date, start=start))
    return path


def rolls(chance, count, hostile=False):
    """Invented rolls."""
    made = []
    for number in range(count):
        odd = (lambda: chance.choice(HOSTILE)) if hostile else lambda: ""
        needs = chance.choice(["C-41", "C-41", "black-and-white-negative"])
        made.append({
            "label": f"{odd()} {number}" if hostile and chance.random() < 0.7 else f"SM-{number:03}",
            "format": chance.choice(["135", "135", "135", "120"]),
            "needs": needs,
            "origin": odd() if hostile else chance.choice(["Harbour office", "Customs house", "Net loft", ""]),
            "together": chance.choice(["", "", "", f"album {needs}"]),
            "urgent": chance.choice(["", "yes", "no"]),
            "precious": chance.choice(["", "x", "0"]),
            "condition": chance.choice(["", "", "vinegar"]),
            "note": odd(),
            "shelf": odd() if hostile else f"{number % 4}b",
        })
    return made


def ask(*arguments, may_fail=False):
    """The program's answer as text; ends the script where it gives none."""
    done = harness.run(*arguments)
    if done.returncode != 0 and not may_fail:
        harness.not_ok(" ".join(arguments), done.stderr.decode("utf-8", "replace"))
        harness.end()
    return done.stdout.decode("utf-8")


def data(product, path, *options):
    """A product as data."""
    return json.loads(ask(product, "--to", "json", *options, path))


def random_days(count, seed, most=30):
    """(name, rolls, clauses) of small days: with and without a finish, honest and hostile."""
    for number in range(count):
        chance = random.Random(f"{seed} {number}")
        clauses = chance.choice(["", "finish by 12:00", "finish by 18:00; break 13:00 for 45 min", "clock 1 h ahead of utc"])
        yield f"day {number}", rolls(chance, chance.randrange(1, most), hostile=number % 2 == 1), clauses
