#!/usr/bin/env python3
# builds: plain
"""Files on which the time once grew with the square of their length: minutes then, about half a second each now. The
limit is wide, so that a busy machine does not matter, and far below what the square would take."""

import os
import sys
import time

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
from harness import check, end, run  # noqa: E402

COUNT = 20000
LIMIT_S = 20

HEAD = """wetside 1
tank jar { holds 1 L; fill 5 s; drain 5 s; takes 2 x 135 }
solution developer { role developer; dilute 1+9; reuse; hazards H317; waste developer }
solution fixer { role fix; dilute 1+4; reuse; hazards none; waste silver }
"""
PROCESS = """process %s {
  develops black-and-white-negative
  tank jar
  step develop in developer at 20 °C for 9:00 { agitate continuously }
  step fix in fixer at 20 °C for 5:00 { agitate continuously; time excludes draining }
}
"""
BATH = "solution %s { role fix; dilute 1+4; reuse; hazards none; waste silver }\n"


def each(text, name="n%s"):
    """A piece of text for each number, with a name in letters in the place of %s."""
    letters = str.maketrans("0123456789", "abcdefghij")
    return "".join(text % (name % str(number).translate(letters)) for number in range(COUNT))


def cases():
    """Names, files and exit statuses, each with what was wrong."""
    # Every error was compared with every declaration of every process after it.
    yield "errors before many processes", HEAD + each("solution %s { role nope }\n") + each(PROCESS, "p%s"), 1
    # Every unknown name was compared with every known one.
    yield "unknown names among many", HEAD + each(BATH) + each(PROCESS.replace("in fixer", "in fixxer"), "p%s"), 1
    # The list of baths on hand was walked for every line of it.
    yield "many baths on hand", HEAD + PROCESS % "one" + each(BATH) + each("on hand %s 1 L done 2 rolls\n"), 0
    # The list of departures was walked for every one that was read.
    yield "many departures", HEAD + each(PROCESS.replace("  tank jar\n", '  tank jar\n  allow uneven-pour "x"\n')), 0
    # A line was read from its start for every clause that it holds.
    yield "many clauses on a line", HEAD + "solution long { role fix; mix { " + "stir 3 s; " * COUNT + "} }\n", 0
    yield "many mistakes on a line", HEAD + "tank long { " + "holds 1 kg; " * COUNT + "}\n", 1
    # The rest of the file was looked through for a brace for every mistake in a step.
    yield "many mistakes in a step", HEAD + "process p {\n  step a in water for 1 s\n" + "    agitate foo\n" * COUNT, 1
    # A mistake in a parent is found again for every process that varies it.
    yield "many variants of a mistake", (HEAD + PROCESS.replace("9:00", "9 kg") % "parent" +
                                         each("process %s from parent { push 1 }\n")), 1


def main():
    for name, source, status in cases():
        begun = time.monotonic()
        done = run("check", "-", stdin=source.encode(), timeout=10 * LIMIT_S)
        lasted = time.monotonic() - begun
        check(done.returncode == status and lasted < LIMIT_S, name,
              f"{lasted:.1f} s, status {done.returncode}\n{done.stderr.decode()[-300:]}")
    end()


main()
