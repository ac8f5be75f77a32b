"""Cornercue: drill scripts become spoken, exactly timed cue tracks."""
