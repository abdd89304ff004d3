"""How work sets run, in words: titles, tempo, pauses, clusters, the clock, and how a heavy set is found."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from planner.domain.catalogue import TRIES, Scheme
from planner.domain.sets import Sets
from planner.domain.words import capital, clock, listed, spelt

SECONDS = "second", "seconds"
SLOW_S = 4
"""Seconds of a rep from which its sets are called slow."""
PHASES = ("down", "at the bottom", "up", "at the top")
_NOUNS = {
    1: "single", 2: "double", 3: "three", 4: "four", 5: "five", 6: "six", 7: "seven", 8: "eight", 9: "nine",
    10: "ten", 12: "twelve",
}  # fmt: skip
BESIDE = "do the assistance in the rests, and what is left of it straight after"
FORM_WORDS = {
    "ascending": "Add weight from set to set; the last one is the heavy one.",
    "waves": "In waves: as the reps go down the weight goes up; then back down, and up once more.",
    "back_off": "The heavy set comes first; then take weight off, and keep the sets after it fast and clean.",
}
SPOTTED = "Set the safety arms, or have a spotter who knows when to take the bar, before the first heavy try."
NOT_SPOTTED = "Nobody spots this lift: know how to get away from the bar before you add weight to it."
FIRST_MISS = "Stop at the first miss, or where form goes: the set before it is today's number."
COACH_DECIDES = (
    "The coach may end it before that. New to it, or back after a break? Stop at a good set with two left."
)


def sets_title(work: Sets, *, whole: bool = False) -> str:
    """Sets as said: "Five sets of three across", "Three sets, up to a heavy five", "Find a heavy three".

    Args:
        work: the sets.
        whole: whether they are of a complex.
    """
    if whole:
        said = sets_title(work).removesuffix(" across").removesuffix(" of one")
        return f"Complex: {said[:1].lower()}{said[1:]}"
    most, count = work.most, len(work.sets)
    if work.practice_s:
        return f"{capital(_minutes(work.practice_s))} of practice"
    if work.form == "find":
        return f"Find {_heavy(most)}" if work.unit == "reps" else f"Find the heaviest {amount(most, work)}"
    if work.form == "cluster":
        title = f"{_count(count, 'cluster')} of {'+'.join(map(str, work.cluster))}"
    elif work.form == "ascending":
        runs = f"{_count(count, 'set')}, up" if work.as_long else f"{work.run}, up"
        title = f"{runs} to {_heavy(work.sets[-1].reps)}"
    elif work.form == "waves":
        title = f"Waves of {work.run}"
    elif work.form == "back_off":
        later = groupby(work.sets[1:], lambda one: (one.least, one.reps))
        after = listed(f"{_count(len(list(same)), 'lighter set')} of {_reps(*one)}" for one, same in later)
        title = capital(_heavy(work.sets[0].reps)) + (f", then {after}" if after else "")
    elif work.as_long:
        slow = (work.tempo_seconds or 0) > SLOW_S
        kind = f"{'paused ' if work.pause_s else ''}{'slow ' if slow else ''}set"
        across = " across" if work.unit == "reps" and count > 1 and kind == "set" and not work.every_s else ""
        title = f"{_count(count, kind)} of {amount(most, work, work.sets[0].least)}{across}"
    else:
        title = f"Sets of {work.run}"
    return capital(title) + (f", one every {every(work.every_s)}" if work.every_s else "")


def piece_title(schemes: Sequence[Scheme]) -> str:
    """The name of a piece: that of its scheme, of two that are done in turn both."""
    first, *others = (scheme.name for scheme in schemes)
    said = [first, *(f"{name[:1].lower()}{name[1:]}" for name in others)]
    return f"In turn: {said[0][:1].lower()}{said[0][1:]}; {'; '.join(said[1:])}" if others else first


def score_of(scheme: Scheme) -> str:
    """What is written down."""
    if scheme.work.practice_s:
        return ""
    if scheme.work.form == "find":
        return "Your heaviest good set."
    return "The load of your work sets." if scheme.work.alike else "The load of each work set."


def amount(reps: int, work: Sets, least: int | None = None) -> str:
    """The units of a set in the middle of a title: "three", "eight to twelve", "30 seconds"."""
    if work.unit == "reps":
        return _reps(least, reps)
    return f"{reps if least is None else f'{least} to {reps}'} {work.unit}"


def _reps(least: int | None, most: int) -> str:
    return spelt(most) if least is None else f"{spelt(least)} to {spelt(most)}"


def _minutes(seconds: int) -> str:
    minutes, rest = divmod(seconds, 60)
    return clock(seconds) if rest else f"{spelt(minutes)} minute{'s' * (minutes > 1)}"


def every(seconds: int | None) -> str:
    """A turn of the clock: "90 seconds", "minute", "2 minutes", "2:30"."""
    if seconds is None:
        return ""
    minutes, rest = divmod(seconds, 60)
    if minutes == 0 or seconds == 90:  # noqa: PLR2004  (said in seconds by everyone)
        return f"{seconds} seconds"
    return clock(seconds) if rest else ("minute" if minutes == 1 else f"{minutes} minutes")


def _heavy(reps: int) -> str:
    return f"a heavy {_NOUNS.get(reps, str(reps))}"


def _count(count: int, noun: str) -> str:
    return f"{spelt(count)} {noun}{'' if count == 1 else 's'}"


def tempo_words(tempo: str) -> str:
    """Four digits in words: "three seconds down, one second at the bottom, up as fast as you can"."""
    down, bottom, up, top = map(int, tempo)
    said = [
        f"{_seconds(down)} down" if down else "down without holding back",
        f"{_seconds(bottom)} at the bottom" if bottom else "no stop at the bottom",
        f"{_seconds(up)} up" if up else "up as fast as you can",
        f"{_seconds(top)} at the top" if top else "no stop at the top",
    ]
    return ", ".join(said)


def _seconds(seconds: int) -> str:
    return f"{spelt(seconds)} {SECONDS[seconds != 1]}"


def rep_words(work: Sets) -> tuple[str, ...]:
    """How each rep and each set is done, a sentence each: tempo, pause, cluster, range of reps."""
    said = []
    if work.tempo:
        said.append(f"Tempo {'-'.join(work.tempo)}: {tempo_words(work.tempo)}.")
    if work.pause_s:
        said.append(f"Hold still for {_seconds(work.pause_s)} at the hardest point of each rep.")
    if work.cluster:
        rest = f"{_seconds(work.within_s)} between" if work.within_s else "the bar put down in between"
        said.append(f"Each set is {' + '.join(map(str, work.cluster))} with {rest}.")
    if any(one.least for one in work.sets):
        said.append("Take what goes for the fewer reps; once every set gets to the most, add weight.")
    return tuple(said)


def terms(work: Sets, *, clock_only: bool = False) -> tuple[str, ...]:
    """The same as short facts: "a set every 1:30", "tempo 3-1-0-1", "2 s pause"."""
    on_clock = (f"a set every {clock(work.every_s)}",) if work.every_s else ()
    if clock_only:
        return on_clock
    said = [
        *on_clock,
        f"tempo {'-'.join(work.tempo)}" if work.tempo else "",
        f"{work.pause_s} s pause" if work.pause_s else "",
        f"{work.within_s} s inside a set" if work.within_s else "",
        f"{spelt(work.people)} to a bar" if work.people > 1 else "",
    ]
    return tuple(filter(None, said))


def how_sets_run(scheme: Scheme, *, beside: bool = False, paired: bool = False) -> str:
    """How a piece of one scheme runs: build-up, form, rest or clock, who takes turns.

    Args:
        scheme: of the main lift.
        beside: whether assistance is done in the rests.
        paired: whether another lift is done in turn with it.
    """
    work = scheme.work
    if work.practice_s:
        return "No sets to count: good tries with as much rest as they need, and stop while they are good."
    if work.form == "find":
        first = "Build up in the sets that are written, then add a little, 2.5 to 5 kg, from try to try"
        said = [f"{first}: {spelt(TRIES)} tries are enough. {_rest(scheme)} between them."]
    else:
        after = f"A set starts every {every(work.every_s)}: what is left of it is the rest"
        rest = after if work.every_s else f"{_rest(scheme)} after each work set"
        said = [f"Build up first, then the same weight on every work set. {rest}" if _same(scheme) else rest]
        if work.form in FORM_WORDS:
            said = [FORM_WORDS[work.form], rest]
        if paired:
            said[-1] += ", and go from one lift to the other in turn, set by set"
        said[-1] += f"; {BESIDE}." if beside and not paired else "."
    if work.people > 1:
        said.append(f"{capital(spelt(work.people))} share a bar: one works, who rests loads and watches.")
    return " ".join(said)


def _same(scheme: Scheme) -> bool:
    return scheme.across and scheme.sets > 1 and bool(scheme.build_up)


def _rest(scheme: Scheme) -> str:
    return f"Rest {clock(scheme.rest_s)}"


def heavy_cautions(scheme: Scheme, *, spotted: bool) -> tuple[str, ...]:
    """What to be careful of where a heavy set is looked for; nothing otherwise.

    Args:
        scheme: of the lift.
        spotted: whether safety arms or a spotter can take the bar.
    """
    if scheme.work.form != "find":
        return ()
    return (SPOTTED if spotted else NOT_SPOTTED, FIRST_MISS, COACH_DECIDES)
