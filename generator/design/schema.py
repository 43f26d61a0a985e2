"""The published JSON Schema of design files (draft 2020-12), made from the table of keys.

Editors read YAML with types of its own, so that where we read text a number may stand, and where
we read `yes` a truth. The schema is for help while typing; what is wrong is said by the reader.
"""

import json
from typing import Any

from generator.design.key_tables import RECORDS
from generator.design.keys import (
    Choice,
    Either,
    Inside,
    Key,
    Many,
    Named,
    Phrase,
    Record,
    Shape,
    Text,
    Value,
)

SCHEMA_NAME = "design-1.schema.json"
Json = dict[str, Any]
_TYPED: dict[str, bool] = {"yes": True, "no": False}


def design_schema_json() -> bytes:
    """Return the schema file: UTF-8, indented."""
    return (json.dumps(design_schema(), indent=1, ensure_ascii=False) + "\n").encode("utf-8")


def design_schema() -> Json:
    """Return the schema of a whole design file."""
    whole, *others = RECORDS
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": f"https://kerfolio.example/schema/{SCHEMA_NAME}",
        "title": "A furniture design",
        **_record(whole),
        "$defs": {_definition(record.name): _record(record) for record in others},
    }


def _record(record: Record) -> Json:
    schema: Json = {
        "description": record.says,
        "type": "object",
        "properties": {key.name: _key(key) for key in record.keys},
        "additionalProperties": False,
    }
    needed = [key.name for key in record.keys if key.needed]
    return {**schema, "required": needed} if needed else schema


def _key(key: Key) -> Json:
    return {"description": key.says, **_shape(key.shape)}


def _shape(shape: Shape) -> Json:
    match shape:
        case Many():
            return _many(shape)
        case Named():
            return _named(shape)
        case Inside(record):
            return {"$ref": f"#/$defs/{_definition(record)}"}
        case Either(shapes):
            return {"anyOf": [_shape(one) for one in shapes]}
        case _:
            return _words(shape)


def _words(shape: Text | Value | Choice | Phrase) -> Json:
    match shape:
        case Choice(words):
            return {"enum": [*words, *(_TYPED[word] for word in words if word in _TYPED)]}
        case Phrase(_, pattern):
            return {"type": "string", "pattern": pattern}
        case _:
            return {"type": ["string", "number"], "minLength": 1}


def _many(shape: Many) -> Json:
    items: Json = {"type": "array", "items": _shape(shape.of)}
    if shape.least:
        items["minItems"] = shape.least
    if shape.most is not None:
        items["maxItems"] = shape.most
    return {"anyOf": [_shape(shape.of), items]} if shape.or_one else items


def _named(shape: Named) -> Json:
    inner = _shape(shape.of)
    if isinstance(shape.names, tuple):
        names = {"properties": dict.fromkeys(shape.names, inner)}
    else:
        names = {"patternProperties": {shape.names: inner}}
    return {"type": "object", **names, "additionalProperties": False}


def _definition(name: str) -> str:
    return name.replace(" ", "-")
