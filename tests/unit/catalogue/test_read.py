"""Reading shared/: what comes out, and that every fault of the files is told at once."""

from pathlib import Path

import pytest

from generator.catalogue.read import read_catalogue
from generator.model.catalogue import Catalogue
from generator.problems import Problem, ProblemLog

GOOD = {
    "materials": """\
pine: {name: pine, density: 448, stiffness: 8900, hard: no, source: a book}
""",
    "sheets": """\
ply-1/2:
  name: half-inch plywood
  sold_in: imperial
  thickness: 15/32 in
  sizes: {full sheet: [96 in, 48 in], half sheet: [48 in, 48 in]}
  trim: 1/4 in
  grain: yes
  material: pine
  source: a standard
""",
    "boards": """\
1x4:
  name: 1x4 board
  sold_in: imperial
  thickness: 3/4 in
  width: 3 1/2 in
  lengths: [8 ft, 6 ft]
  trim: 1/2 in
  material: pine
  source: a standard
""",
    "screws": """\
wood-8:
  name: "#8 wood screw"
  kind: face screw
  sold_in: imperial
  diameter: 0.164 in
  head: 0.332 in
  pilot_soft: 3/32 in
  pilot_hard: 1/8 in
  clearance: 11/64 in
  packs: [50, 100]
  lengths:
    1-1/4: {length: 1 1/4 in, least: 5/16 in, most: 5/8 in}
    2: {length: 2 in, least: 1/2 in, most: 1 in}
  source: a standard
""",
    "dowels": """\
dowel-3/8:
  name: 3/8 in dowel
  sold_in: imperial
  diameter: 3/8 in
  lengths: [1 1/2 in, 2 in]
  packs: [50, 25]
  source: habit
""",
    "bolts": """\
bolt-1/4:
  name: 1/4-20 bolt
  sold_in: imperial
  diameter: 1/4 in
  clearance: 9/32 in
  washer: washer
  washer_diameter: 3/4 in
  washer_thick: 1/16 in
  nut: nut
  nut_thick: 7/32 in
  insert: threaded insert
  insert_length: 1/2 in
  insert_soft: 11/32 in
  insert_hard: 3/8 in
  lengths: [1 1/2 in]
  packs: [1, 10]
  source: habit
""",
    "edgings": """\
veneer-7/8:
  name: veneer tape
  sold_in: imperial
  width: 7/8 in
  thickness: 0.02 in
  source: habit
""",
    "tools": """\
saw: {name: circular saw, kerf: 3/32 in, tilt_limit: 45 deg, source: habit}
tape: {name: tape measure, source: habit}
""",
}


def read(folder: Path, **changed: str) -> tuple[Catalogue | None, list[Problem]]:
    for name, text in {**GOOD, **changed}.items():
        (folder / f"{name}.yml").write_text(text, encoding="utf-8")
    log = ProblemLog()
    return read_catalogue(folder, log), log.problems


def spots(problems: list[Problem]) -> list[tuple[str, str, int]]:
    return [
        (p.code, p.place.file.rpartition("/")[2], p.place.line)
        for p in problems
        if p.place is not None
    ]


def test_a_sheet_is_read_with_its_sizes_and_its_material(tmp_path: Path) -> None:
    catalogue, problems = read(tmp_path)

    assert problems == []
    assert catalogue is not None
    sheet = catalogue.sheets["ply-1/2"]
    assert sheet.system == "imperial"
    assert sheet.thickness_mm == pytest.approx(15 / 32 * 25.4)
    assert sheet.trim_mm == pytest.approx(6.35)
    assert [size.name for size in sheet.sizes] == ["full sheet", "half sheet"]
    assert [size.length_mm for size in sheet.sizes] == pytest.approx([2438.4, 1219.2])
    assert [size.width_mm for size in sheet.sizes] == pytest.approx([1219.2, 1219.2])
    assert sheet.has_grain
    assert sheet.material is catalogue.materials["pine"]
    assert sheet.place.line == 1


def test_a_sheet_may_say_how_thin_and_how_thick_it_is_sold(tmp_path: Path) -> None:
    told = GOOD["sheets"].replace("trim:", "least: 7/16 in\n  most: 1/2 in\n  trim:")
    catalogue, _ = read(tmp_path, sheets=told)
    plain, _ = read(tmp_path)

    assert catalogue is not None
    assert plain is not None
    assert catalogue.sheets["ply-1/2"].range_mm == (11.1125, 12.7)
    assert plain.sheets["ply-1/2"].range_mm is None


