#!/usr/bin/env python3
"""Random variants of the base: no difference from itself, the same differences in both directions, and the fingerprint
of a process is another exactly when its run is said to be."""

# builds: plain
# timeout: 600

import random
import re
import tempfile

import recipes
from edits import kinds
from harness import check, end

VARIANTS = 150


def change_figure(chance, text):
    """One figure a little larger or smaller; times and dates are left alone by their colons and hyphens."""
    places = [found for found in re.finditer(r"(?<![\w:.+-])\d+(?:\.\d+)?(?![\w:.-])", text) if found.start() > 12]
    found = chance.choice(places)
    factor = chance.choice((0.9, 0.95, 1.05, 1.1, 1.2))
    figure = float(found[0]) * factor
    new = f"{figure:.2f}".rstrip("0").rstrip(".") if "." in found[0] or chance.random() < 0.5 else f"{round(figure)}"
    return text[:found.start()] + new + text[found.end():]


def change_time(chance, text):
    found = chance.choice(list(re.finditer(r"\b(\d+):(\d\d)\b", text)))
    seconds = max(1, int(found[1]) * 60 + int(found[2]) + chance.choice((-30, -15, 15, 30, 60)))
    return text[:found.start()] + f"{seconds // 60}:{seconds % 60:02}" + text[found.end():]


def drop_line(chance, text):
    lines = text.splitlines(keepends=True)
    found = [number for number, line in enumerate(lines) if line.startswith("  ") and "{" not in line and "}" not in line]
    del lines[chance.choice(found)]
    return "".join(lines)


def rename(chance, text):
    name = chance.choice(["develop", "stop", "fix", "wash", "stock", "fixer", "stop-bath", "jug", "cabinet", "upright", "quay"])
    kind = "step" if name in ("develop", "stop", "fix", "wash") else None
    pattern = rf"(?<=step ){name}(?![\w-])" if kind else rf"(?<![\w\"-]){name}(?![\w-])(?!\")"
    return re.sub(pattern, name + "-2", text)


def swap_steps(chance, text):
    """Two of the one-line steps change places."""
    lines = text.splitlines(keepends=True)
    found = [number for number, line in enumerate(lines) if line.startswith("  step ") and line.rstrip()[-1] != "{"]
    one, other = chance.sample(found[:3], 2)
    lines[one], lines[other] = lines[other], lines[one]
    return "".join(lines)


CHANGES = [change_figure, change_figure, change_figure, change_time, change_time, drop_line, rename, swap_steps]


def judge(name, one, other):
    forth, back = recipes.data(one, other), recipes.data(other, one)
    if forth is None:
        return False
    wrong = [pair for pair in forth["processes"]
             if pair["is_same_run"] != (pair["old_fingerprint"] == pair["new_fingerprint"])]
    check(not wrong, f"{name}: another fingerprint is another run", wrong)
    forth_kinds, back_kinds = kinds(forth), kinds(back, True)
    check(forth_kinds == back_kinds, f"{name}: the same both ways", set(map(repr, forth_kinds)) ^ set(map(repr, back_kinds)))
    check(recipes.diff(other, other) == (0, ""), f"{name}: nothing differs from itself")
    check((recipes.diff(one, other)[1] == "") == all(pair["change"] == "none" for pair in forth["processes"]),
          f"{name}: text and data agree")
    return True


def main():
    chance = random.Random(20260314)
    judged = 0
    with tempfile.TemporaryDirectory() as folder:
        for number in range(VARIANTS):
            text = recipes.BASE
            for _ in range(chance.choice((1, 1, 2, 3))):
                text = chance.choice(CHANGES)(chance, text)
            other = recipes.write(folder, f"{number}.wet", text)
            judged += judge(f"variant {number}", recipes.BASE_PATH, other)
    check(judged >= VARIANTS // 3, "a third of the variants compile at least", judged)
    end()


if __name__ == "__main__":
    main()
