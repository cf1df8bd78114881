"""Every place of the language that takes a text, and a recipe that has them all. Not a test by itself.

The places are derived from the grammar that the parser is compared with (grammar/reference.ebnf) and from the columns of a rolls
file (src/model/roll_columns.def): `grammar_slots` and `column_slots`. The recipe below names each of them between brackets;
`missing` says where the two differ, so that a place that the language gains fails a test until it stands here."""

import csv
import io
import os
import re
import sys

TESTS = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
sys.path[:0] = [TESTS, os.path.join(TESTS, "structure")]

import definitions  # noqa: E402
import harness  # noqa: E402
import strings  # noqa: E402

RECIPE = """wetside 1
use [declaration: use]
allow no-waste-route [declaration: allow]
tank {tank} [declaration: tank] {
  holds 1 L; takes 4 x 135; fill 8 s; drain 8 s; cools 20 °C to 19.9 °C within 5:00 in a room at 18 °C
  note [tank-clause: note]; allow tank-underfilled [tank-clause: allow]
}
graduate {graduate} [declaration: graduate] {
  holds 1.5 L; cools 45 °C to 43 °C within 10:00 in a room at 20 °C
  note [graduate-clause: note]; allow will-overflow [graduate-clause: allow]
}
heater {heater} [declaration: heater] {
  gives 1 L per min; note [heater-clause: note]; allow heater-too-small [heater-clause: allow]
}
dryer {dryer} [declaration: dryer] { takes 16 rolls; for 1 h; note [dryer-clause: note]; allow dryer-full [dryer-clause: allow] }
thermometer {thermometer} [declaration: thermometer] {
  reads 0.5 °C within 0.5 °C; correction -0.2 °C
  note [thermometer-clause: note]; allow thermometer-unchecked [thermometer-clause: allow]
}
solution {soup} [declaration: solution] {
  role developer; one-shot; usable 15 .. 26 °C
  mix { water 800 mL at 40 °C; add [part: add] 10 g; add metol 5 g; top up to 1 L; note [part: note] }
  note [solution-clause: note]; allow no-hazards-declared [solution-clause: allow]
}
solution hypo { role fix; reuse; hazards EUH031; dilute 1+4; capacity 20 rolls per 1 L }
film {film} [declaration: film] {
  family black-and-white-negative; note [film-clause: note]; allow never-used [film-clause: allow]
}
process {process} [declaration: process] {
  develops black-and-white-negative
  tank {tank}; graduate {graduate}; heater {heater}; thermometer {thermometer}; film {film}
  note [process-clause: note]; allow no-agitation [process-clause: allow]
  step {step} in {soup} at 20 ± 0.5 °C for 4:00 {
    agitate first 30 s, then 10 s every 1:00
    measure; time { 18 °C 4:30, 20 °C 4:00, 24 °C 3:00 }
    note [step-clause: note]; allow development-too-short [step-clause: allow]
  }
  step fix in hypo at 18 .. 24 °C for 1:00 .. 2:00 { agitate first 30 s }
  step wash in running water at 18 .. 24 °C for at least 1:00 { flow 3 L per min }
  step dry in {dryer} for 1 h
}
day 2026-03-14 [declaration: day] {
  runs {process}
  tanks {tank}
  reels 4 x 135
  dryer {dryer}
  clock 1 h ahead of utc
  finish by 11:30
  rolls from [day-clause: rolls from]
  note [day-clause: note]; allow past-finish [day-clause: allow]
  roll [roll: roll] [roll: roll 2] {
    format 135; film {film}; together {group}
    needs C-41 develop as black-and-white-negative [develop-as: develop as], decided by [decided: decided by]
    origin [roll-clause: origin]; mark [roll-clause: mark]
    note [roll-clause: note]; allow wrong-process [roll-clause: allow]
  }
  roll {label} { format 135; needs black-and-white-negative; set aside [roll-clause: set aside] }
}
"""

# What a column of a rolls file takes: a text of any kind, or something of the language.
TEXT_COLUMNS = ["label", "title", "reason", "decided-by", "origin", "together", "mark", "note"]
OTHER_COLUMNS = {"format": "135", "exposures": "36", "length": "", "needs": "C-41", "develop-as": "black-and-white-negative",
                 "film": "", "urgent": "yes", "precious": "no", "push": "", "pull": "", "condition": "", "made": "1990",
                 "process": ""}
ALONE_COLUMNS = ["set-aside"]  # in a row of its own: such a roll is in no load
FOREIGN = ["foreign name", "foreign cell"]  # a column that has no meaning here, kept
FILES = ("declaration: use", "day-clause: rolls from")


