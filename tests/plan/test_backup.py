import pytest

from siteplan.plan import Plan, edits, load, save
from siteplan.plan.errors import FileAccessError
from siteplan.plan.store import backup_of


@pytest.fixture
def file(tmp_path):
    path = tmp_path / "mine.siteplan"
    save(Plan(title="first"), path)
    return path


def test_the_file_before_the_last_save_is_kept(file):
    first = file.read_bytes()
    save(Plan(title="second"), file, backup=True)
    second = file.read_bytes()
    assert backup_of(file).read_bytes() == first
    save(Plan(title="third"), file, backup=True)
    assert backup_of(file).read_bytes() == second
    assert load(file).title == "third"
    assert sorted(one.name for one in file.parent.iterdir()) == [
        "mine.siteplan",
        "mine.siteplan~",
    ]


def test_a_new_file_has_no_backup(tmp_path):
    path = tmp_path / "new.siteplan"
    save(Plan(), path, backup=True)
    assert not backup_of(path).exists()


def test_nothing_is_kept_unasked(file):
    save(Plan(title="second"), file)
    assert not backup_of(file).exists()


def test_a_backup_is_a_file_of_its_own_afterwards(file):
    save(Plan(title="second"), file, backup=True)
    assert not file.samefile(backup_of(file))


def test_without_second_names_for_files_the_backup_is_a_copy(file, monkeypatch):
    def no_links(*_):
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr("pathlib.Path.hardlink_to", no_links)
    first = file.read_bytes()
    save(Plan(title="second"), file, backup=True)
    assert backup_of(file).read_bytes() == first


def test_a_backup_that_cannot_be_made_does_not_stop_the_save(file):
    backup_of(file).mkdir()
    save(Plan(title="second"), file, backup=True)
    assert load(file).title == "second"
    assert not list(file.parent.glob(".*.part"))


def test_a_save_stopped_after_its_backup_was_made_leaves_nothing_over(file):
    # The file and its backup are then two names of one file, and renaming one to the other
    # does nothing.
    backup_of(file).hardlink_to(file)
    save(edits.with_fields(load(file), title="second"), file, backup=True)
    assert load(backup_of(file)).title == "first"
    assert not list(file.parent.glob(".*.part"))


def test_a_save_that_fails_keeps_file_and_backup(file, monkeypatch):
    save(Plan(title="second"), file, backup=True)
    before = file.read_bytes(), backup_of(file).read_bytes()

    def full(_handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("siteplan.plan.store.os.fsync", full)
    with pytest.raises(FileAccessError, match="No space left"):
        save(Plan(title="third"), file, backup=True)
    assert (file.read_bytes(), backup_of(file).read_bytes()) == before
    assert not list(file.parent.glob(".*.part"))
