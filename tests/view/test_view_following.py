"""The command as a process: it answers on loopback only, takes a burst of saves as a few, and ends on
Ctrl-C.
"""

from __future__ import annotations

import json
import os
import signal
import socket
import sys
import time
import urllib.request
from argparse import Namespace
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest
from makegood.cli import main
from makegood.commands import view
from makegood.commands.running import WrongUsage
from makegood.commands.watching import files_spoken_of

from .showing import PLATE, viewing

BOARD = """recipe "board"
block body
    long       30.0
    wide       20.0
    thick      5.0
use pin "pin.mend"
    on         body.front
    datum      stem
    from body.left centre 10.0
    from body.bottom centre 10.0
"""
PIN = """recipe "pin"
round stem
    across     6.0
turning pin
    around     stem
    across     6.0 from 0 to 4.0
"""


def _part(address: str) -> dict[str, Any]:
    with urllib.request.urlopen(address + "part", timeout=60) as answer:
        told: dict[str, Any] = json.loads(answer.read())
        return told


def _state(address: str) -> dict[str, Any]:
    with urllib.request.urlopen(address + "state", timeout=60) as answer:
        told: dict[str, Any] = json.loads(answer.read())
        return told


def _when(address: str, test: Any, patience: float = 60.0) -> dict[str, Any]:
    """The state as soon as it is as wanted."""
    end = time.monotonic() + patience
    while True:
        try:
            told = _state(address)
            if test(told):
                return told
        except OSError:
            told = {}
        assert time.monotonic() < end, told
        time.sleep(0.05)


@pytest.fixture
def plate(tmp_path: Path) -> Path:
    path = tmp_path / "plate.mend"
    path.write_text(PLATE, encoding="utf-8")
    return path


def test_a_flood_of_saves_is_compiled_a_few_times(plate: Path):
    """A thousand saves in a burst; the last of them is what is shown in the end."""
    with viewing(plate) as (address, _):
        _when(address, lambda told: told["number"] == 1)
        for number in range(1000):
            plate.write_text(PLATE + f"# {number}\n", encoding="utf-8")
        told = _when(address, lambda told: told["lines"][-1:] == ["# 999"])
        print("compiled", told["number"], "times")
        assert told["number"] < 50


def test_the_last_good_part_stays(plate: Path):
    with viewing(plate) as (address, _):
        good = _when(address, lambda told: told["ok"])
        assert good["part"] == good["number"]
        plate.write_text(PLATE + "nonsense here\n", encoding="utf-8")
        bad = _when(address, lambda told: not told["ok"])
        assert bad["part"] == good["number"] < bad["number"]
        assert bad["messages"]
        plate.unlink()
        gone = _when(address, lambda told: "there is no file" in str(told["messages"]))
        assert gone["part"] == good["number"]
        plate.write_bytes(b"\xff\xfe\x00")
        _when(address, lambda told: "not UTF-8" in str(told["messages"]))
        beside = plate.with_name("new.part")
        beside.write_text(PLATE, encoding="utf-8")
        os.replace(beside, plate)
        assert _when(address, lambda told: told["ok"])["counts"] == ""


def test_a_save_of_a_used_file_is_followed_too(tmp_path: Path):
    """The pin of another file is 4 high, then 9; a file that is not there yet is waited for; none outside is
    looked at.
    """
    board, pin = tmp_path / "board.mend", tmp_path / "pin.mend"
    pin.write_text(PIN, encoding="utf-8")
    board.write_text(BOARD, encoding="utf-8")
    with viewing(board) as (address, _):
        _when(address, lambda told: told["ok"])
        assert _part(address)["box"] == [30.0, 20.0, 9.0]
        pin.write_text(PIN.replace("4.0", "9.0"), encoding="utf-8")
        _when(address, lambda _: _part(address)["box"] == [30.0, 20.0, 14.0])
        os.replace(pin, tmp_path / "gone.mend")
        _when(address, lambda told: not told["ok"])
        os.replace(tmp_path / "gone.mend", pin)
        _when(address, lambda told: told["ok"])


