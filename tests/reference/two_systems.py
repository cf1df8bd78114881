#!/usr/bin/env python3
"""Published formulas with a metric and an avoirdupois column: each column, mixed for the other's volume, gives the other
within the printed rounding, row by row. Sources: each row of formulas_two_systems.tsv names its own; how far the printed
columns differ, and so what is allowed, is in formulas_two_systems_check.tsv. US and UK fluid ounces are kept apart."""

import csv
import json
import os
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
from harness import ROOT, check, end, run  # noqa: E402

GRAINS_PER_OUNCE = 437.5
HEAD = """wetside 1
tank jar {{ holds 1 L; takes 4 x 135; fill 5 s; drain 5 s }}
solution bath {{
  role monobath
  one-shot
  hazards none
  waste silver
  formula makes {} {{
{}    top up
  }}
}}
process formula {{
  develops black-and-white-negative
  tank jar
  step develop in bath at 20 °C for 6:00 {{ agitate first 30 s, then 5 s every 30 s }}
  step wash in running water at 20 °C for at least 20:00
}}
"""


def table(name):
    with open(os.path.join(ROOT, "tests", "reference", name), encoding="utf-8") as file:
        return list(csv.DictReader((line for line in file if not line.startswith("#")), delimiter="\t",
                                   quoting=csv.QUOTE_NONE))


def formulas():
    """Rows with a mass in both columns, by formula."""
    found = {}
    for row in table("formulas_two_systems.tsv"):
        if row["metric_unit"] == "g" and (row["avoir_oz"] or row["avoir_grains"]):
            found.setdefault(row["formula"], []).append(row)
    return found


def mixed(makes, amounts, volume):
    """The acts of the formula, mixed for a volume."""
    lines = "".join(f'    add "part {number}" {amount}\n' for number, amount in enumerate(amounts))
    done = run("mix", "--to", "json", "--avoirdupois", "--volume", volume, "-", stdin=HEAD.format(makes, lines).encode())
    if not check(done.returncode == 0, f"{makes} mixed for {volume}", done.stderr.decode()):
        end()
    acts = json.loads(done.stdout)["baths"][0]["stages"][0]["mixes"][0]["acts"]
    return [act for act in acts if act["act"] == "add"]


def grains(row):
    return float(row["avoir_oz"] or 0) * GRAINS_PER_OUNCE + float(row["avoir_grains"] or 0)


def judge(name, rows, allowed):
    system = rows[0]["gallon_system"]
    metric, avoirdupois = f"{rows[0]['metric_volume_ml']} mL", f"{rows[0]['avoir_volume_fl_oz']} {system} fl oz"
    litres = float(rows[0]["metric_volume_ml"]) / 1000
    forth = mixed(metric, [f"{row['metric_amount']} g" for row in rows], avoirdupois)
    back = mixed(avoirdupois, [f"{grains(row):g} gr" for row in rows], metric)
    compared = 0
    for row, there, here in zip(rows, forth, back):
        what = f"{name}, {row['ingredient']} ({system}, {row['status']})"
        per_litre, percent = allowed[name, row["ingredient"]]
        weight = there["avoirdupois"]["ounces"] * GRAINS_PER_OUNCE + there["avoirdupois"]["grains"]
        if "WRONG" in row["note"]:
            check(abs(weight / grains(row) - 1) > 0.5, f"{what}: the printed ounces are an error", weight)
            continue
        margin = weight * (abs(percent) + 0.05) / 100 + 0.5
        check(abs(weight - grains(row)) <= margin, f"{what}: grains from grams", f"{weight} {grains(row)} ± {margin}")
        rounding = 0.0055 if here["mass_g"] < 100 else 0.055
        check(abs(here["mass_g"] - per_litre * litres) <= rounding, f"{what}: grams from ounces and grains",
              f"{here['mass_g']} {per_litre * litres}")
        margin = float(row["metric_amount"]) * (abs(percent) + 0.05) / 100 + rounding
        check(abs(here["mass_g"] - float(row["metric_amount"])) <= margin, f"{what}: and they are those printed",
              f"{here['mass_g']} {row['metric_amount']} ± {margin}")
        compared += 1
    return compared


def main():
    allowed = {(row["formula"], row["ingredient"]): (float(row["g_per_l_avoirdupois"]), float(row["difference_percent"]))
               for row in table("formulas_two_systems_check.tsv")}
    counts = {name: judge(name, rows, allowed) for name, rows in formulas().items()}
    systems = {row["gallon_system"] for rows in formulas().values() for row in rows}
    check(len([count for count in counts.values() if count >= 2]) >= 8 and sum(counts.values()) >= 38 and
          systems == {"US", "UK"}, "formulas and rows compared", counts)
    end()


if __name__ == "__main__":
    main()
