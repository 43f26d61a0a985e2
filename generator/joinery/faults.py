"""What is wrong with a screw: it breaks through, misses, holds too little or crowds another."""

import math
from dataclasses import dataclass, replace

from generator.geometry.vectors import Vec3, scale, subtract
from generator.joinery.choose import (
    find_screws,
    left_ahead_mm,
    needed_cover_mm,
    needed_hold_mm,
)
from generator.joinery.drive import Cover, gap_between, goes_through, measure_cover, pocket_entry
from generator.joinery.fasten import Drive
from generator.joinery.rules import BESIDE_MM, LEAST_END_MM, LEAST_SPACING_MM, POCKET_ANGLE_DEG
from generator.model.catalogue import Screw
from generator.model.edition import Edition
from generator.problems import Note, Problem, ProblemLog, make_problem
from generator.units import System, format_both

WHOLE_WOOD_MM = 0.5
"""How far from the joint and the point the way of a screw is looked at."""

FAR_APART_MM = 300.0
"""Screws whose joints are further apart than two long screws cannot meet."""

ENTERED_MM = 4.0
"""A screw that is in the second piece this far behind the joint has not missed it."""


def check_drives(drives: list[Drive], edition: Edition, log: ProblemLog) -> None:
    """Report J104 (misses), J103 (comes out or near) and J107 (holds too little) of one joint.

    The first screw with a fault speaks for all of the joint with the same one.
    """
    found: dict[str, list[Problem]] = {}
    for number, drive in enumerate(drives, 1):
        problem = _find_fault(number, drive, edition)
        if problem is not None:
            found.setdefault(problem.code, []).append(problem)
    for problems in found.values():
        more, word = len(problems) - 1, drives[0].screw.word
        note = Note(
            text=f"{more} more {f'{word} has' if more == 1 else f'{word}s have'} this fault"
        )
        first = problems[0]
        log.problems.append(replace(first, notes=(*first.notes, note)) if more else first)


def _find_fault(number: int, drive: Drive, edition: Edition) -> Problem | None:
    screw, axis, system = drive.screw, drive.axis, edition.system
    joint, place, thing = drive.joint.id, drive.joint.place, screw.word
    missed = _find_missed(drive)
    if missed is not None:
        hint = "set other `ends` or `spacing`, or move what is cut away there"
        return make_problem(
            "J104",
            place,
            thing=thing,
            number=number,
            joint=joint,
            piece=missed,
            hint=hint,
        )
    depth = screw.length_mm - axis.seat_mm
    cover = measure_cover(drive.second, drive.contact.second_side, axis, depth)
    ahead, beside = left_ahead_mm(screw, axis, cover), cover.beside_mm - screw.diameter_mm / 2
    left, needed = min((ahead, needed_cover_mm(screw)), (beside, BESIDE_MM), key=_shortage)
    if left < needed:
        return make_problem(
            "J103",
            place,
            thing=thing,
            number=number,
            joint=joint,
            left=format_both(max(left, 0.0), system),
            piece=drive.second.piece.name,
            needed=format_both(needed, system),
            hint=_shorter_hint(drive, cover, edition),
        )
    if depth < needed_hold_mm(screw, drive.contact.second_side):
        return make_problem(
            "J107",
            place,
            thing=thing,
            number=number,
            joint=joint,
            piece=drive.second.piece.name,
            depth=format_both(max(depth, 0.0), system),
            needed=format_both(needed_hold_mm(screw, drive.contact.second_side), system),
            hint=_longer_hint(drive, edition),
        )
    return None


def _shortage(cover: tuple[float, float]) -> float:
    return cover[0] - cover[1]


def _find_missed(drive: Drive) -> str | None:
    """Return the piece the axis leaves right before or right after the joint, or None."""
    axis = drive.axis
    entered = min(max(drive.screw.length_mm - axis.seat_mm, WHOLE_WOOD_MM), ENTERED_MM)
    if not goes_through(drive.first, axis, -axis.seat_mm, -WHOLE_WOOD_MM):
        return drive.first.piece.name
    if not goes_through(drive.second, axis, WHOLE_WOOD_MM, entered):
        return drive.second.piece.name
    return None


