"""What general programs of the same make are given: a device tree with as many nodes and properties as a library has blocks
and clauses, and Markdown. They say what reading so many bytes costs on the same machine."""

import glob
import os
import re
import sys

sys.path.insert(0, os.path.dirname(os.path.dirname(os.path.abspath(__file__))))

import harness  # noqa: E402

TOKEN = re.compile(r'(\n)|([{};])|(#.*)|((?:"(?:[^"\\]|\\.)*"|[^"#{};\n])+)')
NO_NAME = re.compile(r"[^0-9A-Za-z,._+-]+")
GROUP = 200  # declarations under one node, so that none has too many children


class Node:
    """A node being written: dtc wants its properties before the nodes in it. Each name in it is another one."""

    def __init__(self, name=""):
        self.name, self.names, self.properties, self.children = name, {}, [], []

    def unused(self, words):
        name = NO_NAME.sub("-", words).strip("-") or "x"
        count = self.names[name] = self.names.get(name, 0) + 1
        return name if count == 1 else f"{name}-{count}"

    def add(self, clause):
        name, _, value = clause.partition(" ")
        value = value.replace("\\", "\\\\").replace('"', '\\"')
        self.properties.append(self.unused(name) + (f' = "{value}";\n' if value else ";\n"))

    def text(self):
        return "".join((self.name, " {\n", *self.properties, *self.children, "};\n"))


def nodes_of(text):
    """The declarations of a recipe as (node as text, nodes, properties): a block is a node that is called by its first two
    words; its other words and every clause are properties; comments stay."""
    stack, clause, nodes, properties = [Node()], "", 0, 0
    for newline, mark, comment, words in TOKEN.findall(text):
        if words:
            clause += words
            continue
        clause = clause.strip()
        if comment:
            stack[-1].properties.append(f"/* {comment[1:].strip()} */\n")
        if mark == "{":
            first, second, rest = (clause + "  ").split(" ", 2)
            stack.append(Node(stack[-1].unused(f"{first} {second}")))
            clause = "is " + rest.strip() if rest.strip() else ""
            nodes += 1
        if not clause.endswith(",") and not comment:
            if clause:
                stack[-1].add(clause)
                properties += 1
            clause = ""
        if mark == "}":
            done = stack.pop()
            if len(stack) > 1:
                stack[-1].children.append(done.text())
            else:
                stack[0].properties.append(done.text())
                yield "".join(stack[0].properties), nodes, properties
                stack, nodes, properties = [Node()], 0, 0


def write_device_tree(library, path, size):
    """Writes a library, or its first part, as a device tree of about `size` bytes; returns the numbers of nodes and
    properties."""
    written = nodes = properties = 0
    with open(library, encoding="utf-8") as source, open(path, "w", encoding="utf-8") as file:
        file.write("/dts-v1/;\n/ {\ngroup-0 {\n")
        source.readline()
        for number, (text, more_nodes, more_properties) in enumerate(nodes_of(source.read()), 1):
            nodes, properties = nodes + more_nodes, properties + more_properties
            written += len(text.encode())
            file.write(text)
            if number % GROUP == 0:
                file.write(f"}};\ngroup-{number} {{\n")
            if written >= size:
                break
        file.write("};\n};\n")
    return nodes, properties


def write_markdown(path, size):
    """Writes so many bytes of Markdown: the documents one after the other, each time with other figures."""
    documents = [harness.read(os.path.relpath(name, harness.ROOT))
                 for name in sorted(glob.glob(os.path.join(harness.ROOT, "docs", "*.md")))]
    written = turn = 0
    with open(path, "w", encoding="utf-8") as file:
        while written < size:
            for text in documents:
                text = re.sub(r"\d+", lambda figure: str(int(figure.group()) + turn), text) if turn else text
                written += len(text.encode())
                file.write(text)
            turn += 1
