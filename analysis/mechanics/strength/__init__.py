"""How much load each link allows: reference strength, its shape over joint angles, and demand tables."""
