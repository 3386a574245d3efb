#!/usr/bin/env python3
"""Writes the corpus of small text downloads under src/test/resources/intake (Python 3.11, standard library only).

Every case is NAME.json beside its input file. ok/: what the file must give, computed here and not by the program:
start, rate, samples (null = missing), gaps, kinds of flags. failure/: the exact message, with FILE for the path.
All values are invented. Unit factors: NIST SP 811 (2008), appendix B.8.
"""
import gzip
import io
import json
import pathlib
import struct
import zipfile
from datetime import datetime, timedelta, timezone

ROOT = pathlib.Path(__file__).resolve().parent.parent / "resources" / "intake"
G = 9.80665
seen = set()


def put(kind, name, data, ext, body, why):
    assert name not in seen, name
    seen.add(name)
    folder = ROOT / kind
    files = data if isinstance(data, list) else [data]
    names = []
    for i, d in enumerate(files):
        n = f"{name}{'' if len(files) == 1 else '-' + str(i + 1)}.{ext}"
        (folder / n).write_bytes(d if isinstance(d, bytes) else d.encode("utf-8"))
        names.append(n)
    (folder / f"{name}.json").write_text(
        json.dumps({"why": why, "files": names, **body}, indent=1, ensure_ascii=False) + "\n", encoding="utf-8"
    )


def ok(name, data, why, start=None, rate=None, cols=None, gaps=(), flags=(), layout=None, options=None, ext="csv"):
    cols = cols or {}
    n = len(next(iter(cols.values())))
    body = {
        "options": options or {},
        "layouts": layout if isinstance(layout, list) else [layout] if layout else [],
        "startUtc": start,
        "sampleRateHz": rate,
        "sampleCount": n,
        "columns": cols,
        "gaps": [list(g) for g in gaps],
        "flags": list(flags),
    }
    put("ok", name, data, ext, body, why)


def bad(name, data, why, message, layout=None, options=None, ext="csv"):
    body = {
        "options": options or {},
        "layouts": layout if isinstance(layout, list) else [layout] if layout else [],
        "message": message,
    }
    put("failure", name, data, ext, body, why)


# Six invented rows: axes in g, depth in m, temperature in degrees Celsius.
X = [0.02, -0.13, 0.25, 0.11, -0.07, 0.04]
Y = [-0.31, 0.18, 0.09, -0.22, 0.15, 0.01]
Z = [0.94, 0.97, 1.01, 0.96, 0.99, 1.02]
D = [0.5, 1.25, 2.0, 2.75, 3.5, 4.25]
T = [14.5, 14.4, 14.2, 14.1, 13.9, 13.8]
ACC = {"accXG": X, "accYG": Y, "accZG": Z}
ALL = {**ACC, "depthM": D, "tempC": T}
START = datetime(2026, 5, 3, 10, 0, 0, tzinfo=timezone.utc)
ISO = "2026-05-03T10:00:00Z"


def rows(head, row, eol="\n", n=6):
    return head + eol + "".join(row(i) + eol for i in range(n)) if head else "".join(row(i) + eol for i in range(n))


def at(i, hz=10):
    return START + timedelta(seconds=i / hz)


def sec(i, hz=10):
    return f"{i / hz:.2f}"


def xyz(i, sep=","):
    return sep.join(f"{v[i]:.2f}" for v in (X, Y, Z))


def comma(text):
    return text.replace(".", ",")


# ---- form of the text -------------------------------------------------------------------------------------------
plain = rows("time_s,x,y,z", lambda i: f"{sec(i)},{xyz(i)}")
ok("plain", plain, "comma, point, elapsed seconds", rate=10.0, cols=ACC)
ok("semicolon-decimal-comma", rows("time_s;x;y;z;depth (m);temp (°C)",
   lambda i: comma(f"{sec(i)};{xyz(i, ';')};{D[i]};{T[i]}")), "semicolon and decimal comma", rate=10.0, cols=ALL)
ok("tab", rows("time_s\tx\ty\tz", lambda i: f"{sec(i)}\t{xyz(i, chr(9))}"), "tabs", rate=10.0, cols=ACC)
ok("tab-decimal-comma", rows("time_s\tx\ty\tz", lambda i: comma(f"{sec(i)}\t{xyz(i, chr(9))}")),
   "tabs and decimal comma", rate=10.0, cols=ACC)
ok("spaces", rows("time_s   x      y      z", lambda i: f" {sec(i)}   {xyz(i, '   ')} "), "runs of blanks",
   rate=10.0, cols=ACC, ext="txt")
ok("pipe", rows("time_s|x|y|z", lambda i: f"{sec(i)}|{xyz(i, '|')}"), "bars", rate=10.0, cols=ACC)
ok("crlf", plain.replace("\n", "\r\n"), "carriage return and line feed", rate=10.0, cols=ACC)
ok("cr", plain.replace("\n", "\r"), "carriage return alone", rate=10.0, cols=ACC)
ok("no-final-line-end", plain.rstrip("\n"), "last line without an end", rate=10.0, cols=ACC)
ok("blank-lines", plain.replace("0.20,", "\n   \n0.20,") + "\n\n", "blank lines do not count", rate=10.0, cols=ACC)
ok("utf8-mark", b"\xef\xbb\xbf" + plain.encode(), "UTF-8 with a byte-order mark", rate=10.0, cols=ACC)
ok("utf16le-mark", b"\xff\xfe" + plain.encode("utf-16-le"), "UTF-16 little-endian with a mark", rate=10.0, cols=ACC)
ok("utf16be-mark", b"\xfe\xff" + plain.encode("utf-16-be"), "UTF-16 big-endian with a mark", rate=10.0, cols=ACC)
ok("utf16le-bare", plain.encode("utf-16-le"), "UTF-16 without a mark", rate=10.0, cols=ACC)
ok("latin1-degree", rows("time_s;x;y;z;temp (°C)", lambda i: f"{sec(i)};{xyz(i, ';')};{T[i]}").encode("latin-1"),
   "degree sign in Latin-1", rate=10.0, cols={**ACC, "tempC": T})
