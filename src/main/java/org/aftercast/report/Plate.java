package org.aftercast.report;

import java.time.Instant;
import java.time.ZoneId;
import java.util.List;
import org.aftercast.behaviour.Bout;
import org.aftercast.behaviour.Event;
import org.jspecify.annotations.Nullable;

/**
 * What the figure of one animal shows. Times are in seconds from the first sample.
 *
 * @param animal the animal's name in the study
 * @param series the thinned recording
 * @param firstSample when the recording begins, or null when it carries no time of day
 * @param zone for clock times
 * @param releaseS when the animal was let go
 * @param detachmentS when the package came off, or NaN when not known
 * @param change when its state changed for good (death, being eaten, shedding), or null
 * @param bouts in time order
 * @param events in time order
 * @param gaps where the recording has no samples
 * @param nights from sunset to sunrise; empty when sun times are not known
 */
public record Plate(
        String animal,
        PlateSeries series,
        @Nullable Instant firstSample,
        ZoneId zone,
        double releaseS,
        double detachmentS,
        @Nullable Change change,
        List<Bout> bouts,
        List<Event> events,
        List<Span> gaps,
        List<Span> nights) {

    public Plate {
        bouts = List.copyOf(bouts);
        events = List.copyOf(events);
        gaps = List.copyOf(gaps);
        nights = List.copyOf(nights);
    }

    /**
     * When the state changed for good.
     *
     * @param what one or two words, such as {@code died}
     * @param atS best estimate
     * @param lowS earliest
     * @param highS latest
     */
    public record Change(String what, double atS, double lowS, double highS) {}
}
