"""Words for parts as people write them: what each is read as, and what is asked.

The rows are the trade's words. Source: UN R53 (from memory) for what lamps, indicators and tell-tales are called;
all else common practice, no source.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from portloom.base.parts.loads import LOAD_PART, LOAD_PARTS
from portloom.base.parts.others import AMBIGUOUS, OTHER_WORDS
from portloom.base.parts.phrases import is_plural
from portloom.base.parts.switches import SWITCH_PART, SWITCH_PARTS
from portloom.base.parts.words import part_words, words_within

LOADS = {
    "dipped beam": "low beam, lo beam, lo-beam, dip beam, dip, dipped, passing beam, lowbeam, "
    "headlight low beam, low-beam headlamp",
    "main beam": "high beam, full beam, hi beam, driving beam, HIGH-BEAM, headlight high beam, main beam headlamp",
    "daytime lamp": "daytime running lamp, daytime running lights, DRL",
    "position lamp": "side lamp, side light, parking lamp, city light, front marker, position light, sidelights",
    "tail lamp": "tail light, taillight, tail-light, tail, Tail Lights, LED tail light",
    "plate lamp": "number plate lamp, licence plate lamp, license plate light, number plate, plate light",
    "instrument lamps": "clock lights, clock light, speedo light, speedo lights, backlight, "
    "instrument lighting, instrument lights",
    "brake lamp": "stop lamp, stop light, brake light, rear brake light, brakelight, stoplight, LED brake light",
    "left indicator": "left turn signal, turn signal left, blinker l, LH indicator, indicator (left), left winkers, "
    "rear left blinker, left indicators, left side indicators, left flasher, front left turn signal, left turn, "
    "LF blinker, FL turn signal, LR indicator, indicator RL",
    "right indicator": "right turn signal, turn signal R, RH blinker, rear right indicator, winker right, RF blinker, "
    "FR blinkers, RR indicator, blinker RR, R/F turn signal",
    "spot lamp": "spot light, spotlights, auxiliary driving lamp",
    "front fog lamp": "fog light front, front fog, front fog lights",
    "rear fog lamp": "rear fog lamp, fog lamp rear",
    "horn": "hooter, twin horns, Horns, loud horn",
    "compressor horn": "air horn",
    "ignition coil": "coil, coil pack, ignition coils, twin coils",
    "ignition box": "ignitor, CDI module, ignition control module, ignition, CDI, cdi box, igniter, ignition module",
    "engine controller": "ECU, ECM, engine computer, injection box, engine ECU, engine control module, "
    "injection computer",
    "injectors": "fuel injectors",
    "fuel pump": "petrol pump, in-tank fuel pump, fuelpump, gas pump, fuel pump motor",
    "fuel tap solenoid": "fuel solenoid",
    "starter solenoid": "starter relay, start solenoid, starter magnetic switch, starter motor relay",
    "fan": "cooling fan, radiator fan, rad fan, Engine Fan, radiator fan motor, rad-fan motor, electric fan, fan motor",
    "dash": "speedometer, speedo, tacho, rev counter, instruments, gauges, dashboard, "
    "instrument cluster, gauge cluster, digital dash",
    "heated grips": "heated grip, grip heater, grips, hot grips, grip warmers",
    "heated seat": "seat heater, seat warmer",
    "heated vest": "vest heater",
    "socket": "charging socket, USB socket, power socket, 12V socket, usb, cigarette lighter socket, "
    "accessory socket, USB port, USB outlet, power outlet",
    "satellite navigation": "sat-nav, satnav, GPS",
    "immobiliser": "immobilizer",
    "tracker": "GPS tracker",
    "quickshifter": "quick shifter",
    "lambda heater": "lambda sensor heater, O2 sensor heater, oxygen sensor heater",
    "main beam tell-tale": "beam indicator, beam warning lamp",
    "indicator tell-tale": "turn warning lamp",
}
SWITCHES = {
    "key switch": "key, ignition switch, ignition lock, keyswitch, ignition key, ignition barrel",
    "engine stop switch": "engine kill switch, engine cut-off switch, "
    "kill switch, killswitch, run switch, engine stop, kill button, kill",
    "starter button": "start button, starter switch",
    "neutral switch": "gear switch, neutral light switch, neutral",
    "clutch switch": "clutch lever switch, clutch",
    "side stand switch": "stand switch, side-stand switch, sidestand switch, kickstand switch, "
    "switch on the side stand",
    "fall sensor": "tip-over sensor, bank angle sensor, lean switch",
    "front brake switch": "front brake light switch, brake lever switch, front stop light switch, "
    "pressure switch on front brake, brake pressure switch front",
    "rear brake switch": "rear brake light switch, brake pedal switch, brake switch (rear), "
    "pressure switch on rear brake",
    "left indicator button": "left blinker button, indicator switch left, left turn signal switch",
    "right indicator button": "right blinker button, turn signal button, right, RH blinker button",
    "indicator switch": "turn switch, turn signal switch",
    "hazard switch": "warning switch, hazard warning switch",
    "dip switch": "high/low switch, hi/lo switch",
    "flash button": "passing button, pass",
    "light switch": "lighting switch, lights switch",
    "horn button": "horn push, horn switch, hooter button, horn button on left bar",
    "oil pressure switch": "oil switch",
    "temperature switch": "thermo switch",
    "fuel level sender": "fuel sender",
    "engine speed signal": "tacho lead, coil primary, stator phase",
}
REFUSED = {
    "starter motor": "electric starter motor",
    "ABS": "abs unit, ABS pump, abs modulator",
    "airbag": "air bag",
    "regulator": "rectifier, regulator/rectifier, reg/rec, voltage regulator, regulator lead, rectifier output",
    "alternator": "stator, field, field coil",
    "battery charger lead": "charging lead, battery charger, charging wire",
    "ignition pick-up": "trigger coil, pickup coil",
}
FALLS_AWAY = {
    "flasher relay": "turn signal relay, indicator relay",
    "side stand relay": "stand relay",
    "start cut relay": "starter cut relay",
}


def _words(table: dict[str, str]) -> list[tuple[str, str]]:
    """Return each word with what it means; a comma that belongs to a name is none here."""
    texts = {name: [name, *also.replace("turn signal button, right", "turn signal button right").split(", ")]
             for name, also in table.items()}  # fmt: skip
    return [(text, name) for name, all_texts in texts.items() for text in all_texts]


def _means(text: str) -> tuple[str, str] | None:
    meant = words_within(text)
    return None if meant is None else (meant.sort, meant.name)


@pytest.mark.parametrize(("text", "name"), _words(LOADS))
def test_words_for_loads(text: str, name: str) -> None:
    """In any capitals, with hyphens or none."""
    for said in (text, text.upper(), text.title(), text.replace(" ", "_")):
        meant = words_within(said)
        assert meant is not None, said
        assert (meant.sort, meant.name) in {("load", name), ("tell-tale", name)}, said


@pytest.mark.parametrize(("text", "name"), _words(SWITCHES))
def test_words_for_switches(text: str, name: str) -> None:
    """In any capitals."""
    assert _means(text) == _means(text.upper()) == ("switch", name)


@pytest.mark.parametrize(("text", "name"), _words(REFUSED))
def test_what_keeps_its_own_wiring(text: str, name: str) -> None:
    """No output is for it, with why."""
    meant = words_within(text)
    assert meant is not None
    assert (meant.sort, meant.name) == ("refused", name)
    assert meant.why


@pytest.mark.parametrize(("text", "name"), _words(FALLS_AWAY))
def test_what_the_unit_does_itself(text: str, name: str) -> None:
    """Its relay comes out."""
    assert _means(text) == ("falls away", name)


@pytest.mark.parametrize(
    "text",
    [
        "stop switch", "stop button", "pilot", "pilot lamp", "pilot light", "front brake", "rear brake",
        "rear light", "rear lights", "headlight",
        "head lamp", "idiot lights", "pump", "starter", "solenoid", "running lights", "charge lamp", "charging light",
        "charge warning light", "compressor", "indicator", "indicators", "all four indicators", "turn signals",
        "indicators left and right", "left/right indicators", "tail/brake light", "brake/tail lamp", "stop/tail",
        "tail/brake", "high/low beam", "headlight hi/lo", "brake switch", "brake light switch", "stop light switch",
        "hazard lights", "headlight switch", "fog lights", "light", "brake", "turn light left", "main beam light",
        "charger", "auxiliary lamps",
    ],
)  # fmt: skip
def test_asked_and_never_guessed(text: str) -> None:
    """With all that it may be, in any capitals."""
    meant, shouted = words_within(text), words_within(text.upper())
    assert meant is not None
    assert meant.sort == "asked"
    assert meant.choices
    assert shouted is not None
    assert shouted.choices == meant.choices


@pytest.mark.parametrize(
    ("text", "sort", "name"),
    [
        ("neutral light", "tell-tale", "neutral light"),
        ("oil light", "tell-tale", "oil light"),
        ("oil pressure warning light", "tell-tale", "oil pressure warning light"),
        ("turn signal indicator", "tell-tale", "indicator tell-tale"),
        ("high beam indicator", "tell-tale", "main beam tell-tale"),
        ("gear indicator", "tell-tale", "gear indicator"),
        ("starter button light", "tell-tale", "starter button light"),
        ("fuel pump relay", "coil", "fuel pump"),
        ("fan relay", "coil", "fan"),
        ("main relay", "coil", ""),
        ("main fuse", "fuse", "main fuse"),
        ("ignition fuse", "fuse", "ignition fuse"),
        ("grip heater switch", "switch", ""),
        ("lambda sensor", "switch", ""),
        ("stop light switch, front", "switch", "front brake switch"),
    ],
)
def test_the_last_word_decides_the_class(text: str, sort: str, name: str) -> None:
    """A relay is a coil, a fuse no load, a switch or sensor never a load, and 'neutral light' a tell-tale."""
    assert _means(text) == (sort, name)


@pytest.mark.parametrize("text", ["toaster", "winch", "water pump", "glove box light", "red LED", "", "---", "battery"])
def test_what_is_no_part_is_made_none(text: str) -> None:
    """A water pump is no fuel pump."""
    assert words_within(text) is None


@pytest.mark.parametrize("text", ["indicators", "all four indicators", "pair of horns", "both horns", "left and right"])
def test_words_for_several(text: str) -> None:
    """A plural, 'all', 'both', 'pair', both sides; the singular is one."""
    assert is_plural(text)
    assert not is_plural("left indicator")


def test_each_word_of_the_catalogue_means_itself() -> None:
    """Whole, as a file's part, and within a name, it is read as what lists it; no word stands twice."""
    words = [(part.name, (part.name, *part.also, *part.alone)) for part in LOAD_PARTS]
    words += [(part.name, (part.name, *part.also, *part.alone)) for part in SWITCH_PARTS]
    for name, texts in words:
        for text in texts:
            for meant in (part_words(text), words_within(text)):
                assert meant is not None, text
                assert meant.name == name, text
    for other in OTHER_WORDS:
        assert {part_words(text).name for text in (other.name, *other.also)} == {other.name}  # type: ignore[union-attr]
    for ambiguous in AMBIGUOUS:
        known = {*LOAD_PART, *SWITCH_PART, *(other.name for other in OTHER_WORDS)}
        assert set(ambiguous.choices) <= known
        assert {part_words(text).sort for text in ambiguous.words} == {"asked"}  # type: ignore[union-attr]


@given(st.text(max_size=30))
def test_no_text_is_too_odd(text: str) -> None:
    """It means one thing, or nothing."""
    assert words_within(text) == words_within(text)
    part_words(text)
