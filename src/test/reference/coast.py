"""Makes src/main/resources/org/aftercast/geo/coast-10m.bin.gz and wmm2025.txt (and the test rows) from npm packages.

    npm pack world-atlas@2.0.2 geomagnetism@0.2.0, unpack each into DIR/<name>, then: python3 coast.py DIR PROJECT

Coast: Natural Earth 1:10m land (public domain), as TopoJSON in world-atlas 2.0.2 (quantised there to 0.0036 degrees
of longitude by 0.0017 degrees of latitude, about 200 m: kept as it is, nothing simplified here).
Format, all gzip: magic 'ACCOAST1', scaleLon, scaleLat, lon0, lat0 as big-endian doubles, ring count and point count as
big-endian ints; then for each ring: varint point count, then zigzag varints of differences lon, lat (first from 0, 0),
the closing point left out. Rings are even-odd: holes (the Caspian Sea) are rings like the others.
Magnetic model: WMM2025 of NOAA/NCEI and BGS (public domain), as in geomagnetism 0.2.0 data/wmm-2025.json.
"""
import gzip, io, json, struct, sys
from pathlib import Path

src, project = Path(sys.argv[1]), Path(sys.argv[2])
out = project / 'src/main/resources/org/aftercast/geo'
test = project / 'src/test/resources/org/aftercast/geo'

topo = json.loads((src / 'world-atlas/package/land-10m.json').read_text())
arcs = []
for arc in topo['arcs']:
    x = y = 0
    points = []
    for dx, dy in arc:
        x += dx
        y += dy
        points.append((x, y))
    arcs.append(points)
rings = []
(sx, sy), (tx, ty) = topo['transform']['scale'], topo['transform']['translate']
for geometry in topo['objects']['land']['geometries']:
    assert geometry['type'] == 'MultiPolygon'
    for polygon in geometry['arcs']:
        for ring in polygon:
            points = []
            for index in ring:
                part = arcs[index] if index >= 0 else arcs[~index][::-1]
                points.extend(part if not points else part[1:])
            assert points[0] == points[-1]
            points.pop()
            # The square at 0, 0 is a mark of Natural Earth for finding mistakes, not land.
            at_zero = all(abs(sx * x + tx) < 0.01 and abs(sy * y + ty) < 0.01 for x, y in points)
            if len(points) >= 3 and not at_zero:
                rings.append(points)

def varint(stream, value):
    while value > 127:
        stream.write(bytes([value & 127 | 128]))
        value >>= 7
    stream.write(bytes([value]))

def zigzag(value):
    return value * 2 if value >= 0 else -value * 2 - 1

body = io.BytesIO()
body.write(b'ACCOAST1' + struct.pack('>ddddii', sx, sy, tx, ty, len(rings), sum(map(len, rings))))
for ring in rings:
    varint(body, len(ring))
    px = py = 0
    for x, y in ring:
        varint(body, zigzag(x - px))
        varint(body, zigzag(y - py))
        px, py = x, y
(out / 'coast-10m.bin.gz').write_bytes(gzip.compress(body.getvalue(), 9, mtime=0))

wmm = json.loads((src / 'geomagnetism/package/data/wmm-2025.json').read_text())
lines = ['# WMM2025 (NOAA/NCEI and BGS, public domain; header "2025.0 WMM-2025 11/13/2024"), Gauss coefficients in nT,',
         '# secular variation in nT/year; from data/wmm-2025.json of npm package geomagnetism 0.2.0 (Apache-2.0).',
         '# n m g h gdot hdot']
i = 0
for n in range(13):
    for m in range(n + 1):
        if n:
            lines.append(' '.join(str(v) for v in [n, m] + [wmm[k][i] or 0 for k in (
                'main_field_coeff_g', 'main_field_coeff_h', 'secular_var_coeff_g', 'secular_var_coeff_h')]))
        i += 1
(out / 'wmm2025.txt').write_text('\n'.join(lines) + '\n')
rows = (src / 'geomagnetism/package/test/values.csv').read_text().splitlines()
(test / 'wmm2025-official-rows.csv').write_text(
    '\n'.join([rows[0]] + [r for r in rows[1:] if float(r.split(',')[0]) >= 2025]) + '\n')
print(len(rings), 'rings', sum(map(len, rings)), 'points')
