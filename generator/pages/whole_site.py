"""The whole site as one zip that opens from a disk, linked from the index of the site itself."""

import re
from pathlib import Path
from typing import Final

from generator.files import pack_zip, write_file
from generator.model.artifacts import EVERYTHING
from generator.pages.file_list import format_bytes
from generator.pages.templates import render

SITE_ZIP: Final = "all-plans.zip"
FOLDER: Final = "all-plans"
"""What comes out when the zip is unpacked."""

QUICK_LEVEL: Final = 2
"""How hard the zip is packed. Most of it is PDF, which packing makes no smaller: packing the rest
as hard as can be would take three times as long, and the whole would be 3 % smaller."""

PLACE: Final = b"<!-- all plans -->\n"
"""Where the index says that there is a zip; inside the zip nothing is said there."""

SERVER_ONLY: Final = re.compile(
    r"404\.html|robots\.txt|sitemap\.xml(\.gz)?"
    rf"|.*/{re.escape(EVERYTHING)}"
)
"""What nobody needs who has the files: what is for servers, and zips of plans."""

PLAN_ZIP: Final = re.compile(
    rb'<li><a href="[^"]*' + re.escape(EVERYTHING).encode() + rb'".*?</li>\n'
)
"""A link to the zip of a plan in a list."""


def add_zip(site: Path) -> None:
    """Put a zip of a finished site into it, and a link to it with its size into the index.

    Args:
        site: Its folder, as mkdocs left it.
    """
    paths = [path.relative_to(site).as_posix() for path in site.rglob("*") if path.is_file()]
    kept = [path for path in paths if not SERVER_ONLY.fullmatch(path)]
    files = {path: (site / path).read_bytes() for path in kept}
    packed = pack_zip(
        {
            f"{FOLDER}/{path}": PLAN_ZIP.sub(b"", data) if path.endswith(".html") else data
            for path, data in files.items()
        },
        QUICK_LEVEL,
    )
    write_file(site / SITE_ZIP, packed)
    size = format_bytes(len(packed))
    link = render("all_plans.html.j2", path=SITE_ZIP, size=size, folder=FOLDER)
    write_file(site / "index.html", files["index.html"].replace(PLACE, link))
