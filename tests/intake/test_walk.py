"""What the walk takes, what it names and leaves, and that it never leaves the folder or loops.

The names of left files are common practice of operating systems and synced folders, no source.
"""

from __future__ import annotations

import os
import socket
import sys
import tempfile
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from claimkit.intake.disk import RealDisk
from claimkit.intake.entry import Entry
from claimkit.intake.paths import on_disk, same_name, shown
from claimkit.intake.walk import Found, walk

posix = pytest.mark.skipif(sys.platform == "win32", reason="needs POSIX file names and links")


def put(root: Path, *paths: str) -> Path:
    for path in paths:
        (root / path).parent.mkdir(parents=True, exist_ok=True)
        (root / path).write_bytes(path.encode("utf-8", "surrogateescape"))
    return root.resolve()


def paths(found: Found) -> list[str]:
    return [file.path for file in found.files]


def left(found: Found) -> dict[str, str]:
    return {one.path: one.reason for one in found.not_taken}


def test_takes_files_at_every_place_and_depth(tmp_path: Path) -> None:
    names = [
        "documents/bill.pdf",
        "job.toml",
        "loose.jpg",
        "photos/a/b/c/IMG_1.HEIC",
        "photos/IMG_2.jpg",
        "records/delivery.toml",
        "records/later/note.toml.txt",
        "something else/x.bin",
    ]
    root = put(tmp_path, *names, "out/packet.pdf", "custody/w.jsonl", "custody/w.torn-1")
    found = walk(root, RealDisk())
    assert paths(found) == sorted(names)
    assert found.not_taken == ()
    assert found.unread == ()


def test_a_file_has_the_size_and_time_the_disk_gives(tmp_path: Path) -> None:
    root = put(tmp_path, "photos/a.jpg")
    os.utime(root / "photos/a.jpg", ns=(1_000, 1_714_000_000_123_456_700))
    (file,) = walk(root, RealDisk()).files
    assert file.stamp.size == len("photos/a.jpg")
    assert file.stamp.mtime_ns == (root / "photos/a.jpg").stat().st_mtime_ns
    assert file.where.read_bytes() == b"photos/a.jpg"


@pytest.mark.parametrize(
    "name, says",
    [
        (".DS_Store", "operating system"),
        ("Thumbs.db", "operating system"),
        ("THUMBS.DB", "operating system"),  # the case of such names differs between disks
        ("desktop.ini", "operating system"),
        ("._IMG_1.jpg", "without '._'"),  # AppleDouble, RFC 1740
        (".hidden.jpg", "Hidden"),
        (".IMG_1.HEIC.cloud", "not fetched"),
        ("~$letter.docx", "temporary"),
        (".~lock.letter.odt#", "temporary"),
        ("IMG_1.jpg.part", "temporary"),
        ("IMG_1.jpg.crdownload", "temporary"),
        ("x.tmp", "temporary"),
        ("delivery.toml~", "temporary"),
        (".delivery.toml.swp", "temporary"),
        ("IMG_1 (Dana's conflicted copy 2026-05-04).jpg", "synced folder"),
        ("IMG_1 (conflicted copy).jpg", "synced folder"),
        ("IMG_1.sync-conflict-20260504-101500-ABCDEFG.jpg", "synced folder"),
        ("IMG_1 (Case Conflict 1).jpg", "synced folder"),
        ("IMG_1_conflict-20260504-101500.jpg", "synced folder"),
        ("IMG_1 [conflict].jpg", "synced folder"),
        ("IMG_1 (Konfliktkopie von Dana 2026-05-04).jpg", "synced folder"),
    ],
)
def test_names_that_are_left_alone(tmp_path: Path, name: str, says: str) -> None:
    root = put(tmp_path, f"photos/{name}", "photos/kept.jpg")
    found = walk(root, RealDisk())
    assert paths(found) == ["photos/kept.jpg"]
    assert says in left(found)[f"photos/{name}"]


@pytest.mark.parametrize(
    "name",
    [
        "IMG_1 (1).jpg",  # a second download or a second photo of that name: not a conflict
        "IMG_1 copy.jpg",
        "panel (conflict with wall).jpg",  # a user's own words
        "conflict.jpg",
        "seam-conflict-2026.jpg",
        "conflict with the driver.txt",
        "part.jpg",
        "temporary repair.jpg",
        "tmp.jpg",
        "a.tmp.jpg",
        "thumbs.jpg",
        "$20 invoice.pdf",
        "~approx.jpg",
        "backup.bak",  # may be the only copy there is
    ],
)
def test_names_that_only_look_so_are_taken(tmp_path: Path, name: str) -> None:
    root = put(tmp_path, f"photos/{name}")
    assert paths(walk(root, RealDisk())) == [f"photos/{name}"]


