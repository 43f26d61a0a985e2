"""What a part carries: ``25 lb per ft``, ``80 kg on one spot``, once or for each edition."""

import re
from fractions import Fraction
from typing import Final

from generator.design.phrases import parse_part_formula
from generator.model.strength import LoadSource, Per
from generator.problems import ProblemLog
from generator.units import SYSTEMS, UNITS
from generator.yaml_source.getters import MappingReader, find_word
from generator.yaml_source.nodes import Entries, Node

Loads = tuple[LoadSource | None, LoadSource | None]
"""In the imperial and in the metric edition."""

NO_LOADS: Final[Loads] = (None, None)

LOAD_PATTERN: Final = r"\b(kg|lb)\b.*$|^[^ ]+( per (sq )?(ft|m)| on one spot)?$"
"""What an editor may expect; the reader is stricter."""

_LOAD: Final = re.compile(
    r"(?P<mass>.+?)(?: +per +(?P<square>sq +)?(?P<unit>ft|m)|(?P<spot> +on +one +spot))?\s*"
)


def find_loads(reader: MappingReader, log: ProblemLog) -> Loads:
    """Return what stands under ``carries``; nothing where it is absent or at fault."""
    node = reader.node("carries")
    if node is None:
        return NO_LOADS
    if isinstance(node, Entries):
        inner = MappingReader(node, log)
        found = [inner.required(system) for system in SYSTEMS]
        inner.finish()
        loads = [None if one is None else _read_load(one, log) for one in found]
        return (loads[0], loads[1])
    load = _read_load(node, log)
    return (load, load)


def _read_load(node: Node, log: ProblemLog) -> LoadSource | None:
    word = find_word(node, log, "a load")
    found = None if word is None else _LOAD.fullmatch(word.text)
    if word is None or found is None:
        return None
    mass = parse_part_formula(word, found.start("mass"), found.end("mass"), log)
    if mass is None:
        return None
    per: Per = ""
    unit_mm = Fraction(1)
    if found["unit"]:
        per = "sq m" if found["square"] else "m"
        unit_mm = UNITS[found["unit"]][1]
    return LoadSource(
        mass=mass, per=per, unit_mm=unit_mm, on_spot=found["spot"] is not None, place=word.place
    )
