"""GLB files of the sample against the rules of glTF 2.0, and the checker against spoiled files.

Sources: the glTF 2.0 specification (see `tests.gltf_rules`), and trimesh as a reader of our own.
"""

import io
import json
import struct
from collections.abc import Callable

import pytest
import trimesh

from generator.model.plan import Plan
from generator.outputs.solid.glb import write_glb
from generator.units import SYSTEMS, System
from tests.gltf_rules import Json, find_faults, split_glb
from tests.samples import sample_plan


def packed(told: Json, binary: bytes) -> bytes:
    """Return a GLB file, put together here and not by the writer."""
    text = json.dumps(told).encode()
    text += b" " * (-len(text) % 4)
    chunks = struct.pack("<I4s", len(text), b"JSON") + text
    chunks += struct.pack("<I4s", len(binary), b"BIN\0") + binary
    return struct.pack("<4sII", b"glTF", 2, 12 + len(chunks)) + chunks


@pytest.fixture(scope="module")
def plan() -> Plan:
    return sample_plan("metric")


@pytest.mark.parametrize("system", SYSTEMS)
def test_the_file_keeps_the_rules(system: System) -> None:
    assert find_faults(write_glb(sample_plan(system))) == []


def test_every_piece_is_a_node_that_shares_the_mesh_of_its_part(plan: Plan) -> None:
    told, _ = split_glb(write_glb(plan))
    shown = {node["name"]: told["meshes"][node["mesh"]]["name"] for node in told["nodes"][1:]}

    assert {
        piece.name: f"{part.label} {part.title}"
        for part in plan.parts.parts
        for piece in part.pieces
    } == shown
    assert len(plan.parts.parts) == len(told["meshes"])


def test_up_is_y_the_front_is_z_and_lengths_are_metres(plan: Plan) -> None:
    scene = trimesh.load_scene(io.BytesIO(write_glb(plan)), file_type="glb")
    (left, front, bottom), (right, back, top) = plan.parts.low, plan.parts.high
    low, high = scene.bounds.tolist()

    assert [left / 1000, bottom / 1000, -back / 1000] == pytest.approx(low, abs=1e-6)
    assert [right / 1000, top / 1000, -front / 1000] == pytest.approx(high, abs=1e-6)


def _version(told: Json) -> None:
    told["asset"]["version"] = "1.0"


def _bounds(told: Json) -> None:
    told["accessors"][0]["max"][0] += 0.001


def _too_long(told: Json) -> None:
    told["accessors"][2]["count"] += 3


def _off_four(told: Json) -> None:
    told["bufferViews"][0]["byteOffset"] += 1
    told["bufferViews"][0]["byteLength"] -= 1


def _mirrored(told: Json) -> None:
    matrix = told["nodes"][1]["matrix"]
    matrix[:3] = [-value for value in matrix[:3]]


def _two_parents(told: Json) -> None:
    told["nodes"][1]["children"] = [2]


def _no_mesh(told: Json) -> None:
    told["nodes"][1]["mesh"] = 99


def _swapped(told: Json) -> None:
    attributes = told["meshes"][0]["primitives"][0]["attributes"]
    attributes["NORMAL"] = attributes["POSITION"]


@pytest.mark.parametrize(
    "spoil",
    [_version, _bounds, _too_long, _off_four, _mirrored, _two_parents, _no_mesh, _swapped],
    ids=lambda spoil: spoil.__name__.strip("_"),
)
def test_a_spoiled_file_is_noticed(plan: Plan, spoil: Callable[[Json], None]) -> None:
    told, binary = split_glb(write_glb(plan))
    spoil(told)

    assert find_faults(packed(told, binary)) != []


def test_a_broken_container_is_noticed(plan: Plan) -> None:
    whole = write_glb(plan)

    assert find_faults(packed(*split_glb(whole))) == []
    for broken in (whole[:-4], b"gltf" + whole[4:], whole[:12] + whole[16:] + whole[:4]):
        with pytest.raises(ValueError, match=r"header|chunk"):
            split_glb(broken)
