#!/usr/bin/env python3
# builds: plain
"""Every row of explained.tsv is about a mistake that can still be made: its line stands in its file, and `make mutants` could
change it so. A reason is given."""

import os
import runpy
import sys

HERE = os.path.dirname(os.path.abspath(__file__))
TESTS = os.path.dirname(HERE)
sys.dont_write_bytecode = True
sys.path.insert(0, TESTS)

import explained  # noqa: E402
import harness  # noqa: E402
import mutators  # noqa: E402


def main():
    rows = explained.rows()
    possible = {}
    for path in sorted({row[0] for row in rows}):
        possible[path] = {mutant[-3:] for mutant in mutators.mutants_of(path, harness.read(path))} \
            if os.path.exists(os.path.join(harness.ROOT, path)) else set()
    stale = [f"{row[0]}, {row[1]}: {row[2]} -> {row[3]}" for row in rows if row[1:] not in possible[row[0]]]
    harness.check(rows and not stale, f"{len(rows)} explained mutants can still be made", "\n".join(stale))
    harness.check(all(len(reason.split()) > 3 for reason in rows.values()), "each has a reason")
    rows_of_tests = runpy.run_path(os.path.join(HERE, "run"))["TESTS"]
    named = {test.split()[0] for _, short, longer in rows_of_tests for test in short + longer}
    absent = [test for test in sorted(named) if not (
        os.path.exists(os.path.join(TESTS, test + ".c")) if test.startswith("unit/") else os.access(os.path.join(TESTS, test), os.X_OK))]
    harness.check(named and not absent, "every test that judges mutants is one that can be run", absent)
    text = "int f(int a)\n{\n\tif (a < 1 && a + 2 > 3)\n\t\tg(a);\n\treturn a;\n}\n"
    made = {mutant.after for mutant in mutators.mutants_of("x.c", text)}
    wanted = {"if (a <= 1 && a + 2 > 3)", "if (a > 1 && a + 2 > 3)", "if (a < 1 || a + 2 > 3)", "if (a < 1 && a - 2 > 3)",
              "if (a < 2 && a + 2 > 3)", "if (!(a < 1 && a + 2 > 3))", ";", "return (a) + 1;"}
    harness.check(wanted <= made, "relations, operators, figures, conditions, statements and results are changed",
                  sorted(wanted - made))
    again = list(mutators.mutants_of("x.c", "\n" + text))
    same = [mutant.after for mutant in mutators.sample(again, "1", 5)] == [
        mutant.after for mutant in mutators.sample(list(mutators.mutants_of("x.c", text)), "1", 5)]
    harness.check(same, "a line more leaves the sample as it is")
    harness.end()


if __name__ == "__main__":
    main()
