"""A headless browser, and the two servers whose pages it opens."""

import contextlib
import json
import os
import re
import secrets
import shutil
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect, sync_playwright

ROOT = Path(__file__).parents[2]
HOST = "127.0.0.1"
START_S = 60
expect.set_options(timeout=START_S * 1000)  # a page that starts on a busy machine takes long
FLAGS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)


@pytest.fixture(scope="session")
def browser():
    """Headless Chromium; without one these tests skip, except in CI, which installs it."""
    path = os.environ.get("COOLCALC_CHROMIUM") or shutil.which("chromium")
    if path is None:
        told = "no Chromium found: install it, or name it in COOLCALC_CHROMIUM"
        if os.environ.get("CI") == "true":
            pytest.fail(told)
        pytest.skip(told)
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=path, args=FLAGS)
        yield started
        started.close()


@pytest.fixture
def page(browser):
    """Give an empty page; at the end no request of it may have gone to another machine."""
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    hosts = set()
    context.on("request", lambda request: hosts.add(urlsplit(request.url).hostname))
    opened = context.new_page()
    opened.set_default_timeout(START_S * 1000)
    yield opened
    opened.close(run_before_unload=True)
    context.close()
    assert hosts <= {HOST, None}, "a page may ask nothing of another machine"


@pytest.fixture(scope="session")
def workplace(tmp_path_factory):
    """Copy the notebooks, without outputs, and the data beside them."""
    place = tmp_path_factory.mktemp("workplace")
    (place / "notebooks").mkdir()
    for path in (ROOT / "notebooks").glob("*.ipynb"):
        notebook = json.loads(path.read_text(encoding="utf-8"))
        for cell in notebook["cells"]:
            if cell["cell_type"] == "code":
                cell["outputs"], cell["execution_count"] = [], None
        (place / "notebooks" / path.name).write_text(json.dumps(notebook), encoding="utf-8")
    if (ROOT / "data").is_dir():
        shutil.copytree(ROOT / "data", place / "data")
    return place


@pytest.fixture(scope="session")
def plain_address(workplace):
    """Address of the workshop's plain page, served by the command itself."""
    with plain_page(workplace, "workshop") as address:
        yield address


@pytest.fixture(scope="session")
def repair_address(workplace):
    """Address of the plain page after a repair, served by the command itself."""
    with plain_page(workplace, "after_repair") as address:
        yield address


@pytest.fixture(scope="session")
def holding_address(workplace):
    """Address of the plain page of capacity, growth and boiling, served by the command."""
    with plain_page(workplace, "capacity_growth_boiling") as address:
        yield address


@pytest.fixture(scope="session")
def frost_address(workplace):
    """Address of the plain page of the frost standard, served by the command itself."""
    with plain_page(workplace, "frost_standard") as address:
        yield address


@pytest.fixture(scope="session")
def lab_address(workplace):
    """Address of the workshop's notebook in JupyterLab, alone on its page."""
    settings = workplace / "settings"
    (settings / "labconfig").mkdir(parents=True)
    quiet = {"fetchNews": "false", "checkForUpdates": False}
    (settings / "labconfig" / "default_setting_overrides.json").write_text(
        json.dumps({"@jupyterlab/apputils-extension:notification": quiet})
    )
    own = {
        "JUPYTER_CONFIG_DIR": settings,
        "JUPYTERLAB_SETTINGS_DIR": settings / "user",
        "JUPYTERLAB_WORKSPACES_DIR": settings / "workspaces",
    }
    port, token = free_port(), secrets.token_urlsafe(16)
    command = [
        *(sys.executable, "-m", "jupyterlab", "--no-browser", "--allow-root"),
        f"--ServerApp.ip={HOST}",
        f"--ServerApp.port={port}",
        "--ServerApp.port_retries=0",
        f"--ServerApp.root_dir={workplace / 'notebooks'}",
        f"--IdentityProvider.token={token}",
        "--LabApp.expose_app_in_browser=True",
    ]
    with running(command, workplace, {name: str(path) for name, path in own.items()}) as log:
        status = f"http://{HOST}:{port}/api/status?token={token}"
        wait_for(lambda: answers(status), log)
        yield f"http://{HOST}:{port}/doc/tree/workshop.ipynb?token={token}"


@contextlib.contextmanager
def plain_page(workplace, notebook):
    """Serve a notebook by the command while the block lasts; gives its address."""
    command = [sys.executable, "-m", "coolcalc", f"notebooks/{notebook}.ipynb", "--no-browser"]
    with running(command, workplace) as log:
        yield wait_for(lambda: re.search(r"http://\S+", log.read_text()), log).group()


class running:  # noqa: N801 - used as a statement
    """Run a server while the block lasts; gives the file with what it prints."""

    def __init__(self, command, place, environment=()):
        self.command, self.place = command, place
        self.environment = os.environ | dict(environment)

    def __enter__(self):
        log = self.place / f"{self.command[2]}-{secrets.token_hex(4)}.log"
        with log.open("w") as file:
            self.process = subprocess.Popen(
                self.command,
                cwd=self.place,
                env=self.environment,
                stdin=subprocess.DEVNULL,
                stdout=file,
                stderr=subprocess.STDOUT,
            )
        return log

    def __exit__(self, *error):
        self.process.send_signal(signal.SIGTERM)
        try:
            self.process.wait(timeout=20)
        except subprocess.TimeoutExpired:
            self.process.kill()
            self.process.wait()


def wait_for(found, log):
    """Return what `found` gives once it gives anything."""
    end = time.monotonic() + START_S
    while time.monotonic() < end:
        if value := found():
            return value
        time.sleep(0.1)
    pytest.fail(f"the server did not start within {START_S} s:\n{log.read_text()}")


def answers(address):
    """Tell whether a server answers at an address."""
    try:
        with urllib.request.urlopen(address, timeout=5):
            return True
    except OSError:
        return False


def free_port():
    """Return a port that is free now."""
    with socket.socket() as probe:
        probe.bind((HOST, 0))
        return probe.getsockname()[1]


@pytest.fixture
def shoot():
    """Save a picture of the page where COOLCALC_SHOTS names a folder; else do nothing."""
    folder = os.environ.get("COOLCALC_SHOTS")

    def save(page, name):
        if folder:
            page.screenshot(path=Path(folder) / f"{name}.png", full_page=True)

    return save


@pytest.fixture
def assert_accessible():
    """Let an accessibility engine look at the page; nothing serious or critical may be found."""

    def check(page):
        found = Axe().run(page).response["violations"]
        grave = [
            f"{violation['id']} ({violation['impact']}): {node['target']}"
            for violation in found
            for node in violation["nodes"]
            if violation["impact"] in ("serious", "critical")
        ]
        assert grave == []

    return check