ok("gzip", gzip.compress(plain.encode(), mtime=0), "gzip", rate=10.0, cols=ACC, ext="csv.gz")
half = plain.encode()
ok("gzip-two-members", gzip.compress(half[:50], mtime=0) + gzip.compress(half[50:], mtime=0),
   "two gzip members one after the other", rate=10.0, cols=ACC, ext="csv.gz")


def zipped(entries, method=zipfile.ZIP_DEFLATED):
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", method) as z:
        for n, d in entries:
            z.writestr(zipfile.ZipInfo(n, (2026, 5, 3, 10, 0, 0)), d, method)
    return out.getvalue()


ok("zip", zipped([("folder/", ""), ("folder/a.csv", plain)]), "zip with one file in a folder", rate=10.0, cols=ACC,
   ext="zip")


def zstd_raw(data):
    """A zstd frame of one raw block: RFC 8878, sections 3.1.1 and 3.1.1.2."""
    assert len(data) < 65536 + 256
    header = bytes([0b01100000]) + struct.pack("<H", len(data) - 256)  # single segment, 2-byte content size
    block = struct.pack("<I", (len(data) << 3) | 1)[:3]
    return b"\x28\xb5\x2f\xfd" + header + block + data


long_plain = rows("time_s,x,y,z", lambda i: f"{sec(i)},{xyz(i % 6)}", n=12)
ok("zstd", zstd_raw(long_plain.encode()), "zstd", rate=10.0, cols={k: v + v for k, v in ACC.items()}, ext="csv.zst")
ok("quoted-header", rows('"time_s","x","y","z"', lambda i: f"{sec(i)},{xyz(i)}"), "quoted names", rate=10.0, cols=ACC)
ok("quoted-values", rows("time_s;x;y;z", lambda i: ";".join(f'"{v}"' for v in comma(f"{sec(i)};{xyz(i, ';')}").split(";"))),
   "every field in quotes", rate=10.0, cols=ACC)
ok("quoted-delimiter", rows('"time_s","note, of no use","x","y","z"', lambda i: f'{sec(i)},"a, ""b""",{xyz(i)}'),
   "delimiter and doubled quotes inside a quoted field", rate=10.0, cols=ACC)
ok("blanks-around", rows("time_s , x , y , z", lambda i: f" {sec(i)} ,  {xyz(i, ' , ')} "), "blanks around fields",
   rate=10.0, cols=ACC)
ok("preamble", "made by: nobody\nserial: 17\n\nnotes: a, b\n" + plain, "lines before the header", rate=10.0, cols=ACC)
ok("units-row", rows("time,x,y,z,depth,temp\ns,g,g,g,m,°C", lambda i: f"{sec(i)},{xyz(i)},{D[i]},{T[i]}"),
   "units in a row of their own", rate=10.0, cols=ALL)
ok("units-row-brackets", rows("time,x,y,z\n[s],[g],[g],[g]", lambda i: f"{sec(i)},{xyz(i)}"),
   "units row in brackets", rate=10.0, cols=ACC)
ok("unused-columns", rows("time_s,gyrX,gyrY,gyrZ,mag x,x,y,z,battery_v,state",
   lambda i: f"{sec(i)},1,2,3,4,{xyz(i)},3.9,OK"), "gyroscope, compass, battery and text are not used", rate=10.0, cols=ACC)
ok("incomplete-last-line", plain + "0.60,0.1,0.", "a last line that was cut off is left out", rate=10.0, cols=ACC,
   flags=["ASSUMED"])
ok("longer-rows", rows("time_s,x,y,z", lambda i: f"{sec(i)},{xyz(i)}" + (",7" if i == 3 else "")),
   "fields beyond the last one needed do not matter", rate=10.0, cols=ACC)
ok("no-header-by-number", rows("", lambda i: f"{sec(i)},{xyz(i)}"), "columns by number", rate=10.0, cols=ACC, layout={
    "text": {"delimiter": "comma", "headerLine": 0, "firstDataLine": 1},
    "time": {"kind": "elapsed-seconds", "columns": ["#1"]},
    "columns": [{"column": f"#{i + 2}", "channel": c} for i, c in enumerate(ACC)]})

# ---- names -------------------------------------------------------------------------------------------------------
for label, names in {
    "acc-x": "acc_x,acc_y,acc_z", "accX": "accX,accY,accZ", "ax": "ax,ay,az", "x-acc": "X_Acc,Y_Acc,Z_Acc",
    "acceleration-x-g": "Acceleration X (g),Acceleration Y (g),Acceleration Z (g)", "x-axis": "X-axis [g],Y-axis [g],Z-axis [g]",
    "own-names": "accXG,accYG,accZG", "accel-x": "accel.x,accel.y,accel.z",
}.items():
    ok("names-" + label, rows("time_s," + names, lambda i: f"{sec(i)},{xyz(i)}"), "spellings of the axes: " + names,
       rate=10.0, cols=ACC)
ok("names-other-order", rows("z,y,time_s,x", lambda i: f"{Z[i]},{Y[i]},{sec(i)},{X[i]}"), "columns in another order",
   rate=10.0, cols=ACC)

# ---- time --------------------------------------------------------------------------------------------------------


def stamped(head, fmt, hz=10):
    return rows(head + ",x,y,z", lambda i: f"{fmt(at(i, hz))},{xyz(i)}")


def frac(d, fmt):
    return d.strftime(fmt) + f".{d.microsecond // 1000:03d}"


ok("iso-z", stamped("timestamp", lambda d: frac(d, "%Y-%m-%dT%H:%M:%S") + "Z"), "ISO 8601 with Z", start=ISO, rate=10.0, cols=ACC)
ok("iso-offset", stamped("timestamp", lambda d: frac(d + timedelta(hours=2), "%Y-%m-%dT%H:%M:%S") + "+02:00"),
   "ISO 8601 with an offset", start=ISO, rate=10.0, cols=ACC)
