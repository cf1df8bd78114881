#!/usr/bin/env python3
"""Compares every unit of src/syntax/units.def with GNU units, to one part in 10^9.

Source: the table of definitions that comes with GNU units (`units --version` names it). Not told apart by it: a month of
keeping is thirty days by our own convention.
"""
# builds: plain

import os
import re
import shutil
import subprocess
import sys

ROOT = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
TABLE = os.path.join(ROOT, "src", "syntax", "units.def")
ROW = re.compile(r'^UNIT\((\w+), "([^"]*)", (\w+), (-?\d+), (-?\d+), "([^"]*)"\)$')
TOLERANCE = 1e-9

# The base unit of each quantity (src/model/quantity.h) in words of GNU units.
BASE = {
    "DURATION": "millisecond",
    "VOLUME": "1e-10 milliliter",
    "MASS": "nanogram",
    "LENGTH": "micrometer",
    "AREA": "1e-4 cm^2",
    "PERCENT": "1e-6 percent",
    "ENERGY": "joule / mole",
    "DIFFERENCE": "(1|9000) kelvin",
}

# Our units in words of GNU units; every row of the table must be here, and nothing else.
WORDS = {
    "celsius": "tempC", "fahrenheit": "tempF", "kelvin": "kelvin",
    "millisecond": "millisecond", "second": "second", "minute": "minute", "hour": "hour", "day": "day",
    "week": "week", "month": "30 day",
    "millilitre": "milliliter", "centilitre": "centiliter", "litre": "liter",
    "us_fluid_ounce": "usfloz", "us_pint": "uspint", "us_quart": "usquart", "us_gallon": "usgallon",
    "uk_fluid_ounce": "brfloz", "uk_pint": "brpint", "uk_quart": "brquart", "uk_gallon": "brgallon",
    "milligram": "milligram", "gram": "gram", "kilogram": "kilogram", "grain": "grain", "ounce": "ounce",
    "pound": "pound",
    "millimetre": "millimeter", "centimetre": "centimeter", "metre": "meter", "inch": "inch", "foot": "foot",
    "square_centimetre": "cm^2", "square_inch": "inch^2",
    "percent": "percent", "joule_per_mole": "joule / mole", "kilojoule_per_mole": "kilojoule / mole",
}
FIGURES = ["-22", "0", "32", "68", "75", "80", "95", "100.4", "102", "110", "212"]


def convert(have, want):
    """What GNU units makes of `have` in `want`."""
    done = subprocess.run(["units", "-t", "-o", "%.17g", have, want], capture_output=True, text=True, check=False)
    try:
        return float(done.stdout.strip())
    except ValueError:
        return None


def is_close(ours, theirs):
    return theirs is not None and abs(ours - theirs) <= TOLERANCE * max(1.0, abs(ours))


def compare_temperature(unit, factor, offset):
    """A temperature has a zero point of its own, and its differences have none."""
    for figure in FIGURES:
        ours = (float(figure) * factor + offset) / 9000
        if not is_close(ours, convert(f"{WORDS[unit]}({figure})", "tempC")):
            return f"{figure} degrees are {ours} °C here, {convert(f'{WORDS[unit]}({figure})', 'tempC')} there"
    theirs = convert("deg" + WORDS[unit][-1], "(1|9000) kelvin")
    return None if is_close(factor, theirs) else f"a degree is {factor} here, {theirs} there"


def compare(unit, quantity, factor, offset):
    """None, or in what the two differ."""
    if quantity == "TEMPERATURE":
        return compare_temperature(unit, factor, offset)
    if offset != 0:
        return "only a temperature has an offset"
    theirs = convert(WORDS[unit], BASE[quantity])
    return None if is_close(factor, theirs) else f"{factor} here, {theirs} there"


def main():
    if not shutil.which("units"):
        print("skip - units against GNU units (units is missing)")
        return 77
    with open(TABLE, encoding="utf-8") as table:
        rows = [ROW.match(line) for line in table.read().splitlines() if line.startswith("UNIT(")]
    if None in rows or {row[1] for row in rows} != set(WORDS):
        print("not ok - this script knows every row of the table and no other")
        return 1
    failed = 0
    for row in rows:
        unit, _, quantity, factor, offset, _ = row.groups()
        problem = compare(unit, quantity, int(factor), int(offset))
        print(f"not ok - {unit}: {problem}" if problem else f"ok - {unit}")
        failed += problem is not None
    return 1 if failed else 0


sys.exit(main())
