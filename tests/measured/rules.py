"""Every kind of rule, measured by place: ``{"mon": 2}``; places without a breach may be left out."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from itertools import combinations
from math import ceil, floor

from tests.measured.data import DAYS, PATTERNS, Data, Tree
from tests.measured.selecting import about_sessions, has_share, listed, means, patterns_named, there
from tests.measured.week import Day, Earlier, Line, round_tenths, turn_lines, window

Places = dict[str, int]
KINDS = ("limit", "spacing", "together", "share", "rotate", "sequence", "capacity", "fit", "due", "queue")
Week = list[Day]


def measure(rule: Tree, data: Data, week: Week, past: list[Earlier], *, on_floor: bool) -> Places:
    """A rule's breaches in one kit version, by place."""
    kind = rule["kind"]
    if kind == "limit":
        found = limit(rule, data, week, on_floor=on_floor)
    elif kind == "spacing":
        found = spacing(rule, week, past)
    elif kind == "rotate":
        found = rotate(rule, week, [p for p in past if p.weeks_ago <= rule.get("weeks", 1)])
    elif kind == "capacity":
        found = capacity(rule, data, week)
    elif kind == "due":
        found = due(rule, data, week, past)
    elif kind == "queue":
        found = queue(rule, data, week, on_floor=on_floor)
    elif kind == "fit":
        found = fit(rule, data, week, on_floor=on_floor)
    else:
        found = {"together": together, "share": share, "sequence": sequence}[kind](rule, week)
    return {place: n for place, n in found.items() if n > 0}


def limit(rule: Tree, data: Data, week: Week, *, on_floor: bool) -> Places:
    """A count with a floor, a ceiling, or both."""
    where, per, n = rule["where"], rule.get("per", "day"), rule.get("span_days", 0)
    if per == "day":
        spans = {d.name: [d] for d in week}
    elif per == "week":
        spans = {"week": week}
    else:
        starts = range(8 - n)
        spans = {
            f"{DAYS[i]}-{DAYS[i + n - 1]}": [d for d in week if i <= d.index <= i + n - 1] for i in starts
        }
    each = rule.get("each", "")
    tags = {"pattern": patterns_named(where) or list(PATTERNS), "": [""]}.get(each)
    if tags is None:
        tags = sorted({x.movement["id"] for d in week for x in d.lines})
    out = {}
    for span, days in spans.items():
        for tag in tags:
            total = sum(counted(rule, data, d, tag, on_floor=on_floor) for d in days)
            most, least = rule.get("at_most"), rule.get("at_least")
            over = total - most if most is not None else 0
            under = least - total if least is not None else 0
            out[f"{span}: {tag}" if tag else span] = max(over, under)
    return out


def counted(rule: Tree, data: Data, day: Day, tag: str, *, on_floor: bool) -> int:
    """What a limit counts on one day, of one pattern or movement where each counts on its own."""
    where, what, each = rule["where"], rule.get("count", "lines"), rule.get("each", "")
    if about_sessions(where):
        return int(there(where, day))
    lines = [x for x in day.lines if means(where, x)]
    if each == "pattern":
        lines = [x for x in lines if has_share(x, tag, where)]
    if each == "movement":
        lines = [x for x in lines if x.movement["id"] == tag]
    amounts = {
        "days": lambda: min(1, len(lines)),
        "lines": lambda: len(lines),
        "units": lambda: sum(x.units for x in lines),
        "contacts": lambda: sum(x.units * (x.movement.get("takes") or {}).get("contacts", 0) for x in lines),
        "sets": lambda: sum(x.scheme["sets"] for x in lines if x.scheme),
        "implements": lambda: len({load_of(data, x, on_floor=on_floor) for x in lines} - {("", 0)}),
        "large": lambda: len({i for x in lines for i in x.needs if data.items[i].get("large")}),
    }
    return amounts[what]()


