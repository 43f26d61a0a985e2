"""Hardware and the screws that hold it, as rows of the shopping list."""

from generator.model.hardware import HardwareSpec
from generator.model.plan import ShoppingItem
from generator.model.words import plain_words


def list_hardware(hardware: tuple[HardwareSpec, ...]) -> list[ShoppingItem]:
    """Return a row for everything that is fitted, each with a row for its screws."""
    return [item for spec in hardware for item in _rows(spec)]


def _rows(spec: HardwareSpec) -> list[ShoppingItem]:
    rows = [
        ShoppingItem(
            item=spec.item,
            quantity=float(spec.count),
            unit="piece" if spec.count == 1 else "pieces",
            note=spec.note,
        )
    ]
    if spec.screw:
        rows.append(
            ShoppingItem(
                item=spec.screw,
                quantity=float(spec.count * spec.screws),
                unit="pieces",
                note=f"for the {plain_words(spec.name)}: {spec.screws} for each",
            )
        )
    return rows
