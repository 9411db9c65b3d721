"""One look for every plotted figure: Okabe-Ito styles by CSS variable, line pattern and marker, no plotly template.

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


def axis(title: str, **more: Any) -> dict[str, Any]:
    """A plain axis: ink line, faint grid, ticks outside."""
    return {
        "title": {"text": title, "standoff": 8},
        "linecolor": INK,
        "tickcolor": INK,
        "gridcolor": LINE,
        "zerolinecolor": LINE,
        "ticks": "outside",
        "automargin": True,
        "showline": True,
    } | more


def layout(x: dict[str, Any], y: dict[str, Any], **more: Any) -> dict[str, Any]:
    """A figure's layout: transparent ground, the page's own letters, legend below."""
    return {
        "template": "none",
        "paper_bgcolor": "rgba(0,0,0,0)",
        "plot_bgcolor": "rgba(0,0,0,0)",
        "font": {"family": "system-ui, sans-serif", "size": 14, "color": INK},
        "margin": {"l": 56, "r": 12, "t": 12, "b": 48},
        "legend": {"orientation": "h", "x": 0, "y": -0.22, "yanchor": "top"},
        "hovermode": "x unified",
        "hoverlabel": {"bgcolor": SHEET, "font": {"color": INK}},
        "height": 340,
        "xaxis": x,
        "yaxis": y,
    } | more
