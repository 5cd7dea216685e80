"""Loading and saving plans: bounded, checked, and never leaving half a file behind."""

import codecs
import contextlib
import errno
import glob
import json
import os
import stat
import time
from pathlib import Path

from pydantic import ValidationError

from siteplan.errors import Said
from siteplan.plan import migrate
from siteplan.plan.document import FORMAT, Plan
from siteplan.plan.errors import BrokenFileError, FileAccessError
from siteplan.plan.mistakes import explain, said_in
from siteplan.words import plain

LARGEST_FILE_BYTES = 40 * 1024 * 1024
# Bounds memory: even an empty list takes twenty times its text once it is read.
MOST_VALUES = 2_000_000
SUFFIX = ".siteplan"
BACKUP_ENDING = "~"
_LONGEST_WHOLE_NUMBER = 40
# No save takes this long, so nobody is at work on a part this old.
_PART_IS_LEFT_AFTER_S = 3600.0


def load(path: Path | str) -> Plan:
    """Read a plan file.

    Parameters
    ----------
    path : Path or str
        A UTF-8 JSON file, at most 40 MiB.

    Returns
    -------
    Plan
        The document, brought to the present version.

    Raises
    ------
    FileAccessError
        If the file cannot be read.
    BrokenFileError
        If it is not a valid plan; the message names the field, the value and what is allowed.
    NewerFormatError
        If a newer program wrote it.
    """
    return parse(read_bytes(path), str(path))


def read_bytes(path: Path | str) -> bytes:
    """Return what is in a file, if it is not longer than any plan.

    Raises
    ------
    FileAccessError
        If the file cannot be read.
    BrokenFileError
        If it is longer than 40 MiB.
    """
    try:
        with Path(path).open("rb") as stream:
            _check_size(os.fstat(stream.fileno()).st_size, str(path))
            # A pipe or a device tells no size, so no more is read than is allowed, and one.
            raw = stream.read(LARGEST_FILE_BYTES + 1)
    except (OSError, ValueError) as error:
        raise FileAccessError(
            str(path), Said("cannot be read ({why})", {"why": _why(error)})
        ) from error
    _check_size(len(raw), str(path))
    return raw


def _check_size(size: int, name: str) -> None:
    if size > LARGEST_FILE_BYTES:
        most = LARGEST_FILE_BYTES // 2**20
        found = {"size": f"{size / 2**20:.0f}", "most": str(most)}
        raise BrokenFileError(name, Said("has {size} MiB; at most {most} MiB is read", found))


# What systems say in their own words and language of the troubles people meet.
_WHY_TEXTS = {
    errno.EACCES: "Permission denied",
    errno.EISDIR: "Is a directory",
    errno.ENAMETOOLONG: "File name too long",
    errno.ENOENT: "No such file or directory",
    errno.ENOSPC: "No space left on device",
    errno.ENOTDIR: "Not a directory",
    errno.EROFS: "Read-only file system",
}


def _why(error: Exception) -> Said:
    if isinstance(error, OSError) and isinstance(error.args[-1], Said):
        return error.args[-1]
    if isinstance(error, OSError) and error.errno in _WHY_TEXTS:
        return Said(_WHY_TEXTS[error.errno])
    return Said(plain(getattr(error, "strerror", None) or str(error)))


def parse(raw: bytes, name: str = "-") -> Plan:
    """Read a plan from bytes; `name` stands in messages. Raises as `load` does."""
    raw = without_mark(raw)
    tree = json_tree(raw, name)
    if not isinstance(tree, dict) or tree.get("format") != FORMAT:
        raise BrokenFileError(
            name,
            Said(
                'is not a plan: it must be an object with "format": "{format}"', {"format": FORMAT}
            ),
        )
    present = migrate.to_present(tree, name)
    # Strict validation takes tuples from JSON text only, so a migrated tree goes back to text.
    text = raw if present is tree else json.dumps(present).encode()
    try:
        return Plan.model_validate_json(text)
    except ValidationError as error:
        raise BrokenFileError(name, explain(error)) from error


def without_mark(raw: bytes) -> bytes:
    """Return the bytes of a text without the mark that some editors put before it."""
    return raw.removeprefix(codecs.BOM_UTF8)


def json_tree(raw: bytes, name: str) -> object:
    """Return what JSON text holds, within bounds of length, values, digits and depth.

    Raises
    ------
    BrokenFileError
        If it is no JSON, or out of bounds.
    """
    _check_size(len(raw), name)
    if raw.count(b",") > MOST_VALUES:
        raise BrokenFileError(
            name, Said("holds more than {most} values", {"most": str(MOST_VALUES)})
        )
    try:
        tree: object = json.loads(
            raw.decode("utf-8"), object_pairs_hook=_without_twins, parse_int=_whole_number
        )
    except UnicodeDecodeError as error:
        at = {"byte": str(error.start)}
        raise BrokenFileError(name, Said("is not UTF-8 text (byte {byte})", at)) from error
    except json.JSONDecodeError as error:
        at = {"why": error.msg, "line": str(error.lineno), "column": str(error.colno)}
        raise BrokenFileError(
            name, Said("is not JSON: {why} at line {line}, column {column}", at)
        ) from error
    except RecursionError as error:
        raise BrokenFileError(name, "is nested too deeply") from error
    except ValueError as error:
        raise BrokenFileError(name, said_in(error)) from error
    return tree


