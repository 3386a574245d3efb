package org.aftercast.motion;

import java.util.Arrays;
import java.util.List;
import org.aftercast.recording.Recording;
import org.aftercast.recording.SampleRange;
import org.aftercast.signal.Butterworth;
import org.aftercast.signal.Sections;
import org.aftercast.signal.ZeroPhase;

/** Third pass, one frame: posture, activity, cycles and noise windows of the seconds that the frame owns. */
final class FrameMotion {

    /** Wave band looked at for surface motion, Hz. */
    private static final double WAVE_LOW_HZ = 0.1;

    private static final double WAVE_HIGH_HZ = 0.7;

    private final Recording recording;
    private final Frames frames;
    private final Scan scan;
    private final Band band;
    private final MotionSettings settings;
    private final List<FrameBlock> bodyFrames;
    private final double rateHz;
    private final Sections posture;
    private final SwayCycles cycles;
    private final long settle;

    FrameMotion(
            Recording recording,
            Frames frames,
            Scan scan,
            Band band,
            MotionSettings settings,
            List<FrameBlock> bodyFrames,
            double postureCutoffHz,
            SwayCycles cycles) {
        this.recording = recording;
        this.frames = frames;
        this.scan = scan;
        this.band = band;
        this.settings = settings;
        this.bodyFrames = bodyFrames;
        this.rateHz = recording.clock().sampleRateHz();
        this.posture = Butterworth.lowPass(2, postureCutoffHz, rateHz);
        this.cycles = cycles;
        double seconds = Math.max(cycles.settleS(), 3 / postureCutoffHz);
        this.settle = (long) Math.ceil(seconds * rateHz);
    }

    /** Length in seconds of the windows over which noise is judged. */
    static int noiseWindowS(Band band) {
        return (int) Math.max(4, Math.ceil(6 / band.cruiseHz()));
    }

    /** Results of one frame, indexed by second within the frame. */
    static final class Part {
        final float[] pitchDeg;
        final float[] rollDeg;
        final float[] l1;
        final float[] l2;
        final float[] jerk;
        final float[] swayRms;
        final float[] waveRms;
        final float[] quality;
        final float[] ridgeHz;
        final float[] ridgeAmplitude;
        final float[] roughG;
        final float[] crossingHz;
        final Candidates cycles = new Candidates();

        Part(int seconds) {
            pitchDeg = nan(seconds);
            rollDeg = nan(seconds);
            l1 = nan(seconds);
            l2 = nan(seconds);
            jerk = nan(seconds);
            swayRms = nan(seconds);
            waveRms = nan(seconds);
            ridgeHz = nan(seconds);
            ridgeAmplitude = nan(seconds);
            roughG = nan(seconds);
            crossingHz = nan(seconds);
            quality = new float[seconds];
        }

        /** The parts of all frames as one. */
        static Part joined(Frames frames, List<Part> parts) {
            Part whole = new Part(frames.seconds());
            for (int f = 0; f < parts.size(); f++) {
                float[][] from = parts.get(f).columns();
                float[][] into = whole.columns();
                for (int c = 0; c < from.length; c++) {
                    System.arraycopy(from[c], 0, into[c], frames.firstSecond(f), from[c].length);
                }
                whole.cycles.addAll(parts.get(f).cycles);
            }
            return whole;
        }

        private float[][] columns() {
            return new float[][] {
                pitchDeg, rollDeg, l1, l2, jerk, swayRms, waveRms, ridgeHz, ridgeAmplitude, roughG, crossingHz, quality
            };
        }

        private static float[] nan(int n) {
            float[] x = new float[n];
            Arrays.fill(x, Float.NaN);
            return x;
        }
    }

    Part compute(int frame) {
        int firstSecond = frames.firstSecond(frame);
        Part part = new Part(frames.endSecond(frame) - firstSecond);
        long from = frames.firstSample(frame);
        long to = frames.endSample(frame);
        // Working samples start at multiples of the decimation so that they are the same in every frame.
        long paddedFrom = Math.max(0, (from - settle) / cycles.decimation() * cycles.decimation());
        long paddedTo = Math.min(recording.samples().sampleCount(), to + settle);
        for (SampleRange piece : Frames.within(scan.pieces(), paddedFrom, paddedTo)) {
            if (piece.sampleCount() >= 16 && piece.toSample() > from && piece.fromSample() < to) {
                compute(piece, from, to, firstSecond, part);
            }
        }
        return part;
    }