ok("iso-blank-assumed-utc", stamped("timestamp", lambda d: frac(d, "%Y-%m-%d %H:%M:%S")),
   "no zone anywhere: UTC, and said so", start=ISO, rate=10.0, cols=ACC, flags=["ASSUMED"])
ok("iso-named-utc", stamped("time (UTC)", lambda d: frac(d, "%Y-%m-%d %H:%M:%S")), "the name says UTC", start=ISO,
   rate=10.0, cols=ACC)
ok("iso-slashes", stamped("UTC time", lambda d: frac(d, "%Y/%m/%d %H:%M:%S")), "year first with slashes", start=ISO,
   rate=10.0, cols=ACC)
ok("zone-summer", stamped("local time", lambda d: frac(d + timedelta(hours=1), "%Y-%m-%d %H:%M:%S")),
   "local time in a zone: British summer time is UTC+1", start=ISO, rate=10.0, cols=ACC, options={"zone": "Europe/London"})
ok("day-first-over-12", rows("date,time,x,y,z", lambda i: f"13/05/2026,10:00:0{i // 10}.{i % 10}00,{xyz(i)}").replace("13/05", "23/05"),
   "day first, told by a day over 12; date and time apart", start="2026-05-23T10:00:00Z", rate=10.0, cols=ACC,
   flags=["ASSUMED"])
ok("month-first-over-12", rows("utc,x,y,z", lambda i: f"05/23/2026 10:00:00.{i}00,{xyz(i)}"),
   "month first, told by a second number over 12", start="2026-05-23T10:00:00Z", rate=10.0, cols=ACC)
ok("dates-told", rows("UTC,x,y,z", lambda i: f"03/05/2026 10:00:00.{i}00,{xyz(i)}"), "day or month first: told beside the file",
   start="2026-03-05T10:00:00Z", rate=10.0, cols=ACC, options={"dates": "month-first"})
ok("day-first-dots", rows("UTC;x;y;z", lambda i: comma(f"03|05|2026 10:00:00.{i}00;{xyz(i, ';')}").replace("|", ".")),
   "dots: day first", start=ISO, rate=10.0, cols=ACC)
ok("month-name", rows("utc,x,y,z", lambda i: f"03-May-2026 10:00:00.{i}00,{xyz(i)}"), "month by name", start=ISO, rate=10.0, cols=ACC)
ok("month-first-by-layout", rows("utc,x,y,z", lambda i: f"05/03/2026 10:00:00.{i}00,{xyz(i)}"),
   "ambiguous dates, told by the layout", start=ISO, rate=10.0, cols=ACC, layout={
    "text": {"delimiter": "comma", "headerLine": 1},
    "time": {"kind": "month-first", "columns": ["utc"], "zone": "UTC"},
    "columns": [{"column": n, "channel": c} for n, c in zip("xyz", ACC)]})
ok("twelve-hour-pm", rows("utc,x,y,z", lambda i: f"05/23/2026 2:00:00.{i}00 PM,{xyz(i)}"), "12-hour clock, afternoon",
   start="2026-05-23T14:00:00Z", rate=10.0, cols=ACC)
ok("twelve-hour-midnight", rows("utc,x,y,z", lambda i: f"05/23/2026 12:00:00.{i}00 am,{xyz(i)}"),
   "12 am is midnight", start="2026-05-23T00:00:00Z", rate=10.0, cols=ACC)
ok("twelve-hour-noon", rows("utc,x,y,z", lambda i: f"05/23/2026 12:00:00.{i}00 p.m.,{xyz(i)}"),
   "12 pm is noon", start="2026-05-23T12:00:00Z", rate=10.0, cols=ACC)
EPOCH = START.timestamp()
ok("epoch-seconds", rows("epoch_time,x,y,z", lambda i: f"{EPOCH + i / 10:.1f},{xyz(i)}"), "seconds since 1970", start=ISO,
   rate=10.0, cols=ACC)
ok("epoch-milliseconds", rows("timestamp,x,y,z", lambda i: f"{EPOCH * 1000 + i * 100:.0f},{xyz(i)}"),
   "milliseconds since 1970", start=ISO, rate=10.0, cols=ACC)
# 2026-05-03 is day 46145 when 1900-01-01 is day 2 (1899-12-30 is day 0); 10:00 is 10/24 of a day.
ok("serial-days", rows("datetime (utc),x,y,z", lambda i: f"{46145 + (36000 + i) / 86400:.10f},{xyz(i)}"),
   "spreadsheet days, one row a second", start="2026-05-03T10:00:00Z", rate=1.0, cols=ACC, flags=["ASSUMED"],
   options={})
ok("elapsed-start-given", plain, "elapsed seconds with the start given", start=ISO, rate=10.0, cols=ACC,
   options={"startUtc": ISO})
ok("elapsed-milliseconds", rows("time_ms,x,y,z", lambda i: f"{i * 100},{xyz(i)}"), "milliseconds from the start", rate=10.0, cols=ACC)
ok("counter", rows("sample,x,y,z", lambda i: f"{i + 1},{xyz(i)}"), "a counter with start and rate", start=ISO, rate=25.0,
   cols=ACC, options={"startUtc": ISO, "rateHz": 25})
ok("counter-gap", rows("sample,x,y,z", lambda i: f"{i + 1 + (2 if i > 2 else 0)},{xyz(i)}"), "a counter that leaps",
   rate=25.0, cols={k: v[:3] + [None, None] + v[3:] for k, v in ACC.items()}, gaps=[(3, 5)], options={"rateHz": 25},
   layout={"text": {"delimiter": "comma", "headerLine": 1}, "time": {"kind": "sample-number", "columns": ["sample"], "rateHz": 25},
           "columns": [{"column": n, "channel": c} for n, c in zip("xyz", ACC)]})
