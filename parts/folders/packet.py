"""Packets of a part or of a build: gathered from the files of its parts, made now or before."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from parts.folders.part_folder import made_for
from parts.making.packet.packet import PACKET, Whole, packets
from parts.making.packet.shops import Packed
from parts.making.read_back import content, names_in
from parts.report.bill import merged

if TYPE_CHECKING:
    from parts.core.search.result import Result
    from parts.vehicle.build import Build

FRAME = "frame"
WHERE = ("weld it to the {}", "fit it to the {}", "belongs to the {}", "belongs to the {}")
"""What is said of a part, by the stage at which it goes on."""


def packet_of_part(
    result: Result, by_purpose: Mapping[str, Mapping[str, bytes]]
) -> dict[str, bytes]:
    """The packets of one part.

    Args:
        result: what its checks say.
        by_purpose: its files, by purpose and name.

    Returns:
        Bytes by file name.
    """
    part = result.part
    packed = Packed(result, 1, 0, by_purpose)
    bill = merged(part.bought())
    return packets(Whole(part.name, part.title, [packed], bill, [(part.name, "")]))


def packet_of_build(
    build: Build, results: Sequence[Result], folder: Path, found: str
) -> dict[str, bytes]:
    """The packets of a build whose parts were made, each for every purpose.

    Args:
        build: the build.
        results: what the checks of its parts say.
        folder: the folder of outputs, which the parts' folders stand in.
        found: what the build's solids told, in lines.

    Returns:
        Bytes by file name.
    """
    return packets(whole_of_build(build, results, folder, found))


def whole_of_build(build: Build, results: Sequence[Result], folder: Path, found: str) -> Whole:
    """What the packets of a build are of; arguments as `packet_of_build`."""
    from parts.folders.build_files import bought, counts_of

    counts = counts_of(build)
    packed = [
        Packed(
            one, counts[one.part.name], counts[one.part.name] - 1, _files(folder / one.part.name)
        )
        for one in results
    ]
    bill = bought(build, {one.part.name: one.part for one in results})
    return Whole(build.name, build.entry.title, packed, bill, order_of(build, results), found)


def _files(own: Path) -> dict[str, dict[str, bytes]]:
    """The files of a part's folder, by purpose and name."""
    return {
        purpose: {name: read for name in names if (read := content(own / name)) is not None}
        for purpose, names in made_for(own).items()
    }


def order_of(build: Build, results: Sequence[Result]) -> list[tuple[str, str]]:
    """In which order the parts of a build go together, each with where it goes.

    What is welded to the frame comes first, then what is bolted to it, what hangs on hinges, and last the links, since
    a link needs both of its ends to be there.
    """
    welded = {
        one.part.name for one in results if any("weld" in kind.name for kind in one.part.kinds())
    }

    def stage(name: str) -> int:
        body = build.entries[name].body
        if body == FRAME or (name in welded and body not in _hung(build)):
            return 0 if name in welded else 1
        return 2 if body in build.entry.bodies else 3

    done: list[str] = []
    found = []
    for name in sorted(build.entries, key=stage):
        entry = build.entries[name]
        on = WHERE[stage(name)].format(entry.body)
        joints = [
            f"its {point} to {', '.join(others)} at {place}"
            for point, place in entry.points.items()
            if (others := [o for o in done if place in build.entries[o].points.values()])
        ]
        found.append((name, "; ".join(filter(None, [on, *joints]))))
        done.append(name)
    return found


def _hung(build: Build) -> set[str]:
    """What moves: bodies on hinges, and links."""
    return {*build.entry.bodies, *build.entry.links, "arm", "link"}


def old_packets(own: Path, build: str, written: Sequence[str] = ()) -> list[Path]:
    """Packets in the folder of a build that were not written now."""
    ends = (f"-{PACKET}.pdf", f"-{PACKET}.zip")
    return [
        own / name
        for name in names_in(own)
        if name.startswith(f"{build}-") and name.endswith(ends) and name not in written
    ]
