package org.aftercast.signal;

import org.jtransforms.fft.DoubleFFT_1D;
import org.jtransforms.utils.CommonUtils;
import org.visnow.jlargearrays.ConcurrencyUtils;

/** The fast Fourier transform, kept to the calling thread so that results do not depend on the number of threads. */
final class Fourier {

    static {
        ConcurrencyUtils.setNumberOfThreads(1);
        CommonUtils.setThreadsBeginN_1D_FFT_2Threads(Long.MAX_VALUE);
        CommonUtils.setThreadsBeginN_1D_FFT_4Threads(Long.MAX_VALUE);
    }

    private Fourier() {}

    /** A transform of {@code n} points; safe to share between threads. */
    static DoubleFFT_1D ofLength(int n) {
        return new DoubleFFT_1D(n);
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
