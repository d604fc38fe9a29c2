"""What pages are built of: blocks that know their height for a width. Points."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Protocol

from workbench.drawing.primitives import Anchor, Drawing
from workbench.handout.painter import Scaled, fit, fit_over, paint, scale_text
from workbench.handout.pen import Pen, text_width, writable

SMALL, LABEL, LARGE, TITLE = 9.0, 11.0, 14.0, 18.0
LEADING = 1.28
"""Line distance of running text, in sizes."""

_CELL_X, _CELL_Y = 4.0, 3.0
_TICK = 0.85


class Block(Protocol):
    """A part of a page."""

    def height(self, width: float) -> float:
        """Height it takes at this width."""
        ...

    def draw(self, pen: Pen, x: float, top: float, width: float) -> None:
        """Draw it from its upper left corner."""
        ...


def wrapped(text: str, size: float, width: float, *, bold: bool = False) -> list[str]:
    """The text in lines no wider than the width; a word that is wider is broken."""
    lines: list[str] = []
    line = ""
    for word in writable(text).split(" "):
        trial = f"{line} {word}" if line else word
        if text_width(trial, size, bold=bold) <= width:
            line = trial
            continue
        if line:
            lines.append(line)
        line = word
        while text_width(line, size, bold=bold) > width and len(line) > 1:
            cut = len(line) - 1
            while cut > 1 and text_width(line[:cut], size, bold=bold) > width:
                cut -= 1
            lines.append(line[:cut])
            line = line[cut:]
    return [*lines, line]


def shortened(text: str, size: float, width: float, *, bold: bool = False) -> str:
    """The text on one line, its end cut off with an ellipsis where it is too wide."""
    text = writable(text)
    if text_width(text, size, bold=bold) <= width:
        return text
    while text and text_width(f"{text}…", size, bold=bold) > width:
        text = text[:-1]
    return f"{text.rstrip()}…"


@dataclass(frozen=True)
class Words:
    """A paragraph, optionally with a tick box or a number before it."""

    text: str
    size: float = LABEL
    bold: bool = False
    lead: str = ""
    tick: bool = False
    after: float = 3.0

    def _indent(self) -> float:
        if self.tick:
            return 1.6 * self.size
        return text_width(f"{self.lead}  ", self.size, bold=self.bold) if self.lead else 0.0

    def height(self, width: float) -> float:
        """Height of its lines."""
        lines = wrapped(self.text, self.size, width - self._indent(), bold=self.bold)
        return len(lines) * LEADING * self.size + self.after

    def draw(self, pen: Pen, x: float, top: float, width: float) -> None:
        """Write it."""
        indent = self._indent()
        y = top - self.size
        if self.tick:
            tick_box(pen, x, y, self.size)
        elif self.lead:
            pen.text(x, y, self.lead, self.size, bold=self.bold)
        for line in wrapped(self.text, self.size, width - indent, bold=self.bold):
            pen.text(x + indent, y, line, self.size, bold=self.bold)
            y -= LEADING * self.size


def tick_box(pen: Pen, x: float, baseline: float, size: float) -> None:
    """An empty box to be ticked with a carpenter's pencil."""
    pen.box(x, baseline - 0.1 * size, _TICK * size, _TICK * size, 0.8, fill=1.0)


@dataclass(frozen=True)
class Space:
    """Nothing."""

    points: float

    def height(self, width: float) -> float:
        """The points."""
        return self.points

    def draw(self, pen: Pen, x: float, top: float, width: float) -> None:
        """Leave it blank."""


@dataclass(frozen=True)
class Boxed:
    """Blocks in a frame, for cautions."""

    blocks: tuple[Block, ...]
    weight: float = 1.4
    pad: float = 6.0
    fill: float | None = None

    def height(self, width: float) -> float:
        """Blocks and padding."""
        return sum(block.height(width - 2 * self.pad) for block in self.blocks) + 2 * self.pad

    def draw(self, pen: Pen, x: float, top: float, width: float) -> None:
        """Frame, then blocks."""
        height = self.height(width)
        pen.box(x, top - height, width, height, self.weight, fill=self.fill)
        draw_down(pen, self.blocks, x + self.pad, top - self.pad, width - 2 * self.pad)


