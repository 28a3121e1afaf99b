"""The files of the folder `grammar` as text.

Found beside their package's own file: `importlib.resources` takes as long to load as all their lines to read.
"""

from __future__ import annotations

from importlib import import_module
from pathlib import Path


def grammar_text(name: str) -> str:
    """The text of a file of the grammar, such as `line.lark`."""
    home = import_module("makegood.grammar").__file__
    assert home is not None
    return Path(home).with_name(name).read_text(encoding="utf-8")
