#!/usr/bin/env python3
"""The calendar of a day, read back by libical and by ical.js: the same times as the plan's data, with and without a time
zone, in the night in which summer time begins and in that in which it ends. Its bytes are what RFC 5545 asks for: lines that
end in CR LF, none longer than 75 octets, none cut within a character, texts escaped."""

# builds: plain

import datetime
import json
import os
import random
import re
import shlex
import subprocess
import tempfile

import lockers
import sheets
from harness import ROOT, check, end, skip

NIGHTS = {
    "floating": ("", "09:00"),
    "with a zone": ("clock 1 h ahead of utc", "09:00"),
    "behind UTC": ("clock 5 h behind utc", "09:00"),
    "summer time begins": ("clock 1 h ahead of utc; clock changes 02:00 to 03:00", "22:00"),
    "summer time ends": ("clock 2 h ahead of utc; clock changes 03:00 to 02:00", "22:00"),
    "summer time begins, floating": ("clock changes 02:00 to 03:00", "22:00"),
}

GROUPS = {"mix": "mix", "test": "test", "ready": "load", "load": "load", "run": "run", "run-free": "run", "hang": "hang",
          "clean": "hang", "take-down": "take-down"}


def wanted(plan):
    """(start, end) of the events that the plan's tasks make, as they are written in the data."""
    events = []
    for task in plan["tasks"]:
        group = GROUPS.get(task["kind"])
        if group is None:
            continue
        key = (group, task["load"], task["bath"])
        last = next((event for event in events if event["key"] == key and event["end_s"] == task["start_s"]), None)
        if last and task["load"] is not None:
            last["end_s"], last["end"] = task["end_s"], task["end"]
        else:
            events.append({"key": key, "start_s": task["start_s"], "end_s": task["end_s"], "start": task["start"],
                           "end": task["end"]})
    return sorted((event["start"], event["end"]) for event in events)


def instant(stamp):
    """(what the clock shows, seconds since 1970 where that is known) of a time in the data."""
    at = datetime.datetime.fromisoformat(stamp)
    return at.strftime("%Y%m%dT%H%M%S"), int(at.timestamp()) if at.tzinfo else None


def check_bytes(raw, name):
    lines = raw.split(b"\r\n")
    check(lines[-1] == b"" and b"\n" not in raw.replace(b"\r\n", b"") and b"\r" not in raw.replace(b"\r\n", b""),
          f"{name}: every line ends in CR LF, and there is no other line end")
    long = [line for line in lines if len(line) > 75]
    check(not long, f"{name}: no line has more than 75 octets", long[:3])
    broken = [line for line in lines if not decodes(line)]
    check(not broken, f"{name}: no character is cut", broken[:3])
    whole = raw.replace(b"\r\n ", b"").decode("utf-8").split("\r\n")
    check(all(re.match(r"[A-Z-]+(;[A-Z]+=[^:;]+)*:", line) for line in whole if line), f"{name}: each line is a content line")
    for needed in ("VERSION:2.0", "PRODID:", "BEGIN:VEVENT", "UID:", "DTSTAMP:"):
        check(any(line.startswith(needed) for line in whole), f"{name}: {needed}")
    stamps = {line for line in whole if line.startswith("DTSTAMP:")}
    check(all(re.fullmatch(r"DTSTAMP:\d{8}T\d{6}Z", line) for line in stamps), f"{name}: DTSTAMP is in UTC", stamps)
    values = [line.split(":", 1)[1] for line in whole if line.startswith(("SUMMARY:", "DESCRIPTION:"))]
    check(all(re.fullmatch(r"(?:[^\\;,\x00-\x1f\x7f]|\\[\\;,n])*", value) for value in values), f"{name}: texts are escaped",
          values[:3])
    return whole


def decodes(line):
    try:
        line.decode("utf-8")
        return True
    except UnicodeDecodeError:
        return False


def libical_reader(folder):
    """The path of the reader, compiled; None where libical is not installed."""
    flags = subprocess.run(["pkg-config", "--cflags", "--libs", "libical"], capture_output=True, text=True, check=False)
    if flags.returncode != 0:
        return None
    program = os.path.join(folder, "read_calendar")
    subprocess.run(["cc", "-o", program, os.path.join(ROOT, "tests", "lists", "read_calendar.c"),
                    *shlex.split(flags.stdout)], check=True)
    return program


