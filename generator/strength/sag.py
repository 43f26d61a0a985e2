"""How far loaded pieces sag: each as a beam between what holds it, the better way round."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import isinf
from typing import Final

from generator.geometry.tolerance import SAME_POINT_MM
from generator.model.strength import Ends, Load, Sag, Unjudged
from generator.strength.beams import CREEP, LoadShape, deflect, deflect_overhang, stiffen
from generator.strength.supports import (
    COVER_SHARE,
    UPRIGHT,
    Body,
    Patch,
    Span,
    Support,
    find_strips,
    find_supports,
)
from generator.units import GRAVITY_N_KG

STUBBY: Final = 3.0
"""An end that stands out no further than this, in thicknesses, does not bend; our judgement."""

FIRM: Final = 1e6
"""As many times stiffer than the board is what hardly bends beside it."""


@dataclass(frozen=True, slots=True)
class _Stretch:
    """A stretch of a piece that bends.

    Attributes:
        strips: Name, place across and stiffness of what is fixed along it.
        behind_mm: Of an end that stands out, the span behind its support.
    """

    span: Span
    ends: Ends
    strips: tuple[tuple[str, float, float], ...]
    behind_mm: float = 0.0


def judge_sag(
    body: Body, patches: tuple[Patch, ...], load: Load, floor_mm: float
) -> Sag | Unjudged | None:
    """Return how far a loaded piece sags, or why that cannot be said; None where all of it lies.

    Where it is held in both ways, such as by a frame under all four sides, the way counts in which
    it sags less. One support alone holds it only where there is no way with two.
    """
    up = body.up_axis
    if up == 0:
        return _unjudged(body, load, "its length stands upright")
    if abs((body.piece.frame.x, body.piece.frame.y, body.piece.frame.z)[up][2]) < UPRIGHT:
        return _unjudged(body, load, "it lies too steep")
    ways = (0, 1) if up == 2 else (0,)
    supports = {along: find_supports(body, patches, along, floor_mm) for along in ways}
    most = max(min(len(found), 2) for found in supports.values())
    if most == 0:
        why = "nothing that it lies on or is fixed to holds it up"
        return None if _lies_flat(body, patches) else _unjudged(body, load, why)
    found = [
        list(_sags_along(body, patches, load, along, spots, floor_mm))
        for along, spots in supports.items()
        if min(len(spots), 2) == most
    ]
    worst = [max(sags, key=lambda sag: round(sag.share, 6)) for sags in found if sags]
    return min(worst, key=lambda sag: round(sag.share, 6), default=None)


def _lies_flat(body: Body, patches: tuple[Patch, ...]) -> bool:
    """Whether another piece is under nearly all of it."""
    return any(
        patch.up < -UPRIGHT
        and all(patch.size(axis) >= COVER_SHARE * body.sizes[axis] for axis in (0, 1))
        for patch in patches
    )


def _unjudged(body: Body, load: Load, why: str) -> Unjudged:
    return Unjudged(piece=body.piece.name, why=why, place=load.place)


def _sags_along(
    body: Body,
    patches: tuple[Patch, ...],
    load: Load,
    along: int,
    supports: tuple[Support, ...],
    floor_mm: float,
) -> Iterator[Sag]:
    gap = max(one.gap_mm for one in supports)
    across = _bend_across(body, load, 1 - along, gap) if body.up_axis == 2 else 0.0
    spans = [(one.span[1], other.span[0]) for one, other in pairwise(supports)]
    for span in spans:
        strips = () if load.on_spot else find_strips(body, patches, along, span, floor_mm)
        yield _sag(body, load, along, _Stretch(span, "both ends", strips), across)
    first = spans[0][1] - spans[0][0] if spans else 0.0
    last = spans[-1][1] - spans[-1][0] if spans else 0.0
    for over, behind in (
        ((0.0, supports[0].span[0]), first),
        ((supports[-1].span[1], body.sizes[along]), last),
    ):
        if over[1] - over[0] > STUBBY * body.part.thickness_mm:
            yield _sag(body, load, along, _Stretch(over, "one end", (), behind), across)


def _sag(body: Body, load: Load, along: int, stretch: _Stretch, across_mm: float) -> Sag:
    size = max(stretch.span[1] - stretch.span[0], SAME_POINT_MM)
    share = size / body.sizes[along]
    plain = body.stiffness(along)
    sides = [(at, plain * FIRM if isinf(strip) else strip) for _, at, strip in stretch.strips]
    stiffness = stiffen(plain, sides)
    own, laid = body.part.mass_kg * share, _laid_kg(body, load)
    laid = laid if load.on_spot else laid * share

    def bend(shape: LoadShape, kilograms: float) -> float:
        newtons = kilograms * GRAVITY_N_KG
        if stretch.ends == "both ends":
            return deflect(shape, "simple", newtons, size, stiffness)
        return deflect_overhang(shape, newtons, size, stretch.behind_mm, stiffness)

    free = 2 * size if stretch.ends == "one end" else size
    return Sag(
        piece=body.piece.name,
        load=load,
        load_kg=laid + own,
        ends=stretch.ends,
        span_mm=size,
        thickness_mm=body.sizes[body.up_axis],
        sag_mm=_bend_both(load, bend, laid, own) + across_mm,
        allowed_mm=float(load.most_sag) * free,
        strips=tuple(name for name, _, _ in stretch.strips) if stiffness > plain else (),
    )


def _bend_across(body: Body, load: Load, across: int, gap_mm: float) -> float:
    """Return how far a board goes down between two spots that carry it side by side."""
    share = gap_mm / body.sizes[across]
    stiffness = body.stiffness(across)
    laid = _laid_kg(body, load) * (1.0 if load.on_spot else share)

    def bend(shape: LoadShape, kilograms: float) -> float:
        return deflect(shape, "simple", kilograms * GRAVITY_N_KG, gap_mm, stiffness)

    return _bend_both(load, bend, laid, body.part.mass_kg * share)


def _bend_both(
    load: Load, bend: Callable[[LoadShape, float], float], laid_kg: float, own_kg: float
) -> float:
    """Return the sag under a load and the weight of the wood; what stays bends it further."""
    if load.on_spot:
        return bend("spot", laid_kg) + CREEP * bend("spread", own_kg)
    return CREEP * bend("spread", laid_kg + own_kg)


def _laid_kg(body: Body, load: Load) -> float:
    """Return what the whole piece carries."""
    length, width = body.part.length_mm / 1000, body.part.width_mm / 1000
    return load.mass_kg * {"": 1.0, "m": length, "sq m": length * width}[load.per]
