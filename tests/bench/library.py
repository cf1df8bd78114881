"""Makes large recipes for measuring: a library of thousands of processes as people write them. It is written from the
examples, declaration by declaration, each time with other names, figures and words, so comments, notes, mixes and blank
lines have the share they have there. Seeded: the same bytes every time."""

import os
import random
import re
import sys

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))

import harness  # noqa: E402

PLACES = ("bay", "buoy", "cove", "dune", "fen", "gull", "isle", "kelp", "loch", "mole", "moor", "ness", "pier", "port", "quay",
          "reef", "sand", "spit", "tarn", "wick")

# A sink of a library: its room and its baths, then the recipes, each so often in a round. So a process takes 2,250 bytes
# (9,000 of them in 20 MB), and each share stays within a tenth of that of the examples; `bench.py` prints both.
SINK = ("room.wet", "baths.wet")
RECIPES = {"black-and-white.wet": 3, "black-and-white-reversal.wet": 3, "colour-negative-bleach-fix.wet": 2,
           "colour-negative-separate.wet": 2, "ecn-2.wet": 1, "e-6-six-bath.wet": 1, "e-6-three-bath.wet": 1,
           "home-mixed-developer.wet": 1, "locker-7.wet": 2}
ROUNDS = 10
EXAMPLES = (*SINK, *RECIPES)

KINDS = "tank graduate thermometer heater dryer film solution process".split()
DECLARATION = re.compile(r"(%s|day) (?:in )?([\w-]+)" % "|".join(KINDS))
REFERENCE = re.compile(r"\b(?:%s|in|from)((?:,? [a-z][a-z0-9-]*)+)" % "|".join(KINDS))
NAME = re.compile(r"[a-z][a-z0-9-]*")
STRING_OR_COMMENT = re.compile(r'("(?:[^"\\]|\\.)*"|#.*)')

# Words for which another one may stand in a text or a comment.
WORDS = {"Lift": ("Raise", "Take out"), "drain": ("drip off", "drain"), "Do not": ("Never", "Do not"),
         "Shake": ("Rock", "Swirl"), "little by little": ("slowly", "in small parts"), "goggles on": ("with goggles", "goggles on"),
         "memory": ("memory", "an old note"), "published": ("printed", "published"), "developer": ("developer", "first bath"),
         "film": ("film", "roll"), "warm": ("warm", "tepid"), "cold": ("cold", "cool"), "bath": ("bath", "solution"),
         "common practice": ("common practice", "as everyone does"), "jug": ("jug", "beaker"), "tank": ("tank", "drum"),
         "note": ("note", "remark"), "hang": ("hang up", "hang"), "archive": ("archive", "store room"), "before": ("before", "ahead of"),
         "water": ("water", "tap water"), "slower": ("slower", "longer"), "room": ("room", "cellar"), "wiped": ("wiped", "cleaned")}
WORD = re.compile(r"\b(%s)\b" % "|".join(WORDS))