def test_a_hidden_folder_is_named_once_and_not_entered(tmp_path: Path) -> None:
    root = put(tmp_path, ".cache/a.jpg", ".cache/b/c.jpg", "__MACOSX/photos/._a.jpg")
    found = walk(root, RealDisk())
    assert paths(found) == []
    assert set(left(found)) == {".cache", "__MACOSX"}


def test_a_file_hidden_by_the_file_system_is_named(tmp_path: Path) -> None:
    class Hiding(RealDisk):
        """Marks each file as a Windows or Mac disk can, which this computer's cannot."""

        def scan(self, folder: Path) -> tuple[Entry, ...]:
            return tuple(
                Entry(e.name, e.kind, e.stamp, hidden=e.name == "a.jpg")
                for e in super().scan(folder)
            )

    root = put(tmp_path, "photos/a.jpg", "photos/b.jpg")
    found = walk(root, Hiding())
    assert paths(found) == ["photos/b.jpg"]
    assert "Hidden by the file system" in left(found)["photos/a.jpg"]


def test_own_folders_under_other_letters_are_named(tmp_path: Path) -> None:
    root = put(tmp_path, "Out/old.pdf", "photos/out/at the curb.jpg", "photos/custody/x.jpg")
    found = walk(root, RealDisk())
    assert paths(found) == ["photos/custody/x.jpg", "photos/out/at the curb.jpg"]
    assert "in other letters" in left(found)["Out"]


def test_a_stray_file_in_custody_is_named(tmp_path: Path) -> None:
    root = put(tmp_path, "custody/w.jsonl", "custody/receipt.jpg", "custody/.DS_Store")
    found = walk(root, RealDisk())
    assert paths(found) == []
    assert set(left(found)) == {"custody/receipt.jpg", "custody/.DS_Store"}
    assert "Move it elsewhere" in left(found)["custody/receipt.jpg"]


def test_a_file_that_has_the_name_of_an_own_folder_is_named(tmp_path: Path) -> None:
    root = put(tmp_path, "custody", "out")
    assert set(left(walk(root, RealDisk()))) == {"custody", "out"}


@posix
def test_links(tmp_path: Path) -> None:
    outside = put(tmp_path / "elsewhere", "secret.jpg")
    root = put(tmp_path / "job", "photos/a.jpg", "more/b.jpg", "out/p.pdf", "custody/w.jsonl")
    (root / "photos/to_a.jpg").symlink_to("a.jpg")
    (root / "photos/to_more").symlink_to(root / "more", target_is_directory=True)
    (root / "photos/to_out").symlink_to("../out", target_is_directory=True)
    (root / "photos/to_log").symlink_to("../custody/w.jsonl")
    (root / "photos/outside.jpg").symlink_to(outside / "secret.jpg")
    (root / "photos/outside").symlink_to(outside, target_is_directory=True)
    (root / "photos/up").symlink_to("../..", target_is_directory=True)
    (root / "photos/broken.jpg").symlink_to("nothing.jpg")
    (root / "photos/self").symlink_to("self")
    found = walk(root, RealDisk())
    assert paths(found) == [
        "more/b.jpg",
        "photos/a.jpg",
        "photos/to_a.jpg",
        "photos/to_more/b.jpg",
    ]
    reasons = left(found)
    for name in ("outside.jpg", "outside", "up"):
        assert "leads outside" in reasons[f"photos/{name}"], name
    for name in ("broken.jpg", "self"):
        assert "leads nowhere" in reasons[f"photos/{name}"], name
    for name in ("to_out", "to_log"):
        assert "claimkit's own" in reasons[f"photos/{name}"], name
    assert len(reasons) == 7


@posix
def test_links_in_a_ring_end(tmp_path: Path) -> None:
    root = put(tmp_path, "a/x.jpg", "b/y.jpg")
    (root / "a/to_b").symlink_to("../b", target_is_directory=True)
    (root / "b/to_a").symlink_to("../a", target_is_directory=True)
    (root / "a/home").symlink_to("..", target_is_directory=True)
    found = walk(root, RealDisk())
    assert {"a/x.jpg", "b/y.jpg", "a/to_b/y.jpg"} <= set(paths(found))
    assert len(paths(found)) < 10
    assert any("never end" in reason for reason in left(found).values())


