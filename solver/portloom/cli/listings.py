"""``portloom units``, ``rules`` and ``parts``: what there is to choose from."""

import sys
from decimal import Decimal

from portloom.base.figures import amperes
from portloom.base.nearest import nearest, suggest
from portloom.base.parts.loads import LOAD_PART
from portloom.base.parts.others import OTHER_WORD
from portloom.base.parts.switches import SWITCH_PART
from portloom.base.parts.words import KNOWN_WORDS, part_words, words_within
from portloom.base.unit import Unit
from portloom.cli.screen import page, usage_error, write_json
from portloom.documents.amounts import number, thousandth
from portloom.documents.catalogue import catalogue_document, load_document, other_document, switch_document
from portloom.inputs.files import bundled_units, read_unit
from portloom.inputs.profiles import names_meant
from portloom.inputs.rule_slugs import NEVER_SET_ASIDE, RULE_SLUGS
from portloom.report.text.catalogue import write_asked, write_catalogue, write_load, write_other, write_switch
from portloom.report.text.layout import TableColumn
from portloom.rules.book import RULES

NARROW = 80
"""Columns of a small window."""
MADE_UP = "These units are made up, and so are their prices."
COLUMNS: tuple[TableColumn, ...] = (
    ("unit", "left"), ("price", "right"),
    ("outputs", "right"), ("that dim", "right"), ("that follow", "right"), ("inputs", "right"),
    ("for pulses", "right"), ("feed", "right"), ("banks", "left"),
)  # fmt: skip


def list_units(*, as_json: bool) -> None:
    """Write the bundled units, smallest first."""
    units = sorted((read_unit(path) for _, path in bundled_units()), key=lambda unit: len(unit.outputs))
    if as_json:
        write_json([_document(unit) for unit in units])
    else:
        sheet = page()
        sheet.table(COLUMNS, [_row(unit) for unit in units])
        sheet.line(f"  {MADE_UP} 'portloom units NAME' prints one, to begin a file of your own from.")


def print_unit(name: str, *, as_json: bool) -> None:
    """Write the file of a bundled unit as it is, or what the list says of it; raise BadFile for another name."""
    meant = names_meant(name, (known for known, _ in bundled_units()))
    if len(meant) != 1:
        right = suggest(name, [known for known, _ in bundled_units()])
        raise usage_error("units", f"there is no bundled unit '{name}'", right)
    file = dict(bundled_units())[meant[0]]
    if as_json:
        write_json(_document(read_unit(file)))
    else:
        sys.stdout.write(file.read_text("utf-8"))


def _row(unit: Unit) -> list[str]:
    return [
        unit.unit,
        unit.price or "-",
        str(len(unit.outputs)),
        str(_dimming(unit)),
        str(_following(unit)),
        str(len(unit.inputs)),
        str(_counting(unit)),
        amperes(unit.feed.limit),
        ", ".join(f"{name} {amperes(limit)}" for name, limit in unit.banks.items()) or "-",
    ]


def _document(unit: Unit) -> dict[str, object]:
    return {
        "unit": unit.unit,
        "price": None if unit.price is None else number(Decimal(unit.price)),
        "outputs": len(unit.outputs),
        "outputs_that_dim": _dimming(unit),
        "outputs_that_follow": _following(unit),
        "inputs": len(unit.inputs),
        "inputs_for_pulses": _counting(unit),
        "feed_limit_a": thousandth(unit.feed.limit),
        "banks": {name: thousandth(limit) for name, limit in unit.banks.items()},
    }


def _dimming(unit: Unit) -> int:
    return sum(output.pwm for output in unit.outputs)


def _following(unit: Unit) -> int:
    return sum(output.follow is not None for output in unit.outputs)


def _counting(unit: Unit) -> int:
    return sum("pulse" in port.accepts for port in unit.inputs)


JUDGED = tuple(rule.slug for rule in RULES)
NOT_YET = tuple(slug for slug in RULE_SLUGS if slug not in JUDGED)
"""Rules that a bike file may name and that no plan is judged by yet."""


def list_rules(name: str | None) -> None:
    """Write every rule, or the one that is named; raise BadFile for a name that no rule has."""
    if name is not None and name not in RULE_SLUGS:
        right = suggest(name, RULE_SLUGS)
        raise usage_error("rules", f"there is no rule '{name}'", right)
    sheet = page()
    for rule in RULES:
        if name in (None, rule.slug):
            sheet.line(rule.slug, "bold")
            mend = [f"to set it right: {rule.right}"] if rule.right and name else []
            sheet.items([f"protects: {rule.protects}", f"source: {rule.source}", *mend, *_firm(rule.slug)])
    waiting = [slug for slug in NOT_YET if name in (None, slug)]
    if waiting:
        sheet.line(f"Not checked yet: {', '.join(waiting)}.")


def _firm(slug: str) -> list[str]:
    return ["can't be set aside"] if slug in NEVER_SET_ASIDE else []


def list_parts(name: str | None, *, as_json: bool) -> None:
    """Write the catalogue of parts, or all about the one that a word means; raise BadFile for a word of no part."""
    if name is None:
        write_json(catalogue_document()) if as_json else write_catalogue(page(NARROW))
        return
    meant = part_words(name)
    if meant is None:
        raise usage_error("parts", f"there is no part '{name}'", _nearest_part(name))
    if meant.name in LOAD_PART:
        part = LOAD_PART[meant.name]
        write_json(load_document(part)) if as_json else write_load(part, page(NARROW))
    elif meant.name in SWITCH_PART:
        switch = SWITCH_PART[meant.name]
        write_json(switch_document(switch)) if as_json else write_switch(switch, page(NARROW))
    elif meant.sort == "asked":
        asked = {"part": None, "sort": "asked", "may_be": list(meant.choices)}
        write_json(asked) if as_json else write_asked(name, meant.choices, page(NARROW))
    elif meant.name in OTHER_WORD:
        word = OTHER_WORD[meant.name]
        write_json(other_document(word)) if as_json else write_other(word, page(NARROW))
    else:
        raise usage_error("parts", f"there is no part '{name}'", _nearest_part(name))


def _nearest_part(name: str) -> str:
    """Return what would be right: the part that is meant by some of the words, the nearest, or the list."""
    within = words_within(name)
    near = within.name if within else nearest(name, KNOWN_WORDS)
    return f"write '{near}'" if near in KNOWN_WORDS else "'portloom parts' lists them all"
