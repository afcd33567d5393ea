"""The sheet to tick and measure: the tables of `travellers.md`, and the one that `tauthide record` takes filled in."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from tauthide.papers.tables import MIDDLE, Cell, Column, Table, table
from tauthide.papers.wording import BOX, LINE, UNKNOWN, metres, mm, system_of, thin, words
from tauthide.recording.planned import lace_cut_mm, planned_values
from tauthide.running.drums import Drum
from tauthide.running.run_plan import RunPlan
from tauthide.running.steps import RunStep, steps_of
from tauthide.sheets.words import held
from tauthide.text import markdown
from tauthide.units import show

STEPS_A_TABLE = 10
"""So many steps stand side by side: more would not fit the width of a page."""

MEASURED: tuple[tuple[str, str], ...] = (
    ("Blank across", "blank_mm"),
    ("Wet thickness", "thickness_mm"),
    ("Hole to edge", "margin_mm"),
    ("Lace used", "lace_used_m"),
    ("Lace left", "lace_left_m"),
    ("Holes across, tight", "holes_across_mm"),
    ("Pitch wet", "pitch_wet"),
    ("Pitch dry", "pitch_dry"),
    ("Dry thickness", "dry_thickness_mm"),
    ("Days to dry", "dry_days"),
    ("Stitch tear, dry scrap", "stitch_tear"),
    ("Hand time", "hand_min"),
    ("Finished on", "date"),
    ("Good, mended or lost", "outcome"),
    ("What went wrong, at which step", "trouble"),
)
"""What is measured and told as the drum is built, in its order, and its name in the spreadsheet."""

WRITTEN: Mapping[str, str] = {"trouble": 4 * LINE, "outcome": 2 * LINE, "date": 2 * LINE}
"""Room to write in where it takes more than a number."""

NOTES = "notes"
"""What else there is to say: only in the spreadsheet, for want of room."""

MEASURES_A_TABLE = 5
"""So many measures stand side by side: more would not fit the width of a page."""


def step_tables(plan: RunPlan) -> tuple[Table, ...]:
    """Return the matrix of drums by steps, in parts that fit the page."""
    steps = steps_of(plan.order.batches)
    parts = [steps[start : start + STEPS_A_TABLE] for start in range(0, len(steps), STEPS_A_TABLE)]
    return tuple(_matrix(plan, part) for part in parts)


def _done(plan: RunPlan) -> set[tuple[str, str]]:
    """Return the drums and steps that belong together."""
    return {(work.job, work.operation) for work in plan.schedule.works}


def _matrix(plan: RunPlan, steps: Sequence[RunStep]) -> Table:
    columns = (Column("Drum", "drum"), *(Column(str(step.number), step.name, MIDDLE) for step in steps))
    done = _done(plan)
    return table(columns, [(words(drum.serial), *(_tick(done, drum, step) for step in steps)) for drum in plan.drums])


def _tick(done: set[tuple[str, str]], drum: Drum, step: RunStep) -> Cell:
    return Cell(BOX, "") if (drum.serial, step.name) in done else Cell(UNKNOWN, "none")


def measured_table(plan: RunPlan) -> Table:
    """Return the room for what is measured; above the drums of each spec stands what is planned."""
    rows = []
    for batch in plan.order.batches:
        drums = [drum for drum in plan.drums if drum.batch is batch]
        planned = _planned(plan, drums[0])
        rows.append(
            (
                Cell(f"*{markdown(batch.plan.spec.drum)}, planned*"),
                *(Cell(planned.get(name, "")) for _, name in MEASURED),
            )
        )
        rows += ((words(drum.serial), *(Cell(WRITTEN.get(name, LINE)) for _, name in MEASURED)) for drum in drums)
    return table((Column("Drum", ""), *(Column(head, name) for head, name in MEASURED)), rows)


def _planned(plan: RunPlan, drum: Drum) -> dict[str, str]:
    """Return what is planned of what is measured, as it is shown; lace without its allowance."""
    system, values = system_of(plan), planned_values(drum.plan)
    lace_mm = values["lace_used"]
    planned = {
        "blank_mm": mm(values["blank"], system).text,
        "thickness_mm": thin(values["thickness"], system).text,
        "margin_mm": mm(values["margin"], system).text,
        "lace_used_m": metres(lace_mm, system).text,
        "lace_left_m": metres(lace_cut_mm(drum.plan) - lace_mm, system).text,
        "dry_thickness_mm": thin(values["dry_thickness"], system).text,
        "dry_days": held(show("time", values["dry"], system)),
        "stitch_tear": held(show("tear", values["stitch_tear"], system)),
    }
    if "holes_across" in values:
        planned["holes_across_mm"] = mm(values["holes_across"], system).text
    if "pitch_dry" in values:
        planned["pitch_dry"] = held(show("pitch", values["pitch_dry"], system))
    return planned


def travellers_table(plan: RunPlan) -> Table:
    """Return steps and measures for the spreadsheet, empty where they are to be filled in."""
    steps = steps_of(plan.order.batches)
    filled_in = (*(name for _, name in MEASURED), NOTES)
    columns = tuple(Column("", name) for name in ("drum", *(step.name for step in steps), *filled_in))
    done = _done(plan)
    rows = [
        (words(drum.serial), *(_tick(done, drum, step) for step in steps), *(Cell("", "") for _ in filled_in))
        for drum in plan.drums
    ]
    return table(columns, rows)


def view_travellers(plan: RunPlan) -> dict[str, object]:
    """Return the names that the template of `travellers.md` uses."""
    return {
        "title": markdown(plan.run.title or plan.run.name),
        "name": markdown(plan.run.name),
        "steps": tuple((step.number, markdown(step.title)) for step in steps_of(plan.order.batches)),
        "matrix": step_tables(plan),
        "measured": measured_parts(plan),
    }


def measured_parts(plan: RunPlan) -> tuple[Table, ...]:
    """Return the measures in tables that fit the page."""
    whole = measured_table(plan)
    return tuple(
        Table(
            (whole.columns[0], *whole.columns[start : start + MEASURES_A_TABLE]),
            tuple((row[0], *row[start : start + MEASURES_A_TABLE]) for row in whole.rows),
        )
        for start in range(1, len(MEASURED) + 1, MEASURES_A_TABLE)
    )
