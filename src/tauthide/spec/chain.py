"""The documents that feed one spec: the shop file, the chain of bases, and the spec itself."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from tauthide.findings import Finding, Place, Severity, relative_to
from tauthide.reading.documents import Document, a_kind, read_document
from tauthide.reading.files import (
    FileTrouble,
    NamedFileError,
    Unusable,
    approval_path,
    find_shop,
    lies_there,
    read_bytes,
    resolve_named,
)
from tauthide.schema.check import check

CHAIN_LIMIT = 5
"""How many bases may stand above a spec, one over the other."""

STDIN_NAME = "<stdin>"

_BASE_NAME = "the name of a base file as seen from this one, such as `lending.base.yaml` or `../shop/base.yaml`"
_UNUSABLE: Mapping[Unusable, tuple[str, str, str]] = {
    Unusable.EMPTY: ("inherits-nothing", "`inherits` names no file", _BASE_NAME),
    Unusable.CHARACTER: ("inherits-bad-name", "`inherits` has a character that no file's name should have",
                         f"{_BASE_NAME}, with `/` between folders"),
    Unusable.HOME: ("inherits-bad-name", "`inherits` begins with `~`, which is another folder for everyone",
                    _BASE_NAME),
    Unusable.ABSOLUTE: ("inherits-absolute", "`inherits` names a file by its place on one computer", _BASE_NAME),
    Unusable.ENDING: ("inherits-bad-name", "`inherits` names a file that does not end with .yaml or .yml", _BASE_NAME),
    Unusable.OUTSIDE: ("inherits-outside", "`inherits` leads out of the repository",
                       "a base file within the repository"),
    Unusable.ABSENT: ("inherits-absent", "There is no such base file", _BASE_NAME),
    Unusable.NOT_A_FILE: ("inherits-no-file", "`inherits` names something that is not a regular file", _BASE_NAME),
}  # fmt: skip
"""Name, message and what is allowed, by what is wrong with the file that `inherits` names."""


@dataclass(frozen=True, slots=True)
class Source:
    """A file that was read: a document, or findings that say why it is none."""

    path: Path
    shown: str
    source: bytes
    document: Document | None
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Chain:
    """What feeds one spec, lowest layer first."""

    spec: Source
    shop: Source | None
    bases: tuple[Source, ...]
    """The farthest ancestor first."""
    findings: tuple[Finding, ...]
    """Of reading them all, of checking shop and bases, and of how they hang together."""
    approval: Source | None = None
    """What lies beside the spec as its approval, checked; no layer, and its findings are not among the chain's."""

    @property
    def files(self) -> tuple[Source, ...]:
        """Return the files, lowest layer first."""
        return (*(() if self.shop is None else (self.shop,)), *self.bases, self.spec)


