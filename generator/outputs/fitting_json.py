"""What goes onto the parts, for programs: hardware, edging, finishes and glue, with amounts."""

from typing import Any

from generator.model.fitting import EdgingNeed, FinishNeed, Fitting
from generator.model.hardware import HardwareSpec, Mounted
from generator.model.parts import FACE_A
from generator.outputs.rounding import fine, mm

Json = dict[str, Any]


def fitting_to_dict(fitting: Fitting, hardware: tuple[HardwareSpec, ...]) -> Json:
    """Return the entries ``hardware``, ``edging``, ``finishes`` and ``glue``."""
    glue = fitting.glue
    return {
        "hardware": [_hardware(spec, fitting.mounted) for spec in hardware],
        "edging": [_edging(need) for need in fitting.edgings],
        "finishes": [_finish(need) for need in fitting.finishes],
        "glue": None
        if glue is None
        else {"area_mm2": mm(glue.area_mm2), "volume_mm3": mm(glue.volume_mm3)},
    }


def _hardware(spec: HardwareSpec, mounted: tuple[Mounted, ...]) -> Json:
    return {
        "name": spec.name,
        "item": spec.item,
        "pieces": list(spec.pieces),
        "count": spec.count,
        "screw": spec.screw,
        "screws_each": spec.screws,
        "anchor": spec.is_anchor,
        "places": [
            {
                "piece": one.piece,
                "side": "A" if one.side == FACE_A else "B",
                "at_mm": [mm(value) for value in one.at],
            }
            for one in mounted
            if one.name == spec.name
        ],
    }


def _edging(need: EdgingNeed) -> Json:
    return {
        "key": need.edging.key,
        "name": need.edging.name,
        "width_mm": mm(need.edging.width_mm),
        "thickness_mm": mm(need.edging.thickness_mm),
        "edges": [
            {
                "label": run.label,
                "edge": run.edge,
                "length_mm": mm(run.length_mm),
                "count": run.count,
            }
            for run in need.runs
        ],
        "length_mm": mm(need.length_mm),
        "buy_mm": mm(need.buy_mm),
    }


def _finish(need: FinishNeed) -> Json:
    return {
        "item": need.spec.item,
        "coats": need.spec.coats,
        "coverage_m2_per_litre": fine(need.spec.coverage_per_mm),
        "pieces": list(need.pieces),
        "area_mm2": mm(need.area_mm2),
        "volume_mm3": mm(need.volume_mm3),
    }
