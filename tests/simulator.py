"""A workshop that does what the plan says, cut by cut, and complains.

Shares no code with the cutting stage. It goes through the cuts of the whole plan in their order,
fetches the piece each one names, looks whether a fence or stop at the size of its setting makes
that cut, takes the kerf out, and calls what comes off what the plan calls it. `sawing` looks at
every sheet by itself; this looks at words, settings and the order over all sheets.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

NEAR = 0.01
FENCE = 0.05 + 1e-6
"""No fence is set finer than this."""

Rect = tuple[float, float, float, float]
"""Least x, least y, greatest x, greatest y."""

Json = Mapping[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """A cut as it was made.

    Attributes:
        after: Order of the cut that made the piece; 0 for none, and trims do not count.
        sheet: What the sheet or board is called.
        piece: What was held, before the cut.
        freed: What came off on the measured side.
        left: The other side.
        labels: Parts that lie within what came off.
    """

    order: int
    setting: int
    kind: str
    value_mm: float
    after: int
    sheet: str
    piece: Rect
    freed: Rect
    left: Rect
    labels: frozenset[str]

    @property
    def room_mm(self) -> float:
        """How wide the larger side of the cut is."""
        axis = 1 if self.kind == "rip" else 0
        return max(side[axis + 2] - side[axis] for side in (self.freed, self.left))

    @property
    def longest_mm(self) -> float:
        """The longer side of what was held."""
        return max(self.piece[2] - self.piece[0], self.piece[3] - self.piece[1])


@dataclass(slots=True)
class Workshop:
    """What the plan led to: the cuts made, the parts that came out, and every fault."""

    steps: list[Step] = field(default_factory=list)
    parts: Counter[tuple[str, int]] = field(default_factory=Counter)
    faults: list[str] = field(default_factory=list)
    pieces: dict[str, Rect] = field(default_factory=dict)
    made_by: dict[str, int] = field(default_factory=dict)

    def lifted_mm2(self) -> dict[str, float]:
        """Return, for every sheet, the largest face among what its own first cuts came to."""
        largest: dict[str, float] = {}
        for step in self.steps:
            if step.kind != "trim":
                for piece in _lifted_by(step, self.steps):
                    area = (piece[2] - piece[0]) * (piece[3] - piece[1])
                    largest[step.sheet] = max(area, largest.get(step.sheet, 0.0))
        return largest


def work(plan: Json) -> Workshop:
    """Make every cut of a plan like plan.json and return what came of it.

    Looked for: a cut through a piece that is not there, not from edge to edge of it, through a
    part, or not where fence or stop put it; a setting that is left and taken up again, with cuts
    of another kind or size, or with other parts, sheets or a count than it says; a part that comes
    out at another size than its blank, never, or twice.
    """
    shop = Workshop()
    sheets = dict(_name_sheets(plan))
    for name, sheet in sheets.items():
        width, height = sheet["size_mm"]
        shop.pieces[name] = (0.0, 0.0, width, height)
        shop.made_by[name] = 0
    cuts = [(cut, name) for name, sheet in sheets.items() for cut in sheet["cuts"]]
    for cut, name in sorted(cuts, key=lambda pair: int(pair[0]["order"])):
        _make(shop, cut, name, sheets[name])
    for name, sheet in sheets.items():
        if all(cut["kind"] == "trim" for cut in sheet["cuts"]):
            _take_part(shop, None, shop.pieces[name], sheet, name)
    shop.faults += _find_setting_faults(shop.steps, plan["settings"])
    shop.faults += _find_missing(shop, plan["parts"])
    return shop


def _name_sheets(plan: Json) -> Iterator[tuple[str, Json]]:
    for word in ("sheet", "board"):
        for number, sheet in enumerate(plan.get(f"{word}s", ()), start=1):
            yield f"{word} {number}", sheet


def _make(shop: Workshop, cut: Json, name: str, sheet: Json) -> None:
    """Make one cut, or say why it cannot be made."""
    held = cut["of"]
    piece = shop.pieces.get(held)
    if piece is None:
        shop.faults.append(f"cut {cut['order']}: there is no {held}")
        return
    axis = _axis(cut)
    low, high = _sides(cut, piece, axis, sheet["kerf_mm"])
    if not _crosses(cut, piece, axis, sheet["kerf_mm"]):
        shop.faults.append(f"cut {cut['order']} does not go through {held} from edge to edge")
        return
    dust = _between(low, high, axis)
    for label, rect in _placed(sheet):
        if _overlap(dust, rect):
            shop.faults.append(f"cut {cut['order']} goes through {label}")
    sides = _measured_first(cut, low, high, axis, sheet["kerf_mm"])
    if sides is None:
        shop.faults.append(f"cut {cut['order']}: {cut['setting_mm']} does not put the saw there")
        return
    step = Step(
        order=cut["order"],
        setting=cut["setting"],
        kind=cut["kind"],
        value_mm=cut["setting_mm"],
        after=shop.made_by[held],
        sheet=name,
        piece=piece,
        freed=sides[0],
        left=sides[1],
        labels=frozenset(label for label, rect in _placed(sheet) if _within(rect, sides[0])),
    )
    shop.steps.append(step)
    _put_down(shop, step, cut, sheet)


def _put_down(shop: Workshop, step: Step, cut: Json, sheet: Json) -> None:
    """Put both sides of a cut where the plan says: a part, a piece with a name, or waste."""
    held, words = cut["of"], cut["frees"]
    if step.kind == "trim":
        shop.pieces[held] = step.left
        return
    freed, _, left = words.partition(", leaving ")
    shop.pieces.pop(held)
    if left:
        _take_part(shop, left, step.left, sheet, f"cut {step.order}")
    elif min(_size(step.left)) > NEAR:
        shop.pieces[held], shop.made_by[held] = step.left, step.order
    if freed.startswith(("strip ", "piece ")):
        if freed in shop.made_by:
            shop.faults.append(f"cut {step.order}: there was a {freed} before")
        shop.pieces[freed], shop.made_by[freed] = step.freed, step.order
    else:
        _take_part(shop, freed, step.freed, sheet, f"cut {step.order}")


def _take_part(shop: Workshop, label: str | None, rect: Rect, sheet: Json, where: str) -> None:
    """Take a part from the bench: it must be one of the sheet's, at its place and size."""
    for one in sheet["placements"]:
        if label in (None, one["label"]) and _is_same(_rect(one), rect):
            shop.parts[one["label"], one["copy"]] += 1
            return
    shop.faults.append(f"{where}: what comes off is no {label or 'part'}")


