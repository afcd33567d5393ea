"""One walk over a parser's events: data and marks on one side, what is refused on the other."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from tauthide.reading import faults
from tauthide.reading.faults import Fault
from tauthide.reading.located import Data, Mark, Path
from tauthide.reading.refusals import Refusals
from tauthide.reading.scalars import NULLS, resolve_plain
from tauthide.reading.sources import Source


class _Frame:
    """A map or list that is not yet closed."""

    __slots__ = ("container", "is_map", "key", "line", "path", "plain_key")

    def __init__(self, container: dict[str, Data] | list[Data], path: Path, line: int) -> None:
        self.container = container
        self.path = path
        self.line = line
        """The line, from 1, on which it begins."""
        self.is_map = type(container) is dict
        self.key: str | None = None
        """In a map, the key whose value comes next; nothing where a key comes next."""
        self.plain_key: Any = None
        """That key's event, where it was not in quotes."""


class Walk:
    """What the events so far have given."""

    def __init__(self, source: Source) -> None:
        """Begin a walk over the events of `source`."""
        self.source = source
        self.root: Data = None
        self.keys: dict[Path, Mark] = {}
        self.values: dict[Path, Mark] = {}
        self.refusals = Refusals(source)
        self.covered: list[tuple[int, int]] = []
        """First and last index of each quoted or block text of several lines."""
        self.index = 0
        """Where the last event ended."""
        self.ended = False
        """Whether there is nothing more to read."""
        self.stopped_at: int | None = None
        """Where the walk was broken off before the end of the text."""
        self._stack: list[_Frame] = []
        self._documents = 0
        self._root_event: Any = None
        """The root's event where it is no map; reported at the end, since other faults may be the cause."""
        self._skipped = 0
        """How many collections are open within a key that is one, whose parts are passed over."""

    def take(self, event: Any) -> None:
        """Take the parser's next event."""
        handler = _HANDLERS.get(type(event).__name__)
        if handler is not None:
            handler(self, event)
        self.index = event.end_mark.index

    # -- documents

    def _begin_document(self, event: Any) -> None:
        self._documents += 1
        if self._documents > 1:
            self.refusals.report(faults.SEVERAL, event, found="---")
            self._stop(event)

    def _end(self, _: Any) -> None:
        self.ended = True
        if not self._documents:
            self.refusals.report_root(None)
        elif self._root_event is not None:
            self.refusals.report_root(self._root_event)

    def _stop(self, event: Any) -> None:
        self.ended = True
        self.stopped_at = event.start_mark.index

    # -- nodes

    def _take_scalar(self, event: Any) -> None:
        start, style = event.start_mark, event.style
        if style and start.line != event.end_mark.line:
            self.covered.append((start.index, event.end_mark.index))
        if self._skipped:
            return
        frame = self._stack[-1] if self._stack else None
        if frame is not None and frame.is_map and frame.key is None:
            self._take_key(event, frame)
            return
        path = self._path(frame)
        self.values[path] = self._mark(event)
        if event.anchor is not None or event.tag is not None or style == '"':
            self.refusals.check_node(event, path)
        value: Data | Fault = event.value if style else resolve_plain(event.value)
        if isinstance(value, Fault):
            self.refusals.report(value, event, path, found=event.value)
            value = None
        if frame is None:
            self._root_event = event
            return
        if frame.plain_key is not None and not event.value and not style:
            self.refusals.check_joined(frame.plain_key, event, path)
        self._put(frame, value)

    def _take_key(self, event: Any, frame: _Frame) -> None:
        key = event.value
        path = (*frame.path, key)
        style = event.style
        if event.anchor is not None or event.tag is not None or style == '"':
            self.refusals.check_node(event, path)
        if not key or (key in NULLS and not style):
            self.refusals.report(faults.EMPTY_KEY, event, frame.path, found=key or "nothing")
        elif key == "<<" and not style:
            self.refusals.report(faults.MERGE, event, frame.path, found=key)
        elif path in self.keys and self.keys[path].line >= frame.line:
            # A key above this map belongs to an earlier one of the same name, which is reported by itself.
            self.refusals.report_duplicate(event, path, self.keys[path].line)
        else:
            self.keys[path] = self._mark(event)
        frame.key = key
        frame.plain_key = None if style else event

    def _take_alias(self, event: Any) -> None:
        if self._skipped:
            return
        frame = self._stack[-1] if self._stack else None
        if frame is not None and frame.is_map and frame.key is None:
            self.refusals.report_alias(event, frame.path)
            frame.key, frame.plain_key = "", None
            return
        path = self._path(frame)
        self.refusals.report_alias(event, path)
        if frame is not None:
            self._put(frame, None)

    def _open_map(self, event: Any) -> None:
        self._open(event, {})

    def _open_list(self, event: Any) -> None:
        self._open(event, [])

    def _open(self, event: Any, container: dict[str, Data] | list[Data]) -> None:
        frame = self._stack[-1] if self._stack else None
        if len(self._stack) + self._skipped >= faults.MAX_DEPTH:
            self.refusals.report_depth(event, frame.path if frame else ())
            self._stop(event)
            return
        if self._skipped:
            self._skipped += 1
            return
        if frame is not None and frame.is_map and frame.key is None:
            self.refusals.report_complex_key(event, frame.path)
            self._skipped = 1
            return
        path = self._path(frame)
        self.values[path] = Mark(event.start_mark.line + 1, event.start_mark.column + 1, 1)
        self.refusals.check_node(event, path)
        if frame is not None:
            self._put(frame, container)
        elif type(container) is dict:
            self.root = container
        else:
            self._root_event = event
        self._stack.append(_Frame(container, path, event.start_mark.line + 1))

    def _close(self, _: Any) -> None:
        if not self._skipped:
            self._stack.pop()
            return
        self._skipped -= 1
        if not self._skipped:
            self._stack[-1].key, self._stack[-1].plain_key = "", None

    # -- places

    def _path(self, frame: _Frame | None) -> Path:
        """Return the path of the value that comes next."""
        if frame is None:
            return ()
        return (*frame.path, len(frame.container) if frame.key is None else frame.key)

    def _put(self, frame: _Frame, value: Data) -> None:
        if type(frame.container) is list:
            frame.container.append(value)
        elif type(frame.container) is dict and frame.key is not None:
            frame.container[frame.key] = value
            frame.key = None

    def _mark(self, event: Any) -> Mark:
        """Return a scalar's mark: its text on its first line, or the sign that begins a block text."""
        start, end = event.start_mark, event.end_mark
        if start.line == end.line:
            width = end.column - start.column
        elif event.style in ("|", ">"):
            width = 1
        else:
            width = len(self.source.lines[start.line].rstrip()) - start.column
        return Mark(start.line + 1, start.column + 1, width if width > 0 else 1)


_HANDLERS: dict[str, Callable[[Walk, Any], None]] = {
    "ScalarEvent": Walk._take_scalar,
    "MappingStartEvent": Walk._open_map,
    "SequenceStartEvent": Walk._open_list,
    "MappingEndEvent": Walk._close,
    "SequenceEndEvent": Walk._close,
    "AliasEvent": Walk._take_alias,
    "DocumentStartEvent": Walk._begin_document,
    "StreamEndEvent": Walk._end,
}
"""By the names of the parser's events: importing their classes here would import yaml."""
