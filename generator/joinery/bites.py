"""How a fastener stands in the pieces it holds: how deep, and how much wood it needs around it."""

import math
from dataclasses import dataclass

from shapely.geometry import Point, Polygon

from generator.geometry.vectors import Vec3, dot, scale
from generator.joinery.choose import needed_cover_mm, needed_hold_mm
from generator.joinery.contacts import PlacedPiece, plane_basis
from generator.joinery.drive import Axis, Cover, Drive, measure_cover
from generator.joinery.rules import (
    BESIDE_MM,
    BOLT_HOLD_SHARE,
    BOLT_SPARE_MM,
    COVER_MM,
    DOWEL_BESIDE_MM,
    DOWEL_HOLD_SHARE,
    DOWEL_SPARE_MM,
    NUT_SPARE_MM,
)
from generator.model.fixings import Bolt, Dowel, Screw
from generator.model.joinery import Contact
from generator.model.parts import Part


@dataclass(frozen=True, slots=True, kw_only=True)
class Bite:
    """What a fastener is in one piece that must hold it, from the joint on.

    Attributes:
        placed: The piece.
        side: The side it enters by.
        axis: From the joint into the piece.
        depth_mm: Of the bore, or of the screw itself, along the axis.
        radius_mm: Of the bore, or of the screw itself.
        cover_mm: Wood needed between its end and the far face.
        beside_mm: Wood needed beside it.
        hold_mm: How deep the fastener itself stands in the piece.
        needed_mm: How deep it must.
        mouth_mm: From the middle of its hole to the border of the contact.
    """

    placed: PlacedPiece
    side: int
    axis: Axis
    depth_mm: float
    radius_mm: float
    cover_mm: float
    beside_mm: float
    hold_mm: float
    needed_mm: float
    mouth_mm: float = math.inf

    @property
    def cover(self) -> Cover:
        """The wood there is around it."""
        return measure_cover(self.placed, self.side, self.axis, self.depth_mm)

    def find_shortage(self) -> tuple[float, float]:
        """Return what wood is left and what is needed, ahead or beside, where more is missing."""
        cover = self.cover
        ahead = (cover.ahead_mm - self.depth_mm) * cover.slant
        beside = min(cover.beside_mm, self.mouth_mm) - self.radius_mm
        return min(
            ((ahead, self.cover_mm), (beside, self.beside_mm)), key=lambda one: one[0] - one[1]
        )

    def holds(self) -> bool:
        """Whether it stands deep enough, with enough wood around it."""
        left, needed = self.find_shortage()
        return self.hold_mm >= self.needed_mm and left >= needed


def find_bites(drive: Drive) -> tuple[Bite, ...]:
    """Return the bites of a fastener: one in the second piece; of a dowel, one in each."""
    goods = drive.goods
    if isinstance(goods, Dowel):
        back = Axis(drive.axis.joint, scale(drive.axis.direction, -1.0), 0.0)
        seat, contact = drive.axis.seat_mm, drive.contact
        rest = goods.length_mm - seat
        return (
            dowel_bite(drive.first, contact, contact.first_side, back, goods, seat),
            dowel_bite(drive.second, contact, contact.second_side, drive.axis, goods, rest),
        )
    if isinstance(goods, Bolt):
        bite = nut_bite if drive.joint.nuts else bolt_bite
        return (bite(drive.second, drive.contact.second_side, drive.axis, goods),)
    return (screw_bite(drive.second, drive.contact.second_side, drive.axis, goods),)


def screw_bite(second: PlacedPiece, side: int, axis: Axis, screw: Screw) -> Bite:
    """Return how a screw or nail stands in the second piece."""
    depth = screw.length_mm - axis.seat_mm
    return Bite(
        placed=second,
        side=side,
        axis=axis,
        depth_mm=depth,
        radius_mm=screw.diameter_mm / 2,
        cover_mm=needed_cover_mm(screw),
        beside_mm=BESIDE_MM,
        hold_mm=depth,
        needed_mm=needed_hold_mm(screw, side),
    )


def dowel_bite(
    placed: PlacedPiece, contact: Contact, side: int, axis: Axis, dowel: Dowel, hold_mm: float
) -> Bite:
    """Return how a dowel stands in one of its pieces, ``hold_mm`` deep."""
    return Bite(
        placed=placed,
        side=side,
        axis=axis,
        depth_mm=hold_mm + DOWEL_SPARE_MM[dowel.system],
        radius_mm=dowel.diameter_mm / 2,
        cover_mm=COVER_MM,
        beside_mm=DOWEL_BESIDE_MM,
        hold_mm=hold_mm,
        needed_mm=DOWEL_HOLD_SHARE * dowel.diameter_mm,
        mouth_mm=_to_border_mm(contact, axis.joint),
    )


def bolt_bite(second: PlacedPiece, side: int, axis: Axis, bolt: Bolt) -> Bite:
    """Return how a bolt and its insert stand in the second piece.

    A bolt holds by the turns inside its insert, and by no more.
    """
    reach = bolt.length_mm - axis.seat_mm
    return Bite(
        placed=second,
        side=side,
        axis=axis,
        depth_mm=max(reach, bolt.insert.length_mm) + BOLT_SPARE_MM,
        radius_mm=insert_bit_mm(bolt, second.part) / 2,
        cover_mm=COVER_MM,
        beside_mm=DOWEL_BESIDE_MM,
        hold_mm=min(reach, bolt.insert.length_mm),
        needed_mm=BOLT_HOLD_SHARE * bolt.diameter_mm,
    )


def nut_bite(second: PlacedPiece, side: int, axis: Axis, bolt: Bolt) -> Bite:
    """Return how a bolt goes through the second piece into a nut on its far face.

    It must reach through the nut; nothing is needed before its end, which comes out.
    """
    thickness = second.part.thickness_mm
    out = bolt.length_mm - axis.seat_mm - thickness - bolt.washer_thick_mm
    return Bite(
        placed=second,
        side=side,
        axis=axis,
        depth_mm=thickness,
        radius_mm=bolt.clearance_mm / 2,
        cover_mm=-math.inf,
        beside_mm=DOWEL_BESIDE_MM,
        hold_mm=out,
        needed_mm=bolt.nut_thick_mm + NUT_SPARE_MM,
    )


def insert_bit_mm(bolt: Bolt, part: Part) -> float:
    """Return the bit for the hole of a bolt's insert in a part."""
    return bolt.insert.bit_hard_mm if part.stock.material.hard else bolt.insert.bit_soft_mm


def _to_border_mm(contact: Contact, point: Vec3) -> float:
    """Return how far a point of a contact is from its border; 0 outside it."""
    u, v = plane_basis(contact.normal)
    patch = Polygon([(dot(p, u), dot(p, v)) for p in contact.outline])
    spot = Point(dot(point, u), dot(point, v))
    return float(patch.exterior.distance(spot)) if patch.contains(spot) else 0.0
