"""Sets what is printed: a fixed template, its data, its drawings; a PDF anybody can read.

The typesetter itself checks the result against PDF/UA-1 (ISO 14289-1), and stops where it fails.
"""

import json
from collections.abc import Mapping
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from typing import Any, Final

import typst

from generator.outputs.text_width import find_font

TEMPLATES: Final = Path(__file__).resolve().parents[3] / "site_templates" / "booklet"
FONTS: Final = ("DejaVu Sans", "Last Resort High-Efficiency")
"""The second one shows any sign the first one lacks as a box, so that nothing gets lost."""


class TypesettingError(Exception):
    """A fault of ours: the template and its data do not make a booklet."""


def typeset(
    template: str, data: Mapping[str, object], files: Mapping[str, bytes], day: str
) -> bytes:
    """Return a PDF.

    Args:
        template: Its name; it reads a JSON file of the same name.
        data: What the template reads, ready for JSON.
        files: The drawings by the names used in the data.
        day: The date of the plan, such as ``2026-05-02``; the only date in the file.

    Raises:
        TypesettingError: With what the typesetter said.
    """
    noon = datetime.fromisoformat(day).replace(tzinfo=UTC)
    inputs: Any = {
        "main.typ": (TEMPLATES / f"{template}.typ").read_bytes(),
        f"{template}.json": json.dumps(data).encode("ascii"),
        **files,
    }
    try:
        compiler = typst.Compiler(inputs, font_paths=find_fonts())
        pdf, warnings = compiler.compile_with_warnings(
            format="pdf", pdf_standards=["ua-1"], timestamp=noon
        )
    except typst.TypstError as error:
        raise TypesettingError(f"{error.message} {error.diagnostic}") from error
    if warnings or not isinstance(pdf, bytes):
        raise TypesettingError("; ".join(one.message for one in warnings))
    return pdf


@cache
def find_fonts() -> typst.Fonts:
    """Return the typefaces that come with matplotlib, and no others."""
    return typst.Fonts(
        include_system_fonts=False,
        include_embedded_fonts=False,
        font_paths=[find_font().parent],
    )
