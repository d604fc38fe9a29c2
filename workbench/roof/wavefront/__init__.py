"""A roof over one outline: every edge's plane climbs inward until the planes meet.

At height z each outline edge is a straight line in plan, moved inward by its own run per rise; the *front* is the
polygon these lines leave open. Where it passes, it leaves the faces of the roof behind. The front moves from one
event to the next (an edge used up, an inside corner meeting an edge, a raised eave or a change of slope reached);
after each event it is noded and traced anew, so that any number of simultaneous events is one clean-up and needs no
cases of its own.

Lengths in inches, plan x right and y up, z up. Edges and corners are numbered from 0 in values and from 1 in texts.
Method: straight skeleton with a start height per edge and a weight that may change with the height. Sources:
Aichholzer, Aurenhammer, Alberts and Gärtner, J.UCS 1(12), 1995; Eppstein and Erickson, Discrete & Computational
Geometry 22, 1999; Kelly and Wonka, ACM TOG 30(2), 2011 (all from memory).
"""

from __future__ import annotations

from workbench.roof.wavefront.outline import check_outline
from workbench.roof.wavefront.result import Break, Face, FaceSide, FrontEdge, Raised, Takeover
from workbench.roof.wavefront.solve import raise_roof

__all__ = ["Break", "Face", "FaceSide", "FrontEdge", "Raised", "Takeover", "check_outline", "raise_roof"]
