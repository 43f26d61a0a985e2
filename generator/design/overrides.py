"""Parameters with other values than the file's own: of a named size, or of the command line."""

from collections.abc import Mapping
from dataclasses import replace

from generator.formula.parse import parse_formula
from generator.model.design import Design, ParameterSource
from generator.model.phrases import ByEdition
from generator.problems import Place, Problem, ProblemLog, format_near_names


def choose_size(design: Design, name: str) -> Design:
    """Return the design in one of its sizes; as it stands for the empty name."""
    size = next((one for one in design.sizes if one.name == name), None)
    if size is None:
        return design
    values = {parameter: (value, place) for parameter, value, place in size.values}
    changed = tuple(_set(parameter, values) for parameter in design.parameters)
    return replace(design, parameters=changed, size=size)


def list_variants(design: Design) -> tuple[Design, ...]:
    """Return the design as it is written and in each of its sizes, whichever of them it is now."""
    plain = replace(
        design,
        size=None,
        parameters=tuple(
            parameter
            if parameter.instead_of is None
            else replace(parameter, value=parameter.instead_of, instead_of=None, set_at=None)
            for parameter in design.parameters
        ),
    )
    return (plain, *(choose_size(plain, size.name) for size in design.sizes))


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
    values: dict[str, tuple[ByEdition, Place]] = {}
    for name, text in settings.items():
        place = Place(file="--set", line=1, column=1, text=f"{name}={text}")
        if name not in names:
            hint = format_near_names(name, names)
            log.add("D202", place, kind="parameter", name=name, hint=hint)
            continue
        formula = parse_formula(text, place.shifted(len(name) + 1), log)
        if formula is not None:
            values[name] = (ByEdition(imperial=formula, metric=formula), place)
    changed = tuple(_set(parameter, values) for parameter in design.parameters)
    return replace(design, parameters=changed), tuple(log.problems)


def _set(
    parameter: ParameterSource, values: Mapping[str, tuple[ByEdition, Place]]
) -> ParameterSource:
    found = values.get(parameter.name)
    if found is None:
        return parameter
    written = parameter.value if parameter.instead_of is None else parameter.instead_of
    return replace(parameter, value=found[0], instead_of=written, set_at=found[1])
