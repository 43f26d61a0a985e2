"""Families of screws, nails, dowels and bolts: what all lengths share, and one entry for each."""

from collections.abc import Iterator
from typing import get_args

from generator.catalogue.entries import EntryReader
from generator.model.fixings import Bolt, Dowel, Insert, Screw, ScrewKind, Thread
from generator.problems import ProblemLog
from generator.units import format_length
from generator.yaml_source.getters import find_entries
from generator.yaml_source.nodes import Word

SCREW_KINDS: tuple[ScrewKind, ...] = get_args(ScrewKind)
THREADS: tuple[Thread, ...] = ("coarse", "fine")

MOST_LENGTH_MM = 300
MOST_BORE_MM = 30


def parse_screws(entry: EntryReader, log: ProblemLog) -> tuple[Screw, ...]:
    """Return the screws of a family, one for each length; none where the family is at fault."""
    name, system = entry.text("name"), entry.system()
    kind_word = entry.choice("kind", SCREW_KINDS)
    kind = next(kind for kind in SCREW_KINDS if kind == kind_word)
    thread: Thread = ""
    if kind == "pocket screw" and not entry.is_at_fault:
        thread_word = entry.choice("thread", THREADS)
        thread = next(thread for thread in THREADS if thread == thread_word)
    shared = {
        f"{key}_mm": entry.length_mm(key, most_mm=MOST_BORE_MM)
        for key in ("diameter", "head", "pilot_soft", "pilot_hard", "clearance")
    }
    packs, source = entry.counts("packs"), entry.text("source")
    for key in ("pilot_soft", "pilot_hard"):
        if shared[f"{key}_mm"] >= shared["clearance_mm"]:
            value = f"{shared[f'{key}_mm']:g} mm"
            entry.report_limit(key, value, "it must be less than the clearance")
    lengths = tuple(_parse_spans(entry, log))
    entry.finish()
    if entry.is_at_fault:
        return ()
    return tuple(
        Screw(
            key=f"{entry.name}x{size}",
            name=f"{name}, {format_length(length_mm, system)}",
            kind=kind,
            system=system,
            length_mm=length_mm,
            least_mm=least_mm,
            most_mm=most_mm,
            thread=thread,
            packs=packs,
            source=source,
            **shared,
        )
        for size, length_mm, least_mm, most_mm in lengths
    )


def parse_dowels(entry: EntryReader) -> tuple[Dowel, ...]:
    """Return the dowels of a diameter, one for each length; none where the family is at fault."""
    name, system = entry.text("name"), entry.system()
    diameter_mm = entry.length_mm("diameter", most_mm=MOST_BORE_MM)
    packs, source = entry.counts("packs"), entry.text("source")
    lengths = tuple(_parse_lengths(entry))
    entry.finish()
    if entry.is_at_fault:
        return ()
    return tuple(
        Dowel(
            key=f"{entry.name}x{size}",
            name=f"{name}, {format_length(length_mm, system)} long",
            system=system,
            diameter_mm=diameter_mm,
            length_mm=length_mm,
            packs=packs,
            source=source,
        )
        for size, length_mm in lengths
    )


def parse_bolts(entry: EntryReader) -> tuple[Bolt, ...]:
    """Return the bolts of a thread, one for each length; none where the family is at fault."""
    name, system = entry.text("name"), entry.system()
    shared = {
        f"{key}_mm": entry.length_mm(key, most_mm=MOST_BORE_MM)
        for key in ("diameter", "clearance", "washer_diameter", "washer_thick", "nut_thick")
    }
    insert = Insert(
        name=entry.text("insert"),
        length_mm=entry.length_mm("insert_length", most_mm=MOST_LENGTH_MM),
        bit_soft_mm=entry.length_mm("insert_soft", most_mm=MOST_BORE_MM),
        bit_hard_mm=entry.length_mm("insert_hard", most_mm=MOST_BORE_MM),
    )
    washer, nut = entry.text("washer"), entry.text("nut")
    packs, source = entry.counts("packs"), entry.text("source")
    if shared["diameter_mm"] > shared["clearance_mm"]:
        value = f"{shared['clearance_mm']:g} mm"
        entry.report_limit("clearance", value, "it must not be less than the diameter")
    lengths = tuple(_parse_lengths(entry))
    entry.finish()
    if entry.is_at_fault:
        return ()
    return tuple(
        Bolt(
            key=f"{entry.name}x{size}",
            name=f"{name}, {format_length(length_mm, system)} long",
            system=system,
            diameter_mm=shared["diameter_mm"],
            length_mm=length_mm,
            clearance_mm=shared["clearance_mm"],
            washer=washer,
            washer_mm=shared["washer_diameter_mm"],
            washer_thick_mm=shared["washer_thick_mm"],
            nut=nut,
            nut_thick_mm=shared["nut_thick_mm"],
            insert=insert,
            packs=packs,
            source=source,
        )
        for size, length_mm in lengths
    )


def _parse_spans(family: EntryReader, log: ProblemLog) -> Iterator[tuple[str, float, float, float]]:
    for size, node in family.entries("lengths"):
        found = find_entries(node, log, "{length: , least: , most: }")
        if found is None:
            continue
        row = EntryReader(f"{family.name}x{size}", found, log)
        length_mm, least_mm, most_mm = (
            row.length_mm(key, most_mm=MOST_LENGTH_MM) for key in ("length", "least", "most")
        )
        if least_mm >= most_mm and not row.is_at_fault:
            row.report_limit("least", f"{least_mm:g} mm", "it must be less than the most")
        row.finish()
        yield size, length_mm, least_mm, most_mm


def _parse_lengths(family: EntryReader) -> Iterator[tuple[str, float]]:
    """Yield the lengths with the words they have in keys: ``1-1/2`` for 1 1/2 in, ``40``."""
    for node in family.items("lengths"):
        length_mm = family.length_of("lengths", node, most_mm=MOST_LENGTH_MM)
        text = node.text.strip() if isinstance(node, Word) else ""
        yield text.rpartition(" ")[0].replace(" ", "-"), length_mm
