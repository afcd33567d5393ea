"""Files spoilt on purpose: by what they mean, as a maker might, and byte by byte, as a disk might.

All that is drawn comes from the generator handed in, so that a seed says what was made.
"""

from __future__ import annotations

import random
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import yaml

CHANGES_MADE = (1, 1, 1, 1, 2, 2, 3, 5)
"""In how many places a file is spoilt: mostly in one, so that what stands behind the first fault is reached, too."""

AMOUNTS = (
    "13 in", "330.2 mm", "1 1/2 in", "13½ in", "1 ft 1 in", "33cm", "0.33 m", "0 mm", "-1 mm", "1e9 m",
    "1e-9 mm", "1e400 mm", "13", "13 furlongs", "in", "1/0 in", "13 in 5", "1,5 mm", "９ mm", "3 %", "150 %",
    "-3 %", "6 h", "1 d", "110 Hz", "A2", "H9", "60 N", "15 C", "-300 C", "59 F", "13 lbf", "10000 km", ".5 in",
    "5. mm", "1 1/2 1/2 in", "+7 mm",
)  # fmt: skip
VALUES = (
    "0", "1", "-1", "4", "5", "7", "16", "64", "65", "1000000", "9" * 40, "1.5", "0x10", "0o17", ".inf", ".nan",
    "1e999", "true", "no", "null", "~", "''", '""', "[]", "{}", "[1, 2, 3]", "{a: {b: c}}", "goat", "deer",
    "dragon", "round", "oval", "polygon", "cross", "clockwise", "fold", "step", "tape", "hair", "flesh", "inch",
    "metric", "bent", "staves", "first_hole", "pair_centre", "imported", "../x", "a/b", "CON", "index.md",
    ".tauthide.json", "x" * 300, "羊", "\u202eabc", "\U0001f941", "a\u0301", "<b>x</b>", "'[x](y)'",
    "|\n  many\n  lines\n", ">-\n  folded\n  text\n", "&a 1", "*a", "!!int 3", "2026-01-01", "12:30:00",
    "1_000", "lending.base.yaml", "shop.yaml", "[{rule: margin-small, because: x}]",
    "[{rule: none, because: ''}]",
)  # fmt: skip
KEYS = (
    "frame", "head", "stations", "lace", "handle", "voice", "bench", "tolerances", "hides", "accept",
    "inherits", "title", "notes", "quantity", "drum", "outline", "diameter", "depth", "wall", "edge_radius",
    "make", "sides", "across_flats", "length", "width", "hide", "thickness", "dry_thickness", "turnover",
    "stretch", "outer", "origin", "count", "mark_at", "hand", "web", "pair_spacing", "margin", "edge_distance",
    "hole", "marking", "lacing", "play", "tab_length", "tab_width", "tail", "allowance", "join", "core", "arms",
    "wrap", "pitch", "pull", "wet_share", "safety", "units", "punches", "water", "air", "humidity", "spec",
    "base", "shop", "kind", "tickness", "<<", "?", "x-y", "'a: b'", "羊", "",
)  # fmt: skip
BITS = (
    b"\x00", b"\xff", b"\xef\xbb\xbf", b"\t", b"\n", b"\r", b"\r\n", b"  ", b":", b": ", b"- ", b"#", b"&a ",
    b"*a ", b"!!x ", b"{", b"}", b"[", b"]", b",", b"'", b'"', b"|", b">", b"%YAML 1.2\n", b"---\n", b"...\n",
    b"? ", b"\\", b"\x1b[2J", b"\xc2\x85", b"\xe2\x80\xa8", b"\xed\xa0\x80", b"\xf4\x90\x80\x80",
    b"\xe2\x80\xae", b"spec: 1\n", b"inherits: a.yaml\n",
)  # fmt: skip


@dataclass(frozen=True)
class Scalar:
    """One scalar of a file: where it stands, and whether it is a key."""

    start: int
    end: int
    is_key: bool


def mutate_meaning(text: str, dice: random.Random) -> bytes:
    """Spoil a file of ours in a few places, each change one that a maker, or a bad day, might make."""
    for _ in range(dice.choice(CHANGES_MADE)):
        text = dice.choice(CHANGES)(text, dice)
    return text.encode("utf-8", "surrogatepass")


def mutate_bytes(data: bytes, others: Sequence[bytes], dice: random.Random) -> bytes:
    """Spoil a file byte by byte in a few places; `others` give pieces that are put in."""
    for _ in range(dice.choice(CHANGES_MADE)):
        at = dice.randint(0, len(data))
        end = min(len(data), at + dice.randint(0, 40))
        deed = dice.randrange(7)
        if deed == 0:  # a bit that has turned over
            data = data[:at] + bytes((data[at] ^ 1 << dice.randrange(8),)) + data[at + 1 :] if at < len(data) else data
        elif deed == 1:
            data = data[:at] + bytes(dice.randrange(256) for _ in range(dice.randint(1, 8))) + data[at:]
        elif deed == 2:
            data = data[:at] + data[end:]
        elif deed == 3:
            data = data[:at] + dice.choice(BITS) + data[at:]
        elif deed == 4:
            data = data[:at] + data[at:end] * dice.choice((2, 3, 50, 500)) + data[end:]
        elif deed == 5:
            other = dice.choice(others)
            start = dice.randint(0, len(other))
            data = data[:at] + other[start : start + dice.randint(1, 200)] + data[end:]
        else:
            data = data[:at]
    return data


