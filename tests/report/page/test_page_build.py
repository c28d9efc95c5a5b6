"""The page of a build: everything on it, sound markup, nothing fetched, links that lead somewhere."""

import base64
import json
import re
from copy import deepcopy
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from browsing import differ, drawn, errors, pixels, until
from demo import FILES
from pages import read, runs_only_what_it_states
from selenium.webdriver.common.keys import Keys

from parts.folders.build_data import build_page_data
from parts.folders.records import Change, Record
from parts.making.picture import View
from parts.report.build_scene import Scene, lines, travel_of
from parts.report.page.build import ABREAST, Space, build_page
from parts.report.page.curves import (
    BOTTOM,
    HIGH,
    LEFT,
    RIGHT,
    TOP,
    WIDE,
    Chart,
    Curve,
    chart_figure,
)
from parts.report.page.index import Together, folder_page
from parts.report.page.views import Named, view_figure
from parts.vehicle.file.loading import build_of
from parts.vehicle.space.interference import positions

DEMO = Path(__file__).parents[3] / "params" / "build.yaml"
FOLDS = (
    "parts", "views", "checks", "moved", "findings", "rear-end", "loads", "balance", "masses", "joints", "bought",
    "stock", "hardpoints", "files", "cautions", "not-covered",
)  # fmt: skip
NASTY = '<script>alert(1)</script> & "seat"'
PIXEL = base64.b64decode(
    "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR4nGNgYGBgAAAABQABh6FO1AAAAABJRU5ErkJggg=="
)
CUBE = (
    np.array([(x, y, z) for x in (0.0, 60.0) for y in (0.0, 60.0) for z in (0.0, 60.0)]),
    np.array([(0, 1, 3), (0, 3, 2), (4, 6, 7), (4, 7, 5), (0, 4, 5), (0, 5, 1),
              (2, 3, 7), (2, 7, 6), (0, 2, 6), (0, 6, 4), (1, 5, 7), (1, 7, 3)]),
)  # fmt: skip


def kept(mass):
    return Record("", {}, {}, mass, "critical section, seat landing", 2.5, 2.25, True)


@cache
def demo():
    return build_of(DEMO)


@cache
def travelled():
    """The travel of the demo build, with a cube for the turnbuckle."""
    build = demo()
    cube = Scene({"HC-106": CUBE}, {}, {}, build.points, dict(lines(build, build.points)))
    return cube, travel_of(build, next(iter(positions(build))).frames, cube)


@cache
def data():
    """Of the demo build, nothing built: masses and findings are made up here."""
    build = demo()
    parts = {name: build.part(name) for name in build.names}
    records = {name: kept(0.1) for name in parts}
    made = tuple(f"HC-101/HC-101{end}" for end in ("-drawing.pdf", "-drawing.dxf", ".step"))
    records["HC-101"] = replace(records["HC-101"], files=made)
    found = build_page_data(
        build, parts, records, moved=[Change("HC-102", "pin_to_pin.nominal", "330 mm", "342 mm")]
    )
    found["title"] = NASTY
    found["hardpoints"][8]["name"] = NASTY
    found["interference"] = [f"{NASTY} and HC-101 cut into each other by 12 mm^3, as drawn"]
    found["weights"] = [
        {"instance": "HC-101", "mass_kg": 1.0, "centre_mm": [0.0, 10.0, 0.0]},
        {"instance": "HC-102", "mass_kg": 3.0, "centre_mm": [40.0, -10.0, 0.0]},
    ]
    found["bought"] = [{"designation": "M6", "quantity": 2, "fits": NASTY, "source": ""}]
    found["stock"] = [{"part": "HC-101", "piece": "part", "quantity": 2, "material": "steel", "stock": "round 20 mm",
                       "length_mm": 30.0, "width_mm": 0.0, "waste": 0.5, "note": ""}]  # fmt: skip
    return found


def space():
    points = {one["name"]: np.asarray(one["at_mm"]) for one in data()["hardpoints"]}
    still = Named("seen from its left", PIXEL, 600, 400, {NASTY: np.array([300.0, 200.0])}, {}, {})
    moved = (CUBE[0] + [0.0, 0.0, 400.0], CUBE[1])
    scene, travel = travelled()
    places = list(scene.points)
    travel = replace(
        travel,
        points={data()["hardpoints"][places.index(n)]["name"]: v for n, v in travel.points.items()},
    )
    meshes = {"HC-101": CUBE, "HC-106": CUBE, "hardware": moved}
    return Space(
        meshes, ("hardware",), View(), points, list(scene.lines.values()), (still,), travel
    )


