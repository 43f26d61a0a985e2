"""The house rules that can be read off the files: layers, lengths, docstrings, names, the code map.

Exceptions stand here, each with its reason; one that is no longer needed fails its test.
"""

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Final

import pytest
from importlinter.cli import EXIT_STATUS_SUCCESS, lint_imports

from generator.problems import CODES

ROOT: Final = Path(__file__).parents[1]
PACKAGE: Final = ROOT / "generator"
MODULES: Final = sorted(path.relative_to(ROOT).as_posix() for path in PACKAGE.rglob("*.py"))
PACKAGES: Final = sorted(
    path.parent.relative_to(ROOT).as_posix() for path in PACKAGE.rglob("__init__.py")
)
MOST_LINES: Final = 400
MOST_LINES_OF_A_FUNCTION: Final = 45
EMPTY_NAMES: Final = {"utils", "util", "helpers", "helper", "common", "misc", "base", "stuff"}

EVERY_MODULE = pytest.mark.parametrize("module", MODULES)

LONG_FUNCTIONS: Final[dict[str, str]] = {}
"""``module:function`` → why it may be longer than the rest."""

TOLERANCES_ELSEWHERE: Final = {
    "generator/cutting/nesting.py: SAME_OFFCUT": "which of two plans is better, in saw ticks",
    "generator/cutting/shaping.py: SAME_ANGLE_DEG": "what a saw's scale can show, no geometry",
}
"""Constants that look like tolerances of geometry and are none."""

TOLERANCE: Final = re.compile(
    r"^(EPS\w*|\w*TOLERANCE\w*|SAME_\w+|\w*_SINE|CHORD_\w+|DEPTH_\w+)\b[^=]*=[^=]", re.MULTILINE
)


@cache
def source(module: str) -> str:
    return (ROOT / module).read_text(encoding="utf-8")


@cache
def tree(module: str) -> ast.Module:
    return ast.parse(source(module))


def functions(module: str) -> Iterator[tuple[str, ast.FunctionDef | ast.AsyncFunctionDef]]:
    """Return every function of a module with its name, methods as ``Class.name``."""
    for node in tree(module).body:
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            yield node.name, node
        elif isinstance(node, ast.ClassDef):
            for inner in node.body:
                if isinstance(inner, ast.FunctionDef | ast.AsyncFunctionDef):
                    yield f"{node.name}.{inner.name}", inner


def test_each_layer_imports_only_what_stands_below_it(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """The import-linter contract of pyproject.toml."""
    monkeypatch.chdir(ROOT)
    status = lint_imports(config_filename="pyproject.toml", no_cache=True, no_logo=True)
    said = capsys.readouterr().out

    assert status == EXIT_STATUS_SUCCESS, said
    assert "1 kept, 0 broken" in said


@EVERY_MODULE
def test_a_module_can_be_read_in_one_go(module: str) -> None:
    assert len(source(module).splitlines()) <= MOST_LINES


@EVERY_MODULE
def test_a_function_fits_on_a_screen(module: str) -> None:
    long = [
        f"{module}:{name}"
        for name, node in functions(module)
        if node.end_lineno is not None
        and node.end_lineno - node.lineno + 1 > MOST_LINES_OF_A_FUNCTION
    ]

    assert [name for name in long if name not in LONG_FUNCTIONS] == []


def test_every_excepted_function_is_still_long() -> None:
    known = {
        f"{module}:{name}"
        for module in MODULES
        for name, node in functions(module)
        if (node.end_lineno or 0) - node.lineno + 1 > MOST_LINES_OF_A_FUNCTION
    }

    assert set(LONG_FUNCTIONS) <= known


@EVERY_MODULE
def test_a_module_says_what_it_is_for(module: str) -> None:
    assert ast.get_docstring(tree(module))


@EVERY_MODULE
def test_every_public_function_and_class_says_what_it_does(module: str) -> None:
    silent = [
        name
        for name, node in functions(module)
        if not any(word.startswith("_") for word in name.split(".")) and not ast.get_docstring(node)
    ]
    silent += [
        node.name
        for node in tree(module).body
        if isinstance(node, ast.ClassDef)
        and not node.name.startswith("_")
        and not ast.get_docstring(node)
    ]

    assert silent == []


@EVERY_MODULE
def test_imports_stand_at_the_top(module: str) -> None:
    inner = [
        f"line {node.lineno}"
        for _, function in functions(module)
        for node in ast.walk(function)
        if isinstance(node, ast.Import | ast.ImportFrom)
    ]

    assert inner == []


@EVERY_MODULE
def test_the_inch_is_defined_in_units_alone(module: str) -> None:
    """Numbers in docstrings and comments are not code."""
    numbers = [
        node.value
        for node in ast.walk(tree(module))
        if isinstance(node, ast.Constant) and isinstance(node.value, int | float)
    ]
    inches = [number for number in numbers if number in {25.4, 254, 0.0254, 304.8}]

    assert inches == ([254] if module == "generator/units.py" else [])


@EVERY_MODULE
def test_a_module_is_named_for_what_it_does(module: str) -> None:
    assert EMPTY_NAMES.isdisjoint(Path(module).with_suffix("").parts)


def test_tolerances_stand_in_their_one_table() -> None:
    """Numbers that decide what is the same point or plane have one home; paper has its own."""
    found = {
        f"{module}: {name}"
        for module in MODULES
        if module != "generator/geometry/tolerance.py" and "/outputs/" not in module
        for name in TOLERANCE.findall(source(module))
    }

    assert found == set(TOLERANCES_ELSEWHERE)


@EVERY_MODULE
def test_no_module_keeps_state_in_a_global(module: str) -> None:
    assert not any(isinstance(node, ast.Global) for node in ast.walk(tree(module)))


@EVERY_MODULE
def test_nothing_below_the_command_line_prints(module: str) -> None:
    printing = [
        f"line {node.lineno}"
        for node in ast.walk(tree(module))
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Name)
        and node.func.id == "print"
    ]

    assert module == "generator/cli.py" or printing == []


@EVERY_MODULE
def test_no_fault_of_any_kind_is_swallowed(module: str) -> None:
    bare = [
        f"line {node.lineno}"
        for node in ast.walk(tree(module))
        if isinstance(node, ast.ExceptHandler)
        and (node.type is None or (isinstance(node.type, ast.Name)
                                   and node.type.id in {"Exception", "BaseException"}))
    ]  # fmt: skip

    assert module in CATCHES_ALL or bare == []


CATCHES_ALL: Final = {
    "generator/cli.py": "turns our own fault into exit code 3",
    "generator/library.py": "a fault of ours in one plan is reported with the plan it was in",
}


def test_every_code_that_is_used_is_defined_and_every_one_defined_is_used() -> None:
    used = {
        code
        for module in MODULES
        if module != "generator/problems.py"
        for code in re.findall(r"\"([A-Z][0-9]{3})\"", source(module))
    }

    assert sorted(used - set(CODES)) == []
    assert sorted(set(CODES) - used) == []


def test_the_code_map_names_every_module_and_package() -> None:
    """DEVELOPERS.md, section Code map: a line for each begins with its path in backticks."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    section = text.partition("## Code map")[2].partition("\n## ")[0]
    named = set(re.findall(r"`(generator/[\w/.]*)`", section))
    listed = {name.rstrip("/") for name in named}
    wanted = {module for module in MODULES if not module.endswith("__init__.py")}
    wanted |= {package for package in PACKAGES if package != "generator"}

    assert sorted(wanted - listed) == []
    assert sorted(name for name in listed if not (ROOT / name).exists()) == []