def stepped(low, high, step=1, form="{}"):
    """A figure between the two, in steps."""
    return lambda draw: form.format(low + step * int(draw() * ((high - low) // step + 1)))


def tenths(low, high):
    """A figure with one decimal, given in tenths."""
    return lambda draw: "%.1f" % ((low + int(draw() * (high - low + 1))) / 10)


def longer(minutes, seconds):
    """At least as long, in halves of a minute: the agitations of the step go on as they were."""
    return lambda draw: "%d:%02d" % divmod(60 * int(minutes) + int(seconds) + 30 * int(draw() * 3), 60)


def dated(draw):
    """A day of 2025."""
    return "2025-%02d-%02d" % (1 + int(draw() * 12), 1 + int(draw() * 28))


def made(year):
    """A year on the same side of what the checks ask about."""
    low, high = next(pair for pair in ((1950, 1969), (1980, 1999), (2000, 2019)) if year <= pair[1])
    return stepped(low, high)


# Figures that people would have otherwise, and that can vary without a finding: what stands before, the figure, and what
# it becomes. The groups of the pattern of the figure are given to a function that makes the figure.
FIGURES = (
    (r"(?<=dated )(2025-\d\d-\d\d)", lambda _: dated),
    (r"(?<=checked )(2026-02-01)", lambda _: stepped(1, 28, form="2026-02-{:02}")),
    (r"(?<=made )(\d{4})", lambda year: made(int(year))),
    (r"(?<=for at least )(\d+):(\d\d)(?! \{\n.*\n.*\n *lights| \{\n.*\n *lights)", longer),
    (r"(?<=wet time under )(\d+)(?= min)", lambda minutes: stepped(int(minutes) + 10, int(minutes) + 30, 5)),
    (r"(?<=flow )\d(?= L per min)", lambda: tenths(30, 50)),
    (r"(?<=capacity )(\d+)(?= rolls)", lambda rolls: stepped(int(rolls), int(rolls) + 4)),
    (r"(?<=keeps )(\d+)(?= )", lambda span: stepped(int(span) + 1, int(span) + 3)),
    (r"(?<=stirring )\d:\d\d", lambda: stepped(10, 55, 5, "2:{}")),
    (r"(?<=carries )15(?= mL)", lambda: stepped(14, 16)),
    (r"(?<=absorbs )180(?= mL)", lambda: stepped(170, 190, 5)),
    (r"(?<=pH )(\d+)\.\d", lambda whole: stepped(0, 4, form=whole + ".{}")),
    (r"(?<=concentrate\" )(\d+)(?= mL)", lambda volume: stepped(int(volume) - 5, int(volume) + 5)),
    (r"(?<=gives )5(?= L)", lambda: tenths(51, 80)),
)


class Template:
    """A declaration of an example, with the comments before it, in pieces: texts, and what makes a text."""

    def __init__(self, text, kind, names):
        self.kind = kind
        self.pieces = []
        changes = self._figures(text) + self._names(text, names) + self._words(text)
        end = 0
        for start, stop, piece in sorted(changes, key=lambda change: change[:2]):
            if start >= end:
                self.pieces += [text[end:start], piece]
                end = stop
        self.pieces.append(text[end:])

    @staticmethod
    def _figures(text):
        code = blanked(text, "#")
        return [(match.start(), match.end(), make(*match.groups()))
                for pattern, make in FIGURES for match in re.finditer(pattern, code)]

    @staticmethod
    def _names(text, names):
        """A name of a recipe ends in that of its set, one of the room in that of its sink."""
        found = []
        code = blanked(text, '"#')
        for match in REFERENCE.finditer(code):
            for name in NAME.finditer(code, match.start(1), match.end(1)):
                if name.group() in names:
                    found.append((name.end(), name.end(), names[name.group()]))
        return found

    @staticmethod
    def _words(text):
        found = []
        for match in STRING_OR_COMMENT.finditer(text):
            if text.startswith("add ", match.start() - 4):
                continue
            for word in WORD.finditer(text, match.start(), match.end()):
                choice = WORDS[word.group()]
                found.append((word.start(), word.end(), lambda draw, choice=choice: choice[int(draw() * len(choice))]))
        return found

    def write(self, draw, tags):
        """The declaration with other names, figures and words."""
        return "".join([piece if piece.__class__ is str else tags[piece] if piece.__class__ is int else piece(draw)
                        for piece in self.pieces])


def blanked(text, kinds):
    """The text with its strings or comments blanked out: those that begin with one of the characters."""
    return STRING_OR_COMMENT.sub(lambda match: " " * len(match.group()) if match.group()[0] in kinds else match.group(), text)


def declarations(name):
    """The declarations of an example as (kind, name, text), each with what stands before it. Lines that name the version
    or use files are left out, and so are days, which have a rolls file and are planned."""
    lines = [line for line in harness.read(f"examples/{name}").splitlines(keepends=True)
             if not line.startswith(("wetside ", "use "))]
    gathered, found, inside = [], [], None
    for line in lines:
        begins = DECLARATION.match(line)
        if begins and inside is None:
            inside = begins.groups()
        gathered.append(line)
        ends = line.startswith("}") or (begins and line.rstrip().endswith("}"))
        if inside and ends:
            if inside[0] != "day":
                found.append((*inside, re.sub(r"\A\n+", "\n", "".join(gathered))))
            gathered, inside = [], None
    return found


def templates():
    """Of each example its templates."""
    room = {name: 0 for file in SINK for _, name, _ in declarations(file)}
    made_of = {}
    for file in EXAMPLES:
        found = declarations(file)
        names = dict(room)
        if file not in SINK:
            if file == "locker-7.wet":
                names["black-and-white"] = 2
            names.update({name: 1 for _, name, _ in found})
        made_of[file] = [Template(text, kind, names) for kind, _, text in found]
    return made_of


def tag(number):
    """What the names of a set or sink end in."""
    return f"-{PLACES[number % len(PLACES)]}{number // len(PLACES)}"


def recipes(seed=7):
    """Endlessly the recipes of a library, each with whether the library may end behind it, and its declarations as
    (kind, text). It may end where everything of its last sink is used."""
    draw = random.Random(seed).random
    made_of = templates()
    plan = [name for name, times in RECIPES.items() for _ in range(times)]
    sets = sinks = 0
    while True:
        tags = [tag(sinks), "", ""]
        sinks += 1
        for file in SINK:
            yield False, [(template.kind, template.write(draw, tags)) for template in made_of[file]]
        for turn in range(ROUNDS):
            for file in plan:
                tags[1] = tag(sets)
                if file == "black-and-white.wet":
                    tags[2] = tags[1]
                sets += 1
                yield turn > 0, [(template.kind, template.write(draw, tags)) for template in made_of[file]]


class Mistake:
    """A planted mistake: how a process gets it, what is to be said of it, and at which part of what is wrong."""

    def __init__(self, check, pattern, wrong, at=""):
        self.check, self.pattern, self.wrong, self.at = check, re.compile(pattern, re.M), wrong, at

    def plant(self, text):
        """The text with the mistake, and the line of it that is wrong, from 0; None where it has no place."""
        match = self.pattern.search(text)
        if not match:
            return None
        wrong = match.expand(self.wrong)
        where = match.start() + (wrong.rindex(self.at) if self.at else 0)
        text = text[:match.start()] + wrong + text[match.end():]
        return text, text.count("\n", 0, where)


MISTAKES = (
    Mistake("unknown-name", r"in fixer(-\w+)", r"in fixre\1"),
    Mistake("wrong-unit", r"room (\d+) °C$", r"room \1 mL"),
    Mistake("syntax", r"^  load (\d)", r"  laod \1"),
    Mistake("defined-twice", r"^(  develops .*\n)", r"\1\1", at="develops"),
    Mistake("window-empty", r"at 24 \.\. (\d+) °C", r"at \1 .. 24 °C"),
    Mistake("agitation-overlaps", r"5 s every 30 s", r"35 s every 30 s"),
    Mistake("figure-out-of-range", r"thermometer (.*)\n((?:.*\n)*?)  room \d+ °C", r"thermometer \1\n\2  room 2000 °C",
            at="room 2000"),
    Mistake("total-over-limit", r"develops E-6\n((?:.*\n)*?)  wet time under \d+ min", r"develops E-6\n\1  wet time under 3 min",
            at="wet time"),
    Mistake("syntax", r"\{ flow (.*) \}$", r"{ flow \1"),
    Mistake("syntax", r"^(process \S+ \"[^\"]*)\"", r"\1"),
)


def write_library(path, size, mistake_every=0):
    """Writes a library of `size` bytes and the rest of a recipe. In each so many processes one of the mistakes, in turn, is
    planted, in the next process that has a place for it. Returns what is to be reported, as (line, check) in the order of
    the file, and the number of processes."""
    planted, lines, written, processes = [], 1, 0, 0
    with open(path, "w", encoding="utf-8", newline="\n") as file:
        file.write("wetside 1\n")
        for may_end, parts in recipes():
            for kind, text in parts:
                processes += kind == "process"
                if kind == "process" and mistake_every and processes // mistake_every > len(planted):
                    mistake = MISTAKES[len(planted) % len(MISTAKES)]
                    text, line = mistake.plant(text) or (text, None)
                    if line is not None:
                        planted.append((lines + line + 1, mistake.check))
                lines += text.count("\n")
                written += len(text.encode())
                file.write(text)
            if may_end and written >= size:
                return planted, processes
    return planted, processes


SOLUTION = """solution bath-{0} "Bath {0}" {{
  role fix
  dilute 1+4
  reuse
  usable 18 .. 24 °C
  capacity 20 rolls per 1 L
  hazards none
  waste silver
}}
"""

TAIL = """tank jar { holds 600 mL; takes 1 x 135; fill 6 s; drain 6 s; emptied through lid }
solution developer { role developer; dilute 1+9; one-shot; usable 18 .. 24 °C; hazards none; waste developer }
process film {
  develops black-and-white-negative
  tank jar
  step develop in developer at 20 ± 0.5 °C for 8:00 { agitate first 30 s, then 5 s every 30 s }
  step fix in bath-0 at 20 ± 2 °C for 5:00 { agitate first 15 s, then 5 s every 30 s }
  step wash in running water at 20 ± 2 °C for at least 20:00
}
"""


def write_declarations(path, count):
    """Writes one file with so many declarations."""
    with open(path, "w", encoding="utf-8", newline="\n") as file:
        file.write('wetside 1\nallow never-used "made for measuring"\n')
        file.writelines(SOLUTION.format(number) for number in range(count - 3))
        file.write(TAIL)


BROKEN = ('thermometer t-{0} "No. {0}" {{ reads 0.1 °C wihtin 0.1 °C; correction -0.2 °C; checked 2026-02-01 }}\n',
          'thermometer t-{0} "No. {0}" {{ reads 0.1 mL within 0.1 °C; correction -0.2 °C; checked 2026-02-01 }}\n',
          'thermometer t-{0} "No. {0}" {{ reads 0.1 °C within 0.1 °C; correction -0.2 °C; checked 2026-02-31 }}\n',
          'tank t-{0} "Tank {0}" {{ holds 1 L; fill 8 s; drain 8 s; emptied through lib; takes 4 x 135 or 2 x 120 }}\n',
          'graduate g-{0} "Pouring jug {0}" {{ holds 3.5 L; cools 45 °C to 44.2 °C within 10:00 in a rom at 20 °C }}\n')


def write_broken(path, errors):
    """Writes a file with so many mistakes, one a line."""
    with open(path, "w", encoding="utf-8", newline="\n") as file:
        file.write("wetside 1\n")
        file.writelines(BROKEN[number % len(BROKEN)].format(number) for number in range(errors))


def shares(text):
    """What a recipe is made of: shares of its bytes, and how much there is for each process."""
    def size(part):
        return len(part.encode())

    code = blanked(text, "#")
    comments = sum(size(match.group()) for match in STRING_OR_COMMENT.finditer(text) if match.group()[0] == "#")
    notes = sum(size(match.group()) for match in re.finditer(r'\bnote "(?:[^"\\]|\\.)*"', code))
    mixes = sum(size(match.group()) for match in re.finditer(r"^  (?:mix|formula)\b.*?^  \}", code, re.M | re.S))
    processes = len(re.findall(r"^process ", text, re.M))
    lines = text.splitlines()
    return {"comments % of bytes": 100 * comments / size(text), "notes % of bytes": 100 * notes / size(text),
            "mixes % of bytes": 100 * mixes / size(text),
            "indentation % of bytes": 100 * sum(len(line) - len(line.lstrip(" ")) for line in lines) / size(text),
            "blank lines % of lines": 100 * sum(not line for line in lines) / len(lines),
            "clauses % of lines": 100 * sum(line.startswith(" ") for line in lines) / len(lines),
            "bytes a line": size(text) / len(lines),
            "steps a process": len(re.findall(r"^  step ", text, re.M)) / processes,
            "bytes a process": size(text) / processes}


def example_text():
    """The declarations of the examples from which a library is written, each once."""
    return "".join(text for file in EXAMPLES for _, _, text in declarations(file))