@pytest.fixture(scope="module")
def content():
    return build_page(data(), space(), ["hill climber.step", "bought.csv"])


@pytest.fixture(scope="module")
def page(content):
    return read(content)


def folds(page):
    return [
        one.attributes["id"] for one in page.all("details") if one.attributes.get("class") == "fold"
    ]


def test_the_files_of_every_part_are_linked_where_they_stand():
    found = read(build_page(data(), None)).by_id("files").all("table")
    (rows,) = [one.rows() for one in found if "Files of the parts" in one.text]
    told = {who: files for part, who, files in rows[1:] if part == "HC-101"}
    assert "HC-101-drawing.pdf" in told["machinist, welder"]
    links = [one.attributes["href"] for one in found[-1].all("a")]
    assert links == [f"../HC-101/HC-101{end}" for end in ("-drawing.pdf", "-drawing.dxf", ".step")]


def test_the_first_screen_tells_what_leaves_least_and_the_rest_folds(page):
    assert folds(page) == list(FOLDS)
    (least,) = [one for one in page.all("ol") if one.attributes.get("class") == "least"]
    room = {
        one["name"]: one["factor"] / one["required"] for one in data()["checks"] if one["factor"]
    }
    room |= {
        f"{one['name']}: {one['governing']}": one["factor"] / one["required"]
        for one in data()["parts"]
    }
    assert sorted(room[b.text] for b in least.all("b")) == sorted(room.values())[:3]
    assert [a.attributes["href"] for a in page.all("nav")[0].all("a")] == ["bought.csv"]
    ids = [one.attributes["id"] for one in page.walk() if "id" in one.attributes]
    assert len(ids) == len(set(ids))


def test_what_a_user_typed_is_text(page, content):
    assert page.all("h1")[0].text == NASTY and b"<script>alert" not in content
    for name in ("hardpoints", "findings", "bought"):
        assert NASTY in page.by_id(name).text
    points = json.loads(page.by_id("mesh").text)["points"]
    assert NASTY in [one["name"] for one in points]


def test_it_fetches_nothing(page):
    for one in page.walk():
        for name in ("src", "href", "action", "data", "poster", "style"):
            address = one.attributes.get(name, "#")
            inside = re.fullmatch(r"(\.\./[\w%-]+/)?[\w.%-]+", address)
            assert address.startswith(("#", "data:image/png")) or inside, address
    runs_only_what_it_states(page)


def test_every_part_leads_to_its_own_page(page):
    links = [a.attributes["href"] for a in page.by_id("parts").all("a")]
    assert links == [f"../{one.stem[:6].upper()}/index.html" for one in FILES]


def test_hardpoints_in_both_units_and_what_takes_from_them(page):
    rows = {row[0]: row[1:] for row in page.by_id("hardpoints").rows()}
    # 203.2 mm would be 8 in; the strut foot lies at -118, 95, 425.
    assert rows["strut foot"][:6] == ["-118.0", "95.0", "425.0", "-4.65", "3.74", "16.73"]
    assert rows["strut foot"][7:] == ["frame joint", "HC-102"]


def test_the_rear_end_is_drawn_against_travel_with_its_allowables(page):
    section = page.by_id("rear-end")
    drawn_ = [svg for svg in section.all("svg") if svg.attributes.get("role") == "img"]
    titles = [svg.all("title")[0].text for svg in drawn_]
    for name in (
        "Wheel rate",
        "Shear stress of the bar",
        "Force along the link",
        "Motion ratio",
        "Swing of the rod ends",
    ):
        assert f"{name} against wheel travel" in titles
    rear = data()["rear_end"]
    (shear,) = [
        svg for svg in drawn_ if svg.all("title")[0].text.startswith("Shear stress of the bar")
    ]
    assert f"allowable, {rear['shear_check']['capacity']:.4g} MPa" in shear.text
    (swing,) = [svg for svg in drawn_ if svg.all("title")[0].text.startswith("Swing")]
    assert set(rear["swing_limits_deg"]) == {
        "joint_swing_at_swing_arm_deg",
        "joint_swing_at_arm_deg",
    }
    assert "both allow, 13.85 deg" in swing.text
    for svg in drawn_:
        for unit in ("travel of the wheel", "in", "mm"):
            assert unit in svg.text
    # No curve is told from another by its colour: where there are two, they differ in their dashes.
    for svg in drawn_:
        dashes = [
            p.attributes.get("stroke-dasharray")
            for p in svg.all("path")
            if p.attributes.get("class") == "curve"
        ]
        assert len(dashes) == len(set(dashes))


