"""A PDF read by somebody else's programs: those of poppler."""

import re
import shutil
import subprocess
from dataclasses import dataclass
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import numpy.typing as npt
import pytest
from PIL import Image

POINTS_PER_INCH = 72.0
MM_PER_POINT = 25.4 / POINTS_PER_INCH
SIZE_LINE = re.compile(r"Page +[0-9]* +size: +(.*)")
LONG_WORD = 4
XHTML = "{http://www.w3.org/1999/xhtml}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Word:
    """One word on a page, with the box around it in points from the upper left corner."""

    text: str
    left: float
    top: float
    right: float
    bottom: float


@dataclass(frozen=True, slots=True)
class Pdf:
    """A PDF file."""

    path: Path

    def facts(self) -> dict[str, str]:
        """Return what the file says of itself: title, pages, page size, whether it is tagged."""
        lines = (line.partition(":") for line in self._run("pdfinfo").splitlines())
        return {name.strip(): value.strip() for name, _, value in lines}

    def page_sizes(self) -> set[str]:
        """Return the sizes of all pages, such as ``612 x 792 pts``."""
        told = self._run("pdfinfo", "-f", "1", "-l", "9999").splitlines()
        found = (SIZE_LINE.match(line) for line in told)
        return {one[1].partition(" (")[0] for one in found if one is not None}

    def tags(self) -> list[str]:
        """Return the kinds of all structure elements, in reading order."""
        told = self._run("pdfinfo", "-struct").splitlines()
        return [line.split()[0].rstrip(":") for line in told if line.strip()]

    def fonts(self) -> list[tuple[str, bool]]:
        """Return every font with whether it is embedded."""
        rows = (line.split() for line in self._run("pdffonts").splitlines()[2:])
        return [(row[0], row[-5] == "yes") for row in rows]

    def pages(self) -> list[str]:
        """Return the text of every page, lines as they stand on it."""
        return self._run("pdftotext", "-layout", after=("-",)).split("\f")[:-1]

    def contents(self) -> set[str]:
        """Return the headings named in the contents on the second page."""
        lines = (re.match(r" *(.+?)( \.){3}", line) for line in self.pages()[1].splitlines())
        return {found[1] for found in lines if found is not None}

    def last_lines(self) -> list[str]:
        """Return the last line of every page but the first two, above its foot."""
        pages = [[line.strip() for line in page.splitlines()] for page in self.pages()[2:]]
        return [[line for line in lines if line][-2] for lines in pages]

    def text(self) -> str:
        """Return all words of the file, one space between them."""
        return " ".join(self._run("pdftotext", "-raw", after=("-",)).split())

    def words(self) -> list[list[Word]]:
        """Return the words of every page with their boxes."""
        told = self._run("pdftotext", "-bbox", after=("-",))
        root = ElementTree.fromstring(told)
        return [[_word(one) for one in page] for page in root.iter(f"{XHTML}page")]

    def lines(self, page: int, dpi: int) -> npt.NDArray[np.uint8]:
        """Return a page as greys without its words, for measuring what is drawn."""
        picture = self.picture(page, dpi).copy()
        dots = dpi / POINTS_PER_INCH
        for word in self.words()[page - 1]:
            left, top = (int(side * dots) - 1 for side in (word.left, word.top))
            right, bottom = (int(side * dots) + 2 for side in (word.right, word.bottom))
            picture[top:bottom, left:right] = 255
        return picture

    def smallest_text_pt(self) -> float:
        """Return the size of the smallest type.

        The box around a word is as high as its type, and as wide where the word is turned; a word
        of four signs or more is longer than that.
        """
        words = [word for page in self.words() for word in page]
        boxes = [(len(w.text), w.right - w.left, w.bottom - w.top) for w in words]
        return min(
            min(width, height) if signs >= LONG_WORD else max(width, height)
            for signs, width, height in boxes
        )

    def picture(self, page: int, dpi: int) -> npt.NDArray[np.uint8]:
        """Return a page as greys, 0 black to 255 white, row by row; pages count from 1."""
        stem = self.path.with_name(f"{self.path.stem}-{page}-{dpi}")
        options = ("-gray", "-singlefile", "-r", str(dpi), "-f", str(page), "-l", str(page))
        self._run("pdftoppm", *options, after=(str(stem),))
        with Image.open(stem.with_suffix(".pgm")) as image:
            return np.asarray(image, dtype=np.uint8)

    def _run(self, program: str, *options: str, after: tuple[str, ...] = ()) -> str:
        if shutil.which(program) is None:
            pytest.fail(f"{program} is missing: install the package poppler-utils")
        command = [program, *options, str(self.path), *after]
        done = subprocess.run(command, capture_output=True, text=True, check=True)
        return done.stdout


def _word(element: ElementTree.Element) -> Word:
    sides = (float(element.get(name, "nan")) for name in ("xMin", "yMin", "xMax", "yMax"))
    left, top, right, bottom = sides
    return Word(text=element.text or "", left=left, top=top, right=right, bottom=bottom)


def longest_dark_run_mm(picture: npt.NDArray[np.uint8], dpi: int, darker_than: int) -> float:
    """Return the length of the longest level line of dark dots on a page."""
    longest = 0
    for row in picture < darker_than:
        edges = np.flatnonzero(np.diff(np.concatenate(([0], row.astype(np.int8), [0]))))
        longest = max(longest, int(np.max(edges[1::2] - edges[::2], initial=0)))
    return longest / dpi * 25.4
