"""What one entry's page shows: plans as rows, planned loads with chances, warm-ups, results, body mass and points."""

from __future__ import annotations

from dataclasses import dataclass

from analysis.core.meets import warm_up_ladder
from analysis.core.records.estimates import AttemptPlan, Branch, Finding, WarmUp
from analysis.meets.planning import EntryPlan, opener_words, own_plan
from analysis.meets.results import Points, points_of
from analysis.meets.rules import entrant_of, lifts_of
from analysis.meets.sums import subtotal_of, total_of
from analysis.meets.words import chance_words, lift_words
from athletes.models import MeetEntry
from athletes.models.choices import Lift

NAMES = {
    "main": ("Highest expected best", "for most kilos on average"),
    "safer": ("Safer", "shies from misses"),
    "bolder": ("Bolder", "reaches for the heavy third"),
    "common ratios": ("Common ratios", "the log is thin"),
    "careful": ("Careful", "no maximal attempt"),
    "own": ("As planned", "the loads kept below"),
}
CAREFUL = {
    "under-18": "Under 18: no maximal attempt is suggested, and a guardian and local rules come first.",
    "beginner": "A beginner: no maximal attempt is suggested; a good day has three good lifts.",
    "returning": "Coming back: the estimate rests on sets since the return, and no maximal attempt is suggested.",
    "pain": "Pain is noted: no maximal attempt is suggested. A licensed professional looks before a heavy pull.",
}
OPENER = "its chance comes after the last warm-ups"
COMMON_THIRD = (0.91, 0.96, 1.0)  # shares of the best, the third 100 to 103 %: common practice, no source
FOR_OTHERS = "Ask the coach before any attempt above the planned one: some reasons for less are not shown here."


@dataclass(frozen=True, slots=True)
class Step:
    """One attempt of a plan: its load, its chance given the makes before it, and the load after a miss."""

    load_kg: float
    chance: float
    words: str
    after_miss: str


@dataclass(frozen=True, slots=True)
class PlanRow:
    """One plan as a row."""

    key: str
    name: str
    about: str
    steps: tuple[Step, ...]
    expected_kg: float
    any_words: str
    findings: tuple[Finding, ...]
    third: str = ""


@dataclass(frozen=True, slots=True)
class Done:
    """A lift's attempts as rows."""

    label: str
    attempts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class EntryPage:
    """Everything one entry's page shows."""

    plan: EntryPlan | None
    rows: tuple[PlanRow, ...]
    kept: PlanRow | None
    cautions: tuple[str, ...]
    findings: tuple[Finding, ...]
    opener: Finding | None
    warm_ups: tuple[WarmUp, ...]
    warm_from_kg: float
    lifts: tuple[Done, ...]
    subtotal_kg: float
    total_kg: float
    points: Points | None

    @property
    def shown(self) -> tuple[PlanRow, ...]:
        """The plan to show first: the kept one, else the log's; empty without an estimate."""
        return (self.kept,) if self.kept else self.rows[:1]


def entry_page(entry: MeetEntry, plan: EntryPlan | None, sees_health: bool, sees_mass: bool) -> EntryPage:
    """The page of one entry for a viewer; a rival, or an entry of a meet that is over, has no plan but results."""
    median = plan.day.median_kg if plan and plan.day else None
    rows = tuple(plan_row(one, median) for one in plan.plans) if plan else ()
    loads = planned_loads(entry)
    own = own_plan(plan, loads) if plan else None
    opener = loads[0] if loads else rows[0].steps[0].load_kg if rows else 0.0
    lifts = lifts_of(entry.meet)
    entrant = entrant_of(entry, lifts)
    return EntryPage(
        plan=plan,
        rows=rows,
        kept=plan_row(own, median) if own else None,
        cautions=cautions_of(plan, sees_health) if plan else (),
        findings=shared_findings(plan) if plan else (),
        opener=opener_words(opener, plan) if plan and opener else None,
        warm_ups=warm_up_ladder(opener, plan.settings) if plan and opener else (),
        warm_from_kg=opener,
        lifts=tuple(done_of(entry, lift) for lift in lifts),
        subtotal_kg=subtotal_of(entry, entrant, lifts),
        total_kg=total_of(entry, entrant, lifts),
        points=points_of(entry) if entry.athlete_id and sees_mass else None,
    )


