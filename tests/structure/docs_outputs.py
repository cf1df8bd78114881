#!/usr/bin/env python3
"""docs/outputs.md lists the outputs of emitters.def as they are, and with docs/cues.md every kind of cue and every event
of a timer's log. `--write` brings the list up to date."""

import pathlib
import re
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1]))

import harness
from definitions import ROOT, rows
from sections import WRITES, code, judge, table


def outputs():
    lines = []
    for product, form, extension, media_type, _, summary in rows("emit/emitters.def", "EMITTER"):
        lines.append([code(f"{product} --to {form}"), code(extension), media_type, summary])
    return table(["command", "extension", "media type", "is"], lines)


def events():
    """The words that the timer's scripts and the live page's write for an event."""
    found = set()
    for path in sorted((ROOT / "src" / "emit" / "timer").glob("*.sh")):
        text = path.read_text(encoding="utf-8")
        found |= set(re.findall(r"\brecord_event ([a-z-]+)", text))
        found |= set(re.findall(r"\brecord event ([a-z-]+)", text))
        found |= set(re.findall(r"\bready_note ([a-z-]+)", text))
        found |= set(re.findall(r"\bleave ([a-z]+) \d", text))
    for path in sorted((ROOT / "src" / "emit" / "live").glob("*.js")):
        text = path.read_text(encoding="utf-8")
        found |= set(re.findall(r'\b(?:recordEvent|finish)\("([a-z-]+)"', text))
        found |= set(re.findall(r'\brecordOf\([^,]+, "([a-z-]+)"', text))
        found |= set(re.findall(r'\brecordAt\([^,]+, "event", "([a-z-]+)"', text))
    return found


def named(text):
    return set(re.findall(r"`([^`\n]+)`", text))


def main():
    text = judge("docs/outputs.md", {"src/emit/emitters.def": outputs})
    if WRITES:
        return
    kinds = {row[1] for row in rows("compute/cues.def", "CUE")}
    unknown = kinds - named(harness.read("docs/cues.md"))
    harness.check(not unknown, "docs/cues.md names every kind of cue", f"missing: {sorted(unknown)}")
    unknown = events() - named(text)
    harness.check(events() and not unknown, "docs/outputs.md names every event of a log", f"missing: {sorted(unknown)}")
    help_text = (ROOT / "src" / "emit" / "timer" / "options.sh").read_text(encoding="utf-8")
    options = set(re.findall(r"^\t\t'\s+(?:-h, )?(--[a-z-]+)", help_text, flags=re.M)) - {"--help"}
    unknown = options - set(re.findall(r"--[a-z-]+", text))
    harness.check(options and not unknown, "docs/outputs.md names every option of the timer", f"missing: {sorted(unknown)}")
    harness.end()


if __name__ == "__main__":
    main()
