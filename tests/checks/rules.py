#!/usr/bin/env python3
"""Where the checks of time and order begin and end, beyond the pairs: each case is a recipe and the ids that it gets,
on either side of a limit. Also what `allow` covers, what silences what, and what counts as used."""

import os
import sys
import tempfile

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))

import expectations  # noqa: E402
import harness  # noqa: E402
from recipes import AGITATION, BATHS, DEVELOP, FIX, TANK, WASH, expect, limit, recipe, says, solution, step  # noqa: E402


def time_rules():
    limit("total-over-limit", "fills and drains count", lambda t: recipe(
        DEVELOP, FIX, WASH, process=["time excludes draining", f"wet time under {t}"]), "33:24", "33:23")
    limit("total-over-limit", "drying does not count", lambda t: recipe(
        DEVELOP, FIX, WASH, step("air", "2 h"), process=[f"wet time under {t}"]), "33:00", "32:59")
    limit("total-over-limit", "the shortest run counts", lambda t: recipe(
        DEVELOP, step("fixer", "5:00 .. 9:00"), WASH, process=[f"wet time under {t}"]), "33:00", "32:59")

    says("what is too long", recipe(DEVELOP, FIX, WASH, process=["time excludes draining", "wet time under 33 min"]),
         "harbour keeps the film wet for 33:24", "its limit is 33:00", "shorten the steps by 0:24 in all",
         "the longest step takes 20:08 with its fill and drain")

    says("the longest wet step, not the drying", recipe(
        DEVELOP, FIX, WASH, step("air", "2 h"), process=["wet time under 32:59"]), "the longest step takes 20:00 with")

    short = "development-too-short"
    limit(short, "the shortest time counts", lambda t: recipe(
        step("developer", t), FIX, WASH), "5:00 .. 6:00", "4:59 .. 6:00")
    limit(short, "two baths are one development", lambda t: recipe(
        step("developer", "2:30", name="bath-a"), step("developer", t, name="bath-b"), FIX, WASH), "2:30", "2:29")
    limit(short, "left to stand", lambda a: recipe(
        step("developer", "4:00", a), FIX, WASH), "agitate none", "agitate continuously")
    limit(short, "an opening of half the time", lambda t: recipe(
        step("developer", "4:00", f"agitate first {t}"), FIX, WASH), "2:00", "2:01")
    expect(f"{short}: after a pre-wet", recipe(
        step("water", "1:00", AGITATION, name="pre-wet"), step("developer", "4:00"), FIX, WASH), short)
    says("a table's way out", recipe(step(
        "developer", "4:00", AGITATION, "time { 18 °C 6:00, 19 °C 5:00, 20 °C 4:00 }"), FIX, WASH),
        "developer lasts 4:00", "its table gives 5:00 at 19.0 °C")
    says("how much is missing", recipe(step("developer", "4:00"), FIX, WASH), "developer that needs 1:00 longer")
    expect(f"{short}: nothing after the opening", recipe(step("developer", "4:00", "agitate first 1 min"), FIX, WASH))
    expect(f"{short}: not for colour", recipe(
        step("developer", "3:15"), step("bleach-fix", "6:30"), step("running water", "3:00"), family="C-41"))
    expect(f"{short}: not for a monobath", recipe(step("monobath", "3:30"), WASH))

    uneven = "uneven-pour"

    def poured(clauses, time="5:00"):
        return recipe(step("developer", time, "agitate first 15 s, then 5 s every 1 min for 3:30"),
                      step("fixer", "5:00", "agitate first 15 s"), WASH,
                      tank=f"tank small {{ holds 1 L; takes 4 x 135; {clauses} }}")

    limit(uneven, "slow drain", poured, "fill 10 s; drain 40 s", "fill 10 s; drain 41 s")
    limit(uneven, "bottom drain adds up", poured, "fill 15 s; drain 15 s; emptied from bottom",
          "fill 15 s; drain 16 s; emptied from bottom")
    expect(f"{uneven}: reels lowered", poured("fill 50 s; drain 8 s; reels lowered"))
    expect(f"{uneven}: nothing to compare", poured("fill 50 s"))
    expect(f"{uneven}: nor this way", poured("drain 50 s; emptied through lid"))
    says("what a bottom drain adds", poured("fill 15 s; drain 20 s; emptied from bottom"),
         "is in developer 0:35 longer than at the other", "10 % of its 5:00 is 0:30", "empty it through the lid",
         "develop for 5:50 or more", "filling takes 0:15 here", "draining takes 0:20 here")
    says("what a slow pour does", poured("fill 50 s; drain 8 s"), "0:42 longer", "fill as fast as it drains")
    expect(f"{uneven}: not for a monobath", recipe(
        step("monobath", "5:00"), WASH, tank="tank small { holds 1 L; takes 4 x 135; fill 50 s; drain 8 s }"))

    fix = "fix-too-short"

    def fixes(*times, clears="clears fresh 0:45 now 1:10", films=(), process=()):
        baths = {"fixer": solution("fixer", "fix", clears, waste="silver")}
        return recipe(DEVELOP, *(step("fixer", t, "agitate first 15 s", name=f"fix-{i}") for i, t in enumerate(times)),
                      WASH, baths=baths, films=films, process=process)

    says("what the clearing time asks for", fixes("2:00"),
         "fix-0 lasts 2:00; film that clears in 1:10 wants twice that, 2:20")
    expect(f"{fix}: fixing in plain water has no clearing time", recipe(
        DEVELOP, FIX, step("water", "2:00", AGITATION, name="soak", role="fix"), WASH))
    limit(fix, "a fresh fixer", lambda t: fixes(t, clears="clears fresh 0:45"), "1:30", "1:29")
    limit(fix, "tabular grains want three times", lambda t: fixes(t, process=["film flat"], films=[
        "film flat { family black-and-white-negative; backing none; emulsion tabular }"]), "3:30", "3:29")
    limit(fix, "two baths share the time", lambda t: fixes("1:10", t), "1:10", "1:09")


