"""The sheet layout of the sample plan: trims, three strips, crosscuts, then bevels and holes."""

import math
from dataclasses import dataclass

from generator.geometry.vectors import Vec2
from generator.model.cutting import (
    Blank,
    Cut,
    CutKind,
    Cutting,
    Layout,
    Lifting,
    Offcut,
    Placement,
    Setting,
    SettingKind,
    SettingsNeed,
)
from generator.model.edition import Edition
from generator.model.needs import StockNeed
from generator.model.parts import Parts


@dataclass(frozen=True, slots=True)
class _Strip:
    """One rip: its width and the blanks crosscut from it, all of one label and length."""

    label: str
    copies: int
    length_mm: float
    width_mm: float


def sample_cutting(edition: Edition, parts: Parts) -> Cutting:
    """Return one sheet: a strip for each part, ripped from the bottom up."""
    spare = 6.35 if edition.system == "imperial" else 6.0
    allowances = {"A": (0.0,) * 4, "B": (0.0, 0.0, spare, 0.0), "C": (0.0, 0.0, 0.0, spare)}
    blanks = []
    for part in parts.parts:
        left, right, near, far = allowances[part.label]
        blanks.append(
            Blank(
                label=part.label,
                count=part.count,
                length_mm=part.length_mm,
                width_mm=part.width_mm + near + far,
                allowance_mm=(left, right, near, far),
            )
        )
    strips = [_Strip(b.label, b.count, b.length_mm, b.width_mm) for b in blanks]
    return Cutting(
        blanks=tuple(blanks),
        layouts=(_layout(edition, strips),),
        settings=_settings(edition, parts, strips),
        needs=(StockNeed(stock=edition.stocks[0], sheets=1, bound=1, proved_least=True),),
        settings_need=SettingsNeed(settings=6, bound=6),
        lifting=Lifting(limit_kg=25.0, piece_kg=20.0),
    )


def _layout(edition: Edition, strips: list[_Strip]) -> Layout:
    sheet = edition.stocks[0].goods
    size, trim = sheet.sizes[0], sheet.trim_mm
    kerf = edition.saw.kerf_mm
    assert kerf is not None
    right, top = size.length_mm - trim, size.width_mm - trim
    half = kerf / 2
    cuts = [
        _cut(1, 1, "trim", trim, (trim - half, 0.0), (trim - half, size.width_mm), "sheet 1", ""),
        _cut(2, 1, "trim", trim, (right + half, 0.0), (right + half, size.width_mm), "sheet 1", ""),
        _cut(3, 1, "trim", trim, (trim, trim - half), (right, trim - half), "sheet 1", ""),
        _cut(4, 1, "trim", trim, (trim, top + half), (right, top + half), "sheet 1", ""),
    ]
    bottoms, y = [], trim
    for i, strip in enumerate(strips):
        bottoms.append(y)
        line = y + strip.width_mm + half
        start, end = (trim, line), (right, line)
        free = f"strip 1.{i + 1}"
        cuts.append(_cut(5 + i, 2 + i, "rip", strip.width_mm, start, end, "sheet 1", free))
        y += strip.width_mm + kerf
    placements: list[Placement] = []
    offcuts = [Offcut(x_mm=trim, y_mm=y, length_mm=right - trim, width_mm=top - y)]
    for i, strip in enumerate(strips):
        x = trim
        for copy in range(1, strip.copies + 1):
            placements.append(_placement(strip, copy, x, bottoms[i]))
            line = x + strip.length_mm + half
            start, end = (line, bottoms[i]), (line, bottoms[i] + strip.width_mm)
            setting = 5 if strip.label == "A" else 6
            order, of = len(cuts) + 1, f"strip 1.{i + 1}"
            length = strip.length_mm
            cuts.append(_cut(order, setting, "crosscut", length, start, end, of, strip.label))
            x += strip.length_mm + kerf
        offcuts.append(
            Offcut(x_mm=x, y_mm=bottoms[i], length_mm=right - x, width_mm=strip.width_mm)
        )
    area = sum(p.length_mm * p.width_mm for p in placements)
    return Layout(
        number=1,
        stock=edition.stocks[0],
        size=size,
        trim_mm=(trim, trim, trim, trim),
        kerf_mm=kerf,
        placements=tuple(placements),
        cuts=tuple(cuts),
        offcuts=tuple(offcuts),
        used=area / (size.length_mm * size.width_mm),
    )


def _settings(edition: Edition, parts: Parts, strips: list[_Strip]) -> tuple[Setting, ...]:
    trim = edition.stocks[0].goods.trim_mm
    bottom, shelf = parts.part("B"), parts.part("C")
    clip = max(edge.mitre_deg for edge in parts.part("A").edges)
    side, inner = strips[0].length_mm, strips[1].length_mm
    rips = [
        _setting(2 + i, "rip", strip.width_mm, (strip.label,), "sheet 1", 1)
        for i, strip in enumerate(strips)
    ]
    return (
        _setting(1, "trim", trim, (), "sheet 1", 4),
        *rips,
        _setting(5, "crosscut", side, ("A",), "strip 1.1", 2),
        _setting(6, "crosscut", inner, ("B", "C"), "strip 1.2, strip 1.3", 2),
        _setting(
            7, "bevel", bottom.width_mm, ("B",), "front edge, long point on top", 1, tilt=12.0
        ),
        _setting(
            8, "bevel", shelf.width_mm, ("C",), "back edge, long point on the bottom", 1, tilt=12.0
        ),
        _setting(9, "angle", 0.0, ("A",), "top front corner", 2, mitre=clip),
        _setting(10, "bore", 0.0, ("A", "B", "C"), "holes as on the part drawings", 13),
    )


def _setting(
    order: int,
    kind: SettingKind,
    value: float,
    pieces: tuple[str, ...],
    where: str,
    cuts: int,
    *,
    tilt: float = 0.0,
    mitre: float = 0.0,
) -> Setting:
    assert math.isfinite(value)
    return Setting(
        order=order,
        kind=kind,
        value_mm=value,
        tilt_deg=tilt,
        mitre_deg=mitre,
        pieces=pieces,
        where=where,
        cuts=cuts,
    )


def _placement(strip: _Strip, copy: int, x: float, y: float) -> Placement:
    return Placement(
        label=strip.label,
        copy=copy,
        x_mm=x,
        y_mm=y,
        length_mm=strip.length_mm,
        width_mm=strip.width_mm,
        turned=False,
    )


def _cut(
    order: int,
    setting: int,
    kind: CutKind,
    value: float,
    start: Vec2,
    end: Vec2,
    of: str,
    frees: str,
) -> Cut:
    return Cut(
        order=order,
        setting=setting,
        kind=kind,
        setting_mm=value,
        start=start,
        end=end,
        of=of,
        frees=frees,
    )
