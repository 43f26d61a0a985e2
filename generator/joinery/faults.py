"""What is wrong with a fastener: it breaks through, misses, holds too little or crowds another."""

import math
from dataclasses import replace

from generator.geometry.vectors import norm, subtract
from generator.joinery.bites import find_bites
from generator.joinery.bores import Way, find_ways
from generator.joinery.choose import (
    find_screws,
    left_ahead_mm,
    needed_cover_mm,
    needed_hold_mm,
)
from generator.joinery.drive import (
    Cover,
    Drive,
    find_void,
    gap_between,
    goes_through,
    pocket_entry,
)
from generator.joinery.rules import (
    BESIDE_MM,
    LEAST_SPACING_MM,
    least_end_mm,
)
from generator.model.edition import Edition
from generator.model.fixings import Bolt, Dowel, Screw
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
        more, word = len(problems) - 1, drives[0].goods.word
        note = Note(
            text=f"{more} more {f'{word} has' if more == 1 else f'{word}s have'} this fault"
        )
        first = problems[0]
        log.problems.append(replace(first, notes=(*first.notes, note)) if more else first)


def _find_fault(number: int, drive: Drive, edition: Edition) -> Problem | None:
    return (
        _find_missed(number, drive)
        or _find_cut_into(number, drive, edition)
        or _find_weak_bite(number, drive, edition)
    )


def _find_missed(number: int, drive: Drive) -> Problem | None:
    """Return a J104 where the axis leaves a piece right before or right after the joint."""
    axis, missed = drive.axis, None
    before = _before_joint_mm(drive)
    entered = min(max(drive.goods.length_mm - axis.seat_mm, WHOLE_WOOD_MM), ENTERED_MM)
    if not goes_through(drive.first, axis, -before, -WHOLE_WOOD_MM):
        missed = drive.first.piece.name
    elif not goes_through(drive.second, axis, WHOLE_WOOD_MM, entered):
        missed = drive.second.piece.name
    if missed is None:
        return None
    hint = "set other `ends` or `spacing`, or move what is cut away there"
    return _problem("J104", number, drive, piece=missed, hint=hint)


def _before_joint_mm(drive: Drive) -> float:
    """Return how far before the joint a fastener, or the pocket of its head, begins in wood."""
    if drive.pocket is not None:
        return norm(subtract(pocket_entry(drive.axis, drive.pocket), drive.axis.joint))
    if isinstance(drive.goods, Bolt):
        return drive.axis.seat_mm - drive.goods.washer_thick_mm
    if isinstance(drive.goods, Dowel):
        return min(drive.axis.seat_mm, ENTERED_MM)
    return drive.axis.seat_mm


def _find_cut_into(number: int, drive: Drive, edition: Edition) -> Problem | None:
    """Return a J110 where a fastener or its pocket runs into what is cut out of a piece."""
    for way in find_ways(drive):
        found = find_void(way.placed, way.side, way.start, way.end, way.radius_mm)
        if found is not None:
            what, depth = found
            more = format_both(depth, edition.system)
            hint = f"it lies {more} too near: set other `ends`, or move what is cut out"
            return _problem(
                "J110", number, drive, what=what, piece=way.placed.piece.name, hint=hint
            )
    return None


def _find_weak_bite(number: int, drive: Drive, edition: Edition) -> Problem | None:
    """Return a J103 where too little wood is left, or a J107 where too little is held."""
    system = edition.system
    for bite in find_bites(drive):
        left, needed = bite.find_shortage()
        if left < needed:
            return _problem(
                "J103",
                number,
                drive,
                left=format_both(max(left, 0.0), system),
                piece=bite.placed.piece.name,
                needed=format_both(needed, system),
                hint=_shorter_hint(drive, bite.cover, edition),
            )
        if bite.hold_mm < bite.needed_mm:
            return _problem(
                "J107",
                number,
                drive,
                piece=bite.placed.piece.name,
                depth=format_both(max(bite.hold_mm, 0.0), system),
                needed=format_both(bite.needed_mm, system),
                hint=_longer_hint(drive, edition),
            )
    return None


def _problem(code: str, number: int, drive: Drive, /, *, hint: str | None, **words: str) -> Problem:
    joint, thing = drive.joint, drive.goods.word
    return make_problem(
        code,
        joint.place,
        notes=(),
        hint=hint,
        thing=thing,
        number=number,
        joint=joint.id,
        **words,
    )


