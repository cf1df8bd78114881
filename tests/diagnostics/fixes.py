#!/usr/bin/env python3
# timeout: 900
"""D12: fixes. A table of mistakes with what `check --fix` makes of each, or what it asks; a fixed file never has a finding
that it did not have; what the text says is what is written; files are written whole, and used files not at all."""

import os
import shutil
import stat
import subprocess
import sys
import tempfile

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))

from corpus import apply_fix, expectations, get, harness, json_findings, options_of, put, recipes  # noqa: E402

STARTER = harness.run("new", "-o", "-", "trial").stdout.decode()

# What is sure to be meant: the right text, and what stands in its place. The starter with it is clean again once fixed.
SAFE = [
    ("decimal comma", "20 ± 0.5 °C", "20 ± 0,5 °C"),
    ("figure that starts with a point", "20 ± 0.5 °C", "20 ± .5 °C"),
    ("hyphen for a range of temperatures", "usable 18 .. 24 °C", "usable 18-24 °C"),
    ("hyphen for a range without °", "usable 18 .. 24 C", "usable 18-24 C"),
    ("minutes beyond 60", "at least 1:20:00", "at least 80:00"),
    ("no-break space", "at 20 ± 0.5 °C", "at\u00a020 ± 0.5 °C"),
    ("two no-break spaces", "20  ± 0.5 °C", "20\u00a0\u00a0± 0.5 °C"),
    ("narrow no-break space", "holds 600 mL", "holds 600\u202fmL"),
    ("zero-width space between words", "fill 6 s", "fill\u200b 6 s"),
    ("direction changer in a text", '"Rapid fixer 1+4"', '"Rapid \u202efixer 1+4"'),
    ("invisible character in a comment", "# What the bottle says", "# What the\u2066 bottle says"),
    ("byte order mark inside", "takes 1 x 135", "takes \ufeff1 x 135"),
    ("misspelt keyword of a tank", "holds 600 mL", "hodls 600 mL"),
    ("misspelt keyword of a solution", "one-shot", "one-shoot"),
    ("misspelt keyword of a step", "agitate first 10 s", "agitaet first 10 s"),
    ("misspelt keyword at the top", "process trial", "proces trial"),
    ("misspelt `running`", "in running water", "in runing water"),
    ("keyword in capitals", "dilute 1+9", "Dilute 1+9"),
    ("unit in other capitals", "holds 600 mL", "holds 600 ML"),
    ("misspelt role", "role developer", "role develper"),
    ("misspelt way out", "emptied through lid", "emptied trough lid"),
    ("misspelt waste stream", "waste silver", "waste sliver"),
    ("exchanged letters in a name", "step fix in fixer", "step fix in fxier"),
    ("missing version", "wetside 1\n", ""),
    ("allow that covers nothing, a line", "  tank jar\n", '  tank jar\n  allow carry-over "for a test"\n'),
    ("allow that covers nothing, between others", "{\n    agitate first 10 s\n  }", '{ agitate first 10 s; allow stop-blisters "x" }'),
]
RESTORED = {  # where what was meant is read as well as what stood there before
    "narrow no-break space": "holds 600 mL",
    "unit in other capitals": "holds 600 mL",
    "allow that covers nothing, between others": "{ agitate first 10 s }",
    "zero-width space between words": "fill 6 s",
}

# What asks: the right text, what stands there, and the texts that the finding with a fix puts in, each somewhere.
ASKS = [
    ("dilution with a colon", "dilute 1+9", "dilute 1:9", ["1+9", "1:09"]),
    ("dilution with a colon, three figures", "dilute 1+100", "dilute 1:100", ["1+100"]),
    ("seconds beyond 60", "for 8:00 {", "for 3:75 {", ["4:15"]),
    ("comma that may part thousands", "holds 1.500 L", "holds 1,500 L", ["1.500", "1500"]),
    ("hyphen that falls", "usable 18 .. 24 °C", "usable 24-18 °C", ["24 .. 18"]),
    ("fluid ounces of nobody", "holds 20 US fl oz", "holds 20 fl oz", ["US ", "UK "]),
    ("percentage without its sign", "usable 18 .. 24 °C\n  hazards H3", "usable 18 .. 24 °C\n  lengthen 5 per roll per 1 L\n  hazards H3", [" %"]),
    ("name with a letter missing", "step fix in fixer", "step fix in fixr", ["fixer"]),
    ("name with an underscore", "tank jar\n", "tank ja_r\n", ["ja-r"]),
    ("tank that is another", "  tank jar\n", "  tank jar2\n", ["jar"]),
    ("flow by the second", "at least 20:00\n", "at least 20:00 { flow 1 L per s }\n", ["min"]),
    ("missing closing quote", '"One-reel tank" {', '"One-reel tank {', ['"']),
    ("missing opening brace", "process trial \"One roll, black-and-white\" {", "process trial \"One roll, black-and-white\"", [" {"]),
    ("missing brace of a step", "0:30 .. 1:00 {\n", "0:30 .. 1:00\n", [" {"]),
    ("missing closing brace at the end", "20:00\n}\n", "20:00\n", ["}\n"]),
    ("closing brace too many", "20:00\n}\n", "20:00\n}\n}\n", [""]),
    ("range the other way round", "usable 18 .. 24 °C", "usable 24 .. 18 °C", ["18 °C .. 24 °C"]),
    ("range with units of its own", "20 ± 2 °C for 0:30", "22 °C – 68 F for 0:30", ["68 F .. 22 °C"]),
    ("times the other way round", "0:30 .. 1:00", "1:00…0:30", ["0:30 .. 1:00"]),
    ("range of one time", "0:30 .. 1:00", "0:30 .. 0:30", ["0:30"]),
    ("no waste route, on a line of its own", "  waste developer\n", "", ["  waste developer\n"]),
    ("no waste route, in one line", "  reuse\n  usable 18 .. 24 °C\n  hazards EUH031\n  waste silver\n}",
     "  reuse; usable 18 .. 24 °C; hazards EUH031 }", ["; waste silver"]),
    ("flow without running water", "in running water at 20 ± 2 °C for at least 20:00",
     "in water at 20 ± 2 °C for at least 20:00 { flow 4 L per min }", ["running water"]),
    ("version twice", "wetside 1\n", "wetside 1\n\nwetside 1\n", [""]),
]