def agitation_rules():
    def developed(agitation, *clauses, process=()):
        return recipe(step("developer", "8:00", agitation, *clauses), FIX, WASH, process=process)

    overlaps = "agitation-overlaps"
    limit(overlaps, "taps end when the next begins", lambda n: developed(
        "agitate first 30 s, then 5 s every 10 s for 5:00", f"tap {n} after agitation"), 5, 6)
    limit(overlaps, "taps of a given length", lambda t: developed(
        "agitate first 30 s, then 5 s every 10 s for 5:00", f"tap 2 for {t} after agitation"), "5 s", "6 s")
    limit(overlaps, "from phase to phase", lambda t: developed(
        f"agitate first 30 s, then 25 s every 50 s for 1:00, then 5 s every {t} for 5:00"), "15 s", "14 s")
    expect(f"{overlaps}: phases that touch", developed(
        "agitate first 30 s, continuously for 1:00, then 5 s every 30 s for 5:00"))

    says("an agitation as long as its interval", developed("agitate first 30 s, then 30 s every 30 s for 5:00"),
         "an agitation of 0:30 lasts until the next begins, every 0:30", "write `continuously`")
    says("taps that take too long", developed(
        "agitate first 30 s, then 5 s every 10 s for 5:00", "tap 7 after agitation"),
         "an agitation of 0:05 and its taps of 0:07 last into the next, every 0:10", "agitate for 0:03 or less")
    says("phases that run into each other", developed(
        "agitate first 30 s, then 25 s every 50 s for 1:00, then 5 s every 14 s for 5:00"),
        "the agitation at 1:20 lasts until 1:45; the next begins at 1:44", "let the earlier phase end before 1:20")

    past = "agitation-past-end"
    after = ["time excludes draining"]
    limit(past, "taps count", lambda n: developed(
        "agitate first 30 s, then 29 s every 1 min", f"tap {n} after agitation", process=after), 1, 2)
    limit(past, "one long agitation", lambda t: developed(
        f"agitate continuously for {t}", process=after), "8:00", "8:01")
    expect(f"{past}: an open end is the step's", developed("agitate continuously", process=after))

    drain = "agitation-in-drain"
    limit(drain, "taps count", lambda n: developed(
        "agitate first 30 s, then 20 s every 1 min", f"tap {n} after agitation"), 2, 3)
    limit(drain, "one that begins when the drain does", lambda t: developed(
        f"agitate first 52 s, then 5 s every 1 min for {t}"), "6:59", "7:01")
    expect(f"{drain}: an open end stops for it", developed("agitate first 30 s, continuously"))
    expect("needs: an overlap silences the two below it, and their allows are not unused", developed(
        "agitate first 30 s, then 60 s every 30 s", f'allow {past} "a reason"', f'allow {drain} "a reason"'), overlaps)

    says("taps in the drain", developed("agitate first 30 s, then 22 s every 1 min", "tap 2 after agitation"),
         "the taps after the agitation at 7:30 last until 7:54, but the tank drains from 7:52",
         "end the phase before that agitation: `for 6:30`")
    says("times since the step's start", recipe(
        step("water", "1:00", "agitate first 10 s", name="pre-wet"),
        step("developer", "8:00", "agitate first 30 s, then 23 s every 1 min"), FIX, WASH),
        "the agitation at 7:30 lasts until 7:53, but the tank drains from 7:52")
    says("an agitation in the drain", developed("agitate first 30 s, then 23 s every 7 min"),
         "the agitation at 7:30 lasts until 7:53", "let it be over by 7:52")
    says("one long agitation into the drain", developed("agitate continuously for 7:55"), "let it be over by 7:52")

    none = "no-agitation"
    for bath, time in (("stop-bath", "0:30"), ("fixer", "5:00")):
        steps = [DEVELOP, step(bath, time, "silent", name="still"), *([] if bath == "fixer" else [FIX]), WASH]
        expect(f"{none}: {bath}", recipe(*steps), none)
    expect(f"{none}: pre-wet in water", recipe(step("water", "1:00", name="pre-wet"), DEVELOP, FIX, WASH), none)
    expect(f"{none}: water that runs moves itself", recipe(
        step("running water", "1:00", name="pre-wet"), DEVELOP, FIX, WASH))
    expect(f"{none}: light is no bath", recipe(
        *slide(lamp=None, second=None)[:-2], step("light", None, "expose 5 s each side", role="fogging"), FIX, WASH,
        family="black-and-white-reversal", baths=SLIDE_BATHS))
    expect(f"{none}: washes, rinses, last baths stand", recipe(
        DEVELOP, FIX, step("water", "1:00", name="rinse", role="rinse"), step("water", "20:00"),
        step("wetting-agent", "1:00", "silent"), step("air", "2 h")))


