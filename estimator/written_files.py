"""Files that are written: all of them whole or none, and never over what is somebody's own."""

from __future__ import annotations

import os
from collections.abc import Collection, Iterable, Iterator, Mapping
from contextlib import ExitStack, contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

from estimator.errors import Faults, FileNotWritten, fault
from estimator.own_mark import is_unchanged_own

_FIRST_BYTES = {
    ".xlsx": b"PK",
    ".png": b"\x89PNG",
    ".svg": b"<?xml",
    ".json": b"{",
    ".pdf": b"%PDF",
}
_NAME_ANOTHER = "name another file, or add --force to write over it"


def write_files(
    contents: Mapping[Path, bytes], inputs: Collection[Path] = (), *, force: bool = False
) -> None:
    """Write files so that all are there whole or, if one cannot be, none has changed.

    Parameters
    ----------
    contents : mapping of Path to bytes
        All of each file; its folder must exist.
    inputs : collection of Path
        Files that the work was made of.
    force : bool
        Whether files may be written over that are inputs, or that the program did not make.

    Raises
    ------
    FileNotWritten
        If one cannot or may not be written, with the reason: every such file is named.

    Notes
    -----
    The bytes go to hidden folders beside the files, so that the last step is a rename for each
    within one file system, which happens at once or not at all; nothing is renamed before all of
    them are written.
    """
    _refuse_unfit_endings(contents)
    refuse_what_is_there(contents, inputs, force=force, contents=contents)
    with ExitStack() as folders:
        unfinished = {
            path: _written_beside(path, content, folders) for path, content in contents.items()
        }
        for path, written in unfinished.items():
            with _in_a_sentence(path):
                written.replace(path)


def refuse_what_is_there(
    paths: Iterable[Path],
    inputs: Collection[Path] = (),
    *,
    force: bool = False,
    contents: Mapping[Path, bytes] | None = None,
) -> None:
    """Raise if something stands at a path that may not be written over.

    Only regular files are ever replaced: neither a folder, a device or a pipe, nor a link, whose
    target may be anybody's. Without `force`, only a file that the program made and nobody changed,
    or that holds the same already, and no input.

    Parameters
    ----------
    paths : iterable of Path
        Files to be written.
    inputs : collection of Path
        Files that the work is made of.
    force : bool
        Whether inputs and files of others may be written over.
    contents : mapping of Path to bytes, optional
        What is to be written, where that is known already.

    Raises
    ------
    FileNotWritten
        With every such path.
    """
    faults = Faults()
    for path in paths:
        with _in_a_sentence(path):
            what, remedy = _hindrance(path, inputs, force, (contents or {}).get(path))
        if what:
            faults.add(str(path), what, remedy)
    faults.raise_if_any(FileNotWritten)


def _hindrance(
    path: Path, inputs: Collection[Path], force: bool, content: bytes | None
) -> tuple[str, str]:
    """Return what keeps a file from being written and the remedy, both empty if nothing does."""
    if path.is_symlink():
        return "is a link to another file", "name the file itself"
    if not path.exists():
        return "", ""
    if not path.is_file():
        what = "a folder" if path.is_dir() else "a device or a pipe"
        return f"is {what}, not a file", "name a file"
    if force:
        return "", ""
    if any(one.exists() and path.samefile(one) for one in inputs):
        return "is what this command reads", _NAME_ANOTHER
    if is_unchanged_own(path) or (content is not None and path.read_bytes() == content):
        return "", ""
    return "was not made by Groundsill, or has been changed since", _NAME_ANOTHER


def _refuse_unfit_endings(contents: Mapping[Path, bytes]) -> None:
    faults = Faults()
    for path, content in contents.items():
        ending = next((one for one, first in _FIRST_BYTES.items() if content.startswith(first)), "")
        if ending and path.suffix.lower() != ending:
            faults.add(str(path), f"its name must end in {ending}", f"write {path.stem}{ending}")
    faults.raise_if_any(FileNotWritten)


def _written_beside(path: Path, content: bytes, folders: ExitStack) -> Path:
    with _in_a_sentence(path):
        hidden = TemporaryDirectory(prefix=".writing-", dir=path.parent)
        unfinished = Path(folders.enter_context(hidden)) / "whole"
        with unfinished.open("wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        return unfinished


@contextmanager
def _in_a_sentence(path: Path) -> Iterator[None]:
    """Say in a sentence why a file cannot be written."""
    try:
        yield
    except OSError as error:
        raise fault(
            FileNotWritten,
            f"the file cannot be written: {(error.strerror or str(error)).lower()}",
            "name a file in a folder that exists and may be written to",
            str(path),
        ) from error
