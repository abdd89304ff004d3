"""The views of the rule report and of the proof."""

from __future__ import annotations

from planner.domain.week import RuleResult, Week
from planner.render import notation
from planner.render.contexts import Fact, GaveWay, LayerView, ProofView, ReportView, RuleGroup, RuleView
from planner.render.overruled import overruled

_LEVELS = {"must": "Musts", "weight": "Weighted rules", "watch": "Watched only"}


def report_view(week: Week) -> ReportView:
    """The rule report: rules that gave way first, then every rule."""
    musts = [rule for rule in week.rules if rule.level == "must"]
    weights = [rule for rule in week.rules if rule.level == "weight"]
    holding = sum(1 for rule in musts if not rule.measure)
    kept = sum(1 for rule in weights if not rule.measure)
    all_hold = holding == len(musts)
    return ReportView(
        musts=f"All {notation.count(len(musts), 'must')} hold" if all_hold
        else f"{holding} of {notation.count(len(musts), 'must')} hold",
        musts_hold=all_hold,
        broken=tuple(_gave_way(rule) for rule in musts if rule.measure),
        gave_way=tuple(
            _gave_way(rule)
            for rule in sorted(weights, key=lambda rule: (-rule.cost, rule.id))
            if rule.measure
        ),
        weights=f"{kept} of {notation.count(len(weights), 'weighted rule')} kept in full",
        cost=notation.count(sum(rule.cost for rule in weights), "point"),
        overruled=overruled(week),
        watch=tuple(_gave_way(rule) for rule in week.rules if rule.level == "watch" and rule.measure),
        groups=tuple(
            RuleGroup(name, rules)
            for level, name in _LEVELS.items()
            if (rules := tuple(_rule(rule) for rule in week.rules if rule.level == level))
        ),
    )  # fmt: skip


def _measure(rule: RuleResult) -> str:
    return notation.amount(rule.measure, rule.unit)


def _places(rule: RuleResult) -> tuple[Fact, ...]:
    return tuple(
        Fact(place.place, notation.sentence(place.said), notation.amount(place.measure, rule.unit))
        for place in rule.places
    )


def _gave_way(rule: RuleResult) -> GaveWay:
    return GaveWay(
        anchor=f"rule-{rule.id}",
        statement=notation.sentence(rule.statement),
        places=_places(rule),
        measure=_measure(rule),
        cost=f"{rule.cost:,}",
    )


def _rule(rule: RuleResult) -> RuleView:
    holds = not rule.measure
    verdict = "holds" if holds else f"off by {_measure(rule)}"
    if rule.level == "watch":
        verdict = "nothing to report" if holds else _measure(rule)
    elif any(place.overruled for place in rule.places):
        verdict = "overruled" if holds else f"{verdict}, and overruled"
    facts = [
        Fact("Because", notation.sentence(rule.because)),
        Fact("Source", notation.sentence(rule.source) or "None given."),
        Fact("Measure", f"{_measure(rule)} in {notation.count(rule.checked, 'place')} examined"),
    ]
    if rule.sides:
        counts = ", ".join(f"{side.count} {notation.group(side)}" for side in rule.sides)
        facts.append(Fact("Counted", f"{counts} on the gym floor"))
    if rule.level == "weight":
        facts.append(Fact("Weight", f"{notation.count(rule.weight, 'point')} each; cost {rule.cost:,}"))
    if rule.remedy:
        facts.append(Fact("Remedy", notation.sentence(rule.remedy)))
    facts.append(Fact("In the file", f"{rule.id} ({rule.kind})"))
    return RuleView(
        anchor=f"rule-{rule.id}",
        statement=notation.sentence(rule.statement),
        verdict=verdict,
        holds=holds,
        facts=tuple(facts),
        places=_places(rule),
    )


def proof_view(week: Week) -> ProofView:
    """How good the week is, layer by layer, and how it was found."""
    proof = week.proof
    return ProofView(
        layers=tuple(
            LayerView(
                name=tier.name,
                objective=f"{tier.objective:,}",
                bound=f"{tier.bound:,}",
                gap=f"{100 * tier.gap:.2f} %" if tier.gap else "0 %",
                proved=tier.status == "proved",
                status=tier.status,
                seconds=f"{tier.seconds:.1f}",
            )
            for tier in proof.tiers
        ),
        facts=(
            Fact("Solver", proof.solver),
            Fact("Seed", str(proof.seed)),
            Fact("Seconds in all", f"{proof.seconds:.1f}"),
            Fact("Variables", f"{proof.variables:,}"),
            Fact("Constraints", f"{proof.constraints:,}"),
        ),
    )
