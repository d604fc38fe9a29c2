"""The one door to the files shipped with the program: rule tables, fonts, icons, sample jobs.

An installed copy carries them inside the package; a checkout keeps them beside it. Nothing else in the program builds a
path to them.
"""

from __future__ import annotations

from pathlib import Path, PurePosixPath, PureWindowsPath

_PACKAGE = Path(__file__).resolve().parent
_RESOURCES = ("_resources", "resources")
_SAMPLE_JOBS = ("_sample_jobs", "sample_jobs")


def resource_path(*parts: str) -> Path:
    """Path of a shipped file or folder, such as ``resource_path("fonts", "DejaVuSans.ttf")``.

    Raises:
        ValueError: A part is absolute or leads out of the folder.
        FileNotFoundError: There is no such file.
    """
    return _find(_RESOURCES, parts)


def resource_text(*parts: str) -> str:
    """Text of a shipped UTF-8 file, such as ``resource_text("rules", "nailing.json")``.

    Raises:
        ValueError: A part is absolute or leads out of the folder.
        FileNotFoundError: There is no such file.
    """
    return resource_path(*parts).read_text(encoding="utf-8")


def sample_job_path(*parts: str) -> Path:
    """Path of a sample job, or of their folder when no part is given.

    Raises:
        ValueError: A part is absolute or leads out of the folder.
        FileNotFoundError: There is no such file.
    """
    return _find(_SAMPLE_JOBS, parts)


def sample_jobs() -> tuple[Path, ...]:
    """Every sample job, by file name."""
    return tuple(sorted(sample_job_path().glob("*.json")))


def _find(folders: tuple[str, str], parts: tuple[str, ...]) -> Path:
    packed, beside = _PACKAGE / folders[0], _PACKAGE.parent / folders[1]
    base = packed if packed.is_dir() else beside
    for part in parts:
        _refuse_outside(part)
    path = base.joinpath(*parts)
    if not path.exists():
        raise FileNotFoundError(f"The program's file {'/'.join((folders[1], *parts))} is missing; install it again.")
    return path


def _refuse_outside(part: str) -> None:
    # Both readings, so that a name means the same on every system.
    for reading in (PurePosixPath(part), PureWindowsPath(part)):
        if reading.is_absolute() or reading.anchor or ".." in reading.parts:
            raise ValueError(f"{part!r} leads out of the program's own files.")
