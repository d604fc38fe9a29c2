"""One at a time: the library that draws PDF pages may not be used by two threads at once."""

from __future__ import annotations

import threading

PDFIUM = threading.RLock()
"""Held by whoever opens, draws or closes a PDF; without it two threads end the process."""