def test_the_build_s_own_checks_stand_with_demand_limit_and_verdict(page, content):
    lines = page.by_id("checks").all("tr")[1:]
    rows = [[cell.text for cell in (*row.all("th"), *row.all("td"))] for row in lines]
    first = min(data()["checks"], key=lambda one: (one["factor"] or np.inf) / one["required"])
    assert len(rows) == len(data()["checks"]) > 4
    assert rows[0][0] == data()["governing"]["name"] == first["name"]
    assert {row[7] for row in rows} == {"✓ holds"} and {row[4] for row in rows} == {
        "MPa",
        "N",
        "deg",
        "mm",
        "-",
    }
    short = deepcopy(data())
    one = next(one for one in short["checks"] if one["mode"] == "swing")
    one.update(demand=18.3, factor=0.7556, ok=False)
    told = build_page(short, None).decode()
    assert f"{one['name']} ({one['load_case']})" in told and "✗ FALLS SHORT" in told
    assert "✗ FALLS SHORT" not in content.decode()


def test_bars_for_the_wanted_ride_stand_with_their_curves(page):
    section, wanted = page.by_id("rear-end"), data()["rear_end"]["wanted"]
    (table,) = [one for one in section.all("table") if "linkage as drawn" in one.text]
    assert [row[0] for row in table.rows()[1:]] == [one["stock"] for one in wanted["exact"]]
    (svg,) = [one for one in section.all("svg") if "Shear stress of these bars" in one.text]
    curves = [one for one in svg.all("path") if one.attributes.get("class") == "curve"]
    assert len(curves) == len(wanted["exact"])
    assert len({one.attributes.get("stroke-dasharray") for one in curves}) == len(curves)
    assert "wanted sag" in svg.text


def test_cases_times_parts_stand_abreast_as_a_screen_holds_with_the_largest_of_each_marked():
    found = deepcopy(data())
    names = [one["name"] for one in found["parts"]]
    found["uses"] = {name: {"landing": 0.52, f"own of {name}": 0.71} for name in names}
    tables = read(build_page(found, None)).by_id("uses").all("table")
    assert len(tables) > 1
    heads = [table.rows()[0][1:] for table in tables]
    assert [name for head in heads for name in head] == names and max(map(len, heads)) <= ABREAST
    for table in tables:
        head, *rows = table.rows()
        cells = {
            (row[0], part): cell
            for row in rows
            for part, cell in zip(head[1:], row[1:], strict=True)
        }
        for part in head[1:]:
            assert cells["landing", part] == "52 %" and cells[f"own of {part}", part] == "71 %*"
        assert not [
            cell
            for (case, part), cell in cells.items()
            if case.startswith("own") and part not in case and cell
        ]


def test_load_cases_say_where_they_come_from_and_every_body_balances(page):
    rows = page.by_id("loads").all("table")[0].rows()[1:]
    names = [case["name"] for case in data()["cases"]]
    assert [row[0] for row in rows] == names and all(
        any(
            said in row[2]
            for said in (
                "no source",
                "stated",
                "the build states",
                "travel",
                "from memory",
                "EN 12195-1",
            )
        )
        for row in rows
    )
    (bump,) = [row for row in rows if row[0] == "rear wheel at full bump"]
    # The ratio follows from rest and full bump, at the worst setting of the link.
    said = r"200 times 100 % of it, ratio 0\.1\d+: landings to full bump in a season; invented"
    assert re.search(said, bump[2])
    bodies = page.by_id("balance").all("table")[0].rows()[1:]
    assert len(bodies) > 30 and all(row[-1] == "✓ balances" for row in bodies)
    said = page.by_id("balance").all("p")[0].text
    assert said.startswith(f"{len(bodies)} of {len(bodies)} free bodies balance")


def test_a_body_out_of_balance_is_told(content):
    broken = json.loads(json.dumps(data()))
    one = broken["cases"][0]["balances"][0]
    one.update(ok=False, error="tail is out of balance", left_over_share=0.2)
    rows = read(build_page(broken, None)).by_id("balance").all("table")[0].rows()
    assert rows[1][-1] == "✗ tail is out of balance" and rows[1][-2] == "0.2"


