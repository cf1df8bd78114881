#!/usr/bin/env python3
"""`--each`: the files in the folder are, byte for byte, what `--process` writes for each process; with an error nothing is
written; with --jobs the same."""

import glob
import os
import re
import stat
import sys
import tempfile

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))

import harness  # noqa: E402

RECIPES = [path for path in sorted(glob.glob(os.path.join(harness.ROOT, "examples", "*.wet")))
           if re.search(r"^process ", harness.read(path), re.M)]
PRODUCTS = (("sheet", "html"), ("sheet", "markdown"), ("sheet", "text"), ("cues", "csv"), ("cues", "wav"), ("timer", "sh"),
            ("live", "html"), ("mix", "html"), ("mix", "json"))
EXTENSIONS = {"html": ".html", "markdown": ".md", "text": ".txt", "csv": ".csv", "wav": ".wav", "sh": ".sh", "json": ".json"}


def contents(folder):
    """The files of a folder, with what is in them."""
    found = {}
    for name in os.listdir(folder):
        with open(os.path.join(folder, name), "rb") as file:
            found[name] = file.read()
    return found


def expected(recipe, product, form):
    """What --process writes for each process that the file declares."""
    names = re.findall(r"^process (\S+)", harness.read(recipe), re.M)
    return {name + EXTENSIONS[form]: harness.run(product, "--to", form, "--process", name, recipe).stdout for name in names}


def same_bytes(folder):
    for recipe in RECIPES:
        name = os.path.basename(recipe)
        for product, form in PRODUCTS if name.startswith("black") else PRODUCTS[:1]:
            wanted = expected(recipe, product, form)
            for jobs in ([], ["-j", "3"]):
                out = os.path.join(folder, f"{name}-{product}-{form}{len(jobs)}")
                done = harness.run(product, "--each", "--to", form, *jobs, recipe, "-o", out)
                harness.check(done.returncode == 0 and contents(out) == wanted and done.stdout == b"",
                              f"{product} --each --to {form} {' '.join(jobs)} of {name}",
                              lambda done=done, out=out: f"{done} {sorted(contents(out))}")


def errors(folder):
    recipe = os.path.join(folder, "wrong.wet")
    out = os.path.join(folder, "sheets")
    text = harness.read("examples/black-and-white.wet").replace('use "', f'use "{harness.ROOT}/examples/')
    with open(recipe, "w", encoding="utf-8") as file:
        file.write(text.replace("room 22 °C", "room 22 mL"))
    done = harness.run("sheet", "--each", "-I", f"{harness.ROOT}/examples", recipe, "-o", out)
    harness.check(done.returncode == 1 and not os.path.exists(out), "with an error nothing is written", done)
    os.mkdir(out)
    done = harness.run("sheet", "--each", "-I", f"{harness.ROOT}/examples", recipe, "-o", out)
    harness.check(done.returncode == 1 and os.listdir(out) == [] and b"OLD" in done.stderr,
                  "and what lies in the folder is said to be old", done)


def refused(folder):
    recipe = os.path.join(harness.ROOT, "examples", "black-and-white.wet")
    out = ("-o", os.path.join(folder, "refused"))
    for options in (["--each"], ["--each", "-o", "-"], ["--each", "--process", "black-and-white", *out], ["--each", "--load", "1", *out],
                    ["--each", "-MD", *out], ["-j", "2", *out], ["--each", "-j", "0", *out], ["--each", "-j", "many", *out],
                    ["--each", "-j", "1000000", *out]):
        done = harness.run("sheet", *options, recipe)
        harness.check(done.returncode == 2 and done.stderr.count(b"\n") == 1 and not os.path.exists(out[1]),
                      f"refused: {' '.join(options[:3])}", done)
    done = harness.run("sheet", "--each", os.path.join(harness.ROOT, "examples", "room.wet"), *out)
    harness.check(done.returncode == 1 and not os.path.exists(out[1]), "a file without a process", done)


