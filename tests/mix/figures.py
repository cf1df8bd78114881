#!/usr/bin/env python3
"""The figures of the mixing card against arithmetic done here: kits and vessels, taps, cooling, ice, dilutions, scaling,
baths in hand."""

import math

import cards
from harness import check, end, run

MARK = "(common practice, no source)"

KITS = cards.frame("""
graduate jug "Jug" { holds 2 L; cools 43 °C to 41 °C within 10:00 in a room at 20 °C }
graduate can "Can" { holds 3 L; cools 43 °C to 42 °C within 10:00 in a room at 20 °C }
solution developer {
  role developer
  kit makes 1 L, powder
  reuse; blend; graduate jug
  mix { water 800 mL at 110 °F; add "powder" stirring 2:00; top up }
  keeps 6 weeks full, 2 weeks part full
  hazards H317; waste developer
}
solution bleach-fix {
  role bleach-fix
  kit makes 1 L, powder
  reuse; blend; graduate jug
  mix { water 800 mL at 110 °F; add "powder" stirring 2:00; top up }
  hazards H319; waste silver
}
""", """  graduate jug, can
  room 20 °C
  step develop in developer at 102 ± 0.25 °F for 6:30 { agitate first 30 s, then 5 s every 30 s }
  step fix in bleach-fix at 95 .. 105 °F for at least 6:30 { agitate first 30 s, then 5 s every 30 s }
""")


def near(value, wanted, allowance):
    return value is not None and abs(value - wanted) <= allowance


def kelvins_down(start, surroundings, rate, seconds):
    return surroundings + (start - surroundings) * math.exp(-rate * seconds)


# ---- kits in a vessel ----

def check_kits():
    """2.5 L tank, 1 L kits, 2 L graduate: three kits as 2 + 1, water 1,600 and 800 mL, half a litre over."""
    value = cards.data(KITS)
    bath = cards.baths(value)["developer"]
    mixes = bath["stages"][0]["mixes"]
    check(bath["kits"]["count"] == 3 and [(mix["times"], mix["kits"]) for mix in mixes] == [(1, 2), (1, 1)],
          f"2.5 L from 1 L kits in a 2 L jug: three kits as 2 + 1 {MARK}", mixes)
    check([mix["acts"][0]["volume_ml"] for mix in mixes] == [1600, 800], f"water to start with: 1,600 and 800 mL {MARK}")
    check([mix["free_ml"] for mix in mixes] == [400, 1200], "the rest of the jug is free when the powder goes in")
    check([mix["acts"][2]["mark_ml"] for mix in mixes] == [2000, 1000], "topped up to what the kits make")
    check((bath["makes_ml"], bath["over_ml"]) == (3000, 500), f"half a litre over {MARK}")
    check(bath["stages"][0]["blended_in"]["name"] == "can", "both are poured together in what holds them")
    names = [bath["name"] for bath in value["baths"]]
    check(names == ["developer", "bleach-fix"], f"the developer is mixed before the bleach-fix {MARK}", names)
    for name, wanted in (("developer", 38.9), ("bleach-fix", 40.6)):
        temperature = cards.baths(value)[name]["temperature"]
        check((temperature["from"]["true_c"], temperature["to"]["true_c"]) == (43.3, wanted),
              f"{name}: mixed at 110 °F, worked at {wanted} °C {MARK}", temperature)


# ---- temperatures ----

