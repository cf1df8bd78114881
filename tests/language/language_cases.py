#!/usr/bin/env python3
# lasts: 15
"""Every tests/language/*.wet gets exactly the findings that its `# expect` comments name, and every recipe printed in the
documents compiles: the fenced blocks marked ```wetside in README.md, docs/*.md and src/check/explain/*.md.

    ```wetside                    a whole file: no error
    ```wetside fragment=process   clauses of a process, put in the place of `@@` in tests/language/fragments/process.wet;
                                  what the frame around them lacks does not count, a syntax error does
    ```wetside wrong              at least one error; wrong=ID: that finding, whatever its severity
In src/check/explain/ID.md, `wrong` means `wrong=ID`, and no other block may get ID. Blocks are read as if they stood in
examples/ as block.wet, so they may use its files."""

import glob
import os
import re
import shutil
import sys
import tempfile

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))

import expectations  # noqa: E402
import harness  # noqa: E402

FENCE = re.compile(r"^```wetside\b[ \t]*(?P<info>[^\n]*)\n(?P<body>.*?)^```[ \t]*$", re.MULTILINE | re.DOTALL)
FRAGMENTS = "tests/language/fragments"


def files(*patterns):
    """The files of the repository that match, in order."""
    return sorted(os.path.relpath(path, harness.ROOT)
                  for pattern in patterns for path in glob.glob(os.path.join(harness.ROOT, pattern)))


def judge_case(path):
    completed = harness.run("check", *expectations.options_in(harness.read(path)), path)
    messages = completed.stderr.decode("utf-8", "replace")
    findings = expectations.findings_of(messages)
    wrong = expectations.differences(harness.read(path), findings)
    if completed.returncode != expectations.status_for(findings):
        wrong.append(f"exit status {completed.returncode}\n{messages}")
    harness.check(not wrong, os.path.basename(path), "\n".join(wrong))


def whole_source(body, fragment):
    """A block as a file, and how many lines were put before it."""
    if not fragment:
        return body, 0
    frame = harness.read(f"{FRAGMENTS}/{fragment}.wet")
    before, _, after = frame.partition("@@")
    return before + body.rstrip("\n") + after, before.count("\n")


def check_beside_examples(source):
    """Runs `check` on a text as if it stood in examples/ under the name block.wet."""
    with tempfile.TemporaryDirectory() as folder:
        for path in files("examples/*.wet") + files("examples/*.csv"):
            shutil.copy(os.path.join(harness.ROOT, path), folder)
        with open(os.path.join(folder, "block.wet"), "w", encoding="utf-8") as file:
            file.write(source)
        return harness.run("check", *expectations.options_in(source), "block.wet", cwd=folder)


def judge_block(path, line, info, body):
    """Compiles one block of a document and judges it by the words after ```wetside."""
    options = dict(word.partition("=")[::2] for word in info.split())
    unknown = set(options) - {"fragment", "wrong"}
    name = f"{path}:{line}"
    if unknown:
        harness.not_ok(name, f"what does {' '.join(sorted(unknown))} mean?")
        return
    if "fragment" in options and not os.path.exists(os.path.join(harness.ROOT, FRAGMENTS, options["fragment"] + ".wet")):
        harness.not_ok(name, f"there is no {FRAGMENTS}/{options['fragment']}.wet")
        return
    explained = os.path.splitext(os.path.basename(path))[0] if path.startswith("src/check/explain/") else None
    source, offset = whole_source(body, options.get("fragment"))
    completed = check_beside_examples(source)
    messages = completed.stderr.decode("utf-8", "replace")
    findings = expectations.findings_of(messages)
    found = {finding.id for finding in findings}
    inside = range(offset + 1, offset + 1 + body.rstrip("\n").count("\n") + 1)
    errors = [finding for finding in findings if finding.severity == "error" and
              ("fragment" not in options or finding.line in inside or finding.id == "syntax")]
    if "wrong" in options:
        wanted = options["wrong"] or explained
        fits = wanted in found if wanted else bool(errors)
        asked = f"should get {wanted or 'an error'}"
    else:
        fits = not errors and explained not in found
        asked = f"should be free of errors{' and of ' + explained if explained else ''}"
    status_agrees = completed.returncode in ((0, 1) if "fragment" in options else (int(bool(errors)),))
    harness.check(fits and status_agrees, f"{name} {asked}",
                  f"(line 1 of the block is line {offset + 1})\n{messages}")


def main():
    for path in files("tests/language/*.wet"):
        judge_case(path)
    for path in files("README.md", "docs/*.md", "src/check/explain/*.md"):
        text = harness.read(path)
        for match in FENCE.finditer(text):
            judge_block(path, text.count("\n", 0, match.start()) + 1, match["info"], match["body"])
    harness.end()


main()
