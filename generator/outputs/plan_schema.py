"""The published JSON Schema of plan.json (draft 2020-12), built from short rows."""

import json
from typing import Any

FORMAT = "kerfolio-plan"
VERSION = 1
GENERATOR = "kerfolio 0.1.0"
SCHEMA_NAME = f"plan-{VERSION}.schema.json"

Json = dict[str, Any]

TEXT: Json = {"type": "string"}
NUMBER: Json = {"type": "number"}
SIZE: Json = {"type": "number", "minimum": 0}
COUNT: Json = {"type": "integer", "minimum": 0}
ORDER: Json = {"type": "integer", "minimum": 1}
TRUTH: Json = {"type": "boolean"}
LABEL: Json = {"type": "string", "pattern": "^[A-Z]+$"}
TILT: Json = {"type": "number", "minimum": 0, "exclusiveMaximum": 90}


def schema_json() -> bytes:
    """Return the schema file: UTF-8, indented."""
    return (json.dumps(plan_schema(), indent=1, ensure_ascii=False) + "\n").encode("utf-8")


def plan_schema() -> Json:
    """Return the schema of a whole plan."""
    schema = _record(
        format={"const": FORMAT},
        version={"const": VERSION},
        generator=TEXT,
        plan={"type": "string", "pattern": "^[a-z0-9-]+$"},
        size=TEXT,
        edition={"enum": ["imperial", "metric"]},
        revision=TEXT,
        date=TEXT,
        title=TEXT,
        parameters={
            "type": "object",
            "additionalProperties": _record(
                value={"type": ["number", "boolean"]},
                unit={"enum": ["mm", "deg", "kg", "", "yes/no"]},
                says=TEXT,
            ),
        },
        parts=_list(_part()),
        sheets=_list(_sheet()),
        boards={
            **_list(_sheet()),
            "description": "Solid wood, told of like narrow sheets: x along the board, trimmed at "
            "its ends alone. proved_least: no less length of this stock can do.",
        },
        settings=_list(_setting()),
        joints=_list(_joint()),
        fasteners=_list(_fastener()),
        steps=_list(_step()),
        **_fitting(),
        shopping=_list(_record(item=TEXT, quantity=SIZE, unit=TEXT, note=TEXT)),
        checks=_list(_check()),
        strength=_strength(),
        figures=_figures(),
    )
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": f"https://kerfolio.example/schema/{SCHEMA_NAME}",
        "title": "A furniture plan",
        "description": "One design computed in one edition; lengths in mm, angles in degrees. "
        "The room has x to the right, y to the back, z up, origin at the front left on the floor.",
        **schema,
    }


def _part() -> Json:
    part = _record(
        label=LABEL,
        name=TEXT,
        title=TEXT,
        count=ORDER,
        stock=TEXT,
        material=TEXT,
        thickness_mm=SIZE,
        length_mm=SIZE,
        width_mm=SIZE,
        blank_mm=_tuple(SIZE, 2),
        blank_count=ORDER,
        allowance_mm=_tuple(SIZE, 4),
        shown=_tuple(TEXT, 2),
        grain={"enum": ["along", "either", "any"]},
        section=TEXT,
        faces=_record(A=TEXT, B=TEXT),
        outline_mm=_list(_tuple(NUMBER, 2)),
        outline_b_mm=_list(_tuple(NUMBER, 2)),
        bulges=_list(NUMBER),
        area_mm2=_tuple(SIZE, 2),
        edges=_list(_edge()),
        features=_list({"oneOf": [_corner(), _recess(), _opening()]}),
        holes=_list(_hole()),
        volume_mm3=SIZE,
        mass_kg=SIZE,
        placed=_list(_record(name=TEXT, copy=ORDER, frame=_tuple(_tuple(NUMBER, 4), 4))),
    )
    notes = {
        "length_mm": "Along the grain, long point to long point.",
        "outline_mm": "Corners of face A (z = 0), counter-clockwise, first not repeated.",
        "outline_b_mm": "Corners of face B (z = thickness) in the same order.",
        "bulges": "For every side of both outlines tan(angle / 4) of its arc; 0 is straight.",
        "area_mm2": "Of face A and face B, arcs counted exactly, openings taken off.",
        "allowance_mm": "Left over on the blank at the least x, greatest x, least y, greatest y.",
    }
    for name, note in notes.items():
        part["properties"][name] = {**part["properties"][name], "description": note}
    return part


