#!/usr/bin/python3
"""Reads cut files with an independent reader (Debian: python3-ezdxf) and prints what it
finds: entity counts by layer, closure of polylines, box. Ends with code 1 if a polyline is
open, a layer holds nothing, the header does not say millimetres, or an outline is not of the
finished size that the file's comment states.

    dxf-check.py FILE.dxf...
"""
import collections
import math
import re
import sys

import ezdxf

bad = 0
for name in sys.argv[1:]:
    doc = ezdxf.readfile(name)
    count = collections.Counter()
    lo, hi = [math.inf, math.inf], [-math.inf, -math.inf]

    edge = [math.inf, math.inf, -math.inf, -math.inf]  # of the outline

    def reach(x, y):
        if layer == "outline":
            edge[:] = min(edge[0], x), min(edge[1], y), max(edge[2], x), max(edge[3], y)
        lo[0], lo[1] = min(lo[0], x), min(lo[1], y)
        hi[0], hi[1] = max(hi[0], x), max(hi[1], y)

    for e in doc.modelspace():
        layer = e.dxf.layer
        count[layer, e.dxftype()] += 1
        if e.dxftype() == "POLYLINE":
            if not e.is_closed:
                print(f"{name}: an open polyline on layer {layer}")
                bad = 1
            for part in e.virtual_entities():
                if part.dxftype() == "ARC":
                    for p in part.flattening(0.001):
                        reach(p.x, p.y)
                else:
                    reach(part.dxf.start.x, part.dxf.start.y)
                    reach(part.dxf.end.x, part.dxf.end.y)
        elif e.dxftype() == "CIRCLE":
            c, r = e.dxf.center, e.dxf.radius
            reach(c.x - r, c.y - r)
            reach(c.x + r, c.y + r)
        else:
            print(f"{name}: a {e.dxftype()} on layer {layer}, which cut files do not have")
            bad = 1
    for layer in doc.layers:
        if layer.dxf.name not in ("0", "Defpoints") and not any(k[0] == layer.dxf.name for k in count):
            print(f"{name}: layer {layer.dxf.name} holds nothing")
            bad = 1
    if not count:
        print(f"{name}: nothing in it")
        bad = 1
    if doc.header.get("$INSUNITS", 0) != 4:
        print(f"{name}: the header does not say millimetres")
        bad = 1
    with open(name, encoding="ascii", errors="replace") as f:
        said = re.search(r"Finished size ([0-9.]+) x ([0-9.]+) mm", f.read())
    if said and count["outline", "POLYLINE"] == 1 and not count["sheet", "POLYLINE"]:
        for want, got in ((said[1], edge[2] - edge[0]), (said[2], edge[3] - edge[1])):
            if abs(float(want) - got) > 0.02:
                print(f"{name}: the outline is {got:.3f} mm where the file says {want}")
                bad = 1
    found = ", ".join(f"{n} {kind} on {layer}" for (layer, kind), n in sorted(count.items()))
    print(f"{name}: {doc.dxfversion}, {found}; {hi[0] - lo[0]:.3f} x {hi[1] - lo[1]:.3f} mm")
sys.exit(bad)
