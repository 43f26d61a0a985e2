"""Names that stand for something else in the same file: is it there, and is it only one thing?"""

from collections.abc import Iterable

from generator.model.design import Design, FrameSource, PartSource
from generator.model.edge_sources import AgainstSource, IntoSource, MitreSource, Reference
from generator.problems import Note, Place, ProblemLog, format_near_names

FLOOR = "floor"


def check_names(design: Design, log: ProblemLog) -> None:
    """Report every name that means nothing (D201, D202) or two things (D204), and double `each`."""
    _check_twice(
        [(p.name, p.place) for p in design.parameters] + [(s.name, s.place) for s in design.stocks],
        log,
    )
    _check_twice(
        [(p.name, p.place) for p in design.planes] + [(p.name, p.place) for p in design.parts], log
    )
    for size in design.sizes:
        for name, _, place in size.values:
            known = [parameter.name for parameter in design.parameters]
            if name not in known:
                hint = format_near_names(name, known)
                log.add("D202", place, kind="parameter", name=name, hint=hint)
    _check_offcuts(design, log)
    frames = {frame.name: frame for frame in design.frames}
    for frame in design.frames:
        _check_frame(frame.inside, frame.place, frames, log)
    for part in design.parts:
        _check_part(part, design, frames, log)
    for joint in design.joints:
        _check_references((*joint.first, *joint.second), design, log)
    _check_twice(
        [(p.name, p.place) for p in design.parts] + [(h.name, h.place) for h in design.hardware],
        log,
    )
    for hardware in design.hardware:
        _check_references(hardware.on, design, log)
    for finish in design.finishes:
        _check_references(finish.on, design, log)
    _check_twice([(joint.name, joint.place) for joint in design.joints], log)
    apart = [step.apart for step in design.steps if step.apart]
    for step in design.steps:
        _check_references(step.fits, design, log, [one.name for one in design.hardware])
        for name, place in step.joins:
            if name not in apart:
                hint = format_near_names(name, apart)
                log.add("D202", place, kind="sub-assembly", name=name, hint=hint)


def _check_offcuts(design: Design, log: ProblemLog) -> None:
    stocks = [stock.name for stock in design.stocks]
    for offcut in design.offcuts:
        if offcut.of not in stocks:
            hint = format_near_names(offcut.of, stocks)
            log.add("D201", offcut.of_place, name=offcut.of, hint=hint)


def _check_twice(names: list[tuple[str, Place]], log: ProblemLog) -> None:
    first: dict[str, Place] = {}
    for name, place in names:
        if name in first:
            notes = [Note(text="the other one", place=first[name])]
            log.add("D204", place, name=name, notes=notes)
        first.setdefault(name, place)


def _check_frame(name: str, place: Place, frames: dict[str, FrameSource], log: ProblemLog) -> None:
    if name and name not in frames:
        hint = format_near_names(name, frames)
        log.add("D202", place, kind="frame", name=name, hint=hint)


def _check_part(
    part: PartSource, design: Design, frames: dict[str, FrameSource], log: ProblemLog
) -> None:
    stocks = [stock.name for stock in design.stocks]
    named = [(name, place) for _, name, place in part.edging]
    for name, place in ((part.stock, part.stock_place), *named):
        if name and name not in stocks:
            log.add("D201", place, name=name, hint=format_near_names(name, stocks))
    if isinstance(part.frame, str):
        _check_frame(part.frame, part.frame_place, frames, log)
    elif part.frame is not None:
        _check_frame(part.frame.inside, part.frame.place, frames, log)
    for _, rule in part.edges:
        if isinstance(rule, AgainstSource):
            _check_target(rule.target, design, log)
        elif isinstance(rule, (IntoSource, MitreSource)):
            _check_references([rule.target], design, log)
    copies = [copy.name for copy in part.copies]
    for copy in part.copies:
        others = [name for name in copies if name != copy.name]
        if copy.mirrors and copy.mirrors not in others:
            hint = format_near_names(copy.mirrors, others)
            log.add("D202", copy.place, kind="copy", name=copy.mirrors, hint=hint)
    _check_each(part, frames, log)


def _check_target(reference: Reference, design: Design, log: ProblemLog) -> None:
    known = [FLOOR, *(p.name for p in design.planes), *(p.name for p in design.parts)]
    if reference.name not in known:
        hint = format_near_names(reference.name, known)
        log.add("D202", reference.place, kind="part or plane", name=reference.name, hint=hint)


def _check_references(
    references: Iterable[Reference], design: Design, log: ProblemLog, others: Iterable[str] = ()
) -> None:
    known = [*(part.name for part in design.parts), *others]
    for reference in references:
        if reference.name not in known:
            hint = format_near_names(reference.name, known)
            log.add("D202", reference.place, kind="part", name=reference.name, hint=hint)


def _check_each(part: PartSource, frames: dict[str, FrameSource], log: ProblemLog) -> None:
    """Report a part that is counted twice: by itself and by a frame, or by two frames."""
    counted: list[str] = [part.name] if part.each else []
    seen: set[str] = set()
    name = part.frame if isinstance(part.frame, str) else part.frame.inside if part.frame else ""
    while name in frames and name not in seen:
        seen.add(name)
        if frames[name].each:
            counted.append(name)
        name = frames[name].inside
    if len(counted) > 1:
        log.add("D117", part.place, first=counted[0], second=counted[1])
