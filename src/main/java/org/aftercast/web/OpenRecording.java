package org.aftercast.web;

import java.util.ArrayList;
import java.util.List;
import org.aftercast.motion.SwaySignal;
import org.aftercast.recording.Channel;
import org.aftercast.recording.Recording;
import org.aftercast.recording.SampleSource;
import org.aftercast.voyage.Reading;
import org.jspecify.annotations.Nullable;

/**
 * A stored recording with its reading, ready to be looked at.
 *
 * @param animal the animal
 * @param key recording and reading it stands for
 * @param recording the recording
 * @param reading its newest reading, or null when it has not been read
 * @param tracks what is drawn from the samples themselves
 * @param minMax the summary of those tracks
 */
record OpenRecording(
        String animal,
        String key,
        Recording recording,
        @Nullable Reading reading,
        List<Track> tracks,
        MinMaxFile minMax) {

    /**
     * One thing drawn from the samples.
     *
     * @param name name of the series, as pages ask for it
     * @param unit its unit
     * @param decimals digits after the point that are sent
     * @param reader reads a range
     */
    record Track(String name, String unit, int decimals, Reader reader) {}

    /** Reads a range of samples into an array from index 0. */
    interface Reader {
        void read(long from, int count, float[] into);
    }

    /** The tracks of a recording: depth, temperature, and the sway when it was read, else the sensor's own axes. */
    static List<Track> tracksOf(Recording recording, @Nullable Reading reading) {
        List<Track> tracks = new ArrayList<>();
        SampleSource samples = recording.samples();
        if (recording.has(Channel.DEPTH)) {
            tracks.add(plain("depth", Channel.DEPTH, 2, samples));
        } else if (recording.has(Channel.PRESSURE)) {
            tracks.add(plain("pressure", Channel.PRESSURE, 2, samples));
        }
        boolean threeAxes = recording.has(Channel.ACCELERATION_X)
                && recording.has(Channel.ACCELERATION_Y)
                && recording.has(Channel.ACCELERATION_Z);
        if (reading != null && threeAxes && !reading.motion().frames().isEmpty()) {
            SwaySignal sway = new SwaySignal(
                    recording, reading.motion().frames(), reading.motion().postureCutoffHz());
            tracks.add(new Track("sway", "g", 4, sway::read));
        } else {
            for (Channel axis : List.of(Channel.ACCELERATION_X, Channel.ACCELERATION_Y, Channel.ACCELERATION_Z)) {
                if (recording.has(axis)) {
                    tracks.add(plain(axis.columnName(), axis, 4, samples));
                }
            }
        }
        if (recording.has(Channel.TEMPERATURE)) {
            tracks.add(plain("temperature", Channel.TEMPERATURE, 2, samples));
        }
        return tracks;
    }

    private static Track plain(String name, Channel channel, int decimals, SampleSource samples) {
        return new Track(
                name, channel.unit(), decimals, (from, count, into) -> samples.read(channel, from, count, into, 0));
    }
}
