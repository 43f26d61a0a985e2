"""The sections ``joints``, ``steps``, ``buy``, ``require`` and ``accept``."""

from typing import get_args

from generator.design.phrases import (
    parse_prose,
    parse_references,
    parse_way,
    split_references,
)
from generator.design.values import find_by_edition, find_formula, read_formula
from generator.model.design import (
    AcceptSource,
    BuySource,
    JoinedWith,
    JointSource,
    RequireSource,
    StepSource,
)
from generator.model.edge_sources import Reference
from generator.model.phrases import Prose
from generator.problems import Place, ProblemLog
from generator.units import SYSTEMS
from generator.yaml_source.getters import MappingReader, find_entries, find_word, find_words
from generator.yaml_source.nodes import Entries, Node, Word

WITH: tuple[JoinedWith, ...] = get_args(JoinedWith)
FIXING_KEYS = {
    "pocket screws": "screw",
    "face screws": "screw",
    "nails": "screw",
    "dowels": "dowel",
    "bolts": "bolt",
}
"""The key under which the maker may name what is driven or set."""


def read_joint(node: Node, log: ProblemLog) -> JointSource | None:
    """Return one joint."""
    entries = find_entries(node, log)
    if entries is None:
        return None
    reader = MappingReader(entries, log)
    join = reader.required_word("join")
    ends = None if join is None else _parse_join(join, log)
    with_ = reader.required_choice("with", WITH)
    pockets = _read_pockets(reader, with_, log)
    fixings, fixing_place = _read_fixings(reader, with_, log)
    joint = JointSource(
        name=reader.text("name", "" if join is None else join.text),
        first=ends[0] if ends is not None else (),
        second=ends[1] if ends is not None else (),
        with_=next((word for word in WITH if word == with_), "glue"),
        glue=reader.yes_no("glue", default=False),
        pockets=pockets,
        count=find_by_edition(reader, "count", log),
        spacing=find_by_edition(reader, "spacing", log),
        ends=find_by_edition(reader, "ends", log),
        fixings=fixings,
        fixing_place=fixing_place,
        nuts=reader.yes_no("nuts", default=False),
        place=reader.place if join is None else join.place,
        when=find_formula(reader, "when", log),
    )
    if reader.has("count") and reader.has("spacing"):
        log.add("D119", reader.place_of("count"), first="count", second="spacing")
    if joint.glue and with_ in {"bolts", "pins", "nothing"}:
        log.add("D119", reader.place_of("glue"), first=f"with: {with_}", second="glue: yes")
    if joint.nuts and with_ not in {None, "bolts"}:
        log.add("D119", reader.place_of("nuts"), first=f"with: {with_}", second="nuts: yes")
    if with_ == "dowels" and reader.has("glue") and not joint.glue:
        log.add("D119", reader.place_of("glue"), first="with: dowels", second="glue: no")
    reader.finish()
    return joint if ends is not None and with_ is not None else None


def read_step(node: Node, log: ProblemLog) -> StepSource | None:
    """Return one step."""
    entries = find_entries(node, log)
    if entries is None:
        return None
    reader = MappingReader(entries, log)
    title = reader.required_word("title")
    fits: list[Reference] = []
    for word in reader.words("fit"):
        fits += parse_references(word, 0, len(word.text), log)
    step = StepSource(
        title="" if title is None else title.text,
        fits=tuple(fits),
        apart=reader.text("apart"),
        joins=tuple((word.text, word.place) for word in reader.words("joins")),
        says=find_prose(reader, "says", log),
        cautions=tuple(parse_prose(word, log) for word in reader.words("cautions")),
        place=reader.place if title is None else title.place,
        when=find_formula(reader, "when", log),
    )
    reader.finish()
    return step if title is not None else None


def read_buy(node: Node, log: ProblemLog) -> BuySource | None:
    """Return one thing to buy."""
    entries = find_entries(node, log)
    if entries is None:
        return None
    reader = MappingReader(entries, log)
    item = reader.required_word("item")
    quantity_node = reader.required("quantity")
    quantity = None if quantity_node is None else read_formula(quantity_node, log)
    unit, note = reader.text("unit"), find_prose(reader, "note", log)
    when = find_formula(reader, "when", log)
    reader.finish()
    if item is None or quantity is None:
        return None
    name = parse_prose(item, log)
    return BuySource(item=name, quantity=quantity, unit=unit, note=note, when=when)


