#!/usr/bin/env python3
"""Page, Markdown and data of the mixing card say the same; texts from a recipe are inert in all; the same recipe gives the
same bytes wherever it is made. The Markdown is read by cmark, the reference implementation of CommonMark."""
# timeout: 600

import json
import os
import random
import re
import shutil
import tempfile

import cards
import sheets
import text as sheet_text
from harness import check, end, run

sheets.BLOCKS.update({"header", "footer"})
sheet_text.ELEMENTS.update({"header", "footer", "h3"})
sheet_text.MARKDOWN_ELEMENTS.add("h3")


# ---- figures as the card prints them, from the data ----

def decimals(value, most):
    shown = f"{value:.{most}f}"
    return shown.rstrip("0").rstrip(".") if "." in shown else shown


def volume(value):
    return f"{decimals(value / 1000, 3)} L" if value >= 1000 else f"{decimals(value, 2)} mL"


def mass(value):
    return f"{decimals(value, 6)} g"


def celsius(value):
    return f"{value:.1f} °C" if round(value, 1) == value else f"{value:.2f} °C"


def clock(seconds):
    if seconds < 60:
        return f"{seconds:g} s"
    return f"{seconds // 60}:{seconds % 60:02}" if seconds < 3600 else f"{seconds // 3600} h"


def figures_of(act):
    """What must stand in the line of an act, in this order."""
    wanted = []
    if "volume_ml" in act:
        wanted.append(volume(act["volume_ml"]))
    if "mark_ml" in act:
        wanted.append(volume(act["mark_ml"]))
    if "mass_g" in act:
        wanted.append(mass(act["mass_g"]))
    if act.get("packets"):
        wanted.append(f"{act['packets']:g} ×")
    if act.get("avoirdupois"):
        weight = act["avoirdupois"]
        parts = [f"{weight['ounces']} oz"] if weight["ounces"] else []
        parts += [f"{weight['grains']:g} gr"] if weight["grains"] or not parts else []
        wanted.append(" ".join(parts))
    if act["act"] == "water" and act["temperature"] and act["window"]["form"] != "range":
        wanted.append(celsius(act["temperature"]["read_c"]))
    if act.get("taps") and act["taps"]["temperature"] == "reached":
        wanted += [f"hot tap {volume(act['taps']['hot_ml'])}", f"cold tap {volume(act['taps']['cold_ml'])}"]
    if act.get("ready_with_water_at"):
        wanted.append(celsius(act["ready_with_water_at"]["read_c"]))
    for other in act.get("alternatives", []):
        if "chemical" in other or "percent_solution" in other:
            wanted.append(volume(other["volume_ml"]))
    if "time_s" in act:
        wanted.append(clock(act["time_s"]))
    if act.get("after"):
        wanted.append(celsius(act["after"]["read_c"]))
    return wanted


def holds_in_order(line, wanted):
    place = 0
    for figure in wanted:
        found = line.find(figure, place)
        if found < 0:
            return False
        place = found + len(figure)
    return True


def blocks_of(markdown):
    """The text of each bath, by its number in the order."""
    plain = markdown.replace("\u00a0", " ").replace("**", "")
    parts = re.split(r"^## No\\?\. (\d+): ", plain, flags=re.M)
    return {int(number): part for number, part in zip(parts[1::2], parts[2::2])}