def order_rules():
    expect("no-developer, no-fix: a monobath is both", recipe(step("monobath", "5:00"), WASH))
    expect("no-fix: a bleach-fix is one", recipe(
        step("developer", "3:15"), step("bleach-fix", "6:30"), WASH, family="C-41"))
    expect("fix-before-developer: between two developers", recipe(
        DEVELOP, FIX, WASH, step("developer", "8:00", name="again"), step("running water", "5:00", name="last")),
        "fix-before-developer")
    redeveloped = [DEVELOP, FIX, WASH, step("bleach"), step("running water", "5:00", name="rinse"),
                   step("developer", "8:00", name="redevelop"), step("running water", "5:00", name="last")]
    expect("fix-before-developer: a bleach brings the silver back", recipe(*redeveloped))
    expect("fix-before-developer: not in a rescue", recipe(
        FIX, WASH, step("bleach"), step("running water", "5:00", name="rinse"),
        step("developer", "8:00"), step("running water", "5:00", name="last"), process=["rescue"]))

    last = "no-wash-before-final-rinse"
    expect(f"{last}: washless", recipe(DEVELOP, FIX, step("wetting-agent"), process=["washless"]))
    expect(f"{last}: a rinse is no wash", recipe(
        DEVELOP, FIX, step("water", "1:00", role="rinse"), step("wetting-agent")), last)
    expect(f"{last}: said once", recipe(DEVELOP, FIX, step("stabiliser"), step("wetting-agent")), last)
    expect("wash-after-final-rinse: given again", recipe(
        DEVELOP, FIX, WASH, step("wetting-agent"), step("running water", "1:00", name="again"),
        step("wetting-agent", name="last")))
    expect("wash-after-final-rinse: another bath does not bring it back", recipe(
        DEVELOP, FIX, WASH, step("stabiliser"), step("running water", "1:00", name="again"),
        step("wetting-agent")), "wash-after-final-rinse")


