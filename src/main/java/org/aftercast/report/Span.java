package org.aftercast.report;

/**
 * A stretch of time on a recording.
 *
 * @param fromS start in seconds from the first sample
 * @param toS end in seconds from the first sample, ≥ {@code fromS}
 */
public record Span(double fromS, double toS) {

    public Span {
        if (!(toS >= fromS)) {
            throw new IllegalArgumentException("fromS, toS: " + fromS + ", " + toS + " run backwards");
        }
    }
}
