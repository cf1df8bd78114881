"""What differs between a second timeline and what the program says of the same run."""

import json
import os
import sys
from decimal import Decimal
from fractions import Fraction

from processes import Conditions
from reckoning import Reckoning, Refused

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "cues"))
import read_back  # noqa: E402

REFUSING = ("agitation-overlaps", "outside-time-table", "total-over-limit", "window-empty", "figure-out-of-range",
            "out-of-place")
INSTANTS = ("pour_s", "full_s", "start_s", "time_end_s", "drain_s", "end_s", "latest_end_s", "light_s")
ABOUT_TIME = ("agitation-past-end", "agitation-in-drain")


def milliseconds(seconds):
    return None if seconds is None else round(seconds * 1000)


class Wanted:
    """The second timeline of a case: its reckoning, or the ids of the checks that refuse it; and what the other
    processes of its file have to be told, since an error in one of them stops every output."""

    def __init__(self, case, kind=Reckoning, others=None):
        self.reckoning, self.refusals, self.findings = None, set(), set()
        others = declared_findings(case.recipe, kind) if others is None else others
        for name, (refusals, findings) in others.items():
            if name != case.process:
                self.refusals |= refusals
                self.findings |= findings
        try:
            self.reckoning = kind(case.recipe, case.recipe.process(case.process), case.run)
            self.findings |= self.reckoning.findings
        except Refused as refused:
            self.refusals.add(str(refused))


def declared_findings(recipe, kind=Reckoning):
    """Of each process as it is declared: what refuses it, what is found in it."""
    found = {}
    for process in recipe.processes:
        try:
            found[process.name] = set(), kind(recipe, process, Conditions()).findings
        except Refused as refused:
            found[process.name] = {str(refused)}, set()
    return found


def step_rows(wanted):
    """Everything that is said of each step."""
    rows = []
    for number, moments in enumerate(wanted.moments):
        light = wanted.light[1] if wanted.light and wanted.light[0] == number else None
        rows.append((wanted.steps[number].name, wanted.roles[number], wanted.bottle_of(number),
                     wanted.is_poured(number), moments.pour, moments.full, moments.start, moments.time_end,
                     moments.drain, moments.end, moments.latest_end, light,
                     wanted.used.get(number, wanted.times[number][1:])))
    return rows


def said_step_rows(value):
    rows = []
    for step in value["steps"]:
        time = step["used_time"] or step["time"] or {"low_s": step["time_end_s"] - step["start_s"]}
        high = time.get("high_s", time["low_s"])
        rows.append((step["name"], step["role"], step["bottle"], step["is_poured"],
                     *(milliseconds(step[key]) for key in INSTANTS), (milliseconds(time["low_s"]), milliseconds(high))))
    return rows


def cue_rows(wanted):
    return [(cue.at, wanted.steps[cue.step - 1].name, cue.kind, cue.until, cue.count, cue.rings, cue.assumes,
             cue.at - wanted.moments[cue.step - 1].pour, cue.at - wanted.moments[cue.step - 1].start)
            for cue in wanted.cues]


def said_cue_rows(value):
    return [(milliseconds(cue["at_s"]), cue["step_name"], cue["kind"], milliseconds(cue["until_s"]), cue["count"],
             cue["rings"], cue["assumes_earliest_end"], milliseconds(cue["since_pour_s"]),
             milliseconds(cue["since_start_s"])) for cue in value["cues"]]


def first_difference(what, mine, theirs):
    """The first row that differs, in words; None where none does."""
    for one, other in zip(mine, theirs):
        if one != other:
            return f"{what}: wanted {one}, said {other}"
    if len(mine) != len(theirs):
        rest = (mine if len(mine) > len(theirs) else theirs)[min(len(mine), len(theirs))]
        return f"{what}: wanted {len(mine)}, said {len(theirs)}, such as {rest}"
    return None


def difference(wanted, run, path):
    """What differs in the words of a person, None where nothing does; `path` is that of the recipe."""
    errors = run.errors()
    if wanted.refusals:
        if run.status != 1 or run.output or not wanted.refusals & errors or not errors <= set(REFUSING):
            return f"to be refused for {sorted(wanted.refusals)}; status {run.status}, errors {sorted(errors)}"
        return None
    if run.status != 0:
        return f"refused: status {run.status}, {sorted(errors)}"
    said = run.found_in_steps(path, ABOUT_TIME)
    if said != wanted.findings:
        return f"findings: wanted {sorted(wanted.findings)}, said {sorted(said)}"
    value, mine = json.loads(run.output), wanted.reckoning
    totals = [milliseconds(value["totals"][key]) for key in ("wet_min_s", "wet_max_s", "total_min_s", "total_max_s")]
    if totals != list(mine.totals()):
        return f"totals: wanted {mine.totals()}, said {totals}"
    return (first_difference("steps", step_rows(mine), said_step_rows(value))
            or first_difference("cues", cue_rows(mine), said_cue_rows(value)))


def clock(ms):
    """h:mm:ss, rounded half up."""
    seconds = (abs(ms) + 500) // 1000 if ms >= 0 else -((ms + 500) // 1000)
    return f"{'-' if ms < 0 and seconds else ''}{seconds // 3600}:{seconds // 60 % 60:02}:{seconds % 60:02}"


def csv_difference(wanted, data):
    rows = []
    for row in read_back.csv_rows(data):
        until = row["until_s"]
        rows.append(tuple(row[key] for key in ("at", "since_pour", "since_start", "kind", "step_name")) + (
            *(Fraction(Decimal(row[key])) * 1000 for key in ("at_s", "since_pour_s", "since_start_s")),
            Fraction(Decimal(until)) * 1000 if until else None, row["until"], row["count"], row["rings"],
            row["assumes_earliest_end"]))
    mine = []
    for at, name, kind, until, count, rings, assumes, since_pour, since_start in cue_rows(wanted):
        mine.append((clock(at), clock(since_pour), clock(since_start), kind, name, at, since_pour, since_start, until,
                     "" if until is None else clock(until), "" if count is None else str(count),
                     "yes" if rings else "no", "yes" if assumes else "no"))
    return first_difference("csv", mine, rows)


def vtt_difference(wanted, data):
    """Each caption begins at an instant and lasts until the next, a second at least; the last one
    five."""
    mine = [(cue.at, wanted.steps[cue.step - 1].name) for cue in wanted.cues]
    instants = sorted({at for at, _ in mine})
    lasts = list(zip(instants, instants[1:]))
    captions = [(milliseconds(start), milliseconds(end)) for _, start, end, _ in read_back.vtt_captions(data)]
    return (first_difference("vtt", mine, [(milliseconds(at), name) for at, name, _ in read_back.read_vtt(data)])
            or first_difference("captions", [(at, max(next_at, at + 1000)) for at, next_at in lasts]
                                + [(instants[-1], instants[-1] + 5000)], captions))


def text_difference(wanted, data):
    """Cues stand under their step, one line each; two clocks, and a mark where it rings."""
    rows = [(run, since, mark == "*") for run, since, mark, _, _ in read_back.text_rows(data)]
    mine = [(clock(cue.at), clock(cue.at - wanted.moments[cue.step - 1].start), cue.rings) for cue in wanted.cues]
    return first_difference("text", mine, rows)


FORMS = {"csv": csv_difference, "vtt": vtt_difference, "text": text_difference}
