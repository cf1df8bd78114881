#!/usr/bin/env python3
# builds: plain
# timeout: 600
"""D1, D2: Vim (by an errorformat with %v) and Emacs (by its compilation mode, as it comes) go from each line of the text
format to the very character that the JSON names by its offset: over the recipes of tests/language, and behind tabs, wide
characters and signs that take several bytes."""

import json
import os
import shutil
import subprocess
import sys
import tempfile

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))

from corpus import get, harness, json_findings, options_of, put, recipes  # noqa: E402

# Each has `38 °C ± 0.2 C` or the like before what is wrong, and more that bytes, code points, UTF-16 units and columns
# count differently.
PLACES = {
    "signs.wet": "wetside 1\ntank t { holds 1 L }\nsolution s { usable 38 °C ± 0.2 C; capasity 4 rolls per 1 L }\n",
    "tabs.wet": "wetside 1\ntank t {\n\tholds 1 L;\tfill 0,5 s\n}\n",
    "wide.wet": "wetside 1\ntank t \"現像タンク °± 😀\" { holds 1 L;\tfill 0,5 s }\n",
    "decomposed.wet": "wetside 1\ntank t \"cafe\u0301 ±\" { holds 1 L; fill 0,5 s }\n",
    "crlf.wet": "wetside 1\r\ntank t \"°\" { holds 1 L; fill 0,5 s }\r\n",
}

VIM = r"""
set nocompatible encoding=utf-8 fileencodings=utf-8 fileformats=unix,dos tabstop=8 ambiwidth=single nomore hidden
let &errorformat = '%f:%l:%v: %trror: %m,%f:%l:%v: %tarning: %m,%f:%l:%v: %tint: %m,%-G%.%#'
let s:out = []
for s:log in readfile('logs.txt')
	execute 'cgetfile ' . fnameescape(s:log)
	let s:number = 0
	for s:item in getqflist()
		let s:number += 1
		execute 'silent cc ' . s:number
		call add(s:out, [bufname(s:item.bufnr), line('.'), col('.'), s:item.type, s:item.text])
	endfor
endfor
call writefile([json_encode(s:out)], 'vim.json')
qall!
"""

EMACS = r"""
(require 'compile)
(require 'json)
(prefer-coding-system 'utf-8)
(setq inhibit-message t enable-local-variables nil compilation-auto-jump-to-first-error nil make-backup-files nil)
(let (found)
  (dolist (log (split-string (with-temp-buffer (insert-file-contents "logs.txt") (buffer-string)) "\n" t))
    (let ((buffer (get-buffer-create "*log*")) (here default-directory))
      (with-current-buffer buffer
        (let ((inhibit-read-only t)) (erase-buffer) (insert-file-contents log)
          (goto-char (point-min)) (insert "-*- mode: compilation -*-\n\n"))
        (setq default-directory here)
        (compilation-mode)
        (goto-char (point-min))
        (compilation--ensure-parse (point-max)))
      (setq next-error-last-buffer buffer)
      (condition-case nil
          (progn
            (next-error 1 t)
            (while t
              (with-current-buffer (window-buffer (selected-window))
                (push (list (file-relative-name buffer-file-name here) (line-number-at-pos)
                            (1+ (- (position-bytes (point)) (position-bytes (line-beginning-position)))))
                      found))
              (set-buffer buffer)
              (next-error 1)))
        (user-error nil))))
  (with-temp-file "emacs.json" (insert (json-encode (vconcat (nreverse found))))))
"""


def byte_column(path, offset):
    """Line and byte column of an offset."""
    before = get(path)[:offset]
    return before.count(b"\n") + 1, offset - (before.rfind(b"\n") + 1) + 1


def gather(folder):
    """Writes the messages of every recipe to files, and returns what the editors should find, a list for each."""
    wanted, logs = [], []
    for path in [*recipes("tests/language/*.wet"), *PLACES]:
        name = os.path.basename(path)
        if path in PLACES:
            put(folder, name, PLACES[path])
        else:
            shutil.copy(os.path.join(harness.ROOT, path), folder)
        if name == "odd-characters.wet":
            continue  # controls have a width of their own in each editor
        if b"\r" in get(os.path.join(folder, name)).replace(b"\r\n", b""):
            continue  # a carriage return alone ends a line here, but in neither editor
        options = options_of(path) if path not in PLACES else []
        done = harness.run("check", "--max-errors", "0", *options, name, cwd=folder)
        logs.append(name + ".log")
        put(folder, logs[-1], done.stderr)
        for finding in json_findings(*options, name, cwd=folder):
            place = finding["place"]
            if finding["allowed"] is None:
                wanted.append([place["file"], *byte_column(os.path.join(folder, place["file"]), place["offset"]),
                               finding["severity"][0], f"{finding['message']} [{finding['check']}]"])
    put(folder, "logs.txt", "\n".join(logs) + "\n")
    return wanted


def judge(editor, wanted, found):
    wrong = [f"{there} was wanted, {here} found" for there, here in zip(wanted, found) if there != here]
    harness.check(found == wanted, f"D1, D2: {editor} goes to each of {len(wanted)} findings",
                  lambda: "\n".join([f"{len(found)} places of {len(wanted)}", *wrong[:10]]))


def at_last_line_end(folder, item):
    """Editors do not go behind the last character of a line: a finding at its end shows on that character."""
    path, line, column = item[:3]
    text = get(os.path.join(folder, path)).split(b"\n")[line - 1].rstrip(b"\r")
    if column <= len(text) or not text:
        return item
    last = len(text.decode("utf-8")[:-1].encode())
    return [path, line, last + 1, *item[3:]]


def main():
    with tempfile.TemporaryDirectory() as folder:
        wanted = gather(folder)
        harness.check(len(wanted) > 90, f"there is something to go to ({len(wanted)} findings)")
        for name in PLACES:
            harness.check([item for item in wanted if item[0] == name], f"D2: {name} has its finding")
        if shutil.which("vim"):
            put(folder, "jump.vim", VIM)
            subprocess.run(["vim", "-es", "-u", "NONE", "-i", "NONE", "-S", "jump.vim"], cwd=folder, check=False,
                           stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, timeout=120)
            with open(os.path.join(folder, "vim.json"), encoding="utf-8") as file:
                found = json.load(file)
            for item in found:
                item[3] = item[3].lower()
            judge("Vim", [at_last_line_end(folder, item) for item in wanted], found)
        else:
            harness.skip("Vim", "is not installed")
        if shutil.which("emacs"):
            put(folder, "jump.el", EMACS)
            done = subprocess.run(["emacs", "-Q", "--batch", "-l", "jump.el"], cwd=folder, check=False, timeout=240,
                                  stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT)
            if not os.path.exists(os.path.join(folder, "emacs.json")):
                harness.not_ok("Emacs", done.stdout.decode())
            else:
                with open(os.path.join(folder, "emacs.json"), encoding="utf-8") as file:
                    places = list(dict.fromkeys(tuple(item[:3]) for item in wanted))  # it goes to a place once
                    judge("Emacs", [list(place) for place in places], json.load(file))
        else:
            harness.skip("Emacs", "is not installed")
    harness.end()


if __name__ == "__main__":
    main()
