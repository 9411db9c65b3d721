"""Marks of a drawing as plain data, so that one description becomes a still picture or the frames of a moving one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from html import escape


@dataclass(frozen=True, slots=True)
class Mark:
    """One SVG element: `cls` is looked up in the style sheet, `name` tells a moving mark, `ref` a shape it uses."""

    tag: str
    cls: str
    attrs: Mapping[str, str] = field(default_factory=dict)
    text: str = ""
    name: str = ""
    ref: str = ""

    def svg(self, key: str, shape: bool = False) -> str:
        """The element as markup; `key` is the picture's, `shape` gives the element an id for marks that use it."""
        inside = "".join(f' {name}="{escape(value)}"' for name, value in self.attrs.items())
        inside += f' data-part="{escape(self.name)}"' if self.name else ""
        inside += f' id="{escape(key)}-{escape(self.name)}"' if shape else ""
        inside += f' href="#{escape(key)}-{escape(self.ref)}"' if self.ref else ""
        opening = f'<{self.tag} class="{escape(self.cls)}"{inside}' if self.cls else f"<{self.tag}{inside}"
        return f"{opening}>{escape(self.text)}</{self.tag}>" if self.text else f"{opening}/>"


@dataclass(frozen=True, slots=True)
class Drawing:
    """Marks in a window of `width` x `height` units, with a title and a text that says the same in words.

    `shapes` are not drawn themselves: marks use them by name.
    """

    width: float
    height: float
    shapes: Sequence[Mark]
    marks: Sequence[Mark]
    title: str
    words: str
    cls: str = ""

    def svg(self, key: str) -> str:
        """The whole picture; `key` makes the ids of title and description unique on the page."""
        shapes = "".join(shape.svg(key, shape=True) for shape in self.shapes)
        marks = "".join(mark.svg(key) for mark in self.marks)
        return (
            f'<svg class="figure-svg {escape(self.cls)}" viewBox="0 0 {number(self.width)} {number(self.height)}"'
            f' role="img" aria-labelledby="{key}-title {key}-words" focusable="false">'
            f'<title id="{key}-title">{escape(self.title)}</title>'
            f'<desc id="{key}-words">{escape(self.words)}</desc><defs>{shapes}</defs>{marks}</svg>'
        )


def number(value: float) -> str:
    """A coordinate with one decimal (half a millimetre at 200 units a metre), without needless zeros."""
    return f"{value:.1f}".removesuffix(".0").replace("-0.0", "0") if abs(value) >= 0.05 else "0"


def moving_parts(frames: Sequence[Sequence[Mark]]) -> dict[str, dict[str, list[str]]]:
    """What changes between frames: part name -> attribute ("text" for the words) -> its value in every frame.

    Every frame must hold the same parts in the same order.
    """
    moving: dict[str, dict[str, list[str]]] = {}
    for same in zip(*frames, strict=True):
        first = same[0]
        if not first.name:
            continue
        changes = {key: [mark.attrs[key] for mark in same] for key in first.attrs}
        changes["text"] = [mark.text for mark in same]
        kept = {key: values for key, values in changes.items() if len(set(values)) > 1}
        if kept:
            moving[first.name] = kept
    return moving
