"""The page behind each message code: what `makegood explain` prints, and what the tests compile.

A page is a text file `pages/<code>.md`: `# headline`, then the four sections of `SECTIONS` in that order; the
last two hold one fenced block each, a recipe that gives exactly this code and the same recipe mended."""

from __future__ import annotations

import re
from dataclasses import dataclass
from importlib.resources import files

from .nearness import nearest

SECTIONS = ("What happened", "Why it matters", "Example", "Mended")
_PAGE_FORM = re.compile(
    r"\A# (?P<headline>[^\n]+)\n"
    + "".join(rf"\s*^## {name}[ ]*\n(?P<{name.split()[0].lower()}>.*?)" for name in SECTIONS)
    + r"\Z",
    re.MULTILINE | re.DOTALL,
)
_FENCED = re.compile(r"\A\s*```mend\n(?P<recipe>.*?)^```\s*\Z", re.MULTILINE | re.DOTALL)


@dataclass(frozen=True, slots=True)
class Page:
    """One page: the code, a headline, what happened, why it matters for the part, a recipe with the fault,
    and mended.

    `example` and `mended` are the text of a recipe each and end with a line end."""

    code: str
    headline: str
    what: str
    why: str
    example: str
    mended: str


class NoSuchPage(LookupError):
    """No message has this code; `near` holds codes that may have been meant."""

    def __init__(self, code: str, near: tuple[str, ...]) -> None:
        super().__init__(code, near)
        self.code = code
        self.near = near

    def __str__(self) -> str:
        said = f"no message has the code {self.code!r}"
        return f"{said}; did you mean {' or '.join(self.near)}?" if self.near else said


class PageFormat(ValueError):
    """A page does not hold the sections that every page must hold."""


def codes() -> tuple[str, ...]:
    """All codes that have a page, in alphabetical order."""
    folder = files(__package__) / "pages"
    if not folder.is_dir():
        return ()
    return tuple(sorted(entry.name[:-3] for entry in folder.iterdir() if entry.name.endswith(".md")))


def page(code: str) -> str:
    """The text of a code's page as it was written; raises NoSuchPage."""
    known = codes()
    if code not in known:
        raise NoSuchPage(code, tuple(nearest(code, known)))
    return (files(__package__) / "pages" / f"{code}.md").read_text(encoding="utf-8")


def read_page(code: str) -> Page:
    """A code's page taken apart; raises NoSuchPage, or PageFormat when the file does not have the
    sections.
    """
    return parse_page(code, page(code))


def parse_page(code: str, text: str) -> Page:
    """The text of a page taken apart; raises PageFormat."""
    found = _PAGE_FORM.match(text)
    if found is None:
        wanted = ", ".join(f"## {name}" for name in SECTIONS)
        raise PageFormat(f"page {code} must hold '# headline', then {wanted}, in that order")
    what, why = found["what"].strip(), found["why"].strip()
    if not what or not why:
        raise PageFormat(f"page {code}: a section is empty")
    example, mended = (_recipe(code, found[name]) for name in ("example", "mended"))
    return Page(code, found["headline"].strip(), what, why, example, mended)


def _recipe(code: str, section: str) -> str:
    block = _FENCED.match(section)
    if block is None or "```" in block["recipe"] or not block["recipe"].strip():
        raise PageFormat(f"page {code}: Example and Mended hold one block each, between ```mend and ```")
    return block["recipe"]
