"""A larger sample for pictures: a stand with three leaning trays between clipped sides.

Thirteen pieces, given as solids and places; contacts are found by the joinery stage. Only what
pictures read is filled in; the rest is the small sample's.
"""

import math
from dataclasses import replace

from generator.geometry.frames import Frame
from generator.geometry.outlines import Outline
from generator.geometry.slabs import Slab
from generator.geometry.vectors import Vec3, add, scale
from generator.joinery.contacts import find_contacts, place_pieces
from generator.model.assembly import Assembly, Step
from generator.model.joinery import Fastener
from generator.model.parts import FACE_A, FACE_B, Part, Parts, Piece
from generator.model.plan import Plan
from generator.units import System
from tests.samples import sample_plan

T = 18.0
WIDTH, DEPTH, HEIGHT = 760.0, 355.0, 1015.0
INNER = WIDTH - 2 * T
LEAN = math.radians(12.0)
TRAY = 250.0
Placed = tuple[str, Frame]


def sample_stand(system: System) -> Plan:
    """Return the stand with its contacts, steps and screws."""
    base = sample_plan(system)
    model = base.parts.parts[0]
    parts = tuple(
        _part(model, label, title, slab, placed)
        for label, (title, slab, placed) in zip("ABCDE", _kinds(), strict=True)
    )
    whole = Parts(
        parts=parts,
        low=(0.0, 0.0, 0.0),
        high=(WIDTH, DEPTH, HEIGHT),
        mass_kg=18.0,
        center=(WIDTH / 2, DEPTH / 2, HEIGHT / 2),
    )
    screws = tuple(_screws(base.joinery.fasteners[-1]))
    joinery = replace(
        base.joinery, contacts=find_contacts(place_pieces(whole)), fasteners=screws, holes=()
    )
    return replace(base, parts=whole, joinery=joinery, assembly=Assembly(steps=_steps(screws)))


def _kinds() -> list[tuple[str, Slab, list[Placed]]]:
    side = Outline(((0, 0), (HEIGHT, 0), (HEIGHT, DEPTH - 230), (HEIGHT - 260, DEPTH), (0, DEPTH)))
    upright = Frame((0, DEPTH, 0), (0, 0, 1), (0, -1, 0), (1, 0, 0))
    trays = [_tray_frame(index) for index in range(3)]
    fronts = [
        frame.moved((0.0, -T, -20.0)).turned((1, 0, 0), 90).moved((0, 0, -T)) for frame in trays
    ]
    backs = [frame.moved((0.0, TRAY, 0.0)) for frame in trays]
    backs = [frame.turned((1, 0, 0), 90).moved((0, 0, -T)) for frame in backs]
    return [
        ("Side", Slab(side, side, T), [
            ("side.left", upright),
            ("side.right", upright.moved((0, 0, WIDTH - T))),
        ]),
        ("Tray bottom", _slab(INNER, TRAY), _named("tray_bottom", trays)),
        ("Tray front", _slab(INNER, 70.0), _named("tray_front", fronts)),
        ("Tray back", _slab(INNER, 60.0), _named("tray_back", backs)),
        ("Rail", _slab(INNER, 90.0), [
            ("rail.low", Frame((T, DEPTH, 20.0), (1, 0, 0), (0, 0, 1), (0, -1, 0))),
            ("rail.high", Frame((T, DEPTH, HEIGHT - 110), (1, 0, 0), (0, 0, 1), (0, -1, 0))),
        ]),
    ]  # fmt: skip


def _slab(length: float, width: float) -> Slab:
    outline = Outline(((0.0, 0.0), (length, 0.0), (length, width), (0.0, width)))
    return Slab(outline, outline, T)


def _tray_frame(index: int) -> Frame:
    """Return the frame of a tray bottom: it leans, its back edge lower than its front."""
    return Frame(
        (T, 45.0, 110.0 + index * 265.0),
        (1.0, 0.0, 0.0),
        (0.0, math.cos(LEAN), math.sin(LEAN)),
        (0.0, -math.sin(LEAN), math.cos(LEAN)),
    )


def _named(name: str, frames: list[Frame]) -> list[Placed]:
    return [(f"{name}[{index + 1}]", frame) for index, frame in enumerate(frames)]


def _part(model: Part, label: str, title: str, slab: Slab, placed: list[Placed]) -> Part:
    low_x, low_y, high_x, high_y = slab.bounds
    pieces = tuple(
        Piece(
            name=name,
            label=label,
            copy=index + 1,
            frame=frame,
            words=((FACE_A, "outside"), (FACE_B, "inside")),
            show=(),
            place=model.place,
        )
        for index, (name, frame) in enumerate(placed)
    )
    return replace(
        model,
        label=label,
        name=pieces[0].name,
        title=title,
        slab=slab,
        edges=(model.edges[0],) * len(slab.face_a.points),
        openings=(),
        length_mm=high_x - low_x,
        width_mm=high_y - low_y,
        pieces=pieces,
    )


def _steps(screws: tuple[Fastener, ...]) -> tuple[Step, ...]:
    trays = [(f"tray_bottom[{n}]", f"tray_front[{n}]", f"tray_back[{n}]") for n in (1, 2, 3)]
    made = [tuple(name for tray in trays for name in tray)]
    steps = [
        _step(1, "Join the trays", made[0], (), ()),
        _step(2, "Stand the trays on the right side", ("side.right",), made[0], ()),
        _step(3, "Fit the left side", ("side.left",), (*made[0], "side.right"), screws),
        _step(
            4, "Fit the rails", ("rail.low", "rail.high"), (*made[0], "side.left", "side.right"), ()
        ),
    ]
    return tuple(steps)


def _step(
    order: int,
    title: str,
    pieces: tuple[str, ...],
    present: tuple[str, ...],
    screws: tuple[Fastener, ...],
) -> Step:
    return Step(
        order=order,
        title=title,
        pieces=pieces,
        present=present,
        fasteners=tuple(screw.id for screw in screws),
        glued=(),
        apart="trays" if order == 1 else "",
        joins=("trays",) if order == 2 else (),
        says="",
        cautions=(),
        marks=(),
    )


def _screws(model: Fastener) -> list[Fastener]:
    """Return two screws through the left side into every tray bottom."""
    made: list[Fastener] = []
    for index in range(3):
        frame = _tray_frame(index)
        for y in (50.0, TRAY - 50.0):
            at = frame.to_world((-T, y, T / 2))
            made.append(_screw(model, f"S{len(made) + 1}", at, index))
    return made


def _screw(model: Fastener, name: str, at: Vec3, index: int) -> Fastener:
    direction = (1.0, 0.0, 0.0)
    return replace(
        model,
        id=name,
        head=at,
        tip=add(at, scale(direction, 45.0)),
        direction=direction,
        through=("side.left", f"tray_bottom[{index + 1}]"),
        hidden=False,
    )
