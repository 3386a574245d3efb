package org.aftercast.intake;

/** Finds the shallow end of a depth or pressure channel: its 1st percentile, to 0.01 dbar or m, without keeping values. */
final class SurfaceWatch {

    private static final double STEP = 0.01;
    private static final double SHARE = 0.01;
    private static final int LEAST = -100;
    private static final int GREATEST = 1000;

    /** Counts from {@link #LEAST} to {@link #GREATEST} in steps of {@link #STEP}; what is deeper counts as deepest. */
    private final long[] counts = new long[(int) ((GREATEST - LEAST) / STEP) + 1];

    private long present;

    void accept(float[] values, int count) {
        for (int i = 0; i < count; i++) {
            float v = values[i];
            if (!Float.isNaN(v)) {
                int bin = (int) Math.round((v - LEAST) / STEP);
                counts[Math.max(0, Math.min(counts.length - 1, bin))]++;
                present++;
            }
        }
    }

    /** The 1st percentile; 0 if nothing is present. */
    float surface() {
        if (present == 0) {
            return 0;
        }
        long rank = (long) Math.ceil(SHARE * present);
        long sum = 0;
        int bin = 0;
        while (sum < rank) {
            sum += counts[bin++];
        }
        return (float) (LEAST + (bin - 1) * STEP);
    }
}
