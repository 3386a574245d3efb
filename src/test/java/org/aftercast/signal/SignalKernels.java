package org.aftercast.signal;

import java.util.SplittableRandom;
import java.util.concurrent.TimeUnit;
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

/** Kernels of the signal room, in nanoseconds per input sample (20 min at 100 Hz). Run by {@code bench/kernels}. */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.NANOSECONDS)
@Warmup(iterations = 3, time = 1)
@Measurement(iterations = 5, time = 1)
@Fork(1)
public class SignalKernels {

    static final int N = 120_000;
    private static final double RATE_HZ = 100;

    private final float[] x = new float[N];
    private final float[] y = new float[N];
    private final float[] z = new float[N];
    private final double[] wide = new double[N];
    private final float[] work = new float[N / 4];
    private final Sections low = Butterworth.lowPass(2, 0.3, RATE_HZ);
    private final Sections band = Butterworth.bandPass(2, 0.3, 3, RATE_HZ);
    private final RidgeFinder ridge = new RidgeFinder(RATE_HZ / 4, 0.3, 3, Double.NaN);

    /** An invented swimmer: 0.9 Hz with a slow drift under noise. */
    public SignalKernels() {
        SplittableRandom random = new SplittableRandom(1);
        for (int i = 0; i < N; i++) {
            double t = i / RATE_HZ;
            wide[i] = 0.1 * Math.sin(2 * Math.PI * (0.9 * t + 0.2 * Math.sin(t / 30))) + 0.01 * random.nextGaussian();
            x[i] = (float) wide[i];
            y[i] = (float) (0.5 * wide[i] + 0.01 * random.nextGaussian());
            z[i] = (float) (1 + 0.02 * random.nextGaussian());
            work[i / 4] += x[i] / 4;
        }
    }

    @Benchmark
    @OperationsPerInvocation(3 * N)
    public float[][] lowPassThreeAxes() {
        return ZeroPhase.filter(x, y, z, low, 1300);
    }

    @Benchmark
    @OperationsPerInvocation(N)
    public float[] lowPassOneAxis() {
        return ZeroPhase.filter(x, low, 1300);
    }

    @Benchmark
    @OperationsPerInvocation(N)
    public float[] bandPassOneAxis() {
        return ZeroPhase.filter(x, band, 1300);
    }

    @Benchmark
    @OperationsPerInvocation(N)
    public double[] bandPassDouble() {
        return ZeroPhase.filter(wide, band, 1300);
    }

    /** Per sample at 100 Hz, of which a quarter reach the ridge. */
    @Benchmark
    @OperationsPerInvocation(N)
    public Ridge ridge() {
        return ridge.find(work);
    }

    @Benchmark
    @OperationsPerInvocation(N)
    public Spectrum welch() {
        return Spectrum.welch(wide, RATE_HZ, 3000);
    }
}