def spacing(rule: Tree, week: Week, past: list[Earlier]) -> Places:
    """Hours between days of the same work, from weeks before on."""
    where, hours = rule["where"], rule["hours"]
    tags = (patterns_named(where) or list(PATTERNS)) if rule.get("each") else [""]
    out: Counter[str] = Counter()
    for tag in tags:
        suffix = f": {tag}" if tag else ""

        def exposed(lines: list[Line], tag: str = tag) -> bool:
            return any(means(where, x) and (not tag or has_share(x, tag, where)) for x in lines)

        days = [d for d in week if exposed(d.lines)]
        for first, second in combinations(days, 2):
            short = hours - 24 * (second.index - first.index)
            out[f"{first.name}-{second.name}{suffix}"] += max(0, short)
        for before in past:
            if exposed(before.lines):
                for d in days:
                    out[d.name + suffix] += max(0, hours - 24 * (d.index + before.days_ago))
    return dict(out)


def together(rule: Tree, week: Week) -> Places:
    """What excludes another on the same day, or asks for it."""
    never, needs = rule.get("never"), rule.get("needs")
    other = never or needs or {}
    out = {}
    for d in week:
        for tag in PATTERNS if rule.get("each") else ("",):
            here, met = (_there(w, d, tag) for w in (rule["with"], other))
            out[f"{d.name}: {tag}" if tag else d.name] = int(here and (met if never else not met))
    return out


def _there(where: Tree, day: Day, tag: str) -> bool:
    if not tag or about_sessions(where):
        return there(where, day)
    return any(means(where, x) and has_share(x, tag, where) for x in day.lines)


def share(rule: Tree, week: Week) -> Places:
    """One group of lines against another over the week."""
    lines = [x for d in week for x in d.lines]
    a, b = (sum(means(rule[k], x) for x in lines) for k in ("of", "to"))
    if rule.get("percent"):
        low, high = rule["percent"]
        return {"week": max(0, ceil(a - Fraction(high * b, 100)), ceil(Fraction(low * b, 100) - a))}
    return {"week": max(a - b, b - a) - rule["within"]}


def sequence(rule: Tree, week: Week) -> Places:
    """Runs of calendar days that must not be; a property that must change from day to day."""
    by_index, out = {d.index: d for d in week}, {}
    never = rule.get("never") or []
    for i in range(7):
        n = len(never) or 2
        run = [by_index.get(i + k) for k in range(n)]
        days = [d for d in run if d is not None]
        if len(days) < n:
            continue
        if never:
            wrong = all(there(w, d) for w, d in zip(never, days, strict=True))
        else:
            wrong = days[0].shape[rule["differ"]] == days[1].shape[rule["differ"]]
        out[f"{days[0].name}-{days[-1].name}"] = int(wrong)
    return out


def rotate(rule: Tree, week: Week, past: list[Earlier]) -> Places:
    """What was there in the last weeks and comes again."""
    what, where = rule["what"], rule.get("where") or {}
    if not past:
        return {}
    if what == "week_load":
        by_week: Counter[int] = Counter()
        for p in past:
            by_week[p.weeks_ago] += p.rating
        mean, within = Fraction(sum(by_week.values()), len(by_week)), rule.get("within_percent", 15)
        now = sum(d.rating for d in week)
        low, high = floor(mean * (100 - within) / 100), ceil(mean * (100 + within) / 100)
        return {"week": max(now - high, low - now)}
    return {d.name: _repeats(what, where, d, past) for d in week}


def _repeats(what: str, where: Tree, day: Day, past: list[Earlier]) -> int:
    if what == "weekday_format":
        mine = (day.shape["format"], day.shape["domain"])
        return int(any((p.days_ago + day.index) % 7 == 0 and (p.format, p.domain) == mine for p in past))
    lines = [x for x in day.lines if means(where, x)]
    if what == "movement":
        before = {x.movement["id"] for p in past for x in p.lines if means(where, x)}
        return sum(x.movement["id"] in before for x in lines)
    if what == "lift_and_scheme":
        used = {(x.movement["id"], p.scheme) for p in past for x in p.lines if x.piece == "main"}
        mains = [x for x in lines if x.piece == "main" and x.scheme]
        return sum((x.movement["id"], x.scheme["id"]) in used for x in mains if x.scheme)
    met = {
        pair
        for p in past
        for pair in combinations(sorted({x.movement["id"] for x in p.lines if x.piece == "conditioning"}), 2)
    }
    mine = sorted({x.movement["id"] for x in lines if x.piece == "conditioning"})
    return sum(pair in met for pair in combinations(mine, 2))


