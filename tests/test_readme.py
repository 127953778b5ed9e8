"""What the README shows in Python runs as it stands, in an empty folder."""

import pathlib
import re

README = pathlib.Path(__file__).resolve().parent.parent / "README.md"


def test_the_python_of_the_readme_runs(tmp_path, monkeypatch):
    code = re.search(r"```python\n(.*?)```", README.read_text(encoding="utf-8"), re.DOTALL)[1]
    monkeypatch.chdir(tmp_path)
    names = {}
    exec(compile(code, "README.md", "exec"), names)
    assert {each.name for each in tmp_path.iterdir()} >= {
        *("card.pdf", "label.pdf", "standard.pdf", "van 7.csv")
    }
    assert names["job"].chance_to_hold >= 0.95
    assert not names["fill"].blocked
