#!/usr/bin/env python3
# timeout: 600
"""Every forecast of every example, and of cases of its own, is read by parsers that others wrote: Python's csv, papaparse,
Python's json, ajv against docs/schemas/forecast.schema.json, Python's and libxml's XML. All four formats hold the same
figures, and those agree with one another: the mean with the curve, the end with its last point."""

import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as tree

TESTS = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
sys.path[:0] = [TESTS, os.path.join(TESTS, "cues")]

import read_back  # noqa: E402
from conformance import node, words_of  # noqa: E402
from harness import ROOT, check, end, read, run, skip  # noqa: E402

SCHEMA = os.path.join(ROOT, "docs", "schemas", "forecast.schema.json")
FORMATS = ("text", "csv", "json", "svg")
SVG = "{http://www.w3.org/2000/svg}"
BENCH = os.path.join("tests", "outputs", "bench.wet")
# Shape of a row of the table of the text format: number, name, time, poured, mixed, half, end, mean, window.
TEXT_ROW = re.compile(r"^ *(\d+)\. (\S*) +(-|[\d:.]+) +(-|[\d.]+) +(-|[\d.]+) +(-|[\d.]+) +(-|[\d.]+) +(-|[\d.]+)(?:  (.*))?$")
UNTESTED = """wetside 1
tank small {{ holds 1 L; takes 4 x 135; fill 8 s; drain 8 s {cools} }}
solution soup {{ role developer; one-shot; dilute 1+4; hazards none; waste developer }}
solution hypo {{ role fix; dilute 1+4; reuse; hazards none; waste silver }}
process film {{
  develops black-and-white-negative
  tank small
  {room}
  step develop in soup at 20 ± 0.5 °C for 8:00 {{ {rule} agitate first 30 s, then 10 s every 1:00 }}
  step fix in hypo at 20 ± 2 °C for at least 5:00 {{ agitate first 30 s, then 10 s every 1:00 }}
  step wash in running water at 20 ± 2 °C for at least 10:00
}}
"""
COOLS = "; cools 20.0 °C to 20.2 °C within 10:00 in a room at 22 °C"


def cases():
    """(name, arguments, standard input) of each run."""
    found = [(f"{process} of {path}", ["--process", process, path], b"") for path, process in read_back.example_processes()]
    found += [(f"{process} of {path} at 12 °C", ["--process", process, "--room", "12C", path], b"")
              for path, process in read_back.example_processes() if "black-and-white" in process]
    found.append(("bench", [BENCH], b""))
    found.append(("fractions", [read_back.FRACTIONS[0]], b""))
    for name, fields, options in (
            ("no test", {"cools": ""}, []),
            ("no room", {}, []),
            ("flat", {"room": "room 20 °C", "rule": "coefficient 9 % per K;"}, []),
            ("compensated", {"rule": "time { 18 °C 9:30, 20 °C 8:00, 24 °C 5:30 };"}, ["--at", "develop=22C"]),
            ("beyond the table", {"rule": "time { 19.9 °C 8:05, 20.1 °C 7:55 };", "room": "room 10 °C"}, [])):
        text = UNTESTED.format(**{"cools": COOLS, "room": "", "rule": "", **fields})
        found.append((name, [*options, "-"], text.encode()))
    return found


def make(form, arguments, stdin):
    done = run("forecast", "--to", form, *arguments, stdin=stdin)
    told = b"[drift-leaves-window]" in done.stderr  # an error that does not stand in a forecast's way
    return done.stdout if done.returncode == 0 or (done.returncode == 1 and told) else None


# ---- one format ----

def check_json(name, data, value):
    check(data.endswith(b"}\n"), f"{name}: json ends in a line feed")
    for step in value["steps"]:
        forecast = step["forecast"]
        check((forecast is not None) == (step["state"] == "made"), f"{name}: {step['name']} has a forecast where it is made")
        if forecast:
            check_course(f"{name}: {step['name']}", step, forecast)


