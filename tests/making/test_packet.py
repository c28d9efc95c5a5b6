"""The packets of the shops: who gets what, nothing of a part that falls short, the same bytes, nothing stale."""

import io
import zipfile
from types import SimpleNamespace

import numpy as np
import pytest
from command import oneoff
from pypdf import PdfReader

import parts
from parts.families.coped_tube.family import CopedTube
from parts.families.frame_tab.family import FrameTab
from parts.families.gusset.family import Gusset
from parts.families.spacer.family import Spacer
from parts.folders.packet import old_packets, order_of, packet_of_part
from parts.folders.part_folder import made_for, standing, write_part
from parts.making.bench.ink import Letters
from parts.making.packet.lists import cut_rows, part_steps
from parts.making.packet.packet import Whole, left_out, packets
from parts.making.packet.pages import Table, document, joined, pages
from parts.making.packet.shops import Packed
from parts.making.stock import orders

DRAWN = document("a sheet", [((210.0, 297.0), [Letters("a sheet", np.array([20.0, 20.0]), 3.0)])])
FILES = {
    "bench": {"S-drawing.pdf": DRAWN, "S-inspection.csv": b"i", "S-what-comes-next.pdf": DRAWN},
    "mill": {"S-mill.step": b"m", "S-mill.txt": b"for the mill\n  size      10 mm\n"},
    "flat": {"S-flat.dxf": b"f"},
    "print": {"S-print.stl": b"p"},
}


def of(part, count=1, mirrored=0):
    return Packed(part.check(), count, mirrored, FILES)


@pytest.fixture(scope="module")
def turned():
    return of(Spacer.model_validate({**Spacer.example, "name": "S"}), count=2, mirrored=1)


@pytest.fixture(scope="module")
def welded():
    return of(Gusset.model_validate({**Gusset.example, "name": "T"}))


@pytest.fixture(scope="module")
def weak():
    load = {"name": "crash", "forces": [{"at": "tube b", "force": ["90 kN", "-90 kN", 0]}]}
    return of(Gusset.model_validate({**Gusset.example, "name": "T", "loads": [load]}))


def whole(*packed):
    return Whole("S", "", packed, packed[0].part.bought(), [(p.part.name, "") for p in packed], "")


def words(page):
    return " ".join(page.extract_text().split())


def within(content):
    return zipfile.ZipFile(io.BytesIO(content)).namelist()


def test_a_turned_piece_goes_to_the_saw_and_the_lathe_a_flat_one_to_the_waterjet_and_the_welder(
    turned, welded
):
    assert turned.shops == {"part": {"saw", "lathe", "printer", "bench"}}
    assert welded.shops == {"part": {"waterjet", "welder", "printer", "bench"}}
    tube = of(CopedTube.model_validate({**CopedTube.example, "name": "U"}))
    assert tube.shops == {"part": {"saw", "welder", "printer", "bench"}}


def test_each_shop_gets_its_files_and_those_of_a_purpose_that_nobody_has_named_yet(turned):
    assert set(turned.of("lathe")) == {*FILES["bench"], *FILES["mill"]}
    assert set(turned.of("bench")) == set(FILES["bench"])
    assert set(turned.of("printer")) == set(FILES["print"])
    assert not turned.of("waterjet") and not turned.of("mill")


def test_a_file_named_after_a_piece_goes_where_that_piece_goes(turned):
    shops = {"tube": frozenset({"saw"}), "bung-a": frozenset({"lathe"})}
    bench = {"S-tube-drawing.pdf": b"", "S-bung-a-drawing.pdf": b"", "S-drawing.pdf": b""}
    link = SimpleNamespace(part=turned.part, shops=shops, files={"bench": bench})
    link._pieces_in = lambda name: Packed._pieces_in(link, name)
    assert list(Packed.of(link, "lathe")) == ["S-bung-a-drawing.pdf", "S-drawing.pdf"]
    link.shops = {"part": frozenset({"lathe", "welder"})}
    link.files = {"bench": {"S-welded-drawing.pdf": b""}}
    assert Packed.of(link, "welder") and not Packed.of(link, "lathe")


def test_a_packet_is_one_pdf_and_one_zip_a_shop_and_the_same_bytes_again(turned):
    found = packets(whole(turned))
    shops = ("saw", "lathe", "printer", "bench")
    assert list(found) == [f"S-{shop}-packet.{end}" for shop in shops for end in ("pdf", "zip")]
    assert found == packets(whole(turned))
    read = PdfReader(io.BytesIO(found["S-lathe-packet.pdf"]))
    titles = [one["/Title"] for one in read.outline]
    assert titles == ["what is here", "S-drawing.pdf", "S-what-comes-next.pdf", "S-mill.txt"]
    assert "2 (1 mirrored)" in words(read.pages[0])
    assert "for the mill" in words(read.pages[3])
    assert read.viewer_preferences.print_scaling == "/None"
    names = within(found["S-lathe-packet.zip"])
    assert names == ["S-stock.csv", "S-inspection.csv", "S-mill.step", "S-mill.txt"]
    assert within(found["S-saw-packet.zip"]) == ["S-stock.csv", "S-cut-list.csv"]


def test_the_saw_cuts_what_the_stock_list_says(turned):
    part = turned.part
    [order] = orders({"S": part}, {"S": 2})
    [row] = cut_rows([turned], [order])
    finished = float(part.length)
    assert row[3] == "2" and row[5] == order.cut.stock.name
    assert float(row[7]) == pytest.approx(finished, abs=0.06)
    # The sleeve is turned from end to end: 30 mm of the bar are for the chuck.
    assert float(row[6]) == pytest.approx(finished + 2.0 * part.milling.allowance + 30.0, abs=0.06)


