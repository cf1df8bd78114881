#!/usr/bin/env python3
# builds: plain
# lasts: 35
"""A run by hand on a terminal, in every shell: bottles and temperatures are asked for, Ctrl-C and going on loses no
step, a step that may last longer waits, the bell rings at each cue that rings, and the terminal is left as it was."""

import os
import time

import rig
from harness import check

INTERRUPT = "\x03"


def by_hand(name, command):
    """The quick recipe on a terminal that scrolls."""
    folder = rig.scratch(name)
    log_path = os.path.join(folder, "run.log")
    terminal = rig.Terminal([*command, rig.script(rig.QUICK), "--log", log_path], folder)
    missing = []

    def expect(text, seconds=15):
        if not missing and not terminal.expect(text, seconds):
            missing.append(text)

    def answer(text, keys):
        expect(text)  # once a question is seen its answer counts; what comes before is dropped
        terminal.send(keys)

    def answer_again(text, question, keys):
        expect(text)
        answer(question, keys)

    def interrupt():
        terminal.pump(0.3)  # the terminal drops what is not read yet, a bell too
        terminal.send(INTERRUPT)

    answer("Enter: begin", "\r")
    answer("Enter: I begin to pour", "\r")
    expect("agitate, 1 s")
    interrupt()
    answer("The clock goes on.", "\r")
    answer("number on the bottle", "\r")
    answer_again("Type the figure", "in your hand?", "2\r")
    answer_again("WRONG: 2 is fixer. Take 1.", "in your hand?", "01\r")
    answer("measured on glass? (19.7 to 20.7 C)", "warm\r")
    answer_again("A figure such as", "measured on glass?", "19.5\r")
    answer_again("TOO cold: do not pour", "measured on glass?", "20,71\r")
    answer_again("TOO hot", "measured on glass?", "19\x7f\x7f20.7\r")
    answer("Enter: I begin to pour", "\r")
    expect("agitate, 1 s", 8)
    # The next step is made ready while this one runs.
    answer("", "n")
    answer("fix: the number on the bottle", "2\r")
    answer("Enter: I begin to pour", " ")
    expect("may be drained", 8)
    expect("0:06  agitate", 6)
    expect("0:07  ", 6)
    terminal.send("\r")
    answer("Enter: the water runs", "\r")
    expect("0:06  latest end", 10)
    interrupt()
    answer("The clock goes on.", "d")
    expect("Finished.")
    status = terminal.wait()
    log = rig.Log(log_path)
    words = [(event.word, event.remark) for event in log.events if event.type == "event"]
    after = terminal.settings()
    terminal.close()
    if missing:
        return [("by hand: is asked and told everything", False, f"no {missing[0]!r} in\n{terminal.text[-1500:]}")]
    return [("by hand: is asked and told everything", True, ""),
            ("by hand: ends well", status == 0, status),
            ("by hand: the terminal is left as it was", after == terminal.before, (after, terminal.before)),
            *judge_log(log, words), *judge_bells(log, terminal)]


def judge_log(log, words):
    longer = [(cue.word, int(cue.planned)) for cue in log.cues(3) if cue.remark == "longer"]
    plan = [cue for cue in rig.expected(log.plan)] + [(4, "latest-end", 6)]
    ends = [(cue, float(cue.actual) - float(cue.planned)) for cue in log.cues()
            if cue.word != "end" and cue.remark == "-"]
    off = [one for one in ends if not 0 <= one[1] < 1]
    drained = {event.step: float(event.actual) for event in log.events if event.word == "drain-begun"}
    over = [float(cue.actual) - drained[cue.step] for cue in log.cues() if cue.word == "end" and cue.step in drained]
    return [
        ("by hand: no cue is lost by the menu", sorted(rig.came(log)) == sorted(plan),
         set(rig.came(log)) ^ set(plan)),
        ("by hand: each cue within a second", not off, off),
        ("by hand: agitation goes on past the earliest end",
         longer == [("agitation-start", 6), ("agitation-end", 7)], longer),
        ("by hand: the end follows the user's drain", len(over) == 2 and 2 <= min(over) and max(over) < 3, over),
        ("by hand: longer is not called late", not [cue for cue in log.cues() if "late" in cue.remark], ""),
        ("by hand: bottles and temperatures are in the log",
         [one for one in words if one[0] in ("bottle", "wrong-bottle", "measured")] ==
         [("wrong-bottle", "2"), ("bottle", "1"), ("measured", "19.5 C, too cold"), ("measured", "20.71 C, too hot"),
          ("measured", "20.7 C"), ("bottle", "2")], words),
        ("by hand: so are menu and drains", [one for one in words if one[0] in ("menu", "drain-begun")] ==
         [("menu", "-"), ("drain-begun", "by the user"), ("menu", "-"), ("drain-begun", "by the menu")], words),
    ]


