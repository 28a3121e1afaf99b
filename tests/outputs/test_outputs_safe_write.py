"""A file is written whole or left alone: crashes are made by hand at every step."""

from __future__ import annotations

import errno
import os
import stat

import pytest
from makegood.diagnostics.types import Trouble
from makegood.outputs import safe_write, write_whole

OLD, NEW = b"the part that fits", b"a longer new one" * 100
posix_only = pytest.mark.skipif(os.name != "posix", reason="permission bits and links as POSIX has them")


def code_of(path, data=NEW) -> str:
    with pytest.raises(Trouble) as caught:
        write_whole(path, data)
    assert str(caught.value)
    return caught.value.code


def listing(folder) -> list[str]:
    return sorted(os.listdir(folder))


def test_new_and_old_files_are_written(tmp_path):
    target = tmp_path / "part \u00fc.3mf"
    for data in (OLD, NEW, b""):
        write_whole(target, data)
        assert target.read_bytes() == data
    write_whole(str(target), OLD)
    assert target.read_bytes() == OLD
    assert listing(tmp_path) == [target.name]


def test_a_bare_name_goes_into_the_folder_at_work(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    write_whole("part.stl", NEW)
    assert listing(tmp_path) == ["part.stl"]


@pytest.mark.parametrize("step", ["replace", "fsync", "open"])
@pytest.mark.parametrize("crash", [KeyboardInterrupt(), SystemExit(1), MemoryError()])
@pytest.mark.parametrize("there", [True, False])
def test_a_crash_leaves_the_old_file_and_no_litter(tmp_path, monkeypatch, step, crash, there):
    target = tmp_path / "part.3mf"
    if there:
        target.write_bytes(OLD)

    def fail(*_args, **_named):
        raise crash

    with monkeypatch.context() as patched:
        if step == "open":
            patched.setattr(safe_write.os, "open", fail)
        else:
            patched.setattr(safe_write.os, step, fail)
        with pytest.raises(type(crash)):
            write_whole(target, NEW)
    assert listing(tmp_path) == (["part.3mf"] if there else [])
    assert not there or target.read_bytes() == OLD


class FullFile:
    """A file that takes half of what it is given and then finds the disk full."""

    def __init__(self, descriptor, _mode):
        self.held = os.fdopen(descriptor, "wb")

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.held.close()

    def write(self, data):
        self.held.write(data[: len(data) // 2])
        self.held.flush()
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


def test_a_full_disk_half_way_leaves_the_old_file_and_no_litter(tmp_path, monkeypatch):
    target = tmp_path / "part.3mf"
    target.write_bytes(OLD)
    with monkeypatch.context() as patched:
        patched.setattr(safe_write, "open", FullFile, raising=False)
        assert code_of(target) == "disk-full"
    assert target.read_bytes() == OLD
    assert listing(tmp_path) == ["part.3mf"]


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="a device that is always full")
def test_a_device_that_is_full_says_so():
    assert code_of("/dev/full") == "disk-full"


@pytest.mark.parametrize(
    ("number", "code"),
    [
        (errno.EACCES, "no-permission"),
        (errno.EPERM, "no-permission"),
        (errno.EROFS, "no-permission"),
        (errno.ENOSPC, "disk-full"),
        (errno.EIO, "cannot-write"),
        (errno.EISDIR, "is-a-folder"),
    ],
)
def test_each_refusal_of_the_system_has_its_code(tmp_path, monkeypatch, number, code):
    target = tmp_path / "part.3mf"
    target.write_bytes(OLD)

    def refuse(*_):
        raise OSError(number, os.strerror(number))

    with monkeypatch.context() as patched:
        patched.setattr(safe_write.os, "replace", refuse)
        assert code_of(target) == code
    assert target.read_bytes() == OLD
    assert listing(tmp_path) == ["part.3mf"]


def test_places_where_no_file_can_be(tmp_path):
    (tmp_path / "file").write_bytes(OLD)
    assert code_of(tmp_path / "no" / "part.3mf") == "folder-missing"
    assert code_of(tmp_path / "file" / "part.3mf") == "folder-missing"
    assert code_of(tmp_path) == "is-a-folder"
    assert code_of("") == "cannot-write"
    assert code_of(str(tmp_path / "a\0b")) == "cannot-write"
    assert code_of(tmp_path / ("n" * 400)) == "cannot-write"
    assert listing(tmp_path) == ["file"]
    assert (tmp_path / "file").read_bytes() == OLD


@posix_only
def test_permissions_are_kept_and_new_files_get_the_usual_ones(tmp_path):
    target, plain = tmp_path / "part.3mf", tmp_path / "plain"
    target.write_bytes(OLD)
    target.chmod(0o640)
    write_whole(target, NEW)
    assert stat.S_IMODE(target.stat().st_mode) == 0o640
    plain.write_bytes(OLD)
    write_whole(tmp_path / "fresh", NEW)
    assert (tmp_path / "fresh").stat().st_mode == plain.stat().st_mode


@posix_only
@pytest.mark.skipif(hasattr(os, "geteuid") and os.geteuid() == 0, reason="the superuser may write anything")
def test_what_is_write_protected_stays(tmp_path):
    target = tmp_path / "part.3mf"
    target.write_bytes(OLD)
    target.chmod(0o444)
    assert code_of(target) == "no-permission"
    assert target.read_bytes() == OLD
    tmp_path.chmod(0o555)
    try:
        assert code_of(tmp_path / "new") == "no-permission"
    finally:
        tmp_path.chmod(0o755)


def test_a_write_protected_file_is_asked_about_before_it_is_touched(tmp_path, monkeypatch):
    target = tmp_path / "part.3mf"
    target.write_bytes(OLD)
    with monkeypatch.context() as patched:
        patched.setattr(safe_write.os, "access", lambda _path, _mode: False)
        assert code_of(target) == "no-permission"
    assert target.read_bytes() == OLD


@posix_only
def test_a_link_stays_a_link_and_its_file_is_renewed(tmp_path):
    (tmp_path / "shelf").mkdir()
    real, link, loose = tmp_path / "shelf" / "real.3mf", tmp_path / "link.3mf", tmp_path / "loose.3mf"
    real.write_bytes(OLD)
    link.symlink_to(real)
    write_whole(link, NEW)
    assert link.is_symlink()
    assert real.read_bytes() == NEW
    loose.symlink_to("shelf/later.3mf")  # to a file that is not there yet
    write_whole(loose, OLD)
    assert loose.is_symlink()
    assert (tmp_path / "shelf" / "later.3mf").read_bytes() == OLD
    assert listing(tmp_path / "shelf") == ["later.3mf", "real.3mf"]


@posix_only
def test_links_in_a_circle_are_answered(tmp_path):
    (tmp_path / "a").symlink_to(tmp_path / "b")
    (tmp_path / "b").symlink_to(tmp_path / "a")
    assert code_of(tmp_path / "a") == "cannot-write"
    assert listing(tmp_path) == ["a", "b"]


@posix_only
def test_a_pipe_is_written_straight():
    write_whole(os.devnull, NEW)
    assert not stat.S_ISREG(os.stat(os.devnull).st_mode)


def test_a_half_written_file_of_an_earlier_crash_is_not_in_the_way(tmp_path):
    (tmp_path / f".makegood-{os.getpid()}-0.part").write_bytes(b"left behind")
    write_whole(tmp_path / "part.3mf", NEW)
    assert (tmp_path / "part.3mf").read_bytes() == NEW
    assert len(listing(tmp_path)) == 2
