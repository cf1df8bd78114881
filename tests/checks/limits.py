#!/usr/bin/env python3
"""Where the checks of temperatures, of kits and of how much film a bath does begin and end, beyond the pairs."""

import os
import sys

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))

import harness  # noqa: E402
from recipes import DEVELOP, FIX, WASH, expect, limit, recipe, says, step  # noqa: E402

WASTE = "hazards none; waste developer"
FILM = "film plate { family black-and-white-negative; backing none; emulsion %s }"


def at(text, degrees):
    """A step at other degrees."""
    return text.replace("20 ± 1 °C", degrees)


def windows():
    def usable(window, *clauses, low="18 °C", high="22 °C"):
        bath = f"solution developer {{ role developer; dilute 1+4; one-shot; usable {low} .. {high}; {WASTE} }}"
        return recipe(at(step("developer", "8:00", *clauses), window), FIX, WASH, baths={"developer": bath})

    outside = "window-outside-usable"
    for name, window, ids in (("inside", "20 ± 2 °C", ()), ("too warm", "20.1 ± 2 °C", (outside,)),
                              ("too cold", "19.9 ± 2 °C", (outside,)), ("both", "20 ± 3 °C", (outside,))):
        expect(f"{outside}: {name}", usable(window), *ids)
    says("too cold", usable("18 ± 1 °C"), "the window begins at 17.0 °C; developer is usable from 18.0 °C",
         "keep the window within 18.0 °C .. 22.0 °C", "the usable range is declared here")
    says("too warm", usable("22 ± 1 °C"), "the window ends at 23.0 °C; developer is usable up to 22.0 °C")
    for clause in ("pour at", "mean"):
        expect(f"{outside}: {clause}, inside", usable("20 ± 1 °C", f"{clause} 20 ± 0.5 °C"))
        expect(f"{outside}: {clause}, outside", usable("20 ± 2 °C", f"{clause} 21.8 ± 0.5 °C"), outside)


def jumps():
    """Trade practice, as src/check/temperature.c says: 3 K for black-and-white and for soft film, 15 K for colour."""
    jump = "jump-between-baths"

    def plain(degrees, films=()):
        return recipe(DEVELOP, at(FIX, f"{degrees} ± 1 °C"), at(WASH, f"{degrees} ± 1 °C"), films=films,
                      process=["film plate"] if films else ())

    limit(jump, "warmer", plain, 23, 23.1)
    limit(jump, "colder", plain, 17, 16.9)
    says("how far", plain(24), "fixer is warmer than developer",
         "24.0 °C after 20.0 °C; black-and-white film bears 3 K", "bring it to 23.0 °C, or the baths before it nearer",
         "developer works at 20.0 °C")
    says("which way", plain(16), "colder than developer", "bring it to 17.0 °C")
    soft = [FILM % "soft"]
    says("soft film", plain(24, soft), "error:", "a soft emulsion bears 3 K", "this film counts as soft")
    says("hard film", plain(24, [FILM % "hardened"]), "warning:", "black-and-white film bears 3 K")

    def colour(degrees):
        return recipe(at(step("developer", "3:15"), "38 ± 0.3 °C"), at(step("bleach-fix", "6:30"), f"{degrees} ± 1 °C"),
                      at(WASH, f"{degrees} ± 1 °C"), family="C-41")

    limit(jump, "colour, colder", colour, 23, 22.9)
    limit(jump, "colour, warmer", colour, 53, 53.1)


def thermometers():
    """Half a kelvin where it was never checked: common practice, no source."""
    unchecked = "thermometer-unchecked"

    def read(tolerance, clauses):
        return recipe(*(at(text, f"20 ± {tolerance} °C") for text in (DEVELOP, FIX, WASH)), process=["thermometer spirit"],
                      extra=[f"thermometer spirit {{ reads 0.1 °C {clauses} }}"])

    expect(f"{unchecked}: half a kelvin either way", read("0.5", "within 0.2 °C"))
    expect(f"{unchecked}: less", read("0.49", "within 0.2 °C"), unchecked)
    expect(f"{unchecked}: checked", read("0.2", "within 0.2 °C; checked 2026-02-01"))
    expect(f"{unchecked}: checked, and not good enough", read("0.19", "within 0.2 °C; checked 2026-02-01"), unchecked)
    expect(f"{unchecked}: its division, where nothing else is said", read("0.1", "; checked 2026-02-01"))
    says("for want of a check", read("0.3", "within 0.2 °C"), "was never checked and may be wrong by 0.5 K",
         "write `checked YYYY-MM-DD`")
    says("not good enough", read("0.1", "within 0.2 °C; checked 2026-02-01"), "may be wrong by 0.2 K",
         "name a thermometer that is right within 0.1 K", "the thermometer is declared here")