def judge_bells(log, terminal):
    """One bell a ringing cue, at the time that its deadline has on the clock of the test."""
    rings = {"pour", "agitation-start", "agitation-end", "drain-soon", "drain", "end", "latest-end"}
    rung = [cue for cue in log.cues() if cue.word in rings]
    if len(rung) != len(terminal.bells):
        return [("by hand: rings at each cue", False, f"{len(rung)} cues, {len(terminal.bells)} bells")]
    # The log's clock and this one differ by a constant.
    gaps = [bell - float(cue.clock) for cue, bell in zip(rung, terminal.bells)]
    return [("by hand: rings at each cue", max(gaps) - min(gaps) < 1, gaps)]


def painted(name, command):
    """On a screen that is painted: what must be seen is seen, on 40 columns too, and is wiped up at the end."""
    folder = rig.scratch(name)
    results = []
    for rows, columns in ((24, 80), (14, 40)):
        log_path = os.path.join(folder, f"{columns}.log")
        command_line = [*command, rig.script(rig.QUICK), "--from", "fix", "--log", log_path]
        terminal = rig.Terminal(command_line, folder, rows, columns, TERM="xterm")
        seen = [terminal.expect("Enter   begin with step 3") and terminal.send("\r") is None,
                terminal.expect("hand?") and terminal.send("x3\x7f\x7f2\r") is None,
                terminal.expect("Enter   I begin to pour") and terminal.send("\x1b[A") is None
                and terminal.pump(1) and terminal.send("\r") is None,
                terminal.expect("now: agitate") and terminal.expect("let stand in")
                and terminal.expect("now: let stand"),
                terminal.expect("no light") and terminal.send("\xc3\xa9\0") is None,
                terminal.expect("now: may be drained") and terminal.expect("Enter   I drain now"),
                terminal.send(INTERRUPT) is None and terminal.expect("q       stop") and terminal.pump(1.2)
                and terminal.send(INTERRUPT) is None and terminal.expect("Stopped in step 3, fix. The log is"),
                terminal.wait() == 130]
        last = terminal.text[-400:]
        results.append((f"painted, {columns} columns: everything is seen", all(seen), (seen, terminal.text[-1000:])))
        results.append((f"painted, {columns} columns: cursor and wrapping come back",
                        last.rfind("[?25h") > last.rfind("[?25l") and last.rfind("[?7h") > last.rfind("[?7l"),
                        repr(last)))
        results.append((f"painted, {columns} columns: the terminal is left as it was",
                        terminal.settings() == terminal.before, ""))
        tall = too_tall(terminal.text, rows)
        results.append((f"painted, {columns} columns: no more rows than there are", tall is None, tall))
        terminal.close()
    return results


def too_tall(text, rows):
    """A frame that would scroll, if there is one."""
    frames = [frame for frame in text.split("\x1b[H")[1:] if "\x1b[J" in frame]
    return next((frame for frame in frames if frame.split("\x1b[J")[0].count("\n") >= rows), None)


def departures():
    """What the user overrides is written down; questions can be switched off; a count-in gives both hands back."""
    folder = rig.scratch("departures")
    log_path = os.path.join(folder, "run.log")
    terminal = rig.Terminal(["dash", rig.script(rig.QUICK), "--from=develop", "--no-bottle-check", "--log", log_path],
                            folder)
    terminal.expect("Enter: begin")
    terminal.send("\r")
    terminal.expect("measured on glass?")
    terminal.send("25\r")
    terminal.expect("TOO hot")
    terminal.expect("measured on glass?")
    terminal.send("anyway\r")
    terminal.expect("5: I pour at the bell")
    asked = time.monotonic()
    terminal.send("5")
    came = terminal.expect("pour; next") and time.monotonic() - asked
    check(came and 4.5 < came < 8, "a count-in of five seconds", (came, terminal.text))
    terminal.send(INTERRUPT)
    terminal.expect("The clock goes on.")
    terminal.send("a")
    terminal.expect("pour; next")
    terminal.pump(0.3)
    terminal.send("m")
    terminal.expect("The clock goes on.")
    terminal.send("q")
    check(terminal.wait() == 130, "stopped by the menu", terminal.text[-500:])
    words = [(event.word, event.remark) for event in rig.Log(log_path).events if event.type == "event"]
    check(("departure", "poured at 25.0 C") in words and "bottle" not in dict(words), "a departure is in the log",
          words)
    begun = [remark for word, remark in words if word == "begun"]
    check(begun == ["-", "again"], "counting again", words)
    terminal.close()


rig.script(rig.QUICK)
rig.together(departures, lambda: rig.in_every_shell(by_hand), lambda: rig.in_every_shell(painted))
rig.leave()
