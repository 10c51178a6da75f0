"""The page in a bundle that tells its reader how to check it, with tools that every system has."""

from __future__ import annotations

import textwrap

from claimkit.model.bundle import Contents, Kept

_WIDE = 76


def how_to_check(contents: Contents, packet: tuple[str, str], logs: tuple[str, ...]) -> str:
    """Write the page. `packet` is the packet's place in the bundle and its SHA-256."""
    example = next((one for one in contents.kept if one.number[0] == "P"), None)
    example = example or next(iter(contents.kept), None)
    parts = [
        "HOW TO CHECK THIS BUNDLE",
        _text(
            "This folder is a BagIt bag (RFC 8493): the originals that a packet rests on, the "
            "packet, and the logs of when each original was first seen. Nothing has to be "
            "installed to check it."
        ),
        "1. All files at once",
        _text(
            "In this folder, run the line for your system. Every line of the answer must end in "
            "OK. Any BagIt tool does the same and also finds files that were added."
        ),
        "   Linux      sha256sum -c manifest-sha256.txt\n"
        "   macOS      shasum -a 256 -c manifest-sha256.txt\n"
        "   Windows    certutil -hashfile FILE SHA256     (one file at a time)",
        "2. From a statement to its original",
        _text(
            "Each statement of the packet ends with numbers such as [P3, R2]. The original has "
            "that number at the front of its name in data/originals. Its whole SHA-256 stands in "
            "the packet under Custody, and in manifest-sha256.txt. Hash the file and compare."
        ),
        _example(example) if example else "",
        "3. Whether the list is the one that the packet was made from",
        _text(
            "Hash data/originals.sha256. The packet prints this hash under Custody: "
            f"{contents.list_sha256}. The list names each original as it is named in the job "
            "folder; data/contents.json gives both names."
        ),
        "4. Whether this is the bundle that was sent",
        _text(
            "Whoever changes a file can also write new lists. Hash tagmanifest-sha256.txt and "
            "compare with the hash in the covering note, which came another way, and hash "
            f"{packet[0]} and compare with the packet that you got before, if you did: "
            f"{packet[1]}."
        ),
        "5. The logs",
        _text(_logs(contents, logs)),
        "What this does not show",
        _text(
            "A hash shows that a copy is the file that was hashed. It does not show when, where or "
            "of what a photo was taken. A log shows changes before its last line that something "
            "else has kept; cutting off its end cannot be seen without that."
        ),
        "What the originals contain",
        _text(_holdings(contents)),
    ]
    return "\n\n".join(part for part in parts if part) + "\n"


def _text(text: str) -> str:
    return textwrap.fill(
        text,
        _WIDE,
        initial_indent="   ",
        subsequent_indent="   ",
        break_long_words=False,
        break_on_hyphens=False,
    )


def _example(one: Kept) -> str:
    return f"   Here {one.number} is {one.file}\n   sha256sum {one.file}\n   {one.sha256}"


def _logs(contents: Contents, logs: tuple[str, ...]) -> str:
    named = ", ".join(logs) or "none"
    chained = (
        "Each line of a log carries, as prev, the SHA-256 of the line before it (without its line "
        f"end). The logs here: {named}."
    )
    if contents.shown_lines is None:
        return chained
    return (
        f"{chained} They are excerpts: a line about something that is not in this bundle stands "
        "as the word withheld and its SHA-256, so that the chain can still be followed."
    )


def _holdings(contents: Contents) -> str:
    located = sum(one.located for one in contents.kept)
    photos = sum(one.number[0] == "P" for one in contents.kept)
    told = (
        f"{len(contents.kept)} originals, {photos} of them photos, byte for byte as they were "
        f"taken in, with all that they state of themselves. Photos that state a position "
        f"(GPS): {located}."
    )
    for one in contents.withheld:
        told += f" Not here: {one.number} {one.path}. {one.why}"
    return told
