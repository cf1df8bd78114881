#!/usr/bin/env python3
"""The grammars of grammar/editor/ hold every keyword of words.def and every unit of units.def, and no other. `--write`
brings them up to date."""

import json
import pathlib
import re
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1]))

import harness
from definitions import ROOT, rows

WRITES = "--write" in sys.argv
VIM = ROOT / "grammar/editor/vim/syntax/wetside.vim"
TEXTMATE = ROOT / "grammar/editor/textmate/wetside.tmLanguage.json"
WORDS = [row[1] for row in rows("syntax/words.def", "WORD")]
# Words that `syntax keyword` reads as its own.
VIM_OPTIONS = {"contains", "contained", "containedin", "nextgroup", "skipwhite", "skipempty", "skipnl", "transparent",
               "conceal", "cchar", "fold", "display", "extend", "oneline", "keepend", "excludenl"}
SPELLINGS = sorted({spelling for row in rows("syntax/units.def", "UNIT") for spelling in row[5].split()},
                   key=lambda spelling: (-len(spelling), spelling))


def declarers():
    """The keywords that a name of one's own follows: those of declarations with a title, and `step`."""
    grammar = harness.read("grammar/reference.ebnf")
    declarations = re.search(r"^declaration\b(.*?);\n\n", grammar, flags=re.M | re.S)[1]
    return [*re.findall(r'"([^"]+)" name \[ string \]', declarations), *re.findall(r'^step\s*= "([^"]+)" name', grammar, re.M)]


def wrapped(beginning, words):
    """Vim commands of at most 118 columns that begin alike."""
    lines = [beginning]
    for word in words:
        if len(lines[-1]) + 1 + len(word) > 118:
            lines.append(beginning)
        lines[-1] += " " + word
    return "\n".join(lines)


def vim_unit(spelling):
    return re.sub(r"([/.*~\[\]\\^$])", r"\\\1", spelling).replace("_", r"\s\+")


def vim_parts():
    names = declarers()
    units = r"\|".join(vim_unit(spelling) for spelling in SPELLINGS)
    plain = [word for word in WORDS if word not in names and word not in VIM_OPTIONS]
    matched = "".join(rf"{chr(10)}syntax match wetsideKeyword /\<{word}\>/" for word in WORDS if word in VIM_OPTIONS)
    return {
        "grammar/reference.ebnf": wrapped("syntax keyword wetsideDeclaration nextgroup=wetsideName skipwhite", names),
        "src/syntax/words.def": wrapped("syntax keyword wetsideKeyword", plain) + matched,
        "src/syntax/units.def": rf"syntax match wetsideUnit /\%(\d\s*\)\@20<=\%({units}\)\ze\%([^[:alnum:]]\|$\)/",
    }


def vim_made():
    text = VIM.read_text(encoding="utf-8")
    for source, part in vim_parts().items():
        text = re.sub(rf'(" made from {re.escape(source)}[^\n]*\n).*?(" end\n)',
                      lambda match, part=part: f"{match[1]}{part}\n{match[2]}", text, flags=re.S)
    return text


def alternatives(words):
    return "|".join(re.escape(word).replace(r"\-", "-") for word in sorted(words, key=lambda word: (-len(word), word)))


def textmate_made():
    names = declarers()
    units = "|".join(re.sub(r"([.*^$])", r"\\\1", spelling).replace("_", "\\s+") for spelling in SPELLINGS)
    grammar = json.loads(TEXTMATE.read_text(encoding="utf-8"))
    repository = grammar["repository"]
    free, over = r"(?<![\p{L}\p{N}-])", r"(?![\p{L}\p{N}-])"
    repository["declaration"]["match"] = rf"{free}({alternatives(names)})\s+(\p{{L}}[\p{{L}}\p{{N}}-]*)"
    repository["figure"]["match"] = (r"(?<![\p{L}\p{N}-])([-+]?[0-9](?:[0-9.:+-]*[0-9])?)"
                                     rf"(?:\s*({units})(?![\p{{L}}\p{{N}}]))?")
    repository["keyword"]["match"] = f"{free}(?:{alternatives(word for word in WORDS if word not in names)}){over}"
    return json.dumps(grammar, indent="\t", ensure_ascii=False) + "\n"


def listed(pattern):
    """The words of an alternation, as a grammar has them."""
    return [word.replace("\\", "") for word in pattern.split("|")]


def judge_sets():
    """The sets read back from the files by other means than they were made."""
    text = VIM.read_text(encoding="utf-8")
    found = [word for line in re.findall(r"^syntax keyword wetside\w+ (.*)$", text, re.M) for word in line.split()
             if not word.startswith("nextgroup=") and word != "skipwhite"]
    found += re.findall(r"^syntax match wetsideKeyword /\\<(.*)\\>/$", text, re.M)
    harness.check(sorted(found) == sorted(WORDS), "Vim's syntax file has the keywords and no other",
                  f"{set(found) ^ set(WORDS)}")
    repository = json.loads(TEXTMATE.read_text(encoding="utf-8"))["repository"]
    found = listed(re.search(r"\(([^()?][^()]*)\)", repository["declaration"]["match"])[1])
    found += listed(re.search(r"\(\?:(.*?)\)\(\?!", repository["keyword"]["match"])[1])
    harness.check(sorted(found) == sorted(WORDS), "the TextMate grammar has the keywords and no other",
                  f"{set(found) ^ set(WORDS)}")
    wanted = {spelling.replace("_", " ") for spelling in SPELLINGS}
    units = re.search(r"\\s\*\((.*?)\)\(\?!", repository["figure"]["match"])[1].replace(r"\s+", " ")
    harness.check(set(listed(units)) == wanted, "the TextMate grammar has the units", f"{set(listed(units)) ^ wanted}")
    units = re.search(r"wetsideUnit .*<=\\%\((.*)\\\)\\ze", text)[1].replace(r"\s\+", " ").replace(r"\|", "|")
    harness.check(set(listed(units)) == wanted, "Vim's syntax file has the units", f"{set(listed(units)) ^ wanted}")


def main():
    for path, made in ((VIM, vim_made()), (TEXTMATE, textmate_made())):
        if WRITES:
            path.write_text(made, encoding="utf-8")
        else:
            harness.check(path.read_text(encoding="utf-8") == made, f"{path.relative_to(ROOT)} is as the tables have it",
                          f"bring it up to date with: {sys.argv[0]} --write")
    if not WRITES:
        judge_sets()
        harness.end()


if __name__ == "__main__":
    main()
