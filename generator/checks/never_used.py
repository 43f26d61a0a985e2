"""What is defined and never used: parameters, stocks, frames, planes (D301, D302, D304, D305)."""

from collections.abc import Iterable
from typing import TypeVar

from generator.formula.tree import Formula
from generator.model.design import (
    Design,
    FrameSource,
    ParameterSource,
    PlaneSource,
    Reference,
    StockSource,
)
from generator.problems import Problem, make_problem

Found = TypeVar("Found")


def check_never_used(design: Design) -> tuple[Problem, ...]:
    """Return a problem for every parameter, stock, frame and plane without a use."""
    used = {name for formula in _find(Formula, design) for name in formula.names}
    built = {part.stock for part in design.parts}
    frames = {part.frame for part in design.parts if isinstance(part.frame, str)}
    frames |= {frame.inside for frame in (*design.frames, *_find(FrameSource, design.parts))}
    meant = {reference.name for reference in _find(Reference, design)}
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


def _find(kind: type[Found], value: object) -> list[Found]:
    """Return everything of a kind anywhere inside a frozen value of the design."""
    if isinstance(value, kind):
        return [value, *_inside(kind, value)]
    return _inside(kind, value)


def _inside(kind: type[Found], value: object) -> list[Found]:
    if isinstance(value, tuple):
        return [found for item in value for found in _find(kind, item)]
    names = getattr(type(value), "__slots__", ())
    return [found for name in names for found in _find(kind, getattr(value, name, None))]
