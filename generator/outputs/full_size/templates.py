"""The templates of a plan: every shaped part at full size, on sheets of the edition's paper."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from generator.model.parts import FaceName, Part
from generator.model.plan import Plan
from generator.model.work import Work, find_work, format_names
from generator.outputs.booklet.paper import PAPERS, Paper
from generator.outputs.booklet.typeset import FONTS, typeset
from generator.outputs.full_size.alignment import find_alignment
from generator.outputs.full_size.draw_spots import find_shown
from generator.outputs.full_size.draw_tile import BAR_WORDS, Texts, draw_tile
from generator.outputs.full_size.shapes import Shape, find_shape
from generator.outputs.full_size.spots import (
    FaceWork,
    Spot,
    choose_face,
    find_face_work,
    find_row_spots,
)
from generator.outputs.full_size.tile_map import draw_map
from generator.outputs.full_size.tiles import Tile, choose_tiles
from generator.outputs.part_view import face_word
from generator.outputs.scene import Scene
from generator.outputs.svg import write_svg
from generator.units import System

NAME: Final = "templates.pdf"
POINTS: Final = (
    "Print at 100 %, without fitting to the page. Measure both bars on every sheet before you use "
    "it: where one is off, the printer has changed the size.",
    "Lay sheets of one part on each other so that the crosses of their seams meet, and tape them. "
    "A dotted line shows where the next sheet begins.",
    "The thick line is the edge of the face that is named; a dashed line is the other face, where "
    "an edge is bevelled. Chain lines run through the middles of openings.",
    "Crosses with a letter are middles of holes, with the letters of the part drawing: prick them "
    "with an awl. A dashed cross is bored from the other face: turn the paper over, printed side "
    "down on that face, the same edges on the same edges, and prick it there.",
    "Grey shapes are channels in the face that is named; dashed rectangles are layout lines, or "
    "channels in the other face. Layout lines of the other face stand on the part drawing.",
    "Lay the straight edges on those of the part, or on the lines you drew, and check the size of "
    "the part and the place of one hole with a rule before you cut or bore.",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Template:
    """A part, or copies of it that are worked alike, with its sheets.

    Attributes:
        shape: With everything that its sheets show.
        face_work: What is bored and marked.
        tiles: The sheets.
        copies: Names of the copies where not all are worked alike, else "".
        mirrored: Names of copies that are its mirror image, else "".
        others: What the other face is called on those.
    """

    shape: Shape
    face_work: FaceWork
    tiles: tuple[Tile, ...]
    copies: str
    mirrored: str
    others: str

    @property
    def part(self) -> Part:
        """The part."""
        return self.shape.part

    @property
    def face(self) -> str:
        """What the face is called that is seen."""
        return face_word(self.part, self.shape.piece, self.shape.view.face)


def templates_pdf(plan: Plan) -> bytes | None:
    """Return the templates of a plan, or None where straight cuts and a drill make every part."""
    paper = PAPERS[plan.edition.system]
    templates = [one for part in plan.parts.parts for one in _find_templates(plan, part, paper)]
    if not templates:
        return None
    files: dict[str, bytes] = {}
    story = plan.edition.story
    day = date.fromisoformat(story.date)
    told = [_told(plan, one, number, files) for number, one in enumerate(templates, start=1)]
    sheets = [
        _sheet(one, f"{number}-{tile.number}", tile, paper, files, plan.edition.system)
        for number, one in enumerate(templates, start=1)
        for tile in one.tiles
    ]
    data = {
        "title": f"{story.title}: templates at full size",
        "made_by": story.made_by,
        "date": [day.year, day.month, day.day],
        "fonts": list(FONTS),
        "paper": paper.told(),
        "points": list(POINTS),
        "parts": told,
        "sheets": sheets,
    }
    return typeset("templates", data, files, story.date)


def draw_templates(plan: Plan) -> tuple[Scene, ...]:
    """Return all sheets at full size, in their order."""
    system = plan.edition.system
    paper = PAPERS[system]
    return tuple(
        _draw(one, tile, paper, system)
        for part in plan.parts.parts
        for one in _find_templates(plan, part, paper)
        for tile in one.tiles
    )


def _find_templates(plan: Plan, part: Part, paper: Paper) -> Iterator[_Template]:
    """Yield a template for all copies that are worked alike; mirror images go with those."""
    works = find_work(plan, part)
    for work in works:
        face = choose_face(work)
        shape = None if work.mirror_of else find_shape(part, face, work.pieces[0])
        if shape is None:
            continue
        face_work = find_face_work(plan, part, work, shape.view)
        shown, tiles = choose_tiles(shape, [spot.box for spot in face_work.spots], paper)
        images = [one for one in works if one.mirror_of == work.names]
        yield _Template(
            shape=shown,
            face_work=face_work,
            tiles=tiles,
            copies=work.names if len(works) > 1 else "",
            mirrored=format_names(tuple(p.name for one in images for p in one.pieces)),
            others=_other_word(part, images, face),
        )


def _other_word(part: Part, images: Sequence[Work], face: FaceName) -> str:
    other: FaceName = "B" if face == "A" else "A"
    words = {face_word(part, piece, other): None for one in images for piece in one.pieces}
    return " or ".join(words)


def _told(plan: Plan, one: _Template, number: int, files: dict[str, bytes]) -> dict[str, object]:
    """Return what the first pages say of a part: its sheets, its holes, what it is laid against."""
    scene = draw_map(one.shape, one.face_work.spots, one.tiles)
    file = f"map-{number}.svg"
    files[file] = write_svg(scene).encode("utf-8")
    count = "1 sheet" if len(one.tiles) == 1 else f"{len(one.tiles)} sheets"
    copies = f" ({one.copies})" if one.copies else ""
    return {
        "title": f"{one.part.label}: {one.part.title}{copies}, {count}",
        "lines": [*_face_lines(one), *_region_lines(one, plan.edition.system)],
        "holes": [list(row) for row in _hole_rows(one)],
        "map": {"file": file, "width_mm": scene.width_mm, "alt": scene.description},
    }


def _sheet(
    one: _Template,
    name: str,
    tile: Tile,
    paper: Paper,
    files: dict[str, bytes],
    system: System,
) -> dict[str, object]:
    scene = _draw(one, tile, paper, system)
    file = f"tile-{name}.svg"
    files[file] = write_svg(scene).encode("utf-8")
    alt = f"{scene.title}. {scene.description}"
    return {"file": file, "alt": alt, "width_mm": scene.width_mm, "height_mm": scene.height_mm}


def _draw(one: _Template, tile: Tile, paper: Paper, system: System) -> Scene:
    part = one.part
    alignment = find_alignment(one.shape, one.tiles, tile.region, system)
    first, *others = _face_lines(one)
    heads = (
        f"{part.label}  {part.title}: template, tile {tile.number} of {len(one.tiles)}",
        f"{first} Print at 100 %: the bars must measure {BAR_WORDS[system]}.",
        alignment.words,
        *others,
    )
    texts = Texts(heads=heads, references=alignment.references)
    return draw_tile(one.shape, one.face_work, tile, one.tiles, paper, texts, system)


def _face_lines(one: _Template) -> list[str]:
    """Return which face is seen, of which copies, and what is done with the other hand's copies."""
    of = f" of {one.copies}" if one.copies else ""
    lines = [f"Seen on the {one.face} face{of}."]
    if one.mirrored:
        lines.append(
            f"Mirror image for {one.mirrored}: printed side down on the {one.others} face, and "
            "prick all lines through."
        )
    return lines


