package org.aftercast.estimate;

import org.jspecify.annotations.Nullable;

/**
 * The headline when each animal carries probabilities instead of a fate.
 *
 * @param method how it was obtained
 * @param withProbabilities animals that carry probabilities
 * @param inDoubt of these, animals for which no fate has 99 % or more
 * @param calibration whether the probabilities are known to be right as often as they say, in words
 * @param expectedDeaths sum of the probabilities of a death that counts, by the horizon; null when refused
 * @param mixture Jeffreys intervals mixed by the probability of each possible number of deaths; null when refused or
 *     when some animals may have left our sight before the horizon
 * @param imputed fates drawn many times, each with a draw from the posterior of the share; null when refused
 * @param allDoubtfulAlive the headline if every animal in doubt were alive; null when refused
 * @param allDoubtfulDead the headline if every animal in doubt had died; null when refused
 */
public record UncertainFates(
        Method method,
        int withProbabilities,
        int inDoubt,
        String calibration,
        @Nullable Double expectedDeaths,
        @Nullable Share mixture,
        @Nullable Share imputed,
        @Nullable Share allDoubtfulAlive,
        @Nullable Share allDoubtfulDead) {}
