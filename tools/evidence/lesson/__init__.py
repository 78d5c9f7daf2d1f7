"""The topic `lesson`: the engine, the demonstrations, the claim check, the page."""
