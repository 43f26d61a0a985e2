"""The command line as a maker meets it: what is said, what is written, which exit code."""

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from generator.pages.explanations import STARTERS

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def library(tmp_path: Path) -> Path:
    """Return a folder with a designs folder that holds the starter as ``box``."""
    done = kerfolio(tmp_path, "new", "box")
    assert done.returncode == 0, done.stderr
    return tmp_path


def kerfolio(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    """Run the program in a folder, in one process where it computes."""
    alone = ("--jobs", "1") if arguments[0] in {"build", "check", "compare"} else ()
    return subprocess.run(
        [sys.executable, "-m", "generator", *arguments, *alone],
        cwd=folder,
        env={"PYTHONPATH": str(ROOT), "PATH": "/usr/bin:/bin"},
        capture_output=True,
        text=True,
        check=False,
    )


def spoil(library: Path, old: str, new: str) -> None:
    """Change a text of the design."""
    path = library / "designs" / "box" / "design.yml"
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), "utf-8")


def tree(folder: Path) -> dict[str, bytes]:
    """Return all files below a folder."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def test_a_new_design_checks_and_builds_and_the_summary_says_what_was_written(
    library: Path,
) -> None:
    checked = kerfolio(library, "check")
    built = kerfolio(library, "build", "--no-site")

    assert (checked.returncode, built.returncode) == (0, 0)
    assert not (library / "build" / "site").exists()
    assert "box: imperial" in built.stdout
    assert "sheet" in built.stdout
    assert "files" in built.stdout
    assert (library / "build/docs/plans/box/files/metric/plan.json").is_file()


@pytest.mark.parametrize("like", STARTERS)
def test_every_starter_is_short_and_builds_with_its_schema_where_its_first_line_says(
    tmp_path: Path, like: str
) -> None:
    made = kerfolio(tmp_path, "new", "my-first", "--like", like)
    checked = kerfolio(tmp_path, "check")
    path = tmp_path / "designs" / "my-first" / "design.yml"
    lines = path.read_text("utf-8").splitlines()
    hint = lines[0].partition("$schema=")[2]

    assert (made.returncode, checked.returncode) == (0, 0), checked.stderr
    assert len(lines) < 70
    assert "title: My first" in lines
    assert (path.parent / hint).read_bytes() == kerfolio(tmp_path, "schema").stdout.encode()


def test_the_site_is_built_where_it_was_asked_for(library: Path) -> None:
    built = kerfolio(library, "build", "--output", "out/plans")

    assert built.returncode == 0, built.stderr
    assert "site: out/plans/site/index.html" in built.stdout.replace(f"{library}/", "")
    assert (library / "out/plans/site/plans/box/metric.html").is_file()
    assert not (library / "out/plans/.site.new").exists()


def test_check_writes_nothing(library: Path) -> None:
    before = tree(library)

    kerfolio(library, "check")

    assert before == tree(library)


def test_a_name_that_is_taken_or_no_name_is_refused(library: Path) -> None:
    taken, odd = kerfolio(library, "new", "box"), kerfolio(library, "new", "../box")

    assert (taken.returncode, odd.returncode) == (2, 2)
    assert "is there already" in taken.stderr
    assert "Traceback" not in taken.stderr + odd.stderr


def test_a_faulty_design_is_refused_with_code_1_and_keeps_the_plan_it_had(library: Path) -> None:
    kerfolio(library, "build", "--no-site")
    before = tree(library / "build" / "docs")
    spoil(library, "from: panel", "from: panle")

    done = kerfolio(library, "build", "--no-site")

    assert done.returncode == 1
    assert "design.yml:" in done.stderr
    assert "error[D201]" in done.stderr
    assert "did you mean `panel`?" in done.stderr
    assert "box: 1 error. No plan was written." in done.stdout
    assert before == tree(library / "build" / "docs")


def test_a_fault_in_one_design_does_not_keep_the_others_from_being_built(library: Path) -> None:
    kerfolio(library, "new", "other")
    spoil(library, "from: panel", "from: panle")

    done = kerfolio(library, "build", "--no-site")

    assert done.returncode == 1
    assert (library / "build/docs/plans/other/imperial.md").is_file()
    assert not (library / "build/docs/plans/box").exists()


def test_a_design_that_is_gone_leaves_the_library(library: Path) -> None:
    kerfolio(library, "new", "other")
    kerfolio(library, "build", "--no-site")
    shutil.rmtree(library / "designs" / "other")

    kerfolio(library, "build", "--no-site")

    assert not (library / "build/docs/plans/other").exists()
    assert "Other" not in (library / "build/docs/index.md").read_text("utf-8")


def test_every_size_of_a_design_is_a_complete_plan_and_one_that_fails_keeps_its_pages(
    library: Path,
) -> None:
    spoil(library, "stock:", "sizes:\n  wide: {width: 26 in, says: For two}\nstock:")
    kerfolio(library, "new", "other")
    built = kerfolio(library, "build", "--no-site", "box")
    plans = library / "build/docs/plans"
    wide = tree(plans / "box-wide")

    assert built.returncode == 0, built.stderr
    assert "box-wide: imperial" in built.stdout
    assert set(wide) == set(tree(plans / "box"))
    assert wide["files/imperial/cut-list.csv"] != tree(plans / "box")["files/imperial/cut-list.csv"]
    assert b"../box/index.md" in wide["index.md"]
    assert b"../box-wide/index.md" in tree(plans / "box")["index.md"]
    assert b"plans/box-wide/index.html" in (library / "build/docs/index.md").read_bytes()

    spoil(library, "wide: {width: 26 in", "wide: {width: 0 in")
    failed = kerfolio(library, "build", "--no-site", "box", "box-wide")

    assert failed.returncode == 1
    assert "box-wide: " in failed.stdout
    assert "in the size `wide`" in failed.stderr
    assert wide == tree(plans / "box-wide")

    spoil(library, "from: panel", "from: panle")
    kerfolio(library, "build", "--no-site")

    assert wide["files/metric/plan.json"] == tree(plans / "box-wide")["files/metric/plan.json"]
    assert b"../box-wide/index.md" in tree(plans / "box")["index.md"]

    spoil(library, "  wide: {width: 0 in, says: For two}\n", "  broad: {width: 26 in}\n")
    spoil(library, "from: panle", "from: panel")
    kerfolio(library, "build", "--no-site", "box-broad")

    assert not (plans / "box-wide").exists()
    assert (plans / "box-broad/metric.md").is_file()


def test_a_parameter_set_on_the_command_line_counts_in_both_editions(library: Path) -> None:
    done = kerfolio(library, "check", "--set", "width=30in")
    unknown = kerfolio(library, "check", "--set", "widht=30in")
    nonsense = kerfolio(library, "check", "--set", "width")

    assert done.returncode == 0, done.stderr
    assert unknown.returncode == 1
    assert "did you mean `width`?" in unknown.stderr
    assert nonsense.returncode == 2


def test_one_edition_alone_can_be_built(library: Path) -> None:
    done = kerfolio(library, "build", "--no-site", "--edition", "metric")

    assert done.returncode == 0, done.stderr
    assert (library / "build/docs/plans/box/metric.md").is_file()
    assert not (library / "build/docs/plans/box/imperial.md").exists()


def test_any_effort_can_be_asked_for(library: Path) -> None:
    done = kerfolio(library, "check", "--effort", "quick")
    unknown = kerfolio(library, "check", "--effort", "heroic")

    assert done.returncode == 0, done.stderr
    assert unknown.returncode == 2


@pytest.mark.parametrize(
    "arguments",
    [("build", "--no-such"), ("check", "--edition", "cubits"), ("explain", "Q999"), ("fly",)],
)
def test_a_wrong_command_line_ends_with_code_2(library: Path, arguments: tuple[str, ...]) -> None:
    done = kerfolio(library, *arguments)

    assert done.returncode == 2
    assert "Traceback" not in done.stderr


def test_a_design_nobody_wrote_is_a_problem_that_lists_those_that_are_there(
    library: Path,
) -> None:
    done = kerfolio(library, "build", "bax")

    assert done.returncode == 1
    assert "designs there: box" in done.stderr


def test_a_faulty_catalogue_is_told_with_its_place(library: Path) -> None:
    shutil.copytree(ROOT / "shared", library / "catalogue")
    path = library / "catalogue" / "sheets.yml"
    path.write_text(path.read_text("utf-8").replace("thickness: 1/4 in", "thickness: 1/4", 1))

    done = kerfolio(library, "check", "--shared", "catalogue")

    assert done.returncode == 1
    assert "catalogue/sheets.yml:" in done.stderr


def test_a_fault_of_ours_is_called_ours_and_ends_with_code_3(library: Path) -> None:
    """A plug put into the pipe: the program is started with a stage that fails."""
    program = (
        "import generator.library as library\n"
        "def broken(*arguments):\n"
        "    raise RuntimeError('a fault on purpose')\n"
        "library.build_plan = broken\n"
        "from generator.cli import main\n"
        "main(['check', '--jobs', '1'])\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program],
        cwd=library,
        env={"PYTHONPATH": str(ROOT), "PATH": "/usr/bin:/bin"},
        capture_output=True,
        text=True,
        check=False,
    )

    assert done.returncode == 3
    assert done.stderr.startswith("internal error: compute_one of ('box', 'imperial')")
    assert "a fault of the generator, not of your design" in done.stderr


def test_every_code_can_be_explained(library: Path) -> None:
    done = kerfolio(library, "explain", "j103")

    assert done.returncode == 0
    assert done.stdout.startswith("# J103")


def test_what_was_just_built_is_compared_without_a_change(library: Path) -> None:
    kerfolio(library, "build", "--no-site")
    compared = kerfolio(library, "compare")

    assert compared.returncode == 0
    assert compared.stdout == "box, imperial: no change\nbox, metric: no change\n"


def test_a_plan_that_was_never_built_is_told_to_be_new(library: Path) -> None:
    compared = kerfolio(library, "compare", "--edition", "metric")

    assert compared.returncode == 0
    assert compared.stdout == "box, metric: not published yet\n"


def test_what_changed_since_a_plan_was_built_is_told_and_nothing_is_written(library: Path) -> None:
    kerfolio(library, "build", "--no-site")
    before = tree(library / "build")
    compared = kerfolio(library, "compare", "--set", "width=501mm", "--edition", "metric")
    head, *lines = compared.stdout.splitlines()

    assert compared.returncode == 0
    assert "still revision 1" in head
    assert any(line.startswith("  parameters width: value ") for line in lines)
    assert before == tree(library / "build")


def test_a_design_that_cannot_be_built_is_refused_by_compare_as_well(library: Path) -> None:
    kerfolio(library, "build", "--no-site")
    spoil(library, "from: panel", "from: pannel")
    compared = kerfolio(library, "compare")

    assert compared.returncode == 1
    assert "pannel" in compared.stderr
    assert "Traceback" not in compared.stderr
