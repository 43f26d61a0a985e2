"""A design evaluated for one edition."""

from collections.abc import Mapping
from dataclasses import replace

from generator.edition.boards import fill_in_widths
from generator.edition.cars import evaluate_car
from generator.edition.conditions import check_requires
from generator.edition.edges import evaluate_planes
from generator.edition.finishes import evaluate_finishes
from generator.edition.goods import find_goods
from generator.edition.hardware import evaluate_hardware, settle_steps
from generator.edition.names import Registry
from generator.edition.offcuts import add_offcuts
from generator.edition.parameters import evaluate_parameters
from generator.edition.pieces import specify_piece
from generator.edition.placing import Missing, Placed, place_pieces
from generator.edition.prose import write_prose
from generator.edition.routers import evaluate_router
from generator.edition.scope import Scope
from generator.formula.tree import Formula
from generator.model.catalogue import Catalogue, Edging, Tool
from generator.model.design import Design, JointSource, StepSource
from generator.model.edition import (
    Accept,
    Buy,
    Edition,
    JointSpec,
    PieceSpec,
    StepSpec,
    Stock,
    Story,
)
from generator.model.fixings import Fixing
from generator.model.hardware import HardwareSpec
from generator.model.workshop import Car, RouterWork
from generator.problems import Place, Problem, ProblemLog, format_near_names
from generator.units import System

MOST_PIECES = 400
MOST_SCREWS = 100
FIXING_KINDS = {
    "pocket screws": "pocket screw",
    "face screws": "face screw",
    "nails": "nail",
    "dowels": "dowel",
    "bolts": "bolt",
}


def evaluate_design(
    design: Design, catalogue: Catalogue, system: System
) -> tuple[Edition | None, tuple[Problem, ...]]:
    """Return a design in one edition, or None with the problems that forbid it."""
    log = ProblemLog()
    stocks, edgings = find_goods(design, catalogue, system, log)
    saw = _find_tool(design.heading.saw, design.heading.saw_place, catalogue, log)
    tools = [_find_tool(key, place, catalogue, log) for key, place in design.heading.tools]
    parameters, scope = evaluate_parameters(design, stocks, edgings, system, log)
    stocks, offcuts = add_offcuts(design.offcuts, stocks, edgings, scope, log)
    scope = check_requires(design, scope, log)
    placed, pieces = _evaluate_pieces(design, stocks, edgings, scope, log)
    registry = _register(placed)
    joints = tuple(
        joint
        for source in design.joints
        if (joint := _joint(source, registry, catalogue, scope, log)) is not None
    )
    hardware = evaluate_hardware(design.hardware, registry, catalogue, scope, log)
    steps = settle_steps(_steps(design, registry, hardware, scope, log), hardware)
    buys = _buys(design, scope, log)
    accepts = _accepts(design, scope, log)
    car, router = _workshop(design, scope, log)
    finishes = evaluate_finishes(design.finishes, registry, scope, log)
    story = _story(design, tuple(tool for tool in tools if tool is not None), scope, log)
    if log.has_errors or saw is None:
        return None, tuple(log.problems)
    return Edition(
        system=system,
        story=story,
        catalogue=catalogue,
        parameters=parameters,
        stocks=stocks,
        saw=saw,
        pieces=pieces,
        joints=joints,
        steps=steps,
        buys=buys,
        router=router,
        accepts=accepts,
        finishes=finishes,
        hardware=hardware,
        car=car,
        offcuts=offcuts,
    ), tuple(log.problems)


def _workshop(design: Design, scope: Scope, log: ProblemLog) -> tuple[Car | None, RouterWork]:
    car = evaluate_car(design.heading.car, scope, log)
    return car, evaluate_router(design.heading.router, scope, log)


def _buys(design: Design, scope: Scope, log: ProblemLog) -> tuple[Buy, ...]:
    return tuple(
        Buy(
            item=write_prose(source.item, scope, log),
            quantity=float(quantity),
            unit=source.unit,
            note=write_prose(source.note, scope, log),
        )
        for source in design.buys
        if scope.holds(source.when, log)
        and (quantity := scope.quantity(source.quantity, log, "number")) is not None
    )


