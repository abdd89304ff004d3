"""The view of a week."""

from __future__ import annotations

from datetime import date, timedelta

from planner.domain.catalogue import PATTERNS, DomainName
from planner.domain.gym import DAY_NAMES, DAYS
from planner.domain.week import PIECES_LAYER, Piece, RuleResult, Session, Week
from planner.domain.words import listed, spelt
from planner.render import notation, palette
from planner.render.contexts import (
    Badge,
    BalanceView,
    DomainRow,
    Fact,
    GlanceDay,
    KitChoice,
    LoadCell,
    ModalityShare,
    PairBars,
    PatternRow,
    WeekPage,
)
from planner.render.day_view import day_view, hardness
from planner.render.exercise_plan import exercise_plan
from planner.render.pictures import column, facing, pips, stacked
from planner.render.report_view import proof_view, report_view

_FILLS = {"easy": "open", "medium": "half", "hard": "solid"}
_DOMAINS: tuple[DomainName, ...] = ("short", "medium", "long")
_MODALITY_FILLS = {"loaded": "solid", "bodyweight": "half", "cyclic": "open"}


def week_page(week: Week) -> WeekPage:
    """The contents of the week's file."""
    label = notation.iso_week(week.week)
    sunday = (date.fromisoformat(week.monday) + timedelta(days=6)).isoformat()
    return WeekPage(
        title=f"{week.gym}: {label}",
        gym=week.gym,
        invented=week.invented,
        week=label,
        dates=notation.date_range(week.monday, sunday),
        class_line=f"Classes of {week.class_size}, {week.class_minutes} minutes, "
        f"{week.class_start} ({week.timezone.replace('_', ' ')})",
        badge=_badge(week),
        kits_heading="One session, one way to train it"
        if len(week.kits) == 1
        else f"One session, {spelt(len(week.kits))} ways to train it",
        kits=tuple(
            KitChoice(i, kit.name, notation.sentence(kit.contains)) for i, kit in enumerate(week.kits)
        ),
        athletes=tuple(Fact(athlete.name, notation.sentence(athlete.lifts)) for athlete in week.athletes),
        glance=_glance(week),
        balance=_balance(week),
        days=tuple(day_view(session, week) for session in week.sessions),
        report=report_view(week),
        proof=proof_view(week),
        cautions=tuple(notation.sentence(text) for text in week.cautions),
        digest=week.inputs_digest,
        plan=exercise_plan(week, week.sessions, week.kits[0].id) if week.kits else {},
        light=palette.declarations("light"),
        dark=palette.declarations("dark"),
    )


def _badge(week: Week) -> Badge:
    tiers = week.proof.tiers
    broken = sum(1 for rule in week.rules if rule.level == "must" and rule.measure)
    if broken:
        return Badge(full=False, word="Does not hold", text=f"{notation.count(broken, 'must')} broken")
    proved = sum(1 for tier in tiers if tier.status == "proved")
    overruled_ones = sum(1 for rule in week.rules if any(place.overruled for place in rule.places))
    but = f"; {notation.count(overruled_ones, 'rule')} overruled" if overruled_ones else ""
    if tiers and proved == len(tiers):
        text = f"every must holds, and no week{_among(week)} keeps the rules better{but}"
        return Badge(full=True, word="Proved best", text=text)
    text = f"every must holds; {proved} of {notation.count(len(tiers), 'layer')} proved"
    if tiers:
        least = max(tiers, key=lambda tier: tier.gap)
        saved = notation.count(least.objective - least.bound, "point")
        name = least.name.partition(":")[0].lower()
        text += (
            f"; in the least certain, {name}, another week could save at most {saved} of {least.objective}"
        )
    return Badge(full=False, word="Not proved", text=text + but)


def _among(week: Week) -> str:
    """Under what the proof of a redrafted week holds: among weeks that change no more than it does."""
    pieces = next((tier.objective for tier in week.proof.tiers if tier.name == PIECES_LAYER), None)
    if pieces is None:
        return ""
    return f" that changes at most {notation.count(pieces, 'piece')}" if pieces else " that changes no piece"


def _glance(week: Week) -> tuple[GlanceDay, ...]:
    monday = date.fromisoformat(week.monday)
    held = {session.day: session for session in week.sessions}
    return tuple(
        _glance_day(session)
        if (session := held.get(day))
        else GlanceDay("", DAY_NAMES[day], notation.day_month((monday + timedelta(days=i)).isoformat()))
        for i, day in enumerate(DAYS)
    )


