"""Edits written into a maker's text: its comments, order, quotes and line ends stay as they are.

Where an edit may go is worked out from the text's layout, and each try is read again: only one that holds
exactly what it should is taken, so that a layout that is not understood gives no patch rather than a wrong one.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

from tauthide.reading.events import read_yaml
from tauthide.reading.located import Data, Path
from tauthide.reading.sources import mask_directives, read_source
from tauthide.schema.wording import flow
from tauthide.suggesting.edits import Append, Edit, Insert, Rename, Replace, apply_edit, edits_between, same_data

_BOM = b"\xef\xbb\xbf"
_LINE_END = re.compile(r"\r\n|\r|\n")
_STEP = "  "
"""How far a new part's fields are set in, where no other part tells."""


def patch(source: bytes, new: dict[str, Data], renames: Mapping[Path, Path]) -> bytes | None:
    """Return the document in `source` changed to hold `new`; None where that can't be done in place.

    `renames` gives for the path of a key that takes another one's place that other one's path.
    """
    located, _ = read_yaml(source, "")
    if located is None:
        return None
    mark = _BOM if source.startswith(_BOM) else b""
    text = source.removeprefix(mark).decode("utf-8")
    data: Data = located.data
    for edit in edits_between(located.data, new, renames):
        data = apply_edit(data, edit)
        written = next((tried for tried in _tries(text, edit) if _holds(tried, data)), None)
        if written is None:
            return None
        text = written
    # Inserted parts come last in the text, and may stand elsewhere in `new`.
    held, _ = read_yaml(text.encode(), "")
    return mark + text.encode() if held is not None and held.data == new and _holds(text, data) else None


def _holds(text: str, data: Data) -> bool:
    located, _ = read_yaml(text.encode("utf-8"), "")
    return located is not None and same_data(located.data, data)


def _tries(text: str, edit: Edit) -> Iterator[str]:
    """Yield texts that may be the one with the edit made, the likeliest first."""
    root = _compose(text)
    if isinstance(edit, Insert):
        holder = _node(root, edit.path[:-1])
        if holder is not None:
            yield from _inserted(text, root, holder, edit)
        return
    if isinstance(edit, Append):
        yield from _appended(text, _node(root, edit.path), edit)
        return
    node = _key_node(root, edit.path) if isinstance(edit, Rename) else _node(root, edit.path)
    if node is None:
        return
    start, end = node.start_mark.index, node.end_mark.index
    if isinstance(edit, Rename):
        yield text[:start] + flow(edit.key) + text[end:]
    elif start == end:
        yield from _filled(text, _key_node(root, edit.path), edit)
    else:
        yield from _replaced(text, start, end, edit)


def _filled(text: str, key: Any, edit: Replace) -> Iterator[str]:
    """Yield the text with a value behind a key that has none: the parser may tell its place lines later."""
    colon = -1 if key is None else text.find(":", key.end_mark.index)
    if colon < 0:
        return
    before, after = text[: colon + 1], text[colon + 1 :]
    if after[:1] == " " and after[1:2] in ("}", ",", "\r", "\n", ""):
        after = after[1:]
    yield f"{before} {flow(edit.value)}{after}"


def _replaced(text: str, start: int, end: int, edit: Replace) -> Iterator[str]:
    new = flow(edit.value)
    quote = text[start]
    if quote in "\"'" and isinstance(edit.value, str) and not set(edit.value) & set("\"'\\"):
        yield f"{text[:start]}{quote}{edit.value}{quote}{text[end:]}"
    yield text[:start] + new + text[end:]
    # The end of a text of several lines is told as that of the blank lines and comments behind it.
    body = text[start:end].rstrip()
    yield text[:start] + new + text[start + len(body) :]


