"""Write the kept record anew: `python -m tests.record`, after reading what has changed."""

from pathlib import Path

from tests.record.changes import changed, samples
from tests.record.dump import contour_digest, digests, sentences

KEPT = Path(__file__).with_name("kept")


def main() -> None:
    """Write the sentences of each sample, and the digests of every change."""
    for name, plan in samples().items():
        told = [f"{digests(plan)} {contour_digest(plan)}", *sentences(plan)]
        (KEPT / f"{name}.txt").write_text("\n".join(told) + "\n", "utf-8")
    kept = [
        f"{name}: {change}: {digests(plan)}"
        for name, plans in changed().items()
        for change, plan in plans.items()
    ]
    (KEPT / "changes.txt").write_text("\n".join(kept) + "\n", "utf-8")


if __name__ == "__main__":
    main()
