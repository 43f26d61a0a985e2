"""The finished piece as a GLB file, for any program that shows solids.

Source: glTF 2.0, Khronos Group and ISO/IEC 12113:2022: binary container, right-handed, +Y up, +Z
to the front, metres. A part is one mesh; every piece is a node of its own that shares it.
"""

import json
import struct
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any, Final

from generator.geometry.vectors import Vec3, cross, norm, scale, subtract
from generator.model.edition import Stock
from generator.model.parts import Part, Piece
from generator.model.plan import Plan
from generator.outputs.plan_schema import GENERATOR
from generator.outputs.solid.meshes import FINE_MM, PartMesh, make_mesh

Json = dict[str, Any]

MAGIC: Final = 0x46546C67
JSON_CHUNK: Final = 0x4E4F534A
BINARY_CHUNK: Final = 0x004E4942
FLOATS: Final = 5126
NUMBERS: Final = 5125
CORNERS: Final = 34962
INDICES: Final = 34963
"""Codes of the standard: the file and its chunks, kinds of values, and what a buffer is for."""

PANEL_COLOUR: Final = (0.72, 0.57, 0.38, 1.0)
BOARD_COLOUR: Final = (0.60, 0.41, 0.22, 1.0)
"""Linear red, green, blue and cover: pale for sheets, a little darker for boards and rods."""

FINE_CHORD_MM: Final = 0.02
"""How far chords leave arcs: a rod of 25 mm keeps all but 1/460 of its volume."""

METRES: Final = 0.001
"""Of a millimetre."""


@dataclass(frozen=True, slots=True)
class _Blob:
    """The binary part as it grows, with the entries that say what lies where in it."""

    data: bytearray = field(default_factory=bytearray)
    views: list[Json] = field(default_factory=list)
    accessors: list[Json] = field(default_factory=list)


def write_glb(plan: Plan) -> bytes:
    """Return the whole piece as it stands, every piece by its name in plan.json."""
    blob = _Blob()
    stocks = tuple(dict.fromkeys(part.stock for part in plan.parts.parts))
    meshes = [_mesh(blob, part, stocks.index(part.stock)) for part in plan.parts.parts]
    nodes = [
        _node(number, part, piece)
        for number, part in enumerate(plan.parts.parts)
        for piece in part.pieces
    ]
    story = plan.edition.story
    whole = {"name": story.title, "children": list(range(1, len(nodes) + 1))}
    told: Json = {
        "asset": {"version": "2.0", "generator": GENERATOR},
        "scene": 0,
        "scenes": [{"name": story.title, "nodes": [0]}],
        "nodes": [whole, *nodes],
        "meshes": meshes,
        "materials": [_material(stock) for stock in stocks],
        "accessors": blob.accessors,
        "bufferViews": blob.views,
        "buffers": [{"byteLength": len(blob.data)}],
    }
    return _container(told, bytes(blob.data))


def _mesh(blob: _Blob, part: Part, material: int) -> Json:
    corners, normals, indices = _flat(make_mesh(part.slab, FINE_MM, FINE_CHORD_MM))
    attributes = {
        "POSITION": _add_vectors(blob, corners, bounded=True),
        "NORMAL": _add_vectors(blob, normals, bounded=False),
    }
    values = struct.pack(f"<{len(indices)}I", *indices)
    number = _add(blob, values, INDICES, NUMBERS, "SCALAR", len(indices))
    primitive = {"attributes": attributes, "indices": number, "material": material}
    return {"name": f"{part.label} {part.title}", "primitives": [primitive]}


def _flat(mesh: PartMesh) -> tuple[list[Vec3], list[Vec3], list[int]]:
    """Return corners in metres, their normals and the triangles; flat faces share no corner."""
    seen: dict[tuple[int, Vec3], int] = {}
    indices = []
    step = mesh.grid_mm * METRES
    for triangle in mesh.triangles:
        a, b, c = (mesh.points[i] for i in triangle)
        ahead = cross(subtract(b, a), subtract(c, a))
        size = norm(ahead)
        x, y, z = scale(ahead, 1 / size) if size else (0.0, 0.0, 1.0)
        normal = (round(x, 6) + 0.0, round(y, 6) + 0.0, round(z, 6) + 0.0)
        indices += [seen.setdefault((i, normal), len(seen)) for i in triangle]
    corners = [scale(mesh.points[i], step) for i, _ in seen]
    return corners, [normal for _, normal in seen], indices


def _add_vectors(blob: _Blob, vectors: Sequence[Vec3], *, bounded: bool) -> int:
    flat = [value for vector in vectors for value in vector]
    data = struct.pack(f"<{len(flat)}f", *flat)
    number = _add(blob, data, CORNERS, FLOATS, "VEC3", len(vectors))
    if bounded:
        stored = struct.unpack(f"<{len(flat)}f", data)
        axes = [stored[axis::3] for axis in range(3)]
        blob.accessors[number] |= {"min": [min(a) for a in axes], "max": [max(a) for a in axes]}
    return number


def _add(blob: _Blob, data: bytes, target: int, kind: int, shape: str, count: int) -> int:
    """Append values to the binary part and return the number of their accessor."""
    view = {"buffer": 0, "byteOffset": len(blob.data), "byteLength": len(data), "target": target}
    accessor = {
        "bufferView": len(blob.views),
        "componentType": kind,
        "count": count,
        "type": shape,
    }
    blob.data.extend(data)
    blob.views.append(view)
    blob.accessors.append(accessor)
    return len(blob.accessors) - 1


def _node(mesh: int, part: Part, piece: Piece) -> Json:
    frame = piece.frame
    columns = [(*_upright(way), 0.0) for way in (frame.x, frame.y, frame.z)]
    columns.append((*_upright(scale(frame.origin, METRES)), 1.0))
    return {
        "name": piece.name,
        "mesh": mesh,
        "matrix": [round(value, 9) + 0.0 for column in columns for value in column],
        "extras": {"part": part.label, "title": part.title, "copy": piece.copy},
    }


def _upright(vector: Vec3) -> Vec3:
    """Return a vector of the room, where z is up and y goes to the back, as the standard has it."""
    return (vector[0], vector[2], -vector[1])


def _material(stock: Stock) -> Json:
    colour = PANEL_COLOUR if stock.board is None else BOARD_COLOUR
    return {
        "name": stock.title,
        "pbrMetallicRoughness": {
            "baseColorFactor": list(colour),
            "metallicFactor": 0.0,
            "roughnessFactor": 0.9,
        },
    }


def _container(told: Json, data: bytes) -> bytes:
    """Return both chunks behind the header; each begins and ends at a multiple of 4 bytes."""
    text = json.dumps(told, ensure_ascii=False, separators=(",", ":"), allow_nan=False)
    body = _chunk(JSON_CHUNK, text.encode("utf-8"), b" ") + _chunk(BINARY_CHUNK, data, b"\0")
    return struct.pack("<III", MAGIC, 2, 12 + len(body)) + body


def _chunk(kind: int, data: bytes, filler: bytes) -> bytes:
    padded = data + filler * (-len(data) % 4)
    return struct.pack("<II", len(padded), kind) + padded
