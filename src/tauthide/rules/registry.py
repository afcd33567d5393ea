"""The rules, and how they are held against a drum."""

from __future__ import annotations

from tauthide.figures import Workings
from tauthide.findings import Finding, has_errors
from tauthide.rules import (
    allowance_below_spread,
    allowance_small,
    blank_beyond_hide,
    core_tight,
    drop_small,
    dry_thicker_than_wet,
    drying_damp,
    drying_fast,
    edge_rounding_too_large,
    few_stations,
    fold_thick_skin,
    gather_great,
    handle_bundle_thick,
    handle_without_hub,
    heads_meet,
    hide_uncertified,
    hole_over_back_edge,
    hole_slack,
    hole_tight,
    holes_below_sheet_rule,
    holes_in_head,
    hoop_bent_tight,
    lace_beyond_disc,
    lace_of_other_lacing,
    laces_too_many,
    make_idle,
    many_stations,
    many_steps,
    margin_gone,
    margin_small,
    measures_contradict,
    oval_of_staves,
    pair_too_wide,
    pairs_close,
    pairs_run_together,
    play_large,
    play_small,
    polygon_bent,
    polygon_odd_opposite,
    polygon_uneven_sides,
    pull_beyond_lace,
    pull_beyond_skin,
    pull_on_frame,
    punch_not_owned,
    ring_crowded,
    ring_large,
    ring_thick,
    scarf_short,
    soak_water_warm,
    span_along_side,
    stave_beyond_board,
    stave_too_thin,
    staves_not_sides,
    steps_off_round,
    strip_ends_short,
    strip_moisture_off,
    tab_short,
    tab_wide,
    tail_short,
    turnover_on_wood,
    two_heads_not_round,
    voice_not_round,
    voice_out_of_reach,
    web_gone,
    web_small_for_hole,
    web_small_for_pull,
    web_small_for_skin,
    wet_time_long,
    wood_air_crossed,
    wood_moisture_off,
)
from tauthide.rules.acceptance import accept
from tauthide.rules.rule import Rule, Trouble
from tauthide.schema.fields import fields
from tauthide.units import parse

RULES: tuple[Rule, ...] = tuple(
    module.RULE
    for module in (
        lace_of_other_lacing,
        laces_too_many,
        two_heads_not_round,
        handle_without_hub,
        edge_rounding_too_large,
        web_gone,
        margin_gone,
        holes_in_head,
        pair_too_wide,
        ring_large,
        drop_small,
        heads_meet,
        pairs_run_together,
        pairs_close,
        hole_over_back_edge,
        few_stations,
        many_stations,
        gather_great,
        polygon_uneven_sides,
        polygon_odd_opposite,
        span_along_side,
        web_small_for_hole,
        web_small_for_skin,
        web_small_for_pull,
        margin_small,
        holes_below_sheet_rule,
        turnover_on_wood,
        hole_tight,
        hole_slack,
        tab_wide,
        punch_not_owned,
        ring_thick,
        ring_crowded,
        play_small,
        play_large,
        lace_beyond_disc,
        blank_beyond_hide,
        tail_short,
        tab_short,
        core_tight,
        allowance_small,
        dry_thicker_than_wet,
        fold_thick_skin,
        many_steps,
        steps_off_round,
        hoop_bent_tight,
        polygon_bent,
        oval_of_staves,
        staves_not_sides,
        stave_too_thin,
        stave_beyond_board,
        scarf_short,
        strip_ends_short,
        strip_moisture_off,
        wood_air_crossed,
        wood_moisture_off,
        make_idle,
        allowance_below_spread,
        pull_beyond_skin,
        pull_beyond_lace,
        pull_on_frame,
        voice_out_of_reach,
        voice_not_round,
        measures_contradict,
        handle_bundle_thick,
        hide_uncertified,
        soak_water_warm,
        wet_time_long,
        drying_fast,
        drying_damp,
    )
)
"""All rules; gates stand first."""


def hold_rules(w: Workings) -> tuple[Finding, ...]:
    """Hold the rules against a drum: the gates first, and the rest only if no gate reports an error.

    Warnings and notes that the spec accepts carry the maker's reason.
    """
    held = [rule for rule in RULES if rule.gate]
    findings = [finding for rule in held for finding in _hold(rule, w)]
    if not has_errors(findings):
        others = [rule for rule in RULES if not rule.gate]
        findings += [finding for rule in others for finding in _hold(rule, w)]
        held += others
    return accept(findings, w.spec.acceptances, {rule.name for rule in RULES}, {rule.name for rule in held})


def _hold(rule: Rule, w: Workings) -> list[Finding]:
    return [
        Finding(
            rule.name,
            trouble.severity or rule.severity,
            trouble.message,
            w.spec.place_of(trouble.path),
            trouble.path,
            _whence(trouble.path, w) + trouble.found,
            trouble.allowed,
            _within_limits(trouble),
        )
        for trouble in rule.check(w)
    ]


def _whence(path: str, w: Workings) -> str:
    """Return words on where a value comes from that is not written for this drum, to stand before it."""
    setting = w.spec.settings.get(path)
    if setting is None or not setting.origin.is_default:
        return ""
    return "the default, " if setting.origin.place is None else "by the shop file, "


def _within_limits(trouble: Trouble) -> str:
    """Return what a trouble says to write; nothing where the schema would refuse it."""
    field = fields("spec").get(trouble.path)
    if not trouble.write or field is None or field.quantity is None:
        return trouble.write
    value = parse(field.quantity, trouble.write.partition(": ")[2])
    least, most = (parse(field.quantity, limit) for limit in (field.least, field.most))
    return trouble.write if least <= value <= most else ""
