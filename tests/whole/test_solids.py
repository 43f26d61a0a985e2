"""The solids of every demo plan, read back by others: GLB files, and the scripts of the pages.

References: trimesh for volumes, closed skins and places; the rules of glTF 2.0; plan.json.
"""

import gzip
import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import trimesh

from tests.gltf_rules import find_faults
from tests.unit.outputs.solid.test_page_model import read_script

pytestmark = pytest.mark.whole

CHORDS = 2e-4
"""What chords of 0.02 mm take off or add where a part has arcs, as a share of its volume."""

CHORD_MM = 0.02
"""How far a chord leaves its arc."""

LARGEST_SCRIPT = 20_000
"""Bytes on the wire."""

Json = dict[str, Any]


@pytest.fixture(scope="module")
def plans(demo_build: Path) -> list[tuple[Path, Json]]:
    """Return the folder of files and plan.json of every plan of the demo library."""
    found = sorted((demo_build / "docs" / "plans").glob("*/files/*/plan.json"))
    return [(path.parent, json.loads(path.read_text(encoding="utf-8"))) for path in found]


def closed(mesh: trimesh.Trimesh) -> trimesh.Trimesh:
    """Return a mesh whose flat faces share their corners again."""
    joined = mesh.copy()
    joined.merge_vertices(merge_norm=True, merge_tex=True)
    return joined


def test_every_glb_keeps_the_rules_of_the_standard(plans: list[tuple[Path, Json]]) -> None:
    assert len(plans) >= 16
    assert [(folder, find_faults((folder / "model.glb").read_bytes())) for folder, _ in plans] == [
        (folder, []) for folder, _ in plans
    ]


def test_every_piece_of_a_glb_is_closed_and_has_the_volume_of_its_part(
    plans: list[tuple[Path, Json]],
) -> None:
    for folder, plan in plans:
        scene = trimesh.load_scene(folder / "model.glb")
        parts = {one["name"]: part for part in plan["parts"] for one in part["placed"]}
        shown = {name: scene.graph[name] for name in scene.graph.nodes_geometry}

        assert sorted(parts) == sorted(shown), folder
        for name, (_, geometry) in shown.items():
            mesh = closed(scene.geometry[geometry])
            assert mesh.is_watertight, (folder, name)
            part = parts[name]
            # A circle loses 8/3 of the height of its chords by its diameter; rounding adds more.
            is_round = part["section"] == "round"
            share = 3 * CHORD_MM / part["thickness_mm"] if is_round else CHORDS
            volume = part["volume_mm3"]
            assert volume == pytest.approx(mesh.volume * 1e9, rel=share), (folder, name)


def test_every_piece_of_a_glb_stands_where_the_plan_has_it(plans: list[tuple[Path, Json]]) -> None:
    """Right stays x, up is y, the front is z; a matrix has metres where the plan has mm."""
    to_standard = np.array([[1, 0, 0, 0], [0, 0, 1, 0], [0, -1, 0, 0], [0, 0, 0, 1]], dtype=float)
    for folder, plan in plans:
        scene = trimesh.load_scene(folder / "model.glb")
        for part in plan["parts"]:
            for one in part["placed"]:
                wanted = to_standard @ np.array(one["frame"])
                wanted[:3, 3] /= 1000
                assert wanted == pytest.approx(scene.graph[one["name"]][0], abs=2e-6)
        overall = np.array(plan["figures"]["overall_mm"])[[0, 2, 1]] / 1000
        assert overall == pytest.approx(np.ptp(scene.bounds, axis=0), abs=2e-4), folder


def test_the_script_of_a_page_holds_closed_solids_of_the_right_volume_and_is_small(
    plans: list[tuple[Path, Json]],
) -> None:
    for folder, plan in plans:
        path = folder.parents[1] / "drawings" / folder.name / "solid.js"
        told = read_script(path.read_bytes())

        assert [part["label"] for part in plan["parts"]] == [one["label"] for one in told["parts"]]
        for part, one in zip(plan["parts"], told["parts"], strict=True):
            corners = np.array(one["points"]).reshape(-1, 3) / 10
            mesh = trimesh.Trimesh(corners, np.array(one["triangles"]).reshape(-1, 3))
            assert mesh.is_watertight, (folder, part["label"])
            assert part["volume_mm3"] == pytest.approx(mesh.volume, rel=0.02)
        assert len(gzip.compress(path.read_bytes())) <= LARGEST_SCRIPT
