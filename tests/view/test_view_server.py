"""The server refuses what is not its own page: other hosts, other origins, other paths, other verbs, too many
at once.
"""

from __future__ import annotations

import http.client
import json
import socket
from collections.abc import Iterator

import pytest
from makegood.outputs.live import Edition, EditionBoard, LiveServer, serve
from makegood.outputs.live.server import MOST_CONNECTIONS, MOST_FOLLOWERS

Answer = tuple[int, dict[str, str], bytes]


def _edition(number: int) -> Edition:
    return Edition(number, {"state": lambda: json.dumps({"secret of": number}).encode()})


@pytest.fixture
def board() -> EditionBoard:
    made = EditionBoard()
    made.show(_edition(1))
    return made


@pytest.fixture
def server(board: EditionBoard) -> Iterator[LiveServer]:
    yield from _served(board, keyed=False)


@pytest.fixture
def keyed(board: EditionBoard) -> Iterator[LiveServer]:
    yield from _served(board, keyed=True)


def _served(board: EditionBoard, keyed: bool) -> Iterator[LiveServer]:
    made = LiveServer(("127.0.0.1", 0), board, keyed)
    thread = serve(made)
    yield made
    board.close()
    made.shutdown()
    made.server_close()
    thread.join(10)
    assert not thread.is_alive()


def _ask(server: LiveServer, path: str = "/state", verb: str = "GET", **headers: str) -> Answer:
    """One request with exactly these headers; `Host` is the right one unless given."""
    line = http.client.HTTPConnection("127.0.0.1", server.server_port, timeout=30)
    line.putrequest(verb, path, skip_host=True, skip_accept_encoding=True)
    for name, value in {"Host": f"127.0.0.1:{server.server_port}", **headers}.items():
        if value:
            line.putheader(name.replace("_", "-"), value)
    line.endheaders()
    answer = line.getresponse()
    told = (answer.status, {name.lower(): value for name, value in answer.getheaders()}, answer.read())
    line.close()
    return told


def test_its_own_page_is_answered(server: LiveServer):
    for path, kind in (
        ("/", "text/html"),
        ("/page.css", "text/css"),
        ("/page.js", "text/javascript"),
        ("/three.js", "text/j"),
    ):
        status, headers, body = _ask(server, path)
        assert status == 200
        assert headers["content-type"].startswith(kind)
        assert int(headers["content-length"]) == len(body) > 1000
        assert "default-src 'none'" in headers["content-security-policy"]
        assert headers["x-content-type-options"] == "nosniff"
    assert json.loads(_ask(server)[2]) == {"secret of": 1}
    assert _ask(server, verb="HEAD")[2] == b""


@pytest.mark.parametrize(
    "host", ["", "evil.example", "evil.example:{port}", "127.0.0.1", "127.0.0.1:1", "0.0.0.0:{port}"]
)
def test_a_name_that_was_made_to_point_here_is_refused(server: LiveServer, host: str):
    status, _, body = _ask(server, Host=host.format(port=server.server_port))
    assert status == 403
    assert b"secret" not in body


@pytest.mark.parametrize(
    "origin", ["http://evil.example", "null", "http://127.0.0.1:1", "https://127.0.0.1:{port}"]
)
def test_a_request_from_another_origin_is_refused(server: LiveServer, origin: str):
    status, headers, body = _ask(server, Origin=origin.format(port=server.server_port))
    assert status == 403
    assert b"secret" not in body
    assert "access-control-allow-origin" not in headers
    assert _ask(server, Origin=f"http://127.0.0.1:{server.server_port}")[0] == 200


def test_a_request_made_by_another_site_is_refused(server: LiveServer):
    assert _ask(server, Sec_Fetch_Site="cross-site", Sec_Fetch_Mode="no-cors")[0] == 403
    assert _ask(server, Sec_Fetch_Site="same-origin", Sec_Fetch_Mode="cors")[0] == 200


