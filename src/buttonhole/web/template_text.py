"""Finds the texts of a template while it is compiled, so that each can be said in any language.

A template is written in plain English, without marks. Every run of text between two tags becomes
one message, with a named hole for each value in it: ``<p>Released by <b>{{ by }}</b></p>`` is the
message ``Released by <b>{by}</b>``. Values of attributes are texts only where people read them
(``TEXT_ATTRIBUTES``); an address or the value of a field is left alone.
"""

import re
from collections.abc import Generator, Iterable, Iterator
from dataclasses import dataclass, field

from jinja2.ext import Extension
from jinja2.lexer import Token, TokenStream

TEXT_ATTRIBUTES = frozenset({"aria-label", "title", "alt", "placeholder", "label"})
INLINE = ("<b>", "</b>", "<small>", "</small>", "<br>")
# Values that people wrote, and the hole each fills: what is in such a hole is never translated.
OWN = {
    "joint.name": "joint_name",
    "joint.job_name": "job_name",
    "view.name": "joint_name",
    "job.title": "title",
    "job.vehicle": "vehicle",
    "job.name": "job_name",
    "me": "person",
}
SAY = "say_text"  # the global every run is said by
_LETTERS = re.compile(r"[^\W\d_]")
_ATTRIBUTE = re.compile(r"([a-zA-Z-]+)\s*=\s*\"\Z")


@dataclass(slots=True)
class Value:
    """One ``{{ … }}`` of a run: its tokens, and the name of its hole."""

    tokens: list[Token]
    name: str


@dataclass(slots=True)
class Run:
    """A run of text and values between two tags."""

    lineno: int = 1
    parts: list[str | Value] = field(default_factory=list)

    def message(self) -> tuple[str, str, str]:
        """What stands before the text, the text with its holes, and what stands behind it."""
        text = "".join(one if isinstance(one, str) else f"{{{one.name}}}" for one in self.parts)
        bare = text.strip()
        before = text[: len(text) - len(text.lstrip())] if bare else text
        behind = text[len(text.rstrip()) :] if bare else ""
        wrapped = re.fullmatch(r"<(b|small)>(((?!</?\1>).)*)</\1>", bare, re.DOTALL)
        if wrapped:
            tag, inner = wrapped[1], wrapped[2]
            return f"{before}<{tag}>", re.sub(r"\s+", " ", inner), f"</{tag}>{behind}"
        return before, re.sub(r"\s+", " ", bare), behind

    @property
    def values(self) -> list[Value]:
        """The values in it."""
        return [one for one in self.parts if isinstance(one, Value)]


class TemplateText(Extension):
    """Makes a message of every run of text."""

    def filter_stream(self, stream: TokenStream) -> Iterable[Token]:
        """Say the texts of a template in place of writing them."""
        return _Reader(stream).tokens()


class _Reader:
    """Goes through a template as a browser would: in a text, in a tag, in an attribute."""

    def __init__(self, stream: Iterable[Token]) -> None:
        self.stream = iter(stream)
        self.run = Run()
        self.place = "text"  # or "tag", "quoted" (an attribute nobody reads), "read"

    def tokens(self) -> Iterator[Token]:
        for token in self.stream:
            if token.type == "data":
                yield from self._data(token)
            elif token.type == "variable_begin":
                value = self._value(token)
                if self.place in ("text", "read"):
                    self.run.parts.append(value)
                else:
                    yield from _written(token.lineno, value.tokens)
            else:
                yield from self._flush()
                yield token
                if token.type == "block_begin":
                    yield from self._block()
        yield from self._flush()

    def _block(self) -> Iterator[Token]:
        for token in self.stream:
            yield token
            if token.type == "block_end":
                return

    def _value(self, begin: Token) -> Value:
        tokens: list[Token] = []
        for token in self.stream:
            if token.type == "variable_end":
                break
            tokens.append(token)
        taken = {one.name for one in self.run.values}
        name = base = OWN.get("".join(str(one.value) for one in tokens)) or hole_name(tokens)
        number = 2
        while name in taken:
            name = f"{base}_{number}"
            number += 1
        return Value(tokens, name)

    def _data(self, token: Token) -> Iterator[Token]:
        rest = token.value
        while rest:
            if self.place == "text":
                rest = yield from self._text(rest, token.lineno)
            elif self.place == "tag":
                rest = yield from self._tag(rest, token.lineno)
            else:
                end = rest.find('"')
                said, rest = (rest, "") if end < 0 else (rest[:end], rest[end:])
                if self.place == "read":
                    self._keep(said, token.lineno)
                elif said:
                    yield Token(token.lineno, "data", said)
                if rest:
                    yield from self._flush()
                    self.place = "tag"
                    yield Token(token.lineno, "data", '"')
                    rest = rest[1:]

    def _text(self, rest: str, lineno: int) -> Generator[Token, None, str]:
        """A piece of text; returns what is left of the data."""
        found = re.search(r"<(?!b>|/b>|small>|/small>|br>)", rest)
        said, left = (rest, "") if found is None else (rest[: found.start()], rest[found.start() :])
        self._keep(said, lineno)
        if left:
            yield from self._flush()
            self.place = "tag"
        return left

    def _tag(self, rest: str, lineno: int) -> Generator[Token, None, str]:
        """A piece of a tag; returns what is left of the data."""
        found = re.search(r"[\">]", rest)
        if found is None:
            yield Token(lineno, "data", rest)
            return ""
        upto = rest[: found.end()]
        yield Token(lineno, "data", upto)
        if found[0] == ">":
            self.place = "text"
        else:
            name = _ATTRIBUTE.search(upto)
            self.place = "read" if name and name[1] in TEXT_ATTRIBUTES else "quoted"
        return rest[found.end() :]

    def _keep(self, said: str, lineno: int) -> None:
        if said:
            if not self.run.parts:
                self.run.lineno = lineno
            self.run.parts.append(said)

    def _flush(self) -> Iterator[Token]:
        run, self.run = self.run, Run()
        if not run.parts:
            return
        for one in _balanced(run):
            yield from _said(one)


