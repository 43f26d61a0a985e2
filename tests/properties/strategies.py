"""Designs drawn at random: a case of two sides on a mitred plinth, with shelves that may lean.

Corners are clipped and notched, edges bevelled, shelves bored and slotted, a rail is a board.

Every design drawn can be built; sizes are whole millimetres, angles whole degrees.
"""

import math
from dataclasses import dataclass, replace

from hypothesis import HealthCheck, Phase, settings
from hypothesis import strategies as st

NO_SHRINKING = (Phase.explicit, Phase.reuse, Phase.generate)
"""A whole plan takes a tenth of a second: making a failing one smaller would take minutes."""

WHOLE_PLANS = settings(
    max_examples=25,
    deadline=None,
    derandomize=True,
    phases=NO_SHRINKING,
    suppress_health_check=[HealthCheck.too_slow],
)
SINGLE_PARTS = settings(WHOLE_PLANS, max_examples=50)


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """The numbers of a case.

    Attributes:
        width: Outside, mm.
        lean: Of the shelves, about right, degrees.
        front: Tilt of the shelves' front edge, degrees, and the face its long point is on.
        clip: Legs of the clipped upper front corner of the sides, mm, down and back.
        notch: Legs of the notched upper back corner of the sides, mm, down and front.
        hole: Distances of a hole from the left and the front of the shelves, mm.
        slot: Whether there is a slot on the other side as well.
        plinth: Height of the mitred plinth the sides stand on, mm; 0 for none.
        rail: Whether a board joins the sides at the back.
        housed: How deep the shelves stand in the sides, and how far from their front the channels
            stop, mm; 0 for against, and for through.
        at: Where all of it stands, mm.
        turns: The turns of all of it, as written.
        names: What the two parts are called.
    """

    width: int
    depth: int
    height: int
    shelves: int
    lean: int
    front: tuple[int, str]
    clip: tuple[int, int] | None
    notch: tuple[int, int] | None
    hole: tuple[int, int]
    slot: bool
    plinth: int
    rail: bool
    housed: tuple[int, int] = (0, 0)
    at: tuple[int, int, int] = (0, 0, 0)
    turns: tuple[str, ...] = ()
    names: tuple[str, str] = ("side", "shelf")

    def moved(self, at: tuple[int, int, int]) -> "Case":
        """Return the case standing elsewhere."""
        return replace(self, at=at)

    def turned(self, turns: tuple[str, ...]) -> "Case":
        """Return the case turned."""
        return replace(self, turns=turns)

    def named(self, side: str, shelf: str) -> "Case":
        """Return the case with other names for its parts."""
        return replace(self, names=(side, shelf))

    def meets(self, side: str) -> str:
        """Return the rule of a shelf's edge at a side; only a square front can be notched."""
        depth, stop = self.housed
        if not depth:
            return f"against {side}"
        stopped = f"; stopped {stop} mm from front" if stop and not self.front[0] else ""
        return f"into {side} by {depth} mm{stopped}"

    def text(self) -> str:
        """Return the rest of the design file, from the stocks on: frames, parts, joints, steps."""
        side, shelf = self.names
        x, y, z = self.at
        turn = f", turn: [{', '.join(self.turns)}]" if self.turns else ""
        rules = []
        if self.clip is not None:
            rules.append("top front: clip {} mm down by {} mm back".format(*self.clip))
        if self.notch is not None:
            rules.append("top back: notch {} mm down by {} mm front".format(*self.notch))
        corners = f"\n    corners: {{{', '.join(rules)}}}" if rules else ""
        slot = ""
        if self.slot:
            slot = "\n      - {slot: [60 mm, 20 mm], along: back, "
            slot += "from right: 80 mm, from front: 90 mm}"
        tilt, face = self.front
        stick = "  stick: {imperial: stick-imperial, metric: stick-metric}\n" if self.rail else ""
        return f"""\
{stick}frames:
  whole: {{at: [{x} mm, {y} mm, {z} mm]{turn}}}
  level:
    in: whole
    each: number in 1..{self.shelves}
    at: [0 mm, 40 mm, number * 150 mm]
    turn: {self.lean} deg about right
parts:
  {side}:
    from: panel
    length: {self.height} mm
    width: {self.depth} mm
    frame: whole
    runs: {{length: up, width: back}}
    show: both{corners}
    at:
      left: {{}}
      right: {{mirrors: left, across: {{right: {self.width} mm / 2}}}}
  {shelf}:
    from: panel
    width: {self.depth - 100} mm
    frame: level
    runs: {{length: right, width: back}}
    show: top
    edges:
      left: {self.meets(f"{side}.left")}
      right: {self.meets(f"{side}.right")}
      front: bevel {tilt} deg, long on {face}
    openings:
      - {{hole: 20 mm, from left: {self.hole[0]} mm, from front: {self.hole[1]} mm}}{slot}
{self._more_parts()}joints:
  - {{join: {shelf} to {side}, with: pocket screws, pockets: bottom}}
{self._more_joints()}steps:
  - {{title: All of it, fit: "{", ".join((side, shelf, *self._more_names()))}"}}
"""

    def _more_names(self) -> tuple[str, ...]:
        return (("plinth", "end_piece") if self.plinth else ()) + (("rail",) if self.rail else ())

    def _more_parts(self) -> str:
        side, text = self.names[0], ""
        if self.plinth:
            text += f"""\
  plinth:
    from: panel
    width: {self.plinth} mm
    frame: whole
    runs: {{length: right, width: up}}
    edges: {{left: mitre with end_piece.left, right: mitre with end_piece.right}}
    at:
      near: {{corner: [0 mm, 0 mm, -{self.plinth} mm]}}
      far: {{mirrors: near, across: {{back: {self.depth} mm / 2}}}}
  end_piece:
    from: panel
    width: {self.plinth} mm
    frame: whole
    runs: {{length: back, width: up}}
    edges: {{front: mitre with plinth.near, back: mitre with plinth.far}}
    at:
      left: {{corner: [0 mm, 0 mm, -{self.plinth} mm]}}
      right: {{mirrors: left, across: {{right: {self.width} mm / 2}}}}
"""
        if self.rail:
            text += f"""\
  rail:
    from: stick
    frame: whole
    corner: [0 mm, {self.depth} mm - stick, 10 mm]
    runs: {{length: right, width: up}}
    edges: {{left: against {side}.left, right: against {side}.right}}
"""
        return text

    def _more_joints(self) -> str:
        side, text = self.names[0], ""
        if self.plinth:
            text += "  - {join: plinth to end_piece, with: glue}\n"
            text += f"  - {{join: end_piece.left to {side}.left, with: glue}}\n"
            text += f"  - {{join: end_piece.right to {side}.right, with: glue}}\n"
        if self.rail:
            text += f"  - {{join: rail to {side}, with: glue}}\n"
        return text


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """A panel with bevels, a clip, a notch, an arch and a hole; four tilts of its four edges.

    A notch cuts square edges only, and so does an arch: where they are, edges are square.
    """

    length: int
    width: int
    tilts: tuple[int, int, int, int]
    faces: tuple[str, str, str, str]
    clip: tuple[int, int] | None
    notch: tuple[int, int] | None
    arch: tuple[int, int] | None
    hole: tuple[int, int]
    slot: bool

    def work(self) -> str:
        """Return the edges, corners and openings as written, the panel running up and back."""
        names = ("bottom", "top", "front", "back")
        bottom, top, front, back = self.tilts
        tilts = (bottom, top, front, 0 if self.arch else back)
        tilts = (0, top, front, 0) if self.notch else tilts
        rules = [
            f"{name}: bevel {tilt} deg long on {face}"
            for name, tilt, face in zip(names, tilts, self.faces, strict=True)
            if tilt
        ]
        lines = [f"edges: {{{', '.join(rules)}}}"]
        corners = []
        if self.clip is not None:
            corners.append("top front: clip {} mm down by {} mm back".format(*self.clip))
        if self.notch is not None:
            corners.append("bottom back: notch {} mm up by {} mm front".format(*self.notch))
        if corners:
            lines.append(f"corners: {{{', '.join(corners)}}}")
        if self.arch is not None:
            lines.append("cuts: [{{arch: [{} mm, {} mm], in: back}}]".format(*self.arch))
        openings = ["{{hole: 20 mm, from bottom: {} mm, from front: {} mm}}".format(*self.hole)]
        if self.slot:
            openings.append(
                "{slot: [40 mm, 16 mm], along: up, from top: 160 mm, from front: 150 mm}"
            )
        lines.append(f"openings: [{', '.join(openings)}]")
        return "\n    ".join(lines)


