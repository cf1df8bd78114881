#!/usr/bin/env python3
# timeout: 600
# lasts: 15
"""The same findings as text, as JSON and as SARIF; places counted again by Python; what D14, D16, D17 and C3 ask for."""

import collections
import json
import os
import sys
import tempfile
import urllib.parse

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))

from corpus import harness, expectations, json_findings, options_of, put, recipes  # noqa: E402

LEVELS = {"error": "error", "warning": "warning", "hint": "note"}


def of_text(messages):
    """Line, severity, check and message of each finding of the text format."""
    return collections.Counter((finding.file, finding.line, finding.severity, finding.id, finding.text)
                               for finding in expectations.findings_of(messages))


def of_json(findings):
    return collections.Counter((finding["place"]["file"], finding["place"]["line"], finding["severity"], finding["check"],
                                finding["message"]) for finding in findings if finding["allowed"] is None)


def of_sarif(log):
    found = collections.Counter()
    severities = {level: severity for severity, level in LEVELS.items()}
    for result in log["runs"][0]["results"]:
        if result["suppressions"]:
            continue
        place = result["locations"][0]["physicalLocation"]
        found[(urllib.parse.unquote(place["artifactLocation"]["uri"]), place["region"]["startLine"],
               severities[result["level"]], result["ruleId"], result["message"]["text"].split("\n")[0])] += 1
    return found


def counted(content, offset):
    """Line and code-point column of a byte, by Python."""
    before = content[:offset].decode("utf-8", "surrogateescape")
    lines = before.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    return len(lines), len(lines[-1]) + 1


def misplaced(findings):
    """Places of findings whose line and column are not those that Python counts."""
    wrong = []
    for finding in findings:
        for place in [finding["place"], *(note["place"] for note in finding["notes"]), *finding["used_from"],
                      *(fix["place"] for fix in finding["fixes"])]:
            if place is None:
                continue
            with open(os.path.join(harness.ROOT, place["file"]), "rb") as file:
                content = file.read()
            for prefix in ("", "end_"):
                if counted(content, place[prefix + "offset"]) != (place[prefix + "line"], place[prefix + "column"]):
                    wrong.append(place)
    return wrong


def judge_recipe(path):
    words = [*options_of(path), path]
    text = harness.run("check", "--max-errors", "0", *words)
    findings = json_findings(*words)
    logged = harness.run("check", "--diagnostics", "sarif", *words)
    log = json.loads(logged.stdout)
    shown = of_text(text.stderr.decode("utf-8", "replace"))
    same = shown == of_json(findings) == of_sarif(log)
    harness.check(same, f"D16: {path}: the same findings in each format",
                  lambda: f"{shown}\n{of_json(findings)}\n{of_sarif(log)}")
    harness.check(text.returncode == logged.returncode, f"{path}: the same exit status")
    wrong = misplaced(findings)
    harness.check(not wrong, f"D2: {path}: lines, columns and offsets agree", wrong)
    prints = [result["partialFingerprints"]["wetsideFinding/v1"] for result in log["runs"][0]["results"]]
    harness.check(len(set(prints)) == len(prints), f"D17: {path}: no two fingerprints are the same", prints)
    return findings


def judge_streams(folder):
    """C3: machine formats on standard output where they are the product, else on standard error."""
    put(folder, "wrong.wet", "wetside 1\ntank t { holds 1,5 L }\n")
    for form in ("json", "sarif"):
        done = harness.run("check", "--diagnostics", form, "wrong.wet", cwd=folder)
        harness.check(done.stdout and not done.stderr and done.returncode == 1, f"C3: check: {form} on standard output",
                      done.stderr.decode())
        for command in ("sheet", "plan", "model"):
            done = harness.run(command, "--diagnostics", form, "wrong.wet", cwd=folder)
            harness.check(not done.stdout and done.stderr.startswith(b"{") and done.returncode == 1,
                          f"C3: {command}: {form} on standard error", done.stderr.decode())
    done = harness.run("check", "--diagnostics", "gnu", "wrong.wet", cwd=folder)
    plain = harness.run("check", "wrong.wet", cwd=folder)
    harness.check(done.stderr == plain.stderr and not done.stdout, "D16: gnu is the text that is the default")
    done = harness.run("check", "--diagnostics", "xml", "wrong.wet", cwd=folder)
    harness.check(done.returncode == 2 and b"gnu, json or sarif" in done.stderr, "another format is refused")
    done = harness.run("check", "--diagnostics", "sarif", "wrong.wet", "absent.wet", cwd=folder)
    harness.check(done.returncode == 2 and not json.loads(done.stdout)["runs"][0]["invocations"][0]["executionSuccessful"],
                  "D17: a file that cannot be read is no success")
    done = harness.run("check", "--diagnostics", "sarif", "wrong.wet", "wrong.wet", cwd=folder)
    results = json.loads(done.stdout)["runs"][0]["results"]
    prints = {result["partialFingerprints"]["wetsideFinding/v1"] for result in results}
    harness.check(len(results) == len(prints) == 2, "D17: several files make one log")
    many = "wetside 1\n" + "tank t { holds 1,5 L }\n" * 50
    put(folder, "many.wet", many)
    harness.check(len(json_findings("many.wet", cwd=folder)) >= 50, "D13: a program gets all findings")
    harness.check(len(json_findings("--max-errors", "3", "many.wet", cwd=folder)) == 3, "D13: or as many as it asks for")
    with open("/dev/full", "wb") as full:
        import subprocess
        done = subprocess.run([harness.WETSIDE, "check", "--diagnostics", "json", "wrong.wet"], cwd=folder, check=False,
                              stdout=full, stderr=subprocess.PIPE)
    harness.check(done.returncode == 2 and done.stderr.count(b"\n") == 1, "C8: a full standard output is one line and 2")


