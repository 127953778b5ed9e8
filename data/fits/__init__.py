"""One fit a property group; ``fit_coefficients.py`` runs them in order."""
