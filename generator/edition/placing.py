"""Where pieces are before their edges are cut: frames, copies, counts."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import islice

from generator.edition.scope import Scope
from generator.formula.tree import Formula
from generator.geometry.frames import Frame, Plane, reflect_direction, reflect_plane
from generator.geometry.vectors import Vec3, cross, dot, scale
from generator.model.design import CopySource, FrameSource, PartSource
from generator.model.edition import OPPOSITE, Direction
from generator.model.phrases import Each, Turn
from generator.problems import ProblemLog

MOST_COPIES = 200

WAY_VECTORS: dict[Direction, Vec3] = {
    "right": (1.0, 0.0, 0.0),
    "left": (-1.0, 0.0, 0.0),
    "back": (0.0, 1.0, 0.0),
    "front": (0.0, -1.0, 0.0),
    "top": (0.0, 0.0, 1.0),
    "bottom": (0.0, 0.0, -1.0),
}

LOCAL: dict[str, Vec3] = {
    "length-": (-1.0, 0.0, 0.0),
    "length+": (1.0, 0.0, 0.0),
    "width-": (0.0, -1.0, 0.0),
    "width+": (0.0, 1.0, 0.0),
    "through-": (0.0, 0.0, -1.0),
    "through+": (0.0, 0.0, 1.0),
}
"""Directions of a piece, by which of its sizes runs there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A piece with its place, before its edges are known.

    Attributes:
        index: The numbers of its ``each``; empty where it has none.
        copy: The name of its copy, or "".
        scope: With the variable of its ``each``.
        outer: The frame it is written in; the directions of the file are its directions.
        frame: Local to room, right-handed, before mirroring.
        words: Local direction → name of the side, mirrored names for a mirrored piece.
        mirror: The plane it is mirrored in, or None.
    """

    source: PartSource
    name: str
    index: tuple[int, ...]
    copy: str
    scope: Scope
    outer: Frame
    frame: Frame
    words: tuple[tuple[str, Direction], ...]
    mirror: Plane | None

    def plane_to_room(self, plane: Plane) -> Plane:
        """Return a plane of the piece's frame in the room, mirrored where the piece is."""
        placed = self.frame.plane_to_world(plane)
        return placed if self.mirror is None else reflect_plane(placed, self.mirror)

    def called(self, way: Direction) -> Direction:
        """Return what a side the maker named is called here: mirrored names on a mirrored piece."""
        if self.mirror is None:
            return way
        across = next(c.across for c in self.source.copies if c.name == self.copy)
        assert across is not None
        return OPPOSITE[way] if way in {across[0], OPPOSITE[across[0]]} else way

    def direction_to_room(self, vector: Vec3) -> Vec3:
        """Return a direction of the piece's frame in the room, mirrored where the piece is."""
        placed = self.frame.direction(vector)
        return placed if self.mirror is None else reflect_direction(placed, self.mirror)


@dataclass(frozen=True, slots=True, kw_only=True)
class Missing:
    """A piece that does not exist here, because its condition is not true.

    Attributes:
        index: The numbers of its ``each``; None for all pieces of its part.
        when: The condition: of the part, of its copy, or of a frame it stands in.
    """

    source: PartSource
    index: tuple[int, ...] | None
    when: Formula


def place_pieces(
    parts: tuple[PartSource, ...],
    frames: dict[str, FrameSource],
    thickness: dict[str, float],
    most: int,
    scope: Scope,
    log: ProblemLog,
) -> tuple[Placed | Missing, ...]:
    """Return all pieces of all parts in file order, or more than `most` where there are too many.

    A part at fault is left out whole: what means one of its pieces is silent then.
    """
    placed: list[Placed | Missing] = []
    for part in parts:
        if part.stock not in thickness:
            continue
        room = most + 1 - len(placed)
        found = [*islice(_pieces_of(part, frames, thickness[part.stock], scope, log), room)]
        pieces = [piece for piece in found if piece is not None]
        if len(pieces) == len(found):
            placed += pieces
    return tuple(placed)


