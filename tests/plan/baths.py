#!/usr/bin/env python3
# builds: plain
"""What a plan mixes, and when: litres by arithmetic from what the recipe declares. Four rolls a load and one litre a load
everywhere, so that so many rolls are so many loads; the hands take 2 minutes for what is set out or only diluted and 15
for a mix, as docs/language.md says of a day that says nothing."""

import json
import os
import sys

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))

from harness import check, end, run  # noqa: E402

POWDER = "kit makes 1 L, powder"
STRONG = "solution strong { role developer; kit makes 1 L, powder; hazards H317; waste developer }"
MIX, READY = 15, 2  # minutes


def day(developer, rolls=8, clauses="", extra="", fixer="dilute 1+4; reuse; capacity 20 rolls per 1 L",
        one_origin=False, reels=8):
    """The plan of a day of colour negatives, every roll of an origin of its own, or all of one."""
    text = f"""wetside 1
tank jar {{ holds 1 L; takes 4 x 135; fill 8 s; drain 8 s }}
{extra}
solution developer {{ role developer; {developer}; hazards H317; waste developer }}
solution fixer {{ role fix; {fixer}; hazards none; waste silver }}
process one {{
  develops C-41
  tank jar
  step develop in developer at 38 ± 0.2 °C for 3:15 {{ agitate continuously }}
  step fix in fixer at 38 ± 1 °C for 6:30 {{ agitate continuously }}
  step wash in running water at 35 ± 3 °C for 3:15
}}
day 2026-03-03 {{
  start 08:00; runs one; tanks jar; reels {reels} x 135; {clauses}
"""
    text += "".join(f'  roll R-{i:02} {{ format 135; needs C-41; origin "shelf {0 if one_origin else i}" }}\n' for i in range(rolls)) + "}\n"
    made = run("plan", "-", "--to", "json", stdin=text.encode())
    if made.returncode != 0:
        sys.exit(made.stderr.decode())
    return json.loads(made.stdout)


def bath(plan, name="developer"):
    """What the plan says of a bath: litres from the cupboard, mixed and left over, all in millilitres, and how often."""
    found = next(row for row in plan["solutions"] if row["name"] == name)
    return found["on_hand_ml"], found["mixed_ml"], found["left_ml"], found["mixes"]


