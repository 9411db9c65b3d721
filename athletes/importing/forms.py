"""Forms of the import: the upload, and how its file is made and read."""

from typing import Any

from django import forms
from django.conf import settings

from athletes.models import Athlete, Club, ImportBatch
from athletes.reader.file import ENCODINGS, SEPARATORS
from athletes.reader.headings import LABELS, PAIRED
from athletes.reader.notes import LONGEST_CELL
from athletes.units.fields import choice_field, row_field

TAB, NOTHING = "tab", "none"
LONG = 120  # letters from where a cell gets a box of several lines


class UploadForm(forms.Form):
    """A file, and whose log it is when the file itself names nobody."""

    file = forms.FileField(
        label="CSV or XLSX file",
        help_text="Any separator, encoding, decimal mark and date order. At most 60 MB and 300,000 lines.",
        allow_empty_file=True,
        widget=forms.FileInput(attrs={"accept": ".csv,.tsv,.txt,.xlsx"}),
    )
    athlete = forms.ModelChoiceField(
        Athlete.objects.none(),
        required=False,
        label="Whose log",
        empty_label="the file names the lifters",
        help_text="Only for a file of one lifter without a name in it.",
    )

    def __init__(self, *args: Any, club: Club, **extra: Any) -> None:
        super().__init__(*args, **extra)
        row_field(self, "athlete").queryset = club.athletes.filter(active=True)

    def clean_file(self) -> object:
        file = self.cleaned_data["file"]
        if file.size > settings.IMPORT_MAX_BYTES:
            raise forms.ValidationError(f"The file is larger than {settings.IMPORT_MAX_BYTES // 2**20} MB. Split it.")
        return file


class MakeForm(forms.Form):
    """How the file is written, as found out; every guess can be changed."""

    encoding = forms.ChoiceField(choices=list(ENCODINGS.items()))
    separator = forms.ChoiceField(
        choices=[({"\t": TAB, "": NOTHING}.get(sep, sep), label) for sep, label in SEPARATORS.items()]
    )
    sheet = forms.ChoiceField(required=False)
    decimal = forms.ChoiceField(
        label="Decimal mark",
        required=False,
        choices=[("", "either, as it comes"), (",", "comma: 182,5"), (".", "point: 182.5")],
    )
    date_order = forms.ChoiceField(
        label="Order of dates", required=False,
        choices=[
            ("", "not known"), ("dmy", "day, month, year"), ("mdy", "month, day, year"), ("ymd", "year, month, day"),
        ],
    )  # fmt: skip

    def __init__(self, data: Any = None, *, batch: ImportBatch, **extra: Any) -> None:
        made = batch.options["format"]
        initial = {
            "encoding": made["encoding"],
            "separator": {"\t": TAB, "": NOTHING}.get(made["separator"], made["separator"]),
            "sheet": batch.options.get("sheet", ""),
            "decimal": batch.options.get("decimal", ""),
            "date_order": batch.options.get("date_order", ""),
        }
        super().__init__(data, initial=initial, **extra)
        sheets = batch.options.get("sheets") or []
        if sheets:
            del self.fields["encoding"], self.fields["separator"]
            choice_field(self, "sheet").choices = [(name, name) for name in sheets]
        else:
            del self.fields["sheet"]

    def clean_separator(self) -> str:
        return {TAB: "\t", NOTHING: ""}.get(self.cleaned_data["separator"], self.cleaned_data["separator"])


class ColumnsForm(forms.Form):
    """What each column holds."""

    def __init__(self, *args: Any, batch: ImportBatch, **extra: Any) -> None:
        super().__init__(*args, **extra)
        headings, mapping = batch.options["headings"], batch.options["mapping"]
        self.width = len(mapping)
        for i, field in enumerate(mapping):
            choices = [("", "left aside"), *((k, v) for k, v in LABELS.items() if k != "aside")]
            own = field if field not in ("aside",) else ""
            if ":" in own:
                kind, _, label = own.partition(":")
                said = {"lift": f"sets of “{label}”", "on": f"sets on {label}"}.get(kind)
                choices.append((own, said or f"{PAIRED.get(kind, kind)} “{label}”"))
            heading = headings[i].strip() if i < len(headings) else ""
            self.fields[f"column-{i}"] = forms.ChoiceField(
                label=heading or f"column {i + 1}", choices=choices, required=False, initial=own
            )

    def mapping(self) -> list[str]:
        """The mapping as chosen."""
        return [self.cleaned_data[f"column-{i}"] for i in range(self.width)]


class FixForm(forms.Form):
    """The cells of one line, to be typed over."""

    def __init__(self, *args: Any, batch: ImportBatch, cells: list[str], **extra: Any) -> None:
        super().__init__(*args, **extra)
        headings, mapping = batch.options["headings"], batch.options["mapping"]
        for i in range(max(len(mapping), len(cells))):
            heading = headings[i].strip() if i < len(headings) else ""
            known = LABELS.get(mapping[i], "") if i < len(mapping) else "beyond the headings"
            label = heading or known or f"column {i + 1}"
            cell = cells[i] if i < len(cells) else ""
            widget = forms.Textarea({"rows": 3}) if "\n" in cell or len(cell) > LONG else forms.TextInput
            self.fields[f"cell-{i}"] = forms.CharField(
                label=label, required=False, max_length=LONGEST_CELL, strip=False, initial=cell, widget=widget
            )

    def cells(self) -> list[str]:
        """The cells as typed, without empty ones at the end."""
        typed = [self.cleaned_data[name].replace("\r\n", "\n") for name in self.fields]
        while typed and not typed[-1].strip():
            typed.pop()
        return typed
