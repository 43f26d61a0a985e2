"""Parameters with values from the command line instead of the file."""

from collections.abc import Mapping
from dataclasses import replace

from generator.formula.parse import parse_formula
from generator.formula.tree import Formula
from generator.model.design import ByEdition, Design, ParameterSource
from generator.problems import Place, Problem, ProblemLog, format_near_names


def override_parameters(
    design: Design, settings: Mapping[str, str]
) -> tuple[Design, tuple[Problem, ...]]:
    """Return the design with the given parameters set in both editions.

    Args:
        design: As read.
        settings: Parameter name → formula, such as ``{"width": "30 in"}``.
    """
    log = ProblemLog()
    names = [parameter.name for parameter in design.parameters]
    values: dict[str, Formula] = {}
    for name, text in settings.items():
        place = Place(file="--set", line=1, column=1, text=f"{name}={text}")
        if name not in names:
            hint = format_near_names(name, names)
            log.add("D202", place, kind="parameter", name=name, hint=hint)
            continue
        formula = parse_formula(text, place.shifted(len(name) + 1), log)
        if formula is not None:
            values[name] = formula
    changed = tuple(_set(parameter, values) for parameter in design.parameters)
    return replace(design, parameters=changed), tuple(log.problems)


def _set(parameter: ParameterSource, values: Mapping[str, Formula]) -> ParameterSource:
    formula = values.get(parameter.name)
    if formula is None:
        return parameter
    return replace(parameter, value=ByEdition(imperial=formula, metric=formula))
