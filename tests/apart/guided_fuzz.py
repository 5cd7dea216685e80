"""Fuzz loading and review guided by coverage.

Run: pip install '.[fuzz]' && python tests/apart/guided_fuzz.py -runs=20000 [CORPUS_DIR]

Arguments are those of libFuzzer. Changed files that reach new code are kept and changed further;
what must not come of a file is what `fuzz_plans.py` says.
"""

import json
import random
import sys
import tempfile
from pathlib import Path

import atheris

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
sys.path.insert(0, str(Path(__file__).resolve().parent))

with atheris.instrument_imports(include=["siteplan"]):
    import fuzz_plans

from tests.helpers.mutations import changed_bytes, changed_tree


def mutated(raw: bytes, most: int, seed: int) -> bytes:
    """A changed file: as data where it is JSON, else as bytes."""
    rng = random.Random(seed)  # noqa: S311 - to be repeated, not to be secret
    try:
        tree = json.loads(raw)
    except ValueError:
        return changed_bytes(rng, raw)[:most]
    if not isinstance(tree, dict) or rng.random() < 0.1:
        return changed_bytes(rng, raw)[:most]
    return changed_tree(rng, tree)[:most]


def one(raw: bytes) -> None:
    fuzz_plans.judge(raw)


def main() -> None:
    arguments = sys.argv[:]
    with tempfile.TemporaryDirectory() as folder:
        for number, raw in enumerate(fuzz_plans.corpus()):
            (Path(folder) / f"{number}.siteplan").write_bytes(json.dumps(json.loads(raw)).encode())
        # Instrumented code grows by some 18 kB a run, which the same plans without instruments do
        # not; that memory stays bounded is what `fuzz_plans.py` shows.
        limits = ["-max_len=60000", "-timeout=10", "-rss_limit_mb=4096"]
        atheris.Setup([*arguments, *limits, folder], one, custom_mutator=mutated)
        atheris.Fuzz()


if __name__ == "__main__":
    main()
