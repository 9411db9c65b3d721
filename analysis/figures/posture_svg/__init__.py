"""The signature figure: a lifter to scale in every style, from joint coordinates to inline SVG."""
