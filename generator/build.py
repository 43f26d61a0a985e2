"""The order of the stages, and nowhere else: a design in one edition becomes a plan."""

import itertools
from collections.abc import Iterable, Mapping
from dataclasses import replace

from generator.assembly.stage import plan_assembly
from generator.buying.stage import list_shopping
from generator.checks.bevel_beyond_saw import check_bevel_beyond_saw
from generator.checks.cannot_be_moved_in import check_cannot_be_moved_in
from generator.checks.dowels_keep_it_out import check_dowels_keep_it_out
from generator.checks.edging_in_a_joint import check_edging_in_a_joint
from generator.checks.edging_too_narrow import check_edging_too_narrow
from generator.checks.hardware_screws_too_long import check_hardware_screws_too_long
from generator.checks.held_by_nothing import check_held_by_nothing
from generator.checks.islands import check_islands
from generator.checks.never_there import check_never_there
from generator.checks.never_used import check_never_used
from generator.checks.offcut_too_small import check_offcut_too_small
from generator.checks.pieces_in_one_place import check_pieces_in_one_place
from generator.checks.sags import check_sags
from generator.checks.seen_screw_heads import check_seen_screw_heads
from generator.checks.settings_too_alike import check_settings_too_alike
from generator.checks.sizes_that_do_not_close import check_sizes_that_do_not_close
from generator.checks.tall_and_not_anchored import check_tall_and_not_anchored
from generator.checks.thin_wood_at_channels import check_thin_wood_at_channels
from generator.checks.tips import check_tips
from generator.checks.too_small_to_hold import check_too_small_to_hold
from generator.checks.traps import check_traps
from generator.cutting.replay import Sawn
from generator.cutting.stage import lay_out_again, plan_cutting, saw_again
from generator.design.overrides import list_variants
from generator.edition.stage import evaluate_design
from generator.fitting.stage import plan_fitting
from generator.joinery.stage import make_joints
from generator.model.catalogue import Catalogue
from generator.model.cutting import Cutting, Effort
from generator.model.design import Design
from generator.model.edition import Accept, Edition
from generator.model.joinery import Joinery
from generator.model.parts import Parts
from generator.model.plan import Plan
from generator.parts.stage import make_parts
from generator.problems import Problem, make_problem, merge_repeats, sort_problems
from generator.strength.stage import work_out_strength
from generator.units import SYSTEMS, System

PLAN_CHECKS = (
    check_pieces_in_one_place,
    check_held_by_nothing,
    check_islands,
    check_bevel_beyond_saw,
    check_too_small_to_hold,
    check_offcut_too_small,
    check_settings_too_alike,
    check_thin_wood_at_channels,
    check_cannot_be_moved_in,
    check_dowels_keep_it_out,
    check_seen_screw_heads,
    check_edging_in_a_joint,
    check_edging_too_narrow,
    check_hardware_screws_too_long,
    check_sizes_that_do_not_close,
    check_traps,
    check_sags,
    check_tips,
    check_tall_and_not_anchored,
)


def build_plan(
    design: Design,
    catalogue: Catalogue,
    system: System,
    effort: Effort = "normal",
    *,
    routed: bool = True,
) -> tuple[Plan | None, tuple[Problem, ...]]:
    """Return the plan of a design in one edition, or None with everything that forbids it.

    The next stage runs only where one has no faults; a warning not accepted forbids the plan too.

    Args:
        design: As it was read.
        catalogue: What can be bought.
        system: The edition.
        effort: How long to look for layouts with fewer sheets.
        routed: Whether sheets are laid out for a router as well; a check needs none.
    """
    edition, problems = evaluate_design(design, catalogue, system)
    if edition is None:
        return None, _told(problems)
    parts, problems = make_parts(edition)
    if parts is None:
        return None, _told(problems)
    joinery, problems = make_joints(edition, parts)
    cutting, cutting_problems = _saw(edition, parts, effort, routed=routed)
    if joinery is None or cutting is None:
        return None, _told((*problems, *cutting_problems))
    assembly, assembly_problems = plan_assembly(edition, parts, joinery)
    fitting, fitting_problems = plan_fitting(edition, parts, joinery)
    if assembly is None or fitting is None:
        return None, _told((*problems, *assembly_problems, *fitting_problems))
    plan = Plan(
        edition=edition,
        parts=parts,
        joinery=joinery,
        assembly=assembly,
        cutting=cutting,
        fitting=fitting,
        shopping=list_shopping(edition, joinery, cutting, fitting),
        strength=work_out_strength(edition, parts, joinery),
        problems=(),
    )
    return _accept(plan, _check(plan, design, catalogue))


def lay_out_plan(plan: Plan, effort: Effort = "normal") -> Sawn:
    """Return the cut trees of a plan's sheets and boards, for `rebuild_plan`."""
    edition = plan.edition
    return lay_out_again(plan.parts, edition.stocks, edition.saw, edition.system, effort)


