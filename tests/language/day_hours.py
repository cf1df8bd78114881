#!/usr/bin/env python3
"""Hours of a day as they run on: past midnight, and past a change of the clock in either direction. The expected seconds are
worked out here, on the zone Europe/Berlin of Python's zoneinfo, from times of the clock. An hour that the clock shows twice is
meant the first time (RFC 5545, 3.3.5); one that it never shows is refused."""

import datetime
import json
import os
import sys
import tempfile
import zoneinfo

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))

import harness  # noqa: E402

ZONE = zoneinfo.ZoneInfo("Europe/Berlin")
RECIPE = """wetside 1
tank jar { holds 1 L; takes 4 x 135; fill 8 s; drain 8 s }
solution developer { role developer; hazards H317; waste developer }
solution fixer { role fix; hazards none; waste silver }
process one {
  develops C-41
  tank jar
  step develop in developer at 38 °C for 3:15 { agitate continuously }
  step fix in fixer at 38 °C for 3:15 { agitate continuously }
}
"""


def elapsed(date, clock, is_next_day):
    """Seconds from the day's midnight until the clock on a wall of the zone shows a time, for the first time where it shows
    it twice."""
    day = datetime.date.fromisoformat(date)
    hour, minute = divmod(int(clock[:2]) * 60 + int(clock[3:]), 60)
    midnight = datetime.datetime(day.year, day.month, day.day, tzinfo=ZONE)
    shown = datetime.datetime.combine(day + datetime.timedelta(days=is_next_day), datetime.time(hour % 24, minute), ZONE)
    return int((shown.astimezone(datetime.timezone.utc) - midnight.astimezone(datetime.timezone.utc)).total_seconds())


# Date, clauses, finish and breaks on the clock, and whether they are on the next day.
DAYS = [
    ("2026-03-14", "start 09:00; finish by 21:00; break 13:00 for 45 min", ("21:00", False), [("13:00", False)]),
    ("2026-03-14", "start 18:00; finish by 02:30; break 00:15 for 45 min; break 21:00 for 10 min", ("02:30", True),
     [("21:00", False), ("00:15", True)]),
    ("2026-03-28", "start 20:00; finish by 06:00; break 04:00 for 30 min; clock changes 02:00 to 03:00", ("06:00", True), [("04:00", True)]),
    ("2026-03-29", "start 01:00; finish by 09:00; break 01:30 for 10 min; clock changes 02:00 to 03:00", ("09:00", False), [("01:30", False)]),
    ("2026-10-24", "start 20:00; finish by 06:00; break 01:00 for 30 min; clock changes 03:00 to 02:00", ("06:00", True), [("01:00", True)]),
    ("2026-10-25", "start 00:30; finish by 02:30; clock changes 03:00 to 02:00", ("02:30", False), []),
    ("2026-10-25", "start 00:30; finish by 07:00; break 02:30 for 20 min; break 03:00 for 10 min; clock changes 03:00 to 02:00",
     ("07:00", False), [("02:30", False), ("03:00", False)]),
    ("2026-10-24", "start 20:00; finish by 02:45; break 02:00 for 20 min; clock changes 03:00 to 02:00", ("02:45", True),
     [("02:00", True)]),
    ("2026-03-29", "start 00:30; finish by 07:00; break 03:00 for 10 min; break 05:30 for 20 min; clock changes 02:00 to 03:00",
     ("07:00", False), [("03:00", False), ("05:30", False)]),
    # 02:00 is the moment in which the clock shows 03:00.
    ("2026-03-28", "start 20:00; finish by 06:00; break 02:00 for 30 min; clock changes 02:00 to 03:00", ("06:00", True), [("03:00", True)]),
]
# Hours that the clock never shows, in the night in which it is put on from 02:00 to 03:00.
SKIPPED = [
    ("2026-03-29", "start 00:30; break 02:30 for 20 min; clock changes 02:00 to 03:00"),
    ("2026-03-28", "start 20:00; finish by 06:00; clock changes 02:00 to 03:00; break 02:01 for 5 min; break 03:00 for 5 min"),
    ("2026-03-28", "start 20:00; clock changes 02:00 to 03:00; finish by 02:59"),
]


def main():
    with tempfile.TemporaryDirectory() as folder:
        for date, clauses, finish, breaks in DAYS:
            path = os.path.join(folder, "day.wet")
            with open(path, "w", encoding="utf-8") as file:
                file.write(RECIPE + f"day {date} {{ runs one; {clauses} }}\n")
            done = harness.run("model", "--to", "json", path)
            day = json.loads(done.stdout)["days"][0] if done.returncode == 0 else None
            found = day and (day["finish"]["since_midnight_s"], [pause["since_midnight_s"] for pause in day["breaks"]])
            wanted = (elapsed(date, *finish), [elapsed(date, *pause) for pause in breaks])
            harness.check(found == wanted, f"{date}: {clauses}", f"{found}, not {wanted}\n{done.stderr.decode()}")
    for date, clauses in SKIPPED:
        done = harness.run("check", "-", stdin=(RECIPE + f"day {date} {{ runs one; {clauses} }}\n").encode())
        said = done.stderr.decode()
        harness.check(done.returncode == 1 and said.count("error:") == 1 and "from 02:00 to 03:00" in said and
                      "help = 03:00 is the moment of the change" in said, f"refused: {clauses}", said)
    harness.end()


main()