def due(rule: Tree, data: Data, week: Week, past: list[Earlier]) -> Places:
    """Weeks on record without something, this one included, beyond half of those in which it has to come."""
    where, weeks, by_day = rule["where"], rule.get("weeks", 4), data.class_.get("by_day") or {}
    size = {d.name: by_day.get(d.name, data.class_["size"]) for d in week}
    days = [d for d in week if rule.get("on") != "fullest" or size[d.name] == max(size.values())]
    if any(there(where, d) for d in days):
        return {}
    without = 1
    for ago in range(1, weeks):
        then = [p for p in past if p.weeks_ago == ago]
        if any(was_there(where, p) for p in then):
            break
        without += 1 if then else 0
    return {"week": without - weeks // 2}


def was_there(where: Tree, before: Earlier) -> bool:
    """Whether an earlier session had it."""
    if about_sessions(where):
        asked = (("format", before.format), ("domain", before.domain))
        return all(not where.get(key) or was in listed(where[key]) for key, was in asked)
    return any(means(where, x) for x in before.lines)


def fit(rule: Tree, data: Data, week: Week, *, on_floor: bool) -> Places:
    """Minutes on the class clock, or the time of a round."""
    out, whole = {}, data.class_["minutes"]
    for d in week:
        if rule["what"] == "clock":
            out[d.name] = d.minutes - whole
        elif rule["what"] == "use":
            at_work = d.minutes - d.shape["cap_minutes"] + d.shape["cap_minutes"] // d.shape["heats"]
            out[d.name] = whole - at_work - floor(Fraction(whole * rule.get("spare_percent", 0), 100))
        else:
            low, high = window(d.shape, floor=on_floor)
            taken = round_tenths(d)
            out[d.name] = ceil(Fraction(max(0, taken - high, low - taken), 10))
    return out


def capacity(rule: Tree, data: Data, week: Week) -> Places:
    """Equipment for the class, in turns, heats or stations."""
    out, size = {}, data.class_["size"]
    for d in week:
        for x in d.lines:
            if (x.piece == "conditioning") != (rule["piece"] == "conditioning"):
                continue
            for item in x.needs:
                asked = not rule.get("item") or item in listed(rule["item"])
                if data.items[item].get("space") or not asked:
                    continue
                have = near_at_hand(data, x) if item == implement(data, x) else data.count(item)
                if rule["piece"] == "strength":
                    wanted = ceil(Fraction(size, rule.get("sharing", 1)))
                else:
                    spread = d.shape["movements"] if d.shape["stations"] else 1
                    people = d.shape["people"] if d.shape.get("sharing") == "in_turn" else 1
                    wanted = ceil(Fraction(size, d.shape["heats"] * people * spread))
                out[f"{d.name}: {item}, {have} at hand"] = wanted - have
    return out


def queue(rule: Tree, data: Data, week: Week, *, on_floor: bool) -> Places:
    """Seconds of a round for which items are asked for beyond their share of a turn; bars apart."""
    out: Places = {}
    for d in week if on_floor else ():
        if d.shape.get("station_s"):
            continue
        people = ceil(Fraction(data.class_["size"], d.shape["heats"]))
        if d.shape.get("sharing") == "in_turn":
            people = ceil(Fraction(people, d.shape["people"]))
        half = ceil(Fraction(people, 2))
        turn = [x for x in d.lines if x.piece == "conditioning" and spot_of(x) not in {"opening", "closing"}]
        passes = d.shape.get("laps") or len(d.shape["ladder"]) or 1
        whole = sum(x.tenths for x in turn)
        whole += 50 * passes * turn_lines(d.shape) * (1 + (d.shape.get("after_each") or 0))
        asked: Counter[tuple[str, float | None]] = Counter()
        groups: dict[tuple[str, float | None], set[int]] = {}
        for x in turn:
            man, woman = takes(data, x)
            for held in {*man, *woman}:
                asked[held] += x.tenths * (people if held in man and held in woman else half)
                groups.setdefault(held, set()).update(g for g, own in enumerate((man, woman)) if held in own)
        for held, tenths in asked.items():
            item, kg = held
            count = data.masses(item).get(kg, 0) if kg is not None else data.count(item)
            users = people if len(groups[held]) > 1 else half
            asked_for = not rule.get("item") or item in listed(rule["item"])
            if data.items[item].get("space") or not asked_for or not users > count > 0:
                continue
            over = Fraction(tenths, count) - Fraction(rule.get("share_percent", 70) * whole, 100)
            mass = f" of {kg:g} kg" if kg is not None else ""
            out[f"{d.name}: {item.replace('_', ' ')}{mass}"] = ceil(over / 10)
    return out


def spot_of(line: Line) -> str:
    """Where in its piece a line comes."""
    return str(line.printed.get("spot", "turn"))


def takes(data: Data, line: Line) -> tuple[tuple[tuple[str, float | None], ...], ...]:
    """What a man and a woman take for a line by itself: the mass that is nearest to the usual one."""
    bar = "barbell" in line.needs
    own = [i for i in line.needs if not bar or i not in {"barbell", "plate"}]
    lifted = "" if bar else implement(data, line)
    usual = (line.movement.get("kg") or {}).get(line.tier)
    masses = data.masses(lifted)

    def mass(group: int) -> float | None:
        if not masses:
            return None
        if not usual:
            return float(line.printed["loads"][group]["kg"])
        return min((kg for kg, n in masses.items() if n), key=lambda kg: (abs(kg - usual[group]), kg))

    return tuple(tuple((i, mass(g) if i == lifted else None) for i in own) for g in (0, 1))


def implement(data: Data, line: Line) -> str:
    """The load in the hands, if the movement is done with one."""
    if line.movement["modality"] != "loaded":
        return ""
    return next((i for i in line.needs if data.items[i].get("loaded")), "")


CLASSES_FROM_KG = (9, 14, 20, 28, 50, 72, 100)
PERCENT = {"open": 57, "light": 57, "moderate": 67, "heavy": 80}
OF_A_DEADLIFT = {"open": 45, "light": 45, "moderate": 57, "heavy": 70}
ANOTHER_LIFT = {
    "front_squat": ("back_squat", 85), "deadlift": ("back_squat", 115), "clean_and_jerk": ("back_squat", 77),
    "snatch": ("clean_and_jerk", 80), "strict_press": ("clean_and_jerk", 60),
    "bench_press": ("back_squat", 75), "back_squat": ("front_squat", 118),
}  # fmt: skip


def load_of(data: Data, line: Line, *, on_floor: bool) -> tuple[str, int]:
    """The implement, and on the gym floor in conditioning which load: by what the man is asked for."""
    item = implement(data, line)
    if not item or not on_floor or line.piece != "conditioning":
        return item, 0
    m, order = line.movement, ("light", "moderate", "heavy")
    by_lift, by_mass = None, None
    if m.get("lift"):
        lift, share, seen = m["lift"]["of"], Fraction(m["lift"]["percent"], 100), set[str]()
        lifts = data.gym["athletes"][0]["lifts"]
        while lift not in lifts and lift not in seen:
            seen.add(lift)
            lift, percent = ANOTHER_LIFT[lift]
            share *= Fraction(percent, 100)
        tiers = OF_A_DEADLIFT if m["lift"]["of"] == "deadlift" else PERCENT
        by_lift = Fraction(str(lifts[lift])) * share * tiers[line.tier] / 100 if lift in lifts else None
    known = [t for t in order if t in (m.get("kg") or {})]
    if known:
        at = order.index(line.tier) if line.tier in order else 0
        nearest = min(known, key=lambda t: (abs(order.index(t) - at), order.index(t)))
        by_mass = Fraction(str(m["kg"][nearest][0]))
    first, second = (by_lift, by_mass) if item == "barbell" else (by_mass, by_lift)
    wanted = first if first is not None else second
    return item, 0 if wanted is None else 1 + sum(wanted >= kg for kg in CLASSES_FROM_KG)


def near_at_hand(data: Data, line: Line) -> int:
    """How many there are from 60 % of the women's usual mass to 125 % of the men's."""
    item = implement(data, line)
    masses, usual = data.masses(item), (line.movement.get("kg") or {}).get(line.tier)
    if not masses or not usual:
        return data.count(item)
    men, women = (Fraction(str(kg)) for kg in usual)
    low, high = women * 60 / 100, men * 125 / 100
    return sum(n for kg, n in masses.items() if low <= Fraction(str(kg)) <= high)
