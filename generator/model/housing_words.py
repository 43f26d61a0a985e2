"""How the trade says what a channel is, where it runs and how it is measured."""

from collections import Counter
from collections.abc import Iterable

from generator.model.parts import FACE_A, Housing, Part, Piece
from generator.model.plan import Plan
from generator.units import System, format_angle, format_length


def housing_name(housing: Housing) -> str:
    """Return ``dado``, ``stopped groove``, ``rabbet`` or ``dado at 12°``."""
    stopped = "stopped " if housing.stops else ""
    angle = f" at {format_angle(housing.angle_deg)}" if housing.angle_deg else ""
    return f"{stopped}{housing.kind}{angle}"


def housing_size(housing: Housing, system: System) -> str:
    """Return ``1/4 in deep, 23/32 in wide``."""
    depth = format_length(housing.depth_mm, system)
    return f"{depth} deep, {format_length(housing.width_mm, system)} wide"


def housing_place(part: Part, housing: Housing, system: System, piece: Piece | None = None) -> str:
    """Return where the sides of a channel lie, such as ``7 1/2 in to 8 7/32 in from the left end``.

    Args:
        part: It is cut into.
        housing: The channel.
        system: Of the lengths.
        piece: The copy whose words are used; the first one if None.
    """
    edge = _edge_word(part, housing.edge, piece)
    if not housing.is_along:
        return "corners as drawn"
    if housing.kind == "rabbet":
        return f"along the {edge}"
    near, far = (format_length(mm, system) for mm in (housing.from_mm, housing.to_mm))
    return f"{near} to {far} from the {edge}"


def housing_ends(part: Part, housing: Housing, system: System, piece: Piece | None = None) -> str:
    """Return ``stopped 1/2 in from the front``, ``up to another channel`` or ``through``.

    A channel shorter than it is far from an edge is told from where it begins.
    """
    if not housing.stops:
        return ("between two other channels", "up to another channel", "through")[
            len(housing.opens)
        ]
    length = housing.length_mm
    near, away = min(housing.stops, key=lambda stop: stop[1])
    word = _edge_word(part, near, piece, short=True)
    begin, end = format_length(away, system), format_length(away + length, system)
    if len(housing.stops) == 1 and away > length:
        first = "another channel"
        if housing.opens:
            first = f"the {_edge_word(part, housing.opens[0], piece, short=True)}"
        return f"from {first}, {format_length(length, system)} long"
    if max(mm for _, mm in housing.stops) > length and len(housing.stops) > 1:
        return f"from {begin} to {end} from the {word}"
    stops = [
        f"{format_length(mm, system)} from the {_edge_word(part, edge, piece, short=True)}"
        for edge, mm in housing.stops
    ]
    return f"stopped {' and '.join(stops)}"


def housing_face(part: Part, housing: Housing, piece: Piece | None = None) -> str:
    """Return the name of the face a channel is cut into."""
    words = {} if piece is None else dict(piece.words)
    return words.get(housing.side, part.face_words[0 if housing.side == FACE_A else 1])


def housing_labels(housing: Housing, labels: dict[str, str]) -> tuple[str, ...]:
    """Return the labels of the parts that stand in a channel, each once, in their order.

    Args:
        housing: The channel.
        labels: The label of every piece, by name.
    """
    return tuple(sorted({labels[mate] for mate in housing.mates}, key=lambda one: (len(one), one)))


def count_housings(part: Part, system: System) -> tuple[str, ...]:
    """Return the channels of a part for a list, alike ones together.

    Such as ``2 × stopped dado 1/4 in deep, 23/32 in wide, right face``.
    """
    texts: Iterable[str] = (
        f"{housing_name(one)} {housing_size(one, system)}, {housing_face(part, one)} face"
        for one in part.housings
    )
    return tuple(
        text if count == 1 else f"{count} × {text}" for text, count in Counter(texts).items()
    )


def find_channel_word(plan: Plan, first: str, second: str) -> str:
    """Return what one piece stands in where it is housed in another: ``dado``; "" for nothing."""
    for part in plan.parts.parts:
        names = {piece.name for piece in part.pieces}
        for housing in part.housings:
            for host, mate in ((first, second), (second, first)):
                if host in names and mate in housing.mates:
                    return housing.kind
    return ""


def _edge_word(part: Part, name: str, piece: Piece | None, *, short: bool = False) -> str:
    """Return an edge with what it is, in the words of a piece: ``front edge``, or ``front``."""
    index = next(i for i, edge in enumerate(part.edges) if edge.name == name)
    word = name if piece is None else dict(piece.words).get(index, name)
    if short:
        return word
    kind = part.edges[index].kind
    return f"{word} {kind}" if part.edges[index].is_plain else f"{word} corner"
