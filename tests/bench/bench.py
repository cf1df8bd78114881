#!/usr/bin/env python3
"""Measures `wetside` on large recipes against general programs on inputs of the same size, in one run, and prints each
figure beside its target. Processor time of the child, medians; what is made lies in build/bench/. Ends with 1 only where a
finding is missing or too many: that is wrong, and slow is not. BENCH_MB=2 makes all inputs smaller, for a quick look."""

import json
import os
import re
import shutil
import subprocess
import sys

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path[:0] = [os.path.dirname(HERE), HERE]

import harness  # noqa: E402
import library  # noqa: E402
import packing  # noqa: E402
import peers  # noqa: E402
from measure import LONG, Command, alternate, instructions  # noqa: E402

FOLDER = os.path.join(harness.ROOT, "build", "bench")
MB = 1_000_000
SIZE = int(os.environ.get("BENCH_MB", 20)) * MB
LIBRARY, CLEAN, LARGE = (f"library-{SIZE * times // MB}MB{kind}.wet" for times, kind in ((1, ""), (1, "-clean"), (10, "")))
TREE, DOCUMENTS = f"tree-{SIZE // MB}MB.dts", f"documents-{SIZE // MB}MB.md"
DECLARATIONS = 10_000 * SIZE // MB
MISTAKE_EVERY = 50 * SIZE // MB  # 1,000 in 20 MB
ERRORS = 10_000
WRONG = []


def made(name):
    """Where an input lies."""
    return os.path.join(FOLDER, name)


def told(what, figure, target, is_met):
    """A line of the table."""
    print(f"  {'met   ' if is_met else 'MISSED'}  {what:46} {figure:>22}   {target}", flush=True)


def ratio(what, mine, other, limit):
    """A line of the table: how many times the seconds of the other."""
    told(what, f"{mine.seconds / other.seconds:.3f} x {other.seconds:.3f} s", f"<= {limit:g}", mine.seconds <= limit * other.seconds)


def verify(is_right, what):
    if not is_right:
        WRONG.append(what)
        print(f"  WRONG   {what}", flush=True)


def check(name, *options, **more):
    return Command(harness.WETSIDE, "check", *options, made(name), **more)


def print_shares(path):
    """How near a library is to what people write."""
    with open(path, encoding="utf-8") as file:
        written = library.shares(file.read())
    print(f"\n  {'what the library is made of':46} {'examples':>10} {'library':>10}")
    for what, share in library.shares(library.example_text()).items():
        print(f"  {what:46} {share:10.2f} {written[what]:10.2f}   {100 * (written[what] / share - 1):+.0f} %")


def verify_mistakes(name, planted):
    """Exactly the planted mistakes are reported, each at its line."""
    done = subprocess.run([harness.WETSIDE, "check", "--max-errors=0", "--diagnostics=json", made(name)],
                          stdout=subprocess.PIPE, check=False)
    findings = [json.loads(line) for line in done.stdout.splitlines()]
    reported = [(finding["place"]["line"], finding["check"]) for finding in findings
                if finding.get("place") and not finding.get("allowed")]
    verify(done.returncode == 1, f"check of a library with mistakes ended with {done.returncode}")
    verify(sorted(reported) == sorted(planted),
           f"planted and not reported: {sorted(set(planted) - set(reported))}; "
           f"reported and not planted: {sorted(set(reported) - set(planted))}")
    print(f"\n  {len(planted)} mistakes planted, {len(reported)} findings reported")


def measure_library():
    """`check` of a library against the peers; returns its seconds a byte."""
    planted, processes = library.write_library(made(LIBRARY), SIZE, MISTAKE_EVERY)
    library.write_library(made(CLEAN), SIZE)
    nodes, properties = peers.write_device_tree(made(CLEAN), made(TREE), SIZE)
    peers.write_markdown(made(DOCUMENTS), SIZE)
    print(f"a library of {processes:,} processes; a device tree of {nodes:,} nodes and {properties:,} properties")
    print_shares(made(CLEAN))
    verify_mistakes(LIBRARY, planted)

    mine = check(LIBRARY, expected=(1,))
    tree = Command("dtc", "-q", "-I", "dts", "-O", "dtb", "-o", os.devnull, made(TREE))
    markdown = Command("cmark", made(DOCUMENTS))
    words = Command("wc", "-lwm", made(LIBRARY), environment={"LC_ALL": "C.UTF-8"})
    alternate(mine, tree, markdown, words)
    size = os.path.getsize(made(LIBRARY))
    print(f"\n  check of {size / MB:.0f} MB: {mine.seconds:.3f} s, {mine.peak / MB:.0f} MB (median of {len(mine.runs)})\n")
    ratio("check, times dtc", mine, tree, 1 / 10)
    ratio("check, times cmark", mine, markdown, 1 / 4)
    ratio("check, times wc -lwm", mine, words, 8)
    told("peak memory of check, bytes a byte", f"{mine.peak / size:.2f}", "<= 6", mine.peak <= 6 * size)
    return mine.seconds / size