ok("no-time", rows("x,y,z", lambda i: xyz(i)), "no time at all: start and rate given", start=ISO, rate=50.0, cols=ACC,
   options={"startUtc": ISO, "rateHz": 50})
SHARED = [f"2026-05-03 10:00:0{(k + 2) // 4}" for k in range(20)]
ok("shared-second", "utc,x,y,z\n" + "".join(f"{SHARED[k]},0.1,{k / 100:.2f},0.98\n" for k in range(20)),
   "four rows share a second: two in the first, so the first row stands half a second after it",
   start="2026-05-03T10:00:00.500Z", rate=4.0,
   cols={"accXG": [0.1] * 20, "accYG": [k / 100 for k in range(20)], "accZG": [0.98] * 20}, flags=["SPREAD_WITHIN_STAMP"])
ok("gap", rows("time_s,x,y,z", lambda i: f"{sec(i + (4 if i > 3 else 0))},{xyz(i)}"), "four rows are missing", rate=10.0,
   cols={k: v[:4] + [None] * 4 + v[4:] for k, v in ACC.items()}, gaps=[(4, 8)])
ok("repeat", plain.replace("0.40,", "0.30,9,9,9\n0.40,"), "a time stands twice: the later row is left out", rate=10.0,
   cols=ACC, flags=["REPEATED_TIME"])
JIT = [0.0, 0.11, 0.2, 0.3, 0.4, 0.5]
ok("jitter", rows("time_s,x,y,z", lambda i: f"{JIT[i]:.3f},{xyz(i)}".replace("0.110", "0.113")), "uneven steps are measured",
   rate=10.0, cols=ACC, flags=["RATE_JITTER"])
ok("rate-differs", plain, "stated and measured rate differ: the stamps are followed", rate=10.0, cols=ACC,
   flags=["RATE_DIFFERS"], options={"rateHz": 12.5})
ok("autumn-doubled-hour", "".join(["local,x,y,z\n"] + [
   f"2026-10-25 {h}:{m}:00,{xyz(i)}\n" for i, (h, m) in enumerate(
       [("01", "00"), ("01", "30"), ("01", "00"), ("01", "30"), ("02", "00"), ("02", "30")])]),
   "the hour that stands twice when clocks go back", start="2026-10-25T00:00:00Z", rate=1 / 1800, cols=ACC,
   options={"zone": "Europe/London"}, layout={
    "text": {"delimiter": "comma", "headerLine": 1}, "time": {"kind": "year-first", "columns": ["local"], "zone": "Europe/London"},
    "columns": [{"column": n, "channel": c} for n, c in zip("xyz", ACC)]})
ok("clock-offset", stamped("utc", lambda d: frac(d, "%Y-%m-%d %H:%M:%S")), "the logger was 30 s fast at read-out",
   start="2026-05-03T09:59:30Z", rate=10.0, cols=ACC, flags=["CLOCK_CORRECTED"], layout={
    "text": {"delimiter": "comma", "headerLine": 1}, "time": {"kind": "year-first", "columns": ["utc"], "zone": "UTC"},
    "columns": [{"column": n, "channel": c} for n, c in zip("xyz", ACC)],
    "clock": {"readLogger": "2026-05-06T10:00:30Z", "readTrue": "2026-05-06T10:00:00Z"}})
# Set right at 10:00, 86.4 s slow after 86 400 s shown: true time runs 1.001 times as fast as the logger's.
ok("clock-drift", stamped("utc", lambda d: frac(d, "%Y-%m-%d %H:%M:%S")), "the logger lost 86.4 s in a day",
   start="2026-05-03T10:00:00Z", rate=10 / 1.001, cols=ACC, flags=["CLOCK_CORRECTED"], layout={
    "text": {"delimiter": "comma", "headerLine": 1}, "time": {"kind": "year-first", "columns": ["utc"], "zone": "UTC"},
    "columns": [{"column": n, "channel": c} for n, c in zip("xyz", ACC)],
    "clock": {"setLogger": "2026-05-03T10:00:00Z", "setTrue": "2026-05-03T10:00:00Z",
              "readLogger": "2026-05-04T10:00:00Z", "readTrue": "2026-05-04T10:01:26.400Z"}})

# ---- units, axes, calibration ------------------------------------------------------------------------------------
ok("ms2-by-name", rows("time_s,x (m/s²),y (m/s²),z (m/s²)", lambda i: f"{sec(i)}," + ",".join(f"{v[i] * G:.5f}" for v in (X, Y, Z))),
   "metres per second squared", rate=10.0, cols=ACC)
ok("ms2-by-size", rows("time_s,x,y,z", lambda i: f"{sec(i)}," + ",".join(f"{v[i] * G:.5f}" for v in (X, Y, Z))),
   "metres per second squared told by the size of the vector", rate=10.0, cols=ACC)
ok("milli-g", rows("time_s,x [mg],y [mg],z [mg]", lambda i: f"{sec(i)}," + ",".join(f"{v[i] * 1000:.0f}" for v in (X, Y, Z))),
   "thousandths of g", rate=10.0, cols=ACC)
PSI = [0.0, 1.5, 3.0, 4.5, 6.0, 7.5]
ok("psi-fahrenheit", rows("time_s,x,y,z,pressure (psi),temp (°F)", lambda i: f"{sec(i)},{xyz(i)},{PSI[i]},{T[i] * 1.8 + 32:.2f}"),
   "psi and °F", rate=10.0, cols={**ACC, "pressureDbar": [p * 0.6894757 for p in PSI], "tempC": T})
ok("bar", rows("time_s,x,y,z,pressure_bar", lambda i: f"{sec(i)},{xyz(i)},{D[i] / 10:.4f}"), "bar", rate=10.0,
   cols={**ACC, "pressureDbar": D})
ok("kpa", rows("time_s,x,y,z,pressure (kPa)", lambda i: f"{sec(i)},{xyz(i)},{D[i] * 10:.4f}"), "kPa", rate=10.0,
   cols={**ACC, "pressureDbar": D})
