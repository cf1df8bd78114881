"""Texts that would do something where they are not made harmless: the one list for all tests. Not a test by itself.

STRINGS are texts that a recipe may hold, by name; every test that pushes hostile texts through something takes them, or some
of them by name, from here. REFUSED are bytes that a recipe may not hold. NAMES are names that mean something elsewhere."""

import json
import re

STRINGS = {
    # a shell
    "command substitution": "$(touch pwned)",
    "backquotes": "`touch pwned`",
    "quotes": "'; touch pwned; '\"; touch pwned; \"'\\''; touch pwned; '",
    "quote at the end": "x '",
    "double quotes": "\"x\" \"",
    "removal": "'; rm -rf x; '",
    "backslash at the end": "x \\",
    "newlines": "one\ntouch pwned\n\ntouch pwned\n;;\nesac\n}\ntouch pwned\nend",
    "comment": "# x # touch pwned",
    "line separators": "one\u2028two\u2029three\u0085four\x0bfive\x0csix",
    "variables": "${HOME} $IFS ${x:=$(touch pwned)} $((1/0)) ~ ~root",
    "globs": "* /* [a-z]* ? .*",
    "options": "--help",
    "short options": "-n -e -rf",
    "redirections": "> pwned >> pwned | tee pwned & < /dev/zero",
    "here document": "<<EOF\nEOF\n<<'END'\nx",
    "history": "!! !$ !rm ^a^b",
    "format": "%s%n%d%b\\a\\033[2J\\0101%",
    "escapes": "\\n\\\\ \\\" \\x41 \\u0041 \\c",
    "two lines of a log": "x\ncue\t2026-01-01T00:00:00Z\t1\t1\t1\tpour\t0\t0\t-",
    # HTML, and scripts in it
    "script": "<script>document.title='ran'</script><img src=x onerror=alert(1)>",
    "script in a script": "</script><script>window.ran = 1; alert(1)</script>",
    "attribute": "x\" onload=\"alert(1)\" style=\"display:none\" '><img src=x onerror=alert(1)>",
    "end of a comment": "x --> --!> <!--<script> <!-- y -->",
    "end of CDATA": "]]> <![CDATA[y",
    "end of a style": "</style><style>*{display:none}</style>",
    "end of a title": "</title></textarea></svg></td></tr></table></div></body>",
    "links": "javascript:alert(1) data:text/html,x vbscript:x",
    "references": "&amp; &lt;b&gt; &#60; &#x3c;script&#x3e; &copy; & < > \" '",
    "template": "${alert(1)} {{alert(1)}} `${document.title = 1}`",
    "picture in a picture": "<svg onload=alert(1)><use href=\"http://x.invalid/#y\"/></svg>",
    "replacement": "$& $1 $` $' \\1 &",
    # CommonMark
    "heading": "# x",
    "underline": "x\n===\n---\ny",
    "list": "- x\n1. y\n+ z\n* w",
    "quote": "> x\n    code",
    "fence": "```sh\nrm x\n``` ~~~ x",
    "picture": "![x](javascript:alert(1)) ![y](http://x.invalid/y.png)",
    "bad links": "[x](javascript:alert(1)) [y](data:text/html,z) [z](vbscript:x) <javascript:x> [w](JaVaScRiPt:x)",
    "good links": "[page](https://archive.invalid/a?b=c&d=e \"title\") <mailto:a@b.invalid> <http://c.invalid/>",
    "reference": "[x]: http://x.invalid \"y\" [x]",
    "backquotes in pairs": "`a` ``b ` c`` ` d \\` \\\\ \\*",
    "emphasis": "*a* **b** ***c*** _d_ __e__ a*b*c *unclosed **nested*",
    "table": "| a | b |\n|---|---|\n| c | d |",
    "numbers": "1. 2) 3\\. 12.",
    "hashes": "a # b ## c #",
    "breaks": "a\\\nb  \nc",
    "brackets": "[a] [b](c) ![d] [e][f] (g) <h> {i}",
    "html block": "<div>\n\n<p>x</p>\n\n</div>",
    "task": "[ ] x [x] y",
    # a spreadsheet
    "formula": "=cmd()",
    "formula with plus": "+1+1",
    "formula with minus": "-1+1",
    "formula with at": "@SUM(1)",
    "formula behind a tab": "\t=1+1",
    "formula with a pipe": "=cmd|' /C calc'!A0",
    "separators": "a,b;c\t\"d\"\"",
    # a calendar, captions
    "event": "x\nEND:VEVENT\nBEGIN:VEVENT\nSUMMARY:y",
    "property": "X;Y=Z:a,b;c\\n \\, \\;",
    "long line": "abcdefgh " * 30 + "é" * 60,
    "caption": "one\n\n1\n00:00:00.000 --> 00:10:00.000\ntwo",
    "caption settings": "--> ---> -->--> <c.x><b>::cue {x} NOTE STYLE",
    "comment block": "NOTE\n\nSTYLE\n::cue { color: red }",
    # JSON, and what reads it
    "end of a string": "\\\", \"x\": \\u0022} ]",
    "prototype": "__proto__",
    "surrogates": "\\uD800 \\uDC00\\uD800 \\u0000 \\ud83d",
    # a terminal
    "controls": "x\x01\x07\x08\x1b[2J\x1b]0;x\x07\x7f",
    "clipboard": "\x1b]52;c;cHduZWQ=\x07y\x1b]52;c;!\x1b\\",
    "C1 controls": "x\u009b31m\u0090q\u009d52;c;x\u009c\u0085",
    "backspaces": "good\x08\x08\x08\x08evil",
    # make and ninja
    "rules": "$$(x) $x %: | ; a:b #c \\#",
    # what is not seen, or not as it stands
    "direction": "a\u202etxet\u202c \u202ab\u202bc\u202d \u2066d\u2067e\u2068f\u2069 \u200e\u200f\u061c",
    "invisible": "a\u200b\u200d\u200c\u2060\ufeff\u00ad\U000e0041b",
    "spaces": "  two  spaces\u00a0and\u3000odd ones  ",
    "blanks around": "\u3000x\u00a0",
    "wide": "水洗い é ö 𝔘 🎞",
    "many wide": "水洗い" * 60,
    "combining": "xe\u0301" * 100,
    "noncharacters": "x\ufffe\uffff\ufdd0\U0001ffff",
    "degree": "~ ° ± − \u00a0x",
    # too much
    "long word": "w" * 5000,
    "long text": "many words " * 500,
    "deep": "*a **b " * 300 + "c** d*" * 300,
    "100 kB": "W" * 100_000,
}