@posix
def test_links_that_double_at_each_step_stay_few(tmp_path: Path) -> None:
    root = put(tmp_path, *(f"f{n}/x{n}.jpg" for n in range(20)))
    for n in range(19):
        for side in "ab":
            (root / f"f{n}/{side}").symlink_to(f"../f{n + 1}", target_is_directory=True)
    assert len(paths(walk(root, RealDisk()))) < 20 * 20  # without a stop: 2 to the 20th


@posix
def test_pipes_and_sockets_are_named_and_never_opened() -> None:
    with tempfile.TemporaryDirectory(dir="/tmp") as short:  # a socket's path is short
        root = put(Path(short), "a.jpg")
        os.mkfifo(root / "pipe.jpg")
        with socket.socket(socket.AF_UNIX) as one:
            one.bind(str(root / "sock"))
            found = walk(root, RealDisk())
        assert paths(found) == ["a.jpg"]
        assert set(left(found)) == {"pipe.jpg", "sock"}


def test_a_folder_that_cannot_be_listed_is_named(tmp_path: Path) -> None:
    class Closed(RealDisk):
        def scan(self, folder: Path) -> tuple[Entry, ...]:
            if folder.name == "closed":
                raise PermissionError(13, "Permission denied", str(folder))
            return super().scan(folder)

    root = put(tmp_path, "photos/closed/a.jpg", "photos/b.jpg")
    found = walk(root, Closed())
    assert paths(found) == ["photos/b.jpg"]
    assert [(u.path, u.why) for u in found.unread] == [("photos/closed", "Permission denied")]


@posix
@pytest.mark.skipif(sys.platform == "darwin", reason="the Mac's disk refuses such names")
def test_names_that_are_no_text_are_shown_and_found_again(tmp_path: Path) -> None:
    names = [os.fsdecode(b"photos/bad\xff.jpg"), "photos/a\nb\x1b[31m.jpg", "photos/gpj\u202exe"]
    root = put(tmp_path, *names)
    found = walk(root, RealDisk())
    assert paths(found) == [
        r"photos/a\u000ab\u001b[31m.jpg",
        r"photos/bad\xff.jpg",
        r"photos/gpj\u202exe",
    ]
    for file in found.files:
        file.path.encode("utf-8")
        assert file.path.isprintable()
        assert on_disk(root, file.path) == file.where


@posix
@pytest.mark.skipif(sys.platform == "darwin", reason="the Mac's disk refuses such names")
def test_two_names_that_show_alike_are_not_mixed(tmp_path: Path) -> None:
    root = put(tmp_path, os.fsdecode(b"bad\xff.jpg"), r"bad\xff.jpg")
    found = walk(root, RealDisk())
    assert paths(found) == [r"bad\xff.jpg"]
    assert "shows the same name" in left(found)[r"bad\xff.jpg"]
    assert on_disk(root, r"bad\xff.jpg") == found.files[0].where


def test_a_name_is_kept_as_found_and_compared_composed(tmp_path: Path) -> None:
    # U+00E9 and e + U+0301 are canonically equivalent: UAX 15, figure 3 and table 4.
    root = put(tmp_path, "photos/cafe\u0301.jpg")
    (path,) = paths(walk(root, RealDisk()))
    assert same_name(path) == same_name("photos/caf\u00e9.jpg")


def test_the_order_does_not_depend_on_the_disk(tmp_path: Path) -> None:
    class Backwards(RealDisk):
        def scan(self, folder: Path) -> tuple[Entry, ...]:
            return tuple(reversed(super().scan(folder)))

    root = put(tmp_path, "b/2.jpg", "a/1.jpg", "a/.x", "b.jpg", "b/.y", "~$z")
    assert walk(root, Backwards()) == walk(root, RealDisk())


@given(st.text(min_size=1))
def test_shown_names_can_always_be_written(name: str) -> None:
    shown(name).encode("utf-8")
    assert not any(ord(c) < 32 or 0x7F <= ord(c) < 0xA0 for c in shown(name))
    if name.isprintable() and not any(0xD800 <= ord(c) < 0xE000 for c in name):
        assert shown(name) == name