def check_spacing(
    group: tuple[Drive, ...], first_number: int, system: System, log: ProblemLog
) -> None:
    """Report J105: a screw too near an end of its contact or to its neighbour."""
    for i, drive in enumerate(group):
        end = min(drive.from_start_mm, drive.line_mm - drive.from_start_mm)
        faults = [(end, "the end of the contact", LEAST_END_MM)]
        if i:
            apart = drive.from_start_mm - group[i - 1].from_start_mm
            faults.append((apart, f"{drive.screw.word} {first_number + i - 1}", LEAST_SPACING_MM))
        for distance, other, needed in faults:
            if distance < needed:
                log.add(
                    "J105",
                    drive.joint.place,
                    thing=drive.screw.word,
                    number=first_number + i,
                    joint=drive.joint.id,
                    distance=format_both(distance, system),
                    other=other,
                    needed=format_both(needed, system),
                    hint=f"fewer {drive.screw.word}s, or other `ends`",
                )
                return


def check_crossing(drives: list[Drive], system: System, log: ProblemLog) -> None:
    """Report J108: a screw or its pocket that runs into another one inside the wood.

    One problem for every two joints: the first two screws that meet speak for the others.
    """
    ways = [_ways_of(drive) for drive in drives]
    numbers = _numbers_in_joint(drives)
    places = [drive.axis.joint for drive in drives]
    told: set[tuple[str, str]] = set()
    for i, drive in enumerate(drives):
        for j in range(i):
            if math.dist(places[i], places[j]) > FAR_APART_MM:
                continue
            other = drives[j]
            pair = (drive.joint.id, other.joint.id)
            if pair in told:
                continue
            short = max(_short_of(a, b) for a in ways[i] for b in ways[j])
            if short <= 0:
                continue
            told.add(pair)
            log.add(
                "J108",
                drive.joint.place,
                thing=drive.screw.word,
                number=numbers[i],
                joint=drive.joint.id,
                other_thing=other.screw.word,
                other_number=numbers[j],
                other=other.joint.id,
                hint=f"they must be {format_both(short, system)} further apart: "
                "set other `ends` for one of them",
            )


@dataclass(frozen=True, slots=True)
class _Way:
    """A straight bore: from, to, and its radius."""

    start: Vec3
    end: Vec3
    radius_mm: float


def _ways_of(drive: Drive) -> tuple[_Way, ...]:
    """Return the screw from its head to its point, and the pocket it sits in.

    A bore that slants out of a face opens it beyond where its middle line comes out.
    """
    head = drive.axis.head
    screw = _Way(head, drive.axis.tip(drive.screw.length_mm), drive.screw.diameter_mm / 2)
    if drive.pocket is None:
        return (screw,)
    radius = drive.screw.clearance_mm / 2
    beyond = radius / math.tan(math.radians(POCKET_ANGLE_DEG))
    entry = pocket_entry(drive.axis, drive.pocket)
    start = subtract(entry, scale(drive.axis.direction, beyond))
    return (screw, _Way(start, head, radius))


def _short_of(first: _Way, second: _Way) -> float:
    """Return how much more room two bores need; 0 or less where they have enough."""
    gap = gap_between((first.start, first.end), (second.start, second.end))
    return first.radius_mm + second.radius_mm + BESIDE_MM - gap


def _numbers_in_joint(drives: list[Drive]) -> list[int]:
    counts: dict[str, int] = {}
    numbers = []
    for drive in drives:
        key = drive.joint.id
        counts[key] = counts.get(key, 0) + 1
        numbers.append(counts[key])
    return numbers


def _shorter_hint(drive: Drive, cover: Cover, edition: Edition) -> str | None:
    fitting = [
        screw
        for screw in _alternatives(drive, edition)
        if screw.length_mm < drive.screw.length_mm
        and left_ahead_mm(screw, drive.axis, cover) >= needed_cover_mm(screw)
        and screw.length_mm - drive.axis.seat_mm >= needed_hold_mm(screw, drive.contact.second_side)
    ]
    if not fitting:
        return None
    best = max(fitting, key=lambda screw: (_is_as_thick(screw, drive), screw.length_mm))
    left = format_both(left_ahead_mm(best, drive.axis, cover), edition.system)
    return f"the next shorter {best.word} in shared/screws.yml is `{best.key}`, which leaves {left}"


def _longer_hint(drive: Drive, edition: Edition) -> str | None:
    longer = [s for s in _alternatives(drive, edition) if s.length_mm > drive.screw.length_mm]
    if not longer:
        return None
    best = min(longer, key=lambda screw: (not _is_as_thick(screw, drive), screw.length_mm))
    return f"the next longer {best.word} in shared/screws.yml is `{best.key}`"


def _is_as_thick(screw: Screw, drive: Drive) -> bool:
    """Whether a screw is of the same gauge: the first one to offer instead."""
    return screw.diameter_mm == drive.screw.diameter_mm


def _alternatives(drive: Drive, edition: Edition) -> tuple[Screw, ...]:
    return find_screws(edition, drive.screw.kind, drive.first.part.thickness_mm)