# What each slot of these tests can hold has to be different, and Markdown's meaning of a text differs from its letters.
LONG = {"long word", "long text", "deep", "100 kB"}

# Bytes between the quotes of a text, and what the finding says.
REFUSED = {
    "NUL": b"a\x00b",
    "0xFF": b"a\xffb",
    "overlong slash": b"a\xc0\xafb",
    "overlong NUL": b"a\xe0\x80\x80b",
    "high surrogate": b"a\xed\xa0\x80b",
    "pair of surrogates": b"a\xed\xa0\xbd\xed\xb8\x80b",
    "beyond Unicode": b"a\xf4\x90\x80\x80b",
    "truncated": b"a\xe2\x82",
    "lone continuation": b"a\x80b",
    "five bytes": b"a\xf8\x88\x80\x80\x80b",
    "Latin-1": b"20 \xb0C",
    "UTF-16": "a\u00e9b".encode("utf-16"),
    "line end": b"a\nb",
    "carriage return": b"a\rb",
    "unknown escape": b"a\\xb",
    "escape at the end": b"a\\",
}

# Names of the language that mean something to a shell, a program of ours or another.
NAMES = ["constructor", "toString", "prototype", "rm-rf", "esac", "done", "exit", "eval", "null", "NaN", "true", "undefined",
         "EOF", "END-VEVENT", "CON", "x-00", "水洗い", "e\u0301tude", "שלום", "п" * 300, "hasOwnProperty", "trap", "read",
         "cue", "event", "plan-step", "n" * 700]  # a finding keeps to 2,000 bytes

HIDDEN = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f\u00ad\u061c\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff"
                    "\U000e0000-\U000e0fff]")


def quoted(text):
    """A text as the language writes it."""
    text = text.replace("\\", "\\\\").replace('"', '\\"').replace("\r\n", "\n").replace("\r", "\n")
    return '"' + text.replace("\n", "\\n") + '"'


def some(*names):
    """Those of these names, in this order."""
    return {name: STRINGS[name] for name in names}


if __name__ == "__main__":
    print(json.dumps(STRINGS))