def check_bath(name, bath, block):
    acts = [act for stage in bath["stages"] for mix in stage["mixes"] for act in mix["acts"]]
    lines = [line for line in re.findall(r"^  - ((?:☐ )+.*)$", block, re.M)
             if not re.match(r"(?:☐ )+(?:Blend:|Cool |Warm |Measure:|Over:|Concentrate over:)", line)]
    check(len(lines) == len(acts), f"{name}: an act a line", f"{len(acts)}\n{block}")
    wrong = [(figures_of(act), line) for act, line in zip(acts, lines) if not holds_in_order(line, figures_of(act))]
    check(not wrong, f"{name}: the figures of the acts are those of the data", wrong[:3])
    wanted = [f"Make {volume(bath['makes_ml'])}"]
    if bath["over_ml"] > 0:
        wanted.append(f"Over: {volume(bath['over_ml'])}")
    temperature = bath["temperature"]
    if temperature and temperature["then"] != "ready":
        wanted.append(f"{temperature['then'].capitalize()} from {celsius(temperature['from']['read_c'])}")
        wanted.append(f"to {celsius(temperature['to']['read_c'])}")
        if temperature.get("time_s"):
            hours, minutes = divmod(temperature["time_s"] // 60, 60)
            wanted.append(" ".join([f"{hours} h"] * bool(hours) + [f"{minutes} min"] * bool(minutes)))
        if temperature.get("ice_g"):
            wanted.append(f"{mass(temperature['ice_g'])} of ice")
    for life in bath["keeps"].values():
        if life and life["until"] and life is not bath["keeps"]["in_tank"]:
            wanted.append(f"to {life['until']}")
    wanted += [hazard["code"] + " " + hazard["text"] for hazard in bath["hazards"]] + bath["cautions"]
    missing = [figure for figure in wanted if figure not in block]
    check(not missing, f"{name}: so is the rest", f"{missing}\n{block}")


def check_card(name, path, process, options):
    html, markdown, value = (cards.emit(form, path, process, options) for form in ("html", "markdown", "json"))
    sheet_text.compare(name, html, markdown)
    value, blocks = json.loads(value), blocks_of(markdown)
    check(sorted(blocks) == [bath["turn"] for bath in value["baths"]], f"{name}: a block for every bath", sorted(blocks))
    for bath in value["baths"]:
        check_bath(f"{name}: {bath['name']}", bath, blocks.get(bath["turn"], ""))


# ---- hostile texts ----

def check_hostile(folder):
    dice = random.Random(3)
    pieces = list("*_`[]()<>!#&;\\~^=+-.:/\"'$%@{}|1a ") + ["**", "![", "](", "<a ", "</", "&#3", "1.", "\n", "é", "水", "☐"]
    payloads = dict(sheets.PAYLOADS)
    for number in range(12):
        payloads[f"mixture {number}"] = "x" + "".join(dice.choice(pieces) for _ in range(dice.randint(1, 25)))
    for number, (name, payload) in enumerate(payloads.items()):
        path = cards.hostile(folder, number, payload)
        html, markdown, value = (cards.emit(form, path) for form in ("html", "markdown", "json"))
        page, rendered = sheet_text.compare(f"hostile {name}", html, markdown)
        sheet_text.check_inert(f"hostile {name}", html, page, rendered, payload)
        title = json.loads(value)["baths"][0]["title"]
        check(title == payload, f"hostile {name}: the data gives the text back as it is", ascii(title))
        check(not re.search("[\x00-\x09\x0b-\x1f\x7f-\x9f\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff]", value + markdown),
              f"hostile {name}: no control or hidden character stands in the data or the Markdown")


# ---- bytes ----

def check_same_bytes(folder):
    path, process = sheets.processes()[0]
    options = cards.CONDITIONS["bath"]
    for name in os.listdir("examples"):
        shutil.copy(os.path.join("examples", name), folder)
    for form in ("html", "markdown", "json"):
        usual = cards.emit(form, path, process, options)
        for environment in ({"TZ": "Asia/Tokyo"}, {"LC_ALL": "de_DE.UTF-8"}, {"LC_ALL": "tr_TR.UTF-8", "TZ": "UTC"},
                            {"SOURCE_DATE_EPOCH": "1", "HOME": "/nonexistent"}):
            done = run("mix", "--to", form, "--process", process, *options, os.path.basename(path), cwd=folder,
                       environment=environment)
            check(done.stdout.decode("utf-8") == usual, f"{form} is the same under {environment}", done.stderr.decode())


def main():
    sheets.need("cmark")
    for path, process in sheets.processes():
        for condition, options in cards.CONDITIONS.items():
            check_card(f"{process}, {condition}", path, process, options)
    with tempfile.TemporaryDirectory() as folder:
        check_hostile(folder)
        check_same_bytes(folder)
    end()


if __name__ == "__main__":
    main()
