"""What was checked before a plan was published, in sentences, and the warnings that remain."""

from generator.geometry.tolerance import CLOSES_MM
from generator.model.plan import Plan
from generator.model.words import count_fasteners, fasteners_word, join_words
from generator.telling.buying_tables import sheets_words
from generator.units import inches


def checked_sentences(plan: Plan) -> tuple[str, ...]:
    """Return what holds for this plan, because no plan is published where it does not."""
    parts, pieces = len(plan.parts.parts), len(plan.parts.pieces())
    screws = len(plan.joinery.fasteners)
    stock = sheets_words(plan).replace(", ", " and ")
    joints = len(plan.joinery.joints)
    driven, words = count_fasteners(plan.joinery.fasteners), fasteners_word(plan.joinery.fasteners)
    sentences = [
        f"No two of the {pieces} pieces ({parts} different parts) occupy the same space, and every "
        "piece is held by another.",
        "Every edge that is cut against another part or a plane really meets it, and no bevel is "
        "steeper than the saw tilts.",
        f"All blanks lie on {stock} inside the trimmed edges, a saw kerf apart, "
        "and every cut runs from edge to edge of the piece being cut.",
    ]
    if screws:
        sentences.append(
            f"Each of the {join_words(driven)} in {_count(joints, 'joint')} ends inside the wood "
            f"of its last piece, with cover behind its end, and clear of edges and other {words}."
        )
    found = {problem.code for problem in plan.problems}
    if screws and "C301" not in found:
        sentences.append("No head and no pocket is on a face that shows.")
    if any(part.housings for part in plan.parts.parts):
        moved = "" if "C402" in found else " Every piece can be moved straight into its channels."
        sentences.append(
            "No channel takes more than half of the thickness, and two back to back leave at "
            f"least a quarter.{moved}"
        )
    if plan.fitting.mounted:
        sentences.append(
            "Every place where hardware goes is on the wood of the face it is measured on."
        )
    if "C501" not in found:
        sentences.append(
            f"Cut to the sizes printed here, every row of parts closes within {_closes(plan)}."
        )
    if plan.edition.story.children and not found & {"C701", "C702"}:
        sentences.append(
            "Children use this piece: no opening of it, and no gap one can look through between "
            "two straight sides of parts, is of a width in which a head or a finger can be trapped."
        )
    sentences.append("Every piece and every joint has its step of assembly.")
    return tuple(sentences)


def warning_rows(plan: Plan) -> tuple[tuple[str, str, str], ...]:
    """Return code, words and the maker's reason of the warnings the plan is published with."""
    return tuple(
        (problem.code, problem.what.replace("`", ""), problem.accepted)
        for problem in plan.problems
        if problem.level == "warning"
    )


def _count(number: int, word: str) -> str:
    return f"1 {word}" if number == 1 else f"{number} {word}s"


def _closes(plan: Plan) -> str:
    if plan.edition.system == "metric":
        return f"{CLOSES_MM} mm"
    return f"{inches(CLOSES_MM):.2f} in"
