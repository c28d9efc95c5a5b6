"""The proof on the page of a part: its tables, its legend, and the stress to be turned, in a browser as well."""

import json
import re
from dataclasses import replace

import numpy as np
import pytest
from browsing import afresh, differ, errors, until
from pages import read
from parts_shown import fork_shown

from parts.inputs.units import MPA_PER_KSI
from parts.making.picture import View
from parts.proof.records import Beside, CaseProof, PieceProof, Proof, Spot
from parts.proof.skin import Skin, State
from parts.report.page.part import part_page
from parts.report.page.stressed import SCALES, exaggeration, packed_stress, scales_of, toward_peak

BLOCK = (40.0, 20.0, 10.0)
PEAK = 200.0


def block_skin(n=12):
    """The surface of a block, its stress growing along x and bending away with x squared; two load cases."""
    sides = []
    for k, (i, j) in enumerate(((1, 2), (2, 0), (0, 1))):
        u, v = np.meshgrid(np.linspace(0, BLOCK[i], n + 1), np.linspace(0, BLOCK[j], n + 1))
        for end in (0.0, BLOCK[k]):
            side = np.zeros((*u.shape, 3))
            side[..., i], side[..., j], side[..., k] = u, v, end
            sides.append((side.reshape(-1, 3), end > 0.0))
    cells = [(r * (n + 1) + c) for r in range(n) for c in range(n)]
    quads = np.array([(a, a + 1, a + n + 2, a + n + 1) for a in cells])
    triangles = np.concatenate([quads[:, [0, 1, 2]], quads[:, [0, 2, 3]]])
    places, corners = [], []
    for side, outward in sides:
        corners.append((triangles if outward else triangles[:, ::-1]) + len(places) * len(side))
        places.append(side)
    every = np.round(np.concatenate(places), 6)
    points, same = np.unique(every, axis=0, return_inverse=True)
    x = points[:, 0] / BLOCK[0]
    moved = np.zeros_like(points)
    moved[:, 2] = 0.05 * x**2
    states = (
        State("landing", moved, PEAK * x, PEAK, (BLOCK[0], 10.0, 5.0)),
        State("brake", -moved / 2, 0.3 * PEAK * x, 0.3 * PEAK, (BLOCK[0], 10.0, 5.0)),
    )
    return Skin("part", points, same.reshape(-1)[np.concatenate(corners)], states)


def proof(fe=105.0):
    def case(name, peak):
        one = Beside("nominal stress", 100.0, fe, "MPa", 0.85, 1.10, "a reason for the band")
        return CaseProof(
            name, "strap", (1.0, 2.0, 3.0), {"N": 1.0}, {"N": 1.0},
            {"axial": 1.0, "bending": 2.0, "shear": -0.0, "torsion": 0.0},
            Spot((40.0, 10.0, 5.0), peak, (-1.0, 0.0, peak)), 2.5, (one,),
            {"bolt 1": (30.0, 40.0, 1e-9), "bolt 2": (0.0, 0.0, -60.0)}, 1e-12, {"peg": (0.0, 0.0, 0.1)}, 1e4, None,
        )  # fmt: skip

    piece = PieceProof(
        "part", "steel", 2e5, 0.3, 1000, 100, 2, 0.12, ((500, 0.3), (1000, 0.12)), "error reached", True, 1.0,
        (case("landing", PEAK), case("brake", 0.3 * PEAK)), (500.0,), ("bolts as springs",),
    )  # fmt: skip
    return Proof("HC-150", (piece,), skins=(block_skin(),))


def page_of(proof_):
    return part_page(replace(fork_shown(), proof=proof_))


@pytest.fixture(scope="module")
def content():
    return page_of(proof())


@pytest.fixture(scope="module")
def page(content):
    return read(content)


def tables(page):
    return {one.all("caption")[0].text: one.rows() for one in page.by_id("proof").all("table")}


def test_a_page_without_a_proof_says_nothing_of_one():
    assert b'id="proof"' not in part_page(fork_shown())


