"""Plan files gone wrong: changed as data, and changed as bytes."""

import copy
import json
import random
from typing import Any

HOSTILE = "\x1b[2J\x1b]0;x\x07\u202e{0}{name}%s\x9b\r\n\u2028<img src=file:///etc/passwd>"
ODD: list[Any] = [
    None, True, False, 0, -0.0, 1, -1, 2, 1.5, 359.999999, 360, 1e-300, -1e-9, 20_000, 20_000.1,
    -20_000, 1e12, 1e308, -1e308, 10**39, float("nan"), float("inf"), float("-inf"),
    "", "0", "house", "é", HOSTILE, "x" * 5000, "a-" * 20, [], {}, [[]], [None], {"": {}},
    [[0, 0], [1, 1]], [[0, 0], [4, 4], [4, 0], [0, 4]], [[5, 5]] * 4, [0.1] * 3, [1e308, -1e308],
]  # fmt: skip
KEYS = ["id", "kind", "at", "outline", "building", "wall", "offset_m", "chosen", "version", "x"]


def _holders(node: Any) -> list[Any]:
    """Every list and object that holds something, this one first."""
    found = [node] if isinstance(node, dict | list) and node else []
    children = node.values() if isinstance(node, dict) else node if isinstance(node, list) else ()
    for child in children:
        found += _holders(child)
    return found


def _place(rng: random.Random, tree: Any) -> tuple[Any, Any]:
    holder = rng.choice(_holders(tree) or [{"": None}])
    return holder, rng.choice(list(holder) if isinstance(holder, dict) else range(len(holder)))


def _numbers(tree: Any) -> list[tuple[Any, Any]]:
    return [
        (holder, key)
        for holder in _holders(tree)
        for key, value in (holder.items() if isinstance(holder, dict) else enumerate(holder))
        if isinstance(value, int | float) and abs(value) < 1e6 and not isinstance(value, bool)
    ]


def _nudge(rng: random.Random, tree: Any) -> None:
    """Change numbers a little or to a round figure: mostly still a plan, of odder shape."""
    for holder, key in rng.choices(_numbers(tree) or [({}, "")], k=rng.choice([1, 1, 1, 2, 4])):
        old = holder.get(key, 0) if isinstance(holder, dict) else holder[key]
        holder[key] = rng.choice(
            [
                old + rng.choice([-1, 1]) * 10 ** rng.uniform(-9, 2),
                old * rng.choice([-1, 0, 0.5, 2, 10]),
                float(round(old)),
                rng.uniform(-50, 50),
                rng.choice([0, 0.0, 1e-7, 4.572, 6.096, 7.62, 90.0, 180.0]),
            ]
        )


def _replace(rng: random.Random, tree: Any) -> None:
    holder, key = _place(rng, tree)
    holder[key] = copy.deepcopy(rng.choice(ODD))


def _delete(rng: random.Random, tree: Any) -> None:
    holder, key = _place(rng, tree)
    del holder[key]


def _double(rng: random.Random, tree: Any) -> None:
    holder, key = _place(rng, tree)
    if isinstance(holder, list):
        holder.insert(key, copy.deepcopy(holder[key]))
    else:
        holder[rng.choice(KEYS)] = copy.deepcopy(holder[key])


def _transplant(rng: random.Random, tree: Any) -> None:
    (here, key), (there, other) = _place(rng, tree), _place(rng, tree)
    there[other] = copy.deepcopy(here[key])


def _shuffle(rng: random.Random, tree: Any) -> None:
    lists = [one for one in _holders(tree) if isinstance(one, list)]
    if lists:
        rng.shuffle(rng.choice(lists))


_CHANGES = (_nudge, _nudge, _replace, _replace, _delete, _double, _transplant, _shuffle)


def changed_tree(rng: random.Random, tree: Any) -> bytes:
    """A plan file with one to three parts changed."""
    new = copy.deepcopy(tree)
    gently = rng.random() < 0.5
    for change in [_nudge] if gently else rng.choices(_CHANGES, k=rng.choice([1, 1, 1, 2, 3])):
        change(rng, new)
    return json.dumps(new).encode()


_PIECES = [
    b"{", b"}", b"[", b"]", b",", b":", b'"', b"\\", b"\x00", b"\xff", b"\xed\xa0\x80", b"1e999",
    b"-", b"NaN", b"null", b"\\ud800", b"9" * 50, b"[" * 300, b'{"a":' * 300, b"\xef\xbb\xbf",
]  # fmt: skip


def changed_bytes(rng: random.Random, raw: bytes) -> bytes:
    """A plan file with some bytes flipped, cut, doubled or put in."""
    new = bytearray(raw)
    for _ in range(rng.choice([1, 1, 2, 5])):
        at = rng.randrange(len(new) + 1)
        end = min(len(new), at + rng.choice([1, 1, 4, 50, 2000]))
        which = rng.randrange(5)
        if which == 0 and at < len(new):
            new[at] ^= 1 << rng.randrange(8)
        elif which == 1:
            del new[at:end]
        elif which == 2:
            new[at:at] = new[at:end]
        elif which == 3:
            new[at:at] = rng.choice(_PIECES)
        else:
            del new[at:]
    return bytes(new)
