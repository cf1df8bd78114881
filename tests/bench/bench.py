#!/usr/bin/env python3
"""Measures speed and memory of `wetside check` on made recipes of growing size. Time should grow as size does: the last
column is microseconds for each declaration and should stay level."""

import os
import resource
import subprocess
import sys
import tempfile
import time

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))

import harness  # noqa: E402

SOLUTION = """solution bath-{0} "Bath {0}" {{
  role fix
  dilute 1+4
  reuse
  usable 18 .. 24 °C
  capacity 20 rolls per 1 L
  hazards none
  waste silver
}}
"""

TAIL = """tank jar { holds 600 mL; takes 1 x 135; fill 6 s; drain 6 s; emptied through lid }
solution developer { role developer; dilute 1+9; one-shot; usable 18 .. 24 °C; hazards none; waste developer }
process film {
  develops black-and-white-negative
  tank jar
  step develop in developer at 20 ± 0.5 °C for 8:00 { agitate first 30 s, then 5 s every 30 s }
  step fix in bath-0 at 20 ± 2 °C for 5:00 { agitate first 15 s, then 5 s every 30 s }
  step wash in running water at 20 ± 2 °C for at least 20:00
}
"""


def measure(path):
    """Seconds and peak kilobytes of one check."""
    started = time.monotonic()
    process = subprocess.Popen([harness.WETSIDE, "check", path], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    _, status, usage = os.wait4(process.pid, 0)
    if os.waitstatus_to_exitcode(status) != 0:
        sys.exit(f"bench: check ended with {os.waitstatus_to_exitcode(status)}")
    return time.monotonic() - started, usage.ru_maxrss


def main():
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    print("declarations    size MB   seconds   peak MB   us each")
    with tempfile.TemporaryDirectory() as folder:
        for count in (2_000, 20_000, 200_000):
            path = os.path.join(folder, "large.wet")
            with open(path, "w", encoding="utf-8") as file:
                file.write('wetside 1\nallow never-used "made for measuring"\n')
                file.writelines(SOLUTION.format(number) for number in range(count))
                file.write(TAIL)
            seconds, peak = min(measure(path) for _ in range(3))
            print(f"{count:12,} {os.path.getsize(path) / 1e6:10.1f} {seconds:9.3f} {peak / 1024:9.1f} "
                  f"{seconds / count * 1e6:9.2f}", flush=True)


main()