def check_libical(program, raw, plan, name):
    done = subprocess.run([program], input=raw, stdout=subprocess.PIPE, check=False)
    lines = done.stdout.decode("utf-8").splitlines()
    check(lines[:3] == ["kind VCALENDAR", "restrictions 1", "errors 0"] and not any("lost-zone" in line for line in lines),
          f"{name}: libical finds no fault", lines[:5])
    events, at = [], {}
    for line in lines[3:]:
        word, _, rest = line.partition(" ")
        if word == "event":
            at = {"uid": rest}
            events.append(at)
        at[word] = rest.split(" ")[0] if word in ("start", "end") else rest
    check_times([(event["start"].rstrip("Z"), utc_of(event.get("start-utc")), event["end"].rstrip("Z"),
                  utc_of(event.get("end-utc"))) for event in events], plan, f"{name}, libical")
    uids = [event["uid"] for event in events]
    check(len(set(uids)) == len(uids), f"{name}: each event has a name of its own")
    return sorted(uids)


def utc_of(text):
    """Seconds since 1970 of a time such as 20260314T090000Z."""
    if text is None:
        return None
    return int(datetime.datetime.strptime(text, "%Y%m%dT%H%M%SZ").replace(tzinfo=datetime.timezone.utc).timestamp())


def check_times(found, plan, name):
    """(start, its instant, end, its instant) of all events against the plan. What is written in UTC shows another clock."""
    expected = [(*instant(start), *instant(stop)) for start, stop in wanted(plan)]
    if all(one[1] is not None for one in expected):
        check(sorted((one[1], one[3]) for one in found) == sorted((one[1], one[3]) for one in expected),
              f"{name}: the instants of the plan", lambda: f"{sorted(found)}\n{sorted(expected)}")
    else:
        check(sorted((one[0], one[2]) for one in found) == sorted((one[0], one[2]) for one in expected),
              f"{name}: the times of the plan", lambda: f"{sorted(found)}\n{sorted(expected)}")


def check_icaljs(paths, plans):
    done = subprocess.run(["node", os.path.join(ROOT, "tests", "lists", "read_calendar.mjs"), *paths], capture_output=True,
                          text=True, check=False)
    if done.returncode == 77:
        skip("ical.js", done.stderr.strip())
        return
    check(done.returncode == 0, "ical.js reads the calendars", done.stderr)
    for (name, plan), events in zip(plans, json.loads(done.stdout or "[]")):
        plain = [(event["start"]["text"].replace("-", "").replace(":", "").rstrip("Z"), event["start"]["utc"],
                  event["end"]["text"].replace("-", "").replace(":", "").rstrip("Z"), event["end"]["utc"]) for event in events]
        check_times(plain, plan, f"{name}, ical.js")
        loads = {load["number"]: [place["roll"]["label"] for place in load["places"]] for load in plan["loads"]}
        for event in events:
            match = re.match(r"Load (\d+): (in the dark|hang)", event["summary"])
            if not match:
                continue
            labels = loads[int(match[1])] if match[2] != "hang" else loads[int(match[1])][::-1]
            lines = event["description"]
            check(all(re.sub(r"\s", "", one) in re.sub(r"\s", "", lines) for one in labels if one.isprintable()),
                  f"{name}: {match[0]} names its rolls", lines)


def main():
    sheets.need("node", "pkg-config", "cc")
    with tempfile.TemporaryDirectory() as folder:
        reader = libical_reader(folder)
        if reader is None:
            skip("libical", "libical-dev is not installed")
        paths, plans = [], []
        for number, (name, (clauses, start)) in enumerate(NIGHTS.items()):
            chance = random.Random(name)
            rolls = lockers.rolls(chance, 26, hostile=number % 2 == 1)
            title = "Nachtschicht, Regal 7; \\ und 水洗い " * 3
            path = lockers.write(os.path.join(folder, f"d{number}"), rolls, clauses=clauses, title=title, start=start)
            raw = lockers.ask("plan", "--to", "ics", path).encode("utf-8")
            plan = lockers.data("plan", path)
            whole = check_bytes(raw, name)
            check(("BEGIN:VTIMEZONE" in whole) == ("utc" in clauses), f"{name}: a time zone where the day tells its offset")
            paths.append(os.path.join(folder, f"d{number}.ics"))
            with open(paths[-1], "wb") as file:
                file.write(raw)
            plans.append((name, plan))
            if reader:
                names = check_libical(reader, raw, plan, name)
                again = lockers.ask("plan", "--to", "ics", path).encode("utf-8")
                check(again == raw and names, f"{name}: the same calendar every time")
        check_icaljs(paths, plans)
    end()


if __name__ == "__main__":
    main()
