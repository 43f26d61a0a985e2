"""How far and which way pieces of an exploded view move: the way they come off, step by step.

Steps are taken in their order. What goes on in one comes off what is there before it along the
normal of a contact, the axis of its screws or rods, or else the shortest way on which nothing is
before it. A sub-assembly is taken apart by itself, closer together, and moves as one. What cannot
come off, or only by a long way, stays where the pieces around it have left it.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from shapely.geometry.base import BaseGeometry

from generator.geometry.faces import is_wall
from generator.geometry.vectors import (
    BACK,
    DOWN,
    FRONT,
    LEFT,
    RIGHT,
    UP,
    Vec3,
    add,
    angle_between_deg,
    dot,
    scale,
    subtract,
    unit,
)
from generator.model.joinery import Contact, Fastener, Socket
from generator.model.plan import Plan
from generator.outputs.bodies import Solids, solids_of
from generator.outputs.ways_out import Along, Bodies, make_bodies

Touch = Contact | Socket
"""Two pieces that touch, and the way from the first to the second."""

ZERO: Final[Vec3] = (0.0, 0.0, 0.0)
GAP: Final = 0.14
"""How far pieces part at least, as a share of the largest overall size."""
CLOSER: Final = 0.5
"""Pieces of a sub-assembly part by less."""
LONGEST: Final = 0.75
"""A way that is longer, as a share of the largest overall size, is not drawn."""
SAME_WAY_DEG: Final = 2.0
"""Directions that differ by less look the same on a drawing."""
BARRED: Final = -0.02
"""Cosine: a way that leads further into a contact is barred by it."""
LIFT: Final = 0.06
"""What hangs on something is lifted off it by this share of the largest overall size."""
HUNG: Final = 2.5
"""A way off after a lift counts as so much longer."""
PIN_MM2: Final = 25.0
"""What a shelf pin counts for among areas that touch."""
EVEN: Final = 0.02
"""Areas that differ by less hold a piece from both sides alike."""
OTHER_WAY: Final = 2.0
"""A way that neither a contact nor a fastener gives counts as so much longer."""
ROOM_MM: Final = 1.0
"""Shadows that overlap by less only touch."""


@dataclass(frozen=True, slots=True)
class Way:
    """A straight way off, after pieces are lifted so far."""

    direction: Vec3
    lift: Vec3


@dataclass(frozen=True, slots=True)
class Stop:
    """A point of a dashed line: it moves with a piece, and is moved further."""

    point: Vec3
    piece: str
    further: Vec3


@dataclass(frozen=True, slots=True)
class Exploded:
    """Pieces apart.

    Attributes:
        moves: How far every piece has moved.
        ways: Of all that moved together its pieces, what was there, and the way it came off.
        trails: Dashed lines from where pieces are to where they go.
    """

    moves: Mapping[str, Vec3]
    ways: tuple[tuple[tuple[str, ...], tuple[str, ...], Way], ...]
    trails: tuple[tuple[Stop, ...], ...]

    def lines(self) -> list[tuple[Vec3, Vec3]]:
        """Return the trails as lines in the room."""
        found = []
        for trail in self.trails:
            points = [add(add(s.point, self.moves[s.piece]), s.further) for s in trail]
            found += list(pairwise(points))
        return found


@dataclass(frozen=True, slots=True)
class _Unit:
    """What moves as one: pieces, and how far each has moved among them."""

    moves: dict[str, Vec3]

    @property
    def names(self) -> tuple[str, ...]:
        return tuple(self.moves)


def explode(plan: Plan, solids: Solids | None = None) -> Exploded:
    """Return all pieces of a plan apart, which may be there as solids already."""
    return _Exploder(plan, make_bodies(solids or solids_of(plan))).run()


class _Exploder:
    """Takes a plan apart; the fields are what is known of it and what has been found."""

    def __init__(self, plan: Plan, bodies: Bodies) -> None:
        """Prepare the pieces, what touches, and the axes of fasteners."""
        self.plan = plan
        self.bodies = bodies
        self.known: dict[Vec3, Along] = {}
        self.touches: tuple[Touch, ...] = (*plan.joinery.contacts, *plan.joinery.sockets)
        self.size = max(subtract(plan.parts.high, plan.parts.low))
        self.volumes = {
            piece.name: part.volume_mm3 for part in plan.parts.parts for piece in part.pieces
        }
        self.ways: list[tuple[tuple[str, ...], tuple[str, ...], Way]] = []
        self.trails: list[tuple[Stop, ...]] = []

    def run(self) -> Exploded:
        """Go through the steps, then take what no step has."""
        groups: dict[str, dict[str, Vec3]] = {"": {}}
        for step in self.plan.assembly.steps:
            units = [_Unit({name: ZERO}) for name in step.pieces]
            units += [_Unit(groups.pop(name)) for name in step.joins if name in groups]
            self._place(groups.setdefault(step.apart, {}), units, is_apart=step.apart != "")
        main = groups.pop("")
        rest = [_Unit(group) for group in groups.values()]
        known = {*main, *(name for one in rest for name in one.names)}
        rest += [_Unit({name: ZERO}) for name in self.bodies.numbers if name not in known]
        self._place(main, rest, is_apart=False)
        return Exploded(main, tuple(self.ways), tuple(self.trails))

    def _place(self, there: dict[str, Vec3], units: list[_Unit], *, is_apart: bool) -> None:
        """Take units off a group one by one."""
        gap = GAP * self.size * (CLOSER if is_apart else 1.0)
        for one, way in reversed(self._take_apart(tuple(there), units)):
            if there:
                self._take_off(there, one, way, gap)
            else:
                there.update(one.moves)

    def _take_apart(
        self, there: tuple[str, ...], units: Sequence[_Unit]
    ) -> list[tuple[_Unit, Way | None]]:
        """Return units in an order in which one after the other comes off all that is left.

        What comes off now comes off later as well, when less is there: so taking whatever comes
        off finds an order if there is one. The smallest goes first; the largest is left for last.
        """
        areas = {u.names: self._area(u.names, self._others(u, units, there)) for u in units}
        left = sorted(units, key=lambda u: (*self._volume(u), round(areas[u.names])))
        found: list[tuple[_Unit, Way | None]] = []
        while left:
            chosen: tuple[_Unit, Way | None] = (left[0], None)
            for one in left:
                others = self._others(one, left, there)
                way = self._find_way(one.names, others) if others else None
                if way is not None:
                    chosen = (one, way)
                    break
            found.append(chosen)
            left.remove(chosen[0])
        return found

    def _others(
        self, one: _Unit, units: Iterable[_Unit], there: tuple[str, ...]
    ) -> tuple[str, ...]:
        return (*there, *(name for other in units if other is not one for name in other.names))

    def _area(self, names: Sequence[str], others: Sequence[str]) -> float:
        return sum(area for _, _, _, area in self._between(names, others))

    def _between(
        self, names: Sequence[str], there: Iterable[str]
    ) -> list[tuple[Touch, str, Vec3, float]]:
        """Return what touches, the piece that is there, the way off it, and the area."""
        mine, others = frozenset(names), frozenset(there)
        found = []
        for touch in self.touches:
            if touch.first in others and touch.second in mine:
                found.append((touch, touch.first, touch.normal, touch.area_mm2))
            elif touch.second in others and touch.first in mine:
                found.append((touch, touch.second, scale(touch.normal, -1.0), touch.area_mm2))
        return found

    def _take_off(self, there: dict[str, Vec3], one: _Unit, way: Way | None, gap: float) -> None:
        """Add a unit to a group, moved off it."""
        between = self._between(one.names, there)
        weights = [(there[name], area) for _, name, _, area in between]
        weights += [(there[name], PIN_MM2) for name in self._lies_on(one.names, there)]
        base = _middle_move(weights)
        off = base
        if way is not None:
            lifted = add(base, way.lift)
            far = self._distance(there, one, lifted, way.direction, gap)
            if far <= LONGEST * self.size:
                off = add(lifted, scale(way.direction, far))
                self.ways.append((one.names, tuple(there), way))
        self._trail(there, one, base, off, between, way)
        there.update({name: add(move, off) for name, move in one.moves.items()})

    def _find_way(self, names: tuple[str, ...], there: tuple[str, ...]) -> Way | None:
        """Return the shortest way on which pieces come off, the given ones before others."""
        between = self._between(names, there)
        if not between and not self._lies_on(names, there):
            return None
        given = _distinct(
            [
                *(normal for touch, _, normal, _ in between if not _is_at_wall(touch)),
                *(scale(normal, -1.0) for touch, _, normal, _ in between if _is_round(touch)),
                *self._axes(names, there),
            ]
        )
        lift = scale(UP, LIFT * self.size)
        ways = [
            *((1.0, Way(way, ZERO)) for way in given),
            *((HUNG, Way(way, lift)) for way in (FRONT, BACK)),
            *((OTHER_WAY, Way(way, ZERO)) for way in (UP, FRONT, RIGHT, LEFT, BACK, DOWN)),
        ]
        touched = [name for _, name, _, _ in between] or list(there)
        lengths = [
            round(weight * self._escape(names, touched, way.direction), 1) for weight, way in ways
        ]
        for i in sorted(range(len(ways)), key=lambda i: (lengths[i], i)):
            way = ways[i][1]
            first = way.direction if way.lift == ZERO else UP
            is_barred = any(_bars(touch, normal, first) for touch, _, normal, _ in between)
            if not is_barred and self.bodies.comes_out(
                names, there, self._along(way.direction), way.lift
            ):
                return way
        return None

    def _lies_on(self, names: Sequence[str], there: Iterable[str]) -> list[str]:
        """Return the pieces with the shelf pins that pieces lie on, once for every pin."""
        others = frozenset(there)
        return [
            pin.piece
            for rest in self.plan.joinery.rests
            if rest.piece in names
            for pin in rest.pins
            if pin.piece in others
        ]

    def _volume(self, one: _Unit) -> tuple[int, float]:
        """Return how many pieces a unit has and how large they are."""
        return len(one.names), round(sum(self.volumes[name] for name in one.names))

    def _axes(self, names: Sequence[str], there: Sequence[str]) -> list[Vec3]:
        """Return the ways along fasteners between pieces and what is there."""
        mine, others = frozenset(names), frozenset(there)
        found = []
        for one in self.plan.joinery.fasteners:
            if _joins(one, mine, others):
                sign = -1.0 if one.through[0] in mine else 1.0
                found.append(scale(one.direction, sign))
        return found

    def _escape(self, names: Sequence[str], touched: Sequence[str], way: Vec3) -> float:
        """Return how far pieces move along a way until they are past what they touch."""
        along = self._along(way)
        low, _ = along.reach(names)
        _, high = along.reach(touched)
        return max(high - low, 0.0)

    def _distance(
        self, there: Mapping[str, Vec3], one: _Unit, base: Vec3, way: Vec3, gap: float
    ) -> float:
        """Return how far a unit moves: a gap past everything that stands before it by now."""
        far, along = gap, self._along(way)
        for name, inner in one.moves.items():
            start = along.view.project(add(base, inner))
            low = along.low[name][2] + start[2]
            mine: BaseGeometry | None = None
            for other, move in there.items():
                moved = along.view.project(move)
                high = along.high[other][2] + moved[2]
                if (
                    high > low + ROOM_MM / 10 - far
                    and high - low + gap > far
                    and along.shares_room(name, start, other, moved, 2 * ROOM_MM)
                ):
                    if mine is None:
                        mine = self.bodies.shadow(name, start, along.view, ROOM_MM)
                    theirs = self.bodies.shadow(other, moved, along.view, ROOM_MM)
                    if mine.intersection(theirs).area > ROOM_MM * ROOM_MM:
                        far = max(far, high - low + gap)
        return far

    def _along(self, way: Vec3) -> Along:
        """Return all pieces seen along a way; most ways are asked for again."""
        if way not in self.known:
            self.known[way] = self.bodies.along(way)
        return self.known[way]

    def _trail(
        self,
        there: Mapping[str, Vec3],
        one: _Unit,
        base: Vec3,
        off: Vec3,
        between: Sequence[tuple[Touch, str, Vec3, float]],
        way: Way | None,
    ) -> None:
        """Add the lines from a unit to its place, and on to what has moved away from there."""
        largest: dict[str, Touch] = {}
        for touch, name, _, area in between:
            if name not in largest or area > largest[name].area_mm2:
                largest[name] = touch
        for name, touch in sorted(largest.items(), key=lambda row: -row[1].area_mm2)[:2]:
            mine = touch.second if touch.first == name else touch.first
            point = _middle(touch)
            stops = [Stop(point, mine, ZERO)]
            if off != base and way is not None:
                back = subtract(subtract(base, off), one.moves[mine])
                if way.lift != ZERO:
                    stops.append(Stop(point, mine, add(back, way.lift)))
                stops.append(Stop(point, mine, back))
            if max(abs(v) for v in subtract(there[name], base)) > ROOM_MM:
                stops.append(Stop(point, name, ZERO))
            if len(stops) > 1:
                self.trails.append(tuple(stops))


def _joins(one: Fastener, mine: frozenset[str], others: frozenset[str]) -> bool:
    return bool(mine.intersection(one.through)) and bool(others.intersection(one.through))


def _is_round(touch: Touch) -> bool:
    return isinstance(touch, Socket)


def _is_at_wall(touch: Touch) -> bool:
    """Whether pieces touch at the wall of a channel: they come out along it, not off it."""
    return isinstance(touch, Contact) and (is_wall(touch.first_side) or is_wall(touch.second_side))


def _distinct(ways: Iterable[Vec3]) -> list[Vec3]:
    found: list[Vec3] = []
    for way in ways:
        one = unit(way)
        if all(angle_between_deg(one, other) > SAME_WAY_DEG for other in found):
            found.append(one)
    return found


def _bars(touch: Touch, normal: Vec3, way: Vec3) -> bool:
    """Whether pieces that touch so do not come apart on a way."""
    along = dot(way, normal)
    return abs(along) < 1 + BARRED if _is_round(touch) else along < BARRED


def _middle_move(moves: Sequence[tuple[Vec3, float]]) -> Vec3:
    """Return the median of moves by weight, direction by direction: between two, halfway."""
    return (_median(moves, 0), _median(moves, 1), _median(moves, 2))


def _median(moves: Sequence[tuple[Vec3, float]], axis: int) -> float:
    half = sum(weight for _, weight in moves) / 2
    reached = 0.0
    rows = sorted((move[axis], weight) for move, weight in moves)
    for i, (value, weight) in enumerate(rows):
        reached += weight
        if math.isclose(reached, half, rel_tol=EVEN):
            return (value + rows[i + 1][0]) / 2
        if reached > half:
            return value
    return 0.0


def _middle(touch: Touch) -> Vec3:
    if isinstance(touch, Socket):
        return touch.center
    total = ZERO
    for point in touch.outline:
        total = add(total, point)
    return scale(total, 1 / len(touch.outline))