def test_only_files_below_the_folder_are_watched(tmp_path: Path):
    inner = tmp_path / "inner"
    inner.mkdir()
    (tmp_path / "outside.stl").write_text("solid", encoding="utf-8")
    (inner / "pin.mend").write_text('recipe "pin"\nblank a "deep.3mf"\nuse b "pin.mend"\n', encoding="utf-8")
    names = ["pin.mend", "../outside.stl", "/etc/hosts.stl", "later.STL", "wedge"]
    text = 'recipe "all"\n' + "".join(f'use x{i} "{name}"\n' for i, name in enumerate(names))
    path = inner / "all.mend"
    path.write_text(text, encoding="utf-8")
    found = files_spoken_of(path)
    assert found[0] == path
    assert set(found[1:]) == {inner / "pin.mend", inner / "later.STL", inner / "deep.3mf"}


def test_it_answers_on_this_machine_only(plate: Path):
    with viewing(plate) as (address, child):
        parts = urlsplit(address)
        assert parts.hostname == "127.0.0.1"
        assert parts.port is not None
        if sys.platform == "linux":
            listening = _listening(child.pid)
            assert listening == {("127.0.0.1", parts.port)}


def _listening(process: int) -> set[tuple[str, int]]:
    """Addresses a process listens on, from /proc (IPv4 and IPv6)."""
    links = [os.readlink(one) for one in Path(f"/proc/{process}/fd").iterdir() if one.is_symlink()]
    own = {link[8:-1] for link in links if link.startswith("socket:[")}
    found = set()
    for table in ("tcp", "tcp6"):
        for row in Path(f"/proc/{process}/net/{table}").read_text().splitlines()[1:]:
            cells = row.split()
            if cells[3] == "0A" and cells[9] in own:
                host, port = cells[1].split(":")
                shown = socket.inet_ntoa(bytes.fromhex(host)[::-1]) if len(host) == 8 else host
                found.add((shown, int(port, 16)))
    return found


@pytest.mark.skipif(os.name == "nt", reason="sends the signal of a POSIX terminal")
def test_ctrl_c_ends_it_in_order(plate: Path):
    with viewing(plate) as (address, child):
        _when(address, lambda told: told["ok"])
        child.send_signal(signal.SIGINT)
        assert child.wait(timeout=60) == 130
        assert child.stderr is not None
        told = child.stderr.read()
        assert "Traceback" not in told
        assert "plate.mend: good" in told
        with pytest.raises(OSError, match="refused"):
            urllib.request.urlopen(address, timeout=5)


def test_wrong_words_are_answered(plate: Path, capsys: pytest.CaptureFixture[str]):
    assert main(["view", str(plate), "--port", "70000"]) == 2
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        assert main(["view", str(plate), "--no-open", "--port", str(taken.getsockname()[1])]) == 2
    assert "can't answer on port" in capsys.readouterr().err
    assert main(["view", str(plate.parent), "--no-open"]) == 2


def test_a_shared_page_has_a_key_and_an_address_at_home(plate: Path, monkeypatch: pytest.MonkeyPatch):
    """The second server asks for a key, the first does not; a public address is never taken."""
    from makegood.outputs.live import EditionBoard

    class Asked:
        def __init__(self, *_: object) -> None: ...
        def __enter__(self) -> Asked:
            return self

        def __exit__(self, *_: object) -> None: ...
        def connect(self, _: object) -> None: ...
        def getsockname(self) -> tuple[str, int]:
            return (self.address, 9)

        address = "192.168.7.5"

    monkeypatch.setattr(socket, "socket", Asked)
    assert view._home_address() == "192.168.7.5"
    for other in ("8.8.8.8", "127.0.0.1", "0.0.0.0"):
        monkeypatch.setattr(Asked, "address", other)
        with pytest.raises(WrongUsage, match="no home network"):
            view._home_address()
    monkeypatch.undo()
    monkeypatch.setattr(view, "_home_address", lambda: "127.0.0.1")
    open_one, shared = view._servers(EditionBoard(), Namespace(port=0, share=True), None)  # type: ignore[arg-type]
    try:
        assert not open_one.keyed
        assert shared.keyed
        assert "?key=" in shared.link
        assert "key" not in open_one.link
    finally:
        open_one.server_close()
        shared.server_close()
