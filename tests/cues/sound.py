#!/usr/bin/env python3
"""The sound track, heard with other ears (hearing.py): what sounds begins within 5 ms of the cues of `cues --to json`, is
told apart by rhythm and pitch, and is never distorted. sox reads its header; its size in memory does not follow its
length."""

import hashlib
import json
import os
import shutil
import subprocess
import sys
import tempfile

import hearing
import read_back
from harness import ROOT, WETSIDE, check, end, run, skip

np = hearing.np
NEAR_S = 0.005
IS_PLAIN = os.environ.get("WETSIDE_BUILD", "plain") == "plain"
# The bytes of one track: the same on every machine, and the same until a signal is changed on purpose.
KEPT = "49ea4cddae85da5a2cb2cf9ab74831a2591e67a806f9fb1dde0c363e1314648c"

TANK = "wetside 1\nallow no-hazards-declared \"cases for a test\"\ntank jar { holds 600 mL; takes 2 x 135; fill 6 s; drain 6 s }\n" \
    "solution developer { role developer; reuse; waste developer }\nsolution fixer { role fix; reuse; waste silver }\n"


def process(*steps):
    """A recipe of these steps."""
    return TANK + "process film {\n  develops black-and-white-negative\n  tank jar\n  " + "\n  ".join(steps) + "\n}\n"


DEVELOP, FIX = "step develop in developer at 20 °C for {} {{ {} }}", "step fix in fixer at 20 °C for {} {{ {} }}"
OFTEN = "agitate first 30 s, then 5 s every 30 s"
# Cues closer together than their signals: agitation that ends while the pour still sounds, a drain of a second or none.
CLOSE = process(DEVELOP.format("6:00", "agitate first 300 ms, then 100 ms every 700 ms"),
                "step rinse as rinse in water at 20 °C for 0:02 { agitate first 300 ms }",
                "step rinse-2 as rinse in water at 20 °C for 0:01 { agitate first 200 ms }",
                "step rinse-3 as rinse in water at 20 °C for 0:00.5 { agitate first 200 ms }",
                FIX.format("5:00 .. 6:00", OFTEN), "step wash in running water at 20 °C for 0:30 .. 1:00")


def record(folder, path, *words):
    """The track of a recipe as a file, and its cue list."""
    target = os.path.join(folder, "track.wav")
    done = run("cues", "--to", "wav", "-o", target, *words, path)
    check(done.returncode == 0, f"{path}: there is a track", done.stderr.decode())
    words = [word for word in words if not word.startswith(("--lead-in", "--voice"))]
    return target, json.loads(run("cues", "--to", "json", *words, path).stdout)


def at_sample(at_s, lead_in=0):
    return int(np.floor((at_s + lead_in) * hearing.RATE + 0.5))


def check_points(name, found, value):
    wanted = [(at_sample(cue["at_s"]), f"{cue['step_name']}: {cue['text']}") for cue in hearing.on_track(value)]
    own = hearing.cue_points(found)
    check(own == wanted, f"{name}: the cue points are the cues", lambda: [x for x in zip(own, wanted) if x[0] != x[1]][:3])


def check_header(name, path):
    found = hearing.chunks(path)
    count = len(hearing.samples(found))
    check(bytes(found["fmt "]).hex() == "0100010022560000" + "44ac000002001000", f"{name}: PCM, one channel, 22,050 Hz, 16 bits")
    if not shutil.which("soxi"):
        skip(f"{name}: sox reads the header", "sox is not installed")
        return
    said = [subprocess.run(["soxi", option, path], stdout=subprocess.PIPE, stderr=subprocess.STDOUT, check=False,
                           text=True).stdout.strip() for option in ("-t", "-c", "-r", "-b", "-s", "-e")]
    check(said == ["wav", "1", "22050", "16", str(count), "Signed Integer PCM"], f"{name}: sox reads the header", said)