def _inserted(text: str, root: Any, holder: Any, edit: Insert) -> Iterator[str]:
    key = str(edit.path[-1])
    entry = f"{flow(key)}: {flow(edit.value)}"
    if not isinstance(holder.value, list) or holder.id != "mapping":
        return
    if holder.flow_style:
        yield from _inserted_in_flow(text, holder, entry)
        return
    indent = " " * holder.value[0][0].start_mark.column
    if isinstance(edit.value, dict) and not _parts_in_flow(root):
        step = _usual_step(root)
        fields = [f"{indent}{step}{flow(name)}: {flow(value)}" for name, value in edit.value.items()]
        lines = [f"{indent}{flow(key)}:", *fields]
    else:
        lines = [indent + entry]
    if holder is root:
        yield _with_lines(text, len(text), lines)
    yield _with_lines(text, _end_of_line(text, _end(holder)), lines)


def _inserted_in_flow(text: str, holder: Any, entry: str) -> Iterator[str]:
    if holder.value:
        end = holder.value[-1][1].end_mark.index
        yield f"{text[:end]}, {entry}{text[end:]}"
        return
    inside = holder.start_mark.index + 1
    yield text[:inside] + entry + text[inside:]


def _appended(text: str, holder: Any, edit: Append) -> Iterator[str]:
    """Yield the text with a map added to a list, its fields on lines of their own unless the list is in brackets."""
    if holder is None or holder.id != "sequence" or not holder.value or not isinstance(edit.value, dict):
        return
    if holder.flow_style:
        end = holder.value[-1].end_mark.index
        yield f"{text[:end]}, {flow(edit.value)}{text[end:]}"
        return
    indent = " " * holder.start_mark.column
    fields = [f"{flow(key)}: {flow(value)}" for key, value in edit.value.items()]
    lines = [f"{indent}{'  ' if number else '- '}{line}" for number, line in enumerate(fields)]
    yield _with_lines(text, _end_of_line(text, _end(holder)), lines)


def _with_lines(text: str, at: int, lines: list[str]) -> str:
    """Return the text with lines put in at the start of a line, or behind a last line that has no end."""
    found = _LINE_END.search(text)
    line_end = found[0] if found else "\n"
    body = line_end.join(lines)
    if at and text[at - 1] not in "\r\n":
        return f"{text[:at]}{line_end}{body}{text[at:]}"
    return f"{text[:at]}{body}{line_end}{text[at:]}"


def _end_of_line(text: str, index: int) -> int:
    """Return where the line after the one at `index` starts; `index` itself at the start of a line."""
    if index and text[index - 1] in "\r\n":
        return index
    found = _LINE_END.search(text, index)
    return found.end() if found else len(text)


def _end(node: Any) -> int:
    """Return where a node's own text ends: maps and lists without brackets end with their last value."""
    if node.id == "scalar" or node.flow_style or not node.value:
        index: int = node.end_mark.index
        return index
    last = node.value[-1]
    return _end(last[1] if node.id == "mapping" else last)


def _parts_in_flow(root: Any) -> bool:
    """Tell whether the parts of a document stand on one line each, in brackets; so they do where there are none."""
    parts = [value for _, value in root.value if value.id == "mapping"]
    return not parts or any(part.flow_style for part in parts)


def _usual_step(root: Any) -> str:
    """Return how far the fields of the document's parts are set in."""
    columns = [value.value[0][0].start_mark.column for _, value in root.value if value.id == "mapping" and value.value]
    return " " * columns[0] if columns and columns[0] else _STEP


def _node(root: Any, path: Path) -> Any:
    node = root
    for step in path:
        if node.id == "mapping":
            node = next((value for key, value in node.value if key.value == step), None)
        elif node.id == "sequence" and isinstance(step, int) and step < len(node.value):
            node = node.value[step]
        else:
            return None
        if node is None:
            return None
    return node


def _key_node(root: Any, path: Path) -> Any:
    holder = _node(root, path[:-1])
    if holder is None or holder.id != "mapping":
        return None
    return next((key for key, _ in holder.value if key.value == path[-1]), None)


def _compose(text: str) -> Any:
    """Return the layout of a text that can be read: nodes with the places where they start and end."""
    import yaml  # here, since importing it takes longer than reading a spec

    loader: Any = yaml.CBaseLoader if yaml.__with_libyaml__ else yaml.BaseLoader
    masked, _ = mask_directives(read_source(text.encode("utf-8"), "")[0])
    return yaml.compose(masked, Loader=loader)
