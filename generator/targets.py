"""Which plans the designs of a folder ask for: each as it stands, and in each of its sizes."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from generator.design.overrides import choose_size, override_parameters
from generator.design.read import read_design
from generator.model.design import Design
from generator.problems import Problem, ProblemLog

DESIGN_FILE = "design.yml"


@dataclass(frozen=True, slots=True, kw_only=True)
class Target:
    """A plan there is to be: of a design as it stands, or of one of its sizes.

    Attributes:
        slug: The name of the plan's folder.
        design: The name of the design's folder.
        size: The name of the size, or "".
        sizes_known: Whether the sizes of its design could be read.
        problems: What forbids the plans of this design before anything is computed.
    """

    slug: str
    design: str
    size: str
    sizes_known: bool = True
    problems: tuple[Problem, ...] = ()


def find_designs(folder: Path) -> tuple[str, ...]:
    """Return the names of the folders that hold a design file, sorted."""
    if not folder.is_dir():
        return ()
    return tuple(sorted(path.parent.name for path in folder.glob(f"*/{DESIGN_FILE}")))


def find_targets(folder: Path) -> tuple[Target, ...]:
    """Return every plan the designs of a folder ask for: by design, then its sizes in file order.

    A design that cannot be read, or a size of which would be published under the name of another
    plan (D208), has one target.
    """
    targets: list[Target] = []
    taken = dict.fromkeys(find_designs(folder))
    for slug in find_designs(folder):
        path = folder / slug / DESIGN_FILE
        design, _ = read_design(path, str(path))
        targets.append(Target(slug=slug, design=slug, size="", sizes_known=design is not None))
        if design is None:
            continue
        names = [(design.plan_slug(size), size) for size in design.sizes]
        log = ProblemLog()
        for plan, size in names:
            if plan in taken:
                hint = "give the size another name"
                log.add("D208", size.place, name=size.name, plan=plan, hint=hint)
        if log.problems:
            targets[-1] = replace(targets[-1], sizes_known=False, problems=tuple(log.problems))
            continue
        taken.update(dict.fromkeys(plan for plan, _ in names))
        targets += [Target(slug=plan, design=slug, size=size.name) for plan, size in names]
    return tuple(targets)


def read_variant(
    folder: Path, slug: str, size: str, settings: Mapping[str, str]
) -> tuple[Design | None, tuple[Problem, ...]]:
    """Return a design in one of its sizes and with settings of its own, or None with its problems.

    Args:
        folder: Of all designs.
        slug: The name of the design's folder.
        size: The name of the size, or "".
        settings: Parameters with values of their own, as formulas.
    """
    path = folder / slug / DESIGN_FILE
    design, problems = read_design(path, str(path))
    if design is None:
        return None, problems
    design, problems = override_parameters(choose_size(design, size), settings)
    return None if problems else design, problems
