"""One entry of a catalogue file, with getters for sizes and sources."""

from collections.abc import Sequence

from generator.formula.evaluate import evaluate_formula
from generator.formula.parse import parse_formula
from generator.problems import Place, ProblemLog
from generator.units import SYSTEMS, Kind, Quantity, System
from generator.yaml_source.getters import MappingReader, find_word
from generator.yaml_source.nodes import Entries, Node

IMPERIAL: System = "imperial"
MOST_PACKED = 1000
"""In one pack."""


class EntryReader:
    """Reads one entry; a fault is reported and stands for a harmless value until `is_at_fault`."""

    def __init__(self, name: str, entries: Entries, log: ProblemLog) -> None:
        self._reader = MappingReader(entries, log)
        self._log = log
        self._known = len(log.problems)
        self.name = name

    @property
    def place(self) -> Place:
        """Where the entry's name stands."""
        return self._reader.place

    @property
    def is_at_fault(self) -> bool:
        """Whether anything in the entry was reported; it must not be used then."""
        return len(self._log.problems) > self._known

    def text(self, key: str) -> str:
        """Return the text under a key that must be there."""
        found = self._reader.required_text(key)
        return "" if found is None else found

    def system(self) -> System:
        """Return the edition the entry is sold in."""
        found = self._reader.required_choice("sold_in", SYSTEMS)
        return next((system for system in SYSTEMS if system == found), IMPERIAL)

    def choice(self, key: str, choices: Sequence[str]) -> str:
        """Return the word under a key that must be there and be one of the choices."""
        found = self._reader.required_choice(key, choices)
        return choices[0] if found is None else found

    def yes_no(self, key: str) -> bool:
        """Return the truth under a key that must be there."""
        return self.choice(key, ("yes", "no")) == "yes"

    def length_mm(self, key: str, *, most_mm: float) -> float:
        """Return the length under a key that must be there; more than 0 and at most the limit."""
        return self._value(key, "length", most_mm, " mm")

    def number(self, key: str, *, most: float) -> float:
        """Return the number under a key that must be there; more than 0 and at most the limit."""
        return self._value(key, "number", most, "")

    def optional_length_mm(self, key: str, *, most_mm: float) -> float | None:
        """Return the length under a key, None where the key is absent."""
        return self._value(key, "length", most_mm, " mm") if self._reader.has(key) else None

    def optional_angle_deg(self, key: str, *, most_deg: float) -> float | None:
        """Return the angle under a key, None where the key is absent."""
        return self._value(key, "angle", most_deg, " deg") if self._reader.has(key) else None

    def entries(self, key: str) -> tuple[tuple[str, Node], ...]:
        """Return the names and nodes of a mapping that must be there."""
        return tuple((word.text, node) for word, node in self._reader.required_entries(key))

    def items(self, key: str) -> tuple[Node, ...]:
        """Return the items of a list that must be there."""
        return self._reader.required_items(key)

    def counts(self, key: str) -> tuple[int, ...]:
        """Return the whole numbers of a list that must be there, the least first."""
        found = []
        for node in self._reader.required_items(key):
            value = self._measure(key, node, "number", MOST_PACKED, "")
            if value != int(value):
                self.report_limit(key, f"{value:g}", "it must be a whole number")
            found.append(int(value))
        return tuple(sorted(found))

    def length_of(self, key: str, node: Node, *, most_mm: float) -> float:
        """Return the length a list item gives; more than 0 and at most the limit."""
        return self._measure(key, node, "length", most_mm, " mm")

    def report_limit(self, key: str, value: str, limit: str) -> None:
        """Report a K107: a value that cannot be."""
        place = self._reader.place_of(key)
        self._log.add("K107", place, key=key, entry=self.name, value=value, limit=limit)

    def report_material(self, material: str, hint: str | None) -> None:
        """Report a K106: a material that shared/materials.yml does not list."""
        place = self._reader.place_of("material")
        self._log.add("K106", place, hint=hint, entry=self.name, material=material)

    def finish(self) -> None:
        """Report the keys nobody asked for."""
        self._reader.finish()

    def _value(self, key: str, kind: Kind, most: float, unit: str) -> float:
        node = self._reader.required(key)
        return most if node is None else self._measure(key, node, kind, most, unit)

    def _measure(self, key: str, node: Node, kind: Kind, most: float, unit: str) -> float:
        quantity = self._quantity(node, kind)
        if quantity is None:
            return most
        value = float(quantity.value)
        if not 0 < value <= most:
            limit = f"it must be more than 0 and at most {most:g}{unit}"
            shown = f"{value:g}{unit}"
            self._log.add("K107", node.place, key=key, entry=self.name, value=shown, limit=limit)
        return value

    def _quantity(self, node: Node, kind: Kind) -> Quantity | None:
        word = find_word(node, self._log)
        formula = None if word is None else parse_formula(word.text, word.place, self._log)
        return None if formula is None else evaluate_formula(formula, {}, self._log, needed=kind)
