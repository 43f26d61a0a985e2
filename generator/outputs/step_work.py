"""What there is to show of a step: its pieces seen from where the work is, and what goes in."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from generator.geometry.hidden_line import find_visible
from generator.geometry.lines import Segment
from generator.geometry.projection import Mesh
from generator.geometry.vectors import Vec3
from generator.model.assembly import Step
from generator.model.plan import Plan
from generator.outputs.bodies import Box, Look, Solids, bounds_of, look_at_new, solids_of
from generator.outputs.driven import HEAD_MM, Driven, find_driven, find_ends, find_open
from generator.outputs.labels import COLUMN_MM
from generator.outputs.shelf_pins import find_pins
from generator.outputs.viewpoints import Viewpoint, choose_view
from generator.outputs.views import MARGIN_MM, TALLEST_MM, WIDTH_MM


@dataclass(frozen=True, slots=True)
class StepWork:
    """What there is to be shown of a step, seen from one side.

    Attributes:
        whole: All pieces of the picture.
        looked: Those that are solid in it.
        outlines: Edges of pieces the eye goes through.
        new: Names of the pieces that go on.
        seen: Of every fastener whether the eye sees where it goes in.
        alone: Edges of the new pieces with nothing else there; none where nothing else is.
        pins: Holes of shelf pins and where the pins end, in the room.
    """

    plan: Plan
    step: Step
    best: Viewpoint
    whole: Mesh
    looked: Look
    outlines: tuple[Segment, ...]
    new: tuple[str, ...]
    driven: tuple[Driven, ...]
    seen: tuple[bool, ...]
    alone: tuple[Segment, ...]
    pins: tuple[tuple[Vec3, Vec3], ...]


def find_work(plan: Plan, step: Step, solids: Solids | None = None) -> StepWork:
    """Return what a step shows, turned to the side where the work is."""
    bodies = solids or solids_of(plan)
    new = find_new(plan, step)
    driven = find_driven(plan, step)
    best, whole = _choose_view(step, new, driven, bodies)
    looked = _look_through(whole, best, bodies, new)
    return StepWork(
        plan=plan,
        step=step,
        best=best,
        whole=whole,
        looked=looked,
        outlines=_find_outlines(whole, best),
        new=new,
        driven=driven,
        seen=find_open(driven, looked.mesh, best.view),
        alone=find_visible(bodies.mesh(new), best.view) if len(new) < len(whole.names) else (),
        pins=find_pins(plan, step),
    )


def look_at_step(plan: Plan, step: Step, solids: Solids) -> tuple[Viewpoint, Look]:
    """Return what is solid of a step, new pieces first, and from where the work is seen."""
    best, mesh = find_viewpoint(plan, step, solids)
    return best, _look_through(mesh, best, solids, find_new(plan, step))


def find_viewpoint(plan: Plan, step: Step, solids: Solids) -> tuple[Viewpoint, Mesh]:
    """Return from where the work of a step is seen best, and all its pieces, new ones first."""
    return _choose_view(step, find_new(plan, step), find_driven(plan, step), solids)


def find_new(plan: Plan, step: Step) -> tuple[str, ...]:
    """Return the pieces that go on in a step, those of the sub-assemblies it joins included."""
    joined = [
        name
        for other in plan.assembly.steps
        if other.apart and other.apart in step.joins
        for name in (*other.pieces, *other.present)
    ]
    return tuple(dict.fromkeys((*step.pieces, *joined)))


def bounds_of_work(work: StepWork) -> Box:
    """Return the extent of pieces and of fasteners drawn out of them, in mm of the room."""
    view = work.best.view
    bounds = bounds_of(work.whole, view)
    room = WIDTH_MM - 2 * (MARGIN_MM + COLUMN_MM)
    scale = min(room / bounds.width, TALLEST_MM / bounds.height)
    ends = [view.project(point) for one in work.driven for point in find_ends(one, scale)]
    edge = HEAD_MM / scale
    return Box(
        min(bounds.left, *(x - edge for x, _, _ in ends), bounds.right),
        min(bounds.low, *(y - edge for _, y, _ in ends), bounds.high),
        max(bounds.right, *(x + edge for x, _, _ in ends), bounds.left),
        max(bounds.high, *(y + edge for _, y, _ in ends), bounds.low),
    )


def _choose_view(
    step: Step, new: Sequence[str], driven: Sequence[Driven], solids: Solids
) -> tuple[Viewpoint, Mesh]:
    names = [*new, *(name for name in step.present if name not in new)]
    mesh = solids.mesh(names) if names else solids.whole()
    entries = [(one.at, one.way) for one in driven if not one.is_inside]
    return choose_view(mesh, new, entries), mesh


def _look_through(mesh: Mesh, best: Viewpoint, solids: Solids, new: Collection[str]) -> Look:
    """Return pieces as they are seen, but those the eye goes through."""
    names = [name for name in mesh.names if name not in best.through]
    return look_at_new(solids.mesh(names) if best.through else mesh, best.view, new)


def _find_outlines(mesh: Mesh, best: Viewpoint) -> tuple[Segment, ...]:
    """Return the edges of pieces the eye goes through, as far as they would be seen anyway."""
    if not best.through:
        return ()
    seen = find_visible(mesh, best.view)
    return tuple(one for one in seen if mesh.names[one.owner] in best.through)
