"""``python -m tests.benchmarks.lighthouse``: what Lighthouse says of the site on a phone.

Builds the demo library unless ``--site FOLDER`` names a finished one, serves it packed as a real
server would, and prints the four scores of the largest page of every kind beside the aims: the
median of a few runs, because whatever else the machine does counts against the page. The program
comes from the npm package ``lighthouse``: ``--program`` names it, else one is looked for on the
path. It is no part of this project; where it is absent, that is said and nothing is measured.
"""

import argparse
import functools
import gzip
import http.server
import json
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from http import HTTPStatus
from pathlib import Path

from tests.page_kinds import pages_by_kind

ROOT = Path(__file__).resolve().parents[2]
CHROMIUM = "/usr/bin/chromium"
AIMS = {"performance": 90, "accessibility": 100, "best-practices": 100, "seo": 100}
RUNS = 3
PACKED = {".html", ".css", ".js", ".svg", ".xml", ".json"}
FLAGS = "--headless --no-sandbox --disable-gpu --disable-background-networking"
ABSENT = (
    "Lighthouse is not installed, so nothing was measured. With Node: npm install --prefix FOLDER "
    "lighthouse@12.2.3, then --program FOLDER/node_modules/.bin/lighthouse"
)


def main(arguments: list[str] | None = None) -> int:
    """Print the scores; return 1 where one misses its aim, 2 where there is no Lighthouse."""
    parser = argparse.ArgumentParser(prog="lighthouse", description=__doc__)
    parser.add_argument("--site", type=Path)
    parser.add_argument("--program", default=shutil.which("lighthouse"))
    parser.add_argument("--runs", type=int, default=RUNS)
    asked = parser.parse_args(arguments)
    if asked.program is None or not Path(asked.program).exists():
        print(ABSENT)
        return 2
    with tempfile.TemporaryDirectory() as folder:
        site = asked.site or _build(Path(folder))
        with serve_packed(site) as address:
            scores = {
                paths[-1]: median_of(
                    [measure(asked.program, f"{address}/{paths[-1]}") for _ in range(asked.runs)]
                )
                for paths in pages_by_kind(site).values()
            }
    print(format_table(scores))
    print(f"Median of {asked.runs} runs, load {os.getloadavg()[1]:.1f} on {os.cpu_count()} cores.")
    return 0 if all(reaches_aims(one) for one in scores.values()) else 1


def reaches_aims(scores: dict[str, int]) -> bool:
    """Whether no score is below its aim."""
    return all(scores[name] >= aim for name, aim in AIMS.items())


def median_of(runs: list[dict[str, int]]) -> dict[str, int]:
    """Return of every score the median; of an even number of runs the lower of the two."""
    return {name: statistics.median_low(one[name] for one in runs) for name in AIMS}


def format_table(scores: dict[str, dict[str, int]]) -> str:
    """Return a line for each page, the aims last."""
    names = list(AIMS)
    rows = [f"{'page':36}" + "".join(f"{name:>16}" for name in names)]
    for page, found in {**scores, "aim": AIMS}.items():
        rows.append(f"{page:36}" + "".join(f"{found[name]:16}" for name in names))
    return "\n".join(rows)


def measure(program: str, address: str) -> dict[str, int]:
    """Return the four scores of a page, out of 100, as on a phone."""
    command = [program, address, "--quiet", "--output=json", f"--chrome-flags={FLAGS}"]
    command.append(f"--only-categories={','.join(AIMS)}")
    with tempfile.TemporaryDirectory() as folder:
        done = subprocess.run(
            command,
            capture_output=True,
            text=True,
            check=True,
            env={"CHROME_PATH": CHROMIUM, "PATH": "/usr/bin:/bin", "HOME": folder},
        )
    return read_scores(json.loads(done.stdout))


def read_scores(report: dict[str, dict[str, dict[str, float]]]) -> dict[str, int]:
    """Return the scores of a report of Lighthouse, which counts to 1, out of 100."""
    return {name: round(report["categories"][name]["score"] * 100) for name in AIMS}


@contextmanager
def serve_packed(site: Path) -> Iterator[str]:
    """Serve a folder with gzip; give its address."""
    handler = functools.partial(_PackingHandler, directory=str(site))
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        thread = threading.Thread(target=server.serve_forever, daemon=True)
        thread.start()
        yield f"http://127.0.0.1:{server.server_port}"
        server.shutdown()
        thread.join()


class _PackingHandler(http.server.SimpleHTTPRequestHandler):
    def do_GET(self) -> None:
        """Send a file, packed where that helps."""
        path = Path(self.translate_path(self.path))
        if path.suffix not in PACKED or not path.is_file():
            super().do_GET()
            return
        data = gzip.compress(path.read_bytes())
        self.send_response(HTTPStatus.OK)
        self.send_header("Content-Type", self.guess_type(str(path)))
        self.send_header("Content-Encoding", "gzip")
        self.send_header("Content-Length", str(len(data)))
        self.end_headers()
        self.wfile.write(data)

    def log_message(self, format: str, *args: object) -> None:
        """Say nothing."""


def _build(folder: Path) -> Path:
    command = [sys.executable, "-m", "generator", "build", "--output", str(folder)]
    subprocess.run(command, cwd=ROOT, check=True, capture_output=True)
    return folder / "site"


if __name__ == "__main__":
    sys.exit(main())
