#!/usr/bin/env python3
# builds: plain
# lasts: 50
# timeout: 600
"""Every hostile text in every place of the language, through every output: strings x slots x outputs.

A recipe holds a text in each of its slots, another one in each; the next recipe has them one place further, until each text has
been in each slot. A recipe that holds a plain word in each slot goes before. Read by a program that is not ours, each output must
be that of the plain recipe with the texts in place of the words, and nothing else: no element, attribute, cell, row, event, key or line
more, and the text itself whole, as that output shows it."""

import concurrent.futures
import functools
import html
import os
import re
import subprocess
import sys
import tempfile
import time
import unicodedata

import outputs
import slots
import strings
from harness import check, end

WORD = re.compile(r"[Qq][Zz](\d{3})[Zz][Qq]")
LINE_ENDS = "\n\r\t\v\f\x85\u2028\u2029"
# What is made of the whole recipe, and how a sheet is laid out for so much text.
MADE = re.compile(r"\b[0-9a-f]{12}(?:[0-9a-f]{4}(?:[0-9a-f]{48})?)?\b|\b[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}\b|@class=side [\w -]*")
FILE_NAME_MOST = 200  # characters of a text in the name of a file
RENDERED = ("html", "markdown", "text", "ics", "sh", "csv")  # where CommonMark may have a meaning


class Seen(dict):
    """What is seen of each character, for str.translate: made at need."""

    def __missing__(self, code):
        one = chr(code)
        self[code] = " " if one in LINE_ENDS else spelt(one) if is_hidden(one) else code
        return self[code]


SEEN = Seen()


def shown(text):
    """What is seen of a text: what cannot be is spelt out, white space does not count, letters are in normal form C."""
    if text.isascii() and text.isprintable() and "<" not in text:
        return "".join(text.split())
    seen = text.translate(SEEN)
    seen = re.sub(r"<(?:U\+|0x)(?:0*9|0*[A-D]|0*85|202[89])>", "", re.sub(r"<(?:U\+|0x)?[0-9A-F]*…", "…", seen))
    return "".join(unicodedata.normalize("NFC", seen).split())


def is_hidden(one):
    is_noncharacter = ord(one) & 0xFFFE == 0xFFFE or 0xFDD0 <= ord(one) <= 0xFDEF
    return is_noncharacter or unicodedata.category(one) in ("Cc", "Cf", "Cs", "Zl", "Zp")


def spelt(one):
    return f"<U+{ord(one):04X}>" if ord(one) > 0x7f else f"<0x{ord(one):02X}>"


@functools.lru_cache(None)
def prose(text, with_targets=False):
    """The letters of a text after its CommonMark is gone, by cmark. What looks like raw HTML is text, and so is a picture; the
    target of a link that does not show it may stand behind it."""
    line = re.sub(f"[{LINE_ENDS}]", " ", text)
    line = "x " + re.sub(r"<(?![A-Za-z][A-Za-z0-9+.-]+:[^\s<>]*>)", r"\\<", line)
    page = subprocess.run(["cmark"], input=line.encode("utf-8"), stdout=subprocess.PIPE, check=True).stdout.decode("utf-8")
    page = re.sub(r'<img[^>]*alt="([^"]*)"[^>]*>', r"\1", page)
    if with_targets:
        page = re.sub(r'<a href="([^"]+)"[^>]*>(?!\1)(?!mailto:)(.*?)</a>', r"\2&lt;\1&gt;", page)
    return html.unescape(re.sub(r"<[^>]*>", "", page))[2:]


@functools.lru_cache(None)
def ways_of(text, form, is_name):
    """What a text may look like in an output."""
    ways = {shown(text)}
    if is_name:
        file_name = re.sub(rb"[^A-Za-z0-9.-]", b"_", unicodedata.normalize("NFC", text).encode("utf-8")).decode("ascii")
        ways |= {shown(each) for each in (text[0].upper() + text[1:], text.replace("-", " "), text.capitalize().replace("-", " "),
                                          file_name[:FILE_NAME_MOST])}
    elif form in RENDERED:
        ways |= {shown(prose(text)), shown(prose(text, True))}
    return ways


def ends(got, start, way):
    """Where a text that begins at `start` may end: whole, or cut off behind any part of it, with an ellipsis."""
    if got.startswith(way, start):
        yield start + len(way)
    cut = got.find("…", start)
    while cut >= 0 and way.startswith(got[start:cut]):
        yield cut + 1
        cut = got.find("…", cut + 1)


