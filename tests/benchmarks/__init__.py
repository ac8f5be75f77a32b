"""What each speed claim rests on: a file a benchmark, which says what it measures; `harness.py` says how.

`python tests/benchmarks` runs all of them, `python tests/benchmarks render play` those two; see `__main__.py`.
"""
