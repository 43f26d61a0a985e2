"""Lengths, angles, masses and numbers: the one place where an inch is 25.4 mm, and how they print.

Source: 1 in = 25.4 mm and 1 lb = 0.45359237 kg exactly, international yard and pound agreement,
1 July 1959.

How a length is printed is common practice, no source: imperial to the nearest 1/16 in, to 1/32 in
where that misses, and where 1/32 in misses too the word "full" (a hair more) or "bare" (a hair
less); metric to the millimetre, or to a tenth where that misses.
"""

import math
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import Literal, cast

System = Literal["imperial", "metric"]
SYSTEMS: tuple[System, ...] = ("imperial", "metric")
Kind = Literal["length", "angle", "mass", "number", "truth"]

MM_PER_INCH = Fraction(254, 10)
KG_PER_POUND = Fraction(45359237, 100000000)
GRAVITY_N_KG = 9.80665
"""Newtons on a kilogram: standard gravity, exact since 1901."""
FULL, BARE = "full", "bare"
SHOWN_EXACT_MM = 0.1
"""A printed size this near to the true one counts as exact: a pencil line is wider."""
FLOAT_NOISE_MM = 1e-6
"""So that a length of exactly a tenth is never judged by the last bit of a float."""
SIZES_KEPT = 4096
"""So many printed sizes are remembered: drawings, tables and sentences tell the same ones."""


@dataclass(frozen=True, slots=True)
class Quantity:
    """A value with its kind: mm, degrees or kg, plain numbers, truth as 0 or 1.

    Values stay exact fractions until a function such as ``sin`` makes them floats.
    """

    kind: Kind
    value: Fraction | float

    def __float__(self) -> float:
        return float(self.value)


TAPE_STEP_MM: dict[System, float] = {"imperial": float(MM_PER_INCH / 16), "metric": 1.0}
"""The marks of a tape measure that are quickly found: 1/16 in, 1 mm. Common practice, no source."""

UNITS: dict[str, tuple[Kind, Fraction]] = {
    "mm": ("length", Fraction(1)),
    "cm": ("length", Fraction(10)),
    "m": ("length", Fraction(1000)),
    "in": ("length", MM_PER_INCH),
    "ft": ("length", 12 * MM_PER_INCH),
    "deg": ("angle", Fraction(1)),
    "kg": ("mass", Fraction(1)),
    "lb": ("mass", KG_PER_POUND),
}
"""Unit word → its kind and how many mm, degrees or kg it is."""


SQUARE_FOOT_MM2 = (12 * MM_PER_INCH) ** 2
QUART_MM3 = Fraction(231, 4) * MM_PER_INCH**3
"""A US liquid quart is a quarter of a gallon of 231 cubic inches (NIST HB 44 App. C): 0.946352946 L
exactly."""
AREA_UNITS: dict[str, Fraction] = {"m2": Fraction(1_000_000), "sq ft": SQUARE_FOOT_MM2}
VOLUME_UNITS: dict[str, Fraction] = {
    "litre": Fraction(1_000_000),
    "quart": QUART_MM3,
    "gallon": 4 * QUART_MM3,
}
"""Unit word → how many mm² or mm³ it is, for what a can covers."""


CARRIED_PER_MM = 1000
"""Carried values are whole thousandths of a millimetre, as in files. Finer ones would part what
float noise alone keeps apart: 1/32 in ends in half a ten-thousandth."""
CARRY_SIGNS = ("\ue000", "\ue001", "\ue002")
"""Before the kind and value, before the text, and after it: signs of Unicode's private area."""


class CarryingSystem(str):
    """A system of which every printed size carries its value, so that texts can be followed.

    It is equal to the system it is made of, so all stages decide alike; only what prints a size
    sees the difference. ``13 23/32 full`` becomes the sign U+E000, ``s348761``, U+E001, the text,
    U+E002: s for a size alone, l for one with its unit, k for what no straight line tells.
    """

    __slots__ = ()


def carrying(system: System) -> System:
    """Return a system in which printed sizes carry their values."""
    return cast("System", CarryingSystem(system))


def inches(value_mm: float) -> float:
    """Return a length in inches."""
    return value_mm / float(MM_PER_INCH)


def format_length(value_mm: float, system: System) -> str:
    """Return a length with its unit: ``34 1/2 in``, ``13 23/32 in full`` or ``876 mm``."""
    return _carry("l", value_mm, _with_unit(_size_text(value_mm, system), system), system)


