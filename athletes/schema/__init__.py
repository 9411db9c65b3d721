"""What a set, a measurement and a term are, described once; standard library only, so that both apps may read it."""
