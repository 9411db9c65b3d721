"""English templates of the leverage pages: headings of at most 12 words, grounds of at most 22, captions of at most 15.

A code that ends in "-own" is the same fact told to the athlete.
"""

from __future__ import annotations

TEXTS: dict[str, str] = {
    "leverages-pull-hips": "{style} at {stance}: pull {pull} {pull_way}, hips {hips} {hips_way}",
    "leverages-pull-unsure": "{style} at {stance}: pull {pull} {pull_way}, hips unclear",
    "leverages-pull": "{style} at {stance}: pull {pull} {pull_way}, hips about the same",
    "leverages-hips": "{style} at {stance}: hips start {hips} {hips_way} to the bar",
    "leverages-open": "How {name} stands decides: measure stance and toes",
    "leverages-open-own": "How you stand decides: measure stance and toes",
    "leverages-same": "{style} at {stance}: hips and pull about the same",
    "leverages-habits": "Drawn as people of this build stand; own stance and toes narrow it most.",
    "leverages-tape": "Stance and toes as taped. Lift-off stills narrow it most.",
    "leverages-stills": "Stance, toes and start as filmed.",
    "leverages-typed": "As moved: stance {stance}, toes {turnout}, hands {hands}.",
    "leverages-one": "Only {style} is drawn: {stance} is as wide as {name} stands in comfort",
    "leverages-one-own": "Only {style} is drawn: {stance} is as wide as you stand in comfort",
    "leverages-price-both": "legs work {legs} times as hard, back {back} less (on paper)",
    "leverages-price-legs": "legs work {legs} times as hard",
    "leverages-price-back": "the back works {back} less (on paper)",
    "leverages-price-open": "no clear change of work",
    "leverages-curve-all": "{style} keeps the hips closer all the way.",
    "leverages-curve-past-knee": "{style} keeps the hips closer until the bar passes the knee.",
    "leverages-curve-to-knee": "{style} keeps the hips closer below the knee only.",
    "leverages-curve-some": "{style} brings the hips closer only later in the pull.",
    "leverages-curve-never": "{style} keeps the hips no closer at any height.",
}

BUILD: dict[str, str] = {  # the measuring sheet: what the lengths say, what comes next
    "build-arms-long": "Long arms for {stature}",
    "build-arms-short": "Short arms for {stature}",
    "build-arms-usual": "Arms as usual for {stature}",
    "build-ground": "Arm span {size} {way} than the stature; {count} of the four leading lengths known.",
    "build-ground-usual": "Arm span and stature are nearly the same; {count} of the four leading lengths known.",
    "build-some": "{count} of four lengths known",
    "build-some-ground": "The four leading lengths draw every style to scale.",
}
TEXTS |= BUILD
