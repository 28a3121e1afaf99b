"""Hands the page and what it shows to browsers: on this machine only, or with a key to the home network.

What must not happen, and what prevents it.  Another site's page in the same browser must not read the recipe:
the Host must be an address of ours (so a name that is made to point here is refused), and a request that
another origin makes is refused.  Nothing but the listed routes is answered, so no path leads to a file.  Only
GET and HEAD are known, bodies are never read, and the numbers of connections and of followers are limited.
On the home network nothing is answered without the cookie that a one-time key was exchanged for; keys and
cookies are random and compared in constant time."""

from __future__ import annotations

import contextlib
import json
import secrets
import socket
import threading
from collections.abc import Callable, Mapping
from http.cookies import CookieError, SimpleCookie
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from urllib.parse import parse_qs, urlsplit

from msgspec import Struct

from ...version import VERSION
from .page import page_files

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; "
    "base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
DRAWING_POLICY = "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'"
MOST_CONNECTIONS = 48
MOST_FOLLOWERS = 12
BEAT = 15.0  # s between two signs of life to a follower
PATIENCE = 10.0  # s that a request may take to arrive
COOKIE = "makegood"
_KINDS = {
    "state": "application/json",
    "part": "application/json",
    "readings": "application/json",
    "drawing": "image/svg+xml",
}


class Unwanted(Exception):
    """What was asked for can't be made; the text says why."""


class Edition(Struct, frozen=True):
    """What a save has come to.  `makers` answer `state`, `part`, `readings` and `drawing`; they may raise
    Unwanted.
    """

    number: int
    makers: Mapping[str, Callable[[], bytes]]


class EditionBoard:
    """The edition that is shown, and the wait for the next; each document is made once, when it is first
    asked for.
    """

    def __init__(self) -> None:
        self._changed = threading.Condition()
        self._edition: Edition | None = None
        self._closed = False
        self._made: dict[str, tuple[int, bytes]] = {}
        self._making = {name: threading.Lock() for name in _KINDS}

    def show(self, edition: Edition) -> None:
        """Put up an edition and tell all who wait."""
        with self._changed:
            self._edition = edition
            self._changed.notify_all()

    def close(self) -> None:
        """Send all who wait home."""
        with self._changed:
            self._closed = True
            self._changed.notify_all()

    def later_than(self, number: int, patience: float) -> int | None:
        """The number of the edition shown as soon as it is above `number`; `number` again after `patience`
        seconds; None at the end."""
        with self._changed:
            self._changed.wait_for(lambda: self._closed or self._number() > number, patience)
            return None if self._closed else max(number, self._number())

    def _number(self) -> int:
        return -1 if self._edition is None else self._edition.number

    def document(self, name: str) -> bytes:
        """A document of the edition shown.  Raises Unwanted where there is none."""
        with self._making[name]:
            edition = self._edition
            if edition is None or name not in edition.makers:
                raise Unwanted("there is none yet")
            kept = self._made.get(name)
            if kept is None or kept[0] != edition.number:
                kept = (edition.number, edition.makers[name]())
                self._made[name] = kept
            return kept[1]


class LiveServer(ThreadingHTTPServer):
    """The server of one page.  `keyed`: nothing without a key; `on_used` is told the next link when one was
    used.
    """

    daemon_threads = True
    block_on_close = False
    request_queue_size = 32

    def __init__(
        self,
        address: tuple[str, int],
        board: EditionBoard,
        keyed: bool,
        on_used: Callable[[], None] | None = None,
    ) -> None:
        self.board, self.keyed, self._on_used = board, keyed, on_used
        self.followers = threading.BoundedSemaphore(MOST_FOLLOWERS)
        self._room = threading.BoundedSemaphore(MOST_CONNECTIONS)
        self._lock = threading.Lock()
        self._key = secrets.token_urlsafe(24)
        self._cookies: list[str] = []
        super().__init__(address, _Handler)
        self.host = address[0]
        self.hosts = {f"{self.host}:{self.server_port}"}
        if self.host == "127.0.0.1":
            self.hosts.add(f"localhost:{self.server_port}")

    @property
    def link(self) -> str:
        """The address to open; with a key that is good for one use where keys are asked for."""
        tail = f"?key={self._key}" if self.keyed else ""
        return f"http://{self.host}:{self.server_port}/{tail}"

    def cookie_for(self, key: str) -> str | None:
        """The cookie that a key is exchanged for, None where it is not the key; a used key is worth nothing
        any more.
        """
        with self._lock:
            if not secrets.compare_digest(key.encode(), self._key.encode()):
                return None
            self._key = secrets.token_urlsafe(24)
            cookie = secrets.token_urlsafe(24)
            self._cookies = [*self._cookies[-MOST_FOLLOWERS:], cookie]
        if self._on_used is not None:
            self._on_used()
        return cookie

    def knows(self, cookie: str) -> bool:
        """True for a cookie given out by this server."""
        with self._lock:
            return any([secrets.compare_digest(cookie.encode(), one.encode()) for one in self._cookies])

    def process_request(
        self, request: socket.socket | tuple[bytes, socket.socket], client_address: object
    ) -> None:
        """Take a connection while there is room, else close it at once."""
        if not self._room.acquire(blocking=False):
            self.shutdown_request(request)
            return
        super().process_request(request, client_address)

    def process_request_thread(
        self, request: socket.socket | tuple[bytes, socket.socket], client_address: object
    ) -> None:
        """Answer one connection and make room again."""
        try:
            super().process_request_thread(request, client_address)
        finally:
            self._room.release()

    def handle_error(self, request: object, client_address: object) -> None:
        """A browser that goes away in the middle is no news."""


