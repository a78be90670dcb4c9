"""A draw on paper, read back by another program: sums, headings, pages, and no links."""

import re
import subprocess
import sys
from dataclasses import replace
from io import BytesIO

import pytest
from pypdf import PdfReader

from estimator.own_mark import is_unchanged_own
from estimator.printed.draw_pages import draw_pdf
from estimator.printed.page_pen import GROUP, Foot, PagePen, PrintColumn, PrintRow
from tests.funding.made_packages import FORMULA, LONG, first_open, reduced, second

LETTER = {(612.0, 792.0), (792.0, 612.0)}
_AMOUNT = re.compile(r"(?<![\d$,])-?[\d,]+\.\d\d(?!\d)")
_MAKE = """
from hashlib import sha256
from estimator.printed.draw_pages import draw_pdf
from estimator.workbook.draw_csv import draw_csv
from estimator.workbook.draw_workbook import draw_bytes
from tests.funding.made_packages import second
own = second()
for content in (draw_pdf(own), draw_bytes(own), draw_csv(own).encode()):
    print(sha256(content).hexdigest())
"""


def pages(package):
    return PdfReader(BytesIO(draw_pdf(package))).pages


def texts(package):
    return [page.extract_text() for page in pages(package)]


def part(package, title, end):
    """The printed text from one title to another."""
    text = "\n".join(texts(package))
    begins = text.index(f"{title}\n")
    return text[begins : text.index(end, begins)]


def amounts(text, figures):
    """The rows that have so many figures [0.01 $], the total last."""
    rows = [_AMOUNT.findall(line) for line in text.split("\n")]
    return [[int(re.sub("[.,]", "", one)) for one in row] for row in rows if len(row) == figures]


def by_column(rows):
    return [sum(column) for column in zip(*rows, strict=True)]


@pytest.fixture(params=[second, reduced, first_open])
def package(request):
    return request.param()


def test_the_printed_lines_add_up_to_their_total_and_to_the_library(package):
    request = package.request
    *rows, total = amounts(part(package, "Lines", "Beside the lines"), 10)
    assert by_column(rows) == total
    names = ("scheduled", "change", "revised", "done_before", "done_this_period", "stored",
             "done_and_stored", "retainage", "earned", "balance_to_finish")  # fmt: skip
    assert total == [request.sum_cents(f"{name}_cents") for name in names]


def test_the_printed_payees_and_backup_come_to_what_the_lines_bill(package):
    *rows, total = amounts(part(package, "Payees", "Evidence"), 1)
    billed = package.request.billed_cents
    assert sum(cents for (cents,) in rows) == total[0] == billed
    sums = [cents for (cents,) in amounts(part(package, "Backup", "Payees"), 1)]
    assert sum(sums[:-1]) == sums[-1] == billed


def test_the_cover_leads_from_the_lines_to_the_request():
    figures = [
        cents
        for (cents,) in amounts(part(second(), "Barn & (old) Mill: Draw 2", "What the lender"), 1)
    ]
    assert figures == [
        52_000_00, 0, 52_000_00, 32_012_55, 2_000_00, 34_012_55, -3_320_03, 30_692_52,
        -22_862_33, 7_830_19,
        40_000_00, -10_862_33, -7_830_19, 21_307_48, 12_000_00, -12_000_00, 0, 0,
    ]  # fmt: skip


def test_each_page_is_letter_paper_with_its_number_the_state_and_the_digest(package):
    said = pages(package)
    assert {(float(one.mediabox.width), float(one.mediabox.height)) for one in said} <= LETTER
    for number, page in enumerate(said, start=1):
        text = page.extract_text()
        assert f"page {number} of {len(said)}" in text
        assert package.standing in text


def test_each_page_of_a_sample_says_that_it_is_invented_and_no_other_does():
    assert all("INVENTED SAMPLE" in one for one in texts(reduced()))
    assert not any("INVENTED" in one for one in texts(second()))


def test_a_long_backup_repeats_its_headings_and_loses_no_row():
    package = second()
    part_of_one = package.request.backup[0]
    many = tuple(replace(part_of_one, row=row, document=f"Q-{row:05}") for row in range(1, 301))
    long = replace(package, request=replace(package.request, backup=many))
    of_backup = [one for one in texts(long) if re.search(r"Q-\d{5}", one)]
    assert len(of_backup) > 5
    assert all("Proof of payment" in one for one in of_backup)
    found = [row for one in of_backup for row in re.findall(r"Q-(\d{5})", one)]
    assert found == [f"{row:05}" for row in range(1, 301)]


