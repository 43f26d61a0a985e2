"""YAML text → nodes. Nothing a file can contain raises; every fault goes to the log.

Built on PyYAML's events, not on its nodes: events do not recurse, so a deep file cannot exhaust
the stack, and reading stops at the limits below instead of after them.
"""

import re
from collections.abc import Iterator
from typing import NoReturn, Protocol

import yaml

from generator.problems import Note, Place, ProblemLog
from generator.yaml_source.faults import explain_yaml_fault
from generator.yaml_source.nodes import Entries, Items, Node, Word

LIMIT_BYTES = 1024 * 1024
LIMIT_NODES = 20_000
LIMIT_DEPTH = 30

GO_ON = frozenset({"D103", "D120"})
"""Faults that leave a whole tree behind, so that the rest of the file is checked too."""

BYTE_ORDER_MARK = "\ufeff"
_LINE_ENDS = re.compile("\r\n|[\n\r\x85\u2028\u2029]")
_CONTROL = re.compile(
    "[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]"
)
_GAUGE = re.compile(r"[ \t]+(?P<note>#\d.*)")


class _Mark(Protocol):
    """Where PyYAML is; lines and columns from 0."""

    line: int
    column: int


class _RefusedError(Exception):
    """The rest of the file is not read; the problem is in the log."""


def parse_yaml(source: str | bytes, file: str, log: ProblemLog) -> Node | None:
    """Return the one document of a YAML text, or None where the text is at fault or empty.

    Args:
        source: The file's text, or its bytes in UTF-8 with or without byte order mark.
        file: Path to show in problems.
        log: Gets a D101, D102, D103, D111, D115, D116 or D120 for every fault.
    """
    text = _decode(source, file, log)
    if text is None:
        return None
    reader = _TreeReader(text, file, log)
    known = len(log.problems)
    try:
        node = reader.read()
    except _RefusedError:
        return None
    except yaml.MarkedYAMLError as error:
        why, hint, mark = explain_yaml_fault(error)
        log.add("D101", reader.place_at(mark), hint=hint, why=why)
        return None
    except (ValueError, OverflowError):
        # PyYAML's scanner hands escapes such as "\UFFFFFFFF" and huge versions to chr() and int().
        why = "an escape or a number in it names nothing"
        log.add("D101", reader.place_at(None), why=why)
        return None
    failed = any(problem.code not in GO_ON for problem in log.problems[known:])
    return None if failed else node


def _decode(source: str | bytes, file: str, log: ProblemLog) -> str | None:
    top = Place(file=file, line=1, column=1)
    size = len(source)
    if size > LIMIT_BYTES:
        log.add("D116", top, count=size, things="bytes", limit=LIMIT_BYTES)
        return None
    if isinstance(source, str):
        text = source
    else:
        try:
            text = source.decode("utf-8")
        except UnicodeDecodeError as error:
            line = source.count(b"\n", 0, error.start) + 1
            log.add(
                "D115",
                Place(file=file, line=line, column=1),
                hint="save it as UTF-8",
                why=f"byte {error.start + 1} is not UTF-8 text",
            )
            return None
    text = text.removeprefix(BYTE_ORDER_MARK)
    return None if _has_control_sign(text, file, log) else text


def _has_control_sign(text: str, file: str, log: ProblemLog) -> bool:
    found = _CONTROL.search(text)
    if found is None:
        return False
    before = _LINE_ENDS.split(text[: found.start()])
    line = _LINE_ENDS.split(text)[len(before) - 1]
    log.add(
        "D101",
        Place(
            file=file,
            line=len(before),
            column=len(before[-1]) + 1,
            text=_CONTROL.sub("\ufffd", line),
        ),
        hint="delete it",
        why=f"it has a sign that is not text (code {ord(found.group()):X} in hexadecimal)",
    )
    return True


