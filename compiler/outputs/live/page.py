"""The page: files for the server, and the whole as one file that needs nothing else and follows nothing."""

from __future__ import annotations

import base64
import hashlib
import json
from functools import cache
from pathlib import Path

_HERE = Path(__file__).parent
_SCRIPTS = ("notes.js", "leaders.js", "ink.js", "turning.js", "page.js", "following.js")


@cache
def page_files() -> dict[str, tuple[str, bytes]]:
    """Every file of the page by its route, with its media type."""
    return {
        "/": ("text/html; charset=utf-8", _read("page.html").encode()),
        "/page.css": ("text/css; charset=utf-8", _read("page.css").encode()),
        "/three.js": ("text/javascript; charset=utf-8", _library().encode()),
        "/page.js": ("text/javascript; charset=utf-8", _script().encode()),
    }


def whole_page(state: object, part: object, readings: object, drawing: bytes | None) -> bytes:
    """One HTML file that holds everything; its own policy lets nothing else in."""
    held = {
        "state": state,
        "part": part,
        "readings": readings,
        "drawing": None if drawing is None else base64.b64encode(drawing).decode("ascii"),
    }
    data = json.dumps(held, sort_keys=True, allow_nan=False, separators=(",", ":")).replace("<", "\\u003c")
    style, scripts = _read("page.css"), (_library(), _script())
    allowed = " ".join(_hash(one) for one in scripts)
    policy = (
        f"default-src 'none'; script-src {allowed}; style-src {_hash(style)}; img-src data:; "
        "base-uri 'none'; form-action 'none'"
    )
    page = _read("page.html")
    meta = '<meta charset="utf-8">'
    page = page.replace(meta, f'{meta}\n<meta http-equiv="Content-Security-Policy" content="{policy}">')
    page = page.replace('<link rel="stylesheet" href="page.css">', f"<style>{style}</style>")
    first = f'<script type="application/json" id="kept">{data}</script>\n<script>{scripts[0]}</script>'
    page = page.replace('<script src="three.js"></script>', first)
    return page.replace('<script src="page.js"></script>', f"<script>{scripts[1]}</script>").encode()


def _read(name: str) -> str:
    return (_HERE / name).read_text(encoding="utf-8")


def _library() -> str:
    """The drawing library with its licence before it, for whoever gets the page as one file."""
    licence = _read("three-LICENSE.txt")
    return f"/*!\n{licence}*/\n{_read('three.js')}".replace("</script", "<\\/script")


def _script() -> str:
    """Our own scripts as one, so that all of them share one strict scope."""
    return "\n".join(
        _read(name).removeprefix('"use strict";\n') if i else _read(name) for i, name in enumerate(_SCRIPTS)
    )


def _hash(text: str) -> str:
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"
