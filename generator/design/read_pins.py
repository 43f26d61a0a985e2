"""Rows of blind holes for shelf pins: ``pins``."""

from generator.design.phrases import WAYS
from generator.design.read_work import Ways, parse_edge_name, read_distances, work_readers
from generator.design.values import find_formula, read_formula
from generator.formula.tree import Formula
from generator.model.edition import OPPOSITE, Direction
from generator.model.pin_rows import PinSource
from generator.problems import ProblemLog
from generator.yaml_source.getters import MappingReader

SIDES_OF_THE_WHOLE = ("inside", "outside")
"""Faces by where they look: towards the middle of the piece of furniture, or away from it."""

Faces = tuple[Direction, ...]


def read_pins(
    reader: MappingReader, ways: Ways, faces: Faces, log: ProblemLog
) -> tuple[PinSource, ...]:
    """Return the rows of pin holes of a part.

    Args:
        reader: Of the part.
        ways: The sides of the part that are edges.
        faces: The two that are faces; none where the runs are at fault.
        log: Takes the problems.
    """
    found = [_read_row(one, ways, faces, log) for one in work_readers(reader, "pins", log)]
    return tuple(row for row in found if row is not None)


def _read_row(reader: MappingReader, ways: Ways, faces: Faces, log: ProblemLog) -> PinSource | None:
    sizes = [_required_formula(reader, key, log) for key in ("hole", "deep", "pitch")]
    face = _read_face(reader, faces, log)
    word = reader.required_word("along")
    along = None if word is None else parse_edge_name(word, ways, log)
    distances = read_distances(reader, ways, log)
    count, leave = (find_formula(reader, key, log) for key in ("count", "leave"))
    when = find_formula(reader, "when", log)
    known = len(log.problems)
    reader.finish()
    if count is not None and leave is not None:
        log.add("D119", reader.place_of("leave"), first="count", second="leave")
    if len(log.problems) > known:
        return None
    if len(distances) != 2 or distances[0][0] in {distances[1][0], OPPOSITE[distances[1][0]]}:
        hint = "measure the first hole from two edges that meet: "
        hint += f"`from {ways[1]}: …, from {ways[3]}: …`"
        log.add("D105", reader.place, key=f"from {ways[1]}", hint=hint)
        return None
    hole, deep, pitch = sizes
    if hole is None or deep is None or pitch is None or not face or along is None:
        return None
    return PinSource(
        hole=hole,
        deep=deep,
        pitch=pitch,
        face=face,
        along=along,
        count=count,
        leave=leave,
        distances=(distances[0], distances[1]),
        place=reader.place,
        when=when,
    )


def _required_formula(reader: MappingReader, key: str, log: ProblemLog) -> Formula | None:
    node = reader.required(key)
    return None if node is None else read_formula(node, log)


def _read_face(reader: MappingReader, faces: Faces, log: ProblemLog) -> str:
    """Return the face the holes are bored in; D202 where the part has no such face."""
    word = reader.required_word("in")
    if word is None:
        return ""
    text = word.text.strip()
    if text in SIDES_OF_THE_WHOLE:
        return text
    if not faces or WAYS.get(text) in faces:
        return str(WAYS.get(text, ""))
    hint = f"the faces of this part are {' and '.join(faces)}; `inside` and `outside` do as well"
    log.add("D202", word.place, kind="face", name=text, hint=hint)
    return ""
