#!/usr/bin/env python3
# builds: plain
# lasts: 40
"""A thousand random small days, each timetable walked moment by moment by a replay that plans nothing: no two tasks for one
pair of hands, none in a break, no wet reel loaded, no tank taken twice or over-filled, no dryer over-full, no bath over
its capacity or poured before it was mixed, cooled and tested, no origin whole in an untried load, no split that the plan
does not announce, every roll once."""

import copy
import json
import os
import sys
from collections import Counter, defaultdict
from fractions import Fraction

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [os.path.dirname(HERE), HERE]

import days  # noqa: E402
from harness import cases, check, end, run  # noqa: E402

DAYS = cases(1000)
JUG_ML = 5000  # the vessel of days.RECIPE
SPOILT_DAYS = 20  # of them, spoilt in every way below


class Replay:
    """One plan; what is wrong with it, in words."""

    def __init__(self, plan):
        self.plan = plan
        self.wrong = []
        self.today = [load for load in plan["loads"] if load["today"]]
        self.tasks = defaultdict(list)
        for task in plan["tasks"]:
            self.tasks[task["load"], task["kind"]].append(task)
        self.process = {process["number"]: process for process in plan["processes"]}
        self.times = plan["resources"]["times"]

    def expect(self, condition, words):
        """Notes what is wrong where the condition does not hold."""
        if not condition:
            self.wrong.append(words)

    def one(self, load, kind):
        """The one task of a kind that a load has."""
        found = self.tasks[load["number"], kind]
        self.expect(len(found) == 1, f"load {load['number']}: {len(found)} tasks of {kind}")
        return found[0] if found else {"start_s": 0, "end_s": 0}

    def hands(self):
        """One pair of hands, which rest in the breaks and are free by the finish."""
        busy = sorted((task["start_s"], task["end_s"], task["kind"]) for task in self.plan["tasks"]
                      if task["hands"] and task["end_s"] > task["start_s"])
        for before, after in zip(busy, busy[1:]):
            self.expect(before[1] <= after[0], f"hands at {before} and {after}")
        for rest in self.plan["resources"]["breaks"]:
            for start, stop, kind in busy:
                self.expect(stop <= rest["start_s"] or start >= rest["end_s"], f"{kind} at {start} in a break")
        finish = self.plan["day"]["finish_s"]
        if busy and finish is not None:
            self.expect(max(stop for _, stop, _ in busy) <= finish, "hands are busy after the finish")
        self.expect(all(task["start_s"] >= 0 for task in self.plan["tasks"]), "a task before the start")

    def load(self, load):
        """The tasks of one load follow each other and last as the day says."""
        rolls = len(load["places"])
        ready, loading, hang, clean = (self.one(load, kind) for kind in ("ready", "load", "hang", "clean"))
        runs = sorted(self.tasks[load["number"], "run"] + self.tasks[load["number"], "run-free"],
                      key=lambda task: task["start_s"])
        temper = self.tasks[load["number"], "temper"]
        name = f"load {load['number']}"
        for task, lasts in ((ready, self.times["ready_s"]), (loading, self.times["load_s"] * rolls),
                            (hang, self.times["hang_s"] * rolls), (clean, self.times["clean_s"])):
            self.expect(task["end_s"] - task["start_s"] == lasts, f"{name}: a task lasts not {lasts} s")
        self.expect(ready["end_s"] <= loading["start_s"], f"{name} is loaded before it is set out")
        self.expect(loading["end_s"] <= runs[0]["start_s"], f"{name} is poured before it is loaded")
        if temper:
            self.expect(temper[0]["start_s"] >= ready["end_s"] and temper[0]["end_s"] <= runs[0]["start_s"],
                        f"{name} is poured before its baths are at temperature")
            self.expect(temper[0]["end_s"] - temper[0]["start_s"] == self.times["temper_s"], f"{name}: temper")
            self.tempering(name, load, temper[0], runs[0]["start_s"])
        for before, after in zip(runs, runs[1:]):
            self.expect(before["end_s"] == after["start_s"], f"{name}: a gap in its run")
        self.expect(all(task["end_s"] - task["start_s"] >= 120 for task in runs if task["kind"] == "run-free"),
                    f"{name}: free hands for less than 2 minutes")
        self.expect(hang["start_s"] == runs[-1]["end_s"], f"{name} lies in its last bath")
        self.expect(clean["start_s"] >= hang["end_s"], f"{name} is cleaned before it hangs")
        self.expect((load["pour_s"], load["out_s"], load["hung_s"]) ==
                    (runs[0]["start_s"], runs[-1]["end_s"], hang["end_s"]), f"{name}: its times are not its tasks'")
        for dry in self.tasks[load["number"], "dry"]:
            self.expect(dry["start_s"] >= hang["end_s"] and dry["end_s"] == load["dry_s"], f"{name}: drying")
            for down in self.tasks[load["number"], "take-down"]:
                self.expect(down["start_s"] >= dry["end_s"], f"{name} is taken down wet")
                self.expect(down["end_s"] - down["start_s"] == self.times["take_down_s"] * rolls, f"{name}: down")

    def tempering(self, name, load, temper, pour_s):
        """Baths come to temperature just before the pour. Whoever sees to it does nothing else at that moment; and no break that
        lasts longer than it lies between it and the pour, but where the plan says so."""
        rests = self.plan["resources"]["breaks"]
        busy = [(task["start_s"], task["end_s"]) for task in self.plan["tasks"] if task["hands"]]
        busy += [(rest["start_s"], rest["end_s"]) for rest in rests]
        self.expect(not any(start < temper["start_s"] < stop for start, stop in busy), f"{name}: tempered with no hand free")
        latest = pour_s - self.times["temper_s"]
        self.expect(temper["start_s"] == latest or any(start == temper["start_s"] and latest < stop for start, stop in busy),
                    f"{name}: tempered at {temper['start_s']}, poured at {pour_s}")
        between = [rest for rest in rests if rest["end_s"] - rest["start_s"] > self.times["temper_s"] and
                   rest["start_s"] < pour_s and rest["end_s"] > temper["start_s"]]
        self.expect(bool(between) == load["temper_again"], f"{name}: a break before the pour, and temper_again {load['temper_again']}")

    def run_length(self, load):
        """From the first pour to the last drain: the declared times, lengthened by what the baths have done; rounded up."""
        total = Fraction(0)
        done = {account["bath"]: account for account in load["accounts"]}
        for step, (name, seconds, bath) in zip(load["steps"], days.PROCESSES[self.process[load["process"]]["name"]][1]):
            wanted = Fraction(seconds)
            if bath and days.BATHS[bath][2]:
                account = done[bath]
                rolls = Fraction(account["done_before_rolls"]).limit_denominator(1000)
                litres = Fraction(account["volume_ml"]).limit_denominator(1000) / 1000
                wanted *= 1 + Fraction(days.BATHS[bath][2], 100) * rolls / litres
                wanted = Fraction(int(wanted + Fraction(1, 2)))
            self.expect(step["low_s"] == wanted, f"load {load['number']}: {name} for {step['low_s']} s, not {wanted}")
            total += wanted
        self.expect(load["out_s"] - load["pour_s"] == total, f"load {load['number']}: a run of {total} s")

    def most_at_once(self, stays):
        """The most of amounts in (from, to, amount) at one moment."""
        changes = sorted([(start, amount) for start, _, amount in stays] + [(stop, -amount) for _, stop, amount in stays])
        at_once = most = 0
        for _, amount in changes:
            at_once += amount
            most = max(most, at_once)
        return most

    def reels(self):
        """From loading until they have dried after they were rinsed."""
        stays = defaultdict(list)
        tanks = self.plan["resources"]["tanks"]
        for load in self.today:
            start, stop = self.one(load, "load")["start_s"], self.one(load, "clean")["end_s"] + self.times["reels_dry_s"]
            for form, count in Counter(place["roll"]["format"] for place in load["places"]).items():
                stays[form].append((start, stop, count))
        declared = self.plan["resources"]["reels"]
        for form, taken in stays.items():
            if declared is None:
                there = sum(takes["count"] for tank in tanks for takes in tank["takes"] if takes["format"] == form)
            else:
                there = sum(reel["count"] for reel in declared if reel["format"] == form)
            self.expect(self.most_at_once(taken) <= there, f"more than {there} dry reels of {form}")

    def tanks(self):
        """One load at a time, and no more than the column takes."""
        stays = defaultdict(list)
        for load in self.today:
            stays[load["tank"]].append((self.one(load, "load")["start_s"], self.one(load, "clean")["end_s"], 1))
        for number, taken in stays.items():
            self.expect(self.most_at_once(taken) <= 1, f"tank {number} holds two loads")
        for load in self.plan["loads"]:
            tank = self.plan["resources"]["tanks"][load["tank"] - 1]
            takes = {row["format"]: row["count"] for row in tank["takes"]}
            share = sum(Fraction(1, takes[place["roll"]["format"]]) for place in load["places"])
            self.expect(share <= 1, f"load {load['number']} fills {share} of its tank")
            self.expect([place["reel"] for place in load["places"]] == list(range(1, len(load["places"]) + 1)), "reels")
            self.expect(all(place["hang"] == len(load["places"]) + 1 - place["reel"] for place in load["places"]),
                        f"load {load['number']}: the roll loaded last does not hang first")
            marks = [place["mark"] for place in load["places"]]
            self.expect(len(set(marks)) == len(marks) and all(marks), f"load {load['number']}: marks {marks}")

    def dryer(self):
        """What hangs in it, until it is taken down."""
        dryer = self.plan["resources"]["dryer"]
        stays = [(claim["from_s"], claim["to_s"], claim["amount"]) for load in self.today for claim in load["claims"]
                 if claim["resource"] == "dryer"]
        self.expect(dryer or not stays, "a dryer that is not there")
        if dryer:
            self.expect(self.most_at_once(stays) <= dryer["places"], "the dryer is over-full")

    def pours(self):
        """(moment, end, load, account) of every bath that a load gets."""
        return sorted(((load["pour_s"], load["out_s"], load["number"], account) for load in self.today
                       for account in load["accounts"]), key=lambda pour: pour[:3])

    def baths(self, recipe):
        """Each fill: mixed, cooled and tested before its first film, and what it does in sum."""
        stock = self.made("stock")
        fills = defaultdict(list)
        for pour in self.pours():
            fills[pour[3]["bath"], pour[3]["mix"]].append(pour)
        for (bath, mix), taken in fills.items():
            name = f"{bath} {mix}"
            is_reused, per_litre, _, develops = days.BATHS[bath]
            first = taken[0]
            made = [task for task in self.made(bath) if task["mix"] == mix]
            tests = [task for task in self.plan["tasks"] if task["kind"] == "test" and task["bath"] == bath and
                     task["mix"] == mix]
            if not first[3]["on_hand"]:
                self.expect(made and made[0]["end_s"] <= first[0], f"{name} is poured before it is mixed")
            cools = [task for task in self.plan["tasks"] if task["kind"] == "cool" and task["bath"] == bath and
                     task["mix"] == mix]
            self.expect(all(task["end_s"] <= first[0] for task in cools), f"{name} is poured warm")
            is_new_mix = bath == "colour-developer" and (not first[3]["on_hand"] or "done 0 rolls\n" in recipe)
            self.expect(tests or not is_new_mix, f"{name} is not tested")
            for test in tests:
                self.expect(test["end_s"] <= first[0], f"{name} is tested after its first film")
                self.expect(all(task["end_s"] <= test["start_s"] for task in made[:1] + cools), f"{name}: test of nothing")
            for before, after in zip(taken, taken[1:]):
                self.expect(is_reused and before[1] <= after[0], f"{name} is in two tanks")
            strip = Fraction(len(tests)) / 10 if is_reused else 0
            done = Fraction(first[3]["done_before_rolls"]).limit_denominator(1000)
            if first[3]["on_hand"]:
                strip = strip if is_reused else 0
            else:
                self.expect(not is_reused or done == strip, f"{name} has done {done} rolls at first")
            for _, _, number, account in taken if is_reused else ():
                self.expect(Fraction(account["done_before_rolls"]).limit_denominator(1000) == done,
                            f"{name} has done {done} before load {number}, not {account['done_before_rolls']}")
                done += Fraction(account["load_rolls"]).limit_denominator(1000)
                if per_litre:
                    able = Fraction(account["volume_ml"]).limit_denominator(1000) / 1000 * per_litre
                    self.expect(done - strip <= able, f"{name} does {done} rolls of {able}")
            if bath == "stock-soup":
                self.expect(stock and stock[0]["end_s"] <= made[0]["start_s"], f"{name} is diluted from nothing")
        for dilution in self.made("stock-soup"):  # 1+1
            drawn = sum(task["volume_ml"] for task in self.made("stock-soup") if task["start_s"] <= dilution["start_s"]) / 2
            there = sum(task["volume_ml"] for task in stock if task["end_s"] <= dilution["start_s"])
            self.expect(drawn <= there, f"{drawn} mL of stock are drawn where there are {there}")
        if "keeps 6 weeks" in recipe and sum(task["volume_ml"] for task in stock) <= JUG_ML:
            self.expect(len(stock) <= 1, f"the stock is mixed {len(stock)} times")
        for developer in ("soup", "stock-soup"):
            pours = [pour for pour in self.pours() if pour[3]["bath"] == developer]
            tests = [task for task in self.plan["tasks"] if task["kind"] == "test" and task["bath"] == developer]
            news = len(stock) if developer == "stock-soup" else min(len(pours), 1)  # each kit, but one bottle
            self.expect(len(tests) == news, f"{developer}: {len(tests)} tests of {news} that are new")
            self.expect(not pours or tests and tests[0]["end_s"] <= pours[0][0], f"{developer} is poured untested")

    def made(self, bath):
        """The mixes of a bath, in order."""
        return [task for task in self.plan["tasks"] if task["kind"] == "mix" and task["bath"] == bath]

    def parties(self):
        """Origins and groups: spread, looked at, and every split announced."""
        announced = {(party["name"], party["together"], party["process"]): party for party in self.plan["parties"]}
        for number in self.process:
            loads = [load for load in self.plan["loads"] if load["process"] == number]
            lies = defaultdict(list)
            for load in loads:
                for place in load["places"]:
                    roll = place["roll"]
                    key = (roll["together"], True) if roll["together"] else (roll["origin"], False)
                    if key[0]:
                        lies[key].append(load["number"])
            for (name, together), found in lies.items():
                party = announced.get((name, together, number))
                self.expect(len(set(found)) == 1 or party, f"{name} is split and nobody says so")
                if party:
                    self.expect((party["rolls"], party["loads"]) == (len(found), len(set(found))), f"{name}: {party}")
                first = min(load["number"] for load in loads)
                self.expect(together or found.count(first) <= max(1, len(found) // 2), f"{name} is whole in load {first}")
            today = sorted((load for load in loads if load["today"]), key=lambda load: load["pour_s"])
            for later in today[1:]:
                self.expect(later["pour_s"] >= today[0]["hung_s"], "poured before the first load was looked at")

    def rolls(self, recipe):
        """Every roll of the intake once, in a load or among those left."""
        labels = [line.split()[1] for line in recipe.splitlines() if line.startswith("  roll ")]
        loaded = Counter(place["roll"]["label"] for load in self.plan["loads"] for place in load["places"])
        left = Counter(row["roll"]["label"] for row in self.plan["left"])
        today = Counter(place["roll"]["label"] for load in self.today for place in load["places"])
        self.expect(today + left == Counter(labels), "not every roll is done or left, once")
        self.expect(all(count == 1 for count in loaded.values()), "a roll is in two loads")
        for row in self.plan["left"]:
            self.expect((row["reason"] == "tomorrow") == (row["roll"]["label"] in loaded), f"left: {row['reason']}")

    def walk(self, recipe):
        """All of it."""
        self.hands()
        for load in self.today:
            self.load(load)
            self.run_length(load)
        self.reels()
        self.tanks()
        self.dryer()
        self.baths(recipe)
        self.parties()
        self.rolls(recipe)
        return self.wrong


def earlier(plan, kind, by_s):
    """Moves the last task of a kind, so much earlier."""
    tasks = [task for task in plan["tasks"] if task["kind"] == kind]
    if not tasks:
        return False
    tasks[-1]["start_s"] -= by_s
    tasks[-1]["end_s"] -= by_s
    return True


def drop(plan, kind):
    """Takes the first task of a kind out."""
    tasks = [task for task in plan["tasks"] if task["kind"] == kind]
    if tasks:
        plan["tasks"].remove(tasks[0])
    return bool(tasks)


def lose_roll(plan):
    """Takes the last roll of a load out of it."""
    loads = [load for load in plan["loads"] if load["places"]]
    if loads:
        loads[-1]["places"].pop()
    return bool(loads)


def overfill(plan):
    """Tanks that take one roll only."""
    if not any(len(load["places"]) > 1 for load in plan["loads"]):
        return False
    for tank in plan["resources"]["tanks"]:
        for takes in tank["takes"]:
            takes["count"] = 1
    return True


def use_spent(plan):
    """A bath that has done ten rolls more than it says."""
    accounts = [account for load in plan["loads"] if load["today"] for account in load["accounts"]
                if account["bath"] == "colour-developer"]
    if accounts:
        accounts[-1]["done_before_rolls"] += 10
    return bool(accounts)


def crowd_dryer(plan):
    """A dryer of no places."""
    if not any(claim["resource"] == "dryer" for load in plan["loads"] for claim in load["claims"]):
        return False
    plan["resources"]["dryer"]["places"] = 0
    return True


def lose_reels(plan):
    """Half the reels that the fullest load has taken."""
    loads = [load for load in plan["loads"] if load["today"]]
    if not loads:
        return False
    plan["resources"]["reels"] = []
    return True


def rest_now(plan):
    """A break at the time of the first run."""
    runs = [task for task in plan["tasks"] if task["kind"] == "run"]
    if runs:
        plan["resources"]["breaks"].append({"start_s": runs[0]["start_s"], "end_s": runs[0]["end_s"]})
    return bool(runs)


SPOILS = {
    "hang earlier": lambda plan: earlier(plan, "hang", 60),
    "load earlier": lambda plan: earlier(plan, "load", 900),
    "tempered earlier": lambda plan: earlier(plan, "temper", 60),
    "dry shorter": lambda plan: earlier(plan, "dry", 60),
    "no test": lambda plan: drop(plan, "test"),
    "no mix": lambda plan: drop(plan, "mix"),
    "a roll lost": lose_roll,
    "a tank over-filled": overfill,
    "a bath spent": use_spent,
    "a dryer over-full": crowd_dryer,
    "no reels": lose_reels,
    "a break": rest_now,
}


def main():
    """Walks every day, then spoils some, to see that the replay sees it."""
    wrong, statuses, counts, spoilt = [], Counter(), Counter(), defaultdict(Counter)
    for seed in range(DAYS):
        recipe = days.day(seed)
        made = run("plan", "-", "--to", "json", stdin=recipe.encode())
        statuses[made.returncode] += 1
        if made.returncode != 0:
            wrong.append(f"day {seed}: {made.stderr.decode()[:300]}")
            continue
        plan = json.loads(made.stdout)
        wrong += [f"day {seed}: {words}" for words in Replay(plan).walk(recipe)]
        counts["loads"] += plan["summary"]["loads"]
        counts["left"] += plan["summary"]["rolls_tomorrow"]
        counts["waits"] += plan["summary"]["dryer_waits"]
        counts["together"] += sum(party["together"] for party in plan["parties"])
        counts["mixes"] += sum(task["kind"] == "mix" for task in plan["tasks"])
        counts["tempered again"] += sum(load["temper_again"] for load in plan["loads"])
        counts["free"] += sum(task["kind"] == "run-free" for task in plan["tasks"])
        counts["remedies"] += len(plan["remedies"])
        for name, spoil in SPOILS.items() if seed < SPOILT_DAYS else ():
            other = copy.deepcopy(plan)
            if spoil(other):
                spoilt[name][bool(Replay(other).walk(recipe))] += 1
    check(not wrong, f"{DAYS} days as planned", "\n".join(wrong[:20]))
    check(all(counts.values()), "the days have loads, rolls left, mixes and full dryers among them", counts)
    for name in SPOILS:
        check(spoilt[name][True] > 0 and not spoilt[name][False], f"seen: {name}", dict(spoilt[name]))
    end()


if __name__ == "__main__":
    main()