def cases() -> st.SearchStrategy[Case]:
    """Return cases that can be built."""
    return st.builds(
        Case,
        width=st.integers(300, 900),
        depth=st.integers(250, 400),
        height=st.integers(600, 900),
        shelves=st.integers(1, 3),
        lean=st.integers(-10, 10),
        front=st.tuples(st.integers(0, 30), st.sampled_from(["top", "bottom"])),
        clip=st.none() | st.tuples(st.integers(30, 80), st.integers(30, 80)),
        notch=st.none() | st.tuples(st.integers(30, 80), st.integers(30, 60)),
        hole=st.tuples(st.integers(70, 110), st.integers(60, 100)),
        slot=st.booleans(),
        plinth=st.just(0) | st.integers(60, 120),
        rail=st.booleans(),
        housed=st.tuples(st.sampled_from([0, 4, 6]), st.sampled_from([0, 90])),
    )


def panels() -> st.SearchStrategy[Panel]:
    """Return panels whose edges, corners and openings do not meet."""
    tilt = st.sampled_from([0, 0, 0, 5, 12, 30, 45])
    face = st.sampled_from(["left", "right"])
    return st.builds(
        Panel,
        length=st.integers(400, 900),
        width=st.integers(300, 500),
        tilts=st.tuples(tilt, tilt, tilt, tilt),
        faces=st.tuples(face, face, face, face),
        clip=st.none() | st.tuples(st.integers(60, 100), st.integers(60, 100)),
        notch=st.none() | st.tuples(st.integers(30, 60), st.integers(30, 60)),
        arch=st.none() | st.tuples(st.integers(60, 100), st.integers(10, 30)),
        hole=st.tuples(st.integers(100, 180), st.integers(100, 140)),
        slot=st.booleans(),
    )


