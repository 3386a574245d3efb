/**
 * Bytes to and from a {@link org.aftercast.recording.Recording}: download layouts, text parsers, Parquet.
 */
@NullMarked
package org.aftercast.intake;

import org.jspecify.annotations.NullMarked;
