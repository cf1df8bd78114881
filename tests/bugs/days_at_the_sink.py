#!/usr/bin/env python3
# builds: plain
"""What plans of days had wrong once. Each function tells the story in a paragraph."""

import json
import os
import re
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
from harness import check, end, run  # noqa: E402

HEAD = """wetside 1
tank jar { holds 1 L; takes 4 x 135; fill 8 s; drain 8 s }
solution developer { role developer; dilute 1+9; one-shot; hazards H317; waste developer }
solution fixer { role fix; dilute 1+4; reuse; hazards none; waste silver }
process one {
  develops C-41
  tank jar
  step develop in developer at 38 ± 0.2 °C for 3:15 { agitate continuously }
  step fix in fixer at 38 ± 1 °C for 6:30 { agitate continuously }
  step wash in running water at 35 ± 3 °C for 3:15
%s}
"""


def day(date, clauses, rolls=8, steps=""):
    """A day of colour negatives, each roll of an origin of its own."""
    lines = "".join(f'  roll R-{i} {{ format 135; needs C-41; origin "shelf {i}" }}\n' for i in range(rolls))
    return f"{HEAD % steps}day {date} {{\n  runs one; tanks jar; {clauses}\n{lines}}}\n"


def product(text, form, command="plan"):
    """A product of it."""
    made = run(command, "-", "--to", form, stdin=text.encode())
    if made.returncode != 0:
        sys.exit(made.stderr.decode())
    return made.stdout.decode()


def check_an_origin_is_named_once():
    """Rolls of one origin that go into two processes gave it two lines under "What belongs together", each with a part of its
    rolls; one that was alone in its process was in neither."""
    rolls = [(1, "Pier"), (1, "Pier"), (1, "Pier"), (2, "Pier"), (2, "Mole"), (1, "Mole"), (1, "Quay"), (2, "Quay"), (2, "Quay"), (1, "Lock")]
    lines = [f'  roll R-{i} {{ format 135; needs C-41; process {"one" if number == 1 else "two"}; origin "{origin}" }}\n'
             for i, (number, origin) in enumerate(rolls)]
    lines += [f"  roll G-{i} {{ format 135; needs C-41; process {process}; together album }}\n" for i, process in enumerate(("one", "one", "two"))]
    lines += [f"  roll H-{i} {{ format 135; needs C-41; process two; together chest }}\n" for i in range(2)]
    text = HEAD % "" + "process two from one { step fix for 5:00 }\nday 2026-03-14 {\n  runs one, two; tanks jar; allow mixed-push \"a test\"\n" + "".join(lines) + "}\n"
    page = product(text, "markdown").replace("\u00a0", " ").replace("\\", "")
    part = page.partition("## What belongs together")[2].partition("##")[0]
    found = re.findall(r"\*\*(.+)\*\*: rolls (\d+); loads (\d+); (.*)", part)
    both = "in one load of each of 2 processes"
    wanted = {"Pier": ("4", None, None), "Mole": ("2", "2", both), "Quay": ("3", None, None),
              "album": ("3", "2", f"kept together, as asked for, {both}"),
              "chest": ("2", "1", "kept together, as asked for: a risk taken")}
    check(sorted(row[0] for row in found) == sorted(wanted), "each origin and group once, and none of a single roll", part)
    order = [row[0] for row in found]
    check(order == ["Pier", "Mole", "Quay", "album", "chest"], "in the order in which they are met, process by process", order)
    for name, count, loads, how in found:
        wants = wanted.get(name, (None, None, None))
        check(count == wants[0] and wants[1] in (None, loads) and wants[2] in (None, how), f"{name}: {count} rolls", (loads, how))
    plan = json.loads(product(text, "json"))
    for name, count, loads, _ in found:
        mine = [load for load in plan["loads"] if any(name in (place["roll"]["origin"], place["roll"]["together"]) for place in load["places"])]
        check(len(mine) == int(loads), f"{name}: in {loads} loads of the plan", part)
    risks = page.partition("## Risks taken")[2].partition("##")[0]
    check("chest**: all 2 rolls" in risks and "album**: all" not in risks, "what lies in two loads is not whole in one", risks)


def check_break_in_the_hour_shown_twice():
    """In the night in which summer time ends the clock shows 02:30 twice. A break at 02:30 was put at the second of them, so
    that the hands worked through the hour at which somebody had gone, and no page said which 02:30 was meant. It is the first
    (as RFC 5545 reads such a time); what the clock shows again is said to be of the changed clock."""
    text = day("2026-10-25", "start 01:00; finish by 06:00; break 02:30 for 20 min; clock changes 03:00 to 02:00; clock 2 h ahead of utc")
    plan = json.loads(product(text, "json"))
    pause = plan["resources"]["breaks"][0]
    check((pause["start_s"], pause["end_s"]) == (90 * 60, 110 * 60), "an hour and a half from the start: the first 02:30", pause)
    busy = [task for task in plan["tasks"] if task["hands"] and task["start_s"] < pause["end_s"] and task["end_s"] > pause["start_s"]]
    check(not busy, "the hands rest in it", busy)
    events = re.findall(r"DTSTART[^:]*:(\w+)\r\nDTEND[^:]*:(\w+)", product(text, "ics"))
    in_break = [event for event in events if event[0] < "20261025T005000Z" and event[1] > "20261025T003000Z" and event[0].endswith("Z")]
    check(any(event[0].endswith("Z") for event in events) and not in_break, "and in the calendar nothing is in it", events)
    page = product(text, "markdown")
    again = [task for task in plan["tasks"] if "T02:" in task["end"] and task["end"].endswith("+01:00")]
    check(again and page.count("(changed\u00a0clock)") >= len(again), "what is shown again is marked", page)
    check("break 02:30\u00a0to\u00a002:50." in page, "the break is not", page)