def _find_setting_faults(steps: Sequence[Step], settings: Sequence[Json]) -> Iterator[str]:
    by_order = {setting["order"]: setting for setting in settings}
    numbers = [step.setting for step in steps]
    if numbers != sorted(numbers):
        yield "a setting is left and taken up again"
    for number in dict.fromkeys(numbers):
        done = [step for step in steps if step.setting == number]
        setting = by_order.get(number)
        if setting is None:
            yield f"there is no setting {number}"
            continue
        yield from _find_faults_of(setting, done)
    sawn = [one for one in settings if one["kind"] in ("trim", "rip", "crosscut")]
    for one in sawn:
        if one["order"] not in numbers:
            yield f"setting {one['order']} is never used"


def _find_faults_of(setting: Json, done: Sequence[Step]) -> Iterator[str]:
    name = f"setting {setting['order']}"
    if len(done) != setting["cuts"]:
        yield f"{name} makes {len(done)} cuts and says {setting['cuts']}"
    if {setting["kind"]} != {step.kind for step in done}:
        yield f"{name} makes cuts of another kind"
    if any(abs(step.value_mm - setting["value_mm"]) > FENCE for step in done):
        yield f"{name} makes cuts of another size"
    trims = setting["kind"] == "trim"
    labels = set() if trims else {label for step in done for label in step.labels}
    if labels != set(setting["pieces"]):
        yield f"{name} frees {sorted(labels)} and says {setting['pieces']}"
    if ", ".join(sorted({step.sheet for step in done}, key=_number)) not in setting["where"]:
        yield f"{name} is used elsewhere than it says"


