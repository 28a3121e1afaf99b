"""What `view` shows: each save compiled into an edition; the last good part stays when a save makes none."""

from __future__ import annotations

import json
from collections.abc import Callable
from functools import cache
from pathlib import Path

from .. import compile_file
from ..diagnostics.cells import harmless
from ..diagnostics.types import Diagnostic, Severity, Trouble
from ..model import card_of
from ..outputs.live import Edition, EditionBoard, Unwanted, part_document, state_document, whole_page
from ..outputs.readings import readings_json
from ..result import Result
from ..source import Source
from ..terminal import Screen
from .running import apologise, counted, why_not


class Editions:
    """Compiles the recipe anew at each `take` and puts what came of it on the board."""

    def __init__(self, path: Path, board: EditionBoard, screen: Screen) -> None:
        self._path, self._board, self._screen = path, board, screen
        self._number = 0
        self._good: tuple[int, dict[str, Callable[[], bytes]]] | None = None

    def take(self) -> None:
        """Compile the file as it is now; whatever is wrong with it becomes a message on the page."""
        self._number += 1
        result = self._compiled()
        if result.ok:
            try:
                part = _part(result, self._number)
                self._good = (
                    self._number,
                    {"part": lambda: part, "drawing": cache(lambda: _drawing(result))},
                )
            except Exception as error:
                result = self._refused(*self._owned_up(error))
        self._screen.tell(f"{harmless(self._path.name)}: {counted(result.diagnostics) or 'good'}")
        self._screen.flush()
        self._board.show(self._edition(result))

    def _compiled(self) -> Result:
        try:
            return compile_file(self._path)
        except OSError as error:
            return self._refused("", why_not(error, Path(self._path.name)))
        except Trouble as trouble:
            return self._refused(trouble.code, trouble.says, trouble.advice)
        except Exception as error:
            return self._refused(*self._owned_up(error))

    def _owned_up(self, error: Exception) -> tuple[str, str]:
        apologise(error, self._path, self._screen)
        return (
            "",
            (
                "makegood tripped over this; the fault is in the "
                "compiler, and the terminal says how to report it"
            ),
        )

    def _refused(self, code: str, says: str, advice: tuple[str, ...] = ()) -> Result:
        told = Diagnostic(code, Severity.ERROR, says, advice=advice)
        return Result.refused(Source(self._path.name, (), ()), (told,))

    def _edition(self, result: Result) -> Edition:
        number, good = self._number, self._good
        state = state_document(
            result.source,
            card_of(result.claims),
            result.heads,
            result.diagnostics,
            number,
            None if good is None else good[0],
        )
        makers: dict[str, Callable[[], bytes]] = {
            "state": lambda: _json(state),
            "readings": lambda: readings_json(result.readings(), result.title, result.taken).encode(),
        }
        return Edition(number, {**makers, **(good[1] if good is not None else {})})


def _drawing(result: Result) -> bytes:
    try:
        return result.drawing("svg")
    except Trouble as trouble:
        raise Unwanted(trouble.says) from None


def _part(result: Result, number: int) -> bytes:
    assert result.part is not None
    return _json(part_document(result.made, result.part, number))


def _json(value: object) -> bytes:
    return json.dumps(value, sort_keys=True, allow_nan=False, separators=(",", ":")).encode()


def whole_page_of(result: Result) -> bytes:
    """The page of a good recipe as one file: the same bytes for the same recipe."""
    assert result.part is not None
    state = state_document(result.source, card_of(result.claims), result.heads, result.diagnostics, 1, 1)
    part = part_document(result.made, result.part, 1)
    try:
        drawing = _drawing(result)
    except Unwanted:
        drawing = None
    readings = json.loads(readings_json(result.readings(), result.title, result.taken))
    return whole_page(state, part, readings, drawing)