def test_hand_stands_beside_finite_elements_with_band_and_verdict(page):
    head, first, second = tables(page)["part: hand beside finite elements"]
    assert head[2:6] == ["by hand", "by FE", "unit", "FE / hand"]
    assert first[:5] == ["1 landing", "nominal stress", "100", "105", "MPa"]
    assert first[5:] == ["1.05", "0.85 to 1.10", "✓ within"]
    assert second[0] == "2 brake"


def test_a_number_outside_its_band_is_named_in_the_head_of_the_page():
    page = read(page_of(proof(130.0)))
    (head,) = page.all("header")
    assert "HAND AND FINITE ELEMENTS DISAGREE in 2 numbers" in head.text
    assert "by hand 100, elements 130 MPa; believe the elements" in head.text
    assert tables(page)["part: hand beside finite elements"][1][-1] == "✗ OUTSIDE"


def test_what_could_not_be_proved_is_said_too():
    page = read(page_of(Proof("HC-150", (), ("HC-150, part: no mesh <came> out whole",))))
    (head,) = page.all("header")
    assert "no mesh <came> out whole" in head.text and "is not proved" in head.text


def test_achieved_error_reactions_and_what_is_not_covered_are_there(page):
    found = tables(page)
    (errors_,) = [rows for caption, rows in found.items() if caption.startswith("Estimated error")]
    assert errors_[-1] == ["2", "1000", "12.0%", "1.44%"]
    rows = found["What each bolt, bore, thread or weld holds with"]
    assert rows[1] == ["1 landing", "bolt 1", "30", "40", "0", "50", "1e-12"]
    text = page.by_id("proof").text
    assert "contact, friction" in text and "plasticity" in text and "edge breaks" in text
    assert "a reason for the band" in text
    assert not {"-0.0", "-0"} & {cell for rows in found.values() for row in rows for cell in row}


def test_the_legend_is_in_mpa_and_ksi_and_the_exaggeration_is_stated(page):
    drawn = [one for one in page.by_id("proof").all("svg") if "legend" in one.attributes["class"]]
    assert len(drawn) == len(SCALES)
    for one, edges in zip(drawn, scales_of(block_skin()), strict=True):
        words = [word.text for word in one.all("text")]
        for edge in edges:
            (said,) = [word for word in words if word.startswith(f"{edge:g} (")]
            ksi = float(said.partition("(")[2].rstrip(")"))
            assert ksi == pytest.approx(edge / MPA_PER_KSI, rel=1e-3)
    skin = block_skin()
    times = exaggeration(skin, skin.states[0])
    assert f"drawn {times:g} times too large" in page.by_id("proof").text


@pytest.mark.parametrize("peak", [0.9, 1.0, 37.0, 100.0, 379.0, 700.0, 1234.0])
def test_bands_reach_from_nothing_to_just_beyond_the_peak(peak):
    skin = block_skin()
    skin = replace(skin, states=(replace(skin.states[0], peak=peak),))
    for edges in scales_of(skin):
        assert edges[0] == 0.0 and np.all(np.diff(edges) > 0.0)
        assert edges[-2] < peak <= edges[-1] and 5 <= len(edges) - 1 <= 10


def test_what_the_viewer_gets_is_the_stress_and_the_motion():
    """Read back from their bytes: stresses to 1/65535 of the range, displacements to 1/127 of the largest."""
    from base64 import b64decode

    skin = block_skin()
    document = json.loads(packed_stress(skin, View(10.0, 20.0)))
    (piece,) = document["pieces"]
    places = np.frombuffer(b64decode(piece["places"]), "<u2").reshape(-1, 4)[:, :3]
    x = places[:, 0] / 65535.0 * document["size"] / BLOCK[0]
    full = scales_of(skin)[0][-2] / document["scales"][0][-2]
    for k, state in enumerate(skin.states):
        stress = np.frombuffer(b64decode(piece["states"][k]["stress"]), "<u2") / 65535.0 * full
        assert stress == pytest.approx(state.peak * x, abs=2e-5 * full + 2e-5 * PEAK)
        moved = np.frombuffer(b64decode(piece["states"][k]["moved"]), "i1").reshape(-1, 4)
        drawn = moved[:, 2] / 127.0 * document["states"][k]["stretch"]
        times, most = exaggeration(skin, state), np.abs(state.moved).max()
        sign = 1.0 if k == 0 else -1.0
        assert drawn == pytest.approx(sign * times * most * x**2, abs=times * most / 127.0)
    assert document["states"][0]["name"] == "landing"


