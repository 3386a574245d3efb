package org.aftercast;

import javax.sound.sampled.AudioFormat;
import javax.sound.sampled.AudioSystem;
import javax.sound.sampled.LineUnavailableException;
import javax.sound.sampled.TargetDataLine;
import org.junit.jupiter.api.Assumptions;

/** What sound hardware the machine of the tests has. */
public final class LineInput {

    private LineInput() {}

    /** Skips the rest of a test on a machine that has a line input. */
    public static void assumeNone() {
        boolean none;
        try (TargetDataLine line = AudioSystem.getTargetDataLine(new AudioFormat(16_000, 16, 1, true, false))) {
            line.open();
            none = false;
        } catch (LineUnavailableException | IllegalArgumentException expected) {
            none = true;
        }
        Assumptions.assumeTrue(none, "this machine has a line input: nothing to refuse");
    }
}
