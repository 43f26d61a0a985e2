"""What differs between two plans, as plan.json tells them, in words and in the reader's units.

Everything in plan.json is compared, also what nobody thought of here: two plans without a change
are the same plan, but for the version of the generator.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from generator.units import System, format_angle, format_length

Value = object
"""A number, a text, a truth, or nothing; or a list of these."""

NAMES: Final = ("name", "id", "key", "item", "code", "label", "order", "number", "piece", "kerf_mm")
"""What tells the entries of a list apart: the first of these that every one of them has."""

ASIDE: Final = ("generator",)
"""Another version of the generator is no change of a plan."""

MOST_VALUES: Final = 6
"""A longer list is not printed, it is only said to have changed."""

SHOWN: Final = 3
"""How many entries are named where the same happened to many."""

READ: Final = frozenset(
    (
        *("value", "count", "material", "thickness", "length", "width", "grain", "price"),
        *("size", "tilt", "mitre", "title", "quantity", "revision", "date", "what"),
    )
)
"""Fields a reader reads; what follows from them is only named."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One value that differs.

    Attributes:
        section: The part of the plan it stands in, such as ``parts``.
        entry: Which of its entries, such as ``side``; "" where the section is no list.
        path: What changed there, from outside in; empty for an entry as a whole.
        before: In words; "" where there was none.
        after: In words; "" where there is none any more.
    """

    section: str
    entry: str
    path: tuple[str, ...]
    before: str
    after: str


def find_changes(
    before: Mapping[str, Value], after: Mapping[str, Value], system: System
) -> tuple[Change, ...]:
    """Return every value of a plan that differs, in the order of plan.json.

    Args:
        before: The plan as it was, read from its plan.json.
        after: The plan as it is.
        system: Decides how lengths are printed.
    """
    found: list[Change] = []
    for section in dict.fromkeys((*before, *after)):
        if section in ASIDE:
            continue
        one, other = before.get(section), after.get(section)
        for path, old, new in _differences(one, other):
            entry = path[0] if path and _has_entries(one or other) else ""
            fields = path[1:] if entry else path
            key = next((word for word in reversed((section, *path)) if _unit_of(word)), "")
            found.append(
                Change(
                    section=_words(section),
                    entry=entry,
                    path=tuple(_words(word) for word in fields),
                    before=_say(old, _unit_of(key), system),
                    after=_say(new, _unit_of(key), system),
                )
            )
    return tuple(found)


def tell_changes(changes: Sequence[Change], *, every: bool = False) -> tuple[str, ...]:
    """Return a line for each entry that changed; what happened to many alike is told once.

    Args:
        changes: Of one plan.
        every: Whether each value has a line of its own, also what only follows from others.
    """
    if every:
        return tuple(f"{_place(one.section, [one.entry], one)}: {_from_to(one)}" for one in changes)
    entries: dict[tuple[str, str], list[Change]] = {}
    for one in changes:
        entries.setdefault((one.section, one.entry), []).append(one)
    told: dict[tuple[str, str], list[str]] = {}
    for (section, entry), group in entries.items():
        told.setdefault((section, _tell_entry(group)), []).append(entry)
    return tuple(f"{_place(section, names)}: {text}" for (section, text), names in told.items())


def _tell_entry(group: Sequence[Change]) -> str:
    """Return what a reader reads of an entry, from what to what, and the names of the rest."""
    read = [one for one in group if _is_read(one)]
    rest: dict[str, int] = {}
    for one in group:
        if not _is_read(one):
            rest[one.path[0]] = rest.get(one.path[0], 0) + 1
    lines = [f"{' '.join(one.path)} {_from_to(one)}".lstrip() for one in read]
    also = ", ".join(name if count == 1 else f"{name} ({count})" for name, count in rest.items())
    return "; ".join((*lines, f"also {also}" if lines else also) if also else lines)


def _is_read(change: Change) -> bool:
    return not change.entry or not change.path or (len(change.path) == 1 and change.path[0] in READ)


def _differences(one: Value, other: Value) -> Iterator[tuple[tuple[str, ...], Value, Value]]:
    """Yield the path to every value that differs, with what it was and is."""
    if isinstance(one, dict) and isinstance(other, dict):
        for key in dict.fromkeys((*one, *other)):
            for path, old, new in _differences(one.get(key), other.get(key)):
                yield (str(key), *path), old, new
        return
    if _is_entries(one) and _is_entries(other):
        old_ones, new_ones = _named(one), _named(other)
        for name in dict.fromkeys((*old_ones, *new_ones)):
            old, new = old_ones.get(name), new_ones.get(name)
            if old is None or new is None:
                yield (name,), old, new
                continue
            for path, was, is_now in _differences(old, new):
                yield (name, *path), was, is_now
        return
    if one != other:
        yield (), one, other


def _has_entries(section: Value) -> bool:
    """Whether a section is a list of things, or a mapping of names to things."""
    values = section.values() if isinstance(section, dict) else section
    return isinstance(values, Iterable) and all(isinstance(one, dict) for one in values)


def _is_entries(value: Value) -> bool:
    return isinstance(value, list) and all(isinstance(entry, dict) for entry in value)


def _named(entries: Value) -> dict[str, Value]:
    """Return the entries of a list by their names, or by their numbers where names are not one."""
    assert isinstance(entries, list)
    for key in NAMES:
        names = [str(entry[key]) for entry in entries if key in entry]
        if len(set(names)) == len(entries):
            return dict(zip(names, entries, strict=True))
    return {str(number): entry for number, entry in enumerate(entries, start=1)}


def _unit_of(key: str) -> str:
    return next((unit for unit in ("mm", "deg", "kg") if key.endswith(f"_{unit}")), "")


def _words(key: str) -> str:
    unit = _unit_of(key)
    return (key.removesuffix(f"_{unit}") if unit else key).replace("_", " ")


def _say(value: Value, unit: str, system: System) -> str:
    """Return a value in words; a whole entry is only said to be there."""
    if value is None:
        return ""
    if isinstance(value, dict):
        return "there"
    if isinstance(value, list):
        return _say_list(value, unit, system)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return _number(float(value), unit, system)
    return " ".join(str(value).split())


def _say_list(values: Sequence[Value], unit: str, system: System) -> str:
    if not values:
        return "none"
    if len(values) > MOST_VALUES or any(isinstance(one, list | dict) for one in values):
        return f"{len(values)} values"
    return ", ".join(_say(one, unit, system) for one in values)


def _number(value: float, unit: str, system: System) -> str:
    if unit == "mm":
        return format_length(value, system)
    if unit == "deg":
        return format_angle(value)
    return f"{value:g} {unit}".rstrip()


def _from_to(change: Change) -> str:
    if not change.before:
        return "new" if change.after == "there" else f"new, {change.after}"
    if not change.after:
        return "gone" if change.before == "there" else f"gone, was {change.before}"
    if change.before == change.after:
        if change.before.endswith(" values"):
            return "changed"
        return f"{change.before}, changed by less than is printed"
    return f"{change.before} → {change.after}"


def _place(section: str, names: Sequence[str], change: Change | None = None) -> str:
    more = len(names) - SHOWN
    some = ", ".join(names[:SHOWN]) + (f" and {more} more" if more > 0 else "")
    return " ".join(word for word in (section, some, *(change.path if change else ())) if word)
