"""A piece that cannot be moved in: the channels it goes into do not open that way (C402).

What shares a channel with pieces already joined must come out again by a straight move: off the
floor of the channel, or along it through an open end. Where each such way is barred at once, the
way in is barred as well; only what has to do with channels is thought to be in the way. Pieces of
one step go on one by one, in whatever order suits.
"""

from collections.abc import Mapping, Sequence

from manifold3d import Manifold

from generator.geometry.faces import channel_of
from generator.geometry.solids import build_solid
from generator.geometry.tolerance import CONTACT_AREA_MM2, SAME_PLANE_MM
from generator.geometry.vectors import Vec3, scale, subtract, unit
from generator.model.edition import StepSpec
from generator.model.joinery import Contact
from generator.model.parts import Part, Piece
from generator.model.plan import Plan
from generator.problems import Problem, make_problem

SHARED_MM3 = CONTACT_AREA_MM2 * SAME_PLANE_MM
"""Less than a contact patch one paper deep is friction."""

BEYOND_MM = 1.0
"""A piece is out of a channel when it has moved its depth and this much."""

LOOKS = 4
"""In how many places of that way is looked."""

Owners = Mapping[str, tuple[Part, Piece]]


def check_cannot_be_moved_in(plan: Plan) -> tuple[Problem, ...]:
    """Return a C402 for every piece or sub-assembly that its channels do not let in."""
    owners = {piece.name: (part, piece) for part in plan.parts.parts for piece in part.pieces}
    housed = [contact for contact in plan.joinery.contacts if _is_in_channel(contact)]
    names = {name for contact in housed for name in (contact.first, contact.second)}
    solids = {name: _solid(*owners[name]) for name in sorted(names)}
    groups: dict[str, tuple[str, ...]] = {}
    problems = []
    for spec in plan.edition.steps if housed else ():
        there = groups.get(spec.apart, ())
        joined = [groups.pop(name, ()) for name in spec.joins]
        for moved in (*joined, *((name,) for name in spec.pieces)):
            shared = [c for c in housed if _is_between(c, moved, there)]
            mine = [solids[name] for name in moved if name in solids]
            others = [solids[name] for name in there if name in solids]
            if shared and not _comes_out(owners, mine, others, shared):
                problems.append(_problem(spec, moved, there, shared))
        groups[spec.apart] = (*there, *(name for group in joined for name in group), *spec.pieces)
    return tuple(problems)


def _is_in_channel(contact: Contact) -> bool:
    return {channel_of(contact.first_side), channel_of(contact.second_side)} != {None}


def _is_between(contact: Contact, moved: Sequence[str], there: Sequence[str]) -> bool:
    pair = (contact.first, contact.second)
    return any(a in moved and b in there for a, b in (pair, pair[::-1]))


def _comes_out(
    owners: Owners, mine: Sequence[Manifold], others: Sequence[Manifold], shared: Sequence[Contact]
) -> bool:
    """Whether some straight move takes pieces out of all channels they share with others."""
    hosts = [_host(owners, contact) for contact in shared]
    reach = max(part.sunk_mm(side) for part, _, side in hosts) + BEYOND_MM
    ways = [contact.normal for contact in shared]
    ways += [_along(part, piece, side) for part, piece, side in hosts]
    return any(
        _is_free(mine, others, scale(way, sign * reach)) for way in ways for sign in (1.0, -1.0)
    )


def _host(owners: Owners, contact: Contact) -> tuple[Part, Piece, int]:
    """Return the piece a channel is cut into, with its part, and the side of it."""
    is_first = channel_of(contact.first_side) is not None
    name = contact.first if is_first else contact.second
    return (*owners[name], contact.first_side if is_first else contact.second_side)


def _along(part: Part, piece: Piece, side: int) -> Vec3:
    """Return the direction a channel runs in, in the room."""
    channel = channel_of(side)
    assert channel is not None
    (x0, y0), (x1, y1) = part.slab.channels[channel].outline.points[:2]
    return piece.frame.direction(unit(subtract((x1, y1, 0.0), (x0, y0, 0.0))))


def _is_free(mine: Sequence[Manifold], others: Sequence[Manifold], way: Vec3) -> bool:
    """Whether solids meet no others on a way, looked at in a few places."""
    for look in range(1, LOOKS + 1):
        moved = [solid.translate(scale(way, look / LOOKS)) for solid in mine]
        if any((one ^ other).volume() > SHARED_MM3 for one in moved for other in others):
            return False
    return True


def _solid(part: Part, piece: Piece) -> Manifold:
    return build_solid(part.slab.triangles(), piece.frame)


def _problem(
    spec: StepSpec, moved: Sequence[str], there: Sequence[str], shared: Sequence[Contact]
) -> Problem:
    holders = dict.fromkeys(
        name for contact in shared for name in (contact.first, contact.second) if name in there
    )
    names = " and ".join(f"`{name}`" for name in holders)
    return make_problem(
        "C402",
        spec.place,
        piece=moved[0],
        others=names,
        hint=f"fit it before the last of {names} goes on, or let a channel run out over an edge",
    )
