#!/usr/bin/env python3
"""The page passes the checkers of others: vnu (the W3C's, with its CSS and content policy checks), html-validate, tidy.
Every example process, without and with its forecast, and every hostile recipe."""

# builds: plain

import tempfile

import sheets
from harness import end


def main():
    with tempfile.TemporaryDirectory() as folder:
        paths = [sheets.write(folder, process, sheets.emit("sheet", "html", path, process))
                 for path, process in sheets.processes()]
        paths += [sheets.write(folder, process + " forecast", sheets.emit("sheet", "html", path, process, ["--forecast"]))
                  for path, process in sheets.processes()]
        paths += [sheets.write(folder, "hostile " + name, sheets.emit("sheet", "html", sheets.hostile(folder, name)))
                  for name in sheets.PAYLOADS]
        sheets.validate(paths)
    end()


if __name__ == "__main__":
    main()
