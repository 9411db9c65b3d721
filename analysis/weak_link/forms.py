"""What a coach may ask of the search for misses."""

from __future__ import annotations

from datetime import date

from django import forms

from athletes.models.choices import GaveWay, MissPosition, Style


class MissSearchForm(forms.Form):
    """Find misses: where, what gave way, style, from which share of the best, since when."""

    position = forms.ChoiceField(label="Where", required=False, choices=[("", "anywhere"), *MissPosition.choices])
    gave_way = forms.ChoiceField(label="What gave way", required=False, choices=[("", "anything"), *GaveWay.choices])
    style = forms.ChoiceField(label="Style", required=False, choices=[("", "any"), *Style.choices])
    share = forms.IntegerField(
        label="From this % of the best",
        required=False,
        min_value=0,
        max_value=120,
        help_text="Percent of the heaviest pull made in that style before the day.",
    )
    since = forms.DateField(label="Since", required=False, widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"))

    def since_or_new_year(self, today: date) -> date:
        """The first day searched: as asked, else the first of January of this year."""
        asked = self.cleaned_data.get("since") if self.is_bound and self.is_valid() else None
        return asked or date(today.year, 1, 1)
