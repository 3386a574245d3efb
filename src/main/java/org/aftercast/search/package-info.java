/**
 * The hunt for one drifting package: drift forecast, observations, fix, advice, ping meter.
 *
 * <p>Entry point: {@link org.aftercast.search.Hunt}. It is opened with a {@link org.aftercast.search.HuntStart} (last
 * contact, sea, boat, beacon, land), fed {@link org.aftercast.search.Observation}s in order of time, and gives a
 * {@link org.aftercast.search.Fix}, a forecast hour by hour and an {@link org.aftercast.search.Advice}.
 *
 * <p>Data flow: observation → {@link org.aftercast.search.BearingCorrection} (true bearing) → particle cloud on a
 * {@link org.aftercast.geo.LocalPlane} (drift, then likelihood, then resampling) → regions by density → advice. Beside
 * it, {@link org.aftercast.search.BearingFix} is the classical fix as a cross-check, and
 * {@link org.aftercast.search.PingMeter} turns sound into loudness.
 *
 * <p>Does not belong here: files, sockets, the clock (times come in), depth, traffic and shoals (not modelled at all).
 */
@NullMarked
package org.aftercast.search;

import org.jspecify.annotations.NullMarked;
