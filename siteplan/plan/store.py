"""Loading and saving plans: bounded, checked, and never leaving half a file behind."""

import contextlib
import json
import os
from pathlib import Path

from pydantic import ValidationError

from siteplan.plan import migrate
from siteplan.plan.document import FORMAT, Plan
from siteplan.plan.errors import BrokenFileError, FileAccessError
from siteplan.words import plain

LARGEST_FILE_BYTES = 64 * 1024 * 1024
SUFFIX = ".siteplan"


def load(path: Path | str) -> Plan:
    """Read a plan file.

    Parameters
    ----------
    path : Path or str
        A UTF-8 JSON file, at most 64 MiB.

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
    path = Path(path)
    try:
        size = path.stat().st_size
        if size > LARGEST_FILE_BYTES:
            raise BrokenFileError(
                str(path), f"the file has {size / 2**20:.0f} MiB; at most 64 MiB is read"
            )
        raw = path.read_bytes()
    except OSError as error:
        raise FileAccessError(str(path), f"cannot be read ({error.strerror or error})") from error
    return parse(raw, str(path))


def parse(raw: bytes, name: str = "standard input") -> Plan:
    """Read a plan from bytes; `name` stands in messages. Raises as `load` does."""
    if len(raw) > LARGEST_FILE_BYTES:
        raise BrokenFileError(name, "the text is longer than 64 MiB")
    try:
        tree = json.loads(raw.decode("utf-8-sig"), parse_constant=_no_constant)
    except UnicodeDecodeError as error:
        raise BrokenFileError(name, f"is not UTF-8 text (byte {error.start})") from error
    except json.JSONDecodeError as error:
        where = f"line {error.lineno}, column {error.colno}"
        raise BrokenFileError(name, f"is not JSON: {error.msg} at {where}") from error
    except RecursionError as error:
        raise BrokenFileError(name, "is nested too deeply") from error
    except ValueError as error:
        raise BrokenFileError(name, f"is not JSON: {error}") from error
    if not isinstance(tree, dict) or tree.get("format") != FORMAT:
        raise BrokenFileError(
            name, f'is not a plan: it must be an object with "format": "{FORMAT}"'
        )
    tree = migrate.to_present(tree, name)
    try:
        # Strict validation takes tuples from JSON text only, so the tree goes back to text.
        return Plan.model_validate_json(json.dumps(tree))
    except ValidationError as error:
        raise BrokenFileError(name, explain(error)) from error


def _no_constant(text: str) -> float:
    msg = f"{text} is not a number that can be drawn"
    raise ValueError(msg)


def explain(error: ValidationError) -> str:
    """Return the first mistake as one line: the field, what is allowed, the value found."""
    mistakes = error.errors(include_url=False)
    first = mistakes[0]
    message = first["msg"].removeprefix("Value error, ")
    place = ".".join(str(part) for part in first["loc"])
    more = f" (and {len(mistakes) - 1} more)" if len(mistakes) > 1 else ""
    if not place:
        return plain(message) + more
    shown = plain(repr(first["input"]))
    value = f"; found {shown[:60]}" if first["type"] != "missing" else ""
    return plain(f"{place}: {message[0].lower()}{message[1:]}{value}") + more


def dump(plan: Plan) -> str:
    """Return the plan as the text of a plan file."""
    return plan.model_dump_json(indent=1, exclude_defaults=False) + "\n"


def save(plan: Plan, path: Path | str) -> None:
    """Write the plan so that the file is, at every moment, either the old or the new one whole.

    Raises
    ------
    FileAccessError
        If the file cannot be written; the old file is then untouched.
    """
    write_whole(Path(path), dump(plan).encode("utf-8"))


def write_whole(path: Path, content: bytes) -> None:
    """Write bytes to a file atomically: a new file is made beside it and takes its place.

    Raises
    ------
    FileAccessError
        If any step fails.
    """
    temporary: Path | None = None
    try:
        target = path.resolve()
        # The process number keeps two programs that save at once out of each other's way.
        new = target.with_name(f".{target.name[:60]}.{os.getpid()}.part")
        with open(new, "wb", opener=_open_new) as stream:
            temporary = new
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        if target.exists():
            new.chmod(target.stat().st_mode & 0o777)
        new.replace(target)
        temporary = None
        _sync_folder(target.parent)
    except OSError as error:
        raise FileAccessError(
            str(path), f"cannot be written ({error.strerror or error})"
        ) from error
    finally:
        if temporary is not None:
            with contextlib.suppress(OSError):
                temporary.unlink()


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