@pytest.mark.parametrize(
    "path",
    [
        "/../../pyproject.toml",
        "/%2e%2e/server.py",
        "/server.py",
        "/page.html",
        "//etc/passwd",
        "/state/",
        "state",
        "http://[",
        "/" + "a" * 5000,
        "/part",
    ],
)
def test_no_other_path_leads_anywhere(server: LiveServer, path: str):
    status, _, body = _ask(server, path)
    assert status in (400, 404)
    assert len(body) < 1000


@pytest.mark.parametrize("verb", ["POST", "PUT", "DELETE", "OPTIONS", "TRACE", "CONNECT"])
def test_no_other_verb_is_known(server: LiveServer, verb: str):
    assert _ask(server, verb=verb)[0] == 501


def test_noise_ends_in_an_answer_or_a_closed_line(server: LiveServer):
    many = b"".join(b"A%d: b\r\n" % number for number in range(300))
    for noise in (
        b"\0" * 100 + b"\r\n\r\n",
        b"GET / HTTP/9.9\r\n\r\n",
        b"GET /" + b"x" * 70_000 + b"\r\n\r\n",
        b"GET /\xe4 HTTP/1.1\r\n\r\n",
        b"GET / HTTP/1.1\r\n" + many + b"\r\n",
    ):
        with socket.create_connection(("127.0.0.1", server.server_port), timeout=30) as line:
            line.sendall(noise)
            try:
                said = line.recv(4096)
            except ConnectionResetError:
                said = b""
            assert b"secret" not in said
            assert b"200" not in said.split(b"\r\n")[0]
    assert _ask(server)[0] == 200


def test_more_connections_than_there_is_room_for_are_closed(server: LiveServer):
    lines = [
        socket.create_connection(("127.0.0.1", server.server_port), timeout=30)
        for _ in range(MOST_CONNECTIONS + 3)
    ]
    try:
        assert lines[-1].recv(10) == b""
    finally:
        for line in lines:
            line.close()


def _events(server: LiveServer) -> socket.socket:
    line = socket.create_connection(("127.0.0.1", server.server_port), timeout=30)
    line.sendall(f"GET /events HTTP/1.1\r\nHost: 127.0.0.1:{server.server_port}\r\n\r\n".encode())
    return line


def _until(line: socket.socket, wanted: bytes) -> bytes:
    said = b""
    while wanted not in said:
        more = line.recv(4096)
        assert more, said
        said += more
    return said


def test_followers_are_told_of_each_edition(server: LiveServer, board: EditionBoard):
    with _events(server) as line:
        _until(line, b'data: {"number": 1}\n\n')
        board.show(_edition(2))
        _until(line, b'data: {"number": 2}\n\n')
        assert json.loads(_ask(server)[2]) == {"secret of": 2}


def test_there_is_an_end_to_followers(server: LiveServer):
    lines = [_events(server) for _ in range(MOST_FOLLOWERS)]
    try:
        for line in lines:
            _until(line, b"data: ")
        assert _ask(server, "/events")[0] == 503
    finally:
        for line in lines:
            line.close()


def test_nothing_without_the_key(keyed: LiveServer):
    for path in (
        "/",
        "/state",
        "/events",
        "/page.js",
        "/?key=",
        "/?key=guess",
        "/state?key=" + "a" * 32,
        "/?key=%ff&key=x",
    ):
        assert _ask(keyed, path)[0] == 403
    assert _ask(keyed, Cookie="makegood=guess")[0] == 403
    assert _ask(keyed, Cookie="makegood=; makegood")[0] == 403


def test_a_key_is_good_once_and_gives_a_cookie(keyed: LiveServer):
    path = "/" + keyed.link.split("/")[-1]
    assert len(path.split("=")[1]) >= 32
    status, headers, _ = _ask(keyed, path)
    assert status == 200
    told = headers["set-cookie"]
    assert "HttpOnly" in told
    assert "SameSite=Strict" in told
    cookie = told.split(";")[0]
    assert cookie.split("=")[1] not in path
    assert _ask(keyed, path)[0] == 403
    assert _ask(keyed, Cookie=cookie)[0] == 200
    assert _ask(keyed, "/page.js", Cookie=f"other=1; {cookie}")[0] == 200
    assert _ask(keyed, Cookie=cookie + "x")[0] == 403
    assert "/" + keyed.link.split("/")[-1] != path
