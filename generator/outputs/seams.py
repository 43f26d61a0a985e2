"""Lines on the pieces of a step: where glue is spread, and what lies behind a face to be screwed.

| : |      A screw through a face has to meet the piece behind it: the outline of
| : |      the contact stands on the face, as one draws it there with a pencil.
"""

from collections.abc import Iterable, Sequence
from typing import Final

from generator.geometry.vectors import Vec3, add, cross, distance, dot, scale, subtract, unit
from generator.model.assembly import Step
from generator.model.joinery import Contact, Socket
from generator.model.plan import Plan
from generator.outputs.driven import Driven

Line = tuple[Vec3, Vec3]

ROD_MM: Final = 10.0
"""Glue in the hole of a rod is drawn so far to either side of its middle."""

SQUARE_ON: Final = 0.99
"""Cosine: a screw that leans more from the normal of a contact crosses a corner."""


def glue_lines(plan: Plan, step: Step) -> list[Line]:
    """Return the outlines of the contacts that are glued in a step."""
    pairs = {frozenset(pair) for pair in step.glued}
    return [
        line
        for contact in plan.joinery.contacts
        if frozenset((contact.first, contact.second)) in pairs
        for line in _sides(contact.outline)
    ]


def glue_beads(plan: Plan, step: Step) -> list[Line]:
    """Return a line along the middle of every contact that is glued in a step."""
    pairs = {frozenset(pair) for pair in step.glued}
    return [
        *(
            _middle_line(contact)
            for contact in plan.joinery.contacts
            if frozenset((contact.first, contact.second)) in pairs
        ),
        *(
            _along(socket)
            for socket in plan.joinery.sockets
            if frozenset((socket.first, socket.second)) in pairs
        ),
    ]


def lines_behind(plan: Plan, step: Step, driven: Sequence[Driven]) -> list[Line]:
    """Return the outlines of pieces behind the faces that screws go into straight from outside."""
    wanted = frozenset(step.fasteners)
    screws = [one for one in plan.joinery.fasteners if one.id in wanted]
    found: dict[int, list[Line]] = {}
    for screw, one in zip(screws, driven, strict=True):
        if one.is_inside or screw.goods.kind == "pocket screw" or len(screw.through) < 2:
            continue
        for number, contact in enumerate(plan.joinery.contacts):
            pair = {contact.first, contact.second}
            is_straight = abs(dot(contact.normal, one.way)) > SQUARE_ON
            if pair == set(screw.through[:2]) and is_straight and number not in found:
                found[number] = list(_sides(_on_face(contact, one)))
    return [line for lines in found.values() for line in lines]


def _along(socket: Socket) -> Line:
    """Return a line along a rod where it stands in its hole."""
    reach = scale(socket.normal, ROD_MM)
    return subtract(socket.center, reach), add(socket.center, reach)


def _middle_line(contact: Contact) -> Line:
    """Return the line through a contact along its longest side, halfway across."""
    start, end = max(_sides(contact.outline), key=lambda side: round(distance(*side), 1))
    along = unit(subtract(end, start))
    across = cross(contact.normal, along)
    away = [subtract(point, start) for point in contact.outline]
    far = [dot(one, along) for one in away]
    wide = [dot(one, across) for one in away]
    middle = add(start, scale(across, (min(wide) + max(wide)) / 2))
    return add(middle, scale(along, min(far))), add(middle, scale(along, max(far)))


def _on_face(contact: Contact, one: Driven) -> list[Vec3]:
    """Return the outline of a contact, moved square onto the face a screw goes into."""
    rise = dot(subtract(one.at, contact.outline[0]), contact.normal)
    step = scale(contact.normal, rise)
    return [add(point, step) for point in contact.outline]


def _sides(outline: Sequence[Vec3]) -> Iterable[Line]:
    return zip(outline, (*outline[1:], outline[0]), strict=True)