def test_a_board_is_read_with_its_section_and_a_size_for_each_length(tmp_path: Path) -> None:
    catalogue, problems = read(tmp_path)

    assert problems == []
    assert catalogue is not None
    board = catalogue.boards["1x4"]
    assert board.system == "imperial"
    assert (board.thickness_mm, board.width_mm) == pytest.approx((19.05, 88.9))
    assert board.trim_mm == pytest.approx(12.7)
    assert [size.name for size in board.sizes] == ["8 ft", "6 ft"]
    assert [size.length_mm for size in board.sizes] == pytest.approx([2438.4, 1828.8])
    assert [size.width_mm for size in board.sizes] == pytest.approx([88.9, 88.9])
    assert board.material is catalogue.materials["pine"]
    assert board.has_grain


def test_edging_is_read_with_its_width_and_its_thickness(tmp_path: Path) -> None:
    catalogue, _ = read(tmp_path)

    assert catalogue is not None
    edging = catalogue.edgings["veneer-7/8"]
    assert (edging.system, edging.name) == ("imperial", "veneer tape")
    assert (edging.width_mm, edging.thickness_mm) == pytest.approx((22.225, 0.508))


def test_edging_thicker_than_a_strip_of_wood_is_refused(tmp_path: Path) -> None:
    text = GOOD["edgings"].replace("0.02 in", "1/8 in")
    _, problems = read(tmp_path, edgings=text)

    assert [problem.what for problem in problems] == [
        "`thickness` of entry `veneer-7/8` is 3.175 mm; it must be more than 0 and at most 3 mm"
    ]


def test_a_family_of_screws_gives_a_screw_for_each_length(tmp_path: Path) -> None:
    catalogue, _ = read(tmp_path)

    assert catalogue is not None
    assert list(catalogue.screws) == ["wood-8x1-1/4", "wood-8x2"]
    screw = catalogue.screws["wood-8x1-1/4"]
    assert screw.name == "#8 wood screw, 1 1/4 in"
    assert screw.kind == "face screw"
    assert (screw.length_mm, screw.least_mm, screw.most_mm) == pytest.approx(
        (31.75, 7.9375, 15.875)
    )
    assert (screw.diameter_mm, screw.clearance_mm) == pytest.approx((4.1656, 4.365625))


def test_a_saw_has_a_kerf_and_a_tilt_and_a_tape_has_neither(tmp_path: Path) -> None:
    catalogue, _ = read(tmp_path)

    assert catalogue is not None
    saw, tape = catalogue.tools["saw"], catalogue.tools["tape"]
    assert saw.kerf_mm == pytest.approx(2.38125)
    assert saw.tilt_limit_deg == pytest.approx(45)
    assert (tape.kerf_mm, tape.tilt_limit_deg) == (None, None)


def test_faults_in_all_files_are_told_at_once(tmp_path: Path) -> None:
    catalogue, problems = read(
        tmp_path,
        materials=GOOD["materials"].replace("density", "densty"),
        sheets=GOOD["sheets"].replace("15/32 in", "15/32"),
        boards=GOOD["boards"].replace("3 1/2 in", "3 1/2 deg"),
        screws=GOOD["screws"].replace("face screw", "face screws"),
        tools=GOOD["tools"].replace("45 deg", "45 mm"),
    )

    assert catalogue is None
    assert spots(problems) == [
        ("D104", "materials.yml", 1),
        ("E106", "sheets.yml", 4),
        ("E106", "boards.yml", 5),
        ("D107", "screws.yml", 3),
        ("E106", "tools.yml", 1),
    ]


def test_an_unknown_material_is_reported_with_the_nearest_one(tmp_path: Path) -> None:
    catalogue, problems = read(
        tmp_path, sheets=GOOD["sheets"].replace("material: pine", "material: pin")
    )

    assert catalogue is None
    assert [p.what for p in problems] == [
        "entry `ply-1/2` has material `pin`, which shared/materials.yml does not list"
    ]
    assert problems[0].help == "did you mean `pine`?"
    assert spots(problems) == [("K106", "sheets.yml", 8)]


def test_a_material_at_fault_is_reported_once_and_not_again_by_its_sheets(tmp_path: Path) -> None:
    catalogue, problems = read(tmp_path, materials=GOOD["materials"].replace("448", "0"))

    assert catalogue is None
    assert [p.what for p in problems] == [
        "`density` of entry `pine` is 0; it must be more than 0 and at most 2000"
    ]


