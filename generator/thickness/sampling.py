"""A plan with its panels at some thickness: what its page says then, or why there is none."""

from dataclasses import dataclass, field, replace
from html import unescape

from generator.build import check_plan, lay_out_plan, rebuild_plan
from generator.cutting.replay import Sawn
from generator.model.artifacts import Artifacts
from generator.model.catalogue import Catalogue
from generator.model.cutting import Effort
from generator.model.design import Design
from generator.model.plan import Plan
from generator.pages.edition_page import edition_page
from generator.pages.entries import Entry
from generator.pages.followed import drop_values, find_section, read_texts, split_text
from generator.units import carrying

NOT_SAWN = "the sheets as they are drawn no longer give every part"

Thicknesses = tuple[float, ...]
"""Of the stocks that are followed, in their order, in mm."""


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why there is no page at a thickness, in words."""

    why: str


@dataclass(frozen=True, slots=True)
class Sample:
    """What the page says at a thickness: its texts, with the sizes they carry."""

    texts: tuple[str, ...]


@dataclass(slots=True, kw_only=True)
class Sampler:
    """Evaluates one plan at other thicknesses, each only once.

    Attributes:
        keys: Of the sheets that are followed, in the catalogue.
        planned: Their thicknesses in the plan.
    """

    design: Design
    catalogue: Catalogue
    plan: Plan
    artifacts: Artifacts
    entry: Entry
    keys: tuple[str, ...]
    planned: Thicknesses
    effort: Effort
    _sawn: Sawn | None = None
    _plans: dict[Thicknesses, Plan] = field(default_factory=dict)
    _found: dict[Thicknesses, Sample | Refusal] = field(default_factory=dict)

    def base(self) -> Sample:
        """Return what the page says of the plan as it was drawn, with the sizes it carries."""
        found = self.sample(self.planned)
        assert isinstance(found, Sample)
        return found

    def sample(self, thicknesses: Thicknesses) -> Sample | Refusal:
        """Return what the page says, or why nothing: a fault, or other words than its fasteners."""
        if thicknesses not in self._found:
            self._found[thicknesses] = self._evaluate(thicknesses)
        return self._found[thicknesses]

    def check(self, thicknesses: Thicknesses) -> Refusal | None:
        """Return what the checks of a plan forbid at thicknesses whose page has been read."""
        catalogue = self._measured(thicknesses)
        problems = check_plan(self._plans[thicknesses], self.design, catalogue)
        return Refusal(drop_values(problems[0].what)) if problems else None

    def _measured(self, thicknesses: Thicknesses) -> Catalogue:
        wanted = dict(zip(self.keys, thicknesses, strict=True))
        return replace(
            self.catalogue,
            sheets={
                key: replace(sheet, thickness_mm=wanted[key]) if key in wanted else sheet
                for key, sheet in self.catalogue.sheets.items()
            },
        )

    def _evaluate(self, thicknesses: Thicknesses) -> Sample | Refusal:
        if self._sawn is None:
            self._sawn = lay_out_plan(self.plan, self.effort)
        system = carrying(self.plan.edition.system)
        catalogue = self._measured(thicknesses)
        plan, problems = rebuild_plan(self.design, catalogue, system, self.plan, self._sawn)
        if plan is None:
            return Refusal(drop_values(problems[0].what) if problems else NOT_SAWN)
        self._plans[thicknesses] = plan
        texts = read_texts(edition_page(self.entry, plan, self.artifacts).decode("utf-8"))
        if thicknesses != self.planned:
            section = self._find_other_words(plan, texts)
            if section is not None:
                return Refusal(f"the section “{unescape(section)}” of the plan would be another")
        return Sample(tuple(texts))

    def _find_other_words(self, plan: Plan, texts: list[str]) -> str | None:
        """Return the section of the first words that differ but for sizes and fasteners."""
        names = {one.goods.name for one in (*self.plan.joinery.fasteners, *plan.joinery.fasteners)}
        base = list(self.base().texts)
        for number, (old, new) in enumerate(zip(base, texts, strict=False)):
            if old != new and _words(old, names) != _words(new, names):
                return find_section(base, number)
        return None if len(base) == len(texts) else find_section(base, len(base) - 1)


def _words(text: str, names: set[str]) -> tuple[tuple[str, ...], str]:
    """Return the wording of a text with every fastener called the same."""
    parts, kinds, _ = split_text(text)
    for name in sorted(names, key=lambda one: (-len(one), one)):
        parts = tuple(part.replace(name, "\ue003") for part in parts)
    return parts, kinds
