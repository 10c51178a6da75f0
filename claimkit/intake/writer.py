"""Who writes a custody log: a short name for each computer, so that no two append to one file.

The name is made at random once and kept in the user's data folder; CLAIMKIT_WRITER or an argument
sets another. Copying that folder to a new computer carries the log on. Two computers that use one
copied name at the same time cannot be told apart by it: what shows it is the conflict copy that
a synced folder then makes of their log, which is named.
"""

from __future__ import annotations

import getpass
import hashlib
import os
import platform
import re
import secrets
from pathlib import Path

from claimkit.intake.disk import Disk, put
from claimkit.intake.places import data_folder
from claimkit.model.stop import CannotGoOn

_NAME = re.compile(r"[a-z0-9][a-z0-9_-]{0,39}")
# Names that Windows keeps for devices, whatever the ending (Microsoft, Naming Files).
_DEVICES = re.compile(r"con|prn|aux|nul|com\d|lpt\d|com[¹²³]|lpt[¹²³]|conin\$|conout\$")
_FILE = "writer"


def is_device(name: str) -> bool:
    """Tell whether Windows keeps a name, taken without its ending, for a device."""
    return bool(_DEVICES.fullmatch(name.casefold()))


def is_writer(name: str) -> bool:
    """Tell whether a name can be that of a writer: small letters, digits, - and _, at most 40."""
    return bool(_NAME.fullmatch(name)) and not _DEVICES.fullmatch(name)


def writer_name(given: str | None, disk: Disk, folder: Path | None = None) -> str:
    """Give the name under which this computer writes custody logs.

    An argument comes first, then CLAIMKIT_WRITER, then the name kept in `folder` (the user's data
    folder), which is made where there is none. Where it cannot be kept, the name follows from the
    computer's and the user's name, so that it stays the same. Raises CannotGoOn for a name that
    cannot serve.
    """
    asked = given or os.environ.get("CLAIMKIT_WRITER")
    if asked:
        if not is_writer(asked):
            raise CannotGoOn(
                f"{asked!r} cannot name a custody log. Set CLAIMKIT_WRITER to small letters, "
                "digits, - and _, at most 40, such as office-1."
            )
        return asked
    try:
        return _kept(disk, folder or data_folder())
    except OSError:
        return _derived()


def _kept(disk: Disk, folder: Path) -> str:
    file = folder / _FILE
    if disk.look(file):
        name = disk.read(file).data.decode("utf-8", "replace").strip()
        if is_writer(name):
            return name
    name = secrets.token_hex(4)
    disk.make_folder(folder)
    put(disk, file, f"{name}\n".encode())
    return name


def _derived() -> str:
    try:
        user = getpass.getuser()
    except (OSError, KeyError, ImportError):  # a user without a name, as in a container
        user = ""
    return "h" + hashlib.sha256(f"{platform.node()}/{user}".encode()).hexdigest()[:8]
