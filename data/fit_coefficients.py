"""Fit the coefficients of coolcalc.fluids to the published rows, and write them as a module.

    python data/fit_coefficients.py            prints the residuals of each source
    python data/fit_coefficients.py --write    writes coolcalc/fluids/_coefficients.py too

NumPy only. `fits.rows.load` drops every row whose role is not "fit" before anything else sees
it, so a check row cannot reach a fit. Weights are one over the row's tolerance; see
`fits.rows.weights`.
"""

import pathlib
import sys

import numpy as np
from fits import density, freezing, refraction, transport, vapour
from fits.rows import FLUIDS, fingerprint, load

MODULE = pathlib.Path(__file__).resolve().parent.parent / "coolcalc" / "fluids" / "_coefficients.py"

#: In this order: a later one may use what an earlier one found.
GROUPS = (density, freezing, refraction, vapour, *transport.GROUPS)


def fit(rows):
    """Return all coefficients by fluid, constants by name, and residuals by property and fluid."""
    coefficients = {fluid: {} for fluid in FLUIDS}
    constants, residuals = {}, {}
    for group in GROUPS:
        parts, shared, off = group.fit(rows, coefficients)
        for fluid in parts:
            coefficients[fluid].update(parts[fluid])
        constants.update(shared)
        residuals.update({(group, fluid): pairs for fluid, pairs in off.items()})
    return coefficients, constants, residuals


def residual_table(residuals):
    """Return lines: property, fluid, source, rows, mean and largest model minus row."""
    lines = []
    for (group, fluid), pairs in residuals.items():
        for source in dict.fromkeys(row["source"] for row, _ in pairs):
            off = group.SCALE * np.array([r for row, r in pairs if row["source"] == source])
            lines.append(
                f"{group.PROPERTY:10s} {fluid:16s} {source:17s} {off.size:3d} rows"
                f"  mean {off.mean():+6.2f}  rms {np.sqrt((off**2).mean()):5.2f}"
                f"  max {np.abs(off).max():5.2f}  {group.UNIT}"
            )
    return lines


def literal(value, indent):
    """Return a value as Python source, one level of nesting a line."""
    if isinstance(value, tuple) and value and isinstance(value[0], tuple):
        inner = "".join(f"{indent}    {part!r},\n" for part in value)
        return f"(\n{inner}{indent})"
    return repr(value)


def module_text(coefficients, constants, residuals):
    """Return the source of the generated module."""
    lines = [
        '"""Coefficients of the property formulas. Generated; do not edit.',
        "",
        "Made by data/fit_coefficients.py from the fit rows of data/published/,",
        f"sha256 {fingerprint()}.",
        "Model minus row, fit rows only:",
        "",
        *(line.rstrip() for line in residual_table(residuals)),
        '"""',
        "",
        "from typing import Any",
        "",
        *(f"{name} = {value!r}" for name, value in constants.items()),
        "",
        "COEFFICIENTS: dict[str, dict[str, Any]] = {",
    ]
    for fluid, parts in coefficients.items():
        lines.append(f'    "{fluid}": {{')
        for name, value in parts.items():
            lines.append(f'        "{name}": {literal(value, "        ")},')
        lines.append("    },")
    return "\n".join([*lines, "}", ""])


def main(arguments):
    """Fit, print the residuals, and write the module when asked."""
    result = fit(load())
    print("\n".join(residual_table(result[2])))
    if "--write" in arguments:
        MODULE.write_text(module_text(*result), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main(sys.argv[1:])
