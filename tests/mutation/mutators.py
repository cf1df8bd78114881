"""Small mistakes made on purpose in a C source: each Mutant is the source with a few tokens replaced in one place.

The tokens are those of C, roughly: comments, strings and lines of the preprocessor other than `#define NAME value` are
let alone, and so is what stands outside of functions, except for the figures of a #define and of a table."""

import collections
import hashlib
import re

TOKEN = re.compile(r"""
    (?P<blank>\s+|/\*.*?\*/|//[^\n]*)
  | (?P<define>\#[ ]*define[ ]+\w+(?:\([^)]*\))?)
  | (?P<directive>\#(?:[^\n\\]|\\.)*)
  | (?P<string>"(?:[^"\\\n]|\\.)*"|'(?:[^'\\\n]|\\.)*')
  | (?P<number>(?:0[xX][0-9a-fA-F]+|\d+\.?\d*(?:[eE][-+]?\d+)?|\.\d+)[uUlLfF]*)
  | (?P<word>[A-Za-z_]\w*)
  | (?P<sign><<=|>>=|\.\.\.|->|\+\+|--|<<|>>|<=|>=|==|!=|&&|\|\||[-+*/%&|^]=|.)
""", re.VERBOSE | re.DOTALL)
RELATIONS = {"<": ("<=", ">"), "<=": ("<", ">="), ">": (">=", "<"), ">=": (">", "<="), "==": ("!=",), "!=": ("==",)}
OTHERS = {"&&": ("||",), "||": ("&&",), "+": ("-",), "-": ("+",), "*": ("/",), "/": ("*",), "%": ("/",), "+=": ("-=", "="),
          "-=": ("+=",), "*=": ("/=",), "/=": ("*=",), "|=": ("=",), "|": ("&",), "&": ("|",), "<<": (">>",), ">>": ("<<",)}
WORDS = {"true": ("false",), "false": ("true",)}
# What begins no statement that could be left out.
NO_STATEMENT = {"return", "goto", "case", "default", "if", "for", "while", "do", "switch", "else", "struct", "enum", "union",
                "const", "static", "int", "bool", "char", "double", "size_t", "unsigned", "signed", "long", "typedef", "void"}

Token = collections.namedtuple("Token", "kind text start end")
Mutant = collections.namedtuple("Mutant", "path line start end text kind function before after")


def tokens_of(source):
    """The tokens, without blanks. Those of a multi-line #define stand in the list like any others."""
    return [Token(m.lastgroup, m.group(), m.start(), m.end()) for m in TOKEN.finditer(source)
            if m.lastgroup not in ("blank", "directive", "string") or m.lastgroup == "string"]


def is_binary(tokens, at):
    """Whether a sign that may stand before or between values stands between two."""
    before = tokens[at - 1] if at else None
    return before is not None and (before.kind in ("number", "string") or before.text in (")", "]") or
                                   (before.kind == "word" and before.text not in NO_STATEMENT))


def closing(tokens, at, opens="(", closes=")"):
    """The index of the bracket that closes the one at `at`."""
    depth = 0
    for index in range(at, len(tokens)):
        depth += {opens: 1, closes: -1}.get(tokens[index].text, 0)
        if depth == 0:
            return index
    return len(tokens) - 1


def end_of_statement(tokens, at):
    """The index of the `;` that ends a statement without a block, or None."""
    depth = 0
    for index in range(at, len(tokens)):
        text = tokens[index].text
        depth += {"(": 1, "[": 1, "{": 1, ")": -1, "]": -1, "}": -1}.get(text, 0)
        if depth < 0:
            return None
        if depth == 0 and text == ";":
            return index
    return None


def other_numbers(text):
    """A whole figure one more and one less, a fraction one per cent more."""
    if re.fullmatch(r"\d+", text):
        value = int(text)
        return ("1",) if value == 0 else (str(value + 1), str(value - 1))
    if re.fullmatch(r"\d+[uU]?[lL]*", text):
        return (re.sub(r"^\d+", lambda m: str(int(m.group()) + 1), text),)
    if re.fullmatch(r"\d*\.?\d*(?:[eE][-+]?\d+)?", text):
        return (repr(float(text) * 1.01 if float(text) else 0.01),)
    return ()