def misfit(got, plain, texts, form):
    """Where what was read is not the plain leaf with texts in place of words; None where it is, or is the beginning of it, cut
    off with an ellipsis."""
    places, before = {0}, ""
    for number, piece in enumerate(WORD.split(plain)):
        ways = {shown(piece)}
        if number % 2:
            before = texts[int(piece)]
            ways = ways_of(before, form, int(piece) >= slots.FIRST_NAME)
        elif before.endswith((".", "!", "?")) and piece.startswith("."):
            ways.add(shown(piece[1:]))  # a sentence that has an end gets no other
        after = {end for place in places for way in ways for end in ends(got, place, way)}
        if not after:
            return max(places), min(ways, key=len)
        places = after
        if len(got) in places and got.endswith("…"):
            return None
    return None if len(got) in places else (max(places), "the end")


def judge_sheet(form, tame, leaves, texts):
    """A sheet is laid out for as much as it has to say: heads and feet of its sides come as often as there are sides, and what
    it says in another order. No kind of element or attribute is new, and all that is said is said."""
    def kinds(all_leaves):
        return {leaf.split("=")[0] for leaf in all_leaves if leaf[:1] == "\0"}

    got = shown("".join(leaf for leaf in leaves if leaf[:1] != "\0"))
    wanted = {int(number) for leaf in tame for number in WORD.findall(leaf)}
    lost = [slots.what_is(number) for number in sorted(wanted)
            if not any(way in got for way in ways_of(texts[number], form, number >= slots.FIRST_NAME))]
    return sorted(kinds(leaves) - kinds(tame))[:5] + lost


def judge_leaf(form, one, other, texts, is_of_log):
    """One piece of the plain output against one of the other. A recipe's text comes whole into data, a log's as it is shown."""
    if form == "json" and not is_of_log:
        wanted = WORD.sub(lambda found: texts[int(found.group(1))], one)
        wanted, got = (unicodedata.normalize("NFC", MADE.sub("", leaf)) for leaf in (wanted, other))
        return None if wanted == got else f"{got[:100]!r}, wanted {wanted[:100]!r}"
    got = shown(MADE.sub("", other))
    found = misfit(got, MADE.sub("", one), texts, form)
    return found and f"at {found[0]}: {got[max(0, found[0] - 20):found[0] + 40]!r}, wanted {found[1][:60]!r}"


def judge(form, tame, leaves, texts, is_of_log=False):
    """The plain output with texts in place of words, against what was read: what differs. `texts` by number of the word."""
    if len(tame) != len(leaves):
        return [f"{len(leaves)} pieces, not {len(tame)}"]
    wrong = []
    for one, other in zip(tame, leaves):
        why = None if one == other else judge_leaf(form, one, other, texts, is_of_log)
        if why:
            where = ", ".join(slots.what_is(int(number)) for number in WORD.findall(one)[:3])
            wrong.append(f"{one[:60]!r} ({where}): {why}")
    return wrong


# ---- recipes ----

TEXTS = list(strings.STRINGS.values())


def row_of(number):
    """The texts by slot and the names of one recipe. From recipe to recipe each text comes to each slot, each name to each
    thing."""
    return ({slot: TEXTS[(place + number) % len(TEXTS)] for place, slot in enumerate(slots.SLOTS)},
            {name: strings.NAMES[(place + number) % len(strings.NAMES)] for place, name in enumerate(slots.recipe_names())})


def by_number(texts, names):
    """What the words of the plain recipe stand for. Cells of a rolls file that are read lose the blanks around them."""
    held = {number: texts[slot].strip(" \t") if slot.startswith("column") and slot != "column: foreign cell" else texts[slot]
            for number, slot in enumerate(slots.SLOTS)}
    held.update({slots.FIRST_NAME + number: names[name] for number, name in enumerate(slots.recipe_names())})
    return held


