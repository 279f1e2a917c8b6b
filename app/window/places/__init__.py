"""The places of the window, one folder each: `view.py` paints, `state.py` decides what is shown, enabled and said."""
