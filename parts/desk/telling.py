"""What a command says of parts, builds and proofs, and the exit status that goes with it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from parts.desk.saying import write, write_line

if TYPE_CHECKING:
    from parts.part import Part
    from parts.proof.files import Written

OK, SHORT, WRONG_INPUT, FAILED = 0, 1, 2, 3
UNTOLD = (
    "its report and page do not hold the proof: nothing is made of the part as it stands; `oneoff make --prove` "
    "does both"
)
"""What is said of a proof that stands alone in the folder of its part."""


def checked(read: tuple[str, Part], *, json: bool) -> tuple[Any, bool]:
    """What is said of one part, an entry of the JSON document or a text, and whether it holds."""
    from parts.report.document import part_entry
    from parts.report.text import text_report

    file, part = read
    found = part.check()
    return part_entry(found, file) if json else text_report(found) + "\n", found.ok


def effort_of(read: tuple[str, Part]) -> float:
    """How long the check of a part takes beside that of others: places that can be loaded, times load cases."""
    _, part = read
    return float(len(part.points()) * len(part.loads))


def say_parts(
    found: list[Any], read: dict[str, Part], *, json: bool, proofs: list[Written] | None = None
) -> None:
    from parts.report.document import json_bytes
    from parts.report.text import text_report

    proved = {one.proof.part: one.proof for one in proofs or []}
    if json:
        files = {part.name: file for file, part in read.items()}
        write(json_bytes(found, files, proved).decode())
        return
    for one in found:
        name = getattr(one, "result", one).part.name
        write(text_report(one, proved.get(name)) + "\n")


def status_of(found: list[Any]) -> int:
    return OK if all(getattr(one, "result", one).ok for one in found) else SHORT


def say_build(whole: Any) -> None:
    """What a run did to a build: what moved, then where every part stands."""
    from parts.build.records import table

    names = [one.result.part.name for one in whole.made]
    write_line(f"\n{whole.build.name}: made {', '.join(names) or 'nothing'}")
    write(table(whole.changes))
    for name, one in whole.records.items():
        factor = (
            "no loads" if one.factor is None else f"factor {one.factor:.3f} of {one.required:g}"
        )
        write_line(f"{name}: {'holds' if one.ok else 'FALLS SHORT'}, {factor}, {one.governing}")
    for file in whole.files:
        write_line(str(file))
    if whole.findings:
        write_line("")
        write(whole.findings)


def say_proofs(found: list[Written]) -> None:
    from parts.proof.text import text_of

    for one in found:
        write(text_of(one.proof))
        write_line(f"{one.proof.part}: {', '.join(str(file) for file in one.files)}")
        write_line("" if one.reported else UNTOLD)
