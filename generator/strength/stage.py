"""The strength of a plan: the sag of what carries something, and how the whole tips."""

from generator.model.edition import Edition
from generator.model.joinery import Joinery
from generator.model.parts import Parts
from generator.model.strength import Sag, Strength, Unjudged
from generator.strength.sag import judge_sag
from generator.strength.supports import find_patches, list_bodies
from generator.strength.tipping import find_steps, find_tipping


def work_out_strength(edition: Edition, parts: Parts, joinery: Joinery) -> Strength:
    """Return what can be said of loads; what hangs on a wall cannot tip."""
    bodies = list_bodies(parts)
    loads = {spec.name: spec.carries for spec in edition.pieces if spec.carries is not None}
    sags: dict[str, Sag] = {}
    unjudged: dict[str, Unjudged] = {}
    for name, load in loads.items():
        body = bodies[name]
        found = judge_sag(body, find_patches(body, bodies, joinery), load, parts.low[2])
        key = load.place.key
        if isinstance(found, Unjudged):
            unjudged.setdefault(key, found)
        elif found is not None and (key not in sags or _is_worse(found, sags[key])):
            sags[key] = found
    stands = _stands(edition)
    return Strength(
        stands=stands,
        sags=tuple(sags.values()),
        unjudged=tuple(unjudged.values()),
        tipping=None if stands == "hung" else find_tipping(parts, has_wall=stands == "fixed"),
        steps=find_steps(parts, bodies, loads) if stands == "freely" else (),
    )


def _stands(edition: Edition) -> str:
    """Return how it stands: what has an anchor for the wall is fixed there, said or not."""
    is_anchored = any(spec.is_anchor for spec in edition.hardware)
    stands = edition.story.stands
    return "fixed" if is_anchored and stands == "freely" else stands


def _is_worse(sag: Sag, other: Sag) -> bool:
    """Whether a sag is worse than another by more than the last digits of its numbers."""
    return round(sag.share, 6) > round(other.share, 6)