    private void compute(SampleRange piece, long from, long to, int firstSecond, Part part) {
        Axes axes = Axes.read(recording.samples(), piece);
        int n = (int) piece.sampleCount();
        float[] sensor = switch (settings.beatAxis()) {
            case SENSOR_X -> axes.x().clone();
            case SENSOR_Y -> axes.y().clone();
            case SENSOR_Z -> axes.z().clone();
            case SWAY, STRONGEST -> null;
        };
        turn(axes, piece);
        int pad = (int) Math.min(settle, Integer.MAX_VALUE / 4);
        float[][] slow = ZeroPhase.filter(axes.x(), axes.y(), axes.z(), posture, pad);
        Axes still = new Axes(slow[0], slow[1], slow[2]);
        float[] sway = sensor != null
                ? sensor
                : settings.beatAxis() == MotionSettings.BeatAxis.STRONGEST ? strongest(axes, still) : axes.y();
        SwayCycles.Result found = band.refusal() == null ? cycles.find(sway) : null;
        float[] wave = waves(axes.z());
        for (int k = 0; k < part.pitchDeg.length; k++) {
            int second = firstSecond + k;
            int i0 = (int) Math.max(0, frames.sampleOfSecond(second) - piece.fromSample());
            int i1 = (int) Math.min(n, frames.sampleOfSecond(second + 1L) - piece.fromSample());
            if (i1 <= i0) {
                continue;
            }
            double owned = frames.sampleOfSecond(second + 1L) - frames.sampleOfSecond(second);
            float quality = (float) ((i1 - i0) / Math.max(1, owned));
            if (quality <= part.quality[k]) {
                continue; // another run holds more of this second
            }
            part.quality[k] = quality;
            second(axes, still, i0, i1, rateHz, part, k);
            if (found != null) {
                sway(found, i0, i1, part, k);
            }
            part.roughG[k] = rough(sway, i0, i1);
            if (wave.length > 0) {
                int w = cycles.decimation();
                part.waveRms[k] = rms(wave, i0 / w, Math.max(i0 / w + 1, i1 / w));
            }
        }
        if (found != null) {
            crossings(found, piece, firstSecond, part);
            keep(found, piece, from, to, part);
        }
    }

    /** Frequency of the whole-band cycle that covers the middle of each second: beats told without the ridge. */
    private void crossings(SwayCycles.Result found, SampleRange piece, int firstSecond, Part part) {
        double base = piece.fromSample() / rateHz + found.offsetS() - firstSecond;
        double[] at = found.crossingS();
        for (int i = 0; i + 1 < at.length; i++) {
            float hz = (float) (1 / (at[i + 1] - at[i]));
            int last = (int) Math.ceil(base + at[i + 1] - 0.5);
            for (int k = Math.max(0, (int) Math.ceil(base + at[i] - 0.5));
                    k < Math.min(last, part.quality.length);
                    k++) {
                part.crossingHz[k] = hz;
            }
        }
    }

    /** Cycles that start within the frame, with seconds counted from the first sample of the recording. */
    private void keep(SwayCycles.Result found, SampleRange piece, long from, long to, Part part) {
        double base = piece.fromSample() / rateHz + found.offsetS();
        double low = from / rateHz;
        double high = to / rateHz;
        Candidates c = found.cycles();
        for (int i = 0; i < c.count; i++) {
            double start = base + c.startS[i];
            if (start >= low && start < high) {
                part.cycles.add(start, c.periodS[i], c.amplitudeG[i], c.peakToPeakG[i], c.ridgeHz[i]);
            }
        }
    }

    private void turn(Axes axes, SampleRange piece) {
        for (int i = 0; i < bodyFrames.size(); i++) {
            FrameBlock block = bodyFrames.get(i);
            long end = i == bodyFrames.size() - 1 ? Long.MAX_VALUE : Math.round(block.toS() * rateHz);
            long from = Math.max(piece.fromSample(), Math.round(block.fromS() * rateHz));
            long to = Math.min(piece.toSample(), end);
            if (to > from) {
                axes.rotate(block.rotation(), (int) (from - piece.fromSample()), (int) (to - piece.fromSample()));
            }
        }
    }

