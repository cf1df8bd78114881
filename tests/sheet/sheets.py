"""What the tests of the sheet share: the sheets of all example processes, a hostile recipe, and the text that a rendering
shows. Not a test by itself."""

import html.parser
import os
import re
import shutil
import subprocess
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "hostile"))
import harness  # noqa: E402
import strings  # noqa: E402

FORMATS = ("html", "markdown")
BLOCKS = {"address", "article", "blockquote", "body", "br", "div", "h1", "h2", "h3", "h4", "h5", "h6", "hr", "li", "main",
          "ol", "p", "pre", "section", "ul"}
VOID = {"br", "hr", "meta", "img", "link", "input"}

# Texts that would do something if they were not made inert.
PAYLOADS = dict(strings.some(
    "script", "end of CDATA", "heading", "underline", "list", "quote", "fence", "picture", "bad links", "good links", "reference",
    "references", "backquotes in pairs", "emphasis", "end of a style", "command substitution", "formula", "spaces", "controls",
    "direction", "numbers", "hashes", "breaks", "wide", "brackets", "html block"), long="w" * 400)

HOSTILE = """wetside 1
allow no-waste-route {0}
allow development-too-short {0}
tank small {0} {{ holds 1 L; takes 4 x 135; fill 8 s; drain 8 s; note {0} }}
thermometer no-2 {0} {{ reads 0.1 °C; correction -0.2 °C }}
dryer cabinet {0} {{ takes 16 rolls; for 2 h }}
film old {0} {{ family black-and-white-negative }}
solution soup {0} {{ role developer; one-shot; hazards H317; note {0}
  mix {{ water 800 mL at 40 °C; add {0} 10 g; top up to 1 L }} }}
solution hypo {0} {{ role fix; reuse; hazards none; note {0} }}
process hostile {0} {{
  develops black-and-white-negative
  film old
  tank small
  thermometer no-2
  step develop in soup at 20 ± 0.5 °C for 4:00 {{ agitate first 30 s, then 10 s every 1:00; note {0} }}
  step fix in hypo at 18 .. 24 °C for 5:00 .. 10:00 {{ agitate first 30 s; note {0} }}
  step wash in running water at 18 .. 24 °C for at least 10:00 {{ note {0} }}
  step dry in cabinet for 2 h {{ note {0} }}
}}
"""


def need(*commands):
    """Ends the script with status 77 where a command is missing."""
    missing = [command for command in commands if not shutil.which(command)]
    if missing:
        print(f"{', '.join(missing)} is not installed")
        sys.exit(77)


def processes():
    """Every (file, process) of examples/, in order."""
    found = []
    for name in sorted(os.listdir(os.path.join(harness.ROOT, "examples"))):
        if name.endswith(".wet"):
            path = os.path.join("examples", name)
            found += [(path, process) for process in re.findall(r"^process ([\w-]+)", harness.read(path), re.M)]
    return found


def emit(product, form, path, process=None, options=()):
    """A product as text; ends the script where the program doesn't make it."""
    chosen = ["--process", process] if process else []
    done = harness.run(product, "--to", form, *chosen, *options, path)
    if done.returncode != 0:
        harness.not_ok(f"{product} --to {form} of {path} {process or ''}", done.stderr.decode("utf-8", "replace"))
        harness.end()
    return done.stdout.decode("utf-8")


quoted = strings.quoted


def hostile(folder, name):
    """The path of a recipe in which every text is a payload."""
    path = os.path.join(folder, re.sub(r"\W+", "-", name) + ".wet")
    with open(path, "w", encoding="utf-8", newline="") as file:
        file.write(HOSTILE.format(quoted(PAYLOADS[name])))
    return path


def cmark(markdown, *options):
    """What the reference implementation of CommonMark makes of a text."""
    return subprocess.run(["cmark", *options], input=markdown.encode("utf-8"), stdout=subprocess.PIPE,
                          check=True).stdout.decode("utf-8")


class Page(html.parser.HTMLParser):
    """The elements, attributes and shown text of a page; pictures and the head are left out of the text."""

    def __init__(self, page):
        super().__init__(convert_charrefs=True)
        self.elements, self.attributes, self.links, self._text, self._hidden = [], [], [], [], []
        self.feed(page)
        self.close()

    def handle_starttag(self, tag, attributes):
        self.elements.append(tag)
        self.attributes += [(tag, name, value) for name, value in attributes]
        self.links += [value for name, value in attributes if name in ("href", "src", "srcset", "action", "data")]
        if tag in ("head", "svg", "style", "script"):
            self._hidden.append(tag)
        if tag in BLOCKS:
            self._text.append(" ")

    def handle_endtag(self, tag):
        if self._hidden and self._hidden[-1] == tag:
            self._hidden.pop()
        if tag in BLOCKS:
            self._text.append(" ")

    def handle_data(self, data):
        if not self._hidden:
            self._text.append(data)

    @property
    def text(self):
        """The text with every run of white space as one space; a no-break space counts as white space too."""
        return " ".join("".join(self._text).split())


def words(text):
    """A text's words, for comparing without regard to white space."""
    return text.split()


# ---- the checkers of others ----

NODE = os.path.join(harness.ROOT, "tests", "node", "node_modules")


def write(folder, name, page):
    """A page as a file; its path."""
    path = os.path.join(folder, re.sub(r"[ :/]+", "-", name) + ".html")
    with open(path, "w", encoding="utf-8", newline="") as file:
        file.write(page)
    return path


def is_guess(line):
    """vnu guesses the language of the words, and hostile ones are of none; html-validate counts a reference such as
    &lt; as several characters of a title."""
    return "This document appears to be written in" in line or ("hostile" in line and "[long-title]" in line)


def ask(name, command, paths):
    """Runs a checker over all pages at once; what it says names the page."""
    done = subprocess.run([*command, *paths], stdout=subprocess.PIPE, stderr=subprocess.STDOUT, check=False)
    said = done.stdout.decode("utf-8", "replace")
    for path in paths:
        lines = [line for line in said.splitlines() if os.path.basename(path) in line and not is_guess(line)]
        harness.check(not lines, f"{name}: {os.path.basename(path)}", "\n".join(lines[:10]))
    strange = [line for line in said.splitlines() if line and not is_guess(line)]
    harness.check(not strange, f"{name} has nothing else to say", "\n".join(strange[:10]))


def validate(paths):
    """vnu (the W3C's, with its CSS and content policy checks), html-validate and tidy over pages."""
    need("java", "node", "tidy")
    vnu = os.path.join(NODE, "vnu-jar", "build", "dist", "vnu.jar")
    html_validate = os.path.join(NODE, ".bin", "html-validate")
    if not os.path.exists(vnu) or not os.path.exists(html_validate):
        harness.skip("validators", "vnu-jar or html-validate is not installed in tests/node")
        sys.exit(77)
    ask("vnu", ["java", "-jar", vnu, "--format", "gnu", "--Werror"], paths)
    ask("html-validate", [html_validate, "--formatter", "text"], paths)
    for path in paths:  # tidy does not name the page
        done = subprocess.run(["tidy", "-quiet", "-errors", path], stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
                              check=False)
        lines = [line for line in done.stdout.decode("utf-8", "replace").splitlines() if not is_of_picture(line)]
        harness.check(not lines and done.returncode <= 1, f"tidy: {os.path.basename(path)}", "\n".join(lines[:10]))


def is_of_picture(line):
    """tidy knows of SVG only that it is there: neither an <svg> element's own font nor a <title> in it with an id."""
    return re.search(r'<svg> proprietary attribute "font-(family|size)"|<title> proprietary attribute "id"', line)
