"""Designs drawn at random: a case of two sides with shelves that may lean and be worked.

Every design drawn can be built; sizes are whole millimetres, angles whole degrees.
"""

from dataclasses import dataclass, replace

from hypothesis import HealthCheck, Phase, settings
from hypothesis import strategies as st

NO_SHRINKING = (Phase.explicit, Phase.reuse, Phase.generate)
"""A whole plan takes a tenth of a second: making a failing one smaller would take minutes."""

WHOLE_PLANS = settings(
    max_examples=10,
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
        hole: Distances of a hole from the left and the front of the shelves, mm.
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
    hole: tuple[int, int]
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

    def text(self) -> str:
        """Return the design file's sections: frames, parts, joints, steps."""
        side, shelf = self.names
        x, y, z = self.at
        turn = f", turn: [{', '.join(self.turns)}]" if self.turns else ""
        clip = ""
        if self.clip is not None:
            down, back = self.clip
            clip = f"\n    corners: {{top front: clip {down} mm down by {back} mm back}}"
        tilt, face = self.front
        return f"""
frames:
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
    show: both{clip}
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
      left: against {side}.left
      right: against {side}.right
      front: bevel {tilt} deg, long on {face}
    openings:
      - {{hole: 20 mm, from left: {self.hole[0]} mm, from front: {self.hole[1]} mm}}
joints:
  - {{join: {shelf} to {side}, with: pocket screws, pockets: bottom}}
steps:
  - {{title: All of it, fit: "{side}, {shelf}"}}
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """A panel with bevels, a clip and a hole: the four tilts are of its four edges."""

    length: int
    width: int
    tilts: tuple[int, int, int, int]
    faces: tuple[str, str, str, str]
    clip: tuple[int, int] | None
    hole: tuple[int, int]

    def work(self) -> str:
        """Return the edges, corners and openings as written, the panel running up and back."""
        names = ("bottom", "top", "front", "back")
        rules = [
            f"{name}: bevel {tilt} deg long on {face}"
            for name, tilt, face in zip(names, self.tilts, self.faces, strict=True)
            if tilt
        ]
        lines = [f"edges: {{{', '.join(rules)}}}"]
        if self.clip is not None:
            lines.append(
                f"corners: {{top front: clip {self.clip[0]} mm down by {self.clip[1]} mm back}}"
            )
        lines.append(
            f"openings: [{{hole: 20 mm, from bottom: {self.hole[0]} mm, "
            f"from front: {self.hole[1]} mm}}]"
        )
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
        hole=st.tuples(st.integers(60, 200), st.integers(60, 100)),
    )


def panels() -> st.SearchStrategy[Panel]:
    """Return panels whose edges, corner and hole do not meet."""
    tilt = st.sampled_from([0, 0, 5, 12, 30, 45])
    face = st.sampled_from(["left", "right"])
    return st.builds(
        Panel,
        length=st.integers(400, 900),
        width=st.integers(300, 500),
        tilts=st.tuples(tilt, tilt, tilt, tilt),
        faces=st.tuples(face, face, face, face),
        clip=st.none() | st.tuples(st.integers(60, 120), st.integers(60, 120)),
        hole=st.tuples(st.integers(100, 300), st.integers(100, 200)),
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
