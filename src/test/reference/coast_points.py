"""Land or sea at random places, by plain ray casting in degrees over the TopoJSON: a slow twin, no shared code.

python3 coast_points.py DIR PROJECT  (DIR holds world-atlas/ as for coast.py); Python 3 standard library.
"""
import json, random, sys
from pathlib import Path

src, project = Path(sys.argv[1]), Path(sys.argv[2])
topo = json.loads((src / 'world-atlas/package/land-10m.json').read_text())
(sx, sy), (tx, ty) = topo['transform']['scale'], topo['transform']['translate']
arcs = []
for arc in topo['arcs']:
    x = y = 0
    line = []
    for dx, dy in arc:
        x += dx; y += dy
        line.append((tx + sx * x, ty + sy * y))
    arcs.append(line)
rings = [[p for i in ring for p in (arcs[i] if i >= 0 else arcs[~i][::-1])]
         for g in topo['objects']['land']['geometries'] for polygon in g['arcs'] for ring in polygon]

def land(lon, lat):
    inside = False
    for ring in rings:
        for (x1, y1), (x2, y2) in zip(ring, ring[1:] + ring[:1]):
            if (y1 > lat) != (y2 > lat) and lon < x1 + (lat - y1) / (y2 - y1) * (x2 - x1):
                inside = not inside
    return inside

random.seed(20)
rows = ['area,lat,lon,land']
for area, lat0, lon0 in [('cardigan bay', 52.4, -4.4), ('kiel', 54.5, 10.2), ('fiji', -16.8, 179.95),
                         ('bahamas', 25.0, -77.5), ('aland', 60.2, 20.5)]:
    for _ in range(40):
        lat, lon = lat0 + random.uniform(-.4, .4), lon0 + random.uniform(-.6, .6)
        at = lon if lon < 180 else lon - 360
        rows.append(f'{area},{lat:.5f},{at:.5f},{int(land(at, lat))}')
(project / 'src/test/resources/org/aftercast/geo/coast-points.csv').write_text('\n'.join(rows) + '\n')