def check_cooling():
    """Newton's law with the can's own test; ice from latent heat. Formulas written out here."""
    rate = math.log((43 - 20) / (42 - 20)) / 600
    start, target = (110 - 32) / 1.8, (102 - 32) / 1.8
    for room, options in ((20, ()), (15, ("--room", "15C"))):
        temperature = cards.baths(cards.data(KITS, *options))["developer"]["temperature"]
        seconds = math.log((start - room) / (target - room)) / rate
        check(temperature["time_s"] == math.ceil(seconds / 60) * 60, f"cooling in a room at {room} °C by the can's test",
              f"{temperature['time_s']} {seconds}")
        check(near(kelvins_down(start, room, rate, seconds), target, 1e-9), "the law reaches the target then")
    temperature = cards.baths(cards.data(KITS, "--water-bath", "10C"))["developer"]["temperature"]
    heat = 3000 * 4.184 * (start - target)
    ice = heat / (334 + 4.184 * 10)
    check(temperature["in_water_bath"] and near(temperature["ice_g"], ice + 5, 5.001), "ice for the bath around it",
          f"{temperature['ice_g']} {ice}")
    check(near(temperature["surroundings_c"], 10, 0), "it cools in the water bath given")
    warm = cards.baths(cards.data(KITS, "--water-bath", "40C"))["developer"]["temperature"]
    check(not warm["reached_there"] and warm["time_s"] is None and warm["ice_g"] is None,
          "a water bath warmer than the target never brings it there", warm)
    both = cards.baths(cards.data(KITS, "--water-bath", "36C"))
    check(both["developer"]["temperature"]["reached_there"], "one below it does")


def check_taps():
    hot, cold = 60, 12
    value = cards.data(KITS, "--hot", f"{hot}C", "--cold", f"{cold}C")
    for bath, _, act in cards.every_act(value):
        if act["act"] != "water":
            continue
        wanted = act["window"]["nominal_c"]
        share = (wanted - cold) / (hot - cold)
        check(near(act["taps"]["hot_ml"], share * act["volume_ml"], 0.51) and
              act["taps"]["hot_ml"] + act["taps"]["cold_ml"] == act["volume_ml"],
              f"{bath['name']}: hot and cold tap make {act['volume_ml']} mL at {wanted:.1f} °C", act["taps"])
    temperature = cards.baths(value)["developer"]["temperature"]
    mixed = (800 * 43.3333 + 200 * cold) / 1000
    check(temperature["then"] == "warm" and near(temperature["from"]["true_c"], mixed, 0.06),
          "topped up from the cold tap it is colder", temperature)
    top_up = value["baths"][0]["stages"][0]["mixes"][0]["acts"][-1]
    ready = (1000 * (102 - 32) / 1.8 - 800 * 43.3333) / 200
    check(near(top_up["ready_with_water_at"]["true_c"], ready, 0.06), "water that tops it up to its working temperature",
          top_up)
    for options, wanted in ((("--hot", "40C", "--cold", "12C"), "too-cold"), (("--hot", "70C", "--cold", "50C"), "too-hot")):
        acts = [act for _, _, act in cards.every_act(cards.data(KITS, *options)) if act["act"] == "water"]
        check([act["taps"]["temperature"] for act in acts] == [wanted] * len(acts), f"taps that are {wanted} are told so")


def check_thermometer():
    """A thermometer that reads 2 K too high is held under the taps too, and in the water bath; the room has another."""
    recipe = cards.frame("""thermometer high { reads 0.1 °C within 0.1 °C; correction -2 °C; checked 2026-02-01 }
solution soup { role monobath; one-shot; hazards none; waste silver
  formula makes 1 L { water 1 L at 40 °C } }""",
                         "  thermometer high; room 20 °C\n  step develop in soup at 30 °C for 9:00 { agitate none }")
    options = ("--hot", "60C", "--cold", "12C", "--water-bath", "17C")
    value = cards.data(recipe, *options)
    soup = cards.baths(value)["soup"]
    water = soup["stages"][0]["mixes"][0]["acts"][0]
    share = (40 - (12 - 2)) / ((60 - 2) - (12 - 2))
    check(near(water["taps"]["hot_ml"], share * water["volume_ml"], 0.51), "taps are as the thermometer reads them",
          (water["taps"], share))
    check([value[key] for key in ("hot_tap_c", "cold_tap_c", "water_bath_c", "room_c")] == [58, 10, 15, 20],
          "in data they are true, and the room is as it is said")
    heat = water["volume_ml"] * 4.184 * (40 - 30)
    ice = heat / (334 + 4.184 * 15)
    check(soup["temperature"]["surroundings_c"] == 15 and near(soup["temperature"]["ice_g"], ice + 5, 5.001),
          "so is the water bath, and its ice is for that", soup["temperature"])
    text = cards.harness.run("mix", "--to", "markdown", *options, "-", stdin=recipe.encode()).stdout.decode()
    text = text.replace("\u00a0", " ")
    wanted = ("hot 60.0 °C, cold 12.0 °C", "**Room:** 20.0 °C, by a thermometer of its own", "**Water bath for cooling:** 17.0 °C",
              "high reads 2 K too high: temperatures here are its readings", "water at **42.0 °C**",
              "from 42.0 °C to 32.0 °C in the water bath at 17.0 °C")
    check(all(words in text for words in wanted), "on the card all are readings but the room",
          [words for words in wanted if words not in text] + [text])