def findings_of(messages):
    return [(finding.id, finding.text) for finding in expectations.findings_of(messages.decode("utf-8", "replace"))]


def spoil(name, right, wrong):
    """The starter with a mistake, and as it should be."""
    source = STARTER
    if right not in source:  # what is meant differs from the starter where a case needs it
        source = source.replace(*{"usable 18 .. 24 C": ("usable 18 .. 24 °C", right), "at least 1:20:00": ("at least 20:00", right),
                                  "20  ± 0.5 °C": ("20 ± 0.5 °C", right), "holds 1.500 L": ("holds 600 mL", right),
                                  "holds 20 US fl oz": ("holds 600 mL", right), "dilute 1+100": ("dilute 1+9", right)}[right])
    return source.replace(right, wrong, 1), source.replace(right, RESTORED.get(name, right), 1)


def judge_safe(folder, name, right, wrong):
    before, after = spoil(name, right, wrong)
    path = put(folder, "case.wet", before)
    found = harness.run("check", "case.wet", cwd=folder)
    shown = harness.run("check", "--fix", "--diff", "case.wet", cwd=folder)
    untouched = get(path) == before.encode()
    done = harness.run("check", "--fix", "--deny-warnings", "case.wet", cwd=folder)
    fixed = get(path).decode()
    harness.check(len(findings_of(found.stderr)) > 0 and fixed == after and done.returncode == 0 and b"note: fixed: " in done.stderr
                  and untouched, f"D12: {name} is put right",
                  lambda: f"{found.stderr.decode()}\n{done.stderr.decode()}\n{shown.stdout.decode()}")
    again = put(folder, "again.wet", before)
    subprocess.run(["patch", "-s", again], input=shown.stdout, cwd=folder, check=False)
    harness.check(get(again) == fixed.encode() and shown.returncode == 1, f"D12: {name}: --diff shows what --fix writes",
                  shown.stdout.decode())


def judge_asks(folder, name, right, wrong, texts):
    before, _ = spoil(name, right, wrong)
    path = put(folder, "case.wet", before)
    harness.run("check", "--fix", "case.wet", cwd=folder)
    found = json_findings("case.wet", cwd=folder)
    fixes = [fix for finding in found for fix in finding["fixes"]]
    harness.check(get(path) == before.encode() and {fix["confidence"] for fix in fixes} == {"asks"}
                  and [fix["text"] for fix in fixes][:len(texts)] == texts, f"D12: {name}: asks, and writes nothing",
                  f"{found}")
    if fixes:
        put(folder, "case.wet", apply_fix(before.encode(), fixes[0]))
        left = json_findings("case.wet", cwd=folder)
        gone = (found[0]["check"], found[0]["message"]) not in [(finding["check"], finding["message"]) for finding in left]
        harness.check(gone, f"D12: {name}: its fix puts it right", f"{get(path).decode()}\n{left}")


def judge_corpus(folder):
    """Every fix of every recipe says in words what it writes, and --fix brings no new finding."""
    fixed = offered = 0
    for path in recipes("examples/*.wet", "tests/language/*.wet"):
        shutil.copy(os.path.join(harness.ROOT, path), folder)
    for path in recipes("examples/*.wet", "tests/language/*.wet"):
        name, options = os.path.basename(path), options_of(path)
        before = json_findings(*options, name, cwd=folder)
        unsaid = [finding for finding in before for fix in finding["fixes"]
                  if fix["text"].strip() and fix["text"].strip(" ;\n") not in finding["help"]]
        harness.check(not unsaid, f"D12: {path}: the text says what a fix writes", unsaid)
        offered += sum(len(finding["fixes"]) for finding in before)
        was = get(os.path.join(folder, name))
        harness.run("check", "--fix", *options, name, cwd=folder)
        after = json_findings(*options, name, cwd=folder)
        fresh = [(finding["check"], finding["message"]) for finding in after if finding["allowed"] is None]
        for finding in before:
            if (finding["check"], finding["message"]) in fresh:
                fresh.remove((finding["check"], finding["message"]))
        is_changed = get(os.path.join(folder, name)) != was
        fixed += is_changed
        harness.check(not fresh and (len(after) < len(before) or not is_changed),
                      f"D12: {path}: fixed, it has no new finding", fresh)
    harness.check(fixed > 3 and offered > 40, f"there was something to fix ({fixed} files, {offered} fixes)")