def _balanced(run: Run) -> Iterator[Run]:
    """Cut a run at inline tags that are not closed within it."""
    text = "".join(one for one in run.parts if isinstance(one, str))
    if all(text.count(f"<{tag}>") == text.count(f"</{tag}>") for tag in ("b", "small")):
        yield run
        return
    part = Run(run.lineno)
    for one in run.parts:
        if isinstance(one, Value):
            part.parts.append(one)
            continue
        for piece in re.split(r"(</?(?:b|small)>)", one):
            if piece in INLINE:
                yield part
                yield Run(run.lineno, [piece])
                part = Run(run.lineno)
            elif piece:
                part.parts.append(piece)
    yield part


def _said(run: Run) -> Iterator[Token]:
    """The tokens that say a run."""
    if not run.parts:
        return
    before, message, behind = run.message()
    bare = re.sub(r"\{[a-z_0-9]+\}|<[^>]*>|&[a-z]+;", "", message)
    if not _LETTERS.search(bare) and not run.values:
        yield Token(run.lineno, "data", before + message + behind)
        return
    yield Token(run.lineno, "data", before)
    yield from _call(run.lineno, message, run.values)
    yield Token(run.lineno, "data", behind)


def _call(lineno: int, message: str, values: list[Value]) -> Iterator[Token]:
    yield Token(lineno, "variable_begin", "{{")
    yield Token(lineno, "name", SAY)
    yield Token(lineno, "lparen", "(")
    yield Token(lineno, "string", message)
    for one in values:
        yield Token(lineno, "comma", ",")
        yield Token(lineno, "name", one.name)
        yield Token(lineno, "assign", "=")
        yield Token(lineno, "lparen", "(")
        yield from one.tokens
        yield Token(lineno, "rparen", ")")
    yield Token(lineno, "rparen", ")")
    yield Token(lineno, "variable_end", "}}")


def _written(lineno: int, tokens: list[Token]) -> Iterator[Token]:
    yield Token(lineno, "variable_begin", "{{")
    yield from tokens
    yield Token(lineno, "variable_end", "}}")


def hole_name(tokens: list[Token]) -> str:
    """Name a hole after what stands in it: the last name before the first filter."""
    found = "value"
    depth = 0
    for one, after in zip(tokens, [*tokens[1:], None], strict=True):
        if one.type == "pipe" and depth == 0:
            break
        if one.type in ("lparen", "lbracket", "lbrace"):
            depth += 1
        elif one.type in ("rparen", "rbracket", "rbrace"):
            depth -= 1
        elif one.type == "name" and depth == 0 and one.value not in _JOINING:
            called = after is not None and after.type == "lparen"
            found = f"{one.value}_of" if called else one.value
    name = found.lower().strip("_")
    return name if name.isidentifier() and name not in ("text", "message") else f"{name}_"


_JOINING = frozenset({"if", "else", "or", "and", "not", "is", "in", "none", "true", "false"})
