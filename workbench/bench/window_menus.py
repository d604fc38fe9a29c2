"""What stands in the window's menus, and in which order."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QUrl
from PySide6.QtGui import QDesktopServices, QKeySequence

from workbench.bench.crash import log_path
from workbench.bench.selected import selected_plane
from workbench.bench.surface.menu import all_eaves
from workbench.bench.surface.tools.base import wing_of

if TYPE_CHECKING:
    from workbench.bench.window import Window

_STD = QKeySequence.StandardKey


def fill_menus(window: Window) -> None:
    """Put every action of the window into its menu."""
    _fill_file(window)
    _fill_edit(window)
    _fill_draw(window)
    _fill_view(window)
    menus, add = window.menus, window.menus.add
    add(menus.help, "shortcuts", "&Shortcuts", "F1", window.show_shortcuts, "Every key of the window on one sheet")
    add(menus.help, "log", "Open the &log folder", None, _open_log_folder, "Where the program writes what went wrong")


def _fill_file(window: Window) -> None:
    menus, add, files = window.menus, window.menus.add, window.files
    add(menus.file, "new", "&New", _STD.New, files.new, "Begin an empty job")
    add(menus.file, "open", "&Open…", _STD.Open, files.open, "Open a job file")
    menus.file.addMenu(menus.recent)
    menus.file.addMenu(menus.samples)
    add(
        menus.file,
        "recover",
        "Reco&ver unsaved work…",
        None,
        files.offer_recovery,
        "What an ended program left",
    )
    menus.file.addSeparator()
    add(menus.file, "save", "&Save", _STD.Save, files.save, "Save the job to its file")
    add(
        menus.file,
        "save as",
        "Save &as…",
        _STD.SaveAs,
        files.save_as,
        "Save to another file; the old one stays",
    )
    menus.file.addSeparator()
    add(menus.file, "handout", "&Handout…", _STD.Print, window.show_handout, "Preview, print or save the handout")
    tip = "Record the handout as gone out: the next one lists what changed since"
    add(menus.file, "issue", "&Issue a revision", None, window.issue_revision, tip)
    add(menus.file, "export", "&Export…", "Ctrl+E", window.exporter.export, "Drawing, building model, picture, tables")
    menus.file.addSeparator()
    add(menus.file, "quit", "&Quit", _STD.Quit, window.close, "Close the window; unsaved work is asked about")
    for sample in window.samples:
        action = menus.samples.addAction(sample.title)
        action.setStatusTip("Open a copy of this sample; the sample itself stays")
        action.triggered.connect(lambda _=False, path=sample.path: files.open_sample(path))


def _fill_edit(window: Window) -> None:
    menus, add = window.menus, window.menus.add
    add(menus.edit, "undo", "&Undo", _STD.Undo, window.history.undo, "Take the last step back and show what it changed")
    add(menus.edit, "redo", "&Redo", _STD.Redo, window.history.redo, "Make the step again")
    menus.edit.addSeparator()
    add(menus.edit, "job", "&Job, date and revision", "Ctrl+J", window.show_job, "What is printed on every page")
    menus.add_units(window.choose_units)
    menus.edit.addMenu(menus.units)
    window.status.set_units_menu(menus.units)
    menus.edit.addSeparator()
    tip = "Search longer than while drawing; the window goes on meanwhile"
    add(menus.edit, "fewest", "Look for fewest &sheets", "Ctrl+L", window.look_for_fewest, tip)
    tip = "Compare every way to rip, split, stagger and start the rows"
    add(menus.edit, "best", "&Best for me", "Ctrl+Shift+L", window.compare_choices, tip)
    add(menus.edit, "stop search", "S&top looking", None, window.search.cancel, "Use the best found so far")


def _fill_draw(window: Window) -> None:
    menus, add = window.menus, window.menus.add
    menus.add_verbs(window.start_tool)
    menus.draw.addSeparator()
    tip = "A PDF page, a picture, or the lines of a DXF file, to trace the roof from"
    add(menus.draw, "lay page", "Lay a plan page &below…", None, lambda: window.tracing.ask(), tip)
    add(
        menus.draw,
        "all eaves",
        "Make &all edges eaves",
        None,
        lambda: _make_all_eaves(window),
        "A hip roof over the wing",
    )


def _fill_view(window: Window) -> None:
    menus, add, surface = window.menus, window.menus.add, window.surface
    menus.add_stages(window.show_stage)
    add(menus.view, "next stage", "&Next stage", "Ctrl+PgDown", window.next_stage, "On in the order of work")
    add(
        menus.view,
        "previous stage",
        "&Previous stage",
        "Ctrl+PgUp",
        window.previous_stage,
        "Back in the order of work",
    )
    menus.view.addSeparator()
    add(menus.view, "next part", "Next par&t of the window", "F6", window.next_part, "Drawing, section, right side")
    add(menus.view, "findings", "&Findings", "F8", window.show_findings, "What is wrong or worth knowing")
    menus.view.addSeparator()
    add(menus.view, "zoom in", "Zoom &in", _STD.ZoomIn, surface.zoom_in, "Draw the roof larger")
    add(menus.view, "zoom out", "Zoom &out", _STD.ZoomOut, surface.zoom_out, "Draw the roof smaller")
    add(menus.view, "fit", "Show the &whole roof", "Ctrl+0", surface.fit, "Zoom so that all of the roof is in sight")
    tip = "The house in space, beside the drawing"
    add(menus.view, "space", "3-&D view", "Ctrl+D", window.space.toggle, tip).setCheckable(True)
    menus.view.addSeparator()
    menus.add_colours(window.choose_colours)
    menus.view.addMenu(menus.colours)
    add(
        menus.view,
        "reset",
        "Reset the &layout",
        None,
        window.reset_layout,
        "The window's parts as at first",
    )


def _make_all_eaves(window: Window) -> None:
    """Make every edge of the selected wing an eave."""
    document, selection = window.document, window.selection
    plane, wing = selected_plane(document.plan, selection), wing_of(document.job, selection.key)
    found = wing.id if wing is not None else plane.wing if plane is not None else ""
    if found:
        all_eaves(document, found)


def _open_log_folder() -> None:
    QDesktopServices.openUrl(QUrl.fromLocalFile(str(log_path().parent)))
