"""The command refuses with a sentence what it cannot serve."""

import importlib.util

import pytest

from coolcalc.__main__ import main


def refusal(arguments, capsys):
    with pytest.raises(SystemExit) as stop:
        main(arguments)
    assert stop.value.code == 2
    return capsys.readouterr().err


def test_missing_notebook(tmp_path, capsys):
    told = refusal([str(tmp_path / "none.ipynb")], capsys)
    assert "there is no notebook" in told
    assert "none.ipynb" in told


def test_not_a_notebook(tmp_path, capsys):
    page = tmp_path / "page.txt"
    page.write_text("")
    assert "is not a notebook" in refusal([str(page)], capsys)


def test_impossible_port(tmp_path, capsys):
    notebook = tmp_path / "page.ipynb"
    notebook.write_text("{}")
    told = refusal([str(notebook), "--port", "70000"], capsys)
    assert "70000" in told
    assert "1 to 65535" in told


def test_server_not_installed(tmp_path, capsys, monkeypatch):
    notebook = tmp_path / "page.ipynb"
    notebook.write_text("{}")
    find = importlib.util.find_spec
    monkeypatch.setattr(
        importlib.util, "find_spec", lambda name: None if name == "voila" else find(name)
    )
    told = refusal([str(notebook)], capsys)
    assert "voila" in told
    assert "pip install 'coolcalc[notebook]'" in told
