"""The mass ledger and every job's kernel: NumPy arrays in SI, no units, no sentences.

Kernels never raise for a row: they return values and a `coolcalc.errors.Status`.
"""
