"""Slips of a maker's hand, two thousand of them: each is a plan or a problem, never a traceback.

Copies of all demo designs, their long texts left out, are spoilt by a seeded random hand and go
through every stage from reading to the checks, in the two editions by turns.
"""

import random
import re
import signal
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from types import FrameType

import pytest

from generator.build import build_plan
from generator.catalogue.read import read_catalogue
from generator.design.read import parse_design
from generator.model.catalogue import Catalogue
from generator.problem_text import format_problem
from generator.problems import ProblemLog
from generator.units import SYSTEMS

ROOT = Path(__file__).parents[2]
DESIGNS = tuple(sorted(path.parent.name for path in (ROOT / "designs").glob("*/design.yml")))
BATCHES, BATCH = 40, 50
MOST_SECONDS = 5.0
"""For one spoilt design; a sound one takes a fifth of a second."""

NUMBERS = ("0", "-1", "1", "3", "0.5", "1/2", "1/0", "99", "1e9", "123456789012", "1000000")
UNITS = ("in", "mm", "ft", "m", "deg", "kg", "lb per ft", "")
OPERATORS = (" + ", " - ", " * ", " / ", " < ", " ")
WAYS = ("left", "right", "top", "bottom", "front", "back", "up", "down")
WORDS = (
    "side", "side.left", "side.left.top", "tray_bottom", "tray[2]", "lip[*]", "rail[9]", "floor",
    "rear", "seat_board", "partition[1]", "top", "left", "up", "outside", "both", "against floor",
    "against side", "against side.right.front", "bevel 10 deg long on top",
    "clip 9 m down by 9 m back", "round 2 ft", "width", "panel", "trays", "lean", "glue",
    "face screws", "pocket screws", "yes", "no", "null", "~", "true", "1:30", "{}", "[]",
    "[0 in, 0 in]", "{imperial: 1 in}", "tray in 1..500", "n in 3..1", "90 deg about up",
    "[" * 40 + "]" * 40, "{a: " * 12 + "1" + "}" * 12, "(" * 60 + "1" + ")" * 60, "9" * 400,
    "sqrt(-1)", "tan(90 deg)", "1 m * 1 m", "width / 0", "plywood-12", "wood-8x3", "hand-saw",
    "25 kg per m", "80 kg on one spot", "freely", "1/240",
)  # fmt: skip
TEXTS = re.compile(
    r"^(?: *#.*|( *)\w+: \|\n(?:\1 +.*\n|\n)+|(?:tools|made_by|licence|summary): .*\n)"
    r"|, (?:says|note): [^{}\n]*(?=\}$)",
    re.MULTILINE,
)
SIGNS = "\t'\"#&*!|>%@`{}[],:-?;=°½…\u200b\u2028\ufeff\U0001f525é\u0660\x00\x7f²"


Slip = Callable[[list[str], random.Random], None]


def _a_line(lines: list[str], hand: random.Random) -> int:
    return hand.randrange(len(lines))


def _delete(lines: list[str], hand: random.Random) -> None:
    del lines[_a_line(lines, hand)]


def _double(lines: list[str], hand: random.Random) -> None:
    i = _a_line(lines, hand)
    lines.insert(_a_line(lines, hand) if hand.random() < 0.5 else i, lines[i])


def _swap(lines: list[str], hand: random.Random) -> None:
    i, j = _a_line(lines, hand), _a_line(lines, hand)
    lines[i], lines[j] = lines[j], lines[i]


def _swap_values(lines: list[str], hand: random.Random) -> None:
    found = [i for i, line in enumerate(lines) if re.match(r" *[a-z_ ]+: \S", line)]
    if len(found) > 1:
        i, j = hand.sample(found, 2)
        (mine, one), (theirs, other) = (lines[k].split(": ", 1) for k in (i, j))
        lines[i], lines[j] = f"{mine}: {other}", f"{theirs}: {one}"


def _same_key_again(lines: list[str], hand: random.Random) -> None:
    found = [i for i, line in enumerate(lines) if re.match(r" *[a-z_]+:", line)]
    if found:
        i = hand.choice(found)
        lines.insert(i, lines[i].split(":")[0] + ": " + hand.choice(WORDS))


def _cut(lines: list[str], hand: random.Random) -> None:
    i = _a_line(lines, hand)
    lines[i] = lines[i][: hand.randrange(len(lines[i]) + 1)]


def _indent(lines: list[str], hand: random.Random) -> None:
    i = _a_line(lines, hand)
    lines[i] = hand.choice(("  ", " ", "\t")) + lines[i] if hand.random() < 0.5 else lines[i][2:]


def _odd_sign(lines: list[str], hand: random.Random) -> None:
    i = _a_line(lines, hand)
    at = hand.randrange(len(lines[i]) + 1)
    lines[i] = lines[i][:at] + hand.choice(SIGNS) + lines[i][at:]


def _replaced(pattern: str, new: Callable[[str, random.Random], str]) -> Slip:
    """Return a slip that writes something else for one place of the file a pattern finds."""

    def slip(lines: list[str], hand: random.Random) -> None:
        found = [(i, m) for i, line in enumerate(lines) for m in re.finditer(pattern, line)]
        if found:
            i, match = hand.choice(found)
            text = new(match.group(), hand)
            lines[i] = lines[i][: match.start()] + text + lines[i][match.end() :]

    return slip


