"""Parameters in any order: each is worked out when the ones it uses are."""

from collections.abc import Mapping

from generator.edition.scope import Scope
from generator.formula.tree import Literal
from generator.model.catalogue import Edging
from generator.model.design import Design, ParameterSource
from generator.model.edition import Parameter, Stock
from generator.problems import Note, ProblemLog
from generator.units import Kind, Quantity, System, format_both, format_quantity

WIDTH = "_width"
"""After the name of a board: its width, where the name alone is its thickness."""


def evaluate_parameters(
    design: Design,
    stocks: tuple[Stock, ...],
    edgings: Mapping[str, Edging],
    system: System,
    log: ProblemLog,
) -> tuple[tuple[Parameter, ...], Scope]:
    """Return all parameters with values, and the scope every other formula is worked out in."""
    sizes = _stock_sizes(stocks, edgings)
    missing = {source.name for source in design.stocks} - set(sizes)
    scope = Scope(
        system=system,
        values=sizes,
        broken=frozenset(missing | {f"{name}{WIDTH}" for name in missing}),
        defined=dict(
            [(source.name, source.place) for source in design.parameters]
            + [(source.name, source.place) for source in design.stocks]
        ),
    )
    waiting = {source.name: source for source in design.parameters}
    while waiting:
        ready = [s for s in waiting.values() if not _needs(s, system) & set(waiting)]
        if not ready:
            _report_circle(waiting, system, log)
            scope = _with(scope, {}, set(waiting))
            break
        for source in ready:
            quantity = _value_of(source, scope, log)
            del waiting[source.name]
            known = {} if quantity is None else {source.name: quantity}
            scope = _with(scope, known, set() if known else {source.name})
    parameters = []
    beyond: set[str] = set()
    for source in design.parameters:
        if source.name in scope.values:
            quantity = scope.values[source.name]
            if not _check_limits(source, quantity, scope, log):
                beyond.add(source.name)
            parameters.append(Parameter(name=source.name, quantity=quantity, says=source.says))
    return tuple(parameters), silence(scope, find_depending(design, beyond, system))


def find_depending(design: Design, names: set[str], system: System) -> set[str]:
    """Return the names with all parameters that are worked out from them."""
    found = set(names)
    while True:
        more = {s.name for s in design.parameters if _needs(s, system) & found} - found
        if not more:
            return found
        found |= more


def find_needed(design: Design, names: set[str], system: System) -> set[str]:
    """Return the names with all names they are worked out from."""
    found = set(names)
    while True:
        used = [_needs(s, system) for s in design.parameters if s.name in found]
        more = set().union(*used) - found
        if not more:
            return found
        found |= more


def silence(scope: Scope, names: set[str]) -> Scope:
    """Return the scope without the values of names of which a problem was reported."""
    if not names:
        return scope
    return Scope(
        system=scope.system,
        values={name: value for name, value in scope.values.items() if name not in names},
        broken=scope.broken | names,
        defined=scope.defined,
    )


def _stock_sizes(stocks: tuple[Stock, ...], edgings: Mapping[str, Edging]) -> dict[str, Quantity]:
    """Return what a formula may ask of the stocks: thickness by name, and the width of boards."""
    goods = {stock.name: stock.thickness_mm for stock in stocks}
    goods |= {name: edging.thickness_mm for name, edging in edgings.items()}
    sizes = {name: Quantity("length", thickness) for name, thickness in goods.items()}
    for stock in stocks:
        if stock.board is not None:
            sizes.setdefault(f"{stock.name}{WIDTH}", Quantity("length", stock.board.width_mm))
    return sizes


def _with(scope: Scope, known: dict[str, Quantity], broken: set[str]) -> Scope:
    return Scope(
        system=scope.system,
        values={**scope.values, **known},
        broken=scope.broken | broken,
        defined=scope.defined,
    )


def _needs(source: ParameterSource, system: System) -> set[str]:
    formula = source.value.of(system)
    return set() if formula is None else set(formula.names)


def _value_of(source: ParameterSource, scope: Scope, log: ProblemLog) -> Quantity | None:
    formula = source.value.of(scope.system)
    return None if formula is None else scope.quantity(formula, log, _kind_of(source))


def _kind_of(source: ParameterSource) -> Kind | None:
    """Return the kind of the first size with a unit among the values and limits of a parameter."""
    for formula in (source.value.imperial, source.value.metric, source.least, source.most):
        if formula is not None and isinstance(formula.tree, Literal) and formula.tree.has_unit:
            return formula.tree.quantity.kind
    return None


def _report_circle(waiting: dict[str, ParameterSource], system: System, log: ProblemLog) -> None:
    """Report one E104 for a circle of parameters, at its first; what hangs on it stays silent."""
    name = next(iter(waiting))
    path: list[str] = []
    while name not in path:
        path.append(name)
        name = next(n for n in waiting if n in _needs(waiting[name], system))
    circle = path[path.index(name) :]
    first = min(circle, key=lambda n: (waiting[n].place.line, waiting[n].place.column))
    notes = []
    for other in circle:
        formula = waiting[other].value.of(system)
        if other != first and formula is not None:
            notes.append(Note(text=f"{other}: {formula.text}", place=waiting[other].place))
    listed = [f"`{n}`" for n in circle]
    names = listed[0] + " on itself" if len(listed) == 1 else " and ".join(listed)
    log.add(
        "E104",
        waiting[first].place,
        names=names if len(circle) > 1 else listed[0],
        notes=notes,
        hint="give one of them a value of its own",
    )


def _check_limits(
    source: ParameterSource, quantity: Quantity, scope: Scope, log: ProblemLog
) -> bool:
    """Return whether a value keeps to its least and its most; E101 where it does not."""
    known = len(log.problems)
    for formula, word in ((source.least, "least"), (source.most, "most")):
        if formula is None:
            continue
        limit = scope.quantity(formula, log, quantity.kind)
        if limit is None:
            continue
        over = float(quantity) - float(limit)
        if (over < 0) if word == "least" else (over > 0):
            log.add(
                "E101",
                source.place if source.set_at is None else source.set_at,
                name=source.name,
                value=_told(quantity, scope.system),
                limit=f"the {word} is {_told(limit, scope.system)}",
            )
    return len(log.problems) == known


def _told(quantity: Quantity, system: System) -> str:
    """Return a value as a message tells it: lengths in both units."""
    if quantity.kind == "length":
        return format_both(float(quantity), system)
    return format_quantity(quantity, system)
