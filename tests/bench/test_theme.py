"""The two schemes: contrast that can be read, and colours that really change."""

from __future__ import annotations

import pytest
from PySide6.QtGui import QColor, QFontInfo, QGuiApplication, QPalette

from workbench.bench import theme
from workbench.bench.theme import SCHEMES, Scheme


def _luminance(colour: str) -> float:
    """Relative luminance, WCAG 2.2, "relative luminance" (from memory)."""
    parts = [channel / 255 for channel in QColor(colour).getRgb()[:3]]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _contrast(one: str, other: str) -> float:
    """Contrast ratio, WCAG 2.2, "contrast ratio" (from memory)."""
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_contrast_measure_knows_black_on_white() -> None:
    # WCAG 2.2: black on white is 21:1, the greatest there is.
    assert _contrast("#000000", "#ffffff") == pytest.approx(21.0)


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("ground", ["paper", "panel", "accent_soft", "sheet"])
@pytest.mark.parametrize("text", ["ink", "warning", "accent", "quiet"])
def test_text_can_be_read_on_every_ground(scheme: Scheme, ground: str, text: str) -> None:
    colours = SCHEMES[scheme]
    # WCAG 2.2 criterion 1.4.3: 4.5:1 for text.
    assert _contrast(getattr(colours, text), getattr(colours, ground)) >= 4.5


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_text_on_the_accent_can_be_read(scheme: Scheme) -> None:
    colours = SCHEMES[scheme]
    assert _contrast(colours.on_accent, colours.accent) >= 4.5


def test_choosing_a_scheme_dresses_the_application_and_tells(qtbot) -> None:
    with qtbot.waitSignal(theme.current().changed):
        theme.current().choose("dark")
    assert theme.current().ink == QColor(SCHEMES["dark"].ink)
    window = QGuiApplication.palette().color(QPalette.ColorRole.Window)
    assert window == QColor(SCHEMES["dark"].panel)


def test_the_project_s_own_font_is_the_one_in_use(qapp) -> None:
    assert QFontInfo(qapp.font()).family() == theme.FONT_FAMILY


def test_no_placeholder_is_left_in_the_style_sheet(qapp) -> None:
    assert "@" not in qapp.styleSheet()
