#!/usr/bin/env python3
"""The checks of rolls and of days, beyond the pairs: on either side of a limit, how many they speak of, and what they say."""

import os
import sys

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))

import harness  # noqa: E402
from recipes import AGITATION, expect, found, says  # noqa: E402

TANK = "tank small { holds 1 L; takes 4 x 135 or 2 x 120; fill 8 s; drain 8 s }"
FILMS = {"locker": "family C-41; backing none", "kelp": "family ECN-2; backing rem-jet", "dune": "family ECN-2; backing none"}
SOME = "black-and-white-negative"


def day(rolls, clauses="runs harbour", tank=TANK, extra=(), processes=(), in_process="tank small"):
    """A day of a black-and-white process whose rolls are the clauses given, each a roll R-1, R-2 …"""
    films = [f"film {name} {{ {clauses} }}" for name, clauses in FILMS.items() if any(f"film {name}" in roll for roll in rolls)]
    lines = ["wetside 1", tank, *films, *extra,
             "solution developer { role developer; dilute 1+9; one-shot; hazards H317; waste developer }",
             "solution fixer { role fix; dilute 1+4; reuse; hazards none; waste silver }",
             "process harbour {", f"  develops {SOME}", f"  {in_process}",
             f"  step develop in developer at 20 ± 1 °C for 8:00 {{ {AGITATION} }}",
             f"  step fix in fixer at 20 ± 1 °C for at least 5:00 {{ {AGITATION} }}",
             "  step wash in running water at 20 ± 1 °C for at least 20:00", "}", *processes,
             "day 2026-03-14 {", f"  {clauses}"]
    lines += [f"  roll R-{number} {{ {roll} }}" for number, roll in enumerate(rolls, 1)]
    return "\n".join(lines) + "\n}\n"


def roll(*clauses, needs=SOME, form="135"):
    return "; ".join([f"format {form}", *([f"needs {needs}"] if needs else []), *clauses])


def processes_of_rolls():
    twice = ["process quay from harbour { }"]
    both = "runs harbour, quay"
    expect("undecided-roll: two processes are right", day([roll()], both, processes=twice), "undecided-roll")
    says("which", day([roll()], both, processes=twice),
         "several processes of the day are right for this roll: `harbour`, `quay` [undecided-roll]", "say which: `process NAME`")
    expect("undecided-roll: one is named", day([roll("process quay")], both, processes=twice))
    expect("undecided-roll: set aside", day([roll('set aside "later"')], both, processes=twice))

    pushed = ["process swell from harbour { push 1; step develop for 11:00 }"]
    expect("wrong-process: the push decides", day([roll("push 1"), roll()], "runs harbour, swell", processes=pushed))
    for stops, said in (("push 1", "push 1"), ("pull 1", "pull 1"), ("push 1.5", "push 1.5"), ("pull 0.5", "pull 0.5"),
                        ("push 0.333", "push 0.333"), ("push 2.05", "push 2.050"), ("pull 2", "pull 2")):
        says(f"wrong-process: {stops}", day([roll(stops)]),
             f"no process of the day is right for this roll: it needs {SOME}, {said} [wrong-process]",
             "run a process for it on this day, or set the roll aside for another", "the day runs these")
    says("wrong-process: no push", day([roll(needs="C-41")]), "it needs C-41 [wrong-process]")
    says("wrong-process: the one that is named is another's", day([roll("process harbour", needs="C-41")]),
         "the process `harbour` is not for this roll: it needs C-41 [wrong-process]", "name another one, or say")
    says("wrong-process: the one that is named is not run", day([roll("process swell")], processes=pushed),
         "the day does not run the process `swell` [wrong-process]", "these are its processes")
    expect("wrong-process: set aside", day([roll('set aside "another day"', needs="C-41"), roll()]))
    says("wrong-process: a family that is gone", day([roll(needs="C-22")]),
         "C-22 film is safely developed as a black-and-white negative: `needs C-22 develop as")
    expect("wrong-process: gone, and developed as what the day runs", day([roll(
        needs=f'C-22 develop as {SOME} "no chemistry is left"')]))
    says("wrong-process: the stock is another's", day([roll("film locker")]),
         f"this roll is to need {SOME}, but its stock is made for C-41 [wrong-process]", "the stock says so here",
         f'write `needs C-41 develop as {SOME} "reason"`')
    expect("wrong-process: the stock agrees", day([roll("film locker", needs=f'C-41 develop as {SOME} "on purpose"')]))
    says("undecided-roll: nobody signed", day([roll(f'develop as {SOME} "guessed"', needs=None)]),
         "nothing says who decided what it becomes", "add the initials")
    expect("undecided-roll: signed", day([roll(f'develop as {SOME} "guessed", decided by "KM"', needs=None)]))


