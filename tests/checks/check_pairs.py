#!/usr/bin/env python3
"""Every row of src/support/checks.def has a pair here, ID.fires.wet and ID.quiet.wet: the first gets this finding alone,
where its `# expect ID` comments say, the second gets none though it differs little. ID.used.wet is read by the pair.
Every row has its text in src/check/explain/, and no file is left over in either folder."""

import os
import sys

TESTS = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
sys.path[:0] = [TESTS, os.path.join(TESTS, "structure")]

import definitions  # noqa: E402
import expectations  # noqa: E402
import harness  # noqa: E402

FOLDER = "tests/checks"
EXPLAIN = "src/check/explain"


def severities():
    """Each check's id and severity, from the table."""
    return {row[0].replace("_", "-"): row[1].lower() for row in definitions.rows("support/checks.def", "CHECK")}


def run(name):
    """The findings of a file and what is wrong with the run itself."""
    path = f"{FOLDER}/{name}"
    completed = harness.run("check", *expectations.options_in(harness.read(path)), path)
    messages = completed.stderr.decode("utf-8", "replace")
    findings = expectations.findings_of(messages)
    wrong = []
    if completed.returncode != expectations.status_for(findings):
        wrong.append(f"exit status {completed.returncode} with {len(findings)} findings\n{messages}")
    if completed.stdout:
        wrong.append("check wrote to standard output")
    return findings, wrong


def judge_fires(check, severity):
    findings, wrong = run(f"{check}.fires.wet")
    text = harness.read(f"{FOLDER}/{check}.fires.wet")
    wrong += expectations.differences(text, findings)
    if not any(finding.id == check for finding in findings):
        wrong.append("it does not fire")
    wrong += [f"another check fires: {finding.id}" for finding in findings if finding.id != check]
    wrong += [f"{finding.severity}, but its row says {severity}" for finding in findings
              if finding.id == check and finding.severity != severity]
    harness.check(not wrong, f"{check} fires", "\n".join(wrong))


def judge_quiet(check):
    findings, wrong = run(f"{check}.quiet.wet")
    wrong += [f"line {finding.line}: {finding.severity}: {finding.text} [{finding.id}]" for finding in findings]
    harness.check(not wrong, f"{check} is quiet", "\n".join(wrong))


def judge_files(checks):
    """Neither a missing nor a surplus file in the two folders."""
    own = {os.path.basename(__file__)}
    wanted = {f"{check}.{kind}.wet" for check in checks for kind in ("fires", "quiet")}
    allowed = wanted | {f"{check}.used.wet" for check in checks}
    present = {name for name in os.listdir(os.path.join(harness.ROOT, FOLDER)) if not name.startswith(".")} - own
    scripts = {name for name in present if name.endswith((".py", ".sh", ".mjs"))}
    for name in sorted(wanted - present):
        harness.not_ok(f"{FOLDER}/{name} exists")
    for name in sorted(present - allowed - scripts):
        harness.not_ok(f"{FOLDER}/{name} belongs to a check")
    explained = set(os.listdir(os.path.join(harness.ROOT, EXPLAIN)))
    for name in sorted({f"{check}.md" for check in checks} - explained):
        harness.not_ok(f"{EXPLAIN}/{name} exists")
    for name in sorted(explained - {f"{check}.md" for check in checks}):
        harness.not_ok(f"{EXPLAIN}/{name} belongs to a check")
    harness.ok("the folders were compared with the table")
    return present


def main():
    checks = severities()
    present = judge_files(checks)
    for check, severity in checks.items():
        if f"{check}.fires.wet" in present:
            judge_fires(check, severity)
        if f"{check}.quiet.wet" in present:
            judge_quiet(check)
    harness.end()


main()