# What is mixed warm, and where it is worked: the windows of the two steps are filled in.
WARM = cards.frame("""
graduate can { holds 3 L; cools 43 °C to 42 °C within 10:00 in a room at 20 °C }
solution soup { role developer; one-shot; hazards none; waste developer
  formula makes 1 L { water 800 mL at 30 °C; add metol 5 g; top up } }
solution rinse { role final-rinse; dilute 1+99; reuse; hazards none; waste developer }
solution boxed { role fix; kit makes 2.5 L, liquid; reuse; hazards none; waste silver }
""", """
  step develop in soup at %s for 6:00 { agitate first 30 s, then 5 s every 30 s }
  step fix in boxed at 18 .. 24 °C for at least 6:00 { agitate first 30 s, then 5 s every 30 s }
  step end in rinse at %s for 1:00 { agitate none }
""")


def warm(develop="20 ± 0.5 °C", end="15 .. 30 °C", options=()):
    return cards.baths(cards.data(WARM % (develop, end), *options))


def check_targets():
    """A point is aimed at, of a range the near end; where the room is too warm for the point, the upper limit."""
    for window, room, then, to, reached in (
            ("20 ± 0.5 °C", "18C", "cool", 20, True), ("20 ± 0.5 °C", "20C", "cool", 20.5, True),
            ("20 ± 0.5 °C", "20.5C", "cool", 20, False), ("20 °C", "20C", "cool", 20, False),
            ("18 .. 24 °C", "20C", "cool", 24, True), ("28 .. 32 °C", "20C", "ready", 30, None),
            ("34 .. 38 °C", "20C", "warm", 34, None), ("36 ± 1 °C", "20C", "warm", 36, None)):
        bath = warm(window, options=("--room", room))["soup"]
        temperature = bath["temperature"]
        check((temperature["then"], temperature["to"]["true_c"], temperature.get("reached_there")) == (then, to, reached),
              f"mixed at 30 °C for {window}, room {room}: {then} to {to} °C", temperature)
        # 800 mL at 30 °C and 200 mL at 60 °C are a litre at 36 °C, the middle of both windows above; no water is cold enough for
        # those below
        water = bath["stages"][0]["mixes"][0]["acts"][-1]["ready_with_water_at"]
        check((water["true_c"] if water else None) == (60 if then == "warm" else None),
              "and with what water it comes out right; none is told where it does anyway", water)
        ready = temperature["then"] == "cool" and temperature.get("reached_there")
        check(bool(temperature.get("time_s")) == bool(ready), "and how long that takes, where it can be", temperature)
    nowhere = warm()["soup"]["temperature"]
    check(nowhere["surroundings_c"] is None and nowhere["time_s"] is None and not nowhere["reached_there"],
          "without a room nothing is said of time", nowhere)
    check(nowhere["assumes_warm_top_up"] and not warm(options=("--cold", "10C"))["soup"]["temperature"]["assumes_warm_top_up"],
          "water that tops up counts as warm, unless the cold tap is given")
    for room, wanted in (("18C", 18), ("30C", 30), ("31C", 22.4), (None, 22.5)):
        bath = warm(options=("--room", room) if room else ())["rinse"]
        water = bath["stages"][0]["mixes"][0]["acts"][0]["temperature"]["true_c"]
        check(near(water, wanted, 0.051), f"of a range, a dilution takes the room's {room} where that lies in it", water)
    boxed = warm()["boxed"]
    check(boxed["kits"]["count"] == 1 and boxed["stages"][0]["mixes"][0]["acts"] == [] and boxed["temperature"] is None,
          "a kit of which nothing is said is still counted", boxed)
    hot, hotter = "solution hot { role developer; one-shot; hazards none; waste developer; ", "graduate bare { holds 3 L }"
    recipe = WARM.replace("solution soup", hotter + "\n" + hot + "graduate bare\n  formula makes 1 L { water 800 mL at 45 °C; "
                          "add metol 5 g; top up } }\nsolution soup").replace(
        "  step develop", "  step first in soup at 20 ± 0.5 °C for 6:00 { agitate first 30 s, then 5 s every 30 s }\n"
                          "  step develop").replace("in soup at %s", "in hot at %s")
    names = [bath["name"] for bath in cards.data(recipe % ("20 ± 0.5 °C", "15 .. 30 °C"), "--room", "18C")["baths"]]
    check(names[:2] == ["hot", "soup"], "where a time is not known, what has further to cool is mixed first", names)
    # From 45 °C to 38 °C are 7 K, from 30 °C to 20 °C are 10 K.
    names = [bath["name"] for bath in cards.data(recipe % ("38 ± 0.5 °C", "15 .. 30 °C"), "--room", "18C")["baths"]]
    check(names[:2] == ["soup", "hot"], "however warm it is", names)


