"""Typed getters: ask a mapping for what it should hold; what is wrong goes to the log.

A getter returns None (or nothing) where its key is absent or at fault, so a reader goes on and
reports every fault of the file at once. The keys asked for are the keys that are known: `finish`
reports the others.
"""

from collections.abc import Sequence

from generator.problems import (
    YAML_COMMAS,
    Place,
    Problem,
    ProblemLog,
    find_near_names,
    format_near_names,
    make_problem,
)
from generator.yaml_source.nodes import Entries, Items, Node, Word

FEW_NAMES = 4
"""Where one key is unknown, one missing and no more than these are free, the one is the other."""
YES_NO = {"yes": True, "no": False}


def find_word(node: Node, log: ProblemLog, expected: str = "text") -> Word | None:
    """Return the node if it is a word that is not empty; else report a D106 or D111."""
    if not isinstance(node, Word):
        _report_shape(node, expected, log)
        return None
    if not node.text.strip():
        _report_empty(node.place, log)
        return None
    return node


def find_entries(
    node: Node, log: ProblemLog, expected: str = "a mapping of names"
) -> Entries | None:
    """Return the node if it is a mapping; else report a D106 or D111."""
    if isinstance(node, Entries):
        return node
    if isinstance(node, Word) and not node.text.strip():
        _report_empty(node.place, log)
    else:
        _report_shape(node, expected, log)
    return None


def find_items(node: Node, log: ProblemLog, expected: str = "a list") -> tuple[Node, ...] | None:
    """Return the items if the node is a list; else report a D106 or D111."""
    if isinstance(node, Items):
        return node.items
    if isinstance(node, Word) and not node.text.strip():
        _report_empty(node.place, log)
    else:
        _report_shape(node, expected, log)
    return None


def find_words(node: Node, log: ProblemLog) -> tuple[Word, ...]:
    """Return the words of a list, or the one word that stands for a list of one."""
    nodes = node.items if isinstance(node, Items) else (node,)
    words = (find_word(item, log, "text or a list of texts") for item in nodes)
    return tuple(word for word in words if word is not None)


def find_choice(word: Word, choices: Sequence[str], log: ProblemLog) -> str | None:
    """Return the word's text if it is one of the choices; else report a D107."""
    if word.text in choices:
        return word.text
    hint = format_near_names(word.text, choices)
    log.add("D107", word.place, hint=hint, text=word.text, key=_last_key(word.place))
    return None


def find_comma_hint(items: Sequence[Node]) -> str | None:
    """Return a hint if a list has more items than it should because a comma split a formula.

    Args:
        items: The items of a list whose number is at fault: ``[max(a, b), 0]`` has three.
    """
    texts = [item.text for item in items if isinstance(item, Word)]
    is_split = any(text.count("(") != text.count(")") for text in texts)
    return YAML_COMMAS if is_split else None


