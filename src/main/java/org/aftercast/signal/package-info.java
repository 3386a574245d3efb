/**
 * Filters, spectra, wavelets, peaks and change points: arrays and hertz in, records out.
 *
 * <p>Entry points are the classes named after what they do. Nothing here knows about animals, files or time of day; a
 * sample is a {@code float} or {@code double}, a rate is in hertz, a missing sample is {@code NaN} and is refused
 * unless a method says otherwise. Data flow: array in, array or record out, no state kept between calls.
 *
 * <p>Does not belong here: anything with a channel name, a unit of the sea or of the animal.
 */
@NullMarked
package org.aftercast.signal;

import org.jspecify.annotations.NullMarked;
