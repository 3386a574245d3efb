package org.aftercast.fate;

/**
 * One piece of evidence.
 *
 * @param sentence as a biologist would say it, with the numbers
 * @param seen short name of what was measured
 * @param value the number
 * @param reference what it was compared with; {@code NaN} when nothing
 * @param favours the fate that it adds log-odds to
 * @param logOdds natural log-odds it adds to that fate against having survived (negative: speaks against)
 * @param fromS start of the stretch, seconds from the first sample
 * @param toS end of it
 * @param source record or people
 */
public record Evidence(
        String sentence,
        String seen,
        double value,
        double reference,
        FateCall favours,
        double logOdds,
        double fromS,
        double toS,
        Source source) {

    /** Where it comes from. */
    public enum Source {
        /** The logger. */
        RECORD,
        /** What people saw. */
        PEOPLE
    }
}