def check_readings():
    """The thermometer's correction is added to its reading, so the reading is the true temperature without it."""
    recipe = KITS.replace("process mixing", "thermometer t { reads 0.1 °C; correction -0.2 °C }\nprocess mixing") \
                 .replace("  room 20 °C", "  room 20 °C\n  thermometer t")
    water = cards.data(recipe)["baths"][0]["stages"][0]["mixes"][0]["acts"][0]
    check(water["temperature"] == {"true_c": 43.3, "read_c": 43.5}, "what to read on a thermometer 0.2 K too high",
          water["temperature"])


# ---- dilutions ----

DILUTIONS = cards.frame("""
graduate jug { holds 3 L }
solution stock { role developer; kit makes 1 L, powder; reuse; keeps 6 months full
  mix { water 700 mL at 45 °C; add "powder" stirring 2:00; top up }; hazards H317; waste developer }
solution working { role developer; dilute 1+3 from stock; one-shot; hazards H317; waste developer }
solution thin { role developer; dilute 1+1+98; one-shot; hazards H317; waste developer }
solution fixer { role fix; kit makes 1 L, liquid; dilute 1+4; reuse; hazards none; waste silver
  mix { water 500 mL at 25 °C; add "part" 400 mL; top up } }
""", """  room 23 °C
  step first in working at 20 ± 0.5 °C for 6:00 { agitate first 30 s, then 5 s every 30 s }
  step second in thin at 20 ± 0.5 °C for 6:00 { agitate first 30 s, then 5 s every 30 s }
  step fix in fixer at 20 ± 2 °C for at least 5:00 { agitate first 30 s, then 5 s every 30 s }
""")