def _edge() -> Json:
    return _record(
        name=TEXT,
        kind={"enum": ["end", "edge", "corner", "notch", "arch"]},
        **{"from": _tuple(NUMBER, 2)},
        to=_tuple(NUMBER, 2),
        bulge=NUMBER,
        radius_mm=SIZE,
        tilt_deg=TILT,
        mitre_deg=SIZE,
        long_face={"enum": ["A", "B", ""]},
        meets=TEXT,
        edging={"type": "string", "description": "Its key in shared/edgings.yml; empty if bare."},
    )


def _corner() -> Json:
    kinds = {"enum": ["clip", "round"]}
    return _record(kind=kinds, name=TEXT, size_mm=_tuple(SIZE, 2), radius_mm=SIZE)


def _recess() -> Json:
    return _record(
        kind={"enum": ["notch", "arch"]},
        name=TEXT,
        size_mm=_tuple(SIZE, 2),
        outline_mm=_list(_tuple(NUMBER, 2)),
        bulges=_list(NUMBER),
    )


def _opening() -> Json:
    return _record(
        kind={"enum": ["hole", "slot", "cutout"]},
        center_mm=_tuple(NUMBER, 2),
        size_mm={"type": "array", "items": SIZE, "minItems": 1, "maxItems": 2},
        radius_mm=SIZE,
        along={"enum": ["length", "width"]},
    )


def _hole() -> Json:
    return _record(
        piece=TEXT,
        copy=ORDER,
        fastener=TEXT,
        kind={"enum": ["pocket", "clearance", "nail", "pilot", "pin"]},
        side=TEXT,
        at_mm=_tuple(NUMBER, 3),
        direction=_tuple(NUMBER, 3),
        diameter_mm=SIZE,
        depth_mm={"type": ["number", "null"], "minimum": 0},
        countersink_mm=SIZE,
    )


def _sheet() -> Json:
    return _record(
        number=ORDER,
        stock=TEXT,
        material=TEXT,
        size=TEXT,
        size_mm=_tuple(SIZE, 2),
        thickness_mm=SIZE,
        has_grain=TRUTH,
        trim_mm=_tuple(SIZE, 4),
        kerf_mm=SIZE,
        price={"type": ["number", "null"], "minimum": 0},
        placements=_list(
            _record(
                label=LABEL,
                copy=ORDER,
                x_mm=SIZE,
                y_mm=SIZE,
                length_mm=SIZE,
                width_mm=SIZE,
                turned=TRUTH,
            )
        ),
        cuts=_list(_cut()),
        offcuts=_list(_record(x_mm=SIZE, y_mm=SIZE, length_mm=SIZE, width_mm=SIZE)),
        used={"type": "number", "minimum": 0, "maximum": 1},
        proved_least=TRUTH,
    )


def _cut() -> Json:
    return _record(
        order=ORDER,
        setting=ORDER,
        kind={"enum": ["trim", "rip", "crosscut"]},
        setting_mm=SIZE,
        **{"from": _tuple(NUMBER, 2)},
        to=_tuple(NUMBER, 2),
        of=TEXT,
        frees=TEXT,
    )


def _setting() -> Json:
    return _record(
        order=ORDER,
        kind={"enum": ["trim", "rip", "crosscut", "bevel", "angle", "round", "bore", "jigsaw"]},
        value_mm=SIZE,
        tilt_deg=TILT,
        mitre_deg=SIZE,
        pieces=_list(LABEL),
        where=_list(TEXT),
        cuts=COUNT,
    )


def _joint() -> Json:
    return _record(
        id=TEXT,
        between=_tuple(TEXT, 2),
        **{"with": {"enum": ["pocket screws", "face screws", "nails", "glue", "pins", "nothing"]}},
        glue=TRUTH,
        fasteners=_list(TEXT),
    )