def _accepts(design: Design, scope: Scope, log: ProblemLog) -> tuple[Accept, ...]:
    """Return the warnings that are accepted in this edition, at these sizes."""
    return tuple(
        Accept(code=source.code, where=source.where, reason=source.reason, place=source.place)
        for source in design.accepts
        if source.edition in {"", scope.system} and scope.holds(source.when, log)
    )


def _find_tool(key: str, place: Place, catalogue: Catalogue, log: ProblemLog) -> Tool | None:
    tool = catalogue.tools.get(key)
    if tool is None:
        hint = format_near_names(key, catalogue.tools)
        log.add("D205", place, name=key, catalogue="tools", hint=hint)
    return tool


def _evaluate_pieces(
    design: Design,
    stocks: tuple[Stock, ...],
    edgings: Mapping[str, Edging],
    scope: Scope,
    log: ProblemLog,
) -> tuple[tuple[Placed | Missing, ...], tuple[PieceSpec, ...]]:
    by_name = {stock.name: stock for stock in stocks}
    thickness = {stock.name: stock.thickness_mm for stock in stocks}
    frames = {frame.name: frame for frame in design.frames}
    parts = fill_in_widths(design.parts, stocks, log)
    placed = place_pieces(parts, frames, thickness, MOST_PIECES, scope, log)
    if len(placed) > MOST_PIECES:
        count = f"more than {MOST_PIECES}"
        log.add("D116", design.place, count=count, things="pieces", limit=MOST_PIECES)
        return (), ()
    planes = evaluate_planes(design.planes, scope, log)
    registry = _register(placed)
    pieces = [piece for piece in placed if isinstance(piece, Placed)]
    if placed and not pieces and not log.has_errors:
        first = next(piece.when for piece in placed if isinstance(piece, Missing))
        log.add("E123", first.place, hint="leave one part without a `when`")
    specs = [specify_piece(piece, registry, planes, by_name, edgings, log) for piece in pieces]
    return placed, tuple(spec for spec in specs if spec is not None)


def _register(placed: tuple[Placed | Missing, ...]) -> Registry:
    parts: dict[str, tuple[Placed, ...]] = {}
    missing: dict[str, tuple[Missing, ...]] = {}
    for piece in placed:
        name = piece.source.name
        if isinstance(piece, Placed):
            parts[name] = (*parts.get(name, ()), piece)
        else:
            missing[name] = (*missing.get(name, ()), piece)
    return Registry(parts, missing)


def _joint(
    source: JointSource, registry: Registry, catalogue: Catalogue, scope: Scope, log: ProblemLog
) -> JointSpec | None:
    """Return a joint; None where its condition is not true or one of its sides does not exist."""
    if not scope.holds(source.when, log):
        return None
    first = [name for ref in source.first for name in registry.find_many(ref, scope, log)]
    meant = [registry.find_many(ref, scope, log) for ref in source.second]
    second = [names for names in meant if names]
    count = _count(source.count.of(scope.system), scope, log)
    spacing = _length(source.spacing.of(scope.system), scope, log)
    ends = _length(source.ends.of(scope.system), scope, log)
    fixing = source.fixings[0 if scope.system == "imperial" else 1]
    _check_fixing(source, fixing, catalogue, scope, log)
    if not first or not second:
        return None
    return JointSpec(
        id=source.name,
        first=tuple(first),
        second=tuple(second),
        with_=source.with_,
        glue=source.glue,
        pockets=source.pockets,
        nuts=source.nuts,
        count=count,
        spacing_mm=spacing,
        ends_mm=ends,
        fixing=fixing,
        place=source.place,
    )


def _count(formula: Formula | None, scope: Scope, log: ProblemLog) -> int | None:
    count = None if formula is None else scope.whole(formula, log, "a whole number")
    if formula is not None and count is not None and not 1 <= count <= MOST_SCREWS:
        limit = f"a contact takes 1 to {MOST_SCREWS} of them"
        log.add("E101", formula.place, name=formula.text, value=count, limit=limit)
        return None
    return count