@pytest.mark.parametrize(
    ("name", "old", "new", "words"),
    [
        ("sheets", "15/32 in", "0 in",
         "`thickness` of entry `ply-1/2` is 0 mm; it must be more than 0 and at most 100 mm"),
        ("sheets", "[48 in, 48 in]", "[48 in]",
         "`sizes` of entry `ply-1/2` is 1 lengths; a size is [length, width]"),
        ("sheets", "[48 in, 48 in]", "[48 in, 1/2 in]",
         "`trim` of entry `ply-1/2` is 6.35 mm; it leaves nothing of `half sheet`"),
        ("sheets", "{full sheet: [96 in, 48 in], half sheet: [48 in, 48 in]}", "{}",
         "`sizes` of entry `ply-1/2` is a list of 0; it must be sold in 1 to 20"),
        ("sheets", "trim: 1/4 in", "trim: 1/4 in\n  least: 7/16 in",
         "`least` of entry `ply-1/2` is 11.1125 mm; `least` and `most` stand together"),
        ("sheets", "trim: 1/4 in", "trim: 1/4 in\n  least: 1/2 in\n  most: 9/16 in",
         "`least` of entry `ply-1/2` is 12.7 mm; it must be no more than the thickness"),
        ("sheets", "trim: 1/4 in", "trim: 1/4 in\n  least: 7/16 in\n  most: 7/16 in",
         "`most` of entry `ply-1/2` is 11.1125 mm; it must be no less than the thickness"),
        ("boards", "[8 ft, 6 ft]", "[]",
         "`lengths` of entry `1x4` is a list of 0; it must be sold in 1 to 20"),
        ("boards", "[8 ft, 6 ft]", f"[{', '.join(f'{n} ft' for n in range(1, 20))}, 5 m, 6 m]",
         "`lengths` of entry `1x4` is a list of 21; it must be sold in 1 to 20"),
        ("boards", "3 1/2 in", "30 in",
         "`width` of entry `1x4` is 762 mm; it must be more than 0 and at most 400 mm"),
        ("boards", "6 ft", "1 in",
         "`trim` of entry `1x4` is 12.7 mm; it leaves nothing of `1 in`"),
        ("screws", "pilot_hard: 1/8 in", "pilot_hard: 3/16 in",
         "`pilot_hard` of entry `wood-8` is 4.7625 mm; it must be less than the clearance"),
        ("screws", "least: 1/2 in", "least: 1 in",
         "`least` of entry `wood-8x2` is 25.4 mm; it must be less than the most"),
        ("tools", "45 deg", "75 deg",
         "`tilt_limit` of entry `saw` is 75 deg; it must be more than 0 and at most 60 deg"),
    ],
)  # fmt: skip
def test_a_value_that_cannot_be_is_reported_with_its_limit(
    tmp_path: Path, name: str, old: str, new: str, words: str
) -> None:
    catalogue, problems = read(tmp_path, **{name: GOOD[name].replace(old, new)})

    assert catalogue is None
    assert [(p.code, p.what) for p in problems] == [("K107", words)]


@pytest.mark.parametrize("name", GOOD)
def test_an_entry_without_a_source_is_refused(tmp_path: Path, name: str) -> None:
    text = GOOD[name].replace("source: ", "sauce: ")
    catalogue, problems = read(tmp_path, **{name: text})

    assert catalogue is None
    assert {"D104"} == {p.code for p in problems}
    assert {"did you mean `source`?"} == {p.help for p in problems}


def test_an_entry_written_twice_is_refused(tmp_path: Path) -> None:
    catalogue, problems = read(tmp_path, materials=GOOD["materials"] * 2)

    assert catalogue is None
    assert spots(problems) == [("D103", "materials.yml", 2)]


def test_a_missing_file_is_reported_by_its_path(tmp_path: Path) -> None:
    read(tmp_path)
    (tmp_path / "tools.yml").unlink()
    log = ProblemLog()
    catalogue = read_catalogue(tmp_path, log)

    assert catalogue is None
    assert [p.what for p in log.problems] == ["the file cannot be read: no such file or directory"]


@pytest.mark.parametrize("text", ["", "- a\n- b\n", "just words", "a: b: c", "pine: 3\n", "a:\n"])
def test_a_file_of_another_shape_is_refused_without_a_trace(tmp_path: Path, text: str) -> None:
    catalogue, problems = read(tmp_path, tools=text)

    assert catalogue is None
    assert len(problems) == 1
