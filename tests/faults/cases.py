"""What the program is asked to do while its calls fail: every output of `emit/emitters.def`, and every other command."""

import collections
import json
import os
import re
import subprocess
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
from harness import WETSIDE, read  # noqa: E402

ONE = """wetside 1
tank jar { holds 600 mL; fill 5 s; drain 5 s; takes 2 x 135; cools 24 °C to 22 °C within 5:00 in a room at 18 °C }
solution developer { role developer; dilute 1+9; reuse; usable 15 .. 30 °C; hazards H317; waste developer }
solution fixer { role fix; dilute 1+4; reuse; hazards none; waste silver }
process one "Both rolls" {
  develops black-and-white-negative
  tank jar; room 18 °C
  step develop in developer at 20 ± 1 °C for 1:00 { agitate first 30 s; coefficient 8 % per K }
  step fix in fixer at 20 ± 2 °C for at least 0:30 { agitate first 15 s; note "Both *thumbs* [on](https://example.org)" }
}
"""
DAY = """wetside 1
use "one.wet"
dryer line { takes 4 rolls; for 60 min }
day 2026-03-14 {
  start 09:00; finish by 18:00
  runs one; tanks jar; reels 4 x 135; dryer line
  load 1:30 per roll; hang 1:00 per roll
  rolls from "rolls.csv"
  roll SM-9 { format 135; needs black-and-white-negative; origin "Harbour office"; note "Wanted on *Monday*" }
}
"""
ROLLS = "label,format,needs,origin,note\nSM-1,135,black-and-white-negative,Mole,\nSM-2,135,black-and-white-negative,Mole,x\n"
FIXABLE = ONE.replace("takes", "taeks").replace("role fix", "Role fix")

# `target`: the file that it writes; `before`: what is copied there at each start (none: it is not there); `status`: of a
# run without a failure; `other`: a second file that it writes. One that is streamed may have written some of it to standard
# output when it fails.
Case = collections.namedtuple("Case", "name words target before status stdin is_streamed other")

OPERANDS = {"plan": ["day.wet"], "lists": ["day.wet"], "review": ["run.log"], "diff": ["one.wet", "other.wet"]}
STATUS = {"diff": 1}


def write(folder, name, text):
    with open(os.path.join(folder, name), "w", encoding="utf-8", newline="") as file:
        file.write(text)


def frame(**message):
    body = json.dumps({"jsonrpc": "2.0", **message})
    return f"Content-Length: {len(body.encode())}\r\n\r\n{body}"


def session(folder):
    """A short session of an editor: a text is opened, asked about, changed, and asked about again."""
    uri = "file://" + os.path.join(folder, "day.wet")
    document = {"uri": uri}
    at = {"textDocument": document, "position": {"line": 5, "character": 8}}
    changed = {"textDocument": {**document, "version": 2}, "contentChanges": [{"text": DAY.replace("runs one", "runs ome")}]}
    return "".join((
        frame(id=1, method="initialize", params={"processId": None, "rootUri": None, "capabilities": {}}),
        frame(method="initialized", params={}),
        frame(method="textDocument/didOpen",
              params={"textDocument": {**document, "languageId": "wetside", "version": 1, "text": DAY}}),
        frame(id=2, method="textDocument/documentSymbol", params={"textDocument": document}),
        frame(id=3, method="textDocument/hover", params=at),
        frame(id=4, method="textDocument/completion", params=at),
        frame(method="textDocument/didChange", params=changed),
        frame(id=5, method="textDocument/formatting", params={"textDocument": document, "options": {}}),
        frame(method="textDocument/didClose", params={"textDocument": document}),
        frame(id=6, method="shutdown"),
        frame(method="exit")))


def prepare(folder):
    """The files that the cases read, in a folder where they may write too."""
    for name, text in (("one.wet", ONE), ("other.wet", ONE.replace("for 1:00", "for 1:30")), ("day.wet", DAY),
                       ("rolls.csv", ROLLS), ("wrong.wet", ONE.replace("1:00", "1 kg")), ("old", "old\n"),
                       ("untidy", ONE.replace("  ", "\t")), ("fixable", FIXABLE), ("100.clock", "100.00\n"),
                       ("session", session(folder))):
        write(folder, name, text)
    timer = subprocess.run([WETSIDE, "timer", "one.wet"], cwd=folder, stdout=subprocess.PIPE, check=True).stdout.decode()
    write(folder, "timer.sh", timer)
    subprocess.run(["sh", "timer.sh", "--clock-file", "100.clock", "--log", "run.log"], cwd=folder,
                   stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, check=True, timeout=60)


def emitters():
    """Product and format of each output there is."""
    return re.findall(r"^EMITTER\((\w+), (\w+),", read("src/emit/emitters.def"), re.MULTILINE)


def case(name, words, target="", before="", status=0, stdin="", is_streamed=False, other=""):
    return Case(name, words, target, before, status, stdin, is_streamed, other)


def cases():
    found = []
    for product, form in emitters():
        words = [product, "--to", form, *OPERANDS.get(product, ["one.wet"])]
        status = STATUS.get(product, 0)
        found += [case(f"{product} to {form}", words, status=status, is_streamed=form == "wav"),
                  case(f"{product} to {form}, a file", words + ["-o", "out"], "out", "old", status)]
    return found + [
        case("check", ["check", "day.wet"]),
        case("check, of errors", ["check", "wrong.wet"], status=1),
        case("check, of errors as JSON", ["check", "--diagnostics=json", "wrong.wet"], status=1),
        case("check, of errors as SARIF", ["check", "--diagnostics=sarif", "wrong.wet", "one.wet"], status=1),
        case("check, with a dependency file", ["check", "day.wet", "-MF", "out", "-MT", "all"], "out", "old"),
        case("check --fix", ["check", "--fix", "fixed.wet"], "fixed.wet", "fixable"),
        case("check --fix --diff", ["check", "--fix", "--diff", "fixed.wet"], "fixed.wet", "fixable", 1),
        case("cues of a load", ["cues", "--load=1", "day.wet", "-o", "out"], "out", "old"),
        case("cues of a recipe on standard input", ["cues", "-", "-o", "out"], "out", "", stdin="one.wet"),
        case("a sheet with its dependency file", ["sheet", "one.wet", "-MF", "dependencies", "-o", "out"], "out", "", other="dependencies"),
        case("a sheet with a forecast", ["sheet", "--forecast", "--room=12C", "one.wet"]),
        case("fmt", ["fmt", "tidied.wet"], "tidied.wet", "untidy"),
        case("fmt --check", ["fmt", "--check", "tidied.wet"], "tidied.wet", "untidy", 1),
        case("fmt --diff", ["fmt", "--diff", "tidied.wet"], "tidied.wet", "untidy", 1),
        case("new", ["new", "fresh"], "fresh.wet", ""),
        case("explain", ["explain", "carry-over"]),
        case("explain --list", ["explain", "--list"]),
        case("complete", ["complete", "--", "sheet", "--process=", "one.wet"]),
        case("lsp", ["lsp"], stdin="session", is_streamed=True),
        case("--help", ["--help"]),
        case("help of a command", ["sheet", "--help"]),
        case("--version", ["--version"]),
        case("wrong usage", ["sheat"], status=2)]
