"""A scan or photo of the receipt: linked to the record, and read by machine where that can be.

A picture that lies outside the job folder is copied into documents/, byte for byte. What a machine
reads in it is a suggestion to a person, often wrong and always to be compared with the paper.
"""

from __future__ import annotations

import hashlib
import io
import re
import shutil
import subprocess
from contextlib import suppress
from dataclasses import dataclass
from itertools import count
from pathlib import Path

from claimkit.intake.disk import Disk, RealDisk, put
from claimkit.intake.entries.record_file import Kept, in_folder
from claimkit.intake.metadata.photo import read_bytes
from claimkit.intake.paths import shown
from claimkit.intake.refused import reason_of
from claimkit.intake.writer import is_device
from claimkit.model.photo import Photo
from claimkit.model.stop import CannotGoOn

FOLDER = "documents"
READER = "tesseract"
_LONGEST, _ENDING = 120, 20  # bytes; systems take 255, and a number or .tmp may follow
_SECONDS = 60
_LONG_SIDE_PX = 3000  # letters of a receipt are still 20 px high; larger pictures only take longer


@dataclass(frozen=True, slots=True)
class Linked:
    """A file that a record names, by its path in the job folder.

    `data` are its bytes where it has to be copied there first.
    """

    path: str
    data: bytes | None = None


def linked(there: Kept, typed: str, disk: Disk | None = None) -> Linked:
    """Find a file that was typed, in the job folder or elsewhere. Writes nothing.

    Raises CannotGoOn where there is no such file.
    """
    disk = disk or RealDisk()
    inside = in_folder(there, typed)
    if inside in there.paths:
        return Linked(inside)
    source = Path(typed).expanduser()
    try:
        data = disk.read(source).data
    except OSError as error:
        raise CannotGoOn(
            f"{shown(typed)} cannot be read ({reason_of(error)}). Give a file of the job folder, "
            "or of this computer."
        ) from error
    name, there_already = _place(there.root / FOLDER, source.name, data, disk)
    return Linked(f"{FOLDER}/{name}", None if there_already else data)


def copy_in(there: Kept, file: Linked, disk: Disk | None = None) -> None:
    """Copy a linked file into the job folder, byte for byte, where it is not there yet.

    Raises CannotGoOn where the disk refuses.
    """
    if file.data is None:
        return
    disk = disk or RealDisk()
    try:
        disk.make_folder(there.root / FOLDER)
        put(disk, there.root / file.path, file.data)
    except OSError as error:
        raise CannotGoOn(
            f"{shown(file.path)} cannot be written ({reason_of(error)}). Copy the file into the "
            "job folder and name it there."
        ) from error


def _place(folder: Path, name: str, data: bytes, disk: Disk) -> tuple[str, bool]:
    """Give a free name in a folder, or that of a file of the same bytes, and whether it is one."""
    plain = everywhere(name)
    stem, suffix = Path(plain).stem, Path(plain).suffix
    wanted = hashlib.sha256(data).digest()
    for number in count(1):
        name = plain if number == 1 else f"{stem}-{number}{suffix}"
        if disk.look(folder / name) is None:
            return name, False
        with suppress(OSError):  # a folder or link of that name: the next name
            if hashlib.sha256(disk.read(folder / name).data).digest() == wanted:
                return name, True
    raise AssertionError("names do not end")


def everywhere(name: str) -> str:
    """Give a file's name as every system takes it.

    Characters that some system refuses, or that turn the reading direction, become hyphens; the
    name of a device gets one in front; what Windows cuts off is cut off; at most 120 bytes stay.
    """
    plain = re.sub(r'[\\/:*?"<>|\x00-\x1f]', "-", shown(name)).lstrip(".~ ").rstrip(". ")
    stem, suffix = Path(plain).stem, Path(plain).suffix
    if is_device(plain.partition(".")[0].rstrip(" ")):
        stem = f"-{stem}"
    suffix = _cut(suffix, _ENDING)
    stem = _cut(stem, _LONGEST - len(suffix.encode("utf-8"))).rstrip(". ")
    return f"{stem}{suffix}".rstrip(". ") or "receipt"


def _cut(text: str, most: int) -> str:
    return text.encode("utf-8")[:most].decode("utf-8", "ignore")


class NotRead(Exception):
    """Nothing was read in a file; `reason` is a sentence."""

    def __init__(self, reason: str) -> None:
        super().__init__(reason)
        self.reason = reason


def can_recognise() -> bool:
    """Tell whether the program that reads pictures is installed."""
    return shutil.which(READER) is not None


def recognised(path: Path) -> str:
    """Give the text that the installed program reads in a picture, its lines without empty ones.

    Raises NotRead where there is none: no program, no picture, nothing read. A PDF is not read.
    """
    program = shutil.which(READER)
    if program is None:
        raise NotRead(f"{READER} is not installed.")
    try:
        data = path.read_bytes()
    except OSError as error:
        raise NotRead(f"the file cannot be read: {reason_of(error)}.") from error
    photo = read_bytes(data, path.name)
    if not isinstance(photo, Photo):
        raise NotRead("only pictures are read by machine.")
    picture = _upright(data, photo)
    try:
        run = subprocess.run(  # noqa: S603 - the installed program, without a shell
            [program, "stdin", "stdout"],
            input=picture,
            capture_output=True,
            timeout=_SECONDS,
            check=False,
        )
    except subprocess.TimeoutExpired as error:
        raise NotRead(f"{READER} took longer than {_SECONDS} s.") from error
    except OSError as error:
        raise NotRead(f"{READER} could not be run: {reason_of(error)}.") from error
    text = run.stdout.decode("utf-8", "replace").replace("\f", "\n")
    lines = [" ".join(line.split()) for line in text.splitlines()]
    read = "\n".join(line for line in lines if line)
    if run.returncode or not read:
        raise NotRead(f"{READER} read nothing in it.")
    return read


def _upright(data: bytes, photo: Photo) -> bytes:
    """Give the picture turned upright as PNG, which the reader takes. Raises NotRead."""
    from PIL import Image

    from claimkit.pixels.scale import PictureNotDrawn, scaled_jpeg

    try:
        jpeg = scaled_jpeg(
            data,
            long_side_px=_LONG_SIDE_PX,
            quality=95,
            orientation=photo.orientation,
            upright_when_decoded=photo.upright_when_decoded,
        )
    except PictureNotDrawn as error:
        raise NotRead(error.reason) from error
    out = io.BytesIO()
    Image.open(io.BytesIO(jpeg)).save(out, "PNG")
    return out.getvalue()
