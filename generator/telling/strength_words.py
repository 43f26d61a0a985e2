"""What a piece carries and how it stands, in sentences with figures and what they leave out."""

from generator.model.plan import Plan
from generator.model.strength import Sag, Step, Tipping
from generator.model.words import load_words, plain_words
from generator.units import (
    System,
    format_angle,
    format_force,
    format_length,
    format_mass,
    inches,
)

HOW_SAG_IS_FOUND = (
    "A part that carries something counts as a beam that lies loosely on what holds it (Wood "
    "Handbook, FPL-GTR-190, table 9-1), its own weight included. What stays on it bends it half as "
    "far again over the years (NDS 3.5.2)."
)
HOW_STRIPS_COUNT = (
    "A strip along one side of it counts by its own stiffness where a strip or a back is along the "
    "other side too; that glue makes one beam of them is not counted."
)
SEEN_MM = 0.4
"""1/64 in: nobody sees that a shelf sags by less."""
NO_LOAD = (
    "The maker names no load, so how far parts sag under what is laid on them was not worked out."
)
ON_A_WALL = "What your wall and its anchors hold was not worked out."
NO_CERTIFICATE = (
    "Whoever climbs on it, or pulls at it, pushes harder than that, and what is put on it moves "
    "its weight. These are figures to judge by, not a certificate of strength or stability."
)


def strength_sentences(plan: Plan) -> tuple[str, ...]:
    """Return what the loads of a plan do to it, and what tips it."""
    strength = plan.strength
    sentences = [_sag(plan, sag) for sag in strength.sags]
    sentences.append(HOW_SAG_IS_FOUND if sentences else NO_LOAD)
    sentences += [HOW_STRIPS_COUNT] if any(sag.strips for sag in strength.sags) else []
    sentences += [_step(plan, step) for step in strength.steps if step.is_safe]
    return (*sentences, _standing(plan))


def _standing(plan: Plan) -> str:
    """Return what tips a piece, or what it must be fixed to."""
    tipping, stands = plan.strength.tipping, plan.strength.stands
    if tipping is None:
        return f"It hangs on a wall. {ON_A_WALL}"
    weighs = format_mass(plan.parts.mass_kg, plan.edition.system)
    if stands == "freely":
        return (
            f"Empty it weighs {weighs}. {_tipping(tipping, plan.edition.system)} {NO_CERTIFICATE}"
        )
    tips = _tipping(tipping, plan.edition.system)
    return (
        "It is meant to be fixed to a wall, and not to be loaded before. Until then nothing but "
        f"its weight, {weighs}, holds it. {tips} {ON_A_WALL} {NO_CERTIFICATE}"
    )


def _tipping(tipping: Tipping, system: System) -> str:
    if tipping.inside_mm <= 0:
        return f"It falls to the {tipping.way} by itself."
    top = format_length(tipping.push_at_mm, system)
    return (
        f"A level push of {format_force(tipping.push_n, system)} at its top, {top} up, tips it to "
        f"the {tipping.way}, and so does a floor that slopes that way by "
        f"{format_angle(tipping.tilt_deg)}."
    )


def _sag(plan: Plan, sag: Sag) -> str:
    system = plan.edition.system
    years = "" if sag.load.on_spot else ", after years"
    span = format_length(sag.span_mm, system)
    where = "between its supports" if sag.ends == "both ends" else "out over its last support"
    free = "the span" if sag.ends == "both ends" else "twice that"
    strips = " and ".join(plain_words(name) for name in sag.strips)
    with_strips = f"stiffened by {strips}, " if strips else ""
    less = "less than " if sag.sag_mm < SEEN_MM else ""
    return (
        f"{_titled(plan, sag.piece)}: under {load_words(sag.load, system)}, {span} "
        f"{where}, {with_strips}it sags by {less}{_sag_words(sag.sag_mm, system)}{years}. Allowed "
        f"is {_sag_words(sag.allowed_mm, system)}, {sag.load.most_sag} of {free}."
    )


def _sag_words(size_mm: float, system: System) -> str:
    """Return a sag: in inches to the hundredth, for no tape shows what it is."""
    if system == "metric":
        return f"{max(size_mm, SEEN_MM):.1f} mm"
    return f"{inches(max(size_mm, SEEN_MM)):.2f} in"


def _step(plan: Plan, step: Step) -> str:
    load = load_words(step.load, plan.edition.system)
    return (
        f"{_titled(plan, step.piece)}: {load}, half the width of a foot inside any edge of it, "
        "do not tip the piece."
    )


def _titled(plan: Plan, piece: str) -> str:
    """Return what a piece is called, with the label of its part: ``Fixed shelf (B)``."""
    label = next(one.label for one in plan.parts.pieces() if one.name == piece)
    title = next(spec.title for spec in plan.edition.pieces if spec.name == piece)
    return f"{title} ({label})"
