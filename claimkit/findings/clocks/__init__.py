"""Camera clocks: what each stands on, how far it is out, and when it was set."""
