#!/usr/bin/env python3
"""The house rules that a script can see: includes go one way down the stages and name their stage, each door (memory,
files, streams, clock) is used by its own module only, nothing is kept in variables, sizes stay small."""

import glob
import os
import re
import subprocess
import sys

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))

import harness  # noqa: E402

STAGES = ["support", "syntax", "model", "compute", "check", "emit", "commands"]
# Folders of made headers that any stage may read.
MADE = ["embedded"]
LINES_AT_MOST, FUNCTION_AT_MOST, FUNCTION_AIM, COLUMNS_AT_MOST = 600, 80, 40, 120

# What may be called, and from where: a pattern over code without comments and strings, and the files that may.
DOORS = [
    ("allocates memory", r"\b(malloc|calloc|realloc|reallocarray|aligned_alloc|free|strdup|strndup|asprintf|vasprintf)\s*\(",
     ["src/support/arena.c"]),
    ("opens a file", r"\b(open|openat|fopen|fdopen|freopen|opendir)\s*\(", ["src/support/source.c", "src/support/output.c",
                                                                              "src/support/folder.c"]),
    ("changes files", r"\b(creat|mkstemp|mkostemp|mkdtemp|tmpfile|rename|renameat|unlink|remove|link|symlink|mkdir|chmod|"
     r"fchmod|ftruncate)\s*\(|\bO_(WRONLY|RDWR|CREAT|APPEND|TRUNC)\b", ["src/support/output.c"]),
    ("prints or ends the program", r"\b(exit|_exit|_Exit|abort|printf|puts|putchar|putc|fputs|fputc|fprintf|vprintf|vfprintf|"
     r"perror)\s*\(|\b(stdout|stderr)\b", ["src/commands/"]),
    ("reads the environment", r"\b(getenv|secure_getenv|environ)\b", ["src/commands/"]),
    ("reads a clock or chance", r"\b(time|clock|clock_gettime|gettimeofday|localtime|localtime_r|gmtime|rand|random)\s*\(",
     ["src/commands/"]),
    ("sets the locale", r"\bsetlocale\s*\(", []),
    ("starts another program", r"\b(system|popen|vfork|posix_spawn|exec[lv][pe]*)\s*\(", []),
    ("divides itself", r"\bfork\s*\(", ["src/commands/jobs.c"]),
]


def files(*patterns):
    """The files of the repository that match, in order."""
    return sorted(os.path.relpath(path, harness.ROOT)
                  for pattern in patterns for path in glob.glob(os.path.join(harness.ROOT, pattern), recursive=True))


def code_of(text, keep_strings=False):
    """C text with comments and, unless kept, strings blanked out; line numbers stay."""
    def blank(match):
        if keep_strings and match.group(0)[0] in "\"'":
            return match.group(0)
        return re.sub(r"[^\n]", " ", match.group(0))
    return re.sub(r"/\*.*?\*/|//[^\n]*|\"(?:\\.|[^\"\\\n])*\"|'(?:\\.|[^'\\\n])*'", blank, text, flags=re.DOTALL)


def stage_of(path):
    return "syntax" if path.startswith("grammar/") else path.split("/")[1]


def judge_includes(paths):
    """Quoted includes name a stage, and none to the right of their own."""
    wrong = []
    for path in paths:
        own = stage_of(path)
        for match in re.finditer(r'^\s*#\s*include\s+"([^"]*)"', code_of(harness.read(path), keep_strings=True), re.MULTILINE):
            stage = match[1].partition("/")[0]
            if stage in MADE:
                continue
            if stage not in STAGES or "/" not in match[1] or "/../" in match[1]:
                wrong.append(f'{path}: "{match[1]}" names no stage')
            elif STAGES.index(stage) > STAGES.index(own):
                wrong.append(f'{path}: {own} includes "{match[1]}" to its right')
    harness.check(not wrong, "includes go one way down the stages", "\n".join(wrong))


