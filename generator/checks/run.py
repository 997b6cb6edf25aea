"""The table of rules, and the one function that runs them all over a finished product.

A rule that is answered (`intended:` in the header, or on a line) is silent there; `overrides` lists the answers for
the proof and the technical editor.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from generator.checks.product import At, Product
from generator.checks.rule import Rule, from_module
from generator.checks.rules import (
    audience_unsaid,
    brackets_unmatched,
    chains_counted,
    colour_when_unsaid,
    count_differs,
    count_missing,
    cut_then_work,
    dead_reference,
    definition_unused,
    eyelets_uneven,
    false_stitch_worked,
    film_time_not_rising,
    film_time_past_end,
    flat_piece_not_flat,
    foundation_chain,
    gauge_implausible,
    gauge_missing,
    group_does_not_fit,
    hand_words,
    head_size_differs,
    hook_between_sizes,
    hook_label_differs,
    hook_missing,
    hook_unlike_yarn,
    hours_differ,
    increases_stacked,
    join_missing,
    join_target_missing,
    kinds_differ,
    left_open,
    level_too_low,
    levelling_counted,
    measure_then_count,
    never_fastened_off,
    no_start,
    not_understood,
    one_system_only,
    one_word_two_meanings,
    override_unknown,
    passes_unclear,
    picture_without_words,
    place_missing,
    range_size_differs,
    reading_unclear,
    reading_unusual,
    repeat_elsewhere,
    revision_before_publication,
    round_out_of_order,
    round_outside_block,
    round_overruns,
    rounds_wrong_alike,
    row_or_round,
    size_differs,
    size_missing,
    slip_read,
    small_parts_for_little_ones,
    spiral_or_joined,
    standing_twice,
    start_chain_both_ways,
    start_chain_unsaid,
    start_drifts,
    step_impossible,
    stitches_left_over,
    stitches_run_out,
    stuffed_late,
    swatch_unlike_gauge,
    terms_mixed,
    terms_unsaid,
    tie_too_short,
    told_only_by_chart,
    too_large,
    turn_in_spiral,
    turn_missing,
    units_disagree,
    yarn_amount_differs,
    yarn_incomplete,
    yarn_undeclared,
    yarn_unused,
    yarns_alike,
)
from generator.diagnostics.record import Finding, Severity
from generator.source import Span

RULES: tuple[Rule, ...] = tuple(
    from_module(module)
    for module in (
        not_understood,
        no_start,
        rounds_wrong_alike,
        count_differs,
        kinds_differ,
        stitches_left_over,
        stitches_run_out,
        group_does_not_fit,
        foundation_chain,
        repeat_elsewhere,
        chains_counted,
        levelling_counted,
        round_overruns,
        false_stitch_worked,
        standing_twice,
        join_target_missing,
        place_missing,
        step_impossible,
        too_large,
        reading_unusual,
        reading_unclear,
        passes_unclear,
        brackets_unmatched,
        slip_read,
        round_out_of_order,
        round_outside_block,
        range_size_differs,
        dead_reference,
        row_or_round,
        count_missing,
        start_chain_unsaid,
        start_chain_both_ways,
        spiral_or_joined,
        join_missing,
        turn_missing,
        turn_in_spiral,
        cut_then_work,
        never_fastened_off,
        left_open,
        stuffed_late,
        terms_unsaid,
        terms_mixed,
        one_word_two_meanings,
        definition_unused,
        hand_words,
        told_only_by_chart,
        yarn_undeclared,
        yarn_unused,
        yarns_alike,
        yarn_incomplete,
        colour_when_unsaid,
        start_drifts,
        hook_missing,
        hook_label_differs,
        hook_between_sizes,
        hook_unlike_yarn,
        gauge_missing,
        gauge_implausible,
        swatch_unlike_gauge,
        size_missing,
        size_differs,
        head_size_differs,
        yarn_amount_differs,
        hours_differ,
        film_time_past_end,
        film_time_not_rising,
        revision_before_publication,
        tie_too_short,
        eyelets_uneven,
        units_disagree,
        one_system_only,
        measure_then_count,
        picture_without_words,
        audience_unsaid,
        small_parts_for_little_ones,
        level_too_low,
        increases_stacked,
        flat_piece_not_flat,
        override_unknown,
    )
)
"""Every rule, in the order their findings are told about one place. The folder `rules/` holds exactly these."""


def rule(name: str) -> Rule | None:
    """The rule of that name."""
    return next((rule for rule in RULES if rule.name == name), None)


@dataclass(frozen=True, slots=True)
class Override:
    """A rule the author answered."""

    rule: str
    """Its name; empty where a line's answer names none and so answers every rule there."""
    reason: str
    span: Span
    line: bool
    """Whether it holds for one line only."""
    used: int
    """Findings it silenced; 0 for an answer that is no longer needed."""


def run(product: Product) -> tuple[Finding, ...]:
    """All findings of all rules, in the order of the text; answered ones left out."""
    answers = _answers(product)
    return tuple(finding for finding in _found(product) if not any(_answered(finding, a) for a in answers))


def overrides(product: Product) -> tuple[Override, ...]:
    """The author's answers, each with how many findings it silenced."""
    found = _found(product)
    return tuple(replace(a, used=sum(_answered(f, a) for f in found)) for a in _answers(product))


def _found(product: Product) -> tuple[Finding, ...]:
    if "found" not in product.memo:
        order = {rule.name: i for i, rule in enumerate(RULES)}
        found = {finding: None for rule in RULES for finding in _by(rule, product)}
        product.memo["found"] = tuple(sorted(found, key=lambda f: (f.span.start, order[f.rule], f.span.end)))
    found_before: tuple[Finding, ...] = product.memo["found"]
    return found_before


def _by(rule: Rule, product: Product) -> Iterator[Finding]:
    """A rule's findings; in pasted text as much softer as the rule says."""
    if product.bare and rule.bare is None:
        return
    for finding in rule.module.check(product):
        if product.bare and rule.bare is not None and _WEIGHT[finding.severity] > _WEIGHT[rule.bare]:
            finding = replace(finding, severity=rule.bare)
        yield finding


_WEIGHT = {Severity.NOTE: 0, Severity.WARNING: 1, Severity.ERROR: 2}


def _answers(product: Product) -> tuple[Override, ...]:
    answers = [
        Override(name, reason, product.place(f"intended.{name}", "intended"), False, 0)
        for name, reason in product.header.intended.items()
        if reason.strip()
    ]
    for at in product.lines():
        answers += _on_line(at)
    return tuple(answers)


def _on_line(at: At) -> list[Override]:
    found = []
    for answer in at.line.intended:
        name, sign, reason = answer.partition("=")
        named = bool(sign) and " " not in name.strip()
        found.append(Override(name.strip() if named else "", reason.strip() if named else answer, at.span, True, 0))
    return found


def _answered(finding: Finding, answer: Override) -> bool:
    if answer.rule and answer.rule != finding.rule:
        return False
    return not answer.line or answer.span.start <= finding.span.start < max(answer.span.end, answer.span.start + 1)
