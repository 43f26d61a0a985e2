"""Short rows of a JSON Schema: values by their kind, records that are complete, lists."""

from typing import Any

Json = dict[str, Any]

TEXT: Json = {"type": "string"}
NUMBER: Json = {"type": "number"}
SIZE: Json = {"type": "number", "minimum": 0}
COUNT: Json = {"type": "integer", "minimum": 0}
ORDER: Json = {"type": "integer", "minimum": 1}
TRUTH: Json = {"type": "boolean"}
PRICE: Json = {"type": ["number", "null"], "minimum": 0}
LABEL: Json = {"type": "string", "pattern": "^[A-Z]+$"}
TILT: Json = {"type": "number", "minimum": 0, "exclusiveMaximum": 90}


def record(**properties: Json) -> Json:
    """Return the schema of an object that has exactly these keys."""
    return {
        "type": "object",
        "properties": properties,
        "required": list(properties),
        "additionalProperties": False,
    }


def list_of(items: Json) -> Json:
    """Return the schema of a list of any length."""
    return {"type": "array", "items": items}


def tuple_of(items: Json, length: int) -> Json:
    """Return the schema of a list of a fixed length."""
    return {"type": "array", "items": items, "minItems": length, "maxItems": length}
