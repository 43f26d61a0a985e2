"""Texts with numbers in the reader's units."""

from generator.edition.parameters import format_quantity
from generator.edition.scope import Scope
from generator.model.design import Prose
from generator.problems import ProblemLog
from generator.units import format_length


def write_prose(prose: Prose, scope: Scope, log: ProblemLog) -> str:
    """Return a text with each ``{formula}`` replaced by its value as a tape measure shows it."""
    written = []
    for piece in prose.pieces:
        if isinstance(piece, str):
            written.append(piece)
            continue
        quantity = scope.quantity(piece, log)
        if quantity is None:
            continue
        if quantity.kind == "length":
            written.append(format_length(float(quantity), scope.system))
        else:
            written.append(format_quantity(quantity, scope.system))
    return "".join(written)
