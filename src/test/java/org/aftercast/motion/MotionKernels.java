package org.aftercast.motion;

import java.util.SplittableRandom;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OperationsPerInvocation;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

/** Kernels of the motion room, in nanoseconds per sample of one frame at 100 Hz. Run by {@code bench/kernels}. */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.NANOSECONDS)
@Warmup(iterations = 3, time = 1)
@Measurement(iterations = 5, time = 1)
@Fork(1)
public class MotionKernels {

    static final int N = 120_000;
    private static final double RATE_HZ = 100;

    private final float[] x = new float[N];
    private final float[] y = new float[N];
    private final float[] z = new float[N];
    private final Axes axes = new Axes(x, y, z);
    private final Axes still = new Axes(new float[N], new float[N], new float[N]);
    private final SwayCycles cycles = new SwayCycles(new Band(0.3, 3, 0.9, "bench", null), RATE_HZ);
    private final double[] quarterTurn = {0, 1, 0, -1, 0, 0, 0, 0, 1};

    /** An invented swimmer: 0.9 Hz with a slow drift under noise. */
    public MotionKernels() {
        SplittableRandom random = new SplittableRandom(1);
        for (int i = 0; i < N; i++) {
            double t = i / RATE_HZ;
            x[i] = (float) (0.01 * random.nextGaussian());
            y[i] = (float) (0.1 * Math.sin(2 * Math.PI * (0.9 * t + 0.2 * Math.sin(t / 30)))
                    + 0.01 * random.nextGaussian());
            z[i] = (float) (1 + 0.02 * random.nextGaussian());
        }
    }

    /** Down to the working rate, wide band, ridge, following band, cycles, shape. */
    @Benchmark
    @OperationsPerInvocation(N)
    public SwayCycles.@Nullable Result cycles() {
        return cycles.find(y);
    }

    @Benchmark
    @OperationsPerInvocation(N)
    public Axes rotate() {
        axes.rotate(quarterTurn, 0, N);
        return axes;
    }

    @Benchmark
    @OperationsPerInvocation(N)
    public Axes workingRate() {
        return axes.averaged(4);
    }

    /** Posture, both dynamic measures and jerk of every second. */
    @Benchmark
    @OperationsPerInvocation(N)
    public FrameMotion.Part activity() {
        FrameMotion.Part part = new FrameMotion.Part(N / 100);
        for (int k = 0; k < N / 100; k++) {
            FrameMotion.second(axes, still, 100 * k, 100 * (k + 1), RATE_HZ, part, k);
        }
        return part;
    }
}