def _without_twins(pairs: list[tuple[str, object]]) -> dict[str, object]:
    # JSON leaves open which of two equal keys counts; a plan with two answers is no plan.
    found = dict(pairs)
    if len(found) < len(pairs):
        keys = [key for key, _ in pairs]
        twin = next(key for key in keys if keys.count(key) > 1)
        raise ValueError(
            Said("the key '{key}' stands twice in one object", {"key": plain(twin, 60)})
        )
    return found


def _whole_number(text: str) -> int:
    if len(text) > _LONGEST_WHOLE_NUMBER:
        found = {"digits": str(len(text)), "most": str(_LONGEST_WHOLE_NUMBER)}
        raise ValueError(
            Said(
                "the number {start}… has {digits} digits; at most {most} are read",
                {"start": text[:12], **found},
            )
        )
    return int(text)


def dump(plan: Plan) -> str:
    """Return the plan as the text of a plan file."""
    return plan.model_dump_json(indent=1, exclude_defaults=False) + "\n"


def save(plan: Plan, path: Path | str, *, backup: bool = False) -> None:
    """Write the plan so that the file is, at every moment, either the old or the new one whole.

    Parameters
    ----------
    plan : Plan
        What to write.
    path : Path or str
        Where; of a link, its target is written. Permissions of an old file are kept.
    backup : bool
        Whether the old file stays beside the new one, as `backup_of` names it. What was kept so
        before goes. A disk on which no backup can be made does not keep the plan from its file.

    Raises
    ------
    FileAccessError
        If the file cannot be written; the old file is then untouched.
    """
    write_whole(Path(path), dump(plan).encode("utf-8"), backup=backup)


def backup_of(path: Path) -> Path:
    """Return where the file before the last save is kept."""
    return path.with_name(path.name + BACKUP_ENDING)


def write_whole(path: Path, content: bytes, *, backup: bool = False) -> None:
    """Write bytes to a file atomically: a new file is made beside it and takes its place.

    Raises
    ------
    FileAccessError
        If any step fails.
    """
    try:
        target = path.resolve()
        mode = _mode_to_keep(target)
        # The process number keeps two programs that save at once out of each other's way.
        new = target.with_name(f".{target.name[:60]}.{os.getpid()}.part")
        try:
            _write_new(new, content, mode)
            if backup and mode is not None:
                _keep_old(target, mode)
            new.replace(target)
        except BaseException:
            new.unlink(missing_ok=True)
            raise
        _sync_folder(target.parent)
        _sweep(target)
    except (OSError, ValueError, RuntimeError) as error:
        raise FileAccessError(
            str(path), Said("cannot be written ({why})", {"why": _why(error)})
        ) from error


def _mode_to_keep(target: Path) -> int | None:
    """Return the permissions of the file to be replaced, or None; refuse what must stay."""
    if not target.exists():
        return None
    mode = target.stat().st_mode
    if not stat.S_ISREG(mode):
        raise OSError(errno.EINVAL, Said("it is not an ordinary file"))
    if not os.access(target, os.W_OK):
        # A new file could take its place all the same, but its owner has locked it.
        raise PermissionError(errno.EACCES, Said("the file is read-only"))
    return stat.S_IMODE(mode)


def _write_new(new: Path, content: bytes, mode: int | None) -> None:
    with open(new, "wb", opener=_open_new) as stream:
        stream.write(content)
        stream.flush()
        os.fsync(stream.fileno())
    if mode is not None:
        # Some file systems, as on memory sticks, know no permissions; the plan matters more.
        with contextlib.suppress(PermissionError):
            new.chmod(mode)


def _keep_old(target: Path, mode: int) -> None:
    """Keep the file that is about to be replaced; its backup, too, is whole at every moment."""
    spare = target.with_name(f".{target.name[:60]}.{os.getpid()}.old.part")
    # The new plan matters more than the old one, so the save goes on if this fails.
    with contextlib.suppress(OSError):
        spare.unlink(missing_ok=True)
        try:
            # A second name for the same file takes no room, which on a full disk counts.
            spare.hardlink_to(target)
        except OSError:
            _write_new(spare, target.read_bytes(), mode)
        spare.replace(backup_of(target))
    # If both already were the same file, the spare name is still there.
    with contextlib.suppress(OSError):
        spare.unlink(missing_ok=True)


def _sweep(target: Path) -> None:
    """Remove what a program killed in mid-save has left beside the file."""
    for left in target.parent.glob(f".{glob.escape(target.name[:60])}.*.part"):
        with contextlib.suppress(OSError):
            if time.time() - left.lstat().st_mtime > _PART_IS_LEFT_AFTER_S:
                left.unlink()


def _open_new(name: str, flags: int) -> int:
    # Whoever put a link of this name in our way must not have it followed.
    with contextlib.suppress(FileNotFoundError):
        Path(name).unlink()
    return os.open(name, flags | os.O_EXCL, 0o666)


def _sync_folder(folder: Path) -> None:
    # Without this a power cut may lose the renaming itself; not every system can do it.
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
