"""Who may import whom, what stays light, and what words no sentence."""

import ast
import pathlib
import subprocess
import sys

import pytest

import coolcalc

PACKAGE = pathlib.Path(coolcalc.__file__).resolve().parent
ROOT = pathlib.Path(__file__).resolve().parent.parent
#: A file may import only what stands above it; what stands in one line is one layer.
LAYERS = (
    ("errors",),
    ("sources",),
    ("files",),
    ("fluids",),
    ("balance",),
    ("climate",),
    ("units", "_unit_kinds", "_unit_tables", "_unit_display"),
    ("tables",),
    ("strength",),
    ("mixture",),
    ("product",),
    ("evidence",),
    ("instruments",),
    ("system",),
    ("record",),
    ("cautions",),
    ("answers",),
    ("jobs",),
    ("fleet",),
    ("classroom",),
    ("charts",),
    ("evidence_views",),
    ("prints",),
    ("panels", "__main__"),
    ("__init__",),
)
RANK = {name: rank for rank, layer in enumerate(LAYERS) for name in layer}
FILES = sorted(PACKAGE.rglob("*.py"))
LONGEST_FILE = 500
#: Below the door: arrays in SI.
KERNEL = ("fluids", "balance", "climate")
KERNEL_IMPORTS = {
    *("numpy", "typing", "functools", "math", "statistics", "threading", "coolcalc"),
}
#: Asked only when called.
ASKED_WHEN_CALLED = {"fluids/coolprop.py": {"CoolProp"}, "climate/extremes.py": {"scipy"}}
LONGEST_NAME = 40
HEAVY = ("CoolProp", "pandas", "ipywidgets", "scipy", "vl_convert", "typst")


def label(file):
    return file.relative_to(PACKAGE).as_posix()


def layer_of(file):
    return file.relative_to(PACKAGE).parts[0].removesuffix(".py")


def imported(file):
    """Yield the dotted name of everything a file imports, relative names made absolute."""
    package = ("coolcalc", *file.relative_to(PACKAGE).parts[:-1])
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (name.name for name in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = package[: len(package) - node.level + 1] if node.level else ()
            base = (*base, *(node.module.split(".") if node.module else ()))
            # `from . import name` and `from coolcalc import name` may mean modules.
            yield from (".".join((*base, name.name)) for name in node.names)


def member(dotted):
    """Return the top-level part of the package that a dotted name lies in."""
    parts = dotted.split(".")
    return parts[1] if len(parts) > 1 and parts[1] in RANK else "__init__"


@pytest.mark.parametrize("file", FILES, ids=label)
def test_imports_point_up_the_list(file):
    own = layer_of(file)
    assert own in RANK, f"{label(file)} stands in no layer"
    for dotted in imported(file):
        if dotted.split(".")[0] == "coolcalc":
            target = member(dotted)
            allowed = RANK[target] < RANK[own] or target in LAYERS[RANK[own]]
            assert allowed, f"{label(file)} imports {dotted}"


def test_the_order_is_not_empty():
    """The test above would pass if it read no imports."""
    seen = set(imported(PACKAGE / "jobs" / "mix_plan.py"))
    assert {"coolcalc.mixture.Mixture", "coolcalc.balance.exchange", "numpy"} <= seen


@pytest.mark.parametrize("file", [f for f in FILES if layer_of(f) in KERNEL], ids=label)
def test_kernels_import_numpy_only(file):
    outside = {dotted.split(".")[0] for dotted in imported(file)} - KERNEL_IMPORTS
    assert outside <= ASKED_WHEN_CALLED.get(label(file), set())


@pytest.mark.parametrize("file", [f for f in FILES if layer_of(f) in KERNEL], ids=label)
def test_kernels_word_no_sentence(file):
    tree = ast.parse(file.read_text(encoding="utf-8"))
    docstrings = {
        id(node.body[0].value)
        for node in ast.walk(tree)
        if isinstance(node, (ast.Module, ast.ClassDef, ast.FunctionDef))
        and node.body
        and isinstance(node.body[0], ast.Expr)
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            text = node.value
            worded = " " in text and (len(text) > LONGEST_NAME or "." in text)
            assert id(node) in docstrings or not worded, text


def test_import_is_light():
    # pint itself imports the top of scipy where it is installed; that is not ours to count.
    code = (
        "import sys, numpy, pint; before = set(sys.modules); import coolcalc; "
        f"print(sorted(set({HEAVY}) & (set(sys.modules) - before)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_no_file_is_too_long():
    files = [*FILES, *ROOT.glob("tests/**/*.py"), *ROOT.glob("data/**/*.py")]
    long = {file.name: len(file.read_text(encoding="utf-8").splitlines()) for file in files}
    assert {name: lines for name, lines in long.items() if lines > LONGEST_FILE} == {}