def test_masses_add_up_to_their_common_centre(page):
    rows = page.by_id("masses").rows()
    # (1 kg * 0 + 3 kg * 40 mm) / 4 kg and (1 * 10 - 3 * 10) / 4.
    assert rows[-1] == ["all made parts", "4.0000", "30.0", "-5.0", "0.0"]


def test_what_moved_is_shown_and_a_first_build_says_that_it_is_one(page):
    assert ["HC-102", "pin_to_pin.nominal", "330 mm", "342 mm"] in page.by_id("moved").rows()
    first = {**data(), "changes": [{"part": one["name"], "what": "part", "before": "", "after": "new"}
                                   for one in data()["parts"]]}  # fmt: skip
    assert "first build" in read(build_page(first, None)).by_id("moved").text
    assert "Nothing moved." in read(build_page({**data(), "changes": []}, None)).by_id("moved").text


def test_a_part_that_falls_short_is_on_top():
    short = json.loads(json.dumps(data()))
    short["parts"][3]["ok"] = False
    (box,) = [
        d
        for d in read(build_page(short, None)).all("div")
        if "verdict" in d.attributes.get("class", "")
    ]
    assert box.attributes["class"] == "verdict short" and "FALLS SHORT: HC-104" in box.text


def test_without_places_there_is_nothing_to_look_at():
    bare = read(build_page({**data(), "rear_end": None}, None))
    assert folds(bare)[0] == "parts"
    assert all(one.attributes.get("id") != "viewer" for one in bare.walk())


def test_a_chart_is_true_to_its_axes():
    travel = np.linspace(0.0, 100.0, 11)
    one = Chart("Force", "N", [Curve("force", 2.0 * travel)], {"limit": 250.0}, "lbf", 0.224809)
    svg = read(chart_figure(one, travel, {"at rest": 50.0}, 7).encode()).all("svg")[0]
    (curve,) = [p for p in svg.all("path") if p.attributes.get("class") == "curve"]
    places = [tuple(map(float, p.split())) for p in curve.attributes["d"][1:].split("L")]
    assert places[0] == (LEFT, HIGH - BOTTOM) and places[-1][0] == WIDE - RIGHT
    # Straight, for force grows evenly with travel; to a tenth of a pixel, as it is written.
    x, y = np.array(places).T
    assert np.allclose(y, np.interp(x, x[[0, -1]], y[[0, -1]]), atol=0.11)
    (limit,) = [p for p in svg.all("path") if p.attributes.get("class") == "critical"]
    high = float(limit.attributes["d"][1:].split("L")[0].split()[1])
    assert (HIGH - BOTTOM - high) / (HIGH - BOTTOM - y[-1]) == pytest.approx(
        250.0 / 200.0, abs=0.002
    )
    assert TOP < high < y[-1]
    texts = [t.text for t in svg.all("text")]
    assert "at rest" in texts and "limit, 250 N" in texts
    desc = svg.all("desc")[0].text
    assert (
        desc
        == "force: 0 N at full droop, 200 at full bump. limit: 250 N, of which 80 % are used at most."
    )


def test_names_on_a_picture_cover_no_other():
    rng = np.random.default_rng(7)
    points = {f"point number {i}": at for i, at in enumerate(rng.uniform(200, 400, (20, 2)))}
    svg = read(view_figure(Named("seen", PIXEL, 600, 600, points, {}, {})).encode()).all("svg")[0]
    assert len(svg.all("circle")) == 20
    words = [(t.text, float(t.attributes["x"]), float(t.attributes["y"])) for t in svg.all("text")]
    assert len(words) >= 15
    for i, (text, x, y) in enumerate(words):
        for _, u, v in words[i + 1 :]:
            # A letter is 6 px wide at least and 10 high.
            assert abs(y - v) >= 10.0 or u >= x + 6.0 * len(text) or x >= u + 6.0


def test_the_page_of_the_folder_leads_to_it(tmp_path):
    together = Together("hill climber", "HC", {"HC-101": 2}, ["index.html", "bought.csv"])
    found = read(folder_page(tmp_path, [together]))
    links = [a.attributes["href"] for a in found.all("a")]
    assert links == [
        "#content",
        "hill%20climber/index.html",
        "hill%20climber/index.html",
        "hill%20climber/bought.csv",
    ]