def _length(formula: Formula | None, scope: Scope, log: ProblemLog) -> float | None:
    return None if formula is None else scope.positive_length(formula, log)


def _check_fixing(
    source: JointSource, key: str, catalogue: Catalogue, scope: Scope, log: ProblemLog
) -> None:
    """Report a screw, dowel or bolt that is not in the catalogue, or of another edition or kind."""
    if not key:
        return
    kind = FIXING_KINDS.get(source.with_, "")
    file, entries = _fixings(kind, catalogue)
    known = [k for k, s in entries.items() if s.system == scope.system and s.kind == kind]
    found = entries.get(key)
    if found is None or found.kind != kind:
        hint = format_near_names(key, known)
        log.add("D205", source.fixing_place, name=key, catalogue=file, hint=hint)
    elif found.system != scope.system:
        log.add(
            "D207",
            source.fixing_place,
            name=key,
            catalogue=file,
            other=found.system,
            edition=scope.system,
            hint="give one for each edition: {imperial: …, metric: …}",
        )


def _fixings(kind: str, catalogue: Catalogue) -> tuple[str, Mapping[str, Fixing]]:
    """Return the catalogue file that lists a kind, and its entries."""
    if kind == "dowel":
        return "dowels", catalogue.dowels
    return ("bolts", catalogue.bolts) if kind == "bolt" else ("screws", catalogue.screws)


def _steps(
    design: Design,
    registry: Registry,
    hardware: tuple[HardwareSpec, ...],
    scope: Scope,
    log: ProblemLog,
) -> tuple[StepSpec, ...]:
    """Return the steps that are taken here.

    A step is left out where its condition is not true, or where nothing it fits or joins exists.
    """
    here = [spec.name for spec in hardware]
    all_hardware = {source.name for source in design.hardware}
    told = [
        (source, _step(source, registry, all_hardware, here, scope, log))
        for source in design.steps
        if scope.holds(source.when, log)
    ]
    while True:
        built = {step.apart for _, step in told}
        left = [
            (source, replace(step, joins=tuple(name for name in step.joins if name in built)))
            for source, step in told
        ]
        kept = [
            (source, step)
            for source, step in left
            if step.pieces or step.joins or step.hardware or not (source.fits or source.joins)
        ]
        if kept == told:
            return tuple(step for _, step in kept)
        told = kept


def _step(
    source: StepSource,
    registry: Registry,
    hardware: set[str],
    here: list[str],
    scope: Scope,
    log: ProblemLog,
) -> StepSpec:
    """Return a step; of the hardware it names, what there is here."""
    fits = [reference for reference in source.fits if reference.name not in hardware]
    pieces = [name for ref in fits for name in registry.find_many(ref, scope, log)]
    return StepSpec(
        title=source.title,
        pieces=tuple(pieces),
        apart=source.apart,
        joins=tuple(name for name, _ in source.joins),
        hardware=tuple(ref.name for ref in source.fits if ref.name in here),
        says=write_prose(source.says, scope, log),
        cautions=tuple(write_prose(caution, scope, log) for caution in source.cautions),
        place=source.place,
    )


def _story(design: Design, tools: tuple[Tool, ...], scope: Scope, log: ProblemLog) -> Story:
    heading = design.heading
    return Story(
        slug=design.plan_slug(design.size),
        title=heading.title if design.size is None else f"{heading.title}, {design.size.words}",
        summary=write_prose(heading.summary, scope, log),
        about=write_prose(heading.about, scope, log),
        difficulty=heading.difficulty,
        made_by=heading.made_by,
        licence=heading.licence,
        revision=heading.revision,
        date=heading.date,
        tags=heading.tags,
        hours=heading.hours,
        children=heading.children,
        stands=heading.stands,
        stands_place=heading.stands_place,
        changes=heading.changes,
        finish=write_prose(heading.finish, scope, log),
        cautions=tuple(write_prose(caution, scope, log) for caution in heading.cautions),
        tools=tools,
        file=design.file,
        design=design.slug,
        size="" if design.size is None else design.size.words,
        size_says="" if design.size is None else design.size.says,
    )
