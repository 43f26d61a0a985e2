"""Texts with numbers in the reader's units."""

from generator.edition.scope import Scope
from generator.model.phrases import Prose
from generator.problems import ProblemLog
from generator.units import format_quantity


def write_prose(prose: Prose, scope: Scope, log: ProblemLog) -> str:
    """Return a text with each ``{formula}`` replaced by its value as a tape measure shows it."""
    written = []
    for piece in prose.pieces:
        if isinstance(piece, str):
            written.append(piece)
            continue
        quantity = scope.quantity(piece, log)
        if quantity is not None:
            written.append(format_quantity(quantity, scope.system))
    return "".join(written)