def _find_missing(shop: Workshop, parts: Sequence[Json]) -> Iterator[str]:
    wanted = {(part["label"], copy) for part in parts for copy in range(1, part["count"] + 1)}
    for label, copy in sorted(wanted | set(shop.parts)):
        if shop.parts[label, copy] != ((label, copy) in wanted):
            yield f"copy {copy} of {label} comes out {shop.parts[label, copy]} times"


def _lifted_by(step: Step, steps: Sequence[Step]) -> Iterator[Rect]:
    """Yield what is carried away once the cuts in the first direction through a sheet are done."""
    first = next(one for one in steps if one.sheet == step.sheet and one.kind != "trim")
    if step.kind != first.kind:
        return
    axis = 1 if step.kind == "rip" else 0
    other = 1 - axis
    if _size(step.piece)[other] >= _size(first.piece)[other] - NEAR:
        yield step.freed
        again = [
            one
            for one in steps
            if one.sheet == step.sheet and one.kind == step.kind and _is_same(one.piece, step.left)
        ]
        if not again:
            yield step.left


def _axis(cut: Json) -> int:
    """Return the direction the cut is measured in: 0 along x, 1 along y."""
    return 1 if abs(cut["from"][1] - cut["to"][1]) <= NEAR else 0


def _sides(cut: Json, piece: Rect, axis: int, kerf: float) -> tuple[Rect, Rect]:
    at = cut["from"][axis]
    low, high = list(piece), list(piece)
    low[axis + 2], high[axis] = at - kerf / 2, at + kerf / 2
    return (low[0], low[1], low[2], low[3]), (high[0], high[1], high[2], high[3])


def _crosses(cut: Json, piece: Rect, axis: int, kerf: float) -> bool:
    """Whether a cut goes from edge to edge; the blade may hang over where it only shaves."""
    half = kerf / 2
    other = 1 - axis
    ends = sorted((cut["from"][other], cut["to"][other]))
    return bool(
        ends[0] <= piece[other] + NEAR
        and ends[1] >= piece[other + 2] - NEAR
        and piece[axis] - half <= cut["from"][axis] + NEAR
        and cut["from"][axis] - NEAR <= piece[axis + 2] + half
        and cut["kind"] in ("trim", ("crosscut", "rip")[axis])
    )


def _measured_first(
    cut: Json, low: Rect, high: Rect, axis: int, kerf: float
) -> tuple[Rect, Rect] | None:
    """Return both sides, the one that the setting measures first; None if it measures neither."""
    taken = kerf if cut["kind"] == "trim" else 0.0
    for one, other in ((low, high), (high, low)):
        if abs(one[axis + 2] - one[axis] + taken - cut["setting_mm"]) <= NEAR:
            return one, other
    return None


def _between(low: Rect, high: Rect, axis: int) -> Rect:
    if axis:
        return (low[0], low[3], low[2], high[1])
    return (low[2], low[1], high[0], low[3])


def _placed(sheet: Json) -> Iterator[tuple[str, Rect]]:
    return ((one["label"], _rect(one)) for one in sheet["placements"])


def _rect(placement: Json) -> Rect:
    length, width = placement["length_mm"], placement["width_mm"]
    along_x, along_y = (width, length) if placement["turned"] else (length, width)
    x, y = placement["x_mm"], placement["y_mm"]
    return (x, y, x + along_x, y + along_y)


def _size(rect: Rect) -> tuple[float, float]:
    return (rect[2] - rect[0], rect[3] - rect[1])


def _is_same(one: Rect, other: Rect) -> bool:
    return all(abs(a - b) <= NEAR for a, b in zip(one, other, strict=True))


def _within(inner: Rect, outer: Rect) -> bool:
    return all(outer[i] <= inner[i] + NEAR and inner[i + 2] <= outer[i + 2] + NEAR for i in (0, 1))


def _overlap(one: Rect, other: Rect) -> bool:
    return all(min(one[i + 2], other[i + 2]) - max(one[i], other[i]) > NEAR for i in (0, 1))


def _number(name: str) -> tuple[str, int]:
    word, number = name.split()
    return (word, int(number))
