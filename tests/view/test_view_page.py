"""The page in a real browser: it shows, follows, keeps the last good part, knows the lines, and asks nobody
outside.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from importlib.util import find_spec
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import numpy as np
import pytest
from makegood.commands.viewing import Editions
from makegood.outputs.live import EditionBoard, LiveServer, serve
from makegood.terminal import Screen

from .showing import PATIENCE, PLATE, browser, edition, extent, inked, pixels, until, viewing


@pytest.fixture(scope="module")
def chromium() -> Iterator[Any]:
    with browser() as opened:
        yield opened


def _page(chromium: Any, address: str) -> Any:
    """A page with a record of all that it asked for and all that went wrong in it."""
    page = chromium.new_page(viewport={"width": 1200, "height": 850})
    page.asked, page.faults = [], []
    page.on("request", lambda request: page.asked.append(request.url))
    page.on("pageerror", lambda error: page.faults.append(str(error)))
    page.on("console", lambda said: page.faults.append(said.text) if said.type == "error" else None)
    page.goto(address)
    edition(page, 1)
    return page


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Where the plate is shown, unchanged."""
    path = tmp_path_factory.mktemp("view") / "plate.mend"
    path.write_text(PLATE, encoding="utf-8")
    with viewing(path) as (address, _):
        yield address


@pytest.fixture
def page(chromium: Any, address: str) -> Iterator[Any]:
    opened = _page(chromium, address)
    yield opened
    assert opened.faults == []
    opened.close()


@pytest.fixture
def shown(chromium: Any, tmp_path: Path) -> Iterator[tuple[Any, Path]]:
    """A page that shows the plate, and the file of its recipe, to be changed."""
    path = tmp_path / "plate.mend"
    path.write_text(PLATE, encoding="utf-8")
    with viewing(path) as (address, _):
        opened = _page(chromium, address)
        yield opened, path
        assert opened.faults == []
        opened.close()


def _said(page: Any) -> str:
    return str(page.locator("#said").inner_text())


def test_the_part_is_drawn(page: Any):
    """Seen from the front the plate is 60 wide and 40 high, so it covers three halves as many columns as
    rows.
    """
    page.keyboard.press("f")
    ink = inked(pixels(page))
    assert 0.1 < ink.mean() < 0.9
    left, top, right, bottom = extent(page)
    assert (right - left) / (bottom - top) == pytest.approx(60 / 40, rel=0.02)
    page.keyboard.press("r")
    left, top, right, bottom = extent(page)
    assert (right - left) / (bottom - top) == pytest.approx(7 / 40, rel=0.05)
    assert page.locator("h1").inner_text() == "test plate"
    assert "60.00 x 40.00 x 7.00" in page.locator("#facts").inner_text()


def test_it_follows_a_save(shown: tuple[Any, Path]):
    page, path = shown
    path.write_text(PLATE.replace("thick      6.0", "thick      9.5"), encoding="utf-8")
    until(page, "#facts", "60.00 x 40.00 x 10.50")


def test_a_mistake_keeps_the_last_good_part_and_says_so(shown: tuple[Any, Path]):
    page, path = shown
    before = pixels(page)
    path.write_text(PLATE.replace("10.0 not 10.1", "ten"), encoding="utf-8")
    until(page, "#standing", "last good part")
    until(page, "#messages", "line 11")
    after = pixels(page)
    high = min(len(before), len(after))  # the title block may have grown by a line
    assert abs(int(inked(after).sum()) - int(inked(before).sum())) < 0.2 * inked(before)[:high].sum()
    path.write_text(PLATE, encoding="utf-8")
    until(page, "#standing", "as last saved")
    assert "line 11" not in page.locator("#messages").inner_text()


# view, place in it as shares of the width and height (from the left, from the top), name, line of PLATE
FACES = [
    ("f", 30 / 60, 0.85, "body front", 4),
    ("f", 1 / 60, 0.5, "body bevel", 8),
    ("f", 15 / 60, 0.5, "blind bottom", 10),
    ("f", (45 + 5.5) / 60, 0.5, "pad front", 21),
    ("r", 0.6, 0.8, "body right", 4),
    ("b", 0.5, 0.2, "body back", 4),
]


def test_a_click_on_a_face_gives_its_line(page: Any):
    for view, across, down, name, line in FACES:
        page.keyboard.press(view)
        left, top, right, bottom = extent(page)
        box = page.locator("#part").bounding_box()
        page.mouse.click(box["x"] + left + across * (right - left), box["y"] + top + down * (bottom - top))
        assert _said(page).startswith(f"{name}: line {line}, "), (view, across, down)
        assert " ".join(PLATE.splitlines()[line - 1].split()) in _said(page)
        assert page.locator("#recipe li.line").get_attribute("data-line") == str(line)


def test_a_line_shows_its_faces(page: Any):
    """Pointing at the bevel's line reddens a frame 2 mm wide: of the face's 60 x 40 all but 56 x 36."""
    page.keyboard.press("f")
    before = pixels(page)
    page.locator('#recipe li[data-line="8"] button').focus()
    changed = np.abs(pixels(page) - before).max(axis=2) > 12
    left, top, right, bottom = extent(page)
    share = changed.sum() / ((right - left) * (bottom - top))
    assert share == pytest.approx(1 - 56 * 36 / (60 * 40), abs=0.04)


