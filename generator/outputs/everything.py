"""Everything of a plan in one zip, with a text that tells what is what."""

import textwrap
from collections.abc import Iterable, Mapping
from typing import Final

from generator.files import pack_zip
from generator.model.artifacts import EVERYTHING, Artifacts
from generator.model.edition import Story
from generator.model.plan import Plan
from generator.telling.advice import USUAL_CAUTIONS
from generator.units import System

README: Final = "README.txt"
INDENT: Final = "    "
WIDTH: Final = 78
"""Of a line of the text: what a window of the smallest kind shows."""

UNITS: Final[Mapping[System, str]] = {"imperial": "inches", "metric": "millimetres"}


def pack_everything(
    plan: Plan, artifacts: Artifacts, files: Mapping[str, bytes]
) -> tuple[str, str, bytes]:
    """Return name, title and bytes of a zip of all drawings and files of an edition.

    Args:
        plan: In that edition.
        artifacts: What there is, with its titles.
        files: Bytes by the paths of ``artifacts``.
    """
    story, system = plan.edition.story, plan.edition.system
    titles = {download.path: download.title for download in artifacts.downloads}
    titles |= {picture.path: picture.title for picture in artifacts.pictures()}
    inside = {_path_inside(path, system): path for path in titles}
    told = [(name, titles[path]) for name, path in inside.items()]
    folder = f"{story.slug}-{system}"
    packed = {f"{folder}/{name}": files[path] for name, path in inside.items()}
    packed[f"{folder}/{README}"] = _readme(story, system, told).encode("utf-8")
    return (
        EVERYTHING,
        "All drawings and files of this plan, with a text that lists them",
        pack_zip(packed),
    )


def _path_inside(path: str, system: System) -> str:
    """Return where a file of the plan's folder comes in the zip, which holds one edition alone."""
    return path.removeprefix(f"files/{system}/").replace(f"drawings/{system}/", "drawings/", 1)


def _readme(story: Story, system: System, told: Iterable[tuple[str, str]]) -> str:
    heading = f"{story.title}, in {UNITS[system]}"
    made_by = f" Made by: {story.made_by}." if story.made_by else ""
    licence = f" Licence: {story.licence}." if story.licence else ""
    lines = [heading, "=" * len(heading)]
    for paragraph in (
        f"Revision {story.revision} of {story.date}.{made_by}{licence}",
        story.summary,
        "The drawings open in any web browser.",
    ):
        lines += ["", *textwrap.wrap(paragraph, WIDTH)]
    lines += ["", "Cautions", "--------"]
    for caution in (*story.cautions, *USUAL_CAUTIONS):
        lines += textwrap.wrap(caution, WIDTH, initial_indent="- ", subsequent_indent="  ")
    lines += ["", "What is what", "------------"]
    for name, title in told:
        lines += [
            name,
            *textwrap.wrap(title, WIDTH, initial_indent=INDENT, subsequent_indent=INDENT),
        ]
    return "\n".join(lines) + "\n"
