"""File ▸ Export: the file is written off to the side, and what goes wrong is one sentence over the drawing."""

from __future__ import annotations

from pathlib import Path

import ezdxf

from workbench.bench.exporting import FORMAT_WORDS, export_filter
from workbench.exchange import ENDINGS


def test_every_format_can_be_chosen() -> None:
    assert set(FORMAT_WORDS) == set(ENDINGS)
    assert export_filter().count("(*.") == len(ENDINGS)


def test_the_job_on_show_is_written(qtbot, window, dialogs, small_house: Path, tmp_path: Path) -> None:
    window.files.open_path(small_house)
    dialogs.export_path = tmp_path / "roof.dxf"
    with qtbot.waitSignal(window.exporter.noted, check_params_cb=lambda said: said.startswith("Written")):
        window.menus.actions["export"].trigger()
    faces = ezdxf.readfile(dialogs.export_path).modelspace().query("3DFACE")
    assert len(faces) >= len(window.document.plan.roof.planes)
    assert dialogs.asked[-1] == "export small-house.dxf"


def test_what_can_not_be_written_is_said_and_the_old_file_stays(
    qtbot, window, dialogs, small_house: Path, tmp_path: Path
) -> None:
    window.files.open_path(small_house)
    dialogs.export_path = tmp_path / "nowhere" / "roof.svg"
    with qtbot.waitSignal(window.exporter.warned):
        window.exporter.export()
    assert "can't be written" in window.message.text


def test_no_file_chosen_writes_nothing(window, dialogs, tmp_path: Path) -> None:
    dialogs.export_path = None
    window.exporter.export()
    assert dialogs.asked == ["export Untitled roof.dxf"]
