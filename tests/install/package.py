#!/usr/bin/env python3
# builds: plain
# lasts: 60
# timeout: 900
"""`make dist` and `make deb` in two folders, under different users' settings, give the same bytes; the archive builds
without git; the package installs, runs and purges in a root of its own, and lintian finds no error in it."""

import os
import pathlib
import re
import shutil
import subprocess
import sys
import tarfile
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1]))

import harness

# Not optimised, so that two builds take half the time (without it there is no _FORTIFY_SOURCE either); everything else is as in
# a real package.
QUICK = {"DEB_BUILD_OPTIONS": "noopt"}


def run(words, folder, environment=None, **more):
    return subprocess.run(words, cwd=folder, check=False, stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
                          env=dict(os.environ, **(environment or {})), **more)


def copy_tree(place):
    """The files of the project, without what was made."""
    shutil.copytree(harness.ROOT, place, symlinks=True,
                    ignore=shutil.ignore_patterns("build", "node_modules", ".git", "__pycache__", "*.swp", "*~"))


def same(name, one, two):
    """Whether each made one file of that kind, and the same."""
    found = [sorted(pathlib.Path(folder).glob(name)) for folder in (one, two)]
    right = [len(files) for files in found] == [1, 1] and found[0][0].name == found[1][0].name
    return right and found[0][0].read_bytes() == found[1][0].read_bytes(), found


def judge_dist(one, two):
    first = run(["make", "dist"], one, {"TZ": "Asia/Tokyo", "LC_ALL": "C"})
    second = run(["sh", "-c", "umask 077; make dist"], two, {"TZ": "America/Lima", "LC_ALL": "C.UTF-8"})
    equal, found = same("build/dist/*.tar.gz", one, two)
    harness.check(equal, "two archives are the same bytes", f"{found}\n{first.stdout}\n{second.stdout}")
    with tarfile.open(found[0][0]) as archive:
        members = archive.getmembers()
    harness.check(not [one for one in members if one.uid or one.gid or one.mode not in (0o644, 0o755)],
                  "an archive belongs to nobody and everybody may read it")
    names = [member.name for member in members]
    harness.check(names == sorted(names) and len({name.split("/")[0] for name in names}) == 1,
                  "the names of an archive are sorted, in one folder")
    harness.check(len({member.mtime for member in members}) == 1, "its files are of one time")
    listed = run(["git", "ls-files", "-co", "--exclude-standard"], harness.ROOT)
    if listed.returncode == 0:
        wanted = sorted(listed.stdout.decode().splitlines())
        harness.check(sorted(name.partition("/")[2] for name in names) == wanted, "it holds what git holds",
                      f"differs by {set(wanted) ^ {name.partition('/')[2] for name in names}}")
    dated = run(["make", "dist", "SOURCE_DATE_EPOCH=86400"], one)
    with tarfile.open(found[0][0]) as archive:
        harness.check({member.mtime for member in archive} == {86400}, "SOURCE_DATE_EPOCH dates it", dated.stdout)
    return found[1][0]


def judge_deb(one, two):
    made = run(["make", "-j2", "deb"], one, {**QUICK, "TZ": "Asia/Tokyo"})
    harness.check(made.returncode == 0, "the package is made", made.stdout.decode())
    made = run(["sh", "-c", "umask 077; make -j2 deb"], two, {**QUICK, "LC_ALL": "C.UTF-8"})
    harness.check(made.returncode == 0, "the package is made from the archive, without git", made.stdout.decode())
    equal, found = same("build/deb/*.deb", one, two)
    harness.check(equal, "two packages are the same bytes", found)
    return found[0][0]


def judge_contents(package):
    fields = run(["dpkg-deb", "--field", package], "/").stdout.decode()
    version = re.search(r'WETSIDE_VERSION "(.*)"', harness.read("src/commands/version.h"))[1]
    harness.check(f"Version: {version}\n" in fields, "the package has the program's version", fields)
    missing = [name for name in ("libc6", "libcmark", "libjansson", "libmd", "libutf8proc")
               if not re.search(rf"^Depends:.*\b{name}", fields, flags=re.M)]
    harness.check(not missing, "it names the libraries it needs", fields)
    if not shutil.which("lintian"):
        harness.skip("lintian finds no error", "no lintian")
        return
    told = run(["lintian", "--allow-root", "--fail-on", "error,warning", package], "/")
    harness.check(told.returncode == 0, "lintian finds no error and no warning", told.stdout.decode())


def judge_life(package, folder):
    """Installs, runs and purges below a root of its own, which has the packages of this machine."""
    root = pathlib.Path(folder, "root")
    admin = root / "var/lib/dpkg"
    for name in ("info", "updates", "triggers"):
        (admin / name).mkdir(parents=True)
    shutil.copy("/var/lib/dpkg/status", admin / "status")
    be_root = [] if os.getuid() == 0 else ["fakeroot"]
    if be_root and not shutil.which("fakeroot"):
        harness.skip("the package installs, runs and purges", "neither root nor fakeroot")
        return
    dpkg = [*be_root, "dpkg", f"--root={root}", "--force-not-root", "--force-bad-path", "--log=/dev/null"]

    def there():
        return sorted(str(path.relative_to(root)) for path in root.rglob("*") if "var/lib/dpkg" not in str(path))

    before = there()
    told = run([*dpkg, "--install", package], "/")
    harness.check(told.returncode == 0, "the package installs", told.stdout.decode())
    program = root / "usr/bin/wetside"
    told = run([program, "cues", os.path.join(harness.ROOT, "examples/black-and-white.wet"), "--process",
                "black-and-white"], "/")
    harness.check(told.returncode == 0 and told.stdout, "its program runs", told.stdout.decode())
    for page in ("man1/wetside.1.gz", "man5/wetside.5.gz"):
        harness.check((root / "usr/share/man" / page).is_file(), f"it has {page}")
    unread = [str(path) for path in root.rglob("usr/**/*") if path.stat().st_mode & 0o444 != 0o444]
    harness.check(not unread, "everybody may read it", unread)
    told = run([*dpkg, "--purge", "wetside"], "/")
    harness.check(told.returncode == 0 and there() == before, "a purge leaves nothing",
                  f"{told.stdout.decode()}\nleft: {there()}")


def main():
    missing = [tool for tool in ("dpkg-deb", "dpkg-buildflags", "dpkg-shlibdeps", "tar", "gzip") if not shutil.which(tool)]
    if missing:
        harness.skip("packages", f"no {missing}")
        harness.end()
    with tempfile.TemporaryDirectory() as folder:
        one, two = os.path.join(folder, "a"), os.path.join(folder, "elsewhere", "deeper")
        copy_tree(one)
        copy_tree(two)
        archive = shutil.copy(judge_dist(one, two), folder)
        shutil.rmtree(two)
        os.makedirs(two)
        run(["tar", "-xf", archive, "--strip-components=1"], two)
        package = judge_deb(one, two)
        judge_contents(package)
        judge_life(package, folder)
    harness.end()


main()
