package org.aftercast.sim;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.List;
import org.aftercast.recording.Flag;
import org.aftercast.recording.MemorySamples;
import org.aftercast.recording.Recording;
import org.aftercast.recording.SampleClock;

/**
 * An invented recording with its truth.
 *
 * @param samples the channels; missing samples are NaN
 * @param clock start and rate
 * @param truth what truly happened
 */
public record SimulatedRecording(MemorySamples samples, SampleClock clock, Truth truth) {

    /**
     * The recording as the reading rooms take it. It has no raw download: the hash is that of scenario and seed, and a
     * flag says that it is invented.
     */
    public Recording recording() {
        return new Recording(
                hash(truth.scenario() + " " + truth.seed()),
                clock,
                samples,
                truth.gaps(),
                List.of(new Flag(Flag.Kind.ASSUMED, null, "Invented: simulated with seed " + truth.seed() + ".")));
    }

    private static String hash(String text) {
        try {
            byte[] digest = MessageDigest.getInstance("SHA-256").digest(text.getBytes(StandardCharsets.UTF_8));
            return HexFormat.of().formatHex(digest);
        } catch (NoSuchAlgorithmException impossible) {
            throw new IllegalStateException("every Java has SHA-256", impossible);
        }
    }
}
