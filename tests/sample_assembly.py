"""The two steps of the sample plan and the layout lines they need."""

from collections.abc import Iterable

from generator.geometry.vectors import Vec2
from generator.model.assembly import Assembly, Mark, Step
from generator.model.joinery import Joinery
from generator.model.parts import Parts
from tests.sample_sizes import Sizes


def sample_assembly(parts: Parts, joinery: Joinery, sizes: Sizes) -> Assembly:
    """Return: bottom to both sides, then the leaning shelf."""
    sides = ("side.left", "side.right")
    first = Step(
        order=1,
        title="Join the bottom to both sides",
        pieces=("bottom", *sides),
        present=(),
        fasteners=("S1", "S2", "S3", "S4"),
        glued=(("bottom", "side.left"), ("bottom", "side.right")),
        apart="",
        joins=(),
        says="Stand the sides upside down, spread glue on the ends of the bottom, and drive the "
        "pocket screws from **below**.",
        cautions=("Clamp the bottom before driving: pocket screws pull it sideways.",),
        marks=tuple(_marks(parts, joinery, "bottom", sizes.bottom_up)),
    )
    second = Step(
        order=2,
        title="Fit the leaning shelf",
        pieces=("shelf",),
        present=("bottom", *sides),
        fasteners=("S5", "S6", "S7", "S8"),
        glued=(("shelf", "side.left"), ("shelf", "side.right")),
        apart="",
        joins=(),
        says="Hold the shelf on its lines and drive the face screws from outside.",
        cautions=(),
        marks=tuple(_marks(parts, joinery, "shelf", sizes.shelf_up)),
    )
    return Assembly(steps=(first, second))


def _marks(parts: Parts, joinery: Joinery, mate: str, up: float) -> Iterable[Mark]:
    pieces = {piece.name: piece for piece in parts.pieces()}
    for contact in joinery.contacts:
        if contact.first == mate:
            side = pieces[contact.second]
            points: list[Vec2] = []
            for point in contact.outline:
                x, y, _ = side.frame.to_local(point)
                points.append((x, y))
            heights = [x for x, _ in points]
            yield Mark(
                label=side.label,
                copies=(side.name,),
                side=contact.second_side,
                mate=pieces[mate].label,
                outline=tuple(points),
                edge="bottom",
                from_mm=min(heights) if mate == "shelf" else up,
                to_mm=max(heights),
            )