def _fastener() -> Json:
    return _record(
        id=TEXT,
        joint=TEXT,
        kind={"enum": ["pocket screw", "face screw", "nail"]},
        size=TEXT,
        diameter_mm=SIZE,
        length_mm=SIZE,
        head_mm=_tuple(NUMBER, 3),
        tip_mm=_tuple(NUMBER, 3),
        direction=_tuple(NUMBER, 3),
        through=_list(TEXT),
        step={"type": ["integer", "null"], "minimum": 1},
        hidden=TRUTH,
    )


def _step() -> Json:
    return _record(
        order=ORDER,
        title=TEXT,
        parts=_list(TEXT),
        present=_list(TEXT),
        fasteners=_list(TEXT),
        glued=_list(_tuple(TEXT, 2)),
        subassembly={"type": ["string", "null"]},
        joins=_list(TEXT),
        says=TEXT,
        cautions=_list(TEXT),
        marks=_list(
            _record(
                on=LABEL,
                copies=_list(TEXT),
                side=TEXT,
                mate=LABEL,
                outline_mm=_list(_tuple(NUMBER, 2)),
                edge=TEXT,
                from_mm=NUMBER,
                to_mm=NUMBER,
            )
        ),
    )


def _fitting() -> Json:
    """Return the schemas of what goes onto the parts, by key."""
    return {
        "edging": _list(_edging()),
        "finishes": _list(_finish()),
        "glue": {"anyOf": [_record(area_mm2=SIZE, volume_mm3=SIZE), {"type": "null"}]},
    }


def _edging() -> Json:
    run = _record(label=LABEL, edge=TEXT, length_mm=SIZE, count=ORDER)
    return _record(
        key=TEXT,
        name=TEXT,
        width_mm=SIZE,
        thickness_mm=SIZE,
        edges=_list(run),
        length_mm=SIZE,
        buy_mm=SIZE,
    )


def _finish() -> Json:
    return _record(
        item=TEXT,
        coats=ORDER,
        coverage_m2_per_litre=SIZE,
        pieces=_list(TEXT),
        area_mm2=SIZE,
        volume_mm3=SIZE,
    )


def _check() -> Json:
    return _record(
        code={"type": "string", "pattern": "^[A-Z][0-9]{3}$"},
        level={"enum": ["error", "warning"]},
        what=TEXT,
        where=TEXT,
        accepted={"type": ["string", "null"], "description": "The maker's reason, if accepted."},
    )


def _strength() -> Json:
    load = _record(kg=SIZE, per={"enum": ["", "m", "sq m"]}, on_one_spot=TRUTH)
    sag = _record(
        piece=TEXT,
        load=load,
        load_kg=SIZE,
        held_at={"enum": ["both ends", "one end"]},
        span_mm=SIZE,
        sag_mm=SIZE,
        allowed_mm=SIZE,
        stiffened_by=_list(TEXT),
    )
    tipping = _record(
        to=TEXT, behind_mm=NUMBER, push_n=NUMBER, push_at_mm=SIZE, tilt_deg=NUMBER, mass_kg=SIZE
    )
    step = _record(piece=TEXT, load=load, to=TEXT, beyond_mm=NUMBER, most_mm=NUMBER)
    return {
        **_record(
            sags=_list(sag),
            tipping={"anyOf": [tipping, {"type": "null"}]},
            steps=_list(step),
        ),
        "description": "What parts carry and how far they sag; what tips the empty piece while "
        "nothing else holds it, null where it hangs on a wall; loads on one spot, how far outside "
        "the base they press and may press. Figures, not a certificate.",
    }


def _figures() -> Json:
    counts = ("parts", "pieces", "sheets", "boards", "cuts", "settings", "screws", "holes", "steps")
    return _record(
        overall_mm=_tuple(SIZE, 3),
        mass_kg=SIZE,
        center_mm=_tuple(NUMBER, 3),
        board_mm=SIZE,
        **dict.fromkeys(counts, COUNT),
    )


def _record(**properties: Json) -> Json:
    """Return the schema of an object that has exactly these keys."""
    return {
        "type": "object",
        "properties": properties,
        "required": list(properties),
        "additionalProperties": False,
    }


def _list(items: Json) -> Json:
    return {"type": "array", "items": items}


def _tuple(items: Json, length: int) -> Json:
    return {"type": "array", "items": items, "minItems": length, "maxItems": length}
