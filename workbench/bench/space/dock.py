"""The dock of the 3-D view: what to show, where to look from, and a sentence in its place where there is no OpenGL."""

from __future__ import annotations

import logging
import math
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QCloseEvent, QHideEvent, QKeySequence, QOpenGLContext, QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QDockWidget,
    QHBoxLayout,
    QLabel,
    QMainWindow,
    QMenu,
    QPushButton,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from workbench.bench import theme
from workbench.bench.document import Document
from workbench.bench.selection import Selection
from workbench.bench.settings import FIRST_WIDTH, Settings
from workbench.bench.space.camera import Camera, ViewName
from workbench.bench.space.parts import LAYERS, Layer
from workbench.bench.space.title import TitleBar
from workbench.bench.surface.words import describe
from workbench.plan import Plan
from workbench.resources import resource_path

if TYPE_CHECKING:
    from workbench.bench.space.view import SpaceView

NO_OPENGL = "There is no OpenGL 2.1 here to draw the house in space with; everything else works without it."
NO_PACKAGE = "The Python package PyOpenGL, which draws the house in space, can't be used here; everything else works."
NOTHING = "Nothing is drawn yet; draw a building outline to see the house in space."

_WORDS: dict[Layer, tuple[str, str]] = {
    "planes": ("Planes", "The roof's planes and edges"),
    "members": ("Members", "Rafters, ridges, hips and valleys as they are cut"),
    "sheets": ("Sheets", "The pieces of sheathing with their joints"),
    "walls": ("Walls", "The walls up to the plates"),
}
_VIEW_WORDS: dict[ViewName, str] = {
    "home": "From the front &right",
    "front": "&Front",
    "back": "&Back",
    "left": "&Left",
    "right": "R&ight",
    "above": "&Above",
}