def format_size(value_mm: float, system: System) -> str:
    """Return a length as a tape measure shows it, without its unit: ``34 1/2`` or ``876``."""
    return _carry("s", value_mm, _size_text(value_mm, system), system)


def shown_mm(value_mm: float, system: System) -> float:
    """Return the length that `format_size` prints, in mm; "full" and "bare" are left aside."""
    if system == "metric":
        return float(_format_metric(value_mm))
    sign = -1 if value_mm < 0 else 1
    return sign * float(_nearest_inches(abs(value_mm))[0] * MM_PER_INCH)


def read_mm(value_mm: float, system: System) -> float:
    """Return the length a reader cuts who reads what `format_size` prints, in mm.

    "Full" and "bare" tell of at most half the step of the tape: halfway there is read, 1/128 in.
    """
    shown = shown_mm(value_mm, system)
    if system == "metric" or _counts_as_exact(value_mm - shown):
        return shown
    return shown + math.copysign(float(MM_PER_INCH / 128), value_mm - shown)


def format_remainder(value_mm: float, system: System) -> str:
    """Return a small length in full: ``0.043 in (1.10 mm)`` or ``1.10 mm``."""
    metric = f"{value_mm:.2f} mm"
    return metric if system == "metric" else f"{inches(value_mm):.3f} in ({metric})"


def format_both(value_mm: float, system: System) -> str:
    """Return a length for a message: ``1/16 in (1.6 mm)`` or ``1.6 mm``."""
    metric = f"{_trim(f'{value_mm:.1f}')} mm"
    if system == "metric":
        return metric
    return f"{format_length(value_mm, 'imperial')} ({metric})"


def format_angle(value_deg: float) -> str:
    """Return an angle to a tenth of a degree: ``12°`` or ``14.5°``."""
    return f"{_trim(f'{value_deg:.1f}')}°"


def format_quantity(quantity: Quantity, system: System) -> str:
    """Return a value with its unit: ``34 1/2 in``, ``876 mm``, ``12°``, ``3``, ``yes``."""
    value = float(quantity)
    if quantity.kind == "length":
        return format_length(value, system)
    if quantity.kind == "angle":
        return format_angle(value)
    if quantity.kind == "mass":
        return format_mass(value, system)
    if quantity.kind == "truth":
        return "yes" if value else "no"
    return _trim(f"{value:.4f}")


def format_area(value_mm2: float, system: System) -> str:
    """Return an area: ``2.4 m²`` or ``26 sq ft``."""
    if system == "metric":
        text = f"{value_mm2 / 1e6:.2f}".rstrip("0").rstrip(".") + " m²"
    else:
        text = f"{_trim(f'{value_mm2 / float(SQUARE_FOOT_MM2):.1f}')} sq ft"
    return _carry("k", value_mm2, text, system)


def format_coverage(coverage_per_mm: float, system: System) -> str:
    """Return what a finish covers: ``10 m² per litre`` or ``100 sq ft per quart``."""
    if system == "metric":
        return f"{_trim(f'{coverage_per_mm:.1f}')} m² per litre"
    return f"{coverage_per_mm * float(QUART_MM3 / SQUARE_FOOT_MM2):.0f} sq ft per quart"


def liquid_amount(value_mm3: float, system: System) -> tuple[float, str]:
    """Return an amount to buy and its unit, rounded up to a tenth of a litre or of a quart."""
    unit_mm3 = 1e6 if system == "metric" else float(QUART_MM3)
    tenths = math.ceil(value_mm3 / unit_mm3 * 10 - FLOAT_NOISE_MM)
    word = "litre" if system == "metric" else "quart"
    return tenths / 10, word if tenths == 10 else f"{word}s"


def glue_amount(value_mm3: float, system: System) -> tuple[float, str]:
    """Return an amount of glue and its unit, rounded up to 10 ml or to half a fluid ounce.

    Source: 32 US fluid ounces are a quart, NIST HB 44 App. C.
    """
    if system == "metric":
        return 10.0 * math.ceil(value_mm3 / 1e4 - FLOAT_NOISE_MM), "ml"
    halves = math.ceil(value_mm3 / float(QUART_MM3) * 64 - FLOAT_NOISE_MM)
    return halves / 2, "fl oz"