def test_numbers_on_contour_lines_stand_where_the_stress_is_that():
    skin = block_skin()
    found = json.loads(packed_stress(skin, View(0.0, 0.0)))["points"]
    lines = [one for one in found if not one["name"].startswith("peak")]
    assert len(lines) > 20
    for one in lines:
        stress = skin.states[one["state"]].peak * one["at"][0] / BLOCK[0]
        assert float(one["name"]) == pytest.approx(stress, abs=0.01)
    assert {one["name"] for one in found} >= {"peak 200", "peak 60"}


def test_the_first_view_shows_the_peak():
    """It stands on the face at the end of x: the eye is on that side."""
    view = toward_peak(block_skin(), View(-90.0, 0.0))
    assert np.cos(np.radians(view.turn)) * np.cos(np.radians(view.tilt)) > 0.5


# In the browser.


@pytest.fixture(scope="module")
def file(content, tmp_path_factory):
    found = tmp_path_factory.mktemp("page") / "index.html"
    found.write_bytes(content)
    return found.as_uri()


@pytest.fixture
def opened(browser, file):
    """The page with its proof unfolded, as it is at first."""
    afresh(browser, file)
    until(lambda: shown(browser) > 0)
    before = shown(browser)
    browser.execute_script("document.getElementById('proof').open = true")
    until(lambda: shown(browser) > before)
    return browser


def shown(browser):
    return int(
        browser.execute_script(
            "return Number(document.getElementById('stressed-1').dataset.drawn || 0)"
        )
    )


def shot(browser):
    import io

    from PIL import Image
    from selenium.webdriver.common.by import By

    canvas = browser.find_element(By.CSS_SELECTOR, "#stressed-1 canvas")
    browser.execute_script("arguments[0].scrollIntoView({block: 'center'})", canvas)
    picture = Image.open(io.BytesIO(canvas.screenshot_as_png)).convert("RGB")
    return np.asarray(picture, int)[8:-8, 8:-8]


def after(browser, act):
    before = shown(browser)
    act()
    until(lambda: shown(browser) > before)
    return shot(browser)


def bands_seen(picture):
    """How many fills of bands cover a good part of the picture, to the right of the legend."""
    some = picture[:, 220:]
    some = some[np.ptp(some, axis=2) > 6]
    coarse, count = np.unique(some // 12, axis=0, return_counts=True)
    return int(np.sum(count > 0.002 * len(some))), coarse


def choose(browser, name, value):
    browser.execute_script(
        "const s = document.querySelector(`#stressed-1 select[name=${arguments[0]}]`);"
        "s.value = arguments[1]; s.dispatchEvent(new Event('change'));",
        name, str(value),
    )  # fmt: skip


def words_shown(browser):
    return browser.execute_script(
        "return [...document.querySelectorAll('#stressed-1 svg.names text')]"
        ".filter((one) => one.getAttribute('display') !== 'none').map((one) => one.textContent)"
    )


def test_it_draws_without_errors_and_fetches_nothing(looked_at):
    assert errors(looked_at) == []
    assert looked_at.execute_script("return performance.getEntriesByType('resource').length") == 0


def test_stress_stands_in_bands_with_numbers_on_the_lines(looked_at):
    picture = shot(looked_at)
    assert bands_seen(picture)[0] >= 5
    words = words_shown(looked_at)
    assert "peak 200" in words and len([one for one in words if re.fullmatch(r"[\d.]+", one)]) >= 4


def test_it_reads_without_colour(looked_at):
    """From low stress to high the bands become darker: the order is one of lightness alone."""
    ramp = looked_at.execute_script(
        "return [...document.querySelectorAll('#stressed-1 svg.legend:not(.off) rect[fill]')]"
        ".map((one) => one.getAttribute('fill'))"
    )[1:]
    grey = [
        float(np.array([0.2126, 0.7152, 0.0722]) @ [int(one[i : i + 2], 16) for i in (1, 3, 5)])
        for one in ramp
    ]
    assert len(grey) == 10 and np.all(np.diff(grey) < -4.0)


@pytest.mark.parametrize("width", [360, 800])
def test_no_screen_is_too_narrow(looked_at, width):
    metrics = {"width": width, "height": 800, "deviceScaleFactor": 1, "mobile": False}
    looked_at.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", metrics)
    try:
        assert looked_at.execute_script("return document.documentElement.scrollWidth") <= width
    finally:
        looked_at.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})


