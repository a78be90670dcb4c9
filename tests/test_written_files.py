"""Files are written whole or not at all, and never over what is somebody's own."""

import os
from pathlib import Path

import pytest

from estimator.errors import FileNotWritten
from estimator.written_files import refuse_what_is_there, write_files

FOREIGN = "was not made by Groundsill, or has been changed since"
REMEDY = "name another file, or add --force to write over it"


def problems(error: pytest.ExceptionInfo[FileNotWritten]) -> list[str]:
    return [str(one) for one in error.value.faults]


def test_one_file_that_may_not_be_written_leaves_all_as_they_were(tmp_path: Path) -> None:
    new, there = tmp_path / "new.txt", tmp_path / "there.txt"
    there.write_bytes(b"mine")
    with pytest.raises(FileNotWritten) as error:
        write_files({new: b"1", there: b"2"})
    assert problems(error) == [f"{there}: {FOREIGN}; {REMEDY}"]
    assert [path.name for path in tmp_path.iterdir()] == ["there.txt"]
    assert there.read_bytes() == b"mine"


def test_every_hindrance_is_named_at_once(tmp_path: Path) -> None:
    there, folder = tmp_path / "there.txt", tmp_path / "folder"
    there.write_bytes(b"mine")
    folder.mkdir()
    with pytest.raises(FileNotWritten) as error:
        refuse_what_is_there([there, folder, tmp_path / "new.txt"])
    assert problems(error) == [
        f"{there}: {FOREIGN}; {REMEDY}",
        f"{folder}: is a folder, not a file; name a file",
    ]


def test_a_file_of_somebody_is_written_over_when_that_is_wanted(tmp_path: Path) -> None:
    there = tmp_path / "there.txt"
    there.write_bytes(b"mine")
    write_files({there: b"new"}, [there], force=True)
    assert there.read_bytes() == b"new"


def test_a_file_that_holds_the_same_is_written_again(tmp_path: Path) -> None:
    there = tmp_path / "there.txt"
    write_files({there: b"same"})
    write_files({there: b"same"})
    assert there.read_bytes() == b"same"


def test_an_input_is_an_input_under_any_name(tmp_path: Path) -> None:
    scope, other = tmp_path / "scope.yaml", tmp_path / "other.yaml"
    scope.write_bytes(b"project: mine")
    os.link(scope, other)
    with pytest.raises(FileNotWritten, match=r"other\.yaml: is what this command reads"):
        write_files({other: b"project: mine"}, [scope])


@pytest.mark.parametrize("force", [False, True])
def test_a_link_is_never_replaced(tmp_path: Path, force: bool) -> None:
    target, link = tmp_path / "target.txt", tmp_path / "link.txt"
    target.write_bytes(b"mine")
    link.symlink_to(target)
    with pytest.raises(FileNotWritten) as error:
        write_files({link: b"new"}, force=force)
    assert problems(error) == [f"{link}: is a link to another file; name the file itself"]
    assert link.is_symlink()
    assert target.read_bytes() == b"mine"


@pytest.mark.parametrize("force", [False, True])
def test_a_link_that_leads_nowhere_is_not_replaced(tmp_path: Path, force: bool) -> None:
    link = tmp_path / "link.txt"
    link.symlink_to(tmp_path / "nowhere.txt")
    with pytest.raises(FileNotWritten, match="is a link to another file"):
        write_files({link: b"new"}, force=force)


@pytest.mark.parametrize("force", [False, True])
def test_a_folder_is_never_replaced(tmp_path: Path, force: bool) -> None:
    with pytest.raises(FileNotWritten, match="is a folder, not a file; name a file"):
        write_files({tmp_path: b"new"}, force=force)


@pytest.mark.parametrize("force", [False, True])
def test_a_pipe_or_a_device_is_never_replaced(tmp_path: Path, force: bool) -> None:
    pipe = tmp_path / "pipe.txt"
    os.mkfifo(pipe)
    for path in (pipe, Path(os.devnull)):
        with pytest.raises(FileNotWritten, match="is a device or a pipe, not a file; name a file"):
            write_files({path: b"new"}, force=force)


@pytest.mark.parametrize(
    ("content", "ending"),
    [(b"PK\x03\x04", ".xlsx"), (b"\x89PNG\r\n", ".png"), (b"<?xml", ".svg"), (b"{", ".json")],
)
def test_the_ending_fits_what_is_written(tmp_path: Path, content: bytes, ending: str) -> None:
    with pytest.raises(FileNotWritten) as error:
        write_files({tmp_path / "scope.yaml": content}, force=True)
    where = tmp_path / "scope.yaml"
    assert problems(error) == [f"{where}: its name must end in {ending}; write scope{ending}"]
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_is_not_there_is_one_sentence(tmp_path: Path) -> None:
    with pytest.raises(FileNotWritten) as error:
        write_files({tmp_path / "no" / "new.txt": b"new"})
    assert problems(error) == [
        f"{tmp_path / 'no' / 'new.txt'}: the file cannot be written: no such file or directory; "
        "name a file in a folder that exists and may be written to"
    ]
