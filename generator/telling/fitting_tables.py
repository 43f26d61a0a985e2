"""Edging and finish: what goes onto the parts, as tables and sentences."""

from collections.abc import Iterator

from generator.model.assembly import Step
from generator.model.fitting import FinishNeed
from generator.model.hardware import HardwareSpec
from generator.model.hardware_words import hardware_sentences
from generator.model.plan import Plan
from generator.model.words import capital, edge_word, plain_words
from generator.model.work import find_drawn, format_names
from generator.telling.tables import Table, make_table
from generator.units import (
    format_area,
    format_coverage,
    format_length,
    liquid_amount,
)


def make_edging(plan: Plan) -> Table:
    """Return one row for every covered edge of a part."""
    runs = [run for need in plan.fitting.edgings for run in need.runs]
    rows = (
        (
            part.label,
            part.title,
            edge_word(part.edges[run.edges[0]]),
            format_length(run.length_mm, plan.edition.system),
            run.count,
            capital(run.edging.name),
        )
        for part in plan.parts.parts
        for run in runs
        if run.label == part.label
    )
    head = ("Part@", "Name", "Where", "Length of each#", "Copies#", "Edging")
    return make_table("Edges that are covered", head, rows)


def finish_sentences(plan: Plan) -> tuple[str, ...]:
    """Return for each finish its coats, where it goes, and how much of it that takes."""
    return tuple(_finish_sentence(plan, need) for need in plan.fitting.finishes)


def step_hardware(plan: Plan, step: Step) -> tuple[str, ...]:
    """Return what is fitted in a step: how many, on what, with which screws, then the places."""
    labels = plan.parts.labels()
    lines = []
    for spec in plan.edition.hardware:
        if spec.name not in step.hardware:
            continue
        owners: dict[str, list[str]] = {}
        for name in spec.pieces:
            owners.setdefault(labels[name], []).append(name)
        on = ", ".join(f"{format_names(tuple(names))} ({one})" for one, names in owners.items())
        screws = f", each with {spec.screws} × {spec.screw}" if spec.screw else ""
        lines.append(f"{spec.count} × {spec.item}, on {on}{screws}")
        lines += _places(plan, spec)
    return tuple(lines)


def _places(plan: Plan, spec: HardwareSpec) -> Iterator[str]:
    """Yield where hardware goes, piece by piece; pieces with the same places stand together."""
    drawn = find_drawn(plan)
    together: dict[tuple[str, tuple[str, ...]], list[str]] = {}
    for name in spec.pieces:
        part = plan.parts.part(drawn[name].label)
        mounted = [
            one for one in plan.fitting.mounted if (one.name, one.piece) == (spec.name, name)
        ]
        told = hardware_sentences(mounted, part, drawn[name], plan.edition.system)
        together.setdefault((part.label, told), []).append(name)
    for (label, told), names in together.items():
        yield from (f"{format_names(tuple(names))} ({label}): {sentence}" for sentence in told)


def _finish_sentence(plan: Plan, need: FinishNeed) -> str:
    system = plan.edition.system
    coats = "one coat" if need.spec.coats == 1 else f"{need.spec.coats} coats"
    area = format_area(need.area_mm2, system)
    covers = format_coverage(need.spec.coverage_per_mm, system)
    amount, unit = liquid_amount(need.volume_mm3, system)
    return (
        f"{capital(need.spec.item)}: {coats} on {_where(plan, need)}. One coat covers {area}, all "
        f"faces and edges but where pieces touch; at {covers} that takes {amount:g} {unit} in all."
    )


def _where(plan: Plan, need: FinishNeed) -> str:
    """Return the pieces of a finish by their parts: ``A Side, C Seat``; the rest in a word."""
    if len(need.pieces) == len(plan.parts.pieces()):
        return "all pieces"
    if not need.spec.pieces:
        return "all other pieces"
    labels = plan.parts.labels()
    counts: dict[str, list[str]] = {}
    for name in need.pieces:
        counts.setdefault(labels[name], []).append(name)
    words = []
    for label, names in counts.items():
        part = plan.parts.part(label)
        whole = len(names) == part.count
        words.append(
            f"{label} {part.title}" if whole else ", ".join(plain_words(name) for name in names)
        )
    return ", ".join(words)