def rebuild_plan(
    design: Design, catalogue: Catalogue, system: System, plan: Plan, sawn: Sawn
) -> tuple[Plan | None, tuple[Problem, ...]]:
    """Return a plan for goods that measure otherwise, as near to what is drawn as can be.

    It keeps the screws where they still suit, and every cut of the layouts. What it carries, how
    it stands and what is bought is told of the plan that was drawn.

    Args:
        design: As it was read.
        catalogue: What was measured.
        system: The edition.
        plan: The plan that was drawn.
        sawn: Its cut trees.

    Returns:
        None without a problem where the parts are other ones, or sheets no longer give them.
    """
    edition, problems = evaluate_design(design, catalogue, system)
    if edition is None:
        return None, _told(problems)
    parts, problems = make_parts(edition)
    if parts is None or not _are_the_same(parts, plan.parts):
        return None, _told(problems)
    joinery, problems = _join_again(edition, parts, plan)
    cutting = saw_again(sawn, plan.cutting, parts, edition.stocks, system, edition.car)
    if joinery is None or cutting is None:
        return None, _told(problems)
    assembly, assembly_problems = plan_assembly(edition, parts, joinery)
    fitting, fitting_problems = plan_fitting(edition, parts, joinery)
    if assembly is None or fitting is None:
        return None, _told((*problems, *assembly_problems, *fitting_problems))
    fitting = replace(fitting, glue=plan.fitting.glue, finishes=plan.fitting.finishes)
    plan = replace(plan, edition=edition, parts=parts, joinery=joinery)
    return replace(plan, assembly=assembly, cutting=cutting, fitting=fitting), ()


def _are_the_same(parts: Parts, others: Parts) -> bool:
    """Whether there are as many copies of parts under the same labels."""
    counts = [[(part.label, part.count) for part in one.parts] for one in (parts, others)]
    return counts[0] == counts[1]


def check_plan(plan: Plan, design: Design, catalogue: Catalogue) -> tuple[Problem, ...]:
    """Return what forbids a plan that was put together by `rebuild_plan`."""
    plan = replace(plan, strength=work_out_strength(plan.edition, plan.parts, plan.joinery))
    return _accept(plan, _check(plan, design, catalogue))[1]


def _join_again(
    edition: Edition, parts: Parts, plan: Plan
) -> tuple[Joinery | None, tuple[Problem, ...]]:
    """Return the joinery with the fasteners of a plan; joints they no longer suit choose anew."""
    chosen: dict[str, set[str]] = {}
    for one in plan.joinery.fasteners:
        chosen.setdefault(one.joint, set()).add(one.goods.key)
    kept = {joint: next(iter(keys)) for joint, keys in chosen.items() if len(keys) == 1}
    joinery, problems = make_joints(_fixed(edition, kept), parts)
    if joinery is not None:
        return joinery, problems
    places = {problem.place for problem in problems}
    unsound = {spec.id for spec in edition.joints if spec.place in places}
    kept = {joint: key for joint, key in kept.items() if joint not in unsound}
    return make_joints(_fixed(edition, kept), parts)


def _fixed(edition: Edition, kept: Mapping[str, str]) -> Edition:
    joints = (replace(one, fixing=kept.get(one.id, one.fixing)) for one in edition.joints)
    return replace(edition, joints=tuple(joints))


def _saw(
    edition: Edition, parts: Parts, effort: Effort, *, routed: bool
) -> tuple[Cutting | None, tuple[Problem, ...]]:
    stocks, saw, car = edition.stocks, edition.saw, edition.car
    router = edition.router if routed else None
    return plan_cutting(parts, stocks, saw, edition.system, effort, car, router=router)


def _check(plan: Plan, design: Design, catalogue: Catalogue) -> list[Problem]:
    """Return what the checks find in a plan, and what the design tells in vain."""
    found = [problem for check in PLAN_CHECKS for problem in check(plan)]
    found += check_never_used(design)
    found += _never_there(design, plan.edition, catalogue)
    return found


def _never_there(design: Design, edition: Edition, catalogue: Catalogue) -> tuple[Problem, ...]:
    """Return what is in no plan of the design; the other plans are asked only where this lacks it.

    A plan that cannot be evaluated says nothing: its own faults come first.
    """
    missing = check_never_there(design, edition)
    for variant, system in itertools.product(list_variants(design), SYSTEMS):
        if not missing:
            return ()
        other, _ = evaluate_design(variant, catalogue, system)
        lacking = () if other is None else check_never_there(design, other)
        missing = tuple(problem for problem in missing if problem in lacking)
    return missing


def _accept(plan: Plan, found: list[Problem]) -> tuple[Plan | None, tuple[Problem, ...]]:
    """Set aside the warnings the design accepts; anything else that was found forbids the plan."""
    left: list[Problem] = []
    accepted: list[Problem] = []
    used: list[Accept] = []
    for problem in found:
        source = next((a for a in plan.edition.accepts if _matches(a, problem)), None)
        if source is None:
            left.append(problem)
            continue
        used.append(source)
        accepted.append(replace(problem, accepted=source.reason))
    left += [
        make_problem("D303", source.place, code=source.code, where=source.where)
        for source in plan.edition.accepts
        if source not in used
    ]
    if left:
        return None, _told(left)
    return replace(plan, problems=sort_problems(accepted)), ()


def _told(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    return merge_repeats(sort_problems(problems))


def _matches(accept: Accept, problem: Problem) -> bool:
    if problem.level != "warning" or problem.code != accept.code:
        return False
    if problem.place is None:
        return False
    key = problem.place.key
    return accept.where in {"", key} or key.startswith(f"{accept.where}.")
