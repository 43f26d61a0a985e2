"""What no plan of a design has: parts (D306), hardware (D307), acceptances never asked for."""

from generator.formula.tree import Formula
from generator.model.design import Design
from generator.model.edition import Edition
from generator.problems import Note, Problem, make_problem


def check_never_there(design: Design, edition: Edition) -> tuple[Problem, ...]:
    """Return a problem for every part, hardware and acceptance that a plan leaves out.

    What is missing from one plan may well stand in another: it is a fault only where all plans of
    the design, its sizes in both editions, have it.
    """
    built = {piece.part for piece in edition.pieces}
    kept = {accept.place for accept in edition.accepts}
    parts = (
        make_problem(
            "D306",
            part.place,
            name=part.name,
            notes=_condition(part.when),
            hint="take it out, or mend its `when`",
        )
        for part in design.parts
        if part.name not in built
    )
    fitted = {spec.name for spec in edition.hardware}
    hardware = (
        make_problem(
            "D307",
            source.place,
            name=source.name,
            notes=_condition(source.when),
            hint="take it out, or mend its `when`",
        )
        for source in design.hardware
        if source.name not in fitted
    )
    accepts = (
        make_problem(
            "D303",
            source.place,
            code=source.code,
            notes=_condition(source.when),
            hint="no plan of this design takes notice of it",
        )
        for source in design.accepts
        if source.place not in kept
    )
    return (*parts, *hardware, *accepts)


def _condition(when: Formula | None) -> tuple[Note, ...]:
    """Return where the condition stands under which a thing would be there."""
    return () if when is None else (Note(text="its `when`", place=when.place),)
