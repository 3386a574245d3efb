package org.aftercast.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import javax.sound.sampled.AudioFileFormat;
import javax.sound.sampled.AudioFormat;
import javax.sound.sampled.AudioInputStream;
import javax.sound.sampled.AudioSystem;
import org.aftercast.LineInput;
import org.aftercast.search.PingSound;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** {@code aftercast hear} as it answers from the outside; the sound is invented. */
class HearCommandTest {

    @TempDir
    Path folder;

    private Path wav(PingSound.Receiver receiver) throws Exception {
        float[] sound = PingSound.make(3, 20, 38, 1200, 50, receiver);
        byte[] bytes = new byte[2 * sound.length];
        for (int i = 0; i < sound.length; i++) {
            short value = (short) Math.round(Math.max(-1, Math.min(1, sound[i])) * 32_767);
            bytes[2 * i] = (byte) value;
            bytes[2 * i + 1] = (byte) (value >> 8);
        }
        AudioFormat format = new AudioFormat((float) PingSound.RATE_HZ, 16, 1, true, false);
        Path file = folder.resolve(receiver + ".wav");
        AudioSystem.write(
                new AudioInputStream(new ByteArrayInputStream(bytes), format, sound.length),
                AudioFileFormat.Type.WAVE,
                file.toFile());
        return file;
    }

    @Test
    void tellsALevelAndRefusesOneUnderAutomaticGain() throws Exception {
        Ran plain = Ran.run("hear", wav(PingSound.Receiver.PLAIN));
        assertThat(plain.code()).isZero();
        assertThat(plain.out()).contains("dB above the noise at its pitch");
        Ran automatic = Ran.run("hear", wav(PingSound.Receiver.AUTOMATIC_GAIN));
        assertThat(automatic.out()).contains("Levels mean nothing").doesNotContain("dB of full scale");
    }

    @Test
    void whatIsNoSoundIsRefused() throws Exception {
        Ran ran = Ran.run("hear", Files.writeString(folder.resolve("no.wav"), "words, no sound"));
        assertThat(ran.code()).isEqualTo(2);
        assertThat(ran.err()).contains("no.wav").contains("accepted");
    }

    @Test
    void withoutALineInputTheCommandSaysSo() {
        LineInput.assumeNone();
        Ran ran = Ran.run("hear", "--seconds", "6");
        assertThat(ran.code()).isEqualTo(2);
        assertThat(ran.err())
                .contains("no line input on this machine")
                .contains("accepted: a line or microphone input of this machine, or a recording as a file");
    }
}
