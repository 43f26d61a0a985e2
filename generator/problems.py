"""What can be wrong, said once: places, problems and the table of codes.

A problem is a value. Readers append problems to a `ProblemLog`, checks return lists of them, and
only the command line prints them. Every code has one template here; codes are never reused.

Letters: K catalogue, D design (1 syntax and type, 2 names), E edition, P parts, J joinery,
A assembly, C checks, N cutting, S site.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from difflib import get_close_matches
from typing import Literal

Level = Literal["error", "warning"]

MOST_NEAR_NAMES = 3
MOST_REPEATS = 3
"""Repeats of one fault that are told in full; more are counted."""
MOST_LISTED_NAMES = 10
NEAR_NAME_RATIO = 0.6
"""How alike two names must be (difflib) to take one for a slip of the other."""
YAML_COMMAS = (
    "inside [ ] or { } YAML splits at commas: write ; between the arguments, "
    "or put the formula in quotes"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A spot in a file the author wrote.

    Attributes:
        file: Path as the author would type it.
        line: 1 for the first line.
        column: 1 for the first character.
        key: Dotted key path, such as ``parts.side.length``; empty at the top.
        text: The whole line, without its line end.
        width: Number of characters to underline, at least 1.
    """

    file: str
    line: int
    column: int
    key: str = ""
    text: str = ""
    width: int = 1

    def shifted(self, offset: int, width: int = 1) -> "Place":
        """Return the place ``offset`` characters to the right, on the same line."""
        return Place(
            file=self.file,
            line=self.line,
            column=self.column + offset,
            key=self.key,
            text=self.text,
            width=max(1, width),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """A fact that contributed to a problem, with its own place where it has one."""

    text: str
    place: Place | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One fault at its cause, in the author's words.

    Attributes:
        accepted: The maker's reason for living with a warning; empty while it is not accepted.
    """

    code: str
    level: Level
    what: str
    place: Place | None = None
    notes: tuple[Note, ...] = ()
    help: str | None = None
    accepted: str = ""


@dataclass(frozen=True, slots=True)
class Code:
    """A row of the table of codes: how bad it is and how it is said."""

    level: Level
    template: str


CODES: dict[str, Code] = {}

SAID_ONCE = frozenset({"D201", "D202", "D203", "D205", "E103", "E106", "E118"})
"""What they say of a name or a formula holds wherever it stands: one problem for all of them."""


def define(level: Level, **templates: str) -> None:
    """Add rows to the table of codes; used by this module alone.

    Raises:
        ValueError: A code is defined twice.
    """
    for code, template in templates.items():
        if code in CODES:
            raise ValueError(f"code {code} is defined twice")
        CODES[code] = Code(level, template)


define(
    "error",
    # K: catalogue files in shared/
    K106="entry `{entry}` has material `{material}`, which shared/materials.yml does not list",
    K107="`{key}` of entry `{entry}` is {value}; {limit}",
    # D1: syntax and type of a design file
    D101="the file is not valid YAML: {why}",
    D102="{feature} is not used in these files",
    D103="key `{key}` is written twice",
    D104="unknown key `{key}`",
    D105="key `{key}` is missing",
    D106="`{key}` must be {expected}, not {found}",
    D107="`{text}` is not one of the words `{key}` takes",
    D108="`{text}` is not a formula: {why}",
    D109="the formula is too long or too deep: {why}",
    D110="`{text}` is not a name: use small letters, digits and _, beginning with a letter",
    D111="`{text}` is empty where a value is needed",
    D112="length `{text}` has no unit",
    D113="angle `{text}` has no unit",
    D114="`{text}` cannot be read as {expected}",
    D115="the file cannot be read: {why}",
    D116="the file has {count} {things}; the most is {limit}",
    D117="`each` stands on both `{first}` and `{second}`; a piece is counted once",
    D118="these directions do not make a panel: {why}",
    D119="`{first}` and `{second}` cannot both be given",
    D120="`{text}` is not read: YAML takes it for a note",
    # D2: names
    D201="unknown stock `{name}`",
    D202="unknown {kind} `{name}`",
    D203="formula uses `{name}`, which is not a parameter",
    D204="name `{name}` is used for two things",
    D205="no entry `{name}` in shared/{catalogue}.yml",
    D206="`{name}` means {count} pieces here; one is needed",
    D207="`{name}` is in shared/{catalogue}.yml for the {other} edition, not for the {edition} one",
    D209="`{name}` is {found}; {expected} is needed here",
    D208="size `{name}` would be published as `{plan}`, which is the name of another plan",
    # E: evaluation of one edition
    E101="`{name}` is {value}; {limit}",
    E103="`{left}` {operator} `{right}`: {why}",
    E104="parameters {names} depend on each other",
    E105="a division by zero in `{text}`",
    E106="`{text}` is {found}; {expected} is needed",
    E107="{function} of {value} does not exist",
    E108="`each` runs over {count} values; the most is {limit}",
    E109="`{text}` is {value}; it must be more than zero",
    E110="frames {names} stand inside each other",
    E111="{function} takes {expected}, not {found}",
    E112="`{text}` is too large to work with: {why}",
    E113="edge `{edge}` of `{piece}` is itself cut to fit; only its faces can be cut against",
    E114="`{text}` is {value}; {expected} is needed",
    E115="an edge of `{piece}` is cut against `{piece}` itself",
    E116="`{part}` has no {axis}: its {edge} edge is not cut against anything",
    E117="edge `{edge}` of `{piece}` is mitred with `{mate}`, which is not mitred with it",
    E118="`{first}` and `{second}` cannot be mitred: {why}",
    E121="{says}",
    E122="`{name}` does not exist here: its `when` is not true",
    E123="nothing is left to build: no part has a `when` that is true",
    E131="edge `{edge}` of `{piece}` cannot be housed there: {why}",
    # P: parts
    P101="edge `{edge}` of `{piece}` never meets {target}",
    P102="the edges of `{piece}` leave no wood",
    P103="corner `{corner}` of `{piece}`: {why}",
    P104="the {what} of `{piece}` runs out of the part by {by}",
    P105="the {what} of `{piece}` runs into another opening",
    P106="the {what} in edge `{edge}` of `{piece}`: {why}",
    P111="the row of pin holes of `{piece}`: {why}",
    P113="the outline of `{piece}`: {why}",
    P112="rod `{piece}`: {why}",
    P121="the place for `{name}` is {by} beside the {face} face of `{piece}`",
    P131="edge `{edge}` of `{piece}` never reaches a face of `{host}` to be housed in",
    P132="edge `{edge}` of `{piece}` leans {angle} from square where it is housed in `{host}`; "
    "the walls of a channel are square",
    P133="the channel for `{mate}` in `{host}` is {depth} deep; {limit} is the most",
    P134="the channel for `{mate}` in `{host}`: {why}",
    # J: joinery
    J101="`{first}` and `{second}` do not touch",
    J102="no {kind} in shared/{catalogue}.yml suits {thickness} stock here",
    J103="{thing} {number} of joint `{joint}` comes within {left} of the far face of `{piece}`; "
    "{needed} is needed",
    J104="{thing} {number} of joint `{joint}` misses `{piece}`",
    J105="{thing} {number} of joint `{joint}` stands {distance} from {other}; {needed} is needed",
    J106="the contact for joint `{joint}` is {length} long; {needed} is needed",
    J107="{thing} {number} of joint `{joint}` holds `{piece}` by only {depth}; {needed} is needed",
    J108="{thing} {number} of joint `{joint}` runs into the path of {other_thing} {other_number} "
    "of joint `{other}`",
    J109="joint `{joint}`: {why}",
    J110="{thing} {number} of joint `{joint}` runs into the {what} of `{piece}`",
    J121="`{piece}` does not rest on pins: {why}",
    J122="joint `{joint}` runs into the hole of a shelf pin in `{piece}`",
    # A: assembly
    A101="piece `{piece}` is never fitted",
    A102="`{piece}` is fitted twice",
    A103="joint `{joint}` is never made: its parts never meet in one step",
    A104="sub-assembly `{name}` goes on here, but no earlier step builds it",
    A105="`{name}` is fitted here, but `{piece}` is not there yet",
    # C: checks
    C101="pieces `{first}` and `{second}` occupy the same space",
    C102="piece `{piece}` is held by nothing",
    C603="it falls to the {way} by itself: its centre of mass is {by} outside its base",
    C103="bevel of {tilt} on `{piece}` is more than the saw `{saw}` tilts ({limit})",
    C104="`{piece}` and {others} hang together, but nothing joins them to `{rest}`",
    C131="{first} and {second} lie back to back in `{piece}` with {left} of wood between them; "
    "{needed} is needed",
    # N: cutting
    N101="part `{part}` ({size}) fits no sheet of `{sheet}`",
    N102="`{part}` would need {count} copies; the most is {limit}",
    N103="part `{part}` ({size}) fits no board of `{board}`",
    N104="there is too little `{goods}`: {missing}",
)
define(
    "warning",
    C132="the {kind} for `{mate}` in the {face} face of `{piece}` leaves a strip of less than "
    "{needed} beside it: thinner than the channel is deep, it breaks off",
    C201="`{part}` is sawn from a piece of only {size}: less than {length} long or {width} wide "
    "is too small to hold",
    C202="`{part}` is sawn {size} and `{other}` {other_size}: {apart} apart, less than from mark "
    "to mark of a tape, and two settings of the fence",
    C203="offcut `{offcut}` is too small for any part of stock `{stock}`",
    C301="{heads} of joint `{joint}` show on the {face} of `{piece}`{others}",
    C302="the {edge} edge of `{piece}` has edging {thickness} thick, and `{other}` lies against it",
    C303="the edging on the {edge} edge of `{part}` is {width} wide; the edge is {needed}",
    C304="the screws of `{name}` are {length} long; `{piece}` is {thickness} thick there",
    C402="`{piece}` cannot be moved in here: {others} are in place already, and their channels do "
    "not open towards it",
    C403="`{piece}` cannot go on here: its dowels point two ways at once, into {others}, which are "
    "joined already",
    C501="as printed, {row} measure {sum} and {other} {size}: {remainder} are left over",
    C601="`{piece}` sags by {sag}{years} under {load} over {span}; {allowed} is the most",
    C602="`{piece}` carries something, but how far it sags cannot be said: {why}",
    C604="it tips to the {way} too easily: by a push of {push} at its top, {height} up, or on a "
    "slope of {tilt}; {least} and {least_tilt} are the least",
    C605="{load} on `{piece}` tip it to the {way}: {beyond} outside the base, {most} is the most",
    C611="nothing fixes it to a wall: {why}",
    C701="the {what} is {width} wide: between {least} and {most} it can trap a child's head",
    C702="the {what} is {width} wide: between {least} and {most} it can trap a child's finger",
    D301="parameter `{name}` is never used",
    D302="stock `{name}` is never used",
    D304="frame `{name}` is never used",
    D305="plane `{name}` is never used",
    D306="part `{name}` is never there: its `when` is not true in any size or edition",
    D307="hardware `{name}` is never there, in any size or edition",
    D303="warning `{code}` is accepted here, but nothing is warned of",
)


def make_problem(
    code: str,
    place: Place | None,
    /,
    *,
    notes: Iterable[Note] = (),
    hint: str | None = None,
    **values: object,
) -> Problem:
    """Return the problem ``code`` with its template filled in.

    Args:
        code: A row of `CODES`.
        place: Where the author would mend it.
        notes: Facts that contributed.
        hint: One thing the author can do; left out where nothing is known to help.
        **values: The template's fields.

    Raises:
        KeyError: The code is unknown or a field of its template is missing.
    """
    row = CODES[code]
    return Problem(
        code=code,
        level=row.level,
        what=row.template.format(**values),
        place=place,
        notes=tuple(notes),
        help=hint,
    )


def format_near_names(name: str, known: Iterable[str]) -> str | None:
    """Return a hint for an unknown name: the nearest known ones, else all of them if they are few.

    Args:
        name: What the author wrote.
        known: The names that would do, in the order to list them in.
    """
    names = list(dict.fromkeys(known))
    near = find_near_names(name, names)
    if near:
        return f"did you mean {_join_names(near)}?"
    if 0 < len(names) <= MOST_LISTED_NAMES:
        return f"it can be {_join_names(names)}"
    return None


def find_near_names(name: str, known: Iterable[str]) -> list[str]:
    """Return the known names a name may be a slip of, the likeliest first."""
    names = list(dict.fromkeys(known))
    return get_close_matches(name, names, n=MOST_NEAR_NAMES, cutoff=NEAR_NAME_RATIO)


def sort_problems(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Return the problems by file, line and column, each once; those without a place come last.

    At one place they are sorted by code, and those of one code stay in the order they were found.
    """
    unique = dict.fromkeys(problems)
    return tuple(sorted(unique, key=_sort_key))


def merge_repeats(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Return the problems with those that are one fault made one; the others become notes.

    Several pieces of one part, or several screws of one joint, share the line that is at fault.
    A name that is missing is missing wherever it is used.
    """
    by_place: dict[tuple[str, Place | None, str], list[Problem]] = {}
    for problem in problems:
        key = problem.what if problem.place is None else ""
        by_place.setdefault((problem.code, problem.place, key), []).append(problem)
    by_name: dict[tuple[str, Place | None, str], list[Problem]] = {}
    for problem in (_merge(group) for group in by_place.values()):
        place = None if problem.code in SAID_ONCE else problem.place
        by_name.setdefault((problem.code, place, problem.what), []).append(problem)
    return tuple(_merge_places(group) for group in by_name.values())


@dataclass(slots=True)
class ProblemLog:
    """Collects the problems of one stage; the only thing in the program that grows."""

    problems: list[Problem] = field(default_factory=list)

    def add(
        self,
        code: str,
        place: Place | None,
        /,
        *,
        notes: Iterable[Note] = (),
        hint: str | None = None,
        **values: object,
    ) -> None:
        """Append `make_problem` of the same arguments."""
        self.problems.append(make_problem(code, place, notes=notes, hint=hint, **values))

    @property
    def has_errors(self) -> bool:
        """Whether the next stage must not run."""
        return any(problem.level == "error" for problem in self.problems)


def _join_names(names: list[str]) -> str:
    quoted = [f"`{name}`" for name in names]
    if len(quoted) == 1:
        return quoted[0]
    return f"{', '.join(quoted[:-1])} or {quoted[-1]}"


def _merge(group: list[Problem]) -> Problem:
    first, *others = group
    told = [Note(text=f"also: {other.what}") for other in others[:MOST_REPEATS]]
    if len(others) > MOST_REPEATS:
        told.append(Note(text=f"and {len(others) - MOST_REPEATS} more like these"))
    return replace(first, notes=(*first.notes, *told))


def _merge_places(group: list[Problem]) -> Problem:
    first, *others = group
    lines = [str(other.place.line) for other in others if other.place is not None]
    if not lines:
        return first
    listed = lines[0] if len(lines) == 1 else f"{', '.join(lines[:-1])} and {lines[-1]}"
    note = Note(text=f"also in {'line' if len(lines) == 1 else 'lines'} {listed}")
    return replace(first, notes=(*first.notes, note))


def _sort_key(problem: Problem) -> tuple[bool, str, int, int, str, str]:
    place = problem.place
    if place is None:
        return (True, "", 0, 0, problem.code, problem.what)
    return (False, place.file, place.line, place.column, problem.code, "")