def judge_sarif(folder):
    """D17, by the words of the standard."""
    text = ('wetside 1\ntank t { holds 1,5 L; fill 0,5 s }\ntank u {\n'
            '  holds 500 mL\n  takes 1 x 135\n  allow never-used "kept for a second roll"\n}\n')
    name = "a file é.wet"
    put(folder, name, text)
    log = json.loads(harness.run("check", "--diagnostics", "sarif", name, cwd=folder).stdout)
    run = log["runs"][0]
    places = [result["locations"][0]["physicalLocation"] for result in run["results"]]
    harness.check(all(place["artifactLocation"] == {"uri": "a%20file%20%C3%A9.wet", "uriBaseId": "WORKING_FOLDER"}
                      for place in places) and places, "D17: names are relative and percent-encoded", places)
    base = run["originalUriBaseIds"]["WORKING_FOLDER"]["uri"]
    harness.check(base == "file://" + urllib.parse.quote(os.path.realpath(folder)) + "/", "D17: their base is stated", base)
    harness.check(run["columnKind"] == "unicodeCodePoints", "D17: columns are said to be code points")
    region = places[0]["region"]
    harness.check((region["startLine"], region["startColumn"], region["endColumn"]) == (2, 16, 19),
                  "D17: columns count from 1 and ends are exclusive", region)
    rules = run["tool"]["driver"]["rules"]
    listed = [line.split("\t")[1] for line in harness.run("explain", "--list").stdout.decode().splitlines()
              if line.startswith("check\t")]
    harness.check([rule["id"] for rule in rules] == listed, "D17: every check is a rule")
    harness.check(all(rule["helpUri"] and len(rule["help"]["markdown"]) > 200 for rule in rules),
                  "D17: every rule has its help")
    harness.check(all(rules[result["ruleIndex"]]["id"] == result["ruleId"] for result in run["results"]),
                  "D17: results point to their rules")
    absolute = os.path.join(os.path.realpath(folder), name)
    again = json.loads(harness.run("check", "--diagnostics", "sarif", absolute, cwd=folder).stdout)["runs"][0]
    harness.check([result["locations"] for result in again["results"]] == [result["locations"] for result in run["results"]],
                  "D17: a file below the working folder is relative to it however it was named")
    put(folder, "moved/" + name, "wetside 1\n\n# a comment\n" + text.split("\n", 1)[1])
    moved = json.loads(harness.run("check", "--diagnostics", "sarif", name, cwd=os.path.join(folder, "moved")).stdout)
    harness.check([result["partialFingerprints"] for result in moved["runs"][0]["results"]] ==
                  [result["partialFingerprints"] for result in run["results"]],
                  "D17: fingerprints stay when lines move")
    fix = run["results"][0]["fixes"][0]["artifactChanges"][0]["replacements"][0]
    harness.check(fix["insertedContent"]["text"] == "1.5" and fix["deletedRegion"] == region, "D17: fixes are fixes", fix)


def judge_allowed():
    """D17: an `allow` is a suppression with its reason; JSON has the reason too."""
    seen = 0
    for path in recipes():
        findings = [finding for finding in json_findings(*options_of(path), path) if finding["allowed"] is not None]
        if not findings:
            continue
        log = json.loads(harness.run("check", "--diagnostics", "sarif", *options_of(path), path).stdout)
        reasons = [result["suppressions"][0]["justification"] for result in log["runs"][0]["results"]
                   if result["suppressions"] and result["suppressions"][0]["kind"] == "inSource"]
        seen += len(reasons)
        if reasons != [finding["allowed"] for finding in findings]:
            harness.not_ok(f"D17: {path}: reasons of allow", f"{reasons}\n{findings}")
    harness.check(seen >= 3, f"D17: allow becomes a suppression with its reason ({seen} of them)")


def judge_order():
    """D14: by place, and the same bytes each time."""
    path = "tests/language/ten-mistakes.wet"
    for form in ("gnu", "json", "sarif"):
        first, second = (harness.run("check", "--diagnostics", form, path) for _ in range(2))
        harness.check((first.stdout, first.stderr) == (second.stdout, second.stderr), f"D14: {form}: the same bytes twice")
    places = [(finding["place"]["line"], finding["place"]["column"]) for finding in json_findings(path)]
    harness.check(places == sorted(places) and len(places) > 5, "D14: findings come in the order of their places")


def main():
    findings = [finding for path in recipes() for finding in judge_recipe(path)]
    harness.check(len(findings) > 200, f"there is something to compare ({len(findings)} findings)")
    with tempfile.TemporaryDirectory() as folder:
        judge_streams(folder)
        judge_sarif(folder)
    judge_allowed()
    judge_order()
    harness.end()


if __name__ == "__main__":
    main()
