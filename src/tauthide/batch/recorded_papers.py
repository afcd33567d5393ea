"""The papers of all records that were learned from."""

from __future__ import annotations

from tauthide.batch.learning import Learned
from tauthide.papers.records import Built, render_records


def papers_of(learned: Learned) -> dict[str, bytes]:
    """Return the page of records and its drawings by file name."""
    built = [
        Built(record, each.plans[record.serial]) for each in learned.recorded for record in each.records.records
    ]  # fmt: skip
    return render_records(built, [lesson for shop in learned.shops for lesson in shop.lessons])