def light_rules():
    light = "light-too-early"
    says("when light is borne", recipe(step("developer", "8:00", AGITATION, "lights on after 1:30"), FIX, WASH),
         "light comes 1:30 into developer; black-and-white-negative film bears it after two minutes of fix",
         "put `lights on after 2:00` into fixer", "film bears light from 2:00 into this step")
    limit(light, "C-41, end of bleach-fix", lambda t: recipe(
        step("developer", "3:15"), step("bleach-fix", "6:30", f"lights on after {t}"), WASH, family="C-41"),
        "6:30", "6:29")
    expect(f"{light}: in the step after", recipe(
        step("developer", "3:15"), step("bleach-fix", "6:30"), step("running water", "3:00", "lights on"),
        family="C-41"))
    # By the clock of the shortest run it is late enough, and the rinse may go on for as long.
    for time in ("at least 1:00", "1:00 .. 6:00"):
        expect(f"{light}: before the fix, however late, {time}", recipe(
            step("developer", "8:00", AGITATION), step("water", time, "lights on after 5:00", name="rinse"), FIX, WASH),
            light)
    expect(f"{light}: a lamp before the bleach", recipe(
        step("developer", "3:15"), step("light", None, "expose 5 s each side"), step("bleach-fix", "6:30"), WASH,
        family="C-41"), light)
    expect(f"{light}: no moment at all, but a rescue", recipe(
        step("bleach", "5:00", "lights on"), WASH, process=["rescue"]))
    limit(light, "E-6, one minute of reversal bath", lambda t: recipe(
        step("first-developer", "6:00"), step("running water", "2:00", name="first-wash"),
        step("reversal-bath", "2:00", f"lights on after {t}"), step("colour-developer", "6:00"),
        step("bleach-fix", "10:00"), WASH, family="E-6"), "1:00", "0:59")
    lamp = step("light", None, "expose 30 s each side")
    expect(f"{light}: the lamp before the first developer", recipe(
        lamp, *slide(lamp=None)[:-2], FIX, WASH, family="black-and-white-reversal", baths=SLIDE_BATHS),
        light, "no-reversal")
    lit = slide()
    lit[1] = step("running water", "5:00", "lights on", name="first-wash")
    says("where the light of a slide belongs", recipe(*lit, family="black-and-white-reversal", baths=SLIDE_BATHS),
         "light comes 0:00 into first-wash; black-and-white-reversal film bears it at the exposing step",
         "put `lights on` into light or later")


SLIDE_BATHS = {
    "bleach": solution("bleach", "bleach", "contains permanganate", waste="bleach"),
    "second-developer": solution("second-developer", "developer"),
}


def slide(clear="clearing-bath", lamp="light", second="second-developer"):
    """The steps of a black-and-white slide, of which some can be left out."""
    steps = [step("first-developer", "10:00"), step("running water", "5:00", name="first-wash"), step("bleach", "5:00"),
             step("running water", "3:00", name="second-wash")]
    steps += [step(clear), step("running water", "2:00", name="third-wash")] if clear else []
    steps += [step(lamp, None, "expose 30 s each side")] if lamp else []
    steps += [step(second, "4:00")] if second else []
    return steps + [FIX, WASH]