ok("counts-and-axes", rows("t,a0,a1,a2", lambda i: f"{i},{Z[i] * 4096:.2f},{-X[i] * 4096:.2f},{Y[i] * 4096:.2f}"),
   "raw counts, axes mapped and one turned round", rate=10.0, cols=ACC, layout={
    "text": {"delimiter": "comma", "headerLine": 1}, "time": {"kind": "sample-number", "columns": ["t"], "rateHz": 10},
    "columns": [{"column": "a1", "channel": "accXG", "scale": -1 / 4096},
                {"column": "a2", "channel": "accYG", "scale": 1 / 4096},
                {"column": "a0", "channel": "accZG", "scale": 1 / 4096}]})
ok("calibration", plain, "offsets and gains", rate=10.0, flags=["CALIBRATED"],
   cols={"accXG": [1.02 * (v - 0.01) for v in X], "accYG": [0.98 * (v + 0.02) for v in Y], "accZG": list(Z)}, layout={
    "text": {"delimiter": "comma", "headerLine": 1}, "time": {"kind": "elapsed-seconds", "columns": ["time_s"]},
    "columns": [{"column": n, "channel": c} for n, c in zip("xyz", ACC)],
    "calibration": {"offsetG": [0.01, -0.02, 0], "gain": [1.02, 0.98, 1]}})
ok("pressure-with-air", rows("time_s,x,y,z,pressure (dbar)", lambda i: f"{sec(i)},{xyz(i)},{D[i] - min(D) + 10.13:.2f}"),
   "pressure that counts the air: read as it is, and flagged", rate=10.0,
   cols={**ACC, "pressureDbar": [round(d - min(D) + 10.13, 2) for d in D]}, flags=["ASSUMED"])
ok("pressure-zero", rows("time_s,x,y,z,pressure (dbar)", lambda i: f"{sec(i)},{xyz(i)},{D[i] + 10.13:.2f}"),
   "absolute pressure brought to zero at the surface", rate=10.0, flags=["CALIBRATED"], cols={**ACC, "pressureDbar": D}, layout={
    "text": {"delimiter": "comma", "headerLine": 1}, "time": {"kind": "elapsed-seconds", "columns": ["time_s"]},
    "columns": [{"column": n, "channel": c} for n, c in zip("xyz", ACC)] + [{"column": "pressure (dbar)", "channel": "pressureDbar"}],
    "pressureZero": {"kind": "given", "surface": 10.13}})
ok("pressure-shallowest", rows("time_s,x,y,z,pressure (dbar)", lambda i: f"{sec(i)},{xyz(i)},{D[i] - 0.5 + 0.3:.2f}"),
   "the shallowest reading is the surface", rate=10.0, flags=["CALIBRATED"], cols={**ACC, "pressureDbar": [d - 0.5 for d in D]},
   layout={"text": {"delimiter": "comma", "headerLine": 1}, "time": {"kind": "elapsed-seconds", "columns": ["time_s"]},
    "columns": [{"column": n, "channel": c} for n, c in zip("xyz", ACC)] + [{"column": "pressure (dbar)", "channel": "pressureDbar"}],
    "pressureZero": {"kind": "shallowest"}})

# ---- values ------------------------------------------------------------------------------------------------------
ok("slow-channel-blank", rows("time_s,x,y,z,temp (C)", lambda i: f"{sec(i)},{xyz(i)},{T[i] if i % 3 == 0 else ''}"),
   "a slow channel is blank between its samples", rate=10.0, cols={**ACC, "tempC": [T[0], None, None, T[3], None, None]})
MISS = ["NaN", "NA", "", "null", "-", "n/a"]
ok("missing-words", rows("time_s,x,y,z,temp (C)", lambda i: f"{sec(i)},{xyz(i)},{MISS[i] if i else '14.5'}"),
   "words for a missing value", rate=10.0, cols={**ACC, "tempC": [14.5] + [None] * 5})
ok("missing-acceleration", plain.replace("0.20,0.25,", "0.20,,"), "a missing axis is a gap", rate=10.0, gaps=[(2, 3)],
   cols={**ACC, "accXG": X[:2] + [None] + X[3:]})
ok("exponents", rows("time_s,x,y,z", lambda i: f"{sec(i)},{X[i]:e},{Y[i]:.3E},+{Z[i]}"), "exponents and plus signs", rate=10.0, cols=ACC)
ok("implausible", rows("time_s,x,y,z,temp (C)", lambda i: f"{sec(i)},{xyz(i)},{-999 if i == 2 else T[i]}"),
   "an impossible value is missing and said so", rate=10.0, cols={**ACC, "tempC": T[:2] + [None] + T[3:]}, flags=["IMPLAUSIBLE"])
CL = [0.9, 2.0, 2.0, 2.0, 1.1, 0.9]
ok("clipped", rows("time_s,x,y,z", lambda i: f"{sec(i)},{X[i]},{Y[i]},{CL[i]}"), "an axis at its full scale", rate=10.0,
   cols={**ACC, "accZG": CL}, flags=["CLIPPED"])

# ---- several files -----------------------------------------------------------------------------------------------
ok("continuing", [rows("time_s,x,y,z", lambda i: f"{sec(i)},{xyz(i)}", n=3),
                  "time_s,x,y,z\n" + "".join(f"{sec(i)},{xyz(i)}\n" for i in range(3, 6))],
   "files that continue one another", rate=10.0, cols=ACC)
ok("one-file-per-sensor", [plain, "time_s,temp (C)\n0.00,14.5\n0.30,14.1\n"],
   "acceleration and temperature in files of their own", rate=10.0, cols={**ACC, "tempC": [14.5, None, None, 14.1, None, None]},
   flags=["ASSUMED"], layout=[
    {"text": {"delimiter": "comma", "headerLine": 1}, "time": {"kind": "elapsed-seconds", "columns": ["time_s"]},
     "columns": [{"column": n, "channel": c} for n, c in zip("xyz", ACC)]},
    {"text": {"delimiter": "comma", "headerLine": 1}, "time": {"kind": "elapsed-seconds", "columns": ["time_s"]},
     "columns": [{"column": "temp (C)", "channel": "tempC"}]}])

