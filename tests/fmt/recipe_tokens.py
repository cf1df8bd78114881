"""Tokens and comments of a recipe, read without the program, with spellings that mean the same made one."""

import re

UNITS = {}
TOKEN = re.compile(r"""(?P<comment>\#[^\r\n]*)|(?P<text>"(?:[^"\\\r\n]|\\.)*")|(?P<end>\r\n|\r|\n|;)|(?P<blank>[ \t]+)
    |(?P<dilution>\d+(?:\.\d+)?(?:[ \t]*\+[ \t]*\d+(?:\.\d+)?)+)|(?P<clock>\d+:[\d:.]+)|(?P<date>\d{4}-\d\d-\d\d)
    |(?P<number>[-−]?\d+(?:\.\d+)?)|(?P<range>\.\.|…|–)|(?P<within>±|\+-|\+/-)|(?P<times>×)|(?P<sign>[{},])
    |(?P<unit>°[ \t]*[A-Za-z]+|℃|℉|%|(?:US|UK|imp)[ \t]+(?:fl[ \t]+oz|\w+)|sq[ \t]+in|k?J/mol|(?:cm|in)²)
    |(?P<name>[^\W\d_][^\s{},;"\#%°±…–×]*)""", re.X)


def _scan(source):
    text = source.decode().removeprefix("\ufeff")
    at = 0
    while at < len(text):
        match = TOKEN.match(text, at)
        if match is None:
            raise ValueError(f"no token: {text[at:at + 20]!r}")
        if match.lastgroup == "name" and re.match(r"x\d", match[0]) and text[at - 1:at].isdigit():
            yield "name", "x"
            at += 1
            continue
        at = match.end()
        yield match.lastgroup, match[0]


def _units():
    import harness
    for canonical, spellings in re.findall(r'^UNIT\(\w+, "([^"]*)".*"([^"]*)"\)$',
                                           harness.read("src/syntax/units.def"), re.M):
        for spelling in [canonical, *spellings.split(" ")]:
            UNITS[spelling.replace("_", " ")] = canonical


def comments(source):
    """Every comment in order, without blanks at its end."""
    return [text.rstrip(" \t") for kind, text in _scan(source) if kind == "comment"]


def tokens(source):
    """Every token in order; clause ends once, and not where they end nothing."""
    if not UNITS:
        _units()
    found = []
    for kind, text in _scan(source):
        if kind in ("comment", "blank"):
            continue
        before = found[-1] if found else ";"
        if kind == "end":
            if before not in (";", "{", ","):
                found.append(";")
            continue
        if text == "}" and before == ";":
            found.pop()
        is_figure = re.fullmatch(r"-?\d+(\.\d+)?", before) is not None
        if kind == "range":
            text = ".."
        elif kind == "within":
            text = "±"
        elif kind == "times" or (text == "x" and is_figure):
            text = "x"
        elif kind in ("unit", "name") and is_figure or kind == "unit":
            text = re.sub(r"[ \t]+", " ", text)
            text = UNITS.get(text, UNITS.get(text.replace("° ", "°"), text))
        elif kind == "dilution":
            text = re.sub(r"[ \t]", "", text)
        elif kind == "number":
            text = text.replace("−", "-")
        found.append(text)
    if found and found[-1] == ";":
        found.pop()
    return found
