package org.aftercast.search;

import java.time.Instant;
import org.aftercast.geo.LocalPlane;
import org.aftercast.geo.Position;
import org.jspecify.annotations.Nullable;

/**
 * How a search ended.
 *
 * @param outcome retrieved, stranded, handed in or abandoned
 * @param time when
 * @param position where the package was, or null when not known
 * @param hours hours at sea spent on it
 * @param miles nautical miles run for it
 * @param note free text, possibly empty
 */
public record SearchEnd(
        Outcome outcome, Instant time, @Nullable Position position, double hours, double miles, String note) {

    /** How a search ends. */
    public enum Outcome {
        /** Back in hand from the water. */
        RETRIEVED,
        /** Found ashore. */
        STRANDED,
        /** Handed in by someone else. */
        HANDED_IN,
        /** Not sought any longer. */
        ABANDONED
    }

    public SearchEnd {
        if (!(hours >= 0) || !(miles >= 0)) {
            throw new IllegalArgumentException("hours, miles: " + hours + ", " + miles + " must not be negative");
        }
    }

    /**
     * What a retrieved package teaches about drift: its mean velocity from where it came off, to be added to the searches
     * for the others.
     *
     * @param from where and when it came off
     * @return a drift observation at the time it was found
     */
    public Observation.Drift driftSince(HuntStart.Contact from) {
        Position found = position;
        if (found == null) {
            throw new IllegalArgumentException("position: where it was found is needed to learn its drift");
        }
        double seconds = Sea.seconds(from.time(), time);
        if (!(seconds >= 600)) {
            throw new IllegalArgumentException("time: " + time + " is less than ten minutes after it came off");
        }
        LocalPlane.Point moved = new LocalPlane(from.position()).toPlane(found);
        return new Observation.Drift(
                time,
                found,
                moved.xM() / seconds,
                moved.yM() / seconds,
                Observation.Drift.Drifter.RETRIEVED_PACKAGE,
                seconds);
    }
}