@dataclass(frozen=True)
class Columns:
    """Blocks side by side; ``shares`` are parts of the width."""

    columns: tuple[tuple[Block, ...], ...]
    shares: tuple[float, ...] = ()
    gap: float = 16.0
    after: float = 6.0

    def _widths(self, width: float) -> list[float]:
        shares = self.shares or (1.0,) * len(self.columns)
        free = width - self.gap * (len(shares) - 1)
        return [free * share / sum(shares) for share in shares]

    def height(self, width: float) -> float:
        """The tallest column."""
        widths = self._widths(width)
        tall = [sum(b.height(w) for b in blocks) for blocks, w in zip(self.columns, widths, strict=True)]
        return max(tall, default=0.0) + self.after

    def draw(self, pen: Pen, x: float, top: float, width: float) -> None:
        """Each column from the same top."""
        for blocks, column in zip(self.columns, self._widths(width), strict=True):
            draw_down(pen, blocks, x, top, column)
            x += column + self.gap


def draw_down(pen: Pen, blocks: Sequence[Block], x: float, top: float, width: float) -> None:
    """Draw blocks below each other."""
    for block in blocks:
        block.draw(pen, x, top, width)
        top -= block.height(width)


@dataclass(frozen=True)
class Picture:
    """A drawing at the largest standard scale that fits, with its scale below it.

    Attributes:
        drawing: What to print.
        tallest: Height to be had, caption included.
        metric: Which row of scales.
        largest: Larger scales than one to this are left out.
        fill: Take all of ``tallest`` and stand in its middle.
        note: Written beside the scale.
        caption: Whether the scale is written.
        left: Stand at the left instead of in the middle.
        usual: Scale that goes without saying; the caption stands only where another was taken.
        brief: Write the scale as ``1:8`` and no more.
    """

    drawing: Drawing
    tallest: float
    metric: bool = False
    largest: int = 1
    fill: bool = False
    note: str = ""
    caption: bool = True
    left: bool = False
    usual: int = 0
    brief: bool = False
    _scaled: dict[float, Scaled] = field(default_factory=dict[float, Scaled], compare=False, repr=False)

    def scaled(self, width: float) -> Scaled:
        """The drawing at the scale it gets at this width."""
        if width not in self._scaled:
            room = self.tallest - self._foot()
            self._scaled[width] = fit(self.drawing, width, room, metric=self.metric, largest=self.largest)
        return self._scaled[width]

    def scaled_over(self, width: float, over: float) -> Scaled | None:
        """The same, but only where it comes out larger than so many points per inch."""
        room = self.tallest - self._foot()
        found = fit_over(self.drawing, width, room, metric=self.metric, largest=self.largest, over=over)
        if found is not None:
            self._scaled[width] = found
        return found

    def _foot(self) -> float:
        return 18.0 if self.caption else 4.0

    def height(self, width: float) -> float:
        """All there is, or as much as it takes."""
        if self.fill:
            return self.tallest
        scaled = self.scaled(width)
        return scaled.size[1] + (4.0 if self.usual and scaled.scale == self.usual else self._foot())

    def draw(self, pen: Pen, x: float, top: float, width: float) -> None:
        """Drawing, then its scale."""
        scaled = self.scaled(width)
        wide, tall = scaled.size
        captioned = self.caption and not (self.usual and scaled.scale == self.usual)
        spare = self.height(width) - (self._foot() if captioned else 4.0) - tall
        at_x = x if self.left else x + (width - wide) / 2.0
        paint(pen, scaled.layout, at_x, top - tall - spare / 2.0)
        if captioned:
            text = scale_text(scaled.scale, metric=self.metric or self.brief)
            shown = f"{text}. {self.note}" if self.note else text
            at = (x, "left") if self.left else (x + width / 2.0, "centre")
            anchor: Anchor = "left" if self.left else "centre"
            pen.text(at[0], top - self.height(width) + 5.0, shown, SMALL, anchor=anchor)


@dataclass(frozen=True)
class Column:
    """One column of a table: heading, share of the width, and how its cells stand."""

    heading: str
    share: float
    anchor: Anchor = "left"
    bold: bool = False


