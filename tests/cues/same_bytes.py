#!/usr/bin/env python3
"""The same source gives the same bytes in another time zone, locale, directory, under another umask and user."""

import os
import shutil
import subprocess
import tempfile

import read_back
from harness import ROOT, WETSIDE, check, end, run, skip

EXAMPLE = "colour-negative-bleach-fix.wet"
PROCESS = "colour-negative"
PRODUCTS = [("cues", form) for form in read_back.FORMATS] + [("cues", "wav"), ("sheet", "html"), ("sheet", "markdown"), ("timer", "sh")] + \
    [("mix", form) for form in ("html", "markdown", "json")]
PRODUCTS += [("forecast", form) for form in ("text", "csv", "json", "svg")]


def made(folder="examples", **options):
    """Every product from the example in a folder."""
    path = os.path.join(folder, EXAMPLE)
    return {product: read_back.emit(path, *product, PROCESS, **options) for product in PRODUCTS}


def compare(usual, others, where):
    for product in PRODUCTS:
        check(usual[product] == others[product], f"{' '.join(product)}: the same bytes {where}")


def german_locale(folder):
    """An environment in which de_DE.UTF-8 exists and shows a decimal comma; None where it can't be made."""
    if not shutil.which("localedef"):
        return None
    target = os.path.join(folder, "de_DE.UTF-8")
    subprocess.run(["localedef", "-c", "-i", "de_DE", "-f", "UTF-8", target], stdout=subprocess.DEVNULL,
                   stderr=subprocess.DEVNULL, check=False)
    environment = {"LOCPATH": folder, "LC_ALL": "de_DE.UTF-8", "LANG": "de_DE.UTF-8"}
    shown = subprocess.run([shutil.which("printf"), "%.1f", "1,5"], env=dict(os.environ, **environment),
                           stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, check=False)
    return environment if shown.stdout == b"1,5" else None


def check_umask(usual, folder):
    for product in PRODUCTS:
        target = os.path.join(folder, "output")
        old = os.umask(0o077)
        done = run(product[0], "--to", product[1], "--process", PROCESS, "-o", target,
                   os.path.join("examples", EXAMPLE))
        os.umask(old)
        with open(target, "rb") as file:
            check(done.returncode == 0 and file.read() == usual[product],
                  f"{' '.join(product)}: the same bytes in a file under umask 077")
        os.remove(target)


def check_user(usual):
    """As nobody, with a copy of program and examples that everybody may read, where everybody may look."""
    if os.geteuid() != 0:
        skip("another user", "only root can become one")
        return
    with tempfile.TemporaryDirectory(dir="/tmp") as folder:
        os.chmod(folder, 0o755)
        program = shutil.copy(WETSIDE, os.path.join(folder, "wetside"))
        os.chmod(program, 0o755)
        examples = shutil.copytree(os.path.join(ROOT, "examples"), os.path.join(folder, "examples"))
        os.chmod(examples, 0o755)
        for name in os.listdir(examples):
            os.chmod(os.path.join(examples, name), 0o644)
        for product in PRODUCTS:
            done = subprocess.run([program, product[0], "--to", product[1], "--process", PROCESS, EXAMPLE],
                                  user=65534, group=65534, extra_groups=[], cwd=examples,
                                  env={"PATH": os.environ["PATH"], "HOME": "/nonexistent", "USER": "nobody"},
                                  stdout=subprocess.PIPE, stderr=subprocess.PIPE, check=False)
            check(done.stdout == usual[product], f"{' '.join(product)}: the same bytes as another user",
                  done.stderr.decode())


def main():
    usual = made()
    compare(usual, made(), "again")
    for zone in ("Pacific/Kiritimati", "America/St_Johns"):
        compare(usual, made(environment={"TZ": zone}), f"in the time zone {zone}")
    with tempfile.TemporaryDirectory() as folder:
        german = german_locale(folder)
        if german:
            compare(usual, made(environment=german), "in the locale de_DE.UTF-8")
        else:
            skip("locale de_DE.UTF-8", "localedef cannot make it")
        compare(usual, made(environment={"LC_ALL": "C", "LANG": "C"}), "in the locale C")
        copy = os.path.join(folder, "examples")
        shutil.copytree(os.path.join(ROOT, "examples"), copy)
        compare(usual, made(copy), "from another directory by its full path")
        compare(usual, made(".", cwd=copy), "from within another directory")
        check_umask(usual, folder)
    check_user(usual)
    end()


if __name__ == "__main__":
    main()
