"""The drawings a booklet shows: those of the pages, with their texts on boxes of paper."""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

from generator.model.artifacts import Picture
from generator.outputs.booklet.items import Figure
from generator.outputs.scene import Area, Item, Scene, Words
from generator.outputs.svg import write_svg
from generator.outputs.text_width import ASCENT_EM, DESCENT_EM, text_width_mm

BESIDE_TEXT_MM = 0.45
"""How far the paper under a text reaches out beside it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawings:
    """The drawings of a plan, and which of them a booklet uses.

    Attributes:
        scenes: All drawings of the pages, by path.
        used: Grows with every drawing asked for: the files the typesetter must be given.
    """

    scenes: Mapping[str, Scene]
    used: dict[str, bytes] = field(default_factory=dict)

    def figure(self, picture: Picture, *, states_scale: bool = False) -> Figure:
        """Return a drawing of the pages for the booklet."""
        scene = self.scenes[picture.path]
        self.used[picture.path] = write_svg(_for_paper(scene)).encode("utf-8")
        return Figure(
            file=picture.path,
            alt=scene.description,
            width_mm=scene.width_mm,
            height_mm=scene.height_mm,
            states_scale=states_scale,
        )


def _for_paper(scene: Scene) -> Scene:
    """Return a drawing whose texts stand on boxes of paper.

    A typesetter paints a halo letter by letter, and every one over the letter before it.
    """
    return replace(scene, items=tuple(one for item in scene.items for one in _boxed(item)))


def _boxed(item: Item) -> Iterator[Item]:
    if isinstance(item, Words) and item.halo:
        yield Area(rings=(_box(item),), tone="bubble")
        yield replace(item, halo=False)
    else:
        yield item


def _box(words: Words) -> tuple[tuple[float, float], ...]:
    """Return the corners of the box around a text, turned as it is."""
    width = text_width_mm(words.text, words.size_mm, words.bold)
    left = {"start": 0.0, "middle": -width / 2, "end": -width}[words.anchor] - BESIDE_TEXT_MM
    right = left + width + 2 * BESIDE_TEXT_MM
    low, high = -DESCENT_EM * words.size_mm, ASCENT_EM * words.size_mm
    cos = math.cos(math.radians(words.angle_deg))
    sin = math.sin(math.radians(words.angle_deg))
    x, y = words.at
    return tuple(
        (x + a * cos - b * sin, y + a * sin + b * cos)
        for a, b in ((left, low), (right, low), (right, high), (left, high))
    )
