#!/usr/bin/python3
"""The scripted reference of bench/motion: what a careful practitioner would write with numpy, scipy and pandas.

usage: reference.py csv FILE | reference.py array FILE.f32

Parses (csv) or maps (array, five columns of float32 one after the other) a recording at 100 Hz, then computes what Aftercast's motion computes:
posture from a zero-phase low-pass, both dynamic measures, jerk, sway in a body frame levelled by mean gravity and turned
to the principal axis, band-pass, beats with hysteresis and a noise threshold, and a per-second table. One line of JSON.
"""
import json
import resource
import sys
import time

import numpy as np
import pandas as pd
from scipy import signal

LOW_HZ, HIGH_HZ = 0.3, 3.0
CUTOFF_HZ = np.sqrt(LOW_HZ * HIGH_HZ) / 3
RATE_HZ = 100.0


def parse(path):
    table = pd.read_csv(path)
    stamp = table.columns[0]
    if stamp == "time_utc":
        seconds = pd.to_datetime(table[stamp], utc=True).astype("int64").to_numpy() / 1e9
    else:
        seconds = table[stamp].to_numpy()
    step = np.diff(seconds)
    if np.any(step <= 0):
        raise SystemExit("time runs backwards")
    rate = 1 / np.median(step)
    return rate, table.iloc[:, 1:6].to_numpy(dtype=np.float64)


def level(gravity):
    """Rotation that turns mean gravity to (0, 0, 1): Ry·Rx of pitch and roll."""
    x, y, z = gravity
    roll = np.arctan2(y, z)
    pitch = np.arctan2(x, np.hypot(y, z))
    cr, sr, cp, sp = np.cos(roll), np.sin(roll), np.cos(pitch), np.sin(pitch)
    rx = np.array([[1, 0, 0], [0, cr, -sr], [0, sr, cr]])
    ry = np.array([[cp, 0, -sp], [0, 1, 0], [sp, 0, cp]])
    return ry @ rx


def compute(rate, data):
    acc = data[:, :3].T
    n = acc.shape[1]
    band = signal.butter(2, [LOW_HZ, HIGH_HZ], "band", fs=rate, output="sos")
    low = signal.butter(2, CUTOFF_HZ, "low", fs=rate, output="sos")
    # Body frame from blocks of swimming: energy in the band well above the quietest.
    passed = signal.sosfiltfilt(band, acc, axis=1)
    block = int(10 * rate)
    blocks = n // block
    cut = passed[:, : blocks * block].reshape(3, blocks, block)
    energy = (cut**2).mean(axis=2).sum(axis=0)
    swims = energy > 0.08 * np.quantile(energy, 0.9)
    mean = acc[:, : blocks * block].reshape(3, blocks, block).mean(axis=2)[:, swims].mean(axis=1)
    rotation = level(mean)
    flat = rotation @ cut[:, swims].reshape(3, -1)
    horizontal = flat[:2] @ flat[:2].T
    _, vectors = np.linalg.eigh(horizontal)
    lateral = vectors[:, 1]
    yaw = np.array([[lateral[1], -lateral[0], 0], [lateral[0], lateral[1], 0], [0, 0, 1]])
    body = (yaw @ rotation) @ acc

    still = signal.sosfiltfilt(low, body, axis=1)
    dynamic = body - still
    l1 = np.abs(dynamic).sum(axis=0)
    l2 = np.sqrt((dynamic**2).sum(axis=0))
    jerk = np.sqrt((np.diff(body, axis=1) ** 2).sum(axis=0)) * rate
    jerk = np.append(jerk, jerk[-1])
    sway = signal.sosfiltfilt(band, body[1])

    # Beats: upward crossings, with hysteresis and a threshold from the quietest windows.
    per = int(round(rate))
    seconds = n // per
    whole = seconds * per
    rms = np.sqrt((sway[:whole].reshape(seconds, per) ** 2).mean(axis=1))
    noise = np.quantile(rms, 0.02)
    up = np.flatnonzero((sway[:-1] < 0) & (sway[1:] >= 0))
    at = up + sway[up] / (sway[up] - sway[up + 1])
    top = np.maximum.reduceat(sway, up)[:-1]
    bottom = np.minimum.reduceat(sway, up)[:-1]
    period = np.diff(at) / rate
    amplitude = (top - bottom) / 2
    usual = np.quantile(amplitude[amplitude > 3 * noise], 0.75)
    least = max(3 * noise, 0.15 * usual)
    beat = (amplitude > least) & (period > 1 / HIGH_HZ) & (period < 1 / LOW_HZ)
    starts, periods, amplitudes = at[:-1][beat] / rate, period[beat], amplitude[beat]

    # The per-second table.
    def mean_of(x):
        return x[:whole].reshape(seconds, per).mean(axis=1)

    sx, sy, sz = (mean_of(still[c]) for c in range(3))
    pitch = np.degrees(np.arctan2(sx, np.hypot(sy, sz)))
    roll = np.degrees(np.arctan2(sy, sz))
    middle = np.arange(seconds) + 0.5
    index = np.searchsorted(starts, middle, side="right") - 1
    covered = (index >= 0) & (middle < starts[index] + periods[index])
    beat_hz = np.where(covered, 1 / periods[index], np.nan)
    table = pd.DataFrame(
        {
            "depthM": mean_of(data[:, 3]),
            "tempC": mean_of(data[:, 4]),
            "pitchDeg": pitch,
            "rollDeg": roll,
            "dynamicL1G": mean_of(l1),
            "dynamicL2G": mean_of(l2),
            "jerkGps": mean_of(jerk),
            "beatHz": beat_hz,
            "swayRmsG": rms,
        }
    )
    return table, periods, amplitudes


