"""What a real browser makes of a page: Debian's Chromium, without a window and without a network."""

import shutil
import subprocess
from pathlib import Path

CALL = ("--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--window-size=800,1200")
NAMES = ("chromium", "chromium-browser", "google-chrome")


def browser() -> str:
    """Give the browser's program; fails where there is none, for nothing else can tell what is on the screen."""
    found = next((path for path in map(shutil.which, NAMES) if path is not None), None)
    assert found is not None, "no Chromium here: apt-get install chromium fonts-liberation fonts-dejavu-core"
    return found


def dumped(page: Path) -> str:
    """Open a page, let its scripts run, and give the text of the document that they leave."""
    call = [browser(), *CALL, f"--user-data-dir={page.parent / 'profile'}", "--dump-dom", page.as_uri()]
    ran = subprocess.run(call, capture_output=True, encoding="utf-8", timeout=120, check=True)
    return ran.stdout
