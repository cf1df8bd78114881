#!/usr/bin/env python3
"""Each edit of a table is told in the expected words and with the expected status; told backwards it is the same the
other way round; and the fingerprint changes exactly when a run is said to."""

import tempfile

import edit_table
import recipes
from harness import check, end


def judge(folder, number, name, edits, status, lines):
    base = recipes.BASE_PATH
    path = recipes.write(folder, f"{number}.wet", recipes.edited(edits))
    chosen = [] if "process renamed" in name else ["--process", "film"]
    found = recipes.diff(base, path, *chosen)
    check(found == (status, "".join(line + "\n" for line in lines)), f"{name}: said so", f"{found[0]}\n{found[1]}")
    forth, back = recipes.data(base, path, *chosen), recipes.data(path, base, *chosen)
    for value in (forth, back):
        check(value["differs"] == (status == 1), f"{name}: status and data agree")
        same = all(pair["old_fingerprint"] == pair["new_fingerprint"] for pair in value["processes"])
        check(value["is_same_run"] == same, f"{name}: the fingerprint is another when the run is", value["processes"])
    check(kinds(forth) == kinds(back, True), f"{name}: backwards, what was added is removed")
    check(recipes.diff(path, path) == (0, ""), f"{name}: nothing differs from itself")


def kinds(value, is_back=False):
    """All that has changed, without its words: things, and facts with both their values."""
    turned = {"added": "removed", "removed": "added"} if is_back else {}
    old, new = ("new", "old") if is_back else ("old", "new")
    found = []
    for pair in value["processes"]:
        for thing in pair["things"]:
            names = thing[old + "_name"], thing[new + "_name"]
            found.append((thing["kind"], *names, turned.get(thing["change"], thing["change"]), thing["is_renamed"]))
            found += [(thing["kind"], *names, fact["fact"], repr(fact[old]), repr(fact[new])) for fact in thing["facts"]]
    return sorted(found, key=repr)


def main():
    check(len(edit_table.EDITS) >= 40, "the table has at least forty edits")
    with tempfile.TemporaryDirectory() as folder:
        for number, row in enumerate(edit_table.EDITS):
            judge(folder, number, *row)
    end()


if __name__ == "__main__":
    main()