def check_spacing(
    group: tuple[Drive, ...], first_number: int, system: System, log: ProblemLog
) -> None:
    """Report J105: a screw too near an end of its contact or to its neighbour."""
    for i, drive in enumerate(group):
        end = min(drive.from_start_mm, drive.line_mm - drive.from_start_mm)
        faults = [(end, "the end of the contact", least_end_mm(drive.goods))]
        if i:
            apart = drive.from_start_mm - group[i - 1].from_start_mm
            faults.append((apart, f"{drive.goods.word} {first_number + i - 1}", LEAST_SPACING_MM))
        for distance, other, needed in faults:
            if distance < needed:
                log.add(
                    "J105",
                    drive.joint.place,
                    thing=drive.goods.word,
                    number=first_number + i,
                    joint=drive.joint.id,
                    distance=format_both(distance, system),
                    other=other,
                    needed=format_both(needed, system),
                    hint=f"fewer {drive.goods.word}s, or other `ends`",
                )
                return


def check_crossing(drives: list[Drive], system: System, log: ProblemLog) -> None:
    """Report J108: a screw or its pocket that runs into another one inside the wood.

    One problem for every two joints: the first two screws that meet speak for the others.
    """
    ways = [find_ways(drive) for drive in drives]
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
                thing=drive.goods.word,
                number=numbers[i],
                joint=drive.joint.id,
                other_thing=other.goods.word,
                other_number=numbers[j],
                other=other.joint.id,
                hint=f"they must be {format_both(short, system)} further apart: "
                "set other `ends` for one of them",
            )


def _short_of(first: Way, second: Way) -> float:
    """Return how much more room two bores need; 0 or less where they have enough.

    Most begin further apart than both are long, which is quickly seen.
    """
    room = first.radius_mm + second.radius_mm + BESIDE_MM
    lengths = math.dist(first.start, first.end) + math.dist(second.start, second.end)
    least = math.dist(first.start, second.start) - lengths
    if least >= room:
        return room - least
    return room - gap_between((first.start, first.end), (second.start, second.end))


def _numbers_in_joint(drives: list[Drive]) -> list[int]:
    counts: dict[str, int] = {}
    numbers = []
    for drive in drives:
        key = drive.joint.id
        counts[key] = counts.get(key, 0) + 1
        numbers.append(counts[key])
    return numbers


def _shorter_hint(drive: Drive, cover: Cover, edition: Edition) -> str | None:
    screw = drive.goods
    if not isinstance(screw, Screw):
        return _other_hint(drive)
    fitting = [
        one
        for one in _alternatives(drive, screw, edition)
        if one.length_mm < screw.length_mm
        and left_ahead_mm(one, drive.axis, cover) >= needed_cover_mm(one)
        and one.length_mm - drive.axis.seat_mm >= needed_hold_mm(one, drive.contact.second_side)
    ]
    if not fitting:
        return None
    best = max(fitting, key=lambda one: (one.diameter_mm == screw.diameter_mm, one.length_mm))
    left = format_both(left_ahead_mm(best, drive.axis, cover), edition.system)
    return f"the next shorter {best.word} in shared/screws.yml is `{best.key}`, which leaves {left}"


def _longer_hint(drive: Drive, edition: Edition) -> str | None:
    screw = drive.goods
    if not isinstance(screw, Screw):
        return _other_hint(drive)
    longer = [s for s in _alternatives(drive, screw, edition) if s.length_mm > screw.length_mm]
    if not longer:
        return None
    best = min(longer, key=lambda one: (one.diameter_mm != screw.diameter_mm, one.length_mm))
    return f"the next longer {best.word} in shared/screws.yml is `{best.key}`"


def _other_hint(drive: Drive) -> str:
    """Return what can be done about a dowel or bolt that does not fit."""
    word = drive.goods.word
    if drive.joint.fixing:
        return f"leave `{word}` out, and one that suits is chosen if there is any"
    return f"no {word} in shared/{word}s.yml suits here: take thicker stock, or screws"


def _alternatives(drive: Drive, screw: Screw, edition: Edition) -> tuple[Screw, ...]:
    first_mm = drive.first.part.thickness_mm
    return find_screws(edition, screw.kind, first_mm, drive.second.part)