def plan_row(plan: AttemptPlan, median_kg: float | None) -> PlanRow:
    """A plan as a row; `median_kg` is the middle of the day's best as the log has it."""
    name, about = NAMES.get(plan.name, (plan.name, ""))
    steps = tuple(steps_of(plan.root))
    return PlanRow(
        plan.name, name, about, steps, plan.expected_best_kg, chance_words(plan.chance_of_any), plan.findings,
        third_words(plan.name, steps, median_kg),
    )  # fmt: skip


def third_words(name: str, steps: tuple[Step, ...], median_kg: float | None) -> str:
    """Why a planned third lies under the trade's 100 to 103 % of the best; "" where it does not."""
    if median_kg is None or len(steps) < len(COMMON_THIRD) or steps[2].load_kg >= median_kg * COMMON_THIRD[2]:
        return ""
    why = {"careful": "no maximal attempt", "safer": "it shies from misses", "own": "as the coach planned it"}
    return f"Third under the trade’s 100 to 103 %: {why.get(name, 'a lighter third is made more often')}."


def steps_of(branch: Branch | None) -> list[Step]:
    """The attempts of a tree when every one is made."""
    found: list[Step] = []
    while branch is not None:
        missed = branch.if_missed
        after = "" if missed is None else load_after_miss(branch.load_kg, missed)
        words = chance_words(branch.chance) if found else OPENER
        found.append(Step(branch.load_kg, branch.chance, words, after))
        branch = branch.if_made
    return found


def load_after_miss(load_kg: float, then: Branch) -> str:
    """What follows a miss: the same load again or another, with its chance."""
    what = "again" if then.load_kg == load_kg else f"{then.load_kg:g} kg"
    return f"{what}, {chance_words(then.chance)}"


def cautions_of(plan: EntryPlan, sees_health: bool) -> tuple[str, ...]:
    """Why the attempts are careful; who may not see health is told of every lifter that something may be missing."""
    found = tuple(CAREFUL[word] for word in plan.careful)
    return found if sees_health else (*found, FOR_OTHERS)


def shared_findings(plan: EntryPlan) -> tuple[Finding, ...]:
    """What every plan of the entry rests on, each said once."""
    found: dict[str, Finding] = {}
    for finding in (*(f for one in plan.plans for f in one.findings), *plan.findings):
        found.setdefault(finding.code, finding)
    return tuple(found.values())


def planned_loads(entry: MeetEntry) -> list[float]:
    """The three deadlifts as they are planned or lifted, kg; empty until there are three."""
    rows = [row for row in entry.attempts.all() if row.lift == Lift.DEADLIFT and row.number <= 3]
    loads = [row.load_kg for row in sorted(rows, key=lambda r: r.number)]
    return loads if len(loads) == 3 else []


def planned_form_initial(entry: MeetEntry) -> dict[str, str]:
    """The planned loads as they were typed."""
    rows = {row.number: row for row in entry.attempts.all() if row.lift == Lift.DEADLIFT}
    names = ("first", "second", "third")
    found = {name: rows[number].load_typed for number, name in enumerate(names, start=1) if number in rows}
    return found | ({"load_unit": rows[1].load_unit} if 1 in rows else {})


def done_of(entry: MeetEntry, lift: str) -> Done:
    """A lift's attempts in words, those with a result or handed in."""
    rows = [row for row in entry.attempts.all() if row.result or row.declared_at]
    return Done(Lift(lift).label, tuple(lift_words(rows, lift)))
