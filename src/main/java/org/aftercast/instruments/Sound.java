package org.aftercast.instruments;

import java.io.BufferedInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import javax.sound.sampled.AudioFormat;
import javax.sound.sampled.AudioInputStream;
import javax.sound.sampled.AudioSystem;
import javax.sound.sampled.LineUnavailableException;
import javax.sound.sampled.TargetDataLine;
import javax.sound.sampled.UnsupportedAudioFileException;

/**
 * Sound from the receiver: a line input of this machine or a file (WAV, AIFF, AU), as one channel of samples −1 to 1.
 *
 * @param samples one channel; several channels are averaged
 * @param sampleRateHz samples a second
 */
public record Sound(float[] samples, double sampleRateHz) {

    private static final float LINE_RATE_HZ = 16_000;

    /**
     * Reads a file.
     *
     * @throws IOException if it cannot be read or is no uncompressed sound
     */
    public static Sound file(Path file) throws IOException {
        try (InputStream raw = Files.newInputStream(file)) {
            return read(file.toString(), raw);
        }
    }

    /**
     * Reads a file's bytes.
     *
     * @param name of the file, for errors
     * @throws IOException if it cannot be read or is no uncompressed sound
     */
    public static Sound read(String name, InputStream bytes) throws IOException {
        try (AudioInputStream in = AudioSystem.getAudioInputStream(new BufferedInputStream(bytes))) {
            AudioFormat given = in.getFormat();
            AudioFormat wanted = sixteenBit(given.getSampleRate(), given.getChannels());
            if (!given.matches(wanted) && !AudioSystem.isConversionSupported(wanted, given)) {
                throw new IOException(name + ": " + given + " cannot be read; accepted: uncompressed WAV, AIFF or AU");
            }
            try (AudioInputStream pcm = given.matches(wanted) ? in : AudioSystem.getAudioInputStream(wanted, in)) {
                return new Sound(floats(pcm.readAllBytes(), given.getChannels()), given.getSampleRate());
            }
        } catch (UnsupportedAudioFileException bad) {
            throw new IOException(name + ": no sound this program reads; accepted: uncompressed WAV, AIFF or AU", bad);
        }
    }

    /**
     * Records from the line input for a while, 16 000 samples a second, 16 bits, one channel.
     *
     * @param seconds 1–120
     * @throws IOException if this machine has no such input
     */
    public static Sound lineInput(double seconds) throws IOException {
        if (!(seconds >= 1 && seconds <= 120)) {
            throw new IllegalArgumentException("seconds: " + seconds + " is outside 1–120");
        }
        AudioFormat format = sixteenBit(LINE_RATE_HZ, 1);
        try (TargetDataLine line = AudioSystem.getTargetDataLine(format)) {
            line.open(format);
            line.start();
            byte[] bytes = new byte[2 * (int) Math.round(seconds * LINE_RATE_HZ)];
            int got = 0;
            while (got < bytes.length) {
                int more = line.read(bytes, got, bytes.length - got);
                if (more <= 0) {
                    throw new IOException("the line input ended after " + got / 2f / LINE_RATE_HZ + " s");
                }
                got += more;
            }
            line.stop();
            return new Sound(floats(bytes, 1), LINE_RATE_HZ);
        } catch (LineUnavailableException | IllegalArgumentException none) {
            throw new IOException("no line input on this machine (" + none.getMessage() + ")", none);
        }
    }

    private static AudioFormat sixteenBit(float rateHz, int channels) {
        return new AudioFormat(rateHz, 16, channels, true, false);
    }

    private static float[] floats(byte[] bytes, int channels) {
        int frames = bytes.length / 2 / channels;
        float[] out = new float[frames];
        for (int i = 0; i < frames; i++) {
            float sum = 0;
            for (int c = 0; c < channels; c++) {
                int at = 2 * (i * channels + c);
                sum += (short) ((bytes[at] & 0xFF) | bytes[at + 1] << 8) / 32768f;
            }
            out[i] = sum / channels;
        }
        return out;
    }
}
