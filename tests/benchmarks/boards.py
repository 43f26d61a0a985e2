"""``python -m tests.benchmarks.boards --data ../shared/benchmarks``: boards beside proved optima.

Reads ``csp1d.json``: one length of board, pieces with counts, no kerf, and for most instances a
published or proved optimum (the sets are named in the file, with their sources). The table has a
row for each set; instances with a proved optimum that were not solved to it are named below, and
so are those without, where the file has only a bound and the best it has seen. Every answer is
checked by counting pieces and adding up lengths, without any code of the cutting stage. Seconds are
of this process, which works on one core.
"""

import argparse
import json
import sys
import time
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from generator.cutting.boards import choose_boards
from generator.cutting.lengths import Length

WORK = 1_600_000_000
"""So much work that no instance takes five seconds."""

LIMIT_S = 5.0
"""The time an instance may take."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Instance:
    """A length of board, pieces with their counts, and what is known about it.

    Attributes:
        optimum: Proved least number of boards, if it is known.
        seen: Else a bound and the best seen.
    """

    name: str
    family: str
    length: int
    pieces: Mapping[int, int]
    optimum: int | None
    seen: tuple[int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Result:
    """What became of an instance."""

    instance: Instance
    boards: int
    bound: int
    faults: tuple[str, ...]
    seconds: float

    @property
    def is_solved(self) -> bool:
        """Whether it needs no more boards than the optimum that is known, in time."""
        optimum = self.instance.optimum
        return self.boards == optimum and not self.faults and self.seconds <= LIMIT_S


def main(arguments: Sequence[str] | None = None) -> int:
    """Print the table; return 1 if an answer is wrong or an optimum was not reached."""
    parser = argparse.ArgumentParser(description="boards beside proved optima")
    parser.add_argument("--data", type=Path, required=True, help="folder that has csp1d.json")
    parser.add_argument("--work", type=int, default=WORK, help="most work for one instance")
    options = parser.parse_args(arguments)
    results = []
    for instance in read_instances(options.data / "csp1d.json"):
        results.append(solve(instance, options.work))
        print(".", end="", file=sys.stderr, flush=True)
    print(file=sys.stderr)
    print(format_table(results))
    wrong = [one for one in results if one.faults]
    missed = [one for one in results if one.instance.optimum is not None and not one.is_solved]
    return 1 if wrong or missed else 0


def read_instances(path: Path) -> list[Instance]:
    """Return all instances of the file, in its order."""
    data = json.loads(path.read_text(encoding="utf-8"))
    return [
        Instance(
            name=one["id"],
            family=one["set"],
            length=one["L"],
            pieces=dict(one["items"]),
            optimum=one.get("opt"),
            seen=(one.get("lb", one.get("opt")), one.get("ub", one.get("opt"))),
        )
        for one in data["instances"]
    ]


def solve(instance: Instance, work: int) -> Result:
    """Return what the program makes of an instance, checked."""
    pieces = sorted(instance.pieces, reverse=True)
    sold = Length(0, instance.length, instance.length)
    start = time.process_time()
    counts = [instance.pieces[piece] for piece in pieces]
    choice = choose_boards(pieces, counts, [sold], work)
    seconds = time.process_time() - start
    boards = [
        [piece for piece, taken in zip(pieces, board.taken, strict=True) for _ in range(taken)]
        for board in choice.boards
    ]
    return Result(
        instance=instance,
        boards=len(boards),
        bound=choice.bound // instance.length,
        faults=tuple(find_faults(instance, boards)),
        seconds=seconds,
    )


def find_faults(instance: Instance, boards: Sequence[Sequence[int]]) -> list[str]:
    """Return what is wrong with an answer: a board too full, or pieces other than asked for."""
    faults = [
        f"{instance.name}: a board of {instance.length} holds {sum(board)}"
        for board in boards
        if sum(board) > instance.length
    ]
    if Counter(piece for board in boards for piece in board) != Counter(instance.pieces):
        faults.append(f"{instance.name}: the pieces are not those asked for")
    return faults


def format_table(results: Sequence[Result]) -> str:
    """Return a row for each set, and below what was not solved, is open or is wrong."""
    rows = [
        f"{'proved optimum':16} instances optimum   ours  bound solved | seconds  each  longest",
    ]
    for family in dict.fromkeys(one.instance.family for one in results):
        known = [
            one
            for one in results
            if one.instance.family == family and one.instance.optimum is not None
        ]
        if known:
            rows.append(_row(family, known))
    rows += [fault for one in results for fault in one.faults]
    missed = [one for one in results if one.instance.optimum is not None and not one.is_solved]
    rows.append("not solved to the proved optimum: " + (", ".join(map(_words, missed)) or "none"))
    unknown = [one for one in results if one.instance.optimum is None]
    if unknown:
        rows += ["no proved optimum in the file:", *(f"  {_words(one)}" for one in unknown)]
    return "\n".join(rows)


def _row(family: str, results: Sequence[Result]) -> str:
    total = sum(one.seconds for one in results)
    return (
        f"{family:16} {len(results):9} {sum(one.instance.optimum or 0 for one in results):7} "
        f"{sum(one.boards for one in results):6} {sum(one.bound for one in results):6} "
        f"{sum(one.is_solved for one in results):6} | {total:7.1f} {total / len(results):5.2f} "
        f"{max(one.seconds for one in results):8.2f}"
    )


def _words(result: Result) -> str:
    known = result.instance
    wanted = f"known {known.seen[0]} to {known.seen[1]}"
    if known.optimum is not None:
        wanted = f"optimum {known.optimum}"
    proof = "proved least" if result.boards == result.bound else f"bound {result.bound}"
    return f"{known.name}: {wanted}, ours {result.boards}, {proof}, {result.seconds:.2f} s"


if __name__ == "__main__":
    sys.exit(main())