class Library:
    """Reads and checks documents; shop and base files are kept, since many specs share them."""

    def __init__(self, show: Callable[[Path], str]) -> None:
        """Take the function that gives the name under which the maker is shown a file."""
        self.show = show
        self._shared: dict[Path, Source] = {}
        self._shops: dict[Path, Path | None] = {}

    def chain(self, spec: Source) -> Chain:
        """Find what feeds a spec, and check all but the spec itself.

        FileTrouble where a file that is there can't be read.
        """
        if spec.document is None:
            return Chain(spec, None, (), spec.findings)
        shop_path = self._shop_of(spec.path)
        shop = None if shop_path is None else self._share(shop_path, spec)
        findings = list(spec.findings)
        if shop is not None:
            findings += shop.findings
            findings += _wrong_kind(shop, "shop", shop)
        bases: list[Source] = []
        findings += self._climb(spec, bases)
        return Chain(spec, shop, tuple(reversed(bases)), tuple(findings), self._approval_of(spec))

    def _approval_of(self, spec: Source) -> Source | None:
        """Return what lies beside a spec as its approval; one that can't be read says so in its findings."""
        path = approval_path(spec.path)
        if not lies_there(path):
            return None
        shown = self.show(path)
        try:
            return check_source(read_source(path, shown, read_bytes(path, shown)))
        except FileTrouble as trouble:
            message = str(trouble).removeprefix(f"{shown}: ")
            finding = Finding(
                "unreadable-file", Severity.ERROR, message, Place(shown), allowed="a file that can be read"
            )
            return Source(path, shown, b"", None, (finding,))

    def _climb(self, spec: Source, bases: list[Source]) -> list[Finding]:
        """Add the bases above `spec`, nearest first, and return what is wrong with them."""
        findings: list[Finding] = []
        child = spec
        seen: set[Path] = set()
        while child.document is not None and isinstance(child.document.located.data.get("inherits"), str):
            written = str(child.document.located.data["inherits"])
            try:
                path = resolve_named(child.path, written)
            except NamedFileError as trouble:
                findings.append(_inherits(child, *_UNUSABLE[trouble.reason][:2], written, _UNUSABLE[trouble.reason][2]))
                break
            seen.add(child.path.resolve())
            if path in seen:  # which is absolute, with links followed
                findings.append(
                    _inherits(child, "inherits-itself", "This chain of bases comes back to a file it has been through",
                              written, "a base that does not inherit from here")
                )  # fmt: skip
                break
            if len(bases) == CHAIN_LIMIT:
                findings.append(
                    _inherits(child, "inherits-too-deep", f"More than {CHAIN_LIMIT} bases, one over the other",
                              written, f"a chain of {CHAIN_LIMIT} bases at most")
                )  # fmt: skip
                break
            base = self._share(path, child)
            findings += base.findings
            wrong = _wrong_kind(base, "base", child, written)
            findings += wrong
            if wrong:
                break
            bases.append(base)
            child = base
        return findings

    def _shop_of(self, spec_path: Path) -> Path | None:
        """Return the shop file for a spec; looked for once in every folder."""
        folder = spec_path.parent
        if folder not in self._shops:
            self._shops[folder] = find_shop(spec_path)
        return self._shops[folder]

    def _share(self, path: Path, child: Source) -> Source:
        """Read and check a file that feeds `child`; FileTrouble, named as seen from there, if it can't be read."""
        if path not in self._shared:
            shown = self.show(path)
            content = read_bytes(path, relative_to(child.shown, shown))
            self._shared[path] = check_source(read_source(path, shown, content))
        return self._shared[path]


def read_source(path: Path, shown: str, source: bytes) -> Source:
    """Read a document from its bytes; its fields are not yet looked at."""
    document, findings = read_document(source, shown)
    return Source(path, shown, source, document, findings)


def check_source(read: Source) -> Source:
    """Hold a document against the schema of its kind, if it has one."""
    document = read.document
    if document is None or document.kind not in CHECKED_KINDS:
        return read
    return replace(read, findings=(*read.findings, *check(document.kind, document.located)))


CHECKED_KINDS = ("spec", "base", "shop", "run", "skin", "lot", "records", "approval")
"""The kinds of documents that have a schema."""


def stdin_chain(source: bytes) -> Chain:
    """Read a spec from standard input: it has no shop file, and may not inherit."""
    spec = read_source(Path(STDIN_NAME), STDIN_NAME, source)
    findings = list(spec.findings)
    if spec.document is not None and "inherits" in spec.document.located.data:
        inherits = spec.document.located.data["inherits"]
        found = inherits if isinstance(inherits, str) else ""
        message = "A spec from standard input lies in no folder, so it may not inherit"
        allowed = "a spec without `inherits`, or the path of a file"
        findings.append(_inherits(spec, "inherits-from-nowhere", message, found, allowed))
    return Chain(spec, None, (), tuple(findings))


def _inherits(child: Source, name: str, message: str, found: str, allowed: str) -> Finding:
    assert child.document is not None  # only a readable document can name a base
    place = child.document.located.place(("inherits",))
    return Finding(name, Severity.ERROR, message, place, "inherits", found, allowed)


def _wrong_kind(checked: Source, kind: str, child: Source, written: str = "") -> list[Finding]:
    document = checked.document
    if document is None or document.kind == kind:
        return []
    if kind == "base":
        message = f"`inherits` names {a_kind(document.kind)} file, not a base"
        return [_inherits(child, "inherits-wrong-kind", message, written, "a file that starts with `base: 1`")]
    place = document.located.place((document.kind,), key=True)
    message = f"A file named shop.yaml holds the shop's defaults, but this is {a_kind(document.kind)}"
    return [Finding("shop-wrong-kind", Severity.ERROR, message, place, "", f"{document.kind}: {document.version}",
                    "a file that starts with `shop: 1`", "shop: 1")]  # fmt: skip
