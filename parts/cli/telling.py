"""What a command says of parts, builds and proofs, and the exit status that goes with it."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING, Any

from parts.cli.saying import write, write_line

if TYPE_CHECKING:
    from parts.core.part import Part
    from parts.folders.proof_files import Written
    from parts.folders.side_by_side import MadeElsewhere
    from parts.making.model import Made
    from parts.vehicle.build import Build
    from parts.vehicle.checks import BuildResult

OK, SHORT, WRONG_INPUT, FAILED = 0, 1, 2, 3
UNTOLD = (
    "its report and page do not hold the proof: nothing is made of the part as it stands; `oneoff make --prove` "
    "does both"
)
"""What is said of a proof that stands alone in the folder of its part."""


def checked(read: tuple[str, Part], *, json: bool, every: bool) -> tuple[Any, bool, Any]:
    """One part as the command tells it.

    Returns:
        An entry of the JSON document or a text; whether the part holds; how much of its allowable each load case uses.
    """
    from parts.report.case_table import uses
    from parts.report.document import part_entry
    from parts.report.text import brief_report, remedy_text, text_report

    file, part = read
    found = part.check()
    if json:
        return part_entry(found, file), found.ok, uses(found.checks)
    said = (text_report if every else brief_report)(found) + remedy_text(found) + "\n"
    return said, found.ok, uses(found.checks)


def _checked_builds(builds: Sequence[Build]) -> list[BuildResult]:
    """The checks of builds themselves."""
    if not builds:
        return []  # what checks them need not be loaded
    from parts.vehicle.checks import check_build

    return [check_build(one) for one in builds]


def effort_of(read: tuple[str, Part]) -> float:
    """How long the check of a part takes beside that of others: places that can be loaded, times load cases."""
    _, part = read
    return float(len(part.points()) * len(part.loads))


def say_checked(
    read: dict[str, Part], builds: Sequence[Build], *, json: bool, every: bool = False
) -> int:
    """Check parts and then the builds themselves, say what comes out, and give the exit status."""
    from parts.cli.side_by_side import side_by_side
    from parts.report.case_table import case_table_text
    from parts.report.document import entries_bytes
    from parts.report.text import build_text

    whole = _checked_builds(builds)
    said = side_by_side(partial(checked, json=json, every=every), list(read.items()), effort_of)
    if json:
        write(entries_bytes((entry for entry, *_ in said), whole).decode())
    else:
        for text in (
            *(text for text, *_ in said),
            *(build_text(one, brief=not every) for one in whole),
        ):
            write(text)
        shares = {part.name: one[2] for part, one in zip(read.values(), said, strict=True)}
        for build in builds:
            write("\n" + case_table_text({name: shares[name] for name in build.names}))
    return OK if all(ok for _, ok, _ in said) and all(one.ok for one in whole) else SHORT


def say_parts(
    found: list[Any],
    read: dict[str, Part],
    *,
    json: bool,
    every: bool = False,
    proofs: list[Written] | None = None,
    builds: Sequence[BuildResult] = (),
) -> None:
    from parts.folders.side_by_side import MadeElsewhere
    from parts.report.document import json_bytes
    from parts.report.text import brief_report, text_report

    proved = {one.proof.part: one.proof for one in proofs or []}
    if json:
        files = {part.name: file for file, part in read.items()}
        write(json_bytes(found, files, proved, builds).decode())
        return
    for one in found:
        if isinstance(one, MadeElsewhere):
            write(one.text + "\n")
            continue
        name = getattr(one, "result", one).part.name
        write((text_report if every else brief_report)(one, proved.get(name)) + "\n")


def status_of(found: list[Any]) -> int:
    return OK if all(getattr(one, "result", one).ok for one in found) else SHORT


def build_said(whole: Any, *, every: bool = False) -> str:
    """What a run did to a build: what moved, then where every part stands."""
    from parts.folders.records import table
    from parts.folders.side_by_side import name_of
    from parts.report.case_table import case_table_text
    from parts.report.text import build_text

    names = [name_of(one) for one in whole.made]
    said = f"\n{whole.build.name}: made {', '.join(names) or 'nothing'}\n{table(whole.changes)}"
    for name, one in whole.records.items():
        factor = (
            "no loads" if one.factor is None else f"factor {one.factor:.3f} of {one.required:g}"
        )
        said += f"{name}: {'holds' if one.ok else 'FALLS SHORT'}, {factor}, {one.governing}\n"
    said += "\n" + build_text(whole.own, brief=not every)
    said += "\n" + case_table_text({name: one.uses for name, one in whole.records.items()})
    said += "".join(f"{file}\n" for file in whole.files)
    return said + (f"\n{whole.findings}" if whole.findings else "")


def say_gone(made: Made | MadeElsewhere) -> None:
    """Which files of a part are gone, since they told of another one."""
    if made.gone:
        from parts.folders.side_by_side import name_of

        write_line(
            f"{name_of(made)}: removed, since they told of the part as it was: {', '.join(made.gone)}; "
            "name their purpose again with --for, or prove the part again, to have them"
        )


def say_proofs(found: list[Written]) -> None:
    from parts.report.proof.text import text_of

    for one in found:
        write(text_of(one.proof))
        write_line(f"{one.proof.part}: {', '.join(str(file) for file in one.files)}")
        write_line("" if one.reported else UNTOLD)
