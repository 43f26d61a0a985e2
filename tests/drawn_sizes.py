"""Reads the sizes of drawings back, and holds them against the paper and against plan.json.

Knows none of the generator's code for sizes. How a printed length is read, and how far the true
one may be from it, is what the guide says: a tenth of a millimetre counts as exact, "full" and
"bare" tell of half a step of 1/32 in at most.
"""

import math
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from generator.outputs.scene import Scene, Words

Range = tuple[float, float]
"""Least and greatest true length, in mm, that a printed size may stand for."""
Axis = int
"""0 along the paper's x, 1 along its y."""

INCHES = re.compile(r"(?:(\d+)(?: |$))?(?:(\d+)/(\d+))?(?: ?(full|bare))?")
SCALE = re.compile(r"[Ss]cale 1:(\d+)")
ROW = re.compile(
    r"([^:.]+): (?:\d+ × [^:]*|\d+ rows of \d+), from (\w[\w ]*) (?:end|edge): (.+?), "
    r"from (\w[\w ]*) (?:end|edge): (.+?)\.(?: |$)"
)
EXACT_MM = 0.1
"""A printed size this near to the true one counts as exact."""
HAIR_MM = 25.4 / 64
"""As far as a size may be from a mark of 1/32 in."""
SLACK_MM = 2e-3
"""Coordinates in plan.json are rounded to 0.001 mm."""
EVERY_MM = 0.5
"""Holes count as equally spaced as near as this."""


def read_size(text: str, edition: str) -> Range:
    """Return what a size such as ``Ø 34 1/2 in full`` or ``876 mm`` may stand for."""
    plain = re.sub(r"^Ø |\b(in|mm)\b", "", text).replace("  ", " ").strip()
    if edition == "metric":
        value = float(plain)
        away = EXACT_MM if value == int(value) else EXACT_MM / 2
        return (value - away - SLACK_MM, value + away + SLACK_MM)
    found = INCHES.fullmatch(plain)
    assert found is not None, text
    assert plain, text
    whole, above, below, word = found.groups()
    mark = 25.4 * (int(whole or 0) + int(above or 0) / int(below or 1))
    if word == "full":
        return (mark, mark + HAIR_MM + SLACK_MM)
    if word == "bare":
        return (mark - HAIR_MM - SLACK_MM, mark)
    return (mark - EXACT_MM - SLACK_MM, mark + EXACT_MM + SLACK_MM)


def read_pair(text: str, edition: str) -> tuple[Range, Range] | None:
    """Return what ``B  25 3/8 × 10 3/8`` stands for; None where the text is no pair of sizes."""
    found = re.search(
        r"((?:\d+ )?[\d/.]+(?: full| bare)?) × ((?:\d+ )?[\d/.]+(?: full| bare)?)$", text
    )
    if found is None:
        return None
    return (read_size(found[1], edition), read_size(found[2], edition))


def sizes_of(scene: Scene) -> list[Words]:
    """Return the sizes that tell the distance of two points of a drawing."""
    return [item for item in scene.items if isinstance(item, Words) and item.span is not None]


def find_scale_faults(scene: Scene, edition: str, ratio: float | None = None) -> list[str]:
    """Return sizes that are not what is drawn: paper, measured, times the scale it states."""
    if ratio is None:
        stated = [SCALE.search(item.text) for item in scene.items if isinstance(item, Words)]
        ratio = next(float(found[1]) for found in stated if found is not None)
    faults = []
    for words in sizes_of(scene):
        low, high = read_size(words.text, edition)
        drawn = _drawn_mm(words) * ratio
        if not low <= drawn <= high:
            faults.append(f"`{words.text}` is drawn {drawn:.2f} mm long")
    return faults


def find_chain_faults(scene: Scene, edition: str) -> list[str]:
    """Return chains of sizes that do not add up, as printed, to the size beside them."""
    spans = [_placed(words) for words in sizes_of(scene)]
    faults = []
    for axis, start, end, whole in spans:
        links = [
            (low, high, words)
            for other, low, high, words in spans
            if other == axis and words is not whole
        ]
        for chain in _chains(start, end, links):
            total = sum(_middle(read_size(words.text, edition)) for words in chain)
            away = sum(_half(read_size(words.text, edition)) for words in (*chain, whole))
            if abs(total - _middle(read_size(whole.text, edition))) > away:
                told = " + ".join(words.text for words in chain)
                faults.append(f"{told} is not {whole.text}")
    return faults


