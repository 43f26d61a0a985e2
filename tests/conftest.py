"""Settings of all tests: generated examples are the same on every machine and every day."""

import pytest
from hypothesis import settings

settings.register_profile("same everywhere", derandomize=True, deadline=None)
settings.load_profile("same everywhere")

LONGEST_FIRST = (
    "test_browser.py",
    "test_viewer.py",
    "test_mutations.py",
    "test_command_line.py",
    "test_drawings.py",
)


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Begin with the files that take longest, lest one process work on them alone at the end."""
    ranks = {name: rank for rank, name in enumerate(LONGEST_FIRST)}
    whole = len(ranks)
    items.sort(
        key=lambda item: (
            ranks.get(item.path.name, whole),
            item.path.parent.name != "whole",
        )
    )
