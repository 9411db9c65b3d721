"""Finding people, and who an athlete is."""

from datetime import date
from typing import Any

from django import forms
from django.db.models import Exists, OuterRef, Q, QuerySet
from django.utils import timezone

from athletes.access.permissions import DECIDERS, WORKERS, clubs_where
from athletes.measuring.stale import is_minor
from athletes.models import Athlete, Club, Membership, User
from athletes.models.choices import Role, Standing
from athletes.schema.names import name_key
from athletes.units.fields import row_field

OLDEST = 110
YOUNGEST = 8


def coaches_of(clubs: list[int]) -> QuerySet[User]:
    """Owners and coaches of the clubs."""
    works = Membership.objects.filter(user=OuterRef("pk"), club__in=clubs, role__in=[Role.OWNER, Role.COACH])
    return User.objects.filter(Exists(works)).order_by("first_name", "last_name", "pk")


class PeopleFilter(forms.Form):
    """Search by name and by what everybody in the room may know; wrong values are ignored, never an error."""

    q = forms.CharField(label="Name", required=False, max_length=80)
    standing = forms.ChoiceField(label="Standing", required=False, choices=[("", "any"), *Standing.choices])
    coach = forms.ModelChoiceField(label="Coach", required=False, queryset=User.objects.none(), empty_label="any")
    active = forms.ChoiceField(
        label="Training", required=False, choices=[("", "active"), ("no", "not active"), ("all", "all")]
    )

    def __init__(self, data: Any, clubs: list[int]) -> None:
        super().__init__(data)
        row_field(self, "coach").queryset = coaches_of(clubs)
        self.full_clean()

    def narrow(self, athletes: QuerySet[Athlete], today: date) -> QuerySet[Athlete]:
        found = getattr(self, "cleaned_data", {})
        if found.get("q"):
            athletes = athletes.filter(name_key__contains=name_key(found["q"]))
        if found.get("coach"):
            athletes = athletes.filter(coach=found["coach"])
        if found.get("active", "") != "all":
            athletes = athletes.filter(active=found.get("active") != "no")
        if found.get("standing"):
            athletes = athletes.filter(standing_is(found["standing"], today))
        return athletes


def standing_is(standing: str, today: date) -> Q:
    """Rows whose standing today, by birth date first, is the one asked for."""
    grown = born_before(today)
    young = Q(born__gt=grown) | Q(born__isnull=True, standing=Standing.UNDER_18)
    if standing == Standing.UNDER_18:
        return young
    of_age = Q(standing=standing)
    if standing == Standing.BEGINNER:
        of_age |= Q(standing=Standing.UNDER_18)
    return of_age & ~young


def born_before(today: date) -> date:
    """The last birthday of somebody who is 18 today."""
    return today.replace(year=today.year - 18, day=28 if (today.month, today.day) == (2, 29) else today.day)


