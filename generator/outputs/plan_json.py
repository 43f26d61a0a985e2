"""The plan for programs: plan.json, in mm and degrees, as `plan_schema` describes it.

Sizes are rounded to 0.001 mm and angles to 0.0001 degrees. Corners, frames and directions keep
six decimals, so that areas and positions worked out from them agree with the plan.
"""

import json
from collections.abc import Mapping
from typing import Any

from generator.geometry.outlines import Outline
from generator.geometry.vectors import Vec3
from generator.model.assembly import Mark, Step
from generator.model.catalogue import Tool
from generator.model.cutting import Cut, Layout, Setting
from generator.model.edition import Parameter
from generator.model.joinery import Fastener, Joint
from generator.model.plan import Plan
from generator.model.words import setting_tool
from generator.outputs.fitting_json import fitting_to_dict
from generator.outputs.part_json import part_to_dict, side_name
from generator.outputs.plan_schema import FORMAT, GENERATOR, VERSION
from generator.outputs.rounding import deg, fine, mm, points, vector
from generator.outputs.router_json import router_to_dict
from generator.outputs.shop_json import shop_to_dict
from generator.outputs.strength_json import strength_to_dict
from generator.problems import Problem

Json = dict[str, Any]

PARAMETER_UNITS = {
    "length": "mm",
    "angle": "deg",
    "mass": "kg",
    "number": "",
    "truth": "yes/no",
}


def plan_json(plan: Plan) -> bytes:
    """Return plan.json: UTF-8, indented, keys in the order of the schema."""
    text = json.dumps(plan_to_dict(plan), ensure_ascii=False, indent=1, allow_nan=False)
    return (text + "\n").encode("utf-8")


def plan_to_dict(plan: Plan) -> Json:
    """Return a plan as numbers, words, lists and dicts, everything in a fixed order."""
    story = plan.edition.story
    return {
        "format": FORMAT,
        "version": VERSION,
        "generator": GENERATOR,
        "plan": story.slug,
        "size": story.size,
        "edition": plan.edition.system,
        "revision": story.revision,
        "date": story.date,
        "title": story.title,
        "parameters": {one.name: _parameter(one) for one in plan.edition.parameters},
        "parts": [part_to_dict(plan, part) for part in plan.parts.parts],
        "sheets": [_sheet(plan, layout) for layout in plan.cutting.layouts],
        "boards": [_sheet(plan, layout) for layout in plan.cutting.boards],
        **router_to_dict(plan.cutting),
        **shop_to_dict(plan.cutting),
        "settings": [_setting(setting, plan.edition.saw) for setting in plan.cutting.settings],
        "settings_need": {
            "settings": plan.cutting.settings_need.settings,
            "bound": plan.cutting.settings_need.bound,
            "proved_least": plan.cutting.settings_need.proved_least,
        },
        "joints": [row for joint in plan.joinery.joints for row in _joints(plan, joint)],
        "fasteners": _fasteners(plan),
        "steps": [_step(plan, step) for step in plan.assembly.steps],
        **fitting_to_dict(plan.fitting, plan.edition.hardware),
        "shopping": [
            {
                "item": one.item,
                "quantity": mm(one.quantity),
                "unit": one.unit,
                "note": one.note,
                "price": one.price,
                "owned": one.is_owned,
            }
            for one in plan.shopping
        ],
        "checks": [_check(problem) for problem in plan.problems],
        "strength": strength_to_dict(plan.strength, plan.parts),
        "figures": _figures(plan),
    }


def _parameter(parameter: Parameter) -> Json:
    quantity = parameter.quantity
    value: float | bool = fine(float(quantity))
    if quantity.kind == "truth":
        value = bool(quantity.value)
    return {"value": value, "unit": PARAMETER_UNITS[quantity.kind], "says": parameter.says}


def _sheet(plan: Plan, layout: Layout) -> Json:
    cutting = plan.cutting
    is_least = {need.stock.name: need.proved_least for need in cutting.needs}
    is_least.update({need.stock.name: need.proved_least for need in cutting.board_needs})
    return {
        "number": layout.number,
        "stock": layout.stock.name,
        "material": layout.stock.title,
        "size": layout.size.name,
        "size_mm": [mm(layout.size.length_mm), mm(layout.size.width_mm)],
        "thickness_mm": mm(layout.stock.thickness_mm),
        "mass_kg": mm(layout.mass_kg),
        "has_grain": layout.stock.has_grain,
        "trim_mm": [mm(value) for value in layout.trim_mm],
        "kerf_mm": mm(layout.kerf_mm),
        "price": layout.size.price,
        "owned": layout.size.is_owned,
        "placements": [
            {
                "label": one.label,
                "copy": one.copy,
                "x_mm": mm(one.x_mm),
                "y_mm": mm(one.y_mm),
                "length_mm": mm(one.length_mm),
                "width_mm": mm(one.width_mm),
                "turned": one.turned,
            }
            for one in layout.placements
        ],
        "cuts": [_cut(cut) for cut in layout.cuts],
        "offcuts": [
            {
                "x_mm": mm(one.x_mm),
                "y_mm": mm(one.y_mm),
                "length_mm": mm(one.length_mm),
                "width_mm": mm(one.width_mm),
            }
            for one in layout.offcuts
        ],
        "used": round(layout.used, 4),
        "proved_least": is_least[layout.stock.name],
    }