class Reader:
    """Goes through the tokens of a file and collects what could be changed in it."""

    def __init__(self, path, source):
        self.path, self.source, self.tokens = path, source, tokens_of(source)
        self.changes = []  # start, end, text, kind, function
        self.function = ""
        self.returns = ""  # the type that the function returns

    def change(self, kind, first, last, text):
        self.changes.append((self.tokens[first].start, self.tokens[last].end, text, kind, self.function))

    def text(self, first, last):
        return self.source[self.tokens[first].start:self.tokens[last].end]

    def read(self):
        depth, head = 0, 0
        for at, token in enumerate(self.tokens):
            if token.text == "{":
                if depth == 0:
                    self.enter(head, at)
                depth += 1
            elif token.text == "}":
                depth -= 1
            if depth == 0 and token.text in (";", "}"):
                head = at + 1
                self.returns = self.function = ""
            if self.returns:
                self.in_function(at)
            elif token.kind == "number" and self.tokens[at - 1].text != "[":
                self.figure(at)
        return self.changes

    def enter(self, head, at):
        """A block outside of functions begins: a function where a `)` stands before it."""
        if at and self.tokens[at - 1].text == ")":
            start = at - 1
            while start > head and self.tokens[start].text != "(":
                start -= 1
            self.function = self.tokens[start - 1].text
            self.returns = " ".join(t.text for t in self.tokens[head:max(head, start - 1)] if t.kind != "define") or "void"

    def is_room(self, at):
        """Whether a token belongs to the `+ 1` of the room of an array. It is let alone: more room is no mistake, and of
        too little nothing tells, since arenas have no red zones."""
        plus = at if self.tokens[at].text == "+" else at - 1
        if [token.text for token in self.tokens[plus:plus + 3]] != ["+", "1", ")"]:
            return False
        depth = 0
        for index in range(plus + 2, -1, -1):
            depth += {")": 1, "(": -1}.get(self.tokens[index].text, 0)
            if depth == 0:
                return self.tokens[index - 1].text == "ARENA_ARRAY"
        return False

    def figure(self, at):
        if self.is_room(at):
            return
        for text in other_numbers(self.tokens[at].text):
            self.change("figure", at, at, text)

    def in_function(self, at):
        token = self.tokens[at]
        if token.kind == "number":
            self.figure(at)
        elif token.kind == "sign":
            self.sign(at)
        elif token.text in WORDS:
            self.change("truth", at, at, WORDS[token.text][0])
        elif token.text in ("if", "while") and self.tokens[at + 1].text == "(":
            end = closing(self.tokens, at + 1)
            self.change("condition", at + 1, end, f"(!{self.text(at + 1, end)})")
        elif token.text in ("break", "continue"):
            self.change("jump", at, at, "")
        elif token.text == "return" and self.tokens[at + 1].text != ";":
            self.returned(at)
        self.statement(at)

    def sign(self, at):
        sign = self.tokens[at].text
        for text in RELATIONS.get(sign, ()):
            self.change("relation", at, at, text)
        if sign in OTHERS and not self.is_room(at) and (sign not in "+-*&" or is_binary(self.tokens, at)):
            # A pointer in a declaration is no product: `struct process *process`, `char *text`.
            if sign == "*" and self.source[self.tokens[at].end] not in " \n":
                return
            for text in OTHERS[sign]:
                self.change("sign", at, at, text)
        if sign == "?":
            self.change("condition", at, at, "&& false ?")
            self.change("condition", at, at, "|| true ?")

    def returned(self, at):
        end = end_of_statement(self.tokens, at)
        if end is None or end == at + 2 and self.tokens[at + 1].text in ("true", "false", "NULL", "0"):
            return
        value = self.text(at + 1, end - 1)
        if "bool" in self.returns:
            self.change("return", at + 1, end - 1, f"!({value})")
        elif "*" in self.returns:
            self.change("return", at + 1, end - 1, "NULL")
        elif re.search(r"\b(?:u?int\w*|size_t|double)\b", self.returns):
            self.change("return", at + 1, end - 1, f"({value}) + 1")

    def statement(self, at):
        """A call or an assignment that stands alone is left out."""
        before = self.tokens[at - 1].text
        token = self.tokens[at]
        if before not in ("{", "}", ";", ")", "else", ":") or token.kind != "word" or token.text in NO_STATEMENT:
            return
        if before == ":" and not self.is_label(at - 1):
            return
        if token.text in ("break", "continue") or before == ")" and not self.ends_head(at - 1):
            return
        end = end_of_statement(self.tokens, at)
        follower = self.tokens[at + 1]
        if end is None or follower.kind == "word" or follower.text in ("*", ":"):
            return  # a declaration, a label
        self.change("statement", at, end - 1, "")

    def is_label(self, at):
        """Whether a `:` belongs to a label, and not to `?`."""
        while at > 0 and self.tokens[at - 1].text not in (";", "{", "}", "?"):
            at -= 1
            if self.tokens[at].text in ("case", "default"):
                return True
        return False

    def ends_head(self, at):
        """Whether a `)` closes the head of an if, a for or a while, so that a statement begins behind it."""
        depth = 0
        for index in range(at, -1, -1):
            depth += {")": 1, "(": -1}.get(self.tokens[index].text, 0)
            if depth == 0:
                return index > 0 and self.tokens[index - 1].text in ("if", "for", "while")
        return False


def one_line(text):
    return " ".join(text.split())


def mutants_of(path, source):
    """Every mutant of a source. The function and the lines before and after are what to tell and to find it by."""
    for start, end, text, kind, function in sorted(set(Reader(path, source).read())):
        first = source.rfind("\n", 0, start) + 1
        last = source.find("\n", end)
        last = len(source) if last < 0 else last
        line = source.count("\n", 0, start) + 1
        yield Mutant(path, line, start, end, text, kind, function, one_line(source[first:last]),
                     one_line(source[first:start] + text + source[end:last]))


def changed(source, mutant):
    return source[:mutant.start] + mutant.text + source[mutant.end:]


def order_of(seed, mutant, occurrence):
    """Where a mutant stands in the draw: by what it is, not by where, so that other edits leave the sample as it is."""
    name = "\0".join((seed, mutant.path, mutant.kind, mutant.before, mutant.after, str(occurrence)))
    return hashlib.sha256(name.encode()).hexdigest()


def sample(mutants, seed, size):
    """So many of all mutants, drawn by lot, but one of each file at least."""
    seen = collections.Counter()
    drawn = []
    for mutant in mutants:
        key = (mutant.path, mutant.text, mutant.kind, mutant.before, mutant.after)
        drawn.append((order_of(seed, mutant, seen[key]), mutant))
        seen[key] += 1
    first_of_file = {}  # so that no file is left out
    for order, mutant in sorted(drawn):
        first_of_file.setdefault(mutant.path, (order, mutant))
    chosen = set(first_of_file.values())
    for pair in sorted(drawn):
        if len(chosen) >= size:
            break
        chosen.add(pair)
    return [mutant for _, mutant in sorted(chosen)]
