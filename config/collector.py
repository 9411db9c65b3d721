"""How often the server looks for rings of references that nobody holds any more.

A long log is tens of thousands of small records. Looking through everything at every few hundred of them, as Python
does by default, takes longer than reading them; what is loaded when the server starts stays for good and is left out.
"""

import gc


def look_less_often() -> None:
    """To be called once everything is loaded."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(20_000, 20, 20)
