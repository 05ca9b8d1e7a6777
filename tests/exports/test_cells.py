"""Cells of a table: nothing runs, numbers stay numbers, and the text is the same when it is read back.

The rules of the spreadsheet are those of OWASP, "CSV Injection": a cell runs that begins with = + - @, a tab or a line
break; the full-width signs of the same name are taken for them by some (common practice, no source).
"""

import csv
import io
import re
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from webapp.exports.cells import BOM, Cell, guarded, line, plain, table

SIGNS = "=+-@＝＋－＠"
TEXTS = st.text(st.sampled_from(f"{SIGNS}'\";,\t\r\n 1a\u200b\u00a0é𝔘/.") | st.characters(exclude_categories=["Cs"]))
NUMBER = re.compile(r"-?\d+(\.\d+)?", re.ASCII)
# what a spreadsheet takes for a date, a time, a fraction, a number or a truth where it stands in a file (from memory)
TAKEN_OTHERWISE = (
    *("1/8", "3/4", "1-2", "2026-02-03", "3.4.2026", "12:30", "5:15 pm", "1e5", "1E-3", "007", "1,000", "1.234,5"),
    *("$5", "€ 12", "50 %", "(5)", "1 1/8", "3-Mar", "Mar 3", "March 2026", "1 Apr 26", "TRUE", "false", ".5", "00"),
)


def runs(cell: str) -> bool:
    """Whether a spreadsheet that has come to this cell would run it."""
    return cell[:1] in {*SIGNS, "\t", "\r", "\n"} and cell != "" and not NUMBER.fullmatch(cell)


def read_back(text: str) -> list[list[str]]:
    return list(csv.reader(io.StringIO(text, newline=""), strict=True))


@given(TEXTS)
@example("=1+1")
@example("'=1+1")
@example("\t=cmd|' /C calc'!A0")
@example('a";"=1+1')
@example("1/8\n'5")
def test_sa17_text_comes_back_as_it_was(text: str) -> None:
    """SA17: quotes, line breaks and apostrophes of its own included."""
    found = read_back(line([text, text]))
    assert [plain(cell) for cell in found[0]] == [text, text]
    assert len(found) == 1


@given(TEXTS)
@example(" \u200b=1")
def test_sa17_no_text_can_run(text: str) -> None:
    """SA17: not as it stands, not with what is not seen before it taken away, by a file cut at semicolons neither."""
    cell = guarded(text)
    assert not runs(cell)
    for piece in re.split(r"[;\t\r\n]", cell):
        bare = piece.lstrip('" \u00a0\u200b\ufeff\u3000')
        assert not runs(bare), piece


@given(st.lists(TEXTS, min_size=1, max_size=4))
@example(["x", 'a";"=1+1'])
@example(["x", "note\n=1+1"])
@example(["", "\n"])
def test_a_spreadsheet_that_separates_by_semicolons_runs_nothing(texts: list[str]) -> None:
    """It reads the same file with other eyes: quotes it did not expect are text to it, or are gone."""
    for row in csv.reader(io.StringIO(line(texts), newline=""), delimiter=";"):
        assert not [cell for cell in row if runs(cell.lstrip('"\t\r\n \u00a0\u200b\ufeff\u3000'))]


@pytest.mark.parametrize("text", TAKEN_OTHERWISE)
def test_sa17_a_fraction_does_not_become_a_date(text: str) -> None:
    """SA17: 1/8 of an inch is not the 8th of January, and 007 not 7."""
    assert guarded(text) == f"'{text}"


@pytest.mark.parametrize("text", ["2x4", "8/4 walnut", "Coat 2", "Ash, 26 mm", "it's", "oak – quartered", "a/b", "May"])
def test_plain_words_are_left_alone(text: str) -> None:
    assert guarded(text) == text


def test_sa17_numbers_stay_numbers() -> None:
    """SA17: -12.50 is a number whoever wrote it; a number of ours never stands in quotes."""
    assert guarded("-12.50") == "-12.50"
    assert guarded("+1/8") == "'+1/8"
    cells: list[Cell] = [Decimal("-12.50"), -3, Decimal("1E+2"), date(2026, 2, 3), None, ""]
    assert line(cells) == "-12.50,-3,100,2026-02-03,,\r\n"


def test_a_table_says_which_letters_it_has() -> None:
    """A mark of byte order first, which the commonest spreadsheet needs to read UTF-8 (common practice, no source)."""
    assert "".join(table(["Pièce"], [["ébène"]])) == f'{BOM}"Pièce"\r\n"ébène"\r\n'


def test_a_long_text_takes_no_time_to_look_at() -> None:
    assert guarded("1" * 50_000) == "1" * 50_000
    assert guarded("1/" * 50_000) == "1/" * 50_000
