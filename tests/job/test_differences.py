"""What differs between two jobs, in words."""

from __future__ import annotations

from msgspec.structs import replace

from workbench.job.differences import differences
from workbench.job.model import Edge, Job, Sheathing, Wing


def _wing(name: str, slope_in_12: float = 7.0) -> Wing:
    edges = tuple(Edge(id=f"e{i}", kind="eave") for i in range(3))
    return Wing(id=name.lower(), name=name, outline=((0, 0), (9, 0), (0, 9)), edges=edges, slope_in_12=slope_in_12)


def test_equal_jobs_do_not_differ() -> None:
    assert differences(Job(wings=(_wing("Main"),)), Job(wings=(_wing("Main"),))) == ()


def test_every_kind_of_change_is_named() -> None:
    older = Job(wings=(_wing("Main"), _wing("Shed")))
    newer = Job(wings=(_wing("Main", 6.0), _wing("Porch")), name="New", sheathing=Sheathing(gap_in=0.0))
    assert differences(older, newer) == (
        'wing "Porch" added',
        'wing "Shed" taken away',
        'wing "Main" changed',
        "the name",
        "the sheathing",
    )


def test_order_alone_is_named() -> None:
    job = Job(wings=(_wing("Main"), _wing("Shed")))
    assert differences(job, replace(job, wings=job.wings[::-1])) == ("the order of the wings",)