def check_course(name, step, forecast):
    """The figures of a step agree with one another."""
    curve = forecast["curve"]
    times = [point["since_start_s"] for point in curve]
    temperatures = [point["temperature_c"] for point in curve]
    fits = times == sorted(set(times)) and times[0] == 0 and times[-1] == step["time"]["low_s"] and len(curve) <= 25
    check(fits, f"{name}: the curve goes from start to end", times)
    off = [point for point in curve if abs(point["at_s"] - step["start_s"] - point["since_start_s"]) > 1e-6]
    check(not off, f"{name}: both times of a point agree", off[:2])
    check(temperatures[0] == forecast["start_c"] and temperatures[-1] == forecast["end_c"], f"{name}: so do its ends")
    rising = [later - earlier for earlier, later in zip(temperatures, temperatures[1:])]
    check(all(step >= 0 for step in rising) or all(step <= 0 for step in rising), f"{name}: it goes one way")
    stretches = list(zip(zip(times, temperatures), zip(times[1:], temperatures[1:])))
    area = sum((t2 - t1) * (c1 + c2) / 2 for (t1, c1), (t2, c2) in stretches)
    check(abs(area / times[-1] - forecast["mean_c"]) <= 0.02, f"{name}: the mean is that of the curve", area / times[-1])
    window = step["window"]
    if window and window["form"] != "point" and forecast["fit"] in ("inside", "leaves", "mean-outside"):
        outside = [point for point in curve if not window["low_c"] - 0.006 <= point["temperature_c"] <= window["high_c"] + 0.006]
        said = forecast["outside"]
        wrong = [p for p in outside if not any(s["from_s"] - 1 <= p["since_start_s"] <= s["to_s"] + 1 for s in said)]
        check(not wrong, f"{name}: it is said when it is outside", wrong[:3])
    effective = forecast["effective"]
    if effective:
        share = effective["effective_s"] / effective["wanted_s"] * 100
        check(abs(share - effective["percent"]) <= 50 / effective["wanted_s"] + 0.05, f"{name}: its per cent", effective)
        check(effective["strays"] == (abs(effective["percent"] - 100) > 2.0) or abs(abs(effective["percent"] - 100) - 2) < 0.06,
              f"{name}: it strays beyond 2 %", effective)


def check_csv(name, data, value):
    rows = read_back.csv_rows(data)
    bare = data.replace(b"\r\n", b"")
    check(rows and data.endswith(b"\r\n") and b"\r" not in bare and b"\n" not in bare, f"{name}: csv lines end in CR LF")
    check(all(None not in row and None not in row.values() for row in rows), f"{name}: csv rows are of one width")
    wanted = []
    for step in value["steps"]:
        forecast = step["forecast"]
        points = forecast["curve"] if forecast else [{"at_s": step["start_s"], "since_start_s": 0, "temperature_c": None}]
        effective, exact = (forecast or {}).get("effective") or {}, (forecast or {}).get("exact") or {}
        for point in points:
            wanted.append({
                "step": step["number"], "step_name": step["name"], "role": step["role"], "bath": step["bath"], **point,
                "state": step["state"], "fit": (forecast or {}).get("fit"), "pour_c": step["pour_c"],
                "mean_c": (forecast or {}).get("mean_c"), "effective_s": effective.get("effective_s"),
                "effective_percent": effective.get("percent"), "exact_pour_c": exact.get("pour_c"),
                "exact_pour": exact.get("pour_is"), "water_bath_c": exact.get("water_bath_c"),
                "process": value["process"]["name"], "fingerprint": value["fingerprint"]})
    if not check(len(rows) == len(wanted), f"{name}: csv has a row for each point", f"{len(rows)}, {len(wanted)}"):
        return
    wrong = []
    for row, want in zip(rows, wanted):
        for key, figure in want.items():
            got = row[key]
            same = got == "" if figure is None else float(got) == figure if isinstance(figure, (int, float)) else got == figure
            if not same:
                wrong.append(f"{key}: {got!r}, in json {figure!r}")
    check(not wrong, f"{name}: csv and json hold the same", wrong[:3])


def two_decimals(figure):
    return "-" if figure is None else f"{figure:.2f}"


