"""Write the kept record anew, or show one change's whole record to compare two commits by.

`python -m tests.record` writes it; read first what has changed. With the name of a change, as
the failing test gives it (`python -m tests.record 'quiet-hours: machine = null'`), it prints all
that is said of that plan: run it on both commits and compare.
"""

import sys
from pathlib import Path

from tests.record.changes import changed, samples
from tests.record.dump import contour_digest, digests, lines, record, sentences

KEPT = Path(__file__).with_name("kept")


def main(asked: list[str]) -> None:
    """Show the changes asked for, or write the record of all."""
    for one in asked:
        for section, told in record(changed()[one]).items():
            print(*lines(section, told), sep="\n")
    if asked:
        return
    for name, plan in samples().items():
        told = [f"{digests(plan)} {contour_digest(plan)}", *sentences(plan)]
        (KEPT / f"{name}.txt").write_text("\n".join(told) + "\n", "utf-8")
    kept = [f"{name}: {digests(plan)}" for name, plan in changed().items()]
    (KEPT / "changes.txt").write_text("\n".join(kept) + "\n", "utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
