package org.aftercast.voyage;

import java.time.Instant;
import java.util.List;
import org.aftercast.behaviour.RestsOnBottom;
import org.aftercast.fate.FateInputs;
import org.aftercast.fate.RecordEnd;
import org.aftercast.fate.Sighting;
import org.jspecify.annotations.Nullable;

/**
 * What is known about an animal beside its recording. Null means not known.
 *
 * @param releaseUtc when it was let go; found from the record when null
 * @param detachUtc when the package came off; found from the record when null
 * @param plannedDetachUtc when the package was meant to come off
 * @param restsOnBottom whether animals of this kind can lie still
 * @param siteDepthM water depth at the release, m
 * @param latitudeDeg latitude of the release, degrees north
 * @param longitudeDeg longitude of the release, degrees east; with the latitude it gives day and night
 * @param recordEnd how the record ended where a person knows
 * @param sightings what people saw
 * @param yardstick the rest of the study's animals
 */
public record ReadContext(
        @Nullable Instant releaseUtc,
        @Nullable Instant detachUtc,
        @Nullable Instant plannedDetachUtc,
        RestsOnBottom restsOnBottom,
        @Nullable Double siteDepthM,
        @Nullable Double latitudeDeg,
        @Nullable Double longitudeDeg,
        @Nullable RecordEnd recordEnd,
        List<Sighting> sightings,
        FateInputs.@Nullable Yardstick yardstick) {

    public ReadContext {
        sightings = List.copyOf(sightings);
    }

    /** Nothing known but the recording. */
    public static ReadContext nothingKnown() {
        return new ReadContext(null, null, null, RestsOnBottom.UNKNOWN, null, null, null, null, List.of(), null);
    }
}
