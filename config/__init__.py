VERSION = "0.3.0"  # the one place: the package takes it from here, and CHANGELOG.md begins with it