def check_heard(name, sound, value, lead_in=0):
    """Everything that sounds, against everything that is to be heard."""
    heard = hearing.listen(sound)
    wanted = hearing.expected(hearing.on_track(value))
    wanted = [(at + lead_in, kind) for at, kind in wanted if at + lead_in >= 0]
    kinds = [kind for _, kind in heard]
    check(kinds == [kind for _, kind in wanted], f"{name}: each signal is told from the others ({len(wanted)} signals)",
          lambda: [(a[0] / hearing.RATE, a[1], b) for a, b in zip(heard, wanted) if a[1] != b[1]][:4])
    off = [abs(sample / hearing.RATE - at) for (sample, _), (at, _) in zip(heard, wanted)]
    check(off and max(off) < NEAR_S, f"{name}: onsets are within 5 ms (largest {1000 * max(off):.2f} ms)")
    firsts = {at_sample(cue["at_s"], lead_in) for cue in hearing.on_track(value)}
    exact = [sample for sample, _ in heard if sample in firsts]
    check(len(exact) == len(firsts), f"{name}: each instant's first sample is its cue's", f"{len(exact)} of {len(firsts)}")


def check_examples(folder):
    processes = read_back.example_processes()
    for number, (path, name) in enumerate(processes if IS_PLAIN else processes[:1]):
        track, value = record(folder, path, "--process", name)
        found = hearing.chunks(track)
        check_points(name, found, value)
        if number % 4 == 0:
            check_header(name, track)
            check_heard(name, hearing.samples(found), value)
    track, value = record(folder, path, "--process", name, "--lead-in=10s")
    check_heard(f"{name} with a lead-in", hearing.samples(hearing.chunks(track)), value, 10)


def check_close(folder):
    """Instants less than a second apart: none is lost, nothing is distorted."""
    path = os.path.join(folder, "close.wet")
    with open(path, "w", encoding="utf-8") as file:
        file.write(CLOSE)
    track, value = record(folder, path)
    found = hearing.chunks(track)
    sound = hearing.samples(found)
    check_points("close cues", found, value)
    check(int(np.abs(sound.astype(int)).max()) <= 0.91 * 32767, "close cues: not distorted", np.abs(sound).max())
    cues = hearing.on_track(value)
    lost = [at for at in sorted({cue["at_s"] for cue in cues}) if not rises(sound, at_sample(at))]
    check(not lost and len(cues) > 100, "close cues: something begins at each instant", lost)
    for kind in ("pour", "drain"):
        pattern = hearing.synthesized(hearing.signals()[kind])
        weak = [(at, round(likeness(sound, at_sample(at), pattern), 2)) for at, kinds in hearing.instants(cues)
                if kinds[0] == kind and likeness(sound, at_sample(at), pattern) < 0.6]
        check(not weak, f"close cues: every {kind} sounds whole", weak)


def rises(sound, at):
    """Whether the sound of the next 4 ms is not that of the last 4."""
    width = 4 * hearing.RATE // 1000
    before, behind = sound[max(0, at - width):at].astype(float), sound[at:at + width].astype(float)
    return len(behind) > 0 and abs(behind).max() > 500 and (len(before) == 0 or abs(before).max() == 0
                                                            or np.std(behind - before) > 500)


def likeness(sound, at, pattern):
    """How alike two sounds are in their pitches over time, from 0 to 1."""
    return similarity(shape(sound[at:at + len(pattern)].astype(float)), shape(pattern))


def shape(sound):
    width, step = 512, 256
    frames = [np.abs(np.fft.rfft(sound[i:i + width] * np.hanning(width)))[12:80] for i in range(0, len(sound) - width, step)]
    return np.array(frames)


def similarity(some, others):
    return float((some * others).sum() / (np.sqrt((some ** 2).sum() * (others ** 2).sum()) + 1e-9))


