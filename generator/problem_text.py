"""A problem as text: the line at fault, underlined, with notes and help."""

from generator.problems import Note, Place, Problem

LIMIT_SHOWN = 120
"""Characters of a line that a problem shows; of a longer one it shows the part at fault."""


def format_problem(problem: Problem) -> str:
    """Return the problem as text: one line that stands alone, then the window, notes and help."""
    head = f"{problem.level}[{problem.code}]: {problem.what}"
    place = problem.place
    if place is None:
        lines = [head]
        gutter = ""
    else:
        gutter = " " * len(str(place.line))
        lines = [f"{place.file}:{place.line}:{place.column}: {head}"]
        if place.text:
            lines += _format_window(place, gutter)
        if place.key:
            lines.append(f"{gutter} = at: {place.key}")
    lines += [f"{gutter} = note: {_format_note(note)}" for note in problem.notes]
    if problem.help is not None:
        lines.append(f"{gutter} = help: {problem.help}")
    return "\n".join(lines)


def _format_window(place: Place, gutter: str) -> list[str]:
    """Return the line and its underline; tabs stay tabs above and below."""
    first = max(0, place.column - 1 - LIMIT_SHOWN // 2) if len(place.text) > LIMIT_SHOWN else 0
    shown = place.text[first : first + LIMIT_SHOWN]
    before = place.text[first : place.column - 1].ljust(place.column - 1 - first)
    blank = "".join(sign if sign == "\t" else " " for sign in before)
    underline = "^" * max(1, min(place.width, LIMIT_SHOWN - len(blank)))
    return [f"{gutter} |", f"{place.line} | {shown}", f"{gutter} | {blank}{underline}"]


def _format_note(note: Note) -> str:
    if note.place is None:
        return note.text
    return f"{note.text}, at {note.place.file}:{note.place.line}"
