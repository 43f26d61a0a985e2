"""What a design stands on: its conditions, and the maker's words where one is not kept."""

from generator.edition.parameters import find_depending, find_needed, silence
from generator.edition.prose import write_prose
from generator.edition.scope import Scope
from generator.formula.chain import format_chain
from generator.model.design import Design, RequireSource
from generator.problems import Note, ProblemLog


def check_requires(design: Design, scope: Scope, log: ProblemLog) -> Scope:
    """Report an E121 for every condition that is not kept.

    Returns:
        The scope, silent about every value that has to do with a broken condition: what else is
        wrong may well come from it.
    """
    broken: set[str] = set()
    for source in design.requires:
        if scope.holds(source.that, log):
            continue
        says = " ".join(write_prose(source.says, scope, log).split())
        log.add("E121", source.place, says=says, notes=_notes(source, design, scope))
        needed = find_needed(design, set(source.that.names), scope.system)
        broken |= find_depending(design, needed, scope.system)
    return silence(scope, broken)


def _notes(source: RequireSource, design: Design, scope: Scope) -> list[Note]:
    """Return how the condition came out, and each parameter in it with its value."""
    told = format_chain(source.that, scope.values, scope.system)
    notes = [Note(text=f"asked for: {told}")]
    for parameter in design.parameters:
        formula = parameter.value.of(scope.system)
        if parameter.name in source.that.names and formula is not None:
            value = format_chain(formula, scope.values, scope.system)
            notes.append(Note(text=f"{parameter.name} = {value}", place=parameter.place))
    return notes
