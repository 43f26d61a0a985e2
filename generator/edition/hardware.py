"""Hardware: on which pieces and where, how many of it, and in which step it is fitted."""

from dataclasses import replace

from generator.edition.names import Registry
from generator.edition.placing import Placed, list_scopes
from generator.edition.prose import write_prose
from generator.edition.scope import Scope
from generator.formula.tree import Formula
from generator.model.catalogue import Catalogue
from generator.model.design import HardwareSource
from generator.model.edition import Direction, StepSpec
from generator.model.fixings import Screw
from generator.model.hardware import HardwareSpec, Spot
from generator.problems import Place, ProblemLog, format_near_names

MOST_OF_IT = 400
WALL_TITLE = "Fix it to the wall"
WALL_SAYS = (
    "Stand the piece in its place and level it. Find two studs, or use fixings rated for your wall "
    "and for the load, and put on the {item}. Then pull at the top with both hands: nothing may "
    "move."
)

WALL_CAUTION = (
    "Look for pipes and cables before you drill into a wall. Do not load the piece, and let no "
    "child near it, before it is fixed."
)


def evaluate_hardware(
    sources: tuple[HardwareSource, ...],
    registry: Registry,
    catalogue: Catalogue,
    scope: Scope,
    log: ProblemLog,
) -> tuple[HardwareSpec, ...]:
    """Return the hardware that is fitted here."""
    specs = [
        _hardware(source, registry, catalogue, scope, log)
        for source in sources
        if scope.holds(source.when, log)
    ]
    return tuple(spec for spec in specs if spec is not None)


def settle_steps(
    steps: tuple[StepSpec, ...], hardware: tuple[HardwareSpec, ...]
) -> tuple[StepSpec, ...]:
    """Return the steps with all hardware in one of them.

    What no step fits goes on with the last of its pieces; what holds the whole to a wall has a
    step of its own, the last.
    """
    told = {name for step in steps for name in step.hardware}
    for spec in hardware:
        if spec.name in told:
            continue
        last = [i for i, step in enumerate(steps) if not set(step.pieces).isdisjoint(spec.pieces)]
        if spec.is_anchor or not last:
            steps = (*steps, _own_step(spec))
            continue
        own = steps[last[-1]]
        settled = replace(own, hardware=(*own.hardware, spec.name))
        steps = (*steps[: last[-1]], settled, *steps[last[-1] + 1 :])
    return steps


def _own_step(spec: HardwareSpec) -> StepSpec:
    return StepSpec(
        title=WALL_TITLE if spec.is_anchor else f"Put on the {spec.item}",
        pieces=(),
        apart="",
        joins=(),
        says=WALL_SAYS.format(item=spec.item) if spec.is_anchor else "",
        cautions=(WALL_CAUTION,) if spec.is_anchor else (),
        place=spec.place,
        hardware=(spec.name,),
    )


def _hardware(
    source: HardwareSource, registry: Registry, catalogue: Catalogue, scope: Scope, log: ProblemLog
) -> HardwareSpec | None:
    """Return hardware; None where a problem was reported, or where no piece it is on exists."""
    known = len(log.problems)
    names = dict.fromkeys(n for ref in source.on for n in registry.find_many(ref, scope, log))
    placed = [piece for pieces in registry.parts.values() for piece in pieces]
    pieces = [piece for piece in placed if piece.name in names]
    spots = [spot for piece in pieces for spot in _spots(piece, source, scope, log)]
    each = 1 if source.count is None else _whole(source.count, scope, log)
    screws = 1 if source.screw_count is None else _whole(source.screw_count, scope, log)
    screw = _screw(source, catalogue, scope, log)
    item, note = write_prose(source.item, scope, log), write_prose(source.note, scope, log)
    if len(log.problems) > known or not pieces or each is None or screws is None:
        return None
    return HardwareSpec(
        name=source.name,
        item=item,
        pieces=tuple(piece.name for piece in pieces),
        spots=tuple(spots),
        count=len(spots) if source.places else each * len(pieces),
        screw="" if screw is None else screw.name,
        screws=0 if screw is None else screws,
        screw_mm=0.0 if screw is None else screw.length_mm,
        is_anchor=source.is_anchor,
        note=note,
        place=source.place,
    )


def _spots(piece: Placed, source: HardwareSource, scope: Scope, log: ProblemLog) -> list[Spot]:
    """Return where it goes on one piece; D202 for a face or an edge that the piece has not."""
    if source.face is None or not source.places:
        return []
    words = dict(piece.words)
    faces = [words["through-"], words["through+"]]
    face = piece.called(source.face)
    if face not in faces:
        hint = f"its faces are {faces[0]} and {faces[1]}; what sits on an edge is told by `count`"
        log.add("D202", source.face_place, kind="face", name=source.face, hint=hint)
        return []
    spots = []
    for inner in list_scopes(source.each, scope, log):
        for first, second, place in source.places:
            distances = [_distance(piece, one, place, inner, log) for one in (first, second)]
            if distances[0] is not None and distances[1] is not None:
                spots.append(
                    Spot(
                        piece=piece.name,
                        face=face,
                        distances=(distances[0], distances[1]),
                        place=place,
                    )
                )
    return spots


def _distance(
    piece: Placed, told: tuple[Direction, Formula], place: Place, scope: Scope, log: ProblemLog
) -> tuple[str, float] | None:
    words = dict(piece.words)
    edges = [words[key] for key in ("length-", "length+", "width-", "width+")]
    edge, distance = piece.called(told[0]), scope.length(told[1], log)
    if edge not in edges:
        hint = f"the edges of `{piece.source.name}` are {', '.join(edges)}"
        log.add("D202", place, kind="edge", name=told[0], hint=hint)
        return None
    return None if distance is None else (edge, distance)


def _whole(formula: Formula, scope: Scope, log: ProblemLog) -> int | None:
    count = scope.whole(formula, log, "a whole number")
    if count is not None and not 1 <= count <= MOST_OF_IT:
        limit = f"there are 1 to {MOST_OF_IT} of one kind on a piece"
        log.add("E101", formula.place, name=formula.text, value=count, limit=limit)
        return None
    return count


def _screw(
    source: HardwareSource, catalogue: Catalogue, scope: Scope, log: ProblemLog
) -> Screw | None:
    """Return the screws; None where none are told. D205, D207 as for joints."""
    key = source.screws[0 if scope.system == "imperial" else 1]
    if not key:
        return None
    screw = catalogue.screws.get(key)
    if screw is None:
        known = [k for k, one in catalogue.screws.items() if one.system == scope.system]
        hint = format_near_names(key, known)
        log.add("D205", source.screws_place, name=key, catalogue="screws", hint=hint)
        return None
    if screw.system != scope.system:
        log.add(
            "D207",
            source.screws_place,
            name=key,
            catalogue="screws",
            other=screw.system,
            edition=scope.system,
            hint="give one for each edition: {imperial: …, metric: …}",
        )
    return screw
