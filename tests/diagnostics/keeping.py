#!/usr/bin/env python3
"""What keeps recipes in order: `wetside new`, the hooks for pre-commit (E4), the job of docs/building.md (E5)."""

import json
import os
import re
import shlex
import shutil
import subprocess
import sys
import tempfile

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))

from corpus import get, harness, put  # noqa: E402

# The problem matcher for gcc that editors and CI systems share, as VS Code's documentation prints it.
GCC_MATCHER = re.compile(r"^(.*?):(\d+):(\d*):?\s+(?:fatal\s+)?(warning|error):\s+(.*)$")
NAMES = ["trial", "colour-negative-2", "Köln", "フィルム", "water", "step", "a"]
NO_NAMES = ["", "a b", "a_b", "-a", "a-", "a--b", "1a", "a/b", "../a", "a.wet", "a\nb", 'x "t" {}', "a\u202eb", "a\u00a0b", "±", "a#b", b"\xff"]


def judge_new(folder):
    for name in NAMES:
        done = harness.run("new", name, cwd=folder)
        checked = harness.run("check", "--deny-warnings", "--diagnostics", "json", f"{name}.wet", cwd=folder)
        harness.check(done.returncode == 0 and not done.stderr and checked.returncode == 0 and not checked.stdout,
                      f"new {name} writes a recipe without findings", done.stderr + checked.stdout)
        text = get(os.path.join(folder, f"{name}.wet")).decode()
        harness.check(f"process {name} " in text and "@@" not in text and text.count("#") >= 8, f"new {name}: named and commented")
    for product in ("sheet", "cues", "timer", "mix", "forecast"):
        done = harness.run(product, "trial.wet", cwd=folder)
        harness.check(done.returncode == 0 and len(done.stdout) > 500, f"the starter makes a {product}", done.stderr.decode())
    before = sorted(os.listdir(folder))
    for name in NO_NAMES:
        done = harness.run(*([] if name == "--" else ["new", "--", name]), cwd=folder)
        harness.check(done.returncode == 2 and done.stderr.count(b"\n") == 1 and b"is not a name" in done.stderr
                      and b"\x1b" not in done.stderr, f"new {name!r} is refused", done.stderr)
    harness.check(sorted(os.listdir(folder)) == before, "and writes nothing")
    put(folder, "trial.wet", "mine")
    done = harness.run("new", "trial", cwd=folder)
    harness.check(done.returncode == 2 and get(os.path.join(folder, "trial.wet")) == b"mine" and b"there already" in done.stderr,
                  "new overwrites nothing")
    os.symlink("nowhere", os.path.join(folder, "dangling.wet"))
    harness.check(harness.run("new", "dangling", cwd=folder).returncode == 2, "new does not write through a link")
    done = harness.run("new", "-o", "other.wet", "trial", cwd=folder)
    plain = harness.run("new", "trial", "-o", "-", cwd=folder)
    harness.check(done.returncode == 0 and get(os.path.join(folder, "other.wet")) == plain.stdout, "-o FILE and -o -")
    harness.check(harness.run("new", cwd=folder).returncode == 2 and harness.run("new", "a", "b", cwd=folder).returncode == 2,
                  "new wants one name")


def judge_hooks(folder):
    try:
        import yaml
    except ImportError:
        harness.skip("hooks", "python3-yaml is not installed")
        return
    hooks = yaml.safe_load(harness.read(".pre-commit-hooks.yaml"))
    harness.check([hook["id"] for hook in hooks] == ["wetside-check", "wetside-fmt"], "E4: a hook for check, one for fmt")
    for hook in hooks:
        harness.check({"id", "name", "entry", "language", "files"} <= set(hook) and hook["language"] == "system"
                      and re.search(hook["files"], "a/b.wet") and not re.search(hook["files"], "a.wet.txt"),
                      f"E4: {hook['id']} says what pre-commit has to know", hook)
    entry = shlex.split(hooks[0]["entry"])
    harness.check(entry[0] == "wetside", "E4: the program is the one that is installed")
    paths = [put(folder, f"{number}.wet", harness.run("new", "-o", "-", f"p{number}").stdout) for number in range(12)]
    batches = [paths[:4], paths[4:8], paths[8:]]
    running = [subprocess.Popen([harness.WETSIDE, *entry[1:], *batch], stderr=subprocess.PIPE) for batch in batches]
    words = [process.communicate()[1] for process in running]
    harness.check([process.returncode for process in running] == [0, 0, 0] and not any(words), "E4: batches side by side are well")
    put(folder, "5.wet", "wetside 1\nprocess p {")
    done = harness.run(*entry[1:], *paths)
    harness.check(done.returncode == 1 and b"5.wet:2:" in done.stderr, "E4: one wrong file of a batch fails it")


def blocks(path, language):
    return re.findall(rf"^```{language}\n(.*?)^```", harness.read(path), flags=re.M | re.S)


def shell(script, folder):
    os.makedirs(os.path.join(folder, "bin"), exist_ok=True)
    if not os.path.exists(os.path.join(folder, "bin", "wetside")):
        os.symlink(harness.WETSIDE, os.path.join(folder, "bin", "wetside"))
    path = os.path.join(folder, "bin") + ":" + os.environ["PATH"]
    return subprocess.run(["sh", "-c", script], cwd=folder, env=dict(os.environ, PATH=path), check=False,
                          stdout=subprocess.PIPE, stderr=subprocess.PIPE)


def judge_job(folder):
    job = [block for block in blocks("docs/building.md", "sh") if "sarif" in block][0]
    recipe = harness.run("new", "-o", "-", "trial").stdout
    put(folder, "recipes/a.wet", recipe)
    for name, content, status in (("clean", recipe, 0), ("wrong", recipe.replace(b"0.5", b"0,5"), 1)):
        put(folder, "recipes/b.wet", content)
        done = shell(job, folder)
        log = json.loads(get(os.path.join(folder, "wetside.sarif")))
        harness.check(done.returncode == status and len(log["runs"][0]["results"]) == status, f"E5: the job: {name} recipes",
                      done.stderr.decode())
    shutil.rmtree(os.path.join(folder, "recipes"))
    harness.check(shell(job, folder).returncode == 2, "E5: the job: no recipes")
    put(folder, "b.wet", recipe.replace(b"0.5", b"0,5"))
    done = harness.run("check", "b.wet", cwd=folder)
    match = GCC_MATCHER.match(done.stderr.decode().splitlines()[0])
    harness.check(match and match.groups()[:4] == ("b.wet", "44", "37", "error"), "E5: gcc's problem matcher reads a finding",
                  done.stderr.decode())


def judge_builds(folder):
    """The rules that the document prints, as they stand there."""
    put(folder, "colour-negative.wet", harness.run("new", "-o", "-", "trial").stdout)
    for tool, language, file in (("make", "make", "Makefile"), ("ninja", "ninja", "build.ninja")):
        if not shutil.which(tool):
            harness.skip(f"docs/building.md: {tool}", "is not installed")
            continue
        put(folder, file, blocks("docs/building.md", language)[0])
        done = shell(f"{tool} && rm -f colour-negative.html", folder)
        again = shell(tool, folder)
        harness.check(done.returncode == 0 and again.returncode == 0 and os.path.exists(os.path.join(folder, "colour-negative.html")),
                      f"docs/building.md: the rules for {tool} work", done.stderr + again.stderr)


def main():
    for judge in (judge_new, judge_hooks, judge_job, judge_builds):
        with tempfile.TemporaryDirectory() as folder:
            judge(folder)
    harness.end()


if __name__ == "__main__":
    main()
