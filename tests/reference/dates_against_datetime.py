#!/usr/bin/env python3
"""Days of the calendar agree with Python's datetime: the first and last day of every month from 0001 to 9999, random days,
what is no day, and what is no date."""

import calendar
import datetime
import os
import random
import subprocess
import sys

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))

import harness  # noqa: E402

DRIVER = os.path.join(os.path.dirname(harness.WETSIDE), "unit", "model", "driver_date")
EPOCH = datetime.date(1970, 1, 1).toordinal()
SEED = 20260314
NO_DATES = ["", "2026", "2026-3-14", "2026-03-4", "26-03-14", "2026/03/14", "2026-03-14 ", " 2026-03-14", "2026-03-14T00:00",
            "2026-03-1a", "+026-03-14", "-026-03-14", "2026--03-14", "20260314", "2026-03-١٤", "2026-13-01", "2026-00-10",
            "2026-10-00", "0000-00-00", "2026-03-14\x00", "2026-03-014"]


def ask(lines):
    """The driver's answers."""
    done = subprocess.run([DRIVER], input="".join(line + "\n" for line in lines).encode(), stdout=subprocess.PIPE,
                          stderr=subprocess.PIPE, check=False)
    if done.returncode != 0:
        harness.not_ok("the driver runs", done.stderr.decode())
        harness.end()
    return done.stdout.decode().splitlines()


def compare(name, lines, wanted):
    answers = ask(lines)
    wrong = [f"{line}: {got}, wanted {want}" for line, got, want in zip(lines, answers, wanted) if got != want]
    harness.check(len(answers) == len(lines) and not wrong, name, "\n".join(wrong[:5]) or f"{len(answers)} answers")


def main():
    if not os.access(DRIVER, os.X_OK):
        print(f"{DRIVER} is not built")
        sys.exit(77)
    chance = random.Random(SEED)
    days = []
    for year in range(1, 10000):
        for month in range(1, 13):
            last = calendar.monthrange(year, month)[1]
            days += [datetime.date(year, month, 1), datetime.date(year, month, last)]
    days += [datetime.date.fromordinal(chance.randint(1, datetime.date.max.toordinal())) for _ in range(20000)]
    counts = [str(day.toordinal() - EPOCH) for day in days]
    texts = [day.isoformat() for day in days]
    compare(f"{len(days)} dates as days", [f"is {text}" for text in texts], counts)
    compare(f"{len(days)} days as dates", [f"day {count}" for count in counts], texts)
    beyond = [f"{year:04}-{month:02}-{day:02}" for year in (1, 4, 100, 400, 1900, 2000, 2023, 2024, 2100, 9999)
              for month in range(1, 13) for day in range(calendar.monthrange(year, month)[1] + 1, 33)]
    compare("days after the last of a month are none", [f"is {text}" for text in beyond], ["no"] * len(beyond))
    compare("what is no date is none", [f"is {text}" for text in NO_DATES if "\x00" not in text],
            ["no"] * (len(NO_DATES) - 1))
    harness.end()


if __name__ == "__main__":
    main()