def turn_frame(
    frame: Frame, turns: tuple[Turn, ...], scope: Scope, log: ProblemLog
) -> Frame | None:
    """Return a frame turned about its own directions, one turn after the other."""
    for turn in turns:
        angle = scope.angle(turn.angle, log)
        if angle is None:
            return None
        frame = frame.turned(WAY_VECTORS[turn.about], angle)
    return frame


def list_scopes(each: tuple[Each, ...], scope: Scope, log: ProblemLog) -> tuple[Scope, ...]:
    """Return the scope of every number an ``each`` counts; nothing where a range is at fault."""
    return tuple(inner for _, inner in _counted(each, scope, log))


def _pieces_of(
    part: PartSource,
    frames: dict[str, FrameSource],
    thickness: float,
    scope: Scope,
    log: ProblemLog,
) -> Iterator[Placed | Missing | None]:
    """Yield the pieces of a part; None and no more where one cannot be placed."""
    chain = _frame_chain(part, frames, log)
    if chain is None:
        return
    counts = (part.each, *(frame.each for frame in chain))
    each = next((found for found in counts if found), ())
    conditions = [one for one in (part.when, *(frame.when for frame in chain)) if one is not None]
    fixed = [one for one in conditions if not _varies(one, each)]
    varying = [one for one in conditions if one not in fixed]
    never = _first_broken(fixed, scope, log)
    if never is not None:
        yield Missing(source=part, index=None, when=never)
        return
    for index, inner in _counted(each, scope, log):
        broken = _first_broken(varying, inner, log)
        if broken is not None:
            yield Missing(source=part, index=index, when=broken)
            continue
        outer: Frame | None = Frame()
        for source in chain:
            outer = _stand(outer, source, inner, log)
            if outer is None:
                yield None
                return
        for copy in part.copies:
            broken = _first_broken(_conditions_of(copy, part), inner, log)
            if broken is not None:
                yield Missing(source=part, index=index, when=broken)
                continue
            piece = _place_copy(part, copy, outer, thickness, index, inner, log)
            yield piece
            if piece is None:
                return


def _varies(when: Formula, each: tuple[Each, ...]) -> bool:
    """Return whether a condition may differ from piece to piece."""
    return any(one.variable in when.names for one in each)


def _first_broken(conditions: Iterable[Formula], scope: Scope, log: ProblemLog) -> Formula | None:
    """Return the first condition that is not true."""
    return next((when for when in conditions if not scope.holds(when, log)), None)


def _conditions_of(copy: CopySource, part: PartSource) -> list[Formula]:
    """Return the conditions of a copy: of a mirrored one those of what it mirrors as well."""
    models = [other for other in part.copies if other.name == copy.mirrors and copy.mirrors]
    return [one.when for one in (copy, *models) if one.when is not None]


def _frame_chain(
    part: PartSource, frames: dict[str, FrameSource], log: ProblemLog
) -> tuple[FrameSource, ...] | None:
    """Return the frames a part stands in, outermost first; E110 where they go in a circle."""
    chain: list[FrameSource] = []
    if isinstance(part.frame, FrameSource):
        chain.append(part.frame)
        name = part.frame.inside
    else:
        name = "" if part.frame is None else part.frame
    while name:
        source = frames[name]
        if source in chain:
            circle = sorted(chain[chain.index(source) :], key=_line_of)
            names = " and ".join(f"`{frame.name}`" for frame in circle)
            log.add("E110", circle[0].place, names=names, hint="take `in` away from one of them")
            return None
        chain.append(source)
        name = source.inside
    return tuple(reversed(chain))


def _line_of(frame: FrameSource) -> tuple[int, int]:
    return (frame.place.line, frame.place.column)


