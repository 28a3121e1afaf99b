"""Where words go: messages to stderr, results to stdout, colour and a progress bar only where a person looks
on.

Streams may be pipes, files or terminals that can't show every letter; nothing here may fail for that."""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Iterable, Sequence
from typing import TextIO

from .diagnostics.cells import columns, harmless
from .diagnostics.terminal import render_terminal
from .diagnostics.types import Diagnostic

BAR = 24


class Screen:
    """The two streams of one run, and the bar that stands on the last line of stderr while several recipes
    are done.
    """

    def __init__(self, out: TextIO, err: TextIO) -> None:
        self._out = _lenient(out)
        self._err = _lenient(err)
        self._colour = colour_wanted(err)
        self._bar_wanted = err.isatty() and os.environ.get("TERM") != "dumb"
        self._bar_shown = False

    def result(self, text: str) -> None:
        """Write what was asked for to stdout."""
        self.clear()
        print(text, file=self._out)

    def tell(self, text: str) -> None:
        """Write words about the run to stderr."""
        self.clear()
        print(text, file=self._err)

    def show(self, found: Iterable[Diagnostic], name: str, lines: Sequence[str]) -> None:
        """Write messages to stderr, a blank line behind each, quoting `lines` of the recipe called `name`."""
        told = tuple(found)
        quoted = _showable(lines, self._err) if told else ()
        for diagnostic in told:
            self.tell(render_terminal(diagnostic, name, quoted, self._colour) + "\n")

    def progress(self, number: int, total: int, name: str) -> None:
        """Draw the bar anew: `number` of `total` is being done.  Nothing for a single recipe or without a
        terminal.
        """
        if not self._bar_wanted or total < 2:
            return
        self.clear()
        done = BAR * (number - 1) // total
        text = f"{'=' * done}{'.' * (BAR - done)} {number} of {total}  {harmless(name)}"
        room = shutil.get_terminal_size().columns - 1
        while columns(text) > room:
            text = text[:-1]
        self._err.write(text)
        self._err.flush()
        self._bar_shown = True

    def clear(self) -> None:
        """Take the bar away, so that the next words start on a clean line."""
        if self._bar_shown:
            self._err.write("\r\x1b[K")
            self._err.flush()
            self._bar_shown = False

    def flush(self) -> None:
        """Send everything on its way; raises BrokenPipeError when the reader has gone."""
        self.clear()
        self._out.flush()
        self._err.flush()


def colour_wanted(stream: TextIO) -> bool:
    """True on a terminal that knows colour, unless NO_COLOR is set to anything (no-color.org) or TERM says
    dumb.
    """
    if os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb" or not stream.isatty():
        return False
    return sys.platform != "win32" or "WT_SESSION" in os.environ or "TERM" in os.environ


def _lenient(stream: TextIO) -> TextIO:
    """The same stream, writing a mark in place of letters it has no code for."""
    reconfigure = getattr(stream, "reconfigure", None)
    if reconfigure is not None:
        reconfigure(errors="replace")
    return stream


def _showable(lines: Sequence[str], stream: TextIO) -> Sequence[str]:
    """Lines as the stream will show them: what it has no code for is replaced first, so that carets stay in
    place.
    """
    encoding = getattr(stream, "encoding", None) or "utf-8"
    if encoding.lower().replace("-", "") == "utf8":
        return lines
    return [line.encode(encoding, "replace").decode(encoding) for line in lines]
