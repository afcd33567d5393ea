"""What can be wrong with records and with a filled-in traveller: every fault once, with its words."""

from __future__ import annotations

from tauthide.findings import Severity
from tauthide.reading.faults import MAX_BYTES, Fault

MISNAMED = Fault(
    "records-misnamed",
    "the name of a file of records ends with `.records.yaml`",
    "the name of the run's file with `.records.yaml` for its ending, such as `lending.records.yaml`",
    "By its name the run is found that the records are of.",
)
NO_RUN = Fault(
    "records-without-run",
    "there is no run beside these records",
    "the run's file in the same folder, with the same name but for `.records.yaml`",
    "Without the run nobody knows what the drums should have been.",
)
NOT_A_RUN = Fault(
    "records-of-no-run",
    "the file beside these records is no run, but a {kind} file",
    "a file that starts with `run: 1`",
    "Without the run nobody knows what the drums should have been.",
)
UNKNOWN_SERIAL = Fault(
    "unknown-serial",
    "the run has no drum {serial}",
    "a serial of the run",
    "A record under a wrong serial would be held against another drum's plan.",
)
SERIAL_TWICE = Fault(
    "serial-twice",
    "the drum {serial} stands here twice: first on line {line}",
    "each drum once",
    "Of two records of one drum one would count without a word, and it might be the wrong one.",
)
STEP_NOT_OF_DRUM = Fault(
    "step-not-of-drum",
    "the drum has no step {step}",
    "a step of this drum's order of work",
    "Most likely it happened to another drum, or at another step.",
    Severity.WARNING,
)
IMPLAUSIBLE = Fault(
    "measure-implausible",
    "`{field}` is far from what was planned: {planned}",
    "about what was planned",
    "It may be a slip of the pen, or a drum worth a second look. It is kept, and told as far out if it is.",
    Severity.NOTE,
)
LACE_SUM = Fault(
    "lace-does-not-add-up",
    "lace used and left come to {sum}, but {planned} were to be cut",
    "used and left together about as long as what was cut",
    "It may be a slip of the pen, or the lace was cut to another length.",
    Severity.NOTE,
)
EARLY = Fault(
    "record-before-run",
    "this day lies before the run's start, {start}",
    "a day on or after the start of the run",
    "Most likely a month or a year is wrong.",
    Severity.NOTE,
)
TABLE_UNREADABLE = Fault(
    "table-unreadable",
    "this is no table that can be read: {reason}",
    "a table as `tauthide run` writes it in travellers.csv, filled in and saved as CSV in UTF-8",
    "What can't be read with certainty is not guessed at.",
)
TABLE_TOO_LARGE = Fault(
    "table-too-large",
    "the table is larger than that of any run",
    f"at most {MAX_BYTES // 1024} KiB",
    "A filled-in traveller has a few kilobytes.",
)
NO_DRUM_COLUMN = Fault(
    "no-drum-column",
    "the first line names no column `drum`",
    "a first line with the names of the columns, `drum` among them",
    "Without the serials nobody knows which drum a row is of.",
)
UNKNOWN_COLUMN = Fault(
    "unknown-column",
    "`{column}` is no column of a traveller; it is passed over",
    "the columns of travellers.csv, and fields of a record",
    "A misspelt name would lose a whole column of measurements.",
    Severity.WARNING,
)
ROW_TOO_LONG = Fault(
    "row-too-long",
    "this row has {cells} cells, the first line has {wanted}",
    "as many cells as there are columns",
    "Cells that belong to no column may be measurements that have slipped: most often a comma within a number.",
)
ROW_TWICE = Fault(
    "row-twice",
    "the drum {serial} has two rows: the first on line {line}",
    "one row for each drum",
    "Of two rows one would count without a word, and it might be the wrong one.",
)
CELL_UNCLEAR = Fault(
    "cell-unclear",
    "`{cell}` in the column `{column}` is neither a tick nor a time",
    "a tick such as `x`, or a time: bare minutes or with a unit, such as `14 min`",
    "What can't be read with certainty is not guessed at.",
)

RECORD_FAULTS: tuple[Fault, ...] = (
    MISNAMED,
    NO_RUN,
    NOT_A_RUN,
    UNKNOWN_SERIAL,
    SERIAL_TWICE,
    STEP_NOT_OF_DRUM,
    IMPLAUSIBLE,
    LACE_SUM,
    EARLY,
    TABLE_UNREADABLE,
    TABLE_TOO_LARGE,
    NO_DRUM_COLUMN,
    UNKNOWN_COLUMN,
    ROW_TOO_LONG,
    ROW_TWICE,
    CELL_UNCLEAR,
)
"""Every fault that this stage may report."""
