"""The hide is imported without a certificate."""

from __future__ import annotations

from collections.abc import Iterator

from tauthide.figures import Workings
from tauthide.findings import Severity
from tauthide.rules.rule import Rule, Trouble


def check(w: Workings) -> Iterator[Trouble]:
    """Yield trouble where an untreated hide comes from abroad without a veterinary certificate."""
    if w.word("head.origin") == "imported":
        yield Trouble(
            "head.origin",
            "An untreated hide from abroad without a veterinary certificate can carry anthrax spores",
            "imported",
            "domestic, or certified: imported with a veterinary certificate",
        )


RULE = Rule(
    name="hide-uncertified",
    severity=Severity.WARNING,
    why="Spores of anthrax live in hides for decades, and whoever breathes in the dust of working them is at"
    " more risk than whoever plays the drum. Treatments that would surely kill them spoil rawhide.",
    mend="Buy a hide raised at home, or one with a veterinary certificate, and then say so. If you work this"
    " one all the same: keep it wet, do not sand, beat or sweep it dry, air the room, wear gloves and a"
    " respirator for fine dust, wash hands and tools, and see a doctor about any sore or fever. What your"
    " authorities say comes first.",
    source="advice of health agencies on anthrax and animal-hide drums (US CDC, UK HSE; from memory)",
    check=check,
    failing={"head.origin": "imported"},
    passing={"head.origin": "certified"},
)