def _region_lines(one: _Template, system: System) -> list[str]:
    """Return for every region how its sheets are laid on the part."""
    lines = []
    for region in sorted({tile.region for tile in one.tiles}):
        numbers = [tile.number for tile in one.tiles if tile.region == region]
        alignment = find_alignment(one.shape, one.tiles, region, system)
        lines.append(f"{_tile_words(numbers)}: {alignment.words}")
    return lines


def _hole_rows(one: _Template) -> Iterator[tuple[str, str, str, str]]:
    """Yield for every row of the part drawing: letter, how it is bored, for what, which tiles."""
    for row in one.face_work.rows:
        spots = find_row_spots(one.face_work, row)
        yield row.letter, row.bore, row.cells[0], _where(one, spots)


def _where(one: _Template, spots: Sequence[Spot]) -> str:
    """Return on which tiles holes are: ``tiles 1, 2``, ``tile 1; 4 only on the part drawing``."""
    shown = {tile.number: find_shown(spots, tile) for tile in one.tiles}
    numbers = [number for number, found in shown.items() if found]
    missing = sum(all(spot not in found for found in shown.values()) for spot in spots)
    if not numbers:
        return "only on the part drawing"
    rest = f"; {missing} only on the part drawing" if missing else ""
    return f"{_tile_words(numbers).lower()}{rest}"


def _tile_words(numbers: Sequence[int]) -> str:
    plural = "s" if len(numbers) > 1 else ""
    return f"Tile{plural} {', '.join(str(number) for number in numbers)}"
