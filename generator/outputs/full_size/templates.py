"""The templates of a plan: every shaped part at full size, on sheets of the edition's paper."""

from collections.abc import Sequence
from datetime import date
from typing import Final

from generator.model.parts import Part
from generator.model.plan import Plan
from generator.outputs.booklet.paper import PAPERS, Paper
from generator.outputs.booklet.typeset import FONTS, typeset
from generator.outputs.full_size.alignment import find_alignment
from generator.outputs.full_size.draw_tile import BAR_WORDS, Texts, draw_tile
from generator.outputs.full_size.shapes import Shape, find_shape
from generator.outputs.full_size.tile_map import draw_map
from generator.outputs.full_size.tiles import Tile, lay_tiles, paper_size
from generator.outputs.part_view import face_word
from generator.outputs.svg import write_svg
from generator.units import System

NAME: Final = "templates.pdf"
POINTS: Final = (
    "Print at 100 %, without fitting to the page. Measure both bars on every sheet before you use "
    "it: where one is off, the printer has changed the size.",
    "Lay sheets of one part on each other so that the crosses meet, and tape them. A dotted line "
    "shows where the next sheet begins.",
    "The thick line is the edge of the face that is named; a dashed line is the other face, where "
    "an edge is bevelled. Chain lines are the middles of holes.",
    "Lay the straight edges on those of the part, or on the lines you drew, and check the size of "
    "the part with a rule before you cut. Screw holes stand on the part drawings.",
)


def templates_pdf(plan: Plan) -> bytes | None:
    """Return the templates of a plan, or None where straight cuts and a drill make every part."""
    system = plan.edition.system
    paper = PAPERS[system]
    files: dict[str, bytes] = {}
    parts: list[dict[str, object]] = []
    sheets: list[dict[str, object]] = []
    for part in plan.parts.parts:
        shape = find_shape(part)
        if shape is not None:
            tiles = lay_tiles(shape, paper)
            parts.append(_told(shape, tiles, files, system))
            sheets += [_sheet(shape, tile, tiles, paper, files, system) for tile in tiles]
    if not parts:
        return None
    story = plan.edition.story
    day = date.fromisoformat(story.date)
    data = {
        "title": f"{story.title}: templates at full size",
        "made_by": story.made_by,
        "date": [day.year, day.month, day.day],
        "fonts": list(FONTS),
        "paper": paper.told(),
        "points": list(POINTS),
        "parts": parts,
        "sheets": sheets,
    }
    return typeset("templates", data, files, story.date)


def _told(
    shape: Shape, tiles: Sequence[Tile], files: dict[str, bytes], system: System
) -> dict[str, object]:
    """Return what the first page says of a part: its sheets, and what they are laid against."""
    part = shape.part
    scene = draw_map(shape, tiles)
    file = f"map-{part.label}.svg"
    files[file] = write_svg(scene).encode("utf-8")
    count = "1 sheet" if len(tiles) == 1 else f"{len(tiles)} sheets"
    return {
        "title": f"{part.label}: {part.title}, {count}",
        "lines": [_face(part), *_region_lines(shape, tiles, system)],
        "map": {"file": file, "width_mm": scene.width_mm, "alt": scene.description},
    }


def _sheet(
    shape: Shape,
    tile: Tile,
    tiles: Sequence[Tile],
    paper: Paper,
    files: dict[str, bytes],
    system: System,
) -> dict[str, object]:
    part = shape.part
    alignment = find_alignment(shape, tiles, tile.region, system)
    heads = (
        f"{part.label}  {part.title}: template, tile {tile.number} of {len(tiles)}",
        f"{_face(part)} Print at 100 %: the bars must measure {BAR_WORDS[system]}.",
        alignment.words,
    )
    file = f"tile-{part.label}-{tile.number}.svg"
    files[file] = draw_tile(
        shape, tile, tiles, paper, Texts(heads=heads, references=alignment.references), system
    )
    width, height = paper_size(paper, is_wide=tile.is_wide)
    alt = f"{heads[0]}. {heads[1]} {heads[2]}"
    return {"file": file, "alt": alt, "width_mm": width, "height_mm": height}


def _face(part: Part) -> str:
    return f"Seen on the {face_word(part, part.pieces[0], 'A')} face."


def _region_lines(shape: Shape, tiles: Sequence[Tile], system: System) -> list[str]:
    """Return for every region how its sheets are laid on the part."""
    lines = []
    for region in sorted({tile.region for tile in tiles}):
        numbers = [str(tile.number) for tile in tiles if tile.region == region]
        which = f"Tile {numbers[0]}" if len(numbers) == 1 else f"Tiles {', '.join(numbers)}"
        lines.append(f"{which}: {find_alignment(shape, tiles, region, system).words}")
    return lines
