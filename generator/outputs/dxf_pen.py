"""A DXF drawing in the reader's own unit, the same bytes every time it is written.

Source: DXF reference of the format's owner, header section: $INSUNITS 1 is inches and 4 is
millimetres, $MEASUREMENT 0 is imperial and 1 is metric. The other values are from memory.
"""

import io
import unicodedata

from ezdxf import options, units  # type: ignore[attr-defined]  # it is public, see its manual
from ezdxf.document import Drawing
from ezdxf.enums import TextEntityAlignment
from ezdxf.filemanagement import new

from generator.geometry.outlines import Outline
from generator.geometry.vectors import Vec2
from generator.outputs.scene import Anchor
from generator.units import System, inches

PLAIN = {
    "×": "x",
    "Ø": "dia.",
    "°": " deg",
    "–": "-",
    "—": "-",
    "…": "...",
    "⌀": "dia. ",
    "½": "1/2",
}
"""What signs outside ASCII become; the rest lose their accents."""

ALIGN: dict[Anchor, TextEntityAlignment] = {
    "start": TextEntityAlignment.LEFT,
    "middle": TextEntityAlignment.CENTER,
    "end": TextEntityAlignment.RIGHT,
}

LAYER_COLORS = (7, 5, 1, 3, 6, 4, 2, 8)
"""Plain colours of the format, one after another for the layers in their order of use."""


class Pen:
    """Draws on the layers of one DXF drawing; takes mm and writes the edition's unit."""

    def __init__(self, system: System, layers: tuple[str, ...]) -> None:
        """Start an empty drawing with its layers."""
        # Without this the file carries the time of writing and random ids.
        options.write_fixed_meta_data_for_testing = True
        imperial = system == "imperial"
        self._system: System = system
        self._drawing: Drawing = new("R2010", units=units.IN if imperial else units.MM)
        self._drawing.header["$MEASUREMENT"] = 0 if imperial else 1
        self._drawing.header["$LUNITS"] = 2
        for i, layer in enumerate(layers):
            self._drawing.layers.add(layer, color=LAYER_COLORS[i % len(LAYER_COLORS)])
        self._space = self._drawing.modelspace()

    def outline(self, outline: Outline, layer: str) -> None:
        """Draw a closed outline; arcs stay arcs."""
        points = [
            (*self._to(point), bulge)
            for point, bulge in zip(outline.points, outline.bulges, strict=True)
        ]
        self._space.add_lwpolyline(points, format="xyb", close=True, dxfattribs={"layer": layer})

    def circle(self, center: Vec2, diameter_mm: float, layer: str) -> None:
        """Draw a circle."""
        radius = self._length(diameter_mm / 2)
        self._space.add_circle(self._to(center), radius, dxfattribs={"layer": layer})

    def ellipse(self, center: Vec2, half_long: Vec2, ratio: float, layer: str) -> None:
        """Draw an ellipse: half its long axis as a vector, and short over long."""
        self._space.add_ellipse(
            self._to(center), self._to(half_long), ratio, dxfattribs={"layer": layer}
        )

    def line(self, start: Vec2, end: Vec2, layer: str) -> None:
        """Draw a straight line."""
        self._space.add_line(self._to(start), self._to(end), dxfattribs={"layer": layer})

    def text(self, at: Vec2, text: str, height_mm: float, layer: str) -> None:
        """Write a line of plain ASCII text, its lower left corner at a point."""
        self._space.add_text(
            plain_text(text),
            height=self._length(height_mm),
            dxfattribs={"layer": layer, "insert": self._to(at)},
        )

    def style(self, layer: str, width_mm: float, dashes_mm: tuple[float, ...]) -> None:
        """Give a layer a width on paper, and dashes and gaps by turns; none for a full line."""
        entry = self._drawing.layers.get(layer)
        entry.dxf.lineweight = round(100 * width_mm)
        if dashes_mm:
            lengths = [self._length(dash) for dash in dashes_mm]
            signed = [size if i % 2 == 0 else -size for i, size in enumerate(lengths)]
            name = f"{layer} line"
            self._drawing.linetypes.add(name, [sum(lengths), *signed])
            entry.dxf.linetype = name

    def polyline(
        self, points: tuple[Vec2, ...], bulges: tuple[float, ...], layer: str, *, closed: bool
    ) -> None:
        """Draw a line through points; ``bulges`` as in `geometry.outlines`, or none."""
        rows = [
            (*self._to(point), bulges[i] if i < len(bulges) else 0.0)
            for i, point in enumerate(points)
        ]
        self._space.add_lwpolyline(rows, format="xyb", close=closed, dxfattribs={"layer": layer})

    def triangle(self, corners: tuple[Vec2, Vec2, Vec2], layer: str) -> None:
        """Draw a filled triangle."""
        self._space.add_solid([self._to(corner) for corner in corners], {"layer": layer})

    def words(
        self,
        at: Vec2,
        text: str,
        height_mm: float,
        layer: str,
        *,
        anchor: Anchor = "start",
        angle_deg: float = 0.0,
    ) -> None:
        """Write a line of plain ASCII text by its base line, turned left about that point."""
        entity = self._space.add_text(
            plain_text(text),
            height=self._length(height_mm),
            rotation=angle_deg,
            dxfattribs={"layer": layer},
        )
        entity.set_placement(self._to(at), align=ALIGN[anchor])

    def finished(self) -> bytes:
        """Return the whole file."""
        # The library adds missing classes in the order of a set.
        for name in sorted(self._drawing.entitydb.dxf_types_in_use()):
            self._drawing.classes.add_class(name)
        stream = io.StringIO()
        self._drawing.write(stream)
        return stream.getvalue().encode("ascii")

    def _length(self, value_mm: float) -> float:
        return inches(value_mm) if self._system == "imperial" else value_mm

    def _to(self, point: Vec2) -> Vec2:
        return (round(self._length(point[0]), 9), round(self._length(point[1]), 9))


def plain_text(text: str) -> str:
    """Return a text in ASCII."""
    for sign, plain in PLAIN.items():
        text = text.replace(sign, plain)
    spelt = unicodedata.normalize("NFKD", text)
    return spelt.encode("ascii", "ignore").decode("ascii")
