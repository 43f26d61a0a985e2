"""Filling one sheet by cuts from edge to edge, under one of several rules.

Nothing here looks back: the search in `nesting` tries many rules and keeps the best outcome.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from generator.cutting.trees import NO_CUT, Axis, Box, Leaf, Node, Pose, Split, transpose

Pick = Literal["area", "tall", "long", "fit"]
"""Which blank goes into a box: the largest, the tallest, the longest, or the closest fit."""

Divide = Literal["rip", "crosscut", "large", "even"]
"""Which of the two first cuts beside a blank is made; large and even: by what is left over."""

StripChoice = Literal["", "full", "tall", "area"]
"""Which strip of equal widths comes next: the best filled, the widest, the one with most blanks
by area; or none, where no strips are made."""

MOST_SUMS = 400
"""Sums of lengths kept while a strip is filled; more cost time and find nothing better."""


@dataclass(frozen=True, slots=True)
class Rule:
    """How a sheet is filled.

    Attributes:
        ends: Whether the end of a strip of equal widths is filled with narrower blanks.
        crosscut_first: Whether the whole rule is applied with x and y changed over.
        equal_first: Whether a blank that fits a box exactly in one direction goes first.
    """

    strips: StripChoice
    ends: bool
    pick: Pick
    divide: Divide
    equal_first: bool
    crosscut_first: bool


@dataclass(slots=True)
class _Job:
    """The blanks still to be placed while a sheet is filled; never leaves this module.

    Attributes:
        poses: The ways of those of which copies are left.
        left: How many copies of each blank.
    """

    poses: list[Pose]
    left: list[int]
    weights: Sequence[float]
    rule: Rule
    least: int

    def take(self, pose: Pose) -> None:
        self.left[pose.blank] -= 1
        if not self.left[pose.blank]:
            self.poses = [other for other in self.poses if other.blank != pose.blank]

    def fitting(self, box: Box) -> list[Pose]:
        """Return the poses of what is left that `leaves_enough`; most of the time goes in here."""
        along_x, along_y, least = box.along_x, box.along_y, self.least
        return [
            pose
            for pose in self.poses
            if (right := along_x - pose.along_x) >= 0
            and (above := along_y - pose.along_y) >= 0
            and (right >= least or right <= NO_CUT)
            and (above >= least or above <= NO_CUT)
        ]

    def leaves_enough(self, rest: int) -> bool:
        """Whether a blank fits and what is left beside it is nothing or can be sawn off."""
        return rest >= self.least or 0 <= rest <= NO_CUT


def fill_sheet(
    box: Box,
    poses: Sequence[tuple[Pose, ...]],
    counts: Sequence[int],
    weights: Sequence[float],
    rule: Rule,
    least: int = 0,
) -> tuple[Node, tuple[int, ...]]:
    """Return the cut tree of one sheet and how many copies of each blank are still to be placed.

    Args:
        box: The trimmed sheet, kerf added.
        poses: For every blank the ways it may lie.
        counts: Copies of every blank that are still to be placed.
        weights: What each blank is worth; 1 for all where nothing is known.
        rule: How to go about it.
        least: No less than this, kerf included, may be left beside a blank, unless it is nothing.
    """
    waiting = [pose for ways, count in zip(poses, counts, strict=True) if count for pose in ways]
    if rule.crosscut_first:
        waiting = [_transposed(pose) for pose in waiting]
        box = box.transposed()
    job = _Job(waiting, list(counts), weights, rule, least)
    node = _fill_with_strips(box, job) if rule.strips else _fill(box, job)
    return (transpose(node) if rule.crosscut_first else node), tuple(job.left)


def _transposed(pose: Pose) -> Pose:
    return Pose(pose.blank, pose.along_y, pose.along_x, pose.turned)


def _fill(box: Box, job: _Job) -> Node:
    """Place the best blank in the box's corner, cut beside it, go on with both remainders."""
    children: list[Node] = []
    axis: Axis | None = None
    rest = box
    while fitting := job.fitting(rest):
        pose = _best(fitting, rest, job)
        first = _first_cut(pose, rest, job.rule.divide)
        if axis is not None and first != axis:
            children.append(_fill(rest, job))
            return Split(box, axis, tuple(children))
        axis = first
        extent = pose.along_y if axis == "y" else pose.along_x
        job.take(pose)
        children.append(_beside(rest.slice(axis, 0, extent), pose, axis, job))
        rest = rest.slice(axis, extent, rest.extent(axis) - extent)
        if not rest.extent(axis):
            break
    return _close(box, axis, children, rest)


def _close(box: Box, axis: Axis | None, children: list[Node], rest: Box) -> Node:
    """Return what has been cut off a box and the waste that is left of it as one node."""
    if axis is None:
        return Leaf(box, None)
    if rest.extent(axis):
        children.append(Leaf(rest, None))
    return children[0] if len(children) == 1 else Split(box, axis, tuple(children))


