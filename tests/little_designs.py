"""Little designs written as text, and the stages run on them one after the other.

The catalogue is the one in shared/, with two sheets added whose thickness a test may choose,
`board-imperial` and `board-metric`, and two boards of one size, `stick-imperial` and
`stick-metric`. A text names the sheets through the stock `panel`; what a test does
not care about (title, date, stock) is put in front of it.
"""

from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from pathlib import Path

from generator.assembly.stage import plan_assembly
from generator.build import build_plan
from generator.catalogue.read import read_catalogue
from generator.design.read import parse_design
from generator.edition.stage import evaluate_design
from generator.joinery.stage import make_joints
from generator.model.assembly import Assembly
from generator.model.catalogue import Board, Catalogue, Sheet, SheetSize
from generator.model.design import Design
from generator.model.edition import Edition
from generator.model.joinery import Joinery
from generator.model.parts import Part, Parts, Piece
from generator.model.plan import Plan
from generator.parts.stage import make_parts
from generator.problem_text import format_problem
from generator.problems import Problem, ProblemLog
from generator.units import System

ROOT = Path(__file__).parents[1]
HEAD = """\
title: Little
stands: hung
date: 2026-11-25
stock:
  panel: {imperial: board-imperial, metric: board-metric}
"""


@cache
def shared_catalogue() -> Catalogue:
    """Return the catalogue in shared/."""
    log = ProblemLog()
    catalogue = read_catalogue(ROOT / "shared", log)

    assert catalogue is not None, log.problems
    return catalogue


SHELF_BETWEEN_SIDES = """
parts:
  side:
    from: panel
    length: 600 mm
    width: 300 mm
    runs: {length: up, width: back}
    at:
      left: {}
      right: {corner: [918 mm, 0 mm, 0 mm]}
  shelf:
    from: panel
    corner: [0 mm, 0 mm, 300 mm]
    width: 300 mm
    runs: {length: right, width: back}
    edges: {left: against side.left, right: against side.right}
"""
"""The parts of a shelf 900 mm long between two sides; what it carries and the joints follow."""

RAIL_ON_LEG = """
parts:
  leg:
    from: leg
    length: 700 mm
    runs: {length: up, width: back}
  rail:
    from: rail
    length: 400 mm
    corner: [leg, 0 mm, 300 mm]
    runs: {length: back, width: up}
joints:
  - {join: rail to leg, with: WITH, count: 1}
steps:
  - {title: All, fit: "leg, rail"}
"""
"""A rail held to a leg by one fastener, WITH; its head names the boards `leg` and `rail`."""


def catalogue_of(thickness_mm: float = 18.0) -> Catalogue:
    """Return the catalogue in shared/ with the two test boards of one thickness."""
    catalogue = shared_catalogue()
    boards = {sheet.key: sheet for sheet in (_board("imperial"), _board("metric"))}
    thick = {key: replace(sheet, thickness_mm=thickness_mm) for key, sheet in boards.items()}
    sticks = {stick.key: stick for stick in (_stick("imperial"), _stick("metric"))}
    return replace(
        catalogue,
        sheets={**catalogue.sheets, **thick},
        boards={**catalogue.boards, **sticks},
    )


def _board(system: System) -> Sheet:
    like = shared_catalogue().sheets["plywood-18"]
    return replace(
        like,
        key=f"board-{system}",
        system=system,
        sizes=(SheetSize(name="full sheet", length_mm=4000.0, width_mm=2000.0),),
    )


def _stick(system: System) -> Board:
    return replace(shared_catalogue().boards["38x89"], key=f"stick-{system}", system=system)


def read_text(text: str, head: str = HEAD) -> Design:
    """Return the design of a text with the usual heading before it."""
    log = ProblemLog()
    design = parse_design(head + text, "little/design.yml", "little", log)

    assert design is not None, say(log.problems)
    return design


def edition_of(
    text: str, system: System = "metric", thickness_mm: float = 18.0, head: str = HEAD
) -> Edition:
    """Return the edition of a text that has no fault."""
    edition, problems = evaluate_design(read_text(text, head), catalogue_of(thickness_mm), system)

    assert edition is not None, say(problems)
    return edition


def edition_problems(text: str, system: System = "metric") -> tuple[Problem, ...]:
    """Return what the edition stage says of a text."""
    return evaluate_design(read_text(text), catalogue_of(), system)[1]


def parts_of(
    text: str, system: System = "metric", thickness_mm: float = 18.0, head: str = HEAD
) -> Parts:
    """Return the parts of a text that has no fault so far."""
    parts, problems = make_parts(edition_of(text, system, thickness_mm, head))

    assert parts is not None, say(problems)
    return parts


def parts_problems(text: str, system: System = "metric", head: str = HEAD) -> tuple[Problem, ...]:
    """Return what the parts stage says of a text."""
    return make_parts(edition_of(text, system, head=head))[1]


def joinery_of(text: str, system: System = "metric", thickness_mm: float = 18.0) -> Joinery:
    """Return the joinery of a text that has no fault so far."""
    edition = edition_of(text, system, thickness_mm)
    joinery, problems = make_joints(edition, parts_of(text, system, thickness_mm))

    assert joinery is not None, say(problems)
    return joinery


def joinery_problems(
    text: str, system: System = "metric", thickness_mm: float = 18.0
) -> tuple[Problem, ...]:
    """Return what the joinery stage says of a text."""
    edition = edition_of(text, system, thickness_mm)
    return make_joints(edition, parts_of(text, system, thickness_mm))[1]


def assembly_of(text: str, system: System = "metric") -> Assembly:
    """Return the assembly of a text that has no fault so far."""
    assembly, problems = assemble(text, system)

    assert assembly is not None, say(problems)
    return assembly


def assemble(text: str, system: System = "metric") -> tuple[Assembly | None, tuple[Problem, ...]]:
    """Return the assembly of a text, and what the assembly stage says of it."""
    edition, parts = edition_of(text, system), parts_of(text, system)
    return plan_assembly(edition, parts, joinery_of(text, system))


def plan_of(text: str, system: System = "metric", head: str = HEAD) -> Plan:
    """Return the plan of a text without faults."""
    plan, problems = build_plan(read_text(text, head), catalogue_of(), system)

    assert plan is not None, say(problems)
    return plan


def plan_problems(text: str, system: System = "metric", head: str = HEAD) -> tuple[Problem, ...]:
    """Return everything that is wrong with a text, the checks included."""
    return build_plan(read_text(text, head), catalogue_of(), system)[1]


def piece_named(parts: Parts, name: str) -> tuple[Part, Piece]:
    """Return a piece and its part."""
    return next(
        (part, piece) for part in parts.parts for piece in part.pieces if piece.name == name
    )


def part_named(parts: Parts, name: str) -> Part:
    """Return the part that holds a piece."""
    return piece_named(parts, name)[0]


def codes(problems: Sequence[Problem]) -> list[str]:
    """Return the codes of problems in their order."""
    return [problem.code for problem in problems]


def say(problems: Sequence[Problem]) -> str:
    """Return problems as text, for a failing test."""
    return "\n".join(format_problem(problem) for problem in problems)