class AthleteForm(forms.ModelForm):
    """Who an athlete is; standing, coach and whether the athlete sees their body mass are the coach's to set."""

    same_name = forms.BooleanField(label="Yes, another person with the same name", required=False)

    class Meta:
        model = Athlete
        fields = [
            "club", "name", "pronoun", "born", "sex", "standing", "coach", "weight_unit", "hide_mass_from_athlete",
            "active",
        ]  # fmt: skip
        labels = {
            "pronoun": "How pages speak of the lifter",
            "born": "Birth date",
            "sex": "Reference tables",
            "weight_unit": "Loads usually typed in",
            "hide_mass_from_athlete": "The athlete asked not to see their own body mass",
            "active": "Training here now",
        }
        help_texts = {
            "pronoun": "In sentences to others; the lifter reads “you”.",
            "born": "Under 18 follows from it: other advice, and measurements that go stale after three months.",
            "sex": "Which published body tables fill the lengths that were not measured.",
            "standing": "The coach's word. Under 18 is set by the birth date.",
        }
        widgets = {"born": forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")}

    def __init__(self, user: User, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["name"].widget.attrs["autocomplete"] = "off"
        self.fields["pronoun"].required = False
        self.offer_clubs(user)
        if self.instance.born_year_only and self.instance.born:
            self.fields[
                "born"
            ].help_text = f"Only the year {self.instance.born.year} is known; its last day stands here."
        decides = clubs_where(user, DECIDERS)
        if self.instance.pk is None and not decides:
            for name in ("standing", "coach", "hide_mass_from_athlete"):
                del self.fields[name]
        else:
            row_field(self, "coach").queryset = coaches_of([self.instance.club_id] if self.instance.pk else decides)
            self.fields["coach"].required = False
        if not self.needs_same_name():
            del self.fields["same_name"]

    def offer_clubs(self, user: User) -> None:
        clubs = clubs_where(user, WORKERS)
        row_field(self, "club").queryset = Club.objects.filter(pk__in=clubs)
        if self.instance.pk or len(clubs) == 1:
            del self.fields["club"]
            if not self.instance.pk:
                self.instance.club_id = clubs[0]

    def needs_same_name(self) -> bool:
        """Whether the box that confirms a second person of one name has to stand in the form."""
        return bool(self.data) and self.namesake(str(self.data.get("name", "")), self.data.get("club")) is not None

    def namesake(self, name: str, club: object) -> Athlete | None:
        number = str(club or self.instance.club_id or "")
        if not number.isdecimal() or len(number) > 15:
            return None
        found = Athlete.objects.filter(club_id=int(number), name_key=name_key(name)).exclude(pk=self.instance.pk)
        return found.first() if name_key(name) else None

    def clean_pronoun(self) -> str:
        """What is set; nothing chosen leaves it as it is."""
        return self.cleaned_data["pronoun"] or self.instance.pronoun

    def save(self, commit: bool = True) -> Athlete:
        """The athlete; a birth date that was typed is a whole one, the last day of a known year is not."""
        if "born" in self.changed_data:
            self.instance.born_year_only = False
        return super().save(commit)

    def clean_name(self) -> str:
        name = " ".join(self.cleaned_data["name"].split())
        if not any(c.isalpha() for c in name):
            raise forms.ValidationError(f"“{name}” has no letter in it; write the athlete's name.")
        return name

    def clean_born(self) -> date | None:
        born, today = self.cleaned_data["born"], timezone.localdate()
        if born is None:
            return None
        age = Athlete(born=born).age_on(today) or 0
        if born > today or age < YOUNGEST or age > OLDEST:
            raise forms.ValidationError(
                f"Born on {born:%d} {born:%B} {born.year} the athlete would be {age} years old; check the year."
                if born <= today
                else f"{born:%d} {born:%B} {born.year} lies ahead; check the year."
            )
        return born

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        self.check_standing(data)
        self.check_namesake(data)
        self.check_coach(data)
        return data

    def check_standing(self, data: dict[str, Any]) -> None:
        born = data.get("born")
        grown = born is not None and not is_minor(Athlete(born=born), timezone.localdate())
        if grown and data.get("standing") == Standing.UNDER_18:
            age = Athlete(born=born).age_on(timezone.localdate())
            self.add_error("standing", f"“Under 18” contradicts the birth date: the athlete is {age}.")

    def check_namesake(self, data: dict[str, Any]) -> None:
        if data.get("name") and "same_name" in self.fields and not data.get("same_name"):
            self.add_error(
                "name",
                f"There is a {data['name']} in this club already. If this is another person, tick the box below.",
            )

    def check_coach(self, data: dict[str, Any]) -> None:
        club, coach = data.get("club") or getattr(self.instance, "club_id", None), data.get("coach")
        if (
            coach
            and club
            and not Membership.objects.filter(club=club, user=coach, role__in=[Role.OWNER, Role.COACH]).exists()
        ):
            self.add_error("coach", f"{coach} does not coach in that club.")
