"""CSV files against RFC 4180, "Common Format and MIME Type for CSV Files", October 2005.

`read_rfc4180` follows the grammar of section 2 letter by letter and refuses anything else; the
standard library's reader, which is more lenient, must read the same cells.
"""

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.outputs.tables import (
    cut_list_csv,
    cut_order_csv,
    fasteners_csv,
    format_csv,
    shopping_csv,
)
from generator.units import SYSTEMS, System
from tests.samples import sample_plan


def read_rfc4180(text: str) -> list[list[str]]:
    """Read records strictly: CRLF after each, quotes only around whole fields."""
    records: list[list[str]] = []
    at = 0
    while at < len(text):
        record: list[str] = []
        while True:
            field, at = _read_field(text, at)
            record.append(field)
            if text[at : at + 2] == "\r\n":
                at += 2
                break
            if text[at : at + 1] != ",":
                raise ValueError(f"a comma or a line end is missing at {at}")
            at += 1
        records.append(record)
    return records


def _read_field(text: str, at: int) -> tuple[str, int]:
    if text[at : at + 1] != '"':
        start = at
        while at < len(text) and text[at] not in ',"\r\n':
            at += 1
        return text[start:at], at
    value = ""
    at += 1
    while True:
        if at >= len(text):
            raise ValueError("a quoted field does not end")
        if text[at] != '"':
            value += text[at]
            at += 1
        elif text[at : at + 2] == '""':
            value += '"'
            at += 2
        else:
            return value, at + 1


def test_an_inch_mark_is_quoted_as_in_the_standard() -> None:
    """RFC 4180, section 2, rule 7: a quote inside a quoted field is doubled."""
    assert format_csv(("a", "b"), [('3/4" ply', "x")]) == b'a,b\r\n"3/4"" ply",x\r\n'


@pytest.mark.parametrize("text", ['a"b\r\n', "a\n", '"a"b\r\n', '"a\r\n', "a"])
def test_the_strict_reader_refuses_what_the_standard_forbids(text: str) -> None:
    with pytest.raises(ValueError, match=r"missing|does not end"):
        read_rfc4180(text)


@given(st.lists(st.lists(st.text(), min_size=2, max_size=2), max_size=5))
def test_any_cells_are_read_back_the_same_by_both_readers(rows: list[list[str]]) -> None:
    text = format_csv(("first", "second"), rows).decode("utf-8")
    strict = read_rfc4180(text)

    assert strict == list(csv.reader(io.StringIO(text, newline="")))
    assert len(rows) + 1 == len(strict)
    for wanted, found in zip(rows, strict[1:], strict=True):
        assert wanted == [
            cell if cell == plain else cell[1:] for cell, plain in zip(found, wanted, strict=True)
        ]


@given(st.text())
def test_no_cell_begins_like_a_formula_unless_it_is_a_number(text: str) -> None:
    (_, (cell,)) = read_rfc4180(format_csv(("only",), [(text,)]).decode("utf-8"))

    if cell[:1] in {"=", "+", "-", "@", "\t", "\r", "\n"} and cell:
        float(cell)


@pytest.mark.parametrize("system", SYSTEMS)
def test_every_table_of_a_plan_has_a_header_and_equally_long_records(system: System) -> None:
    plan = sample_plan(system)
    for write in (cut_list_csv, fasteners_csv, shopping_csv, cut_order_csv):
        records = read_rfc4180(write(plan).decode("utf-8"))

        assert len(records) > 1
        assert {len(records[0])} == {len(record) for record in records}
        assert len(set(records[0])) == len(records[0])
