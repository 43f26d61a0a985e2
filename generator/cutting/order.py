"""The order of the cuts: every fence and stop set once for as many pieces as can be.

A cut can be made when the piece it goes through has come off. The quick way to an order: among the
settings that can be made next, one that need never be made again goes first; otherwise rips
before crosscuts, and wide before narrow. Where that needs more settings than some order must, the
fewest are searched for.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from generator.cutting.fewest_settings import Chain, find_fewest
from generator.cutting.trees import Axis, Box, Leaf, Node, Split, millimetres
from generator.geometry.tolerance import SAME_PLANE_MM
from generator.model.cutting import CutKind

Name = tuple[CutKind, float]
"""A setting: what is cut, and what fence or stop is set to."""


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


@dataclass(frozen=True, slots=True)
class _Work:
    """What is to be done: the setting of every cut, and which cuts each makes possible."""

    names: Sequence[Name]
    followers: dict[int, list[int]]

    def named(self, indices: Iterable[int]) -> Iterator[Name]:
        """Yield the settings of cuts."""
        return (self.names[index] for index in indices)

    def run(self, name: Name, ready: Sequence[int]) -> list[int]:
        """Return the cuts that can be made with one setting before it is moved, in order."""
        done = []
        waiting = [index for index in reversed(ready) if self.names[index] == name]
        while waiting:
            index = waiting.pop()
            done.append(index)
            later = reversed(self.followers.get(index, []))
            waiting += [one for one in later if self.names[one] == name]
        return done

    def after(self, ready: Sequence[int], done: Sequence[int]) -> list[int]:
        """Return the cuts that can be made once a run is done."""
        gone = set(done)
        freed = [later for index in done for later in self.followers.get(index, [])]
        return sorted(index for index in [*ready, *freed] if index not in gone)


@dataclass(frozen=True, slots=True)
class Order:
    """All cuts in runs, and how few runs any order of these cuts could have."""

    runs: tuple[Run, ...]
    bound: int


def find_tasks(trees: Sequence[Node], kerf: int) -> tuple[Task, ...]:
    """Return the cuts of all sheets, each after the one that makes its piece."""
    tasks: list[Task] = []
    for sheet, tree in enumerate(trees):
        _add_tasks(tree, sheet, kerf, -1, -1, tasks)
    return tuple(tasks)


def order_tasks(tasks: Sequence[Task]) -> tuple[Run, ...]:
    """Return the cuts in runs of one setting each, in the order they are made, found quickly."""
    work = _plan_work(tasks)
    open_counts = Counter(work.names)
    heads: dict[Name, list[int]] = {}
    trials: dict[Name, list[int]] = {}
    runs: list[Run] = []
    freed: Sequence[int] = work.followers.get(-1, [])
    while freed or trials:
        for index in freed:
            heads.setdefault(work.names[index], []).append(index)
        for name in dict.fromkeys(work.named(freed)):
            trials[name] = work.run(name, sorted(heads[name]))
        name = max(trials, key=lambda name: _merit(name, trials[name], open_counts[name]))
        done = trials.pop(name)
        del heads[name]
        freed = work.after((), done)
        open_counts[name] -= len(done)
        runs.append(_make_run(name, done))
    return tuple(runs)


def find_order(tasks: Sequence[Task]) -> Order:
    """Return the cuts in as few runs as are found, and how few it must be.

    Of equally few, the quick order is taken; else wide rips first, as far as that costs nothing.
    """
    quick = order_tasks(tasks)
    work = _plan_work(tasks)
    names = sorted(set(work.names), key=lambda name: (name[0] == "crosscut", -name[1]))
    numbers = {name: number for number, name in enumerate(names)}
    known = tuple(numbers[run.kind, run.value_mm] for run in quick)
    fewest = find_fewest(_find_chains(tasks, [numbers[name] for name in work.names]), known)
    if fewest.settings == known:
        return Order(quick, fewest.bound)
    runs: list[Run] = []
    ready = work.followers.get(-1, [])
    for setting in fewest.settings:
        done = work.run(names[setting], ready)
        ready = work.after(ready, done)
        runs.append(_make_run(names[setting], done))
    return Order(tuple(runs), fewest.bound)


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


def _plan_work(tasks: Sequence[Task]) -> _Work:
    followers: dict[int, list[int]] = {}
    for index, task in enumerate(tasks):
        followers.setdefault(task.after, []).append(index)
    return _Work(_name_values(tasks), followers)


def _name_values(tasks: Sequence[Task]) -> list[Name]:
    """Return kind and value of every cut, values that one fence setting can make being one."""
    values = sorted({(task.kind, task.value_mm) for task in tasks})
    names: dict[Name, Name] = {}
    current: Name | None = None
    for name in values:
        if current is None or name[0] != current[0] or name[1] - current[1] > SAME_PLANE_MM:
            current = name
        names[name] = current
    return [names[task.kind, task.value_mm] for task in tasks]


def _find_chains(tasks: Sequence[Task], settings: Sequence[int]) -> Iterator[Chain]:
    """Yield the settings from a whole sheet to each cut after which nothing more is cut."""
    chains: list[Chain] = []
    for task, setting in zip(tasks, settings, strict=True):
        before = chains[task.after] if task.after >= 0 else ()
        chains.append(before if before[-1:] == (setting,) else (*before, setting))
    inner = {task.after for task in tasks}
    yield from (chain for index, chain in enumerate(chains) if index not in inner)


def _make_run(name: Name, done: Sequence[int]) -> Run:
    return Run(*name, tuple(done))


def _merit(name: Name, run: Sequence[int], open_count: int) -> tuple[bool, bool, float, int]:
    """Return what speaks for a setting: it is the last of its kind, a rip, wide, and long."""
    return (len(run) == open_count, name[0] == "rip", name[1], len(run))
