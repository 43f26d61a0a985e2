"""Which sides of a piece are covered with edging, and whether two pieces are covered alike."""

from collections.abc import Mapping

from generator.model.catalogue import Edging
from generator.model.edition import PieceSpec
from generator.parts.sides import Side


def edging_of(spec: PieceSpec, side: Side) -> Edging | None:
    """Return what covers a side, or None.

    A worked corner is covered where both its edges are, with the same. An arch goes with its edge;
    the walls of a notch stay bare: tape does not go round their inner corners.
    """
    if side.kind == "notch":
        return None
    told: dict[str, Edging] = dict(spec.edging)
    found = {told.get(word) for word in side.name.split()}
    return found.pop() if len(found) == 1 else None


def is_covered_alike(
    model: tuple[PieceSpec, tuple[Side, ...]],
    piece: tuple[PieceSpec, tuple[Side, ...]],
    sides: Mapping[int, int],
) -> bool:
    """Whether a piece that lies on a model has the same edging on the same edges.

    Args:
        model: What it is like, with its sides.
        piece: The other one, with its sides.
        sides: For every side number of the model, the piece's own.
    """
    if not model[0].edging and not piece[0].edging:
        return True
    return all(
        edging_of(model[0], side) == edging_of(piece[0], piece[1][sides[i]])
        for i, side in enumerate(model[1])
    )