def check_text(name, data, value):
    text = data.decode("utf-8")
    long = [line for line in text.split("\n") if len(line) > 80]
    check(not long, f"{name}: text keeps within 80 columns", long[:1])
    rows = {}
    for line in text.split("\n"):
        match = TEXT_ROW.match(line)
        if match and int(match[1]) not in rows:
            rows[int(match[1])] = match.groups()
    wrong = []
    for step in value["steps"]:
        forecast = step["forecast"] or {}
        wanted = [two_decimals(step["pour_c"])] + [two_decimals(forecast.get(key))
                                                   for key in ("start_c", "mid_c", "end_c", "mean_c")]
        got = list(rows.get(step["number"], [""] * 9)[3:8])
        if got != wanted:
            wrong.append(f"{step['name']}: {got}, in json {wanted}")
    check(not wrong, f"{name}: text and json hold the same", "\n".join(wrong[:3]) + "\n" + text)
    plain = " ".join(text.replace("\u00a0", " ").split())
    # In the examples no-2 reads 0.2 K too high; elsewhere no thermometer is said to be wrong.
    check(("True temperatures, not as no-2 shows them, in °C" in plain) == ("of examples" in name),
          f"{name}: the table says whether a thermometer shows its figures", plain[:400])
    missing = [remark for remark in value["remarks"] if remark not in plain]
    for step in value["steps"]:
        forecast = step["forecast"]
        if forecast and (forecast["wants_remedy"] or forecast["effective"]):
            missing += [remark for remark in step["remarks"] if remark not in plain]
    check(not missing, f"{name}: text says what json says", "\n".join(missing[:3]))


def check_svg(name, data, value):
    try:
        picture = tree.fromstring(data)
    except tree.ParseError as problem:
        check(False, f"{name}: svg is well-formed", problem)
        return
    ids = {element.get("id"): element for element in picture.iter() if element.get("id")}
    check(picture.tag == SVG + "svg" and picture.get("role") == "img", f"{name}: svg is an image by role")
    name_of, about = ids.get(picture.get("aria-labelledby")), ids.get(picture.get("aria-describedby"))
    said = name_of is not None and about is not None and name_of.tag == SVG + "title" and about.tag == SVG + "desc"
    check(said and name_of.text and about.text, f"{name}: svg has a name and a description")
    check(all(key.startswith("forecast-") for key in ids), f"{name}: its ids are its own", list(ids))
    odd = [element.tag for element in picture.iter() if element.tag.removeprefix(SVG) not in
           ("svg", "title", "desc", "defs", "pattern", "line", "rect", "text", "polyline", "circle")]
    attributes = {key for element in picture.iter() for key in element.attrib}
    check(not odd and not [key for key in attributes if key.startswith("on") or key in ("style", "href")],
          f"{name}: nothing active, nothing fetched", odd + sorted(attributes))
    colours = {element.get(key) for element in picture.iter() for key in ("fill", "stroke")}
    check(colours <= {None, "none", "black", "white", "url(#forecast-hatch)"}, f"{name}: black on white", colours)
    check_plane(name, picture, value)


def check_plane(name, picture, value):
    """Everything lies on the drawing; each step with a forecast has a curve, and what is outside a thick one."""
    _, _, width, height = map(float, picture.get("viewBox").split())
    off = []
    for element in picture.iter():
        for key in ("x", "x1", "x2", "cx", "y", "y1", "y2", "cy"):
            figure = float(element.get(key, 0))
            if not 0 <= figure <= (width if "x" in key else height):
                off.append(f"{element.tag} {key}={figure}")
        for point in element.get("points", "").split():
            across, up = map(float, point.split(","))
            if not (0 <= across <= width and 64 - 0.01 <= up <= 372.01):
                off.append(point)
    check(not off, f"{name}: nothing lies off the drawing", off[:3])
    made = [step["forecast"] for step in value["steps"] if step["forecast"]]
    lines = [element.get("stroke-width") for element in picture.iter(SVG + "polyline")]
    check(lines.count("2") == len(made) and lines.count("5.5") == sum(len(f["outside"]) for f in made),
          f"{name}: a curve for each forecast, thick where it is outside", lines)
    texts = {element.text for element in picture.iter(SVG + "text")}
    missing = [two_decimals(f[key]) for f in made for key in ("start_c", "end_c", "mean_c") if two_decimals(f[key]) not in texts]
    check(not missing, f"{name}: the figures are written out too", missing[:3])