def judge_doors(paths):
    for what, pattern, doors in DOORS:
        wrong = []
        for path in paths:
            if any(path.startswith(door) for door in doors):
                continue
            code = code_of(harness.read(path))
            wrong += [f"{path}:{code.count(chr(10), 0, match.start()) + 1}: {match.group(0).strip()}"
                      for match in re.finditer(pattern, code)]
        who = " and ".join(doors) or "nothing"
        harness.check(not wrong, f"only {who} {what}" if doors else f"{who} {what}", "\n".join(wrong))


def judge_variables():
    """Objects that can change, in the libraries of the build: constant tables are elsewhere (.rodata, .data.rel.ro)."""
    libraries = files("build/lib*.a")
    if not libraries:
        harness.not_ok("no state is kept in variables", "nothing is built")
        return
    listing = subprocess.run(["objdump", "-t", *libraries], cwd=harness.ROOT, stdout=subprocess.PIPE, check=True, text=True)
    wrong, member = [], ""
    for line in listing.stdout.splitlines():
        match = re.match(r"^(\S+\.o):", line)
        if match:
            member = match[1]
        match = re.match(r"^[0-9a-f]+ \S?.{6} (\.(?:data|bss|tdata|tbss)(?:\.(?!rel\.ro)\S*)?|\*COM\*)\s+[0-9a-f]+\s+(\S+)$", line)
        # emit/document and json_memory hand the context-free callbacks of libcmark and jansson the current arena through
        # a thread-local variable; support/output hands a handler of signals the names of its temporary files.
        doors = ((".tbss", "document.o"), (".tbss", "json_memory.o"), (".bss", "output.o"))
        known = bool(match) and (match[1], member) in doors
        if match and not match[2].startswith(".") and not known:
            wrong.append(f"{member}: {match[2]}")
    harness.check(not wrong, "no state is kept in variables", "\n".join(wrong))


def functions_of(path):
    """Name, first line and length of each function, by the braces in column 0."""
    start, found = None, []
    lines = harness.read(path).splitlines()
    for number, line in enumerate(lines, 1):
        if line == "{":
            start = number
        elif line == "}" and start:
            head = start - 2
            while head > 0 and lines[head].startswith((" ", "\t")):
                head -= 1
            match = re.search(r"(\w+)\(", lines[head])
            found.append((match[1] if match else "?", head + 1, number - head))
            start = None
    return found


def judge_sizes(paths):
    texts = files("src/**/*.[chly]", "src/**/*.def", "src/**/*.sh", "src/**/*.css", "grammar/wetside.*", "tests/**/*.c",
                  "tests/*.py", "tests/*/*.py", "tests/*/*.sh", "tests/*/*.mjs", "tests/run", "Makefile")
    wrong = [f"{path}: {lines} lines" for path in texts
             for lines in [harness.read(path).count("\n")] if lines > LINES_AT_MOST]
    harness.check(not wrong, f"no file is longer than {LINES_AT_MOST} lines", "\n".join(wrong))

    functions = [(length, f"{path}:{line}: {name}: {length} lines")
                 for path in paths + files("tests/**/*.c") for name, line, length in functions_of(path)]
    wrong = [text for length, text in functions if length > FUNCTION_AT_MOST]
    harness.check(not wrong, f"no function is longer than {FUNCTION_AT_MOST} lines", "\n".join(wrong))
    for length, text in sorted(functions, reverse=True):
        if FUNCTION_AIM < length <= FUNCTION_AT_MOST:
            print(f"    longer than a screen: {text}")

    wrong = [f"{path}:{number}: {len(line.expandtabs(8))} columns" for path in paths + files("tests/**/*.[ch]")
             for number, line in enumerate(harness.read(path).splitlines(), 1)
             if len(line.expandtabs(8)) > COLUMNS_AT_MOST]
    harness.check(not wrong, f"no line is wider than {COLUMNS_AT_MOST} columns", "\n".join(wrong))


def main():
    sources = files("src/**/*.c", "src/**/*.h", "grammar/wetside.[ly]")
    judge_includes(sources + files("src/**/*.def"))
    judge_doors(sources)
    judge_variables()
    judge_sizes(sources)
    harness.end()


main()
