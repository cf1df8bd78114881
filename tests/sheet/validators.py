#!/usr/bin/env python3
"""The page passes the checkers of others: vnu (the W3C's, with its CSS and content policy checks), html-validate, tidy.
Every example process, without and with its forecast, and every hostile recipe."""

# builds: plain

import os
import tempfile

import sheets
from harness import end


def main():
    with tempfile.TemporaryDirectory() as folder:
        paths = [sheets.write(folder, " ".join([os.path.basename(path)[:-4], process, *options]),
                              sheets.emit("sheet", "html", path, process, options))
                 for path, process in sheets.processes() for options in ([], ["--forecast"])]
        paths += [sheets.write(folder, "hostile " + name, sheets.emit("sheet", "html", sheets.hostile(folder, name)))
                  for name in sheets.PAYLOADS]
        sheets.validate(paths)
    end()


if __name__ == "__main__":
    main()