# ==== refusals ====================================================================================================
NUM = "a number such as -0.25, or an empty field for a missing value"
LAY = "a layout (--layout), or a file that leaves no doubt"
ELAPSED = {"text": {"delimiter": "comma", "headerLine": 1}, "time": {"kind": "elapsed-seconds", "columns": ["time_s"]},
           "columns": [{"column": n, "channel": c} for n, c in zip("xyz", ACC)]}


def layout(**change):
    return {**ELAPSED, **change}


bad("empty", b"", "nothing in the file", "FILE: is empty; accepted: a text file with a row per sample")
bad("empty-gzip", gzip.compress(b"", mtime=0), "nothing in the gzip",
    "FILE: is empty once unpacked; accepted: a text file with a row per sample", ext="csv.gz")
bad("binary", bytes(range(256)) * 4, "a binary file",
    "FILE: is a binary file; accepted: text with a row per sample, plain or packed", ext="bin")
bad("truncated-gzip", gzip.compress(("time_s,x,y,z\n" + "".join(
    f"{i / 10},{(i * 7919) % 1000 / 1000},{(i * 104729) % 997 / 1000},0.9\n" for i in range(400))).encode(), mtime=0)[:2000],
    "a gzip that was cut off", "FILE, line 1: is packed but ends early: the file was cut off; accepted: the whole file; copy it from the logger again",
    ext="csv.gz")
bad("damaged-gzip", (lambda b: b[:40] + bytes([b[40] ^ 255, b[41] ^ 255]) + b[42:])(gzip.compress(plain.encode(), mtime=0)),
    "a gzip with a flipped byte", "FILE: is packed but damaged; accepted: an undamaged gzip, zip or zstd file", ext="csv.gz")
bad("zip-several", zipped([("a.csv", plain), ("b.csv", plain)]), "a zip with two files",
    "FILE: is a zip with several files (a.csv, b.csv); accepted: a zip with one text file; unpack it and give the files one by one",
    ext="zip")
bad("zip-empty", zipped([("folder/", "")]), "a zip without a file",
    "FILE: is a zip without a file inside; accepted: a zip with one text file", ext="zip")
# Found by fuzzing: a name inside the zip that is not valid UTF-8.
bad("zip-damaged-name", bytes.fromhex(
    "504b03041400000008000050a35c7318ac705900000089000000050000663139cb490899868a82820a0a607aa4343aebfd3e"
    "dfc7b96f973df6da3779723746d8ec2983632f8470756476ac828d30644695de0dc94196c500d9111217c232aebd6925bd77"
    "c23afe1405741dd300612e6373761d8db11180300c037b663139cb490899868a82820a0a607aa4343aebfd3edfc7b96f973d"
    "f6da3779723746d8ec2983632f8470756476ac828d30644695de0dc94196c500d9111217c232aebd6925bd77c23afe140574"
    "1dd30f2c7a2c74656d700a302e30302c302e30322c2d302e33312c302e39342c33322e350a302e31302c2d302e31332c3000"
    "020066000000f80000000000"), "a zip whose second entry has a broken name",
    "FILE: is packed but damaged; accepted: an undamaged gzip, zip or zstd file", ext="zip")
bad("header-only", "time_s,x,y,z\n", "no rows",
    f"FILE: cannot be read without a layout: no table was found: no delimiter cuts the rows into the same number of fields; accepted: {LAY}")
bad("header-only-layout", "time_s,x,y,z\n", "no rows, with a layout",
    "FILE, line 2: there is no row with values; accepted: at least one row after the header", layout=ELAPSED)
bad("prose", "Dear reader,\nthis is not a table.\nAt all.\n", "prose",
    f"FILE: cannot be read without a layout: no table was found: no delimiter cuts the rows into the same number of fields; accepted: {LAY}", ext="txt")
bad("missing-column", plain, "the layout's column is not there",
    'FILE, line 1: column "acc z" is missing; accepted: one of "time_s", "x", "y", "z"',
    layout=layout(columns=[{"column": "x", "channel": "accXG"}, {"column": "y", "channel": "accYG"}, {"column": "acc z", "channel": "accZG"}]))
bad("doubled-column", plain.replace("time_s,x,y,z", "time_s,x,x,z"), "a name stands twice",
    'FILE, line 1, column 3: column "x" stands twice; accepted: each name once, or #3',
    layout=layout(columns=[{"column": "x", "channel": "accXG"}]))
bad("column-number-beyond", plain, "a column number that is not there",
    "FILE, line 1: there is no column #9; accepted: #1 to #4", layout=layout(columns=[{"column": "#9", "channel": "accXG"}]))
bad("column-used-twice", plain, "a column that is time and channel",
    "FILE, line 1, column 1: the layout uses this column twice; accepted: each column at most once",
    layout=layout(columns=[{"column": "time_s", "channel": "accXG"}]))
bad("text-in-number", plain.replace("0.20,0.25", "0.20,up"), "a word where a number should be",
    f'FILE, line 4, column 2: "up" is not a number; accepted: {NUM}')
bad("two-marks", plain.replace("0.20,0.25", "0.20,0.2.5"), "two decimal points",
    f'FILE, line 4, column 2: "0.2.5" is not a number; accepted: {NUM}')
bad("hexadecimal", plain.replace("0.20,0.25", "0.20,0x1F"), "a hexadecimal number",
    f'FILE, line 4, column 2: "0x1F" is not a number; accepted: {NUM}')
bad("infinity", plain.replace("0.20,0.25", "0.20,Infinity"), "an infinite number",
    f'FILE, line 4, column 2: "Infinity" is not a number; accepted: {NUM}')
bad("too-large", plain.replace("0.20,0.25", "0.20,1e400"), "a number no double can hold",
    f'FILE, line 4, column 2: "1e400" is too large; accepted: {NUM}')
