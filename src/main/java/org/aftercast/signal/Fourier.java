package org.aftercast.signal;

import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import org.jtransforms.fft.DoubleFFT_1D;
import org.jtransforms.fft.FloatFFT_1D;
import org.jtransforms.utils.CommonUtils;
import org.visnow.jlargearrays.ConcurrencyUtils;

/** The fast Fourier transform, kept to the calling thread so that results do not depend on the number of threads. */
final class Fourier {

    static {
        ConcurrencyUtils.setNumberOfThreads(1);
        CommonUtils.setThreadsBeginN_1D_FFT_2Threads(Long.MAX_VALUE);
        CommonUtils.setThreadsBeginN_1D_FFT_4Threads(Long.MAX_VALUE);
    }

    private static final Map<Integer, FloatFFT_1D> SINGLE = new ConcurrentHashMap<>();

    private Fourier() {}

    /** A transform of {@code n} points; safe to share between threads. */
    static DoubleFFT_1D ofLength(int n) {
        return new DoubleFFT_1D(n);
    }

    /** The same in single precision, kept by length because its tables are dear to make. */
    static FloatFFT_1D singleOfLength(int n) {
        return SINGLE.computeIfAbsent(n, FloatFFT_1D::new);
    }

    /** Smallest power of two ≥ n. */
    static int powerOfTwo(int n) {
        int p = 1;
        while (p < n) {
            p <<= 1;
        }
        return p;
    }
}
