"""Reads the files of shared/ and reports every fault in them at once."""

from collections.abc import Iterator
from pathlib import Path

from generator.catalogue.entries import EntryReader
from generator.catalogue.fixings import parse_bolts, parse_dowels, parse_screws
from generator.catalogue.kinds import (
    parse_board,
    parse_edging,
    parse_material,
    parse_sheet,
    parse_tool,
)
from generator.model.catalogue import Board, Catalogue, Material, Sheet
from generator.problems import Place, ProblemLog
from generator.yaml_source.getters import find_entries
from generator.yaml_source.parse import parse_yaml


def read_catalogue(folder: Path, log: ProblemLog) -> Catalogue | None:
    """Return the catalogue of a folder, None where any entry of it is at fault.

    Args:
        folder: Holds materials.yml, sheets.yml, screws.yml and a file for every other kind.
        log: Gets every fault.
    """
    known = len(log.problems)
    materials: dict[str, Material] = {}
    listed: list[str] = []
    for entry in _read_entries(folder, "materials", log):
        listed.append(entry.name)
        material = parse_material(entry)
        if material is not None:
            materials[material.key] = material
    sheets: dict[str, Sheet] = {}
    for entry in _read_entries(folder, "sheets", log):
        sheet = parse_sheet(entry, log, materials, listed)
        if sheet is not None:
            sheets[sheet.key] = sheet
    boards: dict[str, Board] = {}
    for entry in _read_entries(folder, "boards", log):
        board = parse_board(entry, materials, listed)
        if board is not None:
            boards[board.key] = board
    screws = [s for e in _read_entries(folder, "screws", log) for s in parse_screws(e, log)]
    dowels = [d for e in _read_entries(folder, "dowels", log) for d in parse_dowels(e)]
    bolts = [b for e in _read_entries(folder, "bolts", log) for b in parse_bolts(e)]
    tools = [parse_tool(entry) for entry in _read_entries(folder, "tools", log)]
    bands = [parse_edging(entry) for entry in _read_entries(folder, "edgings", log)]
    if len(log.problems) > known:
        return None
    return Catalogue(
        sheets=sheets,
        boards=boards,
        screws={screw.key: screw for screw in screws},
        dowels={dowel.key: dowel for dowel in dowels},
        bolts={bolt.key: bolt for bolt in bolts},
        materials=materials,
        tools={tool.key: tool for tool in tools if tool is not None},
        edgings={edging.key: edging for edging in bands if edging is not None},
    )


def _read_entries(folder: Path, name: str, log: ProblemLog) -> Iterator[EntryReader]:
    path = folder / f"{name}.yml"
    try:
        source = path.read_bytes()
    except OSError as error:
        why = error.strerror or "it is not there"
        log.add("D115", Place(file=path.as_posix(), line=1, column=1), why=why.lower())
        return
    node = parse_yaml(source, path.as_posix(), log)
    top = None if node is None else find_entries(node, log, "a mapping of entries")
    if top is None:
        return
    for word, value in top.entries:
        entries = find_entries(value, log, "a mapping of names")
        if entries is not None:
            yield EntryReader(word.text, entries, log)