def _beside(strip: Box, pose: Pose, axis: Axis, job: _Job) -> Node:
    """Return the strip that was cut off with the blank at its start and more after it."""
    other: Axis = "x" if axis == "y" else "y"
    extent = pose.along_x if other == "x" else pose.along_y
    leaf = Leaf(strip.slice(other, 0, extent), pose.blank, pose.turned)
    rest = strip.extent(other) - extent
    if not rest:
        return leaf
    return Split(strip, other, (leaf, _fill(strip.slice(other, extent, rest), job)))


def _best(fitting: Sequence[Pose], box: Box, job: _Job) -> Pose:
    """Return the pose the rule likes most; the first of equals."""
    if len(fitting) == 1:
        return fitting[0]
    return max(fitting, key=lambda pose: _score(pose, box, job))


def _score(pose: Pose, box: Box, job: _Job) -> tuple[float, float, float]:
    rule = job.rule
    equal = pose.along_x == box.along_x or pose.along_y == box.along_y
    first = float(equal and rule.equal_first)
    area = pose.along_x * pose.along_y * job.weights[pose.blank]
    if rule.pick == "area":
        return (first, area, pose.along_y)
    if rule.pick == "tall":
        return (first, pose.along_y * job.weights[pose.blank], pose.along_x)
    if rule.pick == "long":
        return (first, max(pose.along_x, pose.along_y) * job.weights[pose.blank], area)
    return (first, -min(box.along_x - pose.along_x, box.along_y - pose.along_y), area)


def _first_cut(pose: Pose, box: Box, divide: Divide) -> Axis:
    """Return the axis of the cut beside a blank in the corner of a box."""
    right, above = box.along_x - pose.along_x, box.along_y - pose.along_y
    if not right or not above:
        return "y" if not right else "x"
    if divide == "rip":
        return "y"
    if divide == "crosscut":
        return "x"
    larger: Axis = "y" if box.along_x * above >= right * box.along_y else "x"
    if divide == "large":
        return larger
    return "x" if larger == "y" else "y"


def _fill_with_strips(box: Box, job: _Job) -> Node:
    """Cut the box into strips, each as wide as the blanks it holds, as far as that goes."""
    children: list[Node] = []
    rest = box
    while rest.along_y and (strips := _find_strips(rest, job)):
        width, used, chosen = max(strips, key=lambda strip: _worth(strip, job.rule.strips))
        strip = rest.slice("y", 0, width)
        children.append(_make_strip(strip, used, chosen, job))
        rest = rest.slice("y", width, rest.along_y - width)
    return _close(box, "y" if children else None, children, rest)


_Strip = tuple[int, int, tuple[Pose, ...]]
"""Its width, the length that is used, and the blanks in it."""


def _worth(strip: _Strip, choice: StripChoice) -> tuple[int, int]:
    width, used, _ = strip
    if choice == "full":
        return (used, width)
    if choice == "tall":
        return (width, used)
    return (width * used, width)


def _find_strips(box: Box, job: _Job) -> list[_Strip]:
    """Return for every width that occurs the longest row of blanks of just that width."""
    by_width: dict[int, list[Pose]] = {}
    for pose in job.fitting(box):
        by_width.setdefault(pose.along_y, []).append(pose)
    return [(width, *_longest_row(poses, box.along_x, job)) for width, poses in by_width.items()]


def _longest_row(poses: list[Pose], limit: int, job: _Job) -> tuple[int, tuple[Pose, ...]]:
    """Return the greatest sum of lengths up to a limit and the blanks that make it."""
    rows: dict[int, tuple[Pose, ...]] = {0: ()}
    for pose in sorted(poses, key=lambda pose: -pose.along_x):
        most = min(job.left[pose.blank], limit // pose.along_x)
        for length, row in list(rows.items()):
            for count in range(1, most + 1):
                total = length + count * pose.along_x
                if total > limit:
                    break
                rows.setdefault(total, row + (pose,) * count)
        if len(rows) > MOST_SUMS:
            rows = {length: rows[length] for length in sorted(rows)[-MOST_SUMS:]}
    rows.setdefault(poses[0].along_x, (poses[0],))
    best = max(length for length in rows if length and job.leaves_enough(limit - length))
    return best, rows[best]


def _make_strip(strip: Box, used: int, chosen: tuple[Pose, ...], job: _Job) -> Node:
    children: list[Node] = []
    start = 0
    for pose in chosen:
        job.take(pose)
        box = strip.slice("x", start, pose.along_x)
        children.append(Leaf(box, pose.blank, pose.turned))
        start += pose.along_x
    rest = strip.along_x - used
    if rest:
        end = strip.slice("x", used, rest)
        children.append(_fill(end, job) if job.rule.ends else Leaf(end, None))
    return children[0] if len(children) == 1 else Split(strip, "x", tuple(children))
