"""The check of texts finds what it should and nothing else."""

from generator.outputs.scene import Scene, Words
from generator.outputs.scene_check import find_text_faults


def faults(*words: Words) -> list[str]:
    scene = Scene(width_mm=60, height_mm=40, title="", description="", items=words)
    return find_text_faults(scene)


def test_texts_apart_on_the_sheet_are_left_alone() -> None:
    assert faults(Words(at=(5, 5), text="34 1/2 in"), Words(at=(5, 12), text="760 mm")) == []


def test_texts_on_each_other_are_reported_by_name() -> None:
    found = faults(Words(at=(5, 5), text="length"), Words(at=(9, 6), text="width"))

    assert found == ["texts `length` and `width` overlap"]


def test_an_upright_text_is_measured_upright() -> None:
    upright = Words(at=(30, 4), text="a long upright text", angle_deg=90)
    beside = Words(at=(31, 30), text="beside it")
    lying = Words(at=(45, 4), text="a long lying text")

    assert faults(upright, beside) == []
    assert faults(lying) == ["text `a long lying text` leaves the sheet"]


def test_a_text_under_eight_points_is_reported() -> None:
    # 8 pt = 8/72 in = 2.82 mm.
    assert faults(Words(at=(5, 5), text="fine", size_mm=2.83)) == []
    assert faults(Words(at=(5, 5), text="small", size_mm=2.8)) == [
        "text `small` is smaller than 8 pt"
    ]


def test_a_text_that_shrinks_below_eight_points_on_paper_is_reported() -> None:
    # 2.9 mm at 97.4 % are 2.825 mm, at 97 % 2.813 mm; 8 pt = 2.822 mm.
    scene = Scene(
        width_mm=60, height_mm=40, title="", description="",
        items=(Words(at=(5, 5), text="fine", size_mm=2.9),),
    )  # fmt: skip

    assert find_text_faults(scene, printed=0.974) == []
    assert find_text_faults(scene, printed=0.97) == ["text `fine` is smaller than 8 pt"]
