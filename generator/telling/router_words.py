"""What a reader must know before a router cuts the sheets laid for it, in sentences."""

from generator.model.plan import Plan
from generator.units import format_both


def router_sentences(plan: Plan) -> tuple[str, ...]:
    """Return what the router sheets hold and leave out; nothing where there are none."""
    cutting = plan.cutting
    if not cutting.router:
        return ()
    first, system = cutting.router[0], plan.edition.system
    bit = format_both(first.bit_mm, system)
    apart = "the bit" if first.apart_mm == first.bit_mm else format_both(first.apart_mm, system)
    sheets, sawn = len(cutting.router), len(cutting.layouts)
    count = "1 sheet" if sheets == 1 else f"{sheets} sheets"
    sentences = [
        f"The files in router/ hold the parts themselves on {count}, face A up, for a straight "
        f"bit of {bit} that runs outside the outlines: no two outlines, and no outline and the "
        f"border, are nearer than {apart}. They take the place of the sheet layouts above.",
    ]
    if sheets > sawn:
        sentences.append(
            f"That is {sheets - sawn} more than the saw needs: the bit takes more than the blade."
        )
    sentences.append(
        "They leave out bevels, channels, pockets, blind holes of joints and holes in edges; "
        "corners that turn inward keep the radius of the bit."
    )
    bevels = sorted({label for layout in cutting.router for label in layout.bevels})
    if bevels:
        sentences.append(f"Cut square at the long point, bevel afterwards: {', '.join(bevels)}.")
    if cutting.not_routed:
        sentences.append(
            "Not on router sheets, because they come from boards or leave no room for the bit: "
            f"{', '.join(cutting.not_routed)}."
        )
    sentences.append(
        "Tabs or hold-down, bit, feed, speed and depth are up to whoever runs the machine: follow "
        "its manual, keep clamps out of the bit's way, wear eye and hearing protection, and "
        "measure the sheet first."
    )
    return tuple(sentences)
