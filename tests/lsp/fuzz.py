#!/usr/bin/env python3
"""100,000 messages to the language server, 80,000 of them to the plain build and 20,000 to the sanitized one: valid
ones, mutated ones and noise, always the same. It must answer what it is asked at the end, end with status 0, and leave
no message of a sanitizer. Memory stays where it was, in the plain build: the other keeps what was given back, and says what was not."""
# builds: plain asan
# lasts: 20
# timeout: 600

import json
import os
import random
import re
import shutil
import subprocess
import sys
import tempfile
import threading

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))

import harness  # noqa: E402

SEED = 20261125
IS_SANITIZED = "asan" in harness.WETSIDE
COUNT = 20000 if IS_SANITIZED else 80000
GROWTH_AT_MOST_KB = 6000
TEXT_MOST = 8000
OVERSHOOT_MOST = 300

METHODS = [name for name in re.findall(r'METHOD\("([^"]+)"', harness.read("src/commands/lsp/methods.def"))
           if name not in ("initialize", "shutdown", "exit", "textDocument/rename", "textDocument/references")]
# Those that look through folders are dear; they come less often.
DEAR = ["textDocument/rename", "textDocument/references"]
WORDS = re.findall(r'^WORD\(\w+, "([^"]+)"', harness.read("src/syntax/words.def"), re.MULTILINE)
PIECES = WORDS + ["{", "}", "\n", "\r", ";", "\"", "#", "±", "..", "20 °C", "8:00", "1+9", "5 %", "\u202e", "🎞", "\x00",
                  "fixer", "small", "x", "4 x 135", ",", "\ufeff", "99999999999999999999", "-1", "\\"]
ODD = [None, True, -1, 0, 2**31, 2**53, -2**63, 1e308, "", "x", "file:///%zz%", [], {}, [[[]]], {"line": "x"}, "\x00", "é" * 50]


def frame(body):
    return b"Content-Length: %d\r\n\r\n" % len(body) + body


def message(method, params=None, number=None):
    content = {"jsonrpc": "2.0", "method": method, "params": params}
    if number is not None:
        content["id"] = number
    return json.dumps(content).encode()


class Fuzzer:
    def __init__(self, folder):
        self.random = random.Random(SEED)
        self.folder = folder
        self.names = ["black-and-white.wet", "baths.wet", "room.wet", "none.wet"]
        self.fresh = {name: harness.read("examples/" + name) for name in self.names[:3]}
        self.fresh["none.wet"] = 'wetside 1\nuse "black-and-white.wet"\n'
        self.texts = dict(self.fresh)
        self.number = 10

    def uri(self, name):
        return "file://" + os.path.join(self.folder, name)

    def place(self):
        return {"line": self.random.randrange(80), "character": self.random.randrange(60)}

    def range(self):
        return {"start": self.place(), "end": self.place()}

    def change(self, name):
        if self.random.random() < 0.05 or len(self.texts[name]) > TEXT_MOST:
            self.texts[name] = self.fresh[name]
            return [{"text": self.texts[name]}]
        text = self.texts[name]
        if self.random.random() < 0.3:
            at = self.random.randrange(len(text) + 1)
            self.texts[name] = text = text[:at] + self.random.choice(PIECES) + text[at + self.random.randrange(4):]
            return [{"text": text}]
        return [{"range": self.range(), "text": self.random.choice(PIECES)} for _ in range(self.random.randrange(3))]

    def params(self, method):
        name = self.random.choice(self.names)
        params = {"textDocument": {"uri": self.uri(name), "version": self.number, "languageId": "wetside"},
                  "position": self.place(), "range": self.range(), "context": {"includeDeclaration": True, "diagnostics": []},
                  "newName": self.random.choice(PIECES)}
        if method == "textDocument/didOpen":
            params["textDocument"]["text"] = self.texts[name]
        elif method == "textDocument/didChange":
            params["contentChanges"] = self.change(name)
        elif method == "textDocument/didClose" and self.random.random() < 0.8:
            params["textDocument"]["uri"] = "file:///none"
        elif method == "workspace/didChangeWorkspaceFolders":
            params = {"event": {"added": [{"uri": "file://" + self.folder}], "removed": [{"uri": "file://" + self.folder}]}}
        return params

    def spoil(self, value):
        """Puts something odd somewhere into a value."""
        if isinstance(value, dict) and value and self.random.random() < 0.85:
            key = self.random.choice(sorted(value))
            return {**value, key: self.spoil(value[key])}
        if isinstance(value, list) and value and self.random.random() < 0.7:
            at = self.random.randrange(len(value))
            return value[:at] + [self.spoil(value[at])] + value[at + 1:]
        return self.random.choice(ODD)

    def noise(self, most):
        return bytes(self.random.randrange(256) for _ in range(self.random.randrange(1, most)))

    def spoil_bytes(self, body):
        body = bytearray(body)
        for _ in range(self.random.randrange(1, 4)):
            at = self.random.randrange(len(body))
            kind = self.random.randrange(4)
            if kind == 0:
                body[at] = self.random.randrange(256)
            elif kind == 1:
                del body[at:at + self.random.randrange(1, 9)]
            elif kind == 2:
                body[at:at] = body[self.random.randrange(len(body)):][:self.random.randrange(1, 40)]
            else:
                body[at:at] = self.random.choice([b"[", b"{", b"\"", b"\\u0000", b"\\ud800", b"\xff", b"1e999", b"null"])
            if not body:
                return b"{"
        return bytes(body)

    def next(self):
        """One message with its header."""
        method = self.random.choice(DEAR if self.random.random() < 0.02 else METHODS)
        if self.random.random() < 0.15:
            method = "textDocument/didChange"
        self.number += 1
        params = self.params(method)
        is_request = not re.search(r"/did|initialized", method)
        kind = self.random.random()
        if kind < 0.15:
            params = self.spoil(params)
        body = message(method, params, self.number if is_request else None)
        if kind > 0.9:
            body = self.spoil_bytes(body)
        elif kind > 0.88:
            return message_of_cancel(self.number - self.random.randrange(5))
        elif kind > 0.87:
            return self.noise(60) + self.random.choice([b"", b"\r\n", b"\r\n\r\n"]) + frame(body)
        elif kind > 0.865:
            length = max(0, len(body) + self.random.randrange(-40, OVERSHOOT_MOST))
            return b"Content-Length: %d\r\n\r\n" % length + body
        elif kind > 0.86:
            return b"X: y\r\nContent-Length : 5\r\n" + frame(body)
        return frame(body)


