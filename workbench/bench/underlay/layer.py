"""Shows the document's plan page on the drawing, and says where it can't be shown."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QImage, QPen, QPixmap, QTransform
from PySide6.QtWidgets import QGraphicsItem, QGraphicsPathItem, QGraphicsPixmapItem, QGraphicsScene

from workbench.bench import theme
from workbench.bench.background import Background
from workbench.bench.document import Document
from workbench.bench.underlay.pages import Page, read_page
from workbench.errors import BadInput
from workbench.job.underlay import Underlay
from workbench.job.underlay_edits import lay_underlay

_STAGES = ("plan", "slope")


class UnderlayLayer(QObject):
    """The page of the document on show; read off to the side, once for each file and page.

    Signals:
        changed: Another page is shown, or there is something to say about it.
        refused: ``(sentence)`` a page could not be laid under the drawing.
    """

    changed = Signal()
    refused = Signal(str)

    def __init__(self, document: Document, scene: QGraphicsScene, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._scene = scene
        self._stage = "plan"
        self._middle = (0.0, 0.0)
        self._laid = Path()
        self._wanted: tuple[str, int] | None = None
        self._item: QGraphicsItem | None = None
        self.page: Page | None = None
        """The page as read; None before it is, and where it can't be."""
        self.problem = ""
        """Why it can't be shown."""
        self._ready: tuple[str, int, Page] | None = None
        self._laying = Background(self)
        self._laying.answered.connect(self._lay)
        self._laying.failed.connect(self._failed)
        self._background = Background(self)
        self._background.answered.connect(self._answered)
        self._background.failed.connect(self._failed)
        document.shown.connect(self.refresh)
        theme.current().changed.connect(self._dress)
        self.refresh()

    @property
    def item(self) -> QGraphicsItem | None:
        """What lies on the drawing."""
        return self._item

    @property
    def reading(self) -> bool:
        """Whether a page is being read."""
        return self._wanted is not None and self.page is None and not self.problem

    @property
    def bounds(self) -> QRectF:
        """Rectangle around the page on the plan, inches; empty for none."""
        return self._item.sceneBoundingRect() if self._item is not None and self._item.isVisible() else QRectF()

    def show_stage(self, name: str) -> None:
        """Lie under the drawings of the stages that trace it, and out of the way of the others."""
        self._stage = name
        self._place()

    def lay(self, path: Path, middle: tuple[float, float]) -> None:
        """Lay the first page of a file under the drawing, its middle at a place of the plan, once it is read."""
        self._middle = middle
        self._laid = path
        self._laying.start(_reader(path, 1))

    def read_again(self) -> None:
        """Read the file anew: it may be back, or another one now."""
        self._wanted = None
        self.refresh()

    def refresh(self) -> None:
        """Show the page of the job on show."""
        under = self._document.plan.job.underlay
        wanted = None if under is None else (under.path, under.page)
        if wanted != self._wanted:
            self._wanted = wanted
            self._forget()
            if under is None:
                self._background.give_up()
            elif self._ready is not None and self._ready[:2] == wanted:
                self._background.give_up()
                self._take(self._ready[2])
                self._ready = None  # the file may be another by the time it is asked for again
            else:
                self._background.start(_reader(Path(under.path), under.page))
            self.changed.emit()
        self._place()

    def stop(self) -> None:
        """The window closes."""
        self._background.stop()
        self._laying.stop()

    def _lay(self, run: int, answer: object) -> None:
        if run != self._laying.current:
            return
        if not isinstance(answer, Page):
            self.refused.emit(str(answer))
            return
        path = self._laid.absolute().as_posix()
        self._ready = (path, 1, answer)
        scale = answer.unit_in
        x, y = (at - size * scale / 2.0 for at, size in zip(self._middle, (answer.width, answer.height), strict=True))
        try:
            job = lay_underlay(self._document.job, path, scale_in=scale, x_in=x, y_in=y)
        except BadInput as error:
            self.refused.emit(str(error))
            return
        self._document.apply(job, "Lay a plan page below")

    def _take(self, page: Page) -> None:
        self.page = page
        self._item = _item_of(page)
        self._scene.addItem(self._item)
        self._dress()
        self._place()

    def _answered(self, run: int, answer: object) -> None:
        if run != self._background.current:
            return
        if isinstance(answer, Page):
            self._take(answer)
        else:
            self.problem = str(answer)
        self.changed.emit()

    def _failed(self, run: int, sentence: str) -> None:
        if run == self._background.current:
            self.problem = f"The plan page could not be read ({sentence}); the log says more."
            self.changed.emit()

    def _forget(self) -> None:
        if self._item is not None:
            self._scene.removeItem(self._item)
        self._item = self.page = None
        self.problem = ""

    def _place(self) -> None:
        under, page, item = self._document.plan.job.underlay, self.page, self._item
        if under is None or page is None or item is None:
            return
        item.setVisible(under.shown and self._stage in _STAGES)
        # Over the planes' own ground, which would hide it, and under every line and word: planes are drawn first.
        item.setZValue(len(self._document.plan.roof.planes) - 0.5)
        item.setOpacity(under.strength)
        item.setTransform(placed(under, page))

    def _dress(self) -> None:
        """Ink in the theme's own colour for lines; a picture on a dark ground is shown the other way round."""
        item, page = self._item, self.page
        if isinstance(item, QGraphicsPathItem):
            pen = QPen(theme.current().ink, 1.0)
            pen.setCosmetic(True)
            item.setPen(pen)
        elif isinstance(item, QGraphicsPixmapItem) and page is not None and page.image is not None:
            image = page.image
            if theme.current().scheme == "dark":
                image = image.copy()
                image.invertPixels(QImage.InvertMode.InvertRgb)
            item.setPixmap(QPixmap.fromImage(image))


def placed(under: Underlay, page: Page) -> QTransform:
    """From the item's own measure, from the page's lower left corner, to plan inches."""
    own = under.scale_in
    if page.image is not None:
        own *= page.width / page.image.width()
    transform = QTransform()
    transform.translate(under.x_in, under.y_in)
    transform.rotate(under.turn_deg)
    # A picture's rows run down, the plan's inches up.
    transform.scale(own, -own if page.image is not None else own)
    return transform


def _item_of(page: Page) -> QGraphicsItem:
    if page.image is None:
        path = QGraphicsPathItem()
        if page.lines is not None:
            path.setPath(page.lines)
        item: QGraphicsItem = path
    else:
        picture = QGraphicsPixmapItem()
        picture.setTransformationMode(Qt.TransformationMode.SmoothTransformation)
        picture.setOffset(QPointF(0.0, -page.image.height()))
        item = picture
    item.setAcceptedMouseButtons(Qt.MouseButton.NoButton)
    return item


def _reader(path: Path, number: int) -> Callable[[Callable[[object], None], Callable[[], bool]], None]:
    def read(tell: Callable[[object], None], given_up: Callable[[], bool]) -> None:
        try:
            page = read_page(path, number)
        except BadInput as error:
            tell(str(error))
            return
        if not given_up():
            tell(page)

    return read