def _counted(
    each: tuple[Each, ...], scope: Scope, log: ProblemLog
) -> tuple[tuple[tuple[int, ...], Scope], ...]:
    """Return the numbers of each piece with their scope; nothing where a range is at fault."""
    counted: list[tuple[tuple[int, ...], Scope]] = [((), scope)]
    for one in each:
        ranges: list[range] = []
        for _, inner in counted:
            values = _range(one, inner, log)
            if values is None:
                return ()
            ranges.append(values)
        count = sum(len(values) for values in ranges)
        if not 1 <= count <= MOST_COPIES:
            log.add("E108", one.place, count=count, limit=f"{MOST_COPIES}, the least 1")
            return ()
        counted = [
            ((*index, value), inner.with_number(one.variable, value, one.place))
            for (index, inner), values in zip(counted, ranges, strict=True)
            for value in values
        ]
    return tuple(counted)


def _range(each: Each, scope: Scope, log: ProblemLog) -> range | None:
    """Return the values of a range, which may be none; None where it is at fault."""
    if each.variable in scope.values:
        log.add("D204", each.place, name=each.variable)
        return None
    first = scope.whole(each.first, log, "a whole number")
    last = scope.whole(each.last, log, "a whole number")
    return None if first is None or last is None else range(first, last + 1)


def _stand(outer: Frame | None, source: FrameSource, scope: Scope, log: ProblemLog) -> Frame | None:
    at = scope.point(source.at, log)
    if at is None or outer is None:
        return None
    return turn_frame(outer.moved(at), source.turns, scope, log)


def _place_copy(
    part: PartSource,
    copy: CopySource,
    outer: Frame | None,
    thickness: float,
    index: tuple[int, ...],
    scope: Scope,
    log: ProblemLog,
) -> Placed | None:
    if outer is None:
        return None
    model, mirror = copy, None
    if copy.mirrors:
        model = next(other for other in part.copies if other.name == copy.mirrors)
        mirror = _mirror_plane(copy, outer, scope, log)
        if mirror is None:
            return None
    corner = scope.point(model.corner, log)
    if corner is None:
        return None
    stood = turn_frame(outer.moved(corner), model.turns, scope, log)
    if stood is None:
        return None
    frame, words = _local_frame(part, stood, thickness)
    if copy.across is not None and mirror is not None:
        words = _mirrored_words(words, copy.across[0])
    return Placed(
        source=part,
        name=_piece_name(part.name, index, copy.name),
        index=index,
        copy=copy.name,
        scope=scope,
        outer=outer,
        frame=frame,
        words=tuple(words.items()),
        mirror=mirror,
    )


def _piece_name(part: str, index: tuple[int, ...], copy: str) -> str:
    name = f"{part}[{','.join(map(str, index))}]" if index else part
    return f"{name}.{copy}" if copy else name


def _mirror_plane(copy: CopySource, outer: Frame, scope: Scope, log: ProblemLog) -> Plane | None:
    if copy.across is None:
        return None
    way, formula = copy.across
    at = scope.length(formula, log)
    if at is None:
        return None
    return outer.plane_to_world(Plane(WAY_VECTORS[way], at))


def _local_frame(
    part: PartSource, stood: Frame, thickness: float
) -> tuple[Frame, dict[str, Direction]]:
    """Return the right-handed frame of a piece and the names of its sides.

    Where length, width and thickness run left-handed, the frame starts on the other face: z then
    runs against the thickness and the piece still fills the same space.
    """
    length, width, depth = part.runs
    x, y = stood.direction(WAY_VECTORS[length]), stood.direction(WAY_VECTORS[width])
    z, through = cross(x, y), stood.direction(WAY_VECTORS[depth])
    origin = stood.origin
    top = depth
    if dot(z, through) < 0:
        origin = stood.moved(scale(WAY_VECTORS[depth], thickness)).origin
        top = OPPOSITE[depth]
    words: dict[str, Direction] = {
        "length+": length,
        "length-": OPPOSITE[length],
        "width+": width,
        "width-": OPPOSITE[width],
        "through+": top,
        "through-": OPPOSITE[top],
    }
    return Frame(origin, x, y, z), words


def _mirrored_words(words: dict[str, Direction], way: Direction) -> dict[str, Direction]:
    pair = {way: OPPOSITE[way], OPPOSITE[way]: way}
    return {key: pair.get(name, name) for key, name in words.items()}
