"""What gpxpy takes to read a file: one JSON question a line, one JSON answer a line."""

import json
import sys
import time
from importlib.metadata import version

import gpxpy

print(json.dumps({"name": f"gpxpy {version('gpxpy')}"}), flush=True)
for line in sys.stdin:
    with open(json.loads(line)["path"], encoding="utf-8") as file:
        text = file.read()
    start = time.perf_counter()
    parsed = gpxpy.parse(text)
    seconds = time.perf_counter() - start
    print(json.dumps({"ms": seconds * 1000, "points": parsed.get_points_no()}), flush=True)
