"""Recipes for cases of one check, and what is asked of their findings: for the scripts beside this."""

import os
import sys

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))

import expectations  # noqa: E402
import harness  # noqa: E402

TANK = "tank small { holds 1 L; takes 4 x 135; fill 8 s; drain 8 s }"
AGITATION = "agitate first 15 s, then 5 s every 1 min"


def solution(name, role, *clauses, waste="developer"):
    """A bath that gives no cause for anything else."""
    return f"solution {name} {{ role {role}; dilute 1+4; one-shot; {''.join(c + '; ' for c in clauses)}" \
           f"hazards none; waste {waste} }}"


BATHS = {
    "developer": solution("developer", "developer"),
    "stop-bath": solution("stop-bath", "stop", waste="acid"),
    "fixer": solution("fixer", "fix", waste="silver"),
    "wetting-agent": solution("wetting-agent", "wetting-agent"),
    "stabiliser": solution("stabiliser", "stabiliser"),
    "bleach-fix": solution("bleach-fix", "bleach-fix", waste="silver"),
    "bleach": solution("bleach", "bleach", waste="bleach"),
    "monobath": solution("monobath", "monobath", waste="silver"),
    "clearing-bath": solution("clearing-bath", "clearing", "contains sulfite", waste="acid"),
    "first-developer": solution("first-developer", "first-developer"),
    "reversal-bath": solution("reversal-bath", "reversal-bath"),
    "colour-developer": solution("colour-developer", "colour-developer"),
    "pre-bleach": solution("pre-bleach", "pre-bleach", waste="bleach"),
    "conditioner": solution("conditioner", "conditioner", waste="bleach"),
}


def step(bath, time=None, *clauses, name=None, role=None):
    """A step at 20 °C; with agitation where nothing is said and the bath is a solution."""
    if time is None:
        time = {"developer": "8:00", "fixer": "5:00", "running water": "20:00"}.get(bath, "2:00")
    clauses = list(clauses)
    still = bath in ("running water", "water", "light", "air") or any(c.startswith("agitate") for c in clauses)
    if not still and "silent" not in clauses:
        clauses.append(AGITATION)
    clauses = [c for c in clauses if c != "silent"]
    head = f"  step {name or bath.replace(' ', '-')}{f' as {role}' if role else ''} in {bath}"
    if bath != "light":
        head += f" at 20 ± 1 °C for {time}"
    return head + (" {\n    " + "\n    ".join(clauses) + "\n  }" if clauses else "")


def recipe(*steps, family="black-and-white-negative", tank=TANK, baths=None, process=(), extra=(), films=()):
    """A whole file: a process of these steps and the baths that they name."""
    declared = dict(BATHS, **(baths or {}))
    named = [text for name, text in declared.items() if any(f" in {name} " in s for s in steps)]
    lines = ["wetside 1", *extra, tank, *films, *named, "process harbour {", f"  develops {family}", "  tank small",
             *(f"  {clause}" for clause in process), *steps, "}"]
    return "\n".join(lines) + "\n"


def found(text, name="tests/checks/rules.wet"):
    """The ids that a recipe gets, sorted, and the messages."""
    completed = harness.run("check", "--stdin-name", name, "-", stdin=text.encode())
    messages = completed.stderr.decode("utf-8", "replace")
    findings = expectations.findings_of(messages)
    if completed.returncode != expectations.status_for(findings):
        messages += f"\nexit status {completed.returncode}"
        return ["wrong exit status"], messages
    return sorted(finding.id for finding in findings), messages


def expect(name, text, *ids):
    """The recipe gets exactly these ids."""
    got, messages = found(text)
    harness.check(got == sorted(ids), name, f"wanted {sorted(ids)}, got {got}\n{messages}\n{text}")


def limit(check, name, build, bearable, too_much):
    """The check is quiet at the first value and fires at the second."""
    expect(f"{check}: {name}, {bearable}", build(bearable))
    expect(f"{check}: {name}, {too_much}", build(too_much), check)


def says(name, text, *parts):
    """The messages about the recipe hold these pieces."""
    messages = found(text)[1].replace("\u00a0", " ")
    missing = [part for part in parts if part not in messages]
    harness.check(not missing, f"says: {name}", f"not said: {missing}\n{messages}\n{text}")


FIX = step("fixer")
WASH = step("running water")
DEVELOP = step("developer")
