"""OpenCV and NumPy, loaded only where a photo is measured, and what to say where they are absent.

Measuring is an extra: everything else works without it. The import takes a fifth of a second, so
it happens in the functions that need it and never when this module loads.
"""

from __future__ import annotations

from importlib import import_module, util

INSTALL = 'pip install "claimkit[measure]"'


def available() -> str | None:
    """Give None where photos can be measured, else the sentence that says what to install."""
    missing = [name for name, module in (("OpenCV", "cv2"), ("NumPy", "numpy")) if not has(module)]
    if not missing:
        return None
    return (
        f"Gaps in photos are not measured: {' and '.join(missing)} "
        f"{'is' if len(missing) == 1 else 'are'} not installed. Install with: {INSTALL}"
    )


def has(module: str) -> bool:
    """Tell whether a module could be imported, without importing it."""
    try:
        return util.find_spec(module) is not None
    except (ImportError, ValueError):
        return False


class CannotMeasure(Exception):
    """The libraries that measure are absent. `reason` is the sentence to show."""

    def __init__(self, reason: str) -> None:
        super().__init__(reason)
        self.reason = reason


def needed() -> None:
    """Raise CannotMeasure where photos cannot be measured here."""
    reason = available()
    if reason:
        raise CannotMeasure(reason)


def load() -> None:
    """Load both libraries, before threads that measure are started.

    OpenCV takes itself out of the list of modules while it loads: a thread that asks for it
    meanwhile finds it absent, or begins a second load.
    """
    needed()
    for module in ("numpy", "cv2"):
        import_module(module)