def check_dilutions():
    value = cards.data(DILUTIONS)
    found = cards.baths(value)
    names = [bath["name"] for bath in value["baths"]]
    check(names.index("stock") < names.index("working"), "a stock is mixed before what is made from it", names)
    check(found["stock"]["needed_ml"] == 625 and found["stock"]["makes_ml"] == 1000 and found["stock"]["over_ml"] == 375,
          "1+3 to 2.5 L takes 625 mL of stock: one powder kit, 375 mL over")
    acts = found["working"]["stages"][0]["mixes"][0]["acts"]
    check([act["volume_ml"] for act in acts] == [1875, 625], "1+3 to 2.5 L: 1,875 mL of water, 625 mL of stock", acts)
    check(acts[0]["temperature"]["true_c"] == 20, "stock and water both at the working temperature", acts[0])
    acts = found["thin"]["stages"][0]["mixes"][0]["acts"]
    check([act["volume_ml"] for act in acts] == [2450, 25, 25], "1+1+98 to 2.5 L: 2,450 mL of water, 25 mL of each", acts)
    water = (20 * 2500 - 23 * 50) / 2450
    check(near(acts[0]["temperature"]["true_c"], water, 0.051), "water a little colder, for concentrates at 23 °C", acts[0])
    stages = found["fixer"]["stages"]
    check([stage["stage"] for stage in stages] == ["mixing", "dilution"] and stages[0]["makes_ml"] == 500 and
          [act["volume_ml"] for act in stages[1]["mixes"][0]["acts"]] == [2000, 500],
          "a kit with a dilution of its own: 500 mL of stock, then 1+4 to 2.5 L", stages)
    check(found["fixer"]["kits"] == {"count": 1, "form": "liquid", "makes_ml": 1000, "concentrate_left_for_ml": 500},
          "half of the liquid kit is left", found["fixer"]["kits"])


def check_measured():
    """Each figure of a dilution can be measured, and together they make the printed total, on card and sheet."""
    wrong = []
    for dilution in ("1+4", "1+9", "1+199", "1+1+98", "1+50"):
        for volume in ("470 mL", "600 mL", "94 mL", "250.5 mL", "1.5 L", "16 US fl oz"):
            recipe = cards.frame(f"solution soup {{ role monobath; one-shot; dilute {dilution}; hazards none; waste silver }}",
                                 "  step develop in soup at 20 °C for 9:00 { agitate none }").replace("2.5 L", volume)
            soup = cards.baths(cards.data(recipe))["soup"]
            acts = soup["stages"][0]["mixes"][0]["acts"]
            amounts = [act["volume_ml"] for act in acts if "volume_ml" in act]
            marks = [act["mark_ml"] for act in acts if act["act"] == "top-up"]
            left = soup["makes_ml"] - sum(amounts)
            makes = marks == [soup["makes_ml"]] and 0 < left < 1 or not marks and abs(left) < 1e-9
            is_measured = all(near(amount % 1, 0, 1e-9) for amount in amounts if amount >= 100)
            line = cards.harness.run("sheet", "--to", "markdown", "-", stdin=recipe.encode()).stdout.decode()
            water = f"water to {volume_words(marks[0])}" if marks else f"{volume_words(amounts[0])} water"
            stocks = [f"{volume_words(amount)} stock" for amount in amounts[1:]]
            is_same = all(words in line.replace("\u00a0", " ") for words in [water, *stocks])
            if not (makes and is_measured and is_same):
                wrong.append((dilution, volume, acts, water, stocks))
    check(not wrong, "what is measured out makes the total, and the sheet says the same", wrong[:3])
    small = cards.harness.run("mix", "--to", "markdown", "-", stdin=recipe.replace("1+50", "1+199").encode()).stdout.decode()
    check("concentrate, by pipette or syringe" in small and "syringe" not in cards.harness.run(
        "mix", "--to", "markdown", "-", stdin=DILUTIONS.encode()).stdout.decode(), "less than 10 mL is not for a graduate")


def volume_words(amount):
    return f"{amount:g} mL" if amount < 1000 else f"{amount / 1000:g} L"


# ---- formulas ----

