#!/usr/bin/env python3
"""docs/sound.md tells the signals of emit/sound/signals.def as they are, and every kind of cue has one. `--write` brings
the page up to date."""

import pathlib
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1]))

import harness
from definitions import rows
from sections import WRITES, code, judge, table


def shown(pulse):
    at, length, low, high = (int(figure) for figure in pulse)
    return f"{at} – {at + length}: {low}" + ("" if low == high else f" → {high}")


def signals():
    words = {f"CUE_{row[0]}": code(row[1]) for row in rows("compute/cues.def", "CUE")} | {"COUNT_IN": "count-in"}
    pulses = rows("emit/sound/signals.def", "PULSE")
    lines = [[words[kind], sounds, "; ".join(shown(pulse) for of, *pulse in pulses if of == kind)]
             for kind, _, sounds in rows("emit/sound/signals.def", "SIGNAL")]
    return table(["cue", "sounds", "pulses: from – to in ms, pitch in Hz"], lines)


def main():
    judge("docs/sound.md", {"src/emit/sound/signals.def": signals})
    if WRITES:
        return
    kinds = [f"CUE_{row[0]}" for row in rows("compute/cues.def", "CUE")] + ["COUNT_IN"]
    have = [row[0] for row in rows("emit/sound/signals.def", "SIGNAL")]
    harness.check(sorted(kinds) == sorted(have), "every kind of cue has one signal", f"{have}")
    harness.end()


if __name__ == "__main__":
    main()