@pytest.mark.parametrize("before", [0, 1])
def test_a_row_stays_whole_and_the_head_of_a_group_stands_above_its_first_row(before):
    """Whatever stands before: over two pages no row is broken, and no page ends with a head."""
    rows = [PrintRow(("", ""))] * before
    for n in range(60):
        rows.append(PrintRow((f"Group {n} of the rows with a long name", ""), GROUP))
        rows.append(PrintRow(("", f"first{n}")))
    rows += [PrintRow(("", f"begin{n} " + 30 * "by the wall " + f"end{n}")) for n in range(20)]
    pen = PagePen("Walk", Foot("Barn", "Draw 2"))
    pen.sheet("Walk", is_wide=False)
    pen.table((PrintColumn("Code", 1), PrintColumn("Where", 4)), rows)
    of_pages = [one.extract_text() for one in PdfReader(BytesIO(pen.content())).pages]
    heads, first, begun, ended = (
        [re.findall(rf"{word}(\d+)", text) for text in of_pages]
        for word in ("Group ", "first", "begin", "end")
    )
    assert (heads, begun) == (first, ended)
    assert (sum(map(len, heads)), sum(map(len, begun))) == (60, 20)


def test_a_text_longer_than_a_page_goes_on_over_the_next():
    package = second()
    words = " ".join(f"reason-{number}" for number in range(2_000))
    (line, *others) = package.request.lines
    long = replace(package.request, lines=(replace(line, cut_reason=words), *others))
    text = "".join(texts(replace(package, request=long)))
    assert [n for n in range(2_000) if f"reason-{n}" not in text.replace("\n", "")] == []


def test_long_names_wrap_and_letters_that_the_font_lacks_are_said_to_be_missing():
    text = "\n".join(texts(second())).replace("\n", " ")
    assert " ".join(LONG.split()) in text
    assert "□□□ Каменоломня" in text
    assert "□ stands for a letter that this page cannot print: see the workbook." in text


def test_no_text_of_a_user_becomes_a_link_or_an_action():
    content = draw_pdf(second())
    said = PdfReader(BytesIO(content))
    assert FORMULA in "\n".join(texts(second())).replace('"pa\ny here', '"pay here')
    assert all("/Annots" not in page for page in said.pages)
    assert not {"/OpenAction", "/AA", "/Names", "/AcroForm"} & set(said.trailer["/Root"])
    assert b"/URI" not in content


def test_the_same_draw_gives_the_same_pages_workbook_and_csv_in_any_process():
    runs = {
        subprocess.run(
            [sys.executable, "-c", _MAKE], env={"PYTHONHASHSEED": seed}, check=True,
            capture_output=True, text=True,
        ).stdout
        for seed in ("0", "7")
    }  # fmt: skip
    assert len(runs) == 1


def test_the_program_knows_its_pages_until_somebody_changes_them(tmp_path):
    path = tmp_path / "draw-02.pdf"
    path.write_bytes(draw_pdf(second()))
    assert is_unchanged_own(path)
    path.write_bytes(path.read_bytes().replace(b"/Title", b"/Titel"))
    assert not is_unchanged_own(path)


def test_all_letters_are_embedded_in_the_file():
    fonts = pages(second())[0]["/Resources"]["/Font"]
    assert {one["/BaseFont"].split("+")[1] for one in fonts.values()} == {
        "DejaVuSans", "DejaVuSans-Bold",
    }  # fmt: skip
    assert all("/FontFile2" in one["/FontDescriptor"] for one in fonts.values())


def test_the_walk_sheet_shows_what_is_claimed_and_the_picture_taken_before():
    walk = "\n".join(texts(second())[-1].split("\n"))
    assert "30.010 Stone 30; measured 2026-05-20 74 of 100 % 74.00" in walk
    assert "picture of 2026-05-20: west pit, lift 1" in walk
    assert "density of lift 2 is open" in walk


def test_the_balance_is_printed_where_it_is_given_and_adds_up():
    rows = amounts("\n".join(texts(reduced())[-1:]), 2)
    assert rows == [
        [28_762_67, 28_762_67], [-350_00, -350_00], [28_412_67, 28_412_67],
        [26_000_01, 28_500_02], [1_234_56, 1_234_56], [27_234_57, 29_734_58],
        [1_178_10, -1_321_91],
    ]  # fmt: skip
    assert "Balance\n" not in "".join(texts(second()))