def rules():
    """The rules of the grammar: name, alternatives as lists of words."""
    text = re.sub(r"\(\*.*?\*\)", "", harness.read("grammar/reference.ebnf"), flags=re.S)
    pieces = re.split(r"^([a-z-]+)\s*=\s", text, flags=re.M)
    for name, body in zip(pieces[1::2], pieces[2::2]):
        alternatives, depth = [[]], 0
        for word in re.findall(r'"[^"]*"|[\w-]+|[\[\](){}|]', body):
            depth += word in "[({"
            depth -= word in "])}"
            if word == "|" and depth == 0:
                alternatives.append([])
            else:
                alternatives[-1].append(word)
        yield name, alternatives


def grammar_slots():
    """The places that take a text: "RULE: KEYWORDS", numbered where an alternative has several. What a place is called does
    not matter; that each has a name of its own does."""
    found = []
    for name, alternatives in rules():
        if name in ("note", "allow"):  # each of their uses is a place
            continue
        for alternative in alternatives:
            keywords = []
            for word in alternative:
                if not word.startswith('"'):
                    break
                keywords.append(word.strip('"'))
            texts = [word for word in alternative if word in ("string", "note", "allow")]
            words = " ".join(word for word in keywords if word not in "{},") or (texts and texts[0])
            found += [f"{name}: {words}" + (f" {number}" if number > 1 else "") for number in range(1, len(texts) + 1)]
    return found


def column_slots():
    """The columns of a rolls file that take any text, and what is foreign in one."""
    return [f"column: {name}" for name in TEXT_COLUMNS + ALONE_COLUMNS + FOREIGN]


def recipe_slots():
    return re.findall(r"\[([a-z-]+: [^\]]*)\]", RECIPE)


def recipe_names():
    """The names that the recipe leaves open, each once."""
    return list(dict.fromkeys(re.findall(r"\{([a-z]+)\}", RECIPE)))


def missing():
    """Places of the grammar that the recipe lacks, and the other way round; columns that are not sorted here."""
    columns = {row[1] for row in definitions.rows("model/roll_columns.def", "COLUMN")}
    return sorted(set(grammar_slots()) ^ set(recipe_slots())) + \
        sorted(columns ^ {*TEXT_COLUMNS, *OTHER_COLUMNS, *ALONE_COLUMNS})


SLOTS = recipe_slots() + column_slots()
FIRST_NAME = 100  # words below are texts


def file_name(text, ending):
    """A text as the name of a file: no slash, no more than a folder takes."""
    name = text.replace("/", "\u2215").replace("\n", " ") + ending
    while len(name.encode("utf-8")) > 200:
        name = name[:len(name) // 2] + ending
    return name


def rolls_file(texts):
    """The rolls file: one row with a text in every column that takes one, one roll set aside, one plain."""
    columns = [*TEXT_COLUMNS, *OTHER_COLUMNS, *ALONE_COLUMNS, texts["column: foreign name"]]
    row = [texts[f"column: {name}"] for name in TEXT_COLUMNS] + list(OTHER_COLUMNS.values()) + [""] + \
        [texts["column: foreign cell"]]
    aside = dict(zip(columns, [""] * len(columns)), label="aside", format="135", needs="black-and-white-negative")
    aside["set-aside"] = texts["column: set-aside"]
    plain = dict(zip(columns, [""] * len(columns)), label="plain", format="135", needs="black-and-white-negative")
    table = io.StringIO()
    writer = csv.writer(table, lineterminator="\r\n")
    writer.writerows([columns, row, list(aside.values()), list(plain.values())])
    return table.getvalue()


def write(folder, texts, names, quote=strings.quoted):
    """The recipe, its used file and its rolls file in a folder; the recipe's path. `texts` by slot, `names` by name."""
    os.makedirs(folder)
    used, rolls = file_name(texts[FILES[0]], ".wet"), file_name(texts[FILES[1]], ".csv")
    with open(os.path.join(folder, used), "w", encoding="utf-8") as file:
        file.write("wetside 1\n")
    with open(os.path.join(folder, rolls), "w", encoding="utf-8", newline="") as file:
        file.write(rolls_file(texts))
    held = dict(texts, **{FILES[0]: used, FILES[1]: rolls})
    recipe = re.sub(r"\[([a-z-]+: [^\]]*)\]|\{([a-z]+)\}",
                    lambda found: quote(held[found.group(1)]) if found.group(1) else names[found.group(2)], RECIPE)
    path = os.path.join(folder, "main.wet")
    with open(path, "w", encoding="utf-8", newline="") as file:
        file.write(recipe)
    return path


def tame_texts():
    """A word of its own in every slot."""
    return {slot: f"Qz{number:03}zq" for number, slot in enumerate(SLOTS)}


def tame_names():
    """And for every name."""
    return {name: f"qz{FIRST_NAME + number:03}zq" for number, name in enumerate(recipe_names())}


def what_is(number):
    """The slot or name that a word of these stands for."""
    return SLOTS[number] if number < FIRST_NAME else "the name of " + recipe_names()[number - FIRST_NAME]
