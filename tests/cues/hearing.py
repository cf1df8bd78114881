"""Hears a sound track without the program's help: reads the file, finds pulses by their energy, and knows the signals by
docs/sound.md alone. Not a test by itself."""

import os
import re
import struct
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
import harness  # noqa: E402

try:
    import numpy as np
except ImportError:
    harness.retry_with_system_python("NumPy")

RATE = 22050
SILENCE_MS = 12  # between two pulses
# As docs/sound.md says of cues that come together.
ORDER = ["drain", "pour", "expose", "agitation-start", "agitation-end", "taps", "drain-soon", "light", "latest-end", "end",
         "full", "start", "measure"]
TOLD_BY = {"end": {"pour", "drain", "expose"}, "agitation-end": {"drain", "agitation-start"}}
COUNTED_IN = {"pour", "drain", "expose"}
PAUSE_MS = 90


def signals():
    """{kind: [(from ms, to ms, Hz at its start, Hz at its end)]}, from the table in docs/sound.md."""
    found = {}
    for kind, pulses in re.findall(r"^\| `?([a-z-]+)`? \| [^|]*\| ([0-9][^|]*) \|$", harness.read("docs/sound.md"), re.M):
        found[kind] = []
        for pulse in pulses.split("; "):
            start, end, low, high = re.fullmatch(r"(\d+) – (\d+): (\d+)(?: → (\d+))?", pulse).groups()
            found[kind].append((int(start), int(end), int(low), int(high or low)))
    return found


def chunks(path):
    """{name: bytes} of a RIFF WAVE file by the rules of the format; `data` is a view of the file. LIST is by its type."""
    whole = np.memmap(path, dtype=np.uint8, mode="r")
    riff, size, wave = struct.unpack("<4sI4s", bytes(whole[:12]))
    if riff != b"RIFF" or wave != b"WAVE" or size != len(whole) - 8:
        raise ValueError(f"not a RIFF WAVE file of {len(whole)} bytes: {riff} {size} {wave}")
    found, at = {}, 12
    while at < len(whole):
        name, size = struct.unpack("<4sI", bytes(whole[at:at + 8]))
        body = whole[at + 8:at + 8 + size]
        if len(body) != size:
            raise ValueError(f"{name} is cut off")
        if name == b"LIST":
            name, body = bytes(body[:4]), body[4:]
        found[name.decode()] = body
        at += 8 + size + size % 2
    return found


def cue_points(found):
    """[(sample, label)] of the cue points."""
    points, labels = bytes(found["cue "]), bytes(found["adtl"])
    count, = struct.unpack("<I", points[:4])
    places = [struct.unpack("<II4sIII", points[4 + 24 * i:28 + 24 * i]) for i in range(count)]
    if len(points) != 4 + 24 * count or any(place[1] != place[5] or place[2] != b"data" for place in places):
        raise ValueError("cue points that are none")
    texts, at = {}, 0
    while at < len(labels):
        name, size, number = struct.unpack("<4sII", labels[at:at + 12])
        text = labels[at + 12:at + 8 + size]
        if name != b"labl" or not text.endswith(b"\0"):
            raise ValueError("a label that is none")
        texts[number] = text[:-1].decode("utf-8")
        at += 8 + size + size % 2
    return [(place[1], texts[place[0]]) for place in places]


def samples(found):
    return found["data"].view("<i2")


def pulses(sound):
    """[(from, to)] in samples: stretches of sound with silence around them."""
    block = RATE // 1000
    whole = len(sound) // block * block
    is_loud = np.abs(sound[:whole].reshape(-1, block)).max(axis=1) > 0
    edges = np.flatnonzero(np.diff(np.concatenate(([0], is_loud.view(np.int8), [0]))))
    found = []
    for start, end in zip(edges[::2], edges[1::2]):
        if found and (start - found[-1][1]) < SILENCE_MS:
            found[-1][1] = end
        else:
            found.append([start, end])
    exact = []
    for start, end in found:
        inside = np.flatnonzero(sound[start * block:end * block])
        exact.append((start * block + inside[0], start * block + inside[-1] + 1))
    return exact


