"""The command `learn`: better values for the shop file, from what was measured on built drums."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from tauthide.batch.inputs import Inputs
from tauthide.batch.learning import Learned, Shop, learn_from
from tauthide.batch.recorded_papers import papers_of
from tauthide.cli import exits
from tauthide.cli.report import Painter, counted, difference, report_json, report_text, tally, wants_colours
from tauthide.comparing.brief import effect_text
from tauthide.findings import has_errors
from tauthide.learning.lessons import Lesson
from tauthide.learning.shop_file import written
from tauthide.learning.wording import amount, interval_text, records_text, verdict_text, what_of
from tauthide.output.rewriting import rewrite_file, write_new_file
from tauthide.output.run_store import RECORDS_LIST_NAME, write_run
from tauthide.schema.wording import dotted
from tauthide.text import plain


def run_learn(arguments: argparse.Namespace, inputs: Inputs) -> int:
    """Run the command and return its exit code."""
    learned = learn_from(inputs)
    if not learned.recorded and not has_errors(learned.findings):
        raise exits.UsageTrouble("there are no records here; `tauthide record` makes them")
    stop = has_errors(learned.findings)
    wrote = [] if stop or not arguments.write else [shop.shown for shop in learned.shops if _write(shop)]
    papers = None
    if arguments.out is not None and not stop:
        papers = write_run(Path(arguments.out), arguments.out, papers_of(learned), RECORDS_LIST_NAME)
    _tell(arguments, learned, wrote, 0 if papers is None else papers.written)
    if learned.unreadable:
        return exits.TROUBLE
    if arguments.write and any(shop.chosen and shop.new is None for shop in learned.shops):
        return exits.TROUBLE
    return exits.WRONG if stop else exits.FINE


def _write(shop: Shop) -> bool:
    """Write a shop file, and tell whether it changed."""
    if not shop.chosen or shop.new is None:
        return False
    if shop.old is None:
        write_new_file(shop.path, shop.shown, shop.new)
    else:
        rewrite_file(shop.path, shop.shown, shop.old, shop.new)
    return True


def _tell(arguments: argparse.Namespace, learned: Learned, wrote: list[str], papers: int) -> None:
    drums = sum(len(each.records.records) for each in learned.recorded)
    if arguments.format == "json":
        shops = [_data(shop, written=shop.shown in wrote) for shop in learned.shops]
        summary = {"records": drums, "shops": shops, "papers": papers}
        sys.stdout.writelines(report_json("learn", learned.findings, summary))
        sys.stdout.flush()
        return
    for shop in learned.shops:
        sys.stdout.writelines(f"{plain(line)}\n" for line in _shop_lines(shop))
    sys.stdout.flush()
    painter = Painter(colours=wants_colours(sys.stderr, os.environ))
    sys.stderr.write(report_text(learned.findings, painter))
    said = [f"{name} written" for name in wrote]
    said += [f"{counted(papers, 'file')} of records written"] if arguments.out is not None else []
    changes = sum(len(shop.chosen) for shop in learned.shops)
    last = "; ".join(said) or ("`--write` changes the shop file" if changes else "nothing to change")
    sys.stderr.write(
        f"{counted(drums, 'drum')}, {counted(changes, 'better value')}; {last}; {tally(learned.findings)}\n"
    )
    sys.stderr.flush()


def _shop_lines(shop: Shop) -> Iterator[str]:
    yield f"{shop.shown}:"
    for lesson in shop.lessons:
        yield from _lesson_lines(lesson)
    if not shop.chosen:
        return
    if shop.new is None:
        yield "The file's layout can't be changed safely; write these values in by hand:"
        yield from (f"  {dotted(lesson.path)}: {written(lesson)}" for lesson in shop.chosen)
        return
    yield ""
    yield from "".join(difference(shop.old or b"", shop.new, shop.shown)).splitlines()
    if shop.effect is not None:
        yield ""
        yield from effect_text(shop.effect).splitlines()


def _lesson_lines(lesson: Lesson) -> Iterator[str]:
    yield f"  {what_of(lesson)} ({dotted(lesson.path)})"
    subject = lesson.subject
    said = f"now {amount(subject, lesson.in_force)}"
    if lesson.estimate is not None and lesson.interval is not None:
        said += f"; records say {amount(subject, lesson.estimate)}, 9 in 10 within "
        said += interval_text(subject, lesson.interval)
    yield f"    {said}; {records_text(lesson)}"
    yield f"    {verdict_text(lesson)}"
    yield from (f"    far out: {each.serial}, {amount(subject, each.value)}" for each in lesson.far)


def _data(shop: Shop, *, written: bool) -> dict[str, Any]:
    new = shop.new if shop.chosen else None
    return {
        "file": shop.shown,
        "lessons": [_lesson_data(lesson) for lesson in shop.lessons],
        "patch": "" if new is None else "".join(difference(shop.old or b"", new, shop.shown)),
        "drums": [] if shop.effect is None else list(_changed(shop)),
        "written": written,
    }


def _changed(shop: Shop) -> Iterable[dict[str, Any]]:
    assert shop.effect is not None  # the caller has looked
    for change in shop.effect.drums:
        yield {"drum": change.name, "figures": [figure.name for figure in change.figures]}


def _lesson_data(lesson: Lesson) -> dict[str, Any]:
    return {
        "path": dotted(lesson.path),
        "subject": lesson.subject.name,
        "group": lesson.group,
        "unit": lesson.subject.unit,
        "in_force": lesson.in_force,
        "estimate": lesson.estimate,
        "low": None if lesson.interval is None else lesson.interval.low,
        "high": None if lesson.interval is None else lesson.interval.high,
        "records": lesson.count,
        "more": lesson.more,
        "verdict": str(lesson.verdict),
        "value": lesson.value,
        "far_out": [each.serial for each in lesson.far],
    }
