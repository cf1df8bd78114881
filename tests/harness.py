"""What the Python test scripts share: where things are, running the program, and printing results."""

import os
import subprocess
import sys

ROOT = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
WETSIDE = os.environ.get("WETSIDE", os.path.join(ROOT, "build", "wetside"))

_failures = 0


def ok(name):
    """Reports a test that passed."""
    print(f"ok - {name}", flush=True)


def not_ok(name, why=""):
    """Reports a test that failed; `why` is shown indented under it."""
    global _failures
    _failures += 1
    print(f"not ok - {name}")
    for line in str(why).splitlines():
        print(f"    {line}")
    sys.stdout.flush()


def check(condition, name, why=""):
    """Reports a test by its condition and returns it; `why` may be a function that is called only on failure."""
    if condition:
        ok(name)
    else:
        not_ok(name, why() if callable(why) else why)
    return bool(condition)


def skip(name, reason):
    """Reports a test that could not be run."""
    print(f"skip - {name}: {reason}", flush=True)


def end():
    """Ends the script with the status that agrees with its results."""
    sys.exit(1 if _failures else 0)


def run(*arguments, stdin=b"", cwd=ROOT, environment=None, timeout=60):
    """Runs the program; returns the completed process with stdout and stderr as bytes."""
    return subprocess.run([WETSIDE, *arguments], input=stdin, cwd=cwd, timeout=timeout, check=False,
                          stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=dict(os.environ, **(environment or {})))


def cases(count):
    """How many random cases to make: so many, or the per cent of them that $WETSIDE_CASES says (for `make mutants`)."""
    return max(1, count * int(os.environ.get("WETSIDE_CASES", "100")) // 100)


def retry_with_system_python(wanted):
    """For a module that is not found: another interpreter may come first in PATH, without the system's packages. Runs the
    script again with the system's own, or ends it."""
    system = "/usr/bin/python3"
    if os.path.exists(system) and os.path.realpath(sys.executable) != os.path.realpath(system):
        os.execv(system, [system, *sys.argv])
    print(f"{wanted} is not installed")
    sys.exit(77)


def read(path):
    """The text of a file of the repository."""
    with open(os.path.join(ROOT, path), encoding="utf-8") as file:
        return file.read()