def reversal_rules():
    def slides(*arguments, baths=None, **options):
        return recipe(*slide(*arguments, **options), family="black-and-white-reversal",
                      baths=dict(SLIDE_BATHS, **(baths or {})))

    expect("no-reversal, no-clearing: complete, the second developer may be short", slides())
    expect("no-reversal: a fogging bath will do", slides(lamp=None, second="fogging", baths={
        "fogging": solution("fogging", "fogging")}))
    expect("no-reversal: one developer only", slides(lamp=None, second=None), "no-reversal")
    expect("no-reversal: a first developer in two baths", recipe(
        step("first-developer", "5:00", name="bath-a"), *slide(), family="black-and-white-reversal", baths=SLIDE_BATHS))
    expect("no-reversal: a colour developer is the second one wherever it stands", recipe(
        step("first-developer", "10:00"), step("colour-developer", "10:00"), FIX, WASH, family="E-1"), "no-reversal")
    expect("no-reversal: not in a rescue", recipe(
        step("bleach"), step("clearing-bath"), WASH, step("second-developer", "6:00"),
        step("running water", name="last"), family="black-and-white-reversal", baths=SLIDE_BATHS, process=["rescue"]))
    expect("first-wash-not-exact: a pre-wet is no first wash", recipe(
        step("running water", "at least 1:00", name="pre-wet"), *slide(), family="black-and-white-reversal",
        baths=SLIDE_BATHS))
    unwashed = slide()
    del unwashed[1]
    expect("no-clearing: what comes before the bleach does not count", recipe(
        *unwashed, family="black-and-white-reversal", baths=SLIDE_BATHS))
    says("where the oxidiser goes", slides(clear=None),
         "no clearing bath between bleach and second-developer takes the permanganate out again",
         "this bath would meet it")
    expect("no-clearing: dichromate", slides(clear=None, baths={
        "bleach": solution("bleach", "bleach", "contains dichromate", waste="chromium")}), "no-clearing")
    expect("no-clearing: the oxidiser is in the stock", slides(clear=None, baths={
        "bleach": "\n".join([solution("strong", "bleach", "contains permanganate", waste="bleach"),
                             "solution bleach { role bleach; dilute 1+4 from strong; one-shot; hazards none; "
                             "waste bleach }"])}), "no-clearing")
    expect("no-clearing: an iron bleach wants none", slides(clear=None, baths={
        "bleach": solution("bleach", "bleach", "contains iron-chelate", waste="bleach")}))

    def colour(first_wash="2:00", *between, pre="pre-bleach", last="stabiliser", films=(), process=(), baths=None):
        after = [step("running water", "1:00", name="after")] if "pre" in between else []
        return recipe(step("first-developer", "6:00"), step("running water", first_wash, name="first-wash"),
                      step("reversal-bath"), step("colour-developer", "6:00"), step(pre), *after,
                      step("bleach", "6:00"), step("fixer", "4:00"), WASH, step(last), family="E-6", films=films,
                      process=process, baths=baths)

    expect("first-wash-not-exact: a range", colour("2:00 .. 3:00"), "first-wash-not-exact")
    expect("first-wash-not-exact: after a stop it does not matter", recipe(
        step("first-developer", "6:00"), step("stop-bath", "0:30", "agitate none"),
        step("running water", "at least 2:00", name="first-wash"), step("reversal-bath"),
        step("colour-developer", "6:00"), step("bleach-fix", "10:00"), WASH, family="E-6"))
    for bath in ("pre-bleach", "conditioner"):
        expect(f"wash-after-reversal-bath: {bath}", colour("2:00", "pre", pre=bath), "wash-after-reversal-bath")

    old = ["film locker { family E-6; backing none; emulsion hardened; made 1985 }"]
    aldehyde = {"wetting-agent": solution("wetting-agent", "wetting-agent", "contains formaldehyde")}
    expect("stabiliser-missing: the pre-bleach of E-6 does it", colour(
        last="wetting-agent", films=old, process=["film locker"]))
    films = ["film locker { family C-41; backing none; emulsion hardened; made 1985 }",
             "film attic { family C-41; backing none; emulsion hardened; made 2012 }"]

    def negative(last="wetting-agent", family="C-41", baths=None, process=("film attic, locker",)):
        return recipe(step("developer", "3:15"), step("bleach-fix", "6:30"), WASH, step(last), family=family,
                      films=films if process else (), process=process, baths=baths)

    expect("stabiliser-missing: the oldest film counts", negative(), "stabiliser-missing")
    says("whose dyes fade", negative(), "locker, made in 1985, gets no stabiliser")
    expect("stabiliser-missing: a film without a year is not taken for an old one", recipe(
        step("developer", "3:15"), step("bleach-fix", "6:30"), WASH, step("wetting-agent"), family="C-41",
        films=[films[1], "film box { family C-41; backing none; emulsion hardened }"], process=["film attic, box"]))
    expect("stabiliser-missing: a stabiliser", negative("stabiliser"))
    expect("stabiliser-missing: formaldehyde by another name", negative(baths=aldehyde))
    expect("stabiliser-missing: no film, no year", negative(process=()))
    expect("stabiliser-missing: not where dyes come with the developers", negative(family="K-14"))


