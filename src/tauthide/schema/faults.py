"""What can be wrong with a document's fields: every fault once, with its words."""

from __future__ import annotations

from tauthide.reading.faults import Fault

UNKNOWN_KEY = Fault(
    "unknown-key",
    "`{key_name}` is not a key of {part}{hint}",
    "",
    "A key that is not known would be passed over without a word, and a default taken in its place.",
)
MISSING_KEY = Fault(
    "missing-key",
    "{part} has no `{key_name}`",
    "",
    "Without it the drum cannot be computed, and there is no sensible default.",
)
WRONG_TYPE = Fault(
    "wrong-type",
    "`{field}` takes {wanted}, not {given}",
    "",
    "A value of another type would have to be guessed at.",
)
EMPTY_VALUE = Fault(
    "empty-value",
    "`{field}` is left empty",
    "",
    "It may have been forgotten; to take the default, leave the key out as well.",
)
MISSING_UNIT = Fault(
    "missing-unit",
    "`{value}` has no unit",
    "",
    "A bare number could be millimetres as well as inches, and skin is cut only once.",
)
BAD_QUANTITY = Fault(
    "bad-quantity",
    "{reason}",
    "",
    "What cannot be read with certainty is not guessed at.",
)
OUT_OF_RANGE = Fault(
    "out-of-range",
    "`{value}` is {how} for `{field}`",
    "",
    "The size is beyond any drum of this kind: most likely a slip of the unit or of a digit.",
)
ODD_COUNT = Fault(
    "odd-station-count",
    "{value} is an odd number of stations",
    "",
    "The lace goes to the station opposite; with an odd count there is none.",
)
UNKNOWN_WORD = Fault(
    "unknown-word",
    "`{value}` is not a choice for `{field}`",
    "",
    "Only these words have a meaning here.",
)
BAD_NAME = Fault(
    "bad-name",
    "`{value}` cannot be the name of a {what}: {reason}",
    "letters, digits, `.`, `_` and `-`, 64 at most, a letter or digit first and no dot last",
    "Files and folders get this name, on any computer that the specs are copied to.",
)
BAD_TEXT = Fault(
    "bad-text",
    "`{value}` does not fit: {reason}",
    "",
    "What cannot be read with certainty is not guessed at.",
)
BOTH_OF_A_COUPLE = Fault(
    "both-of-a-couple",
    "{reason}",
    "one of the two",
    "If the two disagree, nobody can tell which one is meant.",
)
OTHER_OUTLINE = Fault(
    "other-outline",
    "{reason}",
    "",
    "A size that the outline does not have would be passed over without a word.",
)
TEXT_TOO_LONG = Fault(
    "text-too-long",
    "`{field}` is too long, with {count} characters",
    "",
    "The sheet has no room for more.",
)
LIST_LENGTH = Fault(
    "list-length",
    "`{field}` has {count}",
    "",
    "An empty list says nothing, and a very long one is hardly meant.",
)
DUPLICATE_ITEM = Fault(
    "duplicate-item",
    "`{value}` stands in `{field_name}` already, as item {number}",
    "each item once",
    "The same thing twice is most likely a slip for another.",
)

FAULTS: tuple[Fault, ...] = (
    UNKNOWN_KEY,
    MISSING_KEY,
    WRONG_TYPE,
    EMPTY_VALUE,
    MISSING_UNIT,
    BAD_QUANTITY,
    OUT_OF_RANGE,
    ODD_COUNT,
    UNKNOWN_WORD,
    BAD_NAME,
    BAD_TEXT,
    BOTH_OF_A_COUPLE,
    OTHER_OUTLINE,
    TEXT_TOO_LONG,
    LIST_LENGTH,
    DUPLICATE_ITEM,
)
"""Every fault that checking a document against its schema may report."""
