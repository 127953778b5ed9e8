"""Notebooks are committed small and clean: no state, no traces of one run or one machine."""

import json
import re
from pathlib import Path

import pytest

NOTEBOOKS = sorted((Path(__file__).parents[1] / "notebooks").glob("*.ipynb"))
LARGEST_BYTES = 400_000
ABSOLUTE_PATH = re.compile(r"""["'(\s=](/(home|root|Users|usr|opt|mnt|var|tmp)/|[A-Za-z]:\\\\)""")


@pytest.fixture(params=NOTEBOOKS, ids=lambda path: path.name)
def path(request):
    return request.param


def code_cells(path):
    cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
    return [cell for cell in cells if cell["cell_type"] == "code"]


def test_there_are_notebooks():
    assert NOTEBOOKS


def test_small(path):
    assert path.stat().st_size < LARGEST_BYTES


def test_no_widget_state(path):
    assert "widgets" not in json.loads(path.read_text(encoding="utf-8"))["metadata"]


def test_no_execution_times(path):
    assert all("execution" not in cell["metadata"] for cell in code_cells(path))


def test_no_saved_errors(path):
    outputs = [output for cell in code_cells(path) for output in cell["outputs"]]
    assert all(output["output_type"] != "error" for output in outputs)
    assert all(output.get("name") != "stderr" for output in outputs)


def test_no_absolute_paths(path):
    assert not ABSOLUTE_PATH.search(path.read_text(encoding="utf-8"))


def test_panel_cells_are_folded_and_left_to_the_page_tests(path):
    panels = [cell for cell in code_cells(path) if "_panel(" in "".join(cell["source"])]
    for cell in panels:
        assert cell["metadata"]["jupyter"]["source_hidden"]
        assert "nbval-ignore-output" in cell["metadata"]["tags"]
        assert not cell["outputs"]