def test_a_peak_on_a_bound_is_not_hatched(opened):
    """The face at the peak bears exactly the bound of the last band: a hatch would make it black and white."""
    right = "document.querySelector('#stressed-1 button[data-view=right]').click()"
    face = after(opened, lambda: opened.execute_script(right))
    middle = face[face.shape[0] // 2 - 60 : face.shape[0] // 2 + 60, face.shape[1] // 3 :]
    assert np.mean(middle.max(axis=2) < 60) < 0.04  # but for words


def test_another_load_case_shows_its_own_stress_and_words(opened):
    first = shot(opened)
    other = after(opened, lambda: choose(opened, "states", 1))
    assert differ(first, other) > 0.02
    said = opened.execute_script(
        "return [...document.querySelectorAll('#proof p.state')]"
        ".filter((one) => one.checkVisibility()).map((one) => one.textContent)"
    )
    assert len(said) == 1 and said[0].startswith("brake")
    assert "peak 60" in words_shown(opened) and "peak 200" not in words_shown(opened)


def test_even_bands_have_their_own_legend(opened):
    first = shot(opened)
    assert differ(first, after(opened, lambda: choose(opened, "scales", 1))) > 0.01
    visible = opened.execute_script(
        "return [...document.querySelectorAll('#stressed-1 svg.legend')]"
        ".filter((one) => one.checkVisibility()).map((one) => one.dataset.scale)"
    )
    assert visible == ["1"]


def test_it_turns_by_keys_and_the_deformation_can_be_left_out(opened):
    from selenium.webdriver.common.by import By
    from selenium.webdriver.common.keys import Keys

    first = shot(opened)
    canvas = opened.find_element(By.CSS_SELECTOR, "#stressed-1 canvas")
    assert differ(first, after(opened, lambda: canvas.send_keys(Keys.ARROW_LEFT))) > 0.02
    back = after(opened, lambda: canvas.send_keys(Keys.ARROW_RIGHT))
    box = opened.find_element(By.CSS_SELECTOR, "#stressed-1 input[data-moved]")
    straight = after(opened, lambda: opened.execute_script("arguments[0].click()", box))
    assert differ(back, straight) > 0.002


def test_numbers_behind_the_part_are_not_shown(opened):
    """Seen from the far end, the peak's face is hidden."""
    button = "document.querySelector('#stressed-1 button[data-view=left]').click()"
    after(opened, lambda: opened.execute_script(button))
    assert "peak 200" not in words_shown(opened)


def test_both_viewers_of_the_page_turn_by_themselves(opened):
    """The part above keeps its view when the stress is turned."""
    drawn = "return Number(document.getElementById('viewer').dataset.drawn)"
    before = opened.execute_script(drawn)
    button = "document.querySelector('#stressed-1 button[data-view=top]').click()"
    after(opened, lambda: opened.execute_script(button))
    assert opened.execute_script(drawn) == before