bad("control-characters", plain.replace("0.20,0.25", "0.20,0\x07\x1b25"), "control characters are not echoed",
    f'FILE, line 4, column 2: "0??25" is not a number; accepted: {NUM}', layout=ELAPSED)
bad("huge-field", plain.replace("0.20,0.25", "0.20," + "1" * 5000), "a field of 5000 digits",
    f"FILE, line 4, column 2: a field of 5000 characters where a number was expected; accepted: {NUM}")
bad("decimal-comma-in-point-file", plain.replace("0.20,0.25", '0.20,"0,25"'), "a decimal comma among points",
    f'FILE, line 4, column 2: "0,25" is not a number; accepted: {NUM}')
bad("open-quote", plain.replace("0.20,0.25", '0.20,"0.25'), "a quote that is not closed",
    "FILE, line 4, column 2: a quoted field is not closed on its line; accepted: quotes in pairs, each field on one line")
bad("text-after-quote", plain.replace("0.20,0.25", '0.20,"0.25"x'), "text behind a quote",
    "FILE, line 4, column 2: text follows a closing quote; accepted: a delimiter after the closing quote")
bad("short-row", plain.replace("0.20,0.25,0.09,1.01", "0.20,0.25,0.09"), "a row with too few fields",
    "FILE, line 4: the row has 3 of the 4 fields needed; accepted: rows with all columns of the layout; an empty field for a missing value")
bad("backwards", plain.replace("0.30,", "0.15,"), "time runs backwards",
    "FILE, line 5, column 1: time runs backwards: 0.15 s after 0.2 s; accepted: rows in order of time; split the file where the logger's clock was set")
bad("backwards-across-files", [plain, plain], "the second file begins before the first ends",
    "FILE, line 2, column 1: time runs backwards: 0 s after 0.5 s; accepted: rows in order of time; split the file where the logger's clock was set")
bad("jump", plain.replace("0.50,", "9999999.00,"), "time jumps by months",
    "FILE, line 7, column 1: the time jumps ahead by 115 days, from 0.4 s to 9999999 s; accepted: breaks of at most 60 days; split the file there, or mend the stamp")
bad("time-missing", plain.replace("0.30,", ","), "a row without its time",
    "FILE, line 5, column 1: the time is missing; accepted: seconds from the start")
bad("time-unreadable", plain.replace("0.30,", "soon,"), "a time that is none",
    'FILE, line 5, column 1: time "soon" cannot be read; accepted: seconds from the start')
bad("one-axis", rows("time_s,x", lambda i: f"{sec(i)},{X[i]}"), "one axis only",
    f"FILE: cannot be read without a layout: only 1 of the three acceleration axes was found in line 1 (columns \"time_s\", \"x\"); accepted: {LAY}")
bad("two-axes", rows("time_s,x,y", lambda i: f"{sec(i)},{X[i]},{Y[i]}"), "two axes only",
    f"FILE: cannot be read without a layout: only 2 of the three acceleration axes were found in line 1 (columns \"time_s\", \"x\", \"y\"); accepted: {LAY}")
bad("no-axes", rows("time_s,depth (m),temp (C)", lambda i: f"{sec(i)},{D[i]},{T[i]}"), "no acceleration",
    f"FILE: cannot be read without a layout: no acceleration axes were found; accepted: {LAY}")
bad("no-header", rows("", lambda i: f"{sec(i)},{xyz(i)}"), "no header line",
    f"FILE: cannot be read without a layout: no time column was found and no rate is given (--rate-hz); there is no header line that says which column is which; accepted: {LAY}")
bad("no-rate", rows("x,y,z", lambda i: xyz(i)), "neither time nor rate",
    f"FILE: cannot be read without a layout: no time column was found and no rate is given (--rate-hz); accepted: {LAY}")
bad("counter-no-rate", rows("sample,x,y,z", lambda i: f"{i},{xyz(i)}"), "a counter without a rate",
    f'FILE: cannot be read without a layout: column "sample" counts samples, but no rate is given (--rate-hz); accepted: {LAY}')
bad("time-unit-unknown", rows("time,x,y,z", lambda i: f"{i},{xyz(i)}"), "whole numbers without a unit",
    f'FILE: cannot be read without a layout: the unit of time column "time" is not stated; accepted: {LAY}')
bad("day-or-month", rows("utc,x,y,z", lambda i: f"05/03/2026 10:00:00.{i}00,{xyz(i)}"), "day and month cannot be told apart",
    'FILE: cannot be read without a layout: dates such as "05/03/2026 10:00:00.000" may be day first or month first (say which with --dates day-first or --dates month-first, or by the time kind of a layout); accepted: '
    + LAY)
bad("dates-told-wrong", rows("utc,x,y,z", lambda i: f"25/03/2026 10:00:00.{i}00,{xyz(i)}"), "told month first, but 25 is no month",
    f'FILE: cannot be read without a layout: dates such as "25/03/2026 10:00:00.000" cannot be month first, as was said; accepted: {LAY}',
    options={"dates": "month-first"})
bad("time-of-day-only", rows("time,x,y,z", lambda i: f"10:00:0{i},{xyz(i)}"), "times without a date",
    f'FILE: cannot be read without a layout: column "time" holds a time of day, but no column holds the date; accepted: {LAY}')
bad("date-only", rows("date,x,y,z", lambda i: f"2026-05-0{i + 1},{xyz(i)}"), "dates without a time",
    f'FILE: cannot be read without a layout: column "date" holds dates without a time of day; accepted: {LAY}')
bad("local-without-zone", stamped("local time", lambda d: frac(d, "%Y-%m-%d %H:%M:%S")), "local time without a zone",
    f"FILE: cannot be read without a layout: the time column says local time, but not in which zone; accepted: {LAY}")
bad("zone-unknown", stamped("utc", lambda d: frac(d, "%Y-%m-%d %H:%M:%S")), "a zone that does not exist",
    'FILE: time zone "Atlantis/Harbour" is not known; accepted: an IANA zone such as Europe/London, or an offset such as +02:00',
    options={"zone": "Atlantis/Harbour"})