def measure_growth(seconds_a_byte):
    """Whether ten times the library costs ten times the time."""
    if seconds_a_byte * SIZE > LONG:
        told("check, time a byte of ten times as much", "not tried", "within 20 %", False)
        return
    library.write_library(made(LARGE), 10 * SIZE)
    large = check(LARGE)
    alternate(large, rounds=3)
    size = os.path.getsize(made(LARGE))
    growth = large.seconds / size / seconds_a_byte
    told("check, time a byte of ten times as much", f"{100 * (growth - 1):+.0f} %, {large.seconds:.2f} s", "within 20 %",
         0.8 <= growth <= 1.2)
    told("its peak memory, bytes a byte", f"{large.peak / size:.2f}", "<= 6", large.peak <= 6 * size)
    os.remove(made(LARGE))


def measure_sheets():
    """All sheets of the library, beside what cmark needs for their Markdown: in one run over all of it, in which it begins
    only once and writes nothing, and in one run for each sheet."""
    pages, texts = made("sheets-html"), made("sheets-markdown")
    for folder in (pages, texts):
        shutil.rmtree(folder, ignore_errors=True)
    subprocess.run([harness.WETSIDE, "sheet", "--each", "--to", "markdown", made(CLEAN), "-o", texts], check=True)
    names = sorted(os.listdir(texts))
    with open(made("sheets.md"), "wb") as file:
        for name in names:
            with open(os.path.join(texts, name), "rb") as sheet:
                file.write(sheet.read())
    html = Command(harness.WETSIDE, "sheet", "--each", made(CLEAN), "-o", pages)
    at_once = Command("cmark", made("sheets.md"))
    alternate(html, at_once, rounds=3)
    sample = names[::max(1, len(names) // 200)]
    singly = [Command("cmark", os.path.join(texts, name)) for name in sample]
    alternate(*singly, rounds=1)
    each = sum(one.seconds for one in singly) * len(names) / len(sample)
    told(f"{len(names):,} sheets, times cmark over all at once", f"{html.seconds / at_once.seconds:.2f} x {at_once.seconds:.3f} s",
         "<= 1.5", html.seconds <= 1.5 * at_once.seconds)
    told("the same, times cmark once for each sheet", f"{html.seconds / each:.2f} x {each:.3f} s", "<= 1.5",
         html.seconds <= 1.5 * each)
    print(f"          their peak memory: {html.peak / MB:.0f} MB")
    for folder in (pages, texts):
        shutil.rmtree(folder)


def measure_declarations():
    """The time of a declaration in files of more and more of them."""
    print()
    for count in (DECLARATIONS // 100, DECLARATIONS // 10, DECLARATIONS):
        library.write_declarations(made("declarations.wet"), count)
        one = check("declarations.wet")
        alternate(one, rounds=3)
        size = os.path.getsize(made("declarations.wet"))
        print(f"          {f'check of {count:,} declarations':46} {f'{one.seconds:.3f} s':>22}   "
              f"{one.seconds / count * 1e6:.2f} us each, peak {one.peak / size:.1f} bytes a byte")
    print()


def measure_broken():
    """A file of nothing but mistakes: in time, and the messages do not drown anyone."""
    library.write_broken(made("broken-1MB.wet"), ERRORS)
    one = check("broken-1MB.wet", expected=(1,))
    alternate(one)
    size = os.path.getsize(made("broken-1MB.wet"))
    told(f"check of {size / MB:.2f} MB with {ERRORS:,} errors", f"{one.seconds:.3f} s", "< 1 s", one.seconds < 1)
    done = subprocess.run([harness.WETSIDE, "check", made("broken-1MB.wet")], stderr=subprocess.PIPE, check=False)
    shown = len(re.findall(rb"^[^ ].*: error: ", done.stderr, re.M))
    last = done.stderr.decode().splitlines()[-1]
    verify(shown == 20 and f"{ERRORS:,}".replace(",", "") in re.sub(r"(?<=\d)[\s,.](?=\d)", "", last),
           f"{shown} messages are shown, and the last line is: {last}")


def measure_start():
    """What it costs to begin, look at one example and end; and to begin and end alone, which is the dynamic loader's."""
    mine = instructions(harness.WETSIDE, "check", os.path.join(harness.ROOT, "examples", "black-and-white.wet"))
    alone = instructions(harness.WETSIDE, "--version")
    other = instructions("cmark", "--version")
    print(f"          {'instructions of --version alone':46} {alone:>22,}")
    told("instructions of check of an example", f"{mine:,} = {mine / other:.1f} x", f"< 2 x {other:,}", mine < 2 * other)


def main():
    os.makedirs(FOLDER, exist_ok=True)
    seconds_a_byte = measure_library()
    measure_growth(seconds_a_byte)
    measure_sheets()
    measure_broken()
    measure_start()
    measure_declarations()
    packing.measure()
    sys.exit(1 if WRONG else 0)


main()
