"""A browser without a screen: Debian's Chromium, driven by Playwright; no page may reach a network."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from pages import Opened
from playwright.sync_api import Browser, ConsoleMessage, Page, sync_playwright

CHROMIUM = "/usr/bin/chromium"
QUIETLY = (
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
)  # fmt: skip


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Return the browser."""
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=CHROMIUM, args=list(QUIETLY))
        yield started
        started.close()


@pytest.fixture
def opened(browser: Browser) -> Iterator[Opened]:
    """Return what opens a file; in the end the browser must have had nothing to complain of."""
    page = browser.new_page()
    said: list[str] = []
    asked: list[str] = []

    def heard(message: ConsoleMessage) -> None:
        said.append(message.text)

    page.on("console", heard)
    page.on("pageerror", lambda error: said.append(str(error)))
    page.on("request", lambda request: asked.append(request.url))

    def open_file(path: Path) -> Page:
        page.goto(path.as_uri())
        return page

    yield open_file
    page.close()
    assert said == []
    assert [address for address in asked if not address.startswith("file:")] == []