    private static float[] strongest(Axes axes, Axes still) {
        float[][] all = {axes.x(), axes.y(), axes.z()};
        float[][] slow = {still.x(), still.y(), still.z()};
        int best = 1;
        double bestVariance = -1;
        for (int c = 0; c < 3; c++) {
            double sum = 0;
            for (int i = 0; i < all[c].length; i++) {
                double d = all[c][i] - slow[c][i];
                sum += d * d;
            }
            if (sum > bestVariance) {
                bestVariance = sum;
                best = c;
            }
        }
        return all[best];
    }

    private float[] waves(float[] vertical) {
        float[] work = cycles.workingRate(vertical);
        double high = Math.min(WAVE_HIGH_HZ, 0.45 * cycles.workHz());
        if (work.length < 32 || high <= WAVE_LOW_HZ) {
            return new float[0];
        }
        Sections filter = Butterworth.bandPass(1, WAVE_LOW_HZ, high, cycles.workHz());
        return ZeroPhase.filter(work, filter, (int) Math.ceil(20 * cycles.workHz()));
    }

    /** Posture, dynamic measures and jerk of samples i0 to i1 into row k. */
    static void second(Axes axes, Axes still, int i0, int i1, double rateHz, Part part, int k) {
        double sx = 0;
        double sy = 0;
        double sz = 0;
        double l1 = 0;
        double l2 = 0;
        double jerk = 0;
        int n = i1 - i0;
        int jerks = 0;
        for (int i = i0; i < i1; i++) {
            double dx = axes.x()[i] - still.x()[i];
            double dy = axes.y()[i] - still.y()[i];
            double dz = axes.z()[i] - still.z()[i];
            sx += still.x()[i];
            sy += still.y()[i];
            sz += still.z()[i];
            l1 += Math.abs(dx) + Math.abs(dy) + Math.abs(dz);
            l2 += Math.sqrt(dx * dx + dy * dy + dz * dz);
            if (i + 1 < axes.x().length) {
                double jx = axes.x()[i + 1] - axes.x()[i];
                double jy = axes.y()[i + 1] - axes.y()[i];
                double jz = axes.z()[i + 1] - axes.z()[i];
                jerk += Math.sqrt(jx * jx + jy * jy + jz * jz);
                jerks++;
            }
        }
        part.pitchDeg[k] = (float) Posture.pitchDeg(sx, sy, sz);
        part.rollDeg[k] = (float) Posture.rollDeg(sx, sy, sz);
        part.l1[k] = (float) (l1 / n);
        part.l2[k] = (float) (l2 / n);
        part.jerk[k] = jerks == 0 ? Float.NaN : (float) (jerk / jerks * rateHz);
    }

    private void sway(SwayCycles.Result found, int i0, int i1, Part part, int k) {
        int w = cycles.decimation();
        int from = i0 / w;
        part.swayRms[k] = rms(found.wideSway(), from, Math.max(from + 1, i1 / w));
        int step = found.ridge().stepAt((i0 + i1) / 2.0 / rateHz);
        part.ridgeHz[k] = found.ridge().hz()[step];
        part.ridgeAmplitude[k] = found.ridge().amplitude()[step];
    }

    private static float rms(float[] x, int from, int to) {
        double sum = 0;
        int end = Math.min(to, x.length);
        for (int i = from; i < end; i++) {
            sum += x[i] * x[i];
        }
        return end > from ? (float) Math.sqrt(sum / (end - from)) : Float.NaN;
    }

    /** Root mean square of the second difference over √6: the white-noise standard deviation, raised by any movement. */
    private static float rough(float[] x, int i0, int i1) {
        double sum = 0;
        int n = 0;
        for (int i = Math.max(1, i0); i < Math.min(x.length - 1, i1); i++) {
            double d = x[i - 1] - 2 * x[i] + x[i + 1];
            sum += d * d;
            n++;
        }
        return n < 2 ? Float.NaN : (float) Math.sqrt(sum / n / 6);
    }
}
