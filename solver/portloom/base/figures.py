"""Figures and small words as people read them."""

import re
from collections.abc import Iterator, Sequence
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from portloom.base.quantities import MicroAmps, Micrometres, Microseconds, MilliAmps, MilliCelsius


def plain(number: Decimal) -> str:
    """Write a number without needless zeros: 12, 12.5."""
    text = f"{number:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def amperes(current: MilliAmps) -> str:
    """Write a current in amperes, to the milliampere."""
    return f"{plain(Decimal(current) / 1000)} A"


def peak_amperes(current: MicroAmps | int) -> str:
    """Write an inrush in microamperes in amperes, exact."""
    return f"{plain(Decimal(current) / 1_000_000)} A"


def added_up(shares: Sequence[tuple[str, int]]) -> str:
    """Write currents in mA as a sum: '5.2 A (dipped beam) + 0.8 A (horn)'."""
    return " + ".join(f"{amperes(MilliAmps(current))} ({whose})" for whose, current in shares)


def volts_added_up(shares: Sequence[tuple[str, Fraction]]) -> str:
    """Write losses in microvolts as a sum, to the millivolt: '0.085 V (the feed) + 0.3 V (its wire) = 0.385 V'.

    The sum is rounded up, and its parts so that they add up to it: each is at most a millivolt off.
    """
    told, before = [], Fraction(0)
    for whose, loss in shares:
        millivolts = -(-(before + loss) // 1000) - -(-before // 1000)
        told.append(f"{plain(Decimal(int(millivolts)) / 1000)} V ({whose})")
        before += loss
    return f"{' + '.join(told)} = {lost_volts(before)}"


def millimetres(length: Micrometres) -> str:
    """Write a length in millimetres."""
    return f"{plain(Decimal(length) / 1000)} mm"


def milliseconds(time: Microseconds) -> str:
    """Write a time in milliseconds."""
    return f"{plain(Decimal(time) / 1000)} ms"


def grams(mass: Decimal) -> str:
    """Write a mass to a tenth of a gram."""
    return f"{mass.quantize(Decimal('0.1'), ROUND_HALF_UP)} g"


def volts(microvolts: Fraction) -> str:
    """Write a voltage in volts, to a hundredth, rounded up: a loss is never made smaller."""
    hundredths = -(-microvolts // 10_000)
    return f"{Decimal(int(hundredths)) / 100:.2f} V"


def volts_left(microvolts: Fraction | int) -> str:
    """Write a voltage in volts, to a hundredth, rounded down: what is left is never made larger."""
    return f"{Decimal(int(microvolts // 10_000)) / 100:.2f} V"


def lost_volts(microvolts: Fraction | int) -> str:
    """Write a loss that is too large in volts, to the millivolt, rounded up: it stays above its limit."""
    return f"{plain(Decimal(int(-(-microvolts // 1000))) / 1000)} V"


def reached_volts(microvolts: Fraction | int) -> str:
    """Write a voltage that is too low in volts, to the millivolt, rounded down: it stays below what is needed."""
    return f"{plain(Decimal(int(microvolts // 1000)) / 1000)} V"


def limit_volts(limit: Fraction | int) -> str:
    """Write a limit of microvolts in volts as it is, with two decimals or more."""
    text = plain(Decimal(Fraction(limit).numerator) / Decimal(Fraction(limit).denominator * 1_000_000))
    whole, _, decimals = text.partition(".")
    return f"{whole}.{decimals:0<2} V"


def celsius(temperature: MilliCelsius) -> str:
    """Write a temperature."""
    return f"{plain(Decimal(temperature) / 1000)} C"


NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")


def counted(number: int, what: str) -> str:
    """Write how many there are of something: 'no output', 'one output', 'three outputs', '13 outputs'."""
    more = f"{what}es" if what.endswith("ch") else f"{what}s"
    return f"{number_word(number)} {what if number == 1 else more}"


def number_word(number: int) -> str:
    """Write a small number as a word."""
    return NUMBERS[number] if number < len(NUMBERS) else str(number)


def capital(text: str) -> str:
    """Begin a sentence."""
    return text[:1].upper() + text[1:]


def port_range(names: Sequence[str], order: Sequence[str]) -> str:
    """Say ports in the unit's order, three or more in a row as 'out 9 to out 11'."""
    return listed(tuple(_spans(sorted(names, key=order.index), order)))


def _spans(names: Sequence[str], order: Sequence[str]) -> Iterator[str]:
    span: list[str] = []
    for name in (*names, ""):
        if span and name and order.index(name) == order.index(span[-1]) + 1:
            span.append(name)
            continue
        if len(span) > 2:
            yield f"{span[0]} to {span[-1]}"
        else:
            yield from span
        span = [name]


def listed(names: list[str] | tuple[str, ...]) -> str:
    """Write names as a list: 'a', 'a and b', 'a, b and c'."""
    return " and ".join(filter(None, [", ".join(names[:-1]), *names[-1:]]))


NOT_MORE = ("ss", "us", "is")
"""Endings in s of a single thing: compass, chassis."""
OTHERWISE = {"is": "are", "has": "have", "does": "do"}


def several(name: str) -> bool:
    """Tell whether a name is of more than one thing: a list, a range of ports, a word in the plural.

    A name is any word that its owner likes, so this goes by its looks: only the verb after it hangs on that.
    """
    if re.search(r", | and |\d\w* to .*\d", name):
        return True
    return name.endswith("s") and not name.endswith(NOT_MORE)


def with_verb(name: str, verb: str) -> str:
    """Return a name with what it does, the verb given for one thing: 'horn draws', 'heated grips draw'."""
    return f"{name} {verb_for(name, verb)}"


def verb_for(name: str, verb: str) -> str:
    """Return a verb, with what follows it, as it stands after a name: 'draws' or 'draw'."""
    first, *rest = verb.split(" ", 1)
    return " ".join((_of_several(first) if several(name) else first, *rest))


def _of_several(verb: str) -> str:
    return OTHERWISE.get(verb, verb.removesuffix("es" if verb.endswith("sses") else "s"))


def seat_phrase(place: str, *, turned: bool) -> str:
    """Say where a unit sits and which way round: 'under seat, turned around'."""
    return f"{place}, turned around" if turned else place


def with_article(what: str) -> str:
    """Return a thing with its article: 'a brake lamp', 'an ignition'."""
    return f"{'an' if what[:1].lower() in 'aeiou' else 'a'} {what}"


def pronoun_for(name: str) -> str:
    """Return the word that stands for a name in the same sentence."""
    return "they" if several(name) else "it"
