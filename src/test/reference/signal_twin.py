#!/usr/bin/env python3
"""Writes the slow-twin values that SignalTwinTest compares with.

Run with Debian's python3 and python3-scipy from the project's root:
    /usr/bin/python3 src/test/reference/signal_twin.py
The versions that made the committed file stand in its first line.
"""
import sys
import numpy as np
import scipy
from scipy import signal

rate = 25.0
n = 400
i = np.arange(n)
# A signal without symmetry: two sines, a drift, a step, and a reproducible pseudo-random part.
state = 12345
noise = np.empty(n)
for k in range(n):
    state = (1103515245 * state + 12345) % 2**31
    noise[k] = state / 2**31 - 0.5
x = 0.3 * np.sin(2 * np.pi * 0.8 * i / rate) + 0.1 * np.cos(2 * np.pi * 2.1 * i / rate) + 0.002 * i
x = x + np.where(i > 250, 0.4, 0.0) + 0.05 * noise

lines = [f"# scipy {scipy.__version__}, numpy {np.__version__}, python {sys.version.split()[0]}"]

def row(name, values):
    lines.append(name + "," + ",".join(repr(float(v)) for v in values))

row("x", x)
designs = {
    "low2": dict(N=2, Wn=0.5, btype="lowpass"),
    "low5": dict(N=5, Wn=3.0, btype="lowpass"),
    "high3": dict(N=3, Wn=0.7, btype="highpass"),
    "band2": dict(N=2, Wn=[0.2, 3.0], btype="bandpass"),
    "band3": dict(N=3, Wn=[0.5, 2.0], btype="bandpass"),
}
for name, d in designs.items():
    b, a = signal.butter(**d, fs=rate)
    row(name + ".b", b)
    row(name + ".a", a)
    sos = signal.butter(**d, fs=rate, output="sos")
    row(name + ".zerophase60", signal.sosfiltfilt(sos, x, padtype="odd", padlen=60))
    w, h = signal.freqz(b, a, worN=np.array([0.1, 0.8, 2.0, 5.0]) * 2 * np.pi / rate)
    row(name + ".gain", np.abs(h))
f, p = signal.welch(x, fs=rate, window="hann", nperseg=128, noverlap=64, detrend="constant")
row("welch128", p)
f, p = signal.welch(x, fs=rate, window="hann", nperseg=75, noverlap=37, detrend="constant")
row("welch75", p)
pad = np.pad(x, 12, mode="constant", constant_values=np.nan)
row("mean25", [np.nanmean(pad[k:k + 25]) for k in range(n)])
row("peaks", signal.find_peaks(x)[0])
peaks = signal.find_peaks(x)[0]
row("prominences", signal.peak_prominences(x, peaks)[0])
# The Morlet transform by direct convolution in time (no Fourier transform), at three scales.
omega0 = 6.0
for s in (0.5, 1.2, 2.0):
    t = (i[:, None] - i[None, :]) / rate
    psi = np.pi ** -0.25 * np.exp(-1j * omega0 * t / s) * np.exp(-(t / s) ** 2 / 2)
    w = np.sqrt(1 / (rate * s)) * (psi * x[:, None]).sum(axis=0)
    row(f"morlet{s}", np.abs(w))
with open("src/test/resources/signal/scipy.csv", "w") as out:
    out.write("\n".join(lines) + "\n")
