package org.aftercast.signal;

/**
 * The strongest oscillation at every moment, as {@link RidgeFinder} finds it.
 *
 * @param stepS seconds between steps; step k stands at k·stepS after the first sample
 * @param hz ridge frequency at each step
 * @param amplitude amplitude of the oscillation at each step, in the unit of the signal
 */
public record Ridge(double stepS, float[] hz, float[] amplitude) {

    /** Index of the step nearest to a time, clamped to the ridge. */
    public int stepAt(double seconds) {
        return (int) Math.max(0, Math.min(hz.length - 1, Math.round(seconds / stepS)));
    }
}
