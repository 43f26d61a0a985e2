"""The published JSON Schema of plan.json (draft 2020-12), built from short rows."""

import json
from typing import get_args

from generator.model.cutting import SettingKind
from generator.model.design import JoinedWith
from generator.outputs.part_schema import part_schema
from generator.outputs.router_json import router_schema
from generator.outputs.schema_rows import (
    COUNT,
    LABEL,
    NUMBER,
    ORDER,
    PRICE,
    SIZE,
    TEXT,
    TILT,
    TRUTH,
    Json,
    list_of,
    record,
    tuple_of,
)
from generator.outputs.shop_json import shop_schema

FORMAT = "kerfolio-plan"
VERSION = 1
GENERATOR = "kerfolio 0.1.0"
SCHEMA_NAME = f"plan-{VERSION}.schema.json"


def schema_json() -> bytes:
    """Return the schema file: UTF-8, indented."""
    return (json.dumps(plan_schema(), indent=1, ensure_ascii=False) + "\n").encode("utf-8")


def plan_schema() -> Json:
    """Return the schema of a whole plan."""
    schema = record(
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
            "additionalProperties": record(
                value={"type": ["number", "boolean"]},
                unit={"enum": ["mm", "deg", "kg", "", "yes/no"]},
                says=TEXT,
            ),
        },
        parts=list_of(part_schema()),
        sheets=list_of(_sheet()),
        boards=_boards(),
        **router_schema(),
        **shop_schema(),
        settings=list_of(_setting()),
        settings_need=_settings_need(),
        joints=list_of(_joint()),
        fasteners=list_of(_fastener()),
        steps=list_of(_step()),
        **_fitting(),
        shopping=_shopping(),
        checks=list_of(_check()),
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


def _shopping() -> Json:
    return list_of(record(item=TEXT, quantity=SIZE, unit=TEXT, note=TEXT, price=PRICE, owned=TRUTH))


def _sheet() -> Json:
    return record(
        number=ORDER,
        stock=TEXT,
        material=TEXT,
        size=TEXT,
        size_mm=tuple_of(SIZE, 2),
        thickness_mm=SIZE,
        mass_kg=SIZE,
        has_grain=TRUTH,
        trim_mm=tuple_of(SIZE, 4),
        kerf_mm=SIZE,
        price=PRICE,
        owned=TRUTH,
        placements=list_of(
            record(
                label=LABEL,
                copy=ORDER,
                x_mm=SIZE,
                y_mm=SIZE,
                length_mm=SIZE,
                width_mm=SIZE,
                turned=TRUTH,
            )
        ),
        cuts=list_of(_cut()),
        offcuts=list_of(record(x_mm=SIZE, y_mm=SIZE, length_mm=SIZE, width_mm=SIZE)),
        used={"type": "number", "minimum": 0, "maximum": 1},
        proved_least=TRUTH,
    )


def _boards() -> Json:
    return {
        **list_of(_sheet()),
        "description": "Solid wood, told of like narrow sheets: x along the board, trimmed at "
        "its ends alone. proved_least: no less length of this stock can do; where prices are "
        "known, none is cheaper.",
    }


def _cut() -> Json:
    return record(
        order=ORDER,
        setting=ORDER,
        kind={"enum": ["trim", "rip", "crosscut"]},
        setting_mm=SIZE,
        **{"from": tuple_of(NUMBER, 2)},
        to=tuple_of(NUMBER, 2),
        of=TEXT,
        frees=TEXT,
    )


def _setting() -> Json:
    return record(
        order=ORDER,
        kind={"enum": list(get_args(SettingKind))},
        tool=TEXT,
        value_mm=SIZE,
        tilt_deg=TILT,
        mitre_deg=SIZE,
        pieces=list_of(LABEL),
        where=list_of(TEXT),
        cuts=COUNT,
    )


def _settings_need() -> Json:
    return {
        **record(settings=COUNT, bound=COUNT, proved_least=TRUTH),
        "description": "Trims, rips and crosscuts of sheets and boards: their settings, and a "
        "number that no order of the same cuts can do with less than.",
    }


def _joint() -> Json:
    return record(
        id=TEXT,
        between=tuple_of(TEXT, 2),
        **{"with": {"enum": list(get_args(JoinedWith))}},
        glue=TRUTH,
        fasteners=list_of(TEXT),
    )


