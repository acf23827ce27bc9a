"""A tab of the browser: finds things by what they are to people, and waits until they are there."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

from selenium import webdriver
from selenium.common.exceptions import StaleElementReferenceException, TimeoutException
from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.remote.webelement import WebElement
from selenium.webdriver.support.ui import WebDriverWait

from tests.browser.driver import PATIENCE, wanted

AXE = Path(sys.prefix) / "share" / "axe-core" / "axe.min.js"
"""Where ``.ci/run`` puts the accessibility checker that it fetches."""
DESKTOP, PHONE = (1280, 900), (360, 780)
VIEWS = {
    "parts": "Parts to make",
    "stock": "What we can cut from",
    "layout": "Layout",
    "buy": "What to buy",
    "joints": "Do the joints fit",
    "prints": "Prints",
    "job": "The job",
}
"""Views by their names in the address, and what their links and headings say."""
ROW = """
const [list, name] = arguments;
const named = (row) => row.querySelector("[data-key=name]")?.value === name;
return [...document.querySelectorAll(`[data-test=rows-${list}] > li`)].find(named) ?? null;
"""
# The first element of a selector that is to be seen and has a text; a choice is seen where its list is.
SEEN = """
const [css, text] = arguments;
const seen = (one) => one.checkVisibility({visibilityProperty: true}) && one.getClientRects().length > 0;
const has = (one) => (one.innerText ?? one.textContent).includes(text);
const found = [...document.querySelectorAll(css)];
return found.find((one) => seen(one.closest("select") ?? one) && has(one)) ?? null;
"""
# Where the search has ended by itself there is nothing to stop.
STOPPED = """
const stop = document.querySelector("[data-test=stop]");
if (stop.checkVisibility()) stop.click();
return true;
"""
CHECKED = """
const done = arguments[arguments.length - 1];
axe.run(document, {resultTypes: ["violations"]}).then(
  (found) => done(found.violations),
  (fault) => done([{id: "axe", help: String(fault), impact: "critical", nodes: [{target: ""}]}]),
);
"""
# What lies wholly outside the page sideways, named, so that a failure says what to mend.
SIDEWAYS = """
const page = document.documentElement;
if (page.scrollWidth <= page.clientWidth) return [];
const wide = [...document.querySelectorAll("body *")].filter((one) => {
  const box = one.getBoundingClientRect();
  return box.width > 0 && box.right > page.clientWidth + 0.5;
});
const words = (one) => `${one.tagName} ${one.className.baseVal ?? one.className} ${one.dataset?.test ?? ""}`;
return [`${page.scrollWidth} wide on ${page.clientWidth}`, ...wide.slice(0, 5).map(words)];
"""


def entries_of(driver: webdriver.Chrome, kind: str) -> list[dict[str, Any]]:
    """Return what came into a log of the browser since this was last called."""
    log: Any = driver.get_log
    entries: list[dict[str, Any]] = log(kind)
    return entries


class Tab:
    """One tab, opened on the page's address; each call brings it to the front first."""

    _front = ""

    def __init__(self, driver: webdriver.Chrome, address: str, size: tuple[int, int] = DESKTOP) -> None:
        self._driver, self.address = driver, address
        driver.switch_to.new_window("tab")
        self.handle = Tab._front = driver.current_window_handle
        self.resize(size)
        driver.get(address)

    @property
    def driver(self) -> webdriver.Chrome:
        """The browser, with this tab in front."""
        if Tab._front != self.handle:
            self._driver.switch_to.window(self.handle)
            Tab._front = self.handle
        return self._driver

    def resize(self, size: tuple[int, int]) -> None:
        """Give the page a width and a height in CSS pixels."""
        how = {"width": size[0], "height": size[1], "deviceScaleFactor": 1, "mobile": False}
        self.driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", how)

    def close(self) -> None:
        """Forget what the page kept in the browser, and close the tab."""
        self.driver.execute_script("localStorage.clear(); sessionStorage.clear()")
        self._driver.close()
        Tab._front = ""

    # ---- what is there -------------------------------------------------------------------------

    def see(self, css: str, text: str = "") -> WebElement:
        """Return the first visible element of a selector with a text in it, once there is one."""
        element: WebElement = self._until(
            lambda driver: driver.execute_script(SEEN, css, text), f"nothing to see at {css} with {text!r}"
        )
        return element

    def gone(self, css: str, text: str = "") -> None:
        """Wait until no visible element of a selector has a text in it."""
        self._until(
            lambda driver: driver.execute_script(SEEN, css, text) is None,
            f"still to see: {css} with {text!r}",
        )

    def until(self, script: str, *arguments: Any) -> Any:
        """Return what a script gives once that is true."""
        return self._until(
            lambda d: d.execute_script(script, *arguments), f"never true: {script} {arguments}"
        )

    def wait_for(self, met: Callable[[], object]) -> None:
        """Wait until something outside of the page is so."""
        self._until(lambda _: met(), "it never came to be so")

    def _until(self, met: Callable[[webdriver.Chrome], Any], said: str) -> Any:
        wait = WebDriverWait(self.driver, PATIENCE, 0.05, [StaleElementReferenceException])
        try:
            return wait.until(met)
        except TimeoutException:
            page = self.driver.find_element(By.TAG_NAME, "body").text
            raise AssertionError(f"{said}; the page says:\n{page[:1500]}") from None

    def row(self, kind: str, name: str) -> WebElement:
        """Return the row of a part or of stock by its name."""
        row: WebElement = self.until(ROW, kind, name)
        return row

    def value(self, kind: str, name: str, key: str) -> str:
        """Return what stands in a field of a row."""
        field = self.row(kind, name).find_element(By.CSS_SELECTOR, f"[data-key={key}]")
        return str(field.get_property("value"))

    def typed_in(self, css: str) -> str:
        """Return what stands in the first visible field of a selector."""
        return str(self.see(css).get_property("value"))

    # ---- what people do ------------------------------------------------------------------------

    def go(self, view: str) -> None:
        """Open a view by its link, and wait for its heading."""
        self.see("nav a", VIEWS[view]).click()
        self.see("h1", VIEWS[view])

    def laid_out(self, *, stop: bool = False) -> None:
        """Wait until a layout is shown and its search has ended; ``stop``: keep the best of what there is."""
        self.see("[data-test=sheet] svg")
        if stop:
            self.until(STOPPED)
        self.until("return !document.querySelector('[data-test=stop]').checkVisibility()")

    def bring(self, element: WebElement) -> WebElement:
        """Scroll an element to where nothing that stays on top covers it, and return it."""
        self.driver.execute_script("arguments[0].scrollIntoView({block: 'nearest'})", element)
        return element

    def click(self, css: str, text: str = "") -> None:
        """Press what is to be seen."""
        self.see(css, text).click()

    def type_into(self, field: WebElement, text: str) -> None:
        """Type a text over what stands in a field."""
        field.click()
        field.send_keys(Keys.CONTROL, "a")
        field.send_keys(text or Keys.DELETE)

    def type(self, css: str, text: str) -> None:
        """Type a text over what stands in the first visible field of a selector."""
        self.type_into(self.see(css), text)

    def write(self, kind: str, name: str, key: str, text: str) -> None:
        """Type a text over what stands in a field of a row."""
        self.type_into(self.row(kind, name).find_element(By.CSS_SELECTOR, f"[data-key={key}]"), text)

    def keys(self, *keys: str, held: str = "") -> None:
        """Press keys, one after the other, wherever the focus is; ``held`` is held down meanwhile."""
        chain = ActionChains(self.driver)
        for key in held:
            chain.key_down(key)
        for key in keys:
            chain.send_keys(key)
        for key in held:
            chain.key_up(key)
        chain.perform()

    # ---- what the browser and its tools say ----------------------------------------------------

    def requests(self) -> list[str]:
        """Return the addresses that the browser asked for since this was last called."""
        found = []
        for entry in entries_of(self.driver, "performance"):
            message = json.loads(entry["message"])["message"]
            if message["method"] == "Network.requestWillBeSent":
                found.append(message["params"]["request"]["url"])
        return found

    def complaints(self) -> list[str]:
        """Return errors in the browser's log: broken scripts, refused content, answers that failed.

        Answers 409, 415 and 422 are none: so the server says that the file changed, or what is wrong in one.
        """
        entries = [entry for entry in entries_of(self.driver, "browser") if entry["level"] == "SEVERE"]
        refused = ("status of 409", "status of 415", "status of 422")
        return [e["message"] for e in entries if not any(words in e["message"] for words in refused)]

    def faults(self) -> list[str]:
        """Return what the accessibility checker finds serious on the page as it is now."""
        wanted(AXE.is_file(), "axe-core (put there by .ci/run)")
        if not self.driver.execute_script("return 'axe' in window"):
            self.driver.execute_cdp_cmd("Runtime.evaluate", {"expression": AXE.read_text(encoding="utf-8")})
        result = self.driver.execute_async_script(CHECKED)
        return [
            f"{v['id']}: {v['help']}: {node['target']}"
            for v in result
            if v["impact"] in ("serious", "critical")
            for node in v["nodes"]
        ]

    def sideways(self) -> list[str]:
        """Return what makes the page scroll sideways, nothing where it does not."""
        found: list[str] = self.driver.execute_script(SIDEWAYS)
        return found
