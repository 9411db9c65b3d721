"""What a guardian of somebody under 18 sees and decides, and what the minor sees until then."""
