"""Names of pieces in one edition: which pieces a reference means."""

from dataclasses import dataclass

from generator.edition.placing import Missing, Placed
from generator.edition.scope import Scope
from generator.formula.chain import format_chain
from generator.model.edge_sources import Reference
from generator.model.edition import Direction
from generator.problems import Note, ProblemLog, format_near_names

FACES: dict[str, Direction] = {
    "right": "right",
    "left": "left",
    "back": "back",
    "front": "front",
    "top": "top",
    "bottom": "bottom",
}


@dataclass(frozen=True, slots=True)
class Registry:
    """All pieces of an edition, findable by the names makers write.

    Attributes:
        parts: The pieces that exist, by part.
        missing: Those that do not exist here, by part.
    """

    parts: dict[str, tuple[Placed, ...]]
    missing: dict[str, tuple[Missing, ...]]

    def model_of(self, piece: Placed, copy: str) -> Placed:
        """Return the copy that a mirrored piece mirrors."""
        return next(
            other
            for other in self.parts[piece.source.name]
            if other.copy == copy and other.index == piece.index
        )

    def sawn_as(self, piece: Placed) -> Placed:
        """Return the copy whose edges a piece gets: of a mirrored piece the one it mirrors."""
        if piece.mirror is None:
            return piece
        source = next(copy for copy in piece.source.copies if copy.name == piece.copy)
        return self.model_of(piece, source.mirrors)

    def find_one(
        self, reference: Reference, scope: Scope, log: ProblemLog
    ) -> tuple[Placed, Direction | None] | None:
        """Return the one piece a reference means, and the face it names.

        D206 for several; E122 for one that does not exist here.
        """
        found = self._find(reference, scope, log)
        if found is None:
            return None
        pieces, face = found
        if not pieces:
            self._report_missing(reference, scope, log)
            return None
        if len(pieces) > 1:
            log.add(
                "D206",
                reference.place,
                name=reference.text,
                count=len(pieces),
                hint=f"name one, such as `{pieces[0].name}`",
            )
            return None
        return pieces[0], face

    def find_many(self, reference: Reference, scope: Scope, log: ProblemLog) -> tuple[str, ...]:
        """Return the names of all pieces a reference means; nothing where none exists here."""
        found = self._find(reference, scope, log)
        if found is None:
            return ()
        if found[0] and found[1] is not None:
            log.add(
                "D202",
                reference.place,
                kind="piece",
                name=reference.text,
                hint=f"a piece is named here, such as `{found[0][0].name}`, not one of its faces",
            )
            return ()
        return tuple(piece.name for piece in found[0])

    def _find(
        self, reference: Reference, scope: Scope, log: ProblemLog
    ) -> tuple[tuple[Placed, ...], Direction | None] | None:
        pieces = self.parts.get(reference.name, ())
        sources = [piece.source for piece in pieces]
        sources += [piece.source for piece in self.missing.get(reference.name, ())]
        if not sources:
            return None
        if reference.index:
            chosen = self._indexed(reference, pieces, scope, log)
            if chosen is None:
                return None
            pieces = chosen
        dotted = list(reference.dotted)
        copies = [copy.name for copy in sources[0].copies if copy.name]
        if dotted and dotted[0] in copies:
            pieces = tuple(piece for piece in pieces if piece.copy == dotted[0])
            dotted.pop(0)
        face = FACES.get(dotted[0]) if len(dotted) == 1 else None
        if dotted and face is None:
            known = copies if copies else list(FACES)
            kind = "copy" if copies else "face"
            hint = format_near_names(dotted[0], known)
            log.add("D202", reference.place, kind=kind, name=dotted[0], hint=hint)
            return None
        return pieces, face

    def _indexed(
        self, reference: Reference, pieces: tuple[Placed, ...], scope: Scope, log: ProblemLog
    ) -> tuple[Placed, ...] | None:
        """Return the pieces with the numbers of a reference; None for numbers no piece has."""
        wanted: list[int | None] = []
        for formula in reference.index:
            number = None if formula is None else scope.whole(formula, log, "a whole number")
            if formula is not None and number is None:
                return None
            wanted.append(number)
        chosen = tuple(piece for piece in pieces if _has_numbers(piece.index, wanted))
        missing = self.missing.get(reference.name, ())
        if chosen or any(m.index is None or _has_numbers(m.index, wanted) for m in missing):
            return chosen
        numbers = ",".join("*" if number is None else str(number) for number in wanted)
        name = f"{reference.name}[{numbers}]"
        hint = _numbers_hint(reference.name, [piece.index for piece in pieces])
        log.add("D202", reference.place, kind="piece", name=name, hint=hint)
        return None

    def _report_missing(self, reference: Reference, scope: Scope, log: ProblemLog) -> None:
        notes = [
            Note(text=f"its `when`: {format_chain(missing.when, scope.values, scope.system)}",
                 place=missing.when.place)
            for missing in self.missing[reference.name][:1]
        ]  # fmt: skip
        log.add(
            "E122",
            reference.place,
            name=reference.text,
            notes=notes,
            hint="cut this edge against something that is always there, "
            "or give this part the same `when`",
        )


def _has_numbers(index: tuple[int, ...], wanted: list[int | None]) -> bool:
    """Return whether a piece has the numbers a reference asks for; None asks for any."""
    if wanted == [None]:
        return bool(index)
    return len(index) == len(wanted) and all(
        want in (None, number) for number, want in zip(index, wanted, strict=True)
    )


def _numbers_hint(part: str, indexes: list[tuple[int, ...]]) -> str:
    counted = [index for index in indexes if index]
    if not counted:
        return f"`{part}` is not counted by an `each`"
    first, last = (",".join(map(str, index)) for index in (min(counted), max(counted)))
    return f"its pieces are numbered {first} to {last}"