def carry_over_rules():
    carry = "carry-over"
    ferricyanide = {"bleach": solution("bleach", "bleach", "contains ferricyanide", waste="bleach")}

    def colour(*middle):
        return recipe(step("developer", "3:00"), *middle, family="ECN-2", baths=ferricyanide)

    stop, wash = step("stop-bath", "0:30", "agitate none"), step("running water", "2:00", name="first-wash")
    later = [step("bleach"), step("running water", "2:00", name="second-wash"), FIX, WASH]
    expect(f"{carry}: a wash alone", colour(wash, *later), carry)
    expect(f"{carry}: a clearing bath stops too", colour(wash, step("clearing-bath"), *later))
    expect(f"{carry}: ferricyanide into the fixer", colour(stop, wash, step("bleach"), FIX, WASH), carry)
    expect(f"{carry}: fixer into a developer", recipe(
        FIX, step("bleach"), step("developer", "8:00"), WASH, process=["rescue"]), carry)
    expect(f"{carry}: developer into an iron bleach is normal", recipe(
        step("developer", "3:15"), step("bleach", "6:30"), FIX, WASH, family="C-41", baths={
            "bleach": solution("bleach", "bleach", "contains iron-chelate", waste="bleach")}))

    def stopped(*middle, emulsion="soft", contains="contains carbonate", acid="contains strong-acid"):
        films = [f"film plate {{ family black-and-white-negative; backing none; emulsion {emulsion} }}"]
        baths = {"developer": solution("developer", "developer", contains),
                 "stop-bath": solution("stop-bath", "stop", acid, waste="acid")}
        return recipe(DEVELOP, *middle, step("stop-bath", "0:30", "agitate none"), FIX, WASH, process=["film plate"],
                      films=films, baths=baths)

    expect("stop-blisters: a strong acid", stopped(), "stop-blisters")
    expect("stop-blisters: water between", stopped(step("water", "1:00", role="rinse")))
    expect("stop-blisters: a hardened film bears it", stopped(emulsion="hardened"))
    expect("stop-blisters: borax makes no gas", stopped(contains="contains alkali"))
    expect("stop-blisters: a weak acid", stopped(acid="contains weak-acid"))


def allow_rules():
    allow = 'allow uneven-pour "poured fast"'
    tank = "tank small { holds 1 L; takes 4 x 135; fill 50 s; drain 8 s%s }"

    def uneven(in_tank="", in_step=(), in_bath=(), in_process=(), extra=(), films=()):
        return recipe(step("developer", "5:30" if not in_step else "5:00", *in_step), FIX, WASH, tank=tank % in_tank,
                      process=in_process, extra=extra, films=films,
                      baths={"developer": solution("developer", "developer", *in_bath)})

    expect("allow: none", uneven(), "uneven-pour")
    expect("allow: in the step", uneven(in_step=[allow]))
    expect("allow: in its solution", uneven(in_bath=[allow]))
    expect("allow: in the process", uneven(in_process=[allow]))
    expect("allow: in the tank", uneven(in_tank="; " + allow))
    expect("allow: in a film of the process", uneven(in_process=["film plate"], films=[
        f"film plate {{ family black-and-white-negative; backing none; emulsion hardened; {allow} }}"]))
    expect("allow: at the top of the file", uneven(extra=[allow]))
    expect("allow: the nearest covers, the others are unused", uneven(in_step=[allow], in_process=[allow]),
           "allow-unused")
    expect("allow: the tank comes before the heater", recipe(
        step("developer", "5:30"), FIX, WASH, tank=tank % ("; " + allow), process=["heater boiler"],
        extra=[f"heater boiler {{ gives 4 L per min; {allow} }}"]), "allow-unused")
    expect("allow: another id covers nothing", uneven(in_process=['allow no-fix "a reason"']),
           "allow-unused", "uneven-pour")
    expect("allow-unused: not while the text has mistakes", recipe(
        DEVELOP, FIX, WASH, process=['allow no-fix "a reason"', "push fast"]), "syntax")

    variant = "\nprocess harbour-push from harbour { push 1; step developer for 5:45 }\n"
    expect("allow: a variant takes its parent's along", uneven(in_step=[allow]) + variant)
    expect("findings of what two processes share come once", recipe(DEVELOP, FIX, step(
        "wetting-agent")) + "\nprocess harbour-push from harbour { push 1; step developer for 9:00 }\n",
        "no-wash-before-final-rinse")