def check_memory(folder):
    """Ten minutes and two hours take the same memory."""
    peaks = {}
    for minutes in (10, 120):
        path = os.path.join(folder, f"{minutes}.wet")
        with open(path, "w", encoding="utf-8") as file:
            file.write(process(DEVELOP.format("8:00", OFTEN), FIX.format(f"{minutes - 8} min", OFTEN)))
        peaks[minutes] = peak_kb([WETSIDE, "cues", "--to", "wav", path])
    shown = ", ".join(f"{minutes} min {peak} kB" for minutes, peak in peaks.items())
    check(peaks[120] - peaks[10] < 1024, f"memory does not follow the length: {shown}", shown)
    target = os.path.join(folder, "long.wav")
    done = subprocess.run(["sh", "-c", 'ulimit -v 65536; exec "$@"', "sh", WETSIDE, "cues", "--to", "wav", "-o", target, path],
                          check=False)
    size = os.path.getsize(target) >> 20 if os.path.exists(target) else 0
    check(done.returncode == 0 and size > 300, f"a file of {size} MiB is written within 64 MiB", done.returncode)


def peak_kb(words):
    """The most memory a run had at once, asked for when little of its output is missing and it waits to be read."""
    with subprocess.Popen(words, stdout=subprocess.PIPE) as child:
        left = int.from_bytes(child.stdout.read(8)[4:], "little") - (1 << 18)
        while left > 0:
            left -= len(child.stdout.read(min(left, 1 << 20)))
        with open(f"/proc/{child.pid}/status", encoding="utf-8") as file:
            peak = next(int(line.split()[1]) for line in file if line.startswith("VmHWM:"))
        child.stdout.read()
    check(child.returncode == 0, f"{words[-1]}: status 0", child.returncode)
    return peak


def check_usage(folder):
    one = os.path.join(folder, "close.wet")
    for words, said in ((["--lead-in", "11 min", "--to", "wav"], "up to 10 min"), (["--lead-in", "5s"], "--to wav"),
                        (["--voice"], "--to wav"), (["--lead-in", "5", "--to", "wav"], "--lead-in")):
        done = run("cues", *words, one)
        check(done.returncode == 2 and said in done.stderr.decode() and not done.stdout, f"wrong usage: {' '.join(words)}",
              done.stderr.decode())
    done = run("cues", "--to", "wav", "-o", os.path.join(folder, "none.wav"), "tests/cues/fractions.wet")
    check(done.returncode == 2 and b"File too large" in done.stderr and "none.wav" not in os.listdir(folder),
          "a run that no such file can hold is refused", done.stderr.decode()[-300:])
    with open("/dev/full", "wb") as full:
        done = subprocess.run([WETSIDE, "cues", "--to", "wav", one], stdout=full, stderr=subprocess.PIPE, check=False)
    check(done.returncode == 2 and b"standard output" in done.stderr, "a full standard output")
    piped = run("cues", "--to", "wav", "-", stdin=CLOSE.encode()).stdout
    with open(record(folder, one)[0], "rb") as file:
        check(file.read() == piped, "the same bytes from standard input to standard output")
    done = run("cues", "--to", "wav", "-", stdin=CLOSE.replace("6:00", "6 kg", 1).encode())
    check(done.returncode == 1 and not done.stdout, "errors give no track")
    check(not [name for name in os.listdir(folder) if name.startswith(".")], "no file is left behind")


def main():
    check(set(hearing.signals()) == set(hearing.ORDER) | {"count-in"}, "docs/sound.md has the signals")
    with tempfile.TemporaryDirectory() as folder:
        check_examples(folder)
        check_close(folder)
        check_usage(folder)
        if IS_PLAIN:
            check_memory(folder)
    track = run("cues", "--to", "wav", os.path.join(ROOT, "tests", "outputs", "one-roll.wet")).stdout
    own = hashlib.sha256(track).hexdigest()
    check(own == KEPT, "the bytes are those that they were", own)
    end()


if __name__ == "__main__":
    main()