def minutes(plan, kind, name="developer"):
    """How long each task of a kind keeps the hands."""
    return [(task["end_s"] - task["start_s"]) // 60 for task in plan["tasks"] if task["kind"] == kind and task["bath"] == name]


def expect(name, plan, on_hand, mixed, left, mixes, of="developer"):
    got = bath(plan, of)
    check(got == (on_hand, mixed, left, mixes), name, f"wanted {(on_hand, mixed, left, mixes)}, got {got}")


def replenished():
    kit = "kit makes 2 L, liquid; replenish 50 mL per roll"
    expect("a tank full, then 50 mL for each of eight rolls", day(kit), 0, 1000 + 8 * 50, 1000, 2)
    expect("what is over the tank's litre in the cupboard replenishes first",
           day(kit, clauses="on hand developer 1.2 L, tested"), 1200, 8 * 50 - 200, 1200, 1)
    expect("and may be enough", day(kit, clauses="on hand developer 1.4 L, tested"), 1400, 0, 1400, 0)
    check(len(day(kit, clauses="on hand developer 1.4 L, tested")["loads"]) == 2, "no capacity ends a replenished bath")


def short_lives():
    """One fill does both loads, unless it is too old for the second: how old it gets is read off a day without a life."""
    plan = day(f"{POWDER}; reuse")
    mixed = next(task["end_s"] for task in plan["tasks"] if task["kind"] == "mix" and task["bath"] == "developer")
    age = (plan["loads"][1]["pour_s"] - mixed) // 60
    check(age * 60 == plan["loads"][1]["pour_s"] - mixed > 0, "the second load is poured on a whole minute", plan["loads"][1])
    for name, keeps, mixes in (("just lasts", f"{age} min part full", 1), ("too old", f"{age - 1} min part full", 2),
                               ("a full bottle's life, where nothing else is said", f"{age - 1} min full", 2),
                               ("a part full one's counts, if shorter", f"1 week full, {age - 1} min part full", 2),
                               ("a part full one's counts, if longer", f"{age - 1} min full, {age} min part full", 1),
                               ("a day and more outlasts the day", "24 h part full", 1)):
        plan = day(f"{POWDER}; reuse; keeps {keeps}")
        expect(f"life: {name}", plan, 0, mixes * 1000, 1000, mixes)
        starts = [task["end_s"] for task in plan["tasks"] if task["kind"] == "mix" and task["bath"] == "developer"]
        if mixes == 2:
            ages = [load["pour_s"] - start for load, start in zip(plan["loads"], starts)]
            check(len(ages) == 2 and 0 <= min(ages) <= max(ages) < age * 60, f"life: {name}: each load has its own mix", ages)


def short_lives_in_the_cupboard():
    expect("life: what was mixed before today is as good as its date says",
           day(f"{POWDER}; reuse; keeps 30 min part full", 12, "on hand developer 1 L, tested"), 1000, 0, 1000, 0)


def diluted_kits():
    """100 mL of concentrate a load: a kit of 500 mL does five, and six loads want two."""
    kit = "kit makes 500 mL, powder; dilute 1+9; one-shot"
    plan = day(kit, 24)
    expect("two kits for six loads; 400 mL of the second are left", plan, 0, 6 * 1000, 2 * 500 - 6 * 100, 6)
    check(minutes(plan, "mix") == [MIX + READY, READY, READY, READY, READY, MIX + READY],
          "the kit is made up for the first and the last of them", minutes(plan, "mix"))
    check(len(minutes(plan, "test")) == 2, "and each kit is tested", minutes(plan, "test"))
    plan = day(kit, 20)
    expect("five loads want one", plan, 0, 5 * 1000, 0, 5)
    plan = day(kit, 24, "on hand developer 2.5 L, tested")
    expect("diluted, on hand: two loads, half a litre is too little for the third", plan, 2000, 4 * 1000, 500 - 4 * 100, 4)
    check(minutes(plan, "mix") == [MIX + READY, READY, READY, READY], "then a kit is made up", minutes(plan, "mix"))
    check(len(minutes(plan, "test")) == 1, "and tested", minutes(plan, "test"))
    reused = day("kit makes 500 mL, powder; dilute 1+9; reuse; capacity 8 rolls per 1 L", 12)
    expect("reused: a litre does eight rolls, so that twelve want a second", reused, 0, 2000, 1000, 2)
    check(minutes(reused, "mix") == [MIX + READY, READY], "of the same kit", minutes(reused, "mix"))


def stocks():
    """1+3: 250 mL of stock a load."""
    diluted = "dilute 1+3 from strong; one-shot"
    plan = day(diluted, 24, extra=STRONG)
    expect("six loads are diluted", plan, 0, 6000, 0, 6)
    expect("from two kits of a litre", plan, 0, 2000, 2000 - 6 * 250, 2, of="strong")
    check(minutes(plan, "mix", "strong") == [MIX, MIX] and set(minutes(plan, "mix")) == {READY}, "mixing takes its time")
    plan = day(diluted, 24, "on hand strong 600 mL", STRONG)
    expect("600 mL in the cupboard: two loads of it, and one kit", plan, 500, 1000, 600 + 1000 - 6 * 250, 1, of="strong")
    check(len(minutes(plan, "test")) == 2, "untried: a test for what was there, one for the kit", minutes(plan, "test"))
    plan = day(diluted, 8, "on hand strong 600 mL, tested", STRONG)
    expect("two loads want no kit", plan, 500, 0, 100, 0, of="strong")
    check(not minutes(plan, "test"), "nor a test of what is tested", minutes(plan, "test"))


def lasting_stocks():
    """A stock that lasts the day is mixed once for all of its loads, as far as its vessel holds: it was mixed a kit at a
    time, as if there were no afternoon. One that does not, or of which nothing is said, is mixed when it is wanted."""
    diluted = "dilute 1+3 from strong; one-shot"
    end_of_day = "finish by 22:00"

    def six(clauses=end_of_day, keeps="keeps 6 weeks full, 2 weeks part full", rolls=24, vessel=""):
        jug = f"graduate jug {{ holds {vessel} }}\n" if vessel else ""
        return day(diluted, rolls, clauses, jug + STRONG.replace("hazards", f"{keeps}; {'graduate jug;' if vessel else ''} hazards"))

    plan = six()
    expect("six loads are diluted as before", plan, 0, 6000, 0, 6)
    expect("from two kits mixed at once", plan, 0, 2000, 2000 - 6 * 250, 1, of="strong")
    check(minutes(plan, "mix", "strong") == [MIX] and len(minutes(plan, "test")) == 1, "that takes one mixing and one test",
          (minutes(plan, "mix", "strong"), minutes(plan, "test")))
    check(len(minutes(six(rolls=16), "mix", "strong")) == 1 and bath(six(rolls=16), "strong")[1] == 1000, "four loads want one kit")
    expect("what stands there is used first", six("on hand strong 600 mL; " + end_of_day, rolls=32), 500, 2000, 2600 - 8 * 250, 1,
           of="strong")
    expect("a vessel of a litre holds one kit", six(vessel="1 L"), 0, 2000, 500, 2, of="strong")
    expect("one of two litres both", six(vessel="2 L"), 0, 2000, 500, 1, of="strong")
    plan = six(vessel="2 L", rolls=40)
    mixed = [task["volume_ml"] for task in plan["tasks"] if task["kind"] == "mix" and task["bath"] == "strong"]
    check(mixed == [2000, 1000], "of three kits the fullest mixing first", mixed)
    tight = six("finish by 10:00; reels dry for 1 min")
    mixed = [task["volume_ml"] for task in tight["tasks"] if task["kind"] == "mix" and task["bath"] == "strong"]
    loads = tight["summary"]["loads_today"]
    check(0 < loads <= 4 and mixed == [1000], "nothing is mixed for what is left for another day", (loads, mixed))
    expect("for a day only is long enough", six(keeps="keeps 2 days full, 1 day part full"), 0, 2000, 500, 1, of="strong")
    expect("for 23 hours is not", six(keeps="keeps 2 days full, 23 h part full"), 0, 2000, 500, 2, of="strong")
    expect("a day without an end may take weeks", six(""), 0, 2000, 500, 2, of="strong")
    expect("but not months", six("", "keeps 3 months full"), 0, 2000, 500, 1, of="strong")
    expect("nor is a life of which nothing is said", day(diluted, 24, end_of_day, STRONG), 0, 2000, 500, 2, of="strong")


def cupboards():
    keeps = f"{POWDER}; reuse; keeps 2 months full"
    expect("a bath that is past its life is not used", day(keeps, clauses="on hand developer 1 L mixed 2025-12-31, tested"),
           0, 1000, 1000, 1)
    expect("on its last day it is", day(keeps, clauses="on hand developer 1 L mixed 2026-01-03, tested"), 1000, 0, 1000, 0)
    expect("less than a tank full is not used", day(keeps, clauses="on hand developer 999 mL, tested"), 0, 1000, 1000, 1)
    expect("one-shot: a tank full for each of two loads, the rest is thrown away", day(
        "dilute 1+9; one-shot", 12, "on hand developer 2.5 L, tested"), 2000, 1000, 0, 1)
    holds_twelve = f"{POWDER}; reuse; capacity 12 rolls per 1 L"
    expect("four rolls done, eight to come: it holds twelve",
           day(holds_twelve, clauses="on hand developer 1 L done 4 rolls"), 1000, 0, 1000, 0)
    expect("five done: a new fill for the second load",
           day(holds_twelve, clauses="on hand developer 1 L done 5 rolls"), 1000, 1000, 1000, 1)
    expect("a capacity alone says that a bath is reused", day(f"{POWDER}; capacity 8 rolls per 1 L", 12), 0, 2000, 1000, 2)
    expect("neither: one load each", day(POWDER, 12), 0, 3000, 0, 3)
    pooled = "kit makes 0.75 L, powder; stock pooled; blend; reuse; capacity 8 rolls per 1 L"
    expect("pooled: two kits of 0.75 L do 12 rolls, so that 24 want four", day(pooled, 24, "allow untested-bath \"pilot\""),
           0, 3000, 1500, 2)


def dryers_and_parties():
    closet = "dryer closet { for 2 h; length 1.8 m }"
    plan = day("dilute 1+9; one-shot", 12, "dryer closet", extra=closet)
    check(plan["summary"]["dryer_waits"] == 0 and plan["summary"]["rolls_today"] == 12,
          "a dryer whose places nobody has counted holds up nothing", plan["summary"])
    loads = [(load["hung_s"], load["dry_s"]) for load in plan["loads"]]
    check(all(dry - hung == 2 * 3600 for hung, dry in loads), "and each load dries for two hours", loads)
    for reels, least in ((3, 3), (4, 2), (8, 2)):
        plan = day("dilute 1+9; one-shot", 8, one_origin=True, reels=reels)
        check(plan["parties"][0]["least_loads"] == least, f"eight rolls of an origin on {reels} reels, four to a tank: {least} loads",
              plan["parties"])


def standing():
    """An hour in a developer that is left to stand, 5 minutes of fixer, half an hour of washing; tanks for two loads. The
    baths are set out for the next load when the fixer has drained: not before, though the hands are free, and not later."""
    rolls = "".join(f'  roll R-{i:02} {{ format 135; needs black-and-white-negative; origin "shelf {i}" }}\n' for i in range(12))
    made = run("plan", "-", "--to", "json", stdin=f"""wetside 1
tank jar {{ holds 1 L; takes 4 x 135; fill 8 s; drain 8 s }}
solution developer {{ role developer; dilute 1+9; reuse; capacity 40 rolls per 1 L; hazards H317; waste developer }}
solution fixer {{ role fix; dilute 1+4; reuse; capacity 40 rolls per 1 L; hazards none; waste silver }}
process one {{
  develops black-and-white-negative
  tank jar
  step develop in developer at 20 ± 1 °C for 1:00:00 {{ agitate first 30 s }}
  step fix in fixer at 20 ± 1 °C for 5:00 {{ agitate continuously }}
  step wash in running water at 20 ± 3 °C for 30:00
}}
day 2026-03-03 {{
  start 08:00; runs one; tanks jar, jar; reels 16 x 135
{rolls}}}
""".encode())
    plan = json.loads(made.stdout)
    loads = plan["loads"]
    in_baths = 3600 + 300  # and the fills, which take seconds
    check(len(loads) == 3 and loads[1]["pour_s"] >= loads[0]["hung_s"], "the first load tries out the baths for the others", loads)
    ready = next(task["start_s"] for task in plan["tasks"] if task["kind"] == "ready" and task["load"] == 3)
    check(in_baths <= ready - loads[1]["pour_s"] < loads[1]["out_s"] - loads[1]["pour_s"],
          "they are set out for the third while the second is washed",
          f"{ready - loads[1]['pour_s']} s after the second was poured, which is in its baths for {in_baths} s")


if __name__ == "__main__":
    replenished()
    short_lives()
    short_lives_in_the_cupboard()
    diluted_kits()
    stocks()
    lasting_stocks()
    cupboards()
    dryers_and_parties()
    standing()
    end()
