"""The mutants that no test can notice, and why: explained.tsv. A row has the path, the function, the line
before and after, the reason."""

import functools
import os

HERE = os.path.dirname(os.path.abspath(__file__))


@functools.lru_cache(maxsize=None)
def rows():
    with open(os.path.join(HERE, "explained.tsv"), encoding="utf-8") as file:
        lines = [line.rstrip("\n").split("\t") for line in file if line.strip() and not line.startswith("#")]
    return {tuple(line[:4]): line[4] for line in lines}


def reason_of(mutant):
    return rows().get((mutant.path, mutant.function, mutant.before, mutant.after))
