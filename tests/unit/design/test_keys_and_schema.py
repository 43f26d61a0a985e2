"""The table of keys says what the readers ask for, no more and no less, and every example is true.

The readers are listened to while they read every design there is: the demo library, the starters
and all cases of the tests. Where a mapping stands is looked up in the schema.
"""

import json
import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator

from generator.design.key_tables import RECORDS
from generator.design.keys import ANY_NAME, Inside, Key, Record, list_shapes
from generator.design.phrases import NAME
from generator.design.read import parse_design
from generator.design.schema import SCHEMA_NAME, design_schema, design_schema_json
from generator.problem_text import format_problem
from generator.problems import ProblemLog
from generator.yaml_source.getters import MappingReader

ROOT = Path(__file__).parents[3]
SOUND = sorted(
    [
        *(ROOT / "designs").glob("*/design.yml"),
        *(ROOT / "site_templates" / "starters").glob("*.yml"),
        *(ROOT / "tests" / "cases" / "good").glob("*.yml"),
    ]
)
SCHEMA = design_schema()
VALIDATOR = Draft202012Validator(SCHEMA)
EVERY_KEY = [(record, key) for record in RECORDS for key in record.keys]
BASE = """\
title: Base
date: 2026-11-25
parameters:
  width: {imperial: 30 in, metric: 760 mm}
  height: {imperial: 12 in, metric: 300 mm}
  depth: {imperial: 9 in, metric: 230 mm}
  subject: {}
stock:
  panel: {imperial: plywood-23/32, metric: plywood-18}
  tape: {imperial: veneer-tape-7/8, metric: veneer-tape-22}
  subject: {}
planes:
  subject: {}
frames:
  leaning: {at: [0 in, 0 in, 3 in]}
  subject: {}
parts:
  side:
    from: panel
    runs: {length: up, width: back}
    at:
      left: {}
      right: {corner: [width - panel, 0 in, 0 in]}
      subject: {}
  shelf:
    from: panel
    runs: {length: right, width: back}
    carries: {}
    openings: [{}]
    cuts: [{}]
    pins: [{}]
    outline: [{}]
  front:
    from: panel
    runs: {length: right, width: up}
    openings: [{}]
    cuts: [{}]
    pins: [{}]
joints:
  - {join: shelf to side, with: glue, spacing: {}}
steps:
  - {title: Begin, apart: tray, fit: side.left}
  - {title: End, fit: side.right}
car: {}
router: {}
offcuts:
  subject: {}
buy: [{}]
require: [{}]
accept: [{}]
finish: [{}]
hardware:
  subject: {}
  other: {item: hooks, on: shelf, face: top, places: [{}]}
"""
PLACES: Mapping[str, tuple[str | int, ...]] = {
    "file": (),
    "parameter": ("parameters", "subject"),
    "car": ("car",),
    "router": ("router",),
    "values by edition": ("joints", 0, "spacing"),
    "words by edition": ("stock", "subject"),
    "offcut": ("offcuts", "subject"),
    "requirement": ("require", 0),
    "plane": ("planes", "subject"),
    "frame": ("frames", "subject"),
    "part": ("parts", "shelf"),
    "runs": ("parts", "shelf", "runs"),
    "loads by edition": ("parts", "shelf", "carries"),
    "copy": ("parts", "side", "at", "subject"),
    "opening": ("parts", "shelf", "openings", 0),
    "cut": ("parts", "shelf", "cuts", 0),
    "outline point": ("parts", "shelf", "outline", 0),
    "row of pin holes": ("parts", "shelf", "pins", 0),
    "joint": ("joints", 0),
    "step": ("steps", 1),
    "thing to buy": ("buy", 0),
    "accepted warning": ("accept", 0),
    "finish": ("finish", 0),
    "hardware": ("hardware", "subject"),
    "place of hardware": ("hardware", "other", "places", 0),
}
"""Where in the base design an example of each record is laid over what stands there."""


