package org.aftercast.voyage;

import org.aftercast.estimate.EstimateResult;
import org.jspecify.annotations.Nullable;

/**
 * An estimate with where it came from, as written to JSON (docs/estimate.schema.json).
 *
 * @param format always {@code aftercast-estimate}
 * @param formatVersion version of this form
 * @param madeBy program and version
 * @param source name of the file or study folder, without its path
 * @param sourceSha256 checksum of the file, lower-case hexadecimal; null for a study folder
 * @param estimate the estimate
 */
public record EstimateDocument(
        String format,
        int formatVersion,
        String madeBy,
        String source,
        @Nullable String sourceSha256,
        EstimateResult estimate) {

    static final String FORMAT = "aftercast-estimate";
    static final int VERSION = 1;
    static final String MADE_BY = "aftercast " + Version.current();
}