def check_more_than_a_week():
    """Film that dries for nine days is dry on "Monday": the next one, or that after it? In a plan of more than a week what is
    not of the day itself has its date."""
    week = product(day("2026-03-14", "start 08:00", 4, "  step dry in air for 140 h\n"), "markdown")  # to Friday
    check("dry Friday\u00a0" in week and "2026-03-20" not in week, "within a week the weekday tells", week)
    long = day("2026-03-14", "start 08:00", 4, "  step dry in air for 216 h\n")
    for form in ("markdown", "html"):
        page = product(long, form).replace("\u00a0", " ")
        bare = re.findall(r"(?:Mon|Tues|Wednes|Thurs|Fri|Satur|Sun)day \d\d:", page)
        check("dry 2026-03-23 08:" in re.sub("<[^>]*>", "", page) and not bare, f"{form}: nine days later, with its date", bare)


def check_an_earlier_start_ends_earlier():
    """Of a start an hour earlier the plan told when the hands are free as if the day began when it does: an hour too late, and
    past the finish that it was to help with."""
    remedies = json.loads(product(day("2026-03-14", "start 10:00; finish by 12:40", 12), "json"))["remedies"]
    told = [remedy["end_s"] for remedy in remedies if remedy["kind"] == "start" and remedy["fits"]]
    ends = json.loads(product(day("2026-03-14", "start 09:00; finish by 12:40", 12), "json"))["summary"]["end_s"]
    check(told == [ends - 3600], "hands are free when they are on a day that begins an hour earlier", (told, ends))


def tempered(clauses, rolls):
    """(start, end) of tempering, the pour and whether to temper again, of each load; and the plan and its page."""
    text = day("2026-03-14", clauses, rolls)
    plan = json.loads(product(text, "json"))
    tempers = {task["load"]: (task["start_s"], task["end_s"]) for task in plan["tasks"] if task["kind"] == "temper"}
    loads = [(*tempers[load["number"]], load["pour_s"], load["temper_again"]) for load in plan["loads"] if load["today"]]
    return loads, plan, product(text, "markdown")


def check_no_break_before_the_pour():
    """Baths came to temperature as soon as they were set out; then the hands had a break, or did something else for hours,
    and the tepid baths were poured the moment they were back. Baths are tempered just before the pour, and the break comes
    before that. Where it cannot, since a load would be left for it, the plan says to temper again. Four rolls are loaded in 6
    minutes and tempered in 10, as docs/language.md says of a day that says nothing."""
    loads, plan, page = tempered("start 12:30; break 13:00 for 45 min", 8)
    pause = plan["resources"]["breaks"][0]
    check(loads[0][0] == pause["end_s"] and not any(load[3] for load in loads), "tempered after the break", loads)
    check(all(start + 600 == stop == pour for start, stop, pour, _ in loads), "ten minutes, up to the pour", loads)
    check("temper again" not in page, "and not again", page)
    waiting, plan, _ = tempered("start 09:00; reels 4 x 135; reels dry for 3 h", 8)
    check(waiting[1][1] == waiting[1][2], "set out early, for want of reels, and tempered late", waiting)
    # 13:00, 45 minutes of break, and the run, hanging and rinsing of a load: so much later it is done.
    ends = next(load["hung_s"] for load in plan["loads"]) + 300 - waiting[0][2]
    tight = f"finish by {13 + (45 * 60 + ends + 60) // 3600}:{(45 * 60 + ends + 60) % 3600 // 60:02}"
    loads, plan, page = tempered(f"start 12:30; break 13:00 for 45 min; {tight}", 4)
    check(len(loads) == 1 and loads[0][3] and loads[0][2] == 75 * 60, "no time to temper after the break: the load is done all the same",
          (loads, tight))
    check("temper again before the pour" in page, "and the plan says what to do", page)
    loads, _, _ = tempered("start 12:30; break 12:50 for 8 min", 4)
    check(loads[0][2:] == (28 * 60, False), "through a break of less than ten minutes they may stand: poured when it is over", loads)
    loads, _, _ = tempered("start 12:30; break 12:50 for 10 min", 4)
    check(loads[0][2:] == (30 * 60, False), "and through one of ten", loads)
    loads, _, _ = tempered("start 12:30; break 12:50 for 10 min; temper 9 min", 4)
    check(loads[0][0] == 30 * 60 and not loads[0][3], "not where they are tempered in nine", loads)


if __name__ == "__main__":
    check_no_break_before_the_pour()
    check_an_earlier_start_ends_earlier()
    check_an_origin_is_named_once()
    check_break_in_the_hour_shown_twice()
    check_more_than_a_week()
    end()
