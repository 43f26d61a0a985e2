"""What labels on one face of a part keep off, as boxes: holes, hardware, openings, layout lines."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from generator.model.joinery import BoredHole
from generator.model.work import Work
from generator.outputs.face_paper import FacePaper, draw_breaks
from generator.outputs.hardware_marks import hardware_boxes
from generator.outputs.outline_points import draw_point_numbers, outside_boxes
from generator.outputs.panels import (
    Box,
    Boxes,
    as_array,
    box_of,
    dots_along,
    grown,
    words_box,
)
from generator.outputs.part_bores import find_drawn, hole_box
from generator.outputs.part_view import face_number


@dataclass(frozen=True, slots=True)
class FaceBoxes:
    """Where things are on a face before anything is written on it.

    Attributes:
        holes: Those that are drawn, with the box around each.
        hardware: The box around every mark for hardware, and what it is called.
        fixed: Openings, what is outside a free outline, and its numbers.
        lines: Small boxes along layout lines, channels and breaks.
    """

    holes: Mapping[BoredHole, Box]
    hardware: tuple[tuple[Box, str], ...]
    fixed: Boxes
    lines: Boxes


def find_face_boxes(paper: FacePaper, work: Work) -> FaceBoxes:
    """Return where things are on the face looked at."""
    return FaceBoxes(
        holes={hole: hole_box(paper, hole) for hole in find_drawn(paper, work)},
        hardware=hardware_boxes(paper, work),
        fixed=_fixed_boxes(paper),
        lines=_line_boxes(paper, work),
    )


def _fixed_boxes(paper: FacePaper) -> Boxes:
    openings = [grown(paper.outline(o.outline).bounds, 1.0) for o in paper.part.openings]
    numbers = [words_box(word) for word in draw_point_numbers(paper)]
    return np.concatenate((as_array([*openings, *numbers]), outside_boxes(paper)))


def _line_boxes(paper: FacePaper, work: Work) -> Boxes:
    breaks = as_array(grown(box_of(item), 0.5) for item in draw_breaks(paper))
    shapes = [mark.outline for mark in work.marks if mark.side == face_number(paper.view.face)]
    shapes += [housing.outline.points for housing in paper.part.housings]
    lines = [[paper.point(point) for point in (*shape, shape[0])] for shape in shapes]
    return np.concatenate((breaks, dots_along(lines)))