class _Handler(BaseHTTPRequestHandler):
    server: LiveServer
    server_version = f"makegood/{VERSION}"
    sys_version = ""
    timeout = PATIENCE

    def log_message(self, format: str, *args: object) -> None:
        """Nothing is logged: the terminal belongs to the recipe's messages."""

    def do_GET(self) -> None:
        """Answer a request, unless it must not be."""
        try:
            self._answer()
        except (ConnectionError, TimeoutError):
            self.close_connection = True

    do_HEAD = do_GET

    def _answer(self) -> None:
        if not self._is_ours():
            self._refuse(403, "this page is not for other sites")
            return
        try:
            route = urlsplit(self.path)
        except ValueError:
            self._refuse(404, "there is no such page")
            return
        cookie = self._admitted(route.query)
        if cookie is None:
            self._refuse(403, "the link has been used or is not whole; the terminal shows a fresh one")
        elif route.path in page_files():
            self._send(*page_files()[route.path], cookie=cookie)
        elif route.path == "/events":
            self._follow()
        elif route.path[1:] in _KINDS and route.path.startswith("/"):
            self._document(route.path[1:])
        else:
            self._refuse(404, "there is no such page")

    def _is_ours(self) -> bool:
        hosts, origins = self.headers.get_all("Host", []), self.headers.get_all("Origin", [])
        if len(hosts) != 1 or hosts[0].lower() not in self.server.hosts:
            return False
        if any(origin.lower() != f"http://{hosts[0].lower()}" for origin in origins):
            return False
        site, mode = self.headers.get("Sec-Fetch-Site", "same-origin"), self.headers.get("Sec-Fetch-Mode", "")
        # a link in a message may be followed; nothing else may come from another site
        return site in ("same-origin", "none") or mode == "navigate"

    def _admitted(self, query: str) -> str | None:
        """The cookie to set, empty where none is needed; None for a stranger."""
        if not self.server.keyed:
            return ""
        with contextlib.suppress(CookieError):
            held = SimpleCookie(self.headers.get("Cookie", "")).get(COOKIE)
            if held is not None and self.server.knows(held.value):
                return ""
        with contextlib.suppress(ValueError):
            for key in parse_qs(query, max_num_fields=4).get("key", [])[:1]:
                return self.server.cookie_for(key)
        return None

    def _document(self, name: str) -> None:
        try:
            body = self.server.board.document(name)
        except Unwanted as why:
            self._refuse(404, str(why))
            return
        self._send(_KINDS[name], body, policy=DRAWING_POLICY if name == "drawing" else POLICY)

    def _send(
        self, kind: str, body: bytes, status: int = 200, cookie: str = "", policy: str = POLICY
    ) -> None:
        self.send_response(status)
        self._say(kind, policy)
        self.send_header("Content-Length", str(len(body)))
        if cookie:
            self.send_header("Set-Cookie", f"{COOKIE}={cookie}; HttpOnly; SameSite=Strict; Path=/")
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(body)

    def _say(self, kind: str, policy: str) -> None:
        for name, value in (
            ("Content-Type", kind),
            ("Content-Security-Policy", policy),
            ("X-Content-Type-Options", "nosniff"),
            ("Referrer-Policy", "no-referrer"),
            ("Cross-Origin-Resource-Policy", "same-origin"),
            ("Cross-Origin-Opener-Policy", "same-origin"),
            ("Cache-Control", "no-store"),
        ):
            self.send_header(name, value)

    def _refuse(self, status: int, why: str) -> None:
        self._send("text/plain; charset=utf-8", (why + "\n").encode(), status)

    def _follow(self) -> None:
        """Server-sent events: the number of each edition as it comes, a sign of life between."""
        if not self.server.followers.acquire(blocking=False):
            self._refuse(503, "too many pages follow this recipe already")
            return
        try:
            self.send_response(200)
            self._say("text/event-stream", POLICY)
            self.end_headers()
            number, said = -1, b"retry: 1000\n\n"
            while self.command != "HEAD":
                self.wfile.write(said)
                later = self.server.board.later_than(number, BEAT)
                if later is None:
                    break
                said = (
                    f"data: {json.dumps({'number': later})}\n\n".encode() if later > number else b": here\n\n"
                )
                number = later
        finally:
            self.server.followers.release()
            self.close_connection = True


def serve(server: LiveServer) -> threading.Thread:
    """Answer requests on a thread of its own until `server.shutdown()`."""
    thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.1}, daemon=True)
    thread.start()
    return thread