def places() -> st.SearchStrategy[tuple[int, int, int]]:
    """Return places in a large room."""
    far = st.integers(-5000, 5000)
    return st.tuples(far, far, far)


def turns() -> st.SearchStrategy[tuple[str, ...]]:
    """Return one to three turns as written."""
    ways = st.sampled_from(["right", "left", "back", "front", "up", "down"])
    turn = st.builds(lambda angle, way: f"{angle} deg about {way}", st.integers(-180, 180), ways)
    return st.lists(turn, min_size=1, max_size=3).map(tuple)


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """A panel with a free outline: straight below and on the left, points and arcs elsewhere.

    Attributes:
        reaches: How far points at equal angles around the corner (50, 50) are from it, mm.
        rises: Of the arcs that lead to them, mm; 0 for a line.
        pins: How many pin holes stand above each other.
    """

    reaches: tuple[int, ...]
    rises: tuple[int, ...]
    pins: int

    def work(self) -> str:
        """Return the outline, a hole and a row of pin holes, the panel running up and back."""
        step = 80 / (len(self.reaches) - 1)
        ways = [math.radians(5 + step * i) for i in range(len(self.reaches))]
        points = ["[0 mm, 0 mm]", "[450 mm, 0 mm]"]
        points += [
            f"{{to: [{50 + reach * math.cos(way):.4f} mm, {50 + reach * math.sin(way):.4f} mm], "
            f"rise: {rise} mm}}"
            for reach, rise, way in zip(self.reaches, self.rises, ways, strict=True)
        ]
        points.append("[0 mm, 450 mm]")
        return (
            f"outline: [{', '.join(points)}]\n"
            "    openings: [{hole: 20 mm, from bottom: 80 mm, from front: 30 mm}]\n"
            "    pins: [{hole: 5 mm, deep: 10 mm, pitch: 12 mm, in: right, along: back, "
            f"from bottom: 20 mm, from front: 60 mm, count: {self.pins}}}]"
        )


def shapes() -> st.SearchStrategy[Shape]:
    """Return free outlines that do not cross themselves and have wood for their holes."""
    return st.integers(3, 8).flatmap(
        lambda count: st.builds(
            Shape,
            reaches=st.tuples(*[st.integers(150, 350)] * count),
            rises=st.tuples(*[st.sampled_from([0, 0, 5, -5, 9])] * count),
            pins=st.integers(1, 4),
        )
    )