def tanks_and_reels():
    fits = "format-does-not-fit"
    says("format-does-not-fit: no tank", day([roll(form="127")]), "no tank of this day takes 127 film",
         "name a tank that takes it, or set the roll aside")
    says("format-does-not-fit: no reel", day([roll(form="120")], "runs harbour; reels 4 x 135"),
         "no reel of this day takes 120 film", "name a reel that takes it")
    says("format-does-not-fit: 620", day([roll(form="620")]), "620 is 120 on another spool")
    expect(f"{fits}: a reel for it", day([roll(form="120")], "runs harbour; reels 4 x 135, 2 x 120"))
    wide = "tank deep { holds 1 L; takes 4 x 127; fill 8 s; drain 8 s }"
    expect(f"{fits}: another tank of the day takes it",
           day([roll(form="127"), roll()], "runs harbour; tanks small, deep", extra=[wide]))
    expect(f"{fits}: only the tanks of the day count", day([roll()], "runs harbour; tanks deep", extra=[wide]), fits)
    expect(f"{fits}: a tank that says nothing of film", day(
        [roll(form="127")], tank="tank small { holds 1 L; fill 8 s; drain 8 s }"))


def old_film():
    oven = "dryer oven { takes 8 rolls; for 1 h; up to %s }"
    in_oven = "runs harbour; dryer oven"
    hot = "dryer-too-hot"
    for name, rolls, degrees, ids in (
            ("30 °C is borne", [roll("made 1958")], "30 °C", ()), ("31 °C is not", [roll("made 1958")], "31 °C", (hot,)),
            ("hardened since 1970", [roll("made 1970")], "40 °C", ()), ("before", [roll("made 1969")], "40 °C", (hot,)),
            ("nitrate in any dryer", [roll("made 1970; condition nitrate")], "20 °C", (hot, "nitrate-base")),
            ("set aside", [roll('made 1958; set aside "too hot"'), roll()], "40 °C", ())):
        expect(f"{hot}: {name}", day(rolls, in_oven, extra=[oven % degrees]), *ids)
    says("dryer-too-hot: soft", day([roll("made 1958")], in_oven, extra=[oven % "40 °C"]),
         "a soft emulsion must not go into the dryer `oven`", "not above 30 °C: let it dry hanging", "it is declared here")
    says("dryer-too-hot: nitrate", day([roll("condition nitrate")], in_oven, extra=[oven % "25 °C"]),
         "nitrate base must not go into the dryer `oven`", "no heat: it dries hanging in the open, away from everything")
    for condition, words in (("brittle", "brittle film on a plastic reel breaks"),
                             ("shrunk", "shrunk film on a plastic reel binds and buckles")):
        says(f"brittle-or-shrunk: {condition}", day([roll(f"condition {condition}")]), words, "wind it on a steel reel by hand")
    says("rem-jet: the stock has it", day([roll("film kelp", needs=f'ECN-2 develop as {SOME} "on purpose"')]),
         "rem-jet backing, and the process `harbour` does not take it off", "an alkaline pre-bath and a step")
    says("rem-jet: no stock is named", day([roll(needs=f'ECN-2 develop as {SOME} "on purpose"')]),
         "ECN-2 film mostly has a rem-jet backing", "look at its back")
    expect("rem-jet: the stock has none", day([roll("film dune", needs=f'ECN-2 develop as {SOME} "on purpose"')]))
    expect("rem-jet: nor has film of other families", day([roll("film locker", needs=f'C-41 develop as {SOME} "on purpose"')]))
    for family in ("K-11", "K-12", "K-14"):
        expect(f"rem-jet: {family}", day([roll(needs=f'{family} develop as {SOME} "no chemistry is left"')]), "rem-jet")


def lengths():
    """How long film hangs. 36 exposures are 1.65 m and each is 38 mm (from memory); 120 is 0.83 m, 220 twice that; a
    cine film is as long as its reel: 50 ft, 25 ft, 100 ft of 0.3048 m."""
    def hung(form, room_mm, *clauses):
        takes = f"tank small {{ holds 1 L; takes 2 x {form}; fill 8 s; drain 8 s }}"
        return day([roll(*clauses, form=form)], "runs harbour; dryer closet", tank=takes,
                   extra=[f"dryer closet {{ takes 8 rolls; for 3 h; length {room_mm} mm }}"])

    for form, millimetres, clauses in (("135", 1650, ()), ("135", 1650, ("exposures 36",)),
                                       ("135", 1650 - 12 * 38, ("exposures 24",)), ("135", 2000, ("length 2 m",)),
                                       ("120", 830, ()), ("620", 830, ()), ("220", 1650, ()), ("super-8", 15240, ()),
                                       ("double-8", 7620, ()), ("cine-16", 30480, ()), ("cine-35", 30480, ())):
        name = " ".join([form, *clauses])
        expect(f"does-not-hang: {name} in {millimetres} mm", hung(form, millimetres, *clauses))
        expect(f"does-not-hang: {name} in {millimetres - 1} mm", hung(form, millimetres - 1, *clauses), "does-not-hang")
    expect("does-not-hang: nobody knows how long 127 hangs", hung("127", 10))
    says("does-not-hang: rounded up, the room down", hung("120", 829),
         "this film hangs about 0.83 m, and the dryer `closet` has room for 0.82 m")