def file_rules():
    """An `allow` at the top of a file covers what lies in it and what its processes do."""
    allow = 'allow no-waste-route "collected by the town"'
    library = "solution stop-bath { role stop; dilute 1+19; one-shot; hazards none }"
    bath, use = step("stop-bath", "0:30", "agitate none"), 'use "library.wet"'
    cases = (("none", [], [], "no-waste-route"), ("in the library", [allow], []), ("in the main file", [], [allow]))
    for name, in_library, in_main, *wanted in cases:
        main = recipe(DEVELOP, bath, FIX, WASH, extra=[use, *in_main], baths={"stop-bath": ""})
        expect_files(f"allow at the top: {name}", main, "\n".join(["wetside 1", *in_library, library]), wanted)
    expect_files("allow at the top of a library: not for a process that uses it", recipe(
        DEVELOP, bath, WASH, extra=[use], baths={"stop-bath": ""}), "\n".join(
            ["wetside 1", 'allow no-fix "a reason"', allow, library]), ["no-fix"])


def expect_files(name, main, library, wanted):
    """Compiles two files of which the first uses the second."""
    with tempfile.TemporaryDirectory() as folder:
        for file, text in (("main.wet", main), ("library.wet", library + "\n")):
            with open(os.path.join(folder, file), "w", encoding="utf-8") as stream:
                stream.write(text)
        messages = harness.run("check", os.path.join(folder, "main.wet")).stderr.decode("utf-8", "replace")
    got = sorted(finding.id for finding in expectations.findings_of(messages))
    harness.check(got == sorted(wanted), name, f"wanted {wanted}, got {got}\n{messages}\n{main}\n{library}")


def leftover_rules():
    unused = "solution spare { role stop; dilute 1+19; one-shot; hazards none; waste acid%s }"
    expect("never-used: a bath", recipe(DEVELOP, FIX, WASH, extra=[unused % ""]), "never-used")
    says("what kind of thing it is", recipe(DEVELOP, FIX, WASH, extra=[unused % ""]),
         "no process or day of this file uses the solution `spare`")
    expect("never-used: every kind of thing", recipe(DEVELOP, FIX, WASH, extra=[
        "tank spare { holds 1 L }", "heater spare { gives 4 L per min }", "dryer attic { takes 8 rolls; for 2 h }",
        "thermometer spare { reads 0.1 °C }", "film spare { family C-41 }"]), *["never-used"] * 5)
    expect("never-used: allowed", recipe(DEVELOP, FIX, WASH, extra=[unused % '; allow never-used "for July"']))
    expect("never-used: allowed at the top", recipe(DEVELOP, FIX, WASH, extra=[
        'allow never-used "a list of baths"', unused % ""]))
    expect("never-used: a library has no processes", "wetside 1\n" + TANK + "\n" + unused % "" + "\n")
    expect("never-used: not while a name is misspelt", recipe(
        DEVELOP, step("stop-bath", "0:30", "agitate none").replace("stop-bath at", "spore at"), FIX, WASH,
        extra=[unused % ""]), "unknown-name")
    expect("never-used: the stock of a bath is used", recipe(DEVELOP, FIX, WASH, baths={
        "developer": solution("strong", "developer") + "\nsolution developer { role developer; dilute 1+4 from strong; "
                     "one-shot; hazards none; waste developer }"}))


def silence_rules():
    """What a mistake in the text leaves unknown is not guessed at."""
    expect("no-fix: not where the fix was not understood", recipe(
        DEVELOP, FIX.replace(" for 5:00", " fro 5:00"), WASH), "syntax")
    expect("no-fix: not where the bath is not known", recipe(
        DEVELOP, FIX.replace("in fixer", "in fixre"), WASH, extra=[BATHS["fixer"]]), "unknown-name")
    expect("no-developer: not where the process has no steps", recipe(), "missing-clause")


for rules in (time_rules, agitation_rules, order_rules, light_rules, reversal_rules, carry_over_rules, allow_rules,
              file_rules, leftover_rules, silence_rules):
    rules()
harness.end()