def pitch(sound, middle, length):
    """The fundamental around a sample: where it and its first overtones hold the most."""
    half = min(int(0.014 * RATE), length // 2)
    piece = sound[max(0, middle - half):middle + half].astype(float)
    size = 1 << 14
    spectrum = np.abs(np.fft.rfft(piece * np.hanning(len(piece)), size))
    candidates = np.arange(int(600 * size / RATE), int(1250 * size / RATE))
    return candidates[np.argmax(spectrum[candidates] + spectrum[2 * candidates] + spectrum[3 * candidates])] * RATE / size


def melody(signal):
    """[(from ms, to ms, [(ms, Hz)])] of a signal's pulses; those that touch are one."""
    joined = []
    for start, end, low, high in signal:
        points = [(start + part * (end - start), low + part * (high - low)) for part in (0.2, 0.5, 0.8)]
        if joined and joined[-1][1] == start:
            joined[-1] = (joined[-1][0], end, joined[-1][2] + points)
        else:
            joined.append((start, end, points))
    return joined


def is_signal(sound, signal, heard):
    """Whether pulses are a signal, by their rhythm first and then by their pitches."""
    wanted = melody(signal)
    if len(heard) < len(wanted):
        return False
    zero = heard[0][0]
    for (start, end, points), (first, last) in zip(wanted, heard):
        if abs((first - zero) / RATE * 1000 - start) > 6 or abs((last - zero) / RATE * 1000 - end) > 6:
            return False
        for at_ms, hertz in points:
            if abs(pitch(sound, zero + int(at_ms * RATE / 1000), last - first) / hertz - 1) > 0.06:
                return False
    return True


def listen(sound):
    """[(sample, kind)] of everything that sounds; the kind is None for a pulse that belongs to no signal."""
    known, rest, heard = signals(), pulses(sound), []
    by_length = sorted(known, key=lambda kind: -len(melody(known[kind])))
    while rest:
        kind = next((kind for kind in by_length if is_signal(sound, known[kind], rest)), None)
        heard.append((rest[0][0], kind))
        rest = rest[len(melody(known[kind])) if kind else 1:]
    return heard


def length_ms(signal):
    return signal[-1][1]


def synthesized(signal):
    """The signal as floating point figures, from the table in docs/sound.md."""
    whole = np.zeros(length_ms(signal) * RATE // 1000)
    for start, stop, low, high in signal:
        first, last = start * RATE // 1000, stop * RATE // 1000
        time = np.arange(last - first) / RATE
        phase = 2 * np.pi * (low * time + (high - low) * time ** 2 / (2 * (stop - start) / 1000))
        whole[first:last] = np.sin(phase) / 3 + np.sin(2 * phase) / 4 + np.sin(3 * phase) / 5
    return whole


def instants(cues):
    """[(seconds, kinds in the order of their signals)] of the cues of `cues --to json`."""
    together = {}
    for cue in cues:
        together.setdefault(cue["at_s"], set()).add(cue["kind"])
    return [(at, [kind for kind in ORDER if kind in kinds and not kinds & TOLD_BY.get(kind, set())])
            for at, kinds in sorted(together.items())]


def expected(cues):
    """[(seconds, kind)] of what is to be heard, with the count-ins; for cues farther apart than their signals."""
    known, spans, wanted = signals(), [], []
    for at, kinds in instants(cues):
        start = at
        for kind in kinds:
            wanted.append((start, kind))
            start += (length_ms(known[kind]) + PAUSE_MS) / 1000
        spans.append((at, start - PAUSE_MS / 1000))
    counted, pause = -60, PAUSE_MS / 1000
    beat_s = length_ms(known["count-in"]) / 1000
    for at, kinds in instants(cues):
        if not COUNTED_IN & set(kinds):
            continue
        for beat in (3, 2, 1):
            is_free = all(start > at - beat + beat_s + pause - 1e-9 or end < at - beat - pause + 1e-9 for start, end in spans)
            if at - beat >= counted and is_free:
                wanted.append((at - beat, "count-in"))
        counted = at
    return sorted(wanted)


def on_track(value):
    """The cues of `cues --to json` that a track holds: up to the last one of the last bath, and those of that instant."""
    baths = {step["number"] for step in value["steps"] if step["is_wet"]}
    last = max(number for number, cue in enumerate(value["cues"]) if cue["step"] in baths)
    return [cue for number, cue in enumerate(value["cues"])
            if number <= last or cue["at_s"] == value["cues"][last]["at_s"]]