def read_require(node: Node, log: ProblemLog) -> RequireSource | None:
    """Return one condition with the maker's words."""
    entries = find_entries(node, log)
    if entries is None:
        return None
    reader = MappingReader(entries, log)
    that_node, says = reader.required("that"), reader.required_word("says")
    that = None if that_node is None else read_formula(that_node, log)
    reader.finish()
    if that is None or says is None:
        return None
    return RequireSource(that=that, says=parse_prose(says, log), place=that.place)


def read_accept(node: Node, log: ProblemLog) -> AcceptSource | None:
    """Return one accepted warning."""
    entries = find_entries(node, log)
    if entries is None:
        return None
    reader = MappingReader(entries, log)
    code, reason = reader.required_word("code"), reader.required_text("reason")
    where = reader.text("where")
    edition = reader.choice("edition", SYSTEMS) or ""
    when = find_formula(reader, "when", log)
    reader.finish()
    if code is None or reason is None:
        return None
    return AcceptSource(
        code=code.text,
        where=where,
        reason=reason,
        place=code.place,
        edition=edition,
        when=when,
    )


def find_prose(reader: MappingReader, key: str, log: ProblemLog) -> Prose:
    """Return the prose under a key; empty where it is absent."""
    word = reader.word(key)
    if word is None:
        return Prose(pieces=(), place=reader.place)
    return parse_prose(word, log)


def find_prose_list(node: Node | None, log: ProblemLog) -> tuple[Prose, ...]:
    """Return the prose of a list of texts, or of one text."""
    return () if node is None else tuple(parse_prose(word, log) for word in find_words(node, log))


def read_keys(reader: MappingReader, key: str, log: ProblemLog) -> tuple[tuple[str, str], Place]:
    """Return the keys of a screw named for both editions or for each, and their place."""
    node = reader.node(key)
    place = reader.place_of(key)
    if node is None:
        return ("", ""), place
    if isinstance(node, Entries):
        inner = MappingReader(node, log)
        keys = [inner.text(system) for system in SYSTEMS]
        inner.finish()
        return (keys[0], keys[1]), place
    word = find_word(node, log)
    return ("", "") if word is None else (word.text, word.text), place


def _parse_join(
    word: Word, log: ProblemLog
) -> tuple[tuple[Reference, ...], tuple[Reference, ...]] | None:
    head, sign, tail = word.text.partition(" to ")
    if not sign:
        log.add(
            "D114",
            word.place,
            text=word.text,
            expected="what is joined to what",
            hint="write it like `shelf to side.left, side.right`",
        )
        return None
    first = parse_references(word, 0, len(head), log)
    second = parse_references(word, len(head) + len(sign), len(word.text), log)
    sides = ((head, first), (tail, second))
    complete = all(len(split_references(text)) == len(found) for text, found in sides)
    return (first, second) if complete else None


def _read_pockets(reader: MappingReader, with_: str | None, log: ProblemLog) -> str:
    word = reader.word("pockets")
    if with_ == "pocket screws" and not reader.has("pockets"):
        hint = "name the face the pockets are bored in, such as `pockets: bottom`"
        reader.report_missing("pockets", reader.place_of("with"), hint)
    if word is None:
        return ""
    way = parse_way(word.text, word.place, log)
    return "" if way is None else way


def _read_fixings(
    reader: MappingReader, with_: str | None, log: ProblemLog
) -> tuple[tuple[str, str], Place]:
    """Return what is named to be driven or set, for both editions or for each, and its place."""
    wanted = FIXING_KEYS.get(with_ or "", "screw")
    for key in dict.fromkeys(FIXING_KEYS.values()):
        if with_ is not None and reader.has(key) and FIXING_KEYS.get(with_) != key:
            log.add("D119", reader.place_of(key), first=f"with: {with_}", second=key)
            reader.node(key)
    return read_keys(reader, wanted, log)