def groups():
    expect("all-in-one-load: a group of one is none", day([roll("together album"), roll()]))
    pair = day([roll("together album"), roll("together album"), roll()])
    expect("all-in-one-load: of two it is one", pair, "all-in-one-load")
    says("all-in-one-load: how many", pair, "all 2 rolls of `album` are in load 1, before any load has come out right")
    groups_of_two = [roll("together album"), roll("together album"), roll("together box"), roll("together box")]
    expect("all-in-one-load: each group once", day(groups_of_two), "all-in-one-load", "all-in-one-load")

    nick = 'mark "one nick"'
    expect("no-roll-mark: three alike are said twice", day([roll(nick), roll(nick), roll(nick)]), "no-roll-mark", "no-roll-mark")
    says("no-roll-mark: which", day([roll(nick), roll('mark "two nicks"'), roll(nick)]),
         "are in load 1 with the same mark: nothing tells them apart", "the other one", "mark one of them otherwise")
    expect("no-roll-mark: two loads", day([roll(nick), *[roll()] * 3, roll(nick)], tank=TANK.replace("4 x 135", "1 x 135")))
    expect("duplicate-label: three are said twice", day([roll()] * 3).replace("R-2", "R-1").replace("R-3", "R-1"),
           "duplicate-label", "duplicate-label")

    swell = ["process swell from harbour { push 1; step develop for 11:00 }"]
    quay = ["process quay from harbour { }"]
    in_album = "together album"
    apart = day([roll(in_album), roll(in_album, "push 1"), roll(in_album, "push 1")], "runs harbour, swell", processes=swell)
    expect("mixed-push: once for each group; two of it are one load besides", apart, "mixed-push", "all-in-one-load")
    says("mixed-push: the push", apart, "`album` is to be in one load, and this roll is pushed differently",
         "give the rolls that differ a group of their own")
    says("mixed-push: the process", day([roll(in_album, "process harbour"), roll(in_album, "process quay")],
                                        "runs harbour, quay", processes=quay), "and this roll is for another process")
    expect("mixed-push: a roll that is set aside does not count", day(
        [roll(in_album), roll(in_album, "push 1", 'set aside "torn"')], "runs harbour, swell", processes=swell))


def plans():
    """What is said of so many loads: one is one, two are two."""
    one_roll = TANK.replace("4 x 135", "1 x 135")

    def words(name, rolls, clauses, *parts, extra=()):
        says(name, day([roll()] * rolls, f"runs harbour; {clauses}", tank=one_roll, extra=extra), *parts)

    # A run takes 33 minutes and more: 8 + 5 + 20 and the fills and drains. So two fit into two hours and not into one.
    words("past-finish: one", 2, "start 09:00; finish by 10:00",
          "1 of 2 loads is not done by then: 1 roll is left for another day")
    words("past-finish: two", 3, "start 09:00; finish by 10:00",
          "2 of 3 loads are not done by then: 2 rolls are left for another day")
    rack = ["dryer rack { takes 1 rolls; for 5 h }"]
    words("dryer-full: one", 2, "dryer rack; reels 4 x 135",
          "1 load waits for want of places, or hangs in the open", "have a line ready, free of dust, for it",
          "so many rolls it takes", extra=rack)
    words("dryer-full: two", 3, "dryer rack; reels 4 x 135",
          "2 loads wait for want of places, or hang in the open", "have a line ready, free of dust, for them", extra=rack)
    words("reels-wet: one", 2, "reels 1 x 135", "1 load waits until they are dry", "have a second set of reels")
    words("reels-wet: two", 3, "reels 1 x 135", "2 loads wait until they are dry")
    expect("reels-wet: nobody has counted them", day([roll()] * 3, tank=one_roll))

    kit = ["solution strong { role developer; kit makes 1 L, powder; one-shot; hazards H317; waste developer }",
           "process quay { develops C-41; tank small; step develop in strong at 38 ± 0.3 °C for 3:15 { agitate continuously }",
           f"  step fix in fixer at 38 ± 1 °C for 5:00 {{ {AGITATION} }}",
           "  step wash in running water at 38 ± 3 °C for 5:00 }"]
    untested = day([roll(needs="C-41")] * 3, "runs quay; test 0 min", tank=one_roll, processes=kit)
    ids, messages = found(untested)
    harness.check(ids.count("untested-bath") == 1, "untested-bath: once for a bath, though each load has a new mix", messages)
    says("untested-bath: where", untested, "film meets a new mix of strong, in load 1, before anything has tested it",
         "give the test its time", "the bath is declared here")


processes_of_rolls()
tanks_and_reels()
old_film()
lengths()
groups()
plans()
harness.end()
