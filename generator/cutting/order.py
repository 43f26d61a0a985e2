"""The order of the cuts: every fence and stop set once for as many pieces as can be.

A cut can be made when the piece it goes through has come off. Among the settings that can be made
next, one that need never be made again goes first; otherwise the one that frees most work.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from generator.cutting.trees import Axis, Box, Leaf, Node, Split, millimetres
from generator.geometry.tolerance import SAME_PLANE_MM
from generator.model.cutting import CutKind


@dataclass(frozen=True, slots=True)
class Task:
    """A cut to be made.

    Attributes:
        sheet: Index of its sheet.
        kind: Rip or crosscut.
        value_mm: What the fence or stop is set to.
        after: Index of the task that makes the piece it goes through; -1 for none.
        piece: The piece it goes through, in ticks, kerf included.
        axis: Direction the measure is taken in.
        extent: Ticks from the start of the piece to the far side of the kerf.
        of: Index of the task that freed the strip this is a cut of; -1 for the sheet itself.
        frees: What comes off.
        leaves: What stays, where nothing more is cut from it; else None.
    """

    sheet: int
    kind: CutKind
    value_mm: float
    after: int
    piece: Box
    axis: Axis
    extent: int
    of: int
    frees: Node
    leaves: Leaf | None


@dataclass(frozen=True, slots=True)
class Run:
    """Cuts made one after the other with one setting."""

    kind: CutKind
    value_mm: float
    tasks: tuple[int, ...]


def find_tasks(trees: Sequence[Node], kerf: int) -> tuple[Task, ...]:
    """Return the cuts of all sheets, each after the one that makes its piece."""
    tasks: list[Task] = []
    for sheet, tree in enumerate(trees):
        _add_tasks(tree, sheet, kerf, -1, -1, tasks)
    return tuple(tasks)


def order_tasks(tasks: Sequence[Task]) -> tuple[Run, ...]:
    """Return the cuts in runs of one setting each, in the order they are made."""
    names = _name_values(tasks)
    followers: dict[int, list[int]] = {}
    for index, task in enumerate(tasks):
        followers.setdefault(task.after, []).append(index)
    ready = followers.get(-1, [])
    open_counts: dict[tuple[str, float], int] = {}
    for name in names:
        open_counts[name] = open_counts.get(name, 0) + 1
    runs: list[Run] = []
    while ready:
        trials: dict[tuple[str, float], list[int]] = {}
        for index in ready:
            if names[index] not in trials:
                trials[names[index]] = _run(names[index], ready, names, followers)
        name = max(trials, key=lambda name: _merit(name, trials[name], open_counts[name]))
        done = trials[name]
        freed = [later for index in done for later in followers.get(index, [])]
        gone = set(done)
        ready = sorted(index for index in [*ready, *freed] if index not in gone)
        open_counts[name] -= len(done)
        runs.append(Run(tasks[done[0]].kind, name[1], tuple(done)))
    return tuple(runs)


def _add_tasks(
    node: Node, sheet: int, kerf: int, after: int, owner: int, tasks: list[Task]
) -> None:
    """Add the cuts of one node: along the chain of its children, then inside each of them."""
    if isinstance(node, Leaf):
        return
    kind: CutKind = "rip" if node.axis == "y" else "crosscut"
    start, previous = 0, after
    for position, child in enumerate(node.children[:-1]):
        extent = child.box.extent(node.axis)
        piece = node.box.slice(node.axis, start, node.box.extent(node.axis) - start)
        last = node.children[-1] if position == len(node.children) - 2 else None
        tasks.append(
            Task(
                sheet=sheet,
                kind=kind,
                value_mm=millimetres(extent - kerf),
                after=previous,
                piece=piece,
                axis=node.axis,
                extent=extent,
                of=owner,
                frees=child,
                leaves=last if isinstance(last, Leaf) else None,
            )
        )
        previous = len(tasks) - 1
        start += extent
        if isinstance(child, Split):
            _add_tasks(child, sheet, kerf, previous, previous, tasks)
    _add_tasks(node.children[-1], sheet, kerf, previous, owner, tasks)


def _name_values(tasks: Sequence[Task]) -> list[tuple[str, float]]:
    """Return kind and value of every cut, values that one fence setting can make being one."""
    values = sorted({(task.kind, task.value_mm) for task in tasks})
    names: dict[tuple[str, float], tuple[str, float]] = {}
    current = ("", 0.0)
    for kind, value in values:
        if kind != current[0] or value - current[1] > SAME_PLANE_MM:
            current = (kind, value)
        names[kind, value] = current
    return [names[task.kind, task.value_mm] for task in tasks]


def _run(
    name: tuple[str, float],
    ready: Sequence[int],
    names: Sequence[tuple[str, float]],
    followers: dict[int, list[int]],
) -> list[int]:
    """Return the cuts that can be made with one setting before it is moved, in order."""
    done = []
    waiting = [index for index in reversed(ready) if names[index] == name]
    while waiting:
        index = waiting.pop()
        done.append(index)
        waiting += [later for later in reversed(followers.get(index, [])) if names[later] == name]
    return done


def _merit(
    name: tuple[str, float], run: Sequence[int], open_count: int
) -> tuple[bool, bool, float, int]:
    """Return what speaks for a setting: it is the last of its kind, a rip, wide, and long."""
    return (len(run) == open_count, name[0] == "rip", name[1], len(run))
