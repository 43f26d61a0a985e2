"""A live preview: the site on this machine, built again whenever a design or catalogue changes."""

import functools
import io
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import BinaryIO, Final

from generator.library import Report, Request

LOOK_AGAIN_S: Final = 0.5
"""How often files are looked at: quicker than anyone reaches for the browser."""

BUILT: Final = "/.built"
"""Where a page asks how often the site was built."""

RELOAD: Final = f"""<script>
(function () {{
  var built;
  setInterval(function () {{
    fetch("{BUILT}").then(function (answer) {{ return answer.text(); }}).then(function (count) {{
      if (built !== undefined && built !== count) location.reload();
      built = count;
    }}).catch(function () {{}});
  }}, 1000);
}})();
</script>
""".encode()
"""Added to every page that is served, never to the pages that are written."""


class PortError(Exception):
    """The port cannot be had: another program has it, or it is not for everyone."""


@dataclass(slots=True)
class Preview:
    """What the server and the builder share.

    Attributes:
        site: The folder that is served.
        built: How often the site was built.
    """

    site: Path
    built: int = 0


def serve_library(
    request: Request,
    port: int,
    build: Callable[[Request], Report],
    tell: Callable[[Report, str], None],
    *,
    goes_on: Callable[[], bool] = lambda: True,
) -> None:
    """Build and serve the site, and build it again after every change, until stopped.

    Args:
        request: What is built; the site goes where `build` would put it.
        port: Of this machine alone; 0 for any that is free.
        build: Builds the library once; a plan with problems keeps its pages of before.
        tell: Is given what was built, and the address of the site.
        goes_on: Asked before each look at the files.

    Raises:
        PortError: The port cannot be had.
    """
    preview = Preview(request.output / "site")
    with _serve(preview, port) as address:
        seen: dict[Path, int] = {}
        while goes_on():
            found = snapshot(request.designs, request.shared)
            if found != seen:
                seen = found
                report = build(request)
                preview.built += 1
                tell(report, address)
            time.sleep(LOOK_AGAIN_S)


def snapshot(*folders: Path) -> dict[Path, int]:
    """Return every file below folders with the time it was last written, in nanoseconds."""
    return {
        path: path.stat().st_mtime_ns
        for folder in folders
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


@contextmanager
def _serve(preview: Preview, port: int) -> Iterator[str]:
    """Serve a folder in threads of its own; give its address."""
    handler = functools.partial(_Handler, preview)
    try:
        server = ThreadingHTTPServer(("127.0.0.1", port), handler)
    except OSError as error:
        raise PortError(f"port {port}: {error.strerror}; try another one") from error
    with server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        try:
            yield f"http://127.0.0.1:{server.server_address[1]}/"
        finally:
            server.shutdown()


class _Handler(SimpleHTTPRequestHandler):
    """Serves the site as it is at the moment; pages ask for newer ones."""

    def __init__(self, preview: Preview, *arguments: object) -> None:
        self._preview = preview
        super().__init__(*arguments, directory=str(preview.site))  # type: ignore[arg-type]

    def send_head(self) -> io.BytesIO | BinaryIO | None:
        """Send the head of an answer and return its body; pages get the script that reloads."""
        if self.path == BUILT:
            return self._answer(str(self._preview.built).encode(), "text/plain")
        path = Path(self.translate_path(self.path))
        page = path / "index.html" if path.is_dir() else path
        if page.suffix == ".html" and page.is_file():
            return self._answer(page.read_bytes() + RELOAD, "text/html; charset=utf-8")
        return super().send_head()

    def log_message(self, *_: object) -> None:
        """Say nothing: the builder tells what matters."""

    def _answer(self, body: bytes, kind: str) -> io.BytesIO:
        self.send_response(200)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(body)))
        self.send_header("Cache-Control", "no-store")
        self.end_headers()
        return io.BytesIO(body)