def folders(folder):
    recipe = os.path.join(harness.ROOT, "examples", "black-and-white.wet")
    file = os.path.join(folder, "a-file")
    with open(file, "w", encoding="utf-8"):
        pass
    for out in (file, os.path.join(folder, "no", "such"), "/proc/wetside"):
        done = harness.run("sheet", "--each", recipe, "-o", out)
        harness.check(done.returncode == 2 and b"cannot make the folder" in done.stderr, f"no folder can be made at {out}", done)
    out = os.path.join(folder, "timers")
    done = harness.run("timer", "--each", recipe, "-o", out + "/")
    modes = [os.stat(os.path.join(out, name)).st_mode for name in os.listdir(out)]
    harness.check(len(modes) == 2 and all(mode & stat.S_IXUSR for mode in modes), "a script may be run", done)
    blocked = os.path.join(out, "black-and-white-pull-1.sh")
    os.remove(blocked)
    os.mkdir(blocked)
    for jobs in ([], ["-j2"]):
        done = harness.run("timer", "--each", *jobs, recipe, "-o", out)
        harness.check(done.returncode == 2 and b"cannot write" in done.stderr and len(os.listdir(out)) == 2,
                      f"a file that cannot be written {' '.join(jobs)}", done)


def file_names(folder):
    """Names that no folder could hold beside each other, wherever it may be copied to, are refused before the first file."""
    one = """process NAME { develops black-and-white-negative; tank jar
  step develop in soup at 20 ± 0.5 °C for 8:00 { agitate first 30 s, then 5 s every 60 s }
  step fix in fixer at 20 ± 2 °C for at least 5:00 { agitate first 15 s, then 5 s every 30 s }
  step wash in running water at 20 ± 2 °C for at least 20:00
}
"""
    head = """wetside 1
tank jar { holds 600 mL; takes 1 x 135; fill 6 s; drain 6 s; emptied through lid }
solution soup { role developer; dilute 1+9; one-shot; hazards none; waste developer }
solution fixer { role fix; dilute 1+4; reuse; hazards none; waste silver }
"""
    long = "n" * 250
    for number, (names, said) in enumerate((
            (["Film", "plain", "film"], "`Film` and `film`"), (["grün", "GRÜN"], "`grün` and `GRÜN`"),
            (["u\u0308ber", "Über"], "`über` and `Über`"), (["b", "a", "A", "B"], "`a` and `A`"), (["AUX"], "`AUX.html`"),
            (["lpt1"], "`lpt1.html`"), ([long + "n"], f"`{long}n.html`"), (["film", "films", "film-2"], ""),
            (["com", "lpt0", "auxiliary", "cone"], ""), ([long], ""))):
        recipe = os.path.join(folder, f"names-{number}.wet")
        out = os.path.join(folder, f"names-{number}")
        with open(recipe, "w", encoding="utf-8") as file:
            file.write(head + "".join(one.replace("NAME", name) for name in names))
        for jobs in ([], ["-j", "2"]):
            done = harness.run("sheet", "--each", *jobs, recipe, "-o", out)
            told = done.stderr.decode("utf-8")
            if said:
                harness.check(done.returncode == 2 and said in told and told.count("\n") == 1 and not os.path.exists(out),
                              f"refused as files of one folder: {' '.join(names)[:40]}", done)
            else:
                harness.check(done.returncode == 0 and sorted(contents(out)) == sorted(name + ".html" for name in names),
                              f"files of one folder: {' '.join(names)[:40]}", done)
    done = harness.run("sheet", "--process", "film", os.path.join(folder, "names-0.wet"))
    harness.check(done.returncode == 0, "each by itself can be written", done)


def main():
    with tempfile.TemporaryDirectory() as folder:
        same_bytes(folder)
        errors(folder)
        refused(folder)
        folders(folder)
        file_names(folder)
    harness.end()


main()