FORMULA = cards.frame("""
graduate can { holds 5 L }
graduate jug { holds {} L }
solution d-76 { role monobath; one-shot; hazards none; waste silver; graduate jug; blend
  formula makes 1 L {
    water 750 mL at 125 °F
    add metol 2 g stirring 1:00
    add sodium-sulfite anhydrous 100 g stirring 3:00
    add hydroquinone 5 g
    add borax decahydrate 2 g
    add potassium-bromide 0.25 g
    add acetic-acid-28 48 mL
    add sodium-thiosulfate pentahydrate 240 g drops 11 K
    top up
  } }
""", """  room 21 °C
  step develop in d-76 at 20 ± 0.5 °C for 9:30 { agitate first 30 s, then 5 s every 30 s }
""")


def amounts(value):
    """What goes in altogether: [(what, amount)]."""
    total = {}
    for _, times, act in cards.every_act(value):
        if act["act"] in ("water", "add"):
            key = act.get("chemical") or act["act"]
            total[key] = total.get(key, 0) + times * act.get("mass_g", act.get("volume_ml", 0))
    return total


def formula(holds, volume):
    return cards.data(FORMULA.replace("holds {} L", f"holds {holds} L"), "--volume", volume)


def check_formulas():
    one, three, split = formula(5, "1 L"), formula(5, "3 L"), formula(0.7, "3 L")
    check(len(split["baths"][0]["stages"][0]["mixes"]) == 2, "3 L in a jug of 0.7 L are mixes of two sizes",
          split["baths"][0]["stages"][0]["mixes"])
    for key, amount in amounts(one).items():
        check(near(amounts(three)[key], 3 * amount, 0.011), f"three litres take three times the {key}", amounts(three))
        check(near(amounts(split)[key], 3 * amount, 0.06), f"the {key} of all mixes is that of one", amounts(split))
    made = [mix["times"] * mix["makes_ml"] for mix in split["baths"][0]["stages"][0]["mixes"]]
    check(sum(made) == 3000, "the mixes make 3 L together", made)
    acts = {act.get("chemical"): act for _, _, act in cards.every_act(one)}
    order = [act["chemical"] for _, _, act in cards.every_act(one) if act["act"] == "add"]
    check(order[:4] == ["metol", "sodium-sulfite", "hydroquinone", "borax"], "in the order of the formula", order)
    other = {item["hydrate"]: item["mass_g"] for item in acts["sodium-sulfite"]["alternatives"]}
    check(near(other["heptahydrate"] / 100, 2.0, 0.01), "crystal sulfite weighs twice (S. Anchell, p. 330: 2.0)", other)
    other = acts["acetic-acid-28"]["alternatives"]
    check(other == [{"chemical": "acetic-acid-glacial", "volume_ml": 13.5, "water_ml": 34.5}],
          "48 mL at 28 % are 13.5 mL at 99.5 % and 34.5 mL of water (US Army SS0513: 32 oz take 9.0)", other)
    other = acts["potassium-bromide"]["alternatives"]
    check(other == [{"percent_solution": 10, "volume_ml": 2.5}], f"0.25 g are 2.5 mL of a 10 % solution {MARK}", other)
    after = acts["sodium-thiosulfate"]["after"]["true_c"]
    check(near(after, (750 * 51.667 + 48 * 21) / 798 - 11, 0.11), "hypo cools the mix by the 11 K declared", after)


def check_heat_of_hydroxide():
    """10 g of sodium hydroxide in 500 mL: 10/40.00 mol × 44.5 kJ/mol / (500 g × 4.184 J/(g K)) = 5.3 K (from memory)."""
    recipe = cards.frame("""solution lye { role monobath; one-shot; hazards H314; waste silver
  formula makes 1 L { water 500 mL at 20 °C; add sodium-hydroxide 10 g; top up } }""",
                         "  step develop in lye at 24 ± 1 °C for 6:00 { agitate first 30 s, then 5 s every 30 s }\n")
    value = cards.data(recipe, "--volume", "2 L")
    act = next(act for _, _, act in cards.every_act(value) if act["act"] == "add")
    check(near(act["after"]["true_c"], 20 + 10 / 40 * 44500 / (500 * 4.184), 0.051), "hydroxide warms the water", act)
    check(any("Hydroxide into cold water" in text for text in value["baths"][0]["cautions"]), "and is warned of")