def kits():
    """A tank of one litre; a kit of one litre does eight rolls."""
    def kit(rolls, clauses="reuse", form="powder", extra="", jug=""):
        bath = f"solution developer {{ role developer; kit makes 1 L, {form}; {clauses}; {extra} {WASTE} }}"
        return recipe(DEVELOP, FIX, WASH, process=[f"load {rolls} rolls"], baths={"developer": bath},
                      tank="tank small { holds 1 L; takes 24 x 135; fill 8 s; drain 8 s }", extra=[jug] if jug else ())

    over = "capacity-exceeded"
    limit(over, "rolls", lambda rolls: kit(rolls, "reuse; capacity 8 rolls per 1 L"), 8, 9)
    limit(over, "by half litres", lambda rolls: kit(rolls, "reuse; capacity 4 rolls per 500 mL"), 8, 9)
    expect(f"{over}: what is replenished is never spent", kit(20, "replenish 50 mL per roll; capacity 8 rolls per 1 L"))
    expect(f"{over}: nothing is said", kit(20))
    says("by how many", kit(9, "reuse; capacity 8 rolls per 1 L"),
         "a load of 9 rolls; 1 L of developer can do 8 rolls", "load 8 or less", "poured here, into a tank of 1 L")

    little = "too-little-developer"
    limit(little, "at least so much", lambda least: kit(8, extra=f"at least {least} mL per roll;"), 125, 126)
    says("how much", kit(8, extra="at least 200 mL per roll;"), "1 L of stock for 8 rolls is 125 mL a roll; it needs 200 mL",
         "load 5 or less, or have 1.6 L of stock in the tank")
    says("not even one", kit(1, extra="at least 1.1 L per roll;"), "have 1.1 L of stock in the tank")

    split = "kit-split"
    mark = "mix { water 400 mL at 20 ± 5 °C; add \"part A\"; top up to 500 mL };"
    expect(f"{split}: half a powder", kit(4, extra=mark), split)
    expect(f"{split}: half a liquid", kit(4, form="liquid", extra=mark.replace('"part A"', '"part A" 100 mL')))
    jug = "graduate jug { holds %s }"
    two = "pour-needs-two-jugs"  # the tank holds a litre
    for holds, ids in (("1 L", ()), ("999 mL", (split, two))):
        expect(f"{split}: mixed in {holds}", kit(4, extra="graduate jug;", jug=jug % holds), *ids)
    expect(f"{split}: a liquid in a small jug", kit(4, form="liquid", extra="graduate jug;", jug=jug % "500 mL"), two)

    def formula(makes):
        bath = f"solution developer {{ role developer; formula makes {makes} {{ water 300 mL at 20 ± 5 °C; " \
               f"add metol 2 g; top up to 500 mL }}; one-shot; {WASTE} }}"
        return recipe(DEVELOP, FIX, WASH, baths={"developer": bath})
    expect(f"{split}: a formula is divided as one likes", formula("500 mL"))


def dry_powders():
    """An oxidiser and organic matter catch fire where they lie together before any water does."""
    def formula(*acts):
        bath = f"solution developer {{ role developer; formula makes 1 L {{ {'; '.join(acts)} }}; one-shot; {WASTE} }}"
        return recipe(DEVELOP, FIX, WASH, baths={"developer": bath})

    oxidiser, organic, water = "add potassium-dichromate 9 g", "add citric-acid 5 g", "water 800 mL at 20 ± 5 °C"
    expect("never-mix: both before the water", formula(oxidiser, organic, water, "top up"), "never-mix")
    expect("never-mix: the other way round", formula(organic, oxidiser, water, "top up"), "never-mix")
    expect("never-mix: the oxidiser into water", formula(organic, water, oxidiser, "top up"))
    expect("never-mix: the organic one into water", formula(oxidiser, water, organic, "top up"))


windows()
dry_powders()
jumps()
thermometers()
kits()
harness.end()
