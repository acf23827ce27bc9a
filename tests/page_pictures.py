"""Makes the pictures of the page that the README shows: ``python tests/page_pictures.py``, with a browser.

The boat is opened on the page, a hinge's screw is changed, and the job is laid out and sawn step by step.
"""

from __future__ import annotations

import base64
import io
import sys
import tempfile
from pathlib import Path

from PIL import Image
from selenium.webdriver.support.ui import WebDriverWait

ROOT = Path(__file__).resolve().parent.parent
GALLERY = ROOT / "output" / "gallery"
PICTURES = ("page-parts.png", "page-layout.png")
WIDTH, HEIGHT, STEPS = 1100, 1240, 6
HINT = "return document.querySelector('[data-test=hint-away]') !== null"
DONE = "no layout needs less"


def pictures() -> dict[str, bytes]:
    """Return the pictures, made afresh; they are grey and differ a little from machine to machine."""
    from tests.browser.driver import boat, browser, serving
    from tests.browser.tab import SEEN, Tab

    with tempfile.TemporaryDirectory() as folder, browser() as driver:
        job = boat(Path(folder))
        with serving(job, Path(folder)) as server:
            tab = Tab(driver, server.address, (WIDTH, HEIGHT))
            for view in ("parts", "layout"):
                tab.go(view)
                while tab.driver.execute_script(HINT):
                    tab.click("[data-test=hint-away]")
            tab.go("parts")
            tab.see("[data-test=part-picture] svg")
            tab.row("panel", "console lid").find_element("css selector", "[data-test=more]").click()
            tab.see("[data-test=bore]")
            parts = shown(tab)
            tab.go("layout")
            WebDriverWait(tab.driver, 300).until(lambda d: d.execute_script(SEEN, "[data-test=say]", DONE))
            for _ in range(STEPS):
                tab.click("[data-test=cut-next]")
            return {"page-parts.png": parts, "page-layout.png": shown(tab)}


def shown(tab: object) -> bytes:
    """Return what a tab shows, as a grey picture."""
    driver = tab.driver  # type: ignore[attr-defined]
    driver.execute_script("document.activeElement?.blur(); scrollTo(0, 0)")
    taken = driver.execute_cdp_cmd("Page.captureScreenshot", {"format": "png"})
    stream = io.BytesIO()
    Image.open(io.BytesIO(base64.b64decode(taken["data"]))).convert("L").save(stream, "PNG", optimize=True)
    return stream.getvalue()


if __name__ == "__main__":
    sys.path.insert(0, str(ROOT))
    for name, content in pictures().items():
        (GALLERY / name).write_bytes(content)
        print(f"output/gallery/{name}  {len(content)} bytes")