class MappingReader:
    """Reads one mapping key by key and remembers which keys were asked for."""

    def __init__(self, entries: Entries, log: ProblemLog) -> None:
        self._log = log
        self._nodes = {word.text: node for word, node in entries.entries}
        self._keys = {word.text: word for word, _ in entries.entries}
        self._asked: dict[str, None] = {}
        self._missing: dict[str, Problem] = {}
        self.place = entries.owner

    def has(self, key: str) -> bool:
        """Return whether the key is written; it counts as known."""
        self._asked[key] = None
        return key in self._nodes

    def place_of(self, key: str) -> Place:
        """Return the place of a key, or of the whole mapping where the key is absent."""
        return self._keys[key].place if key in self._keys else self.place

    def node(self, key: str) -> Node | None:
        """Return whatever stands under a key, None where it is absent."""
        return self._nodes[key] if self.has(key) else None

    def required(self, key: str) -> Node | None:
        """Return whatever stands under a key; report a D105 where it is absent."""
        node = self.node(key)
        if node is None:
            self.report_missing(key, self.place)
        return node

    def report_missing(self, key: str, place: Place, hint: str | None = None) -> None:
        """Report a D105; `finish` takes it back where the key is there but misspelt."""
        if key not in self._missing:
            self._missing[key] = make_problem("D105", place, hint=hint, key=key)
            self._log.problems.append(self._missing[key])

    def word(self, key: str) -> Word | None:
        """Return the word under a key."""
        node = self.node(key)
        return None if node is None else find_word(node, self._log)

    def required_word(self, key: str) -> Word | None:
        """Return the word under a key that must be there."""
        node = self.required(key)
        return None if node is None else find_word(node, self._log)

    def text(self, key: str, default: str = "") -> str:
        """Return the text under a key, the default where it is absent or at fault."""
        word = self.word(key)
        return default if word is None else word.text.strip()

    def required_text(self, key: str) -> str | None:
        """Return the text under a key that must be there."""
        word = self.required_word(key)
        return None if word is None else word.text.strip()

    def choice(self, key: str, choices: Sequence[str], default: str | None = None) -> str | None:
        """Return the word under a key if it is one of the choices."""
        word = self.word(key)
        found = None if word is None else find_choice(word, choices, self._log)
        return default if found is None else found

    def required_choice(self, key: str, choices: Sequence[str]) -> str | None:
        """Return the word under a key that must be there and be one of the choices."""
        word = self.required_word(key)
        return None if word is None else find_choice(word, choices, self._log)

    def yes_no(self, key: str, *, default: bool) -> bool:
        """Return the truth under a key that takes `yes` or `no`."""
        found = self.choice(key, tuple(YES_NO))
        return default if found is None else YES_NO[found]

    def entries(self, key: str) -> tuple[tuple[Word, Node], ...]:
        """Return the names and nodes of the mapping under a key; nothing where it is absent."""
        node = self.node(key)
        found = None if node is None else find_entries(node, self._log)
        return () if found is None else found.entries

    def required_entries(self, key: str) -> tuple[tuple[Word, Node], ...]:
        """Return the names and nodes of a mapping that must be there."""
        node = self.required(key)
        found = None if node is None else find_entries(node, self._log)
        return () if found is None else found.entries

    def mapping(self, key: str) -> "MappingReader | None":
        """Return a reader of the mapping under a key."""
        node = self.node(key)
        found = None if node is None else find_entries(node, self._log)
        return None if found is None else MappingReader(found, self._log)

    def required_mapping(self, key: str) -> "MappingReader | None":
        """Return a reader of the mapping under a key that must be there."""
        return self.mapping(key) if self.required(key) is not None else None

    def items(self, key: str) -> tuple[Node, ...]:
        """Return the items of the list under a key; nothing where it is absent."""
        node = self.node(key)
        found = None if node is None else find_items(node, self._log)
        return () if found is None else found

    def required_items(self, key: str) -> tuple[Node, ...]:
        """Return the items of a list that must be there."""
        node = self.required(key)
        found = None if node is None else find_items(node, self._log)
        return () if found is None else found

    def words(self, key: str) -> tuple[Word, ...]:
        """Return the words of the list under a key, or its one word as a list of one."""
        node = self.node(key)
        return () if node is None else find_words(node, self._log)

    def finish(self, *also: str) -> None:
        """Report a D104 for every key that was not asked for.

        A key that is missing because it is misspelt is one fault: its D105 is taken back. So is a
        mapping none of whose keys are known, which stands in the wrong section.

        Args:
            *also: Further keys that are known.
        """
        known = [*self._asked, *also]
        unknown = [(key, word) for key, word in self._keys.items() if key not in known]
        if len(unknown) == len(self._keys) and self._missing:
            unknown = unknown[:1]
            for key in [*self._missing] if unknown else []:
                self._take_back(key)
        for key, word in unknown:
            free = [name for name in known if name not in self._keys]
            hint = format_near_names(key, free)
            if hint is None:
                hint = format_near_names(key, known)
            near = find_near_names(key, free)
            if not near and len(unknown) == 1 and len(free) <= FEW_NAMES:
                near = [*self._missing]
            for name in near[:1]:
                self._take_back(name)
            self._log.add("D104", word.place, hint=hint, key=key)

    def _take_back(self, key: str) -> None:
        problem = self._missing.pop(key, None)
        if problem is not None:
            self._log.problems.remove(problem)


def _report_shape(node: Node, expected: str, log: ProblemLog) -> None:
    found = {Word: "text", Items: "a list", Entries: "a mapping of names"}[type(node)]
    place = node.place
    log.add("D106", place, key=_last_key(place), expected=expected, found=found)


def _report_empty(place: Place, log: ProblemLog) -> None:
    log.add("D111", place, text=_last_key(place))


def _last_key(place: Place) -> str:
    return place.key.rpartition(".")[2]
