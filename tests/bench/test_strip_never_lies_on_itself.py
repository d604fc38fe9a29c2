"""The numbers of the section strip never lie on one another, however narrow the window is made."""

from __future__ import annotations

from itertools import combinations

import pytest

from workbench.bench.strip.widget import SectionStrip
from workbench.resources import sample_job_path


@pytest.mark.parametrize("size", [(960, 640), (1366, 768), (1600, 1000)])
@pytest.mark.parametrize("name", ["small-house", "vaulted-room"])
def test_numbers_keep_apart(window, qtbot, size, name) -> None:
    window.files.open_sample(sample_job_path(f"{name}.json"))
    window.show()
    window.resize(*size)
    qtbot.wait(1)
    strip = window.findChild(SectionStrip)
    shown = [box for box in strip.boxes.values() if box.isVisible()]
    assert len(shown) >= 6
    for one, other in combinations(shown, 2):
        assert not one.geometry().intersects(other.geometry()), (one.name, other.name)
    for box in shown:
        assert strip.view.rect().contains(box.geometry()), box.name


def test_with_the_3d_view_beside_it_the_window_keeps_the_width_that_all_parts_need(window, qtbot) -> None:
    window.files.open_sample(sample_job_path("small-house.json"))
    window.show()
    without = window.minimumWidth()
    window.space.show()
    qtbot.wait(1)
    window.resize(640, 640)
    strip = window.findChild(SectionStrip)
    if window.space.isVisible() and not window.space.isFloating():
        assert window.minimumWidth() > without - 1
        right = window.mapFromGlobal(window.side.mapToGlobal(window.side.rect().topRight())).x()
        assert right <= window.width()
    assert strip.width() >= strip.minimumWidth()
