package org.aftercast.motion;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import org.aftercast.recording.Recording;
import org.aftercast.recording.SampleRange;
import org.aftercast.signal.Butterworth;
import org.aftercast.signal.Sections;
import org.aftercast.signal.ZeroPhase;

/**
 * Second pass: gravity and band-passed covariance of the sensor axes by blocks of a few seconds, from which the body frame
 * is found.
 *
 * @param lengthS length of a block in seconds
 * @param gravity mean acceleration by block, 3 values each (NaN where the block is not complete)
 * @param covariance band-passed covariance by block: xx, xy, xz, yy, yz, zz in g²
 */
record Blocks(int lengthS, double[] gravity, double[] covariance) {

    int count() {
        return gravity.length / 3;
    }

    boolean has(int block) {
        return !Double.isNaN(gravity[3 * block]);
    }

    /** Total band-passed variance (trace), g². */
    double energy(int block) {
        return covariance[6 * block] + covariance[6 * block + 3] + covariance[6 * block + 5];
    }

    static Blocks of(Recording recording, Frames frames, Scan scan, Band band) {
        double rate = recording.clock().sampleRateHz();
        int lengthS = (int) Math.max(5, Math.min(60, Math.ceil(5 / band.cruiseHz())));
        int n = (frames.seconds() + lengthS - 1) / lengthS;
        double[] gravity = new double[3 * n];
        double[] covariance = new double[6 * n];
        Arrays.fill(gravity, Double.NaN);
        Arrays.fill(covariance, Double.NaN);
        double low = band.lowHz();
        double high = Math.min(band.highHz(), 0.45 * rate);
        if (!(low < high)) {
            return new Blocks(lengthS, gravity, covariance);
        }
        int averaged = SwayCycles.decimation(high, rate);
        Sections filter = Butterworth.bandPass(2, low, high, rate / averaged);
        int settle = (int) Math.ceil(4 / low * rate / averaged);
        int blocksPerFrame = Math.max(1, (int) Math.round((1 << 17) / rate / lengthS));
        int framesOfBlocks = (n + blocksPerFrame - 1) / blocksPerFrame;
        List<double[]> parts = IntStream.range(0, framesOfBlocks)
                .parallel()
                .mapToObj(f -> {
                    int firstBlock = f * blocksPerFrame;
                    int endBlock = Math.min(n, firstBlock + blocksPerFrame);
                    return part(recording, frames, scan, averaged, filter, settle, lengthS, firstBlock, endBlock);
                })
                .toList();
        for (int f = 0; f < parts.size(); f++) {
            double[] part = parts.get(f);
            int firstBlock = f * blocksPerFrame;
            for (int b = 0; b < part.length / 9; b++) {
                System.arraycopy(part, 9 * b, gravity, 3 * (firstBlock + b), 3);
                System.arraycopy(part, 9 * b + 3, covariance, 6 * (firstBlock + b), 6);
            }
        }
        return new Blocks(lengthS, gravity, covariance);
    }

    private static double[] part(
            Recording recording,
            Frames frames,
            Scan scan,
            int averaged,
            Sections filter,
            int settle,
            int lengthS,
            int firstBlock,
            int endBlock) {
        double[] out = new double[9 * (endBlock - firstBlock)];
        Arrays.fill(out, Double.NaN);
        long from = Math.max(0, frames.sampleOfSecond((long) firstBlock * lengthS) - (long) settle * averaged);
        long to = Math.min(
                recording.samples().sampleCount(),
                frames.sampleOfSecond((long) endBlock * lengthS) + (long) settle * averaged);
        for (SampleRange piece : Frames.within(scan.pieces(), from, to)) {
            if (piece.sampleCount() < 16L * averaged) {
                continue;
            }
            Axes raw = Axes.read(recording.samples(), piece).averaged(averaged);
            float[][] band = ZeroPhase.filter(raw.x(), raw.y(), raw.z(), filter, settle);
            Axes passed = new Axes(band[0], band[1], band[2]);
            for (int b = firstBlock; b < endBlock; b++) {
                long start = frames.sampleOfSecond((long) b * lengthS);
                long end = frames.sampleOfSecond((b + 1L) * lengthS);
                if (start < piece.fromSample() || end > piece.toSample() || end <= start) {
                    continue;
                }
                int i0 = (int) (start - piece.fromSample()) / averaged;
                int i1 = (int) (end - piece.fromSample()) / averaged;
                sums(raw, passed, i0, i1, out, 9 * (b - firstBlock));
            }
        }
        return out;
    }

    private static void sums(Axes raw, Axes passed, int from, int to, double[] out, int at) {
        double gx = 0;
        double gy = 0;
        double gz = 0;
        double xx = 0;
        double xy = 0;
        double xz = 0;
        double yy = 0;
        double yz = 0;
        double zz = 0;
        for (int i = from; i < to; i++) {
            gx += raw.x()[i];
            gy += raw.y()[i];
            gz += raw.z()[i];
            double x = passed.x()[i];
            double y = passed.y()[i];
            double z = passed.z()[i];
            xx += x * x;
            xy += x * y;
            xz += x * z;
            yy += y * y;
            yz += y * z;
            zz += z * z;
        }
        double n = to - from;
        double[] values = {gx / n, gy / n, gz / n, xx / n, xy / n, xz / n, yy / n, yz / n, zz / n};
        System.arraycopy(values, 0, out, at, 9);
    }

    /** Seconds at the middle of a block. */
    double middleS(int block) {
        return (block + 0.5) * lengthS;
    }

    /** Blocks for which a test holds, in order. */
    List<Integer> where(java.util.function.IntPredicate test) {
        List<Integer> found = new ArrayList<>();
        for (int b = 0; b < count(); b++) {
            if (has(b) && test.test(b)) {
                found.add(b);
            }
        }
        return found;
    }
}