bad("spring-skipped-hour", "local,x,y,z\n" + "".join(f"2026-03-29 0{1 + i // 6}:{i * 10 % 60:02d}:00,{xyz(i)}\n" for i in range(6)),
    "an hour that never was", "FILE, line 2, column 1: the local time 2026-03-29T01:00 was skipped when the clocks were put forward; "
    "accepted: times that existed in the layout's zone, or the zone the logger really kept", options={"zone": "Europe/London"})
bad("mixed-offsets", stamped("utc", lambda d: frac(d, "%Y-%m-%dT%H:%M:%S") + ("Z" if d.microsecond != 300000 else "")),
    "an offset in some rows only",
    "FILE, line 2, column 1: some times carry an offset from UTC and some do not; accepted: the same form of time in every row",
    layout=layout(time={"kind": "year-first", "columns": ["utc"]}))
bad("no-such-day", stamped("utc", lambda d: frac(d, "%Y-%m-%d %H:%M:%S")).replace("2026-05-03 10:00:00.300", "2026-02-30 10:00:00.300"),
    "the 30th of February", 'FILE, line 5, column 1: time "2026-02-30 10:00:00.300" cannot be read; accepted: a time such as 2024-05-03T14:05:06.25')
bad("year-absurd", stamped("utc", lambda d: frac(d, "%Y-%m-%d %H:%M:%S")).replace("2026-05-03 10:00:00.300", "9026-05-03 10:00:00.300"),
    "a year far away", 'FILE, line 5, column 1: time "9026-05-03 10:00:00.300" lies outside the years 1970 to 2199; accepted: a time such as 2024-05-03T14:05:06.25')
bad("hour-25", stamped("utc", lambda d: frac(d, "%Y-%m-%d %H:%M:%S")).replace("10:00:00.300", "25:00:00.300"),
    "an hour no clock shows", 'FILE, line 5, column 1: time "2026-05-03 25:00:00.300" cannot be read; accepted: a time such as 2024-05-03T14:05:06.25')
bad("thirteen-pm", rows("utc,x,y,z", lambda i: f"05/23/2026 {'13' if i == 3 else '1'}:00:00.{i}00 PM,{xyz(i)}"),
    "13 pm", 'FILE, line 5, column 1: time "05/23/2026 13:00:00.300 …" cannot be read; accepted: a time such as 05/31/2024 2:05:06 PM (month first)')
bad("same-channel-twice", rows("time_s,x,y,z,acc x", lambda i: f"{sec(i)},{xyz(i)},{X[i]}"), "two columns for one axis",
    f'FILE: cannot be read without a layout: columns "x" and "acc x" both look like accXG; accepted: {LAY}')
bad("unit-contradicts", rows("time_s,x (g),y (g),z (g)", lambda i: f"{sec(i)}," + ",".join(f"{v[i] * G:.4f}" for v in (X, Y, Z))),
    "named g, as large as m/s²",
    f"FILE: cannot be read without a layout: acceleration is stated in g but has a median size of {sorted((X[i]**2 + Y[i]**2 + Z[i]**2)**0.5 for i in range(6))[3] * G:.2f}, as it would in m/s2; accepted: {LAY}")
bad("unit-unknown", rows("time_s,x,y,z", lambda i: f"{sec(i)}," + ",".join(f"{v[i] * 64:.2f}" for v in (X, Y, Z))),
    "counts without a scale", f"FILE: cannot be read without a layout: the unit of acceleration is not stated; accepted: {LAY}")
bad("pressure-unit-unknown", rows("time_s,x,y,z,pressure", lambda i: f"{sec(i)},{xyz(i)},{D[i]}"), "pressure without a unit",
    f'FILE: cannot be read without a layout: the unit of column "pressure" is not stated; accepted: {LAY}')
bad("temperature-unit-unknown", rows("time_s,x,y,z,temp", lambda i: f"{sec(i)},{xyz(i)},{T[i] + 18}"), "33 degrees: which?",
    f'FILE: cannot be read without a layout: the unit of column "temp" is not stated; accepted: {LAY}')
bad("header-beyond-end", plain, "the layout's header line is not there",
    "FILE, line 40: the header line is missing; accepted: a file with at least 40 lines",
    layout=layout(text={"delimiter": "comma", "headerLine": 40}))
bad("data-beyond-end", plain, "the layout's first row is not there",
    "FILE, line 8: the file ends before the first row of values; accepted: at least 40 lines",
    layout=layout(text={"delimiter": "comma", "headerLine": 1, "firstDataLine": 40}))
bad("joined-clocks-differ", [stamped("utc", lambda d: frac(d, "%Y-%m-%d %H:%M:%S")), "time_s,temp (C)\n0.00,14.5\n0.30,14.1\n"],
    "a date in one file, seconds in the other",
    "FILE: one of the files to be joined has a time of day and the other none; accepted: files that all carry a date and time, or all count from the same start",
    layout=[layout(time={"kind": "year-first", "columns": ["utc"]}),
            {**ELAPSED, "columns": [{"column": "temp (C)", "channel": "tempC"}]}])
bad("one-row", "time_s,x,y,z\n0.0,0.1,0.2,0.97\n", "one row: no rate",
    "FILE, line 2, column 1: the sample rate is not known; accepted: a rate, in the layout or with --rate-hz")
bad("slower-acceleration", [rows("time_s,x,y,z", lambda i: f"{i},{xyz(i)}"), "time_s,temp (C)\n" + "".join(f"{i / 10},14.5\n" for i in range(40))],
    "acceleration slower than temperature",
    "FILE: is sampled faster than the acceleration; accepted: an acceleration file at the highest rate of all",
    layout=[ELAPSED, {**ELAPSED, "columns": [{"column": "temp (C)", "channel": "tempC"}]}])

print(len(seen), "cases")
