"""Bikes that just keep, and just break, the rules of wires in heat, in company, and in a short circuit.

The bikes are made up. Their limits are those of the rules' own sources: 1 mm2 carries 20 A, in the company of
three 14 A (33 CFR 183.425 Table 5, 18 AWG, Note 2), at 57 C sqrt(48 / 75) = 0.8 of it (its Note 1, nearly);
0.5 mm2 stands 226 x 0.5 x sqrt(ln(394.5 / 319.5) / t) amperes for t seconds (IEC 60949, 85 to 160 C), which is
164.07 A for 0.1 s; steps of fuses (ISO 8820-3).
"""

from rule_bikes import LAMP, OUT, SECOND, Texts, Trial, bike, unit

ONE_MM2, HALF_MM2 = f"{OUT}, wire_max: 1 mm2", f"{OUT}, wire_max: 0.5 mm2, trip: 8 A"


def in_company(lamp: str, output: str, count: str) -> Texts:
    """Write a bike with a lamp at the neck, and loaded wires alongside on its way."""
    wires = f"alongside: [{{name: charger, from: tray, to: neck, size: 1 mm2, current: 5 A, count: {count}}}]"
    return bike(f"{LAMP}, {lamp}", more=wires), unit(output)


def at_the_neck(texts: Texts) -> Texts:
    """Put the unit at the neck, so that its feed has a way to go."""
    return texts[0].replace("front: tray", "front: neck"), texts[1]


