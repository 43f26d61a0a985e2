"""What is worked out of loads, for programs: sags, what tips the piece, and loads on one spot."""

from typing import Any

from generator.model.parts import Parts
from generator.model.strength import Load, Strength
from generator.outputs.rounding import deg, mm

Json = dict[str, Any]


def strength_to_dict(strength: Strength, parts: Parts) -> Json:
    """Return all figures of strength in the order of the schema."""
    tipping = strength.tipping
    return {
        "sags": [
            {
                "piece": one.piece,
                "load": _load(one.load),
                "load_kg": mm(one.load_kg),
                "held_at": one.ends,
                "span_mm": mm(one.span_mm),
                "sag_mm": mm(one.sag_mm),
                "allowed_mm": mm(one.allowed_mm),
                "stiffened_by": list(one.strips),
            }
            for one in strength.sags
        ],
        "tipping": None
        if tipping is None
        else {
            "to": tipping.way,
            "behind_mm": mm(tipping.inside_mm),
            "push_n": mm(tipping.push_n),
            "push_at_mm": mm(tipping.push_at_mm),
            "tilt_deg": deg(tipping.tilt_deg),
            "mass_kg": mm(parts.mass_kg),
        },
        "steps": [
            {
                "piece": one.piece,
                "load": _load(one.load),
                "to": one.way,
                "beyond_mm": mm(one.beyond_mm),
                "most_mm": mm(one.needed_mm),
            }
            for one in strength.steps
        ],
    }


def _load(load: Load) -> Json:
    return {"kg": mm(load.mass_kg), "per": load.per, "on_one_spot": load.on_spot}
