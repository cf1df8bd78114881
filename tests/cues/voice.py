#!/usr/bin/env python3
# builds: plain
"""The spoken sound track (the library itself leaves some memory behind, which the sanitizer would report): the signals are where they are without a voice, words stand between them, in one buffer, and
nothing that is said can be markup. A library that is missing, or of another version, is said and nothing is written."""

import ctypes.util
import json
import os
import shutil
import subprocess
import sys
import tempfile

import hearing
from harness import WETSIDE, check, end, run, skip

np = hearing.np
RECIPE = """wetside 1
allow no-hazards-declared "cases for a test"
tank jar {{ holds 600 mL; takes 2 x 135; fill 6 s; drain 6 s }}
solution {name} {{ role developer; reuse; waste developer }}
solution fixer {{ role fix; reuse; waste silver }}
process film {{
  develops black-and-white-negative
  tank jar
  step develop in {name} at 20 °C for 6:00 {{ agitate first 30 s, then 5 s every 30 s }}
  step fix in fixer at 20 °C for 5:00 {{ agitate first 30 s, then 5 s every 30 s }}
}}
"""


def record(folder, *words, **more):
    """The samples of a track, and what was said."""
    target = os.path.join(folder, f"{len(words)}.wav")
    done = run("cues", "--to", "wav", "-o", target, *words, os.path.join(folder, "film.wet"), **more)
    return hearing.samples(hearing.chunks(target)).astype(int) if done.returncode == 0 else None, done


def check_spoken(folder):
    silent, _ = record(folder)
    spoken, done = record(folder, "--voice")
    if not check(spoken is not None, "there is a spoken track", done.stderr.decode()):
        return
    again, _ = record(folder, "--voice")
    check(np.array_equal(spoken, again), "it is the same a second time")
    is_signal = silent != 0
    check(np.array_equal(spoken[:len(silent)][is_signal], silent[is_signal]), "the signals are the same with a voice")
    check(abs(spoken).max() <= 0.91 * 32767, "it is not distorted", abs(spoken).max())
    cues = json.loads(run("cues", "--to", "json", os.path.join(folder, "film.wet")).stdout)["cues"]
    words_s = {}
    only = spoken.copy()
    only[:len(silent)][is_signal] = 0
    instants = sorted({cue["at_s"] for cue in cues}) + [len(spoken) / hearing.RATE]
    for at, following in zip(instants, instants[1:]):
        piece = only[int(at * hearing.RATE):int(following * hearing.RATE)]
        words_s[at] = np.count_nonzero(abs(piece) > 300) / hearing.RATE
    check(min(words_s.values()) > 0.2, f"something is said at each of {len(words_s)} instants", words_s)
    kinds = {}
    for cue in cues:
        kinds.setdefault(cue["kind"], []).append(words_s[cue["at_s"]])
    check(max(kinds["pour"]) > 2 * min(kinds["agitation-end"]), "a pour has more to say than the end of an agitation", kinds)


def check_memory(folder):
    done = subprocess.run(["sh", "-c", 'ulimit -v 131072; exec "$@"', "sh", WETSIDE, "cues", "--to", "wav", "--voice", "-o",
                           os.path.join(folder, "x.wav"), os.path.join(folder, "film.wet")], check=False)
    check(done.returncode == 0, "it is made within 128 MiB, the library among them", done.returncode)


def check_missing(folder):
    """A library in another's place: LD_LIBRARY_PATH comes before the system's folders."""
    other = os.path.join(folder, "lib")
    os.mkdir(other)
    place = os.path.join(other, "libespeak-ng.so.1")
    with open(place, "w", encoding="utf-8") as file:
        file.write("no library\n")
    target = os.path.join(folder, "none.wav")
    words = ["cues", "--to", "wav", "--voice", "-o", target, os.path.join(folder, "film.wet")]
    done = run(*words, environment={"LD_LIBRARY_PATH": other})
    check(done.returncode == 2 and b"libespeak-ng" in done.stderr and b"not installed" in done.stderr
          and done.stderr.count(b"\n") == 1 and not os.path.exists(target), "a missing library is said", done.stderr.decode())
    done = run(*[word for word in words if word != "--voice"], environment={"LD_LIBRARY_PATH": other})
    check(done.returncode == 0, "without --voice it is not looked for", done.stderr.decode())
    compiler = shutil.which("cc") or shutil.which("gcc")
    subprocess.run([compiler, "-shared", "-x", "c", "-o", place, "-"], input=b"int espeak_Initialize(void) { return 0; }",
                   check=True)
    done = run(*words, environment={"LD_LIBRARY_PATH": other})
    check(done.returncode == 2 and b"version" in done.stderr, "a library of another kind is said", done.stderr.decode())


def check_starts_nothing(folder):
    if not shutil.which("strace"):
        skip("no program is started", "strace is not installed")
        return
    log = os.path.join(folder, "strace")
    subprocess.run(["strace", "-f", "-e", "trace=execve,connect", "-o", log, WETSIDE, "cues", "--to", "wav", "--voice",
                    "-o", os.path.join(folder, "y.wav"), os.path.join(folder, "film.wet")], check=True)
    with open(log, encoding="utf-8") as file:
        calls = [line for line in file if "execve(" in line or "connect(" in line and '"/dev/null"' not in line]
    check(len(calls) == 1, "no program is started, and nobody is called", calls)


def main():
    if not ctypes.util.find_library("espeak-ng"):
        print("libespeak-ng is not installed")
        sys.exit(77)
    with tempfile.TemporaryDirectory() as folder:
        with open(os.path.join(folder, "film.wet"), "w", encoding="utf-8") as file:
            file.write(RECIPE.format(name="developer"))
        check_spoken(folder)
        check_memory(folder)
        check_missing(folder)
        check_starts_nothing(folder)
    end()


main()