# None of these has a plan without its rule either: there is no wire that could be laid.
HEAT = (
    Trial(
        "wire",
        "derated in a bundle at a terminal",
        lambda trip: in_company("current: 1 A", f"{ONE_MM2}, trip: {trip}", "2"),
        "14 A",
        "14.001 A",
        alone=False,
    ),
    Trial(
        "wire",
        "loaded from an ampere on",
        lambda current: in_company(f"current: {current}", f"{ONE_MM2}, trip: 14.001 A", "2"),
        "999 mA",
        "1 A",
        alone=False,
    ),
    Trial(
        "wire",
        "in company only while its bundle is loaded",
        lambda when: in_company(f"current: 2 A, when: {when}", f"{ONE_MM2}, trip: 15 A", "2"),
        "cranking",
        "day",
        alone=False,
    ),
    Trial(
        "wire",
        "in a hot leg",
        lambda trip: (
            bike(f"{LAMP}, current: 1 A", neck="509 mm, ambient: 57 C"),
            unit(f"{ONE_MM2.replace('15 A', '20 A')}, trip: {trip}"),
        ),
        "16 A",
        "16.001 A",
        alone=False,
    ),
    # 15 A of the main fuse on 20 A x sqrt((105 - T) / 75): T is 62.8125 C.
    Trial(
        "main-fuse",
        "a feed in a hot leg",
        lambda ambient: at_the_neck(
            (
                bike(f"{LAMP}, current: 5 A", neck=f"509 mm, ambient: {ambient}"),
                unit(f"{OUT}, trip: 14 A", feed="limit: 40 A, wire_max: 1 mm2"),
            )
        ),
        "62.8 C",
        "62.9 C",
        alone=False,
    ),
    Trial(
        "main-fuse",
        "a feed derated in a bundle",
        lambda current: at_the_neck(
            (
                in_company("current: 5 A", OUT, "2")[0].replace("current: 5 A, count", f"current: {current}, count"),
                unit(f"{OUT}, trip: 14 A", feed="limit: 40 A, wire_max: 1 mm2"),
            )
        ),
        "999 mA",
        "1 A",
        alone=False,
    ),
    # 168 W at 14 V are 12 A, 1.25 x 12 A a fuse of 15 A; a unit of 12 A is protected by 15 A at most.
    Trial(
        "main-fuse",
        "the charging current through the unit",
        lambda power: (
            bike(f"{LAMP}, current: 1 A").replace(
                "at: tray}}", f"at: tray}}, charging: {{idle: 50 W, cruise: {power}, joins: unit}}}}"
            ),
            unit(f"{OUT}, trip: 2 A", feed="limit: 40 A, fuse_max: 15 A"),
        ),
        "168 W",
        "168.001 W",
        alone=False,  # which main fuses there may be is settled before any rule is asked
    ),
)
# While cranking 10 A and 5 A come back by one wire of 1 mm2: with the second at its trip 10 A + trip <= 20 A.
PAIR = ("at: bracket, current: 10 A, when: cranking", "at: bracket, current: 5 A, when: cranking")
# By day a lamp of 2 A and a horn of 8 A do, three wires together: 8 A + the lamp's trip <= 14 A.
BESIDE_A_HORN = "name: horn, at: bracket, current: 8 A, fed: fuse, own_switch: bracket"
RETURNS = (
    Trial(
        "wire",
        "a return sized for a fault while cranking",
        lambda trip: (
            bike(f"name: one, {PAIR[0]}", f"name: two, {PAIR[1]}, mode: flash", more="reels: [1 mm2]"),
            unit(OUT, f"{SECOND}, trip: {trip}, switch_modes: flash"),
        ),
        "10 A",
        "10.001 A",
        alone=False,
    ),
    Trial(
        "wire",
        "a return sized for a fault by day",
        lambda trip: (
            bike("name: lamp, at: bracket, current: 2 A", BESIDE_A_HORN, more="reels: [1 mm2]"),
            unit(f"{OUT}, trip: {trip}"),
        ),
        "6 A",
        "6.001 A",
        alone=False,
    ),
    # 4 A have a fuse of 5 A, 4.001 A one of 7.5 A; 0.5 mm2 carries 7.7 A in the company of three: 2 A + the fuse.
    Trial(
        "wire",
        "a return sized for a fault behind a fuse",
        lambda current: (
            bike(
                "name: lamp, at: bracket, current: 2 A",
                BESIDE_A_HORN.replace("8 A", current),
                more="reels: [0.5 mm2]",
            ),
            unit(f"{OUT}, trip: 3 A"),
        ),
        "4 A",
        "4.001 A",
        alone=False,
    ),
)
SHORTS = (
    Trial(
        "wire",
        "the peak through a wire",
        lambda peak: (bike(f"{LAMP}, current: 1 A"), unit(HALF_MM2.replace("60 A", peak))),
        "164 A",
        "164.1 A",
    ),
    # 0.35 mm2 stands 114.85 A.
    Trial(
        "wire",
        "the peak through a load's tails",
        lambda peak: (
            bike(f"{LAMP}, current: 1 A, leads: 0.35 mm2"),
            unit(HALF_MM2.replace("60 A", peak).replace("8 A", "7 A")),
        ),
        "114.8 A",
        "114.9 A",
    ),
    # (226 x 0.5 / 100)^2 x ln(394.5 / 319.5) = 269.25 ms.
    Trial(
        "wire",
        "the time that the trip curve takes",
        lambda time: (
            bike(f"{LAMP}, current: 1 A"),
            unit(f"{HALF_MM2.replace('60 A', '100 A')}, trip_curve: [[2 x, 1 s], [6 x, {time}]]"),
        ),
        "269 ms",
        "270 ms",
    ),
    Trial(
        "wire",
        "the time that is assumed",
        lambda time: (
            bike(f"{LAMP}, current: 1 A", more=f"assume: {{trip time: {time}}}"),
            unit(HALF_MM2.replace("60 A", "100 A")),
        ),
        "269 ms",
        "270 ms",
    ),
    # Output 10 mohm, 1334 mm of 0.5 mm2 at 85 C 65.314: with the battery's 10 mohm 14 V drive 164.10 A.
    Trial(
        "wire",
        "the battery's own resistance",
        lambda own: (
            bike(f"{LAMP}, current: 1 A", neck="1334 mm", more=f"assume: {{battery resistance: {own}}}"),
            unit(HALF_MM2.replace("60 A", "1000 A")),
        ),
        "10.1 mohm",
        "10 mohm",
    ),
)
HOT = (*HEAT, *RETURNS, *SHORTS)
