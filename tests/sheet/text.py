#!/usr/bin/env python3
# lasts: 15
"""The two renderings of the sheet say the same; what the recipe declares and the timeline holds is in them; texts from a
recipe are inert in both; the same recipe gives the same bytes wherever and whenever it is made.

The Markdown is read by cmark, the reference implementation of CommonMark, in its --unsafe mode: what would be raw HTML in
it stays raw HTML and is found."""

import difflib
import json
import os
import random
import re
import shutil
import tempfile

import sheets
from harness import check, end, read, run

ELEMENTS = {"html", "head", "meta", "title", "style", "body", "main", "div", "section", "article", "h1", "h2", "p", "ul",
            "li", "hr", "b", "strong", "em", "code", "span", "a", "svg", "line", "rect", "circle", "text"}
MARKDOWN_ELEMENTS = {"h1", "h2", "p", "ul", "li", "hr", "strong", "em", "code", "a"}
ATTRIBUTES = {"lang", "charset", "http-equiv", "content", "name", "class", "href", "role", "aria-label", "width", "height",
              "x", "y", "x1", "x2", "y1", "y2", "cx", "cy", "r"}
DIPS = ("stabiliser", "final-rinse", "wetting-agent")  # in a vessel of their own: nothing drains
CAUTIONS = ("Gloves, eye protection, ventilation.", "Acid into water, never water into acid.",
            "Never let household bleach (sodium hypochlorite) near any photographic bath.",
            "Never pour one spent bath into another.", "licensed waste handler")
# UN GHS, Annex 3; EUH: Regulation (EC) 1272/2008, Annex II.
STATEMENTS = {"H317": "May cause an allergic skin reaction", "H319": "Causes serious eye irritation",
              "H302": "Harmful if swallowed", "EUH031": "Contact with acids liberates toxic gas"}


def renderings(path, process=None, options=()):
    return (sheets.emit("sheet", "html", path, process, options), sheets.emit("sheet", "markdown", path, process, options))


def compare(name, html, markdown):
    """The page's text against the text of the Markdown."""
    page, rendered = sheets.Page(html), sheets.Page(sheets.cmark(markdown, "--unsafe"))
    one, other = sheets.words(page.text), sheets.words(rendered.text)
    check(one == other, f"{name}: Markdown through cmark has the text of the page",
          lambda: "\n".join(difflib.unified_diff(one, other, "html", "markdown", lineterm="", n=2)))
    return page, rendered


def seconds_of(clock):
    seconds = 0
    for part in clock.split(":"):
        seconds = seconds * 60 + int(part)
    return seconds