def _another_number(text: str, hand: random.Random) -> str:
    if hand.random() < 0.5:
        return hand.choice(NUMBERS)
    return f"{float(text) * hand.choice((-1, 0.1, 0.5, 0.9, 1.1, 2, 10)):g}"


def _another_name(text: str, hand: random.Random) -> str:
    i = hand.randrange(len(text))
    return text[:i] + hand.choice("aeiou_X9") + text[i + hand.randrange(2) :]


def _one_of(words: tuple[str, ...]) -> Callable[[str, random.Random], str]:
    return lambda _text, hand: hand.choice(words)


SLIPS: tuple[tuple[int, Slip], ...] = (
    (3, _delete),
    (2, _double),
    (2, _swap),
    (2, _swap_values),
    (1, _same_key_again),
    (2, _cut),
    (1, _indent),
    (2, _odd_sign),
    (8, _replaced(r"\b\d+(?:\.\d+)?\b", _another_number)),
    (2, _replaced(r"\b(?:in|mm|deg)\b", _one_of(UNITS))),
    (2, _replaced(r" [-+*/] ", _one_of(OPERATORS))),
    (3, _replaced(r"\b[a-z_]{3,}\b", _another_name)),
    (4, _replaced(r"(?<=: )[^{}|\[\]]+$", _one_of(WORDS))),
    (3, _replaced(rf"\b(?:{'|'.join(WAYS)})\b", _one_of(WAYS))),
    (3, _replaced(r"\b[a-z][a-z_.]*\b", _one_of(WORDS))),
)


def _spoil(source: str, hand: random.Random) -> str:
    """Return a text with one to three slips in it."""
    lines = source.split("\n")
    slips, weights = [slip for _, slip in SLIPS], [weight for weight, _ in SLIPS]
    for _ in range(hand.choice((1, 1, 2, 3))):
        hand.choices(slips, weights)[0](lines, hand)
    return "\n".join(lines)


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    """Return the catalogue of shared/."""
    found = read_catalogue(ROOT / "shared", ProblemLog())
    assert found is not None
    return found


@pytest.fixture(scope="module")
def sources() -> tuple[str, ...]:
    """Return the demo designs without their texts, which say nothing here and take long to read."""
    paths = [ROOT / "designs" / name / "design.yml" for name in DESIGNS]
    return tuple(TEXTS.sub("", path.read_text(encoding="utf-8")) for path in paths)


@contextmanager
def _within(seconds: float) -> Iterator[None]:
    """Raise TimeoutError where the block takes longer than a time of this process."""

    def stop(_number: int, _frame: FrameType | None) -> None:
        raise TimeoutError(f"it took more than {seconds:g} s")

    before = signal.signal(signal.SIGVTALRM, stop)
    signal.setitimer(signal.ITIMER_VIRTUAL, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)
        signal.signal(signal.SIGVTALRM, before)


@pytest.mark.parametrize("batch", range(BATCHES))
def test_a_spoilt_design_is_a_plan_or_a_problem_and_never_a_traceback(
    batch: int, sources: tuple[str, ...], catalogue: Catalogue
) -> None:
    for number in range(batch * BATCH, (batch + 1) * BATCH):
        hand = random.Random(number)
        text = _spoil(sources[number % len(sources)], hand)
        system = SYSTEMS[number // len(sources) % 2]
        log = ProblemLog()
        try:
            with _within(MOST_SECONDS):
                design = parse_design(text, "design.yml", "spoilt", log)
                plan, problems = (
                    (None, tuple(log.problems))
                    if design is None
                    else build_plan(design, catalogue, system)
                )
        except Exception as error:
            error.add_note(f"slip {number}, {system}")
            raise

        assert (plan is None) == bool([p for p in problems if not p.accepted]), number
        assert all(format_problem(problem) for problem in problems), number


@pytest.mark.parametrize("number", range(len(DESIGNS)))
def test_before_they_are_spoilt_the_copies_are_sound(
    number: int, sources: tuple[str, ...], catalogue: Catalogue
) -> None:
    design = parse_design(sources[number], "design.yml", "sound", ProblemLog())

    assert design is not None
    assert () == build_plan(design, catalogue, "metric")[1]


def test_the_slips_reach_every_stage_and_leave_some_designs_sound(
    sources: tuple[str, ...], catalogue: Catalogue
) -> None:
    wanted = {"D", "E", "P", "J", "C", "a plan"}
    reached: set[str] = set()
    for number in range(BATCHES * BATCH):
        if wanted <= reached:
            break
        log = ProblemLog()
        text = _spoil(sources[number % len(sources)], random.Random(number))
        design = parse_design(text, "design.yml", "a", log)
        problems = tuple(log.problems)
        if design is not None:
            plan, problems = build_plan(design, catalogue, "metric", routed=False)
            reached |= {"a plan"} if plan is not None else set()
        reached |= {problem.code[0] for problem in problems}

    assert wanted <= reached