def _fastener() -> Json:
    return record(
        id=TEXT,
        joint=TEXT,
        kind={"enum": ["pocket screw", "face screw", "nail", "dowel", "bolt"]},
        size=TEXT,
        diameter_mm=SIZE,
        length_mm=SIZE,
        head_mm=tuple_of(NUMBER, 3),
        tip_mm=tuple_of(NUMBER, 3),
        direction=tuple_of(NUMBER, 3),
        through=list_of(TEXT),
        step={"type": ["integer", "null"], "minimum": 1},
        hidden=TRUTH,
    )


def _step() -> Json:
    return record(
        order=ORDER,
        title=TEXT,
        parts=list_of(TEXT),
        present=list_of(TEXT),
        fasteners=list_of(TEXT),
        glued=list_of(tuple_of(TEXT, 2)),
        subassembly={"type": ["string", "null"]},
        joins=list_of(TEXT),
        hardware=list_of(TEXT),
        says=TEXT,
        cautions=list_of(TEXT),
        marks=list_of(
            record(
                on=LABEL,
                copies=list_of(TEXT),
                side=TEXT,
                mate=LABEL,
                outline_mm=list_of(tuple_of(NUMBER, 2)),
                edge=TEXT,
                from_mm=NUMBER,
                to_mm=NUMBER,
            )
        ),
    )


def _fitting() -> Json:
    """Return the schemas of what goes onto the parts, by key."""
    place = record(piece=TEXT, side={"enum": ["A", "B"]}, at_mm=tuple_of(NUMBER, 2))
    hardware = record(
        name=TEXT,
        item=TEXT,
        pieces=list_of(TEXT),
        count=ORDER,
        screw=TEXT,
        screws_each=COUNT,
        anchor=TRUTH,
        places=list_of(place),
    )
    return {
        "hardware": list_of(hardware),
        "edging": list_of(_edging()),
        "finishes": list_of(_finish()),
        "glue": {"anyOf": [record(area_mm2=SIZE, volume_mm3=SIZE), {"type": "null"}]},
    }


def _edging() -> Json:
    run = record(label=LABEL, edge=TEXT, length_mm=SIZE, count=ORDER)
    return record(
        key=TEXT,
        name=TEXT,
        width_mm=SIZE,
        thickness_mm=SIZE,
        edges=list_of(run),
        length_mm=SIZE,
        buy_mm=SIZE,
    )


def _finish() -> Json:
    return record(
        item=TEXT,
        coats=ORDER,
        coverage_m2_per_litre=SIZE,
        pieces=list_of(TEXT),
        area_mm2=SIZE,
        volume_mm3=SIZE,
    )


def _check() -> Json:
    return record(
        code={"type": "string", "pattern": "^[A-Z][0-9]{3}$"},
        level={"enum": ["error", "warning"]},
        what=TEXT,
        where=TEXT,
        accepted={"type": ["string", "null"], "description": "The maker's reason, if accepted."},
    )


def _strength() -> Json:
    load = record(kg=SIZE, per={"enum": ["", "m", "sq m"]}, on_one_spot=TRUTH)
    sag = record(
        piece=TEXT,
        load=load,
        load_kg=SIZE,
        held_at={"enum": ["both ends", "one end"]},
        span_mm=SIZE,
        sag_mm=SIZE,
        allowed_mm=SIZE,
        stiffened_by=list_of(TEXT),
    )
    tipping = record(
        to=TEXT, behind_mm=NUMBER, push_n=NUMBER, push_at_mm=SIZE, tilt_deg=NUMBER, mass_kg=SIZE
    )
    step = record(piece=TEXT, load=load, to=TEXT, beyond_mm=NUMBER, most_mm=NUMBER)
    return {
        **record(
            sags=list_of(sag),
            tipping={"anyOf": [tipping, {"type": "null"}]},
            steps=list_of(step),
        ),
        "description": "What parts carry and how far they sag; what tips the empty piece while "
        "nothing else holds it, null where it hangs on a wall; loads on one spot, how far outside "
        "the base they press and may press. Figures, not a certificate.",
    }


def _figures() -> Json:
    counts = ("parts", "pieces", "sheets", "boards", "cuts", "settings", "screws", "holes", "steps")
    return record(
        overall_mm=tuple_of(SIZE, 3),
        mass_kg=SIZE,
        center_mm=tuple_of(NUMBER, 3),
        board_mm=SIZE,
        **dict.fromkeys(counts, COUNT),
        cost=_cost(),
    )


def _cost() -> Json:
    costs = record(
        amount=SIZE, bound=SIZE, currency=TEXT, unpriced=list_of(TEXT), proved_least=TRUTH
    )
    return {
        "anyOf": [costs, {"type": "null"}],
        "description": "Of sheets and boards together; null where no price is known. bound: no "
        "plan costs less. unpriced: stocks without prices, not counted.",
    }
