package org.aftercast.motion;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import org.aftercast.recording.Channel;
import org.aftercast.recording.Recording;
import org.aftercast.recording.SampleRange;
import org.aftercast.recording.SampleSource;

/**
 * First pass: where acceleration is present, and the slow channels by the second.
 *
 * @param pieces runs of samples over which all three axes can be computed on: nothing is missing in them but runs of at
 *     most the bridge length
 * @param bridgedSamples how many missing samples lie inside the pieces
 * @param depthM mean depth by second, NaN where none was sampled
 * @param tempC mean temperature by second, NaN where none was sampled
 * @param saturation where an axis stood at its full scale
 */
record Scan(List<SampleRange> pieces, long bridgedSamples, float[] depthM, float[] tempC, Saturation saturation) {

    static Scan of(Recording recording, Frames frames, MotionSettings settings) {
        double rate = recording.clock().sampleRateHz();
        int bridge = (int) Math.floor(settings.bridgeS() * rate + 1e-9);
        List<Part> parts = IntStream.range(0, frames.count())
                .parallel()
                .mapToObj(f -> part(recording, frames, f, settings))
                .toList();
        float[] depth = new float[frames.seconds()];
        float[] temp = new float[frames.seconds()];
        List<long[]> missing = new ArrayList<>();
        for (int f = 0; f < parts.size(); f++) {
            Part part = parts.get(f);
            System.arraycopy(part.depthM, 0, depth, frames.firstSecond(f), part.depthM.length);
            System.arraycopy(part.tempC, 0, temp, frames.firstSecond(f), part.tempC.length);
            for (long[] run : part.missing) {
                long[] last = missing.isEmpty() ? null : missing.get(missing.size() - 1);
                if (last != null && last[1] == run[0]) {
                    last[1] = run[1];
                } else {
                    missing.add(run);
                }
            }
        }
        List<SampleRange> pieces = new ArrayList<>();
        long bridged = 0;
        long from = 0;
        long end = recording.samples().sampleCount();
        for (long[] run : missing) {
            boolean inside = run[0] > 0 && run[1] < end;
            if (inside && run[1] - run[0] <= bridge) {
                bridged += run[1] - run[0];
                continue;
            }
            if (run[0] > from) {
                pieces.add(new SampleRange(from, run[0]));
            }
            from = run[1];
        }
        if (end > from) {
            pieces.add(new SampleRange(from, end));
        }
        return new Scan(
                pieces,
                bridged,
                depth,
                temp,
                Saturation.of(parts.stream().map(Part::sides).toList()));
    }

    private record Part(float[] depthM, float[] tempC, List<long[]> missing, Saturation.Side[][] sides) {}

    private static Part part(Recording recording, Frames frames, int frame, MotionSettings settings) {
        long from = frames.firstSample(frame);
        int n = (int) (frames.endSample(frame) - from);
        float[] buffer = new float[n];
        boolean[] gone = new boolean[n];
        SampleSource samples = recording.samples();
        Saturation.Side[][] sides = new Saturation.Side[3][];
        int number = 0;
        for (Channel axis : new Channel[] {Channel.ACCELERATION_X, Channel.ACCELERATION_Y, Channel.ACCELERATION_Z}) {
            samples.read(axis, from, n, buffer, 0);
            sides[number++] = Saturation.sides(buffer, frames, frame);
            for (int i = 0; i < n; i++) {
                if (!(Math.abs(buffer[i]) <= Float.MAX_VALUE)) {
                    gone[i] = true;
                }
            }
        }
        List<long[]> missing = new ArrayList<>();
        for (int i = 0; i < n; i++) {
            if (gone[i]) {
                int j = i;
                while (j < n && gone[j]) {
                    j++;
                }
                missing.add(new long[] {from + i, from + j});
                i = j;
            }
        }
        int seconds = frames.endSecond(frame) - frames.firstSecond(frame);
        float[] depth = new float[seconds];
        float[] temp = new float[seconds];
        Arrays.fill(depth, Float.NaN);
        Arrays.fill(temp, Float.NaN);
        if (recording.has(Channel.DEPTH)) {
            samples.read(Channel.DEPTH, from, n, buffer, 0);
            means(buffer, frames, frame, depth);
        } else if (recording.has(Channel.PRESSURE)) {
            samples.read(Channel.PRESSURE, from, n, buffer, 0);
            means(buffer, frames, frame, depth);
            for (int k = 0; k < seconds; k++) {
                depth[k] = (float) Seawater.depthM(depth[k], settings.latitudeDeg());
            }
        }
        if (recording.has(Channel.TEMPERATURE)) {
            samples.read(Channel.TEMPERATURE, from, n, buffer, 0);
            means(buffer, frames, frame, temp);
        }
        return new Part(depth, temp, missing, sides);
    }

    private static void means(float[] buffer, Frames frames, int frame, float[] into) {
        long base = frames.firstSample(frame);
        int first = frames.firstSecond(frame);
        for (int k = 0; k < into.length; k++) {
            int from = (int) (frames.sampleOfSecond(first + k) - base);
            int to = (int) (frames.sampleOfSecond(first + k + 1L) - base);
            double sum = 0;
            int n = 0;
            for (int i = from; i < to; i++) {
                float v = buffer[i];
                if (!Float.isNaN(v)) {
                    sum += v;
                    n++;
                }
            }
            into[k] = n == 0 ? Float.NaN : (float) (sum / n);
        }
    }
}
