"""``nestkit page``: the whole job on one page of a browser, served to this computer alone."""

from __future__ import annotations

import sys
from pathlib import Path

from nestkit.cli.run import DONE
from nestkit.page.serve import serve


def act(job: Path | None, *, port: int, open_browser: bool, quiet: bool) -> int:
    """Serve the page of a job until Ctrl-C, of the starter job where none is named."""

    def tell(address: str) -> None:
        sys.stdout.write(address + "\n")
        if not quiet:
            sys.stdout.write("This address is for this computer alone. End with Ctrl-C.\n")
        sys.stdout.flush()

    serve(job, port=port, tell=tell, open_browser=open_browser)
    return DONE
