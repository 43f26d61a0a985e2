"""Reads path data of an SVG file back into points, apart from the writer.

Grammar: SVG 1.1, section 8.3.9, for the letters M, m, l, h, v, a and z.
"""

import re

Point = tuple[float, float]

TOKEN = re.compile(r"[MmlhvazZ]|-?(?:\d+\.?\d*|\.\d+)")
COUNTS = {"M": 2, "m": 2, "l": 2, "h": 1, "v": 1, "a": 7, "z": 0}


def read_path(data: str) -> list[list[Point]]:
    """Return the corners of every piece of a path, y down; a closed one ends where it starts."""
    pieces: list[list[Point]] = []
    at: Point = (0.0, 0.0)
    for letter, numbers in _read_steps(data):
        match letter:
            case "M":
                at = (numbers[0], numbers[1])
            case "h":
                at = (at[0] + numbers[0], at[1])
            case "v":
                at = (at[0], at[1] + numbers[0])
            case "z":
                at = pieces[-1][0]
            case _:
                at = (at[0] + numbers[-2], at[1] + numbers[-1])
        at = (round(at[0], 2), round(at[1], 2))
        if letter in "Mm":
            pieces.append([at])
        else:
            pieces[-1].append(at)
    return pieces


def _read_steps(data: str) -> list[tuple[str, list[float]]]:
    steps: list[tuple[str, list[float]]] = []
    letter = ""
    tokens = TOKEN.findall(data)
    i = 0
    while i < len(tokens):
        if tokens[i].isalpha():
            letter = tokens[i]
            i += 1
        elif letter in "Mm":
            letter = "l"  # more pairs after a move are lines
        count = COUNTS[letter]
        steps.append((letter, [float(token) for token in tokens[i : i + count]]))
        i += count
    return steps
