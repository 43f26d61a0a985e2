"""All drawings and files of one edition of a plan, computed before anything is written."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import replace
from pathlib import Path

from generator.files import write_files
from generator.model.artifacts import Artifacts, Download, Picture
from generator.model.parts import Part
from generator.model.plan import Plan
from generator.outputs.board_drawing import draw_boards
from generator.outputs.bodies import solids_of
from generator.outputs.booklet.booklet import booklet_name, booklet_pdf
from generator.outputs.booklet.paper import PAPERS
from generator.outputs.dxf import layout_dxf, part_dxf, router_dxf
from generator.outputs.dxf_drawing import drawing_dxf
from generator.outputs.everything import pack_everything
from generator.outputs.exploded import draw_exploded
from generator.outputs.full_size.templates import NAME as TEMPLATES
from generator.outputs.full_size.templates import templates_pdf
from generator.outputs.layout_drawing import draw_layout
from generator.outputs.part_pages import draw_part_pages
from generator.outputs.plan_json import plan_json
from generator.outputs.router_drawing import draw_router_sheet
from generator.outputs.saw_settings import draw_saw_settings
from generator.outputs.scene import Scene
from generator.outputs.shop_tables import offcuts_csv, shop_cuts_csv
from generator.outputs.social_picture import draw_social_picture
from generator.outputs.solid.glb import write_glb
from generator.outputs.solid.page_model import write_page_model
from generator.outputs.step_pictures import draw_step
from generator.outputs.svg import PX_PER_MM, write_svg
from generator.outputs.tables import cut_list_csv, cut_order_csv, fasteners_csv, shopping_csv
from generator.outputs.three_views import draw_three_views
from generator.outputs.views import draw_assembled, draw_finished, look_assembled
from generator.units import format_length


def write_plan_files(plan: Plan, folder: Path) -> Artifacts:
    """Write all drawings and files of a plan below its folder, and say what there is."""
    artifacts, files = compute_plan_files(plan)
    write_files(folder, files)
    return artifacts


def compute_plan_files(plan: Plan) -> tuple[Artifacts, dict[str, bytes]]:
    """Return what will be written: a list for the pages, and the bytes by path."""
    artifacts, scenes = draw_pictures(plan)
    files = {path: write_svg(scene).encode("utf-8") for path, scene in scenes.items()}
    rows = (*_contents(plan), _drawing_set(plan, artifacts, scenes))
    downloads = tuple(_download(plan, files, *row) for row in rows)
    artifacts = replace(artifacts, downloads=downloads)
    booklet = booklet_pdf(plan, artifacts, scenes)
    printed = _download(plan, files, booklet_name(plan), "Booklet to print", booklet)
    artifacts = replace(artifacts, downloads=(printed, *artifacts.downloads))
    everything = _download(plan, files, *pack_everything(plan, artifacts, files))
    solid = f"drawings/{plan.edition.system}/solid.js"
    files[solid] = write_page_model(plan)
    card = f"drawings/{plan.edition.system}/card.png"
    files[card] = draw_social_picture(plan, files[artifacts.finished.path])
    downloads = (everything, *artifacts.downloads)
    return replace(artifacts, downloads=downloads, solid=solid, card=card), files


def draw_pictures(plan: Plan) -> tuple[Artifacts, dict[str, Scene]]:
    """Return the drawings of a plan: a list without any files, and the drawings by path."""
    scenes: dict[str, Scene] = {}
    solids = solids_of(plan)
    looked = look_assembled(solids)
    artifacts = Artifacts(
        system=plan.edition.system,
        assembled=_picture(plan, scenes, "assembled", draw_assembled(plan, looked)),
        finished=_picture(plan, scenes, "finished", draw_finished(plan, looked)),
        exploded=_picture(plan, scenes, "exploded", draw_exploded(plan, solids)),
        three_views=_picture(plan, scenes, "three-views", draw_three_views(plan, solids)),
        parts=tuple((part.label, _sheets(plan, scenes, part)) for part in plan.parts.parts),
        layouts=tuple(
            _picture(plan, scenes, f"sheet-{layout.number}", draw_layout(plan, layout))
            for layout in plan.cutting.layouts
        ),
        steps=tuple(
            _picture(plan, scenes, f"step-{step.order}", draw_step(plan, step, solids))
            for step in plan.assembly.steps
        ),
        boards=tuple(
            _picture(plan, scenes, f"boards-{number}", scene)
            for number, scene in enumerate(draw_boards(plan), start=1)
        ),
        settings=tuple(
            (cut.settings, _picture(plan, scenes, f"saw-{number}", scene))
            for number, (cut, scene) in enumerate(draw_saw_settings(plan), start=1)
        ),
        router=tuple(
            _picture(plan, scenes, f"router-{layout.number}", draw_router_sheet(plan, layout))
            for layout in plan.cutting.router
        ),
        downloads=(),
    )
    return artifacts, scenes


def _sheets(plan: Plan, scenes: dict[str, Scene], part: Part) -> tuple[Picture, ...]:
    drawn = draw_part_pages(plan, part, PAPERS[plan.edition.system].room.height_mm)
    names = [f"part-{part.label.lower()}" + (f"-{i + 1}" if i else "") for i in range(len(drawn))]
    return tuple(
        _picture(plan, scenes, name, scene) for name, scene in zip(names, drawn, strict=True)
    )


def _picture(plan: Plan, scenes: dict[str, Scene], name: str, scene: Scene) -> Picture:
    path = f"drawings/{plan.edition.system}/{name}.svg"
    scenes[path] = scene
    return Picture(
        path=path,
        title=scene.title,
        alt=scene.description,
        width_px=round(scene.width_mm * PX_PER_MM),
        height_px=round(scene.height_mm * PX_PER_MM),
    )


def _download(plan: Plan, files: dict[str, bytes], name: str, title: str, data: bytes) -> Download:
    path = f"files/{plan.edition.system}/{name}"
    files[path] = data
    return Download(path=path, title=title, size_bytes=len(data))


def _drawing_set(
    plan: Plan, artifacts: Artifacts, scenes: Mapping[str, Scene]
) -> tuple[str, str, bytes]:
    """Return name, title and bytes of the three views and all part sheets in one DXF file."""
    parts = [picture for _, pictures in artifacts.parts for picture in pictures]
    drawn = [scenes[picture.path] for picture in (artifacts.three_views, *parts)]
    unit = "inches" if plan.edition.system == "imperial" else "millimetres"
    title = f"The three views and all part drawings, DXF in {unit} of paper"
    return "drawings.dxf", title, drawing_dxf(drawn, plan.edition.system)


def _contents(plan: Plan) -> Iterable[tuple[str, str, bytes]]:
    """Return name, title and bytes of every file but the drawings."""
    yield "cut-list.csv", "Cut list", cut_list_csv(plan)
    yield "fasteners.csv", "Screws and where they sit", fasteners_csv(plan)
    yield "shopping-list.csv", "Shopping list", shopping_csv(plan)
    yield "cut-order.csv", "Saw cuts in order", cut_order_csv(plan)
    yield "offcuts.csv", "Offcuts worth keeping", offcuts_csv(plan)
    if plan.cutting.shop_lists:
        yield "shop-cuts.csv", "Cuts to ask for at the shop", shop_cuts_csv(plan)
    yield from _other_saws(plan)
    templates = templates_pdf(plan)
    if templates is not None:
        yield TEMPLATES, "Templates of shaped parts, full size, to print at 100 %", templates
    unit = "inches" if plan.edition.system == "imperial" else "millimetres"
    for part in plan.parts.parts:
        name = f"parts/{part.label}-{file_word(part.name)}.dxf"
        yield name, f"Part {part.label}, {part.title}, DXF in {unit}", part_dxf(plan, part)
    for layout in plan.cutting.layouts:
        title = f"Sheet {layout.number}, DXF in {unit}"
        yield f"sheets/{layout.number}.dxf", title, layout_dxf(plan, layout)
    for layout in plan.cutting.boards:
        title = f"Board {layout.number}, DXF in {unit}"
        yield f"boards/{layout.number}.dxf", title, layout_dxf(plan, layout)
    for router in plan.cutting.router:
        title = f"Router sheet {router.number}, edges square, without bevels, DXF in {unit}"
        yield f"router/{router.number}.dxf", title, router_dxf(plan, router)
    yield "model.glb", "The finished piece as solids, glTF 2.0, in metres", write_glb(plan)
    yield "plan.json", "The whole plan for programs, in mm and degrees", plan_json(plan)


def _other_saws(plan: Plan) -> Iterable[tuple[str, str, bytes]]:
    """Return the cuts and the layouts for saws with which the plan's own do not hold."""
    for saw in plan.cutting.other_saws:
        if saw.cutting is None:
            continue
        kerf = format_length(saw.kerf_mm, plan.edition.system)
        folder = f"kerf-{file_word(kerf)}"
        other = replace(plan, cutting=saw.cutting)
        yield f"{folder}/cut-order.csv", f"Saw cuts in order, kerf {kerf}", cut_order_csv(other)
        for layout in saw.cutting.layouts:
            svg = write_svg(draw_layout(other, layout)).encode("utf-8")
            yield f"{folder}/sheet-{layout.number}.svg", f"Sheet {layout.number}, kerf {kerf}", svg
        for number, scene in enumerate(draw_boards(other), start=1):
            svg = write_svg(scene).encode("utf-8")
            yield f"{folder}/boards-{number}.svg", f"Boards {number}, kerf {kerf}", svg


def file_word(name: str) -> str:
    """Return a name as it stands in file names: small letters, digits and hyphens."""
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")
