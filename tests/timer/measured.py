#!/usr/bin/env python3
# builds: plain
# lasts: 40
"""The time for a measured temperature: every row of a timer's tables is what `cues --at` says, the cues laid anew for it are the
cue list's to the second, what is typed at the sink is understood or refused, and the log tells it and is gone on with."""

import concurrent.futures
import json
import os
import re
import subprocess
import sys

import rig
from harness import check, run

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "cues"))
import read_back  # noqa: E402

RECIPE = "tests/timer/measured.wet"
MEASURED = [(RECIPE, name) for name in ("short", "mono", "open", "by-maker")]
SHELLS = ("dash", "busybox", "mksh")
CUE = re.compile(r"^ *(-?\d+:\d\d:\d\d)  +(-?\d+:\d\d:\d\d)  ([* ]) (.*)$")
MOVED = ("drain-soon", "drain", "end", "latest-end", "light")
POOL = concurrent.futures.ThreadPoolExecutor(4)


class Table:
    """The table of one step, read back from a script."""

    def __init__(self, number, body):
        self.number, self.name = number, re.search(r"step_is '(.*)'", body)[1]
        self.unit = re.search(r"step_measure (\w)", body)[1]
        self.coldest, self.warmest = (int(figure) for figure in re.search(r"step_times (-?\d+) (-?\d+) ", body).groups())
        rows = re.findall(r"^\t\tstep_row (.*)$", body, re.M)
        self.rows = [[None if figure == "-" else int(figure) for figure in row.split()] for row in rows]

    def at(self, hundredths):
        """The argument of --at and --measured."""
        return f"{self.name}={hundredths / 100:.2f}{self.unit}"


def tables(path):
    """The steps of a script that have a table."""
    with open(path, encoding="utf-8") as file:
        bodies = re.findall(r"^\t(\d+)\)\n(.*?)^\t\t;;", file.read(), re.M | re.S)
    return [Table(int(number), body) for number, body in bodies if "step_row" in body]


def cue_list(recipe, process, *options):
    """The cue list of a run as data; None where the program refuses it."""
    done = run("cues", "--to", "json", "--process", process, *options, recipe)
    return json.loads(done.stdout) if done.returncode == 0 else None


