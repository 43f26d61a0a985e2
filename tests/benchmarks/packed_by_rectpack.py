"""The same instances packed by the library rectpack, for comparison.

Only layouts that a saw can follow count; whether it can is found by our own check.
"""

from collections.abc import Iterator
from itertools import product
from typing import Any

import rectpack

from tests.benchmarks.benchmark_layouts import Instance, Layout, comes_apart

PLACING = tuple(
    getattr(rectpack, name)
    for name in sorted(dir(rectpack))
    if name.startswith(("Guillotine", "MaxRects", "Skyline"))
)
SORTING = (
    rectpack.SORT_AREA,
    rectpack.SORT_PERI,
    rectpack.SORT_DIFF,
    rectpack.SORT_SSIDE,
    rectpack.SORT_LSIDE,
    rectpack.SORT_RATIO,
)
CHOOSING = (rectpack.PackingBin.BFF, rectpack.PackingBin.BBF, rectpack.PackingBin.Global)
FEW = (
    (rectpack.PackingBin.BFF, rectpack.GuillotineBssfSas, rectpack.SORT_AREA),
    (rectpack.PackingBin.BFF, rectpack.GuillotineBssfSas, rectpack.SORT_LSIDE),
    (rectpack.PackingBin.BFF, rectpack.GuillotineBafMinas, rectpack.SORT_AREA),
    (rectpack.PackingBin.BBF, rectpack.GuillotineBafLlas, rectpack.SORT_SSIDE),
    (rectpack.PackingBin.BFF, rectpack.MaxRectsBssf, rectpack.SORT_AREA),
)


def count_sheets(instance: Instance, everything: bool) -> int:
    """Return the fewest sheets of all layouts that come apart by through cuts.

    Args:
        instance: What is packed.
        everything: All configurations, some hundreds, or a few good ones.
    """
    configurations = product(CHOOSING, PLACING, SORTING) if everything else FEW
    counts = [
        len(layout)
        for layout in _pack_all(instance, list(configurations))
        if all(comes_apart(sheet) for sheet in layout)
    ]
    return min(counts, default=instance.copies)


def _pack_all(instance: Instance, configurations: list[Any]) -> Iterator[Layout]:
    for choosing, placing, sorting in configurations:
        packer = rectpack.newPacker(
            mode=rectpack.PackingMode.Offline,
            bin_algo=choosing,
            pack_algo=placing,
            sort_algo=sorting,
            rotation=instance.turns,
        )
        for along_x, along_y, copies in instance.items:
            for _ in range(copies):
                packer.add_rect(along_x, along_y)
        packer.add_bin(instance.along_x, instance.along_y, count=instance.copies)
        packer.pack()
        sheets = [[(r.x, r.y, r.width, r.height) for r in sheet] for sheet in packer]
        if instance.copies == sum(map(len, sheets)):
            yield sheets
