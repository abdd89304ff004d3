"""Why a movement is not there: forces it onto a day and says what that breaks or costs."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from planner.audit.reading import plan_of
from planner.domain.base import Value
from planner.domain.catalogue import Catalogue, Movement, Role, Scheme, Tier
from planner.domain.gym import Day
from planner.domain.progress import Progress, quiet
from planner.domain.record import Candidate
from planner.domain.requests import Lock, PieceName
from planner.domain.week import RULES_LAYER, TierProof, Week
from planner.errors import Clashing, NoPlanError
from planner.prescribe.equipped import equipped
from planner.prescribe.stock import Stock
from planner.problem.candidates import suits
from planner.weeks.diff import PieceChange
from planner.weeks.keeping import asked_about
from planner.weeks.redraft import redraft
from planner.weeks.setting import Setting

if TYPE_CHECKING:
    from planner.store.store import Store


class WhyNot(Value):
    """What it would take to have a movement on a day.

    Attributes:
        verdict: whether there is such a week, there is none, or the time did not suffice to tell.
        clashes: where it is impossible: the rules and locks that make it so.
        ways_out: what would make it possible.
        changes: what else would change.
        worse: rules that would be worse, with the measures before and after.
        points: what the weighted rules would cost more (less, if negative), with as little else changed as
            can be.
        week: the week with it, or None.
        free: what the weighted rules cost in a week with it that may change all else; None where that was not
            asked or not found.
        free_proved: whether no week with it costs less than that.
    """

    verdict: Literal["possible", "impossible", "undecided"]
    clashes: Clashing = ()
    ways_out: tuple[str, ...] = ()
    changes: tuple[PieceChange, ...] = ()
    worse: tuple[tuple[str, int, int], ...] = ()
    points: int = 0
    week: Week | None = None
    free: int | None = None
    free_proved: bool = False

    @property
    def possible(self) -> bool:
        """Whether a week with it was found."""
        return self.verdict == "possible"


def why_not(
    setting: Setting,
    week: Week,
    day: Day,
    movement: str,
    *,
    piece: PieceName | None = None,
    seconds: float = 3.0,
    progress: Progress = quiet,
) -> WhyNot:
    """Forces a movement onto a day, changes as little else as possible, and says what it breaks or costs."""
    asked = setting.requests
    forced = asked.model_copy(
        update={
            "locks": (
                *asked.locks,
                Lock(day=day, part="movement", movement=movement, piece=piece, made_by="question"),
            )
        }
    )
    try:
        made = redraft(setting.asking(forced), week, seed=week.proof.seed, seconds=seconds, progress=progress)
    except NoPlanError as error:
        verdict: Literal["impossible", "undecided"] = "impossible" if error.certain else "undecided"
        return WhyNot(verdict=verdict, clashes=error.clashes, ways_out=error.remedies)
    before = {r.id: r for r in week.rules}
    worse = tuple(
        (r.statement, before[r.id].measure if r.id in before else 0, r.measure)
        for r in made.week.rules
        if r.measure > (before[r.id].measure if r.id in before else 0)
    )
    free = _free(setting.asking(forced, setting.base or plan_of(week)), week.proof.seed, seconds, progress)
    return WhyNot(
        verdict="possible",
        free=free.objective if free else None,
        free_proved=free is not None and free.status == "proved",
        changes=made.changes,
        worse=worse,
        points=made.points_after - made.points_before,
        week=made.week,
    )


def _free(setting: Setting, seed: int, seconds: float, progress: Progress) -> TierProof | None:
    """What the weighted rules cost in a week with it that need not be like any other."""
    from planner.solve.draft import draft_plan

    progress("A week with it that may change all else", 0.5)
    drafted = draft_plan(setting.problem(seed=seed), seconds)
    return next((t for t in drafted.proof.tiers if t.name == RULES_LAYER), None) if drafted.proof else None


def why_not_kept(
    store: Store,
    setting: Setting,
    day: Day,
    movement: str,
    *,
    piece: PieceName | None = None,
    candidate: str | None = None,
    seconds: float = 3.0,
    progress: Progress = quiet,
) -> tuple[Candidate, WhyNot]:
    """The same for a candidate that is kept. The week with the movement is not kept.

    Returns:
        The candidate that was asked about, and the answer.
    """
    here, of = asked_about(store, setting, candidate, on=day)
    never = _never_offered(here, movement, piece)
    if never:
        return of, WhyNot(verdict="impossible", clashes=((never,),))
    return of, why_not(here, of.week, day, movement, piece=piece, seconds=seconds, progress=progress)


def _never_offered(setting: Setting, movement: str, piece: PieceName | None) -> str:
    """Why a movement is never programmed on the gym floor; empty if it can be."""
    m, gym = setting.catalogue.movements[movement], setting.gym
    if any(b.movement == movement and b.day is None for b in setting.requests.bans):
        return f"{m.name} is ruled out this week"
    if m.skill > gym.class_.skill:
        return f"{m.name} asks for skill {m.skill}, and the class has {gym.class_.skill}"
    wanted = {"strength": ("main", "assistance"), "conditioning": ("conditioning",), None: m.roles}[piece]
    roles = [role for role in m.roles if role in wanted]
    if not roles:
        where = f"in the {piece}" if piece else "on the gym floor"
        return f"{m.name} is not programmed {where}; the catalogue has it only as a stand-in"
    stock = Stock(gym, gym.kits[0], setting.catalogue.items)
    ways = ((role, *way) for role in roles for way in _ways(m, role, setting.catalogue))
    lacks = [equipped(m, role, tier, scheme, stock).lacks for role, tier, scheme in ways]
    return lacks[0] if lacks and all(lacks) else ""


def _ways(m: Movement, role: Role, catalogue: Catalogue) -> list[tuple[Tier, Scheme | None]]:
    """How heavy, or by which schemes, a movement is programmed in a piece."""
    if role == "conditioning":
        return [(tier, None) for tier in m.doses]
    return [(s.tier, s) for s in catalogue.schemes.values() if suits(m, s, role)]