class _TreeReader:
    """Builds the nodes of one text from PyYAML's events."""

    def __init__(self, text: str, file: str, log: ProblemLog) -> None:
        self._lines = _LINE_ENDS.split(text)
        self._file = file
        self._log = log
        self._events: Iterator[yaml.Event] = yaml.parse(text, Loader=yaml.BaseLoader)
        self._count = 0
        self._last: _Mark | None = None

    def read(self) -> Node | None:
        """Return the document's node; None for an empty file."""
        node: Node | None = None
        documents = 0
        for event in self._events:
            if isinstance(event, yaml.DocumentStartEvent):
                documents += 1
                if documents > 1:
                    self._refuse("a second document (`---`)", event)
                if event.version is not None or event.tags:
                    self._refuse("a directive (`%`)", event)
            elif isinstance(event, yaml.NodeEvent):
                node = self._read_node(event, "", None, 1)
        if documents == 0:
            self._log.add("D111", self.place_at(None), text=self._file)
        return node

    def place_at(self, mark: _Mark | None, key: str = "", width: int = 1) -> Place:
        """Return the place of a mark; of the last event where there is none."""
        mark = self._last if mark is None else mark
        if mark is None:
            return Place(file=self._file, line=1, column=1)
        number = min(mark.line, len(self._lines) - 1)
        text = self._lines[number]
        column = mark.column if mark.line == number else len(text)
        return Place(
            file=self._file,
            line=number + 1,
            column=column + 1,
            key=key,
            text=text,
            width=max(1, min(width, len(text) - column)),
        )

    def _read_node(self, event: yaml.NodeEvent, key: str, owner: Place | None, depth: int) -> Node:
        self._admit(event, depth)
        if isinstance(event, yaml.ScalarEvent):
            return self._read_word(event, key)
        place = self.place_at(event.start_mark, key)
        owner = place if owner is None else owner
        if isinstance(event, yaml.SequenceStartEvent):
            return Items(tuple(self._read_items(key, depth)), place, owner)
        return Entries(tuple(self._read_entries(key, depth)), place, owner)

    def _admit(self, event: yaml.NodeEvent, depth: int) -> None:
        self._last = event.start_mark
        self._count += 1
        if isinstance(event, yaml.AliasEvent):
            self._refuse("an alias (`*`)", event)
        if event.anchor is not None:
            self._refuse("an anchor (`&`)", event)
        if getattr(event, "tag", None) is not None:
            self._refuse("a tag (`!`)", event)
        for count, things, limit in (
            (self._count, "values", LIMIT_NODES),
            (depth, "levels", LIMIT_DEPTH),
        ):
            if count > limit:
                place = self.place_at(event.start_mark)
                self._log.add("D116", place, count=f"more than {limit}", things=things, limit=limit)
                raise _RefusedError

    def _read_word(self, event: yaml.ScalarEvent, key: str) -> Word:
        text = event.value
        place = self.place_at(event.start_mark, key, _width_of(event))
        if event.style in ("'", '"'):
            place = place.shifted(1, place.width - 2)
        if event.style is None:
            self._check_gauge(event, key)
        if _CONTROL.search(text):
            why = "a backslash code in this text stands for a sign that is not text"
            self._log.add("D101", place, why=why)
        return Word(text, place)

    def _check_gauge(self, event: yaml.ScalarEvent, key: str) -> None:
        """Report a `#8` after a plain text: YAML would drop the screw's gauge and all behind it."""
        place = self.place_at(event.end_mark, key)
        found = _GAUGE.match(place.text, place.column - 1)
        if found is not None:
            place = place.shifted(found.start("note") - found.start(), len(found.group("note")))
            hint = "put the whole text in quotes"
            self._log.add("D120", place, hint=hint, text=found.group("note"))

    def _read_items(self, key: str, depth: int) -> Iterator[Node]:
        for number, event in enumerate(self._children(yaml.SequenceEndEvent), start=1):
            yield self._read_node(event, f"{key}[{number}]", None, depth + 1)

    def _read_entries(self, key: str, depth: int) -> Iterator[tuple[Word, Node]]:
        seen: dict[str, Place] = {}
        twice: list[Word] = []
        children = self._children(yaml.MappingEndEvent)
        for event in children:
            self._admit(event, depth)
            if not isinstance(event, yaml.ScalarEvent):
                self._refuse("a list or a mapping as a key", event)
            if event.value == "<<" and event.style is None:
                self._refuse("a merge key (`<<`)", event)
            path = f"{key}.{event.value}" if key else event.value
            word = self._read_word(event, path)
            value = self._read_node(next(children), path, word.place, depth + 1)
            if word.text in seen:
                twice.append(word)
                continue
            seen[word.text] = word.place
            yield word, value
        if twice:
            self._report_twice(twice, seen)

    def _report_twice(self, twice: list[Word], seen: dict[str, Place]) -> None:
        """Report keys of one mapping that are written twice: one fault where there are several."""
        first, *more = twice
        note = Note(text="it was first written here", place=seen[first.text])
        others = ", ".join(f"`{word.text}`" for word in more)
        hint = f"so are {others}: is a name missing above this line?" if len(more) > 1 else None
        self._log.add("D103", first.place, notes=[note], hint=hint, key=first.text)
        if len(more) == 1:
            self._report_twice(more, seen)

    def _children(self, end: type[yaml.Event]) -> Iterator[yaml.NodeEvent]:
        for event in self._events:
            if isinstance(event, end):
                return
            assert isinstance(event, yaml.NodeEvent)
            yield event

    def _refuse(self, feature: str, event: yaml.Event) -> NoReturn:
        place = self.place_at(event.start_mark)
        sign = place.text[place.column - 1 : place.column]
        hint = f"put a text that begins with {sign} in quotes" if sign in ("*", "&", "!") else None
        self._log.add("D102", place, hint=hint, feature=feature)
        raise _RefusedError


def _width_of(event: yaml.ScalarEvent) -> int:
    """Return how many characters of its first line a scalar takes; at most to the line's end."""
    start, end = event.start_mark, event.end_mark
    if start is None or end is None or start.line != end.line:
        return LIMIT_BYTES
    return end.column - start.column