def clock(seconds):
    whole = int((seconds * 1000 + 500) // 1000)
    hours, minutes = divmod(whole // 60, 60)
    return f"{hours}:{minutes:02}:{whole % 60:02}" if hours else f"{minutes}:{whole % 60:02}"


def steps_of(markdown):
    """The text of each step, by number."""
    parts = re.split(r"^## (\d+) ", markdown.replace("\u00a0", " "), flags=re.M)
    return {int(number): part.split("\n## ")[0] for number, part in zip(parts[1::2], parts[2::2])}


def check_instants(name, markdown, value):
    """Every pour, time, drain and light of the cue list is on the sheet."""
    blocks = steps_of(markdown)
    for step in value["steps"]:
        block, since = blocks.get(step["number"], ""), step["start_s"]
        wanted = [f"run {clock(step['pour_s'])} to {clock(step['end_s'])}"]
        if step["drain_s"] is not None and any(cue["kind"] == "drain" and cue["step"] == step["number"]
                                               for cue in value["cues"]):
            drain = clock(step["drain_s"] - since)
            act = "Lift out" if step["role"] in DIPS else "Drain"
            wanted.append(rf"{act} (?:at|from|between) {re.escape(drain)}\b")
        missing = [pattern for pattern in wanted if not re.search(pattern, block)]
        check(not missing, f"{name}: step {step['number']} has its instants", f"{missing}\n{block}")
        numbers = sorted(cue["count"] for cue in value["cues"]
                         if cue["kind"] == "agitation-start" and cue["step"] == step["number"])
        said = agitations(block)
        check(len(said) == len(numbers), f"{name}: step {step['number']} says {len(numbers)} agitations", said)
        starts = [int((cue["since_start_s"] * 1000 + 500) // 1000) for cue in value["cues"]
                  if cue["kind"] == "agitation-start" and cue["step"] == step["number"]]
        check(said == starts, f"{name}: step {step['number']} says when", f"{said}\n{starts}")


def agitations(block):
    """The starts of the agitations that a step's sentence names, in seconds."""
    said = re.search(r"Agitate (.*?)[.;] ", block + " ")
    starts = []
    for part in said.group(1).split(", then ") if said else []:
        even = re.fullmatch(r"(.+) every (.+), ([\d:]+) to ([\d:]+)", part)
        if even:
            every = even.group(2)
            every = int(every[:-2]) if every.endswith(" s") else seconds_of(every)
            starts += range(seconds_of(even.group(3)), seconds_of(even.group(4)) + 1, every)
        elif "–" in part:
            starts.append(seconds_of(part.split("–")[0]))
        else:
            starts += [seconds_of(one) for one in part.split(" at ")[1].split(", ")]
    return starts


def check_content(name, html, page, source):
    for caution in CAUTIONS:
        check(caution in page.text, f"{name}: cautions say “{caution}”")
    codes = set(re.findall(r"\b(?:EU)?H\d{3}[A-Za-z]*\b", source)) & set(STATEMENTS)
    told = [code for code in codes if code in page.text and STATEMENTS[code] not in page.text]
    check(not told, f"{name}: each hazard code has its statement", told)
    check(html.count("<h1") == 1, f"{name}: one title")
    steps = re.findall(r'<article class="step">.*?</article>', html, re.S)
    for number, step in enumerate(steps, 1):
        check(step.count('class="tick"') == 1 and "If it goes wrong:" in step and f">{number}</span>" in step,
              f"{name}: step {number} has its number, a box to tick and what to do if it goes wrong")
    strips, ladders = (len(re.findall(rf'<svg class="{kind}"[^>]* role="img" aria-label="[^"]+"', html)) for kind in
                       ("strip", "rungs"))
    check(strips >= len(steps) / 2 and ladders == 1 and strips + ladders == html.count("<svg"),
          f"{name}: strips and ladder are named pictures", (strips, ladders))


def check_ladder(name, markdown):
    """The ladder's list has the window of every step that has one, as the step itself says it."""
    told = dict(re.findall(r"^  - (\d+) [^:\n]*: (.*)$", markdown.partition("**Temperatures**")[2].partition("\n## ")[0], re.M))
    windows = {str(number): re.search(r"^  - \*\*([\d.]+ (?:to [\d.]+ )?°C)\*\*(.*)$", block.replace("\u00a0", " "), re.M)
               for number, block in steps_of(markdown).items()}
    said = {number: "".join(found.groups()) for number, found in windows.items() if found}
    told = {number: text.replace("\u00a0", " ") for number, text in told.items()}
    check(told == said and len(said) > 1, f"{name}: the ladder lists the windows", f"{told}\n{said}")


def check_inert(name, html, page, rendered, payload):
    check(set(page.elements) <= ELEMENTS, f"{name}: the page has no element of its own",
          sorted(set(page.elements) - ELEMENTS))
    foreign = {attribute for _, attribute, _ in page.attributes} - ATTRIBUTES
    check(not foreign, f"{name}: the page has no attribute of its own", sorted(foreign))
    check(html.count("<style>") == 1 and "<script" not in html, f"{name}: the page has one style and no script")
    check(set(rendered.elements) <= MARKDOWN_ELEMENTS, f"{name}: Markdown has no element of its own",
          sorted(set(rendered.elements) - MARKDOWN_ELEMENTS))
    links = [link for link in page.links + rendered.links if not re.match(r"(?:https?://|mailto:)\w", link)]
    check(not links, f"{name}: links lead to http, https and mailto only", links)
    hidden = re.search("[\x00-\x08\x0b-\x1f\x7f-\x9f\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff]", html)
    check(not hidden, f"{name}: the page holds no control or direction changer", hidden and ascii(hidden.group()))
    if name == "hostile good links":
        check(len(page.links) > 0, f"{name}: they are links", page.links)
    if re.fullmatch(r"[\w \n]+", payload):
        check(" ".join(payload.split()) in page.text, f"{name}: the text is there")


def check_hostile(folder):
    for name, payload in sheets.PAYLOADS.items():
        html, markdown = renderings(sheets.hostile(folder, name))
        page, rendered = compare(f"hostile {name}", html, markdown)
        check_inert(f"hostile {name}", html, page, rendered, payload)


def check_mixtures(folder):
    """Texts put together at random, always the same ones, from what means something to CommonMark and HTML."""
    dice = random.Random(20)
    pieces = list("*_`[]()<>!#&;\\~^=+-.:/\"'$%@{}|1a ") + ["**", "``", "![", "](", "<a ", "</", "&am", "&#3", "http://",
                                                            "mailto:x@y", "1.", "\n", "\u00a0", "é", "水", "---", "x "]
    for number in range(40):
        payload = "".join(dice.choice(pieces) for _ in range(dice.randint(1, 25)))
        path = os.path.join(folder, f"mixture-{number}.wet")
        with open(path, "w", encoding="utf-8", newline="") as file:
            file.write(sheets.HOSTILE.format(sheets.quoted("x" + payload)))
        html, markdown = renderings(path)
        page, rendered = compare(f"mixture {number} {payload!r}", html, markdown)
        check(set(page.elements) <= ELEMENTS and set(rendered.elements) <= MARKDOWN_ELEMENTS,
              f"mixture {number}: nothing but text comes of it", payload)


def check_same_bytes(folder):
    """Another folder, time zone, locale, umask: the same sheet."""
    path, process = sheets.processes()[0]
    for name in os.listdir("examples"):
        shutil.copy(os.path.join("examples", name), folder)
    usual = renderings(path, process)
    for environment in ({"TZ": "Asia/Tokyo"}, {"LC_ALL": "de_DE.UTF-8"}, {"LC_ALL": "tr_TR.UTF-8", "TZ": "UTC"},
                        {"SOURCE_DATE_EPOCH": "1", "HOME": "/nonexistent"}):
        for form, wanted in zip(sheets.FORMATS, usual):
            done = run("sheet", "--to", form, "--process", process, os.path.basename(path), cwd=folder,
                       environment=environment)
            check(done.stdout.decode("utf-8") == wanted, f"{form} is the same under {environment}")


def check_readings():
    """Outputs print the figure to read (the thermometer reads 0.2 K too high): 38.0 ± 0.3 °C is read as 38.2."""
    markdown = sheets.emit("sheet", "markdown", "examples/e-6-six-bath.wet", "e-6-six-bath").replace("\u00a0", " ")
    check("**38.2 °C**, not below 37.9, not above 38.5" in markdown, "a window is printed as the thermometer shows it")
    check("reads 0.2 K too high" in markdown, "and the sheet says so")
    markdown = sheets.emit("sheet", "markdown", "examples/colour-negative-bleach-fix.wet", "colour-negative")
    # Common practice, no source: 102 °F ± 0.25 °F and 95 to 105 °F, beside the reading in °C.
    for words in ("**39.1 °C**, not below 39.0, not above 39.2 (true 101.75 to 102.25 °F)",
                  "**35.2 to 40.7 °C** (true 95.0 to 105.0 °F)"):
        check(words in markdown.replace("\u00a0", " "), f"°F stands beside: {words}")


def times_of(block):
    """What a step's small table says, as (reading, time, whether it is the marked one)."""
    row = re.search(r"ime by reading:\*\* (.*?)\.$", block.replace("\u00a0", " "), re.M)
    return [(part.strip("*").rsplit(" ", 1)[0], part.strip("*").rsplit(" ", 1)[1], part.startswith("**"))
            for part in row.group(1).split(", ")] if row else []


def check_times_of(path, process, name, options=()):
    """Each row is the time that --at gives for its reading."""
    number = [line.split()[1] for line in re.findall(r"^  step .*", read(path), re.M)].index(name) + 1
    rows = times_of(steps_of(sheets.emit("sheet", "markdown", path, process, options))[number])
    said = f"{process}: {' '.join([name, *options])}"
    check(3 <= len(rows) <= 7 and sum(marked for *_, marked in rows) == 1, f"{said}: a table with one mark", rows)
    for reading, time, marked in rows:
        at = ("--at", f"{name}={reading}", *options)
        step = json.loads(sheets.emit("cues", "json", path, process, at))["steps"][number - 1]
        used = step["used_time"] or step["time"]
        check(used["low_s"] == seconds_of(time), f"{said}: {reading} takes {time}, as with --at", used)
        if marked:
            head = steps_of(sheets.emit("sheet", "markdown", path, process, options))[number]
            check(f"☐ **{time}**" in head and (f"- **{reading}**" in head or "°F" in reading),
                  f"{said}: the working point is marked", head)
    return rows


def check_times():
    rows = check_times_of("examples/black-and-white.wet", "black-and-white", "develop")
    # 8:00 and 5:30 as declared for 20 and 24 °C; 22 °C lies half way in the logarithm: sqrt(8:00 * 5:30) = 6:38.
    for row in (("20.2 °C", "8:00", True), ("22.2 °C", "6:38", False), ("24.2 °C", "5:30", False)):
        check(row in rows, f"the small table has {row}", rows)
    check_times_of("examples/black-and-white.wet", "black-and-white-pull-1", "develop")
    check_times_of("examples/home-mixed-developer.wet", "black-and-white-d-76", "develop")
    rows = check_times_of("tests/sheet/lengthened.wet", "lengthened", "develop", ("--done", "soup=2"))
    check(("67.5 °F", "9:35", True) in rows, "a lengthened time, rounded to 5 s, in °F", rows)
    blocks = steps_of(sheets.emit("sheet", "markdown", "tests/outputs/bench.wet", "bench"))
    check(len(times_of(blocks[5])) > 2 and "The maker’s time by reading" in blocks[5], "a maker's table is printed", blocks[5])
    check(not times_of(blocks[2]), "colour is not put right by a coefficient: no table", blocks[2])


def check_water_in_development():
    """What the first developer leaves in the film works on in the water after it, and in no other."""
    for path, process in sheets.processes():
        wet = json.loads(sheets.emit("cues", "json", path, process))["steps"]
        develops = [step["number"] for step in wet if step["role"].endswith("developer")]
        wanted = [step["number"] for step in wet if step["role"] in ("wash", "rinse") and step["number"] - 1 in develops
                  and step["number"] < max(develops)]
        blocks = steps_of(sheets.emit("sheet", "markdown", path, process))
        found = [number for number, block in blocks.items() if "the film still develops" in block]
        check(found == wanted, f"{process}: the film still develops in {wanted}", found)


def check_forecast(folder):
    """--forecast adds lines to both renderings, the picture to the page, and changes nothing else."""
    for path, process in sheets.processes() + [("tests/outputs/bench.wet", "bench")]:
        plain, with_it = (renderings(path, process, options) for options in ((), ("--forecast",)))
        compare(f"{process} --forecast", *with_it)
        check("Temperature forecast" not in plain[0] + plain[1] and "<svg xmlns" not in plain[0],
              f"{process}: no forecast unless it is asked for")
        check(with_it[0].count('class="forecast-curve"') == 1 and "svg" not in with_it[1], f"{process}: one curve, on the page")
        before, after = (re.sub(r"^(\*\*Side \d|---).*\n", "", text, flags=re.M) for text in (plain[1], with_it[1]))
        head, _, lines = after.partition("## Temperature forecast")
        check(head.split() == before.split(), f"{process}: the sheet before it is the same")
        check(lines.count("\n  - ") >= 1, f"{process}: the forecast says something", lines)
    lines = sheets.emit("sheet", "markdown", "tests/outputs/bench.wet", "bench", ("--forecast",)).replace("\u00a0", " ")
    lines = lines.partition("## Temperature forecast")[2]
    told = re.findall(r"^  - \*\*(\d+) ", lines, re.M)
    forecast = json.loads(sheets.emit("forecast", "json", "tests/outputs/bench.wet", "bench"))
    left = [str(step["number"]) for step in forecast["steps"]
            if step["forecast"] and (step["forecast"]["wants_remedy"] or step["forecast"]["fit"] == "leaves")]
    check(told == left != [], "a line for each step that leaves its window", f"{told} {left}")
    check("with a pour at" in lines and "water bath at 37.2 °C" in lines, "the remedy is in figures", lines)
    untested = os.path.join(folder, "untested.wet")
    with open(untested, "w", encoding="utf-8") as file:
        file.write(re.sub(r"^  cools .*\n", "", read("tests/outputs/bench.wet"), flags=re.M))
    html, markdown = renderings(untested, "bench", ("--forecast",))
    lines = markdown.partition("## Temperature forecast")[2]
    check("no heat-loss test" in lines and "`cools A to B" in lines and len(re.findall(r"^  - ", lines, re.M)) == 1 and
          "forecast-curve" not in html, "without a heat-loss test one line says what to measure", lines)


POURED_COLDER = """wetside 1
tank jar { holds 600 mL; takes 1 x 135; fill 6 s; drain 6 s; emptied through lid }
solution developer { role developer; usable 18 .. 24 °C; one-shot; hazards H317; waste developer }
solution fixer { role fix; reuse; hazards none; waste silver }
process one {
  develops black-and-white-negative
  tank jar
  step develop in developer at 20 ± 0.5 °C for 8:00 { pour at 19.5 ± 0.3 °C; agitate first 30 s, then 5 s every 60 s }
  step fix in fixer at 20 ± 2 °C for at least 5:00 { agitate first 15 s, then 5 s every 30 s }
}
"""


def check_pour(folder):
    """Where a step is poured at another temperature than it works at, the one to pour at is the large figure, and on the ladder."""
    path = os.path.join(folder, "colder.wet")
    with open(path, "w", encoding="utf-8") as file:
        file.write(POURED_COLDER)
    html, markdown = renderings(path)
    pour = "19.5 °C, not below 19.2, not above 19.8"
    plain = markdown.replace("\u00a0", " ").replace("**", "")
    check(f"- pour at {pour}; in the tank 20.0 °C, not below 19.5, not above 20.5\n" in plain, "the pour comes first", plain)
    check(f"- 1 Develop: {pour}\n" in plain, "the ladder has the pour", plain)
    check(re.search(r'class="working">([\d.]+)', html).group(1) == "19.5", "the large figure is the pour's", html[:200])


def check_variant():
    """A process that varies another names the steps in which it does."""
    page = sheets.Page(sheets.emit("sheet", "html", "examples/colour-negative-bleach-fix.wet", "colour-negative-push-1"))
    check("Differs: from colour-negative in step 2, Develop." in page.text, "a variant says what differs", page.text[:900])
    check("Push: 1 stop" in page.text, "a push is said")


def main():
    sheets.need("cmark")
    with tempfile.TemporaryDirectory() as folder:
        for path, process in sheets.processes():
            html, markdown = renderings(path, process)
            page, _ = compare(process, html, markdown)
            check_content(process, html, page, read(path))
            check_ladder(process, markdown)
            check_instants(process, markdown, json.loads(sheets.emit("cues", "json", path, process)))
        check_hostile(folder)
        check_mixtures(folder)
        check_same_bytes(folder)
        check_forecast(folder)
        check_pour(folder)
    check_times()
    check_water_in_development()
    check_readings()
    check_variant()
    end()


if __name__ == "__main__":
    main()
