"""What is saved: a file whose suffix says what it is, whole or not at all."""

import os
import pathlib
import secrets

from .errors import InputError


def save(path, makers):
    """Write a print or a table to a file.

    Parameters
    ----------
    path : str or path
        Its suffix decides.
    makers : dict of str to callable
        What makes the bytes, by suffix.

    Returns
    -------
    pathlib.Path

    Raises
    ------
    InputError
        If it is no path, the suffix is another, the folder is missing or cannot be written to,
        or it cannot be made. A file that was there stays as it was.
    """
    path = _path_of(path)
    make = makers.get(path.suffix.lower())
    if make is None:
        first, *others = makers
        ends = (
            f"ends neither in {' nor in '.join(makers)}; add one"
            if others
            else (f"does not end in {first}; add it")
        )
        raise InputError("path", path, f"{path.name} {ends}.")
    if not path.parent.is_dir():
        raise InputError(
            "path", path, f"there is no folder {path.parent}; make it first, or choose another."
        )
    made = make()
    try:
        _write_whole(path, made)
    except OSError as error:
        raise InputError(
            "path",
            path,
            f"{path} cannot be written ({error.strerror or error}); choose another folder or "
            "name, or close the program that holds the file.",
        ) from error
    return path


def _path_of(path):
    try:
        path = pathlib.Path(os.fsdecode(path))
        if b"\0" in os.fsencode(path):
            raise ValueError
    except (TypeError, ValueError):
        found = f"{path!r:.60}"
        raise InputError(
            "path", found, f"{found} is no path; give a file's name as text, such as 'card.pdf'."
        ) from None
    return path


def _write_whole(path, made):
    """Write beside the place and move there once it is on the disk: no half file is ever found."""
    beside = path.with_name(f".{path.name}.{secrets.token_hex(4)}")
    try:
        with beside.open("wb") as file:
            file.write(made)
            file.flush()
            os.fsync(file.fileno())
        os.replace(beside, path)
    finally:
        beside.unlink(missing_ok=True)