def judge_refusal(folder):
    """A fix that would bring a finding is left out, and that is said; the others are applied. (The limit is not looked
    at while a step of the process cannot be read.)"""
    text = STARTER.replace("agitate first 10 s", "agitaet first 10 s").replace("for 8:00 {", "for 99:00 {")
    text = text.replace("  develops", "  wet time under 60 min\n  develops")
    put(folder, "case.wet", text)
    done = harness.run("check", "--fix", "case.wet", cwd=folder)
    after = get(os.path.join(folder, "case.wet")).decode()
    harness.check(b"note: not fixed: " in done.stderr and b", but then: " in done.stderr and done.returncode == 1
                  and "for 1:39:00" in after and "agitaet first 10 s" in after,
                  "D12: a fix that brings a new finding is left out, and it says so", done.stderr.decode())


def judge_files(folder):
    """Whole or not at all; what the file was, it stays; used files are left alone."""
    used = "wetside 1\ntank jar { holds 0,5 L; takes 1 x 135 }\n"
    main = 'wetside 1\nuse "lib/used.wet"\nprocess p "x" { develops black-and-white-negatve; tank jar }\n'
    lib = put(folder, "lib/used.wet", used)
    path = put(folder, "main.wet", main)
    harness.run("check", "--fix", "main.wet", cwd=folder)
    harness.check(get(lib) == used.encode(), "D12: a used file is left alone")
    harness.run("check", "--fix", "main.wet", "lib/used.wet", cwd=folder)
    harness.check(b"0.5 L" in get(lib), "D12: unless it is named", get(lib).decode())
    right = STARTER.encode()
    for name, change in (("CR LF", lambda text: text.replace(b"\n", b"\r\n")),
                         ("a byte order mark", lambda text: b"\xef\xbb\xbf" + text),
                         ("no line end at the end", lambda text: text.rstrip(b"\n"))):
        put(folder, "case.wet", change(right.replace(b"wetside 1\n", b"").replace(b"0.5", b"0,5")))
        harness.run("check", "--fix", "case.wet", cwd=folder)
        harness.check(get(os.path.join(folder, "case.wet")) == change(right), f"D12: a file keeps {name}",
                      get(os.path.join(folder, "case.wet"))[:80])
    path = put(folder, "real.wet", right.replace(b"0.5", b"0,5"))
    os.chmod(path, 0o640)
    os.symlink("real.wet", os.path.join(folder, "link.wet"))
    harness.run("check", "--fix", "link.wet", cwd=folder)
    harness.check(get(path) == right and os.path.islink(os.path.join(folder, "link.wet"))
                  and stat.S_IMODE(os.stat(path).st_mode) == 0o640, "C9: mode and link are kept")
    clean = os.stat(path)
    harness.run("check", "--fix", "real.wet", cwd=folder)
    harness.check(os.stat(path).st_ino == clean.st_ino, "D12: a file without findings is not written")
    os.mkdir(os.path.join(folder, "full"))
    harness.check(not [name for name in os.listdir(folder) if name.startswith(".wetside")], "C9: nothing stray is left")


def judge_usage(folder):
    put(folder, "case.wet", STARTER.replace("0.5", "0,5"))
    for words, said in ((["--diff", "case.wet"], b"--fix"), (["--fix", "-"], b"standard input"),
                        (["--fix", "--diff", "--diagnostics", "json", "case.wet"], b"standard output")):
        done = harness.run("check", *words, cwd=folder)
        harness.check(done.returncode == 2 and said in done.stderr, f"check {' '.join(words)} is refused", done.stderr)
    done = harness.run("check", "--fix", "--diff", "-", stdin=STARTER.replace("0.5", "0,5").encode())
    harness.check(b"+  step develop in developer at 20 \xc2\xb1 0.5" in done.stdout, "--fix --diff reads standard input")
    done = harness.run("check", "--fix", "--diagnostics", "json", "case.wet", cwd=folder)
    harness.check(not done.stdout and b"note: fixed" in done.stderr, "what remains is JSON, what was done a note")


def main():
    for name, right, wrong in SAFE:
        with tempfile.TemporaryDirectory() as folder:
            judge_safe(folder, name, right, wrong)
    for name, right, wrong, texts in ASKS:
        with tempfile.TemporaryDirectory() as folder:
            judge_asks(folder, name, right, wrong, texts)
    for judge in (judge_corpus, judge_refusal, judge_files, judge_usage):
        with tempfile.TemporaryDirectory() as folder:
            judge(folder)
    harness.end()


if __name__ == "__main__":
    main()