def _glance_day(session: Session) -> GlanceDay:
    strength = _first(session, "strength")
    conditioning = _first(session, "conditioning")
    return GlanceDay(
        anchor=session.day,
        name=DAY_NAMES[session.day],
        date=notation.day_month(session.date),
        title=session.title,
        strength=_main_lift(strength) if strength else "",
        strength_title=notation.times(strength.title) if strength else "",
        beside=_beside(strength) if strength else "",
        conditioning=notation.times(conditioning.title) if conditioning else "",
        moves=_moves(conditioning) if conditioning else (),
        domain=(conditioning.domain or "") if conditioning else "",
        hardness=hardness(session.hardness),
        rating=session.rating,
    )


def _first(session: Session, kind: str) -> Piece | None:
    return next((piece for piece in session.pieces if piece.kind == kind), None)


def _main_lift(piece: Piece) -> str:
    floor = next(iter(piece.versions.values()), None)
    lines = floor.lines if floor else ()
    return next((line.name for line in lines if not line.assistance), lines[0].name if lines else "")


def _beside(piece: Piece) -> str:
    floor = next(iter(piece.versions.values()), None)
    return next((line.name for line in floor.lines if line.assistance), "") if floor else ""


def _moves(piece: Piece) -> tuple[str, ...]:
    """Dose, name and loads of each movement on the gym floor."""
    floor = next(iter(piece.versions.values()), None)
    said = []
    for line in floor.lines if floor else ():
        dose = "" if piece.ladder else f"{line.dose.text.removesuffix(', alternating')} "
        loads = " / ".join(f"{load.kg:g}" for load in line.loads)
        said.append(f"{dose.replace(' reps', '')}{line.name}" + (f", {loads} kg" if loads else ""))
    return tuple(said)


def _balance(week: Week) -> BalanceView:
    held = {session.day: session for session in week.sessions}
    most = max(week.load.daily_au, default=0)
    balance = week.balance
    counts = tuple((name, balance.modality.get(name, 0)) for name in notation.MODALITY_WORDS)
    return BalanceView(
        day_names=tuple((DAY_NAMES[day], DAY_NAMES[day][:3]) for day in DAYS),
        load_cells=tuple(
            LoadCell(
                open=day in held,
                bar=column(au, most, _FILLS[held[day].hardness] if day in held else "open"),
                au=f"{au:,}",
                rating=str(held[day].rating) if day in held else "",
                hardness=held[day].hardness if day in held else "",
            )
            for day, au in zip(DAYS, week.load.daily_au, strict=True)
        ),
        week_au=f"{week.load.week_au:,}",
        patterns=tuple(
            PatternRow(
                notation.PATTERN_WORDS[pattern],
                tuple((n, pips(n)) for n in row),
                sum(1 for n in row if n),
            )
            for pattern in PATTERNS
            for row in [[balance.patterns.get(day, {}).get(pattern, 0) for day in DAYS]]
        ),
        domains=tuple(
            DomainRow(
                name,
                tuple(balance.domains.get(day) == name for day in DAYS),
                sum(1 for found in balance.domains.values() if found == name),
            )
            for name in _DOMAINS
        ),
        pairs=tuple(_pair(rule) for rule in week.rules if rule.sides and not rule.sides[1].whole),
        modality=tuple(ModalityShare(name, n, _MODALITY_FILLS[name]) for name, n in counts),
        modality_bars=stacked([n for _, n in counts], [_MODALITY_FILLS[name] for name, _ in counts]),
        load_facts=_load_facts(week),
    )


def _pair(rule: RuleResult) -> PairBars:
    left, right = rule.sides
    return PairBars(
        anchor=f"rule-{rule.id}",
        left=notation.group(left),
        left_count=left.count,
        right=notation.group(right),
        right_count=right.count,
        bars=facing(left.count, right.count),
    )


def _load_facts(week: Week) -> tuple[Fact, ...]:
    load = week.load
    facts = [
        Fact("Week's load", f"{load.week_au:,}", "rating times minutes, summed"),
        Fact("Monotony", notation.number(load.monotony) if load.monotony is not None else "none",
             "mean day over its standard deviation"),
        Fact("Strain", f"{load.strain:,.0f}" if load.strain is not None else "none", "load times monotony"),
    ]  # fmt: skip
    if load.change_percent is not None:
        sign = "+" if load.change_percent > 0 else "\N{MINUS SIGN}" if load.change_percent < 0 else ""
        facts.append(
            Fact("Against recent weeks", f"{sign}{abs(load.change_percent)} %",
                 f"{listed(f'{au:,}' for au in load.last_weeks_au)}, newest first")
        )  # fmt: skip
    facts.append(
        Fact(
            "Hard minutes",
            str(load.vigorous_minutes),
            "conditioning rated 7 or more; WHO 2020 asks adults for 75 to 150 vigorous",
        )
    )
    facts.append(
        Fact(
            "Other working minutes",
            str(load.moderate_minutes),
            "all the rest of the work; or 150 to 300 moderate, or a mix",
        )
    )
    return tuple(facts)