def faults_of(text: str) -> list[str]:
    """Return what the schema says of a design, read as plain text as our reader does."""
    data = yaml.load(text, Loader=yaml.BaseLoader)
    return [f"{fault.json_path}: {fault.message}" for fault in VALIDATOR.iter_errors(data)]


def schema_at(path: str) -> tuple[str, Any]:
    """Return the name of the record at a dotted path such as ``parts.side.at.left``, and itself."""
    name, node = "file", SCHEMA
    for step in re.findall(r"\[\d+\]|[^.\[]+", path):
        choices = [_open(one) for one in (node, *node.get("anyOf", []))]
        name, node = next(found for choice in choices if (found := _step(choice, step)) is not None)
    records = [(name, node), *(_open(one) for one in node.get("anyOf", []))]
    return next((record for record in records if "properties" in record[1]), (name, node))


def _open(node: Any) -> tuple[str, Any]:
    if "$ref" not in node:
        return "", node
    name = node["$ref"].rpartition("/")[2]
    return name, SCHEMA["$defs"][name]


def _step(choice: tuple[str, Any], step: str) -> tuple[str, Any] | None:
    node = choice[1]
    if step.startswith("["):
        return _open(node["items"]) if "items" in node else None
    named = list(node.get("patternProperties", {}).values())
    found = node.get("properties", {}).get(step, named[0] if named else None)
    return None if found is None else _open(found)