def seconds(exact):
    return int((exact * 1000 + 500) // 1000)


def row_of(cues, number):
    """What a row should hold, from a cue list: time, agitations, what hangs on its end."""
    step = next(step for step in cues["steps"] if step["number"] == number)
    own = [cue for cue in cues["cues"] if cue["step"] == number]
    since = {cue["kind"]: seconds(cue["since_start_s"]) for cue in own}
    return [seconds(step["used_time"]["low_s"]), sum(cue["kind"] == "agitation-start" for cue in own),
            *(since.get(kind) for kind in MOVED)]


def check_rows(recipe, process, *options):
    """All rows of a process against the program; returns how many there are."""
    name = " ".join((process, *options))
    path = rig.script(recipe, process) if not options else made(recipe, process, *options)
    count = 0
    for table in tables(path):
        readings = [row[0] for row in table.rows]
        lists = list(POOL.map(lambda reading, table=table: cue_list(recipe, process, *options, "--at", table.at(reading)),
                              readings))
        wrong = [(row, cues and row_of(cues, table.number)) for row, cues in zip(table.rows, lists)
                 if not cues or row[1:-1] != row_of(cues, table.number)]
        check(not wrong, f"{name}: {table.name}: every row is what --at makes of it", wrong[:3])
        beyond = [cue_list(recipe, process, *options, "--at", table.at(reading))
                  for reading in (table.coldest - 1, table.warmest + 1)]
        check(beyond == [None, None] and readings == sorted(set(readings))
              and (readings[0], readings[-1]) == (table.coldest, table.warmest),
              f"{name}: {table.name}: the table goes as far as the recipe", readings)
        check(4 < len(readings) <= 64, f"{name}: {table.name}: not too many rows", len(readings))
        times = [row[1] for row in table.rows]
        check(times == sorted(times, reverse=True), f"{name}: {table.name}: warmer never takes longer", times)
        count += len(readings)
    return count


def check_drift():
    """Temperatures from which the bath would drift too far are not carried, just as --at refuses them."""
    (table,) = tables(rig.script(RECIPE, "drifting"))
    refused = [cue_list(RECIPE, "drifting", "--at", table.at(reading)) is None
               for reading in (*range(1500, table.coldest, 30), *(row[0] for row in table.rows))]
    check(1600 < table.coldest < 2000 and refused == sorted(refused, reverse=True)
          and refused.count(False) == len(table.rows), "drift: what --at refuses is left out, and no more",
          (table.coldest, refused))


def made(recipe, process, *options):
    """A script made with options of its own."""
    path = os.path.join(rig.scratch(process), "timer.sh")
    done = run("timer", "--process", process, *options, "-o", path, recipe)
    check(done.returncode == 0, f"timer {' '.join(options)}", done.stderr.decode("utf-8", "replace"))
    return path


def listed(command, path, *options):
    """What --dry-run prints: (run, step clock, mark, text) in order, and what it says on standard error."""
    done = subprocess.run([*command, path, "--dry-run", *options], stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                          check=False, env=rig.environment(rig.FOLDER), timeout=30)
    rows = [CUE.match(line).groups() for line in done.stdout.decode("utf-8").split("\n") if CUE.match(line)]
    return rows, done.stderr.decode("utf-8", "replace")


def wanted(cues, unit):
    """The same from a cue list, in the order of the steps. The cue list says what was measured in °C."""
    rows = []
    for cue in sorted(cues["cues"], key=lambda cue: cue["step"]):
        text = re.sub(r" at \S+ °C, as measured", " at measured", cue["text"]) if unit == "F" else cue["text"]
        rows.append((seconds(cue["at_s"]), seconds(cue["since_start_s"]), "*" if cue["rings"] else " ", text))
    return rows


def check_cues(recipe, process):
    """At seven temperatures of each table, ends, working point and between them, in every shell."""
    path = rig.script(recipe, process)
    shells = {name: command for name, command in rig.shells().items() if name in SHELLS}
    cases = []
    for table in tables(path):
        readings = [row[0] for row in table.rows]
        cases += [(table, readings[i * (len(readings) - 1) // 6]) for i in range(7)]

    def judge(case):
        table, reading = case
        expected = wanted(cue_list(recipe, process, "--at", table.at(reading)), table.unit)
        wrong = []
        for name, command in shells.items():
            rows, errors = listed(command, path, "--measured", table.at(reading))
            rows = [(read_back.seconds_of(at), read_back.seconds_of(since), mark, read_back.plain(text))
                    for at, since, mark, text in rows]
            if table.unit == "F":
                rows = [(*row[:3], re.sub(r" at \S+ °F, as measured", " at measured", row[3])) for row in rows]
            if rows != expected:
                wrong.append((name, table.at(reading), errors, set(expected) ^ set(rows)))
        return wrong

    wrong = [one for wrong in POOL.map(judge, cases) for one in wrong]
    check(cases and not wrong, f"{process}: the cues at {len(cases)} temperatures are those of the cue list", wrong[:3])


def check_two():
    """Two steps measured in one run."""
    recipe, process = RECIPE, "open"
    options = ("develop=66F", "fix=75F")
    cues = cue_list(recipe, process, *(word for option in options for word in ("--at", option)))
    rows, errors = listed(["dash"], rig.script(recipe, process), *(f"--measured={option}" for option in options))
    expected = [row[:2] for row in wanted(cues, "F")]
    check([(read_back.seconds_of(at), read_back.seconds_of(since)) for at, since, *_ in rows] == expected,
          "two steps measured in one run", errors)


def check_this_run():
    """A timer made for a run with other conditions: its times, what it says, its log's head."""
    options = ("--done", "brew=2", "--room", "19C", "--at", "develop=70.5F")
    path = made(RECIPE, "open", *options)
    cues = cue_list(RECIPE, "open", *options)
    rows, _ = listed(["dash"], path)
    expected = wanted(cues, "F")
    check([(read_back.seconds_of(at), read_back.seconds_of(since)) for at, since, *_ in rows]
          == [row[:2] for row in expected], "this run: the cues are those of the cue list", rows[:3])
    reason = read_back.plain(cues["steps"][0]["used_time"]["reason"])
    line = read_back.plain(cues["this_run"])
    listing = subprocess.run(["dash", path, "--list"], stdout=subprocess.PIPE, check=False,
                             env=rig.environment(rig.FOLDER)).stdout.decode("utf-8")
    check(f"This run: {line}" in listing and f"({reason})" in listing, "this run: --list says what differs and why", listing)
    folder = rig.scratch("this-run")
    output, log = whole(["dash"], path, folder)
    check(f"This run: {line}" in output, "this run: it is said at the beginning", output[:800])
    head = {fields[0]: fields[1:] for fields in (text.split("\t") for text in log.lines)}
    times = [text.split("\t")[1:] for text in log.lines if text.startswith("plan-time\t")]
    declared = [["1", "250", str(seconds(cues["steps"][0]["used_time"]["low_s"])), reason.replace("°", "")]]
    check(head["this-run"] == [line.replace("°", "")] and times == declared, "this run: the log's head has both",
          (head.get("this-run"), times, declared))
    check(rig.came(log) == rig.expected(log.plan), "this run: the cues come as planned", "")
    # The same recipe on another day is another plan.
    done = subprocess.run(["dash", rig.script(RECIPE, "open"), "--log", os.path.join(folder, "cut.log"), "--go-on"],
                          stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, check=False,
                          env=rig.environment(folder)) if cut(folder, "cut.log", 60) else None
    check(done and done.returncode == 2 and b"of another plan" in done.stdout, "this run: its log is for no other run",
          done and done.stdout)


def whole(command, path, folder, *options, log="run.log"):
    """A run on a clock in a file without a terminal: its output, its log."""
    with open(os.path.join(folder, "clock"), "w", encoding="ascii") as file:
        file.write("1000 0\n")
    log = os.path.join(folder, log)
    done = subprocess.run([*command, path, "--clock-file", "clock", "--log", log, *options], cwd=folder, check=False,
                          stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, timeout=60,
                          env=rig.environment(folder))
    return done.stdout.decode("utf-8", "replace"), rig.Log(log)


def cut(folder, name, lines):
    """The beginning of run.log as another log."""
    with open(os.path.join(folder, "run.log"), encoding="utf-8") as file:
        text = file.read().split("\n")
    with open(os.path.join(folder, name), "w", encoding="utf-8") as file:
        file.write("\n".join(text[:lines]) + "\n")
    return len(text) > lines


def times_of(log):
    """Step, declared and used time, reason of each time that was worked out in the run."""
    return [(int(event.step), int(event.planned), float(event.actual), event.remark) for event in log.events
            if event.word == "used-time"]


def given(name, command):
    """Measured before, without a terminal; cut off anywhere and gone on with, the times stay."""
    folder = rig.scratch(name)
    path = rig.script(RECIPE, "open")
    options = ("--measured", "develop=66,1", "--measured", "fix=75.0 F")
    output, log = whole(command, path, folder, *options)
    cues = cue_list(RECIPE, "open", "--at", "develop=66F", "--at", "fix=75F")
    listed_cues = [(cue["step"], cue["kind"], seconds(cue["since_start_s"])) for cue in cues["cues"]
                   if cue["kind"] != "latest-end"]
    results = [("given: the cues that come are those of the cue list", rig.came(log) == listed_cues, output[-600:]),
               ("given: the plan in the log's head is that of the run", rig.expected(log.plan) == listed_cues, "")]
    reasons = [(1, 250, 350.0, "declared 4:10 at 20.0 C; measured 66.1 F, taken as 66.0"),
               (2, 150, 130.0, "declared at least 2:30 at 20.0 C; measured 75.0 F")]
    times = [(step, declared, used, reason.removesuffix(" F") if step == 1 else reason)
             for step, declared, used, reason in times_of(log)]
    want = [(1, 250, seconds(cues["steps"][0]["used_time"]["low_s"]), reasons[0][3]),
            (2, 150, seconds(cues["steps"][1]["used_time"]["low_s"]), reasons[1][3])]
    results.append(("given: the log says what was measured, the time and why", times == want, (times, want)))
    broken = []
    count = len(log.lines)
    begun = [i for i, line in enumerate(log.lines) if "\tbegun\t" in line]
    for lines in (begun[0] + 1, begun[0] + 9, begun[1] - 2, begun[1] + 4, begun[2] + 3, count - 2):
        cut(folder, f"cut-{lines}.log", lines)
        said, again = whole(command, path, folder, "--go-on", log=f"cut-{lines}.log")
        if rig.came(again) != listed_cues or again.events[-1].word != "finished":
            broken.append((lines, said[-400:]))
    results.append(("given: cut off and gone on with, the cues are the same", not broken, broken[:1]))
    refused = []
    for option, why in (("develop=88F", "too hot (60.5 to 87.5 F)"), ("develop=60", "too cold"), ("fix=", "STEP=TEMPERATURE"),
                        ("develop=20C", "not a temperature"), ("develop=$(x)", "not a temperature"), ("soak=20", "no such step"),
                        ("develop=-3", "not a temperature"), ("develop", "STEP=TEMPERATURE"), ("develop=1e9", "not a temp")):
        done = subprocess.run([*command, path, "--dry-run", "--measured", option], stdout=subprocess.PIPE,
                              stderr=subprocess.STDOUT, check=False, env=rig.environment(folder))
        if done.returncode != 2 or why not in done.stdout.decode("utf-8", "replace"):
            refused.append((option, done.returncode, done.stdout))
    results.append(("given: what is no temperature or has no time is refused", not refused, refused))
    return results


def by_hand(name, command):
    """Typed at the sink: hostile input, outside the table, measured again, poured by the time for it."""
    folder = rig.scratch(name)
    log_path = os.path.join(folder, "run.log")
    with open(os.path.join(folder, "clock"), "w", encoding="ascii") as file:
        file.write("1000 0\n")
    terminal = rig.Terminal([*command, rig.script(RECIPE, "short"), "--log", log_path, "--clock-file", "clock",
                             "--no-bottle-check"], folder)
    missing = []

    def answer(text, keys):
        if not missing and not terminal.expect(text, 8):
            missing.append(text)
        terminal.pump(0.25)  # what comes before the question is dropped
        terminal.send(keys)

    ask = "measured on half? (19.8 to 20.8 C; there are times for 18.3 to 24.3 C)"
    answer("Enter: begin", "\r")
    for typed, said in (("warm\r", "A figure such as"), ("$(x)\r", "A figure such as"), ("1e9\r", "A figure such as"),
                        ("\r", "A figure such as"), ("-3\r", "A figure such as"), ("08\r", "TOO cold: do not pour"),
                        ("12,5\r", "TOO cold: do not pour"), ("999999999999\r", "A figure such as"),
                        ("24.31\r", "TOO hot: do not pour"), ("23,8\r", "the time is 0:12, declared 0:20")):
        answer(ask, typed)
        if not missing and not terminal.expect(said, 8):
            missing.append(said)
    answer("t: measure again", "t")
    answer(ask, "21,75\r")  # as near to 21.5 as to 22.0: the warmer
    answer("the time is 0:16, declared 0:20", "")
    answer("t: measure again", "\r")
    answer("Enter: I begin to pour", "\r")
    if not missing and not terminal.expect("Finished.", 15):
        missing.append("Finished.")
    status = terminal.wait()
    terminal.close()
    if missing or status != 0:
        return [("by hand: is asked and told everything", False, f"{status}: no {missing}\n{terminal.text[-1500:]}")]
    log = rig.Log(log_path)
    cues = cue_list(RECIPE, "short", "--at", "develop=22C")
    listed_cues = [(cue["step"], cue["kind"], seconds(cue["since_start_s"])) for cue in cues["cues"]]
    again = [tuple(line.split("\t")[1:]) for line in log.lines if line.startswith("used-cue\t")]
    own = [str(figure) for figure in (1, "end", 16)]
    remarks = [event.remark for event in log.events if event.word == "measured"]
    return [
        ("by hand: is asked and told everything", True, ""),
        ("by hand: the cues are those of the nearest division", rig.came(log) == listed_cues,
         set(rig.came(log)) ^ set(listed_cues)),
        ("by hand: the log has what was read", remarks == ["8.0 C, too cold", "12.5 C, too cold", "24.31 C, too hot",
                                                          "23.8 C", "21.75 C"], remarks),
        ("by hand: the log has the time and why", times_of(log) == [
            (1, 20, 12.0, "declared 0:20 at 20.0 C; measured 23.8 C, taken as 24.0 C"),
            (1, 20, 16.0, "declared 0:20 at 20.0 C; measured 21.75 C, taken as 22.0 C")], times_of(log)),
        ("by hand: the log has the new plan", (own[0], own[2], own[1], own[2], "0") in again, again),
        ("by hand: nothing was run", sorted(os.listdir(folder)) == ["clock", "run.log"], os.listdir(folder)),
    ]


def painted():
    """On a painted screen, wide and narrow: the time and why are to be seen, before the pour and after it."""
    for rows, columns in ((24, 80), (24, 40), (14, 40)):
        folder = rig.scratch("painted")
        with open(os.path.join(folder, "clock"), "w", encoding="ascii") as file:
            file.write("1000 0\n")
        terminal = rig.Terminal(["dash", rig.script(RECIPE, "short"), "--log", "run.log", "--clock-file", "clock",
                                 "--no-bottle-check"], folder, rows, columns, TERM="xterm")
        seen = []
        for text, keys in (("begin with step 1", "\r"), ("develop: measured on half?", "30\r"), ("TOO hot: do not pour.", ""),
                           ("develop: measured on half?", "22,0\r"), ("the time is 0:16, declared 0:20", ""),
                           ("t       measure again", "\r"), ("at 22.0 °C, as measured", ""), (" of 0:16", "\x03"),
                           ("q       stop", "q")):
            seen.append(text if terminal.expect(text, 8) else "NO " + text)
            terminal.pump(0.25)
            terminal.send(keys)
        status = terminal.wait()
        frames = [frame.split("\x1b[J")[0] for frame in terminal.text.split("\x1b[H")[1:] if "\x1b[J" in frame]
        check(status == 130 and not [text for text in seen if text.startswith("NO")],
              f"painted, {rows} by {columns}: everything is seen", (seen, terminal.text[-1500:]))
        too_high = [frame for frame in frames if frame.count("\n") >= rows]
        check(not too_high, f"painted, {rows} by {columns}: it fits", repr(too_high[:2]))
        check(any("0:20 at 20.0" in frame and "0:16" in frame for frame in frames) or rows < 24,
              f"painted, {rows} by {columns}: declared and used time stand together", "")
        terminal.close()


def anyway():
    """Outside the table and poured all the same: a departure, the declared time."""
    folder = rig.scratch("anyway")
    log_path = os.path.join(folder, "run.log")
    with open(os.path.join(folder, "clock"), "w", encoding="ascii") as file:
        file.write("1000 0\n")
    terminal = rig.Terminal(["dash", rig.script(RECIPE, "short"), "--log", log_path, "--clock-file", "clock",
                             "--no-bottle-check"], folder)
    for text, keys in (("Enter: begin", "\r"), ("measured on half?", "23\r"), ("t: measure again", "t"),
                       ("measured on half?", "25\r"), ("TOO hot", "anyway\r"), ("t: measure again", "\r"),
                       ("Enter: I begin to pour", "\r")):
        terminal.expect(text)
        terminal.pump(0.25)
        terminal.send(keys)
    finished = terminal.expect("Finished.", 15) and terminal.wait() == 0
    terminal.close()
    log = rig.Log(log_path)
    departures = [event.remark for event in log.events if event.word == "departure"]
    check(finished and departures == ["poured at 25.0 C"], "anyway: a departure is in the log", terminal.text[-800:])
    check(rig.came(log) == rig.expected(log.plan), "anyway: the declared time is kept", rig.came(log))


def colour():
    """No time for a temperature mends colour, unless its maker says so."""
    check(not tables(rig.script(RECIPE, "by-guess")), "colour: without the maker's table there is none", "")
    script = rig.script(RECIPE, "by-guess")
    done = subprocess.run(["dash", script, "--dry-run", "--measured", "develop=38.3"], stdout=subprocess.PIPE,
                          stderr=subprocess.STDOUT, check=False, env=rig.environment(rig.FOLDER))
    check(done.returncode == 2 and b"38.3 C is too hot (37.8 to 38.2 C): temper" in done.stdout,
          "colour: outside the window it is refused", done.stdout)
    rows, _ = listed(["dash"], script, "--measured", "develop=38.2")
    check(rows == listed(["dash"], script)[0] and rows, "colour: inside the window the declared time stands", rows[:3])


def main():
    processes = MEASURED + [one for one in read_back.example_processes() if tables(rig.script(*one))]
    count = sum(check_rows(*one) for one in processes)
    count += check_rows(RECIPE, "open", "--done", "brew=2.5")
    check(count > 400, f"{count} rows compared", "")
    for one in processes:
        check_cues(*one)
    check_drift()
    check(not tables(rig.script(RECIPE, "two-fixes")), "no times that would move the light of another step are carried", "")
    check_two()
    check_this_run()
    colour()
    shells = {name: command for name, command in rig.shells().items() if name in SHELLS}
    with concurrent.futures.ThreadPoolExecutor(8) as pool:
        jobs = [(name, pool.submit(test, name, command)) for name, command in shells.items() for test in (given, by_hand)]
        others = [pool.submit(anyway), pool.submit(painted)]
        for name, job in jobs:
            for what, passed, why in job.result():
                check(passed, f"{name}: {what}", why)
        for other in others:
            other.result()


main()
rig.leave()
