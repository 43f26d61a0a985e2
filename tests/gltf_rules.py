"""An independent reading of GLB files: what glTF 2.0 forbids, and what a program would find in one.

Source: glTF 2.0 specification, Khronos Group (ISO/IEC 12113:2022), sections 3.5 scenes and nodes,
3.6 binary data, 3.7 geometry, 3.9 materials, 4.4 the binary container. Shares no code with the
writer.
"""

import json
import math
import struct
from collections import Counter
from typing import Any

import numpy as np

SIZES = {5121: 1, 5123: 2, 5125: 4, 5126: 4}
KINDS = {5121: "u1", 5123: "<u2", 5125: "<u4", 5126: "<f4"}
WIDTHS = {"SCALAR": 1, "VEC2": 2, "VEC3": 3, "VEC4": 4}
TURNED = 1e-5
"""How far the columns of a matrix may be off square or off length 1."""

Json = dict[str, Any]
Values = np.ndarray[tuple[int, ...], np.dtype[Any]]


def split_glb(data: bytes) -> tuple[Json, bytes]:
    """Return the JSON and the binary part of a GLB file.

    Raises:
        ValueError: The container is broken.
    """
    magic, version, length = struct.unpack_from("<4sII", data)
    if (magic, version, length) != (b"glTF", 2, len(data)):
        raise ValueError(f"header {magic!r}, version {version}, length {length} of {len(data)}")
    chunks, at = [], 12
    while at < len(data):
        size, kind = struct.unpack_from("<I4s", data, at)
        if size % 4 or at + 8 + size > len(data):
            raise ValueError(f"chunk {kind!r} of {size} bytes at {at}")
        chunks.append((kind, data[at + 8 : at + 8 + size]))
        at += 8 + size
    if [kind for kind, _ in chunks] != [b"JSON", b"BIN\0"]:
        raise ValueError(f"chunks {[kind for kind, _ in chunks]}")
    return json.loads(chunks[0][1].decode("utf-8")), chunks[1][1]


def find_faults(data: bytes) -> list[str]:
    """Return what is wrong with a GLB file; nothing where it keeps the rules."""
    told, binary = split_glb(data)
    faults = [] if told["asset"]["version"] == "2.0" else ["the version is not 2.0"]
    size = told["buffers"][0]["byteLength"]
    if not size <= len(binary) < size + 4 or any(binary[size:]):
        faults.append(f"a buffer of {size} bytes in a chunk of {len(binary)}")
    faults += _view_faults(told, size)
    if not faults:
        faults += _mesh_faults(told, binary)
    return faults + _node_faults(told) + _unused(told)


def read_accessor(told: Json, binary: bytes, number: int) -> Values:
    """Return the values of an accessor, a row for each element."""
    accessor = told["accessors"][number]
    view = told["bufferViews"][accessor["bufferView"]]
    start = view.get("byteOffset", 0) + accessor.get("byteOffset", 0)
    width = WIDTHS[accessor["type"]]
    kind = np.dtype(KINDS[accessor["componentType"]])
    values = np.frombuffer(binary, kind, accessor["count"] * width, start)
    return values.reshape(-1, width)


def _view_faults(told: Json, size: int) -> list[str]:
    faults = []
    for number, view in enumerate(told["bufferViews"]):
        if view["byteLength"] < 1 or view.get("byteOffset", 0) + view["byteLength"] > size:
            faults.append(f"buffer view {number} leaves its buffer")
    for number, accessor in enumerate(told["accessors"]):
        view = told["bufferViews"][accessor["bufferView"]]
        step = SIZES[accessor["componentType"]]
        start = accessor.get("byteOffset", 0)
        needed = accessor["count"] * WIDTHS[accessor["type"]] * step
        if (start + view.get("byteOffset", 0)) % step or start % step:
            faults.append(f"accessor {number} is not aligned")
        if accessor["count"] < 1 or start + needed > view["byteLength"]:
            faults.append(f"accessor {number} leaves its view")
    return faults


def _mesh_faults(told: Json, binary: bytes) -> list[str]:
    faults = []
    for mesh in told["meshes"]:
        for primitive in mesh["primitives"]:
            name = mesh["name"]
            attributes = primitive["attributes"]
            places = read_accessor(told, binary, attributes["POSITION"])
            normals = read_accessor(told, binary, attributes["NORMAL"])
            indices = read_accessor(told, binary, primitive["indices"])[:, 0]
            bounds = told["accessors"][attributes["POSITION"]]
            if [bounds.get("min"), bounds.get("max")] != [
                [float(value) for value in edge]
                for edge in (places.min(axis=0), places.max(axis=0))
            ]:
                faults.append(f"the bounds of {name} are not those of its corners")
            if len(normals) != len(places):
                faults.append(f"{name} has {len(normals)} normals for {len(places)} corners")
            if np.abs(np.linalg.norm(normals, axis=1) - 1.0).max() > TURNED:
                faults.append(f"a normal of {name} is not of length 1")
            if len(indices) % 3 or indices.max() >= len(places):
                faults.append(f"the triangles of {name} leave its corners")
            if primitive.get("material", 0) >= len(told["materials"]):
                faults.append(f"the material of {name} is not there")
    return faults


def _node_faults(told: Json) -> list[str]:
    nodes = told["nodes"]
    parents = Counter(child for node in nodes for child in node.get("children", ()))
    faults = [f"node {child} has {count} parents" for child, count in parents.items() if count > 1]
    roots = told["scenes"][told["scene"]]["nodes"]
    faults += [f"node {root} is no root" for root in roots if root in parents]
    reached, waiting = set(), list(roots)
    while waiting:
        number = waiting.pop()
        if number in reached or not 0 <= number < len(nodes):
            return [*faults, f"node {number} is reached twice or is not there"]
        reached.add(number)
        waiting += nodes[number].get("children", ())
    faults += [f"node {n} is in no scene" for n in range(len(nodes)) if n not in reached]
    for node in nodes:
        if not 0 <= node.get("mesh", 0) < len(told["meshes"]):
            faults.append(f"the mesh of {node['name']} is not there")
        if "matrix" in node and not _only_turns_and_moves(node["matrix"]):
            faults.append(f"the matrix of {node['name']} does more than turn and move")
    return faults


def _only_turns_and_moves(values: list[float]) -> bool:
    matrix = np.array(values, dtype=np.float64).reshape(4, 4).T
    turn = matrix[:3, :3]
    square = np.abs(turn.T @ turn - np.eye(3)).max() < TURNED
    last = matrix[3].tolist() == [0.0, 0.0, 0.0, 1.0]
    return bool(square and last and math.isclose(np.linalg.det(turn), 1.0, abs_tol=TURNED))


def _unused(told: Json) -> list[str]:
    primitives = [one for mesh in told["meshes"] for one in mesh["primitives"]]
    used = {
        "accessors": {
            n for one in primitives for n in (*one["attributes"].values(), one["indices"])
        },
        "bufferViews": {one["bufferView"] for one in told["accessors"]},
        "materials": {one["material"] for one in primitives},
        "meshes": {node["mesh"] for node in told["nodes"] if "mesh" in node},
    }
    return [
        f"{name} {number} is used by nothing"
        for name, numbers in used.items()
        for number in range(len(told[name]))
        if number not in numbers
    ]
