from .squad import MissSearchForm, SquadFilterForm

__all__ = ["MissSearchForm", "SquadFilterForm"]