def test_a_section_takes_half_away_and_hatches_the_cut(page: Any):
    """Cut upright in its middle and seen from the front, the plate shows its left half only."""
    page.keyboard.press("f")
    left, _, right, _ = extent(page)
    page.locator('[data-cut="x"]').click()
    page.locator("#part").focus()
    page.keyboard.press("f")
    cut_left, _, cut_right, _ = extent(page)
    halves = sorted(((cut_right - left) / (right - left), (right - cut_left) / (right - left)))
    assert halves[0] == pytest.approx(0.5, abs=0.03)
    page.keyboard.press("r")
    dark = pixels(page).max(axis=2) < 110
    left, top, right, bottom = extent(page)
    inner = dark[top + 5 : bottom - 5, left + 5 : right - 5]
    assert 0.05 < inner.mean() < 0.4
    assert page.locator("#at-said").inner_text() == "30.00 mm"


def test_keys_turn_and_bring_nearer(page: Any):
    page.keyboard.press("f")
    left, _, right, _ = extent(page)
    page.keyboard.press("-")
    nearer = extent(page)
    assert (nearer[2] - nearer[0]) / (right - left) == pytest.approx(1 / 1.2, rel=0.02)
    page.locator("#part").focus()
    for _ in range(4):
        page.keyboard.press("ArrowLeft")
    turned = extent(page)
    wide = 60 * np.cos(0.52) + 7 * np.sin(0.52)  # four steps of 0.13 about the upright
    assert (turned[2] - turned[0]) / (nearer[2] - nearer[0]) == pytest.approx(wide / 60, rel=0.03)


def test_readings_and_drawing_come_too(page: Any):
    page.wait_for_selector("#readings table", timeout=PATIENCE)
    assert "from body.left centre 15.0" in page.locator("#readings").inner_text()
    page.locator("#drawing").scroll_into_view_if_needed()
    page.wait_for_selector("#drawing img:not([hidden])", timeout=PATIENCE)
    page.wait_for_timeout(300)
    assert page.evaluate("document.querySelector('#drawing img').naturalWidth") > 100


def test_nothing_is_asked_of_anybody_else(page: Any):
    page.locator("#drawing").scroll_into_view_if_needed()
    page.wait_for_selector("#drawing img:not([hidden])", timeout=PATIENCE)
    assert len(page.asked) > 5
    for address in page.asked:
        parts = urlsplit(address)
        assert parts.scheme == "data" or parts.hostname == "127.0.0.1", address


@pytest.mark.parametrize("size", [(1200, 850), (390, 800)])
def test_no_serious_fault_for_people_who_see_or_point_otherwise(
    shown: tuple[Any, Path], size: tuple[int, int]
):
    """Judged by axe-core, on a page with a message, a marked line and all tables; and nothing wider than a
    phone.
    """
    page, path = shown
    page.set_viewport_size({"width": size[0], "height": size[1]})
    path.write_text(PLATE + "bore lost\n    across 3\n", encoding="utf-8")
    until(page, "#messages", "show line")
    page.wait_for_selector("#readings table", timeout=PATIENCE)
    page.locator('#recipe li[data-line="8"] button').click()
    package = find_spec("axe_playwright_python")  # its own loader reads the script in the machine's encoding
    assert package is not None
    page.evaluate((Path(package.submodule_search_locations[0]) / "axe.min.js").read_text(encoding="utf-8"))
    found = page.evaluate("axe.run({resultTypes: ['violations']})")
    assert len(found["passes"]) > 15
    bad = [
        (one["id"], one["nodes"][0]["html"])
        for one in found["violations"]
        if one["impact"] in ("serious", "critical")
    ]
    assert bad == []
    assert page.evaluate("document.documentElement.scrollWidth - window.innerWidth") <= 0


def test_every_control_is_reached_by_the_tab_key(page: Any):
    page.locator('[data-cut="y"]').click()
    page.evaluate("document.activeElement.blur()")
    reached = set()
    for _ in range(60):
        page.keyboard.press("Tab")
        reached.add(page.evaluate("document.activeElement.id || document.activeElement.textContent.trim()"))
    assert {
        "part",
        "nearer",
        "farther",
        "names",
        "hidden",
        "at",
        "corner c",
        "front f",
        "upright",
        "block body",
    } <= reached
    assert len(reached) > 20


def test_a_text_that_is_markup_stays_text(shown: tuple[Any, Path]):
    page, path = shown
    nasty = '<img src=x onerror="document.title=1"></script><b>'
    path.write_text(PLATE.replace("test plate", nasty.replace('"', "'")) + f"# {nasty}\n", encoding="utf-8")
    until(page, "h1", "<img")
    assert page.locator("#recipe img, #recipe b, h1 img, h1 b").count() == 0


def test_with_a_key_the_page_opens_once_and_follows(chromium: Any, tmp_path: Path):
    """What a phone at home does: opens the link, gets a cookie, loses the key from the address, goes on
    without it.
    """
    path = tmp_path / "plate.mend"
    path.write_text(PLATE, encoding="utf-8")
    board = EditionBoard()
    server = LiveServer(("127.0.0.1", 0), board, keyed=True)
    serve(server)
    try:
        editions = Editions(path, board, Screen(io.StringIO(), io.StringIO()))
        editions.take()
        phone, stranger = chromium.new_context(), chromium.new_context()
        link = server.link
        opened = phone.new_page()
        opened.goto(link)
        edition(opened, 1)
        assert opened.evaluate("location.search") == ""
        editions.take()
        edition(opened, 2)
        late = stranger.new_page()
        assert late.goto(link).status == 403
        phone.close()
        stranger.close()
    finally:
        board.close()
        server.shutdown()
        server.server_close()
