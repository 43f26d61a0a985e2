"""What is defined and never used: parameters, stocks, frames, planes (D301, D302, D304, D305)."""

from collections.abc import Iterable, Iterator

from generator.formula.tree import Formula
from generator.model.design import (
    Design,
    FrameSource,
    ParameterSource,
    PlaneSource,
    StockSource,
)
from generator.model.edge_sources import Reference
from generator.problems import Place, Problem, make_problem


def check_never_used(design: Design) -> tuple[Problem, ...]:
    """Return a problem for every parameter, stock, frame and plane without a use."""
    inside = list(_walk(design))
    used = {name for one in inside if isinstance(one, Formula) for name in one.names}
    built = {part.stock for part in design.parts}
    built |= {name for part in design.parts for _, name, _ in part.edging}
    frames = {part.frame for part in design.parts if isinstance(part.frame, str)}
    frames |= {one.inside for one in inside if isinstance(one, FrameSource)}
    meant = {one.name for one in inside if isinstance(one, Reference)}
    return (
        *_unused("D301", design.parameters, used),
        *_unused("D302", design.stocks, built | used),
        *_unused("D304", design.frames, frames),
        *_unused("D305", design.planes, meant),
    )


def _unused(
    code: str,
    sources: Iterable[ParameterSource | StockSource | FrameSource | PlaneSource],
    used: set[str],
) -> list[Problem]:
    return [
        make_problem(code, source.place, name=source.name, hint="take it out, or use it")
        for source in sources
        if source.name not in used
    ]


def _walk(value: object) -> Iterator[object]:
    """Yield every frozen value of the design that stands in another one."""
    waiting = [value]
    while waiting:
        one = waiting.pop()
        if isinstance(one, tuple):
            waiting.extend(one)
            continue
        names = getattr(type(one), "__slots__", ())
        if names and not isinstance(one, Place):
            yield one
            waiting.extend(getattr(one, name, None) for name in names)
