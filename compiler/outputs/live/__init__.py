"""A page that shows a part in the browser: what is sent to it, the server that sends it, and the page as one
file.

`state_document` and `part_document` say what the page is told, `page_files` and `whole_page` make the page,
`Board` holds what is shown at the moment and `serve` hands it out.  Everything comes from this folder; no
other address is ever asked."""

from .documents import part_document, state_document
from .page import page_files, whole_page
from .server import Edition, EditionBoard, LiveServer, Unwanted, serve

__all__ = [
    "Edition",
    "EditionBoard",
    "LiveServer",
    "Unwanted",
    "page_files",
    "part_document",
    "serve",
    "state_document",
    "whole_page",
]
