"""An upload on its way in, in small steps that a restart may interrupt anywhere."""
