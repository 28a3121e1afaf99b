"""How long a save takes to be the page's picture, as a ratio to compiling alone.  By hand: `python
tests/bench/following.py`.

The page is open in a headless browser that draws without a graphics card; the recipe is the largest example
unless another is named.  Aim: a median under 300 ms."""

from __future__ import annotations

import statistics
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

import makegood  # noqa: E402

from tests.view.showing import browser, edition, viewing  # noqa: E402

EXAMPLE = ROOT / "examples" / "wardrobe-rail-bracket.mend"
WATCH = """() => { const root = document.documentElement, drawn = window.drawn = {};
  new MutationObserver(() => { drawn[root.dataset.shown] = Date.now(); })
    .observe(root, { attributes: true, attributeFilter: ["data-shown"] }); }"""


def main(example: Path, times: int = 15) -> None:
    """Print the median of each and their ratio."""
    text = example.read_text(encoding="utf-8")
    compiled, followed = [], []
    with tempfile.TemporaryDirectory() as folder, browser() as opened:
        path = Path(folder) / example.name
        path.write_text(text, encoding="utf-8")
        makegood.compile_file(path)
        with viewing(path) as (address, _):
            page = opened.new_page(viewport={"width": 1200, "height": 850})
            page.goto(address)
            edition(page, 1)
            page.evaluate(WATCH)
            for number in range(times):
                time.sleep(1.0)
                start = time.perf_counter()
                makegood.compile_file(path)
                compiled.append(time.perf_counter() - start)
                before, saved = edition(page, 1), time.time()
                path.write_text(f"{text}# {number}\n", encoding="utf-8")
                followed.append(page.evaluate(f"window.drawn[{edition(page, before + 1)}]") / 1000 - saved)
    alone, picture = statistics.median(compiled), statistics.median(followed)
    print(
        f"compile {alone * 1000:.0f} ms, save to picture {picture * 1000:.0f} ms, ratio {picture / alone:.1f}"
    )


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else EXAMPLE)
