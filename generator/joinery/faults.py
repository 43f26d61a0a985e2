"""What is wrong with a screw: it breaks through, misses, holds too little or crowds another."""

from dataclasses import replace

from generator.joinery.choose import (
    find_screws,
    left_ahead_mm,
    needed_cover_mm,
    needed_hold_mm,
)
from generator.joinery.drive import Cover, gap_between, goes_through, measure_cover
from generator.joinery.fasten import Drive
from generator.joinery.rules import BESIDE_MM, LEAST_END_MM, LEAST_SPACING_MM
from generator.model.catalogue import Screw
from generator.model.edition import Edition
from generator.problems import Note, Problem, ProblemLog, make_problem
from generator.units import System, format_both

WHOLE_WOOD_MM = 0.5
"""How far from the joint and the point the way of a screw is looked at."""

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
        more = len(problems) - 1
        note = Note(text=f"{more} more {'screw has' if more == 1 else 'screws have'} this fault")
        first = problems[0]
        log.problems.append(replace(first, notes=(*first.notes, note)) if more else first)


def _find_fault(number: int, drive: Drive, edition: Edition) -> Problem | None:
    screw, axis, system = drive.screw, drive.axis, edition.system
    joint, place = drive.joint.id, drive.joint.place
    missed = _find_missed(drive)
    if missed is not None:
        return make_problem("J104", place, number=number, joint=joint, piece=missed)
    depth = screw.length_mm - axis.seat_mm
    cover = measure_cover(drive.second, drive.contact.second_side, axis, depth)
    ahead, beside = left_ahead_mm(screw, axis, cover), cover.beside_mm - screw.diameter_mm / 2
    left, needed = min((ahead, needed_cover_mm(screw)), (beside, BESIDE_MM), key=_shortage)
    if left < needed:
        return make_problem(
            "J103",
            place,
            number=number,
            joint=joint,
            left=format_both(max(left, 0.0), system),
            piece=drive.second.piece.name,
            needed=format_both(needed, system),
            hint=_shorter_hint(drive, cover, edition),
        )
    if depth < needed_hold_mm(screw):
        return make_problem(
            "J107",
            place,
            number=number,
            joint=joint,
            piece=drive.second.piece.name,
            depth=format_both(max(depth, 0.0), system),
            needed=format_both(needed_hold_mm(screw), system),
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
            faults.append((apart, f"screw {first_number + i - 1}", LEAST_SPACING_MM))
        for distance, other, needed in faults:
            if distance < needed:
                log.add(
                    "J105",
                    drive.joint.place,
                    number=first_number + i,
                    joint=drive.joint.id,
                    distance=format_both(distance, system),
                    other=other,
                    needed=format_both(needed, system),
                    hint="fewer screws, or other `ends`",
                )
                return


def check_crossing(drives: list[Drive], system: System, log: ProblemLog) -> None:
    """Report J108: screws of two joints that run into each other inside the wood."""
    paths = [(drive.axis.head, drive.axis.tip(drive.screw.length_mm)) for drive in drives]
    numbers = _numbers_in_joint(drives)
    for i, drive in enumerate(drives):
        for j in range(i):
            other = drives[j]
            if drive.contact is other.contact:
                continue
            reach = (drive.screw.length_mm + other.screw.length_mm) ** 2
            if sum((a - b) ** 2 for a, b in zip(paths[i][0], paths[j][0], strict=True)) > reach:
                continue
            needed = (drive.screw.diameter_mm + other.screw.diameter_mm) / 2 + BESIDE_MM
            gap = gap_between(paths[i], paths[j])
            if gap < needed:
                log.add(
                    "J108",
                    drive.joint.place,
                    number=numbers[i],
                    joint=drive.joint.id,
                    other_number=numbers[j],
                    other=other.joint.id,
                    hint=f"their middle lines come within {format_both(gap, system)}, "
                    f"{format_both(needed, system)} is needed: other `ends` for one of them",
                )


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
    ]
    if not fitting:
        return None
    best = max(fitting, key=lambda screw: screw.length_mm)
    left = format_both(left_ahead_mm(best, drive.axis, cover), edition.system)
    return f"the next shorter screw in shared/screws.yml is `{best.key}`, which leaves {left}"


def _longer_hint(drive: Drive, edition: Edition) -> str | None:
    longer = [s for s in _alternatives(drive, edition) if s.length_mm > drive.screw.length_mm]
    if not longer:
        return None
    best = min(longer, key=lambda screw: screw.length_mm)
    return f"the next longer screw in shared/screws.yml is `{best.key}`"


def _alternatives(drive: Drive, edition: Edition) -> tuple[Screw, ...]:
    return find_screws(edition, drive.screw.kind, drive.first.part.thickness_mm)