def readers_of(path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[tuple[str, set[str]]]:
    """Yield the place and the keys asked for of every mapping that is read."""
    readers: list[MappingReader] = []
    with monkeypatch.context() as patch:
        finish = MappingReader.finish

        def listen(reader: MappingReader, *also: str) -> None:
            readers.append(reader)
            finish(reader, *also)

        patch.setattr(MappingReader, "finish", listen)
        parse_design(path.read_bytes(), path.name, "slug", ProblemLog())
    for reader in readers:
        yield reader.place.key, set(reader._asked)


def test_the_readers_ask_for_the_keys_of_the_table_and_for_no_others(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    asked: dict[str, set[str]] = {}
    for path in SOUND:
        for place, keys in readers_of(path, monkeypatch):
            name, _ = schema_at(place)
            asked.setdefault(name.replace("-", " "), set()).update(keys)
    table = {record.name: {key.name for key in record.keys} for record in RECORDS}

    assert {name: sorted(keys) for name, keys in sorted(table.items())} == {
        name: sorted(keys) for name, keys in sorted(asked.items())
    }


def test_every_record_the_table_speaks_of_is_in_it_once() -> None:
    names = [record.name for record in RECORDS]
    spoken = {
        shape.record
        for _, key in EVERY_KEY
        for shape in list_shapes(key.shape)
        if isinstance(shape, Inside)
    }

    assert sorted(set(names)) == sorted(names)
    assert {"file", *spoken} == set(names) == set(PLACES)


@pytest.mark.parametrize("record", RECORDS, ids=lambda record: record.name)
def test_a_record_names_each_of_its_keys_once_and_in_sentences(record: Record) -> None:
    names = [key.name for key in record.keys]

    assert sorted(set(names)) == sorted(names)
    for key in record.keys:
        assert re.fullmatch(r"[A-Z].{5,100}\.", key.says), key.name


@pytest.mark.parametrize(("record", "key"), EVERY_KEY, ids=lambda one: one.name.replace(" ", "-"))
def test_the_example_of_a_key_is_read_without_a_fault_and_fits_the_schema(
    record: Record, key: Key
) -> None:
    text = laid_over(record, key.example)
    log = ProblemLog()
    parse_design(text, "example.yml", "example", log)

    assert re.search(rf"^{re.escape(key.name)}:", key.example, re.MULTILINE)
    assert [format_problem(problem) for problem in log.problems] == []
    assert [] == faults_of(text)


@pytest.mark.parametrize("path", SOUND, ids=lambda path: f"{path.parent.name}/{path.stem}")
def test_the_schema_takes_every_sound_design(path: Path) -> None:
    assert [] == faults_of(path.read_text("utf-8"))


SEEN_BY_THE_READER_ALONE = {
    "D104-opening-measured-from-a-face": "which edges a part has depends on how it runs",
    "D105-one-distance-for-a-hook": "any two edges that meet will do",
    "D106-board-sizes-of-a-sheet-offcut": "whether its stock is a sheet, the catalogue knows",
    "D105-cut-of-no-kind": "the schema asks for no key of which another would do",
}
REFUSED = sorted(
    path
    for code in ("D104", "D105", "D106", "D107", "D110")
    for path in (ROOT / "tests" / "cases" / "bad").glob(f"{code}-*.yml")
    if path.stem not in SEEN_BY_THE_READER_ALONE
)


@pytest.mark.parametrize("path", REFUSED, ids=lambda path: path.stem)
def test_the_schema_refuses_unknown_keys_and_words_and_wrong_shapes(path: Path) -> None:
    assert faults_of(path.read_text("utf-8")) != []


def test_an_editor_may_take_numbers_and_truths_for_what_they_look_like() -> None:
    data = yaml.safe_load("from: panel\nlength: 12\nruns: {length: up, width: back}")
    joint = yaml.safe_load("{join: a to b, with: glue, glue: yes, count: 3}")

    assert data["length"] == 12
    assert joint["glue"] is True
    for record, one in (("part", data), ("joint", joint)):
        validator = Draft202012Validator({"$defs": SCHEMA["$defs"], "$ref": f"#/$defs/{record}"})
        assert [fault.message for fault in validator.iter_errors(one)] == []


def test_the_schema_is_a_schema() -> None:
    Draft202012Validator.check_schema(SCHEMA)

    assert json.loads(json.dumps(SCHEMA)) == SCHEMA


def test_the_copy_beside_the_demo_designs_is_up_to_date() -> None:
    """Renewed by ``kerfolio schema > designs/design-1.schema.json``."""
    assert (ROOT / "designs" / SCHEMA_NAME).read_bytes() == design_schema_json()


@pytest.mark.parametrize(
    "path", sorted((ROOT / "designs").glob("*/design.yml")), ids=lambda path: path.parent.name
)
def test_a_demo_design_begins_with_the_hint_that_leads_an_editor_to_the_schema(path: Path) -> None:
    hint, _, schema = path.read_text("utf-8").splitlines()[0].partition("$schema=")

    assert hint == "# yaml-language-server: "
    assert (path.parent / schema).resolve() == ROOT / "designs" / SCHEMA_NAME


def test_names_are_what_the_reader_takes_for_names() -> None:
    assert f"^{NAME.pattern}$" == ANY_NAME


def laid_over(record: Record, example: str) -> str:
    """Return the base design with an example in the place of its record, as YAML text."""
    base = yaml.load(BASE, Loader=yaml.BaseLoader)
    lines = yaml.load(example, Loader=yaml.BaseLoader)
    node = base
    upright = re.search("from (top|bottom|up|down)", example) is not None
    usual = PLACES[record.name]
    places = ("parts", "front", *usual[2:]) if upright and usual[0] == "parts" else usual
    for step in places:
        node = node[step]
    node.update(lines)
    return yaml.safe_dump(_bare(base), sort_keys=False, allow_unicode=True, width=1000)


def _bare(node: Any) -> Any:
    """Return the base without the empty places no example was laid over; copies may be empty."""
    if isinstance(node, list):
        return [bare for one in node if (bare := _bare(one)) != {}]
    if not isinstance(node, dict):
        return node
    found = {key: _bare(value) for key, value in node.items()}
    return {key: value for key, value in found.items() if value not in ({}, []) or key == "left"}
