"""Placed pieces with everything the parts stage needs to saw them."""

from collections.abc import Mapping

from generator.edition.edges import evaluate_rules
from generator.edition.loads import evaluate_load
from generator.edition.names import FACES, Registry
from generator.edition.outlines import evaluate_outline
from generator.edition.pins import evaluate_pins
from generator.edition.placing import Placed
from generator.geometry.frames import Plane
from generator.model.catalogue import Edging
from generator.model.edge_sources import CornerSource, OpeningSource, RecessSource
from generator.model.edition import (
    Against,
    CornerRule,
    Direction,
    EdgeRule,
    Grain,
    OpeningRule,
    PieceSpec,
    RecessRule,
    Stock,
)
from generator.problems import ProblemLog
from generator.units import format_both

Span = tuple[float | None, float | None]


def specify_piece(
    piece: Placed,
    registry: Registry,
    planes: Mapping[str, Plane],
    stocks: Mapping[str, Stock],
    edgings: Mapping[str, Edging],
    log: ProblemLog,
) -> PieceSpec | None:
    """Return a piece with its edge rules and sizes, or None where a problem was reported."""
    thickness = {name: stock.thickness_mm for name, stock in stocks.items()}
    rules = evaluate_rules(piece, registry, planes, thickness, log)
    if rules is None:
        return None
    spans = _spans(piece, rules, log)
    corners = _corners(piece, log)
    openings = _openings(piece, log)
    recesses = _recesses(piece, log)
    pins, outline = evaluate_pins(piece, log), evaluate_outline(piece, log)
    if spans is None or corners is None or openings is None or recesses is None:
        return None
    if pins is None or outline is None:
        return None
    source = piece.source
    stock = stocks[source.stock]
    return PieceSpec(
        name=piece.name,
        part=source.name,
        title=source.title,
        stock=stock,
        grain=_grain(source.grain, stock),
        words=piece.words,
        frame=piece.frame,
        spans=spans,
        rules=rules,
        corners=corners,
        openings=openings,
        recesses=recesses,
        pins=pins,
        outline=outline,
        edging=_edging(piece, edgings),
        show=_show(piece),
        mirror_plane=piece.mirror,
        place=source.place,
        carries=evaluate_load(piece, log),
    )


def _edging(piece: Placed, edgings: Mapping[str, Edging]) -> tuple[tuple[Direction, Edging], ...]:
    told = piece.source.edging
    return tuple((piece.called(way), edgings[name]) for way, name, _ in told if name in edgings)


def _grain(grain: Grain, stock: Stock) -> Grain:
    if stock.board is not None:
        return "along"
    return grain if stock.has_grain else "any"


def _spans(
    piece: Placed, rules: tuple[EdgeRule, EdgeRule, EdgeRule, EdgeRule], log: ProblemLog
) -> tuple[Span, Span] | None:
    """Return from and to along length and width; E116 where a size is needed and not given."""
    source = piece.source
    if source.outline:
        return ((0.0, 0.0), (0.0, 0.0))
    names = dict(piece.words)
    spans: list[Span] = []
    for axis, formula, first in (("length", source.length, 0), ("width", source.width, 2)):
        low, high = rules[first], rules[first + 1]
        size = None if formula is None else piece.scope.positive_length(formula, log)
        if formula is None and not isinstance(high, Against):
            log.add(
                "E116",
                source.place,
                part=source.name,
                axis=axis,
                edge=names[f"{axis}+"],
                hint=f"give the part a `{axis}`, or cut that edge `against` something",
            )
            return None
        if formula is not None and size is None:
            return None
        spans.append(
            (None if isinstance(low, Against) else 0.0, None if isinstance(high, Against) else size)
        )
    return (spans[0], spans[1])


def _corners(piece: Placed, log: ProblemLog) -> tuple[CornerRule, ...] | None:
    told = [c for c in piece.source.corners if piece.scope.holds(c.when, log)]
    corners = [_corner(piece, source, log) for source in told]
    found = tuple(corner for corner in corners if corner is not None)
    return found if len(found) == len(corners) else None


