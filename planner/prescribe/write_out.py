"""Assembles the whole week: the last step before it is audited and drawn."""

from __future__ import annotations

from datetime import timedelta

from planner.domain.at_hand import EVERYTHING
from planner.domain.catalogue import REFERENCE_LIFTS, Catalogue
from planner.domain.gym import DAYS, Athlete, Gym, Kit
from planner.domain.iso_week import monday_of
from planner.domain.line import BARBELL
from planner.domain.plan import Plan
from planner.domain.week import AthleteText, KitText, Proof, RuleResult, Week
from planner.domain.words import listed
from planner.prescribe import sentences
from planner.prescribe.balance import balance
from planner.prescribe.session import Writer, write_session
from planner.prescribe.week_load import week_load

WEEK_CAUTIONS = (sentences.RHABDOMYOLYSIS, sentences.UNWELL)


def write_out(
    plan: Plan,
    catalogue: Catalogue,
    gym: Gym,
    *,
    rules: tuple[RuleResult, ...],
    proof: Proof,
    history: tuple[Week, ...],
    inputs_digest: str,
    program: str = "",
    basis_digest: str = "",
) -> Week:
    """A plan as a week that stands on its own.

    Args:
        plan: what was decided, ids only.
        catalogue: what the ids mean.
        gym: kits, class, athletes, equipment.
        rules: as audited.
        proof: how good the plan is.
        history: weeks before, in any order.
        inputs_digest: of everything the week came from.
        program: version of the program.
        basis_digest: of catalogue, gym, rules and history.

    Raises:
        SolverFault: the plan names something that the catalogue or a kit does not have.
    """
    monday = monday_of(plan.week)
    weeks = monday.toordinal() // 7
    writer = Writer(catalogue, gym)
    sessions = tuple(
        write_session(
            session,
            (monday + timedelta(days=DAYS.index(session.day))).isoformat(),
            weeks * len(gym.days) + index,
            writer,
        )
        for index, session in enumerate(plan.sessions)
    )
    return Week(
        week=plan.week,
        monday=monday.isoformat(),
        gym=gym.name,
        invented=gym.invented,
        class_size=gym.class_.size,
        class_minutes=gym.class_.minutes,
        timezone=gym.timezone,
        class_start=gym.class_.start,
        kits=tuple(_kit_text(kit, catalogue) for kit in gym.kits),
        athletes=tuple(_athlete_text(athlete) for athlete in gym.athletes),
        sessions=sessions,
        balance=balance(sessions),
        load=week_load(plan.week, sessions, history),
        rules=rules,
        proof=proof,
        cautions=WEEK_CAUTIONS,
        inputs_digest=inputs_digest,
        program=program,
        basis_digest=basis_digest,
    )


def _kit_text(kit: Kit, catalogue: Catalogue) -> KitText:
    """A kit version in words, with what is taken for granted about it."""
    if kit.contains == EVERYTHING:
        return KitText(id=kit.id, name=kit.name, contains="everything the gym has")
    if not kit.contains:
        return KitText(id=kit.id, name=kit.name, contains="nothing: body weight only")
    parts = []
    for item in kit.contains:
        name = catalogue.items[item].name if item in catalogue.items else item
        mass = kit.kg.get(item)
        parts.append(
            f"{name} ({sentences.kg_text(mass[0])} kg / {sentences.kg_text(mass[1])} kg)" if mass else name
        )
    text = listed(parts)
    if BARBELL in kit.contains:
        text += "; the bar and plates are taken to be like the gym's"
    return KitText(id=kit.id, name=kit.name, contains=text)


def _athlete_text(athlete: Athlete) -> AthleteText:
    known = [lift for lift in REFERENCE_LIFTS if lift in athlete.lifts]
    lifts = [f"{lift.replace('_', ' ')} {sentences.kg_text(athlete.lifts[lift])} kg" for lift in known]
    text = f"{', '.join(lifts)}; {sentences.kg_text(athlete.bar_kg)} kg bar"
    return AthleteText(id=athlete.id, name=athlete.name, lifts=text)
