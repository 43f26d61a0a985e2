"""PyYAML's complaints in plain words, at the place the author would mend."""

import re

from yaml import Mark, MarkedYAMLError

OPENERS = {"while parsing a flow mapping": ("{", "}"), "while parsing a flow sequence": ("[", "]")}
LOOK_FOR = "look for a missing quote, bracket or `: `, or a wrong indentation"

_PLAIN_WORDS: tuple[tuple[str, str, str | None], ...] = (
    ("could not find expected ':'", "`: ` is missing after this key", None),
    (
        "mapping values are not allowed",
        "a `:` cannot stand here",
        "one `key: value` a line; look for a missing `:` on the line above; "
        "put a text that holds `: ` in quotes",
    ),
    (
        "sequence entries are not allowed",
        "a list item cannot begin here",
        "begin each `- ` on its own line, all at the same indentation",
    ),
    ("found unknown escape", "this backslash means nothing inside double quotes", "use ' instead"),
    ("expected escape sequence", "this backslash code is not complete", "use ' instead of \""),
    ("expected chomping or indentation", "text follows `|` or `>` on the same line", None),
    ("expected a comment or a line break", "text follows `|` or `>` on the same line", None),
    (
        "expected <block end>",
        "this does not fit the lines above",
        "keys of one mapping stand exactly under each other; nothing follows a closed value",
    ),
    ("node content", "a value is missing here", None),
    (
        "expected alphabetic or numeric",
        "a value cannot begin with `*` or `&`",
        "put the value in quotes",
    ),
)


def explain_yaml_fault(error: MarkedYAMLError) -> tuple[str, str | None, Mark | None]:
    """Return what is wrong, a hint where one is known, and the mark to put it at."""
    problem = error.problem or ""
    context = error.context or ""
    mark = error.problem_mark or error.context_mark
    if context in OPENERS and "node content" not in problem:
        return _explain_bracket(error, *OPENERS[context])
    if "quoted scalar" in context and "unexpected" in problem:
        return "a quote opened here is never closed", None, error.context_mark or mark
    if "cannot start any token" in problem:
        return *_explain_sign(problem), mark
    for theirs, ours, hint in _PLAIN_WORDS:
        if theirs in problem:
            at_key = "simple key" in context and error.context_mark is not None
            return ours, hint, error.context_mark if at_key else mark
    return "this cannot be understood", LOOK_FOR, mark


def _explain_bracket(
    error: MarkedYAMLError, opener: str, closer: str
) -> tuple[str, str | None, Mark | None]:
    start, end = error.context_mark, error.problem_mark
    if start is not None and end is not None and start.line == end.line:
        return f"`,` or `{closer}` is missing here", None, end
    return f"a `{opener}` opened here is never closed", None, start


def _explain_sign(problem: str) -> tuple[str, str | None]:
    if "\\t" in problem:
        return "a tab stands where only spaces may", "indent with spaces"
    found = re.search(r"character '(.*)' that", problem)
    sign = found.group(1) if found else "this sign"
    return f"a value cannot begin with `{sign}`", "put the value in quotes"
