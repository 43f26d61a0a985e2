"""The steps of the design with everything that happens in each."""

from generator.assembly.marks import Landing, find_landings, make_marks
from generator.model.assembly import Assembly, Step
from generator.model.edition import Edition, StepSpec
from generator.model.joinery import Joinery, Joint
from generator.model.parts import Parts
from generator.problems import Note, Problem, ProblemLog

MAIN = ""
"""The group of pieces that is the furniture itself; sub-assemblies have names."""


def plan_assembly(
    edition: Edition, parts: Parts, joinery: Joinery
) -> tuple[Assembly | None, tuple[Problem, ...]]:
    """Return the steps, or None with the problems that forbid them."""
    log = ProblemLog()
    _check_fitted(edition, parts, log)
    if log.has_errors:
        return None, tuple(log.problems)
    groups: dict[str, tuple[str, ...]] = {MAIN: ()}
    steps: list[Step] = []
    waiting = list(joinery.joints)
    landings = list(find_landings(parts, joinery))
    labels = parts.labels()
    made: set[tuple[str, tuple[str, str]]] = set()
    for order, spec in enumerate(edition.steps, 1):
        _check_built(spec, groups, log)
        after = _after(spec, groups)
        groups[spec.apart] = after
        _check_hardware(edition, spec, after, log)
        screws, glued = _joined(waiting, joinery, set(after), made)
        steps.append(
            Step(
                order=order,
                title=spec.title,
                pieces=spec.pieces,
                present=tuple(name for name in after if name not in spec.pieces),
                fasteners=screws,
                glued=glued,
                apart=spec.apart,
                joins=spec.joins,
                says=spec.says,
                cautions=spec.cautions,
                hardware=spec.hardware,
                marks=make_marks(_take_landings(landings, set(after)), labels),
            )
        )
    if not log.has_errors:
        _check_made(waiting, made, log)
    if log.has_errors:
        return None, tuple(log.problems)
    return Assembly(steps=tuple(steps)), tuple(log.problems)


def _check_fitted(edition: Edition, parts: Parts, log: ProblemLog) -> None:
    first: dict[str, StepSpec] = {}
    for spec in edition.steps:
        for name in (*spec.pieces, *spec.hardware):
            if name in first:
                note = Note(text="it went on before", place=first[name].place)
                log.add("A102", spec.place, piece=name, notes=[note])
            first.setdefault(name, spec)
    for piece in parts.pieces():
        if piece.name not in first:
            log.add(
                "A101",
                piece.place,
                piece=piece.name,
                hint="name it under `fit` in one of the steps",
            )


def _check_built(spec: StepSpec, groups: dict[str, tuple[str, ...]], log: ProblemLog) -> None:
    """Report an A104 for a sub-assembly that goes on before it is built, or once more."""
    for name in spec.joins:
        if name not in groups or name == spec.apart:
            hint = f"put the step with `apart: {name}` before this one, and take it once"
            log.add("A104", spec.place, name=name, hint=hint)


def _check_hardware(
    edition: Edition, spec: StepSpec, here: tuple[str, ...], log: ProblemLog
) -> None:
    """Report an A105 for hardware that goes on before a piece it is fitted to."""
    for one in edition.hardware:
        lacking = [name for name in one.pieces if name not in here]
        if one.name in spec.hardware and lacking:
            hint = "fit it in the step in which the last of its pieces goes on, or later"
            log.add("A105", spec.place, name=one.name, piece=lacking[0], hint=hint)


def _after(spec: StepSpec, groups: dict[str, tuple[str, ...]]) -> tuple[str, ...]:
    """Return the pieces joined to each other after a step; sub-assemblies that go on are spent."""
    joined = groups.get(spec.apart, ())
    for name in spec.joins:
        joined += groups.pop(name, ())
    return joined + spec.pieces


def _joined(
    joints: list[Joint],
    joinery: Joinery,
    here: set[str],
    made: set[tuple[str, tuple[str, str]]],
) -> tuple[tuple[str, ...], tuple[tuple[str, str], ...]]:
    """Return the screws and glued pairs that become possible, and note them as made."""
    screws: list[str] = []
    glued: list[tuple[str, str]] = []
    for joint in joints:
        for pair in joint.between:
            if (joint.id, pair) in made or not here.issuperset(pair):
                continue
            made.add((joint.id, pair))
            screws += [name for name in joint.fasteners if joinery.fastener(name).through == pair]
            if joint.glue:
                glued.append(pair)
    return tuple(screws), tuple(glued)


def _take_landings(landings: list[Landing], here: set[str]) -> tuple[Landing, ...]:
    """Return the landings whose two pieces are together now, and take them off the list."""
    taken: list[Landing] = []
    left: list[Landing] = []
    for one in landings:
        (taken if here.issuperset({one.piece.name, one.mate}) else left).append(one)
    landings[:] = left
    return tuple(taken)


def _check_made(
    joints: list[Joint], made: set[tuple[str, tuple[str, str]]], log: ProblemLog
) -> None:
    for joint in joints:
        if any((joint.id, pair) not in made for pair in joint.between):
            log.add(
                "A103",
                joint.place,
                joint=joint.id,
                hint="let a step take the sub-assembly that holds one of them: `joins: name`",
            )
