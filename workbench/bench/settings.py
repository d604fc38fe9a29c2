"""What the program remembers between runs: the window's shape, recent jobs, colours. Never anything of a job."""

from __future__ import annotations

from pathlib import Path
from typing import cast

from PySide6.QtCore import QByteArray, QSettings

from workbench.bench.space.camera import HOME_DEG
from workbench.bench.space.parts import LAYERS, Layer
from workbench.bench.theme import Choice
from workbench.job.autosave import APP_NAME

LAYOUT_VERSION = 1
MOST_RECENT = 10
FIRST_WIDTH = 420  # of the 3-D view


class Settings:
    """A small typed door to the settings file; ``ini`` puts it elsewhere, for tests."""

    def __init__(self, ini: Path | None = None) -> None:
        if ini is not None:
            self._store = QSettings(str(ini), QSettings.Format.IniFormat)
        else:
            self._store = QSettings(QSettings.Format.IniFormat, QSettings.Scope.UserScope, APP_NAME, APP_NAME)

    @property
    def recent(self) -> tuple[Path, ...]:
        """Job files opened lately, the latest first; some may be gone."""
        kept = self._store.value("files/recent", [])
        names = [kept] if isinstance(kept, str) else cast("list[object]", kept or [])
        return tuple(Path(str(name)) for name in names)[:MOST_RECENT]

    def add_recent(self, path: Path) -> None:
        """Put a file first in the list."""
        path = path.resolve()
        others = [other for other in self.recent if other != path]
        self._store.setValue("files/recent", [str(each) for each in [path, *others][:MOST_RECENT]])

    def clear_recent(self) -> None:
        """Forget the recent files."""
        self._store.remove("files/recent")

    @property
    def folder(self) -> Path:
        """Where the file dialogs begin."""
        kept = Path(self._text("files/folder", str(Path.home())))
        return kept if kept.is_dir() else Path.home()

    @folder.setter
    def folder(self, folder: Path) -> None:
        self._store.setValue("files/folder", str(folder))

    @property
    def colours(self) -> Choice:
        """Light, dark, or as the system is."""
        kept = self._text("view/colours", "system")
        return kept if kept in ("light", "dark") else "system"

    @colours.setter
    def colours(self, choice: Choice) -> None:
        self._store.setValue("view/colours", choice)

    @property
    def paper(self) -> str:
        """Paper of the handout: ``letter`` or ``a4``."""
        return "a4" if self._text("handout/paper", "letter") == "a4" else "letter"

    @paper.setter
    def paper(self, paper: str) -> None:
        self._store.setValue("handout/paper", paper)

    @property
    def space_shown(self) -> bool:
        """Whether the 3-D view is open."""
        return self._text("space/shown", "no") == "yes"

    @space_shown.setter
    def space_shown(self, on: bool) -> None:
        self._store.setValue("space/shown", "yes" if on else "no")

    @property
    def space_layers(self) -> tuple[Layer, ...]:
        """What the 3-D view shows; all but the sheets at first."""
        kept = self._text("space/layers", "planes members walls").split()
        return tuple(layer for layer in LAYERS if layer in kept)

    @space_layers.setter
    def space_layers(self, layers: tuple[Layer, ...]) -> None:
        # A dash stands for none: an empty text would be read as nothing kept.
        self._store.setValue("space/layers", " ".join(layers) or "-")

    @property
    def space_width(self) -> int:
        """How wide the 3-D view is beside the drawing, pixels."""
        kept = self._text("space/width", "")
        return int(kept) if kept.isdigit() else FIRST_WIDTH

    @space_width.setter
    def space_width(self, width: int) -> None:
        self._store.setValue("space/width", str(width))

    @property
    def space_look(self) -> tuple[float, float]:
        """Azimuth and elevation that the 3-D view is looked at from, degrees."""
        kept = self._text("space/look", "").split()
        try:
            azimuth, elevation = (float(each) for each in kept)
        except ValueError:
            return HOME_DEG
        return (azimuth, elevation) if abs(azimuth) <= 360.0 and abs(elevation) <= 90.0 else HOME_DEG

    @space_look.setter
    def space_look(self, look: tuple[float, float]) -> None:
        self._store.setValue("space/look", f"{look[0]:.2f} {look[1]:.2f}")

    def layout(self, name: str) -> QByteArray | None:
        """A part of the window's shape as kept by this version, or None."""
        if self._text("layout/version", "") != str(LAYOUT_VERSION):
            return None
        kept = self._store.value(f"layout/{name}")
        return kept if isinstance(kept, QByteArray) and not kept.isEmpty() else None

    def keep_layout(self, name: str, state: QByteArray) -> None:
        """Keep a part of the window's shape."""
        self._store.setValue("layout/version", str(LAYOUT_VERSION))
        self._store.setValue(f"layout/{name}", state)

    def forget_layout(self) -> None:
        """Forget the window's shape."""
        self._store.remove("layout")

    def sync(self) -> None:
        """Write what is not written yet."""
        self._store.sync()

    def _text(self, key: str, default: str) -> str:
        return str(self._store.value(key, default))
