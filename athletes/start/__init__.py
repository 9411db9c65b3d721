"""The first days of a club: a pasted roster, and what is still to do until the first night's log."""
