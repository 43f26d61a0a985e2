"""What screws and nails held in tests, as a table."""

import math

from generator.model.joinery import Fastener
from generator.model.plan import Plan
from generator.model.words import plain_words
from generator.telling.tables import Table, make_table
from generator.units import System, format_force


def make_pulls(plan: Plan) -> Table:
    """Return one row for each joint and fastener that a formula was published for."""
    groups: dict[tuple[str, str, str], list[Fastener]] = {}
    labels = plan.parts.labels()
    for one in plan.joinery.fasteners:
        if one.pull_n is not None:
            key = (one.joint, one.goods.name, labels[one.through[-1]])
            groups.setdefault(key, []).append(one)
    rows = (
        (
            plain_words(joint),
            name,
            f"{label} {plan.parts.part(label).title}",
            _about(min(one.pull_n or 0.0 for one in group), plan.edition.system),
        )
        for (joint, name, label), group in groups.items()
    )
    head = ("Joint", "Screw or nail", "In", "Average pull")
    return make_table("What one of them held in tests, pulled straight out", head, rows)


def _about(force_n: float, system: System) -> str:
    """Return a force to two digits: an average of tests has no more."""
    number, _, unit = format_force(force_n, system).partition(" ")
    size = float(number)
    digits = 1 - math.floor(math.log10(size)) if size > 0 else 0
    return f"about {round(size, digits):g} {unit}"