def _cut(cut: Cut) -> Json:
    return {
        "order": cut.order,
        "setting": cut.setting,
        "kind": cut.kind,
        "setting_mm": mm(cut.setting_mm),
        "from": [mm(value) for value in cut.start],
        "to": [mm(value) for value in cut.end],
        "of": cut.of,
        "frees": cut.frees,
    }


def _setting(setting: Setting, saw: Tool) -> Json:
    return {
        "order": setting.order,
        "kind": setting.kind,
        "tool": setting_tool(setting.kind, saw),
        "value_mm": mm(setting.value_mm),
        "tilt_deg": deg(setting.tilt_deg),
        "mitre_deg": deg(setting.mitre_deg),
        "pieces": list(setting.pieces),
        "where": [setting.where] if setting.where else [],
        "cuts": setting.cuts,
    }


def _joints(plan: Plan, joint: Joint) -> list[Json]:
    """Return one entry for each pair of pieces, with the screws that pass through both."""
    through = {one.id: one.through for one in plan.joinery.fasteners}
    return [
        {
            "id": joint.id,
            "between": list(pair),
            "with": joint.with_,
            "glue": joint.glue,
            "fasteners": [
                name for name in joint.fasteners if all(piece in through[name] for piece in pair)
            ],
        }
        for pair in joint.between
    ]


def _fasteners(plan: Plan) -> list[Json]:
    steps = {name: step.order for step in plan.assembly.steps for name in step.fasteners}
    return [_fastener(one, steps) for one in plan.joinery.fasteners]


def _fastener(fastener: Fastener, steps: Mapping[str, int]) -> Json:
    screw = fastener.goods
    return {
        "id": fastener.id,
        "joint": fastener.joint,
        "kind": screw.kind,
        "size": screw.name,
        "diameter_mm": mm(screw.diameter_mm),
        "length_mm": mm(screw.length_mm),
        "head_mm": _at(fastener.head),
        "tip_mm": _at(fastener.tip),
        "direction": vector(fastener.direction),
        "through": list(fastener.through),
        "step": steps.get(fastener.id),
        "hidden": fastener.hidden,
    }


def _step(plan: Plan, step: Step) -> Json:
    return {
        "order": step.order,
        "title": step.title,
        "parts": list(step.pieces),
        "present": list(step.present),
        "fasteners": list(step.fasteners),
        "glued": [list(pair) for pair in step.glued],
        "subassembly": step.apart or None,
        "joins": list(step.joins),
        "hardware": list(step.hardware),
        "says": step.says,
        "cautions": list(step.cautions),
        "marks": [_mark(plan, mark) for mark in step.marks],
    }


def _mark(plan: Plan, mark: Mark) -> Json:
    return {
        "on": mark.label,
        "copies": list(mark.copies),
        "side": side_name(plan.parts.part(mark.label), mark.side),
        "mate": mark.mate,
        "outline_mm": points(Outline(mark.outline)),
        "edge": mark.edge,
        "from_mm": mm(mark.from_mm),
        "to_mm": mm(mark.to_mm),
    }


def _check(problem: Problem) -> Json:
    place = problem.place
    where = "" if place is None else f"{place.file}:{place.line}"
    if place is not None and place.key:
        where = f"{where} {place.key}"
    return {
        "code": problem.code,
        "level": problem.level,
        "what": problem.what,
        "where": where,
        "accepted": problem.accepted or None,
    }


def _figures(plan: Plan) -> Json:
    parts, cutting = plan.parts, plan.cutting
    low, high = parts.low, parts.high
    return {
        "overall_mm": [mm(high[axis] - low[axis]) for axis in range(3)],
        "mass_kg": mm(parts.mass_kg),
        "center_mm": _at(parts.center),
        "parts": len(parts.parts),
        "pieces": len(parts.pieces()),
        "sheets": len(cutting.layouts),
        "boards": len(cutting.boards),
        "board_mm": mm(sum(board.size.length_mm for board in cutting.boards)),
        "cuts": sum(len(layout.cuts) for layout in cutting.all_layouts()),
        "settings": len(cutting.settings),
        "screws": len(plan.joinery.fasteners),
        "holes": len(plan.joinery.holes),
        "steps": len(plan.assembly.steps),
        "cost": _cost(plan),
    }


def _cost(plan: Plan) -> Json | None:
    """Return what sheets and boards cost together, None where no price is known."""
    need = plan.cutting.cost_need()
    if need is None:
        return None
    return {
        "amount": need.cost,
        "bound": need.bound,
        "currency": plan.edition.catalogue.currency.get(plan.edition.system, ""),
        "unpriced": [stock.name for stock in need.unpriced],
        "proved_least": need.proved_least,
    }


def _at(point: Vec3) -> list[float]:
    return [mm(value) for value in point]