@dataclass(frozen=True)
class Table:
    """A ruled table whose cells wrap and whose heading repeats on the next page.

    A row's first cell ``[]`` is a tick box. Row shorter than the columns: its last cell runs to the right edge (a group
    heading).
    """

    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    size: float = LABEL
    after: float = 8.0
    headed: bool = True

    def height(self, width: float) -> float:
        """Heading and rows."""
        rows = sum(self._row_height(row, width) for row in self.rows)
        return rows + (self._head_height(width) if self.headed else 0.0) + self.after

    def split(self, width: float, height: float) -> tuple[Table | None, Table | None]:
        """The rows that fit into a height, and the rest."""
        left = height - (self._head_height(width) if self.headed else 0.0)
        for i, row in enumerate(self.rows):
            left -= self._row_height(row, width)
            if left < 0.0:
                # A group's heading does not stay behind alone.
                i -= int(i > 0 and len(self.rows[i - 1]) < len(self.columns))
                first = replace(self, rows=self.rows[:i]) if i else None
                return first, replace(self, rows=self.rows[i:])
        return self, None

    def draw(self, pen: Pen, x: float, top: float, width: float) -> None:
        """Heading with a rule, rows parted by thin lines."""
        if self.headed:
            size = self._head_size()
            for column, left, wide in self._places(x, width):
                y = top - _CELL_Y - size
                for line in wrapped(column.heading, size, wide - 2 * _CELL_X, bold=True):
                    _write(pen, line, left, y, wide, size, column.anchor, bold=True)
                    y -= LEADING * size
            top -= self._head_height(width)
            pen.line((x, top), (x + width, top), 1.0)
        for row in self.rows:
            self._draw_row(pen, row, x, top, width)
            top -= self._row_height(row, width)
            pen.line((x, top), (x + width, top), 0.35, ink=0.3)

    def _draw_row(self, pen: Pen, row: tuple[str, ...], x: float, top: float, width: float) -> None:
        for cell, (column, left, wide) in zip(row, self._cells(row, x, width), strict=True):
            y = top - _CELL_Y - self.size
            if cell == "[]":
                tick_box(pen, left + _CELL_X, y, self.size)
                continue
            heading = len(row) < len(self.columns)
            bold = column.bold or heading
            for line in wrapped(cell, self.size, wide - 2 * _CELL_X, bold=bold):
                _write(pen, line, left, y, wide, self.size, "left" if heading else column.anchor, bold=bold)
                y -= LEADING * self.size

    def _head_size(self) -> float:
        return max(SMALL, min(self.size, LABEL))

    def _places(self, x: float, width: float) -> list[tuple[Column, float, float]]:
        total = sum(column.share for column in self.columns)
        places: list[tuple[Column, float, float]] = []
        for column in self.columns:
            wide = width * column.share / total
            places.append((column, x, wide))
            x += wide
        return places

    def _cells(self, row: tuple[str, ...], x: float, width: float) -> list[tuple[Column, float, float]]:
        places = self._places(x, width)[: len(row)]
        column, left, _ = places[-1]
        return [*places[:-1], (column, left, x + width - left)]

    def _head_height(self, width: float) -> float:
        size = self._head_size()
        lines = max(
            len(wrapped(column.heading, size, wide - 2 * _CELL_X, bold=True))
            for column, _, wide in self._places(0.0, width)
        )
        return lines * LEADING * size + 2 * _CELL_Y

    def _row_height(self, row: tuple[str, ...], width: float) -> float:
        heading = len(row) < len(self.columns)
        lines = max(
            len(wrapped(cell, self.size, wide - 2 * _CELL_X, bold=column.bold or heading))
            for cell, (column, _, wide) in zip(row, self._cells(row, 0.0, width), strict=True)
        )
        return lines * LEADING * self.size + 2 * _CELL_Y


def _write(pen: Pen, text: str, left: float, y: float, wide: float, size: float, anchor: Anchor, *, bold: bool) -> None:
    at = {"left": left + _CELL_X, "centre": left + wide / 2.0, "right": left + wide - _CELL_X}[anchor]
    pen.text(at, y, text, size, bold=bold, anchor=anchor)
