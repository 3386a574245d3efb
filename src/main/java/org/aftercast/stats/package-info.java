/**
 * Intervals, survival, regression and resampling: numbers in, records out.
 *
 * <p>Knows nothing about fish. Randomness enters as a seed. Does not belong here: what a number means for a study (see
 * {@code estimate}).
 */
@NullMarked
package org.aftercast.stats;

import org.jspecify.annotations.NullMarked;
