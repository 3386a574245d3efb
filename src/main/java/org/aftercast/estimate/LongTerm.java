package org.aftercast.estimate;

import org.jspecify.annotations.Nullable;

/**
 * A curve for the long run: a share is hurt by the catch and dies of it with time, the rest lives on.
 *
 * @param method how it was fitted
 * @param hurtShare share hurt by the catch, 0–1; null when refused
 * @param halfTimeH hours in which half of those hurt have died; null when refused
 * @param shape 1 for a constant rate; null when refused
 * @param naturalPerH natural death rate per hour that was given
 * @param remark how well the data tell the parts apart; null when refused
 */
public record LongTerm(
        Method method,
        @Nullable Double hurtShare,
        @Nullable Double halfTimeH,
        @Nullable Double shape,
        double naturalPerH,
        @Nullable String remark) {}
