package org.aftercast.estimate;

/**
 * What all animals together say.
 *
 * @param settings the choices behind it
 * @param whoWasTagged from the landing to the fate
 * @param headline share that died by the horizon
 * @param timeToDeath survival over time
 */
public record EstimateResult(
        EstimateSettings settings, WhoWasTagged whoWasTagged, Headline headline, TimeToDeath timeToDeath) {}
