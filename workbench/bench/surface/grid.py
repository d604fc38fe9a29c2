"""The ground of the drawing with its grid, painted once for each view and kept."""

from __future__ import annotations

from PySide6.QtGui import QPainter, QPixmap

from workbench.bench import theme
from workbench.bench.surface.camera import CameraView
from workbench.bench.surface.overlay import paint_grid
from workbench.bench.surface.snapping import grid_step
from workbench.measure import System


class GridPicture:
    """Keeps the picture of the last view: while something is dragged the view stands still."""

    def __init__(self) -> None:
        self._picture = QPixmap()
        self._shows: tuple[object, ...] = ()

    def of(self, view: CameraView, system: System) -> QPixmap:
        """The ground of a view, painted anew only where view, units or colours are others."""
        viewport = view.viewport()
        ratio = viewport.devicePixelRatioF()
        wanted = (view.visible().getRect(), viewport.size().toTuple(), ratio, system, theme.current().scheme)
        if wanted != self._shows:
            picture = QPixmap(viewport.size() * ratio)
            picture.setDevicePixelRatio(ratio)
            picture.fill(theme.current().paper)
            painter = QPainter(picture)
            paint_grid(painter, view.visible(), view.to_px, grid_step(view.px_per_in, system), system)
            painter.end()
            self._picture, self._shows = picture, wanted
        return self._picture
