#!/usr/bin/env python3
"""`wetside fmt` as a command: what it writes where, what it leaves alone, and its exit statuses."""

import os
import shutil
import subprocess
import sys
import tempfile

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
import harness

FORM = """wetside 1

tank small {
  holds 1 L                                    # to the rim
  fill 8 s
  drain 8 s
}
graduate jug { holds 1.5 L; note "a" }
"""
ODD = "\ufeffwetside   1\r\n\r\n\r\n\r\n" + """tank small {

\tholds 1l # to the rim
fill 8seconds; drain 8 s }
graduate jug {holds 1.5 litres;note "a"}""".replace("\n", "\r\n").replace("\nfill", "\n fill")
BROKEN = "wetside 1\ntank small { holds holds }\n"

folder = tempfile.mkdtemp()


def write(name, text):
    with open(os.path.join(folder, name), "wb") as file:
        file.write(text.encode())
    os.utime(os.path.join(folder, name), (1000, 1000))


def read(name):
    with open(os.path.join(folder, name), "rb") as file:
        return file.read().decode()


def fmt(*arguments, **more):
    return harness.run("fmt", *arguments, cwd=folder, **more)


write("form.wet", FORM)
write("odd.wet", ODD)
write("broken.wet", BROKEN)
os.chmod(os.path.join(folder, "odd.wet"), 0o640)
os.symlink("odd.wet", os.path.join(folder, "link.wet"))

result = fmt("--check", "form.wet", "odd.wet")
harness.check((result.returncode, result.stdout, result.stderr) == (1, b"odd.wet\n", b""), "--check lists what would change", result)
harness.check(fmt("--check", "form.wet").returncode == 0, "--check is content with the form")
harness.check(read("odd.wet") == ODD, "--check writes nothing")

result = fmt("--diff", "odd.wet")
shutil.copy(os.path.join(folder, "odd.wet"), os.path.join(folder, "patched.wet"))
patched = subprocess.run(["patch", "--binary", "-s", "patched.wet"], input=result.stdout, cwd=folder, check=False)
harness.check(result.returncode == 1 and patched.returncode == 0 and read("patched.wet") == FORM, "patch takes what --diff shows", result)
result = fmt("--diff", "form.wet")
harness.check((result.returncode, result.stdout) == (0, b""), "--diff shows nothing where nothing would change", result)
harness.check(fmt("--diff", "--check", "form.wet").returncode == 2, "--check and --diff are one too many")

result = fmt("-", stdin=ODD.encode())
harness.check((result.returncode, result.stdout.decode()) == (0, FORM), "- goes to standard output", result)
result = fmt("--stdin-name", "sink.wet", "-", stdin=BROKEN.encode())
harness.check(result.returncode == 2 and result.stdout == b"" and result.stderr.startswith(b"sink.wet:2:"), "--stdin-name is in messages", result)

result = fmt("form.wet", "broken.wet", "link.wet", "nowhere.wet")
harness.check(result.returncode == 2 and b"broken.wet:2:" in result.stderr and b"nowhere.wet" in result.stderr, "each file is reported", result)
harness.check(read("broken.wet") == BROKEN, "a file with mistakes of syntax is left alone")
harness.check(read("odd.wet") == FORM and os.path.islink(os.path.join(folder, "link.wet")), "the file behind a link is formatted")
harness.check(os.stat(os.path.join(folder, "odd.wet")).st_mode & 0o777 == 0o640, "its mode is kept")
harness.check(os.stat(os.path.join(folder, "form.wet")).st_mtime == 1000, "a file that has the form is not written")
harness.check(sorted(os.listdir(folder)) == ["broken.wet", "form.wet", "link.wet", "odd.wet", "patched.wet"], "nothing else is left")
harness.check(fmt().returncode == 2, "a FILE is wanted")

result = fmt("-", stdin="wetside 1\nuse \"none.wet\"\ntank a { holds 3 pints }\n".encode())
harness.check(result.returncode == 0 and b"holds 3 pints }" in result.stdout, "other mistakes do not stand in the way", result)
# Behind a unit that is none, what does not fit is not told for itself; it is lost all the same.
for rest in ("(", "(}", "[ note \"a\"", "} }"):
    lost = f"wetside 1\nprocess b {{ step r8°{rest} }}\n"
    result = fmt("-", stdin=lost.encode())
    harness.check(result.returncode == 2 and result.stdout == b"" and b"not a unit" in result.stderr, f"nothing is dropped behind a wrong unit: {rest}", result)
long_list = "wetside 1\nsolution a {\n  hazards " + ", ".join(f"H{number}" for number in range(301, 331)) + "\n}\n"
result = fmt("-", stdin=long_list.encode())
lines = result.stdout.decode().split("\n")
harness.check(max(map(len, lines)) <= 100 and lines[3].startswith("      H3"), "long lists are folded", result)
shutil.rmtree(folder)
harness.end()