def _corner(piece: Placed, source: CornerSource, log: ProblemLog) -> CornerRule | None:
    """Return a corner; the leg that runs away from an edge is measured along the other edge."""
    edges = (piece.called(source.edges[0]), piece.called(source.edges[1]))
    if source.radius is not None:
        radius = piece.scope.positive_length(source.radius, log)
        if radius is None:
            return None
        return CornerRule(edges=edges, clip_mm=None, radius_mm=radius, place=source.place)
    assert source.legs is not None
    away = dict(source.legs)
    legs = []
    for edge in source.edges:
        other = source.edges[1] if edge == source.edges[0] else source.edges[0]
        way = next(way for way in away if {way, other} in _AXES)
        legs.append(piece.scope.positive_length(away[way], log))
    if legs[0] is None or legs[1] is None:
        return None
    return CornerRule(
        edges=edges,
        clip_mm=(legs[0], legs[1]),
        radius_mm=None,
        is_notch=source.is_notch,
        place=source.place,
    )


_AXES = ({"right", "left"}, {"back", "front"}, {"top", "bottom"})


def _openings(piece: Placed, log: ProblemLog) -> tuple[OpeningRule, ...] | None:
    openings = [
        _opening(piece, source, log)
        for source in piece.source.openings
        if piece.scope.holds(source.when, log)
    ]
    found = tuple(opening for opening in openings if opening is not None)
    return found if len(found) == len(openings) else None


def _opening(piece: Placed, source: OpeningSource, log: ProblemLog) -> OpeningRule | None:
    sizes = [piece.scope.positive_length(size, log) for size in source.sizes]
    distances = [(way, piece.scope.length(formula, log)) for way, formula in source.distances]
    (first, one), (second, two) = distances
    found = [size for size in sizes if size is not None]
    if len(found) < len(sizes) or one is None or two is None:
        return None
    radius = 0.0 if source.radius is None else _corner_radius(piece, source, found, log)
    if radius is None:
        return None
    if source.kind == "slot" and found[0] <= found[1]:
        system = piece.scope.system
        log.add(
            "E101",
            source.sizes[0].place,
            name=source.sizes[0].text,
            value=format_both(found[0], system),
            limit=f"a slot is longer than it is wide ({format_both(found[1], system)})",
        )
        return None
    return OpeningRule(
        kind=source.kind,
        sizes_mm=tuple(found),
        radius_mm=radius,
        along=None if source.along is None else piece.called(source.along),
        distances=((piece.called(first), one), (piece.called(second), two)),
        place=source.place,
    )


def _corner_radius(
    piece: Placed, source: OpeningSource, sizes: list[float], log: ProblemLog
) -> float | None:
    """Return the radius of the corners of a cut-out; E101 where they do not fit between them."""
    assert source.radius is not None
    radius = piece.scope.positive_length(source.radius, log)
    if radius is None or 2 * radius < min(sizes):
        return radius
    system = piece.scope.system
    half = format_both(min(sizes) / 2, system)
    log.add(
        "E101",
        source.radius.place,
        name=source.radius.text,
        value=format_both(radius, system),
        limit=f"it is less than half the smaller size ({half}); with round ends it is a `slot`",
    )
    return None


def _recesses(piece: Placed, log: ProblemLog) -> tuple[RecessRule, ...] | None:
    told = [r for r in piece.source.recesses if piece.scope.holds(r.when, log)]
    recesses = [_recess(piece, source, log) for source in told]
    found = tuple(recess for recess in recesses if recess is not None)
    return found if len(found) == len(recesses) else None


def _recess(piece: Placed, source: RecessSource, log: ProblemLog) -> RecessRule | None:
    sizes = [piece.scope.positive_length(size, log) for size in source.sizes]
    start = None
    if source.start is not None:
        way, formula = source.start
        distance = piece.scope.length(formula, log)
        if distance is None:
            return None
        start = (piece.called(way), distance)
    if sizes[0] is None or sizes[1] is None:
        return None
    return RecessRule(
        kind=source.kind,
        edge=piece.called(source.edge),
        sizes_mm=(sizes[0], sizes[1]),
        start=start,
        place=source.place,
    )


def _show(piece: Placed) -> str:
    show = piece.source.show
    return piece.called(FACES[show]) if show in FACES else show