class SpaceDock(QDockWidget):
    """The 3-D view beside the drawing. Out of sight it does nothing, and it makes no view before it is first seen.

    Signals:
        wanted_changed: ``(on)`` the user opened or closed it.
    """

    wanted_changed = Signal(bool)

    def __init__(
        self, document: Document, selection: Selection, settings: Settings, parent: QWidget | None = None
    ) -> None:
        super().__init__("3-D view", parent)
        self.setObjectName("space")
        self._document, self._selection, self._settings = document, selection, settings
        self._offered, self._placed = False, False
        self._stale, self._fresh = True, True
        self.view: SpaceView | None = None
        self.title_bar = TitleBar(self)
        self.title_bar.closing.clicked.connect(self.toggle)
        self.setTitleBarWidget(self.title_bar)
        self._build()
        self.setVisible(False)
        document.shown.connect(self._shown)
        document.replaced.connect(self._replaced)
        selection.changed.connect(self._marked)
        theme.current().changed.connect(self._dress)
        self._dress()

    def _build(self) -> None:
        whole = QWidget(self)
        whole.setObjectName("space_inside")
        column = QVBoxLayout(whole)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        self._row = QWidget(whole)
        row = QHBoxLayout(self._row)
        row.setContentsMargins(8, 0, 8, 0)
        row.setSpacing(0)
        shown = self._settings.space_layers
        self.layer_buttons: dict[Layer, QPushButton] = {}
        for layer in LAYERS:
            words, tip = _WORDS[layer]
            button = self._button(words, tip)
            button.setCheckable(True)
            button.setChecked(layer in shown)
            button.toggled.connect(self._layers_changed)
            self.layer_buttons[layer] = button
            row.addWidget(button)
        row.addStretch(1)
        self.look_button = self._button("Look", "Where to look from; the keys work while the view has the focus")
        self.look_button.setObjectName("look")
        self.look_menu = QMenu(self.look_button)
        self.look_button.setMenu(self.look_menu)
        row.addWidget(self.look_button)
        column.addWidget(self._row)
        self.stack = QStackedWidget(whole)
        self.sentence = QLabel(NOTHING, self.stack)
        self.sentence.setWordWrap(True)
        self.sentence.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.sentence.setContentsMargins(24, 24, 24, 24)
        self.sentence.setProperty("quiet", True)
        self.stack.addWidget(self.sentence)
        column.addWidget(self.stack, 1)
        self.caption = QLabel(whole)
        self.caption.setObjectName("space_caption")
        self.caption.setTextFormat(Qt.TextFormat.PlainText)
        self.caption.setProperty("quiet", True)
        # Beside the drawing the window's status bar says it.
        self.caption.setVisible(False)
        self.topLevelChanged.connect(self._set_apart)
        column.addWidget(self.caption)
        self.setWidget(whole)

    def _button(self, words: str, tip: str) -> QPushButton:
        button = QPushButton(words, self._row)
        button.setProperty("space", True)
        button.setToolTip(tip)
        return button

    # Open and closed

    @property
    def wanted(self) -> bool:
        """Whether the user wants to see it, whether or not it can be seen just now."""
        return self._settings.space_shown

    def want(self, on: bool) -> None:
        """Open or close it; remembered."""
        self._settings.space_shown = on
        self.setVisible(on and self._offered)
        self.wanted_changed.emit(on)

    def toggle(self) -> None:
        """Open it, or close it."""
        self.want(not self.wanted)

    def offer(self, on: bool) -> None:
        """Let it be seen if it is wanted: not beside the start page."""
        self._offered = on
        self.setVisible(on and self.wanted)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Closed by the window manager while it floats; when the program ends it stays wanted."""
        super().closeEvent(event)
        if event.spontaneous():
            self.want(False)

    def showEvent(self, event: QShowEvent) -> None:
        """Catch up with what happened meanwhile."""
        super().showEvent(event)
        # Not in here: the first OpenGL widget makes Qt build the whole window anew, and show it again.
        QTimer.singleShot(0, self, self._come_into_sight)

    def _come_into_sight(self) -> None:
        if self.isVisible():
            self._take_width()
            self._catch_up()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Remember the width that the user gives it."""
        super().resizeEvent(event)
        if self._placed and not self.isFloating():
            self._settings.space_width = event.size().width()

    def hideEvent(self, event: QHideEvent) -> None:
        """What happens to its size while it is out of sight is not the user's doing."""
        self._placed = False
        super().hideEvent(event)

    def keep_look(self) -> None:
        """Remember for the next run from which side one looks."""
        if self.view is not None:
            camera = self.view.camera
            self._settings.space_look = math.degrees(camera.azimuth), math.degrees(camera.elevation)

    def reset(self) -> None:
        """Back to its side of the window, as wide as at first."""
        self._settings.space_width = FIRST_WIDTH
        self.setFloating(False)
        main = self.parent()
        if isinstance(main, QMainWindow):
            main.addDockWidget(Qt.DockWidgetArea.LeftDockWidgetArea, self)
        self.setVisible(self._offered and self.wanted)
        self._take_width()

    def _take_width(self) -> None:
        main, width = self.parent(), self._settings.space_width
        if isinstance(main, QMainWindow) and not self.isFloating():
            main.resizeDocks([self], [width], Qt.Orientation.Horizontal)
        self._placed = True

    # Following the document

    @property
    def layers(self) -> tuple[Layer, ...]:
        """The layers on show."""
        return tuple(layer for layer, button in self.layer_buttons.items() if button.isChecked())

    def _shown(self, before: Plan, after: Plan) -> None:
        self._stale = True
        if self.isVisible():
            self._catch_up()

    def _replaced(self) -> None:
        self._fresh = True
        if self.isVisible():
            self._catch_up()

    def _marked(self, key: str) -> None:
        if self.isVisible():
            self._mark()

    def _layers_changed(self) -> None:
        self._settings.space_layers = self.layers
        if self.view is not None:
            self.view.set_layers(self.layers)

    def _catch_up(self) -> None:
        if self.view is None and not self._make_view():
            return
        view, plan = self.view, self._document.plan
        if view is None:
            return
        empty = not plan.wings and not plan.roof.planes
        self.stack.setCurrentWidget(self.sentence if empty else view)
        if self._stale:
            self._stale = False
            view.show_plan(plan)
        if self._fresh and not empty:
            self._fresh = False
            view.begin()
        self._mark()

    def _set_apart(self, apart: bool) -> None:
        self.caption.setVisible(apart and self.view is not None)

    def _mark(self) -> None:
        key = self._selection.key
        said = describe(self._document.plan, key) if key else ""
        self.caption.setText(said[:1].upper() + said[1:] if said else "Nothing selected")
        if self.view is not None:
            self.view.setAccessibleDescription(self.caption.text())
            self.view.mark(key)

    # The view

    def _make_view(self) -> bool:
        """Make the view; where it can't be, say so."""
        problem = "" if self._offered_gl() else NO_OPENGL
        if not problem:
            try:
                from workbench.bench.space.view import SpaceView
            except (ImportError, AttributeError, OSError):
                # A missing package, or one that finds no library to call.
                logging.getLogger(__name__).exception("PyOpenGL can't be used")
                problem = NO_PACKAGE
        if problem:
            self._fail(problem)
            return False
        self.view = SpaceView(self.stack)
        azimuth, elevation = self._settings.space_look
        self.view.camera = self.view.first = Camera().turned_to(azimuth, elevation)
        self.view.set_layers(self.layers)
        self.view.picked.connect(self._selection.select)
        self.view.failed.connect(self._failed)
        self.stack.addWidget(self.view)
        self._fill_look_menu(self.view)
        return True

    def _offered_gl(self) -> bool:
        context = QOpenGLContext()
        if not context.create():
            return False
        return context.isOpenGLES() or context.format().version() >= (2, 1)

    def _fill_look_menu(self, view: SpaceView) -> None:
        from workbench.bench.space.view import FIT_KEY, VIEW_KEYS

        for name, key in VIEW_KEYS.items():
            self._add_look(_VIEW_WORDS[name], key, partial(view.look, name))
        self.look_menu.addSeparator()
        self._add_look("&Whole house", FIT_KEY, view.fit)

    def _add_look(self, words: str, key: Qt.Key, act: partial[None] | object) -> None:
        # The key is named, not bound here: it works while the view has the focus, and is a letter elsewhere.
        named = QKeySequence(key).toString(QKeySequence.SequenceFormat.NativeText)
        self.look_menu.addAction(f"{words}\t{named}").triggered.connect(lambda: act())

    def _failed(self) -> None:
        if self.view is not None:
            view, self.view = self.view, None
            self.stack.removeWidget(view)
            view.deleteLater()
        self._fail(NO_OPENGL)

    def _fail(self, sentence: str) -> None:
        self.sentence.setText(sentence)
        self.sentence.setAccessibleName(sentence)
        self.stack.setCurrentWidget(self.sentence)
        self._row.setEnabled(False)
        self.caption.setVisible(False)

    def _dress(self) -> None:
        c, arrow = theme.current().colours, resource_path("icons", "arrow-down.svg").as_posix()
        self.setStyleSheet(
            f"QWidget#space_title {{ background: {c.panel}; }}"
            f"QWidget#space_title QPushButton {{ padding: 5px; min-height: 0; }}"
            f"QWidget#space_inside {{ background: {c.paper}; border-right: 1px solid {c.line}; }}"
            f"QLabel#space_caption {{ background: {c.panel}; border-top: 1px solid {c.line}; padding: 4px 12px; }}"
            f"QPushButton[space=true] {{ background: transparent; border: 0; border-radius: 0; padding: 6px 8px 5px;"
            f" border-bottom: 2px solid transparent; color: {c.quiet}; }}"
            f"QPushButton[space=true]:hover {{ color: {c.ink}; }}"
            f"QPushButton[space=true]:focus {{ color: {c.accent}; border-bottom: 2px solid {c.line}; }}"
            f"QPushButton[space=true]:checked {{ color: {c.ink}; border-bottom: 2px solid {c.accent}; }}"
            f"QPushButton[space=true]::menu-indicator {{ image: url({arrow}); width: 10px; height: 10px;"
            f" subcontrol-position: right center; subcontrol-origin: padding; right: 6px; }}"
            f"QPushButton#look {{ padding-right: 24px; }}"
        )
