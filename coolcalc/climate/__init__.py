"""From daily minima of air temperature to a low that comes once in n winters: NumPy, SI.

No units, no sentences. Kernels never raise for a record: what cannot be told is NaN or inf.
"""
