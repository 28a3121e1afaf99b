"""Which statements lean on which: what leans on one that was not understood is left out as well."""

from __future__ import annotations

from .types import Entry, Pass, Ref


def without(entries: dict[str, Entry], unread: set[str]) -> dict[str, Entry]:
    """The entries that lean on nothing that was not understood; what leans on it joins `unread`."""
    while True:
        lost = {name for name, entry in entries.items() if leans_on(entry) & unread}
        if not lost:
            return entries
        unread |= lost
        entries = {name: entry for name, entry in entries.items() if name not in lost}


def leans_on(entry: Entry) -> set[str]:
    """The names of all things that an entry speaks of."""
    found: set[str] = set()
    for claim in entry.claims:
        for _, value in claim.values:
            for one in value if isinstance(value, tuple) else (value,):
                ref = one.thing if isinstance(one, Pass) else one
                if isinstance(ref, Ref):
                    found.add(ref.name)
    return found