def message_of_cancel(number):
    return frame(message("$/cancelRequest", {"id": number}))


def feed(fuzzer, process, memory):
    """Writes everything; memory is looked at when a quarter is through, and at the end."""
    stream = process.stdin
    try:
        stream.write(frame(message("initialize", {"processId": os.getpid(), "capabilities": {}, "rootUri": "file://" + fuzzer.folder}, 1)))
        for name in fuzzer.names:
            stream.write(frame(message("textDocument/didOpen", {"textDocument": {
                "uri": fuzzer.uri(name), "version": 1, "text": fuzzer.texts[name]}})))
        for i in range(COUNT):
            stream.write(fuzzer.next())
            if i in (COUNT // 4, COUNT - 1):
                stream.flush()
                memory.append(resident_kb(process.pid))
        stream.write(b"\r\n" * OVERSHOOT_MOST)
        stream.write(frame(message("shutdown", None, "end")))
        stream.write(frame(message("exit")))
        stream.close()
    except (BrokenPipeError, FileNotFoundError):
        try:
            stream.close()
        except BrokenPipeError:
            pass


def resident_kb(pid):
    with open(f"/proc/{pid}/status", encoding="utf-8") as status:
        return int(re.search(r"VmRSS:\s+(\d+)", status.read())[1])


def read_answers(stream):
    """The messages that came back; anything between them is a mistake."""
    ids, published = [], 0
    while True:
        header = stream.readline()
        if not header:
            return ids, published
        match = re.fullmatch(rb"Content-Length: (\d+)\r\n", header)
        if not match or stream.readline() != b"\r\n":
            raise ValueError(f"stray bytes: {header[:80]}")
        content = json.loads(stream.read(int(match[1])).decode("utf-8"))
        if "method" in content:
            published += 1
        elif "result" in content or "error" in content:
            ids.append(content["id"])
        else:
            raise ValueError(f"neither result nor error: {content}")


def main():
    folder = tempfile.mkdtemp(dir=os.environ.get("TMPDIR"))
    fuzzer = Fuzzer(folder)
    for name in fuzzer.names[:3]:
        shutil.copy(os.path.join(harness.ROOT, "examples", name), folder)
    memory = []
    with subprocess.Popen([harness.WETSIDE, "lsp"], stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        writer = threading.Thread(target=feed, args=(fuzzer, process, memory))
        errors = []
        listener = threading.Thread(target=lambda: errors.append(process.stderr.read()))
        writer.start()
        listener.start()
        try:
            ids, published = read_answers(process.stdout)
            why = ""
        except ValueError as error:
            ids, published, why = [], 0, str(error)
            process.kill()
        process.wait()
        writer.join()
        listener.join()
    harness.check(why == "", "everything that comes back is a message", why)
    harness.check(process.returncode == 0, f"{COUNT} messages: it ends with status 0",
                  f"{process.returncode}\n{errors[0].decode(errors='replace')[-3000:]}")
    harness.check(ids[-1:] == ["end"], "and answers to the end", ids[-3:])
    harness.check(len(ids) > COUNT // 3 and published > COUNT // 200, f"{len(ids)} answers, {published} lists of findings")
    harness.check(errors[0] == b"", "nothing is said on standard error", errors[0].decode(errors="replace")[-3000:])
    harness.check(len(memory) == 2 and (IS_SANITIZED or memory[1] - memory[0] < GROWTH_AT_MOST_KB), f"memory does not grow: {memory} kB")
    harness.end()


main()
