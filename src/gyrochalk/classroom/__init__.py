"""The server that shows a workspace's built pages to this machine's browser."""

from gyrochalk.classroom.server import create_application, open_port
from gyrochalk.classroom.server import serve as serve_pages
from gyrochalk.classroom.shelf import Shelf, Shown

__all__ = ["Shelf", "Shown", "create_application", "open_port", "serve_pages"]
