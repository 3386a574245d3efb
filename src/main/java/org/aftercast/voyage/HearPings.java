package org.aftercast.voyage;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.aftercast.instruments.Sound;
import org.aftercast.search.PingMeter;

/** Finds a beacon's pings in a recording or in what comes in at this machine's line input. */
public final class HearPings {

    private HearPings() {}

    /**
     * In a file.
     *
     * @throws BadInputException if it cannot be read as sound or measured
     */
    public static PingMeter.Reading file(Path file, PingMeter.Settings settings) throws BadInputException {
        if (!Files.isRegularFile(file)) {
            throw new BadInputException(
                    file + ": there is no such file; accepted: uncompressed WAV, AIFF or AU from the receiver");
        }
        try {
            return measure(Sound.file(file), settings);
        } catch (IOException bad) {
            throw new BadInputException(String.valueOf(bad.getMessage()));
        }
    }

    /**
     * In the bytes of a sound file.
     *
     * @throws BadInputException if they are no sound or cannot be measured
     */
    public static PingMeter.Reading bytes(byte[] sound, PingMeter.Settings settings) throws BadInputException {
        try {
            return measure(Sound.read("sound", new ByteArrayInputStream(sound)), settings);
        } catch (IOException bad) {
            throw new BadInputException(String.valueOf(bad.getMessage()));
        }
    }

    /**
     * In what the line input gives for a while.
     *
     * @param seconds 1–120
     * @throws BadInputException if this machine has no line input, or it cannot be used
     */
    public static PingMeter.Reading lineInput(double seconds, PingMeter.Settings settings) throws BadInputException {
        if (!(seconds >= 1 && seconds <= 120)) {
            throw new BadInputException("seconds: " + seconds + " is outside 1–120");
        }
        try {
            return measure(Sound.lineInput(seconds), settings);
        } catch (IOException none) {
            throw new BadInputException(none.getMessage()
                    + "; accepted: a line or microphone input of this machine, or a recording as a file");
        }
    }

    private static PingMeter.Reading measure(Sound sound, PingMeter.Settings settings) throws BadInputException {
        try {
            return PingMeter.measure(sound.samples(), sound.sampleRateHz(), settings);
        } catch (IllegalArgumentException bad) {
            throw new BadInputException(String.valueOf(bad.getMessage()));
        }
    }
}