def test_what_falls_short_goes_to_nobody_who_cuts_or_welds_and_is_named(weak):
    assert not weak.result.ok
    found = packets(whole(weak))
    assert list(found) == [
        f"S-{shop}-packet.{end}" for shop in ("printer", "bench") for end in ("pdf", "zip")
    ]
    for shop in ("printer", "bench"):
        text = words(PdfReader(io.BytesIO(found[f"S-{shop}-packet.pdf"])).pages[0])
        assert "DO NOT HOLD" in text and "DOES NOT HOLD: " in text
    [said] = left_out(whole(weak))
    assert said.startswith("T DOES NOT HOLD: ") and said.endswith("packets for waterjet, welder.")


def test_hardware_goes_on_in_the_order_of_the_bench():
    clevis = parts.load("params/hc-101-seat-strut-clevis.yaml")
    said = [one.split(" 1 x ")[0].split(" 2 x ")[0] for one in part_steps(clevis)]
    assert said == ["screw in", "set in place", "put in", "under the nut:", "run on", "secure with"]
    tab = FrameTab.model_validate(FrameTab.examples[3])
    assert [one.split()[0] for one in part_steps(tab)][:2] == ["weld", "press"]


def test_a_build_goes_together_from_the_frame_outward():
    from parts.vehicle.file.loading import build_of

    build = build_of("params/build.yaml")
    results = [SimpleNamespace(part=build.part(name)) for name in build.names]
    found = order_of(build, results)
    names = [name for name, _ in found]
    # The bung of the tail is a piece of the frame.
    assert names[:4] == ["HC-108", "HC-109", "HC-125", "HC-104"]
    assert dict(found)["HC-102"].startswith(
        "belongs to the seat strut; its end a to HC-109 at strut foot"
    )
    assert sorted(names) == sorted(build.names)


def test_a_packet_goes_when_the_part_is_another(tmp_path):
    part = parts.Clevis(**{**parts.Clevis.example, "outputs": ["report"]})
    own = tmp_path / "HC-100"
    files = {"a.step": b"1", "HC-100-saw-packet.pdf": b"1"}
    write_part(own, files, standing(own, part), purposes={"mill": ["a.step"]})
    write_part(own, {"report.json": b"1"}, standing(own, part))
    assert (own / "HC-100-saw-packet.pdf").exists() and made_for(own) == {"mill": ["a.step"]}
    deeper = part.changed({"ears.width": "27 mm"})
    gone = write_part(own, {"report.json": b"2"}, standing(own, deeper))
    assert "HC-100-saw-packet.pdf" in gone and not (own / "HC-100-saw-packet.pdf").exists()
    assert made_for(own) == {}


def test_old_packets_of_a_build_are_known_by_name(tmp_path):
    for name in ("b-saw-packet.pdf", "b-mill-packet.zip", "b-notes.pdf", "packet.zip"):
        (tmp_path / name).write_bytes(b"")
    assert [p.name for p in old_packets(tmp_path, "b", ["b-saw-packet.pdf"])] == [
        "b-mill-packet.zip"
    ]


def test_every_shop_has_its_card_on_the_page():
    from parts.making.packet.shops import SHOPS
    from parts.report.page import files

    assert tuple(files.SHOPS) == SHOPS
    [found] = files.addressed(["S-saw-packet.pdf"])
    assert found[1] == "saw"


def test_a_long_table_takes_more_pages_and_breaks_what_is_too_wide():
    rows = tuple((str(i), "x" * 400) for i in range(40))
    found = pages("list", [Table(("no", "what"), rows, (1, 9))], (210.0, 297.0))
    assert len(found) > 2
    for _, ink in found:
        for one in ink:
            if isinstance(one, Letters):
                assert one.path()[:, 0].max() <= 210.0 and one.path()[:, 1].min() >= 8.0


def test_joined_pages_keep_their_order_and_size():
    small = document("b", [((100.0, 80.0), [])])
    read = PdfReader(io.BytesIO(joined([("one", DRAWN), ("two", small)], "both")))
    assert [round(float(p.mediabox.width) / 72.0 * 25.4) for p in read.pages] == [210, 100]


def test_a_single_part_has_its_packet(turned):
    found = packet_of_part(turned.result, FILES)
    assert "S-bench-packet.pdf" in found


@pytest.mark.slow
def test_a_build_is_packed_by_the_command_and_loses_its_packets_with_the_next_change(tmp_path):
    oneoff("new", "build", "--out", "build.yaml", cwd=tmp_path)
    oneoff("new", "clevis", "--out", "first.yaml", cwd=tmp_path)
    run = oneoff("make", "build.yaml", "--packet", "--out", "o", cwd=tmp_path)
    assert run.returncode == 0, run.stderr
    own = tmp_path / "o" / "new build"
    shops = sorted(one.name.split("-")[-2] for one in own.glob("*-packet.pdf"))
    assert shops == ["bench", "lathe", "mill", "printer", "saw"]
    assert "first-mill.step" in within((own / "new build-mill-packet.zip").read_bytes())
    text = (tmp_path / "first.yaml").read_text()
    (tmp_path / "first.yaml").write_text(text.replace("x: 5 kN", "x: 60 kN"))
    assert oneoff("make", "build.yaml", "--out", "o", cwd=tmp_path).returncode == 1
    assert not list(own.glob("*-packet.*"))
    run = oneoff("make", "first.yaml", "--packet", "--out", "single", cwd=tmp_path)
    assert run.returncode == 1
    assert "first does not hold: it is in no packet for saw, mill" in run.stdout
    assert not list((tmp_path / "single" / "first").glob("*-mill-packet.*"))