def tape_amount(value_mm: float, system: System) -> tuple[float, str]:
    """Return a length as tape is sold, and its unit: metres or feet."""
    if system == "metric":
        return value_mm / 1000, "m"
    return inches(value_mm) / 12, "ft"


def round_up_length(value_mm: float, system: System) -> float:
    """Return a length rounded up to half a metre or to a foot, in mm."""
    step_mm = 500.0 if system == "metric" else 12 * float(MM_PER_INCH)
    return step_mm * math.ceil(value_mm / step_mm - FLOAT_NOISE_MM)


def format_money(amount: float, currency: str) -> str:
    """Return an amount with its currency: ``149.00 euros``."""
    return f"{amount:.2f} {currency}".rstrip()


def format_mass(value_kg: float, system: System) -> str:
    """Return a mass to a tenth: ``12.4 lb``, ``5.6 kg`` or ``14 kg``."""
    if system == "metric":
        text = f"{_trim(f'{value_kg:.1f}')} kg"
    else:
        text = f"{_trim(f'{value_kg / float(KG_PER_POUND):.1f}')} lb"
    return _carry("k", value_kg, text, system)


def format_force(value_n: float, system: System) -> str:
    """Return a force: ``9.3 lbf`` or ``41 N``."""
    if system == "metric":
        return f"{value_n:.0f} N"
    return f"{value_n / (float(KG_PER_POUND) * GRAVITY_N_KG):.1f} lbf"


def format_fraction(value: Fraction) -> str:
    """Return inches as a mixed fraction in lowest terms: ``12``, ``3/4``, ``34 1/2``."""
    sign = "-" if value < 0 else ""
    whole, rest = divmod(abs(value), 1)
    if rest == 0:
        return f"{sign}{whole}"
    fraction = f"{rest.numerator}/{rest.denominator}"
    return f"{sign}{whole} {fraction}" if whole else f"{sign}{fraction}"


def _carry(kind: str, value: float, text: str, system: System) -> str:
    """Return a text with its value before it, where the system asks for that."""
    if not isinstance(system, CarryingSystem):
        return text
    begin, middle, end = CARRY_SIGNS
    return f"{begin}{kind}{round(value * CARRIED_PER_MM)}{middle}{text}{end}"


def _with_unit(size: str, system: System) -> str:
    if system == "metric":
        return f"{size} mm"
    mark, space, word = size.rpartition(" ")
    return f"{mark} in {word}" if word in {FULL, BARE} else f"{mark}{space}{word} in"


@lru_cache(maxsize=SIZES_KEPT)
def _size_text(value_mm: float, system: System) -> str:
    return _format_metric(value_mm) if system == "metric" else _format_inches(value_mm)


def _format_metric(value_mm: float) -> str:
    whole = round(value_mm)
    if abs(whole - value_mm) < SHOWN_EXACT_MM - FLOAT_NOISE_MM:
        return str(whole)
    return _trim(f"{value_mm + math.copysign(FLOAT_NOISE_MM, value_mm):.1f}")


def _format_inches(value_mm: float) -> str:
    nearest, error_mm = _nearest_inches(abs(value_mm))
    sign = "-" if value_mm < 0 and nearest else ""
    text = sign + format_fraction(nearest)
    if _counts_as_exact(error_mm):
        return text
    if nearest == 0:
        return f"{inches(value_mm):.3f}"
    return f"{text} {FULL if error_mm > 0 else BARE}"


def _nearest_inches(value_mm: float) -> tuple[Fraction, float]:
    """Return the mark on the tape and how much the true length is over it, in mm.

    Args:
        value_mm: 0 or more, so that "full" is always longer than the mark. Half-way between two
            marks it is the upper one, whatever the last bit of the float says: the same place is
            told alike on two parts.
    """
    for step in (16, 32):
        half_up = math.floor((value_mm + FLOAT_NOISE_MM) / float(MM_PER_INCH) * step + 0.5)
        mark = Fraction(half_up, step)
        error_mm = value_mm - float(mark * MM_PER_INCH)
        if _counts_as_exact(error_mm):
            break
    return mark, error_mm


def _counts_as_exact(error_mm: float) -> bool:
    return abs(error_mm) <= SHOWN_EXACT_MM + FLOAT_NOISE_MM


def _trim(text: str) -> str:
    trimmed = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if trimmed in {"", "-0"} else trimmed