# ---- baths in hand, dates, refusals ----

def check_in_hand():
    recipe = KITS.replace("process mixing", "on hand developer 3 L mixed 2026-03-01 done 4 rolls\nprocess mixing")
    value = cards.data(recipe, "--on", "2026-03-02")
    check([bath["name"] for bath in value["baths"]] == ["bleach-fix"] and value["in_hand"][0]["name"] == "developer" and
          (value["in_hand"][0]["done_rolls"], value["in_hand"][0]["mixed"]) == (4, "2026-03-01"), "a bath in hand is not mixed again", value["in_hand"])
    value = cards.data(recipe, "--volume", "1 L")
    check(len(value["baths"]) == 2 and value["in_hand"] == [], "but it is where a volume is asked for")
    value = cards.data(KITS, "--done", "developer=3")
    check(value["in_hand"][0]["name"] == "developer", "a bath that has done film is in hand")
    keeps = cards.baths(cards.data(KITS, "--on", "2026-03-14"))["developer"]["keeps"]
    check((keeps["full"]["until"], keeps["part_full"]["until"]) == ("2026-04-25", "2026-03-28"),
          "six and two weeks from 14 March 2026", keeps)


def check_refusals():
    for options, word in ((("--hot", "60C"), "--cold"), (("--hot", "12C", "--cold", "12C"), "no warmer"),
                          (("--hot", "10C", "--cold", "12C"), "no warmer"), (("--volume", "0 mL"), "--volume"),
                          (("--volume", "3 kg"), "--volume"), (("--water-bath", "12 L"), "--water-bath")):
        done = run("mix", *options, "-", stdin=KITS.encode())
        check(done.returncode == 2 and done.stdout == b"" and word in done.stderr.decode(),
              f"{' '.join(options)} is refused", f"{done.returncode} {done.stderr.decode()}")


def check_dilution_water():
    """1+4 from a shelf at 15 °C: 800 mL of water bear 200 mL that is 5 K too cold, so they are 5 × 200 / 800 = 1.25 K warmer,
    and their window with them."""
    text = cards.frame("""
solution developer { role developer; dilute 1+4; one-shot; hazards H317; waste developer }
solution fixer { role fix; dilute 1+4; reuse; hazards none; waste silver }
""", """
  step develop in developer at 20 ± 0.5 °C for 8:00 { agitate first 15 s, then 5 s every 1 min }
  step fix in fixer at 20 ± 1 °C for 5:00 { agitate first 15 s, then 5 s every 1 min }
""").replace("holds 2.5 L", "holds 1 L")
    for room, warmer in (("15C", 1.25), ("20C", 0), ("30C", -2.5)):
        water = cards.baths(cards.data(text, "--room", room))["developer"]["stages"][-1]["mixes"][0]["acts"][0]
        window = [water["window"][end] for end in ("low_c", "nominal_c", "high_c")]
        check(all(near(value, 20 + warmer + tolerance, 0.051) for value, tolerance in zip(window, (-0.5, 0, 0.5))),
              f"water for a dilution in a room at {room}: {warmer:+} K, and its window", window)


def main():
    check_kits()
    check_cooling()
    check_taps()
    check_thermometer()
    check_targets()
    check_readings()
    check_dilutions()
    check_measured()
    check_dilution_water()
    check_formulas()
    check_heat_of_hydroxide()
    check_in_hand()
    check_refusals()
    end()


if __name__ == "__main__":
    main()
