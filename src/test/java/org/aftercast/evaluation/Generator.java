package org.aftercast.evaluation;

import org.aftercast.sim.SimulatedRecording;

/**
 * Where recordings with known truth come from. Anyone can measure Aftercast on a generator of their own: implement this
 * with a public constructor without arguments, put it on the class path and run {@code ./evaluate --generator
 * your.ClassName PART…}. Truth is handed over as {@link org.aftercast.sim.Truth}; fields that a generator cannot know may
 * be empty arrays, and the parts that need them then say so.
 */
public interface Generator {

    /** Name for the tables. */
    String name();

    /**
     * Recording number {@code index} for a purpose.
     *
     * @param purpose what the recordings are for
     * @param index 0, 1, 2 …; the same number gives the same recording
     */
    SimulatedRecording make(Purpose purpose, int index);

    /** What a set of recordings is for. */
    enum Purpose {
        /** Beats over the whole range of frequency, amplitude, noise and rate; about an hour each. */
        BEATS,
        /** Ten hours at 20 Hz, every course. */
        WHOLE,
        /** Harder and longer, every course. */
        HARD,
        /** A mount that shifts by a tilt of 20°, with at least 10 minutes of swimming on each side. */
        MOUNT_SHIFT,
        /** A mount that does not shift; about a day each. */
        MOUNT_STILL,
        /** Swimming animals over twelve hours that return to normal, or were never disturbed. */
        RECOVERY,
        /** Well animals over a day, two bursts a day. */
        BURSTS_2,
        /** Ten bursts a day. */
        BURSTS_10,
        /** Fifty bursts a day. */
        BURSTS_50
    }
}