def scalars(text: str) -> list[Scalar]:
    """Return the scalars of a file as far as it can be parsed."""
    found: list[Scalar] = []

    def walk(node: yaml.Node, is_key: bool) -> None:
        if isinstance(node, yaml.ScalarNode):
            found.append(Scalar(node.start_mark.index, node.end_mark.index, is_key))
        elif isinstance(node, yaml.MappingNode):
            for key, value in node.value:
                walk(key, True)
                walk(value, False)
        elif isinstance(node, yaml.SequenceNode):
            for item in node.value:
                walk(item, False)

    try:
        root = yaml.compose(text, Loader=yaml.BaseLoader)
    except (yaml.YAMLError, ValueError, RecursionError):  # spoilt already
        return [Scalar(match.start(), match.end(), False) for match in re.finditer(r"[\w./ ]+", text)]
    if root is not None:
        walk(root, False)
    return found


def _value(text: str, dice: random.Random) -> str:
    """Another value in the place of one."""
    return _put(text, [each for each in scalars(text) if not each.is_key], dice, dice.choice((*AMOUNTS, *VALUES)))


def _amount(text: str, dice: random.Random) -> str:
    """Another amount in the place of one."""
    found = [each for each in scalars(text) if not each.is_key and re.match(r"[-+.\d]", text[each.start : each.end])]
    if not found:
        return text
    chosen = dice.choice(found)
    return text[: chosen.start] + dice.choice(AMOUNTS) + text[chosen.end :]


def _slightly(text: str, dice: random.Random) -> str:
    """A number that is a little larger or smaller, as another maker might choose it."""
    found = list(re.finditer(r"(?<=: )\d+(?:\.\d+)?|(?<=\[)\d+", text))
    if not found:
        return text
    match = dice.choice(found)
    changed = float(match[0]) * dice.uniform(0.5, 2)
    return text[: match.start()] + (f"{changed:.0f}" if dice.random() < 0.7 else f"{changed:.3f}") + text[match.end() :]


def _key(text: str, dice: random.Random) -> str:
    """Another key in the place of one."""
    return _put(text, [each for each in scalars(text) if each.is_key], dice, dice.choice(KEYS))


def _typo(text: str, dice: random.Random) -> str:
    """A letter left out, doubled or changed within a scalar."""
    found = [each for each in scalars(text) if each.end > each.start]
    if not found:
        return text
    chosen = dice.choice(found)
    at = dice.randrange(chosen.start, chosen.end)
    return text[:at] + dice.choice(("", text[at] * 2, dice.choice("aeioxzl01 :,"))) + text[at + 1 :]


def _number(text: str, dice: random.Random) -> str:
    """A number made larger or smaller, as by a slip of the decimal point."""
    found = list(re.finditer(r"\d+(?:\.\d+)?", text))
    if not found:
        return text
    match = dice.choice(found)
    number = float(match[0]) * dice.choice((0, 0.001, 0.1, 0.5, 0.9, 1.1, 2, 10, 1000, 1e6, -1))
    return text[: match.start()] + f"{number:g}" + text[match.end() :]


def _line_gone(text: str, dice: random.Random) -> str:
    lines = text.splitlines(keepends=True)
    if lines:
        del lines[dice.randrange(len(lines))]
    return "".join(lines)


def _line_twice(text: str, dice: random.Random) -> str:
    lines = text.splitlines(keepends=True)
    if lines:
        lines.insert(dice.randint(0, len(lines)), dice.choice(lines))
    return "".join(lines)


def _line_indented(text: str, dice: random.Random) -> str:
    lines = text.splitlines(keepends=True)
    if lines:
        at = dice.randrange(len(lines))
        lines[at] = dice.choice((" ", "  ", "\t", "- ")) + lines[at] if dice.random() < 0.7 else lines[at].lstrip()
    return "".join(lines)


def _field(text: str, dice: random.Random) -> str:
    """A field more, at the top or below a part."""
    value = dice.choice((*AMOUNTS, *VALUES))
    part = (
        f"{dice.choice(KEYS)}: {{{dice.choice(KEYS)}: {value}}}\n"
        if dice.random() < 0.5
        else f"{dice.choice(KEYS)}: {value}\n"
    )
    return f"{text.rstrip()}\n{part}"


def _nested(text: str, dice: random.Random) -> str:
    """A value within many brackets."""
    depth = dice.choice((1, 2, 21, 200))
    bracket = dice.choice(("[]", "{}"))
    opening = bracket[0] if bracket == "[]" else "{a: "
    return _put(
        text, [each for each in scalars(text) if not each.is_key], dice, opening * depth + "x" + bracket[1] * depth
    )


def _swapped(text: str, dice: random.Random) -> str:
    """Two scalars, each in the other's place."""
    found = scalars(text)
    if len(found) < 2:
        return text
    first, second = sorted(dice.sample(found, 2), key=lambda each: each.start)
    one, two = text[first.start : first.end], text[second.start : second.end]
    return text[: first.start] + two + text[first.end : second.start] + one + text[second.end :]


def _put(text: str, places: Sequence[Scalar], dice: random.Random, word: str) -> str:
    if not places:
        return text + word
    chosen = dice.choice(places)
    return text[: chosen.start] + word + text[chosen.end :]


CHANGES: tuple[Callable[[str, random.Random], str], ...] = (
    *(_slightly,) * 6, *(_amount,) * 3, *(_number,) * 2, *(_value,) * 2,
    _key, _typo, _line_gone, _line_twice, _line_indented, _field, _nested, _swapped,
)  # fmt: skip
"""Ways to spoil a file; those that stay nearest to a good one stand here more than once."""
