"""Demo plans whose pages are followed for other panels, and what is told at some thickness."""

import random
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from generator.build import build_plan
from generator.model.measured import Measured
from generator.model.plan import Plan
from generator.pages.entries import make_entry
from generator.targets import read_variant
from generator.thickness.follow import follow_thickness, make_sampler
from generator.thickness.sampling import Sampler, Thicknesses
from generator.units import System
from tests.little_designs import ROOT, shared_catalogue
from tests.sample_site import sample_artifacts

DESIGNS = (
    "cleat-wall",
    "entry-bench",
    "pantry-shelf",
    "seed-tray-stand",
    "splayed-planter",
    "step-stool",
    "tool-tote",
)
"""All demo designs that are sawn from sheets."""


@dataclass(frozen=True, slots=True)
class Followed:
    """A plan, what its page can follow, and what evaluates it anew."""

    plan: Plan
    measured: Measured
    sampler: Sampler


@cache
def follow_demo(slug: str, system: System) -> Followed:
    """Return a demo plan in one edition, with plain pictures."""
    design, problems = read_variant(ROOT / "designs", slug, "", {})
    assert design is not None, problems
    plan, problems = build_plan(design, shared_catalogue(), system, routed=False)
    assert plan is not None, problems
    with tempfile.TemporaryDirectory() as folder:
        artifacts = sample_artifacts(plan, Path(folder))
    entry = make_entry({system: plan}, {system: artifacts})
    catalogue = shared_catalogue()
    return Followed(
        plan,
        follow_thickness(design, catalogue, plan, artifacts, entry),
        make_sampler(design, catalogue, plan, artifacts, entry),
    )


def random_thicknesses(measured: Measured, count: int, seed: int) -> Iterator[Thicknesses]:
    """Yield thicknesses anywhere in the ranges, all stocks at once; not on the points sampled."""
    chance = random.Random(seed)
    for _ in range(count):
        found = [chance.uniform(one.least_mm, one.most_mm) for one in measured.stocks]
        if measured.alone:
            kept = chance.randrange(len(found))
            found = [
                value if place == kept else stock.planned_mm
                for place, (value, stock) in enumerate(zip(found, measured.stocks, strict=True))
            ]
        yield tuple(round(value, 4) for value in found)


def in_a_gap(measured: Measured, thicknesses: Thicknesses) -> bool:
    """Whether a thickness lies between two pieces, where a choice changes."""
    return any(
        not any(low <= at <= high for low, high in stock.pieces)
        for stock, at in zip(measured.stocks, thicknesses, strict=True)
    )
