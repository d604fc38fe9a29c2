"""``export``: one file, its format told by its ending."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from types import MappingProxyType

from workbench.errors import BadInput
from workbench.exchange.dxf import dxf_bytes
from workbench.exchange.ifc import ifc_bytes
from workbench.exchange.picture import png_bytes, svg_bytes
from workbench.exchange.tables import csv_bytes, xlsx_bytes
from workbench.job.write import write_bytes
from workbench.plan import Plan

_WRITERS: Mapping[str, Callable[[Plan], bytes]] = MappingProxyType(
    {"dxf": dxf_bytes, "ifc": ifc_bytes, "svg": svg_bytes, "png": png_bytes, "csv": csv_bytes, "xlsx": xlsx_bytes}
)
ENDINGS: tuple[str, ...] = tuple(_WRITERS)
"""What a file may end in."""


def write_export(plan: Plan, path: Path) -> None:
    """Write the plan in the format that the file's ending names.

    Raises:
        BadInput: The ending is not known, a library is missing, or there is nothing to export.
        JobError: The file can't be written; an older one is untouched.
    """
    write_bytes(path, writer_for(path)(plan))


def writer_for(path: Path) -> Callable[[Plan], bytes]:
    """What makes the bytes of a file of this ending.

    Raises:
        BadInput: The ending is not known.
    """
    writer = _WRITERS.get(path.suffix.lower().removeprefix("."))
    if writer is None:
        msg = f'"{path.name}" ends in none of {", ".join(f".{ending}" for ending in ENDINGS)}; choose one of these.'
        raise BadInput(msg)
    return writer
