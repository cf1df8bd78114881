#!/usr/bin/env python3
# builds: plain
"""The sound track beside a running tap: noise like water's is mixed in, twice as strong as a signal between 700 Hz and
3.3 kHz (-6 dB), and a matched filter that knows the signals by docs/sound.md alone still finds each onset within 5 ms and
tells the signals apart; the soft ones are heard beside half of that. Water alone is not taken for a signal."""

import json
import os
import sys
import tempfile

import hearing
from harness import check, end, run

np = hearing.np
SNR_DB = -6
BAND_HZ = (700, 3300)
SEED = 20260314
NEAR_S = 0.005
REACH = hearing.RATE // 4  # either side of where a cue should be
SIZE = 1 << 15
LENGTH = SIZE - 2048
PATH, PROCESS = "examples/black-and-white-reversal.wet", "black-and-white-reversal"


def water(count, chance):
    """Noise of a jet into a sink: all pitches from 150 Hz up, 3 dB an octave weaker the higher, swelling several times a
    second. From hearing, no source."""
    spectrum = np.fft.rfft(chance.standard_normal(count))
    hertz = np.fft.rfftfreq(count, 1 / hearing.RATE)
    spectrum *= np.where(hertz > 150, 1 / np.sqrt(np.maximum(hertz, 150)), 0)
    steady = np.fft.irfft(spectrum, count)
    time = np.arange(count) / hearing.RATE
    swell = sum(np.sin(2 * np.pi * (rate * time + chance.random())) for rate in (1.7, 3.1, 5.3, 7.9))
    return steady * (1 + 0.15 * swell)


def strength(sound):
    """Root mean square within the band of the signals."""
    spectrum = np.fft.rfft(sound)
    hertz = np.fft.rfftfreq(len(sound), 1 / hearing.RATE)
    spectrum[(hertz < BAND_HZ[0]) | (hertz > BAND_HZ[1])] = 0
    return float(np.sqrt(np.mean(np.fft.irfft(spectrum, len(sound)) ** 2)))


def filters():
    """{kind: the signal's spectrum, of strength one}."""
    made = {}
    for kind, signal in hearing.signals().items():
        pattern = hearing.synthesized(signal)
        made[kind] = np.conj(np.fft.rfft(pattern / np.sqrt((pattern ** 2).sum()), SIZE))
    return made


def best(sound, patterns):
    """How well the signal fits that fits best, where it begins, and which it is."""
    spectrum = np.fft.rfft(sound, SIZE)
    fits = {kind: np.fft.irfft(spectrum * pattern, SIZE)[:2 * REACH] for kind, pattern in patterns.items()}
    return max((float(fit.max()), int(fit.argmax()), kind) for kind, fit in fits.items())


def heard(clean, noise, cues, patterns, chance):
    """[(the kind that begins an instant, the kind that is found, how far off in seconds, how well it fits)]."""
    rings = {cue["kind"] for cue in cues if cue["rings"]}
    found = []
    for at, (kind, *_) in hearing.instants(cues):
        middle = round(at * hearing.RATE)
        piece = np.zeros(LENGTH)
        sound = clean[max(0, middle - REACH):middle - REACH + LENGTH]
        piece[max(0, REACH - middle):][:len(sound)] = sound
        start = chance.integers(0, len(noise) - LENGTH)
        fit, place, own = best(piece + noise[start:start + LENGTH] * (1 if kind in rings else 0.5), patterns)
        found.append((kind, own, abs(place - REACH) / hearing.RATE, fit))
    return found


def main():
    with tempfile.TemporaryDirectory() as folder:
        track = os.path.join(folder, "track.wav")
        run("cues", "--to", "wav", "--process", PROCESS, "-o", track, PATH)
        clean = hearing.samples(hearing.chunks(track)).astype(float)
    cues = hearing.on_track(json.loads(run("cues", "--to", "json", "--process", PROCESS, PATH).stdout))
    chance, patterns = np.random.default_rng(SEED), filters()
    noise = water(1 << 20, chance)
    loud = hearing.synthesized(hearing.signals()["pour"])
    loud *= 0.9 * 32767 / np.abs(loud).max()
    noise *= strength(loud) / strength(noise) * 10 ** (-SNR_DB / 20)

    found = heard(clean, noise, cues, patterns, chance)
    confused = [one[:2] for one in found if one[0] != one[1]]
    check(len(found) > 150 and not confused, f"{len(found)} instants are found at {SNR_DB} dB, each for what it is", confused[:5])
    off = max(one[2] for one in found)
    check(off < NEAR_S, f"their onsets are within 5 ms (largest {1000 * off:.1f} ms)")
    starts = chance.integers(0, len(noise) - LENGTH, 60)
    nothing = max(best(noise[start:start + LENGTH], patterns)[0] for start in starts)
    weakest = min(fit for kind, _, _, fit in found if kind in {cue["kind"] for cue in cues if cue["rings"]})
    check(weakest > 2 * nothing, f"what rings fits {weakest / nothing:.1f} times as well as anything in the water alone")
    end()


main()
