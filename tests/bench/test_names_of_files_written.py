"""What the save dialogs make of a typed name: the right ending, and no file lost that nobody was asked about."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtWidgets import QFileDialog

from workbench.bench.dialogs import Dialogs

FORMATS = "Drawing (*.dxf);;Roof plan (*.svg);;Table (*.csv)"


@pytest.fixture
def typed(monkeypatch, qapp):
    """Dialogs that answer with a name, and say no to replacing."""

    def ask(name: Path | str, chosen: str = FORMATS.split(";;")[0]) -> Dialogs:
        monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(name), chosen))
        dialogs = Dialogs()
        monkeypatch.setattr(dialogs, "ask_replace", lambda path: False)
        return dialogs

    return ask


@pytest.mark.parametrize(
    ("name", "job", "pdf"),
    [
        ("house", "house.json", "house.pdf"),
        ("house 1.2", "house 1.2.json", "house 1.2.pdf"),
        ("Lot No. 3", "Lot No. 3.json", "Lot No. 3.pdf"),
        ("house.JSON", "house.JSON", "house.JSON.pdf"),
        ("house.pdf", "house.pdf.json", "house.pdf"),
    ],
)
def test_a_dot_in_a_name_makes_no_ending(typed, tmp_path: Path, name: str, job: str, pdf: str) -> None:
    dialogs = typed(tmp_path / name)
    assert dialogs.ask_save(tmp_path) == tmp_path / job
    assert dialogs.ask_pdf(tmp_path) == tmp_path / pdf


def test_an_export_may_have_the_ending_of_any_format(typed, tmp_path: Path) -> None:
    assert typed(tmp_path / "a.svg").ask_export(tmp_path, FORMATS) == tmp_path / "a.svg"
    assert typed(tmp_path / "a.json").ask_export(tmp_path, FORMATS) == tmp_path / "a.json.dxf"
    assert typed(tmp_path / "a", "Table (*.csv)").ask_export(tmp_path, FORMATS) == tmp_path / "a.csv"


def test_a_file_met_by_the_ending_alone_is_asked_about(typed, tmp_path: Path) -> None:
    (tmp_path / "house.json").write_text("{}", encoding="utf-8")
    assert typed(tmp_path / "house").ask_save(tmp_path) is None
    assert typed(tmp_path / "house.json").ask_save(tmp_path) == tmp_path / "house.json"  # the dialog itself asked


def test_no_name_is_no_file(typed, tmp_path: Path) -> None:
    assert typed("").ask_save(tmp_path) is None
