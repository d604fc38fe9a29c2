"""Several wings as one roof.

Every wing is raised over its own outline. Here the wings of a group whose bounding boxes overlap are laid over one
another: all lines along which anything can change cut the plan into cells, over each cell it is settled which planes
stay (``pairs.py``), and what stays is put together again as planes with edges by kind.

Method: upper envelope of the wings' planes, cell by cell, on a noded subdivision; common practice decides what an
overhang leaves standing below it (no source).
"""

from __future__ import annotations

from workbench.roof.joining.footprints import footprint, opening_axes
from workbench.roof.joining.join import Joined, join_wings

__all__ = ["Joined", "footprint", "join_wings", "opening_axes"]
