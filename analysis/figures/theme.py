"""One look for every plotted figure: Okabe-Ito styles by CSS variable, line pattern and marker, one template.

Colours are written as CSS variables; the page's script fills them in, so light, dark and print follow the style sheet.
"""

from __future__ import annotations

from typing import Any

INK, SOFT, LINE, SHEET = "var(--ink)", "var(--ink-soft)", "var(--line)", "var(--sheet)"
FALLBACK = "conventional"
STYLE_DASH = {"conventional": "solid", "sumo": "8px,4px", "wide-sumo": "2px,4px", "rounded": "8px,4px,2px,4px"}
STYLE_MARKER = {"conventional": "circle", "sumo": "square", "wide-sumo": "diamond", "rounded": "triangle-up"}


def style_colour(style: str) -> str:
    """The CSS variable of a style's colour; ink for anything that is not a style."""
    return f"var(--{style})" if style in STYLE_DASH else INK


def style_line(style: str, width: float = 2.5) -> dict[str, Any]:
    """Line of a style: colour and pattern."""
    return {"color": style_colour(style), "dash": STYLE_DASH.get(style, "solid"), "width": width}


def tint(style: str) -> str:
    """A style's colour thinned for the ground of a range; the page's script works it out."""
    return f"var(--{style if style in STYLE_DASH else 'ink-soft'}-tint)"


AXIS: dict[str, Any] = {
    "linecolor": INK,
    "tickcolor": INK,
    "gridcolor": LINE,
    "zerolinecolor": LINE,
    "ticks": "outside",
    "automargin": True,
    "showline": True,
    "title": {"standoff": 8},
}
TEMPLATE: dict[str, Any] = {
    "layout": {
        "paper_bgcolor": "rgba(0,0,0,0)",
        "plot_bgcolor": "rgba(0,0,0,0)",
        "font": {"family": "system-ui, sans-serif", "size": 14, "color": INK},
        "margin": {"l": 56, "r": 12, "t": 12, "b": 48},
        "hovermode": "x unified",
        "hoverlabel": {"bgcolor": SHEET, "font": {"color": INK}},
        "xaxis": AXIS,
        "yaxis": AXIS,
        "annotationdefaults": {"showarrow": False, "font": {"size": 13}},
    }
}


def axis(title: str, **more: Any) -> dict[str, Any]:
    """An axis of the template with its title and what else it needs."""
    return {"title": {"text": title}} | more


def layout(x: dict[str, Any], y: dict[str, Any], **more: Any) -> dict[str, Any]:
    """A figure's layout: the one template, legend below, a height that the page reserves (`plots.css`)."""
    return {
        "template": TEMPLATE,
        "legend": {"orientation": "h", "x": 0, "y": -0.22, "yanchor": "top"},
        "height": 340,
        "xaxis": x,
        "yaxis": y,
    } | more
