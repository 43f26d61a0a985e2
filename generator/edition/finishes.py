"""Finishes: how many coats, how far a can goes, and on which pieces."""

from generator.edition.names import Registry
from generator.edition.prose import write_prose
from generator.edition.scope import Scope
from generator.model.design import FinishSource
from generator.model.hardware import FinishSpec
from generator.problems import ProblemLog

MOST_COATS = 20


def evaluate_finishes(
    sources: tuple[FinishSource, ...], registry: Registry, scope: Scope, log: ProblemLog
) -> tuple[FinishSpec, ...]:
    """Return the finishes that go on something here."""
    specs = [_finish(source, registry, scope, log) for source in sources]
    return tuple(spec for spec in specs if spec is not None)


def _finish(
    source: FinishSource, registry: Registry, scope: Scope, log: ProblemLog
) -> FinishSpec | None:
    """Return a finish; None where a problem was reported, or where no piece it names exists."""
    coats = _coats(source, scope, log)
    amount = scope.quantity(source.covers.amount, log, "number")
    names = [name for ref in source.on for name in registry.find_many(ref, scope, log)]
    item = write_prose(source.item, scope, log)
    if amount is not None and float(amount) <= 0:
        text = source.covers.amount.text
        log.add("E109", source.covers.amount.place, text=text, value=f"{float(amount):g}")
        return None
    if coats is None or amount is None or (source.on and not names):
        return None
    return FinishSpec(
        item=item,
        coats=coats,
        coverage_per_mm=float(amount) * float(source.covers.unit_per_mm),
        pieces=tuple(dict.fromkeys(names)),
    )


def _coats(source: FinishSource, scope: Scope, log: ProblemLog) -> int | None:
    if source.coats is None:
        return 1
    coats = scope.whole(source.coats, log, "a whole number of coats")
    if coats is not None and not 1 <= coats <= MOST_COATS:
        limit = f"a finish has 1 to {MOST_COATS} coats"
        log.add("E101", source.coats.place, name=source.coats.text, value=coats, limit=limit)
        return None
    return coats
