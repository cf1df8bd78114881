#!/usr/bin/env python3
# lasts: 15
"""What does not change the run is not reported: layout, comments, the order of declarations and of clauses, units and
spellings, names of files. The fingerprints stay, and where nothing but the writing changed, so do the model's bytes."""

import os
import random
import re
import shutil
import tempfile
import unicodedata

import recipes
from harness import ROOT, WETSIDE, check, end, read

# Each: name, a function of a recipe's text, whether the model stays byte for byte.
SPELLINGS = [
    ("for 8:00 {", "for 480 s {"), ("fill 10 s", "fill 0:10"), ("holds 1 L\n", "holds 1000 mL\n"),
    ("keeps 6 months full", "keeps 180 days full"), ("metol 2 g", "metol 2000 mg"), ("for 2 h\n", "for 120 min\n"),
    ("± 0.5 °C for 8", "± 0.5 C for 8"), ("wet time under 2 h", "wet time under 2:00:00"), ("°C", "C"), ("4 x 135", "4 × 135"),
    ("dilute 1+19", "dilute 1 + 19"), ("20 ± 2 °C", "68 ± 3.6 °F"), ("hazards H317, H341", "hazards H317,\n    H341"),
]


def swap_units(text):
    for old, new in SPELLINGS:
        if old in text:
            text = text.replace(old, new)
    return text


def squeeze(text):
    """Everything on few lines, comments taken out."""
    text = re.sub(r"[ \t]*#[^\n\"]*$", "", text, flags=re.M)
    return re.sub(r"^[ \t]+", " ", re.sub(r"\n{2,}", "\n", text), flags=re.M)


def spread(text):
    """A comment on every line, other indentation, lines that end in CR LF."""
    lines = [re.sub(r"^ +", lambda found: "\t" * len(found[0]), line) for line in text.splitlines()]
    return "\r\n".join(f"{line}  # remark {number}" if '"' not in line and "#" not in line else line
                       for number, line in enumerate(lines)) + "\r\n"


def rename_comments(text):
    return re.sub(r"#[^\n\"]*$", "# something else", text, flags=re.M)


def shuffle(seed):
    """Declarations in another order; a process stays behind the one that it varies, `use` in front."""
    def shuffled(text):
        head, pieces = recipes.declarations(text)
        first = [piece for piece in pieces if piece.startswith("use")]
        last = [piece for piece in pieces if piece.startswith("process")]
        rest = [piece for piece in pieces if piece not in first + last]
        random.Random(seed).shuffle(rest)
        return head + "".join(piece.rstrip("\n") + "\n\n" for piece in first + rest + last)
    return shuffled


REWRITINGS = [
    ("layout squeezed", squeeze, True), ("comments everywhere, tabs, CR LF", spread, True),
    ("comments renamed", rename_comments, True), ("units spelt otherwise", swap_units, None),
    ("declarations in another order", shuffle(1), False), ("and in another", shuffle(2), False),
]


def judge(folder, path, text):
    original = recipes.write(folder, "original.wet", text)
    model = recipes.model(original)
    prints = recipes.fingerprints_in(model)
    check(prints is not None, f"{path} compiles")
    for name, rewrite, keeps_bytes in REWRITINGS:
        other = recipes.write(folder, "other name.wet", rewrite(text))
        check(recipes.diff(original, other) == (0, ""), f"{path}: {name}: nothing to report",
              lambda o=other: recipes.diff(original, o)[1])
        rewritten = recipes.model(other)
        check(recipes.fingerprints_in(rewritten) == prints, f"{path}: {name}: the fingerprints stay")
        if keeps_bytes:
            check(rewritten == model, f"{path}: {name}: the model stays")


def judge_normal_forms(folder):
    """A name is the same in composed and in decomposed characters (Unicode, UAX #15)."""
    text = recipes.BASE.replace("cabinet", "séchoir")
    paths = [recipes.write(folder, f"{form}.wet", unicodedata.normalize(form, text)) for form in ("NFC", "NFD")]
    check(recipes.diff(*paths) == (0, "") and recipes.model(paths[0]) == recipes.model(paths[1]),
          "a name in another normal form is the same")


def main():
    with tempfile.TemporaryDirectory() as folder:
        judge_normal_forms(folder)
        for name in os.listdir(os.path.join(ROOT, "examples")):
            shutil.copy(os.path.join(ROOT, "examples", name), folder)
            if name.endswith(".csv") and "/asan/" in WETSIDE:  # few rolls, which are planned soon there too
                recipes.write(folder, name, "".join(read(f"examples/{name}").splitlines(keepends=True)[:9]))
        for path in [recipes.BASE_PATH, *(f"examples/{name}" for name in sorted(os.listdir(os.path.join(ROOT, "examples")))
                                            if name.endswith(".wet"))]:
            judge(folder, path, read(path))
    end()


if __name__ == "__main__":
    main()
