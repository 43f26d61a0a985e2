"""A small site of two plans made from the sample, with plain pictures in place of drawings."""

from dataclasses import replace
from pathlib import Path

from generator.files import write_file
from generator.model.artifacts import Artifacts, Download, Picture
from generator.model.plan import Plan
from generator.outputs.plan_json import plan_json
from generator.outputs.plan_schema import SCHEMA_NAME, schema_json
from generator.outputs.scene import Area, Scene, Words
from generator.outputs.social_picture import draw_social_picture
from generator.outputs.svg import write_svg
from generator.outputs.tables import cut_list_csv
from generator.pages.entries import Entry
from generator.pages.library import write_library
from generator.pages.plan_pages import write_plan_pages
from generator.units import SYSTEMS, System
from tests.samples import sample_plan

TITLES = {"leaning-shelf": "Leaning shelf", "second-shelf": "Second <b>shelf</b> & *more* {x}"}


def write_sample_docs(docs: Path, address: str = "") -> tuple[Entry, ...]:
    """Write the docs folder and mkdocs.yml beside it; the second title is full of signs."""
    entries = []
    for slug, title in TITLES.items():
        plans = {system: named_plan(system, slug, title) for system in SYSTEMS}
        folder = docs / "plans" / slug
        artifacts = {system: sample_artifacts(plans[system], folder) for system in SYSTEMS}
        entries.append(write_plan_pages(docs, plans, artifacts, b"title: A sample\n"))
    write_library(
        docs,
        entries,
        title="Sample plans",
        address=address,
        published={f"schema/{SCHEMA_NAME}": schema_json()},
    )
    return tuple(entries)


def named_plan(system: System, slug: str, title: str) -> Plan:
    """Return the sample plan under another name."""
    plan = sample_plan(system)
    story = replace(plan.edition.story, slug=slug, title=title)
    return replace(plan, edition=replace(plan.edition, story=story))


def sample_artifacts(plan: Plan, folder: Path) -> Artifacts:
    """Write plain pictures and two files, and say what there is."""
    system = plan.edition.system
    return Artifacts(
        system=system,
        assembled=_picture(folder, system, "assembled"),
        finished=_picture(folder, system, "finished"),
        exploded=_picture(folder, system, "exploded"),
        three_views=_picture(folder, system, "three-views"),
        parts=tuple(
            (part.label, (_picture(folder, system, f"part-{part.label.lower()}"),))
            for part in plan.parts.parts
        ),
        layouts=tuple(
            _picture(folder, system, f"sheet-{layout.number}") for layout in plan.cutting.layouts
        ),
        steps=tuple(_picture(folder, system, f"step-{step.order}") for step in plan.assembly.steps),
        downloads=(
            _download(folder, system, "cut-list.csv", cut_list_csv(plan)),
            _download(folder, system, "plan.json", plan_json(plan)),
        ),
        card=_card(folder, plan),
    )


def _card(folder: Path, plan: Plan) -> str:
    path = f"drawings/{plan.edition.system}/card.png"
    drawing = (folder / f"drawings/{plan.edition.system}/finished.svg").read_bytes()
    write_file(folder / path, draw_social_picture(plan, drawing))
    return path


def _picture(folder: Path, system: System, name: str) -> Picture:
    scene = Scene(
        width_mm=180.0,
        height_mm=110.0,
        title=name.replace("-", " ").capitalize(),
        description=f"A plain sheet in place of the drawing {name}.",
        items=(
            Area(rings=(((40.0, 30.0), (140.0, 30.0), (140.0, 80.0), (40.0, 80.0)),), tone="wood"),
            Words(at=(90.0, 55.0), text=name, anchor="middle"),
        ),
    )
    path = f"drawings/{system}/{name}.svg"
    write_file(folder / path, write_svg(scene).encode("utf-8"))
    return Picture(path=path, title=scene.title, alt=scene.description, width_px=680, height_px=416)


def _download(folder: Path, system: System, name: str, data: bytes) -> Download:
    path = f"files/{system}/{name}"
    write_file(folder / path, data)
    return Download(path=path, title=name, size_bytes=len(data))
