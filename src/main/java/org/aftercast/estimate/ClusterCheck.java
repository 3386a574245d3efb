package org.aftercast.estimate;

import org.jspecify.annotations.Nullable;

/**
 * The headline when animals of one trip, vessel or angler are not independent.
 *
 * @param method how it was obtained
 * @param column the group column
 * @param clusters number of clusters
 * @param died share with the interval of a bootstrap that draws whole clusters, or null when refused
 * @param designEffect variance when drawing clusters over variance when drawing animals, or null when refused
 * @param drawsWithoutAnswer resamples in which the share could not be computed
 */
public record ClusterCheck(
        Method method,
        String column,
        int clusters,
        @Nullable Share died,
        @Nullable Double designEffect,
        int drawsWithoutAnswer) {}