def test_the_rear_end_stands_at_every_step_where_its_linkage_puts_it():
    build, (scene, travel) = demo(), travelled()
    rear = build.rear
    assert (travel.travel[0], travel.travel[-1]) == (0.0, 110.0)
    for k, at in enumerate(travel.travel):
        now = rear.at(float(at))
        assert travel.shear[k] == pytest.approx(float(now.shear))
        assert travel.rate[k] == pytest.approx(float(now.wheel_rate))
        # The turnbuckle's own ends go where swing arm and torsion arm go.
        for name, there in (
            ("link on swing arm", now.motion.pick_up),
            ("link on arm", now.motion.arm_end),
        ):
            turned, shifted = travel.poses["HC-106"][k][:, :3], travel.poses["HC-106"][k][:, 3]
            assert turned @ build.points[name] + shifted == pytest.approx(
                np.asarray(there), abs=0.05
            )
            assert turned @ turned.T == pytest.approx(np.eye(3), abs=1e-12)
        # The axle rises by the travel; the caliper keeps its distance from axle and pivot.
        assert travel.points["rear axle"][k][2] - build.points["rear axle"][2] == pytest.approx(
            at, abs=1e-6
        )
        for name in ("rear axle", "swing arm pivot"):
            here = travel.points.get(name, np.tile(build.points[name], (len(travel.travel), 1)))[k]
            drawn_ = np.linalg.norm(build.points["rear caliper"] - build.points[name])
            assert np.linalg.norm(travel.points["rear caliper"][k] - here) == pytest.approx(drawn_)
    tyre = list(scene.lines).index("rear tyre")
    assert travel.lines[tyre].mean(axis=1)[-1][2] > travel.lines[tyre].mean(axis=1)[0][2] + 100.0
    assert {"rear tyre", "front tyre", "fork", "rider", "frame tube 1"} <= set(scene.lines)


@pytest.mark.slow
def test_the_rear_wheel_is_moved_in_a_browser_and_no_name_lies_over_another(
    browser, content, tmp_path
):
    file = tmp_path / "index.html"
    file.write_bytes(content)
    browser.set_window_size(1280, 900)
    browser.get(file.as_uri())
    until(lambda: drawn(browser) > 0)
    said = "return document.querySelector('.travel output').textContent"
    first, still = browser.execute_script(said), pixels(browser)
    before = drawn(browser)
    slide = browser.find_element("css selector", "input[name=travel]")
    slide.send_keys(*[Keys.ARROW_RIGHT] * 60)
    until(lambda: drawn(browser) > before)
    until(lambda: " 60 mm" in browser.execute_script(said))
    until(lambda: differ(still, pixels(browser)) > 0.001)
    rear = demo().rear.at(60.0)
    assert f"bar {float(rear.shear):.0f} of" in browser.execute_script(said)
    assert first != browser.execute_script(said) and errors(browser) == []
    boxes = browser.execute_script("""
      return [...document.querySelectorAll('svg.names text')].filter((one) => one.getAttribute('display') === 'inline')
        .map((one) => one.getBBox())
        .map((b) => [b.x, b.y + 0.2 * b.height, b.x + b.width, b.y + 0.9 * b.height]);""")
    assert len(boxes) > 15
    for i, a in enumerate(boxes):
        for b in boxes[:i]:
            assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]


@pytest.mark.slow
def test_it_draws_in_a_browser_and_names_its_hardpoints(browser, content, tmp_path):
    file = tmp_path / "index.html"
    file.write_bytes(content)
    browser.get(file.as_uri())
    until(lambda: drawn(browser) > 0)
    assert errors(browser) == []
    assert browser.execute_script("return performance.getEntriesByType('resource').length") == 0
    assert browser.execute_script("return document.documentElement.scrollWidth <= innerWidth")
    shown = browser.execute_script(
        "return [...document.querySelectorAll('svg.names text')]"
        ".filter(t => t.getAttribute('display') === 'inline').map(t => t.textContent)"
    )
    assert {"rear axle", "headstock joint", NASTY} <= set(shown)
    whole = pixels(browser)
    assert np.mean(whole.max(axis=2) < 250) > 0.001
    box = browser.find_element("css selector", "input[data-names]")
    before = drawn(browser)
    browser.execute_script("arguments[0].click()", box)
    until(lambda: drawn(browser) > before)
    assert (
        browser.execute_script(
            "return getComputedStyle(document.querySelector('svg.names')).visibility"
        )
        == "hidden"
    )
    browser.set_window_size(360, 800)
    until(
        lambda: browser.execute_script("return document.documentElement.scrollWidth <= innerWidth")
    )


def test_space_and_data_give_the_same_bytes_again(content):
    again = build_page(data(), replace(space()), ["hill climber.step", "bought.csv"])
    assert again == content
