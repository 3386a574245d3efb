/**
 * A loaded download as values: channels on a checked clock, with gaps and flags. No I/O.
 *
 * <p>Entry point: {@link org.aftercast.recording.Recording}. Samples stand on an even grid: sample {@code i} was taken
 * {@code i / sampleRateHz} seconds after the first; a sample that is missing, or a slow channel between its samples, is
 * {@code NaN}. Whoever computes reads ranges through {@link org.aftercast.recording.SampleSource} and so never needs the
 * whole recording in memory.
 *
 * <p>Does not belong here: parsing (see {@code intake}), anything computed from the samples (see {@code motion}).
 */
@NullMarked
package org.aftercast.recording;

import org.jspecify.annotations.NullMarked;