# ---- all of them ----

def check_words():
    schema = json.loads(read("docs/schemas/forecast.schema.json"))["$defs"]
    words = re.findall(r'^FORECAST\(\w+, "([^"]+)"', read("src/compute/forecasts.def"), re.M)
    check(schema["step"]["properties"]["state"]["enum"] == [word for word in words if word != "no-bath"],
          "the schema knows the outcomes of a forecast", words)
    check(schema["forecast"]["properties"]["fit"]["enum"] == words_of("src/compute/forecast_fits.def", "FORECAST_FIT"),
          "the schema knows how it fits its window")
    exact = schema["forecast"]["properties"]["exact"]["properties"]
    check(exact["pour_is"]["enum"] == words_of("src/compute/forecast_pours.def", "FORECAST_POUR"),
          "the schema knows how the exact pour can be had")
    check(schema["step"]["properties"]["role"]["enum"] == words_of("src/model/roles.def", "ROLE"), "the schema knows the roles")


def check_what_is_told(made):
    """The cases give what they are there for."""
    def step_of(name, number=0):
        return made[name]["steps"][number]

    flat = [step["forecast"] for step in made["flat"]["steps"] if step["forecast"]]
    check(len(flat) == 2 and all({point["temperature_c"] for point in f["curve"]} == {20} for f in flat), "flat: it is flat")
    check(flat[0]["effective"]["percent"] == 100 and flat[0]["exact"]["pour_c"] == 20, "flat: it is exact", flat[0])
    told = " ".join(made["no test"]["remarks"])
    check(step_of("no test")["state"] == "no-heat-loss-test" and "cools A to B within 8:00" in told and "20.0 °C" in told,
          "no test: it says what to measure", told)
    compensated = step_of("compensated")
    check(compensated["pour_c"] == 22 and compensated["forecast"]["fit"] == "compensated" and
          compensated["time"]["low_s"] == 398 and compensated["forecast"]["effective"]["percent"] == 100,
          "compensated: the measured pour is the start, its time fits", compensated)
    beyond = step_of("beyond the table")["forecast"]
    check(beyond["effective"] is None and beyond["exact"]["pour_is"] == "none" and beyond["exact"]["water_bath_c"] == 20,
          "beyond the table: nothing is guessed, a water bath mends it", beyond)
    bench = {step["name"]: step for step in made["bench"]["steps"]}
    check("dry" not in bench and bench["wash"]["state"] == "running-water" and bench["stabilise"]["state"] == "own-vessel",
          "bench: what is not forecast")
    fits = {name: step["forecast"]["fit"] for name, step in bench.items() if step["forecast"]}
    check(fits == {"pre-wet": "mean-outside", "first-develop": "mean-outside", "reverse": "inside",
                   "colour-develop": "inside", "bleach-fix": "inside"}, "bench: how each fits", fits)


def check_finding():
    """drift-leaves-window and the forecast give the same figures, and the forecast is written beside that error."""
    arguments = ["--process", "black-and-white", "--room", "10C", os.path.join("examples", "black-and-white.wet")]
    done = run("forecast", "--to", "json", *arguments)
    message = read_back.plain(done.stderr.decode())
    step = json.loads(done.stdout)["steps"][0] if done.stdout else None
    if not check(done.returncode == 1 and step and ": error: " in message, "a cold room: status 1, and the forecast", message):
        return
    forecast = step["forecast"]
    said = re.search(r"goes from ([\d.]+) °C to ([\d.]+) °C .*mean ([\d.]+) °C", message)
    same = said and [float(figure) for figure in said.groups()] == [forecast[key] for key in ("start_c", "end_c", "mean_c")]
    check(same, "a cold room: the finding has the same figures", message)
    pour = re.search(r"= pour at ([\d.]+) °C", message)
    check(pour and float(pour[1]) == forecast["exact"]["pour_c"], "a cold room: and the same remedy", message)
    for product in ("cues", "sheet", "timer"):
        done = run(product, *arguments)
        check(done.returncode == 1 and done.stdout == b"", f"a cold room: no {product} is written", done.stderr.decode())
    done = run("forecast", "--deny-warnings", "--process", "black-and-white", "--room", "17C", arguments[-1])
    check(done.returncode == 1 and done.stdout == b"", "a warning that is denied stands in the way", done.stderr.decode())
    done = run("forecast", "--room", "10C", arguments[-1])
    check(done.returncode != 0 and done.stdout == b"", "of several processes none is taken at random", done.stderr.decode())


