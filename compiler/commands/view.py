"""`view`: a page in the browser that shows a part and follows each save of its recipe.

One thread looks after the files and compiles, the others answer the browser.  What is saved while a recipe is
compiled is compiled after it, once."""

from __future__ import annotations

import argparse
import contextlib
from pathlib import Path
from typing import TYPE_CHECKING

from ..diagnostics.cells import harmless
from ..terminal import Screen
from .running import GOOD, RECIPE_WRONG, WrongUsage, compiled, for_each, put, recipes_named

if TYPE_CHECKING:
    from ..outputs.live import EditionBoard, LiveServer


def options(parser: argparse.ArgumentParser) -> None:
    """What may stand behind `view`."""
    parser.add_argument("recipes", nargs=1, metavar="RECIPE")
    parser.add_argument(
        "--save", metavar="FILE", help="write the page as one .html file to keep or send, and leave"
    )
    parser.add_argument(
        "--port", type=_port, default=0, metavar="N", help="the port to answer on (default: any free one)"
    )
    parser.add_argument(
        "--no-open", action="store_true", help="print the address and leave the browser alone"
    )
    parser.add_argument(
        "--share",
        action="store_true",
        help="also answer on the home network, to whoever has the link with the key",
    )


def run(chosen: argparse.Namespace, screen: Screen) -> int:
    """Show a recipe until Ctrl-C, or write the page once."""

    def work(path: Path) -> int:
        if chosen.save is not None:
            return _save(path, chosen.save, screen)
        path.open("rb").close()
        _follow(path, chosen, screen)
        return GOOD

    return for_each(recipes_named(chosen.recipes), screen, work, "shown")


def _save(path: Path, output: str, screen: Screen) -> int:
    from .viewing import whole_page_of

    goal = Path(output)
    if goal.suffix.lower() not in (".html", ".htm"):
        raise WrongUsage(f"can't tell what to write from the name {output!r}; end it in .html")
    result = compiled(path, screen)
    if not result.ok:
        return RECIPE_WRONG
    put(goal, whole_page_of(result))
    screen.result(f"{harmless(str(path))} -> {harmless(str(goal))}")
    return GOOD


def _follow(path: Path, chosen: argparse.Namespace, screen: Screen) -> None:
    from ..outputs.live import EditionBoard, serve
    from .viewing import Editions
    from .watching import watch

    board = EditionBoard()
    servers = _servers(board, chosen, screen)
    serving = []
    try:
        for server in servers:
            serve(server)
            serving.append(server)
            screen.result(
                server.link
                if not server.keyed
                else f"for one device on the home network, good once:  {server.link}"
            )
        if chosen.share:
            screen.tell(
                "whoever opens that link first sees the recipe, and "
                "it crosses the network as plain text; Ctrl-C ends it"
            )
        screen.flush()
        if not chosen.no_open:
            _open(servers[0].link)
        watch(path, Editions(path, board, screen).take)
    finally:
        board.close()
        for server in serving:
            server.shutdown()
            server.server_close()


def _servers(board: EditionBoard, chosen: argparse.Namespace, screen: Screen) -> list[LiveServer]:
    """One for this machine, and one for the home network where that was asked for.  Raises WrongUsage."""
    from ..outputs.live import LiveServer

    def tell_next() -> None:
        screen.tell(f"the link was used; for another device:  {servers[1].link}")

    try:
        servers = [LiveServer(("127.0.0.1", chosen.port), board, keyed=False)]
        if chosen.share:
            servers.append(LiveServer((_home_address(), 0), board, keyed=True, on_used=tell_next))
    except OSError as error:
        raise WrongUsage(
            f"can't answer on port {chosen.port}: {(error.strerror or 'it is not free').lower()}"
        ) from None
    return servers


def _home_address() -> str:
    """This machine's address on the home network.  Nothing is sent: the system is only asked which way it
    would go.
    """
    import ipaddress
    import socket

    with contextlib.suppress(OSError), socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asked:
        asked.connect(("192.0.2.1", 9))  # an address kept for documents (RFC 5737)
        found = ipaddress.ip_address(asked.getsockname()[0])
        if found.is_private and not found.is_loopback and not found.is_unspecified:
            return str(found)
    raise WrongUsage(
        "--share found no home network that this machine is on; without it the page is shown on this machine"
    )


def _open(link: str) -> None:
    import threading
    import webbrowser

    threading.Thread(target=webbrowser.open, args=(link,), daemon=True).start()


def _port(text: str) -> int:
    try:
        port = int(text)
    except ValueError:
        port = -1
    if not 0 <= port <= 65535:
        raise argparse.ArgumentTypeError(f"{text!r} should be a port, a whole number up to 65535")
    return port
