"""Names of pieces in one edition: which pieces a reference means."""

from dataclasses import dataclass

from generator.edition.placing import Placed
from generator.edition.scope import Scope
from generator.model.design import Reference
from generator.model.edition import Direction
from generator.problems import ProblemLog, format_near_names

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
    """All pieces of an edition, findable by the names makers write."""

    parts: dict[str, tuple[Placed, ...]]

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
        """Return the one piece a reference means, and the face it names; D206 for several."""
        found = self._find(reference, scope, log)
        if found is None:
            return None
        pieces, face = found
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
        """Return the names of all pieces a reference means."""
        found = self._find(reference, scope, log)
        if found is None:
            return ()
        if found[1] is not None:
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
        if not pieces:
            return None
        if reference.index is not None:
            pieces = self._indexed(reference, pieces, scope, log)
        dotted = list(reference.dotted)
        copies = list(dict.fromkeys(piece.copy for piece in pieces if piece.copy))
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
        return (pieces, face) if pieces else None

    def _indexed(
        self, reference: Reference, pieces: tuple[Placed, ...], scope: Scope, log: ProblemLog
    ) -> tuple[Placed, ...]:
        assert reference.index is not None
        index = scope.whole(reference.index, log, "a whole number")
        if index is None:
            return ()
        chosen = tuple(piece for piece in pieces if piece.index == index)
        if not chosen:
            indexes = [piece.index for piece in pieces if piece.index is not None]
            hint = (
                f"its pieces are numbered {min(indexes)} to {max(indexes)}"
                if indexes
                else f"`{reference.name}` is not counted by an `each`"
            )
            name = f"{reference.name}[{index}]"
            log.add("D202", reference.place, kind="piece", name=name, hint=hint)
        return chosen