def cpu():
    used = resource.getrusage(resource.RUSAGE_SELF)
    return used.ru_utime + used.ru_stime


def main():
    mode, path = sys.argv[1:3]
    start, cpu0 = time.perf_counter(), cpu()
    runs = []
    if mode == "csv":
        rate, data = parse(path)
        parsed, cpu1 = time.perf_counter(), cpu()
        table, periods, amplitudes = compute(rate, data)
        end, cpu2 = time.perf_counter(), cpu()
        parse_s, compute_s, compute_cpu = parsed - start, end - parsed, cpu2 - cpu1
        wall, total_cpu = end - start, cpu2 - cpu0
    else:
        data = np.fromfile(path, dtype="<f4").reshape(5, -1).T.astype(np.float64)
        for _ in range(3):
            begin, cpu1 = time.perf_counter(), cpu()
            table, periods, amplitudes = compute(RATE_HZ, data)
            runs.append((time.perf_counter() - begin, cpu() - cpu1))
        parse_s, compute_s = 0.0, float(np.median([r[0] for r in runs]))
        compute_cpu = float(np.median([r[1] for r in runs]))
        wall, total_cpu = compute_s, compute_cpu
    print(
        json.dumps(
            {
                "parseS": parse_s,
                "computeS": compute_s,
                "wallS": wall,
                "cpuS": total_cpu,
                "computeCpuS": compute_cpu,
                "peakMb": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024,
                "beats": int(len(periods)),
                "beatHz": 1 / float(np.median(periods)),
                "amplitudeG": float(np.median(amplitudes)),
                "pitchDeg": float(table.pitchDeg.median()),
                "rollDeg": float(table.rollDeg.median()),
                "l1G": float(table.dynamicL1G.median()),
                "l2G": float(table.dynamicL2G.median()),
                "jerkGps": float(table.jerkGps.median()),
                "swayRmsG": float(table.swayRmsG.median()),
                "depthM": float(table.depthM.median()),
                "tempC": float(table.tempC.median()),
            }
        )
    )


if __name__ == "__main__":
    main()
