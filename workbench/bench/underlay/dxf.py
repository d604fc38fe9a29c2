"""Lines of a DXF file's model space as one path; only this module needs the DXF library."""

from __future__ import annotations

from pathlib import Path

import ezdxf
from ezdxf import disassemble, recover
from PySide6.QtGui import QPainterPath

from workbench.errors import BadInput

_FLATTEN = 0.01  # of the drawing's size


def dxf_lines(path: Path, most: int) -> tuple[QPainterPath, int]:
    """The lines and curves of the model space, curves as short lines, and the number of the file's unit.

    Raises:
        BadInput: It can't be read, or holds more than ``most`` lines.
    """
    try:
        document, _ = recover.readfile(str(path))
    except (ezdxf.DXFError, OSError, UnicodeError) as error:
        msg = f"{path.name} can't be read as DXF ({error}); choose another file, or save the plan as PDF."
        raise BadInput(msg) from None
    drawn = QPainterPath()
    entities = disassemble.recursive_decompose(document.modelspace())
    for primitive in disassemble.to_primitives(entities, max_flattening_distance=_FLATTEN):
        if primitive.is_empty or primitive.entity.dxftype() in {"TEXT", "MTEXT", "ATTRIB", "HATCH"}:
            continue
        points = [(vertex.x, vertex.y) for vertex in primitive.vertices()]
        if len(points) < 2:
            continue
        drawn.moveTo(*points[0])
        for point in points[1:]:
            drawn.lineTo(*point)
        if drawn.elementCount() > most:
            msg = f"{path.name} holds more than {most:,} lines; save only the plan's own layers, or a PDF of it."
            raise BadInput(msg)
    return drawn, int(document.header.get("$INSUNITS", 0))
