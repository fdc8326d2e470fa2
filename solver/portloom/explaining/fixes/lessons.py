"""What is learnt of choices that do not help: clauses and sums that every fix meets (FORMULATION.md, F2 to F6)."""

from collections.abc import Iterable, Iterator

from portloom.explaining.conflicts.find import any_conflict, counted
from portloom.explaining.conflicts.question import QUESTION, Questions
from portloom.explaining.fixes.looms import ROUND
from portloom.explaining.fixes.reach import Blame, blame_of
from portloom.explaining.fixes.relief import Crowds, of_the_feed
from portloom.explaining.fixes.sharing import SHARING, Choice, containing, kept_apart, meetings
from portloom.explaining.fixes.space import alike, excluded, gone_by, implied
from portloom.explaining.fixes.trials import Trials, is_conflict
from portloom.rules.fact_kinds import OPENING, kind_of, of_a_load
from portloom.rules.facts import Keys
from portloom.search.hitting_sets import HittingSets, Meeting
from portloom.search.solving import Disagreement

MANY_LEGS = 6
"""Around so many legs wires are led in every way at once, while it is asked whether a conflict holds all the same."""
MANY_WAYS = 16
"""So many ways of wires past the unit are asked about, one by one."""


class Lessons:
    """What is known so far of the changes of a bike."""

    def __init__(self, trials: Trials) -> None:
        """Take the changes, and what is known of the bike."""
        self._trials = trials
        self._changes = trials.changes
        self.kinds = alike(trials.changes)
        self._choices = HittingSets(
            [change.effort for change in trials.changes],
            tuple(excluded(trials.changes)),
            self.kinds,
            clauses=list(implied(trials.changes)),
        )
        self._crowds: dict[int | None, Crowds] = {}
        self._counted: set[Choice] = {()}
        """Choices, but for what they do to wires, of which what counting tells is noted."""
        self._certain: set[tuple[Keys, Choice, Choice]] = {(keys, (), ()) for keys in trials.known}
        """Conflicts of the bike with chosen changes, whichever of idle ones are made, that need no further proof."""
        self._idle_before: dict[Keys, frozenset[int]] = {}
        """For a conflict the changes that were found idle when it was first learnt from."""

    def begin(self) -> None:
        """Note what counting tells of each unit that the bike may have, and the conflicts that are known.

        Raises OutOfTime at a limit.
        """
        units = (number for number, change in enumerate(self._changes) if change.acts == "unit")
        for unit, chosen in ((None, ()), *((unit, (unit,)) for unit in units)):
            questions = self._trials.made(chosen)
            if questions is not None:
                self._crowds[unit] = Crowds(questions.instance, self._changes, unit)
                self._choices.sums.extend(self._crowds[unit].all_here())
                self._choices.sums.extend(of_the_feed(questions.instance, self._changes, unit))
        for keys in self._trials.known:
            self._learn(self._trials.base, _blame(self._trials.base, keys), ())

    def cheapest(self) -> Choice | None:
        """Return the choice of least effort that may be a fix, None where there is none; raise OutOfTime at a limit."""
        self._trials.work.spend(QUESTION)
        return self._choices.cheapest(self._trials.base.clock)

    # --- what is told already

    def exclude(self, fix: Choice) -> None:
        """Rule out a fix, and all that is as much or more."""
        self._choices.clauses.extend(((), way) for way in containing(self._changes, fix))

    def enough_of(self, pattern: tuple[int, ...]) -> None:
        """Rule out choices with so many changes of each kind, or more."""
        self._choices.patterns.append(pattern)

    def allow_again(self) -> None:
        """Allow every kind."""
        self._choices.patterns.clear()

    # --- what does not help

    def is_no_bike(self, questions: Questions | None, chosen: Choice) -> bool:
        """Tell whether changes have nothing to change, or make a share group that no file may have, and note it."""
        if questions is None:
            self._choices.clauses.append(((), chosen))
            return True
        job = questions.instance.job
        loads = job.overfull_group or kept_apart(self._trials.base.instance.job, job)
        if loads is None:
            return False
        figures = (n for n, change in enumerate(self._changes) if change.acts == "figures" and change.slot[1] in loads)
        joined = tuple(number for number in chosen if any(self._changes[number].joins))
        self._choices.clauses.append(((*gone_by(self._changes, loads), *figures), joined))
        return True

    def is_counted_out(self, questions: Questions, chosen: Choice) -> bool:
        """Tell whether counting shows that a choice does not help, and note what every fix must come up to."""
        unit = next((number for number in chosen if self._changes[number].acts == "unit"), None)
        # What is done to wires leaves every count as it is.
        counting = tuple(number for number in chosen if self._changes[number].acts != "wires")
        if unit not in self._crowds or counting in self._counted:
            return False
        self._counted.add(counting)
        sums = tuple(self._crowds[unit].seen_with(questions.instance))
        self._choices.sums.extend(sums)
        return not all(needed.met_by(chosen) for needed in sums)

    def learn_from(self, questions: Questions, keys: Keys | None, chosen: Choice) -> None:
        """Note why a choice does not help: a known conflict that it does not lift, or a new one where that is None."""
        if keys is None:
            keys = any_conflict(questions, questions.instance.everything)
            self._trials.known.append(keys)
        self._learn(questions, _blame(questions, keys), chosen)

    def _learn(self, questions: Questions, conflict: Blame, chosen: Choice) -> None:
        """Note that a choice must touch a conflict, or do without a change that it hangs on.

        ``questions`` are those about the bike with the choice, which has the conflict. Changes that touch it and do not
        lift it, whichever are made with the choice, need not be tried, and it does not hang on them. Raises
        Disagreement where two proofs of what is noted differ.
        """
        hangs_on = list(chosen)
        for number in chosen:
            change, rest = self._changes[number], tuple(other for other in hangs_on if other != number)
            if not change.only_helps and not change.touches(conflict) and self._holds(conflict, rest, ()):
                hangs_on = list(rest)
        idle = self._idle(questions, conflict, tuple(hangs_on))
        self._certify(conflict, tuple(hangs_on), idle)
        known = {*idle, *hangs_on}
        lifting = [n for n, change in enumerate(self._changes) if change.touches(conflict) and n not in known]
        not_all = tuple(n for n in hangs_on if n not in idle and not self._changes[n].only_helps)
        if conflict.counted:
            self._choices.clauses.append((tuple(lifting), not_all))
            return
        alone, hosts = meetings(self._changes, {key[1] for key in conflict.keys if of_a_load(key)}, chosen)
        others = (number for number in lifting if self._changes[number].kind != SHARING)
        self._choices.sums.append(Meeting((*others, *alone), hosts, not_all))

    def _idle(self, questions: Questions, conflict: Blame, chosen: Choice) -> Choice:
        """Return changes that touch a conflict, which holds whichever of them are made beside the chosen ones.

        They make nothing worse, or lead a wire another way round. Of a conflict that is a count, sums know more.
        """
        if conflict.counted:
            return ()
        touching = [number for number, change in enumerate(self._changes) if change.touches(conflict)]
        # Who comes into one group is no question: loads that do not meet are as they were (``meetings``).
        helping = [n for n in touching if self._changes[n].only_helps and self._changes[n].kind != SHARING]
        ways = tuple(self._ways_round(questions, touching))
        # What was idle with other choices most likely is with this one, and little else.
        likely = self._idle_before.get(conflict.keys, frozenset((*ways, *helping)))
        asked = tuple(number for number in (*ways, *helping) if number in likely)
        if conflict.keys in self._idle_before and self._holds(conflict, chosen, asked):
            return asked
        idle: Choice = ()
        if any(kind_of(key) is OPENING for key in conflict.keys):
            # Where an opening is full they are the cure, or none of them is: no way leads round it.
            idle = tuple(number for number in ways if number in likely)
            idle = idle if idle and self._holds(conflict, chosen, idle) else ()
            asked = tuple(number for number in helping if number in likely)
        found = idle
        for alike_ones in self.kinds:
            found = self._still_idle(conflict, chosen, found, tuple(n for n in asked if n in alike_ones))
        self._idle_before.setdefault(conflict.keys, frozenset(found))
        return found

    def _ways_round(self, questions: Questions, touching: Iterable[int]) -> Iterator[int]:
        """Return changes that lead wires another way round, around few enough legs to try every set."""
        loads = questions.instance.job.loads
        there = {load.name for load in (*loads.on_unit, *loads.guests, *(fed.consumer for fed in loads.fed))}
        legs: set[str] = set()
        for number in touching:
            if self._changes[number].kind == ROUND:
                _, load, leg = self._changes[number].slot
                if load in there and len(legs | {leg}) <= MANY_LEGS:
                    legs.add(leg)
                    yield number

    def _still_idle(self, conflict: Blame, chosen: Choice, idle: Choice, more: Choice) -> Choice:
        """Add changes to the idle ones in halves, as long as a conflict holds."""
        if not more or self._holds(conflict, chosen, idle + more):
            return idle + more
        if len(more) == 1:
            return idle
        half = len(more) // 2
        return self._still_idle(conflict, chosen, self._still_idle(conflict, chosen, idle, more[:half]), more[half:])

    def _holds(self, conflict: Blame, chosen: Choice, idle: Choice) -> bool:
        """Tell whether facts are a conflict of the bike with chosen changes, whichever of the idle ones are made.

        A share group larger than a file may have is not looked into: that takes too long.
        """
        certain = True
        for questions in self._each_way(chosen, idle):
            if questions is None or not is_conflict(questions, conflict.keys):
                return False
            certain = certain and questions.is_certain(conflict.keys)
        if certain:
            self._certain.add((conflict.keys, chosen, idle))
        return True

    def _certify(self, conflict: Blame, chosen: Choice, idle: Choice) -> None:
        """Prove twice that facts are a conflict with chosen changes, whichever of the idle ones are made.

        That is all that a clause goes by (FORMULATION.md, F4). It takes no work from what may still be tried. What was
        certified before, or shown by counting alone, is not proved anew.
        """
        if (conflict.keys, chosen, idle) in self._certain:
            return
        for questions in self._each_way(chosen, idle):
            if questions is None or not Questions(questions.instance, questions.clock).proved_twice(conflict.keys):
                raise Disagreement("two proofs disagree on whether changes lift a conflict")

    def _each_way(self, chosen: Choice, idle: Choice) -> Iterator[Questions | None]:
        """Return the bike with chosen changes and all idle ones; None where that is not looked into.

        Of wires of the unit a plan may choose the way; wires past it are led each way that they may take, one after the
        other.
        """
        either = tuple(number for number in idle if self._changes[number].kind == ROUND)
        made = {*chosen, *idle}.difference(either)
        waiting: list[frozenset[int]] = [frozenset()]
        for past in waiting:
            questions = self._trials.made((*made, *past), either)
            if questions is None or questions.instance.job.overfull_group is not None or len(waiting) > MANY_WAYS:
                yield None
                return
            yield questions
            more = [past | {number} for number in self._past_the_unit(questions, either)]
            waiting += [some for some in more if some not in waiting]

    def _past_the_unit(self, questions: Questions, either: Choice) -> Iterator[int]:
        """Return those ways round a leg that the wire of a load that no output feeds lies in (FORMULATION.md, X4)."""
        job = questions.instance.job
        for wire in questions.instance.sites[0].fixed_of("fed load"):
            used = {job.network.legs[number].label for number in wire.run.legs}
            yield from (n for n in either if self._changes[n].slot[1] == wire.name and self._changes[n].slot[2] in used)


def _blame(questions: Questions, keys: Keys) -> Blame:
    return blame_of(questions, keys, counted=counted(questions, keys))
