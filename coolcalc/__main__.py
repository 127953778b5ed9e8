"""The command `coolcalc NOTEBOOK`: serve a notebook as a plain page on this machine only."""

import argparse
import importlib.util
import os
import secrets
import sys
import webbrowser
from pathlib import Path
from threading import Thread

ADDRESS = "127.0.0.1"
PORT = 8866
TEMPLATE_DIR = Path(__file__).parent / "panels" / "template"


def main(argv=None):
    """Serve one notebook as a plain page and open the browser at it.

    Parameters
    ----------
    argv : list of str, optional
        Words after the command's name; those of the command line unless given.

    Returns
    -------
    int
        0 once the page is stopped with Ctrl-C; a wrong command ends the program with 2
        and a sentence.
    """
    parser = argparse.ArgumentParser(
        prog="coolcalc",
        description="Serve a notebook as a plain page on this machine, with no code shown.",
    )
    parser.add_argument("notebook", type=Path, help="the .ipynb file to open")
    parser.add_argument(
        "--port",
        type=int,
        default=PORT,
        help="port to try first (%(default)s); the next free one is taken if it is in use",
    )
    parser.add_argument(
        "--no-browser", action="store_true", help="print the address and open no browser"
    )
    options = parser.parse_args(argv)
    notebook = options.notebook
    if not notebook.is_file():
        parser.error(f"there is no notebook {str(notebook)!r}. Give the path of an .ipynb file.")
    if notebook.suffix != ".ipynb":
        parser.error(f"{str(notebook)!r} is not a notebook. Give the path of an .ipynb file.")
    if not 1 <= options.port <= 65535:
        parser.error(f"--port {options.port} is no port. Give a number from 1 to 65535.")
    missing = [name for name in ("voila", "ipywidgets") if importlib.util.find_spec(name) is None]
    if missing:
        parser.error(
            f"the page needs {' and '.join(missing)}, which "
            f"{'is' if len(missing) == 1 else 'are'} not installed. "
            "Run: pip install 'coolcalc[notebook]'"
        )
    print("Starting: the page opens in a few seconds.", flush=True)
    serve(notebook.resolve(), options.port, options.no_browser)
    return 0


def serve(notebook, port, no_browser):
    """Run the page's server until Ctrl-C.

    Parameters
    ----------
    notebook : Path
        The notebook, absolute.
    port : int
        Port to try first.
    no_browser : bool
        Print the address only.

    Notes
    -----
    The server listens on the loopback address and asks for a key made anew at each start, so
    that nobody else who is logged in on this machine can use the page without its address.
    """
    # The template is found on the Jupyter search path, before Voila is asked for it.
    known = os.environ.get("JUPYTER_PATH")
    os.environ["JUPYTER_PATH"] = os.pathsep.join(filter(None, [str(TEMPLATE_DIR), known]))
    from traitlets.config import Config
    from voila.app import Voila

    class PlainPage(Voila):
        def launch_browser(self):
            address = f"http://{ADDRESS}:{self.port}/?token={self.token}"
            print(f"The page is at {address}\nStop it with Ctrl-C.", flush=True)
            if not no_browser:
                Thread(target=_open_browser, args=(address,), daemon=True).start()

    config = Config()
    config.Voila.ip = ADDRESS
    config.Voila.port = port
    config.Voila.token = secrets.token_urlsafe(16)
    config.Voila.open_browser = True  # calls launch_browser once the port is known
    config.Voila.log_level = "ERROR"
    config.Voila.config_file_paths = []  # a stray settings file must not open the page to others
    config.Voila.tornado_settings = {"ws_ping_timeout": 30000}  # [ms]; its default is refused
    config.VoilaConfiguration.template = "coolcalc"
    config.VoilaConfiguration.allow_template_override = "NO"
    config.VoilaConfiguration.extension_allowlist = [
        "@jupyter-widgets/jupyterlab-manager",
        "@voila-dashboards/widgets-manager8",
    ]
    config.VoilaConfiguration.prelaunch_hook = _give_page_its_cookie
    config.VoilaExecutor.cell_error_instruction = "Open the notebook in JupyterLab to see more."
    PlainPage.launch_instance(argv=[str(notebook)], config=config)


def _open_browser(address):
    if not webbrowser.open(address, new=2):
        print("No browser could be opened: open that address yourself.", flush=True)


def _give_page_its_cookie(handler, notebook, cwd):
    # Reading the token sets its cookie; without it the page may not end its kernel on closing.
    _ = handler.xsrf_token


if __name__ == "__main__":
    sys.exit(main())