def find_places_off_the_plan(
    scene: Scene, part: Mapping[str, Any], marks: Iterable[Mapping[str, Any]], edition: str
) -> list[str]:
    """Return sizes around a part that no two of its points in plan.json have.

    Args:
        scene: A sheet of the part.
        part: As plan.json tells it.
        marks: The layout lines on it.
        edition: Imperial or metric.
    """
    points = [*part["outline_mm"], *part["outline_b_mm"]]
    things = [*points, *(hole["at_mm"] for hole in part["holes"])]
    for feature in part["features"]:
        things += [feature["center_mm"]] if "center_mm" in feature else []
        things += feature.get("outline_mm", [])
    things += [point for mark in marks for point in mark["outline_mm"]]
    faults = []
    for words in sizes_of(scene):
        low, high = read_size(words.text, edition)
        axis = _axis(words)
        is_there = any(
            low <= abs(thing[axis] - point[axis]) <= high for thing in things for point in points
        )
        if not is_there:
            faults.append(f"nothing in the plan is `{words.text}` apart")
    return faults


def find_table_faults(description: str, part: Mapping[str, Any], edition: str) -> list[str]:
    """Return distances in tables of holes that no hole has from one end and one edge of its face.

    Args:
        description: Of a sheet of the part; it holds its table in words.
        part: As plan.json tells it.
        edition: Imperial or metric.
    """
    faults = []
    holes = [hole for hole in part["holes"] if hole["side"] in {"A", "B"}]
    faces = {"A": part["outline_mm"], "B": part["outline_b_mm"]}
    for axis, told in enumerate(_told(description, edition)):
        borders = {
            side: (min(p[axis] for p in face), max(p[axis] for p in face))
            for side, face in faces.items()
        }
        from_low = [hole["at_mm"][axis] - borders[hole["side"]][0] for hole in holes]
        from_high = [borders[hole["side"]][1] - hole["at_mm"][axis] for hole in holes]
        wrong = [[size for size in told if not _is_in(size, ps)] for ps in (from_low, from_high)]
        for low, high in min(wrong, key=len):
            faults.append(f"no hole is {low:.1f} to {high:.1f} mm from its edge")
    return faults


def _told(description: str, edition: str) -> tuple[list[Range], list[Range]]:
    """Return all distances in a table of holes, along the length and along the width."""
    told: tuple[list[Range], list[Range]] = ([], [])
    for found in ROW.finditer(description):
        for axis, cell in enumerate((found[3], found[5])):
            if not re.search(r"aim at|face|long point|thickness", cell):
                told[axis].extend(_distances(cell, edition))
    return told


def _distances(cell: str, edition: str) -> Iterator[Range]:
    """Yield what ``40``, ``40 and 210``, ``40, then every 85``, ``40 to 720 every 85`` tell."""
    every = re.fullmatch(r"(.+), then every (.+)", cell)
    if every is not None:
        yield read_size(every[1], edition)
        return
    for run in cell.split(", "):
        row = re.fullmatch(r"(.+) to (.+) every (.+)", run)
        for text in (row[1], row[2]) if row is not None else run.split(" and "):
            yield read_size(text, edition)


def _is_in(wanted: Range, places: Sequence[float]) -> bool:
    return any(wanted[0] - EVERY_MM <= place <= wanted[1] + EVERY_MM for place in places)


def _chains(
    start: float, end: float, links: Sequence[tuple[float, float, Words]]
) -> Iterator[list[Words]]:
    """Yield the rows of two or more sizes that lead from a place to another on one line."""
    lines = {round(_line(words), 2) for _, _, words in links}
    for line in sorted(lines):
        some = [link for link in links if abs(_line(link[2]) - line) < 0.01]
        chain: list[Words] = []
        at = start
        while abs(at - end) > 1e-6:
            step = next((one for one in some if abs(one[0] - at) < 1e-6 and one[1] > at), None)
            if step is None:
                break
            chain.append(step[2])
            at = step[1]
        if abs(at - end) <= 1e-6 and len(chain) > 1:
            yield chain


def _axis(words: Words) -> Axis:
    (x0, y0), (x1, y1) = words.span or ((0.0, 0.0), (0.0, 0.0))
    return 0 if abs(x1 - x0) >= abs(y1 - y0) else 1


def _placed(words: Words) -> tuple[Axis, float, float, Words]:
    """Return a size with its axis and where it starts and ends along it."""
    assert words.span is not None
    axis = _axis(words)
    low, high = sorted(point[axis] for point in words.span)
    return axis, low, high, words


def _line(words: Words) -> float:
    assert words.span is not None
    return words.span[0][1 - _axis(words)]


def _drawn_mm(words: Words) -> float:
    assert words.span is not None
    return math.dist(*words.span)


def _middle(size: Range) -> float:
    return (size[0] + size[1]) / 2


def _half(size: Range) -> float:
    return (size[1] - size[0]) / 2
