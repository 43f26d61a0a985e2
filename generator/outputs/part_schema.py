"""What plan.json says of a part, as JSON Schema: sizes, edges, features, bored holes."""

from typing import get_args

from generator.model.joinery import HoleKind
from generator.model.parts import HousingKind
from generator.outputs.schema_rows import (
    LABEL,
    NUMBER,
    ORDER,
    SIZE,
    TEXT,
    TILT,
    Json,
    list_of,
    record,
    tuple_of,
)


def part_schema() -> Json:
    """Return the schema of an entry of ``parts``."""
    part = record(
        label=LABEL,
        name=TEXT,
        title=TEXT,
        count=ORDER,
        stock=TEXT,
        material=TEXT,
        thickness_mm=SIZE,
        length_mm=SIZE,
        width_mm=SIZE,
        blank_mm=tuple_of(SIZE, 2),
        blank_count=ORDER,
        allowance_mm=tuple_of(SIZE, 4),
        shown=tuple_of(TEXT, 2),
        grain={"enum": ["along", "either", "any"]},
        section=TEXT,
        faces=record(A=TEXT, B=TEXT),
        outline_mm=list_of(tuple_of(NUMBER, 2)),
        outline_b_mm=list_of(tuple_of(NUMBER, 2)),
        bulges=list_of(NUMBER),
        area_mm2=tuple_of(SIZE, 2),
        edges=list_of(_edge()),
        features=list_of({"oneOf": [_corner(), _recess(), _opening(), _housing()]}),
        holes=list_of(_hole()),
        volume_mm3=SIZE,
        mass_kg=SIZE,
        placed=list_of(record(name=TEXT, copy=ORDER, frame=tuple_of(tuple_of(NUMBER, 4), 4))),
    )
    notes = {
        "length_mm": "Along the grain, long point to long point.",
        "outline_mm": "Corners of face A (z = 0), counter-clockwise, first not repeated.",
        "outline_b_mm": "Corners of face B (z = thickness) in the same order.",
        "bulges": "For every side of both outlines tan(angle / 4) of its arc; 0 is straight.",
        "area_mm2": "Of face A and face B, arcs exact, openings taken off but no channels.",
        "allowance_mm": "Left over on the blank at the least x, greatest x, least y, greatest y.",
    }
    for name, note in notes.items():
        part["properties"][name] = {**part["properties"][name], "description": note}
    return part


def _edge() -> Json:
    return record(
        name=TEXT,
        kind={"enum": ["end", "edge", "corner", "notch", "arch", "line", "arc"]},
        **{"from": tuple_of(NUMBER, 2)},
        to=tuple_of(NUMBER, 2),
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
    return record(kind=kinds, name=TEXT, size_mm=tuple_of(SIZE, 2), radius_mm=SIZE)


def _recess() -> Json:
    return record(
        kind={"enum": ["notch", "arch"]},
        name=TEXT,
        size_mm=tuple_of(SIZE, 2),
        outline_mm=list_of(tuple_of(NUMBER, 2)),
        bulges=list_of(NUMBER),
    )


def _opening() -> Json:
    return record(
        kind={"enum": ["hole", "slot", "cutout"]},
        center_mm=tuple_of(NUMBER, 2),
        size_mm={"type": "array", "items": SIZE, "minItems": 1, "maxItems": 2},
        radius_mm=SIZE,
        along={"enum": ["length", "width"]},
    )


def _housing() -> Json:
    return record(
        kind={"enum": list(get_args(HousingKind))},
        side={"enum": ["A", "B"]},
        outline_mm=list_of(tuple_of(NUMBER, 2)),
        depth_mm=SIZE,
        width_mm=SIZE,
        length_mm=SIZE,
        angle_deg=SIZE,
        from_edge=TEXT,
        from_mm=SIZE,
        to_mm=SIZE,
        open_at=list_of(TEXT),
        stopped=list_of(record(edge=TEXT, away_mm=SIZE)),
        mates=list_of(TEXT),
    )


def _hole() -> Json:
    return record(
        piece=TEXT,
        copy=ORDER,
        fastener=TEXT,
        kind={"enum": list(get_args(HoleKind))},
        side=TEXT,
        at_mm=tuple_of(NUMBER, 3),
        direction=tuple_of(NUMBER, 3),
        diameter_mm=SIZE,
        depth_mm={"type": ["number", "null"], "minimum": 0},
        countersink_mm=SIZE,
    )
