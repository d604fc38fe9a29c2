"""Text wraps without loss, tables split between rows, and every block comes on a page once."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from workbench.handout.blocks import Column, Space, Table, Words, shortened, wrapped
from workbench.handout.page import flowed, frame_size
from workbench.handout.pen import text_width

words = st.lists(st.text("abcdefghij0123'\"/", min_size=1, max_size=14), min_size=1, max_size=30)


@settings(max_examples=80, deadline=None)
@given(words, st.floats(60.0, 300.0))
def test_wrapping_loses_nothing(parts, width):
    text = " ".join(parts)
    lines = wrapped(text, 11.0, width)
    assert " ".join(lines).replace(" ", "") == text.replace(" ", "")
    assert all(text_width(line, 11.0) <= width for line in lines)


def test_a_word_wider_than_the_line_is_broken():
    lines = wrapped("x" * 200, 9.0, 100.0)
    assert "".join(lines) == "x" * 200
    assert all(text_width(line, 9.0) <= 100.0 for line in lines)


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=60), st.floats(20.0, 400.0))
def test_shortened_text_fits(text, width):
    assert text_width(shortened(text, 14.0, width), 14.0) <= max(width, text_width("…", 14.0))


cells = words.map(" ".join)
COLUMNS = (Column("What", 1.0), Column("How", 2.0))


@settings(max_examples=40, deadline=None)
@given(st.lists(st.one_of(st.tuples(cells), st.tuples(cells, cells)), max_size=25))
def test_split_tables_keep_every_row_in_order(rows):
    table = Table(COLUMNS, tuple(rows))
    pages = flowed("List", "", [table], "letter") if rows else []
    width, height = frame_size("letter")
    shown = [row for page in pages for block in page.blocks if isinstance(block, Table) for row in block.rows]
    assert shown == list(rows)
    for page in pages:
        assert len(page.blocks) == 1 or sum(block.height(width) for block in page.blocks) <= height + table.after
        last = page.blocks[-1]
        assert isinstance(last, Table)
        if page is not pages[-1] and len(last.rows) > 1:
            assert len(last.rows[-1]) == len(COLUMNS)


def test_blocks_flow_in_order_and_fit():
    blocks = [Words(f"Block {i}") if i % 3 else Space(100.0) for i in range(40)]
    pages = flowed("Long", "line", blocks, "a4")
    assert [block for page in pages for block in page.blocks] == blocks
    assert [page.title for page in pages] == ["Long", *["Long, continued"] * (len(pages) - 1)]
    width, height = frame_size("a4")
    assert all(sum(block.height(width) for block in page.blocks) <= height for page in pages)


def test_a_block_taller_than_a_page_does_not_hang():
    assert len(flowed("Tall", "", [Space(5000.0), Space(10.0)], "letter")) == 2