def check_docs():
    """docs/outputs.md shows what comes out, names the columns of csv and the words in them."""
    docs = read("docs/outputs.md")
    shown = re.search(r"^    \$ (wetside forecast .*)\n((?:    .*\n|\n)+)", docs, re.M)
    printed = iter(run(*shown[1].split()[1:]).stdout.decode().splitlines())
    missing = [line for line in shown[2].rstrip("\n").split("\n") if line[4:] not in ("", "…") and line[4:] not in printed]
    check(not missing, "docs/outputs.md shows what comes out", missing[:2])
    table = docs[docs.index("## Forecast"):docs.index("## Findings")]
    cells = [cell for row in re.findall(r"^\| (`[^|]*)\|", table, re.M) for cell in re.findall(r"`([^`]+)`", row)]
    header = make("csv", [BENCH], b"").split(b"\r\n")[0].decode().split(",")
    check(cells == header, "docs/outputs.md names the columns of csv", f"{cells}\n{header}")
    words = [word for path, macro in (("forecasts", "FORECAST"), ("forecast_fits", "FORECAST_FIT"),
                                      ("forecast_pours", "FORECAST_POUR"))
             for word in re.findall(rf'^{macro}\(\w+, "([^"]+)"', read(f"src/compute/{path}.def"), re.M)]
    unknown = set(words) - {"no-bath"} - set(re.findall(r"`([^`\n]+)`", table))
    check(not unknown, "docs/outputs.md names the words in them", unknown)


def main():
    if not shutil.which("node"):
        print("node is not installed")
        sys.exit(77)
    check_words()
    made, json_paths, csv_paths = {}, [], []
    with tempfile.TemporaryDirectory() as folder:
        for number, (name, arguments, stdin) in enumerate(cases()):
            products = {form: make(form, arguments, stdin) for form in FORMATS}
            if not check(all(products.values()), f"{name}: every format is made", [f for f in FORMATS if not products[f]]):
                continue
            value = made[name] = json.loads(products["json"])
            check_json(name, products["json"], value)
            check_csv(name, products["csv"], value)
            check_text(name, products["text"], value)
            check_svg(name, products["svg"], value)
            for form, paths in (("json", json_paths), ("csv", csv_paths)):
                paths.append(os.path.join(folder, f"{number}.{form}"))
                with open(paths[-1], "wb") as file:
                    file.write(products[form])
            if shutil.which("xmllint"):
                done = subprocess.run(["xmllint", "--noout", "-"], input=products["svg"], stdout=subprocess.PIPE,
                                      stderr=subprocess.STDOUT, check=False)
                check(done.returncode == 0, f"{name}: libxml reads the svg", done.stdout.decode())
        for name, errors in zip(made, node("schema", SCHEMA, *json_paths) or []):
            check(errors == [], f"{name}: fits the schema, no key besides", json.dumps(errors[:5], indent=1))
        for name, seen, path in zip(made, node("csv", *csv_paths) or [], csv_paths):
            with open(path, "rb") as file:
                rows = read_back.csv_rows(file.read())
            check(seen["errors"] == [] and seen["rows"] == rows, f"{name}: papaparse reads the same rows", seen["errors"][:3])
    if not shutil.which("xmllint"):
        skip("xmllint", "not installed")
    check_what_is_told(made)
    check_finding()
    check_docs()
    end()


if __name__ == "__main__":
    main()
