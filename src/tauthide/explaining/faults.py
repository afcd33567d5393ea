"""Words on the findings that come neither from a rule, nor from a file's text and fields: one row for each."""

from __future__ import annotations

from dataclasses import dataclass

from tauthide.findings import Severity


@dataclass(frozen=True, slots=True)
class OtherFault:
    """A finding of another stage: its name, how much it weighs, and its words."""

    name: str
    stage: str
    """What finds it."""
    why: str
    allowed: str
    severity: Severity = Severity.ERROR


_INHERITING, _ACCEPTING = "following `inherits`, and looking for the shop file", "looking at what is accepted"
_GATHERING, _BUILDING = "gathering the files of a batch", "building"
_APPROVING, _RENEWING = "looking at a drum's approval", "renewing a file"

OTHER_FAULTS: tuple[OtherFault, ...] = (
    OtherFault(
        "inherits-nothing", _INHERITING,
        "An empty name may be a line that was never finished; nothing is inherited by leaving the key out.",
        "the name of a base file, or no `inherits` at all",
    ),
    OtherFault(
        "inherits-bad-name", _INHERITING,
        "Specs are shared: a name must mean the same file on any computer, and only YAML files are documents.",
        "a name that ends with .yaml or .yml, with `/` between folders",
    ),
    OtherFault(
        "inherits-absolute", _INHERITING,
        "On another computer, or in another copy of the repository, the base would not be found there.",
        "the base's name as seen from the file that inherits it, such as `../lending.base.yaml`",
    ),
    OtherFault(
        "inherits-outside", _INHERITING,
        "What lies outside the repository is not under review together with the spec, and others don't have it.",
        "a base file within the repository",
    ),
    OtherFault(
        "inherits-absent", _INHERITING,
        "Without its base the drum would be built from defaults that its maker did not choose.",
        "the name of a base file that is there, as seen from the file that inherits it",
    ),
    OtherFault(
        "inherits-no-file", _INHERITING,
        "A folder or a device can't be read as a document.",
        "the name of a plain file",
    ),
    OtherFault(
        "inherits-itself", _INHERITING,
        "Bases that inherit from each other in a circle have no lowest layer to start from.",
        "a chain that ends with a base without `inherits`",
    ),
    OtherFault(
        "inherits-too-deep", _INHERITING,
        "With many bases over each other nobody can tell any more where a value comes from.",
        "a chain of 5 bases at most",
    ),
    OtherFault(
        "inherits-from-nowhere", _INHERITING,
        "A base is found as seen from the spec's folder, and a spec from standard input lies in none.",
        "a spec without `inherits`, or the path of a file",
    ),
    OtherFault(
        "inherits-wrong-kind", _INHERITING,
        "A spec is one drum and a shop file holds for all of them; only a base is made to be shared by some.",
        "a file that starts with `base: 1`",
    ),
    OtherFault(
        "shop-wrong-kind", _INHERITING,
        "A file of this name is taken for the shop's defaults, and feeds every spec beside and below it.",
        "a file that starts with `shop: 1`, or another name",
    ),
    OtherFault(
        "unknown-rule", _ACCEPTING,
        "A misspelt name would accept nothing, and its reason would be lost.",
        "the name of a rule: `tauthide rules` lists them",
    ),
    OtherFault(
        "error-not-acceptable", _ACCEPTING,
        "An error would spoil skin or fail, whatever the reason; only warnings and notes are a maker's to weigh.",
        "the names of rules whose breach is a warning or a note: mend the drum instead",
        Severity.WARNING,
    ),
    OtherFault(
        "acceptance-unused", _ACCEPTING,
        "An acceptance that stays behind when the drum has changed would silence the next breach unseen.",
        "acceptances of what is found: take this one out",
        Severity.WARNING,
    ),
    OtherFault(
        "missing-file", _GATHERING,
        "A batch with a misspelt path is not the batch that was meant.",
        "a spec, a folder of specs, or `-` for standard input",
    ),
    OtherFault(
        "no-documents", _GATHERING,
        "A folder without specs is most likely not the one that was meant.",
        "a folder with YAML files in it or below it",
    ),
    OtherFault(
        "unreadable-file", _GATHERING,
        "What can't be read can't be checked, so nothing is said about the drum.",
        "a file that can be read",
    ),
    OtherFault(
        "foreign-file", _GATHERING,
        "A folder may hold files of other programs; saying that one is passed over shows a misspelt first key.",
        "files that start with `spec: 1`, `base: 1` or `shop: 1`",
        Severity.NOTE,
    ),
    OtherFault(
        "kind-not-handled", _GATHERING,
        "The file is a document, but of a kind for which this version has no use.",
        "files that start with `spec: 1`, `base: 1` or `shop: 1`",
    ),
    OtherFault(
        "drum-name-taken", _GATHERING,
        "Each drum has a folder of its name: two of one name would overwrite each other's sheets.",
        "a name of its own for each drum, in capitals or not",
    ),
    OtherFault(
        "no-specs", _BUILDING,
        "Building nothing would remove all that was built before.",
        "at least one file that starts with `spec: 1`",
    ),
    OtherFault(
        "not-a-spec", _BUILDING,
        "Bases and shop files feed specs, and are no drums themselves.",
        "files that start with `spec: 1`",
        Severity.NOTE,
    ),
    OtherFault(
        "changed-while-building", _BUILDING,
        "The sheet would be in one drum's folder and tell of another.",
        "a file that is left alone while it is built: build again",
    ),
    OtherFault(
        "more-findings", _BUILDING,
        "A notice has no room for all findings of a badly broken file; mended, the first often clear many others.",
        "nothing in particular: `tauthide check --format json` gives all findings",
        Severity.NOTE,
    ),
    OtherFault(
        "not-approved", _APPROVING,
        "Skin is cut once: someone should have read the plan as it now stands.",
        "a drum that has been approved as it stands, where `check --approved` asks for it",
    ),
    OtherFault(
        "approval-unusable", _APPROVING,
        "An approval that was changed by hand, or can't be read, vouches for nothing.",
        "what `tauthide approve` writes, and nothing else",
        Severity.WARNING,
    ),
    OtherFault(
        "approval-wrong-kind", _APPROVING,
        "A file with the name of an approval that is something else vouches for nothing.",
        "a file that starts with `approval: 1`",
    ),
    OtherFault(
        "approval-left-over", _APPROVING,
        "An approval without its spec may be of a drum that was renamed: it no longer counts for that.",
        "approvals beside their specs",
        Severity.NOTE,
    ),
    OtherFault(
        "warnings-since-approval", _APPROVING,
        "Whoever approved the drum did not see these warnings: the rules have grown since.",
        "an approval that lists the warnings that stand",
        Severity.NOTE,
    ),
    OtherFault(
        "renew-by-hand", _RENEWING,
        "A key that is gone or has moved can't be changed in place without losing comments or order.",
        "the newer form, written by hand",
    ),
    OtherFault(
        "template-unused", _BUILDING,
        "A template under a name that nothing asks for is most likely misspelt: the built-in one is used in its place.",
        "the name of a template that is built in, or that one of your own asks for",
        Severity.WARNING,
    ),
)  # fmt: skip
"""In the order in which the stages come."""