class Recipe:
    """A recipe in a folder, with what it is compared with by `diff`, and a log of its run."""

    def __init__(self, root, name, texts, names, log=None):
        self.folder, self.texts = os.path.join(root, name), by_number(texts, names)
        slots.write(self.folder, texts, names)
        self.base = os.path.join("..", name + "-base", "main.wet")
        slots.write(self.folder + "-base", {slot: f"old{number}" for number, slot in enumerate(slots.SLOTS)}, names)
        if log:
            lines = WORD.sub(lambda found: re.sub(r"[\t\r\n]", " ", self.texts[int(found.group(1))]), log)
            with open(os.path.join(self.folder, "run.log"), "w", encoding="utf-8", newline="") as file:
                file.write(lines)

    def make(self, product, form):
        return outputs.make(product, form, self.folder, self.base)


def log_of(recipe):
    """The log of a run of the plain recipe, by its own timer."""
    script = outputs.make("timer", "sh", recipe.folder, recipe.base)[1]
    with tempfile.TemporaryDirectory() as folder:
        with open(os.path.join(folder, "clock"), "w", encoding="ascii") as file:
            file.write("100.00\n")
        subprocess.run(["dash", "-s", "--", "--clock-file", "clock", "--log", "run.log"], input=script, cwd=folder,
                       stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=True, timeout=60)
        with open(os.path.join(folder, "run.log"), encoding="utf-8", newline="") as file:
            return file.read()


# ---- all of it ----

def check_output(product, form, tame, recipes, scratch):
    """One output of every recipe, read at once; the words of the plain one, by number."""
    with concurrent.futures.ThreadPoolExecutor(3) as pool:
        made = list(pool.map(lambda recipe: recipe.make(product, form), [tame, *recipes]))
    name = f"{product} --to {form}"
    fine = 1 if product == "diff" else 0
    failed = [(number, status, said[-300:]) for number, (status, data, said) in enumerate(made) if status != fine or not data]
    if not check(not failed, f"{name}: every recipe gives one", failed[:2]):
        return 0
    may_hold = {ord(one): "" for one in ("\n\r\t" if form in ("csv", "ics", "html", "sh") else "\n")}
    raw = [number for number, (_, data, _) in enumerate(made)
           if form != "wav" and strings.HIDDEN.search(data.decode("utf-8").translate(may_hold))]
    check(not raw, f"{name}: no control, nothing hidden", f"recipes {raw}")
    (plain, fault), *read = outputs.READERS[form]([data for _, data, _ in made], scratch)
    check(not fault and WORD.search("".join(plain)) or form == "wav", f"{name}: the plain one is read, and has words", fault)
    judged = judge_sheet if product == "sheet" else functools.partial(judge, is_of_log=product == "review")
    wrong = []
    for number, (recipe, (leaves, complaints)) in enumerate(zip(recipes, read)):
        wrong += [f"recipe {number}: {str(each)[:300]}" for each in complaints[:3] + judged(form, plain, leaves, recipe.texts)[:3]]
    check(not wrong, f"{name}: the plain one with the texts in it, {len(recipes)} times", "\n".join(wrong))
    return {int(word) for leaf in plain for word in WORD.findall(leaf)}


def main():
    check(not slots.missing(), "every place of the grammar and column that takes a text is in the recipe", slots.missing())
    check(not outputs.unsorted(), "every output and command is known to these tests", outputs.unsorted())
    begun, shown_in = time.monotonic(), []
    with tempfile.TemporaryDirectory() as root, tempfile.TemporaryDirectory() as scratch:
        plain = (slots.tame_texts(), slots.tame_names())
        log = log_of(Recipe(root, "first", *plain))
        tame = Recipe(root, "plain", *plain, log)
        recipes = [Recipe(root, str(number), *row_of(number), log) for number in range(len(TEXTS))]
        for product, form in outputs.emitters():
            some = recipes[::40] if form == "wav" else recipes
            shown_in += [check_output(product, form, tame, some, scratch)] * len(some)
        left = {name for recipe in recipes for name in os.listdir(recipe.folder)} - {"main.wet", "run.log"}
        check(all(name.endswith((".wet", ".csv")) for name in left), "nothing came into being beside the recipes", left)
    unseen = {slots.what_is(number) for number in range(len(slots.SLOTS)) if number not in set().union(*shown_in)}
    check(unseen <= set(slots.FILES), "every text is shown by an output, but the names of files", unseen)
    found = sum(map(len, shown_in))
    print(f"{len(TEXTS)} strings x {len(slots.SLOTS)} slots x {len(outputs.emitters())} outputs: each string in each slot through each "
          f"output; {found} times a text was found, {time.monotonic() - begun:.0f} s")
    end()


if __name__ == "__main__":
    main()
